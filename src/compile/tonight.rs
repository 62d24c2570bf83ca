//! What tonight is like: asked for by a person, held to its ranges before it comes here.

use std::sync::Arc;

use crate::model::{Date, Rolls, StepKind, Tank, Temperature, Volume};
use crate::source::Span;

/// Tonight's conditions: what a recipe is compiled for.
#[derive(Debug, Clone)]
pub struct Tonight {
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
    /// The tank, where one is known.
    pub tank: Option<Arc<Tank>>,
    /// Labels of the rolls, from the bottom up; fewer than rolls is fine.
    pub labels: Vec<String>,
    /// The volume to fill, where neither a tank nor the film's need tells.
    pub volume: Option<Volume>,
    /// The clock on the wall when it starts, in seconds after midnight.
    pub start: Option<u32>,
    /// The bottles that are poured from; `None` where none of them is known.
    pub bottles: Option<Bottles>,
}

impl Tonight {
    /// An evening at this temperature with these rolls, and nothing else said.
    #[must_use]
    pub fn new(temperature: Temperature, rolls: Vec<Rolls>) -> Tonight {
        Tonight {
            temperature,
            scale: Scale::Celsius,
            step_temperatures: Vec::new(),
            ending: None,
            rolls,
            tank: None,
            labels: Vec::new(),
            volume: None,
            start: None,
            bottles: None,
        }
    }
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
