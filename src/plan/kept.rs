//! The kept baths that a load pours from and back into.

use std::sync::Arc;

use crate::compile::{Schedule, measured};
use crate::model::{Dilution, KeptBath, Solution, Use, Volume};

/// A kept bath that a load pours from.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    pub(super) solution: Arc<Solution>,
    pub(super) dilution: Dilution,
    pub(super) volume: Volume,
    /// What the film of the largest load needs of the first part; none where the solution does not say.
    pub(super) first: Volume,
}

impl Kept {
    pub(super) fn is_of(&self, solution: &Arc<Solution>, dilution: &Dilution) -> bool {
        Arc::ptr_eq(&self.solution, solution) && self.dilution == *dilution
    }

    pub(super) fn is_in(&self, bottle: &KeptBath) -> bool {
        self.is_of(&bottle.solution, &bottle.dilution)
    }

    /// Grows to what another load needs of the same bath.
    pub(super) fn grow(&mut self, other: &Kept) {
        self.volume = self.volume.max(other.volume);
        self.first = self.first.max(other.first);
    }

    /// What of it is measured out, as R8 rounds it for this volume.
    pub(super) fn parts(&self) -> Vec<(String, Volume)> {
        let (parts, _) = measured(&self.solution, &self.dilution, self.volume, self.first);
        parts.into_iter().map(|part| (part.what, part.volume)).collect()
    }
}

/// The kept baths of a schedule, each once, as large as its largest step needs.
pub(super) fn kept(schedule: &Schedule) -> Vec<Kept> {
    let mut all: Vec<Kept> = Vec::new();
    let film: i64 = schedule.load.iter().map(|slot| i64::from(slot.format.twelfths())).sum();
    for (at, step) in schedule.steps.iter().enumerate() {
        let Some(bath) = &step.bath else { continue };
        let solution = schedule.recipe.steps.get(at).and_then(|step| step.solution());
        let (Some(solution), Some(dilution)) = (solution, &bath.dilution) else { continue };
        if !matches!(bath.fate, Some(Use::Reused | Use::Replenished)) {
            continue;
        }
        match all.iter_mut().find(|kept| kept.is_of(solution, dilution)) {
            Some(kept) => kept.volume = kept.volume.max(bath.volume),
            None => all.push(Kept {
                solution: Arc::clone(solution),
                dilution: dilution.clone(),
                volume: bath.volume,
                first: solution.needs.map_or(Volume::ZERO, |needs| needs.value.scaled(film, 12)),
            }),
        }
    }
    all
}
