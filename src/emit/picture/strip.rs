//! The session to scale: a row for each step, with pouring, draining and agitation. Drying, which takes hours, is not
//! to scale.

use super::super::naming;
use super::super::plain::plain;
use super::drawing::{Anchor, Drawing, Ink, Shape};
use super::parts::{
    BODY, CAPTION_FOOT, MARGIN, TITLE, WIDTH, bath, breadth, line, temperature, time_ticks, words,
};
use crate::compile::{Action, PlannedStep, Schedule};
use crate::model::{StepKind, Time};

/// The top of the first row.
const TOP: f64 = 38.0;
/// The height of a row: a line of text, the bar, the marks of knocks.
const ROW: f64 = 36.0;
/// The distance from a row's top to its bar.
const BAR: f64 = 14.0;
/// The height of a bar.
const HIGH: f64 = 13.0;
/// The height of a bar without a bath, which so differs without colour.
const THIN: f64 = 5.0;
/// The length of a knock's mark below the bar.
const KNOCK: f64 = 5.0;
/// The most ticks of the clock.
const MARKS: i64 = 6;
/// The legend, each entry with its left edge.
const LEGEND: [(f64, Ink, &str); 4] = [
    (8.0, Ink::Flow, "pour, drain"),
    (86.0, Ink::Motion, "agitate"),
    (148.0, Ink::Bath, "still"),
    (196.0, Ink::Empty, "no bath"),
];
/// The left edge of the legend's knock.
const LEGEND_KNOCK: f64 = 264.0;

/// The strip of a session.
#[must_use]
pub fn strip(schedule: &Schedule) -> Drawing {
    let clock = Clock { total: schedule.total };
    let title = format!("{}: the session to scale", plain(&schedule.recipe.title));
    let caption = line(15.0, TITLE, &plain(&schedule.recipe.title));
    let mut shapes = vec![line(29.0, BODY, &format!("the session to scale, {} in all", schedule.total))];
    let marks = time_ticks((Time::ZERO, schedule.total), MARKS);
    let mut top = TOP;
    for step in schedule.steps.iter().filter(|step| step.kind != StepKind::Dry) {
        shapes.extend(row(clock, step, schedule, top, &marks));
        top += ROW;
    }
    shapes.extend(axis(clock, top, &marks));
    top += 20.0;
    for step in schedule.steps.iter().filter(|step| step.kind == StepKind::Dry) {
        shapes.extend(drying(step, top));
        top += ROW;
    }
    shapes.extend(legend(top));
    Drawing {
        name: "strip",
        width: WIDTH,
        height: top + 20.0,
        title,
        description: description(schedule),
        shapes,
        caption,
        caption_foot: CAPTION_FOOT,
    }
}

/// The time axis of all rows.
#[derive(Clone, Copy)]
struct Clock {
    total: Time,
}

impl Clock {
    fn x(self, moment: Time) -> f64 {
        let share = moment.seconds() / self.total.seconds().max(0.001);
        MARGIN + (WIDTH - 2.0 * MARGIN) * share
    }

    fn area(self, (from, until): (Time, Time), (top, high): (f64, f64), ink: Ink) -> Shape {
        Shape::Area { at: [self.x(from), top, self.x(until) - self.x(from), high], ink }
    }
}

fn row(clock: Clock, step: &PlannedStep, schedule: &Schedule, top: f64, marks: &[Time]) -> Vec<Shape> {
    let (bar, foot) = (top + BAR, top + BAR + HIGH);
    let facts = [temperature(step, schedule.conditions.scale), bath(step)];
    let facts: String = facts.into_iter().flatten().map(|fact| format!(" · {fact}")).collect();
    let label = format!("{} · {} {}{facts}", step.start, naming::called(step), step.duration);
    let mut shapes = vec![line(top + BODY, BODY, &label)];
    shapes.extend(marks.iter().map(|mark| upright(clock.x(*mark), (bar, foot), Ink::Faint, 0.5)));
    if step.bath.is_some() {
        shapes.push(clock.area((step.start + step.handling, step.end), (bar, HIGH), Ink::Bath));
    }
    let thin = (bar + (HIGH - THIN) / 2.0, THIN);
    for event in &step.events {
        let span = (event.at, event.at + event.length);
        shapes.push(match event.action {
            Action::Pour | Action::Drain | Action::Fill | Action::Dump => {
                clock.area(span, (bar, HIGH), Ink::Flow)
            }
            Action::Agitate => clock.area(span, (bar, HIGH), Ink::Motion),
            Action::Knock => upright(clock.x(event.at), (foot, foot + KNOCK), Ink::Motion, 1.0),
            _ => clock.area(span, thin, Ink::Empty),
        });
    }
    shapes
}

