//! The baths of a plan's loads: what to mix before each load, and how much all loads use.

use std::sync::Arc;

use super::Load;
use super::stock::{Stocks, Taken};
use crate::compile::{MeasuredPart, PlannedStep, Schedule, measured};
use crate::model::{Date, Dilution, Format, KeptBath, Solution, StepKind, Use, Volume};
use crate::source::{Map, Span};

/// A bath to mix before a load.
#[derive(Debug, Clone)]
pub struct Mix {
    /// The solution.
    pub solution: Arc<Solution>,
    /// The bottle from which the bath is mixed, such as `a`, if the solution comes in several and the bath needs only
    /// one.
    pub part: Option<String>,
    /// The solution's title.
    pub title: String,
    /// The dilution of the bath.
    pub dilution: Dilution,
    /// The name of the bath, if the recipe has several baths of this solution and dilution.
    pub name: Option<String>,
    /// The volume to mix.
    pub volume: Volume,
    /// The parts to measure out, besides water.
    pub parts: Vec<MeasuredPart>,
    /// Why the plan mixes this bath again; `None` the first time.
    pub because: Option<MixedAgain>,
}

impl Mix {
    /// The volume of water to measure out.
    pub fn water(&self) -> Volume {
        let parts: Volume = self.parts.iter().map(|part| part.volume).sum();
        let water = self.volume.fl.saturating_sub(parts.fl).max(0);
        if self.dilution.water > 0 { Volume { fl: water } } else { Volume::ZERO }
    }
}

/// Why a bath is mixed again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MixedAgain {
    /// The bath that was mixed before is exhausted.
    Spent,
    /// The bath that was mixed before is past its keeping time; it kept until this day.
    PastKeeping(Date),
}

/// How much of one solution, at one dilution, all loads use together.
#[derive(Debug, Clone)]
pub struct Poured {
    /// The solution.
    pub solution: Arc<Solution>,
    /// The dilution.
    pub dilution: Dilution,
    /// The volume of all one-shot baths. For a kept bath: the volume of all baths that the plan mixes, and of the
    /// declared bottles that it uses.
    pub volume: Volume,
    /// What happens to the bath after a load.
    pub reuse: Option<Use>,
    /// The kind of step that uses the solution.
    pub step: StepKind,
}

/// A bath that goes back into a bottle after a load.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    pub(super) solution: Arc<Solution>,
    /// The bottle from which the bath is mixed, such as `a`, if the solution comes in several and the bath needs only
    /// one.
    pub(super) part: Option<String>,
    pub(super) dilution: Dilution,
    /// The name of the bath in the recipe.
    pub(super) name: Option<String>,
    pub(super) volume: Volume,
    /// The volume that the film needs from the first bottle of the solution; 0 if the solution states none.
    first: Volume,
}

impl Kept {
    /// The kept baths of a schedule, each once, with the largest volume that a step needs.
    pub(super) fn all(schedule: &Schedule) -> Vec<Kept> {
        let film = schedule.area();
        let mut all = Vec::new();
        for (solution, step) in with_solutions(schedule) {
            let Some(bath) = &step.bath else { continue };
            let Some(dilution) = bath.dilution.clone() else { continue };
            if bath.reuse.is_some_and(Use::is_kept) {
                let first = solution.needs.map_or(Volume::ZERO, |needs| needs.scaled(film, Format::ROLL));
                let (part, name) = (bath.part.clone(), bath.name.clone());
                let kept =
                    Kept { solution: Arc::clone(solution), part, dilution, name, volume: bath.volume, first };
                kept.add_to(&mut all);
            }
        }
        all
    }

    /// Adds the bath to a list, or raises the volumes of the same bath in the list.
    pub(super) fn add_to(self, all: &mut Vec<Kept>) {
        match all.iter_mut().find(|kept| kept.is_same(&self)) {
            Some(kept) => {
                kept.volume = kept.volume.max(self.volume);
                kept.first = kept.first.max(self.first);
            }
            None => all.push(self),
        }
    }

    pub(super) fn is_same(&self, other: &Kept) -> bool {
        self.has_contents(&other.solution, other.part.as_ref(), &other.dilution) && self.name == other.name
    }

    fn has_contents(&self, solution: &Arc<Solution>, part: Option<&String>, dilution: &Dilution) -> bool {
        Arc::ptr_eq(&self.solution, solution) && self.part.as_ref() == part && self.dilution == *dilution
    }

    /// The index of the bottle `part` among the bottles of the solution; `None` if the bath needs all bottles.
    pub(super) fn only(&self) -> Option<usize> {
        let part = self.part.as_ref()?;
        self.solution.parts.iter().position(|own| own == part)
    }

    pub(super) fn is_in(&self, bottle: &KeptBath) -> bool {
        self.has_contents(&bottle.solution, bottle.part.as_ref(), &bottle.dilution)
    }
}

