//! A plan as one page: its loads with a box to tick for each roll. What is ticked stays ticked over a reload,
//! in the browser's own store, and is printed as it is.

use super::super::page::bound;
use super::super::plan::{HANGING, LeftSheet, LoadSheet, PlanSheet};
use super::head::head;
use super::markup::Markup;
use super::style::Style;

/// What keeps the ticks.
const SCRIPT: &str = include_str!("plan.js");

/// The plan as a page of HTML, with one line ending behind it.
#[must_use]
pub fn plan_page(sheet: &PlanSheet) -> String {
    let mut page = Markup::default();
    page.own("<!DOCTYPE html>\n");
    page.within("html lang=\"en\"", |page| {
        page.own("\n");
        page.within("head", |page| head(page, &sheet.title, &Style::of_plan(), SCRIPT));
        page.own("\n");
        page.within("body", |page| {
            page.own("\n");
            page.within("header", |page| {
                page.element("h1", &sheet.title);
                page.element("p", &sheet.count);
                page.element("p", &sheet.head.join(" · "));
                for warning in &sheet.warnings {
                    page.element("p class=\"warning\"", warning);
                }
            });
            page.own("\n");
            page.within("main", |page| {
                sheet.loads.iter().for_each(|one| load(page, one));
                sheet.left.iter().for_each(|one| left(page, one));
                sums(page, sheet);
            });
            page.own("\n<script>");
            page.own(SCRIPT);
            page.own("</script>\n");
        });
        page.own("\n");
    });
    page.own("\n");
    page.finish()
}

fn load(page: &mut Markup, load: &LoadSheet) {
    page.own("\n");
    page.within("section", |page| {
        page.element("h2", &load.title);
        load.day.iter().for_each(|day| page.element("p", day));
        page.within("p", |page| whole_names(page, &load.head.join(" · ")));
        load.warnings.iter().for_each(|warning| page.element("p class=\"warning\"", warning));
        page.within("dl", |page| {
            load.mixes.iter().for_each(|mix| pair(page, "mix", mix));
            load.baths.iter().for_each(|(step, bath)| pair(page, step, bath));
        });
        page.within("ol", |page| {
            for place in &load.places {
                page.within("li", |page| {
                    page.within("label", |page| {
                        page.own("<input type=\"checkbox\">");
                        page.within("span", |page| {
                            page.element("b", &place.label);
                            page.own(" ");
                            page.element("span", &place.what);
                            place.end.iter().for_each(|end| {
                                page.own(" ");
                                page.element("i", end);
                            });
                        });
                    });
                });
            }
        });
        if !load.hanging.is_empty() {
            page.within("dl", |page| hanging(page, &load.hanging));
        }
    });
}

/// A label does not end a line half way.
fn hanging(page: &mut Markup, labels: &[String]) {
    page.element("dt", "hang");
    page.within("dd", |page| {
        page.text(HANGING);
        for (at, label) in labels.iter().enumerate() {
            page.own(if at > 0 { " · " } else { "" });
            page.element("b", label);
        }
    });
}

/// Rolls without a load have no box, since there is nothing yet to tick off.
fn left(page: &mut Markup, left: &LeftSheet) {
    page.own("\n");
    page.within("section", |page| {
        page.element("h2", "Left out");
        for reason in &left.reasons {
            page.element("p class=\"warning\"", reason);
        }
        page.within("ul", |page| {
            for (label, what) in &left.rolls {
                page.within("li", |page| {
                    page.element("b", label);
                    page.own(" ");
                    page.element("span", what);
                });
            }
        });
    });
}

fn sums(page: &mut Markup, sheet: &PlanSheet) {
    page.own("\n");
    page.within("section", |page| {
        page.element("h2", "In all");
        page.within("dl", |page| sheet.sums.iter().for_each(|(name, text)| pair(page, name, text)));
    });
}

fn pair(page: &mut Markup, name: &str, text: &str) {
    page.element("dt", name);
    page.within("dd", |page| whole_names(page, text));
}

/// Words of which none with a hyphen, such as the name of a recipe or a bottle, ends a line at it.
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
