//! What stands where on the paper: the times large, a box before each thing to do, the cautions small and
//! in two columns. Draws a [`Card`] and reckons nothing of it.

use std::collections::BTreeSet;

use super::super::card::{Block, Card, Place, Ready};
use super::face::Face;
use super::flow::{Flow, Mark, Row, Set};
use super::picture::Hung;

/// A card in rows of this width, its words this large, its cautions in so many columns, its pictures last.
pub(super) fn rows(
    (card, pictures): (&Card, &[Hung<'_>]),
    faces: (&Face, &Face),
    (width, size): (f32, f32),
    columns: u8,
) -> Vec<Row> {
    let flow = Flow { regular: faces.0, bold: faces.1, width, rows: Vec::new() };
    let mut sheet = Sheet { flow, size };
    sheet.head(card, pictures);
    sheet.list("WARNINGS", &card.warnings, true);
    sheet.mix(&card.mix);
    sheet.load(card);
    sheet.work(card);
    sheet.list("AFTERWARDS", &card.afterwards, true);
    sheet.list("NOTES", &card.notes, false);
    sheet.cautions(card, usize::from(columns));
    sheet.pictures(pictures);
    sheet.flow.rows
}

/// Cautions are not set smaller than this, in points, unless all is.
const SMALL: f32 = 4.5;
/// How far apart their lines are, in their size.
const LEADING: f32 = 1.18;
/// So many lines of them stay together.
const CAUTIONS_HIGH: usize = 40;

struct Sheet<'a> {
    flow: Flow<'a>,
    size: f32,
}

impl Sheet<'_> {
    fn plain<'t>(&self, text: &'t str) -> Set<'t> {
        Set { text, size: self.size, bold: false }
    }

    fn bold<'t>(&self, text: &'t str, times: f32) -> Set<'t> {
        Set { text, size: self.size * times, bold: true }
    }

    /// A box to tick at the left of a row.
    fn tick(&self) -> Mark {
        Mark::Box { x: 0.0, y: self.size, side: self.size * 0.72 }
    }

    fn indent(&self) -> f32 {
        self.size * 1.2
    }

    fn head(&mut self, card: &Card, pictures: &[Hung<'_>]) {
        let recipe = format!("recipe {}", card.fingerprint);
        let title = self.bold(&card.title, 1.5);
        self.flow.wrapped(0.0, title, Vec::new());
        let mut facts = card.facts.clone();
        facts.push(recipe);
        let facts = facts.join(" · ");
        let set = self.plain(&facts);
        self.flow.wrapped(0.0, set, Vec::new());
        let missing = self.missing(card, pictures);
        if !missing.is_empty() {
            let named: Vec<String> =
                missing.iter().map(|letter| format!("U+{:04X}", u32::from(*letter))).collect();
            let said = format!("not shown here, an empty box stands for each: {}", named.join(", "));
            let set = self.bold(&said, 1.0);
            self.flow.wrapped(0.0, set, Vec::new());
        }
    }

    /// Every letter of the card that neither face can show.
    fn missing(&self, card: &Card, pictures: &[Hung<'_>]) -> BTreeSet<char> {
        let work = card.work.iter().flat_map(|block| {
            let lines = block.lines.iter().map(|line| &line.what);
            block.bath.iter().chain([&block.name]).chain(&block.notes).chain(&block.cautions).chain(lines)
        });
        let mix = card.mix.iter().flat_map(|ready| [&ready.bath, &ready.steps, &ready.how]);
        let load = card.load.iter().flat_map(|place| [&place.label, &place.what]);
        let lists = card.facts.iter().chain(&card.warnings).chain(&card.notes).chain(&card.cautions);
        let all = [&card.title].into_iter().chain(work).chain(mix).chain(load).chain(lists);
        let drawn = pictures.iter().flat_map(Hung::words);
        all.map(String::as_str).chain(drawn).flat_map(|text| self.flow.regular.missing(text)).collect()
    }

    fn heading(&mut self, title: &str) {
        self.flow.gap(self.size * 0.5);
        self.flow.keep();
        let set = self.bold(title, 0.9);
        self.flow.wrapped(0.0, set, Vec::new());
        self.flow.keep();
    }

    fn list(&mut self, title: &str, items: &[String], ticked: bool) {
        if items.is_empty() {
            return;
        }
        self.heading(title);
        for item in items {
            let before = if ticked { vec![self.tick()] } else { Vec::new() };
            let set = self.plain(item);
            self.flow.wrapped(self.indent(), set, before);
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
            let said = format!("{}: {}, {}{parts}", ready.steps, ready.bath, ready.how);
            let set = self.plain(&said);
            self.flow.wrapped(self.indent(), set, vec![self.tick()]);
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
            let said = words.join("  ");
            let set = self.plain(&said);
            self.flow.wrapped(self.indent(), set, vec![self.tick()]);
        }
        if let Some(lid) = &card.lid {
            let set = self.plain(lid);
            self.flow.wrapped(self.indent(), set, Vec::new());
        }
    }

    fn work(&mut self, card: &Card) {
        self.heading("WORK");
        let clock = self.plain(card.clock);
        self.flow.wrapped(0.0, clock, Vec::new());
        for block in &card.work {
            self.block(block);
        }
        let ends = card.total.wall.as_ref().map(|wall| format!("ends {wall}")).unwrap_or_default();
        self.titled("TOTAL", &card.total.time, &ends);
        let besides = card.total.besides.join(" · ");
        let set = self.plain(&besides);
        self.flow.wrapped(self.indent(), set, Vec::new());
    }

    fn block(&mut self, block: &Block) {
        let wall = block.wall.as_ref().map(|wall| format!(" · {wall}")).unwrap_or_default();
        self.titled(&block.name, &block.time, &format!("begins {}{wall}", block.begins));
        let bath = block.bath.iter().cloned();
        let cautions = block.cautions.iter().map(|caution| format!("caution: {caution}"));
        let notes = block.notes.iter().map(|note| format!("note: {note}"));
        for text in bath.chain(cautions).chain(notes) {
            let set = self.plain(&text);
            self.flow.wrapped(self.indent(), set, Vec::new());
            self.flow.keep();
        }
        let times = block.lines.iter().map(|line| self.flow.wide(self.bold(&line.when, 1.1)));
        let widest = times.fold(0.0, f32::max);
        for line in &block.lines {
            let when = self.bold(&line.when, 1.1);
            let x = self.indent() + widest - self.flow.wide(when);
            let clock = Mark::Words { x, y: self.size, size: when.size, bold: true, text: line.when.clone() };
            let set = self.plain(&line.what);
            let before = vec![self.tick(), clock];
            self.flow.wrapped(self.indent() + widest + self.size * 0.6, set, before);
        }
    }

    /// A rule, a name and a large time at the left, the clocks at the right.
    fn titled(&mut self, name: &str, time: &str, clocks: &str) {
        let (large, small) = (self.bold(time, 1.7), self.bold(name, 1.2));
        let right = self.plain(clocks);
        let (y, taken) = (large.size * 1.1, self.flow.wide(small) + self.size * 0.6);
        let at = self.flow.width - self.flow.wide(right);
        let words = |set: Set<'_>, x: f32| Mark::Words {
            x,
            y,
            size: set.size,
            bold: set.bold,
            text: set.text.to_owned(),
        };
        let rule = Mark::Rule { x: 0.0, y: self.size * 0.2, width: self.flow.width };
        let end = taken + self.flow.wide(large);
        let mut marks = vec![rule];
        if end <= self.flow.width {
            marks.extend([words(small, 0.0), words(large, taken)]);
        } else {
            // A long name takes rows of its own.
            self.flow.wrapped(0.0, small, std::mem::take(&mut marks));
            self.flow.keep();
            marks.push(words(large, 0.0));
        }
        let beside = end + self.size <= at;
        marks.extend(beside.then(|| words(right, at)));
        self.flow.rows.push(Row { height: large.size * 1.25, marks, keeps_next: true });
        if !beside && !right.text.is_empty() {
            self.flow.wrapped(self.indent(), right, Vec::new());
            self.flow.keep();
        }
    }

    fn cautions(&mut self, card: &Card, columns: usize) {
        self.heading("CAUTIONS");
        let size = (self.size * 0.78).max(SMALL.min(self.size));
        let wide = column(self.flow.width, columns, size);
        let mut lines = Vec::new();
        for caution in card.cautions.iter().map(String::as_str).chain([card.closing]) {
            let said = format!("– {caution}");
            lines.extend(self.flow.lines(Set { text: &said, size, bold: false }, wide));
        }
        // A column is read to its end, so each is drawn whole, and no higher than fits any page.
        let high = lines.len().div_ceil(columns).min(CAUTIONS_HIGH);
        for group in lines.chunks(high * columns) {
            let high = group.len().div_ceil(columns);
            let marks = group.chunks(high).zip(0_u8..).flat_map(|(lines, at)| {
                let x = f32::from(at) * (wide + size);
                lines.iter().zip(0_u8..).map(move |(text, row)| {
                    let y = size + f32::from(row) * size * LEADING;
                    Mark::Words { x, y, size, bold: false, text: text.clone() }
                })
            });
            let rows = group.iter().zip(0_u8..).take(high).map(|(_, row)| row + 1).max().unwrap_or(0);
            let height = f32::from(rows) * size * LEADING;
            self.flow.rows.push(Row { height, marks: marks.collect(), keeps_next: false });
        }
    }

    /// Pictures side by side where there is room for that, else one below the other.
    fn pictures(&mut self, pictures: &[Hung<'_>]) {
        let mut right = 0.0;
        for (number, picture) in pictures.iter().enumerate() {
            let beside = right > 0.0 && right + picture.width() <= self.flow.width;
            let mark = Mark::Picture { x: if beside { right } else { 0.0 }, number };
            match self.flow.rows.last_mut() {
                Some(row) if beside => {
                    row.height = row.height.max(picture.height());
                    row.marks.push(mark);
                }
                Some(_) | None => {
                    right = 0.0;
                    self.flow.gap(self.size * 0.5);
                    self.flow.rows.push(Row {
                        height: picture.height(),
                        marks: vec![mark],
                        keeps_next: false,
                    });
                }
            }
            right += picture.width();
        }
    }
}

/// How wide each of so many columns is, with this much between two.
fn column(width: f32, columns: usize, between: f32) -> f32 {
    if columns < 2 { width } else { (width - between) / 2.0 }
}
