//! §8. What the card says of danger: the recipe's own words first, then what is known of the
//! chemicals, then what holds for all.

use super::evening::Evening;
use crate::chemistry::{Concern, Held, cautions as of_chemicals};
use crate::model::{Role, Solution, Substance};

/// The cautions, none twice.
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
    let unknown = solutions.iter().filter(|solution| is_unknown(solution));
    let unknown: Vec<&str> = unknown.map(|solution| solution.name.as_str()).collect();
    if !unknown.is_empty() {
        add(format!("not known here is what is in {}: read the label and data sheet", unknown.join(", ")));
    }
    let concerns: Vec<Concern> = solutions.iter().map(|solution| concern(solution)).collect();
    of_chemicals(&concerns).into_iter().for_each(add);
    all
}

/// What the cautions ask of a solution. An acid in a formula is as strong as the bottle that the formula
/// names; in a bought one nobody says how strong it is.
pub(crate) fn concern(solution: &Solution) -> Concern {
    let items = solution.formulas.iter().flat_map(|formula| &formula.items);
    let mixed = items.filter_map(|item| match item.what {
        Substance::Known(ingredient) => {
            let strength = item.strength.map(|share| share.basis_points);
            Some(Held { ingredient, strength })
        }
        Substance::Water | Substance::Other(_) => None,
    });
    Concern {
        name: solution.name.clone(),
        held: mixed.chain(solution.contains.iter().map(|ingredient| Held::unsaid(ingredient))).collect(),
        takes_silver: matches!(solution.role, Some(Role::Fixer | Role::BleachFix | Role::Monobath)),
    }
}

/// Whether a solution does not say all that is in it.
pub(crate) fn is_unknown(solution: &Solution) -> bool {
    let stranger = |item: &crate::model::Item| matches!(item.what, Substance::Other(_));
    solution.ingredients().is_empty()
        || solution.formulas.iter().any(|formula| formula.items.iter().any(stranger))
}

/// The remarks of the recipe, its film, its solutions and the tank.
pub(super) fn notes(evening: &Evening<'_>) -> Vec<String> {
    let solutions = evening.solutions();
    let of_solutions = solutions
        .iter()
        .flat_map(|solution| solution.notes.iter().map(|note| format!("{}: {note}", solution.name)));
    let tank = evening.tank.iter().flat_map(|tank| &tank.notes);
    let own = evening.recipe.notes.iter().chain(&evening.film.notes).cloned();
    own.chain(of_solutions).chain(tank.cloned()).collect()
}
