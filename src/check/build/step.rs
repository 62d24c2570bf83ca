//! A step from what it says and inherits.

use super::super::merge::MergedStep;
use super::recipe::band as between;
use super::solution::parts_fit;
use super::{Built, agitation, chart};
use crate::model::{
    Band, Bath, Change, Clock, Dilution, Duration, Film, Scheme, Solution, Stated, Step, StepKind,
    Temperature, Use,
};
use crate::source::{Diagnostic, Level};
use crate::vocabulary::{Declared, Lines as _, Matched, say};

/// The faults that steps tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("missing-bath", "a step that works in a solution and does not say which"),
    ("missing-time", "a step that does not say how long it takes"),
    ("missing-band", "a step whose time holds at one temperature, and no word of how far it may stray"),
    ("within-what", "how far a temperature may stray, and not which"),
    ("at-outside-band", "a step's own temperature where the step may not be"),
    ("band-upside-down", "temperatures given as warm to cold"),
    ("no-clearing-time", "a fixing time by the clearing time of a film that does not say it"),
    ("clearing-without-fixer", "a time by the clearing time in a step without a fixer"),
    ("flow-without-time", "running water without a time"),
    ("each-side-in-bath", "a time for each side, where no light is given"),
    ("water-is-kept", "plain water that is said to be reused"),
    ("too-many-changes", "a wash of more changes of water than anybody pours"),
];

/// So many changes of water a wash may have.
const CHANGES_MAX: usize = 50;

/// Steps that have to say what they happen in.
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

/// The step; `None` if anything in it is at fault.
pub(super) fn step(
    own: &MergedStep<'_>,
    film: Option<&Film>,
    recipe_band: Option<Stated<Band>>,
    built: &Built<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Step> {
    let before = faults.len();
    let in_row = own.one::<say::In>();
    let bath = in_row.filter(|row| row.sound).and_then(|row| bath(row, built, faults));
    if in_row.is_none() && own.sound && IN_SOLUTION.contains(&own.kind) {
        faults.push(
            Diagnostic::error(
                "missing-bath",
                own.span,
                format!("the step {} does not say its bath", own.title()),
            )
            .help("add a line such as: in citric-stop 1+19, reused; or: in water"),
        );
    }
    let duration = duration(own, faults);
    let agitate = own.one::<say::Agitate>();
    let agitation = agitate.filter(|row| row.sound).and_then(|row| moved(row, built, faults));
    let band = own_band(own, faults).or_else(|| recipe_band.filter(|_| own.kind.is_wet()));
    within_what(own, faults);
    at_in_band(own, band, faults);
    if let Some(duration) = &duration {
        band_wanted(own, &duration.value, faults);
        clearing_known(own, &duration.value, bath.as_ref(), film, faults);
    }
    let told = faults.iter().skip(before).any(|fault| fault.level == Level::Error);
    let unread = own.rows.iter().any(|row| !row.sound || !row.block_sound);
    let lost = in_row.is_some() != bath.is_some() || agitate.is_some() != agitation.is_some();
    if told || unread || lost {
        return None;
    }
    let light_safe = own.each::<say::Light>().find(|row| row.has(say::Light::safe));
    let light = own.each::<say::Light>().find_map(|row| row.said(say::Light::light).zip(Some(row.span)));
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
        light: light.map(|((light, _), span)| Stated::new(light.to_owned(), span)),
        fill: own.stated(say::Fill::time),
        drain: own.stated(say::Drain::time),
        clock: own.stated(say::Clock::from).unwrap_or(Stated::new(Clock::FromPour, own.span)),
        notes: own.texts(say::Note::text),
        cautions: own.texts(say::Caution::text),
    })
}

fn bath(row: Matched<'_, say::In>, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<Bath> {
    let fate = row.get(say::In::fate);
    let Some((name, span)) = row.said(say::In::solution) else {
        if matches!(fate, Some(Use::Reused | Use::Replenished)) {
            faults.push(
                Diagnostic::error("water-is-kept", row.span, "plain water is not kept")
                    .help("write: in water")
                    .choice(row.span, "in water"),
            );
        }
        return Some(Bath { solution: None, dilution: Dilution::stock(), fate: None, span: row.span });
    };
    let solution = built.solution(name, span, faults)?;
    let bottles = solution.bottles();
    let unsaid = || Dilution { parts: vec![1; bottles], water: 0 };
    let dilution = row.get(say::In::dilution).cloned().unwrap_or_else(unsaid);
    parts_fit(&solution, &dilution, row.place(say::In::dilution), faults)?;
    Some(Bath { solution: Some(solution), dilution, fate, span: row.span })
}

