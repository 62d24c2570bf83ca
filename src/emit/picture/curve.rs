//! The development charts of a session, one below the other: the recipe's points, the line by rule R1, and tonight's
//! time.

use super::{
    Anchor, BODY, Drawing, Ink, MARGIN, Mark, Shape, WIDTH, bath, caption, line, temperature,
    temperature_ticks, ticks_around, time_ticks, words,
};
use crate::compile::{PlannedStep, Scale, Schedule, at_chart};
use crate::emit::phrase;
use crate::emit::plain::{joined, plain, prefixed};
use crate::model::{Chart, Temperature, Time};

const TOP: f64 = 26.0;
const PANEL: f64 = 226.0;
/// The distance from the top of a chart to its plot, with room for two lines of text.
const HEAD: f64 = 40.0;
const LEFT: f64 = 50.0;
const RIGHT: f64 = 308.0;
const HEIGHT: f64 = 152.0;
/// The distance of the coldest and warmest points from the sides of the plot.
const INSET: f64 = 14.0;
/// The number of straight pieces in the line between two points.
const PIECES: i64 = 16;

/// The development charts of a session, one below the other; `None` if no time is from a chart.
pub(super) fn drawing(schedule: &Schedule) -> Option<Drawing> {
    let name = plain(&schedule.recipe.title);
    let mut marks = Vec::new();
    let mut sentences = Vec::new();
    let mut top = TOP;
    for step in &schedule.steps {
        let Some(plot) = Plot::of(step, schedule.conditions.scale, top) else { continue };
        marks.extend(plot.head());
        marks.extend(plot.axes());
        marks.extend(plot.line());
        marks.extend(plot.tonight());
        sentences.push(plot.sentence());
        top += PANEL;
    }
    (!sentences.is_empty()).then(|| Drawing {
        name: "curve".to_owned(),
        height: top,
        title: format!("{name}: the time at each temperature, and tonight"),
        description: sentences.join(" "),
        caption: caption(&name),
        marks,
    })
}

struct Plot<'a> {
    step: &'a PlannedStep,
    chart: &'a Chart,
    from: Temperature,
    scale: Scale,
    top: f64,
    foot: f64,
    temperatures: (Temperature, Temperature),
    times: (Time, Time),
}

impl<'a> Plot<'a> {
    fn of(step: &'a PlannedStep, scale: Scale, top: f64) -> Option<Plot<'a>> {
        let (chart, from) = step.chart.as_ref().zip(step.temperature)?;
        let to = step.ending.unwrap_or(from);
        let (coldest, warmest) = chart.ends()?;
        let temperatures = (coldest.min(from).min(to), warmest.max(from).max(to));
        let times = chart.points().iter().map(|point| point.time).chain([step.duration]);
        let times = ticks_around((times.clone().min()?, times.max()?));
        Some(Plot { step, chart, from, scale, top, foot: top + HEAD + HEIGHT, temperatures, times })
    }

    fn x(&self, at: Temperature) -> f64 {
        let (low, high) = (self.temperatures.0.celsius(), self.temperatures.1.celsius());
        let room = RIGHT - LEFT - 2.0 * INSET;
        LEFT + INSET + room * (at.celsius() - low) / (high - low).max(0.001)
    }

    fn y(&self, seconds: f64) -> f64 {
        let (low, high) = (self.times.0.seconds(), self.times.1.seconds());
        self.foot - HEIGHT * (seconds - low) / (high - low)
    }

    fn head(&self) -> [Mark; 5] {
        let what = prefixed(" in ", bath(self.step));
        let foot = self.top + 2.0 * BODY + 5.0;
        [
            line(self.top + BODY, &format!("{}{what}", phrase::called(self.step))),
            (Ink::TONIGHT, Shape::Dot([MARGIN + 4.0, foot - 3.5], 4.0)),
            words([MARGIN + 12.0, foot], Anchor::Start, self.tonight_text()),
            (Ink::TEXT, Shape::Dot([WIDTH - MARGIN - 34.0, foot - 3.5], 2.5)),
            words([WIDTH - MARGIN, foot], Anchor::End, "chart".to_owned()),
        ]
    }

    fn tonight_text(&self) -> String {
        let temperature = temperature(self.step, self.scale).unwrap_or_default();
        format!("tonight {} {temperature}", self.step.duration)
    }

    fn sentence(&self) -> String {
        let degrees = |at| phrase::degrees(at, self.scale);
        let points = self.chart.points().iter();
        let points = points.map(|point| format!("{} at {}", point.time, degrees(point.temperature)));
        format!(
            "The chart of {name}: {}; between two points the logarithm of the time runs straight. {name}: {}.",
            joined(points, ", "),
            self.tonight_text(),
            name = phrase::called(self.step),
        )
    }

    fn axes(&self) -> Vec<Mark> {
        let (top, foot) = (self.foot - HEIGHT, self.foot);
        let mut marks = Vec::new();
        for time in time_ticks(self.times) {
            let y = self.y(time.seconds());
            marks.push((Ink::FAINT, Shape::Line(0.5, vec![[LEFT, y], [RIGHT, y]])));
            marks.push(words([LEFT - 5.0, y + 3.5], Anchor::End, time.to_string()));
        }
        for degree in temperature_ticks(self.temperatures, self.scale) {
            let x = self.x(degree);
            marks.push((Ink::TEXT, Shape::Line(0.8, vec![[x, foot], [x, foot + 3.0]])));
            marks.push(words([x, foot + 14.0], Anchor::Middle, phrase::degrees(degree, self.scale)));
        }
        marks.push((Ink::TEXT, Shape::Line(0.8, vec![[LEFT, top], [LEFT, foot], [RIGHT, foot]])));
        marks
    }

    /// The points of the chart and the line through them. Between two points, the logarithm of the time is linear (R1).
    fn line(&self) -> impl Iterator<Item = Mark> {
        let points = self.chart.points();
        let between = points.iter().zip(points.iter().skip(1)).flat_map(|(cold, warm)| {
            let (from, width) = (cold.temperature.base, warm.temperature.base - cold.temperature.base);
            (0..PIECES).map(move |piece| Temperature { base: from + width * piece / PIECES })
        });
        let all = between.chain(points.last().map(|point| point.temperature));
        let through = all.filter_map(|at| Some([self.x(at), self.y(at_chart(self.chart, at)?)])).collect();
        let places = points.iter().map(|point| [self.x(point.temperature), self.y(point.time.seconds())]);
        let dots = places.map(|place| (Ink::TEXT, Shape::Dot(place, 2.5)));
        [(Ink::MOTION, Shape::Line(1.5, through))].into_iter().chain(dots)
    }

    /// Tonight's time and temperature: a dot with lines to both axes. If the temperature drifts during the step, there
    /// is a dot for its start and one for its end.
    fn tonight(&self) -> impl Iterator<Item = Mark> {
        let y = self.y(self.step.duration.seconds());
        let ends: Vec<f64> =
            [Some(self.from), self.step.ending].into_iter().flatten().map(|at| self.x(at)).collect();
        let lines = ends.iter().map(|x| Shape::Line(0.8, vec![[LEFT, y], [*x, y], [*x, self.foot]]));
        let drift = (ends.len() > 1).then(|| Shape::Line(2.5, ends.iter().map(|x| [*x, y]).collect()));
        let dots = ends.iter().map(|x| Shape::Dot([*x, y], 4.0));
        let shapes: Vec<Shape> = lines.chain(drift).chain(dots).collect();
        shapes.into_iter().map(|shape| (Ink::TONIGHT, shape))
    }
}
