//! A session with an editor, from its first message to its last. Whatever it sends, the session goes
//! on; only a frame that cannot be read ends it, since nothing behind it can be understood.

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
    /// How many documents were opened.
    opened: u64,
    /// What is known from earlier checks while there is no look.
    checker: Checker,
    /// The look at the texts as they stand; none after a change.
    view: Option<View>,
    /// What was told last of each address, with the version that it was told of.
    told: BTreeMap<String, (Option<i32>, Value)>,
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
            // An editor that is gone cannot be told anything.
            Ok(false) | Err(_) => break,
        }
    }
    Ok(if session.phase == Phase::After { Ended::Asked } else { Ended::Unasked })
}

impl Session<'_> {
    /// Refuses a message over the limit. A document that it opened or changed is not known any more.
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
            if matches!(method, "textDocument/didSave" | "workspace/didChangeWatchedFiles") {
                // All that is found is told again.
                self.told.values_mut().for_each(|(_, told)| *told = Value::Null);
            }
            self.changed()?;
        }
        Ok(true)
    }

    /// Checks again after a change, and tells what is found.
    fn changed(&mut self) -> std::io::Result<()> {
        self.forget_view();
        self.tell()
    }

    /// Drops the look; what was parsed for it is kept for the next.
    fn forget_view(&mut self) {
        if let Some(view) = self.view.take() {
            self.checker = view.checker;
        }
    }

    /// Keeps a document, one that was open already in its place.
    fn put(&mut self, address: String, mut document: Document) {
        let known = self.documents.get(&address).map(|known| known.number);
        document.number = known.unwrap_or(self.opened);
        self.opened += u64::from(known.is_none());
        self.documents.insert(address, document);
    }

    /// Takes a change of the open texts; `None` if it is none.
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

    /// The look at the texts as they stand.
    fn looked(&mut self) -> (&mut View, Lent<'_>) {
        let lent = Lent { documents: &self.documents, desk: self.lend, encoding: self.encoding };
        let checker = &mut self.checker;
        (self.view.get_or_insert_with(|| View::of(lent, std::mem::take(checker))), lent)
    }

    /// Tells what the check finds now, and takes back what no longer holds.
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
