//! A schedule and a plan as JSON, by `grammar/schedule.schema.json` and `grammar/plan.schema.json`.

use super::object::{Json, Object, filled, list, ml, number, twelfths};
use super::phrase::{Fate, degree};
use super::{moments, plan::because};
use crate::chemistry::{Concern, Hazard, Name};
use crate::compile::{
    Added, Because, Cause, Decision, Doubt, Event, Leg, Light, PlannedBath, PlannedBottle, PlannedStep,
    Rests, SafetyLine, Schedule, Slot, Warning, safety_of,
};
use crate::model::{Chart, Deprecated, Exposed, Lighting, Material, StepKind, Tested, Time, Use};
use crate::plan::{Assumed, LeftOut, LeftRoll, Load, Mix, MixedAgain, OnHand, Plan, Poured, Taken};
use crate::source::{Diagnostic, Sources};

/// Raise the version of the schedule, or that of the plan, when a change breaks programs that read its JSON.
const VERSION: u32 = 2;
const PLAN_VERSION: u32 = 3;

/// The schedule as an indented JSON object. `sources` gives the file and line that each number comes from.
pub fn json(schedule: &Schedule, sources: &Sources) -> String {
    let recipe = Object::of("name", &schedule.recipe.name)
        .put("title", &schedule.recipe.title)
        .put("film", &schedule.film.name)
        .put("material", Some(schedule.film.material).filter(|it| *it != Material::Film).map(Material::word))
        .put("coated_both_sides", schedule.film.both_sides.then_some(true))
        .join(schedule.recipe.lighting.as_ref().map(|light| lamp(light)).unwrap_or_default())
        .put("tested", filled(list(&schedule.recipe.tested, tested)))
        .put("deprecated", schedule.recipe.deprecated.as_ref().map(|it| deprecated(it)))
        .put("file", sources.name(schedule.recipe.file))
        .put("fingerprint", schedule.fingerprint.full());
    Object::of("schedule", VERSION)
        .put("recipe", recipe)
        .put("conditions", conditions(schedule))
        .put("load", list(&schedule.load, slot))
        .put("hanging", list(schedule.load.iter().rev(), slot))
        .put("steps", list(&schedule.steps, |planned| step(schedule, planned, sources)))
        .put("legs", list(schedule.legs.iter().zip(1..), leg))
        .put("total_earliest_ms", schedule.earliest(schedule.total))
        .put("total_ms", schedule.total)
        .put("drying_ms", schedule.drying)
        .put("least_water_ml", ml(schedule.least_water))
        .put("water_ml", ml(schedule.water))
        .put("warnings", list(&schedule.warnings, warning))
        .put("advice", filled(list(&schedule.advice, warning)))
        .put("safety", safety_json(&safety_of(std::iter::once(schedule))))
        .put("hazards", hazards_json(&schedule.concerns))
        .put("cautions", &schedule.cautions)
        .put("first_aid", filled(&schedule.first_aid))
        .put("notes", filled(&schedule.notes))
        .text()
}

/// The entries of the safety block. An entry that takes several lines on the card is one text.
pub(super) fn safety_json(lines: &[SafetyLine]) -> Json {
    list(SafetyLine::entries(lines), |line| Object::of("word", line.word).put("text", line.text))
}

pub(super) fn hazards_json<'a>(concerns: impl IntoIterator<Item = &'a Concern>) -> Json {
    list(concerns.into_iter().flat_map(|concern| &concern.forms), |form| {
        let statement = |hazard: &&Hazard| {
            Object::of("code", hazard.code)
                .put("text", hazard.text)
                .put("from_memory", form.class.from_memory.contains(hazard).then_some(true))
        };
        let names = |names: &[Name]| filled(list(names, |name| &**name));
        Object::of("what", &form.what)
            .put("statements", list(&form.class.hazards, statement))
            .put("sensitisers", names(&form.class.sensitisers))
            .put("burning", names(&form.class.burning))
            .put("strength_not_stated", names(&form.silent))
            .put("ph_not_stated", form.needs_ph.then_some(true))
    })
}

fn tested(tested: &Tested) -> Object {
    Object::of("date", tested.date).put("text", tested.text.as_ref())
}

fn deprecated(deprecated: &Deprecated) -> Object {
    Object::of("because", &deprecated.reason).put("use", deprecated.instead.as_ref())
}

fn warning(warning: &Warning) -> Object {
    Object::of("rule", warning.rule).put("text", &warning.text)
}

