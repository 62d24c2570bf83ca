//! The link of a card, opened in a browser, and its code as a browser draws it.

use serde_json::{Value, json};

use super::chromium::Chromium;
use super::pages::Pages;
use crate::evenings::shelf;
use crate::program::Run;

const SITE: &str = "https://crew.example/recipes/";

/// The call of a card with a site, in a folder with all recipes.
fn card() -> Run {
    let run = shelf().file("own/wetside/tonight.toml", format!("site = \"{SITE}\"\n")).below("recipes");
    let own = run.folder().join("own").display().to_string();
    let call = ["card", "estuary-400-mq", "--at", "70.5F", "--rolls", "3x120+2x135", "--tank", "tall-five"];
    run.env("XDG_CONFIG_HOME", &own).args(call).args(["--ending", "20C"])
}

/// The link of a card, which is the last line of its text.
fn link() -> String {
    card().succeeds().lines().last().unwrap().trim().to_owned()
}

#[test]
fn a_link_opens_the_page_of_its_recipe_with_the_same_card() {
    let Some(mut pages) = Pages::start() else { return };
    let link = link();
    let (site, hash) = link.split_once('#').unwrap();
    assert_eq!(site, SITE);
    let index = pages.on_disk("index.html");
    pages.open(&format!("{index}#{hash}"));
    pages.until("document.body.dataset.page === 'recipe' && document.querySelector('#card .work')");
    let path = pages.value("location.pathname");
    assert!(path.as_str().unwrap().ends_with("/recipes/estuary-400-mq/estuary-400-mq.html"), "{path}");
    assert_eq!(pages.value("document.getElementById('other').hidden"), json!(true));
    let shown = pages.value("compiler.ask({ ask: 'card', forms: ['json'], evening: { file: document.body.dataset.file, recipe: document.body.dataset.name, ...values(document.getElementById('evening')) } }).answer.json");
    assert!(shown == json!(card().args(["--as", "json"]).succeeds()), "{shown}");
    // A card of another version of the recipe, which the page says.
    let known = pages.value("document.getElementById('mark').dataset.fingerprint");
    let changed = hash.replace(known.as_str().unwrap(), "W000-0000");
    assert_ne!(changed, hash);
    pages.open(&format!("{index}#{changed}"));
    pages.until("document.body.dataset.page === 'recipe' && document.querySelector('#card .work')");
    assert_eq!(pages.value("document.getElementById('other').hidden"), json!(false));
    // A recipe that the site does not have: the index searches for it.
    pages.open(&format!("{index}#{}", hash.replace("estuary-400-mq", "estuary-900")));
    pages.until("document.getElementById('status').textContent");
    assert_eq!(pages.value("document.getElementById('other').hidden"), json!(false));
    assert_eq!(pages.value("document.querySelector('[name=words]').value"), json!("estuary-900"));
}

/// The grey values of a PNG in base64, decoded by the browser, and the picture's width and height.
fn grey(browser: &mut Chromium, picture: &str) -> (Vec<u8>, usize, usize) {
    let script = format!(
        "(async () => {{
            const blob = await (await fetch('data:image/png;base64,{picture}')).blob();
            const image = await createImageBitmap(blob);
            const drawn = new OffscreenCanvas(image.width, image.height).getContext('2d');
            drawn.drawImage(image, 0, 0);
            const {{ data }} = drawn.getImageData(0, 0, image.width, image.height);
            let grey = '';
            for (let at = 0; at < data.length; at += 4) grey += String.fromCharCode(data[at + 1]);
            return [btoa(grey), image.width, image.height];
        }})()"
    );
    let asked = json!({ "expression": script, "returnByValue": true, "awaitPromise": true });
    let value = browser.call("Runtime.evaluate", asked)["result"]["value"].clone();
    let size = |at: usize| usize::try_from(value[at].as_u64().unwrap()).unwrap();
    let bytes = data_encoding::BASE64.decode(value[0].as_str().unwrap().as_bytes()).unwrap();
    (bytes, size(1), size(2))
}

/// Black on white, whatever the colours of the page are.
#[test]
fn a_phone_can_read_the_code_in_every_colour_scheme() {
    let Some(mut browser) = Chromium::start() else { return };
    let run = card().args(["-o", "card.html"]);
    run.succeeds();
    let address = format!("file://{}/recipes/card.html", run.folder().display());
    for (scheme, forced) in [("light", "none"), ("dark", "none"), ("light", "active"), ("dark", "active")] {
        let features = json!([
            { "name": "prefers-color-scheme", "value": scheme }, { "name": "forced-colors", "value": forced },
        ]);
        browser.call("Emulation.setEmulatedMedia", json!({ "features": features }));
        browser.call("Page.navigate", json!({ "url": address }));
        browser.wait_for("Page.loadEventFired");
        let place = "(() => { const { x, y, width, height } = document.querySelector('.code').getBoundingClientRect(); return { x, y: y + scrollY, width, height, scale: 2 }; })()";
        let clip: Value =
            browser.call("Runtime.evaluate", json!({ "expression": place, "returnByValue": true }))["result"]
                ["value"]
                .clone();
        let asked = json!({ "format": "png", "clip": clip, "captureBeyondViewport": true });
        let picture = browser.call("Page.captureScreenshot", asked);
        browser.call("Page.navigate", json!({ "url": "about:blank" }));
        browser.wait_for("Page.loadEventFired");
        let (grey, wide, high) = grey(&mut browser, picture["data"].as_str().unwrap());
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(wide, high, |x, y| grey[y * wide + x]);
        let codes: Vec<String> = image.detect_grids().iter().map(|code| code.decode().unwrap().1).collect();
        assert_eq!(codes, [link()], "{scheme}, forced colours {forced}");
    }
}
