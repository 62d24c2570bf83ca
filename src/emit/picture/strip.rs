//! The picture of a session to scale: a row for each step, with pouring, draining and agitation. Drying takes hours, so
//! it is not to scale.

use super::{
    Anchor, BODY, Drawing, Ink, MARGIN, Mark, Shape, WIDTH, bath, breadth, caption, line, temperature,
    time_ticks, words,
};
use crate::compile::{Action, PlannedStep, Schedule};
use crate::emit::phrase;
use crate::emit::plain::{plain, prefixed};
use crate::emit::signs;
use crate::model::{StepKind, Time};

const TOP: f64 = 38.0;
/// The height of a row, with room for a line of text, the bar and the marks of knocks.
const ROW: f64 = 36.0;
const BAR: f64 = 14.0;
const HIGH: f64 = 13.0;
/// The height of the bar while there is no bath. It is less than [`HIGH`], so that the bars differ in black and white
/// too.
const THIN: f64 = 5.0;
const KNOCK: f64 = 5.0;
/// The entries of the legend: left edge, colour and words.
const LEGEND: [(f64, Ink, &str); 4] = [
    (8.0, Ink::FLOW, "pour, drain"),
    (86.0, Ink::MOTION, "agitate"),
    (148.0, Ink::BATH, "still"),
    (196.0, Ink::EMPTY, "no bath"),
];
const LEGEND_KNOCK: f64 = 264.0;

pub(super) fn drawing(schedule: &Schedule) -> Drawing {
    let name = plain(&schedule.recipe.title);
    let marks = vec![line(29.0, &format!("the session to scale, {} in all", total(schedule)))];
    let mut strip = Strip { schedule, marks, top: TOP };
    let (drying, wet): (Vec<_>, Vec<_>) = schedule.steps.iter().partition(|step| step.kind == StepKind::Dry);
    wet.into_iter().for_each(|step| strip.row(step));
    strip.axis();
    drying.into_iter().for_each(|step| strip.drying(step));
    strip.legend();
    Drawing {
        name: "strip".to_owned(),
        height: strip.top + 20.0,
        title: format!("{name}: the session to scale"),
        description: description(schedule),
        caption: caption(&name),
        marks: strip.marks,
    }
}

struct Strip<'a> {
    schedule: &'a Schedule,
    marks: Vec<Mark>,
    top: f64,
}

impl Strip<'_> {
    fn x(&self, moment: Time) -> f64 {
        let share = moment.seconds() / self.schedule.total.seconds().max(0.001);
        MARGIN + (WIDTH - 2.0 * MARGIN) * share
    }

    fn ticks(&self) -> impl Iterator<Item = Time> + use<> {
        time_ticks((Time::ZERO, self.schedule.total))
    }

    fn upright(&mut self, ink: Ink, thick: f64, x: f64, (from, to): (f64, f64)) {
        self.marks.push((ink, Shape::Line(thick, vec![[x, from], [x, to]])));
    }

    fn row(&mut self, step: &PlannedStep) {
        let (bar, foot) = (self.top + BAR, self.top + BAR + HIGH);
        let temperature = temperature(step, self.schedule.conditions.scale);
        self.label(step, &[temperature, bath(step)].map(|fact| prefixed(" · ", fact)).concat());
        for tick in self.ticks() {
            self.upright(Ink::FAINT, 0.5, self.x(tick), (bar, foot));
        }
        let x = |moment| self.x(moment);
        let own = bars(step, &x, (bar, HIGH));
        self.marks.extend(own);
        for knock in step.events.iter().filter(|event| event.action == Action::Knock) {
            self.upright(Ink::MOTION, 1.0, self.x(knock.at), (foot, foot + KNOCK));
        }
        if let Some(decision) = &step.decision {
            let earliest = self.x(step.leaves() - decision.slack());
            self.upright(Ink::TEXT, 1.0, earliest, (bar - KNOCK / 2.0, foot + KNOCK / 2.0));
        }
        self.top += ROW;
    }

    fn label(&mut self, step: &PlannedStep, facts: &str) {
        let start = phrase::moment(self.schedule, step.start);
        let label = format!("{start} · {} {}{facts}", phrase::called(step), phrase::lasts(step));
        self.marks.push(line(self.top + BODY, &label));
    }

    fn axis(&mut self) {
        let axis = axis((MARGIN, self.top), self.schedule.total, &|moment| self.x(moment));
        self.marks.extend(axis);
        self.top += 20.0;
    }

    fn drying(&mut self, step: &PlannedStep) {
        self.label(step, ", not to scale");
        let bar = self.top + BAR + (HIGH - THIN) / 2.0;
        let pieces = [MARGIN, MARGIN + 34.0].map(|x| (Ink::EMPTY, Shape::Area([x, bar, 28.0, THIN])));
        self.marks.extend(pieces);
        self.top += ROW;
    }

    fn legend(&mut self) {
        let foot = self.top + BODY;
        self.marks.extend(legend(foot, phrase::is_moved(self.schedule)));
        self.upright(Ink::MOTION, 1.0, LEGEND_KNOCK + 3.0, (foot - 7.0, foot - 7.0 + KNOCK));
        self.marks.push(words([LEGEND_KNOCK + 7.0, foot], Anchor::Start, "knock".to_owned()));
    }
}

