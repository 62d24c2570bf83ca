//! The card itself, in the order of the text card: headings, lists and tables that a screen reader can walk
//! and a printer can print.

use crate::emit::card::{Block, Card, Line, Place, Ready, Reason, Total};
use crate::emit::picture::Drawing;

use super::Reckoning;
use super::markup::Markup;

/// Title, fingerprint, and what tonight is.
pub(super) fn header(page: &mut Markup, card: &Card) {
    page.own("\n");
    page.within("header", |page| {
        page.element("h1", &card.title);
        page.element("p class=\"mark\"", &format!("recipe {}", card.fingerprint));
        list(page, "ul class=\"facts\"", &card.facts);
    });
    page.own("\n");
}

/// All the rest.
pub(super) fn sections(page: &mut Markup, card: &Card, pictures: &[Drawing], reckoning: Reckoning) {
    let warnings = match reckoning {
        Reckoning::Told => &card.warnings_with_rules,
        Reckoning::LeftOut => &card.warnings,
    };
    listed(page, "section class=\"warnings ticked\"", ("Warnings", warnings));
    mix(page, &card.mix);
    load(page, card);
    drawn(page, pictures);
    page.own("\n");
    page.within("section class=\"work\"", |page| {
        page.element("h2", "Work");
        page.element("p", card.clock);
        page.within("ol", |page| card.work.iter().for_each(|block| step(page, block, reckoning)));
        total(page, &card.total);
    });
    listed(page, "section class=\"ticked\"", ("Afterwards", &card.afterwards));
    let mut cautions = card.cautions.clone();
    cautions.push(card.closing.to_owned());
    listed(page, "section class=\"running\"", ("Cautions", &cautions));
    listed(page, "section class=\"running\"", ("Notes", &card.notes));
    page.own("\n");
}

fn list(page: &mut Markup, tag: &'static str, items: &[String]) {
    page.within(tag, |page| items.iter().for_each(|item| page.element("li", item)));
}

/// A section that is a list; none where there is nothing to say.
fn listed(page: &mut Markup, tag: &'static str, (title, items): (&str, &[String])) {
    if items.is_empty() {
        return;
    }
    page.own("\n");
    page.within(tag, |page| {
        page.element("h2", title);
        list(page, "ul", items);
    });
}

/// The head of a table.
fn columns(page: &mut Markup, names: &[&str]) {
    page.within("thead", |page| {
        page.within("tr", |page| names.iter().for_each(|name| page.element("th scope=\"col\"", name)));
    });
}

fn mix(page: &mut Markup, baths: &[Ready]) {
    if baths.is_empty() {
        return;
    }
    page.own("\n");
    page.within("section", |page| {
        page.element("h2", "Mix");
        page.within("table", |page| {
            columns(page, &["for", "what to have ready"]);
            page.within("tbody", |page| baths.iter().for_each(|bath| ready(page, bath)));
        });
    });
}

fn ready(page: &mut Markup, bath: &Ready) {
    page.own("\n");
    page.within("tr", |page| {
        page.element("th scope=\"row\"", &bath.steps);
        page.within("td", |page| {
            page.element("b", &bath.bath);
            page.element("p", &bath.how);
            if !bath.parts.is_empty() {
                let parts = bath.parts.iter().map(|part| format!("{} {}", part.amount, part.what));
                list(page, "ul", &parts.collect::<Vec<_>>());
            }
        });
    });
}

fn load(page: &mut Markup, card: &Card) {
    if card.load.is_empty() {
        return;
    }
    page.own("\n");
    page.within("section class=\"load\"", |page| {
        page.element("h2", "Load");
        page.within("table", |page| {
            columns(page, &["place", "what", "label"]);
            page.within("tbody", |page| card.load.iter().for_each(|lies| place(page, lies)));
        });
        if let Some(lid) = &card.lid {
            page.element("p", lid);
        }
    });
}

fn place(page: &mut Markup, place: &Place) {
    let named = [place.end, &place.slots].map(str::trim).join(" ");
    page.own("\n");
    page.within("tr", |page| {
        page.element("th scope=\"row\"", named.trim());
        page.element("td", &place.what);
        page.element("td", &place.label);
    });
}

fn drawn(page: &mut Markup, pictures: &[Drawing]) {
    page.own("\n");
    page.within("section class=\"pictures\"", |page| {
        page.element("h2", "At a glance");
        page.own("\n");
        pictures.iter().for_each(|picture| page.picture(picture));
    });
}

fn step(page: &mut Markup, block: &Block, reckoning: Reckoning) {
    page.own("\n");
    page.within("li", |page| {
        page.within("div class=\"head\"", |page| {
            page.within("h3", |page| {
                page.text(&block.name);
                page.own(" ");
                page.element("span", &block.time);
            });
            let begins = format!("begins {}", block.begins);
            let wall = block.wall.as_ref().map(|wall| format!(" · {wall}"));
            page.element("p class=\"begins\"", &(begins + wall.as_deref().unwrap_or("")));
        });
        if let Some(bath) = &block.bath {
            page.element("p", bath);
        }
        for caution in &block.cautions {
            page.element("p class=\"caution\"", &format!("caution: {caution}"));
        }
        for note in &block.notes {
            page.element("p", &format!("note: {note}"));
        }
        page.within("table", |page| {
            columns(page, &["when", "what to do"]);
            page.within("tbody", |page| block.lines.iter().for_each(|told| line(page, told)));
        });
        if reckoning == Reckoning::Told {
            reasons(page, &block.reasons);
        }
    });
}

fn line(page: &mut Markup, line: &Line) {
    page.within("tr", |page| {
        page.element("th scope=\"row\"", &line.when);
        page.element("td", &line.what);
    });
}

fn reasons(page: &mut Markup, reasons: &[Reason]) {
    let told = reasons.iter().map(|Reason { rule, of, text, places }| {
        let from = if places.is_empty() { String::new() } else { format!(" [{places}]") };
        format!("{rule} {of}: {text}{from}")
    });
    let told: Vec<String> = told.collect();
    if !told.is_empty() {
        list(page, "ul class=\"why\"", &told);
    }
}

fn total(page: &mut Markup, total: &Total) {
    page.within("p class=\"total\"", |page| {
        page.element("b", &format!("Total {}", total.time));
        let wall = total.wall.iter().map(|wall| format!("ends {wall}"));
        for said in wall.chain(total.besides.iter().cloned()) {
            page.text(&format!(" · {said}"));
        }
    });
}
