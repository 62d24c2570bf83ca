//! `plan`: a backlog, a tank and a temperature, and the loads they come to.

mod call;
mod find;
mod labels;

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

pub(super) use call::Arguments;

use super::card::refused;
use super::disk::Disk;
use super::failure::Failure;
use super::terminal::Terminal;
use super::{Ended, output};
use crate::compile::{Conditions, Scale};
use crate::emit::{self, PlanSheet};
use crate::journal;
use crate::model::{Shelf, Temperature, Time};
use crate::plan::{Asked, Bottle, Plan, plan};
use crate::source::{Diagnostic, Sources};
use call::Form;

/// The temperature that is planned for where nobody says one: 20 °C, 68 °F.
const USUAL: Temperature = Temperature::celsius_whole(20);

/// Finds, checks, plans, writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.form()?;
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let found = match find::all(arguments, &mut sources, &mut disk)? {
        Ok(found) => found,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    let plan = match planned(arguments, &found) {
        Ok(plan) => plan,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    packages_known(arguments, &plan)?;
    let colour = terminal.out && arguments.output.is_none();
    let paint = if colour { emit::Paint::Colour } else { emit::Paint::Plain };
    let text = drawn(form, &plan, &found, emit::Look { paint, ..emit::Look::default() })?;
    match arguments.output.as_ref().filter(|path| path.as_os_str() != "-") {
        Some(path) if disk.has_read(path) || is_the_list(arguments, path) => {
            return Err(Failure::new(
                format!("{} is one of the files that this plan is made from", path.display()),
                "name another file: a plan never takes the place of a recipe or a list",
            ));
        }
        Some(path) => output::write(path, text)?,
        None => output::print(&text)?,
    }
    Ok(Ended::Done)
}

/// Whether a plan would take the place of the list that it is made from.
fn is_the_list(arguments: &Arguments, path: &Path) -> bool {
    let real = |path: &Path| std::fs::canonicalize(path).ok();
    arguments.from.as_deref().and_then(real).is_some_and(|list| real(path) == Some(list))
}

fn planned(arguments: &Arguments, found: &find::Found) -> Result<Plan, Vec<Diagnostic>> {
    let darkroom = &found.shelf.darkroom;
    let done: BTreeMap<&str, jiff::civil::Date> = match &found.waiting {
        find::Waiting::Declared(backlog) => {
            let developed = journal::developed(darkroom, backlog);
            developed.into_iter().map(|(label, session)| (label, session.date.value)).collect()
        }
        find::Waiting::Listed(_) => BTreeMap::new(),
    };
    plan(&Asked {
        shelf: &found.shelf,
        backlog: found.waiting.backlog(),
        done,
        tank: &found.tank,
        conditions: conditions(arguments),
        within: arguments.within.unwrap_or(Time::ZERO),
        bottles: bottles(&found.shelf),
        packages: arguments.package.clone(),
    })
}

fn conditions(arguments: &Arguments) -> Conditions {
    let at = arguments.at.as_ref();
    Conditions {
        temperature: at.map_or(USUAL, |at| at.temperature),
        scale: at.map_or(Scale::Celsius, |at| at.scale),
        step_temperatures: at.map(|at| at.steps.clone()).unwrap_or_default(),
        ending: None,
        rolls: Vec::new(),
        labels: Vec::new(),
        volume: None,
        start: None,
        bottles: None,
    }
}

/// The bottles that nobody has poured away, the newest first.
fn bottles(shelf: &Shelf) -> Vec<Bottle> {
    let there = shelf.darkroom.bottles().filter(|bath| bath.discarded.is_none());
    let mut bottles: Vec<_> = there.collect();
    bottles.sort_by_key(|bath| std::cmp::Reverse(bath.mixed.value));
    let bottle = |bath: &Arc<crate::model::KeptBath>| Bottle {
        name: bath.name.clone(),
        solution: Arc::clone(&bath.solution),
        dilution: bath.dilution.clone(),
        volume: bath.volume.value,
        treated: journal::treated(&shelf.darkroom, bath),
    };
    bottles.into_iter().map(bottle).collect()
}

/// Every package that was named is of something that the plan needs.
fn packages_known(arguments: &Arguments, plan: &Plan) -> Result<(), Failure> {
    for (name, _) in &arguments.package {
        if !plan.taken.iter().any(|taken| taken.what == *name) {
            let known: Vec<&str> = plan.taken.iter().map(|taken| taken.what.as_str()).collect();
            let known = if known.is_empty() { "nothing".to_owned() } else { known.join(", ") };
            return Err(Failure::new(
                format!("this plan needs no '{name}'"),
                format!("it needs {known}; write --package NAME=1l for one of them"),
            ));
        }
    }
    Ok(())
}

fn drawn(form: Form, plan: &Plan, found: &find::Found, look: emit::Look) -> Result<String, Failure> {
    Ok(match form {
        Form::Text => emit::plan_text(&PlanSheet::of(plan), look),
        Form::Json => emit::plan_json(plan).map_err(|error| {
            Failure::new(format!("the plan could not be written: {error}"), "tell its makers")
        })?,
        Form::Csv => emit::plan_csv(plan),
        Form::Html => emit::plan_page(&PlanSheet::of(plan)),
        Form::Wet => labels::block(found.waiting.backlog()),
    })
}
