//! A comparison as JSON, held to `grammar/comparison.schema.json`.

use super::super::object::{Json, Object, celsius, list};
use super::super::plain::plain;
use super::values::sides;
use crate::compare::{Difference, Outcome, Place};
use crate::compile::{Scale, fingerprint};
use crate::model::{Key, Recipe, Temperature, Value};
use crate::source::Sources;

/// The version of the format; it grows with each incompatible change.
const VERSION: u32 = 1;

/// The comparison as one indented JSON object. The sources name the files of each side's recipes.
#[must_use]
pub fn comparison_json(
    outcomes: &[Outcome<'_>],
    at: &[Temperature],
    (old, new): (&Sources, &Sources),
) -> String {
    Object::new()
        .put("comparison", VERSION)
        .put("same", outcomes.iter().all(|outcome| outcome.count() == 0))
        .put("temperatures_c", list(at, |at| celsius(*at)))
        .put("recipes", list(outcomes, |outcome| recipe(outcome, old, new)))
        .text()
}

fn recipe(outcome: &Outcome<'_>, old_files: &Sources, new_files: &Sources) -> Object {
    let (old, new, all) = match *outcome {
        Outcome::Both { old, new, ref differences } => (Some(old), Some(new), differences.as_slice()),
        Outcome::Gone(old) => (Some(old), None, &[][..]),
        Outcome::Added(new) => (None, Some(new), &[][..]),
    };
    let some =
        |is_work: bool| list(all.iter().filter(|difference| difference.is_work == is_work), difference);
    Object::new()
        .put("old", old.map(|recipe| side(recipe, old_files)))
        .put("new", new.map(|recipe| side(recipe, new_files)))
        .put("same", outcome.count() == 0)
        .put("differences", some(true))
        .put("said", some(false))
}

fn side(recipe: &Recipe, files: &Sources) -> Object {
    Object::new()
        .put("name", plain(&recipe.name))
        .put("file", plain(files.name(recipe.file)))
        .put("fingerprint", fingerprint(recipe))
}

fn difference(difference: &Difference<'_>) -> Object {
    let (place, step) = match difference.place {
        Place::Recipe => ("recipe", None),
        Place::Film => ("film", None),
        Place::Step(kind, name) => {
            ("step", Some(Object::new().put("kind", kind.word()).put("name", name.map(plain))))
        }
    };
    let (at, of) = match difference.key {
        Key::TimeAt(at) => (Some(at), None),
        Key::ClearsIn(solution, dilution) => (None, Some(format!("{} {dilution}", plain(solution)))),
        Key::Item(_, what) | Key::ItemOrder(_, what) => (None, Some(plain(what))),
        _ => (None, None),
    };
    let (old, new) = sides(&difference.old, &difference.new, Scale::Celsius);
    Object::new()
        .put("place", place)
        .put("step", step)
        .put("what", difference.key.word())
        .put("at_c", at.map(celsius))
        .put("of", of)
        .put("bottle", difference.bottle.map(plain))
        .put("old", value(&difference.old, old))
        .put("new", value(&difference.new, new))
}

/// A value in words, and in milliseconds if it is a time; `null` words for an absent value.
fn value(value: &Value<'_>, text: String) -> Object {
    let text = if *value == Value::Absent { Json::Null } else { Json::Text(text) };
    let ms = if let Value::Time(time) = value { Some(time.ms) } else { None };
    Object::new().put("text", text).put("ms", ms)
}
