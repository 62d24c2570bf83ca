//! The same inputs in an editor: one session for a family, which opens, queries and closes each file. If a session
//! ends, the next file starts another.

use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use serde_json::{Value, json};
use tempfile::TempDir;

use super::{CPU_SECONDS_MAX, Input, WALL_SECONDS_MAX, limited, unfit};

/// The protocol's code of an internal error.
const OWN_FAULT: i64 = -32603;

/// The requests for each file.
const QUESTIONS: [&str; 9] = [
    "hover",
    "completion",
    "formatting",
    "documentSymbol",
    "foldingRange",
    "documentLink",
    "inlayHint",
    "codeAction",
    "references",
];

/// A session and its output.
struct Session {
    program: Child,
    input: ChildStdin,
    heard: Receiver<Vec<u8>>,
    asked: i64,
}

/// Everything that is wrong with a family.
pub(super) fn faults(inputs: &[Input]) -> Vec<String> {
    let home = TempDir::new().unwrap();
    let seconds = CPU_SECONDS_MAX * u32::try_from(inputs.len()).unwrap();
    let mut session: Option<Session> = None;
    let mut faults = Vec::new();
    for (at, input) in inputs.iter().enumerate() {
        let shelf = std::fs::canonicalize(input.written(&home.path().join(at.to_string()))).unwrap();
        let (_, bytes) = input.files.iter().find(|(path, _)| path == Path::new("a.wet")).unwrap();
        let talking = session.get_or_insert_with(|| Session::begun(home.path(), seconds));
        let uri = format!("file://{}", shelf.join("a.wet").display());
        if let Err(fault) = talking.goes_through(&uri, &String::from_utf8_lossy(bytes)) {
            faults.push(format!("the editor with {}: {fault}", input.name));
            faults.extend(session.take().and_then(Session::stopped));
        }
    }
    if let Some(mut session) = session {
        let shut = session.answer("shutdown", &Value::Null);
        faults.extend(shut.err().map(|fault| format!("the editor at its end: {fault}")));
        session.tells("exit", &Value::Null);
        faults.extend(session.ended());
    }
    faults
}

impl Session {
    fn begun(folder: &Path, seconds: u32) -> Session {
        let mut command = limited(seconds);
        command.arg("editor").current_dir(folder).env_clear();
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut program = command.spawn().unwrap();
        let (input, output) = (program.stdin.take().unwrap(), program.stdout.take().unwrap());
        let (tell, heard) = channel();
        // A thread reads, so that a program that stops answering is detected.
        std::thread::spawn(move || {
            let mut output = BufReader::new(output);
            while let Some(body) = body(&mut output) {
                if tell.send(body).is_err() {
                    break;
                }
            }
        });
        let mut session = Session { program, input, heard, asked: 0 };
        session.answer("initialize", &json!({ "capabilities": {} })).unwrap();
        session
    }

    /// Opens a text, sends all requests, and closes it.
    fn goes_through(&mut self, uri: &str, text: &str) -> Result<(), String> {
        let document = json!({ "uri": uri, "languageId": "wetside", "version": 1, "text": text });
        self.tells("textDocument/didOpen", &json!({ "textDocument": document }));
        let lines = u32::try_from(text.lines().count()).unwrap();
        for question in QUESTIONS {
            for line in [0, lines / 2, lines.saturating_sub(2)] {
                let (start, end) =
                    (json!({ "line": 0, "character": 0 }), json!({ "line": lines, "character": 0 }));
                let asked = json!({
                    "textDocument": { "uri": uri },
                    "position": { "line": line, "character": 6 },
                    "range": { "start": start, "end": end },
                    "options": { "tabSize": 4, "insertSpaces": true },
                    "context": { "diagnostics": [], "includeDeclaration": true },
                });
                self.answer(&format!("textDocument/{question}"), &asked)?;
                if !matches!(question, "hover" | "completion") {
                    break;
                }
            }
        }
        self.tells("textDocument/didClose", &json!({ "textDocument": { "uri": uri } }));
        Ok(())
    }

    /// Sends a request and reads until its response; returns the first error.
    fn answer(&mut self, method: &str, params: &Value) -> Result<(), String> {
        self.asked += 1;
        self.sends(&json!({ "jsonrpc": "2.0", "id": self.asked, "method": method, "params": params }));
        loop {
            let heard = self.heard.recv_timeout(Duration::from_secs(WALL_SECONDS_MAX));
            let body = heard.map_err(|_| format!("{method} was not answered"))?;
            if let Some(fault) = unfit(&body) {
                return Err(format!("before the answer to {method} it {fault}"));
            }
            let message: Value = serde_json::from_slice(&body).map_err(|error| error.to_string())?;
            if message["id"] == self.asked {
                let fell = message["error"]["code"] == OWN_FAULT;
                return if fell { Err(format!("{method} fell over")) } else { Ok(()) };
            }
        }
    }

    fn tells(&mut self, method: &str, params: &Value) {
        self.sends(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    fn sends(&mut self, message: &Value) {
        let body = message.to_string();
        // If the program has ended, writing fails; the missing response shows it.
        let _ = write!(self.input, "Content-Length: {}\r\n\r\n{body}", body.len());
        let _ = self.input.flush();
    }

    /// The output of a session that was killed.
    fn stopped(mut self) -> Option<String> {
        let _ = self.program.kill();
        let mut said = Vec::new();
        let _ = self.program.stderr.take().unwrap().read_to_end(&mut said);
        self.program.wait().unwrap();
        Some(String::from_utf8_lossy(&said).into_owned()).filter(|said| !said.is_empty())
    }

    /// What is wrong with the end of the session.
    fn ended(self) -> Option<String> {
        let Session { mut program, input, heard: _, asked: _ } = self;
        drop(input);
        let mut said = Vec::new();
        let _ = program.stderr.take().unwrap().read_to_end(&mut said);
        let status = program.wait().unwrap();
        let fault = unfit(&said).map(|fault| format!("the editor's standard error {fault}"));
        fault.or_else(|| (!status.success()).then(|| format!("the editor ended with {status}")))
    }
}

fn body(output: &mut impl BufRead) -> Option<Vec<u8>> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if output.read_line(&mut line).ok()? == 0 {
            return None;
        }
        match line.trim_end().strip_prefix("Content-Length: ") {
            Some(bytes) => length = bytes.parse().ok()?,
            None => break,
        }
    }
    let mut body = vec![0; length];
    output.read_exact(&mut body).ok()?;
    Some(body)
}
