//! A drawing as SVG 1.1 that stands alone: no script, nothing from elsewhere, every word of a recipe a text
//! and never a tag. Colours follow the reader's light or dark; the page that holds it settles how large it is.

use std::fmt::Write as _;

use super::super::plain::plain;
use super::drawing::{Anchor, Drawing, Ink, Shape};

/// Each ink's class, and its colour on light and on dark ground.
const INKS: [(Ink, &str, &str, &str); 7] = [
    (Ink::Text, "text", "#1c1c1c", "#e8e8e8"),
    (Ink::Faint, "faint", "#b4b4b4", "#5c5c5c"),
    (Ink::Bath, "bath", "#cfe2ee", "#30495a"),
    (Ink::Flow, "flow", "#7fa5bd", "#6f97b0"),
    (Ink::Motion, "motion", "#173f5a", "#d3ecfb"),
    (Ink::Tonight, "tonight", "#b3261e", "#ff8a75"),
    (Ink::Empty, "empty", "#8d8a84", "#8d8a84"),
];
/// The ground, light and dark.
const GROUND: [&str; 2] = ["#ffffff", "#161616"];

/// The drawing as a document of its own, with a line ending behind it. `name` tells it apart from other
/// drawings on one page: it begins the ids of its title and its description.
#[must_use]
pub fn svg(drawing: &Drawing, name: &'static str) -> String {
    let (width, height) = (number(drawing.width), number(drawing.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" role=\"img\" \
         aria-labelledby=\"{name}-title {name}-description\" class=\"wetside\" font-family=\"sans-serif\">\n\
         <title id=\"{name}-title\">{}</title>\n<desc id=\"{name}-description\">{}</desc>\n<style>\n{}</style>\n",
        escaped(&drawing.title),
        escaped(&drawing.description),
        style(),
    );
    for each in &drawing.shapes {
        out.push_str(&shape(each));
        out.push('\n');
    }
    out.push_str("</svg>\n");
    out
}

fn style() -> String {
    let [light, dark] = GROUND;
    let mut rules = format!(".wetside{{background:{light}}}\n");
    for (_, class, light, _) in INKS {
        let _ = writeln!(rules, ".wetside .{class}{{color:{light}}}");
    }
    let _ = writeln!(rules, "@media (prefers-color-scheme:dark){{\n.wetside{{background:{dark}}}");
    for (_, class, _, dark) in INKS {
        let _ = writeln!(rules, ".wetside .{class}{{color:{dark}}}");
    }
    rules.push_str("}\n");
    rules
}

fn shape(shape: &Shape) -> String {
    match shape {
        Shape::Area { at: [x, y, width, height], ink } => format!(
            "<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"currentColor\"/>",
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
                "<polyline class=\"{}\" points=\"{}\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"{}\"/>",
                class(*ink),
                points.join(" "),
                number(*thick),
            )
        }
        Shape::Dot { at: [x, y], radius, ink } => format!(
            "<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"currentColor\"/>",
            class(*ink),
            number(*x),
            number(*y),
            number(*radius),
        ),
        Shape::Words { at: [x, y], anchor, size, text, ink } => format!(
            "<text class=\"{}\" x=\"{}\" y=\"{}\" text-anchor=\"{}\" font-size=\"{}\" fill=\"currentColor\">{}</text>",
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
