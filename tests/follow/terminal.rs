//! The program on a terminal, made with the system's `script`: its keys work, and the terminal is restored however it
//! ends. Without `script` these tests are skipped with a message.

use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use super::CALL;
use crate::evenings::shelf;
use crate::program::Run;
use crate::unprivileged::left_out;

const SCRIPT: &str = "/usr/bin/script";
/// The longest wait of a test.
const PATIENCE: Duration = Duration::from_secs(20);
/// The sequences for the other screen.
pub(super) const OTHER: (&str, &str) = ("\u{1b}[?1049h", "\u{1b}[?1049l");
/// The sequences for the cursor.
pub(super) const CURSOR: (&str, &str) = ("\u{1b}[?25l", "\u{1b}[?25h");

/// A terminal in which a shell prints its settings, follows, and prints the exit status and the settings again.
pub(super) struct Desk {
    child: Child,
    keys: ChildStdin,
    printed: Receiver<Vec<u8>>,
    unread: String,
    _run: Run,
}

impl Desk {
    /// Follows; `None`, with a message, if no terminal can be made.
    pub(super) fn open(variables: &[(&str, &str)], more: &str) -> Option<Desk> {
        let program = env!("CARGO_BIN_EXE_wetside");
        Desk::running(variables, &format!("{program} {} {more}", CALL.join(" ")))
    }

    /// The same of another program.
    pub(super) fn running(variables: &[(&str, &str)], command: &str) -> Option<Desk> {
        if !Path::new(SCRIPT).exists() {
            left_out("there is no /usr/bin/script to make a terminal with");
            return None;
        }
        let run = shelf();
        let call = format!("echo \"pid=$$;\"; exec {command}");
        let shell = format!("stty -g; sh -c '{call}'; echo \"ended=$?;\"; stty -g; echo closed");
        let mut child = Command::new(SCRIPT)
            .args(["-qec", &shell, "/dev/null"])
            .current_dir(run.folder())
            .env_clear()
            .env("SHELL", "/bin/sh")
            .env("PATH", "/usr/bin:/bin")
            .env("TERM", "xterm")
            .envs(variables.iter().copied())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (keys, mut out) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
        let (send, printed) = channel();
        std::thread::spawn(move || {
            let mut piece = [0; 4096];
            while let Ok(read @ 1..) = out.read(&mut piece) {
                if send.send(piece[..read].to_vec()).is_err() {
                    break;
                }
            }
        });
        Some(Desk { child, keys, printed, unread: String::new(), _run: run })
    }

    /// Waits until this is printed after everything that was waited for; returns the output up to it.
    #[track_caller]
    pub(super) fn until(&mut self, awaited: &str) -> String {
        let began = Instant::now();
        loop {
            if let Some((before, after)) = self.unread.split_once(awaited) {
                let before = before.to_owned();
                self.unread = after.to_owned();
                return before;
            }
            let left = PATIENCE.saturating_sub(began.elapsed());
            match self.printed.recv_timeout(left) {
                Ok(piece) => self.unread.push_str(&String::from_utf8_lossy(&piece)),
                Err(_) => panic!("{awaited:?} does not come; what came is {:?}", self.unread),
            }
        }
    }

    pub(super) fn press(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
        self.keys.flush().unwrap();
    }

