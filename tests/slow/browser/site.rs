//! A site in a browser, from the disk and from a local server.

use std::net::TcpStream;

use serde_json::{Value, json};

use super::pages::Pages;
use super::server::Server;
use crate::evenings::{SHELF, shelf};

/// The temperature halfway between two of one scale.
fn between([one, other]: [&str; 2]) -> String {
    let number = |text: &str| text.trim_end_matches(['C', 'F']).parse::<f64>().unwrap();
    match one.ends_with('C') && other.ends_with('C') {
        true => format!("{:.2}C", f64::midpoint(number(one), number(other))),
        false => other.to_owned(),
    }
}

/// All evenings of the shelf: three temperatures, two loads each.
fn evenings() -> Vec<(&'static str, &'static str, String, &'static str)> {
    let of = |one: &crate::evenings::Evenings| {
        let [first, last] = one.at;
        let at = [first.to_owned(), between(one.at), last.to_owned()];
        let (recipe, tank, rolls) = (one.recipe, one.tank, one.rolls);
        at.into_iter()
            .flat_map(move |at| rolls.map(|rolls| (recipe, tank, at.clone(), rolls)))
            .collect::<Vec<_>>()
    };
    SHELF.iter().flat_map(of).collect()
}

/// The cards of all evenings as JSON, by the program.
fn by_the_program() -> Vec<String> {
    let mut run = shelf().below("recipes");
    let card = |(recipe, tank, at, rolls): (&str, &str, String, &str)| {
        let args =
            ["card", recipe, "--at", &at, "--rolls", rolls, "--tank", tank, "--as", "json", "--no-config"];
        run = run.again().args(args);
        run.succeeds()
    };
    evenings().into_iter().map(card).collect()
}

/// The cards of all evenings as JSON, by the page that is open.
fn by_the_page(pages: &mut Pages) -> Vec<String> {
    let all = evenings();
    let asked: Vec<Value> = all
        .iter()
        .map(|(recipe, tank, at, rolls)| json!({ "recipe": recipe, "tank": tank, "at": at, "rolls": rolls }))
        .collect();
    let answers = pages.value(&format!(
        "(() => {{ const list = compiler.ask({{ ask: 'list' }}).answer.recipes; return {}.map((evening) => {{ \
         const file = list.find((one) => one.name === evening.recipe).file; \
         const told = compiler.ask({{ ask: 'card', evening: {{ ...evening, file }}, forms: ['json'] }}); \
         return told.answer ? told.answer.json : JSON.stringify(told); }}); }})()",
        json!(asked)
    ));
    answers.as_array().unwrap().iter().map(|one| one.as_str().unwrap().to_owned()).collect()
}

#[test]
fn every_card_of_the_shelf_is_that_of_the_program_to_the_byte() {
    let Some(mut pages) = Pages::start() else { return };
    let expected = by_the_program();
    assert_eq!(expected.len(), 168);
    let page = "recipes/estuary-400-mq/estuary-400-mq.html#at=21.5C&rolls=5x120&tank=tall-five";
    let address = pages.on_disk(page);
    pages.open(&address);
    pages.until("document.querySelector('#card .work')");
    let status = pages.value("document.getElementById('status').textContent");
    assert_eq!(status, json!("Estuary 400 in MQ borax 1+1 · total 18:37"));
    assert!(by_the_page(&mut pages) == expected, "a card from the disk differs");
    let server = Server::start(pages.folder());
    pages.open(&format!("{}/{page}", server.address));
    pages.until("document.querySelector('#card .work')");
    assert!(by_the_page(&mut pages) == expected, "a card from a server differs");
}

/// After the first visit, the pages work without the server.
#[test]
fn a_site_from_a_server_works_without_a_network_afterwards() {
    let Some(mut pages) = Pages::start() else { return };
    let server = Server::start(pages.folder());
    let address = format!("{}/index.html", server.address);
    pages.open(&address);
    pages.until("navigator.serviceWorker.controller");
    let root = server.address.clone();
    drop(server);
    assert!(TcpStream::connect(root.trim_start_matches("http://")).is_err());
    pages.open(&format!(
        "{root}/recipes/estuary-400-mq/estuary-400-mq.html#at=20C&rolls=5x120&tank=tall-five"
    ));
    pages.until("document.querySelector('#card .work')");
}

