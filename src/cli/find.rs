//! Finds the files of a call: those that it names, those below a folder, and those that declare a name. No search
//! enters a root below its folder.

use std::cell::OnceCell;
use std::ffi::OsStr;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use super::root::printable;
use super::{Failure, fail, root};
use crate::check::{declared_names, is_free_name};
use crate::source::{BYTES_MAX, FileId, Sources, first_few};
use crate::vocabulary::{Declared, suggest};

/// The most files that an editor searches.
const FILES_MAX: usize = 20_000;
/// And the most entries of folders.
const ENTRIES_MAX: usize = 200_000;
/// The place of a file in a call that is to name one.
const FILE: &str = "FILE.wet";

/// The roots that a search did not enter, in the order of their paths.
#[derive(Debug, Clone, Default)]
pub(super) struct OtherRoots(Arc<Mutex<Vec<PathBuf>>>);

impl OtherRoots {
    /// A line that lists them; empty if there are none.
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

/// The files of a call, each folder searched when its turn comes; this folder if nothing is named. Roots below a named
/// folder are noted and not entered.
///
/// # Errors
/// There is no such file.
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

/// The `.wet` files below a folder in the order of their paths, without those that git ignores. Links are not followed.
pub(super) fn recipes_below(folder: &Path, others: &OtherRoots) -> impl Iterator<Item = PathBuf> + use<> {
    walk(folder, others).filter_map(recipe)
}

/// The same for an editor; `None` if there are too many.
pub(super) fn few_recipes_below(folder: &Path) -> Option<Vec<PathBuf>> {
    let mut found = Vec::new();
    for (number, entry) in walk(folder, &OtherRoots::default()).enumerate() {
        found.extend(recipe(entry));
        if number == ENTRIES_MAX || found.len() > FILES_MAX {
            return None;
        }
    }
    Some(found)
}

fn walk(folder: &Path, others: &OtherRoots) -> impl Iterator<Item = ignore::DirEntry> + use<> {
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
        // The paths of one folder differ only in their last name; as strings they compare faster.
        .sort_by_file_path(|one, other| one.as_os_str().cmp(other.as_os_str()))
        .build();
    walk.filter_map(Result::ok)
}

fn recipe(entry: ignore::DirEntry) -> Option<PathBuf> {
    let is_file = entry.file_type().is_some_and(|kind| kind.is_file());
    let path =
        Some(entry.into_path()).filter(|path| is_file && path.extension() == Some(OsStr::new("wet")))?;
    Some(path.strip_prefix("./").unwrap_or(&path).components().collect())
}

/// Whether a call gives a file and not a name.
pub(super) fn is_file(given: &Path) -> bool {
    let text = given.to_string_lossy();
    text.ends_with(".wet") || text.contains('/') || given.is_file()
}

/// The file and the name for a call that gives a file, a file and a name, or a name.
///
/// # Errors
/// Two names are given, or the name is not found.
pub(super) fn file_and_name(
    given: &Path,
    name: Option<String>,
    sought: &Sought<'_>,
    index: &Index,
) -> Result<(PathBuf, Option<String>), Failure> {
    let text = sought.name;
    if text == "-" || is_file(given) {
        return Ok((given.to_owned(), name));
    }
    no_second_name(text, name.as_deref())?;
    match index.find(sought) {
        Ok(path) => Ok((path, Some(text.to_owned()))),
        // That it is a folder says more than that no recipe has the name.
        Err(_) if given.exists() => Ok((given.to_owned(), None)),
        Err(failure) => Err(failure),
    }
}

/// The error of a second name after a first one that is no file.
pub(super) fn no_second_name(first: &str, second: Option<&str>) -> Result<(), Failure> {
    match second {
        None => Ok(()),
        Some(second) => fail(
            format!("unexpected second name '{second}'"),
            format!("write {first} alone, or the file first: {FILE} {first}"),
        ),
    }
}

/// The kind and the name of a declaration.
type Declaration = (Declared, String);

/// The declarations of the files below a folder. The files are read when they are first needed, and parsed only if a
/// line begins with a declaration of a wanted kind, and of the wanted name if there is one.
pub(super) struct Index {
    folder: PathBuf,
    wanted: Vec<(Declared, Option<String>)>,
    files: OnceCell<Vec<(Vec<Declaration>, PathBuf)>>,
}

impl Index {
    /// Of all declarations of these kinds below a folder.
    pub(super) fn below(folder: &Path, kinds: &[Declared]) -> Index {
        let wanted = kinds.iter().map(|kind| (*kind, None)).collect();
        Index { folder: folder.to_owned(), wanted, files: OnceCell::new() }
    }

    /// Of the declarations of one name below this folder.
    pub(super) fn of_name(kind: Declared, name: &str) -> Index {
        Index::below(Path::new("."), &[]).with(kind, name)
    }

