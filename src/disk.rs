//! Recipe files of a disk. Only plain files below a root are opened, as UTF-8 text under 1 MiB.

use std::fs::{File, Metadata};
use std::io::{Error, ErrorKind, Read};
use std::path::{Path, PathBuf};

use crate::source::{BYTES_MAX, Files, NotRead, below, root_in, with_slashes};

/// The recipe files below a folder. The name of a file is its path relative to that folder, with `/` as separator.
/// Links that lead out of the folder are refused.
#[derive(Debug, Clone)]
pub struct DiskFiles {
    root: PathBuf,
}

impl DiskFiles {
    /// The files below this folder.
    ///
    /// # Errors
    /// There is no such folder.
    pub fn below(folder: impl AsRef<Path>) -> std::io::Result<DiskFiles> {
        std::fs::canonicalize(folder).map(|root| DiskFiles { root })
    }

    /// The real path of the file that `path` names in the folder of the file `from`. An error if `path` leads out of
    /// the root folder of `from`.
    fn find(&self, from: &str, path: &str) -> Result<PathBuf, NotRead> {
        let from = Path::new(from);
        let root = self.root.join(root_in(from));
        let folder = self.root.join(from.parent().unwrap_or(Path::new("")));
        real_below(&root, &below(&folder, &root, path).ok_or(NotRead::Outside)?)
    }
}

impl Files for DiskFiles {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        let real = self.find("", name)?;
        text_of(&real).map(|(text, _)| text)
    }

    fn resolve(&self, from: &str, path: &str) -> Result<String, NotRead> {
        let real = self.find(from, path)?;
        Ok(with_slashes(real.strip_prefix(&self.root).map_err(|_| NotRead::Outside)?))
    }
}

/// The real path of a file below a root folder. An error if a link leads out of this folder.
pub(crate) fn real_below(root: &Path, wanted: &Path) -> Result<PathBuf, NotRead> {
    match std::fs::canonicalize(wanted) {
        Ok(real) if real.starts_with(root) => Ok(real),
        Err(error) if ends_below(wanted, root) => Err(unreadable(error)),
        // Outside the root folder, an existing and a missing file give the same error, so that the error does not
        // reveal which files exist.
        Ok(_) | Err(_) => Err(NotRead::Outside),
    }
}

/// Whether a missing file would be below the root folder. A broken link does not count, because it may lead out of it.
fn ends_below(wanted: &Path, root: &Path) -> bool {
    let missing = wanted.ancestors().take_while(|path| std::fs::canonicalize(path).is_err()).last();
    missing.is_none_or(|path| {
        let above = path.parent().and_then(|above| std::fs::canonicalize(above).ok());
        !path.is_symlink() && above.is_some_and(|above| above.starts_with(root))
    })
}

fn unreadable(error: Error) -> NotRead {
    NotRead::Unreadable(reason(&error))
}

/// The text of a plain file without its byte-order mark, and whether the file has a mark. An error for any other kind
/// of file, such as a pipe: reading it could wait for ever.
pub(crate) fn text_of(real: &Path) -> Result<(String, bool), NotRead> {
    let bytes = bytes_of(real)?;
    let marked = bytes.starts_with("\u{feff}".as_bytes());
    decoded(bytes).map(|text| (text, marked))
}

/// The bytes of a plain file; of a file over 1 MiB, only the first 1 MiB and one byte.
pub(crate) fn bytes_of(real: &Path) -> Result<Vec<u8>, NotRead> {
    let kind = std::fs::metadata(real).map_err(unreadable)?;
    plain(&kind)?;
    // Room for one byte more than the file has, so that the read that finds the end of the file does not enlarge the
    // buffer.
    let length = usize::try_from(kind.len().min(BYTES_MAX)).unwrap_or(0);
    let mut bytes = Vec::with_capacity(length + 1);
    let file = File::open(real).map_err(unreadable)?;
    // The file may have been replaced since its kind was examined.
    plain(&file.metadata().map_err(unreadable)?)?;
    file.take(BYTES_MAX + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    Ok(bytes)
}

fn plain(kind: &Metadata) -> Result<(), NotRead> {
    let other = if kind.is_dir() { "it is a folder" } else { "it is not a plain file" };
    kind.is_file().then_some(()).ok_or_else(|| NotRead::Unreadable(other.to_owned()))
}

/// The bytes as UTF-8 text without a byte-order mark; an error if they are over 1 MiB or are not UTF-8.
pub(crate) fn decoded(bytes: Vec<u8>) -> Result<String, NotRead> {
    if bytes.len() as u64 > BYTES_MAX {
        return Err(NotRead::TooLarge);
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(NotRead::NotText("it is in another encoding, UTF-16".to_owned()));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        NotRead::NotText(format!("it is not UTF-8, from byte {} on", place + 1))
    })?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

pub(crate) fn reason(error: &Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "it may not be read".to_owned(),
        _ => error.to_string(),
    }
}
