//! The page of a card with a wrong roll: the whole screen asks, and no clock runs meanwhile.

use serde_json::json;

use super::stage::{Stage, TRIAL};
use crate::mislabelled::shelf;

fn opened(rolls: &str, labels: &str) -> Option<Stage> {
    let run = shelf().args(["card", "drift", "--at", "21C", "--rolls", rolls, "--label", labels]);
    Stage::refused(run, &[TRIAL])
}

/// The words that are visible on the page.
fn seen(page: &mut Stage) -> String {
    page.value("document.body.innerText.replace(/\\s+/g, ' ').trim()").as_str().unwrap().to_owned()
}

const ASKED: &str = "WRONG ROLL slot 2 T-14 is Skerry 400 at 400 card Drift 800 at 800 \
     show the card for Skerry 400 T-14 is really Drift 800 hold 2 s · record it with --anyway T-14 \
     Film in a dry closed tank keeps. Stop here if unsure.";

#[test]
fn nothing_runs_before_the_question_is_answered() {
    let Some(mut page) = opened("2x120", "T-13,T-14") else { return };
    for scheme in ["light", "dark"] {
        page.picture((390, 844), scheme, "wrong-roll");
        assert_eq!(seen(&mut page), ASKED);
        let fits = "document.documentElement.scrollHeight <= innerHeight && document.documentElement.scrollWidth <= innerWidth";
        assert_eq!(page.value(fits), true, "one screen of a phone");
    }
    // Neither keys nor the buttons behind the screen start anything.
    page.strike(" ");
    page.press("begin");
    page.pass(600.0);
    assert_eq!(
        page.value("[tones.length, locks.asked, document.getElementById('follow').hidden]"),
        json!([0, 0, true])
    );
    assert_eq!(seen(&mut page), ASKED);
    // A press that is too short answers nothing.
    page.value("document.querySelector('.really').id = 'really'");
    page.held("really", 1200);
    assert_eq!(seen(&mut page), ASKED);
    page.held("really", 2300);
    assert!(!seen(&mut page).contains("WRONG ROLL"));
    let warned = "anyway \"T-14\": slot 2 is Skerry 400 at 400; this card is for Drift 800 at 800";
    assert!(seen(&mut page).contains(warned), "{}", seen(&mut page));
    page.started();
    page.pass(4.0);
    assert_eq!((page.text("word"), page.text("count")), ("POUR".to_owned(), "0:06".to_owned()));
    page.reload();
    page.pass(0.0);
    assert_eq!((page.text("word"), page.text("count")), ("POUR".to_owned(), "0:06".to_owned()));
    page.was_quiet();
}

#[test]
fn the_card_of_the_other_film_can_be_read() {
    let Some(mut page) = opened("1x120", "T-14") else { return };
    page.value("document.querySelector('.show').click()");
    let shown = seen(&mut page);
    assert!(shown.starts_with("back skerry") && shown.contains("DEVELOP 11:20"), "{shown}");
    assert!(shown.contains("wetside card skerry --at 21C --rolls 1x120 --label T-14"), "{shown}");
    assert!(!shown.contains("WRONG ROLL") && !shown.contains("8:39"), "{shown}");
    page.picture((390, 844), "light", "wrong-roll-other");
    let wide = page.value("document.documentElement.scrollWidth - document.documentElement.clientWidth");
    assert_eq!(wide, 0);
    page.press("return");
    assert!(seen(&mut page).starts_with("WRONG ROLL slot 1 T-14"), "{}", seen(&mut page));
    page.was_quiet();
}

/// T-16 has another index and T-19 was developed before.
#[test]
fn each_wrong_roll_is_asked_about_in_turn() {
    let Some(mut page) = opened("2x120", "T-16,T-19") else { return };
    for (slot, label) in [(1, "T-16"), (2, "T-19")] {
        assert!(
            seen(&mut page).starts_with(&format!("WRONG ROLL slot {slot} {label} ")),
            "{}",
            seen(&mut page)
        );
        page.value("document.querySelector('.roll:not([hidden]) .really').id = 'really'");
        page.held("really", 2300);
        page.value("document.getElementById('really')?.removeAttribute('id')");
    }
    assert_eq!(page.value("document.getElementById('open').hidden"), false);
    page.was_quiet();
}

#[test]
fn without_script_nothing_but_the_question_is_shown() {
    let Some(mut page) = opened("1x120", "T-14") else { return };
    page.browser("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
    page.reload_without_script();
    let shown = seen(&mut page);
    assert!(
        shown.starts_with("WRONG ROLL slot 1 T-14") && shown.ends_with("Stop here if unsure."),
        "{shown}"
    );
    assert!(!shown.contains("really"), "no button works here: {shown}");
}
