//! Groups the rolls that can share a tank, because they are processed alike. Leaves out rolls with errors.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::Asked;
use super::tank::{Limits, Size};
use crate::compile::{EveningWork, Schedule, compile};
use crate::model::{Exposed, Format, Recipe, Rolls, gcd};
use crate::source::{Diagnostic, Span, clip, first_few};

/// A tank's reels count as at most this many parts, so that a roll of each format takes a whole number of parts. If
/// that needs more parts, what a roll takes is rounded down.
const PARTS_MAX: u64 = 100_000_000_000_000;

/// Rolls that can share a tank.
#[derive(Debug)]
pub(super) struct Kind<'a> {
    /// The recipe for these rolls; of several recipes, the one that develops longest.
    pub(super) recipe: &'a Arc<Recipe>,
    /// The rolls in the order of exposure: the index among all waiting rolls, and the index in `sizes`.
    pub(super) rolls: Vec<(usize, usize)>,
    /// The size of each format of the rolls.
    pub(super) sizes: Vec<Size>,
    pub(super) limits: Limits,
}

/// Rolls of one or more films that can share a tank, by index among all waiting rolls.
struct Group<'a> {
    recipe: &'a Arc<Recipe>,
    work: EveningWork<'a>,
    rolls: Vec<usize>,
}

/// The rolls that can share a tank, kind by kind. Rolls that cannot be developed are added to `left`.
pub(super) fn kinds<'a>(asked: &Asked<'a>, waiting: &[&Exposed], left: &mut Vec<LeftOut>) -> Vec<Kind<'a>> {
    let mut films: BTreeMap<(Span, Option<u32>), Vec<usize>> = BTreeMap::new();
    for (at, roll) in waiting.iter().enumerate() {
        if asked.tank.reels_for(roll.format).is_none() {
            set_aside(left, &[roll], vec![no_reels(asked, roll)]);
            continue;
        }
        films.entry((roll.film.span, roll.exposed_at())).or_default().push(at);
    }
    let mut single: Vec<Group<'a>> = Vec::new();
    for places in films.into_values() {
        let rolls = rolls_at(&places, waiting);
        let Some(first) = rolls.first() else { continue };
        let recipe = recipe_for(asked, first, places.len()).map_err(|error| vec![*error]);
        match recipe.and_then(|recipe| Ok((recipe, compiled(asked, recipe, first.format, 1)?))) {
            Ok((recipe, schedule)) => {
                single.push(Group { recipe, work: EveningWork::of(recipe, &schedule), rolls: places });
            }
            Err(errors) => set_aside(left, &rolls, errors),
        }
    }
    // The longest time first: a group that joins an earlier one is developed for the earlier one's time.
    single.sort_by_key(|group| Reverse(group.work.developing()));
    let mut groups: Vec<Group<'a>> = Vec::new();
    for group in single {
        match groups.iter_mut().find(|known| known.work.is_same(&group.work, asked.within)) {
            Some(known) => known.rolls.extend(group.rolls),
            None => groups.push(group),
        }
    }
    groups.into_iter().map(|group| kind(asked, group, waiting, left)).collect()
}

/// The waiting rolls with these indices.
pub(super) fn rolls_at<'r>(places: &[usize], waiting: &[&'r Exposed]) -> Vec<&'r Exposed> {
    places.iter().filter_map(|at| waiting.get(*at).copied()).collect()
}

/// The schedule of a recipe with this many rolls of one format in the tank.
fn compiled(
    asked: &Asked<'_>,
    recipe: &Arc<Recipe>,
    format: Format,
    count: u32,
) -> Result<Schedule, Vec<Diagnostic>> {
    compile(asked.shelf, recipe, &asked.tonight(vec![Rolls { count, format }]), Vec::new())
}

fn no_reels(asked: &Asked<'_>, roll: &Exposed) -> Diagnostic {
    let message = format!("'{}' has no reels for {}", asked.tank.name, roll.format.word());
    Diagnostic::error("roll-does-not-fit", roll.span, message)
        .other(asked.tank.span, "the tank")
        .help(format!("it takes {}; plan with another tank: --tank", asked.tank.formats()))
}

/// The kind of a group, with sizes and limits. Rolls of a format are left out if the baths are too small for even one.
fn kind<'a>(
    asked: &Asked<'_>,
    Group { recipe, mut rolls, .. }: Group<'a>,
    waiting: &[&Exposed],
    left: &mut Vec<LeftOut>,
) -> Kind<'a> {
    rolls.sort_unstable();
    let all = rolls_at(&rolls, waiting);
    let mut formats: Vec<Format> = Vec::new();
    all.iter().for_each(|roll| formats.extend((!formats.contains(&roll.format)).then_some(roll.format)));
    let most = |format| asked.tank.reels_for(format).map_or(1, |reels| reels.most.max(1));
    let mut film: Option<u64> = None;
    formats.retain(|format| match enough_for(asked, recipe, *format, most(*format)) {
        Ok(enough) => {
            film = film.into_iter().chain(enough).min();
            true
        }
        Err(errors) => {
            let own: Vec<&Exposed> = all.iter().copied().filter(|roll| roll.format == *format).collect();
            set_aside(left, &own, errors);
            false
        }
    });
    let place = |roll: &Exposed| formats.iter().position(|format| *format == roll.format);
    let rolls = rolls.iter().zip(&all).filter_map(|(at, roll)| Some((*at, place(roll)?))).collect();
    let reels = formats.iter().try_fold(1u64, |whole, format| {
        let most = u64::from(most(*format));
        let whole = (whole / gcd(whole, most)).checked_mul(most)?;
        (whole <= PARTS_MAX).then_some(whole)
    });
    let reels = reels.unwrap_or(PARTS_MAX);
    let size = |format: &Format| Size {
        reels: reels / u64::from(most(*format)),
        film: u64::from(format.twelfths()),
    };
    Kind { recipe, rolls, sizes: formats.iter().map(size).collect(), limits: Limits { reels, film } }
}

