//! Follows the word `from` in recipes: merges each recipe with its ancestors. For editors, also lists the places that
//! name steps of recipes and bottles of solutions. A name is looked up in the file where it is written.

use std::rc::Rc;

use super::build::declared;
use super::gather::{Units, edition};
use super::merge::{Merged, MergedStep, StepId, merge, named_in, neighbour_of, step_of};
use super::scope::{Key, Scopes};
use super::{circle, error};
use crate::model::{Dilution, Stated, StepKind};
use crate::source::{Diagnostic, FileId, Map, Set, Span, clip};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

/// The most ancestors that a recipe can have.
const DEPTH_MAX: usize = 32;
/// The most text that all recipes of a run together may inherit, in bytes. Each inherited statement and step counts 32
/// more.
const INHERITED_MAX: usize = 4 << 20;

pub(super) struct Deriver<'a> {
    pub(super) units: &'a Units,
    pub(super) scopes: &'a Scopes,
    pub(super) done: Map<Key, Option<Rc<Merged<'a>>>>,
    /// How much text the recipes have inherited so far, counted as for [`INHERITED_MAX`].
    pub(super) inherited: usize,
}

/// The recipe with the key `recipe`, its parent, the parent's parent and so on, and why this list ends. The list ends
/// before the first recipe that has a value in `known`. `find` looks up a recipe by its name.
fn line_of<'a, T: Clone>(
    units: &'a Units,
    recipe: Key,
    known: &Map<Key, T>,
    mut find: impl FnMut((&'a str, Span)) -> Option<Key>,
) -> (Vec<(Key, &'a Reading)>, End<T>) {
    let mut line = Vec::new();
    let mut passed = Set::new();
    let mut next = Some(recipe);
    while let Some(key) = next {
        if let Some(known) = known.get(&key) {
            return (line, End::Known(known.clone()));
        }
        if !passed.insert(key) {
            return (line, End::Circle(key));
        }
        let own = units.get(&key.file).and_then(|unit| unit.readings.get(key.at));
        let Some(own) = own else { break };
        line.push((key, own));
        let header = own.view::<say::RecipeHeader>();
        let Some(name) = header.and_then(|row| row.said(say::RecipeHeader::parent)) else {
            return (line, End::Root);
        };
        next = find(name);
    }
    (line, End::Unknown)
}

/// Why a list of a recipe and its ancestors ends. The last recipe is the oldest ancestor.
enum End<T> {
    /// The last recipe of the list has no parent.
    Root,
    /// The last recipe names an unknown parent.
    Unknown,
    /// The parent of the last recipe has this value in `known`.
    Known(T),
    /// The recipes form a circle: the parent of the last recipe is this recipe, which is already in the list.
    Circle(Key),
}

impl<'a> Deriver<'a> {
    /// The recipe merged with its ancestors. `None` after an error: an ancestor is missing, the recipes form a circle,
    /// the chain of ancestors is too long, or the recipes inherit too much.
    pub(super) fn recipe(&mut self, key: Key, faults: &mut Vec<Diagnostic>) -> Option<Rc<Merged<'a>>> {
        let find = |name| self.scopes.find(Declared::Recipe, name, faults);
        let (line, end) = line_of(self.units, key, &self.done, find);
        let mut parent = match end {
            End::Root => None,
            End::Unknown => Some(None),
            End::Known(parent) => Some(parent),
            End::Circle(first) => {
                let circle_of = line.iter().skip_while(|(key, _)| *key != first).map(|(_, own)| *own);
                let names = circle_of.clone().chain(circle_of.clone().take(1));
                let names = names.filter_map(|own| Some(own.name()?.0));
                let help = match circle_of.clone().nth(1) {
                    Some(_) => "give one of them its own steps, without a parent",
                    None => "give the recipe its own steps, without a parent, or name another parent",
                };
                let spans = circle_of.map(|own| own.span);
                faults.extend(circle("from-circle", ("recipes", " from "), names, spans, help));
                Some(None)
            }
        };
        for (key, own) in line.into_iter().rev() {
            let merged = match parent {
                Some(parent) => parent.and_then(|parent| self.derived(&parent, own, faults)),
                None => Some(merge(None, own, faults)),
            };
            let merged = merged.map(Rc::new);
            self.done.insert(key, merged.clone());
            parent = Some(merged);
        }
        parent.flatten()
    }

    fn derived(
        &mut self,
        parent: &Merged<'a>,
        own: &'a Reading,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Merged<'a>> {
        if parent.depth == DEPTH_MAX {
            faults.push(error(
                "from-too-deep",
                own.span,
                "the chain of derived recipes is too long",
                "derive from an earlier recipe: a chain has at most 32",
            ));
            return None;
        }
        // `too-much-derived` is reported only once in a run.
        let reported = self.inherited > INHERITED_MAX;
        self.inherited = self.inherited.saturating_add(weight(parent));
        if self.inherited > INHERITED_MAX {
            let message = "recipes inherit too much for one run";
            let help = "derive from shorter recipes, or check fewer files at once";
            faults.extend((!reported).then(|| error("too-much-derived", own.span, message, help)));
            return None;
        }
        let merged = merge(Some(parent), own, faults);
        self.old_times(parent, &merged, faults);
        Some(merged)
    }
}

fn weight(parent: &Merged<'_>) -> usize {
    let steps = parent.steps.iter().flat_map(|step| &step.rows);
    let rows = parent.rows.iter().chain(steps);
    let bytes = |row: &Reading| (row.extent.end.saturating_sub(row.extent.start)) as usize;
    parent.steps.len() * 32 + rows.map(|row| bytes(row) + 32).sum::<usize>()
}

impl Deriver<'_> {
    /// Reports each development step of a derived recipe that inherits its time, although its film or bath is not that
    /// of the parent recipe.
    fn old_times(&self, parent: &Merged<'_>, merged: &Merged<'_>, faults: &mut Vec<Diagnostic>) {
        let film = changed(parent.stated(say::UsedFilm::film), merged.stated(say::UsedFilm::film));
        let first_film = first_film(parent, merged);
        for step in merged.steps.iter().filter(|step| step.id.kind == StepKind::Develop) {
            let Some(before) = parent.steps.iter().find(|old| old.id == step.id) else { continue };
            let times = before.time_row().zip(step.time_row());
            let is_inherited = |(old, new): &(&Reading, &Reading)| {
                std::ptr::eq(*old, *new) || step.times_before.iter().any(|before| std::ptr::eq(*before, *old))
            };
            let Some((time, _)) = times.filter(is_inherited) else { continue };
            let fault = |what: String, span| {
                let message = format!("the step {} inherits its time from a recipe {what}", step.id);
                let fault =
                    Diagnostic::error("inherited-time", span, message).other(time.span, "the inherited time");
                fault.help(format!(
                    "test this film in this bath, and write into the step {} of this recipe what you find: time …",
                    step.id
                ))
            };
            let bath = || changed(bath_of(before), bath_of(step));
            if let Some(span) = film {
                faults.push(fault("with a different film".to_owned(), span));
            } else if let Some(span) = bath().or_else(|| self.swapped(before, step)) {
                faults.push(fault("with a different bath".to_owned(), span));
            } else if let Some(row) = first_film.filter(|_| edition(self.units, time.span.file) >= 2) {
                let (word, base) = (row.row.word, parent.own.name().map_or("", |(name, _)| name));
                faults.push(fault(format!("without a {word}"), row.span).help(format!(
                    "or, if the time holds for every {word}, say so in '{}': {word} any",
                    clip(base)
                )));
            }
        }
    }
}

impl Deriver<'_> {
    /// The span of the last `swap` line that changed the bath of `step`. `None` if no `swap` line did, or if the
    /// parent's step `before` already has that change.
    fn swapped(&self, before: &MergedStep<'_>, step: &MergedStep<'_>) -> Option<Span> {
        let known = |(name, span): (&str, Span)| self.scopes.known(Declared::Solution, name, span.file);
        let row = step.one_sound::<say::In>()?;
        // Two names count as one solution if they resolve to the same declaration, or are equal after their last `/`:
        // two collections may declare the same solution.
        let is_one = |one: (&str, Span), other: (&str, Span)| {
            known(one) == known(other) || one.0.rsplit('/').next() == other.0.rsplit('/').next()
        };
        let (mut solution, mut dilution) = (row.said(say::In::solution)?, row.dilution());
        let mut last = None;
        for (at, recipe) in step.swapped_by.iter().enumerate() {
            let is_of_step = |swap: &Matched<'_, say::Swap>| {
                let differs = dilution.zip(swap.first_dilution()).is_some_and(|(own, old)| own != old);
                !differs && swap.said(say::Swap::first).is_some_and(|old| is_one(old, solution))
            };
            let Some(swap) = recipe.each::<say::Swap>().filter(|swap| swap.sound).find(is_of_step) else {
                continue;
            };
            (solution, dilution) = (swap.said(say::Swap::second)?, swap.second_dilution());
            last = Some(swap.span).filter(|_| at >= before.swapped_by.len());
        }
        last
    }
}

