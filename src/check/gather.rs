//! Reads the files that a check begins with, and those they use, each once.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::sync::Arc;

use super::read::read_file;
use crate::source::{Diagnostic, FileId, Files, Level, NotRead, Sources, Span, first_few};
use crate::syntax::{FINDINGS_MAX, Token, parse, too_many_findings};
use crate::vocabulary::{Reading, say};

/// How many files one may be used through.
const DEPTH_MAX: usize = 16;
/// So many lines of a file may each bring in something else.
const USES_MAX: usize = 256;
/// Recipes may use this many files in one run besides those it begins with.
const USED_MAX: usize = 256;
/// These files together have at most this many bytes.
const USED_BYTES_MAX: usize = 4 << 20;

/// One file, read.
#[derive(Debug, Clone)]
pub(super) struct Unit {
    pub(super) file: FileId,
    /// Its pieces, as written.
    pub(super) tokens: Arc<Vec<Token>>,
    /// Its statements.
    pub(super) readings: Arc<Vec<Reading>>,
    /// The files it uses.
    pub(super) uses: Vec<Used>,
    /// Every line that leads to a file, by its first byte; those that bring in nothing more too.
    pub(super) links: BTreeMap<u32, FileId>,
    /// Whether a `use` of it could not be followed, or a line at its top was not understood, so that names may be
    /// missing.
    pub(super) incomplete: bool,
    /// Whether every line at its top was understood, so that its own names are all known.
    pub(super) understood: bool,
}

/// What the text of one file holds by itself.
#[derive(Debug, Clone)]
pub(super) struct Parsed {
    tokens: Arc<Vec<Token>>,
    readings: Arc<Vec<Reading>>,
    /// Whether every statement could be read.
    is_sound: bool,
    told: Vec<Diagnostic>,
}

impl Parsed {
    /// Parses and reads a file.
    pub(super) fn of(sources: &Sources, file: FileId) -> Parsed {
        let (tree, mut told) = parse(sources, file);
        let (readings, is_sound) = read_file(&tree, sources.text(file), &mut told);
        Parsed { tokens: Arc::new(tree.tokens), readings: Arc::new(readings), is_sound, told }
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

/// All files of a run by their numbers.
pub(super) type Units = BTreeMap<FileId, Unit>;

/// Reads the roots and what they use; and whether that was all of it. It is given up where more errors are told
/// than anybody mends.
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
        let Parsed { tokens, readings, is_sound, mut told } = parse(reader.sources, file);
        let (uses, links) = (Vec::new(), BTreeMap::new());
        let (incomplete, understood) = (!is_sound, is_sound);
        let mut unit = Unit { file, tokens, readings, uses, links, incomplete, understood };
        follow(&mut reader, &mut unit, depth, &mut told);
        errors += told.iter().filter(|fault| fault.level == Level::Error).count();
        faults.extend(told);
        queue.extend(unit.uses.iter().map(|used| (used.file, depth + 1)));
        units.insert(file, unit);
    }
    circles(&units, sources, faults);
    (units, true)
}

/// Reads the files that others use, each once.
struct Reader<'a> {
    sources: &'a mut Sources,
    files: &'a dyn Files,
    /// How many were read.
    used: usize,
    /// How many bytes they have together.
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
        // A line that stands here twice brings in nothing more.
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
                // One file may be spelled in several ways.
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
            "this file is not among the recipes, and was not opened",
        )
        .help("name a .wet file below the recipes' root by a path from this file, such as \"films.wet\""),
        NotRead::Unreadable(words) => {
            Diagnostic::error("use-unreadable", span, format!("this file cannot be read: {words}"))
                .help("check the path; it is taken from the folder of this file")
        }
        NotRead::NotText(words) => {
            Diagnostic::error("use-not-text", span, format!("this file is no recipe's text: {words}"))
                .help("save it as UTF-8 text, under 1 MiB")
        }
        NotRead::TooMany => Diagnostic::error("use-too-many", span, "too many files are in use")
            .help("use at most 256 files with 4 MiB in all, at most 16 one through another"),
    }
}

/// Tells each circle of `use` once, with every line of it.
fn circles(units: &Units, sources: &Sources, faults: &mut Vec<Diagnostic>) {
    let mut told: BTreeSet<FileId> = BTreeSet::new();
    for unit in units.values() {
        if told.contains(&unit.file) {
            continue;
        }
        let way = way_round(units, unit.file);
        let Some(first) = way.first() else { continue };
        let names = std::iter::once(unit.file).chain(way.iter().map(|step| step.file));
        let names = first_few(names.map(|file| sources.name(file)), " uses ");
        let fault = |message| Diagnostic::error("use-circle", first.span, message);
        let mut fault = if way.len() == 1 {
            fault("this file uses itself".to_owned()).help("take the line out: a file knows its own names")
        } else {
            fault(format!("these files use each other in a circle: {names}"))
                .help("move what both need into a file that uses neither")
        };
        for step in way.iter().skip(1) {
            fault = fault.other(step.span, "which leads on here");
        }
        told.extend(way.iter().map(|step| step.file));
        faults.push(fault);
    }
}

/// The shortest way of `use` lines from a file back to itself; empty if there is none.
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
