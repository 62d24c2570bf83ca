//! `check`: finds all errors, warnings and advice in all files, on all cores. To limit memory, findings that a report
//! does not show are only counted.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::IsTerminal as _;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use clap::builder::{PossibleValuesParser, TypedValueParser as _};
use indicatif::{ProgressBar, ProgressStyle};

use super::batches::{batches, spread};
use super::find::OtherRoots;
use super::levels::{levels, set_given};
use super::{Ended, Failure, Reader, Terminal, fail, find, mend, output};
use crate::check::{self, ABOUT_SESSIONS, Levels, QUIET_IF_USED};
use crate::editor::Desk as _;
use crate::report::{self, Count, DRAWN_MAX, FINDINGS_MAX, Finding, Look};
use crate::source::{FileId, Level, Map, Set, Sorted as _};

/// The maximum number of files checked together. A file that several of these files use is read only once.
const BATCH: usize = 128;
/// Once there are this many findings, they are sorted and cut to the report's limits during the run, to save memory.
const SETTLED_FROM: usize = 1_000;
/// The time after which a run shows its progress.
const PATIENCE: Duration = Duration::from_secs(1);

/// Report errors, warnings and advice in recipes and in the files they use
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside check\n  wetside check recipes/films.wet\n  wetside check --fail-on warning --as lines\n  git show HEAD:a.wet | wetside check -"
)]
pub(super) struct Arguments {
    /// Files, folders, or - for standard input; this folder if none is named
    #[arg(value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// How to write the findings
    #[arg(long = "as", default_value = "text")]
    form: Form,
    /// Exit with status 1 for findings of this severity or above
    #[arg(long, value_parser = PossibleValuesParser::new(["warning", "advice"]).map(fail_on), value_name = "SEVERITY")]
    fail_on: Option<Level>,
    /// Set a rule's severity for this run, as in wet-after-dry=off; off, advice, warning or error
    #[arg(long = "level", value_name = "RULE=SEVERITY")]
    levels: Vec<String>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    /// Apply the fixes that are certain, and show the other findings as text
    #[arg(long, conflicts_with = "form")]
    mend: bool,
    /// With --mend: change no file, and exit with status 1 if there are fixes
    #[arg(long, requires = "mend")]
    dry: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Form {
    /// For people: findings with lines of the files
    Text,
    /// One finding a line: file:line:column: severity[name]: message
    Lines,
    /// One object, for programs
    Json,
    /// SARIF 2.1.0
    Sarif,
}

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let Arguments { paths, form, fail_on, .. } = arguments;
    let mut levels = levels(paths, arguments.no_config)?;
    set_given(&mut levels, &arguments.levels)?;
    if arguments.mend {
        return mend::run(paths, arguments.dry, &levels, *fail_on, terminal);
    }
    let others = OtherRoots::default();
    let is_text = *form == Form::Text;
    let look = is_text.then_some(terminal.out);
    let shows_progress = std::io::stderr().is_terminal();
    let mut inspected = inspect(find::files(paths, &others)?, &levels, look, shows_progress);
    let unread = std::mem::take(&mut inspected.failures);
    unread.iter().for_each(|failure| terminal.complain(failure));
    let count = inspected.count();
    let text = written(*form, inspected, count);
    output::print(if is_text { text + &others.line() } else { text })?;
    if !unread.is_empty() {
        return fail("some files could not be read", "see above; the others were checked");
    }
    Ok(Ended::with(count.at_least(*fail_on) > 0))
}

fn written(form: Form, inspected: Inspected, count: Count) -> String {
    let (files, all) = (inspected.files, count.errors + count.warnings + count.advice);
    let findings = inspected.findings.into_iter();
    if form == Form::Text {
        let mut text: String = findings.filter_map(|(_, drawn)| drawn).take(DRAWN_MAX).collect();
        if all > DRAWN_MAX {
            text.push_str(&format!("and {} more\n\n", all - DRAWN_MAX));
        }
        return text + &report::summary(count, files) + "\n";
    }
    let findings: Vec<Finding> = findings.take(FINDINGS_MAX).map(|(finding, _)| finding).collect();
    match form {
        Form::Text | Form::Lines => report::lines(&findings, count),
        Form::Json => report::json(&findings, count, files),
        Form::Sarif => report::sarif(&findings, count, &check::faults(), env!("CARGO_PKG_VERSION")),
    }
}

fn fail_on(word: String) -> Level {
    if word == "warning" { Level::Warning } else { Level::Advice }
}

#[derive(Default)]
struct Inspected {
    /// The findings; after a call of `settle`, sorted by file and line, without repetitions. The string is the finding
    /// as text for people, which only the first `DRAWN_MAX` findings have.
    findings: Vec<(Finding, Option<String>)>,
    /// The severities of the findings after the first `FINDINGS_MAX`. The keys are hashes of the findings, so that a
    /// finding that occurs in several batches counts once. Two findings with the same hash are too rare to matter.
    rest: Map<u64, Level>,
    files: usize,
    /// The names of the files that `use` lines of other files name.
    used: Set<String>,
    /// The files that declare baths, tests, sessions or backlogs. The keys are the file names in findings, the values
    /// are paths.
    darkroom: Map<String, PathBuf>,
    failures: Vec<Failure>,
    /// The number of entries that the last call of `settle` left in `findings`.
    settled: usize,
}

