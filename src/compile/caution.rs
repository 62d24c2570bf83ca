//! The cautions and notes of a card. Cautions that the recipe states come before those of the chemicals.

use std::sync::Arc;

use super::evening::{Evening, Personal};
use super::safety::{Saying, Scene, sayings};
use crate::chemistry::{
    BURNING_BY_PH, Concern, Form, Hazard, Held, OwnIngredient, SAID_BY, cautions, first_aid,
};
use crate::model::{Dilution, Item, Mixed, Role, Solution, StepKind, Substance};

impl Evening<'_> {
    /// Each solution of the recipe with its hazards, undiluted and in tonight's baths. The card's cautions follow from
    /// these hazards.
    pub(super) fn concerns(&self) -> Vec<Concern> {
        let baths = |solution: &Solution| -> Vec<Opened> {
            let own = self.recipe.steps.iter().filter_map(|step| {
                let bath = step.bath.as_ref()?;
                let is_own = bath.solution.as_ref().is_some_and(|other| other.name == solution.name);
                let (part, dilution) = (bath.part.clone(), bath.dilution.clone());
                is_own.then(|| Opened { part, dilution, is_kept: step.kept_bath().is_some() })
            });
            own.collect()
        };
        self.solutions().iter().map(|solution| concern(solution, &baths(solution))).collect()
    }

    /// What the safety block said at the last session in the journal; `None` without a session, or if its recipe no
    /// longer exists. `tonight` has the hazards of tonight's solutions.
    pub(super) fn last_safety(&self, tonight: &[Concern]) -> Option<Vec<Saying>> {
        let last = self.shelf.darkroom.last_session()?;
        let recipe = self.shelf.recipes.iter().find(|recipe| recipe.name == last.recipe)?;
        let evening = Evening { recipe, film: recipe.film.as_ref()?, ..*self };
        let warmest = recipe.steps.iter().filter_map(|step| step.at.as_ref()).map(|at| at.value).max();
        let exposes = recipe.steps.iter().any(|step| step.kind == StepKind::Expose && step.bath.is_none());
        let solutions = evening.solutions();
        let solutions = solutions.iter().map(|solution| &***solution).collect();
        // If `last` is set, each text leaves space for the prefix `new:`, as tonight's texts do. Otherwise a text could
        // be cut at another word than tonight's text, which would then wrongly count as new.
        let last: Option<&[Saying]> = Some(&[]);
        let scene = Scene { solutions, warmest, exposes, personal: &self.tonight.personal, last };
        // If the last session used tonight's recipe, as often happens, the hazards in `tonight` are also those of the
        // last session.
        let is_again = std::ptr::eq(evening.recipe, self.recipe);
        Some(if is_again { sayings(tonight, &scene) } else { sayings(&evening.concerns(), &scene) })
    }

    pub(super) fn cautions(&self, concerns: &[Concern]) -> Vec<String> {
        let solutions = self.solutions();
        let own = self.recipe.cautions.iter().chain(&self.film.cautions);
        let tank = self.tank().into_iter().flat_map(|tank| &tank.cautions);
        let own = own.chain(tank).chain(solutions.iter().flat_map(|solution| &solution.cautions));
        cautions_with(own, concerns)
    }

    pub(super) fn notes(&self) -> Vec<String> {
        let of_solutions = self
            .solutions()
            .into_iter()
            .flat_map(|solution| solution.notes.iter().map(move |note| format!("{}: {note}", solution.name)));
        let tank = self.tank().into_iter().flat_map(|tank| &tank.notes);
        let own = self.recipe.notes.iter().chain(&self.film.notes).cloned();
        let tested = self.recipe.tested.iter().map(|tested| format!("tested {tested}"));
        own.chain(of_solutions).chain(tank.cloned()).chain(tested).collect()
    }
}