fn conditions(schedule: &Schedule) -> Object {
    let asked = &schedule.conditions;
    let steps = list(&asked.step_temperatures, |step| {
        Object::of("kind", step.kind.word())
            .put("name", step.name.as_ref())
            .put("temperature_c", step.temperature)
    });
    let rolls =
        list(&asked.rolls, |rolls| Object::of("count", rolls.count).put("format", rolls.format.to_string()));
    Object::of("temperature_c", asked.temperature)
        .put("scale", degree(asked.scale).letter)
        .put("step_temperatures", filled(steps))
        .put("ending_c", asked.ending)
        .put("index", schedule.recipe.index.map(|index| index.value))
        .put("tank", asked.tank.as_ref().map(|tank| &tank.name))
        .put("rolls", rolls)
        .put("anyway", filled(list(&asked.anyway, Json::from)))
        .put("clears_ms", asked.clears)
        .put("dunk", asked.dunk.then_some("ok"))
}

fn slot(slot: &Slot) -> Object {
    Object::of("slot", slot.slot).put("label", slot.label.as_ref()).put("format", slot.format.to_string())
}

fn step(schedule: &Schedule, planned: &PlannedStep, sources: &Sources) -> Object {
    let bath = planned.bath.as_ref();
    let is_own =
        |light: &Light| schedule.steps.get(light.step).is_some_and(|step| std::ptr::eq(step, planned));
    let light = schedule.light.filter(is_own);
    let points = planned.chart.iter().flat_map(Chart::points);
    let chart =
        list(points, |point| Object::of("temperature_c", point.temperature).put("time_ms", point.time));
    Object::of("kind", planned.kind.word())
        .put("name", planned.name.as_ref())
        .put("round", planned.round.map(|(round, _)| round))
        .put("rounds", planned.round.map(|(_, rounds)| rounds))
        .put("solution", bath.map(|bath| &bath.solution))
        .put("part", bath.and_then(|bath| bath.part.as_ref()))
        .put("dilution", bath.and_then(|bath| bath.dilution.as_ref()))
        .put("bath", bath.and_then(|bath| bath.name.as_ref()))
        .put("becomes", bath.and_then(|bath| bath.becomes.as_ref()))
        .put("used_of_step", bath.and_then(|bath| bath.used))
        .put("use", bath.and_then(|bath| bath.reuse).map(Use::word))
        .put("bottle", bath.and_then(|bath| bath.bottle.as_ref()).map(bottle))
        .put("leg", schedule.leg(planned.start) + 1)
        .put("start_ms", planned.start - schedule.leg_start(planned.start))
        .put("earliest_ms", schedule.earliest(planned.start))
        .put("latest_ms", planned.start)
        .put("duration_ms", planned.duration)
        .put("decision", planned.decision.as_ref().map(decision))
        .put("fill_ms", planned.fill)
        .put("drain_ms", planned.drain)
        .put("handling_ms", Some(planned.handling).filter(|time| time.ms > 0))
        .put("temperature_c", planned.temperature)
        .put("ending_c", planned.ending)
        .put("lowest_c", planned.allowed.map(|(low, _)| low))
        .put("highest_c", planned.allowed.map(|(_, high)| high))
        .put("chart", filled(chart))
        .join(bath.map(filling).unwrap_or_default())
        .put("agitation", moments::agitation(schedule, planned))
        .put("light_safe", (planned.lighting == Some(Lighting::Room)).then_some(true))
        .join(planned.lighting.as_ref().filter(|it| **it != Lighting::Room).map(lamp).unwrap_or_default())
        .put("light_leg", light.map(|light| schedule.leg(light.at) + 1))
        .put("light_from_ms", light.map(|light| light.at - schedule.leg_start(light.at)))
        .put("in_fixer_ms", light.and_then(|light| light.in_fixer))
        .put("light", planned.light.as_ref())
        .put("events", list(&planned.events, |one| event(schedule, one)))
        .put("rests_on", planned.rests.as_ref().map(rests))
        .put("give_or_take", planned.doubt.as_ref().map(|doubt| give_or_take(doubt, planned)))
        .put("because", list(&planned.because, |because| reason(because, sources)))
        .put("notes", filled(&planned.notes))
        .put("cautions", filled(&planned.cautions))
}

fn rests(rests: &Rests) -> Object {
    Object::of("trial", &rests.trial)
        .put("pieces", rests.pieces)
        .put("contrast", rests.contrast.map(thousandths))
        .put("give_or_take_ms", rests.give_or_take)
        .put("text", &rests.words)
}

/// How far the time of a step may be off, as JSON. The `share` of a cause is the square of its uncertainty, divided by
/// the sum of these squares.
fn give_or_take(doubt: &Doubt, planned: &PlannedStep) -> Object {
    let squares: f64 = doubt.parts.iter().map(|part| part.share * part.share).sum();
    let cause = |part: &Cause| {
        Object::of("what", part.what)
            .put("limit", &part.limit)
            .put("assumed", part.is_assumed.then_some(true))
            .put("share", thousandths(part.share * part.share / squares))
    };
    Object::of("ms", Time::from_minutes(doubt.share * planned.duration.seconds() / 60.0))
        .put("share", thousandths(doubt.share))
        .put("contrast", doubt.contrast.map(thousandths))
        .put("causes", list(&doubt.parts, cause))
}

