//! A card as one HTML page to read, print and follow, and other documents as HTML pages. A page loads nothing from
//! outside.

mod asking;
mod data;
mod document;
mod markup;
mod pace;

pub use asking::{AskedRoll, Asking};

use std::sync::LazyLock;

use self::document::{lowered, safety, section, table};
use self::markup::{Markup, Part, compact, page};
use super::card::{Card, card};
use super::document::{Place, Ready, Reason, StepText, Total};
use super::link::ON_A_PHONE;
use super::picture::{pictures, rules};
use super::try_first::HEADING;
use crate::compile::Schedule;
use crate::source::Sources;

/// The script that follows the session, and fits the printed card to one sheet. It compares the clock with what a person
/// said and when, so the time is right even after the page slept.
static SCRIPT: LazyLock<Part> = LazyLock::new(|| {
    Part::of(compact(concat!(
        include_str!("laid.js"),
        include_str!("pace.js"),
        include_str!("model.js"),
        include_str!("hold.js"),
        include_str!("sound.js"),
        include_str!("view.js"),
        include_str!("follow.js"),
        include_str!("print.js")
    )))
});
/// The style of a card's page. Its print looks like the PDF.
static STYLE: LazyLock<Part> = LazyLock::new(|| {
    let page = concat!(include_str!("base.css"), include_str!("style.css"), include_str!("sink.css"));
    let pictures = rules();
    Part::of(compact(&format!("{page}{pictures}{}", include_str!("print.css"))))
});
/// The screen at the sink. It is hidden where scripts do not run.
const FOLLOW: &str = include_str!("follow.html");

/// What a card's page has besides the card.
#[derive(Debug, Clone, Copy)]
pub struct PageParts<'a> {
    /// Whether it has the calculations of the card's numbers.
    pub reasons: bool,
    /// The call that records the session, to which the page adds what happened: `wetside record`.
    pub record: &'a str,
    /// The wrong rolls that it asks about before it shows anything else.
    pub asking: Option<&'a Asking<'a>>,
}

/// The card as an HTML page with its pictures.
pub fn html(schedule: &Schedule, sources: &Sources, parts: PageParts<'_>) -> String {
    let PageParts { reasons, record, asking } = parts;
    let card = card(schedule, sources);
    page(&card.title, &STYLE, &SCRIPT, |page| {
        asking.iter().for_each(|asking| asking::screen(page, asking));
        safety(page, &card.safety);
        page.within("div id=\"top\"", |page| {
            page.line("header", |page| {
                page.element("h1", &card.title);
                page.element("p class=\"mark\"", &format!("recipe {}", card.fingerprint));
                facts(page, &card);
            });
            page.own("\n");
            page.own(FOLLOW);
        });
        page.line("main", |page| sections(page, &card, Some(schedule), reasons));
        // Outside of the columns of the print, because they can be on the back of the sheet.
        list(page, "section class=\"cautions running\"", "Cautions", &card.cautions);
        list(page, "section class=\"aid\"", "First aid", &card.first_aid);
        page.line("script type=\"application/json\" id=\"evening\"", |page| {
            page.data(&data::data(&card, schedule, asking, record));
        });
    })
}

/// The body of a card's page without what follows the session, for a page that shows one card after the other. Its style
/// is [`style`].
pub fn body(card: &Card, schedule: &Schedule) -> String {
    let mut page = Markup::default();
    safety(&mut page, &card.safety);
    page.line("header", |page| {
        page.element("h2", &card.title);
        page.element("p class=\"mark\"", &format!("recipe {}", card.fingerprint));
        facts(page, card);
    });
    page.line("div class=\"sections\"", |page| sections(page, card, Some(schedule), false));
    list(&mut page, "section class=\"cautions running\"", "Cautions", &card.cautions);
    list(&mut page, "section class=\"aid\"", "First aid", &card.first_aid);
    page.0
}

/// The style of a card's page.
pub fn style() -> &'static str {
    &STYLE.text
}

