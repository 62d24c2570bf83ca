//! A card as one HTML page to read, print and follow, and a plan as one HTML page. A page loads nothing from outside.

mod asking;
mod data;

pub use asking::{AskedRoll, Asking};

use std::fmt::Display;
use std::sync::LazyLock;

use data_encoding::BASE64;
use sha2::{Digest, Sha256};

use super::card::{Block, Card, HANGING, Place, Ready, Reason, Total, card};
use super::picture::{Drawing, element, pictures, rules};
use super::plain::{bound, escaped};
use super::plan::{LoadSheet, PlanSheet};
use crate::compile::{SAFETY_HEADING, SafetyLine, Schedule};
use crate::source::Sources;

/// The script that follows the session, and fits the printed card to one sheet. It compares the clock with a stored
/// start, so the time is right even after the page slept.
static SCRIPT: LazyLock<Part> = LazyLock::new(|| {
    Part::of(compact(concat!(include_str!("hold.js"), include_str!("script.js"), include_str!("print.js"))))
});
/// The style of a card's page. Its print looks like the PDF.
static STYLE: LazyLock<Part> = LazyLock::new(|| {
    let (page, pictures) = (concat!(include_str!("base.css"), include_str!("style.css")), rules());
    Part::of(compact(&format!("{page}{pictures}{}", include_str!("print.css"))))
});
static PLAN_STYLE: LazyLock<Part> =
    LazyLock::new(|| Part::of(concat!(include_str!("base.css"), include_str!("plan.css")).to_owned()));
static PLAN_SCRIPT: LazyLock<Part> = LazyLock::new(|| Part::of(include_str!("plan.js").to_owned()));
/// The section with the current step. It is hidden where scripts do not run.
const FOLLOW: &str = include_str!("follow.html");

/// The card as an HTML page with its pictures; if `reasons` is set, also with the calculations of its numbers.
pub fn html(schedule: &Schedule, sources: &Sources, reasons: bool) -> String {
    card_page(schedule, sources, reasons, None)
}

/// The same page, which asks about wrong rolls before it shows anything else.
pub fn asking_html(schedule: &Schedule, sources: &Sources, reasons: bool, asking: &Asking<'_>) -> String {
    card_page(schedule, sources, reasons, Some(asking))
}

fn card_page(schedule: &Schedule, sources: &Sources, reasons: bool, asking: Option<&Asking<'_>>) -> String {
    let card = card(schedule, sources);
    document(&card.title, &STYLE, &SCRIPT, |page| {
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
            page.data(&data::data(&card, schedule, asking));
        });
    })
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
    page.own("\n");
}

/// The safety block, shown before the clock can be started.
fn safety(page: &mut Markup, lines: &[SafetyLine]) {
    section(page, "section class=\"safety\"", "Safety", |page| {
        page.element("p", SAFETY_HEADING);
        page.within("ul", |page| {
            for SafetyLine { word, text } in &SafetyLine::entries(lines) {
                page.line("li", |page| {
                    page.element("b", word);
                    page.text(&format!(" {text}"));
                });
            }
        });
    });
}

fn section(page: &mut Markup, tag: &'static str, title: &str, fill: impl FnOnce(&mut Markup)) {
    page.line(tag, |page| {
        page.element("h2", title);
        fill(page);
    });
}

fn list(page: &mut Markup, tag: &'static str, title: &str, items: &[String]) {
    if !items.is_empty() {
        section(page, tag, title, |page| page.list("ul", items));
    }
}

