//! Finds what a call names by name alone, such as a recipe, a tank or a solution, in the `.wet` files below this
//! folder; and which of them declare things of some kinds, such as a darkroom's.

use std::ffi::OsStr;
use std::io::Read;
use std::path::{Path, PathBuf};

use super::failure::Failure;
use crate::check::is_free_name;
use crate::source::{BYTES_MAX, first_few};
use crate::vocabulary::{Declared, suggest};

/// A search for a name looks at this many files.
const FILES_MAX: usize = 20_000;
/// And, where an editor asks, at so much of the disk.
const ENTRIES_MAX: usize = 200_000;

/// The `.wet` files below a folder, in the order of their paths, each as it is found; what git ignores is
/// passed over, and links are not followed.
pub(super) fn recipes_below(folder: &Path) -> impl Iterator<Item = PathBuf> + use<> {
    walk(folder).filter_map(recipe)
}

/// The same, if neither they nor the folder are more than a search looks at.
pub(super) fn few_recipes_below(folder: &Path) -> Option<Vec<PathBuf>> {
    let mut found = Vec::new();
    for (number, entry) in walk(folder).enumerate() {
        found.extend(recipe(entry));
        if number == ENTRIES_MAX || found.len() > FILES_MAX {
            return None;
        }
    }
    Some(found)
}

/// Those of one folder are in the order of their names: what stands before a name is the same for all of them,
/// and whole paths compare faster as they are written than names that have to be cut off first.
fn walk(folder: &Path) -> impl Iterator<Item = ignore::DirEntry> + use<> {
    let walk = ignore::WalkBuilder::new(folder)
        .follow_links(false)
        .require_git(false)
        .sort_by_file_path(|one, other| one.as_os_str().cmp(other.as_os_str()))
        .build();
    walk.filter_map(Result::ok)
}

fn recipe(entry: ignore::DirEntry) -> Option<PathBuf> {
    let is_file = entry.file_type().is_some_and(|kind| kind.is_file());
    let path = Some(entry.into_path()).filter(|_| is_file)?;
    let is_recipe = path.extension() == Some(OsStr::new("wet"));
    is_recipe.then(|| path.strip_prefix("./").unwrap_or(&path).components().collect())
}

/// A file, and the kinds and names of what it declares.
type Found = (PathBuf, Vec<(Declared, String)>);

/// A folder that several questions are put to: for the second it is not walked again, and no file of it read.
pub(super) struct Search {
    ahead: Box<dyn Iterator<Item = PathBuf>>,
    found: Vec<Found>,
}

impl Search {
    /// In the files below a folder, none of which is looked at before something is asked.
    pub(super) fn below(folder: &Path) -> Search {
        let ahead = std::iter::once(folder.to_owned()).flat_map(|folder| recipes_below(&folder));
        Search { ahead: Box::new(ahead), found: Vec::new() }
    }

    /// So many files with what they declare, in the order of their paths.
    fn first(&mut self, most: usize) -> &[Found] {
        let lacking = most.saturating_sub(self.found.len());
        let read = |path: PathBuf| {
            let declares = declared_in(&path, &Declared::ALL);
            (path, declares)
        };
        self.found.extend(self.ahead.by_ref().take(lacking).map(read));
        self.found.get(..most).unwrap_or(&self.found)
    }

    /// All files that declare anything of these kinds.
    pub(super) fn declaring(&mut self, kinds: &[Declared]) -> impl Iterator<Item = &Path> {
        let has = |(_, declares): &&Found| declares.iter().any(|(kind, _)| kinds.contains(kind));
        self.first(usize::MAX).iter().filter(has).map(|(path, _)| path.as_path())
    }

    /// The one file that declares something of that kind and name, for a call of that command.
    pub(super) fn declared(&mut self, kind: Declared, name: &str, command: &str) -> Result<PathBuf, Failure> {
        let call = |file: &str, name: &str| format!("wetside {command} {file} {name}");
        the_one(self.first(FILES_MAX), kind, name, &call)
    }
}

/// The one file below this folder that declares something of that kind and name, for a call that names it and its
/// file in that way.
pub(super) fn declared_as(
    kind: Declared,
    name: &str,
    call: fn(&str, &str) -> String,
) -> Result<PathBuf, Failure> {
    the_one(Search::below(Path::new(".")).first(FILES_MAX), kind, name, &call)
}