    /// Takes the terminal away, as when its window is closed.
    pub(super) fn close(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    /// Goes through all pages of the cautions; returns the output up to the last one.
    #[track_caller]
    fn read_on(&mut self) -> String {
        let mut before = self.until("CAUTIONS 1 of ");
        let count: usize = self.until(" ").trim().parse().unwrap_or(1);
        for page in 1..=count {
            // The row with the keys is drawn once, because it does not change.
            before += &self.until(if page == 1 { "q quit" } else { "\u{1b}[" });
            self.press("x");
            if page < count {
                self.until(&format!("CAUTIONS {} of ", page + 1));
            }
        }
        before
    }

    /// The settings of the terminal before, and the process id; the program has the screen then.
    #[track_caller]
    pub(super) fn begun(&mut self) -> (String, String) {
        let settings = self.until("pid=").trim().to_owned();
        let pid = self.until(";");
        let before = self.read_on();
        self.until("hold Enter to start");
        assert!(before.contains(OTHER.0) && before.contains(CURSOR.0), "{before:?}");
        (settings, pid)
    }

    /// Checks that the program ended with this status and restored the terminal.
    #[track_caller]
    pub(super) fn ended(&mut self, status: &str, settings: &str) {
        let last = self.until("ended=");
        assert!(last.contains(CURSOR.1) && last.contains(OTHER.1), "{last:?}");
        assert_eq!(self.until(";"), status);
        assert_eq!(self.until("closed").trim(), settings, "the terminal's settings");
        assert!(self.child.wait().unwrap().success());
    }
}

#[test]
fn keys_work_and_q_asks_before_it_restores_the_terminal() {
    let Some(mut desk) = Desk::open(&[], "--speed 3") else { return };
    let (settings, _) = desk.begun();
    desk.press("s");
    assert!(desk.until("running").contains("START"));
    assert!(desk.until("POUR").contains('\u{7}'), "it rings for the first pour");
    for key in ["c", "?"] {
        desk.press(key);
        desk.read_on();
        desk.until("running");
    }
    desk.press("n");
    desk.until("AGITATE 30 s");
    desk.press("\u{1b}[C");
    desk.until("REST");
    desk.press("b");
    desk.until("AGITATE");
    desk.press("\u{1b}[D");
    desk.until("POUR");
    desk.press("q");
    desk.until("Quit? y quits");
    // Any other key stays.
    desk.press("s");
    desk.until("w where am I");
    desk.press("qy");
    desk.ended("0", &settings);
}

/// The bath went in 10 s later; then that is taken back. The list of steps says that the stop went in 20 s ago. The
/// temperature is read again.
#[test]
fn what_is_said_is_shown_and_taken_back() {
    let Some(mut desk) = Desk::open(&[], "--from stop --speed 3") else { return };
    let (settings, _) = desk.begun();
    desk.press("s");
    desk.until("POUR");
    desk.press("u");
    desk.until("took back: start, ");
    desk.press("s");
    desk.until("POUR");
    desk.press("w");
    desk.until("Which bath is in the tank, and since when?");
    desk.press("--");
    desk.until("0:2");
    desk.press("\r");
    desk.until("running");
    desk.press("t22,1\r");
    desk.until("stop: its time does not depend on the temperature");
    desk.press("tsoup\r");
    desk.until("expected");
    desk.press("r");
    desk.until("no bath was taken out before its time");
    desk.press("\u{3}\u{3}");
    desk.ended("0", &settings);
}

/// The cautions can be left before the work was shown.
#[test]
fn q_in_the_cautions_restores_the_terminal() {
    let Some(mut desk) = Desk::open(&[], "") else { return };
    let settings = desk.until("pid=").trim().to_owned();
    desk.until("any key continues");
    desk.press("q");
    desk.until("Quit?");
    desk.press("y");
    desk.ended("0", &settings);
}

#[test]
fn control_c_restores_the_terminal() {
    let Some(mut desk) = Desk::open(&[], "") else { return };
    let (settings, _) = desk.begun();
    desk.press("\u{3}");
    desk.until("Quit?");
    desk.press("\u{3}");
    desk.ended("0", &settings);
}

/// A shell reports an end by a signal as 128 and its number: 1, 2 and 15.
#[test]
fn a_signal_restores_the_terminal() {
    for (signal, status) in [("HUP", "129"), ("INT", "130"), ("TERM", "143")] {
        let Some(mut desk) = Desk::open(&[], "") else { return };
        let (settings, pid) = desk.begun();
        desk.press("s");
        desk.until("running");
        let sent = Command::new("kill").args([format!("-{signal}"), pid]).status().unwrap();
        assert!(sent.success());
        desk.ended(status, &settings);
    }
}

#[test]
fn letters_are_bold_unless_colour_is_refused() {
    let Some(mut desk) = Desk::open(&[], "") else { return };
    desk.until("pid=");
    assert!(desk.until("q quit").contains("\u{1b}[1m"));
    desk.press("qy");
    desk.until("closed");
    let Some(mut desk) = Desk::open(&[("NO_COLOR", "1")], "") else { return };
    desk.until("pid=");
    assert!(!desk.until("q quit").contains("\u{1b}[1m"));
    desk.press("qy");
    desk.until("closed");
}

/// The lines begin after the cautions have been read.
#[test]
fn a_terminal_that_cannot_draw_gets_lines_after_the_cautions() {
    let Some(mut desk) = Desk::open(&[("TERM", "dumb")], "--speed 10000") else { return };
    desk.until("pid=");
    let cautions = desk.until("press Enter to start");
    assert!(cautions.contains("CAUTIONS") && !cautions.contains("pour 2500 ml"), "{cautions:?}");
    desk.press("\r");
    let lines = desk.until("ended=");
    assert!(lines.contains("0:00  pour 2500 ml") && !lines.contains('\u{1b}'), "{lines:?}");
    assert_eq!(desk.until(";"), "0");
    desk.until("closed");
}

/// The session begins at the fixer, so it starts with its pour. A key that is pressed once says nothing; held for a
/// second, it does.
#[test]
fn a_held_key_says_that_the_fixer_is_in() {
    let Some(mut desk) = Desk::open(&[], "--from stop") else { return };
    let (settings, _) = desk.begun();
    desk.press("s");
    desk.until("POUR");
    for _ in 0..4 {
        desk.press("n");
    }
    desk.until("hold Enter: FIX went in now");
    desk.press("\r");
    desk.until("\u{2588}\u{2591}");
    std::thread::sleep(Duration::from_millis(900));
    desk.press("\r");
    desk.press("n");
    let skipped = desk.until("REST");
    assert!(!skipped.contains("fixer in 0"), "{skipped:?}");
    for _ in 0..12 {
        desk.press("\r");
        std::thread::sleep(Duration::from_millis(100));
    }
    desk.until("fixer in 0:00 of 1:00");
    desk.press("qy");
    desk.ended("0", &settings);
}

/// At 10,000 times the speed the rinse and three hours of drying take a second. Nobody was late, so there are no true
/// times.
#[test]
fn at_its_end_it_prints_the_call_that_records_the_session() {
    let Some(mut desk) = Desk::open(&[], "--from rinse --speed 10000") else { return };
    let (settings, _) = desk.begun();
    desk.press("s");
    desk.until("DONE");
    desk.press("qy");
    let last = desk.until("ended=");
    let (_, after) = last.rsplit_once(OTHER.1).unwrap();
    let call = "wetside record estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five";
    assert_eq!(after.trim(), call);
    assert_eq!(desk.until(";"), "0");
    assert_eq!(desk.until("closed").trim(), settings);
}
