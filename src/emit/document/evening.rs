//! The parts of a document that only an evening at the sink has: bottles, places in a tank, steps.

use std::fmt::{Display, Formatter, Result};

/// A bath to prepare before the session.
#[derive(Debug, Clone)]
pub struct Ready {
    /// The steps that use the bath: `develop`.
    pub steps: String,
    /// The title and dilution: `MQ borax, fine grain 1+1`.
    pub bath: String,
    /// The instruction: `mix 2500 ml at 21.5 °C`.
    pub how: String,
    /// The volumes to measure; water comes last, but first if a part is an acid. Empty if nothing is mixed.
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

/// One slot of the tank, or several neighbouring slots with the same format and without labels. In a plan, one roll.
#[derive(Debug, Clone)]
pub struct Place {
    /// `bottom` or `top` for the slot at that end of the tank, `bottom to top` for all slots, otherwise empty.
    pub end: &'static str,
    /// The numbers of the slots from the bottom: `1`, `1 to 12`; empty for a roll that is in no load.
    pub slots: String,
    /// The label of the roll, or empty.
    pub label: String,
    /// The format, with the number of sheets if there are several: `120`, `12 sheets of 4x5in`. In a plan, also the
    /// film.
    pub what: String,
}

/// One step of a card.
#[derive(Debug, Clone)]
pub struct StepText {
    /// The step's kind and name: `DEVELOP second`.
    pub name: String,
    /// Its duration: `8:43`.
    pub time: String,
    /// The start by the session's clock, and the time of day if known: `begins 0:00`, `19:30:00`.
    pub begins: Vec<String>,
    /// The step's bath and its temperature.
    pub bath: Option<String>,
    /// The cautions of this step.
    pub cautions: Vec<String>,
    /// The notes of this step that no earlier step has.
    pub notes: Vec<String>,
    /// The instructions for the card as text, in order of time.
    pub lines: Vec<Line>,
    /// The step as a row, for paper and for an HTML page.
    pub row: StepRow,
    /// How each number of the step was calculated.
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
    /// The number of the calculation's rule in the language reference: `R1`.
    pub rule: &'static str,
    /// The name of the number, its calculation, and the lines it comes from: `time: …  [estuary.wet:48, 49]`.
    pub text: String,
}

/// The total time, the drying time and the water of a session.
#[derive(Debug, Clone)]
pub struct Total {
    /// The time of all steps without drying: `38:21`.
    pub time: String,
    /// The time of day at which all steps but drying end, if known: `ends 21:04:00`.
    pub ends: Option<String>,
    /// The time of drying, and the volume of water.
    pub besides: Vec<String>,
}

/// A step as a row on paper or on an HTML page; no page break divides it. The row's clock counts whole seconds from the
/// start of the pour, or from when the material goes into the bath. The times of all rows, and of handling before
/// pours, add up to the session.
#[derive(Debug, Clone, Default)]
pub struct StepRow {
    /// The time by the row's clock at which the step ends: `8:39`.
    pub time: String,
    /// Whether the row has a box to tick when the step begins.
    pub has_box: bool,
    /// The actions of the step, from left to right.
    pub cells: Vec<Cell>,
    /// The line about room light; only one row of a card has it.
    pub light: Option<String>,
    /// Sentences below the cells.
    pub below: Vec<String>,
}

/// A cell of a row: one action.
#[derive(Debug, Clone, Default)]
pub struct Cell {
    /// The verb: `POUR`.
    pub verb: &'static str,
    /// The time by the row's clock: `0:00`. It is `then` if the action begins when a person ends the step.
    pub clock: String,
    /// The amount, and other details of the action, one per line.
    pub texts: Vec<String>,
    /// Further times by the row's clock, each with what is done then.
    pub marks: Vec<Marks>,
    /// How the action is done.
    pub manner: Vec<String>,
    /// Blanks to fill in by hand on paper: `true time ____`.
    pub blanks: Vec<&'static str>,
}

/// Times at which the same thing is done.
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
    /// The label of the roll, or its slot and a blank: `slot 1  label ______`.
    pub label: String,
    /// The film, the recipe and the date, one per line.
    pub lines: Vec<String>,
}
