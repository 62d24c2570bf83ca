//! Go to definition: from a name to its declaration, a prefix to its `use`, a path to its file.

use gen_lsp_types::DefinitionParams;
use serde_json::{Value, json};

use super::named::{made, named};
use super::refusal::Refusal;
use super::view::{View, touches};
use crate::source::{FileId, Span};

/// The location of the definition.
pub(super) fn answer(view: &View, params: &DefinitionParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    Ok(target(view, file, byte).map_or(Value::Null, |span| json!(view.location(span))))
}

fn target(view: &View, file: FileId, byte: u32) -> Option<Span> {
    let names = &view.survey.names;
    if let Some(used) = names.uses.iter().find(|used| touches(used.path, file, byte)) {
        return Some(Span { file: used.file, start: 0, end: 0 });
    }
    made(view, &named(view, file, byte)?.1)
}
