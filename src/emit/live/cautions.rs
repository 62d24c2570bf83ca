//! Warnings and cautions on a screen of their own, before the clock starts and whenever they are asked for:
//! over as many pages as they need, so that none of them is cut off. A clock that runs goes on beneath them.

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

/// What is read before the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Heed {
    kind: Kind,
    text: String,
}

/// Which part of the card it stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// Of this evening.
    Warning,
    /// Of what is handled.
    Caution,
}

impl Kind {
    /// The name of that part, and what stands before each, as on the card in text.
    fn told(self) -> (&'static str, &'static str) {
        match self {
            Kind::Warning => ("WARNINGS", "!"),
            Kind::Caution => ("CAUTIONS", "-"),
        }
    }
}

/// The warnings of a card, then all its cautions, those of a step behind its name, and what overrules the card.
pub(super) fn of(card: &Card) -> Vec<Heed> {
    let own = |block: &Block| {
        let named = block.cautions.iter().map(|caution| format!("{}: {caution}", block.name));
        named.collect::<Vec<String>>()
    };
    let steps = card.work.iter().flat_map(own);
    let cautions = card.cautions.iter().cloned().chain(steps).chain([card.closing.to_owned()]);
    let warnings = card.warnings.iter().map(|text| Heed { kind: Kind::Warning, text: text.clone() });
    warnings.chain(cautions.map(|text| Heed { kind: Kind::Caution, text })).collect()
}

impl Live {
    /// Whether warnings and cautions are shown, and any key goes on.
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
        let title = format!("{} {} of {count}", titled(&lines), page + 1);
        let body = lines.into_iter().map(|(_, line)| row(line, Shade::Strong));
        if size.rows < FRAMED {
            return body.collect();
        }
        let head = row(ends(&title, left, size.columns), Shade::Body);
        let mut rows: Vec<Row> = std::iter::once(head).chain(body).collect();
        rows.resize(size.rows - 1, row(String::new(), Shade::Body));
        rows.push(row(cut(KEYS, size.columns), Shade::Faint));
        rows
    }

    /// The lines of each page; there is always one, as what overrules the card is always said.
    fn pages(&self, size: Size) -> Vec<Vec<(Kind, String)>> {
        let wrapped = |heed: &Heed| {
            let (_, mark) = heed.kind.told();
            let lines = labelled(mark, &heed.text, size.columns, usize::MAX);
            lines.into_iter().map(|line| (heed.kind, line)).collect::<Vec<_>>()
        };
        let lines: Vec<(Kind, String)> = self.heeds.iter().flat_map(wrapped).collect();
        let room = if size.rows < FRAMED { size.rows.max(1) } else { size.rows - FRAME };
        lines.chunks(room).map(<[(Kind, String)]>::to_vec).collect()
    }

    /// Warnings and cautions as lines, each part below its name, with an empty line behind it.
    pub(super) fn heeds_told(&self) -> impl Iterator<Item = String> {
        self.heeds.chunk_by(|one, other| one.kind == other.kind).flat_map(|part| {
            let name = part.iter().take(1).map(|heed| heed.kind.told().0.to_owned());
            let told = part.iter().map(|heed| format!("  {} {}", heed.kind.told().1, heed.text));
            name.chain(told).chain([String::new()])
        })
    }
}

/// What a page of these lines is called.
fn titled(lines: &[(Kind, String)]) -> &'static str {
    let has = |kind: Kind| lines.iter().any(|(own, _)| *own == kind);
    match (has(Kind::Warning), has(Kind::Caution)) {
        (true, true) => "WARNINGS, CAUTIONS",
        (true, false) => Kind::Warning.told().0,
        (false, _) => Kind::Caution.told().0,
    }
}

fn row(text: String, shade: Shade) -> Row {
    Row { text, shade }
}
