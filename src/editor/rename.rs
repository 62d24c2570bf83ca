//! Rename: a declared name in every file that is open or used, or a prefix in its own file. A new name
//! that is none, or that would mean two things somewhere, is refused.

use gen_lsp_types::{PrepareRenameParams, RenameParams};
use serde_json::{Value, json};

use super::references::declaration_at;
use super::refusal::Refusal;
use super::view::{View, touches};
use crate::check::is_free_name;
use crate::source::{Edit, FileId, Span};
use crate::vocabulary::Declared;

/// What can be renamed at a place.
enum Named {
    /// A declaration, as a place in the list of them.
    Declaration(usize),
    /// A prefix of this file.
    Prefix(String),
}

/// The place of the name that would change.
pub(super) fn prepare(view: &View, params: &PrepareRenameParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    Ok(named(view, file, byte).map_or(
        Value::Null,
        |(span, _)| json!({ "range": view.range(span), "placeholder": view.sources.slice(span) }),
    ))
}

/// The changes that give the name at a place another one.
pub(super) fn answer(view: &View, params: &RenameParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    let new = params.new_name.as_str();
    let Some((_, named)) = named(view, file, byte) else {
        return Err(Refusal::failed("there is no name here that was declared in these files"));
    };
    if !is_free_name(new) {
        return Err(Refusal::failed(
            "a name has small letters, digits and single hyphens, begins with a letter and is no word of the language",
        ));
    }
    let places = match named {
        Named::Declaration(target) => {
            clashes(view, target, new)?;
            let names = &view.survey.names;
            let own = names.declarations.get(target).map(|known| known.span);
            let said = names.mentions.iter().filter(|mention| mention.declaration == target);
            own.into_iter().chain(said.map(|mention| mention.bare())).collect()
        }
        Named::Prefix(old) => prefix_places(view, file, &old, new)?,
    };
    let edits: Vec<Edit> = places.into_iter().map(|span| Edit { span, text: new.to_owned() }).collect();
    Ok(view.changes(&edits))
}

fn named(view: &View, file: FileId, byte: u32) -> Option<(Span, Named)> {
    let names = &view.survey.names;
    let prefix = |span: Span| (span, Named::Prefix(view.sources.slice(span).to_owned()));
    let given = names.uses.iter().filter_map(|used| used.prefix.as_ref());
    if let Some((_, span)) = given.into_iter().find(|(_, span)| touches(*span, file, byte)) {
        return Some(prefix(*span));
    }
    if let Some(mention) = names.mentions.iter().find(|mention| touches(mention.span, file, byte)) {
        let on_prefix = mention.prefix.filter(|span| touches(*span, file, byte));
        let on_name = || (mention.bare(), Named::Declaration(mention.declaration));
        return Some(on_prefix.map_or_else(on_name, prefix));
    }
    let target = declaration_at(view, file, byte)?;
    Some((names.declarations.get(target)?.span, Named::Declaration(target)))
}

/// Refuses a name that would mean two things in a file that can say the declaration.
fn clashes(view: &View, target: usize, new: &str) -> Result<(), Refusal> {
    let names = &view.survey.names;
    let Some(known) = names.declarations.get(target) else { return Ok(()) };
    for file in names.files() {
        let scope = names.in_scope(file, known.kind);
        for (written, _) in scope.iter().filter(|(_, at)| *at == target) {
            let becomes = match written.rsplit_once('/') {
                Some((prefix, _)) => format!("{prefix}/{new}"),
                None => new.to_owned(),
            };
            if scope.iter().any(|(other, at)| *other == becomes && *at != target) {
                let (kind, there) = (known.kind.words(), view.sources.name(file));
                let message = format!("{there} has {kind} of the name {becomes} already");
                return Err(Refusal::failed(message));
            }
        }
    }
    Ok(())
}

/// Every place of a file that says a prefix. Two files may share one, so a name is looked for under it.
fn prefix_places(view: &View, file: FileId, old: &str, new: &str) -> Result<Vec<Span>, Refusal> {
    let names = &view.survey.names;
    let under = format!("{new}/");
    let taken = Declared::ALL
        .iter()
        .any(|kind| names.in_scope(file, *kind).iter().any(|(written, _)| written.starts_with(&under)));
    if taken && old != new {
        return Err(Refusal::failed(format!("this file has names under the prefix {new} already")));
    }
    let given = names.uses.iter().filter(|used| used.path.file == file);
    let given = given.filter_map(|used| used.prefix.as_ref()).filter(|(name, _)| name == old);
    let said = names.mentions.iter().filter(|mention| mention.span.file == file);
    let said = said.filter_map(|mention| mention.prefix).filter(|span| view.sources.slice(*span) == old);
    Ok(given.map(|(_, span)| *span).chain(said).collect())
}