/// The line with which a recipe names a film, if its parent names none and does not state by `film any` that its times
/// hold for every film. Otherwise `None`.
fn first_film<'a>(parent: &Merged<'a>, merged: &Merged<'a>) -> Option<Matched<'a, say::UsedFilm>> {
    let row = merged.one_sound::<say::UsedFilm>().filter(|row| row.has(say::UsedFilm::film))?;
    let of_parent = parent.one::<say::UsedFilm>();
    let is_covered = |known: Matched<'_, say::UsedFilm>| {
        !known.sound || known.has(say::UsedFilm::film) || std::ptr::eq(known.row, row.row)
    };
    (!of_parent.is_some_and(is_covered)).then_some(row)
}

fn bath_of<'a>(step: &MergedStep<'a>) -> Option<Stated<(Option<&'a str>, Option<&'a Dilution>)>> {
    let row = step.one::<say::In>()?;
    Some(Stated::new((row.solution(), row.dilution()), row.span))
}

fn changed<T: PartialEq>(old: Option<Stated<T>>, new: Option<Stated<T>>) -> Option<Span> {
    let (old, new) = old.zip(new)?;
    (old.value != new.value).then_some(new.span)
}

/// The most steps of recipes that [`Members`] lists in a run. An inherited step counts again for each recipe that
/// inherits it.
const LISTED_MAX: usize = 200_000;

