//! Groups rolls that are processed alike and can therefore share a tank. Leaves out rolls with errors.

use std::cmp::Reverse;
use std::sync::Arc;

use super::Asked;
use crate::compile::{EveningWork, compile, treats};
use crate::model::{Backlog, Date, Exposed, Format, Recipe, Rolls, Shelf, Time, gcd};
use crate::source::{Diagnostic, FileId, Map, Set, Sorted as _, Span, clip, first_few};

/// A tank is divided into at most this many equal parts, so that a roll of each format takes a whole number of parts.
/// If that needs more parts, the number of parts that a roll takes is rounded down.
const PARTS_MAX: u64 = 100_000_000_000_000;

/// Rolls that can share a tank.
#[derive(Debug)]
pub(super) struct Kind<'a> {
    /// The recipe for these rolls; of several recipes, the one that develops longest.
    pub(super) recipe: &'a Arc<Recipe>,
    /// The rolls in the order of exposure: for each, its index among all waiting rolls and the index of its format in
    /// `formats`.
    pub(super) rolls: Vec<(usize, usize)>,
    pub(super) formats: Vec<Format>,
    /// How many of the tank's equal parts a roll of each format takes.
    pub(super) sizes: Vec<u64>,
    /// The number of equal parts into which the tank is divided.
    pub(super) reels: u64,
}

impl Kind<'_> {
    /// Whether the tank holds this many rolls of each format, and its baths cover these rolls and can treat them.
    pub(super) fn treats(&self, asked: &Asked<'_>, counts: &[u32]) -> bool {
        let rolls = self.formats.iter().zip(counts).filter(|(_, count)| **count > 0);
        let rolls = rolls.map(|(format, count)| Rolls { count: *count, format: *format }).collect();
        treats(asked.shelf, self.recipe, &asked.tonight(rolls))
    }
}

/// Kinds with developing times so close that some rolls of one kind could also belong to another of these kinds.
#[derive(Debug)]
pub(super) struct Near<'a> {
    pub(super) kinds: Vec<Kind<'a>>,
    /// All rolls of these kinds as one kind. A lower bound on its loads also holds for the loads of the separate kinds.
    pub(super) all: Kind<'a>,
}

/// Rolls of one or more films that can share a tank. `rolls` has their indices among all waiting rolls.
struct Group<'a> {
    recipe: &'a Arc<Recipe>,
    /// The work for each film; the film that develops longest comes first.
    works: Vec<EveningWork<'a>>,
    rolls: Vec<usize>,
}

impl<'a> Group<'a> {
    /// Whether all rolls of `other` can be developed for the longest developing time of this group.
    fn takes(&self, other: &Group<'_>, within: Time) -> bool {
        let longest = self.works.first();
        longest.is_some_and(|longest| other.works.iter().all(|work| longest.is_same(work, within)))
    }

    fn add(&mut self, other: Group<'a>) {
        self.works.extend(other.works);
        self.rolls.extend(other.rolls);
    }

    /// Whether some roll of this group could share a tank with a roll of the group `other`.
    fn is_near(&self, other: &Group<'_>, within: Time) -> bool {
        self.works.iter().any(|work| other.works.iter().any(|theirs| work.is_same(theirs, within)))
    }
}

/// Groups the waiting rolls into kinds; rolls of one kind can share a tank. Rolls that cannot be developed are added
/// to `left`.
pub(super) fn kinds<'a>(asked: &Asked<'a>, waiting: &[&Exposed], left: &mut Vec<LeftOut>) -> Vec<Near<'a>> {
    let mut single = singles(asked, waiting, left);
    // The groups that develop longest come first. A group that joins an earlier group is developed for the time of that
    // group, which must not be shorter.
    single.order_by_key(|group| Reverse(group.works.first().map(EveningWork::developing)));
    let mut groups: Vec<Group<'a>> = Vec::new();
    for group in single {
        match groups.iter_mut().find(|known| known.takes(&group, asked.within)) {
            Some(known) => known.add(group),
            None => groups.push(group),
        }
    }
    let mut near: Vec<Vec<Group<'a>>> = Vec::new();
    for group in groups {
        let is_near =
            |others: &mut Vec<Group<'a>>| others.iter().any(|one| one.is_near(&group, asked.within));
        let mut joined: Vec<Group<'a>> = near.extract_if(.., is_near).flatten().collect();
        joined.push(group);
        near.push(joined);
    }
    let together = |groups: Vec<Group<'a>>| {
        let all = groups.iter().flat_map(|group| group.rolls.iter().copied()).collect();
        let first = groups.first().map(|group| group.recipe)?;
        let kinds = groups.into_iter().map(|group| kind(asked, group.recipe, group.rolls, waiting)).collect();
        Some(Near { kinds, all: kind(asked, first, all, waiting) })
    };
    near.into_iter().filter_map(together).collect()
}

