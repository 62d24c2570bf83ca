//! A comparison as text: a line for each difference.

use super::super::page::{Look, Page, Tone, padded};
use super::super::plain::plain;
use super::values::{Writer, sides};
use crate::compare::{Difference, Outcome, Place};
use crate::compile::{Scale, fingerprint};
use crate::model::Key;

/// The widest column of names; a longer name pushes its own line aside.
const COLUMN_MOST: usize = 30;

/// The comparison as text, with temperatures in that scale.
#[must_use]
pub fn comparison(outcomes: &[Outcome<'_>], scale: Scale, look: Look) -> String {
    let mut page = Page::new(look);
    for outcome in outcomes {
        let (old, new) = match outcome {
            Outcome::Both { old, new, .. } => (old, new),
            Outcome::Gone(recipe) | Outcome::Added(recipe) => (recipe, recipe),
        };
        let arrow = |old: String, new: String| if old == new { old } else { format!("{old} → {new}") };
        let names = arrow(plain(&old.name), plain(&new.name));
        let fate = match outcome {
            Outcome::Both { .. } => "",
            Outcome::Gone(_) => "  gone",
            Outcome::Added(_) => "  added",
        };
        let fingerprints = arrow(fingerprint(old), fingerprint(new)) + fate;
        page.hang(&[(Tone::Head, &names), (Tone::Body, "  ")], (Tone::Body, &fingerprints));
        if let Outcome::Both { differences, .. } = outcome {
            let (work, wording): (Vec<_>, Vec<_>) =
                differences.iter().partition(|difference| difference.is_work);
            lines(&mut page, &work, scale);
            if !wording.is_empty() {
                page.line(&[(Tone::Body, "  without effect on the work:")]);
                lines(&mut page, &wording, scale);
            }
        }
    }
    page.blank();
    let last = match outcomes.iter().map(Outcome::count).sum() {
        0 => "the same work".to_owned(),
        count => super::super::figure::count(count, "difference"),
    };
    page.line(&[(Tone::Head, &last)]);
    page.finish()
}

/// A line for each difference: its place, its name and both sides.
fn lines(page: &mut Page, differences: &[&Difference<'_>], scale: Scale) {
    let width = |words: &dyn Fn(&Difference<'_>) -> String| {
        let widths = differences.iter().map(|difference| words(difference).chars().count());
        widths.filter(|width| *width <= COLUMN_MOST).max().unwrap_or(0)
    };
    let places = width(&|difference| place(difference.place));
    let names = width(&|difference| called(difference, scale));
    for difference in differences {
        let (old, new) = sides(&difference.old, &difference.new, scale);
        let place = padded(&place(difference.place), places);
        let name = format!("  {}  ", padded(&called(difference, scale), names));
        let lead = [(Tone::Body, "  "), (Tone::Step, place.as_str()), (Tone::Body, &name)];
        page.hang(&lead, (Tone::Body, &format!("{old} → {new}")));
    }
}

fn place(place: Place<'_>) -> String {
    match place {
        Place::Recipe => "recipe".to_owned(),
        Place::Film => "film".to_owned(),
        Place::Step(kind, Some(name)) => format!("{} {}", kind.word(), plain(name)),
        Place::Step(kind, None) => kind.word().to_owned(),
    }
}

/// The name of what differs.
fn called(difference: &Difference<'_>, scale: Scale) -> String {
    let bottle = difference.bottle.map(|bottle| format!(" {}", plain(bottle))).unwrap_or_default();
    match difference.key {
        Key::ClearsIn(solution, dilution) => format!("clears in {} {dilution}", plain(solution)),
        Key::Formula(_) => format!("formula{bottle}"),
        Key::Makes(_) => format!("formula{bottle} makes"),
        Key::Item(_, what) | Key::ItemOrder(_, what) => format!("formula{bottle}: {}", plain(what)),
        Key::TimeAt(at) => format!("time at {}", Writer { scale, places: 2 }.degrees(at)),
        key => key.word().replace('-', " "),
    }
}
