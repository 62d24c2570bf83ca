//! A step, from its own statements and those it inherits.

use super::super::merge::MergedStep;
use super::{Builder, chart};
use crate::model::{
    Band, Bath, Change, Clock, Dilution, Duration, Film, Scheme, Stated, Step, StepKind, Use,
};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Declared, Lines as _, Matched, say};

/// The most changes of water in a wash.
const CHANGES_MAX: usize = 50;

/// Steps that need a bath.
const IN_SOLUTION: &[StepKind] = &[
    StepKind::Develop,
    StepKind::Stop,
    StepKind::Fix,
    StepKind::Bleach,
    StepKind::BleachFix,
    StepKind::Clear,
    StepKind::Tone,
    StepKind::Rinse,
];

impl Builder<'_> {
    pub(super) fn step(
        &mut self,
        own: &MergedStep<'_>,
        film: Option<&Film>,
        recipe_band: Option<Stated<Band>>,
    ) -> Option<Step> {
        let before = self.faults.len();
        let in_row = own.one::<say::In>();
        let bath = in_row.filter(|row| row.sound).and_then(|row| self.step_bath(row));
        if in_row.is_none() && own.sound && IN_SOLUTION.contains(&own.kind) {
            let message = format!("the step {} needs a bath", own.title());
            self.report(
                Diagnostic::error("missing-bath", own.span, message)
                    .help("add a line such as: in citric-stop 1+19, reused; or: in water"),
            );
        }
        let duration = self.duration(own);
        let agitate = own.one::<say::Agitate>();
        let agitation = agitate.filter(|row| row.sound).and_then(|row| self.agitated(row));
        let band = self.own_band(own).or_else(|| recipe_band.filter(|_| own.kind.is_wet()));
        self.faults.extend(within_what(own));
        self.at_in_band(own, band);
        if let Some(duration) = &duration {
            self.faults.extend(missing_band(own, duration));
            self.faults.extend(unknown_clearing(own, duration, bath.as_ref(), film));
        }
        let unread = own.rows.iter().any(|row| !row.sound || !row.block_sound);
        let lost = in_row.is_some() != bath.is_some() || agitate.is_some() != agitation.is_some();
        if !self.no_error_since(before) || unread || lost {
            return None;
        }
        let light_safe = own.each::<say::Light>().find(|row| row.has(say::Light::safe));
        let mut lights = own.each::<say::Light>();
        let light =
            lights.find_map(|row| Some(Stated::new(row.get(say::Light::light)?.to_owned(), row.span)));
        Some(Step {
            kind: own.kind,
            name: own.name.clone(),
            span: own.span,
            bath,
            duration: duration?,
            band,
            at: own.stated(say::At::temperature),
            agitation,
            handling: own.stated(say::Handling::time),
            light_safe: light_safe.map(|row| row.span),
            light,
            fill: own.stated(say::Fill::time),
            drain: own.stated(say::Drain::time),
            clock: own.stated(say::Clock::from).unwrap_or(Stated::new(Clock::FromPour, own.span)),
            notes: own.texts(say::Note::text),
            cautions: own.texts(say::Caution::text),
        })
    }

    fn step_bath(&mut self, row: Matched<'_, say::In>) -> Option<Bath> {
        let fate = row.get(say::In::fate);
        let Some(name) = row.said(say::In::solution) else {
            if matches!(fate, Some(Use::Reused | Use::Replenished)) {
                self.report(
                    Diagnostic::error("water-is-kept", row.span, "plain water is not reused")
                        .help("write: in water")
                        .choice(row.span, "in water"),
                );
            }
            return Some(Bath { solution: None, dilution: Dilution::stock(), fate: None, span: row.span });
        };
        let solution = self.find_solution(name)?;
        let undiluted = || Dilution { parts: vec![1; solution.bottles()], water: 0 };
        let dilution = row.get(say::In::dilution).cloned().unwrap_or_else(undiluted);
        self.parts_fit(&solution, &dilution, row.place(say::In::dilution))?;
        Some(Bath { solution: Some(solution), dilution, fate, span: row.span })
    }

    fn duration(&mut self, own: &MergedStep<'_>) -> Option<Stated<Duration>> {
        let Some(row) = own.time_row() else {
            self.faults.extend(own.sound.then(|| missing_time(own)));
            return None;
        };
        if !row.sound || !row.block_sound {
            return None;
        }
        let value = if row.is::<say::Chart>() {
            Duration::Chart(chart::chart(row, &mut self.faults)?)
        } else if let Some(fills) = row.view::<say::Fills>() {
            let counts = fills.all(say::Fills::inversions);
            Duration::Changes(counts.map(|(count, _)| Change::Inversions(count)).collect())
        } else if let Some(soak) = row.view::<say::Soak>() {
            let (time, count) = soak.get(say::Soak::time).zip(soak.get(say::Soak::changes))?;
            if count as usize > CHANGES_MAX {
                let message = "a wash has at most 50 changes of water";
                self.report(
                    Diagnostic::error("too-many-changes", row.span, message)
                        .help("use fewer and longer ones, or running water: flow 2 l/min, with a time"),
                );
                return None;
            }
            Duration::Changes(vec![Change::Soak(time); count as usize])
        } else {
            self.timed(own, row.view()?)?
        };
        Some(Stated::new(value, row.span))
    }

    fn timed(&mut self, own: &MergedStep<'_>, row: Matched<'_, say::Time>) -> Option<Duration> {
        if let Some(times) = row.get(say::Time::times) {
            return Some(Duration::Clearing { times, at_least: row.get(say::Time::least) });
        }
        let time = row.get(say::Time::time)?;
        if !row.has(say::Time::side) {
            return Some(match own.stated(say::Flow::flow) {
                Some(flow) => Duration::Flow { flow: flow.value, time },
                None => Duration::Plain { time, at: row.get(say::Time::at) },
            });
        }
        if own.kind == StepKind::Expose && own.one::<say::In>().is_none() {
            return Some(Duration::EachSide(time));
        }
        let message = "only a re-exposure to light has a time for each side";
        self.report(
            Diagnostic::error("each-side-in-bath", row.span, message)
                .help("write the whole time, such as: time 2:00"),
        );
        None
    }

    fn agitated(&mut self, row: Matched<'_, say::Agitate>) -> Option<Stated<Scheme>> {
        let scheme = match row.said(say::Agitate::scheme) {
            Some(name) => self.find(Declared::Agitation, name, |it| &it.schemes)?,
            None => self.scheme(row.all(say::Agitate::clause).map(|(clause, _)| clause), row.span)?,
        };
        Some(Stated::new(scheme, row.span))
    }

    fn own_band(&mut self, own: &MergedStep<'_>) -> Option<Stated<Band>> {
        if own.one::<say::Within>().is_some() {
            let within = own.stated(say::Within::difference)?;
            return Some(Stated::new(Band::Within(within.value), within.span));
        }
        own.one_sound().and_then(|row| self.between(row))
    }

    /// Reports a step's temperature outside its band, or other than the one its time is for.
    fn at_in_band(&mut self, own: &MergedStep<'_>, band: Option<Stated<Band>>) {
        let Some(at) = own.stated(say::At::temperature) else { return };
        if let Some(Stated { value: Band::Between(low, high), span }) = band
            && (at.value < low || high < at.value)
        {
            let message = format!("{} is not between {low} and {high}", at.value);
            self.report(
                Diagnostic::error("at-outside-band", at.span, message)
                    .other(span, "the allowed temperatures")
                    .help("correct one of the two, or add a 'between' to the step"),
            );
        }
        if let Some(holds) = own.stated(say::Time::at)
            && holds.value != at.value
            && own.one::<say::Within>().is_some()
        {
            let message = format!("the step is at {}, and its time is for {}", at.value, holds.value);
            self.report(
                Diagnostic::error("at-outside-band", at.span, message)
                    .other(holds.span, "its time")
                    .help("write the same temperature in both"),
            );
        }
    }
}

