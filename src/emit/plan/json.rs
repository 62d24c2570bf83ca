//! A plan as JSON, held to `grammar/plan.schema.json`.

use super::super::json::{part_of, warning};
use super::super::naming::spent;
use super::super::object::{Json, Object, list, ml};
use super::because;
use crate::compile::PlannedStep;
use crate::model::{Exposed, StepKind, Use};
use crate::plan::{Assumed, LeftOut, Load, Mix, MixedAgain, Plan, Poured, Taken};
use crate::source::Diagnostic;

/// The version of the format; it grows with each incompatible change.
const VERSION: u32 = 2;

/// The plan as one indented JSON object.
#[must_use]
pub fn plan_json(plan: &Plan) -> String {
    let assumed = list(&plan.assumed, |what| match what {
        Assumed::Temperature => "temperature_c",
        Assumed::Day => "on",
    });
    let done = list(&plan.done, |(label, day)| Object::of("label", label).put("date", *day));
    let idle =
        list(&plan.idle, |idle| Object::of("bottle", &idle.name).put("because", because(idle.because)));
    Object::of("plan", VERSION)
        .put("backlog", &plan.title)
        .put("tank", &plan.tank.name)
        .put("temperature_c", plan.conditions.temperature)
        .put("on", plan.days.map(|days| days.first))
        .put("assumed", assumed)
        .put("loads", list(plan.loads.iter().zip(1..), |(one, number)| load(plan, one, number)))
        .put("left_out", list(&plan.left, left_out))
        .put("bound", plan.bound)
        .put("is_fewest", plan.is_fewest)
        .put("done", done)
        .put("bench_ms", plan.bench())
        .put("drying_ms", plan.drying())
        .put("water_ml", ml(plan.water()))
        .put("take", list(&plan.taken, take))
        .put("waste", list(&plan.poured, waste))
        .put("idle", idle)
        .text()
}

fn left_out(left: &LeftOut) -> Object {
    let reason = |fault: &Diagnostic| Object::of("name", fault.name).put("message", &fault.message);
    Object::of("reasons", list(&left.faults, reason)).put("rolls", list(&left.rolls, |one| roll(one, None)))
}

fn load(plan: &Plan, load: &Load, number: usize) -> Object {
    let schedule = &load.schedule;
    let develop = schedule.steps.iter().find(|step| step.kind == StepKind::Develop);
    Object::of("load", number)
        .put("on", plan.days.map(|_| load.on))
        .put("recipe", &schedule.recipe.name)
        .put("fingerprint", &schedule.fingerprint)
        .put("total_ms", schedule.total)
        .put("develop_ms", develop.map(|step| step.duration))
        .put("warnings", list(&schedule.warnings, warning))
        .put("mix", list(&load.mixes, mix))
        .put("baths", list(schedule.steps.iter().filter_map(bath), Json::from))
        .put("rolls", list(load.rolls.iter().zip(1..), |(one, slot)| roll(one, Some(slot))))
        .put("hang", list(load.rolls.iter().rev(), |roll| &roll.label))
}

fn bath(step: &PlannedStep) -> Option<Object> {
    let bath = step.bath.as_ref()?;
    let object = Object::of("step", step.kind.word())
        .put("solution", &bath.solution)
        .put("dilution", bath.dilution.as_ref()?)
        .put("use", bath.fate.map(Use::word))
        .put("volume_ml", ml(bath.volume))
        .put("bottle", bath.bottle.as_ref().map(|bottle| &bottle.name));
    Some(object)
}

fn mix(mix: &Mix) -> Object {
    let because = mix.because.map(|because| match because {
        MixedAgain::Spent => "used up",
        MixedAgain::PastKeeping(_) => "past keeping",
    });
    Object::of("solution", &mix.title)
        .put("dilution", &mix.dilution)
        .put("volume_ml", ml(mix.volume))
        .put("parts", list(&mix.parts, |(what, volume)| part_of(what, ml(*volume))))
        .put("because", because)
}

fn roll(roll: &Exposed, slot: Option<u32>) -> Object {
    Object::default()
        .put("slot", slot)
        .put("label", &roll.label)
        .put("film", &roll.film.title)
        .put("format", roll.format.word())
        .put("index", roll.exposed_at())
        .put("shot", roll.shot)
}

fn take(taken: &Taken) -> Object {
    Object::of("what", &taken.what)
        .put("tops_up", taken.tops_up.then_some(true))
        .put("ml", ml(taken.volume))
        .put("package_ml", taken.packages.map(|(package, _)| ml(package)))
        .put("packages", taken.packages.map(|(_, count)| count))
}

fn waste(poured: &Poured) -> Object {
    let when = if poured.fate.is_some_and(Use::is_kept) { "once it is spent" } else { "after each load" };
    Object::of("solution", &poured.title)
        .put("dilution", &poured.dilution)
        .put("ml", ml(poured.volume))
        .put("when", when)
        .put("to", spent(poured.step, poured.role).words().unwrap_or_default())
}
