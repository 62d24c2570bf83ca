//! A headless Chromium, controlled through two pipes by its protocol: JSON messages, each ended by a NUL.

use std::env;
use std::ffi::OsStr;
use std::io::{self, BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{self, Receiver};
use std::thread;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

/// The longest wait for a response, generous for a busy machine.
const PATIENCE: Duration = Duration::from_secs(120);

/// Chromium reads from file descriptor 3 and writes to 4.
const PIPED: &str = r#"exec "$@" 3<&0 4>&1 </dev/null >/dev/null 2>&1"#;

/// A running browser with one page, which ends when this is dropped.
pub(super) struct Chromium {
    child: Child,
    to: ChildStdin,
    from: Receiver<Value>,
    sent: u64,
    session: Option<String>,
    heard: Vec<Value>,
    _profile: TempDir,
}

/// The path of Chromium, if it is installed.
fn program() -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    let folders: Vec<PathBuf> = env::split_paths(&path).collect();
    let names = ["chromium", "chromium-browser"].map(OsStr::new);
    folders.iter().flat_map(|folder| names.map(|name| folder.join(name))).find(|path| path.is_file())
}

impl Chromium {
    /// A browser with an empty page; without Chromium `None`, reported on standard error.
    pub(super) fn start() -> Option<Chromium> {
        let Some(program) = program() else {
            // Not with `eprintln!`, which a test captures.
            let said = b"SKIPPED: no chromium is installed, so no page was opened\n";
            io::stderr().write_all(said).unwrap();
            return None;
        };
        let profile = TempDir::new().unwrap();
        // The sandbox does not start for root. The browser opens only our own page.
        let mut child = Command::new("/bin/sh")
            .args(["-c", PIPED, "sh"])
            .arg(program)
            .args(["--headless", "--no-sandbox", "--remote-debugging-pipe", "--disable-gpu"])
            .args(["--disable-dev-shm-usage", "--no-first-run", "--disable-background-networking"])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .arg("about:blank")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (to, out) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
        let (send, from) = mpsc::channel();
        thread::spawn(move || {
            for message in BufReader::new(out).split(0) {
                let Ok(bytes) = message else { return };
                if send.send(serde_json::from_slice(&bytes).unwrap()).is_err() {
                    return;
                }
            }
        });
        let mut browser =
            Chromium { child, to, from, sent: 0, session: None, heard: Vec::new(), _profile: profile };
        browser.attach();
        Some(browser)
    }

    /// Opens another page in the same browser. All calls go to it from now on.
    pub(super) fn open_tab(&mut self) {
        self.session = None;
        self.attach();
    }

    fn attach(&mut self) {
        let target = self.call("Target.createTarget", json!({ "url": "about:blank" }));
        let session =
            self.call("Target.attachToTarget", json!({ "targetId": target["targetId"], "flatten": true }));
        self.session = Some(session["sessionId"].as_str().unwrap().to_owned());
        for part in ["Page", "Runtime", "Log", "Network"] {
            self.call(&format!("{part}.enable"), json!({}));
        }
    }

    /// Calls a method; returns its result.
    #[track_caller]
    pub(super) fn call(&mut self, method: &str, params: Value) -> Value {
        self.sent += 1;
        let mut message = json!({ "id": self.sent, "method": method, "params": params });
        if let Some(session) = &self.session {
            message["sessionId"] = json!(session);
        }
        self.to.write_all(message.to_string().as_bytes()).unwrap();
        self.to.write_all(&[0]).unwrap();
        loop {
            let answer = self.next(method);
            if answer["id"] == json!(self.sent) {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].clone();
            }
            self.heard.push(answer);
        }
    }

    /// Waits for this event.
    #[track_caller]
    pub(super) fn wait_for(&mut self, event: &str) {
        while !self.heard.iter().any(|heard| heard["method"] == event) {
            let heard = self.next(event);
            self.heard.push(heard);
        }
        self.heard.retain(|heard| heard["method"] != event);
    }

    #[track_caller]
    fn next(&self, for_what: &str) -> Value {
        self.from.recv_timeout(PATIENCE).unwrap_or_else(|fault| panic!("waiting for {for_what}: {fault}"))
    }

    /// All events, in order.
    pub(super) fn heard(&self) -> &[Value] {
        &self.heard
    }
}

/// Asks the browser to close, which also ends its child processes; waits for a limited time.
impl Drop for Chromium {
    fn drop(&mut self) {
        let close = json!({ "id": self.sent + 1, "method": "Browser.close" });
        let asked = self.to.write_all(format!("{close}\0").as_bytes());
        let until = Instant::now() + Duration::from_secs(10);
        while asked.is_ok() && Instant::now() < until {
            if let Ok(Some(_)) = self.child.try_wait() {
                return;
            }
            thread::sleep(Duration::from_millis(10));
        }
        drop(self.child.kill());
        drop(self.child.wait());
    }
}
