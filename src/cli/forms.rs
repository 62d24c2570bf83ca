//! The forms of a card: which one a call means, and how each is drawn.

use super::call::{Arguments, Form};
use super::ending;
use super::failure::Failure;
use super::terminal::Terminal;
use crate::compile::Schedule;
use crate::emit::{self, NoTrack, TRACK_MAX};
use crate::model::Date;
use crate::source::Sources;

/// What the ending of a file's name asks for.
const ENDINGS: [(&str, Form); 8] = [
    ("txt", Form::Text),
    ("html", Form::Html),
    ("json", Form::Json),
    ("csv", Form::Csv),
    ("ics", Form::Ics),
    ("pdf", Form::Pdf),
    ("svg", Form::Curve),
    ("wav", Form::Wav),
];

/// What to write: as asked, else by the file's name, else text.
pub(super) fn form(arguments: &Arguments) -> Result<Form, Failure> {
    ending::form(arguments.form, arguments.output.file(), &ENDINGS)
}

/// The card in that form.
pub(super) fn drawn(
    form: Form,
    arguments: &Arguments,
    (schedule, sources): (&Schedule, &Sources),
    terminal: Terminal,
) -> Result<Vec<u8>, Failure> {
    Ok(match form {
        Form::Html => {
            let reasons = if arguments.why { emit::Reasons::Shown } else { emit::Reasons::Hidden };
            emit::html(schedule, sources, reasons).into_bytes()
        }
        Form::Json => emit::json(schedule, sources).into_bytes(),
        Form::Csv => emit::csv(schedule).into_bytes(),
        Form::Ics => {
            let (day, start) = opening(arguments)?;
            emit::ics(schedule, day, start).ok_or_else(past_the_calendar)?.into_bytes()
        }
        Form::Wav => emit::wav(schedule).map_err(silent)?,
        Form::Pdf => emit::pdf(schedule, sources, arguments.paper.chosen()),
        Form::Text => {
            let paint = terminal.paint(arguments.output.file());
            let look = emit::Look { width: usize::from(arguments.width), paint, reasons: arguments.why };
            emit::text(&emit::card(schedule, sources), look).into_bytes()
        }
        Form::Curve => curve(schedule)?.into_bytes(),
        Form::Strip => emit::strip(schedule).into_bytes(),
    })
}

/// The day and the hour at which the first step begins, which a calendar cannot do without.
fn opening(arguments: &Arguments) -> Result<(Date, u32), Failure> {
    let lacks = |what: &str| {
        Failure::new(
            format!("a calendar needs {what}"),
            "write both, as in --date 2026-11-25 --start 19:30, for when the first step begins",
        )
    };
    match (arguments.date, arguments.start) {
        (Some(date), Some(seconds)) => Ok((date, seconds)),
        (None, Some(_)) => Err(lacks("the day of the start")),
        (Some(_), None) => Err(lacks("the clock on the wall at the start")),
        (None, None) => Err(lacks("the day and the clock on the wall at the start")),
    }
}

fn past_the_calendar() -> Failure {
    Failure::new(
        "this evening goes on past the year 9999, where the calendar ends",
        "name an earlier day with --date",
    )
}

/// Why there is nothing to hear.
fn silent(why: NoTrack) -> Failure {
    match why {
        NoTrack::NoPour => Failure::new(
            "nothing is poured in this recipe, so there is nothing to tell by tones",
            "write another form, as in -o tonight.txt",
        ),
        NoTrack::TooLong(length) => Failure::new(
            format!(
                "from the first pour to the last drain it is {length}; a cue track is at most {TRACK_MAX}"
            ),
            "write another form, as in -o tonight.ics, whose alarms reach as far as you like",
        ),
    }
}

fn curve(schedule: &Schedule) -> Result<String, Failure> {
    emit::curve(schedule).ok_or_else(|| {
        Failure::new(
            format!("{} has no chart to draw: no step of it takes its time from one", schedule.recipe.name),
            "write --as strip, which draws the session itself",
        )
    })
}
