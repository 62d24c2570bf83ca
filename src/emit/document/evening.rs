//! The parts of a document that only an evening at the sink has: bottles, places in a tank, steps.

use std::fmt::{Display, Formatter, Result};

/// A bath to prepare before the session.
#[derive(Debug, Clone)]
pub struct Ready {
    /// The names of the steps that use the bath: `develop`.
    pub steps: String,
    /// The title and the dilution of the bath: `MQ borax, fine grain 1+1`.
    pub bath: String,
    /// How to prepare the bath: `mix 2500 ml at 21.5 °C`.
    pub how: String,
    /// The volumes to measure for the bath. Water comes last, but first if a part is an acid. Empty if nothing is
    /// mixed.
    pub parts: Vec<Part>,
}

/// One part of a mixture to measure.
#[derive(Debug, Clone)]
pub struct Part {
    /// The volume of the part: `1250 ml`.
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
    /// `bottom` or `top` if this slot is at that end of the tank, `bottom to top` if these are all slots, otherwise
    /// empty.
    pub end: &'static str,
    /// The numbers of the slots, counted from the bottom: `1`, `1 to 12`; empty for a roll that is in no load.
    pub slots: String,
    /// The label of the roll; empty if it has none.
    pub label: String,
    /// The format of the roll, with the number of sheets if there are several: `120`, `12 sheets of 4x5in`. In a plan,
    /// also the film.
    pub what: String,
}

/// One step of a card, in words.
#[derive(Debug, Clone)]
pub struct StepText {
    /// The kind and the name of the step: `DEVELOP second`.
    pub name: String,
    /// The duration of the step: `8:43`.
    pub time: String,
    /// When the step begins, by the session's clock and, if known, by the time of day: `begins 0:00`, `19:30:00`.
    pub begins: Vec<String>,
    /// The step's bath and its temperature: `MQ borax, fine grain 1+1 at 21.5 °C`; `None` if the step has neither.
    pub bath: Option<String>,
    /// The cautions of this step.
    pub cautions: Vec<String>,
    /// The notes of this step that no earlier step has.
    pub notes: Vec<String>,
    /// The instructions of the step for the card as text, in order of time.
    pub lines: Vec<Line>,
    /// The step as a row, for paper and for an HTML page.
    pub row: StepRow,
    /// How each number of the step was calculated; empty if the card does not explain its numbers.
    pub reasons: Vec<Reason>,
}

/// One instruction of a step.
#[derive(Debug, Clone)]
pub struct Line {
    /// The time by the step's clock: `8:23`. It is `first` before that clock starts, and `then` after a person ended
    /// the step.
    pub when: String,
    /// What to do at this time: `drain: back to its bottle`.
    pub what: String,
}

/// The calculation that gave one number of a step.
#[derive(Debug, Clone)]
pub struct Reason {
    /// The number of the calculation's rule in the language reference: `R1`.
    pub rule: &'static str,
    /// The name, the calculation and the source lines of the number: `time: …  [estuary.wet:48, 49]`.
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
    /// The cells of the row, one for each action of the step, from left to right.
    pub cells: Vec<Cell>,
    /// The line about room light; only one row of a card has it.
    pub light: Option<String>,
    /// The sentences that are printed below the cells of the row.
    pub below: Vec<String>,
}

/// A cell of a row: one action.
#[derive(Debug, Clone, Default)]
pub struct Cell {
    /// The verb of the action: `POUR`.
    pub verb: &'static str,
    /// The time by the row's clock: `0:00`. It is `then` if the action begins when a person ends the step.
    pub clock: String,
    /// The amount, and other details of the action, one per line.
    pub texts: Vec<String>,
    /// Further times by the row's clock, each with what is done then.
    pub marks: Vec<Marks>,
    /// How the action is done: `by rocking`.
    pub manner: Vec<String>,
    /// Blanks to fill in by hand on paper: `true time ____`.
    pub blanks: Vec<&'static str>,
}

/// Times at which the same thing is done.
#[derive(Debug, Clone, Default)]
pub struct Marks {
    /// The times by the row's clock: `1:00`, `2:00`.
    pub times: Vec<String>,
    /// What is done at each of the times: `10 s each`.
    pub what: String,
}

/// A slip to file with one roll.
#[derive(Debug, Clone)]
pub struct Stub {
    /// The label of the roll, or its slot and a blank: `slot 1  label ______`.
    pub label: String,
    /// The lines of the slip: film and format, recipe, date and fingerprint.
    pub lines: Vec<String>,
}
