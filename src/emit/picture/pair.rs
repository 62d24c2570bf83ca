//! Pictures of two recipes: their development charts on one axis, and their sessions on one clock. The first recipe has
//! the number 1 and round points, the second the number 2 and square ones.

use super::strip::{axis, bars, legend};
use super::{
    Anchor, BODY, Drawing, Ink, MARGIN, Mark, Shape, WIDTH, breadth, caption, cut, line, stacked,
    temperature_ticks, ticks_around, time_ticks, words,
};
use crate::compile::{PlannedStep, Scale, Schedule, at_chart};
use crate::emit::document::Figure;
use crate::emit::phrase;
use crate::emit::plain::{joined, plain};
use crate::model::{Chart, Duration, Recipe, Step, StepKind, Temperature, Time};

const TOP: f64 = 26.0;
const LEFT: f64 = 50.0;
const RIGHT: f64 = 308.0;
/// The distance from the top of a chart to its plot, with room for three lines of text.
const HEAD: f64 = 56.0;
const HEIGHT: f64 = 152.0;
/// The distance of the coldest and warmest points from the sides of the plot.
const INSET: f64 = 14.0;
/// The number of straight pieces in the line between two points.
const PIECES: i64 = 16;
/// The left edge of the bars, with room for a number before them.
const BARS: f64 = 20.0;
const ROW: f64 = 42.0;
/// How far below the top of a row its two bars begin.
const BAR: [f64; 2] = [14.0, 27.0];
const HIGH: f64 = 9.0;
const INKS: [Ink; 2] = [Ink::MOTION, Ink::TONIGHT];

/// The pictures of two recipes: one for each step that has a development chart in either recipe. If the sessions are
/// given, one more shows both of them.
pub fn pair(recipes: [&Recipe; 2], sessions: Option<[&Schedule; 2]>, scale: Scale) -> Vec<Figure> {
    let names = recipes.map(|recipe| plain(&recipe.name));
    let charts = keys(recipes.map(|recipe| &*recipe.steps));
    let charts = charts.into_iter().filter_map(|key| chart(recipes, &names, key, scale));
    charts.chain(sessions.map(|sessions| strips(sessions, &names))).map(Figure).collect()
}

/// The pictures of [`pair`] as one SVG; `None` if there is nothing to draw.
pub fn pair_picture(figures: Vec<Figure>) -> Option<String> {
    stacked(None, figures)
}

/// What identifies a step in its recipe: its kind, its name, and the number of earlier steps with the same kind and
/// name.
type Key<'a> = (StepKind, Option<&'a str>, usize);

trait Named {
    fn named(&self) -> (StepKind, Option<&str>);
}

impl Named for Step {
    fn named(&self) -> (StepKind, Option<&str>) {
        (self.kind, self.name.as_deref())
    }
}

impl Named for PlannedStep {
    fn named(&self) -> (StepKind, Option<&str>) {
        (self.kind, self.name.as_deref())
    }
}

fn own_keys<S: Named>(steps: &[S]) -> Vec<Key<'_>> {
    let mut all: Vec<Key<'_>> = Vec::new();
    for (kind, name) in steps.iter().map(Named::named) {
        let before = all.iter().filter(|(own, of, _)| (*own, *of) == (kind, name)).count();
        all.push((kind, name, before));
    }
    all
}

/// The keys of the steps of both lists, in the order of the first list. A step that only the second list has comes
/// after the step that it follows in that list.
fn keys<S: Named>([old, new]: [&[S]; 2]) -> Vec<Key<'_>> {
    let mut all = own_keys(old);
    let mut at = 0;
    for key in own_keys(new) {
        match all.iter().position(|own| *own == key) {
            Some(place) => at = place + 1,
            None => {
                all.insert(at, key);
                at += 1;
            }
        }
    }
    all
}

fn step_of<'a, S: Named>(steps: &'a [S], key: Key<'_>) -> Option<&'a S> {
    own_keys(steps).iter().position(|own| *own == key).and_then(|at| steps.get(at))
}

fn called((kind, name, _): Key<'_>) -> String {
    joined([kind.word().to_owned()].into_iter().chain(name.map(plain)), " ")
}

fn chart(recipes: [&Recipe; 2], names: &[String; 2], key: Key<'_>, scale: Scale) -> Option<Drawing> {
    let chart = |recipe: &'_ Recipe| match step_of(&recipe.steps, key).map(|step| &*step.duration) {
        Some(Duration::Chart(chart)) => Some(chart.clone()),
        _ => None,
    };
    let charts = recipes.map(chart);
    let ends: Vec<_> = charts.iter().flatten().filter_map(Chart::ends).collect();
    let times = charts.iter().flatten().flat_map(Chart::points).map(|point| point.time);
    let plot = Plot {
        temperatures: (ends.iter().map(|ends| ends.0).min()?, ends.iter().map(|ends| ends.1).max()?),
        times: ticks_around((times.clone().min()?, times.max()?)),
        scale,
    };
    let step = called(key);
    let mut marks = vec![line(TOP + BODY, &format!("{step}: the time at each temperature"))];
    marks.extend(plot.axes());
    let mut sentences = Vec::new();
    for ((number, chart), (ink, name)) in (1..).zip(&charts).zip(INKS.into_iter().zip(names)) {
        let foot = TOP + BODY + 15.0 * f64::from(number);
        let (what, points) = match chart {
            Some(chart) => (String::new(), plot.curve(chart, number, ink)),
            None => (": no chart".to_owned(), Vec::new()),
        };
        marks.push(point([MARGIN + 4.0, foot - 3.5], number, ink));
        let room = WIDTH - 2.0 * MARGIN - 12.0;
        let text = cut(&format!("{number} {name}{what}"), |start| breadth(start, BODY) <= room);
        marks.push(words([MARGIN + 12.0, foot], Anchor::Start, text));
        marks.extend(points);
        sentences.extend(chart.as_ref().map(|chart| plot.sentence(chart, name, &step)));
    }
    Some(Drawing {
        name: "charts".to_owned(),
        height: Plot::foot() + 24.0,
        title: format!("{}: the time at each temperature", names.join(" and ")),
        description: sentences.join(" "),
        caption: caption(&names.join(" and ")),
        marks,
    })
}