fn duration(own: &MergedStep<'_>, faults: &mut Vec<Diagnostic>) -> Option<Stated<Duration>> {
    let Some(row) = own.time_row() else {
        if !own.sound {
            return None;
        }
        let fault = match own.one::<say::Flow>() {
            Some(flow) => Diagnostic::error("flow-without-time", flow.span, "running water needs a time")
                .help("add a line such as: time 10:00"),
            None => Diagnostic::error(
                "missing-time",
                own.span,
                format!("the step {} does not say how long it takes", own.title()),
            )
            .help(if own.kind == StepKind::Wash {
                "add a line such as: fills 5, 10, 20 inversions; or: soak 5:00 x 6; or: time 10:00"
            } else {
                "add a line such as: time 1:00; or a chart"
            }),
        };
        faults.push(fault);
        return None;
    };
    if !row.sound || !row.block_sound {
        return None;
    }
    let value = if row.is::<say::Chart>() {
        Duration::Chart(chart::chart(row, faults)?)
    } else if let Some(fills) = row.view::<say::Fills>() {
        let counts = fills.all(say::Fills::inversions);
        Duration::Changes(counts.map(|(count, _)| Change::Inversions(count)).collect())
    } else if let Some(soak) = row.view::<say::Soak>() {
        Duration::Changes(soaks(soak, faults)?)
    } else {
        timed(own, row.view::<say::Time>()?, faults)?
    };
    Some(Stated::new(value, row.span))
}

/// What `time` says.
fn timed(
    own: &MergedStep<'_>,
    row: Matched<'_, say::Time>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Duration> {
    if let Some(times) = row.get(say::Time::times) {
        return Some(Duration::Clearing { times, at_least: row.get(say::Time::least) });
    }
    let time = row.get(say::Time::time)?;
    if row.has(say::Time::side) {
        return each_side(own, row, faults);
    }
    Some(match own.stated(say::Flow::flow) {
        Some(flow) => Duration::Flow { flow: flow.value, time },
        None => Duration::Plain { time, at: row.get(say::Time::at) },
    })
}

/// Changes of water, all alike.
fn soaks(row: Matched<'_, say::Soak>, faults: &mut Vec<Diagnostic>) -> Option<Vec<Change>> {
    let (time, count) = row.get(say::Soak::time).zip(row.get(say::Soak::changes))?;
    if count as usize > CHANGES_MAX {
        faults.push(
            Diagnostic::error("too-many-changes", row.span, "a wash has at most 50 changes of water")
                .help("write fewer, longer ones; or running water: flow 2 l/min, with a time"),
        );
        return None;
    }
    Some(vec![Change::Soak(time); count as usize])
}

fn each_side(
    own: &MergedStep<'_>,
    row: Matched<'_, say::Time>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Duration> {
    if own.kind == StepKind::Expose && own.one::<say::In>().is_none() {
        return row.get(say::Time::time).map(Duration::EachSide);
    }
    faults.push(
        Diagnostic::error(
            "each-side-in-bath",
            row.span,
            "a time for each side is for a re-exposure to light",
        )
        .help("write the whole time, such as: time 2:00"),
    );
    None
}