#[test]
fn nothing_leaves_a_page() {
    let Some(mut pages) = Pages::start() else { return };
    pages.bench("");
    for (what, attempt) in [
        ("fetch", "fetch('http://127.0.0.1:9/').then(() => 'sent', (error) => String(error.name))"),
        (
            "image",
            "new Promise((done) => { const image = new Image(); image.onload = () => done('sent'); image.onerror = () => done('Error'); image.src = 'http://127.0.0.1:9/a.png'; })",
        ),
        (
            "socket",
            "new Promise((done) => { try { const socket = new WebSocket('ws://127.0.0.1:9/'); socket.onopen = () => done('sent'); socket.onerror = () => done('Error'); } catch (error) { done(error.name); } })",
        ),
        (
            "script",
            "new Promise((done) => { const script = document.createElement('script'); script.onload = () => done('sent'); script.onerror = () => done('Error'); script.src = 'http://127.0.0.1:9/a.js'; document.body.append(script); })",
        ),
        (
            "form",
            "(() => { const form = document.createElement('form'); form.action = 'http://127.0.0.1:9/'; document.body.append(form); form.submit(); return 'Error'; })()",
        ),
    ] {
        assert_ne!(pages.value(attempt), json!("sent"), "{what}");
    }
    let refused =
        |event: &Value| event["params"]["blockedReason"] == "csp" || event["method"] == "Log.entryAdded";
    assert!(pages.browser.heard().iter().filter(|event| refused(event)).count() >= 4);
    let asked = pages.browser.heard().iter().filter(|event| event["method"] == "Network.requestWillBeSent");
    let outside: Vec<&Value> = asked
        .map(|event| &event["params"]["request"]["url"])
        .filter(|url| {
            !url.as_str().unwrap().starts_with("file:")
                && !url.as_str().unwrap().starts_with("http://127.0.0.1:9/")
        })
        .filter(|url| url.as_str() != Some("about:blank"))
        .collect();
    assert!(outside.is_empty(), "{outside:?}");
    let written = pages.value("localStorage.length + sessionStorage.length + document.cookie.length");
    assert_eq!(written, json!(0));
}

#[test]
fn the_bench_underlines_faults_offers_fixes_and_shows_the_card() {
    let Some(mut pages) = Pages::start() else { return };
    pages.size(1280, 900);
    pages.bench("");
    assert_eq!(pages.value("document.getElementById('sound').hidden"), json!(false));
    assert_eq!(pages.value("document.getElementById('recipe').value"), json!("reed-400-first"));
    let evening = "for (const [name, value] of [['at', '21C'], ['rolls', '2x120']]) { document.querySelector(`#evening [name=${name}]`).value = value; } document.getElementById('evening').dispatchEvent(new Event('input'));";
    pages.value(&format!("{{ {evening} }}"));
    // The chart has 8:00 at 20 °C and 6:45 at 22 °C. Between them the time is a straight line in its logarithm, so at
    // 21 °C it is the root of 480 s and 405 s: 440.9 s, which the card rounds to 7:21.
    let shown = pages.value("document.getElementById('card').textContent");
    assert!(shown.as_str().unwrap().contains("7:21"), "{shown}");
    pages.screenshot("bench");
    // A fault, with the fix that the editor server offers.
    let example = include_str!("../../../src/page/site/example.txt");
    pages.paste(&example.replace("agitate   continuous", "agitat   continuous"));
    assert_eq!(
        pages.value(
            "[...document.querySelectorAll('#colours .fault-1')].map((one) => one.textContent).join('')"
        ),
        json!("agitat")
    );
    pages.screenshot("bench-fault");
    let fixes = "[...document.querySelectorAll('#faults button:not(.quiet)')]";
    assert!(pages.value(&format!("{fixes}.length")).as_u64() >= Some(1));
    pages.value(&format!("{fixes}[0].click()"));
    assert_eq!(pages.value("document.getElementById('text').value"), json!(example));
    assert_eq!(pages.value("document.getElementById('faults').children.length"), json!(0));
    // What can come next after `agit`, and what the word at the cursor is.
    let at = example.find("    agitate").unwrap() + 8;
    pages.value(&format!("{{ const field = document.getElementById('text'); field.focus(); field.setSelectionRange({at}, {at}); field.dispatchEvent(new KeyboardEvent('keydown', {{ key: ' ', ctrlKey: true, bubbles: true }})); }}"));
    pages.until("document.getElementById('about').textContent.length > 20");
    let told = pages.value("document.getElementById('about').textContent");
    assert!(told.as_str().unwrap().contains("agitate"), "{told}");
}

