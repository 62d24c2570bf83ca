//! Links and texts that are made to do harm: a page shows a message, and nothing else happens.

use serde_json::{Value, json};

use super::pages::Pages;

/// What a link may hold: not base64, not deflated, not JSON, other names, too long, and recipes that are hostile.
fn links() -> Vec<String> {
    let mut all: Vec<String> =
        ["", "%", "a", "AAAA", "....", "%00", "%E0%A4%A", "<script>alert(1)</script>", "__proto__"]
            .map(str::to_owned)
            .to_vec();
    all.push("A".repeat(5_000));
    // JSON texts in a stored block of deflate: 1, length, its complement, text.
    let stored = |text: &str| {
        let length = u16::try_from(text.len()).unwrap();
        let bytes = [&[1], &length.to_le_bytes()[..], &(!length).to_le_bytes()[..], text.as_bytes()].concat();
        data_encoding::BASE64URL_NOPAD.encode(&bytes)
    };
    let files = [
        "null",
        "[]",
        "1",
        "\"a\"",
        "{}",
        "{\"a.wet\":1}",
        "{\"../a.wet\":\"\"}",
        "{\"/a.wet\":\"\"}",
        "{\"A.WET\":\"\"}",
        "{\"a.txt\":\"\"}",
        "{\"__proto__\":\"\"}",
        "{\"a.wet\":\"<img src=x onerror=alert(1)>\"}",
        "{\"a.wet\":\"wetside 2\\nrecipe a \\\"<script>alert(1)</script>\\\" {\\n}\"}",
        "{\"a.wet\":\"\\u0000\"}",
        "{\"a.wet\":\"wetside 2\\nuse \\\"../../b.wet\\\"\"}",
        "{\"a.wet\":\"wetside 99\"}",
        "{\"a.wet\":null}",
        "{\"a.wet\":{\"toString\":1}}",
        "{\"constructor.wet\":[]}",
        "{\"a.wet\":\"\",\"a/../b.wet\":\"\"}",
        "{\"a.wet\":\"\\ud800\"}",
        "{\"a.wet\":\"wetside 2\\nuse \\\"a.wet\\\"\"}",
    ];
    all.extend(files.map(stored));
    // Each of the last ten cut at many places.
    let cut: Vec<String> = all
        .iter()
        .rev()
        .take(10)
        .flat_map(|link| (1..14).map(|part| link[..link.len() * part / 14].to_owned()))
        .collect();
    all.extend(cut);
    all
}

#[test]
fn hostile_links_and_texts_do_nothing_but_show_a_message() {
    let Some(mut pages) = Pages::start() else { return };
    let all = links();
    assert!(all.len() + texts().len() >= 200, "{} and {}", all.len(), texts().len());
    for link in &all {
        pages.bench(&format!("#recipe={link}"));
        let shown = pages.value("[!document.getElementById('stranger').hidden, document.getElementById('link-note').textContent, document.getElementById('card').textContent, document.scripts.length, document.images.length]");
        let is_shown = shown[0] == json!(true);
        let has_message = shown[1].as_str().is_some_and(|text| !text.is_empty());
        assert!(is_shown || has_message || link.is_empty(), "{link}: {shown}");
        assert_eq!((&shown[2], &shown[3], &shown[4]), (&json!(""), &json!(2), &json!(0)), "{link}");
        if is_shown {
            assert_eq!(pages.value("document.querySelector('#evening input').disabled"), json!(true));
        }
    }
    pages.bench("");
    for text in texts() {
        pages.paste(&text);
        let shown = pages.value("[document.getElementById('faults').children.length, document.getElementById('sound').hidden, document.scripts.length, document.images.length]");
        assert!(shown[0].as_u64() > Some(0) || shown[1] == json!(false), "{shown}");
        assert_eq!((&shown[2], &shown[3]), (&json!(2), &json!(0)));
    }
    was_quiet(&pages);
}

/// Panics if a page opened a dialog or threw an error.
fn was_quiet(pages: &Pages) {
    let methods = ["Page.javascriptDialogOpening", "Runtime.exceptionThrown"];
    let noise =
        pages.browser.heard().iter().filter(|event| methods.iter().any(|one| event["method"] == *one));
    assert_eq!(noise.collect::<Vec<_>>(), Vec::<&Value>::new());
}

