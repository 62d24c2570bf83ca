//! Completes the recipe and the conditions of an evening: what the command line leaves out is in the plan, in the
//! backlogs, or in the card made last.

use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::Arc;

use super::find::{self, Index, Sought};
use super::given::{Asked, At, Dunk, RollsAsked, in_scale};
use super::personal::personal;
use super::room::Room;
use super::tonight::LastCard;
use super::{Failure, Reader, darkroom, each_once, fail, root};
use crate::compile::Schedule;
use crate::editor::Desk as _;
use crate::model::{Backlog, Date, Fingerprint, Session, Temperature, Time, Volume};
use crate::plan::recipe_for;
use crate::source::Sorted as _;
use crate::vocabulary::{Declared, suggest};

/// The recipe and the conditions of an evening. Gaps in the command line are filled from the plan, the backlogs or the
/// card made last.
#[derive(Clone)]
pub(super) struct Evening {
    /// A recipe's name, a file, or `-` for standard input.
    pub(super) recipe: PathBuf,
    /// The recipe's name, if `recipe` is a file.
    pub(super) name: Option<String>,
    pub(super) at: At,
    pub(super) rolls: RollsAsked,
    pub(super) label: Vec<String>,
    pub(super) tank: Option<String>,
    /// The tank to take if neither the command line nor the plan nor the user's settings name a tank.
    pub(super) other_tank: Option<String>,
    pub(super) index: Option<u32>,
    pub(super) ending: Option<Temperature>,
    pub(super) bath: Vec<String>,
    pub(super) anyway: Vec<String>,
    pub(super) clears: Option<Time>,
    pub(super) dunk: Option<Dunk>,
    pub(super) volume: Option<Volume>,
    pub(super) date: Option<Date>,
    pub(super) no_config: bool,
    /// The planned session that is developed this evening, if any.
    pub(super) planned: Option<Planned>,
    /// Whether the command line names the recipe. If so, a suggested command line can repeat the arguments as typed.
    pub(super) is_typed: bool,
    /// An index of the declarations below the current folder that this evening may need.
    pub(super) known: Rc<Index>,
}

/// The name of a planned session, and the fingerprint that its recipe had when the session was planned.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub(super) struct Planned {
    pub(super) name: String,
    pub(super) fingerprint: String,
}

impl Evening {
    /// The evening for the arguments of `command`, such as `card`. They name a recipe, a planned load, rolls, or nothing;
    /// nothing means the next planned load.
    pub(super) fn of(command: &str, asked: Asked) -> Result<Evening, Failure> {
        let Some(recipe) = asked.recipe.clone() else { return next(asked) };
        let text = recipe.to_string_lossy().into_owned();
        let known = index(&asked, &text);
        let is_recipe = || !known.declaring(&[Declared::Recipe], Some(&text)).is_empty();
        if text == "-" || find::is_file(&recipe) || asked.name.is_some() || is_recipe() {
            return typed(asked, recipe, known);
        }
        let room = Room::open(asked.common.no_config, true)?;
        if let Some(session) = room.shelf.darkroom.planned.iter().find(|session| session.name == text) {
            let session = Arc::clone(session);
            if !room.shelf.darkroom.to_do().iter().any(|open| Arc::ptr_eq(open, &session)) {
                return fail(
                    format!("'{text}' was done, or is withdrawn"),
                    "for another card of it name its recipe; wetside next shows the next load",
                );
            }
            return of_plan(&session, asked, room);
        }
        let labels: Vec<&str> = text.split(',').map(str::trim).collect();
        if text.contains(',') || labels.iter().any(|label| room.has_roll(label)) {
            return of_labels(&labels, asked.clone(), room);
        }
        let _ = command;
        // No recipe, load or roll has this name. The module `choose` reports later that there is no such recipe, and
        // suggests similar names.
        typed(asked, recipe, known)
    }

    /// The evening for `follow` or `record` without a recipe: that of the card made last, changed by the options given
    /// now.
    pub(super) fn of_last(asked: Asked, last: &LastCard) -> Result<Evening, Failure> {
        let has_own_labels = !asked.label.is_empty() && asked.rolls.is_none();
        let mut asked = asked.over(last.asked.clone());
        let count: u32 = asked.rolls.iter().flatten().map(|(count, _)| count).sum();
        if has_own_labels && asked.label.len() != count as usize {
            asked.rolls = None;
        }
        let Some(recipe) = asked.recipe.clone() else { return next(asked) };
        let known = index(&asked, "");
        asked.common.date = asked.common.date.or(Some(last.date));
        let evening = typed(asked, recipe, known)?;
        Ok(Evening { planned: last.planned.clone(), is_typed: false, ..evening })
    }

