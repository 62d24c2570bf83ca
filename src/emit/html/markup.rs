//! A writer of HTML. Tags and attributes are the program's own; text from a recipe is always escaped.

use super::super::page::bound;
use super::super::picture::{Drawing, element};

/// A piece of a page.
#[derive(Default)]
pub(super) struct Markup {
    text: String,
}

impl Markup {
    /// Adds the program's own markup unchanged.
    pub(super) fn own(&mut self, markup: &'static str) {
        self.text.push_str(markup);
    }

    /// Adds several pieces of markup.
    pub(super) fn all(&mut self, pieces: [&'static str; 3]) {
        pieces.into_iter().for_each(|piece| self.own(piece));
    }

    /// Adds any text, escaped; no line breaks between a number and its unit.
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

    /// Adds JSON to a data script. Only `<` could end the script, and JSON has it in strings only.
    pub(super) fn data(&mut self, json: &str) {
        self.text.push_str(&json.replace('<', "\\u003c"));
    }

    /// Adds a drawing, which escapes its own text.
    pub(super) fn picture(&mut self, drawing: &Drawing) {
        self.text.push_str(&element(drawing));
    }

    /// Adds an element that holds text. `tag` is its name and its attributes.
    pub(super) fn element(&mut self, tag: &'static str, text: &str) {
        self.within(tag, |inside| inside.text(text));
    }

    /// Adds an element that holds others.
    pub(super) fn within(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.all(["<", tag, ">"]);
        fill(self);
        self.all(["</", tag.split(' ').next().unwrap_or(tag), ">"]);
    }

    /// Adds an element with a line ending before it.
    pub(super) fn line(&mut self, tag: &'static str, fill: impl FnOnce(&mut Markup)) {
        self.own("\n");
        self.within(tag, fill);
    }

    /// Adds a list.
    pub(super) fn list(&mut self, tag: &'static str, items: &[String]) {
        self.within(tag, |page| items.iter().for_each(|item| page.element("li", item)));
    }

    /// The markup written so far.
    pub(super) fn finish(self) -> String {
        self.text
    }
}
