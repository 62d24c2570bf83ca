//! Places the files of a collection in its folder, all of them or none. The files and the lock are first prepared in a
//! hidden folder beside the collection's folder. Then the hidden folder is renamed to `.wetside-ready-NAME`. If the
//! program is killed after this renaming, its next run finishes the change; if it is killed before, its next run
//! deletes what was prepared.

use std::fs;
use std::io::Result as IoResult;
use std::path::{Path, PathBuf};

use super::Files;
use super::lock::Lock;
use crate::cli::Failure;
use crate::cli::write::{HIDDEN, sync_names};
use crate::disk::text_of;
use crate::source::{COLLECTIONS, Set};

/// The folder `collections` below a root.
pub(super) struct Shelf {
    folder: PathBuf,
}

/// An adoption, update or removal of a collection is prepared in a hidden folder beside it. These are the names in that
/// folder: of the folder with the new files, and of the new lock file.
const FILES: &str = "files";
const LOCK: &str = "lock";
/// Names of empty files in the hidden folder. `removed` is there if the collection is to be removed; `released` if it is
/// to be moved out of `collections`, so that it belongs to the user.
const REMOVED: &str = "removed";
const RELEASED: &str = "released";

impl Shelf {
    pub(super) fn of(root: &Path) -> Shelf {
        Shelf { folder: root.join(COLLECTIONS) }
    }

    pub(super) fn collection(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    pub(super) fn lock(&self, name: &str) -> PathBuf {
        self.folder.join(format!("{name}.lock"))
    }

    /// Whether the folder `collections` is a link, through which the program would write to another folder.
    pub(super) fn is_link(&self) -> bool {
        self.folder.is_symlink()
    }

    /// Whether anything exists at the path of a collection or of its lock, even a file or a broken link.
    pub(super) fn is_taken(&self, name: &str) -> bool {
        [self.collection(name), self.lock(name)].iter().any(|path| fs::symlink_metadata(path).is_ok())
    }

    fn ready(&self, name: &str) -> PathBuf {
        self.folder.join(format!("{HIDDEN}ready-{name}"))
    }

    /// The names of all collections that have a folder or a lock file.
    pub(super) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.folder).into_iter().flatten().filter_map(Result::ok);
        let named = entries.filter_map(|entry| entry.file_name().into_string().ok());
        let named = named.filter(|name| !name.starts_with('.'));
        let mut names: Vec<String> = named
            .filter_map(|name| match name.strip_suffix(".lock") {
                Some(locked) => Some(locked.to_owned()),
                None => self.folder.join(&name).is_dir().then_some(name),
            })
            .collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    pub(super) fn files(&self, name: &str) -> IoResult<Files> {
        files_of(&self.collection(name))
    }

    pub(super) fn place(&self, name: &str, files: &Files, lock: &Lock) -> Result<(), Failure> {
        self.decided(name, |part| {
            let inside = part.join(FILES);
            let mut all: Vec<PathBuf> = files.keys().map(|path| inside.join(path)).collect();
            for (path, text) in all.iter().zip(files.values()) {
                path.parent().map_or(Ok(()), fs::create_dir_all)?;
                fs::write(path, text)?;
            }
            let lock_file = part.join(LOCK);
            fs::write(&lock_file, lock.text())?;
            all.push(lock_file);
            on_disk(part, &all)
        })
    }

    pub(super) fn remove(&self, name: &str) -> Result<(), Failure> {
        self.decided(name, |part| marked(part, REMOVED))
    }

    /// Moves the folder `collections/NAME` to `NAME` in the root, and removes the lock file. The caller checks that
    /// `NAME` does not exist.
    pub(super) fn release(&self, name: &str) -> Result<(), Failure> {
        self.decided(name, |part| marked(part, RELEASED))
    }

    /// The path to which `release` moves a collection.
    pub(super) fn released(&self, name: &str) -> PathBuf {
        self.folder.parent().unwrap_or(&self.folder).join(name)
    }

    fn decided(&self, name: &str, prepare: impl FnOnce(&Path) -> IoResult<()>) -> Result<(), Failure> {
        let made = || -> IoResult<()> {
            fs::create_dir_all(&self.folder)?;
            let part = tempfile::Builder::new().prefix(HIDDEN).tempdir_in(&self.folder)?;
            prepare(part.path())?;
            fs::rename(part.path(), self.ready(name))?;
            sync_names(&self.folder);
            self.finish(name)
        };
        let made = made();
        self.remove_empty();
        made.map_err(|error| {
            Failure::new(
                format!("{} could not be written: {error}", self.collection(name).display()),
                "check that the folder may be written to and has space, then run the command again",
            )
        })
    }

