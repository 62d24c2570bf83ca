//! How a step's numbers came about, with the lines of the recipe that they came from.

use crate::compile::{Because, PlannedStep};
use crate::source::{Sources, Span};

use super::card::Reason;
use super::plain::plain;

/// The reasons of a step, in its own order.
pub(super) fn reasons(step: &PlannedStep, sources: &Sources) -> Vec<Reason> {
    let reasons = step.because.iter().map(|because| Reason {
        rule: because.rule,
        of: number(because, step),
        text: plain(&because.text),
        places: places(&because.from, sources),
    });
    reasons.collect()
}

/// The number that a reason is for, as people call it.
fn number(because: &Because, step: &PlannedStep) -> String {
    let mut names = because.of.split('/').skip(1);
    let (first, second) = (names.next().unwrap_or(""), names.next());
    let part = second.and_then(|at| at.parse::<usize>().ok());
    match (first, part) {
        ("duration_ms", _) => "time".to_owned(),
        ("water_ml", _) => "water".to_owned(),
        ("parts", Some(at)) => {
            let parts = step.bath.as_ref().and_then(|bath| bath.parts.get(at));
            parts.map_or_else(|| "part".to_owned(), |part| plain(&part.what))
        }
        (other, _) => {
            let bare = ["_ms", "_ml", "_c"].iter().find_map(|unit| other.strip_suffix(unit));
            plain(bare.unwrap_or(other)).replace('_', " ")
        }
    }
}

/// `estuary.wet:48, 49, films.wet:3`.
fn places(spans: &[Span], sources: &Sources) -> String {
    let mut said: Vec<String> = Vec::new();
    let mut file = None;
    for span in spans {
        let line = sources.place(*span).line;
        let text = if file == Some(span.file) {
            line.to_string()
        } else {
            format!("{}:{line}", plain(sources.name(span.file)))
        };
        file = Some(span.file);
        if said.last() != Some(&text) {
            said.push(text);
        }
    }
    said.join(", ")
}
