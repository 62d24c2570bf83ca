//! What is sound of any text is the same work as itself, and as its tidy form.
#![no_main]

use std::sync::Arc;

use libfuzzer_sys::fuzz_target;
use wetside::compare::{Outcome, compare_all};
use wetside::model::{Number, Recipe, Shelf, Temperature};
use wetside::source::FileId;
use wetside::tidy::tidy;
use wetside_fuzz::checked;

fn own(shelf: &Shelf, file: FileId) -> Vec<Arc<Recipe>> {
    shelf.recipes.iter().filter(|recipe| recipe.file == file).cloned().collect()
}

fn are_the_same(old: &[Arc<Recipe>], new: &[Arc<Recipe>]) {
    let degrees =
        [18, 20, 24].map(|degrees| Temperature::from_celsius(Number::whole(degrees)).expect("in range"));
    let outcomes = compare_all(old, new, &degrees);
    assert_eq!(outcomes.len(), old.len());
    for outcome in outcomes {
        match outcome {
            Outcome::Both { differences, .. } => assert!(differences.is_empty(), "{differences:?}"),
            other => panic!("{other:?}"),
        }
    }
}

fuzz_target!(|text: &str| {
    let (sources, file, shelf, _) = checked(text);
    let recipes = own(&shelf, file);
    are_the_same(&recipes, &recipes);
    if let Ok(tidied) = tidy(&sources, file) {
        let (_, again, shelf, _) = checked(&tidied.text);
        are_the_same(&recipes, &own(&shelf, again));
    }
});