    fn remove_empty(&self) {
        let _ = fs::remove_dir(&self.folder);
    }

    /// Finishes the changes that killed runs of the program had fully prepared, and deletes what such runs had prepared
    /// in part.
    pub(super) fn finish_all(&self) -> IoResult<()> {
        for entry in fs::read_dir(&self.folder).into_iter().flatten().filter_map(Result::ok) {
            let name = entry.file_name().to_string_lossy().into_owned();
            match name.strip_prefix(HIDDEN).map(|rest| rest.strip_prefix("ready-")) {
                Some(Some(name)) => self.finish(name)?,
                Some(None) if entry.path().is_dir() => fs::remove_dir_all(entry.path())?,
                _ => {}
            }
        }
        self.remove_empty();
        Ok(())
    }

    fn finish(&self, name: &str) -> IoResult<()> {
        let (ready, place, lock) = (self.ready(name), self.collection(name), self.lock(name));
        if ready.join(REMOVED).exists() {
            // The lock file is removed first. Without it the collection does not count as adopted, even if some of its
            // files are left.
            remove_if_there(&lock)?;
            if place.exists() {
                fs::rename(&place, ready.join(FILES))?;
            }
        } else if ready.join(RELEASED).exists() {
            let released = self.released(name);
            // If there is already a file or folder at this path, the collection stays where it is.
            if place.exists() && fs::symlink_metadata(&released).is_err() {
                fs::rename(&place, &released)?;
                sync_names(released.parent().unwrap_or(&released));
            }
            if !place.exists() {
                remove_if_there(&lock)?;
            }
        } else if ready.join(LOCK).exists() {
            let text = fs::read_to_string(ready.join(LOCK))?;
            let is_placed = Lock::read(&text, name).is_ok_and(|read| {
                files_of(&place).is_ok_and(|files| read.lock.differences(&files).is_empty())
            });
            if !is_placed {
                swap(&ready.join(FILES), &place)?;
            }
            sync_names(&self.folder);
            fs::rename(ready.join(LOCK), &lock)?;
        }
        sync_names(&self.folder);
        fs::remove_dir_all(&ready)?;
        Ok(())
    }
}

fn remove_if_there(path: &Path) -> IoResult<()> {
    if path.exists() { fs::remove_file(path) } else { Ok(()) }
}

/// Moves the folder `new` to `place`. A folder that was at `place` moves into the parent folder of `new`. Where the
/// system can exchange two folders in one call, `place` is never without a folder.
pub(in crate::cli) fn swap(new: &Path, place: &Path) -> IoResult<()> {
    if !place.exists() {
        return fs::rename(new, place);
    }
    #[cfg(target_os = "linux")]
    if rustix::fs::renameat_with(
        rustix::fs::CWD,
        new,
        rustix::fs::CWD,
        place,
        rustix::fs::RenameFlags::EXCHANGE,
    )
    .is_ok()
    {
        return Ok(());
    }
    let old = new.with_extension("old");
    fs::rename(place, &old)?;
    fs::rename(new, place)
}

/// Creates the empty file `what` in the hidden folder `part`, and syncs it to the disk.
fn marked(part: &Path, what: &str) -> IoResult<()> {
    let path = part.join(what);
    fs::write(&path, "")?;
    on_disk(part, &[path])
}

/// Syncs these files, and their folders up to `folder`, to the disk. The caller first writes all files and then calls
/// this function once, so that the disk can write them together.
fn on_disk(folder: &Path, files: &[PathBuf]) -> IoResult<()> {
    let mut folders = Set::new();
    for file in files {
        fs::File::open(file)?.sync_all()?;
        folders.extend(file.ancestors().skip(1).take_while(|above| above.starts_with(folder)));
    }
    folders.into_iter().for_each(sync_names);
    Ok(())
}

/// The texts of the files below a folder. The keys are paths relative to the folder. Links, and files that cannot be
/// read as text, are skipped.
fn files_of(folder: &Path) -> IoResult<Files> {
    let mut files = Files::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(&next)? {
            let entry = entry?;
            let (kind, path) = (entry.file_type()?, entry.path());
            if kind.is_dir() {
                open.push(path);
            } else if kind.is_file()
                && let Ok(inside) = path.strip_prefix(folder)
                && let Ok((text, _)) = text_of(&path)
            {
                files.insert(crate::source::with_slashes(inside), text);
            }
        }
    }
    Ok(files)
}
