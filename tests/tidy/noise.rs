//! The shelf with noise in it: spaces, blank lines and remarks at random places.

use proptest::prelude::*;

use wetside::tidy::Refusal;

use super::{marks, remarks, shelf, tidied, tried};

/// What to do to one line: its indentation, the spaces in it, what stands behind it, how it ends.
type Noise = (String, String, String, bool);

fn noise() -> impl Strategy<Value = Vec<Noise>> {
    let line = ("[ \t]{0,9}", "[ \t]{1,4}", "[ \t]{0,3}", any::<bool>());
    prop::collection::vec(line, 1..40)
}

/// A text with the spaces of each line, outside its texts and remarks, made others, and every blank
/// line doubled where the noise says so.
fn noisy(text: &str, noise: &[Noise]) -> String {
    let mut noisy = String::new();
    for (line, (indent, inside, behind, twice)) in text.lines().zip(noise.iter().cycle()) {
        if line.is_empty() {
            noisy.push_str(behind);
            noisy.push_str(if *twice { "\n\n" } else { "\n" });
            continue;
        }
        noisy.push_str(indent);
        noisy.push_str(&respaced(line.trim_start(), inside));
        noisy.push_str(behind);
        noisy.push('\n');
    }
    noisy
}

/// Each run of spaces before the line's remark, and not in a text, as these.
fn respaced(line: &str, spaces: &str) -> String {
    let (mut respaced, mut in_text, mut in_remark, mut in_run) = (String::new(), false, false, false);
    for letter in line.chars() {
        in_text ^= letter == '"' && !in_remark;
        in_remark |= letter == '#' && !in_text;
        let blank = letter == ' ' && !in_text && !in_remark;
        match (blank, in_run) {
            (true, true) => {}
            (true, false) => respaced.push_str(spaces),
            (false, _) => respaced.push(letter),
        }
        in_run = blank;
    }
    respaced
}

/// Lines put in before the lines of a text, counted round.
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

    /// Whatever the spaces were, the shelf comes back to the byte.
    #[test]
    fn other_spaces_and_more_blank_lines_all_go(noise in noise(), which in any::<prop::sample::Index>()) {
        let shelf = shelf();
        let (name, text) = which.get(&shelf);
        prop_assert_eq!(&tidied(&noisy(text, &noise)), text, "{}", name);
    }

    #[test]
    fn remarks_stay_and_recipes_mean_the_same(
        noise in noise(),
        added in added(),
        which in any::<prop::sample::Index>(),
    ) {
        let shelf = shelf();
        let (_, text) = which.get(&shelf);
        let rough = with_lines(&noisy(text, &noise), &added);
        let tidy = tidied(&rough);
        prop_assert_eq!(remarks(&tidy), remarks(&rough));
        prop_assert_eq!(marks(&tidy, &shelf), marks(&rough, &shelf));
        prop_assert_eq!(&tidied(&tidy), &tidy);
        prop_assert!(!tidy.contains("\n\n\n") && tidy.ends_with('\n') && !tidy.starts_with('\n'));
    }

    /// Of any text at all: either it is refused for its own sake, or what comes out holds.
    #[test]
    fn no_text_is_tidied_into_another(text in "([a-z0-9 {}#\",.:+/%\t°-]{0,12}\r?\n){0,12}") {
        prop_assert_ne!(tried(&text).err(), Some(Refusal::OwnFault));
    }
}

/// A recipe cut off at any byte, and with a line of it lost.
#[test]
fn no_piece_of_a_recipe_is_tidied_into_another() {
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