fn missing_time(own: &MergedStep<'_>) -> Diagnostic {
    if let Some(flow) = own.one::<say::Flow>() {
        return Diagnostic::error("flow-without-time", flow.span, "running water needs a time")
            .help("add a line such as: time 10:00");
    }
    let message = format!("the step {} needs a time", own.title());
    Diagnostic::error("missing-time", own.span, message).help(match own.kind {
        StepKind::Wash => "add a line such as: fills 5, 10, 20 inversions; or: soak 5:00 x 6; or: time 10:00",
        _ => "add a line such as: time 1:00; or a chart",
    })
}

/// The place of what states the time of a step.
fn time_span(own: &MergedStep<'_>) -> Span {
    own.time_row().map_or(own.span, |row| row.span)
}

/// R3: the error of a development without a chart, or of a time for one temperature, without a tolerance.
fn missing_band(own: &MergedStep<'_>, duration: &Stated<Duration>) -> Option<Diagnostic> {
    let needed = match duration.value {
        Duration::Plain { at: Some(_), .. } => true,
        Duration::Chart(_) => false,
        _ => own.kind == StepKind::Develop,
    };
    let stated = own.one::<say::Between>().is_some() || own.one::<say::Within>().is_some();
    // The tolerance may be on a line that was not understood.
    if !needed || stated || !own.sound {
        return None;
    }
    let message = "this time is for one temperature, and no tolerance is stated";
    Some(Diagnostic::error("missing-band", time_span(own), message).help(
        "add a line such as: between 18 C and 24 C; or: within 0.3 C, with a time such as 10:00 at 20 C",
    ))
}