#[test]
fn a_link_carries_a_recipe_with_what_it_uses() {
    let Some(mut pages) = Pages::start() else { return };
    pages.bench("");
    pages.value("{ const choice = document.getElementById('file'); choice.value = 'estuary-400-mq.wet'; choice.dispatchEvent(new Event('change')); }");
    pages.value("document.getElementById('send').click()");
    pages.until("document.getElementById('link').value || document.getElementById('link-note').textContent");
    let link = pages.value("document.getElementById('link').value");
    let link = link.as_str().unwrap().split_once('#').map(|(_, hash)| format!("#{hash}"));
    let link = link.unwrap_or_default();
    assert!(link.len() <= 4_100, "{}", link.len());
    if link.is_empty() {
        // A long recipe is sent as a file, and the page says so.
        let note = pages.value("document.getElementById('link-note').textContent");
        assert!(note.as_str().unwrap().contains("too long for a link"), "{note}");
        return;
    }
    pages.bench(&link);
    assert_eq!(pages.value("document.getElementById('stranger').hidden"), json!(false));
    assert_eq!(
        pages.value("document.getElementById('text').value.includes('recipe estuary-400-mq')"),
        json!(true)
    );
    pages.screenshot("stranger");
    pages.value("document.getElementById('accept').click()");
    assert_eq!(pages.value("document.querySelector('#evening input').disabled"), json!(false));
}

/// Nothing is wider than the window, every control has a name, and every text has enough contrast.
#[test]
fn pages_fit_every_window_and_can_be_used_without_eyes_or_a_mouse() {
    let Some(mut pages) = Pages::start() else { return };
    let recipe = "recipes/estuary-400-mq/estuary-400-mq.html#at=21.5C&rolls=5x120&tank=tall-five";
    for scheme in ["light", "dark"] {
        let features = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        pages.browser.call("Emulation.setEmulatedMedia", features);
        for (name, path) in [
            ("index", "index.html"),
            ("recipe", recipe),
            ("bench", "bench.html"),
            ("guide", "guide.html"),
            ("solution", "solutions/solutions/mq-borax.html#make=2.5l"),
        ] {
            for (width, height) in [(320, 568), (390, 844), (844, 390), (1440, 900), (2560, 1440)] {
                pages.size(width, height);
                let address = pages.on_disk(path);
                pages.open(&address);
                if name == "recipe" {
                    pages.until("document.querySelector('#card .work')");
                }
                let wide = pages.value("[...document.querySelectorAll('body *')].filter((one) => !one.closest('pre, textarea, table, .editor') && one.getBoundingClientRect().right > innerWidth + 1).map((one) => one.outerHTML.slice(0, 80))");
                assert_eq!(wide, json!([]), "{name} at {width}");
                let scrolls = pages.value("document.documentElement.scrollWidth > innerWidth");
                assert_eq!(scrolls, json!(false), "{name} at {width}");
                if width == 390 {
                    pages.screenshot(&format!("{name}-{scheme}"));
                }
            }
            let unnamed = pages.value("[...document.querySelectorAll('input, select, textarea, button')].filter((one) => !one.hidden && !one.ariaLabel && !(one.labels && one.labels.length) && !one.textContent.trim()).map((one) => one.outerHTML)");
            assert_eq!(unnamed, json!([]), "{name}");
            let faint = pages.value(CONTRAST);
            assert_eq!(faint, json!([]), "{name} in {scheme}");
        }
    }
    assert_eq!(pages.value("document.documentElement.lang"), json!("en"));
}

/// The texts whose contrast with the page is under 4.5 to 1, by the formula of WCAG 2.2, "relative luminance".
const CONTRAST: &str = "(() => {
    const part = (value) => { const share = value / 255; return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4; };
    const light = (colour) => { const [red, green, blue] = colour.match(/[0-9.]+/g).map(Number); return 0.2126 * part(red) + 0.7152 * part(green) + 0.0722 * part(blue); };
    const behind = (one) => { for (let at = one; at; at = at.parentElement) { const colour = getComputedStyle(at).backgroundColor; if (!/, 0\\)$|transparent/.test(colour)) return colour; } return 'rgb(255, 255, 255)'; };
    const faint = new Set();
    for (const one of document.querySelectorAll('body *')) {
        if (one.closest('svg, [hidden], textarea, script, noscript') || ![...one.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim())) continue;
        const [first, second] = [light(getComputedStyle(one).color), light(behind(one))].sort((a, b) => b - a);
        if ((first + 0.05) / (second + 0.05) < 4.5) faint.add(`${one.tagName}.${one.className} ${getComputedStyle(one).color} ${behind(one)}`);
    }
    return [...faint];
})()";
