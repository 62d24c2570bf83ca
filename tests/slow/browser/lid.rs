//! The line about the lid on the page: a condition that a person confirms by holding a button, never a clock.
//!
//! The README's card: the fixer is poured from 9:39 on, covers the film at 10:04 and drains at 13:19. The film clears
//! in 1:00. The recipe allows light from the wash on, which is in at 14:04.

use super::stage::{Stage, TRIAL};
use crate::evenings::shelf;

const UNTIL: &str = "LID ON until the fixer has been in for 1:00 and WASH is in";

/// The word and the condition of the line.
fn lid(page: &mut Stage) -> String {
    let words =
        page.value("[...document.getElementById('lid').children].map((one) => one.textContent).join(' ')");
    words.as_str().unwrap().trim().to_owned()
}

fn asks(page: &mut Stage) -> bool {
    page.value("!document.getElementById('hold').hidden") == true
}

#[test]
fn the_lid_is_free_only_after_a_hold_and_the_time_in_the_fixer() {
    let Some(mut page) = Stage::on_trial() else { return };
    assert_eq!((lid(&mut page), asks(&mut page)), (UNTIL.to_owned(), false));
    page.press("go");
    page.pass(578.0);
    assert!(!asks(&mut page), "the fixer is poured from 9:39 on");
    page.pass(32.0);
    assert_eq!((lid(&mut page), asks(&mut page)), (UNTIL.to_owned(), true));
    assert_eq!(page.text("hold"), "Hold: the fixer is in");
    // A press that is too short confirms nothing.
    page.held("hold", 300);
    assert_eq!((lid(&mut page), asks(&mut page)), (UNTIL.to_owned(), true));
    page.picture((390, 844), "light", "lid-asks");
    page.held("hold", 1300);
    assert_eq!((lid(&mut page), asks(&mut page)), ("LID ON fixer in 0:00 of 1:00".to_owned(), false));
    page.pass(48.0);
    assert_eq!(lid(&mut page), "LID ON fixer in 0:48 of 1:00");
    page.reload();
    assert_eq!(lid(&mut page), "LID ON fixer in 0:48 of 1:00");
    page.pass(12.0);
    assert_eq!(lid(&mut page), "LID ON until WASH is in");
    page.picture((390, 844), "light", "lid-in");
    // 9:38 + 0:32 + 0:48 + 0:12 = 11:10, and the wash is in 2:54 later.
    page.pass(173.0);
    assert_eq!(lid(&mut page), "LID ON until WASH is in");
    page.pass(1.0);
    assert_eq!(lid(&mut page), "LID FREE");
    page.press("over");
    page.press("go");
    page.press("over");
    assert_eq!(lid(&mut page), UNTIL);
    page.was_quiet();
}

#[test]
fn skipping_never_frees_the_lid() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    page.pass(5.0);
    let mut was_asked = false;
    for _ in 0..49 {
        page.press("on");
        was_asked |= asks(&mut page);
        assert_eq!(lid(&mut page), UNTIL);
    }
    assert!(was_asked, "the fixer was passed");
    page.pass(20_000.0);
    assert_eq!(lid(&mut page), UNTIL, "{}", page.text("step"));
    page.was_quiet();
}

/// Skipping adds no time to a confirmed fixer, and drained fixer must be confirmed again.
#[test]
fn skipping_adds_no_time_in_the_fixer() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    page.pass(610.0);
    page.held("hold", 1300);
    page.pass(10.0);
    for _ in 0..30 {
        page.press("on");
        assert_eq!(lid(&mut page), "LID ON fixer in 0:10 of 1:00");
    }
    page.pass(20_000.0);
    assert_eq!(lid(&mut page), "LID ON fixer in 0:10 of 1:00");
    page.was_quiet();
}

#[test]
fn a_key_that_is_held_on_the_button_confirms_too() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    page.pass(610.0);
    page.value("document.getElementById('hold').focus()");
    page.value(
        "(async () => {
            const button = document.getElementById('hold');
            const sign = (kind) => button.dispatchEvent(new KeyboardEvent(kind, { key: ' ', bubbles: true }));
            sign('keydown');
            await new Promise((done) => setTimeout(done, 1300));
            sign('keyup');
        })()",
    );
    assert_eq!(
        (lid(&mut page), page.text("go")),
        ("LID ON fixer in 0:00 of 1:00".to_owned(), "Pause".to_owned())
    );
    page.was_quiet();
}

/// The exposure is the first step and takes 12 s.
#[test]
fn an_exposure_shows_its_own_light() {
    let call = ["card", "pearl-print", "--at", "20C", "--rolls", "1x8x10in", "--tank", "print-trays"];
    let Some(mut page) = Stage::prepared(shelf().args(call), &[TRIAL]) else { return };
    page.press("go");
    page.pass(11.0);
    assert_eq!(lid(&mut page), "EXPOSE enlarger, f/8, grade 2; then SAFELIGHT ONLY (amber, 1.2 m away)");
    page.pass(1.0);
    assert_eq!(lid(&mut page), "SAFELIGHT ONLY amber, 1.2 m away; until FIX is done");
    page.was_quiet();
}
