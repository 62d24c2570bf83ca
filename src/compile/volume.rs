//! R8. The volume of each bath, and the volumes of the parts to measure out.

use super::bath::MeasuredPart;
use super::evening::Evening;
use super::schedule::Notices;
use super::words;
use crate::model::{Dilution, Format, Limit, Pulse, Solution, Stated, Step, StepKind, Volume, gcd};
use crate::source::{Diagnostic, Level, Span};

#[derive(Debug, Clone)]
pub(super) struct Filling {
    pub(super) volume: Volume,
    /// How much the film needs from the first bottle of the solution; 0 if not stated.
    pub(super) first: Volume,
    pub(super) text: String,
    pub(super) from: Vec<Span>,
}

impl Evening<'_> {
    /// The volume of the bath of each step, in the order of the steps; `None` for a dry step.
    pub(super) fn volumes(
        &self,
        errors: &mut Vec<Diagnostic>,
        notices: &mut Notices,
    ) -> Vec<Option<Filling>> {
        let steps = &self.recipe.steps;
        errors.extend(self.uncovered());
        let known: Vec<Option<Filling>> = steps.iter().map(|step| self.filling(step, notices)).collect();
        let in_tank = steps.iter().zip(&known).filter(|(step, _)| step.is_in_liquid());
        let most =
            in_tank.filter_map(|(_, filling)| filling.as_ref()).max_by_key(|filling| filling.volume).cloned();
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
        let (mut past, mut too_large) = (None, None);
        let mut all: Vec<Option<Filling>> = Vec::new();
        for (step, filling) in steps.iter().zip(known) {
            errors.extend((step.kind == StepKind::Coat && filling.is_none()).then(|| no_coat(step)));
            let used = step.bath.as_ref().and_then(|bath| all.get(bath.used?)?.clone());
            let used = used.map(|used| Filling { text: "all of the used bath".to_owned(), ..used });
            let filling = used.or(filling).or_else(|| most.clone().filter(|_| step.is_in_liquid()));
            if let Some(filling) = &filling {
                past = past.take().or_else(|| self.past_measure(step, filling));
                too_large = too_large.take().or_else(|| self.too_large(step, filling));
            }
            all.push(filling);
        }
        errors.extend(past);
        errors.extend(too_large);
        all
    }

    fn filling(&self, step: &Step, notices: &mut Notices) -> Option<Filling> {
        if step.kind == StepKind::Coat {
            return self.coating(step);
        }
        if !step.is_in_liquid() {
            return None;
        }
        let need = self.need(step);
        let mut first = need.map_or(Volume::ZERO, |(first, ..)| first);
        let covering = self.covering(step);
        let enough = |need| covering.as_ref().is_some_and(|(covers, ..)| need <= *covers);
        let holds = self.tank().and_then(|tank| tank.holds);
        let (exact, text, from) = match need {
            Some((_, need, span)) if !enough(need) => {
                let most = match (self.tonight.volume, holds) {
                    (Some(asked), _) => Some((asked, "the volume that was asked for", Vec::new())),
                    (None, Some(holds)) if *holds < need => {
                        Some((*holds, "what the tank holds, less than the load needs", vec![holds.span]))
                    }
                    _ => None,
                };
                match most {
                    Some((most, text, from)) => {
                        notices.starved(self.starved(step, most));
                        first = Volume::ZERO;
                        (most, text.to_owned(), from)
                    }
                    None => {
                        let rolls = words::rolls(self.area());
                        (need, format!("what is needed for {rolls} of 80 square inches"), vec![span])
                    }
                }
            }
            _ => covering?,
        };
        // A volume that fits into the tank is not rounded up to more than the tank holds.
        let rounded = rounded_up(exact);
        let holds = holds.map(|holds| *holds);
        let volume = holds.filter(|holds| exact <= *holds && *holds < rounded).unwrap_or(rounded);
        Some(Filling { volume, first, text, from })
    }

    /// The volume of the coat to brush on: what the paper needs, rounded up to half a millilitre. The tank does not
    /// matter.
    fn coating(&self, step: &Step) -> Option<Filling> {
        let (first, need, span) = self.need(step)?;
        let half = Volume { fl: Volume::ML / 2 };
        let rolls = words::rolls(self.area());
        let text = format!("what is needed to coat {rolls} of 80 square inches, in steps of 0.5 ml");
        Some(Filling { volume: need.rounded_up(half), first, text, from: vec![span] })
    }

    /// How much tonight's film needs from the first bottle, the volume of bath that contains this much, and the span of
    /// the statement `needs`; `None` without this statement.
    fn need(&self, step: &Step) -> Option<(Volume, Volume, Span)> {
        let bath = step.bath.as_ref().filter(|bath| bath.bottle().is_none_or(|bottle| bottle == 0))?;
        let dilution = &bath.dilution;
        let Stated { value: needs, span } = step.solution()?.needs?;
        let (film, first, whole) = (self.area(), i64::from(dilution.first()), i64::from(dilution.whole()));
        // Both volumes are calculated from `needs`, so that rounding the first does not enlarge the second.
        let shared = gcd(film, Format::ROLL).max(1);
        let (film, roll) = (film / shared, Format::ROLL / shared);
        let whole =
            bath.whole_for(needs.scaled(film.saturating_mul(whole), first.saturating_mul(roll).max(1)));
        Some((needs.scaled(film, roll), whole, span))
    }

    /// The notice about a bath with too little solution for the film: advice if the bath has at least half of what the
    /// film needs, else a warning (common practice, no source).
    fn starved(&self, step: &Step, volume: Volume) -> Option<(Level, String)> {
        let bath = step.bath.as_ref()?;
        let dilution = &bath.dilution;
        let solution = step.solution()?;
        let needs = solution.needs?;
        let had = bath.own_in(volume).scaled(dilution.first().into(), dilution.whole().into());
        let each = had.scaled(Format::ROLL, self.area().max(1));
        let says = if solution.formulas.is_empty() { "its label says" } else { "its 'needs' says" };
        let text = format!(
            "{}: {} ml of {} a roll; {says} {}",
            step.title(),
            each.in_ml(1),
            solution.name,
            needs.in_ml(1)
        );
        let is_half = each.fl.saturating_mul(2) >= needs.fl;
        Some((if is_half { Level::Advice } else { Level::Warning }, text))
    }

    fn uncovered(&self) -> Option<Diagnostic> {
        let asked = self.tonight.volume?;
        let steps = self.recipe.steps.iter().filter(|step| step.is_in_liquid());
        let covers = steps.filter_map(|step| Some((step, self.covers(step)?)));
        let (step, (least, text, from)) = covers.max_by_key(|(_, (volume, ..))| *volume)?;
        if least <= asked {
            return None;
        }
        let message = format!(
            "--volume is {}, but {} cover the reels in {}",
            words::volume(asked),
            words::volume(least),
            step.title()
        );
        let error = Diagnostic::error("volume-too-small", bath_span(step), message);
        let error = from.into_iter().fold(error, |error, span| error.other(span, text.clone()));
        let least = rounded_up(least).in_ml(1);
        Some(error.help(format!("write --volume {least}ml or more, or load fewer rolls")))
    }

    /// The volume of `--volume`, else a volume that covers the reels; the reason in words; and the spans that state the
    /// volume.
    fn covering(&self, step: &Step) -> Option<(Volume, String, Vec<Span>)> {
        if let Some(asked) = self.tonight.volume {
            return Some((asked, "the volume that was asked for, rounded up".to_owned(), Vec::new()));
        }
        let tank = self.tank()?;
        if let Some(holds) = tank.holds.filter(|_| tank.transfer.is_some()) {
            return Some((*holds, "the baths stand, and each fills its tank".to_owned(), vec![holds.span]));
        }
        if let Some(holds) = tank.holds.filter(|_| tank.fill_whole) {
            return Some((*holds, "this tank is always filled completely".to_owned(), vec![holds.span]));
        }
        let covers = self.covers(step)?;
        let is_rotary = step.agitation.as_ref().is_some_and(|one| matches!(one.pulse, Pulse::Rotary(_)));
        let runs = step.duration.flow().is_some() && !is_rotary;
        match tank.holds.filter(|holds| runs && covers.0 <= **holds) {
            Some(holds) => {
                Some((*holds, "running water fills the tank to its rim".to_owned(), vec![holds.span]))
            }
            None => Some(covers),
        }
    }

    /// The least volume that covers the film in the tank; the reason in words; and the spans that state the volume.
    fn covers(&self, step: &Step) -> Option<(Volume, String, Vec<Span>)> {
        let stated = |volume: Stated<Volume>, text: &str| Some((*volume, text.to_owned(), vec![volume.span]));
        let tank = self.tank()?;
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

    fn past_measure(&self, step: &Step, filling: &Filling) -> Option<Diagnostic> {
        if Limit::VOLUME.holds(filling.volume.fl) {
            return None;
        }
        let message = format!("{} would be more than 1000 l, the most that a volume can be", step.title());
        let error = Diagnostic::error("volume-past-measure", bath_span(step), message);
        let error = filling.from.iter().fold(error, |error, span| error.other(*span, filling.text.clone()));
        let needs = step.solution().and_then(|solution| solution.needs);
        let needs = needs.filter(|needs| filling.from.contains(&needs.span));
        Some(error.help(match step.bath.as_ref().zip(needs) {
            Some((bath, needs)) => {
                let needs = words::volume(*needs);
                format!("check the dilution, {}, and what a roll needs undiluted, {needs}", bath.dilution)
            }
            None => "check the number of rolls, and the volume for each".to_owned(),
        }))
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
        let mut error = Diagnostic::error("tank-too-small", bath_span(step), message)
            .other(holds.span, "what the tank holds");
        for span in &filling.from {
            error = error.other(*span, filling.text.clone());
        }
        let holds = holds.in_ml(1);
        Some(error.help(format!("write --volume {holds}ml or less, or take a larger tank")))
    }
}

