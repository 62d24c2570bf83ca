//! Builds the time of a step: from a chart, as written, by the clearing time, by the parent's time, or until a visible
//! sign.

use super::super::error;
use super::super::merge::MergedStep;
use super::Builder;
use super::recipes::chart;
use crate::model::{Change, Chart, Duration, Flow, Number, Point, Sign, Stated, StepKind, Time};
use crate::source::{Diagnostic, Span, clip};
use crate::vocabulary::{Lines as _, Matched, Reading, say};

const CHANGES_MAX: u32 = 50;
/// The shortest interval that `look every` may state.
const LOOK_MIN: Time = Time::from_seconds(1);

impl Builder<'_> {
    /// The duration of a step; `None` after an error. `film` is the recipe's line that names a film, or that states by
    /// `film any` that the times hold for every film. In edition 2, a step of a recipe without that line needs no time
    /// (`Duration::Open`).
    pub(super) fn duration(
        &mut self,
        own: &MergedStep<'_>,
        film: Option<Matched<'_, say::UsedFilm>>,
    ) -> Option<Stated<Duration>> {
        let Some(row) = own.time_row() else {
            if film.is_none() && self.edition(own.span.file) >= 2 {
                return Some(Stated::new(Duration::Open, own.span));
            }
            let fault = own.sound.then(|| missing_time(own)).map(|fault| self.asked_by(film, own, fault));
            self.faults.extend(fault);
            return None;
        };
        let value = self.duration_of(own, row, &own.times_before)?;
        Some(Stated::new(value, row.span))
    }

    /// The error about a step without a time. In edition 2, a derived recipe that names a film for the parent's step
    /// must state the time, so the error is at its line `film`. In all other cases it is `fault`.
    fn asked_by(
        &self,
        film: Option<Matched<'_, say::UsedFilm>>,
        own: &MergedStep<'_>,
        fault: Diagnostic,
    ) -> Diagnostic {
        let recipe = |span: Span| {
            let readings = &self.units.get(&span.file)?.readings;
            readings.iter().find(|reading| reading.extent.holds(span)).map(|reading| reading.span)
        };
        let Some(film) = film.filter(|film| recipe(film.span) != recipe(own.span)) else { return fault };
        if self.edition(own.span.file) < 2 {
            return fault;
        }
        let message = match film.film() {
            Some(name) => format!("the step {} needs a time for '{}'", own.id, clip(name)),
            None => format!("the step {} needs a time for any {}", own.id, film.row.word),
        };
        let help = format!(
            "add a block {} {{ to this recipe, with a time or a chart from a test, such as: time 10:00",
            own.id
        );
        error(fault.name, film.span, message, help).other(own.span, "the step has no time")
    }

    /// The duration that the statement `row` of a step states; `None` after an error. `before` has the time statements
    /// of the step's parents, nearest parent first, to which a multiple such as `1.4 x parent` refers.
    fn duration_of(&mut self, own: &MergedStep<'_>, row: &Reading, before: &[&Reading]) -> Option<Duration> {
        if !row.sound || !row.block_sound {
            return None;
        }
        // If a line of the step has an error, a chart with too few points is not reported: that line may be meant as a
        // point.
        if row.is::<say::Chart>() && !own.known && row.each::<say::Point>().count() < 2 {
            return None;
        }
        Some(if row.is::<say::Chart>() {
            Duration::Chart(chart(row, &mut self.faults)?)
        } else if let Some(fills) = row.view::<say::Fills>() {
            let counts = fills.all(say::Fills::inversions);
            Duration::Changes(counts.map(|(count, _)| Change::Inversions(count)).collect())
        } else if let Some(soak) = row.view::<say::Soak>() {
            let (time, count) = soak.time().zip(soak.changes())?;
            if count > CHANGES_MAX {
                self.error(
                    "too-many-changes",
                    row.span,
                    "a wash has at most 50 changes of water",
                    "use fewer and longer changes; or running water for some time: flow 2 l/min",
                );
                return None;
            }
            Duration::Changes((0..count).map(|_| Change::Soak(time)).collect())
        } else {
            return self.timed(own, row.view()?, before);
        })
    }

    fn timed(
        &mut self,
        own: &MergedStep<'_>,
        row: Matched<'_, say::Time>,
        before: &[&Reading],
    ) -> Option<Duration> {
        if let Some(name) = row.said(say::Time::trial) {
            return self.by_trial(row, name);
        }
        let bounds = self.bounds(row)?;
        let flow = own.stated(say::Flow::flow).map(|flow| flow.value);
        if let Some(text) = row.until().or(row.sign()) {
            return self.sign(row, text, bounds, flow);
        }
        if let Some(look) = bounds.look {
            self.error(
                "needless-bound",
                look.span,
                "'look every' is only for a step that lasts until you see a sign, and this time is fixed",
                "remove 'look every', or write a sign, such as: time until \"the shadows are black\", at most 8:00",
            );
            return None;
        }
        if let Some(times) = row.times().filter(|_| row.has(say::Time::clearing)) {
            let (at_least, at_most) = bounds.values();
            return Some(Duration::Clearing { times, at_least, at_most });
        }
        if let Some(needless) = bounds.least.or(bounds.most) {
            self.error(
                "needless-bound",
                needless.span,
                "a fixed time cannot have 'at least' or 'at most'",
                "remove it; only a time such as until \"it is clear\" or 3 x clearing can have it",
            );
            return None;
        }
        if let Some(times) = row.times() {
            let Some((parent, before)) = before.split_first() else {
                self.report(no_time_of_parent(own, row.span));
                return None;
            };
            let duration = self.duration_of(own, parent, before)?;
            return self.multiplied(row, times, duration);
        }
        let time = row.time()?;
        if !row.has(say::Time::side) {
            return Some(match flow {
                Some(flow) => Duration::Flow { flow, time },
                None => Duration::Plain { time, at: row.at() },
            });
        }
        if own.id.kind == StepKind::Expose && own.one::<say::In>().is_none() {
            return Some(Duration::EachSide(time));
        }
        let fault = each_side_in_bath(own, row.span, time.times(2));
        self.report(fault);
        None
    }

    fn bounds(&mut self, row: Matched<'_, say::Time>) -> Option<Bounds> {
        let mut bounds = Bounds::default();
        for (clause, span) in row.all(say::Time::bound) {
            let (place, value) = if let Some(look) = clause.view::<say::Look>() {
                (&mut bounds.look, look.every()?)
            } else {
                let bound = clause.view::<say::Bound>()?;
                match (bound.least(), bound.most()) {
                    (Some(least), _) => (&mut bounds.least, least),
                    (None, most) => (&mut bounds.most, most?),
                }
            };
            if let Some(first) = place {
                let message = "this limit of the time is stated twice";
                let fault = error("bound-twice", span, message, "keep one of the two");
                let fault = fault.other(first.span, "the first");
                self.report(fault);
                return None;
            }
            *place = Some(Stated::new(value, span));
        }
        if let (Some(least), Some(most)) = (bounds.least, bounds.most)
            && *least >= *most
        {
            let message =
                format!("the shortest time, {}, is not shorter than the longest, {}", *least, *most);
            let fault = error("bounds-upside-down", most.span, message, "correct one of the two");
            self.report(fault.other(least.span, "the shortest time"));
            return None;
        }
        Some(bounds)
    }

    /// The duration of a step that ends when a person sees a sign, as in `time until "the shadows are black"` (R18 in
    /// the reference). `None` after an error.
    fn sign(
        &mut self,
        row: Matched<'_, say::Time>,
        text: &str,
        bounds: Bounds,
        flow: Option<Flow>,
    ) -> Option<Duration> {
        if text.trim().is_empty() {
            let help = "write what to look for, such as: time until \"the shadows are black\", at most 8:00";
            self.error("empty-sign", row.span, "the text after 'until' is empty", help);
            return None;
        }
        let Some(most) = bounds.most else {
            self.error(
                "sign-without-end",
                row.span,
                "a step that lasts until something is seen needs a longest time: it may never be seen",
                "end the line with a longest time, such as: , at most 8:00",
            );
            return None;
        };
        if let Some(look) = bounds.look.filter(|look| **look > *most || **look < LOOK_MIN) {
            self.error(
                "out-of-range",
                look.span,
                format!("look every {} does not fit a step of at most {}", *look, *most),
                format!("choose an interval from 1 s to {}", *most),
            );
            return None;
        }
        Some(Duration::Sign(Sign {
            text: text.to_owned(),
            times: row.times(),
            at_least: bounds.least.map(|least| *least),
            at_most: *most,
            look: bounds.look.map(|look| *look),
            flow,
        }))
    }

    fn multiplied(
        &mut self,
        row: Matched<'_, say::Time>,
        times: Number,
        duration: Duration,
    ) -> Option<Duration> {
        match duration {
            Duration::Plain { time, at } => Some(Duration::Plain { time: time.by(times), at }),
            Duration::Flow { flow, time } => Some(Duration::Flow { flow, time: time.by(times) }),
            Duration::EachSide(time) => Some(Duration::EachSide(time.by(times))),
            Duration::Chart(chart) => {
                let points =
                    chart.points().iter().map(|point| Point { time: point.time.by(times), ..*point });
                Some(Duration::Chart(Chart::new(points.collect())))
            }
            Duration::Clearing { .. } | Duration::Sign(_) | Duration::Changes(_) | Duration::Open => {
                self.error(
                    "no-time-of-parent",
                    row.span,
                    "the parent's step has no time of its own to multiply",
                    "write the time itself, such as: time 10:00",
                );
                None
            }
        }
    }
}

