//! The blocks of a card that only a session has, as HTML: bottles in the order of pouring, steps as rows, slips to cut
//! off.

use super::markup::Markup;
use crate::emit::document::{Cell, Ready, Reason, StepText, Stub, Total};
use crate::emit::plain::joined;

pub(super) fn bottles(page: &mut Markup, baths: &[Ready]) {
    page.within("ol class=\"bottles\"", |page| {
        for bath in baths {
            page.line("li", |page| {
                page.element("b", &bath.steps);
                page.element("p", &bath.bath);
                let colon = if bath.parts.is_empty() { "" } else { ":" };
                page.element("p", &format!("{}{colon}", bath.how));
                if !bath.parts.is_empty() {
                    page.list("ul", &bath.parts);
                }
            });
        }
    });
}

pub(super) fn step(page: &mut Markup, step: &StepText) {
    page.line("li", |page| {
        let tag = if step.row.has_box { "div class=\"head boxed\"" } else { "div class=\"head\"" };
        page.within(tag, |page| {
            page.within("h3", |page| {
                page.text(&step.name);
                page.own(" ");
                page.element("span", &step.row.time);
            });
            page.element("p class=\"begins\"", &step.begins.join(" · "));
        });
        page.within("div", |page| {
            page.within("ul class=\"row\"", |page| step.row.cells.iter().for_each(|one| cell(page, one)));
            step.row.light.iter().for_each(|light| page.element("p class=\"light\"", light));
            step.bath.iter().for_each(|bath| page.element("p class=\"bath\"", bath));
            step.row.below.iter().for_each(|text| page.element("p", text));
            for caution in &step.cautions {
                page.element("p class=\"caution\"", &format!("caution: {caution}"));
            }
            step.notes.iter().for_each(|note| page.element("p", &format!("note: {note}")));
            if !step.reasons.is_empty() {
                let reasons = step.reasons.iter().map(|Reason { rule, text }| format!("{rule} {text}"));
                page.list("ul class=\"why\"", reasons);
            }
        });
    });
}

fn cell(page: &mut Markup, cell: &Cell) {
    let has_many = cell.marks.iter().any(|marks| marks.times.len() > 1);
    page.line(if has_many { "li class=\"many\"" } else { "li" }, |page| {
        page.element("b", cell.verb);
        page.own(" ");
        page.element("strong", &cell.clock);
        cell.texts.iter().for_each(|text| page.element("p", text));
        for marks in &cell.marks {
            page.element("strong class=\"marks\"", &joined(&marks.times, " "));
            page.element("p", &marks.what);
        }
        cell.manner.iter().for_each(|text| page.element("p", text));
        cell.blanks.iter().for_each(|blank| page.element("p class=\"blank\"", blank));
    });
}

pub(super) fn total(page: &mut Markup, total: &Total) {
    page.within("p class=\"total\"", |page| {
        page.element("b", &format!("Total {}", total.time));
        total.ends.iter().chain(&total.besides).for_each(|text| page.text(&format!(" · {text}")));
    });
}

/// Adds the slips to cut off, which only a printed page shows.
pub(super) fn stubs(page: &mut Markup, stubs: &[Stub]) {
    page.within("ul class=\"stubs\"", |page| {
        for stub in stubs {
            page.line("li", |page| {
                page.element("b", &stub.label);
                stub.lines.iter().for_each(|line| page.element("p", line));
            });
        }
    });
}
