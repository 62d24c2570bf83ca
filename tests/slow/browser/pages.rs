//! A site of the project's shelf, open in a browser. The module's path is in `WETSIDE_WASM`; without it a test reports
//! that on standard error and passes.

use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::{env, fs};

use serde_json::{Value, json};

use super::chromium::Chromium;
use crate::evenings::shelf;
use crate::program::Run;

/// A site of the project's shelf in the folder `public` of a run; `None` without a module.
pub(super) fn site() -> Option<Run> {
    site_of(shelf())
}

/// A site of the folder `recipes` of a run.
pub(super) fn site_of(run: Run) -> Option<Run> {
    let Some(module) = env::var_os("WETSIDE_WASM").map(PathBuf::from) else {
        let said = b"SKIPPED: WETSIDE_WASM names no module, so no site was opened\n";
        io::stderr().write_all(said).unwrap();
        return None;
    };
    let run = run.args(["site", "recipes", "-o", "public", "--module"]).arg(module);
    run.succeeds();
    Some(run)
}

/// A site of the project's shelf in a folder, and a browser.
pub(super) struct Pages {
    pub(super) browser: Chromium,
    run: Run,
}

impl Pages {
    pub(super) fn start() -> Option<Pages> {
        Pages::of(site()?)
    }

    /// A site in the folder `public` of a run, and a browser.
    pub(super) fn of(run: Run) -> Option<Pages> {
        Some(Pages { run, browser: Chromium::start()? })
    }

    pub(super) fn folder(&self) -> PathBuf {
        self.run.folder().join("public")
    }

    pub(super) fn on_disk(&self, path: &str) -> String {
        format!("file://{}/{path}", self.folder().display())
    }

    pub(super) fn open(&mut self, address: &str) {
        // Another page first, because an address that differs only after `#` is not loaded again.
        self.browser.call("Page.navigate", json!({ "url": "about:blank" }));
        self.browser.wait_for("Page.loadEventFired");
        self.browser.call("Page.navigate", json!({ "url": address }));
        self.browser.wait_for("Page.loadEventFired");
    }

    /// The value of an expression, which may be a promise.
    #[track_caller]
    pub(super) fn value(&mut self, expression: &str) -> Value {
        let asked = json!({ "expression": expression, "returnByValue": true, "awaitPromise": true });
        let answer = self.browser.call("Runtime.evaluate", asked);
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {answer}");
        answer["result"]["value"].clone()
    }

    /// Waits until an expression is true.
    #[track_caller]
    pub(super) fn until(&mut self, expression: &str) {
        let wait = format!(
            "new Promise((done, failed) => {{ const end = Date.now() + 60000; const look = () => \
             {{ if ({expression}) done(true); else if (Date.now() > end) failed('never'); else setTimeout(look, 20); }}; look(); }})"
        );
        assert_eq!(self.value(&wait), json!(true), "{expression}");
    }

    /// Opens the bench, and waits for its compiler.
    pub(super) fn bench(&mut self, hash: &str) {
        let address = self.on_disk(&format!("bench.html{hash}"));
        self.open(&address);
        self.until("document.getElementById('file').options.length > 0");
    }

    /// Replaces the text on the bench, as if it were pasted.
    pub(super) fn paste(&mut self, text: &str) {
        self.value(&format!(
            "{{ const field = document.getElementById('text'); field.value = {}; field.dispatchEvent(new InputEvent('input')); }}",
            json!(text)
        ));
    }

    /// Keeps a picture of the window, and returns it in base64.
    pub(super) fn screenshot(&mut self, name: &str) -> String {
        let picture = self.browser.call("Page.captureScreenshot", json!({ "format": "png" }));
        let picture = picture["data"].as_str().unwrap().to_owned();
        let bytes = data_encoding::BASE64.decode(picture.as_bytes()).unwrap();
        fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("site-{name}.png")), bytes).unwrap();
        picture
    }

    pub(super) fn size(&mut self, width: u32, height: u32) {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.browser.call("Emulation.setDeviceMetricsOverride", size);
    }
}
