//! The shelf with noise in it: spaces, blank lines and comments at random places.

use proptest::prelude::*;

use wetside::tidy::Refusal;

use super::{comments, fingerprints, shelf, tidied, tried};

/// Changes to one line: its indentation, the spaces in it, its trailing spaces, and whether it is doubled.
type Noise = (String, String, String, bool);

fn noise() -> impl Strategy<Value = Vec<Noise>> {
    let line = ("[ \t]{0,9}", "[ \t]{1,4}", "[ \t]{0,3}", any::<bool>());
    prop::collection::vec(line, 1..40)
}

/// A text with the spaces of each line, outside its texts and comments, replaced, and some blank
/// lines doubled.
fn noisy(text: &str, noise: &[Noise]) -> String {
    let mut noisy = String::new();
    for (line, (indent, inside, trailing, twice)) in text.lines().zip(noise.iter().cycle()) {
        if line.is_empty() {
            noisy.push_str(trailing);
            noisy.push_str(if *twice { "\n\n" } else { "\n" });
            continue;
        }
        noisy.push_str(indent);
        noisy.push_str(&respaced(line.trim_start(), inside));
        noisy.push_str(trailing);
        noisy.push('\n');
    }
    noisy
}

/// The line with each run of spaces outside texts and its comment replaced.
fn respaced(line: &str, spaces: &str) -> String {
    let (mut respaced, mut in_text, mut in_comment, mut in_run) = (String::new(), false, false, false);
    for letter in line.chars() {
        in_text ^= letter == '"' && !in_comment;
        in_comment |= letter == '#' && !in_text;
        let blank = letter == ' ' && !in_text && !in_comment;
        match (blank, in_run) {
            (true, true) => {}
            (true, false) => respaced.push_str(spaces),
            (false, _) => respaced.push(letter),
        }
        in_run = blank;
    }
    respaced
}

/// The text with lines inserted at these positions, modulo the number of lines.
fn with_lines(text: &str, lines: &[(usize, String)]) -> String {
    let mut all: Vec<String> = text.lines().map(str::to_owned).collect();
    for (at, line) in lines {
        all.insert(at % (all.len() + 1), line.clone());
    }
    all.join("\n")
}

fn added() -> impl Strategy<Value = Vec<(usize, String)>> {
    let line = prop_oneof![Just(String::new()), "[ \t]{0,4}", "[ \t]{0,3}#[ -~]{0,30}"];
    prop::collection::vec((any::<usize>(), line), 1..20)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    /// Tidying restores the shelf byte for byte.
    #[test]
    fn random_spaces_and_blank_lines_are_removed(noise in noise(), which in any::<prop::sample::Index>()) {
        let shelf = shelf();
        let (name, text) = which.get(&shelf);
        prop_assert_eq!(&tidied(&noisy(text, &noise)), text, "{}", name);
    }

    #[test]
    fn comments_stay_and_recipes_keep_their_meaning(
        noise in noise(),
        added in added(),
        which in any::<prop::sample::Index>(),
    ) {
        let shelf = shelf();
        let (_, text) = which.get(&shelf);
        let rough = with_lines(&noisy(text, &noise), &added);
        let tidy = tidied(&rough);
        prop_assert_eq!(comments(&tidy), comments(&rough));
        prop_assert_eq!(fingerprints(&tidy, &shelf), fingerprints(&rough, &shelf));
        prop_assert_eq!(&tidied(&tidy), &tidy);
        prop_assert!(!tidy.contains("\n\n\n") && tidy.ends_with('\n') && !tidy.starts_with('\n'));
    }

    /// Any text is either refused for its own errors or tidied with the same meaning.
    #[test]
    fn tidying_never_changes_the_meaning_of_random_text(text in "([a-z0-9 {}#\",.:+/%\t°-]{0,12}\r?\n){0,12}") {
        prop_assert_ne!(tried(&text).err(), Some(Refusal::OwnFault));
    }
}

/// A recipe cut off at any byte, and a recipe without one of its lines.
#[test]
fn tidying_never_changes_the_meaning_of_a_partial_recipe() {
    let shelf = shelf();
    let (_, text) = shelf.iter().find(|(name, _)| name == "estuary-400-mq.wet").unwrap();
    let cut = (0..text.len()).filter_map(|end| text.get(..end)).map(str::to_owned);
    let lines: Vec<&str> = text.lines().collect();
    let lost = (0..lines.len()).map(|lost| {
        let kept = lines.iter().enumerate().filter(|(at, _)| *at != lost).map(|(_, line)| *line);
        kept.collect::<Vec<_>>().join("\n")
    });
    for piece in cut.chain(lost) {
        assert_ne!(tried(&piece).err(), Some(Refusal::OwnFault), "{piece}");
    }
}
