//! A step of a recipe, with all that it inherited.

use super::agitation::Scheme;
use super::band::Band;
use super::bath::Bath;
use super::chart::Chart;
use super::quantity::{Flow, Temperature, Time};
use super::stated::Stated;
use super::words::words;
use crate::source::Span;

words! {
    /// The kinds of steps.
    pub enum StepKind {
        /// The dry tank stands in tempered water.
        Warm = "warm",
        /// Plain water before the first bath.
        Presoak = "presoak",
        /// The image comes.
        Develop = "develop",
        /// Development ends.
        Stop = "stop",
        /// What was not developed goes.
        Fix = "fix",
        /// The silver image goes, or becomes soluble.
        Bleach = "bleach",
        /// Bleach and fixer in one.
        BleachFix = "bleach-fix",
        /// A clearing bath or a wash aid.
        Clear = "clear",
        /// Water takes the chemicals out.
        Wash = "wash",
        /// The image is coloured or protected.
        Tone = "tone",
        /// Reversal: light, or a fogging bath.
        Expose = "expose",
        /// The last bath, with wetting agent or stabilizer.
        Rinse = "rinse",
        /// The tank is empty and waits.
        Rest = "rest",
        /// The film hangs.
        Dry = "dry",
    }
}

impl StepKind {
    /// Whether a bath or water stands in the tank (`expose` may go either way).
    #[must_use]
    pub fn is_wet(self) -> bool {
        !matches!(self, StepKind::Warm | StepKind::Expose | StepKind::Rest | StepKind::Dry)
    }
}

/// A step.
#[derive(Debug, Clone)]
pub struct Step {
    /// Its kind.
    pub kind: StepKind,
    /// Its own name, where it has one.
    pub name: Option<String>,
    /// Its header, in the recipe that wrote it first.
    pub span: Span,
    /// What it happens in; `None` for a dry step, and for a wet one that takes water unsaid.
    pub bath: Option<Bath>,
    /// How long it takes.
    pub duration: Stated<Duration>,
    /// The temperatures it may have; `None` where nothing says.
    pub band: Option<Stated<Band>>,
    /// The temperature it wants, where it says one.
    pub at: Option<Stated<Temperature>>,
    /// How the film moves; `None` where nothing says.
    pub agitation: Option<Stated<Scheme>>,
    /// What passes before its pour.
    pub handling: Option<Stated<Time>>,
    /// Whether light is safe from here on.
    pub light_safe: Option<Span>,
    /// A note about the light of an exposure.
    pub light: Option<Stated<String>>,
    /// Its own time to fill.
    pub fill: Option<Stated<Time>>,
    /// Its own time to drain.
    pub drain: Option<Stated<Time>>,
    /// From where its clock runs.
    pub clock: Stated<Clock>,
    /// Remarks for the card.
    pub notes: Vec<String>,
    /// Cautions of its own.
    pub cautions: Vec<String>,
}

impl Step {
    /// As people call it: its kind, and its name where it has one.
    #[must_use]
    pub fn title(&self) -> String {
        match &self.name {
            Some(name) => format!("{} {name}", self.kind.word()),
            None => self.kind.word().to_owned(),
        }
    }
}

/// How long a step takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Duration {
    /// By the temperature (R1).
    Chart(Chart),
    /// A time, which holds at a temperature where one is named (R2, R3).
    Plain {
        /// The time.
        time: Time,
        /// At which it holds.
        at: Option<Temperature>,
    },
    /// So many times the clearing time, and no less than the floor (R11).
    Clearing {
        /// How many times.
        times: u32,
        /// The floor.
        at_least: Option<Time>,
    },
    /// Each side of the film in turn, for a re-exposure.
    EachSide(Time),
    /// Changes of water, one after the other (R14).
    Changes(Vec<Change>),
    /// Running water for a time (R14).
    Flow {
        /// How much runs.
        flow: Flow,
        /// For how long.
        time: Time,
    },
}

/// One change of water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// Filled, inverted so often, drained.
    Inversions(u32),
    /// Filled, left so long, drained.
    Soak(Time),
}

words! {
    /// From where a step's clock runs (R6).
    pub enum Clock {
        /// From the first drop in; draining belongs to the time.
        FromPour = "pour",
        /// From the tank being full; filling and draining come on top.
        FromFull = "full",
    }
}
