//! The look of the page: at every width, in light and dark, on paper, without script, and with a hostile title.

use serde_json::json;

use super::stage::{Stage, TRIAL, readme_evening};
use crate::titled::{HOSTILE, titled};

#[test]
fn the_card_fits_every_width_in_light_and_dark() {
    let Some(mut page) = Stage::on_trial() else { return };
    // A phone in portrait and landscape, a tablet, a small and a large screen.
    for size in [(320, 568), (568, 320), (844, 390), (800, 1000), (1024, 600), (1920, 1080)] {
        for scheme in ["light", "dark"] {
            page.picture(size, scheme, "card");
            let wide =
                page.value("document.documentElement.scrollWidth - document.documentElement.clientWidth");
            assert_eq!(wide, 0, "nothing stands outside at {size:?}");
        }
    }
    page.was_quiet();
}

/// Each number with its unit is on one line.
#[test]
fn no_line_breaks_between_a_number_and_its_unit() {
    let Some(mut page) = Stage::on_trial() else { return };
    let torn = "(() => {
        const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        const torn = [];
        let seen = 0;
        while (walker.nextNode()) {
            const node = walker.currentNode;
            for (const found of node.data.matchAll(/\\d\\s(ml|l|s|min|h|°C|°F)(?![a-z])/g)) {
                const range = document.createRange();
                range.setStart(node, found.index);
                range.setEnd(node, found.index + found[0].length);
                const tops = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
                if (tops.size > 0) seen += 1;
                if (tops.size > 1) torn.push(found[0]);
            }
        }
        return [seen > 30, torn];
    })()";
    for width in (280..=420).step_by(10).chain([800, 1920]) {
        page.picture((width, 640), "light", "units");
        assert_eq!(page.value(torn), json!([true, []]), "{width} pixels wide");
    }
    page.was_quiet();
}

/// Each volume and its solution are on one line, in the mix of the README's card.
#[test]
fn no_line_breaks_within_a_part_of_a_mix() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    let torn = "[...document.querySelectorAll('.bottles li li')].map((part) => {
        const words = document.createRange();
        words.selectNodeContents(part);
        return new Set([...words.getClientRects()].map((box) => Math.round(box.top))).size;
    })";
    for width in [320, 360, 390, 800] {
        page.picture((width, 640), "light", "parts");
        assert_eq!(page.value(torn), json!([1, 1, 1, 1, 1, 1, 1, 1]), "{width} pixels wide");
    }
    page.was_quiet();
}

/// At the widths of a phone, a tablet and a computer.
#[test]
fn the_pictures_fit_the_page_and_are_legible() {
    let Some(mut page) = Stage::on_trial() else { return };
    for size in [(320, 568), (800, 1000), (1920, 1080)] {
        for scheme in ["light", "dark"] {
            for name in ["strip", "curve"] {
                page.value(&format!("document.getElementById('{name}-title').parentNode.scrollIntoView()"));
                page.picture(size, scheme, name);
            }
            // A picture draws nothing outside itself, and its letters are at least as high as on a phone.
            let outside = "[...document.querySelectorAll('.picture')].flatMap((picture) => {
                const all = picture.getBoundingClientRect();
                const shapes = [...picture.querySelectorAll('rect, circle, polyline, text')];
                return shapes.map((shape) => shape.getBoundingClientRect()).filter((box) =>
                    box.left < all.left - 1 || box.right > all.right + 1 || box.top < all.top - 1 || box.bottom > all.bottom + 1);
            }).length";
            assert_eq!(page.value(outside), 0, "{size:?}");
            let small = "Math.min(...[...document.querySelectorAll('.picture')].map((picture) =>
                10 * picture.getBoundingClientRect().width / picture.viewBox.baseVal.width))";
            assert!(page.value(small).as_f64().unwrap() >= 9.9, "{size:?}");
            let inks = "[...document.querySelectorAll('#strip-title ~ .text')].map((text) => getComputedStyle(text).fill)[0]";
            let ink = if scheme == "light" { "rgb(28, 28, 28)" } else { "rgb(232, 232, 232)" };
            assert_eq!(page.value(inks), ink);
        }
    }
    page.was_quiet();
}

#[test]
fn the_page_prints_black_on_white() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("begin");
    let dark = json!([{ "name": "prefers-color-scheme", "value": "dark" }]);
    page.browser("Emulation.setEmulatedMedia", json!({ "media": "print", "features": dark }));
    let style = |of: &str, what: &str| format!("getComputedStyle(document.querySelector('{of}')).{what}");
    assert_eq!(page.value(&style("html", "backgroundColor")), "rgb(255, 255, 255)");
    assert_eq!(page.value(&style("h1", "color")), "rgb(0, 0, 0)");
    assert_eq!(page.value("document.getElementById('follow').getBoundingClientRect().height"), 0);
    page.was_quiet();
}

#[test]
fn without_script_the_page_is_the_whole_card_without_buttons() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    page.browser("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
    page.reload_without_script();
    for id in ["follow", "open"] {
        assert_eq!(page.value(&format!("document.getElementById('{id}').getBoundingClientRect().height")), 0);
    }
    assert_eq!(page.value("document.querySelectorAll('.work > ol > li').length"), 6);
    assert_eq!(page.value("document.querySelector('.total').getBoundingClientRect().height > 0"), true);
    page.was_quiet();
}

#[test]
fn a_hostile_title_is_shown_as_text() {
    let Some(mut page) = Stage::prepared(titled(HOSTILE), &[TRIAL]) else { return };
    assert_eq!(page.value("document.title"), HOSTILE);
    assert_eq!(page.value("document.querySelector('h1').textContent"), HOSTILE);
    page.started();
    assert!(page.text("below").contains(HOSTILE), "{}", page.text("below"));
    assert_eq!(page.value("window.harmed === undefined"), true);
    page.was_quiet();
}

/// A page with its own policy and with added markup.
#[test]
fn the_content_security_policy_blocks_added_markup() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    let added = "<body><script>harmed = 1</script><img src=\"x.png\" onerror=\"harmed = 2\">";
    let spoilt = page.source().replace("<body>", added);
    page.write(&spoilt);
    page.reload();
    assert_eq!(
        page.value("[window.harmed === undefined, document.getElementById('begin').textContent]"),
        json!([true, "Follow this card"])
    );
}
