//! Published values, compared with the program's. Each row has a source, or the words for common practice; a known
//! misprint must not match.

mod agitation;
mod charts;
mod dilutions;
mod fixing;
mod formulas;
mod labels;
mod masses;
mod practice;
mod rolls;
mod second_opinion;
mod units;
mod wording;

use std::panic::catch_unwind;

use approx::abs_diff_eq;

/// The source of common practice without a publication.
const CUSTOM: &str = "common practice, no source";

/// A published value.
struct Published {
    /// What it is.
    what: &'static str,
    /// What is read, as a recipe writes it.
    given: &'static str,
    /// What is printed.
    expected: f64,
    /// How far off it may be, from how it was rounded in print.
    within: f64,
    /// Where it is printed.
    source: &'static str,
}

/// A value that is known to be misprinted.
struct Misprint {
    /// What it is.
    what: &'static str,
    /// What is read, as a recipe writes it.
    given: &'static str,
    /// What it should be.
    right: f64,
    /// What is printed.
    printed: f64,
    /// How far off it may be.
    within: f64,
    /// Where it is printed wrong.
    source: &'static str,
}

/// Compares each row with the value of `reckon`, and panics with all that differ.
#[track_caller]
fn hold(rows: &[Published], reckon: impl Fn(&str) -> f64) {
    assert!(!rows.is_empty(), "no row holds nothing");
    let mut failures = Vec::new();
    for Published { what, given, expected, within, source } in rows {
        assert!(source.trim().len() >= 8, "{what}, {given}: no source");
        let got = reckon(given);
        if !abs_diff_eq!(got, *expected, epsilon = *within) {
            failures.push(format!("{what}, {given}: {got}, not {expected} ± {within} ({source})"));
        }
    }
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

/// Requires the right value of each row, and not the misprinted one.
#[track_caller]
fn not_misled(rows: &[Misprint], reckon: impl Fn(&str) -> f64) {
    for Misprint { what, given, right, printed, within, source } in rows {
        assert!(source.trim().len() >= 8, "{what}, {given}: no source");
        let got = reckon(given);
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
    hold(&[SOUND], third);
    assert!(catch_unwind(|| hold(&[Published { source: "", ..SOUND }], third)).is_err());
    assert!(catch_unwind(|| hold(&[Published { source: "  \t     ", ..SOUND }], third)).is_err());
}

#[test]
fn a_row_with_a_wrong_value_fails() {
    assert!(catch_unwind(|| hold(&[Published { expected: 0.34, ..SOUND }], third)).is_err());
    assert!(catch_unwind(|| hold(&[], third)).is_err());
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
