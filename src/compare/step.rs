//! One step against the one of the same kind and name: its bath, its time, how the film moves, and
//! all that is written of its clock.

use super::difference::{Aspect, Found, Place, Value};
use super::sides::Two;
use super::{bath, time};
use crate::model::{Scheme, Stated, Step, Temperature, Time};

/// What differs between two steps of one kind and name.
pub(super) fn compare(
    two: Two<'_>,
    (old, new): (&Step, &Step),
    solutions: &mut bath::Told,
    found: &mut Found,
) {
    // Kind and name are the same; the time is told by `time`; the rest is said, and told elsewhere.
    let Step {
        kind: _,
        name: _,
        span: _,
        bath: old_bath,
        duration: _,
        band,
        at,
        agitation: old_agitation,
        handling,
        light_safe,
        light: _,
        fill,
        drain,
        clock,
        notes: _,
        cautions: _,
    } = old;
    let place = Place::of(new);
    bath::compare(&place, (old_bath.as_ref(), new.bath.as_ref()), solutions, found);
    time::compare(two, (old, new), found);
    let mut tell = |aspect, old, new| found.unless_equal(&place, aspect, old, new);
    let temperature = |at: Option<Stated<Temperature>>| Value::of(at, |at| Value::Temperature(at.value));
    let time = |stated: Option<Stated<Time>>| Value::of(stated, |time| Value::Time(time.value));
    let banded = |step: &Option<Stated<_>>| Value::of(*step, |band| Value::Band(band.value));
    tell(Aspect::Band, banded(band), banded(&new.band));
    tell(Aspect::OwnTemperature, temperature(*at), temperature(new.at));
    agitation(old_agitation.as_ref(), new.agitation.as_ref(), &mut tell);
    tell(Aspect::Handling, time(*handling), time(new.handling));
    let light = |safe: bool| if safe { Value::Present } else { Value::Absent };
    tell(Aspect::LightSafe, light(light_safe.is_some()), light(new.light_safe.is_some()));
    tell(Aspect::Fill, time(*fill), time(new.fill));
    tell(Aspect::Drain, time(*drain), time(new.drain));
    tell(Aspect::Clock, Value::Clock(clock.value), Value::Clock(new.clock.value));
}

/// How the film moves. A scheme that is named and one that is written out are the same work.
fn agitation(
    old: Option<&Stated<Scheme>>,
    new: Option<&Stated<Scheme>>,
    tell: &mut impl FnMut(Aspect, Value, Value),
) {
    let (old, new) = (old.map(|scheme| &scheme.value), new.map(|scheme| &scheme.value));
    let pulse = |scheme: Option<&Scheme>| {
        Value::of(scheme, |scheme| {
            let Scheme { name: _, pulse, by: _, inversion: _, knock: _, notes: _, span: _ } = scheme;
            Value::Pulse(pulse.clone())
        })
    };
    tell(Aspect::Agitation, pulse(old), pulse(new));
    let motion = |scheme: Option<&Scheme>| Value::of(scheme.and_then(|scheme| scheme.by), Value::Motion);
    tell(Aspect::Motion, motion(old), motion(new));
    if let (Some(old), Some(new)) = (old, new) {
        tell(Aspect::Inversion, Value::Time(old.inversion), Value::Time(new.inversion));
    }
    let knock = |scheme: Option<&Scheme>| Value::of(scheme.and_then(|scheme| scheme.knock), Value::Knock);
    tell(Aspect::Knock, knock(old), knock(new));
}
