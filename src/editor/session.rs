//! A session with an editor. Only an unreadable frame ends it early, since what follows cannot be parsed.

use std::collections::BTreeMap;
use std::io::{BufRead, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};

use gen_lsp_types::json_rpc::{Id, RequestObject};
use gen_lsp_types::{
    DidChangeTextDocumentParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams, ErrorCodes,
};
use serde_json::{Value, json};

use super::documents::{Desk, Document, Documents};
use super::frames::{BODY_MAX, Frame, Outline, OutlineDocument};
use super::positions::Encoding;
use super::refusal::{Refusal, params};
use super::view::{Lent, View};
use super::{
    abilities, actions, completion, definition, diagnostics, folding, formatting, frames, hints, hover,
    links, references, rename, symbols,
};
use crate::check::Checker;
use crate::report::sanitise;

/// How a session ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// The editor sent `shutdown` before it left.
    Asked,
    /// The editor left without `shutdown`.
    Unasked,
}

/// The phase of a session.
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
    /// The number of documents opened so far.
    opened: u64,
    /// The state of earlier checks while there is no view.
    checker: Checker,
    /// The view of the current texts; `None` after a change.
    view: Option<View>,
    /// The last published diagnostics of each address, with the version of its text.
    told: BTreeMap<String, (Option<i32>, Value)>,
}

/// Serves one editor until it leaves. `lend` gives an empty desk for each view of the open texts.
///
/// # Errors
/// What is wrong with an unreadable frame.
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
        opened: 0,
        checker: Checker::default(),
        view: None,
        told: BTreeMap::new(),
    };
    while let Some(frame) = frames::read(input)? {
        let goes_on = match frame {
            Frame::Message(body) => session.message(&body),
            Frame::TooLong(outline) => session.refuse(outline).map(|()| true),
        };
        match goes_on {
            Ok(true) => {}
            // The editor is gone.
            Ok(false) | Err(_) => break,
        }
    }
    Ok(if session.phase == Phase::After { Ended::Asked } else { Ended::Unasked })
}

impl Session<'_> {
    /// Refuses a message over the limit. The text of a document that it opened or changed is then unknown.
    fn refuse(&mut self, outline: Outline) -> std::io::Result<()> {
        let message = format!("a message is longer than {BODY_MAX} bytes; it was skipped");
        let refusal = Refusal { code: ErrorCodes::InvalidRequest, message };
        self.reply(&outline.id.unwrap_or(Id::Null), Err(refusal))?;
        let OutlineDocument { uri, version } = outline.params.text_document;
        let is_new = outline.method == "textDocument/didOpen";
        let is_change = outline.method == "textDocument/didChange" && self.documents.contains_key(&uri);
        if self.phase == Phase::Open && (is_new || is_change) {
            self.put(uri, Document::unknown(version));
            self.changed()?;
        }
        Ok(())
    }

    /// Handles one message; `false` if it was the last.
    fn message(&mut self, body: &[u8]) -> std::io::Result<bool> {
        let value: Value = match serde_json::from_slice(body) {
            Ok(value) => value,
            Err(error) => {
                let refusal = Refusal { code: ErrorCodes::ParseError, message: error.to_string() };
                return self.reply(&Id::Null, Err(refusal)).map(|()| true);
            }
        };
        // A response without a request is ignored.
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
        // An unknown notification is ignored, as it has no response.
        if self.phase == Phase::Open && self.noted(method, given).is_some() {
            if matches!(method, "textDocument/didSave" | "workspace/didChangeWatchedFiles") {
                // Publish all diagnostics again.
                self.told.values_mut().for_each(|(_, told)| *told = Value::Null);
            }
            self.changed()?;
        }
        Ok(true)
    }

    /// Checks again after a change and publishes the diagnostics.
    fn changed(&mut self) -> std::io::Result<()> {
        self.forget_view();
        self.tell()
    }

    /// Drops the view but keeps its parsed files for the next.
    fn forget_view(&mut self) {
        if let Some(view) = self.view.take() {
            self.checker = view.checker;
        }
    }

    /// Stores a document; one that was open before keeps its number.
    fn put(&mut self, address: String, mut document: Document) {
        let known = self.documents.get(&address).map(|known| known.number);
        document.number = known.unwrap_or(self.opened);
        self.opened += u64::from(known.is_none());
        self.documents.insert(address, document);
    }

    /// Applies a change of the open texts; `None` if the notification is none.
    fn noted(&mut self, method: &str, given: Value) -> Option<()> {
        match method {
            "textDocument/didOpen" => {
                let opened: DidOpenTextDocumentParams = params(given).ok()?;
                let opened = opened.text_document;
                self.put(opened.uri.0, Document::new(opened.version, opened.text));
            }
            "textDocument/didChange" => {
                let changed: DidChangeTextDocumentParams = params(given).ok()?;
                let address = changed.text_document.text_document_identifier.uri.0;
                let document = self.documents.get_mut(&address)?;
                document.change(changed.text_document.version, changed.content_changes, self.encoding);
            }
            "textDocument/didClose" => {
                let closed: DidCloseTextDocumentParams = params(given).ok()?;
                self.documents.remove(&closed.text_document.uri.0)?;
            }
            // A file on the disk may have changed.
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
                    // These requests read the disk, which may have changed.
                    self.forget_view();
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

    /// The view of the current texts.
    fn looked(&mut self) -> (&mut View, Lent<'_>) {
        let lent = Lent { documents: &self.documents, desk: self.lend, encoding: self.encoding };
        let checker = &mut self.checker;
        (self.view.get_or_insert_with(|| View::of(lent, std::mem::take(checker))), lent)
    }

    /// Publishes the current diagnostics where they differ from the last.
    fn tell(&mut self) -> std::io::Result<()> {
        let looked = catch_unwind(AssertUnwindSafe(|| _ = self.looked().0));
        let Some(view) = self.view.as_ref().filter(|_| looked.is_ok()) else { return Ok(()) };
        let mut all = diagnostics::all(view, &self.documents);
        let before = std::mem::take(&mut self.told);
        for address in before.keys() {
            all.entry(address.clone()).or_default();
        }
        for (address, found) in all {
            let version = self.documents.get(&address).map(|document| document.version);
            let told = (version, json!(found));
            let is_known = before.get(&address) == Some(&told);
            if !is_known {
                let mut given = json!({ "uri": address, "diagnostics": told.1 });
                if let (Some(version), Some(given)) = (version, given.as_object_mut()) {
                    given.insert("version".to_owned(), json!(version));
                }
                let method = "textDocument/publishDiagnostics";
                let message = json!({ "jsonrpc": "2.0", "method": method, "params": given });
                frames::write(self.output, &message)?;
            }
            if !found.is_empty() || version.is_some() {
                self.told.insert(address, told);
            }
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

/// Whether the response needs files that no open text uses.
fn far_reaching(method: &str) -> bool {
    matches!(method, "textDocument/references" | "textDocument/rename")
}

/// The response to a request about the open texts.
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
