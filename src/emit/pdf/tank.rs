//! The blocks of a card that only a session has, on paper: bottles in the order of pouring, steps as rows that no page
//! break divides, slips to cut off.

use super::layout::{Font, Mark, Sheet};
use super::writer::Placed;
use crate::emit::document::{Cell, Figure, Marks, Ready, StepText, Stub, Total};
use crate::emit::plain::joined;

/// The least widths of a column for a bottle and of a cell, as multiples of the type size.
const BOTTLE: f32 = 10.4;
const CELL: f32 = 6.2;
/// The factors to try, by which a cell that lists several times is wider than [`CELL`].
const MARKS_WIDE: [f32; 4] = [3.1, 2.6, 2.1, 1.6];
/// The width of a step's name and time if they are beside the cells, as a multiple of the type size.
const NAME: f32 = 10.6;
/// The least width of a sheet on which names are beside the cells, as a multiple of the type size.
const BESIDE: f32 = 46.0;
/// The space between two times in a list: a thin space and a normal one.
const BETWEEN_MARKS: &str = "\u{2009} ";
/// The type size in pictures that are side by side, in points.
const PICTURE: f32 = 8.0;
/// The least width of a slip, as a multiple of the type size.
const STUB: f32 = 17.5;

type Piece = (Font, String);

/// A column of text lines. Its width is in points.
struct Stack {
    width: f32,
    pieces: Vec<Piece>,
    has_box: bool,
}

