//! A card as one HTML page to read, print and follow step by step. It loads nothing from outside.

mod card;
mod markup;
mod plan;

pub use plan::plan_page;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Serialize;
use sha2::{Digest, Sha256};

use self::markup::{compact, document};
use super::card::Card;
use super::compose::card;
use super::moments::{Moment, moments};
use super::page::bound;
use super::picture::{pictures, rules};
use crate::compile::{Action, Schedule};
use crate::source::Sources;

/// Follows the session, and fits the printed card to one sheet. It reads the clock and a stored start time and
/// never counts ticks, so it is right again after the page slept or was reloaded.
static SCRIPT: LazyLock<String> =
    LazyLock::new(|| compact(concat!(include_str!("script.js"), include_str!("print.js"))));
/// The rules of the page, of its pictures and of its print, which looks like the PDF.
static STYLE: LazyLock<String> = LazyLock::new(|| {
    compact(&format!("{}{}{}", include_str!("style.css"), rules(), include_str!("print.css")))
});
/// The part of the page that the script operates; hidden where scripts do not run.
const FOLLOW: &str = include_str!("follow.html");

/// Whether a page explains its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reasons {
    /// The numbers alone.
    Hidden,
    /// Below each step, how each number was calculated.
    Shown,
}

/// The card as an HTML page with its pictures.
#[must_use]
pub fn html(schedule: &Schedule, sources: &Sources, reasons: Reasons) -> String {
    let card = &card(schedule, sources);
    document(&card.title, &STYLE, &SCRIPT, |page| {
        page.within("div id=\"top\"", |page| {
            card::header(page, card);
            page.own(FOLLOW);
        });
        page.line("main", |page| card::sections(page, card, &pictures(schedule), reasons));
        page.line("script type=\"application/json\" id=\"evening\"", |page| {
            page.data(&data(card, &moments(schedule)))
        });
    })
}

/// What the script reads.
#[derive(Serialize)]
struct Data<'a> {
    /// The key under which the page stores its position.
    key: String,
    /// When only drying is left, in milliseconds.
    work: i64,
    /// The names of the steps.
    steps: Vec<&'a str>,
    /// Each distinct text, with no line break between a number and its unit.
    texts: Vec<String>,
    moments: Vec<Row>,
}

/// Start and end in milliseconds, the numbers of step and text, and 1 where something is done, else 0.
#[derive(Serialize)]
struct Row(i64, i64, usize, usize, u8);

/// The moments as one JSON object on one line.
fn data(card: &Card, moments: &[Moment]) -> String {
    let mut texts: Vec<String> = Vec::new();
    let mut numbers: BTreeMap<&str, usize> = BTreeMap::new();
    let rows = moments.iter().map(|moment| {
        let text = *numbers.entry(&moment.what).or_insert_with(|| {
            texts.push(bound(&moment.what));
            texts.len() - 1
        });
        Row(moment.at.ms, moment.until.ms, moment.step, text, u8::from(!moment.actions.is_empty()))
    });
    let rows: Vec<Row> = rows.collect();
    let drying = moments.iter().find(|moment| moment.actions.contains(&Action::Dry));
    let work = drying.map(|drying| drying.at).or(moments.last().map(|last| last.until));
    let data = Data {
        key: key(card, &rows),
        work: work.map_or(0, |work| work.ms),
        steps: card.work.iter().map(|block| block.name.as_str()).collect(),
        texts,
        moments: rows,
    };
    serde_json::to_string(&data).expect("every key above is a word and every figure a whole number")
}

/// Differs for cards that differ in the recipe, the conditions or a moment.
fn key(card: &Card, rows: &[Row]) -> String {
    let hash = Sha256::digest(serde_json::json!([card.facts, rows]).to_string().as_bytes());
    let digits: String = hash.iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    format!("wetside {} {digits}", card.fingerprint)
}
