//! The page follows the evening by the wall clock, through pauses, sleep and reloads, with sounds in time.
//!
//! The README's card: pour from 0:00, full at 0:25, agitate until 0:55, knock, then from 1:00 on for 10 s each
//! minute; drain at 8:19; STOP from 8:39; the work is over at 18:36.5, drying takes 3:00:00.

use serde_json::json;

use super::stage::{Stage, readme_evening};

const POUR: &str = "pour 2500 ml of MQ borax, fine grain 1+1";

#[test]
fn the_page_follows_the_wall_clock() {
    let Some(mut page) = Stage::on_trial() else { return };
    assert_eq!((page.text("now"), page.text("go")), (POUR.to_owned(), "Start".to_owned()));
    page.pass(100.0);
    assert_eq!(page.text("now"), POUR, "nothing runs before it is started");
    page.press("go");
    assert_eq!((page.text("left"), page.text("go")), ("0:25".to_owned(), "Pause".to_owned()));
    assert_eq!(
        (page.text("step"), page.text("next")),
        ("DEVELOP · step 1 of 6".into(), "then agitate".into())
    );
    page.pass(30.0);
    assert_eq!((page.text("now"), page.text("left")), ("agitate".to_owned(), "0:25".to_owned()));
    // 8:30 of the evening: 9 s of draining are left of the 20 that began at 8:19.
    page.pass(480.0);
    assert_eq!(page.text("left"), "0:09");
    assert!(page.text("now").starts_with("drain: "), "{}", page.text("now"));
    assert!(page.text("next").starts_with("then STOP: pour 2500 ml of Citric stop"), "{}", page.text("next"));
    // 8:30 is 510 s, and 18:36.5 less that is 10:06.5, which is shown as the current second.
    assert!(page.text("gone").starts_with("8:30 elapsed · 10:07 of work left"), "{}", page.text("gone"));
    assert_eq!(page.value("document.querySelector('li[aria-current] h3').textContent"), "DEVELOP 8:39");
    page.was_quiet();
}

#[test]
fn a_page_that_was_suspended_shows_the_current_action() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    // At 20:00 the work is over, and of drying until 3:18:36.5 there are 2:58:36.5 left.
    page.pass(1200.0);
    assert!(page.text("now").ends_with("hang the film to dry"), "{}", page.text("now"));
    assert_eq!((page.text("left"), page.text("next")), ("2:58:37".to_owned(), "then done".to_owned()));
    page.pass(10_800.0);
    assert_eq!(page.text("step"), "The session is over");
    assert_eq!(page.value("document.getElementById('go').disabled"), true);
    page.reload();
    assert_eq!((page.text("now"), page.text("go")), (POUR.to_owned(), "Start".to_owned()));
    page.was_quiet();
}

#[test]
fn a_pause_and_a_reload_keep_the_position() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    page.pass(30.0);
    page.reload();
    page.pass(5.0);
    assert_eq!((page.text("now"), page.text("left")), ("agitate".to_owned(), "0:20".to_owned()));
    page.press("go");
    page.pass(3600.0);
    assert_eq!((page.text("left"), page.text("go")), ("0:20".to_owned(), "Resume".to_owned()));
    page.reload();
    assert_eq!((page.text("left"), page.text("go")), ("0:20".to_owned(), "Resume".to_owned()));
    page.press("go");
    page.pass(15.0);
    assert_eq!(page.text("left"), "0:05");
    page.press("go");
    page.press("over");
    assert_eq!((page.text("now"), page.text("left")), (POUR.to_owned(), "0:25".to_owned()));
    page.was_quiet();
}

