//! Pictures: the strip and the charts of a session, the curves and strips of two recipes, the curves of a trial, and the
//! use of baths over time. They are SVG in HTML pages and in files, and vectors in a PDF.

mod curve;
mod pair;
mod strip;
mod trial;
mod uses;

pub use pair::{pair, pair_picture};
pub(super) use trial::trial_drawing;
pub use trial::trial_picture;
pub use uses::{bath_uses, uses_picture};

use unicode_width::UnicodeWidthChar as _;

use super::document::Figure;
use super::phrase::{self, Degree};
use super::plain::{cut, escaped, joined, plain, prefixed};
use crate::compile::{PlannedStep, Scale, Schedule};
use crate::model::{Temperature, Time};

/// A picture of the steps of a session along a time axis, as SVG.
pub fn strip(schedule: &Schedule) -> String {
    document(&strip::drawing(schedule))
}

/// The development charts of a session as SVG; `None` if no time is from a chart.
pub fn curve(schedule: &Schedule) -> Option<String> {
    curve::drawing(schedule).as_ref().map(document)
}

pub(super) fn pictures(schedule: &Schedule) -> Vec<Drawing> {
    [strip::drawing(schedule)].into_iter().chain(curve::drawing(schedule)).collect()
}

/// A picture, [`WIDTH`] wide, with a description for people who cannot see it.
#[derive(Debug, Clone)]
pub(super) struct Drawing {
    /// A word that is unique on a page; it is used in the ids of SVG elements.
    pub(super) name: String,
    pub(super) height: f64,
    pub(super) title: String,
    pub(super) description: String,
    /// The caption of the picture, such as the recipe's title. It is drawn only if the picture is a file of its own.
    pub(super) caption: Mark,
    /// The marks in the order of drawing. All are below y = [`CAPTION_FOOT`], where the caption ends.
    pub(super) marks: Vec<Mark>,
}

pub(super) type Mark = (Ink, Shape);

/// Pictures below each other, as one SVG file with the caption of the first; `None` without a picture.
fn stacked(title: Option<String>, figures: Vec<Figure>) -> Option<String> {
    let mut drawings = figures.into_iter().map(|figure| figure.0);
    let mut whole = drawings.next()?;
    whole.title = title.unwrap_or(whole.title);
    for Drawing { height, description, marks, .. } in drawings {
        let down = whole.height - CAPTION_FOOT;
        whole.marks.extend(marks.into_iter().map(|(ink, shape)| (ink, shape.lowered(down))));
        whole.height += height - CAPTION_FOOT;
        whole.description = format!("{} {description}", whole.description);
    }
    Some(document(&whole))
}

/// A shape of a drawing. A point is `[x, y]`; y grows downwards.
#[derive(Debug, Clone)]
pub(super) enum Shape {
    /// A filled rectangle: left edge, upper edge, width and height.
    Area([f64; 4]),
    /// A line through these points. The number is its width.
    Line(f64, Vec<[f64; 2]>),
    /// A filled circle: its centre and radius.
    Dot([f64; 2], f64),
    /// Text on one line. `at` is a point on the baseline of the text.
    Words { at: [f64; 2], anchor: Anchor, size: f64, text: String },
}

impl Shape {
    fn lowered(self, down: f64) -> Shape {
        match self {
            Shape::Area([x, y, width, height]) => Shape::Area([x, y + down, width, height]),
            Shape::Line(thick, through) => {
                Shape::Line(thick, through.into_iter().map(|[x, y]| [x, y + down]).collect())
            }
            Shape::Dot([x, y], radius) => Shape::Dot([x, y + down], radius),
            Shape::Words { at: [x, y], anchor, size, text } => {
                Shape::Words { at: [x, y + down], anchor, size, text }
            }
        }
    }
}

/// Which point of a text its position gives: the start, the middle or the end.
#[derive(Debug, Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// A colour: its name, and its RGB values on a light and on a dark background. On both, the contrast is at least 3 to
/// 1. Marks never differ by colour alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ink(&'static str, [u8; 3], [u8; 3]);

