//! A comparison as JSON, for a program that watches recipes. The shapes here are a promise to others and
//! are held to `grammar/comparison.schema.json`.

use serde::Serialize;

use super::super::json::Figure;
use super::super::plain::plain;
use super::wording::{sides, time_of};
use crate::compare::{Difference, Outcome, Place};
use crate::compile::{Scale, fingerprint};
use crate::model::{Key, Recipe, Temperature, Value};
use crate::source::Sources;

/// The number of this shape; a change that a reader would notice raises it.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct ComparisonOut {
    comparison: u32,
    same: bool,
    temperatures_c: Vec<Figure>,
    recipes: Vec<RecipeOut>,
}

#[derive(Serialize)]
struct RecipeOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    old: Option<SideOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    new: Option<SideOut>,
    same: bool,
    differences: Vec<DifferenceOut>,
    said: Vec<DifferenceOut>,
}

#[derive(Serialize)]
struct SideOut {
    name: String,
    file: String,
    fingerprint: String,
}

#[derive(Serialize)]
struct DifferenceOut {
    place: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    step: Option<StepOut>,
    what: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_c: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bottle: Option<String>,
    old: ValueOut,
    new: ValueOut,
}

#[derive(Serialize)]
struct StepOut {
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
}

/// A value in words, and as a number where it is a time. `null` words: it is not there.
#[derive(Serialize)]
struct ValueOut {
    text: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ms: Option<i64>,
}

/// The comparison as one JSON object, indented, with a line ending behind it. The sources name the files
/// that each side's recipes stand in.
#[must_use]
pub fn comparison_json(
    outcomes: &[Outcome<'_>],
    at: &[Temperature],
    (old, new): (&Sources, &Sources),
) -> String {
    let out = ComparisonOut {
        comparison: VERSION,
        same: outcomes.iter().all(|outcome| outcome.count() == 0),
        temperatures_c: at.iter().copied().map(Figure::celsius).collect(),
        recipes: outcomes.iter().map(|outcome| recipe(outcome, old, new)).collect(),
    };
    let mut text =
        serde_json::to_string_pretty(&out).expect("every key above is a word and every figure a decimal");
    text.push('\n');
    text
}

fn recipe(outcome: &Outcome<'_>, old_files: &Sources, new_files: &Sources) -> RecipeOut {
    let same = outcome.count() == 0;
    let (old, new, all) = match *outcome {
        Outcome::Both { old, new, ref differences } => (Some(old), Some(new), differences.as_slice()),
        Outcome::Gone(old) => (Some(old), None, &[][..]),
        Outcome::Added(new) => (None, Some(new), &[][..]),
    };
    let told = |of_the_work: bool| {
        let some = all.iter().filter(|difference| difference.is_work == of_the_work);
        some.map(difference).collect()
    };
    RecipeOut {
        old: old.map(|recipe| side(recipe, old_files)),
        new: new.map(|recipe| side(recipe, new_files)),
        same,
        differences: told(true),
        said: told(false),
    }
}

fn side(recipe: &Recipe, files: &Sources) -> SideOut {
    let file = plain(files.name(recipe.file));
    SideOut { name: plain(&recipe.name), file, fingerprint: fingerprint(recipe) }
}

fn difference(difference: &Difference<'_>) -> DifferenceOut {
    let (place, step) = match difference.place {
        Place::Recipe => ("recipe", None),
        Place::Film => ("film", None),
        Place::Step(kind, name) => ("step", Some(StepOut { kind: kind.word(), name: name.map(plain) })),
    };
    let (at, of) = match difference.key {
        Key::TimeAt(at) => (Some(at), None),
        Key::ClearsIn(solution, dilution) => (None, Some(format!("{} {dilution}", plain(solution)))),
        Key::Item(_, what) | Key::ItemOrder(_, what) => (None, Some(plain(what))),
        _ => (None, None),
    };
    let (old, new) = sides(&difference.old, &difference.new, Scale::Celsius);
    DifferenceOut {
        place,
        step,
        what: difference.key.word(),
        at_c: at.map(Figure::celsius),
        of,
        bottle: difference.bottle.map(plain),
        old: value(&difference.old, old),
        new: value(&difference.new, new),
    }
}

fn value(value: &Value<'_>, text: String) -> ValueOut {
    let is_there = *value != Value::Absent;
    ValueOut { text: is_there.then_some(text), ms: time_of(value).map(|time| time.ms) }
}
