//! Code actions: the fixes of the diagnostics under the cursor.

use gen_lsp_types::{CodeActionKind, CodeActionParams};
use serde_json::{Value, json};

use super::diagnostics::told;
use super::refusal::Refusal;
use super::view::{LISTED_MAX, View};
use crate::source::Span;

/// The fixes of every diagnostic that touches the range; a certain one is preferred.
pub(super) fn answer(view: &View, params: &CodeActionParams) -> Result<Value, Refusal> {
    let file = view.file(&params.text_document.uri)?;
    let (start, end) = (view.byte(file, params.range.start), view.byte(file, params.range.end));
    let asked = Span { file, start, end: end.max(start) };
    let wanted = params.context.only.as_ref().is_none_or(|only| {
        only.iter().any(|kind| matches!(kind, CodeActionKind::QuickFix | CodeActionKind::Empty))
    });
    let meets = |span: Span| span.file == file && span.start <= asked.end && asked.start <= span.end;
    let found = view.findings.iter().filter(|finding| wanted && meets(finding.span));
    let actions = found.flat_map(|finding| {
        finding.fixes.iter().map(|fix| {
            json!({
                "title": crate::report::sanitise(&fix.title),
                "kind": "quickfix",
                "diagnostics": [told(view, finding)],
                "isPreferred": fix.certain,
                "edit": view.changes(&fix.edits),
            })
        })
    });
    Ok(Value::Array(actions.take(LISTED_MAX).collect()))
}
