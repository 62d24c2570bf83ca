//! R8. How much of each bath to pour, and what of it is measured out.

use std::sync::Arc;

use super::evening::Evening;
use super::schedule::MeasuredPart;
use super::words;
use crate::model::{Dilution, Limit, Pulse, Recipe, Solution, Stated, Step, Volume};
use crate::source::{Diagnostic, Span};

/// The errors of this file.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("volume-past-measure", "a bath of more than 1000 l"),
    ("tank-too-small", "a bath that is more than the tank holds"),
    ("volume-not-known", "nothing that states how much to fill"),
    ("volume-too-small", "a volume that was asked for and does not do for the film"),
];

/// How much of one step's bath to pour, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Filling {
    pub(super) volume: Volume,
    /// What the film needs of the first part; 0 where the solution does not say.
    pub(super) first: Volume,
    pub(super) text: String,
    pub(super) from: Vec<Span>,
}

/// The filling of each step, in order; `None` for a step without a bath.
pub(super) fn volumes(evening: &Evening<'_>, errors: &mut Vec<Diagnostic>) -> Vec<Option<Filling>> {
    let steps = &evening.recipe.steps;
    let known: Vec<Option<Filling>> = steps.iter().map(|step| filling(evening, step, errors)).collect();
    let most = known.iter().flatten().max_by_key(|filling| filling.volume).cloned();
    if most.is_none() && steps.iter().any(Step::is_in_liquid) {
        errors.push(not_known(evening.recipe));
    }
    let most = most.map(|most| Filling {
        first: Volume::ZERO,
        text: "as much as the largest bath of the evening".to_owned(),
        ..most
    });
    let mut too_small = false;
    let mut volumes = Vec::new();
    for (step, filling) in steps.iter().zip(known) {
        let filling = filling.or_else(|| most.clone().filter(|_| step.is_in_liquid()));
        if let Some(filling) = &filling {
            let limit = Limit::Volume.range();
            if !limit.holds(filling.volume.fl) {
                let message = format!(
                    "{} would be {} or more; {} is at most 1000 l",
                    step.title(),
                    words::volume(filling.volume),
                    limit.what
                );
                errors.push(
                    Diagnostic::error("volume-past-measure", bath_span(step), message)
                        .help("check the dilution, and how much a roll needs of the solution"),
                );
            }
            too_small = too_small || !fits(evening, step, filling, errors);
        }
        volumes.push(filling);
    }
    volumes
}

fn bath_span(step: &Step) -> Span {
    step.bath.as_ref().map_or(step.span, |bath| bath.span)
}

fn filling(evening: &Evening<'_>, step: &Step, errors: &mut Vec<Diagnostic>) -> Option<Filling> {
    if !step.is_in_liquid() {
        return None;
    }
    let need = need(evening, step);
    if let (Some(asked), Some(need)) = (evening.conditions.volume, &need)
        && need.bath > asked
    {
        let least = rounded_up(need.bath);
        let message = format!(
            "the film needs {} of this bath, but {} was asked for",
            words::volume(least),
            words::volume(asked)
        );
        errors.push(
            Diagnostic::error("volume-too-small", bath_span(step), message)
                .other(need.span, "what one roll needs")
                .help(format!("ask for --volume {}ml or more, or load fewer rolls", least.in_ml(1))),
        );
    }
    let first = need.as_ref().map_or(Volume::ZERO, |need| need.first);
    let covering = covering(evening, step);
    let needed = need.filter(|need| covering.as_ref().is_none_or(|covering| need.bath > covering.volume));
    let exact = match needed {
        Some(need) => Filling {
            volume: need.bath,
            first,
            text: format!("what {} of 80 square inches need", words::rolls(evening.twelfths())),
            from: vec![need.span],
        },
        None => Filling { first, ..covering? },
    };
    // A volume that just fits is not rounded up beyond what the tank holds.
    let rounded = rounded_up(exact.volume);
    let holds = evening.tank.and_then(|tank| tank.holds).map(|holds| holds.value);
    let volume = holds.filter(|holds| exact.volume <= *holds && *holds < rounded).unwrap_or(rounded);
    Some(Filling { volume, ..exact })
}

/// What tonight's film needs of a bath.
struct Need {
    /// Of the first part: rolls × needs.
    first: Volume,
    /// Of the working solution: that ÷ the first part's share.
    bath: Volume,
    span: Span,
}

fn need(evening: &Evening<'_>, step: &Step) -> Option<Need> {
    let bath = step.bath.as_ref()?;
    let Stated { value: needs, span } = bath.solution.as_ref()?.needs?;
    let first = needs.scaled(evening.twelfths(), 12);
    let whole = first.scaled(i64::from(bath.dilution.whole()), i64::from(bath.dilution.first()));
    Some(Need { first, bath: whole, span })
}

