//! Suggestions: the known word nearest to an unknown one.

use std::collections::BTreeSet;

use super::table::rows;
use crate::source::Diagnostic;

/// Comparing two words costs the product of their letters, so a longer word gets no suggestion.
const LETTERS_MAX: usize = 40;

/// The nearest of `known` within two edits and a third of the word's length; of several the first.
///
/// Case and underscores cost nothing. A word of one or two letters gets no edit, since it would match anything.
pub fn suggest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.chars().nth(LETTERS_MAX).is_some() {
        return None;
    }
    let plain = plainly(word);
    let letters = plain.chars().count();
    let most = if letters < 3 { 0 } else { (letters / 3).clamp(1, 2) };
    known
        .into_iter()
        .filter(|candidate| candidate.len().abs_diff(plain.len()) <= most)
        .map(|candidate| (strsim::damerau_levenshtein(&plain, candidate), candidate))
        .filter(|(slips, _)| *slips <= most)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, candidate)| candidate)
}

/// The diagnostic with a fix for each nearest known word, or with this help if none is near.
///
/// The fix is certain if the words differ in case alone, or by at most one letter in four where every other known word
/// differs by two letters more and no statement of another block is as near: `fils` is as near to `fill` as to `fills`.
pub fn offer_near(
    fault: Diagnostic,
    word: &str,
    known: &[&str],
    help: impl FnOnce() -> String,
) -> Diagnostic {
    let Some(first) = suggest(word, known.iter().copied()) else { return fault.help(help()) };
    let plain = plainly(word);
    let slips = |known: &str| strsim::damerau_levenshtein(&plain, known);
    let least = slips(first);
    let others: BTreeSet<&str> = known.iter().copied().filter(|other| *other != first).collect();
    let elsewhere = || rows().any(|row| row.word != first && slips(row.word) <= least);
    let stands_out = least * 4 <= plain.chars().count()
        && others.iter().all(|other| slips(other) >= least + 2)
        && !elsewhere();
    if least == 0 || stands_out {
        return fault.mend(first);
    }
    let nearest = std::iter::once(first).chain(others.into_iter().filter(|other| slips(other) == least));
    nearest.fold(fault, |fault, near| fault.write(near))
}

fn plainly(word: &str) -> String {
    word.to_lowercase().replace('_', "-")
}
