//! The findings about a list, each once with the lines of all rows that have it.

use crate::source::{Diagnostic, Map, Sources, Span};

const LINES_MAX: usize = 6;

#[derive(Default)]
pub(super) struct Flaws {
    all: Vec<(Diagnostic, Vec<Span>)>,
    places: Map<(&'static str, String), usize>,
}

impl Flaws {
    /// Adds a finding about a row, and returns its index. Findings with the same name and message count as one.
    pub(super) fn add(&mut self, finding: Diagnostic) -> usize {
        let span = finding.span;
        let next = self.all.len();
        let place = *self.places.value_or((finding.name, finding.message.clone()), || next);
        if place == next {
            self.all.push((finding, Vec::new()));
        }
        if let Some((_, rows)) = self.all.get_mut(place) {
            rows.push(span);
        }
        place
    }

    pub(super) fn of(&mut self, findings: Vec<Diagnostic>) {
        findings.into_iter().for_each(|finding| {
            self.add(finding);
        });
    }

    /// The findings. If a finding is about several rows, it names the lines of the other rows.
    pub(super) fn finish(self, sources: &Sources) -> Vec<Diagnostic> {
        let finished = |(finding, rows): (Diagnostic, Vec<Span>)| {
            let mut others: Vec<Span> = rows.into_iter().filter(|row| *row != finding.span).collect();
            others.dedup();
            let more = others.len().saturating_sub(LINES_MAX);
            let lines = others.iter().take(LINES_MAX).map(|row| sources.place(*row).line.to_string());
            let lines = lines.collect::<Vec<_>>().join(", ");
            match (others.len(), more) {
                (0, _) => finding,
                (1, _) => finding.label(format!("also in line {lines}")),
                (_, 0) => finding.label(format!("also in lines {lines}")),
                (_, more) => finding.label(format!("also in lines {lines} and {more} more")),
            }
        };
        self.all.into_iter().map(finished).collect()
    }
}
