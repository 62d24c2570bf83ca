//! The result of a trial's readings as JSON, by `grammar/trial.schema.json`.

use super::said::{Question, spoken};
use super::{measured, said};
use crate::compile::Scale;
use crate::emit::object::{Json, Object, filled, list};
use crate::evaluate::{Evaluation, Order, Speed, StripResult, Wanted};
use crate::model::{Slope, Temperature, Time};
use crate::trial::{Answer, Fit, NoTime, Times};

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;

/// The result of a trial as an indented JSON object.
pub fn trial_json(result: &Evaluation) -> String {
    let fit = result.times.as_ref().and_then(|times| Some((times, times.fit.as_ref().ok()?)));
    Object::of("trial", VERSION)
        .put("measure", measured(result))
        .put("within", rounded(result.within))
        .put("contrast_within", rounded(result.contrast_within))
        .put("within_assumed", result.is_assumed.then_some(true))
        .put("strips", list(&result.strips, strip))
        .put("law", fit.map(|(times, fit)| law(times, fit)))
        .put("wanted", filled(list(&result.wanted, |one| wanted(one, result))))
        .put("speed", result.speed.map(|speed| said::speed(speed, false)))
        .put("iso_speed", result.speed.and_then(iso_speed))
        .put("exposure_index", result.speed.and_then(exposure_index))
        .put("slips", filled(list(&result.slips, |slip| Json::from(slip.message.as_str()))))
        .text()
}

/// The order of the strips as an indented JSON object.
pub fn order_json(order: &Order) -> String {
    let strip = |(time, at): &(Time, Temperature)| Object::of("time_ms", *time).put("temperature_c", *at);
    Object::of("trial", VERSION).put("softest_first", list(&order.softest_first, strip)).text()
}

fn strip(strip: &StripResult) -> Object {
    let curve = strip.curve.as_ref();
    let step = |(x, y): (f64, f64)| Object::of("log_exposure", rounded(x)).put("density", rounded(y));
    Object::of("time_ms", strip.time)
        .put("temperature_c", strip.at)
        .put("fog", strip.fog.map(rounded))
        .put("contrast", strip.contrast.map(rounded))
        .put("gamma", strip.slope(Slope::Gamma).map(rounded))
        .put("index", strip.slope(Slope::Index).map(rounded))
        .put("speed_point", curve.and_then(|curve| curve.speed_point()).map(rounded))
        .put("rise", curve.and_then(|curve| curve.rise(1.30)).map(rounded))
        .put("curve", filled(list(curve.into_iter().flat_map(|curve| curve.steps()), step)))
}

fn law(times: &Times, fit: &Fit) -> Object {
    let range = times.factor_range();
    Object::of("limit", rounded(fit.law.limit))
        .put("rate", rounded(fit.law.rate))
        .put("start_min", rounded(fit.law.start))
        .put("temperature_c", rounded(fit.law.celsius))
        .put("factor", fit.law.factor.map(rounded))
        .put("factor_low", range.map(|range| rounded(range.0)))
        .put("factor_high", range.map(|range| rounded(range.1)))
        .put("scatter", rounded(fit.scatter))
        .put("degrees_of_freedom", fit.freedom)
        .put("residuals", list(&fit.residuals, |off| rounded(*off)))
}

/// The speed by the criterion of ISO 6, before rounding; `None` for a speed by another method.
fn iso_speed(speed: Speed) -> Option<f64> {
    if let Speed::Standard { exact } = speed { Some(rounded(exact)) } else { None }
}

fn exposure_index(speed: Speed) -> Option<f64> {
    if let Speed::ByMeter { index, .. } = speed { Some(rounded(index)) } else { None }
}

fn wanted(wanted: &Wanted, result: &Evaluation) -> Object {
    let time = |(at, answer): &(Temperature, Result<Answer, NoTime>)| {
        let known = answer.as_ref().ok();
        let question = Question { result, contrast: wanted.contrast, at: *at, scale: Scale::Celsius };
        Object::of("temperature_c", *at)
            .put("time_ms", known.map(|answer| Time::from_minutes(answer.minutes)))
            .put("give_or_take_ms", known.map(|answer| Time::from_minutes(answer.half_width)))
            .put("outside", known.filter(|answer| answer.is_outside).map(|_| true))
            .put("text", spoken(answer, question, false))
    };
    Object::of("contrast", rounded(wanted.contrast))
        .put("name", Some(wanted.name).filter(|name| !name.is_empty()))
        .put("exposure_index", wanted.index.map(rounded))
        .put("times", list(&wanted.times, time))
}

fn rounded(number: f64) -> f64 {
    libm::floor(number * 10_000.0 + 0.5) / 10_000.0 + 0.0
}
