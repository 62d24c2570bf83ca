//! A collection: a folder whose recipes others may take over.

use crate::source::Span;

/// What a `collection.wet` says.
#[derive(Debug, Clone)]
pub struct Collection {
    /// The collection's own name. Others know the collection by the name of the folder they keep it in.
    pub name: String,
    /// The title, or else the name.
    pub title: String,
    /// Who wrote the collection.
    pub author: Option<String>,
    /// The terms under which others may use the collection.
    pub licence: Option<String>,
    /// What others can use.
    pub exports: Vec<Export>,
    /// The span of the header.
    pub span: Span,
}

/// A declaration that others can use.
#[derive(Debug, Clone)]
pub struct Export {
    /// The word of the kind, such as `recipe`.
    pub kind: &'static str,
    /// The name by which others use the declaration, without a prefix.
    pub name: String,
    /// The place of the name in `exports`.
    pub span: Span,
    /// The place of the declaration's name.
    pub declared: Span,
}
