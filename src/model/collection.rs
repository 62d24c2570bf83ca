//! A collection: a folder whose recipes others may take over.

use crate::source::Span;

/// The content of a `collection.wet`, which describes the collection in its folder.
#[derive(Debug, Clone)]
pub struct Collection {
    /// The name that the header states. Files that use the collection name it by the folder in which they keep it.
    pub name: String,
    /// The title, or else the name.
    pub title: String,
    /// Who wrote the collection.
    pub author: Option<String>,
    /// The terms under which others may use the collection.
    pub licence: Option<String>,
    /// The declarations that files outside the collection can use.
    pub exports: Vec<Export>,
    /// The span of the collection's header.
    pub span: Span,
}

/// A declaration that files outside the collection can use.
#[derive(Debug, Clone)]
pub struct Export {
    /// The word of the kind, such as `recipe`.
    pub kind: &'static str,
    /// The name of the declaration, without a prefix: `fixer` for `club/fixer`.
    pub name: String,
    /// The span of the name in the line `exports`.
    pub span: Span,
    /// The span of the name in the declaration itself.
    pub declared: Span,
}
