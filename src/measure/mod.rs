//! Makes the [`Sheet`] of a solution: what to weigh (R10) or to measure (R8), and the temperature of the water (R9).

mod advice;
mod convert;
mod day;
mod had;
mod liquids;
mod sheet;
mod water;
mod weigh;

use std::sync::Arc;

pub use day::{MixingDay, Needed, mixing_day};
pub use sheet::{
    Adding, Amount, Asked, Bottle, Diluting, Form, FromTaps, Had, HadAs, Line, Mixture, Sheet, Taps, Warmth,
    Water, Weighed, Weighing, Work,
};

pub use water::TemperedWater;

use crate::chemistry::Concern;
use crate::compile::{Opened, Personal, Scene, aid, cautions_with, concern, safety};
use crate::model::{Mass, Solution, Temperature, Volume};
use crate::source::{Diagnostic, Span};

/// The errors of a sheet, each with what causes it.
pub const ERRORS: &[&[(&str, &str)]] = &[&[
    ("had-not-in-formula", "an ingredient of --have that the formula lacks"),
    ("had-names-several", "a name in --have that fits several ingredients"),
    ("had-twice", "an ingredient in --have twice"),
    ("formula-not-known", "a solution to weigh without a formula"),
    ("amount-past-measure", "more of an ingredient than the limit"),
    ("state-not-sold", "a state that an ingredient is not sold in"),
    ("state-by-volume", "another state of an ingredient given by volume"),
    ("sold-by-weight", "another strength of an ingredient sold by weight"),
    ("dissolved-by-volume", "a percent solution of an ingredient given by volume"),
    ("no-room-for-it", "more liquid than the volume that is made"),
    ("water-frozen-or-boiling", "a mixture that needs ice or steam"),
    ("water-outside-the-taps", "water warmer or colder than both taps"),
    ("water-without-temperature", "taps for water without a temperature"),
    ("dilution-of-other-bottles", "a dilution with more or fewer parts than bottles"),
    ("no-water-to-warm", "a temperature for a mixture without water"),
]];

/// The usual resolution of a darkroom scale. Common practice, no source.
pub const USUAL_SCALE: Mass = Mass { pg: Mass::G / 10 };

#[derive(Default)]
struct Findings {
    errors: Vec<Diagnostic>,
    warnings: Vec<String>,
}

fn refused<T>(
    name: &'static str,
    span: Span,
    message: String,
    help: impl Into<String>,
) -> Result<T, Box<Diagnostic>> {
    Err(Box::new(Diagnostic::error(name, span, message).help(help)))
}

/// The sheet for a volume of a solution. Its safety block names the poison centre and the waste can of `personal`.
///
/// # Errors
/// Every reason why the sheet cannot be made, in the order of the lines of the file.
pub fn measure(
    solution: &Arc<Solution>,
    make: Volume,
    asked: &Asked,
    personal: &Personal,
) -> Result<Sheet, Vec<Diagnostic>> {
    let mut findings = Findings::default();
    let work = match asked {
        Asked::Weighing(asked) => {
            let bottles = weigh::bottles(solution, make, asked, &mut findings);
            bottles.map(|bottles| Work::Weigh(bottles, asked.step))
        }
        Asked::Diluting(asked) => liquids::mixture(solution, make, asked, &mut findings).map(Work::Dilute),
    };
    let Findings { mut errors, warnings } = findings;
    match work {
        Some(work) if errors.is_empty() => {
            let added = work.added().map(|added| &*added.solution);
            let concerns: Vec<Concern> = [handled(solution, &work)]
                .into_iter()
                .chain(added.map(|added| concern(added, &[])))
                .collect();
            let cautions = cautions(solution, &work, &concerns);
            let solutions = [&**solution].into_iter().chain(added).collect();
            let scene = Scene { solutions, warmest: None, exposes: false, personal, last: None };
            let safety = safety(&concerns, &scene);
            let first_aid = aid(&concerns, personal);
            let own = solution.notes.iter().cloned();
            let of_added = |added: &Solution| {
                added.notes.iter().map(|note| format!("{}: {note}", added.name)).collect::<Vec<_>>()
            };
            let notes = own.chain(added.into_iter().flat_map(of_added)).collect();
            let solution = Arc::clone(solution);
            Ok(Sheet { solution, make, warnings, safety, concerns, cautions, first_aid, notes, work })
        }
        _ => {
            Diagnostic::sort(&mut errors);
            Err(errors)
        }
    }
}

/// What the cautions of a sheet depend on: the bottles, the bath if the solution is diluted, and what is weighed.
fn handled(solution: &Solution, work: &Work) -> Concern {
    match work {
        Work::Dilute(mixture) => {
            let dilution = mixture.dilution.clone();
            concern(solution, &[Opened { part: None, dilution, is_kept: true }])
        }
        Work::Weigh(bottles, _) => {
            let lines = bottles.iter().flat_map(|bottle| &bottle.lines);
            let held = lines.filter_map(|line| if let Line::Weighed(one) = line { one.held } else { None });
            Concern { held: held.collect(), is_weighed: true, ..concern(solution, &[]) }
        }
    }
}

/// Water that is warmer than this scalds. Common practice, no source.
const SCALDS: Temperature = Temperature::celsius_whole(60);
const SCALD: &str = "water of over 60 °C scalds: pour it slowly, and never onto hydroxide or acid";

/// The cautions of a sheet: those that the solutions state, one for hot water, then those of the chemicals.
fn cautions(solution: &Solution, work: &Work, concerns: &[Concern]) -> Vec<String> {
    let is_hot = |water: &Water| {
        let tap = water.taps.map(|taps| taps.taps.hot);
        water.at.into_iter().chain(tap).any(|at| SCALDS < at)
    };
    let scalds = match work {
        Work::Dilute(mixture) => mixture.water.as_ref().is_some_and(is_hot),
        Work::Weigh(bottles, _) => bottles.iter().flat_map(|bottle| &bottle.lines).any(|line| match line {
            Line::Water(water) => is_hot(water),
            Line::Mark(_, at) => at.is_some_and(|at| SCALDS < at),
            Line::Weighed(_) | Line::Solvent(..) => false,
        }),
    };
    let scald = SCALD.to_owned();
    let added = work.added().into_iter().flat_map(|added| &added.solution.cautions);
    let own = solution.cautions.iter().chain(added).chain(scalds.then_some(&scald));
    cautions_with(own, concerns)
}
