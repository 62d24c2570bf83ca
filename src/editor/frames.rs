//! Messages as they come over a pipe: a header that states a length, then that many bytes. Both have a
//! limit. A message over it is skipped, so that the next one can be read.

use std::io::{BufRead, Read, Write};

use gen_lsp_types::json_rpc::Id;
use serde::Deserialize;
use serde_json::Value;

use crate::report::escaped;

const CUT_SHORT: &str = "the input ends within a message";
/// A line of a header has at most this many bytes.
const LINE_MAX: u64 = 1 << 10;
/// A header has at most this many lines.
const LINES_MAX: usize = 16;
/// A message has at most this many bytes: the longest text of a recipe, each of its bytes spelled out.
pub(super) const BODY_MAX: u64 = 16 << 20;
/// How far a message over the limit is searched for its method and document.
const SEARCHED_MAX: u64 = 64 << 20;

/// One message.
pub(super) enum Frame {
    /// Its bytes.
    Message(Vec<u8>),
    /// It was over the limit and was skipped.
    TooLong(Outline),
}

/// What is read of a message over the limit; each part is empty where it is not found.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(super) struct Outline {
    pub(super) id: Option<Id>,
    pub(super) method: String,
    pub(super) params: OutlineParams,
}

/// The parameters that name a document.
#[derive(Default, Deserialize)]
#[serde(default, rename_all = "camelCase")]
pub(super) struct OutlineParams {
    pub(super) text_document: OutlineDocument,
}

/// A document as a message names it.
#[derive(Default, Deserialize)]
#[serde(default)]
pub(super) struct OutlineDocument {
    pub(super) uri: String,
    pub(super) version: i32,
}

/// The next message; `None` where the input ends between two messages.
///
/// # Errors
/// What is wrong with the frame, in words; nothing that follows it can be understood.
pub(super) fn read(input: &mut dyn BufRead) -> Result<Option<Frame>, String> {
    let mut length = None;
    for number in 0..LINES_MAX {
        let Some(line) = header_line(input)? else {
            return if number == 0 { Ok(None) } else { Err("the input ends within a header".to_owned()) };
        };
        if line.is_empty() {
            let length = length.ok_or("a header has no Content-Length")?;
            return if length > BODY_MAX { skipped(input, length) } else { body(input, length) }.map(Some);
        }
        let (name, value) = line.split_once(':').ok_or("a header's line has no colon")?;
        if name.trim().eq_ignore_ascii_case("content-length") {
            let value = value.trim();
            let digits = !value.is_empty() && value.bytes().all(|byte| byte.is_ascii_digit());
            let known = value.parse::<u64>().ok().filter(|_| digits);
            length = Some(known.ok_or("a Content-Length is not a number of bytes")?);
        }
    }
    Err(format!("a header has more than {LINES_MAX} lines"))
}

fn header_line(input: &mut dyn BufRead) -> Result<Option<String>, String> {
    let mut line = Vec::new();
    input
        .take(LINE_MAX)
        .read_until(b'\n', &mut line)
        .map_err(|error| format!("the input cannot be read: {error}"))?;
    if line.is_empty() {
        return Ok(None);
    }
    let Some(line) = line.strip_suffix(b"\n") else {
        return Err(format!("a header's line does not end within {LINE_MAX} bytes"));
    };
    let line = line.strip_suffix(b"\r").unwrap_or(line);
    let line = std::str::from_utf8(line).map_err(|_| "a header is not text")?;
    Ok(Some(line.to_owned()))
}

fn skipped(input: &mut dyn BufRead, length: u64) -> Result<Frame, String> {
    let mut rest = input.take(length);
    let outline = serde_json::from_reader((&mut rest).take(SEARCHED_MAX)).unwrap_or_default();
    let skipped = std::io::copy(&mut rest, &mut std::io::sink());
    skipped.map_err(|error| format!("the input cannot be read: {error}"))?;
    if rest.limit() == 0 { Ok(Frame::TooLong(outline)) } else { Err(CUT_SHORT.to_owned()) }
}

fn body(input: &mut dyn BufRead, length: u64) -> Result<Frame, String> {
    let mut bytes = Vec::new();
    let read = input.take(length).read_to_end(&mut bytes);
    read.map_err(|error| format!("the input cannot be read: {error}"))?;
    if bytes.len() as u64 == length { Ok(Frame::Message(bytes)) } else { Err(CUT_SHORT.to_owned()) }
}

/// Writes a message in its frame, what would not show in it as an escape.
pub(super) fn write(output: &mut dyn Write, message: &Value) -> std::io::Result<()> {
    let body = escaped(message.to_string());
    write!(output, "Content-Length: {}\r\n\r\n{body}", body.len())?;
    output.flush()
}
