//! The blocks of a document on paper.

use std::collections::BTreeSet;

use super::layout::{Mark, Sheet};
use super::writer::{Edge, written};
use super::{Paper, columns, faces};
use crate::emit::card::Place;
use crate::emit::document::{Align, Block, Bullet, Column, Document, Head, Section, Table};

impl Document {
    /// The document as PDF, on as many pages as it needs.
    pub fn pdf(&self, paper: Paper) -> Vec<u8> {
        let faces = faces();
        let (width, height) = paper.size();
        let margin = paper.margin();
        let mut sheet = Sheet::new(&faces, width - 2.0 * margin, paper.body());
        self.sections.iter().for_each(|section| sheet.section(section));
        let body = std::mem::take(&mut sheet.rows);
        let texts = body.iter().flat_map(|row| &row.marks).flat_map(Mark::texts);
        let head = self.facts.iter().chain([&self.title, &self.aside]).map(String::as_str);
        let letters = texts.chain(head).flat_map(str::chars);
        let missing: BTreeSet<char> = letters.filter(|letter| faces.regular.lacks(*letter)).collect();
        sheet.wrapped(0.0, &self.title, sheet.bold(1.7), Vec::new());
        let about: Vec<&str> = self.facts.iter().chain([&self.aside]).map(String::as_str).collect();
        let about: Vec<&str> = about.into_iter().filter(|text| !text.is_empty()).collect();
        if !about.is_empty() {
            sheet.paragraph(&about.join(" · "));
        }
        sheet.missing(&missing);
        sheet.rows.extend(body);
        let pages = columns(&sheet.rows, height - 2.0 * margin);
        let pages: Vec<Vec<_>> = pages.iter().map(|page| vec![(0.0, page)]).collect();
        written(&self.title, paper, Edge { margin, has_notes: false }, &pages, faces)
    }
}

impl Sheet<'_, '_> {
    fn section(&mut self, section: &Section) {
        let first = self.rows.len();
        match &section.head {
            Head::None => self.push(self.size * 0.5, Vec::new()),
            Head::Title(title) => self.heading(title),
            Head::Ruled(title, aside) => {
                self.push(self.size * 0.5, Vec::new());
                self.ruled(title, aside);
            }
            Head::Name(name, text) => {
                self.heading(name);
                self.paragraph(text);
                self.keep(true);
            }
        }
        section.blocks.iter().for_each(|block| self.block(block));
        // A load or a similar block stays on one page if it can.
        if matches!(section.head, Head::Ruled(..)) {
            self.rows.iter_mut().skip(first).for_each(|row| row.keeps_next = true);
            self.keep(false);
        }
    }

    fn ruled(&mut self, title: &str, aside: &str) {
        let font = self.bold(1.2);
        self.push(self.size * 0.4, vec![Mark::Rule { y: self.size * 0.2, width: self.width }]);
        self.keep(true);
        let at = self.width - self.wide(aside, self.plain());
        let beside = self.wide(title, font) + self.size <= at;
        let aside_mark = Mark::Text { x: at, y: font.size, font: self.plain(), text: aside.to_owned() };
        let before = if beside && !aside.is_empty() { vec![aside_mark] } else { Vec::new() };
        self.wrapped(0.0, title, font, before);
        self.keep(true);
        if !beside && !aside.is_empty() {
            self.paragraph(aside);
            self.keep(true);
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Paragraph(text) => self.paragraph(text),
            Block::Safety(lines) => self.safety(lines),
            Block::List(bullet, items) => {
                let sign = match bullet {
                    Bullet::Dash => "–",
                    Bullet::Warning => "!",
                };
                for item in items {
                    let font = if *bullet == Bullet::Warning { self.bold(1.0) } else { self.plain() };
                    let sign = Mark::Text { x: 0.0, y: self.size, font, text: sign.to_owned() };
                    self.wrapped(self.indent(), item, font, vec![sign]);
                }
            }
            Block::Named(pairs) => self.named(pairs),
            Block::Table(table) => self.table(table),
            Block::Rolls(places) => self.rolls(places),
        }
    }

    fn named(&mut self, pairs: &[(String, String)]) {
        let bold = self.bold(1.0);
        let names = pairs.iter().map(|(name, _)| self.wide(name, bold));
        let x = names.fold(self.size * 4.0, f32::max).min(self.width * 0.3) + self.size * 0.6;
        for (name, text) in pairs {
            if self.wide(name, bold) + self.size * 0.3 > x {
                self.wrapped(0.0, name, bold, Vec::new());
                self.keep(true);
                self.wrapped(x, text, self.plain(), Vec::new());
            } else {
                let name = Mark::Text { x: 0.0, y: self.size, font: bold, text: name.clone() };
                self.wrapped(x, text, self.plain(), vec![name]);
            }
        }
    }

    /// Adds the rolls of a load. Only those with a slot have a box to tick.
    fn rolls(&mut self, places: &[Place]) {
        let column = |is_bold| Column { title: "", align: Align::Left, is_bold };
        let row = |place: &Place| {
            vec![place.slots.clone(), place.label.clone(), place.what.clone(), place.end.to_owned()]
        };
        self.table(&Table {
            columns: [false, true, false, false].map(column).to_vec(),
            rows: places.iter().map(row).collect(),
            has_boxes: places.iter().any(|place| !place.slots.is_empty()),
            ..Table::default()
        });
    }
}
