//! R20. The trial from which the time of a step was calculated or chosen, and how sure this time is.

use super::evening::Evening;
use super::schedule::{Because, Notices};
use super::temperature::Course;
use super::words;
use crate::model::{CHOSEN, Piece, RestsOn, Step, Time, Trial};
use crate::trial::{Answer, Basis, DISAGREE};

/// The trial that the time of a step comes from, and how sure the time is.
#[derive(Debug, Clone, PartialEq)]
pub struct Rests {
    /// The name of the trial.
    pub trial: String,
    /// How many pieces the trial has.
    pub pieces: usize,
    /// The contrast that the step wants; `None` if the time was chosen by eye.
    pub contrast: Option<f64>,
    /// By how much the time may be too long or too short; `None` if the trial does not show it.
    pub give_or_take: Option<Time>,
    /// By how much the contrast rises per minute near this time, if the trial shows it.
    pub per_minute: Option<f64>,
    /// The sentence on the card about the trial.
    pub words: String,
}

impl Evening<'_> {
    /// The trial that the time of the step comes from, if any. Adds to `because` how a time for a contrast was
    /// calculated.
    pub(super) fn rests(
        &self,
        step: &Step,
        course: Option<Course>,
        because: &mut Vec<Because>,
    ) -> Option<Rests> {
        let RestsOn { trial, contrast, span } = step.rests_on.as_ref()?;
        let (name, pieces) = (trial.name.clone(), trial.pieces.len());
        let Some(contrast) = contrast else {
            let piece = trial.chosen().next()?;
            let give_or_take = good_to(trial, piece);
            let words = by_eye(trial, piece, give_or_take);
            return Some(Rests {
                trial: name,
                pieces,
                contrast: None,
                give_or_take,
                per_minute: None,
                words,
            });
        };
        let (times, celsius) = (trial.times()?, course?.from.celsius());
        let answer = times.minutes(*contrast, celsius, false).ok()?;
        let per_minute = times.fit.as_ref().ok().map(|fit| fit.law.steepness(*contrast, celsius));
        let half = Time::from_minutes(answer.half_width);
        because.push(Because::new(
            "/duration_ms",
            "R20",
            calculation(trial, *contrast, answer),
            vec![*span, trial.span],
        ));
        let words = by_contrast(trial, *contrast, answer);
        Some(Rests {
            trial: name,
            pieces,
            contrast: Some(*contrast),
            give_or_take: Some(half),
            per_minute,
            words,
        })
    }

    pub(super) fn advise_of_trials(&self, notices: &mut Notices) {
        let Some(tonight) = self.tank() else { return };
        for RestsOn { trial, .. } in self.recipe.steps.iter().filter_map(|step| step.rests_on.as_ref()) {
            if let Some(tank) = trial.tank.as_ref().filter(|tank| tank.name != tonight.name) {
                let (name, used) = (&trial.name, &tank.title);
                notices.advise(
                    "R20",
                    format!("the trial '{name}' was made in another tank, {used}: agitate the same way"),
                );
            }
        }
    }
}

fn listed(times: &[Time]) -> String {
    times.iter().map(Time::to_string).collect::<Vec<_>>().join(", ")
}

/// How exact a time chosen by eye is: half the mean gap to the next shorter and the next longer time in the trial. A
/// person only sees which of two neighbours is better. `None` if no shorter or no longer time was tried.
fn good_to(trial: &Trial, piece: &Piece) -> Option<Time> {
    let times = trial.tried_with(piece);
    let shorter = times.iter().rev().find(|time| **time < piece.time)?;
    let longer = times.iter().find(|time| **time > piece.time)?;
    let seconds = (longer.seconds() - shorter.seconds()) / 4.0;
    let step = if seconds < 45.0 { 15.0 } else { 30.0 };
    Some(Time::from_minutes(libm::floor(seconds / step + 0.5).max(1.0) * step / 60.0))
}

fn by_eye(trial: &Trial, piece: &Piece, good_to: Option<Time>) -> String {
    let times = trial.tried_with(piece);
    let what = format!("{} at {}", piece.time, piece.at.to_string().replace(" C", " °C"));
    if times.len() < 2 {
        return format!("{what} looked {CHOSEN} in the trial {}; no other time was tried", trial.name);
    }
    let how = match good_to {
        Some(time) => format!("good to about {}", spoken(time)),
        None if times.first() == Some(&piece.time) => "nothing shorter was tried".to_owned(),
        None => "nothing longer was tried".to_owned(),
    };
    format!("{what} was chosen by eye from {}; {how}", listed(&times))
}

/// A time as people say it: `a minute`, `30 s`, `1:30`.
fn spoken(time: Time) -> String {
    match time.ms / 1000 {
        60 => "a minute".to_owned(),
        seconds @ ..60 => format!("{seconds} s"),
        _ => time.to_string(),
    }
}

fn by_contrast(trial: &Trial, contrast: f64, answer: Answer) -> String {
    let (low, high) = answer.bounds();
    let (low, high) = (Time::from_minutes(low), Time::from_minutes(high));
    let pieces = trial.pieces.iter().filter(|piece| piece.contrast.is_some()).count();
    let from = format!("contrast {contrast:.2} by the trial {}, {pieces} pieces", trial.name);
    if answer.is_unseen() {
        format!("{from}; between {low} and {high} nobody could tell the prints apart")
    } else {
        format!("{from}; by these pieces it may be any time from {low} to {high}: test one more at this time")
    }
}

fn calculation(trial: &Trial, contrast: f64, answer: Answer) -> String {
    let half = Time::from_minutes(answer.half_width);
    let measure = trial.measure.words();
    match answer.basis {
        Basis::Law { by_neighbours } => {
            let other = by_neighbours.filter(|other| (other / answer.minutes - 1.0).abs() > DISAGREE);
            let other =
                other.map(|other| format!("; the two nearest pieces say {}", Time::from_minutes(other)));
            format!(
                "{measure} {contrast:.3} by the curve through the pieces of '{}', give or take {half} (95 %){}",
                trial.name,
                other.unwrap_or_default()
            )
        }
        Basis::Neighbours(short, long) => format!(
            "{measure} {contrast:.3} between the pieces of {} and {} of '{}', give or take {half}",
            words::time(Time::from_minutes(short)),
            words::time(Time::from_minutes(long)),
            trial.name
        ),
    }
}
