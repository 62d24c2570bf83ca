//! `check --mend`: applies the fixes that are certain, in rounds. A fix is left out if it would change the fingerprint
//! of a recipe without errors.

use std::path::PathBuf;

use super::find::OtherRoots;
use super::root::printable;
use super::write::Lock;
use super::{Ended, Failure, Reader, Terminal, fail, find, output, write};
use crate::check::{Levels, check_all};
use crate::model::Fingerprint;
use crate::report::{self, FINDINGS_MAX};
use crate::source::{Diagnostic, Edit, FileId, Files, Fix, Level, Map, Set, Sorted as _, Sources};
use crate::tidy::{edited, is_damage};

/// The maximum number of rounds. A fix can make another fix possible in the next round.
const ROUNDS_MAX: usize = 10;
/// The maximum number of checks that try whether fixes would change the fingerprint of a recipe without errors.
const TRIALS_MAX: usize = 100;

struct State {
    sources: Sources,
    /// The fingerprint of each recipe without errors. The keys are the recipe's file and name.
    marks: Map<(FileId, String), Fingerprint>,
    findings: Vec<Diagnostic>,
}

/// Identifies a finding by its file, rule and message. They stay the same when another fix moves the finding to another
/// line.
type Key = (FileId, &'static str, String);

type Mend = (Diagnostic, Fix);

struct Bench<'a> {
    library: &'a dyn Files,
    levels: &'a Levels,
    /// The files that fixes may change, and their paths.
    roots: Map<FileId, PathBuf>,
    /// The files that are not changed, because they have damage such as conflict markers.
    damaged: Set<FileId>,
}

