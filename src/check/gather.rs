//! Reads the files that are to be checked and all files that they use, each once.

use std::collections::VecDeque;
use std::sync::Arc;

use super::read::read_file;
use super::{circle, error};
use crate::source::{
    COLLECTION, COLLECTIONS, Diagnostic, FileId, Files, Level, Map, NotRead, Set, Sources, Span, clip,
};
use crate::syntax::{FINDINGS_MAX, Token, parse, too_many_findings};
use crate::vocabulary::{Reading, say};

/// The longest chain of files in which each file uses the next one.
const DEPTH_MAX: usize = 16;
/// The most `use` lines of a file that are followed. Lines with the same path and prefix count once.
const USES_MAX: usize = 256;
/// A `use` line that repeats an earlier one is not stored if the file already has this many stored lines.
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
    /// Whether the file may lack names that its author meant to declare or use, because a `use` line or a line outside
    /// of all blocks has an error.
    pub(super) incomplete: bool,
    /// The folder of the collection that the file belongs to, or else the root folder of all files.
    pub(super) root: String,
    /// Whether the file belongs to another collection or root folder than every file that was named for the check.
    pub(super) is_of_others: bool,
    /// Whether every line outside of all blocks was understood, so that all declarations of the file are known.
    pub(super) understood: bool,
}

impl Unit {
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
            root: String::new(),
            is_of_others: false,
            understood,
        }
    }

    /// The span of the first error outside of all declarations, on a line that may be a misspelt declaration. `None` if
    /// every line outside of blocks was understood.
    pub(super) fn lost_line(&self) -> Option<Span> {
        let is_declared = |place: Span| {
            let mut declared = self.readings.iter().filter(|reading| reading.declares().is_some());
            declared.any(|reading| reading.extent.holds(place))
        };
        let mut errors = self.found.iter().filter(|fault| fault.level == Level::Error && !self.understood);
        errors.find(|fault| !is_declared(fault.span)).map(|fault| fault.span)
    }

    /// Whether this file has the same text and uses the same files as the unit `before`, from the previous check.
    pub(super) fn is_same(&self, before: &Unit) -> bool {
        Arc::ptr_eq(&self.readings, &before.readings)
            && self.uses == before.uses
            && self.incomplete == before.incomplete
            && (&self.root, self.is_of_others) == (&before.root, before.is_of_others)
    }
}

/// A `use` line, which brings the names of another file or of a collection into the scope of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Use {
    /// The span of the used file's path, or of the collection's name.
    pub path: Span,
    /// The used file.
    pub file: FileId,
    /// The prefix that the used names get in this file, with its span. If the line states no prefix, a collection's
    /// prefix is the collection's name; names of other files have none.
    pub prefix: Option<(String, Span)>,
    /// The names after `only`, with their spans. Empty if the line brings in all names.
    pub(super) only: Vec<(String, Span)>,
    /// Whether the line names a collection. The used file is then its `collection.wet`, and the line brings in the
    /// collection's exports.
    pub is_collection: bool,
    pub(super) span: Span,
    /// Whether an earlier `use` line of the file has the same used file, prefix and names after `only`.
    pub(super) repeated: bool,
}

pub(super) type Units = Map<FileId, Unit>;

/// The edition of the language that the first statement of a file states; 1 if there is none.
pub(super) fn edition(units: &Units, file: FileId) -> u32 {
    let first = units.get(&file).and_then(|unit| unit.readings.first());
    first.and_then(|first| first.view::<say::Wetside>()?.edition()).unwrap_or(1)
}

/// Reads the files `roots` and all files that they use. The flag is false if reading stopped early because of too many
/// errors.
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
    let own: Set<String> = roots.iter().map(|file| reader.root_of(*file)).collect();
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
        unit.root = reader.root_of(file);
        unit.is_of_others = !own.contains(&unit.root);
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Used<'a> {
    /// The path of a file.
    Path(&'a str),
    /// The name of a collection's folder.
    Collection(&'a str),
}

struct Reader<'a> {
    sources: &'a mut Sources,
    files: &'a dyn Files,
    used: usize,
    bytes: usize,
}

