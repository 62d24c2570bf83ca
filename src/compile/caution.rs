//! The cautions and notes of a card. Cautions that the recipe states come before those of the chemicals.

use super::evening::Evening;
use crate::chemistry::{Concern, Held, cautions};
use crate::model::{Item, Role, Solution, Substance};

impl Evening<'_> {
    /// The cautions of the card, each once.
    pub(super) fn cautions(&self) -> Vec<String> {
        let solutions = self.solutions();
        let own = self.recipe.cautions.iter().chain(&self.film.cautions);
        let tank = self.tank().into_iter().flat_map(|tank| &tank.cautions);
        let own = own.chain(tank).chain(solutions.iter().flat_map(|solution| &solution.cautions));
        let concerns: Vec<Concern> = solutions.iter().map(|solution| concern(solution)).collect();
        cautions_with(own, &concerns)
    }

    /// The notes of the recipe, its film, its solutions and the tank.
    pub(super) fn notes(&self) -> Vec<String> {
        let of_solutions = self
            .solutions()
            .into_iter()
            .flat_map(|solution| solution.notes.iter().map(move |note| format!("{}: {note}", solution.name)));
        let tank = self.tank().into_iter().flat_map(|tank| &tank.notes);
        let own = self.recipe.notes.iter().chain(&self.film.notes).cloned();
        own.chain(of_solutions).chain(tank.cloned()).collect()
    }
}

/// The stated cautions, then those of the solutions and their chemicals, each once.
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

/// What the cautions of a solution depend on. An acid's strength is known if a formula states it.
pub(crate) fn concern(solution: &Solution) -> Concern {
    let mixed = solution.items().filter_map(|item| match item.what {
        Substance::Known(ingredient) => {
            Some(Held { ingredient, strength: item.strength.map(|share| share.basis_points) })
        }
        _ => None,
    });
    let unsaid = |ingredient| Held { ingredient, strength: None };
    let is_unknown = |item: &Item| matches!(item.what, Substance::Other(_));
    Concern {
        name: solution.name.clone(),
        held: mixed.chain(solution.contains.iter().map(|one| unsaid(one.ingredient))).collect(),
        is_unknown: solution.ingredients().is_empty()
            || solution.has_unlisted
            || solution.items().any(is_unknown),
        takes_silver: matches!(solution.role, Some(Role::Fixer | Role::BleachFix | Role::Monobath)),
    }
}
