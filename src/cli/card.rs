//! `card`: a recipe, tonight's conditions, and the card they come to.

use super::call::{Arguments, Form};
use super::choose::choose;
use super::disk::Disk;
use super::failure::Failure;
use super::terminal::Terminal;
use super::{Ended, output, wider};
use crate::compile::Schedule;
use crate::emit;
use crate::report;
use crate::source::{Diagnostic, Sources};

/// Finds, checks, compiles, writes.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = form(arguments)?;
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let mut choice = match choose(&arguments.evening, &mut sources, &mut disk)? {
        Ok(choice) => choice,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    if let Some(path) = arguments.output.as_ref().filter(|path| disk.has_read(path)) {
        return Err(Failure::new(
            format!("{} is one of the recipes that this card is made from", path.display()),
            "name another file: a card never takes a recipe's place",
        ));
    }
    labels_fit(arguments)?;
    choice.conditions.labels.clone_from(&arguments.label);
    choice.conditions.start = arguments.start;
    let schedule = match wider::compiled(choice, &mut sources, &mut disk) {
        Ok(schedule) => schedule,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    let bytes = drawn(form, arguments, (&schedule, &sources), terminal)?;
    match &arguments.output {
        Some(path) if path.as_os_str() != "-" => output::write(path, &bytes)?,
        Some(_) | None => output::send(&bytes)?,
    }
    Ok(Ended::Done)
}

/// The card in that form.
fn drawn(
    form: Form,
    arguments: &Arguments,
    (schedule, sources): (&Schedule, &Sources),
    terminal: Terminal,
) -> Result<Vec<u8>, Failure> {
    Ok(match form {
        Form::Html => {
            let reckoning = if arguments.why { emit::Reckoning::Told } else { emit::Reckoning::LeftOut };
            let (card, moments) = (emit::card(schedule, sources), emit::moments(schedule));
            emit::html(&card, &moments, reckoning).into_bytes()
        }
        Form::Json => emit::json(schedule, sources).into_bytes(),
        Form::Text => {
            let colour = terminal.out && arguments.output.is_none();
            let paint = if colour { emit::Paint::Colour } else { emit::Paint::Plain };
            let look = emit::Look { width: usize::from(arguments.width), paint, reasons: arguments.why };
            emit::text(&emit::card(schedule, sources), look).into_bytes()
        }
        Form::Curve => emit::svg(&curve(schedule)?, "curve").into_bytes(),
        Form::Strip => emit::svg(&emit::strip(schedule), "strip").into_bytes(),
    })
}

fn curve(schedule: &Schedule) -> Result<emit::Drawing, Failure> {
    emit::curve(schedule).ok_or_else(|| {
        Failure::new(
            format!("{} has no chart to draw: no step of it takes its time from one", schedule.recipe.name),
            "write --as strip, which draws the session itself",
        )
    })
}

pub(super) fn refused(sources: &Sources, findings: &[Diagnostic], terminal: Terminal) -> Ended {
    let look = if terminal.err { report::Look::Colour } else { report::Look::Plain };
    output::complain(&report::draw(sources, findings, look));
    Ended::RecipeAtFault
}

/// No more labels than rolls, and none empty.
fn labels_fit(arguments: &Arguments) -> Result<(), Failure> {
    let rolls: u32 = arguments.evening.rolls.0.iter().map(|asked| asked.count).sum();
    let labels = arguments.label.len();
    let help =
        "give at most one label a roll, from the bottom of the tank up, with commas between: --label A,B,C";
    if labels > rolls as usize {
        let rolls = if rolls == 1 { "1 roll".to_owned() } else { format!("{rolls} rolls") };
        return Err(Failure::new(format!("{labels} labels for {rolls}"), help));
    }
    if arguments.label.iter().any(|label| label.trim().is_empty()) {
        return Err(Failure::new("a label is empty", help));
    }
    Ok(())
}

/// What the ending of a file's name asks for.
const ENDINGS: [(&str, Form); 4] =
    [("txt", Form::Text), ("html", Form::Html), ("json", Form::Json), ("svg", Form::Curve)];

/// What to write: as asked, else by the file's name, else text.
fn form(arguments: &Arguments) -> Result<Form, Failure> {
    let path = match (arguments.form, &arguments.output) {
        (Some(form), _) => return Ok(form),
        (None, Some(path)) if path.as_os_str() != "-" => path,
        (None, Some(_) | None) => return Ok(Form::Text),
    };
    let ending = path.extension().and_then(|ending| ending.to_str());
    let asked = ENDINGS.iter().find(|(known, _)| ending == Some(*known));
    asked.map(|(_, form)| *form).ok_or_else(|| {
        Failure::new(
            match ending {
                Some(ending) => format!("the ending .{ending} does not tell what to write"),
                None => "a name without an ending does not tell what to write".to_owned(),
            },
            "name a file that ends in .txt, .html, .json or .svg, or say what to write, as in --as text",
        )
    })
}
