//! Labels as PDF: several on a sheet of paper, with lines to cut along.

use super::layout::{Mark, Row, Sheet};
use super::writer::{Column, Edge, written};
use super::{Faces, Paper, faces};
use crate::compile::Label;
use crate::emit::label::lines;
use crate::emit::plain::{Tone, joined, plain};
use crate::source::Set;

/// The margin of the sheet, in points: 8 mm, because most printers leave an edge white.
const MARGIN: f32 = 22.7;
/// The least width of a label, in points: 88 mm.
const WIDE: f32 = 250.0;
/// The least height of a label, in points: 52 mm (Regulation (EC) 1272/2008, Annex I, table 1.3; not looked up).
const HIGH: f32 = 147.4;
/// The distance from the line to cut along to the text, in points: 3 mm.
const INSIDE: f32 = 8.5;
/// The type sizes to try, in quarter points: 9 to 6.25 points. At 6.25 points, small letters are 1.2 mm high, the least
/// in guidance on the Regulation (not looked up).
const QUARTERS: std::ops::RangeInclusive<u8> = 25..=36;
/// The largest type of a label for a large bottle, in quarter points: 13 points.
const LARGEST: u8 = 52;
/// The side of a box for a roll, in points: 4 mm, so that a pen can tick it.
const BOX: f32 = 11.3;

/// The grid in which labels are placed on a sheet. The size of a cell is in points.
struct Grid {
    columns: usize,
    rows: usize,
    wide: f32,
    high: f32,
}

/// A label, or a piece of a label that is too long for one column of the sheet.
struct Cell {
    rows: Vec<Row<'static>>,
    /// How many rows of the grid the cell takes.
    span: usize,
}

impl Grid {
    fn of(paper: Paper) -> Grid {
        let (width, height) = paper.size();
        let (width, height) = (width - 2.0 * MARGIN, height - 2.0 * MARGIN);
        let fitting = |room: f32, each: f32| (1..=20_u8).rev().find(|count| f32::from(*count) * each <= room);
        let (columns, rows) = (fitting(width, WIDE).unwrap_or(1), fitting(height, HIGH).unwrap_or(1));
        Grid {
            columns: columns.into(),
            rows: rows.into(),
            wide: width / f32::from(columns),
            high: height / f32::from(rows),
        }
    }

    /// Lays out a label in the fewest rows of the grid in which it is legible, and there in the largest type that fits.
    /// A label that is too long for a column continues in the next column.
    fn cells(&self, label: &Label, faces: &Faces) -> Vec<Cell> {
        let width = self.wide - 2.0 * INSIDE;
        let largest = if label.is_large { LARGEST } else { *QUARTERS.end() };
        let sizes = || (*QUARTERS.start()..=largest).rev().map(|quarters| f32::from(quarters) / 4.0);
        let least = if label.is_large { 2.min(self.rows) } else { 1 };
        let mut high = 0.0;
        for span in 1..=self.rows {
            high += self.high;
            if span < least {
                continue;
            }
            let fitting = sizes().map(|size| rows(label, faces, width, size));
            if let Some(rows) = fitting.into_iter().find(|rows| height(rows) <= high - 2.0 * INSIDE) {
                return vec![Cell { rows, span }];
            }
        }
        let smallest = f32::from(*QUARTERS.start()) / 4.0;
        let mut cells = Vec::new();
        let mut cell: Vec<Row<'static>> = Vec::new();
        for row in rows(label, faces, width, smallest) {
            if height(&cell) + row.height > high - 2.0 * INSIDE {
                let title = format!("{}, continued", plain(&label.title));
                let mut next = Sheet::new(faces, width, smallest);
                next.wrapped(0.0, &title, next.bold(1.0), Vec::new());
                cells.push(Cell { rows: std::mem::replace(&mut cell, next.rows), span: self.rows });
            }
            cell.push(row);
        }
        cells.push(Cell { rows: cell, span: self.rows });
        cells
    }
}

