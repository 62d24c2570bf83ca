//! A card as one page that opens from the disk: to read, to print, and to follow with wet hands. It asks
//! for nothing from outside, and its policy lets nothing run but the style and the script that stand here.

mod evening;
mod head;
mod lean;
mod markup;
mod paper;
mod plan;
mod policy;
mod style;

pub use plan::plan_page;

use std::sync::LazyLock;

use super::card::Card;
use super::moments::Moment;
use super::picture::Drawing;
use head::head;
use lean::lean;
use markup::Markup;
use style::Style;

/// What follows along, by the clock on the wall and a stored beginning and never by counting ticks, so that a page
/// that slept, or was loaded again, is where the bath is; and what fits the card to one sheet when it is printed:
/// in the largest type with which it takes no more, with its pictures and a line for each caution where they leave
/// the type large enough. Without script it prints in the type that its style names, without pictures, the cautions
/// one behind the other.
static SCRIPT: LazyLock<String> =
    LazyLock::new(|| lean(concat!(include_str!("script.js"), include_str!("print.js"))));
/// The part of the page that the script works; hidden where there is no script.
const FOLLOW: &str = include_str!("follow.html");

/// How much a page tells of where its numbers came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reckoning {
    /// Nothing: the numbers alone.
    LeftOut,
    /// Below each step, how each number came about.
    Told,
}

/// The card as a page of HTML, its pictures in it, with one line ending behind it.
#[must_use]
pub fn html(card: &Card, moments: &[Moment], pictures: &[Drawing], reckoning: Reckoning) -> String {
    let mut page = Markup::default();
    page.own("<!DOCTYPE html>\n");
    page.within("html lang=\"en\"", |page| {
        page.own("\n");
        page.within("head", |page| head(page, &card.title, &Style::of_page(), &SCRIPT));
        page.own("\n");
        page.within("body", |page| {
            page.own("\n");
            page.within("div id=\"top\"", |page| {
                paper::header(page, card);
                page.own(FOLLOW);
            });
            page.own("\n");
            page.within("main", |page| paper::sections(page, card, pictures, reckoning));
            page.own("\n<script type=\"application/json\" id=\"evening\">");
            page.data(&evening::json(card, moments));
            page.own("</script>\n<script>");
            page.own(&SCRIPT);
            page.own("</script>\n");
        });
        page.own("\n");
    });
    page.own("\n");
    page.finish()
}
