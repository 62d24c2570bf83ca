//! Makes the new folder whole beside its place, and then puts it there. What a call that was killed has left beside
//! it is taken away by the next one, where it is certain what it is and that nobody works in it any more.

use std::fs::{File, TryLockError};
use std::io::{Error, Write};
use std::path::Path;

use tempfile::TempDir;

use super::FILES;

/// A folder that is being made stands in one that is called so, and six letters or figures more.
const BESIDE: &str = ".wetside-start-";
/// So many.
const MORE: usize = 6;
/// A new one is tried so often.
const CLAIMS_MAX: u32 = 20;
/// What it is called in there.
const SHELF: &str = "shelf";

/// Writes all files into a folder beside, which then takes its place; the system refuses a place that
/// has come to hold something meanwhile.
pub(super) fn made(place: &Path) -> std::io::Result<()> {
    let above = place.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let (beside, _held) = claimed(above)?;
    take_away_what_was_left(above, beside.path());
    let shelf = beside.path().join(SHELF);
    std::fs::create_dir(&shelf)?;
    for (name, text) in FILES {
        let mut file = File::create_new(shelf.join(name))?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
    }
    std::fs::rename(&shelf, place)?;
    // The folder holds the name; a system that cannot sync one keeps it anyway.
    let _ = File::open(above).and_then(|folder| folder.sync_all());
    Ok(())
}

/// A folder beside, held. One that another call takes for left before it is held is given up for a new one.
fn claimed(above: &Path) -> std::io::Result<(TempDir, Option<File>)> {
    for _ in 0..CLAIMS_MAX {
        let beside = tempfile::Builder::new().prefix(BESIDE).rand_bytes(MORE).tempdir_in(above)?;
        // Once it is held and there nobody takes it away; before that it may be gone, and something that is gone
        // can be held as well.
        if let Ok(held) = held(beside.path())
            && beside.path().is_dir()
        {
            return Ok((beside, held));
        }
    }
    Err(Error::other("other calls of start work there; try again when they are done"))
}

/// Shows that somebody works in a folder for as long as this lives; the system takes it back however a call ends.
/// `None` on a system that locks no folder, where nothing is ever taken for left.
///
/// # Errors
/// Another call holds it.
fn held(folder: &Path) -> Result<Option<File>, TryLockError> {
    let Ok(file) = File::open(folder) else { return Ok(None) };
    match file.try_lock() {
        Ok(()) => Ok(Some(file)),
        Err(TryLockError::WouldBlock) => Err(TryLockError::WouldBlock),
        Err(TryLockError::Error(_)) => Ok(None),
    }
}

/// Nobody has to be told if something of it cannot be taken away: it is in nobody's way.
fn take_away_what_was_left(above: &Path, own: &Path) {
    let Ok(entries) = std::fs::read_dir(above) else { return };
    let named = |name: &str| {
        let more = name.strip_prefix(BESIDE);
        more.is_some_and(|more| more.len() == MORE && more.bytes().all(|byte| byte.is_ascii_alphanumeric()))
    };
    for entry in entries.filter_map(Result::ok) {
        let path = entry.path();
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if !is_folder || path.file_name() == own.file_name() || !entry.file_name().to_str().is_some_and(named)
        {
            continue;
        }
        let lock = held(&path);
        if matches!(lock, Ok(Some(_))) && is_of_one(&path, own) && is_left(&path) {
            let shelf = path.join(SHELF);
            // What has come there since is kept by these: they take no folder that holds anything.
            FILES.iter().for_each(|(name, _)| drop(std::fs::remove_file(shelf.join(name))));
            drop(std::fs::remove_dir(&shelf));
            drop(std::fs::remove_dir(&path));
        }
    }
}

/// Whether all that is in there was written by a call of `start`, or nothing is.
fn is_left(folder: &Path) -> bool {
    let only_shelf = names(folder).is_some_and(|names| names.iter().all(|name| name == SHELF));
    let shelf = folder.join(SHELF);
    match std::fs::symlink_metadata(&shelf) {
        Err(_) => only_shelf,
        Ok(there) => {
            let own =
                |name: &String| FILES.iter().any(|(own, text)| own == name && begins(&shelf, own, text));
            only_shelf && there.is_dir() && names(&shelf).is_some_and(|names| names.iter().all(own))
        }
    }
}

/// Whether that file holds this text, or as much of it as was written.
fn begins(folder: &Path, name: &str, text: &str) -> bool {
    let path = folder.join(name);
    let could = std::fs::symlink_metadata(&path)
        .is_ok_and(|there| there.is_file() && there.len() <= text.len() as u64);
    could && std::fs::read(&path).is_ok_and(|bytes| text.as_bytes().starts_with(&bytes))
}

/// What is in a folder; `None` if that cannot be seen.
fn names(folder: &Path) -> Option<Vec<String>> {
    let name = |entry: std::io::Result<std::fs::DirEntry>| entry.ok()?.file_name().into_string().ok();
    std::fs::read_dir(folder).ok()?.map(name).collect()
}

/// Whether two folders belong to one person. In a folder of another, what was looked at could be something
/// else by the time it is taken away.
#[cfg(unix)]
fn is_of_one(folder: &Path, own: &Path) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    let owner = |path: &Path| std::fs::symlink_metadata(path).ok().map(|there| there.uid());
    owner(own).is_some_and(|uid| owner(folder) == Some(uid))
}

#[cfg(not(unix))]
fn is_of_one(_: &Path, _: &Path) -> bool {
    true
}
