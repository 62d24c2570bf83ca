//! A diluted solution: its parts and its water (R8), and the water's temperature (R9).

use super::asked::Diluting;
use super::sheet::{Mixture, Water};
use super::warmth;
use crate::compile::{measurable, measured};
use crate::model::{Solution, Volume};
use crate::source::Diagnostic;

pub(super) const FAULTS: &[(&str, &str)] = &[
    ("dilution-of-other-bottles", "a dilution with more or fewer parts than bottles"),
    ("no-water-to-warm", "a temperature for a mixture without water"),
];

/// The mixture, or `None` if the dilution does not fit the bottles.
pub(super) fn mixture(
    solution: &Solution,
    make: Volume,
    asked: &Diluting,
    faults: &mut Vec<Diagnostic>,
) -> Option<Mixture> {
    let Diluting { dilution, warmth } = asked;
    let (bottles, given) = (solution.bottles(), dilution.parts.len());
    if bottles != given {
        let come = if bottles == 1 { "one bottle".to_owned() } else { format!("{bottles} bottles") };
        let message = format!("{} comes in {come}, but {dilution} has parts for {given}", solution.name);
        let fault = Diagnostic::error("dilution-of-other-bottles", solution.span, message);
        faults.push(if bottles == 1 {
            fault.help("write 1+4, water last, or stock")
        } else {
            let ones = vec!["1"; bottles].join("+");
            let parts = solution.parts.join(", ");
            fault
                .help(format!("give a part for each bottle, {parts}, and the water last"))
                .help(format!("write {ones} no-water, or {ones}+10"))
        });
        return None;
    }
    let make = make.rounded_up(measurable(make));
    let (parts, water) = measured(solution, dilution, make, Volume::ZERO);
    if water == Volume::ZERO {
        if warmth.is_some() {
            let message = format!("the dilution {dilution} has no water to set the temperature with");
            let fault = Diagnostic::error("no-water-to-warm", solution.span, message);
            faults.push(fault.help("leave --at out, and warm or cool the bottle in a water bath"));
        }
        return Some(Mixture { dilution: dilution.clone(), warmth: *warmth, water: None, parts });
    }
    let mut water = Water { volume: water, at: None, taps: None };
    if let Some(warmth) = warmth {
        let stock = parts.iter().map(|part| part.volume).sum();
        water.at = warmth::water_for(stock, water.volume, *warmth, solution.span, faults);
        if let Some(taps) = warmth.taps {
            warmth::split(&mut water, taps, solution.span, faults);
        }
    }
    Some(Mixture { dilution: dilution.clone(), warmth: *warmth, water: Some(water), parts })
}
