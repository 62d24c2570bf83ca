//! A card as one HTML page to read, print and follow, and other documents as HTML pages. A page loads nothing from
//! outside.

mod asking;
mod data;
mod document;
mod evening;
mod markup;
mod pace;

pub use asking::{AskedRoll, Asking};

use std::sync::LazyLock;

use self::document::{SIDES, sections, whole};
use self::markup::{Markup, Part, compact, page};
use super::card::{Card, card};
use super::document::Section;
use super::picture::rules;
use crate::compile::Schedule;
use crate::source::Sources;

/// The script that follows the session. It compares the clock with the times at which buttons were pressed, so it is
/// right even after the device slept.
static SCRIPT: LazyLock<Part> = LazyLock::new(|| {
    Part::of(compact(concat!(
        include_str!("laid.js"),
        include_str!("pace.js"),
        include_str!("model.js"),
        include_str!("hold.js"),
        include_str!("sound.js"),
        include_str!("view.js"),
        include_str!("follow.js")
    )))
});
/// The style of a card's page. Printed, the page looks like the PDF.
static STYLE: LazyLock<Part> = LazyLock::new(|| {
    let page = concat!(include_str!("base.css"), include_str!("style.css"), include_str!("sink.css"));
    let pictures = rules();
    Part::of(compact(&format!("{page}{pictures}{}", include_str!("print.css"))))
});
/// The screen to follow a session at the sink. It is hidden where scripts do not run.
const FOLLOW: &str = include_str!("follow.html");

/// What the HTML page of a card shows besides the card.
#[derive(Debug, Clone, Copy)]
pub struct PageParts<'a> {
    /// Whether the page shows how each number of the card was calculated.
    pub reasons: bool,
    /// The command line that records the session: `wetside record`. The page adds options to it.
    pub record: &'a str,
    /// The rolls that do not fit the card; the page asks about them before the session can start.
    pub asking: Option<&'a Asking<'a>>,
}

/// The card as an HTML page with its pictures.
pub fn html(schedule: &Schedule, sources: &Sources, parts: PageParts<'_>) -> String {
    let PageParts { reasons, record, asking } = parts;
    let card = card(schedule, sources);
    let mut document = card.document(reasons);
    let (safety, rest) = document.sections.into_iter().partition(Section::is_safety);
    let safety: Vec<Section> = safety;
    document.sections = rest;
    page(&card.title, &STYLE, &SCRIPT, |page| {
        asking.iter().for_each(|asking| asking::screen(page, asking));
        page.line("header", |page| head(page, &card, "h1"));
        // The safety block comes before the button that starts the clock.
        safety.iter().for_each(|section| whole(page, section));
        page.within("div id=\"top\"", |page| page.own(FOLLOW));
        page.line("main", |page| sections(page, &document, &SIDES));
        page.line("script type=\"application/json\" id=\"evening\"", |page| {
            page.data(&data::data(&card, schedule, asking, record));
        });
    })
}

/// The card as HTML to insert into another page, without the screen to follow it. That page needs the style sheet
/// [`style`].
pub fn body(card: &Card) -> String {
    let mut page = Markup::default();
    page.line("header", |page| head(page, card, "h2"));
    page.line("div class=\"sections\"", |page| sections(page, &card.document(false), &SIDES));
    page.0
}

/// The style sheet of a card's page.
pub fn style() -> &'static str {
    &STYLE.text
}

/// The hashes for the Content Security Policy of a card's page: that of its style sheet, then that of its script.
pub fn policy() -> [&'static str; 2] {
    [&STYLE.hash, &SCRIPT.hash]
}

fn head(page: &mut Markup, card: &Card, title: &'static str) {
    page.element(title, &card.title);
    page.element("p class=\"mark\"", &format!("recipe {}", card.fingerprint));
    facts(page, card);
}

fn facts(page: &mut Markup, card: &Card) {
    page.list("ul class=\"facts\"", &card.facts);
}