fn texts() -> Vec<String> {
    let example = include_str!("../../../src/page/site/example.txt");
    let cuts = (1..30).map(|part| {
        example
            .char_indices()
            .take_while(|(at, _)| *at < example.len() * part / 30)
            .map(|(_, letter)| letter)
            .collect()
    });
    let short = [
        "",
        "{",
        "}",
        "\"",
        "<script>alert(1)</script>",
        "wetside 2\nrecipe <b onclick=alert(1)> {\n}",
        "\u{202e}wetside 2",
        "wetside 2\nsolution a \"</pre><img src=x onerror=alert(1)>\" {\n}",
        "\0",
        "💩",
        "wetside 99",
    ];
    let long = ["{".repeat(50_000), "recipe a {\n}\n".repeat(500)];
    short.map(str::to_owned).into_iter().chain(long).chain(cuts).collect()
}

/// Values that a link of a page may have in place of a temperature, a load, a name or a word.
const VALUES: [&str; 12] = [
    "<img src=x onerror=alert(1)>",
    "\"><script>alert(1)</script>",
    "javascript:alert(1)",
    "__proto__",
    "constructor",
    "../../../etc/passwd",
    "\u{202e}21C",
    "\0",
    "%",
    "1e999",
    "-0",
    "99999999999999999999",
];

/// A value as a script in an address writes it.
fn in_address(value: &str) -> String {
    value.bytes().map(|byte| format!("%{byte:02X}")).collect()
}

#[test]
fn hostile_values_in_the_address_of_a_page_do_nothing_but_show_a_message() {
    let Some(mut pages) = Pages::start() else { return };
    let shown = "[document.scripts.length, document.images.length, document.getElementById('card').textContent, document.getElementById('findings').children.length, document.getElementById('status').textContent]";
    let mut count = 0;
    let address =
        pages.on_disk("recipes/estuary-400-mq/estuary-400-mq.html#at=21.5C&rolls=5x120&tank=tall-five");
    pages.open(&address);
    pages.until("document.querySelector('#card .work')");
    for name in ["at", "rolls", "tank", "index", "ending", "volume", "clears", "start"] {
        for value in VALUES {
            count += 1;
            // Each load replaces the values of the one before.
            let good = [("at", "21.5C"), ("rolls", "5x120"), ("tank", "tall-five")];
            let hash =
                good.iter().filter(|(own, _)| *own != name).map(|(own, value)| format!("{own}={value}&"));
            let hash = format!("{}{name}={}", hash.collect::<String>(), in_address(value));
            let others =
                ["index", "ending", "volume", "clears", "start"].into_iter().filter(|own| *own != name);
            let others: String = others.map(|own| format!("&{own}=")).collect();
            pages.value(&format!("new Promise((done) => {{ addEventListener('hashchange', () => setTimeout(done, 0), {{ once: true }}); location.hash = {}; }})", json!(format!("{hash}{others}"))));
            let shown = pages.value(shown);
            assert_eq!((&shown[0], &shown[1]), (&json!(2), &json!(0)), "{name}={value}: {shown}");
            // A tank that the choice does not have is no tank, for which there is a card.
            let is_card = shown[2].as_str() != Some("");
            assert!(is_card || shown[3].as_u64() > Some(0), "{name}={value}: {shown}");
            assert!(is_card || shown[4] == json!("There is no card for this:"), "{name}={value}: {shown}");
            assert!(!is_card || name == "tank", "{name}={value}: {shown}");
        }
    }
    for page in ["index.html#recipe=", "index.html#words=", "solutions/solutions/mq-borax.html#make="] {
        for value in VALUES {
            count += 1;
            let address = pages.on_disk(&format!("{page}{}", in_address(value)));
            pages.open(&address);
            pages.until("document.readyState === 'complete' && document.querySelector('form')");
            let shown =
                pages.value("[document.scripts.length, document.images.length, document.body.dataset.page]");
            assert_eq!((&shown[0], &shown[1]), (&json!(2), &json!(0)), "{page}{value}: {shown}");
            assert_ne!(shown[2], json!("recipe"), "{page}{value}");
        }
    }
    assert_eq!(count, 132);
    was_quiet(&pages);
}
