//! Many files: `check` compared with reading them, in this process and with `cat`; its time and memory for 100 to
//! 100,000 files; `tidy --dry` compared with `check`. Compared runs alternate, so that other load affects both.

use std::ffi::OsStr;
use std::hint::black_box;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use super::made::{FOLDER, Made};
use super::{Figure, median};

const PROGRAM: &str = env!("CARGO_BIN_EXE_wetside");
const RUNS: usize = 7;
/// The largest set; the others are its first files.
const ALL: usize = 100_000;
/// The interval between two samples of a program's memory.
const LOOK: Duration = Duration::from_millis(5);

pub(super) fn figures() -> Vec<Figure> {
    let made = Made::of(ALL);
    let ten_thousand = made.first(10_000);
    let (mut check, mut reading, mut cat, mut tidy) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let files = made.files.get(..10_000).unwrap();
    read(files);
    for _ in 0..RUNS {
        reading.push(read(files));
        cat.push(printed(files));
        check.push(run(&["check"], &ten_thousand));
        tidy.push(run(&["tidy", "--dry"], &ten_thousand));
    }
    let sharing = Made::sharing(10_000);
    let folders = sharing.first(10_000);
    let (mut shared_check, mut shared_cat) = (Vec::new(), Vec::new());
    for _ in 0..RUNS {
        shared_cat.push(printed(&sharing.files));
        shared_check.push(run(&["check"], &folders));
    }
    let shared = median(shared_check) / median(shared_cat);
    let (check, reading, cat, tidy) = (median(check), median(reading), median(cat), median(tidy));
    let cost = |count: usize, runs: usize| {
        let paths = made.first(count);
        median((0..runs).map(|_| run(&["check"], &paths)).collect()) / count as f64
    };
    let mut costs = [cost(100, 21), cost(1_000, 9), check / 10_000.0, cost(ALL, 3)];
    let [.., largest] = costs;
    costs.sort_by(f64::total_cmp);
    let [_, below, above, _] = costs;
    let mut figures = vec![
        of("check of 10,000 files, to reading them", check / reading, 4.0),
        of("check of them, to cat on them", check / cat, 4.0),
        of("check of 10,000 that share files, to cat", shared, 4.0),
        of("tidy --dry of them, to check", tidy / check, 1.0),
        of("cost of one of 100,000, to the median", largest / (below + above) * 2.0, 1.5),
    ];
    if let Some((small, large)) = peak(&ten_thousand).zip(peak(&made.first(ALL))) {
        figures.push(of("memory for 100,000 files, to 10,000", large / small, 1.3));
    }
    figures
}

fn of(what: &'static str, reached: f64, most: f64) -> Figure {
    Figure { what, reached, unit: "times", bar: (most, false) }
}

impl Made {
    /// The first files of the set, as folders where these are complete.
    fn first(&self, count: usize) -> Vec<PathBuf> {
        let files = self.files.get(..count).unwrap();
        if count < FOLDER {
            return files.to_vec();
        }
        files.iter().step_by(FOLDER).map(|file| file.parent().unwrap().to_owned()).collect()
    }
}

fn program(call: &[&str], paths: &[PathBuf]) -> Command {
    let mut command = Command::new(PROGRAM);
    command.args(call.iter().map(OsStr::new)).args(paths).stdout(Stdio::null());
    command
}

/// The seconds of a run without findings.
fn run(call: &[&str], paths: &[PathBuf]) -> f64 {
    let start = Instant::now();
    let status = program(call, paths).status().unwrap();
    let seconds = start.elapsed().as_secs_f64();
    assert!(status.success(), "the made files are sound and tidy");
    seconds
}

/// The seconds to read the files on all cores.
fn read(files: &[PathBuf]) -> f64 {
    let next = AtomicUsize::new(0);
    let work = || {
        while let Some(file) = files.get(next.fetch_add(1, Ordering::Relaxed)) {
            black_box(std::fs::read(file).unwrap());
        }
    };
    let start = Instant::now();
    std::thread::scope(|scope| {
        for _ in 1..std::thread::available_parallelism().unwrap().get() {
            scope.spawn(work);
        }
        work();
    });
    start.elapsed().as_secs_f64()
}

/// The seconds of `cat` on the files.
fn printed(files: &[PathBuf]) -> f64 {
    let start = Instant::now();
    let status = Command::new("cat").args(files).stdout(Stdio::null()).status().unwrap();
    let seconds = start.elapsed().as_secs_f64();
    assert!(status.success(), "the made files can be read");
    seconds
}

/// The peak memory of a check in kibibytes; `None` without /proc.
fn peak(paths: &[PathBuf]) -> Option<f64> {
    let mut child = program(&["check"], paths).spawn().unwrap();
    let mut most = None;
    while child.try_wait().unwrap().is_none() {
        let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
        let line = status.lines().find(|line| line.starts_with("VmHWM:"));
        most = line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok()).or(most);
        std::thread::sleep(LOOK);
    }
    most
}
