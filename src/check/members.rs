//! Names that are said only within something: the steps of recipes, followed through `from`, and the
//! bottles of solutions. A step is one and the same in every recipe that inherits it.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::gather::Units;
use super::scope::{Key, Scopes};
use crate::model::StepKind;
use crate::source::{FileId, Span};
use crate::vocabulary::{Declared, Lines as _, Reading, say};

/// So many steps are followed over all recipes of a run; each counts again in every recipe that inherits it.
const FOLLOWED_MAX: usize = 200_000;

/// What sort of member.
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
    /// What it is.
    pub kind: MemberKind,
    /// Its name; a step may go without one.
    pub name: Option<String>,
    /// Where it was made.
    pub made: Said,
    /// The other places that say it.
    pub said: Vec<Said>,
}

/// A place that says a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Said {
    /// The whole of it, with the kind of step.
    pub span: Span,
    /// The name alone, where it has one.
    pub name: Option<Span>,
}

/// The members of a run's recipes and solutions.
#[derive(Debug, Default)]
pub struct Members {
    /// All of them, in no order that means anything.
    pub all: Vec<Member>,
    /// For each recipe and solution its name's place, and which are its own or inherited.
    within: Vec<(Span, Vec<usize>)>,
}

impl Members {
    /// The member that is said or made at a place, and that place.
    #[must_use]
    pub fn at(&self, file: FileId, byte: u32) -> Option<(usize, Said)> {
        let here = |said: &&Said| said.span.file == file && said.span.start <= byte && byte <= said.span.end;
        self.all.iter().enumerate().find_map(|(at, member)| {
            let mut places = std::iter::once(&member.made).chain(&member.said);
            places.find(here).map(|said| (at, *said))
        })
    }

    /// The place of the name of a recipe or solution in which a member would have its name with another.
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

    /// Reads the members of all files.
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

/// The steps that a recipe has at some point of its text.
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
    /// From the oldest parent not yet known down to this one. Of recipes in a circle one inherits nothing.
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

    /// The steps of a recipe laid over those of its parent, as they stand at its end.
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

/// A step as a statement says it.
type StepSaid<'a> = ((StepKind, Option<&'a str>), Said);

/// The step that a statement makes, changes or drops, and the one that it is placed by.
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
