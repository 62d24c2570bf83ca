//! What tonight is like: asked for by a person, held to its ranges before it comes here.

use crate::model::{Rolls, StepKind, Temperature, Volume};

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
