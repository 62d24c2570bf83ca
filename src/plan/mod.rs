//! Plans the fewest tank loads for the rolls of a backlog, with baths, water and hours. Rolls share a tank only if they
//! are processed alike.

mod bath;
mod evening;
mod kind;
mod list;
mod pack;
mod stock;
mod tank;
mod weights;

use std::cell::RefCell;
use std::sync::Arc;

use crate::compile::{Schedule, Tonight};
use crate::journal::Verdict;
use crate::model::{Backlog, Date, Exposed, Rolls, Shelf, Tank, Time, Volume};
use crate::source::{Diagnostic, FileId, Map, Set, Sorted as _};

pub use bath::{Mix, MixedAgain, Poured};
pub use kind::{LeftOut, LeftRoll, recipe_for};
pub use list::{DateOrder, Listed, PLAN_COLUMNS, guarded, listed};
pub use pack::Packer;
pub use stock::{Liquid, OnHand, Taken};
pub use tank::{Counts, Inside};

use evening::Evenings;
use kind::{Kind, Near, kinds, rolls_at, set_aside};

/// The errors that [`plan`] and [`listed`] can report: the name of each error, and its cause.
pub const ERRORS: &[&[(&str, &str)]] = &[&[
    ("no-recipe-for-rolls", "rolls without a recipe for their film and index"),
    ("several-recipes-for-rolls", "rolls with several recipes for their film and index"),
    ("roll-does-not-fit", "a roll of a format for which the tank has no reels"),
    ("rolls-left-out", "rolls without a load"),
    ("list-unreadable", "a list of rolls that is not comma-separated values"),
    ("list-empty", "a list without column names, or without rolls"),
    ("list-column", "a list with a column missing or twice"),
    ("list-ignored", "columns or rows of a list that are not read"),
    ("list-assumed", "an exposure index or a date that a list does not state fully"),
    ("list-too-long", "a list of more than 10,000 rolls"),
    ("list-label", "a label that is empty, of several rolls or not allowed"),
    ("list-film", "a film, paper or plate for which there is no recipe"),
    ("list-format", "a format that does not exist"),
    ("list-date", "an invalid or unclear date"),
    ("list-index", "an invalid exposure index"),
    ("list-recipe", "a recipe that does not exist"),
]];

/// What a plan is calculated from.
#[derive(Debug)]
pub struct Asked<'a> {
    /// The declarations of all files.
    pub shelf: &'a Shelf,
    /// The files of other projects. Their recipes are used only for rolls for which this project has no recipe.
    pub others: &'a Set<FileId>,
    /// The backlog with the rolls.
    pub backlog: &'a Backlog,
    /// The labels of the developed rolls, each with the day of development.
    pub done: Map<&'a str, Date>,
    /// The rolls of a list whose rows cannot be read, with the reasons.
    pub unread: Vec<LeftOut>,
    /// The tank of all loads.
    pub tank: &'a Arc<Tank>,
    /// The conditions that all loads share. The plan adds the rolls of each load.
    pub conditions: Tonight,
    /// Developing times that differ by at most this much count as equal.
    pub within: Time,
    /// The days of the loads.
    pub days: Days,
    /// The conditions that the plan assumes because the command line leaves them out.
    pub assumed: Vec<Assumed>,
    /// The warnings of the check. Each load shows the warnings about its recipe.
    pub warnings: Vec<Diagnostic>,
    /// The name of each solution sold in packages, and the volume of a package.
    pub packages: Vec<(String, Volume)>,
    /// The name and volume of each liquid that the user has, besides the bottles of the darkroom.
    pub on_hand: Vec<(String, Volume)>,
}

impl Asked<'_> {
    fn tonight(&self, rolls: Vec<Rolls>) -> Tonight {
        Tonight { rolls, tank: Some(Arc::clone(self.tank)), ..self.conditions.clone() }
    }
}

/// A condition that the plan assumes because the command line leaves it out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Assumed {
    /// The temperature.
    Temperature,
    /// The tank, one of several declared tanks.
    Tank,
    /// The day of the first load.
    Day,
}