impl Ink {
    const TEXT: Ink = Ink("text", [0x1c, 0x1c, 0x1c], [0xe8, 0xe8, 0xe8]);
    /// The colour of grid lines.
    const FAINT: Ink = Ink("faint", [0x8f, 0x8f, 0x8f], [0x6a, 0x6a, 0x6a]);
    const BATH: Ink = Ink("bath", [0x6c, 0x93, 0xac], [0x4d, 0x6f, 0x86]);
    /// The colour of pouring and draining.
    const FLOW: Ink = Ink("flow", [0x2f, 0x6f, 0x95], [0x8f, 0xb5, 0xcd]);
    const MOTION: Ink = Ink("motion", [0x17, 0x3f, 0x5a], [0xd3, 0xec, 0xfb]);
    const TONIGHT: Ink = Ink("tonight", [0xb3, 0x26, 0x1e], [0xff, 0x8a, 0x75]);
    /// The colour of a tank without a bath, and of drying.
    const EMPTY: Ink = Ink("empty", [0x8d, 0x8a, 0x84], [0x8d, 0x8a, 0x84]);
    const ALL: [Ink; 7] =
        [Ink::TEXT, Ink::FAINT, Ink::BATH, Ink::FLOW, Ink::MOTION, Ink::TONIGHT, Ink::EMPTY];

    /// The RGB values for white paper, each from 0 to 1.
    pub(super) fn on_paper(self) -> [f32; 3] {
        self.1.map(|part| f32::from(part) / 255.0)
    }
}

/// The drawing as an SVG 1.1 file. The file refers to no other file, and all its text is escaped.
fn document(drawing: &Drawing) -> String {
    let style = format!(
        "<style>\n.picture{{background:#ffffff}}\n@media screen and (prefers-color-scheme:dark){{\n\
         .picture{{background:#161616}}\n}}\n{}</style>\n",
        rules()
    );
    written(drawing, "xmlns=\"http://www.w3.org/2000/svg\" ", &style, 0.0)
}

/// The drawing as an `<svg>` element without its caption, for a page with the CSS [`rules`].
pub(super) fn element(drawing: &Drawing) -> String {
    written(drawing, "", "", CAPTION_FOOT)
}

pub(super) fn rules() -> String {
    let rule = |name, rgb| format!(".picture .{name}{{color:{}}}\n", colour(rgb));
    let light: String = Ink::ALL.map(|Ink(name, light, _)| rule(name, light)).concat();
    let dark: String = Ink::ALL.map(|Ink(name, _, dark)| rule(name, dark)).concat();
    format!(
        ".picture *{{fill:currentColor}}\n.picture polyline{{fill:none;stroke:currentColor}}\n{light}\
         @media screen and (prefers-color-scheme:dark){{\n{dark}}}\n"
    )
}

