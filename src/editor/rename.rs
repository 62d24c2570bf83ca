//! Rename: a declaration, step or bottle in every file that mentions it, or a prefix in its file. An invalid or
//! ambiguous new name is refused.

use std::collections::BTreeMap;

use gen_lsp_types::TextEdit;
use gen_lsp_types::json_rpc::Error;
use serde_json::{Value, json};

use super::places::Named;
use super::requests::{Request, failed};
use super::view::View;
use crate::check::{MemberKind, is_free_name};
use crate::source::{Edit, Span};
use crate::vocabulary::Declared;

/// The span of the name.
pub(super) fn prepare(view: &View, at: Span) -> Option<Value> {
    let (span, _) = Named::at(view, at).filter(|(_, named)| has_name(view, named))?;
    Some(json!({ "range": view.range(span), "placeholder": view.sources.slice(span) }))
}

/// The edits that rename the name at a position.
pub(super) fn rename(asked: &mut Request<'_, '_>) -> Result<Value, Error> {
    let new: &str = &asked.get::<String>("/newName")?;
    let (view, file) = (asked.view, asked.file);
    let Some((_, named)) = Named::at(view, asked.cursor()?) else {
        return Err(failed("there is no declared name at this position"));
    };
    if !has_name(view, &named) {
        return Err(failed("this step has no name; write one after its kind, such as develop second"));
    }
    if !is_free_name(new) {
        return Err(failed(
            "a name has small letters, digits and single hyphens, begins with a letter and is no word of the language",
        ));
    }
    refuse_clash(view, &named, new)?;
    let mut spans = named.mentions(view);
    spans.splice(..0, named.definition(view));
    let name = |span: &Span| view.sources.name(span.file);
    let is_foreign = |span: &&Span| !asked.texts.desk.are_of_one_root(view.sources.name(file), name(span));
    if let Some(other) = spans.iter().find(is_foreign) {
        return Err(failed(format!("{} belongs to another root, so nothing was changed", name(other))));
    }
    let mut changes = edits(view, spans, new);
    let Some(others) = named.elsewhere(view, asked.texts, file) else {
        return Err(failed("there are too many files below the root to search, so nothing was changed"));
    };
    for (other, same, mentions) in others {
        refuse_clash(&other, &same, new)?;
        changes.append(&mut edits(&other, mentions, new));
    }
    Ok(json!({ "changes": changes }))
}

fn edits(view: &View, spans: Vec<Span>, new: &str) -> BTreeMap<String, Vec<TextEdit>> {
    let edits: Vec<Edit> = spans.into_iter().map(|span| Edit { span, text: new.to_owned() }).collect();
    view.edits(&edits)
}

/// Only a step may be without a name.
fn has_name(view: &View, named: &Named) -> bool {
    let Named::Member(at) = named else { return true };
    view.survey.names.members.all.get(*at).is_some_and(|member| member.name.is_some())
}

/// Refuses a name that would be ambiguous in a file of this view.
fn refuse_clash(view: &View, named: &Named, new: &str) -> Result<(), Error> {
    let taken = match named {
        Named::Declaration(at) => declaration_clash(view, *at, new),
        Named::Member(at) => member_clash(view, *at, new),
        Named::Prefix(file, old) => {
            let under = format!("{new}/");
            let mut scopes = Declared::ALL.iter().map(|kind| view.survey.names.in_scope(*file, *kind));
            let is_taken = old != new
                && scopes.any(|scope| scope.iter().any(|(written, _)| written.starts_with(&under)));
            is_taken.then(|| format!("this file has names under the prefix {new} already"))
        }
    };
    taken.map_or(Ok(()), |taken| Err(failed(taken)))
}

fn declaration_clash(view: &View, target: usize, new: &str) -> Option<String> {
    let names = &view.survey.names;
    let kind = names.declarations.get(target)?.kind;
    names.files().find_map(|file| {
        let scope = names.in_scope(file, kind);
        scope.iter().filter(|(_, at)| *at == target).find_map(|(written, _)| {
            let becomes = match written.rsplit_once('/') {
                Some((prefix, _)) => format!("{prefix}/{new}"),
                None => new.to_owned(),
            };
            let is_taken = scope.iter().any(|(other, at)| *other == becomes && *at != target);
            let (there, kind) = (view.sources.name(file), kind.words());
            is_taken.then(|| format!("{there} has {kind} of the name {becomes} already"))
        })
    })
}

fn member_clash(view: &View, target: usize, new: &str) -> Option<String> {
    let members = &view.survey.names.members;
    let owner = members.clash(target, new)?;
    let member = match members.all.get(target)?.kind {
        MemberKind::Step(kind) => format!("step {} {new}", kind.word()),
        MemberKind::Bottle => format!("bottle {new}"),
    };
    let (name, there) = (view.sources.slice(owner), view.sources.name(owner.file));
    Some(format!("{name} in {there} has a {member} already"))
}
