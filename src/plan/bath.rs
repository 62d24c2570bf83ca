//! What the loads take of baths: when one that is kept has to be made anew, what is poured in all, and
//! what has to be had for it.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Load;
use crate::compile::{PlannedBath, PlannedStep};
use crate::journal::Capacity;
use crate::model::{Dilution, Role, Solution, StepKind, Use, Volume};

/// A bottle that stands ready.
#[derive(Debug, Clone)]
pub struct Bottle {
    /// Its name.
    pub name: String,
    /// What is in it.
    pub solution: Arc<Solution>,
    /// How strong.
    pub dilution: Dilution,
    /// How much.
    pub volume: Volume,
    /// The film it has treated, in twelfths of a roll.
    pub treated: i64,
}

/// A bath that is made anew before a load.
#[derive(Debug, Clone)]
pub struct Mix {
    /// The solution's title.
    pub title: String,
    /// Its strength.
    pub dilution: Dilution,
    /// How much to make.
    pub volume: Volume,
    /// Its parts, each with how much.
    pub parts: Vec<(String, Volume)>,
}

/// What is poured of one solution over all loads.
#[derive(Debug, Clone)]
pub struct Poured {
    /// The solution's title.
    pub title: String,
    /// Its strength.
    pub dilution: Dilution,
    /// Of one-shot baths all that is poured away; of kept ones all that is made.
    pub volume: Volume,
    /// What becomes of it.
    pub fate: Option<Use>,
    /// The step it is for.
    pub step: StepKind,
    /// What it does.
    pub role: Option<Role>,
    /// Whether a kept one says how many rolls it treats.
    pub is_counted: bool,
}

/// What has to be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// The bottle, concentrate or stock.
    pub what: String,
    /// How much.
    pub volume: Volume,
    /// How much is in a package, and how many of them that takes; `None` where no package is known.
    pub packages: Option<(Volume, i64)>,
}

/// A solution at a strength, by its place in the text.
type Which = (crate::source::Span, Vec<u32>, u32);

/// A kept bath as it stands while loads go through it.
struct Kept {
    /// How much is made of it: what the largest load needs.
    volume: Volume,
    /// Twelfths of a roll it can treat, and has; `None` where nothing says how far it goes.
    room: Option<i64>,
    treated: i64,
    is_there: bool,
}

/// Walks the loads: says before each what to make anew, and adds everything up.
pub(super) fn over(
    loads: &mut [Load],
    bottles: &[Bottle],
    packages: &[(String, Volume)],
) -> (Vec<Poured>, Vec<Taken>) {
    let mut kept = largest(loads, bottles);
    let mut poured: Vec<(Which, Poured)> = Vec::new();
    let mut taken: BTreeMap<String, Volume> = BTreeMap::new();
    for load in loads {
        let film: i64 = load.rolls.iter().map(|roll| i64::from(roll.format.twelfths())).sum();
        let mut used: Vec<Which> = Vec::new();
        for (at, step) in load.schedule.steps.iter().enumerate() {
            let solution = load.schedule.recipe.steps.get(at).and_then(|step| step.solution());
            let Some((solution, bath, dilution)) = whole(solution, step) else { continue };
            let which = which(solution, dilution);
            let made = match (bath.fate, kept.get_mut(&which)) {
                // A bath that two steps pour from is one bath, and the film goes through it once.
                (Some(Use::Reused | Use::Replenished), Some(_)) if used.contains(&which) => Volume::ZERO,
                (Some(Use::Reused | Use::Replenished), Some(kept)) => kept.take(film),
                (Some(Use::OneShot | Use::Reused | Use::Replenished) | None, _) => bath.volume,
            };
            let mix = mixed(bath, dilution, made);
            mix.parts.iter().for_each(|(what, volume)| {
                let sum = taken.entry(what.clone()).or_insert(Volume::ZERO);
                *sum = *sum + *volume;
            });
            if matches!(bath.fate, Some(Use::Reused | Use::Replenished)) && made > Volume::ZERO {
                load.mixes.push(mix);
            }
            used.push(which.clone());
            match poured.iter_mut().find(|(known, _)| *known == which) {
                Some((_, sum)) => sum.volume = sum.volume + made,
                None => poured.push((which, first_poured(solution, step, bath, made))),
            }
        }
    }
    let poured = poured.into_iter().map(|(_, poured)| poured).filter(|poured| poured.volume > Volume::ZERO);
    let taken = taken.into_iter().filter(|(_, volume)| *volume > Volume::ZERO).map(|(what, volume)| {
        let package = packages.iter().find(|(known, _)| *known == what).map(|(_, package)| *package);
        let packages = package.map(|package| (package, whole_packages(volume, package)));
        Taken { what, volume, packages }
    });
    (poured.collect(), taken.collect())
}

