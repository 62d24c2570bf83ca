//! The schedule: one evening's work, to the millisecond. Every number in it is final.

use std::sync::Arc;

use super::evening::Tonight;
use crate::model::{
    Chart, Date, Dilution, Film, Format, Recipe, Shelf, StepKind, Temperature, Time, Use, Volume, words,
};
use crate::source::{Diagnostic, Level, Span};

/// A compiled recipe.
#[derive(Debug, Clone)]
pub struct Schedule {
    /// The recipe it was compiled from.
    pub recipe: Arc<Recipe>,
    /// Its film.
    pub film: Arc<Film>,
    /// The fingerprint of its work: eight hexadecimal digits.
    pub fingerprint: String,
    /// The conditions it was compiled for.
    pub conditions: Tonight,
    /// The tank's slots, from the bottom up.
    pub load: Vec<Slot>,
    /// The steps, in order; drying too.
    pub steps: Vec<PlannedStep>,
    /// From the start of the first step to the end of the last but drying (R16).
    pub total: Time,
    /// How long drying takes.
    pub drying: Option<Time>,
    /// All water: in baths mixed tonight, and for washing (R14).
    pub water: Volume,
    /// Warnings for the card.
    pub warnings: Vec<Warning>,
    /// Cautions: the recipe's own first.
    pub cautions: Vec<String>,
    /// Notes of the recipe, its film, its solutions and the tank.
    pub notes: Vec<String>,
}

/// One place in the tank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// From 1, at the bottom.
    pub slot: u32,
    /// The roll's label, where one was given.
    pub label: Option<String>,
    /// Its format.
    pub format: Format,
}

/// A warning on a card, with the rule or check that raised it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// The rule's number, as `R13`, or the check's name.
    pub rule: &'static str,
    /// The warning, as a sentence without its full stop.
    pub text: String,
}

impl Warning {
    /// The check's warnings about a recipe and what it uses. A hidden character concerns its whole file.
    pub fn of(findings: &[Diagnostic], shelf: &Shelf, recipe: &Recipe) -> Vec<Warning> {
        let own = shelf.made_of(recipe);
        let concerns = |finding: &&Diagnostic| {
            finding.name == "hidden-character" || own.iter().any(|extent| extent.holds(finding.span))
        };
        let warnings = findings.iter().filter(|finding| finding.level == Level::Warning).filter(concerns);
        warnings.map(|finding| Warning { rule: finding.name, text: finding.message.clone() }).collect()
    }
}

/// A step with its place in the evening.
#[derive(Debug, Clone)]
pub struct PlannedStep {
    /// Its kind.
    pub kind: StepKind,
    /// Its own name, where it has one.
    pub name: Option<String>,
    /// Its bath; `None` for a dry step.
    pub bath: Option<PlannedBath>,
    /// When it begins: its handling if it has any, else its first drop.
    pub start: Time,
    /// Its time by its own clock (R6).
    pub duration: Time,
    /// How long the pour takes.
    pub fill: Time,
    /// How long draining takes.
    pub drain: Time,
    /// How long the handling before the pour takes.
    pub handling: Time,
    /// When the tank is empty and the next step begins.
    pub end: Time,
    /// The bath's temperature, where it has one.
    pub temperature: Option<Temperature>,
    /// The temperature it is expected to end at (R5).
    pub ending: Option<Temperature>,
    /// The chart that its time was read from (R1), where it has one.
    pub chart: Option<Chart>,
    /// Every action, in order of time; none overlaps another, knocks take no time.
    pub events: Vec<Event>,
    /// Why each number is what it is.
    pub because: Vec<Because>,
    /// Whether light is safe from the end of this step's pour on.
    pub light_safe: bool,
    /// What light to expose to.
    pub light: Option<String>,
    /// Notes of the step.
    pub notes: Vec<String>,
    /// Cautions of the step.
    pub cautions: Vec<String>,
}

/// The bath of a step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlannedBath {
    /// The solution's name; `water` for plain water.
    pub solution: String,
    /// The solution's title; `water` for plain water.
    pub title: String,
    /// Its strength; `None` for water.
    pub dilution: Option<Dilution>,
    /// What becomes of it; `None` for water, and where the recipe does not say.
    pub reuse: Option<Use>,
    /// What to pour; for a wash in changes, once.
    pub volume: Volume,
    /// The parts of it, if mixed now, in the order of the dilution; empty for water.
    pub parts: Vec<MeasuredPart>,
    /// The water in it.
    pub water: Volume,
    /// How often it is poured: the changes of a wash, else once.
    pub pours: u32,
    /// What runs through it each minute, for a wash in running water (R14).
    pub flow: Option<Volume>,
    /// What to add to the bottle after tonight, for a replenished bath (R13).
    pub replenish: Option<Volume>,
    /// The bottle it is poured from, where one is known.
    pub bottle: Option<PlannedBottle>,
}

/// The bottle that a step pours from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedBottle {
    /// Its name.
    pub name: String,
    /// The day.
    pub on: Date,
    /// The film it has treated before tonight, in twelfths of a roll.
    pub treated: i64,
    /// The film it still treats after tonight, in twelfths of a roll; `None` where its capacity is not stated.
    pub left: Option<i64>,
}

/// A part to measure out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasuredPart {
    /// The solution, or its bottle.
    pub what: String,
    /// How much.
    pub volume: Volume,
}

/// One action.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// When it begins, from the start of the first step.
    pub at: Time,
    /// How long it takes.
    pub length: Time,
    /// What is done.
    pub action: Action,
    /// How, for moving: `inversion`, `rotary`.
    pub by: Option<&'static str>,
    /// How many inversions, or turns a minute.
    pub count: Option<u32>,
}

impl Event {
    pub(super) fn new(at: Time, length: Time, action: Action) -> Event {
        Event { at, length, action, by: None, count: None }
    }
}

words! {
    /// What is done, with its word in the schedule's JSON.
    pub enum Action {
        /// Handling before a pour.
        Handle = "handle",
        /// A bath goes in.
        Pour = "pour",
        /// The film is moved.
        Agitate = "agitate",
        /// The tank is knocked.
        Knock = "knock",
        /// The empty tank waits.
        Rest = "rest",
        /// A bath comes out.
        Drain = "drain",
        /// Wash water goes in.
        Fill = "fill",
        /// Wash water comes out.
        Dump = "dump",
        /// Light, for reversal.
        Expose = "expose",
        /// The dry tank is tempered.
        Warm = "warm",
        /// The film hangs.
        Dry = "dry",
    }
}

impl Action {
    /// Whether a bath goes in or comes out, which needs both hands.
    pub fn moves_a_bath(self) -> bool {
        matches!(self, Action::Pour | Action::Fill | Action::Drain | Action::Dump)
    }
}

/// Why a number is what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Because {
    /// The number, as a JSON Pointer within the step: `/duration_ms`.
    pub of: String,
    /// The rule, as `R1`.
    pub rule: &'static str,
    /// The calculation, in words and figures.
    pub text: String,
    /// The unrounded value in the number's own unit, where it was rounded.
    pub exact: Option<f64>,
    /// The statements it is from.
    pub from: Vec<Span>,
}

impl Because {
    pub(super) fn new(
        of: impl Into<String>,
        rule: &'static str,
        text: impl Into<String>,
        from: Vec<Span>,
    ) -> Because {
        Because { of: of.into(), rule, text: text.into(), exact: None, from }
    }
}
