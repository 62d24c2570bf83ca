//! A trial as a picture: the contrast of each strip against its time, and the curve through them.

use super::{
    Anchor, BODY, Drawing, Ink, MARGIN, Mark, Shape, caption, document, line, number, ticks_around,
    time_ticks, words,
};
use crate::evaluate::Evaluation;
use crate::model::Time;
use crate::trial::Times;

const TOP: f64 = 26.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 308.0;
const HEIGHT: f64 = 190.0;
/// The distance from the top to the plot, with room for a line of text.
const HEAD: f64 = 24.0;
/// The number of straight pieces in the curve.
const PIECES: u32 = 60;

/// The contrast against time as SVG; `None` if no strip has a contrast.
pub fn trial_picture(result: &Evaluation, name: &str) -> Option<String> {
    let times = result.times.as_ref()?;
    let minutes = times.strips().iter().map(|strip| Time::from_minutes(strip.minutes));
    let ends = ticks_around((Time::ZERO, minutes.max()?));
    let top_contrast = libm::ceil(times.contrasts().1.max(0.2) * 5.0 + 0.5) / 5.0;
    let plot = Plot { times, ends, top_contrast };
    let (low, high) = times.temperatures();
    let what =
        if high - low < 0.01 { format!(" at {low:.1} °C") } else { format!(", {low:.1} to {high:.1} °C") };
    let mut marks = vec![line(TOP + BODY, &format!("contrast by development time{what}"))];
    marks.extend(plot.axes());
    marks.extend(plot.curve());
    marks.extend(plot.strips());
    marks.extend(plot.wanted(result));
    let said = times.strips().iter().map(|strip| {
        format!("{} at {:.1} °C {:.2}", Time::from_minutes(strip.minutes), strip.celsius, strip.contrast)
    });
    Some(document(&Drawing {
        name: "trial",
        height: TOP + HEAD + HEIGHT + 30.0,
        title: format!("{name}: contrast by development time"),
        description: format!("The strips: {}.", said.collect::<Vec<_>>().join(", ")),
        caption: caption(name),
        marks,
    }))
}

struct Plot<'a> {
    times: &'a Times,
    /// The first and the last time of the axis.
    ends: (Time, Time),
    top_contrast: f64,
}

impl Plot<'_> {
    fn x(&self, minutes: f64) -> f64 {
        let (low, high) = (self.ends.0.seconds(), self.ends.1.seconds());
        LEFT + (RIGHT - LEFT) * (minutes * 60.0 - low) / (high - low).max(1.0)
    }

    fn y(&self, contrast: f64) -> f64 {
        Plot::foot() - HEIGHT * contrast / self.top_contrast
    }

    fn foot() -> f64 {
        TOP + HEAD + HEIGHT
    }

    fn axes(&self) -> Vec<Mark> {
        let foot = Plot::foot();
        let mut marks = Vec::new();
        let mut contrast = 0.0;
        let apart = 0.2 * libm::ceil(self.top_contrast / 2.0).max(1.0);
        while contrast < self.top_contrast + 0.01 {
            let y = self.y(contrast);
            marks.push((Ink::FAINT, Shape::Line(0.5, vec![[LEFT, y], [RIGHT, y]])));
            marks.push(words([LEFT - 5.0, y + 3.5], Anchor::End, number(contrast)));
            contrast += apart;
        }
        for time in time_ticks(self.ends) {
            let x = self.x(time.seconds() / 60.0);
            marks.push((Ink::TEXT, Shape::Line(0.8, vec![[x, foot], [x, foot + 3.0]])));
            marks.push(words([x, foot + 14.0], Anchor::Middle, time.to_string()));
        }
        marks.push((Ink::TEXT, Shape::Line(0.8, vec![[LEFT, foot - HEIGHT], [LEFT, foot], [RIGHT, foot]])));
        marks
    }

    /// The law at each tested temperature, within the tested times.
    fn curve(&self) -> Vec<Mark> {
        let Ok(fit) = &self.times.fit else { return Vec::new() };
        let mut temperatures: Vec<f64> = self.times.strips().iter().map(|strip| strip.celsius).collect();
        temperatures.sort_by(f64::total_cmp);
        temperatures.dedup();
        let through = |celsius: f64| {
            let own = self.times.strips().iter().filter(|strip| (strip.celsius - celsius).abs() < 1e-9);
            let own: Vec<f64> = own.map(|strip| strip.minutes).collect();
            let (low, high) =
                (own.iter().copied().fold(f64::INFINITY, f64::min), own.iter().copied().fold(0.0, f64::max));
            let at = |piece: u32| low + (high - low) * f64::from(piece) / f64::from(PIECES);
            (0..=PIECES)
                .map(|piece| [self.x(at(piece)), self.y(fit.law.contrast(at(piece), celsius))])
                .collect()
        };
        temperatures.into_iter().map(|celsius| (Ink::MOTION, Shape::Line(1.5, through(celsius)))).collect()
    }

    fn strips(&self) -> impl Iterator<Item = Mark> {
        let place = |strip: &crate::trial::Strip| [self.x(strip.minutes), self.y(strip.contrast)];
        self.times.strips().iter().map(move |strip| (Ink::TEXT, Shape::Dot(place(strip), 2.5)))
    }

    /// The times for the wanted contrasts: a dot with lines to both axes.
    fn wanted(&self, result: &Evaluation) -> Vec<Mark> {
        let mut marks = Vec::new();
        for wanted in &result.wanted {
            for answer in wanted.times.iter().filter_map(|(_, answer)| answer.as_ref().ok()) {
                let (x, y) = (self.x(answer.minutes), self.y(wanted.contrast));
                marks.push((Ink::TONIGHT, Shape::Line(0.8, vec![[LEFT, y], [x, y], [x, Plot::foot()]])));
                marks.push((Ink::TONIGHT, Shape::Dot([x, y], 3.0)));
            }
            let y = self.y(wanted.contrast) - 3.0;
            marks.push(words([LEFT + MARGIN, y], Anchor::Start, wanted.name.to_owned()));
        }
        marks
    }
}
