//! Names: what a name at a position means, its definition, its references, renaming it, and the links of a file.

use std::collections::BTreeMap;
use std::path::PathBuf;

use serde_json::{Value, json};

use super::documents::Texts;
use super::protocol::{Location, Refusal, TextEdit};
use super::requests::{Request, failed};
use super::view::{LISTED_MAX, View};
use crate::check::{MemberKind, Mention, is_free_name};
use crate::source::{Edit, FileId, Set, Sorted as _, Span};
use crate::vocabulary::Declared;

/// The most files in one batch of a search, in [`Named::elsewhere`].
const BATCH: usize = 128;

pub(super) enum Named {
    /// A declaration, as its index in `view.survey.names.declarations`.
    Declaration(usize),
    /// A step or a bottle, as its index in `view.survey.names.members.all`.
    Member(usize),
    /// A prefix in this file, such as `baths` in `baths/stop`.
    Prefix(FileId, String),
}

impl Named {
    /// The span of the name at a position, and what the name refers to. For a step without a name, the span is that of
    /// the step's kind.
    pub(super) fn at(view: &View, at: Span) -> Option<(Span, Named)> {
        let names = &view.survey.names;
        let prefix = |span: Span| (span, Named::Prefix(at.file, view.sources.slice(span).to_owned()));
        let mut given = names.uses.iter().filter_map(|used| used.prefix.as_ref());
        if let Some((_, span)) = given.find(|(_, span)| span.holds(at)) {
            return Some(prefix(*span));
        }
        if let Some(mention) = names.mentions.iter().find(|mention| mention.span.holds(at)) {
            let on_name = || (mention.bare(), Named::Declaration(mention.declaration));
            return Some(mention.prefix.filter(|span| span.holds(at)).map_or_else(on_name, prefix));
        }
        if let Some((member, said)) = names.members.at(at.file, at.start) {
            return Some((said.name.unwrap_or(said.span), Named::Member(member)));
        }
        let (index, known) = names.declarations.iter().enumerate().find(|(_, known)| known.span.holds(at))?;
        Some((known.span, Named::Declaration(index)))
    }

    /// The span that defines the name: in its declaration, in the first header of the step or bottle, or in the first
    /// `use` line with the prefix.
    pub(super) fn definition(&self, view: &View) -> Option<Span> {
        let names = &view.survey.names;
        match self {
            Named::Declaration(at) => names.declarations.get(*at).map(|known| known.span),
            Named::Member(at) => {
                names.members.all.get(*at).map(|member| member.made.name.unwrap_or(member.made.span))
            }
            Named::Prefix(file, word) => prefixes(view, *file, word).next(),
        }
    }

    pub(super) fn mentions(&self, view: &View) -> Vec<Span> {
        let names = &view.survey.names;
        let mut spans: Vec<Span> = match self {
            Named::Declaration(at) => {
                let said = names.mentions.iter().filter(|mention| mention.declaration == *at);
                said.map(|mention| mention.bare()).collect()
            }
            Named::Member(at) => {
                let said = names.members.all.get(*at).into_iter().flat_map(|member| &member.said);
                said.map(|said| said.name.unwrap_or(said.span)).collect()
            }
            Named::Prefix(file, word) => {
                let said = names.mentions.iter().filter_map(|mention| mention.prefix);
                let said = said.filter(|span| span.file == *file && view.sources.slice(*span) == word);
                prefixes(view, *file, word).skip(1).chain(said).collect()
            }
        };
        spans.sort_unstable();
        spans
    }

    /// The same declaration, step or bottle in another view, if that view has it.
    fn again(&self, view: &View, other: &View) -> Option<Named> {
        let span = self.definition(view)?;
        let address = view.uri(span.file);
        let (file, _) = other.addresses().find(|(_, own)| **own == address)?;
        let same = Span { file, ..span };
        let (there, named) = Named::at(other, Span { end: span.start, ..same })?;
        let is_same = there == same
            && named.definition(other) == Some(same)
            && other.sources.slice(same) == view.sources.slice(span);
        is_same.then_some(named)
    }

    /// Searches for the name in the files below the root folder of `file` that `view` has not read. For each batch of
    /// files that can refer to the name, returns a view of the batch, the name in that view, and the spans of its
    /// mentions. `None` if there are too many files.
    pub(super) fn elsewhere<'a>(
        &'a self,
        view: &'a View,
        texts: &'a mut Texts<'_>,
        file: FileId,
    ) -> Option<impl Iterator<Item = (View, Named, Vec<Span>)>> {
        let unread = match self {
            Named::Declaration(_) | Named::Member(_) => view.unread(texts, file)?,
            Named::Prefix(..) => Vec::new(),
        };
        let batches: Vec<Vec<PathBuf>> = unread.chunks(BATCH).map(<[_]>::to_vec).collect();
        Some(batches.into_iter().filter_map(move |batch| {
            let other = View::over(texts, &batch);
            let same = self.again(view, &other)?;
            let mut mentions = same.mentions(&other);
            // The files of a batch can use files outside the batch. Mentions in those files are found in `view` or in
            // another batch.
            mentions.retain(|span| other.roots.contains(&span.file));
            Some((other, same, mentions))
        }))
    }
}

