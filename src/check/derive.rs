//! Follows `from`: a recipe with what it inherits, as readings. Names resolve in the file that wrote them.

use std::collections::{BTreeMap, BTreeSet};

use super::gather::Units;
use super::inherit;
use super::merge::{Merged, merge};
use super::scope::{Key, Scopes};
use crate::source::{Diagnostic, Sources, clip, first_few};
use crate::vocabulary::{Declared, Reading, say};

/// The most recipes derived one from another.
const DEPTH_MAX: usize = 32;
/// The most that all recipes of a run may inherit, in bytes of text and 32 for each statement. A recipe of sixty
/// lines has some 3 KiB.
const INHERITED_MAX: usize = 4 << 20;

/// The most recipes of a circle that are shown besides the first.
const OTHERS_MAX: usize = 32;

/// Derives recipes, each once.
pub(super) struct Deriver<'a> {
    pub(super) units: &'a Units,
    pub(super) scopes: &'a Scopes,
    pub(super) sources: &'a Sources,
    pub(super) done: BTreeMap<Key, Option<Merged<'a>>>,
    /// How much was inherited so far, see [`INHERITED_MAX`].
    pub(super) inherited: usize,
}

impl<'a> Deriver<'a> {
    /// A recipe with all it inherits; `None` if it is in a circle or its parent is unknown.
    pub(super) fn recipe(&mut self, key: Key, faults: &mut Vec<Diagnostic>) -> Option<Merged<'a>> {
        let mut line: Vec<(Key, &'a Reading)> = Vec::new();
        let mut passed: BTreeSet<Key> = BTreeSet::new();
        let mut now = key;
        let mut base = None;
        loop {
            if let Some(known) = self.done.get(&now) {
                let needed = line.is_empty() || self.inherited <= INHERITED_MAX;
                base = Some(if needed { known.clone() } else { None });
                break;
            }
            let own = self.units.get(&now.file)?.readings.get(now.at)?;
            if !passed.insert(now) {
                let from = line.iter().position(|(key, _)| *key == now).unwrap_or(0);
                self.circle(line.get(from..).unwrap_or(&[]), faults);
                line.iter().for_each(|(key, _)| _ = self.done.insert(*key, None));
                return None;
            }
            line.push((now, own));
            let header = own.view::<say::RecipeHeader>();
            let parent = header.and_then(|header| header.said(say::RecipeHeader::parent));
            let Some(name) = parent else { break };
            match self.scopes.find(Declared::Recipe, name, faults) {
                Some(parent) => now = parent,
                None => {
                    base = Some(None);
                    break;
                }
            }
        }
        self.descend(line, base, faults)
    }

    /// Merges from the oldest recipe that is not done down to the last.
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
                Some(Some(_)) if self.inherited > INHERITED_MAX => None,
                Some(Some(parent)) if self.inherited + weight(&parent) > INHERITED_MAX => {
                    // Reported once for the run.
                    self.inherited = usize::MAX;
                    faults.push(too_much(own));
                    None
                }
                Some(Some(parent)) => {
                    self.inherited += weight(&parent);
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
        let ends = line.iter().chain(line.first());
        let names: Vec<String> = ends.map(|(_, reading)| name(reading)).collect();
        let names = first_few(names.iter().map(String::as_str), " from ");
        let message = if line.len() == 1 {
            format!("'{}' is derived from itself", clip(&name(first)))
        } else {
            format!("these recipes are derived from each other: {names}")
        };
        let mut fault = Diagnostic::error("from-circle", first.span, message)
            .help("give one of them its own steps, without a parent");
        for (_, reading) in line.iter().skip(1).take(OTHERS_MAX) {
            let file = self.sources.name(reading.span.file);
            fault = fault.other(reading.span, format!("and this, in {file}"));
        }
        faults.push(fault);
    }
}

/// How much a recipe inherits from this one, see [`INHERITED_MAX`].
fn weight(parent: &Merged<'_>) -> usize {
    let steps = parent.steps.iter().flat_map(|step| &step.rows);
    let rows = parent.rows.iter().chain(steps);
    let bytes = |row: &Reading| (row.extent.end.saturating_sub(row.extent.start)) as usize;
    parent.steps.len() * 32 + rows.map(|row| bytes(row) + 32).sum::<usize>()
}

fn too_much(own: &Reading) -> Diagnostic {
    Diagnostic::error("too-much-derived", own.span, "recipes inherit too much for one run")
        .help("derive from shorter recipes, or check fewer files at once")
}

fn too_deep(own: &Reading) -> Diagnostic {
    Diagnostic::error("from-too-deep", own.span, "too many recipes are derived one from another")
        .help("derive from an earlier one; at most 32 may follow each other")
}
