//! The blocks of a document on paper.

use super::layout::{Font, LEADING, Mark, Sheet};
use super::writer::{Edge, written};
use super::{BODY, Paper, columns, faces};
use crate::emit::document::{Align, Block, Bullet, Column, Document, Head, Place, Section, Side, Table};
use crate::emit::link::Code;
use crate::source::Set;

/// A tenth of a millimetre, in points.
const TENTH: f32 = 7.2 / 25.4;
/// The height of a line at the foot of a page, in points.
const FOOT: f32 = BODY * 1.4;

impl Document {
    /// The document as PDF, on as many pages as it needs. The sections for the back of a sheet begin on a new page.
    pub fn pdf(&self, paper: Paper) -> Vec<u8> {
        let faces = faces();
        let (width, height) = paper.size();
        let margin = paper.margin();
        let foot = Sheet::new(&faces, width - 2.0 * margin, BODY).foot(&self.foot);
        let room = height - 2.0 * margin - foot.iter().map(|_| FOOT).sum::<f32>();
        let rows = |sides: &[Side]| {
            let mut sheet = Sheet::new(&faces, width - 2.0 * margin, BODY);
            (sheet.height, sheet.clock) = (room, paper.clock());
            for side in sides {
                let sections = self.sections.iter().filter(|section| section.side == *side);
                sections.for_each(|section| sheet.section(section));
            }
            sheet
        };
        let (mut front, back) = (rows(&[Side::Front]), rows(&[Side::BackTop, Side::Back]));
        let texts = front.rows.iter().chain(&back.rows).flat_map(|row| &row.marks).flat_map(Mark::texts);
        let head = self.facts.iter().chain([&self.title, &self.aside]).map(String::as_str);
        let letters = texts.chain(head).flat_map(str::chars);
        let missing: Set<char> = letters.filter(|letter| faces.regular.lacks(*letter)).collect();
        let body = std::mem::take(&mut front.rows);
        front.head(self, &missing);
        front.rows.extend(body);
        let (front, back) = (columns(&front.rows, room), columns(&back.rows, room));
        let fronts = front.len();
        let pages = front.iter().chain(&back).filter(|page| !page.is_empty());
        let pages: Vec<Vec<_>> = pages.map(|page| vec![(0.0, page)]).collect();
        let foot = Some((foot.as_slice(), fronts)).filter(|_| !self.foot.is_empty() || pages.len() > 1);
        written(&self.title, paper, Edge { margin, foot }, &pages, faces)
    }
}

impl<'a> Sheet<'a, '_> {
    /// The text for the foot of a page, in lines that leave room for the page number.
    fn foot(&self, text: &str) -> Vec<String> {
        self.lines(text, self.bold(1.0), self.width - self.wide("100 of 100", self.bold(1.0)) - self.size)
    }

    fn head(&mut self, document: &Document, missing: &Set<char>) {
        let (large, plain) = (self.bold(1.8), self.plain());
        let at = self.width - self.wide(&document.aside, plain);
        let beside = self.wide(&document.title, large) + self.size <= at;
        let aside = Mark::Text { x: at, y: large.size, font: plain, text: document.aside.clone() };
        self.wrapped(0.0, &document.title, large, Vec::new());
        if let Some(row) = self.rows.first_mut().filter(|_| beside) {
            row.marks.push(aside);
        }
        let beneath = Some(&document.aside).filter(|aside| !beside && !aside.is_empty());
        let about: Vec<&str> = document.facts.iter().chain(beneath).map(String::as_str).collect();
        if !about.is_empty() {
            self.wrapped(0.0, &about.join(" · "), self.bold(1.0), Vec::new());
        }
        self.missing(missing);
    }

    fn section(&mut self, section: &'a Section) {
        if section.blocks.is_empty() && matches!(section.head, Head::None) {
            return;
        }
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
        for (at, block) in section.blocks.iter().enumerate() {
            self.block(block);
            // A paragraph that introduces the next block is on the same page as that block.
            let introduces = at == 0 && section.blocks.len() > 1 && matches!(block, Block::Paragraph(_));
            if introduces || matches!(section.blocks.get(at + 1), Some(Block::Light(_))) {
                self.keep(true);
            }
        }
        // A section with a ruled head, such as a load, is on one page if it fits.
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

    fn block(&mut self, block: &'a Block) {
        match block {
            Block::Paragraph(text) => self.paragraph(text),
            Block::Safety(lines) => self.safety(lines),
            Block::List(bullet, items) => {
                for item in items {
                    let font = if *bullet == Bullet::Warning { self.bold(1.0) } else { self.plain() };
                    let sign = |text: &str| Mark::Text { x: 0.0, y: self.size, font, text: text.to_owned() };
                    let sign = match bullet {
                        Bullet::Dash => sign("–"),
                        Bullet::Warning => sign("!"),
                        Bullet::Box => self.tick(),
                    };
                    self.wrapped(self.indent(), item, font, vec![sign]);
                }
            }
            Block::Named(pairs) => self.named(pairs),
            Block::Table(table) => self.table(table),
            Block::Lines(lines) => lines.iter().for_each(|line| {
                let text = line.trim_start();
                let indents = u16::try_from((line.len() - text.len()) / 4).unwrap_or(0);
                self.wrapped(f32::from(indents) * self.indent(), text, self.plain(), Vec::new());
            }),
            Block::Baths(baths) => self.baths(baths),
            Block::Light(text) => self.band(text),
            Block::Step(step) => self.step(step),
            Block::Total(total) => self.total(total),
            Block::Figures(figures) => self.figures(&figures.iter().collect::<Vec<_>>()),
            Block::Stubs(stubs) => self.stubs(stubs),
            Block::Link(link) => self.link(link),
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

    fn link(&mut self, link: &str) {
        let font = Font { size: self.size * 0.8, bold: false };
        let code = Code::of(link).map(|code| (f32::from(code.width()) * TENTH, code));
        let x = code.as_ref().map_or(0.0, |(side, _)| side + self.size * 0.5);
        let mut marks: Vec<Mark<'a>> = Vec::new();
        let mut y = 0.0;
        for text in self.lines(link, font, (self.width - x).max(self.size)) {
            y += font.size * LEADING;
            marks.push(Mark::Text { x, y, font, text });
        }
        let side = code.as_ref().map_or(0.0, |(side, _)| *side);
        marks.extend(code.map(|(side, code)| Mark::Code { side, code }));
        self.push(side.max(y), marks);
    }

    /// Adds a table of rolls. It has boxes to tick if the rolls have slots in a tank.
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
