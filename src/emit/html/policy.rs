//! What the page may do, as its own Content Security Policy: nothing, but for the one style and the one
//! script whose SHA-256 it names. So even markup that somehow got in could neither run nor call out.

use sha2::{Digest, Sha256};

/// A policy, ready for its element.
pub(super) struct Policy {
    text: String,
}

impl Policy {
    /// Its directives.
    pub(super) fn text(&self) -> &str {
        &self.text
    }
}

/// The policy of a page with this style and this script, each exactly as it stands between its tags.
pub(super) fn policy(style: &str, script: &str) -> Policy {
    let (style, script) = (source(style), source(script));
    Policy {
        text: format!(
            "default-src 'none'; style-src {style}; script-src {script}; base-uri 'none'; form-action 'none'"
        ),
    }
}

/// A text as the policy names it.
fn source(text: &str) -> String {
    format!("'sha256-{}'", base64(&Sha256::digest(text.as_bytes())))
}

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// Base64 as RFC 4648, section 4, has it: three bytes in four letters, the last filled up with `=`.
fn base64(bytes: &[u8]) -> String {
    let mut out = String::new();
    for three in bytes.chunks(3) {
        let byte = |at: usize| u32::from(three.get(at).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for (at, shift) in [18, 12, 6, 0].into_iter().enumerate() {
            let letter = ALPHABET.iter().cycle().nth((bits >> shift & 63) as usize);
            let filled = letter.filter(|_| at <= three.len());
            out.push(filled.map_or('=', |letter| char::from(*letter)));
        }
    }
    out
}
