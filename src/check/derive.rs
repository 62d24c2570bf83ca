//! Follows `from`: a recipe with what it inherits, and the steps of recipes and the bottles of solutions, where an
//! inherited step is one member in all recipes. Names resolve in the file that wrote them.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::build::declared;
use super::gather::Units;
use super::merge::{Merged, MergedStep, StepId, merge, neighbour_of, step_of};
use super::scope::{Key, Scopes};
use super::{circle, error};
use crate::model::{Dilution, Stated, StepKind};
use crate::source::{Diagnostic, FileId, Span};
use crate::vocabulary::{Declared, Lines as _, Reading, say};

/// The most recipes derived one from another.
const DEPTH_MAX: usize = 32;
/// The most that all recipes of a run may inherit: bytes of text, and 32 for each statement.
const INHERITED_MAX: usize = 4 << 20;

pub(super) struct Deriver<'a> {
    pub(super) units: &'a Units,
    pub(super) scopes: &'a Scopes,
    pub(super) done: BTreeMap<Key, Option<Rc<Merged<'a>>>>,
    /// How much was inherited before, see [`INHERITED_MAX`].
    pub(super) inherited: usize,
}

/// A recipe and its ancestors, nearest first, without those whose result is `known`, and where the line ends.
/// `find` is the recipe that a name means.
fn line_of<'a, T: Clone>(
    units: &'a Units,
    recipe: Key,
    known: &BTreeMap<Key, T>,
    mut find: impl FnMut((&'a str, Span)) -> Option<Key>,
) -> (Vec<(Key, &'a Reading)>, End<T>) {
    let mut line = Vec::new();
    let mut passed = BTreeSet::new();
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

/// The end of a recipe's line of ancestors.
enum End<T> {
    /// Its last recipe has no parent.
    Root,
    /// The parent of its last recipe is unknown.
    Unknown,
    /// The parent of its last recipe has this result.
    Known(T),
    /// The parent of its last recipe is this one of its own.
    Circle(Key),
}

impl<'a> Deriver<'a> {
    /// A recipe with all it inherits; `None` if it is in a circle or its parent is unknown.
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
                let help = "give one of them its own steps, without a parent";
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
                "too many recipes are derived one from another",
                "derive from an earlier one; at most 32 may follow each other",
            ));
            return None;
        }
        // Reported once for the run.
        let reported = self.inherited > INHERITED_MAX;
        self.inherited = self.inherited.saturating_add(weight(parent));
        if self.inherited > INHERITED_MAX {
            let message = "recipes inherit too much for one run";
            let help = "derive from shorter recipes, or check fewer files at once";
            faults.extend((!reported).then(|| error("too-much-derived", own.span, message, help)));
            return None;
        }
        let merged = merge(Some(parent), own, faults);
        old_times(parent, &merged, faults);
        Some(merged)
    }
}

/// How much a recipe inherits from this one, see [`INHERITED_MAX`].
fn weight(parent: &Merged<'_>) -> usize {
    let steps = parent.steps.iter().flat_map(|step| &step.rows);
    let rows = parent.rows.iter().chain(steps);
    let bytes = |row: &Reading| (row.extent.end.saturating_sub(row.extent.start)) as usize;
    parent.steps.len() * 32 + rows.map(|row| bytes(row) + 32).sum::<usize>()
}

/// Reports every development with the parent's time and another film or bath.
fn old_times(parent: &Merged<'_>, merged: &Merged<'_>, faults: &mut Vec<Diagnostic>) {
    let film = changed(parent.stated(say::UsedFilm::film), merged.stated(say::UsedFilm::film));
    for step in merged.steps.iter().filter(|step| step.id.kind == StepKind::Develop) {
        let Some(before) = parent.steps.iter().find(|old| old.id == step.id) else { continue };
        let times = before.time_row().zip(step.time_row());
        let Some((_, time)) = times.filter(|(old, new)| std::ptr::eq(*old, *new)) else { continue };
        let bath = || changed(bath_of(before), bath_of(step));
        if let Some((what, span)) = film.map(|span| ("film", span)).or_else(|| bath().map(|it| ("bath", it)))
        {
            faults.push(
                error(
                    "inherited-time",
                    span,
                    format!("the {what} of '{}' changed, and its time did not", step.id),
                    "state a chart or a time for it here, from a test with this film and bath",
                )
                .other(time.span, format!("this time is for the other {what}")),
            );
        }
    }
}

fn bath_of<'a>(step: &MergedStep<'a>) -> Option<Stated<(Option<&'a str>, Option<&'a Dilution>)>> {
    let row = step.one::<say::In>()?;
    Some(Stated::new((row.solution(), row.dilution()), row.span))
}