/// The kind of a [`Member`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MemberKind {
    /// A step of this kind.
    Step(StepKind),
    /// A bottle of a solution.
    Bottle,
}

/// A step of a recipe or a bottle of a solution, with all places in the files that name it. A step that several recipes
/// inherit is one member.
#[derive(Debug, Clone)]
pub struct Member {
    /// Whether this is a bottle or a step, and the kind of step.
    pub kind: MemberKind,
    /// The name; `None` for a step without a name.
    pub name: Option<String>,
    /// The place that declares the step or bottle.
    pub made: Said,
    /// All other places that name the step or bottle.
    pub said: Vec<Said>,
}

/// A place where a statement names a [`Member`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Said {
    /// The span of the name. For a step, the word for its kind is included, as in `fix second`.
    pub span: Span,
    /// The span of the name alone, if there is a name.
    pub name: Option<Span>,
}

/// The steps of all recipes and the bottles of all solutions in the files of a run.
#[derive(Debug, Default)]
pub struct Members {
    /// All steps and bottles, in no particular order.
    pub all: Vec<Member>,
    /// For each recipe and each solution: the span of its name, and its steps or bottles as indices in `all`. Inherited
    /// steps are included.
    within: Vec<(Span, Vec<usize>)>,
}

impl Members {
    /// The index in `all` of the member that is named at this byte of a file, and the place of that name. `None` if no
    /// member is named there.
    pub fn at(&self, file: FileId, byte: u32) -> Option<(usize, Said)> {
        let here = |said: &&Said| said.span.file == file && said.span.start <= byte && byte <= said.span.end;
        self.all.iter().enumerate().find_map(|(at, member)| {
            let mut places = std::iter::once(&member.made).chain(&member.said);
            places.find(here).map(|said| (at, *said))
        })
    }

    /// The span of the name of a recipe or solution that has this member, and also another member of the same kind with
    /// the name `new`. `None` if this member can be renamed to `new`.
    pub fn clash(&self, member: usize, new: &str) -> Option<Span> {
        let kind = self.all.get(member)?.kind;
        let taken = |at: &usize| {
            let other = self.all.get(*at).filter(|_| *at != member);
            other.is_some_and(|other| other.kind == kind && other.name.as_deref() == Some(new))
        };
        let beside = |(_, own): &&(Span, Vec<usize>)| own.contains(&member) && own.iter().any(taken);
        self.within.iter().find(beside).map(|(owner, _)| *owner)
    }

