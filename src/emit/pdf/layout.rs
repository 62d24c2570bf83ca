//! The rows of a card on paper: large times, a box to tick before each instruction, small cautions.

use std::collections::BTreeSet;

use super::Faces;
use super::writer::Placed;
use crate::compile::{SAFETY_HEADING, SafetyLine};
use crate::emit::card::{Card, Place, Ready, StepText};
use crate::emit::plain::{broken, joined};

/// Something to draw; its position is in points from the row's left edge and top.
pub(super) enum Mark<'a> {
    Text {
        x: f32,
        y: f32,
        font: Font,
        text: String,
    },
    Box {
        x: f32,
        y: f32,
        side: f32,
    },
    /// A line to cut along, around this rectangle.
    Frame {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
    },
    Rule {
        y: f32,
        width: f32,
    },
    Picture {
        x: f32,
        picture: Placed<'a>,
    },
}

impl Mark<'_> {
    pub(super) fn texts(&self) -> Vec<&str> {
        match self {
            Mark::Text { text, .. } => vec![text],
            Mark::Picture { picture, .. } => picture.texts().collect(),
            Mark::Box { .. } | Mark::Frame { .. } | Mark::Rule { .. } => Vec::new(),
        }
    }
}

/// Marks that stay together on one page.
pub(super) struct Row<'a> {
    pub(super) height: f32,
    pub(super) marks: Vec<Mark<'a>>,
    /// Whether the next row must be on the same page.
    pub(super) keeps_next: bool,
}

#[derive(Clone, Copy)]
pub(super) struct Font {
    pub(super) size: f32,
    pub(super) bold: bool,
}

/// The rows of a card in a column of this width and type size. Cautions have `columns` columns, or are on the back if
/// there are none.
pub(super) fn rows<'a>(
    card: &Card,
    pictures: &[Placed<'a>],
    faces: &Faces,
    (width, size): (f32, f32),
    columns: usize,
) -> Vec<Row<'a>> {
    let mut sheet = Sheet::new(faces, width, size);
    sheet.safety(&card.safety);
    sheet.list("WARNINGS", &card.warnings, true);
    sheet.list("ADVICE", &card.advice, false);
    sheet.mix(&card.mix);
    sheet.load(card);
    sheet.work(card);
    sheet.list("AFTERWARDS", &card.afterwards, true);
    sheet.list("NOTES", &card.notes, false);
    if columns > 0 {
        sheet.cautions(card, columns);
    }
    sheet.pictures(pictures);
    let body = std::mem::take(&mut sheet.rows);
    let texts = body.iter().flat_map(|row| &row.marks).flat_map(Mark::texts);
    let head = card.facts.iter().chain(&card.first_aid).chain([&card.title]).map(String::as_str);
    let letters = texts.chain(head).flat_map(str::chars);
    sheet.head(card, &letters.filter(|letter| faces.regular.lacks(*letter)).collect());
    sheet.rows.extend(body);
    sheet.rows
}

/// The rows of the back of the sheet, in a column of this width and type size: first aid, then the cautions if the front
/// has no space for them.
pub(super) fn back<'a>(
    card: &Card,
    has_cautions: bool,
    faces: &Faces,
    (width, size): (f32, f32),
) -> Vec<Row<'a>> {
    let mut sheet = Sheet::new(faces, width, size);
    sheet.list("FIRST AID", &card.first_aid, false);
    if has_cautions {
        sheet.cautions(card, 1);
    }
    sheet.rows
}

/// The height of a row with type of size 1.
const LEADING: f32 = 1.22;
/// The height of a line of cautions with type of size 1.
const CAUTIONS_LEADING: f32 = 1.18;
/// The least type size of cautions, in points, unless all text is smaller.
const SMALL: f32 = 4.5;
/// The most lines of cautions in a column of one page.
const CAUTIONS_HIGH: usize = 40;

/// The rows that were added.
pub(super) struct Sheet<'a, 'f> {
    faces: &'f Faces,
    pub(super) width: f32,
    pub(super) size: f32,
    pub(super) rows: Vec<Row<'a>>,
}

impl<'a, 'f> Sheet<'a, 'f> {
    /// A sheet without rows, for a column of this width and this type size.
    pub(super) fn new(faces: &'f Faces, width: f32, size: f32) -> Sheet<'a, 'f> {
        Sheet { faces, width, size, rows: Vec::new() }
    }

    pub(super) fn plain(&self) -> Font {
        Font { size: self.size, bold: false }
    }

    pub(super) fn bold(&self, times: f32) -> Font {
        Font { size: self.size * times, bold: true }
    }

