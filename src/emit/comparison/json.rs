//! A comparison as JSON, for a program that watches recipes. The shapes here are a promise to others and
//! are held to `grammar/comparison.schema.json`.

use serde::Serialize;

use super::super::json::Figure;
use super::super::plain::plain;
use super::aspect::word;
use super::wording::{sides, time_of};
use crate::compare::{Aspect, Difference, Outcome, Place, Value};
use crate::compile::{Scale, fingerprint};
use crate::model::{Recipe, Temperature};
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
pub fn comparison_json(outcomes: &[Outcome], at: &[Temperature], (old, new): (&Sources, &Sources)) -> String {
    let out = ComparisonOut {
        comparison: VERSION,
        same: outcomes.iter().all(|outcome| outcome.count() == 0),
        temperatures_c: at.iter().copied().map(Figure::celsius).collect(),
        recipes: outcomes.iter().map(|outcome| recipe(outcome, old, new)).collect(),
    };
    let mut text = serde_json::to_string_pretty(&out).unwrap_or_else(|fault| {
        unreachable!("every key above is a word and every figure a decimal: {fault}")
    });
    text.push('\n');
    text
}

fn recipe(outcome: &Outcome, old_files: &Sources, new_files: &Sources) -> RecipeOut {
    let same = outcome.count() == 0;
    let (old, new, all) = match outcome {
        Outcome::Both { old, new, differences } => (Some(old), Some(new), differences.as_slice()),
        Outcome::Gone(old) => (Some(old), None, &[][..]),
        Outcome::Added(new) => (None, Some(new), &[][..]),
    };
    let told = |of_the_work: bool| {
        let some = all.iter().filter(|difference| difference.is_of_the_work() == of_the_work);
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

fn difference(difference: &Difference) -> DifferenceOut {
    let (place, step) = match &difference.place {
        Place::Recipe => ("recipe", None),
        Place::Film => ("film", None),
        Place::Step(kind, name) => {
            ("step", Some(StepOut { kind: kind.word(), name: name.as_deref().map(plain) }))
        }
    };
    let at = if let Aspect::TimeAt(at) = difference.aspect { Some(at) } else { None };
    let (old, new) = sides(&difference.old, &difference.new, Scale::Celsius);
    let (of, bottle) = of(&difference.aspect);
    DifferenceOut {
        place,
        step,
        what: word(&difference.aspect),
        at_c: at.map(Figure::celsius),
        of,
        bottle: bottle.map(|bottle| plain(&bottle)),
        old: value(&difference.old, old),
        new: value(&difference.new, new),
    }
}

/// What an aspect is more closely about: an ingredient, a bath; and of which bottle.
fn of(aspect: &Aspect) -> (Option<String>, Option<String>) {
    if let Aspect::Clears(solution, dilution) = aspect {
        return (Some(format!("{} {dilution}", plain(solution))), None);
    }
    if let Aspect::Item(part, what) | Aspect::ItemOrder(part, what) = aspect {
        return (Some(plain(what)), part.clone());
    }
    if let Aspect::Formula(part) | Aspect::FormulaOrder(part) | Aspect::Makes(part) = aspect {
        return (None, part.clone());
    }
    (None, None)
}

fn value(value: &Value, text: String) -> ValueOut {
    let is_there = *value != Value::Absent;
    ValueOut { text: is_there.then_some(text), ms: time_of(value).map(|time| time.ms) }
}
