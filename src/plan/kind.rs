//! The rolls that may share a tank: those whose work is the same tonight. For each kind, what one roll of a
//! format takes of the tank, and how much of it its baths are enough for.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Asked;
use super::left::{LeftOut, set_aside};
use super::recipe::recipe_for;
use super::tank::{Room, Size};
use crate::compile::{EveningWork, Tonight, compile};
use crate::model::{Exposed, Format, Recipe, Rolls};
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("roll-does-not-fit", "a roll of a format that the tank has no reels for")];

/// The reels of a tank are counted in parts of which each format takes whole ones, but in no more than this, which a
/// tank of any sense stays far below; a share is rounded down then.
const PARTS_MAX: u64 = 100_000_000_000_000;

/// Rolls whose work is the same.
#[derive(Debug)]
pub(super) struct Kind<'a> {
    /// The recipe that is followed: of several the one that develops longest.
    pub(super) recipe: &'a Arc<Recipe>,
    work: EveningWork<'a>,
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

/// The kinds, each with its rolls; rolls of which there can be none are left out, with the reason.
pub(super) fn kinds<'a>(asked: &Asked<'a>, waiting: &[&Exposed], left: &mut Vec<LeftOut>) -> Vec<Kind<'a>> {
    let mut groups: BTreeMap<Group, Vec<usize>> = BTreeMap::new();
    for (at, roll) in waiting.iter().enumerate() {
        if reels(asked, roll.format).is_none() {
            set_aside(left, &[roll], vec![no_reels(asked, roll)]);
            continue;
        }
        groups.entry((roll.film.span, roll.exposed_at())).or_default().push(at);
    }
    let mut works = Vec::new();
    for places in groups.into_values() {
        let rolls: Vec<&Exposed> = places.iter().filter_map(|at| waiting.get(*at).copied()).collect();
        let Some(first) = rolls.first() else { continue };
        let recipe = recipe_for(asked, first, places.len()).map_err(|fault| vec![*fault]);
        match recipe.and_then(|recipe| Ok((recipe, work(asked, recipe, first.format)?))) {
            Ok((recipe, work)) => works.push((recipe, work, places)),
            Err(told) => set_aside(left, &rolls, told),
        }
    }
    let mut kinds: Vec<Kind<'a>> = Vec::new();
    // The longest first, so that it is the one that others are within of.
    works.sort_by_key(|(_, work, _)| std::cmp::Reverse(work.developing()));
    for (recipe, work, places) in works {
        let same = kinds.iter_mut().find(|kind| kind.work.is_same(&work, asked.within));
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
    kinds.iter_mut().for_each(|kind| sized(asked, kind, waiting, left));
    kinds
}

/// The work of a recipe tonight, with one roll in the tank.
fn work<'a>(
    asked: &Asked<'_>,
    recipe: &'a Arc<Recipe>,
    format: Format,
) -> Result<EveningWork<'a>, Vec<Diagnostic>> {
    let conditions = loaded(asked, format, 1);
    let schedule = compile(asked.shelf, recipe, &conditions, Vec::new())?;
    Ok(EveningWork::of(recipe, &schedule))
}

fn loaded(asked: &Asked<'_>, format: Format, count: u32) -> Tonight {
    let tank = Some(Arc::clone(asked.tank));
    Tonight { rolls: vec![Rolls { count, format }], tank, labels: Vec::new(), ..asked.conditions.clone() }
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

/// Settles what each roll of a kind takes, and what there is of it; rolls of a format of which the baths are not
/// enough for one are left out.
fn sized(asked: &Asked<'_>, kind: &mut Kind<'_>, waiting: &[&Exposed], left: &mut Vec<LeftOut>) {
    kind.rolls.sort_unstable();
    let mut refused: Vec<(Format, Vec<Diagnostic>)> = Vec::new();
    for (at, size) in &mut kind.rolls {
        let Some(roll) = waiting.get(*at) else { continue };
        let is_new = !kind.formats.contains(&roll.format);
        if is_new && !refused.iter().any(|(format, _)| *format == roll.format) {
            let most = reels(asked, roll.format).unwrap_or(1).max(1);
            match enough_for(asked, kind.recipe, roll.format, most) {
                Ok(film) => {
                    kind.formats.push(roll.format);
                    let least = |film: u64| kind.room.film.map_or(film, |known| known.min(film));
                    kind.room.film = film.map(least).or(kind.room.film);
                }
                Err(told) => refused.push((roll.format, told)),
            }
        }
        *size = kind.formats.iter().position(|format| *format == roll.format).unwrap_or(usize::MAX);
    }
    for (format, told) in refused {
        let rolls = kind.rolls.iter().filter_map(|(at, _)| waiting.get(*at).copied());
        let rolls: Vec<&Exposed> = rolls.filter(|roll| roll.format == format).collect();
        set_aside(left, &rolls, told);
    }
    kind.rolls.retain(|(_, size)| *size < kind.formats.len());
    let most = kind.formats.iter().map(|format| u64::from(reels(asked, *format).unwrap_or(1).max(1)));
    let most: Vec<u64> = most.collect();
    let whole = most.iter().try_fold(1u64, |whole, most| {
        let whole = (whole / common(whole, *most)).checked_mul(*most)?;
        (whole <= PARTS_MAX).then_some(whole)
    });
    let whole = whole.unwrap_or(PARTS_MAX);
    kind.room.reels = whole;
    let sizes = kind.formats.iter().zip(&most);
    kind.sizes = sizes
        .map(|(format, most)| Size { reels: whole / most, film: u64::from(format.twelfths()) })
        .collect();
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
        compile(asked.shelf, recipe, &conditions, Vec::new())
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
