//! The schedule of one evening, to the millisecond. Nothing in it is rounded or calculated any further.

use std::sync::Arc;

use super::bath::PlannedBath;
use super::doubt::Doubt;
use super::duration::Leader;
use super::evening::Tonight;
use super::legs::{Decision, Leg};
use super::safety::Saying;
use super::trial::Rests;
use crate::chemistry::Concern;
use crate::model::{
    Chart, Film, Fingerprint, Format, Lighting, Recipe, Shelf, StepKind, Temperature, Time, Volume, words,
};
use crate::source::{Diagnostic, Level, Span};

/// A compiled recipe.
#[derive(Debug, Clone)]
pub struct Schedule {
    /// The recipe, with every round of repeated steps written out.
    pub recipe: Arc<Recipe>,
    /// The film of the recipe.
    pub film: Arc<Film>,
    /// The fingerprint of the recipe: a hash of what the recipe does.
    pub fingerprint: Fingerprint,
    /// The conditions that the recipe was compiled for.
    pub conditions: Tonight,
    /// The rolls in the tank, from the bottom up.
    pub load: Vec<Slot>,
    /// All steps in order, including drying.
    pub steps: Vec<PlannedStep>,
    /// The parts of the schedule between steps that a person ends at a sign (rule R18); never empty. All times of the
    /// schedule assume that each of these steps ends as late as allowed.
    pub legs: Vec<Leg>,
    /// From when on room light may reach the film; `None` if no step states it, or if the recipe begins in room light
    /// and never leaves it.
    pub light: Option<Light>,
    /// The time from the start of the first step to the start of drying, or to the end of the last step if nothing is
    /// dried (rule R16).
    pub total: Time,
    /// How long drying takes, if the film is dried.
    pub drying: Option<Time>,
    /// The volume of water for baths mixed tonight and for washing (rule R14).
    pub water: Volume,
    /// The volume of water for the same uses if each step that a person ends at a sign ends as early as allowed.
    pub least_water: Volume,
    /// The warnings that the card shows.
    pub warnings: Vec<Warning>,
    /// The advice that the card shows.
    pub advice: Vec<Warning>,
    /// The leader (a piece of film) that was cleared in tonight's fixer as a test, if one was.
    pub leader: Option<Leader>,
    /// The solutions, with the hazards of each bottle and bath.
    pub concerns: Vec<Concern>,
    /// The safety block of the last session in the journal, if there is a session.
    pub last_safety: Option<Vec<Saying>>,
    /// Cautions; those of the recipe come first.
    pub cautions: Vec<String>,
    /// First aid for accidents with the solutions.
    pub first_aid: Vec<String>,
    /// Notes of the recipe, its film, its solutions and the tank.
    pub notes: Vec<String>,
}

/// A warning about a roll or bottle that `--anyway` names begins with this word.
const ANYWAY: &str = "anyway ";

impl Schedule {
    /// Whether some bath has less of its solution than the film needs (rule R8).
    pub fn is_starved(&self) -> bool {
        self.warnings.iter().chain(&self.advice).any(|notice| notice.rule == "R8")
    }

    /// The warnings about the rolls and bottles that `--anyway` names.
    pub fn taken_anyway(&self) -> impl Iterator<Item = &Warning> {
        self.warnings.iter().filter(|warning| warning.text.starts_with(ANYWAY))
    }

    /// The next step that uses the same bath as the step with this index, if any.
    pub fn user_of(&self, index: usize) -> Option<&PlannedStep> {
        let used = |step: &PlannedStep| step.bath.as_ref().and_then(|bath| bath.used);
        let first = used(self.steps.get(index)?).unwrap_or(index);
        self.steps.iter().skip(index + 1).find(|step| used(step) == Some(first))
    }

    /// The area of the film in the tank; [`Format::ROLL`] is one roll (rule R12).
    pub fn area(&self) -> i64 {
        let one_side = self.load.iter().map(|slot| slot.format.area()).fold(0, i64::saturating_add);
        one_side.saturating_mul(self.film.sides())
    }
}

