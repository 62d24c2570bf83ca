//! Writes whole files. A text is written beside its place and renamed into it, so that a killed call leaves the old
//! file or the new one; what it leaves beside them is a hidden file that no call reads. Whoever writes a `.wet` file
//! holds the lock of its root, so that no call loses what another has written.

use std::fs::{File, Metadata, OpenOptions, Permissions, TryLockError};
use std::io::{Error, ErrorKind, Read as _, Result as IoResult, Seek as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use tempfile::NamedTempFile;

use super::failure::Failure;
use super::root;
use crate::source::BYTES_MAX;

/// How long a call waits for the lock. A writer takes some hundredths of a second, and several may wait.
const PATIENCE: Duration = Duration::from_secs(10);
/// The pause between two attempts.
const NAP: Duration = Duration::from_millis(10);
/// Where a folder itself cannot be locked, this file in it is; it may stay there.
const LOCK_FILE: &str = ".wetside-lock";
/// The name of a hidden file begins with this; random letters follow.
const HIDDEN: &str = ".wetside-";
/// The most links that are followed one from another, as the system does.
const LINKS_MAX: usize = 40;

/// The right to write the `.wet` files of one root. The system takes it back however a call ends.
#[derive(Debug)]
pub(super) struct Lock(#[expect(dead_code, reason = "it is held, not read")] File);

impl Lock {
    /// Waits for the lock of the root that this file belongs to, whether the file is there yet or not.
    ///
    /// # Errors
    /// Another call holds it for over ten seconds, or nothing there can be locked.
    pub(super) fn of_file(path: &Path) -> Result<Lock, Failure> {
        let real = std::fs::canonicalize(path).ok();
        let real = real.as_deref().and_then(Path::parent).map(Path::to_owned);
        let folder = real.or_else(|| std::fs::canonicalize(folder_of(path)).ok()).unwrap_or_default();
        Lock::of_root(&root::above(&folder))
    }

    /// Waits for the lock of a root. The folder is locked and no file, since a file is replaced, and its lock with it.
    ///
    /// # Errors
    /// As above.
    pub(super) fn of_root(root: &Path) -> Result<Lock, Failure> {
        match File::open(root).map_err(TryLockError::Error).and_then(waited) {
            Ok(folder) => return Ok(Lock(folder)),
            Err(TryLockError::WouldBlock) => return Err(busy(root)),
            // Some systems open no folder, some lock only what may be written to.
            Err(TryLockError::Error(_)) => {}
        }
        let opened = OpenOptions::new().create(true).truncate(false).write(true).open(root.join(LOCK_FILE));
        match opened.map_err(TryLockError::Error).and_then(waited) {
            Ok(file) => Ok(Lock(file)),
            Err(TryLockError::WouldBlock) => Err(busy(root)),
            Err(TryLockError::Error(error)) => Err(Failure::new(
                format!("{} cannot be locked against a second writer: {error}", root.display()),
                "nothing was written; keep .wet files in a folder that you may write to",
            )),
        }
    }
}

fn waited(file: File) -> Result<File, TryLockError> {
    let began = Instant::now();
    loop {
        match file.try_lock() {
            Err(TryLockError::WouldBlock) if began.elapsed() < PATIENCE => std::thread::sleep(NAP),
            Err(error) => return Err(error),
            Ok(()) => return Ok(file),
        }
    }
}

fn busy(root: &Path) -> Failure {
    Failure::new(
        format!(
            "another call of wetside holds {}, and this one has waited 10 seconds for it",
            root.display()
        ),
        "nothing was written; see whether the other still runs, and run this again when it is done",
    )
}

/// Writes the text where a file stands whose text was `read`, which may follow a byte-order mark. Whether the file
/// was written: one with these bytes already is not touched.
///
/// # Errors
/// The file has another text by now, may not be written to, or would be too long to be read again.
pub(super) fn replace(path: &Path, read: &str, text: &str, _: &Lock) -> Result<bool, Failure> {
    let before = std::fs::read(path).map_err(|error| {
        Failure::new(
            format!("{} cannot be read: {error}", path.display()),
            "check the path and its permissions",
        )
    })?;
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
    if text.len() as u64 > BYTES_MAX {
        return Err(Failure::new(
            format!("{} would be over 1 MiB", path.display()),
            "nothing of it was changed; split it into smaller files",
        ));
    }
    whole(path, Place::Holding(&before), text.as_bytes())?;
    Ok(true)
}

/// Writes a file where none is.
///
/// # Errors
/// A file has come to be there, or none can be written.
pub(super) fn create(path: &Path, text: &str, _: &Lock) -> Result<(), Failure> {
    whole(path, Place::Vacant, text.as_bytes())
}

/// Writes a file whether one is there or not, under the lock of its root if it is a `.wet` file.
///
/// # Errors
/// It cannot be written.
pub(super) fn output(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let _lock = if is_kept(path) { Some(Lock::of_file(path)?) } else { None };
    whole(path, Place::Any, bytes)
}

/// Whether a file of that name is a recipe file or a config file.
pub(super) fn is_kept(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("wet"))
        || path.file_name().is_some_and(|name| name.eq_ignore_ascii_case("wetside.toml"))
}

/// Whether a file has further names, so that writing to it changes those too.
#[cfg(unix)]
pub(super) fn has_several_names(file: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    file.nlink() > 1
}

#[cfg(not(unix))]
pub(super) fn has_several_names(_: &Metadata) -> bool {
    false
}

/// What has to be there when a file is put in its place.
#[derive(Debug, Clone, Copy)]
enum Place<'a> {
    Any,
    /// A file with these bytes.
    Holding(&'a [u8]),
    /// Nothing.
    Vacant,
}

fn whole(path: &Path, place: Place<'_>, bytes: &[u8]) -> Result<(), Failure> {
    if std::fs::metadata(path).is_ok_and(|there| there.is_file() && there.permissions().readonly()) {
        return Err(Failure::new(
            format!("{} could not be written: it is marked as read-only", path.display()),
            "let it be written to, as with chmod u+w, or leave it out; nothing was changed in it",
        ));
    }
    written(path, place, bytes).map_err(|error| {
        Failure::new(
            format!("{} could not be written: {error}", path.display()),
            "see whether the folder is there, may be written to, and has room; nothing was changed",
        )
    })
}

fn written(path: &Path, place: Place<'_>, bytes: &[u8]) -> IoResult<()> {
    if std::fs::metadata(path).is_ok_and(|there| !there.is_file()) {
        return Err(Error::new(ErrorKind::InvalidInput, "it is there and is not a file"));
    }
    let path = pointed_to(path);
    let folder = folder_of(&path);
    let old = std::fs::metadata(&path).ok();
    if matches!(place, Place::Vacant) && old.is_some() {
        return Err(ErrorKind::AlreadyExists.into());
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
    // The folder holds the name; a system that cannot sync one keeps it anyway.
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    Ok(())
}

fn unchanged(now: &[u8], before: &[u8]) -> IoResult<()> {
    if now == before { Ok(()) } else { Err(Error::other("it was changed meanwhile")) }
}

/// Writes over a file that no new one could stand for: another has to keep its owner, its attributes or its further
/// names. A copy of the old bytes stands beside it meanwhile, and stays if neither text can be written whole.
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

/// An empty hidden file, for everyone whom the umask lets read it or for its owner alone.
fn hidden(folder: &Path, is_public: bool) -> IoResult<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(HIDDEN);
    if let Some(mode) = public_mode().filter(|_| is_public) {
        builder.permissions(mode);
    }
    builder.tempfile_in(folder)
}

/// What the umask is taken from.
#[cfg(unix)]
fn public_mode() -> Option<Permissions> {
    Some(std::os::unix::fs::PermissionsExt::from_mode(0o666))
}

#[cfg(not(unix))]
fn public_mode() -> Option<Permissions> {
    None
}

/// Gives a new file the owner, the group, the attributes and the permissions of the old one. Whether it has them all.
#[cfg(unix)]
fn made_alike(new: &File, path: &Path, old: &Metadata) -> bool {
    use std::os::unix::fs::{MetadataExt as _, fchown};
    use xattr::FileExt as _;
    let ids = |file: &Metadata| (file.uid(), file.gid());
    let owned = || {
        new.metadata().is_ok_and(|new| ids(&new) == ids(old))
            || fchown(new, Some(old.uid()), Some(old.gid())).is_ok()
    };
    // Where nothing can be listed, the file system has no attributes. Some belong to the system and are not ours to set.
    let attributed = || {
        xattr::list(path).map_or(true, |mut names| {
            names.all(|name| {
                let value = xattr::get(path, &name).ok().flatten();
                value.is_some_and(|value| new.set_xattr(&name, &value).is_ok())
                    || ["security.", "trusted."]
                        .iter()
                        .any(|own| name.as_encoded_bytes().starts_with(own.as_bytes()))
            })
        })
    };
    !has_several_names(old) && owned() && attributed() && new.set_permissions(old.permissions()).is_ok()
}

#[cfg(not(unix))]
fn made_alike(new: &File, _: &Path, old: &Metadata) -> bool {
    new.set_permissions(old.permissions()).is_ok()
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// A link is followed, also to a file that is not there yet, so that it goes on pointing to it.
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
