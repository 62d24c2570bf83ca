//! Reports times that are inherited although the film or the bath changed.

use super::merge::{Merged, MergedStep};
use crate::model::{Dilution, Stated, StepKind};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, say};

/// Reports every development with the parent's time and another film or bath.
pub(super) fn old_times(parent: &Merged<'_>, merged: &Merged<'_>, faults: &mut Vec<Diagnostic>) {
    let film = changed(film_of(parent), film_of(merged));
    for step in merged.steps.iter().filter(|step| step.kind == StepKind::Develop) {
        let before = parent.steps.iter().find(|old| (old.kind, &old.name) == (step.kind, &step.name));
        let Some(before) = before else { continue };
        let Some(time) = kept(before, step) else { continue };
        let bath = changed(bath_of(before), bath_of(step));
        if let Some((what, span)) = film.map(|span| ("film", span)).or(bath.map(|span| ("bath", span))) {
            let message = format!("the {what} of '{}' changed, and its time did not", step.title());
            faults.push(
                Diagnostic::error("inherited-time", span, message)
                    .other(time, format!("this time is for the other {what}"))
                    .help("state a chart or a time for it here, from a test with this film and bath"),
            );
        }
    }
}

/// The place of the time that a step inherits.
fn kept(before: &MergedStep<'_>, step: &MergedStep<'_>) -> Option<Span> {
    let (old, new) = before.time_row().zip(step.time_row())?;
    std::ptr::eq(old, new).then_some(new.span)
}

fn film_of<'a>(recipe: &Merged<'a>) -> Option<Stated<&'a str>> {
    recipe.stated(say::UsedFilm::film)
}

/// The solution and the dilution of a step.
fn bath_of<'a>(step: &MergedStep<'a>) -> Option<Stated<(Option<&'a str>, Option<&'a Dilution>)>> {
    let row = step.one::<say::In>()?;
    Some(Stated::new((row.get(say::In::solution), row.get(say::In::dilution)), row.span))
}

/// The place of the new value, if it differs.
fn changed<T: PartialEq>(old: Option<Stated<T>>, new: Option<Stated<T>>) -> Option<Span> {
    let (old, new) = old.zip(new)?;
    (old.value != new.value).then_some(new.span)
}
