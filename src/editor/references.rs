//! References: every place that says a declared name, in all files that are open or used.

use gen_lsp_types::ReferenceParams;
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::view::{View, touches};
use crate::source::FileId;

/// The places that say the name at a place; its declaration too where it is asked for.
pub(super) fn answer(view: &View, params: &ReferenceParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    let Some(target) = declaration_at(view, file, byte) else { return Ok(json!([])) };
    let names = &view.survey.names;
    let own = names.declarations.get(target).filter(|_| params.context.include_declaration);
    let said = names.mentions.iter().filter(|mention| mention.declaration == target);
    let spans = own.map(|own| own.span).into_iter().chain(said.map(|mention| mention.bare()));
    Ok(json!(spans.map(|span| view.location(span)).collect::<Vec<_>>()))
}

/// Which declaration is said or made at a place.
pub(super) fn declaration_at(view: &View, file: FileId, byte: u32) -> Option<usize> {
    let names = &view.survey.names;
    let said = names.mentions.iter().find(|mention| touches(mention.span, file, byte));
    let made = || names.declarations.iter().position(|known| touches(known.span, file, byte));
    said.map(|mention| mention.declaration).or_else(made)
}
