//! A small editor: it starts the program and exchanges messages of the protocol with it.

use std::io::{BufRead, BufReader, Read, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::{Value, json};
use tempfile::TempDir;

/// A running session, in a folder of its own.
pub(super) struct Client {
    program: Child,
    input: Option<ChildStdin>,
    output: BufReader<ChildStdout>,
    folder: TempDir,
    last: i64,
}

impl Client {
    /// Starts the program without a message.
    pub(super) fn started() -> Client {
        Client::started_with(&[])
    }

    fn started_with(arguments: &[&str]) -> Client {
        let folder = TempDir::new().unwrap();
        let mut program = Command::new(env!("CARGO_BIN_EXE_wetside"))
            .arg("editor")
            .args(arguments)
            .current_dir(folder.path())
            .env_clear()
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let input = program.stdin.take();
        let output = BufReader::new(program.stdout.take().unwrap());
        Client { program, input, output, folder, last: 0 }
    }

    /// Starts the program and begins a session, with these encodings.
    pub(super) fn begun(encodings: &[&str]) -> Client {
        Client::started().begins(encodings)
    }

    /// Starts the program with this argument and begins a session in bytes.
    pub(super) fn begun_with(argument: &str) -> Client {
        Client::started_with(&[argument]).begins(&["utf-8"])
    }

    fn begins(mut self, encodings: &[&str]) -> Client {
        let client = &mut self;
        let capabilities = json!({ "general": { "positionEncodings": encodings } });
        let answer = client.request(
            "initialize",
            json!({ "processId": null, "rootUri": null, "capabilities": capabilities }),
        );
        assert_eq!(answer["serverInfo"]["name"], "wetside");
        client.notify("initialized", json!({}));
        self
    }

    /// Writes a file of the session's folder.
    pub(super) fn file(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }

    /// The path of a file in the session's folder.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        std::fs::canonicalize(self.folder.path()).unwrap().join(name)
    }

    /// The address of a file of the session's folder.
    pub(super) fn uri(&self, name: &str) -> String {
        format!("file://{}", self.path(name).display())
    }

    /// Bytes as they are.
    pub(super) fn raw(&mut self, bytes: &[u8]) {
        // A program that has ended reads no more; `left` returns its status.
        let _ =
            self.input.as_mut().unwrap().write_all(bytes).and_then(|()| self.input.as_mut().unwrap().flush());
    }

    /// A body in its frame.
    pub(super) fn framed(&mut self, body: &str) {
        self.raw(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes());
    }

    /// A notification.
    pub(super) fn notify(&mut self, method: &str, params: Value) {
        self.framed(&json!({ "jsonrpc": "2.0", "method": method, "params": params }).to_string());
    }

    /// The next message of the program.
    pub(super) fn receive(&mut self) -> Value {
        let mut length = 0;
        loop {
            let mut line = String::new();
            assert!(0 < self.output.read_line(&mut line).unwrap(), "the program ended early");
            match line.trim_end().strip_prefix("Content-Length: ") {
                Some(bytes) => length = bytes.parse().unwrap(),
                None => break,
            }
        }
        let mut body = vec![0; length];
        self.output.read_exact(&mut body).unwrap();
        serde_json::from_slice(&body).unwrap()
    }

    /// Sends a request and returns its response; notifications before it are skipped.
    pub(super) fn answer(&mut self, method: &str, params: Value) -> Value {
        self.last += 1;
        let id = self.last;
        self.framed(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }).to_string());
        loop {
            let message = self.receive();
            if message["id"] == id {
                return message;
            }
        }
    }

    /// The result of a request that succeeds.
    pub(super) fn request(&mut self, method: &str, params: Value) -> Value {
        let answer = self.answer(method, params);
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// The code and message of a request that is refused.
    pub(super) fn refused(&mut self, method: &str, params: Value) -> (i64, String) {
        let answer = self.answer(method, params);
        let error = answer.get("error").unwrap_or_else(|| panic!("{method} was answered: {answer}"));
        (error["code"].as_i64().unwrap(), error["message"].as_str().unwrap().to_owned())
    }

    /// Opens a text and returns its diagnostics.
    pub(super) fn open(&mut self, name: &str, text: &str) -> Vec<Value> {
        let uri = self.uri(name);
        let document = json!({ "uri": uri, "languageId": "wetside", "version": 1, "text": text });
        self.notify("textDocument/didOpen", json!({ "textDocument": document }));
        self.diagnostics(&uri)
    }

    /// Replaces a text and returns its diagnostics.
    pub(super) fn change(&mut self, name: &str, version: i64, text: &str) -> Vec<Value> {
        let uri = self.uri(name);
        let document = json!({ "uri": uri, "version": version });
        let changes = json!([{ "text": text }]);
        self.notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
        self.diagnostics(&uri)
    }

    /// The next diagnostics that are published for an address.
    pub(super) fn diagnostics(&mut self, uri: &str) -> Vec<Value> {
        loop {
            let message = self.receive();
            if message["method"] == "textDocument/publishDiagnostics" && message["params"]["uri"] == uri {
                return message["params"]["diagnostics"].as_array().unwrap().clone();
            }
        }
    }

    /// The result of a request about a position.
    pub(super) fn at(&mut self, method: &str, name: &str, (line, character): (u32, u32)) -> Value {
        let params = self.place(name, (line, character));
        self.request(method, params)
    }

    /// The parameters that name a place.
    pub(super) fn place(&self, name: &str, (line, character): (u32, u32)) -> Value {
        json!({
            "textDocument": { "uri": self.uri(name) },
            "position": { "line": line, "character": character },
        })
    }

    /// The changes of a rename, by address.
    pub(super) fn renamed(&mut self, name: &str, at: (u32, u32), new: &str) -> Value {
        let mut asked = self.place(name, at);
        asked["newName"] = json!(new);
        self.request("textDocument/rename", asked)["changes"].clone()
    }

    /// The message with which a rename is refused.
    pub(super) fn rename_refused(&mut self, name: &str, at: (u32, u32), new: &str) -> String {
        let mut asked = self.place(name, at);
        asked["newName"] = json!(new);
        let (code, words) = self.refused("textDocument/rename", asked);
        // The protocol's code of a valid request that failed.
        assert_eq!(code, -32803, "{words}");
        words
    }

    /// The references of the name at a position, with its declaration.
    pub(super) fn references(&mut self, name: &str, at: (u32, u32)) -> Value {
        let mut asked = self.place(name, at);
        asked["context"] = json!({ "includeDeclaration": true });
        self.request("textDocument/references", asked)
    }

    /// The edits of formatting.
    pub(super) fn formatted(&mut self, name: &str) -> Value {
        let options = json!({ "tabSize": 4, "insertSpaces": true });
        let params = json!({ "textDocument": { "uri": self.uri(name) }, "options": options });
        self.request("textDocument/formatting", params)
    }

    /// Shuts the session down; fails unless the program ends with status 0 and no message.
    pub(super) fn ends_well(mut self) {
        assert_eq!(self.request("shutdown", Value::Null), Value::Null);
        self.notify("exit", Value::Null);
        assert_eq!(self.left(), (0, String::new()));
    }

    /// Closes the program's input and waits: its status and its standard error.
    pub(super) fn left(mut self) -> (i32, String) {
        drop(self.input.take());
        let status = self.program.wait().unwrap().code().unwrap();
        let mut said = String::new();
        self.program.stderr.take().unwrap().read_to_string(&mut said).unwrap();
        (status, said)
    }
}
