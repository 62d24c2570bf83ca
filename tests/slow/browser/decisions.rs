//! A page whose steps a person ends at a sign (R18). The print of the shelf: presoak 5:00; bleach from 5:00, looks from
//! 1:00 on every 30 s, at the latest 8:00, drained in 0:10; the wash after it, and toning, end at signs too.
//!
//! The work takes 1:31:40 with the latest decisions and 1:12:10 with the earliest.

use serde_json::json;

use super::stage::{Stage, TRIAL};
use crate::evenings::shelf;

fn opened() -> Option<Stage> {
    let call = ["card", "headland-sepia", "--at", "20C", "--rolls", "1x8x10in", "--tank", "tray"];
    Stage::prepared(shelf().args(call), &[TRIAL])
}

fn hold(page: &mut Stage) -> String {
    let shown = page
        .value("document.getElementById('hold').hidden ? '' : document.getElementById('hold').textContent");
    shown.as_str().unwrap().to_owned()
}

const LOOK: &str = "LOOK until only the faint brown is left, from 1:00 to 8:00";
const HOLD: &str = "Hold: only the faint brown is left";

#[test]
fn the_page_waits_for_the_sign_and_what_follows_moves() {
    let Some(mut page) = opened() else { return };
    page.press("go");
    page.pass(330.0);
    // The step's clock is at 0:30, and 0:30 are left until the first look.
    assert_eq!((page.text("left"), hold(&mut page)), ("0:30".to_owned(), String::new()));
    assert_eq!(page.text("next"), format!("then {LOOK}"));
    let gone = page.text("gone");
    assert!(gone.starts_with("5:30 elapsed · 1:06:40 to 1:26:10 of work left, until "), "{gone}");
    page.pass(90.0);
    assert_eq!(
        (page.text("now"), page.text("left"), hold(&mut page)),
        (LOOK.into(), "2:00".into(), HOLD.into())
    );
    assert!(page.text("next").contains("at 8:00 at the latest then drain"), "{}", page.text("next"));
    for scheme in ["light", "dark"] {
        page.picture((390, 844), scheme, "decision");
    }
    // At 3:00 by its clock the bleach is done: 5:00 sooner than at the latest.
    page.pass(60.0);
    page.held("hold", 400);
    assert_eq!(page.text("now"), LOOK);
    page.held("hold", 1300);
    assert!(page.text("now").starts_with("drain"), "{}", page.text("now"));
    assert_eq!((page.text("left"), hold(&mut page)), ("0:10".to_owned(), String::new()));
    // 1:31:40 - 5:00 - 8:00 = 1:18:40; the decisions that are left spare 10:00 and 2:30.
    let gone = page.text("gone");
    assert!(gone.starts_with("8:00 elapsed · 1:06:10 to 1:18:40 of work left"), "{gone}");
    page.reload();
    page.pass(10.0);
    assert!(page.text("step").starts_with("WASH bleach-out"), "{}", page.text("step"));
    assert!(page.text("now").starts_with("fill with"), "{}", page.text("now"));
    // Back to before the decision: it is open again.
    page.press("back");
    page.press("back");
    page.press("back");
    page.pass(120.0);
    assert_eq!((page.text("now"), hold(&mut page)), (LOOK.to_owned(), HOLD.to_owned()));
    page.was_quiet();
}

#[test]
fn without_a_decision_the_step_ends_at_the_latest() {
    let Some(mut page) = opened() else { return };
    page.press("go");
    page.pass(779.0);
    assert_eq!((page.text("now"), page.text("left")), (LOOK.to_owned(), "7:59".to_owned()));
    page.pass(1.0);
    assert!(page.text("now").starts_with("drain"), "{}", page.text("now"));
    assert_eq!(hold(&mut page), "");
    // The bleach took its longest, so 20 s later the wash has begun, with its own sign.
    page.pass(20.0);
    assert!(page.text("step").starts_with("WASH bleach-out"), "{}", page.text("step"));
    assert!(
        page.text("next").contains("no yellow is left in the whites, from 5:00 to 15:00"),
        "{}",
        page.text("next")
    );
    page.was_quiet();
}

/// Looks at 6:00, 6:30 and 7:00 of the session, within the 90 s that are set ahead; the low tones warn.
#[test]
fn each_look_has_a_sound() {
    let Some(mut page) = opened() else { return };
    page.press("go");
    page.pass(340.0);
    page.value("tones.length = 0");
    page.pass(0.5);
    page.pass(20.0);
    page.value("tones.length = 0; slept = 60");
    page.pass(0.5);
    let low = page.value("tones.filter(([pitch]) => pitch === 660).map(([, at]) => Math.round(at + 60))");
    assert_eq!(low, json!([390, 390, 420, 420, 450, 450]), "a warning has two tones");
    page.was_quiet();
}
