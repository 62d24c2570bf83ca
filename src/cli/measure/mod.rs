//! `measure`: the sheet for weighing the formula of a solution or diluting it.

mod call;

use std::path::PathBuf;
use std::sync::Arc;

pub(super) use call::Arguments;
use call::{Form, Units};

use super::Ended;
use super::disk::Reader;
use super::failure::Failure;
use super::find::{self, Index, Sought, not_one};
use super::levels::levels;
use super::output::Terminal;
use crate::check;
use crate::compile::Scale;
use crate::emit::{self, Beside};
use crate::measure::{Asked, Diluting, Warmth, Weighing, measure};
use crate::model::{Dilution, Mass, Solution};
use crate::source::{Diagnostic, Level};
use crate::vocabulary::{Capture as _, Declared};

/// The resolution of a darkroom scale: common practice, no source.
const USUAL_STEP: Mass = Mass { pg: Mass::G / 10 };

/// Finds, checks, measures and writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let (path, name, dilution) = named(arguments)?;
    let asked = asked(arguments, dilution)?;
    let mut reader = Reader::default();
    let (solution, warnings) = chosen(path, name.as_deref(), arguments.no_config, &mut reader)?;
    let sheet = measure(&solution, arguments.make, &asked);
    let mut sheet = sheet.map_err(|findings| reader.refused(findings))?;
    sheet.warnings.extend(warnings);
    let text = match form {
        Form::Json => emit::sheet_json(&sheet),
        Form::Text => {
            let (beside, usual) = match arguments.units {
                Units::Metric => (Beside::Nothing, Scale::Celsius),
                Units::Us => (Beside::UnitedStates, Scale::Fahrenheit),
            };
            let units = emit::Units { scale: arguments.at.map_or(usual, |(_, scale)| scale), beside };
            let paint = arguments.output.paint(terminal);
            emit::sheet(&sheet, units, emit::Look { width: arguments.width.into(), paint, reasons: false })
        }
    };
    arguments.output.send(text, |path| reader.disk.has_read(path))?;
    Ok(Ended::Done)
}

/// The file of SOLUTION, and the name and the dilution if the call gives them.
fn named(arguments: &Arguments) -> Result<(PathBuf, Option<String>, Option<Dilution>), Failure> {
    let given = &arguments.solution;
    let text = given.to_string_lossy();
    let (name, rest) = match arguments.rest.as_slice() {
        [first, rest @ ..] if first.starts_with(char::is_alphabetic) && first != "stock" => {
            (Some(first.clone()), rest)
        }
        rest => (None, rest),
    };
    let mut dilution = None;
    if !rest.is_empty() {
        let read = check::value::<Dilution>(&rest.join(" "));
        let read = read.map_err(|error| Failure::new(error.message, error.help.join(", or ")))?;
        dilution = Dilution::of(&read).cloned();
    }
    let sought = Sought::below(Declared::Solution, &text).called(format!("wetside measure FILE.wet {text}"));
    let index = Index::of_name(Declared::Solution, &text);
    let (file, name) = find::file_and_name(given, name, &sought, &index)?;
    Ok((file, name, dilution))
}

/// Whether to weigh or dilute. Refuses options of the other.
fn asked(arguments: &Arguments, dilution: Option<Dilution>) -> Result<Asked, Failure> {
    let refuse = |message: &str, help: &str| Err(Failure::new(message, help));
    let Arguments { have, scale, at, stock_at, taps, .. } = arguments;
    let Some(dilution) = dilution else {
        if at.is_some() {
            return refuse(
                "--at is for a dilution: a formula states the temperature of its water",
                "leave --at out, or add a dilution such as 1+4",
            );
        }
        let step = scale.unwrap_or(USUAL_STEP);
        return Ok(Asked::Weighing(Weighing { step, had: have.clone(), taps: *taps }));
    };
    if !have.is_empty() || scale.is_some() {
        return refuse(
            "--have and --scale are for weighing, and a dilution has no weights",
            "leave them out, or leave the dilution out to weigh the formula",
        );
    }
    let warmth = match (at, stock_at, taps) {
        (Some(_), None, None) => {
            return refuse(
                "--at needs the temperature of the stock or of the taps",
                "add --stock-at 23C or --taps 12C,55C",
            );
        }
        (None, _, Some(_)) => {
            return refuse("--taps needs the temperature of the working solution", "add --at 20C");
        }
        (at, stock, taps) => at.map(|(at, _)| Warmth { at, stock: *stock, taps: *taps }),
    };
    Ok(Asked::Diluting(Diluting { dilution, warmth }))
}

/// The solution of a file with that name, else the only one, and the warnings about it.
fn chosen(
    path: PathBuf,
    name: Option<&str>,
    no_config: bool,
    reader: &mut Reader,
) -> Result<(Arc<Solution>, Vec<String>), Failure> {
    let file = reader.read(&path)?;
    let (shelf, findings) = reader.check(&[file], &levels(&[path], no_config)?);
    let known: Vec<&Arc<Solution>> = shelf.solutions_of(file).collect();
    let found = known.iter().find(|solution| name.is_none_or(|name| solution.name == name));
    // An error elsewhere in the file does not affect a named solution.
    let is_sound = found.is_some() && (name.is_some() || !shelf.unsound.solutions.contains(&file));
    if !is_sound && findings.iter().any(|finding| finding.level == Level::Error) {
        return Err(reader.refused(findings));
    }
    let names: Vec<&str> = known.iter().map(|solution| solution.name.as_str()).collect();
    let solution = match (name, found) {
        (Some(_), Some(solution)) => Arc::clone(solution),
        (None, Some(solution)) if known.len() == 1 => Arc::clone(solution),
        (Some(name), None) => {
            let place = format!("in {}", reader.name(file));
            return Err(Sought::within(Declared::Solution, name, place).absent(names));
        }
        (None, _) => return Err(not_one(Declared::Solution, reader.name(file), &names)),
    };
    // A hidden character makes the whole file suspect.
    let concerns = |finding: &&Diagnostic| {
        let is_near = finding.name == "hidden-character" || solution.extent.holds(finding.span);
        finding.level == Level::Warning && is_near
    };
    let warnings = findings.iter().filter(concerns);
    let warnings = warnings.map(|warning| format!("{} ({})", warning.message, warning.name)).collect();
    Ok((solution, warnings))
}
