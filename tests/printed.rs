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

/// A word on paper: its page, and its left, upper, right and lower edge in points from the page's upper left corner.
#[derive(Debug, Clone)]
pub(crate) struct Word {
    pub(crate) page: usize,
    pub(crate) edges: [f64; 4],
    pub(crate) text: String,
}

/// The words with their places, and the width and height of each page.
pub(crate) fn places(file: &Path) -> Option<(Vec<[f64; 2]>, Vec<Word>)> {
    let text = told("pdftotext", &["-raw", "-bbox"], file)?;
    let value = |line: &str, name: &str| {
        let after = line.split_once(&format!("{name}=\"")).unwrap().1;
        after.split_once('"').unwrap().0.parse::<f64>().unwrap()
    };
    let (mut pages, mut words) = (Vec::new(), Vec::new());
    for line in text.lines() {
        if line.contains("<page ") {
            pages.push(["width", "height"].map(|name| value(line, name)));
        } else if line.contains("<word ") {
            let edges = ["xMin", "yMin", "xMax", "yMax"].map(|name| value(line, name));
            let text = line.split_once('>').unwrap().1.split_once("</word>").unwrap().0;
            let signs = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&amp;", "&")];
            let text =
                signs.into_iter().fold(text.to_owned(), |text, (sign, shown)| text.replace(sign, shown));
            words.push(Word { page: pages.len() - 1, edges, text });
        }
    }
    Some((pages, words))
}
