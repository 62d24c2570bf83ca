//! The recipe files that a call names, by themselves or by their folders; and a better text put in
//! the place of one, if it still is what was read.

use std::path::{Path, PathBuf};

use super::disk;
use super::failure::Failure;
use super::find::recipes_below;
use super::output;

/// The files of a call, each folder walked; this folder if nothing is named.
///
/// # Errors
/// There is no such file.
pub(super) fn files(named: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let here = [PathBuf::from(".")];
    let named = if named.is_empty() { &here[..] } else { named };
    let of = |path: &PathBuf| if path.is_dir() { recipes_below(path) } else { vec![path.clone()] };
    let files: Vec<PathBuf> = named.iter().flat_map(of).collect();
    if files.is_empty() {
        return Err(Failure::new("there is no .wet file here", "name a file or a folder that holds recipes"));
    }
    Ok(files)
}

/// Whether a path is standard input.
pub(super) fn is_stdin(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Whether the file's bytes are other than this text; a byte-order mark counts.
pub(super) fn differs(path: &Path, text: &str) -> Result<bool, Failure> {
    bytes(path).map(|bytes| bytes != text.as_bytes())
}

/// Puts `text` in the place of the file from which `read` was read, whole or not at all; a file that
/// has these bytes already is not touched. Whether it was written.
///
/// # Errors
/// The file is another by now, may not be written to, or would be too long to be read again.
pub(super) fn replace(path: &Path, read: &str, text: &str) -> Result<bool, Failure> {
    let before = bytes(path)?;
    if before == text.as_bytes() {
        return Ok(false);
    }
    let mark = "\u{feff}".as_bytes();
    if before.strip_prefix(mark).unwrap_or(&before) != read.as_bytes() {
        return Err(Failure::new(
            format!("{} was changed while it was read", path.display()),
            "nothing of it was changed here; run this again",
        ));
    }
    if text.len() as u64 > disk::BYTES_MAX {
        return Err(Failure::new(
            format!("{} would be over 1 MiB", path.display()),
            "nothing of it was changed; split it into smaller files",
        ));
    }
    output::replace(path, &before, text)?;
    Ok(true)
}

fn bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    std::fs::read(path).map_err(|error| {
        Failure::new(
            format!("{} cannot be read: {error}", path.display()),
            "check the path and its permissions",
        )
    })
}
