//! The recipes below the root that no open text uses, in batches, so that memory does not grow with their number.

use super::named::{Named, made, named};
use super::refusal::Refusal;
use super::view::{Lent, View};
use crate::source::{FileId, Span};

/// The number of files read together; they share the files that they use.
const BATCH: usize = 128;

/// Calls `each` with a view of every batch of recipes below the root that this view has not read, and the name in that
/// view. Returns `false`, without a call, if there are too many.
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

/// The spans in the root files of a view; the files that they use have their own turn.
pub(super) fn own(view: &View, mut places: Vec<Span>) -> Vec<Span> {
    places.retain(|span| view.roots().binary_search(&span.file).is_ok());
    places
}

/// The same name in another view.
fn again(view: &View, place: Span, other: &View) -> Option<Named> {
    let address = view.uri(place.file);
    let file = other.sources.iter().map(|(file, _)| file).find(|file| other.uri(*file) == address)?;
    let (there, same) = named(other, file, place.start)?;
    let is_same = made(other, &same) == Some(there)
        && (there.start, there.end) == (place.start, place.end)
        && other.sources.slice(there) == view.sources.slice(place);
    is_same.then_some(same)
}
