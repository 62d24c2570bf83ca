//! Numbers and what they measure: units, their other spellings, the ones that mean several, ranges.

use super::mismatch;
use super::pattern::{Reader, Told, Want};
use crate::model::{
    Difference, Flow, Keeping, KeepingUnit, Limit, Mass, Number, Share, Speed, Temperature, Volume,
};
use crate::source::{Diagnostic, Span};
use crate::syntax::TokenKind;
use crate::vocabulary::{Dimension, Kind, Statement as _, Unit, Value, ambiguous, respelled, say, unit};

impl Reader<'_, '_> {
    pub(super) fn count(&mut self, kind: Kind) -> Result<Value, Told> {
        let (number, span) = self.number()?;
        let Some(count) = number.count() else {
            let fault = Diagnostic::error("bad-number", span, "a count is a whole number, from 1 up");
            return Err(self.tell(fault.help("write a whole number, such as 5")));
        };
        let limit = if kind == Kind::Index { Limit::Index } else { Limit::Count };
        self.in_range(limit, i64::from(count), span)?;
        Ok(Value::Count(count))
    }

    pub(super) fn plain_number(&mut self) -> Result<Value, Told> {
        let (number, span) = self.number()?;
        let thousandths = number.in_base(1000).unwrap_or(i64::MAX);
        self.in_range(Limit::Factor, thousandths, span)?;
        Ok(Value::Number(number))
    }

    pub(super) fn keeping(&mut self) -> Result<Value, Told> {
        let (number, span) = self.number()?;
        let unit = self.unit(Kind::Keeping)?;
        let Some(count) = number.count().filter(|count| *count > 0) else {
            let fault = Diagnostic::error("bad-number", span, "a keeping time is a whole number of its unit");
            return Err(self.tell(fault.help("write a whole number, such as 6 months")));
        };
        self.in_range(Limit::Count, i64::from(count), span)?;
        let unit = match unit.word {
            "days" => KeepingUnit::Days,
            "weeks" => KeepingUnit::Weeks,
            "months" => KeepingUnit::Months,
            _ => KeepingUnit::Years,
        };
        Ok(Value::Keeping(Keeping { count, unit }))
    }

    pub(super) fn temperature(&mut self, kind: Kind) -> Result<Value, Told> {
        let (number, span) = self.number()?;
        let unit = self.unit(Kind::Temperature)?;
        let span = span.to(self.cursor.behind());
        let read = if unit.word == "F" { Temperature::from_fahrenheit } else { Temperature::from_celsius };
        let temperature = read(number).unwrap_or(Temperature { base: i64::MAX });
        let limit = if kind == Kind::Tap { Limit::Tap } else { Limit::Bath };
        self.in_range(limit, temperature.base, span)?;
        Ok(Value::Temperature(temperature))
    }

    pub(super) fn difference(&mut self) -> Result<Value, Told> {
        let (number, span) = self.number()?;
        let unit = self.unit(Kind::Difference)?;
        let span = span.to(self.cursor.behind());
        let read = if unit.word == "F" { Difference::from_fahrenheit } else { Difference::from_celsius };
        let difference = read(number).unwrap_or(Difference { base: i64::MAX });
        self.in_range(Limit::Difference, difference.base, span)?;
        Ok(Value::Difference(difference))
    }

    pub(super) fn volume(&mut self) -> Result<Value, Told> {
        let (fl, _) = self.measured(Kind::Volume, Limit::Volume)?;
        Ok(Value::Volume(Volume { fl }))
    }

    pub(super) fn mass(&mut self) -> Result<Value, Told> {
        let (pg, _) = self.measured(Kind::Mass, Limit::Mass)?;
        Ok(Value::Mass(Mass { pg }))
    }

    pub(super) fn strength(&mut self) -> Result<Value, Told> {
        let (base, unit) = self.measured(Kind::Strength, Limit::Mass)?;
        Ok(match unit.dimension {
            Dimension::MassPerLitre => Value::MassPerLitre(Mass { pg: base }),
            Dimension::Time
            | Dimension::Keeping
            | Dimension::Temperature
            | Dimension::Volume
            | Dimension::Mass
            | Dimension::VolumePerLitre
            | Dimension::Flow
            | Dimension::Turning => Value::VolumePerLitre(Volume { fl: base }),
        })
    }

