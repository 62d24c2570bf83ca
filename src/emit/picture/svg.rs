//! A drawing as SVG 1.1, alone or within a page. It has no script, loads nothing, and escapes all text.

use super::super::plain::{escaped, joined};
use super::{Anchor, CAPTION_FOOT, Drawing, Ink, Mark, Shape, WIDTH};

pub(super) fn document(drawing: &Drawing) -> String {
    let style = format!(
        "<style>\n.picture{{background:#ffffff}}\n@media screen and (prefers-color-scheme:dark){{\n\
         .picture{{background:#161616}}\n}}\n{}</style>\n",
        rules()
    );
    written(drawing, "xmlns=\"http://www.w3.org/2000/svg\" ", &style, 0.0)
}

/// The drawing without its caption, for a page whose style has these [`rules`].
pub(in crate::emit) fn element(drawing: &Drawing) -> String {
    written(drawing, "", "", CAPTION_FOOT)
}

/// The style rules of the inks, for light and dark.
pub(in crate::emit) fn rules() -> String {
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
