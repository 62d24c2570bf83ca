//! Reads a table of readings: a column for each strip, a row for each step of the wedge.

use crate::model::{Temperature, Time};
use crate::source::{Diagnostic, FileId, Sources, Span, clip};
use crate::trial::STOP;

#[derive(Debug, Default)]
pub(super) struct Table {
    pub(super) exposure: Exposure,
    pub(super) columns: Vec<Column>,
}

/// How the first cell of each row states the exposure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Exposure {
    /// As the density of the wedge's step.
    #[default]
    Wedge,
    /// In stops above or below the meter's reading.
    Stops,
    /// As the logarithm of the exposure in lux seconds.
    LogH,
}

#[derive(Debug)]
pub(super) struct Column {
    pub(super) time: Time,
    pub(super) at: Temperature,
    pub(super) span: Span,
    /// The readings of base and fog, each with the span of its row.
    pub(super) fog: Vec<(f64, Span)>,
    /// The known steps in the picture, each as its density and its reading.
    pub(super) known: Vec<(f64, f64)>,
    /// For each step the logarithm of its exposure, the reading, and the span of its row.
    pub(super) steps: Vec<(f64, f64, Span)>,
}

const ROWS_MAX: usize = 500;
const COLUMNS_MAX: usize = 100;

impl Exposure {
    fn parse(heading: &str) -> Option<Exposure> {
        match heading.trim_start_matches('\u{feff}').trim().to_lowercase().as_str() {
            "wedge" => Some(Exposure::Wedge),
            "stops" => Some(Exposure::Stops),
            "log h" => Some(Exposure::LogH),
            _ => None,
        }
    }

    /// Whether this number can begin a row: a density from 0 to 6, or stops or a logarithm from -20 to 20.
    fn has_row(self, number: f64) -> bool {
        match self {
            Exposure::Wedge => (0.0..=6.0).contains(&number),
            Exposure::Stops | Exposure::LogH => number.abs() <= 20.0,
        }
    }

