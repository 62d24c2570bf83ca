//! What a card says, in the order it says it, and nothing of how it looks: text, page and paper draw
//! this one value, so that none of them decides or reckons anything and all of them say the same.

/// A card. Every text of it is fit to be shown: on one line, no character hidden, units in place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Card {
    /// The recipe's title.
    pub title: String,
    /// The fingerprint of the resolved recipe, eight hexadecimal digits.
    pub fingerprint: String,
    /// Film, rolls, tank, temperature and index, each as a few words.
    pub facts: Vec<String>,
    /// Doubts, to be read before anything is mixed.
    pub warnings: Vec<String>,
    /// The same warnings, each with the rule that raised it.
    pub warnings_with_rules: Vec<String>,
    /// What to have ready, in the order of use.
    pub mix: Vec<Ready>,
    /// What lies where in the tank, the bottom first.
    pub load: Vec<Place>,
    /// Until when no light may reach the film, where the recipe says so: by the lid, or for trays by the dark.
    pub lid: Option<String>,
    /// How to read the times beside the work.
    pub clock: &'static str,
    /// The steps, drying among them.
    pub work: Vec<Block>,
    /// The whole evening.
    pub total: Total,
    /// What remains to be done, each as a sentence.
    pub afterwards: Vec<String>,
    /// Cautions, the recipe's own first.
    pub cautions: Vec<String>,
    /// What overrules the card.
    pub closing: &'static str,
    /// Remarks.
    pub notes: Vec<String>,
}

/// A bath to have ready.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ready {
    /// The steps that use it: `develop`.
    pub steps: String,
    /// The bath: `MQ borax, fine grain 1+1`.
    pub bath: String,
    /// What to do: `mix 2500 ml at 21.5 °C`.
    pub how: String,
    /// The parts to measure, water last; empty where nothing is mixed.
    pub parts: Vec<Part>,
}

/// A part to measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// How much: `1250 ml`.
    pub amount: String,
    /// Of what.
    pub what: String,
}

/// One place in the tank, or a run of places that hold the like.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// `bottom`, `top`, `bottom to top`, or empty in between.
    pub end: &'static str,
    /// The place or places, counted from the bottom: `1`, `1 to 12`.
    pub slots: String,
    /// The roll's label, or empty.
    pub label: String,
    /// What lies there: `120`, `12 sheets of 4x5in`.
    pub what: String,
}

/// One step of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// Its name: `DEVELOP`.
    pub name: String,
    /// Its time: `8:43`.
    pub time: String,
    /// The evening's clock when it begins: `0:00`.
    pub begins: String,
    /// The clock on the wall then, where it is known: `19:30:00`.
    pub wall: Option<String>,
    /// What it happens in, and how warm; `None` for a dry step.
    pub bath: Option<String>,
    /// Its own cautions.
    pub cautions: Vec<String>,
    /// Its own remarks.
    pub notes: Vec<String>,
    /// What to do, in order.
    pub lines: Vec<Line>,
    /// How its numbers came about.
    pub reasons: Vec<Reason>,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// When, on the step's own clock: `8:23`; `first` for what comes before that clock starts.
    pub when: String,
    /// What.
    pub what: String,
}

/// How one number came about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    /// The rule: `R1`.
    pub rule: &'static str,
    /// The number: `time`.
    pub of: String,
    /// The reckoning.
    pub text: String,
    /// The lines it came from: `estuary.wet:48, 49`; empty where it came from none.
    pub places: String,
}

/// The whole evening.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Total {
    /// All steps but drying: `38:21`.
    pub time: String,
    /// When that is over on the wall, where it is known.
    pub wall: Option<String>,
    /// Drying and water, each as a few words.
    pub besides: Vec<String>,
}
