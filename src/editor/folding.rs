//! Folding: blocks up to the line before the brace, and comments of several lines.

use gen_lsp_types::{FoldingRange, FoldingRangeKind, FoldingRangeParams};
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::standing::Shape;
use super::view::{LISTED_MAX, View};
use crate::source::Span;
use crate::syntax::{Line, Statement};

/// The folding ranges of a file.
pub(super) fn answer(view: &View, params: &FoldingRangeParams) -> Result<Value, Refusal> {
    let file = view.file(&params.text_document.uri)?;
    let shape = Shape::of(&view.sources, file);
    let mut folds: Vec<FoldingRange> = Vec::new();
    blocks(view, &shape.tree.statements, &mut folds);
    let line_of =
        |line: &Line| view.range(Span { file, start: line.bytes.start, end: line.bytes.start }).start.line;
    let is_remark = |line: &&Line| line.tokens.is_empty() && line.comment.is_some();
    let mut run: Option<(u32, u32)> = None;
    for line in &shape.tree.lines {
        match (run, Some(line).filter(is_remark).map(line_of)) {
            (Some((first, _)), Some(now)) => run = Some((first, now)),
            (None, Some(now)) => run = Some((now, now)),
            (Some(ended), None) => {
                folds.extend(remark(ended));
                run = None;
            }
            (None, None) => {}
        }
    }
    folds.extend(run.and_then(remark));
    folds.sort_by_key(|fold| fold.start_line);
    folds.truncate(LISTED_MAX);
    Ok(json!(folds))
}

/// Recurses three levels at most, as deep as blocks nest.
fn blocks(view: &View, statements: &[Statement], folds: &mut Vec<FoldingRange>) {
    for statement in statements {
        let Some(inner) = &statement.block else { continue };
        let range = view.range(statement.extent);
        let end = range.end.line.saturating_sub(1);
        if range.start.line < end {
            folds.push(FoldingRange {
                start_line: range.start.line,
                end_line: end,
                ..FoldingRange::default()
            });
        }
        blocks(view, inner, folds);
    }
}

fn remark((first, last): (u32, u32)) -> Option<FoldingRange> {
    let kind = Some(FoldingRangeKind::Comment);
    let fold = FoldingRange { start_line: first, end_line: last, kind, ..FoldingRange::default() };
    (first < last).then_some(fold)
}
