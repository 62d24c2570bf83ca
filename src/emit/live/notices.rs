//! The pages of warnings and cautions, with which a followed session begins.

use super::Live;
use super::frame::{Row, Shade, Size, ends, labelled, to_columns};
use crate::compile::{SAFETY_HEADING, SafetyLine};
use crate::emit::card::Card;

/// From this number of screen rows on, a page of cautions has a title and a row that lists the keys.
const FRAMED: usize = 6;
const FRAME: usize = 3;
const KEYS: &str = "any key continues   q quit";

/// The title of a kind of notice, and the sign before each notice.
type Kind = (&'static str, &'static str);
const SAFETY: Kind = ("SAFETY", "-");
const WARNING: Kind = ("WARNINGS", "!");
const ADVICE: Kind = ("ADVICE", "-");
const CAUTION: Kind = ("CAUTIONS", "-");

/// The notices in the order of reading: the safety block, the warnings, the advice, the card's cautions, the cautions
/// of each step (each begins with the step's name), and the closing line.
fn notices(card: &Card) -> impl Iterator<Item = (Kind, String)> {
    let of_steps = card
        .work
        .iter()
        .flat_map(|block| block.cautions.iter().map(move |caution| format!("{}: {caution}", block.name)));
    let (own, closing) = card.cautions.split_at(card.cautions.len().saturating_sub(1));
    let cautions = own.iter().cloned().chain(of_steps).chain(closing.iter().cloned());
    let warnings = card.warnings.iter().map(|text| (WARNING, text.clone()));
    let advice = card.advice.iter().map(|text| (ADVICE, text.clone()));
    let block = SafetyLine::entries(&card.safety).into_iter();
    let block = block.map(|SafetyLine { word, text }| (SAFETY, format!("{word} {text}")));
    let heading = std::iter::once((SAFETY, SAFETY_HEADING.to_owned()));
    heading.chain(block).chain(warnings).chain(advice).chain(cautions.map(|text| (CAUTION, text)))
}

pub(super) fn notices_as_lines(card: &Card) -> Vec<String> {
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
    pub fn is_reading(&self) -> bool {
        self.reading.is_some()
    }

    /// Goes to the next page of cautions; after the last page, to the screen of the work.
    pub fn read_on(&mut self, size: Size) {
        let next = self.reading.map(|page| page + 1);
        self.reading = next.filter(|page| *page < self.pages(size).len());
    }

    /// The rows of the page of cautions with this index, or of the last page. The text `running` is at the right of the
    /// title.
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
        let keys = self.prompt.as_deref().unwrap_or(KEYS);
        rows.push(Row::new(&to_columns(keys, size.columns), Shade::Faint));
        rows
    }

    /// The lines of each page. There is always at least one page, because the last caution is on every card.
    fn pages(&self, size: Size) -> Vec<Vec<(Kind, String)>> {
        let lines = notices(&self.card).flat_map(|(kind, text)| {
            labelled(kind.1, &text, size.columns, usize::MAX).into_iter().map(move |line| (kind, line))
        });
        let height = if size.rows < FRAMED { size.rows.max(1) } else { size.rows - FRAME };
        lines.collect::<Vec<_>>().chunks(height).map(<[_]>::to_vec).collect()
    }
}
