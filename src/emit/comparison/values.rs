//! The values of a difference in words, exact enough to differ.

use super::super::plain::{plain, prefixed};
use crate::compile::Scale;
use crate::model::{
    Amount, Band, Change, Duration, Extend, Mass, Measure, Portion, Pulse, Temperature, Time, Treats, Value,
    Volume, decimal,
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

    /// A difference of temperatures, from 1/9000 °C.
    fn interval(self, base: i64) -> String {
        match self.scale {
            Scale::Celsius => format!("{} °C", decimal(base, 9000, self.places)),
            Scale::Fahrenheit => format!("{} °F", decimal(base, 5000, self.places)),
        }
    }

    fn volume(self, volume: Volume) -> String {
        format!("{} ml", volume.in_ml(self.places))
    }

    /// `8:30 at 20 °C`.
    fn timed(self, time: Time, at: Option<Temperature>) -> String {
        time.to_string() + &prefixed(" at ", at.map(|at| self.degrees(at)))
    }

    fn value(self, value: &Value<'_>) -> String {
        match value {
            Value::Absent => "—".to_owned(),
            Value::Present => "yes".to_owned(),
            Value::NotAtThisTemperature => "not at this temperature".to_owned(),
            Value::After(Some(name)) => format!("after {}", plain(name)),
            Value::After(None) => "first".to_owned(),
            Value::Name(text) => plain(text),
            Value::Words(text) => format!("\"{}\"", plain(text)),
            Value::Names(names) => plain(&names.join(", ")),
            Value::Word(word) => (*word).to_owned(),
            Value::Count(count) => count.to_string(),
            Value::Temperature(temperature) => self.degrees(*temperature),
            Value::Volume(volume) => self.volume(*volume),
            Value::Dilution(dilution) => dilution.to_string(),
            Value::Knock(knock) => knock.word().to_owned(),
            Value::Clock(clock) => format!("from {}", clock.word()),
            Value::Item(portion) => self.portion(portion),
            Value::Treats(rows) => joined(rows.iter().map(|row| self.treats(row))),
            Value::Extend(Extend { by, per_rolls }) => format!("{by} per {per_rolls} rolls"),
            Value::Rate(factor, interval) => {
                format!("{} per {}", decimal(*factor, 1_000_000, 6), self.interval(*interval))
            }
            Value::Keeping(keeping) => keeping.to_string(),
            Value::Time(time) => time.to_string(),
            Value::Clears(time, at) => self.timed(*time, Some(*at)),
            Value::Plain(time, at) => self.timed(*time, *at),
            Value::Duration(written) => self.duration(written),
            Value::Band(Band::Between(low, high)) => {
                format!("{} to {}", self.degrees(*low), self.degrees(*high))
            }
            Value::Band(Band::Within(by)) => format!("within {}", self.interval(by.base)),
            Value::Pulse(written) => pulse(written),
        }
    }

    /// An item of a formula, with the formula's volume unless it is a litre.
    fn portion(self, Portion { item, makes }: &Portion<'_>) -> String {
        let mass = |mass: Mass| format!("{} g", mass.in_g(self.places.max(3)));
        let measure = match item.measure {
            Measure::Mass(of) => mass(of),
            Measure::Volume(of) => self.volume(of),
            Measure::UpTo(of) => format!("to {}", self.volume(of)),
            Measure::MassPerLitre(of) => format!("{} in each litre", mass(of)),
            Measure::VolumePerLitre(of) => format!("{} in each litre", self.volume(of)),
        };
        let makes = Some(*makes).filter(|makes| *makes != Volume::from_ml(1000));
        [
            measure,
            prefixed(" ", item.state.as_deref().map(plain)),
            prefixed(" ", item.strength),
            prefixed(" at ", item.at.map(|at| self.degrees(at))),
            prefixed(" in ", makes.map(|makes| self.volume(makes))),
        ]
        .concat()
    }

    fn treats(self, row: &Treats) -> String {
        format!("{} rolls per {}{}", row.rolls, self.volume(row.per), prefixed(" at ", row.at.as_ref()))
    }

    fn duration(self, written: &Duration) -> String {
        match written {
            Duration::Chart(chart) => {
                joined(chart.points().iter().map(|point| self.timed(point.time, Some(point.temperature))))
            }
            Duration::Plain { time, at } => self.timed(*time, *at),
            Duration::Clearing { times, at_least } => {
                format!("{times} x clearing{}", prefixed(", at least ", *at_least))
            }
            Duration::EachSide(time) => format!("{time} each side"),
            Duration::Changes(changes) => {
                joined(changes.chunk_by(|one, next| one == next).filter_map(self::changes))
            }
            Duration::Flow { flow, time } => {
                let litres = decimal(flow.per_minute.fl, 1000 * Volume::ML, self.places.max(3));
                format!("{litres} l/min for {time}")
            }
        }
    }
}

/// Equal changes of water: `5 x 1:00 of soaking`, `10 inversions`.
fn changes(run: &[Change]) -> Option<String> {
    let one = match run.first()? {
        Change::Inversions(inversions) => format!("{inversions} inversions"),
        Change::Soak(time) => format!("{time} of soaking"),
    };
    Some(if run.len() == 1 { one } else { format!("{} x {one}", run.len()) })
}

fn pulse(written: &Pulse) -> String {
    let amount = |amount: &Amount| match amount {
        Amount::For(time) => time.to_string(),
        Amount::Inversions(count) => format!("{count} inversions"),
    };
    match written {
        Pulse::None => "none".to_owned(),
        Pulse::Continuous => "continuous".to_owned(),
        Pulse::Rotary(speed) => format!("rotary {} rpm", speed.rpm),
        Pulse::At { times, amount: length } => {
            format!("at {} for {}", joined(times.iter().map(Time::to_string)), amount(length))
        }
        Pulse::Interval { first, then } => {
            let first = first.iter().map(|first| format!("first {}", amount(first)));
            let then = then.iter().map(|(then, every)| format!("{} every {every}", amount(then)));
            first.chain(then).collect::<Vec<_>>().join(", then ")
        }
    }
}

fn joined(texts: impl Iterator<Item = String>) -> String {
    texts.collect::<Vec<_>>().join(", ")
}
