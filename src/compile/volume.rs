//! R8. How much of each bath, and what of it is measured out.

use super::evening::Evening;
use super::schedule::MeasuredPart;
use super::words;
use crate::model::{Bath, Dilution, Limit, Pulse, Recipe, Solution, Step, Volume};
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("volume-past-measure", "a bath of more than 1000 l"),
    ("tank-too-small", "a bath that is more than the tank holds"),
    ("volume-not-known", "nothing that tells how much to fill"),
    ("volume-too-small", "a volume that was asked for and does not do for the film"),
];

/// How much of one step's bath, and how that came about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Filling {
    pub(super) volume: Volume,
    /// What the film needs of the first part; none where the solution does not say.
    pub(super) first: Volume,
    pub(super) text: String,
    pub(super) from: Vec<Span>,
}

/// The filling of each step, in order; `None` for a step without a bath.
pub(super) fn volumes(evening: &Evening<'_>, faults: &mut Vec<Diagnostic>) -> Vec<Option<Filling>> {
    let steps = &evening.recipe.steps;
    let known: Vec<Option<Filling>> = steps.iter().map(|step| filling(evening, step, faults)).collect();
    let most = known.iter().flatten().max_by_key(|filling| filling.volume).cloned();
    let (mut told, mut too_small) = (false, false);
    let mut volumes = Vec::new();
    for (step, filling) in steps.iter().zip(known) {
        let filling = match (filling, &most) {
            (Some(filling), _) => Some(filling),
            (None, _) if !in_bath(step) => None,
            (None, Some(most)) => Some(Filling {
                first: Volume::ZERO,
                text: "as much as the largest bath of the evening".to_owned(),
                ..most.clone()
            }),
            (None, None) => {
                if !told {
                    faults.push(not_known(evening.recipe));
                }
                told = true;
                None
            }
        };
        let most = Limit::Volume.range();
        if let Some(filling) = filling.as_ref().filter(|filling| !most.holds(filling.volume.fl)) {
            let span = step.bath.as_ref().map_or(step.span, |bath| bath.span);
            let message = format!(
                "{} would be {} or more; {} is at most 1000 l",
                step.title(),
                words::volume(filling.volume),
                most.what
            );
            faults.push(
                Diagnostic::error("volume-past-measure", span, message)
                    .help("look whether the dilution, or what the solution needs, is a slip of the pen"),
            );
        }
        if let Some(filling) = filling.as_ref().filter(|_| !too_small) {
            too_small = holds(evening, step, filling, faults);
        }
        volumes.push(filling);
    }
    volumes
}

/// Whether a bath or water stands in the tank.
pub(super) fn in_bath(step: &Step) -> bool {
    step.kind.is_wet() || step.bath.is_some()
}

fn filling(evening: &Evening<'_>, step: &Step, faults: &mut Vec<Diagnostic>) -> Option<Filling> {
    if !in_bath(step) {
        return None;
    }
    let needs = need(evening, step.bath.as_ref());
    let covers = cover(evening, step);
    if let (Some(asked), Some((need, span))) = (evening.conditions.volume, needs)
        && need > asked
    {
        let message = format!(
            "the film needs {} of this bath, and {} was asked for",
            words::volume(rounded_up(need)),
            words::volume(asked)
        );
        faults.push(
            Diagnostic::error(
                "volume-too-small",
                step.bath.as_ref().map_or(step.span, |bath| bath.span),
                message,
            )
            .other(span, "what one roll needs")
            .help(format!("ask for --volume {}ml or more, or load fewer rolls", rounded_up(need).in_ml(1))),
        );
    }
    let first = step.bath.as_ref().and_then(|bath| first_need(evening, bath)).unwrap_or(Volume::ZERO);
    let (exact, text, from) = match (needs, covers) {
        (Some((need, span)), covers) if covers.as_ref().is_none_or(|(cover, ..)| need > *cover) => {
            let text = format!("what {} of 80 square inches need", words::rolls(evening.twelfths()));
            (need, text, vec![span])
        }
        (_, covers) => covers?,
    };
    // What just fits is not rounded up past the tank's edge.
    let rounded = rounded_up(exact);
    let holds = evening.tank.and_then(|tank| tank.holds).map(|holds| holds.value);
    let volume = holds.filter(|holds| exact <= *holds && *holds < rounded).unwrap_or(rounded);
    Some(Filling { volume, first, text, from })
}

/// What the film needs of the first part: rolls × needs.
fn first_need(evening: &Evening<'_>, bath: &Bath) -> Option<Volume> {
    let needs = bath.solution.as_ref()?.needs?;
    Some(needs.value.scaled(evening.twelfths(), 12))
}

/// What the film needs of this bath, as working solution: rolls × needs ÷ the first part's share.
fn need(evening: &Evening<'_>, bath: Option<&Bath>) -> Option<(Volume, Span)> {
    let bath = bath?;
    let needs = bath.solution.as_ref()?.needs?;
    let parts = i64::from(bath.dilution.whole());
    let each = first_need(evening, bath)?;
    Some((each.scaled(parts, i64::from(bath.dilution.first())), needs.span))
}

