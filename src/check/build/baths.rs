//! Builds the baths of steps: their solution, their name, what is added to them, and used baths of earlier steps.

use super::super::error;
use super::super::merge::{MergedStep, StepId};
use super::Builder;
use super::partial::Unknown;
use super::recipes::needs_bath;
use crate::model::{Addition, Bath, Dilution, Measure, Step, Use, Volume};
use crate::source::{Diagnostic, clip};
use crate::vocabulary::{Declared, Lines as _, Matched, say};

/// First: all steps of the recipe, with their inherited statements. Second: the steps before the current one that are
/// already built, each with its [`Unknown`] if it has errors.
pub(super) type Earlier<'a> = (&'a [MergedStep<'a>], &'a [(Step, Option<Unknown>)]);

impl Builder<'_> {
    pub(super) fn step_bath(&mut self, row: Matched<'_, say::In>, earlier: Earlier<'_>) -> Option<Bath> {
        if row.has(say::In::used) {
            return self.used_bath(row, earlier);
        }
        let becomes = row.becomes().map(str::to_owned);
        let reuse = row.fate().or(becomes.is_some().then_some(Use::Reused));
        let bath = Bath {
            solution: None,
            part: row.part().map(str::to_owned),
            dilution: Dilution::stock(),
            name: row.bath().map(str::to_owned),
            reuse,
            becomes,
            added: None,
            used: None,
            span: row.span,
        };
        let Some(name) = row.said(say::In::solution) else {
            if reuse.is_some_and(Use::is_kept) {
                self.report(
                    error("water-is-kept", row.span, "plain water is not reused", "write: in water")
                        .choice(row.span, "in water"),
                );
            }
            return Some(Bath { name: None, reuse: None, becomes: None, ..bath });
        };
        let part = row.said(say::In::part);
        let (solution, dilution) = self.diluted(name, part, row.dilution(), row.place(say::In::dilution))?;
        Some(Bath { solution: Some(solution), dilution, ..bath })
    }

    /// Builds the bath of a step that takes over the used bath of an earlier step, as in `in used develop`; `None`
    /// after an error.
    fn used_bath(&mut self, row: Matched<'_, say::In>, (all, built): Earlier<'_>) -> Option<Bath> {
        let id = StepId { kind: row.by()?, name: row.by_name() };
        if row.has(say::In::bath) || row.becomes().is_some() || row.fate().is_some_and(Use::is_kept) {
            let what = match row.becomes() {
                _ if row.fate().is_some_and(Use::is_kept) => "kept",
                Some(_) => "put in the place of another bath",
                None => "given a name",
            };
            let message = format!("a used bath is poured away after this step, so it cannot be {what}");
            let line = format!("in used {id}");
            let fault = error("used-bath-is-kept", row.span, message, format!("write: {line}"));
            self.report(fault.choice(row.span, line));
            return None;
        }
        let before = all.iter().take(built.len());
        let fault = |message: String, help: &str| error("no-used-bath", row.span, message, help);
        let Some(at) = before.map(|step| step.id).position(|own| own == id) else {
            let named = all.iter().zip(built).filter(|(_, (step, _))| step.solution().is_some());
            let named: Vec<String> = named.map(|(step, _)| step.id.to_string()).collect();
            let help = match named.as_slice() {
                [] => {
                    format!("add the step {id} above this one, or name a solution, such as: in my-toner 1+9")
                }
                _ => format!("the steps in a solution above this one: {}", named.join(", ")),
            };
            self.report(fault(format!("there is no step {id} above this one"), &help));
            return None;
        };
        // An error in the bath of the earlier step is already reported.
        let (step, _) = built.get(at).filter(|(_, unknown)| unknown.is_none_or(|unknown| !unknown.bath))?;
        let Some((bath, solution)) = step.bath.as_ref().zip(step.solution()) else {
            self.report(fault(format!("{id} is in no solution"), "name a step that is in a solution"));
            return None;
        };
        if bath.reuse.is_some_and(Use::is_kept) {
            let message =
                format!("'used' takes over a bath that would be thrown away, and {id} keeps its bath");
            let again = format!("to use the kept bath here too, repeat the 'in' line of {id}");
            let kept = fault(message, &again).other(bath.span, "kept here");
            let kept_by = bath.reuse.map_or("", Use::word);
            self.report(kept.help(format!(
                "to throw the bath away after this step, write one-shot in place of {kept_by} in the line of {id}"
            )));
            return None;
        }
        Some(Bath {
            solution: Some(solution.clone()),
            reuse: Some(Use::OneShot),
            used: bath.used.or(Some(at)),
            span: row.span,
            ..bath.clone()
        })
    }

    /// Reports a circle of `becomes` clauses, in which bath `a` becomes `b` and `b` becomes `a`, directly or through
    /// other baths.
    fn in_a_circle(&mut self, baths: &[&Bath]) {
        let comes_back = |bath: &&&Bath| {
            let mut next = std::iter::successors(taken(baths, bath), |other| taken(baths, other));
            // All baths that one `swap` line changes have the span of that line, so the names are compared, too.
            let is_it = |other: &&Bath| (other.span, &other.name) == (bath.span, &bath.name);
            next.by_ref().take(baths.len()).any(|other| is_it(&other) && other.name != bath.becomes)
        };
        let Some(bath) = baths.iter().find(comes_back) else { return };
        let (own, other) =
            (bath.name.as_deref().unwrap_or_default(), bath.becomes.as_deref().unwrap_or_default());
        let next = taken(baths, bath);
        let message = format!(
            "bath '{own}' becomes '{other}', and '{other}' {}becomes '{own}'",
            if next.is_none_or(|next| next.becomes == bath.name) { "" } else { "at last " }
        );
        let help = format!(
            "the film enters '{own}' first, so '{own}' replaces no other bath: write reused instead of becomes {other}"
        );
        let fault = error("baths-in-a-circle", bath.span, message, help);
        self.report(match next.filter(|next| next.span != bath.span) {
            Some(next) => fault.other(next.span, format!("the bath '{other}'")),
            None => fault,
        });
    }

    /// Builds what a `with` line adds to the bath of a step, as in `with 20 ml/l brew`; `None` after an error.
    pub(super) fn added(
        &mut self,
        row: Matched<'_, say::With>,
        step: &MergedStep<'_>,
        bath: Option<&Bath>,
    ) -> Option<Addition> {
        let (amount, name) = row.amount().zip(row.said(say::With::solution))?;
        let solution = self.find(Declared::Solution, name, |it| &it.solutions)?;
        let fault = |name, message: String, help: String| Some(error(name, row.span, message, help));
        let own = bath.filter(|bath| bath.solution.is_some() && bath.used.is_none());
        let wrong = match (amount, own) {
            // No error is added here for a missing bath, which `missing-bath` reports, or for an `in` line that could
            // not be read.
            (_, None) if bath.is_none() && (needs_bath(step.id.kind) || step.one::<say::In>().is_some()) => {
                None
            }
            (_, None) => fault(
                "addition-to-no-solution",
                format!("the step {} has no solution of its own, so nothing can be added to its bath", step.id),
                "name a solution after 'in', or remove this line; if the line is inherited, write: without with".to_owned(),
            ),
            (_, Some(own)) if own.reuse.is_some_and(Use::is_kept) => fault(
                "addition-to-kept-bath",
                format!("the bath of {} is kept, so what is added would stay in it", step.id),
                "to throw the bath away after the session, end its 'in' line with one-shot".to_owned(),
            )
            .map(|fault| fault.help("or declare the mixture of both as a solution, and use that one after 'in'"))
            .map(|fault| fault.other(own.span, "kept here")),
            _ if solution.bottles() > 1 => fault(
                "addition-in-bottles",
                format!("an addition is one liquid, and '{}' comes in {} bottles", solution.name, solution.bottles()),
                format!(
                    "declare what the bottles make together as a solution, and write: with 20 ml/l {}-mixed",
                    clip(name.0)
                ),
            )
            .map(|fault| fault.other(solution.span, "the solution")),
            (Measure::VolumePerLitre(per_litre), _) if per_litre.fl < Volume::LITRE => {
                let dilution = diluted_to_a_litre(per_litre);
                return Some(Addition { solution, per_litre, dilution, span: row.span });
            }
            (Measure::VolumePerLitre(_), _) => fault(
                "out-of-range",
                "too much: an addition is less than 1000 ml in each litre of the bath".to_owned(),
                format!("write the millilitres for each litre of the bath, such as: with 20 ml/l {}", clip(name.0)),
            ),
            _ => fault(
                "addition-by-weight",
                "an addition is measured by volume, not by weight".to_owned(),
                format!(
                    "write the millilitres for each litre of the bath, such as: with 20 ml/l {}",
                    clip(name.0)
                ),
            ),
        };
        self.faults.extend(wrong);
        None
    }

    /// Reports each `becomes NAME` for which no other step has a bath NAME with the same contents, and circles of such
    /// clauses.
    pub(super) fn becomes_another(&mut self, steps: &[(Step, Option<Unknown>)]) {
        // If the bath of any step could not be read, nothing is reported: that bath may be the one that a clause names.
        if steps.iter().any(|(_, unknown)| unknown.is_some_and(|unknown| unknown.bath)) {
            return;
        }
        let baths: Vec<&Bath> = steps.iter().filter_map(|(step, _)| step.bath.as_ref()).collect();
        for bath in &baths {
            let Some(name) = &bath.becomes else { continue };
            let is_it = |other: &&&Bath| {
                other.has_contents_of(bath) && other.name.as_ref() == Some(name) && other.name != bath.name
            };
            if !baths.iter().any(|other| is_it(&other)) {
                self.report(no_such_bath(name, bath));
            }
        }
        self.in_a_circle(&baths);
    }
}

