//! Reads a backlog from a spreadsheet: a row for each roll, and a first row that names the columns.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::{Backlog, Date, Exposed, Film, Format, Shelf, both_speeds};
use crate::source::{Diagnostic, FileId, Sources, Span, clip, first_few, is_hidden};
use crate::vocabulary::suggest;

/// The columns of a list: for each, its name, the name of the error about a wrong cell, and what a cell must be. The
/// last two columns are optional.
const COLUMNS: [(&str, &str, &str); 5] = [
    ("label", "list-label", "a label"),
    ("film", "list-film", "a film that has a recipe"),
    ("format", "list-format", "a format"),
    ("date", "list-date", "a date"),
    ("index", "list-index", "an exposure index"),
];
const NEEDED: usize = 3;
const ROLLS_MAX: usize = 10_000;
/// The most characters in a label, as in any text of a recipe.
const LABEL_MAX: usize = 2_000;

/// The list in a file as a backlog with this name. The list can name only films that have a recipe.
///
/// # Errors
/// Everything that is wrong with the list.
pub fn listed(
    sources: &Sources,
    file: FileId,
    name: &str,
    shelf: &Shelf,
) -> Result<Backlog, Vec<Diagnostic>> {
    let mut list = List { file, text: sources.text(file), films: films(shelf), faults: Vec::new() };
    let rolls = list.rolls();
    if !list.faults.is_empty() {
        return Err(list.faults);
    }
    Ok(Backlog {
        title: name.to_owned(),
        name: name.to_owned(),
        span: Span { file, start: 0, end: 0 },
        recipes: named(shelf),
        places: rolls.iter().enumerate().map(|(at, roll)| (roll.label.clone(), at)).collect(),
        rolls,
    })
}

/// The recipes that declared backlogs name. They are preferred for a list too, because a list itself cannot name
/// recipes.
fn named(shelf: &Shelf) -> Vec<(FileId, String)> {
    shelf.darkroom.backlogs_once().flat_map(|backlog| backlog.recipes.iter().cloned()).collect()
}

/// The films that have recipes, by name and by title, both in lower case.
fn films(shelf: &Shelf) -> BTreeMap<String, Arc<Film>> {
    let films = shelf.recipes.iter().filter_map(|recipe| Some(Arc::clone(&recipe.film.as_ref()?.value)));
    films
        .flat_map(|film| [(film.name.to_lowercase(), Arc::clone(&film)), (film.title.to_lowercase(), film)])
        .collect()
}

/// Why a label is not allowed; `None` if it is allowed.
fn unfit(label: &str) -> Option<&'static str> {
    let grounds = [
        (label.trim().is_empty(), "this roll's label is empty"),
        (label.contains('\n'), "this label has more than one line; perhaps a quote is not closed"),
        (label.contains('"'), "this label contains a double quote"),
        (label.chars().any(is_hidden), "this label contains invisible characters"),
        (label.chars().count() > LABEL_MAX, "this label is longer than 2,000 characters"),
    ];
    grounds.into_iter().find(|(applies, _)| *applies).map(|(_, fault)| fault)
}

struct List<'a> {
    file: FileId,
    text: &'a str,
    films: BTreeMap<String, Arc<Film>>,
    faults: Vec<Diagnostic>,
}

