//! The signals that end, stop and continue the program while it has the terminal.

use std::io::{self, IsTerminal as _};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use crossterm::terminal::disable_raw_mode;
#[cfg(unix)]
use signal_hook::consts::SIGHUP as HANG_UP;
// Outside Unix no signal reports a closed terminal, so SIGTERM takes the place of SIGHUP.
#[cfg(not(unix))]
use signal_hook::consts::SIGTERM as HANG_UP;
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use signal_hook::low_level::emulate_default_handler;

use super::screen::restore;

/// How long the event loop may take to end after a signal; then `end_without_loop` ends the program.
const PATIENCE: Duration = Duration::from_secs(1);

/// Flags set by signal handlers and read by the event loop.
pub(super) struct Signals {
    /// The signal that ends the program; 0 if none came.
    pub(super) received: Arc<AtomicUsize>,
    pub(super) stop: Arc<AtomicBool>,
    /// Whether the program continues after it was suspended.
    pub(super) continued: Arc<AtomicBool>,
}

impl Signals {
    pub(super) fn install() -> io::Result<Signals> {
        let signals = Signals { received: Arc::default(), stop: Arc::default(), continued: Arc::default() };
        for signal in [SIGINT, SIGTERM, HANG_UP] {
            let number = usize::try_from(signal).unwrap_or(0);
            flag::register_usize(signal, Arc::clone(&signals.received), number)?;
        }
        #[cfg(unix)]
        {
            flag::register(signal_hook::consts::SIGTSTP, Arc::clone(&signals.stop))?;
            flag::register(signal_hook::consts::SIGCONT, Arc::clone(&signals.continued))?;
        }
        let received = Arc::clone(&signals.received);
        thread::Builder::new().spawn(move || end_without_loop(&received))?;
        Ok(signals)
    }
}

/// The signal that ends the program, if any: the received signal, or a hang-up if the terminal is gone. The terminal is
/// checked because the system sends a hang-up only to programs that the terminal controls.
pub(super) fn ending(received: &AtomicUsize) -> Option<i32> {
    match received.load(Ordering::Relaxed) {
        0 => (!io::stdout().is_terminal()).then_some(HANG_UP),
        signal => i32::try_from(signal).ok(),
    }
}

/// Ends the program after a signal if the event loop does not. In crossterm 0.29 the wait for a key never returns after
/// the terminal is closed.
fn end_without_loop(received: &AtomicUsize) {
    loop {
        thread::sleep(PATIENCE / 4);
        if let Some(signal) = ending(received) {
            thread::sleep(PATIENCE);
            let _ = disable_raw_mode();
            let _ = emulate_default_handler(signal);
        }
    }
}

/// Restores the terminal, and on Unix suspends the program until it is continued.
pub(super) fn stop() -> io::Result<()> {
    restore();
    #[cfg(unix)]
    emulate_default_handler(signal_hook::consts::SIGTSTP)?;
    Ok(())
}