/// Applies the fixes, writes the files unless `dry`, and shows the findings that remain. If a remaining finding has
/// severity `fail_on` or above, the exit status is 1.
pub(super) fn run(
    paths: &[PathBuf],
    dry: bool,
    levels: &Levels,
    fail_on: Option<Level>,
    terminal: Terminal,
) -> Result<Ended, Failure> {
    let others = OtherRoots::default();
    let mut reader = Reader::default();
    let mut roots = Map::new();
    for path in find::files(paths, &others)? {
        if path.as_os_str() == "-" {
            return fail("--mend cannot change standard input", "name a file, or check it without --mend");
        }
        roots.value_or(reader.read(&path)?, || path);
    }
    let (bench, start) = Bench::of(&reader.disk, levels, roots, &reader.sources);
    let (state, mut done) = bench.mended(start);
    for file in bench.damaged.iter().filter(|file| bench.roots.contains_key(file)) {
        let name = printable(state.sources.name(*file));
        output::complain(&format!("{name} was not changed: its content is uncertain, see below\n"));
    }
    let mut unwritten = Set::new();
    for (file, path) in bench.roots.iter().filter(|_| !dry) {
        let before = reader.sources.text(*file);
        let after = state.sources.text(*file);
        let replaced = || write::replace(path, before, after, &Lock::of_file(path)?);
        if before != after
            && let Err(failure) = replaced()
        {
            terminal.complain(&failure);
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
    let rest = report::draw(&state.sources, &state.findings, terminal.out);
    let count = report::count(state.findings.iter().map(|finding| finding.level));
    let summary = report::summary(count, state.sources.iter().count());
    output::print(format!("{lines}{rest}{summary}\n{}", others.line()))?;
    if !unwritten.is_empty() {
        return fail(
            "some files could not be written",
            "see above; the findings are those with all fixes applied",
        );
    }
    Ok(Ended::with(count.at_least(fail_on) > 0 || dry && !done.is_empty()))
}

/// Returns `text` as `check --mend` changes it. Files that `text` uses come from `library` and are not changed.
pub fn mended(name: &str, text: &str, library: &dyn Files, levels: &Levels) -> String {
    let mut sources = Sources::default();
    let file = sources.add(name, text);
    let roots = Map::from([(file, PathBuf::from(name))]);
    let (bench, start) = Bench::of(library, levels, roots, &sources);
    bench.mended(start).0.sources.text(file).to_owned()
}

impl<'a> Bench<'a> {
    fn of(
        library: &'a dyn Files,
        levels: &'a Levels,
        roots: Map<FileId, PathBuf>,
        sources: &Sources,
    ) -> (Bench<'a>, State) {
        let mut bench = Bench { library, levels, roots, damaged: Set::new() };
        let start = bench.check(sources, &Map::new());
        let damaged = start.findings.iter().filter(|it| is_damage(it.name)).map(|it| it.span.file);
        bench.damaged = damaged.collect();
        (bench, start)
    }

    /// Applies these edits to the texts, and checks the edited texts. Each file keeps its `FileId`, since files that
    /// are read for the first time are added after the known files.
    fn check(&self, texts: &Sources, edits: &Map<FileId, Vec<&Edit>>) -> State {
        let mut sources = Sources::default();
        for (file, source) in texts.iter() {
            sources.add(
                source.name.as_str(),
                edited(&source.text, edits.get(&file).into_iter().flatten().copied()),
            );
        }
        let roots: Vec<FileId> = self.roots.keys().copied().collect();
        let (shelf, findings) = check_all(&mut sources, &roots, self.library, self.levels);
        let recipes = shelf.recipes.iter().chain(&shelf.unsound.sound_alone);
        let marks = recipes
            .map(|recipe| ((recipe.file, recipe.name.clone()), Fingerprint::of_facts(&recipe.facts())));
        State { marks: marks.collect(), sources, findings }
    }

    /// The state after the last round of fixes, and for each applied fix the changed file and a line to print.
    fn mended(&self, mut state: State) -> (State, Vec<(FileId, String)>) {
        let mut done = Vec::new();
        let mut refused: Set<Key> = Set::new();
        let mut trials = 0;
        for _ in 0..ROUNDS_MAX {
            let mends = self.certain(&state, &refused);
            let (mut applied, mut next, mut groups) = (Vec::new(), None, vec![mends]);
            // If a group of fixes would change the fingerprint of a recipe without errors, the two halves are tried. So
            // a single bad fix is found with few checks.
            while let Some(mut group) = groups.pop().filter(|group| !group.is_empty() && trials < TRIALS_MAX)
            {
                trials += 1;
                let together = [applied.as_slice(), group.as_slice()].concat();
                if let Some(found) = self.tried(&state, &together) {
                    (applied, next) = (together, Some(found));
                } else if group.len() == 1 {
                    refused.extend(group.iter().map(|(finding, _)| key(finding)));
                } else {
                    groups.push(group.split_off(group.len() / 2));
                    groups.push(group);
                }
            }
            let Some(next) = next else { break };
            done.extend(applied.iter().map(|mend| (mend.0.span.file, line(&state.sources, mend))));
            state = next;
        }
        (state, done)
    }

    /// The fixes to try together: certain, not refused, not touching each other, and in files that may be changed.
    fn certain(&self, state: &State, refused: &Set<Key>) -> Vec<Mend> {
        let may = |edit: &Edit| {
            let file = edit.span.file;
            self.roots.contains_key(&file) && !self.damaged.contains(&file)
        };
        // The keys are the file and start of each chosen edit, the values its end. Chosen edits do not overlap. So only
        // one of them can overlap a new edit: the last one that starts before the new edit ends.
        let mut taken: Map<(FileId, u32), u32> = Map::new();
        let mut mends = Vec::new();
        for finding in &state.findings {
            let fix = finding.fixes.iter().find(|fix| fix.certain && fix.edits.iter().all(may));
            let is_free = |Edit { span, .. }: &Edit| {
                let last = taken.last_up_to(&(span.file, span.end));
                last.is_none_or(|((file, _), end)| *file != span.file || *end < span.start)
            };
            let fix = fix.filter(|fix| fix.edits.iter().all(is_free) && !refused.contains(&key(finding)));
            let Some(fix) = fix.cloned() else { continue };
            for Edit { span, .. } in &fix.edits {
                let end = taken.value_of((span.file, span.start));
                *end = span.end.max(*end);
            }
            mends.push((finding.clone(), fix));
        }
        mends
    }

    /// The state after these fixes; `None` if they would change the fingerprint of a recipe without errors.
    fn tried(&self, state: &State, mends: &[Mend]) -> Option<State> {
        let mut edits: Map<FileId, Vec<&Edit>> = Map::new();
        for edit in mends.iter().flat_map(|(_, fix)| &fix.edits) {
            edits.value_of(edit.span.file).push(edit);
        }
        edits.values_mut().for_each(|edits| edits.order_by_key(|edit| edit.span));
        let next = self.check(&state.sources, &edits);
        let is_same = state.marks.iter().all(|(recipe, mark)| next.marks.get(recipe) == Some(mark));
        is_same.then_some(next)
    }
}

fn key(finding: &Diagnostic) -> Key {
    (finding.span.file, finding.name, finding.message.clone())
}

fn line(sources: &Sources, (finding, fix): &Mend) -> String {
    let (place, name) = (sources.place(finding.span), printable(sources.name(finding.span.file)));
    let words = printable(&format!("{}: {}", finding.message, fix.title));
    format!("{name}:{}:{}: {words}", place.line, place.column)
}