/// The labels as a PDF, several on a sheet of paper.
pub fn labels_pdf(labels: &[Label], paper: Paper) -> Vec<u8> {
    let (faces, grid) = (faces(), Grid::of(paper));
    let mut cells: Vec<Cell> = labels.iter().flat_map(|label| grid.cells(label, &faces)).collect();
    // The place of each cell: its column, counted across all sheets, and its distance from the top in points.
    let (mut column, mut row) = (0, 0);
    let mut placed: Vec<(usize, f32)> = Vec::new();
    for cell in &mut cells {
        if row + cell.span > grid.rows {
            (column, row) = (column + 1, 0);
        }
        let down = std::iter::repeat_n(grid.high, row).sum::<f32>();
        placed.push((column, down));
        let high = std::iter::repeat_n(grid.high, cell.span).sum::<f32>();
        let frame = Mark::Frame { x: -INSIDE, y: -INSIDE, width: grid.wide, height: high };
        cell.rows.insert(0, Row { height: 0.0, marks: vec![frame], keeps_next: true });
        row += cell.span;
    }
    let mut sheets: Vec<Vec<(f32, Column<'_>)>> = Vec::new();
    for (cell, (column, down)) in cells.iter().zip(placed) {
        let right = std::iter::repeat_n(grid.wide, column % grid.columns).sum::<f32>() + INSIDE;
        let mut below = down + INSIDE;
        let rows = cell.rows.iter().map(|row| {
            let at = below;
            below += row.height;
            (at, row)
        });
        let rows: Column<'_> = rows.collect();
        sheets.resize_with(sheets.len().max(column / grid.columns + 1), Vec::new);
        sheets.iter_mut().rev().take(1).for_each(|sheet| sheet.push((right, rows.clone())));
    }
    let pages: Vec<Vec<(f32, &Column<'_>)>> =
        sheets.iter().map(|sheet| sheet.iter().map(|(right, rows)| (*right, rows)).collect()).collect();
    written("Labels", paper, Edge { margin: MARGIN, foot: None }, &pages, faces)
}

fn height(rows: &[Row<'_>]) -> f32 {
    rows.iter().map(|row| row.height).sum()
}

/// The lines of a label for this width and type size, both in points.
fn rows(label: &Label, faces: &Faces, width: f32, size: f32) -> Vec<Row<'static>> {
    let mut sheet = Sheet::new(faces, width, size);
    let gap = size * 0.3;
    sheet.wrapped(0.0, &plain(&label.title), sheet.bold(1.4), Vec::new());
    let facts: Vec<&str> = label.facts.iter().map(String::as_str).collect();
    sheet.wrapped(0.0, &facts.join("   "), sheet.plain(), Vec::new());
    if !label.signal.is_empty() {
        sheet.wrapped(0.0, &label.signal, sheet.bold(1.4), Vec::new());
    }
    for (tone, line) in lines(label) {
        let font = if tone == Tone::Bold { sheet.bold(1.0) } else { sheet.plain() };
        sheet.push(gap, Vec::new());
        sheet.wrapped(0.0, &line, font, Vec::new());
    }
    sheet.push(gap * 2.0, Vec::new());
    boxes(&mut sheet, label);
    sheet.wrapped(0.0, &format!("no. {}", plain(&label.number)), sheet.bold(1.0), Vec::new());
    let texts = sheet.rows.iter().flat_map(|row| &row.marks).flat_map(Mark::texts).flat_map(str::chars);
    let missing: Set<char> = texts.filter(|letter| faces.regular.lacks(*letter)).collect();
    if !missing.is_empty() {
        let named = missing.iter().map(|letter| format!("U+{:04X}", u32::from(*letter)));
        let text = format!("characters printed as an empty box: {}", joined(named, ", "));
        sheet.wrapped(0.0, &text, sheet.plain(), Vec::new());
    }
    sheet.rows
}

/// Adds one box for each roll, in as many rows as the boxes need. For a large number of rolls, adds the count in words.
fn boxes(sheet: &mut Sheet<'static, '_>, label: &Label) {
    let font = sheet.plain();
    if let Some(counted) = &label.counted {
        return sheet.wrapped(0.0, &format!("rolls {counted}"), font, Vec::new());
    }
    let left = sheet.wide("rolls ", font) + 2.0;
    let step = BOX + 2.0;
    let fitting = (1..=label.rolls.len()).rev().find(|count| {
        let taken = std::iter::repeat_n(step, *count).sum::<f32>();
        left + taken <= sheet.width
    });
    for (at, row) in label.rolls.chunks(fitting.unwrap_or(1)).enumerate() {
        let mut marks = Vec::new();
        if at == 0 {
            marks.push(Mark::Text { x: 0.0, y: BOX * 0.8, font, text: "rolls".to_owned() });
        }
        let mut x = left;
        for is_used in row {
            marks.push(Mark::Box { x, y: BOX, side: BOX });
            let cross = || Mark::Text { x: x + BOX * 0.25, y: BOX * 0.8, font, text: "x".to_owned() };
            marks.extend(is_used.then(cross));
            x += step;
        }
        sheet.push(step, marks);
    }
}
