//! 'Did you mean': the known word nearest to one that is not known.

/// Nobody types a longer word by mistake for another, and comparing two costs the product of their letters.
const LETTERS_MAX: usize = 40;

/// The nearest of `known`, if it is within two slips of the pen and a third of the word's length; on
/// a draw the first. Case and underscores are no slip; in a word of one or two letters nothing else is
/// let pass, since it would match anything; past forty letters nothing is looked for.
#[must_use]
pub fn suggest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.chars().nth(LETTERS_MAX).is_some() {
        return None;
    }
    let plain = word.to_lowercase().replace('_', "-");
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
