//! Reads a list of rolls from a spreadsheet as a backlog: a row for each roll, below a row that names the columns. Each
//! flaw of the list is one finding, however many rows have it.

mod cells;
mod dates;
mod flaws;
mod known;
mod table;

use std::sync::Arc;

pub use cells::guarded;
pub use dates::DateOrder;
pub use table::PLAN_COLUMNS;

use cells::Exposure;
use dates::Written;
use flaws::Flaws;
use known::{films, named, recipes};
use table::{Column, Row, Table};

use super::kind::{LeftOut, LeftRoll};
use crate::model::{Backlog, Date, Exposed, Film, Format, Recipe, Shelf, film_speed_pushed};
use crate::source::{Diagnostic, FileId, Level, Map, Sources, Span, clip, first_few, is_hidden};
use crate::vocabulary::suggest;

const ROLLS_MAX: usize = 10_000;
/// The most characters in a label, as in any text of a recipe.
const LABEL_MAX: usize = 2_000;

/// The content of a list of rolls from a spreadsheet.
#[derive(Debug)]
pub struct Listed {
    /// The rolls that can be read, as a backlog.
    pub backlog: Backlog,
    /// The rolls that cannot be read, with the reasons.
    pub left: Vec<LeftOut>,
    /// The rolls that the list states as developed, each with the day.
    pub done: Map<String, Date>,
    /// Warnings and advice about the list.
    pub notes: Vec<Diagnostic>,
}

