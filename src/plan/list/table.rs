//! Finds the table in a list of rolls: the separator, the row with the names of the columns, and the rows below it.

use super::cells;
use crate::source::{Diagnostic, FileId, Span, clip, first_few};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Column {
    Label,
    Film,
    Format,
    Date,
    Index,
    Push,
    Done,
    Recipe,
}

use Column::{Date, Done, Film, Format, Index, Label, Push, Recipe};

impl Column {
    pub(super) fn name(self) -> &'static str {
        COLUMNS.get(self as usize).map_or("", |(_, name, _)| name)
    }
}

/// The columns that a list can have, each with its name and the other words for it. A list needs the first three.
pub(super) const COLUMNS: [(Column, &str, &[&str]); 8] = [
    (Label, "label", &["roll"]),
    (Film, "film", &[]),
    (Format, "format", &["size"]),
    (Date, "date", &["shot", "exposed"]),
    (Index, "index", &["exposure index", "ei", "iso"]),
    (Push, "push", &[]),
    (Done, "done", &["developed"]),
    (Recipe, "recipe", &[]),
];
const NEEDED: usize = 3;
/// The columns of a plan in CSV. Such a file can be read as a list of rolls.
pub const PLAN_COLUMNS: [&str; 12] = [
    "load", "slot", "label", "film", "format", "index", "shot", "recipe", "develop", "on", "done", "left out",
];
/// The search for the row of column names skips at most this many rows.
const ABOVE_MAX: usize = 50;
const HEAD_HELP: &str =
    "name the columns in a row such as label,film,format,date,index, with commas, semicolons or tabs between";

/// The row of column names in a list.
pub(super) struct Head {
    /// The position of each of [`COLUMNS`] in a row of the list; `None` if the list lacks the column.
    places: [Option<usize>; COLUMNS.len()],
    /// The text in brackets after the name of a column with dates, as in `date (day.month.year)`.
    pub(super) order: Option<String>,
    pub(super) span: Span,
}

/// A row of a list, with the cells in the order of [`COLUMNS`].
#[derive(Clone)]
pub(super) struct Row {
    cells: [String; COLUMNS.len()],
    pub(super) span: Span,
}

impl Row {
    pub(super) fn cell(&self, column: Column) -> &str {
        self.cells.get(column as usize).map_or("", String::as_str)
    }

    pub(super) fn is_same(&self, other: &Row) -> bool {
        self.cells == other.cells
    }
}

pub(super) struct Table {
    pub(super) head: Head,
    pub(super) rows: Vec<Row>,
    pub(super) notes: Vec<Diagnostic>,
}

impl Head {
    pub(super) fn has(&self, column: Column) -> bool {
        self.places.get(column as usize).is_some_and(Option::is_some)
    }
}

/// Reads the table in the text of a file.
///
/// # Errors
/// The table has no row with the names of the needed columns, or a row cannot be read.
pub(super) fn table(file: FileId, text: &str) -> Result<Table, Box<Diagnostic>> {
    let (stated, skipped) = stated_separator(text);
    let body = text.get(skipped..).unwrap_or_default();
    let spans = Spans { file, text, skipped };
    let separators: Vec<u8> = stated.map_or(vec![b';', b'\t', b','], |separator| vec![separator]);
    let heads = separators.iter().map(|separator| head(body, *separator, spans));
    let mut nearest: Option<Failed> = None;
    for (found, separator) in heads.zip(&separators) {
        match found {
            Ok(found) => return rows(body, *separator, found, spans),
            Err(failed) if nearest.as_ref().is_none_or(|known| known.columns < failed.columns) => {
                nearest = Some(failed);
            }
            Err(_) => {}
        }
    }
    Err(nearest.map_or_else(|| empty(spans), |failed| failed.error))
}

/// A row that cannot be the row of column names: how many of the needed names it has, and the error.
struct Failed {
    columns: usize,
    error: Box<Diagnostic>,
}

/// The row of column names, its cells, and the number of rows above it that are not blank.
struct Found {
    head: Head,
    above: usize,
    cells: Vec<String>,
}

