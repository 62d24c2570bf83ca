//! A solution: what it is for, what is in it, how far it goes and how long it keeps.

use super::dilution::Dilution;
use super::quantity::{Difference, Mass, Number, Share, Temperature, Volume};
use super::stated::Stated;
use super::words::words;
use crate::chemistry::Ingredient;
use crate::source::Span;

/// A solution or a concentrate.
#[derive(Debug, Clone)]
pub struct Solution {
    /// Its name as declared, without a prefix.
    pub name: String,
    /// Its title, or its name where it has none.
    pub title: String,
    /// Its declaration's header.
    pub span: Span,
    /// The whole declaration, header and block.
    pub extent: Span,
    /// What it does to the film.
    pub role: Option<Role>,
    /// The names of its bottles, where it comes in several; else empty.
    pub parts: Vec<String>,
    /// How it is made, one formula a bottle; empty for a bought one.
    pub formulas: Vec<Formula>,
    /// What a bought one contains.
    pub contains: Vec<&'static Ingredient>,
    /// Of the first part, for one roll (80 square inches).
    pub needs: Option<Stated<Volume>>,
    /// How many rolls a volume of it treats.
    pub treats: Vec<Treats>,
    /// How the time is drawn out as rolls go through.
    pub extend: Option<Stated<Extend>>,
    /// What is added after each roll.
    pub replenish: Option<Stated<Volume>>,
    /// How its time falls with temperature (R2).
    pub rate: Option<Stated<Quickening>>,
    /// How long it keeps, mixed.
    pub keeps: Option<Stated<Keeping>>,
    /// Where it is from.
    pub sources: Vec<String>,
    /// Cautions of its own.
    pub cautions: Vec<String>,
    /// Remarks for the card.
    pub notes: Vec<String>,
}

impl Solution {
    /// How many bottles it comes in, at least one.
    #[must_use]
    pub fn bottles(&self) -> usize {
        self.parts.len().max(1)
    }

    /// All that is known to be in it, each once.
    #[must_use]
    pub fn ingredients(&self) -> Vec<&'static Ingredient> {
        let items = self.formulas.iter().flat_map(|formula| &formula.items);
        let mixed = items.filter_map(|item| match item.what {
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

    /// The names of what a bought one contains, in the order of the alphabet and not of the text.
    #[must_use]
    pub fn contains_in_order(&self) -> Vec<&'static str> {
        let mut all: Vec<&'static str> = self.contains.iter().map(|ingredient| ingredient.name).collect();
        all.sort_unstable();
        all
    }

    /// Whether it is known to hold an acid.
    #[must_use]
    pub fn is_acid(&self) -> bool {
        self.ingredients().iter().any(|ingredient| ingredient.is_acid())
    }

    /// Whether it holds an alkali. A developer of which nothing is known counts: hardly one is without.
    #[must_use]
    pub fn is_alkaline(&self) -> bool {
        let known = self.ingredients();
        let unknown = known.is_empty() && self.role == Some(Role::Developer);
        unknown || known.iter().any(|ingredient| ingredient.is_alkali())
    }

    /// Whether it is known to harden gelatin.
    #[must_use]
    pub fn hardens(&self) -> bool {
        self.role == Some(Role::Hardener) || self.ingredients().iter().any(|one| one.is_hardener())
    }

    /// Whether it says how many rolls it treats at that strength.
    #[must_use]
    pub fn has_capacity_at(&self, dilution: &Dilution) -> bool {
        self.treats.iter().any(|treats| treats.at.as_ref().is_none_or(|at| at == dilution))
    }
}

words! {
    /// What a solution does to the film.
    pub enum Role {
        /// Brings out the image.
        Developer = "developer",
        /// Brings out the image and fixes it.
        Monobath = "monobath",
        /// Ends development.
        Stop = "stop",
        /// Takes out what was not developed.
        Fixer = "fixer",
        /// Takes out the developed silver, or makes it soluble.
        Bleach = "bleach",
        /// Both at once.
        BleachFix = "bleach-fix",
        /// Clears a stain, or helps the wash.
        Clearing = "clearing",
        /// Colours or protects the image.
        Toner = "toner",
        /// Fogs for reversal, in place of light.
        Fogging = "fogging",
        /// Makes the dyes last.
        Stabilizer = "stabilizer",
        /// Makes the water run off evenly.
        Wetting = "wetting",
        /// Hardens the gelatin.
        Hardener = "hardener",
    }
}

/// How one bottle is made.
#[derive(Debug, Clone)]
pub struct Formula {
    /// Which of the `parts`; `None` where there is one bottle.
    pub part: Option<String>,
    /// What it makes.
    pub makes: Stated<Volume>,
    /// In the order of dissolving.
    pub items: Vec<Item>,
}

/// One line of a formula.
#[derive(Debug, Clone)]
pub struct Item {
    /// What it is.
    pub what: Substance,
    /// How much.
    pub measure: Measure,
    /// The state it is given in, as `anhydrous`.
    pub state: Option<String>,
    /// Its strength, for what is sold as a solution.
    pub strength: Option<Share>,
    /// How warm, for water.
    pub at: Option<Temperature>,
    /// Where it says so.
    pub span: Span,
}

/// What a line of a formula is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Substance {
    /// Plain water.
    Water,
    /// An ingredient of the table.
    Known(&'static Ingredient),
    /// Something that the table does not have: its hazards are not known here.
    Other(String),
}

impl Substance {
    /// Its name: `water`, or as the table or the formula has it.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Substance::Water => "water",
            Substance::Known(ingredient) => ingredient.name,
            Substance::Other(name) => name,
        }
    }
}

/// How much of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// So much weight.
    Mass(Mass),
    /// So much volume.
    Volume(Volume),
    /// Up to this volume.
    UpTo(Volume),
    /// So much weight in each litre.
    MassPerLitre(Mass),
    /// So much volume in each litre.
    VolumePerLitre(Volume),
}

/// `treats 10 rolls per 1 l at 1+4` (R13).
#[derive(Debug, Clone)]
pub struct Treats {
    /// Rolls of 80 square inches.
    pub rolls: u32,
    /// In this much working solution.
    pub per: Volume,
    /// Of this strength; `None` for any.
    pub at: Option<Dilution>,
    /// Where it says so.
    pub span: Span,
}

/// Wherever they are written.
impl PartialEq for Treats {
    fn eq(&self, other: &Treats) -> bool {
        (self.rolls, self.per, &self.at) == (other.rolls, other.per, &other.at)
    }
}

/// `extend 10 % per 4 rolls` (R13).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extend {
    /// By this share of the time
    pub by: Share,
    /// for each whole number of so many rolls.
    pub per_rolls: u32,
}

/// `rate 2.4 per 10 C` (R2): the time is divided by `factor` for each `interval` warmer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quickening {
    /// The factor, above 1.
    pub factor: Number,
    /// The interval.
    pub interval: Difference,
}

/// How long something keeps, in the unit it was given in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keeping {
    /// How many.
    pub count: u32,
    /// Of what.
    pub unit: KeepingUnit,
}

/// The units of keeping.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeepingUnit {
    /// days
    Days,
    /// weeks
    Weeks,
    /// months of the calendar
    Months,
    /// years
    Years,
}

impl std::fmt::Display for Keeping {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let unit = match self.unit {
            KeepingUnit::Days => "days",
            KeepingUnit::Weeks => "weeks",
            KeepingUnit::Months => "months",
            KeepingUnit::Years => "years",
        };
        write!(f, "{} {unit}", self.count)
    }
}
