//! An editor session about any text; the last bytes of the input choose the requests. Every request has a response
//! without control characters, and nothing panics.
#![no_main]

use std::io::BufReader;

use libfuzzer_sys::fuzz_target;
use serde_json::{Value, json};
use wetside::editor::{Desk, serve};
use wetside_fuzz::{Shared, harmless};

const ADDRESSES: [&str; 3] = ["file:///shelf/any.wet", "file:///shelf/films.wet", "untitled:one"];
const NAMES: [&str; 4] = ["another", "stop", "Not a name", "x-2"];
const QUESTIONS: [&str; 14] = [
    "hover",
    "completion",
    "definition",
    "references",
    "prepareRename",
    "rename",
    "formatting",
    "documentSymbol",
    "foldingRange",
    "documentLink",
    "inlayHint",
    "codeAction",
    "didChange",
    "didClose",
];
/// The largest number of messages.
const MESSAGES: usize = 8;
/// The number of bytes that choose a message.
const BYTES: usize = 4;

fn framed(message: &Value) -> String {
    let body = message.to_string();
    format!("Content-Length: {}\r\n\r\n{body}", body.len())
}

/// The message for these bytes.
fn message(id: usize, bytes: &[u8], text: &str) -> Value {
    let byte = |at: usize| usize::from(bytes.get(at).copied().unwrap_or(0));
    let question = QUESTIONS[byte(0) % QUESTIONS.len()];
    let place = json!({ "line": byte(1), "character": byte(2) });
    let end = json!({ "line": byte(1) + byte(3), "character": byte(3) });
    let range = json!({ "start": place, "end": end });
    let change = if byte(3) % 2 == 0 {
        json!({ "text": text })
    } else {
        json!({ "range": range, "text": "\u{feff}é\n" })
    };
    let mut message = json!({
        "jsonrpc": "2.0",
        "method": format!("textDocument/{question}"),
        "params": {
            "textDocument": { "uri": ADDRESSES[byte(0) / QUESTIONS.len() % ADDRESSES.len()], "version": id },
            "position": place,
            "range": range,
            "newName": NAMES[byte(3) % NAMES.len()],
            "options": { "tabSize": 4, "insertSpaces": true },
            "context": { "diagnostics": [], "includeDeclaration": true },
            "contentChanges": [change],
        },
    });
    if !question.starts_with("did") {
        message["id"] = json!(id);
    }
    message
}

fuzz_target!(|bytes: &[u8]| {
    let (text, asked) = bytes.split_at(bytes.len().saturating_sub(MESSAGES * BYTES));
    let text = String::from_utf8_lossy(text);
    let capabilities = json!({ "general": { "positionEncodings": if text.len() % 2 == 0 { ["utf-8"] } else { ["utf-16"] } } });
    let mut input = framed(
        &json!({ "jsonrpc": "2.0", "id": "i", "method": "initialize", "params": { "capabilities": capabilities } }),
    );
    for address in [ADDRESSES[0], ADDRESSES[2]] {
        let document = json!({ "uri": address, "languageId": "wetside", "version": 0, "text": text });
        input += &framed(
            &json!({ "jsonrpc": "2.0", "method": "textDocument/didOpen", "params": { "textDocument": document } }),
        );
    }
    let messages: Vec<Value> =
        asked.chunks(BYTES).enumerate().map(|(id, bytes)| message(id, bytes, &text)).collect();
    messages.iter().for_each(|message| input += &framed(message));
    input += &framed(&json!({ "jsonrpc": "2.0", "id": "s", "method": "shutdown" }));
    input += &framed(&json!({ "jsonrpc": "2.0", "method": "exit" }));
    let mut output = Vec::new();
    let lend = || Box::new(Shared::default()) as Box<dyn Desk>;
    let was_shut_down = serve(&mut BufReader::new(input.as_bytes()), &mut output, &lend);
    assert_eq!(was_shut_down, Ok(true));
    let said = String::from_utf8(output).expect("the output is UTF-8");
    harmless(&said);
    let answers = said.matches("\"id\":").count();
    let questions = messages.iter().filter(|message| message.get("id").is_some()).count();
    assert!(answers >= questions + 2, "{said}");
});
