//! A plan as text: a block a load, with a box to tick for each roll, and below them what it comes to.

use super::super::page::{Page, padded};
use super::super::style::{Look, Tone};
use super::sheet::{HANGING, LeftSheet, LoadSheet, PlanSheet};

/// The plan in text.
#[must_use]
pub fn plan_text(sheet: &PlanSheet, look: Look) -> String {
    let mut page = Page::new(look);
    page.apart((Tone::Head, &sheet.title), ' ', &[(Tone::Body, &sheet.count)]);
    page.joined(&sheet.head);
    if !sheet.warnings.is_empty() {
        page.blank();
        page.heading("WARNINGS");
        for warning in &sheet.warnings {
            page.hang(&[(Tone::Body, "  ! ")], (Tone::Body, warning));
        }
    }
    for load in &sheet.loads {
        page.blank();
        block(&mut page, load);
    }
    for left in &sheet.left {
        page.blank();
        out(&mut page, left);
    }
    page.blank();
    page.heading("IN ALL");
    for (name, text) in &sheet.sums {
        lead(&mut page, name, text);
    }
    page.finish()
}

fn block(page: &mut Page, load: &LoadSheet) {
    let day = load.day.as_deref().map(|day| (Tone::Body, day));
    page.apart((Tone::Head, &load.title), '-', day.as_slice());
    page.hang(&[(Tone::Body, "  ")], (Tone::Body, &load.head.join(" · ")));
    for warning in &load.warnings {
        page.hang(&[(Tone::Warning, "  ! ")], (Tone::Warning, warning));
    }
    for mix in &load.mixes {
        lead(page, "mix", mix);
    }
    for (step, bath) in &load.baths {
        lead(page, step, bath);
    }
    let labels = load.places.iter().map(|place| place.label.chars().count()).max().unwrap_or(0);
    for place in &load.places {
        let end = place.end.unwrap_or("");
        let lead = format!("  {end:<8} [ ] {:>2}  {}  ", place.slot, padded(&place.label, labels));
        page.hang(&[(Tone::Body, &lead)], (Tone::Body, &place.what));
    }
    if !load.hanging.is_empty() {
        lead(page, "hang", &format!("{HANGING}{}", load.hanging.join(" · ")));
    }
}

/// Rolls without a load, below what keeps them out.
fn out(page: &mut Page, left: &LeftSheet) {
    page.apart((Tone::Head, "LEFT OUT"), '-', &[]);
    for reason in &left.reasons {
        page.hang(&[(Tone::Body, "  ! ")], (Tone::Body, reason));
    }
    let labels = left.rolls.iter().map(|(label, _)| label.chars().count()).max().unwrap_or(0);
    for (label, what) in &left.rolls {
        let lead = format!("               {}  ", padded(label, labels));
        page.hang(&[(Tone::Body, &lead)], (Tone::Body, what));
    }
}

fn lead(page: &mut Page, name: &str, text: &str) {
    page.hang(&[(Tone::Step, &format!("  {name:<8} "))], (Tone::Body, text));
}
