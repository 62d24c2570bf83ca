//! The data of a session that the HTML page of a card gives to its script.

use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::asking::Asking;
use super::pace::{longer, pace_data, tenths};
use crate::compile::{Leg, Pace, PlannedStep, Schedule};
use crate::emit::beats::{AHEAD, Beat, Word, beats, from};
use crate::emit::card::Card;
use crate::emit::document::StepText;
use crate::emit::lid::Lid;
use crate::emit::live::{LONGER, LONGEST, SHORTER, parts};
use crate::emit::phrase;
use crate::emit::plain::{bound, distinct, plain, prefixed};
use crate::emit::sound::{GAP, KNOCKS, LATEST, Signal};
use crate::emit::vessel::Vessel;
use crate::model::{Lighting, StepKind, Time};

const FACE_DOWN: &str = "FACE DOWN: film or paper is in the open, so this screen goes black after the start, and only \
                         the sounds guide you. Lay the phone on its face. Hold the black screen for red.";

/// The data for the page's script, as JSON on one line. `record` is the command line that records the session.
pub(super) fn data(card: &Card, schedule: &Schedule, asking: Option<&Asking<'_>>, record: &str) -> String {
    let beats = beats(schedule);
    let paces: Vec<Option<Pace>> = (0..schedule.steps.len()).map(|index| schedule.pace(index)).collect();
    let longer: Vec<Vec<Beat>> =
        paces.iter().enumerate().map(|(index, pace)| longer(schedule, index, pace)).collect();
    let mut rows = Rows::new(beats.iter().chain(longer.iter().flatten()));
    let own: Vec<Value> = beats.iter().map(|beat| rows.row(beat)).collect();
    let end = beats.last().map_or(Time::ZERO, |last| last.until);
    let drying = beats.iter().find(|beat| beat.word == Word::Hang);
    let work = drying.map_or(end, |drying| drying.at);
    let steps = schedule.steps.iter().zip(&card.work).zip(paces.iter().zip(&longer));
    let steps = steps.map(|((step, block), (pace, longer))| {
        let more: Vec<Value> = longer.iter().map(|beat| rows.row(beat)).collect();
        let until = longer.last().map(|last| last.until);
        let pace =
            pace.as_ref().zip(until).map(|(pace, until)| pace_data(schedule, step, pace, (&more, until)));
        step_data(schedule, step, block, pace)
    });
    let steps: Vec<Value> = steps.collect();
    let Rows { texts, kinds } = rows;
    json!({
        "key": key(card, &json!([own, kinds, texts]), &asking.map(Asking::labels).unwrap_or_default()),
        "title": bound(&card.title),
        "record": record,
        "letter": phrase::degree(schedule.conditions.scale).letter,
        "work": work.ms,
        "end": end.ms,
        "steps": steps,
        "texts": texts,
        "kinds": kinds,
        "beats": own,
        "lid": Lid::of(schedule).map(|lid| lid_data(&lid)),
        "decisions": decisions(schedule),
        "signals": signals(),
        "effects": effects(schedule),
        "isOpen": is_open(schedule),
        "faceDown": FACE_DOWN,
    })
    .to_string()
}

/// The beats of a session as pairs of numbers. (A beat is a stretch of the session with one word, such as `POUR`.) A
/// pair has the start in milliseconds and an index into `kinds`, whose entry has everything else about the beat. Many
/// beats share one entry, because they differ only in their start.
struct Rows {
    texts: Vec<String>,
    kinds: Vec<Value>,
}

impl Rows {
    fn new<'a>(beats: impl Iterator<Item = &'a Beat>) -> Rows {
        Rows { texts: distinct(beats.flat_map(words)), kinds: Vec::new() }
    }

    fn row(&mut self, beat: &Beat) -> Value {
        let place = |text: &String| self.texts.iter().position(|known| known == text);
        let [word, amount, what, below] = words(beat).map(|text| place(&text));
        let moves = match beat.word {
            word if word.is_filling() => 1,
            word => u8::from(word.moves_a_bath()) * 2,
        };
        let signal = beat.signal.map(Signal::place);
        let (is_knocked, is_warned) = (u8::from(beat.is_knocked), u8::from(beat.is_warned));
        let each = beat.each.map_or(0, |each| each.ms);
        let kind = json!([beat.step, word, amount, what, below, is_knocked, signal, is_warned, moves, each]);
        let known = self.kinds.iter().position(|known| *known == kind);
        if known.is_none() {
            self.kinds.push(kind);
        }
        json!([beat.at.ms, known.unwrap_or(self.kinds.len() - 1)])
    }
}

fn words(beat: &Beat) -> [String; 4] {
    [beat.word.text(), &bound(&beat.amount), &bound(&beat.what), &bound(&beat.below)].map(str::to_owned)
}

