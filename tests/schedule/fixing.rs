//! R11: a fixing time is a multiple of the clearing time.

use super::{made, ms, refused, step, trial};

/// The film clears in 60 s in the fixer 1+4 at 20 °C.
fn fix(time: &str) -> String {
    trial("", &format!("fix {{\nin fixer 1+4, reused\ntime {time}\n}}"))
}

const EVENING: [&str; 5] = ["--rolls", "1x120", "--volume", "500ml", "--at"];

fn at(temperature: &str) -> Vec<&str> {
    [&EVENING[..], &[temperature]].concat()
}

#[test]
fn a_fix_takes_its_multiple_of_the_clearing_time_or_its_minimum() {
    let takes = |time: &str| ms(step(&made(&fix(time), &at("20C")), 0), "duration_ms");
    assert_eq!(takes("3 x clearing"), 180_000);
    assert_eq!(takes("2 x clearing"), 120_000);
    assert_eq!(takes("3 x clearing, at least 4:00"), 240_000);
    assert_eq!(takes("3 x clearing, at least 2:59"), 180_000);
    assert_eq!(takes("3 x clearing, at least 3:00"), 180_000);
    let schedule = made(&fix("3 x clearing, at least 4:00"), &at("20C"));
    assert_eq!(step(&schedule, 0)["because"][0]["rule"], "R11");
}

#[test]
fn a_fixer_more_than_two_degrees_colder_than_its_test_is_refused() {
    assert_eq!(ms(step(&made(&fix("3 x clearing"), &at("18C")), 0), "duration_ms"), 180_000);
    let told = refused(&fix("3 x clearing"), &at("17.99C"));
    for words in ["bath-too-cold-to-clear", "20 °C", "17.99 °C", "18 °C or more"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let cooling = [&at("20C")[..], &["--ending", "17.9C"]].concat();
    assert!(refused(&fix("3 x clearing"), &cooling).contains("17.9 °C"));
}

#[test]
fn a_clearing_time_at_another_dilution_does_not_count() {
    let text = fix("3 x clearing").replace("in fixer 1+4, reused", "in fixer 1+9, reused");
    let told = refused(&text, &at("20C"));
    assert!(told.contains("clears") && told.contains("fixer 1+9"), "{told}");
}
