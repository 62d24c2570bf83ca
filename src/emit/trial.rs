//! The result of a trial's readings, as a document and as JSON by `grammar/trial.schema.json`.

use super::document::{Block, Bullet, Column, Document, Section, Table};
use super::object::{Json, Object, filled, list};
use super::phrase::count;
use crate::evaluate::{Evaluation, Order, Speed, StripResult, Wanted, stops};
use crate::model::{ContrastMeasure, Slope, Temperature, Time};
use crate::trial::{Answer, Basis, DISAGREE, Fit, NoFit, NoTime, Times};

/// The version of the JSON, raised by each change that breaks programs which read it.
const VERSION: u32 = 1;

/// The result as a document. `name` is the file's name without its ending, for the trial to paste. With `reasons`, the
/// numbers from which the sentences are made.
pub fn trial(result: &Evaluation, name: &str, reasons: bool) -> Document {
    let assumed = if result.is_assumed { ", assumed" } else { "" };
    let mut sections = vec![strip_table(result)];
    if let Some(times) = &result.times {
        sections.extend(Section::list("WHAT THE STRIPS SAY", Bullet::Dash, &sentences(times)));
        sections.extend(Section::list("THE CURVE", Bullet::Dash, &constants(times)).filter(|_| reasons));
    }
    let has_times = result.times.as_ref().is_some_and(|times| times.strips().len() > 1);
    sections.extend(result.wanted.iter().filter(|_| has_times).map(|wanted| {
        let name = if wanted.name.is_empty() { String::new() } else { format!("{}: ", wanted.name) };
        let times = wanted.times.iter().map(|(at, answer)| (degrees(*at), spoken(answer, reasons)));
        let title = format!("{name}CONTRAST {}", figures(wanted.contrast, 2));
        Section::titled(title, vec![Block::Named(times.collect())])
    }));
    let speed: Vec<String> = result.speed.map(speed).into_iter().collect();
    sections.extend(Section::list("SPEED", Bullet::Dash, &speed));
    sections.extend(paste(result, name));
    Document {
        title: format!("{}, {}", count(result.strips.len(), "strip"), measured(result)),
        facts: vec![format!("a density may be off by {}{assumed}", figures(result.within, 2))],
        sections,
        ..Document::default()
    }
}

/// The order of the strips as a document: without a known step in the picture, readings give no numbers.
pub fn trial_order(order: &Order) -> Document {
    let first = order.softest_first.first();
    let several = order.softest_first.iter().any(|(_, at)| first.is_some_and(|one| one.1 != *at));
    let strip = |(time, at): &(Time, Temperature)| {
        if several { format!("{time} at {}", degrees(*at)) } else { time.to_string() }
    };
    let strips: Vec<String> = order.softest_first.iter().map(strip).collect();
    let help = "for a number, photograph a wedge or two known steps beside the strips, with one locked exposure, and \
                add their rows: known 0.05, known 0.95";
    Document {
        title: "Only an order".to_owned(),
        facts: vec!["readings of a phone or a scanner, without known steps in the picture".to_owned()],
        sections: vec![
            Section::titled("FROM SOFT TO HARD", vec![Block::Paragraph(strips.join(", "))]),
            Section::titled("NEXT", vec![Block::Paragraph(help.to_owned())]),
        ],
        ..Document::default()
    }
}

fn measured(result: &Evaluation) -> String {
    match result.frames {
        Some(range) => format!("contrast between two frames {} stops apart", figures(stops(range), 1)),
        None => result.measure.words(),
    }
}

fn strip_table(result: &Evaluation) -> Section {
    let heads = ["time", "at", "base and fog", "contrast", "gamma", "index", "rise over 1.30"];
    let dash = |number: Option<f64>| number.map_or_else(|| "-".to_owned(), |number| figures(number, 2));
    let row = |strip: &StripResult| {
        let rise = strip.curve.as_ref().and_then(|curve| curve.rise(1.30));
        vec![
            strip.time.to_string(),
            degrees(strip.at),
            dash(strip.fog),
            dash(strip.contrast),
            dash(strip.slope(Slope::Gamma)),
            dash(strip.slope(Slope::Index)),
            dash(rise),
        ]
    };
    let rows = result.strips.iter().map(row).collect();
    let table = Table { columns: heads.map(Column::new).to_vec(), rows, ..Table::default() };
    let without = result.strips.iter().filter(|strip| strip.contrast.is_none());
    let without: Vec<String> =
        without.map(|strip| format!("{}: {}", strip.time, no_contrast(strip))).collect();
    let mut blocks = vec![Block::Table(table)];
    if !without.is_empty() {
        blocks.push(Block::List(Bullet::Warning, without));
    }
    Section::titled("STRIPS", blocks)
}

/// Why a strip has no contrast.
fn no_contrast(strip: &StripResult) -> &'static str {
    match (&strip.fog, &strip.curve) {
        (None, _) => "no contrast without a reading of its base and fog: add a row fog",
        (_, None) => "no contrast: it needs at least three steps with different exposures",
        _ => "no contrast: its steps begin too dense, or end too soon; --stops 5 needs fewer of them",
    }
}

