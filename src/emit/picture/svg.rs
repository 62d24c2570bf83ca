//! A drawing as SVG 1.1, alone or within a page: no script, nothing from elsewhere, every word of a recipe a text
//! and never a tag. Colours follow the reader's light or dark; the page that holds it settles how large it is.

use std::fmt::Write as _;

use super::super::plain::plain;
use super::drawing::{Anchor, Drawing, Shape};
use super::ink::{INKS, Ink};

/// The ground, light and dark.
const GROUND: [[u8; 3]; 2] = [[0xff, 0xff, 0xff], [0x16, 0x16, 0x16]];

/// The drawing as a document of its own, with a line ending behind it.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    let [light, dark] = GROUND.map(colour);
    let style = format!(
        "<style>\n.picture{{background:{light}}}\n@media screen and (prefers-color-scheme:dark){{\n\
         .picture{{background:{dark}}}\n}}\n{}</style>\n",
        rules()
    );
    written(drawing, ("xmlns=\"http://www.w3.org/2000/svg\" ", &style), 0.0)
}

/// The drawing as an element of a page that says above it whose it is, and whose own style has these [`rules`].
pub(in crate::emit) fn element(drawing: &Drawing) -> String {
    written(drawing, ("", ""), drawing.caption_foot)
}

/// What a style says of the inks; the ground is that of the page.
pub(in crate::emit) fn rules() -> String {
    let mut rules =
        String::from(".picture *{fill:currentColor}\n.picture polyline{fill:none;stroke:currentColor}\n");
    for (_, class, light, _) in INKS {
        let _ = writeln!(rules, ".picture .{class}{{color:{}}}", colour(light));
    }
    rules.push_str("@media screen and (prefers-color-scheme:dark){\n");
    for (_, class, _, dark) in INKS {
        let _ = writeln!(rules, ".picture .{class}{{color:{}}}", colour(dark));
    }
    rules.push_str("}\n");
    rules
}

fn colour([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// From so far down on; the drawing's name begins the ids of its title and its description.
fn written(drawing: &Drawing, (space, style): (&str, &str), from: f64) -> String {
    let (name, width) = (drawing.name, number(drawing.width));
    let (top, height) = (number(from), number(drawing.height - from));
    let mut out = format!(
        "<svg {space}viewBox=\"0 {top} {width} {height}\" role=\"img\" \
         aria-labelledby=\"{name}-title {name}-description\" class=\"picture\" font-family=\"sans-serif\">\n\
         <title id=\"{name}-title\">{}</title>\n<desc id=\"{name}-description\">{}</desc>\n{style}",
        escaped(&drawing.title),
        escaped(&drawing.description),
    );
    let caption = (from < drawing.caption_foot).then_some(&drawing.caption);
    for each in caption.into_iter().chain(&drawing.shapes) {
        out.push_str(&shape(each));
        out.push('\n');
    }
    out.push_str("</svg>\n");
    out
}

fn shape(shape: &Shape) -> String {
    match shape {
        Shape::Area { at: [x, y, width, height], ink } => format!(
            "<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
            class(*ink),
            number(*x),
            number(*y),
            number(*width),
            number(*height),
        ),
        Shape::Line { through, ink, thick } => {
            let points: Vec<String> =
                through.iter().map(|[x, y]| format!("{},{}", number(*x), number(*y))).collect();
            format!(
                "<polyline class=\"{}\" points=\"{}\" stroke-width=\"{}\"/>",
                class(*ink),
                points.join(" "),
                number(*thick),
            )
        }
        Shape::Dot { at: [x, y], radius, ink } => format!(
            "<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            class(*ink),
            number(*x),
            number(*y),
            number(*radius),
        ),
        Shape::Words { at: [x, y], anchor, size, text, ink } => format!(
            "<text class=\"{}\" x=\"{}\" y=\"{}\" text-anchor=\"{}\" font-size=\"{}\">{}</text>",
            class(*ink),
            number(*x),
            number(*y),
            match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            },
            number(*size),
            escaped(text),
        ),
    }
}

fn class(ink: Ink) -> &'static str {
    INKS.iter().find(|(own, ..)| *own == ink).map_or("text", |(_, class, ..)| class)
}

/// To a thousandth of a unit, without noise: a second of an evening of days stays at its place.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// Text for between two tags. What XML has no way to hold becomes U+FFFD.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in plain(text).chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\u{fffe}' | '\u{ffff}' => out.push(char::REPLACEMENT_CHARACTER),
            letter => out.push(letter),
        }
    }
    out
}
