//! The result of a trial's readings as a document: first the developing times, then what they were calculated from.

mod json;
mod said;

pub use json::{order_json, trial_json};

use super::document::{Block, Bullet, Column, Document, Figure, Section, Table};
use super::phrase::{count, degree, interval, rounded};
use super::picture::trial_drawing;
use crate::compile::Scale;
use crate::evaluate::{Evaluation, Order, StripResult, Wanted, stops};
use crate::model::{ContrastMeasure, Slope, Temperature, Time};
use crate::trial::Times;
use said::{Question, spoken};

/// How many columns the table of strips has if a trial compares two frames. The further columns need a whole curve.
const FRAME_COLUMNS: usize = 4;

/// The result of a trial as a document. `name` is the name of the file of readings without its ending. It is also the
/// name of the trial that the document offers to copy. With `reasons`, the document also has the numbers on which
/// its sentences rest.
pub fn trial(result: &Evaluation, name: &str, scale: Scale, reasons: bool) -> Document {
    let (assumed, within) = (if result.is_assumed { " (assumed)" } else { "" }, figures(result.within, 2));
    let error = figures(result.contrast_within, 3);
    let outlier = result.times.as_ref().and_then(said::outlier);
    let mut sections = Vec::from_iter(Section::list("FIRST", Bullet::Warning, &Vec::from_iter(outlier)));
    let has_times = result.times.as_ref().is_some_and(|times| times.strips().len() > 1);
    sections
        .extend(result.wanted.iter().filter(|_| has_times).map(|one| wanted(one, (result, scale), reasons)));
    let gap = said::strips_without_contrast(result);
    // If only one strip of several has a contrast, the sentences about its contrast are left out: they would hide why
    // the other strips have none.
    let times = result.times.as_ref().filter(|_| gap.is_none() || has_times);
    let sentences: Vec<String> =
        gap.into_iter().chain(times.map(|times| said::sentences(times, scale)).unwrap_or_default()).collect();
    let picture = trial_drawing(result, name, scale).filter(|_| has_times);
    let picture = picture.map(|drawing| Block::Figures(vec![Figure(drawing)]));
    sections.extend(Section::list("WHAT THE STRIPS SAY", Bullet::Dash, &sentences).map(|mut section| {
        section.blocks.extend(picture);
        section
    }));
    let constants = times.map(|times| constants(times, scale)).unwrap_or_default();
    sections.extend(Section::list("THE CURVE", Bullet::Dash, &constants).filter(|_| reasons));
    let is_beside = result.wanted.iter().any(|wanted| wanted.index.is_some());
    sections.extend(result.speed.map(|speed| {
        let first = said::speed(speed, is_beside);
        let reason = said::speed_reason(speed).filter(|_| reasons);
        Section::titled(
            "FILM SPEED",
            vec![Block::List(Bullet::Dash, [first].into_iter().chain(reason).collect())],
        )
    }));
    sections.push(strip_table(result, scale));
    sections.extend(paste(result, name));
    Document {
        title: format!("Trial of {}", count(result.strips.len(), "strip")),
        facts: vec![
            measured(result),
            format!("a density may be off by {within}{assumed}, so a contrast by {error}"),
        ],
        sections,
        ..Document::default()
    }
}