/// What the strips say as a whole.
fn sentences(times: &Times) -> Vec<String> {
    let (low, high) = times.contrasts();
    let mut all = vec![format!("contrasts from {} to {} were tested", figures(low, 2), figures(high, 2))];
    match &times.fit {
        Ok(fit) => {
            all.push(format!("longer development ends at a contrast of about {}", figures(fit.law.limit, 2)));
            all.extend(worst(times, fit));
            all.extend(fit.law.factor.map(|factor| {
                format!("10 °C warmer, the time is divided by {}; 1 °C is {} % of it", figures(factor, 1), degree(factor))
            }));
            if fit.freedom == 0 {
                all.push("three strips show a curve but not how sure it is: test one more time".to_owned());
            }
        }
        Err(NoFit::TooFewTimes) if times.strips().len() < 2 => {
            return vec!["one strip says its own contrast and no time: develop a second, longer or shorter".to_owned()];
        }
        Err(NoFit::TooFewTimes) => all.push(
            "two times say where, not how far: between them there is a time, outside them none; test a third".to_owned(),
        ),
        Err(NoFit::LimitNotSeen) => all.push(
            "these times do not show where the contrast ends: there are times between the strips, and none outside"
                .to_owned(),
        ),
        Err(NoFit::DoesNotRise) => all.push("the contrast does not rise with the time: read the strips again".to_owned()),
        Err(NoFit::TooNear) => all.push(
            "the temperatures are less than 3 °C apart: develop two strips at another one, or all at one".to_owned(),
        ),
    }
    all
}

/// The strip that is farthest from the curve, if it is far.
fn worst(times: &Times, fit: &Fit) -> Option<String> {
    let pairs = times.strips().iter().zip(&fit.residuals);
    let (strip, off) = pairs.max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()))?;
    (off.abs() >= 0.03).then(|| {
        let side = if *off > 0.0 { "above" } else { "below" };
        format!(
            "the strip of {} is {} {side} the curve of the others: was it developed or read otherwise?",
            Time::from_minutes(strip.minutes),
            figures(off.abs(), 2)
        )
    })
}

/// By how many percent a time changes with 1 °C.
fn degree(factor: f64) -> String {
    figures(libm::log(factor) * 10.0, 0)
}

/// The constants of the curve and how far the strips are from it, for `--why`.
fn constants(times: &Times) -> Vec<String> {
    let Ok(fit) = &times.fit else { return Vec::new() };
    let law = &fit.law;
    let at = if law.factor.is_some() {
        format!(", times at {} °C", figures(law.celsius, 0))
    } else {
        String::new()
    };
    let mut all = vec![format!(
        "contrast = {} x (1 - exp(-{} x (minutes - {}))){at}",
        figures(law.limit, 4),
        figures(law.rate, 5),
        figures(law.start, 3)
    )];
    all.push(format!("scatter {}, {} degrees of freedom", figures(fit.scatter, 4), fit.freedom));
    if let (Some(factor), Some((low, high))) = (law.factor, times.factor_range()) {
        let range = format!("{} to {}", figures(low, 2), figures(high, 2));
        all.push(format!("factor per 10 °C {}, {range} (95 %)", figures(factor, 3)));
    }
    let off = times.strips().iter().zip(&fit.residuals);
    let off = off.map(|(strip, off)| format!("{} {off:+.3}", Time::from_minutes(strip.minutes)));
    all.push(format!("above the curve: {}", off.collect::<Vec<_>>().join(", ")));
    all
}

/// A time as a sentence; with `reasons`, also its interval in figures.
fn spoken(answer: &Result<Answer, NoTime>, reasons: bool) -> String {
    let answer = match answer {
        Ok(answer) => answer,
        Err(why) => return no_time(*why),
    };
    let time = Time::from_minutes(answer.minutes);
    let (low, high) = answer.bounds();
    let (low, high) = (Time::from_minutes(low), Time::from_minutes(high));
    let mut text = if answer.is_unseen() {
        format!("{time}; between {low} and {high} nobody could tell the prints apart")
    } else {
        format!("{time}, or any time from {low} to {high}: one more strip of {time} would tell")
    };
    if let Basis::Neighbours(short, long) = answer.basis {
        let (short, long) = (Time::from_minutes(short), Time::from_minutes(long));
        text += &format!("; by the strips of {short} and {long} alone");
    }
    if let Basis::Law { by_neighbours: Some(other) } = answer.basis
        && (other / answer.minutes - 1.0).abs() > DISAGREE
    {
        text += &format!("; the two nearest strips alone say {}", Time::from_minutes(other));
    }
    if answer.is_outside {
        text = format!("OUTSIDE WHAT WAS TESTED: {text}");
    }
    if reasons {
        text += &format!(" ({} ± {}, 95 %)", time, Time::from_minutes(answer.half_width));
    }
    text
}

