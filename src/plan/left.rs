//! Rolls without a load, and the reasons.

use super::Roll;
use crate::model::Exposed;
use crate::source::{Diagnostic, Span, first_few};

pub(super) const FAULTS: &[(&str, &str)] =
    &[("rolls-left-out", "rolls without a load in a plan that has loads for others")];

/// Rolls without a load.
#[derive(Debug)]
pub struct LeftOut {
    /// The rolls, in the order they were shot.
    pub rolls: Vec<Roll>,
    /// Every reason.
    pub faults: Vec<Diagnostic>,
    span: Span,
}

impl LeftOut {
    /// The warning that names the rolls.
    pub fn warning(&self) -> Diagnostic {
        let labels = first_few(self.rolls.iter().map(|roll| roll.label.as_str()), ", ");
        let count = match self.rolls.len() {
            1 => "1 roll is".to_owned(),
            several => format!("{several} rolls are"),
        };
        Diagnostic::warning("rolls-left-out", self.span, format!("{count} left out of this plan: {labels}"))
            .help("fix the errors about them, or plan them separately at another temperature or for another tank")
    }
}

/// Leaves rolls out for these reasons, together with other rolls that have the same reasons.
pub(super) fn set_aside(left: &mut Vec<LeftOut>, rolls: &[&Exposed], mut faults: Vec<Diagnostic>) {
    let Some(first) = rolls.first() else { return };
    faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
    let texts = |faults: &[Diagnostic]| -> Vec<(&'static str, String)> {
        faults.iter().map(|fault| (fault.name, fault.message.clone())).collect()
    };
    let all = rolls.iter().map(|roll| Roll::of(roll));
    match left.iter_mut().find(|left| texts(&left.faults) == texts(&faults)) {
        Some(same) => same.rolls.extend(all),
        None => left.push(LeftOut { rolls: all.collect(), faults, span: first.span }),
    }
}

impl Roll {
    /// A roll of a plan.
    pub(super) fn of(roll: &Exposed) -> Roll {
        Roll {
            label: roll.label.clone(),
            film: roll.film.title.clone(),
            format: roll.format,
            index: roll.exposed_at(),
            shot: roll.shot,
        }
    }
}
