//! The amounts of ingredients in a solution, as mixed and as diluted for use. The rules about amounts and combinations
//! of ingredients check them.

mod kinds;
mod ranges;

use std::sync::Arc;

use crate::chemistry::Ingredient;
use crate::model::{
    Concentration, Content, Dilution, Recipe, Role, Solution, Step, StepKind, Substance, Volume,
};
use crate::source::{Map, Span};

pub(super) use kinds::*;
pub(super) use ranges::{Odd, limits};

#[derive(Debug, Default, Clone)]
pub(super) struct Uses<'a> {
    dilutions: Vec<&'a Dilution>,
    /// Whether in some recipe a development in this solution is, or may be, directly followed by a development in an
    /// alkali, as in a two-bath developer.
    leads_to_alkali: bool,
}

/// How the recipes use each solution. The key is the address of the solution. Each recipe comes with a flag, true if it
/// has no errors. In a recipe with errors, every development counts as followed by an alkali, since
/// that step may be one with an error.
pub(super) fn uses<'a>(recipes: impl Iterator<Item = (&'a Recipe, bool)>) -> Map<*const Solution, Uses<'a>> {
    let mut all: Map<*const Solution, Uses<'_>> = Map::new();
    for (recipe, is_sound) in recipes {
        let liquid = || recipe.steps.iter().filter(|step| step.is_in_liquid());
        let next = liquid().skip(1).map(Some).chain([None]);
        for (step, next) in liquid().zip(next) {
            let Some((bath, solution)) = step.bath.as_ref().zip(step.solution()) else { continue };
            if let Some(added) = &bath.added {
                let uses = all.value_of(Arc::as_ptr(&added.solution));
                if !uses.dilutions.contains(&&added.dilution) {
                    uses.dilutions.push(&added.dilution);
                }
            }
            let uses = all.value_of(Arc::as_ptr(solution));
            if !uses.dilutions.contains(&&bath.dilution) {
                uses.dilutions.push(&bath.dilution);
            }
            let leads_to_alkali = !is_sound || next.is_some_and(is_in_alkali);
            uses.leads_to_alkali |= step.kind == StepKind::Develop && leads_to_alkali;
        }
    }
    all
}

fn is_in_alkali(step: &Step) -> bool {
    let holds = |solution: &Arc<Solution>| solution.ingredients().iter().any(|one| is_in(ALKALI, one.name));
    step.kind == StepKind::Develop
        && step.solution().is_some_and(|solution| holds(solution) || !is_known(solution))
}

/// Whether every ingredient of a solution is known: each of its bottles has a formula, and all ingredients are in the
/// program's table.
fn is_known(solution: &Solution) -> bool {
    let has_formula =
        |part: Option<&str>| solution.formulas.iter().any(|formula| formula.part.as_deref() == part);
    solution.contains.is_empty()
        && !solution.has_unlisted
        && solution.bottle_names().into_iter().all(has_formula)
        && solution.items().all(|item| !matches!(item.what, Substance::Other(_)))
}

/// A solution with the amounts of its ingredients, as the rules compare them.
#[derive(Debug)]
pub(super) struct Mixture<'a> {
    pub(super) solution: &'a Solution,
    pub(super) role: Role,
    /// The ingredients of all bottles, each once.
    pub(super) parts: Vec<Part>,
    /// Whether every ingredient of the solution is known. An ingredient that is not in `parts` is then absent.
    pub(super) is_known: bool,
    pub(super) leads_to_alkali: bool,
    bottles: usize,
    is_restrainer: bool,
    dilutions: Vec<&'a Dilution>,
}

#[derive(Debug)]
pub(super) struct Part {
    pub(super) ingredient: &'static Ingredient,
    /// The line that states the largest amount of the ingredient.
    pub(super) span: Span,
    /// The amount of the ingredient in each bottle as mixed, in grams or millilitres of pure liquid a litre. `None` if
    /// the amount in any bottle is unknown.
    bottles: Option<Vec<f64>>,
    /// For each bottle of the solution, whether it has the ingredient.
    held: Vec<bool>,
    /// Whether a bottle with this ingredient also has water, so that the ingredient must dissolve in it.
    in_water: bool,
    /// Why the amount is implausible; `None` if it is plausible. It is calculated only once, because several rules ask
    /// for it.
    pub(super) odd: Option<Odd>,
}

impl Part {
    pub(super) fn name(&self) -> &'static str {
        self.ingredient.name
    }

    pub(super) fn sum(&self) -> Option<f64> {
        Some(self.bottles.as_ref()?.iter().sum())
    }

    pub(super) fn unit(&self) -> &'static str {
        match self.ingredient.name {
            "ammonium-thiosulfate" => "g/l",
            "formaldehyde" => "ml/l of 37 %",
            _ if self.ingredient.strength => "ml/l of pure acid",
            _ => "g/l",
        }
    }
}

