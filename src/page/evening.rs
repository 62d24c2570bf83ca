//! Answers the requests for cards and sheets. The conditions are texts as the command line takes them.

use std::path::Path;
use std::sync::Arc;

use serde::Deserialize;
use serde_json::{Map, Value, json};

use super::desk::MemoryDesk;
use super::{Compiler, Refusal};
use crate::check::{Levels, check_all, declared_names};
use crate::compile::asked::{at, in_formats, rolls, start, value};
use crate::compile::{Personal, Scale, Schedule, Tonight, Warning, by_index, compile};
use crate::emit::{self, Card, Look};
use crate::measure::{Asked, Weighing, measure};
use crate::model::{Date, Mass, Recipe, Shelf, Tank, Temperature, Time, Volume};
use crate::source::{Diagnostic, FileId, Files as _, Sources, root_in};
use crate::vocabulary::{Declared, Index};

/// The width of a card as text, in columns.
const WIDTH: usize = 72;

/// A recipe, and the conditions of the session.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Evening {
    /// The name of the recipe's file.
    file: String,
    recipe: String,
    /// The temperature of the baths, as in `37.8C,wash=30C`.
    at: String,
    /// The rolls, as in `3x120+2x135`.
    rolls: String,
    #[serde(default)]
    tank: Option<String>,
    #[serde(default)]
    index: Option<String>,
    #[serde(default)]
    ending: Option<String>,
    #[serde(default)]
    volume: Option<String>,
    #[serde(default)]
    clears: Option<String>,
    /// The day of the start, such as `2026-11-25`, for a calendar.
    #[serde(default)]
    date: Option<String>,
    /// The time of day of the start, as in `19:30`.
    #[serde(default)]
    start: Option<String>,
}

/// A form in which a page can ask for a card.
#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Form {
    /// Plain text.
    Text,
    /// HTML to insert into a page.
    Body,
    /// An HTML page to read, to print and to follow at the sink.
    Html,
    /// JSON, for programs.
    Json,
    /// A picture of the charts that give the times, as SVG; `null` if no time is from a chart.
    Curve,
    /// A picture of the steps along a time axis, as SVG.
    Strip,
    /// A table for a spreadsheet.
    Csv,
    /// An entry for a calendar.
    Ics,
}

/// The result of checking a recipe file. If another file declares the tank, that file is checked with it.
pub(super) struct Known {
    file: String,
    tank: Option<String>,
    clears: bool,
    sources: Sources,
    roots: Vec<FileId>,
    shelf: Shelf,
    findings: Vec<Diagnostic>,
}

impl Known {
    fn recipe(&self, name: &str) -> Option<&Arc<Recipe>> {
        self.shelf.recipe(*self.roots.first()?, name)
    }

    fn tanks(&self) -> impl Iterator<Item = (&str, &Arc<Tank>)> {
        self.roots.iter().flat_map(|file| self.shelf.tanks_of(*file))
    }
}

impl Compiler {
    /// The card for these conditions as a JSON object, with a key for each form.
    pub(super) fn card(&mut self, evening: &Evening, forms: &[Form]) -> Result<Value, Refusal> {
        let tonight = conditions(evening)?;
        self.know(&evening.file, evening.tank.as_deref(), tonight.clears.is_some())?;
        let Some(known) = &self.last else { return Err(not_here(&evening.recipe)) };
        let schedule = scheduled(known, evening, tonight)?;
        let card = emit::card(&schedule, &known.sources);
        let mut answer = Map::new();
        answer.insert("summary".to_owned(), json!(format!("{} · total {}", card.title, card.total.time)));
        for form in forms {
            let (name, value) = formed(*form, (&schedule, &card), &known.sources, evening)?;
            answer.insert(name.to_owned(), value);
        }
        Ok(Value::Object(answer))
    }

