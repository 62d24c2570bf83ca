//! What stands on the label of a thing that is opened for the sheet: its number, and the codes of its hazards
//! and of what they call for.

use super::super::plain::plain;
use crate::chemistry::State;
use crate::measure::{Bottle, Form, Line, Sheet, Weighed, Work};

/// All that is weighed, in its order.
pub(super) fn weighed(sheet: &Sheet) -> Vec<&Weighed> {
    let bottles: &[Bottle] = match &sheet.work {
        Work::Weigh(bottles, _) => bottles,
        Work::Dilute(_) => &[],
    };
    let lines = bottles.iter().flat_map(|bottle| &bottle.lines);
    lines
        .filter_map(|line| match line {
            Line::Weighed(weighed) => Some(weighed),
            Line::Water(_) | Line::Mark(..) => None,
        })
        .collect()
}

/// The CAS number of what is in hand; `None` for what is in no register here.
pub(super) fn cas(weighed: &Weighed) -> Option<&'static str> {
    let states = weighed.held?.ingredient.states;
    let named = |word: &str| states.iter().find(|state: &&State| state.word == word);
    let state = match &weighed.form {
        Form::State(word) | Form::Dissolved(_, Some(word)) => named(word),
        Form::Plain | Form::Strength(_) | Form::Dissolved(_, None) => states.first(),
    };
    state.map(|state| state.cas)
}

/// A line for each thing, none twice.
pub(super) fn labels(sheet: &Sheet) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for weighed in weighed(sheet) {
        let label = label(weighed);
        if !all.contains(&label) {
            all.push(label);
        }
    }
    all
}

/// `metol · CAS 55-55-0 · H302 H317 · P261 P280`.
fn label(weighed: &Weighed) -> String {
    let mut told = vec![plain(&weighed.what)];
    let Some(held) = weighed.held else {
        told.push("not known here: see its own label".to_owned());
        return told.join(" · ");
    };
    told.extend(cas(weighed).map(|cas| format!("CAS {cas}")));
    let hazards: Vec<&str> = held.hazards().iter().map(|hazard| hazard.code).collect();
    let statements: Vec<&str> = held.statements().iter().map(|statement| statement.code).collect();
    if hazards.is_empty() {
        told.push("not classified".to_owned());
    }
    told.extend([hazards.join(" "), statements.join(" ")].into_iter().filter(|codes| !codes.is_empty()));
    told.join(" · ")
}
