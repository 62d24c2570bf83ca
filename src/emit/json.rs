//! The schedule as JSON, held to `grammar/schedule.schema.json`.

use super::object::{Json, Object, filled, list, ml};
use super::{moving, naming};
use crate::compile::{Because, Doubt, Event, PlannedBath, PlannedBottle, PlannedStep, Scale, Schedule, Slot};
use crate::model::{Chart, Step};
use crate::source::Sources;

/// The version of the format; it grows with each incompatible change.
const VERSION: u32 = 1;

/// The schedule as one indented JSON object. `sources` names the files and lines of its numbers.
#[must_use]
pub fn json(schedule: &Schedule, sources: &Sources) -> String {
    let recipe = Object::of("name", &schedule.recipe.name)
        .put("title", &schedule.recipe.title)
        .put("film", &schedule.film.name)
        .put("file", sources.name(schedule.recipe.file))
        .put("fingerprint", &schedule.fingerprint);
    let steps = list(&schedule.steps, |planned| step(planned, naming::written(schedule, planned), sources));
    Object::of("schedule", VERSION)
        .put("recipe", recipe)
        .put("conditions", conditions(schedule))
        .put("load", list(&schedule.load, slot))
        .put("hanging", list(schedule.load.iter().rev(), slot))
        .put("steps", steps)
        .put("total_ms", schedule.total)
        .put("drying_ms", schedule.drying)
        .put("water_ml", ml(schedule.water))
        .put("warnings", list(&schedule.warnings, warning))
        .put("cautions", &schedule.cautions)
        .put("notes", filled(&schedule.notes))
        .text()
}

pub(super) fn warning(warning: &Doubt) -> Object {
    Object::of("rule", warning.rule).put("text", &warning.text)
}

fn conditions(schedule: &Schedule) -> Object {
    let asked = &schedule.conditions;
    let steps = list(&asked.step_temperatures, |step| {
        Object::of("kind", step.kind.word())
            .put("name", step.name.as_ref())
            .put("temperature_c", step.temperature)
    });
    let scale = match asked.scale {
        Scale::Celsius => "C",
        Scale::Fahrenheit => "F",
    };
    let rolls =
        list(&asked.rolls, |rolls| Object::of("count", rolls.count).put("format", rolls.format.word()));
    Object::of("temperature_c", asked.temperature)
        .put("scale", scale)
        .put("step_temperatures", filled(steps))
        .put("ending_c", asked.ending)
        .put("index", schedule.recipe.index.map(|index| index.value))
        .put("tank", asked.tank.as_ref().map(|tank| &tank.name))
        .put("rolls", rolls)
}

fn slot(slot: &Slot) -> Object {
    Object::of("slot", slot.slot).put("label", slot.label.as_ref()).put("format", slot.format.word())
}

fn step(planned: &PlannedStep, written: Option<&Step>, sources: &Sources) -> Object {
    let bath = planned.bath.as_ref();
    let points = planned.chart.iter().flat_map(Chart::points);
    let chart =
        list(points, |point| Object::of("temperature_c", point.temperature).put("time_ms", point.time));
    Object::of("kind", planned.kind.word())
        .put("name", planned.name.as_ref())
        .put("solution", bath.map(|bath| &bath.solution))
        .put("dilution", bath.and_then(|bath| bath.dilution.as_ref()))
        .put("use", bath.and_then(|bath| bath.fate).map(|fate| fate.word()))
        .put("bottle", bath.and_then(|bath| bath.bottle.as_ref()).map(bottle))
        .put("start_ms", planned.start)
        .put("duration_ms", planned.duration)
        .put("fill_ms", planned.fill)
        .put("drain_ms", planned.drain)
        .put("handling_ms", Some(planned.handling).filter(|time| time.ms > 0))
        .put("temperature_c", planned.temperature)
        .put("ending_c", planned.ending)
        .put("chart", filled(chart))
        .join(bath.map(filling).unwrap_or_default())
        .put("agitation", moving::agitation(planned, written))
        .put("light_safe", planned.light_safe.then_some(true))
        .put("light", planned.light.as_ref())
        .put("events", list(&planned.events, event))
        .put("because", list(&planned.because, |because| reason(because, sources)))
        .put("notes", filled(&planned.notes))
        .put("cautions", filled(&planned.cautions))
}

/// Film is counted in twelfths of a roll of 80 square inches.
fn bottle(bottle: &PlannedBottle) -> Object {
    Object::of("name", &bottle.name)
        .put("on", bottle.on)
        .put("treated_twelfths", bottle.treated)
        .put("left_twelfths", bottle.left)
}

fn filling(bath: &PlannedBath) -> Object {
    Object::of("volume_ml", ml(bath.volume))
        .put("pours", Some(bath.pours).filter(|pours| *pours > 1))
        .put("parts", filled(list(&bath.parts, |part| part_of(&part.what, ml(part.volume)))))
        .put("water_ml", ml(bath.water))
        .put("flow_ml_per_min", bath.flow.map(ml))
        .put("replenish_ml", bath.replenish.map(ml))
}

pub(super) fn part_of(what: &str, ml: Json) -> Object {
    Object::of("what", what).put("ml", ml)
}

fn event(event: &Event) -> Object {
    Object::of("at_ms", event.at)
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
