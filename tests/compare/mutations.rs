//! A comparison finds the same work exactly if the fingerprints are equal, tried with every small change that still
//! checks.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::sync::Arc;

use proptest::prelude::*;
use wetside::compare::compare;
use wetside::model::Fingerprint;
use wetside::model::{Recipe, Temperature};

use super::TEXT;
use crate::kitchen::Kitchen;
use crate::properties::{drafts, tried};

/// The files of the shelf, by their names.
fn shelf() -> BTreeMap<String, String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/recipes");
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files = entries.filter(|path| path.extension().is_some_and(|ending| ending == "wet"));
    let named = |path: std::path::PathBuf| {
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        (name, fs::read_to_string(path).unwrap())
    };
    files.map(named).collect()
}

/// The recipes without errors of those of these files that are `read`.
fn recipes(files: &BTreeMap<String, String>, read: &BTreeSet<&String>) -> Vec<(String, Arc<Recipe>)> {
    let uses: String =
        read.iter().zip(1..).map(|(name, number)| format!("use \"{name}\" as x{number}\n")).collect();
    let others: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let kitchen = Kitchen::of_files(&format!("wetside 1\n{uses}"), &others);
    let file = |recipe: &Recipe| kitchen.sources.name(recipe.file).to_owned();
    let named = |recipe: &Arc<Recipe>| (format!("{} {}", file(recipe), recipe.name), Arc::clone(recipe));
    kitchen.shelf.recipes.iter().map(named).collect()
}

/// A file and those that use it, directly or through others. A change of it changes no other file's recipes.
fn users<'a>(files: &'a BTreeMap<String, String>, name: &'a String) -> BTreeSet<&'a String> {
    let mut all = BTreeSet::from([name]);
    loop {
        let uses = |text: &str| all.iter().any(|used| text.contains(&format!("use \"{used}\"")));
        let more: Vec<&String> = files.iter().filter(|(_, text)| uses(text)).map(|(name, _)| name).collect();
        let count = all.len();
        all.extend(more);
        if all.len() == count {
            return all;
        }
    }
}

/// Words that replace one another.
const TURNS: [(&str, &str); 13] = [
    ("one-shot", "reused"),
    ("reused", "replenished"),
    ("tabular", "conventional"),
    ("conventional", "tabular"),
    ("developer", "monobath"),
    ("continuous", "none"),
    ("from full", "from pour"),
    ("after each", "once"),
    ("anhydrous", "monohydrate"),
    ("rotation", "rocking"),
    (" C", " F"),
    ("months", "weeks"),
    ("metol", "phenidone"),
];

/// A text with one line changed: a number greater by one, a word for another, the line gone, twice, or after
/// the next; `None` where that changes nothing.
fn mutated(text: &str, line: usize, how: usize) -> Option<String> {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let line = line % lines.len();
    let this = lines.get(line)?.clone();
    let numbers: Vec<(usize, &str)> = numbers(&this);
    let turns: Vec<&(&str, &str)> = TURNS.iter().filter(|(from, _)| this.contains(from)).collect();
    let how = how % (numbers.len() * 2 + turns.len() + 3);
    if how < numbers.len() * 2 {
        let (at, number) = numbers.get(how / 2)?;
        let more = number.parse::<u64>().ok()? + if how.is_multiple_of(2) { 1 } else { 3 };
        let width = number.len();
        lines.get_mut(line)?.replace_range(*at..at + width, &format!("{more:0width$}"));
    } else if how < numbers.len() * 2 + turns.len() {
        let (from, to) = turns.get(how - numbers.len() * 2)?;
        *lines.get_mut(line)? = this.replacen(from, to, 1);
    } else {
        match how - numbers.len() * 2 - turns.len() {
            0 => _ = lines.remove(line),
            1 => lines.insert(line, this),
            _ if line + 1 < lines.len() => lines.swap(line, line + 1),
            _ => return None,
        }
    }
    let changed = lines.join("\n") + "\n";
    (changed != text).then_some(changed)
}

