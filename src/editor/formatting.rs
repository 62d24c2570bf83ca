//! Formatting: the standard layout of the whole text, if its blocks pair.

use gen_lsp_types::{DocumentFormattingParams, TextEdit};
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::view::View;
use crate::source::Span;
use crate::tidy::tidy;

/// One edit of the whole text, or none if nothing changes or the text is damaged.
pub(super) fn answer(view: &View, params: &DocumentFormattingParams) -> Result<Value, Refusal> {
    let file = view.file(&params.text_document.uri)?;
    let text = view.sources.text(file);
    let Some(tidied) = tidy(&view.sources, file).ok().filter(|tidied| tidied.text != text) else {
        return Ok(json!([]));
    };
    let end = u32::try_from(text.len()).unwrap_or(u32::MAX);
    let whole = view.range(Span { file, start: 0, end });
    Ok(json!([TextEdit { range: whole, new_text: tidied.text }]))
}
