//! Words of a file as a message repeats them: cut where they are too many to be read, since what is
//! told of each of many lines must not grow with the length of one.

/// So many letters of a word are repeated.
const LETTERS_MAX: usize = 60;
/// So many names are listed.
const NAMES_MAX: usize = 8;

/// The words themselves, or the first 60 letters of them and `…`.
#[must_use]
pub fn clip(words: &str) -> String {
    match words.char_indices().nth(LETTERS_MAX) {
        Some((end, _)) => format!("{}…", words.get(..end).unwrap_or("")),
        None => words.to_owned(),
    }
}

/// The first eight of these, each clipped, with `between` between them, and `…` for the rest.
#[must_use]
pub fn first_few<'a>(names: impl IntoIterator<Item = &'a str>, between: &str) -> String {
    let mut names = names.into_iter();
    let mut few: Vec<String> = names.by_ref().take(NAMES_MAX).map(clip).collect();
    if names.next().is_some() {
        few.push("…".to_owned());
    }
    few.join(between)
}
