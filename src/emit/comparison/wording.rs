//! What two sides of a difference have, in words: as exact as it takes to tell one from the other, and
//! with temperatures in the scale that was asked for.

use super::super::plain::plain;
use super::hand::Hand;
use super::reading::{duration, measure, pulse};
use crate::compile::Scale;
use crate::model::{
    Band, Clock, Difference, Dilution, Extend, Knock, Motion, Portion, Share, Treats, Use, Value, Volume,
    decimal,
};

/// Places enough for any temperature, mass and volume to differ from its neighbour.
const PLACES: [u32; 4] = [2, 4, 6, 12];

/// Both sides in words that differ, as long as there are such words.
pub(super) fn sides(old: &Value<'_>, new: &Value<'_>, scale: Scale) -> (String, String) {
    let said = |places| {
        let hand = Hand { scale, places };
        (hand.value(old), hand.value(new))
    };
    let told = PLACES.into_iter().map(said).find(|(old, new)| old != new);
    told.unwrap_or_else(|| said(2))
}

impl Hand {
    /// A value in words.
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
            Value::Names(names) => names.iter().map(|name| plain(name)).collect::<Vec<_>>().join(", "),
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
            Value::Treats(rows) => rows.iter().map(|row| self.treats(row)).collect::<Vec<_>>().join(", "),
            Value::Extend(Extend { by, per_rolls }) => format!("{by} per {per_rolls} rolls"),
            Value::Rate(factor, interval) => {
                format!("{} per {}", decimal(*factor, 1_000_000, 6), self.difference(*interval))
            }
            Value::Keeping(keeping) => keeping.to_string(),
            Value::Plain(time, None) => time.to_string(),
            Value::Plain(time, Some(at)) => format!("{time} at {}", self.degrees(*at)),
            Value::Duration(written) => duration(self, written),
            Value::Band(band) => self.band(*band),
            Value::Pulse(written) => pulse(written),
            Value::Motion(motion) => Motion::word(*motion).to_owned(),
            Value::Knock(Knock::AfterEach) => "after each".to_owned(),
            Value::Knock(Knock::Once) => "once".to_owned(),
            Value::Clock(Clock::FromPour) => "from pour".to_owned(),
            Value::Clock(Clock::FromFull) => "from full".to_owned(),
        }
    }

    fn band(self, band: Band) -> String {
        match band {
            Band::Between(low, high) => format!("{} to {}", self.degrees(low), self.degrees(high)),
            Band::Within(Difference { base }) => format!("within {}", self.difference(base)),
        }
    }

    /// A line of a formula; how much the formula makes is said where it is not a litre.
    fn portion(self, Portion { item, makes }: &Portion<'_>) -> String {
        let state = item.state.as_deref().map(plain);
        let strength = item.strength.as_ref().map(Share::to_string);
        let at = item.at.map(|at| format!("at {}", self.degrees(at)));
        let makes = (*makes != Volume::from_ml(1000)).then(|| format!("in {}", self.volume(*makes)));
        let pieces = [Some(measure(self, item.measure)), state, strength, at, makes];
        pieces.into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    fn treats(self, row: &Treats) -> String {
        let at = row.at.as_ref().map(|at: &Dilution| format!(" at {at}")).unwrap_or_default();
        format!("{} rolls per {}{at}", row.rolls, self.volume(row.per))
    }
}