/// Reads the list of rolls in a file as a backlog with this name. The list can name only films that have a recipe.
/// `order` is the order of day and month, if the user states it.
///
/// # Errors
/// The file has no table of rolls.
pub fn listed(
    sources: &Sources,
    file: FileId,
    name: &str,
    shelf: &Shelf,
    order: Option<DateOrder>,
) -> Result<Listed, Vec<Diagnostic>> {
    let text = sources.text(file);
    let Table { head, rows, notes } = table::table(file, text).map_err(|error| vec![*error])?;
    let refused = |name, message: &str, help: &str| {
        Err(vec![Diagnostic::error(name, Span { end: head.span.end, ..head.span }, message).help(help)])
    };
    if rows.is_empty() {
        return refused("list-empty", "the list has no rolls", "write a row for each roll below this row");
    }
    if rows.len() > ROLLS_MAX {
        return refused("list-too-long", "the list has more than 10,000 rolls", "split the list");
    }
    let stated = order.or_else(|| head.order.as_deref().and_then(dates::order_in));
    let cells = |column| rows.iter().map(move |row| Written::of(row.cell(column)));
    let order = stated.or_else(|| dates::order_of(cells(Column::Date).chain(cells(Column::Done))));
    let has_index = head.has(Column::Index) || head.has(Column::Push);
    let mut list = List { films: films(shelf), known: recipes(shelf), order, has_index, ..List::default() };
    list.notes.of(notes);
    list.rows(&rows);
    Ok(list.finish(sources, shelf, (file, name)))
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

#[derive(Default)]
struct List {
    films: Map<String, Vec<Arc<Film>>>,
    known: Map<String, Vec<Arc<Recipe>>>,
    /// The recipes that the list names for its rolls.
    recipes: Vec<Arc<Recipe>>,
    order: Option<DateOrder>,
    has_index: bool,
    rolls: Vec<Exposed>,
    done: Map<String, Date>,
    /// The rows that are left out, each with the numbers of its findings in `faults`.
    left: Vec<(LeftRoll, Vec<usize>)>,
    faults: Flaws,
    notes: Flaws,
    /// For each film with rolls that state no exposure index: the film, the first of these rows, and the number of
    /// them.
    assumed: Map<Span, (Arc<Film>, Span, usize)>,
}

impl List {
    fn rows(&mut self, rows: &[Row]) {
        let mut labels: Map<&str, Vec<&Row>> = Map::new();
        rows.iter().for_each(|row| labels.value_of(row.cell(Column::Label)).push(row));
        let mut twice = Vec::new();
        for row in rows {
            let same = labels.get(row.cell(Column::Label)).map(Vec::as_slice).unwrap_or_default();
            match same.first().filter(|_| !row.cell(Column::Label).is_empty()) {
                Some(first) if !same.iter().all(|other| other.is_same(first)) => self.row(row, true),
                Some(first) if first.span != row.span => twice.push(row),
                _ => self.row(row, false),
            }
        }
        if let Some(first) = twice.first() {
            let labels = first_few(twice.iter().map(|row| row.cell(Column::Label)), ", ");
            let message = format!("listed more than once, and counted once: {labels}");
            let warning = Diagnostic::warning("list-label", first.span, message);
            self.notes.add(warning.help("remove the row, or give each roll its own label"));
        }
        let noted: Vec<_> = std::mem::take(&mut self.assumed).into_values().collect();
        self.assumed_indexes(&noted);
    }

    fn assumed_indexes(&mut self, noted: &[(Arc<Film>, Span, usize)]) {
        let Some((_, first, _)) = noted.iter().min_by_key(|(_, span, _)| *span) else { return };
        let rolls: usize = noted.iter().map(|(.., rolls)| rolls).sum();
        let rolls = if rolls == 1 { "1 roll counts".to_owned() } else { format!("{rolls} rolls count") };
        let at = |film: &Film| {
            let speed = film.speed.map(|speed| format!(" at {}", *speed)).unwrap_or_default();
            format!("{}{speed}", clip(&film.title))
        };
        let films: Vec<String> = noted.iter().map(|(film, ..)| at(film)).collect();
        let films = first_few(films.iter().map(String::as_str), ", ");
        let what = if self.has_index { "index is empty" } else { "list has no column 'index'" };
        let message = format!("the {what}, so {rolls} as exposed at the film's speed: {films}");
        self.notes.add(advice(*first, message).help("write the index, such as 800 or +1, where it differs"));
    }

    /// Reads a row. `is_disputed` tells whether a different row has the same label.
    fn row(&mut self, row: &Row, is_disputed: bool) {
        let mut faults = Vec::new();
        let label = row.cell(Column::Label);
        if let Some(fault) = unfit(label) {
            let help = "write the label of the roll, such as E-01";
            faults.push(Diagnostic::error("list-label", row.span, fault).help(help));
        } else if is_disputed {
            let message = format!("different rolls have the label '{}'", clip(label));
            let fault = Diagnostic::error("list-label", row.span, message);
            faults.push(fault.help("give each roll its own label"));
        }
        // A label with a line break has an unclosed quote and runs into the next row, so the other cells are not
        // checked.
        if label.contains('\n') {
            return self.leave(row, None, faults);
        }
        let film = self.film(row).map_err(|fault| faults.push(*fault)).ok();
        let format = format_of(row).map_err(|fault| faults.push(*fault)).ok();
        let index = index_of(row, film.as_deref()).map_err(|fault| faults.push(*fault)).ok();
        let recipe = self.recipe(row, film.as_deref()).map_err(|fault| faults.push(*fault)).ok().flatten();
        let done = self.done_on(row).map_err(|fault| faults.push(*fault)).ok().flatten();
        let (shot, note) = self.day(row, Column::Date);
        match (film, format, index, faults.is_empty()) {
            (Some(film), Some(format), Some(index), true) => {
                self.notes.of(note.into_iter().collect());
                if index.is_none() && film.speed.is_some() {
                    self.assumed.value_or(film.span, || (Arc::clone(&film), row.span, 0)).2 += 1;
                }
                let is_new =
                    |recipe: &Arc<Recipe>| !self.recipes.iter().any(|known| Arc::ptr_eq(known, recipe));
                let recipe = recipe.filter(is_new);
                self.recipes.extend(recipe);
                self.done.extend(done.map(|day| (label.to_owned(), day)));
                let label = label.to_owned();
                self.rolls.push(Exposed { label, format, film, index, shot, span: row.span });
            }
            // A roll that is already developed needs no load, so its errors do not matter.
            _ if done.is_some() => {}
            _ => self.leave(row, shot, faults),
        }
    }

    fn leave(&mut self, row: &Row, shot: Option<Date>, faults: Vec<Diagnostic>) {
        let cell = |column| row.cell(column).to_owned();
        let index = match cells::exposure(row.cell(Column::Index)) {
            Some(Exposure::Index(index)) => Some(index),
            _ => None,
        };
        let (film, format) = (cell(Column::Film), cell(Column::Format));
        let roll = LeftRoll { label: cell(Column::Label), film, format, index, shot, span: row.span };
        let faults = faults.into_iter().map(|fault| self.faults.add(fault)).collect();
        self.left.push((roll, faults));
    }

    fn film(&self, row: &Row) -> Result<Arc<Film>, Box<Diagnostic>> {
        let cell = row.cell(Column::Film);
        let spelling = cells::spelling(cell);
        let help = match self.films.get(&spelling).map(Vec::as_slice) {
            Some([film]) => return Ok(Arc::clone(film)),
            Some([_, ..]) => {
                let message = format!("several films are called '{}'", clip(cell));
                let fault = Diagnostic::error("list-film", row.span, message);
                return Err(Box::new(fault.help("give the films different names or titles")));
            }
            _ => match suggest(&spelling, self.films.keys().map(String::as_str))
                .and_then(|near| self.films.get(near)?.first())
            {
                Some(near) => format!("write {}", near.name),
                None => {
                    let known = self.films.values().flatten().map(|film| film.name.as_str());
                    let mut known: Vec<&str> = known.collect();
                    known.sort_unstable();
                    known.dedup();
                    let known = first_few(known, ", ");
                    format!("write the name or the title of one of these: {known}")
                }
            },
        };
        Err(wrong("list-film", (row, Column::Film), "a film, paper or plate that has a recipe", help))
    }

    /// The recipe that a row names; `None` if the cell is empty, or if the recipe is for another film than the roll's.
    /// A recipe for another film is no error, because the CSV of a plan can have it: if the plan lets developing times
    /// differ, rolls of several films share the recipe of one of them.
    fn recipe(&self, row: &Row, film: Option<&Film>) -> Result<Option<Arc<Recipe>>, Box<Diagnostic>> {
        let cell = row.cell(Column::Recipe);
        let Some(named) = self.known.get(cell) else {
            let near = suggest(cell, self.known.keys().map(String::as_str));
            let help = near.map_or_else(
                || "write the name of a recipe, or leave it empty".to_owned(),
                |near| format!("write {near}"),
            );
            let fault = || wrong("list-recipe", (row, Column::Recipe), "a recipe", help);
            return if cell.is_empty() { Ok(None) } else { Err(fault()) };
        };
        let is_for = |recipe: &&Arc<Recipe>| {
            let own = recipe.film.as_ref().map(|film| film.value.span);
            own == film.map(|film| film.span)
        };
        Ok(named.iter().find(is_for).cloned())
    }

    /// The day in a cell, and a finding about the cell, if any. A roll without a date is still planned.
    fn day(&self, row: &Row, column: Column) -> (Option<Date>, Option<Diagnostic>) {
        let cell = row.cell(column);
        let written = Written::of(cell);
        let day = written.date(self.order);
        let warning = |message: String| Diagnostic::warning("list-date", row.span, message);
        let note = match (written, day) {
            // The message leaves out the number in the cell, so that all rows with day numbers share one finding.
            (Written::Days(day), _) => {
                let advice = advice(row.span, "numbers of days are taken for dates".to_owned());
                Some(
                    advice
                        .help(format!("in this row, {} is {day}; if that is wrong, write dates", clip(cell))),
                )
            }
            (_, Some(_)) => None,
            _ if cell.is_empty() => None,
            (Written::Either(..), None) if self.order.is_none() => {
                let text =
                    "the dates could have the day or the month first, so those of these rolls are left out";
                Some(warning(text.to_owned()).help("add --dates day.month.year or --dates month.day.year"))
            }
            (Written::InUtc, None) => {
                let text = "a time in UTC does not show the day, so the dates of these rolls are left out";
                Some(warning(text.to_owned()).help("write the date alone, such as 2026-10-02"))
            }
            _ => {
                let text = format!("'{}' is not a date, so this roll's date is left out", clip(cell));
                Some(warning(text).help("write a date such as 2026-10-02, or leave it empty"))
            }
        };
        (day, note)
    }

    fn done_on(&self, row: &Row) -> Result<Option<Date>, Box<Diagnostic>> {
        let cell = row.cell(Column::Done);
        match Written::of(cell).date(self.order) {
            None if !cell.is_empty() => {
                let help = "write the day of development, such as 2026-10-02, or leave it empty";
                Err(wrong("list-date", (row, Column::Done), "a date", help))
            }
            day => Ok(day),
        }
    }

    fn finish(self, sources: &Sources, shelf: &Shelf, (file, name): (FileId, &str)) -> Listed {
        let List { rolls, recipes, done, left, faults, notes, .. } = self;
        let own = recipes.iter().map(|recipe| (recipe.file, recipe.name.clone()));
        let faults = faults.finish(sources);
        let mut groups: Map<Vec<usize>, Vec<LeftRoll>> = Map::new();
        left.into_iter().for_each(|(roll, own)| groups.value_of(own).push(roll));
        let group = |(own, rolls): (Vec<usize>, Vec<LeftRoll>)| LeftOut {
            rolls,
            faults: own.iter().filter_map(|at| faults.get(*at).cloned()).collect(),
        };
        let left = groups.into_iter().map(group).collect();
        let backlog = Backlog {
            title: name.to_owned(),
            name: name.to_owned(),
            span: Span { file, start: 0, end: 0 },
            recipes: own.chain(named(shelf, &recipes)).collect(),
            places: rolls.iter().enumerate().map(|(at, roll)| (roll.label.clone(), at)).collect(),
            rolls,
        };
        Listed { backlog, left, done, notes: notes.finish(sources) }
    }
}

fn advice(span: Span, message: String) -> Diagnostic {
    Diagnostic { level: Level::Advice, ..Diagnostic::warning("list-assumed", span, message) }
}

/// The error about a cell that is empty or wrong. `meaning` says what the cell should have.
fn wrong(
    name: &'static str,
    (row, column): (&Row, Column),
    meaning: &str,
    help: impl Into<String>,
) -> Box<Diagnostic> {
    let message = match row.cell(column) {
        "" => format!("this roll's {} is empty", column.name()),
        cell => format!("'{}' is not {meaning}", clip(cell)),
    };
    Box::new(Diagnostic::error(name, row.span, message).help(help))
}

fn format_of(row: &Row) -> Result<Format, Box<Diagnostic>> {
    let format = cells::format(row.cell(Column::Format));
    let help = || format!("write one of {}", Format::EXAMPLES);
    format.ok_or_else(|| wrong("list-format", (row, Column::Format), "a format", help()))
}

/// The exposure index of a roll, from the cell `index` or the cell `push`; `None` if both are empty.
fn index_of(row: &Row, film: Option<&Film>) -> Result<Option<u32>, Box<Diagnostic>> {
    let help = "write a number such as 400, a push such as +1, or leave it empty for the film's own speed";
    let stated = cells::exposure(row.cell(Column::Index));
    let stated =
        stated.ok_or_else(|| wrong("list-index", (row, Column::Index), "an exposure index", help))?;
    let pushed = cells::push(row.cell(Column::Push));
    let pushed = pushed
        .ok_or_else(|| wrong("list-index", (row, Column::Push), "a push in stops or thirds", "write +1"))?;
    let index = |exposure| match exposure {
        Exposure::Unstated => Ok(None),
        Exposure::Index(index) => Ok(Some(index)),
        Exposure::Pushed(thirds) => {
            // Without a known film, the row has an error about its film, which is enough.
            let Some(film) = film else { return Ok(None) };
            let speed = film.speed.map(|speed| *speed);
            let index = speed.and_then(|speed| film_speed_pushed(speed, thirds));
            index.map(Some).ok_or_else(|| {
                let message = format!("no exposure index is known for a push of '{}'", clip(&film.title));
                Box::new(Diagnostic::error("list-index", row.span, message).help("write the index itself"))
            })
        }
    };
    let (stated, pushed) = (index(stated)?, index(pushed)?);
    match (stated, pushed) {
        (Some(one), Some(other)) if one != other => {
            let message = format!("the index is {one}, but the push makes it {other}");
            let fault = Diagnostic::error("list-index", row.span, message);
            Err(Box::new(
                fault.help("write the index at which the roll was exposed, and leave the push empty"),
            ))
        }
        (one, other) => Ok(one.or(other)),
    }
}
