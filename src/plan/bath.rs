//! What the loads take of baths: when one that is kept has to be made anew, what is poured in all, and
//! what has to be had for it.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;

use super::Load;
use super::kept::Kept;
use crate::compile::{PlannedBath, PlannedStep};
use crate::model::{Dilution, KeptBath, Role, Solution, StepKind, Use, Volume};

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
    /// What became of the one that was made before it in this plan; `None` for the first.
    pub because: Option<Anew>,
}

impl Mix {
    /// The water that it takes.
    #[must_use]
    pub fn water(&self) -> Volume {
        let parts = self.parts.iter().fold(Volume::ZERO, |sum, (_, part)| sum + *part);
        let water = self.volume.fl.saturating_sub(parts.fl).max(0);
        if self.dilution.water > 0 { Volume { fl: water } } else { Volume::ZERO }
    }
}

/// Why a bath is made anew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anew {
    /// The one before does for no more film.
    Spent,
    /// The one before kept until that day.
    PastKeeping(Date),
}

/// What is poured of one solution over all loads.
#[derive(Debug, Clone)]
pub struct Poured {
    /// The solution's title.
    pub title: String,
    /// Its strength.
    pub dilution: Dilution,
    /// Of one-shot baths all that is poured away; of kept ones all that is made, and the bottles that are poured from.
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
    /// Whether it is the replenisher that is added to that bath after its rolls, and not the bath's own.
    pub tops_up: bool,
    /// How much.
    pub volume: Volume,
    /// How much is in a package, and how many of them that takes; `None` where no package is known.
    pub packages: Option<(Volume, i64)>,
}

/// A solution at a strength, by its place in the text.
type Which = (crate::source::Span, Vec<u32>, u32);

/// What all loads take and pour away.
#[derive(Debug, Default)]
pub(super) struct Sums {
    poured: Vec<(Which, Poured)>,
    /// By its name, and whether it tops up.
    taken: BTreeMap<(String, bool), Volume>,
}

impl Sums {
    /// Adds a load: what it pours once, the bottles that it is the first to pour from, and the baths that were made
    /// for it, which it then tells of.
    pub(super) fn add(&mut self, load: &mut Load, made: &[(Kept, Option<Anew>)], begun: &[Arc<KeptBath>]) {
        let mut used: Vec<Which> = Vec::new();
        for (at, step) in load.schedule.steps.iter().enumerate() {
            let solution = load.schedule.recipe.steps.get(at).and_then(|step| step.solution());
            let Some((solution, bath, dilution)) = whole(solution, step) else { continue };
            let which = which(solution, dilution);
            let anew = made.iter().find(|(kept, _)| kept.is_of(solution, dilution));
            let (volume, because) = match bath.fate {
                // A bath that two steps pour from is one bath, and is made once.
                Some(Use::Reused | Use::Replenished) if used.contains(&which) => (Volume::ZERO, None),
                Some(Use::Reused | Use::Replenished) => {
                    anew.map_or((Volume::ZERO, None), |(kept, because)| (kept.volume, *because))
                }
                Some(Use::OneShot) | None => (bath.volume, None),
            };
            let mix = mixed(bath, dilution, volume, because);
            mix.parts.iter().for_each(|(what, volume)| self.take(what, false, *volume));
            let is_first = !used.contains(&which);
            if let Some(added) = bath.replenish.filter(|_| is_first) {
                self.take(&bath.solution, true, added);
            }
            let own = begun.iter().filter(|bottle| is_first && is_in(bottle, solution, dilution));
            let gone = own.fold(volume, |sum, bottle| sum + bottle.volume.value);
            if matches!(bath.fate, Some(Use::Reused | Use::Replenished)) && volume > Volume::ZERO {
                load.mixes.push(mix);
            }
            used.push(which.clone());
            match self.poured.iter_mut().find(|(known, _)| *known == which) {
                Some((_, sum)) => sum.volume = sum.volume + gone,
                None => self.poured.push((which, first_poured(solution, step, bath, gone))),
            }
        }
    }

    fn take(&mut self, what: &str, tops_up: bool, volume: Volume) {
        let sum = self.taken.entry((what.to_owned(), tops_up)).or_insert(Volume::ZERO);
        *sum = *sum + volume;
    }

    /// All that is poured away in the end, and all that has to be had, in packages where those are known.
    pub(super) fn finish(self, packages: &[(String, Volume)]) -> (Vec<Poured>, Vec<Taken>) {
        let poured = self.poured.into_iter().map(|(_, poured)| poured);
        let taken = self.taken.into_iter().filter(|(_, volume)| *volume > Volume::ZERO);
        let taken = taken.map(|((what, tops_up), volume)| {
            let package = packages.iter().find(|(known, _)| *known == what && !tops_up);
            let packages = package.map(|(_, package)| (*package, whole_packages(volume, *package)));
            Taken { what, tops_up, volume, packages }
        });
        (poured.filter(|poured| poured.volume > Volume::ZERO).collect(), taken.collect())
    }
}

/// How many packages so much takes; an open one counts.
fn whole_packages(volume: Volume, package: Volume) -> i64 {
    let package = package.fl.max(1);
    volume.fl / package + i64::from(volume.fl % package > 0)
}

fn whole<'a>(
    solution: Option<&'a Arc<Solution>>,
    step: &'a PlannedStep,
) -> Option<(&'a Arc<Solution>, &'a PlannedBath, &'a Dilution)> {
    let bath = step.bath.as_ref()?;
    Some((solution?, bath, bath.dilution.as_ref()?))
}

fn is_in(bottle: &KeptBath, solution: &Arc<Solution>, dilution: &Dilution) -> bool {
    Arc::ptr_eq(&bottle.solution, solution) && bottle.dilution == *dilution
}

fn which(solution: &Solution, dilution: &Dilution) -> Which {
    (solution.span, dilution.parts.clone(), dilution.water)
}

/// So much of a bath, with its parts in proportion.
fn mixed(bath: &PlannedBath, dilution: &Dilution, made: Volume, because: Option<Anew>) -> Mix {
    let part = |volume: Volume| {
        let scaled = i128::from(volume.fl) * i128::from(made.fl) / i128::from(bath.volume.fl.max(1));
        Volume { fl: i64::try_from(scaled).unwrap_or(i64::MAX) }
    };
    Mix {
        title: bath.title.clone(),
        dilution: dilution.clone(),
        volume: made,
        parts: bath.parts.iter().map(|own| (own.what.clone(), part(own.volume))).collect(),
        because,
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
