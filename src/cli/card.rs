//! `card`: a recipe, tonight's conditions, and the card they come to.

use super::call::Arguments;
use super::choose::choose;
use super::disk::Disk;
use super::evening::Evening;
use super::failure::Failure;
use super::forms::{drawn, form};
use super::refused::refused;
use super::terminal::Terminal;
use super::{Ended, wider};
use crate::source::Sources;

/// Finds, checks, compiles, writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = form(arguments)?;
    if terminal.out_is_terminal && !form.is_text() && arguments.output.file().is_none() {
        return Err(Failure::new(
            "this form is no text, and a terminal would show it as noise",
            "name a file behind -o, or pipe it on",
        ));
    }
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let mut choice = match choose("card", &arguments.evening, arguments.date, &mut sources, &mut disk)? {
        Ok(choice) => choice,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    labels_fit(&arguments.evening, &arguments.label)?;
    choice.conditions.labels.clone_from(&arguments.label);
    choice.conditions.start = arguments.start;
    let schedule = match wider::compiled(choice, &mut sources, &mut disk) {
        Ok(schedule) => schedule,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    let bytes = drawn(form, arguments, (&schedule, &sources), terminal)?;
    arguments.output.send(bytes, |path| disk.has_read(path))?;
    Ok(Ended::Done)
}

/// No more labels than rolls, and none empty.
pub(super) fn labels_fit(evening: &Evening, label: &[String]) -> Result<(), Failure> {
    let rolls: u32 = evening.rolls.0.iter().map(|asked| asked.count).sum();
    let labels = label.len();
    let help =
        "give at most one label a roll, from the bottom of the tank up, with commas between: --label A,B,C";
    if labels > rolls as usize {
        let rolls = if rolls == 1 { "1 roll".to_owned() } else { format!("{rolls} rolls") };
        return Err(Failure::new(format!("{labels} labels for {rolls}"), help));
    }
    if label.iter().any(|label| label.trim().is_empty()) {
        return Err(Failure::new("a label is empty", help));
    }
    Ok(())
}
