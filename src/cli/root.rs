//! The root of a file, and the name that a file is shown by: its path from the root of this folder. A root holds
//! `.git`, or it is a collection: a folder `collections/NAME` directly below a root. Files reach nothing outside their
//! root, and no search enters a root below it.

use std::ffi::OsStr;
use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

use crate::report::sanitise;

/// The folder that holds the collections of a root.
const COLLECTIONS: &str = "collections";

/// This folder and its root.
static HERE: LazyLock<(PathBuf, PathBuf)> = LazyLock::new(|| {
    let here = std::fs::canonicalize(".").unwrap_or_default();
    let root = above(&here);
    (here, root)
});

/// This folder: the one that the program is called in.
pub(super) fn here() -> &'static Path {
    &HERE.0
}

/// The root of this folder.
pub(super) fn of_here() -> &'static Path {
    &HERE.1
}

/// The root of a folder: the nearest one at or above it, else the folder itself.
pub(super) fn above(folder: &Path) -> PathBuf {
    nearest(folder).unwrap_or(folder).to_owned()
}

/// The root of a folder at or below `root`: the nearest root between the two, else `root`.
pub(super) fn below<'a>(root: &'a Path, folder: &'a Path) -> &'a Path {
    nearest(folder).filter(|nearest| nearest.starts_with(root)).unwrap_or(root)
}

/// The root of a file, if it is another one below the root of this folder.
pub(super) fn other(file: &Path) -> Option<&Path> {
    let folder = file.parent().filter(|folder| folder.starts_with(of_here()))?;
    Some(below(of_here(), folder)).filter(|root| *root != of_here())
}

/// Whether a folder, given by its real path, holds `.git` or is a collection.
pub(super) fn is_root(folder: &Path) -> bool {
    has_git(folder) || (collections_of(folder).is_some() && nearest(folder) == Some(folder))
}

/// The nearest root at or above a folder. The search goes down, since a collection depends on the root above it.
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

/// The folder above `collections`, for a folder in one of that name.
fn collections_of(folder: &Path) -> Option<&Path> {
    folder.parent().filter(|above| above.file_name() == Some(OsStr::new(COLLECTIONS)))?.parent()
}

/// The root of a file by its path in a repository: empty, or a collection.
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

/// The name of a file that a call gives: its path below the root of this folder, or that of the link to it. A file
/// outside keeps the given name.
pub(super) fn shown(real: &Path, given: &Path) -> PathBuf {
    let (here, root) = &*HERE;
    let below = |path: &Path| path.strip_prefix(root).ok().map(Path::to_owned);
    below(real)
        .or_else(|| below(&joined(Path::new(""), &here.join(given))))
        .unwrap_or_else(|| given.to_owned())
}

/// The same for a path in a `use` line of the file that is shown as `user`.
pub(super) fn shown_beside(real: &Path, user: &Path, path: &str) -> PathBuf {
    let inside = real.strip_prefix(&HERE.1).map(Path::to_owned);
    inside.unwrap_or_else(|_| joined(user.parent().unwrap_or(Path::new("")), Path::new(path)))
}

/// A name on one line, with control characters escaped.
pub(super) fn printable(name: &str) -> String {
    sanitise(name).replace(['\n', '\t'], " ")
}

/// A path from a folder on, without `.` and `..` where they can be resolved. The folder stays as it is, so that a file
/// has the same name as in a search of that folder.
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

/// The folder of a path, `.` for a name alone.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The path of `file` relative to `folder`, with `/`; both are real paths. `None` if they have different roots.
pub(super) fn relative(file: &Path, folder: &Path) -> Option<String> {
    let root = above(folder);
    let (file, folder) = (file.strip_prefix(&root).ok()?, folder.strip_prefix(&root).ok()?);
    let shared = folder.components().zip(file.components()).take_while(|(one, two)| one == two).count();
    let up = folder.components().skip(shared).map(|_| "..".to_owned());
    let down = file.components().skip(shared).map(|one| one.as_os_str().to_string_lossy().into_owned());
    Some(up.chain(down).collect::<Vec<_>>().join("/"))
}
