//! A solution, and how much of it is wanted, to a [`Sheet`]: what to weigh (R10), what to measure out (R8) and
//! how warm the water has to be (R9). Either a whole sheet comes back, or every reason why there is none.

mod asked;
mod sheet;
mod had;
mod cylinder;
mod weigh;
mod state;
mod liquid;
mod room;
mod advice;
mod warmth;
mod dilute;
mod caution;

use std::sync::Arc;

pub use asked::{Asked, Diluting, Had, HadAs, Taps, Warmth, Weighing};
pub use sheet::{Amount, Bottle, Form, FromTaps, Line, Mixture, Sheet, Water, Weighed, Work};

use crate::model::{Solution, Volume};
use crate::source::Diagnostic;

/// The faults that measuring tells, each with its meaning.
pub const FAULTS: &[&[(&str, &str)]] = &[
    had::FAULTS,
    weigh::FAULTS,
    state::FAULTS,
    liquid::FAULTS,
    room::FAULTS,
    warmth::FAULTS,
    dilute::FAULTS,
];

/// The sheet for so much of a solution.
///
/// # Errors
/// Every reason why it cannot be weighed or measured so, in the order of the text.
pub fn measure(solution: &Arc<Solution>, make: Volume, asked: &Asked) -> Result<Sheet, Vec<Diagnostic>> {
    let mut faults = Vec::new();
    let mut doubts = Vec::new();
    let work = match asked {
        Asked::Weighing(asked) => {
            let bottles = weigh::bottles(solution, make, asked, (&mut faults, &mut doubts));
            bottles.map(|bottles| Work::Weigh(bottles, asked.step))
        }
        Asked::Diluting(asked) => dilute::mixture(solution, make, asked, &mut faults).map(Work::Dilute),
    };
    match work {
        Some(work) if faults.is_empty() => Ok(Sheet {
            solution: Arc::clone(solution),
            make,
            doubts,
            cautions: caution::cautions(solution, &work),
            work,
        }),
        Some(_) | None => {
            faults.sort_by(|a, b| a.sort_key().cmp(&b.sort_key()));
            Err(faults)
        }
    }
}
