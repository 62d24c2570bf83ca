//! R8. The volume of each bath, and the volumes of the parts to measure out.

use std::sync::Arc;

use super::evening::Evening;
use super::schedule::MeasuredPart;
use super::words;
use crate::model::{Dilution, Limit, Pulse, Recipe, Solution, Stated, Step, Volume};
use crate::source::{Diagnostic, Span};

/// The volume of the bath of a step, and how it was calculated.
#[derive(Debug, Clone)]
pub(super) struct Filling {
    pub(super) volume: Volume,
    /// The volume that the film needs from the first bottle, or 0 if not stated.
    pub(super) first: Volume,
    pub(super) text: String,
    pub(super) from: Vec<Span>,
}

impl Evening<'_> {
    /// The filling of each step, in order; `None` for a dry step.
    pub(super) fn volumes(&self, errors: &mut Vec<Diagnostic>) -> Vec<Option<Filling>> {
        let steps = &self.recipe.steps;
        let known: Vec<Option<Filling>> = steps.iter().map(|step| self.filling(step, errors)).collect();
        let most = known.iter().flatten().max_by_key(|filling| filling.volume).cloned();
        if most.is_none() && steps.iter().any(Step::is_in_liquid) {
            let message =
                "the volume is not known: no tank is named, and no solution states the volume for a roll";
            errors.push(
                Diagnostic::error("volume-not-known", self.recipe.span, message)
                    .help("name a tank with --tank, or give the volume with --volume 500ml"),
            );
        }
        let most = most.map(|most| Filling {
            first: Volume::ZERO,
            text: "as much as the largest bath of the evening".to_owned(),
            ..most
        });
        let mut too_large = None;
        let all = steps.iter().zip(known).map(|(step, filling)| {
            let filling = filling.or_else(|| most.clone().filter(|_| step.is_in_liquid()))?;
            errors.extend(past_measure(step, filling.volume));
            too_large = too_large.take().or_else(|| self.too_large(step, &filling));
            Some(filling)
        });
        let all = all.collect();
        errors.extend(too_large);
        all
    }

    fn filling(&self, step: &Step, errors: &mut Vec<Diagnostic>) -> Option<Filling> {
        if !step.is_in_liquid() {
            return None;
        }
        let need = self.need(step);
        if let (Some(asked), Some((_, need, span))) = (self.tonight.volume, need)
            && need > asked
        {
            let least = rounded_up(need);
            let (needed, given) = (words::volume(least), words::volume(asked));
            let message = format!("the film needs {needed} of this bath, but --volume is {given}");
            errors.push(
                Diagnostic::error("volume-too-small", bath_span(step), message)
                    .other(span, "what one roll needs")
                    .help(format!("write --volume {}ml or more, or load fewer rolls", least.in_ml(1))),
            );
        }
        let first = need.map_or(Volume::ZERO, |(first, ..)| first);
        let covering = self.covering(step);
        let enough = |need| covering.as_ref().is_some_and(|(covers, ..)| need <= *covers);
        let (exact, text, from) = match need {
            Some((_, need, span)) if !enough(need) => {
                let rolls = words::rolls(self.twelfths());
                (need, format!("what {rolls} of 80 square inches need"), vec![span])
            }
            _ => covering?,
        };
        // A volume that fits into the tank is not rounded up to more than the tank holds.
        let rounded = rounded_up(exact);
        let holds = self.tank().and_then(|tank| tank.holds).map(|holds| *holds);
        let volume = holds.filter(|holds| exact <= *holds && *holds < rounded).unwrap_or(rounded);
        Some(Filling { volume, first, text, from })
    }

    /// The volumes that the film needs from the first bottle and of the whole bath, and the span of `needs`.
    fn need(&self, step: &Step) -> Option<(Volume, Volume, Span)> {
        let dilution = &step.bath.as_ref()?.dilution;
        let Stated { value: needs, span } = step.solution()?.needs?;
        let first = needs.scaled(self.twelfths(), 12);
        Some((first, first.scaled(dilution.whole().into(), dilution.first().into()), span))
    }

    /// The volume of `--volume`, or else the one that covers the reels, with the reason and its spans.
    fn covering(&self, step: &Step) -> Option<(Volume, String, Vec<Span>)> {
        let stated = |volume: Stated<Volume>, text: &str| Some((*volume, text.to_owned(), vec![volume.span]));
        if let Some(asked) = self.tonight.volume {
            return Some((asked, "the volume that was asked for, rounded up".to_owned(), Vec::new()));
        }
        let tank = self.tank()?;
        if let Some(holds) = tank.holds.filter(|_| tank.fill_whole) {
            return stated(holds, "this tank is always filled completely");
        }
        let pulse = step.agitation.as_ref().map(|scheme| &scheme.pulse);
        if let (Some(Pulse::Rotary(_)), Some(rotary)) = (pulse, tank.rotary) {
            return stated(rotary, "the volume of the tank for rotary processing");
        }
        let (mut volume, mut terms, mut from) = (Volume::ZERO, Vec::new(), Vec::new());
        for rolls in &self.tonight.rolls {
            let reels = tank.reels_for(rolls.format)?;
            volume = volume + reels.each.scaled(rolls.count.into(), 1);
            terms.push(format!("{} x {}", rolls.count, words::volume(reels.each)));
            from.push(reels.span);
        }
        Some((volume, format!("what covers the reels: {}", terms.join(" + ")), from))
    }

    fn too_large(&self, step: &Step, filling: &Filling) -> Option<Diagnostic> {
        let tank = self.tank()?;
        let holds = tank.holds.filter(|holds| **holds < filling.volume)?;
        let message = format!(
            "{} would be {}, but '{}' holds {}",
            step.title(),
            words::volume(filling.volume),
            tank.name,
            words::volume(*holds)
        );
        let mut error =
            Diagnostic::error("tank-too-small", bath_span(step), message).other(holds.span, "what it holds");
        for span in &filling.from {
            error = error.other(*span, filling.text.clone());
        }
        if let Some(fewer) = self.fewer(filling, *holds) {
            error = error.help(format!("load {fewer} at a time"));
        }
        error = error.help("take a larger tank");
        let others = self.other_recipes();
        if !others.is_empty() {
            error = error.help(format!("or another recipe for this film: {}", others.join(", ")));
        }
        Some(error)
    }

    /// How many rolls would fit, such as `2 of 120`, if all have one format.
    fn fewer(&self, filling: &Filling, holds: Volume) -> Option<String> {
        let [rolls] = self.tonight.rolls.as_slice() else { return None };
        let each = filling.volume.scaled(1, rolls.count.into());
        let fits =
            (1..rolls.count).rev().find(|count| rounded_up(each.scaled((*count).into(), 1)) <= holds)?;
        Some(format!("{fits} of {}", rolls.format.word()))
    }

    /// The names of other recipes for this film and index.
    fn other_recipes(&self) -> Vec<&str> {
        let index = |recipe: &Recipe| recipe.index.map(|index| *index);
        let same = |recipe: &&Arc<Recipe>| {
            recipe.film.as_ref().is_some_and(|film| Arc::ptr_eq(film, self.film))
                && index(recipe) == index(self.recipe)
                && (recipe.file, &recipe.name) != (self.recipe.file, &self.recipe.name)
        };
        self.shelf.recipes.iter().filter(same).map(|recipe| &*recipe.name).collect()
    }
}

