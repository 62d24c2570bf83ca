//! A backlog to tank loads: which rolls share a tank, in which order, what that takes of baths, water and
//! hours. Rolls share one only where the work is the same tonight; the loads are as few as can be.

mod ahead;
mod bath;
mod days;
mod evening;
mod kept;
mod kind;
mod left;
mod line;
mod list;
mod pack;
mod recipe;
mod tank;
mod weights;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::compile::{Schedule, Tonight};
use crate::journal::Verdict;
use crate::model::{Backlog, Date, Exposed, Format, Shelf, Tank, Time, Volume};
use crate::source::{Diagnostic, FileId};

pub use bath::{Anew, Mix, Poured, Taken};
pub use days::Days;
pub use left::LeftOut;
pub use list::listed;
pub use pack::Packer;
pub use tank::{Room, Size};

use evening::Evenings;
use kind::{Kind, kinds};
use left::set_aside;

/// The faults that planning tells, each with its meaning.
pub const FAULTS: &[&[(&str, &str)]] = &[recipe::FAULTS, kind::FAULTS, left::FAULTS, list::FAULTS];

/// What a plan is made for.
#[derive(Debug)]
pub struct Asked<'a> {
    /// All that is known; the backlog and what it names stand on it.
    pub shelf: &'a Shelf,
    /// The files of other roots, whose recipes are taken only where there is none of one's own.
    pub others: &'a BTreeSet<FileId>,
    /// The rolls.
    pub backlog: &'a Backlog,
    /// Those of them that are developed, each with its day.
    pub done: BTreeMap<&'a str, Date>,
    /// The tank.
    pub tank: &'a Arc<Tank>,
    /// The temperature, and all else but the rolls, which the plan sets.
    pub conditions: Tonight,
    /// Developing times that differ by no more than this count as the same.
    pub within: Time,
    /// The days of the loads: bottles are as they stand on them, and a bath is past keeping on some.
    pub days: Days,
    /// What of this nobody said.
    pub assumed: Vec<Assumed>,
    /// What checking warned of; each load tells what concerns its recipe, as its card will.
    pub doubts: Vec<Diagnostic>,
    /// The packages that solutions are sold in, each by what it is and how much is in it.
    pub packages: Vec<(String, Volume)>,
}

/// What a plan was made for without having been told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Assumed {
    /// The temperature.
    Temperature,
    /// The day of the first load.
    Day,
}

/// Loads for all rolls that wait.
#[derive(Debug)]
pub struct Plan {
    /// The backlog's title.
    pub title: String,
    /// The tank.
    pub tank: Arc<Tank>,
    /// The conditions of every evening.
    pub conditions: Tonight,
    /// Developing times that differ by no more than this counted as the same.
    pub within: Time,
    /// The days of the loads, where they have a part in it: a bottle stands there, or there are several days.
    pub days: Option<Days>,
    /// What of this nobody said.
    pub assumed: Vec<Assumed>,
    /// The loads, in the order of their first rolls.
    pub loads: Vec<Load>,
    /// The rolls that have none, with the reasons.
    pub left: Vec<LeftOut>,
    /// The bottles of a bath that these loads pour, from which none of them does.
    pub idle: Vec<Idle>,
    /// No fewer loads than this can do.
    pub bound: usize,
    /// Whether the loads are proven to be the very fewest; else they are at most so many over the bound.
    pub is_fewest: bool,
    /// The rolls that are developed, in the order they were shot, each with its day.
    pub done: Vec<(String, Date)>,
    /// What is poured of each solution over all loads, and where it ends.
    pub poured: Vec<Poured>,
    /// What has to be had: of each bottle, concentrate or stock, how much.
    pub taken: Vec<Taken>,
}

/// A bottle that no load pours from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Idle {
    /// Its name.
    pub name: String,
    /// Why.
    pub because: Unused,
}

/// Why no load pours from a bottle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unused {
    /// It is not made yet.
    NotMade,
    /// Something speaks against it.
    Speaks(Verdict),
    /// It holds less than a load needs.
    TooSmall,
    /// It does for less film than a load has, or was tested at a temperature that does not do for tonight, or another
    /// is used first.
    NotNeeded,
}

/// One tank of rolls.
#[derive(Debug)]
pub struct Load {
    /// The day.
    pub on: Date,
    /// The rolls, from the bottom of the tank up.
    pub rolls: Vec<Roll>,
    /// The work.
    pub schedule: Schedule,
    /// The baths that are made anew before it.
    pub mixes: Vec<Mix>,
}

/// A roll in a tank.
#[derive(Debug, Clone)]
pub struct Roll {
    /// Its label.
    pub label: String,
    /// Its film's title.
    pub film: String,
    /// Its format.
    pub format: Format,
    /// The index it was exposed at.
    pub index: Option<u32>,
    /// The day it was shot.
    pub shot: Option<Date>,
}

