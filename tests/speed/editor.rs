//! The editor: the time from a keystroke to its diagnostics in a file of 5,000 lines, through pipes.

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::Instant;

use serde_json::{Value, json};

use super::made::declarations;
use super::{Figure, median};

const LINES: usize = 5_000;
const KEYSTROKES: usize = 200;
/// The text that is typed again and again; each line has an error until it is complete.
const TYPED: &str = "    note      \"keep the lamp off\"\n";
const ADDRESS: &str = "file:///made/all.wet";

/// A session with the program.
struct Session {
    program: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
}

impl Session {
    fn begun() -> Session {
        let mut program = Command::new(env!("CARGO_BIN_EXE_wetside"))
            .arg("editor")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let input = program.stdin.take().unwrap();
        let output = BufReader::new(program.stdout.take().unwrap());
        let mut session = Session { program, input, output };
        let able = json!({ "general": { "positionEncodings": ["utf-8"] } });
        let asked = json!({ "processId": null, "rootUri": null, "capabilities": able });
        session.says(&json!({ "jsonrpc": "2.0", "id": 1, "method": "initialize", "params": asked }));
        session.hears();
        session
    }

    fn says(&mut self, message: &Value) {
        let body = message.to_string();
        self.input.write_all(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes()).unwrap();
        self.input.flush().unwrap();
    }

    /// The bytes of the next message; parsing it is not measured.
    fn hears(&mut self) -> Vec<u8> {
        let mut length = 0;
        loop {
            let mut line = String::new();
            assert!(self.output.read_line(&mut line).unwrap() > 0, "the program says nothing more");
            match line.trim_end().strip_prefix("Content-Length: ") {
                Some(bytes) => length = bytes.parse().unwrap(),
                None => break,
            }
        }
        let mut body = vec![0; length];
        self.output.read_exact(&mut body).unwrap();
        body
    }

    fn tells(&mut self, method: &str, params: Value) -> f64 {
        let message = json!({ "jsonrpc": "2.0", "method": method, "params": params });
        let start = Instant::now();
        self.says(&message);
        let told = self.hears();
        let millis = start.elapsed().as_secs_f64() * 1e3;
        let told: Value = serde_json::from_slice(&told).unwrap();
        assert_eq!(told["method"], "textDocument/publishDiagnostics");
        millis
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

pub(super) fn figures() -> Vec<Figure> {
    let mut text = "wetside 1\n\n".to_owned();
    for number in 0.. {
        if text.lines().count() >= LINES {
            break;
        }
        text.push_str(&declarations(number));
        text.push('\n');
    }
    // In the middle of the file, below the index of a recipe.
    let is_index = |(at, line): &(usize, &str)| *at > LINES / 2 && line.starts_with("    index");
    let mut line = text.lines().enumerate().find(is_index).unwrap().0 + 1;
    let mut session = Session::begun();
    session.tells("textDocument/didOpen", opened(ADDRESS, &text));
    let (mut column, mut waits) = (0, Vec::new());
    for (version, letter) in (1..).zip(TYPED.chars().cycle().take(KEYSTROKES)) {
        let place = json!({ "line": line, "character": column });
        let change = json!({ "range": { "start": place, "end": place }, "text": letter.to_string() });
        let document = json!({ "uri": ADDRESS, "version": version });
        let changed = json!({ "textDocument": document, "contentChanges": [change] });
        waits.push(session.tells("textDocument/didChange", changed));
        (line, column) = if letter == '\n' { (line + 1, 0) } else { (line, column + 1) };
    }
    drop(session);
    waits.sort_by(f64::total_cmp);
    let reached = waits.get(KEYSTROKES * 99 / 100 - 1).copied().unwrap();
    let edits = edited(&text, 4_000) / edited(&text, 1_000);
    let figure = |what, reached, unit, bar| Figure { what, reached, unit, bar: (bar, false) };
    vec![
        figure("a keystroke in 5,000 lines, 99th percentile", reached, "ms", 10.0),
        figure("a keystroke with 200 documents open, median", beside(200), "ms", 10.0),
        figure("4,000 edits of one message, to 1,000", edits, "times", 5.0),
    ]
}

/// Milliseconds for one message with this number of edits; a median of five.
fn edited(text: &str, count: usize) -> f64 {
    let run = |_| {
        let mut session = Session::begun();
        session.tells("textDocument/didOpen", opened(ADDRESS, text));
        let place = |at| json!({ "line": at % LINES, "character": 0 });
        let change = |at| json!({ "range": { "start": place(at), "end": place(at) }, "text": "# tide\n" });
        let changes: Vec<Value> = (0..count).map(change).collect();
        let document = json!({ "uri": ADDRESS, "version": 1 });
        let asked = json!({ "textDocument": document, "contentChanges": changes });
        session.tells("textDocument/didChange", asked)
    };
    median((0..5).map(run).collect())
}

/// Milliseconds for a keystroke in the last of `count` open documents.
fn beside(count: usize) -> f64 {
    let mut session = Session::begun();
    let address = |number| format!("file:///made/{number}.wet");
    for number in 0..count {
        let text = format!("wetside 1\n\n{}", declarations(number));
        session.tells("textDocument/didOpen", opened(&address(number), &text));
    }
    let place = json!({ "line": 1, "character": 0 });
    let mut typed = |version| {
        let change = json!({ "range": { "start": place, "end": place }, "text": "#" });
        let document = json!({ "uri": address(count - 1), "version": version });
        session
            .tells("textDocument/didChange", json!({ "textDocument": document, "contentChanges": [change] }))
    };
    median((1..=51).map(&mut typed).collect())
}

fn opened(address: &str, text: &str) -> Value {
    json!({ "textDocument": { "uri": address, "languageId": "wetside", "version": 0, "text": text } })
}
