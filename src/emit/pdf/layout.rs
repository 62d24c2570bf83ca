//! The rows of a card on paper: large times, a box before each thing to do, small cautions in two columns.

use std::collections::BTreeSet;

use super::super::card::{Block, Card, Place, Ready};
use super::Faces;
use super::document::Placed;
use super::flow::{Flow, Mark, Row, Styled};

/// How a card is set.
pub(super) struct Type {
    /// The width of a row, in points.
    pub(super) width: f32,
    /// The type size, in points.
    pub(super) size: f32,
    /// The number of columns of the cautions.
    pub(super) caution_columns: u8,
}

/// The rows of a card, its pictures last.
pub(super) fn rows(card: &Card, pictures: &[Placed<'_>], faces: &Faces, set: &Type) -> Vec<Row> {
    let flow = Flow { faces, width: set.width, rows: Vec::new() };
    let mut sheet = Sheet { flow, size: set.size };
    sheet.head(card, pictures);
    sheet.list("WARNINGS", &card.warnings, true);
    sheet.mix(&card.mix);
    sheet.load(card);
    sheet.work(card);
    sheet.list("AFTERWARDS", &card.afterwards, true);
    sheet.list("NOTES", &card.notes, false);
    sheet.cautions(card, usize::from(set.caution_columns));
    sheet.pictures(pictures);
    sheet.flow.rows
}

/// The least type size of cautions, in points, unless all text is smaller.
const SMALL: f32 = 4.5;
/// The distance of their lines, in their type size.
const LEADING: f32 = 1.18;
/// The lines of cautions that stay together.
const CAUTIONS_HIGH: usize = 40;

struct Sheet<'a> {
    flow: Flow<'a>,
    size: f32,
}

