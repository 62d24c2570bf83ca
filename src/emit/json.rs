//! The schedule as JSON, for a program that follows the work. The shapes here are a promise to others and
//! are held to `grammar/schedule.schema.json`; the schedule's own types may change behind them.

use serde::ser::Error as _;
use serde::{Serialize, Serializer};

use super::moving;
use super::naming;
use super::plain::{all_plain, plain};
use crate::compile::{
    Because, Event, PlannedBath, PlannedBottle, PlannedStep, Scale, Schedule, Slot, Tonight,
};
use crate::model::{Chart, Point, Step, Temperature, Volume};
use crate::source::{Sources, Span};

/// The number of this shape; a change that a reader would notice raises it.
const VERSION: u32 = 1;

/// A decimal as a JSON number, without noise: 50 ml is `50`, not `50.0`.
pub(super) struct Figure(String);

impl Figure {
    pub(super) fn ml(volume: Volume) -> Figure {
        Figure(volume.in_ml(1))
    }

    pub(super) fn of(decimal: String) -> Figure {
        Figure(decimal)
    }

    pub(super) fn celsius(temperature: Temperature) -> Figure {
        Figure(temperature.in_celsius(3))
    }
}

impl Serialize for Figure {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self.0.parse::<i64>() {
            Ok(whole) => to.serialize_i64(whole),
            Err(_) => to.serialize_f64(self.0.parse().map_err(S::Error::custom)?),
        }
    }
}

#[derive(Serialize)]
struct ScheduleOut {
    schedule: u32,
    recipe: RecipeOut,
    conditions: ConditionsOut,
    load: Vec<SlotOut>,
    hanging: Vec<SlotOut>,
    steps: Vec<StepOut>,
    total_ms: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    drying_ms: Option<i64>,
    water_ml: Figure,
    warnings: Vec<WarningOut>,
    cautions: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    notes: Vec<String>,
}

#[derive(Serialize)]
struct RecipeOut {
    name: String,
    title: String,
    film: String,
    file: String,
    fingerprint: String,
}

#[derive(Serialize)]
struct ConditionsOut {
    temperature_c: Figure,
    scale: &'static str,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    step_temperatures: Vec<StepTemperatureOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ending_c: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    index: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    tank: Option<String>,
    rolls: Vec<RollsOut>,
}

#[derive(Serialize)]
struct StepTemperatureOut {
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    temperature_c: Figure,
}

#[derive(Serialize)]
struct RollsOut {
    count: u32,
    format: &'static str,
}

#[derive(Serialize)]
struct SlotOut {
    slot: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    label: Option<String>,
    format: &'static str,
}

/// Film is counted in twelfths of a roll of 80 square inches.
#[derive(Serialize)]
struct BottleOut {
    name: String,
    on: String,
    treated_twelfths: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    left_twelfths: Option<i64>,
}

#[derive(Serialize)]
struct StepOut {
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    solution: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    dilution: Option<String>,
    #[serde(rename = "use", skip_serializing_if = "Option::is_none")]
    fate: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bottle: Option<BottleOut>,
    start_ms: i64,
    duration_ms: i64,
    fill_ms: i64,
    drain_ms: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    handling_ms: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_c: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ending_c: Option<Figure>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    chart: Vec<PointOut>,
    #[serde(flatten)]
    filling: Option<FillingOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    agitation: Option<String>,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    light_safe: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    light: Option<String>,
    events: Vec<EventOut>,
    because: Vec<BecauseOut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    notes: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cautions: Vec<String>,
}

#[derive(Serialize)]
struct PointOut {
    temperature_c: Figure,
    time_ms: i64,
}

#[derive(Serialize)]
struct FillingOut {
    volume_ml: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    pours: Option<u32>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    parts: Vec<PartOut>,
    water_ml: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    flow_ml_per_min: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    replenish_ml: Option<Figure>,
}

#[derive(Serialize)]
struct PartOut {
    what: String,
    ml: Figure,
}

#[derive(Serialize)]
struct EventOut {
    at_ms: i64,
    for_ms: i64,
    #[serde(rename = "do")]
    action: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    by: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    count: Option<u32>,
}

#[derive(Serialize)]
struct BecauseOut {
    of: String,
    rule: &'static str,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    exact: Option<f64>,
    from: Vec<PlaceOut>,
}

#[derive(Serialize)]
struct PlaceOut {
    file: String,
    line: usize,
}

#[derive(Serialize)]
struct WarningOut {
    rule: &'static str,
    text: String,
}

