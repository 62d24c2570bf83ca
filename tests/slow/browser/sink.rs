//! How the screen at the sink looks: nothing is cut at any size, with the controls open too, and everything is read at its
//! distance, in white, red and forced colours.

use serde_json::{Value, json};

use super::stage::{QUICK, Stage, TRIAL, readme_evening};
use crate::evenings::{SHELF, call, shelf};

/// A small and a usual phone, the phone on its side, a tablet, a computer, and the last two sizes at 200 %.
const SIZES: [(u32, u32); 7] =
    [(320, 568), (390, 844), (844, 390), (768, 1024), (1440, 900), (384, 512), (720, 450)];

/// The ids whose text is not seen whole: outside the window, beyond its own row, or under something else.
const CUT: &str = "['lid-one', 'lid-two', 'word', 'count', 'ahead', 'when'].filter((id) => {
    const line = document.getElementById(id), inner = line.firstElementChild;
    if (inner.textContent === '' || getComputedStyle(line).display === 'none') return false;
    const words = document.createRange();
    words.selectNodeContents(inner);
    const box = inner.getBoundingClientRect(), row = line.getBoundingClientRect();
    const stack = document.elementsFromPoint((row.left + row.right) / 2, (row.top + row.bottom) / 2);
    const isUnder = stack.findIndex((one) => one.closest('#controls, #late, .panel, #paper, #veil, #foot, #do')) >= 0;
    return box.left < 0 || box.right > innerWidth + 0.5 || row.top < 0 || row.bottom > innerHeight + 0.5
        || box.right > row.right + 1 || row.height < 8 || isUnder;
})";

/// The boxes of word, count and lid.
const BOXES: &str = "['word', 'count', 'lid', 'ahead'].map((id) => {
    const box = document.getElementById(id).getBoundingClientRect();
    return [id, box.left, box.top, box.width, box.height];
})";

/// A pour, a rest before a drain, a drain, a late pour, and the fixer.
const TIMES: [f64; 5] = [3.0, 494.0, 10.0, 15.0, 120.0];

#[test]
fn word_count_next_and_lid_are_never_cut_and_the_controls_do_not_move_them() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    for (place, time) in TIMES.into_iter().enumerate() {
        page.pass(time);
        for size in SIZES {
            for scheme in ["light", "dark"] {
                page.picture(size, scheme, &format!("sink-{place}"));
                assert_eq!(page.value(CUT), json!([]), "{size:?} at place {place}");
                let before = page.value(BOXES);
                page.controls();
                page.picture(size, scheme, &format!("sink-{place}-controls"));
                assert_eq!(page.value(CUT), json!([]), "{size:?} at place {place} with the controls");
                assert_eq!(page.value(BOXES), before, "{size:?} at place {place}");
                let buttons = page.value(
                    "[...document.querySelectorAll('#controls button')].filter((button) =>
                        button.scrollHeight > button.clientHeight + 1 || button.scrollWidth > button.clientWidth + 1
                        || button.getBoundingClientRect().bottom > innerHeight).map((button) => button.id)",
                );
                assert_eq!(buttons, json!([]), "{size:?}");
                page.press("close");
            }
        }
    }
    page.was_quiet();
}

/// Goes to a step by the list of steps, with its pour due now.
const GO: &str = "(async (place) => {
    const by = (id) => document.getElementById(id);
    const hold = async (at) => {
        for (const type of ['keydown', 'keyup']) {
            at.dispatchEvent(new KeyboardEvent(type, { key: ' ', bubbles: true, cancelable: true }));
            await new Promise((done) => quick(done, 5));
        }
    };
    // With film in the open, the screen goes black at the start.
    document.querySelector('[data-light=white]').click();
    if (by('controls').hidden) await hold(by('menu').hidden ? by('follow') : by('menu'));
    by('where').click();
    document.querySelectorAll('#places li button')[place].click();
    by('is-due').click();
})";

