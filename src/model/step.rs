//! A step of a recipe, with everything it inherits, and its bath.

use std::sync::Arc;

use super::agitation::Scheme;
use super::chart::Chart;
use super::quantity::{Difference, Flow, Temperature, Time};
use super::recipe::Stated;
use super::solution::{Dilution, Role, Solution};
use super::words::words;
use crate::source::Span;

words! {
    /// The kind of a step.
    pub enum StepKind {
        Warm = "warm",
        Presoak = "presoak",
        Develop = "develop",
        Stop = "stop",
        Fix = "fix",
        Bleach = "bleach",
        BleachFix = "bleach-fix",
        Clear = "clear",
        Wash = "wash",
        Tone = "tone",
        Expose = "expose",
        Rinse = "rinse",
        Rest = "rest",
        Dry = "dry",
    }
}

impl StepKind {
    /// Whether it always has a bath or water; `expose` may have one.
    pub fn is_wet(self) -> bool {
        !matches!(self, StepKind::Warm | StepKind::Expose | StepKind::Rest | StepKind::Dry)
    }
}

/// A step.
#[derive(Debug, Clone)]
pub struct Step {
    /// Its kind.
    pub kind: StepKind,
    /// Its name, if it has one.
    pub name: Option<String>,
    /// Its header, in the recipe that declares it first.
    pub span: Span,
    /// Its bath; `None` for a dry step, and for a wet step in unstated water.
    pub bath: Option<Bath>,
    /// Its duration.
    pub duration: Stated<Duration>,
    /// The temperatures it may have, if stated.
    pub band: Option<Stated<Band>>,
    /// Its temperature, if stated.
    pub at: Option<Stated<Temperature>>,
    /// Its agitation, if stated.
    pub agitation: Option<Stated<Scheme>>,
    /// The time before its pour.
    pub handling: Option<Stated<Time>>,
    /// The statement that light is safe from here on.
    pub light_safe: Option<Span>,
    /// The light of a re-exposure.
    pub light: Option<Stated<String>>,
    /// Its own filling time.
    pub fill: Option<Stated<Time>>,
    /// Its own draining time.
    pub drain: Option<Stated<Time>>,
    /// The start of its clock.
    pub clock: Stated<Clock>,
    /// Notes for the card.
    pub notes: Vec<String>,
    /// Its cautions.
    pub cautions: Vec<String>,
}

impl Step {
    /// Its kind, and its name if it has one.
    pub fn title(&self) -> String {
        match &self.name {
            Some(name) => format!("{} {name}", self.kind.word()),
            None => self.kind.word().to_owned(),
        }
    }
}

/// The duration of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Duration {
    /// By temperature (R1).
    Chart(Chart),
    /// A time, which may hold at one temperature (R2, R3).
    Plain {
        /// The time.
        time: Time,
        /// Its temperature.
        at: Option<Temperature>,
    },
    /// A multiple of the clearing time (R11).
    Clearing {
        /// The factor.
        times: u32,
        /// The least time.
        at_least: Option<Time>,
    },
    /// For each side of the film, for a re-exposure.
    EachSide(Time),
    /// Changes of water (R14).
    Changes(Vec<Change>),
    /// Running water (R14).
    Flow {
        /// The flow.
        flow: Flow,
        /// The amount each time.
        time: Time,
    },
}

/// A change of water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// Fill, invert this many times, drain.
    Inversions(u32),
    /// Fill, wait this long, drain.
    Soak(Time),
}

words! {
    /// The start of a step's clock (R6).
    pub enum Clock {
        /// From the first drop in, and the time includes draining.
        FromPour = "pour",
        /// From the tank being full, and the time includes neither filling nor draining.
        FromFull = "full",
    }
}

/// The bath of a step: `in …`.
#[derive(Debug, Clone)]
pub struct Bath {
    /// The solution; `None` for water.
    pub solution: Option<Arc<Solution>>,
    /// Its dilution; stock for water.
    pub dilution: Dilution,
    /// Its use; `None` if the recipe does not state one.
    pub reuse: Option<Use>,
    /// The span that states it.
    pub span: Span,
}

words! {
    /// What happens to a bath after the session.
    pub enum Use {
        /// Poured away.
        OneShot = "one-shot",
        /// Back into its bottle until it is spent.
        Reused = "reused",
        /// Back into its bottle, and topped up.
        Replenished = "replenished",
    }
}

impl Use {
    /// Whether the bath goes back into its bottle.
    pub fn is_kept(self) -> bool {
        self != Use::OneShot
    }
}

/// The temperatures a step may have (R3). Bounds count as inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// From the first to the second temperature.
    Between(Temperature, Temperature),
    /// At most this far from the temperature of the step.
    Within(Difference),
}

/// The least temperature of a hot bath, as in colour processes.
const HOT: Temperature = Temperature::celsius_whole(30);

impl Duration {
    /// The shortest and the longest time, if only the temperature decides.
    pub fn bounds(&self) -> Option<(Time, Time)> {
        match self {
            Duration::Chart(chart) => Some((chart.points().last()?.time, chart.points().first()?.time)),
            Duration::Plain { time, .. } => Some((*time, *time)),
            _ => None,
        }
    }
}

impl Step {
    /// Its solution; `None` for water and for a dry step.
    pub fn solution(&self) -> Option<&Arc<Solution>> {
        self.bath.as_ref()?.solution.as_ref()
    }

    /// Its bath if that goes back into its bottle.
    pub fn kept_bath(&self) -> Option<&Bath> {
        self.bath.as_ref().filter(|bath| bath.reuse.is_some_and(Use::is_kept))
    }

    /// The role of its solution.
    pub fn role(&self) -> Option<Role> {
        self.solution()?.role
    }

    /// Whether the tank holds a liquid.
    pub fn is_in_liquid(&self) -> bool {
        self.kind.is_wet() || self.bath.is_some()
    }

    /// Whether the tank holds plain water.
    pub fn is_in_water(&self) -> bool {
        self.is_in_liquid() && self.solution().is_none()
    }

    /// The lowest and the highest temperature it may have, by its temperature, its band and its chart.
    pub fn temperatures(&self) -> Option<(Temperature, Temperature)> {
        if let Some(own) = self.at {
            return Some((*own, *own));
        }
        let (holds_at, chart) = match &*self.duration {
            Duration::Plain { at, .. } => (*at, None),
            Duration::Chart(chart) => (None, chart.ends()),
            _ => (None, None),
        };
        let band = match self.band.map(|band| *band) {
            Some(Band::Between(low, high)) => Some((low, high)),
            Some(Band::Within(by)) => holds_at.map(|at| (at.minus(by), at.plus(by))),
            None => None,
        };
        match (band, chart) {
            (Some((low, high)), Some((cold, warm))) => Some((low.max(cold), high.min(warm))),
            (Some(one), None) | (None, Some(one)) => Some(one),
            (None, None) => holds_at.map(|at| (at, at)),
        }
    }

    /// Whether R2 calculates its time: it needs a coefficient, the temperature of the time, and a band between two
    /// temperatures.
    pub fn goes_by_rate(&self) -> bool {
        matches!(*self.duration, Duration::Plain { at: Some(_), .. })
            && matches!(self.band, Some(band) if matches!(*band, Band::Between(..)))
            && self.solution().is_some_and(|solution| solution.rate.is_some())
    }

    /// Whether it is always at 30 °C or warmer.
    pub fn is_hot(&self) -> bool {
        self.temperatures().is_some_and(|(low, _)| HOT <= low)
    }
}
