//! The terminal screen at one time: the step, the time left, the instructions for now and next, and the progress.

use unicode_width::UnicodeWidthStr;

use super::legs::Open;
use super::now::{Now, left, passed};
use super::{AHEAD, DONE, Live};
use crate::compile::{Decision, PlannedStep, Schedule};
use crate::emit::document::StepText;
use crate::emit::moments::{Moment, amount};
use crate::emit::plain::{cut, joined, prefixed, wrap};
use crate::model::Time;

/// The size of a screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// The width of the screen in characters.
    pub columns: usize,
    /// The height of the screen in lines.
    pub rows: usize,
}

/// A line of the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The line's text, no wider than the screen.
    pub text: String,
    /// The line's emphasis, where the terminal has colour.
    pub shade: Shade,
}

/// The emphasis of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shade {
    /// No emphasis.
    Body,
    /// Bold.
    Strong,
    /// Dim.
    Faint,
}

impl Row {
    pub(super) fn new(text: &str, shade: Shade) -> Row {
        Row { text: text.to_owned(), shade }
    }

    pub(super) fn blank() -> Row {
        Row::new("", Shade::Body)
    }
}

/// The least height of the screen, in rows, for the layout with title, notes, large digits and empty rows.
const ROOMY: usize = 20;
/// The least height of the screen, in rows, at which the small layout has large digits.
const LARGE: usize = 12;
/// The least height of the screen, in rows, at which the small layout has a row for messages.
const SAYING: usize = 14;
const KEYS: &str = "w where am I  b n moment  1 2 3 late 5 10 30 s  t read  u undo  c safety  q quit";
const KEYS_SHORT: &str = "w where  1 2 3 late  t read  u undo  q";

impl Live {
    /// The rows to show at this clock time, on a screen of this size.
    pub fn frame(&self, clock: Time, size: Size) -> Vec<Row> {
        let at = self.at(clock);
        let now = self.moment(at);
        let step = now
            .and_then(|now| Some((self.card.work.get(now.step)?, self.tank.schedule.steps.get(now.step)?)));
        let next = self.tank.moments.get(self.index(at) + 1);
        let (open, shown) = (self.tank.open(clock), self.state(clock));
        let view = View { live: self, clock, at, columns: size.columns, now, next, step, open, shown };
        let mut rows = match (self.reading, &self.choice) {
            (Some(page), _) => self.cautions_page(page, &view.running(), size),
            (None, Some(choice)) => self.choice_rows(choice, clock, size),
            (None, None) if size.rows >= ROOMY => view.roomy(size.rows),
            (None, None) => view.tight(size.rows),
        };
        rows.truncate(size.rows);
        rows
    }
}

struct View<'a> {
    live: &'a Live,
    clock: Time,
    at: Time,
    columns: usize,
    now: Option<&'a Moment>,
    next: Option<&'a Moment>,
    /// The current step: its words on the card, and its schedule.
    step: Option<(&'a StepText, &'a PlannedStep)>,
    /// The decision that a person has not made yet in this step.
    open: Option<Open<'a>>,
    shown: Now,
}

