//! The page at the sink: its screens before the start, holding, the controls, undo, sounds, sleep and reloads.
//!
//! The README's card: pour from 0:00, full at 0:25, agitate until 0:55, then from 1:00 on for 10 s each minute; drain at
//! 8:19; STOP from 8:39; the work is over at 18:36.5. The first pour is 5 s after the start.

use serde_json::json;

use super::stage::{QUICK, Stage, TRIAL, readme_evening};

#[test]
fn the_screens_before_the_start_follow_each_other() {
    let Some(mut page) = Stage::on_trial() else { return };
    assert_eq!(page.value("document.getElementById('follow').hidden"), true);
    page.press("begin");
    assert_eq!(
        (page.text("word"), page.text("hint")),
        ("READ".into(), "hold anywhere 1 s: I have read it".into())
    );
    assert!(page.text("paper").contains("WEAR goggles, gloves, apron"), "{}", page.text("paper"));
    // A press that is too short does nothing.
    page.hold_for(500);
    assert_eq!(page.text("word"), "READ");
    page.hold();
    assert_eq!(page.text("word"), "ROLLS");
    assert!(page.text("paper").contains("5 rolls of 120"), "{}", page.text("paper"));
    page.hold();
    assert_eq!((page.text("word"), page.text("hint")), ("LISTEN".to_owned(), String::new()));
    page.hold();
    assert_eq!(page.text("word"), "LISTEN", "only an answer leads on");
    page.value("tones.length = 0");
    page.press("test");
    // 600 Hz three times, one rising from 800 Hz, 1200 Hz twice, 900 Hz.
    let pitches = page.value("tones.map(([pitch]) => pitch)");
    assert_eq!(pitches, json!([600, 600, 600, 800, 1200, 1200, 900]));
    page.press("unheard");
    assert_eq!((page.text("word"), page.text("ear")), ("START".to_owned(), "NO SOUND HEARD".to_owned()));
    assert!(
        page.text("paper").contains("DEVELOP: MQ borax, fine grain 1+1 at 21.5 °C"),
        "{}",
        page.text("paper")
    );
    page.hold();
    assert_eq!((page.text("word"), page.text("count")), ("START".to_owned(), "0:05".to_owned()));
    page.pass(5.0);
    assert_eq!((page.text("word"), page.text("count")), ("POUR".to_owned(), "0:25".to_owned()));
    assert_eq!((page.text("amount"), page.text("what")), ("2500 ml".to_owned(), "DEVELOPER".to_owned()));
    assert_eq!(page.text("ahead"), "AGITATE 30 s");
    page.was_quiet();
}

/// The step's clock is the card's: the drain begins at 8:19 of 8:39.
#[test]
fn the_page_follows_the_wall_clock_with_the_words_of_the_card() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.started();
    page.pass(31.0);
    assert_eq!((page.text("word"), page.text("count")), ("AGITATE".to_owned(), "0:24".to_owned()));
    assert_eq!(
        (page.text("amount"), page.text("below")),
        ("30 s".to_owned(), "then knock the tank".to_owned())
    );
    page.pass(25.0);
    assert_eq!((page.text("word"), page.text("below")), ("REST".to_owned(), "leave it still".to_owned()));
    page.pass(434.0);
    assert_eq!((page.text("word"), page.text("count")), ("REST".to_owned(), "0:09".to_owned()));
    assert_eq!((page.text("when"), page.text("ahead")), ("get ready".to_owned(), "DRAIN".to_owned()));
    assert_eq!(page.value("document.getElementById('next').dataset.soon"), "yes");
    page.pass(9.0);
    assert_eq!((page.text("word"), page.text("clock")), ("DRAIN".to_owned(), "8:19 of 8:39".to_owned()));
    assert_eq!((page.text("when"), page.text("ahead")), ("next · STOP · 2500 ml".into(), "POUR STOP".into()));
    // 18:36.5 less 8:19 is 10:17.5, which is shown as the current second.
    assert!(page.text("all").starts_with("10:18 left, until "), "{}", page.text("all"));
    page.was_quiet();
}

/// A slip of 12 mm, 75 pixels of a phone, does not end a hold; a longer one does.
#[test]
fn a_finger_may_slip_while_it_holds() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("begin");
    for (slip, word) in [(80, "READ"), (70, "ROLLS")] {
        let mouse =
            |kind: &str, x: u32| json!({ "type": kind, "x": x, "y": 300, "button": "left", "clickCount": 1 });
        page.browser("Input.dispatchMouseEvent", mouse("mousePressed", 100));
        page.browser("Input.dispatchMouseEvent", mouse("mouseMoved", 100 + slip));
        page.value("new Promise((done) => setTimeout(done, 1100))");
        page.browser("Input.dispatchMouseEvent", mouse("mouseReleased", 100 + slip));
        page.pass(0.0);
        assert_eq!(page.text("word"), word, "{slip} pixels");
    }
    page.was_quiet();
}