    pub(super) fn of(units: &Units, scopes: &Scopes) -> Members {
        let mut members = Members::default();
        let mut known: Map<Key, Rc<Steps<'_>>> = Map::new();
        let mut listed = 0;
        for (key, _) in declared(units, Declared::Recipe) {
            let find = |(name, at): (&str, Span)| scopes.known(Declared::Recipe, name, at.file);
            let (line, end) = line_of(units, key, &known, find);
            // If the last recipe of `line` has no known parent, or is in a circle, it inherits nothing.
            let mut steps = if let End::Known(steps) = end { steps } else { Rc::default() };
            for (key, own) in line.into_iter().rev() {
                if listed > LISTED_MAX {
                    break;
                }
                listed += members.steps(&mut steps, own);
                known.insert(key, Rc::clone(&steps));
            }
        }
        let bottles: Map<Key, Bottles<'_>> = declared(units, Declared::Solution)
            .map(|(key, solution)| (key, members.bottles(solution)))
            .collect();
        let readings = units.values().flat_map(|unit| unit.readings.iter());
        readings.for_each(|reading| members.parts(reading, scopes, &bottles));
        members
    }

    /// Adds each place in a block that names one bottle of a solution, such as `in brew part a`.
    fn parts(&mut self, block: &Reading, scopes: &Scopes, bottles: &Map<Key, Bottles<'_>>) {
        let of_step =
            block.each::<say::In>().map(|row| (row.said(say::In::solution), row.said(say::In::part)));
        let of_bath = block.each::<say::BathIn>();
        let of_bath = of_bath.map(|row| (row.said(say::BathIn::solution), row.said(say::BathIn::part)));
        for ((solution, at), (part, span)) in of_step.chain(of_bath).filter_map(|(name, part)| name.zip(part))
        {
            let own = scopes.known(Declared::Solution, solution, at.file).and_then(|key| bottles.get(&key));
            let bottle = own.and_then(|own| own.get(part)).copied();
            bottle.into_iter().for_each(|at| self.say(at, Said { span, name: Some(span) }));
        }
        block.rows.iter().for_each(|row| self.parts(row, scopes, bottles));
    }

    fn bottles<'a>(&mut self, solution: &'a Reading) -> Bottles<'a> {
        let Some((_, owner)) = solution.name() else { return Map::new() };
        let mut own: Bottles<'a> = Map::new();
        let said = |span| Said { span, name: Some(span) };
        for (name, span) in solution.each().flat_map(|row| row.all(say::Parts::part)) {
            match own.get(name) {
                Some(at) => self.say(*at, said(span)),
                None => _ = own.insert(name, self.make(MemberKind::Bottle, Some(name), said(span))),
            }
        }
        for (name, span) in solution.each().filter_map(|row| row.said(say::Formula::part)) {
            own.get(name).into_iter().for_each(|at| self.say(*at, said(span)));
        }
        self.within.push((owner, own.values().copied().collect()));
        own
    }

    /// Changes `steps`, the steps of the parent, into the steps of the recipe `own`. Returns how many steps the parent
    /// has, plus how many `own` adds.
    fn steps<'a>(&mut self, steps: &mut Rc<Steps<'a>>, own: &'a Reading) -> usize {
        let mut within: Vec<usize> = steps.values().copied().collect();
        for row in &own.rows {
            if let Some((neighbour, said)) = neighbour_of(row) {
                steps.get(&neighbour).into_iter().for_each(|at| self.say(*at, said));
            }
            let Some((id, said)) = step_of(row) else { continue };
            let is_removed = row.is::<say::Without>();
            if let Some(at) = steps.get(&id) {
                self.say(*at, said);
                if is_removed {
                    Rc::make_mut(steps).remove(&id);
                }
            } else if !is_removed {
                let made = self.make(MemberKind::Step(id.kind), id.name, said);
                Rc::make_mut(steps).insert(id, made);
                within.push(made);
            }
        }
        for (id, said) in own.rows.iter().flat_map(named_in) {
            steps.get(&id).into_iter().for_each(|at| self.say(*at, said));
        }
        let count = within.len();
        self.within.extend(own.name().map(|(_, owner)| (owner, within)));
        count
    }

    fn make(&mut self, kind: MemberKind, name: Option<&str>, made: Said) -> usize {
        self.all.push(Member { kind, name: name.map(str::to_owned), made, said: Vec::new() });
        self.all.len() - 1
    }

    fn say(&mut self, member: usize, said: Said) {
        self.all.get_mut(member).into_iter().for_each(|member| member.said.push(said));
    }
}

/// The bottles of a solution: the key is a bottle's name, the value its index in [`Members::all`].
type Bottles<'a> = Map<&'a str, usize>;
/// The steps of a recipe: the key is a step's kind and name, the value its index in [`Members::all`].
type Steps<'a> = Map<StepId<'a>, usize>;
