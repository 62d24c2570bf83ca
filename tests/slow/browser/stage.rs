//! The page of the README's card in a browser with a manual clock, which logs sounds, vibration and wake locks.

use std::fs;
use std::path::PathBuf;
use std::sync::{Mutex, MutexGuard, PoisonError};

use serde_json::{Value, json};

use super::chromium::Chromium;
use crate::evenings::shelf;
use crate::program::Run;

/// One browser at a time, because several at once wait for each other.
static TURN: Mutex<()> = Mutex::new(());

/// The clock is in the window's name, which survives a reload.
pub(super) const TRIAL: &str = r#"
    const began = 1800000000000;
    Date.now = () => began + Number(window.name);
    window.tones = [];
    window.buzzes = [];
    window.locks = { asked: 0, held: null };
    window.slept = 0;
    class Sound {
        get state() { return "running"; }
        get currentTime() { return Number(window.name) / 1000 - window.slept; }
        get destination() { return null; }
        resume() { return Promise.resolve(); }
        createGain() {
            const gain = { setValueAtTime() { }, linearRampToValueAtTime() { } };
            return { gain, connect: (to) => to };
        }
        createOscillator() {
            let pitch = 0;
            const frequency = { setValueAtTime(value) { pitch = value; }, linearRampToValueAtTime() { } };
            const tone = { frequency, connect: (to) => to, disconnect() { }, stop() { } };
            tone.start = (at) => window.tones.push([pitch, Math.round(at * 100) / 100]);
            return tone;
        }
    }
    window.AudioContext = Sound;
    navigator.vibrate = (pattern) => window.buzzes.push(pattern);
    Object.defineProperty(navigator, "wakeLock", { configurable: true, value: { request: async () => {
        window.locks.asked += 1;
        const lock = new EventTarget();
        lock.release = async () => { window.locks.held = null; lock.dispatchEvent(new Event("release")); };
        window.locks.held = lock;
        return lock;
    } } });
"#;

/// Holding takes no time: a test that holds a thousand times need not wait. `pass` advances the clock by seconds.
pub(super) const QUICK: &str = "
    window.quick = setTimeout;
    window.setTimeout = (work, after, ...more) => quick(work, after === 1000 ? 0 : after, ...more);
    window.pass = (seconds) => {
        window.name = String(Number(window.name) + seconds * 1000);
        dispatchEvent(new Event('pageshow'));
    };
";

/// Waits until the script of a card's page has asked whether another tab leads.
const BEGUN: &str = "new Promise((done) => {
    const open = document.getElementById('open');
    const isAsking = () => document.querySelector('#wrong button:not([hidden])') !== null;
    const wait = () => (open && open.hidden && !isAsking() ? setTimeout(wait, 10) : done(true));
    wait();
})";

/// The page, open.
pub(super) struct Stage {
    browser: Chromium,
    /// The file's address.
    address: String,
    run: Run,
    _turn: MutexGuard<'static, ()>,
}

