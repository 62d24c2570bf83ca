//! `follow`: shows a session on a screen that keys control, or prints each line at its time.

use std::io::{self, IsTerminal as _, Write as _};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use crossterm::cursor::{Hide, MoveTo, Show};
use crossterm::event::{Event, KeyCode, KeyEventKind, KeyModifiers, poll, read};
use crossterm::style::{Attribute, Print, PrintStyledContent, SetAttribute, Stylize as _};
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
    is_raw_mode_enabled,
};
use crossterm::{execute, queue};
#[cfg(unix)]
use signal_hook::consts::SIGHUP as HANG_UP;
// Outside Unix no signal reports a closed terminal, so SIGTERM takes the place of SIGHUP.
#[cfg(not(unix))]
use signal_hook::consts::SIGTERM as HANG_UP;
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;
use signal_hook::low_level::emulate_default_handler;

use super::choose::{no_step, schedule};
use super::given::{Evening, StepAsked};
use super::refusal::Refused;
use super::{Ended, Failure, Reader, Terminal, given, output};
use crate::emit::{self, Key, Live, Row, Shade, Size};
use crate::model::Time;
use crate::report::Look;

/// Follow the card live in the terminal, with a bell for each action
///
/// It begins with the warnings and cautions; any key continues to the work. Keys: space starts and pauses, s starts,
/// the arrows or b and n go to the previous and next moment, c or ? shows warnings and cautions again, q quits. Enter,
/// held for a second, says that the fixer is in; without that, the lid stays on.
/// Control-Z suspends the program until fg, but the clock runs on. If standard output is not a terminal, each line is
/// printed at its time.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five\n  wetside follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five --from fix --speed 60"
)]
pub(super) struct Arguments {
    #[command(flatten)]
    evening: Evening,
    /// Labels of the rolls, from the bottom of the tank up; - for a roll without one
    #[arg(long, value_delimiter = ',', value_name = "LABELS")]
    label: Vec<String>,
    /// Begin at this step: its kind, or its kind and name, such as fix or wash-last
    #[arg(long, value_parser = given::step, value_name = "STEP")]
    from: Option<StepAsked>,
    /// Run this many times faster than the clock, for a dry run
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=10000), value_name = "TIMES")]
    speed: u16,
}

/// Compiles the recipe as the command `card` does, then shows the schedule live.
pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let mut reader = Reader::default();
    let schedule = match schedule("follow", &arguments.evening, None, &arguments.label, &mut reader) {
        Err(Failure::Refused(refusal)) => {
            let (evening, labels) = (&arguments.evening, arguments.label.as_slice());
            let call = Refused { command: "follow", evening, day: None, labels, start: None };
            let look = emit::Look { width: 80, colour: terminal.out == Look::Colour, reasons: false };
            output::print(call.both_cards(&refusal, look)?)?;
            return Err(Failure::Refused(refusal));
        }
        schedule => schedule?,
    };
    let mut from = Time::ZERO;
    if let Some((kind, name)) = &arguments.from {
        let mut steps = schedule.steps.iter();
        let step = steps.find(|step| step.kind == *kind && (name.is_none() || step.name == *name));
        from = step.ok_or_else(|| no_step(&schedule.recipe, *kind, name.as_deref()))?.start;
    }
    let live = Live::new(&schedule, &emit::card(&schedule, &reader.sources), from);
    let clock = Clock { origin: Instant::now(), speed: arguments.speed };
    let draws = io::stdout().is_terminal() && std::env::var_os("TERM").is_none_or(|value| value != "dumb");
    if draws {
        let signal = event_loop(live, clock, terminal).map_err(|error| {
            Failure::new(
                format!("the terminal could not be used: {error}"),
                "to print the work as lines, use a pipe: wetside follow … | cat",
            )
        })?;
        // The screen is restored, so the signal may end the program.
        signal.map(emulate_default_handler);
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

/// A clock that starts at `origin` and runs `speed` times as fast as the machine's clock.
#[derive(Clone, Copy)]
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

/// The longest wait for a key between updates of the screen.
const UPDATE: Duration = Duration::from_millis(50);
/// How long the event loop may take to end after a signal.
const PATIENCE: Duration = Duration::from_secs(1);

/// The keys and what they do, except those that quit or suspend the program.
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

/// Shows the session and handles keys. Returns the signal that ended the loop; `None` if a key ended the loop.
fn event_loop(mut live: Live, clock: Clock, terminal: Terminal) -> io::Result<Option<i32>> {
    let signals = Signals::install()?;
    let mut screen = Screen::open(terminal.out == Look::Colour)?;
    let mut held = Hold::default();
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
            execute!(io::stdout(), Print('\u{7}'))?;
        }
        live.hold(held.hundredths());
        screen.show(live.frame(now, Screen::size()))?;
        if !poll(UPDATE)? {
            continue;
        }
        let key = match read()? {
            Event::Key(key) if key.kind != KeyEventKind::Release => key,
            Event::Resize(..) => {
                screen.shown.clear();
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
            (KeyCode::Enter, _) if live.asks(clock.now()).is_some() => {
                if held.press() {
                    live.press(Key::Confirm, clock.now());
                }
            }
            _ => {
                if let Some((_, key)) = KEYS.iter().find(|(known, _)| *known == code) {
                    live.press(*key, clock.now());
                }
            }
        }
    }
}

