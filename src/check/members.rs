//! The steps of recipes, followed through `from`, and the bottles of solutions. An inherited step is the same
//! member in every recipe.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::gather::Units;
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
    /// For each recipe and solution the place of its name, and its members, inherited ones too.
    within: Vec<(Span, Vec<usize>)>,
}

impl Members {
    /// The member that is used or introduced at a byte, and the place.
    #[must_use]
    pub fn at(&self, file: FileId, byte: u32) -> Option<(usize, Said)> {
        let here = |said: &&Said| said.span.file == file && said.span.start <= byte && byte <= said.span.end;
        self.all.iter().enumerate().find_map(|(at, member)| {
            let mut places = std::iter::once(&member.made).chain(&member.said);
            places.find(here).map(|said| (at, *said))
        })
    }

    /// The name of a recipe or solution where another member already has this name.
    #[must_use]
    pub fn clash(&self, member: usize, new: &str) -> Option<Span> {
        let kind = self.all.get(member)?.kind;
        let taken = |at: &usize| {
            let other = self.all.get(*at).filter(|_| *at != member);
            other.is_some_and(|other| other.kind == kind && other.name.as_deref() == Some(new))
        };
        let beside = |(_, own): &&(Span, Vec<usize>)| own.contains(&member) && own.iter().any(taken);
        self.within.iter().find(beside).map(|(owner, _)| *owner)
    }

    /// The members of all files.
    pub(super) fn of(units: &Units, scopes: &Scopes) -> Members {
        let mut follower =
            Follower { units, scopes, members: Members::default(), known: BTreeMap::new(), followed: 0 };
        for unit in units.values() {
            for (at, reading) in unit.readings.iter().enumerate() {
                match reading.declares() {
                    Some(Declared::Recipe) => follower.recipe(Key { file: unit.file, at }),
                    Some(Declared::Solution) => follower.members.bottles(reading),
                    _ => {}
                }
            }
        }
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
type Steps<'a> = BTreeMap<(StepKind, Option<&'a str>), usize>;

/// Follows steps from parents to what is derived from them, each recipe once.
struct Follower<'a> {
    units: &'a Units,
    scopes: &'a Scopes,
    members: Members,
    known: BTreeMap<Key, Rc<Steps<'a>>>,
    followed: usize,
}

impl<'a> Follower<'a> {
    /// Follows from the oldest unknown parent down to this recipe. In a circle one recipe inherits nothing.
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
            let header = own.view::<say::RecipeHeader>();
            let parent = header.and_then(|header| header.said(say::RecipeHeader::parent));
            now = parent.and_then(|(name, span)| self.scopes.known(Declared::Recipe, name, span.file));
        }
        for (key, own) in line.into_iter().rev() {
            if self.followed > FOLLOWED_MAX {
                return;
            }
            steps = self.laid(steps, own);
            self.known.insert(key, Rc::clone(&steps));
        }
    }

    /// The steps of a recipe at its end, from those of its parent.
    fn laid(&mut self, mut steps: Rc<Steps<'a>>, own: &'a Reading) -> Rc<Steps<'a>> {
        let mut within: Vec<usize> = steps.values().copied().collect();
        for row in &own.rows {
            let (header, place) = said(row);
            if let Some((step, said)) = place {
                steps.get(&step).into_iter().for_each(|at| self.members.say(*at, said));
            }
            let Some((step, said)) = header else { continue };
            match (steps.get(&step).copied(), row.is::<say::Without>()) {
                (Some(at), true) => {
                    self.members.say(at, said);
                    Rc::make_mut(&mut steps).remove(&step);
                }
                (None, true) => {}
                (Some(at), false) => self.members.say(at, said),
                (None, false) => {
                    let made = self.members.make(MemberKind::Step(step.0), step.1, said);
                    Rc::make_mut(&mut steps).insert(step, made);
                    within.push(made);
                }
            }
        }
        self.followed += within.len();
        if let Some((_, owner)) = own.name() {
            self.members.within.push((owner, within));
        }
        steps
    }
}

/// A step as a statement names it.
type StepSaid<'a> = ((StepKind, Option<&'a str>), Said);

/// The step that a statement adds, changes or removes, and the step that gives its position.
fn said(row: &Reading) -> (Option<StepSaid<'_>>, Option<StepSaid<'_>>) {
    if let Some((kind, step)) = row.step().zip(row.view::<say::Step>()) {
        let length = u32::try_from(kind.word().len()).unwrap_or(0);
        let word = Span { end: row.span.start + length, ..row.span };
        let place = step.said(say::Step::by).map(|by| with_name(by, step.said(say::Step::by_name)));
        return (Some(with_name((kind, word), step.said(say::Step::name))), place);
    }
    let without = row.view::<say::Without>();
    let step =
        without.and_then(|row| Some(with_name(row.said(say::Without::kind)?, row.said(say::Without::name))));
    (step, None)
}

fn with_name<'a>((kind, word): (StepKind, Span), named: Option<(&'a str, Span)>) -> StepSaid<'a> {
    let span = named.map_or(word, |(_, name)| word.to(name));
    ((kind, named.map(|(name, _)| name)), Said { span, name: named.map(|(_, span)| span) })
}
