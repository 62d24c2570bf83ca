//! Builds the values of the stage `model` from the statements that were read, and resolves names. Declarations with
//! errors are left out.

mod baths;
mod by_trial;
mod collection;
mod contradictions;
mod darkroom;
mod durations;
mod exposures;
mod ingredients;
mod partial;
mod planned;
mod recipes;
mod rounds;
mod shelf;
mod swaps;
mod tanks;
mod temperatures;
mod trials;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::error;
use super::gather::{Units, edition};
use super::scope::{Key, Scopes};
use crate::chemistry::OwnIngredient;
use crate::model::{Backlog, Dilution, Film, KeptBath, Scheme, Solution, Tank, Trial};
use exposures::{Instrument, Wedge};

use crate::source::{Diagnostic, FileId, Level, Map, Set, Span};
use crate::syntax::FINDINGS_MAX;
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, Statement, Value};

pub(crate) use partial::Partial;
pub(crate) use recipes::chart;

/// The most declarations with the same name that a declaration is compared with, to find an equal one.
const TWINS_MAX: usize = 16;

type Built<T> = Map<Key, Arc<T>>;

pub(super) struct Builder<'a> {
    pub(super) units: &'a Units,
    pub(super) scopes: &'a Scopes,
    pub(super) faults: Vec<Diagnostic>,
    pub(super) partial: Vec<Partial>,
    /// The header spans of the solutions that a step uses in a dilution that could not be read.
    pub(super) unclear: Set<Span>,
    swapped: Set<Span>,
    /// Two equal declarations from different collections count as one. The key is the later declaration, the value the
    /// earlier one.
    twins: Map<Key, Key>,
    /// Whether the files belong to more than one collection or root folder. Declarations of the same one never count as
    /// equal.
    is_of_several_roots: bool,
    ingredients: Built<OwnIngredient>,
    pub(super) solutions: Built<Solution>,
    schemes: Built<Scheme>,
    pub(super) films: Built<Film>,
    pub(super) tanks: Built<Tank>,
    wedges: Built<Wedge>,
    readers: Built<Instrument>,
    pub(super) trials: Built<Trial>,
    baths: Built<KeptBath>,
    backlogs: Built<Backlog>,
    /// Whether the user states tonight's clearing time, measured on a film leader.
    pub(super) clears_tonight: bool,
}

