//! `check --mend`: applies the mends that are certain, in rounds, and holds every recipe that was
//! sound before to what it was.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use super::disk::Disk;
use super::failure::Failure;
use super::find::OtherRoots;
use super::terminal::Terminal;
use super::write::{self, Lock};
use super::{Ended, named, output, root};
use crate::check::{Levels, check};
use crate::compile::digits;
use crate::report::{self, FINDINGS_MAX};
use crate::source::{Diagnostic, Edit, FileId, Files, Fix, Level, Sources};
use crate::tidy::{ending, is_damage};

/// A mend can bring another to light; so often is looked again.
const ROUNDS_MAX: usize = 10;
/// The most checks that look for the fixes that would alter a recipe.
const TRIALS_MAX: usize = 100;

/// What a check of the texts gave.
struct State {
    sources: Sources,
    /// The fingerprints of all sound recipes.
    marks: BTreeMap<(FileId, String), String>,
    findings: Vec<Diagnostic>,
}

/// What a refused mend is known by: its file, and the name and message of its finding.
type Key = (FileId, &'static str, String);

/// One certain mend of one finding.
#[derive(Clone)]
struct Mend {
    fix: Fix,
    finding: Diagnostic,
}

/// All that stays the same from round to round.
struct Bench<'a> {
    library: &'a dyn Files,
    levels: &'a Levels,
    /// The files that may be changed, with their paths.
    roots: BTreeMap<FileId, PathBuf>,
    /// Every file that was read, in the order of its number.
    texts: Vec<(String, String)>,
}

/// Mends, writes unless `dry`, and shows what is left, with status 1 for findings at the level `fail_on`.
pub(super) fn run(
    paths: &[PathBuf],
    dry: bool,
    levels: &Levels,
    fail_on: Option<Level>,
    terminal: Terminal,
) -> Result<Ended, Failure> {
    let mut disk = Disk::default();
    let others = OtherRoots::default();
    let mut bench = Bench::of(&mut disk, named::files(paths, &others)?, levels)?;
    let first: Vec<String> = bench.texts.iter().map(|(_, text)| text.clone()).collect();
    let start = bench.check();
    let damaged = damaged(&start);
    let (state, mut done) = bench.mended(start, &damaged);
    for file in damaged.iter().filter(|file| bench.roots.contains_key(file)) {
        let name = root::printable(state.sources.name(*file));
        output::complain(&format!("{name} was not mended: what it holds is in doubt, see below\n"));
    }
    let mut unwritten = BTreeSet::new();
    for (file, path) in bench.roots.iter().filter(|_| !dry) {
        let before = first.get(file.0 as usize).map_or("", String::as_str);
        let after = state.sources.text(*file);
        let replaced = || write::replace(path, before, after, &Lock::of_file(path)?);
        if before != after
            && let Err(failure) = replaced()
        {
            output::complain(&failure.drawn());
            unwritten.insert(*file);
        }
    }
    done.retain(|(file, _)| !unwritten.contains(file));
    let word = if dry { "would mend" } else { "mended" };
    let mut lines: String =
        done.iter().take(FINDINGS_MAX).map(|(_, line)| format!("{word} {line}\n")).collect();
    if done.len() > FINDINGS_MAX {
        lines.push_str(&format!("and {word} {} more\n", done.len() - FINDINGS_MAX));
    }
    let look = if terminal.out { report::Look::Colour } else { report::Look::Plain };
    let rest = report::draw(&state.sources, &state.findings, look);
    let count = report::count(state.findings.iter().map(|finding| finding.level));
    let summary = report::summary(count, state.sources.iter().count());
    output::print(&format!("{lines}{rest}{summary}\n{}", others.told()))?;
    if !unwritten.is_empty() {
        return Err(Failure::new(
            "not every file could be mended",
            "see above; what is told here is how the files would be with all their mends",
        ));
    }
    let at_fault = count.at_least(fail_on) > 0 || (dry && !done.is_empty());
    Ok(if at_fault { Ended::WithFindings } else { Ended::Done })
}

/// A text as `check --mend` leaves it, the files that it uses taken from that library and let be.
#[must_use]
pub fn mended(name: &str, text: &str, library: &dyn Files, levels: &Levels) -> String {
    let file = Sources::default().add(name, text);
    let roots = BTreeMap::from([(file, PathBuf::from(name))]);
    let texts = vec![(name.to_owned(), text.to_owned())];
    let mut bench = Bench { library, levels, roots, texts };
    let start = bench.check();
    let damaged = damaged(&start);
    bench.mended(start, &damaged).0.sources.text(file).to_owned()
}

/// The files whose text cannot be trusted to be what was meant.
fn damaged(state: &State) -> BTreeSet<FileId> {
    state.findings.iter().filter(|it| is_damage(it.name)).map(|it| it.span.file).collect()
}