    pub(super) fn tick(&self) -> Mark<'a> {
        Mark::Box { x: 0.0, y: self.size, side: self.size * 0.72 }
    }

    pub(super) fn leading(&self) -> f32 {
        self.size * LEADING
    }

    pub(super) fn indent(&self) -> f32 {
        self.size * 1.2
    }

    pub(super) fn wide(&self, text: &str, font: Font) -> f32 {
        let face = if font.bold { &self.faces.bold } else { &self.faces.regular };
        face.width(text, font.size)
    }

    pub(super) fn lines(&self, text: &str, font: Font, width: f32) -> Vec<String> {
        broken(text, |line| self.wide(line, font) <= width)
    }

    /// Adds text, wrapped between `x` and the right edge. The marks `before` are on its first row.
    pub(super) fn wrapped(&mut self, x: f32, text: &str, font: Font, mut before: Vec<Mark<'a>>) {
        for text in self.lines(text, font, self.width - x) {
            let mut marks = std::mem::take(&mut before);
            marks.push(Mark::Text { x, y: font.size, font, text });
            self.push(font.size * LEADING, marks);
            self.keep(true);
        }
        self.keep(false);
    }

    pub(super) fn push(&mut self, height: f32, marks: Vec<Mark<'a>>) {
        self.rows.push(Row { height, marks, keeps_next: false });
    }

    /// Sets whether the next row must be on the same page as the last row added.
    pub(super) fn keep(&mut self, keeps_next: bool) {
        self.rows.iter_mut().rev().take(1).for_each(|last| last.keeps_next = keeps_next);
    }

    pub(super) fn paragraph(&mut self, text: &str) {
        self.wrapped(0.0, text, self.plain(), Vec::new());
    }

    pub(super) fn indented(&mut self, text: &str, is_ticked: bool) {
        let before = is_ticked.then(|| self.tick()).into_iter().collect();
        self.wrapped(self.indent(), text, self.plain(), before);
    }

    fn head(&mut self, card: &Card, missing: &BTreeSet<char>) {
        self.wrapped(0.0, &card.title, self.bold(1.5), Vec::new());
        self.paragraph(&format!("{} · recipe {}", card.facts.join(" · "), card.fingerprint));
        self.missing(missing);
    }

    /// Adds a line that names the characters printed as an empty box, if there are any.
    pub(super) fn missing(&mut self, missing: &BTreeSet<char>) {
        if !missing.is_empty() {
            let named = missing.iter().map(|letter| format!("U+{:04X}", u32::from(*letter)));
            let text = format!("characters printed as an empty box: {}", joined(named, ", "));
            self.wrapped(0.0, &text, self.bold(1.0), Vec::new());
        }
    }

    pub(super) fn heading(&mut self, title: &str) {
        self.push(self.size * 0.5, Vec::new());
        self.keep(true);
        self.wrapped(0.0, title, self.bold(1.1), Vec::new());
        self.keep(true);
    }

    /// Adds the safety block, with the word of each line in its own column.
    pub(super) fn safety(&mut self, lines: &[SafetyLine]) {
        let heading = SafetyLine { word: "SAFETY", text: SAFETY_HEADING.to_owned() };
        let (font, bold) = (self.plain(), self.bold(1.0));
        let entries = SafetyLine::entries(lines);
        let lines = || std::iter::once(&heading).chain(&entries);
        let x = lines().map(|line| self.wide(line.word, bold)).fold(0.0, f32::max) + self.size * 0.6;
        self.push(self.size * 0.5, Vec::new());
        for SafetyLine { word, text } in lines() {
            let word = Mark::Text { x: 0.0, y: font.size, font: bold, text: (*word).to_owned() };
            self.wrapped(x, text, font, vec![word]);
        }
    }

    fn list(&mut self, title: &str, items: &[String], is_ticked: bool) {
        if !items.is_empty() {
            self.heading(title);
            items.iter().for_each(|item| self.indented(item, is_ticked));
        }
    }

    fn mix(&mut self, mix: &[Ready]) {
        let line = |ready: &Ready| {
            let colon = if ready.parts.is_empty() { "" } else { ": " };
            let parts = joined(&ready.parts, " + ");
            format!("{}: {}, {}{colon}{parts}", ready.steps, ready.bath, ready.how)
        };
        self.list("MIX", &mix.iter().map(line).collect::<Vec<_>>(), true);
    }

    fn load(&mut self, card: &Card) {
        let line = |Place { end, slots, label, what }: &Place| {
            let words = [end, slots.as_str(), what, label];
            joined(words.into_iter().filter(|word| !word.is_empty()), "  ")
        };
        let first = card.try_first.iter().map(|test| format!("first, in room light, {test}"));
        self.list("LOAD", &first.chain(card.load.iter().map(line)).collect::<Vec<_>>(), true);
        card.lid.iter().filter(|_| !card.load.is_empty()).for_each(|lid| self.indented(lid, false));
    }

    fn work(&mut self, card: &Card) {
        self.heading("WORK");
        self.paragraph(card.clock);
        card.work.iter().for_each(|block| self.step(block));
        self.titled("TOTAL", &card.total.time, card.total.ends.as_deref().unwrap_or_default());
        self.indented(&card.total.besides.join(" · "), false);
    }

    fn step(&mut self, block: &StepText) {
        self.titled(&block.name, &block.time, &block.begins.join(" · "));
        let cautions = block.cautions.iter().map(|caution| format!("caution: {caution}"));
        let notes = block.notes.iter().map(|note| format!("note: {note}"));
        for text in block.bath.iter().cloned().chain(cautions).chain(notes) {
            self.indented(&text, false);
            self.keep(true);
        }
        let font = self.bold(1.1);
        let times = block.lines.iter().map(|line| self.wide(&line.when, font));
        let right = self.indent() + times.fold(0.0, f32::max);
        for line in &block.lines {
            let x = right - self.wide(&line.when, font);
            let clock = Mark::Text { x, y: self.size, font, text: line.when.clone() };
            self.wrapped(right + self.size * 0.6, &line.what, self.plain(), vec![self.tick(), clock]);
        }
    }

    /// Adds a ruled line, a name and a large time at the left, and the clock times at the right.
    fn titled(&mut self, name: &str, time: &str, clocks: &str) {
        let (small, large) = (self.bold(1.2), self.bold(1.7));
        let text = |x: f32, text: &str, font: Font| Mark::Text {
            x,
            y: large.size * 1.1,
            font,
            text: text.to_owned(),
        };
        let taken = self.wide(name, small) + self.size * 0.6;
        let end = taken + self.wide(time, large);
        let at = self.width - self.wide(clocks, self.plain());
        let mut marks = vec![Mark::Rule { y: self.size * 0.2, width: self.width }];
        if end <= self.width {
            marks.extend([text(0.0, name, small), text(taken, time, large)]);
        } else {
            // A name too long for one row has its own rows.
            self.wrapped(0.0, name, small, std::mem::take(&mut marks));
            self.keep(true);
            marks.push(text(0.0, time, large));
        }
        let beside = end + self.size <= at;
        marks.extend(beside.then(|| text(at, clocks, self.plain())));
        self.push(large.size * 1.25, marks);
        self.keep(true);
        if !beside && !clocks.is_empty() {
            self.indented(clocks, false);
            self.keep(true);
        }
    }

    fn cautions(&mut self, card: &Card, columns: usize) {
        self.heading("CAUTIONS");
        let size = (self.size * 0.78).max(SMALL.min(self.size));
        let font = Font { size, bold: false };
        let width = if columns < 2 { self.width } else { (self.width - size) / 2.0 };
        let lines = card.cautions.iter().map(|caution| format!("– {caution}"));
        let lines: Vec<String> = lines.flat_map(|line| self.lines(&line, font, width)).collect();
        // A group's columns are read before the next group, so a group must fit on a page.
        let high = lines.len().div_ceil(columns).min(CAUTIONS_HIGH);
        for group in lines.chunks(high * columns) {
            let (mut x, mut height, mut marks) = (0.0, 0.0_f32, Vec::new());
            for column in group.chunks(group.len().div_ceil(columns)) {
                let mut top = 0.0;
                for text in column {
                    marks.push(Mark::Text { x, y: top + size, font, text: text.clone() });
                    top += size * CAUTIONS_LEADING;
                }
                height = height.max(top);
                x += width + size;
            }
            self.push(height, marks);
        }
    }

    /// Adds pictures, side by side if they fit.
    fn pictures(&mut self, pictures: &[Placed<'a>]) {
        let mut right = 0.0;
        for picture in pictures.iter().copied() {
            match self.rows.last_mut() {
                Some(row) if right > 0.0 && right + picture.width() <= self.width => {
                    row.height = row.height.max(picture.height());
                    row.marks.push(Mark::Picture { x: right, picture });
                }
                _ => {
                    right = 0.0;
                    self.push(self.size * 0.5, Vec::new());
                    self.push(picture.height(), vec![Mark::Picture { x: 0.0, picture }]);
                }
            }
            right += picture.width();
        }
    }
}
