//! A solution: its formulas, capacity and keeping time, and its dilution.

use super::content::OwnContent;
use super::fact::Portion;
use super::keeping::Keeps;
use super::quantity::{Difference, Mass, Number, Share, Temperature, Volume, gcd};
use super::recipe::Stated;
use super::words::words;
use crate::chemistry::Ingredient;
use crate::source::Span;

/// A solution or a concentrate.
#[derive(Debug, Clone)]
pub struct Solution {
    /// The solution's name.
    pub name: String,
    /// The solution's title, or else the name.
    pub title: String,
    /// The span of the solution's header line.
    pub span: Span,
    /// The span of the whole declaration, from the header to the closing brace.
    pub extent: Span,
    /// The solution's role.
    pub role: Option<Role>,
    /// The names of the solution's bottles; empty if there is only one bottle.
    pub parts: Vec<String>,
    /// The formula of each bottle; empty if the solution is bought.
    pub formulas: Vec<Formula>,
    /// The known ingredients of a bought solution.
    pub contains: Vec<Contained>,
    /// Whether `contains` also names an ingredient that is not in the table of ingredients.
    pub has_unlisted: bool,
    /// The ingredients that a file declares because the table of ingredients lacks them, with one entry for each line
    /// or clause that names one.
    pub declared: Vec<OwnContent>,
    /// The pH of the undiluted solution.
    pub ph: Option<Stated<Number>>,
    /// The least volume from the solution's first bottle that a roll (80 square inches of film) needs.
    pub needs: Option<Stated<Volume>>,
    /// How much film a volume can treat, for each dilution.
    pub treats: Vec<Treats>,
    /// How the time in the bath grows with the rolls treated.
    pub extend: Option<Stated<Extend>>,
    /// The volume of fresh solution that replenishes the bottle after each roll.
    pub replenish: Option<Stated<Volume>>,
    /// The solution that replenishes the bottle; `None` if it is this solution.
    pub replenisher: Option<Replenisher>,
    /// The solution's temperature coefficient (R2).
    pub rate: Option<Stated<Quickening>>,
    /// How long the solution keeps after mixing, in the order of the lines.
    pub keeps: Vec<Keeps>,
    /// The solution's cautions.
    pub cautions: Vec<String>,
    /// The solution's notes, which the card shows.
    pub notes: Vec<String>,
}

impl Solution {
    /// The number of bottles in which the solution comes, at least one.
    pub fn bottles(&self) -> usize {
        self.parts.len().max(1)
    }

    /// A message about a dilution that has more or fewer parts than the solution has bottles, and what to write
    /// instead; `None` if the dilution has a part for each bottle.
    pub fn misfit(&self, dilution: &Dilution) -> Option<(String, String)> {
        let (has, given, name) = (self.bottles(), dilution.parts.len(), &self.name);
        if has == given {
            return None;
        }
        let for_parts =
            if given == 1 { "a part for only one".to_owned() } else { format!("parts for {given}") };
        if has == 1 {
            return Some((
                format!("'{name}' comes in 1 bottle, and {dilution} has {for_parts}"),
                "write one part, then the water, such as 1+9; without water: stock".to_owned(),
            ));
        }
        let ones = vec!["1"; has].join("+");
        let each: Vec<String> = self.parts.iter().map(|part| format!("one for bottle {part}")).collect();
        let each = each.join(", ").replacen("one", "a part", 1);
        Some((
            format!(
                "'{name}' comes in {has} bottles ({}), and {dilution} has {for_parts}",
                self.parts.join(", ")
            ),
            format!("write {each}, then the water, such as {ones}+10; without water: {ones} no-water"),
        ))
    }