fn thousandths(number: f64) -> f64 {
    libm::floor(number * 1000.0 + 0.5) / 1000.0
}

fn lamp(lighting: &Lighting) -> Object {
    match lighting {
        Lighting::None => Object::of("lighting", "none"),
        Lighting::Room => Object::of("lighting", "room"),
        Lighting::Safelight(lamp) => Object::of("lighting", "safelight").put("lamp", lamp),
    }
}

/// A bottle as JSON. Treated and remaining film is counted in twelfths of a roll of 80 square inches.
fn bottle(bottle: &PlannedBottle) -> Object {
    Object::of("name", &bottle.name)
        .put("on", bottle.on)
        .put("treated_twelfths", twelfths(bottle.treated))
        .put("left_twelfths", bottle.left.map(twelfths))
}

fn filling(bath: &PlannedBath) -> Object {
    Object::of("volume_ml", ml(bath.volume))
        .put("pours", Some(bath.pours).filter(|pours| *pours > 1))
        .put("parts", filled(list(&bath.parts, |part| part_of(&part.what, ml(part.volume)))))
        .put("with", bath.added.as_ref().map(added))
        .put("water_ml", ml(bath.water))
        .put("mix_at_ms", bath.mixed)
        .put("keeps_ms", bath.lives)
        .put("flow_ml_per_min", bath.flow.map(ml))
        .put("replenish_ml", bath.replenish.map(ml))
        .put("replenish_with", bath.replenisher.as_ref().map(|with| &with.name))
}

pub(super) fn added(added: &Added) -> Object {
    Object::of("solution", &added.name).put("title", &added.title).put("ml_per_l", ml(added.per_litre))
}

pub(super) fn part_of(what: &str, ml: Json) -> Object {
    Object::of("what", what).put("ml", ml)
}

/// A leg as JSON, with its number from 1. A leg begins with the session, or where a person ends a step at a sign.
fn leg((leg, number): (&Leg, usize)) -> Object {
    Object::of("leg", number)
        .put("after_step", leg.after.map(|at| at + 1))
        .put("earliest_ms", leg.earliest)
        .put("latest_ms", leg.start)
}

fn decision(decision: &Decision) -> Object {
    Object::of("sign", &decision.sign)
        .put("times", decision.times.map(|times| number(&times.to_string())))
        .put("least_ms", decision.least)
        .put("most_ms", decision.most)
        .put("look_ms", decision.look)
        .put("looks_ms", filled(list(&decision.looks, |look| Json::from(*look))))
}

fn event(schedule: &Schedule, event: &Event) -> Object {
    Object::of("leg", schedule.leg(event.at) + 1)
        .put("at_ms", event.at - schedule.leg_start(event.at))
        .put("for_ms", event.length)
        .put("do", event.action.word())
        .put("by", event.by)
        .put("count", event.count)
}

fn reason(because: &Because, sources: &Sources) -> Object {
    let from = list(&because.from, |span| {
        Object::of("file", sources.name(span.file)).put("line", sources.place(*span).line)
    });
    Object::of("of", &because.of)
        .put("rule", because.rule)
        .put("text", &because.text)
        .put("exact", because.exact.filter(|exact| exact.is_finite()))
        .put("from", from)
}

/// The plan as an indented JSON object.
pub fn plan_json(plan: &Plan) -> String {
    let assumed = list(&plan.assumed, |what| match what {
        Assumed::Temperature => "temperature_c",
        Assumed::Tank => "tank",
        Assumed::Day => "on",
    });
    let done = list(&plan.done, |(roll, day)| Object::of("label", &roll.label).put("date", *day));
    let idle =
        list(&plan.idle, |idle| Object::of("bottle", &idle.name).put("because", because(idle.because)));
    Object::of("plan", PLAN_VERSION)
        .put("backlog", &plan.title)
        .put("tank", &plan.tank.name)
        .put("temperature_c", plan.conditions.temperature)
        .put("ending_c", plan.conditions.ending)
        .put("on", plan.days.map(|days| days.first))
        .put("assumed", assumed)
        .put("loads", list(plan.loads.iter().zip(1..), |(one, number)| load(plan, one, number)))
        .put("left_out", list(&plan.left, left_out))
        .put("bound", plan.bound)
        .put("is_fewest", plan.is_fewest)
        .put("safety", safety_json(&safety_of(plan.loads.iter().map(|load| &load.schedule))))
        .put("done", done)
        .put("bench_earliest_ms", plan.shortest_bench())
        .put("bench_ms", plan.bench())
        .put("drying_ms", plan.drying())
        .put("least_water_ml", ml(plan.least_water()))
        .put("water_ml", ml(plan.water()))
        .put("take", list(&plan.taken, take))
        .put("waste", list(&plan.poured, waste))
        .put("idle", idle)
        .text()
}