#[test]
fn a_hold_shows_its_progress_over_the_whole_width() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.picture((390, 844), "light", "hold");
    page.press("begin");
    page.browser("Input.dispatchKeyEvent", json!({ "type": "keyDown", "key": " ", "text": " " }));
    let wide = "new Promise((done) => setTimeout(() => done(document.getElementById('bar').getBoundingClientRect().width / innerWidth), 700))";
    let part = page.value(wide).as_f64().unwrap();
    assert!((0.3..1.0).contains(&part), "{part}");
    assert_eq!(page.value("document.getElementById('bar').offsetWidth === innerWidth"), true);
    page.browser("Input.dispatchKeyEvent", json!({ "type": "keyUp", "key": " " }));
    assert_eq!(page.value("document.getElementById('bar').className"), "");
    page.was_quiet();
}

/// Everything that a person sees of the session.
const SEEN: &str = "['name', 'clock', 'word', 'count', 'amount', 'what', 'below', 'when', 'ahead', 'all', 'lid-one', 'lid-two']
    .map((id) => document.getElementById(id).textContent).join('|')";

/// Random presses, from the same seed each time; each undo shows what was seen before the press.
#[test]
fn undo_takes_back_a_thousand_random_presses_one_by_one() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    let undone = format!(
        "(async () => {{
            const by = (id) => document.getElementById(id), soon = () => new Promise((done) => quick(done, 2));
            const seen = () => {SEEN};
            const hold = async (at) => {{
                for (const type of ['keydown', 'keyup']) {{
                    at.dispatchEvent(new KeyboardEvent(type, {{ key: ' ', bubbles: true, cancelable: true }}));
                    await soon();
                }}
            }};
            const controls = async () => {{
                if (by('controls').hidden) await hold(by('menu').hidden ? by('follow') : by('menu'));
            }};
            let seed = 7;
            const random = (below) => {{ seed = (seed * 1103515245 + 12345) % 2147483648; return Math.floor(seed / 65536) % below; }};
            const count = () => JSON.parse(Object.values(localStorage)[0]).presses.length;
            const before = [];
            while (before.length < 1000) {{
                pass(random(40));
                const now = [seen(), window.name], had = count();
                if (by('word').textContent === 'DONE' || random(4) === 0) {{
                    await controls();
                    by('where').click();
                    [...document.querySelectorAll('#places li button')][random(6)].click();
                    by('now').click();
                    by(random(2) ? 'is-in' : 'is-due').click();
                    if (!by('places').hidden) document.querySelector('#places .shut').click();
                }} else if (random(3) === 0) {{
                    await controls();
                    by('behind').click();
                    document.querySelectorAll('#late [data-by]')[random(3)].click();
                }} else {{
                    await hold(by('follow'));
                    if (!by('controls').hidden) by('close').click();
                }}
                if (count() > had) before.push(now);
            }}
            const wrong = [];
            while (before.length > 0 && wrong.length < 3) {{
                const [meant, clock] = before.pop();
                window.name = clock;
                pass(0);
                await controls();
                by('undo').click();
                if (seen() !== meant) wrong.push([before.length, seen(), meant]);
            }}
            return [wrong, count()];
        }})()"
    );
    assert_eq!(page.value(&undone), json!([[], 1]), "only the start is left");
    page.was_quiet();
}

#[test]
fn undo_says_what_it_takes_back_and_when_it_was_said() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.started();
    page.pass(525.0);
    page.hold();
    let time = page.value("new Date(Date.now()).toTimeString().slice(0, 8)");
    page.pass(40.0);
    page.controls();
    assert_eq!(page.text("undo"), format!("UNDO: it went in now: STOP, {}", time.as_str().unwrap()));
    page.press("undo");
    assert!(page.text("undo").starts_with("UNDO: start, "), "{}", page.text("undo"));
    page.was_quiet();
}

/// In the first 90 s: three knocks from 0:02 on lead to the pour at 0:05; the agitation at 0:30, the rest at 1:00, the
/// agitation at 1:05 and the rest at 1:15.
#[test]
fn sounds_are_set_ahead_with_a_warning_only_before_baths() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.ready();
    page.value("tones.length = 0");
    page.hold();
    let set = json!([
        [600, 2],
        [600, 3],
        [600, 4],
        [800, 5],
        [1200, 30],
        [1200, 30.3],
        [900, 60],
        [1200, 65],
        [1200, 65.3],
        [900, 75]
    ]);
    assert_eq!(page.value("tones"), set);
    page.value("tones.length = 0; buzzes.length = 0");
    page.pass(5.0);
    page.pass(25.0);
    assert_eq!(page.value("buzzes"), json!([[1200], [150, 150, 150]]));
    // The audio clock stopped for a minute, so sounds that were scheduled before would be late.
    page.value("tones.length = 0; slept = 60");
    page.pass(0.5);
    assert_eq!(page.value("tones[0]"), json!([900, 0]), "1:00 by the clock is 0:00 by the sound's clock");
    // Ten seconds before the drain at 8:24, the stop at 8:44, its drain at 9:24 and the fixer at 9:44.
    page.value("slept = 0");
    page.pass(460.0);
    page.value("tones.length = 0; slept = 30");
    page.pass(1.0);
    let knocks = page.value("tones.filter(([pitch]) => pitch === 600).map(([, at]) => Math.round(at) + 30)");
    assert_eq!(knocks, json!([494, 495, 496, 514, 515, 516, 554, 555, 556, 574, 575, 576]));
    page.was_quiet();
}