/// The strips from soft to hard as a document. It has no contrasts and no times to use, because the readings have no
/// step of known density in the picture.
pub fn trial_order(order: &Order, scale: Scale) -> Document {
    let first = order.softest_first.first();
    let several = order.softest_first.iter().any(|(_, at)| first.is_some_and(|one| one.1 != *at));
    let strip = |(time, at): &(Time, Temperature)| {
        if several { format!("{time} at {}", rounded(*at, scale, 1)) } else { time.to_string() }
    };
    let strips: Vec<String> = order.softest_first.iter().map(strip).collect();
    let next = [
        "print the strips on one paper and choose by eye; this order says which one to try next",
        "for a time, photograph a wedge or two known steps beside the strips, in one picture with locked exposure, \
         and add their rows, such as known 0.05 and known 0.95",
    ];
    Document {
        title: "Only an order".to_owned(),
        facts: vec!["readings of a phone or a scanner, without known steps in the picture".to_owned()],
        sections: vec![
            Section::titled("FROM SOFT TO HARD", vec![Block::Paragraph(strips.join(", "))]),
            Section::titled("NEXT", vec![Block::List(Bullet::Dash, next.map(str::to_owned).to_vec())]),
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

/// The section for one wanted contrast: the scene that needs it, and the developing time at each temperature.
fn wanted(wanted: &Wanted, (result, scale): (&Evaluation, Scale), reasons: bool) -> Section {
    let contrast = figures(wanted.contrast, 2);
    let (title, about) = match wanted.name {
        "N" => (
            "NORMAL SCENE (N)".to_owned(),
            format!("a scene of 7 stops: for normal paper the negative needs a contrast of {contrast}"),
        ),
        "N-1" => (
            "SCENE OF HIGH CONTRAST (N-1)".to_owned(),
            format!("a scene of 8 stops, as in harsh sun: the negative needs less contrast, {contrast}"),
        ),
        "N+1" => (
            "SCENE OF LOW CONTRAST (N+1)".to_owned(),
            format!("a scene of 6 stops, as in dull light: the negative needs more contrast, {contrast}"),
        ),
        _ => (format!("CONTRAST {contrast}"), String::new()),
    };
    let times = wanted.times.iter();
    let question = |at| Question { result, contrast: wanted.contrast, at, scale };
    let times = times.map(|(at, answer)| (rounded(*at, scale, 1), spoken(answer, question(*at), reasons)));
    let index = wanted.index.map(|index| ("index".to_owned(), said::index(index)));
    let about = (!about.is_empty()).then_some(Block::Paragraph(about));
    let rows = Block::Named(times.chain(index).collect());
    Section::titled(title, about.into_iter().chain([rows]).collect())
}

fn strip_table(result: &Evaluation, scale: Scale) -> Section {
    let heads = ["time", "at", "contrast", "base + fog", "gamma", "contrast index", "rise over 1.30"];
    let known = |number: Option<f64>| number.map(|number| figures(number, 2)).unwrap_or_default();
    let row = |strip: &StripResult| {
        let rise = strip.curve.as_ref().and_then(|curve| curve.rise(1.30));
        vec![
            strip.time.to_string(),
            rounded(strip.at, scale, 1),
            strip.contrast.map_or_else(|| "none".to_owned(), |contrast| figures(contrast, 2)),
            known(strip.fog),
            known(strip.slope(Slope::Gamma)),
            known(strip.slope(Slope::Index)),
            known(rise),
        ]
    };
    let rows = result.strips.iter().map(row).collect();
    let shown = if result.frames.is_some() { FRAME_COLUMNS } else { heads.len() };
    let columns = heads.into_iter().take(shown).map(Column::new).collect();
    let table = Table { columns, rows, ..Table::default() };
    let without = result.strips.iter().filter(|strip| strip.contrast.is_none());
    let without: Vec<String> =
        without.map(|strip| format!("{}: {}", strip.time, said::no_contrast(strip, result))).collect();
    let mut blocks = vec![Block::Table(table)];
    if !without.is_empty() {
        blocks.push(Block::List(Bullet::Warning, without));
    }
    Section::titled("STRIPS", blocks)
}

/// For `--why`: the constants of the curve, and how far each strip is above it.
fn constants(times: &Times, scale: Scale) -> Vec<String> {
    let Ok(fit) = &times.fit else { return Vec::new() };
    let law = &fit.law;
    let at = if law.factor.is_some() {
        format!(", times at {}", of_celsius(law.celsius, scale))
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
        all.push(format!("factor per {} {}, {range} (95 %)", ten(scale), figures(factor, 3)));
    }
    let off = times.strips().iter().zip(&fit.residuals);
    let off = off.map(|(strip, off)| format!("{} {off:+.3}", Time::from_minutes(strip.minutes)));
    all.push(format!("above the curve: {}", off.collect::<Vec<_>>().join(", ")));
    all
}

/// The section with the trial to copy into a recipe file; `None` if no strip has a contrast.
fn paste(result: &Evaluation, name: &str) -> Option<Section> {
    let known: Vec<&StripResult> = result.strips.iter().filter(|strip| strip.contrast.is_some()).collect();
    if known.is_empty() {
        return None;
    }
    let mut lines = vec![
        format!("trial {name} {{"),
        "    film      YOUR-FILM".to_owned(),
        "    in        YOUR-DEVELOPER 1+1".to_owned(),
    ];
    lines.push(match (result.frames, result.measure) {
        (Some(range), _) => {
            format!("    measure   gradient over {} stops", figures(stops(range).max(1.0), 0))
        }
        (None, ContrastMeasure::Gradient(stops)) => format!("    measure   gradient over {stops} stops"),
        (None, ContrastMeasure::Slope(slope)) => format!("    measure   {}", slope.word()),
    });
    lines.push(format!("    within    {}", figures(result.within, 2)));
    lines.extend(known.iter().map(|strip| {
        let contrast = figures(strip.contrast.unwrap_or_default(), 3);
        format!("    piece     {} at {} contrast {contrast}", strip.time, strip.at)
    }));
    lines.push("}".to_owned());
    let then = format!("a development step of this film may then say: time by {name} for normal");
    let is_gradient = matches!(result.measure, ContrastMeasure::Gradient(_));
    let then = Some(Block::Paragraph(then)).filter(|_| is_gradient && known.len() > 1);
    let first = "write it into a recipe file, with the names of your film and developer and its dilution";
    let blocks = [Block::Paragraph(first.to_owned())].into_iter().chain(then).chain([Block::Lines(lines)]);
    Some(Section::titled("TO KEEP IT", blocks.collect()))
}

fn figures(number: f64, places: usize) -> String {
    format!("{number:.places$}")
}

/// A temperature that was calculated as a number of °C: `21.5 °C`.
pub(super) fn of_celsius(celsius: f64, scale: Scale) -> String {
    let number = match scale {
        Scale::Celsius => celsius,
        Scale::Fahrenheit => celsius * 1.8 + 32.0,
    };
    format!("{} °{}", format!("{number:.1}").trim_end_matches(".0"), degree(scale).letter)
}

/// The difference of 10 °C in words. The factor of a developer is stated for this difference.
fn ten(scale: Scale) -> String {
    interval(Temperature::celsius_whole(10).base, scale, 1)
}