fn no_time(why: NoTime) -> String {
    match why {
        NoTime::Contrast { low, high } => {
            format!("no time: tested were contrasts from {} to {}", figures(low, 2), figures(high, 2))
        }
        NoTime::Temperature { low, high } if high - low < 0.01 => {
            format!("no time: tested was only {} °C", figures(low, 1))
        }
        NoTime::Temperature { low, high } => {
            format!("no time: tested were {} °C to {} °C", figures(low, 1), figures(high, 1))
        }
        NoTime::BetweenTemperatures => "no time: no two strips were developed at this temperature".to_owned(),
        NoTime::PastLimit(limit) => {
            format!("no time: development ends at a contrast of {}", figures(limit, 2))
        }
    }
}

fn speed(speed: Speed) -> String {
    match speed {
        Speed::Standard { exact } => format!(
            "{} by the criterion of ISO 6 (0.80 over 1.30); an ISO speed also needs its lamp, its developer and its \
             waiting times",
            nearest_speed(exact)
        ),
        Speed::OnlyRelative => {
            "the strips meet the criterion of ISO 6 (0.80 over 1.30), but the exposure is not known in lux seconds".to_owned()
        }
        Speed::NotMet { least, most } => format!(
            "no ISO speed: the standard wants a density that rises by 0.80 over 1.30, and these rise by {} to {}",
            figures(least, 2),
            figures(most, 2)
        ),
        Speed::ByMeter { index, rise } => {
            let conditions = if (rise - 0.80).abs() <= 0.05 { "" } else { ", not under the conditions of ISO 6" };
            format!("your exposure index is {}{conditions}", figures(index, 0))
        }
    }
}

/// The nearest step of the scale of ISO speeds, arithmetic and logarithmic.
fn nearest_speed(exact: f64) -> String {
    match crate::model::nearest_speed(exact) {
        Some((speed, degrees)) => format!("{speed}/{degrees}"),
        None => figures(exact, 0),
    }
}

/// The trial to paste into a recipe file.
fn paste(result: &Evaluation, name: &str) -> Option<Section> {
    let known: Vec<&StripResult> = result.strips.iter().filter(|strip| strip.contrast.is_some()).collect();
    if known.is_empty() {
        return None;
    }
    let mut lines =
        vec![format!("trial {name} {{"), "film YOUR-FILM".to_owned(), "in YOUR-DEVELOPER 1+1".to_owned()];
    match result.measure {
        ContrastMeasure::Gradient(stops) if result.frames.is_none() => {
            lines.push(format!("measure gradient over {stops} stops"));
        }
        ContrastMeasure::Gradient(_) => {}
        ContrastMeasure::Slope(slope) => lines.push(format!("measure {}", slope.word())),
    }
    lines.push(format!("within {}", figures(result.within, 2)));
    lines.extend(known.iter().map(|strip| {
        let contrast = figures(strip.contrast.unwrap_or_default(), 3);
        format!("piece {} at {} contrast {contrast}", strip.time, strip.at)
    }));
    lines.push("}".to_owned());
    let rows = lines.into_iter().map(|line| vec![line]).collect();
    let table = Table { columns: vec![Column::new("")], rows, ..Table::default() };
    let title = "TO PASTE INTO A RECIPE FILE, WITH YOUR FILM AND YOUR DEVELOPER";
    Some(Section::titled(title, vec![Block::Table(table)]))
}

/// The result as an indented JSON object, by `grammar/trial.schema.json`.
pub fn trial_json(result: &Evaluation) -> String {
    let fit = result.times.as_ref().and_then(|times| Some((times, times.fit.as_ref().ok()?)));
    Object::of("trial", VERSION)
        .put("measure", measured(result))
        .put("within", rounded(result.within))
        .put("within_assumed", result.is_assumed.then_some(true))
        .put("strips", list(&result.strips, strip))
        .put("law", fit.map(|(times, fit)| law(times, fit)))
        .put("wanted", filled(list(&result.wanted, wanted)))
        .put("speed", result.speed.map(speed))
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

fn wanted(wanted: &Wanted) -> Object {
    let time = |(at, answer): &(Temperature, Result<Answer, NoTime>)| {
        let known = answer.as_ref().ok();
        Object::of("temperature_c", *at)
            .put("time_ms", known.map(|answer| Time::from_minutes(answer.minutes)))
            .put("give_or_take_ms", known.map(|answer| Time::from_minutes(answer.half_width)))
            .put("outside", known.filter(|answer| answer.is_outside).map(|_| true))
            .put("text", spoken(answer, false))
    };
    Object::of("contrast", rounded(wanted.contrast))
        .put("name", Some(wanted.name).filter(|name| !name.is_empty()))
        .put("times", list(&wanted.times, time))
}

/// A number to four decimals.
fn rounded(number: f64) -> f64 {
    libm::floor(number * 10_000.0 + 0.5) / 10_000.0 + 0.0
}

/// A number with this many decimals.
fn figures(number: f64, places: usize) -> String {
    format!("{number:.places$}")
}

fn degrees(at: Temperature) -> String {
    format!("{} °C", at.in_celsius(1))
}
