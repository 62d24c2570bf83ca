//! §8. What the card says of danger: the recipe's own words first, then what is known of the
//! chemicals, then what holds for all.

use super::evening::Evening;
use crate::chemistry::{PRECAUTIONS, cautions as of_chemicals};
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
    for solution in solutions.iter().filter(|solution| is_unknown(solution)) {
        add(format!(
            "what is in {} is not known here: read its label and its safety data sheet",
            solution.name
        ));
    }
    for text in of_chemicals(solutions.iter().flat_map(|solution| solution.ingredients())) {
        add(text);
    }
    if solutions
        .iter()
        .any(|solution| matches!(solution.role, Some(Role::Fixer | Role::BleachFix | Role::Monobath)))
    {
        let silver = PRECAUTIONS.iter().find(|precaution| {
            precaution.ingredients.contains(&"sodium-thiosulfate") && precaution.text.contains("silver")
        });
        silver.into_iter().for_each(|precaution| add(precaution.text.to_owned()));
    }
    all
}

/// Whether a solution does not say all that is in it.
fn is_unknown(solution: &Solution) -> bool {
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