/// The most film of a format that the baths can treat, in twelfths of a roll; `None` if they can treat a full tank.
fn enough_for(
    asked: &Asked<'_>,
    recipe: &Arc<Recipe>,
    format: Format,
    most: u32,
) -> Result<Option<u64>, Vec<Diagnostic>> {
    // A load of several rolls gets what its film needs; one roll alone may have less.
    let feeds = |count: u32| {
        let schedule = compiled(asked, recipe, format, count)?;
        if count > 1 && schedule.is_starved() { Err(Vec::new()) } else { Ok(()) }
    };
    let mut last = match feeds(most) {
        Ok(()) => return Ok(None),
        Err(errors) => errors,
    };
    // A binary search for the largest number that compiles.
    let (mut fits, mut exceeds) = (0, most);
    while exceeds - fits > 1 {
        let middle = fits + (exceeds - fits) / 2;
        match feeds(middle) {
            Ok(()) => fits = middle,
            Err(errors) => (exceeds, last) = (middle, errors),
        }
    }
    if fits == 0 { Err(last) } else { Ok(Some(u64::from(fits) * u64::from(format.twelfths()))) }
}

/// The one recipe for a roll. Recipes that the backlog names come first, then those of this project.
fn recipe_for<'a>(
    asked: &Asked<'a>,
    roll: &Exposed,
    alike: usize,
) -> Result<&'a Arc<Recipe>, Box<Diagnostic>> {
    let fits = |recipe: &&Arc<Recipe>| {
        let film = recipe.film.as_ref().is_some_and(|film| Arc::ptr_eq(film, &roll.film));
        let index = recipe.index.or(roll.film.speed).map(|index| *index);
        film && (index == roll.exposed_at() || roll.exposed_at().is_none())
    };
    let named = |recipe: &&Arc<Recipe>| {
        asked.backlog.recipes.iter().any(|(file, name)| recipe.file == *file && recipe.name == *name)
    };
    let mut fitting: Vec<&Arc<Recipe>> = asked.shelf.recipes.iter().filter(fits).collect();
    let chosen: Vec<&Arc<Recipe>> = fitting.iter().copied().filter(named).collect();
    let is_own = |recipe: &Arc<Recipe>| !asked.others.contains(&recipe.file);
    if fitting.iter().any(|recipe| is_own(recipe)) {
        fitting.retain(|recipe| is_own(recipe));
    }
    let at = roll.exposed_at().map(|index| format!(" at {index}")).unwrap_or_default();
    let film = clip(&roll.film.title) + &at;
    let rolls = if alike == 1 { "this roll".to_owned() } else { format!("{alike} rolls like this one") };
    Err(Box::new(match (chosen.as_slice(), fitting.as_slice()) {
        ([one], _) | ([], [one]) => return Ok(one),
        ([], []) => {
            let message = format!("there is no recipe for {rolls}: {film}");
            Diagnostic::error("no-recipe-for-rolls", roll.span, message)
                .other(roll.film.span, "the film")
                .help("write a recipe for this film and exposure index, or correct those of the roll")
                .help("recipes with errors are skipped; see wetside check")
        }
        (several @ [first, _, ..], _) | ([], several @ [first, ..]) => {
            let names = first_few(several.iter().map(|recipe| recipe.name.as_str()), ", ");
            let message = format!("there are several recipes for {rolls}, {film}: {names}");
            let help = if chosen.is_empty() {
                "name one in the backlog with a line such as"
            } else {
                "the backlog names several of them; keep one line such as"
            };
            Diagnostic::error("several-recipes-for-rolls", roll.span, message)
                .other(asked.backlog.span, "the backlog")
                .help(format!("{help}: recipe {}", first.name))
        }
    }))
}

/// Rolls without a load.
#[derive(Debug)]
pub struct LeftOut {
    /// The rolls, in the order of exposure.
    pub rolls: Vec<Exposed>,
    /// Every reason why the rolls are left out.
    pub faults: Vec<Diagnostic>,
}

impl LeftOut {
    /// The warning that names the rolls.
    pub fn warning(&self) -> Diagnostic {
        let labels = first_few(self.rolls.iter().map(|roll| roll.label.as_str()), ", ");
        let count = match self.rolls.len() {
            1 => "1 roll is".to_owned(),
            several => format!("{several} rolls are"),
        };
        let span = self.rolls.first().map_or(Span::default(), |roll| roll.span);
        Diagnostic::warning("rolls-left-out", span, format!("{count} left out of this plan: {labels}")).help(
            "fix the errors about them, or plan them separately at another temperature or for another tank",
        )
    }
}

/// Adds rolls to `left`, with the reasons. Rolls with equal reasons share an entry.
pub(super) fn set_aside(left: &mut Vec<LeftOut>, rolls: &[&Exposed], mut faults: Vec<Diagnostic>) {
    if rolls.is_empty() {
        return;
    }
    Diagnostic::sort(&mut faults);
    let same = |known: &&mut LeftOut| {
        let texts = |fault: &Diagnostic| (fault.name, fault.message.clone());
        known.faults.iter().map(texts).eq(faults.iter().map(texts))
    };
    let all = rolls.iter().map(|roll| (*roll).clone());
    match left.iter_mut().find(same) {
        Some(known) => known.rolls.extend(all),
        None => left.push(LeftOut { rolls: all.collect(), faults }),
    }
}
