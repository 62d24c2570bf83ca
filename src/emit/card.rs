//! A card: all its words, made from a schedule. Text, HTML and PDF draw the same card.

use super::afterwards::afterwards;
use super::cells;
use super::document::Figure;
use super::document::{Part, Place, Ready, StepText, Stub, Total};
use super::lid;
use super::link::link;
use super::phrase::{self, wall};
use super::picture::pictures;
use super::plain::{all_plain, joined, plain, prefixed};
use super::steps;
use super::try_first::try_first;
use super::vessel::{Vessel, baths_stay, is_stacked};
use crate::compile::{
    PlannedBath, PlannedBottle, PlannedStep, SafetyLine, Schedule, Slot, Warning, safety_of, spoken_rolls,
};
use crate::model::{Material, Step, Use, Volume};
use crate::source::Sources;

/// The texts of a card. Each is one line without control characters.
#[derive(Debug, Clone)]
pub struct Card {
    /// The recipe's title.
    pub title: String,
    /// The fingerprint of the recipe, in its short form.
    pub fingerprint: String,
    /// The facts below the title, such as film, rolls, tank, temperature and exposure index.
    pub facts: Vec<String>,
    /// The safety block, the first section of the card.
    pub safety: Vec<SafetyLine>,
    /// The warnings, to read before mixing.
    pub warnings: Vec<String>,
    /// The texts of `warnings`, each followed by the name of the rule that causes the warning.
    pub warnings_with_rules: Vec<String>,
    /// Advice for this session.
    pub advice: Vec<String>,
    /// The baths to have ready, in the order of the steps.
    pub mix: Vec<Ready>,
    /// The tests of developer and fixer with a piece of film, before the rolls are loaded.
    pub try_first: Vec<String>,
    /// The slots of the tank and what is in each, from the bottom up.
    pub load: Vec<Place>,
    /// The line about light: `LID ON until WASH is in`. `None` if the recipe says nothing about light.
    pub lid: Option<String>,
    /// The sentence about the clocks of the steps: `each step has its own clock, set to 0:00 at its first drop`.
    pub clock: &'static str,
    /// The steps, including drying.
    pub work: Vec<StepText>,
    /// The totals of time, drying and water.
    pub total: Total,
    /// The tasks after the last step, each as a sentence.
    pub afterwards: Vec<String>,
    /// The cautions. The last one says that safety data sheets and local codes take precedence.
    pub cautions: Vec<String>,
    /// First aid. On paper it is on the back of the sheet.
    pub first_aid: Vec<String>,
    /// The notes of the recipe.
    pub notes: Vec<String>,
    /// A slip for each slot in the tank, to cut off and file with the negatives.
    pub stubs: Vec<Stub>,
    /// The pictures of the session.
    pub pictures: Vec<Figure>,
    /// The address at which the user's site shows this card. `None` if there is no site, or if a bath is from a bottle
    /// of the darkroom.
    pub link: Option<String>,
}

const CLOSING: &str = "a product's own safety data sheet, local codes, licensed practice come first";

pub(super) fn closed(cautions: &[String]) -> Vec<String> {
    let mut all = all_plain(cautions);
    all.push(CLOSING.to_owned());
    all
}

/// The card of a schedule. `sources` gives the file and line that each number comes from.
pub fn card(schedule: &Schedule, sources: &Sources) -> Card {
    Card {
        title: plain(&schedule.recipe.title),
        fingerprint: schedule.fingerprint.to_string(),
        facts: facts(schedule),
        safety: safety_of(std::iter::once(schedule)),
        warnings: warnings(schedule),
        warnings_with_rules: schedule.warnings.iter().map(with_rule).collect(),
        advice: advice(schedule),
        mix: mix(schedule),
        try_first: try_first(schedule),
        load: load(schedule),
        lid: lid::on_card(schedule),
        clock: phrase::clock_line(schedule),
        work: steps::blocks(schedule, sources),
        total: total(schedule),
        afterwards: afterwards(schedule),
        cautions: closed(&schedule.cautions),
        first_aid: all_plain(&schedule.first_aid),
        notes: all_plain(&schedule.notes),
        stubs: cells::stubs(schedule),
        pictures: pictures(schedule).into_iter().map(Figure).collect(),
        link: link(schedule),
    }
}

fn facts(schedule: &Schedule) -> Vec<String> {
    let asked = &schedule.conditions;
    let rolls = asked.rolls.iter().map(|rolls| format!("{} x {}", rolls.count, rolls.format));
    let mut facts = vec![plain(&schedule.film.title), joined(rolls, " + ")];
    let usual = |is_usual: bool| if is_usual { " (usual)" } else { "" };
    facts.extend(asked.tank.as_ref().map(|tank| plain(&tank.title) + usual(asked.usual.tank)));
    let degrees = |at| phrase::both_degrees(at, asked.scale);
    facts.push(degrees(asked.temperature) + &prefixed(", ending at ", asked.ending.map(degrees)));
    facts.extend(asked.usual.scale.then(|| format!("°{}{}", asked.scale.letter(), usual(true))));
    facts.extend(asked.usual.paper.map(|paper| format!("paper {paper}{}", usual(true))));
    facts.extend(schedule.recipe.index.as_ref().map(|index| format!("exposed at {}", index.value)));
    facts.extend(asked.dunk.then(|| "a leader turned dark tonight".to_owned()));
    facts
        .extend(schedule.leader.as_ref().map(|leader| format!("a leader clears in {} tonight", leader.time)));
    facts
}

