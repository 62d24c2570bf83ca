//! Reads and writes messages: a header with a length, then that many bytes. A message over the limit is skipped.

use std::io::{BufRead, Read, Write};

use serde::Deserialize;
use serde_json::Value;

use super::protocol::Id;
use crate::report::escaped;

/// The most bytes in a line of a header.
const LINE_MAX: u64 = 1 << 10;
const LINES_MAX: usize = 16;
/// The most bytes in a message: room for the longest recipe text with each byte escaped.
pub(super) const BODY_MAX: u64 = 16 << 20;
/// How many bytes of a skipped message are searched for its method and its document.
const SEARCHED_MAX: u64 = 64 << 20;

pub(super) enum Frame {
    Message(Vec<u8>),
    /// A message over [`BODY_MAX`], of which only the outline was read.
    TooLong(Outline),
}

/// What is read of a message over the limit. A value that is not found is empty.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(super) struct Outline {
    pub(super) id: Option<Id>,
    pub(super) method: String,
    pub(super) params: OutlineParams,
}

#[derive(Default, Deserialize)]
#[serde(default)]
pub(super) struct OutlineParams {
    #[serde(rename = "textDocument")]
    pub(super) document: OutlineDocument,
}

#[derive(Default, Deserialize)]
#[serde(default)]
pub(super) struct OutlineDocument {
    pub(super) uri: String,
    pub(super) version: i32,
}

/// Reads the next message; `None` if the input ends before another message begins.
///
/// # Errors
///
/// The header or the length of the message is invalid, so nothing after it can be read.
pub(super) fn read(input: &mut dyn BufRead) -> Result<Option<Frame>, String> {
    let mut length = None;
    for number in 0..LINES_MAX {
        let Some(line) = header_line(input)? else {
            return if number == 0 { Ok(None) } else { Err("the input ends within a header".to_owned()) };
        };
        if line.is_empty() {
            return body(input, length.ok_or("a header has no Content-Length")?).map(Some);
        }
        let (name, value) = line.split_once(':').ok_or("a line of a header has no colon")?;
        if name.trim().eq_ignore_ascii_case("content-length") {
            // `parse` accepts a plus sign, which the protocol does not allow.
            let digits = Some(value.trim()).filter(|value| !value.starts_with('+'));
            let known = digits.and_then(|digits| digits.parse::<u64>().ok());
            length = Some(known.ok_or("a Content-Length is not a number of bytes")?);
        }
    }
    Err(format!("a header has more than {LINES_MAX} lines"))
}

fn header_line(input: &mut dyn BufRead) -> Result<Option<String>, String> {
    let mut line = Vec::new();
    input.take(LINE_MAX).read_until(b'\n', &mut line).map_err(unreadable)?;
    if line.is_empty() {
        return Ok(None);
    }
    let line = String::from_utf8(line).map_err(|_| "a header is not text")?;
    let line = line
        .strip_suffix('\n')
        .ok_or_else(|| format!("a line of a header does not end within {LINE_MAX} bytes"))?;
    Ok(Some(line.strip_suffix('\r').unwrap_or(line).to_owned()))
}

fn body(input: &mut dyn BufRead, length: u64) -> Result<Frame, String> {
    let mut rest = input.take(length);
    let frame = if length > BODY_MAX {
        let outline = serde_json::from_reader((&mut rest).take(SEARCHED_MAX)).unwrap_or_default();
        std::io::copy(&mut rest, &mut std::io::sink()).map_err(unreadable)?;
        Frame::TooLong(outline)
    } else {
        let mut bytes = Vec::new();
        rest.read_to_end(&mut bytes).map_err(unreadable)?;
        Frame::Message(bytes)
    };
    if rest.limit() == 0 { Ok(frame) } else { Err("the input ends within a message".to_owned()) }
}

fn unreadable(error: std::io::Error) -> String {
    format!("the input cannot be read: {error}")
}

/// Writes a header and the message, in which invisible characters are escaped.
pub(super) fn write(output: &mut dyn Write, message: &Value) -> std::io::Result<()> {
    let body = escaped(message.to_string());
    write!(output, "Content-Length: {}\r\n\r\n{body}", body.len())?;
    output.flush()
}
