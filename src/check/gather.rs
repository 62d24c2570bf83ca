//! Reads the files of a check and those they use, each once.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::sync::Arc;

use super::read::read_file;
use crate::source::{Diagnostic, FileId, Files, Level, NotRead, Sources, Span, first_few};
use crate::syntax::{FINDINGS_MAX, Token, parse, too_many_findings};
use crate::vocabulary::{Reading, say};

/// The longest chain of files that use each other.
const DEPTH_MAX: usize = 16;
/// The most different `use` lines in a file.
const USES_MAX: usize = 256;
/// The most used files in a run.
const USED_MAX: usize = 256;
/// The most bytes in used files.
const USED_BYTES_MAX: usize = 4 << 20;

/// One file, read.
#[derive(Debug, Clone)]
pub(super) struct Unit {
    pub(super) file: FileId,
    pub(super) tokens: Arc<Vec<Token>>,
    pub(super) readings: Arc<Vec<Reading>>,
    pub(super) uses: Vec<Used>,
    /// The file of every `use` line, also of repeated ones, by the line's first byte.
    pub(super) links: BTreeMap<u32, FileId>,
    /// Whether names may be missing: a `use` could not be followed, or a line at the top was not understood.
    pub(super) incomplete: bool,
    /// Whether all its own names are known.
    pub(super) understood: bool,
}

/// What the text of one file holds by itself.
#[derive(Debug, Clone)]
pub(super) struct Parsed {
    tokens: Arc<Vec<Token>>,
    readings: Arc<Vec<Reading>>,
    /// Whether every statement could be read.
    is_sound: bool,
    found: Arc<Vec<Diagnostic>>,
}

impl Parsed {
    /// Parses and reads a file.
    pub(super) fn of(sources: &Sources, file: FileId) -> Parsed {
        let (tree, mut found) = parse(sources, file);
        let (readings, is_sound) = read_file(&tree, sources.text(file), &mut found);
        Parsed {
            tokens: Arc::new(tree.tokens),
            readings: Arc::new(readings),
            is_sound,
            found: Arc::new(found),
        }
    }
}

impl Unit {
    /// Whether this is the same text as before, leading to the same files.
    pub(super) fn is_same(&self, before: &Unit) -> bool {
        Arc::ptr_eq(&self.readings, &before.readings)
            && (&self.uses, &self.links) == (&before.uses, &before.links)
            && self.incomplete == before.incomplete
    }
}

/// One `use`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Used {
    pub(super) file: FileId,
    pub(super) prefix: Option<String>,
    pub(super) span: Span,
}

/// All files of a run.
pub(super) type Units = BTreeMap<FileId, Unit>;

/// The roots and the files they use, and whether all were read before there were too many errors.
pub(super) fn gather(
    sources: &mut Sources,
    roots: &[FileId],
    files: &dyn Files,
    parse: &mut dyn FnMut(&Sources, FileId) -> Parsed,
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
        let Parsed { tokens, readings, is_sound, found } = parse(reader.sources, file);
        let (uses, links) = (Vec::new(), BTreeMap::new());
        let (incomplete, understood) = (!is_sound, is_sound);
        let mut unit = Unit { file, tokens, readings, uses, links, incomplete, understood };
        let before = faults.len();
        faults.extend(found.iter().cloned());
        follow(&mut reader, &mut unit, depth, faults);
        errors += faults.iter().skip(before).filter(|fault| fault.level == Level::Error).count();
        queue.extend(unit.uses.iter().map(|used| (used.file, depth + 1)));
        units.insert(file, unit);
    }
    circles(&units, sources, faults);
    (units, true)
}

/// Reads used files, each once.
struct Reader<'a> {
    sources: &'a mut Sources,
    files: &'a dyn Files,
    used: usize,
    bytes: usize,
}

impl Reader<'_> {
    /// The file that `use "path"` in the file `from` means.
    fn open(&mut self, from: FileId, path: &str) -> Result<FileId, NotRead> {
        let name = self.files.resolve(self.sources.name(from), path)?;
        if let Some(file) = self.sources.id(&name) {
            self.sources.uses(file);
            return Ok(file);
        }
        if self.used == USED_MAX {
            return Err(NotRead::TooMany);
        }
        let text = self.files.read(&name)?;
        if self.bytes + text.len() > USED_BYTES_MAX {
            return Err(NotRead::TooMany);
        }
        self.used += 1;
        self.bytes += text.len();
        let file = self.sources.add(name, text);
        self.sources.uses(file);
        Ok(file)
    }
}

