//! Finds the files that a command line names, the recipe files below a folder, and the files that declare a name. A
//! search of a folder does not enter other roots inside the folder.

use std::cell::OnceCell;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use super::root::printable;
use super::{Failure, fail, root};
use crate::check::{declared_names, is_dated_name, is_free_name, is_only_planned};
use crate::disk::bytes_of;
use crate::source::{FileId, Sources, first_few};
use crate::vocabulary::{Declared, suggest};

/// The maximum number of recipe files in a search by the language server.
const FILES_MAX: usize = 20_000;
/// The maximum number of folder entries in a search by the language server.
const ENTRIES_MAX: usize = 200_000;
/// The placeholder for a file in suggested command lines.
const FILE: &str = "FILE.wet";
const BLANKS: [char; 2] = [' ', '\t'];
const NAME_ENDS: [char; 4] = [' ', '\t', '\r', '{'];

/// The roots, such as other git repositories, that a search found below its folders and did not enter, in path order.
#[derive(Clone, Default)]
pub(super) struct OtherRoots(Arc<Mutex<Vec<PathBuf>>>);

impl OtherRoots {
    /// The message that lists the roots that a search did not enter; empty if there are none.
    pub(super) fn line(&self) -> String {
        let Ok(paths) = self.0.lock() else { return String::new() };
        let names: Vec<String> = paths.iter().map(|path| printable(&path.display().to_string())).collect();
        if names.is_empty() {
            return String::new();
        }
        let names = first_few(names.iter().map(String::as_str), ", ");
        format!("not entered, as each is a root of its own: {names}; name one to work in it\n")
    }
}

/// The named files, and the recipe files below the named folders; if `named` is empty, the recipe files below the
/// current folder. The search adds to `others` the roots that it does not enter. Fails if no file is found.
pub(super) fn files(
    named: &[PathBuf],
    others: &OtherRoots,
) -> Result<impl Iterator<Item = PathBuf>, Failure> {
    let here = named.is_empty().then(|| PathBuf::from("."));
    let noted = others.clone();
    let of = move |path: PathBuf| -> Box<dyn Iterator<Item = PathBuf>> {
        if path.is_dir() { Box::new(recipes_below(&path, &noted)) } else { Box::new(std::iter::once(path)) }
    };
    let mut files = named.iter().cloned().chain(here).flat_map(of).peekable();
    if files.peek().is_some() {
        return Ok(files);
    }
    let help = format!("name a file or a folder that holds recipes {}", others.line());
    fail("there is no .wet file here", help.trim_end())
}

/// The `.wet` files below a folder in path order, without those that git ignores. Links are not followed.
pub(super) fn recipes_below(folder: &Path, others: &OtherRoots) -> impl Iterator<Item = PathBuf> + use<> {
    walk(folder, others).flatten()
}

/// The `.wet` files below a folder, for the language server; `None` if there are more than `FILES_MAX` files or
/// `ENTRIES_MAX` entries.
pub(super) fn few_recipes_below(folder: &Path) -> Option<Vec<PathBuf>> {
    let mut found = Vec::new();
    for (number, entry) in walk(folder, &OtherRoots::default()).enumerate() {
        found.extend(entry);
        if number == ENTRIES_MAX || found.len() > FILES_MAX {
            return None;
        }
    }
    Some(found)
}

/// All entries below a folder: the path of each `.wet` file, and `None` for each other entry.
fn walk(folder: &Path, others: &OtherRoots) -> impl Iterator<Item = Option<PathBuf>> + use<> {
    let (real, walked) = (std::fs::canonicalize(folder).unwrap_or_default(), folder.to_owned());
    let others = others.clone();
    let is_inside = move |entry: &ignore::DirEntry| {
        let below = entry.path().strip_prefix(&walked).unwrap_or(entry.path());
        let is_folder = entry.file_type().is_some_and(|kind| kind.is_dir());
        let enters = entry.depth() == 0 || !is_folder || !root::is_root(&real.join(below));
        if !enters && let Ok(mut paths) = others.0.lock() {
            paths.push(entry.path().strip_prefix("./").unwrap_or(entry.path()).to_owned());
        }
        enters
    };
    let walk = ignore::WalkBuilder::new(folder)
        .follow_links(false)
        .require_git(false)
        .filter_entry(is_inside)
        // The walk sorts the entries of one folder, whose paths differ only in the file name. So comparing whole paths
        // as strings gives the same order as comparing them by components, and is faster.
        .sort_by_file_path(|one, other| one.as_os_str().cmp(other.as_os_str()))
        .build();
    walk.filter_map(Result::ok).map(|entry| {
        let is_file = entry.file_type().is_some_and(|kind| kind.is_file());
        let path = entry.path();
        let is_recipe = is_file && path.extension() == Some(OsStr::new("wet"));
        is_recipe.then(|| path.strip_prefix("./").unwrap_or(path).components().collect())
    })
}