/// The span of the new value, if it differs.
fn changed<T: PartialEq>(old: Option<Stated<T>>, new: Option<Stated<T>>) -> Option<Span> {
    let (old, new) = old.zip(new)?;
    (old.value != new.value).then_some(new.span)
}

/// The most steps that are followed in a run; an inherited step counts in each recipe.
const FOLLOWED_MAX: usize = 200_000;

/// The kind of a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MemberKind {
    /// A step of that kind.
    Step(StepKind),
    /// A bottle of a solution.
    Bottle,
}

/// A step or a bottle.
#[derive(Debug, Clone)]
pub struct Member {
    /// Its kind.
    pub kind: MemberKind,
    /// Its name, if it has one.
    pub name: Option<String>,
    /// Where it is introduced.
    pub made: Said,
    /// Its other uses.
    pub said: Vec<Said>,
}

/// A use of a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Said {
    /// Its place, with the kind of step.
    pub span: Span,
    /// The place of the name, if it has one.
    pub name: Option<Span>,
}

/// The members of a run's recipes and solutions.
#[derive(Debug, Default)]
pub struct Members {
    /// All of them, in no particular order.
    pub all: Vec<Member>,
    /// The span of the name of each recipe and solution, and its members with the inherited ones.
    within: Vec<(Span, Vec<usize>)>,
}

impl Members {
    /// The member that is used or introduced at a byte, and the place.
    pub fn at(&self, file: FileId, byte: u32) -> Option<(usize, Said)> {
        let here = |said: &&Said| said.span.file == file && said.span.start <= byte && byte <= said.span.end;
        self.all.iter().enumerate().find_map(|(at, member)| {
            let mut places = std::iter::once(&member.made).chain(&member.said);
            places.find(here).map(|said| (at, *said))
        })
    }

    /// The name of a recipe or solution where another member already has this name.
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
        let mut follower =
            Follower { units, scopes, members: Members::default(), known: BTreeMap::new(), followed: 0 };
        declared(units, Declared::Recipe).for_each(|(key, _)| follower.recipe(key));
        declared(units, Declared::Solution).for_each(|(_, solution)| follower.members.bottles(solution));
        follower.members
    }

    fn bottles(&mut self, solution: &Reading) {
        let Some((_, owner)) = solution.name() else { return };
        let mut own: BTreeMap<&str, usize> = BTreeMap::new();
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
        self.within.push((owner, own.into_values().collect()));
    }

    fn make(&mut self, kind: MemberKind, name: Option<&str>, made: Said) -> usize {
        self.all.push(Member { kind, name: name.map(str::to_owned), made, said: Vec::new() });
        self.all.len() - 1
    }

    fn say(&mut self, member: usize, said: Said) {
        self.all.get_mut(member).into_iter().for_each(|member| member.said.push(said));
    }
}

/// The steps of a recipe at some point of its text.
type Steps<'a> = BTreeMap<StepId<'a>, usize>;

struct Follower<'a> {
    units: &'a Units,
    scopes: &'a Scopes,
    members: Members,
    known: BTreeMap<Key, Rc<Steps<'a>>>,
    followed: usize,
}

impl<'a> Follower<'a> {
    /// Follows from the oldest unknown parent down. In a circle one recipe inherits nothing.
    fn recipe(&mut self, key: Key) {
        let find = |(name, at): (&str, Span)| self.scopes.known(Declared::Recipe, name, at.file);
        let (line, end) = line_of(self.units, key, &self.known, find);
        let mut steps = if let End::Known(steps) = end { steps } else { Rc::default() };
        for (key, own) in line.into_iter().rev() {
            if self.followed > FOLLOWED_MAX {
                return;
            }
            self.add_steps(&mut steps, own);
            self.known.insert(key, Rc::clone(&steps));
        }
    }

    /// Changes the steps of a parent into those of a recipe.
    fn add_steps(&mut self, steps: &mut Rc<Steps<'a>>, own: &'a Reading) {
        let mut within: Vec<usize> = steps.values().copied().collect();
        for row in &own.rows {
            if let Some((neighbour, said)) = neighbour_of(row) {
                steps.get(&neighbour).into_iter().for_each(|at| self.members.say(*at, said));
            }
            let Some((id, said)) = step_of(row) else { continue };
            let is_removed = row.is::<say::Without>();
            if let Some(at) = steps.get(&id) {
                self.members.say(*at, said);
                if is_removed {
                    Rc::make_mut(steps).remove(&id);
                }
            } else if !is_removed {
                let made = self.members.make(MemberKind::Step(id.kind), id.name, said);
                Rc::make_mut(steps).insert(id, made);
                within.push(made);
            }
        }
        self.followed += within.len();
        self.members.within.extend(own.name().map(|(_, owner)| (owner, within)));
    }
}
