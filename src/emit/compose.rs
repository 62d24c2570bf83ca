//! Composes a card from a schedule.

use super::actions::{self, StepContext};
use super::card::{Block, Card, Reason, Total};
use super::clock::Wall;
use super::fate::Fate;
use super::plain::{all_plain, plain};
use super::{figure, load, mix, naming};
use crate::compile::{Because, Doubt, PlannedStep, Schedule};
use crate::model::StepKind;
use crate::source::{Sources, Span};

/// The last line of every card and sheet.
pub(super) const CLOSING: &str =
    "a product's own safety data sheet, local codes, licensed practice come first";

const CLOCK: &str = "times at the left: the step's own clock, set to 0:00 at its first drop";

/// Cautions made plain, with the closing line.
pub(super) fn closed(cautions: &[String]) -> Vec<String> {
    let mut all = all_plain(cautions);
    all.push(CLOSING.to_owned());
    all
}

/// The card of a schedule. `sources` names the files and lines of its numbers.
#[must_use]
pub fn card(schedule: &Schedule, sources: &Sources) -> Card {
    let wall = Wall::of(schedule);
    Card {
        title: plain(&schedule.recipe.title),
        fingerprint: plain(&schedule.fingerprint),
        facts: facts(schedule),
        warnings: warnings(schedule),
        warnings_with_rules: schedule.warnings.iter().map(with_rule).collect(),
        mix: mix::mix(schedule),
        load: load::places(schedule),
        lid: load::dark(schedule, wall),
        clock: CLOCK,
        work: blocks(schedule, sources, wall),
        total: total(schedule, wall),
        afterwards: afterwards(schedule),
        cautions: all_plain(&schedule.cautions),
        closing: CLOSING,
        notes: all_plain(&schedule.notes),
    }
}

/// Film, rolls, tank, temperature and exposure index.
fn facts(schedule: &Schedule) -> Vec<String> {
    let asked = &schedule.conditions;
    let rolls: Vec<String> = asked.rolls.iter().map(|rolls| figure::rolls(*rolls)).collect();
    let mut facts = vec![plain(&schedule.film.title), rolls.join(" + ")];
    facts.extend(asked.tank.as_ref().map(|tank| plain(&tank.title)));
    let degrees = |at| figure::both_degrees(at, asked.scale);
    let ending = asked.ending.map(|at| format!(", ending at {}", degrees(at))).unwrap_or_default();
    facts.push(degrees(asked.temperature) + &ending);
    facts.extend(schedule.recipe.index.as_ref().map(|index| format!("exposed at {}", index.value)));
    facts
}

/// The warnings. Each names its lint rule, because `allow` takes that name, but not a rule of the arithmetic.
pub(super) fn warnings(schedule: &Schedule) -> Vec<String> {
    let warning =
        |doubt: &Doubt| if doubt.rule.contains('-') { with_rule(doubt) } else { plain(&doubt.text) };
    schedule.warnings.iter().map(warning).collect()
}

fn with_rule(doubt: &Doubt) -> String {
    format!("{} ({})", plain(&doubt.text), doubt.rule)
}

/// The whole evening (R16, R14).
fn total(schedule: &Schedule, wall: Wall) -> Total {
    let dry = schedule.steps.last().and_then(|last| wall.at(last.end));
    let until = dry.map(|dry| format!(", until {dry}")).unwrap_or_default();
    let drying = schedule.drying.map(|time| format!("and {time} of drying{until}"));
    let water = format!("{} of water in all", figure::litres(schedule.water));
    Total {
        time: schedule.total.to_string(),
        wall: wall.at(schedule.total),
        besides: drying.into_iter().chain([water]).collect(),
    }
}