/// The separator that the first line states, as in `sep=;`, and the length of this line in bytes. Some spreadsheets
/// write this line.
fn stated_separator(text: &str) -> (Option<u8>, usize) {
    let line = text.lines().next().unwrap_or_default();
    match line.trim_end_matches(';').strip_prefix("sep=").map(str::as_bytes) {
        Some([]) => (Some(b';'), line.len()),
        Some([separator]) if separator.is_ascii_punctuation() || *separator == b'\t' => {
            (Some(*separator), line.len())
        }
        _ => (None, 0),
    }
}

fn reader(body: &str, separator: u8) -> csv::Reader<&[u8]> {
    csv::ReaderBuilder::new()
        .delimiter(separator)
        .flexible(true)
        .has_headers(false)
        .trim(csv::Trim::All)
        .from_reader(body.as_bytes())
}

/// The first row that names all needed columns.
fn head(body: &str, separator: u8, spans: Spans<'_>) -> Result<Found, Failed> {
    let mut nearest: Option<Failed> = None;
    let records = reader(body, separator).into_records().map_while(Result::ok);
    let filled = records.filter(|record| record.iter().any(|cell| !cell.is_empty()));
    for (above, record) in filled.take(ABOVE_MAX + 1).enumerate() {
        let cells: Vec<String> = record.iter().map(cells::name).collect();
        let span = spans.line(record.position().map_or(0, csv::Position::byte));
        match columns(&cells, span) {
            Ok(head) => return Ok(Found { head, above, cells: record.iter().map(cells::clean).collect() }),
            Err(failed) if nearest.as_ref().is_none_or(|known| known.columns < failed.columns) => {
                nearest = Some(failed);
            }
            Err(_) => {}
        }
    }
    Err(nearest.unwrap_or_else(|| Failed { columns: 0, error: empty(spans) }))
}

fn empty(spans: Spans<'_>) -> Box<Diagnostic> {
    let help = "write a first row label,film,format,date,index, then a row for each roll";
    Box::new(Diagnostic::error("list-empty", spans.line(0), "the list is empty").help(help))
}

/// The positions of the columns, if these cells name each needed column once.
fn columns(cells: &[String], span: Span) -> Result<Head, Failed> {
    let named: Vec<(&str, Option<&str>)> = cells.iter().map(|cell| without_brackets(cell)).collect();
    let at = |word: &str| named.iter().position(|(name, _)| *name == word);
    let place = |(_, name, others): &(Column, &str, &[&str])| {
        at(name).or_else(|| others.iter().find_map(|other| at(other)))
    };
    let places = std::array::from_fn(|column| COLUMNS.get(column).and_then(place));
    let needed = COLUMNS.iter().zip(&places).take(NEEDED);
    let missing: Vec<&str> = needed.filter(|(_, at)| at.is_none()).map(|((_, name, _), _)| *name).collect();
    let times = |word: &str| named.iter().filter(|(name, _)| *name == word).count();
    let words = COLUMNS.iter().flat_map(|(_, name, others)| std::iter::once(name).chain(*others));
    let twice = words.copied().find(|word| times(word) > 1);
    let (message, help) = match (missing.as_slice(), twice) {
        ([], None) => {
            let dates = [Date, Done].map(|column| places.get(column as usize).copied().flatten());
            let order = dates.iter().flatten().find_map(|at| named.get(*at)?.1);
            return Ok(Head { places, order: order.map(str::to_owned), span });
        }
        ([], Some(name)) => {
            let help =
                "remove one of the two from all rows, or rename it: a column of an unknown name is not read";
            (format!("the row of column names has '{name}' twice"), help)
        }
        (missing, _) => (format!("no row names the column '{}'", missing.join("', '")), HEAD_HELP),
    };
    if let Some(failed) = other_separator(cells, span) {
        return Err(failed);
    }
    let error = Box::new(Diagnostic::error("list-column", span, message).help(help));
    Err(Failed { columns: NEEDED - missing.len(), error })
}

/// The error for a row whose only cell names the needed columns with a sign between that separates no columns.
fn other_separator(cells: &[String], span: Span) -> Option<Failed> {
    let [cell] = cells else { return None };
    let names_all = |sign: &char| {
        let names: Vec<&str> = cell.split(*sign).map(str::trim).collect();
        let is_named = |(_, name, others): &(Column, &str, &[&str])| {
            names.contains(name) || others.iter().any(|other| names.contains(other))
        };
        COLUMNS.iter().take(NEEDED).all(is_named)
    };
    let sign = "|:/^~".chars().find(names_all)?;
    let message = format!("the columns are divided by {sign}, and so are read as one");
    let error = Diagnostic::error("list-column", span, message)
        .help(format!("put a line above the first: sep={sign}"))
        .help(format!("or put a comma, a semicolon or a tab in place of each {sign}"));
    Some(Failed { columns: NEEDED, error: Box::new(error) })
}

