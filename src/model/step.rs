//! A step of a recipe, including everything inherited, and the bath of the step.

use std::sync::Arc;

use super::agitation::Scheme;
use super::chart::Chart;
use super::quantity::{Difference, Flow, Number, Temperature, Time, Volume};
use super::recipe::{Lighting, Stated};
use super::solution::{Dilution, Role, Solution};
use super::trial::RestsOn;
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
        Coat = "coat",
        Expose = "expose",
        Rinse = "rinse",
        Rest = "rest",
        Dry = "dry",
    }
}

impl StepKind {
    /// Whether a step of this kind is always in a bath or in water. An `expose` step may be dry or wet.
    pub fn is_wet(self) -> bool {
        !matches!(self, StepKind::Warm | StepKind::Coat | StepKind::Expose | StepKind::Rest | StepKind::Dry)
    }

    /// Whether a step of this kind in this solution cannot be done outside the allowed temperatures: a development, a
    /// bleach-fix, or a chemical bath of a hot process. A wash, a stop or a fixer only works more slowly.
    pub fn needs_its_temperature(self, solution: Option<&Solution>, band: Option<&Band>) -> bool {
        let is_hot = matches!(band, Some(Band::Between(low, _)) if HOT <= *low);
        matches!(self, StepKind::Develop | StepKind::BleachFix)
            || solution.is_some_and(|solution| is_hot || solution.role == Some(Role::BleachFix))
    }
}

/// A step of a recipe.
#[derive(Debug, Clone)]
pub struct Step {
    /// The kind of step.
    pub kind: StepKind,
    /// The step's name, if it has one.
    pub name: Option<String>,
    /// The round of a repeated step, counted from 1, and the number of rounds; `None` before the rounds are written
    /// out, and for a step that is not repeated.
    pub round: Option<(u32, u32)>,
    /// The span of the step's header line, in the recipe that first declares the step.
    pub span: Span,
    /// The bath; `None` for a dry step, and for a step in water that states no bath.
    pub bath: Option<Bath>,
    /// The duration of the step.
    pub duration: Stated<Duration>,
    /// The trial by which the duration was calculated or chosen, if any.
    pub rests_on: Option<RestsOn>,
    /// The allowed temperatures of the step, if stated.
    pub band: Option<Stated<Band>>,
    /// The temperature of the step, if stated.
    pub at: Option<Stated<Temperature>>,
    /// The agitation of the film, if stated.
    pub agitation: Option<Stated<Scheme>>,
    /// The time for handling before the pour of the step, if stated.
    pub handling: Option<Stated<Time>>,
    /// The light in the room from this step on, if the step changes it.
    pub lighting: Option<Stated<Lighting>>,
    /// The light of an exposure, such as an enlarger, or a lamp for the re-exposure in reversal.
    pub light: Option<Stated<String>>,
    /// The time to fill the tank, if the step states one.
    pub fill: Option<Stated<Time>>,
    /// The time to drain the tank, if the step states one.
    pub drain: Option<Stated<Time>>,
    /// The moment at which the clock of the step starts: with the pour, or when the tank is full.
    pub clock: Stated<Clock>,
    /// The step's notes, which the card shows.
    pub notes: Vec<String>,
    /// The step's cautions.
    pub cautions: Vec<String>,
}

impl Step {
    /// The kind of the step, and the step's name if it has one.
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
    /// The time is not stated. Only a step of a recipe without a film may have no time; a recipe that derives from that
    /// recipe states the time.
    Open,
    /// A chart of times by temperature (R1).
    Chart(Chart),
    /// One time, perhaps with the temperature at which this time holds (R2, R3).
    Plain {
        /// The time of the step.
        time: Time,
        /// The temperature at which the time holds.
        at: Option<Temperature>,
    },
    /// A multiple of the film's clearing time (R11).
    Clearing {
        /// The factor by which the clearing time is multiplied.
        times: Number,
        /// The shortest allowed time.
        at_least: Option<Time>,
        /// The longest allowed time.
        at_most: Option<Time>,
    },
    /// A person ends the step at a sign (R18).
    Sign(Sign),
    /// The time of a re-exposure for each side of the film.
    EachSide(Time),
    /// A wash in several fillings of the tank (R14).
    Changes(Vec<Change>),
    /// A wash in running water (R14).
    Flow {
        /// The flow of the water.
        flow: Flow,
        /// How long the water runs.
        time: Time,
    },
}

/// The sign at which a person ends a step (R18).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sign {
    /// What the person sees, such as `the deepest shadow turns black`.
    pub text: String,
    /// The step's whole time as a multiple of the time to the sign; `None` if the step ends at the sign.
    pub times: Option<Number>,
    /// The shortest time of the step.
    pub at_least: Option<Time>,
    /// The longest time of the step.
    pub at_most: Time,
    /// How often to look for the sign that ends the step; `None` if it is not stated.
    pub look: Option<Time>,
    /// The flow of the water, in a wash in running water.
    pub flow: Option<Flow>,
}