/// The Content Security Policy's sources of a card's page: of its style, and of its script.
pub fn policy() -> [&'static str; 2] {
    [&STYLE.hash, &SCRIPT.hash]
}

fn facts(page: &mut Markup, card: &Card) {
    page.list("ul class=\"facts\"", &card.facts);
}

/// The card's sections; with a schedule, also its pictures.
fn sections(page: &mut Markup, card: &Card, schedule: Option<&Schedule>, reasons: bool) {
    let warnings = if reasons { &card.warnings_with_rules } else { &card.warnings };
    list(page, "section class=\"warnings ticked\"", "Warnings", warnings);
    list(page, "section class=\"running\"", "Advice", &card.advice);
    if !card.mix.is_empty() {
        section(page, "section", "Mix", |page| {
            table(page, &["for", "what to have ready"], &card.mix, ready);
        });
    }
    list(page, "section class=\"ticked\"", HEADING, &card.try_first);
    if !card.load.is_empty() {
        section(page, "section class=\"load\"", "Load", |page| {
            table(page, &["place", "what", "label"], &card.load, loaded);
            card.lid.iter().for_each(|lid| page.element("p", lid));
        });
    }
    if let Some(schedule) = schedule {
        section(page, "section class=\"pictures\"", "At a glance", |page| {
            page.own("\n");
            pictures(schedule).iter().for_each(|picture| page.picture(picture));
        });
    }
    section(page, "section class=\"work\"", "Work", |page| {
        page.element("p", card.clock);
        page.within("ol", |page| card.work.iter().for_each(|block| step(page, block, reasons)));
        total(page, &card.total);
    });
    list(page, "section class=\"ticked\"", "Afterwards", &card.afterwards);
    list(page, "section class=\"running\"", "Notes", &card.notes);
    for link in card.link.iter() {
        section(page, "section class=\"code\"", &lowered(ON_A_PHONE), |page| document::link(page, link));
    }
    page.own("\n");
}

fn list(page: &mut Markup, tag: &'static str, title: &str, items: &[String]) {
    if !items.is_empty() {
        section(page, tag, title, |page| page.list("ul", items));
    }
}

fn ready(page: &mut Markup, bath: &Ready) {
    page.element("th scope=\"row\"", &bath.steps);
    page.within("td", |page| {
        page.element("b", &bath.bath);
        page.element("p", &bath.how);
        if !bath.parts.is_empty() {
            page.list("ul", &bath.parts);
        }
    });
}

fn loaded(page: &mut Markup, place: &Place) {
    page.element("th scope=\"row\"", [place.end, &place.slots].map(str::trim).join(" ").trim());
    page.element("td", &place.what);
    page.element("td", &place.label);
}

fn step(page: &mut Markup, block: &StepText, reasons: bool) {
    page.line("li", |page| {
        page.within("div class=\"head\"", |page| {
            page.within("h3", |page| {
                page.text(&block.name);
                page.own(" ");
                page.element("span", &block.time);
            });
            page.element("p class=\"begins\"", &block.begins.join(" · "));
        });
        block.bath.iter().for_each(|bath| page.element("p", bath));
        for caution in &block.cautions {
            page.element("p class=\"caution\"", &format!("caution: {caution}"));
        }
        block.notes.iter().for_each(|note| page.element("p", &format!("note: {note}")));
        table(page, &["when", "what to do"], &block.lines, |page, line| {
            page.element("th scope=\"row\"", &line.when);
            page.element("td", &line.what);
        });
        if reasons && !block.reasons.is_empty() {
            page.list(
                "ul class=\"why\"",
                block.reasons.iter().map(|Reason { rule, text }| format!("{rule} {text}")),
            );
        }
    });
}

fn total(page: &mut Markup, total: &Total) {
    page.within("p class=\"total\"", |page| {
        page.element("b", &format!("Total {}", total.time));
        total.ends.iter().chain(&total.besides).for_each(|text| page.text(&format!(" · {text}")));
    });
}
