//! Messages as they come over a pipe: a header that tells a length, then so many bytes. Both have a
//! limit, since the length is a stranger's word.

use std::io::{BufRead, Read, Write};

use serde_json::Value;

use crate::report::escaped;

/// A line of a header has at most this many bytes.
const LINE_MAX: u64 = 1 << 10;
/// A header has at most this many lines.
const LINES_MAX: usize = 16;
/// A message has at most this many bytes: the longest text of a recipe, each of its bytes spelled out.
const BODY_MAX: u64 = 16 << 20;

/// The next message's bytes; `None` where the input ends between two messages.
///
/// # Errors
/// What is wrong with the frame, in words; nothing that follows it can be understood.
pub(super) fn read(input: &mut dyn BufRead) -> Result<Option<Vec<u8>>, String> {
    let mut length = None;
    for number in 0..LINES_MAX {
        let Some(line) = header_line(input)? else {
            return if number == 0 { Ok(None) } else { Err("the input ends within a header".to_owned()) };
        };
        if line.is_empty() {
            let length = length.ok_or("a header has no Content-Length")?;
            return body(input, length).map(Some);
        }
        let (name, value) = line.split_once(':').ok_or("a header's line has no colon")?;
        if name.trim().eq_ignore_ascii_case("content-length") {
            let value = value.trim();
            let digits = !value.is_empty() && value.bytes().all(|byte| byte.is_ascii_digit());
            let known = value.parse::<u64>().ok().filter(|_| digits);
            let known = known.ok_or("a Content-Length is not a number of bytes")?;
            if known > BODY_MAX {
                return Err(format!("a message is longer than {BODY_MAX} bytes"));
            }
            length = Some(known);
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

fn body(input: &mut dyn BufRead, length: u64) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let read = input.take(length).read_to_end(&mut bytes);
    read.map_err(|error| format!("the input cannot be read: {error}"))?;
    if bytes.len() as u64 == length { Ok(bytes) } else { Err("the input ends within a message".to_owned()) }
}

/// Writes a message in its frame, what would not show in it as an escape.
pub(super) fn write(output: &mut dyn Write, message: &Value) -> std::io::Result<()> {
    let body = escaped(message.to_string());
    write!(output, "Content-Length: {}\r\n\r\n{body}", body.len())?;
    output.flush()
}