/// Each step of each recipe of the shelf, with its long names and safelights, on a small phone and on one on its side.
#[test]
fn nothing_is_cut_in_any_step_of_the_shelf() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    let mut seen = 0;
    for evenings in &SHELF {
        let run = call(shelf(), evenings, evenings.all().next().unwrap()).args(["--as", "html"]);
        page.opens(&run.succeeds());
        page.started();
        let steps = page.value("document.querySelectorAll('#places li').length").as_u64().unwrap();
        for place in 0..steps {
            page.value(&format!("{GO}({place})"));
            for (time, (width, height)) in [(1.0, (320, 568)), (20.0, (844, 390))] {
                page.pass(time);
                let size =
                    json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": true });
                page.browser("Emulation.setDeviceMetricsOverride", size);
                page.value("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(1))))");
                let what = page.value("[document.getElementById('name').textContent, document.getElementById('word').textContent]");
                assert_eq!(page.value(CUT), json!([]), "{} {what} at {width} x {height}", evenings.recipe);
                seen += 1;
            }
        }
    }
    assert!(seen > 200, "{seen}");
    page.was_quiet();
}

/// The first step is 8:39 long: at 1:10 of it the mark is at 70 of 519 s, and it moves with the clock. After a reading that
/// makes the step 8:16 long, 190 of 496 s.
#[test]
fn the_mark_on_the_strip_is_at_the_present_time() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    let place = "parseFloat(document.querySelector('#strip .here').style.left)";
    page.started();
    for (time, part) in [(70.0, 70.0 / 519.0), (120.0, 190.0 / 519.0)] {
        page.pass(time);
        let left = page.value(place).as_f64().unwrap();
        assert!((left - 100.0 * part).abs() < 0.01, "{left}");
    }
    page.controls();
    page.press("warm");
    for _ in 0..6 {
        page.value("document.querySelector('[data-tenths=\"1\"]').click()");
    }
    page.press("reads");
    let left = page.value(place).as_f64().unwrap();
    assert!((left - 100.0 * 190.0 / 496.0).abs() < 0.01, "{left}");
    // The film is agitated at 0:25 for 30 s, and then each minute up to 7:00.
    assert_eq!(page.value("document.querySelectorAll('#strip .move').length"), 8);
    page.was_quiet();
}

/// The panels leave the lid, the word and the count in sight.
#[test]
fn the_panels_fit_and_leave_word_and_count_in_sight() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    page.pass(494.0);
    let seen = "['lid-one', 'word', 'count'].filter((id) => {
        const box = document.getElementById(id).getBoundingClientRect();
        const top = document.elementFromPoint(box.left + 4, (box.top + box.bottom) / 2);
        return !document.getElementById(id).contains(top);
    })";
    for size in SIZES {
        for (button, panel) in
            [("where", "places"), ("screen", "lights"), ("warm", "heat"), ("behind", "late")]
        {
            page.picture(size, "light", "sink");
            page.controls();
            page.press(button);
            page.picture(size, "light", &format!("sink-{panel}"));
            assert_eq!(page.value(seen), json!([]), "{size:?} {panel}");
            let fits = format!(
                "[...document.querySelectorAll('#{panel} > *')].every((one) => one.getBoundingClientRect().bottom <= innerHeight + 0.5)"
            );
            assert_eq!(page.value(&fits), true, "{size:?} {panel}");
            page.value("document.querySelector('#places .shut').click()");
        }
    }
    page.was_quiet();
}

/// The height of the capitals of a line, in minutes of arc, at a distance in millimetres: a pixel is 0.16 mm.
fn minutes(page: &mut Stage, id: &str, distance: f64) -> f64 {
    let pixels = page.value(&format!(
        "(() => {{
            const line = document.getElementById('{id}'), inner = line.classList.contains('line') ? line.firstElementChild : line;
            const style = getComputedStyle(inner), pen = document.createElement('canvas').getContext('2d');
            pen.font = `${{style.fontWeight}} ${{style.fontSize}} ${{style.fontFamily}}`;
            return pen.measureText('H').actualBoundingBoxAscent;
        }})()"
    ));
    (pixels.as_f64().unwrap() * 0.16 / distance).atan().to_degrees() * 60.0
}

/// On a phone of 390 x 844: word, count, what to pour and what to get ready for at 2 m, the lid at 1 m, all else at 0.7 m.
/// 16 minutes of arc are about three times what a good eye can just read.
#[test]
fn everything_is_read_at_its_distance() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    page.picture((390, 844), "light", "distance");
    page.pass(3.0);
    let far = ["word", "count", "amount", "what", "ahead"];
    let near = ["name", "clock", "when", "all", "ear", "hint", "below"];
    let lid = ["lid-one", "lid-two"];
    for (ids, distance) in [(&far[..], 2000.0), (&lid, 1000.0), (&near, 700.0)] {
        for id in ids {
            assert_ne!(page.text(id), "", "{id}");
            let arc = minutes(&mut page, id, distance);
            assert!(arc >= 16.0, "{id}: {arc} minutes of arc");
        }
    }
    // The rest before the stop, with the line to get ready.
    page.pass(492.0);
    assert_eq!((page.text("when"), page.text("ahead")), ("get ready".to_owned(), "DRAIN".to_owned()));
    assert!(minutes(&mut page, "ahead", 2000.0) >= 16.0);
    page.was_quiet();
}