impl View<'_> {
    fn row(&self, text: &str, shade: Shade) -> Row {
        Row::new(&to_columns(text, self.columns), shade)
    }

    /// The rows of a large screen. Rows beyond [`ROOMY`] make the digits larger. If one more row would make them larger
    /// still, the empty row below the title is left out.
    fn roomy(&self, rows: usize) -> Vec<Row> {
        let free = rows - ROOMY + DIGIT_ROWS;
        let (airy, close) = (scale(self.columns, free), scale(self.columns, free + 1));
        let mut rows = vec![self.row(&self.live.card.title, Shade::Faint)];
        rows.extend((airy == close).then(Row::blank));
        rows.extend([self.head(), self.note()]);
        rows.extend(self.digits(airy.max(close)));
        rows.push(self.saying());
        rows.extend(self.present());
        rows.extend(self.following(2));
        rows.extend([self.step_bar(), self.whole_bar(), Row::blank()]);
        rows.extend(self.lid());
        rows.push(self.held().unwrap_or_else(Row::blank));
        rows.push(self.row(self.live.prompt.as_deref().unwrap_or(KEYS), Shade::Faint));
        rows
    }

    fn tight(&self, rows: usize) -> Vec<Row> {
        let lid = self.lid();
        let more = lid.len().saturating_sub(1);
        let mut all = vec![self.head()];
        if rows >= LARGE + more {
            all.extend(self.digits(1));
        } else {
            all.push(self.row(&self.count(), Shade::Strong));
        }
        all.extend((rows >= SAYING + more).then(|| self.saying()));
        let whole = lid.is_empty().then(|| self.whole_bar());
        all.extend(lid);
        all.extend(self.present());
        all.extend(self.following(1));
        all.push(self.step_bar());
        all.extend(whole);
        all.push(self.keys(KEYS_SHORT));
        all
    }

    /// The rows about the lid. There are always as many as its longest text needs, so that the rows below never move.
    fn lid(&self) -> Vec<Row> {
        let (Some(lid), Some(now)) = (&self.live.tank.lid, self.live.lid(self.clock)) else {
            return Vec::new();
        };
        let rows = |text: String| wrap(&text, self.columns.max(1)).len();
        let exposures = lid.exposures.iter().filter_map(|one| lid.exposure_at(one.from)).map(rows);
        let longest = lid.on.iter().map(|on| rows(format!("{on}   {}", lid.condition())));
        let most = longest.chain(exposures).max().unwrap_or(0);
        let lines = wrap(&now, self.columns.max(1));
        padded(
            &lines.iter().map(|line| to_columns(line, self.columns)).collect::<Vec<_>>(),
            most,
            Shade::Strong,
        )
    }

    /// What holding Enter confirms, with a bar for how long it has been held; `None` if nothing.
    fn held(&self) -> Option<Row> {
        let text = format!("hold Enter: {}", self.live.asks(self.clock)?);
        let room = self.columns.saturating_sub(text.width() + 3);
        let done = i64::try_from(self.live.holding).unwrap_or(0);
        let bar = if done > 0 { format!("   {}", bar(done, 100, room)) } else { String::new() };
        Some(self.row(&format!("{text}{bar}"), Shade::Strong))
    }

    /// The last row of a small screen: a question, or what holding Enter confirms, or the keys.
    fn keys(&self, keys: &str) -> Row {
        if let Some(prompt) = &self.live.prompt {
            return self.row(prompt, Shade::Strong);
        }
        self.held().unwrap_or_else(|| self.row(keys, Shade::Faint))
    }

    fn is_over(&self) -> bool {
        self.at >= self.live.tank.end
    }

    /// The name of the step at the left; at the right, how late its pour is, or whether the clock runs.
    fn head(&self) -> Row {
        let late = self.shown.due.filter(|due| *due >= Time::from_seconds(1));
        let state = match late {
            Some(due) => format!("due {} ago", passed(due)),
            None if !self.live.is_started() => "hold Enter to start".to_owned(),
            None if self.is_over() => DONE.to_owned(),
            None if self.open.as_ref().is_some_and(Open::is_late) => "past the latest end".to_owned(),
            None => "running".to_owned(),
        };
        let words =
            self.step.map(|(block, _)| format!("{}{}", block.name, prefixed("  ", block.bath.as_ref())));
        Row::new(&ends(&words.unwrap_or_default(), &state, self.columns), Shade::Strong)
    }

    fn note(&self) -> Row {
        let notes = self.step.map(|(block, _)| block.notes.join("; ")).filter(|notes| !notes.is_empty());
        self.row(&prefixed("note: ", notes), Shade::Body)
    }

    /// The answer to the last key, or a line about the previous bath.
    fn saying(&self) -> Row {
        let message = self.live.message.as_ref().filter(|(_, until)| self.clock < *until);
        let text = message.map(|(text, _)| text.clone()).or_else(|| self.live.said(self.clock));
        self.row(&text.unwrap_or_default(), Shade::Strong)
    }

    /// The decision that a person must make in this step, from the first look for its sign on; `None` before that look.
    fn looking(&self) -> Option<&Open<'_>> {
        self.open.as_ref().filter(|open| open.is_looking())
    }

    fn count(&self) -> String {
        if self.is_over() { Time::ZERO.to_string() } else { self.shown.count.clone().unwrap_or_default() }
    }

    /// The name of the current step and the time that the screen shows; empty before the start and after the end.
    fn running(&self) -> String {
        let step = self.step.filter(|_| self.live.is_started() && !self.is_over());
        step.map(|(block, _)| format!("{} {}", block.name, self.count())).unwrap_or_default()
    }

    fn digits(&self, scale: usize) -> Vec<Row> {
        match large(&self.count(), self.columns, scale) {
            Some(digits) => digits.iter().map(|row| Row::new(row, Shade::Strong)).collect(),
            None => padded(&[to_columns(&self.count(), self.columns)], DIGIT_ROWS * scale, Shade::Strong),
        }
    }

    fn present(&self) -> Vec<Row> {
        let what = if self.is_over() { String::new() } else { self.detail() };
        let sign = self.looking().map(|open| open.words().replacen("LOOK ", "", 1)).into_iter();
        let text = joined(sign.chain([what]), " \u{b7} ");
        padded(&labelled(&format!("{:LABEL$}", self.shown.word), &text, self.columns, 2), 2, Shade::Strong)
    }

    /// The current instruction without its first word, which is on the screen already; for agitation, the amount.
    fn detail(&self) -> String {
        let moving = self.live.tank.moving(self.at).filter(|_| self.shown.word == "AGITATE");
        if let Some(event) = moving.filter(|event| event.by != Some("rotary")) {
            return amount(event) + &prefixed(", by ", event.by.filter(|_| event.count.is_none()));
        }
        let what = self.now.map_or("", |moment| &moment.what);
        let rest = what.strip_prefix(&self.shown.word.to_lowercase());
        rest.map_or(what, |rest| rest.trim_start_matches([':', ' '])).to_owned()
    }

    /// The next instruction, after the name of its step if that is another one. In the last ten seconds before a bath
    /// goes in or comes out, the label is `in 0:07` instead of `next`.
    fn following(&self, most: usize) -> Vec<Row> {
        let first_look = self.open.as_ref().filter(|open| !open.is_looking());
        let first_look = first_look.filter(|open| self.now.is_some_and(|now| open.first_look() < now.until));
        let what = match self.next {
            _ if first_look.is_some() => first_look.map(Open::words).unwrap_or_default(),
            Some(next) if self.looking().is_some() && self.now.is_some_and(|now| now.leg < next.leg) => {
                let most = self.open.as_ref().map_or(Time::ZERO, |open| open.decision.most);
                format!("at {most} at the latest, {}", next.what)
            }
            Some(next) => {
                let turn = self.now.is_some_and(|now| now.step != next.step);
                let block = self.live.card.work.get(next.step).filter(|_| turn);
                prefixed("", block.map(|block| format!("{}: ", block.name))) + &next.what
            }
            None if self.is_over() => "nothing".to_owned(),
            None => DONE.to_owned(),
        };
        let soon = self.next.filter(|next| {
            let is_near = next.at - self.at <= AHEAD && self.live.is_started();
            is_near && next.actions.iter().any(|action| action.moves_a_bath()) && self.looking().is_none()
        });
        let label = soon.map_or("next".to_owned(), |next| format!("in {}", left(next.at - self.at)));
        let shade = if soon.is_some() { Shade::Strong } else { Shade::Body };
        padded(&labelled(&format!("{label:LABEL$}"), &what, self.columns, most), most, shade)
    }

    fn step_bar(&self) -> Row {
        let (start, end) = self.step.map_or((self.at, self.at), |(_, step)| (step.start, step.end));
        let slack = self.open.as_ref().map_or(Time::ZERO, |open| open.decision.slack());
        self.bar(STEP, self.at - start, end - start, slack)
    }

    /// The progress bar of all steps but drying. Drying takes so long that the bar would hardly move.
    fn whole_bar(&self) -> Row {
        let work = self.live.tank.schedule.total;
        self.bar("all ", self.at.min(work), work, self.live.tank.slack(self.at))
    }

    /// A progress bar. `slack` is the time by which a person's decisions may still shorten `whole`. The bar of a step
    /// without slack shows the time left.
    fn bar(&self, label: &str, done: Time, whole: Time, slack: Time) -> Row {
        let shown = Time::from_seconds(done.ms / 1000);
        let shown = if done == whole { whole } else { shown };
        let figures = match label {
            STEP if slack == Time::ZERO => format!("{} left of {whole}", left(whole - done)),
            _ => format!("{shown} of {}", ranged(whole, slack)),
        };
        // The figures have the same width during the whole session. So both bars always end in the same column.
        let Schedule { steps, total, .. } = &*self.live.base;
        let steps = steps.iter().map(|step| {
            let slack = step.decision.as_ref().map_or(Time::ZERO, Decision::slack);
            (step.end - step.start, slack, " left of ")
        });
        let all = steps.chain([(*total, self.live.tank.slack(Time::ZERO), " of ")]);
        let width = |(whole, slack, of): (Time, Time, &str)| {
            whole.to_string().width() + ranged(whole, slack).width() + of.len()
        };
        let widest = all.map(width).max().unwrap_or(0);
        let room = self.columns.saturating_sub(label.width() + widest + 2);
        self.row(&format!("{label} {} {figures:>widest$}", bar(done.ms, whole.ms, room)), Shade::Body)
    }
}