/// Ingredients that are sold with different amounts of water of crystallisation, each with the state to which the
/// program converts its amounts before it compares them.
const STATES: &[(&str, &str)] = &[
    ("borax", "decahydrate"),
    ("citric-acid", "monohydrate"),
    ("potassium-carbonate", "anhydrous"),
    ("sodium-bisulfate", "monohydrate"),
    ("sodium-carbonate", "anhydrous"),
    ("sodium-metaborate", "tetrahydrate"),
    ("sodium-sulfate", "anhydrous"),
    ("sodium-sulfide", "nonahydrate"),
    ("sodium-sulfite", "anhydrous"),
    ("sodium-thiosulfate", "pentahydrate"),
    ("trisodium-phosphate", "dodecahydrate"),
];

/// The state to which amounts of an ingredient are converted before they are compared. Empty if the ingredient has only
/// one state.
pub(super) fn usual_state(name: &str) -> &'static str {
    STATES.iter().find(|(known, _)| *known == name).map_or("", |(_, state)| state)
}

/// The share of formaldehyde in formalin. Published formulas that state formaldehyde mean formalin.
const FORMALIN: f64 = 0.37;

/// The amount of an ingredient for comparison. For a salt, it is in grams a litre, in the state [`usual_state`]. For a
/// liquid, it is in millilitres a litre, as pure liquid, or as formalin for formaldehyde. `None` if unknown.
fn amount(content: &Content) -> Option<f64> {
    let name = content.ingredient.name;
    if let (false, Concentration::Volume(volume), Some(share)) =
        (content.ingredient.strength, content.amount, content.strength)
    {
        // The salt is stated as a volume of its solution in percent: one percent is one gram in 100 ml.
        return Some(ml(volume) * f64::from(share.basis_points) / 10_000.0);
    }
    if !content.ingredient.strength {
        let usual = usual_state(name);
        let only = || content.ingredient.state(None).map(|state| state.word);
        return content.grams(if usual.is_empty() { only()? } else { usual });
    }
    match content.amount {
        // For this salt a percentage means grams in 100 ml (common practice, no source), so 200 ml of 60 % are 120 g.
        Concentration::Mass(_) if name == "ammonium-thiosulfate" => content.grams("crystals"),
        Concentration::Volume(volume) if content.strength.is_none() => {
            // The volume is not converted. Acid in the state `concentrated` counts as pure. `formalin` is already the
            // form in which formaldehyde is compared.
            content.state.map(|_| ml(volume))
        }
        _ if name == "formaldehyde" => content.pure_millilitres().map(|pure| pure / FORMALIN),
        _ => content.pure_millilitres(),
    }
}

#[expect(clippy::cast_precision_loss, reason = "a volume has fewer figures than a real number")]
pub(super) fn ml(volume: Volume) -> f64 {
    volume.fl as f64 / Volume::ML as f64
}

/// Volumes of a developer for one roll, in millilitres. A developer that needs `UNDILUTED` or more counts as used
/// undiluted. One that needs less than `CONCENTRATE` counts as a concentrate, which is diluted.
const UNDILUTED: f64 = 200.0;
const CONCENTRATE: f64 = 60.0;
/// The volume of bath for one roll, in millilitres, to which a concentrate is assumed to be diluted.
const TANK: f64 = 250.0;

