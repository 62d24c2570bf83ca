//! A session at the screen: what the clock shows, keys as they come, a bell, and signals, for which the
//! terminal is given back before the program goes, or stops for a while, as the signal asks.

use std::io;
use std::time::Duration;

use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, poll, read};

use super::super::failure::Failure;
use super::super::terminal::Terminal;
use super::Clock;
use super::screen::Screen;
use super::signals::Signals;
use crate::emit::{Key, Live};

/// How long it waits for a key before it looks at the clock again.
const LOOK: Duration = Duration::from_millis(50);

/// Which key means what; `q` is not among them, as it leaves.
const KEYS: [(KeyCode, Key); 8] = [
    (KeyCode::Char(' '), Key::Pause),
    (KeyCode::Char('s'), Key::Start),
    (KeyCode::Left, Key::Back),
    (KeyCode::Char('b'), Key::Back),
    (KeyCode::Right, Key::On),
    (KeyCode::Char('n'), Key::On),
    (KeyCode::Char('c'), Key::Cautions),
    (KeyCode::Char('?'), Key::Cautions),
];

/// Follows until `q`, or a signal.
pub(super) fn run(live: Live, clock: Clock, terminal: Terminal) -> Result<(), Failure> {
    let signal = followed(live, clock, terminal).map_err(|error| {
        Failure::new(
            format!("the terminal could not be used: {error}"),
            "send the output through a pipe, which tells the work in lines: wetside follow … | cat",
        )
    })?;
    // The screen is given back by now: the program goes as if it had not held the signal.
    if let Some(signal) = signal {
        let _ = signal_hook::low_level::emulate_default_handler(signal);
    }
    Ok(())
}

/// The signal that ended it, if one did.
fn followed(mut live: Live, clock: Clock, terminal: Terminal) -> io::Result<Option<i32>> {
    let signals = Signals::caught()?;
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
        if !poll(LOOK)? {
            continue;
        }
        match read()? {
            Event::Key(key) if leaves(key) => return Ok(None),
            Event::Key(key) if stops(key) => signals.ask_to_stop(),
            Event::Key(key) if key.kind != KeyEventKind::Release && live.is_reading() => {
                live.read_on(Screen::size());
            }
            Event::Key(key) => {
                if let Some(meant) = meant(key) {
                    live.press(meant, clock.now());
                }
            }
            Event::Resize(..) => screen.forget(),
            Event::FocusGained | Event::FocusLost | Event::Mouse(_) => {}
        }
    }
}

/// `q`, or the control-C that a terminal in this mode tells as a key.
fn leaves(key: KeyEvent) -> bool {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    key.kind != KeyEventKind::Release
        && (code(key) == KeyCode::Char('q') || control && code(key) == KeyCode::Char('c'))
}

/// The control-Z that a terminal in this mode tells as a key. A system that knows no stopping takes no notice.
fn stops(key: KeyEvent) -> bool {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    key.kind != KeyEventKind::Release && control && code(key) == KeyCode::Char('z')
}

fn meant(key: KeyEvent) -> Option<Key> {
    if key.kind == KeyEventKind::Release {
        return None;
    }
    KEYS.iter().find(|(known, _)| *known == code(key)).map(|(_, meant)| *meant)
}

/// A letter means the same with shift.
fn code(key: KeyEvent) -> KeyCode {
    if let KeyCode::Char(letter) = key.code { KeyCode::Char(letter.to_ascii_lowercase()) } else { key.code }
}