/// How many packages so much takes; an open one counts.
fn whole_packages(volume: Volume, package: Volume) -> i64 {
    let package = package.fl.max(1);
    volume.fl / package + i64::from(volume.fl % package > 0)
}

impl Kept {
    /// Sends film through it; how much has to be made anew for that, nothing where it still does.
    fn take(&mut self, film: i64) -> Volume {
        let is_enough = self.room.is_none_or(|room| self.treated + film <= room);
        if self.is_there && is_enough {
            self.treated += film;
            return Volume::ZERO;
        }
        (self.is_there, self.treated) = (true, film);
        self.volume
    }
}

/// Every kept bath, as large as its largest load needs; a bottle that is large enough stands there already.
fn largest(loads: &[Load], bottles: &[Bottle]) -> BTreeMap<Which, Kept> {
    let mut kept: BTreeMap<Which, Kept> = BTreeMap::new();
    let mut solutions: BTreeMap<Which, (Arc<Solution>, Dilution)> = BTreeMap::new();
    for load in loads {
        for (at, step) in load.schedule.steps.iter().enumerate() {
            let solution = load.schedule.recipe.steps.get(at).and_then(|step| step.solution());
            let Some((solution, bath, dilution)) = whole(solution, step) else { continue };
            if !matches!(bath.fate, Some(Use::Reused | Use::Replenished)) {
                continue;
            }
            let which = which(solution, dilution);
            let own = kept.entry(which.clone()).or_insert(Kept {
                volume: Volume::ZERO,
                room: None,
                treated: 0,
                is_there: false,
            });
            own.volume = own.volume.max(bath.volume);
            solutions.insert(which, (Arc::clone(solution), dilution.clone()));
        }
    }
    for (which, kept) in &mut kept {
        let Some((solution, dilution)) = solutions.get(which) else { continue };
        kept.room = room(solution, dilution, kept.volume);
        let ready = bottles.iter().find(|bottle| {
            Arc::ptr_eq(&bottle.solution, solution)
                && bottle.dilution == *dilution
                && kept.volume <= bottle.volume
        });
        if let Some(bottle) = ready {
            kept.is_there = true;
            // What is left of it is its own; a bottle made anew is as large as the loads need.
            let own = room(solution, dilution, bottle.volume);
            kept.treated = own.zip(kept.room).map_or(0, |(own, room)| bottle.treated + room - own);
        }
    }
    kept
}

/// The film that so much of it treats, in twelfths of a roll (R13).
fn room(solution: &Solution, dilution: &Dilution, volume: Volume) -> Option<i64> {
    Capacity::of(solution, dilution, volume).map(Capacity::twelfths)
}

fn whole<'a>(
    solution: Option<&'a Arc<Solution>>,
    step: &'a PlannedStep,
) -> Option<(&'a Arc<Solution>, &'a PlannedBath, &'a Dilution)> {
    let bath = step.bath.as_ref()?;
    Some((solution?, bath, bath.dilution.as_ref()?))
}

fn which(solution: &Solution, dilution: &Dilution) -> Which {
    (solution.span, dilution.parts.clone(), dilution.water)
}

/// So much of a bath, with its parts in proportion.
fn mixed(bath: &PlannedBath, dilution: &Dilution, made: Volume) -> Mix {
    let part = |volume: Volume| {
        let scaled = i128::from(volume.fl) * i128::from(made.fl) / i128::from(bath.volume.fl.max(1));
        Volume { fl: i64::try_from(scaled).unwrap_or(i64::MAX) }
    };
    Mix {
        title: bath.title.clone(),
        dilution: dilution.clone(),
        volume: made,
        parts: bath.parts.iter().map(|own| (own.what.clone(), part(own.volume))).collect(),
    }
}

fn first_poured(solution: &Solution, step: &PlannedStep, bath: &PlannedBath, made: Volume) -> Poured {
    Poured {
        title: bath.title.clone(),
        dilution: bath.dilution.clone().unwrap_or_else(Dilution::stock),
        volume: made,
        fate: bath.fate,
        step: step.kind,
        role: solution.role,
        is_counted: !solution.treats.is_empty(),
    }
}