impl Sheet<'_> {
    fn plain<'t>(&self, text: &'t str) -> Styled<'t> {
        Styled { text, size: self.size, bold: false }
    }

    fn bold<'t>(&self, text: &'t str, times: f32) -> Styled<'t> {
        Styled { text, size: self.size * times, bold: true }
    }

    /// A box to tick at the left of a row.
    fn tick(&self) -> Mark {
        Mark::Box { x: 0.0, y: self.size, side: self.size * 0.72 }
    }

    fn indent(&self) -> f32 {
        self.size * 1.2
    }

    /// Adds plain text from the left edge on.
    fn paragraph(&mut self, text: &str) {
        let styled = self.plain(text);
        self.flow.wrapped(0.0, styled, Vec::new());
    }

    /// Adds plain text, indented.
    fn indented(&mut self, text: &str, before: Vec<Mark>) {
        let styled = self.plain(text);
        self.flow.wrapped(self.indent(), styled, before);
    }

    /// Adds plain text with a box to tick.
    fn ticked(&mut self, text: &str) {
        self.indented(text, vec![self.tick()]);
    }

    fn head(&mut self, card: &Card, pictures: &[Placed<'_>]) {
        let title = self.bold(&card.title, 1.5);
        self.flow.wrapped(0.0, title, Vec::new());
        let facts = card.facts.join(" · ");
        self.paragraph(&format!("{facts} · recipe {}", card.fingerprint));
        let missing = self.missing(card, pictures);
        if !missing.is_empty() {
            let named: Vec<String> =
                missing.iter().map(|letter| format!("U+{:04X}", u32::from(*letter))).collect();
            let text = format!("characters printed as an empty box: {}", named.join(", "));
            let styled = self.bold(&text, 1.0);
            self.flow.wrapped(0.0, styled, Vec::new());
        }
    }

    /// Every character of the card that the faces cannot show.
    fn missing(&self, card: &Card, pictures: &[Placed<'_>]) -> BTreeSet<char> {
        let work = card.work.iter().flat_map(|block| {
            let lines = block.lines.iter().map(|line| &line.what);
            block.bath.iter().chain([&block.name]).chain(&block.notes).chain(&block.cautions).chain(lines)
        });
        let mix = card.mix.iter().flat_map(|ready| [&ready.bath, &ready.steps, &ready.how]);
        let load = card.load.iter().flat_map(|place| [&place.label, &place.what]);
        let lists = card.facts.iter().chain(&card.warnings).chain(&card.notes).chain(&card.cautions);
        let all = [&card.title].into_iter().chain(work).chain(mix).chain(load).chain(lists);
        let drawn = pictures.iter().flat_map(Placed::texts);
        all.map(String::as_str).chain(drawn).flat_map(|text| self.flow.faces.regular.missing(text)).collect()
    }

    fn heading(&mut self, title: &str) {
        self.flow.gap(self.size * 0.5);
        self.flow.keep();
        let styled = self.bold(title, 0.9);
        self.flow.wrapped(0.0, styled, Vec::new());
        self.flow.keep();
    }

    fn list(&mut self, title: &str, items: &[String], ticked: bool) {
        if items.is_empty() {
            return;
        }
        self.heading(title);
        for item in items {
            let before = if ticked { vec![self.tick()] } else { Vec::new() };
            self.indented(item, before);
        }
    }

    fn mix(&mut self, mix: &[Ready]) {
        if mix.is_empty() {
            return;
        }
        self.heading("MIX");
        for ready in mix {
            let parts: Vec<String> =
                ready.parts.iter().map(|part| format!("{} {}", part.amount, part.what)).collect();
            let parts = if parts.is_empty() { String::new() } else { format!(": {}", parts.join(" + ")) };
            self.ticked(&format!("{}: {}, {}{parts}", ready.steps, ready.bath, ready.how));
        }
    }

    fn load(&mut self, card: &Card) {
        if card.load.is_empty() {
            return;
        }
        self.heading("LOAD");
        for Place { end, slots, label, what } in &card.load {
            let words = [*end, slots.as_str(), what.as_str(), label.as_str()];
            let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
            self.ticked(&words.join("  "));
        }
        card.lid.iter().for_each(|lid| self.indented(lid, Vec::new()));
    }

    fn work(&mut self, card: &Card) {
        self.heading("WORK");
        self.paragraph(card.clock);
        for block in &card.work {
            self.block(block);
        }
        let ends = card.total.wall.as_ref().map(|wall| format!("ends {wall}")).unwrap_or_default();
        self.titled("TOTAL", &card.total.time, &ends);
        self.indented(&card.total.besides.join(" · "), Vec::new());
    }

    fn block(&mut self, block: &Block) {
        let wall = block.wall.as_ref().map(|wall| format!(" · {wall}")).unwrap_or_default();
        self.titled(&block.name, &block.time, &format!("begins {}{wall}", block.begins));
        let bath = block.bath.iter().cloned();
        let cautions = block.cautions.iter().map(|caution| format!("caution: {caution}"));
        let notes = block.notes.iter().map(|note| format!("note: {note}"));
        for text in bath.chain(cautions).chain(notes) {
            self.indented(&text, Vec::new());
            self.flow.keep();
        }
        let times = block.lines.iter().map(|line| self.flow.wide(self.bold(&line.when, 1.1)));
        let widest = times.fold(0.0, f32::max);
        for line in &block.lines {
            let when = self.bold(&line.when, 1.1);
            let x = self.indent() + widest - self.flow.wide(when);
            let clock = Mark::Text { x, y: self.size, size: when.size, bold: true, text: line.when.clone() };
            let what = self.plain(&line.what);
            let before = vec![self.tick(), clock];
            self.flow.wrapped(self.indent() + widest + self.size * 0.6, what, before);
        }
    }

    /// Adds a rule, a name and a large time at the left, the clock times at the right.
    fn titled(&mut self, name: &str, time: &str, clocks: &str) {
        let (large, small) = (self.bold(time, 1.7), self.bold(name, 1.2));
        let right = self.plain(clocks);
        let (y, taken) = (large.size * 1.1, self.flow.wide(small) + self.size * 0.6);
        let at = self.flow.width - self.flow.wide(right);
        let text = |styled: Styled<'_>, x: f32| Mark::Text {
            x,
            y,
            size: styled.size,
            bold: styled.bold,
            text: styled.text.to_owned(),
        };
        let rule = Mark::Rule { x: 0.0, y: self.size * 0.2, width: self.flow.width };
        let end = taken + self.flow.wide(large);
        let mut marks = vec![rule];
        if end <= self.flow.width {
            marks.extend([text(small, 0.0), text(large, taken)]);
        } else {
            // A long name has rows of its own.
            self.flow.wrapped(0.0, small, std::mem::take(&mut marks));
            self.flow.keep();
            marks.push(text(large, 0.0));
        }
        let beside = end + self.size <= at;
        marks.extend(beside.then(|| text(right, at)));
        self.flow.rows.push(Row { height: large.size * 1.25, marks, keeps_next: true });
        if !beside && !right.text.is_empty() {
            self.flow.wrapped(self.indent(), right, Vec::new());
            self.flow.keep();
        }
    }

    fn cautions(&mut self, card: &Card, columns: usize) {
        self.heading("CAUTIONS");
        let size = (self.size * 0.78).max(SMALL.min(self.size));
        let wide = if columns < 2 { self.flow.width } else { (self.flow.width - size) / 2.0 };
        let mut lines = Vec::new();
        for caution in card.cautions.iter().map(String::as_str).chain([card.closing]) {
            let text = format!("– {caution}");
            lines.extend(self.flow.lines(Styled { text: &text, size, bold: false }, wide));
        }
        // Each column is read to its end, so a group has to fit on any page.
        let high = lines.len().div_ceil(columns).min(CAUTIONS_HIGH);
        for group in lines.chunks(high * columns) {
            let high = group.len().div_ceil(columns);
            let marks = group.chunks(high).zip(0_u8..).flat_map(|(lines, at)| {
                let x = f32::from(at) * (wide + size);
                lines.iter().zip(0_u8..).map(move |(text, row)| {
                    let y = size + f32::from(row) * size * LEADING;
                    Mark::Text { x, y, size, bold: false, text: text.clone() }
                })
            });
            let rows = group.iter().zip(0_u8..).take(high).map(|(_, row)| row + 1).max().unwrap_or(0);
            let height = f32::from(rows) * size * LEADING;
            self.flow.rows.push(Row { height, marks: marks.collect(), keeps_next: false });
        }
    }

    /// Adds pictures side by side if they fit, else one below the other.
    fn pictures(&mut self, pictures: &[Placed<'_>]) {
        let mut right = 0.0;
        for (number, picture) in pictures.iter().enumerate() {
            let beside = right > 0.0 && right + picture.width() <= self.flow.width;
            let mark = Mark::Picture { x: if beside { right } else { 0.0 }, number };
            match self.flow.rows.last_mut() {
                Some(row) if beside => {
                    row.height = row.height.max(picture.height());
                    row.marks.push(mark);
                }
                _ => {
                    right = 0.0;
                    self.flow.gap(self.size * 0.5);
                    let (height, marks) = (picture.height(), vec![mark]);
                    self.flow.rows.push(Row { height, marks, keeps_next: false });
                }
            }
            right += picture.width();
        }
    }
}
