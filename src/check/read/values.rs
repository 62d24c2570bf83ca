//! Reads numbers, units, times and dilutions, converts them to base units, and checks that they are in range.

use super::cursor::Seen;
use super::mismatch::{as_in, name_of, units_of};
use super::pattern::{Reader, Want};
use crate::model::{
    Difference, Dilution, Flow, Keeping, KeepingUnit, Limit, Mass, Measure, Number, Share, Speed,
    Temperature, Time, Volume, both_speeds,
};
use crate::source::{Diagnostic, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Kind, NEWER_UNITS, Statement as _, Unit, Value, ambiguous, respelled, say, unit};

const CLOCK_HELP: &str = "write 10:15 for 10 min 15 s, 1:02:30 for 1 h 2 min 30 s, 90:00 for 90 min";

fn limit(kind: Kind) -> Limit {
    match kind {
        Kind::Time | Kind::Moment => Limit::TIME,
        Kind::ChartTime => Limit::CHART_TIME,
        Kind::Temperature => Limit::BATH,
        Kind::Tap => Limit::WATER,
        Kind::Difference => Limit::DIFFERENCE,
        Kind::Volume => Limit::VOLUME,
        Kind::Mass | Kind::Strength => Limit::MASS,
        Kind::Flow => Limit::FLOW,
        Kind::Turning => Limit::SPEED,
        Kind::Number => Limit::FACTOR,
        Kind::Factor => Limit::TIMES,
        Kind::Ph => Limit::PH,
        Kind::Density => Limit::DENSITY,
        Kind::Brightness => Limit::BRIGHTNESS,
        Kind::Index => Limit::INDEX,
        Kind::Dilution => Limit::PART,
        _ => Limit::COUNT,
    }
}

impl Reader<'_, '_> {
    pub(super) fn value(&mut self, kind: Kind) -> Option<Value> {
        Some(match kind {
            Kind::Index if self.cursor.seen() == Seen::Fraction => self.both_speeds()?,
            Kind::Count | Kind::Index => {
                let (number, span) = self.number()?;
                Value::Count(self.whole(kind, number, span)?)
            }
            Kind::Factor | Kind::Number | Kind::Ph | Kind::Density | Kind::Brightness => {
                let (number, span) = self.number()?;
                self.in_range(kind, number.in_base(1000), span)?;
                Value::Number(number)
            }
            Kind::Time | Kind::Moment | Kind::ChartTime => self.time(kind)?,
            Kind::Keeping => {
                let (number, span) = self.number()?;
                let unit = KeepingUnit::parse(self.unit(kind)?.word).unwrap_or(KeepingUnit::Years);
                Value::Keeping(Keeping { count: self.whole(kind, number, span)?, unit })
            }
            Kind::Temperature | Kind::Tap | Kind::Difference => {
                let (number, unit, span) = self.amount(kind)?;
                let base = match (kind, unit.word) {
                    (Kind::Difference, "F") => Difference::from_fahrenheit(number).map(|it| it.base),
                    (Kind::Difference, _) => Difference::from_celsius(number).map(|it| it.base),
                    (_, "F") => Temperature::from_fahrenheit(number).map(|it| it.base),
                    _ => Temperature::from_celsius(number).map(|it| it.base),
                };
                let base = self.in_range(kind, base, span)?;
                match kind {
                    Kind::Difference => Value::Difference(Difference { base }),
                    _ => Value::Temperature(Temperature { base }),
                }
            }
            Kind::Volume | Kind::Mass | Kind::Strength | Kind::Flow | Kind::Turning => {
                let (number, unit, span) = self.amount(kind)?;
                let base = self.in_range(kind, number.in_base(unit.factor), span)?;
                let (volume, mass) = (Volume { fl: base }, Mass { pg: base });
                match kind {
                    Kind::Volume => Value::Volume(volume),
                    Kind::Strength if unit.word == "ml/l" => Value::Measure(Measure::VolumePerLitre(volume)),
                    Kind::Strength => Value::Measure(Measure::MassPerLitre(mass)),
                    Kind::Mass => Value::Mass(mass),
                    Kind::Flow => Value::Flow(Flow { per_minute: volume }),
                    _ => Value::Speed(Speed { rpm: u32::try_from(base).unwrap_or(u32::MAX) }),
                }
            }
            Kind::Share => self.share()?,
            Kind::Dilution => self.dilution()?,
            Kind::Date => self.date()?,
            Kind::Text => self.text()?,
            Kind::NewName => self.new_name()?,
            Kind::OwnName => self.own_name()?,
            Kind::Name(declared) => self.mention(declared),
            Kind::State | Kind::Statement => Value::Name(self.name().to_owned()),
            Kind::Ingredient => self.ingredient(),
            Kind::Hazard => self.hazard()?,
            Kind::Format => self.format()?,
            Kind::Step => self.step()?,
        })
    }

