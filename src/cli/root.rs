//! Finds the root of a file, and the path by which messages name the file. A root is a folder that holds `.git`, or a
//! collection: a folder `collections/NAME` directly below a root. A folder that is in no root is a root of its own; but
//! the folder of a journal belongs to the folder above it. A file can use only files of its root, and a search of a
//! root does not enter roots below it.

use std::ffi::OsStr;
use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

use crate::report::sanitise;
use crate::source::COLLECTIONS;

/// The name of the folder for the sessions of a darkroom.
pub(super) const JOURNAL: &str = "journal";

pub(super) static HERE: LazyLock<PathBuf> = LazyLock::new(|| std::fs::canonicalize(".").unwrap_or_default());
pub(super) static ROOT: LazyLock<PathBuf> = LazyLock::new(|| above(&HERE));

/// The root of a folder: the nearest git repository or collection at or above it; else, for the folder of a journal,
/// the folder above it; else the folder itself.
pub(super) fn above(folder: &Path) -> PathBuf {
    nearest(folder).or_else(|| owner_of_journal(folder)).unwrap_or(folder).to_owned()
}

/// The folder above `folder`, if `folder` is a journal. A journal is a folder named `journal`, or a folder `NAME`
/// beside `NAME.wet`, the file of an older journal. `None` for other folders.
fn owner_of_journal(folder: &Path) -> Option<&Path> {
    let name = folder.file_name()?;
    let mut older = name.to_owned();
    older.push(".wet");
    folder.parent().filter(|above| name == JOURNAL || above.join(older).is_file())
}

/// The nearest root at or above `folder`, if this root is at or below `root`; else `root`.
pub(super) fn below<'a>(root: &'a Path, folder: &'a Path) -> &'a Path {
    nearest(folder).filter(|nearest| nearest.starts_with(root)).unwrap_or(root)
}

/// Whether a folder is a root: a git repository, or a collection. The path must be canonical.
pub(super) fn is_root(folder: &Path) -> bool {
    has_git(folder) || (collections_of(folder).is_some() && nearest(folder) == Some(folder))
}

/// The nearest root (git repository or collection) at or above a folder. Folders are examined from the top, since
/// whether a folder is a collection depends on the nearest root above it.
pub(super) fn nearest(folder: &Path) -> Option<&Path> {
    let mut above: Vec<&Path> = folder.ancestors().collect();
    above.reverse();
    above.into_iter().fold(None, |root, folder| {
        let owner = collections_of(folder);
        let is_collection = owner.is_some_and(|owner| root.is_none_or(|root| root == owner));
        if is_collection || has_git(folder) { Some(folder) } else { root }
    })
}

/// Whether a folder holds `.git`, which is a folder, or in a submodule or worktree a file.
fn has_git(folder: &Path) -> bool {
    folder.join(".git").exists()
}

/// For a folder directly in a folder `collections`: the folder above `collections`. `None` for other folders.
fn collections_of(folder: &Path) -> Option<&Path> {
    folder.parent().filter(|above| above.file_name() == Some(OsStr::new(COLLECTIONS)))?.parent()
}

/// The path in messages for a file that the command line names: relative to the root of the current folder, if the file
/// or a link to the file is below this root; else the given path.
pub(super) fn shown(real: &Path, given: &Path) -> PathBuf {
    let below = |path: &Path| path.strip_prefix(&*ROOT).ok().map(Path::to_owned);
    below(real)
        .or_else(|| below(&joined(Path::new(""), &HERE.join(given))))
        .unwrap_or_else(|| given.to_owned())
}

/// The path in messages for a file that a `use` line names as `path`. `user` is the path in messages for the file that
/// contains the `use` line. `real` is the canonical path of the used file.
pub(super) fn shown_beside(real: &Path, user: &Path, path: &str) -> PathBuf {
    let inside = real.strip_prefix(&*ROOT).map(Path::to_owned);
    inside.unwrap_or_else(|_| joined(user.parent().unwrap_or(Path::new("")), Path::new(path)))
}

/// The name as one line for messages, with control characters escaped.
pub(super) fn printable(name: &str) -> String {
    sanitise(name).replace(['\n', '\t'], " ")
}

/// `folder` joined with `path`, without the `.` and `..` of `path` where possible. The `.` and `..` of `folder` stay,
/// so that messages name a file as a search of `folder` does.
fn joined(folder: &Path, path: &Path) -> PathBuf {
    let mut tidy = folder.to_owned();
    for component in path.components() {
        match component {
            Component::CurDir => {}
            Component::ParentDir if tidy.file_name().is_some() => _ = tidy.pop(),
            Component::ParentDir | Component::Normal(_) | Component::RootDir | Component::Prefix(_) => {
                tidy.push(component);
            }
        }
    }
    tidy
}

/// The canonical path of a file; for a missing file, the canonical path of its folder, joined with its name.
pub(super) fn real(path: &Path) -> PathBuf {
    std::fs::canonicalize(path).unwrap_or_else(|_| {
        let folder = folder_of(path);
        let folder = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
        folder.join(path.file_name().unwrap_or_default())
    })
}

/// The folder of a path; `.` for a file name alone.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The path of `file` relative to `folder`, with `/` as separator; `None` if `file` is outside the root of `folder`.
/// `file` and `folder` must be canonical paths.
pub(super) fn relative(file: &Path, folder: &Path) -> Option<String> {
    let root = above(folder);
    let (file, folder) = (file.strip_prefix(&root).ok()?, folder.strip_prefix(&root).ok()?);
    let shared = folder.components().zip(file.components()).take_while(|(one, two)| one == two).count();
    let up = folder.components().skip(shared).map(|_| "..".to_owned());
    let down = file.components().skip(shared).map(|one| one.as_os_str().to_string_lossy().into_owned());
    Some(up.chain(down).collect::<Vec<_>>().join("/"))
}
