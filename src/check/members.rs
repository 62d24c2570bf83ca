//! The steps of recipes and the bottles of solutions. An inherited step is one member in all recipes.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::build::declared;
use super::derive::parent_of;
use super::gather::Units;
use super::merge::{StepId, neighbour_of, step_of};
use super::scope::{Key, Scopes};
use crate::model::StepKind;
use crate::source::{FileId, Span};
use crate::vocabulary::{Declared, Lines as _, Reading, say};

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
        let mut line: Vec<(Key, &'a Reading)> = Vec::new();
        let mut passed: BTreeSet<Key> = BTreeSet::new();
        let mut now = Some(key);
        let mut steps: Rc<Steps<'a>> = Rc::default();
        while let Some(key) = now.filter(|key| passed.insert(*key)) {
            if let Some(known) = self.known.get(&key) {
                steps = Rc::clone(known);
                break;
            }
            let own = self.units.get(&key.file).and_then(|unit| unit.readings.get(key.at));
            let Some(own) = own else { break };
            line.push((key, own));
            now = parent_of(own).and_then(|(name, at)| self.scopes.known(Declared::Recipe, name, at.file));
        }
        for (key, own) in line.into_iter().rev() {
            if self.followed > FOLLOWED_MAX {
                return;
            }
            self.lay(&mut steps, own);
            self.known.insert(key, Rc::clone(&steps));
        }
    }

    /// Turns the steps of a parent into those of a recipe at its end.
    fn lay(&mut self, steps: &mut Rc<Steps<'a>>, own: &'a Reading) {
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
