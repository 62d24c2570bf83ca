//! A card as text: the times in one column, one thing to do in each line.

use unicode_width::UnicodeWidthStr as _;

use super::card::{Block, Card, Line, Part, Place, Ready, Reason, Total};
use super::page::{Look, Page, Tone, padded};

/// The most columns of the steps' names in the list of baths; a longer one has its own line.
const STEPS_MOST: usize = 10;

/// The card. It ends with one line ending, and no line ends with a space.
#[must_use]
pub fn text(card: &Card, look: Look) -> String {
    let mut page = Page::new(look);
    page.apart((Tone::Head, &card.title), ' ', &[(Tone::Body, &format!("recipe {}", card.fingerprint))]);
    page.joined(&card.facts);
    let warnings = if look.reasons { &card.warnings_with_rules } else { &card.warnings };
    page.section("WARNINGS", warnings, Tone::Warning);
    mix(&mut page, &card.mix);
    load(&mut page, card);
    page.heading("WORK");
    page.body("  ", card.clock);
    let times = Times::of(&card.work);
    for block in &card.work {
        page.blank();
        work(&mut page, block, &times);
        for Reason { rule, of, text, places } in block.reasons.iter().filter(|_| look.reasons) {
            let from = if places.is_empty() { String::new() } else { format!("  [{places}]") };
            page.body(&format!("  {rule:<3}  "), &format!("{of}: {text}{from}"));
        }
    }
    page.blank();
    total(&mut page, &card.total);
    page.section("AFTERWARDS", &card.afterwards, Tone::Body);
    page.section("CAUTIONS", &[&card.cautions[..], &[card.closing.to_owned()]].concat(), Tone::Body);
    page.section("NOTES", &card.notes, Tone::Body);
    page.finish()
}

/// The baths, with the amounts of all baths in the same columns.
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
    let on_one_line = indent.width() + parts + 3 * columns.len().saturating_sub(1) <= page.width();
    for ready in mix {
        if ready.steps.width() > name {
            page.hang(&[(Tone::Body, "  ")], (Tone::Step, &ready.steps));
            page.body(&indent, &ready.bath);
        } else {
            let lead = format!("  {}  ", padded(&ready.steps, name));
            page.hang(&[(Tone::Step, &lead)], (Tone::Body, &ready.bath));
        }
        let colon = if ready.parts.is_empty() { "" } else { ":" };
        page.body(&indent, &format!("{}{colon}", ready.how));
        if on_one_line {
            one_line(page, &indent, &ready.parts, &columns);
        } else {
            let amount = columns.iter().map(|(amount, _)| *amount).max().unwrap_or(0);
            for (at, part) in ready.parts.iter().enumerate() {
                let plus = if at == 0 { ' ' } else { '+' };
                page.body(&format!("{indent}{plus} {:>amount$} ", part.amount), &part.what);
            }
        }
    }
}

/// The widths of the amounts and names in each column of parts.
fn columns(mix: &[Ready]) -> Vec<(usize, usize)> {
    let most = mix.iter().map(|ready| ready.parts.len()).max().unwrap_or(0);
    let widest = |at: usize, text: fn(&Part) -> &str| {
        mix.iter().filter_map(|ready| ready.parts.get(at)).map(|part| text(part).width()).max().unwrap_or(0)
    };
    (0..most).map(|at| (widest(at, |part| &part.amount), widest(at, |part| &part.what))).collect()
}

fn one_line(page: &mut Page, indent: &str, parts: &[Part], columns: &[(usize, usize)]) {
    let texts = parts.iter().zip(columns);
    let texts =
        texts.map(|(part, (amount, what))| format!("{:>amount$} {}", part.amount, padded(&part.what, *what)));
    let texts: Vec<String> = texts.collect();
    if !texts.is_empty() {
        page.line(&[(Tone::Body, &format!("{indent}{}", texts.join(" + ")))]);
    }
}

/// The widths of the times beside the work, before the point and from it on.
struct Times {
    whole: usize,
    part: usize,
}

impl Times {
    fn of(work: &[Block]) -> Times {
        let times = || work.iter().flat_map(|block| &block.lines).map(|line| split(&line.when));
        Times {
            whole: times().map(|(whole, _)| whole.width()).max().unwrap_or(0),
            part: times().map(|(_, part)| part.width()).max().unwrap_or(0),
        }
    }
}

/// A number before its point, and from its point on.
pub(super) fn split(number: &str) -> (&str, &str) {
    number.find('.').map_or((number, ""), |at| number.split_at(at))
}

fn load(page: &mut Page, card: &Card) {
    if card.load.is_empty() {
        return;
    }
    page.heading("LOAD");
    let widest = |text: fn(&Place) -> &str| card.load.iter().map(|place| text(place).width()).max();
    let end = widest(|place| place.end).filter(|width| *width > 0);
    let slots = widest(|place| &place.slots).unwrap_or(0);
    let what = widest(|place| &place.what).unwrap_or(0);
    for place in &card.load {
        let end = end.map_or(String::new(), |width| format!("{}  ", padded(place.end, width)));
        let body = format!("{}  {}", padded(&place.what, what), place.label);
        page.body(&format!("  {end}{}  ", padded(&place.slots, slots)), body.trim_end());
    }
    if let Some(lid) = &card.lid {
        page.body("  ", lid);
    }
}

fn work(page: &mut Page, block: &Block, times: &Times) {
    let begins = format!("begins {}", block.begins);
    let mut clocks = vec![(Tone::Clock, begins.as_str())];
    if let Some(wall) = &block.wall {
        clocks.extend([(Tone::Body, " · "), (Tone::Clock, wall)]);
    }
    page.apart((Tone::Step, &format!("{} {}", block.name, block.time)), '-', &clocks);
    if let Some(bath) = &block.bath {
        page.body("  ", bath);
    }
    for caution in &block.cautions {
        page.hang(&[(Tone::Warning, "  caution: ")], (Tone::Warning, caution));
    }
    for note in &block.notes {
        page.body("  note: ", note);
    }
    for Line { when, what } in &block.lines {
        let (whole, part) = split(when);
        let lead = format!("  {whole:>before$}{part:<after$}  ", before = times.whole, after = times.part);
        page.hang(&[(Tone::Clock, &lead)], (Tone::Body, what));
    }
}

fn total(page: &mut Page, total: &Total) {
    let ends = total.wall.as_ref().map(|wall| format!("ends {wall}"));
    let right: Vec<(Tone, &str)> = ends.iter().map(|ends| (Tone::Clock, ends.as_str())).collect();
    page.apart((Tone::Step, &format!("TOTAL {}", total.time)), '-', &right);
    page.body("  ", &total.besides.join(" · "));
}