/// A group for the rolls of each film, exposure index and format.
fn singles<'a>(asked: &Asked<'a>, waiting: &[&Exposed], left: &mut Vec<LeftOut>) -> Vec<Group<'a>> {
    let mut films: Map<(Span, Option<u32>), Vec<usize>> = Map::new();
    for (at, roll) in waiting.iter().enumerate() {
        if asked.tank.reels_for(roll.format).is_none() {
            set_aside(left, &[roll], vec![no_reels(asked, roll)]);
            continue;
        }
        films.value_of((roll.film.span, roll.exposed_at())).push(at);
    }
    let mut single: Vec<Group<'a>> = Vec::new();
    for places in films.into_values() {
        let rolls = rolls_at(&places, waiting);
        let Some(first) = rolls.first() else { continue };
        let recipe = match recipe_for(asked.shelf, asked.backlog, asked.others, first, places.len()) {
            Ok(recipe) => recipe,
            Err(error) => {
                set_aside(left, &rolls, vec![*error]);
                continue;
            }
        };
        let formats: Set<Format> = rolls.iter().map(|roll| roll.format).collect();
        for format in formats {
            let of_format = |at: &usize| waiting.get(*at).is_some_and(|roll| roll.format == format);
            let own: Vec<usize> = places.iter().copied().filter(of_format).collect();
            let alone = asked.tonight(vec![Rolls { count: 1, format }]);
            match compile(asked.shelf, recipe, &alone, Vec::new()) {
                Ok(schedule) => {
                    let works = vec![EveningWork::of(recipe, &schedule)];
                    single.push(Group { recipe, works, rolls: own });
                }
                Err(errors) => set_aside(left, &rolls_at(&own, waiting), errors),
            }
        }
    }
    single
}

pub(super) fn rolls_at<'r>(places: &[usize], waiting: &[&'r Exposed]) -> Vec<&'r Exposed> {
    places.iter().filter_map(|at| waiting.get(*at).copied()).collect()
}

fn no_reels(asked: &Asked<'_>, roll: &Exposed) -> Diagnostic {
    let message = format!("'{}' has no reels for {}", asked.tank.name, roll.format);
    Diagnostic::error("roll-does-not-fit", roll.span, message)
        .other(asked.tank.span, "the tank")
        .help(format!("the tank takes {}; plan with another tank: --tank", asked.tank.formats()))
}

/// The kind made of these rolls. `rolls` has their indices among all waiting rolls.
fn kind<'a>(
    asked: &Asked<'_>,
    recipe: &'a Arc<Recipe>,
    mut rolls: Vec<usize>,
    waiting: &[&Exposed],
) -> Kind<'a> {
    rolls.sort_unstable();
    let all = rolls_at(&rolls, waiting);
    let mut formats: Vec<Format> = Vec::new();
    all.iter().for_each(|roll| formats.extend((!formats.contains(&roll.format)).then_some(roll.format)));
    let most = |format| u64::from(asked.tank.reels_for(format).map_or(1, |reels| reels.most.max(1)));
    let place = |roll: &Exposed| formats.iter().position(|format| *format == roll.format);
    let rolls = rolls.iter().zip(&all).filter_map(|(at, roll)| Some((*at, place(roll)?))).collect();
    let reels = formats.iter().try_fold(1u64, |whole, format| {
        let most = most(*format);
        let whole = (whole / gcd(whole, most)).checked_mul(most)?;
        (whole <= PARTS_MAX).then_some(whole)
    });
    let reels = reels.unwrap_or(PARTS_MAX);
    let sizes = formats.iter().map(|format| reels / most(*format)).collect();
    Kind { recipe, rolls, formats, sizes, reels }
}