/// The time axis from 0 to `total`. It begins at `left` and `top`; its labels stay inside the picture.
pub(super) fn axis((left, top): (f64, f64), total: Time, x: &dyn Fn(Time) -> f64) -> Vec<Mark> {
    let mut marks = vec![(Ink::TEXT, Shape::Line(0.8, vec![[left, top], [WIDTH - MARGIN, top]]))];
    for tick in time_ticks((Time::ZERO, total)) {
        let (x, half) = (x(tick), breadth(&tick.to_string(), BODY) / 2.0);
        let anchor = match x {
            x if x < half => Anchor::Start,
            x if x + half > WIDTH => Anchor::End,
            _ => Anchor::Middle,
        };
        marks.push((Ink::TEXT, Shape::Line(0.8, vec![[x, top], [x, top + 3.0]])));
        marks.push(words([x, top + 13.0], anchor, tick.to_string()));
    }
    marks
}

/// The legend of the bars. `is_moved` says that the material moves from bath to bath.
pub(super) fn legend(foot: f64, is_moved: bool) -> Vec<Mark> {
    let entry = |(x, ink, word): (f64, Ink, &'static str)| {
        let word = if ink == Ink::FLOW && is_moved { "lower, lift" } else { word };
        let (upper, high) = match ink {
            Ink::EMPTY => (foot - 6.5, THIN),
            Ink::FLOW => (foot - 4.0, 4.5),
            _ => (foot - 8.5, 9.0),
        };
        [(ink, Shape::Area([x, upper, 10.0, high])), words([x + 13.0, foot], Anchor::Start, word.to_owned())]
    };
    LEGEND.into_iter().flat_map(entry).collect()
}

/// The bar of a step. The bath and the agitation have the full height, pouring and draining half of it, so that they
/// also differ in black and white.
pub(super) fn bars(step: &PlannedStep, x: &dyn Fn(Time) -> f64, (top, high): (f64, f64)) -> Vec<Mark> {
    let area = |ink: Ink, (from, until): (Time, Time), (top, high): (f64, f64)| {
        (ink, Shape::Area([x(from), top, x(until) - x(from), high]))
    };
    let (mut marks, mut moves) = (Vec::new(), Vec::new());
    let mut from = step.start + step.handling;
    for event in &step.events {
        let span = (event.at, event.at + event.length);
        match event.action {
            Action::Knock | Action::Mix => {}
            Action::Agitate => moves.push(area(Ink::MOTION, span, (top, high))),
            action if action.moves_a_bath() => {
                marks.extend((from < span.0).then(|| area(Ink::BATH, (from, span.0), (top, high))));
                marks.push(area(Ink::FLOW, span, (top + high / 2.0, high / 2.0)));
                from = span.1;
            }
            _ => moves.push(area(Ink::EMPTY, span, (top + (high - THIN) / 2.0, THIN))),
        }
    }
    let rest = step.bath.is_some() && from < step.end;
    marks.extend(rest.then(|| area(Ink::BATH, (from, step.end), (top, high))));
    marks.extend(moves);
    marks
}

/// The total time in words. If a person ends a step at a sign, the words also say that the picture shows the longest
/// time.
fn total(schedule: &Schedule) -> String {
    let drawn = if schedule.legs.len() > 1 { ", drawn at its longest," } else { "" };
    phrase::moment(schedule, schedule.total) + drawn
}

fn description(schedule: &Schedule) -> String {
    let mut sentences = vec![format!("{} in all.", total(schedule))];
    for step in &schedule.steps {
        let bath = prefixed(" in ", bath(step));
        let temperature = prefixed(" ", temperature(step, schedule.conditions.scale));
        let scale = if step.kind == StepKind::Dry { ", not to scale" } else { "" };
        let name = phrase::called(step);
        let (start, end) = (phrase::whole(step.start), phrase::whole(step.end));
        let actions = actions(step);
        let ended = step
            .decision
            .as_ref()
            .map(|decision| format!("; it takes {}: {}", phrase::lasts(step), signs::in_one(decision)));
        let ended = ended.unwrap_or_default();
        sentences.push(format!("{name}{bath}{temperature} from {start} to {end}{scale}{actions}{ended}."));
    }
    sentences.join(" ")
}

fn actions(step: &PlannedStep) -> String {
    let flow = step.events.iter().filter(|event| event.action.moves_a_bath());
    let flow = flow.map(|event| {
        let length = phrase::between(event.at, event.at + event.length);
        format!("; {} at {} for {length}", event.action.word(), phrase::whole(event.at))
    });
    let moved: Vec<_> = step.events.iter().filter(|event| event.action == Action::Agitate).collect();
    let moved = moved.first().zip(moved.last()).map(|(first, last)| {
        let (from, until) = (phrase::whole(first.at), phrase::whole(last.at + last.length));
        let often = if moved.len() == 1 { "once".to_owned() } else { format!("{} times", moved.len()) };
        format!("; agitated {often} between {from} and {until}")
    });
    flow.chain(moved).collect()
}
