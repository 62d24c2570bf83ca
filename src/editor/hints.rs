//! Inlay hints: each temperature in the other unit.

use gen_lsp_types::InlayHintParams;
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::view::{LISTED_MAX, View};
use crate::source::Span;

/// The hints within a range.
pub(super) fn answer(view: &View, params: &InlayHintParams) -> Result<Value, Refusal> {
    let file = view.file(&params.text_document.uri)?;
    let (start, end) = (view.byte(file, params.range.start), view.byte(file, params.range.end));
    let asked = |span: &Span| span.file == file && start <= span.end && span.end <= end;
    let hints = view.survey.temperatures.iter().filter(|(span, _)| asked(span)).map(|(span, warmth)| {
        let label = match view.sources.slice(*span).ends_with('F') {
            true => format!("{} °C", warmth.in_celsius(1)),
            false => format!("{} °F", warmth.in_fahrenheit(1)),
        };
        json!({ "position": view.range(*span).end, "label": label, "paddingLeft": true })
    });
    Ok(Value::Array(hints.take(LISTED_MAX).collect()))
}