/// The schedule as one JSON object, indented, with a line ending behind it. `sources` names the files and
/// lines that its numbers came from.
#[must_use]
pub fn json(schedule: &Schedule, sources: &Sources) -> String {
    let recipe = &schedule.recipe;
    let doubts = schedule.warnings.iter();
    let out = ScheduleOut {
        schedule: VERSION,
        recipe: RecipeOut {
            name: plain(&recipe.name),
            title: plain(&recipe.title),
            film: plain(&schedule.film.name),
            file: plain(sources.name(recipe.file)),
            fingerprint: schedule.fingerprint.clone(),
        },
        conditions: conditions(&schedule.conditions, schedule),
        load: schedule.load.iter().map(slot).collect(),
        hanging: schedule.load.iter().rev().map(slot).collect(),
        steps: schedule
            .steps
            .iter()
            .map(|planned| step(planned, naming::written(schedule, planned), sources))
            .collect(),
        total_ms: schedule.total.ms,
        drying_ms: schedule.drying.map(|time| time.ms),
        water_ml: Figure::ml(schedule.water),
        warnings: doubts.map(|doubt| WarningOut { rule: doubt.rule, text: plain(&doubt.text) }).collect(),
        cautions: all_plain(&schedule.cautions),
        notes: all_plain(&schedule.notes),
    };
    let mut text =
        serde_json::to_string_pretty(&out).expect("every key above is a word and every figure a decimal");
    text.push('\n');
    text
}

fn conditions(asked: &Tonight, schedule: &Schedule) -> ConditionsOut {
    let steps = asked.step_temperatures.iter().map(|step| StepTemperatureOut {
        kind: step.kind.word(),
        name: step.name.as_deref().map(plain),
        temperature_c: Figure::celsius(step.temperature),
    });
    let rolls = asked.rolls.iter();
    ConditionsOut {
        temperature_c: Figure::celsius(asked.temperature),
        scale: match asked.scale {
            Scale::Celsius => "C",
            Scale::Fahrenheit => "F",
        },
        step_temperatures: steps.collect(),
        ending_c: asked.ending.map(Figure::celsius),
        index: schedule.recipe.index.map(|index| index.value),
        tank: asked.tank.as_ref().map(|tank| plain(&tank.name)),
        rolls: rolls.map(|rolls| RollsOut { count: rolls.count, format: rolls.format.word() }).collect(),
    }
}

fn slot(slot: &Slot) -> SlotOut {
    SlotOut { slot: slot.slot, label: slot.label.as_deref().map(plain), format: slot.format.word() }
}

fn step(planned: &PlannedStep, written: Option<&Step>, sources: &Sources) -> StepOut {
    let bath = planned.bath.as_ref();
    StepOut {
        kind: planned.kind.word(),
        name: planned.name.as_deref().map(plain),
        solution: bath.map(|bath| plain(&bath.solution)),
        dilution: bath.and_then(|bath| bath.dilution.as_ref()).map(ToString::to_string),
        fate: bath.and_then(|bath| bath.fate).map(|fate| fate.word()),
        bottle: bath.and_then(|bath| bath.bottle.as_ref()).map(bottle),
        start_ms: planned.start.ms,
        duration_ms: planned.duration.ms,
        fill_ms: planned.fill.ms,
        drain_ms: planned.drain.ms,
        handling_ms: (planned.handling.ms > 0).then_some(planned.handling.ms),
        temperature_c: planned.temperature.map(Figure::celsius),
        ending_c: planned.ending.map(Figure::celsius),
        chart: planned.chart.iter().flat_map(Chart::points).map(point).collect(),
        filling: bath.map(filling),
        agitation: moving::told(planned, written),
        light_safe: planned.light_safe,
        light: planned.light.as_deref().map(plain),
        events: planned.events.iter().map(event).collect(),
        because: planned.because.iter().map(|because| reason(because, sources)).collect(),
        notes: all_plain(&planned.notes),
        cautions: all_plain(&planned.cautions),
    }
}

fn bottle(bottle: &PlannedBottle) -> BottleOut {
    BottleOut {
        name: plain(&bottle.name),
        on: bottle.on.to_string(),
        treated_twelfths: bottle.treated,
        left_twelfths: bottle.left,
    }
}

fn point(point: &Point) -> PointOut {
    PointOut { temperature_c: Figure::celsius(point.temperature), time_ms: point.time.ms }
}

fn filling(bath: &PlannedBath) -> FillingOut {
    let parts = bath.parts.iter();
    FillingOut {
        volume_ml: Figure::ml(bath.volume),
        pours: (bath.pours > 1).then_some(bath.pours),
        parts: parts.map(|part| PartOut { what: plain(&part.what), ml: Figure::ml(part.volume) }).collect(),
        water_ml: Figure::ml(bath.water),
        flow_ml_per_min: bath.flow.map(Figure::ml),
        replenish_ml: bath.replenish.map(Figure::ml),
    }
}

fn event(event: &Event) -> EventOut {
    EventOut {
        at_ms: event.at.ms,
        for_ms: event.length.ms,
        action: event.action.word(),
        by: event.by,
        count: event.count,
    }
}

fn reason(because: &Because, sources: &Sources) -> BecauseOut {
    BecauseOut {
        of: plain(&because.of),
        rule: because.rule,
        text: plain(&because.text),
        exact: because.exact.filter(|exact| exact.is_finite()),
        from: because.from.iter().map(|span| place(*span, sources)).collect(),
    }
}

fn place(span: Span, sources: &Sources) -> PlaceOut {
    PlaceOut { file: plain(sources.name(span.file)), line: sources.place(span).line }
}
