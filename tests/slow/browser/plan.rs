//! The page of a plan: ticked, reloaded and printed.

use serde_json::json;

use super::stage::{Stage, decoded};
use crate::program::Run;

/// The estuary crew's autumn, of which 22 rolls are developed and 50 wait.
fn autumn(more: [&str; 2]) -> Run {
    let run = Run::new().folders_of_repo("recipes/estuary-autumn");
    run.args(["plan", "estuary-autumn", "--tank", "autumn-five", "--on", "2026-11-16"]).args(more)
}

const TICKED: &str = "[...document.querySelectorAll('input')].map((box) => Number(box.checked)).join('')";

#[test]
fn ticks_survive_a_reload() {
    let Some(mut page) = Stage::untouched(autumn(["--at", "20.5C"])) else { return };
    assert_eq!(page.value("document.querySelectorAll('input').length"), 50);
    assert_eq!(page.value(TICKED), "0".repeat(50));
    // A touch on a label ticks its box.
    page.value("document.querySelectorAll('input')[0].click()");
    page.value("document.querySelectorAll('label')[2].click()");
    let two = format!("101{}", "0".repeat(47));
    assert_eq!(page.value(TICKED), two.as_str());
    page.reload();
    assert_eq!(page.value(TICKED), two.as_str());
    page.value("document.querySelectorAll('input')[2].click()");
    page.reload();
    assert_eq!(page.value(TICKED), format!("1{}", "0".repeat(49)));
    page.was_quiet();
}

#[test]
fn the_page_of_a_plan_fits_every_width_in_light_and_dark() {
    let Some(mut page) = Stage::untouched(autumn(["--a-day", "2"])) else { return };
    page.value("document.querySelectorAll('input')[1].click()");
    for size in [(320, 568), (800, 1000), (1920, 1080)] {
        for scheme in ["light", "dark"] {
            page.value("scrollTo(0, 0)");
            page.picture(size, scheme, "plan");
            let wide =
                page.value("document.documentElement.scrollWidth - document.documentElement.clientWidth");
            assert_eq!(wide, 0, "nothing stands outside at {size:?}");
            // Each row is high enough for a finger.
            let low = "Math.min(...[...document.querySelectorAll('label')].map((row) => row.getBoundingClientRect().height))";
            assert!(page.value(low).as_f64().unwrap() >= 32.0, "{size:?}");
        }
        page.value("scrollTo(0, document.body.scrollHeight)");
        page.picture(size, "light", "plan-end");
    }
    page.was_quiet();
}

/// Names such as `fix-autumn` stay on one line on the narrowest phone.
#[test]
fn no_line_of_a_plan_breaks_at_the_hyphen_of_a_name() {
    let Some(mut page) = Stage::untouched(autumn(["--at", "20.5C"])) else { return };
    let torn = "(() => {
        const walker = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
        const torn = [];
        let seen = 0;
        while (walker.nextNode()) {
            const node = walker.currentNode;
            if (node.parentElement.closest('dd, section > p') === null) continue;
            for (const found of node.data.matchAll(/[a-z]+(-[a-z0-9]+)+/g)) {
                const range = document.createRange();
                range.setStart(node, found.index);
                range.setEnd(node, found.index + found[0].length);
                const tops = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
                seen += 1;
                if (tops.size > 1) torn.push(found[0]);
            }
        }
        return [seen > 10, torn];
    })()";
    for width in (300..=420).step_by(20).chain([800]) {
        page.picture((width, 640), "light", "plan-names");
        assert_eq!(page.value(torn), json!([true, []]), "{width} pixels wide");
    }
    page.was_quiet();
}

/// Black on white, no load split between two sheets, and ticks are visible.
#[test]
fn the_page_of_a_plan_prints_black_on_white() {
    let Some(mut page) = Stage::untouched(autumn(["--at", "20.5C"])) else { return };
    page.value("document.querySelectorAll('input')[1].click()");
    let dark = json!([{ "name": "prefers-color-scheme", "value": "dark" }]);
    page.browser("Emulation.setEmulatedMedia", json!({ "media": "print", "features": dark }));
    let style = |of: &str, what: &str| format!("getComputedStyle(document.querySelector('{of}')).{what}");
    assert_eq!(page.value(&style("html", "backgroundColor")), "rgb(255, 255, 255)");
    assert_eq!(page.value(&style("h1", "color")), "rgb(0, 0, 0)");
    assert_eq!(page.value(&style("section", "breakInside")), "avoid");
    assert_eq!(page.value("document.querySelectorAll('input:checked').length"), 1);
    let paper = json!({ "paperWidth": 8.27, "paperHeight": 11.69, "preferCSSPageSize": false });
    let printed = decoded(page.browser("Page.printToPDF", paper)["data"].as_str().unwrap());
    std::fs::write(concat!(env!("CARGO_TARGET_TMPDIR"), "/printed-plan.pdf"), &printed).unwrap();
    let pages = String::from_utf8_lossy(&printed).matches("/Type /Page\n").count();
    // Half a page a load: eleven loads of five are on at most six pages with the head and the sums. They are on four.
    assert!((3..=4).contains(&pages), "{pages} pages");
    let high =
        "Math.max(...[...document.querySelectorAll('section')].filter((one) => one.querySelector('ol'))
        .map((one) => one.getBoundingClientRect().height))";
    // A4 without margins of a centimetre is 277 mm high.
    let high = page.value(high).as_f64().unwrap() / 96.0 * 25.4;
    assert!(40.0 < high && high < 277.0 / 2.0, "{high} mm");
    page.was_quiet();
}
