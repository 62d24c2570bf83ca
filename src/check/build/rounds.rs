//! Builds the `repeat` of a recipe: steps that are done several times in turn.

use super::super::error;
use super::super::merge::{MergedStep, StepId};
use super::Builder;
use crate::model::{Repeat, Stated};
use crate::vocabulary::{Matched, say};

const ROUNDS_MAX: u32 = 50;

impl Builder<'_> {
    pub(super) fn repeat(
        &mut self,
        row: Matched<'_, say::Repeat>,
        steps: &[MergedStep<'_>],
    ) -> Option<Stated<Repeat>> {
        let rounds = row.rounds()?;
        let (first, last) = (
            StepId { kind: row.first()?, name: row.first_name() },
            StepId { kind: row.last()?, name: row.last_name() },
        );
        let place = |id: StepId<'_>| steps.iter().position(|step| step.id == id);
        let fault = match (place(first), place(last)) {
            (Some(from), Some(to)) if from <= to && (2..=ROUNDS_MAX).contains(&rounds) => {
                return Some(Stated::new(Repeat { first: from, last: to, rounds }, row.span));
            }
            (None, _) | (_, None) => {
                let wanted = if place(first).is_none() { first } else { last };
                let names: Vec<String> = steps.iter().map(|step| step.id.to_string()).collect();
                let message = format!("the recipe has no step '{wanted}' to repeat");
                error("unknown-step", row.span, message, format!("its steps are {}", names.join(", ")))
            }
            (Some(from), Some(to)) if to < from => {
                let help =
                    format!("name the earlier step first: repeat from {last} to {first}, {rounds} times");
                error("repeat-backwards", row.span, format!("{last} comes before {first}"), help)
            }
            _ => {
                let message =
                    format!("'repeat' does the steps 2 to {ROUNDS_MAX} times, and this line says {rounds}");
                error("rounds-out-of-range", row.span, message, "to do the steps once, remove the line")
            }
        };
        self.report(fault);
        None
    }
}
