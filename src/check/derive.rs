//! Follows `from`: a recipe with what it inherits. Names resolve in the file that wrote them.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::gather::Units;
use super::merge::{Merged, MergedStep, merge};
use super::scope::{Key, Scopes};
use super::{circle, error};
use crate::model::{Dilution, Stated, StepKind};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Declared, Lines as _, Reading, say};

/// The most recipes derived one from another.
const DEPTH_MAX: usize = 32;
/// The most that all recipes of a run may inherit: bytes of text, and 32 for each statement.
const INHERITED_MAX: usize = 4 << 20;

pub(super) struct Deriver<'a> {
    pub(super) units: &'a Units,
    pub(super) scopes: &'a Scopes,
    pub(super) done: BTreeMap<Key, Option<Rc<Merged<'a>>>>,
    /// How much was inherited before, see [`INHERITED_MAX`].
    pub(super) inherited: usize,
}

/// The name of the recipe that a recipe is derived from.
pub(super) fn parent_of(recipe: &Reading) -> Option<(&str, Span)> {
    recipe.view::<say::RecipeHeader>()?.said(say::RecipeHeader::parent)
}

impl<'a> Deriver<'a> {
    /// A recipe with all it inherits; `None` if it is in a circle or its parent is unknown.
    pub(super) fn recipe(&mut self, key: Key, faults: &mut Vec<Diagnostic>) -> Option<Rc<Merged<'a>>> {
        let mut line: Vec<(Key, &'a Reading)> = Vec::new();
        let mut next = Some(key);
        let mut parent = None;
        while let Some(key) = next {
            if let Some(known) = self.done.get(&key) {
                if let Some(from) = line.iter().position(|(known, _)| *known == key) {
                    let line: Vec<&Reading> = line.iter().skip(from).map(|(_, own)| *own).collect();
                    let names = line.iter().chain(line.first()).filter_map(|own| Some(own.name()?.0));
                    let help = "give one of them its own steps, without a parent";
                    let spans = line.iter().map(|own| own.span);
                    faults.extend(circle("from-circle", ("recipes", " from "), names, spans, help));
                    return None;
                }
                parent = Some(known.clone());
                break;
            }
            let own = self.units.get(&key.file)?.readings.get(key.at)?;
            // Until it is merged, it counts as one that cannot be.
            self.done.insert(key, None);
            line.push((key, own));
            next = None;
            if let Some(name) = parent_of(own) {
                next = self.scopes.find(Declared::Recipe, name, faults);
                parent = next.is_none().then_some(None);
            }
        }
        for (key, own) in line.into_iter().rev() {
            let merged = match parent {
                Some(parent) => parent.and_then(|parent| self.derived(&parent, own, faults)),
                None => Some(merge(None, own, faults)),
            };
            let merged = merged.map(Rc::new);
            self.done.insert(key, merged.clone());
            parent = Some(merged);
        }
        parent.flatten()
    }

    fn derived(
        &mut self,
        parent: &Merged<'a>,
        own: &'a Reading,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Merged<'a>> {
        if parent.depth == DEPTH_MAX {
            faults.push(error(
                "from-too-deep",
                own.span,
                "too many recipes are derived one from another",
                "derive from an earlier one; at most 32 may follow each other",
            ));
            return None;
        }
        // Reported once for the run.
        let reported = self.inherited > INHERITED_MAX;
        self.inherited = self.inherited.saturating_add(weight(parent));
        if self.inherited > INHERITED_MAX {
            let message = "recipes inherit too much for one run";
            let help = "derive from shorter recipes, or check fewer files at once";
            faults.extend((!reported).then(|| error("too-much-derived", own.span, message, help)));
            return None;
        }
        let merged = merge(Some(parent), own, faults);
        old_times(parent, &merged, faults);
        Some(merged)
    }
}

/// How much a recipe inherits from this one, see [`INHERITED_MAX`].
fn weight(parent: &Merged<'_>) -> usize {
    let steps = parent.steps.iter().flat_map(|step| &step.rows);
    let rows = parent.rows.iter().chain(steps);
    let bytes = |row: &Reading| (row.extent.end.saturating_sub(row.extent.start)) as usize;
    parent.steps.len() * 32 + rows.map(|row| bytes(row) + 32).sum::<usize>()
}

/// Reports every development with the parent's time and another film or bath.
fn old_times(parent: &Merged<'_>, merged: &Merged<'_>, faults: &mut Vec<Diagnostic>) {
    let film = changed(parent.stated(say::UsedFilm::film), merged.stated(say::UsedFilm::film));
    for step in merged.steps.iter().filter(|step| step.id.kind == StepKind::Develop) {
        let Some(before) = parent.steps.iter().find(|old| old.id == step.id) else { continue };
        let times = before.time_row().zip(step.time_row());
        let Some((_, time)) = times.filter(|(old, new)| std::ptr::eq(*old, *new)) else { continue };
        let bath = || changed(bath_of(before), bath_of(step));
        if let Some((what, span)) = film.map(|span| ("film", span)).or_else(|| bath().map(|it| ("bath", it)))
        {
            faults.push(
                error(
                    "inherited-time",
                    span,
                    format!("the {what} of '{}' changed, and its time did not", step.id),
                    "state a chart or a time for it here, from a test with this film and bath",
                )
                .other(time.span, format!("this time is for the other {what}")),
            );
        }
    }
}

fn bath_of<'a>(step: &MergedStep<'a>) -> Option<Stated<(Option<&'a str>, Option<&'a Dilution>)>> {
    let row = step.one::<say::In>()?;
    Some(Stated::new((row.solution(), row.dilution()), row.span))
}

/// The span of the new value, if it differs.
fn changed<T: PartialEq>(old: Option<Stated<T>>, new: Option<Stated<T>>) -> Option<Span> {
    let (old, new) = old.zip(new)?;
    (old.value != new.value).then_some(new.span)
}