/// One filling of the tank in a wash.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// Fill the tank, invert it this many times, drain it.
    Inversions(u32),
    /// Fill the tank, wait this long, drain it.
    Soak(Time),
}

words! {
    /// The start of a step's clock (R6).
    pub enum Clock {
        /// The clock starts as the pour begins. The time includes filling and draining.
        FromPour = "pour",
        /// The clock starts when the tank is full. The time excludes filling and draining.
        FromFull = "full",
    }
}

/// A step's bath, stated by `in …`.
#[derive(Debug, Clone)]
pub struct Bath {
    /// The solution; `None` for water.
    pub solution: Option<Arc<Solution>>,
    /// The name of the bottle from which the bath is mixed; `None` if it is mixed from all bottles of the solution.
    pub part: Option<String>,
    /// The dilution of the solution; for water, the dilution `stock`.
    pub dilution: Dilution,
    /// The name that distinguishes the bath from other baths of this solution and dilution.
    pub name: Option<String>,
    /// What happens to the bath after the session; `None` if the recipe does not say.
    pub reuse: Option<Use>,
    /// The name of the bath that this bath replaces when that bath is exhausted.
    pub becomes: Option<String>,
    /// The solution that is added to the bath.
    pub added: Option<Addition>,
    /// The index of an earlier step, if this step uses the bath of that step again.
    pub used: Option<usize>,
    /// The span of the statement `in`.
    pub span: Span,
}

/// A second solution in a bath: `with 300 ml/l old-brown`.
#[derive(Debug, Clone)]
pub struct Addition {
    /// The solution, undiluted, from its only bottle.
    pub solution: Arc<Solution>,
    /// The volume of this solution in each litre of the bath: above 0 and less than a litre.
    pub per_litre: Volume,
    /// The share of this solution in the bath, written as a dilution with water.
    pub dilution: Dilution,
    /// The span of the statement `with`.
    pub span: Span,
}

impl Bath {
    /// The volume of the added solution in this volume of the bath.
    pub fn added_in(&self, volume: Volume) -> Volume {
        self.added.as_ref().map_or(Volume::ZERO, |added| volume.scaled(added.per_litre.fl, Volume::LITRE))
    }

    /// How much of this volume of the bath is not the added solution.
    pub fn own_in(&self, volume: Volume) -> Volume {
        volume - self.added_in(volume)
    }

    /// The volume of the whole bath, if `own` is the volume without the added solution.
    pub fn whole_for(&self, own: Volume) -> Volume {
        let added = self.added.as_ref().map_or(0, |added| added.per_litre.fl);
        own.scaled(Volume::LITRE, Volume::LITRE.saturating_sub(added))
    }

    /// Whether both baths have the same contents: the same solution (or bottle of it), dilution and addition.
    pub fn has_contents_of(&self, other: &Bath) -> bool {
        let solution = |bath: &Bath| bath.solution.as_ref().map(|solution| solution.span);
        let added = |bath: &Bath| bath.added.as_ref().map(|added| (added.solution.span, added.per_litre));
        solution(self) == solution(other)
            && added(self) == added(other)
            && self.part == other.part
            && self.dilution.reduced() == other.dilution.reduced()
    }

    /// The index of the bottle that the bath is mixed from, if it is mixed from only one of several.
    pub fn bottle(&self) -> Option<usize> {
        let part = self.part.as_ref()?;
        self.solution.as_ref()?.parts.iter().position(|own| own == part)
    }
}

words! {
    /// What happens to a bath after the session.
    pub enum Use {
        /// The bath is poured away.
        OneShot = "one-shot",
        /// The bath goes back into its bottle until it is exhausted.
        Reused = "reused",
        /// The bath goes back into its bottle, which is topped up with fresh solution.
        Replenished = "replenished",
    }
}

impl Use {
    /// Whether a bath with this use goes back into its bottle.
    pub fn is_kept(self) -> bool {
        self != Use::OneShot
    }
}

/// The allowed temperatures of a step (R3), including both bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// From the first to the second temperature.
    Between(Temperature, Temperature),
    /// At most this far from the temperature at which the time holds.
    Within(Difference),
}

/// The greatest difference between the temperatures of two steps that does not count as a jump: 4 °C.
const JUMP_MAX: Difference = Difference { base: 4 * 9000 };

/// The lowest temperature of a hot bath, as in colour processes.
const HOT: Temperature = Temperature::celsius_whole(30);

