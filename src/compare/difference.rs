//! A difference: where, in what, and what either side has. Every value is bare of its place in a
//! file, so that two of them are equal where the work is.

use crate::model::{
    Band, Clock, Dilution, Duration, Extend, Grain, Keeping, Knock, Measure, Motion, Pulse, Role, Share,
    Step, StepKind, Temperature, Time, Treats, Use, Volume,
};
use crate::source::{FileId, Span};

/// One difference between two recipes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// What part of the recipe it is in.
    pub place: Place,
    /// In what of it.
    pub aspect: Aspect,
    /// What the old one has.
    pub old: Value,
    /// What the new one has.
    pub new: Value,
}

/// A part of a recipe.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// The recipe itself.
    Recipe,
    /// Its film.
    Film,
    /// A step: its kind, and its name where it has one. What differs in a solution stands with the
    /// first step that takes it.
    Step(StepKind, Option<String>),
}

impl Place {
    /// The place that a step is.
    pub(super) fn of(step: &Step) -> Place {
        Place::Step(step.kind, step.name.clone())
    }
}

/// In what two recipes differ.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Aspect {
    /// The film, by name.
    Film,
    /// The exposure index.
    Index,
    /// The film's crystals.
    Grain,
    /// The film's speed.
    Speed,
    /// How fast it clears in that bath.
    Clears(String, Dilution),
    /// Whether the step is there.
    Presence,
    /// Which step it follows.
    Order,
    /// The solution, by name.
    Solution,
    /// Its strength.
    Dilution,
    /// What becomes of the bath.
    Fate,
    /// What the solution does.
    Role,
    /// The names of its bottles.
    Bottles,
    /// Whether there is a formula, of that bottle.
    Formula(Option<String>),
    /// Where that formula stands among the solution's.
    FormulaOrder(Option<String>),
    /// What the formula makes.
    Makes(Option<String>),
    /// One ingredient of a formula, of that bottle.
    Item(Option<String>, String),
    /// What that ingredient is dissolved after.
    ItemOrder(Option<String>, String),
    /// What a bought one contains.
    Contains,
    /// How much a roll needs (R8).
    Needs,
    /// How many rolls it treats (R13).
    Treats,
    /// How the time is drawn out (R13).
    Extend,
    /// What is added after a roll.
    Replenish,
    /// How its time falls with temperature (R2).
    Rate,
    /// How long it keeps.
    Keeps,
    /// The time, whatever the temperature.
    Time,
    /// The time at that temperature (R1, R2).
    TimeAt(Temperature),
    /// By which rule the time goes.
    TimeRule,
    /// The time as it is written.
    TimeWritten,
    /// The temperatures it may have (R3).
    Band,
    /// The temperature it wants.
    OwnTemperature,
    /// When the film moves (R7).
    Agitation,
    /// How it moves.
    Motion,
    /// How long an inversion takes.
    Inversion,
    /// When the tank is knocked.
    Knock,
    /// What passes before the pour.
    Handling,
    /// Whether light is safe from here on.
    LightSafe,
    /// Its own time to fill.
    Fill,
    /// Its own time to drain.
    Drain,
    /// From where its clock runs (R6).
    Clock,
    /// A caution: said, not done.
    Caution,
    /// What is said about the light of an exposure: said, not done.
    Light,
}

/// What one side has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// It is not there, or not said.
    Absent,
    /// It is there.
    Present,
    /// There is no time at that temperature.
    NotAtThisTemperature,
    /// Behind this; first where there is none.
    After(Option<String>),
    /// A name of the recipe's.
    Name(String),
    /// Several names, in their order.
    Names(Vec<String>),
    /// Words of the recipe's.
    Words(String),
    /// Plain water.
    Water,
    /// A number.
    Count(u32),
    /// A time.
    Time(Time),
    /// A temperature.
    Temperature(Temperature),
    /// A volume.
    Volume(Volume),
    /// A strength.
    Dilution(Dilution),
    /// What becomes of a bath.
    Fate(Use),
    /// What a solution does.
    Role(Role),
    /// Crystals.
    Grain(Grain),
    /// A clearing time, and the temperature it was measured at.
    Clears(Time, Temperature),
    /// A line of a formula: how much, its state, its strength, how warm.
    Item(Measure, Option<String>, Option<Share>, Option<Temperature>),
    /// How far a solution goes; the places are bare.
    Treats(Vec<Treats>),
    /// How a time is drawn out.
    Extend(Extend),
    /// A factor in millionths, and the interval it is for, in 1/9000 °C.
    Rate(i64, i64),
    /// How long something keeps.
    Keeping(Keeping),
    /// How long a step takes, as written; the places are bare.
    Duration(Duration),
    /// The temperatures a step may have.
    Band(Band),
    /// When the film moves.
    Pulse(Pulse),
    /// How it moves.
    Motion(Motion),
    /// When the tank is knocked.
    Knock(Knock),
    /// From where a clock runs.
    Clock(Clock),
}

/// No place: it stands where two values are compared and their places do not count.
pub(super) const BARE: Span = Span { file: FileId(0), start: 0, end: 0 };

impl Difference {
    /// Whether the work differs; else only what is said of it.
    #[must_use]
    pub fn is_of_the_work(&self) -> bool {
        !matches!(self.aspect, Aspect::Caution | Aspect::Light)
    }
}

impl Value {
    /// What an optional statement says.
    pub(super) fn of<T>(stated: Option<T>, value: impl FnOnce(T) -> Value) -> Value {
        stated.map_or(Value::Absent, value)
    }
}

/// The differences found so far, of one place of a recipe after the other.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub(super) all: Vec<Difference>,
}

impl Found {
    /// Tells of it if the two sides are not equal.
    pub(super) fn unless_equal(&mut self, place: &Place, aspect: Aspect, old: Value, new: Value) {
        if old != new {
            self.tell(place, aspect, old, new);
        }
    }

    /// Tells of it. What moved is told also where both things that it follows are called the same.
    pub(super) fn tell(&mut self, place: &Place, aspect: Aspect, old: Value, new: Value) {
        self.all.push(Difference { place: place.clone(), aspect, old, new });
    }
}
