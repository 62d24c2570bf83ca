//! Draws what to mix: the amounts stand under each other over all baths, so that the eye finds the next
//! figure where it found the last.

use unicode_width::UnicodeWidthStr as _;

use super::card::{Part, Ready};
use super::page::{Page, padded};
use super::style::Tone;

/// The most columns that the steps' names take at the left; a longer one stands on a line of its own.
const STEPS_MOST: usize = 10;

/// How wide each column of parts is.
struct Column {
    amount: usize,
    what: usize,
}

/// The baths, each with its parts in columns.
pub(super) fn rows(page: &mut Page, mix: &[Ready]) {
    let names = mix.iter().map(|ready| ready.steps.width()).filter(|width| *width <= STEPS_MOST);
    let name = names.max().unwrap_or(STEPS_MOST);
    let indent = format!("  {:name$}  ", "");
    let columns = columns(mix);
    let parts: usize = columns.iter().map(|column| column.amount + 1 + column.what).sum();
    let beside = indent.width() + parts + 3 * columns.len().saturating_sub(1) <= page.width();
    for ready in mix {
        if ready.steps.width() > name {
            page.hang(&[(Tone::Body, "  ")], (Tone::Step, &ready.steps));
            page.hang(&[(Tone::Body, &indent)], (Tone::Body, &ready.bath));
        } else {
            let lead = format!("  {}  ", padded(&ready.steps, name));
            page.hang(&[(Tone::Step, &lead)], (Tone::Body, &ready.bath));
        }
        let colon = if ready.parts.is_empty() { "" } else { ":" };
        page.hang(&[(Tone::Body, &indent)], (Tone::Body, &format!("{}{colon}", ready.how)));
        if beside {
            one_line(page, &indent, &ready.parts, &columns);
        } else {
            one_each(page, &indent, &ready.parts, &columns);
        }
    }
}

fn columns(mix: &[Ready]) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    for ready in mix {
        let most = columns.len().max(ready.parts.len());
        columns.resize_with(most, || Column { amount: 0, what: 0 });
        for (column, part) in columns.iter_mut().zip(&ready.parts) {
            column.amount = part.amount.width().max(column.amount);
            column.what = part.what.width().max(column.what);
        }
    }
    columns
}

fn one_line(page: &mut Page, indent: &str, parts: &[Part], columns: &[Column]) {
    if parts.is_empty() {
        return;
    }
    let told = parts.iter().zip(columns).map(|(part, Column { amount, what })| {
        format!("{:>amount$} {}", part.amount, padded(&part.what, *what))
    });
    let line = format!("{indent}{}", told.collect::<Vec<_>>().join(" + "));
    page.line(&[(Tone::Body, &line)]);
}

fn one_each(page: &mut Page, indent: &str, parts: &[Part], columns: &[Column]) {
    let amount = columns.iter().map(|column| column.amount).max().unwrap_or(0);
    for (at, part) in parts.iter().enumerate() {
        let plus = if at == 0 { ' ' } else { '+' };
        let lead = format!("{indent}{plus} {:>amount$} ", part.amount);
        page.hang(&[(Tone::Body, &lead)], (Tone::Body, &part.what));
    }
}
