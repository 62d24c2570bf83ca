//! Numbers, units, times and dilutions as values in base units, each held to its range.

use super::cursor::Seen;
use super::mismatch;
use super::pattern::{Failed, Reader, Want};
use crate::model::{
    Difference, Dilution, Flow, Keeping, KeepingUnit, Limit, Mass, Number, Share, Speed, Temperature, Time,
    Volume,
};
use crate::source::{Diagnostic, Span};
use crate::syntax::TokenKind;
use crate::vocabulary::{Dimension, Kind, Statement as _, Unit, Value, ambiguous, respelled, say, unit};

impl Reader<'_, '_> {
    pub(super) fn value(&mut self, kind: Kind) -> Result<Value, Failed> {
        Ok(match kind {
            Kind::Count | Kind::Index => return self.count(kind),
            Kind::Number => {
                let (number, span) = self.number()?;
                self.in_range(Limit::Factor, number.in_base(1000).unwrap_or(i64::MAX), span)?;
                Value::Number(number)
            }
            Kind::Time | Kind::Moment | Kind::ChartTime => return self.time(kind),
            Kind::Keeping => return self.keeping(),
            Kind::Temperature | Kind::Tap => {
                let highest = Temperature { base: i64::MAX };
                let (celsius, fahrenheit) = (Temperature::from_celsius, Temperature::from_fahrenheit);
                let (temperature, span) = self.degrees(kind, celsius, fahrenheit, highest)?;
                let limit = if kind == Kind::Tap { Limit::Tap } else { Limit::Bath };
                self.in_range(limit, temperature.base, span)?;
                Value::Temperature(temperature)
            }
            Kind::Difference => {
                let highest = Difference { base: i64::MAX };
                let (celsius, fahrenheit) = (Difference::from_celsius, Difference::from_fahrenheit);
                let (difference, span) = self.degrees(kind, celsius, fahrenheit, highest)?;
                self.in_range(Limit::Difference, difference.base, span)?;
                Value::Difference(difference)
            }
            Kind::Volume => Value::Volume(Volume { fl: self.measured(kind, Limit::Volume)?.0 }),
            Kind::Mass => Value::Mass(Mass { pg: self.measured(kind, Limit::Mass)?.0 }),
            Kind::Strength => match self.measured(kind, Limit::Mass)? {
                (pg, unit) if unit.dimension == Dimension::MassPerLitre => Value::MassPerLitre(Mass { pg }),
                (fl, _) => Value::VolumePerLitre(Volume { fl }),
            },
            Kind::Flow => {
                let (fl, _) = self.measured(kind, Limit::Flow)?;
                Value::Flow(Flow { per_minute: Volume { fl } })
            }
            Kind::Turning => {
                let (rpm, _) = self.measured(kind, Limit::Speed)?;
                Value::Speed(Speed { rpm: u32::try_from(rpm).unwrap_or(u32::MAX) })
            }
            Kind::Share => return self.share(),
            Kind::Dilution => return self.dilution(),
            Kind::Date => return self.date(),
            Kind::Text => return self.text(),
            Kind::NewName => return self.new_name(),
            Kind::OwnName => return self.own_name(),
            Kind::Name(declared) => Value::Mention(declared, self.name().to_owned()),
            Kind::State => Value::Name(self.name().to_owned()),
            Kind::Ingredient => self.ingredient(),
            Kind::Format => return self.format(),
            Kind::Step => return self.step(),
        })
    }

    fn count(&mut self, kind: Kind) -> Result<Value, Failed> {
        let (number, span) = self.number()?;
        let Some(count) = number.count() else {
            let fault = Diagnostic::error("bad-number", span, "a count is a whole number, at least 1");
            return self.fail(fault.help("write a whole number, such as 5"));
        };
        let limit = if kind == Kind::Index { Limit::Index } else { Limit::Count };
        self.in_range(limit, i64::from(count), span)?;
        Ok(Value::Count(count))
    }