fn prefixes<'a>(view: &'a View, file: FileId, word: &'a str) -> impl Iterator<Item = Span> + 'a {
    let own = view.survey.names.uses.iter().filter(move |used| used.path.file == file);
    own.filter_map(|used| used.prefix.as_ref()).filter(move |(name, _)| name == word).map(|(_, span)| *span)
}

/// The collection whose folder name is the prefix, as in `use baths`; `None` if the prefix is from `as` or from the
/// path of a file.
fn collection_of(view: &View, file: FileId, word: &str) -> Option<String> {
    let own = view.survey.names.uses.iter().filter(|used| used.path.file == file);
    let mut plain = own.filter(|used| {
        used.prefix.as_ref().is_some_and(|(prefix, span)| prefix == word && *span == used.path)
    });
    plain.next().map(|used| view.sources.slice(used.path).to_owned())
}

/// Where the word at a position is defined: for a name its declaration, for a prefix its `use` line, for the path in a
/// `use` line the start of the used file.
pub(super) fn definition(view: &View, at: Span) -> Option<Location> {
    let used = view.survey.names.uses.iter().find(|used| used.path.holds(at));
    let span = match used {
        Some(used) => Span { file: used.file, start: 0, end: 0 },
        None => Named::at(view, at)?.1.definition(view)?,
    };
    Some(view.location(span))
}

pub(super) fn links(view: &View, file: FileId) -> Vec<Value> {
    let own = view.survey.names.uses.iter().filter(|used| used.path.file == file).take(LISTED_MAX);
    own.map(|used| json!({ "range": view.range(used.path), "target": view.uri(used.file) })).collect()
}

/// The mentions of the name at the cursor, with its declaration if requested. If the root folder has too many files,
/// only open documents and the files that they use are searched.
pub(super) fn references(asked: &mut Request<'_, '_>) -> Result<Value, Refusal> {
    let view = asked.view;
    let with_declaration: bool = asked.get("/context/includeDeclaration")?;
    let Some((_, named)) = Named::at(view, asked.cursor()?) else { return Ok(json!([])) };
    let located = |view: &View, spans: Vec<Span>| spans.into_iter().map(|span| view.location(span)).collect();
    let mut found: Vec<Location> = located(view, named.mentions(view));
    found.order_by(|a, b| a.uri.cmp(&b.uri));
    let own = named.definition(view).filter(|_| with_declaration);
    found.splice(..0, own.map(|span| view.location(span)));
    for (other, _, mentions) in named.elsewhere(view, asked.texts, asked.file).into_iter().flatten() {
        found.append(&mut located(&other, mentions));
    }
    Ok(json!(found))
}

/// The range and the text of the name at a position; `None` if there is no name to change.
pub(super) fn prepare(view: &View, at: Span) -> Option<Value> {
    let (span, _) = Named::at(view, at).filter(|(_, named)| has_name(view, named))?;
    Some(json!({ "range": view.range(span), "placeholder": view.sources.slice(span) }))
}

pub(super) fn rename(asked: &mut Request<'_, '_>) -> Result<Value, Refusal> {
    let new: &str = &asked.get::<String>("/newName")?;
    let (view, file) = (asked.view, asked.file);
    let Some((_, named)) = Named::at(view, asked.cursor()?) else {
        return Err(failed("there is no declared name at this position"));
    };
    if !has_name(view, &named) {
        return Err(failed("this step has no name; write one after its kind, such as develop second"));
    }
    if let Named::Prefix(file, word) = &named
        && let Some(folder) = collection_of(view, *file, word)
    {
        return Err(failed(format!(
            "{folder} is the name of the collection's folder, so nothing was changed; write: use {folder} as {new}"
        )));
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

/// Whether there is a name to change. Only a step can be without a name.
fn has_name(view: &View, named: &Named) -> bool {
    let Named::Member(at) = named else { return true };
    view.survey.names.members.all.get(*at).is_some_and(|member| member.name.is_some())
}

/// An error if the new name would be ambiguous in a file of this view.
fn refuse_clash(view: &View, named: &Named, new: &str) -> Result<(), Refusal> {
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
    // A name after `only` stands for all declarations of this name, so none of them can be renamed alone.
    let is_own = |mention: &&Mention| mention.declaration == target;
    let own: Set<Span> = names.mentions.iter().filter(is_own).map(|mention| mention.span).collect();
    let mut others = names.mentions.iter().filter(|mention| !is_own(mention));
    if let Some(shared) = others.find(|other| own.contains(&other.span)) {
        let (word, there) = (view.sources.slice(shared.span), view.sources.name(shared.span.file));
        return Some(format!("'only {word}' in {there} brings several declarations of this name"));
    }
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
