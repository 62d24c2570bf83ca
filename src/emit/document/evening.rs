//! The parts of a document that only an evening at the sink has: bottles, places in a tank, steps.

use std::fmt::{Display, Formatter, Result};

/// A bath to have ready.
#[derive(Debug, Clone)]
pub struct Ready {
    /// The steps that use the bath: `develop`.
    pub steps: String,
    /// The title and dilution: `MQ borax, fine grain 1+1`.
    pub bath: String,
    /// The instruction: `mix 2500 ml at 21.5 °C`.
    pub how: String,
    /// The parts to measure; water comes last, but for an acid it comes first. Empty if nothing is mixed.
    pub parts: Vec<Part>,
}

/// One part of a mixture.
#[derive(Debug, Clone)]
pub struct Part {
    /// The volume: `1250 ml`.
    pub amount: String,
    /// The name of the solution or of its bottle, or `water`.
    pub what: String,
}

impl Display for Part {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        write!(out, "{} {}", self.amount, self.what)
    }
}

/// One slot of the tank, or neighbouring slots with equal film; in a plan, one roll.
#[derive(Debug, Clone)]
pub struct Place {
    /// At an end of the tank `bottom` or `top`, at both ends `bottom to top`, else empty.
    pub end: &'static str,
    /// The numbers of the place's slots from the bottom: `1`, `1 to 12`; empty for a roll without a load.
    pub slots: String,
    /// The label of the roll, or empty.
    pub label: String,
    /// The film: `120`, `12 sheets of 4x5in`.
    pub what: String,
}

/// One step of the work.
#[derive(Debug, Clone)]
pub struct StepText {
    /// The step's kind and name: `DEVELOP second`.
    pub name: String,
    /// Its duration: `8:43`.
    pub time: String,
    /// The step's start by the session's clock, and the time of day if known: `begins 0:00`, `19:30:00`.
    pub begins: Vec<String>,
    /// The step's bath and its temperature.
    pub bath: Option<String>,
    /// The cautions of this step.
    pub cautions: Vec<String>,
    /// The notes of this step that no earlier step has.
    pub notes: Vec<String>,
    /// The instructions of the text, in order of time.
    pub lines: Vec<Line>,
    /// The step on paper and on a page.
    pub row: StepRow,
    /// The calculations of the step's numbers.
    pub reasons: Vec<Reason>,
}

/// One instruction of a step.
#[derive(Debug, Clone)]
pub struct Line {
    /// The time by the step's clock, `8:23`, or `first` before that clock starts.
    pub when: String,
    /// The instruction.
    pub what: String,
}

/// The calculation that gave one number of a step.
#[derive(Debug, Clone)]
pub struct Reason {
    /// The rule for the calculation: `R1`.
    pub rule: &'static str,
    /// The number's name, its calculation, and the lines it comes from: `time: …  [estuary.wet:48, 49]`.
    pub text: String,
}

/// The totals of time, drying and water.
#[derive(Debug, Clone)]
pub struct Total {
    /// The time of all steps without drying: `38:21`.
    pub time: String,
    /// The time of day when all steps but drying end, if known: `ends 21:04:00`.
    pub ends: Option<String>,
    /// The time of drying, and the volume of water.
    pub besides: Vec<String>,
}

/// A step on paper and on a page: a row that is never torn. Its clock starts at the first drop, or as the material goes into the bath,
/// and shows whole seconds. The times of all rows and of getting ready add up to the session.
#[derive(Debug, Clone, Default)]
pub struct StepRow {
    /// The time until the step is over: `8:39`.
    pub time: String,
    /// Whether the row has a box to tick when the step begins.
    pub has_box: bool,
    /// What is done, from left to right.
    pub cells: Vec<Cell>,
    /// The line about light, in the row in which light is allowed.
    pub light: Option<String>,
    /// Sentences below the cells.
    pub below: Vec<String>,
}

/// One thing to do in a row.
#[derive(Debug, Clone, Default)]
pub struct Cell {
    /// The verb: `POUR`.
    pub verb: &'static str,
    /// The time by the row's clock: `0:00`; `then` after a decision.
    pub clock: String,
    /// The amount and what else belongs to the verb, a line each.
    pub texts: Vec<String>,
    /// Further times, and what is done at each of them.
    pub marks: Vec<Marks>,
    /// How it is done.
    pub manner: Vec<String>,
    /// What to fill in on paper.
    pub blanks: Vec<&'static str>,
}

/// Times at which the same is done.
#[derive(Debug, Clone, Default)]
pub struct Marks {
    /// The times by the row's clock: `1:00`, `2:00`.
    pub times: Vec<String>,
    /// What is done: `10 s each`.
    pub what: String,
}

/// A slip to file with one roll.
#[derive(Debug, Clone)]
pub struct Stub {
    /// The label of the roll, or its slot and a blank.
    pub label: String,
    /// What else is known, a line each; the fingerprint comes last.
    pub lines: Vec<String>,
}
