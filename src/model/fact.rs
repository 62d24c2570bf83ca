//! A fact of a recipe: a key, a value, and whether the fact belongs to the work that the fingerprint covers.

use std::borrow::Cow;

use super::agitation::{Knock, Pulse};
use super::quantity::{Temperature, Time, Volume, gcd};
use super::solution::{Dilution, Extend, Item, Measure, Treats};
use super::step::{Band, Clock, Duration};

/// A fact of a recipe, such as the dilution in a step. `1000 ml` and `1 l` give equal facts.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact<'a> {
    /// The number of the step, from 1; 0 for a fact of the recipe or its film.
    pub step: usize,
    /// The property that the fact states, such as the dilution.
    pub key: Key<'a>,
    /// The value that the recipe or its film has for this key.
    pub value: Value<'a>,
    /// Whether a change of the fact can change what is done in a session.
    pub is_work: bool,
}

macro_rules! keys {
    ($($(#[$doc:meta])* $variant:ident $(($($field:ty),*))? = $word:literal),* $(,)?) => {
        /// The key of a fact, or of a difference between two recipes.
        #[expect(missing_docs, reason = "a variant without a comment is named for its statement")]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Key<'a> {
            $($(#[$doc])* $variant $(($($field),*))?),*
        }

        impl Key<'_> {
            /// The word of the key in the JSON of a comparison. The word never changes.
            pub fn word(self) -> &'static str {
                match self {
                    $(Key::$variant { .. } => $word),*
                }
            }
        }
    };
}

keys! {
    /// The film, by its declared name.
    Film = "film",
    Index = "index",
    /// A test of the recipe.
    Tested = "tested",
    /// Why the recipe should no longer be used.
    Deprecated = "deprecated",
    /// Paper or a glass plate in place of film.
    Material = "material",
    BothSides = "coated-both-sides",
    Grain = "grain",
    Speed = "speed",
    /// The film's clearing time in the solution with this name at this dilution.
    ClearsIn(&'a str, &'a Dilution) = "clears",
    /// The repeated steps. The value has three numbers: those of the first and the last repeated step, counted from 1,
    /// and the number of rounds.
    Repeat = "repeat",
    /// The kind of a step; in a comparison of recipes, that the step was added or removed.
    Step = "step",
    Name = "name",
    /// The position of a step, as the name of the step before it; used only to compare recipes.
    Order = "order",
    /// The solution, by its declared name.
    Solution = "solution",
    Dilution = "dilution",
    /// The number, from 1, of the only bottle from which the bath is mixed; no fact if it is mixed from all bottles of
    /// the solution.
    Part = "part",
    /// The number, from 1, that distinguishes baths of the same solution and dilution.
    Bath = "bath",
    /// The number of the bath that this bath replaces when that bath is exhausted.
    Becomes = "becomes",
    /// The volume of the added solution in each litre of the bath.
    With = "with",
    /// The added solution, by its declared name.
    WithSolution = "with-solution",
    /// An ingredient of the added solution's formula.
    WithItem(&'a str) = "with-ingredient",
    /// The ingredient before this one in the added solution's formula; used only to compare recipes.
    WithItemOrder(&'a str) = "with-ingredient-order",
    /// The number of an earlier step, if this step uses the bath of that step again.
    Used = "used",
    Use = "use",
    Role = "role",
    Bottles = "bottles",
    /// Whether the solution's bottle with this index has a formula; used only to compare recipes.
    Formula(usize) = "formula",
    /// The volume that a bottle's formula makes.
    Makes(usize) = "formula-makes",
    /// An ingredient of a bottle's formula, by the index of the bottle and the name of the ingredient.
    Item(usize, &'a str) = "ingredient",
    /// The name of the ingredient before this one in the formula; used only to compare recipes.
    ItemOrder(usize, &'a str) = "ingredient-order",
    Contains = "contains",
    Ph = "ph",
    /// The least volume of a solution that a roll needs (R8).
    Needs = "needs",
    /// The capacity of a solution (R13).
    Treats = "treats",
    /// How the time in a used bath is extended (R13).
    Extend = "extend",
    Replenish = "replenish",
    /// The solution that replenishes the bath, by its declared name.
    Replenisher = "replenisher",
    /// An ingredient of the replenisher's formula, by the number of the bottle (0 if there is only one) and the name.
    ReplenisherItem(usize, &'a str) = "replenisher-ingredient",
    /// The ingredient before this one in the replenisher's formula; used only to compare recipes.
    ReplenisherItemOrder(usize, &'a str) = "replenisher-ingredient-order",
    /// The temperature coefficient of the solution (R2).
    Rate = "rate",
    Keeps = "keeps",
    /// The film's clearing time, if the step's time is a multiple of it (R11).
    Clearing = "clears",
    /// The time of a step; in a comparison of recipes, only a time that is the same at all temperatures.
    Time = "time",
    /// The time at a temperature (R1, R2); used only to compare recipes.
    TimeAt(Temperature) = "time-at",
    /// The rule that calculates the time; used only to compare recipes.
    TimeRule = "time-rule",
    /// The time as the recipe writes it; used only to compare recipes.
    TimeWritten = "time-as-written",
    /// The temperature for which the time is stated, if times at other temperatures are not calculated from it.
    HoldsAt = "holds-at",
    /// The allowed temperatures of the step (R3).
    Band = "temperatures",
    OwnTemperature = "own-temperature",
    /// When to agitate (R7).
    Agitation = "agitation",
    Motion = "motion",
    Inversion = "inversion",
    Knock = "knock",
    /// The time for handling the tank before the pour.
    Handling = "handling",
    /// Room light is safe from this step on.
    LightSafe = "light-safe",
    /// Darkness or a safelight from this step on; for the whole recipe, the light in which the recipe begins.
    Lighting = "lighting",
    Light = "light",
    Fill = "fill",
    Drain = "drain",
    /// The start of the step's clock (R6).
    Clock = "clock",
    /// A caution; used only to compare recipes.
    Caution = "caution",
}

/// The value of a fact, or the value that one of two compared recipes has.
#[expect(missing_docs, reason = "a variant without a comment is named for its type")]
#[derive(Debug, Clone, PartialEq)]
pub enum Value<'a> {
    Absent,
    Present,
    /// There is no time at this temperature.
    NotAtThisTemperature,
    /// The position after the step or ingredient with this name; `None` for the first position.
    After(Option<String>),
    /// A word of the language.
    Word(&'static str),
    Name(&'a str),
    Names(Vec<Cow<'a, str>>),
    /// Free text of the recipe.
    Words(Cow<'a, str>),
    Count(u32),
    Time(Time),
    Temperature(Temperature),
    Volume(Volume),
    /// A dilution in lowest terms.
    Dilution(Dilution),
    /// A clearing time, and the temperature of the fixer.
    Clears(Time, Temperature),
    Item(Portion<'a>),
    Treats(&'a [Treats]),
    Extend(Extend),
    /// A temperature coefficient: the factor in millionths, and the interval in 1/9000 °C.
    Rate(i64, i64),
    /// A fixed time, and the temperature at which it holds; `None` if no time at another temperature is calculated from
    /// it.
    Plain(Time, Option<Temperature>),
    Duration(&'a Duration),
    Band(Band),
    Pulse(&'a Pulse),
    Knock(Knock),
    Clock(Clock),
}

/// A line of a formula, and the volume that the formula makes. Two portions are equal if the substance, its state, its
/// strength, its temperature and its amount in a litre are equal.
#[derive(Debug, Clone, Copy)]
pub struct Portion<'a> {
    /// The formula's line: an ingredient and its amount.
    pub item: &'a Item,
    /// The volume that the whole formula makes.
    pub makes: Volume,
    /// The number of the bottle, and the number of the line in the bottle's formula. Bottles are counted from 1; the
    /// only bottle of a solution has the number 0.
    pub place: (usize, usize),
}

impl PartialEq for Portion<'_> {
    fn eq(&self, other: &Self) -> bool {
        let stated = |portion: &Self| (portion.per_litre(), portion.item.strength, portion.item.at);
        let is_same = self.item.what == other.item.what && self.item.state == other.item.state;
        is_same && stated(self) == stated(other)
    }
}

impl Portion<'_> {
    /// The unit (`pg` for picograms, `fl` for femtolitres, or `to` for a line that fills up to a volume), then the
    /// amount in a litre as numerator and denominator in lowest terms.
    pub(super) fn per_litre(&self) -> (&'static str, i128, i64) {
        let (unit, base) = match self.item.measure {
            Measure::MassPerLitre(mass) => return ("pg", i128::from(mass.pg), 1),
            Measure::VolumePerLitre(volume) => return ("fl", i128::from(volume.fl), 1),
            Measure::Mass(mass) => ("pg", mass.pg),
            Measure::Volume(volume) => ("fl", volume.fl),
            Measure::UpTo(volume) => ("to", volume.fl),
        };
        let makes = self.makes.fl.max(1);
        let shared = gcd(Volume::LITRE, makes).max(1);
        let own = gcd(base, makes / shared).max(1);
        (unit, i128::from(base / own) * i128::from(Volume::LITRE / shared), makes / shared / own)
    }
}

impl<'a> Key<'a> {
    /// For an ingredient of a formula: the ingredient's name, and the key for its place in the order of the formula.
    /// `None` for any other key.
    pub fn line(self) -> Option<(&'a str, Key<'a>)> {
        Some(match self {
            Key::Item(bottle, what) => (what, Key::ItemOrder(bottle, what)),
            Key::WithItem(what) => (what, Key::WithItemOrder(what)),
            Key::ReplenisherItem(bottle, what) => (what, Key::ReplenisherItemOrder(bottle, what)),
            _ => return None,
        })
    }

    /// Whether a fact with this key holds for one recipe only, so that a derived recipe does not inherit the fact.
    pub fn is_own(self) -> bool {
        matches!(self, Key::Tested | Key::Deprecated)
    }

    /// Whether a fact with this key is about the solution, not about the step.
    pub fn is_of_solution(self) -> bool {
        matches!(
            self,
            Key::Solution
                | Key::Role
                | Key::Bottles
                | Key::Makes(_)
                | Key::Item(..)
                | Key::Contains
                | Key::Ph
                | Key::Needs
                | Key::Treats
                | Key::Extend
                | Key::Replenish
                | Key::Replenisher
                | Key::ReplenisherItem(..)
                | Key::ReplenisherItemOrder(..)
                | Key::Rate
                | Key::Keeps
        )
    }
}
