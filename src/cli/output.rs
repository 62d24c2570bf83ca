//! Bytes out: to standard output, where a reader that went away is no fault, or to the file behind `-o`.

use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::root::printable;
use super::write;

/// Prints a result. A pipe closed by its reader ends quietly; anything else that fails is told.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    send(text.as_bytes())
}

/// Sends a result that need not be text down the same way.
fn send(bytes: &[u8]) -> Result<(), Failure> {
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

/// Where a command writes its result.
#[derive(Debug, clap::Args)]
pub(super) struct Output {
    /// Write to this file, whole or not at all
    #[arg(short, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Let -o replace a .wet file or a wetside.toml, or write through a link
    #[arg(long, requires = "output")]
    replace: bool,
}

impl Output {
    /// The file to write to; `None` for standard output.
    pub(super) fn file(&self) -> Option<&Path> {
        self.output.as_deref().filter(|path| path.as_os_str() != "-")
    }

    /// Writes the result of a call that reads the files of which `is_read` is true.
    ///
    /// # Errors
    /// The call reads that file, it may be replaced only with `--replace`, or it cannot be written.
    pub(super) fn send(
        &self,
        bytes: impl AsRef<[u8]>,
        is_read: impl FnOnce(&Path) -> bool,
    ) -> Result<(), Failure> {
        let Some(path) = self.file() else { return send(bytes.as_ref()) };
        if is_read(path) {
            let name = printable(&path.to_string_lossy());
            return Err(Failure::new(
                format!("{name} is one of the files that this call reads"),
                "name another file: no command writes its result over its own input",
            ));
        }
        if !self.replace {
            may_replace(path)?;
        }
        write::output(path, bytes.as_ref())
    }
}

/// Whether a file may be replaced without `--replace`.
fn may_replace(path: &Path) -> Result<(), Failure> {
    let Ok(there) = std::fs::symlink_metadata(path) else { return Ok(()) };
    let name = printable(&path.to_string_lossy());
    if there.is_symlink() {
        let target = std::fs::read_link(path).unwrap_or_default();
        let target = printable(&target.to_string_lossy());
        return Err(Failure::new(
            format!("{name} is a link to {target}"),
            "name that file itself, or add --replace to write through the link",
        ));
    }
    if there.is_file() && write::has_several_names(&there) {
        return Err(Failure::new(
            format!("{name} is a hard link: the file has other names and would change under them too"),
            "name another file, or add --replace to write it under all its names",
        ));
    }
    if there.is_file() && write::is_kept(path) {
        let kind = if path.extension().is_some_and(|ending| ending == "toml") { "config" } else { "recipe" };
        return Err(Failure::new(
            format!("{name} is a {kind} file, and -o would replace it"),
            "name another file, or add --replace to replace this one",
        ));
    }
    Ok(())
}
