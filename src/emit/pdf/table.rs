//! Tables on paper. If a table has too many columns for the paper, each of its rows is a list.

use super::layout::{Font, Mark, Sheet};
use crate::emit::document::{Align, Column, Table};

/// The columns that are not empty, each with its cells from top to bottom.
type Cells<'c> = [(&'c Column, Vec<String>)];

impl<'a> Sheet<'a, '_> {
    pub(super) fn table(&mut self, table: &Table) {
        let cells = on_paper(table);
        let has_head = table.columns.iter().any(|column| !column.title.is_empty());
        let left = if table.has_boxes { self.indent() * 1.2 } else { 0.0 };
        let Some(widths) = self.widths(&cells, self.width - left) else {
            return self.stacked(table, &cells, has_head);
        };
        let count = table.rows.len() + usize::from(has_head);
        for at in 0..count {
            let is_head = has_head && at == 0;
            let below = at.checked_sub(usize::from(has_head)).and_then(|at| table.below.get(at));
            let mut columns = Vec::new();
            for (column, ((kind, texts), width)) in cells.iter().zip(&widths).enumerate() {
                let font = self.cell_font(kind, is_head);
                let text = texts.get(at).map(String::as_str).unwrap_or_default();
                let mut lines = self.lines(text, font, *width);
                if column + 1 == cells.len() {
                    let below = below.filter(|below| !below.is_empty());
                    lines.extend(below.iter().flat_map(|below| self.lines(below, self.plain(), *width)));
                }
                columns.push((font, lines));
            }
            let tick = (table.has_boxes && !is_head).then(|| self.tick());
            self.row(left, &widths, columns, tick);
            if is_head {
                self.keep(true);
                self.push(self.size * 0.3, vec![Mark::Rule { y: self.size * 0.1, width: self.width }]);
                self.keep(true);
            }
        }
    }

    fn cell_font(&self, column: &Column, is_head: bool) -> Font {
        if column.is_bold || is_head { self.bold(1.0) } else { self.plain() }
    }

    /// Adds one row of a table. `columns` has the font and the wrapped lines of each cell.
    fn row(&mut self, left: f32, widths: &[f32], columns: Vec<(Font, Vec<String>)>, tick: Option<Mark<'a>>) {
        let high = columns.iter().map(|(_, lines)| lines.len()).max().unwrap_or(0);
        let mut tick = tick;
        for at in 0..high {
            let mut marks: Vec<_> = tick.take().into_iter().collect();
            let mut x = left;
            for ((font, lines), width) in columns.iter().zip(widths) {
                if let Some(text) = lines.get(at).filter(|text| !text.is_empty()) {
                    marks.push(Mark::Text { x, y: self.size, font: *font, text: text.clone() });
                }
                x += width + self.gap();
            }
            self.push(self.leading(), marks);
            self.keep(at + 1 < high);
        }
    }

    fn gap(&self) -> f32 {
        self.size * 0.8
    }

    /// The widths of the columns in points; `None` if the longest words of all columns do not fit side by side.
    fn widths(&self, cells: &Cells<'_>, room: f32) -> Option<Vec<f32>> {
        let count = u8::try_from(cells.len()).ok()?;
        let room = room - self.gap() * f32::from(count.saturating_sub(1));
        let of = |measure: &dyn Fn(&str, Font) -> f32| -> Vec<f32> {
            let widest = |(column, texts): &(&Column, Vec<String>)| {
                let all = texts.iter().enumerate();
                let all = all.map(|(at, text)| measure(text, self.cell_font(column, at == 0)));
                all.fold(0.0, f32::max)
            };
            cells.iter().map(widest).collect()
        };
        let whole = of(&|text, font| self.wide(text, font));
        let words = of(&|text, font| text.split(' ').map(|word| self.wide(word, font)).fold(0.0, f32::max));
        if words.iter().sum::<f32>() > room {
            return None;
        }
        // Each column gets the width of its longest word. The columns with longer texts share the remaining width.
        let mut widths = words;
        for _ in 0..cells.len() {
            let free = room - widths.iter().sum::<f32>();
            let short: Vec<bool> =
                widths.iter().zip(&whole).map(|(width, whole)| width + 0.01 < *whole).collect();
            let hungry = u8::try_from(short.iter().filter(|is_short| **is_short).count()).ok()?;
            if hungry == 0 || free < 0.1 {
                break;
            }
            let share = free / f32::from(hungry);
            for ((width, whole), _) in widths.iter_mut().zip(&whole).zip(&short).filter(|(_, short)| **short)
            {
                *width = (*width + share).min(*whole);
            }
        }
        Some(widths)
    }

    /// Adds each row of the table as a list, with the titles of the columns before the cells.
    fn stacked(&mut self, table: &Table, cells: &Cells<'_>, has_head: bool) {
        for at in 0..table.rows.len() {
            for (column, (kind, texts)) in cells.iter().enumerate() {
                let text = texts.get(at + usize::from(has_head)).map(|text| text.trim()).unwrap_or_default();
                let is_first = column == 0;
                let font = if is_first { self.bold(1.0) } else { self.cell_font(kind, false) };
                let text = match kind.title {
                    "" => text.to_owned(),
                    title => format!("{title}: {text}"),
                };
                let tick = (is_first && table.has_boxes).then(|| self.tick()).into_iter().collect();
                let x = if is_first && !table.has_boxes { 0.0 } else { self.indent() };
                self.wrapped(x, &text, font, tick);
                self.keep(column + 1 < cells.len());
            }
            if let Some(below) = table.below.get(at).filter(|below| !below.is_empty()) {
                self.wrapped(self.indent(), below, self.plain(), Vec::new());
            }
        }
    }
}

/// The columns of a table, with their cells. In a column of numbers, spaces are as wide as a digit, so that the numbers
/// stay aligned.
fn on_paper(table: &Table) -> Vec<(&Column, Vec<String>)> {
    let wide = |text: &String| text.replace(' ', "\u{2007}");
    let shown = |column: &Column, texts: Vec<String>| match column.align {
        Align::Decimal => texts.iter().map(wide).collect(),
        Align::Left => texts,
    };
    table.cells().into_iter().map(|(column, texts)| (column, shown(column, texts))).collect()
}
