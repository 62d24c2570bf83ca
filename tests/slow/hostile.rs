//! Hostile input. Each command must end in time, within its memory and with an allowed status, write nothing but its
//! output, print no control characters, and show nothing from outside the root.
//!
//! Small inputs are files `hostile/ENDS/FAMILY/what-it-is.wet`; large ones are generated below.

mod corpus;
mod cuts;
mod darkroom;
mod editor;
mod forms;
mod grown;
mod links;
mod lists;
mod sizes;
mod together;

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{Read, Seek};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus, Stdio};
use std::sync::OnceLock;
use std::thread::sleep;
use std::time::{Duration, Instant};

use tempfile::TempDir;

/// A sound recipe for one roll of 120.
const SOUND: &str = include_str!("../hostile/accepted/letters/plain.wet");

/// The text of files outside the root, which no command may show.
const SECRET: &str = "tidegate \"below the old mill\"\nfilm drowned-film {\n}\n";
const SECRET_WORDS: [&str; 3] = ["tidegate", "below the old mill", "drowned-film"];

/// The memory limit.
const KIB_MAX: u32 = 200 * 1024;
/// The CPU limit, against a program that never ends.
const CPU_SECONDS_MAX: u32 = 10;
/// The wall clock limit, generous for a busy machine.
const WALL_SECONDS_MAX: u64 = 120;

/// A command for an input.
struct Call {
    args: &'static [&'static str],
    /// The statuses allowed for an accepted input.
    accepted: &'static [i32],
    /// The statuses allowed for a refused input: check or card refuses it, and a card may be of a sound part of it.
    refused: &'static [i32],
    /// The files that it may write.
    writes: &'static [&'static str],
}

/// The commands for every input. A dry run has status 1 if it would change something.
const CALLS: [Call; 5] = [
    Call { args: &["check", "a.wet"], accepted: &[0], refused: &[0, 1, 2], writes: &[] },
    Call {
        args: &["card", "a.wet", "--at", "20C", "--rolls", "1x120"],
        accepted: &[0],
        refused: &[0, 1, 2],
        writes: &[],
    },
    Call { args: &["tidy", "--dry", "a.wet"], accepted: &[0, 1], refused: &[0, 1, 2], writes: &[] },
    Call { args: &["check", "--mend", "--dry", "a.wet"], accepted: &[0], refused: &[0, 1, 2], writes: &[] },
    Call { args: &["compare", "a.wet", "a.wet"], accepted: &[0], refused: &[0, 1, 2], writes: &[] },
];

/// The commands for an input in a darkroom. An input may lack the names that they need, so most statuses are allowed.
const IN_A_DARKROOM: [Call; 6] = [
    Call { args: &["baths", "--on", "2026-11-25"], accepted: &[0, 1, 2], refused: &[0, 1, 2], writes: &[] },
    Call {
        args: &["measure", "a.wet", "dev", "1+1", "--make", "1l"],
        accepted: &[0, 1, 2],
        refused: &[0, 1, 2],
        writes: &[],
    },
    Call {
        args: &["measure", "a.wet", "dev", "1+1", "--make", "1l", "--as", "label", "-o", "made.pdf"],
        accepted: &[0, 1, 2],
        refused: &[0, 1, 2],
        writes: &["made.pdf"],
    },
    Call {
        args: &["baths", "--on", "2026-11-25", "--as", "label", "-o", "labels.pdf"],
        accepted: &[0, 1, 2],
        refused: &[0, 1, 2],
        writes: &["labels.pdf"],
    },
    Call {
        args: &["plan", "waiting", "--tank", "one", "--at", "20C"],
        accepted: &[0, 1, 2],
        refused: &[0, 1, 2],
        writes: &[],
    },
    Call {
        args: &[
            "record",
            "a.wet",
            "--at",
            "20C",
            "--rolls",
            "1x120",
            "--date",
            "2026-11-25",
            "--journal",
            "journal.wet",
        ],
        accepted: &[0, 1, 2],
        refused: &[1, 2],
        writes: &["journal"],
    },
];

/// A file that imports the input and adds a tank and a bottle.
const ROOM: &str = "wetside 1
use \"a.wet\"
tank one {
reels 120 x 2, 500 ml each
holds 1 l
fill 10 s
drain 10 s
}
bath beside {
in dev 1+1
volume 1 l
mixed 2026-11-02
}
";
const WAITING: &str = "backlog waiting {\nroll \"R1\" 120 of plain-film\n}\n";

/// The expected result of an input.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ends {
    /// Every command succeeds.
    Accepted,
    /// The status is 1 or 2.
    Refused,
    /// Any status from 0 to 2.
    Either,
}

/// An input: the files of a folder, of which the commands name `a.wet`.
struct Input {
    name: String,
    ends: Ends,
    files: Vec<(PathBuf, Vec<u8>)>,
    /// Adds links, pipes and folders.
    furnish: fn(&Path),
    /// Whether every form of a card is tried.
    drawn: bool,
    /// The commands that are run.
    calls: Vec<&'static Call>,
}

