//! The development charts of a session, one below the other: the points of the recipe, the line of R1, and tonight.

use super::super::figure;
use super::super::naming;
use super::super::plain::plain;
use super::drawing::{Anchor, Drawing, Ink, Shape};
use super::parts::{
    BODY, CAPTION_FOOT, MARGIN, TITLE, WIDTH, bath, line, temperature, temperature_ticks, ticks_around,
    time_ticks, words,
};
use crate::compile::{PlannedStep, Scale, Schedule, at_chart};
use crate::model::{Chart, Point, Temperature, Time};

/// The top of the first chart.
const TOP: f64 = 26.0;
/// The height of a chart.
const PANEL: f64 = 226.0;
/// The distance from a chart's top to its plot: two lines of text.
const HEAD: f64 = 40.0;
/// The left and right edge of a plot.
const LEFT: f64 = 50.0;
const RIGHT: f64 = 308.0;
/// The height of a plot.
const HEIGHT: f64 = 152.0;
/// The space between the sides of a plot and its first and last point.
const INSET: f64 = 14.0;
/// The most ticks of an axis.
const MARKS: i64 = 6;
/// The straight pieces of the line between two points.
const PIECES: i64 = 16;

/// The charts of a session; `None` if no step has its time from a chart.
#[must_use]
pub fn curve(schedule: &Schedule) -> Option<Drawing> {
    let scale = schedule.conditions.scale;
    let name = plain(&schedule.recipe.title);
    let mut shapes = Vec::new();
    let mut sentences = Vec::new();
    let mut top = TOP;
    for step in &schedule.steps {
        let Some((chart, tonight)) = step.chart.as_ref().zip(step.temperature) else { continue };
        let Some(plot) = Plot::around(chart, step, tonight, scale, top + HEAD) else { continue };
        shapes.extend(head(step, scale, top));
        shapes.extend(plot.axes());
        shapes.extend(plot.line(chart));
        shapes.extend(plot.tonight(step, tonight));
        sentences.push(sentence(chart, step, scale));
        top += PANEL;
    }
    let title = format!("{name}: the time at each temperature, and tonight");
    let description = sentences.join(" ");
    (!sentences.is_empty()).then_some(Drawing {
        name: "curve",
        width: WIDTH,
        height: top,
        title,
        description,
        shapes,
        caption: line(15.0, TITLE, &name),
        caption_foot: CAPTION_FOOT,
    })
}

/// The step of a chart, and its legend.
fn head(step: &PlannedStep, scale: Scale, top: f64) -> Vec<Shape> {
    let what = bath(step).map_or_else(String::new, |bath| format!(" in {bath}"));
    let foot = top + 2.0 * BODY + 5.0;
    vec![
        line(top + BODY, BODY, &format!("{}{what}", naming::called(step))),
        Shape::Dot { at: [MARGIN + 4.0, foot - 3.5], radius: 4.0, ink: Ink::Tonight },
        words([MARGIN + 12.0, foot], Anchor::Start, BODY, tonight(step, scale)),
        Shape::Dot { at: [WIDTH - MARGIN - 34.0, foot - 3.5], radius: 2.5, ink: Ink::Text },
        words([WIDTH - MARGIN, foot], Anchor::End, BODY, "chart".to_owned()),
    ]
}

/// `tonight 8:39 at 21.5 °C`.
fn tonight(step: &PlannedStep, scale: Scale) -> String {
    let temperature = temperature(step, scale).map_or_else(String::new, |text| format!(" {text}"));
    format!("tonight {}{temperature}", step.duration)
}

fn sentence(chart: &Chart, step: &PlannedStep, scale: Scale) -> String {
    let point = |point: &Point| format!("{} at {}", point.time, figure::degrees(point.temperature, scale));
    let points: Vec<String> = chart.points().iter().map(point).collect();
    format!(
        "The chart of {}: {}; between two points the logarithm of the time runs straight. {}: {}.",
        naming::called(step),
        points.join(", "),
        naming::called(step),
        tonight(step, scale),
    )
}

/// The axes of a chart.
struct Plot {
    top: f64,
    temperatures: (Temperature, Temperature),
    times: (Time, Time),
    scale: Scale,
}