/// Whether a file is named like a file of a journal, as in `2026-11-16-7m2q.wet`. A file of a journal records or
/// retracts a session.
pub(super) fn is_session_file(path: &Path) -> bool {
    path.extension() == Some(OsStr::new("wet"))
        && path.file_stem().and_then(OsStr::to_str).is_some_and(is_dated_name)
}

/// Whether a file has planned sessions and no other declaration. The command `plan` may replace such a file.
pub(super) fn is_plan(path: &Path) -> bool {
    let mut sources = Sources::default();
    let file = sources.add("", lossy_text(path));
    is_only_planned(&sources, file)
}

/// Whether an argument is the path of a file, and not the name of a declaration.
pub(super) fn is_file(given: &Path) -> bool {
    let text = given.to_string_lossy();
    text.ends_with(".wet") || text.contains('/') || given.is_file()
}

/// The file and the name of a declaration of the wanted kind. The command line gives the file, the file and the name,
/// or the name alone.
pub(super) fn file_and_name(
    given: &Path,
    name: Option<String>,
    kind: Declared,
    command: &str,
    index: &Index,
) -> Result<(PathBuf, Option<String>), Failure> {
    let text = &*given.to_string_lossy();
    if text == "-" || is_file(given) {
        return Ok((given.to_owned(), name));
    }
    no_second_name(text, name.as_deref())?;
    let sought = Sought::below(kind, text).called(format!("wetside {command} {FILE} {text}"));
    match index.find(&sought) {
        Ok(path) => Ok((path, Some(text.to_owned()))),
        // If `given` is a folder, reading it later gives a more helpful message than 'there is no recipe'.
        Err(_) if given.exists() => Ok((given.to_owned(), None)),
        Err(failure) => Err(failure),
    }
}

/// Fails if there is a second argument although the first one is the name of a declaration and not a file.
pub(super) fn no_second_name(first: &str, second: Option<&str>) -> Result<(), Failure> {
    match second {
        None => Ok(()),
        Some(second) => fail(
            format!("unexpected second name '{second}'"),
            format!("write {first} alone, or the file first: {FILE} {first}"),
        ),
    }
}

/// A declaration to find: its kind and its name; without a name, all declarations of the kind.
type Wanted = (Declared, Option<String>);

/// The files below a folder that contain wanted declarations. The files are read at the first lookup.
pub(super) struct Index {
    folder: PathBuf,
    wanted: Vec<Wanted>,
    files: OnceCell<Vec<Candidate>>,
}

/// A file with lines that begin like wanted declarations. It is parsed when one of these declarations is looked up.
struct Candidate {
    path: PathBuf,
    likely: Vec<Wanted>,
    declared: OnceCell<Vec<(Declared, String)>>,
}

impl Index {
    /// The index of all declarations of these kinds below a folder.
    pub(super) fn below(folder: &Path, kinds: &[Declared]) -> Index {
        let wanted = kinds.iter().map(|kind| (*kind, None)).collect();
        Index { folder: folder.to_owned(), wanted, files: OnceCell::new() }
    }

    /// The index of the declarations of one kind and name below the current folder.
    pub(super) fn of_name(kind: Declared, name: &str) -> Index {
        Index::below(Path::new("."), &[]).with(kind, name)
    }

    pub(super) fn with(mut self, kind: Declared, name: &str) -> Index {
        self.wanted.push((kind, Some(name.to_owned())));
        self
    }

    /// Also indexes all declarations of this kind, whatever their names.
    pub(super) fn with_all(mut self, kind: Declared) -> Index {
        self.wanted.push((kind, None));
        self
    }

