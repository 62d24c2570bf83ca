//! The recipe's fingerprint: SHA-256 over what it does, so that a note on a negative's sleeve finds
//! the very version. Titles, notes, cautions, sources, comments and paths have no part in it; every
//! quantity stands in its exact base unit, whatever unit it was written in.

use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use crate::model::{
    Amount, Band, Bath, Change, Clock, Dilution, Duration, Film, Grain, Item, Knock, Measure, Motion, Pulse,
    Recipe, Scheme, Solution, Stated, Step, Substance, Temperature, Time, Treats, Volume,
};

/// The first eight hexadecimal digits of the SHA-256 of the resolved recipe as canonical JSON (its
/// keys sorted, no blanks).
#[must_use]
pub fn fingerprint(recipe: &Recipe) -> String {
    let canonical = resolved(recipe).to_string();
    let hash = Sha256::digest(canonical.as_bytes());
    hash.iter().take(4).map(|byte| format!("{byte:02x}")).collect()
}

/// The recipe as JSON; serde_json keeps the keys of an object in order.
fn resolved(recipe: &Recipe) -> Value {
    json!({
        "film": recipe.film.as_ref().map(|film| self::film(&film.value)),
        "index": recipe.index.map(|index| index.value),
        "steps": recipe.steps.iter().map(step).collect::<Vec<_>>(),
    })
}

fn film(film: &Film) -> Value {
    let clears = film.clears.iter().map(|clearing| {
        json!({
            "time": clearing.time.ms,
            "in": clearing.solution.name,
            "dilution": dilution(&clearing.dilution),
            "at": clearing.at.base,
        })
    });
    json!({
        "name": film.name,
        "grain": film.grain.map(|grain| match grain {
            Grain::Conventional => "conventional",
            Grain::Tabular => "tabular",
        }),
        "speed": film.speed.map(|speed| speed.value),
        "clears": clears.collect::<Vec<_>>(),
    })
}

fn dilution(dilution: &Dilution) -> Value {
    json!({ "parts": dilution.parts, "water": dilution.water })
}

fn solution(solution: &Solution) -> Value {
    let volume = |stated: Option<Stated<Volume>>| stated.map(|stated| stated.value.fl);
    let formulas = solution.formulas.iter().map(|formula| {
        json!({
            "part": formula.part,
            "makes": formula.makes.value.fl,
            "items": formula.items.iter().map(item).collect::<Vec<_>>(),
        })
    });
    let treats = solution.treats.iter().map(|treats: &Treats| {
        json!({ "rolls": treats.rolls, "per": treats.per.fl, "at": treats.at.as_ref().map(dilution) })
    });
    json!({
        "name": solution.name,
        "role": solution.role.map(|role| format!("{role:?}")),
        "parts": solution.parts,
        "formulas": formulas.collect::<Vec<_>>(),
        "contains": solution.contains.iter().map(|ingredient| ingredient.name).collect::<Vec<_>>(),
        "needs": volume(solution.needs),
        "treats": treats.collect::<Vec<_>>(),
        "extend": solution.extend.map(|extend| json!([extend.value.by.basis_points, extend.value.per_rolls])),
        "replenish": volume(solution.replenish),
        "rate": solution.rate.map(|rate| {
            json!([rate.value.factor.in_base(1_000_000), rate.value.interval.base])
        }),
        "keeps": solution.keeps.map(|keeps| keeps.value.to_string()),
    })
}

fn item(item: &Item) -> Value {
    let what = match &item.what {
        Substance::Water => "water",
        Substance::Known(ingredient) => ingredient.name,
        Substance::Other(name) => name,
    };
    let measure = match item.measure {
        Measure::Mass(mass) => json!({ "pg": mass.pg }),
        Measure::Volume(volume) => json!({ "fl": volume.fl }),
        Measure::UpTo(volume) => json!({ "to_fl": volume.fl }),
        Measure::MassPerLitre(mass) => json!({ "pg_per_l": mass.pg }),
        Measure::VolumePerLitre(volume) => json!({ "fl_per_l": volume.fl }),
    };
    json!({
        "what": what,
        "measure": measure,
        "state": item.state,
        "strength": item.strength.map(|share| share.basis_points),
        "at": item.at.map(|at| at.base),
    })
}

fn step(step: &Step) -> Value {
    let time = |stated: Option<Stated<Time>>| stated.map(|stated| stated.value.ms);
    json!({
        "kind": step.kind.word(),
        "name": step.name,
        "bath": step.bath.as_ref().map(bath),
        "duration": duration(&step.duration.value),
        "band": step.band.map(|band| match band.value {
            Band::Between(low, high) => json!({ "between": [low.base, high.base] }),
            Band::Within(by) => json!({ "within": by.base }),
        }),
        "at": step.at.map(|at| at.value.base),
        "agitation": step.agitation.as_ref().map(|scheme| agitation(&scheme.value)),
        "handling": time(step.handling),
        "light_safe": step.light_safe.is_some(),
        "fill": time(step.fill),
        "drain": time(step.drain),
        "from_full": step.clock.value == Clock::FromFull,
    })
}

fn bath(bath: &Bath) -> Value {
    json!({
        "solution": bath.solution.as_ref().map(|own| solution(own)),
        "dilution": dilution(&bath.dilution),
        "use": bath.fate.map(|fate| fate.word()),
    })
}

fn duration(duration: &Duration) -> Value {
    let degrees = |at: Option<Temperature>| at.map(|at| at.base);
    match duration {
        Duration::Chart(chart) => {
            let points = chart.points().iter().map(|point| json!([point.temperature.base, point.time.ms]));
            json!({ "chart": points.collect::<Vec<_>>() })
        }
        Duration::Plain { time, at } => json!({ "time": time.ms, "at": degrees(*at) }),
        Duration::Clearing { times, at_least } => {
            json!({ "clearing": times, "at_least": at_least.map(|time| time.ms) })
        }
        Duration::EachSide(time) => json!({ "each_side": time.ms }),
        Duration::Changes(changes) => {
            let changes = changes.iter().map(|change| match change {
                Change::Inversions(count) => json!({ "inversions": count }),
                Change::Soak(time) => json!({ "soak": time.ms }),
            });
            json!({ "changes": changes.collect::<Vec<_>>() })
        }
        Duration::Flow { flow, time } => json!({ "flow": flow.per_minute.fl, "time": time.ms }),
    }
}

fn agitation(scheme: &Scheme) -> Value {
    let amount = |amount: &Amount| match amount {
        Amount::For(time) => json!({ "ms": time.ms }),
        Amount::Inversions(count) => json!({ "inversions": count }),
    };
    let pulse = match &scheme.pulse {
        Pulse::None => json!("none"),
        Pulse::Continuous => json!("continuous"),
        Pulse::Rotary(speed) => json!({ "rpm": speed.rpm }),
        Pulse::At { times, amount: length } => {
            json!({ "at": times.iter().map(|time| time.ms).collect::<Vec<_>>(), "for": amount(length) })
        }
        Pulse::Interval { first, then } => json!({
            "first": first.as_ref().map(amount),
            "then": then.as_ref().map(|(length, every)| json!([amount(length), every.ms])),
        }),
    };
    json!({
        "pulse": pulse,
        "by": scheme.by.map(Motion::word),
        "inversion": scheme.inversion.ms,
        "knock": scheme.knock.map(|knock| match knock {
            Knock::AfterEach => "each",
            Knock::Once => "once",
        }),
    })
}
