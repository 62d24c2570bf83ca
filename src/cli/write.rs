//! Writes files whole or not at all. A text goes into a hidden file, which is then renamed, so that a killed command
//! leaves either the old file or the new one. A command that writes a `.wet` file locks the file's root, so that it
//! does not overwrite what another command writes.

use std::fs::{File, Metadata, OpenOptions, Permissions, TryLockError};
use std::io::{Error, ErrorKind, Read as _, Result as IoResult, Seek as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use tempfile::NamedTempFile;

use super::root::folder_of;
use super::{Failure, root};
use crate::source::BYTES_MAX;

/// How long a command waits for the lock of a root. Other commands hold the lock for hundredths of a second.
const PATIENCE: Duration = Duration::from_secs(10);
const NAP: Duration = Duration::from_millis(10);
/// The file to lock if a root's folder cannot be locked. The file is not removed afterwards.
const LOCK_FILE: &str = ".wetside-lock";
/// The prefix of the names of hidden files and folders; random letters follow.
pub(super) const HIDDEN: &str = ".wetside-";
/// The maximum number of links that are followed in a row; Linux has the same limit.
const LINKS_MAX: usize = 40;

/// A lock that gives the right to write the `.wet` files of a root. The operating system releases it, however the
/// program ends.
pub(super) struct Lock(#[expect(dead_code, reason = "it is held, not read")] File);

impl Lock {
    /// Waits for the lock of the root that a file is in. The file need not exist yet. Fails after `PATIENCE`.
    pub(super) fn of_file(path: &Path) -> Result<Lock, Failure> {
        Lock::of_root(&root::above(folder_of(&root::real(path))))
    }

    /// Waits for the lock of a root. Fails after `PATIENCE`. The lock is on the root's folder, since a file loses its
    /// lock when the file is replaced.
    pub(super) fn of_root(root: &Path) -> Result<Lock, Failure> {
        let waited = |file: IoResult<File>| {
            let began = Instant::now();
            let file = file.map_err(TryLockError::Error)?;
            loop {
                match file.try_lock() {
                    Err(TryLockError::WouldBlock) if began.elapsed() < PATIENCE => std::thread::sleep(NAP),
                    locked => return locked.map(|()| Lock(file)),
                }
            }
        };
        let lock = waited(File::open(root)).or_else(|error| match error {
            TryLockError::WouldBlock => Err(error),
            // Some systems cannot open a folder, or cannot lock a read-only folder. There `LOCK_FILE` is locked.
            TryLockError::Error(_) => {
                let file = root.join(LOCK_FILE);
                waited(OpenOptions::new().create(true).truncate(false).write(true).open(file))
            }
        });
        let shown = root.display();
        lock.map_err(|error| match error {
            TryLockError::WouldBlock => Failure::new(
                format!("another call of wetside has held {shown} for 10 seconds"),
                "nothing was written; run this again when the other call is done",
            ),
            TryLockError::Error(error) => Failure::new(
                format!("{shown} cannot be locked against a second writer: {error}"),
                "nothing was written; keep .wet files in a folder that you may write to",
            ),
        })
    }
}

/// Writes `text` to a file that had the text `read`. Fails if the file has another text by now; a byte-order mark does
/// not count. Returns `false` without writing if the file already has `text`.
pub(super) fn replace(path: &Path, read: &str, text: &str, _: &Lock) -> Result<bool, Failure> {
    let failed = |what: &str, help: &str| Failure::new(format!("{} {what}", path.display()), help);
    let before = std::fs::read(path)
        .map_err(|error| failed(&format!("cannot be read: {error}"), "check the path and its permissions"))?;
    if before == text.as_bytes() {
        return Ok(false);
    }
    let mark = "\u{feff}".as_bytes();
    if before.strip_prefix(mark).unwrap_or(&before) != read.as_bytes() {
        return Err(failed("has changed since it was read", "it was not written; run this again"));
    }
    if text.len() as u64 > BYTES_MAX {
        return Err(failed("would be over 1 MiB", "it was not written; split it into smaller files"));
    }
    whole(path, Place::Holding(&before), text.as_bytes())?;
    Ok(true)
}

pub(super) fn create(path: &Path, text: &str, _: &Lock) -> Result<(), Failure> {
    whole(path, Place::Vacant, text.as_bytes())
}

/// Writes a new file or replaces one. Recipe and config files are written under the lock of their root.
pub(super) fn output(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let _lock = if is_kept(path) { Some(Lock::of_file(path)?) } else { None };
    whole(path, Place::Any, bytes)
}

/// Whether `path` has the name of a recipe file or a config file.
pub(super) fn is_kept(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("wet"))
        || path.file_name().is_some_and(|name| name.eq_ignore_ascii_case("wetside.toml"))
}

/// Whether a file has several hard links, so that writing changes it under each name.
#[cfg(unix)]
pub(super) fn has_several_names(file: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    file.nlink() > 1
}

#[cfg(not(unix))]
pub(super) fn has_several_names(_: &Metadata) -> bool {
    false
}

/// What must be at a path before writing a file there.
#[derive(Clone, Copy)]
enum Place<'a> {
    Any,
    /// A file with these bytes.
    Holding(&'a [u8]),
    Vacant,
}

fn whole(path: &Path, place: Place<'_>, bytes: &[u8]) -> Result<(), Failure> {
    written(path, place, bytes).map_err(|error| {
        Failure::new(
            format!("{} could not be written: {error}", path.display()),
            "nothing was changed; check that the folder exists, may be written to, and has space",
        )
    })
}

fn written(path: &Path, place: Place<'_>, bytes: &[u8]) -> IoResult<()> {
    let path = pointed_to(path);
    let folder = folder_of(&path);
    let old = std::fs::metadata(&path).ok();
    match (&old, place) {
        (Some(old), _) if !old.is_file() => {
            return Err(Error::new(ErrorKind::InvalidInput, "it exists and is not a file"));
        }
        (Some(old), _) if old.permissions().readonly() => {
            let words = "it is read-only; make it writable, as with chmod u+w";
            return Err(Error::new(ErrorKind::PermissionDenied, words));
        }
        (Some(_), Place::Vacant) => return Err(ErrorKind::AlreadyExists.into()),
        _ => {}
    }
    let mut beside = hidden(folder, old.is_none())?;
    if let Some(old) = old
        && !made_alike(beside.as_file(), &path, &old)
    {
        drop(beside);
        return in_place(&path, place, bytes);
    }
    beside.write_all(bytes)?;
    beside.as_file().sync_all()?;
    if let Place::Holding(before) = place {
        unchanged(&std::fs::read(&path)?, before)?;
    }
    let placed = match place {
        Place::Any | Place::Holding(_) => beside.persist(&path),
        Place::Vacant => beside.persist_noclobber(&path),
    };
    placed.map_err(|error| error.error)?;
    sync_names(folder);
    Ok(())
}

/// Makes the system write a folder's new file names to the disk. An error is ignored: a system that cannot sync a
/// folder needs no sync.
pub(super) fn sync_names(folder: &Path) {
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
}

fn unchanged(now: &[u8], before: &[u8]) -> IoResult<()> {
    if now == before { Ok(()) } else { Err(Error::other("it has changed since it was read")) }
}

/// Overwrites a file in place, because a replacement would lose its owner, attributes or hard links. If writing the new
/// text fails, the old text is restored; if that fails too, a hidden file with the old text remains.
fn in_place(path: &Path, place: Place<'_>, bytes: &[u8]) -> IoResult<()> {
    let mut file = OpenOptions::new().read(true).write(true).open(path)?;
    let mut old = Vec::new();
    file.read_to_end(&mut old)?;
    if let Place::Holding(before) = place {
        unchanged(&old, before)?;
    }
    let mut copy = hidden(folder_of(path), false)?;
    copy.write_all(&old)?;
    copy.as_file().sync_all()?;
    let Err(error) = overwritten(&mut file, bytes) else { return Ok(()) };
    if overwritten(&mut file, &old).is_err() {
        let (_, kept) = copy.keep().map_err(|error| error.error)?;
        return Err(Error::other(format!("{error}; its old text is now in {}", kept.display())));
    }
    Err(error)
}

fn overwritten(file: &mut File, bytes: &[u8]) -> IoResult<()> {
    file.rewind()?;
    file.write_all(bytes)?;
    file.set_len(bytes.len() as u64)?;
    file.sync_all()
}

/// Makes an empty hidden file in a folder. If `is_public`, its permissions are those that the umask allows; else only
/// its owner may read and write it.
fn hidden(folder: &Path, is_public: bool) -> IoResult<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(HIDDEN);
    if let Some(mode) = public_mode().filter(|_| is_public) {
        builder.permissions(mode);
    }
    builder.tempfile_in(folder)
}