fn no_time_of_parent(own: &MergedStep<'_>, span: Span) -> Diagnostic {
    let message = format!(
        "'parent' takes the time of the step {} from the recipe after 'from', and there is no such time",
        own.id
    );
    error("no-time-of-parent", span, message, "write the time itself, such as: time 10:00")
}

#[derive(Debug, Default)]
struct Bounds {
    least: Option<Stated<Time>>,
    most: Option<Stated<Time>>,
    look: Option<Stated<Time>>,
}

impl Bounds {
    fn values(&self) -> (Option<Time>, Option<Time>) {
        (self.least.map(|least| *least), self.most.map(|most| *most))
    }
}

fn missing_time(own: &MergedStep<'_>) -> Diagnostic {
    if let Some(flow) = own.one::<say::Flow>() {
        return error(
            "flow-without-time",
            flow.span,
            "running water needs a time",
            "add a line such as: time 10:00",
        );
    }
    let help = match own.id.kind {
        StepKind::Wash => "add a line such as: fills 5, 10, 20 inversions; or: soak 5:00 x 6; or: time 10:00",
        _ => "add a line such as: time 1:00; or a chart",
    };
    error("missing-time", own.span, format!("the step {} needs a time", own.id), help)
}

/// The error for `each side` in a step without a lamp. `both` is the time of both sides.
fn each_side_in_bath(own: &MergedStep<'_>, span: Span, both: Time) -> Diagnostic {
    match own.one::<say::In>().filter(|_| own.id.kind == StepKind::Expose) {
        Some(bath) => error(
            "each-side-in-bath",
            span,
            "'each side' is for light from a lamp, but this step is in a bath",
            format!("remove the line of the bath; or state the whole time: time {both}"),
        )
        .other(bath.span, "the bath"),
        None => error(
            "each-side-in-bath",
            span,
            "'each side' is only for a step 'expose', which exposes the film to light again",
            format!("state the whole time: time {both}"),
        ),
    }
}
