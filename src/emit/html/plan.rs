//! A plan as one page: its loads, with a box to tick for each roll. The browser keeps the ticks over a reload.

use super::super::compose::HANGING;
use super::super::page::bound;
use super::super::plan::{LoadSheet, PlanSheet};
use super::markup::{Markup, document};
use super::section;

/// The plan as an HTML page.
pub fn plan_page(sheet: &PlanSheet) -> String {
    document(
        &sheet.title,
        concat!(include_str!("base.css"), include_str!("plan.css")),
        include_str!("plan.js"),
        |page| {
            page.within("header", |page| {
                page.element("h1", &sheet.title);
                page.element("p", &sheet.count);
                page.element("p", &sheet.head.join(" · "));
                warnings(page, &sheet.warnings);
            });
            page.line("main", |page| {
                sheet.loads.iter().for_each(|one| load(page, one));
                sheet.left.iter().for_each(|one| left(page, one));
                section(page, "section", "In all", |page| pairs(page, &sheet.sums));
            });
        },
    )
}

fn warnings(page: &mut Markup, warnings: &[String]) {
    warnings.iter().for_each(|warning| page.element("p class=\"warning\"", warning));
}

fn load(page: &mut Markup, load: &LoadSheet) {
    section(page, "section", &load.title, |page| {
        load.day.iter().for_each(|day| page.element("p", day));
        page.within("p", |page| whole_names(page, &load.head.join(" · ")));
        warnings(page, &load.warnings);
        pairs(page, &load.baths);
        page.within("ol", |page| {
            for place in &load.places {
                page.own("<li><label><input type=\"checkbox\"><span>");
                labelled(page, &place.label, &place.what);
                if !place.end.is_empty() {
                    page.own(" ");
                    page.element("i", place.end);
                }
                page.own("</span></label></li>");
            }
        });
        if !load.hanging.is_empty() {
            page.within("dl", |page| {
                page.element("dt", "hang");
                page.within("dd", |page| hanging(page, &load.hanging));
            });
        }
    });
}

fn labelled(page: &mut Markup, label: &str, what: &str) {
    page.element("b", label);
    page.own(" ");
    page.element("span", what);
}

/// The labels in the order to hang them; no line breaks within a label.
fn hanging(page: &mut Markup, labels: &[String]) {
    page.text(HANGING);
    for (at, label) in labels.iter().enumerate() {
        page.own(if at > 0 { " · " } else { "" });
        page.element("b", label);
    }
}

/// Rolls without a load; they have no box to tick.
fn left(page: &mut Markup, left: &LoadSheet) {
    section(page, "section", "Left out", |page| {
        warnings(page, &left.warnings);
        page.within("ul", |page| {
            for place in &left.places {
                page.within("li", |page| labelled(page, &place.label, &place.what));
            }
        });
    });
}

fn pairs(page: &mut Markup, pairs: &[(impl AsRef<str>, String)]) {
    page.within("dl", |page| {
        for (name, text) in pairs {
            page.element("dt", name.as_ref());
            page.within("dd", |page| whole_names(page, text));
        }
    });
}

/// Text in which no line breaks within a word with a hyphen, such as the name of a recipe or a bottle.
fn whole_names(page: &mut Markup, text: &str) {
    for (at, word) in bound(text).split(' ').enumerate() {
        page.own(if at > 0 { " " } else { "" });
        if word.contains('-') {
            page.element("b", word);
        } else {
            page.text(word);
        }
    }
}