/// A roll in the tank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// The position of the roll, counted from 1 at the bottom.
    pub slot: u32,
    /// The label of the roll, if known.
    pub label: Option<String>,
    /// The format of the roll.
    pub format: Format,
}

#[derive(Debug, Default)]
pub(super) struct Notices {
    pub(super) warnings: Vec<Warning>,
    pub(super) advice: Vec<Warning>,
}

impl Notices {
    pub(super) fn lifted(&mut self, rule: &'static str, name: &str, text: &str) {
        add(&mut self.warnings, Warning::lifted(rule, name, text));
    }

    pub(super) fn warn(&mut self, rule: &'static str, text: impl Into<String>) {
        add(&mut self.warnings, Warning { rule, text: text.into() });
    }

    pub(super) fn advise(&mut self, rule: &'static str, text: impl Into<String>) {
        add(&mut self.advice, Warning { rule, text: text.into() });
    }

    pub(super) fn starved(&mut self, notice: Option<(Level, String)>) {
        match notice {
            Some((Level::Advice, text)) => self.advise("R8", text),
            Some((_, text)) => self.warn("R8", text),
            None => {}
        }
    }
}

fn add(all: &mut Vec<Warning>, warning: Warning) {
    all.extend((!all.contains(&warning)).then_some(warning));
}

/// A warning on a card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// The rule that causes it: a number such as `R13`, or the name of a lint rule.
    pub rule: &'static str,
    /// The warning, a sentence without full stop.
    pub text: String,
}

impl Warning {
    /// The warning that the roll or bottle `name` is used because of `--anyway`, in spite of the objection `text`.
    pub fn lifted(rule: &'static str, name: &str, text: &str) -> Warning {
        Warning { rule, text: format!("{ANYWAY}\"{name}\": {text}") }
    }

    /// The warnings of the check about a recipe and the declarations that it uses, and all warnings about hidden
    /// characters, each once. Warnings about an `allow` without effect are left out, because they do not matter for the
    /// work.
    pub fn of(findings: &[Diagnostic], shelf: &Shelf, recipe: &Recipe) -> Vec<Warning> {
        let own = shelf.made_of(recipe);
        let concerns = |finding: &&Diagnostic| {
            finding.name == "hidden-character" || own.iter().any(|extent| extent.holds(finding.span))
        };
        let warnings = findings.iter().filter(|finding| finding.level == Level::Warning).filter(concerns);
        let mut all = Vec::new();
        for finding in warnings.filter(|finding| finding.name != "allow-without-effect") {
            add(&mut all, Warning { rule: finding.name, text: finding.message.clone() });
        }
        all
    }
}

/// A step of a schedule.
#[derive(Debug, Clone)]
pub struct PlannedStep {
    /// The kind of step.
    pub kind: StepKind,
    /// The name of the step, if it has one.
    pub name: Option<String>,
    /// For a repeated step, the number of its round from 1, and the number of rounds.
    pub round: Option<(u32, u32)>,
    /// The bath; `None` for a dry step.
    pub bath: Option<PlannedBath>,
    /// When the step begins: with handling, or else with the pour.
    pub start: Time,
    /// The duration of the step on its clock (rule R6).
    pub duration: Time,
    /// How long the pour takes.
    pub fill: Time,
    /// How long draining takes.
    pub drain: Time,
    /// How long handling before the pour takes.
    pub handling: Time,
    /// When the tank is empty and the next step begins.
    pub end: Time,
    /// How a person ends the step at a sign (rule R18); `None` if the step ends at a time. The times and actions of the
    /// step assume the latest end.
    pub decision: Option<Decision>,
    /// How a person ended the step, once the sign was seen. The times and actions of the step are then the real ones.
    pub ended: Option<Decision>,
    /// The temperature of the bath at the start, if the step has one.
    pub temperature: Option<Temperature>,
    /// The temperature of the bath at the end, if it drifts (rule R5).
    pub ending: Option<Temperature>,
    /// The lowest and the highest temperature that the step states as allowed, if any (rule R3).
    pub allowed: Option<(Temperature, Temperature)>,
    /// The chart that gives the time, if any (rule R1).
    pub chart: Option<Chart>,
    /// The actions in order of time. They do not overlap, and knocks take no time.
    pub events: Vec<Event>,
    /// How each number of the step was calculated.
    pub because: Vec<Because>,
    /// The light in the room from this step on, if the step changes it. The moment when room light may begin is in the
    /// schedule's `light`.
    pub lighting: Option<Lighting>,
    /// The light to which the film is exposed in this step, in words: `a lamp of 100 W at 1 m`.
    pub light: Option<String>,
    /// The notes of the step and of its agitation.
    pub notes: Vec<String>,
    /// Cautions of the step.
    pub cautions: Vec<String>,
    /// The trial that the time comes from, if any (rule R20).
    pub rests: Option<Rests>,
    /// How uncertain the time is (rule R22); `None` if the step is not a development.
    pub doubt: Option<Doubt>,
}

