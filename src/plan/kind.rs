//! Groups the rolls that can share a tank, because their work is the same tonight.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Asked;
use super::left::{LeftOut, set_aside};
use super::recipe::recipe_for;
use super::tank::{Limits, Size};
use crate::compile::{EveningWork, Tonight, compile};
use crate::model::{Exposed, Format, Recipe, Rolls, gcd};
use crate::source::{Diagnostic, Span};

pub(super) const FAULTS: &[(&str, &str)] =
    &[("roll-does-not-fit", "a roll of a format for which the tank has no reels")];

/// The most parts of a tank's reels. Each format takes a whole number of parts; beyond the limit it is rounded down.
const PARTS_MAX: u64 = 100_000_000_000_000;

/// Rolls whose work is the same.
#[derive(Debug)]
pub(super) struct Kind<'a> {
    /// Its recipe; of several the one that develops longest.
    pub(super) recipe: &'a Arc<Recipe>,
    work: EveningWork<'a>,
    /// The rolls in the order they were shot: the place among all waiting rolls, and the index of the size.
    pub(super) rolls: Vec<(usize, usize)>,
    formats: Vec<Format>,
    /// The size of each of its formats.
    pub(super) sizes: Vec<Size>,
    pub(super) limits: Limits,
}

/// A film at an index, by the film's place in the files.
type Group = (Span, Option<u32>);

/// The kinds with their rolls. Rolls that cannot have a load are left out.
pub(super) fn kinds<'a>(asked: &Asked<'a>, waiting: &[&Exposed], left: &mut Vec<LeftOut>) -> Vec<Kind<'a>> {
    let mut groups: BTreeMap<Group, Vec<usize>> = BTreeMap::new();
    for (at, roll) in waiting.iter().enumerate() {
        if reels(asked, roll.format).is_none() {
            set_aside(left, &[roll], vec![no_reels(asked, roll)]);
            continue;
        }
        groups.entry((roll.film.span, roll.exposed_at())).or_default().push(at);
    }
    let mut single: Vec<Kind<'a>> = Vec::new();
    for places in groups.into_values() {
        let rolls: Vec<&Exposed> = places.iter().filter_map(|at| waiting.get(*at).copied()).collect();
        let Some(first) = rolls.first() else { continue };
        let recipe = recipe_for(asked, first, places.len()).map_err(|fault| vec![*fault]);
        match recipe.and_then(|recipe| Ok((recipe, work(asked, recipe, first.format)?))) {
            Ok((recipe, work)) => single.push(Kind {
                recipe,
                work,
                rolls: places.iter().map(|at| (*at, 0)).collect(),
                formats: Vec::new(),
                sizes: Vec::new(),
                limits: Limits { reels: 1, film: None },
            }),
            Err(errors) => set_aside(left, &rolls, errors),
        }
    }
    // The longest time first, because it is used for the others.
    single.sort_by_key(|kind| std::cmp::Reverse(kind.work.developing()));
    let mut kinds: Vec<Kind<'a>> = Vec::new();
    for kind in single {
        match kinds.iter_mut().find(|known| known.work.is_same(&kind.work, asked.within)) {
            Some(known) => known.rolls.extend(kind.rolls),
            None => kinds.push(kind),
        }
    }
    kinds.iter_mut().for_each(|kind| set_sizes(asked, kind, waiting, left));
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

/// The number of rolls of a format that the tank takes.
fn reels(asked: &Asked<'_>, format: Format) -> Option<u32> {
    asked.tank.reels_for(format).map(|reels| reels.most)
}

fn no_reels(asked: &Asked<'_>, roll: &Exposed) -> Diagnostic {
    let message = format!("'{}' takes no {}", asked.tank.name, roll.format.word());
    Diagnostic::error("roll-does-not-fit", roll.span, message)
        .other(asked.tank.span, "the tank")
        .help(format!("it takes {}; plan with another tank: --tank", asked.tank.formats()))
}

/// Sets the sizes and limits of a kind. Rolls of a format are left out if the baths are too small for one.
fn set_sizes(asked: &Asked<'_>, kind: &mut Kind<'_>, waiting: &[&Exposed], left: &mut Vec<LeftOut>) {
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
                    let least = |film: u64| kind.limits.film.map_or(film, |known| known.min(film));
                    kind.limits.film = film.map(least).or(kind.limits.film);
                }
                Err(errors) => refused.push((roll.format, errors)),
            }
        }
        *size = kind.formats.iter().position(|format| *format == roll.format).unwrap_or(usize::MAX);
    }
    for (format, errors) in refused {
        let rolls = kind.rolls.iter().filter_map(|(at, _)| waiting.get(*at).copied());
        let rolls: Vec<&Exposed> = rolls.filter(|roll| roll.format == format).collect();
        set_aside(left, &rolls, errors);
    }
    kind.rolls.retain(|(_, size)| *size < kind.formats.len());
    let most = kind.formats.iter().map(|format| u64::from(reels(asked, *format).unwrap_or(1).max(1)));
    let most: Vec<u64> = most.collect();
    let whole = most.iter().try_fold(1u64, |whole, most| {
        let whole = (whole / gcd(whole, *most).max(1)).checked_mul(*most)?;
        (whole <= PARTS_MAX).then_some(whole)
    });
    let whole = whole.unwrap_or(PARTS_MAX);
    kind.limits.reels = whole;
    let sizes = kind.formats.iter().zip(&most);
    kind.sizes = sizes
        .map(|(format, most)| Size { reels: whole / most, film: u64::from(format.twelfths()) })
        .collect();
}

/// The most film of a format for the baths of a full tank, in twelfths of a roll; `None` if they are enough for a full
/// tank.
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
        Err(errors) => errors,
    };
    // A binary search for the largest number that compiles.
    let (mut fits, mut exceeds) = (0, most);
    while exceeds - fits > 1 {
        let middle = fits + (exceeds - fits) / 2;
        match compiled(middle) {
            Ok(_) => fits = middle,
            Err(errors) => (exceeds, last) = (middle, errors),
        }
    }
    if fits == 0 { Err(last) } else { Ok(Some(u64::from(fits) * u64::from(format.twelfths()))) }
}
