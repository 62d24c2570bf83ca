//! The text of a file: nothing but a plain file is opened, it is UTF-8, and no longer than a text may be.

use std::fs::{File, Metadata};
use std::io::Read;
use std::path::Path;

use crate::source::{BYTES_MAX, NotRead};

/// A text without the byte-order mark, and whether there was one.
pub(super) type Marked = (String, bool);

/// The text of a file; nothing but a plain file is opened, since a pipe would wait for ever.
pub(super) fn text_of(real: &Path, kind: &Metadata) -> Result<Marked, NotRead> {
    let unreadable = |error: std::io::Error| NotRead::Unreadable(reason(&error));
    plain(kind)?;
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
pub(super) fn decoded(bytes: Vec<u8>) -> Result<String, NotRead> {
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

pub(super) fn reason(error: &std::io::Error) -> String {
    let kind = error.kind();
    if kind == std::io::ErrorKind::NotFound {
        return "there is no such file".to_owned();
    }
    if kind == std::io::ErrorKind::PermissionDenied {
        return "it may not be read".to_owned();
    }
    error.to_string()
}
