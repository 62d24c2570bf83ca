//! A session with an editor, from its first message to its last. Whatever it sends, the session goes
//! on; only a frame that cannot be read ends it, since nothing behind it can be understood.

use std::collections::BTreeSet;
use std::io::{BufRead, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};

use gen_lsp_types::json_rpc::{Id, RequestObject};
use gen_lsp_types::{
    DidChangeTextDocumentParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams, ErrorCodes,
};
use serde_json::{Value, json};

use super::documents::{Desk, Document, Documents};
use super::positions::Encoding;
use super::refusal::{Refusal, params};
use super::view::{Lent, View};
use super::{
    abilities, actions, completion, definition, diagnostics, folding, formatting, frames, hints, hover,
    links, references, rename, symbols,
};
use crate::report::sanitise;

/// How a session ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// As the protocol wants it: the editor asked for the end, then left.
    Asked,
    /// The editor left without a word.
    Unasked,
}

/// How far a session is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Phase {
    Before,
    Open,
    After,
}

struct Session<'a> {
    output: &'a mut dyn Write,
    lend: &'a dyn Fn() -> Box<dyn Desk>,
    phase: Phase,
    encoding: Encoding,
    documents: Documents,
    /// The look at the texts as they stand; none after a change.
    view: Option<View>,
    /// The addresses that something was told of.
    told: BTreeSet<String>,
}

/// Serves one editor until it leaves. `lend` gives an empty desk for each look at the open texts.
///
/// # Errors
/// What is wrong with a frame that could not be read, in words.
pub fn serve(
    input: &mut dyn BufRead,
    output: &mut dyn Write,
    lend: &dyn Fn() -> Box<dyn Desk>,
) -> Result<Ended, String> {
    let mut session = Session {
        output,
        lend,
        phase: Phase::Before,
        encoding: Encoding::Utf16,
        documents: Documents::new(),
        view: None,
        told: BTreeSet::new(),
    };
    while let Some(body) = frames::read(input)? {
        match session.message(&body) {
            Ok(true) => {}
            // An editor that is gone cannot be told anything.
            Ok(false) | Err(_) => break,
        }
    }
    Ok(if session.phase == Phase::After { Ended::Asked } else { Ended::Unasked })
}

