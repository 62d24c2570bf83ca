//! The pages of a site for people who see other colours, or nothing: forced colours, and the accessibility tree.

use serde_json::{Value, json};

use super::pages::Pages;

const RECIPE: &str = "recipes/estuary-400-mq/estuary-400-mq.html#at=21.5C&rolls=5x120&tank=tall-five";
const PAGES: [(&str, &str, &str); 4] = [
    ("index", "index.html", "document.getElementById('status').textContent"),
    ("recipe", RECIPE, "document.querySelector('#card .work')"),
    (
        "solution",
        "solutions/solutions/mq-borax.html#make=2.5l",
        "document.getElementById('sheet').textContent",
    ),
    ("bench", "bench.html", "document.getElementById('file').options.length > 0"),
];

/// The visible texts and edges whose pixels have less contrast than 4.5 or 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11), by the
/// formula of "relative luminance". `PICTURE` is a screenshot of the whole page.
const FAINT: &str = "(async () => {
    const image = new Image();
    image.src = 'data:image/png;base64,PICTURE';
    await image.decode();
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [image.width, image.height];
    const drawn = canvas.getContext('2d', { willReadFrequently: true });
    drawn.drawImage(image, 0, 0);
    const part = (value) => { const share = value / 255; return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4; };
    const contrast = ({ left, top, width, height }, around) => {
        const [x, y] = [Math.floor(left + scrollX) - around, Math.floor(top + scrollY) - around];
        const [w, h] = [Math.ceil(width) + 2 * around, Math.ceil(height) + 2 * around];
        if (x + w <= 0 || y + h <= 0 || x >= image.width || y >= image.height || w < 1 || h < 1) return 99;
        const { data } = drawn.getImageData(x, y, w, h);
        let [low, high] = [1, 0];
        for (let at = 0; at < data.length; at += 4) {
            const light = 0.2126 * part(data[at]) + 0.7152 * part(data[at + 1]) + 0.0722 * part(data[at + 2]);
            [low, high] = [Math.min(low, light), Math.max(high, light)];
        }
        return (high + 0.05) / (low + 0.05);
    };
    const faint = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const range = document.createRange();
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const own = node.parentElement;
        if (!node.data.trim() || own.closest('script, noscript, title, desc, option, textarea, [hidden], thead') || !own.checkVisibility()) continue;
        for (const { 0: word, index } of node.data.matchAll(/\\S+/g)) {
            range.setStart(node, index);
            range.setEnd(node, index + word.length);
            const box = range.getBoundingClientRect();
            // What has to be scrolled into view.
            if (box.right > (own.closest('pre') || document.body).getBoundingClientRect().right) continue;
            if (box.width > 3 && contrast(box, 0) < 4.5) faint.push(`${own.tagName}.${own.getAttribute('class')}: ${word}`);
        }
    }
    for (const control of document.querySelectorAll('input, select, textarea, button')) {
        if (control.checkVisibility() && contrast(control.getBoundingClientRect(), 2) < 3) faint.push(control.outerHTML.slice(0, 80));
    }
    for (const mark of document.querySelectorAll('.picture rect, .picture circle, .picture polyline')) {
        const box = mark.getBoundingClientRect();
        if (!mark.matches('.faint, .bath, .flow, .empty') && contrast(box, 2) < 3) faint.push(mark.outerHTML.slice(0, 80));
    }
    return faint;
})()";

#[test]
fn nothing_is_invisible_with_forced_colours() {
    let Some(mut pages) = Pages::start() else { return };
    for scheme in ["light", "dark"] {
        let features = json!({ "features": [
            { "name": "forced-colors", "value": "active" }, { "name": "prefers-color-scheme", "value": scheme },
        ] });
        pages.browser.call("Emulation.setEmulatedMedia", features);
        for (name, path, until) in PAGES {
            pages.size(1280, 900);
            let address = pages.on_disk(path);
            pages.open(&address);
            pages.until(until);
            assert_eq!(pages.value("matchMedia('(forced-colors: active)').matches"), json!(true));
            if name == "bench" {
                pages.paste("wetside 2\nfilm reed {\n    sped ISO 400\n}\n");
            }
            // The whole page in the window, so that the screenshot has all of it.
            let high = pages.value("document.documentElement.scrollHeight").as_u64().unwrap();
            pages.size(1280, u32::try_from(high).unwrap());
            let picture = pages.screenshot(&format!("forced-{name}-{scheme}"));
            let faint = pages.value(&FAINT.replace("PICTURE", &picture));
            assert_eq!(faint, json!([]), "{name} in {scheme}");
        }
    }
}

