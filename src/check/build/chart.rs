//! A development chart (R1).

use crate::model::{Chart, Point};
use crate::source::Diagnostic;
use crate::vocabulary::{Lines as _, Matched, Reading, say};

/// The chart of a `chart {` block; `None` if it has errors.
pub(crate) fn chart(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Option<Chart> {
    let mut points: Vec<Point> = reading.each().filter_map(point).collect();
    if points.len() < 2 {
        faults.push(one_point(reading, points.first()));
        return None;
    }
    points.sort_by_key(|point| point.temperature);
    let pairs = || points.iter().zip(points.iter().skip(1));
    let before = faults.len();
    for (cold, warm) in pairs() {
        if cold.temperature == warm.temperature {
            let (first, second) = (cold.span.min(warm.span), cold.span.max(warm.span));
            let message = format!("{} occurs twice in this chart", cold.temperature);
            faults.push(
                Diagnostic::error("chart-temperature-twice", second, message)
                    .other(first, "the first")
                    .help("keep the line with the right time and remove the other"),
            );
        } else if warm.time > cold.time {
            let message = format!(
                "the time rises with the temperature: {} at {}, {} at {}",
                cold.time, cold.temperature, warm.time, warm.temperature
            );
            faults.push(
                Diagnostic::error("chart-time-rises", warm.span, message)
                    .other(cold.span, "the colder point")
                    .help("a warmer bath works faster: check both points against the source"),
            );
        }
    }
    if faults.len() > before {
        return None;
    }
    for (cold, warm) in pairs().filter(|(cold, warm)| warm.time == cold.time) {
        let message = format!("{} and {} have the same time", cold.temperature, warm.temperature);
        faults.push(
            Diagnostic::warning("chart-time-stands", warm.span, message)
                .other(cold.span, "the colder point")
                .help("a warmer bath works faster: check whether a printed table was rounded or misread"),
        );
    }
    Some(Chart::new(points))
}

fn point(row: Matched<'_, say::Point>) -> Option<Point> {
    let (temperature, time) = row.get(say::Point::at).zip(row.get(say::Point::time))?;
    Some(Point { temperature, time, span: row.span })
}

fn one_point(reading: &Reading, point: Option<&Point>) -> Diagnostic {
    let span = point.map_or(reading.span, |point| point.span);
    let fault = Diagnostic::error("chart-of-one", span, "a chart needs at least two points");
    let Some(point) = point else { return fault.help("add points, one a line, such as: 20 C   10:00") };
    let time = format!("time {} at {}", point.time, point.temperature);
    fault.help(format!("add a point, or replace the chart by: {time}")).choice(reading.extent, time)
}
