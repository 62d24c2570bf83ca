//! Times: on the clock, `10:15`, or counted, `30 s`, `9 min 30 s`, `10 1/4 min`.

use super::cursor::Seen;
use super::pattern::{Reader, Told};
use crate::model::{Limit, Time};
use crate::source::Diagnostic;
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Dimension, Kind, Value};

impl Reader<'_, '_> {
    pub(super) fn time(&mut self, kind: Kind) -> Result<Value, Told> {
        let start = self.cursor.here();
        let ms = match self.cursor.take(TokenKind::Clock) {
            Some(clock) => self.clock(clock)?,
            None => self.counted()?,
        };
        let span = start.to(self.cursor.behind());
        let limit = if kind == Kind::ChartTime { Limit::ChartTime } else { Limit::Time };
        self.in_range(limit, ms, span)?;
        if ms == 0 && kind != Kind::Moment {
            let fault = Diagnostic::error("out-of-range", span, "this time cannot be 0");
            return Err(self.tell(fault.help("write the time it takes, such as 30 s or 10:15")));
        }
        Ok(Value::Time(Time::from_ms(ms)))
    }

    /// `min:s` or `h:min:s`; the first field is free, the others have two digits under 60.
    fn clock(&mut self, token: Token) -> Result<i64, Told> {
        let text = self.cursor.words(token);
        let fields: Vec<&str> = text.split(':').collect();
        let signed = text.starts_with(['-', '+']);
        let rest_sound = !signed && fields.iter().skip(1).all(|field| field.len() == 2 && *field < "60");
        let numbers: Option<Vec<i64>> = fields.iter().map(|field| field.parse::<i64>().ok()).collect();
        let sound = rest_sound && fields.len() <= 3 && fields.first().is_some_and(|first| first.len() <= 4);
        if let Some(numbers) = numbers
            && sound
        {
            return Ok(numbers.iter().fold(0, |sum, field| sum * 60 + field) * 1000);
        }
        let message =
            "a time on the clock is min:s or h:min:s, each field after the first of two digits under 60";
        let fault = Diagnostic::error("bad-clock", token.span, message);
        let fault = match fields.as_slice() {
            [minutes, seconds] if seconds.len() == 1 => {
                let padded = format!("{minutes}:0{seconds}");
                let title = format!("write {padded} for {minutes} min {seconds} s");
                fault.offer(padded, title)
            }
            _ => fault.help("write 10:15 for 10 min 15 s, 1:02:30 for 1 h 2 min 30 s, 90:00 for 90 min"),
        };
        Err(self.tell(fault))
    }

    /// A number and its unit, and more of them as long as they get smaller.
    fn counted(&mut self) -> Result<i64, Told> {
        let (mut ms, mut last) = (0_i64, i64::MAX);
        loop {
            let (number, _) = self.number()?;
            let unit = self.unit(Kind::Time)?;
            let part = number.in_base(unit.factor).unwrap_or(i64::MAX);
            ms = ms.saturating_add(part);
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
}
