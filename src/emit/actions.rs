//! The lines of a step, each by the step's own clock (R6). A line for agitation covers the whole step.

use super::card::Line;
use super::clock::{self, Wall};
use super::fate::emptied;
use super::moving::{self, Moves};
use super::plain::plain;
use super::{figure, naming};
use crate::compile::{Action, Event, PlannedStep};
use crate::model::{Step, Time};

/// The time of a line before the step's clock starts.
const BEFORE: &str = "first";

/// A step, and what its lines use from the rest of the card.
pub(super) struct StepContext<'a> {
    pub(super) step: &'a PlannedStep,
    /// The statement it was planned from.
    pub(super) written: Option<&'a Step>,
    pub(super) wall: Wall,
    /// The name of the next step.
    pub(super) next: Option<String>,
    /// The line about light, if light is safe from this step on.
    pub(super) light: Option<&'static str>,
    /// The order in which the film hangs.
    pub(super) hanging: Option<String>,
}

/// The lines of a step, in order of time.
pub(super) fn lines(context: &StepContext<'_>) -> Vec<Line> {
    let events = &context.step.events;
    let mut lines = Vec::new();
    let changes = events.iter().filter(|event| event.is_filling()).count();
    if changes > 1 {
        let first = events.iter().position(Event::is_filling).unwrap_or(0);
        let (before, after) = events.split_at(first);
        lines.extend(before.iter().filter_map(|event| context.line(event)));
        for (number, change) in (1u32..).zip(after.chunk_by(|_, next| !next.is_filling())) {
            lines.extend(context.change(number, change));
            lines.extend(context.light().filter(|_| number == 1));
        }
    } else {
        lines.extend(context.light().filter(|_| changes == 0));
        for event in events {
            lines.extend(context.line(event));
            if event.is_filling() {
                lines.extend(context.light());
                let is_still = context.written.is_some_and(|step| step.agitation.is_some());
                let is_still = is_still && context.moves().first().is_none();
                lines.extend(is_still.then(|| context.at(context.full(), moving::STILL)));
            }
        }
    }
    lines.extend(context.end());
    lines
}

impl Event {
    pub(super) fn is_filling(&self) -> bool {
        matches!(self.action, Action::Pour | Action::Fill)
    }

    pub(super) fn is_emptying(&self) -> bool {
        matches!(self.action, Action::Drain | Action::Dump)
    }
}