/// The warnings of a schedule. The warning of a rule of `check` ends with the rule's name, which the user can write
/// after `allow` to turn the rule off.
pub(super) fn warnings(schedule: &Schedule) -> Vec<String> {
    let text = |warning: &Warning| {
        if warning.rule.contains('-') { with_rule(warning) } else { plain(&warning.text) }
    };
    schedule.warnings.iter().map(text).collect()
}

pub(super) fn advice(schedule: &Schedule) -> Vec<String> {
    schedule.advice.iter().map(|advice| plain(&advice.text)).collect()
}

fn with_rule(warning: &Warning) -> String {
    format!("{} ({})", plain(&warning.text), warning.rule)
}

fn total(schedule: &Schedule) -> Total {
    let until = prefixed(", until ", schedule.steps.last().and_then(|last| wall(schedule, last.end)));
    let dry = schedule.steps.iter().find(|step| step.is_drying());
    let drying = dry.map(|step| format!("and {} of drying{until}", phrase::lasts(step)));
    let water = phrase::all_water(schedule).map(|water| format!("{water} of water in all"));
    Total {
        time: phrase::moment(schedule, schedule.total),
        ends: wall(schedule, schedule.total).map(|end| format!("ends {end}")),
        besides: drying.into_iter().chain(water).collect(),
    }
}

/// The baths to have ready. A bottle that several steps use is listed once.
fn mix(schedule: &Schedule) -> Vec<Ready> {
    let mut rows: Vec<(usize, &PlannedBath, Ready)> = Vec::new();
    for (at, step) in schedule.steps.iter().enumerate() {
        let Some(bath) = &step.bath else { continue };
        let is_it = |(first, other, _): &&mut (usize, &PlannedBath, Ready)| match bath.used {
            Some(used) => *first == used,
            None => is_same_bottle(bath, other),
        };
        match rows.iter_mut().find(is_it) {
            Some((first, ..)) if is_round_of(schedule, *first, step) => {}
            Some((.., row)) => row.steps = format!("{}, {}", row.steps, phrase::called(step)),
            // The bath comes from an earlier step, or is mixed during the session, so it need not be ready at the
            // start.
            None if bath.used.is_some() || bath.mixed.is_some() => {}
            None => match step.round {
                Some((2.., _)) if bath.dilution.is_none() => {}
                _ => rows.push((at, bath, ready(schedule, step, &in_all_rounds(step, bath)))),
            },
        }
    }
    rows.into_iter().map(|(.., row)| row).collect()
}

/// Whether `step` is another round of the repeated step with the index `first`.
fn is_round_of(schedule: &Schedule, first: usize, step: &PlannedStep) -> bool {
    let first = schedule.steps.get(first).filter(|first| first.round.is_some());
    first.is_some_and(|first| (first.kind, &first.name) == (step.kind, &step.name))
}

/// A copy of the bath. If the bath is plain water, `pours` counts the fillings in all rounds of a repeated step.
fn in_all_rounds(step: &PlannedStep, bath: &PlannedBath) -> PlannedBath {
    let rounds = step.round.filter(|_| bath.dilution.is_none()).map_or(1, |(_, rounds)| rounds);
    PlannedBath { pours: bath.pours.saturating_mul(rounds), ..bath.clone() }
}

/// Whether two baths are poured from one bottle. Water and one-shot baths never are: they are measured for each step.
fn is_same_bottle(one: &PlannedBath, other: &PlannedBath) -> bool {
    let kept = one.reuse.map_or(one.dilution.is_some(), Use::is_kept);
    kept && one == other
}

fn ready(schedule: &Schedule, step: &PlannedStep, bath: &PlannedBath) -> Ready {
    let degrees = |at| phrase::degrees(at, schedule.conditions.scale);
    let at = prefixed(" at ", step.temperature.map(degrees));
    let volume = phrase::ml(bath.volume);
    let is_kept = bath.reuse.is_some_and(Use::is_kept);
    let mut parts = Vec::new();
    let how = if bath.dilution.is_none() {
        match (phrase::running(bath), bath.pours) {
            (Some(flow), _) => format!("running{at}, {flow}"),
            (None, 0 | 1) => format!("have {volume} ready{at}"),
            (None, pours) => format!("have {pours} x {volume} ready{at}"),
        }
    } else if let Some(bottle) = &bath.bottle {
        format!("take {volume} from {}{at}: {}", plain(&bottle.name), state(bottle))
    } else {
        parts = self::parts(schedule, bath);
        match (is_kept, parts.is_empty()) {
            (true, true) if baths_stay(schedule) => format!("have {volume} in its tank{at}"),
            (true, false) if baths_stay(schedule) => {
                format!("have {volume} in its tank{at}; to mix it new")
            }
            (true, true) => format!("take {volume} from its bottle{at}"),
            (true, false) => format!("take {volume} from its bottle{at}; to mix it new"),
            (false, true) => format!("measure {volume}{at}"),
            (false, false) => format!("mix {volume}{at}"),
        }
    };
    let how = how + &prefixed(", ", phrase::still_good(schedule, step, bath));
    Ready { steps: phrase::called(step), bath: phrase::bath(bath), how, parts }
}

