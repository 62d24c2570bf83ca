//! A headless Firefox, controlled by its own protocol, Marionette: JSON messages over a socket, each after its length
//! and a colon.

use std::io::{self, BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use std::{env, fs, thread};

use serde_json::{Value, json};
use tempfile::TempDir;

/// The longest wait for the start or for a response, generous for a busy machine.
const PATIENCE: Duration = Duration::from_secs(120);

/// A running browser with one page, which ends when this is dropped.
pub(super) struct Firefox {
    child: Child,
    to: TcpStream,
    from: BufReader<TcpStream>,
    sent: u64,
    profile: TempDir,
}

/// The path of Firefox, if it is installed.
fn program() -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    let folders: Vec<PathBuf> = env::split_paths(&path).collect();
    let named = |folder: &PathBuf| ["firefox-esr", "firefox"].map(|name| folder.join(name));
    folders.iter().flat_map(named).find(|path| path.is_file())
}

impl Firefox {
    /// A browser with an empty page; without Firefox `None`, reported on standard error.
    pub(super) fn start() -> Option<Firefox> {
        let Some(program) = program() else {
            io::stderr().write_all(b"SKIPPED: no firefox is installed, so no page was opened\n").unwrap();
            return None;
        };
        let profile = TempDir::new().unwrap();
        let saved = profile.path().join("saved");
        fs::create_dir(&saved).unwrap();
        // Any free port, which Firefox writes into a file of its profile; and a folder for what a page saves.
        let settings = [
            ("marionette.port", json!(0)),
            ("browser.download.folderList", json!(2)),
            ("browser.download.dir", json!(saved.to_str().unwrap())),
            ("browser.download.always_ask_before_handling_new_types", json!(false)),
        ];
        let settings = settings.map(|(name, value)| format!("user_pref({}, {value});\n", json!(name)));
        fs::write(profile.path().join("user.js"), settings.concat()).unwrap();
        let child = Command::new(program)
            .args(["--headless", "--marionette", "--no-remote", "--profile"])
            .arg(profile.path())
            .env("HOME", profile.path())
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let to = connected(&profile.path().join("MarionetteActivePort"));
        to.set_read_timeout(Some(PATIENCE)).unwrap();
        let from = BufReader::new(to.try_clone().unwrap());
        let mut browser = Firefox { child, to, from, sent: 0, profile };
        // The first message is a greeting.
        browser.next();
        browser.call("WebDriver:NewSession", json!({ "capabilities": {} }));
        Some(browser)
    }

    /// Calls a command; returns its result.
    #[track_caller]
    pub(super) fn call(&mut self, command: &str, parameters: Value) -> Value {
        self.sent += 1;
        let message = json!([0, self.sent, command, parameters]).to_string();
        write!(self.to, "{}:{message}", message.len()).unwrap();
        let answer = self.next();
        assert_eq!((&answer[0], &answer[1]), (&json!(1), &json!(self.sent)), "{answer}");
        assert!(answer[2].is_null(), "{command}: {}", answer[2]);
        answer[3].clone()
    }

    fn next(&mut self) -> Value {
        let mut length = Vec::new();
        self.from.read_until(b':', &mut length).unwrap();
        let length = std::str::from_utf8(&length).unwrap().trim_end_matches(':').parse().unwrap();
        let mut message = vec![0; length];
        self.from.read_exact(&mut message).unwrap();
        serde_json::from_slice(&message).unwrap()
    }

    pub(super) fn open(&mut self, address: &str) {
        // Another page first, because an address that differs only after `#` is not loaded again.
        self.call("WebDriver:Navigate", json!({ "url": "about:blank" }));
        self.call("WebDriver:Navigate", json!({ "url": address }));
    }

    /// The value of an expression. It sees the document, but none of the page's own names.
    #[track_caller]
    pub(super) fn value(&mut self, expression: &str) -> Value {
        let script = json!({ "script": format!("return {expression};"), "args": [] });
        self.call("WebDriver:ExecuteScript", script)["value"].clone()
    }

    /// Waits until an expression is true.
    #[track_caller]
    pub(super) fn until(&mut self, expression: &str) {
        let end = Instant::now() + PATIENCE;
        while self.value(&format!("Boolean({expression})")) != json!(true) {
            assert!(Instant::now() < end, "never: {expression}");
            thread::sleep(Duration::from_millis(50));
        }
    }

    /// The file of this name that a page saved, which is then removed.
    #[track_caller]
    pub(super) fn saved(&self, name: &str) -> String {
        let path = self.profile.path().join("saved").join(name);
        let part = path.with_file_name(format!("{name}.part"));
        let end = Instant::now() + PATIENCE;
        loop {
            let text = fs::read_to_string(&path).unwrap_or_default();
            if !text.is_empty() && !part.exists() {
                fs::remove_file(&path).unwrap();
                return text;
            }
            assert!(Instant::now() < end, "{name} was not saved");
            thread::sleep(Duration::from_millis(50));
        }
    }

    pub(super) fn screenshot(&mut self, file: &Path) {
        let picture = self.call("WebDriver:TakeScreenshot", json!({ "full": false }));
        let bytes = data_encoding::BASE64.decode(picture["value"].as_str().unwrap().as_bytes()).unwrap();
        fs::write(file, bytes).unwrap();
    }
}

/// A connection to the port in this file, which the browser writes when it is ready.
fn connected(file: &Path) -> TcpStream {
    let end = Instant::now() + PATIENCE;
    loop {
        let port = fs::read_to_string(file).ok().and_then(|text| text.trim().parse::<u16>().ok());
        if let Some(stream) = port.and_then(|port| TcpStream::connect(("127.0.0.1", port)).ok()) {
            return stream;
        }
        assert!(Instant::now() < end, "firefox did not start");
        thread::sleep(Duration::from_millis(50));
    }
}

/// Asks the browser to quit, which also ends its child processes; waits for a limited time.
impl Drop for Firefox {
    fn drop(&mut self) {
        let message = json!([0, self.sent + 1, "Marionette:Quit", { "flags": ["eForceQuit"] }]).to_string();
        let asked = write!(self.to, "{}:{message}", message.len());
        let end = Instant::now() + Duration::from_secs(10);
        while asked.is_ok() && Instant::now() < end {
            if let Ok(Some(_)) = self.child.try_wait() {
                return;
            }
            thread::sleep(Duration::from_millis(10));
        }
        drop(self.child.kill());
        drop(self.child.wait());
    }
}
