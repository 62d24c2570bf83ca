//! The event loop of the screen: clock, keys, bell and signals. A signal takes effect after the terminal is restored.

use std::io;
use std::time::Duration;

use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, poll, read};

use super::super::failure::Failure;
use super::super::output::Terminal;
use super::Clock;
use super::screen::Screen;
use super::signals::Signals;
use crate::emit::{Key, Live};

/// The longest wait for a key before the next update.
const UPDATE: Duration = Duration::from_millis(50);

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
        let _ = signal_hook::low_level::emulate_default_handler(signal);
    }
    Ok(())
}

/// Runs until `q` or a signal, and returns the signal.
fn event_loop(mut live: Live, clock: Clock, terminal: Terminal) -> io::Result<Option<i32>> {
    let signals = Signals::install()?;
    let mut screen = Screen::open(terminal.out)?;
    loop {
        if let Some(signal) = signals.ending() {
            return Ok(Some(signal));
        }
        signals.stop_if_asked(&mut screen)?;
        let now = clock.now();
        if live.rings(now) {
            Screen::ring()?;
        }
        screen.show(live.frame(now, Screen::size()))?;
        if !poll(UPDATE)? {
            continue;
        }
        match read()? {
            Event::Key(key) if key.kind == KeyEventKind::Release => {}
            Event::Key(key) => match (code(key), key.modifiers.contains(KeyModifiers::CONTROL)) {
                (KeyCode::Char('q'), _) | (KeyCode::Char('c'), true) => return Ok(None),
                // A system without this signal ignores the request.
                (KeyCode::Char('z'), true) => signals.ask_to_stop(),
                _ if live.is_reading() => live.read_on(Screen::size()),
                (code, _) => {
                    if let Some((_, key)) = KEYS.iter().find(|(known, _)| *known == code) {
                        live.press(*key, clock.now());
                    }
                }
            },
            Event::Resize(..) => screen.forget(),
            _ => {}
        }
    }
}

/// The key, regardless of shift.
fn code(key: KeyEvent) -> KeyCode {
    if let KeyCode::Char(letter) = key.code { KeyCode::Char(letter.to_ascii_lowercase()) } else { key.code }
}
