//! A trial as a picture: the contrast of each strip against its time, and the curve through them, for each temperature.

use super::{
    Anchor, BODY, Drawing, Ink, MARGIN, Mark, Shape, caption, document, line, number, ticks_around,
    time_ticks, words,
};
use crate::compile::Scale;
use crate::emit::trial::of_celsius;
use crate::evaluate::{Evaluation, Wanted};
use crate::model::Time;
use crate::source::Sorted as _;
use crate::trial::{Strip, Times};

const TOP: f64 = 26.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 284.0;
const HEIGHT: f64 = 190.0;
/// The distance from the top to the plot, with room for a line of text.
const HEAD: f64 = 24.0;
/// The number of straight pieces in the curve.
const PIECES: u32 = 60;

/// The contrast of the strips against their time as SVG; `None` if no strip has a contrast.
pub fn trial_picture(result: &Evaluation, name: &str, scale: Scale) -> Option<String> {
    trial_drawing(result, name, scale).as_ref().map(document)
}

/// The contrast of the strips against their time; `None` if no strip has a contrast.
pub(in crate::emit) fn trial_drawing(result: &Evaluation, name: &str, scale: Scale) -> Option<Drawing> {
    let times = result.times.as_ref()?;
    let answers = result.wanted.iter().flat_map(|wanted| &wanted.times);
    let answers = answers.filter_map(|(_, answer)| Some(answer.as_ref().ok()?.minutes));
    let longest = times.strips().iter().map(|strip| strip.minutes).chain(answers).fold(0.0, f64::max);
    let ends = ticks_around((Time::ZERO, Time::from_minutes(longest)));
    let wanted = result.wanted.iter().filter(|one| one.times.iter().any(|(_, answer)| answer.is_ok()));
    let highest = wanted.map(|wanted| wanted.contrast).fold(times.contrasts().1.max(0.2), f64::max);
    let top_contrast = libm::ceil(highest * 5.0 + 0.5) / 5.0;
    let plot = Plot { times, wanted: &result.wanted, ends, top_contrast, scale };
    let temperatures = plot.temperatures();
    let what = temperatures.iter().map(|celsius| of_celsius(*celsius, scale)).collect::<Vec<_>>().join(", ");
    let mut marks = vec![line(TOP + BODY, &format!("contrast by development time, {what}"))];
    marks.extend(plot.axes());
    marks.extend(plot.curves(&temperatures));
    marks.extend(plot.strips());
    marks.extend(plot.asked());
    let said = times.strips().iter().map(|strip| {
        let time = Time::from_minutes(strip.minutes);
        format!("{time} at {} {:.2}", of_celsius(strip.celsius, scale), strip.contrast)
    });
    Some(Drawing {
        name: "trial".to_owned(),
        height: TOP + HEAD + HEIGHT + 22.0,
        title: format!("{name}: contrast by development time"),
        description: format!("The strips: {}.", said.collect::<Vec<_>>().join(", ")),
        caption: caption(name),
        marks,
    })
}

