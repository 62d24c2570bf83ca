//! R14: warns if running water changes the water in tonight's tank too few times.

use super::evening::Evening;
use super::schedule::{Notices, PlannedStep};
use super::words;
use crate::model::{StepKind, Volume, Washing};

impl Evening<'_> {
    /// Warns if running water changes the water in tonight's tank too few times. The check of the recipe already
    /// reports a wash that is too short for every tank.
    pub(super) fn warn_of_few_changes(&self, steps: &[PlannedStep], notices: &mut Notices) {
        let Some((_, washes)) = self.recipe.last_fix_and_washes() else { return };
        let volume_of = |kind: StepKind| {
            let baths = steps.iter().filter(|step| step.kind == kind).filter_map(|step| step.bath.as_ref());
            baths.filter(|bath| bath.flow.is_some()).map(|bath| bath.volume).max()
        };
        let running = washes.iter().rev().find(|step| step.duration.flow().is_some());
        let Some((flow, volume)) =
            running.and_then(|step| Some((step.duration.flow()?, volume_of(step.kind)?)))
        else {
            return;
        };
        let changes_in = |tank: Volume| washes.iter().map(|step| step.washing(tank).changes).sum::<i64>();
        let changes = changes_in(volume);
        if changes < Washing::ENOUGH && Washing::ENOUGH <= changes_in(Washing::LEAST_TANK) {
            let times = if changes == 1 { "once".to_owned() } else { format!("{changes} times") };
            notices.warn(
                "R14",
                format!(
                    "the wash after the fixer changes the {} of the tank only {times} at {flow}; {} times are the least: \
                     let the water run longer or faster",
                    words::volume(volume),
                    Washing::ENOUGH
                ),
            );
        }
    }
}