#[test]
fn the_screen_stays_awake_during_the_evening() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.ready();
    assert_eq!(page.value("locks.asked"), 0);
    page.hold();
    assert_eq!(page.value("[locks.asked, locks.held !== null]"), json!([1, true]));
    // A page that is hidden loses its lock.
    page.value("locks.held.release()");
    page.value("document.dispatchEvent(new Event('visibilitychange'))");
    assert_eq!(page.value("[locks.asked, locks.held !== null]"), json!([2, true]));
    page.pass(1200.0);
    assert_eq!(page.value("[locks.asked, locks.held]"), json!([2, null]), "film dries without a screen");
    page.was_quiet();
}

#[test]
fn a_reload_keeps_the_position() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.started();
    page.pass(35.0);
    page.reload();
    page.pass(5.0);
    assert_eq!((page.text("word"), page.text("count")), ("AGITATE".to_owned(), "0:15".to_owned()));
    page.was_quiet();
}

/// The phone was off for two minutes: nobody knows whether the stop went in.
#[test]
fn after_a_while_without_the_page_it_asks_which_bath_is_in_the_tank() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.started();
    page.pass(30.0);
    page.reopen_after(520);
    assert_eq!((page.text("word"), page.text("count")), ("OFF THE CLOCK".to_owned(), String::new()));
    assert!(page.text("lost").starts_with("last said: start, "), "{}", page.text("lost"));
    assert_eq!(page.text("hint"), "hold anywhere 1 s: the clock is right: follow on");
    page.picture((390, 844), "light", "off-the-clock");
    page.picture((844, 390), "light", "off-the-clock");
    page.picture((390, 844), "light", "off-the-clock");
    // The stop went in 20 s ago: its clock shows 0:20 of 1:00, and 5 s of the pour are left.
    page.value("[...document.querySelectorAll('#places li button')].find((one) => one.textContent === 'STOP').click()");
    page.press("now");
    page.press("earlier");
    page.press("earlier");
    page.press("is-in");
    assert_eq!((page.text("word"), page.text("count")), ("POUR".to_owned(), "0:05".to_owned()));
    assert_eq!((page.text("name"), page.text("clock")), ("STOP".to_owned(), "0:20 of 1:00".to_owned()));
    // Or everything is as the clock says.
    page.reopen_after(120);
    assert_eq!(page.text("word"), "OFF THE CLOCK");
    page.value("document.querySelector('#places .shut').click()");
    assert_eq!((page.text("name"), page.text("clock")), ("FIX".to_owned(), "1:20 of 4:00".to_owned()));
    page.was_quiet();
}

#[test]
fn a_second_tab_says_that_the_other_leads() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    page.press("begin");
    page.second_tab();
    let said =
        "new Promise((done) => setTimeout(() => done(document.getElementById('other-tab').innerText), 1500))";
    assert_eq!(page.value(said), "The other tab leads. Close this one.");
    let covers = "document.getElementById('other-tab').getBoundingClientRect().height === innerHeight";
    assert_eq!(page.value(covers), true);
    // Nothing else is seen, and nothing can be begun.
    let seen = "[...document.querySelectorAll('body *')].filter((one) => one.id !== 'other-tab'
        && one.checkVisibility({ visibilityProperty: true }) && one.textContent.trim() !== '').map((one) => one.id)";
    assert_eq!(page.value(seen), json!(["top"]));
    assert_eq!(page.value("document.getElementById('follow').hidden"), true);
    page.was_quiet();
}

#[test]
fn the_page_works_without_storage_and_wake_lock() {
    let refuse = "for (const [of, name] of [[window, 'localStorage'], [navigator, 'wakeLock']]) {
        Object.defineProperty(of, name, { get() { throw new Error('refused'); } });
    }";
    let Some(mut page) = Stage::on_trial_after(refuse) else { return };
    page.started();
    page.pass(30.0);
    assert_eq!(page.text("word"), "AGITATE");
    assert!(page.text("ear").ends_with("this screen may switch itself off"), "{}", page.text("ear"));
    page.reload();
    assert_eq!(page.value("document.getElementById('follow').hidden"), true);
    page.was_quiet();
}

/// With the browser's own audio, clock, storage and wake lock, which report misuse on the console.
#[test]
fn an_unmodified_browser_reports_no_error() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    page.press("begin");
    page.hold();
    page.hold();
    page.press("test");
    page.press("heard");
    page.hold();
    page.value("new Promise((done) => setTimeout(done, 5500))");
    assert_eq!(page.text("word"), "POUR");
    page.reload();
    assert_eq!(page.text("word"), "POUR");
    page.was_quiet();
}
