//! A solution: its formulas, capacity and keeping time, and its dilution.

use super::quantity::{Difference, Mass, Number, Share, Temperature, Volume, gcd};
use super::recipe::Stated;
use super::words::words;
use crate::chemistry::Ingredient;
use crate::source::Span;

/// A solution or a concentrate.
#[derive(Debug, Clone)]
pub struct Solution {
    /// Its name.
    pub name: String,
    /// Its title, or its name if it has none.
    pub title: String,
    /// Its header.
    pub span: Span,
    /// The whole declaration.
    pub extent: Span,
    /// Its role.
    pub role: Option<Role>,
    /// The names of its bottles; empty if it has one.
    pub parts: Vec<String>,
    /// The formulas of its bottles; empty if it is bought.
    pub formulas: Vec<Formula>,
    /// The ingredients of a bought one.
    pub contains: Vec<&'static Ingredient>,
    /// The least volume of the first part for one roll (80 square inches).
    pub needs: Option<Stated<Volume>>,
    /// Its capacities.
    pub treats: Vec<Treats>,
    /// How its time is extended as rolls are treated.
    pub extend: Option<Stated<Extend>>,
    /// The volume to add after each roll.
    pub replenish: Option<Stated<Volume>>,
    /// Its temperature coefficient (R2).
    pub rate: Option<Stated<Quickening>>,
    /// How long it keeps once mixed.
    pub keeps: Option<Stated<Keeping>>,
    /// Its cautions.
    pub cautions: Vec<String>,
    /// Notes for the card.
    pub notes: Vec<String>,
}

impl Solution {
    /// The number of its bottles, at least one.
    pub fn bottles(&self) -> usize {
        self.parts.len().max(1)
    }

    /// The lines of all its formulas.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.formulas.iter().flat_map(|formula| &formula.items)
    }

    /// All known ingredients, each once.
    pub fn ingredients(&self) -> Vec<&'static Ingredient> {
        let mixed = self.items().filter_map(|item| match item.what {
            Substance::Known(ingredient) => Some(ingredient),
            Substance::Water | Substance::Other(_) => None,
        });
        let mut all: Vec<&'static Ingredient> = Vec::new();
        for ingredient in mixed.chain(self.contains.iter().copied()) {
            if !all.iter().any(|known| known.name == ingredient.name) {
                all.push(ingredient);
            }
        }
        all
    }

    /// The names of `contains`, sorted.
    pub fn contains_in_order(&self) -> Vec<&'static str> {
        let mut all: Vec<&'static str> = self.contains.iter().map(|ingredient| ingredient.name).collect();
        all.sort_unstable();
        all
    }

    /// Whether it is known to contain an acid.
    pub fn is_acid(&self) -> bool {
        self.ingredients().iter().any(|ingredient| ingredient.is_acid())
    }

    /// Whether it contains an alkali. A developer with unknown ingredients counts as alkaline.
    pub fn is_alkaline(&self) -> bool {
        let known = self.ingredients();
        let unknown = known.is_empty() && self.role == Some(Role::Developer);
        unknown || known.iter().any(|ingredient| ingredient.is_alkali())
    }

    /// Whether it is known to harden gelatin.
    pub fn hardens(&self) -> bool {
        self.role == Some(Role::Hardener) || self.ingredients().iter().any(|one| one.is_hardener())
    }

    /// Whether it is a fixer or bleach-fix without a capacity.
    pub fn is_fixer_without_capacity(&self) -> bool {
        matches!(self.role, Some(Role::Fixer | Role::BleachFix)) && self.treats.is_empty()
    }

    /// Whether it states a capacity at this dilution.
    pub fn has_capacity_at(&self, dilution: &Dilution) -> bool {
        self.treats.iter().any(|treats| treats.at.as_ref().is_none_or(|at| at == dilution))
    }
}

words! {
    /// What a solution does to the film.
    pub enum Role {
        Developer = "developer",
        Monobath = "monobath",
        Stop = "stop",
        Fixer = "fixer",
        Bleach = "bleach",
        BleachFix = "bleach-fix",
        Clearing = "clearing",
        Toner = "toner",
        Fogging = "fogging",
        Stabilizer = "stabilizer",
        Wetting = "wetting",
        Hardener = "hardener",
    }
}

