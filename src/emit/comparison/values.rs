//! The values of a difference in words, exact enough to differ.

use super::super::plain::plain;
use crate::compile::Scale;
use crate::model::{
    Amount, Band, Change, Clock, Difference, Dilution, Duration, Extend, Knock, Mass, Measure, Motion,
    Portion, Pulse, Share, Temperature, Time, Treats, Use, Value, Volume, decimal,
};

/// Enough places for any two temperatures, masses or volumes to differ.
const PLACES: [u32; 4] = [2, 4, 6, 12];

/// Both sides in words, with as few places as show a difference.
pub(super) fn sides(old: &Value<'_>, new: &Value<'_>, scale: Scale) -> (String, String) {
    let texts = |places| {
        let writer = Writer { scale, places };
        (writer.value(old), writer.value(new))
    };
    PLACES.into_iter().map(texts).find(|(old, new)| old != new).unwrap_or_else(|| texts(2))
}

/// Writes quantities in a scale of temperature, to a number of places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Writer {
    pub(super) scale: Scale,
    pub(super) places: u32,
}

impl Writer {
    /// `20 °C`.
    pub(super) fn degrees(self, temperature: Temperature) -> String {
        match self.scale {
            Scale::Celsius => format!("{} °C", temperature.in_celsius(self.places)),
            Scale::Fahrenheit => format!("{} °F", temperature.in_fahrenheit(self.places)),
        }
    }

    /// A difference of temperatures.
    fn interval(self, Difference { base }: Difference) -> String {
        match self.scale {
            Scale::Celsius => format!("{} °C", decimal(base, 9000, self.places)),
            Scale::Fahrenheit => format!("{} °F", decimal(base, 5000, self.places)),
        }
    }

    /// `250 ml`.
    fn volume(self, volume: Volume) -> String {
        format!("{} ml", volume.in_ml(self.places))
    }

    fn value(self, value: &Value<'_>) -> String {
        match value {
            Value::Absent => "—".to_owned(),
            Value::Present => "yes".to_owned(),
            Value::Step(kind) => kind.word().to_owned(),
            Value::NotAtThisTemperature => "not at this temperature".to_owned(),
            Value::After(Some(name)) => format!("after {}", plain(name)),
            Value::After(None) => "first".to_owned(),
            Value::Name(text) => plain(text),
            Value::Words(text) => format!("\"{}\"", plain(text)),
            Value::Names(names) => joined(names.iter().map(|name| plain(name))),
            Value::Water => "water".to_owned(),
            Value::Count(count) => count.to_string(),
            Value::Time(time) => time.to_string(),
            Value::Temperature(temperature) => self.degrees(*temperature),
            Value::Volume(volume) => self.volume(*volume),
            Value::Dilution(dilution) => dilution.to_string(),
            Value::Use(fate) => Use::word(*fate).to_owned(),
            Value::Role(role) => role.word().to_owned(),
            Value::Grain(grain) => grain.word().to_owned(),
            Value::Clears(time, at) => format!("{time} at {}", self.degrees(*at)),
            Value::Item(portion) => self.portion(portion),
            Value::Treats(rows) => joined(rows.iter().map(|row| self.treats(row))),
            Value::Extend(Extend { by, per_rolls }) => format!("{by} per {per_rolls} rolls"),
            Value::Rate(factor, interval) => {
                let interval = self.interval(Difference { base: *interval });
                format!("{} per {interval}", decimal(*factor, 1_000_000, 6))
            }
            Value::Keeping(keeping) => keeping.to_string(),
            Value::Plain(time, None) => time.to_string(),
            Value::Plain(time, Some(at)) => format!("{time} at {}", self.degrees(*at)),
            Value::Duration(written) => self.duration(written),
            Value::Band(Band::Between(low, high)) => {
                format!("{} to {}", self.degrees(*low), self.degrees(*high))
            }
            Value::Band(Band::Within(interval)) => format!("within {}", self.interval(*interval)),
            Value::Pulse(written) => pulse(written),
            Value::Motion(motion) => Motion::word(*motion).to_owned(),
            Value::Knock(Knock::AfterEach) => "after each".to_owned(),
            Value::Knock(Knock::Once) => "once".to_owned(),
            Value::Clock(Clock::FromPour) => "from pour".to_owned(),
            Value::Clock(Clock::FromFull) => "from full".to_owned(),
        }
    }

