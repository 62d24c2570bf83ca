//! A document: what a person reads, without its layout. Text, HTML and PDF have one renderer each, which draws every
//! document.

mod evening;
mod steps;
mod text;

pub use self::evening::{Cell, Line, Marks, Part, Place, Ready, Reason, StepRow, StepText, Stub, Total};

use super::picture::Drawing;
use super::plain::aligned;
use crate::compile::SafetyLine;

/// A document without a layout. Each string is one line without control characters.
#[derive(Debug, Default)]
pub struct Document {
    /// The title of the document, such as that of a recipe.
    pub title: String,
    /// The text opposite the title, such as a recipe's fingerprint.
    pub aside: String,
    /// Short texts below the title, such as film, tank and temperature.
    pub facts: Vec<String>,
    /// Whether the document as text leaves out `title`, `aside` and `facts`, because the user's command already says
    /// what it prints.
    pub is_bare: bool,
    /// The sections of the document, in the order of reading.
    pub sections: Vec<Section>,
    /// A line at the foot of each sheet of paper.
    pub foot: String,
}

/// A section of a document: a heading, and blocks below it.
#[derive(Debug, Default)]
pub struct Section {
    /// The heading of the section.
    pub head: Head,
    /// The blocks below the heading, from top to bottom.
    pub blocks: Vec<Block>,
    /// The side of the printed sheet on which the section is.
    pub side: Side,
}

/// A side of a printed sheet. An HTML page shows the front first. A document as text ignores the sides.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Side {
    /// The front of the sheet.
    #[default]
    Front,
    /// The top of the back of the sheet.
    BackTop,
    /// The back of the sheet, below its top.
    Back,
}

/// The heading of a section.
#[derive(Debug, Default)]
pub enum Head {
    /// The section has no heading.
    #[default]
    None,
    /// A title in capitals, such as `WARNINGS`.
    Title(String),
    /// A title and a short text. In a document as text, a line of dashes joins the two.
    Ruled(String, String),
    /// A name, and a text after it on the same line.
    Name(String, String),
}

/// A block of a section.
#[derive(Debug)]
pub enum Block {
    /// A paragraph of a sentence or two.
    Paragraph(String),
    /// The safety block: a heading, and lines about hazards and protection.
    Safety(Vec<SafetyLine>),
    /// A list of sentences, with this bullet before each.
    List(Bullet, Vec<String>),
    /// Pairs of a name and a text.
    Named(Vec<(String, String)>),
    /// A table of rows and columns.
    Table(Table),
    /// Lines of a recipe file, to copy as they are.
    Lines(Vec<String>),
    /// The baths in the order of pouring, each with the volumes to measure.
    Baths(Vec<Ready>),
    /// The line that says when light may reach the film.
    Light(String),
    /// One step of a card.
    Step(Box<StepText>),
    /// The total time, the drying time and the water of the session.
    Total(Total),
    /// Pictures. A document as text leaves them out.
    Figures(Vec<Figure>),
    /// A link. Paper and an HTML page also show its QR code.
    Link(String),
    /// Slips to cut off and file with the rolls. Only paper and a printed HTML page show them.
    Stubs(Vec<Stub>),
    /// Rolls, each with a box to tick if it has slots in a tank. A stack of reels is listed from the top down.
    Rolls(Vec<Place>),
}

/// A picture of a document, such as a development chart.
#[derive(Debug, Clone)]
pub struct Figure(pub(super) Drawing);

/// The sign before an item of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bullet {
    /// A dash before each item.
    Dash,
    /// A warning sign before each item, such as `!` in text.
    Warning,
    /// A box to tick before each item, on paper and on an HTML page; in text, a dash.
    Box,
}

/// A table. A column that is empty in every row is left out.
#[derive(Debug, Default)]
pub struct Table {
    /// The columns, from left to right.
    pub columns: Vec<Column>,
    /// The rows, each with a cell for each column.
    pub rows: Vec<Vec<String>>,
    /// The text below the last cell of each row, or an empty string. Rows after the end of this list have none.
    pub below: Vec<String>,
    /// Whether each row has a box to tick.
    pub has_boxes: bool,
    /// Whether plain text leaves every row on one line, even if the row is wider than the screen.
    pub is_wide: bool,
}

/// A column of a table.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// The title of the column; empty in all columns if the table has no head.
    pub title: &'static str,
    /// How the cells of the column are aligned.
    pub align: Align,
    /// Whether the cells of the column are bold.
    pub is_bold: bool,
}

/// How the cells of a column are aligned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// At the left edge of the column.
    Left,
    /// By the decimal points of their numbers; each number has a unit after it: `12.5 g`.
    Decimal,
}

impl Column {
    pub(super) fn new(title: &'static str) -> Column {
        Column { title, align: Align::Left, is_bold: false }
    }
}

impl Section {
    pub(super) fn titled(title: impl Into<String>, blocks: Vec<Block>) -> Section {
        Section { head: Head::Title(title.into()), blocks, ..Section::default() }
    }

    pub(super) fn list(title: &str, bullet: Bullet, items: &[String]) -> Option<Section> {
        (!items.is_empty()).then(|| Section::titled(title, vec![Block::List(bullet, items.to_vec())]))
    }

    /// A section of pictures; `None` if there are none. `number` makes the names of the pictures unique in the
    /// document.
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

    pub(super) fn safety(lines: &[SafetyLine]) -> Section {
        Section { blocks: vec![Block::Safety(lines.to_vec())], ..Section::default() }
    }
}

impl Table {
    /// Each column that is not empty, with its aligned cells. If any column has a title, the first cell is the title.
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
