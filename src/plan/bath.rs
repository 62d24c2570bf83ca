//! What the loads take of baths: what of each is measured out before which load, what is poured in all, and what
//! has to be had for it.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Load;
use super::kept::Kept;
use crate::compile::{PlannedBath, PlannedStep};
use crate::model::{Date, Dilution, KeptBath, Role, Solution, StepKind, Use, Volume};

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
    pub(super) fn add(
        &mut self,
        load: &mut Load,
        made: &[(Kept, Option<Anew>)],
        begun: &[(Kept, Arc<KeptBath>)],
    ) {
        let mut used: Vec<Which> = Vec::new();
        for (at, step) in load.schedule.steps.iter().enumerate() {
            let solution = load.schedule.recipe.steps.get(at).and_then(|step| step.solution());
            let Some((solution, bath, dilution)) = whole(solution, step) else { continue };
            let which = which(solution, dilution);
            let anew = made.iter().find(|(kept, _)| kept.is_of(solution, dilution));
            let is_first = !used.contains(&which);
            let mut volume = Volume::ZERO;
            match bath.fate {
                Some(Use::Reused | Use::Replenished) => {
                    // A bath that two steps pour from is one bath, and is made once.
                    if let Some((kept, because)) = anew.filter(|_| is_first) {
                        volume = kept.volume;
                        let mix = mixed(bath, kept, *because);
                        mix.parts.iter().for_each(|(what, volume)| self.take(what, false, *volume));
                        load.mixes.push(mix);
                    }
                }
                Some(Use::OneShot) | None => {
                    volume = bath.volume;
                    bath.parts.iter().for_each(|part| self.take(&part.what, false, part.volume));
                }
            }
            if let Some(added) = bath.replenish.filter(|_| is_first) {
                self.take(&bath.solution, true, added);
            }
            let own = begun.iter().filter(|(kept, _)| is_first && kept.is_of(solution, dilution));
            let gone = own.fold(volume, |sum, (_, bottle)| sum + bottle.volume.value);
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

fn which(solution: &Solution, dilution: &Dilution) -> Which {
    (solution.span, dilution.parts.clone(), dilution.water)
}

/// A bath that is made, as large as its largest load needs.
fn mixed(bath: &PlannedBath, kept: &Kept, because: Option<Anew>) -> Mix {
    Mix {
        title: bath.title.clone(),
        dilution: kept.dilution.clone(),
        volume: kept.volume,
        parts: kept.parts(),
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