impl Plot {
    /// A plot that holds every point of the chart and tonight; `None` for a chart without a point.
    fn around(
        chart: &Chart,
        step: &PlannedStep,
        tonight: Temperature,
        scale: Scale,
        top: f64,
    ) -> Option<Plot> {
        let own = [tonight, step.ending.unwrap_or(tonight)];
        let (coldest, warmest) = chart.ends()?;
        let temperatures = (coldest.min(own[0]).min(own[1]), warmest.max(own[0]).max(own[1]));
        let times = chart.points().iter().map(|point| point.time).chain([step.duration]);
        let times = (times.clone().min()?, times.max()?);
        Some(Plot { top, temperatures, times: ticks_around(times, MARKS - 1), scale })
    }

    fn foot(&self) -> f64 {
        self.top + HEIGHT
    }

    fn x(&self, at: Temperature) -> f64 {
        let (low, high) = (self.temperatures.0.celsius(), self.temperatures.1.celsius());
        let room = RIGHT - LEFT - 2.0 * INSET;
        LEFT + INSET + room * (at.celsius() - low) / (high - low).max(0.001)
    }

    fn y(&self, seconds: f64) -> f64 {
        let (low, high) = (self.times.0.seconds(), self.times.1.seconds());
        self.foot() - HEIGHT * (seconds - low) / (high - low)
    }

    fn axes(&self) -> Vec<Shape> {
        let foot = self.foot();
        let stroke = |through: Vec<[f64; 2]>, ink, thick| Shape::Line { through, ink, thick };
        let mut shapes = Vec::new();
        for time in time_ticks(self.times, MARKS) {
            let y = self.y(time.seconds());
            shapes.push(stroke(vec![[LEFT, y], [RIGHT, y]], Ink::Faint, 0.5));
            shapes.push(words([LEFT - 5.0, y + 3.5], Anchor::End, BODY, time.to_string()));
        }
        for degree in temperature_ticks(self.temperatures, self.scale, MARKS) {
            let x = self.x(degree);
            shapes.push(stroke(vec![[x, foot], [x, foot + 3.0]], Ink::Text, 0.8));
            let text = figure::degrees(degree, self.scale);
            shapes.push(words([x, foot + 14.0], Anchor::Middle, BODY, text));
        }
        shapes.push(stroke(vec![[LEFT, self.top], [LEFT, foot], [RIGHT, foot]], Ink::Text, 0.8));
        shapes
    }

    /// The line of R1, and the points of the chart.
    fn line(&self, chart: &Chart) -> Vec<Shape> {
        let points = chart.points();
        let between = points.iter().zip(points.iter().skip(1)).flat_map(|(cold, warm)| {
            let (from, width) = (cold.temperature.base, warm.temperature.base - cold.temperature.base);
            (0..PIECES).map(move |piece| Temperature { base: from + width * piece / PIECES })
        });
        let all = between.chain(points.last().map(|point| point.temperature));
        let through = all.filter_map(|at| Some([self.x(at), self.y(at_chart(chart, at)?)])).collect();
        let mut shapes = vec![Shape::Line { through, ink: Ink::Motion, thick: 1.5 }];
        shapes.extend(points.iter().map(|point| Shape::Dot {
            at: [self.x(point.temperature), self.y(point.time.seconds())],
            radius: 2.5,
            ink: Ink::Text,
        }));
        shapes
    }

    /// Tonight, with lines to both axes. A bath that drifts has a dot at each end.
    fn tonight(&self, step: &PlannedStep, from: Temperature) -> Vec<Shape> {
        let y = self.y(step.duration.seconds());
        let mut shapes = Vec::new();
        let ends: Vec<f64> = [Some(from), step.ending].into_iter().flatten().map(|at| self.x(at)).collect();
        for x in &ends {
            let through = vec![[LEFT, y], [*x, y], [*x, self.foot()]];
            shapes.push(Shape::Line { through, ink: Ink::Tonight, thick: 0.8 });
        }
        if ends.len() > 1 {
            let through = ends.iter().map(|x| [*x, y]).collect();
            shapes.push(Shape::Line { through, ink: Ink::Tonight, thick: 2.5 });
        }
        shapes.extend(ends.iter().map(|x| Shape::Dot { at: [*x, y], radius: 4.0, ink: Ink::Tonight }));
        shapes
    }
}