fn colour([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// The drawing as an `<svg>` element, without the part above y = `from`.
fn written(drawing: &Drawing, space: &str, style: &str, from: f64) -> String {
    let Drawing { name, .. } = drawing;
    let (top, height) = (number(from), number(drawing.height - from));
    let caption = (from < CAPTION_FOOT).then_some(&drawing.caption);
    let marks: String = caption.into_iter().chain(&drawing.marks).map(mark).collect();
    format!(
        "<svg {space}viewBox=\"0 {top} {WIDTH} {height}\" role=\"img\" \
         aria-labelledby=\"{name}-title {name}-description\" class=\"picture\" font-family=\"sans-serif\">\n\
         <title id=\"{name}-title\">{}</title>\n<desc id=\"{name}-description\">{}</desc>\n{style}{marks}</svg>\n",
        escaped(&drawing.title),
        escaped(&drawing.description),
    )
}

fn mark((Ink(class, ..), shape): &Mark) -> String {
    let element = |name: &str, numbers: &[(&str, f64)]| {
        let numbers = numbers.iter().map(|(name, value)| format!(" {name}=\"{}\"", number(*value)));
        format!("<{name} class=\"{class}\"{}", numbers.collect::<String>())
    };
    match shape {
        Shape::Area([x, y, width, height]) => {
            element("rect", &[("x", *x), ("y", *y), ("width", *width), ("height", *height)]) + "/>\n"
        }
        Shape::Line(thick, through) => {
            let points = joined(through.iter().map(|[x, y]| format!("{},{}", number(*x), number(*y))), " ");
            let (line, thick) = (element("polyline", &[]), number(*thick));
            format!("{line} points=\"{points}\" stroke-width=\"{thick}\"/>\n")
        }
        Shape::Dot([x, y], radius) => element("circle", &[("cx", *x), ("cy", *y), ("r", *radius)]) + "/>\n",
        Shape::Words { at: [x, y], anchor, size, text } => {
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let (place, size) = (element("text", &[("x", *x), ("y", *y)]), number(*size));
            format!("{place} text-anchor=\"{anchor}\" font-size=\"{size}\">{}</text>\n", escaped(text))
        }
    }
}

fn number(value: f64) -> String {
    // Adding zero turns -0 into 0.
    (libm::round(value * 1000.0) / 1000.0 + 0.0).to_string()
}

pub(super) const BODY: f64 = 10.0;
pub(super) const CAPTION_FOOT: f64 = 19.0;
pub(super) const WIDTH: f64 = 320.0;
const MARGIN: f64 = 8.0;
const TICKS: i64 = 6;
/// The estimated width of a letter, as a multiple of its type size.
const BREADTH: f64 = 0.53;

fn words(at: [f64; 2], anchor: Anchor, text: String) -> Mark {
    (Ink::TEXT, Shape::Words { at, anchor, size: BODY, text })
}

fn caption(name: &str) -> Mark {
    sized(15.0, 13.0, name)
}

/// A line of text from the left margin on, cut to the picture's width.
fn line(foot: f64, text: &str) -> Mark {
    sized(foot, BODY, text)
}

fn sized(foot: f64, size: f64, text: &str) -> Mark {
    let text = cut(text, |start| breadth(start, size) <= WIDTH - 2.0 * MARGIN);
    (Ink::TEXT, Shape::Words { at: [MARGIN, foot], anchor: Anchor::Start, size, text })
}

/// The estimated width of a text. The typeface is not known, because the viewer chooses it.
fn breadth(text: &str, size: f64) -> f64 {
    let is_wide = |letter: char| letter == '…' || letter.width() == Some(2);
    text.chars().map(|letter| if is_wide(letter) { size } else { size * BREADTH }).sum()
}

/// The bath of a step, `mq-borax 1+1`; `None` for a dry step.
fn bath(step: &PlannedStep) -> Option<String> {
    let bath = step.bath.as_ref()?;
    Some(plain(&bath.solution) + &prefixed(" ", bath.dilution.as_ref()))
}

/// The temperature of a step: `at 21.5 °C`, or `from 22 °C to 20 °C` if it drifts.
fn temperature(step: &PlannedStep, scale: Scale) -> Option<String> {
    let from = phrase::degrees(step.temperature?, scale);
    Some(match step.ending {
        Some(to) => format!("from {from} to {}", phrase::degrees(to, scale)),
        None => format!("at {from}"),
    })
}

/// The possible distances between ticks of a time axis, in seconds.
const SECONDS: [i64; 17] =
    [1, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400, 172_800];
/// The possible distances between ticks of a temperature axis, in tenths of a degree.
const TENTHS: [i64; 8] = [1, 2, 5, 10, 20, 50, 100, 200];

/// The smallest of `distances`, multiplied by `unit`, with which an axis from `low` to `high` has at most `most` ticks;
/// if there is none, the largest.
fn distance((low, high): (i64, i64), distances: &[i64], unit: i64, most: i64) -> i64 {
    let is_wide = |distance: &i64| high.saturating_sub(low) / distance < most;
    let mut all = distances.iter().map(|distance| distance * unit);
    all.clone().find(is_wide).or(all.next_back()).unwrap_or(unit)
}

fn multiple_from(value: i64, distance: i64) -> i64 {
    -(-value).div_euclid(distance) * distance
}

fn multiples((low, high): (i64, i64), distance: i64) -> impl Iterator<Item = i64> {
    let ticks = std::iter::successors(Some(multiple_from(low, distance)), move |tick| Some(tick + distance));
    ticks.take_while(move |tick| *tick <= high)
}

fn time_ticks((low, high): (Time, Time)) -> impl Iterator<Item = Time> {
    let ends = (low.ms, high.ms);
    multiples(ends, distance(ends, &SECONDS, 1000, TICKS)).map(Time::from_ms)
}

/// The nearest tick at or before the time `low`, and the nearest at or after `high`. The two ticks always differ.
fn ticks_around((low, high): (Time, Time)) -> (Time, Time) {
    let distance = distance((low.ms, high.ms), &SECONDS, 1000, TICKS - 1);
    let under = low.ms.div_euclid(distance) * distance;
    let over = multiple_from(high.ms, distance).max(under + distance);
    (Time::from_ms(under), Time::from_ms(over))
}

fn temperature_ticks(
    (low, high): (Temperature, Temperature),
    scale: Scale,
) -> impl Iterator<Item = Temperature> {
    let Degree { base: degree, zero, .. } = phrase::degree(scale);
    let ends = (low.base + zero, high.base + zero);
    let ticks = multiples(ends, distance(ends, &TENTHS, degree / 10, TICKS));
    ticks.map(move |base| Temperature { base: base - zero })
}
