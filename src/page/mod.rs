//! The compiler in a page. It holds recipe files in memory and answers requests. Requests and answers are JSON
//! texts, so that a script in a browser needs no other interface.

mod desk;
mod evening;
mod shelf;
mod site;
mod tokens;

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

pub use shelf::{Film, Recipe, ShelfList, Solution, Tank};
pub use site::{Document, Site, site};

use crate::editor::Session;
use crate::report::{Finding, finding};
use crate::source::{Diagnostic, Map, NotRead, Sources};
use desk::MemoryDesk;

/// A text by which a WebAssembly module of this version can be recognised. The module contains the text because
/// [`Compiler::answer`] uses it.
pub const MARK: &str = concat!("wetside page module ", env!("CARGO_PKG_VERSION"));

/// Recipe files by name, shared between the compiler and its editor.
type Texts = Rc<RefCell<BTreeMap<String, String>>>;

/// A request from the script of a page.
#[derive(Deserialize)]
#[serde(tag = "ask", rename_all = "lowercase", deny_unknown_fields)]
enum Request {
    /// Replaces all recipe files of the compiler.
    Files { files: BTreeMap<String, String> },
    /// Replaces one recipe file of the compiler, or adds it.
    Text { file: String, text: String },
    /// Asks for [`MARK`], the text that tells the version.
    Version,
    /// Asks what the recipe files declare.
    List,
    /// Asks for a card in several forms.
    Card { evening: Box<evening::Evening>, forms: Vec<evening::Form> },
    /// Asks for a sheet for weighing a solution, as text.
    Sheet { file: String, solution: String, make: String },
    /// Asks for the kinds of a text's tokens, to colour them.
    Tokens { text: String },
    /// Passes a message of the language server protocol to the compiler's language server.
    Editor { message: Value },
}

/// Why a request has no answer.
#[derive(Debug, Serialize)]
struct Refusal {
    findings: Vec<Reason>,
}

#[derive(Debug, Serialize)]
#[serde(untagged)]
enum Reason {
    /// A diagnostic about a recipe file.
    Found(Finding),
    /// A mistake in the request, with lines of help.
    Asked { message: String, help: Vec<String> },
}

impl Refusal {
    fn asked(message: impl Into<String>, help: impl Into<String>) -> Refusal {
        Refusal { findings: vec![Reason::Asked { message: message.into(), help: vec![help.into()] }] }
    }

    fn found(sources: &Sources, found: &[Diagnostic]) -> Refusal {
        let findings = found.iter().map(|one| Reason::Found(finding(sources, one)));
        Refusal { findings: findings.collect() }
    }

    fn unread(file: &str, why: &NotRead) -> Refusal {
        Refusal::asked(format!("{file} cannot be read: {why}"), "choose a file of this shelf")
    }
}

/// A compiler that answers the requests of a page.
pub struct Compiler {
    texts: Texts,
    /// The result of the last check; `None` once a file has changed.
    last: Option<evening::Known>,
    /// The names of the tanks that each file declares. A file is missing if it was not searched since its last change.
    tanks: Map<String, Vec<String>>,
    editor: Session<'static>,
}

impl Default for Compiler {
    fn default() -> Compiler {
        let texts = Texts::default();
        let shared = Rc::clone(&texts);
        let editor = Session::new(move || Box::new(MemoryDesk(Rc::clone(&shared))));
        Compiler { texts, last: None, tanks: Map::new(), editor }
    }
}

impl Compiler {
    /// Answers a request in JSON: with `{"answer": …}`, or with `{"refused": {"findings": […]}}`.
    pub fn answer(&mut self, request: &str) -> String {
        let answer = match serde_json::from_str(request) {
            Ok(request) => self.answered(request),
            Err(error) => {
                Err(Refusal::asked(format!("this request is not understood: {error}"), "reload the page"))
            }
        };
        match answer {
            Ok(answer) => json!({ "answer": answer }).to_string(),
            Err(refusal) => json!({ "refused": refusal }).to_string(),
        }
    }

    fn answered(&mut self, request: Request) -> Result<Value, Refusal> {
        match request {
            Request::Files { files } => {
                *self.texts.borrow_mut() = files;
                self.last = None;
                self.tanks.clear();
                Ok(Value::Null)
            }
            Request::Text { file, text } => {
                self.tanks.remove(&file);
                self.texts.borrow_mut().insert(file, text);
                self.last = None;
                Ok(Value::Null)
            }
            Request::Version => Ok(json!(MARK)),
            Request::List => Ok(json!(shelf::listed(&MemoryDesk(Rc::clone(&self.texts))))),
            Request::Card { evening, forms } => self.card(&evening, &forms),
            Request::Sheet { file, solution, make } => self.sheet(&file, &solution, &make),
            Request::Tokens { text } => Ok(json!(tokens::tokens(&text))),
            Request::Editor { message } => Ok(json!(self.editor.answers(&message.to_string()))),
        }
    }
}
