//! Resolves names. A file can refer to its own declarations, to those of the files it uses, and to those that the
//! collections it uses export.

use std::collections::BTreeMap;

use super::error;
use super::gather::{Unit, Units, Use};
use super::read::newer;
use crate::source::{Diagnostic, FileId, Map, Span, clip, first_few};
use crate::syntax::FINDINGS_MAX;
use crate::vocabulary::{Block, Declared, RESERVED_OF_KIND, Value, rows_of, say, suggest};

/// The most known names that are compared with an unknown name, to suggest the nearest one.
const SUGGESTED_MAX: usize = 300;
/// After this many findings, no more names are suggested, because the comparison is slow.
const HELPED_MAX: usize = 200;
/// The most names that all `use` lines of a run together may bring into files.
const BROUGHT_MAX: usize = 300_000;

/// Identifies a declaration: its file, and its index among the file's statements outside of blocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Key {
    pub(super) file: FileId,
    pub(super) at: usize,
}

#[derive(Debug, Default)]
pub(super) struct Scopes {
    files: Map<FileId, Scope>,
}

#[derive(Debug, Default)]
struct Scope {
    names: Map<Declared, BTreeMap<String, (Key, Span)>>,
    incomplete: bool,
    /// The span of the line `wetside 1`; `None` if the file does not begin with that line.
    first_edition: Option<Span>,
}

impl Scopes {
    pub(super) fn of(units: &Units, faults: &mut Vec<Diagnostic>) -> Scopes {
        let mut filler = Filler { units, scopes: Scopes::default(), brought: 0, faults };
        units.values().for_each(|unit| filler.fill(unit));
        filler.scopes
    }

    /// The declaration that a name means in a file; `None` if the name is unknown there. Reports nothing.
    pub(super) fn known(&self, kind: Declared, name: &str, file: FileId) -> Option<Key> {
        let known = self.files.get(&file)?.names.get(&kind)?;
        known.get(name).map(|(key, _)| *key)
    }

    /// The declaration that a name means in the file of its span. An unknown name is reported, unless its declaration
    /// may be one that could not be read.
    pub(super) fn find(
        &self,
        kind: Declared,
        (name, span): (&str, Span),
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Key> {
        self.find_called((kind, kind.word()), (name, span), faults)
    }

    /// Like [`Scopes::find`], for a statement that has another word for the declaration than its kind, such as `paper`
    /// for a film.
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
            // The name may lack only its prefix: `club/fixer` is known, and `fixer` is not.
            let near = names.clone().find(|known| known.rsplit('/').next() == Some(name));
            let suggested = || {
                let own = suggest(name, names.clone());
                own.or_else(|| suggest(name, words_for(kind)))
            };
            near.or_else(|| if faults.len() < HELPED_MAX { suggested() } else { None })
        };
        let fault = if let Some((other, _)) = scope.names.iter().find(|(_, names)| names.contains_key(name)) {
            let (name, is) = (clip(name), other.words());
            fault.help(format!("'{name}' is {is}; write the name of {words} here"))
        } else if let Some(near) = near() {
            match kind {
                Declared::Bath => fault
                    .offer(near, format!("write {near} if it is that bottle"))
                    .help(format!("or declare the other bottle: bath {} {{", clip(name))),
                Declared::Session => fault
                    .offer(near, format!("write {near} if it is that session"))
                    .help("or remove the line if there was no such session"),
                _ => fault.write(near),
            }
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

    pub(super) fn all(&self, file: FileId, kind: Declared) -> impl Iterator<Item = (&str, Key)> {
        let names = self.files.get(&file).and_then(|scope| scope.names.get(&kind));
        names.into_iter().flatten().map(|(name, (key, _))| (name.as_str(), *key))
    }
}

/// Words of the language that a statement takes in place of a name of this kind, such as `continuous` in place of the
/// name of an agitation.
fn words_for(kind: Declared) -> Vec<&'static str> {
    let block = (kind == Declared::Agitation).then_some(Block::Agitation);
    let rows = block.into_iter().flat_map(rows_of).filter(|row| row.takes.is_empty());
    rows.map(|row| row.word).collect()
}

struct Filler<'a> {
    units: &'a Units,
    scopes: Scopes,
    /// How many names the `use` lines have brought into files so far.
    brought: usize,
    faults: &'a mut Vec<Diagnostic>,
}

/// A name that a file declares, or that a `use` line brings into the file.
struct Brought<'a> {
    kind: Declared,
    /// The first word of the declaration, such as `recipe`; for a film, it can be `film`, `paper` or `plate`.
    word: &'static str,
    name: &'a str,
    key: Key,
    /// The span of the name where it is declared, or where a collection exports it.
    place: Span,
}

