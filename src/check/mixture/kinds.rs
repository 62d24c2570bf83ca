//! Lists of ingredients by what they do in a bath, and tests for kinds of solutions.

use super::Mixture;
pub(crate) use crate::chemistry::ACIDS;
use crate::chemistry::Ingredient;
use crate::model::{Item, Role, Solution, Substance};

/// Developing agents. Ferrous sulfate is among them, because it develops as ferrous oxalate.
pub(crate) const AGENTS: &[&str] = &[
    "amidol",
    "ascorbic-acid",
    "catechol",
    "colour-developing-agent",
    "ferrous-sulfate",
    "glycin",
    "hydroquinone",
    "instant-coffee",
    "metol",
    "p-aminophenol-hydrochloride",
    "p-phenylenediamine",
    "phenidone",
    "pyrogallol",
    "sodium-ascorbate",
];

/// Sulfites. They protect a developer from the air, and keep the acid of a fixer from freeing sulfur.
pub(crate) const SULFITES: &[&str] =
    &["potassium-metabisulfite", "sodium-bisulfite", "sodium-metabisulfite", "sodium-sulfite"];

pub(crate) const BISULFITES: &[&str] =
    &["potassium-metabisulfite", "sodium-bisulfite", "sodium-metabisulfite"];

pub(crate) const LYES: &[&str] = &["potassium-hydroxide", "sodium-hydroxide"];

pub(crate) const CARBONATES: &[&str] = &["potassium-carbonate", "sodium-carbonate"];

/// Alkalis that make a developer alkaline enough to work. Sulfite is not among them, because alone it is too weak.
pub(crate) const ALKALI: &[&str] = &[
    "ammonia",
    "borax",
    "potassium-carbonate",
    "potassium-hydroxide",
    "sodium-bicarbonate",
    "sodium-carbonate",
    "sodium-hydroxide",
    "sodium-metaborate",
    "trisodium-phosphate",
];

/// Aldehydes, which free hydroxide from sulfite.
pub(crate) const ALDEHYDES: &[&str] = &["formaldehyde", "paraformaldehyde"];

pub(crate) const RESTRAINERS: &[&str] =
    &["benzotriazole", "potassium-bromide", "potassium-iodide", "sodium-bromide"];

pub(crate) const BROMIDES: &[&str] = &["potassium-bromide", "sodium-bromide"];

pub(crate) const THIOSULFATES: &[&str] = &["ammonium-thiosulfate", "sodium-thiosulfate"];

pub(crate) const ALUMS: &[&str] = &["chrome-alum", "potassium-alum"];

/// Developing agents that keep without sulfite, or that published formulas have without sulfite.
pub(crate) const KEEP_ALONE: &[&str] = &[
    "ascorbic-acid",
    "catechol",
    "colour-developing-agent",
    "ferrous-sulfate",
    "instant-coffee",
    "pyrogallol",
    "sodium-ascorbate",
];

/// The least sulfite, in grams a litre, that makes a developer alkaline enough without an alkali: for metol, and for
/// phenidone as the only developing agent.
const WITH_METOL: f64 = 60.0;
const WITH_PHENIDONE: f64 = 20.0;

/// Ingredients with which a developer needs no alkali: some developing agents, and aldehydes, which free hydroxide from
/// sulfite.
const NEED_NONE: &[&str] =
    &["amidol", "ferrous-sulfate", "formaldehyde", "p-phenylenediamine", "paraformaldehyde"];

pub(crate) fn is_in(names: &[&str], name: &str) -> bool {
    names.contains(&name)
}

fn only(ingredients: &[&Ingredient], names: &[&str]) -> bool {
    !ingredients.is_empty() && ingredients.iter().all(|one| is_in(names, one.name))
}

/// Whether a solution is bath B of a two-bath developer: it has an alkali, and otherwise only sulfite or sulfate.
pub(crate) fn is_bath_b(solution: &Solution) -> bool {
    let ingredients = solution.ingredients();
    let has_alkali = ingredients.iter().any(|one| is_in(ALKALI, one.name));
    !solution.has_unlisted
        && has_alkali
        && only(&ingredients, &[ALKALI, SULFITES, &["sodium-sulfate"]].concat())
}

/// Whether all ingredients of a solution are known, and none is a developing agent. Such a developer is bath B of a
/// two-bath developer, a restrainer, or a mistake that `developer-without-agent` reports.
pub(crate) fn has_no_agent(solution: &Solution) -> bool {
    let ingredients = solution.ingredients();
    let is_other = |item: &Item| matches!(item.what, Substance::Other(_));
    let is_known = !ingredients.is_empty() && !solution.has_unlisted && !solution.items().any(is_other);
    is_known && !ingredients.iter().any(|one| is_in(AGENTS, one.name))
}

pub(crate) fn is_restrainer(solution: &Solution) -> bool {
    !solution.has_unlisted && only(&solution.ingredients(), RESTRAINERS)
}

impl Mixture<'_> {
    pub(crate) fn develops(&self) -> bool {
        matches!(self.role, Role::Developer | Role::Monobath)
    }

    pub(crate) fn fixes(&self) -> bool {
        matches!(self.role, Role::Fixer | Role::BleachFix | Role::Monobath)
    }

    /// Whether the solution has an ingredient that is not in the program's table of ingredients.
    pub(crate) fn has_other(&self) -> bool {
        let is_other = |item: &Item| matches!(item.what, Substance::Other(_));
        self.solution.has_unlisted || self.solution.items().any(is_other)
    }

    /// Whether the developer is known to lack the alkali that its developing agent needs. False if an ingredient is
    /// unknown.
    pub(crate) fn lacks_alkali(&self) -> bool {
        if !self.is_known
            || !self.develops()
            || self.leads_to_alkali
            || self.has(ALKALI)
            || self.has(NEED_NONE)
        {
            return false;
        }
        let agents = self.parts.iter().filter(|part| is_in(AGENTS, part.name())).count();
        let Some(sulfite) = self.sum(SULFITES) else { return false };
        let by_sulfite = (self.has(&["metol"]) && sulfite >= WITH_METOL)
            || (self.has(&["phenidone"]) && agents == 1 && sulfite >= WITH_PHENIDONE);
        agents > 0 && !by_sulfite
    }

    pub(crate) fn is_colour(&self) -> bool {
        self.has(&["colour-developing-agent"])
    }
}
