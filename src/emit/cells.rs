//! The steps of a card as rows for paper: each action of a step is a cell, from left to right.

use super::card;
use super::document::{Cell, Marks, StepRow, Stub};
use super::lid::{self, Lid};
use super::moments::{self, Moves};
use super::phrase::{self, Fate};
use super::plain::{plain, prefixed};
use super::signs;
use super::vessel::{Vessel, dried};
use crate::compile::{Action, Event, PlannedStep, Schedule, Slot, spoken};
use crate::model::{Step, Time};

/// A step that begins less than this time after a step with a box to tick has no box, because hands are wet. Common
/// practice, no source.
const APART: Time = Time::from_seconds(30);
/// A cell lists the times of at most this many movements one by one.
const MARKS_MOST: usize = 12;
const THEN: &str = "then";
const POURED_AT: &str = "poured at __:__";
const TRUE_TIME: &str = "true time ____";

pub(super) fn rows(schedule: &Schedule) -> Vec<StepRow> {
    let lid = Lid::of(schedule);
    let first_bath = schedule.steps.iter().position(|step| step.bath.is_some());
    let mut ticked: Option<Time> = None;
    let mut rows = Vec::new();
    for (at, step) in schedule.steps.iter().enumerate() {
        let has_box = ticked.is_none_or(|last| step.start - last >= APART);
        if has_box {
            ticked = Some(step.start);
        }
        let paper =
            OnPaper { schedule, step, vessel: Vessel::of(schedule), zero: step.start + step.handling };
        let mut cells = paper.cells(schedule.steps.get(at + 1));
        if let Some(pour) =
            cells.iter_mut().find(|cell| cell.verb == "POUR").filter(|_| first_bath == Some(at))
        {
            pour.blanks.push(POURED_AT);
        }
        if let Some(last) = cells.last_mut() {
            last.blanks.push(TRUE_TIME);
        }
        rows.push(StepRow {
            time: paper.time(),
            has_box,
            cells,
            light: light(schedule, lid.as_ref(), at),
            below: paper.below(),
        });
    }
    rows
}

/// The line about light for the row of the step with the index `at`; `None` if another row has the line. If the film
/// must be in the fixer for some time, the last fixing step has the line. Otherwise the step from which light is
/// allowed has it.
fn light(schedule: &Schedule, lid: Option<&Lid>, at: usize) -> Option<String> {
    let (lid, light) = (lid?, schedule.light?);
    let step = schedule.steps.get(at)?;
    let pour = step.start + step.handling;
    match (light.in_fixer, lid.fillings.last()) {
        (Some(_), Some(fixer)) => lid::on_card(schedule).filter(|_| fixer.pour == pour),
        _ if light.step == at => {
            let clock = phrase::between(pour, light.at.max(pour));
            Some(format!("{clock}  {}", lid.once()))
        }
        _ => None,
    }
}

struct OnPaper<'a> {
    schedule: &'a Schedule,
    step: &'a PlannedStep,
    vessel: Vessel,
    /// The time from the start of the session at which the row's clock shows 0:00: the pour of the step.
    zero: Time,
}

