//! A plan as text, with a box to tick for each roll.

use super::super::load::HANGING;
use super::super::page::{Look, Page, Tone, padded};
use super::sheet::{LeftSheet, LoadSheet, PlanSheet};

/// The plan as text.
#[must_use]
pub fn plan_text(sheet: &PlanSheet, look: Look) -> String {
    let mut page = Page::new(look);
    page.apart((Tone::Head, &sheet.title), ' ', &[(Tone::Body, &sheet.count)]);
    page.joined(&sheet.head);
    page.section("WARNINGS", &sheet.warnings, Tone::Warning);
    for block in &sheet.loads {
        page.blank();
        load(&mut page, block);
    }
    for block in &sheet.left {
        page.blank();
        left(&mut page, block);
    }
    page.heading("IN ALL");
    for (name, text) in &sheet.sums {
        named(&mut page, name, text);
    }
    page.finish()
}

fn load(page: &mut Page, load: &LoadSheet) {
    let day = load.day.as_deref().map(|day| (Tone::Body, day));
    page.apart((Tone::Head, &load.title), '-', day.as_slice());
    page.body("  ", &load.head.join(" · "));
    for warning in &load.warnings {
        page.hang(&[(Tone::Warning, "  ! ")], (Tone::Warning, warning));
    }
    for mix in &load.mixes {
        named(page, "mix", mix);
    }
    for (step, bath) in &load.baths {
        named(page, step, bath);
    }
    let labels = load.places.iter().map(|place| place.label.chars().count()).max().unwrap_or(0);
    for place in &load.places {
        let (end, label) = (place.end.unwrap_or(""), padded(&place.label, labels));
        page.body(&format!("  {end:<8} [ ] {:>2}  {label}  ", place.slot), &place.what);
    }
    if !load.hanging.is_empty() {
        named(page, "hang", &format!("{HANGING}{}", load.hanging.join(" · ")));
    }
}

/// Rolls without a load, after their reasons.
fn left(page: &mut Page, left: &LeftSheet) {
    page.apart((Tone::Head, "LEFT OUT"), '-', &[]);
    for reason in &left.reasons {
        page.hang(&[(Tone::Warning, "  ! ")], (Tone::Warning, reason));
    }
    let labels = left.rolls.iter().map(|(label, _)| label.chars().count()).max().unwrap_or(0);
    for (label, what) in &left.rolls {
        page.body(&format!("               {}  ", padded(label, labels)), what);
    }
}

fn named(page: &mut Page, name: &str, text: &str) {
    page.hang(&[(Tone::Step, &format!("  {name:<8} "))], (Tone::Body, text));
}
