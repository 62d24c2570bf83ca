//! The whole program: the time and the memory of a card, the size of the binary, the time of a build.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use super::{Figure, median};

/// The capacity of a pipe in bytes.
const PIPE_BYTES: usize = 65_536;
const PROGRAM: &str = env!("CARGO_BIN_EXE_wetside");
const CARD: &[&str] = &["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];

fn card() -> Command {
    let mut command = Command::new(PROGRAM);
    command.args(CARD).current_dir(env!("CARGO_MANIFEST_DIR")).stdout(Stdio::null());
    command
}

/// How long a text with that many misspelled words takes to mend, in milliseconds.
fn mended(count: usize) -> f64 {
    let folder = tempfile::tempdir().unwrap();
    let films: String = (0..count).map(|at| format!("film f{at} {{\n    speeed    ISO 100\n}}\n")).collect();
    std::fs::write(folder.path().join("a.wet"), format!("wetside 1\n{films}")).unwrap();
    let run = |_| {
        let mut command = Command::new(PROGRAM);
        command.args(["check", "--mend", "--dry", "a.wet"]).current_dir(folder.path()).stdout(Stdio::null());
        let start = Instant::now();
        assert_eq!(command.status().unwrap().code(), Some(1));
        start.elapsed().as_secs_f64() * 1e3
    };
    median((0..9).map(run).collect())
}

/// How long the list of bottles takes with that many sessions, each in a file of its own, in milliseconds.
fn bottles(sessions: usize) -> f64 {
    let folder = tempfile::tempdir().unwrap();
    let darkroom = "wetside 1\nsolution fixer {\n    role fixer\n    treats 10 rolls per 1 l at 1+4\n}\nbath fix-a {\n    in fixer 1+4\n    volume 1 l\n    mixed 2026-01-01\n}\n";
    std::fs::write(folder.path().join("darkroom.wet"), darkroom).unwrap();
    std::fs::create_dir(folder.path().join("journal")).unwrap();
    for at in 0..sessions {
        let name = format!("2026-{:02}-{:02}-{at:04}", at % 12 + 1, at % 28 + 1);
        let (date, _) = name.split_at(10);
        let slots: String =
            (1..=5).map(|slot| format!("    slot      {slot} \"A-{at}-{slot}\" 120\n")).collect();
        let text = format!(
            "wetside 2\n\nuse \"../darkroom.wet\"\n\nsession {name} {{\n    date      {date}\n    recipe    plain, fingerprint \"46ac83d1\"\n    tank      tall-five\n    at        21.5 C\n{slots}    bath      fix-a\n}}\n"
        );
        std::fs::write(folder.path().join(format!("journal/{name}.wet")), text).unwrap();
    }
    let run = |_| {
        let mut command = Command::new(PROGRAM);
        command.args(["baths", "--on", "2026-12-31"]).current_dir(folder.path()).stdout(Stdio::null());
        let start = Instant::now();
        assert!(command.status().unwrap().success());
        start.elapsed().as_secs_f64() * 1e3
    };
    median((0..5).map(run).collect())
}

pub(super) fn figures() -> Vec<Figure> {
    let millis = median(
        (0..41)
            .map(|_| {
                let start = Instant::now();
                assert!(card().status().unwrap().success());
                start.elapsed().as_secs_f64() * 1e3
            })
            .collect(),
    );
    let size = std::fs::metadata(PROGRAM).unwrap().len() as f64 / 1e6;
    let mut figures = vec![
        Figure { what: "a card, as a whole process", reached: millis, unit: "ms", bar: (10.0, false) },
        Figure {
            what: "mending ten times the text",
            reached: mended(5_000) / mended(500),
            unit: "times",
            bar: (12.0, false),
        },
        Figure {
            what: "the bottles after 10,000 sessions",
            reached: bottles(10_000),
            unit: "ms",
            bar: (1_000.0, false),
        },
        Figure { what: "the program's size", reached: size, unit: "MB", bar: (10.0, false) },
        Figure { what: "a release build from nothing", reached: build(), unit: "s", bar: (120.0, false) },
    ];
    if let Some(peak) = peak() {
        figures.insert(
            1,
            Figure { what: "its memory at the most", reached: peak, unit: "MB", bar: (15.0, false) },
        );
    }
    figures
}

/// The peak memory of a card in megabytes. Its output is a full pipe, so the process waits after its work and the
/// kernel can be asked. `None` without /proc.
fn peak() -> Option<f64> {
    let (reader, mut writer) = std::io::pipe().ok()?;
    writer.write_all(&vec![b' '; PIPE_BYTES]).ok()?;
    let mut child = card().stdout(writer).spawn().ok()?;
    std::thread::sleep(std::time::Duration::from_millis(300));
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).ok();
    drop(reader);
    child.wait().ok()?;
    let status = status?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kibibytes: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kibibytes * 1024.0 / 1e6)
}

/// The seconds of a clean build.
fn build() -> f64 {
    let target = std::env::temp_dir().join(format!("wetside-build-{}", std::process::id()));
    let start = Instant::now();
    let status = Command::new(env!("CARGO"))
        .args(["build", "--release", "--quiet", "--target-dir"])
        .arg(&target)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")))
        .status()
        .unwrap();
    let seconds = start.elapsed().as_secs_f64();
    assert!(status.success());
    let _ = std::fs::remove_dir_all(target);
    seconds
}