fn state(bottle: &PlannedBottle) -> String {
    let left = bottle.left.map(|left| format!(", {} left after tonight", spoken_rolls(left)));
    format!("{} treated by {}{}", spoken_rolls(bottle.treated), bottle.on, left.unwrap_or_default())
}

/// The parts to measure for a bath, with the water; empty if there is only one part, which needs no mixing. Water comes
/// before an acid, because acid is poured into water. If no cylinder measures the water exactly, the last part is
/// `water to` the volume of the bath.
pub(super) fn parts(schedule: &Schedule, bath: &PlannedBath) -> Vec<Part> {
    let part = |volume, what: &str| Part { amount: phrase::ml(volume), what: plain(what) };
    let mut all: Vec<Part> = bath.parts.iter().map(|one| part(one.volume, &one.what)).collect();
    let added = bath.added.as_ref().map(|added| &added.name);
    let mut solutions = schedule.recipe.steps.iter().flat_map(Step::solutions);
    let is_acid =
        solutions.any(|one| (one.name == bath.solution || Some(&one.name) == added) && one.is_acid());
    let first = phrase::measured_down(bath.water);
    if is_acid && first > Volume::ZERO {
        all.insert(0, part(first, "water"));
    }
    if first < bath.water {
        let whole = bath.parts.iter().fold(bath.water, |sum, one| sum + one.volume);
        all.push(Part { amount: "water".to_owned(), what: format!("to {}", phrase::ml(whole)) });
    } else if !is_acid && bath.water > Volume::ZERO {
        all.push(part(bath.water, "water"));
    }
    if all.len() > 1 { all } else { Vec::new() }
}

/// The slots of the tank, from the bottom up. Neighbouring slots of the same format and without labels are one entry.
fn load(schedule: &Schedule) -> Vec<Place> {
    let is_same = |one: &Slot, next: &Slot| unlabelled(one, next) && one.format == next.format;
    let runs: Vec<&[Slot]> = schedule.load.chunk_by(is_same).collect();
    let last = runs.len().saturating_sub(1);
    let is_stacked = is_stacked(schedule);
    let place = |(at, run): (usize, &&[Slot])| {
        let (low, high) = (run.first()?, run.last()?);
        let end = match (at == 0, at == last) {
            _ if !is_stacked => "",
            (true, true) if run.len() > 1 => "bottom to top",
            (true, false) => "bottom",
            (false, true) => "top",
            _ => "",
        };
        let format = low.format.to_string();
        let what = match run.len() {
            1 => format.to_owned(),
            count => format!("{count} {}s of {format}", piece(schedule, low)),
        };
        let label = low.label.as_deref().map(plain).unwrap_or_default();
        Some(Place { end, slots: slots(low, "to", high), label, what })
    };
    runs.iter().enumerate().filter_map(place).collect()
}

fn piece(schedule: &Schedule, slot: &Slot) -> &'static str {
    if schedule.film.material == Material::Plate { "plate" } else { slot.format.piece() }
}

fn unlabelled(one: &Slot, next: &Slot) -> bool {
    one.label.is_none() && next.label.is_none()
}

fn slots(from: &Slot, to: &str, end: &Slot) -> String {
    if from.slot == end.slot { end.slot.to_string() } else { format!("{} {to} {}", from.slot, end.slot) }
}

/// The order in which to hang the film: `the top of the tank first: roll-b · roll-a`. `None` for one roll or sheet, for
/// sheets without labels, for trays, and for sheets in a rack.
pub(super) fn hanging(schedule: &Schedule) -> Option<String> {
    let (bottom, top) = (schedule.load.first()?, schedule.load.last()?);
    let vessel = Vessel::of(schedule);
    let has_labels = schedule.load.iter().any(|slot| slot.label.is_some());
    let is_told = is_stacked(schedule) || vessel == Vessel::Tank && has_labels;
    if bottom.slot == top.slot || !is_told {
        return None;
    }
    let name = |run: &[Slot]| {
        let (low, high) = (run.first()?, run.last()?);
        Some(low.label.as_deref().map_or_else(|| slots(high, "down to", low), plain))
    };
    let mut names: Vec<String> = schedule.load.chunk_by(unlabelled).filter_map(name).collect();
    names.reverse();
    Some(format!("the top of the {} first: {}", vessel.word(), names.join(" · ")))
}
