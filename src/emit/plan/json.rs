//! A plan as JSON, for programs. The shapes are a promise to others and are held to
//! `grammar/plan.schema.json`.

use serde::Serialize;

use super::super::fate;
use super::super::json::Figure;
use super::super::plain::plain;
use super::sheet::because;
use crate::compile::Doubt;
use crate::model::{StepKind, Use};
use crate::plan::{Anew, Assumed, Idle, LeftOut, Load, Mix, Plan, Poured, Roll, Taken};

/// The number of this shape; a change that a reader would notice raises it.
const VERSION: u32 = 2;

#[derive(Serialize)]
struct PlanOut {
    plan: u32,
    backlog: String,
    tank: String,
    temperature_c: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    on: Option<String>,
    assumed: Vec<&'static str>,
    loads: Vec<LoadOut>,
    left_out: Vec<LeftOutOut>,
    bound: usize,
    is_fewest: bool,
    done: Vec<DoneOut>,
    bench_ms: i64,
    drying_ms: i64,
    water_ml: Figure,
    take: Vec<TakeOut>,
    waste: Vec<WasteOut>,
    idle: Vec<IdleOut>,
}

#[derive(Serialize)]
struct LoadOut {
    load: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    on: Option<String>,
    recipe: String,
    fingerprint: String,
    total_ms: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    develop_ms: Option<i64>,
    warnings: Vec<WarningOut>,
    mix: Vec<MixOut>,
    baths: Vec<BathOut>,
    rolls: Vec<RollOut>,
    hang: Vec<String>,
}

#[derive(Serialize)]
struct WarningOut {
    rule: &'static str,
    text: String,
}

#[derive(Serialize)]
struct MixOut {
    solution: String,
    dilution: String,
    volume_ml: Figure,
    parts: Vec<PartOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    because: Option<&'static str>,
}

#[derive(Serialize)]
struct PartOut {
    what: String,
    ml: Figure,
}

#[derive(Serialize)]
struct BathOut {
    step: &'static str,
    solution: String,
    dilution: String,
    #[serde(rename = "use", skip_serializing_if = "Option::is_none")]
    fate: Option<&'static str>,
    volume_ml: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    bottle: Option<String>,
}

#[derive(Serialize)]
struct LeftOutOut {
    reasons: Vec<ReasonOut>,
    rolls: Vec<RollOut>,
}

#[derive(Serialize)]
struct ReasonOut {
    name: &'static str,
    message: String,
}

#[derive(Serialize)]
struct IdleOut {
    bottle: String,
    because: &'static str,
}

#[derive(Serialize)]
struct RollOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    slot: Option<u32>,
    label: String,
    film: String,
    format: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    index: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shot: Option<String>,
}

#[derive(Serialize)]
struct DoneOut {
    label: String,
    date: String,
}

#[derive(Serialize)]
struct TakeOut {
    what: String,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    tops_up: bool,
    ml: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    package_ml: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    packages: Option<i64>,
}

#[derive(Serialize)]
struct WasteOut {
    solution: String,
    dilution: String,
    ml: Figure,
    when: &'static str,
    to: &'static str,
}

/// The plan as one object, with a line ending behind it.
///
/// # Errors
/// The plan could not be written, which no plan that comes of planning does.
pub fn plan_json(plan: &Plan) -> serde_json::Result<String> {
    let out = PlanOut {
        plan: VERSION,
        backlog: plain(&plan.title),
        tank: plain(&plan.tank.name),
        temperature_c: Figure::celsius(plan.conditions.temperature),
        on: plan.days.map(|days| days.first.to_string()),
        assumed: plan.assumed.iter().map(|what| assumed(*what)).collect(),
        loads: plan.loads.iter().zip(1..).map(|(load, number)| load_out(plan, load, number)).collect(),
        left_out: plan.left.iter().map(left_out).collect(),
        bound: plan.bound,
        is_fewest: plan.is_fewest,
        done: plan
            .done
            .iter()
            .map(|(label, day)| DoneOut { label: plain(label), date: day.to_string() })
            .collect(),
        bench_ms: plan.bench().ms,
        drying_ms: plan.drying().ms,
        water_ml: Figure::ml(plan.water()),
        take: plan.taken.iter().map(take).collect(),
        waste: plan.poured.iter().map(waste).collect(),
        idle: plan.idle.iter().map(idle).collect(),
    };
    Ok(serde_json::to_string_pretty(&out)? + "\n")
}