/// A step as JSON, with times in milliseconds. `zero` is the time at which the step's clock shows 0:00. The page warns
/// when the bath has been in for longer than `longest`.
fn step_data(schedule: &Schedule, step: &PlannedStep, block: &StepText, pace: Option<Value>) -> Value {
    let longest = LONGEST.iter().find(|(kind, _)| *kind == step.kind).map(|(_, longest)| longest.ms);
    let at = step.temperature.map(|at| phrase::degrees(at, schedule.conditions.scale));
    let mut all = json!({
        "name": block.name,
        "called": phrase::called(step),
        "bath": step.bath.as_ref().map(|_| bound(&format!("{}{}", from(step), prefixed(" at ", at)))),
        "of": block.time,
        "start": step.start.ms,
        "pour": (step.start + step.handling).ms,
        "full": step.full().ms,
        "zero": phrase::zero(schedule, step).ms,
        "leaves": (step.end - step.drain).ms,
        "end": step.end.ms,
        "duration": step.duration.ms,
        "longest": longest,
        "tenths": step.temperature.map(|at| tenths(at, schedule.conditions.scale)),
        "pace": pace,
        "isWet": step.bath.is_some(),
        "isLamp": step.kind == StepKind::Expose,
        "isCoat": step.kind == StepKind::Coat,
        "develops": step.kind == StepKind::Develop,
        "hasSign": step.decision.is_some(),
    });
    // A page has many steps, so values that are null or false are left out.
    if let Value::Object(all) = &mut all {
        all.retain(|_, value| !value.is_null() && *value != false);
    }
    all
}

/// The notes and meanings of the four sound signals, and their times in milliseconds.
fn signals() -> Value {
    let notes = |signal: Signal| {
        let notes = signal.notes().iter().map(|note| [note.pitch.0, note.pitch.1, note.at, note.length]);
        notes.collect::<Vec<_>>()
    };
    json!({
        "notes": Signal::ALL.map(notes),
        "meanings": Signal::ALL.map(Signal::meaning),
        "ahead": AHEAD.ms,
        "knocks": KNOCKS.ms,
        "gap": GAP.ms,
        "latest": LATEST.ms,
    })
}

/// The words for the effects of a longer and of a shorter development. Before each effect is the greatest difference
/// from the planned time for which it holds, in percent; `null` if there is no limit.
fn effects(schedule: &Schedule) -> Value {
    let (none, little) = parts(schedule);
    let list = |[same, slight, strong]: [&str; 3]| json!([[none, same], [little, slight], [null, strong]]);
    json!({ "longer": list(LONGER), "shorter": list(SHORTER) })
}

/// Whether film or paper lies open in the dark or under a safelight, so that the screen must stay dark.
fn is_open(schedule: &Schedule) -> bool {
    let is_lit = schedule.recipe.lighting.as_ref().is_some_and(|it| it.value == Lighting::Room);
    let is_dark_later = schedule
        .steps
        .iter()
        .any(|step| step.lighting.as_ref().is_some_and(|lighting| *lighting != Lighting::Room));
    Vessel::of(schedule).is_open() && (!is_lit || is_dark_later)
}

/// The decisions by which a person ends steps at a sign (R18), with times in milliseconds. `zero` and `leaves` count
/// from the start of the schedule, the other times from `zero`, at which the step's clock shows 0:00.
fn decisions(schedule: &Schedule) -> Vec<Value> {
    let of = |leg: &Leg| {
        let step = schedule.steps.get(leg.after?)?;
        let decision = step.decision.as_ref()?;
        let zero = phrase::zero(schedule, step);
        let times = decision.times.and_then(|times| times.in_base(1000));
        Some(json!({
            "sign": plain(&decision.sign),
            "thousandths": times,
            "factor": decision.times.map(|times| times.to_string()),
            "zero": zero.ms,
            "leaves": leg.start.ms,
            "least": decision.least.ms,
            "most": decision.most.ms,
            "looks": decision.looks.iter().map(|look| look.ms).collect::<Vec<_>>(),
        }))
    };
    schedule.legs.iter().filter_map(of).collect()
}

/// The condition for room light. Moments are in milliseconds from the start of the schedule. `on` has the working
/// lights before room light. `needed` is how many milliseconds the film must have been in `bath`. `fillings` has the
/// moments at which that bath is poured. `exposures` has the start, the end and the light of each exposure before room
/// light. `until` is the condition in words, and `then` a moment that light must also wait for.
fn lid_data(lid: &Lid) -> Value {
    json!({
        "on": lid.on.iter().map(|on| (on.from.ms, on.word, &on.lamp)).collect::<Vec<_>>(),
        "exposures": lid.exposures.iter().map(|one| (one.from.ms, one.to.ms, &one.light)).collect::<Vec<_>>(),
        "free": lid.free,
        "until": lid.condition(),
        "bath": lid.bath,
        "needed": lid.needed.ms,
        "fillings": lid.fillings.iter().map(|own| own.pour.ms).collect::<Vec<_>>(),
        "then": lid.then.as_ref().map(|(words, at)| (words, at.ms)),
    })
}

/// The key under which the browser stores the progress of a session. Sessions that differ in the recipe, the
/// conditions, a time or a wrong roll have different keys.
fn key(card: &Card, rows: &Value, asked: &[&str]) -> String {
    let hash = Sha256::digest(json!([card.facts, rows, asked]).to_string().as_bytes());
    let digits: String = hash.iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    format!("wetside {} {digits}", card.fingerprint)
}
