//! Lines that come when they are due, for a pipe or a file. A reader that went away ends it.

use std::io::{ErrorKind, Write};
use std::time::Duration;

use super::super::failure::Failure;
use super::Clock;
use crate::emit::Live;
use crate::model::Time;

/// The longest it sleeps at once; what is due is measured anew after each.
const NAP: Duration = Duration::from_millis(200);

/// Prints each line at its time.
pub(super) fn run(live: &Live, from: Time, clock: Clock) -> Result<(), Failure> {
    for (at, line) in live.lines(from) {
        wait(clock, at - from);
        let mut out = std::io::stdout().lock();
        match writeln!(out, "{line}").and_then(|()| out.flush()) {
            Ok(()) => {}
            Err(error) if error.kind() == ErrorKind::BrokenPipe => return Ok(()),
            Err(error) => {
                return Err(Failure::new(
                    format!("the output could not be written: {error}"),
                    "see whether the disk is full",
                ));
            }
        }
    }
    Ok(())
}

/// Until the clock shows this.
fn wait(clock: Clock, due: Time) {
    loop {
        let left = due - clock.now();
        let Ok(left @ 1..) = u64::try_from(left.ms) else { return };
        let real = Duration::from_millis(left.div_ceil(u64::from(clock.speed)));
        std::thread::sleep(real.min(NAP));
    }
}
