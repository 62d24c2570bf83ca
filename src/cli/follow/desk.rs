//! The event loop of a followed session: shows the screen, and takes keys.

use std::io;
use std::sync::atomic::Ordering;
use std::time::Duration;

use crossterm::event::{Event, KeyCode, KeyEventKind, KeyModifiers, poll, read};
use crossterm::execute;
use crossterm::style::Print;

use super::super::given;
use super::Clock;
use super::hold::Hold;
use super::place::Place;
use super::screen::Screen;
use super::signals::{Signals, ending, stop};
use crate::emit::{self, Live, Press, Said, Took};
use crate::model::{Temperature, Time};

/// The longest wait for a key between updates of the screen.
const UPDATE: Duration = Duration::from_millis(50);
const QUIT: &str = "Quit? y quits; the same call goes on later. Any other key stays.";
/// The keys by which the user says that a bath went in late, and by how many seconds.
const BEHIND: [(char, i64); 3] = [('1', 5), ('2', 10), ('3', 30)];
/// In the list of steps: the keys that shift the time at which the chosen bath went in, and by how many seconds.
const SINCE: [(KeyCode, i64); 4] =
    [(KeyCode::Char('-'), -10), (KeyCode::Left, -10), (KeyCode::Char('+'), 10), (KeyCode::Right, 10)];

/// The options of `follow` that are left out of the command that records the session. Each of them has a value.
const OWN: [&str; 3] = ["--from", "--speed", "--color"];

/// The question to the user that the screen shows in place of the row of keys.
enum Asked {
    Nothing,
    Quit,
    /// Asks for the temperature of the bath. The text is what the user has typed until now.
    Temperature(String),
}

pub(super) struct Desk {
    live: Live,
    clock: Clock,
    place: Option<Place>,
    held: Hold,
    asked: Asked,
    /// Whether an earlier run began to follow this session. If so, the key `a` in the list of steps begins the session
    /// again.
    is_resumed: bool,
    /// The key presses of the user that are stored on the disk.
    kept: Vec<Press>,
}

impl Desk {
    /// Prepares a session. If an earlier run of it has stored key presses at `place`, they are restored, and the screen
    /// asks which bath is in the tank.
    pub(super) fn new(mut live: Live, clock: Clock, place: Option<Place>) -> Desk {
        let now = clock.now();
        let zoned = jiff::ZonedDateTime::try_from(std::time::SystemTime::now());
        let offset = zoned.map_or(0, |zoned| zoned.offset().seconds());
        live.set_midnight(Time::from_seconds(i64::from(offset)));
        let kept = place.as_ref().and_then(|place| place.kept(now)).unwrap_or_default();
        let is_resumed = !kept.is_empty();
        if let Some(last) = kept.last() {
            live.restore(&kept, now);
            let last = format!("{}, {}", live.words(*last), live.day_time(last.clock));
            let why = format!("Which bath is in the tank, and since when? Said last: {last}");
            live.choose(Some(why), now);
        }
        Desk { live, clock, place, held: Hold::default(), asked: Asked::Nothing, is_resumed, kept }
    }