const STEP: &str = "step";
/// The width of the labels before the current and the next instruction.
const LABEL: usize = 7;

/// A time that may be shorter by `slack`: `4:00 to 20:00`.
fn ranged(whole: Time, slack: Time) -> String {
    if slack > Time::ZERO { format!("{} to {whole}", whole - slack) } else { whole.to_string() }
}

/// The lines as rows, followed by empty rows up to `most` rows, so that the rows below never move.
fn padded(lines: &[String], most: usize, shade: Shade) -> Vec<Row> {
    let mut rows: Vec<Row> = lines.iter().map(|line| Row::new(line, shade)).collect();
    rows.resize(most, Row::new("", shade));
    rows
}

pub(super) fn to_columns(text: &str, columns: usize) -> String {
    cut(text, |start| start.width() <= columns)
}

/// The text after a label, wrapped onto at most `most` lines.
pub(super) fn labelled(label: &str, text: &str, columns: usize, most: usize) -> Vec<String> {
    let indent = label.width() + 1;
    let room = columns.saturating_sub(indent).max(1);
    let mut lines = wrap(text, room);
    if lines.len() > most {
        lines.truncate(most);
        lines.iter_mut().skip(most - 1).for_each(|last| *last = to_columns(&format!("{last}\u{2026}"), room));
    }
    let labels = [label].into_iter().chain(std::iter::repeat(""));
    let lines = labels.zip(lines).map(|(label, line)| to_columns(&format!("{label:indent$}{line}"), columns));
    lines.collect()
}

