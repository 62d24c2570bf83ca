//! Document links: from the path of every `use` to its file.

use gen_lsp_types::DocumentLinkParams;
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::view::{LISTED_MAX, View};

/// The links of a file.
pub(super) fn answer(view: &View, params: &DocumentLinkParams) -> Result<Value, Refusal> {
    let file = view.file(&params.text_document.uri)?;
    let own = view.survey.names.uses.iter().filter(|used| used.path.file == file).take(LISTED_MAX);
    let links = own.map(|used| json!({ "range": view.range(used.path), "target": view.uri(used.file) }));
    Ok(Value::Array(links.collect()))
}
