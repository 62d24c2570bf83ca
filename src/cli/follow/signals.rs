//! Signals that end, stop or continue the program. A handler only sets a flag, which the event loop reads.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use super::screen::Screen;

/// The signals that end the program.
#[cfg(unix)]
const ENDING: &[i32] =
    &[signal_hook::consts::SIGINT, signal_hook::consts::SIGTERM, signal_hook::consts::SIGHUP];
#[cfg(not(unix))]
const ENDING: &[i32] = &[signal_hook::consts::SIGINT, signal_hook::consts::SIGTERM];

/// The time the event loop has to end after a signal.
const PATIENCE: Duration = Duration::from_secs(1);

/// The signals received.
pub(super) struct Signals {
    /// The signal that ends the program; 0 if none.
    ending: Arc<AtomicUsize>,
    /// Whether to stop.
    stop: Arc<AtomicBool>,
    /// Whether the program continues after a stop.
    continued: Arc<AtomicBool>,
}

impl Signals {
    /// Installs the handlers.
    pub(super) fn install() -> io::Result<Signals> {
        let signals = Signals { ending: Arc::default(), stop: Arc::default(), continued: Arc::default() };
        for signal in ENDING {
            let number = usize::try_from(*signal).unwrap_or(0);
            signal_hook::flag::register_usize(*signal, Arc::clone(&signals.ending), number)?;
        }
        #[cfg(unix)]
        {
            use signal_hook::consts::{SIGCONT, SIGTSTP};
            signal_hook::flag::register(SIGTSTP, Arc::clone(&signals.stop))?;
            signal_hook::flag::register(SIGCONT, Arc::clone(&signals.continued))?;
        }
        let ending = Arc::clone(&signals.ending);
        thread::Builder::new().spawn(move || end_without_loop(&ending))?;
        Ok(signals)
    }

    /// The signal that ends the program, if one came.
    pub(super) fn ending(&self) -> Option<i32> {
        received(&self.ending)
    }

    /// Acts as if the stop signal had come.
    pub(super) fn ask_to_stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Restores the terminal and stops if requested; takes the terminal again afterwards.
    #[cfg(unix)]
    pub(super) fn stop_if_asked(&self, screen: &mut Screen) -> io::Result<()> {
        if self.stop.swap(false, Ordering::Relaxed) {
            Screen::lend();
            signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP)?;
            self.continued.store(true, Ordering::Relaxed);
        }
        if self.continued.swap(false, Ordering::Relaxed) { screen.take() } else { Ok(()) }
    }

    /// Redraws; this system has no stop signal.
    #[cfg(not(unix))]
    pub(super) fn stop_if_asked(&self, screen: &mut Screen) -> io::Result<()> {
        let asked = self.stop.swap(false, Ordering::Relaxed) || self.continued.swap(false, Ordering::Relaxed);
        if asked { screen.take() } else { Ok(()) }
    }
}

fn received(ending: &AtomicUsize) -> Option<i32> {
    let signal = ending.load(Ordering::Relaxed);
    if signal == 0 { None } else { i32::try_from(signal).ok() }
}

/// Ends the program if the event loop does not. With crossterm 0.29 the wait for a key never returns after the
/// terminal is closed.
fn end_without_loop(ending: &AtomicUsize) {
    loop {
        thread::sleep(PATIENCE / 4);
        if let Some(signal) = received(ending) {
            thread::sleep(PATIENCE);
            let _ = crossterm::terminal::disable_raw_mode();
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    }
}
