//! The names that each file can use: its own, and those of the files it uses, with their prefix.

use std::collections::BTreeMap;

use super::gather::{Unit, Units};
use crate::source::{Diagnostic, FileId, Span, clip, first_few};
use crate::syntax::FINDINGS_MAX;
use crate::vocabulary::{Declared, suggest};

/// The most names that are searched for a suggestion.
const SUGGESTED_MAX: usize = 300;
/// The number of findings after which nothing is suggested, because the search is slow.
const HELPED_MAX: usize = 200;
/// The most names from `use` in a run.
const BROUGHT_MAX: usize = 300_000;

/// A declaration: its file and its number among the file's statements.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Key {
    pub(super) file: FileId,
    pub(super) at: usize,
}

/// What each file can name.
#[derive(Debug, Default)]
pub(super) struct Scopes {
    files: BTreeMap<FileId, Scope>,
}

#[derive(Debug, Default)]
struct Scope {
    names: BTreeMap<Declared, BTreeMap<String, (Key, Span)>>,
    incomplete: bool,
}

impl Scopes {
    /// Collects the names of all files.
    pub(super) fn of(units: &Units, faults: &mut Vec<Diagnostic>) -> Scopes {
        let mut scopes = Scopes::default();
        let mut brought = 0;
        for unit in units.values() {
            let mut scope = Scope { incomplete: unit.incomplete, ..Scope::default() };
            add(&mut scope, unit, None, faults);
            for used in &unit.uses {
                let Some(other) = units.get(&used.file) else { continue };
                scope.incomplete |= !other.understood;
                let few = brought <= BROUGHT_MAX;
                brought += other.readings.len();
                if brought > BROUGHT_MAX {
                    scope.incomplete = true;
                    // Reported once for the run.
                    faults.extend(few.then(|| too_many_names(used.span)));
                } else {
                    add(&mut scope, other, Some((&used.prefix, used.span)), faults);
                }
            }
            scopes.files.insert(unit.file, scope);
        }
        scopes
    }

    /// The declaration of a name in a file, without a report of an unknown one.
    pub(super) fn known(&self, kind: Declared, name: &str, file: FileId) -> Option<Key> {
        let known = self.files.get(&file)?.names.get(&kind)?;
        known.get(name).map(|(key, _)| *key)
    }

    /// The declaration of a name. An unknown one is reported, unless its file may be one that was not read.
    pub(super) fn find(
        &self,
        kind: Declared,
        (name, span): (&str, Span),
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Key> {
        let scope = self.files.get(&span.file)?;
        let known = scope.names.get(&kind);
        if let Some(key) = self.known(kind, name, span.file) {
            return Some(key);
        }
        if scope.incomplete {
            return None;
        }
        let message = format!("there is no {} '{}' here", kind.word(), clip(name));
        let fault = Diagnostic::error("unknown-name", span, message);
        let names = known.into_iter().flat_map(BTreeMap::keys).map(String::as_str).take(SUGGESTED_MAX);
        let tail = names.clone().find(|known| known.rsplit('/').next() == Some(name));
        let other = scope.names.iter().find(|(_, names)| names.contains_key(name));
        if let Some((other, _)) = other {
            let words =
                format!("'{}' is {}; write the name of {} here", clip(name), other.words(), kind.words());
            faults.push(fault.help(words));
            return None;
        }
        let near = if faults.len() < HELPED_MAX { suggest(name, names.clone()) } else { None };
        faults.push(match near.or(tail) {
            Some(near) => fault.offer(near, format!("write {near}")),
            None => {
                let known = first_few(names, ", ");
                let known = if known.is_empty() { "none" } else { &known };
                fault.help(format!(
                    "declare {} with that name, or use the file that does: use \"…\"; known here: {known}",
                    kind.words()
                ))
            }
        });
        None
    }

    /// The names of one kind that a file can use.
    pub(super) fn all(&self, file: FileId, kind: Declared) -> impl Iterator<Item = (&str, Key)> {
        let names = self.files.get(&file).and_then(|scope| scope.names.get(&kind));
        names.into_iter().flatten().map(|(name, (key, _))| (name.as_str(), *key))
    }
}

/// Adds the declarations of a file to a scope, its own or another's.
fn add(
    scope: &mut Scope,
    unit: &Unit,
    brought: Option<(&Option<String>, Span)>,
    faults: &mut Vec<Diagnostic>,
) {
    for (at, reading) in unit.readings.iter().enumerate() {
        if faults.len() >= FINDINGS_MAX {
            return;
        }
        let Some((kind, (name, place))) = reading.declares().zip(reading.name()) else { continue };
        let (name, span) = match brought {
            Some((Some(prefix), span)) => (format!("{prefix}/{name}"), span),
            Some((None, span)) => (name.to_owned(), span),
            None => (name.to_owned(), place),
        };
        let key = Key { file: unit.file, at };
        let names = scope.names.entry(kind).or_default();
        match names.get(&name) {
            None => {
                names.insert(name, (key, span));
            }
            Some((other, _)) if *other == key => {}
            Some((_, earlier)) => {
                let message = format!("two {} have the name '{}' here", plural(kind), clip(&name));
                let mut fault =
                    Diagnostic::error("repeated-name", span, message).other(*earlier, "the first");
                if brought.is_some() {
                    fault = fault.other(place, "declared here");
                }
                faults.push(match brought {
                    None => fault.help("give one of them another name"),
                    Some(_) => fault.help("use one of the files with a prefix: use \"…\" as lab"),
                });
            }
        }
    }
}

fn too_many_names(span: Span) -> Diagnostic {
    Diagnostic::error("too-many-names", span, "with this `use` there are more names than a run may have")
        .help("use each file once, and split declarations into files that few others use")
}

fn plural(kind: Declared) -> &'static str {
    match kind {
        Declared::Film => "films",
        Declared::Solution => "solutions",
        Declared::Agitation => "agitation schemes",
        Declared::Tank => "tanks",
        Declared::Recipe => "recipes",
        Declared::Bath => "baths",
        Declared::Test => "tests",
        Declared::Session => "sessions",
        Declared::Backlog => "backlogs",
    }
}
