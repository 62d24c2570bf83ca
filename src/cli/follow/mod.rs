//! `follow`: a session on a screen with keys, or as lines printed at their times.

mod screen;
mod session;

pub use screen::Screen;

use std::time::{Duration, Instant};

use super::choose::{no_step, schedule};
use super::given::Evening;
use super::{Ended, Failure, Reader, Terminal, given, output};
use crate::compile::Schedule;
use crate::emit::{self, Live};
use crate::model::{StepKind, Time};

/// Follow the card live in the terminal, with a bell for each action
///
/// It begins with the warnings and cautions; any key continues to the work. Keys: space starts and pauses, s starts,
/// the arrows or b and n go to the previous and next moment, c or ? shows warnings and cautions again, q quits.
/// Control-Z gives the terminal back until fg, while the clock runs on. If standard output is not a terminal,
/// each line is printed at its time.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --from fix\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --speed 60"
)]
pub(super) struct Arguments {
    #[command(flatten)]
    evening: Evening,
    /// Begin at this step: its kind, or its kind and name, such as fix or wash-last
    #[arg(long, value_parser = given::step, value_name = "STEP")]
    from: Option<(StepKind, Option<String>)>,
    /// Run this many times faster than the clock, for a dry run
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=10000), value_name = "TIMES")]
    speed: u16,
}

/// Compiles the recipe as `card` does, then follows the schedule.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let mut reader = Reader::default();
    let schedule = schedule("follow", &arguments.evening, None, &[], &mut reader)?;
    let from = arguments.from.as_ref().map_or(Ok(Time::ZERO), |asked| start_of(asked, &schedule))?;
    let live = Live::new(&schedule, &emit::card(&schedule, &reader.sources), from);
    let clock = Clock { origin: Instant::now(), speed: arguments.speed };
    let draws = terminal.out_is_terminal && std::env::var_os("TERM").is_none_or(|value| value != "dumb");
    if draws {
        session::run(live, clock, terminal)?;
        return Ok(Ended::Done);
    }
    for (at, line) in live.lines(from) {
        let left = u64::try_from((at - from - clock.now()).ms).unwrap_or(0);
        std::thread::sleep(Duration::from_millis(left.div_ceil(u64::from(clock.speed))));
        if !output::printed(format!("{line}\n"))? {
            break;
        }
    }
    Ok(Ended::Done)
}

/// The machine's monotonic clock since `origin`, times the speed.
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

/// The time at which the requested step begins.
fn start_of((kind, name): &(StepKind, Option<String>), schedule: &Schedule) -> Result<Time, Failure> {
    let mut steps = schedule.steps.iter();
    let step = steps.find(|step| step.kind == *kind && (name.is_none() || step.name == *name));
    step.map(|step| step.start).ok_or_else(|| no_step(&schedule.recipe, *kind, name.as_deref()))
}