/// The bath in `baths` that has the name in `bath.becomes` and the same contents as `bath`; `None` if there is none.
fn taken<'a>(baths: &[&'a Bath], bath: &Bath) -> Option<&'a Bath> {
    let name = bath.becomes.as_ref()?;
    let is_it = |other: &&&Bath| other.has_contents_of(bath) && other.name.as_ref() == Some(name);
    baths.iter().find(is_it).copied()
}

/// The dilution in which each litre of bath has the volume `per_litre` of a solution, and the rest is water: `1+49` for
/// 20 ml a litre.
fn diluted_to_a_litre(per_litre: Volume) -> Dilution {
    let micro = |volume: Volume| u32::try_from(volume.fl / (Volume::ML / 1000)).unwrap_or(u32::MAX);
    let part = micro(per_litre).max(1);
    let water = micro(Volume::from_ml(1000)).saturating_sub(part);
    Dilution { parts: vec![part], water }.reduced()
}

fn no_such_bath(name: &str, bath: &Bath) -> Diagnostic {
    let same = if bath.added.is_some() { " and the same addition" } else { "" };
    let message = format!(
        "'becomes {name}' needs another step with a bath '{name}' of the same solution and dilution{same}"
    );
    let help = format!("name that bath in its step, after the dilution: bath {name}");
    error("no-such-bath", bath.span, message, help)
        .help(format!("or, if the recipe has no such step, write reused in place of: becomes {name}"))
}