    /// The command-line arguments that state this evening, with the given recipe and baths in place of the evening's
    /// own.
    pub(super) fn words(&self, recipe: &[String], baths: &[String]) -> Vec<String> {
        let mut words = recipe.to_vec();
        let mut put = |option: &str, value: Option<String>| {
            words.extend(value.into_iter().flat_map(|value| [format!("--{option}"), value]));
        };
        let list = |items: &[String]| Some(items.join(",")).filter(|items| !items.is_empty());
        let rolls = self.rolls.iter().map(|(count, format)| match format {
            Some(format) => format!("{count}x{format}"),
            None => count.to_string(),
        });
        put("at", Some(self.at.text.clone()));
        put("rolls", Some(rolls.collect::<Vec<_>>().join("+")));
        put("tank", self.tank.clone());
        put("label", list(&self.label));
        put("index", self.index.map(|index| index.to_string()));
        put("ending", self.ending.map(|ending| ending.to_string()));
        put("bath", list(baths));
        put("clears", self.clears.map(|time| time.to_string()));
        put("dunk", self.dunk.map(|_| "ok".to_owned()));
        put("volume", self.volume.map(|volume| volume.to_string()));
        self.anyway.iter().for_each(|name| put("anyway", Some(name.clone())));
        words.extend(self.no_config.then(|| "--no-config".to_owned()));
        words
    }
}

/// The bottles of a schedule as values of `--bath`: `BOTTLE`, or `BATH=BOTTLE` for a bath with a name.
pub(super) fn bottles_of(schedule: &Schedule) -> Vec<String> {
    let baths = schedule.steps.iter().filter_map(|step| step.bath.as_ref());
    each_once(baths.filter_map(|bath| {
        let bottle = &bath.bottle.as_ref()?.name;
        Some(bath.name.as_ref().map_or_else(|| bottle.clone(), |name| format!("{name}={bottle}")))
    }))
}

/// An index of the current folder: its darkroom, its tanks, and the recipes called `recipe`.
fn index(asked: &Asked, recipe: &str) -> Rc<Index> {
    let index = darkroom::index(Path::new(".")).with(Declared::Recipe, recipe);
    Rc::new(match &asked.common.tank {
        Some(tank) => index.with(Declared::Tank, tank),
        None => index.with_all(Declared::Tank),
    })
}

/// The evening for a command line that names the recipe.
fn typed(asked: Asked, recipe: PathBuf, known: Rc<Index>) -> Result<Evening, Failure> {
    let rolls = match &asked.rolls {
        Some(rolls) => rolls.clone(),
        None if asked.label.is_empty() => {
            return fail(
                "which rolls are in the tank?",
                "add --rolls 5x120, or the labels of rolls in a backlog: --label A-12,A-16",
            );
        }
        None => {
            let room = Room::open(asked.common.no_config, false)?;
            let labels: Vec<&str> = asked.label.iter().map(|label| label.trim()).collect();
            formats(&labels, &*room.backlog(&labels)?)?
        }
    };
    Ok(Evening {
        recipe,
        name: asked.name,
        at: temperature(asked.common.at, asked.common.no_config)?,
        rolls,
        label: asked.label,
        tank: asked.common.tank,
        other_tank: None,
        index: asked.index,
        ending: asked.common.ending,
        bath: asked.bath,
        anyway: asked.anyway,
        clears: asked.clears,
        dunk: asked.dunk,
        volume: asked.volume,
        date: asked.common.date,
        no_config: asked.common.no_config,
        planned: None,
        is_typed: true,
        known,
    })
}

/// The value of `--at`. Fails if it is not given, since the temperature must be read each evening.
fn temperature(at: Option<At>, no_config: bool) -> Result<At, Failure> {
    let Some(at) = at else {
        return fail("the temperature of the baths is not given", "read it now, and add it: --at 21.5");
    };
    if at.is_bare() {
        in_scale(&at, personal(no_config).unwrap_or_default().scale())?;
    }
    Ok(at)
}

fn next(asked: Asked) -> Result<Evening, Failure> {
    let room = Room::open(asked.common.no_config, false)?;
    let session = room.next()?;
    of_plan(&session, asked, room)
}

