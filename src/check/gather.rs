//! Reads the files that a check begins with, and those they use, each once.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::read::{Reading, Value, read_file};
use crate::source::{Diagnostic, FileId, Library, NotRead, Sources, Span};
use crate::syntax::{Token, parse};

/// How many files one may be used through.
const DEPTH_MAX: usize = 16;

/// The faults that gathering tells.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("use-outside", "a used file outside the recipes' root"),
    ("use-unreadable", "a used file that cannot be read"),
    ("use-not-text", "a used file that is not a recipe's text"),
    ("use-too-many", "more files in use than a run may read"),
    ("use-circle", "files that use each other in a circle"),
];

/// One file, read.
#[derive(Debug)]
pub(super) struct Unit {
    pub(super) file: FileId,
    /// Its pieces, as written.
    pub(super) tokens: Vec<Token>,
    /// Its statements.
    pub(super) readings: Vec<Reading>,
    /// The files it uses.
    pub(super) uses: Vec<Used>,
    /// Whether a `use` of it could not be followed, so that names may be missing.
    pub(super) incomplete: bool,
}

/// One `use`.
#[derive(Debug)]
pub(super) struct Used {
    pub(super) file: FileId,
    pub(super) prefix: Option<String>,
    pub(super) span: Span,
}

/// All files of a run by their numbers.
pub(super) type Units = BTreeMap<FileId, Unit>;

/// Reads the roots and what they use.
pub(super) fn gather(
    sources: &mut Sources,
    roots: &[FileId],
    library: &mut dyn Library,
    faults: &mut Vec<Diagnostic>,
) -> Units {
    let mut units = Units::new();
    let mut queue: VecDeque<(FileId, usize)> = roots.iter().map(|file| (*file, 0)).collect();
    while let Some((file, depth)) = queue.pop_front() {
        if units.contains_key(&file) {
            continue;
        }
        // What is told of a file has a limit, and those of another have no part in it.
        let (tree, mut told) = parse(sources, file);
        let (readings, sound) = read_file(&tree, sources.text(file), &mut told);
        faults.extend(told);
        let mut unit = Unit { file, tokens: tree.tokens, readings, uses: Vec::new(), incomplete: !sound };
        follow(sources, library, &mut unit, depth, faults);
        queue.extend(unit.uses.iter().map(|used| (used.file, depth + 1)));
        units.insert(file, unit);
    }
    circles(&units, sources, faults);
    units
}

/// Opens the files that a unit uses.
fn follow(
    sources: &mut Sources,
    library: &mut dyn Library,
    unit: &mut Unit,
    depth: usize,
    faults: &mut Vec<Diagnostic>,
) {
    for reading in unit.readings.iter().filter(|reading| reading.row.word == "use") {
        let Some(path) = reading.text().filter(|_| reading.sound) else {
            unit.incomplete = true;
            continue;
        };
        let opened =
            if depth < DEPTH_MAX { library.open(sources, unit.file, &path) } else { Err(NotRead::TooMany) };
        match opened {
            Ok(file) => {
                let prefix = reading.name().map(|(name, _)| name.to_owned());
                unit.uses.push(Used { file, prefix, span: reading.span });
            }
            Err(why) => {
                unit.incomplete = true;
                let span = reading
                    .items
                    .iter()
                    .find(|item| matches!(item.value, Value::Text(_)))
                    .map_or(reading.span, |item| item.span);
                faults.push(not_read(why, span));
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
            .help("use at most 256 files, at most 16 one through another"),
    }
}

/// Tells each circle of `use` once, with every line of it.
fn circles(units: &Units, sources: &Sources, faults: &mut Vec<Diagnostic>) {
    let mut told: BTreeSet<FileId> = BTreeSet::new();
    for unit in units.values() {
        for used in &unit.uses {
            if told.contains(&unit.file) {
                continue;
            }
            let Some(way) = way_back(units, used.file, unit.file) else { continue };
            let names: Vec<&str> = std::iter::once(unit.file)
                .chain(std::iter::once(used.file))
                .chain(way.iter().map(|step| step.file))
                .map(|file| sources.name(file))
                .collect();
            let fault = |message| Diagnostic::error("use-circle", used.span, message);
            let mut fault = if way.is_empty() {
                fault("this file uses itself".to_owned())
                    .help("take the line out: a file knows its own names")
            } else {
                fault(format!("these files use each other in a circle: {}", names.join(" uses ")))
                    .help("move what both need into a file that uses neither")
            };
            for step in &way {
                fault = fault.other(step.span, "which leads on here");
            }
            told.insert(unit.file);
            told.extend(way.iter().map(|step| step.file));
            told.insert(used.file);
            faults.push(fault);
        }
    }
}

/// The shortest way of `use` lines from one file to another; empty if they are the same.
fn way_back(units: &Units, from: FileId, to: FileId) -> Option<Vec<&Used>> {
    let mut came: BTreeMap<FileId, (FileId, &Used)> = BTreeMap::new();
    let mut queue = VecDeque::from([from]);
    while let Some(file) = queue.pop_front() {
        if file == to {
            let mut way = Vec::new();
            let mut now = to;
            while now != from {
                let (before, used) = came.get(&now)?;
                way.push(*used);
                now = *before;
            }
            way.reverse();
            return Some(way);
        }
        for used in units.get(&file).map_or(&[][..], |unit| &unit.uses) {
            if used.file != from && !came.contains_key(&used.file) {
                came.insert(used.file, (file, used));
                queue.push_back(used.file);
            }
        }
    }
    None
}
