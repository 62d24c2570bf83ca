//! Reads a table of readings: a column for each strip, a row for each step of the wedge.

use crate::model::{Temperature, Time};
use crate::source::{Diagnostic, FileId, Sources, Span, clip};
use crate::trial::STOP;

/// The readings of a trial, as the table states them.
#[derive(Debug, Default)]
pub(super) struct Table {
    pub(super) exposure: Exposure,
    pub(super) columns: Vec<Column>,
}

/// By what the rows of a table are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Exposure {
    /// By the densities of the wedge's steps.
    #[default]
    Wedge,
    /// By stops above or below the meter's reading.
    Stops,
    /// By the logarithm of the exposure in lux seconds.
    LogH,
}

/// The readings of one strip.
#[derive(Debug)]
pub(super) struct Column {
    pub(super) time: Time,
    pub(super) at: Temperature,
    /// The span of the column's heading.
    pub(super) span: Span,
    pub(super) fog: Vec<f64>,
    /// The known steps in the picture: the density, and the reading.
    pub(super) known: Vec<(f64, f64)>,
    /// For each step the logarithm of its exposure, the reading, and the span of its row.
    pub(super) steps: Vec<(f64, f64, Span)>,
}

/// The most rows and columns of a table.
const ROWS_MAX: usize = 500;
const COLUMNS_MAX: usize = 100;
/// The greatest density, number of stops or logarithm of an exposure that a row can have.
const STEP_MAX: f64 = 40.0;

impl Exposure {
    fn parse(heading: &str) -> Option<Exposure> {
        match heading.trim_start_matches('\u{feff}').trim().to_lowercase().as_str() {
            "wedge" => Some(Exposure::Wedge),
            "stops" => Some(Exposure::Stops),
            "log h" => Some(Exposure::LogH),
            _ => None,
        }
    }

    /// The logarithm of the exposure of a row with this number. A denser step of a wedge lets less light through.
    fn log(self, number: f64) -> f64 {
        match self {
            Exposure::Wedge => -number,
            Exposure::Stops => number * STOP,
            Exposure::LogH => number,
        }
    }
}

/// What a row of the table has.
enum Row {
    Fog,
    Temperatures,
    Known(f64),
    Step(f64),
}

pub(super) struct Reader<'a> {
    file: FileId,
    text: &'a str,
    /// Whether numbers may have a decimal comma, because another sign is between the cells.
    has_decimal_commas: bool,
    faults: Vec<Diagnostic>,
}

/// The table in a file. `usual` is the temperature of a strip that states none.
///
/// # Errors
/// Everything that cannot be read in the table.
pub(super) fn read(
    sources: &Sources,
    file: FileId,
    usual: Option<Temperature>,
) -> Result<Table, Vec<Diagnostic>> {
    let text = sources.text(file);
    let is_comment = |line: &str| line.trim().is_empty() || line.trim_start().starts_with('#');
    let head = text.lines().find(|line| !is_comment(line)).unwrap_or("");
    let between = ['\t', ';', ','].into_iter().find(|sign| head.contains(*sign)).unwrap_or(',');
    let mut reader = Reader { file, text, has_decimal_commas: between != ',', faults: Vec::new() };
    let table = reader.table(between, usual);
    if reader.faults.is_empty() { Ok(table.unwrap_or_default()) } else { Err(reader.faults) }
}

