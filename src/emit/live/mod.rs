//! A session that a person follows in a terminal: its state, what each key does, and when the bell rings. The caller
//! passes the clock time, so that errors do not add up.

mod frame;
mod legs;

use crate::compile::{SAFETY_HEADING, SafetyLine, Schedule};
use crate::model::Time;

use self::frame::{ends, labelled, to_columns};
use super::card::{Card, StepText};
use super::lid::{self, Lid, Moved, Watch};
use super::moments::{Moment, moments};
use super::plain::prefixed;
use super::signs;

pub use frame::{Row, Shade, Size};

/// The bell rings this long before a bath goes in or comes out, so that hands are free. Common practice, no source.
const AHEAD: Time = Time::from_seconds(10);
const INSTANT: Time = Time::from_ms(1);

/// What a key does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Key {
    /// Start the clock.
    Start,
    /// Start or pause the clock.
    Pause,
    /// Go to the start of the previous moment.
    Back,
    /// Go to the start of the next moment.
    Next,
    /// Show warnings and cautions. A running clock keeps running.
    Cautions,
    /// Say that the bath is in that ends the dark, or that a sign is seen. A person holds this key.
    Confirm,
}

/// A session that a person follows.
#[derive(Debug, Clone)]
pub struct Live {
    card: Card,
    /// The schedule with the decisions that were made. Those that are open are laid out as the latest.
    schedule: Schedule,
    /// The schedule before each decision, and the session's time of that decision.
    undecided: Vec<(Time, Schedule)>,
    /// The page of cautions that is shown, from 0; `None` while the work is shown.
    reading: Option<usize>,
    moments: Vec<Moment>,
    end: Time,
    /// The clock time at which the session began; `None` while the clock is stopped.
    origin: Option<Time>,
    /// The session's time while its clock is stopped.
    held: Time,
    is_started: bool,
    /// The session's time up to which bells have rung.
    rung: Time,
    /// The condition under which light may reach the film, and what has been confirmed of it.
    lid: Option<(Lid, Watch)>,
    /// How long a key has been held, in hundredths of the time for which it must be held; 0 if no key is held.
    holding: usize,
}

impl Live {
    /// A session that waits at `from` and shows the first cautions. `card` must be made from `schedule`.
    pub fn new(schedule: &Schedule, card: &Card, from: Time) -> Live {
        let mut live = Live {
            card: card.clone(),
            schedule: schedule.clone(),
            undecided: Vec::new(),
            reading: Some(0),
            end: Time::ZERO,
            moments: Vec::new(),
            origin: None,
            held: from,
            is_started: false,
            rung: from - INSTANT,
            lid: None,
            holding: 0,
        };
        live.lay_out();
        live
    }

    /// Takes the moments and the condition for light from the schedule.
    fn lay_out(&mut self) {
        self.moments = moments(&self.schedule);
        self.end = self.moments.last().map_or(Time::ZERO, |last| last.until);
        let mut watch = self.lid.take().map(|(_, watch)| watch).unwrap_or_default();
        self.lid = Lid::of(&self.schedule).map(|lid| {
            watch.lay_out(&lid);
            (lid, watch)
        });
    }

    /// The time of the session at this clock time.
    pub fn at(&self, clock: Time) -> Time {
        self.origin.map_or(self.held, |origin| (clock - origin).clamp(Time::ZERO, self.end))
    }

    /// Does what a key asks for.
    pub fn press(&mut self, key: Key, clock: Time) {
        let at = self.at(clock);
        let moved = self.moved(clock);
        if let Some((_, watch)) = &mut self.lid {
            watch.settle(moved);
        }
        match key {
            Key::Confirm => match &mut self.lid {
                Some((lid, watch)) if watch.open(lid, moved).is_some() => watch.confirm(lid, moved),
                _ => self.decide(at),
            },
            Key::Pause if self.origin.is_some() => (self.origin, self.held) = (None, at),
            Key::Start | Key::Pause => {
                self.origin.get_or_insert(clock - at);
                self.is_started = true;
            }
            Key::Back => {
                let before = self.index(at).saturating_sub(if at < self.end { 1 } else { 0 });
                self.go_to(self.moments.get(before).map_or(Time::ZERO, |moment| moment.at), clock);
            }
            Key::Next => {
                let next = self.moments.get(self.index(at) + 1);
                self.go_to(next.map_or(self.end, |moment| moment.at), clock);
            }
            Key::Cautions => self.reading = Some(0),
        }
    }

