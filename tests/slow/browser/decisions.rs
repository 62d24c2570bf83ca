//! A page whose steps a person ends at a sign (R18). The print of the shelf: presoak 5:00; bleach from 5:00, looks from
//! 1:00 on every 30 s, at the latest 8:00, drained in 0:10; the wash after it, and toning, end at signs too.
//!
//! The work takes 1:31:40 with the latest decisions and 1:12:10 with the earliest. The trays are in room light.

use serde_json::json;

use super::stage::{QUICK, Stage, TRIAL};
use crate::evenings::shelf;

fn opened(recipe: &str, rolls: &str, tank: &str) -> Option<Stage> {
    let call = ["card", recipe, "--at", "20C", "--rolls", rolls, "--tank", tank];
    Stage::prepared(shelf().args(call), &[TRIAL, QUICK])
}

#[test]
fn the_page_waits_for_the_sign_and_what_follows_moves() {
    let Some(mut page) = opened("headland-sepia", "1x8x10in", "tray") else { return };
    page.started();
    page.pass(330.0);
    // The step's clock is at 0:30, and 0:30 are left until the first look.
    assert_eq!((page.text("count"), page.text("ahead")), ("0:30".to_owned(), "LOOK".to_owned()));
    assert_eq!(page.text("when"), "next · until only the faint brown is left");
    assert!(page.text("all").starts_with("1:06:40 to 1:26:10 left, until "), "{}", page.text("all"));
    page.pass(150.0);
    assert_eq!((page.text("word"), page.text("count")), ("LOOK".to_owned(), "3:00".to_owned()));
    // The pour is still open for a hold: in two minutes the hold is for the sign.
    assert_eq!(page.text("hint"), "hold anywhere 1 s: IT IS DONE");
    assert_eq!(
        (page.text("amount"), page.text("below")),
        ("1:00 to 8:00".into(), "only the faint brown is left".into())
    );
    for scheme in ["light", "dark"] {
        page.picture((390, 844), scheme, "decision");
    }
    page.hold();
    assert_eq!((page.text("word"), page.text("count")), ("DRAIN".to_owned(), "0:10".to_owned()));
    // 1:31:40 - 5:00 - 8:00 = 1:18:40; the decisions that are left spare 10:00 and 2:30.
    assert!(page.text("all").starts_with("1:06:10 to 1:18:40 left"), "{}", page.text("all"));
    page.reload();
    page.pass(10.0);
    assert_eq!((page.text("name"), page.text("word")), ("WASH bleach-out".to_owned(), "POUR".to_owned()));
    page.controls();
    page.press("undo");
    page.press("close");
    assert_eq!((page.text("word"), page.text("count")), ("LOOK".to_owned(), "3:10".to_owned()));
    // Nothing but the person ends the step.
    page.pass(600.0);
    assert_eq!((page.text("word"), page.text("count")), ("LOOK".to_owned(), "13:10".to_owned()));
    page.was_quiet();
}

/// Looks at 6:00, 6:30 and 7:00 of the session, within the 90 s that are set ahead; a look has the rising note.
#[test]
fn each_look_has_a_sound() {
    let Some(mut page) = opened("headland-sepia", "1x8x10in", "tray") else { return };
    page.started();
    page.pass(355.0);
    page.value("tones.length = 0; slept = 60");
    page.pass(0.5);
    // The first pour is at 0:05 of the clock, and the sound's clock is 1:00 behind.
    let looks =
        page.value("tones.filter(([pitch]) => pitch === 800).map(([, at]) => Math.round(at + 60 - 5))");
    assert_eq!(looks, json!([360, 390, 420]));
    page.was_quiet();
}

/// The film is in open trays under a green lamp, so the screen goes black at the start; a hold makes it red.
#[test]
fn with_film_in_the_open_the_screen_is_black_by_default_and_says_so() {
    let Some(mut page) = opened("headrace-125-inspected", "4x8x10in", "sheet-trays") else { return };
    page.ready();
    assert!(page.text("paper").starts_with("FACE DOWN: "), "{}", page.text("paper"));
    page.hold();
    page.pass(5.0);
    page.picture((390, 844), "light", "black");
    let lit = "getComputedStyle(document.getElementById('veil')).backgroundColor";
    assert_eq!(page.value(&format!("[document.getElementById('veil').hidden, {lit}, innerHeight === document.getElementById('veil').offsetHeight]")), json!([false, "rgb(0, 0, 0)", true]));
    page.held("veil", 1100);
    assert_eq!(
        page.value("[document.getElementById('veil').hidden, document.documentElement.dataset.light]"),
        json!([true, "red"])
    );
    page.picture((390, 844), "light", "red");
    page.was_quiet();
    drop(page);
    // Prints in room light need no black screen.
    let Some(mut page) = opened("headland-sepia", "1x8x10in", "tray") else { return };
    page.ready();
    assert!(!page.text("paper").contains("FACE DOWN"), "{}", page.text("paper"));
}
