//! What stands past the open texts and the files they use: every recipe below the root, a batch at a time,
//! so that memory does not grow with their number.

use super::named::{Named, made, named};
use super::refusal::Refusal;
use super::view::{Lent, View};
use crate::source::{FileId, Span};

/// So many files are read together; they share what they use.
const BATCH: usize = 128;

/// Goes through the recipes below the root of a file that the look has not read. `each` has a look at some of
/// them, in which what is named there has its own number. `false`, and nothing done, if there are too many.
pub(super) fn through(
    view: &View,
    lent: Lent<'_>,
    (file, target): (FileId, &Named),
    each: &mut dyn FnMut(&View, &Named) -> Result<(), Refusal>,
) -> Result<bool, Refusal> {
    let Some(place) = made(view, target).filter(|_| !matches!(target, Named::Prefix(..))) else {
        return Ok(true);
    };
    let Some(unread) = view.unread(file) else { return Ok(false) };
    for batch in unread.chunks(BATCH) {
        let other = View::over(lent, batch);
        if let Some(same) = again(view, place, &other) {
            each(&other, &same)?;
        }
    }
    Ok(true)
}

/// The places that say it in the files that a look began with; those that they use have their own turn.
pub(super) fn own(view: &View, mut places: Vec<Span>) -> Vec<Span> {
    places.retain(|span| view.roots().binary_search(&span.file).is_ok());
    places
}

/// What was made at a place, in another look.
fn again(view: &View, place: Span, other: &View) -> Option<Named> {
    let address = view.uri(place.file);
    let file = other.sources.iter().map(|(file, _)| file).find(|file| other.uri(*file) == address)?;
    let (there, same) = named(other, file, place.start)?;
    let is_same = made(other, &same) == Some(there)
        && (there.start, there.end) == (place.start, place.end)
        && other.sources.slice(there) == view.sources.slice(place);
    is_same.then_some(same)
}
