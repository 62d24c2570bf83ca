//! Warnings about amounts that a scale or a cylinder cannot measure well. The limits are common practice, no source.

use super::sheet::{Amount, Weighed};
use crate::model::{Mass, Volume, decimal};

/// The greatest rounding error without a warning, in hundredths of a percent.
const OFF_MOST: i64 = 500;
/// The smallest mass without a warning, in steps of the scale: an error of half a step is then at most 5 %.
const STEPS_LEAST: i64 = 10;
/// The largest volume that a warning advises to make.
const MAKE_MOST: Volume = Volume::from_ml(20_000);
/// The least volume of a dissolved ingredient that a warning advises to take. An error of 0.05 ml is at most 2.5 % of
/// it.
const TAKEN_LEAST: Volume = Volume::from_ml(2);

/// Solutions from which a small amount of an ingredient can be measured, the weakest first: the mass to dissolve, and
/// the millilitres of solution to make. All ingredients dissolve at 1 %.
const SOLUTIONS: [(Mass, i64); 4] = [
    (Mass { pg: Mass::G / 10 }, 1000),
    (Mass { pg: Mass::G }, 1000),
    (Mass { pg: Mass::G }, 100),
    (Mass { pg: 10 * Mass::G }, 1000),
];

pub(super) fn warning(weighed: &Weighed, exact: Amount, step: Mass, make: Volume) -> Option<String> {
    let what = &weighed.what;
    match exact {
        Amount::Mass(mass) => {
            let problem = if mass < step {
                format!("{mass} of {what} is less than the scale's step of {step}")
            } else if weighed.off.abs() > OFF_MOST {
                format!("{what} would be {} on the scale, with its step of {step}", error(weighed.off))
            } else if mass < step.scaled(STEPS_LEAST, 1) {
                let percent = decimal(step.scaled(50, 1).pg, mass.pg.max(1), 0);
                let steps = steps(mass, step);
                format!("{mass} of {what} is {steps} of {step} on the scale, an error of up to {percent} %")
            } else {
                return None;
            };
            Some(format!("{problem}: {}", better(mass, step, make)))
        }
        Amount::Volume(volume) if volume.fl < Volume::ML / 10 => {
            Some(format!("{} ml of {what} is too little to measure: dilute it first", volume.in_ml(4)))
        }
        Amount::Volume(_) if weighed.off.abs() > OFF_MOST => {
            Some(format!("{what} would be {} in a cylinder: dilute it first", error(weighed.off)))
        }
        Amount::Volume(_) => None,
    }
}

/// A mass in steps of the scale: `one step`, `2.5 steps`.
fn steps(mass: Mass, step: Mass) -> String {
    match decimal(mass.pg, step.pg.max(1), 1).as_str() {
        "1" => "one step".to_owned(),
        several => format!("{several} steps"),
    }
}

/// A rounding error in words: `6.7 % too much`, `3 % too little`.
fn error(off: i64) -> String {
    let side = if off < 0 { "too little" } else { "too much" };
    format!("{} % {side}", decimal(off.abs(), 100, 1))
}

fn better(mass: Mass, step: Mass, make: Volume) -> String {
    let least = step.scaled(STEPS_LEAST, 1);
    let dissolved = SOLUTIONS.iter().find_map(|(dissolved, ml)| {
        let take = Volume::from_ml(*ml).scaled(mass.pg, dissolved.pg);
        let fits = (TAKEN_LEAST..=make.scaled(1, 10)).contains(&take);
        (*dissolved >= least && fits)
            .then(|| format!("dissolve {dissolved} of it to {ml} ml and take {} ml", take.in_ml(1)))
    });
    let whole = make.scaled(least.pg, mass.pg.max(1)).rounded_up(Volume::from_ml(100));
    let more = (whole <= MAKE_MOST).then(|| format!("make {} l or more at once", whole.in_litres(1)));
    let all: Vec<String> =
        dissolved.into_iter().chain(more).chain(["weigh it on a finer scale".to_owned()]).collect();
    all.join(", or ")
}
