//! The line about the lid: a condition that a person confirms, never a clock. The times are in `tests/late`.

use super::stage::{QUICK, Stage, TRIAL, readme_evening};
use crate::evenings::shelf;

const UNTIL: &str = "LID ON until the fixer has been in for 1:00 and WASH is in";

fn lid(page: &mut Stage) -> String {
    format!("{} {}", page.text("lid-one"), page.text("lid-two")).trim().to_owned()
}

/// Going to every step, and saying of every step but the fixer that its bath is in.
#[test]
fn no_way_through_the_steps_frees_the_lid_without_the_fixer() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    for button in ["is-due", "is-in"] {
        for step in [0, 1, 2, 3, 4, 5, 3] {
            if (button, step) == ("is-in", 2) {
                continue;
            }
            page.controls();
            page.press("where");
            page.value(&format!("document.querySelectorAll('#places li button')[{step}].click()"));
            page.press(button);
            page.pass(120.0);
            assert_eq!(lid(&mut page), UNTIL, "step {step}");
        }
    }
    page.pass(20_000.0);
    assert_eq!(lid(&mut page), UNTIL);
    page.was_quiet();
}

/// A fixer that is said to have gone in earlier counts from the press on, because a wrong step may have been chosen.
#[test]
fn the_lid_counts_from_what_a_person_says_and_not_from_before() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    page.controls();
    page.press("where");
    page.value("document.querySelectorAll('#places li button')[2].click()");
    page.press("long");
    page.press("long");
    page.press("is-in");
    assert_eq!(
        (page.text("clock"), lid(&mut page)),
        ("2:00 of 4:00".to_owned(), "LID ON fixer in 0:00 of 1:00".to_owned())
    );
    page.pass(59.0);
    assert_eq!(lid(&mut page), "LID ON fixer in 0:59 of 1:00");
    page.reload();
    page.pass(1.0);
    assert_eq!(lid(&mut page), "LID ON until WASH is in");
    page.picture((390, 844), "light", "lid-in");
    page.was_quiet();
}

/// The exposure is the first step and takes 12 s.
#[test]
fn an_exposure_shows_its_own_light() {
    let call = ["card", "pearl-print", "--at", "20C", "--rolls", "1x8x10in", "--tank", "print-trays"];
    let Some(mut page) = Stage::prepared(shelf().args(call), &[TRIAL, QUICK]) else { return };
    page.started();
    assert_eq!((page.text("word"), page.text("count")), ("LAMP".to_owned(), "0:12".to_owned()));
    page.pass(11.0);
    assert_eq!(lid(&mut page), "EXPOSE enlarger, f/8, grade 2; then SAFELIGHT ONLY (amber, 1.2 m away)");
    page.pass(1.0);
    assert_eq!(lid(&mut page), "SAFELIGHT ONLY (amber, 1.2 m away) until FIX is done");
    page.was_quiet();
}