fn no_coat(step: &Step) -> Diagnostic {
    let name = step.solution().map_or("the solution", |solution| &solution.name);
    let message = format!("how much of '{name}' coats a sheet is not stated");
    Diagnostic::error("coat-not-known", bath_span(step), message).help(format!(
        "measure it on a sheet of 8x10in, which counts as one roll, and add to '{name}' a line such as: needs 2 ml per \
         roll"
    ))
}

fn bath_span(step: &Step) -> Span {
    step.bath.as_ref().map_or(step.span, |bath| bath.span)
}

/// The volume rounded up to a multiple of 5 ml. A volume above one litre is rounded up to a multiple of 10 ml.
fn rounded_up(volume: Volume) -> Volume {
    let step = if volume > Volume::from_ml(1000) { 10 } else { 5 };
    volume.rounded_up(Volume::from_ml(step))
}

/// The volumes of the parts of a bath, rounded to what can be measured, and the volume of water for the rest. The first
/// part is not rounded to less than `first`. If only one of several bottles is diluted, `only` is its index.
pub fn measured(
    solution: &Solution,
    only: Option<usize>,
    dilution: &Dilution,
    volume: Volume,
    first: Volume,
) -> (Vec<MeasuredPart>, Volume) {
    measured_to(measurable, solution, (only, dilution), (volume, first))
}