impl OnPaper<'_> {
    /// The end of the step by the row's clock: `11:00`, or `5:00 to 15:00` if a person ends the step at a sign.
    fn time(&self) -> String {
        let until = |at: Time| phrase::between(self.zero, at);
        match &self.step.decision {
            Some(decision) => {
                let shorter = self.step.duration - decision.least;
                phrase::range(until(self.step.end - shorter), until(self.step.end))
            }
            None => until(self.step.end),
        }
    }

    fn clock(&self, at: Time) -> String {
        if self.step.decision.is_some() && at >= self.step.leaves() {
            return THEN.to_owned();
        }
        phrase::between(self.zero, at.max(self.zero))
    }

    fn cell(&self, verb: &'static str, at: Time, texts: impl IntoIterator<Item = String>) -> Cell {
        let texts = texts.into_iter().filter(|text| !text.is_empty()).collect();
        Cell { verb, clock: self.clock(at), texts, ..Cell::default() }
    }

    fn cells(&self, next: Option<&PlannedStep>) -> Vec<Cell> {
        let events = &self.step.events;
        let mut cells = Vec::new();
        let changes = events.iter().filter(|event| event.is_filling()).count();
        if changes > 1 {
            let first = events.iter().position(Event::is_filling).unwrap_or(0);
            let (before, after) = events.split_at(first);
            cells.extend(before.iter().filter_map(|event| self.action(event, before)));
            for change in after.chunk_by(|_, next| !next.is_filling()) {
                cells.extend(self.change(change));
                let mixed = change.iter().filter(|event| event.action == Action::Mix);
                cells.extend(mixed.filter_map(|event| self.action(event, change)));
            }
        } else {
            let mut look = self.step.decision.as_ref().map(|decision| {
                let first = decision.looks.first().copied().unwrap_or(decision.least);
                let often = prefixed("every ", decision.look.map(spoken));
                self.cell("LOOK", self.zero + first, [often, format!("at the latest {}", decision.most)])
            });
            for event in events {
                if event.is_emptying() {
                    cells.extend(look.take());
                }
                cells.extend(self.action(event, events));
            }
            cells.extend(look);
        }
        cells.extend(self.end(next));
        cells
    }

    /// The cell of an action; `None` if the cell of an earlier action covers it, as one cell covers all agitations.
    fn action(&self, event: &Event, events: &[Event]) -> Option<Cell> {
        let words = || moments::words(self.schedule, self.step, event);
        let length = || match self.step.decision {
            Some(_) => String::new(),
            None => phrase::between(event.at, event.at + event.length),
        };
        Some(match event.action {
            Action::Mix => self.cell("MIX", event.at, [words().trim_start_matches("mix ").to_owned()]),
            Action::Handle => {
                let then = event.at + event.length;
                let begins = format!("until {}", phrase::moment(self.schedule, then));
                let wall = phrase::wall(self.schedule, then).unwrap_or_default();
                let length = phrase::between(event.at, then);
                Cell { clock: length, ..self.cell("GET READY", event.at, [begins, wall]) }
            }
            Action::Pour | Action::Fill => self.pour(event),
            Action::Lower => self.cell(self.goes_in(), event.at, [self.bath()]),
            Action::Agitate => return self.agitation(event, events),
            Action::Knock => return self.knock(event, events),
            Action::Rest => self.cell("WAIT", event.at, [length(), self.vessel.waits().to_owned()]),
            Action::Drain | Action::Dump => self.cell("DRAIN", event.at, self.drained()),
            Action::Lift => self.cell("LIFT", event.at, ["let it drip".to_owned()]),
            Action::Coat => {
                self.cell("COAT", event.at, [words().trim_start_matches("coat with ").to_owned(), length()])
            }
            Action::Expose => self.cell("LAMP", event.at, [length(), self.side(event)]),
            Action::Warm => self.cell("WARM", event.at, [length(), self.vessel.warms().to_owned()]),
            Action::Dry => self.cell("HANG", event.at, [dried(self.schedule).to_owned()]),
        })
    }

    fn goes_in(&self) -> &'static str {
        if self.vessel == Vessel::Tray { "LAY IN" } else { "LOWER IN" }
    }

    fn bath(&self) -> String {
        let bath = self.step.bath.as_ref();
        let running = bath.and_then(phrase::running);
        let name = bath.map(phrase::bath).unwrap_or_default();
        match running {
            Some(flow) => format!("running {name}, {flow}"),
            None => name,
        }
    }

    fn volume(&self) -> String {
        self.step.bath.as_ref().map(|bath| phrase::ml(bath.volume)).unwrap_or_default()
    }

    fn pour(&self, event: &Event) -> Cell {
        let volume = self.volume();
        let from = self.step.bath.as_ref().and_then(|bath| Some(plain(&bath.bottle.as_ref()?.name)));
        let full = event.at + event.length;
        let timed = phrase::starts_full(self.schedule, self.step);
        let full = match (event.length > Time::ZERO, timed) {
            (true, true) => format!("full {}, then {}", self.clock(full), phrase::lasts(self.step)),
            (true, false) => format!("full {}", self.clock(full)),
            (false, _) => String::new(),
        };
        self.cell("POUR", event.at, [volume, self.bath(), prefixed("bottle ", from), full])
    }

    fn drained(&self) -> Vec<String> {
        let bath = self.step.bath.as_ref();
        let role = phrase::written(self.schedule, self.step).and_then(Step::role);
        let can =
            role.and_then(|role| self.schedule.conditions.personal.cans.get(&role)).map(|can| plain(can));
        let bottle = bath.and_then(|bath| Some(plain(&bath.bottle.as_ref()?.name)));
        let words = match (Fate::of(self.schedule, self.step), can) {
            (None, _) => String::new(),
            (Some(Fate::Bottle), _) => format!("into its bottle{}", prefixed(" ", bottle)),
            (Some(Fate::Silver | Fate::Waste | Fate::Away), Some(can)) => format!("into waste can {can}"),
            (Some(Fate::Away), None) => "sink or waste can, by local code".to_owned(),
            (Some(fate), _) => fate.words().to_owned(),
        };
        vec![words]
    }

    fn agitation(&self, event: &Event, events: &[Event]) -> Option<Cell> {
        let moves = Moves::of(events, self.zero, self.vessel);
        if moves.first() != Some(event) {
            return None;
        }
        let (by, pace) = moves.manner();
        let manner = [by, pace, moves.knocking()].into_iter().flatten().collect();
        let Some(groups) = moves.repeated() else {
            return Some(self.cell("AGITATE", event.at, [moves.text()?]));
        };
        let is_long = groups.iter().map(|group| group.len()).sum::<usize>() > MARKS_MOST;
        let marks = groups.into_iter().map(|group| self.marks(group, is_long)).collect();
        let first = self.cell("AGITATE", event.at, [format!("for {}", moments::amount(event))]);
        Some(Cell { marks, manner, ..first })
    }

    /// The times of a group of equal movements. If `is_long` and the intervals are equal, only the first and the last
    /// time.
    fn marks(&self, group: &[&Event], is_long: bool) -> Marks {
        let times: Vec<String> = group.iter().map(|event| self.clock(event.at)).collect();
        let amount = group.first().map(|event| moments::amount(event)).unwrap_or_default();
        match (times.as_slice(), moments::period(group).filter(|_| is_long)) {
            ([first, .., last], Some(period)) => {
                let what = format!("{amount} every {}", spoken(period));
                Marks { times: vec![format!("{first} to {last}")], what }
            }
            ([_], _) => Marks { what: format!("for {amount}"), times },
            _ => Marks { what: format!("{amount} each"), times },
        }
    }

    fn knock(&self, event: &Event, events: &[Event]) -> Option<Cell> {
        let knocks: Vec<&Event> = events.iter().filter(|event| event.action == Action::Knock).collect();
        let is_stated = Moves::of(events, self.zero, self.vessel).knocking().is_some();
        if is_stated || knocks.first() != Some(&event) {
            return None;
        }
        let times: Vec<String> = knocks.iter().skip(1).map(|knock| self.clock(knock.at)).collect();
        let marks = (!times.is_empty()).then(|| Marks { times, what: "again".to_owned() });
        Some(Cell {
            marks: marks.into_iter().collect(),
            ..self.cell("KNOCK", event.at, [format!("the {}", self.vessel.word())])
        })
    }

    fn side(&self, event: &Event) -> String {
        let mut sides = self.step.events.iter().filter(|event| event.action == Action::Expose);
        let is_first = sides.next() == Some(event);
        match (is_first, sides.next()) {
            (true, None) => String::new(),
            (true, Some(_)) => "one side".to_owned(),
            (false, _) => "the other side".to_owned(),
        }
    }

    fn change(&self, events: &[Event]) -> Option<Cell> {
        let filling = events.first()?;
        let full = filling.at + filling.length;
        let verb = if filling.action == Action::Lower { self.goes_in() } else { "POUR" };
        let moved = Moves::of(events, self.zero, self.vessel).within_a_change();
        let out = events.iter().find(|event| event.is_emptying());
        let still = out.filter(|out| moved.is_none() && out.at > full);
        let still = prefixed("still ", still.map(|out| phrase::between(full, out.at)));
        let texts = [self.volume() + " water", moved.unwrap_or_default(), still];
        let marks = out.map(|out| Marks { times: vec![self.clock(out.at)], what: "drain".to_owned() });
        Some(Cell { marks: marks.into_iter().collect(), ..self.cell(verb, filling.at, texts) })
    }

    /// The last cell of the row: the end of the step, and the next step. `None` for the last step, unless it ends with
    /// draining that takes time, or with drying.
    fn end(&self, next: Option<&PlannedStep>) -> Option<Cell> {
        let out = self.step.events.iter().rfind(|event| event.is_emptying());
        let then = next.map(|next| format!("then {}", phrase::head(next)));
        let verb = match out {
            Some(out) if out.length > Time::ZERO && out.action == Action::Lift => "OUT",
            Some(out) if out.length > Time::ZERO => "EMPTY",
            None if self.step.is_drying() => "DRY",
            _ if then.is_none() => return None,
            _ => "OVER",
        };
        let later = out
            .filter(|_| self.step.decision.is_some())
            .map(|out| format!("{} later", phrase::whole(out.length)));
        Some(self.cell(verb, self.step.end, later.into_iter().chain(then)))
    }

    fn below(&self) -> Vec<String> {
        let step = self.step;
        let mut below: Vec<String> =
            step.lighting.as_ref().and_then(phrase::working_light).into_iter().collect();
        below.extend(step.light.as_deref().map(|light| format!("light: {}", plain(light))));
        if let Some(decision) = &step.decision {
            let out = step.events.iter().find(|event| event.is_emptying());
            let verb = out.map_or("end it", |out| out.action.word());
            let ahead = decision.most - (step.leaves() - self.zero);
            let lines = signs::lines(decision, verb, ahead);
            below.extend(lines.into_iter().map(|(at, what)| format!("{at}  {what}")));
        }
        if step.is_drying() {
            below.extend(card::hanging(self.schedule));
        }
        below
    }
}

pub(super) fn stubs(schedule: &Schedule) -> Vec<Stub> {
    let date = schedule
        .conditions
        .bottles
        .as_ref()
        .map_or_else(|| "date ______".to_owned(), |own| own.on.to_string());
    let index = schedule.recipe.index.as_ref().map(|index| index.value);
    let film = plain(&schedule.film.title) + &prefixed(" at ", index);
    let stub = |slot: &Slot| Stub {
        label: match &slot.label {
            Some(label) => plain(label),
            None => format!("slot {}  label ______", slot.slot),
        },
        lines: vec![
            format!("{film} · {}", slot.format),
            plain(&schedule.recipe.title),
            format!("{date} · page ____ · {}", schedule.fingerprint),
        ],
    };
    schedule.load.iter().map(stub).collect()
}
