//! What is marked as work is what an evening goes by: each value of each statement is changed, and the evenings before
//! and after are compared without their wording. Where an evening differs, the work differs; where no change of a
//! value shows in any evening, its statement is no work.

pub(crate) mod changes;
pub(crate) mod evenings;

use std::collections::{BTreeMap, BTreeSet};

use wetside::model::Fingerprint;
use wetside::vocabulary::{Block, Row, pattern_text, rows};

use crate::kitchen::Kitchen;
use changes::{Change, changes, is_of_a_recipe};
use evenings::{Evening, evenings};

/// A recipe that uses every statement that a recipe can be made of, and a bottle that has treated five rolls.
pub(crate) const TEXT: &str = include_str!("work/all.txt");

/// Values that are work and that no evening shows, or that cannot be changed by themselves, each with the reason.
const EXCEPTIONS: &[(&str, &str, &str)] = &[
    ("between", "TEMPERATURE", "a tolerance: it decides which evenings there are"),
    ("within", "TEMPERATURE", "a tolerance: it decides which evenings there are"),
    ("with", "NAME", "which solution it is, is wording; an evening has only its volume"),
    ("clears", "TEMPERATURE", "a tolerance: a bath that is more than 2 °C colder is refused"),
];

/// What came of the changes of one value of a statement.
#[derive(Debug, Default)]
struct Outcome {
    compiled: usize,
    work: usize,
    shown: usize,
}

/// What a row is called here. The headers of all steps are one, and so are the statements of one word.
pub(crate) fn called(row: &Row) -> &'static str {
    match row.opens {
        Some(Block::Step(_)) => "a step",
        _ if row.word.is_empty() => row.example,
        _ => row.word,
    }
}

/// The kinds of values that a row takes, as the reference prints them; those that look alike are one.
pub(crate) fn kinds(row: &Row) -> BTreeSet<&'static str> {
    let pattern = pattern_text(row.takes);
    let words = pattern.split(|sign: char| !(sign.is_ascii_uppercase() || sign == '/'));
    words.filter(|word| word.len() > 1 && *word != "ISO").map(changes::kind_of).collect()
}

#[test]
fn a_value_is_work_exactly_if_an_evening_depends_on_it() {
    let before = Kitchen::sound(TEXT);
    let shown = evenings(&before);
    assert!(shown.iter().all(Option::is_some), "each evening compiles as it is written");
    let mut outcomes: BTreeMap<(&str, &str), Outcome> = BTreeMap::new();
    let mut seen: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for change in changes(TEXT, is_of_a_recipe) {
        let Change { row, kind, text, line, .. } = &change;
        seen.entry(called(row)).or_default().insert(kind);
        let outcome = outcomes.entry((called(row), kind)).or_default();
        let after = Kitchen::of(text);
        let Some(recipe) = after.shelf.recipes.iter().rfind(|recipe| recipe.film.is_some()) else { continue };
        let both: Vec<(Evening, Evening)> =
            shown.iter().cloned().zip(evenings(&after)).filter_map(|(one, two)| Some((one?, two?))).collect();
        if both.is_empty() {
            continue;
        }
        let is_shown = both.iter().any(|(one, two)| one != two);
        let is_work = before.recipe().work() != recipe.work();
        let marks = (Fingerprint::of(before.recipe()), Fingerprint::of(recipe));
        assert_eq!(is_work, marks.0 != marks.1, "the fingerprint goes by the work: {line}");
        assert!(is_work || !is_shown, "an evening goes by what is marked as no work: {line}");
        outcome.compiled += 1;
        outcome.work += usize::from(is_work);
        outcome.shown += usize::from(is_shown);
    }
    let is_own = |row: &&Row| match row.opens {
        Some(opens) => is_of_a_recipe(opens),
        None => row.blocks.iter().any(|block| is_of_a_recipe(*block)),
    };
    let of_recipes: Vec<&Row> = rows().filter(is_own).collect();
    let mut wrong = Vec::new();
    for row in &of_recipes {
        let own = seen.get(called(row)).cloned().unwrap_or_default();
        let has_word = |line: &str| line.split_whitespace().any(|word| word == row.word);
        if !row.word.is_empty() && !TEXT.lines().any(has_word) {
            wrong.push(format!("no line has '{}'", row.example));
        }
        let left = kinds(row).into_iter().filter(|kind| !own.contains(kind));
        wrong.extend(left.map(|kind| format!("no line changes {kind} of '{}'", row.example)));
    }
    for ((word, kind), outcome) in &outcomes {
        let is_exception = EXCEPTIONS.iter().any(|(of, what, _)| of == word && what == kind);
        let agrees = outcome.compiled > 0 && (outcome.work > 0) == (outcome.shown > 0);
        if agrees == is_exception {
            wrong.push(format!("{kind} of '{word}': {outcome:?}, an exception: {is_exception}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(of_recipes.len() > 40 && outcomes.len() > 60, "{} rows, {outcomes:?}", of_recipes.len());
}