/// The days of the loads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// The first day.
    pub first: Date,
    /// The number of loads on a day; `None` if all are on the first day.
    pub loads: Option<u32>,
    /// The number of days from one day with loads to the next.
    pub apart: u32,
}

impl Days {
    /// The day of the load with this index, or the calendar's last day if the load would be later than that day.
    pub fn of(self, load: usize) -> Date {
        let evening = self.loads.map_or(0, |loads| load / (loads.max(1) as usize));
        let days = i64::try_from(evening).unwrap_or(i64::MAX).saturating_mul(i64::from(self.apart));
        self.first.days_later(days)
    }
}

/// The loads for all rolls of a backlog that are not developed yet.
#[derive(Debug)]
pub struct Plan {
    /// The backlog's title.
    pub title: String,
    /// The tank of all loads.
    pub tank: Arc<Tank>,
    /// The conditions of all loads.
    pub conditions: Tonight,
    /// Developing times that differ by at most this much count as equal.
    pub within: Time,
    /// The days of the loads; `None` if another day would change nothing in the plan.
    pub days: Option<Days>,
    /// The conditions that the plan assumes because the command line leaves them out.
    pub assumed: Vec<Assumed>,
    /// The loads, in the order of their first rolls.
    pub loads: Vec<Load>,
    /// The rolls without a load, with the reasons.
    pub left: Vec<LeftOut>,
    /// The bottles that no load uses, although they hold a bath that some load needs.
    pub idle: Vec<Idle>,
    /// A lower bound on the number of loads.
    pub bound: usize,
    /// Whether the loads are proven to be the fewest.
    pub is_fewest: bool,
    /// The developed rolls in order of exposure, each with the day of development.
    pub done: Vec<(Exposed, Date)>,
    /// For each solution, the volume that all loads together use.
    pub poured: Vec<Poured>,
    /// The liquids to buy, to mix or to have ready for the loads.
    pub taken: Vec<Taken>,
}

/// A bottle that no load uses, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Idle {
    /// The name of the bottle.
    pub name: String,
    /// The reason.
    pub because: Unused,
}

/// Why no load uses a bottle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unused {
    /// The bath is not mixed yet.
    NotMade,
    /// The bath should not be used; the verdict says why.
    Verdict(Verdict),
    /// The bottle holds less than a load needs.
    TooSmall,
    /// The bottle can treat less film than a load has, its clearing test rules it out, or another bottle is used first.
    NotNeeded,
}

/// The rolls that are in the tank together.
#[derive(Debug)]
pub struct Load {
    /// The day of the load.
    pub on: Date,
    /// The rolls, from the bottom of the tank up.
    pub rolls: Vec<Exposed>,
    /// The schedule of the load.
    pub schedule: Schedule,
    /// The baths to mix before the load.
    pub mixes: Vec<Mix>,
}

impl Plan {
    /// The time that all loads together take, without drying.
    pub fn bench(&self) -> Time {
        self.loads.iter().map(|load| load.schedule.total).sum()
    }

    /// The time that all loads together take if each step that a person ends at a sign ends as early as allowed (rule
    /// R18).
    pub fn shortest_bench(&self) -> Time {
        self.loads.iter().map(|load| load.schedule.earliest(load.schedule.total)).sum()
    }

    /// The longest drying time of a load. The films of all loads of a day can hang side by side.
    pub fn drying(&self) -> Time {
        self.loads.iter().filter_map(|load| load.schedule.drying).max().unwrap_or(Time::ZERO)
    }

    /// All water of the plan, for baths and for washing.
    pub fn water(&self) -> Volume {
        let mixes = self.loads.iter().flat_map(|load| &load.mixes).map(Mix::water);
        let own = self.loads.iter().map(|load| load.schedule.water);
        own.chain(mixes).sum()
    }

    /// All water of the plan if each step that a person ends at a sign ends as early as allowed (rule R18).
    pub fn least_water(&self) -> Volume {
        let mixes = self.loads.iter().flat_map(|load| &load.mixes).map(Mix::water);
        let own = self.loads.iter().map(|load| load.schedule.least_water);
        own.chain(mixes).sum()
    }

