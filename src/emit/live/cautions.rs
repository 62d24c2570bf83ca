//! Warnings and cautions on pages of their own, before the work and on request. A running clock keeps running.

use super::Live;
use super::fit::{cut, ends, labelled};
use super::frame::{Row, Shade, Size};
use crate::emit::card::Card;

/// From this many rows on a page has a title and a line with the keys.
const FRAMED: usize = 6;
/// The rows that these take.
const FRAME: usize = 3;
const KEYS: &str = "any key continues   q quit";

/// A warning or a caution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Notice {
    kind: Kind,
    text: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Warning,
    Caution,
}

impl Kind {
    fn title(self) -> &'static str {
        if self == Kind::Warning { "WARNINGS" } else { "CAUTIONS" }
    }

    /// The mark before each notice, as on the text card.
    fn mark(self) -> &'static str {
        if self == Kind::Warning { "!" } else { "-" }
    }
}

/// The warnings of a card, then all its cautions, those of a step after its name, then the closing line.
pub(super) fn notices(card: &Card) -> Vec<Notice> {
    let of_steps = card
        .work
        .iter()
        .flat_map(|block| block.cautions.iter().map(move |caution| format!("{}: {caution}", block.name)));
    let cautions = card.cautions.iter().cloned().chain(of_steps).chain([card.closing.to_owned()]);
    let warnings = card.warnings.iter().map(|text| Notice { kind: Kind::Warning, text: text.clone() });
    warnings.chain(cautions.map(|text| Notice { kind: Kind::Caution, text })).collect()
}

impl Live {
    /// Whether a page of warnings and cautions is shown.
    #[must_use]
    pub fn is_reading(&self) -> bool {
        self.reading.is_some()
    }

    /// Goes to the next page of warnings and cautions, and from the last one to the work.
    pub fn read_on(&mut self, size: Size) {
        let next = self.reading.map(|page| page + 1);
        self.reading = next.filter(|page| *page < self.pages(size).len());
    }

    /// The rows of a page, or of the last one if there are fewer; `running` is shown at the right of its title.
    pub(super) fn cautions_page(&self, page: usize, running: &str, size: Size) -> Vec<Row> {
        let mut pages = self.pages(size);
        let count = pages.len();
        let page = page.min(count.saturating_sub(1));
        let lines = if page < count { pages.swap_remove(page) } else { Vec::new() };
        let title = format!("{} {} of {count}", title(&lines), page + 1);
        let body = lines.into_iter().map(|(_, line)| Row::new(line, Shade::Strong));
        if size.rows < FRAMED {
            return body.collect();
        }
        let head = Row::new(ends(&title, running, size.columns), Shade::Body);
        let mut rows: Vec<Row> = std::iter::once(head).chain(body).collect();
        rows.resize(size.rows - 1, Row::blank());
        rows.push(Row::new(cut(KEYS, size.columns), Shade::Faint));
        rows
    }

    /// The lines of each page; there is at least one, since the closing line is always shown.
    fn pages(&self, size: Size) -> Vec<Vec<(Kind, String)>> {
        let lines = self.notices.iter().flat_map(|notice| {
            let lines = labelled(notice.kind.mark(), &notice.text, size.columns, usize::MAX);
            lines.into_iter().map(|line| (notice.kind, line))
        });
        let lines: Vec<(Kind, String)> = lines.collect();
        let height = if size.rows < FRAMED { size.rows.max(1) } else { size.rows - FRAME };
        lines.chunks(height).map(<[(Kind, String)]>::to_vec).collect()
    }

    /// Warnings and cautions as lines, each kind below its title and before an empty line.
    pub(super) fn notice_lines(&self) -> impl Iterator<Item = String> {
        self.notices.chunk_by(|one, other| one.kind == other.kind).flat_map(|group| {
            let title = group.iter().take(1).map(|notice| notice.kind.title().to_owned());
            let texts = group.iter().map(|notice| format!("  {} {}", notice.kind.mark(), notice.text));
            title.chain(texts).chain([String::new()])
        })
    }
}

fn title(lines: &[(Kind, String)]) -> &'static str {
    let has = |kind: Kind| lines.iter().any(|(own, _)| *own == kind);
    match (has(Kind::Warning), has(Kind::Caution)) {
        (true, true) => "WARNINGS, CAUTIONS",
        (true, false) => Kind::Warning.title(),
        (false, _) => Kind::Caution.title(),
    }
}
