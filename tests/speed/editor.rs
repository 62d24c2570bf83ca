//! The figure of the editor: how long after a keystroke its diagnostics come, in a file of five
//! thousand lines, over the pipes that an editor uses.

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::Instant;

use serde_json::{Value, json};

use super::Figure;
use super::made::declarations;

const LINES: usize = 5_000;
const KEYSTROKES: usize = 200;
/// What is typed, again and again: on the way to each line's end it is at fault.
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

    /// The next message, as its bytes: to understand it is the editor's time.
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
    let document = json!({ "uri": ADDRESS, "languageId": "wetside", "version": 0, "text": text });
    session.tells("textDocument/didOpen", json!({ "textDocument": document }));
    let (mut column, mut waits) = (0, Vec::new());
    for (version, letter) in (1..).zip(TYPED.chars().cycle().take(KEYSTROKES)) {
        let place = json!({ "line": line, "character": column });
        let change = json!({ "range": { "start": place, "end": place }, "text": letter.to_string() });
        let document = json!({ "uri": ADDRESS, "version": version });
        let changed = json!({ "textDocument": document, "contentChanges": [change] });
        waits.push(session.tells("textDocument/didChange", changed));
        (line, column) = if letter == '\n' { (line + 1, 0) } else { (line, column + 1) };
    }
    let Session { mut program, input, output } = session;
    drop((input, output));
    program.wait().unwrap();
    waits.sort_by(f64::total_cmp);
    let reached = waits.get(KEYSTROKES * 99 / 100 - 1).copied().unwrap();
    vec![Figure {
        what: "a keystroke in 5,000 lines, 99th percentile",
        reached,
        unit: "ms",
        bar: (10.0, false),
    }]
}