    pub(super) fn sheet(&mut self, file: &str, solution: &str, make: &str) -> Result<Value, Refusal> {
        let make =
            value::<Volume, _>(make).map_err(|why| Refusal::asked(why, "write a volume, as in 2.5l"))?;
        self.know(file, None, false)?;
        let Some(known) = &self.last else { return Err(not_here(solution)) };
        let own = |one: &&(FileId, Arc<_>)| known.roots.contains(&one.0);
        let found = known.shelf.solutions.iter().filter(own).map(|(_, one)| one);
        let Some(found) = found.into_iter().find(|one: &&Arc<crate::model::Solution>| one.name == solution)
        else {
            return Err(Refusal::found(&known.sources, &known.findings));
        };
        let asked =
            Asked::Weighing(Weighing { step: Mass { pg: Mass::G / 10 }, had: Vec::new(), taps: None });
        let sheet = measure(found, make, &asked, &Personal::default());
        let sheet = sheet.map_err(|found| Refusal::found(&known.sources, &found))?;
        let look = Look { width: WIDTH, ..Look::default() };
        Ok(
            json!({ "text": emit::sheet(&sheet, emit::Units { scale: Scale::Celsius, with_us: false }).text(look), "json": emit::sheet_json(&sheet) }),
        )
    }

    /// The only file with the same root folder as `file` that declares a tank of this name; `None` if no file or
    /// several do.
    fn declaring(&mut self, desk: &MemoryDesk, file: &str, tank: &str) -> Option<String> {
        let own = |other: &String| root_in(Path::new(other)) == root_in(Path::new(file));
        let mut fitting = Vec::new();
        for other in desk.names().into_iter().filter(own) {
            let tanks = self.tanks.value_or(other.clone(), || tanks_in(desk, &other));
            fitting.extend(tanks.iter().any(|name| name == tank).then_some(other));
        }
        match fitting.as_slice() {
            [only] => Some(only.clone()),
            _ => None,
        }
    }

    /// Checks `file` and sets `last`, unless `last` is already the result for these arguments. If `file` lacks the
    /// tank, the file that declares it is checked too.
    fn know(&mut self, file: &str, tank: Option<&str>, clears: bool) -> Result<(), Refusal> {
        let is_known =
            |known: &Known| (&*known.file, known.tank.as_deref(), known.clears) == (file, tank, clears);
        if self.last.as_ref().is_some_and(is_known) {
            return Ok(());
        }
        let desk = MemoryDesk(self.texts.clone());
        let mut sources = Sources::default();
        let text = desk.read(file).map_err(|why| Refusal::unread(file, &why))?;
        let main = sources.add(file, text);
        let mut roots = vec![main];
        let mut levels = Levels::default();
        levels.clears_tonight = clears;
        let (mut shelf, mut findings) = check_all(&mut sources, &roots, &desk, &levels);
        let lacks = |shelf: &Shelf, name: &str| !shelf.tanks_of(main).any(|(own, _)| own == name);
        if let Some(name) = tank.filter(|name| lacks(&shelf, name))
            && let Some(other) = self.declaring(&desk, file, name)
        {
            sources = Sources::default();
            roots = [file, &other]
                .iter()
                .filter_map(|name| Some(sources.add(*name, desk.read(name).ok()?)))
                .collect();
            (shelf, findings) = check_all(&mut sources, &roots, &desk, &levels);
        }
        let (file, tank) = (file.to_owned(), tank.map(str::to_owned));
        self.last = Some(Known { file, tank, clears, sources, roots, shelf, findings });
        Ok(())
    }
}

fn tanks_in(desk: &MemoryDesk, file: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let id = sources.add(file, desk.read(file).unwrap_or_default());
    let all = declared_names(&sources, id).into_iter();
    all.filter(|(kind, _)| *kind == Declared::Tank).map(|(_, name)| name).collect()
}

fn not_here(name: &str) -> Refusal {
    Refusal::asked(format!("there is no '{name}' in this file"), "choose another")
}

/// The conditions of the session, except the rolls and the tank. An empty text counts as not stated.
fn conditions(evening: &Evening) -> Result<Tonight, Refusal> {
    let refused = |what: &'static str| move |why: String| Refusal::asked(format!("{what}: {why}"), EXAMPLE);
    let given = |text: &Option<String>| text.clone().filter(|text| !text.trim().is_empty());
    let baths = at(&evening.at).map_err(refused("temperature"))?;
    let ending = given(&evening.ending).map(|text| value::<Temperature, _>(&text));
    let volume = given(&evening.volume).map(|text| value::<Volume, _>(&text));
    let clears = given(&evening.clears).map(|text| value::<Time, _>(&text));
    let start = given(&evening.start).map(|text| start(&text));
    Ok(Tonight {
        scale: baths.scale,
        step_temperatures: baths.steps,
        ending: ending.transpose().map_err(refused("temperature at the end"))?,
        volume: volume.transpose().map_err(refused("volume"))?,
        clears: clears.transpose().map_err(refused("clearing time"))?,
        start: start.transpose().map_err(refused("start"))?,
        ..Tonight::new(baths.temperature, Vec::new())
    })
}