    fn whole(&mut self, kind: Kind, number: Number, span: Span) -> Option<u32> {
        let Some(count) = number.count() else {
            return self.error(
                "bad-number",
                span,
                format!("expected a whole number of at least 1, found {}", self.cursor.text_of(span)),
                format!("write a whole number, such as {}", kind.example()),
            );
        };
        self.in_range(kind, Some(i64::from(count)), span)?;
        Some(count)
    }

    /// Reads a film speed on both scales of ISO, such as `100/21`.
    fn both_speeds(&mut self) -> Option<Value> {
        let token = self.cursor.take(TokenKind::Fraction)?;
        let text = self.cursor.text_of(token.span);
        if let Some(speed) = both_speeds(text) {
            return Some(Value::Count(speed));
        }
        let message = format!("'{text}' is no speed on the two scales of ISO");
        self.error("bad-number", token.span, message, "write the first number alone, such as 100, or 100/21")
    }

    fn share(&mut self) -> Option<Value> {
        let (number, span) = self.number()?;
        let _ = self.cursor.take(TokenKind::Percent);
        let hundredths = number.in_base(100).filter(|share| (1..=10_000).contains(share));
        match hundredths.and_then(|share| u32::try_from(share).ok()) {
            Some(basis_points) => Some(Value::Share(Share { basis_points })),
            None => self.error(
                "out-of-range",
                span,
                "a percentage is from 0.01 to 100",
                "write a percentage, such as 10 %",
            ),
        }
    }

    fn number(&mut self) -> Option<(Number, Span)> {
        let start = self.cursor.next();
        let whole = self.cursor.take(TokenKind::Number).map(|it| Number::parse(self.cursor.text_of(it.span)));
        let part = self.cursor.take(TokenKind::Fraction);
        let part = part.map(|token| Number::parse_fraction(self.cursor.text_of(token.span)));
        let span = start.to(self.cursor.last());
        let number = match (whole, part) {
            (Some(whole), Some(part)) => whole.zip(part).and_then(|(whole, part)| whole.plus(part)),
            (one, other) => one.or(other).flatten(),
        };
        if let Some(number) = number {
            return Some((number, span));
        }
        self.error(
            "bad-number",
            span,
            "this number cannot be read",
            "write at most twelve figures, with a point for the decimals, such as 2.5",
        )
    }

    fn amount(&mut self, kind: Kind) -> Option<(Number, &'static Unit, Span)> {
        let (number, span) = self.number()?;
        let unit = self.unit(kind)?;
        Some((number, unit, span.to(self.cursor.last())))
    }