/// The formula of one bottle.
#[derive(Debug, Clone)]
pub struct Formula {
    /// Its part; `None` if there is one bottle.
    pub part: Option<String>,
    /// The volume it makes.
    pub makes: Stated<Volume>,
    /// Its lines, in the order of dissolving.
    pub items: Vec<Item>,
}

/// One line of a formula.
#[derive(Debug, Clone)]
pub struct Item {
    /// What it is.
    pub what: Substance,
    /// The amount.
    pub measure: Measure,
    /// The state, such as `anhydrous`.
    pub state: Option<String>,
    /// Its strength, for an ingredient sold as a solution.
    pub strength: Option<Share>,
    /// The temperature of water.
    pub at: Option<Temperature>,
    /// The span that states it.
    pub span: Span,
}

/// The substance of a line of a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Substance {
    /// Plain water.
    Water,
    /// A known ingredient.
    Known(&'static Ingredient),
    /// An unknown ingredient, whose hazards are unknown.
    Other(String),
}

impl Substance {
    /// Its name.
    pub fn name(&self) -> &str {
        match self {
            Substance::Water => "water",
            Substance::Known(ingredient) => ingredient.name,
            Substance::Other(name) => name,
        }
    }
}

/// An amount of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// A mass.
    Mass(Mass),
    /// A volume.
    Volume(Volume),
    /// Up to a volume.
    UpTo(Volume),
    /// A mass in each litre.
    MassPerLitre(Mass),
    /// A volume in each litre.
    VolumePerLitre(Volume),
}

/// `treats 10 rolls per 1 l at 1+4` (R13).
#[derive(Debug, Clone)]
pub struct Treats {
    /// Rolls of 80 square inches.
    pub rolls: u32,
    /// The volume of working solution.
    pub per: Volume,
    /// The dilution; `None` for any.
    pub at: Option<Dilution>,
    /// The span that states it.
    pub span: Span,
}

/// Spans are ignored.
impl PartialEq for Treats {
    fn eq(&self, other: &Treats) -> bool {
        (self.rolls, self.per, &self.at) == (other.rolls, other.per, &other.at)
    }
}

/// `extend 10 % per 4 rolls` (R13).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extend {
    /// The share of the time.
    pub by: Share,
    /// The number of rolls that each share is for.
    pub per_rolls: u32,
}

/// `rate 2.4 per 10 C` (R2): each `interval` warmer divides the time by `factor`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quickening {
    /// The factor, above 1.
    pub factor: Number,
    /// The interval.
    pub interval: Difference,
}

/// A keeping time, in the unit that the file states.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keeping {
    /// The number.
    pub count: u32,
    /// The format.
    pub unit: KeepingUnit,
}

words! {
    /// The units of keeping.
    pub enum KeepingUnit {
        Days = "days",
        Weeks = "weeks",
        /// Months of the calendar.
        Months = "months",
        Years = "years",
    }
}

impl std::fmt::Display for Keeping {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.count, self.unit.word())
    }
}

/// A dilution: parts of the solution, then parts of water.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Dilution {
    /// A number of parts for each bottle; never empty.
    pub parts: Vec<u32>,
    /// Parts of water; 0 for stock.
    pub water: u32,
}

impl Dilution {
    /// Undiluted.
    pub fn stock() -> Dilution {
        Dilution { parts: vec![1], water: 0 }
    }

    /// The sum of all parts.
    pub fn whole(&self) -> u32 {
        self.parts.iter().fold(self.water, |sum, part| sum.saturating_add(*part))
    }

    /// The same dilution in lowest terms: `1+4` for `2+8`.
    pub fn reduced(&self) -> Dilution {
        let shared = self.parts.iter().copied().fold(self.water, gcd).max(1);
        Dilution { parts: self.parts.iter().map(|part| part / shared).collect(), water: self.water / shared }
    }

    /// The parts of the first bottle, which `needs` refers to.
    pub fn first(&self) -> u32 {
        *self.parts.first().expect("a dilution has a first part")
    }
}

/// `stock`, `1+4`, `1+9+40`, `1+1 no-water`.
impl std::fmt::Display for Dilution {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.parts.len() == 1 && self.water == 0 {
            return f.write_str("stock");
        }
        let parts: Vec<String> = self.parts.iter().map(u32::to_string).collect();
        if self.water == 0 {
            write!(f, "{} no-water", parts.join("+"))
        } else {
            write!(f, "{}+{}", parts.join("+"), self.water)
        }
    }
}
