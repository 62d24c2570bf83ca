//! `card`: compiles a recipe for the conditions of a session, and writes its card.

use super::choose::schedule;
use super::evening::Evening;
use super::expect::{self, Expected};
use super::given::Asked;
use super::output::{self, Output};
use super::personal::personal;
use super::refusal::{Refusal, Refused};
use super::{Ended, Failure, Reader, Terminal, fail, given, tonight};
use crate::compile::Schedule;
use crate::emit::{self, NoTrack, Paper, TRACK_MAX};

/// Compile a recipe into tonight's card
///
/// Without a recipe, the card is for the next planned load. With the labels of rolls, their backlog has the recipe. The
/// temperature is always stated: read it now. wetside follow and wetside record use the card made last.
#[derive(clap::Args)]
#[command(
    override_usage = "wetside card --at <TEMPERATURE> [OPTIONS]\n       wetside card --at <TEMPERATURE> [OPTIONS] <LABELS>\n       wetside card --at <TEMPERATURE> --rolls <ROLLS> [OPTIONS] <RECIPE> [NAME]",
    after_help = "Examples:\n  wetside card --at 21.5\n  wetside card A-12,A-16 --at 21.5\n  wetside card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside card recipes/estuary-400-mq.wet estuary-400-mq-800 --at 70F --rolls 3x120+2x135 --tank tall-five\n  wetside card estuary-400-mq --at 21.5C --ending 20C --rolls 5x120 --tank tall-five --start 19:30 -o tonight.json\n  wetside card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --date 2026-11-25 --start 19:30 -o tonight.ics"
)]
pub(super) struct Arguments {
    #[command(flatten)]
    asked: Asked,
    /// The time of day at the start, as in 19:30 or now
    #[arg(long, value_parser = given::start, value_name = "CLOCK")]
    start: Option<u32>,
    /// When you expect the signs at which you end steps, for a calendar or a sound track, as in bleach=5:00
    #[arg(long, value_delimiter = ',', value_parser = expect::expected, value_name = "STEP=TIME")]
    expect: Vec<Expected>,
    #[command(flatten)]
    output: Output<Form>,
    /// Columns of the text card, 40 to 200
    #[arg(long, default_value_t = 80, value_parser = clap::value_parser!(u16).range(40..=200), value_name = "COLUMNS")]
    width: u16,
    /// The paper of a card in PDF; your usual one if not given, else a4
    #[arg(long)]
    paper: Option<Paper>,
    /// Show how each number was calculated
    #[arg(long)]
    why: bool,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For a browser: one page to read, to print and to follow
    Html,
    /// For programs: one object, as grammar/schedule.schema.json says
    Json,
    /// For a printer, on --paper
    Pdf,
    /// The development chart as a picture (SVG), with tonight marked on it
    Curve,
    /// The whole session as a picture (SVG), to scale
    Strip,
    /// For a spreadsheet: a row for each action
    Csv,
    /// For a calendar: an event for each step, with --date and --start
    Ics,
    /// For the ear: tones from the first pour to the last drain
    Wav,
}

const RECORD: &str = "wetside record";

impl Form {
    /// The name, for messages, of a form whose steps have fixed times, so that it cannot wait for a sign; `None` for
    /// other forms.
    fn with_fixed_times(self) -> Option<&'static str> {
        match self {
            Form::Ics => Some("a calendar"),
            Form::Wav => Some("a sound track"),
            _ => None,
        }
    }
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    arguments.output.check_terminal(matches!(form, Form::Wav))?;
    arguments.output.check_paper(matches!(form, Form::Pdf), arguments.paper)?;
    let mut reader = Reader::default();
    let output = &arguments.output;
    let evening = &Evening::of("card", arguments.asked.clone())?;
    let schedule = &mut match schedule("card", evening, &mut reader) {
        Err(Failure::Refused(refusal)) => return refused((arguments, evening), form, refusal, terminal),
        schedule => schedule?,
    };
    schedule.conditions.start = arguments.start;
    let made = schedule.clone();
    if let Some(form) = form.with_fixed_times() {
        *schedule = expect::decided(schedule, form, &arguments.expect)?;
    } else if !arguments.expect.is_empty() {
        return fail(
            "only a calendar and a sound track take --expect",
            "leave it out: every other form shows the range",
        );
    }
    let bytes = written(arguments, form, schedule, (&reader, terminal))?;
    let ended = output.send(bytes, &[&reader])?;
    if let Some(line) = tonight::keep_card(evening, &made, arguments.start, &reader) {
        output::complain(&line);
    }
    Ok(ended)
}

