//! The cautions on a screen of their own, before the clock starts and whenever they are asked for: over as
//! many pages as they need, so that none of them is cut off. A clock that runs goes on beneath them.

use super::Live;
use super::fit::{cut, ends, labelled};
use super::frame::{Row, Shade, Size};
use crate::emit::card::{Block, Card};

/// From so many rows on there is room for a head and a foot.
const FRAMED: usize = 6;
/// Rows that the head and the foot take.
const FRAME: usize = 3;
/// What to do with a page.
const KEYS: &str = "any key goes on   q quit";

/// All cautions of a card, those of a step behind its name, and what overrules the card.
pub(super) fn of(card: &Card) -> Vec<String> {
    let own = |block: &Block| {
        let named = block.cautions.iter().map(|caution| format!("{}: {caution}", block.name));
        named.collect::<Vec<String>>()
    };
    let steps = card.work.iter().flat_map(own);
    card.cautions.iter().cloned().chain(steps).chain([card.closing.to_owned()]).collect()
}

impl Live {
    /// Whether the cautions are shown, and any key goes on.
    #[must_use]
    pub fn is_reading(&self) -> bool {
        self.reading.is_some()
    }

    /// Goes on to the next page of the cautions on a screen of that size, and from the last to the evening.
    pub fn read_on(&mut self, size: Size) {
        let next = self.reading.map(|page| page + 1);
        self.reading = next.filter(|page| *page < self.pages(size).len());
    }

    /// That page of the cautions; the last one where a larger screen has fewer.
    pub(super) fn cautions_page(&self, page: usize, left: &str, size: Size) -> Vec<Row> {
        let mut pages = self.pages(size);
        let count = pages.len();
        let page = page.min(count.saturating_sub(1));
        let lines = if page < count { pages.swap_remove(page) } else { Vec::new() };
        let body = lines.into_iter().map(|line| row(line, Shade::Strong));
        if size.rows < FRAMED {
            return body.collect();
        }
        let title = format!("CAUTIONS {} of {count}", page + 1);
        let head = row(ends(&title, left, size.columns), Shade::Body);
        let mut rows: Vec<Row> = std::iter::once(head).chain(body).collect();
        rows.resize(size.rows - 1, row(String::new(), Shade::Body));
        rows.push(row(cut(KEYS, size.columns), Shade::Faint));
        rows
    }

    /// The lines of each page; there is always one, as what overrules the card is always said.
    fn pages(&self, size: Size) -> Vec<Vec<String>> {
        let lines = self.cautions.iter().flat_map(|text| labelled("-", text, size.columns, usize::MAX));
        let lines: Vec<String> = lines.collect();
        let room = if size.rows < FRAMED { size.rows.max(1) } else { size.rows - FRAME };
        lines.chunks(room).map(<[String]>::to_vec).collect()
    }

    /// The cautions as lines, with an empty one behind them.
    pub(super) fn cautions_told(&self) -> impl Iterator<Item = String> {
        let told = self.cautions.iter().map(|text| format!("  - {text}"));
        std::iter::once("CAUTIONS".to_owned()).chain(told).chain([String::new()])
    }
}

fn row(text: String, shade: Shade) -> Row {
    Row { text, shade }
}
