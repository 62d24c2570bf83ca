//! How a step's smaller numbers came about: what is measured out, and how long it takes to fill and
//! to drain. Times and temperatures tell of themselves where they are reckoned.

use super::evening::Evening;
use super::schedule::{Because, PlannedBath};
use super::volume::{self, Filling};
use super::words;
use crate::model::{Stated, Step, Tank, Time};
use crate::source::Span;

fn because(of: impl Into<String>, rule: &'static str, text: String, from: Vec<Span>) -> Because {
    Because { of: of.into(), rule, text, exact: None, from }
}

/// Filling, draining and handling: the step's own word, else the tank's, else none (R6).
pub(super) fn of_clock(evening: &Evening<'_>, step: &Step) -> Vec<Because> {
    let handling = step
        .handling
        .map(|handling| because("/handling_ms", "R6", "as the step says".to_owned(), vec![handling.span]));
    if !volume::in_bath(step) {
        return handling.into_iter().collect();
    }
    let tank = |of: fn(&Tank) -> Option<Stated<Time>>| evening.tank.and_then(|tank| of(tank));
    let reason = |own: Option<Stated<Time>>, tank: Option<Stated<Time>>, of: &str| match (own, tank) {
        (Some(own), _) => because(of, "R6", "as the step says".to_owned(), vec![own.span]),
        (None, Some(tank)) => because(of, "R6", "as the tank says".to_owned(), vec![tank.span]),
        (None, None) => {
            because(of, "R6", "nothing says how long it takes: counted as 0:00".to_owned(), Vec::new())
        }
    };
    let fill = reason(step.fill, tank(|tank| tank.fill), "/fill_ms");
    let drain = reason(step.drain, tank(|tank| tank.drain), "/drain_ms");
    handling.into_iter().chain([fill, drain]).collect()
}

/// The bath: its volume, its parts and the water in it (R8), and what is added afterwards (R13).
pub(super) fn of_bath(step: &Step, filling: Option<Filling>, bath: Option<&PlannedBath>) -> Vec<Because> {
    let (Some(filling), Some(bath)) = (filling, bath) else { return Vec::new() };
    let mut all = vec![because("/volume_ml", "R8", filling.text, filling.from)];
    let said: Vec<Span> = step.bath.iter().map(|bath| bath.span).collect();
    let dilution = bath.dilution.as_ref().map(ToString::to_string).unwrap_or_default();
    let volume = words::volume(bath.volume);
    for at in 0..bath.parts.len() {
        let text = format!("its part of {volume} at {dilution}, to what can be measured");
        all.push(because(format!("/parts/{at}/ml"), "R8", text, said.clone()));
    }
    let text =
        if bath.parts.is_empty() { "all of it is water".to_owned() } else { format!("the rest of {volume}") };
    all.push(because("/water_ml", "R8", text, said.clone()));
    let solution = step.bath.as_ref().and_then(|bath| bath.solution.as_ref());
    if let (Some(_), Some(each)) = (bath.replenish, solution.and_then(|solution| solution.replenish)) {
        let text = format!("{} for each roll of 80 square inches", words::volume(each.value));
        all.push(because("/replenish_ml", "R13", text, vec![each.span]));
    }
    all
}