fn bath_span(step: &Step) -> Span {
    step.bath.as_ref().map_or(step.span, |bath| bath.span)
}

/// The error if the bath is more than the limit on a volume.
fn past_measure(step: &Step, volume: Volume) -> Option<Diagnostic> {
    let limit = Limit::VOLUME;
    let (title, words) = (step.title(), words::volume(volume));
    let message = format!("{title} would be {words} or more; {} is at most 1000 l", limit.what);
    let error = Diagnostic::error("volume-past-measure", bath_span(step), message);
    (!limit.holds(volume.fl))
        .then(|| error.help("check the dilution, and the volume that the solution needs for a roll"))
}

/// The volume rounded up to 5 ml, and above a litre to 10 ml.
fn rounded_up(volume: Volume) -> Volume {
    let step = if volume > Volume::from_ml(1000) { 10 } else { 5 };
    volume.rounded_up(Volume::from_ml(step))
}

/// The parts of a volume at a dilution, rounded to what can be measured, and the water for the rest. The first part is
/// at least `first`.
pub fn measured(
    solution: &Solution,
    dilution: &Dilution,
    volume: Volume,
    first: Volume,
) -> (Vec<MeasuredPart>, Volume) {
    let Dilution { parts, water } = dilution;
    let mut left = volume;
    let measured = parts.iter().enumerate().map(|(at, part)| {
        let exact = volume.scaled((*part).into(), dilution.whole().into());
        let rounded = exact.rounded(measurable(exact));
        let volume = if *water == 0 && at + 1 == parts.len() {
            left
        } else if at == 0 && rounded < first {
            exact.rounded_up(measurable(exact)).min(left)
        } else {
            rounded.min(left)
        };
        left = left - volume;
        let what = match solution.parts.get(at) {
            Some(part) => format!("{} {part}", solution.name),
            None => solution.name.clone(),
        };
        MeasuredPart { what, volume }
    });
    (measured.collect(), left)
}

/// The precision of measuring a volume: 0.1 ml under 10 ml, 1 ml under 1 l, 5 ml above.
pub fn measurable(volume: Volume) -> Volume {
    if volume < Volume::from_ml(10) {
        Volume { fl: Volume::ML / 10 }
    } else if volume < Volume::from_ml(1000) {
        Volume::from_ml(1)
    } else {
        Volume::from_ml(5)
    }
}
