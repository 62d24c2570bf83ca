//! A recipe with everything it inherited, its names resolved.

use std::sync::Arc;

use super::film::Film;
use super::stated::Stated;
use super::step::Step;
use crate::source::{FileId, Span};

/// A recipe. Without a film it is a base: derived from and checked, never compiled.
#[derive(Debug, Clone)]
pub struct Recipe {
    /// Its name.
    pub name: String,
    /// Its title, or its name where it has none.
    pub title: String,
    /// The file that declares it.
    pub file: FileId,
    /// Its header.
    pub span: Span,
    /// The whole declaration, header and block.
    pub extent: Span,
    /// The recipe it was derived from, in the file that declares that one.
    pub parent: Option<(FileId, String)>,
    /// The film it is for.
    pub film: Option<Stated<Arc<Film>>>,
    /// The exposure index it is for.
    pub index: Option<Stated<u32>>,
    /// Its steps in order, at least one.
    pub steps: Vec<Step>,
    /// Where it is from.
    pub sources: Vec<String>,
    /// Remarks for the card.
    pub notes: Vec<String>,
    /// Cautions of its own; they come first on the card.
    pub cautions: Vec<String>,
}
