//! The words of a card, in order. Text, page and paper draw this one value.

use std::fmt::{Display, Formatter, Result};

/// A card. Each text is one line, safe to show and with its units.
#[derive(Debug, Clone)]
pub struct Card {
    /// The recipe's title.
    pub title: String,
    /// The fingerprint of the resolved recipe, eight hexadecimal digits.
    pub fingerprint: String,
    /// Film, rolls, tank, temperature and index.
    pub facts: Vec<String>,
    /// Warnings, to read before mixing.
    pub warnings: Vec<String>,
    /// The same warnings, each with its rule.
    pub warnings_with_rules: Vec<String>,
    /// The baths to have ready, in the order of use.
    pub mix: Vec<Ready>,
    /// The places in the tank, from the bottom up.
    pub load: Vec<Place>,
    /// How long to keep light from the film, if the recipe says so.
    pub lid: Option<String>,
    /// How to read the times.
    pub clock: &'static str,
    /// The steps, with drying.
    pub work: Vec<Block>,
    /// The whole evening.
    pub total: Total,
    /// What to do afterwards, each as a sentence.
    pub afterwards: Vec<String>,
    /// Cautions; the last says that safety data sheets and codes come first.
    pub cautions: Vec<String>,
    /// Notes.
    pub notes: Vec<String>,
}

/// A bath to have ready.
#[derive(Debug, Clone)]
pub struct Ready {
    /// The steps that use it: `develop`.
    pub steps: String,
    /// The bath: `MQ borax, fine grain 1+1`.
    pub bath: String,
    /// `mix 2500 ml at 21.5 °C`.
    pub how: String,
    /// The parts to measure, water last; empty if it is not mixed.
    pub parts: Vec<Part>,
}

/// One part of a mixture.
#[derive(Debug, Clone)]
pub struct Part {
    /// `1250 ml`.
    pub amount: String,
    /// Its name.
    pub what: String,
}

impl Display for Part {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        write!(out, "{} {}", self.amount, self.what)
    }
}

/// A place in the tank, or several with equal film; in a plan, one roll.
#[derive(Debug, Clone)]
pub struct Place {
    /// `bottom`, `top`, `bottom to top`, or empty.
    pub end: &'static str,
    /// Counted from the bottom: `1`, `1 to 12`; empty without a load.
    pub slots: String,
    /// The roll's label, or empty.
    pub label: String,
    /// The film: `120`, `12 sheets of 4x5in`.
    pub what: String,
}

/// One step of the work.
#[derive(Debug, Clone)]
pub struct Block {
    /// Its name: `DEVELOP`.
    pub name: String,
    /// Its time: `8:43`.
    pub time: String,
    /// Its start on the evening's clock, and on the wall's clock if known: `begins 0:00`, `19:30:00`.
    pub begins: Vec<String>,
    /// Its bath and temperature; `None` for a dry step.
    pub bath: Option<String>,
    /// Its own cautions.
    pub cautions: Vec<String>,
    /// Its own notes.
    pub notes: Vec<String>,
    /// What to do, in order.
    pub lines: Vec<Line>,
    /// The reasons of its numbers.
    pub reasons: Vec<Reason>,
}

/// One thing to do.
#[derive(Debug, Clone)]
pub struct Line {
    /// The time on the step's own clock, or `first` before it starts: `8:23`.
    pub when: String,
    /// What to do.
    pub what: String,
}

/// The reason of one number.
#[derive(Debug, Clone)]
pub struct Reason {
    /// The rule: `R1`.
    pub rule: &'static str,
    /// The number: `time`.
    pub of: String,
    /// The calculation.
    pub text: String,
    /// Its lines in the files, or empty: `estuary.wet:48, 49`.
    pub places: String,
}

/// The whole evening.
#[derive(Debug, Clone)]
pub struct Total {
    /// The time of all steps but drying: `38:21`.
    pub time: String,
    /// Its end on the wall's clock, if known: `ends 21:04:00`.
    pub ends: Option<String>,
    /// Drying and water.
    pub besides: Vec<String>,
}
