//! Builds recipes, with their steps and charts, from their own and inherited statements.

use std::cmp::Ordering;
use std::sync::Arc;

use super::super::error;
use super::super::merge::{Merged, MergedStep};
use super::baths::Earlier;
use super::partial::{Partial, Unknown, any_duration};
use super::{Builder, named};
use crate::model::{
    Band, Bath, Chart, Clock, Deprecated, Duration, Film, Lighting, Material, Point, Recipe, Scheme, Stated,
    Step, StepKind, Tested,
};
use crate::source::{Diagnostic, Level, Sorted as _, Span};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

#[derive(Clone, Copy)]
struct OfRecipe<'a> {
    film: Option<&'a Film>,
    /// The recipe's line that names a film, or that states by `film any` that the recipe's times hold for every film.
    film_row: Option<Matched<'a, say::UsedFilm>>,
    band: Option<Stated<Band>>,
}

impl Builder<'_> {
    pub(crate) fn recipe(&mut self, merged: &Merged<'_>) -> Option<Recipe> {
        let before = self.faults.len();
        let (name, title) = named(merged.own)?;
        let film_row = merged.one::<say::UsedFilm>();
        let (any, used) = match film_row.filter(|row| row.sound) {
            Some(row) if row.has(say::UsedFilm::any) => (Material::parse(row.row.word), None),
            row => (None, row),
        };
        let film = used.map(|row| self.used_film(row));
        let band = merged.one().and_then(|row| self.between(row));
        let known_film = film.as_ref().and_then(|film| film.as_ref()).map(|film| &*film.value);
        let of_recipe = OfRecipe { film: known_film, film_row, band };
        let mut steps: Vec<(Step, Option<Unknown>)> = Vec::new();
        for own in &merged.steps {
            let step = self.step(own, (&merged.steps, &steps), of_recipe);
            steps.push(step);
        }
        self.becomes_another(&steps);
        let is_swap_idle = self.idle_swaps(merged, &steps);
        let (steps, unknown): (Vec<Step>, Vec<Option<Unknown>>) = steps.into_iter().unzip();
        let deprecated = merged.one_sound().and_then(|row| self.deprecated(row));
        let repeat = merged.one_sound::<say::Repeat>().and_then(|row| self.repeat(row, &merged.steps));
        if merged.sound && merged.steps.is_empty() {
            self.error(
                "missing-statement",
                merged.own.span,
                "a recipe needs at least one step",
                "add a step such as: develop {, or derive the recipe from one that has steps",
            );
        }
        let knows_film = !matches!(film, Some(None));
        let is_sound =
            self.no_error_since(before) && merged.sound && knows_film && unknown.iter().all(Option::is_none);
        let recipe = Recipe {
            name,
            title,
            file: merged.own.span.file,
            span: merged.own.span,
            extent: merged.own.extent,
            parent: merged.parent.clone(),
            film: film.flatten(),
            any,
            lighting: merged.one_sound().and_then(begins_in),
            tested: merged.each().filter_map(tested).collect(),
            deprecated,
            index: merged.stated(say::ExposedAt::index),
            steps,
            repeat,
            notes: merged.notes(),
            cautions: merged.cautions(),
        };
        if is_sound {
            return Some(recipe);
        }
        // If a `swap` line changes no step, it is unknown which step the author means, and so are the baths of the
        // steps.
        let knows_steps = merged.knows_steps && !is_swap_idle;
        let knows_lines = merged.knows_lines && knows_film;
        self.partial.push(Partial { recipe, unknown, knows_lines, knows_steps });
        None
    }

    /// The film, paper or plate that a recipe is for; `None` after an error. The recipe's line must begin with the word
    /// of the declaration: `film`, `paper` or `plate`.
    fn used_film(&mut self, row: Matched<'_, say::UsedFilm>) -> Option<Stated<Arc<Film>>> {
        let (name, span) = row.said(say::UsedFilm::film)?;
        let key = self.scopes.find_called((Declared::Film, row.row.word), (name, span), &mut self.faults)?;
        let film = self.films.get(&key).cloned()?;
        if film.material.word() == row.row.word {
            return Some(Stated::new(film, row.span));
        }
        let (is, stated) = (film.material.word(), row.row.word);
        let message = format!("'{}' is a {is}, not a {stated}", film.name);
        let fault = error("another-material", row.span, message, format!("write: {is} {name}"));
        let fault = fault.other(film.span, "its declaration");
        self.report(fault.choice(row.span, format!("{is} {name}")));
        None
    }

    fn deprecated(&mut self, row: Matched<'_, say::Deprecated>) -> Option<Stated<Arc<Deprecated>>> {
        let instead = row.said(say::Deprecated::instead);
        if let Some(name) = instead {
            self.scopes.find(Declared::Recipe, name, &mut self.faults)?;
        }
        let instead = instead.map(|(name, _)| name.to_owned());
        Some(Stated::new(Arc::new(Deprecated { reason: row.reason()?.to_owned(), instead }), row.span))
    }

    fn between(&mut self, row: Matched<'_, say::Between>) -> Option<Stated<Band>> {
        let (low, high) = row.low().zip(row.high())?;
        if low > high {
            let fault = Diagnostic::error(
                "band-upside-down",
                row.span,
                format!("the colder temperature comes first, and {low} is warmer than {high}"),
            );
            self.report(fault.write(format!("between {high} and {low}")));
            return None;
        }
        Some(Stated::new(Band::Between(low, high), row.span))
    }

    /// Builds a step. The second value says what is unknown of a step with errors; it is `None` for a step without
    /// errors.
    fn step(
        &mut self,
        own: &MergedStep<'_>,
        earlier: Earlier<'_>,
        recipe: OfRecipe<'_>,
    ) -> (Step, Option<Unknown>) {
        let before = self.faults.len();
        let in_row = own.one::<say::In>();
        let bath = in_row.filter(|row| row.sound).and_then(|row| self.step_bath(row, earlier));
        let bath = bath.and_then(|bath| self.swapped(bath, &own.swapped_by));
        let with = own.one::<say::With>();
        let (bath, added) = self.with_addition(own, bath);
        if in_row.is_none() && own.sound && needs_bath(own.id.kind) {
            self.report(missing_bath(own));
        }
        let duration = self.duration(own, recipe.film_row);
        let agitate = own.one::<say::Agitate>();
        let agitation = agitate.filter(|row| row.sound).and_then(|row| self.agitated(row));
        let within = own.stated(say::Within::difference);
        let band = within
            .map(|within| Stated::new(Band::Within(within.value), within.span))
            .or_else(|| own.one_sound().and_then(|row| self.between(row)))
            .or_else(|| recipe.band.filter(|_| own.id.kind.is_wet()));
        self.tolerance_has_temperature(own, duration.as_ref().map(|duration| &duration.value));
        self.at_in_band(own, band, bath.as_ref());
        if let Some(duration) = &duration {
            self.missing_band(own, duration);
            if matches!(duration.value, Duration::Clearing { .. }) && own.sound {
                self.unknown_clearing(own, duration.span, bath.as_ref(), recipe.film);
            }
        }
        let unread = own.rows.iter().any(|row| !row.sound || !row.block_sound);
        let lost = with.is_some() != added
            || in_row.is_some() != bath.is_some()
            || agitate.is_some() != agitation.is_some();
        let is_read = own.sound && !unread && !lost;
        let is_sound = is_read && self.no_error_since(before) && duration.is_some();
        let lacks_bath = bath.is_none() && (in_row.is_some() || !own.known || needs_bath(own.id.kind));
        if lacks_bath && let Some(name) = in_row.and_then(|row| row.said(say::In::solution)) {
            let key = self.scopes.known(Declared::Solution, name.0, name.1.file);
            let solution = key.and_then(|key| self.solutions.get(&key));
            self.unclear.extend(solution.map(|solution| solution.span));
        }
        let mut lights = own.each::<say::Light>();
        let light = lights.find_map(|row| Some(Stated::new(row.light()?.to_owned(), row.span)));
        let step = Step {
            kind: own.id.kind,
            name: own.id.name.map(str::to_owned),
            round: None,
            span: own.span,
            bath,
            rests_on: self.rests_on(own),
            duration: duration.unwrap_or_else(|| any_duration(own.span)),
            band,
            at: own.stated(say::At::temperature),
            agitation,
            handling: own.stated(say::Handling::time),
            lighting: own.each::<say::Light>().find_map(|row| lighting(row.lighting()?, row.span)),
            light,
            fill: own.stated(say::Fill::time),
            drain: own.stated(say::Drain::time),
            clock: own.stated(say::Clock::from).unwrap_or(Stated::new(Clock::FromPour, own.span)),
            notes: own.notes(),
            cautions: own.cautions(),
        };
        (step, (!is_sound).then_some(Unknown { bath: lacks_bath }))
    }

    /// The bath of a step together with what the step's `with` line adds to it. The flag is true if a solution was
    /// added.
    fn with_addition(&mut self, own: &MergedStep<'_>, bath: Option<Bath>) -> (Option<Bath>, bool) {
        let with = own.one::<say::With>().filter(|row| row.sound);
        let Some(added) = with.and_then(|row| self.added(row, own, bath.as_ref())) else {
            return (bath, false);
        };
        (bath.map(|bath| Bath { added: Some(added), ..bath }), true)
    }

    fn agitated(&mut self, row: Matched<'_, say::Agitate>) -> Option<Stated<Scheme>> {
        let clauses = row.all(say::Agitate::clause).map(|(clause, _)| clause);
        self.named_or_stated(row.said(say::Agitate::scheme), clauses.collect(), row.span)
    }

    /// The agitation scheme with this name or, without a name, the scheme that the clauses of a step state. `None`
    /// after an error.
    pub(super) fn named_or_stated(
        &mut self,
        name: Option<(&str, Span)>,
        clauses: Vec<&Reading>,
        span: Span,
    ) -> Option<Stated<Scheme>> {
        let scheme = match name {
            Some(name) => Arc::unwrap_or_clone(self.find(Declared::Agitation, name, |it| &it.schemes)?),
            None => self.scheme(&clauses, span)?,
        };
        Some(Stated::new(scheme, span))
    }

    /// Reports a time in multiples of the clearing time (R11 in the reference) if the film states no clearing time in
    /// the step's bath, or if the step is in no solution.
    fn unknown_clearing(
        &mut self,
        own: &MergedStep<'_>,
        span: Span,
        bath: Option<&Bath>,
        film: Option<&Film>,
    ) {
        let Some((bath, solution)) = bath.and_then(|bath| Some((bath, bath.solution.as_ref()?))) else {
            // If the step lacks a bath that it needs, that is reported as `missing-bath`.
            let in_water =
                own.one::<say::In>().map_or(!needs_bath(own.id.kind), |row| row.has(say::In::water));
            if in_water {
                self.error(
                    "clearing-without-fixer",
                    span,
                    "a multiple of the clearing time needs a fixer, and this step names no solution",
                    "name the bath, such as: in rapid-fix 1+4, reused; or write a plain time",
                );
            }
            return;
        };
        if let Some(film) = film.filter(|film| !self.clears_tonight && film.clearing_in(bath).is_none()) {
            let (bath, word) = (format!("{} {}", solution.name, bath.dilution), film.material.word());
            let fault = error(
                "no-clearing-time",
                span,
                format!("'{}' has no clearing time in {bath}", film.name),
                format!("test a piece of it and add your time to the {word}: clears 60 s in {bath} at 20 C"),
            );
            let fault = fault.help(
                "or, for tonight only, time a leader in tonight's fixer and give that time: --clears 1:20",
            );
            self.report(fault.other(film.span, format!("the {word}")));
        }
    }
}