pub(super) struct Pour {
    pub(super) kept: Kept,
    pub(super) bottle: Arc<KeptBath>,
    pub(super) origin: Origin,
}

pub(super) enum Origin {
    /// The bath is mixed for this load. If the plan mixed it before, the reason why it is mixed again is given.
    Mixed(Option<MixedAgain>),
    /// The user has the bottle already, and this load is the plan's first to use it.
    Begun,
    /// An earlier load used the bottle.
    InUse,
}

fn with_solutions(schedule: &Schedule) -> impl Iterator<Item = (&Arc<Solution>, &PlannedStep)> {
    let steps = schedule.steps.iter().zip(&schedule.recipe.steps);
    steps.filter_map(|(planned, step)| Some((step.solution()?, planned)))
}

#[derive(Debug, Default)]
pub(super) struct Sums {
    poured: Vec<Poured>,
    /// The volume of each liquid. The keys are the liquid's name, and whether it is for replenishing.
    taken: Map<(String, bool), Volume>,
}

impl Sums {
    /// Adds the volumes that a load uses, and sets which baths to mix before the load.
    pub(super) fn add(&mut self, load: &mut Load, pours: &[Pour]) {
        let mut used: Vec<(Span, &Dilution, Option<&String>, Option<&String>)> = Vec::new();
        for (solution, step) in with_solutions(&load.schedule) {
            let Some(bath) = &step.bath else { continue };
            let Some(dilution) = &bath.dilution else { continue };
            if bath.used.is_some() {
                continue;
            }
            let key = (solution.span, dilution, bath.part.as_ref(), bath.name.as_ref());
            // A bath that two steps use is mixed only once.
            let is_first = !used.contains(&key);
            let is_own = |kept: &Kept| {
                kept.has_contents(solution, bath.part.as_ref(), dilution) && kept.name == bath.name
            };
            let pour = pours.iter().find(|pour| is_first && is_own(&pour.kept));
            let mut volume = Volume::ZERO;
            if !bath.reuse.is_some_and(Use::is_kept) {
                volume = bath.volume;
                bath.parts.iter().for_each(|part| self.take(&part.what, false, part.volume));
            } else if let Some(Pour { kept, origin: Origin::Mixed(because), .. }) = pour {
                volume = kept.volume;
                let (parts, _) =
                    measured(&kept.solution, kept.only(), &kept.dilution, kept.volume, kept.first);
                parts.iter().for_each(|part| self.take(&part.what, false, part.volume));
                load.mixes.push(Mix {
                    solution: Arc::clone(&kept.solution),
                    part: kept.part.clone(),
                    title: bath.title.clone(),
                    dilution: dilution.clone(),
                    name: bath.name.clone(),
                    volume,
                    parts,
                    because: *because,
                });
            }
            if let Some(added) = bath.replenish.filter(|_| is_first) {
                let with = bath.replenisher.as_ref().map_or(&bath.solution, |with| &with.name);
                self.take(with, true, added);
            }
            if let Some(Pour { bottle, origin: Origin::Begun, .. }) = pour {
                volume = volume + *bottle.volume;
            }
            used.push(key);
            match self
                .poured
                .iter_mut()
                .find(|known| (known.solution.span, &known.dilution) == (solution.span, dilution))
            {
                Some(sum) => sum.volume = sum.volume + volume,
                None => self.poured.push(Poured {
                    solution: Arc::clone(solution),
                    dilution: dilution.clone(),
                    volume,
                    reuse: bath.reuse,
                    step: step.kind,
                }),
            }
        }
    }

    fn take(&mut self, what: &str, tops_up: bool, volume: Volume) {
        let sum = self.taken.value_or((what.to_owned(), tops_up), || Volume::ZERO);
        *sum = *sum + volume;
    }

    pub(super) fn finish(self, stocks: &Stocks<'_>) -> (Vec<Poured>, Vec<Taken>) {
        let poured = self.poured.into_iter().filter(|poured| poured.volume > Volume::ZERO);
        let taken = self.taken.into_iter().filter(|(_, volume)| *volume > Volume::ZERO);
        let taken = taken.map(|((what, tops_up), volume)| {
            let liquid = stocks.liquids.get(&what).cloned();
            // A liquid can have two entries: one for baths and one for replenishing. What the user has counts only for
            // baths. Otherwise it would count twice.
            let on_hand = if tops_up { Vec::new() } else { stocks.on_hand(&what, liquid.as_ref()) };
            let mut taken = Taken { what, tops_up, volume, liquid, on_hand, packages: None };
            let package = stocks.packages.iter().find(|(known, _)| *known == taken.what && !tops_up);
            // A package that is used only in part counts as a whole package.
            let count = |package: Volume| taken.short().rounded_up(package).fl / package.fl.max(1);
            taken.packages = package.map(|(_, package)| (*package, count(*package)));
            taken
        });
        (poured.collect(), taken.collect())
    }
}
