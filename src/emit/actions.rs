//! What to do in a step, told as a person does it: agitation once and not forty times, each line by the
//! step's own clock, which is set going at the first drop (or at full, where the recipe has it so: R6).

use crate::compile::{Action, Event, PlannedStep};
use crate::model::{Step, Time};

use super::card::Line;
use super::clock::{self, Wall};
use super::fate::Fate;
use super::figure;
use super::moving::{self, Moves};
use super::naming;
use super::plain::plain;

/// What stands in place of a time before the step's clock starts.
const BEFORE: &str = "first";
const OTHER_SIDE: &str = " the other side";

/// A step and what its lines need to know of its surroundings.
pub(super) struct Bench<'a> {
    /// The step.
    pub(super) step: &'a PlannedStep,
    /// The statement it came from.
    pub(super) written: Option<&'a Step>,
    /// The clock on the wall.
    pub(super) wall: Wall,
    /// The name of the next step.
    pub(super) next: Option<String>,
    /// What is said of light, where it is safe from here on and not before.
    pub(super) light: Option<&'static str>,
    /// In what order the film hangs.
    pub(super) hanging: Option<String>,
}

/// The lines of a step, in order of time.
pub(super) fn lines(bench: &Bench<'_>) -> Vec<Line> {
    let events = &bench.step.events;
    let mut lines = Vec::new();
    let changes = events.iter().filter(|event| is_filling(event)).count();
    if changes > 1 {
        let before = events.iter().take_while(|event| !is_filling(event));
        lines.extend(before.filter_map(|event| bench.line(event)));
        let from_first_fill = events.iter().position(is_filling).and_then(|at| events.get(at..));
        let each = from_first_fill.unwrap_or(&[]).chunk_by(|_, next| !is_filling(next));
        for (number, change) in (1u32..).zip(each) {
            lines.extend(bench.change(number, change));
            lines.extend(bench.light().filter(|_| number == 1));
        }
    } else {
        lines.extend(bench.light().filter(|_| changes == 0));
        for event in events {
            lines.extend(bench.line(event));
            if is_filling(event) {
                lines.extend(bench.light());
                lines.extend(bench.stillness());
            }
        }
    }
    lines.extend(bench.end());
    lines
}

fn is_filling(event: &Event) -> bool {
    matches!(event.action, Action::Pour | Action::Fill)
}

fn is_emptying(event: &Event) -> bool {
    matches!(event.action, Action::Drain | Action::Dump)
}

impl Bench<'_> {
    /// When the step's own clock shows 0:00.
    fn zero(&self) -> Time {
        clock::zero(self.step, self.written)
    }

    /// When the first filling is in.
    fn full(&self) -> Time {
        self.step.start + self.step.handling + self.step.fill
    }

    fn reads(&self, moment: Time) -> String {
        if moment < self.zero() { BEFORE.to_owned() } else { (moment - self.zero()).to_string() }
    }

    fn at(&self, moment: Time, what: impl Into<String>) -> Line {
        Line { when: self.reads(moment), what: what.into() }
    }

    /// The line of one action; `None` for what another line tells already.
    fn line(&self, event: &Event) -> Option<Line> {
        let length = event.length;
        let what = match event.action {
            Action::Handle => self.handling(event),
            Action::Pour | Action::Fill => self.pouring(event),
            Action::Agitate => self.moving(event)?,
            Action::Knock => self.knocking()?,
            Action::Rest => format!("the tank is empty: wait {length}"),
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
        let what = if self.step.bath.is_some() { "the pour is" } else { "it begins" };
        match self.wall.at(then) {
            Some(wall) => format!("{} of handling; {what} at {then} · {wall}", event.length),
            None => format!("{} of handling; {what} at {then}", event.length),
        }
    }

    fn pouring(&self, event: &Event) -> String {
        let volume = self.step.bath.as_ref().map(|bath| figure::measured(bath.volume));
        let verb = if event.action == Action::Fill { "fill with" } else { "pour" };
        let mut said = format!("{verb} {}", volume.as_deref().unwrap_or("the bath"));
        if event.length > Time::ZERO && clock::starts_full(self.step, self.written) {
            said.push_str(&format!(" in {}; start the clock when it is full", event.length));
        } else if event.length > Time::ZERO {
            said.push_str(&format!(", full at {}", self.reads(event.at + event.length)));
        }
        if naming::running(self.written).is_some() {
            said.push_str("; let the water run");
        }
        said
    }

    /// Agitation, told where it is done first.
    fn moving(&self, event: &Event) -> Option<String> {
        let moves = self.moves();
        let told = moves.told().filter(|_| moves.first() == Some(event))?;
        Some(format!("agitate: {told}"))
    }

    fn moves(&self) -> Moves<'_> {
        Moves::of(&self.step.events, self.zero())
    }

    /// A single knock; several are told with the agitation.
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

    /// What is said of agitation where the film is left alone, by the scheme or because it is cut to nothing.
    fn stillness(&self) -> Option<Line> {
        self.written?.agitation.as_ref()?;
        self.moves().first().is_none().then(|| self.at(self.full(), moving::STILL))
    }

    fn emptying(&self, event: &Event) -> String {
        let bath = self.step.bath.as_ref();
        let fate = bath.and_then(|bath| Fate::of(self.step, bath, self.written).words());
        let mut said = if event.action == Action::Dump { "dump" } else { "drain" }.to_owned();
        said.extend(fate.map(|words| format!(": {words}")));
        if event.length == Time::ZERO {
            said.extend(self.next.as_ref().map(|next| format!("; next {next}")));
        }
        said
    }

    fn exposing(&self, event: &Event) -> String {
        let side = match self.ends_of(Action::Expose) {
            Some((first, last)) if first == last => "",
            Some((first, _)) if event == first => " one side",
            Some(_) | None => OTHER_SIDE,
        };
        let light = self.step.light.as_ref().filter(|_| side != OTHER_SIDE);
        let light = light.map(|light| format!("; light: {}", plain(light))).unwrap_or_default();
        format!("expose{side}, {}{light}", event.length)
    }

    fn light(&self) -> Option<Line> {
        self.light.map(|words| self.at(self.full(), words))
    }

    /// One change of wash water, on one line.
    fn change(&self, number: u32, events: &[Event]) -> Option<Line> {
        let filling = events.first()?;
        let emptying = events.iter().find(|event| is_emptying(event));
        let mut said = format!("change {number}: fill");
        let moved = Moves::of(events, self.zero()).within_a_change();
        said.extend(moved.as_ref().map(|words| format!("; {words}")));
        if let Some(out) = emptying {
            let full = filling.at + filling.length;
            if moved.is_none() && out.at > full {
                said.push_str(&format!("; let it stand {}", out.at - full));
            }
            said.push_str(&format!("; dump at {}", self.reads(out.at)));
        }
        Some(self.at(filling.at, said))
    }

    /// When the step is over, and what follows; `None` where the line before has said it.
    fn end(&self) -> Option<Line> {
        let out = self.step.events.iter().rfind(|event| is_emptying(event));
        let hangs = self.step.events.iter().any(|event| event.action == Action::Dry);
        let over = match out {
            Some(out) if out.length == Time::ZERO => return None,
            Some(_) => Some("empty"),
            None if hangs => Some("dry"),
            None => None,
        };
        let next = self.next.as_ref().map(|next| format!("next {next}"));
        let said: Vec<String> = over.map(str::to_owned).into_iter().chain(next).collect();
        (!said.is_empty()).then(|| self.at(self.step.end, said.join("; ")))
    }
}
