//! The meaning of a name at a position, and all its mentions in a view.

use super::view::{View, touches};
use crate::source::{FileId, Span};

/// The meaning of a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Named {
    /// A declaration, by its index.
    Declaration(usize),
    /// A step or a bottle, by its index.
    Member(usize),
    /// A prefix of this file.
    Prefix(FileId, String),
}

/// The meaning of the name at a position, with its span; a step without a name has the span of its kind.
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

/// The span of its declaration, its first header, or the `use` that gives the prefix.
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

/// The spans of all other mentions, in order.
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

/// The spans where a file gives a prefix, which several `use` lines may share.
fn given<'a>(view: &'a View, file: FileId, word: &'a str) -> impl Iterator<Item = Span> + 'a {
    let own = view.survey.names.uses.iter().filter(move |used| used.path.file == file);
    own.filter_map(|used| used.prefix.as_ref()).filter(move |(name, _)| name == word).map(|(_, span)| *span)
}
