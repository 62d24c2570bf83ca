//! The kept baths that a load pours from and back into.

use std::sync::Arc;

use crate::compile::Schedule;
use crate::model::{Dilution, KeptBath, Solution, Use, Volume};

/// A kept bath that a load pours from.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    pub(super) solution: Arc<Solution>,
    pub(super) dilution: Dilution,
    pub(super) volume: Volume,
}

impl Kept {
    pub(super) fn is_of(&self, solution: &Arc<Solution>, dilution: &Dilution) -> bool {
        Arc::ptr_eq(&self.solution, solution) && self.dilution == *dilution
    }

    pub(super) fn is_in(&self, bottle: &KeptBath) -> bool {
        self.is_of(&bottle.solution, &bottle.dilution)
    }
}

/// The kept baths of a schedule, each once, as large as its largest step needs.
pub(super) fn kept(schedule: &Schedule) -> Vec<Kept> {
    let mut all: Vec<Kept> = Vec::new();
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
            }),
        }
    }
    all
}