    /// Reads the unit after a number. An ambiguous unit, or in a file a misspelt one, is an error with fixes.
    fn unit(&mut self, kind: Kind) -> Option<&'static Unit> {
        let Some(token) = self.cursor.take(TokenKind::Word) else {
            return self.fail(self.expected(&[Want::Value(kind)]));
        };
        let word = self.cursor.text_of(token.span);
        // `fl oz` is two tokens.
        let ounces = self.cursor.peek(0).filter(|_| word == "fl" && self.cursor.sees("oz"));
        let token = ounces.map_or(token, |oz| Token { span: token.span.to(oz.span), ..token });
        // A misspelt unit is an error in a file, but accepted in a command-line option, whose row has no blocks.
        let in_file = !self.row.blocks.is_empty();
        if let Some(unit) = unit(word).or_else(|| respelled(word).filter(|_| !in_file)) {
            if NEWER_UNITS.contains(&unit.word) {
                self.newer.get_or_insert(token.span);
            }
            return Some(unit);
        }
        let Some(several) = ambiguous(word) else {
            let right = respelled(word).map_or("", |unit| unit.word);
            let fault = Diagnostic::error(
                "unit-spelling",
                token.span,
                format!("the unit '{word}' is written {right}"),
            );
            return self.fail(fault.mend(right));
        };
        let mut fault = Diagnostic::error(
            "ambiguous-unit",
            token.span,
            format!("'{}' can mean several units", self.cursor.text_of(token.span)),
        );
        let units = units_of(kind);
        let any = say::FormulaLine::has(self.row);
        for (unit, words) in several.iter().filter(|(unit, _)| any || units.contains(unit)) {
            fault = fault.offer(*unit, format!("write {unit} ({words})"));
        }
        if fault.help.is_empty() {
            fault = fault.help(format!("the units of {} are {}", kind.words(), units.join(", ")));
        }
        self.fail(fault)
    }

    /// Returns `base`, a number of base units, if it is in the range of its kind; otherwise reports an error. `base` is
    /// `None` for a number that is too large to be stored.
    fn in_range(&mut self, kind: Kind, base: Option<i64>, span: Span) -> Option<i64> {
        let range = limit(kind);
        if let Some(base) = base.filter(|base| range.holds(*base)) {
            return Some(base);
        }
        let written = self.cursor.text_of(span).trim();
        let what = match range.what {
            "this number" if !self.row.blocks.is_empty() => format!("a number in {}", name_of(self.row)),
            what => what.to_owned(),
        };
        let message = format!("{written} is out of range: {what} is from {}", range.words);
        let help = match kind {
            Kind::Number => "a rate says how many times faster a warmer bath works: \
                             rate 2 per 10 C is half the time at 10 C more"
                .to_owned(),
            _ if !units_of(kind).is_empty() => "check the number and its unit".to_owned(),
            Kind::Factor | Kind::Dilution => "check the number".to_owned(),
            _ if self.row.blocks.is_empty() => "check the number".to_owned(),
            _ => as_in(self.row),
        };
        self.error("out-of-range", span, message, help)
    }

    /// Reads a time: `10:15`, `30 s`, `9 min 30 s`, `10 1/4 min`.
    fn time(&mut self, kind: Kind) -> Option<Value> {
        let start = self.cursor.next();
        let ms = match self.cursor.take(TokenKind::Clock) {
            Some(clock) => self.clock(clock.span)?,
            None => self.time_in_units()?,
        };
        let span = start.to(self.cursor.last());
        self.in_range(kind, Some(ms), span)?;
        if ms == 0 && kind != Kind::Moment {
            return self.error(
                "out-of-range",
                span,
                "this time cannot be 0",
                "write a time such as 30 s or 10:15",
            );
        }
        Some(Value::Time(Time::from_ms(ms)))
    }

    /// Reads a time `min:s` or `h:min:s`; returns milliseconds. Each number after a colon has two digits and is under
    /// 60.
    fn clock(&mut self, span: Span) -> Option<i64> {
        let text = self.cursor.text_of(span);
        let fields: Vec<&str> = text.split(':').collect();
        let numbers: Option<Vec<i64>> = fields.iter().map(|field| field.parse().ok()).collect();
        let sound = !text.starts_with(['-', '+'])
            && fields.iter().skip(1).all(|field| field.len() == 2 && *field < "60")
            && fields.len() <= 3
            && fields.first().is_some_and(|first| first.len() <= 4);
        if let Some(numbers) = numbers.filter(|_| sound) {
            return Some(numbers.iter().fold(0, |sum, field| sum * 60 + field) * 1000);
        }
        let fault = Diagnostic::error(
            "bad-clock",
            span,
            "in a time such as 10:30, each number after a colon has two digits and is under 60",
        );
        self.fail(match fields.as_slice() {
            [minutes, seconds] if seconds.len() == 1 => {
                let padded = format!("{minutes}:0{seconds}");
                let title = format!("write {padded} for {minutes} min {seconds} s");
                fault.offer(padded, title)
            }
            [minutes, seconds] if seconds.len() == 2 && minutes.len() <= 4 => {
                match (minutes.parse::<u32>(), seconds.parse::<u32>()) {
                    (Ok(whole), Ok(over)) => {
                        let counted = format!("{}:{:02}", whole + over / 60, over % 60);
                        let decimal = format!("{whole}:{:02}", over * 60 / 100);
                        let (of_seconds, of_parts) = (
                            format!("write {counted} for {minutes} min {seconds} s"),
                            format!("write {decimal} for {minutes}.{seconds} min"),
                        );
                        fault.offer(counted, of_seconds).offer(decimal, of_parts)
                    }
                    _ => fault.help(CLOCK_HELP),
                }
            }
            _ => fault.help(CLOCK_HELP),
        })
    }

    /// Reads a time such as `9 min 30 s`; returns milliseconds. Each unit is smaller than the unit before it.
    fn time_in_units(&mut self) -> Option<i64> {
        let (mut ms, mut last) = (0_i64, i64::MAX);
        loop {
            let (number, _) = self.number()?;
            let unit = self.unit(Kind::Time)?;
            ms = ms.saturating_add(number.in_base(unit.factor).unwrap_or(i64::MAX));
            if unit.factor >= last || unit.word == "s" {
                return Some(ms);
            }
            last = unit.factor;
            if self.cursor.seen() != Seen::Value(Kind::Time) {
                let unfinished = self.following.as_mut().filter(|_| self.cursor.ends_in_number());
                unfinished.into_iter().for_each(|all| all.push(Want::Unit(Kind::Time)));
                return Some(ms);
            }
        }
    }

    /// Reads a dilution: `stock`, or the parts of solution and last those of water, as in `1+4`. `1:4` has two meanings
    /// and is an error.
    fn dilution(&mut self) -> Option<Value> {
        if self.cursor.take_word("stock") {
            return Some(Value::Dilution(Dilution::stock()));
        }
        if let Some(token) = self.cursor.take(TokenKind::Parts) {
            return self.parts_of(token.span);
        }
        let ambiguous = self.cursor.take(TokenKind::Clock).or_else(|| self.cursor.take(TokenKind::Fraction));
        if let Some(token) = ambiguous {
            return self.fail(ambiguous_dilution(self.cursor.text_of(token.span), token.span));
        }
        let start = self.cursor.next();
        while self.cursor.peek(0).is_some_and(|token| {
            token.kind == TokenKind::Number
                || (token.kind == TokenKind::Stray && self.cursor.text_of(token.span) == "+")
        }) {
            self.cursor.at += 1;
        }
        let span = start.to(self.cursor.last());
        let written = self.cursor.text_of(span);
        let joined: String = written.split_whitespace().collect();
        let fault = Diagnostic::error("bad-dilution", span, "a dilution is whole parts without spaces");
        // `1 1 + 4` gets no fix: without its spaces it would mean `11+4`.
        let whole = joined.contains('+') && written.split('+').all(|part| part.trim().parse::<u32>().is_ok());
        self.fail(if whole {
            fault.mend(&joined)
        } else {
            fault.help("write 1+4 for one part and four parts of water; for 1+1.5 write 2+3")
        })
    }

    fn parts_of(&mut self, span: Span) -> Option<Value> {
        let text = self.cursor.text_of(span);
        if text.ends_with("+0") {
            return self.fail(
                Diagnostic::error(
                    "bad-dilution",
                    span,
                    "a bath without water is not diluted: it is written 'stock'",
                )
                .write("stock"),
            );
        }
        let mut parts = Vec::new();
        for part in text.split('+') {
            let number = part.parse::<u32>().unwrap_or(u32::MAX);
            self.in_range(Kind::Dilution, Some(i64::from(number)), span)?;
            parts.push(number);
        }
        let undiluted = self.cursor.take_word("no-water");
        let water = if undiluted { 0 } else { parts.pop().unwrap_or(0) };
        Some(Value::Dilution(Dilution { parts, water }))
    }
}

/// The error for `1:4` or `1/4`, which can mean one part and four of water, or one part in four.
fn ambiguous_dilution(text: &str, span: Span) -> Diagnostic {
    let fault = Diagnostic::error("ambiguous-dilution", span, format!("'{text}' can mean two strengths"));
    let fields: Vec<u32> = text.split([':', '/']).filter_map(|field| field.parse().ok()).collect();
    match fields.as_slice() {
        [part, whole] if 0 < *part && part < whole => {
            let (added, within) = (format!("{part}+{whole}"), format!("{part}+{}", whole - part));
            let words = if *part == 1 { "one part".to_owned() } else { format!("{part} parts") };
            let of_water = format!("write {added} for {words} and {whole} of water");
            let in_all = format!("write {within} for {words} in {whole} altogether");
            fault.offer(added, of_water).offer(within, in_all)
        }
        _ => {
            let plus = text.replace([':', '/'], "+");
            let title = format!("write {plus} for these parts, water last");
            fault.offer(plus, title)
        }
    }
}
