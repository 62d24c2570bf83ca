//! The steps of a card. Each line has the time by the step's own clock (R6). One line states a whole step's agitation.

use super::card;
use super::cells;
use super::document::{Line, Reason, StepRow, StepText};
use super::lid::Lid;
use super::moments::{self, Moves};
use super::phrase;
use super::plain::{all_plain, joined, plain, prefixed};
use super::signs;
use super::vessel::{Vessel, baths_stay, dried};
use crate::compile::{Action, Because, Decision, Event, Light, PlannedStep, Schedule};
use crate::model::Time;
use crate::source::{Sources, Span};

/// Printed in place of a time before the step's clock starts.
const BEFORE: &str = "first";
/// Printed in place of a time after a person has ended the step at a sign.
const AFTER: &str = "then";

/// The texts of the steps, in order. A note that several steps have is only in the text of the first of them.
pub(super) fn blocks(schedule: &Schedule, sources: &Sources) -> Vec<StepText> {
    let vessel = Vessel::of(schedule);
    let contexts = schedule.steps.iter().enumerate().map(|(at, step)| Context {
        schedule,
        step,
        moves: Moves::of(&step.events, phrase::zero(schedule, step), vessel),
        vessel,
        next: schedule.steps.get(at + 1),
        light: schedule.light.filter(|light| light.step == at),
    });
    let mut blocks: Vec<StepText> = contexts.map(|context| context.block(sources)).collect();
    let mut said: Vec<String> = Vec::new();
    for (block, row) in blocks.iter_mut().zip(cells::rows(schedule)) {
        block.row = row;
        block.notes.retain(|note| !said.contains(note));
        said.extend_from_slice(&block.notes);
    }
    blocks
}

struct Context<'a> {
    schedule: &'a Schedule,
    step: &'a PlannedStep,
    moves: Moves<'a>,
    vessel: Vessel,
    next: Option<&'a PlannedStep>,
    /// The moment from which room light may reach the film; `None` if it is not in this step.
    light: Option<Light>,
}

impl Event {
    pub(super) fn is_filling(&self) -> bool {
        matches!(self.action, Action::Pour | Action::Fill | Action::Lower)
    }

    pub(super) fn is_emptying(&self) -> bool {
        matches!(self.action, Action::Drain | Action::Dump | Action::Lift)
    }
}

