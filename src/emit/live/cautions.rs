//! Warnings and cautions on pages of their own, before the work and on request. A running clock keeps running.

use super::Live;
use super::frame::{Row, Shade, Size, ends, labelled, to_columns};
use crate::emit::card::Card;

/// From this many rows on a page has a title and a line with the keys.
const FRAMED: usize = 6;
const FRAME: usize = 3;
const KEYS: &str = "any key continues   q quit";

/// Warnings or cautions: the title of their pages, and the mark before each, as on the text card.
type Kind = (&'static str, &'static str);
const WARNING: Kind = ("WARNINGS", "!");
const CAUTION: Kind = ("CAUTIONS", "-");

/// The warnings of a card, then all its cautions, those of a step after its name, then the closing line.
fn notices(card: &Card) -> impl Iterator<Item = (Kind, String)> {
    let of_steps = card
        .work
        .iter()
        .flat_map(|block| block.cautions.iter().map(move |caution| format!("{}: {caution}", block.name)));
    let (own, closing) = card.cautions.split_at(card.cautions.len().saturating_sub(1));
    let cautions = own.iter().cloned().chain(of_steps).chain(closing.iter().cloned());
    let warnings = card.warnings.iter().map(|text| (WARNING, text.clone()));
    warnings.chain(cautions.map(|text| (CAUTION, text)))
}

/// Warnings and cautions as lines, each kind below its title and before an empty line.
pub(super) fn lines(card: &Card) -> Vec<String> {
    let mut lines = Vec::new();
    let mut before = None;
    for (kind @ (title, mark), text) in notices(card) {
        if before.replace(kind) != Some(kind) {
            lines.extend((!lines.is_empty()).then(String::new));
            lines.push(title.to_owned());
        }
        lines.push(format!("  {mark} {text}"));
    }
    lines.push(String::new());
    lines
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
        let mut lines = pages.drain(page..).next().unwrap_or_default();
        let body: Vec<Row> = lines.iter().map(|(_, line)| Row::new(line, Shade::Strong)).collect();
        if size.rows < FRAMED {
            return body;
        }
        lines.dedup_by_key(|(kind, _)| *kind);
        let titles: Vec<&str> = lines.iter().map(|((title, _), _)| *title).collect();
        let title = format!("{} {} of {count}", titles.join(", "), page + 1);
        let mut rows = vec![Row::new(&ends(&title, running, size.columns), Shade::Body)];
        rows.extend(body);
        rows.resize(size.rows - 1, Row::blank());
        rows.push(Row::new(&to_columns(KEYS, size.columns), Shade::Faint));
        rows
    }

    /// The lines of each page; there is at least one, since the closing line is always shown.
    fn pages(&self, size: Size) -> Vec<Vec<(Kind, String)>> {
        let lines = notices(&self.card).flat_map(|(kind, text)| {
            labelled(kind.1, &text, size.columns, usize::MAX).into_iter().map(move |line| (kind, line))
        });
        let height = if size.rows < FRAMED { size.rows.max(1) } else { size.rows - FRAME };
        lines.collect::<Vec<_>>().chunks(height).map(<[_]>::to_vec).collect()
    }
}
