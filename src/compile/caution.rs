//! §8. The card's cautions: the recipe's own first, then those of the chemicals; and its notes.

use super::evening::Evening;
use crate::chemistry::{Concern, Held, cautions as of_chemicals};
use crate::model::{Item, Role, Solution, Substance};

/// The cautions, each once.
pub(super) fn cautions(evening: &Evening<'_>) -> Vec<String> {
    let solutions = evening.solutions();
    let own = evening.recipe.cautions.iter().chain(&evening.film.cautions);
    let tank = evening.tank.iter().flat_map(|tank| &tank.cautions);
    let of_solutions = solutions.iter().flat_map(|solution| &solution.cautions);
    let mut all: Vec<String> = Vec::new();
    let mut add = |text: String| {
        if !all.contains(&text) {
            all.push(text);
        }
    };
    own.chain(tank).chain(of_solutions).cloned().for_each(&mut add);
    let unknown: Vec<&str> =
        solutions.iter().filter(|solution| is_unknown(solution)).map(|solution| &*solution.name).collect();
    if !unknown.is_empty() {
        add(format!("not known here is what is in {}: read the label and data sheet", unknown.join(", ")));
    }
    let concerns: Vec<Concern> = solutions.iter().map(|solution| concern(solution)).collect();
    of_chemicals(&concerns).into_iter().for_each(add);
    all
}

/// What the cautions read of a solution. The strength of an acid is known where a formula states it.
pub(crate) fn concern(solution: &Solution) -> Concern {
    let items = solution.formulas.iter().flat_map(|formula| &formula.items);
    let mixed = items.filter_map(|item| match item.what {
        Substance::Known(ingredient) => {
            let strength = item.strength.map(|share| share.basis_points);
            Some(Held { ingredient, strength })
        }
        _ => None,
    });
    Concern {
        name: solution.name.clone(),
        held: mixed.chain(solution.contains.iter().map(|ingredient| Held::unsaid(ingredient))).collect(),
        takes_silver: matches!(solution.role, Some(Role::Fixer | Role::BleachFix | Role::Monobath)),
    }
}

/// Whether some content of a solution is not known.
pub(crate) fn is_unknown(solution: &Solution) -> bool {
    let stranger = |item: &Item| matches!(item.what, Substance::Other(_));
    solution.ingredients().is_empty()
        || solution.formulas.iter().any(|formula| formula.items.iter().any(stranger))
}

/// The notes of the recipe, its film, its solutions and the tank.
pub(super) fn notes(evening: &Evening<'_>) -> Vec<String> {
    let solutions = evening.solutions();
    let of_solutions = solutions
        .iter()
        .flat_map(|solution| solution.notes.iter().map(move |note| format!("{}: {note}", solution.name)));
    let tank = evening.tank.iter().flat_map(|tank| &tank.notes);
    let own = evening.recipe.notes.iter().chain(&evening.film.notes).cloned();
    own.chain(of_solutions).chain(tank.cloned()).collect()
}