/// The nodes that assistive technology gets, without those that it skips.
fn tree(pages: &mut Pages) -> Vec<Value> {
    pages.browser.call("Accessibility.enable", json!({}));
    let tree = pages.browser.call("Accessibility.getFullAXTree", json!({}));
    let nodes = tree["nodes"].as_array().unwrap().iter();
    nodes.filter(|node| node["ignored"] != json!(true)).cloned().collect()
}

fn role(node: &Value) -> &str {
    node["role"]["value"].as_str().unwrap_or_default()
}

fn name(node: &Value) -> &str {
    node["name"]["value"].as_str().unwrap_or_default().trim()
}

fn property<'a>(node: &'a Value, name: &str) -> Option<&'a Value> {
    let own = node["properties"].as_array()?.iter().find(|one| one["name"] == name)?;
    Some(&own["value"]["value"])
}

/// The roles of what a person can operate, or jump to, and which therefore needs a name.
const NAMED: [&str; 13] = [
    "button",
    "checkbox",
    "combobox",
    "textbox",
    "searchbox",
    "link",
    "listbox",
    "option",
    "navigation",
    "region",
    "Date",
    "image",
    "DisclosureTriangle",
];

#[test]
fn assistive_technology_gets_names_headings_in_order_and_what_changes() {
    let Some(mut pages) = Pages::start() else { return };
    for (page, path, until) in PAGES {
        let address = pages.on_disk(path);
        pages.open(&address);
        pages.until(until);
        if page == "bench" {
            pages.paste("wetside 2\nfilm reed {\n    sped ISO 400\n}\n");
        }
        let nodes = tree(&mut pages);
        let unnamed: Vec<&Value> =
            nodes.iter().filter(|node| NAMED.contains(&role(node)) && name(node).is_empty()).collect();
        assert!(unnamed.is_empty(), "{page}: {unnamed:#?}");
        let count = |wanted: &str| nodes.iter().filter(|node| role(node) == wanted).count();
        assert!(count("link") >= 4 && count("textbox") + count("searchbox") >= 1, "{page}");
        assert_eq!((count("main"), count("navigation")), (1, 1), "{page}");
        // One heading of the first level, and none that skips a level.
        let level = |node: &Value| property(node, "level").and_then(Value::as_u64).unwrap();
        let levels: Vec<u64> = nodes.iter().filter(|node| role(node) == "heading").map(level).collect();
        assert_eq!(levels.first(), Some(&1), "{page}: {levels:?}");
        assert_eq!(levels.iter().filter(|level| **level == 1).count(), 1, "{page}: {levels:?}");
        assert!(levels.windows(2).all(|two| two[1] <= two[0] + 1), "{page}: {levels:?}");
        // What appears after a change is announced.
        let polite = nodes.iter().filter(|node| property(node, "live") == Some(&json!("polite"))).count();
        assert!(polite >= 1, "{page}");
    }
}

/// A change of the form announces the summary of the card, and no text of the page but that.
#[test]
fn a_new_card_is_announced_by_its_summary() {
    let Some(mut pages) = Pages::start() else { return };
    let address = pages.on_disk(RECIPE);
    pages.open(&address);
    pages.until("document.querySelector('#card .work')");
    let change = "{ const field = document.querySelector('#evening [name=at]'); field.value = '20C'; field.dispatchEvent(new Event('input', { bubbles: true })); }";
    pages.value(change);
    let nodes = tree(&mut pages);
    let status: Vec<&Value> = nodes.iter().filter(|node| role(node) == "status").collect();
    let [status] = status[..] else { panic!("{status:#?}") };
    assert_eq!(property(status, "live"), Some(&json!("polite")));
    let summary = pages.value("document.getElementById('status').textContent");
    assert!(summary.as_str().unwrap().starts_with("Estuary 400 in MQ borax 1+1 · total "), "{summary}");
    assert_eq!(
        pages.value("document.getElementById('status').contains(document.getElementById('card'))"),
        json!(false)
    );
}