/// The name of a column without the brackets at its end, and the text in them: `date` and `day.month.year`.
fn without_brackets(name: &str) -> (&str, Option<&str>) {
    let split = name.strip_suffix([')', ']']).and_then(|name| name.rsplit_once(['(', '[']));
    split.map_or((name, None), |(name, inside)| (name.trim_end(), Some(inside)))
}

/// The rows below the row of column names, without blank rows and without repetitions of the column names.
fn rows(body: &str, separator: u8, found: Found, spans: Spans<'_>) -> Result<Table, Box<Diagnostic>> {
    let Found { head, above, cells: names } = found;
    let mut rows = Vec::new();
    let mut seen = 0;
    for record in reader(body, separator).records() {
        let record = record.map_err(|error| {
            let at = error.position().map_or(0, csv::Position::byte);
            let help = "save the list as comma-separated values in UTF-8";
            Box::new(
                Diagnostic::error("list-unreadable", spans.line(at), "this row cannot be read").help(help),
            )
        })?;
        if record.iter().all(str::is_empty) {
            continue;
        }
        seen += 1;
        let is_head = || record.iter().map(cells::clean).eq(names.iter().cloned());
        if seen <= above + 1 || is_head() {
            continue;
        }
        let cell = |column: usize| head.places.get(column).copied().flatten().and_then(|at| record.get(at));
        let cells = std::array::from_fn(|column| cells::clean(cell(column).unwrap_or_default()));
        rows.push(Row { cells, span: spans.line(record.position().map_or(0, csv::Position::byte)) });
    }
    let notes = ignored(&head, above, &names);
    Ok(Table { head, rows, notes })
}

fn ignored(head: &Head, above: usize, names: &[String]) -> Vec<Diagnostic> {
    let advice = |message: String, help: &str| {
        let advice = Diagnostic::warning("list-ignored", head.span, message).help(help);
        Diagnostic { level: crate::source::Level::Advice, ..advice }
    };
    let mut notes = Vec::new();
    if above > 0 {
        let message = match above {
            1 => "the row above the column names is not read".to_owned(),
            above => format!("the {above} rows above the column names are not read"),
        };
        notes.push(advice(message, "write all rolls below the column names"));
    }
    let lower = |name: &String| cells::name(name);
    if names.iter().map(lower).eq(PLAN_COLUMNS.map(str::to_owned)) {
        return notes;
    }
    let is_used = |at: &usize| head.places.contains(&Some(*at));
    let others = names.iter().enumerate().filter(|(at, _)| !is_used(at)).map(|(_, name)| name);
    let others: Vec<String> = others.filter(|name| !name.is_empty()).map(|name| clip(name)).collect();
    if !others.is_empty() {
        let all = first_few(others.iter().map(String::as_str), "', '");
        let message = match others.len() {
            1 => format!("the column '{all}' is not read"),
            _ => format!("the columns '{all}' are not read"),
        };
        let known: Vec<&str> = COLUMNS.iter().map(|(_, name, _)| *name).collect();
        let help = format!("the columns of a list are {}", known.join(", "));
        notes.push(advice(message, &help));
    }
    notes
}

#[derive(Clone, Copy)]
struct Spans<'a> {
    file: FileId,
    text: &'a str,
    /// The number of bytes before the table.
    skipped: usize,
}

impl Spans<'_> {
    /// The span of the line that begins at this byte of the table.
    fn line(self, byte: u64) -> Span {
        let start = self.skipped + usize::try_from(byte).unwrap_or(0);
        let rest = self.text.get(start..).unwrap_or("");
        // The byte that the CSV reader gives for a record can be that of the line ending before the record.
        let start = start + (rest.len() - rest.trim_start_matches(['\r', '\n']).len());
        let length = self.text.get(start..).and_then(|rest| rest.lines().next()).map_or(0, str::len);
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Span { file: self.file, start: byte(start), end: byte(start + length) }
    }
}