    /// The number with its quantity, such as `a density of 0.2`.
    fn words(self, number: impl std::fmt::Display) -> String {
        match self {
            Exposure::Wedge => format!("a density of {number}"),
            Exposure::Stops => format!("{number} stops"),
            Exposure::LogH => format!("a logarithm of {number}"),
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

enum Row {
    Fog,
    Temperatures,
    Known(f64),
    Step(f64),
}

pub(super) struct Reader<'a> {
    file: FileId,
    text: &'a str,
    /// Whether numbers may have a decimal comma, because cells are not separated by commas.
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
    let stated = text.lines().next().and_then(|line| line.trim_end_matches('\r').strip_prefix("sep="));
    let head = text.lines().skip(usize::from(stated.is_some())).find(|line| !is_comment(line)).unwrap_or("");
    let between = [b'\t', b';', b','].into_iter().find(|sign| head.contains(char::from(*sign)));
    let between = stated.and_then(|sign| sign.bytes().next()).or(between).unwrap_or(b',');
    let mut reader = Reader { file, text, has_decimal_commas: between != b',', faults: Vec::new() };
    let table = reader.table(between, usual);
    if reader.faults.is_empty() { Ok(table.unwrap_or_default()) } else { Err(reader.faults) }
}

impl Reader<'_> {
    fn table(&mut self, between: u8, usual: Option<Temperature>) -> Option<Table> {
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
        // Empty cells at the end of the row are not columns.
        let last = head.iter().rposition(|cell| !cell.is_empty()).unwrap_or(0);
        if last == 0 {
            let help =
                "write the development time of each strip beside the first cell, such as: wedge, 4:00, 8:00";
            self.found("readings-empty", span, "the table has no strips", help);
            return None;
        }
        if last > COLUMNS_MAX || rows.len() > ROWS_MAX {
            let message = format!("a table has at most {COLUMNS_MAX} strips and {ROWS_MAX} rows");
            self.found("readings-too-many", span, message, "write several tables");
            return None;
        }
        let mut columns: Vec<(Time, Option<Temperature>)> = Vec::new();
        for heading in head.get(1..=last).unwrap_or_default() {
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
        self.look_for_long_rows(&rows, last);
        let mut columns = self.columns(&columns, &rows, (span, usual));
        // If a heading cannot be read, its column is missing here, and its readings would go into the next column.
        if columns.len() == last {
            self.fill(exposure, &mut columns, &rows);
        }
        Some(Table { exposure, columns })
    }

    fn rows(&self, between: u8) -> Vec<(Vec<String>, Span)> {
        let mut table = csv::ReaderBuilder::new();
        table.delimiter(between).flexible(true).has_headers(false).trim(csv::Trim::All).comment(Some(b'#'));
        let records = table.from_reader(self.text.as_bytes()).into_records().map_while(Result::ok);
        let row = |record: csv::StringRecord| {
            let cells: Vec<String> = record.iter().map(str::to_owned).collect();
            let first = cells.first()?;
            let is_left_out =
                first.starts_with(['#']) || first.starts_with("sep=") || cells.iter().all(String::is_empty);
            let at = record.position().map_or(0, csv::Position::byte);
            (!is_left_out).then(|| (cells, self.line(usize::try_from(at).unwrap_or(0))))
        };
        records.filter_map(row).collect()
    }

    /// The span of the first line, from the byte `start` on, that is neither empty nor a comment.
    fn line(&self, start: usize) -> Span {
        let rest = self.text.get(start..).unwrap_or_default();
        let mut start = start;
        for line in rest.split_inclusive('\n') {
            if !line.trim().is_empty() && !line.starts_with('#') {
                return self.span(start, start + line.trim_end().len());
            }
            start += line.len();
        }
        self.span(start, start)
    }

    fn look_for_long_rows(&mut self, rows: &[(Vec<String>, Span)], last: usize) {
        let long = rows.iter().find(|(cells, _)| cells.iter().skip(last + 1).any(|cell| !cell.is_empty()));
        if let Some((cells, span)) = long {
            let message =
                format!("this row has {} readings, and the first row names {last} strips", cells.len() - 1);
            let help = if self.has_decimal_commas {
                "write the time of each strip into the first row"
            } else {
                "if the numbers have decimal commas, put a semicolon or a tab between the cells"
            };
            self.found("readings-cells", *span, message, help);
        }
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

    /// A number. `None` also if it is not clear whether a comma is a decimal comma or separates thousands.
    fn number(&self, text: &str) -> Option<f64> {
        let is_unclear =
            |(whole, part): (&str, &str)| part.len() == 3 && !whole.trim_start_matches('-').eq("0");
        let text = text.replace('\u{2212}', "-");
        if !self.has_decimal_commas && text.split_once(',').is_some_and(is_unclear) {
            return None;
        }
        text.replace(',', ".").parse::<f64>().ok().filter(|number| number.is_finite() && number.abs() < 1e9)
    }

    fn row(&self, name: &str) -> Option<Row> {
        let name = name.to_lowercase();
        match name.as_str() {
            "fog" | "clear" | "base" => Some(Row::Fog),
            "temperature" | "at" | "c" | "°c" => Some(Row::Temperatures),
            _ => match name.strip_prefix("known ") {
                Some(density) => {
                    Some(Row::Known(self.number(density.trim()).filter(|it| Exposure::Wedge.has_row(*it))?))
                }
                None => Some(Row::Step(self.number(&name)?)),
            },
        }
    }

    fn columns(
        &mut self,
        headings: &[(Time, Option<Temperature>)],
        rows: &[(Vec<String>, Span)],
        (span, usual): (Span, Option<Temperature>),
    ) -> Vec<Column> {
        let is_of_temperatures = |name: &String| matches!(self.row(name), Some(Row::Temperatures));
        let temperatures = rows.iter().find(|(cells, _)| cells.first().is_some_and(is_of_temperatures));
        let mut columns = Vec::new();
        for (at, (time, own)) in headings.iter().enumerate() {
            let cell = temperatures.and_then(|(cells, place)| Some((cells.get(at + 1)?, *place)));
            let cell = cell.filter(|(cell, _)| !cell.is_empty());
            let stated = cell.and_then(|(cell, _)| temperature(cell));
            if let Some((cell, place)) = cell.filter(|_| stated.is_none()) {
                let message = format!("this is no temperature: '{}'", clip(cell));
                self.found(
                    "readings-temperature",
                    place,
                    message,
                    "write it in degrees Celsius, such as 20, or 68 F",
                );
                continue;
            }
            let Some(warm) = own.or(stated).or(usual) else {
                let message = format!("the strip of {time} does not say how warm the developer was");
                let help = "write it in the heading, such as 8:00 at 20 C; for all of them: --at 20C";
                self.found("readings-temperature", span, message, help);
                continue;
            };
            let (fog, known, steps) = Default::default();
            columns.push(Column { time: *time, at: warm, span, fog, known, steps });
        }
        columns
    }

    fn fill(&mut self, exposure: Exposure, columns: &mut [Column], rows: &[(Vec<String>, Span)]) {
        for (cells, place) in rows {
            let name = cells.first().map_or("", String::as_str);
            let row = self.row(name);
            let (message, help) = match &row {
                None => (
                    format!("this row is neither fog nor a step: '{}'", clip(name)),
                    "begin it with fog, with a number, or with known and the density of a step in the picture",
                ),
                Some(Row::Step(number)) if !exposure.has_row(*number) => (
                    format!("no step has {}", exposure.words(clip(name))),
                    "begin each row with the density of its step, such as 0.05 or 0.20, not with its number; or see \
                     whether a digit was mistyped",
                ),
                Some(row) => {
                    for (column, cell) in columns.iter_mut().zip(cells.iter().skip(1)) {
                        self.reading(column, (row, exposure), (cell, *place));
                    }
                    continue;
                }
            };
            self.found("readings-row", *place, message, help);
        }
    }

    /// Adds a reading to its column. An empty cell is skipped.
    fn reading(
        &mut self,
        column: &mut Column,
        (row, exposure): (&Row, Exposure),
        (cell, place): (&str, Span),
    ) {
        if cell.is_empty() || matches!(row, Row::Temperatures) {
            return;
        }
        let Some(reading) = self.number(cell) else {
            let message = format!("this is no reading: '{}'", clip(cell));
            let help =
                "write a number, such as 0.66, without a sign between thousands; or leave the cell empty";
            return self.found("readings-number", place, message, help);
        };
        match row {
            Row::Fog => column.fog.push((reading, place)),
            Row::Known(density) => column.known.push((*density, reading)),
            Row::Step(number) => column.steps.push((exposure.log(*number), reading, place)),
            Row::Temperatures => {}
        }
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
