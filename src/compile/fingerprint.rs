//! The recipe's fingerprint: SHA-256 over what it does, so that a note on a negative's sleeve finds
//! the very version. Titles, notes, cautions, sources, comments and paths have no part in it; every
//! quantity stands in its exact base unit, whatever unit it was written in.

use sha2::{Digest, Sha256};

use super::canon::{Canon, canon};
use crate::model::{
    Amount, Band, Bath, Change, Clock, Dilution, Duration, Film, Grain, Item, Knock, Measure, Motion, Pulse,
    Recipe, Scheme, Solution, Stated, Step, Substance, Temperature, Time, Treats, Volume,
};

/// The first eight hexadecimal digits of the SHA-256 of the resolved recipe as canonical JSON (its
/// keys sorted, no blanks).
#[must_use]
pub fn fingerprint(recipe: &Recipe) -> String {
    let canonical = resolved(recipe).text();
    let hash = Sha256::digest(canonical.as_bytes());
    hash.iter().take(4).map(|byte| format!("{byte:02x}")).collect()
}

/// The recipe as canonical JSON.
fn resolved(recipe: &Recipe) -> Canon {
    canon!({
        "film": recipe.film.as_ref().map(|film| self::film(&film.value)),
        "index": recipe.index.map(|index| index.value),
        "steps": recipe.steps.iter().map(step).collect::<Vec<_>>(),
    })
}

fn film(film: &Film) -> Canon {
    let clears = film.clears_in_order().into_iter().map(|clearing| {
        canon!({
            "time": clearing.time.ms,
            "in": clearing.solution.name.clone(),
            "dilution": dilution(&clearing.dilution),
            "at": clearing.at.base,
        })
    });
    canon!({
        "name": film.name.clone(),
        "grain": film.grain.map(|grain| match grain {
            Grain::Conventional => "conventional",
            Grain::Tabular => "tabular",
        }),
        "speed": film.speed.map(|speed| speed.value),
        "clears": clears.collect::<Vec<_>>(),
    })
}

fn dilution(dilution: &Dilution) -> Canon {
    canon!({ "parts": dilution.parts.clone(), "water": dilution.water })
}

fn solution(solution: &Solution) -> Canon {
    let volume = |stated: Option<Stated<Volume>>| stated.map(|stated| stated.value.fl);
    let formulas = solution.formulas.iter().map(|formula| {
        canon!({
            "part": formula.part.clone(),
            "makes": formula.makes.value.fl,
            "items": formula.items.iter().map(item).collect::<Vec<_>>(),
        })
    });
    let treats = solution.treats.iter().map(|treats: &Treats| {
        canon!({ "rolls": treats.rolls, "per": treats.per.fl, "at": treats.at.as_ref().map(dilution) })
    });
    canon!({
        "name": solution.name.clone(),
        "role": solution.role.map(|role| format!("{role:?}")),
        "parts": solution.parts.clone(),
        "formulas": formulas.collect::<Vec<_>>(),
        "contains": solution.contains_in_order(),
        "needs": volume(solution.needs),
        "treats": treats.collect::<Vec<_>>(),
        "extend": solution.extend.map(|extend| canon!([extend.value.by.basis_points, extend.value.per_rolls])),
        "replenish": volume(solution.replenish),
        "rate": solution.rate.map(|rate| {
            canon!([rate.value.factor.in_base(1_000_000), rate.value.interval.base])
        }),
        "keeps": solution.keeps.map(|keeps| keeps.value.to_string()),
    })
}

fn item(item: &Item) -> Canon {
    let what = match &item.what {
        Substance::Water => Canon::from("water"),
        Substance::Known(ingredient) => Canon::from(ingredient.name),
        Substance::Other(name) => Canon::from(name.clone()),
    };
    let measure = match item.measure {
        Measure::Mass(mass) => canon!({ "pg": mass.pg }),
        Measure::Volume(volume) => canon!({ "fl": volume.fl }),
        Measure::UpTo(volume) => canon!({ "to_fl": volume.fl }),
        Measure::MassPerLitre(mass) => canon!({ "pg_per_l": mass.pg }),
        Measure::VolumePerLitre(volume) => canon!({ "fl_per_l": volume.fl }),
    };
    canon!({
        "what": what,
        "measure": measure,
        "state": item.state.clone(),
        "strength": item.strength.map(|share| share.basis_points),
        "at": item.at.map(|at| at.base),
    })
}

fn step(step: &Step) -> Canon {
    let time = |stated: Option<Stated<Time>>| stated.map(|stated| stated.value.ms);
    canon!({
        "kind": step.kind.word(),
        "name": step.name.clone(),
        "bath": step.bath.as_ref().map(bath),
        "duration": duration(&step.duration.value),
        "band": step.band.map(|band| match band.value {
            Band::Between(low, high) => canon!({ "between": canon!([low.base, high.base]) }),
            Band::Within(by) => canon!({ "within": by.base }),
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

fn bath(bath: &Bath) -> Canon {
    canon!({
        "solution": bath.solution.as_ref().map(|own| solution(own)),
        "dilution": dilution(&bath.dilution),
        "use": bath.fate.map(|fate| fate.word()),
    })
}

fn duration(duration: &Duration) -> Canon {
    let degrees = |at: Option<Temperature>| at.map(|at| at.base);
    match duration {
        Duration::Chart(chart) => {
            let points = chart.points().iter().map(|point| canon!([point.temperature.base, point.time.ms]));
            canon!({ "chart": points.collect::<Vec<_>>() })
        }
        Duration::Plain { time, at } => canon!({ "time": time.ms, "at": degrees(*at) }),
        Duration::Clearing { times, at_least } => {
            canon!({ "clearing": *times, "at_least": at_least.map(|time| time.ms) })
        }
        Duration::EachSide(time) => canon!({ "each_side": time.ms }),
        Duration::Changes(changes) => {
            let changes = changes.iter().map(|change| match change {
                Change::Inversions(count) => canon!({ "inversions": *count }),
                Change::Soak(time) => canon!({ "soak": time.ms }),
            });
            canon!({ "changes": changes.collect::<Vec<_>>() })
        }
        Duration::Flow { flow, time } => canon!({ "flow": flow.per_minute.fl, "time": time.ms }),
    }
}

fn agitation(scheme: &Scheme) -> Canon {
    let amount = |amount: &Amount| match amount {
        Amount::For(time) => canon!({ "ms": time.ms }),
        Amount::Inversions(count) => canon!({ "inversions": *count }),
    };
    let pulse = match &scheme.pulse {
        Pulse::None => Canon::from("none"),
        Pulse::Continuous => Canon::from("continuous"),
        Pulse::Rotary(speed) => canon!({ "rpm": speed.rpm }),
        Pulse::At { times, amount: length } => {
            canon!({ "at": times.iter().map(|time| time.ms).collect::<Vec<_>>(), "for": amount(length) })
        }
        Pulse::Interval { first, then } => canon!({
            "first": first.as_ref().map(amount),
            "then": then.as_ref().map(|(length, every)| canon!([amount(length), every.ms])),
        }),
    };
    canon!({
        "pulse": pulse,
        "by": scheme.by.map(Motion::word),
        "inversion": scheme.inversion.ms,
        "knock": scheme.knock.map(|knock| match knock {
            Knock::AfterEach => "each",
            Knock::Once => "once",
        }),
    })
}