/// A line with a text at each end. If both do not fit, the left one is cut first.
pub(super) fn ends(left: &str, right: &str, columns: usize) -> String {
    let right = to_columns(right, columns);
    let left = to_columns(left, columns.saturating_sub(right.width() + 1));
    let gap = columns.saturating_sub(left.width() + right.width());
    format!("{left}{}{right}", " ".repeat(gap))
}

/// A bar of this many columns, filled to `done / whole`.
fn bar(done: i64, whole: i64, columns: usize) -> String {
    let wide = i64::try_from(columns).unwrap_or(0);
    let filled = if whole > 0 { done.clamp(0, whole).saturating_mul(wide) / whole } else { wide };
    let filled = usize::try_from(filled).unwrap_or(0).min(columns);
    format!("{}{}", "\u{2588}".repeat(filled), "\u{2591}".repeat(columns - filled))
}

/// The height of a large digit, in blocks.
const DIGIT_ROWS: usize = 5;
/// The width of `12:34` in large digits, in blocks. A longer time has narrower blocks.
const CLOCK_COLUMNS: usize = 17;

/// The digits from 0 to 9, the plus sign, then the colon. Each `#` is a block.
const DIGITS: [&str; DIGIT_ROWS] = [
    "###  #  ### ### # # ### ### ### ### ###      ",
    "# # ##    #   # # # #   #     # # # # #  #  #",
    "# #  #  ### ### ### ### ###   # ### ### ###  ",
    "# #  #  #     #   #   # # #   # # #   #  #  #",
    "### ### ### ###   # ### ###   # ### ###      ",
];

/// The greatest height of a block, in rows, at which `12:34` fits into these columns and rows.
fn scale(columns: usize, rows: usize) -> usize {
    (columns / (2 * CLOCK_COLUMNS)).min(rows / DIGIT_ROWS).max(1)
}

/// A time in large digits, of blocks that are `scale` rows high and up to twice as many columns wide; `None` if it does
/// not fit.
fn large(clock: &str, columns: usize, scale: usize) -> Option<Vec<String>> {
    let rows = DIGITS.map(|row| {
        let digits = clock.chars().filter_map(|letter| {
            let start = "0123456789+:".find(letter)? * 4;
            row.get(start..row.len().min(start + 3))
        });
        joined(digits, " ").replace('#', "\u{2588}")
    });
    let wide = (1..=2 * scale).rev().find(|wide| rows.iter().all(|row| row.width() * wide <= columns))?;
    let wider = |row: &String| row.chars().flat_map(|block| [block].repeat(wide)).collect::<String>();
    Some(rows.iter().flat_map(|row| vec![wider(row); scale]).collect())
}