/// The same among files of which it is known what they declare.
fn the_one(
    files: &[Found],
    kind: Declared,
    name: &str,
    call: &dyn Fn(&str, &str) -> String,
) -> Result<PathBuf, Failure> {
    let mut known: Vec<String> = Vec::new();
    let mut found: Vec<PathBuf> = Vec::new();
    for (path, declares) in files {
        let names = declares.iter().filter(|(own, _)| *own == kind).map(|(_, name)| name);
        if names.clone().any(|own| own == name) {
            found.push(path.clone());
        }
        known.extend(names.cloned());
    }
    match found.as_slice() {
        [one] => Ok(one.clone()),
        [] => Err(absent(kind, name, known, call)),
        several => Err(in_several(kind, name, several, call)),
    }
}

/// Whether what a call names is a file, and no name that is looked for.
pub(super) fn is_file(given: &Path) -> bool {
    let text = given.to_string_lossy();
    text.ends_with(".wet") || text.contains('/') || given.is_file()
}

/// No file declares it.
pub(super) fn absent(
    kind: Declared,
    name: &str,
    mut known: Vec<String>,
    call: &dyn Fn(&str, &str) -> String,
) -> Failure {
    let word = kind.word();
    let message = format!("there is no {word} '{name}' below this folder");
    let near = suggest(name, known.iter().map(String::as_str)).map(str::to_owned);
    // Nobody can declare what is no name, such as a word of the language.
    if kind != Declared::Recipe && !is_free_name(name) {
        let any = || format!("write the name of one that is declared: {word} NAME {{ … }}");
        return Failure::new(message, near.map_or_else(any, |near| format!("did you mean {near}?")));
    }
    known.sort_unstable();
    known.dedup();
    let other = match near {
        Some(near) => format!("did you mean {near}? Or "),
        None if known.is_empty() => String::new(),
        None => format!("there is {}; or ", first_few(known.iter().map(String::as_str), ", ")),
    };
    let help = match kind {
        Declared::Recipe => {
            let call = call("FILE.wet", name);
            format!("{other}go to the folder of your recipes, or name the file: {call}")
        }
        Declared::Film
        | Declared::Solution
        | Declared::Agitation
        | Declared::Tank
        | Declared::Bath
        | Declared::Test
        | Declared::Session
        | Declared::Backlog => {
            format!("{other}declare it: {word} {name} {{ … }} in a .wet file below this folder")
        }
    };
    Failure::new(message, help)
}

/// Which files declare it.
pub(super) fn in_files(kind: Declared, name: &str, files: &[String]) -> String {
    format!("the {} '{name}' is in {} files: {}", kind.word(), files.len(), files.join(", "))
}

/// Several files declare it.
fn in_several(kind: Declared, name: &str, files: &[PathBuf], call: &dyn Fn(&str, &str) -> String) -> Failure {
    let files: Vec<String> = files.iter().map(|path| path.display().to_string()).collect();
    let message = in_files(kind, name, &files);
    let first = files.first().map_or("", String::as_str);
    let help = match kind {
        Declared::Recipe | Declared::Solution => format!("name the one you mean: {}", call(first, name)),
        Declared::Film
        | Declared::Agitation
        | Declared::Tank
        | Declared::Bath
        | Declared::Test
        | Declared::Session
        | Declared::Backlog => {
            "give one of them another name, or bring the one you mean into the recipe's file with use"
                .to_owned()
        }
    };
    Failure::new(message, help)
}

/// The names of one kind that a file declares, read off the beginnings of its lines; whether the
/// file is sound is seen when it is checked.
pub(super) fn names_in(path: &Path, kind: Declared) -> Vec<String> {
    declared_in(path, &[kind]).into_iter().map(|(_, name)| name).collect()
}

/// The same of several kinds, the file being read once.
pub(super) fn declared_in(path: &Path, kinds: &[Declared]) -> Vec<(Declared, String)> {
    let mut bytes = Vec::new();
    let read = std::fs::File::open(path).and_then(|file| file.take(BYTES_MAX).read_to_end(&mut bytes));
    if read.is_err() {
        return Vec::new();
    }
    let text = String::from_utf8_lossy(&bytes);
    let name = |line: &str| {
        let mut words = line.split_whitespace();
        let first = words.next()?;
        let kind = kinds.iter().copied().find(|kind| kind.word() == first)?;
        words.next().map(|name| (kind, name.to_owned()))
    };
    text.lines().filter(|line| line.contains('{')).filter_map(name).collect()
}
