//! Signals as they come in: those that ask the program to go, and those that stop it and let it go on. They
//! are only noted when they come; the session acts on them between two looks at the clock. Where it comes to no
//! look any more, since the terminal is gone, the program goes without it.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use super::screen::Screen;

/// What asks the program to go.
#[cfg(unix)]
const ENDING: &[i32] =
    &[signal_hook::consts::SIGINT, signal_hook::consts::SIGTERM, signal_hook::consts::SIGHUP];
#[cfg(not(unix))]
const ENDING: &[i32] = &[signal_hook::consts::SIGINT, signal_hook::consts::SIGTERM];

/// How long the session may take to go when a signal asks for it.
const PATIENCE: Duration = Duration::from_secs(1);

/// What has come in.
pub(super) struct Signals {
    /// The signal that asks the program to go; 0 while none does.
    ending: Arc<AtomicUsize>,
    /// Whether it is asked to stop for a while.
    stop: Arc<AtomicBool>,
    /// Whether it goes on after it was stopped, by us or by a signal that cannot be held.
    goes_on: Arc<AtomicBool>,
}

impl Signals {
    /// From now on they are noted.
    pub(super) fn caught() -> io::Result<Signals> {
        let signals = Signals { ending: Arc::default(), stop: Arc::default(), goes_on: Arc::default() };
        for signal in ENDING {
            let number = usize::try_from(*signal).unwrap_or(0);
            signal_hook::flag::register_usize(*signal, Arc::clone(&signals.ending), number)?;
        }
        #[cfg(unix)]
        {
            use signal_hook::consts::{SIGCONT, SIGTSTP};
            signal_hook::flag::register(SIGTSTP, Arc::clone(&signals.stop))?;
            signal_hook::flag::register(SIGCONT, Arc::clone(&signals.goes_on))?;
        }
        let ending = Arc::clone(&signals.ending);
        thread::Builder::new().spawn(move || go_without_session(&ending))?;
        Ok(signals)
    }

    /// The signal that asks the program to go, if one does.
    pub(super) fn ending(&self) -> Option<i32> {
        noted(&self.ending)
    }

    /// As if the signal had come that stops a program.
    pub(super) fn ask_to_stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Gives the terminal back and stops, where that was asked for, and takes it again when it goes on.
    #[cfg(unix)]
    pub(super) fn stop_if_asked(&self, screen: &mut Screen) -> io::Result<()> {
        if self.stop.swap(false, Ordering::Relaxed) {
            Screen::lend();
            signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP)?;
            self.goes_on.store(true, Ordering::Relaxed);
        }
        if self.goes_on.swap(false, Ordering::Relaxed) { screen.take() } else { Ok(()) }
    }

    /// No such signal is known here.
    #[cfg(not(unix))]
    pub(super) fn stop_if_asked(&self, screen: &mut Screen) -> io::Result<()> {
        let asked = self.stop.swap(false, Ordering::Relaxed) || self.goes_on.swap(false, Ordering::Relaxed);
        if asked { screen.take() } else { Ok(()) }
    }
}

fn noted(ending: &AtomicUsize) -> Option<i32> {
    let signal = ending.load(Ordering::Relaxed);
    if signal == 0 { None } else { i32::try_from(signal).ok() }
}

/// Ends the program by a signal on which the session does not act. Of a terminal that is gone, as with a window
/// that is closed, crossterm 0.29 reads the end over and over, and its wait for a key never returns.
fn go_without_session(ending: &AtomicUsize) {
    loop {
        thread::sleep(PATIENCE / 4);
        if let Some(signal) = noted(ending) {
            thread::sleep(PATIENCE);
            let _ = crossterm::terminal::disable_raw_mode();
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    }
}