impl Plan {
    /// The hours at the bench, all loads together.
    #[must_use]
    pub fn bench(&self) -> Time {
        self.loads.iter().fold(Time::ZERO, |sum, load| sum + load.schedule.total)
    }

    /// The hours of drying, all loads together.
    #[must_use]
    pub fn drying(&self) -> Time {
        let each = self.loads.iter().filter_map(|load| load.schedule.drying);
        each.fold(Time::ZERO, |sum, drying| sum + drying)
    }

    /// All water: in baths that are mixed, kept ones too, and for washing.
    #[must_use]
    pub fn water(&self) -> Volume {
        let mixes = self.loads.iter().flat_map(|load| &load.mixes).map(Mix::water);
        let own = self.loads.iter().map(|load| load.schedule.water);
        own.chain(mixes).fold(Volume::ZERO, |sum, water| sum + water)
    }

    /// How many rolls wait.
    #[must_use]
    pub fn waiting(&self) -> usize {
        self.loads.iter().map(|load| load.rolls.len()).sum()
    }
}

/// Plans all rolls of a backlog that are not developed. Rolls of which no load can be made are left out.
///
/// # Errors
/// No roll that waits can have a load; every reason for that: no recipe or several for it, a format that the tank does
/// not take, a recipe that will not do at this temperature.
pub fn plan(asked: &Asked<'_>) -> Result<Plan, Vec<Diagnostic>> {
    let waiting: Vec<&Exposed> =
        asked.backlog.rolls.iter().filter(|roll| !asked.done.contains_key(roll.label.as_str())).collect();
    let mut left = Vec::new();
    let kinds = kinds(asked, &waiting, &mut left);
    let (mut bound, mut is_fewest) = (0, true);
    let mut tanks: Vec<(Vec<usize>, &Kind<'_>)> = Vec::new();
    for kind in &kinds {
        let (own, proof) = packed(kind);
        bound += proof.bound;
        is_fewest &= proof.is_fewest;
        tanks.extend(own.into_iter().map(|places| (places, kind)));
    }
    tanks.sort_by(|(one, _), (other, _)| one.cmp(other));
    let mut evenings =
        Evenings::new(asked, tanks.iter().map(|(places, kind)| (kind.recipe, of(places, &waiting))));
    for (places, kind) in &tanks {
        let rolls = of(places, &waiting);
        if let Err(told) = evenings.add(kind.recipe, &rolls) {
            set_aside(&mut left, &rolls, told);
            bound = bound.saturating_sub(1);
        }
    }
    if evenings.loads.is_empty() && !left.is_empty() {
        let mut faults: Vec<Diagnostic> = left.into_iter().flat_map(|left| left.faults).collect();
        faults.sort_by(|a: &Diagnostic, b| a.sort_key().cmp(&b.sort_key()));
        faults.dedup();
        return Err(faults);
    }
    let day = |roll: &Exposed| Some((roll.label.clone(), *asked.done.get(roll.label.as_str())?));
    let idle = evenings.idle();
    let days = evenings.heed_the_day().then_some(asked.days);
    let (loads, poured, taken) = evenings.finish();
    Ok(Plan {
        title: asked.backlog.title.clone(),
        tank: Arc::clone(asked.tank),
        conditions: asked.conditions.clone(),
        within: asked.within,
        days,
        assumed: asked
            .assumed
            .iter()
            .copied()
            .filter(|what| days.is_some() || *what != Assumed::Day)
            .collect(),
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

/// The rolls at these places.
fn of<'a>(places: &[usize], waiting: &[&'a Exposed]) -> Vec<&'a Exposed> {
    places.iter().filter_map(|at| waiting.get(*at).copied()).collect()
}

/// How few loads of a kind can do.
struct Proof {
    bound: usize,
    is_fewest: bool,
}

/// The loads of one kind, each as the places of its rolls among all that wait.
fn packed(kind: &Kind<'_>) -> (Vec<Vec<usize>>, Proof) {
    let order: Vec<usize> = kind.rolls.iter().map(|(_, size)| *size).collect();
    let mut counts = vec![0u32; kind.sizes.len()];
    order.iter().for_each(|size| counts.get_mut(*size).into_iter().for_each(|count| *count += 1));
    let mut packer = Packer::of(&kind.sizes, kind.room, &counts);
    let (fewest, is_proven) = packer.fewest(&counts);
    let bound = if is_proven { fewest } else { packer.bound(&counts) };
    let loads = packer.loads(&order);
    let place = |at: usize| kind.rolls.get(at).map(|(place, _)| *place);
    let proof = Proof { bound, is_fewest: loads.len() == bound };
    (loads.into_iter().map(|load| load.into_iter().filter_map(place).collect()).collect(), proof)
}
