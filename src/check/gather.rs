//! Reads the files of a check and the files they use, each once.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::sync::Arc;

use super::read::read_file;
use super::{circle, error};
use crate::source::{Diagnostic, FileId, Files, Level, NotRead, Sources, Span};
use crate::syntax::{FINDINGS_MAX, Token, parse, too_many_findings};
use crate::vocabulary::{Reading, say};

/// The longest chain of files in which each file uses the next.
const DEPTH_MAX: usize = 16;
/// The most `use` lines of a file that differ in path or prefix.
const USES_MAX: usize = 256;
/// The most `use` lines of a file that are stored; further repeated lines are dropped.
const LINES_MAX: usize = 512;
const USED_MAX: usize = 256;
const USED_BYTES_MAX: usize = 4 << 20;

#[derive(Debug, Clone)]
pub(super) struct Unit {
    pub(super) file: FileId,
    pub(super) tokens: Arc<Vec<Token>>,
    pub(super) readings: Arc<Vec<Reading>>,
    found: Arc<Vec<Diagnostic>>,
    pub(super) uses: Vec<Use>,
    /// Whether names may be missing, because a `use` or a line outside blocks has an error.
    pub(super) incomplete: bool,
    /// Whether every line outside blocks was understood, so that all declarations are known.
    pub(super) understood: bool,
}

impl Unit {
    /// Parses and reads a file, without the files it uses.
    pub(super) fn parsed(sources: &Sources, file: FileId) -> Unit {
        let (tree, mut found) = parse(sources, file);
        let (readings, understood) = read_file(&tree, sources.text(file), &mut found);
        Unit {
            file,
            tokens: Arc::new(tree.tokens),
            readings: Arc::new(readings),
            found: Arc::new(found),
            uses: Vec::new(),
            incomplete: !understood,
            understood,
        }
    }

    /// The first line outside of declarations that has an error, by which a declaration may be lost.
    pub(super) fn lost_line(&self) -> Option<Span> {
        let is_declared = |place: Span| {
            let mut declared = self.readings.iter().filter(|reading| reading.declares().is_some());
            declared.any(|reading| reading.extent.holds(place))
        };
        let mut errors = self.found.iter().filter(|fault| fault.level == Level::Error && !self.understood);
        errors.find(|fault| !is_declared(fault.span)).map(|fault| fault.span)
    }

    /// Whether the text and the used files are those of the unit `before`.
    pub(super) fn is_same(&self, before: &Unit) -> bool {
        Arc::ptr_eq(&self.readings, &before.readings)
            && self.uses == before.uses
            && self.incomplete == before.incomplete
    }
}

/// A `use` line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Use {
    /// Span of the `use` path.
    pub path: Span,
    /// The used file.
    pub file: FileId,
    /// The prefix for the used file's names, and its span.
    pub prefix: Option<(String, Span)>,
    pub(super) span: Span,
    /// Whether an earlier `use` line has the same file and prefix.
    pub(super) repeated: bool,
}

pub(super) type Units = BTreeMap<FileId, Unit>;

/// The edition of the language in which a file is written.
pub(super) fn edition(units: &Units, file: FileId) -> u32 {
    let first = units.get(&file).and_then(|unit| unit.readings.first());
    first.and_then(|first| first.view::<say::Wetside>()?.edition()).unwrap_or(1)
}

/// The files `roots` and the files they use; `false` if reading ended early because of too many errors.
pub(super) fn gather(
    sources: &mut Sources,
    roots: &[FileId],
    files: &dyn Files,
    parse: &mut dyn FnMut(&Sources, FileId) -> Unit,
    faults: &mut Vec<Diagnostic>,
) -> (Units, bool) {
    let mut units = Units::new();
    let mut errors = 0;
    let mut reader = Reader { sources, files, used: 0, bytes: 0 };
    let mut queue: VecDeque<(FileId, usize)> = roots.iter().map(|file| (*file, 0)).collect();
    while let Some((file, depth)) = queue.pop_front() {
        if units.contains_key(&file) {
            continue;
        }
        if errors >= FINDINGS_MAX {
            faults.push(too_many_findings(Span { file, start: 0, end: 0 }));
            return (units, false);
        }
        let mut unit = parse(reader.sources, file);
        let before = faults.len();
        faults.extend(unit.found.iter().cloned());
        reader.follow(&mut unit, depth, faults);
        errors += faults.iter().skip(before).filter(|fault| fault.level == Level::Error).count();
        queue.extend(unit.uses.iter().map(|used| (used.file, depth + 1)));
        units.insert(file, unit);
    }
    circles(&units, sources, faults);
    (units, true)
}