impl<'a> Mixture<'a> {
    /// The amounts of the ingredients in a solution; `None` if it has no role or states no amount.
    pub(super) fn of(solution: &'a Solution, uses: Option<&Uses<'a>>) -> Option<Mixture<'a>> {
        let role = solution.role?;
        let names = solution.bottle_names();
        let mut parts: Vec<Part> = Vec::new();
        let mut largest: Vec<f64> = Vec::new();
        for (at, name) in names.iter().enumerate() {
            let formula = solution.formulas.iter().find(|formula| formula.part.as_deref() == *name);
            let has_water =
                formula.is_none_or(|formula| formula.items.iter().any(|item| item.what == Substance::Water));
            for content in solution.contents(*name) {
                let own = amount(&content);
                let place = parts.iter().position(|part| part.name() == content.ingredient.name);
                let place = place.unwrap_or_else(|| {
                    parts.push(Part {
                        ingredient: content.ingredient,
                        span: content.span,
                        bottles: Some(vec![0.0; names.len()]),
                        held: vec![false; names.len()],
                        in_water: false,
                        odd: None,
                    });
                    largest.push(0.0);
                    parts.len() - 1
                });
                let Some((part, most)) = parts.get_mut(place).zip(largest.get_mut(place)) else { continue };
                part.held.iter_mut().skip(at).take(1).for_each(|held| *held = true);
                part.in_water |= has_water;
                match (own, part.bottles.as_mut().and_then(|all| all.get_mut(at))) {
                    (Some(own), Some(sum)) => {
                        *sum += own;
                        if own > *most {
                            (*most, part.span) = (own, content.span);
                        }
                    }
                    _ => part.bottles = None,
                }
            }
        }
        if solution.formulas.is_empty() && parts.iter().all(|part| part.bottles.is_none()) {
            return None;
        }
        let used = uses.map(|uses| uses.dilutions.clone()).unwrap_or_default();
        let stated = || solution.treats.iter().filter_map(|treats| treats.at.as_ref()).collect();
        let mut mixture = Mixture {
            solution,
            role,
            is_known: is_known(solution) && !parts.is_empty(),
            parts,
            leads_to_alkali: uses.is_some_and(|uses| uses.leads_to_alkali),
            bottles: names.len(),
            is_restrainer: is_restrainer(solution),
            dilutions: if used.is_empty() { stated() } else { used },
        };
        let odds: Vec<Option<Odd>> = mixture.parts.iter().map(|part| mixture.find_odd(part)).collect();
        mixture.parts.iter_mut().zip(odds).for_each(|(part, odd)| part.odd = odd);
        Some(mixture)
    }

    pub(super) fn first(&self, names: &[&str]) -> Option<&Part> {
        self.parts.iter().find(|part| is_in(names, part.name()))
    }

    pub(super) fn has(&self, names: &[&str]) -> bool {
        self.first(names).is_some()
    }

    /// Whether each bottle with the ingredient `name` is free of the ingredients `others`.
    pub(super) fn has_apart(&self, name: &Part, others: &[&str]) -> bool {
        let holds = |at: usize| {
            let others = self.parts.iter().filter(|part| is_in(others, part.name()));
            others.filter_map(|part| part.held.get(at)).any(|held| *held)
        };
        name.held.iter().enumerate().filter(|(_, held)| **held).all(|(at, _)| !holds(at))
    }

    /// Whether the solution comes in several bottles. An ingredient that one bottle lacks may be in another.
    pub(super) fn has_partners(&self) -> bool {
        self.bottles > 1
    }

    /// The sum of the amounts of these ingredients in all bottles, in the units of [`Part`]; `None` if an amount is
    /// unknown.
    pub(super) fn sum(&self, names: &[&str]) -> Option<f64> {
        self.parts.iter().filter(|part| is_in(names, part.name())).map(Part::sum).sum()
    }

    /// The amount of an ingredient in the bath as diluted for use, for comparison with a lower limit. If several
    /// dilutions are known, the strongest counts. If none is known, the bath counts as undiluted.
    pub(super) fn strongest(&self, part: &Part) -> Option<f64> {
        if self.dilutions.is_empty() { part.sum() } else { self.at_work(part) }
    }

    /// The amount of an ingredient in the bath as diluted for use, for comparison with an upper limit. If several
    /// dilutions are known, the strongest counts. If none is known, the dilution is estimated from the volume that a
    /// roll needs.
    pub(super) fn at_work(&self, part: &Part) -> Option<f64> {
        let bottles = part.bottles.as_ref()?;
        let diluted = self.dilutions.iter().map(|dilution| {
            let parts = dilution.parts.iter().map(|part| f64::from(*part));
            let whole = f64::from(dilution.whole().max(1));
            bottles.iter().zip(parts).map(|(amount, share)| amount * share / whole).sum::<f64>()
        });
        let sum = part.sum()?;
        Some(diluted.reduce(f64::max).unwrap_or_else(|| match self.needs() {
            Some(needs) if needs < CONCENTRATE => sum * needs / TANK,
            _ => sum / self.bottles_held(),
        }))
    }

    /// The factor by which upper limits are raised. It is 2 if no dilution is known and a roll needs from `CONCENTRATE`
    /// to `UNDILUTED`: such a developer may or may not be diluted. Otherwise it is 1.
    pub(super) fn slack(&self) -> f64 {
        let between = self.needs().is_some_and(|needs| (CONCENTRATE..UNDILUTED).contains(&needs));
        if self.dilutions.is_empty() && between { 2.0 } else { 1.0 }
    }

    #[expect(clippy::cast_precision_loss, reason = "a solution has few bottles")]
    fn bottles_held(&self) -> f64 {
        self.bottles.max(1) as f64
    }

    fn needs(&self) -> Option<f64> {
        let needs = self.solution.needs.filter(|_| self.role == Role::Developer)?;
        Some(ml(needs.value))
    }
}

pub(super) fn figures(number: f64) -> String {
    let places = if number >= 100.0 {
        0
    } else if number >= 10.0 {
        1
    } else if number >= 1.0 {
        2
    } else {
        4
    };
    let text = format!("{number:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