/// Like [`measured`], but rounded to the given precision.
pub(super) fn measured_to(
    precision: fn(Volume) -> Volume,
    solution: &Solution,
    (only, dilution): (Option<usize>, &Dilution),
    (volume, first): (Volume, Volume),
) -> (Vec<MeasuredPart>, Volume) {
    let Dilution { parts, water } = dilution;
    let mut left = volume;
    let measured = parts.iter().enumerate().map(|(at, part)| {
        let exact = volume.scaled((*part).into(), dilution.whole().into());
        let rounded = exact.rounded(precision(exact));
        let volume = if *water == 0 && at + 1 == parts.len() {
            left
        } else if at == 0 && rounded < first {
            exact.rounded_up(precision(exact)).min(left)
        } else {
            rounded.min(left)
        };
        left = left - volume;
        let what = match solution.parts.get(only.unwrap_or(at)) {
            Some(part) => format!("{} {part}", solution.name),
            None => solution.name.clone(),
        };
        MeasuredPart { what, volume }
    });
    (measured.collect(), left)
}

/// The precision of measuring a volume that is brushed on: 0.05 ml under 1 ml, measured with a syringe (common
/// practice, no source).
pub(super) fn brushable(volume: Volume) -> Volume {
    if volume < Volume::from_ml(1) { Volume { fl: Volume::ML / 20 } } else { measurable(volume) }
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