impl Duration {
    /// The shortest and the longest time of a step whose time is fixed or depends on the temperature; else `None`. A
    /// step that ends at a sign counts with its longest time, because the time to the sign is not known.
    pub fn bounds(&self) -> Option<(Time, Time)> {
        match self {
            Duration::Chart(chart) => Some((chart.points().last()?.time, chart.points().first()?.time)),
            Duration::Plain { time, .. } => Some((*time, *time)),
            Duration::Sign(sign) => Some((sign.at_most, sign.at_most)),
            _ => None,
        }
    }

    /// The flow of running water; `None` if the water does not run.
    pub fn flow(&self) -> Option<Flow> {
        match self {
            Duration::Flow { flow, .. } => Some(*flow),
            Duration::Sign(sign) => sign.flow,
            _ => None,
        }
    }
}

impl Step {
    /// The solution of the step; `None` for water and for a dry step.
    pub fn solution(&self) -> Option<&Arc<Solution>> {
        self.bath.as_ref()?.solution.as_ref()
    }

    /// The solution of the step's bath, and the solution that is added to that bath.
    pub fn solutions(&self) -> impl Iterator<Item = &Arc<Solution>> {
        let added = self.bath.as_ref().and_then(|bath| bath.added.as_ref());
        self.solution().into_iter().chain(added.map(|added| &added.solution))
    }

    /// The bath of the step, if it goes back into its bottle.
    pub fn kept_bath(&self) -> Option<&Bath> {
        self.bath.as_ref().filter(|bath| bath.reuse.is_some_and(Use::is_kept))
    }

    /// Where the step states room light, if it does.
    pub fn room_light(&self) -> Option<Span> {
        self.lighting
            .as_ref()
            .filter(|lighting| lighting.value == Lighting::Room)
            .map(|lighting| lighting.span)
    }

    /// The role of the step's solution; `None` for water and for a dry step.
    pub fn role(&self) -> Option<Role> {
        self.solution()?.role
    }

    /// Whether the tank holds a liquid during the step. A coat is brushed on, without a tank.
    pub fn is_in_liquid(&self) -> bool {
        self.kind.is_wet() || (self.bath.is_some() && self.kind != StepKind::Coat)
    }

    /// Whether the tank holds plain water during the step.
    pub fn is_in_water(&self) -> bool {
        self.is_in_liquid() && self.solution().is_none()
    }

    /// The lowest and the highest allowed temperature, given by the step's `at`, temperature band and chart; `None` if
    /// nothing limits the temperature.
    pub fn temperatures(&self) -> Option<(Temperature, Temperature)> {
        if let Some(own) = self.at {
            return Some((*own, *own));
        }
        let (holds_at, chart) = match &*self.duration {
            Duration::Plain { at, .. } => (*at, None),
            Duration::Chart(chart) => (None, chart.ends()),
            _ => (None, None),
        };
        let band = self.band.and_then(|band| match *band {
            Band::Between(low, high) => Some((low, high)),
            Band::Within(by) => holds_at.map(|at| (at.minus(by), at.plus(by))),
        });
        match (band, chart) {
            (Some((low, high)), Some((cold, warm))) => Some((low.max(cold), high.min(warm))),
            (band, chart) => band.or(chart).or(holds_at.map(|at| (at, at))),
        }
    }

    /// The two nearest temperatures, one allowed in this step and one allowed in the next step, if these two are more
    /// than 4 °C apart (common practice, no source).
    pub fn jump_to(&self, next: &Step) -> Option<(Temperature, Temperature)> {
        let ((low, high), (next_low, next_high)) = self.temperatures().zip(next.temperatures())?;
        let (from, to) = if high < next_low { (high, next_low) } else { (low, next_high) };
        let is_apart = high < next_low || next_high < low;
        (is_apart && from.apart(to) > JUMP_MAX).then_some((from, to))
    }

    /// Whether the step's time at other temperatures is calculated by the solution's temperature coefficient (R2). This
    /// needs the coefficient, the temperature at which the stated time holds, and a lowest and a highest allowed
    /// temperature.
    pub fn goes_by_rate(&self) -> bool {
        matches!(*self.duration, Duration::Plain { at: Some(_), .. })
            && matches!(self.band.as_deref(), Some(Band::Between(..)))
            && self.solution().is_some_and(|solution| solution.rate.is_some())
    }

    /// Whether the step cannot be done outside its allowed temperatures.
    pub fn needs_its_temperature(&self) -> bool {
        self.kind.needs_its_temperature(self.solution().map(|solution| &**solution), self.band.as_deref())
    }

    /// Whether the step is always at 30 °C or warmer.
    pub fn is_hot(&self) -> bool {
        self.temperatures().is_some_and(|(low, _)| HOT <= low)
    }
}