impl<'a> Sheet<'a, '_> {
    /// Adds the line about light: white on black, because it must be found in poor light.
    pub(super) fn band(&mut self, text: &str) {
        let font = self.bold(1.1);
        for text in self.lines(text, font, self.width - font.size) {
            let width = self.wide(&text, font) + font.size * 0.6;
            self.push(font.size * 1.45, vec![Mark::Band { y: font.size * 0.1, width, font, text }]);
            self.keep(true);
        }
        self.keep(false);
    }

    /// Adds the bottles in the order of pouring, side by side, each with a box to tick.
    pub(super) fn baths(&mut self, baths: &[Ready]) {
        let columns = self.columns(BOTTLE).min(u8::try_from(baths.len().max(1)).unwrap_or(u8::MAX));
        let width = self.width / f32::from(columns);
        let stack = |(number, ready): (usize, &Ready)| {
            let (bold, plain) = (self.bold(1.1), self.plain());
            let mut pieces =
                self.pieces(&format!("{number} {}", ready.steps), bold, width - self.indent() * 2.0);
            let parts = ready.parts.iter().enumerate();
            let part = |(at, part): (usize, &dyn std::fmt::Display)| {
                format!("{}{part}", if at == 0 { "" } else { "+ " })
            };
            let parts: Vec<String> = parts.map(|(at, own)| part((at, own))).collect();
            let colon = if parts.is_empty() { "" } else { ":" };
            for text in [ready.bath.clone(), format!("{}{colon}", ready.how)] {
                pieces.extend(self.pieces(&text, plain, width - self.size));
            }
            parts.iter().for_each(|text| pieces.extend(self.pieces(text, self.bold(1.0), width - self.size)));
            Stack { width, pieces, has_box: true }
        };
        let stacks: Vec<Stack> = (1..).zip(baths).map(stack).collect();
        for line in stacks.chunks(columns.into()) {
            self.stacked_line(0.0, line, Vec::new());
        }
    }

    /// How many columns fit on the sheet, at most 6. `least` is their least width, as a multiple of the type size.
    fn columns(&self, least: f32) -> u8 {
        (1..=6_u8).rev().find(|count| f32::from(*count) * least * self.size <= self.width).unwrap_or(1)
    }

    fn pieces(&self, text: &str, font: Font, width: f32) -> Vec<Piece> {
        self.lines(text, font, width).into_iter().map(|line| (font, line)).collect()
    }

    /// Adds one row with `stacks` side by side, and vertical lines between them. If the row is higher than a page, each
    /// line of text becomes a row.
    fn stacked_line(&mut self, left: f32, stacks: &[Stack], mut marks: Vec<Mark<'a>>) {
        let top = self.size * 0.2;
        let mut high = marks.iter().map(Mark::foot).fold(0.0, f32::max);
        let mut x = left;
        for (at, stack) in stacks.iter().enumerate() {
            let tall = stack.pieces.iter().map(|(font, _)| font.size * LINE).sum::<f32>() + top;
            high = high.max(tall);
            let inside = if at > 0 || left > 0.0 { self.size * 0.4 } else { 0.0 };
            let mut y = top;
            for (number, (font, text)) in stack.pieces.iter().enumerate() {
                let is_boxed = stack.has_box && number == 0;
                let at = if is_boxed { x + inside + self.indent() * 1.1 } else { x + inside };
                if is_boxed {
                    marks.push(Mark::Box { x: x + inside, y: y + font.size, side: self.size * 0.85 });
                }
                marks.push(Mark::Text { x: at, y: y + font.size, font: *font, text: text.clone() });
                y += font.size * LINE;
            }
            x += stack.width;
        }
        if high > self.height {
            for (font, text) in stacks.iter().flat_map(|stack| &stack.pieces) {
                self.wrapped(0.0, text, *font, Vec::new());
            }
            return;
        }
        let mut x = left;
        for (at, stack) in stacks.iter().enumerate() {
            if at > 0 || left > 0.0 {
                marks.push(Mark::Upright { x, y: top, height: high - top });
            }
            x += stack.width;
        }
        self.push(high + self.size * 0.3, marks);
        self.keep(true);
    }

    /// Adds a step, which stays on one page: its name and time, its cells, and the sentences below them.
    pub(super) fn step(&mut self, step: &StepText) {
        self.push(self.size * 0.35, vec![Mark::Rule { y: self.size * 0.2, width: self.width }]);
        self.keep(true);
        let is_beside = self.width >= BESIDE * self.size;
        let left = if is_beside { NAME * self.size } else { 0.0 };
        let mut marks = self.head_of(step, if is_beside { left } else { self.width }, is_beside);
        if !is_beside {
            let high = marks.iter().map(Mark::foot).fold(0.0, f32::max);
            self.push(high, std::mem::take(&mut marks));
            self.keep(true);
        }
        for line in self.cell_lines(&step.row.cells, self.width - left) {
            self.stacked_line(left, &line, std::mem::take(&mut marks));
        }
        if !marks.is_empty() {
            let high = marks.iter().map(Mark::foot).fold(0.0, f32::max);
            self.push(high, marks);
            self.keep(true);
        }
        if let Some(light) = &step.row.light {
            self.band(light);
            self.keep(true);
        }
        let cautions = step.cautions.iter().map(|caution| format!("caution: {caution}"));
        let notes = step.notes.iter().map(|note| format!("note: {note}"));
        for text in step.row.below.iter().cloned().chain(cautions).chain(notes) {
            self.paragraph(&text);
            self.keep(true);
        }
        self.keep(false);
    }

    fn head_of(&self, step: &StepText, width: f32, is_beside: bool) -> Vec<Mark<'a>> {
        let longest =
            |font: Font| step.name.split([' ', '-']).map(|word| self.wide(word, font)).fold(0.0, f32::max);
        let sizes = [1.3, 1.15, 1.0].map(|times| self.bold(times));
        let name = sizes
            .into_iter()
            .find(|font| longest(*font) <= width - self.size * 2.4)
            .unwrap_or(self.bold(1.0));
        let large = Font { size: self.clock * 1.3, bold: true };
        let normal = Font { size: self.clock, bold: true };
        let mut marks = Vec::new();
        let mut x = 0.0;
        if step.row.has_box {
            marks.push(Mark::Box { x: 0.0, y: self.size * 0.2 + name.size, side: self.size });
            x = self.size * 1.5;
        }
        let time = if self.wide(&step.row.time, large) < width - self.size * 0.5 { large } else { normal };
        let mut y = self.size * 0.2;
        let one_line = x + self.wide(&step.name, name) + self.size + self.wide(&step.row.time, time) <= width;
        if one_line && !is_beside {
            y += time.size;
            let at = width - self.wide(&step.row.time, time);
            marks.retain(|mark| !matches!(mark, Mark::Box { .. }));
            marks.extend(step.row.has_box.then_some(Mark::Box { x: 0.0, y, side: self.size }));
            marks.push(Mark::Text { x, y, font: name, text: step.name.clone() });
            marks.push(Mark::Text { x: at, y, font: time, text: step.row.time.clone() });
        } else {
            for text in self.lines(&step.name, name, width - x - self.size * 0.3) {
                y += name.size * LINE;
                marks.push(Mark::Text { x, y: y - name.size * (LINE - 1.0), font: name, text });
            }
            for text in self.lines(&step.row.time, time, width - self.size * 0.3) {
                y += time.size * LINE;
                marks.push(Mark::Text { x: 0.0, y: y - time.size * (LINE - 1.0), font: time, text });
            }
        }
        let begins: Vec<&str> = step.begins.iter().map(String::as_str).collect();
        for text in self.lines(&begins.join(" · "), self.plain(), width) {
            y += self.size * LINE;
            marks.push(Mark::Text { x: 0.0, y, font: self.plain(), text });
        }
        marks
    }

    /// The cells of a step, arranged in lines of the width `room`.
    fn cell_lines(&self, cells: &[Cell], room: f32) -> Vec<Vec<Stack>> {
        let clock = Font { size: self.clock, bold: true };
        let natural = |cell: &Cell, wide: f32| {
            let bold = self.bold(1.0);
            let texts = cell.texts.iter().map(String::as_str).chain(cell.blanks.iter().copied());
            let words = texts.flat_map(|text| text.split([' ', '-']));
            let words =
                words.map(|word| self.wide(word, self.plain())).fold(self.wide(cell.verb, bold), f32::max);
            let own = self.wide(&cell.clock, clock).max(words) + self.size * 0.8;
            let times = cell.marks.iter().map(|marks| marks.times.len()).max().unwrap_or(0);
            let least = if times > 1 { CELL * wide } else { CELL };
            own.max(least * self.size).min(room)
        };
        // Cells that list several times get the largest factor of `MARKS_WIDE` with which all cells are on one line.
        let all = |wide: f32| cells.iter().map(|cell| natural(cell, wide)).sum::<f32>();
        let wide = MARKS_WIDE.into_iter().find(|wide| all(*wide) <= room).unwrap_or(MARKS_WIDE[0]);
        let mut lines: Vec<Vec<(&Cell, f32)>> = Vec::new();
        let mut taken = f32::MAX;
        for cell in cells {
            let width = natural(cell, wide);
            if taken + width > room {
                lines.push(Vec::new());
                taken = 0.0;
            }
            taken += width;
            lines.iter_mut().rev().take(1).for_each(|line| line.push((cell, width)));
        }
        let stretched = |line: Vec<(&Cell, f32)>| {
            let all: f32 = line.iter().map(|(_, width)| width).sum();
            let times = room / all.max(1.0);
            line.into_iter().map(|(cell, width)| self.cell(cell, width * times)).collect()
        };
        lines.into_iter().map(stretched).collect()
    }

    fn cell(&self, cell: &Cell, width: f32) -> Stack {
        let inside = width - self.size * 0.7;
        let (clock, mark) =
            (Font { size: self.clock, bold: true }, Font { size: self.clock * 0.9, bold: true });
        let mut pieces = vec![(self.bold(1.0), cell.verb.to_owned()), (clock, cell.clock.clone())];
        cell.texts.iter().for_each(|text| pieces.extend(self.pieces(text, self.plain(), inside)));
        for Marks { times, what } in &cell.marks {
            pieces.extend(self.pieces(&joined(times, BETWEEN_MARKS), mark, inside));
            pieces.extend(self.pieces(what, self.plain(), inside));
        }
        let last = cell.manner.iter().map(String::as_str).chain(cell.blanks.iter().copied());
        last.for_each(|text| pieces.extend(self.pieces(text, self.plain(), inside)));
        Stack { width, pieces, has_box: false }
    }

    pub(super) fn total(&mut self, total: &Total) {
        self.push(self.size * 0.35, vec![Mark::Rule { y: self.size * 0.2, width: self.width }]);
        self.keep(true);
        let title = joined([format!("TOTAL {}", total.time)].iter().chain(&total.ends), " · ");
        self.wrapped(0.0, &title, self.bold(1.3), Vec::new());
        self.keep(true);
        self.paragraph(&total.besides.join(" · "));
    }

    /// Adds pictures: two side by side if the sheet is wide enough, or else below each other with larger text.
    pub(super) fn figures(&mut self, figures: &[&'a Figure]) {
        let both = |size: f32| figures.iter().map(|one| Placed::new(&one.0, size).width()).sum::<f32>();
        let is_beside = figures.len() > 1 && both(PICTURE) + self.size <= self.width;
        let size = if is_beside { PICTURE } else { self.size };
        let placed = figures.iter().map(|figure| Placed::new(&figure.0, size));
        let placed: Vec<Placed<'_>> =
            placed.filter(|one| one.width() <= self.width && one.height() <= self.height).collect();
        for line in placed.chunks(if is_beside { figures.len().max(1) } else { 1 }) {
            let high = line.iter().map(Placed::height).fold(0.0, f32::max);
            let mut x = 0.0;
            let mut marks = Vec::new();
            for picture in line {
                marks.push(Mark::Picture { x, picture: *picture });
                x += picture.width() + self.size;
            }
            self.push(self.size * 0.5, Vec::new());
            self.push(high, marks);
        }
    }

    pub(super) fn stubs(&mut self, stubs: &[Stub]) {
        let columns = self.columns(STUB);
        let width = self.width / f32::from(columns);
        let stack = |stub: &Stub| {
            let mut pieces = self.pieces(&stub.label, self.bold(1.2), width - self.size);
            stub.lines
                .iter()
                .for_each(|line| pieces.extend(self.pieces(line, self.plain(), width - self.size)));
            Stack { width, pieces, has_box: false }
        };
        let stacks: Vec<Stack> = stubs.iter().map(stack).collect();
        for line in stacks.chunks(columns.into()) {
            self.push(self.size * 0.4, vec![Mark::Cut { y: self.size * 0.2, width: self.width }]);
            self.keep(true);
            self.stacked_line(0.0, line, Vec::new());
            self.keep(false);
        }
    }
}

/// The height of a line in a cell, as a multiple of its type size.
const LINE: f32 = 1.15;
