//! A page of Markdown as plain text for a terminal.

use super::plain::wrap;

const COLUMNS: usize = 80;
/// The column at which text begins after a bold word such as `**What.**`.
const BESIDE: usize = 9;

/// The page as plain text. The Markdown may have one heading, code spans, fenced code, lists, links, and paragraphs
/// that begin with a bold sentence.
pub fn manual(markdown: &str) -> String {
    let mut page = Manual { out: String::new(), paragraph: String::new(), indent: 0 };
    let mut in_fence = false;
    for line in markdown.lines() {
        match (in_fence, line.strip_prefix("```")) {
            (true, Some(_)) => in_fence = false,
            (true, None) if line.is_empty() => page.out.push('\n'),
            (true, None) => page.out.push_str(&format!("{:1$}{line}\n", "", page.indent + 2)),
            (false, Some(mark)) => {
                page.paragraph(&title(mark));
                page.out.push('\n');
                in_fence = true;
            }
            (false, None) if line.is_empty() => page.end(),
            (false, None) if line.starts_with("- ") => page.item(line),
            (false, None) => {
                let gap = if page.paragraph.is_empty() { "" } else { " " };
                page.paragraph.push_str(&format!("{gap}{line}"));
            }
        }
    }
    page.end();
    page.out
}

/// The line to print above an example. The words after the opening fence of the example choose it.
fn title(mark: &str) -> String {
    match (mark, mark.strip_prefix("beside ")) {
        ("fires", _) => "This breaks the rule:".to_owned(),
        ("quiet", _) => "This keeps it:".to_owned(),
        (_, Some(file)) => format!("The file {file} beside it:"),
        _ => "For example:".to_owned(),
    }
}

struct Manual {
    out: String,
    paragraph: String,
    indent: usize,
}

impl Manual {
    fn item(&mut self, line: &str) {
        self.end();
        for (at, part) in wrap(line, COLUMNS.saturating_sub(self.indent + 2)).into_iter().enumerate() {
            let lead = if at == 0 { "" } else { "  " };
            self.out.push_str(&format!("{:1$}{lead}{part}\n", "", self.indent));
        }
    }

    fn end(&mut self) {
        let text = std::mem::take(&mut self.paragraph);
        if let Some(heading) = text.strip_prefix("# ") {
            self.out.push_str(&format!("{heading}\n"));
        } else if !text.is_empty() {
            self.paragraph(&text);
        }
    }

    /// Adds an empty line and a paragraph. A bold word such as `**What.**` at its start goes to the left of the text.
    fn paragraph(&mut self, text: &str) {
        let lead = text.strip_prefix("**").and_then(|text| text.split_once(".** "));
        let lead = lead.filter(|(word, _)| word.len() < BESIDE && !word.contains(' '));
        let (word, text) = lead.unwrap_or(("", text));
        if !word.is_empty() {
            self.indent = BESIDE;
        }
        if !self.out.is_empty() {
            self.out.push('\n');
        }
        let mut before = format!("{word:indent$}", indent = self.indent);
        for line in wrap(&bare(text), COLUMNS - self.indent) {
            self.out.push_str(&format!("{before}{}\n", line.replace('\u{a0}', " ")));
            before = " ".repeat(self.indent);
        }
    }
}

/// The text without the marks of Markdown. Code is in quotation marks, and of a link only the words remain.
fn bare(text: &str) -> String {
    let piece = |(at, piece): (usize, &str)| match at % 2 {
        0 => without_links(&piece.replace('*', "")),
        _ => format!("'{piece}'"),
    };
    text.split('`').enumerate().map(piece).collect()
}

fn without_links(text: &str) -> String {
    let mut parts = text.split('[');
    let mut out = parts.next().map(str::to_owned).unwrap_or_default();
    for part in parts {
        let link = part.split_once("](").and_then(|(words, rest)| Some((words, rest.split_once(')')?.1)));
        match link {
            Some((words, rest)) => out.push_str(&format!("{words}{rest}")),
            None => out.push_str(&format!("[{part}")),
        }
    }
    out
}