/// The cautions that files state, then those for the chemicals of the solutions, each text once.
pub(crate) fn cautions_with<'a>(
    stated: impl Iterator<Item = &'a String>,
    solutions: &[Concern],
) -> Vec<String> {
    let unknown = solutions.iter().filter(|solution| solution.is_unknown);
    let unknown: Vec<&str> = unknown.map(|solution| &*solution.name).collect();
    let unknown = (!unknown.is_empty())
        .then(|| format!("what {} contains is not known: read the label and data sheet", unknown.join(", ")));
    let mut all: Vec<String> = Vec::new();
    for text in stated.cloned().chain(unknown).chain(cautions(solutions)) {
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}

/// How long to rinse eyes: a poison centre says 15 to 20 minutes, and a clinic at least 15.
const RINSE: &str = "eyes: rinse for at least 15 minutes, an alkali for longer; never neutralise a splash";

/// First aid for these solutions: the number of the poison centre, what to do, and the CAS numbers for a doctor.
pub(crate) fn aid(solutions: &[Concern], personal: &Personal) -> Vec<String> {
    let poison = personal.poison.as_ref().map(|number| format!("poison centre: {number}"));
    let statements = first_aid(solutions);
    let rinse = statements.iter().any(|text| text.starts_with("if in eyes")).then(|| RINSE.to_owned());
    poison.into_iter().chain(statements).chain(rinse).chain(numbers(solutions)).collect()
}

fn numbers(solutions: &[Concern]) -> Option<String> {
    let of = |solution: &Concern| {
        let known = solution.held.iter().filter_map(|held| Some(held.ingredient.states.first()?.cas));
        let own = solution.own.iter().filter_map(|own| own.cas.as_deref());
        let mut numbers: Vec<&str> = known.chain(own).collect();
        numbers.dedup();
        (!numbers.is_empty()).then(|| format!("{}: {}", solution.name, numbers.join(", ")))
    };
    let all: Vec<String> = solutions.iter().filter_map(of).collect();
    (!all.is_empty()).then(|| format!("CAS numbers, for a doctor: {}", all.join("; ")))
}

pub(crate) struct Opened {
    /// The bottle that the bath is mixed from, such as `a`; `None` if all bottles of the solution are used.
    pub(crate) part: Option<String>,
    pub(crate) dilution: Dilution,
    /// Whether the bath goes back into a bottle after use.
    pub(crate) is_kept: bool,
}

/// The hazards of a solution, undiluted and in the `baths` that are mixed from it.
pub(crate) fn concern(solution: &Solution, baths: &[Opened]) -> Concern {
    let mixed = solution.items().filter_map(|item| match item.what {
        Substance::Known(ingredient) => {
            Some(Held { ingredient, strength: item.strength.map(|share| share.basis_points) })
        }
        _ => None,
    });
    let bought = solution.contains.iter().map(|one| Held {
        ingredient: one.ingredient,
        strength: one.share.filter(|_| one.ingredient.strength).map(|share| share.basis_points),
    });
    let is_declared = |name: &str| solution.declared.iter().any(|one| one.ingredient.name == name);
    let mut own: Vec<Arc<OwnIngredient>> = Vec::new();
    for one in &solution.declared {
        if !own.iter().any(|known| known.name == one.ingredient.name) {
            own.push(Arc::clone(&one.ingredient));
        }
    }
    let is_unknown = |item: &Item| matches!(&item.what, Substance::Other(name) if !is_declared(name));
    Concern {
        name: solution.name.clone(),
        forms: forms(solution, baths),
        held: mixed.chain(bought).collect(),
        own,
        is_weighed: false,
        is_unknown: (solution.ingredients().is_empty() && solution.declared.is_empty())
            || solution.items().any(is_unknown),
        takes_silver: matches!(solution.role, Some(Role::Fixer | Role::BleachFix | Role::Monobath)),
    }
}

/// The hazards of each bottle of a solution, then of each bath that is kept or has a hazard statement that no bottle
/// has.
fn forms(solution: &Solution, baths: &[Opened]) -> Vec<Form> {
    let bottles = solution.bottle_names();
    let mut forms: Vec<Form> = Vec::new();
    for bottle in &bottles {
        let what = bottle.map_or_else(|| solution.name.clone(), |part| format!("{} {part}", solution.name));
        forms.extend(form(what, &solution.mixed(*bottle)));
    }
    let count = forms.len();
    for Opened { part, dilution, is_kept } in baths {
        let part = part.as_deref();
        let of = part.map(|part| format!(" {part}")).unwrap_or_default();
        let what = format!("{}{of} {dilution}", solution.name);
        let is_bottle = (bottles.len() == 1 || part.is_some()) && dilution.water == 0;
        if is_bottle || forms.iter().any(|form| form.what == what) {
            continue;
        }
        let Some(bath) = form(what, &solution.mixed_at(part, dilution)) else { continue };
        let is_said = |hazard: &&Hazard| {
            let graver =
                SAID_BY.iter().filter(|(_, lesser)| lesser.contains(hazard)).map(|(graver, _)| *graver);
            let said: Vec<_> = graver.chain([*hazard]).collect();
            hazard.code == "EUH208" || forms.iter().take(count).any(|bottle| bottle.has(&said))
        };
        let says_more = !bath.class.hazards.iter().all(is_said);
        if bath.silent.is_empty() && (*is_kept || says_more) {
            forms.push(Form { is_bath: true, ..bath });
        }
    }
    forms
}

/// The hazards of a bottle or bath; `None` if none of its ingredients is known.
pub(super) fn form(what: String, mixed: &Mixed) -> Option<Form> {
    if mixed.mixture.portions.is_empty() && mixed.silent.is_empty() {
        return None;
    }
    let burns = ["H314", "H318"];
    let mut may_burn = mixed.silent.iter().flat_map(|one| &one.hazards);
    let mut strong = mixed.mixture.portions.iter().filter(|one| BURNING_BY_PH.contains(&&*one.name));
    let known = mixed.mixture.portions.iter().map(|one| (one.name.clone(), Some(one.share)));
    let silent = mixed.silent.iter().map(|one| (one.name.clone(), None));
    Some(Form {
        what,
        is_bath: false,
        holds: known.chain(silent).collect(),
        class: mixed.mixture.class(),
        silent: mixed.silent.iter().map(|one| one.name.clone()).collect(),
        may_burn: may_burn.any(|hazard| burns.contains(&hazard.code)),
        needs_ph: mixed.mixture.ph.is_none() && strong.next().is_some(),
        has_unknown: mixed.has_unknown,
    })
}