fn blocks(schedule: &Schedule, sources: &Sources, wall: Wall) -> Vec<Block> {
    let light_from = schedule.steps.iter().position(|step| step.light_safe);
    let following = schedule.steps.iter().skip(1).map(Some).chain([None]);
    let steps = schedule.steps.iter().zip(following).enumerate();
    let blocks = steps.map(|(at, (step, next))| {
        let context = StepContext {
            step,
            written: naming::written(schedule, step),
            wall,
            next: next.map(naming::head),
            light: (light_from == Some(at)).then(|| load::light(schedule)),
            hanging: load::hanging(schedule),
        };
        let reasons = step.because.iter().map(|because| Reason {
            rule: because.rule,
            of: number(because, step),
            text: plain(&because.text),
            places: places(&because.from, sources),
        });
        Block {
            name: naming::head(step),
            time: step.duration.to_string(),
            begins: step.start.to_string(),
            wall: wall.at(step.start),
            bath: bath(schedule, step),
            cautions: all_plain(&step.cautions),
            notes: all_plain(&step.notes),
            lines: actions::lines(&context),
            reasons: reasons.collect(),
        }
    });
    blocks.collect()
}

/// The bath of a step and its temperature: `MQ borax, fine grain 1+1 at 21.5 °C`.
fn bath(schedule: &Schedule, step: &PlannedStep) -> Option<String> {
    let degrees = |at| figure::degrees(at, schedule.conditions.scale);
    let at = step.temperature.map(|at| format!("at {}", degrees(at)));
    let Some(bath) = &step.bath else { return at };
    let running = naming::running(naming::written(schedule, step));
    let mut text = if running.is_some() { "running ".to_owned() } else { String::new() };
    text.push_str(&naming::bath(bath));
    text.extend(at.map(|at| format!(" {at}")));
    text.extend(step.ending.map(|at| format!(", ending at {}", degrees(at))));
    text.extend(running.map(|flow| format!(", {flow}")));
    if bath.pours > 1 {
        text.push_str(&format!(", {} changes of {}", bath.pours, figure::ml(bath.volume)));
    }
    Some(text)
}

/// The name of the number that a reason explains.
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
    let mut places: Vec<String> = Vec::new();
    let mut file = None;
    for span in spans {
        let line = sources.place(*span).line.to_string();
        let is_same = file.replace(span.file) == Some(span.file);
        let place = if is_same { line } else { format!("{}:{line}", plain(sources.name(span.file))) };
        if places.last() != Some(&place) {
            places.push(place);
        }
    }
    places.join(", ")
}

/// What to do when the film hangs, each as a sentence without its full stop.
fn afterwards(schedule: &Schedule) -> Vec<String> {
    let dries = schedule.steps.iter().any(|step| step.kind == StepKind::Dry);
    let hang = load::hanging(schedule).filter(|_| !dries).map(|order| format!("hang the film, {order}"));
    let baths = |fate: Fate, what: &str| {
        let steps = schedule.steps.iter().filter_map(|step| Some((step, step.bath.as_ref()?)));
        let own = steps.filter(|(step, bath)| Fate::of(step, bath, naming::written(schedule, step)) == fate);
        let names = distinct(own.map(|(_, bath)| naming::bath(bath)));
        (!names.is_empty()).then(|| format!("{what}: {}", names.join(" · ")))
    };
    let replenished = schedule.steps.iter().filter_map(|step| {
        let bath = step.bath.as_ref()?;
        let volume = figure::ml(bath.replenish?);
        Some(format!("replenish: add {volume} to the bottle of {}", naming::bath(bath)))
    });
    let mut lines: Vec<String> = hang.into_iter().collect();
    lines.extend(baths(Fate::Bottle, "return to the bottle"));
    lines.extend(distinct(replenished));
    lines.extend(baths(Fate::Silver, "collect in the waste can, for its silver"));
    lines.extend(baths(Fate::Waste, "collect in the waste can"));
    lines.extend(baths(Fate::Away, "pour away or collect as waste, as your local code says"));
    lines.extend(baths(Fate::Unsaid, "keep, since the recipe does not say where it goes"));
    lines
}

fn distinct(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for text in texts {
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}
