//! Recipe files of a disk. Nothing but a plain file below its root is opened; its text is UTF-8, and no longer
//! than a text may be.

use std::fs::{File, Metadata};
use std::io::Read;
use std::path::{Path, PathBuf};

use crate::source::{BYTES_MAX, Files, NotRead, below, with_slashes};

/// The recipe files below a folder, each called by its path from there, with `/`. No link leads out of it.
#[derive(Debug, Clone)]
pub struct DiskFiles {
    root: PathBuf,
}

impl DiskFiles {
    /// Those below this folder.
    ///
    /// # Errors
    /// There is no such folder.
    pub fn below(folder: impl AsRef<Path>) -> std::io::Result<DiskFiles> {
        std::fs::canonicalize(folder).map(|root| DiskFiles { root })
    }

    /// Where a file with this name is, seen from a folder of the root.
    fn find(&self, folder: &Path, path: &str) -> Result<PathBuf, NotRead> {
        let wanted = below(&self.root.join(folder), &self.root, path).ok_or(NotRead::Outside)?;
        real_below(&self.root, &wanted)
    }
}

impl Files for DiskFiles {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        let real = self.find(Path::new(""), name)?;
        text_of(&real).map(|(text, _)| text)
    }

    fn resolve(&self, from: &str, path: &str) -> Result<String, NotRead> {
        let real = self.find(Path::new(from).parent().unwrap_or(Path::new("")), path)?;
        Ok(with_slashes(real.strip_prefix(&self.root).map_err(|_| NotRead::Outside)?))
    }
}

/// Where a path below a root really leads, if that is below the root too.
pub(crate) fn real_below(root: &Path, wanted: &Path) -> Result<PathBuf, NotRead> {
    match std::fs::canonicalize(wanted) {
        Ok(real) if real.starts_with(root) => Ok(real),
        Err(error) if ends_below(wanted, root) => Err(NotRead::Unreadable(reason(&error))),
        // Of what lies outside it is not even told whether it is there.
        Ok(_) | Err(_) => Err(NotRead::Outside),
    }
}

/// Whether a path that leads to nothing gets to its end below the root, and not through a link that may lead out.
fn ends_below(wanted: &Path, root: &Path) -> bool {
    let missing = wanted.ancestors().take_while(|path| std::fs::canonicalize(path).is_err()).last();
    missing.is_none_or(|path| {
        let above = path.parent().and_then(|above| std::fs::canonicalize(above).ok());
        !path.is_symlink() && above.is_some_and(|above| above.starts_with(root))
    })
}

/// A text without the byte-order mark, and whether there was one.
pub(crate) type Marked = (String, bool);

/// The text of a file; nothing but a plain file is opened, since a pipe would wait for ever.
pub(crate) fn text_of(real: &Path) -> Result<Marked, NotRead> {
    let unreadable = |error: std::io::Error| NotRead::Unreadable(reason(&error));
    let kind = std::fs::metadata(real).map_err(unreadable)?;
    plain(&kind)?;
    // Room for all and one byte more, so that the end is seen without growing.
    let length = usize::try_from(kind.len().min(BYTES_MAX)).unwrap_or(0);
    let mut bytes = Vec::with_capacity(length + 1);
    let file = File::open(real).map_err(unreadable)?;
    // Another may have taken its place in between.
    plain(&file.metadata().map_err(unreadable)?)?;
    file.take(BYTES_MAX + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    let marked = bytes.starts_with("\u{feff}".as_bytes());
    decoded(bytes).map(|text| (text, marked))
}

fn plain(kind: &Metadata) -> Result<(), NotRead> {
    if kind.is_dir() {
        return Err(NotRead::Unreadable("it is a folder".to_owned()));
    }
    if !kind.is_file() {
        return Err(NotRead::Unreadable("it is not a plain file".to_owned()));
    }
    Ok(())
}

/// Bytes as a text: UTF-8, without a byte-order mark, under 1 MiB.
pub(crate) fn decoded(bytes: Vec<u8>) -> Result<String, NotRead> {
    if bytes.len() as u64 > BYTES_MAX {
        return Err(NotRead::NotText("it is over 1 MiB".to_owned()));
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(NotRead::NotText("it is UTF-16".to_owned()));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        NotRead::NotText(format!("it is not UTF-8, from byte {} on", place + 1))
    })?;
    Ok(match text.strip_prefix('\u{feff}') {
        Some(rest) => rest.to_owned(),
        None => text,
    })
}

/// Why something cannot be read, in words.
pub(crate) fn reason(error: &std::io::Error) -> String {
    let kind = error.kind();
    if kind == std::io::ErrorKind::NotFound {
        return "there is no such file".to_owned();
    }
    if kind == std::io::ErrorKind::PermissionDenied {
        return "it may not be read".to_owned();
    }
    error.to_string()
}
