//! A session with an editor. Only an invalid frame ends it early, since nothing after such a frame can be read.

use std::io::{BufRead, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};

use serde_json::{Value, json};

use super::documents::{Change, Desk, Texts};
use super::frames::{self, BODY_MAX, Frame, Outline, OutlineDocument};
use super::protocol::{Diagnostic, ErrorCode, Id, Refusal, Request};
use super::requests::{field, refusal};
use super::view::{Encoding, Group, View};
use super::{diagnostics, requests};
use crate::check::Checker;
use crate::report::sanitise;
use crate::source::{Map, Set};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Phase {
    Before,
    Open,
    After,
}

/// A session with an editor, which takes the editor's messages one by one.
pub struct Session<'a> {
    outgoing: Vec<Value>,
    phase: Phase,
    texts: Texts<'a>,
    /// Each view is a set of open documents that are checked together. No two views have a file in common.
    views: Vec<View>,
    /// The diagnostics last published for each address, and the version of the text at that time.
    published: Map<String, (Option<i32>, Value)>,
}

/// Serves one editor until it exits. `lend` makes a new [`Desk`]. Returns whether the editor sent `shutdown` before
/// `exit`.
///
/// # Errors
///
/// The header or the length of a message is invalid, so no later message can be read.
pub fn serve(
    input: &mut dyn BufRead,
    output: &mut dyn Write,
    lend: &dyn Fn() -> Box<dyn Desk>,
) -> Result<bool, String> {
    let mut session = Session::new(lend);
    while let Some(frame) = frames::read(input)? {
        let goes_on = match frame {
            Frame::Message(body) => session.message(&body),
            Frame::TooLong(outline) => {
                session.too_long(outline);
                true
            }
        };
        let mut outgoing = session.outgoing.drain(..);
        // An error in writing means that the editor is gone.
        if outgoing.try_for_each(|message| frames::write(output, &message)).is_err() || !goes_on {
            break;
        }
    }
    Ok(session.phase == Phase::After)
}

impl<'a> Session<'a> {
    /// A new session. `lend` makes a new [`Desk`].
    pub fn new(lend: impl Fn() -> Box<dyn Desk> + 'a) -> Session<'a> {
        let (documents, encoding) = (Map::new(), Encoding::default());
        Session {
            outgoing: Vec::new(),
            phase: Phase::Before,
            texts: Texts { documents, desk: lend(), encoding, lend: Box::new(lend) },
            views: Vec::new(),
            published: Map::new(),
        }
    }

    /// The session's answers to the message with this JSON text, in order.
    pub fn answers(&mut self, message: &str) -> Vec<Value> {
        self.message(message.as_bytes());
        std::mem::take(&mut self.outgoing)
    }
}

impl Session<'_> {
    /// Refuses a message over the limit. If it opened or changed a document, the text of that document is no longer
    /// known.
    fn too_long(&mut self, outline: Outline) {
        let message = format!("a message is longer than {BODY_MAX} bytes; it was skipped");
        let id = outline.id.unwrap_or(Id::Null);
        self.reply(&id, Err(refusal(ErrorCode::InvalidRequest, message)));
        let OutlineDocument { uri, version } = outline.params.document;
        let is_new = outline.method == "textDocument/didOpen";
        let is_change = outline.method == "textDocument/didChange" && self.texts.documents.contains_key(&uri);
        if self.phase == Phase::Open && (is_new || is_change) {
            let document = self.texts.open(uri);
            (document.version, document.whole) = (version, None);
            self.check(None);
        }
    }

    fn message(&mut self, body: &[u8]) -> bool {
        let request = match request_of(body) {
            Ok(Some(request)) => request,
            Ok(None) => return true,
            Err(error) => {
                self.reply(&Id::Null, Err(error));
                return true;
            }
        };
        let Request { id, method, params: given, .. } = request;
        match id {
            Some(id) => {
                // These two requests read files. The files may have changed, so all documents are checked again first.
                let reads = matches!(method.as_str(), "textDocument/references" | "textDocument/rename");
                if reads && self.phase == Phase::Open {
                    self.check(None);
                }
                let answer = self.request(&method, &given);
                self.reply(&id, answer);
            }
            None if method == "exit" => return false,
            None if self.phase == Phase::Open => {
                // A notification has no response, so an unknown or invalid one is ignored.
                if let Ok(changed) = self.notification(&method, &given) {
                    self.check(changed.as_deref());
                }
            }
            None => {}
        }
        true
    }

