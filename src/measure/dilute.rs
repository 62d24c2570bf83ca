//! A solution let down: its parts and the water as a card has them (R8), and how warm the water is (R9).

use super::asked::Diluting;
use super::sheet::{Mixture, Water};
use super::warmth;
use crate::compile::{measurable, measured};
use crate::model::{Solution, Volume};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("dilution-of-other-bottles", "a dilution with more or fewer parts than there are bottles"),
    ("no-water-to-warm", "a temperature for a mixture without water"),
];

/// So much of the solution, let down so.
pub(super) fn mixture(
    solution: &Solution,
    make: Volume,
    asked: &Diluting,
    faults: &mut Vec<Diagnostic>,
) -> Option<Mixture> {
    let Diluting { dilution, warmth } = asked;
    let (bottles, given) = (solution.bottles(), dilution.parts.len());
    if bottles != given {
        let come = if bottles == 1 { "in one bottle".to_owned() } else { format!("in {bottles} bottles") };
        let message = format!("{} comes {come}, and {dilution} has parts for {given}", solution.name);
        let ones = vec!["1"; bottles].join("+");
        let help = if bottles == 1 {
            "write 1+4, water last, or stock".to_owned()
        } else {
            format!("give a part for each bottle, {}, and the water last", solution.parts.join(", "))
        };
        let fault = Diagnostic::error("dilution-of-other-bottles", solution.span, message).help(help);
        let fault =
            if bottles == 1 { fault } else { fault.help(format!("write {ones} no-water, or {ones}+10")) };
        faults.push(fault);
        return None;
    }
    let make = make.rounded_up(measurable(make));
    let (parts, water) = measured(solution, dilution, make, Volume::ZERO);
    if water == Volume::ZERO {
        if warmth.is_some() {
            let message = format!("at {dilution} there is no water to set the temperature by");
            let fault = Diagnostic::error("no-water-to-warm", solution.span, message);
            faults.push(fault.help("leave --at out, and warm or cool the bottle in a water bath"));
        }
        return Some(Mixture { dilution: dilution.clone(), warmth: *warmth, water: None, parts });
    }
    let mut water = Water { volume: water, at: None, taps: None };
    if let Some(warmth) = warmth {
        let stock = parts.iter().fold(Volume::ZERO, |sum, part| sum + part.volume);
        water.at = warmth::water_for((stock, water.volume), *warmth, solution.span, faults);
        if let Some(taps) = warmth.taps {
            warmth::draw(&mut water, taps, solution.span, faults);
        }
    }
    Some(Mixture { dilution: dilution.clone(), warmth: *warmth, water: Some(water), parts })
}