impl Reader<'_> {
    fn table(&mut self, between: char, usual: Option<Temperature>) -> Option<Table> {
        let mut rows = self.rows(between);
        let Some((head, span)) = (!rows.is_empty()).then(|| rows.remove(0)) else {
            self.fault(
                "readings-empty",
                0,
                "the table has no rows",
                "write a first row such as: wedge, 4:00, 5:30, 8:00; then a row for fog and for each step",
            );
            return None;
        };
        let first = head.first().map_or("", String::as_str);
        let Some(exposure) = Exposure::parse(first) else {
            self.found(
                "readings-heading",
                span,
                format!("the first cell does not say what the rows are: '{}'", clip(first)),
                "write wedge, if each row begins with the density of a step; stops, for stops from the meter; or log H",
            );
            return None;
        };
        // Empty cells at the end of the row are no columns.
        let last = head.iter().rposition(|cell| !cell.is_empty()).unwrap_or(0);
        let headings = head.get(1..=last).unwrap_or_default().iter();
        let mut columns: Vec<(Time, Option<Temperature>)> = Vec::new();
        for heading in headings.take(COLUMNS_MAX) {
            match self.heading(heading) {
                Some(column) => columns.push(column),
                None => self.found(
                    "readings-time",
                    span,
                    format!("a column needs a development time, and this is '{}'", clip(heading)),
                    "write the time, such as 8:00, or with its temperature: 8:00 at 20 C",
                ),
            }
        }
        let rows = rows.into_iter().take(ROWS_MAX).collect::<Vec<_>>();
        let table = self.filled(exposure, &columns, &rows, (span, usual));
        Some(table)
    }

    /// The rows with their cells, without empty rows and comments.
    fn rows(&mut self, between: char) -> Vec<(Vec<String>, Span)> {
        let mut rows = Vec::new();
        let mut start = 0;
        for line in self.text.split_inclusive('\n') {
            let words = line.trim_end();
            let cells: Vec<String> =
                words.split(between).map(|cell| cell.trim().trim_matches('"').to_owned()).collect();
            let is_empty = cells.iter().all(String::is_empty) || words.trim_start().starts_with('#');
            let end = start + words.len();
            if !is_empty {
                rows.push((cells, self.span(start, end)));
            }
            start += line.len();
        }
        rows
    }

    fn span(&self, start: usize, end: usize) -> Span {
        let at = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
        Span { file: self.file, start: at(start), end: at(end) }
    }

    /// A column's time, with its temperature if it has one: `8:00`, `8:00 at 20 C`.
    fn heading(&self, text: &str) -> Option<(Time, Option<Temperature>)> {
        let (time, at) = match text.split_once(" at ") {
            Some((time, at)) => (time, Some(temperature(at)?)),
            None => (text, None),
        };
        Some((self.time(time.trim())?, at))
    }

    /// A time: `8:00`, or minutes as a number, `8` or `8.5`.
    fn time(&self, text: &str) -> Option<Time> {
        let text = text.trim_end_matches("min").trim();
        let minutes = match text.split_once(':') {
            Some((minutes, seconds)) if seconds.len() == 2 => {
                minutes.parse::<f64>().ok()? + seconds.parse::<f64>().ok().filter(|it| *it < 60.0)? / 60.0
            }
            Some(_) => return None,
            None => self.number(text)?,
        };
        (0.05..=1440.0).contains(&minutes).then(|| Time::from_minutes(minutes))
    }

    fn number(&self, text: &str) -> Option<f64> {
        let text = if self.has_decimal_commas { text.replace(',', ".") } else { text.to_owned() };
        text.parse::<f64>().ok().filter(|number| number.is_finite() && number.abs() < 1e9)
    }

    fn row(&self, name: &str) -> Option<Row> {
        let name = name.to_lowercase();
        match name.as_str() {
            "fog" | "clear" | "base" => Some(Row::Fog),
            "temperature" | "at" | "c" | "°c" => Some(Row::Temperatures),
            _ => match name.strip_prefix("known ") {
                Some(density) => {
                    let density =
                        self.number(density.trim()).filter(|density| (0.0..=STEP_MAX).contains(density));
                    Some(Row::Known(density?))
                }
                None => Some(Row::Step(self.number(&name).filter(|number| number.abs() <= STEP_MAX)?)),
            },
        }
    }

    fn filled(
        &mut self,
        exposure: Exposure,
        headings: &[(Time, Option<Temperature>)],
        rows: &[(Vec<String>, Span)],
        (span, usual): (Span, Option<Temperature>),
    ) -> Table {
        let temperatures = rows.iter().find(|(cells, _)| {
            cells.first().is_some_and(|name| matches!(self.row(name), Some(Row::Temperatures)))
        });
        let mut columns = Vec::new();
        for (at, (time, own)) in headings.iter().enumerate() {
            let cell = temperatures.and_then(|(cells, _)| cells.get(at + 1));
            let stated = cell.and_then(|cell| temperature(cell));
            let Some(warm) = own.or(stated).or(usual) else {
                let message = format!("the strip of {time} does not say how warm the developer was");
                let help = "write it in the heading, such as 8:00 at 20 C; for all of them: --at 20C";
                self.found("readings-temperature", span, message, help);
                continue;
            };
            columns.push(Column {
                time: *time,
                at: warm,
                span,
                fog: Vec::new(),
                known: Vec::new(),
                steps: Vec::new(),
            });
        }
        for (cells, place) in rows {
            let name = cells.first().map_or("", String::as_str);
            let Some(row) = self.row(name) else {
                let message = format!("this row is neither fog nor a step: '{}'", clip(name));
                let help = "begin it with fog, with a number, or with known and the density of a step in the picture";
                self.found("readings-row", *place, message, help);
                continue;
            };
            if matches!(row, Row::Temperatures) {
                continue;
            }
            for (column, cell) in
                columns.iter_mut().zip(cells.iter().skip(1)).filter(|(_, cell)| !cell.is_empty())
            {
                let Some(reading) = self.number(cell) else {
                    let message = format!("this is no reading: '{}'", clip(cell));
                    self.found(
                        "readings-number",
                        *place,
                        message,
                        "write a number, such as 0.66, or leave the cell empty",
                    );
                    continue;
                };
                match row {
                    Row::Fog => column.fog.push(reading),
                    Row::Known(density) => column.known.push((density, reading)),
                    Row::Step(number) => column.steps.push((exposure.log(number), reading, *place)),
                    Row::Temperatures => {}
                }
            }
        }
        Table { exposure, columns }
    }

    fn found(&mut self, name: &'static str, span: Span, message: impl Into<String>, help: &str) {
        self.faults.push(Diagnostic::error(name, span, message).help(help));
    }

    fn fault(&mut self, name: &'static str, at: usize, message: &str, help: &str) {
        self.found(name, self.span(at, at), message, help);
    }
}

/// A temperature: `20`, `20 C` or `68 F`.
fn temperature(text: &str) -> Option<Temperature> {
    let text = text.trim().trim_start_matches('°');
    let (number, is_fahrenheit) = match text.strip_suffix(['F', 'f']) {
        Some(number) => (number, true),
        None => (text.strip_suffix(['C', 'c']).unwrap_or(text), false),
    };
    let number =
        crate::model::Number::parse(number.trim().trim_end_matches('°').trim().replace(',', ".").as_str())?;
    if is_fahrenheit { Temperature::from_fahrenheit(number) } else { Temperature::from_celsius(number) }
}
