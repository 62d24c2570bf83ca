//! What the page looks like: on every width, in light and dark, on paper, without script, and with a title
//! that means harm.

use serde_json::json;

use super::stage::{Stage, decoded, readme_evening};
use crate::page::HOSTILE;

#[test]
fn the_page_fits_every_width_in_light_and_dark() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    page.pass(505.0);
    for size in [(320, 568), (800, 1000), (1920, 1080)] {
        for scheme in ["light", "dark"] {
            page.picture(size, scheme, "following");
            let wide =
                page.value("document.documentElement.scrollWidth - document.documentElement.clientWidth");
            assert_eq!(wide, 0, "nothing stands outside at {size:?}");
            let seen = "(id) => { const box = document.getElementById(id).getBoundingClientRect(); \
                        return 0 <= box.top && box.bottom <= innerHeight; }";
            for id in ["now", "left", "next", "go"] {
                page.value("scrollTo(0, 0); document.getElementById('follow').scrollIntoView()");
                assert_eq!(page.value(&format!("({seen})('{id}')")), true, "{id} at {size:?}");
            }
            let whole = page.value("document.getElementById('now').scrollHeight <= document.getElementById('stage').clientHeight");
            assert_eq!(whole, true, "what to do is seen whole at {size:?}");
        }
    }
    page.picture((320, 568), "light", "following");
    page.value("document.querySelector('main').scrollIntoView()");
    page.picture((320, 568), "light", "card");
    page.was_quiet();
}

#[test]
fn the_page_prints_as_paper() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("go");
    let dark = json!([{ "name": "prefers-color-scheme", "value": "dark" }]);
    page.browser("Emulation.setEmulatedMedia", json!({ "media": "print", "features": dark }));
    let style = |of: &str, what: &str| format!("getComputedStyle(document.querySelector('{of}')).{what}");
    assert_eq!(page.value(&style("html", "backgroundColor")), "rgb(255, 255, 255)");
    assert_eq!(page.value(&style("h1", "color")), "rgb(0, 0, 0)");
    assert_eq!(page.value(&style("li[aria-current]", "backgroundColor")), "rgb(255, 255, 255)");
    assert_eq!(page.value("document.getElementById('follow').getBoundingClientRect().height"), 0);
    // A4, in inches.
    let paper = json!({ "paperWidth": 8.27, "paperHeight": 11.69, "preferCSSPageSize": false });
    let printed = decoded(page.browser("Page.printToPDF", paper)["data"].as_str().unwrap());
    std::fs::write(concat!(env!("CARGO_TARGET_TMPDIR"), "/printed.pdf"), &printed).unwrap();
    let text = String::from_utf8_lossy(&printed);
    let pages = text.matches("/Type /Page\n").count();
    assert!((1..=2).contains(&pages), "{pages} pages");
    page.was_quiet();
}

#[test]
fn without_script_the_card_is_whole_and_has_no_buttons() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    page.browser("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
    page.reload();
    assert_eq!(page.value("document.getElementById('follow').getBoundingClientRect().height"), 0);
    assert_eq!(page.value("document.querySelectorAll('.work > ol > li').length"), 6);
    assert_eq!(page.value("document.querySelector('.total').getBoundingClientRect().height > 0"), true);
    page.was_quiet();
}

#[test]
fn a_hostile_title_runs_nothing_and_is_shown_as_it_is() {
    let Some(mut page) = Stage::untouched(crate::page::titled(HOSTILE)) else { return };
    assert_eq!(page.value("document.title"), HOSTILE);
    assert_eq!(page.value("document.querySelector('h1').textContent"), HOSTILE);
    assert!(page.text("now").contains(HOSTILE), "{}", page.text("now"));
    assert_eq!(page.value("window.harmed === undefined"), true);
    page.was_quiet();
}

/// Shown by a page whose policy is as it was, and whose markup somebody added to.
#[test]
fn the_policy_stops_what_is_put_into_the_page_afterwards() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    let added = "<body><script>harmed = 1</script><img src=\"x.png\" onerror=\"harmed = 2\">";
    let spoilt = page.source().replace("<body>", added);
    page.write(&spoilt);
    page.reload();
    assert_eq!(
        page.value("[window.harmed === undefined, document.getElementById('go').textContent]"),
        json!([true, "Start"])
    );
}
