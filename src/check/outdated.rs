//! Finds where a file names a deprecated recipe.

use super::build::declared;
use super::gather::Units;
use super::scope::{Key, Scopes};
use crate::source::{FileId, Map, Span};
use crate::vocabulary::{Declared, Reading, Value, say};

/// A place where a declaration names a deprecated recipe.
#[derive(Debug)]
pub(super) struct Outdated<'a> {
    pub(super) name: &'a str,
    pub(super) span: Span,
    /// The span of the `deprecated` statement.
    pub(super) said: Span,
    pub(super) reason: &'a str,
    /// The recipe to use instead, by the name that the `deprecated` statement gives.
    pub(super) instead: Option<&'a str>,
    /// The recipe to use instead, by its name in the file that names the deprecated one. `None` if that file cannot
    /// name it.
    pub(super) here: Option<String>,
}

type All<'a> = Map<Key, &'a Reading>;

pub(super) fn outdated<'a>(units: &'a Units, scopes: &Scopes) -> Vec<Outdated<'a>> {
    let said =
        |reading: &'a Reading| reading.rows.iter().find(|row| row.is::<say::Deprecated>() && row.sound);
    let all: All<'a> =
        declared(units, Declared::Recipe).filter_map(|(key, recipe)| Some((key, said(recipe)?))).collect();
    let mut found = Vec::new();
    if all.is_empty() {
        return found;
    }
    for unit in units.values() {
        for (at, reading) in unit.readings.iter().enumerate() {
            let within = Key { file: unit.file, at };
            mentions(reading, &mut |(name, span)| found.extend(one(&all, scopes, within, (name, span))));
        }
    }
    found
}

fn mentions<'a>(reading: &'a Reading, each: &mut dyn FnMut((&'a str, Span))) {
    for item in &reading.items {
        if let Value::Mention(Declared::Recipe, name) = &item.value {
            each((name, item.span));
        }
    }
    reading.rows.iter().for_each(|row| mentions(row, each));
}

/// The [`Outdated`] for `name`, which the declaration `within` contains; `None` if it is not the name of a deprecated
/// recipe. The deprecated recipe itself may contain the name. So may the recipe to use instead, because it may derive
/// from the deprecated one.
fn one<'a>(
    all: &All<'a>,
    scopes: &Scopes,
    within: Key,
    (name, span): (&'a str, Span),
) -> Option<Outdated<'a>> {
    let key = scopes.known(Declared::Recipe, name, within.file)?;
    let said = all.get(&key)?.view::<say::Deprecated>()?;
    let instead = said.instead();
    let target = instead.and_then(|instead| scopes.known(Declared::Recipe, instead, key.file));
    if target == Some(within) || within == key {
        return None;
    }
    let here = target.and_then(|target| name_of(scopes, target, within.file));
    Some(Outdated { name, span, said: said.span, reason: said.reason()?, instead, here })
}

fn name_of(scopes: &Scopes, target: Key, file: FileId) -> Option<String> {
    let mut known = scopes.all(file, Declared::Recipe);
    known.find(|(_, key)| *key == target).map(|(name, _)| name.to_owned())
}
