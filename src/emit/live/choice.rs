//! The list of steps, from which a person says which bath is in the tank and since when.

use super::frame::{Row, Shade, Size, ends, to_columns};
use super::tank::pour_of;
use super::{Live, Said};
use crate::emit::phrase;
use crate::model::Time;

/// The list of steps while it is open.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    step: usize,
    /// The clock time at which the bath of the marked step went in.
    since: Time,
    /// Why the list was opened; `None` if a person opened it.
    why: Option<String>,
}

const KEYS: &str = "Enter it went in then   \u{2191} \u{2193} step   - + since   x as it runs";
const KEYS_AGAIN: &str =
    "x as it runs   Enter it went in then   \u{2191} \u{2193} step   - + since   a again";

impl Live {
    /// Opens the list of steps and marks the current step. `why` is the reason, if no person asked for the list.
    pub fn choose(&mut self, why: Option<String>, clock: Time) {
        let step = self.tank.step_at(self.at(clock));
        self.choice = Some(Choice { step, since: self.since(step, clock), why });
    }

    /// Whether the list of steps is open.
    pub fn is_choosing(&self) -> bool {
        self.choice.is_some()
    }

    /// Closes the list of steps without a choice.
    pub fn close_choice(&mut self) {
        self.choice = None;
    }

    fn since(&self, step: usize, clock: Time) -> Time {
        self.tank.pour(step, clock).map_or(clock, |pour| pour.at.min(clock))
    }

    /// Moves the mark by this many steps: down the list, or up if negative.
    pub fn mark(&mut self, by: isize, clock: Time) {
        let Some(marked) = self.choice.as_ref().map(|choice| choice.step) else { return };
        let step = marked.saturating_add_signed(by).min(self.base.steps.len().saturating_sub(1));
        let since = self.since(step, clock);
        if let Some(choice) = &mut self.choice {
            (choice.step, choice.since) = (step, since);
        }
    }

    /// Adds `by` to the time at which the bath of the marked step went in. The result is never after `clock`.
    pub fn shift_since(&mut self, by: Time, clock: Time) {
        if let Some(choice) = &mut self.choice {
            choice.since = (choice.since + by).min(clock);
        }
    }

    /// Says that the bath of the marked step went in at the time `since`, and closes the list.
    pub fn take_choice(&mut self, clock: Time) -> bool {
        let Some(choice) = self.choice.take() else { return false };
        if !self.is_started() {
            // Before the start, no bath is in the tank, so the choice sets the step at which the session begins.
            let to = self.base.steps.get(choice.step).map_or(Time::ZERO, pour_of);
            return self.say(Said::At(to), clock);
        }
        self.say(Said::In(choice.step), choice.since.min(clock))
    }

    pub(super) fn choice_rows(&self, choice: &Choice, clock: Time, size: Size) -> Vec<Row> {
        let fit = |text: &str, shade| Row::new(&to_columns(text, size.columns), shade);
        let title = choice.why.as_deref().unwrap_or("Which bath is in the tank, and since when?");
        let mut rows: Vec<Row> = crate::emit::plain::wrap(title, size.columns.max(1))
            .iter()
            .map(|line| fit(line, Shade::Strong))
            .collect();
        let room = size.rows.saturating_sub(rows.len() + 1).max(1);
        let first = (choice.step + 1).saturating_sub(room);
        for (index, step) in self.base.steps.iter().enumerate().skip(first).take(room) {
            let is_marked = index == choice.step;
            let mark = if is_marked { "> " } else { "  " };
            let ago = super::now::passed(clock - choice.since);
            let since = format!("since {}, {ago} ago", self.day_time(choice.since));
            let right = if is_marked && self.is_started() { since } else { String::new() };
            let text = ends(&format!("{mark}{}", phrase::head(step)), &right, size.columns);
            rows.push(Row::new(&text, if is_marked { Shade::Strong } else { Shade::Body }));
        }
        rows.resize(size.rows.saturating_sub(1).max(rows.len()), Row::blank());
        let keys = if choice.why.is_some() { KEYS_AGAIN } else { KEYS };
        rows.push(fit(self.prompt.as_deref().unwrap_or(keys), Shade::Faint));
        rows
    }
}