impl Input {
    fn new(name: impl Into<String>, ends: Ends, text: impl Into<Vec<u8>>) -> Input {
        let calls = CALLS.iter().collect();
        Input { name: name.into(), ends, files: Vec::new(), furnish: |_| {}, drawn: false, calls }
            .file("a.wet", text)
    }

    fn file(mut self, path: impl Into<PathBuf>, bytes: impl Into<Vec<u8>>) -> Input {
        self.files.push((path.into(), bytes.into()));
        self
    }

    fn furnished(self, furnish: fn(&Path)) -> Input {
        Input { furnish, ..self }
    }

    fn drawn(self) -> Input {
        Input { drawn: true, ..self }
    }

    /// Adds a darkroom and its commands.
    fn in_a_darkroom(self) -> Input {
        let waits =
            |(_, bytes): &(PathBuf, Vec<u8>)| String::from_utf8_lossy(bytes).contains("backlog waiting {");
        let waiting = if self.files.iter().any(waits) { "" } else { WAITING };
        let mut input = self.file("room.wet", format!("{ROOM}{waiting}"));
        input.calls.extend(&IN_A_DARKROOM);
        input
    }

    /// Replaces the commands.
    fn only(self, calls: impl IntoIterator<Item = &'static Call>) -> Input {
        Input { calls: calls.into_iter().collect(), ..self }
    }

    /// Writes it into a new folder, and the secrets beside that folder.
    fn written(&self, home: &Path) -> PathBuf {
        let shelf = home.join("shelf");
        fs::create_dir_all(&shelf).unwrap();
        fs::write(home.join("secret.wet"), SECRET).unwrap();
        fs::write(home.join("secret.txt"), SECRET).unwrap();
        for (path, bytes) in &self.files {
            let path = shelf.join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
        }
        (self.furnish)(&shelf);
        shelf
    }

    /// Runs every command; returns everything that is wrong.
    fn faults(&self) -> Vec<String> {
        let home = TempDir::new().unwrap();
        let shelf = self.written(home.path());
        let drawn = if self.drawn { forms::faults(self.ends, &shelf) } else { Vec::new() };
        let (mut is_judged, mut is_refused) = (false, false);
        let faults = self.calls.iter().flat_map(|call| {
            let before = contents(home.path());
            // `record` refuses nothing that happened, and marks what contradicts other entries.
            let ends = match (call.args[0], self.ends) {
                ("record", Ends::Refused) => Ends::Either,
                (_, ends) => ends,
            };
            let (status, mut faults) = ended_in_order(call, ends, &shelf);
            if ["check", "card"].contains(&call.args[0]) {
                is_judged = true;
                is_refused |= matches!(status, Some(1 | 2));
            }
            let after = contents(home.path());
            // A card is kept as the one made last.
            let kept = shelf.join(".tonight");
            let may = |path: &Path| {
                path.starts_with(&kept) || call.writes.iter().any(|own| path.starts_with(shelf.join(own)))
            };
            let paths = before.keys().chain(after.keys()).filter(|path| !may(path));
            let touched = paths.filter(|path| before.get(*path) != after.get(*path));
            faults.extend(touched.map(|path| format!("it touched {}", path.display())));
            faults.into_iter().map(|fault| format!("{:?} with {}: {fault}", call.args, self.name))
        });
        let drawn = drawn.into_iter().map(|fault| format!("{fault}, with {}", self.name));
        let mut faults: Vec<String> = faults.chain(drawn).collect();
        if self.ends == Ends::Refused && is_judged && !is_refused {
            faults.push(format!("neither check nor card refuses {}", self.name));
        }
        faults
    }
}

/// Panics with everything that is wrong with any of the inputs, alone, together and in an editor.
#[track_caller]
fn all_end_in_order(inputs: &[Input]) {
    assert!(!inputs.is_empty(), "there is no input");
    let mut faults: Vec<String> = inputs.iter().flat_map(Input::faults).collect();
    faults.extend(together::faults(inputs));
    faults.extend(editor::faults(inputs));
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// The same, each input alone and not in an editor.
#[track_caller]
fn each_ends_in_order(inputs: &[Input]) {
    assert!(!inputs.is_empty(), "there is no input");
    let faults: Vec<String> = inputs.iter().flat_map(Input::faults).collect();
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

/// All entries below a folder: the bytes of files, the kinds of other entries.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let (path, kind) = (entry.path(), entry.file_type().unwrap());
        if kind.is_dir() {
            found.extend(contents(&path));
        }
        let held = if kind.is_file() { fs::read(&path).unwrap() } else { format!("{kind:?}").into_bytes() };
        found.insert(path, held);
    }
    found
}

