//! Writes HTML. Tags are constants of the program. Text from a recipe is always escaped.

use std::fmt::Display;

use data_encoding::BASE64;
use sha2::{Digest, Sha256};

use crate::emit::picture::{Drawing, element};
use crate::emit::plain::{bound, escaped};

#[derive(Default)]
pub(super) struct Markup(String);

impl Markup {
    /// Adds a constant of the program, unchanged.
    pub(super) fn own(&mut self, markup: &'static str) {
        self.0.push_str(markup);
    }

    /// Adds any text, escaped. A number and its unit stay on one line.
    pub(super) fn text(&mut self, text: &str) {
        self.0.push_str(&escaped(&bound(text)));
    }

    /// Adds JSON inside a script element. It escapes `<`, which could end the element and is only in strings.
    pub(super) fn data(&mut self, json: &str) {
        self.0.push_str(&json.replace('<', "\\u003c"));
    }

    pub(super) fn picture(&mut self, drawing: &Drawing) {
        self.0.push_str(&element(drawing));
    }

    /// Adds an element with text in it. `tag` is its name and attributes.
    pub(super) fn element(&mut self, tag: &'static str, text: &str) {
        self.within(tag, |inside| inside.text(text));
    }

    pub(super) fn within(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.0.extend(["<", tag, ">"]);
        fill(self);
        self.0.extend(["</", tag.split(' ').next().unwrap_or(tag), ">"]);
    }

    /// Adds an element after a line ending.
    pub(super) fn line(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.own("\n");
        self.within(tag, fill);
    }

    pub(super) fn list(&mut self, tag: &'static str, items: impl IntoIterator<Item = impl Display>) {
        self.within(tag, |page| items.into_iter().for_each(|item| page.element("li", &item.to_string())));
    }
}

/// A whole page. Its Content Security Policy allows only this style and script, so that markup that is in it by
/// mistake can neither run nor load anything.
pub(super) fn document(
    title: &str,
    style: &'static str,
    script: &'static str,
    body: impl FnOnce(&mut Markup),
) -> String {
    let [allowed_style, allowed_script] =
        [style, script].map(|text| format!("'sha256-{}'", BASE64.encode(&Sha256::digest(text.as_bytes()))));
    let mut page = Markup::default();
    page.own(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"",
    );
    page.text(&format!(
        "default-src 'none'; style-src {allowed_style}; script-src {allowed_script}; base-uri 'none'; \
         form-action 'none'"
    ));
    page.own(
        "\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n",
    );
    page.element("title", title);
    page.0.extend(["\n<style>", style, "</style>\n</head>\n<body>\n"]);
    body(&mut page);
    page.0.extend(["\n<script>", script, "</script>\n</body>\n</html>\n"]);
    page.0
}

/// The style or script without indentation, blank lines and comments. No string may span lines.
pub(super) fn compact(text: &str) -> String {
    let is_comment = |line: &str| line.starts_with("//") || line.starts_with("/*") && line.ends_with("*/");
    let lines = text.lines().map(str::trim_start).filter(|line| !line.is_empty() && !is_comment(line));
    lines.flat_map(|line| [line, "\n"]).collect()
}