/// The key whose value nobody gave.
fn assumed(what: Assumed) -> &'static str {
    match what {
        Assumed::Temperature => "temperature_c",
        Assumed::Day => "on",
    }
}

fn left_out(left: &LeftOut) -> LeftOutOut {
    let reasons = left.faults.iter();
    LeftOutOut {
        reasons: reasons
            .map(|fault| ReasonOut { name: fault.name, message: plain(&fault.message) })
            .collect(),
        rolls: left.rolls.iter().map(|roll| roll_out(roll, None)).collect(),
    }
}

fn idle(idle: &Idle) -> IdleOut {
    IdleOut { bottle: plain(&idle.name), because: because(idle.because) }
}

fn load_out(plan: &Plan, load: &Load, number: usize) -> LoadOut {
    let schedule = &load.schedule;
    let develop = schedule.steps.iter().find(|step| step.kind == StepKind::Develop);
    let baths = schedule.steps.iter().filter_map(|step| {
        let bath = step.bath.as_ref()?;
        Some(BathOut {
            step: step.kind.word(),
            solution: plain(&bath.solution),
            dilution: bath.dilution.as_ref()?.to_string(),
            fate: bath.fate.map(Use::word),
            volume_ml: Figure::ml(bath.volume),
            bottle: bath.bottle.as_ref().map(|bottle| plain(&bottle.name)),
        })
    });
    LoadOut {
        load: number,
        on: plan.days.map(|_| load.on.to_string()),
        recipe: schedule.recipe.name.clone(),
        fingerprint: schedule.fingerprint.clone(),
        total_ms: schedule.total.ms,
        develop_ms: develop.map(|step| step.duration.ms),
        warnings: schedule.warnings.iter().map(warning).collect(),
        mix: load.mixes.iter().map(mix).collect(),
        baths: baths.collect(),
        rolls: load.rolls.iter().zip(1..).map(|(roll, slot)| roll_out(roll, Some(slot))).collect(),
        hang: load.rolls.iter().rev().map(|roll| plain(&roll.label)).collect(),
    }
}

fn warning(doubt: &Doubt) -> WarningOut {
    WarningOut { rule: doubt.rule, text: plain(&doubt.text) }
}

fn mix(mix: &Mix) -> MixOut {
    let part = |(what, volume): &(String, _)| PartOut { what: plain(what), ml: Figure::ml(*volume) };
    MixOut {
        solution: plain(&mix.title),
        dilution: mix.dilution.to_string(),
        volume_ml: Figure::ml(mix.volume),
        parts: mix.parts.iter().map(part).collect(),
        because: mix.because.map(|because| match because {
            Anew::Spent => "used up",
            Anew::PastKeeping(_) => "past keeping",
        }),
    }
}

fn roll_out(roll: &Roll, slot: Option<u32>) -> RollOut {
    RollOut {
        slot,
        label: plain(&roll.label),
        film: plain(&roll.film),
        format: roll.format.word(),
        index: roll.index,
        shot: roll.shot.map(|shot| shot.to_string()),
    }
}

fn take(taken: &Taken) -> TakeOut {
    TakeOut {
        what: plain(&taken.what),
        tops_up: taken.tops_up,
        ml: Figure::ml(taken.volume),
        package_ml: taken.packages.map(|(package, _)| Figure::ml(package)),
        packages: taken.packages.map(|(_, count)| count),
    }
}

fn waste(poured: &Poured) -> WasteOut {
    WasteOut {
        solution: plain(&poured.title),
        dilution: poured.dilution.to_string(),
        ml: Figure::ml(poured.volume),
        when: match poured.fate {
            Some(Use::Reused | Use::Replenished) => "once it is spent",
            Some(Use::OneShot) | None => "after each load",
        },
        to: fate::spent(poured.step, poured.role).words().unwrap_or_default(),
    }
}
