//! Checks many files on all cores, a batch at a time: of each batch only the findings are kept, and of
//! those that no report tells only that they were there, so that memory does not grow with the number of
//! files or of their faults.

use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::PathBuf;

use super::disk::Disk;
use super::failure::Failure;
use super::named;
use super::progress::Progress;
use super::spread::spread;
use crate::check::{Levels, QUIET_IF_USED, check};
use crate::report::{self, Count, DRAWN_MAX, FINDINGS_MAX, Finding, Look};
use crate::source::{Level, Sources};

/// So many files are checked together; they share what they use.
const BATCH: usize = 128;
/// From so many findings on they are put in order while more are looked for.
const SETTLED_FROM: usize = 1_000;

/// What a run found.
#[derive(Debug, Default)]
pub(super) struct Inspected {
    /// The findings, in the order of files and places, each once; with the drawing of the first ones.
    pub(super) findings: Vec<(Finding, Option<String>)>,
    /// The weights of those past the ones that can be told. What many files use is at fault in each batch,
    /// so each is known again by the sum of all that it says: of a million, two have one sum once in ten
    /// million runs.
    rest: BTreeMap<u64, Level>,
    /// How many of the files were read.
    pub(super) files: usize,
    /// The files that others use, as they are shown.
    used: BTreeSet<String>,
    /// Files that could not be read.
    pub(super) failures: Vec<Failure>,
    /// How many findings there were when they were last put in order.
    settled: usize,
}

/// Checks all files; draws findings if a look is given; shows how far it is if it has a bar for it.
pub(super) fn inspect(
    paths: impl Iterator<Item = PathBuf>,
    levels: &Levels,
    look: Option<Look>,
    mut progress: Option<Progress>,
) -> Inspected {
    let mut all = Inspected::default();
    let work = |batch: Vec<PathBuf>| one_batch(&batch, levels, look);
    spread(named::batches(paths, BATCH), work, |inspected| {
        if let Some(progress) = &mut progress {
            progress.on(inspected.files);
        }
        all.add(inspected);
    });
    // Whoever uses a file may be in another batch.
    let used = std::mem::take(&mut all.used);
    all.findings.retain(|(told, _)| is_certain(told) || !used.contains(&told.at.file));
    all.settle();
    all
}

/// Whether a finding stands, whatever the files of other batches use.
fn is_certain(told: &Finding) -> bool {
    !QUIET_IF_USED.contains(&told.name)
}

impl Inspected {
    /// How many findings there are of each weight, those that are not told among them.
    pub(super) fn count(&self) -> Count {
        report::count(self.findings.iter().map(|(told, _)| told.level).chain(self.rest.values().copied()))
    }

    fn add(&mut self, other: Inspected) {
        self.failures.extend(other.failures);
        self.files += other.files;
        self.used.extend(other.used);
        self.findings.extend(other.findings);
        if self.findings.len() >= SETTLED_FROM.max(self.settled * 2) {
            self.settle();
        }
    }

    /// Puts the findings in order, each once, and lets go of drawings, and of findings, that cannot be among
    /// the first ones: what a file is at fault with that many use comes again with each batch.
    fn settle(&mut self) {
        self.findings.sort_by(|(a, _), (b, _)| a.cmp(b));
        self.findings.dedup_by(|(a, drawn), (b, kept)| {
            let again = a == b;
            if again && kept.is_none() {
                *kept = drawn.take();
            }
            again
        });
        let (mut before, rest) = (0, &mut self.rest);
        self.findings.retain_mut(|(told, drawn)| {
            *drawn = drawn.take().filter(|_| before < DRAWN_MAX);
            let is_told = before < FINDINGS_MAX || !is_certain(told);
            before += usize::from(is_certain(told));
            if !is_told {
                rest.insert(sum(told), told.level);
            }
            is_told
        });
        self.settled = self.findings.len();
    }
}

/// What a finding is known again by.
fn sum(told: &Finding) -> u64 {
    let mut hasher = DefaultHasher::new();
    told.hash(&mut hasher);
    hasher.finish()
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
    let (_, findings) = check(&mut sources, &roots, &disk, levels);
    let drawn = |at: usize| {
        let finding = findings.get(at..=at).unwrap_or(&[]);
        look.filter(|_| at < DRAWN_MAX).map(|look| report::draw(&sources, finding, look))
    };
    let told =
        findings.iter().enumerate().map(|(at, finding)| (report::finding(&sources, finding), drawn(at)));
    let findings = told.collect();
    let used = sources.used().map(|file| report::file_name(&sources, file)).collect();
    let files = roots.iter().collect::<BTreeSet<_>>().len();
    Inspected { findings, files, failures, used, ..Inspected::default() }
}