impl Context<'_> {
    fn block(&self, sources: &Sources) -> StepText {
        let step = self.step;
        let reasons = step.because.iter().map(|because| {
            let places = Some(places(&because.from, sources)).filter(|places| !places.is_empty());
            let places = places.map(|places| format!("  [{places}]")).unwrap_or_default();
            let text = format!("{}: {}{places}", number(because, step), plain(&because.text));
            Reason { rule: because.rule, text }
        });
        StepText {
            name: phrase::head(step),
            time: phrase::lasts(step),
            begins: [format!("begins {}", phrase::moment(self.schedule, step.start))]
                .into_iter()
                .chain(phrase::wall(self.schedule, step.start))
                .collect(),
            bath: self.bath(),
            cautions: all_plain(&step.cautions),
            notes: step.rests.iter().map(|rests| plain(&rests.words)).chain(all_plain(&step.notes)).collect(),
            lines: self.lines(),
            row: StepRow::default(),
            reasons: reasons.collect(),
        }
    }

    /// The bath and its temperature: `MQ borax, fine grain 1+1 at 21.5 °C`.
    fn bath(&self) -> Option<String> {
        let degrees = |at| phrase::degrees(at, self.schedule.conditions.scale);
        let at = self.step.temperature.map(degrees);
        // A time from a chart holds for one temperature. The range that the recipe allows is left out, because it would
        // look like a tolerance of that temperature.
        let allowed = self.step.allowed.filter(|_| self.step.chart.is_none());
        let allowed = allowed.map(|(low, high)| format!(" ({} to {})", degrees(low), degrees(high)));
        let allowed = allowed.unwrap_or_default();
        let Some(bath) = &self.step.bath else { return at.map(|at| format!("at {at}{allowed}")) };
        let running = phrase::running(bath);
        let changes = format!("{} changes of {}", bath.pours, phrase::ml(bath.volume));
        let words = [
            running.map(|_| "running ".to_owned()).unwrap_or_default(),
            phrase::bath(bath),
            prefixed(" at ", at),
            prefixed(", ending at ", self.step.ending.map(degrees)),
            allowed,
            prefixed(", ", running),
            prefixed(", ", Some(changes).filter(|_| bath.pours > 1)),
        ];
        Some(words.concat())
    }

    fn lines(&self) -> Vec<Line> {
        let events = &self.step.events;
        // In a step with an exposure, the line of the exposure states the light.
        let light =
            self.step.light.as_deref().filter(|_| !events.iter().any(|it| it.action == Action::Expose));
        let light = light.map(|light| self.at(self.step.start, format!("light: {}", plain(light))));
        let lighting = self.step.lighting.as_ref().and_then(phrase::working_light);
        let lighting = lighting.map(|words| self.at(self.step.start, words));
        let mut lines: Vec<Line> = lighting.into_iter().chain(light).collect();
        let changes = events.iter().filter(|event| event.is_filling()).count();
        if changes > 1 {
            let first = events.iter().position(Event::is_filling).unwrap_or(0);
            let (before, after) = events.split_at(first);
            lines.extend(before.iter().filter_map(|event| self.line(event)));
            for (number, change) in (1u32..).zip(after.chunk_by(|_, next| !next.is_filling())) {
                lines.extend(self.change(number, change));
                let mixed = change.iter().filter(|event| event.action == Action::Mix);
                lines.extend(mixed.filter_map(|event| self.line(event)));
                lines.extend(self.light().filter(|_| number == 1));
            }
        } else {
            let mut light = self.light;
            let out = events.iter().find(|event| event.is_emptying());
            let decision = self.step.decision.as_ref().map(|decision| self.decision(decision, out));
            let mut decision = decision.unwrap_or_default().into_iter().peekable();
            for event in events {
                // If several lines have the same time, filling comes first, then the line about light and the lines of
                // a decision.
                let is_past = |at: Time| at < event.at || (at == event.at && !event.is_filling());
                if light.is_some_and(|light| is_past(light.at)) {
                    lines.extend(self.light());
                    light = None;
                }
                while let Some((_, line)) = decision.next_if(|(at, _)| is_past(*at)) {
                    lines.push(line);
                }
                match &self.step.decision {
                    Some(_) if event.is_emptying() => lines.extend(decision.by_ref().map(|(_, line)| line)),
                    _ => lines.extend(self.line(event)),
                }
                if event.is_filling() {
                    let still =
                        moments::agitation(self.schedule, self.step).filter(|text| text == moments::STILL);
                    lines.extend(still.map(|still| self.at(self.step.full(), still)));
                }
            }
            lines.extend(decision.map(|(_, line)| line));
            lines.extend(self.light().filter(|_| light.is_some()));
        }
        lines.extend(self.end());
        lines
    }

    fn reads(&self, at: Time) -> String {
        if at < self.moves.zero {
            BEFORE.to_owned()
        } else if self.step.decision.is_some() && at >= self.step.leaves() {
            AFTER.to_owned()
        } else {
            phrase::between(self.moves.zero, at)
        }
    }

    fn at(&self, at: Time, what: impl Into<String>) -> Line {
        Line { when: self.reads(at), what: what.into() }
    }

    /// The line of one action; `None` if another line states the action.
    fn line(&self, event: &Event) -> Option<Line> {
        let length = event.length;
        let words = moments::words(self.schedule, self.step, event);
        let what = match event.action {
            Action::Mix => words,
            Action::Handle => self.handling(event),
            Action::Pour | Action::Fill => self.pouring(event),
            Action::Lower | Action::Lift => words,
            Action::Agitate if self.moves.first() != Some(event) => return None,
            Action::Agitate => format!("agitate: {}", self.moves.text()?),
            // The line of the agitation already states the knocks that follow its movements.
            Action::Knock if self.moves.knocking().is_some() => return None,
            Action::Knock if self.all(Action::Knock).len() == 1 => words + ", once",
            Action::Knock => words,
            Action::Rest if self.vessel == Vessel::Tank => {
                format!("wait {}; the tank is empty", self.length(event))
            }
            Action::Rest => format!("wait {}", self.length(event)),
            Action::Drain | Action::Dump => {
                words + &prefixed("; next ", self.next.map(phrase::head).filter(|_| length == Time::ZERO))
            }
            Action::Expose => self.exposing(event),
            Action::Coat | Action::Warm => format!("{words}, {}", self.length(event)),
            Action::Dry => dried(self.schedule).to_owned() + &prefixed(", ", card::hanging(self.schedule)),
        };
        Some(self.at(event.at, what))
    }

    /// The length of an action that lasts as long as its step, such as an exposure. It is a range if a person ends the
    /// step at a sign.
    fn length(&self, event: &Event) -> String {
        if self.step.decision.is_some() { phrase::lasts(self.step) } else { took(event) }
    }

    fn all(&self, action: Action) -> Vec<&Event> {
        self.step.events.iter().filter(|event| event.action == action).collect()
    }

    fn handling(&self, event: &Event) -> String {
        let then = event.at + event.length;
        let what = match self.step.bath {
            None => "begin",
            Some(_) if baths_stay(self.schedule) => "lower it",
            Some(_) if phrase::is_moved(self.schedule) => "lay it in",
            Some(_) => "pour",
        };
        let (at, wall) =
            (phrase::moment(self.schedule, then), prefixed(" · ", phrase::wall(self.schedule, then)));
        format!("take {} to get ready; {what} at {at}{wall}", took(event))
    }

    fn pouring(&self, event: &Event) -> String {
        let mut text = moments::poured(self.step, event.action);
        if event.length > Time::ZERO && phrase::starts_full(self.schedule, self.step) {
            text.push_str(&format!(" in {}; start the clock when it is full", took(event)));
        } else if event.length > Time::ZERO {
            text.push_str(&format!(", full at {}", self.reads(event.at + event.length)));
        }
        if self.step.bath.as_ref().is_some_and(|bath| bath.flow.is_some()) {
            text.push_str("; let the water run");
        }
        text
    }

    fn exposing(&self, event: &Event) -> String {
        let sides = self.all(Action::Expose);
        let is_first = sides.first() == Some(&event);
        let side = match sides.len() {
            1 => "",
            _ if is_first => " one side",
            _ => " the other side",
        };
        let light = self.step.light.as_deref().filter(|_| is_first).map(plain);
        format!("expose{side}, {}{}", self.length(event), prefixed("; light: ", light))
    }

    /// The line that says that room light is safe; `None` except in the step during which it becomes safe.
    fn light(&self) -> Option<Line> {
        Some(self.at(self.light?.at, Lid::of(self.schedule)?.once()))
    }

    /// The lines of a step that a person ends at a sign: when to look and for what, the latest end, and what comes
    /// next. Each has its time from the start of the session. `out` is the draining, if there is a bath.
    fn decision(&self, decision: &Decision, out: Option<&Event>) -> Vec<(Time, Line)> {
        let verb = out.map_or("end it", |out| out.action.word());
        let out = out.map(|out| (moments::words(self.schedule, self.step, out), out.length));
        let dries = self.step.is_drying().then(|| "dry".to_owned());
        let empty = out.as_ref().filter(|(_, length)| *length > Time::ZERO);
        let is_moved = self.step.events.last().is_some_and(|last| last.action == Action::Lift);
        let over = if is_moved { "out of the bath" } else { "empty" };
        let empty = empty.map(|(_, length)| format!("{} later it is {over}", phrase::whole(*length)));
        let next = self.next.map(|next| format!("next {}", phrase::head(next)));
        let act = out.map(|(words, _)| words).into_iter().chain(dries).chain(empty).chain(next);
        let follows = Line { when: AFTER.to_owned(), what: joined(act, "; ") };
        let leaves = self.step.leaves() - self.moves.zero;
        let looks = signs::lines(decision, verb, decision.most - leaves).into_iter();
        let zero = self.moves.zero;
        let looks = looks.map(|(at, what)| (zero + at, Line { when: at.to_string(), what }));
        looks.chain([(self.step.end, follows)]).collect()
    }

    fn change(&self, number: u32, events: &[Event]) -> Option<Line> {
        let filling = events.first()?;
        let moved = Moves::of(events, self.moves.zero, self.vessel).within_a_change();
        let goes_in = match filling.action {
            Action::Lower => format!("{} fresh water", self.vessel.lowered()),
            _ => "fill".to_owned(),
        };
        let mut text = format!("change {number}: {goes_in}{}", prefixed("; ", moved.as_ref()));
        if let Some(out) = events.iter().find(|event| event.is_emptying()) {
            let full = filling.at + filling.length;
            if moved.is_none() && out.at > full {
                text.push_str(&format!("; let it stand {}", phrase::between(full, out.at)));
            }
            text.push_str(&format!("; {} at {}", out.action.word(), self.reads(out.at)));
        }
        Some(self.at(filling.at, text))
    }

    /// The line that states the end of the step and names the next step; `None` if another line does so.
    fn end(&self) -> Option<Line> {
        if self.step.decision.is_some() {
            return None;
        }
        let out = self.step.events.iter().rfind(|event| event.is_emptying());
        let is_moved = out.is_some_and(|out| out.action == Action::Lift);
        let over = match out {
            Some(out) if out.length == Time::ZERO => return None,
            Some(_) => (!is_moved).then(|| "empty".to_owned()),
            None => (!self.all(Action::Dry).is_empty()).then(|| "dry".to_owned()),
        };
        if let Some(next) = self.next.filter(|next| is_moved && next.bath.is_some()) {
            return Some(self.at(self.step.end, format!("in {}", phrase::head(next))));
        }
        let next = self.next.map(|next| format!("next {}", phrase::head(next)));
        let text: Vec<String> = over.into_iter().chain(next).collect();
        (!text.is_empty()).then(|| self.at(self.step.end, text.join("; ")))
    }
}

