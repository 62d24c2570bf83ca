//! A PDF as another reader finds it: the tools of Debian's `poppler-utils`. Where they are missing, the test prints a
//! line that says so.

use std::path::Path;
use std::process::Command;

#[expect(clippy::print_stderr, reason = "a test that was left out says so")]
pub(crate) fn told(tool: &str, arguments: &[&str], file: &Path) -> Option<String> {
    let out = Command::new(tool).args(arguments).arg(file).arg("-").output();
    let Ok(out) = out else {
        eprintln!("not tried: there is no `{tool}` of poppler-utils here");
        return None;
    };
    Some(String::from_utf8(out.stdout).unwrap())
}

/// The words on the paper, a space between each two.
pub(crate) fn words(file: &Path) -> Option<String> {
    let text = told("pdftotext", &["-raw"], file)?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" "))
}

pub(crate) fn pages(bytes: &[u8]) -> usize {
    let kind: &[u8] = b"/Type /Page\n";
    bytes.windows(kind.len()).filter(|window| *window == kind).count()
}