fn left_out(left: &LeftOut) -> Object {
    let reason = |fault: &Diagnostic| Object::of("name", fault.name).put("message", &fault.message);
    Object::of("reasons", list(&left.faults, reason)).put("rolls", list(&left.rolls, left_roll))
}

fn load(plan: &Plan, load: &Load, number: usize) -> Object {
    let schedule = &load.schedule;
    let develop = schedule.steps.iter().find(|step| step.kind == StepKind::Develop);
    Object::of("load", number)
        .put("on", plan.days.map(|_| load.on))
        .put("recipe", &schedule.recipe.name)
        .put("fingerprint", schedule.fingerprint.full())
        .put("total_earliest_ms", schedule.earliest(schedule.total))
        .put("total_ms", schedule.total)
        .put("develop_earliest_ms", develop.map(earliest))
        .put("develop_ms", develop.map(|step| step.duration))
        .put("warnings", list(&schedule.warnings, warning))
        .put("advice", filled(list(&schedule.advice, warning)))
        .put("mix", list(&load.mixes, mix))
        .put("baths", list(schedule.steps.iter().filter_map(load_bath), Json::from))
        .put("rolls", list(load.rolls.iter().zip(1..), |(one, slot)| roll(one, Some(slot))))
        .put("hang", list(load.rolls.iter().rev(), |roll| &roll.label))
}

/// The shortest possible duration of a step. A step that a person ends at a sign can be shorter than planned.
fn earliest(step: &PlannedStep) -> Time {
    step.decision.as_ref().map_or(step.duration, |decision| decision.least)
}

fn load_bath(step: &PlannedStep) -> Option<Object> {
    let bath = step.bath.as_ref()?;
    let object = Object::of("step", step.kind.word())
        .put("name", step.name.as_ref())
        .put("bath", bath.name.as_ref())
        .put("solution", &bath.solution)
        .put("dilution", bath.dilution.as_ref()?)
        .put("use", bath.reuse.map(Use::word))
        .put("volume_ml", ml(bath.volume))
        .put("with", bath.added.as_ref().map(added))
        .put("bottle", bath.bottle.as_ref().map(|bottle| &bottle.name));
    Some(object)
}

pub(super) fn mix(mix: &Mix) -> Object {
    let because = mix.because.map(|because| match because {
        MixedAgain::Spent => "used up",
        MixedAgain::PastKeeping(_) => "past keeping",
    });
    Object::of("solution", &mix.title)
        .put("bath", mix.name.as_ref())
        .put("dilution", &mix.dilution)
        .put("volume_ml", ml(mix.volume))
        .put("parts", list(&mix.parts, |part| part_of(&part.what, ml(part.volume))))
        .put("because", because)
}

fn roll(roll: &Exposed, slot: Option<u32>) -> Object {
    Object::default()
        .put("slot", slot)
        .put("label", &roll.label)
        .put("film", &roll.film.title)
        .put("format", roll.format.to_string())
        .put("index", roll.exposed_at())
        .put("shot", roll.shot)
}

fn left_roll(roll: &LeftRoll) -> Object {
    Object::of("label", &roll.label)
        .put("film", &roll.film)
        .put("format", &roll.format)
        .put("index", roll.index)
        .put("shot", roll.shot)
}

pub(super) fn take(taken: &Taken) -> Object {
    Object::of("what", &taken.what)
        .put("tops_up", taken.tops_up.then_some(true))
        .put("ml", ml(taken.volume))
        .put("package_ml", taken.packages.map(|(package, _)| ml(package)))
        .put("packages", taken.packages.map(|(_, count)| count).filter(|count| *count > 0))
        .put("on_hand", filled(list(&taken.on_hand, on_hand)))
        .put("short_ml", (!taken.on_hand.is_empty()).then(|| ml(taken.short())))
        .put("mix_ml", taken.to_mix().map(ml))
}

fn on_hand(one: &OnHand) -> Object {
    let bottle = one.bottle.as_ref();
    Object::of("ml", ml(one.volume))
        .put("bottle", bottle.map(|(name, _)| name))
        .put("mixed", bottle.map(|(_, mixed)| *mixed))
}

fn waste(poured: &Poured) -> Object {
    let when = if poured.reuse.is_some_and(Use::is_kept) { "once it is spent" } else { "after each load" };
    Object::of("solution", &poured.solution.title)
        .put("dilution", &poured.dilution)
        .put("ml", ml(poured.volume))
        .put("when", when)
        .put("to", Fate::exhausted(poured.step, poured.solution.role).words())
}
