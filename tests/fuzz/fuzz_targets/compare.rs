//! The sound recipes of any text have the same work as themselves, and as in the standard layout.
#![no_main]

use std::sync::Arc;

use libfuzzer_sys::fuzz_target;
use wetside::check::Checked;
use wetside::compare::compare_all;
use wetside::model::{Recipe, Temperature};
use wetside::tidy::tidy;
use wetside_fuzz::checked;

fn own(checked: &Checked) -> Vec<Arc<Recipe>> {
    let recipes = checked.shelf.recipes.iter();
    recipes.filter(|recipe| recipe.file == checked.file).cloned().collect()
}

fn are_the_same(old: &[Arc<Recipe>], new: &[Arc<Recipe>]) {
    let degrees = [18, 20, 24].map(Temperature::celsius_whole);
    let outcomes = compare_all(old, new, &degrees);
    assert_eq!(outcomes.len(), old.len());
    for outcome in outcomes {
        let is_in_both = outcome.old.is_some() && outcome.new.is_some();
        assert!(is_in_both && outcome.differences.is_empty(), "{outcome:?}");
    }
}

fuzz_target!(|text: &str| {
    let before = checked(text);
    let recipes = own(&before);
    are_the_same(&recipes, &recipes);
    if let Ok(tidied) = tidy(&before.sources, before.file) {
        are_the_same(&recipes, &own(&checked(&tidied.text)));
    }
});