    fn files(&self) -> &[Candidate] {
        self.files.get_or_init(|| {
            let candidate = |path: PathBuf| {
                let likely = if is_session_file(&path) {
                    self.wanted.iter().filter(|(kind, _)| *kind == Declared::Session).cloned().collect()
                } else {
                    likely_in(&lossy_text(&path), &self.wanted)
                };
                Some(Candidate { path, likely, declared: OnceCell::new() })
                    .filter(|file| !file.likely.is_empty())
            };
            recipes_below(&self.folder, &OtherRoots::default()).filter_map(candidate).collect()
        })
    }

    /// The files that declare `name` as one of these kinds, in path order. If `name` is `None`, any name counts. Only
    /// declarations of the kinds and names in `wanted` are found.
    pub(super) fn declaring(&self, kinds: &[Declared], name: Option<&str>) -> Vec<PathBuf> {
        let found = self.files().iter().filter(|file| file.declares(kinds, name));
        found.map(|file| file.path.clone()).collect()
    }

    /// The only file that declares the sought name. Fails if there is none or more than one.
    pub(super) fn find(&self, sought: &Sought<'_>) -> Result<PathBuf, Failure> {
        match self.declaring(&[sought.kind], Some(sought.name)).as_slice() {
            [one] => Ok(one.clone()),
            [] => {
                let all = Index::below(&self.folder, &[sought.kind]);
                let known = all.files().iter().flat_map(Candidate::declared);
                Err(sought.absent(known.filter(|(kind, _)| *kind == sought.kind).map(|(_, name)| &**name)))
            }
            several => Err(sought.in_files(several.iter().map(|path| path.display().to_string()))),
        }
    }
}

impl Candidate {
    fn declares(&self, kinds: &[Declared], name: Option<&str>) -> bool {
        let is_sought = |kind: &Declared, own: Option<&str>| {
            kinds.contains(kind) && (name.is_none() || own.is_none() || own == name)
        };
        self.likely.iter().any(|(kind, own)| is_sought(kind, own.as_deref()))
            && (is_session_file(&self.path)
                || self.declared().iter().any(|(kind, own)| is_sought(kind, Some(own))))
    }

    /// The kind and name of each declaration in the file, even of declarations with errors.
    fn declared(&self) -> &[(Declared, String)] {
        self.declared.get_or_init(|| {
            let mut sources = Sources::default();
            let file = sources.add("", lossy_text(&self.path));
            declared_names(&sources, file)
        })
    }
}

/// The text of a file without its byte-order mark; invalid UTF-8 is replaced. At most about 1 MiB is read. Empty if the
/// file cannot be read.
fn lossy_text(path: &Path) -> String {
    let bytes = bytes_of(path).unwrap_or_default();
    let text = String::from_utf8_lossy(&bytes);
    text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned()
}

/// The wanted declarations that the text may contain: a line of the text begins with their kind and name.
fn likely_in(text: &str, wanted: &[Wanted]) -> Vec<Wanted> {
    let (mut likely, mut rest) = (Vec::new(), Vec::from_iter(wanted));
    for line in text.lines() {
        let line = line.trim_ascii_start();
        if !rest.iter().any(|(kind, _)| line.starts_with(kind.word())) {
            continue;
        }
        let matching = rest.extract_if(.., |(kind, name)| {
            let after = line.strip_prefix(kind.word()).map(|after| after.trim_start_matches(BLANKS));
            after.is_some_and(|after| name.is_none() || after.split(NAME_ENDS).next() == name.as_deref())
        });
        likely.extend(matching.cloned());
    }
    likely
}

/// A name to look up, and the words for the error message if no declaration or several declarations have this name.
pub(super) struct Sought<'a> {
    pub(super) kind: Declared,
    pub(super) name: &'a str,
    /// The searched place as a phrase, such as `below this folder`.
    pub(super) place: String,
    /// The help text if no declaration has the sought name.
    pub(super) otherwise: Option<String>,
    /// The command line that the help text suggests, with `FILE.wet` as placeholder for the file.
    pub(super) call: Option<String>,
}