    /// Applies a notification. Returns the address of the changed document; `None` if any file may have changed.
    fn notification(&mut self, method: &str, given: &Value) -> Result<Option<String>, Refusal> {
        let texts = &mut self.texts;
        let address = || field::<String>(given, "/textDocument/uri");
        let version = || field(given, "/textDocument/version");
        let unknown = || refusal(ErrorCode::InvalidParams, "this document is not open");
        match method {
            "textDocument/didOpen" => {
                let (address, version) = (address()?, version()?);
                let text = field(given, "/textDocument/text")?;
                let encoding = texts.encoding;
                texts.open(address).change(version, vec![(None, text)], encoding);
            }
            "textDocument/didChange" => {
                let (address, version) = (address()?, version()?);
                let document = texts.documents.get_mut(&address).ok_or_else(unknown)?;
                let changes: Vec<Value> = field(given, "/contentChanges")?;
                let parsed =
                    changes.iter().map(|change| Ok((field(change, "/range")?, field(change, "/text")?)));
                document.change(version, parsed.collect::<Result<Vec<Change>, Refusal>>()?, texts.encoding);
                return Ok(Some(address));
            }
            "textDocument/didClose" => {
                texts.documents.remove(&address()?).ok_or_else(unknown)?;
            }
            "textDocument/didSave" | "workspace/didChangeWatchedFiles" => {
                // Forgets what was published, so that all diagnostics are published again.
                self.published.values_mut().for_each(|(_, found)| *found = Value::Null);
            }
            _ => return Err(refusal(ErrorCode::MethodNotFound, method)),
        }
        Ok(None)
    }

    /// Checks the changed document and those that share files with it, or all documents if `changed` is `None`. Then
    /// publishes the diagnostics that have changed.
    fn check(&mut self, changed: Option<&str>) {
        match changed {
            Some(address) => self.texts.lay(address),
            None => self.texts.reload(),
        }
        let is_stale = |view: &mut View| changed.is_none_or(|address| view.document(address).is_some());
        let stale: Vec<View> = self.views.extract_if(.., is_stale).collect();
        let addresses = stale.iter().flat_map(View::addresses);
        let mut all: Map<String, Vec<Diagnostic>> =
            addresses.map(|(_, address)| (address.clone(), Vec::new())).collect();
        let viewed: Set<&String> =
            self.views.iter().chain(&stale).flat_map(View::documents).map(|(_, address)| address).collect();
        let new = self.texts.documents.keys().filter(|address| !viewed.contains(address)).cloned();
        let new: Vec<Group> = new.map(|address| (Set::from([address]), Checker::default())).collect();
        for group in stale.into_iter().map(View::into_group).chain(new) {
            // If the check panics, these documents are checked again at the next change.
            _ = catch_unwind(AssertUnwindSafe(|| self.join(group)));
        }
        for view in self.views.iter_mut().filter(|view| !view.is_published) {
            view.is_published = true;
            all.extend(diagnostics::all(view, &self.texts.documents));
        }
        all.into_iter().for_each(|(address, found)| self.publish(address, &found));
    }

    fn join(&mut self, mut group: Group) {
        loop {
            let view = View::of(&mut self.texts, group);
            let joined: Vec<View> = self.views.extract_if(.., |other| other.meets(&view)).collect();
            if joined.is_empty() {
                self.views.extend(Some(view).filter(|view| !view.roots.is_empty()));
                return;
            }
            let groups = joined.into_iter().chain([view]).map(View::into_group);
            // The checker of the group with the most documents is kept, because it saves the most work.
            group = groups.fold(Group::default(), |mut one, mut other| {
                if one.0.len() < other.0.len() {
                    std::mem::swap(&mut one, &mut other);
                }
                one.0.extend(other.0);
                one
            });
        }
    }