fn tested(row: Matched<'_, say::Tested>) -> Option<Tested> {
    Some(Tested { date: row.date()?, text: row.text().map(str::to_owned) })
}

fn missing_bath(own: &MergedStep<'_>) -> Diagnostic {
    let message = format!("the step {} needs a bath", own.id);
    let help = "add a line such as: in citric-stop 1+19, reused; or: in water";
    error("missing-bath", own.span, message, help)
}

fn begins_in(row: Matched<'_, say::BeginsIn>) -> Option<Stated<Lighting>> {
    lighting(row.lighting()?, row.span)
}

fn lighting(clause: &Reading, span: Span) -> Option<Stated<Lighting>> {
    let lighting = match clause.view::<say::Safelight>() {
        Some(safelight) => Lighting::Safelight(safelight.lamp()?.to_owned()),
        None if clause.is::<say::Darkness>() => Lighting::None,
        None => Lighting::Room,
    };
    Some(Stated::new(lighting, span))
}

pub(super) fn needs_bath(kind: StepKind) -> bool {
    use StepKind::{Bleach, BleachFix, Clear, Coat, Develop, Fix, Rinse, Stop, Tone};
    matches!(kind, Develop | Stop | Fix | Bleach | BleachFix | Clear | Tone | Coat | Rinse)
}

