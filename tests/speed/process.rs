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
