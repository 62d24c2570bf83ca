//! Completion: the statements that the block still allows, and in a statement the next words and values of its pattern.

use gen_lsp_types::{
    CompletionItem, CompletionItemKind, CompletionItemTextEdit, CompletionParams, Documentation, TextEdit,
};
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::standing::Shape;
use super::view::View;
use crate::check::{RULES, Want, following, units_of};
use crate::chemistry::{ingredient, ingredients};
use crate::model::{Format, StepKind};
use crate::source::{FileId, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Block, Kind, Often, Row, Statement as _, pattern_text, rows_of, say};

/// One completion.
struct Offer {
    text: String,
    kind: CompletionItemKind,
    detail: String,
    about: String,
}

/// The completions at a position.
pub(super) fn answer(view: &View, params: &CompletionParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    let shape = Shape::of(&view.sources, file);
    let line = shape.line_at(byte);
    let remark = shape.tree.lines.get(line).and_then(|line| line.comment);
    if remark.is_some_and(|remark| remark.start < byte) {
        return Ok(json!([]));
    }
    let written: Vec<Token> =
        shape.pieces(line).iter().copied().filter(|piece| piece.span.start < byte).collect();
    let (before, begun) = match written.split_last() {
        Some((last, before)) if byte <= last.span.end && last.kind == TokenKind::Word => (before, last.span),
        Some((last, _))
            if matches!(last.kind, TokenKind::Text | TokenKind::OpenText) && byte <= last.span.end =>
        {
            return Ok(json!([]));
        }
        Some(_) | None => (written.as_slice(), Span { file, start: byte, end: byte }),
    };
    let offers = match before.split_first() {
        None => statements(&shape, line),
        Some(_) if before.iter().any(|piece| piece.kind == TokenKind::Open) => Vec::new(),
        Some(_) => values(view, &shape, (file, line), before),
    };
    let range = view.range(begun);
    let items: Vec<CompletionItem> = offers
        .into_iter()
        .enumerate()
        .map(|(at, offer)| CompletionItem {
            label: offer.text.clone(),
            kind: Some(offer.kind),
            detail: Some(offer.detail).filter(|detail| !detail.is_empty()),
            documentation: Some(offer.about).filter(|about| !about.is_empty()).map(Documentation::String),
            sort_text: Some(format!("{at:04}")),
            text_edit: Some(CompletionItemTextEdit::TextEdit(TextEdit { range, new_text: offer.text })),
            ..CompletionItem::default()
        })
        .collect();
    Ok(json!(items))
}

/// The statements that the block still allows; in a formula, the ingredients.
fn statements(shape: &Shape<'_>, line: usize) -> Vec<Offer> {
    let Some(block) = shape.block(line) else { return Vec::new() };
    if block == Block::Formula {
        let known = ingredients().iter().map(|known| known.name);
        return std::iter::once("water").chain(known).map(|name| plain(name, "")).collect();
    }
    let there: Vec<&str> = shape.beside(line).collect();
    let open = |row: &&Row| {
        let once = matches!(row.often, Often::Once | Often::Must);
        !(row.word.is_empty() || (once && there.contains(&row.word)))
    };
    rows_of(block).filter(open).map(statement).collect()
}

fn statement(row: &Row) -> Offer {
    Offer {
        text: row.word.to_owned(),
        kind: CompletionItemKind::Keyword,
        detail: pattern_text(row.takes),
        about: format!("{}\n\nsuch as: {}", row.meaning, row.example),
    }
}

fn values(view: &View, shape: &Shape<'_>, (file, line): (FileId, usize), before: &[Token]) -> Vec<Offer> {
    let Some(row) = shape.row(line) else { return Vec::new() };
    let pieces = if row.word.is_empty() { before } else { before.get(1..).unwrap_or(&[]) };
    let wants = following(row, view.sources.text(file), pieces, file);
    // What is allowed is a rule's name, though to the reader of statements it is a name like any other.
    if say::Allow::has(row) && wants.iter().any(|want| matches!(want, Want::Value(Kind::OwnName))) {
        return RULES.iter().map(|rule| plain(rule.name, rule.meaning)).collect();
    }
    wants.into_iter().flat_map(|want| offers(view, shape, (file, pieces), want)).collect()
}

fn offers(view: &View, shape: &Shape<'_>, (file, pieces): (FileId, &[Token]), want: Want) -> Vec<Offer> {
    match want {
        Want::Word(",") => Vec::new(),
        Want::Word(word) => vec![Offer { kind: CompletionItemKind::Keyword, ..plain(word, "") }],
        Want::Unit(kind) => units_of(kind).into_iter().map(unit_offer).collect(),
        Want::Value(Kind::Name(declared)) => {
            let names = &view.survey.names;
            let known = names.in_scope(file, declared).iter();
            known
                .map(|(written, at)| {
                    let title = names.declarations.get(*at).and_then(|known| known.title.as_deref());
                    Offer { kind: CompletionItemKind::Variable, ..plain(written, title.unwrap_or("")) }
                })
                .collect()
        }
        Want::Value(Kind::Step) => {
            StepKind::ALL.iter().map(|kind| plain(kind.word(), "a kind of step")).collect()
        }
        Want::Value(Kind::Format) => {
            Format::ALL.iter().map(|format| plain(format.word(), "a film format")).collect()
        }
        Want::Value(Kind::Dilution) => vec![plain("stock", "undiluted; or parts such as 1+4, water last")],
        Want::Value(Kind::Ingredient) => ingredients().iter().map(|known| plain(known.name, "")).collect(),
        Want::Value(Kind::State) => {
            let known = pieces.first().and_then(|first| ingredient(shape.words(first)));
            let states = known.map_or(&[][..], |known| known.states);
            states
                .iter()
                .filter(|state| !state.word.is_empty())
                .map(|state| plain(state.word, state.formula))
                .collect()
        }
        Want::Value(_) => Vec::new(),
    }
}

fn plain(text: &str, detail: &str) -> Offer {
    let detail = crate::report::sanitise(detail).into_owned();
    Offer { text: text.to_owned(), kind: CompletionItemKind::Value, detail, about: String::new() }
}

fn unit_offer(word: &str) -> Offer {
    Offer { kind: CompletionItemKind::Unit, ..plain(word, "") }
}
