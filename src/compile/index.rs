//! R17. `--index` picks one of a recipe and those derived from it; it never alters a time.

use std::sync::Arc;

use crate::model::{Recipe, Shelf};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("no-such-index", "no recipe of this family is for that exposure index"),
    ("index-twice", "two recipes of this family are for that exposure index"),
];

/// The recipe for that index, among this one and those derived from it.
///
/// # Errors
/// None, or two, with what there is.
pub fn by_index<'a>(
    shelf: &'a Shelf,
    recipe: &'a Arc<Recipe>,
    index: u32,
) -> Result<&'a Arc<Recipe>, Box<Diagnostic>> {
    let family: Vec<&Arc<Recipe>> =
        shelf.family(recipe).into_iter().filter(|one| one.film.is_some()).collect();
    let of = |one: &Recipe| one.index.map(|index| index.value);
    let fitting: Vec<&Arc<Recipe>> = family.iter().copied().filter(|one| of(one) == Some(index)).collect();
    let told = |recipes: &[&Arc<Recipe>]| {
        let names = recipes.iter().map(|one| match of(one) {
            Some(index) => format!("{} ({index})", one.name),
            None => format!("{} (none said)", one.name),
        });
        names.collect::<Vec<_>>().join(", ")
    };
    match fitting.as_slice() {
        [one] => Ok(one),
        [] => {
            let message = format!("no recipe here is for an exposure index of {index}");
            let fault = Diagnostic::error("no-such-index", recipe.span, message);
            Err(Box::new(fault.help(format!("what there is: {}", told(&family)))))
        }
        [first, second, ..] => {
            let message = format!("two recipes here are for an exposure index of {index}");
            let fault = Diagnostic::error("index-twice", first.span, message).other(second.span, "the other");
            Err(Box::new(fault.help(format!("name one of them: {}", told(&fitting)))))
        }
    }
}