    /// The lines of all formulas of the solution.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.formulas.iter().flat_map(|formula| &formula.items)
    }

    /// The solution's ingredients that are in the table of ingredients, each once.
    pub fn ingredients(&self) -> Vec<&'static Ingredient> {
        let mixed = self.items().filter_map(|item| match item.what {
            Substance::Known(ingredient) => Some(ingredient),
            Substance::Water | Substance::Other(_) => None,
        });
        let mut all: Vec<&'static Ingredient> = Vec::new();
        for ingredient in mixed.chain(self.contains.iter().map(|contained| contained.ingredient)) {
            if !all.iter().any(|known| known.name == ingredient.name) {
                all.push(ingredient);
            }
        }
        all
    }

    /// Whether a known ingredient makes the solution acid.
    pub fn is_acid(&self) -> bool {
        self.ingredients().iter().any(|one| one.is_acid())
    }

    /// Whether the solution is alkaline; a developer without known ingredients counts as alkaline.
    pub fn is_alkaline(&self) -> bool {
        let known = self.ingredients();
        (known.is_empty() && self.role == Some(Role::Developer)) || known.iter().any(|one| one.is_alkali())
    }

    /// Whether the solution is known to harden gelatin.
    pub fn hardens(&self) -> bool {
        self.role == Some(Role::Hardener) || self.ingredients().iter().any(|one| one.is_hardener())
    }

    /// Whether this is a fixer or bleach-fix without a stated capacity.
    pub fn is_fixer_without_capacity(&self) -> bool {
        matches!(self.role, Some(Role::Fixer | Role::BleachFix)) && self.treats.is_empty()
    }

    /// How long the solution keeps in a full bottle: the time for this dilution, or else the time for any dilution.
    pub fn keeps_at(&self, dilution: &Dilution) -> Option<&Keeps> {
        let mut full = self.keeps.iter().filter(|keeps| !keeps.half_full);
        let own = full.clone().find(|keeps| keeps.at.as_ref() == Some(dilution));
        own.or_else(|| full.find(|keeps| keeps.at.is_none()))
    }

    /// Whether the solution states a capacity for this dilution or for any dilution.
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
        /// A bath that changes the film or paper as no other role does, such as a desensitiser or a sensitiser.
        Treatment = "treatment",
    }
}

/// An ingredient of a bought solution, such as `acetic-acid 60 %`.
#[derive(Debug, Clone)]
pub struct Contained {
    /// The ingredient, from the table of ingredients.
    pub ingredient: &'static Ingredient,
    /// The ingredient's share by weight.
    pub share: Option<Share>,
    /// The ingredient's amount in each litre.
    pub per_litre: Option<Measure>,
    /// The span that states the ingredient.
    pub span: Span,
}

impl std::fmt::Display for Contained {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.ingredient.name)?;
        self.share.iter().try_for_each(|share| write!(f, " {share}"))?;
        match self.per_litre {
            Some(Measure::MassPerLitre(mass)) => write!(f, " {} g/l", mass.in_g(6)),
            Some(Measure::VolumePerLitre(volume)) => write!(f, " {} ml/l", volume.in_ml(6)),
            _ => Ok(()),
        }
    }
}

/// The formula of one bottle.
#[derive(Debug, Clone)]
pub struct Formula {
    /// The name of the bottle; `None` if the solution has only one.
    pub part: Option<String>,
    /// The volume that the formula makes.
    pub makes: Stated<Volume>,
    /// The lines of the formula, in the order of dissolving.
    pub items: Vec<Item>,
}

/// One line of a formula.
#[derive(Debug, Clone)]
pub struct Item {
    /// What the line adds: water or an ingredient.
    pub what: Substance,
    /// The amount of the substance.
    pub measure: Measure,
    /// The state of the ingredient, such as `anhydrous`.
    pub state: Option<String>,
    /// The strength of an ingredient that is sold as a solution.
    pub strength: Option<Share>,
    /// The temperature of the water, if this line is water and states it.
    pub at: Option<Temperature>,
    /// The span of the formula's line.
    pub span: Span,
}

/// The substance of a line of a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Substance {
    /// Plain water.
    Water,
    /// An ingredient from the table of ingredients.
    Known(&'static Ingredient),
    /// The name of an ingredient that is not in the table of ingredients.
    Other(String),
}

impl Substance {
    /// The name of the substance in a recipe.
    pub fn name(&self) -> &str {
        match self {
            Substance::Water => "water",
            Substance::Known(ingredient) => ingredient.name,
            Substance::Other(name) => name,
        }
    }
}

/// The amount of a substance in a formula or in a bought solution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// A mass in the volume that the formula makes.
    Mass(Mass),
    /// A volume in the volume that the formula makes.
    Volume(Volume),
    /// Enough to fill up to this volume.
    UpTo(Volume),
    /// A mass in each litre of the solution.
    MassPerLitre(Mass),
    /// A volume in each litre of the solution.
    VolumePerLitre(Volume),
}