/// The error of a tolerance without the temperature that it is for.
fn within_what(own: &MergedStep<'_>) -> Option<Diagnostic> {
    let within = own.one::<say::Within>()?;
    let unread = !own.sound || own.one::<say::Time>().is_some_and(|row| !row.sound);
    if unread || own.stated(say::Time::at).is_some() || own.one::<say::At>().is_some() {
        return None;
    }
    let message = "this tolerance has no temperature";
    Some(
        Diagnostic::error("within-what", within.span, message)
            .help("add the temperature to the time: time 3:15 at 37.8 C; or write: between 18 C and 24 C"),
    )
}

/// R11: the error of a time by the clearing time that the film does not have in this bath.
fn unknown_clearing(
    own: &MergedStep<'_>,
    duration: &Stated<Duration>,
    bath: Option<&Bath>,
    film: Option<&Film>,
) -> Option<Diagnostic> {
    if !matches!(duration.value, Duration::Clearing { .. }) || !own.sound {
        return None;
    }
    let span = time_span(own);
    let Some((bath, solution)) = bath.and_then(|bath| Some((bath, bath.solution.as_ref()?))) else {
        // A step without the bath that it needs has an error for that alone.
        let without = !IN_SOLUTION.contains(&own.kind);
        let in_water = own.one::<say::In>().map_or(without, |row| row.has(say::In::water));
        let fault = Diagnostic::error("clearing-without-fixer", span, "film clears only in a fixer")
            .help("name the bath, such as: in rapid-fix 1+4, reused; or write a plain time");
        return in_water.then_some(fault);
    };
    let film = film?;
    if film.clearing_in(bath).is_some() {
        return None;
    }
    let bath = format!("{} {}", solution.name, bath.dilution);
    let message = format!("'{}' has no clearing time in {bath}", film.name);
    let help = format!("test a leader and add your time to the film: clears 60 s in {bath} at 20 C");
    Some(Diagnostic::error("no-clearing-time", span, message).other(film.span, "the film").help(help))
}
