//! The trait by which a check reads recipe files, from memory, a disk or a git revision.

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::{Display, Formatter, Result as Formatted};
use std::path::{Component, Path, PathBuf};

/// The largest size of a recipe file, in bytes.
pub const BYTES_MAX: u64 = 1 << 20;

/// Why a file was not read. The texts in this type never quote the content of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotRead {
    /// The path leads out of the root folder, is absolute, or does not end in `.wet`. No file was opened.
    Outside,
    /// The file is in a collection, and a file outside that collection uses it by its path.
    OfCollection,
    /// The file is missing, is a folder, or may not be read. The string says which.
    Unreadable(String),
    /// The content of the file is not valid text; the string says why.
    NotText(String),
    /// The file has more than [`BYTES_MAX`] bytes.
    TooLarge,
    /// One run of the program uses too many files, or files with too many bytes in all.
    TooMany,
}

impl Display for NotRead {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        out.write_str(match self {
            NotRead::Outside => "it is outside the root folder of the recipes",
            NotRead::OfCollection => "it belongs to a collection, of which only the exports can be used",
            NotRead::Unreadable(words) | NotRead::NotText(words) => words,
            NotRead::TooLarge => "it is over 1 MiB",
            NotRead::TooMany => "too many files are in use",
        })
    }
}

impl Error for NotRead {}

/// Reads recipe files by name. Each file has exactly one name, so that no file is read twice.
pub trait Files {
    /// The text of the file with this name, without a byte-order mark.
    ///
    /// # Errors
    /// See [`NotRead`].
    fn read(&self, name: &str) -> Result<String, NotRead>;

    /// The name of the file that `use "path"` in the file `from` means. By default, this is its path relative to a root
    /// folder, with `/` between folders.
    ///
    /// # Errors
    ///
    /// See [`NotRead`]. A missing file need not be an error here, but [`Files::read`] fails for it.
    fn resolve(&self, from: &str, path: &str) -> Result<String, NotRead> {
        let folder = Path::new(from).parent().unwrap_or(Path::new(""));
        below(folder, &root_in(Path::new(from)), path).map(|path| with_slashes(&path)).ok_or(NotRead::Outside)
    }

    /// How many folders the file is below the folder of its collection; outside of a collection, below the root folder.
    fn depth(&self, name: &str) -> usize {
        let folder = Path::new(name).parent().unwrap_or(Path::new(""));
        folder.components().count().saturating_sub(root_in(Path::new(name)).components().count())
    }
}

/// The name of the folder that contains the adopted collections, each in a folder of its own.
pub(crate) const COLLECTIONS: &str = "collections";

/// The name of the file that makes its folder a collection.
pub(crate) const COLLECTION: &str = "collection.wet";

/// The folder of the collection that a file belongs to, relative to the root folder of the recipes. Empty if the file
/// belongs to no collection.
pub(crate) fn root_in(file: &Path) -> PathBuf {
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

/// Recipe files in memory. The keys are file names, and the values are the texts.
#[derive(Debug, Clone, Default)]
pub struct MemoryFiles(BTreeMap<String, String>);

impl<N: Into<String>, T: Into<String>> FromIterator<(N, T)> for MemoryFiles {
    fn from_iter<I: IntoIterator<Item = (N, T)>>(texts: I) -> MemoryFiles {
        MemoryFiles(texts.into_iter().map(|(name, text)| (name.into(), text.into())).collect())
    }
}

impl<N: Into<String>, T: Into<String>, const COUNT: usize> From<[(N, T); COUNT]> for MemoryFiles {
    fn from(texts: [(N, T); COUNT]) -> MemoryFiles {
        texts.into_iter().collect()
    }
}

impl Files for MemoryFiles {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        self.0.get(name).cloned().ok_or_else(|| NotRead::Unreadable("there is no such file".to_owned()))
    }
}

/// The path of the file that `path` names if it is written in a file of `folder`. Computed without reading the disk.
/// `None` if the file is outside `root` or its name does not end in `.wet`.
pub(crate) fn below(folder: &Path, root: &Path, path: &str) -> Option<PathBuf> {
    let odd = |letter: char| letter.is_control() || matches!(letter, '\\' | ':' | '~' | '*' | '?');
    if path.is_empty() || path.contains(odd) || !path.ends_with(".wet") {
        return None;
    }
    let mut now = folder.to_owned();
    for component in Path::new(path).components() {
        match component {
            Component::Normal(name) => now.push(name),
            Component::CurDir => {}
            Component::ParentDir => {
                if now == root || !now.pop() {
                    return None;
                }
            }
            Component::RootDir | Component::Prefix(_) => return None,
        }
    }
    now.starts_with(root).then_some(now)
}

/// The path as text, with `/` between folders on every system.
pub(crate) fn with_slashes(path: &Path) -> String {
    path.display().to_string().replace(std::path::MAIN_SEPARATOR, "/")
}
