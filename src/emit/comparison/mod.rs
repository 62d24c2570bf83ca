//! The differences between two recipes, as text with a line for each, and as JSON held to
//! `grammar/comparison.schema.json`.

mod values;

use super::figure::count;
use super::object::{Json, Object, list};
use super::page::{Look, Page, Tone, padded, widest};
use super::plain::plain;
use crate::compare::{Difference, Outcome, Place};
use crate::compile::{Scale, fingerprint};
use crate::model::{Key, Recipe, Temperature, Value};
use crate::source::Sources;
use values::{Writer, sides};

/// The version of the JSON; it grows with each incompatible change.
const VERSION: u32 = 1;
/// The widest column of names; a longer name pushes its own line aside.
const COLUMN_MOST: usize = 30;

/// The comparison as text, with temperatures in that scale.
#[must_use]
pub fn comparison(outcomes: &[Outcome<'_>], scale: Scale, look: Look) -> String {
    let mut page = Page::new(look);
    for outcome in outcomes {
        let arrow = |text: fn(&Recipe) -> String| {
            let mut texts: Vec<String> = [outcome.old, outcome.new].into_iter().flatten().map(text).collect();
            texts.dedup();
            texts.join(" → ")
        };
        let fate = match (outcome.old, outcome.new) {
            (_, None) => "  gone",
            (None, _) => "  added",
            _ => "",
        };
        let names = arrow(|recipe| plain(&recipe.name));
        page.hang(&[(Tone::Head, &names), (Tone::Body, "  ")], (Tone::Body, &(arrow(fingerprint) + fate)));
        let (work, wording): (Vec<_>, Vec<_>) =
            outcome.differences.iter().partition(|difference| difference.is_work);
        lines(&mut page, &work, scale);
        if !wording.is_empty() {
            page.body("  ", "without effect on the work:");
            lines(&mut page, &wording, scale);
        }
    }
    page.blank();
    let last = match outcomes.iter().map(Outcome::count).sum() {
        0 => "the same work".to_owned(),
        number => count(number, "difference"),
    };
    page.line(&[(Tone::Head, &last)]);
    page.finish()
}

/// A line for each difference: its place, its name and both sides.
fn lines(page: &mut Page, differences: &[&Difference<'_>], scale: Scale) {
    let of = |difference: &&Difference<'_>| {
        let place = match difference.place {
            Place::Recipe => "recipe".to_owned(),
            Place::Film => "film".to_owned(),
            Place::Step(kind, name) => kind.word().to_owned() + &after_space(name),
        };
        (place, called(difference, scale), sides(&difference.old, &difference.new, scale))
    };
    let rows: Vec<_> = differences.iter().map(of).collect();
    let is_short = |name: &&String| name.chars().count() <= COLUMN_MOST;
    let places = widest(rows.iter().map(|(place, ..)| place).filter(is_short));
    let names = widest(rows.iter().map(|(_, name, _)| name).filter(is_short));
    for (place, name, (old, new)) in &rows {
        let (place, name) = (padded(place, places), format!("  {}  ", padded(name, names)));
        let lead = [(Tone::Body, "  "), (Tone::Step, place.as_str()), (Tone::Body, &name)];
        page.hang(&lead, (Tone::Body, &format!("{old} → {new}")));
    }
}

/// The name after a space, or nothing.
fn after_space(name: Option<&str>) -> String {
    name.map(|name| format!(" {}", plain(name))).unwrap_or_default()
}

/// The name of what differs.
fn called(difference: &Difference<'_>, scale: Scale) -> String {
    let bottle = after_space(difference.bottle);
    match difference.key {
        Key::ClearsIn(solution, dilution) => format!("clears in {} {dilution}", plain(solution)),
        Key::Formula(_) => format!("formula{bottle}"),
        Key::Makes(_) => format!("formula{bottle} makes"),
        Key::Item(_, what) | Key::ItemOrder(_, what) => format!("formula{bottle}: {}", plain(what)),
        Key::TimeAt(at) => format!("time at {}", Writer { scale, places: 2 }.degrees(at)),
        key => key.word().replace('-', " "),
    }
}

/// The comparison as one indented JSON object. The sources name the files of each side's recipes.
#[must_use]
pub fn comparison_json(
    outcomes: &[Outcome<'_>],
    at: &[Temperature],
    (old, new): (&Sources, &Sources),
) -> String {
    Object::of("comparison", VERSION)
        .put("same", outcomes.iter().all(|outcome| outcome.count() == 0))
        .put("temperatures_c", list(at, |at| *at))
        .put("recipes", list(outcomes, |outcome| recipe(outcome, old, new)))
        .text()
}

fn recipe(outcome: &Outcome<'_>, old: &Sources, new: &Sources) -> Object {
    let side = |recipe: &Recipe, files: &Sources| {
        Object::of("name", &recipe.name)
            .put("file", files.name(recipe.file))
            .put("fingerprint", fingerprint(recipe))
    };
    let some = |is_work| {
        list(outcome.differences.iter().filter(|difference| difference.is_work == is_work), difference)
    };
    Object::default()
        .put("old", outcome.old.map(|recipe| side(recipe, old)))
        .put("new", outcome.new.map(|recipe| side(recipe, new)))
        .put("same", outcome.count() == 0)
        .put("differences", some(true))
        .put("said", some(false))
}

fn difference(difference: &Difference<'_>) -> Object {
    let (place, step) = match difference.place {
        Place::Recipe => ("recipe", None),
        Place::Film => ("film", None),
        Place::Step(kind, name) => ("step", Some(Object::of("kind", kind.word()).put("name", name))),
    };
    let (at, of) = match difference.key {
        Key::TimeAt(at) => (Some(at), None),
        Key::ClearsIn(solution, dilution) => (None, Some(format!("{solution} {dilution}"))),
        Key::Item(_, what) | Key::ItemOrder(_, what) => (None, Some(what.to_owned())),
        _ => (None, None),
    };
    let (old, new) = sides(&difference.old, &difference.new, Scale::Celsius);
    Object::of("place", place)
        .put("step", step)
        .put("what", difference.key.word())
        .put("at_c", at)
        .put("of", of)
        .put("bottle", difference.bottle)
        .put("old", value(&difference.old, old))
        .put("new", value(&difference.new, new))
}

/// A value in words, and in milliseconds if it is a time; `null` words for an absent value.
fn value(value: &Value<'_>, text: String) -> Object {
    let text = if *value == Value::Absent { Json::Null } else { text.into() };
    let ms = if let Value::Time(time) = value { Some(*time) } else { None };
    Object::of("text", text).put("ms", ms)
}
