//! The data of a card's page for its script.

use sha2::{Digest, Sha256};

use super::asking::Asking;
use crate::compile::{Action, Leg, Schedule};
use crate::emit::card::Card;
use crate::emit::lid::Lid;
use crate::emit::moments::{Moment, moments};
use crate::emit::phrase;
use crate::emit::plain::{bound, distinct, plain};

/// A moment's start and end in milliseconds, the indices of its step and text, and 1 if it has an action, else 0.
type Row = (i64, i64, usize, Option<usize>, u8);

/// The data for the script, as JSON on one line: the key for the stored progress, the time when only drying is left,
/// the names of the steps, the texts without repeats, the moments, and the condition for light.
pub(super) fn data(card: &Card, schedule: &Schedule, asking: Option<&Asking<'_>>) -> String {
    let (moments, lid) = (moments(schedule), Lid::of(schedule));
    let texts = distinct(moments.iter().map(|moment| bound(&moment.what)));
    let row = |moment: &Moment| {
        let what = bound(&moment.what);
        let text = texts.iter().position(|text| *text == what);
        (moment.at.ms, moment.until.ms, moment.step, text, u8::from(!moment.actions.is_empty()))
    };
    let rows: Vec<Row> = moments.iter().map(row).collect();
    let drying = moments.iter().find(|moment| moment.actions.contains(&Action::Dry));
    let work = drying.map(|drying| drying.at).or(moments.last().map(|last| last.until));
    serde_json::json!({
        "key": key(card, &rows, &asking.map(Asking::labels).unwrap_or_default()),
        "work": work.map_or(0, |work| work.ms),
        "steps": card.work.iter().map(|block| block.name.as_str()).collect::<Vec<_>>(),
        "texts": texts,
        "moments": rows,
        "lid": lid.map(|lid| lid_data(&lid)),
        "decisions": decisions(schedule),
    })
    .to_string()
}

/// The decisions that end steps, in order: what the person sees, the number of times (R18), when the step's clock shows
/// 0:00, when the film leaves the bath at the latest, the bounds and the looks by the step's clock.
fn decisions(schedule: &Schedule) -> Vec<serde_json::Value> {
    let of = |leg: &Leg| {
        let step = schedule.steps.get(leg.after?)?;
        let decision = step.decision.as_ref()?;
        let zero = phrase::zero(schedule, step);
        let times = decision.times.and_then(|times| times.in_base(1000));
        Some(serde_json::json!({
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

/// The condition for room light, as data for the page: `on` lists the lights before room light, each with the time from
/// which it holds; `exposures` lists the exposures before it, each with its start, its end and its light; `until` is the
/// condition in words; `needed` is the time in the bath that ends the dark; `fillings`
/// lists, for each step with that bath, the start of the pour, the end of the pour and the start of draining.
fn lid_data(lid: &Lid) -> serde_json::Value {
    let fillings = lid.fillings.iter().map(|own| [own.pour.ms, own.full.ms, own.out.ms]);
    serde_json::json!({
        "on": lid.on.iter().map(|on| (on.from.ms, on.word, &on.lamp)).collect::<Vec<_>>(),
        "exposures": lid.exposures.iter().map(|one| (one.from.ms, one.to.ms, &one.light)).collect::<Vec<_>>(),
        "free": lid.free,
        "until": lid.condition(),
        "bath": lid.bath,
        "needed": lid.needed.ms,
        "fillings": fillings.collect::<Vec<_>>(),
        "then": lid.then.as_ref().map(|(words, at)| (words, at.ms)),
    })
}

/// The key for the stored progress. It differs if the recipe, the conditions, a moment or a wrong roll
/// differ.
fn key(card: &Card, rows: &[Row], asked: &[&str]) -> String {
    let hash = Sha256::digest(serde_json::json!([card.facts, rows, asked]).to_string().as_bytes());
    let digits: String = hash.iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    format!("wetside {} {digits}", card.fingerprint)
}
