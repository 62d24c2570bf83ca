//! Style and script as a page carries them: a phone that loads the page has no use for what is there for
//! whoever reads these files.

/// The text without what indents its lines, and without the lines that are nothing but a comment. Neither ever
/// stands within a string of ours: none of them is longer than its line.
pub(super) fn lean(text: &str) -> String {
    let lines = text.lines().map(str::trim_start).filter(|line| !is_comment(line));
    lines.flat_map(|line| [line, "\n"]).collect()
}

fn is_comment(line: &str) -> bool {
    line.is_empty() || line.starts_with("//") || line.starts_with("/*") && line.ends_with("*/")
}