/// The permissions of a public file before the umask is applied.
#[cfg(unix)]
fn public_mode() -> Option<Permissions> {
    Some(std::os::unix::fs::PermissionsExt::from_mode(0o666))
}

#[cfg(not(unix))]
fn public_mode() -> Option<Permissions> {
    None
}

/// Copies owner, group, extended attributes and permissions of the old file to the new file. Returns `false` if one of
/// these cannot be copied, or if the old file has several hard links.
#[cfg(unix)]
fn made_alike(new: &File, path: &Path, old: &Metadata) -> bool {
    use std::os::unix::fs::{MetadataExt as _, fchown};
    use xattr::FileExt as _;
    let ids = |file: &Metadata| (file.uid(), file.gid());
    let owned = || {
        new.metadata().is_ok_and(|new| ids(&new) == ids(old))
            || fchown(new, Some(old.uid()), Some(old.gid())).is_ok()
    };
    // If the extended attributes cannot be listed, none are copied. Attributes that only the operating system can set
    // need no copy.
    let attributed = || {
        xattr::list(path).map_or(true, |mut names| {
            names.all(|name| {
                let value = xattr::get(path, &name).ok().flatten();
                let is_copied = value.is_some_and(|value| new.set_xattr(&name, &value).is_ok());
                let name = name.to_string_lossy();
                is_copied || name.starts_with("security.") || name.starts_with("trusted.")
            })
        })
    };
    !has_several_names(old) && owned() && attributed() && new.set_permissions(old.permissions()).is_ok()
}

#[cfg(not(unix))]
fn made_alike(new: &File, _: &Path, old: &Metadata) -> bool {
    new.set_permissions(old.permissions()).is_ok()
}

/// The file that `path` leads to if it is a link, else `path`. Writing to that file keeps the link.
fn pointed_to(path: &Path) -> PathBuf {
    let mut now = path.to_owned();
    for _ in 0..LINKS_MAX {
        match std::fs::read_link(&now) {
            Ok(target) => now = now.parent().unwrap_or(Path::new("")).join(target),
            Err(_) => break,
        }
    }
    now
}
