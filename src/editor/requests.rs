//! The requests about a document.

use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use super::documents::Texts;
use super::protocol::{ErrorCode, Position, Range, Refusal};
use super::view::View;
use super::{completion, diagnostics, hover, layout, places};
use crate::source::{FileId, Span};

pub(super) struct Request<'a, 'b> {
    pub(super) view: &'a View,
    pub(super) texts: &'a mut Texts<'b>,
    pub(super) file: FileId,
    given: &'a Value,
}

type Answer = fn(&mut Request<'_, '_>) -> Result<Value, Refusal>;

/// The method of each request, without `textDocument/`, and the function that answers it.
const ANSWERS: [(&str, Answer); 12] = [
    ("codeAction", |asked| {
        Ok(json!(diagnostics::actions(asked.view, asked.range()?, asked.get("/context/only")?)))
    }),
    ("completion", |asked| Ok(json!(completion::completions(asked.view, asked.texts, asked.cursor()?)))),
    ("definition", |asked| Ok(json!(places::definition(asked.view, asked.cursor()?)))),
    ("documentLink", |asked| Ok(json!(places::links(asked.view, asked.file)))),
    ("documentSymbol", |asked| Ok(json!(layout::symbols(asked.view, asked.file)))),
    ("foldingRange", |asked| Ok(json!(layout::folds(asked.view, asked.file)))),
    ("formatting", |asked| Ok(json!(layout::formatted(asked.view, asked.file)))),
    ("hover", |asked| Ok(json!(hover::hover(asked.view, asked.cursor()?)))),
    ("inlayHint", |asked| Ok(json!(hover::hints(asked.view, asked.range()?)))),
    ("prepareRename", |asked| Ok(json!(places::prepare(asked.view, asked.cursor()?)))),
    ("references", places::references),
    ("rename", places::rename),
];

pub(super) fn answer(
    views: &mut [View],
    texts: &mut Texts<'_>,
    method: &str,
    given: &Value,
) -> Result<Value, Refusal> {
    let name = method.strip_prefix("textDocument/");
    let Some((_, answer)) = ANSWERS.iter().find(|(known, _)| Some(*known) == name) else {
        return Err(refusal(ErrorCode::MethodNotFound, format!("there is no method {method:?}")));
    };
    let address: String = field(given, "/textDocument/uri")?;
    let viewed = views.iter_mut().find_map(|view| Some((view.document(&address)?, view)));
    let Some((file, view)) = viewed else {
        return Err(refusal(ErrorCode::InvalidParams, "this document is not open"));
    };
    view.survey(texts);
    answer(&mut Request { view, texts, file, given })
}

impl Request<'_, '_> {
    pub(super) fn get<T: DeserializeOwned>(&self, path: &str) -> Result<T, Refusal> {
        field(self.given, path)
    }

    /// The empty span at the position of the request.
    pub(super) fn cursor(&self) -> Result<Span, Refusal> {
        let at: Position = self.get("/position")?;
        Ok(self.view.span(self.file, Range { start: at, end: at }))
    }

    fn range(&self) -> Result<Span, Refusal> {
        Ok(self.view.span(self.file, self.get("/range")?))
    }
}

/// The value at this JSON pointer in a request. A missing value is read as `null`.
pub(super) fn field<T: DeserializeOwned>(given: &Value, path: &str) -> Result<T, Refusal> {
    serde_json::from_value(given.pointer(path).cloned().unwrap_or_default())
        .map_err(|error| refusal(ErrorCode::InvalidParams, format!("{path}: {error}")))
}

pub(super) fn refusal(code: ErrorCode, message: impl Into<String>) -> Refusal {
    Refusal { code, message: message.into() }
}

pub(super) fn failed(message: impl Into<String>) -> Refusal {
    refusal(ErrorCode::RequestFailed, message)
}
