//! Resolves names: each file can refer to its own declarations and to those of the files it uses.

use std::collections::BTreeMap;

use super::error;
use super::gather::{Unit, Units, Use};
use super::read::newer;
use crate::source::{Diagnostic, FileId, Span, clip, first_few};
use crate::syntax::FINDINGS_MAX;
use crate::vocabulary::{Declared, RESERVED_OF_KIND, say, suggest};

/// The most names compared with an unknown name for a suggestion.
const SUGGESTED_MAX: usize = 300;
/// After this many findings no name is suggested, because comparing is slow.
const HELPED_MAX: usize = 200;
/// The most names that all `use` lines of a run may bring into files.
const BROUGHT_MAX: usize = 300_000;

/// Identifies a declaration: its file, and its index among the statements outside of blocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Key {
    pub(super) file: FileId,
    pub(super) at: usize,
}

#[derive(Debug, Default)]
pub(super) struct Scopes {
    files: BTreeMap<FileId, Scope>,
}

#[derive(Debug, Default)]
struct Scope {
    names: BTreeMap<Declared, BTreeMap<String, (Key, Span)>>,
    incomplete: bool,
    /// The `wetside` line of a file of edition 1.
    first_edition: Option<Span>,
}

impl Scopes {
    pub(super) fn of(units: &Units, faults: &mut Vec<Diagnostic>) -> Scopes {
        let mut scopes = Scopes::default();
        let mut brought = 0;
        for unit in units.values() {
            let line = unit.readings.first().and_then(|first| first.view::<say::Wetside>());
            let line = line.filter(|line| line.edition() == Some(1));
            let first_edition = line.map(|line| line.span);
            let mut scope = Scope { incomplete: unit.incomplete, first_edition, ..Scope::default() };
            scope.add(unit, None, faults);
            for used in unit.uses.iter().filter(|used| !used.repeated) {
                let Some(other) = units.get(&used.file) else { continue };
                scope.incomplete |= !other.understood;
                let few = brought <= BROUGHT_MAX;
                brought += other.readings.len();
                if brought <= BROUGHT_MAX {
                    scope.add(other, Some(used), faults);
                    continue;
                }
                scope.incomplete = true;
                // `too-many-names` is reported only once in a run.
                if few {
                    faults.push(error(
                        "too-many-names",
                        used.span,
                        "this `use` brings in more names than a run may have",
                        "use each file once, and split declarations into files that few others use",
                    ));
                }
            }
            scopes.files.insert(unit.file, scope);
        }
        scopes
    }

    /// The declaration of a name in a file, if there is one. An unknown name is not reported.
    pub(super) fn known(&self, kind: Declared, name: &str, file: FileId) -> Option<Key> {
        let known = self.files.get(&file)?.names.get(&kind)?;
        known.get(name).map(|(key, _)| *key)
    }

    /// The declaration of a name. An unknown name is reported, unless some declarations could not be read.
    pub(super) fn find(
        &self,
        kind: Declared,
        (name, span): (&str, Span),
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Key> {
        self.find_called((kind, kind.word()), (name, span), faults)
    }

    /// The same for a statement that calls the declaration by a word of its own, such as `paper`.
    pub(super) fn find_called(
        &self,
        (kind, word): (Declared, &str),
        (name, span): (&str, Span),
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Key> {
        let words = if word == kind.word() { kind.words().to_owned() } else { format!("a {word}") };
        let known = self.known(kind, name, span.file);
        let scope = self.files.get(&span.file).filter(|scope| known.is_none() && !scope.incomplete);
        let Some(scope) = scope else { return known };
        if let Some(line) = scope.first_edition.filter(|_| RESERVED_OF_KIND.contains(&(kind, name))) {
            let fault = newer(name, span).other(line, "the edition of this file");
            faults.push(fault.change(line, "wetside 2", "put 'wetside 2' in the first line", false));
            return None;
        }
        let fault =
            Diagnostic::error("unknown-name", span, format!("there is no {word} '{}' here", clip(name)));
        let names = scope.names.get(&kind).into_iter().flat_map(BTreeMap::keys).map(String::as_str);
        let mut names = names.take(SUGGESTED_MAX);
        let near = || {
            let near = if faults.len() < HELPED_MAX { suggest(name, names.clone()) } else { None };
            near.or_else(|| names.clone().find(|known| known.rsplit('/').next() == Some(name)))
        };
        let fault = if let Some((other, _)) = scope.names.iter().find(|(_, names)| names.contains_key(name)) {
            let (name, is) = (clip(name), other.words());
            fault.help(format!("'{name}' is {is}; write the name of {words} here"))
        } else if let Some(near) = near() {
            fault.write(near)
        } else {
            let known = first_few(&mut names, ", ");
            let fault = fault.help(format!(
                "declare {words} with that name, or add a line for the file that declares it: use \"…\""
            ));
            if known.is_empty() { fault } else { fault.help(format!("the names known here: {known}")) }
        };
        faults.push(fault);
        None
    }

    /// The names of one kind of declaration that a file can refer to.
    pub(super) fn all(&self, file: FileId, kind: Declared) -> impl Iterator<Item = (&str, Key)> {
        let names = self.files.get(&file).and_then(|scope| scope.names.get(&kind));
        names.into_iter().flatten().map(|(name, (key, _))| (name.as_str(), *key))
    }
}

impl Scope {
    /// Adds the declarations of `unit`: the scope's own file, or the file that the `use` line `used` names.
    fn add(&mut self, unit: &Unit, used: Option<&Use>, faults: &mut Vec<Diagnostic>) {
        for (at, reading) in unit.readings.iter().enumerate() {
            if faults.len() >= FINDINGS_MAX {
                return;
            }
            let Some((kind, (name, place))) = reading.declares().zip(reading.name()) else { continue };
            let prefix = used.and_then(|used| used.prefix.as_ref());
            let name = prefix.map_or_else(|| name.to_owned(), |(prefix, _)| format!("{prefix}/{name}"));
            let span = used.map_or(place, |used| used.span);
            let key = Key { file: unit.file, at };
            let names = self.names.entry(kind).or_default();
            let Some((other, earlier)) = names.get(&name) else {
                names.insert(name, (key, span));
                continue;
            };
            if *other == key {
                continue;
            }
            let words = match kind {
                Declared::Film => format!("a {}", reading.row.word),
                _ => kind.words().to_owned(),
            };
            let message = format!("there is already {words} '{}' here", clip(&name));
            let fault = |help| error("repeated-name", span, message, help).other(*earlier, "the first");
            faults.push(match used {
                None => fault("give one of them another name"),
                Some(_) => fault(
                    "use one of the files with a prefix, such as: use \"…\" as lab; then write lab/NAME",
                )
                .other(place, "the second"),
            });
        }
    }
}