impl Filler<'_> {
    /// Collects the names that a file can refer to. The scopes of the collections that it uses are filled first.
    fn fill(&mut self, unit: &Unit) {
        if self.scopes.files.contains_key(&unit.file) {
            return;
        }
        // The file has this empty scope while its names are gathered. If collections use each other in a circle, the
        // recursion ends here, because the second visit finds a scope.
        self.scopes.files.insert(unit.file, Scope { incomplete: true, ..Scope::default() });
        let line = unit.readings.first().and_then(|first| first.view::<say::Wetside>());
        let first_edition = line.filter(|line| line.edition() == Some(1)).map(|line| line.span);
        let mut scope = Scope { incomplete: unit.incomplete, first_edition, ..Scope::default() };
        declared(unit).for_each(|one| scope.add(&one, None, self.faults));
        for used in unit.uses.iter().filter(|used| !used.repeated) {
            let Some(other) = self.units.get(&used.file) else { continue };
            let names: Vec<Brought<'_>> = if used.is_collection {
                self.fill(other);
                scope.incomplete |= self.scopes.files.get(&used.file).is_none_or(|own| own.incomplete);
                exported(other, &self.scopes).collect()
            } else {
                scope.incomplete |= !other.understood;
                declared(other).collect()
            };
            let few = self.brought <= BROUGHT_MAX;
            self.brought += other.readings.len();
            if self.brought <= BROUGHT_MAX {
                self.bring(&mut scope, used, &names);
                continue;
            }
            scope.incomplete = true;
            // `too-many-names` is reported only once in a run.
            if few {
                self.faults.push(error(
                    "too-many-names",
                    used.span,
                    "this `use` brings in more names than a run may have",
                    "use each file once, and split declarations into files that few others use",
                ));
            }
        }
        self.scopes.files.insert(unit.file, scope);
    }

    fn bring(&mut self, scope: &mut Scope, used: &Use, names: &[Brought<'_>]) {
        let is_wanted =
            |one: &&Brought<'_>| used.only.is_empty() || used.only.iter().any(|(name, _)| name == one.name);
        names.iter().filter(is_wanted).for_each(|one| scope.add(one, Some(used), self.faults));
        let missing = |(name, _): &&(String, Span)| names.iter().all(|one| one.name != name);
        for (name, span) in used.only.iter().filter(missing).filter(|_| !scope.incomplete) {
            let message = match used.is_collection {
                true => format!("the collection exports no '{}'", clip(name)),
                false => format!("the used file declares no '{}'", clip(name)),
            };
            let fault = Diagnostic::error("unknown-name", *span, message);
            let known = || names.iter().map(|one| one.name);
            self.faults.push(match suggest(name, known().take(SUGGESTED_MAX)) {
                Some(near) => fault.write(near),
                None => fault.help(match first_few(known(), ", ") {
                    few if few.is_empty() => "remove the name".to_owned(),
                    few => format!("write one of these, or remove the name: {few}"),
                }),
            });
        }
    }
}

fn declared(unit: &Unit) -> impl Iterator<Item = Brought<'_>> {
    unit.readings.iter().enumerate().filter_map(|(at, reading)| {
        let (kind, (name, place)) = reading.declares().zip(reading.name())?;
        let word = reading.row.word;
        Some(Brought { kind, word, name, key: Key { file: unit.file, at }, place })
    })
}

fn exported<'a>(unit: &'a Unit, scopes: &Scopes) -> impl Iterator<Item = Brought<'a>> {
    let scope = scopes.files.get(&unit.file);
    let rows = unit.readings.iter().flat_map(|reading| reading.rows.iter());
    let mut all = Vec::new();
    for row in rows.filter(|row| row.is::<say::Exports>()) {
        row.values(&mut |item| {
            let Value::Mention(kind, name) = &item.value else { return };
            let known = scope.and_then(|scope| scope.names.get(kind)?.get(name));
            let last = name.rsplit('/').next().unwrap_or(name);
            all.extend(known.map(|(key, _)| Brought {
                kind: *kind,
                word: kind.word(),
                name: last,
                key: *key,
                place: item.span,
            }));
        });
    }
    all.into_iter()
}

impl Scope {
    /// Adds a name to the scope. `used` is the `use` line that brings the name in; `None` if the scope's own file
    /// declares it.
    fn add(&mut self, one: &Brought<'_>, used: Option<&Use>, faults: &mut Vec<Diagnostic>) {
        if faults.len() >= FINDINGS_MAX {
            return;
        }
        let prefix = used.and_then(|used| used.prefix.as_ref());
        let name = prefix.map_or_else(|| one.name.to_owned(), |(prefix, _)| format!("{prefix}/{}", one.name));
        let span = used.map_or(one.place, |used| used.span);
        let names = self.names.value_of(one.kind);
        let Some((other, earlier)) = names.get(&name) else {
            names.insert(name, (one.key, span));
            return;
        };
        if *other == one.key {
            return;
        }
        let words = match one.kind {
            Declared::Film => format!("a {}", one.word),
            kind => kind.words().to_owned(),
        };
        let mut message = format!("there is already {words} '{}' here", clip(&name));
        if used.is_some() {
            message.push_str(", and this line brings in a second");
        }
        let fault = |help: &str| error("repeated-name", span, message, help).other(*earlier, "the first");
        faults.push(match used {
            None => fault("give one of them another name"),
            Some(used) if used.prefix.is_some() => {
                fault("write another prefix after 'as' in this line").other(one.place, "the second")
            }
            Some(_) => fault("add a prefix at the end of the 'use' line: as lab")
                .help(format!("the second {} is then lab/{}", one.word, clip(one.name)))
                .other(one.place, "the second"),
        });
    }
}
