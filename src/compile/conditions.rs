//! What tonight is like: asked for by a person, held to its ranges before it comes here.

use jiff::civil::Date;

use crate::model::{Rolls, StepKind, Temperature, Volume};
use crate::source::Span;

/// Tonight's conditions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conditions {
    /// The room's or the baths' temperature (`--at`).
    pub temperature: Temperature,
    /// The scale it was given in; the card shows it first.
    pub scale: Scale,
    /// Temperatures for single steps (`--at 37.8C,wash=30C`).
    pub step_temperatures: Vec<StepTemperature>,
    /// What a bath is expected to end at (`--ending`).
    pub ending: Option<Temperature>,
    /// What is in the tank, in the order it was given; never empty.
    pub rolls: Vec<Rolls>,
    /// Labels of the rolls, from the bottom up; fewer than rolls is fine.
    pub labels: Vec<String>,
    /// The volume to fill, where neither a tank nor the film's need tells.
    pub volume: Option<Volume>,
    /// The clock on the wall when it starts, in seconds after midnight.
    pub start: Option<u32>,
    /// The bottles that are poured from; `None` where none of them is known.
    pub bottles: Option<Bottles>,
}

/// The bottles of one's own darkroom that an evening pours from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bottles {
    /// The day: it decides what they have treated, and whether they still keep.
    pub on: Date,
    /// Where they are declared, in the order they were named.
    pub from: Vec<Span>,
    /// Whether one that is exhausted or past keeping is refused.
    pub heed: Heed,
}

/// What is made of a bottle that speaks against itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heed {
    /// It is refused.
    Refuse,
    /// It is poured from, and the card says so.
    Warn,
}

/// The temperature of one step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepTemperature {
    /// The kind of step.
    pub kind: StepKind,
    /// Its name, where it has one.
    pub name: Option<String>,
    /// The temperature.
    pub temperature: Temperature,
}

/// A scale of temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}
