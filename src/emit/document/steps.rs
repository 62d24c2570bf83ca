//! The baths and the steps of a document as text: each instruction on its own line, its time in the column at the left.

use unicode_width::UnicodeWidthStr as _;

use super::{Block, Document, Line, Part, Ready, Reason, StepText, Total};
use crate::emit::plain::{Page, Tone, aligned, joined, padded, widest};

/// The greatest width of step names that are on one line with their bath, in characters. A longer name is on the line
/// above.
const STEPS_MOST: usize = 10;

pub(super) fn baths(page: &mut Page, mix: &[Ready]) {
    let names = mix.iter().map(|ready| ready.steps.width()).filter(|width| *width <= STEPS_MOST);
    let name = names.max().unwrap_or(STEPS_MOST);
    let indent = format!("  {:name$}  ", "");
    let columns = columns(mix);
    let parts: usize = columns.iter().map(|(amount, what)| amount + 1 + what).sum();
    let on_one_line = indent.width() + parts + 3 * columns.len().saturating_sub(1) <= page.width;
    let widest_amount = columns.iter().map(|(amount, _)| *amount).max().unwrap_or(0);
    for Ready { steps, bath, how, parts } in mix {
        if steps.width() > name {
            page.hang(&[(Tone::Body, "  ")], (Tone::Bold, steps));
            page.body(&indent, bath);
        } else {
            page.hang(&[(Tone::Bold, &format!("  {}  ", padded(steps, name)))], (Tone::Body, bath));
        }
        let colon = if parts.is_empty() { "" } else { ":" };
        page.body(&indent, &format!("{how}{colon}"));
        if on_one_line && !parts.is_empty() {
            let part = |(part, (amount, what)): (&Part, &(usize, usize))| {
                format!("{:>amount$} {}", part.amount, padded(&part.what, *what))
            };
            let parts = joined(parts.iter().zip(&columns).map(part), " + ");
            page.line(&[(Tone::Body, &format!("{indent}{parts}"))]);
        } else {
            for (at, part) in parts.iter().enumerate() {
                let plus = if at == 0 { ' ' } else { '+' };
                page.body(&format!("{indent}{plus} {:>widest_amount$} ", part.amount), &part.what);
            }
        }
    }
}

/// The widths of each column of volumes to measure: that of its widest volume, and that of its widest name.
fn columns(mix: &[Ready]) -> Vec<(usize, usize)> {
    let most = mix.iter().map(|ready| ready.parts.len()).max().unwrap_or(0);
    let parts = |at: usize| mix.iter().filter_map(move |ready| ready.parts.get(at));
    let widths = |at| (widest(parts(at).map(|part| &part.amount)), widest(parts(at).map(|part| &part.what)));
    (0..most).map(widths).collect()
}

/// The times before the instructions of all steps, in order, padded so that they align.
pub(super) fn times(document: &Document) -> std::vec::IntoIter<String> {
    let blocks = document.sections.iter().flat_map(|section| &section.blocks);
    let steps =
        blocks.filter_map(|block| if let Block::Step(step) = block { Some(&step.lines) } else { None });
    aligned(steps.flatten().map(|line| line.when.as_str())).into_iter()
}

/// Writes a step. `times` yields the padded time of each instruction of the step.
pub(super) fn step(page: &mut Page, block: &StepText, times: &mut impl Iterator<Item = String>) {
    page.blank();
    let clocks = block.begins.iter().flat_map(|clock| [(Tone::Body, " · "), (Tone::Bold, clock)]);
    let clocks: Vec<_> = clocks.skip(1).collect();
    page.apart((Tone::Bold, &format!("{} {}", block.name, block.time)), '-', &clocks);
    if let Some(bath) = &block.bath {
        page.body("  ", bath);
    }
    for caution in &block.cautions {
        page.hang(&[(Tone::Warning, "  caution: ")], (Tone::Warning, caution));
    }
    for note in &block.notes {
        page.body("  note: ", note);
    }
    for (Line { what, .. }, time) in block.lines.iter().zip(times) {
        page.hang(&[(Tone::Bold, &format!("  {time}  "))], (Tone::Body, what));
    }
    for Reason { rule, text } in &block.reasons {
        page.body(&format!("  {rule:<3}  "), text);
    }
}

pub(super) fn total(page: &mut Page, Total { time, ends, besides }: &Total) {
    page.blank();
    let ends = ends.as_deref().unwrap_or_default();
    page.apart((Tone::Bold, &format!("TOTAL {time}")), '-', &[(Tone::Bold, ends)]);
    page.body("  ", &besides.join(" · "));
}
