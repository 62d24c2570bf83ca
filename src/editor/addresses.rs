//! Paths and the protocol's addresses, `file:///…`; no other address is a file.

use std::path::{Path, PathBuf};

/// The file that an address names.
pub(super) fn path_of(address: &str) -> Option<PathBuf> {
    let rest = address.strip_prefix("file://")?;
    let written = rest.strip_prefix("localhost").unwrap_or(rest);
    if !written.starts_with('/') || written.contains(['?', '#']) {
        return None;
    }
    let mut bytes = Vec::with_capacity(written.len());
    let mut left = written.bytes();
    while let Some(byte) = left.next() {
        bytes.push(if byte == b'%' { 16 * figure(left.next()?)? + figure(left.next()?)? } else { byte });
    }
    let path = String::from_utf8(bytes).ok().filter(|path| !path.contains('\0'))?;
    Some(PathBuf::from(path))
}

fn figure(byte: u8) -> Option<u8> {
    char::from(byte).to_digit(16).and_then(|figure| u8::try_from(figure).ok())
}

/// The address of a file.
pub(super) fn address_of(path: &Path) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~' | b'/');
    let mut address = "file://".to_owned();
    for byte in path.to_string_lossy().bytes() {
        if plain(byte) {
            address.push(char::from(byte));
        } else {
            address.push_str(&format!("%{byte:02X}"));
        }
    }
    address
}
