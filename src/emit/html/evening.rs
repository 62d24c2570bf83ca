//! The evening as the page's script reads it: the moments, with each text said once. The script shows and
//! sounds what stands here, and reckons nothing but how late it is.

use std::collections::BTreeMap;

use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::compile::Action;
use crate::emit::card::Card;
use crate::emit::moments::Moment;
use crate::emit::page::bound;

#[derive(Serialize)]
struct EveningOut<'a> {
    /// What the page keeps its place under: this recipe on this evening.
    key: String,
    /// When the work is over and only drying is left, in milliseconds.
    work: i64,
    /// The steps by name.
    steps: Vec<&'a str>,
    /// Each text once, with no place to end a line between a number and its unit.
    texts: Vec<String>,
    /// Beginning and end in milliseconds, the step, the text, and whether something is done.
    moments: Vec<(i64, i64, usize, usize, u8)>,
}

/// The moments as one JSON object on one line.
pub(super) fn json(card: &Card, moments: &[Moment]) -> String {
    let mut texts: Vec<String> = Vec::new();
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    let told = moments.iter().map(|moment| {
        let place = *places.entry(&moment.what).or_insert_with(|| {
            texts.push(bound(&moment.what));
            texts.len() - 1
        });
        (moment.at.ms, moment.until.ms, moment.step, place, u8::from(!moment.actions.is_empty()))
    });
    let told: Vec<_> = told.collect();
    let drying = moments.iter().find(|moment| moment.actions.contains(&Action::Dry));
    let work = drying.map(|drying| drying.at).or(moments.last().map(|last| last.until));
    let out = EveningOut {
        key: key(card, &told),
        work: work.map_or(0, |work| work.ms),
        steps: card.work.iter().map(|block| block.name.as_str()).collect(),
        texts,
        moments: told,
    };
    serde_json::to_string(&out).expect("every key above is a word and every figure a whole number")
}

/// Two evenings that differ in the recipe, the conditions or a single moment keep their places apart.
fn key(card: &Card, told: &[(i64, i64, usize, usize, u8)]) -> String {
    let evening = serde_json::json!([card.facts, told]);
    let hash = Sha256::digest(evening.to_string().as_bytes());
    let digits: String = hash.iter().take(4).map(|byte| format!("{byte:02x}")).collect();
    format!("wetside {} {digits}", card.fingerprint)
}
