//! Bytes out: whole files or none, and a reader that went away is no fault.

use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::beside::{Writer, beside};
use super::failure::Failure;

/// So many links are followed one from another, as the system does.
const LINKS_MAX: usize = 40;

/// Prints a result. A pipe closed by its reader ends quietly; anything else that fails is told.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    send(text.as_bytes())
}

/// Sends a result that need not be text down the same way.
pub(super) fn send(bytes: &[u8]) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::new(
            format!("the output could not be written: {error}"),
            "see whether the disk is full, or name a file with -o",
        )),
        Ok(()) | Err(_) => Ok(()),
    }
}

/// Says what went wrong on standard error; if that fails too there is nobody left to tell.
pub(super) fn complain(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// Writes a whole file or none: beside it first, then in its place. A file that was there keeps its
/// permissions.
pub(super) fn write(path: &Path, bytes: impl AsRef<[u8]>) -> Result<(), Failure> {
    whole(path, Place::Any, Writer::OneOfSeveral, bytes.as_ref()).map_err(|error| not_written(path, &error))
}

/// The same for a file that holds `before`; if it holds anything else by the time it is replaced, or
/// is marked as not to be written to, nothing is changed.
pub(super) fn replace(path: &Path, before: &[u8], text: &str, writer: Writer) -> Result<(), Failure> {
    let is_readonly = std::fs::metadata(path).is_ok_and(|there| there.permissions().readonly());
    if is_readonly {
        return Err(Failure::new(
            format!("{} could not be written: it is marked as read-only", path.display()),
            "let it be written to, as with chmod u+w, or leave it out; nothing was changed in it",
        ));
    }
    whole(path, Place::Holding(before), writer, text.as_bytes()).map_err(|error| not_written(path, &error))
}

/// Writes a whole file where none is; one that has come to be there meanwhile is let be.
pub(super) fn create(path: &Path, text: &str, writer: Writer) -> Result<(), Failure> {
    whole(path, Place::Vacant, writer, text.as_bytes()).map_err(|error| not_written(path, &error))
}

/// What is held to be where a file is to go.
#[derive(Debug, Clone, Copy)]
enum Place<'a> {
    /// Whatever it is.
    Any,
    /// A file that holds this.
    Holding(&'a [u8]),
    /// Nothing.
    Vacant,
}

fn not_written(path: &Path, error: &std::io::Error) -> Failure {
    Failure::new(
        format!("{} could not be written: {error}", path.display()),
        "see whether the folder is there, may be written to, and has room; nothing was changed",
    )
}

fn whole(path: &Path, place: Place<'_>, writer: Writer, bytes: &[u8]) -> std::io::Result<()> {
    if std::fs::metadata(path).is_ok_and(|there| !there.is_file()) {
        return Err(std::io::Error::new(ErrorKind::InvalidInput, "it is there and is not a file"));
    }
    let path = pointed_to(path);
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut beside = beside(&path, writer)?;
    beside.write_all(bytes)?;
    beside.flush()?;
    let permissions = match std::fs::metadata(&path) {
        Ok(there) => Some(there.permissions()),
        Err(_) => usual_permissions(),
    };
    if let Some(permissions) = permissions {
        beside.as_file().set_permissions(permissions)?;
    }
    beside.as_file().sync_all()?;
    if let Place::Holding(before) = place
        && std::fs::read(&path)? != before
    {
        return Err(std::io::Error::other("it was changed meanwhile"));
    }
    let placed = match place {
        Place::Any | Place::Holding(_) => beside.persist(&path),
        Place::Vacant => beside.persist_noclobber(&path),
    };
    placed.map_err(|error| error.error)?;
    // The folder holds the name; a system that cannot sync one keeps it anyway.
    let _ = std::fs::File::open(folder).and_then(|folder| folder.sync_all());
    Ok(())
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

/// A temporary file is for its owner only; a card is for everyone who may read the folder.
#[cfg(unix)]
fn usual_permissions() -> Option<std::fs::Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn usual_permissions() -> Option<std::fs::Permissions> {
    None
}
