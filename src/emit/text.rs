//! A card as text, to be read at arm's length with wet gloves: the times in one column, one thing to do
//! a line, nothing wider than it may be.

use unicode_width::UnicodeWidthStr as _;

use super::card::{Block, Card, Line, Place, Reason, Total};
use super::mixture;
use super::page::{Page, padded};
use super::style::{Look, Tone};

/// The card, drawn; ends with one line ending, and no line of it ends with a space.
#[must_use]
pub fn text(card: &Card, look: Look) -> String {
    let mut page = Page::new(look);
    head(&mut page, card);
    let warnings = if look.reasons { &card.warnings_with_rules } else { &card.warnings };
    section(&mut page, "WARNINGS", warnings, Tone::Warning);
    if !card.mix.is_empty() {
        page.blank();
        page.heading("MIX");
        mixture::rows(&mut page, &card.mix);
    }
    load(&mut page, card);
    page.blank();
    page.heading("WORK");
    page.hang(&[(Tone::Body, "  ")], (Tone::Body, card.clock));
    let times = Times::of(&card.work);
    for block in &card.work {
        page.blank();
        work(&mut page, block, &times);
        if look.reasons {
            reasons(&mut page, &block.reasons);
        }
    }
    page.blank();
    total(&mut page, &card.total);
    section(&mut page, "AFTERWARDS", &card.afterwards, Tone::Body);
    let mut cautions = card.cautions.clone();
    cautions.push(card.closing.to_owned());
    section(&mut page, "CAUTIONS", &cautions, Tone::Body);
    section(&mut page, "NOTES", &card.notes, Tone::Body);
    page.finish()
}

/// How wide the times beside the work are, before the point and behind it: seconds stand under seconds.
struct Times {
    before: usize,
    behind: usize,
}

impl Times {
    fn of(work: &[Block]) -> Times {
        let lines = work.iter().flat_map(|block| &block.lines);
        let widths = lines.map(|line| (whole(&line.when).width(), line.when.width()));
        widths.fold(Times { before: 0, behind: 0 }, |widest, (before, all)| Times {
            before: widest.before.max(before),
            behind: widest.behind.max(all - before),
        })
    }

    fn aligned(&self, when: &str) -> String {
        let whole = whole(when);
        let part = when.strip_prefix(whole).unwrap_or("");
        format!("  {whole:>before$}{part:<behind$}  ", before = self.before, behind = self.behind)
    }
}

/// A time without its part of a second.
fn whole(when: &str) -> &str {
    when.split_once('.').map_or(when, |(whole, _)| whole)
}

fn head(page: &mut Page, card: &Card) {
    page.apart((Tone::Head, &card.title), ' ', &[(Tone::Body, &format!("recipe {}", card.fingerprint))]);
    page.joined(&card.facts);
}

pub(super) fn section(page: &mut Page, title: &str, items: &[String], tone: Tone) {
    if items.is_empty() {
        return;
    }
    page.blank();
    page.heading(title);
    let bullet = if tone == Tone::Warning { "  ! " } else { "  - " };
    for item in items {
        page.hang(&[(tone, bullet)], (tone, item));
    }
}

fn load(page: &mut Page, card: &Card) {
    if card.load.is_empty() {
        return;
    }
    page.blank();
    page.heading("LOAD");
    let widest = |text: fn(&Place) -> &str| card.load.iter().map(|place| text(place).width()).max();
    let end = widest(|place| place.end).filter(|width| *width > 0);
    let slots = widest(|place| &place.slots).unwrap_or(0);
    let what = widest(|place| &place.what).unwrap_or(0);
    for place in &card.load {
        let end = end.map_or(String::new(), |width| format!("{}  ", padded(place.end, width)));
        let lead = format!("  {end}{}  ", padded(&place.slots, slots));
        let body = format!("{}  {}", padded(&place.what, what), place.label);
        page.hang(&[(Tone::Body, &lead)], (Tone::Body, body.trim_end()));
    }
    if let Some(lid) = &card.lid {
        page.hang(&[(Tone::Body, "  ")], (Tone::Body, lid));
    }
}

fn work(page: &mut Page, block: &Block, times: &Times) {
    let name = format!("{} {}", block.name, block.time);
    let begins = format!("begins {}", block.begins);
    page.apart((Tone::Step, &name), '-', &clocks(&begins, block.wall.as_deref()));
    if let Some(bath) = &block.bath {
        page.hang(&[(Tone::Body, "  ")], (Tone::Body, bath));
    }
    for caution in &block.cautions {
        page.hang(&[(Tone::Warning, "  caution: ")], (Tone::Warning, caution));
    }
    for note in &block.notes {
        page.hang(&[(Tone::Body, "  note: ")], (Tone::Body, note));
    }
    for Line { when, what } in &block.lines {
        page.hang(&[(Tone::Clock, &times.aligned(when))], (Tone::Body, what));
    }
}

fn clocks<'a>(first: &'a str, wall: Option<&'a str>) -> Vec<(Tone, &'a str)> {
    let mut pieces = vec![(Tone::Clock, first)];
    if let Some(wall) = wall {
        pieces.extend([(Tone::Body, " · "), (Tone::Clock, wall)]);
    }
    pieces
}

fn reasons(page: &mut Page, reasons: &[Reason]) {
    for Reason { rule, of, text, places } in reasons {
        let from = if places.is_empty() { String::new() } else { format!("  [{places}]") };
        page.hang(&[(Tone::Body, &format!("  {rule:<3}  "))], (Tone::Body, &format!("{of}: {text}{from}")));
    }
}

fn total(page: &mut Page, total: &Total) {
    let name = format!("TOTAL {}", total.time);
    let ends = total.wall.as_ref().map(|wall| format!("ends {wall}"));
    let right: Vec<(Tone, &str)> = ends.iter().map(|ends| (Tone::Clock, ends.as_str())).collect();
    page.apart((Tone::Step, &name), '-', &right);
    page.hang(&[(Tone::Body, "  ")], (Tone::Body, &total.besides.join(" · ")));
}