fn moved(
    row: Matched<'_, say::Agitate>,
    built: &Built<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Stated<Scheme>> {
    let scheme = match row.said(say::Agitate::scheme) {
        Some((name, span)) => {
            let key = built.scopes.find(Declared::Agitation, name, span, faults)?;
            built.schemes.get(&key).cloned()?
        }
        None => agitation::scheme(row.all(say::Agitate::clause).map(|(clause, _)| clause), row.span, faults)?,
    };
    Some(Stated::new(scheme, row.span))
}

fn own_band(own: &MergedStep<'_>, faults: &mut Vec<Diagnostic>) -> Option<Stated<Band>> {
    if own.one::<say::Within>().is_some() {
        let within = own.stated(say::Within::difference)?;
        return Some(Stated::new(Band::Within(within.value), within.span));
    }
    own.one().filter(|row| row.sound).and_then(|row| between(row, faults))
}

/// The temperature at which its time holds.
fn holds_at(own: &MergedStep<'_>) -> Option<Stated<Temperature>> {
    own.stated(say::Time::at)
}

/// R3: a development without a chart, and any time that holds at one temperature, say how far that
/// temperature may stray.
fn band_wanted(own: &MergedStep<'_>, duration: &Duration, faults: &mut Vec<Diagnostic>) {
    let holds_at_one = matches!(duration, Duration::Plain { at: Some(_), .. });
    let charted = matches!(duration, Duration::Chart(_));
    let said = own.one::<say::Between>().is_some() || own.one::<say::Within>().is_some();
    let wanted = holds_at_one || (own.kind == StepKind::Develop && !charted);
    // It may be on a line that was not understood.
    if !wanted || said || !own.sound {
        return;
    }
    let span = own.time_row().map_or(own.span, |row| row.span);
    faults.push(
        Diagnostic::error(
            "missing-band",
            span,
            "this time holds at one temperature, and nothing says how far the bath may stray",
        )
        .help(
            "add a line such as: between 18 C and 24 C; or: within 0.3 C, with a time such as 10:00 at 20 C",
        ),
    );
}

/// A difference is one from something: the temperature at which the time holds, or the step's own.
fn within_what(own: &MergedStep<'_>, faults: &mut Vec<Diagnostic>) {
    let Some(within) = own.one::<say::Within>() else { return };
    let unread = !own.sound || own.one::<say::Time>().is_some_and(|row| !row.sound);
    if unread || holds_at(own).is_some() || own.one::<say::At>().is_some() {
        return;
    }
    faults.push(
        Diagnostic::error("within-what", within.span, "this does not say of which temperature it is within")
            .help("say it in the time, as in: time 3:15 at 37.8 C; or write: between 18 C and 24 C"),
    );
}

/// A step's own temperature lies where it may, and is the one at which its time holds.
fn at_in_band(own: &MergedStep<'_>, band: Option<Stated<Band>>, faults: &mut Vec<Diagnostic>) {
    let Some(Stated { value: at, span: place }) = own.stated(say::At::temperature) else { return };
    if let Some(Stated { value: Band::Between(low, high), span }) = band
        && (at < low || high < at)
    {
        faults.push(
            Diagnostic::error("at-outside-band", place, format!("{at} is not between {low} and {high}"))
                .other(span, "what it may have")
                .help("widen the one or mend the other; or give the step a 'between' of its own"),
        );
    }
    if let Some(Stated { value: other, span }) = holds_at(own)
        && other != at
        && own.one::<say::Within>().is_some()
    {
        faults.push(
            Diagnostic::error(
                "at-outside-band",
                place,
                format!("the step is at {at}, and its time holds at {other}"),
            )
            .other(span, "its time")
            .help("make the two the same"),
        );
    }
}

/// R11: the film says how fast it clears in this very bath.
fn clearing_known(
    own: &MergedStep<'_>,
    duration: &Duration,
    bath: Option<&Bath>,
    film: Option<&Film>,
    faults: &mut Vec<Diagnostic>,
) {
    if !matches!(duration, Duration::Clearing { .. }) || !own.sound {
        return;
    }
    let span = own.time_row().map_or(own.span, |row| row.span);
    let Some((bath, solution)) =
        bath.and_then(|bath| bath.solution.as_ref().map(|solution| (bath, solution)))
    else {
        // A step that needs a bath and says none is told of that alone.
        let says_none = !IN_SOLUTION.contains(&own.kind);
        if own.one::<say::In>().map_or(says_none, |row| row.has(say::In::water)) {
            faults.push(
                Diagnostic::error("clearing-without-fixer", span, "nothing clears without a fixer")
                    .help("say the bath, such as: in rapid-fix 1+4, reused; or write a plain time"),
            );
        }
        return;
    };
    let Some(film) = film else { return };
    let same = |other: &Solution| std::ptr::eq(other, solution.as_ref());
    if film.clears.iter().any(|clearing| same(&clearing.solution) && clearing.dilution == bath.dilution) {
        return;
    }
    let message =
        format!("'{}' does not say how fast it clears in {} {}", film.name, solution.name, bath.dilution);
    faults.push(Diagnostic::error("no-clearing-time", span, message).other(film.span, "the film").help(
        format!(
            "test a leader and add to the film: clears 60 s in {} {} at 20 C (with your time)",
            solution.name, bath.dilution
        ),
    ));
}