/// How long a key must be held to confirm something.
const HELD: Duration = Duration::from_secs(1);
/// The longest time between two signs of a held key. Terminals report a held key as one that is pressed again and
/// again, at first after up to 0.66 s.
const REPEATED: Duration = Duration::from_millis(800);

/// A key that is held: when it was pressed first and last.
#[derive(Default)]
struct Hold(Option<(Instant, Instant)>);

impl Hold {
    /// Takes one sign of the key. Returns whether it has been held long enough; then a new hold begins.
    fn press(&mut self) -> bool {
        let now = Instant::now();
        let (first, _) = self.0.filter(|(_, last)| now - *last <= REPEATED).unwrap_or((now, now));
        let is_long = now - first >= HELD;
        self.0 = Some((first, now)).filter(|_| !is_long);
        is_long
    }

    /// The part of the time that has passed, in hundredths; 0 if the key is not held.
    fn hundredths(&mut self) -> usize {
        self.0 = self.0.filter(|(_, last)| last.elapsed() <= REPEATED);
        let passed = |(first, _): (Instant, Instant)| first.elapsed().as_millis() * 100 / HELD.as_millis();
        self.0.map_or(0, |hold| usize::try_from(passed(hold)).unwrap_or(100).clamp(1, 100))
    }
}

/// Flags set by signal handlers and read by the event loop.
struct Signals {
    /// The signal that ends the program; 0 if none came.
    received: Arc<AtomicUsize>,
    stop: Arc<AtomicBool>,
    /// Whether the program was stopped and now continues.
    continued: Arc<AtomicBool>,
}

impl Signals {
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

/// The signal that ends the program, if any: the received signal, or a hang-up if the terminal is gone. The terminal is
/// checked because the system sends a hang-up only to programs that the terminal controls.
fn ending(received: &AtomicUsize) -> Option<i32> {
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
fn stop() -> io::Result<()> {
    restore();
    #[cfg(unix)]
    emulate_default_handler(signal_hook::consts::SIGTSTP)?;
    Ok(())
}

/// The size assumed for a terminal that reports none.
const USUAL_SIZE: Size = Size { columns: 80, rows: 24 };

/// A terminal in full-screen mode. Dropping this value restores the terminal.
#[derive(Debug)]
pub struct Screen {
    colour: bool,
    /// The rows now on the screen. An empty list makes the next update draw every row.
    shown: Vec<Row>,
}

impl Screen {
    /// Puts the terminal into full-screen mode. `colour` allows bold and dim text.
    ///
    /// # Errors
    ///
    /// If standard input and output are not a terminal, or the mode of the terminal cannot be set.
    pub fn open(colour: bool) -> io::Result<Screen> {
        // A panic may abort the program without dropping the screen, so the hook restores the terminal too.
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            restore();
            before(panic);
        }));
        // The screen is made first, so that its drop restores the terminal if `take` fails halfway.
        let mut screen = Screen { colour, shown: Vec::new() };
        screen.take()?;
        Ok(screen)
    }

    /// Puts the terminal into full-screen mode, at first and after each stop, and clears the screen.
    fn take(&mut self) -> io::Result<()> {
        // Another program may have changed the mode while this program was stopped.
        disable_raw_mode()?;
        enable_raw_mode()?;
        self.shown.clear();
        execute!(io::stdout(), EnterAlternateScreen, Hide, Clear(ClearType::All))
    }

    fn size() -> Size {
        match crossterm::terminal::size() {
            Ok((columns @ 1.., rows @ 1..)) => Size { columns: columns.into(), rows: rows.into() },
            Ok(_) | Err(_) => USUAL_SIZE,
        }
    }

    /// Shows these rows. Only rows that differ from those on the screen are written.
    ///
    /// # Errors
    ///
    /// If the terminal cannot be written.
    pub fn show(&mut self, rows: Vec<Row>) -> io::Result<()> {
        if rows == self.shown {
            return Ok(());
        }
        let mut out = io::stdout().lock();
        if self.shown.len() != rows.len() {
            queue!(out, Clear(ClearType::All))?;
            self.shown.clear();
        }
        for (line, row) in (0u16..).zip(&rows) {
            if self.shown.get(usize::from(line)) == Some(row) {
                continue;
            }
            let text = row.text.as_str().stylize();
            let text = match row.shade {
                Shade::Strong if self.colour => text.bold(),
                Shade::Faint if self.colour => text.dim(),
                Shade::Strong | Shade::Faint | Shade::Body => text,
            };
            queue!(out, MoveTo(0, line), Clear(ClearType::CurrentLine), PrintStyledContent(text))?;
        }
        self.shown = rows;
        out.flush()
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        restore();
    }
}

/// Restores a terminal in full-screen mode. An error is ignored, since it means that the terminal is gone.
fn restore() {
    if is_raw_mode_enabled().unwrap_or(false) {
        let _ = execute!(io::stdout(), SetAttribute(Attribute::Reset), Show, LeaveAlternateScreen);
        let _ = disable_raw_mode();
    }
}
