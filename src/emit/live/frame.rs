//! The screen at one moment: the step, the time left, what to do now and next, and the progress.

use unicode_width::UnicodeWidthStr;

use super::fit::{DIGIT_ROWS, bar, cut, ends, labelled, large, scale};
use super::{DONE, Live, Pace, ShownStep};
use crate::emit::moments::Moment;
use crate::model::Time;

/// The size of a screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Its width.
    pub columns: usize,
    /// Its height.
    pub rows: usize,
}

/// A line of the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its text, no wider than the screen.
    pub text: String,
    /// Its emphasis, where the terminal has colour.
    pub shade: Shade,
}

/// The emphasis of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shade {
    /// None.
    Body,
    /// Bold.
    Strong,
    /// Dim.
    Faint,
}

/// Rows from which on everything fits, with empty lines between.
const ROOMY: usize = 20;
/// Rows from which on large digits fit.
const LARGE: usize = 12;
const KEYS: &str =
    "space start or pause   \u{2190} \u{2192} or b n by moment   s start   c cautions   q quit";
const KEYS_SHORT: &str = "space go/pause  b/n  c cautions  q quit";

impl Row {
    pub(super) fn new(text: String, shade: Shade) -> Row {
        Row { text, shade }
    }

    pub(super) fn blank() -> Row {
        Row::new(String::new(), Shade::Body)
    }
}

impl Live {
    /// The rows to show at this clock time; they fit the size.
    #[must_use]
    pub fn frame(&self, clock: Time, size: Size) -> Vec<Row> {
        let view = View { live: self, at: self.at(clock), columns: size.columns };
        let mut rows = match self.reading {
            Some(page) => self.cautions_page(page, &view.running(), size),
            None if size.rows >= ROOMY => view.roomy(size.rows),
            None => view.tight(size.rows),
        };
        rows.truncate(size.rows);
        rows
    }
}

struct View<'a> {
    live: &'a Live,
    at: Time,
    columns: usize,
}