    /// What a person can confirm now by holding a key: `the fixer is in`, or the sign that ends the step.
    pub fn asks(&self, clock: Time) -> Option<String> {
        let lid = self.lid.as_ref().filter(|(lid, watch)| watch.open(lid, self.moved(clock)).is_some());
        lid.map(|(lid, _)| format!("the {} is in", lid.bath)).or_else(|| self.sign(self.at(clock)))
    }

    /// Shows how much of the time for which a key must be held has passed, in hundredths; 0 if the key is not held.
    pub fn hold(&mut self, hundredths: usize) {
        self.holding = hundredths.min(100);
    }

    /// The line about the lid: `LID ON   fixer in 0:48 of 2:00`.
    fn lid(&self, clock: Time) -> Option<String> {
        self.lid.as_ref().map(|(lid, watch)| lid::line(lid, watch, self.moved(clock)))
    }

    fn moved(&self, clock: Time) -> Moved {
        Moved { clock, at: self.at(clock), origin: self.origin }
    }

    /// Whether to ring now: at an action, when to look for a sign, and ten seconds before a bath goes in or comes out. Each bell rings once.
    pub fn rings(&mut self, clock: Time) -> bool {
        if self.origin.is_none() {
            return false;
        }
        let now = self.at(clock);
        let rung = std::mem::replace(&mut self.rung, now);
        let due = |bell: Time| rung < bell && bell <= now;
        self.looks(rung, now)
            || self.moments.iter().any(|moment| {
                let acts = !moment.actions.is_empty();
                acts && due(moment.at)
                    || moment.actions.iter().any(|action| action.moves_a_bath()) && due(moment.at - AHEAD)
            })
    }

    /// The session's lines, each with its time: the cautions, then every moment from `from` on. A step begins with its
    /// name and notes.
    pub fn lines(&self, from: Time) -> Vec<(Time, String)> {
        let mut lines: Vec<(Time, String)> =
            notices_as_lines(&self.card).into_iter().map(|line| (from, line)).collect();
        // No key can be held where there is no terminal, so the line about the lid is always the first one.
        let mut lid = self.lid(from);
        let mut step = None;
        for moment in self.moments.iter().filter(|moment| moment.at >= from) {
            let block = self.card.work.get(moment.step).filter(|_| step != Some(moment.step));
            step = Some(moment.step);
            if let Some(StepText { name, time, bath, notes, .. }) = block {
                let bath = prefixed("  ", bath.as_ref());
                lines.push((moment.at, format!("{name} {time}{bath}")));
                lines.extend(notes.iter().map(|note| (moment.at, beside("note:", note))));
                let decision = self.schedule.steps.get(moment.step).and_then(|step| step.decision.as_ref());
                lines.extend(decision.map(|it| (moment.at, beside("", &signs::in_one(it)))));
                lines.extend(lid.take().map(|lid| (moment.at, beside("", &lid))));
            }
            lines.push((moment.at, beside(&moment.at.to_string(), &moment.what)));
        }
        lines.push((self.end, beside(&self.end.to_string(), DONE)));
        lines
    }

    fn index(&self, at: Time) -> usize {
        self.moments.partition_point(|moment| moment.at <= at).saturating_sub(1)
    }

    fn go_to(&mut self, at: Time, clock: Time) {
        self.undecide(at);
        if let Some((lid, watch)) = &mut self.lid {
            watch.go_to(lid, at);
        }
        self.rung = at - INSTANT;
        self.held = at;
        self.origin = self.origin.map(|_| clock - at);
    }
}

const DONE: &str = "done";

/// A text after a label as wide as `12:34:56.5`, so that texts align.
fn beside(label: &str, what: &str) -> String {
    format!("{label:>10}  {what}")
}

