//! A drawing as SVG 1.1, alone or within a page. It has no script, loads nothing, and escapes all text.

use super::super::plain::plain;
use super::drawing::{Anchor, Drawing, INKS, Ink, Shape};

/// The background, light and dark.
const GROUND: [[u8; 3]; 2] = [[0xff, 0xff, 0xff], [0x16, 0x16, 0x16]];

/// The drawing as a document.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    let [light, dark] = GROUND.map(colour);
    let style = format!(
        "<style>\n.picture{{background:{light}}}\n@media screen and (prefers-color-scheme:dark){{\n\
         .picture{{background:{dark}}}\n}}\n{}</style>\n",
        rules()
    );
    written(drawing, "xmlns=\"http://www.w3.org/2000/svg\" ", &style, 0.0)
}

/// The drawing as an element of a page, whose style has these [`rules`]; without its caption.
pub(in crate::emit) fn element(drawing: &Drawing) -> String {
    written(drawing, "", "", drawing.caption_foot)
}

/// The style rules of the inks, for light and dark.
pub(in crate::emit) fn rules() -> String {
    let mut rules =
        String::from(".picture *{fill:currentColor}\n.picture polyline{fill:none;stroke:currentColor}\n");
    let rule = |class: &str, rgb| format!(".picture .{class}{{color:{}}}\n", colour(rgb));
    rules.extend(INKS.map(|(_, class, light, _)| rule(class, light)));
    rules.push_str("@media screen and (prefers-color-scheme:dark){\n");
    rules.extend(INKS.map(|(_, class, _, dark)| rule(class, dark)));
    rules + "}\n"
}

fn colour([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// The drawing from the height `from` on.
fn written(drawing: &Drawing, space: &str, style: &str, from: f64) -> String {
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
        Shape::Area { at: [x, y, width, height], ink } => {
            let numbers = [("x", *x), ("y", *y), ("width", *width), ("height", *height)];
            format!("<rect{}/>", attributes(*ink, &numbers))
        }
        Shape::Line { through, ink, thick } => {
            let points: Vec<String> =
                through.iter().map(|[x, y]| format!("{},{}", number(*x), number(*y))).collect();
            let (class, width) = (attributes(*ink, &[]), number(*thick));
            format!("<polyline{class} points=\"{}\" stroke-width=\"{width}\"/>", points.join(" "))
        }
        Shape::Dot { at: [x, y], radius, ink } => {
            format!("<circle{}/>", attributes(*ink, &[("cx", *x), ("cy", *y), ("r", *radius)]))
        }
        Shape::Words { at: [x, y], anchor, size, text, ink } => {
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let at = attributes(*ink, &[("x", *x), ("y", *y)]);
            let (size, text) = (number(*size), escaped(text));
            format!("<text{at} text-anchor=\"{anchor}\" font-size=\"{size}\">{text}</text>")
        }
    }
}

/// The class of an ink, and attributes with numbers.
fn attributes(ink: Ink, numbers: &[(&str, f64)]) -> String {
    let class = INKS.iter().find(|(own, ..)| *own == ink).map_or("text", |(_, class, ..)| class);
    let numbers: String =
        numbers.iter().map(|(name, value)| format!(" {name}=\"{}\"", number(*value))).collect();
    format!(" class=\"{class}\"{numbers}")
}

/// A number with at most three places, which show a second even in a session of days.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

/// Text between two tags. Characters that XML cannot hold become U+FFFD.
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
