//! What to do about an amount that a scale or a cylinder cannot tell well enough.
//!
//! The limits are common practice, no source: within 5 % a developer works as it did before.

use super::sheet::{Amount, Weighed};
use crate::model::{Mass, Volume, decimal};

/// A rounding of more than this is a doubt, in hundredths of a percent.
const OFF_MOST: i64 = 500;
/// So many steps of a scale are weighed within 5 %: it tells no better than to half a step.
const STEPS_LEAST: i64 = 10;
/// More than this is not made for the scale's sake.
const MAKE_MOST: Volume = Volume::from_ml(20_000);
/// Less than this is not taken from a solution: to 0.1 ml it is measured within 2.5 %.
const TAKEN_LEAST: Volume = Volume::from_ml(2);

/// Solutions to take a little from, the weakest first: so much in so many millilitres. None is stronger than
/// 1 %, which everything in a darkroom dissolves to.
const SOLUTIONS: [(Mass, i64); 4] = [
    (Mass { pg: Mass::G / 10 }, 1000),
    (Mass { pg: Mass::G }, 1000),
    (Mass { pg: Mass::G }, 100),
    (Mass { pg: 10 * Mass::G }, 1000),
];

/// What is doubtful of an amount, and what would be better.
pub(super) fn doubt(weighed: &Weighed, exact: Amount, step: Mass, make: Volume) -> Option<String> {
    let what = &weighed.what;
    match exact {
        Amount::Mass(mass) if mass < step => Some(format!(
            "{} of {what} is less than the scale's {}: {}",
            grams(mass),
            grams(step),
            better(mass, step, make)
        )),
        Amount::Mass(mass) if weighed.off.abs() > OFF_MOST => Some(format!(
            "{what} comes out {} by the scale's {}: {}",
            astray(weighed.off),
            grams(step),
            better(mass, step, make)
        )),
        Amount::Mass(mass) if mass < step.scaled(STEPS_LEAST, 1) => Some(format!(
            "{} of {what} is {} of the scale's {}, which can be {} % off by itself: {}",
            grams(mass),
            steps(mass, step),
            grams(step),
            decimal(step.scaled(50, 1).pg, mass.pg.max(1), 0),
            better(mass, step, make)
        )),
        Amount::Volume(volume) if volume.fl < Volume::ML / 10 => {
            Some(format!("{} ml of {what} is less than one can measure: let it down first", volume.in_ml(4)))
        }
        Amount::Volume(_) if weighed.off.abs() > OFF_MOST => Some(format!(
            "{what} comes out {} by what one can measure: let it down first",
            astray(weighed.off)
        )),
        Amount::Mass(_) | Amount::Volume(_) => None,
    }
}

/// `one step`, `2.5 steps`.
fn steps(mass: Mass, step: Mass) -> String {
    match decimal(mass.pg, step.pg.max(1), 1).as_str() {
        "1" => "one step".to_owned(),
        several => format!("{several} steps"),
    }
}

/// `6.7 % over`, `3 % under`.
fn astray(off: i64) -> String {
    let side = if off < 0 { "under" } else { "over" };
    format!("{} % {side}", decimal(off.abs(), 100, 1))
}

fn grams(mass: Mass) -> String {
    mass.to_string()
}

fn better(mass: Mass, step: Mass, make: Volume) -> String {
    let least = step.scaled(STEPS_LEAST, 1);
    let dissolved = SOLUTIONS.iter().find_map(|(dissolved, ml)| {
        let take = Volume::from_ml(*ml).scaled(mass.pg, dissolved.pg);
        let fits = (TAKEN_LEAST..=make.scaled(1, 10)).contains(&take);
        (*dissolved >= least && fits).then(|| {
            format!(
                "dissolve {} of it, make that up to {ml} ml and take {} ml",
                grams(*dissolved),
                take.in_ml(1)
            )
        })
    });
    let whole = make.scaled(least.pg, mass.pg.max(1)).rounded_up(Volume::from_ml(100));
    let more = (whole <= MAKE_MOST).then(|| format!("make {} l or more at once", litres(whole)));
    let all: Vec<String> =
        dissolved.into_iter().chain(more).chain(["weigh it on a finer scale".to_owned()]).collect();
    all.join(", or ")
}

fn litres(volume: Volume) -> String {
    decimal(volume.fl, 1000 * Volume::ML, 1)
}