/// Checks all files. If `look` is given, the findings that a report shows are also drawn as text in this look.
fn inspect(
    paths: impl Iterator<Item = PathBuf>,
    levels: &Levels,
    look: Option<Look>,
    shows_progress: bool,
) -> Inspected {
    let mut all = Inspected::default();
    let started = Instant::now();
    let mut bar: Option<ProgressBar> = None;
    let mut sessions = Vec::new();
    let is_other = |path: &PathBuf| {
        let is_session = find::is_session_file(path);
        sessions.extend(is_session.then(|| path.clone()));
        !is_session
    };
    spread(
        batches(paths.filter(is_other), BATCH),
        |batch| one_batch(&batch, levels, look),
        |inspected| {
            all.add(inspected);
            if shows_progress && started.elapsed() > PATIENCE {
                let bar = bar.get_or_insert_with(progress);
                bar.set_position(all.files as u64);
                bar.tick();
            }
        },
    );
    bar.iter().for_each(ProgressBar::finish_and_clear);
    if !sessions.is_empty() {
        all.add_darkroom(sessions, levels, look);
    }
    // Some findings hold only for a file that no other file uses. Those about used files are dropped here, since the
    // used files of all batches are known only now.
    let used = std::mem::take(&mut all.used);
    all.findings.retain(|(finding, _)| is_certain(finding) || !used.contains(&finding.at.file));
    all.settle();
    all
}

/// Shows the number of checked files. The total is unknown until the search for files ends.
fn progress() -> ProgressBar {
    let bar = ProgressBar::new_spinner();
    match ProgressStyle::with_template("{spinner} files checked: {pos}") {
        Ok(style) => bar.with_style(style),
        Err(_) => bar,
    }
}

/// Whether a finding is true no matter which files use the finding's file. Other findings wait until all batches are
/// checked.
fn is_certain(finding: &Finding) -> bool {
    !QUIET_IF_USED.contains(&finding.name)
}

impl Inspected {
    /// The number of findings of each severity, including those over `FINDINGS_MAX`.
    fn count(&self) -> Count {
        let kept = self.findings.iter().map(|(finding, _)| finding.level);
        report::count(kept.chain(self.rest.values().copied()))
    }

    fn add(&mut self, other: Inspected) {
        self.failures.extend(other.failures);
        self.files += other.files;
        self.used.extend(other.used);
        self.darkroom.extend(other.darkroom);
        self.findings.extend(other.findings);
        if self.findings.len() >= SETTLED_FROM.max(self.settled * 2) {
            self.settle();
        }
    }

    /// Checks the files of sessions together with the other files of their darkrooms (baths, tests, backlogs), since
    /// sessions of different files may contradict or retract each other.
    fn add_darkroom(&mut self, sessions: Vec<PathBuf>, levels: &Levels, look: Option<Look>) {
        let others = std::mem::take(&mut self.darkroom);
        self.findings.retain(|(finding, _)| !ABOUT_SESSIONS.contains(&finding.name));
        let known = others.len();
        let batch: Vec<PathBuf> = others.into_values().chain(sessions).collect();
        let inspected = one_batch(&batch, levels, look);
        self.add(Inspected { files: inspected.files.saturating_sub(known), ..inspected });
    }

    /// Sorts the findings and removes repetitions. Of the findings after the first `FINDINGS_MAX`, only the severities
    /// are kept, in `rest`.
    fn settle(&mut self) {
        self.findings.order_by(|(a, _), (b, _)| a.cmp(b));
        self.findings.dedup_by(|(a, drawn), (b, kept)| {
            let again = a == b;
            if again && kept.is_none() {
                *kept = drawn.take();
            }
            again
        });
        let (mut before, rest) = (0, &mut self.rest);
        self.findings.retain_mut(|(finding, drawn)| {
            *drawn = drawn.take().filter(|_| before < DRAWN_MAX);
            let is_kept = before < FINDINGS_MAX || !is_certain(finding);
            before += usize::from(is_certain(finding));
            if !is_kept {
                let mut hasher = DefaultHasher::new();
                finding.hash(&mut hasher);
                rest.insert(hasher.finish(), finding.level);
            }
            is_kept
        });
        self.settled = self.findings.len();
    }
}

fn one_batch(batch: &[PathBuf], levels: &Levels, look: Option<Look>) -> Inspected {
    let mut reader = Reader::default();
    let (mut roots, mut failures) = (Set::new(), Vec::new());
    for path in batch {
        match reader.read(path) {
            Ok(file) => _ = roots.insert(file),
            Err(failure) => failures.push(failure),
        }
    }
    let files = roots.len();
    let (shelf, findings) = reader.check(&roots.iter().copied().collect::<Vec<_>>(), levels);
    let sources = &reader.sources;
    let of_darkroom: Set<FileId> = shelf.darkroom.files().filter(|file| roots.contains(file)).collect();
    let named = |file: FileId| (report::file_name(sources, file), reader.disk.path(sources.name(file)));
    let darkroom = of_darkroom
        .into_iter()
        .map(named)
        .filter_map(|(name, path)| Some((name, path.filter(|path| path.is_absolute())?)));
    let darkroom = darkroom.collect();
    let drawn = |(at, finding)| {
        let look = look.filter(|_| at < DRAWN_MAX);
        let drawn = look.map(|look| report::draw(sources, std::slice::from_ref(finding), look));
        (report::finding(sources, finding), drawn)
    };
    let findings = findings.iter().enumerate().map(drawn).collect();
    let used = sources.used().map(|file| report::file_name(sources, file)).collect();
    Inspected { findings, files, failures, used, darkroom, ..Inspected::default() }
}
