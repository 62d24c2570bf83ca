//! The rolls that may share a tank: those whose work is the same tonight. For each kind, what one roll of a
//! format takes of the tank, and how much of it its baths are enough for.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Asked;
use super::pack::{Room, Size};
use super::recipe::recipe_for;
use super::work::Work;
use crate::compile::{Conditions, compile};
use crate::model::{Exposed, Format, Recipe, Rolls};
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("roll-does-not-fit", "a roll of a format that the tank has no reels for")];

/// Rolls whose work is the same.
#[derive(Debug)]
pub(super) struct Kind<'a> {
    /// The recipe that is followed: of several the one that develops longest.
    pub(super) recipe: &'a Arc<Recipe>,
    work: Work,
    /// The rolls in the order they were shot: the place among all that wait, and which of the sizes.
    pub(super) rolls: Vec<(usize, usize)>,
    formats: Vec<Format>,
    /// What a roll of each of its formats takes.
    pub(super) sizes: Vec<Size>,
    /// What the tank has for it.
    pub(super) room: Room,
}

/// A film at an index, by the film's place in the text.
type Group = (Span, Option<u32>);

/// The kinds, each with its rolls.
pub(super) fn kinds<'a>(asked: &Asked<'a>, waiting: &[&Exposed]) -> Result<Vec<Kind<'a>>, Vec<Diagnostic>> {
    let mut faults = Vec::new();
    let mut kinds: Vec<Kind<'a>> = Vec::new();
    let mut groups: BTreeMap<Group, Vec<usize>> = BTreeMap::new();
    for (at, roll) in waiting.iter().enumerate() {
        groups.entry((roll.film.span, roll.exposed_at())).or_default().push(at);
    }
    let mut recipes: Vec<(&'a Arc<Recipe>, Vec<usize>)> = Vec::new();
    for places in groups.into_values() {
        let Some(first) = places.first().and_then(|at| waiting.get(*at)) else { continue };
        match recipe_for(asked, first, places.len()) {
            Ok(recipe) => recipes.push((recipe, places)),
            Err(fault) => faults.push(*fault),
        }
    }
    let mut works = Vec::new();
    for (recipe, places) in recipes {
        match work(asked, recipe, &places, waiting) {
            Ok(work) => works.push((recipe, work, places)),
            Err(told) => faults.extend(told),
        }
    }
    // The longest first, so that it is the one that others are within of.
    works.sort_by_key(|(_, work, _)| std::cmp::Reverse(work.longest()));
    for (recipe, work, places) in works {
        let same = kinds.iter_mut().find(|kind| kind.work.is_as(&work, asked.within));
        match same {
            Some(kind) => kind.rolls.extend(places.iter().map(|at| (*at, 0))),
            None => kinds.push(Kind {
                recipe,
                work,
                rolls: places.iter().map(|at| (*at, 0)).collect(),
                formats: Vec::new(),
                sizes: Vec::new(),
                room: Room { reels: 1, film: None },
            }),
        }
    }
    for kind in &mut kinds {
        sized(asked, kind, waiting, &mut faults);
    }
    if faults.is_empty() { Ok(kinds) } else { Err(faults) }
}

/// The work of a recipe tonight, with one roll in the tank.
fn work(
    asked: &Asked<'_>,
    recipe: &Arc<Recipe>,
    places: &[usize],
    waiting: &[&Exposed],
) -> Result<Work, Vec<Diagnostic>> {
    let mut formats: Vec<&Exposed> = Vec::new();
    for roll in places.iter().filter_map(|at| waiting.get(*at)) {
        if !formats.iter().any(|known| known.format == roll.format) {
            formats.push(roll);
        }
    }
    let strange: Vec<Diagnostic> = formats
        .iter()
        .filter(|roll| reels(asked, roll.format).is_none())
        .map(|roll| no_reels(asked, roll))
        .collect();
    if !strange.is_empty() {
        return Err(strange);
    }
    let format = formats.first().map_or(Format::F120, |roll| roll.format);
    let conditions = loaded(asked, format, 1);
    compile(asked.shelf, recipe, Some(asked.tank), &conditions, Vec::new())
        .map(|schedule| Work::of(&schedule))
}

fn loaded(asked: &Asked<'_>, format: Format, count: u32) -> Conditions {
    Conditions { rolls: vec![Rolls { count, format }], labels: Vec::new(), ..asked.conditions.clone() }
}

/// How many of a format the tank takes.
fn reels(asked: &Asked<'_>, format: Format) -> Option<u32> {
    asked.tank.reels_for(format).map(|reels| reels.most)
}

fn no_reels(asked: &Asked<'_>, roll: &Exposed) -> Diagnostic {
    let takes: Vec<&str> = asked.tank.reels.iter().map(|reels| reels.format.word()).collect();
    let message = format!("'{}' takes no {}", asked.tank.name, roll.format.word());
    Diagnostic::error("roll-does-not-fit", roll.span, message)
        .other(asked.tank.span, "the tank")
        .help(format!("it takes {}; plan with another tank: --tank", takes.join(", ")))
}

/// Settles what each roll of a kind takes, and what there is of it.
fn sized(asked: &Asked<'_>, kind: &mut Kind<'_>, waiting: &[&Exposed], faults: &mut Vec<Diagnostic>) {
    kind.rolls.sort_unstable();
    for (at, size) in &mut kind.rolls {
        let Some(roll) = waiting.get(*at) else { continue };
        let known = kind.formats.iter().position(|format| *format == roll.format);
        *size = known.unwrap_or(kind.formats.len());
        if known.is_none() {
            kind.formats.push(roll.format);
        }
    }
    let most: Vec<u64> = kind
        .formats
        .iter()
        .filter_map(|format| reels(asked, *format))
        .map(|most| u64::from(most.max(1)))
        .collect();
    let whole = most.iter().fold(1u64, |whole, most| whole / common(whole, *most) * most);
    kind.room.reels = whole;
    for (format, most) in kind.formats.iter().zip(&most) {
        kind.sizes.push(Size { reels: whole / most, film: u64::from(format.twelfths()) });
        match enough_for(asked, kind.recipe, *format, u32::try_from(*most).unwrap_or(1)) {
            Ok(None) => {}
            Ok(Some(film)) => kind.room.film = Some(kind.room.film.map_or(film, |known| known.min(film))),
            Err(told) => faults.extend(told),
        }
    }
}

/// The most film of a format, in twelfths, that the baths of a full tank are enough for; `None` where they are
/// enough for all that it takes.
fn enough_for(
    asked: &Asked<'_>,
    recipe: &Arc<Recipe>,
    format: Format,
    most: u32,
) -> Result<Option<u64>, Vec<Diagnostic>> {
    let compiled = |count: u32| {
        let conditions = loaded(asked, format, count);
        compile(asked.shelf, recipe, Some(asked.tank), &conditions, Vec::new())
    };
    let mut last = match compiled(most) {
        Ok(_) => return Ok(None),
        Err(faults) => faults,
    };
    // Whether it does for fewer is one question; so the number is found by halves.
    let (mut does, mut does_not) = (0, most);
    while does_not - does > 1 {
        let middle = does + (does_not - does) / 2;
        match compiled(middle) {
            Ok(_) => does = middle,
            Err(faults) => (does_not, last) = (middle, faults),
        }
    }
    if does == 0 { Err(last) } else { Ok(Some(u64::from(does) * u64::from(format.twelfths()))) }
}

fn common(a: u64, b: u64) -> u64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}
