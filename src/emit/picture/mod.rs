//! Pictures of a session, from what the schedule's JSON has too. Page and file draw them as SVG, paper as vectors.

mod curve;
mod parts;
mod strip;

pub(super) use parts::{BODY, CAPTION_FOOT, WIDTH};

use super::plain::{escaped, joined};
use crate::compile::Schedule;

/// The strip of a session as SVG.
pub fn strip(schedule: &Schedule) -> String {
    document(&strip::drawing(schedule))
}

/// The charts of a session as SVG; `None` if no step has its time from a chart.
pub fn curve(schedule: &Schedule) -> Option<String> {
    curve::drawing(schedule).as_ref().map(document)
}

/// The pictures of a session: the strip, and the charts if it has any.
pub(super) fn pictures(schedule: &Schedule) -> Vec<Drawing> {
    [strip::drawing(schedule)].into_iter().chain(curve::drawing(schedule)).collect()
}

/// A picture, [`WIDTH`] wide, with a description for people who cannot see it.
pub(super) struct Drawing {
    /// A word that is unique on a page and valid as an id.
    pub(super) name: &'static str,
    pub(super) height: f64,
    pub(super) title: String,
    pub(super) description: String,
    /// The recipe's name, only for a picture in its own file.
    pub(super) caption: Mark,
    /// The lowest first, all below [`CAPTION_FOOT`].
    pub(super) marks: Vec<Mark>,
}

pub(super) type Mark = (Ink, Shape);

/// Its points are x and y; y grows downwards.
pub(super) enum Shape {
    /// A filled rectangle: left edge, upper edge, width and height.
    Area([f64; 4]),
    /// A line of this width through points.
    Line(f64, Vec<[f64; 2]>),
    /// A filled circle: its centre and radius.
    Dot([f64; 2], f64),
    /// Text on one line, safe to show; `at` is on its baseline.
    Words { at: [f64; 2], anchor: Anchor, size: f64, text: String },
}

/// The part of a text that its point marks.
#[derive(Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// Its name, and its RGB on a light and on a dark ground. Inks differ in lightness too, for printers without colour
/// and for colour-blind readers.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) struct Ink(&'static str, [u8; 3], [u8; 3]);

impl Ink {
    const TEXT: Ink = Ink("text", [0x1c, 0x1c, 0x1c], [0xe8, 0xe8, 0xe8]);
    /// Grid lines.
    const FAINT: Ink = Ink("faint", [0xb4, 0xb4, 0xb4], [0x5c, 0x5c, 0x5c]);
    const BATH: Ink = Ink("bath", [0xcf, 0xe2, 0xee], [0x30, 0x49, 0x5a]);
    /// Pouring and draining.
    const FLOW: Ink = Ink("flow", [0x7f, 0xa5, 0xbd], [0x6f, 0x97, 0xb0]);
    const MOTION: Ink = Ink("motion", [0x17, 0x3f, 0x5a], [0xd3, 0xec, 0xfb]);
    const TONIGHT: Ink = Ink("tonight", [0xb3, 0x26, 0x1e], [0xff, 0x8a, 0x75]);
    /// The empty tank, and drying.
    const EMPTY: Ink = Ink("empty", [0x8d, 0x8a, 0x84], [0x8d, 0x8a, 0x84]);
    const ALL: [Ink; 7] =
        [Ink::TEXT, Ink::FAINT, Ink::BATH, Ink::FLOW, Ink::MOTION, Ink::TONIGHT, Ink::EMPTY];

    /// Its RGB on paper, from 0 to 1.
    pub(super) fn on_paper(self) -> [f32; 3] {
        self.1.map(|part| f32::from(part) / 255.0)
    }
}

/// A drawing as a file of SVG 1.1. It has no script, loads nothing, and escapes all text.
fn document(drawing: &Drawing) -> String {
    let style = format!(
        "<style>\n.picture{{background:#ffffff}}\n@media screen and (prefers-color-scheme:dark){{\n\
         .picture{{background:#161616}}\n}}\n{}</style>\n",
        rules()
    );
    written(drawing, "xmlns=\"http://www.w3.org/2000/svg\" ", &style, 0.0)
}

/// The drawing without its caption, for a page whose style has these [`rules`].
pub(super) fn element(drawing: &Drawing) -> String {
    written(drawing, "", "", CAPTION_FOOT)
}

/// The style rules of the inks, for light and dark.
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

/// The drawing from the height `from` on.
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

/// A number with at most three places, which show a second even in a session of days.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}