    /// Shows the session and takes keys until a key or a signal ends the loop. Returns the number of the signal; `None`
    /// if a key ended the loop.
    pub(super) fn run(&mut self, colour: bool) -> io::Result<Option<i32>> {
        let signals = Signals::install()?;
        let mut screen = Screen::open(colour)?;
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
            let now = self.clock.now();
            if self.live.rings(now) {
                execute!(io::stdout(), Print('\u{7}'))?;
            }
            self.live.hold(self.held.hundredths());
            self.live.ask(self.prompt());
            screen.show(self.live.frame(now, Screen::size()))?;
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
            let is_control = key.modifiers.contains(KeyModifiers::CONTROL);
            match key.code {
                KeyCode::Char('z' | 'Z') if is_control => signals.stop.store(true, Ordering::Relaxed),
                KeyCode::Char('c' | 'C') if is_control => {
                    if self.quit() {
                        return Ok(None);
                    }
                }
                code => {
                    if self.take(code) {
                        return Ok(None);
                    }
                }
            }
            self.keep();
        }
    }

    /// Makes the screen ask whether to quit. Returns whether the screen was already asking that.
    fn quit(&mut self) -> bool {
        let was_asked = matches!(self.asked, Asked::Quit);
        self.asked = Asked::Quit;
        was_asked
    }

    fn prompt(&self) -> Option<String> {
        match &self.asked {
            Asked::Nothing => None,
            Asked::Quit => Some(QUIT.to_owned()),
            Asked::Temperature(typed) => {
                Some(format!("temperature now: {typed}_   Enter takes it, Esc does not"))
            }
        }
    }

    /// Handles a key press. Returns whether the program is to quit.
    fn take(&mut self, code: KeyCode) -> bool {
        let now = self.clock.now();
        let code = match code {
            KeyCode::Char(letter) => KeyCode::Char(letter.to_ascii_lowercase()),
            other => other,
        };
        match std::mem::replace(&mut self.asked, Asked::Nothing) {
            Asked::Quit => return code == KeyCode::Char('y'),
            Asked::Temperature(typed) => self.type_temperature(typed, code, now),
            Asked::Nothing if code == KeyCode::Char('q') => self.asked = Asked::Quit,
            Asked::Nothing if self.live.is_reading() => self.live.read_on(Screen::size()),
            Asked::Nothing if self.live.is_choosing() => self.choose(code, now),
            Asked::Nothing => self.work(code, now),
        }
        false
    }

    fn type_temperature(&mut self, mut typed: String, code: KeyCode, now: Time) {
        match code {
            KeyCode::Esc => return,
            KeyCode::Enter => {
                match reading(&typed) {
                    Ok(temperature) if self.live.say(Said::Read(temperature), now) => {
                        let changed = self.live.last_reading().unwrap_or_default();
                        self.live.tell(&changed, now);
                    }
                    Ok(_) => self.live.tell("no bath is in the tank whose temperature could be read", now),
                    Err(why) => self.live.tell(&why, now),
                }
                return;
            }
            KeyCode::Backspace => _ = typed.pop(),
            KeyCode::Char(letter) if typed.len() < 12 => typed.push(letter),
            _ => {}
        }
        self.asked = Asked::Temperature(typed);
    }

    fn choose(&mut self, code: KeyCode, now: Time) {
        match code {
            KeyCode::Up => self.live.mark(-1, now),
            KeyCode::Down => self.live.mark(1, now),
            KeyCode::Enter => _ = self.live.take_choice(now),
            KeyCode::Char('x') | KeyCode::Esc => self.live.close_choice(),
            KeyCode::Char('a') if self.is_resumed => {
                self.live.restore(&[], now);
                self.live.close_choice();
            }
            code => {
                if let Some((_, by)) = SINCE.iter().find(|(key, _)| *key == code) {
                    self.live.shift_since(Time::from_seconds(*by), now);
                }
            }
        }
    }

    fn work(&mut self, code: KeyCode, now: Time) {
        let live = &mut self.live;
        match code {
            KeyCode::Enter | KeyCode::Char(' ') if live.asks(now).is_some() => {
                let is_held = self.held.press();
                let _ = is_held && live.confirm(now);
            }
            KeyCode::Char('s') if !live.is_started() => _ = live.say(Said::Start, now),
            KeyCode::Left | KeyCode::Char('b') => _ = live.back(now),
            KeyCode::Right | KeyCode::Char('n') => _ = live.next(now),
            KeyCode::Char('w') => live.choose(None, now),
            KeyCode::Char('t') => self.asked = Asked::Temperature(String::new()),
            KeyCode::Char('r') => {
                let is_back = live.say(Said::BackIn, now);
                if !is_back {
                    live.tell("no bath was taken out before its time", now);
                }
            }
            KeyCode::Char('u') => {
                let text = match live.undo(now) {
                    Some(press) => {
                        format!("took back: {}, {}", live.words(press), live.day_time(press.clock))
                    }
                    None => "there is nothing to take back".to_owned(),
                };
                live.tell(&text, now);
            }
            KeyCode::Char('c' | '?') => live.read_cautions(),
            KeyCode::Char(letter) => {
                if let Some((_, by)) = BEHIND.iter().find(|(key, _)| *key == letter) {
                    live.say(Said::Behind(Time::from_seconds(*by)), now);
                }
            }
            _ => {}
        }
    }

    /// Stores the key presses of the user, if they differ from the stored ones.
    fn keep(&mut self) {
        if self.live.history() == self.kept {
            return;
        }
        self.kept = self.live.history().to_vec();
        let failed = self.place.as_ref().and_then(|place| place.keep(&self.kept).err());
        if let Some(failure) = failed {
            self.place = None;
            let now = self.clock.now();
            self.live.tell(&format!("the place is not kept: {}", failure.message()), now);
        }
    }

    /// The true times, and the command that records them, to print after the screen is closed. Also deletes the stored
    /// state of the session. If the session is not over, the text is empty and the stored state is kept.
    pub(super) fn ending(&self) -> String {
        let now = self.clock.now();
        let is_over = self.live.is_over(now);
        if let Some(place) = self.place.as_ref().filter(|_| is_over) {
            place.forget();
        }
        if !is_over {
            return String::new();
        }
        let (took, read) = (self.live.took(now), self.live.read_temperatures());
        let words: Vec<String> = took.iter().map(Took::words).collect();
        let mut text = String::new();
        let mut command = recording(std::env::args().skip(1));
        if !took.is_empty() {
            text += &format!("TOOK {}\n", words.join(", "));
            let options: Vec<String> = took.iter().map(Took::option).collect();
            command.extend(["--took".to_owned(), options.join(",")]);
        }
        if !read.is_empty() {
            let words: Vec<String> = read.iter().map(|(words, _)| words.clone()).collect();
            text += &format!("READ {}\n", words.join(", "));
            let options: Vec<&str> = read.iter().map(|(_, option)| option.as_str()).collect();
            command.extend(["--read".to_owned(), options.join(",")]);
        }
        text + &emit::command_line(command) + "\n"
    }
}

/// The command that records this session: `wetside record` with the arguments of this call, except the options in
/// `OWN`.
fn recording(words: impl Iterator<Item = String>) -> Vec<String> {
    let mut command = vec!["wetside".to_owned(), "record".to_owned()];
    let mut words = words.skip_while(|word| word != "follow").skip(1);
    while let Some(word) = words.next() {
        if OWN.contains(&word.as_str()) {
            words.next();
        } else if !OWN.iter().any(|own| word.starts_with(&format!("{own}="))) {
            command.push(word);
        }
    }
    command
}

/// A temperature as a person types it: `22.1` and `22,1` are degrees Celsius, and `71.8F` is Fahrenheit.
fn reading(typed: &str) -> Result<Temperature, String> {
    let text = typed.trim().replace(',', ".").to_uppercase();
    let is_bare = text.ends_with(|letter: char| letter.is_ascii_digit());
    let text = if is_bare { format!("{text}C") } else { text };
    given::temperature(&text).map(|(temperature, _)| temperature)
}
