//! Makes a [`Sheet`] of a solution: what to weigh (R10), what to measure (R8) and the water's temperature (R9).

mod advice;
mod asked;
mod convert;
mod dilute;
mod had;
mod liquids;
mod sheet;
mod warmth;
mod weigh;

use std::sync::Arc;

pub use asked::{Asked, Diluting, Had, HadAs, Taps, Warmth, Weighing};
pub use sheet::{Amount, Bottle, Form, FromTaps, Line, Mixture, Sheet, Water, Weighed, Work};

use crate::chemistry::Concern;
use crate::compile::{cautions_with, concern};
use crate::model::{Solution, Volume};
use crate::source::Diagnostic;

/// The names of all errors of this stage, each with its meaning.
pub const FAULTS: &[&[(&str, &str)]] =
    &[had::FAULTS, weigh::FAULTS, convert::FAULTS, liquids::FAULTS, warmth::FAULTS, dilute::FAULTS];

/// What is found while a sheet is made.
#[derive(Default)]
struct Findings {
    errors: Vec<Diagnostic>,
    warnings: Vec<String>,
}

/// The sheet for a volume of a solution.
///
/// # Errors
/// Every reason why it cannot be made, in the order of the text.
pub fn measure(solution: &Arc<Solution>, make: Volume, asked: &Asked) -> Result<Sheet, Vec<Diagnostic>> {
    let mut findings = Findings::default();
    let work = match asked {
        Asked::Weighing(asked) => {
            let bottles = weigh::bottles(solution, make, asked, &mut findings);
            bottles.map(|bottles| Work::Weigh(bottles, asked.step))
        }
        Asked::Diluting(asked) => {
            dilute::mixture(solution, make, asked, &mut findings.errors).map(Work::Dilute)
        }
    };
    let Findings { mut errors, warnings } = findings;
    match work {
        Some(work) if errors.is_empty() => {
            let (solution, cautions) = (Arc::clone(solution), cautions(solution, &work));
            Ok(Sheet { solution, make, warnings, cautions, work })
        }
        _ => {
            errors.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
            Err(errors)
        }
    }
}

/// §8. The cautions of a sheet without repeats: the solution's own, then those of its ingredients at the strength in
/// which they are measured.
fn cautions(solution: &Solution, work: &Work) -> Vec<String> {
    let mut concern = concern(solution);
    if let Work::Weigh(bottles, _) = work {
        let lines = bottles.iter().flat_map(|bottle| &bottle.lines);
        let held = lines.filter_map(|line| if let Line::Weighed(one) = line { one.held } else { None });
        concern = Concern { held: held.collect(), ..concern };
    }
    cautions_with(solution.cautions.iter(), &[(solution, concern)])
}