/// What covers the loaded reels, or what was asked for.
fn cover(evening: &Evening<'_>, step: &Step) -> Option<(Volume, String, Vec<Span>)> {
    if let Some(asked) = evening.conditions.volume {
        return Some((asked, "the volume that was asked for, rounded up".to_owned(), Vec::new()));
    }
    let tank = evening.tank?;
    if let (true, Some(holds)) = (tank.fill_whole, tank.holds) {
        return Some((holds.value, "this tank is always filled whole".to_owned(), vec![holds.span]));
    }
    let turning =
        step.agitation.as_ref().is_some_and(|scheme| matches!(scheme.value.pulse, Pulse::Rotary(_)));
    if let (true, Some(rotary)) = (turning, tank.rotary) {
        return Some((rotary.value, "what the drum takes on its side".to_owned(), vec![rotary.span]));
    }
    let (mut volume, mut told, mut from) = (Volume::ZERO, Vec::new(), Vec::new());
    for rolls in &evening.conditions.rolls {
        let reels = tank.reels_for(rolls.format)?;
        volume = volume + reels.each.scaled(i64::from(rolls.count), 1);
        told.push(format!("{} x {}", rolls.count, words::volume(reels.each)));
        from.push(reels.span);
    }
    Some((volume, format!("what covers the reels: {}", told.join(" + ")), from))
}

/// Up to 5 ml; over a litre, to 10 ml.
fn rounded_up(volume: Volume) -> Volume {
    let step = if volume > Volume::from_ml(1000) { 10 } else { 5 };
    volume.rounded_up(Volume::from_ml(step))
}

/// Tells of a bath that is more than the tank holds; whether it is.
fn holds(evening: &Evening<'_>, step: &Step, filling: &Filling, faults: &mut Vec<Diagnostic>) -> bool {
    let Some((tank, holds)) = evening.tank.and_then(|tank| Some((tank, tank.holds?))) else { return false };
    if filling.volume <= holds.value {
        return false;
    }
    let message = format!(
        "{} would be {}, and '{}' holds {}",
        step.title(),
        words::volume(filling.volume),
        tank.name,
        words::volume(holds.value)
    );
    let mut fault =
        Diagnostic::error("tank-too-small", step.bath.as_ref().map_or(step.span, |bath| bath.span), message)
            .other(holds.span, "what it holds");
    for span in &filling.from {
        fault = fault.other(*span, filling.text.clone());
    }
    if let Some(fewer) = fewer(evening, filling, holds.value) {
        fault = fault.help(format!("load {fewer} at a time"));
    }
    fault = fault.help("take a larger tank");
    let others = others(evening);
    if !others.is_empty() {
        fault = fault.help(format!("or another recipe for this film: {}", others.join(", ")));
    }
    faults.push(fault);
    true
}

/// How many rolls of the one format would do, if any.
fn fewer(evening: &Evening<'_>, filling: &Filling, holds: Volume) -> Option<String> {
    let [rolls] = evening.conditions.rolls.as_slice() else { return None };
    let each = filling.volume.scaled(1, i64::from(rolls.count));
    let fits = (1..rolls.count).rev().find(|count| rounded_up(each.scaled(i64::from(*count), 1)) <= holds)?;
    Some(format!("{fits} of {}", rolls.format.word()))
}

/// Other recipes on the shelf for this film and index.
fn others(evening: &Evening<'_>) -> Vec<String> {
    let own = evening.recipe;
    let same = |recipe: &&std::sync::Arc<Recipe>| {
        let film = recipe.film.as_ref().is_some_and(|film| std::sync::Arc::ptr_eq(&film.value, evening.film));
        let index = recipe.index.map(|index| index.value) == own.index.map(|index| index.value);
        film && index && (recipe.file, &recipe.name) != (own.file, &own.name)
    };
    evening.shelf.recipes.iter().filter(same).map(|recipe| recipe.name.clone()).collect()
}

fn not_known(recipe: &Recipe) -> Diagnostic {
    Diagnostic::error(
        "volume-not-known",
        recipe.span,
        "nothing tells how much to fill: no tank, and no solution says what film needs",
    )
    .help("name a tank with --tank, or give the volume with --volume 500ml")
}

/// The parts of a bath, to what a person measures: they and the water always add up.
pub(super) fn parts(bath: &Bath, filling: &Filling) -> (Vec<MeasuredPart>, Volume) {
    let Some(solution) = &bath.solution else { return (Vec::new(), filling.volume) };
    measured(solution, &bath.dilution, filling.volume, filling.first)
}

/// So much of a solution let down so, to what a person measures, and the water: together they are that
/// volume. Of the first part there is no less than `first`.
#[must_use]
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
        let last = *water == 0 && at + 1 == parts.len();
        let measured_out = exact.rounded(measurable(exact));
        let volume = if last {
            left
        } else if at == 0 && measured_out < first {
            exact.rounded_up(measurable(exact))
        } else {
            measured_out
        };
        let volume = volume.min(left);
        left = left - volume;
        measured.push(MeasuredPart { what: bottle(solution, at), volume });
    }
    (measured, left)
}

/// What a person can measure: 0.1 ml under 10 ml, 1 ml under 1 l, 5 ml above.
#[must_use]
pub fn measurable(volume: Volume) -> Volume {
    if volume < Volume::from_ml(10) {
        Volume { fl: Volume::ML / 10 }
    } else if volume < Volume::from_ml(1000) {
        Volume::from_ml(1)
    } else {
        Volume::from_ml(5)
    }
}

/// What a part is poured from: the solution, and which of its bottles.
fn bottle(solution: &Solution, at: usize) -> String {
    match solution.parts.get(at) {
        Some(part) => format!("{} {part}", solution.name),
        None => solution.name.clone(),
    }
}
