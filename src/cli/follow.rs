//! `follow`: shows a session on a screen that keys control, or prints each line at its time.

mod desk;
mod hold;
mod place;
mod screen;
mod signals;

use std::io::{self, BufRead as _, IsTerminal as _};
use std::thread;
use std::time::{Duration, SystemTime};

use signal_hook::low_level::emulate_default_handler;

use super::choose::{no_step, schedule};
use super::given::{Asked, StepAsked};
use super::refusal::Refused;
use super::{Ended, Failure, Reader, Terminal, fail, given, output, tonight};
use crate::emit::{self, Live};
use crate::model::Time;
use crate::report::Look;

use desk::Desk;
use place::Place;

pub use screen::Screen;

/// Follow the card live in the terminal, with a bell for each action
///
/// Without a recipe, this is the card made last.
///
/// It begins with the warnings and cautions; any key continues to the work. Enter, held for a second, starts, says that
/// a bath went in now, that a sign is seen or that a lamp is on; the screen says which. Keys: 1, 2, 3 say that the bath
/// went in 5, 10 or 30 s later; the arrows or b and n go to the previous and next moment; w lists the steps, to say
/// which bath is in and since when; r says that a bath is back in; t takes a new temperature; u takes back what was
/// said last; c shows warnings and cautions again; q asks before it quits. After a quit or a power cut, the same call
/// goes on. If standard output is not a terminal, each line is printed at its time.
#[derive(clap::Args)]
#[command(
    override_usage = "wetside follow [OPTIONS]\n       wetside follow --at <TEMPERATURE> --rolls <ROLLS> [OPTIONS] <RECIPE> [NAME]",
    after_help = "Examples:\n  wetside follow\n  wetside follow --from fix\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --from fix --speed 60"
)]
pub(super) struct Arguments {
    #[command(flatten)]
    asked: Asked,
    /// Begin at this step: its kind, or its kind and name, such as fix or wash-last
    #[arg(long, value_parser = given::step, value_name = "STEP")]
    from: Option<StepAsked>,
    /// Run this many times faster than the clock, for a dry run
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=10000), value_name = "TIMES")]
    speed: u16,
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let mut reader = Reader::default();
    let (evening, last) = &tonight::evening("follow", &arguments.asked)?;
    let schedule = match schedule("follow", evening, &mut reader) {
        Err(Failure::Refused(refusal)) => {
            let call = Refused { command: "follow", evening, start: None };
            let look = emit::Look { width: 80, colour: terminal.out == Look::Colour, reasons: false };
            output::print(call.both_cards(&refusal, look)?)?;
            return Err(Failure::Refused(refusal));
        }
        schedule => schedule?,
    };
    if let Some(last) = last.as_ref().filter(|last| last.fingerprint != schedule.fingerprint.full()) {
        return fail(
            format!("the recipe has changed since the card of {} was made", last.date),
            "make the card again: wetside card --at 21.5",
        );
    }
    // A dry run, at another speed than 1, must not replace the card made last.
    if arguments.speed == 1
        && (last.is_none() || arguments.asked.common.at.is_some())
        && let Some(line) = tonight::keep_card(evening, &schedule, None, &reader)
    {
        output::complain(&line);
    }
    let mut from = Time::ZERO;
    if let Some((kind, name)) = &arguments.from {
        let mut steps = schedule.steps.iter();
        let step = steps.find(|step| step.kind == *kind && (name.is_none() || step.name == *name));
        from = step.ok_or_else(|| no_step(&schedule.recipe, *kind, name.as_deref()))?.start;
    }
    let live = Live::new(&schedule, &emit::card(&schedule, &reader.sources), from);
    let clock = Clock { origin: since_1970(), speed: arguments.speed };
    let is_dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
    match io::stdout().is_terminal() {
        true if !is_dumb => on_screen(live, clock, terminal),
        is_terminal => as_lines(&live, from, arguments.speed, is_terminal && io::stdin().is_terminal()),
    }
}

/// Shows the session on a screen that keys control, then prints the true times of its steps.
fn on_screen(live: Live, clock: Clock, terminal: Terminal) -> Result<Ended, Failure> {
    // A dry run, at another speed than 1, has no stored state to resume.
    let place = (clock.speed == 1).then(|| Place::of(&live));
    let mut desk = Desk::new(live, clock, place);
    let signal = desk.run(terminal.out == Look::Colour).map_err(|error| {
        Failure::new(
            format!("the terminal could not be used: {error}"),
            "to print the work as lines, use a pipe: wetside follow … | cat",
        )
    })?;
    // `run` has restored the terminal, so now the signal may end the program.
    signal.map(emulate_default_handler);
    output::print(desk.ending())
}

/// Prints each line at its time, after the warnings and cautions. With `waits`, the session starts only when the user
/// presses Enter.
fn as_lines(live: &Live, from: Time, speed: u16, waits: bool) -> Result<Ended, Failure> {
    let cautions: String = live.cautions().into_iter().map(|line| line + "\n").collect();
    if !output::printed(cautions)? {
        return Ok(Ended::Done);
    }
    if waits {
        output::print("press Enter to start\n")?;
        let _ = io::stdin().lock().read_line(&mut String::new());
    }
    let clock = Clock { origin: since_1970(), speed };
    let began = clock.now();
    for (at, line) in live.lines(from) {
        let left = u64::try_from((at - from - (clock.now() - began)).ms).unwrap_or(0);
        thread::sleep(Duration::from_millis(left.div_ceil(u64::from(speed))));
        if !output::printed(format!("{line}\n"))? {
            break;
        }
    }
    Ok(Ended::Done)
}

/// A clock that starts at the system time `origin` (since 1970) and runs `speed` times as fast. It uses the system time
/// and not a monotonic clock, so that it counts on while the computer sleeps or is off.
#[derive(Clone, Copy)]
struct Clock {
    origin: Time,
    speed: u16,
}

impl Clock {
    fn now(self) -> Time {
        let passed = (since_1970() - self.origin).ms;
        self.origin + Time::from_ms(passed.saturating_mul(i64::from(self.speed)))
    }
}

fn since_1970() -> Time {
    let since = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).unwrap_or_default();
    Time::from_ms(i64::try_from(since.as_millis()).unwrap_or(i64::MAX))
}
