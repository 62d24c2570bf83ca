//! The work itself: one block a step, with the clocks it begins by, what it happens in, what to heed
//! and what to do.

use crate::compile::{PlannedBath, PlannedStep, Schedule};
use crate::model::Temperature;
use crate::source::Sources;

use super::actions::{self, Bench};
use super::card::Block;
use super::clock::Wall;
use super::figure;
use super::load;
use super::naming;
use super::plain::all_plain;
use super::reasons;

/// The steps, each with its place in the evening.
pub(super) fn blocks(schedule: &Schedule, sources: &Sources, wall: Wall) -> Vec<Block> {
    let light_from = schedule.steps.iter().position(|step| step.light_safe);
    let following = schedule.steps.iter().skip(1).map(Some).chain([None]);
    let steps = schedule.steps.iter().zip(following).enumerate();
    let blocks = steps.map(|(at, (step, next))| {
        let written = naming::written(schedule, step);
        let bench = Bench {
            step,
            written,
            wall,
            next: next.map(naming::head),
            light: (light_from == Some(at)).then(|| load::light(schedule)),
            hanging: load::hanging(schedule),
        };
        Block {
            name: naming::head(step),
            time: step.duration.to_string(),
            begins: step.start.to_string(),
            wall: wall.at(step.start),
            bath: match &step.bath {
                Some(bath) => Some(stands_in(schedule, step, bath)),
                None => step.temperature.map(|at| stands_dry(schedule, at)),
            },
            cautions: all_plain(&step.cautions),
            notes: all_plain(&step.notes),
            lines: actions::lines(&bench),
            reasons: reasons::reasons(step, sources),
        }
    });
    blocks.collect()
}

/// How warm a step without a bath is to be, where the recipe says so: `at 37.8 °C`.
fn stands_dry(schedule: &Schedule, at: Temperature) -> String {
    format!("at {}", figure::degrees(at, schedule.conditions.scale))
}

/// What the step happens in, and how warm: `MQ borax, fine grain 1+1 at 21.5 °C`.
fn stands_in(schedule: &Schedule, step: &PlannedStep, bath: &PlannedBath) -> String {
    let scale = schedule.conditions.scale;
    let mut said = naming::bath(bath);
    let running = naming::running(naming::written(schedule, step));
    if running.is_some() {
        said.insert_str(0, "running ");
    }
    said.extend(step.temperature.map(|at| format!(" at {}", figure::degrees(at, scale))));
    said.extend(step.ending.map(|at| format!(", ending at {}", figure::degrees(at, scale))));
    said.extend(running.map(|flow| format!(", {flow}")));
    if bath.pours > 1 {
        said.push_str(&format!(", {} changes of {}", bath.pours, figure::measured(bath.volume)));
    }
    said
}