/// Of each text that is seen: its size, weight and contrast with what is behind it, by the Web Content Accessibility
/// Guidelines 2.2, criterion 1.4.3.
const CONTRAST: &str = "(() => {
    const shine = (colour) => {
        const [red, green, blue] = colour.match(/[\\d.]+/g).slice(0, 3).map((part) => {
            const of = part / 255;
            return of <= 0.04045 ? of / 12.92 : ((of + 0.055) / 1.055) ** 2.4;
        });
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
    };
    const ground = (one) => {
        for (let at = one; at; at = at.parentElement) {
            const colour = getComputedStyle(at).backgroundColor;
            if (!/, 0\\)$/.test(colour)) return colour;
        }
        return 'none';
    };
    const says = (one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim() !== '');
    const words = [...document.querySelectorAll('#follow *')]
        .filter((one) => one.checkVisibility({ visibilityProperty: true }) && says(one) && !one.closest('.aside, h2'));
    return words.map((one) => {
        const [light, dark] = [shine(getComputedStyle(one).color), shine(ground(one))].sort((a, b) => b - a);
        return [one.closest('[id]').id, parseFloat(getComputedStyle(one).fontSize), (light + 0.05) / (dark + 0.05)];
    });
})()";

fn contrasts(page: &mut Stage) -> Vec<(String, f64, f64)> {
    let all: Value = page.value(CONTRAST);
    let all = all.as_array().unwrap().iter();
    all.map(|row| (row[0].as_str().unwrap().to_owned(), row[1].as_f64().unwrap(), row[2].as_f64().unwrap()))
        .collect()
}

/// 4.5 to 1; in red 3 to 1, which is enough for bold letters from 18.66 pixels on.
#[test]
fn every_word_has_enough_contrast_in_white_dark_and_red() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    for time in [3.0, 492.0] {
        page.pass(time);
        for (size, scheme) in [((390, 844), "light"), ((390, 844), "dark"), ((844, 390), "light")] {
            page.picture(size, scheme, "contrast");
            let all = contrasts(&mut page);
            assert!(all.len() > 8, "{all:?}");
            assert!(all.iter().all(|(.., ratio)| *ratio >= 4.5), "{scheme}: {all:?}");
        }
    }
    page.controls();
    page.press("screen");
    assert!(page.text("lights").contains("It is no safelight: film out of a closed tank is fogged by it."));
    assert!(page.text("lights").contains("some still glow"));
    page.value("document.querySelector('[data-light=red]').click()");
    for size in [(390, 844), (320, 568), (844, 390)] {
        page.picture(size, "light", "red");
        for (id, points, ratio) in contrasts(&mut page) {
            let needed = if points >= 18.66 { 3.0 } else { 4.5 };
            assert!(ratio >= needed, "{id}: {ratio} with letters of {points} pixels at {size:?}");
        }
    }
    page.was_quiet();
}

/// Marks that are no text: 3 to 1, by criterion 1.4.11. In forced colours they keep a difference.
#[test]
fn the_strip_and_the_bar_are_seen_in_forced_colours_too() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    page.started();
    page.pass(70.0);
    let forced = json!([{ "name": "forced-colors", "value": "active" }]);
    page.browser("Emulation.setEmulatedMedia", json!({ "features": forced }));
    for place in ["#strip .move", "#strip .here", "#bar"] {
        let colours = page.value(&format!(
            "[getComputedStyle(document.querySelector('{place}')).backgroundColor, getComputedStyle(document.documentElement).backgroundColor]"
        ));
        assert_ne!(colours[0], colours[1], "{place}: {colours}");
    }
    // No plate of the browser hides a line beside it: the letters are drawn on the page itself.
    assert_eq!(page.value("getComputedStyle(document.getElementById('word')).forcedColorAdjust"), "none");
    page.pass(425.0);
    assert_eq!(page.value("getComputedStyle(document.getElementById('next')).borderStyle"), "dashed");
    assert_eq!(page.value(CUT), json!([]));
    page.controls();
    page.press("warm");
    page.shot("forced-heat");
    page.was_quiet();
}