    pub(super) fn flow(&mut self) -> Result<Value, Told> {
        let (fl, _) = self.measured(Kind::Flow, Limit::Flow)?;
        Ok(Value::Flow(Flow { per_minute: Volume { fl } }))
    }

    pub(super) fn turning(&mut self) -> Result<Value, Told> {
        let (rpm, _) = self.measured(Kind::Turning, Limit::Speed)?;
        Ok(Value::Speed(Speed { rpm: u32::try_from(rpm).unwrap_or(u32::MAX) }))
    }

    pub(super) fn share(&mut self) -> Result<Value, Told> {
        let (number, span) = self.number()?;
        let _ = self.cursor.take(TokenKind::Percent);
        let hundredths = number.in_base(100).filter(|share| (1..=10_000).contains(share));
        let Some(basis_points) = hundredths.and_then(|share| u32::try_from(share).ok()) else {
            let fault = Diagnostic::error("out-of-range", span, "a percentage is from 0.01 to 100");
            return Err(self.tell(fault.help("write a percentage, such as 10 %")));
        };
        Ok(Value::Share(Share { basis_points }))
    }

    /// A number: `20`, `2.5`, `1/4` or `10 1/4`.
    pub(super) fn number(&mut self) -> Result<(Number, Span), Told> {
        let start = self.cursor.here();
        let whole = self.cursor.take(TokenKind::Number).map(|token| Number::parse(self.cursor.words(token)));
        let part = self.cursor.take(TokenKind::Fraction);
        let part = part.map(|token| Number::parse_fraction(self.cursor.words(token)));
        let span = start.to(self.cursor.behind());
        let number = match (whole, part) {
            (Some(whole), Some(part)) => whole.zip(part).and_then(|(whole, part)| whole.plus(part)),
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => None,
        };
        number.map(|number| (number, span)).ok_or_else(|| {
            let fault = Diagnostic::error("bad-number", span, "this is not a number that a recipe can have");
            self.tell(fault.help("write at most twelve figures, with a point for the decimals: 2.5"))
        })
    }

    /// A number with its unit, in base units.
    fn measured(&mut self, kind: Kind, limit: Limit) -> Result<(i64, &'static Unit), Told> {
        let (number, span) = self.number()?;
        let unit = self.unit(kind)?;
        let base = number.in_base(unit.factor).unwrap_or(i64::MAX);
        self.in_range(limit, base, span.to(self.cursor.behind()))?;
        Ok((base, unit))
    }

    /// The unit behind a number; another spelling or an ambiguous one is a fault with its mends.
    pub(super) fn unit(&mut self, kind: Kind) -> Result<&'static Unit, Told> {
        let Some(token) = self.cursor.take(TokenKind::Word) else {
            let fault = mismatch::wanted(self, &[Want::Value(kind)]);
            return Err(self.tell(fault));
        };
        let word = self.cursor.words(token);
        // A file keeps one spelling of a unit; a value outside of a file is never read again.
        let in_file = !self.row.blocks.is_empty();
        if let Some(unit) = unit(word).or_else(|| respelled(word).filter(|_| !in_file)) {
            return Ok(unit);
        }
        if let Some(doubt) = ambiguous(word) {
            let message = format!("'{word}' means several units");
            let mut fault = Diagnostic::error("ambiguous-unit", token.span, message);
            let worn = mismatch::units_of(kind);
            let both = say::FormulaLine::has(self.row);
            for (unit, words) in doubt.readings.iter().filter(|(unit, _)| both || worn.contains(unit)) {
                fault = fault.offer(*unit, format!("write {unit} ({words})"));
            }
            if fault.help.is_empty() {
                fault = fault.help(format!("the units of {} are {}", kind.words(), worn.join(", ")));
            }
            return Err(self.tell(fault));
        }
        let right = respelled(word).map_or("", |unit| unit.word);
        let fault = Diagnostic::error("unit-spelling", token.span, format!("'{word}' is written {right}"));
        Err(self.tell(fault.mend(right, format!("write {right}"))))
    }

    /// Holds a value to its range.
    pub(super) fn in_range(&mut self, limit: Limit, base: i64, span: Span) -> Result<(), Told> {
        let range = limit.range();
        if range.holds(base) {
            return Ok(());
        }
        let written = self.cursor.text.get(span.range()).unwrap_or("").trim();
        let message = format!("{written}: {} is from {}", range.what, range.words);
        let fault = Diagnostic::error("out-of-range", span, message);
        Err(self.tell(fault.help("check the figure and its unit")))
    }
}
