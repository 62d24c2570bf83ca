//! Builds the model from readings, with names resolved. A declaration with errors is reported and left out,
//! so no later stage meets it.

mod agitation;
mod backlog;
mod chart;
mod darkroom;
mod film;
mod formula;
mod recipe;
mod session;
mod solution;
mod step;
mod tank;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::gather::{Unit, Units};
use super::scope::{Key, Scopes};
use crate::model::{Backlog, Film, KeptBath, Scheme, Solution, Tank};
use crate::source::{Diagnostic, FileId, Level, Span};
use crate::syntax::FINDINGS_MAX;
use crate::vocabulary::{Declared, Reading};

pub(crate) use chart::chart;

/// The declarations of a run that are built so far.
#[derive(Debug)]
pub(super) struct Builder<'a> {
    pub(super) units: &'a Units,
    pub(super) scopes: &'a Scopes,
    pub(super) faults: Vec<Diagnostic>,
    pub(super) solutions: BTreeMap<Key, Arc<Solution>>,
    schemes: BTreeMap<Key, Scheme>,
    pub(super) films: BTreeMap<Key, Arc<Film>>,
    pub(super) tanks: BTreeMap<Key, Arc<Tank>>,
    baths: BTreeMap<Key, Arc<KeptBath>>,
    backlogs: BTreeMap<Key, Arc<Backlog>>,
}

impl<'a> Builder<'a> {
    /// Builds everything that recipes refer to, in order of dependency.
    pub(super) fn new(units: &'a Units, scopes: &'a Scopes, faults: Vec<Diagnostic>) -> Builder<'a> {
        let mut builder = Builder {
            units,
            scopes,
            faults,
            solutions: BTreeMap::new(),
            schemes: BTreeMap::new(),
            films: BTreeMap::new(),
            tanks: BTreeMap::new(),
            baths: BTreeMap::new(),
            backlogs: BTreeMap::new(),
        };
        builder.solutions =
            builder.each(Declared::Solution, |it, reading| it.solution(reading).map(Arc::new));
        builder.schemes = builder.each(Declared::Agitation, Builder::agitation);
        builder.tanks = builder.each(Declared::Tank, |it, reading| it.tank(reading).map(Arc::new));
        builder.films = builder.each(Declared::Film, |it, reading| it.film(reading).map(Arc::new));
        builder
    }

    /// The declarations of a kind that are sound, until there are too many errors.
    fn each<T>(
        &mut self,
        kind: Declared,
        build: impl Fn(&mut Builder<'a>, &Reading) -> Option<T>,
    ) -> BTreeMap<Key, T> {
        let mut all = BTreeMap::new();
        for (key, reading) in declared(self.units, kind) {
            if self.faults.len() >= FINDINGS_MAX {
                break;
            }
            all.extend(build(self, reading).map(|one| (key, one)));
        }
        all
    }

    /// What each file can name of a kind, in the order of files and names.
    pub(super) fn named_in_files<T>(
        &self,
        kind: Declared,
        all: &BTreeMap<Key, Arc<T>>,
    ) -> Vec<(FileId, String, Arc<T>)> {
        let of_file = |file: FileId| {
            let names = self.scopes.all(file, kind);
            names.filter_map(move |(name, key)| Some((file, name.to_owned(), Arc::clone(all.get(&key)?))))
        };
        self.units.keys().flat_map(|file| of_file(*file)).collect()
    }

    fn report(&mut self, fault: Diagnostic) {
        self.faults.push(fault);
    }

    /// Whether no error was reported since there were this many findings.
    fn no_error_since(&self, before: usize) -> bool {
        self.faults.iter().skip(before).all(|fault| fault.level != Level::Error)
    }

    /// The declaration that a name means; an unknown name is reported.
    fn find<T: Clone>(
        &mut self,
        kind: Declared,
        (name, span): (&str, Span),
        all: impl for<'b> Fn(&'b Builder<'a>) -> &'b BTreeMap<Key, T>,
    ) -> Option<T> {
        let key = self.scopes.find(kind, name, span, &mut self.faults)?;
        all(self).get(&key).cloned()
    }

    fn find_solution(&mut self, name: (&str, Span)) -> Option<Arc<Solution>> {
        self.find(Declared::Solution, name, |it| &it.solutions)
    }

    fn find_film(&mut self, name: (&str, Span)) -> Option<Arc<Film>> {
        self.find(Declared::Film, name, |it| &it.films)
    }

    fn find_bath(&mut self, name: (&str, Span)) -> Option<Arc<KeptBath>> {
        self.find(Declared::Bath, name, |it| &it.baths)
    }

    /// Reports each thing that has the key of an earlier one.
    fn distinct<K: Ord>(
        &mut self,
        all: impl IntoIterator<Item = (K, Span)>,
        fault: impl Fn(&K, Span) -> Diagnostic,
    ) {
        let mut first = BTreeMap::new();
        for (key, span) in all {
            match first.get(&key) {
                Some(earlier) => self.report(fault(&key, span).other(*earlier, "the first")),
                None => _ = first.insert(key, span),
            }
        }
    }
}

/// The declarations of one kind in all files, in the order of files and lines.
pub(super) fn declared(units: &Units, kind: Declared) -> impl Iterator<Item = (Key, &Reading)> {
    units.values().flat_map(move |unit: &Unit| {
        let rows = unit.readings.iter().enumerate();
        rows.filter(move |(_, reading)| reading.declares() == Some(kind))
            .map(|(at, reading)| (Key { file: unit.file, at }, reading))
    })
}

/// The name and the title of a declaration.
fn named(reading: &Reading) -> Option<(String, String)> {
    let (name, _) = reading.name()?;
    Some((name.to_owned(), reading.title().unwrap_or(name).to_owned()))
}