/// A point of a development chart: round for the first recipe, square for the second.
fn point([x, y]: [f64; 2], number: u8, ink: Ink) -> Mark {
    const SIDE: f64 = 6.0;
    let shape = match number {
        1 => Shape::Dot([x, y], SIDE / 2.0),
        _ => Shape::Area([x - SIDE / 2.0, y - SIDE / 2.0, SIDE, SIDE]),
    };
    (ink, shape)
}

struct Plot {
    temperatures: (Temperature, Temperature),
    times: (Time, Time),
    scale: Scale,
}

impl Plot {
    fn foot() -> f64 {
        TOP + HEAD + HEIGHT
    }

    fn x(&self, at: Temperature) -> f64 {
        let (low, high) = (self.temperatures.0.celsius(), self.temperatures.1.celsius());
        LEFT + INSET + (RIGHT - LEFT - 2.0 * INSET) * (at.celsius() - low) / (high - low).max(0.001)
    }

    fn y(&self, seconds: f64) -> f64 {
        let (low, high) = (self.times.0.seconds(), self.times.1.seconds());
        Plot::foot() - HEIGHT * (seconds - low) / (high - low)
    }

    fn axes(&self) -> Vec<Mark> {
        let (top, foot) = (Plot::foot() - HEIGHT, Plot::foot());
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

    /// The line through the points of a chart, its points, and its number. Between two points, the logarithm of the
    /// time is linear (R1).
    fn curve(&self, chart: &Chart, number: u8, ink: Ink) -> Vec<Mark> {
        let points = chart.points();
        let between = points.iter().zip(points.iter().skip(1)).flat_map(|(cold, warm)| {
            let (from, width) = (cold.temperature.base, warm.temperature.base - cold.temperature.base);
            (0..PIECES).map(move |piece| Temperature { base: from + width * piece / PIECES })
        });
        let all = between.chain(points.last().map(|point| point.temperature));
        let through = all.filter_map(|at| Some([self.x(at), self.y(at_chart(chart, at)?)])).collect();
        let places = || points.iter().map(|point| [self.x(point.temperature), self.y(point.time.seconds())]);
        // The number 1 is at the cold end of its line and the number 2 at the warm end, so that they never overlap.
        let beside = |[x, y]: [f64; 2], by: f64| words([x + by, y + 3.5], Anchor::Middle, number.to_string());
        let label = match number {
            1 => places().next().map(|place| beside(place, -9.0)),
            _ => places().next_back().map(|place| beside(place, 9.0)),
        };
        let line = (ink, Shape::Line(1.5, through));
        let dots = places().map(|place| point(place, number, ink));
        [line].into_iter().chain(dots).chain(label).collect()
    }

    fn sentence(&self, chart: &Chart, name: &str, step: &str) -> String {
        let points = chart.points().iter();
        let point = points
            .map(|point| format!("{} at {}", point.time, phrase::degrees(point.temperature, self.scale)));
        format!("{step} of {name}: {}.", joined(point, ", "))
    }
}

/// Both sessions on one time axis: for each step a row with a bar for each session.
fn strips(sessions: [&Schedule; 2], names: &[String; 2]) -> Drawing {
    let total = sessions.iter().map(|session| session.total).max().unwrap_or(Time::ZERO);
    let x = |moment: Time| BARS + (WIDTH - MARGIN - BARS) * moment.seconds() / total.seconds().max(0.001);
    let at = joined(
        sessions.first().map(|one| phrase::degrees(one.conditions.temperature, one.conditions.scale)),
        "",
    );
    let mut marks = vec![line(TOP + BODY, &format!("the sessions on one clock, at {at}, without a tank"))];
    let mut top = TOP + BODY + 6.0;
    let mut sentences = Vec::new();
    for (number, (session, name)) in (1..).zip(sessions.iter().zip(names)) {
        let whole = phrase::moment(session, session.total);
        marks.push(line(top + BODY, &format!("{number} {name}: {whole}")));
        sentences.push(format!("{name} takes {whole}."));
        top += 14.0;
    }
    for key in
        keys(sessions.map(|session| &*session.steps)).into_iter().filter(|(kind, ..)| *kind != StepKind::Dry)
    {
        let steps = sessions.map(|session| step_of(&session.steps, key));
        let mut times = steps.map(|step| step.map_or("—".to_owned(), phrase::lasts)).to_vec();
        times.dedup();
        let label = format!("{} {}", called(key), times.join(" → "));
        marks.push(line(top + BODY, &label));
        for ((number, step), down) in (1..).zip(steps).zip(BAR) {
            let number: u8 = number;
            marks.push(words([MARGIN, top + down + HIGH - 1.0], Anchor::Start, number.to_string()));
            marks.extend(step.iter().flat_map(|step| bars(step, &x, (top + down, HIGH))));
        }
        sentences.push(format!("{label}."));
        top += ROW;
    }
    marks.extend(axis((BARS, top), total, &x));
    marks.extend(legend(top + 20.0 + BODY, sessions.iter().any(|session| phrase::is_moved(session))));
    Drawing {
        name: "sessions".to_owned(),
        height: top + 40.0,
        title: format!("{}: the sessions on one clock", names.join(" and ")),
        description: sentences.join(" "),
        caption: caption(&names.join(" and ")),
        marks,
    }
}
