//! What a name at a place means: a declaration, a step or a bottle, or a prefix; and every place of a look
//! that says the same.

use super::view::{View, touches};
use crate::source::{FileId, Span};

/// What is named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Named {
    /// A declaration, as a place in the list of them.
    Declaration(usize),
    /// A step or a bottle, as a place in the list of them.
    Member(usize),
    /// A prefix of this file.
    Prefix(FileId, String),
}

/// What is named at a place, and the place of the name; a step that goes without one has that of its kind.
pub(super) fn named(view: &View, file: FileId, byte: u32) -> Option<(Span, Named)> {
    let names = &view.survey.names;
    let prefix = |span: Span| (span, Named::Prefix(file, view.sources.slice(span).to_owned()));
    let given = names.uses.iter().filter_map(|used| used.prefix.as_ref());
    if let Some((_, span)) = given.into_iter().find(|(_, span)| touches(*span, file, byte)) {
        return Some(prefix(*span));
    }
    if let Some(mention) = names.mentions.iter().find(|mention| touches(mention.span, file, byte)) {
        let on_prefix = mention.prefix.filter(|span| touches(*span, file, byte));
        let on_name = || (mention.bare(), Named::Declaration(mention.declaration));
        return Some(on_prefix.map_or_else(on_name, prefix));
    }
    if let Some((member, said)) = names.members.at(file, byte) {
        return Some((said.name.unwrap_or(said.span), Named::Member(member)));
    }
    let target = names.declarations.iter().position(|known| touches(known.span, file, byte))?;
    Some((names.declarations.get(target)?.span, Named::Declaration(target)))
}

/// Where it is made: its declaration, its first header, or the `use` that gives the prefix.
pub(super) fn made(view: &View, named: &Named) -> Option<Span> {
    let names = &view.survey.names;
    match named {
        Named::Declaration(at) => names.declarations.get(*at).map(|known| known.span),
        Named::Member(at) => {
            names.members.all.get(*at).map(|member| member.made.name.unwrap_or(member.made.span))
        }
        Named::Prefix(file, word) => given(view, *file, word).next(),
    }
}

/// Every other place that says it, in the order of files and places.
pub(super) fn said(view: &View, named: &Named) -> Vec<Span> {
    let names = &view.survey.names;
    let mut places: Vec<Span> = match named {
        Named::Declaration(at) => {
            let said = names.mentions.iter().filter(|mention| mention.declaration == *at);
            said.map(|mention| mention.bare()).collect()
        }
        Named::Member(at) => {
            let said = names.members.all.get(*at).into_iter().flat_map(|member| &member.said);
            said.map(|said| said.name.unwrap_or(said.span)).collect()
        }
        Named::Prefix(file, word) => {
            let said = names.mentions.iter().filter(|mention| mention.span.file == *file);
            let said = said.filter_map(|mention| mention.prefix);
            let said = said.filter(|span| view.sources.slice(*span) == word);
            given(view, *file, word).skip(1).chain(said).collect()
        }
    };
    places.sort_unstable();
    places
}

/// The places where a file gives a prefix. Two files may share one.
fn given<'a>(view: &'a View, file: FileId, word: &'a str) -> impl Iterator<Item = Span> + 'a {
    let own = view.survey.names.uses.iter().filter(move |used| used.path.file == file);
    own.filter_map(|used| used.prefix.as_ref()).filter(move |(name, _)| name == word).map(|(_, span)| *span)
}