/// The command of the README.
pub(super) fn readme_evening() -> Run {
    let call = ["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];
    shelf().args(call)
}

impl Stage {
    /// Opens the page in an unmodified browser; `None` without a browser.
    pub(super) fn untouched(run: Run) -> Option<Stage> {
        Stage::prepared(run, &[])
    }

    /// Opens the page with the manual clock.
    pub(super) fn on_trial() -> Option<Stage> {
        Stage::prepared(readme_evening(), &[TRIAL])
    }

    /// Opens the page with the manual clock, after running this script.
    pub(super) fn on_trial_after(script: &str) -> Option<Stage> {
        Stage::prepared(readme_evening(), &[TRIAL, script])
    }

    pub(super) fn prepared(run: Run, scripts: &[&str]) -> Option<Stage> {
        let run = run.args(["-o", "card.html"]);
        assert_eq!(run.succeeds(), "");
        Stage::opened(run, scripts)
    }

    /// Opens the page of a card that the program refuses.
    pub(super) fn refused(run: Run, scripts: &[&str]) -> Option<Stage> {
        let run = run.args(["-o", "card.html"]);
        assert_eq!(run.fails(1).0, "");
        Stage::opened(run, scripts)
    }

    fn opened(run: Run, scripts: &[&str]) -> Option<Stage> {
        let turn = TURN.lock().unwrap_or_else(PoisonError::into_inner);
        let mut browser = Chromium::start()?;
        let address = format!("file://{}", run.folder().join("card.html").display());
        for script in scripts {
            browser.call("Page.addScriptToEvaluateOnNewDocument", json!({ "source": script }));
        }
        browser.call("Page.navigate", json!({ "url": address }));
        browser.wait_for("Page.loadEventFired");
        let mut page = Stage { browser, address, run, _turn: turn };
        page.value(BEGUN);
        Some(page)
    }

    /// Opens the screen at the sink, and goes through what comes before the start.
    #[track_caller]
    pub(super) fn ready(&mut self) {
        self.press("begin");
        self.hold();
        self.hold();
        self.press("heard");
        assert_eq!(self.text("word"), "START");
    }

    /// Starts, and passes the count of five seconds.
    #[track_caller]
    pub(super) fn started(&mut self) {
        self.ready();
        self.hold();
        self.pass(5.0);
    }

    /// Holds the space bar for more than a second.
    #[track_caller]
    pub(super) fn hold(&mut self) {
        self.hold_for(1100);
    }

    /// Holds the space bar for some milliseconds.
    #[track_caller]
    pub(super) fn hold_for(&mut self, milliseconds: u32) {
        self.browser.call("Input.dispatchKeyEvent", json!({ "type": "keyDown", "key": " ", "text": " " }));
        self.value(&format!("new Promise((done) => setTimeout(done, {milliseconds}))"));
        self.browser.call("Input.dispatchKeyEvent", json!({ "type": "keyUp", "key": " " }));
        self.pass(0.0);
    }

    /// Opens the controls.
    #[track_caller]
    pub(super) fn controls(&mut self) {
        if self.value("document.getElementById('menu').hidden") == true {
            self.hold();
        } else {
            self.held("menu", 1100);
        }
        assert_eq!(self.value("document.getElementById('controls').hidden"), false);
    }

    /// The value of an expression in the page, evaluated as a user gesture.
    #[track_caller]
    pub(super) fn value(&mut self, expression: &str) -> Value {
        let asked = json!({
            "expression": expression, "returnByValue": true, "userGesture": true, "awaitPromise": true,
        });
        let answer = self.browser.call("Runtime.evaluate", asked);
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {}", answer["exceptionDetails"]);
        answer["result"]["value"].clone()
    }

    /// The text of the element with this id, with ordinary spaces.
    #[track_caller]
    pub(super) fn text(&mut self, id: &str) -> String {
        let text = self.value(&format!("document.getElementById('{id}').textContent"));
        text.as_str().unwrap().replace('\u{a0}', " ")
    }

    /// Presses the button with this id.
    #[track_caller]
    pub(super) fn press(&mut self, id: &str) {
        self.value(&format!("document.getElementById('{id}').click()"));
    }

    /// Holds the element with this id for some milliseconds.
    #[track_caller]
    pub(super) fn held(&mut self, id: &str, milliseconds: u32) {
        let middle = format!(
            "(() => {{ const box = document.getElementById('{id}').getBoundingClientRect();
                return [box.left + box.width / 2, box.top + box.height / 2]; }})()"
        );
        let middle = self.value(&middle);
        let mouse = |kind: &str| json!({ "type": kind, "x": middle[0], "y": middle[1], "button": "left", "clickCount": 1 });
        self.browser.call("Input.dispatchMouseEvent", mouse("mousePressed"));
        self.value(&format!("new Promise((done) => setTimeout(done, {milliseconds}))"));
        self.browser.call("Input.dispatchMouseEvent", mouse("mouseReleased"));
    }

    /// Presses a key.
    #[track_caller]
    pub(super) fn strike(&mut self, key: &str) {
        let text = if key == " " { " " } else { "" };
        let down = json!({ "type": "keyDown", "key": key, "text": text });
        self.browser.call("Input.dispatchKeyEvent", down);
        self.browser.call("Input.dispatchKeyEvent", json!({ "type": "keyUp", "key": key }));
    }

    /// Advances the clock by some seconds and updates the page.
    #[track_caller]
    pub(super) fn pass(&mut self, seconds: f64) {
        self.value(&format!(
            "window.name = String(Number(window.name) + {seconds} * 1000); dispatchEvent(new Event('pageshow'))"
        ));
    }

    /// Opens the page once more, in a second tab. All calls go to it from now on.
    #[track_caller]
    pub(super) fn second_tab(&mut self) {
        self.browser.open_tab();
        self.browser.call("Page.navigate", json!({ "url": self.address }));
        self.browser.wait_for("Page.loadEventFired");
    }

    /// Reloads the page, and waits until its script has begun.
    #[track_caller]
    pub(super) fn reload(&mut self) {
        self.reload_without_script();
        self.value(BEGUN);
    }

    /// Reloads a page whose script does not run.
    #[track_caller]
    pub(super) fn reload_without_script(&mut self) {
        self.browser.call("Page.reload", json!({}));
        self.browser.wait_for("Page.loadEventFired");
    }

    /// Closes the page, and opens it again after some seconds in which it did not run.
    #[track_caller]
    pub(super) fn reopen_after(&mut self, seconds: u32) {
        self.value(&format!(
            "for (let timer = 0; timer < 100000; timer += 1) clearInterval(timer);
             addEventListener('visibilitychange', (event) => event.stopImmediatePropagation(), true);
             window.name = String(Number(window.name) + {seconds} * 1000)"
        ));
        self.reload();
        self.pass(0.0);
    }

    /// Calls a method of the browser.
    #[track_caller]
    pub(super) fn browser(&mut self, method: &str, params: Value) -> Value {
        self.browser.call(method, params)
    }

    /// Another run of the program in the page's folder.
    pub(super) fn again(&self) -> Run {
        self.run.again()
    }

    /// The page's own bytes.
    pub(super) fn source(&self) -> String {
        fs::read_to_string(self.run.folder().join("card.html")).unwrap()
    }

    /// Prints the page on a sheet of this size in inches.
    #[track_caller]
    pub(super) fn printed(&mut self, (wide, high): (f64, f64)) -> Vec<u8> {
        let paper = json!({ "paperWidth": wide, "paperHeight": high });
        decoded(self.browser.call("Page.printToPDF", paper)["data"].as_str().unwrap())
    }

    /// Replaces the page's bytes.
    pub(super) fn write(&self, page: &str) {
        fs::write(self.run.folder().join("card.html"), page).unwrap();
    }

    /// Opens another page in place of this one, with nothing stored and the clock at its start.
    #[track_caller]
    pub(super) fn opens(&mut self, page: &str) {
        self.write(page);
        self.value("localStorage.clear(); window.name = '0'");
        self.reload();
    }

    /// Sets the size of the window and the colour scheme, and saves a screenshot.
    #[track_caller]
    pub(super) fn picture(&mut self, (width, height): (u32, u32), scheme: &str, name: &str) {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600 });
        self.browser.call("Emulation.setDeviceMetricsOverride", size);
        let feature = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        self.browser.call("Emulation.setEmulatedMedia", json!({ "features": feature }));
        self.value(
            "new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(1))))",
        );
        self.shot(&format!("{name}-{width}-{scheme}"));
    }

    /// Saves a screenshot of the page as it is.
    #[track_caller]
    pub(super) fn shot(&mut self, name: &str) {
        let taken = self.browser.call("Page.captureScreenshot", json!({ "format": "png" }));
        let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("browser");
        fs::create_dir_all(&folder).unwrap();
        let file = folder.join(format!("{name}.png"));
        fs::write(file, decoded(taken["data"].as_str().unwrap())).unwrap();
    }

    /// Panics if the page wrote to the console, violated its policy, or sent a request.
    #[track_caller]
    pub(super) fn was_quiet(&self) {
        let noise = ["Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded"];
        let mut opened = 0;
        for heard in self.browser.heard() {
            let method = heard["method"].as_str().unwrap_or("");
            assert!(!noise.contains(&method), "{heard}");
            if method == "Network.requestWillBeSent" {
                assert_eq!(heard["params"]["request"]["url"], self.address.as_str(), "{heard}");
                opened += 1;
            }
        }
        assert!(0 < opened, "not even the page was asked for, so nothing was listened to");
    }
}

/// The bytes of a base64 text.
pub(super) fn decoded(text: &str) -> Vec<u8> {
    data_encoding::BASE64.decode(text.as_bytes()).unwrap()
}
