//! The use of the bottles of a darkroom over time: how much film each has treated after each session, against its
//! capacity.

use super::{Anchor, BODY, Drawing, Ink, MARGIN, Mark, Shape, WIDTH, caption, line, stacked, words};
use crate::emit::document::Figure;
use crate::emit::phrase::film;
use crate::emit::plain::{joined, plain};
use crate::journal::{Standing, usages};
use crate::model::{Darkroom, Date};

const TOP: f64 = 26.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 308.0;
/// The distance from the top to the plot, with room for a line of text.
const HEAD: f64 = 22.0;
const HEIGHT: f64 = 56.0;

/// A picture for each bottle in `all` that was used: how much film it has treated.
pub fn bath_uses(darkroom: &Darkroom, all: &[Standing<'_>]) -> Vec<Figure> {
    let usages = usages(darkroom);
    let one = |standing: &Standing<'_>| {
        let own = usages.iter().filter(|usage| usage.standing.bath.span == standing.bath.span);
        let own = own.filter(|usage| usage.standing.on <= standing.on);
        let treated: Vec<(Date, i64)> =
            own.map(|usage| (usage.standing.on, usage.standing.treated)).collect();
        (!treated.is_empty()).then(|| Figure(drawing(standing, &treated)))
    };
    all.iter().filter_map(one).collect()
}

/// The pictures of [`bath_uses`] as one SVG; `None` if no bottle was used.
pub fn uses_picture(figures: Vec<Figure>, on: Date) -> Option<String> {
    stacked(Some(format!("The use of the baths by {on}")), figures)
}

/// The picture of a bottle. `treated` has the day of each session, and the area of film that the bottle had treated by
/// then, in units of (1/300 mm)².
fn drawing(standing: &Standing<'_>, treated: &[(Date, i64)]) -> Drawing {
    let name = plain(&standing.bath.name);
    let whole = standing.capacity.map(|capacity| capacity.area());
    let of =
        whole.map_or_else(|| "capacity not stated".to_owned(), |whole| format!("of {} rolls", film(whole)));
    let used = format!("{name}: {} {of}", film(standing.treated));
    let plot = Plot {
        mixed: standing.bath.mixed.value,
        on: standing.on,
        most: whole.unwrap_or(0).max(standing.treated).max(1),
    };
    let mut marks = vec![line(TOP + BODY, &used)];
    marks.extend(plot.axes(whole));
    marks.extend(plot.steps(treated));
    let said = treated.iter().map(|(date, film)| format!("{} by {date}", self::film(*film)));
    Drawing {
        name: "use".to_owned(),
        height: TOP + HEAD + HEIGHT + 24.0,
        title: format!("{name}: rolls treated since {}", plot.mixed),
        description: format!("{used} on {}. {}.", plot.on, joined(said, ", ")),
        caption: caption(&format!("Baths on {}", plot.on)),
        marks,
    }
}

struct Plot {
    mixed: Date,
    on: Date,
    /// The area of film at the upper end of the axis, in units of (1/300 mm)².
    most: i64,
}

impl Plot {
    fn foot() -> f64 {
        TOP + HEAD + HEIGHT
    }

    fn x(&self, date: Date) -> f64 {
        let share = |days: i64| Ratio(days.max(0), self.mixed.days_until(self.on).max(1)).real();
        LEFT + (RIGHT - LEFT) * share(self.mixed.days_until(date))
    }

    fn y(&self, film: i64) -> f64 {
        Plot::foot() - HEIGHT * Ratio(film, self.most).real()
    }

    fn axes(&self, capacity: Option<i64>) -> Vec<Mark> {
        let foot = Plot::foot();
        let number = |film: i64| words([LEFT - 5.0, self.y(film) + 3.5], Anchor::End, self::film(film));
        let mut marks = vec![
            (Ink::TEXT, Shape::Line(0.8, vec![[LEFT, foot - HEIGHT], [LEFT, foot], [RIGHT, foot]])),
            number(0),
            words([LEFT, foot + 14.0], Anchor::Start, self.mixed.to_string()),
            words([WIDTH - MARGIN, foot + 14.0], Anchor::End, self.on.to_string()),
        ];
        if let Some(whole) = capacity {
            marks.push((Ink::TONIGHT, Shape::Line(1.5, vec![[LEFT, self.y(whole)], [RIGHT, self.y(whole)]])));
            marks.push(number(whole));
        }
        marks
    }

    /// The film that the bottle has treated: a line that rises at each session, with a dot at each rise.
    fn steps(&self, treated: &[(Date, i64)]) -> Vec<Mark> {
        let mut through = vec![[LEFT, Plot::foot()]];
        let (mut before, mut dots) = (Plot::foot(), Vec::new());
        for (date, film) in treated {
            let (x, y) = (self.x(*date), self.y(*film));
            through.extend([[x, before], [x, y]]);
            dots.push((Ink::MOTION, Shape::Dot([x, y], 3.0)));
            before = y;
        }
        through.push([RIGHT, before]);
        [(Ink::MOTION, Shape::Line(2.0, through))].into_iter().chain(dots).collect()
    }
}

struct Ratio(i64, i64);

impl Ratio {
    #[expect(clippy::cast_precision_loss, reason = "days and rolls are small numbers")]
    fn real(&self) -> f64 {
        self.0 as f64 / self.1 as f64
    }
}