impl<'a> Bench<'a> {
    fn of(
        disk: &'a mut Disk,
        paths: impl Iterator<Item = PathBuf>,
        levels: &'a Levels,
    ) -> Result<Bench<'a>, Failure> {
        let mut sources = Sources::default();
        let mut roots = BTreeMap::new();
        for path in paths {
            if named::is_stdin(&path) {
                return Err(Failure::new(
                    "standard input cannot be mended in its place",
                    "name a file, or check it without --mend",
                ));
            }
            let file = disk.read(&mut sources, &path)?;
            roots.entry(file).or_insert(path);
        }
        let texts = sources.iter().map(|(_, file)| (file.name().to_owned(), file.text().to_owned()));
        let texts = texts.collect();
        Ok(Bench { library: disk, levels, roots, texts })
    }

    /// Checks the texts as they now stand. Files keep their numbers, since they are always given in
    /// the same order, and one that is read for the first time comes last.
    fn check(&mut self) -> State {
        let mut sources = Sources::default();
        for (name, text) in &self.texts {
            sources.add(name.as_str(), text.as_str());
        }
        let roots: Vec<FileId> = self.roots.keys().copied().collect();
        let (shelf, findings) = check(&mut sources, &roots, self.library, self.levels);
        let new = sources.iter().skip(self.texts.len());
        let new: Vec<_> = new.map(|(_, file)| (file.name().to_owned(), file.text().to_owned())).collect();
        self.texts.extend(new);
        let mark = |recipe: &std::sync::Arc<crate::model::Recipe>| {
            ((recipe.file, recipe.name.clone()), digits(&recipe.facts()))
        };
        State {
            marks: shelf.recipes.iter().chain(&shelf.unsound.sound_alone).map(mark).collect(),
            sources,
            findings,
        }
    }

    /// The state when nothing certain is left, and what was done to which file.
    fn mended(&mut self, mut state: State, damaged: &BTreeSet<FileId>) -> (State, Vec<(FileId, String)>) {
        let mut done = Vec::new();
        let mut refused: BTreeSet<Key> = BTreeSet::new();
        let mut trials = 0;
        for _ in 0..ROUNDS_MAX {
            let mends = self.certain(&state, damaged, &refused);
            let (mut applied, mut next, mut groups) = (Vec::new(), None, vec![mends]);
            // A group that would alter a recipe is halved, so that one bad fix costs few checks.
            while let Some(mut group) = groups.pop().filter(|group| !group.is_empty() && trials < TRIALS_MAX)
            {
                trials += 1;
                let together = [applied.as_slice(), group.as_slice()].concat();
                if let Some(found) = self.tried(&state, &together) {
                    (applied, next) = (together, Some(found));
                } else if group.len() == 1 {
                    refused.extend(group.iter().map(key));
                } else {
                    groups.push(group.split_off(group.len() / 2));
                    groups.push(group);
                }
            }
            let Some(next) = next else { break };
            done.extend(applied.iter().map(|mend| (mend.finding.span.file, told(&state, mend))));
            state = next;
        }
        (state, done)
    }

    /// The mends that may be applied together: certain, not refused, in the files that were named, none
    /// of them damaged, and none beside or over another.
    fn certain(&self, state: &State, damaged: &BTreeSet<FileId>, refused: &BTreeSet<Key>) -> Vec<Mend> {
        let may = |edit: &Edit| {
            let file = edit.span.file;
            self.roots.contains_key(&file) && !damaged.contains(&file)
        };
        // The ends of the edits that were taken, by their file and start. No two of them meet, so the last
        // that starts before an edit's end is the only one that could reach into it.
        let mut taken: BTreeMap<(FileId, u32), u32> = BTreeMap::new();
        let mut mends = Vec::new();
        for finding in &state.findings {
            let Some(fix) = finding.fixes.iter().find(|fix| fix.certain && fix.edits.iter().all(may)) else {
                continue;
            };
            let mend = Mend { fix: fix.clone(), finding: finding.clone() };
            let is_free = |Edit { span, .. }: &Edit| {
                let last = taken.range(..=(span.file, span.end)).next_back();
                last.is_none_or(|((file, _), end)| *file != span.file || *end < span.start)
            };
            if fix.edits.iter().all(is_free) && !refused.contains(&key(&mend)) {
                for Edit { span, .. } in &fix.edits {
                    let end = taken.entry((span.file, span.start)).or_default();
                    *end = span.end.max(*end);
                }
                mends.push(mend);
            }
        }
        mends
    }

    /// The state with these mends; `None`, and the texts as before the call, if a recipe that was sound
    /// would be another by them.
    fn tried(&mut self, state: &State, mends: &[Mend]) -> Option<State> {
        let mut edits: BTreeMap<FileId, Vec<&Edit>> = BTreeMap::new();
        for edit in mends.iter().flat_map(|mend| &mend.fix.edits) {
            edits.entry(edit.span.file).or_default().push(edit);
        }
        let mut before = Vec::new();
        for (file, mut edits) in edits {
            edits.sort_by_key(|edit| edit.span);
            if let Some((_, text)) = self.texts.get_mut(file.0 as usize) {
                before.push((file, std::mem::replace(text, with(state.sources.text(file), &edits))));
            }
        }
        let next = self.check();
        if state.marks.iter().all(|(recipe, mark)| next.marks.get(recipe) == Some(mark)) {
            return Some(next);
        }
        for (file, earlier) in before {
            if let Some((_, text)) = self.texts.get_mut(file.0 as usize) {
                *text = earlier;
            }
        }
        None
    }
}

/// A text with these edits, which are in order and apart; what they bring ends its lines as the text
/// does.
fn with(text: &str, edits: &[&Edit]) -> String {
    let end = ending(text);
    let (mut new, mut at) = (String::with_capacity(text.len()), 0);
    for edit in edits {
        let range = edit.span.range();
        new.push_str(text.get(at..range.start).unwrap_or(""));
        new.push_str(&edit.text.replace('\n', end));
        at = range.end;
    }
    new.push_str(text.get(at..).unwrap_or(""));
    new
}

/// A mend that was refused once is not tried again, wherever its place has moved to.
fn key(mend: &Mend) -> Key {
    (mend.finding.span.file, mend.finding.name, mend.finding.message.clone())
}

/// What was done, as one line.
fn told(state: &State, mend: &Mend) -> String {
    let place = state.sources.place(mend.finding.span);
    let name = root::printable(state.sources.name(mend.finding.span.file));
    let words = root::printable(&format!("{}: {}", mend.finding.message, mend.fix.title));
    format!("{name}:{}:{}: {words}", place.line, place.column)
}
