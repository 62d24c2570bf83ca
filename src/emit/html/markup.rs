//! HTML as it is written. Tags and attributes are the program's own words, a stranger's text is only ever
//! text: there is no way from a title to a tag, nor into an attribute.

use super::super::page::bound;
use super::super::picture::{Drawing, element};
use super::policy::Policy;
use super::style::Style;

/// A piece of a page.
#[derive(Default)]
pub(super) struct Markup {
    text: String,
}

impl Markup {
    /// The program's own markup, as it is.
    pub(super) fn own(&mut self, markup: &'static str) {
        self.text.push_str(markup);
    }

    /// Any text, which stays one; no line ends between a number and its unit.
    pub(super) fn text(&mut self, text: &str) {
        for letter in bound(text).chars() {
            match letter {
                '&' => self.own("&amp;"),
                '<' => self.own("&lt;"),
                '>' => self.own("&gt;"),
                '"' => self.own("&quot;"),
                '\'' => self.own("&#39;"),
                letter => self.text.push(letter),
            }
        }
    }

    /// JSON within a script that does not run. Nothing can end that script but a `<`, and JSON can write it
    /// as an escape, since it only ever stands in a string.
    pub(super) fn data(&mut self, json: &str) {
        self.text.push_str(&json.replace('<', "\\u003c"));
    }

    /// The page's policy, as the element that sets it.
    pub(super) fn policy(&mut self, policy: &Policy) {
        self.own("<meta http-equiv=\"Content-Security-Policy\" content=\"");
        self.text(policy.text());
        self.own("\">");
    }

    /// The page's one style.
    pub(super) fn style(&mut self, style: &Style) {
        self.text.push_str("<style>");
        self.text.push_str(style.text());
        self.text.push_str("</style>");
    }

    /// A drawing, by its own rules, which let no title become a tag either.
    pub(super) fn picture(&mut self, drawing: &Drawing) {
        self.text.push_str(&element(drawing));
    }

    /// An element that holds a text. `tag` is its name, and its attributes if it has any.
    pub(super) fn element(&mut self, tag: &'static str, text: &str) {
        self.within(tag, |inside| inside.text(text));
    }

    /// An element that holds others.
    pub(super) fn within(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.text.push('<');
        self.text.push_str(tag);
        self.text.push('>');
        fill(self);
        self.text.push_str("</");
        self.text.push_str(tag.split(' ').next().unwrap_or(tag));
        self.text.push('>');
    }

    /// All that was written.
    pub(super) fn finish(self) -> String {
        self.text
    }
}