#[test]
fn keys_start_pause_and_jump() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.strike(" ");
    assert_eq!(page.text("go"), "Pause");
    page.strike("ArrowRight");
    assert_eq!((page.text("now"), page.text("left")), ("agitate".to_owned(), "0:30".to_owned()));
    page.pass(10.0);
    page.strike("ArrowLeft");
    assert_eq!(page.text("left"), "0:30", "back to the beginning of what is being done");
    page.strike("ArrowLeft");
    assert_eq!(page.text("now"), POUR, "and from there to what was before");
    page.strike(" ");
    assert_eq!(page.text("go"), "Start", "it stands at 0:00");
    // The space bar presses a focused button once.
    page.value("document.getElementById('on').focus()");
    page.strike(" ");
    assert_eq!((page.text("now"), page.text("go")), ("agitate".to_owned(), "Resume".to_owned()));
    let reached = page.value(
        "[...document.querySelectorAll('button')].every((one) => one.tabIndex === 0 && one.textContent)",
    );
    assert_eq!(reached, true);
    page.was_quiet();
}

/// Warned where more than 10 s pass before it: at 0:15 of the agitation at 0:25, at 0:45 of the knock at 0:55,
/// not of those at 1:00 and 1:10. 90 s are set ahead: at 0:25 the warning at 1:50 is within them, 2:00 is not.
#[test]
fn sounds_are_scheduled_for_each_action_and_ten_seconds_before() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    let set =
        json!([[660, 15], [660, 15.2], [990, 25], [660, 45], [660, 45.2], [990, 55], [990, 60], [990, 70]]);
    assert_eq!(page.value("tones"), set);
    page.pass(14.0);
    assert_eq!(page.value("buzzes"), json!([]));
    page.pass(1.0);
    page.pass(10.0);
    assert_eq!(page.value("buzzes"), json!([[80, 80, 80], [500]]));
    assert_eq!(page.value("tones.slice(8)"), json!([[660, 110], [660, 110.2]]), "none is set twice");
    // The audio clock stopped for a minute, so sounds that were scheduled before would be late.
    page.value("tones.length = 0; slept = 60");
    page.pass(20.0);
    // At 0:45 of the evening the sound's clock shows -15: 0:55, 1:00, 1:10, then the warning at 1:50 and 2:00.
    let again = json!([[990, -5], [990, 0], [990, 10], [660, 50], [660, 50.2], [990, 60], [990, 70]]);
    assert_eq!(page.value("tones"), again);
    page.was_quiet();
}

#[test]
fn the_screen_stays_awake_during_the_evening() {
    let Some(mut page) = Stage::on_trial() else { return };
    assert_eq!(page.value("locks.asked"), 0);
    page.press("go");
    assert_eq!(page.value("[locks.asked, locks.held !== null]"), json!([1, true]));
    // A page that is hidden loses its lock.
    page.value("locks.held.release()");
    page.value("document.dispatchEvent(new Event('visibilitychange'))");
    assert_eq!(page.value("[locks.asked, locks.held !== null]"), json!([2, true]));
    page.press("go");
    assert_eq!(page.value("locks.held"), json!(null));
    page.press("go");
    page.pass(1200.0);
    assert_eq!(page.value("[locks.asked, locks.held]"), json!([3, null]), "film dries in the dark as well");
    page.was_quiet();
}

#[test]
fn the_page_works_without_storage_and_wake_lock() {
    let refuse = "for (const [of, name] of [[window, 'localStorage'], [navigator, 'wakeLock']]) {
        Object.defineProperty(of, name, { get() { throw new Error('refused'); } });
    }";
    let Some(mut page) = Stage::on_trial_after(refuse) else { return };
    page.press("go");
    page.pass(30.0);
    assert_eq!(page.text("now"), "agitate");
    page.reload();
    assert_eq!((page.text("now"), page.text("go")), (POUR.to_owned(), "Start".to_owned()));
    page.was_quiet();
}

/// With the browser's own audio, clock, storage and wake lock, which report misuse on the console.
#[test]
fn an_unmodified_browser_reports_no_error() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    page.press("sound");
    page.press("go");
    page.press("on");
    assert_eq!(page.text("go"), "Pause");
    page.reload();
    assert_eq!((page.text("now"), page.text("go")), ("agitate".to_owned(), "Pause".to_owned()));
    page.was_quiet();
}
