//! Published values, compared with the program's. Each row has a source, or the words for common practice; a known
//! misprint must not match.

mod agitation;
mod charts;
mod dilutions;
mod factors;
mod fixing;
mod formulas;
mod labels;
mod masses;
mod mixtures;
mod practice;
mod rolls;
mod second_opinion;
mod units;
mod washes;
mod wording;
mod written;

use std::panic::catch_unwind;

use approx::abs_diff_eq;

/// The source of common practice without a publication.
const CUSTOM: &str = "common practice, no source";

/// A published value.
struct Published {
    /// The name of the value.
    what: &'static str,
    /// The text in the language of recipes.
    given: &'static str,
    /// The printed value.
    expected: f64,
    /// The tolerance, from the rounding in print.
    within: f64,
    /// The source.
    source: &'static str,
}

/// A value that is known to be misprinted.
struct Misprint {
    /// The name of the value.
    what: &'static str,
    /// The text in the language of recipes.
    given: &'static str,
    /// The right value.
    right: f64,
    /// The printed value.
    printed: f64,
    /// The tolerance.
    within: f64,
    /// The source with the misprint.
    source: &'static str,
}

/// Compares each row with the value of `calculate`, and panics with all that differ.
#[track_caller]
fn assert_published(rows: &[Published], calculate: impl Fn(&str) -> f64) {
    assert!(!rows.is_empty(), "the table has no rows");
    let mut failures = Vec::new();
    for Published { what, given, expected, within, source } in rows {
        assert!(source.trim().len() >= 8, "{what}, {given}: no source");
        let got = calculate(given);
        if !abs_diff_eq!(got, *expected, epsilon = *within) {
            failures.push(format!("{what}, {given}: {got}, not {expected} ± {within} ({source})"));
        }
    }
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

/// Requires the right value of each row, and not the misprinted one.
#[track_caller]
fn not_misled(rows: &[Misprint], calculate: impl Fn(&str) -> f64) {
    for Misprint { what, given, right, printed, within, source } in rows {
        assert!(source.trim().len() >= 8, "{what}, {given}: no source");
        let got = calculate(given);
        assert!(abs_diff_eq!(got, *right, epsilon = *within), "{what}, {given}: {got}, not {right}");
        assert!(
            !abs_diff_eq!(got, *printed, epsilon = *within),
            "{what}, {given}: as misprinted in {source}"
        );
    }
}

const SOUND: Published =
    Published { what: "a third", given: "3", expected: 0.33, within: 0.005, source: "a school book" };

fn third(given: &str) -> f64 {
    1.0 / given.parse::<f64>().unwrap()
}

#[test]
fn a_row_without_a_source_fails() {
    assert_published(&[SOUND], third);
    assert!(catch_unwind(|| assert_published(&[Published { source: "", ..SOUND }], third)).is_err());
    assert!(catch_unwind(|| assert_published(&[Published { source: "  \t     ", ..SOUND }], third)).is_err());
}

#[test]
fn a_row_with_a_wrong_value_fails() {
    assert!(catch_unwind(|| assert_published(&[Published { expected: 0.34, ..SOUND }], third)).is_err());
    assert!(catch_unwind(|| assert_published(&[], third)).is_err());
}

#[test]
fn a_value_equal_to_a_known_misprint_fails() {
    let trap = |right, printed| {
        let (what, given, source) = (SOUND.what, SOUND.given, SOUND.source);
        not_misled(&[Misprint { what, given, right, printed, within: 0.005, source }], third);
    };
    trap(0.33, 0.43);
    assert!(catch_unwind(|| trap(0.43, 0.33)).is_err());
    assert!(catch_unwind(|| trap(0.33, 0.335)).is_err());
}
