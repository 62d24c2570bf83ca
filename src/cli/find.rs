//! One index of what the `.wet` files below a folder declare, by their trees, and the walk that finds those files.
//! A walk does not enter a root below the folder: what stands there has no part in a name or a darkroom here.

use std::cell::OnceCell;
use std::ffi::OsStr;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use super::failure::Failure;
use super::root::{self, printable};
use super::sought::Sought;
use crate::check::declared_names;
use crate::source::{BYTES_MAX, Sources, first_few};
use crate::vocabulary::Declared;

/// An editor looks at so many files.
const FILES_MAX: usize = 20_000;
/// And at so much of the disk.
const ENTRIES_MAX: usize = 200_000;

/// The roots that walks came upon and did not enter, in the order of their paths.
#[derive(Debug, Clone, Default)]
pub(super) struct OtherRoots(Arc<Mutex<Vec<PathBuf>>>);

impl OtherRoots {
    /// A line that names them; empty where there are none.
    pub(super) fn told(&self) -> String {
        let Ok(paths) = self.0.lock() else { return String::new() };
        let names: Vec<String> = paths.iter().map(|path| printable(&path.display().to_string())).collect();
        if names.is_empty() {
            return String::new();
        }
        let names = first_few(names.iter().map(String::as_str), ", ");
        format!("not entered, as each is a root of its own: {names}; name one to work in it\n")
    }
}

/// The `.wet` files below a folder, in the order of their paths, each as it is found. What git ignores is
/// passed over, links are not followed, and roots below the folder are noted and not entered.
pub(super) fn recipes_below(folder: &Path, others: &OtherRoots) -> impl Iterator<Item = PathBuf> + use<> {
    walk(folder, others).filter_map(recipe)
}

/// The same for an editor, if neither they nor the folder are more than it looks at.
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

/// Those of one folder are in the order of their names: what stands before a name is the same for all of them,
/// and whole paths compare faster as they are written than names that have to be cut off first.
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

/// Whether what a call names is a file, and no name that is looked for.
pub(super) fn is_file(given: &Path) -> bool {
    let text = given.to_string_lossy();
    text.ends_with(".wet") || text.contains('/') || given.is_file()
}

/// The file and the name that a call means which gives a file, a file and a name, or a name that is looked for.
///
/// # Errors
/// A name behind a name, or one that is not found.
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
    if let Some(second) = name {
        return Err(Failure::new(
            format!("'{text}' is no file, so '{second}' is one name too many"),
            format!("write {text} alone, or name the file first: FILE.wet {text}"),
        ));
    }
    match index.find(sought) {
        Ok(path) => Ok((path, Some(text.to_owned()))),
        // A folder of that name says more than that nothing was found.
        Err(_) if given.exists() => Ok((given.to_owned(), None)),
        Err(failure) => Err(failure),
    }
}

/// A kind of declaration that is looked for, and the name if only one is.
type Wanted = (Declared, Option<String>);

/// What the files below a folder declare, as far as it is wanted. They are read at the first question, and a file is
/// parsed only if a line of it begins with what is wanted.
pub(super) struct Index {
    folder: PathBuf,
    wanted: Vec<Wanted>,
    files: OnceCell<Vec<Found>>,
}

/// A file, and the kind and name of each thing it declares.
struct Found {
    path: PathBuf,
    names: Vec<(Declared, String)>,
}

impl Index {
    /// Of the files below a folder, in which all declarations of these kinds are wanted.
    pub(super) fn below(folder: &Path, kinds: &[Declared]) -> Index {
        let wanted = kinds.iter().map(|kind| (*kind, None)).collect();
        Index { folder: folder.to_owned(), wanted, files: OnceCell::new() }
    }

    /// Of the files below this folder, in which that declaration is wanted.
    pub(super) fn of_name(kind: Declared, name: &str) -> Index {
        Index::below(Path::new("."), &[]).with(kind, name)
    }

    /// The same where that declaration is wanted too.
    pub(super) fn with(mut self, kind: Declared, name: &str) -> Index {
        self.wanted.push((kind, Some(name.to_owned())));
        self
    }

    /// The files that declare anything, if it could be what is wanted.
    fn files(&self) -> &[Found] {
        self.files.get_or_init(|| {
            let paths = recipes_below(&self.folder, &OtherRoots::default());
            let read = paths.map(|path| Found { names: declared_in(&path, &self.wanted), path });
            read.filter(|found| !found.names.is_empty()).collect()
        })
    }

    /// The files that declare something like this, in the order of their paths.
    pub(super) fn declaring(&self, is: impl Fn(Declared, &str) -> bool) -> Vec<PathBuf> {
        let has = |found: &&Found| found.names.iter().any(|(kind, name)| is(*kind, name));
        self.files().iter().filter(has).map(|found| found.path.clone()).collect()
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
                let known = all.files().iter().flat_map(|found| &found.names);
                Err(sought.absent(known.filter(|(kind, _)| *kind == sought.kind).map(|(_, name)| &**name)))
            }
            several => Err(sought.in_files(several.iter().map(|path| path.display().to_string()))),
        }
    }
}

/// What a file declares, if its text could declare any of what is wanted; whether the file is sound is seen when it
/// is checked.
fn declared_in(path: &Path, wanted: &[Wanted]) -> Vec<(Declared, String)> {
    let mut bytes = Vec::new();
    let read = std::fs::File::open(path).and_then(|file| file.take(BYTES_MAX).read_to_end(&mut bytes));
    let text = String::from_utf8_lossy(&bytes);
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    if read.is_err() || !wanted.iter().any(|(kind, name)| could_declare(text, *kind, name.as_deref())) {
        return Vec::new();
    }
    let mut sources = Sources::default();
    let file = sources.add("", text);
    declared_names(&sources, file)
}

/// Whether a line begins with the word of a kind, and the name if one is given: no other text declares it.
fn could_declare(text: &str, kind: Declared, name: Option<&str>) -> bool {
    let blank = [' ', '\t'];
    text.match_indices(kind.word()).any(|(at, word)| {
        let (before, after) = text.split_at(at);
        let before = before.trim_end_matches(blank);
        let after = after.strip_prefix(word).unwrap_or(after).trim_start_matches(blank);
        (before.is_empty() || before.ends_with('\n')) && name.is_none_or(|name| after.starts_with(name))
    })
}