fn table<Row>(page: &mut Markup, columns: &[&str], rows: &[Row], cells: impl Fn(&mut Markup, &Row)) {
    page.within("table", |page| {
        page.within("thead", |page| {
            page.within("tr", |page| {
                columns.iter().for_each(|name| page.element("th scope=\"col\"", name));
            });
        });
        page.within("tbody", |page| {
            rows.iter().for_each(|row| page.line("tr", |page| cells(page, row)));
        });
    });
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

fn step(page: &mut Markup, block: &Block, reasons: bool) {
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

/// The plan as an HTML page with a box to tick for each roll. The browser stores the ticks.
pub fn plan_page(sheet: &PlanSheet) -> String {
    document(&sheet.title, &PLAN_STYLE, &PLAN_SCRIPT, |page| {
        page.within("header", |page| {
            page.element("h1", &sheet.title);
            page.element("p", &sheet.count);
            page.element("p", &sheet.head.join(" · "));
            plan_warnings(page, &sheet.warnings);
        });
        safety(page, &sheet.safety);
        page.line("main", |page| {
            sheet.loads.iter().for_each(|one| load(page, one));
            sheet.left.iter().for_each(|one| left(page, one));
            section(page, "section", "In all", |page| pairs(page, &sheet.sums));
        });
    })
}

fn plan_warnings(page: &mut Markup, warnings: &[String]) {
    warnings.iter().for_each(|warning| page.element("p class=\"warning\"", warning));
}

fn load(page: &mut Markup, load: &LoadSheet) {
    section(page, "section", &load.title, |page| {
        load.day.iter().for_each(|day| page.element("p", day));
        page.within("p", |page| whole_names(page, &load.head.join(" · ")));
        plan_warnings(page, &load.warnings);
        load.advice.iter().for_each(|advice| page.element("p", advice));
        pairs(page, &load.baths);
        page.within("ol", |page| {
            for place in &load.places {
                page.own("<li><label><input type=\"checkbox\"><span>");
                labelled(page, place);
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

fn labelled(page: &mut Markup, roll: &Place) {
    page.element("b", &roll.label);
    page.own(" ");
    page.element("span", &roll.what);
}

/// Adds the labels in the order to hang the film. No line breaks within a label.
fn hanging(page: &mut Markup, labels: &[String]) {
    page.text(HANGING);
    for (at, label) in labels.iter().enumerate() {
        page.own(if at > 0 { " · " } else { "" });
        page.element("b", label);
    }
}

/// Adds the rolls without a load, without boxes to tick.
fn left(page: &mut Markup, left: &LoadSheet) {
    section(page, "section", "Left out", |page| {
        plan_warnings(page, &left.warnings);
        page.within("ul", |page| {
            left.places.iter().for_each(|roll| page.within("li", |page| labelled(page, roll)));
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

/// Adds text that is not broken at hyphens, such as those in a recipe's name.
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

/// Writes HTML. Tags are constants. Text from a recipe is always escaped.
#[derive(Default)]
struct Markup(String);

impl Markup {
    /// Adds a constant of the program, unchanged.
    fn own(&mut self, markup: &'static str) {
        self.0.push_str(markup);
    }

    /// Adds any text, escaped. A number and its unit stay on one line.
    fn text(&mut self, text: &str) {
        self.0.push_str(&escaped(&bound(text)));
    }

    /// Adds JSON inside a script element. `<`, which occurs only in strings, is escaped, so that nothing ends the
    /// element.
    fn data(&mut self, json: &str) {
        self.0.push_str(&json.replace('<', "\\u003c"));
    }

    fn picture(&mut self, drawing: &Drawing) {
        self.0.push_str(&element(drawing));
    }

    /// Adds an element with text in it. `tag` is its name and attributes.
    fn element(&mut self, tag: &'static str, text: &str) {
        self.within(tag, |inside| inside.text(text));
    }

    fn within(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.0.extend(["<", tag, ">"]);
        fill(self);
        self.0.extend(["</", tag.split(' ').next().unwrap_or(tag), ">"]);
    }

    /// Adds an element on a new line.
    fn line(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.own("\n");
        self.within(tag, fill);
    }

    fn list(&mut self, tag: &'static str, items: impl IntoIterator<Item = impl Display>) {
        self.within(tag, |page| items.into_iter().for_each(|item| page.element("li", &item.to_string())));
    }
}

/// The style or the script of a page.
struct Part {
    text: String,
    /// The hash of the text, by which the Content Security Policy allows it.
    hash: String,
}

impl Part {
    fn of(text: String) -> Part {
        let hash = format!("'sha256-{}'", BASE64.encode(&Sha256::digest(text.as_bytes())));
        Part { text, hash }
    }
}

/// A whole page. Its Content Security Policy allows only this style and script.
fn document(title: &str, style: &Part, script: &Part, body: impl FnOnce(&mut Markup)) -> String {
    let mut page = Markup::default();
    page.own(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"",
    );
    page.text(&format!(
        "default-src 'none'; style-src {}; script-src {}; base-uri 'none'; form-action 'none'",
        style.hash, script.hash
    ));
    page.own(
        "\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n",
    );
    page.element("title", title);
    page.0.extend(["\n<style>", &style.text, "</style>\n</head>\n<body>\n"]);
    body(&mut page);
    page.0.extend(["\n<script>", &script.text, "</script>\n</body>\n</html>\n"]);
    page.0
}

/// The style or script without indentation, blank lines and comments. Strings may not span lines.
fn compact(text: &str) -> String {
    let is_comment = |line: &str| line.starts_with("//") || line.starts_with("/*") && line.ends_with("*/");
    let lines = text.lines().map(str::trim_start).filter(|line| !line.is_empty() && !is_comment(line));
    lines.flat_map(|line| [line, "\n"]).collect()
}
