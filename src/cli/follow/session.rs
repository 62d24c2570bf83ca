//! The event loop of the screen: clock, keys, bell and signals. A signal takes effect after the terminal is restored.

use std::io::{self, IsTerminal};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use crossterm::event::{Event, KeyCode, KeyEventKind, KeyModifiers, poll, read};
#[cfg(unix)]
use signal_hook::consts::SIGHUP as HANG_UP;
// Other systems have no signal for a terminal that is closed.
#[cfg(not(unix))]
use signal_hook::consts::SIGTERM as HANG_UP;
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use signal_hook::low_level::emulate_default_handler;

use super::super::{Failure, Terminal};
use super::Clock;
use super::screen::{Screen, restore};
use crate::emit::{Key, Live};

/// The longest wait for a key before the next update.
const UPDATE: Duration = Duration::from_millis(50);
/// The time the event loop has to end after a signal.
const PATIENCE: Duration = Duration::from_secs(1);

/// The keys of the work; `q` is not among them, since it quits.
const KEYS: [(KeyCode, Key); 8] = [
    (KeyCode::Char(' '), Key::Pause),
    (KeyCode::Char('s'), Key::Start),
    (KeyCode::Left, Key::Back),
    (KeyCode::Char('b'), Key::Back),
    (KeyCode::Right, Key::Next),
    (KeyCode::Char('n'), Key::Next),
    (KeyCode::Char('c'), Key::Cautions),
    (KeyCode::Char('?'), Key::Cautions),
];

/// Follows until `q` or a signal.
pub(super) fn run(live: Live, clock: Clock, terminal: Terminal) -> Result<(), Failure> {
    let signal = event_loop(live, clock, terminal).map_err(|error| {
        Failure::new(
            format!("the terminal could not be used: {error}"),
            "to print the work as lines, use a pipe: wetside follow … | cat",
        )
    })?;
    // The screen is restored by now, so the signal may end the program.
    if let Some(signal) = signal {
        let _ = emulate_default_handler(signal);
    }
    Ok(())
}

/// Runs until `q` or a signal, and returns the signal.
fn event_loop(mut live: Live, clock: Clock, terminal: Terminal) -> io::Result<Option<i32>> {
    let signals = Signals::install()?;
    let mut screen = Screen::open(terminal.out)?;
    loop {
        if let Some(signal) = ending(&signals.received) {
            return Ok(Some(signal));
        }
        if signals.stop.swap(false, Ordering::Relaxed) {
            stop()?;
            signals.continued.store(true, Ordering::Relaxed);
        }
        if signals.continued.swap(false, Ordering::Relaxed) {
            screen.take()?;
        }
        let now = clock.now();
        if live.rings(now) {
            Screen::ring()?;
        }
        screen.show(live.frame(now, Screen::size()))?;
        if !poll(UPDATE)? {
            continue;
        }
        let key = match read()? {
            Event::Key(key) if key.kind != KeyEventKind::Release => key,
            Event::Resize(..) => {
                screen.forget();
                continue;
            }
            _ => continue,
        };
        let code = match key.code {
            KeyCode::Char(letter) => KeyCode::Char(letter.to_ascii_lowercase()),
            other => other,
        };
        match (code, key.modifiers.contains(KeyModifiers::CONTROL)) {
            (KeyCode::Char('q'), _) | (KeyCode::Char('c'), true) => return Ok(None),
            (KeyCode::Char('z'), true) => signals.stop.store(true, Ordering::Relaxed),
            _ if live.is_reading() => live.read_on(Screen::size()),
            _ => {
                if let Some((_, key)) = KEYS.iter().find(|(known, _)| *known == code) {
                    live.press(*key, clock.now());
                }
            }
        }
    }
}

/// Flags that the signal handlers set and the event loop reads.
struct Signals {
    /// The signal that ends the program; 0 if none came.
    received: Arc<AtomicUsize>,
    stop: Arc<AtomicBool>,
    /// Whether the program continues after a stop.
    continued: Arc<AtomicBool>,
}

impl Signals {
    /// Installs the handlers.
    fn install() -> io::Result<Signals> {
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

/// The signal that ends the program: the one received, or a hang-up if the terminal is gone. The system sends that
/// signal only to programs that the terminal controls.
fn ending(received: &AtomicUsize) -> Option<i32> {
    match received.load(Ordering::Relaxed) {
        0 => (!io::stdout().is_terminal()).then_some(HANG_UP),
        signal => i32::try_from(signal).ok(),
    }
}

/// Ends the program if the event loop does not. With crossterm 0.29 the wait for a key never returns after the
/// terminal is closed.
fn end_without_loop(received: &AtomicUsize) {
    loop {
        thread::sleep(PATIENCE / 4);
        if let Some(signal) = ending(received) {
            thread::sleep(PATIENCE);
            let _ = crossterm::terminal::disable_raw_mode();
            let _ = emulate_default_handler(signal);
        }
    }
}

/// Restores the terminal and stops the program until it is continued. A system without that signal ignores it.
fn stop() -> io::Result<()> {
    restore();
    #[cfg(unix)]
    emulate_default_handler(signal_hook::consts::SIGTSTP)?;
    Ok(())
}