/// Builds the chart of a `chart { … }` block (R1 in the reference); `None` after errors.
pub(crate) fn chart(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Option<Chart> {
    let mut points: Vec<Point> = reading.each().filter_map(point).collect();
    if points.len() < 2 {
        faults.push(one_point(reading, points.first()));
        return None;
    }
    points.order_by_key(|point| point.temperature);
    let pairs = points.iter().zip(points.iter().skip(1));
    let found = pairs.filter_map(|(cold, warm)| implausible(cold, warm));
    let (errors, warnings): (Vec<_>, Vec<_>) = found.partition(|fault| fault.level == Level::Error);
    let sound = errors.is_empty();
    faults.extend(if sound { warnings } else { errors });
    sound.then(|| Chart::new(points))
}

/// The error or warning about two neighbouring points of a chart; `None` if the warmer point has the shorter time.
fn implausible(cold: &Point, warm: &Point) -> Option<Diagnostic> {
    if cold.temperature == warm.temperature {
        let fault = error(
            "chart-temperature-twice",
            cold.span.max(warm.span),
            format!("this chart has two times for {}", cold.temperature),
            "keep the line with the right time and remove the other",
        );
        return Some(fault.other(cold.span.min(warm.span), "the first"));
    }
    let fault = match warm.time.cmp(&cold.time) {
        Ordering::Less => return None,
        Ordering::Equal => Diagnostic::warning(
            "chart-time-stands",
            warm.span,
            format!("{} and {} have the same time", cold.temperature, warm.temperature),
        )
        .help("a warmer bath works faster: check whether a printed table was rounded or misread"),
        Ordering::Greater => error(
            "chart-time-rises",
            warm.span,
            format!(
                "the time rises with the temperature: {} at {}, {} at {}",
                cold.time, cold.temperature, warm.time, warm.temperature
            ),
            "a warmer bath works faster: check both points against the source",
        ),
    };
    Some(fault.other(cold.span, "the colder point"))
}

fn point(row: Matched<'_, say::Point>) -> Option<Point> {
    let (temperature, time) = row.at().zip(row.time())?;
    Some(Point { temperature, time, span: row.span })
}

fn one_point(reading: &Reading, point: Option<&Point>) -> Diagnostic {
    let span = point.map_or(reading.span, |point| point.span);
    let fault = Diagnostic::error("chart-of-one", span, "a chart needs at least two points");
    let Some(point) = point else { return fault.help("add points, one a line, such as: 20 C   10:00") };
    let time = format!("time {} at {}", point.time, point.temperature);
    fault.help(format!("add a point, or replace the chart by: {time}")).choice(reading.extent, time)
}