impl List<'_> {
    fn rolls(&mut self) -> Vec<Exposed> {
        let head = self.text.lines().next().unwrap_or("");
        let between = [b';', b'\t', b','].into_iter().find(|sign| head.as_bytes().contains(sign));
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(between.unwrap_or(b','))
            .flexible(true)
            .has_headers(false)
            .trim(csv::Trim::All)
            .from_reader(self.text.as_bytes());
        let mut rows = Vec::new();
        for row in reader.records() {
            match row {
                Ok(row) => rows.push(row),
                Err(error) => {
                    let at = error.position().map_or(0, csv::Position::byte);
                    let help = "save the list as comma-separated values in UTF-8";
                    self.error("list-unreadable", self.line(at), "this row cannot be read", help);
                    return Vec::new();
                }
            }
        }
        let mut rows = rows.into_iter().filter(|row| row.iter().any(|cell| !cell.is_empty()));
        let Some(columns) = rows.next().and_then(|head| self.columns(&head)) else {
            if self.faults.is_empty() {
                let help = "write a first row label,film,format,date,index, then a row for each roll";
                self.error("list-empty", self.line(0), "the list is empty", help);
            }
            return Vec::new();
        };
        let (mut rolls, mut known) = (Vec::new(), BTreeMap::new());
        for row in rows.take(ROLLS_MAX + 1) {
            let span = self.line(row.position().map_or(0, csv::Position::byte));
            let cell = |column: usize| columns.get(column).copied().flatten().and_then(|at| row.get(at));
            let cells = std::array::from_fn(|column| cell(column).unwrap_or(""));
            rolls.extend(self.roll(cells, span, &mut known));
        }
        if rolls.len() > ROLLS_MAX {
            let message = "the list has more than 10,000 rolls";
            self.error("list-too-long", self.line(0), message, "split the list");
        }
        if rolls.is_empty() && self.faults.is_empty() {
            let help = "write a row for each roll below the first row";
            self.error("list-empty", self.line(0), "the list has no rolls", help);
        }
        rolls
    }

    /// The position of each of [`COLUMNS`] in the first row, `head`. A missing or repeated column is an error.
    fn columns(&mut self, head: &csv::StringRecord) -> Option<[Option<usize>; 5]> {
        let named = |name: &str| head.iter().position(|cell| cell.eq_ignore_ascii_case(name));
        let names = COLUMNS.map(|(name, ..)| name);
        let columns = names.map(named);
        let needed = names.into_iter().zip(columns).take(NEEDED);
        let missing: Vec<&str> = needed.filter(|(_, at)| at.is_none()).map(|(name, _)| name).collect();
        let times = |name: &str| head.iter().filter(|cell| cell.eq_ignore_ascii_case(name)).count();
        let twice = names.into_iter().find(|name| times(name) > 1);
        let message = match (missing.as_slice(), twice) {
            ([], None) => return Some(columns),
            ([], Some(name)) => format!("the first row names the column '{name}' twice"),
            (missing, _) => format!("the first row has no column '{}'", missing.join("', '")),
        };
        let help =
            "write a first row such as label,film,format,date,index, with commas, semicolons or tabs between";
        self.error("list-column", self.line(0), message, help);
        None
    }

    fn roll(
        &mut self,
        [label, film, format, date, index]: [&str; 5],
        span: Span,
        known: &mut BTreeMap<String, Span>,
    ) -> Option<Exposed> {
        let before = self.faults.len();
        if let Some(fault) = unfit(label) {
            self.error("list-label", span, fault, "write the label of the roll, such as E-01");
            // A label with a line break runs into the next row, so the other cells are not checked.
            if label.contains('\n') {
                return None;
            }
        } else if let Some(earlier) = known.insert(label.to_owned(), span) {
            let fault = Diagnostic::error(
                "list-label",
                span,
                format!("the list already has a roll '{}'", clip(label)),
            );
            self.faults.push(fault.other(earlier, "the first roll").help("give each roll its own label"));
        }
        let own = self.films.get(&film.to_lowercase()).cloned();
        if own.is_none() {
            let near = suggest(&film.to_lowercase(), self.films.keys().map(String::as_str));
            let help = match near.and_then(|near| self.films.get(near)) {
                Some(near) => format!("write {}", near.name),
                None => {
                    let known = first_few(self.films.values().map(|film| film.name.as_str()), ", ");
                    format!("write the name or title of a film with a recipe here: {known}")
                }
            };
            self.wrong(1, film, span, help);
        }
        let known = Format::parse(format);
        if known.is_none() {
            self.wrong(2, format, span, format!("write one of {}", Format::EXAMPLES));
        }
        let shot: Option<Date> = date.parse().ok();
        if shot.is_none() && !date.is_empty() {
            self.wrong(3, date, span, "write a date such as 2026-10-02, or leave it empty");
        }
        let words = index.strip_prefix("ISO").unwrap_or(index).trim().trim_end_matches('°');
        let number = words.parse::<u32>().ok().or_else(|| both_speeds(words));
        let number = number.filter(|index| (1..=1_000_000).contains(index));
        if number.is_none() && !index.is_empty() {
            let help = "write a number such as 400, or leave it empty for the film's own speed";
            self.wrong(4, index, span, help);
        }
        if self.faults.len() > before {
            return None;
        }
        Some(Exposed { label: label.to_owned(), format: known?, film: own?, index: number, shot, span })
    }

    /// Reports a wrong cell; `column` is the index of the cell's column in [`COLUMNS`].
    fn wrong(&mut self, column: usize, cell: &str, span: Span, help: impl Into<String>) {
        let Some((column, name, meaning)) = COLUMNS.get(column) else { return };
        let message = match cell {
            "" => format!("this roll's {column} is empty"),
            cell => format!("'{}' is not {meaning}", clip(cell)),
        };
        self.error(name, span, message, help);
    }

    fn error(&mut self, name: &'static str, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.faults.push(Diagnostic::error(name, span, message).help(help));
    }

    /// The span of the line that begins at this byte.
    fn line(&self, byte: u64) -> Span {
        let start = usize::try_from(byte).unwrap_or(0);
        let rest = self.text.get(start..).unwrap_or("");
        // The byte given for a record can be that of the line ending before the record.
        let start = start + (rest.len() - rest.trim_start_matches(['\r', '\n']).len());
        let length = self.text.get(start..).and_then(|rest| rest.lines().next()).map_or(0, str::len);
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Span { file: self.file, start: byte(start), end: byte(start + length) }
    }
}