impl View<'_> {
    /// Free rows make the digits larger; so does the empty line below the title if one row is missing, as with 24.
    fn roomy(&self, rows: usize) -> Vec<Row> {
        let free = rows - ROOMY + DIGIT_ROWS;
        let (airy, close) = (scale(self.columns, free), scale(self.columns, free + 1));
        let scale = airy.max(close);
        let mut rows = vec![Row::new(cut(&self.live.title, self.columns), Shade::Faint)];
        rows.extend((airy == close).then(Row::blank));
        rows.extend([self.step(), self.note()]);
        rows.extend(self.digits(scale));
        rows.push(Row::blank());
        rows.extend(self.present(2));
        rows.extend(self.next(2));
        rows.extend([Row::blank(), self.step_bar(), self.whole_bar(), Row::blank()]);
        rows.extend(self.live.lid.as_ref().map(|lid| Row::new(cut(lid, self.columns), Shade::Body)));
        rows.push(Row::new(cut(KEYS, self.columns), Shade::Faint));
        rows
    }

    fn tight(&self, rows: usize) -> Vec<Row> {
        let mut all = vec![self.step()];
        if rows >= LARGE {
            all.extend(self.digits(1));
        } else {
            all.push(Row::new(cut(&self.left(), self.columns), Shade::Strong));
        }
        all.extend(self.present(2));
        all.extend(self.next(1));
        all.extend([
            self.step_bar(),
            self.whole_bar(),
            Row::new(cut(KEYS_SHORT, self.columns), Shade::Faint),
        ]);
        all
    }

    fn is_over(&self) -> bool {
        self.at >= self.live.end
    }

    fn moment(&self) -> Option<&Moment> {
        self.live.moments.get(self.live.index(self.at))
    }

    fn current(&self) -> Option<&ShownStep> {
        self.live.steps.get(self.moment()?.step)
    }

    /// The step, its bath and the state of the clock.
    fn step(&self) -> Row {
        let state = match self.live.pace {
            Pace::Waiting(_) => "s starts",
            Pace::Paused(_) => "paused",
            Pace::Going(_) if self.is_over() => DONE,
            Pace::Going(_) => "running",
        };
        let step = match self.current() {
            Some(ShownStep { name, bath: Some(bath), .. }) => format!("{name}  {bath}"),
            Some(ShownStep { name, bath: None, .. }) => name.clone(),
            None => String::new(),
        };
        Row::new(ends(&step, state, self.columns), Shade::Strong)
    }

    /// The notes of the step.
    fn note(&self) -> Row {
        let notes = self.current().map(|step| step.notes.join("; ")).filter(|notes| !notes.is_empty());
        let text = notes.map_or(String::new(), |notes| format!("note: {notes}"));
        Row::new(cut(&text, self.columns), Shade::Body)
    }

    /// The time left in this moment, in whole seconds; 0:00 when the next begins.
    fn left(&self) -> String {
        let until = self.moment().map_or(self.at, |moment| moment.until);
        let left = (until - self.at).ms.max(0);
        Time::from_seconds((left + 999) / 1000).to_string()
    }

    /// The step and the time left, while the clock runs.
    fn running(&self) -> String {
        match (self.live.pace, self.current()) {
            (Pace::Going(_), Some(step)) if !self.is_over() => format!("{} {}", step.name, self.left()),
            _ => String::new(),
        }
    }

    fn digits(&self, scale: usize) -> Vec<Row> {
        match large(&self.left(), self.columns, scale) {
            Some(digits) => digits.into_iter().map(|row| Row::new(row, Shade::Strong)).collect(),
            None => padded(vec![cut(&self.left(), self.columns)], DIGIT_ROWS * scale, Shade::Strong),
        }
    }

    fn present(&self, most: usize) -> Vec<Row> {
        let what = if self.is_over() { DONE } else { self.moment().map_or("", |moment| &moment.what) };
        padded(labelled("now ", what, self.columns, most), most, Shade::Strong)
    }

    /// The next moment, after the name of its step if that differs.
    fn next(&self, most: usize) -> Vec<Row> {
        let next = self.live.moments.get(self.live.index(self.at) + 1);
        let what = match (next, self.moment()) {
            (Some(next), Some(now)) if next.step != now.step => {
                let name = self.live.steps.get(next.step).map_or("", |step| &step.name);
                format!("{name}: {}", next.what)
            }
            (Some(next), _) => next.what.clone(),
            (None, _) if self.is_over() => "nothing".to_owned(),
            (None, _) => DONE.to_owned(),
        };
        padded(labelled("next", &what, self.columns, most), most, Shade::Body)
    }

    fn step_bar(&self) -> Row {
        let (start, end) = self.current().map_or((self.at, self.at), |step| (step.start, step.end));
        self.bar("step", self.at - start, end - start)
    }

    /// Without drying, which would leave the bar no visible length.
    fn whole_bar(&self) -> Row {
        self.bar("all ", self.at.min(self.live.work), self.live.work)
    }

    fn bar(&self, label: &str, done: Time, whole: Time) -> Row {
        let shown = Time::from_seconds(done.ms / 1000);
        let figures = format!("{} of {whole}", if done == whole { whole } else { shown });
        // Both bars end at the same column.
        let widest = self.live.steps.iter().map(|step| step.end - step.start).chain([self.live.work]);
        let widest = widest.map(|time| time.to_string().width()).max().unwrap_or(0) * 2 + " of ".len();
        let room = self.columns.saturating_sub(label.width() + widest + 2);
        let text = format!("{label} {} {figures:>widest$}", bar(done.ms, whole.ms, room));
        Row::new(cut(&text, self.columns), Shade::Body)
    }
}

/// Exactly `most` rows, so that nothing below them moves.
fn padded(lines: Vec<String>, most: usize, shade: Shade) -> Vec<Row> {
    let blank = std::iter::repeat(String::new());
    lines.into_iter().chain(blank).take(most).map(|line| Row::new(line, shade)).collect()
}
