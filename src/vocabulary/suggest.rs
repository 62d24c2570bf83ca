//! Suggestions: the known word nearest to an unknown one.

use super::table::rows;
use crate::source::{Diagnostic, Set};

/// A word with more letters gets no suggestion, because the time to compare two words grows with the product of their
/// lengths.
const LETTERS_MAX: usize = 40;

/// The word of `known` that is nearest to `word`: at most two edits away, and at most one edit for every three letters.
/// The first of several equally near words; `None` if no word is near.
///
/// A capital letter, or `_` for `-`, does not count as an edit. Apart from that, a word of one or two letters must
/// match exactly.
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

/// Adds to a diagnostic a fix for each of the known words that are nearest to `word`. If no known word is near, adds
/// the text `help`.
///
/// The fix is certain if the words differ only in capital letters or in `_` for `-`. Otherwise, it is certain if three
/// conditions hold. The words differ by at most one letter in four. Each other known word differs by at least two
/// letters more. No other statement has a first word that is as near.
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
    let others: Set<&str> = known.iter().copied().filter(|other| *other != first).collect();
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
