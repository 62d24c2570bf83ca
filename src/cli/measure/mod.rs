//! `measure`: the sheet to weigh or dilute a solution by.

mod call;
mod wanted;

use std::sync::Arc;

pub(super) use call::Arguments;
use call::{Form, Units};
use wanted::{Named, named, weighs_or_dilutes};

use super::Ended;
use super::disk::Reader;
use super::failure::Failure;
use super::levels::levels;
use super::output::Terminal;
use crate::compile::Scale;
use crate::emit::{self, Beside};
use crate::measure::measure;
use crate::model::Solution;
use crate::source::{Diagnostic, Level};

/// Finds, checks, measures and writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let named = named(arguments)?;
    let asked = weighs_or_dilutes(arguments, named.dilution.as_ref())?;
    let mut reader = Reader::default();
    let (solution, doubts) = chosen(&named, arguments.no_config, &mut reader)?;
    let measured = measure(&solution, arguments.make, &asked);
    let mut sheet = measured.map_err(|findings| reader.refused(findings))?;
    sheet.warnings.extend(doubts);
    let text = match form {
        Form::Json => emit::sheet_json(&sheet),
        Form::Text => {
            let paint = arguments.output.paint(terminal);
            let look = emit::Look { width: usize::from(arguments.width), paint, reasons: false };
            emit::sheet(&sheet, units(arguments), look)
        }
    };
    arguments.output.send(text, |path| reader.disk.has_read(path))?;
    Ok(Ended::Done)
}

/// A solution without errors, and the warnings about it.
type Chosen = (Arc<Solution>, Vec<String>);

/// Reads and checks the solution's file.
fn chosen(named: &Named, no_config: bool, reader: &mut Reader) -> Result<Chosen, Failure> {
    let file = reader.read(&named.file)?;
    let levels = levels(std::slice::from_ref(&named.file), no_config)?;
    let (shelf, findings) = reader.check(&[file], &levels);
    let known: Vec<&Arc<Solution>> = shelf.solutions_of(file).collect();
    // An error elsewhere in the file stands in the way of no solution that is sound and named.
    let is_sound = match &named.name {
        Some(name) => known.iter().any(|solution| solution.name == *name),
        None => !known.is_empty() && !shelf.unsound.solutions.contains(&file),
    };
    if !is_sound && findings.iter().any(|finding| finding.level == Level::Error) {
        return Err(reader.refused(findings));
    }
    let solution = named.among(reader.name(file), &known)?;
    let own = solution.extent;
    // A character that does not show casts a doubt on all of its file.
    let concerns = |finding: &&Diagnostic| finding.name == "hidden-character" || own.holds(finding.span);
    let doubts = findings.iter().filter(|finding| finding.level == Level::Warning).filter(concerns);
    let doubts = doubts.map(|finding| format!("{} ({})", finding.message, finding.name)).collect();
    Ok((solution, doubts))
}

fn units(arguments: &Arguments) -> emit::Units {
    let (beside, usual) = match arguments.units {
        Units::Metric => (Beside::Nothing, Scale::Celsius),
        Units::Us => (Beside::UnitedStates, Scale::Fahrenheit),
    };
    emit::Units { scale: arguments.at.map_or(usual, |(_, scale)| scale), beside }
}
