//! The declarations and uses of names in the files of a run, for editors. It reports no errors.

use std::collections::BTreeMap;

use super::gather::{Unit, Units};
use super::members::Members;
use super::scope::{Key, Scopes};
use crate::source::{FileId, Sources, Span};
use crate::vocabulary::{Declared, Reading, Value, say};

/// The names of a run.
#[derive(Debug, Default)]
pub struct Names {
    /// The declarations, in the order of files and places.
    pub declarations: Vec<Declaration>,
    /// The uses of declared names, in the order of files and places.
    pub mentions: Vec<Mention>,
    /// The files that are used.
    pub uses: Vec<Use>,
    /// The steps of recipes and the bottles of solutions.
    pub members: Members,
    scopes: BTreeMap<(FileId, Declared), Vec<(String, usize)>>,
}

/// A declaration.
#[derive(Debug, Clone)]
pub struct Declaration {
    /// Its kind.
    pub kind: Declared,
    /// Its name, without a prefix.
    pub name: String,
    /// Its title, if it has one.
    pub title: Option<String>,
    /// The place of the name.
    pub span: Span,
    /// Its header.
    pub header: Span,
}

/// A use of a declared name.
#[derive(Debug, Clone, Copy)]
pub struct Mention {
    /// Its place, with the prefix.
    pub span: Span,
    /// The place of the prefix without its slash, if it has one.
    pub prefix: Option<Span>,
    /// Its index in [`Names::declarations`].
    pub declaration: usize,
}

/// A `use` of a file.
#[derive(Debug, Clone)]
pub struct Use {
    /// The place of the path.
    pub path: Span,
    /// The file.
    pub file: FileId,
    /// The prefix and its place.
    pub prefix: Option<(String, Span)>,
}

impl Mention {
    /// The name without its prefix.
    #[must_use]
    pub fn bare(&self) -> Span {
        let start = self.prefix.map_or(self.span.start, |prefix| prefix.end + 1);
        Span { start, ..self.span }
    }
}

impl Names {
    /// The names of one kind that a file can use, each with its index in [`Names::declarations`].
    #[must_use]
    pub fn in_scope(&self, file: FileId, kind: Declared) -> &[(String, usize)] {
        self.scopes.get(&(file, kind)).map_or(&[], Vec::as_slice)
    }

    /// The files of the run.
    pub fn files(&self) -> impl Iterator<Item = FileId> {
        let mut last = None;
        self.scopes.keys().map(|(file, _)| *file).filter(move |file| last.replace(*file) != Some(*file))
    }

    /// The names of all files.
    pub(super) fn of(units: &Units, scopes: &Scopes, sources: &Sources) -> Names {
        let mut names = Names::default();
        let mut keys: BTreeMap<Key, usize> = BTreeMap::new();
        for unit in units.values() {
            for (at, reading) in unit.readings.iter().enumerate() {
                if let Some(declaration) = declaration(reading) {
                    keys.insert(Key { file: unit.file, at }, names.declarations.len());
                    names.declarations.push(declaration);
                }
            }
            names.uses.extend(uses(unit));
        }
        for file in units.keys() {
            for kind in Declared::ALL {
                let all = scopes.all(*file, kind);
                let known = all.filter_map(|(name, key)| Some((name.to_owned(), *keys.get(&key)?)));
                names.scopes.insert((*file, kind), known.collect());
            }
        }
        for unit in units.values() {
            unit.readings.iter().for_each(|reading| names.mentioned(reading, sources));
        }
        names.members = Members::of(units, scopes);
        names
    }

    fn mentioned(&mut self, reading: &Reading, sources: &Sources) {
        reading.values(&mut |item| {
            let Value::Mention(kind, name) = &item.value else { return };
            let span = item.span;
            let known = self.in_scope(span.file, *kind).iter().find(|(known, _)| known == name);
            let Some(declaration) = known.map(|(_, at)| *at) else { return };
            let slash = sources.slice(span).rfind('/').and_then(|at| u32::try_from(at).ok());
            let prefix = slash.map(|at| Span { end: span.start + at, ..span });
            self.mentions.push(Mention { span, prefix, declaration });
        });
        reading.rows.iter().for_each(|row| self.mentioned(row, sources));
    }
}

fn declaration(reading: &Reading) -> Option<Declaration> {
    let (kind, (name, span)) = reading.declares().zip(reading.name())?;
    let title = reading.title().map(str::to_owned);
    Some(Declaration { kind, name: name.to_owned(), title, span, header: reading.span })
}

fn uses(unit: &Unit) -> impl Iterator<Item = Use> {
    let used = unit.readings.iter().filter_map(Reading::view::<say::Use>).filter(|used| used.sound);
    used.filter_map(|used| {
        let file = unit.links.get(&used.span.start)?;
        let (_, path) = used.said(say::Use::path)?;
        let prefix = used.said(say::Use::prefix).map(|(name, span)| (name.to_owned(), span));
        Some(Use { path, file: *file, prefix })
    })
}
