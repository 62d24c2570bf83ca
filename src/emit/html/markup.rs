//! Writes HTML elements, and the whole page around them.

use std::fmt::Display;

use data_encoding::BASE64;
use sha2::{Digest, Sha256};

use crate::emit::link::Code;
use crate::emit::picture::{Drawing, element};
use crate::emit::plain::{bound, escaped};

/// HTML text to which elements are added. Tags are constants in the code. Text from a recipe is always escaped.
#[derive(Default)]
pub(super) struct Markup(pub(super) String);

impl Markup {
    pub(super) fn own(&mut self, markup: &'static str) {
        self.0.push_str(markup);
    }

    /// Adds escaped text. No line break separates a number from its unit.
    pub(super) fn text(&mut self, text: &str) {
        self.0.push_str(&escaped(&bound(text)));
    }

    /// Adds JSON inside a `script` element. `<` occurs only in strings; it is escaped, so that no text ends the
    /// element.
    pub(super) fn data(&mut self, json: &str) {
        self.0.push_str(&json.replace('<', "\\u003c"));
    }

    pub(super) fn picture(&mut self, drawing: &Drawing) {
        self.0.push_str(&element(drawing));
    }

    /// Adds a QR code, black on white in every colour scheme.
    pub(super) fn code(&mut self, code: &Code) {
        let side = code.side;
        let wide = format!("{}.{}mm", code.width() / 10, code.width() % 10);
        let dark = code.dark.iter().map(|[x, y, count]| format!("M{x} {y}h{count}v1h-{count}z"));
        let dark: String = dark.collect();
        self.0.push_str(&format!(
            "<svg viewBox=\"0 0 {side} {side}\" width=\"{wide}\" height=\"{wide}\" role=\"img\" \
             aria-label=\"QR code of the link\" shape-rendering=\"crispEdges\">\
             <path fill=\"#fff\" d=\"M0 0h{side}v{side}h-{side}z\"/><path fill=\"#000\" d=\"{dark}\"/></svg>"
        ));
    }

    /// Adds an element. `tag` is its name with its attributes: `p class="late"`.
    pub(super) fn element(&mut self, tag: &'static str, text: &str) {
        self.within(tag, |inside| inside.text(text));
    }

    pub(super) fn within(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.0.extend(["<", tag, ">"]);
        fill(self);
        self.0.extend(["</", tag.split(' ').next().unwrap_or(tag), ">"]);
    }

    /// Adds an element on a new line.
    pub(super) fn line(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.own("\n");
        self.within(tag, fill);
    }

    pub(super) fn list(&mut self, tag: &'static str, items: impl IntoIterator<Item = impl Display>) {
        self.within(tag, |page| items.into_iter().for_each(|item| page.element("li", &item.to_string())));
    }
}

/// The style sheet or the script of a page.
pub(super) struct Part {
    pub(super) text: String,
    /// The hash of the text, for the Content Security Policy that allows it: `'sha256-…'`.
    pub(super) hash: String,
}

impl Part {
    pub(super) fn of(text: String) -> Part {
        let hash = format!("'sha256-{}'", BASE64.encode(&Sha256::digest(text.as_bytes())));
        Part { text, hash }
    }
}

/// A whole page. Its Content Security Policy allows only this style and this script.
pub(super) fn page(title: &str, style: &Part, script: &Part, body: impl FnOnce(&mut Markup)) -> String {
    let mut page = Markup::default();
    page.own(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"",
    );
    page.text(&format!(
        "default-src 'none'; style-src {}; script-src {}; base-uri 'none'; form-action 'none'",
        style.hash, script.hash
    ));
    page.own(
        "\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n",
    );
    page.element("title", title);
    page.0.extend(["\n<style>", &style.text, "</style>\n</head>\n<body>\n"]);
    body(&mut page);
    page.0.extend(["\n<script>", &script.text, "</script>\n</body>\n</html>\n"]);
    page.0
}

/// The style sheet or script without indentation, blank lines, comments and some line endings. No string in `text` may
/// span lines, because its indentation would be lost.
pub(super) fn compact(text: &str) -> String {
    let is_comment = |line: &str| line.starts_with("//") || line.starts_with("/*") && line.ends_with("*/");
    let lines = text.lines().map(str::trim_start).filter(|line| !line.is_empty() && !is_comment(line));
    lines.flat_map(|line| [line, if line.ends_with(['{', ',', ';', '(', '[']) { "" } else { "\n" }]).collect()
}