    fn keeping(&mut self) -> Result<Value, Failed> {
        let (number, span) = self.number()?;
        let unit = self.unit(Kind::Keeping)?;
        let Some(count) = number.count().filter(|count| *count > 0) else {
            let fault = Diagnostic::error("bad-number", span, "a keeping time is a whole number of its unit");
            return self.fail(fault.help("write a whole number, such as 6 months"));
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

    /// A number of degrees and its place; `highest` where the number is too large.
    fn degrees<T>(
        &mut self,
        kind: Kind,
        celsius: fn(Number) -> Option<T>,
        fahrenheit: fn(Number) -> Option<T>,
        highest: T,
    ) -> Result<(T, Span), Failed> {
        let (number, span) = self.number()?;
        let read = if self.unit(kind)?.word == "F" { fahrenheit } else { celsius };
        Ok((read(number).unwrap_or(highest), span.to(self.cursor.last())))
    }

    fn share(&mut self) -> Result<Value, Failed> {
        let (number, span) = self.number()?;
        let _ = self.cursor.take(TokenKind::Percent);
        let hundredths = number.in_base(100).filter(|share| (1..=10_000).contains(share));
        let Some(basis_points) = hundredths.and_then(|share| u32::try_from(share).ok()) else {
            let fault = Diagnostic::error("out-of-range", span, "a percentage is from 0.01 to 100");
            return self.fail(fault.help("write a percentage, such as 10 %"));
        };
        Ok(Value::Share(Share { basis_points }))
    }

    /// A number: `20`, `2.5`, `1/4` or `10 1/4`.
    fn number(&mut self) -> Result<(Number, Span), Failed> {
        let start = self.cursor.next();
        let whole = self.cursor.take(TokenKind::Number).map(|token| Number::parse(self.cursor.words(token)));
        let part = self.cursor.take(TokenKind::Fraction);
        let part = part.map(|token| Number::parse_fraction(self.cursor.words(token)));
        let span = start.to(self.cursor.last());
        let number = match (whole, part) {
            (Some(whole), Some(part)) => whole.zip(part).and_then(|(whole, part)| whole.plus(part)),
            (one, other) => one.or(other).flatten(),
        };
        number.map(|number| (number, span)).ok_or_else(|| {
            let fault = Diagnostic::error("bad-number", span, "this number cannot be read");
            self.report(fault.help("write at most twelve figures, with a point for the decimals: 2.5"))
        })
    }

    /// A number with its unit, in base units.
    fn measured(&mut self, kind: Kind, limit: Limit) -> Result<(i64, &'static Unit), Failed> {
        let (number, span) = self.number()?;
        let unit = self.unit(kind)?;
        let base = number.in_base(unit.factor).unwrap_or(i64::MAX);
        self.in_range(limit, base, span.to(self.cursor.last()))?;
        Ok((base, unit))
    }

    /// The unit after a number. Another spelling and an ambiguous one are errors with fixes.
    fn unit(&mut self, kind: Kind) -> Result<&'static Unit, Failed> {
        let Some(token) = self.cursor.take(TokenKind::Word) else {
            let fault = mismatch::expected(self, &[Want::Value(kind)]);
            return self.fail(fault);
        };
        let word = self.cursor.words(token);
        // Only in a file other spellings are errors.
        let in_file = !self.row.blocks.is_empty();
        if let Some(unit) = unit(word).or_else(|| respelled(word).filter(|_| !in_file)) {
            return Ok(unit);
        }
        let Some(several) = ambiguous(word) else {
            let right = respelled(word).map_or("", |unit| unit.word);
            let fault =
                Diagnostic::error("unit-spelling", token.span, format!("'{word}' is spelled {right} here"));
            return self.fail(fault.mend(right, format!("write {right}")));
        };
        let message = format!("'{word}' means several units");
        let mut fault = Diagnostic::error("ambiguous-unit", token.span, message);
        let units = mismatch::units_of(kind);
        let any = say::FormulaLine::has(self.row);
        for (unit, words) in several.iter().filter(|(unit, _)| any || units.contains(unit)) {
            fault = fault.offer(*unit, format!("write {unit} ({words})"));
        }
        if fault.help.is_empty() {
            fault = fault.help(format!("the units of {} are {}", kind.words(), units.join(", ")));
        }
        self.fail(fault)
    }

    fn in_range(&mut self, limit: Limit, base: i64, span: Span) -> Result<(), Failed> {
        let range = limit.range();
        if range.holds(base) {
            return Ok(());
        }
        let written = self.cursor.text_of(span).trim();
        let message = format!("{written}: {} is from {}", range.what, range.words);
        self.fail(Diagnostic::error("out-of-range", span, message).help("check the number and its unit"))
    }

    /// A time: `10:15`, `30 s`, `9 min 30 s`, `10 1/4 min`.
    fn time(&mut self, kind: Kind) -> Result<Value, Failed> {
        let start = self.cursor.next();
        let ms = match self.cursor.take(TokenKind::Clock) {
            Some(clock) => self.clock(self.cursor.words(clock), clock.span)?,
            None => self.time_in_units()?,
        };
        let span = start.to(self.cursor.last());
        let limit = if kind == Kind::ChartTime { Limit::ChartTime } else { Limit::Time };
        self.in_range(limit, ms, span)?;
        if ms == 0 && kind != Kind::Moment {
            let fault = Diagnostic::error("out-of-range", span, "this time cannot be 0");
            return self.fail(fault.help("write a time such as 30 s or 10:15"));
        }
        Ok(Value::Time(Time::from_ms(ms)))
    }

    /// `min:s` or `h:min:s` in milliseconds; each field after the first has two digits under 60.
    fn clock(&mut self, text: &str, span: Span) -> Result<i64, Failed> {
        let fields: Vec<&str> = text.split(':').collect();
        let numbers: Option<Vec<i64>> = fields.iter().map(|field| field.parse().ok()).collect();
        let sound = !text.starts_with(['-', '+'])
            && fields.iter().skip(1).all(|field| field.len() == 2 && *field < "60")
            && fields.len() <= 3
            && fields.first().is_some_and(|first| first.len() <= 4);
        if let Some(numbers) = numbers.filter(|_| sound) {
            return Ok(numbers.iter().fold(0, |sum, field| sum * 60 + field) * 1000);
        }
        let message =
            "a clock time is min:s or h:min:s, with two digits under 60 in each field after the first";
        let fault = Diagnostic::error("bad-clock", span, message);
        self.fail(match fields.as_slice() {
            [minutes, seconds] if seconds.len() == 1 => {
                let padded = format!("{minutes}:0{seconds}");
                let title = format!("write {padded} for {minutes} min {seconds} s");
                fault.offer(padded, title)
            }
            _ => fault.help("write 10:15 for 10 min 15 s, 1:02:30 for 1 h 2 min 30 s, 90:00 for 90 min"),
        })
    }

    /// Numbers with units of time, each smaller than the one before, in milliseconds.
    fn time_in_units(&mut self) -> Result<i64, Failed> {
        let (mut ms, mut last) = (0_i64, i64::MAX);
        loop {
            let (number, _) = self.number()?;
            let unit = self.unit(Kind::Time)?;
            ms = ms.saturating_add(number.in_base(unit.factor).unwrap_or(i64::MAX));
            let smaller = unit.factor < last;
            last = unit.factor;
            if !smaller || self.cursor.seen() != Seen::Measured(Dimension::Time) || last == 1000 {
                if smaller && last > 1000 && self.cursor.sees_number() {
                    self.note_unit(Kind::Time);
                }
                return Ok(ms);
            }
        }
    }

    /// A dilution: `stock`, or parts of the solution and water last. One with two meanings is an error.
    fn dilution(&mut self) -> Result<Value, Failed> {
        if self.cursor.take_word("stock").is_some() {
            return Ok(Value::Dilution(Dilution::stock()));
        }
        if let Some(token) = self.cursor.take(TokenKind::Parts) {
            return self.parts_of(self.cursor.words(token), token.span);
        }
        let ambiguous = self.cursor.take(TokenKind::Clock).or_else(|| self.cursor.take(TokenKind::Fraction));
        if let Some(token) = ambiguous {
            return self.fail(ambiguous_dilution(self.cursor.words(token), token.span));
        }
        let start = self.cursor.next();
        while self.cursor.peek(0).is_some_and(|token| {
            token.kind == TokenKind::Number
                || (token.kind == TokenKind::Stray && self.cursor.words(token) == "+")
        }) {
            self.cursor.at += 1;
        }
        let span = start.to(self.cursor.last());
        let written = self.cursor.text_of(span);
        let joined: String = written.split_whitespace().collect();
        let fault = Diagnostic::error("bad-dilution", span, "a dilution is whole parts without spaces");
        // '1 1 + 4' does not mean 11+4.
        let whole = joined.contains('+') && written.split('+').all(|part| part.trim().parse::<u32>().is_ok());
        self.fail(if whole {
            let title = format!("write {joined}");
            fault.mend(joined, title)
        } else {
            fault.help("write 1+4 for one part and four parts of water; for 1+1.5 write 2+3")
        })
    }

    fn parts_of(&mut self, text: &str, span: Span) -> Result<Value, Failed> {
        if text.ends_with("+0") {
            let fault = Diagnostic::error("bad-dilution", span, "a dilution without water is written stock");
            return self.fail(fault.offer("stock", "write stock"));
        }
        let mut parts = Vec::new();
        for part in text.split('+') {
            let number = part.parse::<u32>().unwrap_or(u32::MAX);
            self.in_range(Limit::Part, i64::from(number), span)?;
            parts.push(number);
        }
        let undiluted = self.cursor.take_word("no-water").is_some();
        let water = if undiluted { 0 } else { parts.pop().unwrap_or(0) };
        Ok(Value::Dilution(Dilution { parts, water }))
    }
}

/// The error of `1:4` and `1/4`: one part and four of water, or one part in four.
fn ambiguous_dilution(text: &str, span: Span) -> Diagnostic {
    let fault = Diagnostic::error("ambiguous-dilution", span, format!("'{text}' can mean two strengths"));
    let fields: Vec<u32> = text.split([':', '/']).filter_map(|field| field.parse().ok()).collect();
    let [part, whole] = *fields.as_slice() else { return as_parts(fault, text) };
    if part == 0 || whole <= part {
        return as_parts(fault, text);
    }
    let (added, within) = (format!("{part}+{whole}"), format!("{part}+{}", whole - part));
    let words = if part == 1 { "one part".to_owned() } else { format!("{part} parts") };
    let of_water = format!("write {added} for {words} and {whole} of water");
    let in_all = format!("write {within} for {words} in {whole} altogether");
    fault.offer(added, of_water).offer(within, in_all)
}

fn as_parts(fault: Diagnostic, text: &str) -> Diagnostic {
    let plus = text.replace([':', '/'], "+");
    let title = format!("write {plus} for these parts, water last");
    fault.offer(plus, title)
}