    /// An item of a formula, with the formula's volume unless it is a litre.
    fn portion(self, Portion { item, makes }: &Portion<'_>) -> String {
        let mut text = self.measure(item.measure);
        let state = item.state.as_deref().map(plain);
        let strength = item.strength.as_ref().map(Share::to_string);
        let at = item.at.map(|at| format!("at {}", self.degrees(at)));
        let makes = (*makes != Volume::from_ml(1000)).then(|| format!("in {}", self.volume(*makes)));
        text.extend([state, strength, at, makes].into_iter().flatten().map(|piece| format!(" {piece}")));
        text
    }

    fn treats(self, row: &Treats) -> String {
        let at = row.at.as_ref().map(|at: &Dilution| format!(" at {at}")).unwrap_or_default();
        format!("{} rolls per {}{at}", row.rolls, self.volume(row.per))
    }

    fn duration(self, written: &Duration) -> String {
        match written {
            Duration::Chart(chart) => joined(
                chart
                    .points()
                    .iter()
                    .map(|point| format!("{} at {}", point.time, self.degrees(point.temperature))),
            ),
            Duration::Plain { time, at: Some(at) } => format!("{time} at {}", self.degrees(*at)),
            Duration::Plain { time, at: None } => time.to_string(),
            Duration::Clearing { times, at_least: Some(least) } => {
                format!("{times} x clearing, at least {least}")
            }
            Duration::Clearing { times, at_least: None } => format!("{times} x clearing"),
            Duration::EachSide(time) => format!("{time} each side"),
            Duration::Changes(changes) => self::changes(changes),
            Duration::Flow { flow, time } => {
                let litres = decimal(flow.per_minute.fl, 1000 * Volume::ML, self.places.max(3));
                format!("{litres} l/min for {time}")
            }
        }
    }

    fn measure(self, measure: Measure) -> String {
        let mass = |mass: Mass| format!("{} g", mass.in_g(self.places.max(3)));
        match measure {
            Measure::Mass(of) => mass(of),
            Measure::Volume(of) => self.volume(of),
            Measure::UpTo(of) => format!("to {}", self.volume(of)),
            Measure::MassPerLitre(of) => format!("{} in each litre", mass(of)),
            Measure::VolumePerLitre(of) => format!("{} in each litre", self.volume(of)),
        }
    }
}

/// Changes of water: `5 x 1:00 of soaking`, `5 inversions, 10 inversions`.
fn changes(changes: &[Change]) -> String {
    let text = |run: &[Change]| {
        let one = match run.first()? {
            Change::Inversions(inversions) => format!("{inversions} inversions"),
            Change::Soak(time) => format!("{time} of soaking"),
        };
        Some(if run.len() == 1 { one } else { format!("{} x {one}", run.len()) })
    };
    joined(changes.chunk_by(|one, next| one == next).filter_map(text))
}

fn pulse(written: &Pulse) -> String {
    match written {
        Pulse::None => "none".to_owned(),
        Pulse::Continuous => "continuous".to_owned(),
        Pulse::Rotary(speed) => format!("rotary {} rpm", speed.rpm),
        Pulse::At { times, amount: length } => {
            format!("at {} for {}", joined(times.iter().map(Time::to_string)), amount(*length))
        }
        Pulse::Interval { first, then } => {
            let first = first.map(|first| format!("first {}", amount(first)));
            let then = then.map(|(then, every)| format!("{} every {every}", amount(then)));
            first.into_iter().chain(then).collect::<Vec<_>>().join(", then ")
        }
    }
}

fn amount(amount: Amount) -> String {
    match amount {
        Amount::For(time) => time.to_string(),
        Amount::Inversions(count) => format!("{count} inversions"),
    }
}

fn joined(texts: impl Iterator<Item = String>) -> String {
    texts.collect::<Vec<_>>().join(", ")
}
