//! Writes facts as canonical lines, from which the fingerprint is calculated.

use std::fmt::{Result, Write};

use super::agitation::{Amount, Knock, Pulse, Scheme};
use super::fact::{Fact, Key, Portion, Value};
use super::quantity::Time;
use super::solution::{Dilution, Item};
use super::step::{Band, Change, Clock, Duration};

/// The facts as canonical lines, `STEP KEY VALUE`, with quantities in base units. Absent facts and defaults have no
/// line, so that a new statement of the language leaves old fingerprints unchanged.
pub fn lines(facts: &[Fact<'_>]) -> String {
    let mut out = String::with_capacity(4096);
    for fact in facts.iter().filter(|fact| !fact.is_default()) {
        // Writing to a string cannot fail.
        let _ = write!(out, "{} {}", fact.step, fact.key.word());
        if let Key::Item(bottle, what) = fact.key {
            let _ = write!(out, ".{} {what}", bottle + 1);
        }
        if let Key::WithItem(what) = fact.key {
            let _ = write!(out, " {what}");
        }
        out.push(' ');
        let _ = fact.value.write(&mut out);
        out.push('\n');
    }
    out
}

impl Fact<'_> {
    fn is_default(&self) -> bool {
        match &self.value {
            Value::Dilution(dilution) => *dilution == Dilution::stock(),
            Value::Clock(clock) => *clock == Clock::FromPour,
            Value::Count(count) => self.key == Key::Bath && *count == 1,
            Value::Time(time) => self.key == Key::Inversion && *time == Scheme::INVERSION,
            _ => false,
        }
    }
}

impl Value<'_> {
    fn write(&self, out: &mut String) -> Result {
        match self {
            // Nothing to write: the key says everything, or the value occurs only where recipes are compared.
            Value::Absent | Value::Present | Value::NotAtThisTemperature | Value::After(_) => Ok(()),
            Value::Word(text) | Value::Name(text) => out.write_str(text),
            Value::Names(names) => out.write_str(&names.join(" ")),
            Value::Words(text) => out.write_str(text),
            Value::Count(count) => write!(out, "{count}"),
            Value::Time(time) => write!(out, "{}", time.ms),
            Value::Temperature(at) => write!(out, "{}", at.base),
            Value::Volume(volume) => write!(out, "{}", volume.fl),
            Value::Dilution(dilution) => write!(out, "{dilution}"),
            Value::Clears(time, at) => write!(out, "{} {}", time.ms, at.base),
            Value::Item(portion) => portion.write(out),
            Value::Treats(rows) => rows.iter().try_for_each(|row| {
                let at = row.at.as_ref().map(Dilution::to_string).unwrap_or_default();
                write!(out, "{} per {} {at};", row.rolls, row.per.fl)
            }),
            Value::Extend(extend) => write!(out, "{} {}", extend.by.basis_points, extend.per_rolls),
            Value::Rate(factor, interval) => write!(out, "{factor} {interval}"),
            Value::Plain(time, None) => write!(out, "{}", time.ms),
            Value::Plain(time, Some(at)) => write!(out, "{} at {}", time.ms, at.base),
            Value::Duration(duration) => duration.write(out),
            Value::Band(Band::Between(low, high)) => write!(out, "{} {}", low.base, high.base),
            Value::Band(Band::Within(by)) => write!(out, "within {}", by.base),
            Value::Pulse(pulse) => pulse.write(out),
            Value::Knock(Knock::AfterEach) => out.write_str("each"),
            Value::Knock(Knock::Once) => out.write_str("once"),
            Value::Clock(clock) => out.write_str(clock.word()),
        }
    }
}

impl Portion<'_> {
    fn write(&self, out: &mut String) -> Result {
        let (unit, above, below) = self.per_litre();
        write!(out, "{above}/{below} {unit}")?;
        let Item { state, strength, at, .. } = self.item;
        state.iter().try_for_each(|state| write!(out, " {state}"))?;
        strength.iter().try_for_each(|share| write!(out, " share {}", share.basis_points))?;
        at.iter().try_for_each(|at| write!(out, " at {}", at.base))
    }
}

impl Duration {
    fn write(&self, out: &mut String) -> Result {
        match self {
            // A step without a time has no fact about its time.
            Duration::Open => Ok(()),
            Duration::Chart(chart) => {
                let mut points = chart.points().iter();
                points.try_for_each(|point| write!(out, "{} at {};", point.time.ms, point.temperature.base))
            }
            Duration::Plain { time, .. } => write!(out, "{}", time.ms),
            Duration::Clearing { times, at_least, at_most } => {
                write!(out, "clearing {times}")?;
                write_bounds(out, *at_least, *at_most)
            }
            Duration::Sign(sign) => {
                match sign.times {
                    Some(times) => write!(out, "{times} x sign {:?}", sign.text)?,
                    None => write!(out, "until {:?}", sign.text)?,
                }
                write_bounds(out, sign.at_least, Some(sign.at_most))?;
                sign.look.iter().try_for_each(|look| write!(out, " look {}", look.ms))?;
                sign.flow.iter().try_for_each(|flow| write!(out, " flow {}", flow.per_minute.fl))
            }
            Duration::EachSide(time) => write!(out, "side {}", time.ms),
            Duration::Changes(changes) => changes.iter().try_for_each(|change| match change {
                Change::Inversions(count) => write!(out, "inversions {count};"),
                Change::Soak(time) => write!(out, "soak {};", time.ms),
            }),
            Duration::Flow { flow, time } => write!(out, "flow {} {}", flow.per_minute.fl, time.ms),
        }
    }
}

fn write_bounds(out: &mut String, least: Option<Time>, most: Option<Time>) -> Result {
    least.iter().try_for_each(|least| write!(out, " least {}", least.ms))?;
    most.iter().try_for_each(|most| write!(out, " most {}", most.ms))
}

impl Pulse {
    fn write(&self, out: &mut String) -> Result {
        match self {
            Pulse::None => out.write_str("none"),
            Pulse::Continuous => out.write_str("continuous"),
            Pulse::Rotary(speed) => write!(out, "rotary {}", speed.rpm),
            Pulse::At { times, amount } => {
                times.iter().try_for_each(|time| write!(out, "at {};", time.ms))?;
                amount.write(out)
            }
            Pulse::Interval { first, then } => {
                out.write_str("first ")?;
                first.iter().try_for_each(|amount| amount.write(out))?;
                out.write_str("then ")?;
                then.iter().try_for_each(|(amount, every)| {
                    amount.write(out)?;
                    write!(out, "every {}", every.ms)
                })
            }
        }
    }
}

impl Amount {
    fn write(self, out: &mut String) -> Result {
        match self {
            Amount::For(time) => write!(out, "{} ", time.ms),
            Amount::Inversions(count) => write!(out, "{count} inversions "),
        }
    }
}
