//! The file beside its place in which a text stands until it is whole and takes that place. What a call that was
//! killed left there is taken away by the next one that writes to the same place, once nobody works in it any more.

use std::ffi::OsString;
use std::fs::{File, TryLockError};
use std::io::{Error, ErrorKind, Result};
use std::path::Path;

use tempfile::NamedTempFile;

/// What such a file is called: this, the name of what it is for, and the ending. Hidden and no `.wet`, so that no
/// call reads it.
const BEFORE: &str = ".wetside-";
const AFTER: &str = ".part";
/// What it is called beside a journal. There is one in a folder at most, since whoever writes to a journal is alone
/// in its darkroom.
const OF_A_JOURNAL: &str = ".wetside-record";
/// That name is tried so often, as others may come and go with it.
const CLAIMS_MAX: u32 = 20;

/// Who writes, which decides what the file beside is called.
#[derive(Debug, Clone, Copy)]
pub(super) enum Writer {
    /// Another may write beside this one. The file is held as long as it is worked in, so that one of a call that
    /// was killed is known by nobody holding it.
    OneOfSeveral,
    /// It is alone with the journals of its darkroom. A file that was being written when an earlier one was killed
    /// has the one name there is, so that it is known for what it is, and goes.
    AloneWithJournals,
}

/// An empty file beside that path, which goes when this goes.
pub(super) fn beside(path: &Path, writer: Writer) -> Result<NamedTempFile> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    match writer {
        // A name that nothing has is for when another writes to the same place, or its own cannot be had.
        Writer::OneOfSeveral => claimed(folder, path)
            .map_or_else(|| tempfile::Builder::new().prefix(BEFORE).tempfile_in(folder), Ok),
        Writer::AloneWithJournals => of_a_journal(folder),
    }
}

fn of_a_journal(folder: &Path) -> Result<NamedTempFile> {
    let own = folder.join(OF_A_JOURNAL);
    match std::fs::symlink_metadata(&own) {
        Ok(there) if there.is_file() => std::fs::remove_file(&own)?,
        Ok(_) => {
            let told = format!("{OF_A_JOURNAL} beside it is no plain file; move that away");
            return Err(Error::new(ErrorKind::AlreadyExists, told));
        }
        Err(_) => {}
    }
    tempfile::Builder::new().prefix(OF_A_JOURNAL).rand_bytes(0).tempfile_in(folder)
}

/// The file of the one name that is for that path, held; `None` if it cannot be had.
fn claimed(folder: &Path, path: &Path) -> Option<NamedTempFile> {
    let mut name = OsString::from(BEFORE);
    name.push(path.file_name()?);
    name.push(AFTER);
    let place = folder.join(&name);
    for _ in 0..CLAIMS_MAX {
        match tempfile::Builder::new().prefix(&name).rand_bytes(0).tempfile_in(folder) {
            Ok(file) if is_held(file.as_file(), &place) => return Some(file),
            // Another took it for left before it was held, and has it gone; what is called so by now is not this.
            Ok(file) => drop(file.into_temp_path().keep()),
            Err(error) if error.kind() == ErrorKind::AlreadyExists && is_taken_away(&place) => {}
            Err(_) => return None,
        }
    }
    None
}

/// Holds a new file for as long as it is open, which the system ends however a call ends. Where nothing can be held
/// nothing is ever taken for left.
fn is_held(file: &File, place: &Path) -> bool {
    match file.try_lock() {
        Ok(()) => is_at(file, place),
        Err(TryLockError::WouldBlock) => false,
        Err(TryLockError::Error(_)) => true,
    }
}

/// Whether nothing is called so any more: a plain file that nobody holds is taken away.
#[cfg(unix)]
fn is_taken_away(place: &Path) -> bool {
    let is_gone = |error: &Error| error.kind() == ErrorKind::NotFound;
    match std::fs::symlink_metadata(place) {
        Ok(there) if there.is_file() => {}
        Ok(_) => return false,
        Err(error) => return is_gone(&error),
    }
    match File::open(place) {
        // As long as it is held here nobody else takes it away or puts it in its place.
        Ok(left) if left.try_lock().is_ok() => !is_at(&left, place) || std::fs::remove_file(place).is_ok(),
        Ok(_) => false,
        Err(error) => is_gone(&error),
    }
}

/// Whether that open file is what is called so.
#[cfg(unix)]
fn is_at(file: &File, place: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let (open, there) = (file.metadata(), std::fs::symlink_metadata(place));
    open.ok().zip(there.ok()).is_some_and(|(one, other)| (one.dev(), one.ino()) == (other.dev(), other.ino()))
}

/// Here two files cannot be told apart, so none is taken away.
#[cfg(not(unix))]
fn is_taken_away(_: &Path) -> bool {
    false
}

#[cfg(not(unix))]
fn is_at(_: &File, _: &Path) -> bool {
    true
}
