//! A sheet as text, with a box before each amount.

use unicode_width::UnicodeWidthStr as _;

use super::super::compose::closed;
use super::super::page::{Look, Page, Tone, padded};
use super::super::plain::{all_plain, plain};
use super::super::text::split;
use super::rows::{Row, Rows, blocks, volume_text};
use super::{Units, amount, label};
use crate::measure::{Amount, Sheet, Work};

const BOX: &str = "  [ ]  ";

/// The sheet. It ends with one line ending, and no line ends with a space.
#[must_use]
pub fn sheet(sheet: &Sheet, units: Units, look: Look) -> String {
    let mut page = Page::new(look);
    page.apart((Tone::Head, &title(sheet)), ' ', &[(Tone::Body, &volume_text(sheet.make))]);
    page.joined(&facts(sheet, units));
    page.section("WARNINGS", &all_plain(&sheet.warnings), Tone::Warning);
    for block in blocks(sheet, units) {
        page.heading(&block.heading);
        page.body("  ", block.how);
        table(&mut page, &block);
    }
    page.section("LABELS", &label::labels(sheet), Tone::Body);
    page.section("CAUTIONS", &closed(&sheet.cautions), Tone::Body);
    page.section("NOTES", &all_plain(&sheet.solution.notes), Tone::Body);
    page.finish()
}

fn title(sheet: &Sheet) -> String {
    let title = plain(&sheet.solution.title);
    match &sheet.work {
        Work::Weigh(..) => title,
        Work::Dilute(mixture) => format!("{title} {}", mixture.dilution),
    }
}

fn facts(sheet: &Sheet, units: Units) -> Vec<String> {
    let mut facts = vec![plain(&sheet.solution.name)];
    if let Work::Weigh(bottles, step) = &sheet.work {
        let mut written: Vec<String> =
            bottles.iter().map(|bottle| format!("formula for {}", volume_text(bottle.written_for))).collect();
        written.dedup();
        facts.extend(written);
        let beside = amount::in_brackets(Amount::Mass(*step), units.beside);
        facts.push(format!("scale to {} g{beside}", amount::grams(*step)));
    }
    facts.extend(sheet.solution.keeps.iter().map(|keeps| format!("keeps {}", keeps.value)));
    facts
}

fn table(page: &mut Page, block: &Rows) {
    let widest = |of: fn(&Row) -> usize| block.rows.iter().map(of).max().unwrap_or(0);
    let before = widest(|row| split(&row.figure.number).0.width());
    let after = widest(|row| split(&row.figure.number).1.width());
    let unit = widest(|row| row.figure.unit.width());
    let beside = widest(|row| row.beside.width());
    for row in &block.rows {
        let (whole, part) = split(&row.figure.number);
        let mut lead = format!("{BOX}{whole:>before$}{part:<after$} {:<unit$}  ", row.figure.unit);
        if beside > 0 {
            lead.push_str(&format!("{}  ", padded(&row.beside, beside)));
        }
        page.body(&lead, &row.what);
        if let Some(more) = &row.more {
            page.body(&" ".repeat(lead.width()), more);
        }
    }
    if let Some(makes) = &block.makes {
        page.body("  ", makes);
    }
}