/// The evening of a planned session. Options of the command line override the plan.
pub(super) fn of_plan(session: &Session, mut asked: Asked, room: Room) -> Result<Evening, Failure> {
    let mut slots: Vec<_> = session.slots.iter().collect();
    slots.order_by_key(|slot| slot.slot);
    let label = |label: &Option<String>| label.clone().unwrap_or_else(|| "-".to_owned());
    if asked.rolls.is_some() && asked.label.is_empty() {
        return fail(
            format!("which rolls of '{}' are in the tank?", session.name),
            "leave --rolls out, or give the labels of the rolls: --label A-12,A-16",
        );
    }
    if asked.label.is_empty() {
        asked.label = slots.iter().map(|slot| label(&slot.label)).collect();
        asked.rolls = Some(in_runs(slots.iter().map(|slot| slot.format)));
    } else if asked.rolls.is_none()
        && let Some(backlog) = &session.backlog
    {
        let labels: Vec<&str> = asked.label.iter().map(|label| label.trim()).collect();
        asked.rolls = Some(formats(&labels, backlog)?);
    }
    if asked.bath.is_empty() {
        asked.bath = session.baths.iter().map(|used| used.bath.name.clone()).collect();
    }
    asked.common.tank = asked.common.tank.or_else(|| session.tank.clone());
    asked.volume = asked.volume.or(session.volume);
    let recipe = recipe_of(session)?;
    asked.name = Some(session.recipe.clone());
    let known = index(&asked, &session.recipe);
    let planned = Planned { name: session.name.clone(), fingerprint: session.fingerprint.clone() };
    drop(room);
    let evening = typed(asked, recipe, known)?;
    Ok(Evening { planned: Some(planned), is_typed: false, ..evening })
}

/// The file of a planned session's recipe; if several files declare a recipe of this name, the file whose recipe has
/// the planned fingerprint.
fn recipe_of(session: &Session) -> Result<PathBuf, Failure> {
    let index = Index::below(&root::ROOT, &[]).with(Declared::Recipe, &session.recipe);
    let sought = Sought::below(Declared::Recipe, &session.recipe);
    let paths = index.declaring(&[Declared::Recipe], Some(&session.recipe));
    let is_planned = |path: &&PathBuf| {
        let mut reader = Reader::default();
        let Ok(file) = reader.read(path) else { return false };
        let (shelf, _) = reader.check(&[file], &Default::default());
        let recipe = shelf.recipe(file, &session.recipe);
        recipe.is_some_and(|recipe| Fingerprint::of(recipe).full() == session.fingerprint)
    };
    match paths.iter().filter(is_planned).collect::<Vec<_>>().as_slice() {
        [one] if paths.len() > 1 => Ok((*one).clone()),
        _ => index.find(&sought),
    }
}

/// The evening on which the rolls with these labels are developed. Their backlog states the recipe.
fn of_labels(labels: &[&str], mut asked: Asked, mut room: Room) -> Result<Evening, Failure> {
    if !asked.label.is_empty() {
        return fail("the labels are given twice", "leave --label out, or name the recipe first");
    }
    let backlog = room.backlog(labels)?;
    let rolls = formats(labels, &backlog)?;
    let others = room.reader.disk.of_other_roots(&root::ROOT, &room.reader.sources);
    let first = labels.first().and_then(|label| backlog.roll(label));
    let Some(first) = first else { return fail("which rolls?", "write their labels: A-12,A-16") };
    let recipe = match recipe_for(&room.shelf, &backlog, &others, first, labels.len()) {
        Ok(recipe) => Arc::clone(recipe),
        Err(error) => return Err(room.reader.refused(vec![*error])),
    };
    let other_tank = room.only_tank(&backlog);
    let path = room.reader.disk.path(room.reader.name(recipe.file)).unwrap_or_default();
    asked.rolls = asked.rolls.or(Some(rolls));
    asked.label = labels.iter().map(|label| (*label).to_owned()).collect();
    asked.name = Some(recipe.name.clone());
    let known = index(&asked, &recipe.name);
    let evening = typed(asked, path, known)?;
    Ok(Evening { other_tank, is_typed: false, ..evening })
}

fn formats(labels: &[&str], backlog: &Backlog) -> Result<RollsAsked, Failure> {
    let format = |label: &&str| {
        backlog.roll(label).map(|roll| roll.format).ok_or_else(|| {
            let near = suggest(label, backlog.rolls.iter().map(|roll| &*roll.label));
            let help = near.map_or_else(
                || "state the formats too: --rolls 5x120".to_owned(),
                |near| format!("did you mean {near}? Or state the formats too: --rolls 5x120"),
            );
            Failure::new(format!("the backlog '{}' has no roll '{label}'", backlog.name), help)
        })
    };
    let formats = labels.iter().map(format).collect::<Result<Vec<_>, Failure>>()?;
    Ok(in_runs(formats.into_iter()))
}

/// Combines equal formats that follow each other: 120, 120, 135 become 2x120 and 1x135.
fn in_runs(formats: impl Iterator<Item = crate::model::Format>) -> RollsAsked {
    let mut runs: RollsAsked = Vec::new();
    for format in formats {
        match runs.last_mut() {
            Some((count, Some(last))) if *last == format => *count += 1,
            _ => runs.push((1, Some(format))),
        }
    }
    runs
}
