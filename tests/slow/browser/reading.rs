//! Accessibility: a narrow phone, letters of twice the size, contrast, and a screen reader.

use serde_json::json;

use super::stage::{Stage, readme_evening};
use crate::evenings::every_evening;

/// The elements that are wider than the window.
const WIDER: &str = "(() => {
    const wide = document.documentElement.clientWidth;
    const over = [...document.querySelectorAll('body *')].filter((one) => !one.closest('svg')
        && one.checkVisibility() && one.getBoundingClientRect().right > wide + 0.5);
    return [document.documentElement.scrollWidth - wide, over.map((one) => one.textContent.slice(0, 60))];
})()";

/// On a phone of 320 pixels, and with letters of twice the size in a window of 640.
#[test]
fn no_page_is_wider_than_its_window() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    let mut seen = 0;
    every_evening(|run, name| {
        let run = run.args(["--as", "html"]);
        page.write(&run.succeeds());
        page.reload();
        for (size, letters) in [((320, 568), "16px"), ((640, 512), "32px")] {
            page.value(&format!("document.documentElement.style.fontSize = '{letters}'"));
            page.picture(size, "light", "narrow");
            assert_eq!(page.value(WIDER), json!([0, []]), "{name} at {size:?} in letters of {letters}");
        }
        seen += 1;
        run
    });
    assert!(seen > 15);
}

/// By the Web Content Accessibility Guidelines 2.2, criterion 1.4.3: 4.5 to 1, whatever the size. A disabled button
/// is exempt.
#[test]
fn every_word_has_enough_contrast_in_light_and_dark() {
    let Some(mut page) = Stage::on_trial() else { return };
    let pale = "(() => {
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
        const words = [...document.querySelectorAll('body *')]
            .filter((one) => one.checkVisibility() && says(one) && !one.closest('script, title, desc, :disabled'));
        const ratios = words.map((one) => {
            const ink = one.closest('svg') ? getComputedStyle(one).fill : getComputedStyle(one).color;
            const [light, dark] = [shine(ink), shine(ground(one))].sort((one, other) => other - one);
            return [(light + 0.05) / (dark + 0.05), one.textContent.slice(0, 40)];
        });
        return [ratios.length > 60, ratios.filter(([ratio]) => ratio < 4.5)];
    })()";
    for scheme in ["light", "dark"] {
        page.picture((800, 1000), scheme, "contrast");
        assert_eq!(page.value(pale), json!([true, []]), "{scheme}");
    }
    page.was_quiet();
}

/// The film is agitated from 0:25 to 0:55 of the evening, and left still until 1:00; ten seconds before the drain at 8:19
/// the page says so.
#[test]
fn a_screen_reader_announces_words_and_ten_seconds_and_not_every_second() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.started();
    page.value(
        "window.told = []; for (const one of document.querySelectorAll('[aria-live], [role=status]')) {
            new MutationObserver(() => window.told.push(one.textContent))
                .observe(one, { childList: true, characterData: true, subtree: true });
        }",
    );
    page.pass(26.0);
    for _ in 0..18 {
        page.pass(1.0);
    }
    assert_eq!(page.text("count"), "0:11");
    assert_eq!(
        page.value("window.told"),
        json!(["DEVELOP. AGITATE 30\u{a0}s then knock the tank. Next: REST"])
    );
    page.pass(1.0);
    assert_eq!(page.value("window.told.slice(1)"), json!(["In ten seconds: REST"]));
    page.pass(450.0);
    assert_eq!(page.value("window.told.pop()"), json!("In ten seconds: DRAIN"));
    // The clock alone is not announced.
    assert_eq!(page.value("document.getElementById('count').getAttribute('role')"), "timer");
    assert_eq!(page.value("document.getElementById('count').getAttribute('aria-live')"), json!(null));
    page.was_quiet();
}

/// The order of the keyboard is the visual order, and the focus is seen.
#[test]
fn the_tab_key_visits_the_controls_in_order() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.started();
    page.pass(60.0);
    page.controls();
    let mut reached = Vec::new();
    for _ in 0..7 {
        page.strike("Tab");
        let place = "(() => { const one = document.activeElement, box = one.getBoundingClientRect();
            return [one.id, Math.round(box.top), Math.round(box.left), getComputedStyle(one).outlineStyle]; })()";
        reached.push(page.value(place));
    }
    let ids: Vec<&str> = reached.iter().map(|one| one[0].as_str().unwrap()).collect();
    assert_eq!(ids, ["in", "behind", "undo", "warm", "where", "screen", "close"]);
    let places = reached.iter().map(|one| (one[1].as_i64().unwrap(), one[2].as_i64().unwrap()));
    assert!(places.collect::<Vec<_>>().is_sorted(), "{reached:?}");
    assert!(reached.iter().all(|one| one[3] == "solid"), "the focus is seen: {reached:?}");
    // The space bar presses the button that has the focus, and holds nothing.
    page.strike(" ");
    assert_eq!(page.value("document.getElementById('controls').hidden"), true);
    assert_eq!(page.value("document.getAnimations().length"), 0);
    page.was_quiet();
}
