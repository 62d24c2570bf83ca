//! Plans the fewest tank loads of a backlog, with their baths, water and hours. Rolls share a tank only if their work
//! is the same tonight.

mod bath;
mod evening;
mod kind;
mod list;
mod pack;
mod tank;
mod weights;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::compile::{Schedule, Tonight};
use crate::journal::Verdict;
use crate::model::{Backlog, Date, Exposed, Shelf, Tank, Time, Volume};
use crate::source::{Diagnostic, FileId};

pub use bath::{Mix, MixedAgain, Poured, Taken};
pub use kind::LeftOut;
pub use list::listed;
pub use pack::Packer;
pub use tank::{Limits, Size};

use evening::Evenings;
use kind::{Kind, kinds, rolls_at, set_aside};

/// The errors of this stage, each with its meaning.
pub const ERRORS: &[&[(&str, &str)]] = &[&[
    ("no-recipe-for-rolls", "rolls without a recipe for their film and index"),
    ("several-recipes-for-rolls", "rolls with several recipes for their film and index"),
    ("roll-does-not-fit", "a roll of a format for which the tank has no reels"),
    ("rolls-left-out", "rolls without a load"),
    ("list-unreadable", "a list of rolls that is not comma-separated values"),
    ("list-empty", "a list without a head, or without rolls"),
    ("list-column", "a list with a column missing or twice"),
    ("list-too-long", "a list of more than 10,000 rolls"),
    ("list-label", "a label that is empty, used twice or not allowed"),
    ("list-film", "a film for which there is no recipe"),
    ("list-format", "a film format that does not exist"),
    ("list-date", "an invalid date"),
    ("list-index", "an invalid exposure index"),
]];

/// What to plan.
#[derive(Debug)]
pub struct Asked<'a> {
    /// All declarations.
    pub shelf: &'a Shelf,
    /// The files of other roots; their recipes are used only if this root has none.
    pub others: &'a BTreeSet<FileId>,
    /// The rolls.
    pub backlog: &'a Backlog,
    /// The developed rolls, each with its day.
    pub done: BTreeMap<&'a str, Date>,
    /// The tank.
    pub tank: &'a Arc<Tank>,
    /// All conditions but the rolls, which the plan sets.
    pub conditions: Tonight,
    /// Developing times that differ by at most this count as equal.
    pub within: Time,
    /// The days of the loads.
    pub days: Days,
    /// The conditions that the call does not give.
    pub assumed: Vec<Assumed>,
    /// The warnings of the check; each load shows those of its recipe.
    pub warnings: Vec<Diagnostic>,
    /// The packages of solutions, each by its name and volume.
    pub packages: Vec<(String, Volume)>,
}

/// A condition that the call does not give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Assumed {
    /// The temperature.
    Temperature,
    /// The day of the first load.
    Day,
}

/// The days of the loads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// The first day.
    pub first: Date,
    /// The loads of a day; `None` for all on the first.
    pub loads: Option<u32>,
    /// The days from one such day to the next.
    pub apart: u32,
}

impl Days {
    /// The day of a load, counted from 0, at most the last day of the calendar.
    pub fn of(self, load: usize) -> Date {
        let evening = self.loads.map_or(0, |loads| load / (loads.max(1) as usize));
        let days = i64::try_from(evening).unwrap_or(i64::MAX).saturating_mul(i64::from(self.apart));
        self.first.days_later(days)
    }
}

/// Loads for all waiting rolls.
#[derive(Debug)]
pub struct Plan {
    /// The backlog's title.
    pub title: String,
    /// The tank.
    pub tank: Arc<Tank>,
    /// The conditions of every evening.
    pub conditions: Tonight,
    /// Developing times that differ by at most this count as equal.
    pub within: Time,
    /// The days of the loads, if the plan depends on them.
    pub days: Option<Days>,
    /// The conditions that the call does not give.
    pub assumed: Vec<Assumed>,
    /// The loads, in the order of their first rolls.
    pub loads: Vec<Load>,
    /// The rolls without a load, with the reasons.
    pub left: Vec<LeftOut>,
    /// The bottles that no load uses, although loads use their bath.
    pub idle: Vec<Idle>,
    /// A lower bound on the number of loads.
    pub bound: usize,
    /// Whether the loads are proven to be the fewest.
    pub is_fewest: bool,
    /// The developed rolls in the order they were shot, each with its day.
    pub done: Vec<(String, Date)>,
    /// What is poured of each solution in all loads.
    pub poured: Vec<Poured>,
    /// What to have ready of each bottle, concentrate or stock.
    pub taken: Vec<Taken>,
}

