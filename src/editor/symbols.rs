//! Document symbols: declarations, steps and formulas.

use gen_lsp_types::{DocumentSymbol, DocumentSymbolParams, SymbolKind};
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::standing::Shape;
use super::view::{LISTED_MAX, View};
use crate::report::sanitise;
use crate::syntax::{Statement, TokenKind};
use crate::vocabulary::Block;

/// The nested blocks of a file.
pub(super) fn answer(view: &View, params: &DocumentSymbolParams) -> Result<Value, Refusal> {
    let file = view.file(&params.text_document.uri)?;
    let shape = Shape::of(&view.sources, file);
    Ok(json!(symbols(view, &shape, &shape.tree.statements)))
}

/// Recurses three levels at most, as deep as blocks nest.
fn symbols(view: &View, shape: &Shape<'_>, statements: &[Statement]) -> Vec<DocumentSymbol> {
    statements.iter().filter_map(|statement| symbol(view, shape, statement)).take(LISTED_MAX).collect()
}

fn symbol(view: &View, shape: &Shape<'_>, statement: &Statement) -> Option<DocumentSymbol> {
    let block = shape.row(statement.line)?.opens.filter(|_| statement.block.is_some())?;
    let pieces = shape.tree.pieces(statement);
    let first = pieces.first()?;
    let named = pieces.get(1).filter(|piece| piece.kind == TokenKind::Word);
    let title = pieces.iter().find(|piece| piece.kind == TokenKind::Text);
    let (name, detail, kind) = match block {
        Block::Film => (named, title, SymbolKind::Constant),
        Block::Solution => (named, title, SymbolKind::Struct),
        Block::Agitation => (named, title, SymbolKind::Event),
        Block::Tank => (named, title, SymbolKind::Object),
        Block::Recipe => (named, title, SymbolKind::Class),
        Block::Bath => (named, title, SymbolKind::Object),
        Block::Test | Block::Session => (named, title, SymbolKind::Event),
        Block::Backlog => (named, title, SymbolKind::Array),
        Block::Step(_) => (None, None, SymbolKind::Method),
        Block::Formula => (None, None, SymbolKind::Field),
        Block::File | Block::Chart => return None,
    };
    let span = name.map_or(statement.span, |name| name.span);
    let words = |text: &str| sanitise(text).into_owned();
    let inner = statement.block.as_deref().unwrap_or(&[]);
    Some(DocumentSymbol {
        name: words(view.sources.slice(span)),
        detail: Some(match title.filter(|_| detail.is_some()) {
            Some(title) => words(shape.words(title).trim_matches('"')),
            None => shape.words(first).to_owned(),
        }),
        kind,
        tags: None,
        #[expect(deprecated, reason = "the type has the field, and no other way to be made")]
        deprecated: None,
        range: view.range(statement.extent),
        selection_range: view.range(span),
        children: Some(symbols(view, shape, inner)).filter(|inner| !inner.is_empty()),
    })
}
