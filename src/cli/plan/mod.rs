//! `plan`: the loads for a backlog, a tank and a temperature.

mod call;
mod file;
mod find;
mod labels;

use std::collections::BTreeMap;
use std::path::Path;

pub(super) use call::Arguments;

use super::disk::Reader;
use super::failure::Failure;
use super::output::Terminal;
use super::{Ended, given};
use crate::compile::{Scale, Tonight};
use crate::emit::{self, PlanSheet};
use crate::journal;
use crate::model::{Date, Temperature, Time};
use crate::plan::{Asked, Assumed, Days, Plan, plan};
use crate::source::Diagnostic;
use call::Form;

/// The default temperature: 20 °C, 68 °F.
const USUAL: Temperature = Temperature::celsius_whole(20);

/// Finds, checks, plans and writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let mut reader = Reader::default();
    let found = find::all(arguments, &mut reader)?;
    let first = arguments.on.map_or_else(|| given::today("--on"), Ok)?;
    let plan = planned(arguments, &found, first).map_err(|findings| reader.refused(findings))?;
    packages_known(arguments, &plan)?;
    let paint = arguments.output.paint(terminal);
    let look = emit::Look { paint, ..emit::Look::default() };
    let sheet = PlanSheet::of(&plan);
    let text = match form {
        Form::Text => emit::plan_text(&sheet, look),
        Form::Json => emit::plan_json(&plan),
        Form::Csv => emit::plan_csv(&plan),
        Form::Html => emit::plan_page(&sheet),
        Form::Wet => file::file(&found, &reader, arguments.output.file())?,
    };
    arguments.output.send(text, |path| reader.disk.has_read(path) || is_the_list(arguments, path))?;
    left_out(&plan, &mut reader)
}

/// Tells of the rolls that were left out. Some recipe will not do then, and whoever looks at the status alone has to
/// learn of it, although the others have their loads.
fn left_out(plan: &Plan, reader: &mut Reader) -> Result<Ended, Failure> {
    if plan.left.is_empty() {
        return Ok(Ended::Done);
    }
    let mut told: Vec<Diagnostic> = Vec::new();
    for left in &plan.left {
        told.push(left.warning());
        told.extend(left.faults.iter().cloned());
    }
    let mut once: Vec<Diagnostic> = Vec::new();
    told.into_iter().for_each(|finding| once.extend((!once.contains(&finding)).then_some(finding)));
    Err(reader.refused(once))
}

/// Whether a plan would replace its own list.
fn is_the_list(arguments: &Arguments, path: &Path) -> bool {
    let real = |path: &Path| std::fs::canonicalize(path).ok();
    arguments.from.as_deref().and_then(real).is_some_and(|list| real(path) == Some(list))
}

fn planned(arguments: &Arguments, found: &find::Found, first: Date) -> Result<Plan, Vec<Diagnostic>> {
    let darkroom = &found.shelf.darkroom;
    let done: BTreeMap<&str, Date> = match &found.waiting {
        find::Waiting::Declared(backlog) => {
            let developed = journal::developed(darkroom, backlog);
            developed.into_iter().map(|(label, session)| (label, session.date.value)).collect()
        }
        find::Waiting::Listed(_) => BTreeMap::new(),
    };
    plan(&Asked {
        shelf: &found.shelf,
        others: &found.others,
        backlog: found.waiting.backlog(),
        done,
        tank: &found.tank,
        conditions: conditions(arguments),
        within: arguments.within.unwrap_or(Time::ZERO),
        days: Days { first, loads: arguments.a_day, apart: arguments.every.unwrap_or(1) },
        assumed: assumed(arguments),
        doubts: found.doubts.clone(),
        packages: arguments.package.clone(),
    })
}

fn conditions(arguments: &Arguments) -> Tonight {
    let at = arguments.at.as_ref();
    Tonight {
        scale: at.map_or(Scale::Celsius, |at| at.scale),
        step_temperatures: at.map(|at| at.steps.clone()).unwrap_or_default(),
        ..Tonight::new(at.map_or(USUAL, |at| at.temperature), Vec::new())
    }
}

/// The defaults of the call.
fn assumed(arguments: &Arguments) -> Vec<Assumed> {
    let temperature = arguments.at.is_none().then_some(Assumed::Temperature);
    temperature.into_iter().chain(arguments.on.is_none().then_some(Assumed::Day)).collect()
}

/// Refuses a package of a solution that the plan does not need.
fn packages_known(arguments: &Arguments, plan: &Plan) -> Result<(), Failure> {
    for (name, _) in &arguments.package {
        let sold = || plan.taken.iter().filter(|taken| !taken.tops_up).map(|taken| taken.what.as_str());
        if !sold().any(|what| what == name) {
            let known: Vec<&str> = sold().collect();
            let known = if known.is_empty() { "nothing".to_owned() } else { known.join(", ") };
            return Err(Failure::new(
                format!("this plan needs no '{name}'"),
                format!("it needs {known}; write --package NAME=1l for one of them"),
            ));
        }
    }
    Ok(())
}
