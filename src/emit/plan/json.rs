//! A plan as JSON, held to `grammar/plan.schema.json`.

use super::super::fate;
use super::super::json::{part_of, warning};
use super::super::object::{Json, Object, celsius, list, ml};
use super::super::plain::plain;
use super::sheet::because;
use crate::compile::PlannedStep;
use crate::model::{StepKind, Use};
use crate::plan::{Assumed, LeftOut, Load, Mix, MixedAgain, Plan, Poured, Roll, Taken};

/// The version of the format; it grows with each incompatible change.
const VERSION: u32 = 2;

/// The plan as one indented JSON object.
#[must_use]
pub fn plan_json(plan: &Plan) -> String {
    let assumed = |what: &Assumed| match what {
        Assumed::Temperature => "temperature_c",
        Assumed::Day => "on",
    };
    let done = list(&plan.done, |(label, day)| {
        Object::new().put("label", plain(label)).put("date", day.to_string())
    });
    let idle = list(&plan.idle, |idle| {
        Object::new().put("bottle", plain(&idle.name)).put("because", because(idle.because))
    });
    Object::new()
        .put("plan", VERSION)
        .put("backlog", plain(&plan.title))
        .put("tank", plain(&plan.tank.name))
        .put("temperature_c", celsius(plan.conditions.temperature))
        .put("on", plan.days.map(|days| days.first.to_string()))
        .put("assumed", list(&plan.assumed, assumed))
        .put("loads", list(plan.loads.iter().zip(1..), |(load, number)| load_out(plan, load, number)))
        .put("left_out", list(&plan.left, left_out))
        .put("bound", plan.bound)
        .put("is_fewest", plan.is_fewest)
        .put("done", done)
        .put("bench_ms", plan.bench().ms)
        .put("drying_ms", plan.drying().ms)
        .put("water_ml", ml(plan.water()))
        .put("take", list(&plan.taken, take))
        .put("waste", list(&plan.poured, waste))
        .put("idle", idle)
        .text()
}

fn left_out(left: &LeftOut) -> Object {
    let reasons = list(&left.faults, |fault| {
        Object::new().put("name", fault.name).put("message", plain(&fault.message))
    });
    Object::new().put("reasons", reasons).put("rolls", list(&left.rolls, |roll| roll_out(roll, None)))
}

fn load_out(plan: &Plan, load: &Load, number: usize) -> Object {
    let schedule = &load.schedule;
    let develop = schedule.steps.iter().find(|step| step.kind == StepKind::Develop);
    Object::new()
        .put("load", number)
        .put("on", plan.days.map(|_| load.on.to_string()))
        .put("recipe", schedule.recipe.name.as_str())
        .put("fingerprint", schedule.fingerprint.as_str())
        .put("total_ms", schedule.total.ms)
        .put("develop_ms", develop.map(|step| step.duration.ms))
        .put("warnings", list(&schedule.warnings, warning))
        .put("mix", list(&load.mixes, mix))
        .put("baths", list(schedule.steps.iter().filter_map(bath), Json::from))
        .put("rolls", list(load.rolls.iter().zip(1..), |(roll, slot)| roll_out(roll, Some(slot))))
        .put("hang", list(load.rolls.iter().rev(), |roll| plain(&roll.label)))
}

fn bath(step: &PlannedStep) -> Option<Object> {
    let bath = step.bath.as_ref()?;
    let object = Object::new()
        .put("step", step.kind.word())
        .put("solution", plain(&bath.solution))
        .put("dilution", bath.dilution.as_ref()?.to_string())
        .put("use", bath.fate.map(Use::word))
        .put("volume_ml", ml(bath.volume))
        .put("bottle", bath.bottle.as_ref().map(|bottle| plain(&bottle.name)));
    Some(object)
}

fn mix(mix: &Mix) -> Object {
    let because = mix.because.map(|because| match because {
        MixedAgain::Spent => "used up",
        MixedAgain::PastKeeping(_) => "past keeping",
    });
    Object::new()
        .put("solution", plain(&mix.title))
        .put("dilution", mix.dilution.to_string())
        .put("volume_ml", ml(mix.volume))
        .put("parts", list(&mix.parts, |(what, volume)| part_of(what, ml(*volume))))
        .put("because", because)
}

fn roll_out(roll: &Roll, slot: Option<u32>) -> Object {
    Object::new()
        .put("slot", slot)
        .put("label", plain(&roll.label))
        .put("film", plain(&roll.film))
        .put("format", roll.format.word())
        .put("index", roll.index)
        .put("shot", roll.shot.map(|shot| shot.to_string()))
}

fn take(taken: &Taken) -> Object {
    Object::new()
        .put("what", plain(&taken.what))
        .put("tops_up", Some(true).filter(|_| taken.tops_up))
        .put("ml", ml(taken.volume))
        .put("package_ml", taken.packages.map(|(package, _)| ml(package)))
        .put("packages", taken.packages.map(|(_, count)| count))
}

fn waste(poured: &Poured) -> Object {
    let when = match poured.fate {
        Some(Use::Reused | Use::Replenished) => "once it is spent",
        Some(Use::OneShot) | None => "after each load",
    };
    Object::new()
        .put("solution", plain(&poured.title))
        .put("dilution", poured.dilution.to_string())
        .put("ml", ml(poured.volume))
        .put("when", when)
        .put("to", fate::spent(poured.step, poured.role).words().unwrap_or_default())
}
