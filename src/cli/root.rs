//! Where recipes belong, and what a file is called in all that is told of it: by its path from the root of
//! the folder that the program is called in. A root is the nearest folder above that holds `.git`.

use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

use crate::report::sanitise;

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

/// The root of a folder: the nearest one above it, or itself, that holds `.git`; without one the folder.
pub(super) fn above(folder: &Path) -> PathBuf {
    let root = folder.ancestors().find(|above| above.join(".git").exists());
    root.unwrap_or(folder).to_owned()
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