impl Session<'_> {
    /// Takes one message; `false` if it was the last.
    fn message(&mut self, body: &[u8]) -> std::io::Result<bool> {
        let value: Value = match serde_json::from_slice(body) {
            Ok(value) => value,
            Err(error) => {
                let refusal = Refusal { code: ErrorCodes::ParseError, message: error.to_string() };
                return self.reply(&Id::Null, Err(refusal)).map(|()| true);
            }
        };
        // An answer to a question that was never asked is passed over.
        if value.get("method").is_none() && (value.get("result").or(value.get("error"))).is_some() {
            return Ok(true);
        }
        let request = match serde_json::from_value::<RequestObject>(value) {
            Ok(request) if !request.method().is_empty() => request,
            Ok(_) | Err(_) => {
                let message = "this is no message of the protocol".to_owned();
                let refusal = Refusal { code: ErrorCodes::InvalidRequest, message };
                return self.reply(&Id::Null, Err(refusal)).map(|()| true);
            }
        };
        let (method, id, given) = request.into_parts();
        let given = given.unwrap_or(Value::Null);
        match id {
            None => self.notification(&method, given),
            Some(id) => {
                let answer = self.request(&method, given);
                self.reply(&id, answer).map(|()| true)
            }
        }
    }

    fn notification(&mut self, method: &str, given: Value) -> std::io::Result<bool> {
        if method == "exit" {
            return Ok(false);
        }
        // What is not understood is passed over: a notification has no answer.
        if self.phase == Phase::Open && self.noted(method, given).is_some() {
            self.view = None;
            self.tell()?;
        }
        Ok(true)
    }

    /// Takes a change of the open texts; `None` if it is none.
    fn noted(&mut self, method: &str, given: Value) -> Option<()> {
        match method {
            "textDocument/didOpen" => {
                let opened: DidOpenTextDocumentParams = params(given).ok()?;
                let opened = opened.text_document;
                let document = Document::new(opened.version, &opened.text);
                self.documents.insert(opened.uri.0, document);
            }
            "textDocument/didChange" => {
                let changed: DidChangeTextDocumentParams = params(given).ok()?;
                let address = changed.text_document.text_document_identifier.uri.0;
                let mut document = self.documents.remove(&address)?;
                for change in changed.content_changes {
                    document = document.changed(changed.text_document.version, change, self.encoding);
                }
                self.documents.insert(address, document);
            }
            "textDocument/didClose" => {
                let closed: DidCloseTextDocumentParams = params(given).ok()?;
                self.documents.remove(&closed.text_document.uri.0)?;
            }
            // A file on the disk may be another now.
            "textDocument/didSave" | "workspace/didChangeWatchedFiles" => {}
            _ => return None,
        }
        Some(())
    }

    fn request(&mut self, method: &str, given: Value) -> Result<Value, Refusal> {
        let refused = |code, message: &str| Err(Refusal { code, message: message.to_owned() });
        match (self.phase, method) {
            (Phase::Before, "initialize") => {
                self.encoding = abilities::encoding(&given);
                self.phase = Phase::Open;
                Ok(abilities::offered(self.encoding))
            }
            (Phase::Before, _) => refused(ErrorCodes::ServerNotInitialized, "initialize comes first"),
            (Phase::Open, "shutdown") => {
                self.phase = Phase::After;
                Ok(Value::Null)
            }
            (Phase::Open, "initialize") => refused(ErrorCodes::InvalidRequest, "this session has begun"),
            (Phase::After, _) => refused(ErrorCodes::InvalidRequest, "this session is at its end"),
            (Phase::Open, _) => {
                if far_reaching(method) {
                    // What follows a name through the disk has to know what the disk holds now.
                    self.view = None;
                }
                let asked = AssertUnwindSafe(|| {
                    let (view, lent) = self.looked();
                    answer(view, lent, method, given)
                });
                catch_unwind(asked).unwrap_or_else(|_| {
                    refused(ErrorCodes::InternalError, "this is a fault of wetside itself")
                })
            }
        }
    }

    /// The look at the texts as they stand.
    fn looked(&mut self) -> (&mut View, Lent<'_>) {
        let lent = Lent { documents: &self.documents, desk: self.lend, encoding: self.encoding };
        (self.view.get_or_insert_with(|| View::of(lent)), lent)
    }

    /// Tells what the check finds now, and takes back what no longer holds.
    fn tell(&mut self) -> std::io::Result<()> {
        let looked = catch_unwind(AssertUnwindSafe(|| _ = self.looked().0));
        let Some(view) = self.view.as_ref().filter(|_| looked.is_ok()) else { return Ok(()) };
        let mut all = diagnostics::all(view, &self.documents);
        for address in std::mem::take(&mut self.told) {
            all.entry(address).or_default();
        }
        for (address, told) in all {
            let version = self.documents.get(&address).map(|document| document.version);
            if !told.is_empty() || version.is_some() {
                self.told.insert(address.clone());
            }
            let mut given = json!({ "uri": address, "diagnostics": told });
            if let (Some(version), Some(given)) = (version, given.as_object_mut()) {
                given.insert("version".to_owned(), json!(version));
            }
            let method = "textDocument/publishDiagnostics";
            let message = json!({ "jsonrpc": "2.0", "method": method, "params": given });
            frames::write(self.output, &message)?;
        }
        Ok(())
    }

    fn reply(&mut self, id: &Id, answer: Result<Value, Refusal>) -> std::io::Result<()> {
        let message = match answer {
            Ok(result) => json!({ "jsonrpc": "2.0", "id": id, "result": result }),
            Err(Refusal { code, message }) => {
                let message = sanitise(&message);
                json!({ "jsonrpc": "2.0", "id": id, "error": { "code": code, "message": message } })
            }
        };
        frames::write(self.output, &message)
    }
}

/// Whether the answer to a request goes past the open texts and what they use.
fn far_reaching(method: &str) -> bool {
    matches!(method, "textDocument/references" | "textDocument/rename")
}

/// The answer to a request about the open texts.
fn answer(view: &mut View, lent: Lent<'_>, method: &str, given: Value) -> Result<Value, Refusal> {
    match method {
        "textDocument/codeAction" => actions::answer(view, &params(given)?),
        "textDocument/documentSymbol" => symbols::answer(view, &params(given)?),
        "textDocument/foldingRange" => folding::answer(view, &params(given)?),
        "textDocument/formatting" => formatting::answer(view, &params(given)?),
        "textDocument/hover" => hover::answer(view.surveyed(), &params(given)?),
        "textDocument/definition" => definition::answer(view.surveyed(), &params(given)?),
        "textDocument/references" => references::answer(view.surveyed(), lent, &params(given)?),
        "textDocument/prepareRename" => rename::prepare(view.surveyed(), &params(given)?),
        "textDocument/rename" => rename::answer(view.surveyed(), lent, &params(given)?),
        "textDocument/completion" => completion::answer(view.surveyed(), &params(given)?),
        "textDocument/documentLink" => links::answer(view.surveyed(), &params(given)?),
        "textDocument/inlayHint" => hints::answer(view.surveyed(), &params(given)?),
        _ => {
            Err(Refusal { code: ErrorCodes::MethodNotFound, message: format!("there is no {method:?} here") })
        }
    }
}
