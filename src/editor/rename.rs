//! Rename: a declaration, step or bottle in every file that mentions it, or a prefix in its file. An invalid or
//! ambiguous new name is refused.

use std::collections::BTreeMap;

use gen_lsp_types::{PrepareRenameParams, RenameParams, TextEdit};
use serde_json::{Value, json};

use super::far;
use super::named::{Named, made, named, said};
use super::refusal::Refusal;
use super::view::{Lent, View};
use crate::check::{MemberKind, is_free_name};
use crate::source::{Edit, FileId, Span};
use crate::vocabulary::Declared;

/// The span of the name.
pub(super) fn prepare(view: &View, params: &PrepareRenameParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    let target = named(view, file, byte).filter(|(_, target)| bears_name(view, target));
    Ok(target.map_or(
        Value::Null,
        |(span, _)| json!({ "range": view.range(span), "placeholder": view.sources.slice(span) }),
    ))
}

/// The edits that rename the name at a position.
pub(super) fn answer(view: &View, lent: Lent<'_>, params: &RenameParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    let new = params.new_name.as_str();
    let Some((_, target)) = named(view, file, byte) else {
        return Err(Refusal::failed("there is no name here that was declared in these files"));
    };
    if !bears_name(view, &target) {
        return Err(Refusal::failed(
            "this step has no name; write one behind its kind, such as develop second",
        ));
    }
    if !is_free_name(new) {
        return Err(Refusal::failed(
            "a name has small letters, digits and single hyphens, begins with a letter and is no word of the language",
        ));
    }
    clashes(view, &target, new)?;
    let mut places: Vec<Span> = made(view, &target).into_iter().collect();
    places.extend(said(view, &target));
    if let Some(other) = places.iter().find(|place| !view.are_of_one_root(file, place.file)) {
        let message =
            format!("{} belongs to another root, so nothing was changed", view.sources.name(other.file));
        return Err(Refusal::failed(message));
    }
    let mut changes = edits(view, places, new);
    let mut add = |view: &View, same: &Named| {
        clashes(view, same, new)?;
        changes.append(&mut edits(view, far::own(view, said(view, same)), new));
        Ok(())
    };
    if !far::through(view, lent, (file, &target), &mut add)? {
        let message = "there are too many files below the root of this one to look through them all, so nothing was changed";
        return Err(Refusal::failed(message));
    }
    Ok(json!({ "changes": changes }))
}

fn edits(view: &View, places: Vec<Span>, new: &str) -> BTreeMap<String, Vec<TextEdit>> {
    let edits: Vec<Edit> = places.into_iter().map(|span| Edit { span, text: new.to_owned() }).collect();
    view.edits(&edits)
}

/// Only a step may go without a name.
fn bears_name(view: &View, target: &Named) -> bool {
    match target {
        Named::Declaration(_) | Named::Prefix(..) => true,
        Named::Member(at) => {
            view.survey.names.members.all.get(*at).is_some_and(|member| member.name.is_some())
        }
    }
}

/// Refuses a name that would be ambiguous in a file of this view.
fn clashes(view: &View, target: &Named, new: &str) -> Result<(), Refusal> {
    match target {
        Named::Declaration(at) => declared_clash(view, *at, new),
        Named::Member(at) => member_clash(view, *at, new),
        Named::Prefix(file, old) => prefix_clash(view, *file, old, new),
    }
}

fn declared_clash(view: &View, target: usize, new: &str) -> Result<(), Refusal> {
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

fn member_clash(view: &View, target: usize, new: &str) -> Result<(), Refusal> {
    let members = &view.survey.names.members;
    let Some(owner) = members.clash(target, new) else { return Ok(()) };
    let what = match members.all.get(target).map(|member| member.kind) {
        Some(MemberKind::Step(kind)) => format!("a step {} {new}", kind.word()),
        Some(MemberKind::Bottle) | None => format!("a bottle {new}"),
    };
    let (name, there) = (view.sources.slice(owner), view.sources.name(owner.file));
    Err(Refusal::failed(format!("{name} in {there} has {what} already")))
}

fn prefix_clash(view: &View, file: FileId, old: &str, new: &str) -> Result<(), Refusal> {
    let names = &view.survey.names;
    let under = format!("{new}/");
    let taken = Declared::ALL
        .iter()
        .any(|kind| names.in_scope(file, *kind).iter().any(|(written, _)| written.starts_with(&under)));
    if taken && old != new {
        return Err(Refusal::failed(format!("this file has names under the prefix {new} already")));
    }
    Ok(())
}
