//! A backlog to tank loads: which rolls share a tank, in which order, what that takes of baths, water and
//! hours. Rolls share one only where the work is the same tonight; the loads are as few as can be.

mod bath;
mod kind;
mod list;
mod pack;
mod recipe;
mod work;

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;

use crate::compile::{Conditions, Schedule, compile};
use crate::model::{Backlog, Exposed, Format, Rolls, Shelf, Tank, Time, Volume};
use crate::source::Diagnostic;

pub use bath::{Bottle, Mix, Poured, Taken};
pub use list::listed;
pub use pack::{Packer, Room, Size};

use kind::{Kind, kinds};

/// The faults that planning tells, each with its meaning.
pub const FAULTS: &[&[(&str, &str)]] = &[recipe::FAULTS, kind::FAULTS, list::FAULTS];

/// What a plan is made for.
#[derive(Debug)]
pub struct Asked<'a> {
    /// All that is known; the backlog and what it names stand on it.
    pub shelf: &'a Shelf,
    /// The rolls.
    pub backlog: &'a Backlog,
    /// Those of them that are developed, each with its day.
    pub done: BTreeMap<&'a str, Date>,
    /// The tank.
    pub tank: &'a Arc<Tank>,
    /// The temperature, and all else but the rolls, which the plan sets.
    pub conditions: Conditions,
    /// Developing times that differ by no more than this count as the same.
    pub within: Time,
    /// The bottles that stand ready.
    pub bottles: Vec<Bottle>,
    /// The packages that solutions are sold in, each by what it is and how much is in it.
    pub packages: Vec<(String, Volume)>,
}

/// Loads for all rolls that wait.
#[derive(Debug)]
pub struct Plan {
    /// The backlog's title.
    pub title: String,
    /// The tank.
    pub tank: Arc<Tank>,
    /// The conditions of every evening.
    pub conditions: Conditions,
    /// Developing times that differ by no more than this counted as the same.
    pub within: Time,
    /// The loads, in the order of their first rolls.
    pub loads: Vec<Load>,
    /// No fewer loads than this can do.
    pub bound: usize,
    /// Whether the loads are the very fewest; else they are at most so many over the bound.
    pub is_fewest: bool,
    /// The rolls that are developed, in the order they were shot, each with its day.
    pub done: Vec<(String, Date)>,
    /// What is poured of each solution over all loads, and where it ends.
    pub poured: Vec<Poured>,
    /// What has to be had: of each bottle, concentrate or stock, how much.
    pub taken: Vec<Taken>,
}

/// One tank of rolls.
#[derive(Debug)]
pub struct Load {
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

    /// All water.
    #[must_use]
    pub fn water(&self) -> Volume {
        self.loads.iter().fold(Volume::ZERO, |sum, load| sum + load.schedule.water)
    }

    /// How many rolls wait.
    #[must_use]
    pub fn waiting(&self) -> usize {
        self.loads.iter().map(|load| load.rolls.len()).sum()
    }
}

/// Plans all rolls of a backlog that are not developed.
///
/// # Errors
/// Every reason why some roll has no load: no recipe or several for it, a format that the tank does not take,
/// a recipe that will not do at this temperature.
pub fn plan(asked: &Asked<'_>) -> Result<Plan, Vec<Diagnostic>> {
    let waiting: Vec<&Exposed> =
        asked.backlog.rolls.iter().filter(|roll| !asked.done.contains_key(roll.label.as_str())).collect();
    let kinds = kinds(asked, &waiting)?;
    let (mut bound, mut is_fewest) = (0, true);
    let mut loads: Vec<(usize, Load)> = Vec::new();
    let mut faults = Vec::new();
    for kind in &kinds {
        let own = packed(kind, &mut bound, &mut is_fewest);
        for places in own {
            let first = places.first().copied().unwrap_or(0);
            let rolls: Vec<&Exposed> = places.iter().filter_map(|at| waiting.get(*at).copied()).collect();
            match load(asked, kind, &rolls) {
                Ok(load) => loads.push((first, load)),
                Err(told) => faults.extend(told),
            }
        }
    }
    if !faults.is_empty() {
        faults.sort_by(|a: &Diagnostic, b| a.sort_key().cmp(&b.sort_key()));
        faults.dedup();
        return Err(faults);
    }
    loads.sort_by_key(|(first, _)| *first);
    let mut loads: Vec<Load> = loads.into_iter().map(|(_, load)| load).collect();
    let (poured, taken) = bath::over(&mut loads, &asked.bottles, &asked.packages);
    let day = |roll: &Exposed| Some((roll.label.clone(), *asked.done.get(roll.label.as_str())?));
    Ok(Plan {
        title: asked.backlog.title.clone(),
        tank: Arc::clone(asked.tank),
        conditions: asked.conditions.clone(),
        within: asked.within,
        is_fewest: is_fewest || loads.len() == bound,
        loads,
        bound,
        done: asked.backlog.rolls.iter().filter_map(day).collect(),
        poured,
        taken,
    })
}

/// The loads of one kind, each as the places of its rolls among all that wait.
fn packed(kind: &Kind<'_>, bound: &mut usize, is_fewest: &mut bool) -> Vec<Vec<usize>> {
    let order: Vec<usize> = kind.rolls.iter().map(|(_, size)| *size).collect();
    let mut counts = vec![0u32; kind.sizes.len()];
    order.iter().for_each(|size| counts.get_mut(*size).into_iter().for_each(|count| *count += 1));
    let mut packer = Packer::of(&kind.sizes, kind.room, &counts);
    *bound += packer.bound(&counts);
    let loads = packer.loads(&order);
    *is_fewest &= packer.is_exact() && loads.len() == packer.fewest(&counts);
    let place = |at: usize| kind.rolls.get(at).map(|(place, _)| *place);
    loads.into_iter().map(|load| load.into_iter().filter_map(place).collect()).collect()
}

/// A load with its work. Rolls stand in the tank in the order they were shot, but one format together, as
/// reels of one kind do.
fn load(asked: &Asked<'_>, kind: &Kind<'_>, rolls: &[&Exposed]) -> Result<Load, Vec<Diagnostic>> {
    let mut rolls = rolls.to_vec();
    let formats: Vec<Format> = rolls.iter().map(|roll| roll.format).collect();
    rolls.sort_by_key(|roll| formats.iter().position(|format| *format == roll.format));
    let mut conditions = asked.conditions.clone();
    conditions.labels = rolls.iter().map(|roll| roll.label.clone()).collect();
    conditions.rolls = rolls
        .chunk_by(|one, next| one.format == next.format)
        .filter_map(|run| {
            Some(Rolls { count: u32::try_from(run.len()).unwrap_or(u32::MAX), format: run.first()?.format })
        })
        .collect();
    let schedule = compile(asked.shelf, kind.recipe, Some(asked.tank), &conditions, Vec::new())?;
    let rolls = rolls.iter().map(|roll| Roll {
        label: roll.label.clone(),
        film: roll.film.title.clone(),
        format: roll.format,
        index: roll.exposed_at(),
        shot: roll.shot,
    });
    Ok(Load { rolls: rolls.collect(), schedule, mixes: Vec::new() })
}
