//! A site in Firefox, from the disk.

use std::path::Path;

use serde_json::json;

use super::firefox::Firefox;
use super::pages::site;
use crate::evenings::{SHELF, shelf};
use crate::program::Run;

/// A site on the disk, open in Firefox.
struct Pages {
    browser: Firefox,
    run: Run,
}

impl Pages {
    fn start() -> Option<Pages> {
        let run = site()?;
        Some(Pages { browser: Firefox::start()?, run })
    }

    fn open(&mut self, path: &str) {
        let address = format!("file://{}/public/{path}", self.run.folder().display());
        self.browser.open(&address);
    }

    fn screenshot(&mut self, name: &str) {
        let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("firefox-{name}.png"));
        self.browser.screenshot(&file);
    }

    /// Sets the value of an element, as if it were typed.
    fn type_into(&mut self, selector: &str, text: &str) {
        self.browser.value(&format!(
            "(() => {{ const field = document.querySelector({}); field.value = {}; field.dispatchEvent(new Event('input', {{ bubbles: true }})); }})()",
            json!(selector), json!(text)
        ));
    }
}

#[test]
fn the_index_searches_in_firefox() {
    let Some(mut pages) = Pages::start() else { return };
    pages.open("index.html");
    let shown = "document.querySelectorAll('[data-words]:not([hidden])').length";
    pages.browser.until("document.getElementById('status').textContent");
    let all = pages.browser.value(shown).as_u64().unwrap();
    assert!(all > 60, "{all}");
    pages.type_into("#search [name=words]", "estuary 400 mq 1600");
    pages.screenshot("index");
    let names =
        "[...document.querySelectorAll('[data-words]:not([hidden]) a')].map((one) => one.textContent)";
    assert_eq!(pages.browser.value(names), json!(["Estuary 400 in MQ borax 1+1, pushed two stops"]));
}

/// The card as JSON, saved by the page, is that of the program to the byte.
#[test]
fn cards_in_firefox_are_those_of_the_program() {
    let Some(mut pages) = Pages::start() else { return };
    let mut run = shelf().below("recipes");
    let recipes = ["estuary-400-mq", "saltmarsh-100-fahrenheit", "ebb-50-reversal", "gull-lith"];
    for evenings in SHELF.iter().filter(|one| recipes.contains(&one.recipe)) {
        let (recipe, tank, (at, rolls)) = (evenings.recipe, evenings.tank, evenings.all().last().unwrap());
        pages.open("index.html");
        let link = format!("document.querySelector('[data-name={recipe}] a').getAttribute('href')");
        let page = pages.browser.value(&link).as_str().unwrap().to_owned();
        let rolls_in_address = rolls.replace('+', "%2B");
        pages.open(&format!("{page}#at={at}&rolls={rolls_in_address}&tank={tank}"));
        pages.browser.until("document.querySelector('#card .work')");
        pages.screenshot(recipe);
        pages.browser.value("document.getElementById('use-json').click()");
        let card = pages.browser.saved(&format!("{recipe}.json"));
        let args = ["card", recipe, "--at", at, "--rolls", rolls, "--tank", tank, "--as", "json"];
        run = run.again().args(args).arg("--no-config");
        assert!(card == run.succeeds(), "{recipe}: {card}");
    }
}

#[test]
fn the_bench_checks_a_text_in_firefox() {
    let Some(mut pages) = Pages::start() else { return };
    pages.open("bench.html");
    pages.browser.until("document.getElementById('file').options.length > 0");
    pages.type_into("#evening [name=at]", "21C");
    pages.type_into("#evening [name=rolls]", "2x120");
    // The root of the chart's 8:00 at 20 °C and 6:45 at 22 °C, as in the test with Chromium.
    let card = pages.browser.value("document.getElementById('card').textContent");
    assert!(card.as_str().unwrap().contains("7:21"), "{card}");
    pages.screenshot("bench");
    let example = include_str!("../../../src/page/site/example.txt");
    pages.type_into("#text", &example.replace("agitate   continuous", "agitat   continuous"));
    let underlined =
        "[...document.querySelectorAll('#colours .fault-1')].map((one) => one.textContent).join('')";
    assert_eq!(pages.browser.value(underlined), json!("agitat"));
    pages.browser.value("document.querySelector('#faults button:not(.quiet)').click()");
    assert_eq!(pages.browser.value("document.getElementById('text').value"), json!(example));
    assert_eq!(pages.browser.value("document.getElementById('faults').children.length"), json!(0));
}
