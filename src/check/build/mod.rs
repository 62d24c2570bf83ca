//! Readings to the model: each declaration becomes a value of its type, its names resolved. What is
//! at fault is told and does not come into being, so nothing later can meet it.

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
use crate::model::{Film, Scheme, Solution, Tank};
use crate::source::{Diagnostic, Span};
use crate::syntax::FINDINGS_MAX;
use crate::vocabulary::{Declared, Reading};

pub(crate) use chart::chart;
pub(super) use darkroom::darkroom;
pub(super) use recipe::recipe;

/// The faults that building tells, by the file that tells them.
pub(super) const FAULTS: &[&[(&str, &str)]] = &[
    agitation::FAULTS,
    chart::FAULTS,
    film::FAULTS,
    formula::FAULTS,
    solution::FAULTS,
    step::FAULTS,
    tank::FAULTS,
    darkroom::FAULTS,
    backlog::FAULTS,
    session::FAULTS,
];

/// What is declared in all files of a run, but for recipes.
#[derive(Debug)]
pub(super) struct Built<'a> {
    pub(super) scopes: &'a Scopes,
    pub(super) solutions: BTreeMap<Key, Arc<Solution>>,
    pub(super) schemes: BTreeMap<Key, Scheme>,
    pub(super) films: BTreeMap<Key, Arc<Film>>,
    pub(super) tanks: BTreeMap<Key, Arc<Tank>>,
}

impl<'a> Built<'a> {
    /// Builds everything that recipes are made of, in the order in which one needs the other; until there
    /// are too many faults.
    pub(super) fn of(units: &Units, scopes: &'a Scopes, faults: &mut Vec<Diagnostic>) -> Built<'a> {
        let mut built = Built {
            scopes,
            solutions: BTreeMap::new(),
            schemes: BTreeMap::new(),
            films: BTreeMap::new(),
            tanks: BTreeMap::new(),
        };
        for (key, reading) in declared(units, Declared::Solution) {
            if faults.len() >= FINDINGS_MAX {
                break;
            }
            if let Some(solution) = solution::solution(reading, faults) {
                built.solutions.insert(key, Arc::new(solution));
            }
        }
        for (key, reading) in declared(units, Declared::Agitation) {
            if faults.len() >= FINDINGS_MAX {
                break;
            }
            if let Some(scheme) = agitation::declared(reading, faults) {
                built.schemes.insert(key, scheme);
            }
        }
        for (key, reading) in declared(units, Declared::Tank) {
            if faults.len() >= FINDINGS_MAX {
                break;
            }
            if let Some(tank) = tank::tank(reading, faults) {
                built.tanks.insert(key, Arc::new(tank));
            }
        }
        for (key, reading) in declared(units, Declared::Film) {
            if faults.len() >= FINDINGS_MAX {
                break;
            }
            if let Some(film) = film::film(reading, &built, faults) {
                built.films.insert(key, Arc::new(film));
            }
        }
        built
    }

    /// The solution of that name where it stands; an unknown one is told.
    fn solution(&self, name: &str, span: Span, faults: &mut Vec<Diagnostic>) -> Option<Arc<Solution>> {
        self.scopes
            .find(Declared::Solution, name, span, faults)
            .and_then(|key| self.solutions.get(&key).cloned())
    }

    /// The film of that name where it stands; an unknown one is told.
    fn film(&self, (name, span): (&str, Span), faults: &mut Vec<Diagnostic>) -> Option<Arc<Film>> {
        let key = self.scopes.find(Declared::Film, name, span, faults)?;
        self.films.get(&key).cloned()
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

/// A declaration's name and title.
fn named(reading: &Reading) -> Option<(String, String)> {
    let (name, _) = reading.name()?;
    Some((name.to_owned(), reading.title().unwrap_or(name).to_owned()))
}