/// The only recipe that fits a roll of a backlog. `alike` is the number of rolls like this one, for the text of an
/// error. Recipes that the backlog names are preferred, then recipes that are not in `others` (the files of other
/// projects), then recipes that are not deprecated.
///
/// # Errors
/// No recipe fits the roll's film and exposure index, or several recipes fit.
pub fn recipe_for<'a>(
    shelf: &'a Shelf,
    backlog: &Backlog,
    others: &Set<FileId>,
    roll: &Exposed,
    alike: usize,
) -> Result<&'a Arc<Recipe>, Box<Diagnostic>> {
    let fits = |recipe: &&Arc<Recipe>| {
        let film = recipe.film.as_ref().is_some_and(|film| Arc::ptr_eq(film, &roll.film));
        let index = recipe.index.or(roll.film.speed).map(|index| *index);
        film && (index == roll.exposed_at() || roll.exposed_at().is_none())
    };
    let named = |recipe: &&Arc<Recipe>| {
        backlog.recipes.iter().any(|(file, name)| recipe.file == *file && recipe.name == *name)
    };
    let mut fitting: Vec<&Arc<Recipe>> = shelf.recipes.iter().filter(fits).collect();
    let chosen: Vec<&Arc<Recipe>> = fitting.iter().copied().filter(named).collect();
    let is_own = |recipe: &Arc<Recipe>| !others.contains(&recipe.file);
    if fitting.iter().any(|recipe| is_own(recipe)) {
        fitting.retain(|recipe| is_own(recipe));
    }
    if fitting.iter().any(|recipe| recipe.deprecated.is_none()) {
        fitting.retain(|recipe| recipe.deprecated.is_none());
    }
    let at = roll.exposed_at().map(|index| format!(" at {index}")).unwrap_or_default();
    let (film, material) = (clip(&roll.film.title) + &at, roll.film.material.word());
    let rolls = if alike == 1 { "this roll".to_owned() } else { format!("{alike} rolls like this one") };
    Err(Box::new(match (chosen.as_slice(), fitting.as_slice()) {
        ([one], _) | ([], [one]) => return Ok(one),
        ([], []) => {
            let message = format!("there is no recipe for {rolls}: {film}");
            Diagnostic::error("no-recipe-for-rolls", roll.span, message)
                .other(roll.film.span, format!("the {material}"))
                .help(format!(
                    "write a recipe for this {material} and exposure index, or correct the {material} or the index of \
                     the roll"
                ))
                .help("recipes with errors are skipped; see wetside check")
        }
        (several @ [first, _, ..], _) | ([], several @ [first, ..]) => {
            let names = first_few(several.iter().map(|recipe| recipe.name.as_str()), ", ");
            let message = format!("several recipes fit {rolls}, of {film}: {names}");
            let is_list = backlog.span.start == backlog.span.end;
            let help = match (is_list, chosen.is_empty()) {
                (true, _) => format!("name one in a column 'recipe': {}", first.name),
                (false, true) => {
                    format!("name one in the backlog with a line such as: recipe {}", first.name)
                }
                (false, false) => {
                    format!("the backlog names several of them; keep one line such as: recipe {}", first.name)
                }
            };
            Diagnostic::error("several-recipes-for-rolls", roll.span, message)
                .other(backlog.span, "the backlog")
                .help(help)
        }
    }))
}

/// A roll without a load. The film and the format are texts, because a list can name a film or a format that does not
/// exist.
#[derive(Debug, Clone)]
pub struct LeftRoll {
    /// The label of the roll.
    pub label: String,
    /// The title of the film; for a row of a list, the text in its cell.
    pub film: String,
    /// The format; for a row of a list, the text in its cell.
    pub format: String,
    /// The exposure index, if known.
    pub index: Option<u32>,
    /// The date of exposure, if known.
    pub shot: Option<Date>,
    /// The span of the roll.
    pub span: Span,
}

impl From<&Exposed> for LeftRoll {
    fn from(roll: &Exposed) -> LeftRoll {
        LeftRoll {
            label: roll.label.clone(),
            film: roll.film.title.clone(),
            format: roll.format.to_string(),
            index: roll.exposed_at(),
            shot: roll.shot,
            span: roll.span,
        }
    }
}

/// Rolls without a load.
#[derive(Debug, Clone)]
pub struct LeftOut {
    /// The rolls, in the order of exposure.
    pub rolls: Vec<LeftRoll>,
    /// Every reason why the rolls are left out.
    pub faults: Vec<Diagnostic>,
}

impl LeftOut {
    /// The warning that these rolls are left out of the plan.
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

/// Adds rolls to `left`, with the reasons why they have no load. Rolls with equal reasons share an entry of `left`.
pub(super) fn set_aside(left: &mut Vec<LeftOut>, rolls: &[&Exposed], mut faults: Vec<Diagnostic>) {
    if rolls.is_empty() {
        return;
    }
    Diagnostic::sort(&mut faults);
    let same = |known: &&mut LeftOut| {
        let texts = |fault: &Diagnostic| (fault.name, fault.message.clone());
        known.faults.iter().map(texts).eq(faults.iter().map(texts))
    };
    let all = rolls.iter().map(|roll| LeftRoll::from(*roll));
    match left.iter_mut().find(same) {
        Some(known) => known.rolls.extend(all),
        None => left.push(LeftOut { rolls: all.collect(), faults }),
    }
}
