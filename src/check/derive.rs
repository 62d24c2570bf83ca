//! `from`: a recipe with what it inherits, still as readings. Each reading keeps the file that wrote
//! it, so names in it resolve where they were written.

use std::collections::BTreeMap;

use super::gather::Units;
use super::inherit;
use super::merge::{Merged, merge};
use super::read::Reading;
use super::scope::{Key, Scopes};
use crate::source::{Diagnostic, Sources};
use crate::vocabulary::Declared;

/// The faults that following `from` tells.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("from-circle", "recipes derived from each other in a circle"),
    ("from-too-deep", "more than 32 recipes derived one from another"),
];

/// So many recipes may be derived one from another.
const DEPTH_MAX: usize = 32;

/// Derives recipes, each once.
pub(super) struct Deriver<'a> {
    pub(super) units: &'a Units,
    pub(super) scopes: &'a Scopes,
    pub(super) sources: &'a Sources,
    pub(super) done: BTreeMap<Key, Option<Merged<'a>>>,
}

impl<'a> Deriver<'a> {
    /// The recipe of that declaration with all it inherits; `None` if it stands in a circle or derives
    /// from what could not be found.
    pub(super) fn recipe(&mut self, key: Key, faults: &mut Vec<Diagnostic>) -> Option<Merged<'a>> {
        let mut line: Vec<(Key, &'a Reading)> = Vec::new();
        let mut now = key;
        let mut base = None;
        loop {
            if let Some(known) = self.done.get(&now) {
                base = Some(known.clone());
                break;
            }
            let own = self.units.get(&now.file)?.readings.get(now.at)?;
            if let Some(from) = line.iter().position(|(key, _)| *key == now) {
                self.circle(line.get(from..).unwrap_or(&[]), faults);
                line.iter().for_each(|(key, _)| _ = self.done.insert(*key, None));
                return None;
            }
            line.push((now, own));
            let parent = own.has("from").then(|| own.names().nth(1)).flatten();
            let Some((name, span)) = parent else { break };
            match self.scopes.find(Declared::Recipe, name, span, faults) {
                Some(parent) => now = parent,
                None => {
                    base = Some(None);
                    break;
                }
            }
        }
        self.descend(line, base, faults)
    }

    /// From the oldest not yet known down to the one asked for.
    fn descend(
        &mut self,
        line: Vec<(Key, &'a Reading)>,
        mut base: Option<Option<Merged<'a>>>,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Merged<'a>> {
        for (key, own) in line.into_iter().rev() {
            let merged = match base {
                Some(None) => None,
                Some(Some(parent)) if parent.depth == DEPTH_MAX => {
                    faults.push(too_deep(own));
                    None
                }
                Some(Some(parent)) => {
                    let merged = merge(Some(&parent), own, faults);
                    inherit::old_times(&parent, &merged, faults);
                    Some(merged)
                }
                None => Some(merge(None, own, faults)),
            };
            self.done.insert(key, merged.clone());
            base = Some(merged);
        }
        base.flatten()
    }

    fn circle(&self, line: &[(Key, &'a Reading)], faults: &mut Vec<Diagnostic>) {
        let name = |reading: &Reading| reading.name().map_or(String::new(), |(name, _)| name.to_owned());
        let Some((_, first)) = line.first() else { return };
        let mut names: Vec<String> = line.iter().map(|(_, reading)| name(reading)).collect();
        names.push(name(first));
        let message = if line.len() == 1 {
            format!("'{}' is derived from itself", name(first))
        } else {
            format!("these recipes are derived from each other: {}", names.join(" from "))
        };
        let mut fault = Diagnostic::error("from-circle", first.span, message)
            .help("let one of them stand by itself, with its steps written out");
        for (_, reading) in line.iter().skip(1) {
            let file = self.sources.name(reading.span.file);
            fault = fault.other(reading.span, format!("and this, in {file}"));
        }
        faults.push(fault);
    }
}

fn too_deep(own: &Reading) -> Diagnostic {
    Diagnostic::error("from-too-deep", own.span, "too many recipes are derived one from another")
        .help("derive from one nearer the beginning; at most 32 may follow each other")
}
