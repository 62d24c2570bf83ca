//! A writer of HTML. Tags and attributes are the program's own; text from a recipe is always escaped.

use std::fmt::Display;

use data_encoding::BASE64;
use sha2::{Digest, Sha256};

use super::super::page::bound;
use super::super::picture::{Drawing, element};
use super::super::plain::escaped;

#[derive(Default)]
pub(super) struct Markup(String);

impl Markup {
    /// Adds the program's own markup unchanged.
    pub(super) fn own(&mut self, markup: &'static str) {
        self.0.push_str(markup);
    }

    /// Adds any text, escaped; no line breaks between a number and its unit.
    pub(super) fn text(&mut self, text: &str) {
        self.0.push_str(&escaped(&bound(text)));
    }

    /// Adds JSON to a data script. Only `<` could end the script, and JSON has it in strings only.
    pub(super) fn data(&mut self, json: &str) {
        self.0.push_str(&json.replace('<', "\\u003c"));
    }

    /// Adds a drawing, which escapes its own text.
    pub(super) fn picture(&mut self, drawing: &Drawing) {
        self.0.push_str(&element(drawing));
    }

    /// Adds an element that holds text. `tag` is its name and its attributes.
    pub(super) fn element(&mut self, tag: &'static str, text: &str) {
        self.within(tag, |inside| inside.text(text));
    }

    pub(super) fn within(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.0.extend(["<", tag, ">"]);
        fill(self);
        self.0.extend(["</", tag.split(' ').next().unwrap_or(tag), ">"]);
    }

    /// Adds an element with a line ending before it.
    pub(super) fn line(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.own("\n");
        self.within(tag, fill);
    }

    pub(super) fn list(&mut self, tag: &'static str, items: impl IntoIterator<Item = impl Display>) {
        self.within(tag, |page| items.into_iter().for_each(|item| page.element("li", &item.to_string())));
    }
}

/// A whole page, with a Content Security Policy that allows its own style and script and nothing else: markup that got
/// in by mistake could neither run nor load anything.
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

/// The text without indentation, blank lines and lines that are only a comment. No string of ours spans lines.
pub(super) fn compact(text: &str) -> String {
    let is_comment = |line: &str| line.starts_with("//") || line.starts_with("/*") && line.ends_with("*/");
    let lines = text.lines().map(str::trim_start).filter(|line| !line.is_empty() && !is_comment(line));
    lines.flat_map(|line| [line, "\n"]).collect()
}