/// Opens the files that a unit uses.
fn follow(reader: &mut Reader<'_>, unit: &mut Unit, depth: usize, faults: &mut Vec<Diagnostic>) {
    let mut followed: BTreeMap<(String, Option<String>), Option<FileId>> = BTreeMap::new();
    let readings = Arc::clone(&unit.readings);
    for reading in readings.iter().filter_map(Reading::view::<say::Use>) {
        let said = reading.said(say::Use::path).filter(|_| reading.sound);
        let Some((path, place)) = said.map(|(path, place)| (path.to_owned(), place)) else {
            unit.incomplete = true;
            continue;
        };
        let prefix = reading.get(say::Use::prefix).map(str::to_owned);
        if let Some(known) = followed.get(&(path.clone(), prefix.clone())) {
            unit.links.extend(known.map(|file| (reading.span.start, file)));
            continue;
        }
        if followed.len() == USES_MAX {
            unit.incomplete = true;
            faults.push(not_read(NotRead::TooMany, reading.span));
            return;
        }
        let opened = if depth < DEPTH_MAX { reader.open(unit.file, &path) } else { Err(NotRead::TooMany) };
        followed.insert((path, prefix.clone()), opened.as_ref().ok().copied());
        match opened {
            Ok(file) => {
                unit.links.insert(reading.span.start, file);
                // Two paths may lead to one file.
                if !unit.uses.iter().any(|used| used.file == file && used.prefix == prefix) {
                    unit.uses.push(Used { file, prefix, span: reading.span });
                }
            }
            Err(why) => {
                unit.incomplete = true;
                faults.push(not_read(why, place));
            }
        }
    }
}

fn not_read(why: NotRead, span: Span) -> Diagnostic {
    match why {
        NotRead::Outside => Diagnostic::error(
            "use-outside",
            span,
            "this file is outside the recipes' root, and was not opened",
        )
        .help("name a .wet file below the recipes' root by a path from this file, such as \"films.wet\""),
        NotRead::Unreadable(words) => {
            Diagnostic::error("use-unreadable", span, format!("this file cannot be read: {words}"))
                .help("check the path; it is taken from the folder of this file")
        }
        NotRead::NotText(words) => {
            Diagnostic::error("use-not-text", span, format!("this file is not the text of recipes: {words}"))
                .help("save it as UTF-8 text, under 1 MiB")
        }
        NotRead::TooMany => Diagnostic::error("use-too-many", span, "too many files are used")
            .help("use at most 256 files with 4 MiB in all, at most 16 one through another"),
    }
}

/// Reports each circle of `use` once, with all its lines.
fn circles(units: &Units, sources: &Sources, faults: &mut Vec<Diagnostic>) {
    let mut found: BTreeSet<FileId> = BTreeSet::new();
    for unit in units.values() {
        if found.contains(&unit.file) {
            continue;
        }
        let way = way_round(units, unit.file);
        let Some(first) = way.first() else { continue };
        let names = std::iter::once(unit.file).chain(way.iter().map(|step| step.file));
        let names = first_few(names.map(|file| sources.name(file)), " uses ");
        let fault = |message| Diagnostic::error("use-circle", first.span, message);
        let mut fault = if way.len() == 1 {
            fault("this file uses itself".to_owned()).help("remove the line: a file knows its own names")
        } else {
            fault(format!("these files use each other in a circle: {names}"))
                .help("move what they share into a file that uses none of them")
        };
        for step in way.iter().skip(1) {
            fault = fault.other(step.span, "which leads to this");
        }
        found.extend(way.iter().map(|step| step.file));
        faults.push(fault);
    }
}

/// The shortest path of `use` lines from a file back to itself, if there is one.
fn way_round(units: &Units, start: FileId) -> Vec<&Used> {
    let mut came: BTreeMap<FileId, (FileId, &Used)> = BTreeMap::new();
    let mut queue = VecDeque::from([start]);
    while let Some(file) = queue.pop_front().filter(|_| !came.contains_key(&start)) {
        for used in units.get(&file).map_or(&[][..], |unit| &unit.uses) {
            came.entry(used.file).or_insert_with(|| {
                queue.push_back(used.file);
                (file, used)
            });
        }
    }
    let mut way = Vec::new();
    let mut now = start;
    while let Some((before, used)) = came.get(&now).filter(|_| way.is_empty() || now != start) {
        way.push(*used);
        now = *before;
    }
    if now != start {
        return Vec::new();
    }
    way.reverse();
    way
}