/// Runs one command; returns what is wrong with its status and its output.
fn ended_in_order(call: &Call, ends: Ends, folder: &Path) -> (Option<i32>, Vec<String>) {
    let ran = Ran::of(call.args, folder, CPU_SECONDS_MAX);
    let mut faults = ran.unfit();
    let may = |code: &i32| match ends {
        Ends::Accepted => call.accepted.contains(code),
        Ends::Refused => call.refused.contains(code),
        Ends::Either => (0..=2).contains(code),
    };
    match ran.status.code() {
        Some(code) if may(&code) => {}
        Some(_) => faults.push(format!("it ends with {}, and should be {ends:?}", ran.status)),
        None => faults.push(format!("it was killed: {}", ran.status)),
    }
    (ran.status.code(), faults)
}

/// The result of a command.
struct Ran {
    status: ExitStatus,
    out: Vec<u8>,
    err: Vec<u8>,
}

impl Ran {
    fn of(args: &[impl AsRef<OsStr>], folder: &Path, seconds: u32) -> Ran {
        let (mut out, mut err) = (tempfile::tempfile().unwrap(), tempfile::tempfile().unwrap());
        let mut command = limited(seconds);
        command.args(args).current_dir(folder).env_clear().stdin(Stdio::null());
        command.stdout(out.try_clone().unwrap()).stderr(err.try_clone().unwrap());
        let mut child = command.spawn().unwrap();
        let started = Instant::now();
        let status = loop {
            match child.try_wait().unwrap() {
                Some(status) => break status,
                None if started.elapsed() > Duration::from_secs(WALL_SECONDS_MAX) => {
                    child.kill().unwrap();
                    break child.wait().unwrap();
                }
                None => sleep(Duration::from_millis(2)),
            }
        };
        Ran { status, out: said(&mut out), err: said(&mut err) }
    }

    fn unfit(&self) -> Vec<String> {
        let streams = [("output", &self.out), ("error", &self.err)];
        let unfit =
            |(name, bytes): (&str, &Vec<u8>)| unfit(bytes).map(|fault| format!("standard {name} {fault}"));
        streams.into_iter().filter_map(unfit).collect()
    }
}

fn said(stream: &mut File) -> Vec<u8> {
    let mut bytes = Vec::new();
    stream.rewind().unwrap();
    stream.read_to_end(&mut bytes).unwrap();
    bytes
}

/// What is wrong with an output: invalid UTF-8, control or bidirectional characters, a secret, or a crash.
fn unfit(bytes: &[u8]) -> Option<String> {
    let Ok(text) = str::from_utf8(bytes) else { return Some("is no text".to_owned()) };
    let steers = |letter: &char| match letter {
        '\n' | '\t' => false,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' => true,
        '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => true,
        _ => false,
    };
    if let Some(letter) = text.chars().find(steers) {
        return Some(format!("has {letter:?} as it is"));
    }
    let words =
        SECRET_WORDS.into_iter().chain(["panicked", "internal error", "memory allocation", "stack overflow"]);
    words.into_iter().find(|word| text.contains(word)).map(|word| format!("says {word:?}"))
}

/// The program with limits of memory and CPU time, if the shell can set them.
#[allow(clippy::print_stderr, reason = "it reports a missing limit")]
fn limited(seconds: u32) -> Command {
    static SHELL: OnceLock<bool> = OnceLock::new();
    let program = env!("CARGO_BIN_EXE_wetside");
    let limits = format!("ulimit -v {KIB_MAX} && ulimit -t {seconds}");
    let has_shell = *SHELL.get_or_init(|| {
        let tried = Command::new("/bin/sh").args(["-c", &limits]).status();
        let can = tried.is_ok_and(|status| status.success());
        if !can {
            eprintln!("memory is not held to its limit: /bin/sh cannot set one here");
        }
        can
    });
    if !has_shell {
        return Command::new(program);
    }
    let mut command = Command::new("/bin/sh");
    command.args(["-c", &format!("{limits} && exec \"$0\" \"$@\""), program]);
    command
}

/// Lines for each number below `count`.
fn each(count: usize, line: impl Fn(usize) -> String) -> String {
    (0..count).map(line).collect()
}

#[test]
fn the_corpus_has_at_least_200_inputs_and_40_are_generated_here() {
    let kept = corpus::inputs(Ends::Accepted).len()
        + corpus::inputs(Ends::Refused).len()
        + corpus::inputs(Ends::Either).len();
    let made = sizes::inputs().len() + links::inputs().len();
    assert!(kept >= 200 && made >= 40, "{kept} are kept, {made} are made");
}

#[test]
fn output_with_control_characters_or_secrets_is_detected() {
    for odd in ["\u{1b}[2J", "\u{9b}2J", "a\rb", "\u{8}", "\u{7f}", "\u{202e}", "\u{2067}", "\u{200f}"] {
        assert!(unfit(odd.as_bytes()).is_some(), "{odd:?}");
    }
    assert!(unfit(b"\xff").is_some() && unfit(SECRET.as_bytes()).is_some());
    assert!(unfit(b"internal error: this is a fault of wetside itself").is_some());
    assert_eq!(unfit("a line\n\twith marée haute and 潮\n".as_bytes()), None);
}
