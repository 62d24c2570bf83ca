//! Builds the times of steps that rest on a trial (R20 and R21 in the reference).

use std::sync::Arc;

use super::super::error;
use super::super::merge::MergedStep;
use super::Builder;
use crate::model::{
    Chart, ContrastMeasure, Duration, Number, Piece, Point, RestsOn, Temperature, Time, Trial,
};
use crate::source::{Sorted as _, Span, clip};
use crate::trial::{NoTime, Times, contrast_for};
use crate::vocabulary::{Declared, Matched, say};

impl Builder<'_> {
    /// The trial that the time of a step rests on, as in `time by borax-trial for normal`. `None` if the step names no
    /// trial, or a trial with errors.
    pub(super) fn rests_on(&self, own: &MergedStep<'_>) -> Option<RestsOn> {
        let row = own.time_row()?.view::<say::Time>().filter(|row| row.sound)?;
        let (name, span) = row.said(say::Time::trial)?;
        let key = self.scopes.known(Declared::Trial, name, span.file)?;
        Some(RestsOn { trial: Arc::clone(self.trials.get(&key)?), contrast: contrast(row), span: row.span })
    }

    /// The time that a trial gives for a step (R20 in the reference): the time for a contrast, or the time of the piece
    /// that was chosen by eye. `None` after an error.
    pub(super) fn by_trial(&mut self, row: Matched<'_, say::Time>, name: (&str, Span)) -> Option<Duration> {
        let trial = self.find(Declared::Trial, name, |it| &it.trials)?;
        match (contrast(row), trial.times()) {
            (None, _) => self.by_eye(row, &trial),
            (Some(contrast), Some(times)) => {
                if let Some(aim) = row.aim()
                    && !matches!(trial.measure, ContrastMeasure::Gradient(_))
                {
                    let measure = trial.measure.words();
                    self.error(
                        "aim-of-another-measure",
                        row.span,
                        format!(
                            "'{}' stands for an average gradient, but the trial measures {measure}",
                            aim.word()
                        ),
                        format!("write the {measure} that you want, such as: for contrast 0.58"),
                    );
                    return None;
                }
                self.by_contrast(row, (&trial, &times), contrast)
            }
            (Some(_), None) => {
                let fault = error(
                    "trial-without-contrast",
                    row.span,
                    format!(
                        "'for' finds the time for a contrast, and no piece of '{}' has a contrast",
                        clip(&trial.name)
                    ),
                    format!("to use the piece that you chose by eye, write: time by {}", clip(&trial.name)),
                );
                let fault =
                    fault.help("or add the contrasts that you measured to two pieces or more, such as: piece 8:00 contrast 0.58");
                self.report(fault.other(trial.span, "the trial"));
                None
            }
        }
    }

    /// The time of the piece that is marked "right" in the trial. `None` after an error, such as two pieces with that
    /// mark.
    fn by_eye(&mut self, row: Matched<'_, say::Time>, trial: &Trial) -> Option<Duration> {
        let mut chosen = trial.chosen();
        let name = clip(&trial.name);
        let fault = match (chosen.next(), chosen.next()) {
            (Some(piece), None) => return Some(Duration::Plain { time: piece.time, at: Some(piece.at) }),
            (Some(first), Some(second)) => error(
                "two-right-pieces",
                row.span,
                format!("two pieces of the trial '{name}' are marked \"right\""),
                "mark only the piece that the recipe is to follow",
            )
            .other(first.span, "the first")
            .other(second.span, "the second"),
            (None, _) => {
                let help = match (between(trial), trial.pieces.iter().any(|piece| piece.contrast.is_some())) {
                    (_, true) => {
                        format!("name the contrast: time by {name} for normal; or: for contrast 0.58")
                    }
                    (Some(help), _) => help,
                    (None, _) => "mark the piece that prints best, such as: piece 8:00 \"right\"".to_owned(),
                };
                let message = format!("no piece of the trial '{name}' is marked \"right\"");
                error("no-right-piece", row.span, message, help).other(trial.span, "the trial")
            }
        };
        self.report(fault);
        None
    }

    /// The time for a contrast (R20 in the reference), as one time or as a chart with a time for each tested
    /// temperature. If a law of time against temperature fits the trial, the chart also has the times at 2, 4, 6 °C and
    /// so on between these temperatures (R21 in the reference).
    fn by_contrast(
        &mut self,
        row: Matched<'_, say::Time>,
        (trial, times): (&Trial, &Times),
        contrast: f64,
    ) -> Option<Duration> {
        let mut temperatures: Vec<Temperature> =
            trial.pieces.iter().filter(|piece| piece.contrast.is_some()).map(|piece| piece.at).collect();
        temperatures.order_by(Ord::cmp);
        temperatures.dedup();
        if let (Some(cold), Some(warm), Ok(_)) = (temperatures.first(), temperatures.last(), &times.fit) {
            let whole = (0..50).map(|step| Temperature::celsius_whole(2 * step));
            temperatures.extend(whole.filter(|at| cold < at && at < warm).collect::<Vec<_>>());
            temperatures.order_by(Ord::cmp);
            temperatures.dedup();
        }
        let found = temperatures.iter().map(|at| (*at, times.minutes(contrast, at.celsius(), false)));
        let (mut points, mut why): (Vec<Point>, Option<NoTime>) = (Vec::new(), None);
        for (temperature, answer) in found {
            match answer {
                Ok(answer) => {
                    points.push(Point {
                        temperature,
                        time: Time::from_minutes(answer.minutes),
                        span: row.span,
                    });
                }
                Err(no_time) => why = why.or(Some(no_time)),
            }
        }
        if let [Point { temperature, time, .. }] = *points {
            return Some(Duration::Plain { time, at: Some(temperature) });
        }
        if !points.is_empty() {
            return Some(Duration::Chart(Chart::new(points)));
        }
        self.no_time(row, trial, contrast, why);
        None
    }

    fn no_time(&mut self, row: Matched<'_, say::Time>, trial: &Trial, contrast: f64, why: Option<NoTime>) {
        let name = clip(&trial.name);
        let (message, help) = match why {
            Some(NoTime::Contrast { low, high }) => {
                let nearest =
                    if contrast < low { (low * 100.0).ceil() } else { (high * 100.0).floor() } / 100.0;
                let (ask, time) = if contrast < low { ("more", "shorter") } else { ("less", "longer") };
                (
                    format!(
                        "the trial '{name}' tested contrasts from {low:.2} to {high:.2}, and this step asks for {contrast:.2}"
                    ),
                    format!(
                        "ask for {ask}, such as: for contrast {nearest:.2}, or test a piece with a {time} time"
                    ),
                )
            }
            _ => (
                format!(
                    "the trial '{name}' has no two pieces at one temperature that show a time for a contrast of {contrast:.2}"
                ),
                "test pieces with more times at one temperature".to_owned(),
            ),
        };
        let fault = error("contrast-not-tested", row.span, message, help);
        self.report(fault.other(trial.span, "the trial"));
    }
}

/// The contrast that a `time` line states, as a number or as a word such as `normal`; `None` if it states none.
fn contrast(row: Matched<'_, say::Time>) -> Option<f64> {
    row.contrast().map(Number::real).or(row.aim().map(|aim| contrast_for(aim.stops())))
}

/// The help text that proposes a time between the longest piece marked "soft" and the shortest marked "hard". `None` if
/// the trial lacks either, or the soft piece is not the shorter one.
fn between(trial: &Trial) -> Option<String> {
    let is = |piece: &Piece, word: &str| piece.text.as_deref() == Some(word);
    let soft = trial.pieces.iter().filter(|piece| is(piece, "soft")).max_by_key(|piece| piece.time)?;
    let hard = trial.pieces.iter().filter(|piece| is(piece, "hard")).min_by_key(|piece| piece.time)?;
    let middle = Time::from_minutes((soft.time.seconds() + hard.time.seconds()) / 120.0);
    (soft.time < hard.time).then(|| {
        format!(
            "{} is soft and {} is hard: develop a piece for {middle} and look at it",
            soft.time, hard.time
        )
    })
}
