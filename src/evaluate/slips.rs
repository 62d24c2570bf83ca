//! Points at what looks like a slip in the readings. Nothing is corrected.

use super::StripResult;
use super::table::Column;
use crate::source::{Diagnostic, Sorted as _, Span};

/// A fall of density from one step to the next looks like a slip if it is more than this many times the reading error.
const SLIP: f64 = 4.0;
/// A fall of contrast with longer time looks like a slip if it is more than this many times the error of a contrast.
const FALL: f64 = 3.0;

/// The densities of a column: of base and fog, and of the steps from the least exposure on. A step has its log
/// exposure, its density and its span.
pub(super) struct Densities<'a> {
    pub(super) column: &'a Column,
    pub(super) fog: Vec<f64>,
    pub(super) steps: Vec<(f64, f64, Span)>,
}

pub(super) fn backwards(strips: &[Densities<'_>]) -> Vec<Diagnostic> {
    let is_backwards = |strip: &&Densities<'_>| {
        let (falls, pairs) = (strip.falls(0.0).count(), strip.steps.len().saturating_sub(1));
        let ends = strip.steps.first().zip(strip.steps.last());
        ends.is_some_and(|(first, last)| last.1 < first.1) && 2 * falls > pairs
    };
    let error = |strip: &Densities<'_>| {
        let message = format!("the densities of {} fall where the exposure rises", strip.column.time);
        let help = "the strip was read from the other end: write its readings in reverse order";
        Diagnostic::error("readings-backwards", strip.column.span, message).help(help)
    };
    strips.iter().filter(is_backwards).map(error).collect()
}

/// Warnings about densities that fall where the exposure rises, about fog that was not read or is denser than a step,
/// and about contrasts that fall with longer time. `within` is the error of a density, `error` that of a contrast.
pub(super) fn slips(
    strips: &[Densities<'_>],
    results: &[StripResult],
    (within, error): (f64, f64),
) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let swapped = swapped_rows(strips, SLIP * within);
    found.extend(swapped.map(|(low, high)| {
        let message = "the density falls from this row to the one beside it in every strip";
        let help = "see whether the two rows were swapped";
        Diagnostic::warning("readings-slip", high, message).other(low, "the other row").help(help)
    }));
    for strip in strips {
        let falls = strip.falls(SLIP * within);
        let own = falls.filter(|at| swapped.is_none_or(|(low, _)| strip.span(*at) != Some(low)));
        found.extend(own.filter_map(|at| strip.odd_one(at)));
        found.extend(strip.fog_slip(SLIP * within));
    }
    found.extend(falling_contrasts(strips, results, FALL * error));
    found
}

impl Densities<'_> {
    /// The indices of the steps after which the density falls by more than `least`.
    fn falls(&self, least: f64) -> impl Iterator<Item = usize> {
        let pairs = self.steps.iter().zip(self.steps.iter().skip(1)).enumerate();
        pairs.filter(move |(_, (thin, dense))| dense.1 < thin.1 - least).map(|(at, _)| at)
    }

    fn span(&self, at: usize) -> Option<Span> {
        self.steps.get(at).map(|step| step.2)
    }

    /// The warning about a fall of density after the step `at`. It points at that step or the next one, whichever is
    /// farther from the mean of its neighbours.
    fn odd_one(&self, at: usize) -> Option<Diagnostic> {
        let density = |at: usize| self.steps.get(at).map(|step| step.1);
        let beside = |at: usize| Some((density(at.checked_sub(1)?)?, density(at + 1)?));
        let off = |at: usize| {
            let (before, after) = beside(at)?;
            Some((density(at)? - 0.5 * (before + after)).abs())
        };
        let odd = if off(at).unwrap_or(0.0) > off(at + 1).unwrap_or(0.0) { at } else { at + 1 };
        let (own, place) = (density(odd)?, self.span(odd)?);
        let neighbours = match beside(odd) {
            Some((before, after)) => format!("between {before:.2} and {after:.2}"),
            None => format!("beside {:.2}", density(if odd > at { at } else { at + 1 })?),
        };
        let message = format!(
            "in the strip of {}, {own:.2} does not fit {neighbours}: more exposure gives more density",
            self.column.time
        );
        let help = "read the step again, or see whether a digit was mistyped";
        Some(Diagnostic::warning("readings-slip", place, message).help(help))
    }

    /// The warning about the fog of a strip: it was not read, it is denser than a step by more than `most`, or its
    /// readings differ by more than `most`.
    fn fog_slip(&self, most: f64) -> Option<Diagnostic> {
        let time = self.column.time;
        let place = self.column.fog.first().map_or(self.column.span, |(_, place)| *place);
        let (least, greatest) = self
            .fog
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), fog| (low.min(*fog), high.max(*fog)));
        // Only the first three steps are compared with the fog, because a denser step may have a mistyped digit.
        let thinnest = self.steps.iter().take(3).map(|step| step.1).fold(f64::INFINITY, f64::min);
        let (name, message, help) = if self.fog.is_empty() && self.steps.len() > 2 {
            let message = format!("the strip of {time} has no reading of its base and fog");
            (
                "readings-no-fog",
                message,
                "read the film where no light fell, and add a row that begins with fog",
            )
        } else if greatest - least > most {
            let message = format!("the readings of fog of {time} differ: {least:.2} and {greatest:.2}");
            ("readings-fog", message, "read again where no light fell, away from the edge and the leader")
        } else if least > thinnest + most && least.is_finite() {
            let message =
                format!("the fog of {time} is {least:.2}, and its thinnest step is only {thinnest:.2}");
            ("readings-fog", message, "read the fog where no light fell, not on the leader")
        } else {
            return None;
        };
        Some(Diagnostic::warning(name, place, message).help(help))
    }
}

/// The spans of two rows between which the density falls in every strip, so that they may be swapped; `None` if there
/// is only one strip.
fn swapped_rows(strips: &[Densities<'_>], least: f64) -> Option<(Span, Span)> {
    let (first, rest) = strips.split_first()?;
    let pair = |strip: &Densities<'_>, at: usize| strip.span(at).zip(strip.span(at + 1));
    let mut pairs = first.falls(least).filter_map(|at| pair(first, at));
    pairs.find(|own| {
        let has_it =
            |strip: &Densities<'_>| strip.falls(least).any(|at| pair(strip, at).as_ref() == Some(own));
        !rest.is_empty() && rest.iter().all(has_it)
    })
}

/// A warning for each two neighbouring times at one temperature between which the contrast falls by more than `least`.
fn falling_contrasts(strips: &[Densities<'_>], results: &[StripResult], least: f64) -> Vec<Diagnostic> {
    let known =
        results.iter().zip(strips).filter_map(|(result, strip)| Some((result, result.contrast?, strip)));
    let mut known: Vec<_> = known.collect();
    known.order_by_key(|(result, ..)| (result.at, result.time));
    let pairs = known.iter().zip(known.iter().skip(1));
    let falls = pairs.filter(|(short, long)| {
        short.0.at == long.0.at && short.0.time < long.0.time && long.1 < short.1 - least
    });
    let warning =
        |(short, long): (&(&StripResult, f64, &Densities<'_>), &(&StripResult, f64, &Densities<'_>))| {
            let message = format!(
                "the contrast falls although the development is longer: {:.2} after {}, {:.2} after {}",
                short.1, short.0.time, long.1, long.0.time
            );
            let help = "see whether the two columns were swapped, or read one of the strips again";
            Diagnostic::warning("readings-contrast-falls", long.2.column.span, message).help(help)
        };
    falls.map(warning).collect()
}
