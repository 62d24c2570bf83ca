//! The root of a file, and the name a file is shown by: its path from the root of the folder that the program is
//! called in. A root holds `.git`, or it is a collection: a folder `collections/NAME` directly below a root.
//! Files reach nothing outside their root, and no search goes from one root into another below it.

use std::ffi::OsStr;
use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

use crate::report::sanitise;

/// The folder of a root in which each folder is a collection.
const COLLECTIONS: &str = "collections";

/// The folder that the program is called in, and its root.
static HERE: LazyLock<(PathBuf, PathBuf)> = LazyLock::new(|| {
    let here = std::fs::canonicalize(".").unwrap_or_default();
    let root = above(&here);
    (here, root)
});

/// The folder that the program is called in.
pub(super) fn here() -> &'static Path {
    &HERE.0
}

/// The root of that folder.
pub(super) fn of_here() -> &'static Path {
    &HERE.1
}

/// The root of a folder: the nearest one at or above it; without one the folder itself.
pub(super) fn above(folder: &Path) -> PathBuf {
    nearest(folder).unwrap_or(folder).to_owned()
}

/// The root of a folder at or below `root`: the nearest root between the two, else `root`.
pub(super) fn below<'a>(root: &'a Path, folder: &'a Path) -> &'a Path {
    nearest(folder).filter(|nearest| nearest.starts_with(root)).unwrap_or(root)
}

/// The root that a file has below the root of this folder; `None` if it has the same root or stands elsewhere.
pub(super) fn other(file: &Path) -> Option<&Path> {
    let folder = file.parent().filter(|folder| folder.starts_with(of_here()))?;
    Some(below(of_here(), folder)).filter(|root| *root != of_here())
}

/// Whether a folder, given by its real path, holds `.git` or is a collection.
pub(super) fn is_root(folder: &Path) -> bool {
    has_git(folder) || (collections_of(folder).is_some() && nearest(folder) == Some(folder))
}

/// The nearest root at or above a folder, looked for from the top down: whether a folder is a collection depends on
/// the root above it.
pub(super) fn nearest(folder: &Path) -> Option<&Path> {
    let mut above: Vec<&Path> = folder.ancestors().collect();
    above.reverse();
    above.into_iter().fold(None, |root, folder| {
        let owner = collections_of(folder);
        let is_collection = owner.is_some_and(|owner| root.is_none_or(|root| root == owner));
        if is_collection || has_git(folder) { Some(folder) } else { root }
    })
}

/// `.git` is a folder, or a file in a submodule or a worktree.
fn has_git(folder: &Path) -> bool {
    folder.join(".git").exists()
}

/// The folder above `collections`, for a folder that stands in one of that name.
fn collections_of(folder: &Path) -> Option<&Path> {
    folder.parent().filter(|above| above.file_name() == Some(OsStr::new(COLLECTIONS)))?.parent()
}

/// The root of a file in the tree of a repository, where it is by its path from there: empty, or a collection.
pub(super) fn in_tree(file: &Path) -> PathBuf {
    let mut parts = file.parent().into_iter().flat_map(Path::components);
    let mut root = PathBuf::new();
    while let Some((first, name)) = parts.next().zip(parts.next()) {
        if first.as_os_str() != COLLECTIONS {
            break;
        }
        root.extend([first, name]);
    }
    root
}

/// What a file is called that a person named: where it stands below the root of this folder, or, where a
/// link leads out of that root, where the link stands. A file outside has the name that was given.
pub(super) fn shown(real: &Path, given: &Path) -> PathBuf {
    let (here, root) = &*HERE;
    let below = |path: &Path| path.strip_prefix(root).ok().map(Path::to_owned);
    below(real).or_else(|| below(&tidied(&here.join(given)))).unwrap_or_else(|| given.to_owned())
}

/// The same for a file that a recipe names, as seen from the file of that recipe and what that is called.
pub(super) fn shown_beside(real: &Path, user: &Path, path: &str) -> PathBuf {
    let inside = real.strip_prefix(&HERE.1).map(Path::to_owned);
    inside.unwrap_or_else(|_| joined(user.parent().unwrap_or(Path::new("")), Path::new(path)))
}

/// A name, safe to print on one line, whoever has chosen it.
pub(super) fn printable(name: &str) -> String {
    sanitise(name).replace(['\n', '\t'], " ")
}

/// A path without `.` and `..` where they say nothing.
fn tidied(path: &Path) -> PathBuf {
    joined(Path::new(""), path)
}

/// The same from a folder on, whose own path stays as it is: a file has the name that it would have if
/// it were found by walking that folder.
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