    /// The number of rolls in the loads.
    pub fn waiting(&self) -> usize {
        self.loads.iter().map(|load| load.rolls.len()).sum()
    }
}

/// The plan for all undeveloped rolls of a backlog. Rolls that cannot be developed are left out.
///
/// # Errors
/// If all rolls are left out, every reason why.
pub fn plan(asked: &Asked<'_>) -> Result<Plan, Vec<Diagnostic>> {
    let waiting: Vec<&Exposed> =
        asked.backlog.rolls.iter().filter(|roll| !asked.done.contains_key(roll.label.as_str())).collect();
    let mut left = asked.unread.clone();
    let kinds = kinds(asked, &waiting, &mut left);
    let mut bound = 0;
    let mut tanks: Vec<(Vec<usize>, &Kind<'_>)> = Vec::new();
    for Near { kinds, all } in &kinds {
        let mut least = 0;
        for kind in kinds {
            let (own, own_least) = packed(asked, kind);
            least += own_least;
            tanks.extend(own.into_iter().map(|places| (places, kind)));
        }
        bound += if kinds.len() > 1 { packed(asked, all).1 } else { least };
    }
    let is_fewest = tanks.len() == bound;
    tanks.order_by(|(one, _), (other, _)| one.cmp(other));
    let loads: Vec<_> =
        tanks.iter().map(|(places, kind)| (kind.recipe, rolls_at(places, &waiting))).collect();
    let mut evenings = Evenings::new(asked, &loads);
    for (recipe, rolls) in &loads {
        if let Err(errors) = evenings.add(recipe, rolls) {
            set_aside(&mut left, rolls, errors);
            bound = bound.saturating_sub(1);
        }
    }
    if evenings.loads.is_empty() && !left.is_empty() {
        let mut faults: Vec<Diagnostic> = left.into_iter().flat_map(|left| left.faults).collect();
        Diagnostic::sort(&mut faults);
        faults.dedup();
        return Err(faults);
    }
    let day = |roll: &Exposed| Some((roll.clone(), *asked.done.get(roll.label.as_str())?));
    let idle = evenings.idle();
    let days = evenings.depends_on_days().then_some(asked.days);
    let (loads, poured, taken) = evenings.finish();
    let assumed = asked.assumed.iter().copied();
    Ok(Plan {
        title: asked.backlog.title.clone(),
        tank: Arc::clone(asked.tank),
        conditions: asked.conditions.clone(),
        within: asked.within,
        days,
        assumed: assumed.filter(|what| days.is_some() || *what != Assumed::Day).collect(),
        is_fewest: is_fewest || loads.len() == bound,
        loads,
        left,
        idle,
        bound,
        done: asked.backlog.rolls.iter().filter_map(day).collect(),
        poured,
        taken,
    })
}

/// The loads for the rolls of one kind, each load as its rolls' indices among all waiting rolls, and a lower bound on
/// the number of loads.
fn packed(asked: &Asked<'_>, kind: &Kind<'_>) -> (Vec<Vec<usize>>, usize) {
    let order: Vec<usize> = kind.rolls.iter().map(|(_, size)| *size).collect();
    let count = |size| order.iter().map(|own| u32::from(*own == size)).sum();
    let counts: Vec<u32> = (0..kind.sizes.len()).map(count).collect();
    // `known` keeps each answer, because the search asks about the same numbers of rolls again and again.
    let known: RefCell<Map<Counts, bool>> = RefCell::default();
    let treats = |counts: &[u32]| {
        if let Some(treats) = known.borrow().get(counts) {
            return *treats;
        }
        let treats = kind.treats(asked, counts);
        known.borrow_mut().insert(counts.to_vec(), treats);
        treats
    };
    let inside = Inside { sizes: &kind.sizes, reels: kind.reels, treats: &treats };
    let mut packer = Packer::of(inside, &counts);
    let (fewest, is_proven) = packer.fewest(&counts);
    let bound = if is_proven { fewest } else { packer.bound(&counts) };
    let place = |at: usize| kind.rolls.get(at).map(|(place, _)| *place);
    let loads = packer.loads(&order);
    (loads.into_iter().map(|load| load.into_iter().filter_map(place).collect()).collect(), bound)
}