impl StepContext<'_> {
    fn zero(&self) -> Time {
        clock::zero(self.step, self.written)
    }

    /// The time at which the first filling is in.
    fn full(&self) -> Time {
        self.step.start + self.step.handling + self.step.fill
    }

    fn reads(&self, moment: Time) -> String {
        if moment < self.zero() { BEFORE.to_owned() } else { (moment - self.zero()).to_string() }
    }

    fn at(&self, moment: Time, what: impl Into<String>) -> Line {
        Line { when: self.reads(moment), what: what.into() }
    }

    fn moves(&self) -> Moves<'_> {
        Moves::of(&self.step.events, self.zero())
    }

    /// The line of one action; `None` if another line covers it.
    fn line(&self, event: &Event) -> Option<Line> {
        let length = event.length;
        let what = match event.action {
            Action::Handle => self.handling(event),
            Action::Pour | Action::Fill => self.pouring(event),
            Action::Agitate => {
                let moves = self.moves();
                let text = moves.text().filter(|_| moves.first() == Some(event))?;
                format!("agitate: {text}")
            }
            Action::Knock => self.knocking()?,
            Action::Rest => format!("wait {length}; the tank is empty"),
            Action::Drain | Action::Dump => self.emptying(event),
            Action::Expose => self.exposing(event),
            Action::Warm => format!("let the tank stand dry in its warm water, {length}"),
            Action::Dry => match &self.hanging {
                Some(order) => format!("hang the film, {order}"),
                None => "hang the film".to_owned(),
            },
        };
        Some(self.at(event.at, what))
    }

    fn handling(&self, event: &Event) -> String {
        let then = event.at + event.length;
        let what = if self.step.bath.is_some() { "pour" } else { "begin" };
        let wall = self.wall.at(then).map(|wall| format!(" · {wall}")).unwrap_or_default();
        format!("take {} to get ready; {what} at {then}{wall}", event.length)
    }

    fn pouring(&self, event: &Event) -> String {
        let volume = self.step.bath.as_ref().map(|bath| figure::ml(bath.volume));
        let verb = if event.action == Action::Fill { "fill with" } else { "pour" };
        let mut text = format!("{verb} {}", volume.as_deref().unwrap_or("the bath"));
        if event.length > Time::ZERO && clock::starts_full(self.step, self.written) {
            text.push_str(&format!(" in {}; start the clock when it is full", event.length));
        } else if event.length > Time::ZERO {
            text.push_str(&format!(", full at {}", self.reads(event.at + event.length)));
        }
        if naming::running(self.written).is_some() {
            text.push_str("; let the water run");
        }
        text
    }

    /// A single knock; several are part of the agitation.
    fn knocking(&self) -> Option<String> {
        let (first, last) = self.ends_of(Action::Knock)?;
        match self.moves().knocking() {
            Some(_) => None,
            None if first == last => Some("knock the tank, once".to_owned()),
            None => Some("knock the tank".to_owned()),
        }
    }

    fn ends_of(&self, action: Action) -> Option<(&Event, &Event)> {
        let mut all = self.step.events.iter().filter(|event| event.action == action);
        let first = all.next()?;
        Some((first, all.next_back().unwrap_or(first)))
    }

    fn emptying(&self, event: &Event) -> String {
        let mut text = emptied(self.step, self.written, event.action);
        if event.length == Time::ZERO {
            text.extend(self.next.as_ref().map(|next| format!("; next {next}")));
        }
        text
    }

    fn exposing(&self, event: &Event) -> String {
        let (side, is_first) = match self.ends_of(Action::Expose) {
            Some((first, last)) if first == last => ("", true),
            Some((first, _)) if event == first => (" one side", true),
            _ => (" the other side", false),
        };
        let light = self.step.light.as_ref().filter(|_| is_first);
        let light = light.map(|light| format!("; light: {}", plain(light))).unwrap_or_default();
        format!("expose{side}, {}{light}", event.length)
    }

    fn light(&self) -> Option<Line> {
        self.light.map(|words| self.at(self.full(), words))
    }

    /// One change of wash water.
    fn change(&self, number: u32, events: &[Event]) -> Option<Line> {
        let filling = events.first()?;
        let mut text = format!("change {number}: fill");
        let moved = Moves::of(events, self.zero()).within_a_change();
        text.extend(moved.as_ref().map(|words| format!("; {words}")));
        if let Some(out) = events.iter().find(|event| event.is_emptying()) {
            let full = filling.at + filling.length;
            if moved.is_none() && out.at > full {
                text.push_str(&format!("; let it stand {}", out.at - full));
            }
            text.push_str(&format!("; dump at {}", self.reads(out.at)));
        }
        Some(self.at(filling.at, text))
    }

    /// The end of the step and the name of the next; `None` if the line before says so.
    fn end(&self) -> Option<Line> {
        let hangs = self.step.events.iter().any(|event| event.action == Action::Dry);
        let over = match self.step.events.iter().rfind(|event| event.is_emptying()) {
            Some(out) if out.length == Time::ZERO => return None,
            Some(_) => Some("empty".to_owned()),
            None => hangs.then(|| "dry".to_owned()),
        };
        let next = self.next.as_ref().map(|next| format!("next {next}"));
        let text: Vec<String> = over.into_iter().chain(next).collect();
        (!text.is_empty()).then(|| self.at(self.step.end, text.join("; ")))
    }
}