struct Reader<'a> {
    sources: &'a mut Sources,
    files: &'a dyn Files,
    used: usize,
    bytes: usize,
}

impl Reader<'_> {
    fn open(&mut self, from: FileId, path: &str) -> Result<FileId, NotRead> {
        let name = self.files.resolve(self.sources.name(from), path)?;
        let file = match self.sources.id(&name) {
            Some(file) => file,
            None if self.used == USED_MAX => return Err(NotRead::TooMany),
            None => {
                let text = self.files.read(&name)?;
                if self.bytes + text.len() > USED_BYTES_MAX {
                    return Err(NotRead::TooMany);
                }
                self.used += 1;
                self.bytes += text.len();
                self.sources.add(name, text)
            }
        };
        self.sources.uses(file);
        Ok(file)
    }

    fn follow(&mut self, unit: &mut Unit, depth: usize, faults: &mut Vec<Diagnostic>) {
        let mut followed: BTreeMap<(&str, Option<&str>), Option<FileId>> = BTreeMap::new();
        let mut seen = BTreeSet::new();
        let readings = Arc::clone(&unit.readings);
        for reading in readings.iter().filter_map(Reading::view::<say::Use>) {
            let Some((path, place)) = reading.said(say::Use::path).filter(|_| reading.sound) else {
                unit.incomplete = true;
                continue;
            };
            let prefix = reading.prefix();
            let file = if let Some(known) = followed.get(&(path, prefix)) {
                *known
            } else if followed.len() == USES_MAX {
                unit.incomplete = true;
                faults.push(not_read(NotRead::TooMany, reading.span));
                return;
            } else {
                let opened =
                    if depth < DEPTH_MAX { self.open(unit.file, path) } else { Err(NotRead::TooMany) };
                let opened = opened.map_err(|why| {
                    unit.incomplete = true;
                    faults.push(not_read(why, place));
                });
                followed.insert((path, prefix), opened.ok());
                opened.ok()
            };
            let Some(file) = file else { continue };
            // Different paths may mean one file.
            let repeated = !seen.insert((file, prefix));
            if !repeated || unit.uses.len() < LINES_MAX {
                let prefix = reading.said(say::Use::prefix).map(|(name, span)| (name.to_owned(), span));
                unit.uses.push(Use { path: place, file, prefix, span: reading.span, repeated });
            }
        }
    }
}

fn not_read(why: NotRead, span: Span) -> Diagnostic {
    let (name, help) = match why {
        NotRead::Outside => {
            ("use-outside", "move the used file into this folder, and write: use \"films.wet\"")
        }
        NotRead::Unreadable(_) => ("use-unreadable", "write a path relative to the folder of this file"),
        NotRead::NotText(_) => ("use-not-text", "save it as UTF-8 text, under 1 MiB"),
        NotRead::TooMany => {
            ("use-too-many", "use at most 256 files with 4 MiB in all, in chains of at most 16")
        }
    };
    error(name, span, format!("the used file cannot be read: {why}"), help)
}

/// Reports once each circle of files that use each other, with the `use` lines that form it.
fn circles(units: &Units, sources: &Sources, faults: &mut Vec<Diagnostic>) {
    let mut found: BTreeSet<FileId> = BTreeSet::new();
    for file in units.keys() {
        if found.contains(file) {
            continue;
        }
        let way = circle_from(units, *file);
        let names = std::iter::once(*file).chain(way.iter().map(|used| used.file));
        let help = match way.len() {
            1 => "remove the line: a file can use its own names without it",
            _ => "move the declarations that they share into a file that uses none of them",
        };
        let (names, spans) = (names.map(|file| sources.name(file)), way.iter().map(|used| used.span));
        faults.extend(circle("use-circle", ("files", " uses "), names, spans, help));
        found.extend(way.iter().map(|used| used.file));
    }
}

/// The shortest path of `use` lines from a file back to itself; empty if none.
fn circle_from(units: &Units, start: FileId) -> Vec<&Use> {
    let mut reached = BTreeSet::new();
    let mut queue = VecDeque::from([(start, Vec::new())]);
    while let Some((file, way)) = queue.pop_front() {
        for used in units.get(&file).map_or(&[][..], |unit| &unit.uses) {
            let longer = || way.iter().copied().chain([used]).collect();
            if used.file == start {
                return longer();
            }
            if reached.insert(used.file) {
                queue.push_back((used.file, longer()));
            }
        }
    }
    Vec::new()
}
