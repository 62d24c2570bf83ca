//! Tonight's work, to the millisecond. A reader of it computes nothing: what is printed adds up here.

use std::sync::Arc;

use super::tonight::Tonight;
use crate::model::{
    Chart, Date, Dilution, Film, Format, Recipe, Shelf, StepKind, Temperature, Time, Use, Volume,
};
use crate::source::{Diagnostic, Level, Span};

/// A compiled recipe.
#[derive(Debug, Clone)]
pub struct Schedule {
    /// The recipe it was compiled from.
    pub recipe: Arc<Recipe>,
    /// Its film.
    pub film: Arc<Film>,
    /// The first eight hexadecimal digits of the resolved recipe's SHA-256.
    pub fingerprint: String,
    /// What was asked for.
    pub conditions: Tonight,
    /// What lies where in the tank, from the bottom up.
    pub load: Vec<Slot>,
    /// The steps, in order; drying too.
    pub steps: Vec<PlannedStep>,
    /// From the start of the first step to the end of the last but drying (R16).
    pub total: Time,
    /// Drying, named apart.
    pub drying: Option<Time>,
    /// All water: in baths mixed tonight, and for washing (R14).
    pub water: Volume,
    /// Doubts that belong on the card.
    pub warnings: Vec<Doubt>,
    /// Cautions: the recipe's own first.
    pub cautions: Vec<String>,
    /// Remarks of the recipe, its film, its solutions and the tank.
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

/// A doubt, with the rule or check that raised it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doubt {
    /// The rule's number, as `R13`, or the check's name.
    pub rule: &'static str,
    /// The doubt, as a sentence without its full stop.
    pub text: String,
}

impl Doubt {
    /// Those of the warnings that concern a recipe and what it is made of. A character that does not show casts a
    /// doubt on all of its file.
    #[must_use]
    pub fn of(findings: &[Diagnostic], shelf: &Shelf, recipe: &Recipe) -> Vec<Doubt> {
        let own = shelf.made_of(recipe);
        let concerns = |finding: &&Diagnostic| {
            finding.name == "hidden-character" || own.iter().any(|extent| extent.holds(finding.span))
        };
        let doubts = findings.iter().filter(|finding| finding.level == Level::Warning).filter(concerns);
        doubts.map(|finding| Doubt { rule: finding.name, text: finding.message.clone() }).collect()
    }
}

/// A step with its place in the evening.
#[derive(Debug, Clone)]
pub struct PlannedStep {
    /// Its kind.
    pub kind: StepKind,
    /// Its own name, where it has one.
    pub name: Option<String>,
    /// What it happens in; `None` for a dry step.
    pub bath: Option<PlannedBath>,
    /// Where it begins: its handling if it has any, else its first drop.
    pub start: Time,
    /// Its time as the recipe means it (R6).
    pub duration: Time,
    /// The pour.
    pub fill: Time,
    /// The draining.
    pub drain: Time,
    /// What passes before the pour.
    pub handling: Time,
    /// When the tank is empty and the next step begins.
    pub end: Time,
    /// The bath's temperature, where it matters.
    pub temperature: Option<Temperature>,
    /// The temperature it is expected to end at (R5).
    pub ending: Option<Temperature>,
    /// The chart that its time was read from (R1), where it has one.
    pub chart: Option<Chart>,
    /// Every action, in order of time; none overlaps another, knocks take no time.
    pub events: Vec<Event>,
    /// How each number came about.
    pub because: Vec<Because>,
    /// Whether light is safe from the end of this step's pour on.
    pub light_safe: bool,
    /// What light to expose to.
    pub light: Option<String>,
    /// Remarks of the step.
    pub notes: Vec<String>,
    /// Cautions of the step.
    pub cautions: Vec<String>,
}

/// What a step happens in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedBath {
    /// The solution's name; `water` for plain water.
    pub solution: String,
    /// The solution's title; `water` for plain water.
    pub title: String,
    /// Its strength; `None` for water.
    pub dilution: Option<Dilution>,
    /// What becomes of it; `None` for water, and where the recipe does not say.
    pub fate: Option<Use>,
    /// What to pour (one change of it, for a wash in changes).
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

/// A bottle that is poured from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedBottle {
    /// Its name.
    pub name: String,
    /// The day.
    pub on: Date,
    /// The film it has treated before tonight, in twelfths of a roll.
    pub treated: i64,
    /// The film it still does for after tonight, in twelfths of a roll; `None` where nothing says how far it goes.
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

/// What is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// Whatever comes before a pour.
    Handle,
    /// A bath goes in.
    Pour,
    /// The film is moved.
    Agitate,
    /// The tank is knocked.
    Knock,
    /// The empty tank waits.
    Rest,
    /// A bath comes out.
    Drain,
    /// Wash water goes in.
    Fill,
    /// Wash water comes out.
    Dump,
    /// Light, for reversal.
    Expose,
    /// The dry tank is tempered.
    Warm,
    /// The film hangs.
    Dry,
}

impl Action {
    /// Whether a bath goes in or comes out, for which hands must be ready.
    #[must_use]
    pub fn moves_a_bath(self) -> bool {
        match self {
            Action::Pour | Action::Fill | Action::Drain | Action::Dump => true,
            Action::Handle
            | Action::Agitate
            | Action::Knock
            | Action::Rest
            | Action::Expose
            | Action::Warm
            | Action::Dry => false,
        }
    }

    /// The word that the schedule's JSON has for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Action::Handle => "handle",
            Action::Pour => "pour",
            Action::Agitate => "agitate",
            Action::Knock => "knock",
            Action::Rest => "rest",
            Action::Drain => "drain",
            Action::Fill => "fill",
            Action::Dump => "dump",
            Action::Expose => "expose",
            Action::Warm => "warm",
            Action::Dry => "dry",
        }
    }
}

/// How a number came about.
#[derive(Debug, Clone, PartialEq)]
pub struct Because {
    /// The number, as a JSON Pointer within the step: `/duration_ms`.
    pub of: String,
    /// The rule, as `R1`.
    pub rule: &'static str,
    /// The reckoning, in words and figures.
    pub text: String,
    /// The unrounded value in the number's own unit, where it was rounded.
    pub exact: Option<f64>,
    /// The statements it came from.
    pub from: Vec<Span>,
}
