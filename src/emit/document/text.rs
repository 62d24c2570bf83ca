//! A document as text.

use unicode_width::UnicodeWidthStr as _;

use super::{Block, Bullet, Document, Head, Place, Section, Table, steps};
use crate::emit::plain::{Look, Page, Tone, padded, widest};

/// The width in characters up to which a cell widens its column. A wider cell moves the rest of its row to the right.
const CELL_MOST: usize = 30;
const INDENT: &str = "  ";
const GAP: &str = "  ";
const BOX: &str = "[ ]  ";

impl Document {
    /// The document as text.
    pub fn text(&self, look: Look) -> String {
        let mut page = Page::new(look);
        if !self.is_bare {
            page.apart((Tone::Bold, &self.title), ' ', &[(Tone::Body, &self.aside)]);
            if !self.facts.is_empty() {
                page.joined(&self.facts);
            }
        }
        let mut times = steps::times(self);
        for section in self.sections.iter().filter(|section| section.has_text()) {
            match &section.head {
                Head::None if page.out.is_empty() => {}
                Head::None => page.blank(),
                Head::Title(title) => page.heading(title),
                Head::Ruled(title, aside) => {
                    page.blank();
                    page.apart((Tone::Bold, title), '-', &[(Tone::Body, aside)]);
                }
                Head::Name(name, text) => {
                    page.hang(&[(Tone::Bold, name), (Tone::Body, "  ")], (Tone::Body, text))
                }
            }
            let indent = if matches!(section.head, Head::None) { "" } else { INDENT };
            section.blocks.iter().for_each(|block| self::block(&mut page, indent, block, &mut times));
        }
        page.out
    }
}

fn block(page: &mut Page, indent: &str, block: &Block, times: &mut impl Iterator<Item = String>) {
    match block {
        Block::Paragraph(text) | Block::Light(text) => page.body(indent, text),
        Block::Safety(lines) => page.safety(lines),
        Block::List(bullet, items) => {
            let (tone, sign) = match bullet {
                Bullet::Dash | Bullet::Box => (Tone::Body, "  - "),
                Bullet::Warning => (Tone::Warning, "  ! "),
            };
            items.iter().for_each(|item| page.hang(&[(tone, sign)], (tone, item)));
        }
        Block::Named(pairs) => {
            for (name, text) in pairs {
                page.hang(&[(Tone::Bold, &format!("  {name:<8} "))], (Tone::Body, text));
            }
        }
        Block::Table(table) => self::table(page, table),
        Block::Lines(lines) => {
            lines.iter().for_each(|line| page.line(&[(Tone::Body, INDENT), (Tone::Body, line)]));
        }
        Block::Baths(baths) => steps::baths(page, baths),
        Block::Step(step) => steps::step(page, step, times),
        Block::Total(total) => steps::total(page, total),
        // A link is never wrapped, because a terminal opens only a link without spaces.
        Block::Link(link) => page.line(&[(Tone::Body, indent), (Tone::Body, link)]),
        Block::Figures(_) | Block::Stubs(_) => {}
        Block::Rolls(places) => rolls(page, places),
    }
}

fn rolls(page: &mut Page, places: &[Place]) {
    let labels = widest(places.iter().map(|place| &place.label));
    for Place { end, slots, label, what } in places {
        let label = padded(label, labels);
        let lead = match slots.as_str() {
            "" => format!("{:15}{label}  ", ""),
            slot => format!("  {end:<8} [ ] {slot:>2}  {label}  "),
        };
        page.body(&lead, what);
    }
}

fn table(page: &mut Page, table: &Table) {
    let shown = table.cells();
    let Some((last, before)) = shown.split_last() else { return };
    let is_counted = |cell: &&String| table.is_wide || cell.width() <= CELL_MOST;
    let widths: Vec<usize> =
        before.iter().map(|(_, cells)| widest(cells.iter().filter(is_counted))).collect();
    let indent = if table.is_wide { "" } else { INDENT };
    let sign = if table.has_boxes { BOX } else { "" };
    for (at, text) in last.1.iter().enumerate() {
        let mut lead = vec![(Tone::Body, format!("{indent}{sign}"))];
        for ((column, cells), width) in before.iter().zip(&widths) {
            let tone = if column.is_bold { Tone::Bold } else { Tone::Body };
            let cell = cells.get(at).map(String::as_str).unwrap_or_default();
            lead.extend([(tone, padded(cell, *width)), (Tone::Body, GAP.to_owned())]);
        }
        let lead: Vec<(Tone, &str)> = lead.iter().map(|(tone, text)| (*tone, text.as_str())).collect();
        if table.is_wide {
            page.line(&[lead.as_slice(), &[(Tone::Body, text)]].concat());
            continue;
        }
        page.hang(&lead, (Tone::Body, text));
        if let Some(below) = table.below.get(at).filter(|below| !below.is_empty()) {
            let taken = lead.iter().map(|(_, text)| text.width()).sum();
            page.body(&" ".repeat(taken), below);
        }
    }
}

impl Section {
    /// Whether the document as text shows anything of the section. Text leaves out pictures (`Figures`) and slips
    /// (`Stubs`).
    fn has_text(&self) -> bool {
        let is_drawn = |block: &Block| matches!(block, Block::Figures(_) | Block::Stubs(_));
        !matches!(self.head, Head::None) || !self.blocks.iter().all(is_drawn)
    }
}