struct Plot<'a> {
    times: &'a Times,
    wanted: &'a [Wanted],
    ends: (Time, Time),
    top_contrast: f64,
    scale: Scale,
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

    /// The tested temperatures in °C, the coldest first, each once.
    fn temperatures(&self) -> Vec<f64> {
        let mut all: Vec<f64> = self.times.strips().iter().map(|strip| strip.celsius).collect();
        all.order_by(f64::total_cmp);
        all.dedup_by(|one, other| (*one - *other).abs() < 1e-6);
        all
    }

    /// The curve at each tested temperature. It covers the times of the strips; a fitted curve also covers the
    /// calculated times of the wanted contrasts. If there are several curves, the temperature of each is written at its
    /// end.
    fn curves(&self, temperatures: &[f64]) -> Vec<Mark> {
        let mut marks = Vec::new();
        for celsius in temperatures {
            let through = self.through(*celsius);
            if let Some([x, y]) = through.last().filter(|_| temperatures.len() > 1) {
                marks.push(words([*x + 5.0, *y + 3.5], Anchor::Start, of_celsius(*celsius, self.scale)));
            }
            marks.push((Ink::MOTION, Shape::Line(1.5, through)));
        }
        marks
    }

    /// The points of the curve at a temperature: by the fitted law, or if there is no law, between neighbouring strips.
    fn through(&self, celsius: f64) -> Vec<[f64; 2]> {
        let own = self.times.strips().iter().filter(|strip| (strip.celsius - celsius).abs() < 1e-6);
        let own: Vec<&Strip> = own.collect();
        let Ok(fit) = &self.times.fit else { return self.between(own) };
        let wanted = self.wanted.iter().flat_map(|wanted| &wanted.times);
        let wanted = wanted.filter(|(at, _)| (at.celsius() - celsius).abs() < 1e-6);
        let wanted = wanted.filter_map(|(_, answer)| Some(answer.as_ref().ok()?.minutes));
        let minutes = || own.iter().map(|strip| strip.minutes).chain(wanted.clone());
        let shortest = minutes().fold(f64::INFINITY, f64::min);
        let longest = minutes().fold(0.0, f64::max);
        let at = |piece: u32| shortest + (longest - shortest) * f64::from(piece) / f64::from(PIECES);
        (0..=PIECES).map(|piece| [self.x(at(piece)), self.y(fit.law.contrast(at(piece), celsius))]).collect()
    }

    /// The points of the curve between neighbouring strips, where the contrast is linear in the logarithm of the time.
    fn between(&self, mut strips: Vec<&Strip>) -> Vec<[f64; 2]> {
        strips.order_by(|one, other| one.minutes.total_cmp(&other.minutes));
        let pairs = strips.iter().zip(strips.iter().skip(1));
        let part = |(short, long): (&&Strip, &&Strip)| {
            let (ratio, rise) = (libm::log(long.minutes / short.minutes), long.contrast - short.contrast);
            let (minutes, contrast) = (short.minutes, short.contrast);
            let point = move |piece: u32| {
                let share = f64::from(piece) / f64::from(PIECES);
                [self.x(minutes * libm::exp(share * ratio)), self.y(contrast + share * rise)]
            };
            (0..=PIECES).map(point).collect::<Vec<_>>()
        };
        pairs.flat_map(part).collect()
    }

    fn strips(&self) -> impl Iterator<Item = Mark> {
        let place = |strip: &Strip| [self.x(strip.minutes), self.y(strip.contrast)];
        self.times.strips().iter().map(move |strip| (Ink::TEXT, Shape::Dot(place(strip), 2.5)))
    }

    /// The times for each wanted contrast: dots with lines to both axes. With several temperatures, only the first
    /// contrast has lines to the time axis, because too many lines would cross.
    fn asked(&self) -> Vec<Mark> {
        let mut marks = Vec::new();
        let has_one_temperature = self.temperatures().len() < 2;
        for (at, wanted) in self.wanted.iter().enumerate() {
            let y = self.y(wanted.contrast);
            let minutes = wanted.times.iter().filter_map(|(_, answer)| Some(answer.as_ref().ok()?.minutes));
            let dots: Vec<f64> = minutes.map(|minutes| self.x(minutes)).collect();
            let Some(right) = dots.iter().copied().reduce(f64::max) else { continue };
            marks.push((Ink::TONIGHT, Shape::Line(0.8, vec![[LEFT, y], [right, y]])));
            for x in &dots {
                if at == 0 || has_one_temperature {
                    marks.push((Ink::TONIGHT, Shape::Line(0.8, vec![[*x, y], [*x, Plot::foot()]])));
                }
                marks.push((Ink::TONIGHT, Shape::Dot([*x, y], 3.0)));
            }
            marks.push(words([LEFT + MARGIN, y - 3.0], Anchor::Start, wanted.name.to_owned()));
        }
        marks
    }
}
