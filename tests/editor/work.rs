//! The work after a change of a text, counted in files, and that the findings stay the same.

use std::cell::Cell;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use serde_json::{Value, json};
use wetside::check::{Checker, Levels, Work, check_all};
use wetside::editor::{Desk, serve};
use wetside::source::{Files, MemoryFiles, NotRead, Sources};

/// Checks two open texts, the second of which uses `c`; what was parsed and resolved for it. Fails unless the
/// findings are those of a first check.
fn done(checker: &mut Checker, [a, b, c]: [&str; 3]) -> (usize, usize) {
    let before = checker.work();
    let files = MemoryFiles::from([("c.wet", c)]);
    let laid = || {
        let mut sources = Sources::default();
        let roots = [sources.add("a.wet", a), sources.add("b.wet", b)];
        (sources, roots)
    };
    let (mut sources, roots) = laid();
    let again = checker.check(&mut sources, &roots, &files, &Levels::default());
    let (mut sources, roots) = laid();
    let (_, first) = check_all(&mut sources, &roots, &files, &Levels::default());
    assert_eq!(again, first);
    let Work { parsed, resolved } = checker.work();
    (parsed - before.parsed, resolved - before.resolved)
}

const A: &str = "wetside 1\n\nfilm ebb {\n    speeed    ISO 100\n}\n";
const B: &str = "wetside 1\n\nuse \"c.wet\"\n\nrecipe hang {\n    film      flood\n\n    dry {\n        time      3 h\n    }\n}\n";
const C: &str = "wetside 1\n\nfilm flood {\n    speed     ISO 400\n}\n";

/// At first all three; then `a`, which nothing else is connected with; then `c`, which `b` uses.
#[test]
fn only_changed_files_are_parsed_and_only_dependent_ones_resolved() {
    let mut checker = Checker::default();
    assert_eq!(done(&mut checker, [A, B, C]), (3, 3));
    assert_eq!(done(&mut checker, [A, B, C]), (0, 0));
    let mended = A.replace("speeed", "speed");
    assert_eq!(done(&mut checker, [&mended, B, C]), (1, 1));
    let without = C.replace("flood", "spring");
    assert_eq!(done(&mut checker, [&mended, B, &without]), (1, 2));
    assert_eq!(done(&mut checker, [&mended, B, C]), (1, 2));
}

/// Without its `use` line `b` is by itself, and `c` is not read.
#[test]
fn files_that_no_longer_use_each_other_are_resolved_apart() {
    let mut checker = Checker::default();
    done(&mut checker, [A, B, C]);
    let alone = B.replace("use \"c.wet\"\n", "\n");
    assert_eq!(done(&mut checker, [A, &alone, C]), (1, 1));
    assert_eq!(done(&mut checker, [A, B, C]), (2, 2));
}

/// The documents that a session laid out and checked, and the diagnostics that it published, each counted.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
struct Counts {
    laid: usize,
    checked: usize,
    published: usize,
}

/// Files below the root folder of the disk, none of which is written. It counts what it is asked for.
#[derive(Default)]
struct Counting {
    laid: Rc<Cell<usize>>,
    checked: Rc<Cell<usize>>,
}

impl Files for Counting {
    fn read(&self, _: &str) -> Result<String, NotRead> {
        Err(NotRead::Unreadable("there is no such file".to_owned()))
    }
}

impl Desk for Counting {
    fn lay(&mut self, path: &Path) -> String {
        self.laid.set(self.laid.get() + 1);
        path.strip_prefix("/").unwrap().display().to_string()
    }

    fn beside(&self, _: &str) -> Option<Vec<PathBuf>> {
        Some(Vec::new())
    }

    fn collections(&self, _: &str) -> Vec<String> {
        Vec::new()
    }

    fn take(&mut self, _: &Path) -> Option<String> {
        None
    }

    fn are_of_one_root(&self, _: &str, _: &str) -> bool {
        true
    }

    fn path(&self, name: &str) -> Option<PathBuf> {
        Some(Path::new("/").join(name))
    }

    /// A session asks for the severities of a document once in each check of it.
    fn levels(&mut self, _: &str) -> Result<Levels, String> {
        self.checked.set(self.checked.get() + 1);
        Ok(Levels::default())
    }
}

/// Counts the work of a session that opens these texts and then makes these changes.
fn counts(texts: &[(String, &str)], changes: &[(&str, &str)]) -> Counts {
    let framed = |message: &Value| {
        let body = message.to_string();
        format!("Content-Length: {}\r\n\r\n{body}", body.len())
    };
    let told = |method: &str, params: Value| {
        framed(&json!({ "jsonrpc": "2.0", "method": format!("textDocument/{method}"), "params": params }))
    };
    let mut input = framed(&json!({ "jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {} }));
    for (name, text) in texts {
        let document =
            json!({ "uri": format!("file:///{name}"), "languageId": "wetside", "version": 1, "text": text });
        input += &told("didOpen", json!({ "textDocument": document }));
    }
    for (name, text) in changes {
        let document = json!({ "uri": format!("file:///{name}"), "version": 2 });
        input +=
            &told("didChange", json!({ "textDocument": document, "contentChanges": [{ "text": text }] }));
    }
    input += &framed(&json!({ "jsonrpc": "2.0", "id": 2, "method": "shutdown" }));
    let (laid, checked) = (Rc::default(), Rc::default());
    let lend =
        || Box::new(Counting { laid: Rc::clone(&laid), checked: Rc::clone(&checked) }) as Box<dyn Desk>;
    let mut output = Vec::new();
    assert_eq!(serve(&mut input.as_bytes(), &mut output, &lend), Ok(true));
    let published = String::from_utf8(output).unwrap().matches("publishDiagnostics").count();
    Counts { laid: laid.get(), checked: checked.get(), published }
}

/// Of 53 open documents, one by itself changes; then the one that two others use.
#[test]
fn a_keystroke_checks_only_dependent_documents() {
    let mut texts: Vec<(String, &str)> = (0..50).map(|number| (format!("alone-{number}.wet"), A)).collect();
    let users = ["b.wet", "d.wet"].map(|name| (name.to_owned(), B));
    texts.extend(users);
    texts.push(("c.wet".to_owned(), C));
    let opened = counts(&texts, &[]);
    let after = |name: &str, text: String| {
        let Counts { laid, checked, published } = counts(&texts, &[(name, &text)]);
        (laid - opened.laid, checked - opened.checked, published - opened.published)
    };
    assert_eq!(after("alone-7.wet", A.replace("speeed", "speed")), (1, 1, 1));
    // Without the film, each of its users has an error.
    assert_eq!(after("c.wet", C.replace("flood", "spring")), (1, 3, 3));
    // One user is changed, so the other is checked with it, but its diagnostics stay as they are.
    assert_eq!(after("b.wet", B.replace("3 h", "4 h")), (1, 3, 1));
}
