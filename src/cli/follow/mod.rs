//! `follow`: an evening while it goes on, on a screen with keys, or as lines that come when they are due.

mod lines;
mod screen;
mod session;
mod signals;

pub use screen::Screen;

use std::io::IsTerminal;
use std::time::Instant;

use super::Ended;
use super::choose::choose;
use super::disk::Disk;
use super::evening::Evening;
use super::failure::Failure;
use super::given::{self, StepAsked};
use super::refused::refused;
use super::terminal::Terminal;
use super::wider;
use crate::compile::{PlannedStep, Schedule};
use crate::emit::{self, Live};
use crate::model::{Step, Time};
use crate::source::Sources;

/// Follow the card live in the terminal, with a bell for each action
///
/// It begins with the card's warnings and cautions, and any key goes on to the work. Keys: space starts and
/// pauses, s starts, the arrows or b and n go back and on by a moment, c or ? shows warnings and cautions again,
/// q quits; control-Z gives the terminal back until fg, while the clock goes on. Where standard output is no
/// terminal, warnings and cautions are told and then the work in lines as it comes due.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --from fix\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --speed 60"
)]
pub(super) struct Arguments {
    #[command(flatten)]
    evening: Evening,
    /// Begin at this step, by its kind or its kind and name, as in fix or wash-last
    #[arg(long, value_parser = given::step, value_name = "STEP")]
    from: Option<StepAsked>,
    /// How many times faster than the clock, for a dry run
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=10000), value_name = "TIMES")]
    speed: u16,
}

/// Finds, checks and compiles as a card does, then follows.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let choice = match choose("follow", &arguments.evening, None, &mut sources, &mut disk)? {
        Ok(choice) => choice,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    let schedule = match wider::compiled(choice, &mut sources, &mut disk) {
        Ok(schedule) => schedule,
        Err(findings) => return Ok(refused(&sources, &findings, terminal)),
    };
    let from = match &arguments.from {
        Some(asked) => beginning(asked, &schedule)?,
        None => Time::ZERO,
    };
    let live = Live::new(&schedule, &emit::card(&schedule, &sources), from);
    let clock = Clock { origin: Instant::now(), speed: arguments.speed };
    if is_screen() {
        session::run(live, clock, terminal)?
    } else {
        lines::run(&live, from, clock)?
    }
    Ok(Ended::Done)
}

/// The clock that is followed: what has passed on the machine's monotonic one, times the speed.
#[derive(Debug, Clone, Copy)]
struct Clock {
    origin: Instant,
    speed: u16,
}

impl Clock {
    fn now(self) -> Time {
        let passed = i64::try_from(self.origin.elapsed().as_millis()).unwrap_or(i64::MAX);
        Time::from_ms(passed.saturating_mul(i64::from(self.speed)))
    }
}

/// Whether standard output is a terminal that can be drawn on.
fn is_screen() -> bool {
    std::io::stdout().is_terminal() && std::env::var_os("TERM").is_none_or(|value| value != "dumb")
}

/// Where the step begins that was asked for.
fn beginning(asked: &StepAsked, schedule: &Schedule) -> Result<Time, Failure> {
    let is =
        |step: &&PlannedStep| step.kind == asked.kind && (asked.name.is_none() || asked.name == step.name);
    if let Some(step) = schedule.steps.iter().find(is) {
        return Ok(step.start);
    }
    let name = asked.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
    let steps: Vec<String> = schedule.recipe.steps.iter().map(Step::title).collect();
    Err(Failure::new(
        format!("'{}' has no step {}{name} to begin at", schedule.recipe.name, asked.kind.word()),
        format!("its steps are {}; a step's own name follows a hyphen: --from wash-last", steps.join(", ")),
    ))
}