impl Reader<'_> {
    fn open(&mut self, from: FileId, what: Used<'_>) -> Result<FileId, NotRead> {
        let from = self.sources.name(from);
        let name = match what {
            Used::Path(path) => self.files.resolve(from, path)?,
            Used::Collection(name) => {
                let up = "../".repeat(self.files.depth(from));
                self.files.resolve(from, &format!("{up}{COLLECTIONS}/{name}/{COLLECTION}"))?
            }
        };
        if matches!(what, Used::Path(_)) && self.is_closed(from, &name) {
            return Err(NotRead::OfCollection);
        }
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

    /// The path of the root folder that a file belongs to (its collection's folder, or that of all files), relative to
    /// the root folder of all files. Empty for the latter.
    fn root_of(&self, file: FileId) -> String {
        let name = self.sources.name(file);
        let folders = name.split('/').count().saturating_sub(self.files.depth(name) + 1);
        name.split('/').take(folders).collect::<Vec<_>>().join("/")
    }

    /// Whether the file `name` belongs to a collection, and the file `from` is outside of that collection.
    fn is_closed(&self, from: &str, name: &str) -> bool {
        let owner = |name: &str| {
            let up = "../".repeat(self.files.depth(name));
            let own = self.files.resolve(name, &format!("{up}{COLLECTION}")).ok()?;
            (self.sources.id(&own).is_some() || self.files.read(&own).is_ok()).then_some(own)
        };
        // Every path of a file in a collection contains the folder `collections`. For other paths, the slower check is
        // skipped.
        name.split('/').any(|folder| folder == COLLECTIONS)
            && owner(name).is_some_and(|its| owner(from).is_none_or(|own| own != its))
    }

    fn follow(&mut self, unit: &mut Unit, depth: usize, faults: &mut Vec<Diagnostic>) {
        let mut followed: Map<(Used<'_>, Option<&str>), Option<FileId>> = Map::new();
        let mut seen = Set::new();
        let readings = Arc::clone(&unit.readings);
        for reading in readings.iter().filter_map(Reading::view::<say::Use>) {
            let path = reading.said(say::Use::path).map(|(path, place)| (Used::Path(path), place));
            let collection = reading.said(say::Use::collection);
            let collection = collection.map(|(name, place)| (Used::Collection(name), place));
            let Some((path, place)) = path.or(collection).filter(|_| reading.sound) else {
                unit.incomplete = true;
                continue;
            };
            let prefix = reading.prefix();
            let file = if let Some(known) = followed.get(&(path, prefix)) {
                *known
            } else if followed.len() == USES_MAX {
                unit.incomplete = true;
                faults.push(not_read(NotRead::TooMany, path, reading.span));
                return;
            } else {
                let opened =
                    if depth < DEPTH_MAX { self.open(unit.file, path) } else { Err(NotRead::TooMany) };
                let opened = opened.map_err(|why| {
                    unit.incomplete = true;
                    faults.push(not_read(why, path, place));
                });
                followed.insert((path, prefix), opened.ok());
                opened.ok()
            };
            let Some(file) = file else { continue };
            let owned = |(name, span): (&str, Span)| (name.to_owned(), span);
            let only: Vec<_> = reading.all(say::Use::only).map(owned).collect();
            let prefix = reading.said(say::Use::prefix).or(reading.said(say::Use::collection)).map(owned);
            // Two paths may lead to the same file, so files are compared and not paths.
            let names = only.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
            let repeated = !seen.insert((file, prefix.as_ref().map(|(name, _)| name.clone()), names));
            if !repeated || unit.uses.len() < LINES_MAX {
                let is_collection = matches!(path, Used::Collection(_));
                let span = reading.span;
                unit.uses.push(Use { path: place, file, prefix, only, is_collection, span, repeated });
            }
        }
    }
}

fn not_read(why: NotRead, what: Used<'_>, span: Span) -> Diagnostic {
    if let (Used::Collection(name), NotRead::Unreadable(_) | NotRead::Outside) = (what, &why) {
        let name = clip(name);
        return error(
            "unknown-collection",
            span,
            format!("there is no collection '{name}' here"),
            format!(
                "to get the collection from its address or folder: wetside adopt ORIGIN --as {name}; to use a file, write its path: use \"{name}.wet\""
            ),
        );
    }
    let (name, help) = match why {
        NotRead::Outside => {
            ("use-outside", "copy the used file into the folder of this file, and write: use \"films.wet\"")
        }
        NotRead::OfCollection => {
            ("use-inside-collection", "use what the collection exports, by the name of its folder: use club")
        }
        NotRead::Unreadable(_) => (
            "use-unreadable",
            "check the spelling; for a file in another folder, write that folder too, such as: use \"bases/films.wet\"",
        ),
        NotRead::NotText(_) => {
            ("use-not-text", "save it in your editor as plain text, with UTF-8 as its encoding")
        }
        NotRead::TooLarge => ("use-not-text", "split it into smaller files, each under 1 MiB"),
        NotRead::TooMany => {
            ("use-too-many", "use at most 256 files with 4 MiB in all, in chains of at most 16")
        }
    };
    error(name, span, format!("the used file cannot be read: {why}"), help)
}

fn circles(units: &Units, sources: &Sources, faults: &mut Vec<Diagnostic>) {
    let mut found: Set<FileId> = Set::new();
    for file in units.keys() {
        if found.contains(file) {
            continue;
        }
        let way = circle_from(units, *file);
        let names = std::iter::once(*file).chain(way.iter().map(|used| used.file));
        let help = match way.len() {
            1 => "remove the line: a file can use its own names without it",
            _ => {
                "remove one of these 'use' lines; what the files share goes into another file, which uses none of them"
            }
        };
        let (names, spans) = (names.map(|file| sources.name(file)), way.iter().map(|used| used.span));
        faults.extend(circle("use-circle", ("files", " uses "), names, spans, help));
        found.extend(way.iter().map(|used| used.file));
    }
}

/// The shortest chain of `use` lines from a file back to itself. Empty if there is none.
fn circle_from(units: &Units, start: FileId) -> Vec<&Use> {
    let mut reached = Set::new();
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