    fn publish(&mut self, address: String, found: &[Diagnostic]) {
        let version = self.texts.documents.get(&address).map(|document| document.version);
        let now = (version, json!(found));
        let is_clear = version.is_none() && found.is_empty();
        let before = match is_clear {
            true => self.published.remove(&address),
            false => self.published.insert(address.clone(), now.clone()),
        };
        if before.as_ref() == Some(&now) || (before.is_none() && is_clear) {
            return;
        }
        let mut params = json!({ "uri": address, "diagnostics": now.1 });
        if let (Some(version), Some(params)) = (version, params.as_object_mut()) {
            params.insert("version".to_owned(), json!(version));
        }
        let method = "textDocument/publishDiagnostics";
        self.outgoing.push(json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    fn request(&mut self, method: &str, given: &Value) -> Result<Value, Refusal> {
        match (self.phase, method) {
            (Phase::Before, "initialize") => {
                let known =
                    given.pointer("/capabilities/general/positionEncodings").and_then(Value::as_array);
                if known.is_some_and(|known| known.iter().any(|one| one == "utf-8")) {
                    self.texts.encoding = Encoding::Utf8;
                }
                self.phase = Phase::Open;
                Ok(capabilities(self.texts.encoding))
            }
            (Phase::Before, _) => Err(refusal(ErrorCode::ServerNotInitialized, "send initialize first")),
            (Phase::Open, "shutdown") => {
                self.phase = Phase::After;
                Ok(Value::Null)
            }
            (Phase::Open, "initialize") => {
                Err(refusal(ErrorCode::InvalidRequest, "this session is already initialized"))
            }
            (Phase::After, _) => Err(refusal(ErrorCode::InvalidRequest, "this session is shut down")),
            (Phase::Open, _) => {
                let answer =
                    AssertUnwindSafe(|| requests::answer(&mut self.views, &mut self.texts, method, given));
                catch_unwind(answer).unwrap_or_else(|_| {
                    Err(refusal(ErrorCode::InternalError, "this is an error in wetside itself"))
                })
            }
        }
    }

    fn reply(&mut self, id: &Id, answer: Result<Value, Refusal>) {
        let (key, value) = match answer {
            Ok(result) => ("result", result),
            Err(mut error) => {
                error.message = sanitise(&error.message).into_owned();
                ("error", json!(error))
            }
        };
        self.outgoing.push(json!({ "jsonrpc": "2.0", "id": id, key: value }));
    }
}

fn request_of(body: &[u8]) -> Result<Option<Request>, Refusal> {
    let value: Value =
        serde_json::from_slice(body).map_err(|error| refusal(ErrorCode::ParseError, error.to_string()))?;
    if value.get("method").is_none() && value.get("result").or(value.get("error")).is_some() {
        return Ok(None);
    }
    let request = serde_json::from_value::<Request>(value).ok();
    match request.filter(|request| !request.method.is_empty()) {
        None => Err(refusal(ErrorCode::InvalidRequest, "this is not a message of the protocol")),
        request => Ok(request),
    }
}

fn capabilities(encoding: Encoding) -> Value {
    json!({
        "capabilities": {
            "positionEncoding": match encoding { Encoding::Utf8 => "utf-8", Encoding::Utf16 => "utf-16" },
            "textDocumentSync": { "openClose": true, "change": 2 },
            "codeActionProvider": { "codeActionKinds": ["quickfix"] },
            "hoverProvider": true,
            "definitionProvider": true,
            "referencesProvider": true,
            "renameProvider": { "prepareProvider": true },
            "completionProvider": { "triggerCharacters": [" ", "/"] },
            "documentLinkProvider": {},
            "documentSymbolProvider": true,
            "foldingRangeProvider": true,
            "documentFormattingProvider": true,
            "inlayHintProvider": true,
        },
        "serverInfo": { "name": "wetside", "version": env!("CARGO_PKG_VERSION") },
    })
}
