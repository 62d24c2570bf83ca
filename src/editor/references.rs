//! References: all mentions of a name in the open texts, the files they use, and the other files below the root.

use gen_lsp_types::{Location, ReferenceParams};
use serde_json::{Value, json};

use super::far;
use super::named::{Named, made, named, said};
use super::refusal::Refusal;
use super::view::{Lent, View};

/// The mentions of the name at a position, with its declaration if requested. If the root has too many files, only
/// those in the open texts and the files they use.
pub(super) fn answer(view: &View, lent: Lent<'_>, params: &ReferenceParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    let Some(target) = named(view, file, byte).map(|(_, target)| target) else { return Ok(json!([])) };
    let own = made(view, &target).filter(|_| params.context.include_declaration);
    let mut others: Vec<Location> = said(view, &target).into_iter().map(|span| view.location(span)).collect();
    others.sort_by(|a, b| a.uri.0.cmp(&b.uri.0));
    let mut found: Vec<Location> = own.map(|span| view.location(span)).into_iter().chain(others).collect();
    let mut add = |view: &View, same: &Named| {
        found.extend(far::own(view, said(view, same)).into_iter().map(|span| view.location(span)));
        Ok(())
    };
    far::through(view, lent, (file, &target), &mut add)?;
    Ok(json!(found))
}