/// The whole numbers of a line, each with its position.
fn numbers(line: &str) -> Vec<(usize, &str)> {
    let mut all = Vec::new();
    let mut from = None;
    for (at, letter) in line.char_indices().chain([(line.len(), ' ')]) {
        match (letter.is_ascii_digit(), from) {
            (true, None) => from = Some(at),
            (false, Some(start)) => {
                all.push((start, line.get(start..at).unwrap()));
                from = None;
            }
            (true, Some(_)) | (false, None) => {}
        }
    }
    all
}

fn usual() -> [Temperature; 4] {
    [18, 20, 22, 24].map(Temperature::celsius_whole)
}

/// Whether two recipes are the same work; fails if the comparison and the fingerprints do not agree.
#[track_caller]
fn same(old: &Recipe, new: &Recipe, what: &str) -> bool {
    let differences = compare(old, new, &usual());
    let of_the_work: Vec<_> = differences.iter().filter(|difference| difference.is_work).collect();
    let is_same = Fingerprint::of(old) == Fingerprint::of(new);
    assert_eq!(of_the_work.is_empty(), is_same, "{what}: {of_the_work:#?}");
    is_same
}

/// The number of changes tried, spread over the shelf and the same in every run.
const TRIED: usize = 120;

#[test]
fn a_change_of_the_shelf_is_reported_exactly_if_the_fingerprint_differs() {
    let files = shelf();
    let old = recipes(&files, &files.keys().collect());
    assert!(old.len() > 12, "the shelf has {} recipes", old.len());
    let names: Vec<&String> = files.keys().collect();
    let (mut kept, mut changed) = (0, 0);
    for number in 0..TRIED {
        // A step that is coprime to the length reaches every line.
        let name = *names.get(number % names.len()).unwrap();
        let Some(mutated) = mutated(files.get(name).unwrap(), number * 7919, number * 31) else { continue };
        let mut files = files.clone();
        files.insert(name.clone(), mutated);
        let new: BTreeMap<String, Arc<Recipe>> = recipes(&files, &users(&files, name)).into_iter().collect();
        for (recipe, old) in &old {
            let Some(new) = new.get(recipe) else { continue };
            let is_same = same(old, new, &format!("change {number} of {name}, in {recipe}"));
            *if is_same { &mut kept } else { &mut changed } += 1;
        }
    }
    assert!(kept > 500 && changed > 7, "{kept} the same, {changed} changed");
}

/// Every change of a small text with every statement.
#[test]
fn every_change_of_one_line_is_reported_exactly_if_the_fingerprint_differs() {
    let of = |text: &str| {
        let kitchen = Kitchen::of(text);
        kitchen.shelf.recipes.first().cloned()
    };
    let old = of(TEXT).unwrap();
    let (mut kept, mut changed, mut refused) = (0, 0, 0);
    for line in 0..TEXT.lines().count() {
        // No line has more than three numbers and two of the words, so no change is left out.
        for how in 0..11 {
            let Some(text) = mutated(TEXT, line, how) else { continue };
            match of(&text) {
                Some(new) if same(&old, &new, &text) => kept += 1,
                Some(_) => changed += 1,
                None => refused += 1,
            }
        }
    }
    assert!(
        kept > 50 && changed > 150 && refused > 50,
        "{kept} the same, {changed} changed, {refused} refused"
    );
}

#[test]
fn any_two_recipes_of_the_shelf_differ() {
    let files = shelf();
    let all = recipes(&files, &files.keys().collect());
    for (number, (one, old)) in all.iter().enumerate() {
        for (other, new) in all.iter().skip(number) {
            assert_eq!(same(old, new, &format!("{one}, {other}")), one == other, "{one}, {other}");
        }
    }
}

proptest! {
    #![proptest_config(tried(150))]

    #[test]
    fn comparisons_of_random_recipes_agree_with_their_fingerprints((one, other) in drafts()) {
        let (one, other) = (Kitchen::sound(&one), Kitchen::sound(&other));
        same(one.recipe(), other.recipe(), "two drafts");
        prop_assert!(same(one.recipe(), one.recipe(), "one draft"));
    }
}
