//! The schedule as JSON, held to `grammar/schedule.schema.json`.

use super::object::{Json, Object, celsius, filled, list, ml};
use super::plain::{all_plain, plain};
use super::{moving, naming};
use crate::compile::{Because, Doubt, Event, PlannedBath, PlannedBottle, PlannedStep, Scale, Schedule, Slot};
use crate::model::{Chart, Rolls, Step};
use crate::source::Sources;

/// The version of the format; it grows with each incompatible change.
const VERSION: u32 = 1;

/// The schedule as one indented JSON object. `sources` names the files and lines of its numbers.
#[must_use]
pub fn json(schedule: &Schedule, sources: &Sources) -> String {
    let recipe = &schedule.recipe;
    let steps = schedule.steps.iter();
    Object::new()
        .put("schedule", VERSION)
        .put(
            "recipe",
            Object::new()
                .put("name", plain(&recipe.name))
                .put("title", plain(&recipe.title))
                .put("film", plain(&schedule.film.name))
                .put("file", plain(sources.name(recipe.file)))
                .put("fingerprint", schedule.fingerprint.as_str()),
        )
        .put("conditions", conditions(schedule))
        .put("load", list(&schedule.load, slot))
        .put("hanging", list(schedule.load.iter().rev(), slot))
        .put("steps", list(steps, |planned| step(planned, naming::written(schedule, planned), sources)))
        .put("total_ms", schedule.total.ms)
        .put("drying_ms", schedule.drying.map(|time| time.ms))
        .put("water_ml", ml(schedule.water))
        .put("warnings", list(&schedule.warnings, warning))
        .put("cautions", all_plain(&schedule.cautions))
        .put("notes", filled(all_plain(&schedule.notes).into()))
        .text()
}

pub(super) fn warning(doubt: &Doubt) -> Object {
    Object::new().put("rule", doubt.rule).put("text", plain(&doubt.text))
}

fn conditions(schedule: &Schedule) -> Object {
    let asked = &schedule.conditions;
    let steps = list(&asked.step_temperatures, |step| {
        Object::new()
            .put("kind", step.kind.word())
            .put("name", step.name.as_deref().map(plain))
            .put("temperature_c", celsius(step.temperature))
    });
    let scale = match asked.scale {
        Scale::Celsius => "C",
        Scale::Fahrenheit => "F",
    };
    let rolls = |rolls: &Rolls| Object::new().put("count", rolls.count).put("format", rolls.format.word());
    Object::new()
        .put("temperature_c", celsius(asked.temperature))
        .put("scale", scale)
        .put("step_temperatures", filled(steps))
        .put("ending_c", asked.ending.map(celsius))
        .put("index", schedule.recipe.index.map(|index| index.value))
        .put("tank", asked.tank.as_ref().map(|tank| plain(&tank.name)))
        .put("rolls", list(&asked.rolls, rolls))
}

fn slot(slot: &Slot) -> Object {
    Object::new()
        .put("slot", slot.slot)
        .put("label", slot.label.as_deref().map(plain))
        .put("format", slot.format.word())
}

fn step(planned: &PlannedStep, written: Option<&Step>, sources: &Sources) -> Object {
    let bath = planned.bath.as_ref();
    let points = planned.chart.iter().flat_map(Chart::points);
    let chart = list(points, |point| {
        Object::new().put("temperature_c", celsius(point.temperature)).put("time_ms", point.time.ms)
    });
    Object::new()
        .put("kind", planned.kind.word())
        .put("name", planned.name.as_deref().map(plain))
        .put("solution", bath.map(|bath| plain(&bath.solution)))
        .put("dilution", bath.and_then(|bath| bath.dilution.as_ref()).map(ToString::to_string))
        .put("use", bath.and_then(|bath| bath.fate).map(|fate| fate.word()))
        .put("bottle", bath.and_then(|bath| bath.bottle.as_ref()).map(bottle))
        .put("start_ms", planned.start.ms)
        .put("duration_ms", planned.duration.ms)
        .put("fill_ms", planned.fill.ms)
        .put("drain_ms", planned.drain.ms)
        .put("handling_ms", Some(planned.handling.ms).filter(|time| *time > 0))
        .put("temperature_c", planned.temperature.map(celsius))
        .put("ending_c", planned.ending.map(celsius))
        .put("chart", filled(chart))
        .join(bath.map(filling).unwrap_or_default())
        .put("agitation", moving::agitation(planned, written))
        .put("light_safe", Some(true).filter(|_| planned.light_safe))
        .put("light", planned.light.as_deref().map(plain))
        .put("events", list(&planned.events, event))
        .put("because", list(&planned.because, |because| reason(because, sources)))
        .put("notes", filled(all_plain(&planned.notes).into()))
        .put("cautions", filled(all_plain(&planned.cautions).into()))
}

/// Film is counted in twelfths of a roll of 80 square inches.
fn bottle(bottle: &PlannedBottle) -> Object {
    Object::new()
        .put("name", plain(&bottle.name))
        .put("on", bottle.on.to_string())
        .put("treated_twelfths", bottle.treated)
        .put("left_twelfths", bottle.left)
}

fn filling(bath: &PlannedBath) -> Object {
    Object::new()
        .put("volume_ml", ml(bath.volume))
        .put("pours", Some(bath.pours).filter(|pours| *pours > 1))
        .put("parts", filled(list(&bath.parts, |part| part_of(&part.what, ml(part.volume)))))
        .put("water_ml", ml(bath.water))
        .put("flow_ml_per_min", bath.flow.map(ml))
        .put("replenish_ml", bath.replenish.map(ml))
}

pub(super) fn part_of(what: &str, ml: Json) -> Object {
    Object::new().put("what", plain(what)).put("ml", ml)
}

fn event(event: &Event) -> Object {
    Object::new()
        .put("at_ms", event.at.ms)
        .put("for_ms", event.length.ms)
        .put("do", event.action.word())
        .put("by", event.by)
        .put("count", event.count)
}

fn reason(because: &Because, sources: &Sources) -> Object {
    let from = list(&because.from, |span| {
        Object::new().put("file", plain(sources.name(span.file))).put("line", sources.place(*span).line)
    });
    Object::new()
        .put("of", plain(&because.of))
        .put("rule", because.rule)
        .put("text", plain(&because.text))
        .put("exact", because.exact.filter(|exact| exact.is_finite()))
        .put("from", from)
}
