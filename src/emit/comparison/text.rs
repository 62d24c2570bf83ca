//! A comparison as text: each recipe by its name and fingerprints, below it a line a difference, and last
//! how many there are.

use super::super::page::{Page, padded};
use super::super::plain::plain;
use super::super::style::{Look, Tone};
use super::aspect::{called, place};
use super::wording::sides;
use crate::compare::{Difference, Outcome};
use crate::compile::{Scale, fingerprint};
use crate::model::Recipe;

/// A column of names is no wider than this; what is longer pushes its own line aside.
const COLUMN_MOST: usize = 30;

/// The comparison in text, with temperatures in that scale.
#[must_use]
pub fn comparison(outcomes: &[Outcome<'_>], scale: Scale, look: Look) -> String {
    let mut page = Page::new(look);
    for outcome in outcomes {
        match outcome {
            Outcome::Both { old, new, differences } => {
                head(&mut page, old, new);
                let (work, said): (Vec<_>, Vec<_>) =
                    differences.iter().partition(|difference| difference.is_work);
                lines(&mut page, &work, scale);
                if !said.is_empty() {
                    page.line(&[(Tone::Body, "  said, not done:")]);
                    lines(&mut page, &said, scale);
                }
            }
            Outcome::Gone(recipe) => alone(&mut page, recipe, "gone"),
            Outcome::Added(recipe) => alone(&mut page, recipe, "added"),
        }
    }
    page.blank();
    let count: usize = outcomes.iter().map(Outcome::count).sum();
    let last = match count {
        0 => "the same work".to_owned(),
        1 => "1 difference".to_owned(),
        several => format!("{several} differences"),
    };
    page.line(&[(Tone::Head, &last)]);
    page.finish()
}

fn head(page: &mut Page, old: &Recipe, new: &Recipe) {
    let arrow = |old: String, new: String| if old == new { old } else { format!("{old} → {new}") };
    let names = arrow(plain(&old.name), plain(&new.name));
    let marks = arrow(fingerprint(old), fingerprint(new));
    page.hang(&[(Tone::Head, &names), (Tone::Body, "  ")], (Tone::Body, &marks));
}

fn alone(page: &mut Page, recipe: &Recipe, what: &str) {
    let name = plain(&recipe.name);
    let told = format!("{}  {what}", fingerprint(recipe));
    page.hang(&[(Tone::Head, &name), (Tone::Body, "  ")], (Tone::Body, &told));
}

/// A line a difference: where, in what, and both sides.
fn lines(page: &mut Page, differences: &[&Difference<'_>], scale: Scale) {
    let width = |words: &dyn Fn(&Difference<'_>) -> String| {
        let widths = differences.iter().map(|difference| words(difference).chars().count());
        widths.filter(|width| *width <= COLUMN_MOST).max().unwrap_or(0)
    };
    let places = width(&|difference| place(difference.place));
    let aspects = width(&|difference| called(difference, scale));
    for difference in differences {
        let (old, new) = sides(&difference.old, &difference.new, scale);
        let place = padded(&place(difference.place), places);
        let aspect = padded(&called(difference, scale), aspects);
        let lead =
            [(Tone::Body, "  "), (Tone::Step, place.as_str()), (Tone::Body, "  "), (Tone::Body, &aspect)];
        page.hang(&[&lead[..], &[(Tone::Body, "  ")]].concat(), (Tone::Body, &format!("{old} → {new}")));
    }
}
