//! A card as text: each instruction on its own line, its time in the column at the left.

use unicode_width::UnicodeWidthStr as _;

use super::card::{Card, Line, Part, Ready, Reason, StepText, Total};
use super::plain::{Look, Page, Tone, aligned, joined, padded, table, widest};
use super::try_first::HEADING;

/// The most columns for the names of steps in the list of baths. A longer name has its own line.
const STEPS_MOST: usize = 10;

/// The card as text.
pub fn text(card: &Card, look: Look) -> String {
    let mut page = Page::new(look);
    page.apart((Tone::Bold, &card.title), ' ', &[(Tone::Body, &format!("recipe {}", card.fingerprint))]);
    page.joined(&card.facts);
    page.blank();
    page.safety(&card.safety);
    let warnings = if look.reasons { &card.warnings_with_rules } else { &card.warnings };
    page.section("WARNINGS", warnings, Tone::Warning);
    page.section("ADVICE", &card.advice, Tone::Body);
    mix(&mut page, &card.mix);
    page.section(&HEADING.to_uppercase(), &card.try_first, Tone::Body);
    load(&mut page, card);
    page.heading("WORK");
    page.body("  ", card.clock);
    let lines = card.work.iter().flat_map(|block| &block.lines);
    let mut times = aligned(lines.map(|line| line.when.as_str())).into_iter();
    for block in &card.work {
        page.blank();
        work(&mut page, block, &mut times);
        for Reason { rule, text } in block.reasons.iter().filter(|_| look.reasons) {
            page.body(&format!("  {rule:<3}  "), text);
        }
    }
    page.blank();
    let Total { time, ends, besides } = &card.total;
    let ends = ends.as_deref().unwrap_or_default();
    page.apart((Tone::Bold, &format!("TOTAL {time}")), '-', &[(Tone::Bold, ends)]);
    page.body("  ", &besides.join(" · "));
    page.section("AFTERWARDS", &card.afterwards, Tone::Body);
    page.section("CAUTIONS", &card.cautions, Tone::Body);
    page.section("NOTES", &card.notes, Tone::Body);
    page.section("FIRST AID", &card.first_aid, Tone::Body);
    page.out
}

/// Adds the baths, with their amounts aligned in columns.
fn mix(page: &mut Page, mix: &[Ready]) {
    if mix.is_empty() {
        return;
    }
    page.heading("MIX");
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

/// The widths of amounts and names in each column of parts.
fn columns(mix: &[Ready]) -> Vec<(usize, usize)> {
    let most = mix.iter().map(|ready| ready.parts.len()).max().unwrap_or(0);
    let parts = |at: usize| mix.iter().filter_map(move |ready| ready.parts.get(at));
    let widths = |at| (widest(parts(at).map(|part| &part.amount)), widest(parts(at).map(|part| &part.what)));
    (0..most).map(widths).collect()
}

fn load(page: &mut Page, card: &Card) {
    if card.load.is_empty() {
        return;
    }
    page.heading("LOAD");
    let places: Vec<_> = card.load.iter().map(|place| [place.end, &place.slots]).collect();
    let film: Vec<_> = card.load.iter().map(|place| [&place.what, &place.label]).collect();
    for (place, film) in table(&places).iter().zip(table(&film)) {
        page.body(&format!("  {place}  "), film.trim_end());
    }
    if let Some(lid) = &card.lid {
        page.body("  ", lid);
    }
}

/// Adds a step; `times` has the times of its lines.
fn work(page: &mut Page, block: &StepText, times: &mut impl Iterator<Item = String>) {
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
}