impl<'a> Builder<'a> {
    /// Builds all declarations that recipes refer to. Solutions are built before films, because films refer to
    /// solutions.
    pub(super) fn new(units: &'a Units, scopes: &'a Scopes, faults: Vec<Diagnostic>) -> Builder<'a> {
        let mut builder = Builder {
            units,
            scopes,
            faults,
            partial: Vec::new(),
            unclear: Set::new(),
            swapped: Set::new(),
            twins: Map::new(),
            is_of_several_roots: !units.values().is_sorted_by(|one, other| one.root == other.root),
            ingredients: Built::new(),
            solutions: Built::new(),
            schemes: Built::new(),
            films: Built::new(),
            tanks: Built::new(),
            wedges: Built::new(),
            readers: Built::new(),
            trials: Built::new(),
            baths: Built::new(),
            backlogs: Built::new(),
            clears_tonight: false,
        };
        builder.ingredients = builder.each(Declared::Ingredient, Builder::own_ingredient);
        builder.solutions = builder.each(Declared::Solution, Builder::solution);
        builder.schemes = builder.each(Declared::Agitation, Builder::agitation);
        builder.tanks = builder.each(Declared::Tank, Builder::tank);
        builder.films = builder.each(Declared::Film, Builder::film);
        builder.wedges = builder.each(Declared::Wedge, Builder::wedge);
        builder.readers = builder.each(Declared::Reader, Builder::instrument);
        builder.baths = builder.each(Declared::Bath, Builder::bath);
        builder.trials = builder.each(Declared::Trial, Builder::trial);
        builder
    }

    /// Builds all declarations of one kind. `build` returns `None` for a declaration with errors, which is left out.
    /// Stops after `FINDINGS_MAX` findings.
    fn each<T>(
        &mut self,
        kind: Declared,
        build: impl Fn(&mut Builder<'a>, &Reading) -> Option<T>,
    ) -> Built<T> {
        let mut all = Built::new();
        let mut named: BTreeMap<&str, Vec<(Key, &Reading)>> = BTreeMap::new();
        let may_have_twins = self.is_of_several_roots
            && matches!(kind, Declared::Ingredient | Declared::Solution | Declared::Film);
        for (key, reading) in declared(self.units, kind) {
            if self.faults.len() >= FINDINGS_MAX {
                break;
            }
            if !may_have_twins {
                let built = build(self, reading).map(Arc::new);
                all.extend(built.map(|one| (key, one)));
                continue;
            }
            let name = reading.name().map_or("", |(name, _)| name);
            let others = named.entry(name).or_default();
            let twin = others.iter().take(TWINS_MAX).find(|(_, other)| self.are_equal(reading, other));
            let built = match twin.and_then(|(other, _)| Some((*other, Arc::clone(all.get(other)?)))) {
                Some((other, one)) => {
                    self.twins.insert(key, other);
                    Some(one)
                }
                None => build(self, reading).map(Arc::new),
            };
            others.push((key, reading));
            all.extend(built.map(|one| (key, one)));
        }
        all
    }

    /// Whether two declarations of one kind and name are equal: they are from different collections, have the same
    /// statements, and their names refer to the same declarations.
    fn are_equal(&self, one: &Reading, other: &Reading) -> bool {
        let meant = |reading: &Reading| {
            let mut meant = Vec::new();
            reading.each_value(&mut |item| {
                if let Value::Mention(kind, name) = &item.value {
                    let key = self.scopes.known(*kind, name, item.span.file);
                    meant.push(key.map(|key| *self.twins.get(&key).unwrap_or(&key)));
                }
            });
            meant
        };
        let root = |reading: &Reading| self.units.get(&reading.span.file).map(|unit| &unit.root);
        root(one) != root(other) && one == other && meant(one) == meant(other)
    }

    /// Calls `build` with each error-free statement of type `R` in the block, and returns the values. The flag is false
    /// if `build` returned `None` for any statement.
    fn rows<'r, R: Statement, T>(
        &mut self,
        reading: &'r Reading,
        build: impl Fn(&mut Builder<'a>, Matched<'r, R>) -> Option<T>,
    ) -> (Vec<T>, bool) {
        let built = reading.each().filter(|row| row.sound).map(|row| build(self, row));
        let built: Vec<Option<T>> = built.collect();
        let complete = built.iter().all(Option::is_some);
        (built.into_iter().flatten().collect(), complete)
    }

    /// For each file, the names of one kind that the file can refer to: the file, the name, and the declaration in
    /// `all` that it means.
    pub(super) fn named_in_files<T>(&self, kind: Declared, all: &Built<T>) -> Vec<(FileId, String, Arc<T>)> {
        let of_file = |file: &FileId| {
            let (names, file) = (self.scopes.all(*file, kind), *file);
            names.filter_map(move |(name, key)| Some((file, name.to_owned(), Arc::clone(all.get(&key)?))))
        };
        self.units.keys().flat_map(of_file).collect()
    }

    fn report(&mut self, fault: Diagnostic) {
        self.faults.push(fault);
    }

    fn error(&mut self, name: &'static str, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.report(error(name, span, message, help));
    }

    fn edition(&self, file: FileId) -> u32 {
        edition(self.units, file)
    }

    fn no_error_since(&self, before: usize) -> bool {
        self.faults.iter().skip(before).all(|fault| fault.level != Level::Error)
    }

    /// The built declaration that a name means. `None` if it has errors or the name is unknown; an unknown name is
    /// reported.
    fn find<T>(
        &mut self,
        kind: Declared,
        name: (&str, Span),
        all: impl for<'b> Fn(&'b Builder<'a>) -> &'b Built<T>,
    ) -> Option<Arc<T>> {
        let key = self.scopes.find(kind, name, &mut self.faults)?;
        all(self).get(&key).cloned()
    }

    fn find_film(&mut self, name: (&str, Span)) -> Option<Arc<Film>> {
        let called = (Declared::Film, "film, paper or plate");
        let key = self.scopes.find_called(called, name, &mut self.faults)?;
        self.films.get(&key).cloned()
    }

    fn find_bath(&mut self, name: (&str, Span)) -> Option<Arc<KeptBath>> {
        self.find(Declared::Bath, name, |it| &it.baths)
    }

    /// The solution with this name, and its dilution: the given one, or undiluted. If `part` names a bottle, the
    /// dilution is that of this bottle alone. `None` after an error.
    fn diluted(
        &mut self,
        name: (&str, Span),
        part: Option<(&str, Span)>,
        dilution: Option<&Dilution>,
        place: Span,
    ) -> Option<(Arc<Solution>, Dilution)> {
        let solution = self.find(Declared::Solution, name, |it| &it.solutions)?;
        let bottles = if part.is_some() { 1 } else { solution.bottles() };
        let undiluted = || Dilution { parts: vec![1; bottles], water: 0 };
        let dilution = dilution.cloned().unwrap_or_else(undiluted);
        let fits = match part {
            Some(part) => self.part_fits(&solution, part, &dilution, place),
            None => self.parts_fit(&solution, &dilution, place),
        };
        fits.then_some((solution, dilution))
    }

    /// Whether a solution has the bottle `part`, and `dilution` has exactly one part of solution. Reports an error if
    /// not.
    fn part_fits(
        &mut self,
        solution: &Solution,
        (part, span): (&str, Span),
        dilution: &Dilution,
        place: Span,
    ) -> bool {
        let name = &solution.name;
        let fault = if !solution.parts.iter().any(|own| own == part) {
            let message = format!("'{name}' has no bottle '{part}'");
            let help = if solution.parts.is_empty() {
                format!("it comes in one bottle: remove 'part {part}'")
            } else {
                format!("its bottles are {}", solution.parts.join(", "))
            };
            error("unknown-part", span, message, help)
        } else if dilution.parts.len() != 1 {
            let message =
                format!("{dilution} has parts for {}, and this is one bottle", dilution.parts.len());
            let help = "write one part, then the water, such as 1+9; without water: stock";
            error("dilution-parts", place, message, help)
        } else {
            return true;
        };
        self.report(fault.other(solution.span, "the solution"));
        false
    }

    /// Reports each item of `all` whose key is also the key of an earlier item.
    fn distinct<K: Ord>(
        &mut self,
        name: &'static str,
        all: impl IntoIterator<Item = (K, Span)>,
        message: impl Fn(&K) -> String,
        help: &str,
    ) {
        let mut first = BTreeMap::new();
        for (key, span) in all {
            match first.get(&key) {
                Some(earlier) => {
                    self.report(error(name, span, message(&key), help).other(*earlier, "the first"));
                }
                None => _ = first.insert(key, span),
            }
        }
    }
}

/// The declarations of one kind in all files, sorted by file and position.
pub(super) fn declared(units: &Units, kind: Declared) -> impl Iterator<Item = (Key, &Reading)> {
    units.values().flat_map(move |unit| {
        let rows = unit.readings.iter().enumerate();
        rows.filter(move |(_, reading)| reading.declares() == Some(kind))
            .map(|(at, reading)| (Key { file: unit.file, at }, reading))
    })
}

fn named(reading: &Reading) -> Option<(String, String)> {
    let (name, _) = reading.name()?;
    Some((name.to_owned(), reading.title().unwrap_or(name).to_owned()))
}