impl PlannedStep {
    /// Whether the film dries in this step.
    pub fn is_drying(&self) -> bool {
        self.kind == StepKind::Dry
    }

    /// When the bath covers the film, counted from the start of the schedule.
    pub fn full(&self) -> Time {
        self.start + self.handling + self.fill
    }
}

/// The moment from which room light may reach the film.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Light {
    /// When room light may begin, counted from the start of the schedule.
    pub at: Time,
    /// The index of the step in which room light may begin.
    pub step: usize,
    /// How long the film must have been in the fixer; `None` if the moment does not depend on a clearing time.
    pub in_fixer: Option<Time>,
}

/// An action of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Event {
    /// When the action begins, counted from the start of the first step.
    pub at: Time,
    /// How long the action takes.
    pub length: Time,
    /// What is done in the action.
    pub action: Action,
    /// How the film is agitated, such as `inversion` or `rotary`.
    pub by: Option<&'static str>,
    /// The number of inversions, or a drum's turns per minute.
    pub count: Option<u32>,
}

impl Event {
    pub(super) fn new(at: Time, length: Time, action: Action) -> Event {
        Event { at, length, action, by: None, count: None }
    }
}

words! {
    /// What is done, with the word for it in the JSON of the schedule.
    pub enum Action {
        /// Handling before a pour.
        Handle = "handle",
        /// A bath for a later step is mixed.
        Mix = "mix",
        /// A bath goes in.
        Pour = "pour",
        /// The film is agitated.
        Agitate = "agitate",
        /// The tank is knocked to free air bells.
        Knock = "knock",
        /// The film waits without a bath.
        Rest = "rest",
        /// A bath comes out.
        Drain = "drain",
        /// Wash water goes in.
        Fill = "fill",
        /// Wash water comes out.
        Dump = "dump",
        /// The film or paper is laid into a tray or another standing bath.
        Lower = "lower",
        /// The film or paper is lifted, drips and is laid into the next bath.
        Lift = "lift",
        /// A sensitiser is brushed on.
        Coat = "coat",
        /// The film or paper is exposed to light.
        Expose = "expose",
        /// The dry tank is brought to temperature.
        Warm = "warm",
        /// The film or paper hangs to dry.
        Dry = "dry",
    }
}

impl Action {
    /// Whether a bath goes in or comes out, which needs both hands.
    pub fn moves_a_bath(self) -> bool {
        use Action::{Drain, Dump, Fill, Lift, Lower, Pour};
        matches!(self, Pour | Fill | Drain | Dump | Lower | Lift)
    }
}

/// How a number of a step was calculated.
#[derive(Debug, Clone, PartialEq)]
pub struct Because {
    /// The number, as a JSON Pointer within the step, such as `/duration_ms`.
    pub of: String,
    /// The rule, such as `R1`.
    pub rule: &'static str,
    /// The calculation in words and figures, as `card --why` shows it.
    pub text: String,
    /// The number before rounding, if it was rounded.
    pub exact: Option<f64>,
    /// The spans of the statements that the number depends on.
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