/// The exact volume that covers the loaded reels, or that was asked for.
fn covering(evening: &Evening<'_>, step: &Step) -> Option<Filling> {
    let exact =
        |volume, text: &str, from| Some(Filling { volume, first: Volume::ZERO, text: text.to_owned(), from });
    if let Some(asked) = evening.conditions.volume {
        return exact(asked, "the volume that was asked for, rounded up", Vec::new());
    }
    let tank = evening.tank?;
    if let (true, Some(holds)) = (tank.fill_whole, tank.holds) {
        return exact(holds.value, "this tank is always filled whole", vec![holds.span]);
    }
    let turning =
        step.agitation.as_ref().is_some_and(|scheme| matches!(scheme.value.pulse, Pulse::Rotary(_)));
    if let (true, Some(rotary)) = (turning, tank.rotary) {
        return exact(rotary.value, "what the drum takes on its side", vec![rotary.span]);
    }
    let (mut volume, mut terms, mut from) = (Volume::ZERO, Vec::new(), Vec::new());
    for rolls in &evening.conditions.rolls {
        let reels = tank.reels_for(rolls.format)?;
        volume = volume + reels.each.scaled(i64::from(rolls.count), 1);
        terms.push(format!("{} x {}", rolls.count, words::volume(reels.each)));
        from.push(reels.span);
    }
    exact(volume, &format!("what covers the reels: {}", terms.join(" + ")), from)
}

/// Up to 5 ml; above a litre, to 10 ml.
fn rounded_up(volume: Volume) -> Volume {
    let step = if volume > Volume::from_ml(1000) { 10 } else { 5 };
    volume.rounded_up(Volume::from_ml(step))
}

/// Whether the tank holds the bath; an error if not.
fn fits(evening: &Evening<'_>, step: &Step, filling: &Filling, errors: &mut Vec<Diagnostic>) -> bool {
    let Some((tank, holds)) = evening.tank.and_then(|tank| Some((tank, tank.holds?))) else { return true };
    if filling.volume <= holds.value {
        return true;
    }
    let message = format!(
        "{} would be {}, and '{}' holds {}",
        step.title(),
        words::volume(filling.volume),
        tank.name,
        words::volume(holds.value)
    );
    let mut error =
        Diagnostic::error("tank-too-small", bath_span(step), message).other(holds.span, "what it holds");
    for span in &filling.from {
        error = error.other(*span, filling.text.clone());
    }
    if let Some(fewer) = fewer(evening, filling, holds.value) {
        error = error.help(format!("load {fewer} at a time"));
    }
    error = error.help("take a larger tank");
    let others = others(evening);
    if !others.is_empty() {
        error = error.help(format!("or another recipe for this film: {}", others.join(", ")));
    }
    errors.push(error);
    false
}

/// How many rolls of the one format would fit, if any.
fn fewer(evening: &Evening<'_>, filling: &Filling, holds: Volume) -> Option<String> {
    let [rolls] = evening.conditions.rolls.as_slice() else { return None };
    let each = filling.volume.scaled(1, i64::from(rolls.count));
    let fits = (1..rolls.count).rev().find(|count| rounded_up(each.scaled(i64::from(*count), 1)) <= holds)?;
    Some(format!("{fits} of {}", rolls.format.word()))
}

/// Other recipes on the shelf for this film and index.
fn others(evening: &Evening<'_>) -> Vec<String> {
    let own = evening.recipe;
    let same = |recipe: &&Arc<Recipe>| {
        let film = recipe.film.as_ref().is_some_and(|film| Arc::ptr_eq(&film.value, evening.film));
        let index = recipe.index.map(|index| index.value) == own.index.map(|index| index.value);
        film && index && (recipe.file, &recipe.name) != (own.file, &own.name)
    };
    evening.shelf.recipes.iter().filter(same).map(|recipe| recipe.name.clone()).collect()
}

fn not_known(recipe: &Recipe) -> Diagnostic {
    Diagnostic::error(
        "volume-not-known",
        recipe.span,
        "the volume is not known: there is no tank, and no solution says what film needs",
    )
    .help("name a tank with --tank, or give the volume with --volume 500ml")
}

/// The parts of a volume at a dilution, rounded to what can be measured, and the water that makes up the rest.
/// Of the first part there is at least `first`.
pub fn measured(
    solution: &Solution,
    dilution: &Dilution,
    volume: Volume,
    first: Volume,
) -> (Vec<MeasuredPart>, Volume) {
    let Dilution { parts, water } = dilution;
    let whole = i64::from(dilution.whole());
    let mut measured: Vec<MeasuredPart> = Vec::new();
    let mut left = volume;
    for (at, part) in parts.iter().enumerate() {
        let exact = volume.scaled(i64::from(*part), whole);
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
        measured.push(MeasuredPart { what, volume });
    }
    (measured, left)
}

/// The measurable step: 0.1 ml under 10 ml, 1 ml under 1 l, 5 ml above.
pub fn measurable(volume: Volume) -> Volume {
    if volume < Volume::from_ml(10) {
        Volume { fl: Volume::ML / 10 }
    } else if volume < Volume::from_ml(1000) {
        Volume::from_ml(1)
    } else {
        Volume::from_ml(5)
    }
}