/// The help for a condition that cannot be parsed.
const EXAMPLE: &str = "write a temperature as 21.5C, rolls as 5x120, a time as 1:20, a volume as 2.5l";

fn scheduled(known: &Known, evening: &Evening, mut tonight: Tonight) -> Result<Schedule, Refusal> {
    let Some(recipe) = known.recipe(&evening.recipe) else {
        return match known.findings.is_empty() {
            true => Err(not_here(&evening.recipe)),
            false => Err(Refusal::found(&known.sources, &known.findings)),
        };
    };
    let index = evening.index.as_deref().filter(|text| !text.trim().is_empty());
    let index = index.map(value::<Index, _>).transpose();
    let recipe = match index.map_err(|why| Refusal::asked(why, "write an exposure index, as in 400"))? {
        None => recipe,
        Some(index) => by_index(&known.shelf, recipe, index)
            .map_err(|error| Refusal::found(&known.sources, &[*error]))?,
    };
    if let Some(name) = evening.tank.as_deref().filter(|name| !name.is_empty()) {
        let found = known.tanks().find(|(own, _)| *own == name).map(|(_, tank)| Arc::clone(tank));
        tonight.tank = Some(found.ok_or_else(|| not_here(name))?);
    }
    let asked = rolls(&evening.rolls).map_err(|why| Refusal::asked(why, EXAMPLE))?;
    tonight.rolls = in_formats(&asked, tonight.tank.as_deref())
        .map_err(|(message, help)| Refusal::asked(message, help))?;
    let warnings = Warning::of(&known.findings, &known.shelf, recipe);
    compile(&known.shelf, recipe, &tonight, warnings).map_err(|found| Refusal::found(&known.sources, &found))
}

fn record(evening: &Evening) -> String {
    let options = [
        ("--tank", &evening.tank),
        ("--index", &evening.index),
        ("--ending", &evening.ending),
        ("--volume", &evening.volume),
        ("--clears", &evening.clears),
        ("--date", &evening.date),
    ];
    let stated = options.into_iter().filter_map(|(name, value)| Some([name, value.as_deref()?.trim()]));
    let stated = stated.filter(|[_, value]| !value.is_empty()).flatten();
    let own = [&evening.file, &evening.recipe, "--at", &evening.at, "--rolls", &evening.rolls];
    emit::command_line(["wetside", "record"].into_iter().chain(own).chain(stated))
}

fn formed(
    form: Form,
    (schedule, card): (&Schedule, &Card),
    sources: &Sources,
    evening: &Evening,
) -> Result<(&'static str, Value), Refusal> {
    Ok(match form {
        Form::Text => {
            let look = Look { width: WIDTH, ..Look::default() };
            ("text", json!(emit::text(card, look)))
        }
        Form::Body => ("body", json!(emit::body(card))),
        Form::Html => {
            let parts = emit::PageParts { reasons: false, record: &record(evening), asking: None };
            ("html", json!(emit::html(schedule, sources, parts)))
        }
        Form::Json => ("json", json!(emit::json(schedule, sources))),
        Form::Curve => ("curve", json!(emit::curve(schedule))),
        Form::Strip => ("strip", json!(emit::strip(schedule))),
        Form::Csv => ("csv", json!(emit::csv(schedule))),
        Form::Ics => {
            let day = value::<Date, _>(evening.date.as_deref().unwrap_or_default());
            let day = day.map_err(|why| Refusal::asked(why, "write the day, as in 2026-11-25"))?;
            let start = schedule.conditions.start;
            let start =
                start.ok_or_else(|| Refusal::asked("the start is missing", "write it, as in 19:30"))?;
            let late = || Refusal::asked("the calendar ends with the year 9999", "name an earlier day");
            ("ics", json!(emit::ics(schedule, day, start).ok_or_else(late)?))
        }
    })
}