    /// The same with another name.
    pub(super) fn with(mut self, kind: Declared, name: &str) -> Index {
        self.wanted.push((kind, Some(name.to_owned())));
        self
    }

    fn files(&self) -> &[(Vec<Declaration>, PathBuf)] {
        self.files.get_or_init(|| {
            let paths = recipes_below(&self.folder, &OtherRoots::default());
            let read = paths.map(|path| (declared_in(&path, &self.wanted), path));
            read.filter(|(names, _)| !names.is_empty()).collect()
        })
    }

    /// The files with such a declaration, in the order of their paths.
    pub(super) fn declaring(&self, is: impl Fn(Declared, &str) -> bool) -> Vec<PathBuf> {
        let has = |names: &[Declaration]| names.iter().any(|(kind, name)| is(*kind, name));
        self.files().iter().filter(|(names, _)| has(names)).map(|(_, path)| path.clone()).collect()
    }

    /// The one file that declares a wanted name.
    ///
    /// # Errors
    /// No file declares it, or several do.
    pub(super) fn find(&self, sought: &Sought<'_>) -> Result<PathBuf, Failure> {
        let found = self.declaring(|kind, name| kind == sought.kind && name == sought.name);
        match found.as_slice() {
            [one] => Ok(one.clone()),
            [] => {
                let all = Index::below(&self.folder, &[sought.kind]);
                let known = all.files().iter().flat_map(|(names, _)| names);
                Err(sought.absent(known.filter(|(kind, _)| *kind == sought.kind).map(|(_, name)| &**name)))
            }
            several => Err(sought.in_files(several.iter().map(|path| path.display().to_string()))),
        }
    }
}

/// All declarations of a file, if a line begins with a wanted one; sound or not.
fn declared_in(path: &Path, wanted: &[(Declared, Option<String>)]) -> Vec<Declaration> {
    let mut bytes = Vec::new();
    let read = std::fs::File::open(path).and_then(|file| file.take(BYTES_MAX).read_to_end(&mut bytes));
    let text = String::from_utf8_lossy(&bytes);
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let blank = [' ', '\t'];
    let begins = |line: &str| {
        wanted.iter().any(|(kind, name)| {
            let after = line.trim_start_matches(blank).strip_prefix(kind.word());
            let after = after.map(|after| after.trim_start_matches(blank));
            after.is_some_and(|after| name.as_ref().is_none_or(|name| after.starts_with(name)))
        })
    };
    if read.is_err() || !text.lines().any(begins) {
        return Vec::new();
    }
    let mut sources = Sources::default();
    let file = sources.add("", text);
    declared_names(&sources, file)
}

/// A name that a call gives, and the help if nothing or several things have it.
#[derive(Debug)]
pub(super) struct Sought<'a> {
    pub(super) kind: Declared,
    pub(super) name: &'a str,
    /// Where, as in `below this folder`.
    pub(super) place: String,
    /// The help if nothing has the name.
    pub(super) otherwise: Option<String>,
    /// The call that also names a file, `FILE.wet`.
    pub(super) call: Option<String>,
}

impl<'a> Sought<'a> {
    /// A name in the files below this folder.
    pub(super) fn below(kind: Declared, name: &'a str) -> Sought<'a> {
        let declare = format!("declare it: {} {name} {{ … }} in a .wet file below this folder", kind.word());
        Sought { otherwise: Some(declare), ..Sought::within(kind, name, "below this folder") }
    }

    /// A name in a place, such as `in films.wet`.
    pub(super) fn within(kind: Declared, name: &'a str, place: impl Into<String>) -> Sought<'a> {
        Sought { kind, name, place: place.into(), otherwise: None, call: None }
    }

    /// The same with the call that also names the file, such as `wetside card FILE.wet plain`.
    pub(super) fn called(mut self, call: String) -> Sought<'a> {
        if self.kind == Declared::Recipe {
            let help = format!("go to the folder of your recipes, or name the file: {call}");
            self.otherwise = Some(help);
        }
        Sought { call: Some(call), ..self }
    }

    /// The one of these with the name.
    ///
    /// # Errors
    /// None has it, or several have.
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

    /// Nothing has the name; `known` are the names that exist.
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
        // A word of the language cannot be declared.
        if self.kind == Declared::Recipe || is_free_name(self.name) {
            help.extend(self.otherwise.clone());
        }
        if help.is_empty() {
            help.push(format!("write the name of one that is declared: {word} NAME {{ … }}"));
        }
        let help = help.join(if near.is_some() { " Or " } else { "; or " });
        Failure::new(format!("there is no {word} '{}' {}", self.name, self.place), help)
    }

    /// Several files declare it.
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

/// The one of these declarations of a file that has the name; without a name, the only one.
///
/// # Errors
/// None has the name, or there are none or several.
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