/// A bottle that no load uses.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Idle {
    /// Its name.
    pub name: String,
    /// The reason.
    pub because: Unused,
}

/// Why no load uses a bottle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unused {
    /// It is not mixed yet.
    NotMade,
    /// Its verdict rules it out.
    Speaks(Verdict),
    /// It holds less than a load needs.
    TooSmall,
    /// It treats less film than a load has, its test rules it out for tonight, or another is used first.
    NotNeeded,
}

/// One tank of rolls.
#[derive(Debug)]
pub struct Load {
    /// The day.
    pub on: Date,
    /// The rolls, from the bottom of the tank up.
    pub rolls: Vec<Exposed>,
    /// Its schedule.
    pub schedule: Schedule,
    /// The baths to mix before it.
    pub mixes: Vec<Mix>,
}

impl Plan {
    /// The time at the bench for all loads.
    pub fn bench(&self) -> Time {
        self.loads.iter().map(|load| load.schedule.total).sum()
    }

    /// The time of drying for all loads.
    pub fn drying(&self) -> Time {
        self.loads.iter().filter_map(|load| load.schedule.drying).sum()
    }

    /// All water, in baths and for washing.
    pub fn water(&self) -> Volume {
        let mixes = self.loads.iter().flat_map(|load| &load.mixes).map(Mix::water);
        let own = self.loads.iter().map(|load| load.schedule.water);
        own.chain(mixes).sum()
    }

    /// The number of rolls in the loads.
    pub fn waiting(&self) -> usize {
        self.loads.iter().map(|load| load.rolls.len()).sum()
    }
}

/// Plans all rolls of a backlog that are not developed, and leaves out those that cannot have a load.
///
/// # Errors
/// Every reason, if no waiting roll can have a load.
pub fn plan(asked: &Asked<'_>) -> Result<Plan, Vec<Diagnostic>> {
    let waiting: Vec<&Exposed> =
        asked.backlog.rolls.iter().filter(|roll| !asked.done.contains_key(roll.label.as_str())).collect();
    let mut left = Vec::new();
    let kinds = kinds(asked, &waiting, &mut left);
    let (mut bound, mut is_fewest) = (0, true);
    let mut tanks: Vec<(Vec<usize>, &Kind<'_>)> = Vec::new();
    for kind in &kinds {
        let (own, least) = packed(kind);
        bound += least;
        is_fewest &= own.len() == least;
        tanks.extend(own.into_iter().map(|places| (places, kind)));
    }
    tanks.sort_by(|(one, _), (other, _)| one.cmp(other));
    let mut evenings =
        Evenings::new(asked, tanks.iter().map(|(places, kind)| (kind.recipe, rolls_at(places, &waiting))));
    for (places, kind) in &tanks {
        let rolls = rolls_at(places, &waiting);
        if let Err(errors) = evenings.add(kind.recipe, &rolls) {
            set_aside(&mut left, &rolls, errors);
            bound = bound.saturating_sub(1);
        }
    }
    if evenings.loads.is_empty() && !left.is_empty() {
        let mut faults: Vec<Diagnostic> = left.into_iter().flat_map(|left| left.faults).collect();
        Diagnostic::sort(&mut faults);
        faults.dedup();
        return Err(faults);
    }
    let day = |roll: &Exposed| Some((roll.label.clone(), *asked.done.get(roll.label.as_str())?));
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

/// The loads of one kind, each as the places of its rolls, and the lower bound on their number.
fn packed(kind: &Kind<'_>) -> (Vec<Vec<usize>>, usize) {
    let order: Vec<usize> = kind.rolls.iter().map(|(_, size)| *size).collect();
    let count = |size| order.iter().map(|own| u32::from(*own == size)).sum();
    let counts: Vec<u32> = (0..kind.sizes.len()).map(count).collect();
    let mut packer = Packer::of(&kind.sizes, kind.limits, &counts);
    let (fewest, is_proven) = packer.fewest(&counts);
    let bound = if is_proven { fewest } else { packer.bound(&counts) };
    let place = |at: usize| kind.rolls.get(at).map(|(place, _)| *place);
    let loads = packer.loads(&order);
    (loads.into_iter().map(|load| load.into_iter().filter_map(place).collect()).collect(), bound)
}
