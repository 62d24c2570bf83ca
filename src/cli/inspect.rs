//! Checks many files on all cores, a batch at a time: of each batch only the findings are kept, so
//! that memory does not grow with the number of files.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Mutex;

use indicatif::{ProgressBar, ProgressStyle};

use super::disk::Disk;
use super::failure::Failure;
use super::spread::spread;
use crate::check::{Levels, QUIET_IF_USED, check};
use crate::report::{self, DRAWN_MAX, Look, Told};
use crate::source::Sources;

/// So many files are checked together; they share what they use.
const BATCH: usize = 128;
/// A run shorter than this shows no bar.
const PATIENCE: std::time::Duration = std::time::Duration::from_secs(1);

/// What a run found.
#[derive(Debug, Default)]
pub(super) struct Inspected {
    /// The findings, in the order of files and places, each once; with the drawing of the first ones.
    pub(super) findings: Vec<(Told, Option<String>)>,
    /// How many of the files were read.
    pub(super) files: usize,
    /// The files that others use, as they are shown.
    used: BTreeSet<String>,
    /// Files that could not be read.
    pub(super) failures: Vec<Failure>,
}

/// Checks all files; draws findings if a look is given; shows how far it is if asked to.
pub(super) fn inspect(paths: &[PathBuf], levels: &Levels, look: Option<Look>, bar: bool) -> Inspected {
    let batches: Vec<&[PathBuf]> = paths.chunks(BATCH).collect();
    let progress = if bar { Some(Mutex::new(Progress::new(paths.len()))) } else { None };
    let work = |batch: &&[PathBuf]| {
        let inspected = one_batch(batch, levels, look);
        if let Some(mut progress) = progress.as_ref().and_then(|progress| progress.lock().ok()) {
            progress.on(batch.len());
        }
        inspected
    };
    let mut all = Inspected::default();
    for inspected in spread(&batches, work) {
        all.findings.extend(inspected.findings);
        all.failures.extend(inspected.failures);
        all.files += inspected.files;
        all.used.extend(inspected.used);
    }
    // Whoever uses a file may be in another batch.
    let used = std::mem::take(&mut all.used);
    all.findings.retain(|(told, _)| !(QUIET_IF_USED.contains(&told.name) && used.contains(&told.at.file)));
    all.findings.sort_by(|(a, _), (b, _)| a.cmp(b));
    all.findings.dedup_by(|(a, _), (b, _)| a == b);
    all
}

fn one_batch(batch: &[PathBuf], levels: &Levels, look: Option<Look>) -> Inspected {
    let (mut sources, mut disk) = (Sources::default(), Disk::default());
    let (mut roots, mut failures) = (Vec::new(), Vec::new());
    for path in batch {
        match disk.read(&mut sources, path) {
            Ok(file) => roots.push(file),
            Err(failure) => failures.push(failure),
        }
    }
    let (_, findings) = check(&mut sources, &roots, &mut disk, levels);
    let drawn = |at: usize| {
        let finding = findings.get(at..=at).unwrap_or(&[]);
        look.filter(|_| at < DRAWN_MAX).map(|look| report::draw(&sources, finding, look))
    };
    let told = findings.iter().enumerate().map(|(at, finding)| (report::told(&sources, finding), drawn(at)));
    let findings = told.collect();
    let used = disk.used_by_others().map(|file| report::file_name(&sources, file)).collect();
    Inspected { findings, files: roots.iter().collect::<BTreeSet<_>>().len(), failures, used }
}

/// A bar that comes up once the wait is felt.
struct Progress {
    bar: ProgressBar,
    started: std::time::Instant,
    shown: bool,
    all: u64,
    done: u64,
}

impl Progress {
    fn new(all: usize) -> Progress {
        let all = u64::try_from(all).unwrap_or(u64::MAX);
        Progress {
            bar: ProgressBar::hidden(),
            started: std::time::Instant::now(),
            shown: false,
            all,
            done: 0,
        }
    }

    fn on(&mut self, files: usize) {
        self.done += u64::try_from(files).unwrap_or(0);
        if !self.shown && self.started.elapsed() > PATIENCE {
            self.shown = true;
            let style = ProgressStyle::with_template("{bar:30} {pos} of {len} files");
            self.bar = ProgressBar::new(self.all);
            if let Ok(style) = style {
                self.bar.set_style(style);
            }
        }
        self.bar.set_position(self.done);
        if self.done >= self.all {
            self.bar.finish_and_clear();
        }
    }
}
