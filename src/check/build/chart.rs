//! A development chart from its lines (R1).

use crate::model::{Chart, Point};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Matched, Reading, say};

/// The faults that charts tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("chart-of-one", "a chart that has not two points"),
    ("chart-temperature-twice", "one temperature twice in a chart"),
    ("chart-time-rises", "a chart in which a warmer bath takes longer"),
    ("chart-time-stands", "two neighbours in a chart with the same time"),
];

/// The chart of a `chart {` block; `None` if it could not be one.
pub(crate) fn chart(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Option<Chart> {
    let mut points: Vec<Point> = reading.each().filter_map(point).collect();
    if points.len() < 2 {
        faults.push(one_point(reading, &points));
        return None;
    }
    points.sort_by_key(|point| point.temperature);
    let before = faults.len();
    for (cold, warm) in points.iter().zip(points.iter().skip(1)) {
        let (later, earlier) =
            if cold.span > warm.span { (cold.span, warm.span) } else { (warm.span, cold.span) };
        if cold.temperature == warm.temperature {
            faults.push(
                Diagnostic::error(
                    "chart-temperature-twice",
                    later,
                    format!("{} stands here twice", cold.temperature),
                )
                .other(earlier, "the first")
                .help("keep the time that holds and take the other line out"),
            );
        } else if warm.time > cold.time {
            faults.push(rises(cold, warm));
        }
    }
    if faults.len() > before {
        return None;
    }
    for (cold, warm) in points.iter().zip(points.iter().skip(1)) {
        if warm.time == cold.time {
            let message = format!("{} and {} have the same time", cold.temperature, warm.temperature);
            faults.push(
                Diagnostic::warning("chart-time-stands", warm.span, message)
                    .other(cold.span, "the colder one")
                    .help("a warmer bath works faster: look whether a printed table was rounded, or misread"),
            );
        }
    }
    Some(Chart::new(points))
}

fn point(row: Matched<'_, say::Point>) -> Option<Point> {
    let (temperature, time) = row.get(say::Point::at).zip(row.get(say::Point::time))?;
    Some(Point { temperature, time, span: row.span })
}

fn one_point(reading: &Reading, points: &[Point]) -> Diagnostic {
    let span: Span = points.first().map_or(reading.span, |point| point.span);
    let fault = Diagnostic::error("chart-of-one", span, "a chart has at least two points");
    match points.first() {
        Some(point) => {
            let time = format!("time {} at {}", point.time, point.temperature);
            let words = format!("add a point, or write in its place: {time}");
            fault.help(words).choice(reading.extent, time)
        }
        None => fault.help("add points, one a line, such as: 20 C   10:00"),
    }
}

fn rises(cold: &Point, warm: &Point) -> Diagnostic {
    let message = format!(
        "warmer takes longer here: {} at {}, {} at {}",
        cold.time, cold.temperature, warm.time, warm.temperature
    );
    Diagnostic::error("chart-time-rises", warm.span, message)
        .other(cold.span, "the colder one")
        .help("a time falls as the bath gets warmer: look which of the two was misread")
}
