//! `next`: the next planned load, its rolls, the bottles to have ready, and the temperatures at which it can be done.

use std::sync::Arc;

use super::choose::{Chosen, chosen};
use super::evening::{Evening, of_plan};
use super::given::{Asked, Common, at};
use super::output::{Output, TextOrJson};
use super::personal::personal;
use super::room::Room;
use super::{Ended, Failure, Reader, Terminal};
use crate::compile::{Schedule, wanted};
use crate::emit::{self, NextLoad};
use crate::model::{Session, Temperature};
use crate::source::Diagnostic;

/// Show the next planned load: its rolls, the bottles to have ready, its temperatures
///
/// A plan in a file has the loads: wetside plan BACKLOG -o loads.wet. A load is done once it is recorded.
#[derive(clap::Args)]
#[command(after_help = "Examples:\n  wetside next\n  wetside next --as json\n  wetside next -o next.txt")]
pub(super) struct Arguments {
    /// Ignore wetside.toml and your personal settings
    #[arg(long)]
    no_config: bool,
    #[command(flatten)]
    output: Output,
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let room = Room::open(arguments.no_config, false)?;
    let to_do = room.shelf.darkroom.to_do().len();
    if let (TextOrJson::Json, 0) = (form, to_do) {
        return arguments.output.send(emit::next_json(None), &[]);
    }
    let session = room.next()?;
    let scale = personal(arguments.no_config)?.scale();
    let mut found = Found::of(&session, room, arguments.no_config);
    let schedule = found.schedule.take();
    let title = found.title.unwrap_or_else(|| session.recipe.clone());
    let load = NextLoad {
        session: &session,
        to_do,
        schedule: schedule.as_ref(),
        title: &title,
        wanted: found.wanted,
        scale,
        warnings: found.warnings,
    };
    let look = emit::Look { colour: arguments.output.colour(terminal), ..emit::Look::default() };
    let text = match form {
        TextOrJson::Text => emit::next(&load, look),
        TextOrJson::Json => emit::next_json(Some(&load)),
    };
    arguments.output.send(text, &[])
}

/// What `next` shows about a planned session. A field is empty if an error prevents its calculation.
#[derive(Default)]
struct Found {
    schedule: Option<Schedule>,
    title: Option<String>,
    wanted: Option<(Temperature, Temperature)>,
    warnings: Vec<String>,
}

impl Found {
    fn of(session: &Arc<Session>, room: Room, no_config: bool) -> Found {
        let mut found = Found::default();
        match Found::chosen(session, room, no_config, &mut found.warnings) {
            Ok(chosen) => found.compile(chosen),
            Err(failure) => found.warnings.push(failure.message()),
        }
        found
    }

    /// The recipe and the conditions of the session. A roll that contradicts the recipe only adds a warning here.
    fn chosen(
        session: &Session,
        room: Room,
        no_config: bool,
        warnings: &mut Vec<String>,
    ) -> Result<Chosen, Failure> {
        let evening = of_plan(session, asked(no_config), room)?;
        let choose = |command: &str, evening: &Evening| chosen(command, evening, &mut Reader::default());
        match choose("next", &evening) {
            Err(Failure::Refused(refusal)) => {
                warnings.push(refusal.cause);
                choose("record", &evening)
            }
            chosen => chosen,
        }
    }

    /// Compiles the load at the middle of the recipe's temperature range, since volumes and bottles are the same at
    /// each temperature.
    fn compile(&mut self, mut chosen: Chosen) {
        self.title = Some(chosen.recipe.title.clone());
        self.wanted = wanted(&chosen.recipe);
        if let Some((low, high)) = self.wanted {
            chosen.conditions.temperature = Temperature { base: low.base.midpoint(high.base) };
        }
        match chosen.compiled() {
            Ok(schedule) => {
                let texts = schedule.warnings.iter().map(|warning| warning.text.clone());
                self.warnings.extend(texts);
                self.schedule = Some(schedule);
            }
            Err(errors) => {
                self.warnings.extend(errors.iter().map(|error: &Diagnostic| error.message.clone()));
                // A bottle may cause the errors, so the load is compiled again with fresh baths in place of bottles.
                chosen.conditions.bottles = None;
                self.schedule = chosen.compiled().ok();
            }
        }
    }
}

/// Arguments that state only a temperature, which `compile` replaces.
fn asked(no_config: bool) -> Asked {
    let common = Common { at: at("20C").ok(), tank: None, ending: None, date: None, no_config };
    Asked {
        recipe: None,
        name: None,
        common,
        rolls: None,
        label: Vec::new(),
        index: None,
        bath: Vec::new(),
        anyway: Vec::new(),
        clears: None,
        dunk: None,
        volume: None,
    }
}