fn upright(x: f64, (from, to): (f64, f64), ink: Ink, thick: f64) -> Shape {
    Shape::Line { through: vec![[x, from], [x, to]], ink, thick }
}

/// The clock below the rows; its first and last text stay inside the picture.
fn axis(clock: Clock, top: f64, marks: &[Time]) -> Vec<Shape> {
    let ends = [[MARGIN, top], [WIDTH - MARGIN, top]];
    let mut shapes = vec![Shape::Line { through: ends.to_vec(), ink: Ink::Text, thick: 0.8 }];
    for mark in marks {
        let (x, half) = (clock.x(*mark), breadth(&mark.to_string(), BODY) / 2.0);
        let anchor = match x {
            x if x < half => Anchor::Start,
            x if x + half > WIDTH => Anchor::End,
            _ => Anchor::Middle,
        };
        shapes.push(upright(x, (top, top + 3.0), Ink::Text, 0.8));
        shapes.push(words([x, top + 13.0], anchor, BODY, mark.to_string()));
    }
    shapes
}

/// Drying: a bar with a gap, below the clock.
fn drying(step: &PlannedStep, top: f64) -> Vec<Shape> {
    let label = format!("{} · {} {}, not to scale", step.start, naming::called(step), step.duration);
    let bar = top + BAR + (HIGH - THIN) / 2.0;
    vec![
        line(top + BODY, BODY, &label),
        Shape::Area { at: [MARGIN, bar, 28.0, THIN], ink: Ink::Empty },
        Shape::Area { at: [MARGIN + 34.0, bar, 28.0, THIN], ink: Ink::Empty },
    ]
}

fn legend(top: f64) -> Vec<Shape> {
    let foot = top + BODY;
    let mut shapes = Vec::new();
    for (x, ink, word) in LEGEND {
        let (upper, high) = if ink == Ink::Empty { (foot - 6.5, THIN) } else { (foot - 8.5, 9.0) };
        shapes.push(Shape::Area { at: [x, upper, 10.0, high], ink });
        shapes.push(words([x + 13.0, foot], Anchor::Start, BODY, word.to_owned()));
    }
    shapes.push(upright(LEGEND_KNOCK + 3.0, (foot - 7.0, foot - 7.0 + KNOCK), Ink::Motion, 1.0));
    shapes.push(words([LEGEND_KNOCK + 7.0, foot], Anchor::Start, BODY, "knock".to_owned()));
    shapes
}

/// The strip in words, a sentence for each step.
fn description(schedule: &Schedule) -> String {
    let mut sentences = vec![format!("{} in all.", schedule.total)];
    for step in &schedule.steps {
        let place: String = [
            bath(step).map(|bath| format!(" in {bath}")),
            temperature(step, schedule.conditions.scale).map(|text| format!(" {text}")),
        ]
        .into_iter()
        .flatten()
        .collect();
        let scale = if step.kind == StepKind::Dry { ", not to scale" } else { "" };
        let actions: String = actions(step).iter().map(|action| format!("; {action}")).collect();
        let name = naming::called(step);
        sentences.push(format!("{name}{place} from {} to {}{scale}{actions}.", step.start, step.end));
    }
    sentences.join(" ")
}

/// The actions of a step: pouring and draining, and the number of agitations.
fn actions(step: &PlannedStep) -> Vec<String> {
    let flow = step.events.iter().filter(|event| event.action.moves_a_bath());
    let flow = flow.map(|event| format!("{} at {} for {}", event.action.word(), event.at, event.length));
    let moved: Vec<_> = step.events.iter().filter(|event| event.action == Action::Agitate).collect();
    let moved = moved.first().zip(moved.last()).map(|(first, last)| {
        let until = last.at + last.length;
        let often = if moved.len() == 1 { "once".to_owned() } else { format!("{} times", moved.len()) };
        format!("agitated {often} between {} and {until}", first.at)
    });
    flow.chain(moved).collect()
}
