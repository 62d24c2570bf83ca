//! Repeated checks, as in an editor: only changed files are parsed, and only files connected with them are
//! resolved and linted again.

use std::collections::BTreeMap;

use super::gather::{Unit, Units, gather};
use super::level::Levels;
use super::survey::Survey;
use super::{in_order, resolved};
use crate::source::{Diagnostic, FileId, Files, Sources};

/// The size of the largest files that are kept.
const KEPT_MAX: usize = 256 << 10;

/// The results kept from check to check. A file is recognised by its number and its text.
#[derive(Debug, Default)]
pub struct Checker {
    files: BTreeMap<FileId, Known>,
    groups: Vec<Group>,
    levels: Levels,
    work: Work,
}

/// The work of all checks, in files.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub struct Work {
    /// The files that were parsed.
    pub parsed: usize,
    /// The files that were resolved and linted.
    pub resolved: usize,
}

#[derive(Debug)]
struct Known {
    name: String,
    text: String,
    unit: Unit,
}

/// Files that lead to each other by `use`, and what resolving them found.
#[derive(Debug)]
struct Group {
    units: Units,
    findings: Vec<Diagnostic>,
}

impl Checker {
    /// The findings of [`super::check`], where files that lead to each other by `use` are checked by themselves.
    pub fn check(
        &mut self,
        sources: &mut Sources,
        roots: &[FileId],
        files: &dyn Files,
        levels: &Levels,
    ) -> Vec<Diagnostic> {
        let mut read = Vec::new();
        let (units, whole) = self.gather(sources, roots, files, &mut read);
        self.files.retain(|file, _| units.contains_key(file));
        if self.levels != *levels {
            self.groups.clear();
            self.levels = levels.clone();
        }
        let mut before: BTreeMap<FileId, Group> = std::mem::take(&mut self.groups)
            .into_iter()
            .filter_map(|group| Some((*group.units.keys().next()?, group)))
            .collect();
        let mut findings = Vec::new();
        for units in connected(units).into_iter().filter(|_| whole) {
            let known = units.keys().next().and_then(|first| before.remove(first));
            let known = known.filter(|group| {
                let pairs = units.values().zip(group.units.values());
                units.len() == group.units.len() && pairs.clone().all(|(now, then)| now.is_same(then))
            });
            let group = known.unwrap_or_else(|| {
                self.work.resolved += units.len();
                let own = read.iter().filter(|finding| units.contains_key(&finding.span.file));
                let mut findings: Vec<Diagnostic> = own.cloned().collect();
                let count = findings.len();
                resolved(&units, sources, levels, &mut findings);
                Group { units, findings: findings.split_off(count) }
            });
            findings.extend(group.findings.iter().cloned());
            self.groups.push(group);
        }
        findings.append(&mut read);
        self.files.retain(|_, known| known.text.len() <= KEPT_MAX);
        let is_kept = |group: &Group| group.units.keys().all(|file| sources.text(*file).len() <= KEPT_MAX);
        self.groups.retain(is_kept);
        in_order(findings)
    }

    /// The names and values of files and of all that they use.
    pub fn survey(&mut self, sources: &mut Sources, roots: &[FileId], files: &dyn Files) -> Survey {
        // The same findings come from the check.
        let (units, _) = self.gather(sources, roots, files, &mut Vec::new());
        self.files.retain(|_, known| known.text.len() <= KEPT_MAX);
        Survey::of(&units, sources)
    }

    /// How much was done.
    pub fn work(&self) -> Work {
        self.work
    }

    fn gather(
        &mut self,
        sources: &mut Sources,
        roots: &[FileId],
        files: &dyn Files,
        findings: &mut Vec<Diagnostic>,
    ) -> (Units, bool) {
        let mut parsed = |sources: &Sources, file: FileId| {
            let (name, text) = (sources.name(file), sources.text(file));
            if let Some(known) = self.files.get(&file).filter(|it| (&*it.name, &*it.text) == (name, text)) {
                return known.unit.clone();
            }
            self.work.parsed += 1;
            let unit = Unit::parsed(sources, file);
            let known = Known { name: name.to_owned(), text: text.to_owned(), unit: unit.clone() };
            self.files.insert(file, known);
            unit
        };
        gather(sources, roots, files, &mut parsed, findings)
    }
}

/// The files in groups, of which none uses a file of another.
fn connected(mut units: Units) -> Vec<Units> {
    let mut beside: BTreeMap<FileId, Vec<FileId>> = BTreeMap::new();
    for unit in units.values() {
        for used in &unit.uses {
            beside.entry(unit.file).or_default().push(used.file);
            beside.entry(used.file).or_default().push(unit.file);
        }
    }
    let mut groups = Vec::new();
    while let Some((first, unit)) = units.pop_first() {
        let (mut group, mut open) = (Units::from([(first, unit)]), vec![first]);
        while let Some(file) = open.pop() {
            for other in beside.get(&file).into_iter().flatten() {
                if let Some(unit) = units.remove(other) {
                    group.insert(*other, unit);
                    open.push(*other);
                }
            }
        }
        groups.push(group);
    }
    groups
}
