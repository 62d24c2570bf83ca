//! What one look at the screen shows: the step and its bath, the time that is left in large figures, what is
//! to be done now and next, and how far the step and the evening have come.

use unicode_width::UnicodeWidthStr;

use super::digits::{HIGH, large, scale};
use super::fit::{bar, cut, ends, labelled};
use super::{DONE, Leg, Live, Pace};
use crate::emit::moments::Moment;
use crate::model::Time;

/// How large a screen is, in columns and rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// How wide.
    pub columns: usize,
    /// How high.
    pub rows: usize,
}

/// A line of the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What stands there, no wider than the screen.
    pub text: String,
    /// How it stands out, where there is colour.
    pub shade: Shade,
}

/// How a line stands out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shade {
    /// It does not.
    Body,
    /// What is looked at first.
    Strong,
    /// What is looked at last.
    Faint,
}

/// From so many rows on there is room for everything, with air between.
const ROOMY: usize = 20;
/// From so many rows on there is room for large figures.
const LARGE: usize = 12;
/// The keys, where there is room, and where there is little.
const KEYS: &str =
    "space start or pause   \u{2190} \u{2192} or b n by moment   s start   c cautions   q quit";
const KEYS_SHORT: &str = "space go/pause  b/n  c cautions  q quit";

impl Live {
    /// The screen when the clock shows this: no line more than it has rows, none wider than its columns.
    #[must_use]
    pub fn frame(&self, clock: Time, size: Size) -> Vec<Row> {
        let view = View { live: self, at: self.at(clock), columns: size.columns };
        let mut rows = match self.reading {
            Some(page) => self.cautions_page(page, &view.beside(), size),
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
    /// The rows that are not needed otherwise make the figures larger; so does the air below the title, where
    /// one row is wanting, as on a terminal of 24.
    fn roomy(&self, rows: usize) -> Vec<Row> {
        let free = rows - ROOMY + HIGH;
        let (airy, close) = (scale(self.columns, free), scale(self.columns, free + 1));
        let scale = airy.max(close);
        let blank = || row(String::new(), Shade::Body);
        let mut rows = vec![row(cut(&self.live.title, self.columns), Shade::Faint)];
        rows.extend((airy == close).then(blank));
        rows.extend([self.step(), self.note()]);
        rows.extend(self.figures(scale));
        rows.push(blank());
        rows.extend(self.present(2));
        rows.extend(self.coming(2));
        rows.extend([blank(), self.step_bar(), self.whole_bar(), blank()]);
        rows.extend(self.live.lid.as_ref().map(|lid| row(cut(lid, self.columns), Shade::Body)));
        rows.push(row(cut(KEYS, self.columns), Shade::Faint));
        rows
    }

    fn tight(&self, rows: usize) -> Vec<Row> {
        let mut all = vec![self.step()];
        if rows >= LARGE {
            all.extend(self.figures(1));
        } else {
            all.push(row(cut(&self.left(), self.columns), Shade::Strong));
        }
        all.extend(self.present(2));
        all.extend(self.coming(1));
        all.extend([self.step_bar(), self.whole_bar(), row(cut(KEYS_SHORT, self.columns), Shade::Faint)]);
        all
    }

    fn is_over(&self) -> bool {
        self.at >= self.live.end
    }

    fn moment(&self) -> Option<&Moment> {
        self.live.moments.get(self.live.index(self.at))
    }

    fn leg(&self) -> Option<&Leg> {
        self.live.legs.get(self.moment()?.step)
    }

    /// The step, its bath, and whether the clock runs.
    fn step(&self) -> Row {
        let state = match self.live.pace {
            Pace::Waiting(_) => "s starts",
            Pace::Paused(_) => "paused",
            Pace::Going(_) if self.is_over() => DONE,
            Pace::Going(_) => "running",
        };
        let step = match self.leg() {
            Some(Leg { name, bath: Some(bath), .. }) => format!("{name}  {bath}"),
            Some(Leg { name, bath: None, .. }) => name.clone(),
            None => String::new(),
        };
        row(ends(&step, state, self.columns), Shade::Strong)
    }

    /// What the recipe notes of the step, where it does.
    fn note(&self) -> Row {
        let notes = self.leg().map(|leg| leg.notes.join("; ")).filter(|notes| !notes.is_empty());
        let said = notes.map_or(String::new(), |notes| format!("note: {notes}"));
        row(cut(&said, self.columns), Shade::Body)
    }

    /// What is left of this moment, in whole seconds; it shows 0:00 when the next begins.
    fn left(&self) -> String {
        let until = self.moment().map_or(self.at, |moment| moment.until);
        let left = (until - self.at).ms.max(0);
        Time::from_seconds((left + 999) / 1000).to_string()
    }

    /// What a clock that runs shows beside the cautions: the step, and what is left of this moment.
    fn beside(&self) -> String {
        match (self.live.pace, self.leg()) {
            (Pace::Going(_), Some(leg)) if !self.is_over() => format!("{} {}", leg.name, self.left()),
            (Pace::Going(_) | Pace::Waiting(_) | Pace::Paused(_), _) => String::new(),
        }
    }

    fn figures(&self, scale: usize) -> Vec<Row> {
        match large(&self.left(), self.columns, scale) {
            Some(figures) => figures.into_iter().map(|figure| row(figure, Shade::Strong)).collect(),
            None => still(vec![cut(&self.left(), self.columns)], HIGH * scale, Shade::Strong),
        }
    }

    fn present(&self, most: usize) -> Vec<Row> {
        let what = if self.is_over() { DONE } else { self.moment().map_or("", |moment| &moment.what) };
        still(labelled("now ", what, self.columns, most), most, Shade::Strong)
    }

    /// What comes after this moment; where it is of another step, with that step's name.
    fn coming(&self, most: usize) -> Vec<Row> {
        let next = self.live.moments.get(self.live.index(self.at) + 1);
        let what = match (next, self.moment()) {
            (Some(next), Some(now)) if next.step != now.step => {
                let name = self.live.legs.get(next.step).map_or("", |leg| &leg.name);
                format!("{name}: {}", next.what)
            }
            (Some(next), _) => next.what.clone(),
            (None, _) if self.is_over() => "nothing".to_owned(),
            (None, _) => DONE.to_owned(),
        };
        still(labelled("next", &what, self.columns, most), most, Shade::Body)
    }

    fn step_bar(&self) -> Row {
        let (start, end) = self.leg().map_or((self.at, self.at), |leg| (leg.start, leg.end));
        self.bar("step", self.at - start, end - start)
    }

    /// Drying has no part in it: it would leave the evening's own bar no length.
    fn whole_bar(&self) -> Row {
        self.bar("all ", self.at.min(self.live.work), self.live.work)
    }

    fn bar(&self, label: &str, done: Time, whole: Time) -> Row {
        let shown = Time::from_seconds(done.ms / 1000);
        let figures = format!("{} of {whole}", if done == whole { whole } else { shown });
        // As wide as the widest figures of both bars, so that they end below each other.
        let widest = self.live.legs.iter().map(|leg| leg.end - leg.start).chain([self.live.work]);
        let widest = widest.map(|time| time.to_string().width()).max().unwrap_or(0) * 2 + " of ".len();
        let room = self.columns.saturating_sub(label.width() + widest + 2);
        let text = format!("{label} {} {figures:>widest$}", bar(done.ms, whole.ms, room));
        row(cut(&text, self.columns), Shade::Body)
    }
}

/// As many rows whatever is said, so that nothing below them moves.
fn still(lines: Vec<String>, most: usize, shade: Shade) -> Vec<Row> {
    let blank = std::iter::repeat(String::new());
    lines.into_iter().chain(blank).take(most).map(|line| row(line, shade)).collect()
}

fn row(text: String, shade: Shade) -> Row {
    Row { text, shade }
}
