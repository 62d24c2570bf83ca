//! A sheet as text: the points of all amounts below each other, and a box before each.

use unicode_width::UnicodeWidthStr as _;

use super::super::compose::CLOSING;
use super::super::page::{Page, padded};
use super::super::plain::{all_plain, plain};
use super::super::style::{Look, Tone};
use super::super::text::section;
use super::rows::{Row, Rows, blocks, said};
use super::{Units, amount, label};
use crate::measure::{Amount, Sheet, Work};

const BOX: &str = "  [ ]  ";

/// The sheet, drawn; ends with one line ending, and no line of it ends with a space.
#[must_use]
pub fn sheet(sheet: &Sheet, units: Units, look: Look) -> String {
    let mut page = Page::new(look);
    page.apart((Tone::Head, &title(sheet)), ' ', &[(Tone::Body, &said(sheet.make))]);
    page.joined(&facts(sheet, units));
    section(&mut page, "WARNINGS", &all_plain(&sheet.doubts), Tone::Warning);
    for block in blocks(sheet, units) {
        page.blank();
        page.heading(&block.heading);
        page.hang(&[(Tone::Body, "  ")], (Tone::Body, block.how));
        table(&mut page, &block);
    }
    section(&mut page, "LABELS", &label::labels(sheet), Tone::Body);
    let mut cautions = all_plain(&sheet.cautions);
    cautions.push(CLOSING.to_owned());
    section(&mut page, "CAUTIONS", &cautions, Tone::Body);
    section(&mut page, "NOTES", &all_plain(&sheet.solution.notes), Tone::Body);
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
            bottles.iter().map(|bottle| format!("formula for {}", said(bottle.written_for))).collect();
        written.dedup();
        facts.extend(written);
        let beside = amount::beside(Amount::Mass(*step), units.beside).map(|beside| format!(" ({beside})"));
        facts.push(format!("scale to {} g{}", amount::grams(*step), beside.unwrap_or_default()));
    }
    facts.extend(sheet.solution.keeps.iter().map(|keeps| format!("keeps {}", keeps.value)));
    facts
}

fn table(page: &mut Page, block: &Rows) {
    let widest = |of: fn(&Row) -> usize| block.rows.iter().map(of).max().unwrap_or(0);
    let before = widest(|row| split(row).0.width());
    let behind = widest(|row| split(row).1.width());
    let unit = widest(|row| row.figure.unit.width());
    let beside = widest(|row| row.beside.width());
    for row in &block.rows {
        let (whole, part) = split(row);
        let mut lead = format!("{BOX}{whole:>before$}{part:<behind$} {:<unit$}  ", row.figure.unit);
        if beside > 0 {
            lead.push_str(&format!("{}  ", padded(&row.beside, beside)));
        }
        page.hang(&[(Tone::Body, &lead)], (Tone::Body, &row.what));
        if let Some(more) = &row.more {
            page.hang(&[(Tone::Body, &" ".repeat(lead.width()))], (Tone::Body, more));
        }
    }
    if let Some(makes) = &block.makes {
        page.hang(&[(Tone::Body, "  ")], (Tone::Body, makes));
    }
}

/// A number before its point, and from its point on.
fn split(row: &Row) -> (&str, &str) {
    let number = row.figure.number.as_str();
    number.find('.').map_or((number, ""), |at| number.split_at(at))
}
