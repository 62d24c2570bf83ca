//! A document: what a person reads, without its layout. Text, HTML and PDF have one renderer each, which draws every
//! document.

mod evening;
mod steps;
mod text;

pub use self::evening::{Cell, Line, Marks, Part, Place, Ready, Reason, StepRow, StepText, Stub, Total};

use super::picture::Drawing;
use super::plain::aligned;
use crate::compile::SafetyLine;

/// A document. Each text is one line without control characters.
#[derive(Debug, Default)]
pub struct Document {
    /// The title.
    pub title: String,
    /// The text opposite the title, such as a recipe's fingerprint.
    pub aside: String,
    /// Short texts below the title.
    pub facts: Vec<String>,
    /// Whether the document as text leaves out the title and what belongs to it, because the command that prints the
    /// document already says what it is.
    pub is_bare: bool,
    /// The sections, in the order of reading.
    pub sections: Vec<Section>,
    /// A line at the foot of each sheet of paper.
    pub foot: String,
}

/// A part of a document.
#[derive(Debug, Default)]
pub struct Section {
    /// The line above the blocks.
    pub head: Head,
    /// The contents.
    pub blocks: Vec<Block>,
    /// The side of a sheet of paper.
    pub side: Side,
}

/// The side of a sheet of paper. Text has the sections in their own order, a page in that of the sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Side {
    /// The front.
    #[default]
    Front,
    /// The top of the back.
    BackTop,
    /// The back.
    Back,
}

/// The line above a section.
#[derive(Debug, Default)]
pub enum Head {
    /// No line.
    #[default]
    None,
    /// A title in capitals, such as `WARNINGS`.
    Title(String),
    /// A title, and a short text at the other end of a ruled line.
    Ruled(String, String),
    /// A name, and a text directly after it.
    Name(String, String),
}

/// Some contents of a section.
#[derive(Debug)]
pub enum Block {
    /// A sentence or two.
    Paragraph(String),
    /// The safety block, under a heading of its own.
    Safety(Vec<SafetyLine>),
    /// Sentences, each with a sign before it.
    List(Bullet, Vec<String>),
    /// Texts, each after its name.
    Named(Vec<(String, String)>),
    /// Rows and columns.
    Table(Table),
    /// Lines of a recipe file, to copy as they are.
    Lines(Vec<String>),
    /// The baths in the order of pouring, each with what to measure for it.
    Baths(Vec<Ready>),
    /// The line that says when light may reach the film.
    Light(String),
    /// One step of the work.
    Step(Box<StepText>),
    /// The totals of the work.
    Total(Total),
    /// Pictures. Text has none.
    Figures(Vec<Figure>),
    /// A link; on paper and on a page with its QR code.
    Link(String),
    /// Slips to cut off and file with the rolls. Only paper has them.
    Stubs(Vec<Stub>),
    /// The rolls of a load from the bottom of the tank up, each with a box to tick; without slots, rolls that have no
    /// load.
    Rolls(Vec<Place>),
}

/// A picture.
#[derive(Debug, Clone)]
pub struct Figure(pub(super) Drawing);

/// The sign before an item of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bullet {
    /// A dash.
    Dash,
    /// The sign of a warning.
    Warning,
    /// A dash; on paper and on a page a box to tick.
    Box,
}

/// Rows and columns. A column that is empty in every row is left out.
#[derive(Debug, Default)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows, each with a cell for each column.
    pub rows: Vec<Vec<String>>,
    /// Below each row, further text in its last column; empty for none. Fewer entries than rows mean none for the rest.
    pub below: Vec<String>,
    /// Whether each row has a box to tick.
    pub has_boxes: bool,
    /// Whether the text of a row may be longer than a line.
    pub is_wide: bool,
}

/// A column of a table.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// The title; empty in all columns if the table has no head.
    pub title: &'static str,
    /// How its cells are aligned.
    pub align: Align,
    /// Whether its cells are bold.
    pub is_bold: bool,
}

/// How the cells of a column are aligned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// At the left.
    Left,
    /// By the decimal point of a number that has a unit after it: `12.5 g`.
    Decimal,
}

impl Column {
    /// A column of plain texts.
    pub(super) fn new(title: &'static str) -> Column {
        Column { title, align: Align::Left, is_bold: false }
    }
}

impl Section {
    /// A section with a title.
    pub(super) fn titled(title: impl Into<String>, blocks: Vec<Block>) -> Section {
        Section { head: Head::Title(title.into()), blocks, ..Section::default() }
    }

    /// A section with a list; `None` if the list is empty.
    pub(super) fn list(title: &str, bullet: Bullet, items: &[String]) -> Option<Section> {
        (!items.is_empty()).then(|| Section::titled(title, vec![Block::List(bullet, items.to_vec())]))
    }

    /// Pictures; `None` without any. `number` is that of the section, for ids that are unique in a document.
    pub(super) fn figures(figures: Vec<Figure>, number: usize) -> Option<Section> {
        let named = (0..).zip(figures).map(|(at, figure): (usize, Figure)| {
            Figure(Drawing { name: format!("picture-{number}-{at}"), ..figure.0 })
        });
        let figures: Vec<Figure> = named.collect();
        (!figures.is_empty()).then(|| Section { blocks: vec![Block::Figures(figures)], ..Section::default() })
    }

    pub(super) fn is_safety(&self) -> bool {
        self.blocks.iter().any(|block| matches!(block, Block::Safety(_)))
    }

    /// The safety block.
    pub(super) fn safety(lines: &[SafetyLine]) -> Section {
        Section { blocks: vec![Block::Safety(lines.to_vec())], ..Section::default() }
    }
}

impl Table {
    /// The columns that are not empty, each with its cells, aligned; the first cells are the titles, if there are any.
    pub(super) fn cells(&self) -> Vec<(&Column, Vec<String>)> {
        let has_head = self.columns.iter().any(|column| !column.title.is_empty());
        let of = |(at, column): (usize, &'_ Column)| {
            let cells = self.rows.iter().map(move |row| row.get(at).map(String::as_str).unwrap_or_default());
            let cells: Vec<String> = match column.align {
                Align::Left => cells.map(str::to_owned).collect(),
                Align::Decimal => measured(&cells.collect::<Vec<_>>()),
            };
            has_head.then(|| column.title.to_owned()).into_iter().chain(cells).collect::<Vec<_>>()
        };
        let all = self.columns.iter().enumerate().map(|both| (both.1, of(both)));
        all.filter(|(_, cells)| cells.iter().any(|cell| !cell.trim().is_empty())).collect()
    }
}

/// Numbers that have a unit after the last space, aligned by decimal point.
fn measured(amounts: &[&str]) -> Vec<String> {
    let split = amounts.iter().map(|amount| amount.rsplit_once(' ').unwrap_or((*amount, "")));
    let split: Vec<(&str, &str)> = split.collect();
    let numbers = aligned(split.iter().map(|(number, _)| *number));
    numbers
        .iter()
        .zip(split)
        .map(|(number, (_, unit))| format!("{number} {unit}").trim_end().to_owned())
        .collect()
}
