//! What the page hands over at the end: the call that records the evening, with the true times and the readings.

use serde_json::json;

use super::stage::{QUICK, Stage, TRIAL, readme_evening};
use crate::mislabelled;

/// Opens the panel for a new reading, makes the temperature this many tenths of a degree higher, and takes it.
fn reads(page: &mut Stage, tenths: i32) {
    page.controls();
    page.press("warm");
    let more = if tenths < 0 { -1 } else { 1 };
    for _ in 0..tenths.abs() {
        page.value(&format!("document.querySelector('[data-tenths=\"{more}\"]').click()"));
    }
    page.press("reads");
}

/// The call on the last screen.
fn call(page: &mut Stage) -> String {
    page.value("document.querySelector('#paper code').textContent").as_str().unwrap().to_owned()
}

/// At 3:10 the bath is at 22.1 °C: 8:39 becomes 8:16, as `tests/late/reading.json` works out. The stop goes in 10 s late.
#[test]
fn the_call_on_the_last_screen_records_what_happened() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    page.pass(190.0);
    reads(&mut page, 6);
    assert_eq!(page.text("below"), "develop 8:39 → 8:16, from 3:10 on");
    assert_eq!(page.text("clock"), "3:10 of 8:16");
    page.picture((390, 844), "light", "reading-changed");
    // The panel begins at the reading before. Nothing is said twice.
    page.controls();
    page.press("warm");
    assert_eq!(page.text("reads"), "IT READS 22.1 °C");
    page.picture((390, 844), "light", "sink-heat");
    page.picture((844, 390), "light", "sink-heat");
    page.picture((320, 568), "dark", "sink-heat");
    page.value("document.querySelector('#heat .shut').click()");
    page.pass(316.0);
    assert_eq!(page.text("word"), "POUR");
    page.hold();
    assert_eq!(page.text("below"), "develop 8:26 of 8:16, 2.0 % longer: not visible");
    page.reload();
    page.pass(20_000.0);
    assert_eq!(page.text("word"), "DONE");
    let call = call(&mut page);
    assert_eq!(call, "wetside record --took develop=8:26 --read develop=3:10=22.1C");
    assert!(page.text("paper").contains("TOOK develop 8:26 of 8:39"), "{}", page.text("paper"));
    assert!(page.text("paper").contains("READ develop 3:10 22.1 C"), "{}", page.text("paper"));
    for size in [(390, 844), (320, 568), (844, 390), (1440, 900)] {
        page.picture(size, "light", "done");
    }
    let told = call.split(' ').skip(1).fold(page.again(), |run, word| run.arg(word)).succeeds();
    assert!(told.contains("took      develop 8:26 of 8:39\n"), "{told}");
    assert!(told.contains("read      develop 3:10 22.1 C\n"), "{told}");
    page.was_quiet();
}

/// In Fahrenheit the panel has tenths of a degree Fahrenheit. Nothing is read outside a bath.
#[test]
fn a_reading_has_the_scale_of_the_card_and_needs_a_bath() {
    let call = ["card", "saltmarsh-100-fahrenheit", "--at", "70F", "--rolls", "1x120"];
    let Some(mut page) = Stage::prepared(crate::evenings::shelf().args(call), &[TRIAL, QUICK]) else {
        return;
    };
    page.started();
    page.pass(30.0);
    reads(&mut page, -2);
    page.controls();
    assert!(page.text("undo").starts_with("UNDO: read 69.8 F, "), "{}", page.text("undo"));
    page.press("undo");
    page.press("close");
    page.pass(20_000.0);
    assert_eq!(self::call(&mut page), "wetside record");
    assert!(page.text("paper").contains("All steps took their time."), "{}", page.text("paper"));
    page.was_quiet();
}

/// The refused card is not the card made last, so its call has everything, and the rolls that a person vouched for.
#[test]
fn the_call_of_a_refused_card_names_the_rolls_that_were_answered_for() {
    let run = mislabelled::shelf();
    let run = run.args(["card", "drift", "--at", "21C", "--rolls", "2x120", "--label", "T-13,T-14"]);
    let Some(mut page) = Stage::refused(run, &[TRIAL]) else { return };
    let record = page.value("JSON.parse(document.getElementById('evening').textContent).record");
    assert_eq!(record, json!("wetside record drift --at 21C --rolls 2x120 --label T-13,T-14 --anyway T-14"));
    let words = record.as_str().unwrap().split(' ').skip(1);
    let (status, told, _) = words.fold(page.again(), |run, word| run.arg(word)).ends();
    assert!(status == 0 && told.contains("anyway    \"T-14\""), "{told}");
}

/// The developer comes out at 7:29 of its clock and is back in 20 s later: `tests/late/back-in.json`.
#[test]
fn back_in_is_offered_only_while_a_bath_is_out_early() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    let offered = "getComputedStyle(document.getElementById('back')).visibility";
    page.started();
    page.pass(449.0);
    page.controls();
    assert_eq!(page.value(offered), "hidden");
    page.press("where");
    page.value("[...document.querySelectorAll('#places li button')].find((one) => one.textContent === 'STOP').click()");
    page.press("is-due");
    assert_eq!(page.text("below"), "DEVELOP came out early: back in, it wants another 0:50");
    for size in [(390, 844), (320, 568), (844, 390), (1440, 900)] {
        page.picture(size, "light", "early");
    }
    page.pass(20.0);
    page.controls();
    assert_eq!(page.value(offered), "visible");
    page.press("back");
    assert_eq!(page.text("below"), "DEVELOP is back in: it wants another 0:40");
    assert_eq!((page.text("name"), page.text("word")), ("DEVELOP".to_owned(), "REST".to_owned()));
    page.controls();
    assert!(page.text("undo").starts_with("UNDO: it is back in, "), "{}", page.text("undo"));
    page.was_quiet();
}
