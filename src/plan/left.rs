//! Rolls that have no load tonight: which they are, and why.

use super::Roll;
use crate::model::Exposed;
use crate::source::{Diagnostic, Span, first_few};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("rolls-left-out", "rolls that have no load in a plan, while others have")];

/// Rolls without a load.
#[derive(Debug)]
pub struct LeftOut {
    /// The rolls, in the order they were shot.
    pub rolls: Vec<Roll>,
    /// Every reason, each in its place.
    pub faults: Vec<Diagnostic>,
    span: Span,
}

impl LeftOut {
    /// What is told beside the reasons: which rolls they keep out.
    #[must_use]
    pub fn told(&self) -> Diagnostic {
        let labels = first_few(self.rolls.iter().map(|roll| roll.label.as_str()), ", ");
        let count = match self.rolls.len() {
            1 => "1 roll is".to_owned(),
            several => format!("{several} rolls are"),
        };
        Diagnostic::warning("rolls-left-out", self.span, format!("{count} left out of this plan: {labels}"))
            .help("put right what is told of them, or plan them by themselves at another temperature or for another tank")
    }
}

/// Leaves rolls out for these reasons; those of the same reasons stand together.
pub(super) fn set_aside(left: &mut Vec<LeftOut>, rolls: &[&Exposed], mut faults: Vec<Diagnostic>) {
    let Some(first) = rolls.first() else { return };
    faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
    let told = |faults: &[Diagnostic]| -> Vec<(&'static str, String)> {
        faults.iter().map(|fault| (fault.name, fault.message.clone())).collect()
    };
    let all = rolls.iter().map(|roll| Roll::of(roll));
    match left.iter_mut().find(|left| told(&left.faults) == told(&faults)) {
        Some(same) => same.rolls.extend(all),
        None => left.push(LeftOut { rolls: all.collect(), faults, span: first.span }),
    }
}

impl Roll {
    /// A roll as a plan tells of it.
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