impl<'a> Sought<'a> {
    /// A name that is searched in the files below the current folder.
    pub(super) fn below(kind: Declared, name: &'a str) -> Sought<'a> {
        let declare = format!("declare it: {} {name} {{ … }} in a .wet file below this folder", kind.word());
        Sought { otherwise: Some(declare), ..Sought::within(kind, name, "below this folder") }
    }

    /// A name that is searched in a place, such as `in films.wet`.
    pub(super) fn within(kind: Declared, name: &'a str, place: impl Into<String>) -> Sought<'a> {
        Sought { kind, name, place: place.into(), otherwise: None, call: None }
    }

    /// Sets the command line that the help text suggests, such as `wetside card FILE.wet plain`.
    pub(super) fn called(mut self, call: String) -> Sought<'a> {
        if self.kind == Declared::Recipe {
            let help = format!("go to the folder of your recipes, or name the file: {call}");
            self.otherwise = Some(help);
        }
        Sought { call: Some(call), ..self }
    }

    /// The only declaration in `all` with the sought name. Fails if there is none or more than one.
    pub(super) fn among<'k, T: Copy>(
        &self,
        all: impl IntoIterator<Item = (&'k str, FileId, T)>,
        sources: &Sources,
    ) -> Result<T, Failure> {
        let all: Vec<_> = all.into_iter().collect();
        let named: Vec<_> = all.iter().filter(|(name, ..)| *name == self.name).collect();
        match named.as_slice() {
            [(.., one)] => Ok(*one),
            [] => Err(self.absent(all.iter().map(|(name, ..)| *name))),
            several => Err(self.in_files(several.iter().map(|(_, file, _)| sources.name(*file).to_owned()))),
        }
    }

    /// The failure that reports that no declaration has the sought name. `known` are the names of the existing
    /// declarations, one of which may be suggested.
    pub(super) fn absent<'k>(&self, known: impl IntoIterator<Item = &'k str>) -> Failure {
        let word = self.kind.word();
        let mut known: Vec<&str> = known.into_iter().collect();
        known.sort_unstable();
        known.dedup();
        let near = suggest(self.name, known.iter().copied());
        let mut help: Vec<String> = match near {
            Some(near) => vec![format!("did you mean {near}?")],
            None if known.is_empty() => Vec::new(),
            None => vec![format!("known: {}", first_few(known, ", "))],
        };
        // A word of the language cannot be a name, so the help does not suggest declaring it.
        if self.kind == Declared::Recipe || is_free_name(self.name) {
            help.extend(self.otherwise.clone());
        }
        if help.is_empty() {
            help.push(format!("write the name of one that is declared: {word} NAME {{ … }}"));
        }
        let help = help.join(if near.is_some() { " Or " } else { "; or " });
        Failure::new(format!("there is no {word} '{}' {}", self.name, self.place), help)
    }

    pub(super) fn in_files(&self, files: impl Iterator<Item = String>) -> Failure {
        let files: Vec<String> = files.collect();
        let help = match &self.call {
            Some(call) => {
                format!("name one: {}", call.replace(FILE, files.first().map_or(FILE, |file| file)))
            }
            None => "rename one of them, or bring the right one in with use".to_owned(),
        };
        let (word, name, count) = (self.kind.word(), self.name, files.len());
        Failure::new(format!("the {word} '{name}' is in {count} files: {}", files.join(", ")), help)
    }
}

/// The declaration called `name` among `all` declarations of a file; without a name, the only declaration.
pub(super) fn one_of<T: Copy>(
    kind: Declared,
    name: Option<&str>,
    file: &str,
    all: &[(&str, FileId, T)],
    sources: &Sources,
) -> Result<T, Failure> {
    let word = kind.word();
    match (name, all) {
        (Some(name), _) => {
            Sought::within(kind, name, format!("in {file}")).among(all.iter().copied(), sources)
        }
        (None, [(.., one)]) => Ok(*one),
        (None, []) => {
            fail(format!("{file} declares no {word}"), format!("name a file that declares {}", kind.words()))
        }
        (None, several) => {
            let (count, names) = (several.len(), first_few(several.iter().map(|(name, ..)| *name), ", "));
            fail(format!("{file} declares {count} {word}s: {names}"), "write the name of one after the file")
        }
    }
}
