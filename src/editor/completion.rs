//! Completion: the statements that a block still allows, and within a statement the words and values that its pattern
//! allows next.

use super::documents::Texts;
use super::layout::Lines;
use super::protocol::{CompletionItem, CompletionKind, CompletionTag, TextEdit};
use super::view::View;
use crate::check::{Checker, Declaration, RULES, Want, following, units_of};
use crate::chemistry::{ingredient, ingredients};
use crate::model::{Format, StepKind};
use crate::report::sanitise;
use crate::source::{FileId, Sources, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{
    Block, Declared, Kind, Often, Row, Statement as _, pattern_text, row_of, rows_of, say,
};

pub(super) fn completions(view: &View, texts: &Texts<'_>, at: Span) -> Vec<CompletionItem> {
    let lines = Lines::of(&view.sources, at.file);
    let line = lines.at(at.start);
    let comment = lines.get(line).and_then(|line| line.comment);
    if comment.is_some_and(|comment| comment.start < at.start) {
        return Vec::new();
    }
    let tokens = lines.tokens(line);
    let written = tokens.split_at(tokens.partition_point(|token| token.span.start < at.start)).0;
    let (before, begun) = match written.split_last().filter(|(last, _)| last.span.holds(at)) {
        Some((Token { kind: TokenKind::Text | TokenKind::OpenText, .. }, _)) => return Vec::new(),
        Some((last, before)) if last.kind == TokenKind::Word => (before, last.span),
        Some(_) | None => (written, at),
    };
    let mut items = match before {
        [] => statements(view, &lines, line, at),
        _ if before.iter().any(|token| token.kind == TokenKind::Open) => Vec::new(),
        _ => values((view, texts), &lines, line, before).unwrap_or_default(),
    };
    let range = view.range(begun);
    for (number, item) in items.iter_mut().enumerate() {
        item.sort_text = format!("{number:04}");
        let edit = TextEdit { range, new_text: item.label.clone() };
        item.text_edit = Some(edit);
    }
    items
}

/// The statements that the block of this line still allows in the file's edition of the language; in a formula, the
/// ingredients.
fn statements(view: &View, lines: &Lines<'_>, line: usize, at: Span) -> Vec<CompletionItem> {
    let Some(block) = lines.block(line) else { return Vec::new() };
    if block == Block::Formula {
        return std::iter::once(value("water", "")).chain(known_ingredients(view, at.file)).collect();
    }
    let (siblings, edition): (Vec<&str>, u32) = (lines.siblings(line).collect(), lines.edition());
    let is_open = |row: &&Row| {
        let once = matches!(row.often, Often::Once | Often::Must);
        !(row.word.is_empty() || edition < row.since || (once && siblings.contains(&row.word)))
    };
    let statement = |row: &Row| CompletionItem {
        documentation: Some(format!("{}\n\nsuch as: {}", row.meaning, row.example)),
        ..item(CompletionKind::Keyword, row.word, &pattern_text(row.takes))
    };
    rows_of(block).filter(is_open).map(statement).collect()
}

/// The words and values that can come next in a statement, after the tokens `before`. `None` if the statement is
/// unknown.
fn values(
    (view, texts): (&View, &Texts<'_>),
    lines: &Lines<'_>,
    line: usize,
    before: &[Token],
) -> Option<Vec<CompletionItem>> {
    let (row, file) = (lines.row(line)?, before.first()?.span.file);
    let tokens = if row.word.is_empty() { before } else { before.get(1..)? };
    let edition = lines.edition();
    let wants = following(row, view.sources.text(file), tokens, (file, edition));
    // The table of statements lets `allow` take any name, but only names of rules are offered.
    if say::Allow::has(row) && wants.iter().any(|want| matches!(want, Want::Value(Kind::OwnName))) {
        return Some(RULES.iter().map(|rule| value(rule.name, rule.meaning)).collect());
    }
    if say::Use::has(row) && wants.iter().any(|want| matches!(want, Want::Value(Kind::OwnName))) {
        return Some(match tokens {
            [] => collections(view, texts, file),
            [used, written @ ..] => {
                let written: Vec<&str> = written.iter().map(|token| lines.text(token)).collect();
                let mut offered = names_in(view, texts, file, lines.text(used));
                offered.retain(|item| !written.contains(&item.label.as_str()));
                offered
            }
        });
    }
    let items = wants.into_iter().flat_map(|want| match want {
        Want::Word(",") => Vec::new(),
        Want::Word(word) => vec![item(CompletionKind::Keyword, word, "")],
        Want::Unit(kind) => {
            units_of(kind).into_iter().map(|word| item(CompletionKind::Unit, word, "")).collect()
        }
        Want::Value(Kind::Name(declared)) => names_of(view, file, declared).collect(),
        Want::Value(Kind::Step) => {
            let is_known = |kind: &&StepKind| {
                row_of(Block::Recipe, kind.word()).is_some_and(|step| step.since <= edition)
            };
            StepKind::ALL.iter().filter(is_known).map(|kind| value(kind.word(), "a kind of step")).collect()
        }
        Want::Value(Kind::Format) => {
            Format::FIRST.iter().map(|format| value(&format.to_string(), "a format")).collect()
        }
        Want::Value(Kind::Dilution) => vec![value("stock", "undiluted; or parts such as 1+4, water last")],
        Want::Value(Kind::Ingredient) => known_ingredients(view, file).collect(),
        Want::Value(Kind::State) => {
            let known = tokens.first().and_then(|first| ingredient(lines.text(first)));
            let states = known.map_or(&[][..], |known| known.states).iter();
            states
                .filter(|state| !state.word.is_empty())
                .map(|state| value(state.word, state.formula))
                .collect()
        }
        Want::Value(_) => Vec::new(),
    });
    Some(items.collect())
}

fn collections(view: &View, texts: &Texts<'_>, file: FileId) -> Vec<CompletionItem> {
    let names = texts.desk.collections(view.sources.name(file));
    names.iter().map(|name| item(CompletionKind::Module, name, "a collection")).collect()
}

/// The names that a `use` line for `used` would bring into a file, each once. A complete `use` line is checked here,
/// because the unfinished line in the editor brings in no names.
fn names_in(view: &View, texts: &Texts<'_>, file: FileId, used: &str) -> Vec<CompletionItem> {
    let mut sources = Sources::default();
    let alone = sources.add(view.sources.name(file), format!("wetside 2\nuse {used} as all\n"));
    let names = Checker::default().survey(&mut sources, &[alone], texts).names;
    let mut items: Vec<CompletionItem> = Vec::new();
    for (kind, name, at) in Declared::ALL
        .into_iter()
        .flat_map(|kind| names.in_scope(alone, kind).iter().map(move |(name, at)| (kind, name, *at)))
    {
        let label = name.rsplit('/').next().unwrap_or(name);
        let mut one = declaration(label, names.declarations.get(at));
        let title = one.detail.take().map(|title| format!(": {title}")).unwrap_or_default();
        one.detail = Some(format!("{}{title}", kind.words()));
        if items.iter().all(|known| known.label != label) {
            items.push(one);
        }
    }
    items
}

fn names_of(view: &View, file: FileId, kind: Declared) -> impl Iterator<Item = CompletionItem> {
    let names = &view.survey.names;
    let known = names.in_scope(file, kind).iter();
    known.map(move |(name, at)| declaration(name, names.declarations.get(*at)))
}

/// The completion of a declared name, which the editor strikes out if a recipe of that name is deprecated.
fn declaration(name: &str, known: Option<&Declaration>) -> CompletionItem {
    let title = known.and_then(|known| known.title.as_deref());
    let deprecated = known.and_then(|known| known.deprecated.as_ref());
    let reason = deprecated.map(|reason| sanitise(&format!("deprecated: {reason}")).into_owned());
    CompletionItem {
        tags: deprecated.map(|_| CompletionTag::Deprecated).into_iter().collect(),
        documentation: reason,
        ..item(CompletionKind::Variable, name, title.unwrap_or(""))
    }
}

fn known_ingredients(view: &View, file: FileId) -> impl Iterator<Item = CompletionItem> {
    let known = ingredients().iter().map(|known| value(known.name, ""));
    known.chain(names_of(view, file, Declared::Ingredient))
}

fn value(text: &str, detail: &str) -> CompletionItem {
    item(CompletionKind::Value, text, detail)
}

fn item(kind: CompletionKind, text: &str, detail: &str) -> CompletionItem {
    CompletionItem {
        label: text.to_owned(),
        kind,
        detail: Some(sanitise(detail).into_owned()).filter(|detail| !detail.is_empty()),
        tags: Vec::new(),
        documentation: None,
        sort_text: String::new(),
        text_edit: None,
    }
}
