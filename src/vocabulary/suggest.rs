//! 'Did you mean': the known word nearest to one that is not known.

/// The nearest of `known`, if it is within two slips of the pen and a third of the word's length; on
/// a draw the first. Case and underscores are no slip; in a word of one or two letters nothing else is
/// let pass, since it would match anything.
#[must_use]
pub fn suggest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
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
