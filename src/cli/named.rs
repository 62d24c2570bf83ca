//! The recipe files that a call names, by themselves or by their folders.

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::find::{OtherRoots, recipes_below};

/// The files of a call, each folder walked as its turn comes; this folder if nothing is named. A root below a
/// folder that is named is entered only if it is named itself; else it is noted.
///
/// # Errors
/// There is no such file.
pub(super) fn files(
    named: &[PathBuf],
    others: &OtherRoots,
) -> Result<impl Iterator<Item = PathBuf>, Failure> {
    let here = named.is_empty().then(|| PathBuf::from("."));
    let noted = others.clone();
    let of = move |path: PathBuf| {
        let (file, folder) = if path.is_dir() { (None, Some(path)) } else { (Some(path), None) };
        let below = folder.map(|folder| recipes_below(&folder, &noted));
        file.into_iter().chain(below.into_iter().flatten())
    };
    let mut files = named.iter().cloned().chain(here).flat_map(of).peekable();
    match files.peek() {
        Some(_) => Ok(files),
        None => {
            let help = "name a file or a folder that holds recipes";
            Err(Failure::new("there is no .wet file here", format!("{help} {}", others.told()).trim_end()))
        }
    }
}

/// A batch ends with the file that brings it to this many bytes; one byte of text takes up to fifty of memory.
const BATCH_BYTES: u64 = 512 << 10;

/// The same files in batches of at most `size`, each in memory together. A batch is worked on while others are
/// still being found.
pub(super) fn batches(
    mut files: impl Iterator<Item = PathBuf>,
    size: usize,
) -> impl Iterator<Item = Vec<PathBuf>> {
    std::iter::from_fn(move || {
        let (mut batch, mut bytes) = (Vec::new(), 0);
        while batch.len() < size && bytes < BATCH_BYTES {
            let Some(path) = files.next() else { break };
            bytes += path.metadata().map_or(0, |metadata| metadata.len());
            batch.push(path);
        }
        Some(batch).filter(|batch| !batch.is_empty())
    })
}

/// Whether a path is standard input.
pub(super) fn is_stdin(path: &Path) -> bool {
    path.as_os_str() == "-"
}
