//! The labels of a sheet's ingredients: CAS numbers, and the codes of hazards and precautions.

use super::super::plain::plain;
use crate::chemistry::State;
use crate::measure::{Form, Line, Sheet, Weighed, Work};

/// The CAS number of the state that is used; `None` if it is not known.
pub(super) fn cas(weighed: &Weighed) -> Option<&'static str> {
    let states = weighed.held?.ingredient.states;
    let named = |word: &str| states.iter().find(|state: &&State| state.word == word);
    let state = match &weighed.form {
        Form::State(word) | Form::Dissolved(_, Some(word)) => named(word),
        Form::Plain | Form::Strength(_) | Form::Dissolved(_, None) => states.first(),
    };
    state.map(|state| state.cas)
}

/// A line for each ingredient, without repeats.
pub(super) fn labels(sheet: &Sheet) -> Vec<String> {
    let Work::Weigh(bottles, _) = &sheet.work else { return Vec::new() };
    let mut all: Vec<String> = Vec::new();
    for line in bottles.iter().flat_map(|bottle| &bottle.lines) {
        let Line::Weighed(weighed) = line else { continue };
        let label = label(weighed);
        if !all.contains(&label) {
            all.push(label);
        }
    }
    all
}

/// `metol · CAS 55-55-0 · H302 H317 · P261 P280`.
fn label(weighed: &Weighed) -> String {
    let mut label = plain(&weighed.what);
    let Some(held) = weighed.held else { return label + " · not known here: see its own label" };
    let hazards: Vec<&str> = held.hazards().iter().map(|hazard| hazard.code).collect();
    let statements: Vec<&str> = held.statements().iter().map(|statement| statement.code).collect();
    label.extend(cas(weighed).map(|cas| format!(" · CAS {cas}")));
    if hazards.is_empty() {
        label.push_str(" · not classified");
    }
    let codes = [hazards, statements].into_iter().filter(|codes| !codes.is_empty());
    label.extend(codes.map(|codes| format!(" · {}", codes.join(" "))));
    label
}
