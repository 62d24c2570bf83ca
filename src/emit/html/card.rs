//! The card on a page, in the order of the text card: headings, lists and tables.

use crate::emit::card::{Block, Card, Place, Ready, Reason, Total};
use crate::emit::picture::Drawing;

use super::Reasons;
use super::markup::Markup;

/// Title, fingerprint and conditions.
pub(super) fn header(page: &mut Markup, card: &Card) {
    page.line("header", |page| {
        page.element("h1", &card.title);
        page.element("p class=\"mark\"", &format!("recipe {}", card.fingerprint));
        page.list("ul class=\"facts\"", &card.facts);
    });
    page.own("\n");
}

/// Everything after the header.
pub(super) fn sections(page: &mut Markup, card: &Card, pictures: &[Drawing], reasons: Reasons) {
    let warnings = match reasons {
        Reasons::Shown => &card.warnings_with_rules,
        Reasons::Hidden => &card.warnings,
    };
    section(page, "section class=\"warnings ticked\"", "Warnings", warnings);
    mix(page, &card.mix);
    load(page, card);
    page.line("section class=\"pictures\"", |page| {
        page.element("h2", "At a glance");
        page.own("\n");
        pictures.iter().for_each(|picture| page.picture(picture));
    });
    page.line("section class=\"work\"", |page| {
        page.element("h2", "Work");
        page.element("p", card.clock);
        page.within("ol", |page| card.work.iter().for_each(|block| step(page, block, reasons)));
        total(page, &card.total);
    });
    section(page, "section class=\"ticked\"", "Afterwards", &card.afterwards);
    let cautions: Vec<String> = card.cautions.iter().cloned().chain([card.closing.to_owned()]).collect();
    section(page, "section class=\"running\"", "Cautions", &cautions);
    section(page, "section class=\"running\"", "Notes", &card.notes);
    page.own("\n");
}

/// A section with a list, unless the list is empty.
fn section(page: &mut Markup, tag: &'static str, title: &str, items: &[String]) {
    if !items.is_empty() {
        page.line(tag, |page| {
            page.element("h2", title);
            page.list("ul", items);
        });
    }
}

fn table(page: &mut Markup, columns: &[&str], rows: impl FnOnce(&mut Markup)) {
    page.within("table", |page| {
        page.within("thead", |page| {
            page.within("tr", |page| {
                columns.iter().for_each(|name| page.element("th scope=\"col\"", name));
            });
        });
        page.within("tbody", rows);
    });
}

fn mix(page: &mut Markup, baths: &[Ready]) {
    if !baths.is_empty() {
        page.line("section", |page| {
            page.element("h2", "Mix");
            table(page, &["for", "what to have ready"], |page| {
                baths.iter().for_each(|bath| ready(page, bath));
            });
        });
    }
}

fn ready(page: &mut Markup, bath: &Ready) {
    page.line("tr", |page| {
        page.element("th scope=\"row\"", &bath.steps);
        page.within("td", |page| {
            page.element("b", &bath.bath);
            page.element("p", &bath.how);
            if !bath.parts.is_empty() {
                let parts = bath.parts.iter().map(|part| format!("{} {}", part.amount, part.what));
                page.list("ul", &parts.collect::<Vec<_>>());
            }
        });
    });
}

fn load(page: &mut Markup, card: &Card) {
    if !card.load.is_empty() {
        page.line("section class=\"load\"", |page| {
            page.element("h2", "Load");
            table(page, &["place", "what", "label"], |page| {
                card.load.iter().for_each(|place| loaded(page, place));
            });
            card.lid.iter().for_each(|lid| page.element("p", lid));
        });
    }
}

fn loaded(page: &mut Markup, place: &Place) {
    let named = [place.end, &place.slots].map(str::trim).join(" ");
    page.line("tr", |page| {
        page.element("th scope=\"row\"", named.trim());
        page.element("td", &place.what);
        page.element("td", &place.label);
    });
}

fn step(page: &mut Markup, block: &Block, reasons: Reasons) {
    page.line("li", |page| {
        page.within("div class=\"head\"", |page| {
            page.within("h3", |page| {
                page.text(&block.name);
                page.own(" ");
                page.element("span", &block.time);
            });
            let wall = block.wall.as_ref().map(|wall| format!(" · {wall}")).unwrap_or_default();
            page.element("p class=\"begins\"", &format!("begins {}{wall}", block.begins));
        });
        block.bath.iter().for_each(|bath| page.element("p", bath));
        for caution in &block.cautions {
            page.element("p class=\"caution\"", &format!("caution: {caution}"));
        }
        block.notes.iter().for_each(|note| page.element("p", &format!("note: {note}")));
        table(page, &["when", "what to do"], |page| {
            for line in &block.lines {
                page.within("tr", |page| {
                    page.element("th scope=\"row\"", &line.when);
                    page.element("td", &line.what);
                });
            }
        });
        if reasons == Reasons::Shown && !block.reasons.is_empty() {
            page.list("ul class=\"why\"", &block.reasons.iter().map(reason).collect::<Vec<_>>());
        }
    });
}

fn reason(Reason { rule, of, text, places }: &Reason) -> String {
    let from = if places.is_empty() { String::new() } else { format!(" [{places}]") };
    format!("{rule} {of}: {text}{from}")
}

fn total(page: &mut Markup, total: &Total) {
    page.within("p class=\"total\"", |page| {
        page.element("b", &format!("Total {}", total.time));
        let wall = total.wall.iter().map(|wall| format!("ends {wall}"));
        for text in wall.chain(total.besides.iter().cloned()) {
            page.text(&format!(" · {text}"));
        }
    });
}