fn took(event: &Event) -> String {
    phrase::between(event.at, event.at + event.length)
}

/// The name of a calculated number. For the JSON path `/duration_ms` it is `time`.
fn number(because: &Because, step: &PlannedStep) -> String {
    let part = |at: &str| Some(plain(&step.bath.as_ref()?.parts.get(at.parse::<usize>().ok()?)?.what));
    match because.of.split('/').skip(1).collect::<Vec<_>>().as_slice() {
        ["duration_ms"] => "time".to_owned(),
        ["parts", at, ..] => part(at).unwrap_or_else(|| "part".to_owned()),
        [name, ..] => plain(name.rsplit_once('_').map_or(name, |(bare, _unit)| bare)).replace('_', " "),
        [] => String::new(),
    }
}

/// The files and lines of the spans: `estuary.wet:48, 49, films.wet:3`.
fn places(spans: &[Span], sources: &Sources) -> String {
    let mut places: Vec<String> = Vec::new();
    let mut file = None;
    for span in spans {
        let line = sources.place(*span).line.to_string();
        let is_same = file.replace(span.file) == Some(span.file);
        let place = if is_same { line } else { format!("{}:{line}", plain(sources.name(span.file))) };
        if places.last() != Some(&place) {
            places.push(place);
        }
    }
    places.join(", ")
}