/// A capacity, as in `treats 10 rolls per 1 l at 1+4` (R13).
#[derive(Debug, Clone)]
pub struct Treats {
    /// The number of rolls of 80 square inches.
    pub rolls: u32,
    /// The volume of working solution that treats `rolls` rolls.
    pub per: Volume,
    /// The dilution; `None` if the capacity holds at any dilution.
    pub at: Option<Dilution>,
    /// The span of the line that states the capacity.
    pub span: Span,
}

/// Compares what is stated, and ignores where the file states it.
impl PartialEq for Treats {
    fn eq(&self, other: &Treats) -> bool {
        (self.rolls, self.per, &self.at) == (other.rolls, other.per, &other.at)
    }
}

/// How the time in a used bath grows: `extend 10 % per 4 rolls` (R13).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extend {
    /// The share by which the time grows.
    pub by: Share,
    /// The number of treated rolls after which the time grows again.
    pub per_rolls: u32,
}

/// `rate 2.4 per 10 C` (R2): in a bath warmer by `interval`, the time is divided by `factor`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quickening {
    /// The factor by which the time is divided, above 1.
    pub factor: Number,
    /// The rise of temperature for which the time is divided by `factor`.
    pub interval: Difference,
}

/// The solution that replenishes the bath of another solution.
#[derive(Debug, Clone)]
pub struct Replenisher {
    /// The name of the solution, in the file that declares it.
    pub name: String,
    /// The title of the solution, or else the name.
    pub title: String,
    /// The formula of each bottle; empty if the solution is bought.
    pub formulas: Vec<Formula>,
}

impl Replenisher {
    /// The lines of all formulas, each with the number of its bottle (0 if there is only one) and its number in the
    /// formula.
    pub(super) fn portions(&self) -> impl Iterator<Item = Portion<'_>> {
        let is_one = self.formulas.len() == 1;
        let numbered = (1..).zip(&self.formulas);
        numbered.flat_map(move |(bottle, formula)| {
            let (makes, bottle) = (*formula.makes, if is_one { 0 } else { bottle });
            let lines = (1..).zip(&formula.items);
            lines.map(move |(line, item)| Portion { item, makes, place: (bottle, line) })
        })
    }
}

/// Replenishers with formulas are equal if the lines of the formulas are equal; bought ones, if their names are equal.
impl PartialEq for Replenisher {
    fn eq(&self, other: &Self) -> bool {
        let bought = |one: &Self| one.formulas.is_empty().then(|| one.name.clone());
        bought(self) == bought(other) && self.portions().eq(other.portions())
    }
}

impl Eq for Replenisher {}

/// A dilution: parts of the solution, then parts of water.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Dilution {
    /// The parts from each bottle; never empty.
    pub parts: Vec<u32>,
    /// The parts of water; 0 for undiluted stock.
    pub water: u32,
}

impl Dilution {
    /// The undiluted stock of a solution in one bottle.
    pub fn stock() -> Dilution {
        Dilution { parts: vec![1], water: 0 }
    }

    /// The sum of all parts, including the water.
    pub fn whole(&self) -> u32 {
        self.parts.iter().fold(self.water, |sum, part| sum.saturating_add(*part))
    }

    /// The same dilution in lowest terms: `1+4` for `2+8`.
    pub fn reduced(&self) -> Dilution {
        let shared = self.parts.iter().copied().fold(self.water, gcd).max(1);
        Dilution { parts: self.parts.iter().map(|part| part / shared).collect(), water: self.water / shared }
    }

    /// The parts from the first bottle; `needs` refers to that bottle.
    pub fn first(&self) -> u32 {
        *self.parts.first().expect("a dilution has a first part")
    }
}

/// As a recipe writes the dilution: `stock`, `1+4`, `1+9+40`, `1+1 no-water`.
impl std::fmt::Display for Dilution {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let parts: Vec<String> = self.parts.iter().map(u32::to_string).collect();
        match (parts.as_slice(), self.water) {
            ([_], 0) => f.write_str("stock"),
            (parts, 0) => write!(f, "{} no-water", parts.join("+")),
            (parts, water) => write!(f, "{}+{water}", parts.join("+")),
        }
    }
}