fn written(
    arguments: &Arguments,
    form: Form,
    schedule: &mut Schedule,
    (reader, terminal): (&Reader, Terminal),
) -> Result<Vec<u8>, Failure> {
    let sources = &reader.sources;
    let text = match form {
        Form::Pdf => {
            let settings = personal(arguments.asked.common.no_config)?;
            let usual = settings.paper.filter(|_| arguments.paper.is_none());
            schedule.conditions.usual.paper = usual.map(Paper::name);
            let paper = arguments.paper.or(usual).unwrap_or(Paper::A4);
            return Ok(emit::pdf(schedule, sources, paper));
        }
        Form::Wav => return emit::wav(schedule).map_err(no_track),
        Form::Html => {
            let parts = emit::PageParts { reasons: arguments.why, record: RECORD, asking: None };
            emit::html(schedule, sources, parts)
        }
        Form::Json => emit::json(schedule, sources),
        Form::Csv => emit::csv(schedule),
        Form::Ics => calendar(arguments, schedule)?,
        Form::Text => emit::text(&emit::card(schedule, sources), arguments.look(terminal)),
        Form::Curve => emit::curve(schedule).ok_or_else(|| {
            Failure::new(
                format!("no step of {} takes its time from a chart", schedule.recipe.name),
                "write --as strip, which draws the session itself",
            )
        })?,
        Form::Strip => emit::strip(schedule),
    };
    Ok(text.into_bytes())
}

impl Arguments {
    fn look(&self, terminal: Terminal) -> emit::Look {
        let colour = self.output.colour(terminal);
        emit::Look { width: self.width.into(), colour, reasons: self.why }
    }
}

/// Returns the refusal as a failure, after writing what a refused card still has. An HTML page is written, and asks
/// about the wrong roll before its Start button. For text on standard output, if two films are in one tank, both cards
/// are printed.
fn refused(
    (arguments, evening): (&Arguments, &Evening),
    form: Form,
    mut refusal: Box<Refusal>,
    terminal: Terminal,
) -> Result<Ended, Failure> {
    let Arguments { output, start, .. } = arguments;
    let call = Refused { command: "card", evening, start: *start };
    match form {
        Form::Html => {
            let mut reader = Reader::default();
            let page = call.page(&refusal, arguments.why, &mut reader)?;
            output.send(page, &[&reader])?;
            refusal.has_page = true;
            Err(Failure::Refused(refusal))
        }
        Form::Text if output.file().is_none() => {
            output::print(call.both_cards(&refusal, arguments.look(terminal))?)?;
            Err(Failure::Refused(refusal))
        }
        _ => Err(Failure::Refused(refusal)),
    }
}

/// The text of a calendar file with an event for each step. Fails if `--date` or `--start` is missing.
fn calendar(arguments: &Arguments, schedule: &Schedule) -> Result<String, Failure> {
    let (Some(day), Some(start)) = (arguments.asked.common.date, arguments.start) else {
        return fail(
            "a calendar needs the day and the time of the start",
            "write both, as in --date 2026-11-25 --start 19:30",
        );
    };
    let too_late = || Failure::new("the calendar ends with the year 9999", "name an earlier day with --date");
    emit::ics(schedule, day, start).ok_or_else(too_late)
}

fn no_track(why: NoTrack) -> Failure {
    match why {
        NoTrack::NoPour => Failure::new(
            "nothing is poured in this recipe, so it has no tones",
            "write another form: -o tonight.txt",
        ),
        NoTrack::TooLong(length) => Failure::new(
            format!("from the first pour to the last drain it is {length}; tones last at most {TRACK_MAX}"),
            "write another form: -o tonight.ics has alarms",
        ),
    }
}
