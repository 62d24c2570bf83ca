//! A fact of a recipe: what it is about, what it says, and whether it is work.

use std::borrow::Cow;

use super::agitation::{Knock, Motion, Pulse};
use super::quantity::{Temperature, Time, Volume};
use super::recipe::Grain;
use super::solution::Dilution;
use super::solution::{Extend, Item, Keeping, Measure, Role, Treats};
use super::step::Band;
use super::step::Use;
use super::step::{Clock, Duration, StepKind};

/// One fact of a recipe. Two facts are equal where they say the same, wherever and in whatever unit it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact<'a> {
    /// The number of its step, from 1; 0 for the recipe and its film.
    pub step: usize,
    /// What it is about.
    pub key: Key<'a>,
    /// What it says.
    pub value: Value<'a>,
    /// Whether it is work.
    pub is_work: bool,
}

/// What a fact, or a difference between two recipes, is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Key<'a> {
    /// The film, by its declared name.
    Film,
    /// The exposure index.
    Index,
    /// The film's crystals.
    Grain,
    /// The film's speed.
    Speed,
    /// How fast the film clears in that solution at that strength.
    ClearsIn(&'a str, &'a Dilution),
    /// A step, by its kind; in a difference, whether it is there.
    Step,
    /// The step's own name.
    Name,
    /// Which step it follows: of a difference.
    Order,
    /// The solution, by its declared name.
    Solution,
    /// Its dilution.
    Dilution,
    /// What becomes of the bath.
    Use,
    /// What the solution does.
    Role,
    /// The names of its bottles.
    Bottles,
    /// Whether the bottle of that number, from 0, has a formula: of a difference.
    Formula(usize),
    /// How much the formula of that bottle makes.
    Makes(usize),
    /// An ingredient of that bottle's formula.
    Item(usize, &'a str),
    /// What that ingredient is dissolved after: of a difference.
    ItemOrder(usize, &'a str),
    /// What a bought solution contains.
    Contains,
    /// How much a roll needs (R8).
    Needs,
    /// How many rolls it treats (R13).
    Treats,
    /// How the time grows with the rolls that were treated (R13).
    Extend,
    /// What is added after a roll.
    Replenish,
    /// Its temperature coefficient (R2).
    Rate,
    /// How long it keeps.
    Keeps,
    /// The time that the film clears in, for a step timed by it (R11).
    Clearing,
    /// The time; in a difference, the time at any temperature.
    Time,
    /// The time at that temperature (R1, R2): of a difference.
    TimeAt(Temperature),
    /// By which rule the time goes: of a difference.
    TimeRule,
    /// The time as it is written: of a difference.
    TimeWritten,
    /// The temperature that a time is for, where nothing is calculated from it.
    HoldsAt,
    /// The temperatures the step may have (R3).
    Band,
    /// The temperature it wants.
    OwnTemperature,
    /// When the film moves (R7).
    Agitation,
    /// How to agitate.
    Motion,
    /// How long an inversion takes.
    Inversion,
    /// When to knock the tank.
    Knock,
    /// What passes before the pour.
    Handling,
    /// The statement that light is safe from here on.
    LightSafe,
    /// What light to expose to.
    Light,
    /// Its own filling time.
    Fill,
    /// Its own draining time.
    Drain,
    /// From where its clock runs (R6).
    Clock,
    /// A caution: of a difference.
    Caution,
}

/// What a fact says, or what one side of a difference has.
#[derive(Debug, Clone, PartialEq)]
pub enum Value<'a> {
    /// It is not there, or not stated.
    Absent,
    /// It is there.
    Present,
    /// There is no time at that temperature.
    NotAtThisTemperature,
    /// After this; first where there is none.
    After(Option<String>),
    /// A kind of step.
    Step(StepKind),
    /// A declared name.
    Name(&'a str),
    /// Several names.
    Names(Vec<&'a str>),
    /// Words of the recipe.
    Words(Cow<'a, str>),
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
    /// A strength, in its lowest terms.
    Dilution(Dilution),
    /// What becomes of a bath.
    Use(Use),
    /// What a solution does.
    Role(Role),
    /// Crystals.
    Grain(Grain),
    /// A clearing time, and the temperature it was measured at.
    Clears(Time, Temperature),
    /// A line of a formula.
    Item(Portion<'a>),
    /// How far a solution goes.
    Treats(&'a [Treats]),
    /// How a time grows with the rolls that were treated.
    Extend(Extend),
    /// A factor in millionths, and the interval it is for, in 1/9000 °C.
    Rate(i64, i64),
    /// How long something keeps.
    Keeping(Keeping),
    /// A plain time, and the temperature it is calculated from.
    Plain(Time, Option<Temperature>),
    /// The duration of a step.
    Duration(&'a Duration),
    /// The temperatures a step may have.
    Band(Band),
    /// When to agitate.
    Pulse(&'a Pulse),
    /// How to agitate.
    Motion(Motion),
    /// When to knock the tank.
    Knock(Knock),
    /// From where a clock runs.
    Clock(Clock),
}

/// A line of a formula, with the volume that the formula makes. Two are equal where a litre has the same of it.
#[derive(Debug, Clone, Copy)]
pub struct Portion<'a> {
    /// The line.
    pub item: &'a Item,
    /// What its formula makes.
    pub makes: Volume,
}

impl PartialEq for Portion<'_> {
    fn eq(&self, other: &Self) -> bool {
        let rest = |portion: &Self| (portion.item.strength, portion.item.at);
        self.per_litre() == other.per_litre()
            && self.item.state == other.item.state
            && rest(self) == rest(other)
    }
}

impl Portion<'_> {
    /// Its unit, and how much a litre has of it, as a fraction in lowest terms.
    pub(super) fn per_litre(&self) -> (&'static str, i128, i64) {
        const LITRE: i64 = 1000 * Volume::ML;
        let (unit, base) = match self.item.measure {
            Measure::MassPerLitre(mass) => return ("pg", i128::from(mass.pg), 1),
            Measure::VolumePerLitre(volume) => return ("fl", i128::from(volume.fl), 1),
            Measure::Mass(mass) => ("pg", mass.pg),
            Measure::Volume(volume) => ("fl", volume.fl),
            Measure::UpTo(volume) => ("to", volume.fl),
        };
        let makes = self.makes.fl.max(1);
        let shared = common(LITRE, makes);
        let own = common(base, makes / shared);
        (unit, i128::from(base / own) * i128::from(LITRE / shared), makes / shared / own)
    }
}

/// The greatest common divisor, at least 1.
fn common(one: i64, other: i64) -> i64 {
    let (mut one, mut other) = (one, other);
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one.max(1)
}

impl Key<'_> {
    /// Whether the solution says it, and not the step.
    #[must_use]
    pub fn is_of_solution(self) -> bool {
        matches!(
            self,
            Key::Solution
                | Key::Role
                | Key::Bottles
                | Key::Makes(_)
                | Key::Item(..)
                | Key::Contains
                | Key::Needs
                | Key::Treats
                | Key::Extend
                | Key::Replenish
                | Key::Rate
                | Key::Keeps
        )
    }

    /// Its word in a canonical line and in the JSON of a comparison; the words are a promise.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Key::Film => "film",
            Key::Index => "index",
            Key::Grain => "grain",
            Key::Speed => "speed",
            Key::ClearsIn(..) | Key::Clearing => "clears",
            Key::Step => "step",
            Key::Name => "name",
            Key::Order => "order",
            Key::Solution => "solution",
            Key::Dilution => "dilution",
            Key::Use => "use",
            Key::Role => "role",
            Key::Bottles => "bottles",
            Key::Formula(_) => "formula",
            Key::Makes(_) => "formula-makes",
            Key::Item(..) => "ingredient",
            Key::ItemOrder(..) => "ingredient-order",
            Key::Contains => "contains",
            Key::Needs => "needs",
            Key::Treats => "treats",
            Key::Extend => "extend",
            Key::Replenish => "replenish",
            Key::Rate => "rate",
            Key::Keeps => "keeps",
            Key::Time => "time",
            Key::TimeAt(_) => "time-at",
            Key::TimeRule => "time-rule",
            Key::TimeWritten => "time-as-written",
            Key::HoldsAt => "holds-at",
            Key::Band => "temperatures",
            Key::OwnTemperature => "own-temperature",
            Key::Agitation => "agitation",
            Key::Motion => "motion",
            Key::Inversion => "inversion",
            Key::Knock => "knock",
            Key::Handling => "handling",
            Key::LightSafe => "light-safe",
            Key::Light => "light",
            Key::Fill => "fill",
            Key::Drain => "drain",
            Key::Clock => "clock",
            Key::Caution => "caution",
        }
    }
}