/// From this many rows on, a page of cautions has a title and shows the keys.
const FRAMED: usize = 6;
const FRAME: usize = 3;
const KEYS: &str = "any key continues   q quit";

/// Warnings or cautions: the title of their pages, and the sign before each of these notices, as in the text card.
type Kind = (&'static str, &'static str);
const SAFETY: Kind = ("SAFETY", "-");
const WARNING: Kind = ("WARNINGS", "!");
const ADVICE: Kind = ("ADVICE", "-");
const CAUTION: Kind = ("CAUTIONS", "-");

/// The safety block, the warnings, the advice, the card's cautions, the cautions of each step after the step's name, then the closing
/// line.
fn notices(card: &Card) -> impl Iterator<Item = (Kind, String)> {
    let of_steps = card
        .work
        .iter()
        .flat_map(|block| block.cautions.iter().map(move |caution| format!("{}: {caution}", block.name)));
    let (own, closing) = card.cautions.split_at(card.cautions.len().saturating_sub(1));
    let cautions = own.iter().cloned().chain(of_steps).chain(closing.iter().cloned());
    let warnings = card.warnings.iter().map(|text| (WARNING, text.clone()));
    let advice = card.advice.iter().map(|text| (ADVICE, text.clone()));
    let block = SafetyLine::entries(&card.safety).into_iter();
    let block = block.map(|SafetyLine { word, text }| (SAFETY, format!("{word} {text}")));
    let heading = std::iter::once((SAFETY, SAFETY_HEADING.to_owned()));
    heading.chain(block).chain(warnings).chain(advice).chain(cautions.map(|text| (CAUTION, text)))
}

/// The warnings, advice and cautions as lines below their titles.
fn notices_as_lines(card: &Card) -> Vec<String> {
    let mut lines = Vec::new();
    let mut before = None;
    for (kind @ (title, mark), text) in notices(card) {
        if before.replace(kind) != Some(kind) {
            lines.extend((!lines.is_empty()).then(String::new));
            lines.push(title.to_owned());
        }
        lines.push(format!("  {mark} {text}"));
    }
    lines.push(String::new());
    lines
}

impl Live {
    /// Whether a page of warnings and cautions is shown.
    pub fn is_reading(&self) -> bool {
        self.reading.is_some()
    }

    /// Goes to the next page of cautions; after the last page, goes to the work.
    pub fn read_on(&mut self, size: Size) {
        let next = self.reading.map(|page| page + 1);
        self.reading = next.filter(|page| *page < self.pages(size).len());
    }

    /// The rows of this page of cautions; of the last page if there are fewer pages. `running` is at the right of the
    /// title.
    fn cautions_page(&self, page: usize, running: &str, size: Size) -> Vec<Row> {
        let mut pages = self.pages(size);
        let count = pages.len();
        let page = page.min(count.saturating_sub(1));
        let mut lines = pages.drain(page..).next().unwrap_or_default();
        let body: Vec<Row> = lines.iter().map(|(_, line)| Row::new(line, Shade::Strong)).collect();
        if size.rows < FRAMED {
            return body;
        }
        lines.dedup_by_key(|(kind, _)| *kind);
        let titles: Vec<&str> = lines.iter().map(|((title, _), _)| *title).collect();
        let title = format!("{} {} of {count}", titles.join(", "), page + 1);
        let mut rows = vec![Row::new(&ends(&title, running, size.columns), Shade::Body)];
        rows.extend(body);
        rows.resize(size.rows - 1, Row::blank());
        rows.push(Row::new(&to_columns(KEYS, size.columns), Shade::Faint));
        rows
    }

    /// The lines of each page. Since there is always a closing line, there is a page.
    fn pages(&self, size: Size) -> Vec<Vec<(Kind, String)>> {
        let lines = notices(&self.card).flat_map(|(kind, text)| {
            labelled(kind.1, &text, size.columns, usize::MAX).into_iter().map(move |line| (kind, line))
        });
        let height = if size.rows < FRAMED { size.rows.max(1) } else { size.rows - FRAME };
        lines.collect::<Vec<_>>().chunks(height).map(<[_]>::to_vec).collect()
    }
}
