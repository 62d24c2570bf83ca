//! The next planned load as text, and as JSON by `grammar/next.schema.json`: the rolls, the bottles to have ready and
//! the temperatures at which the load can be done.

use super::object::{Json, Object, list, ml};
use super::phrase::{self, count};
use super::plain::{Look, Page, Tone, joined, padded, plain, prefixed, widest};
use crate::compile::{MeasuredPart, PlannedBath, Scale, Schedule};
use crate::model::{Exposed, Session, Slot, Temperature, Use};
use crate::source::Sorted as _;

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;

/// The next load of a plan.
#[derive(Debug)]
pub struct NextLoad<'a> {
    /// The session that is planned for the load.
    pub session: &'a Session,
    /// The number of planned loads that are not done yet, including this one.
    pub to_do: usize,
    /// The schedule at one of the temperatures at which the load can be done; `None` if it cannot be done.
    pub schedule: Option<&'a Schedule>,
    /// The title of the load's recipe.
    pub title: &'a str,
    /// The lowest and the highest temperature at which all baths of the load can be used, if known.
    pub wanted: Option<(Temperature, Temperature)>,
    /// The scale in which the text states temperatures first.
    pub scale: Scale,
    /// Why the load cannot be done as planned.
    pub warnings: Vec<String>,
}

impl NextLoad<'_> {
    fn slots(&self) -> Vec<&Slot> {
        let mut slots: Vec<&Slot> = self.session.slots.iter().collect();
        slots.order_by_key(|slot| slot.slot);
        slots
    }

    /// The baths except water, each once, with the names of the steps that use it: `fix first, fix second`.
    fn baths(&self) -> Vec<(String, &PlannedBath)> {
        let mut all: Vec<(String, &PlannedBath)> = Vec::new();
        for step in self.schedule.iter().flat_map(|schedule| &schedule.steps) {
            let Some(bath) = step.bath.as_ref().filter(|bath| bath.dilution.is_some()) else { continue };
            let is_known =
                |(_, known): &&mut (String, &PlannedBath)| phrase::bath(known) == phrase::bath(bath);
            match all.iter_mut().find(is_known) {
                Some((steps, _)) => *steps += &format!(", {}", phrase::called(step)),
                None => all.push((phrase::called(step), bath)),
            }
        }
        all
    }
}

/// What to have ready for a bath: `2500 ml from autumn-fix-a`, `2500 ml: 250 ml autumn-developer + 2250 ml water`.
fn have(bath: &PlannedBath) -> String {
    let volume = phrase::ml(bath.volume);
    let part = |part: &MeasuredPart| format!("{} {}", phrase::ml(part.volume), plain(&part.what));
    let water = Some(phrase::ml(bath.water)).filter(|_| bath.water.fl > 0);
    let parts = bath.parts.iter().map(part).chain(water.map(|water| format!("{water} water")));
    let parts = joined(parts, " + ");
    match &bath.bottle {
        Some(bottle) => format!("{volume} from {}", plain(&bottle.name)),
        None if bath.reuse.is_some_and(Use::is_kept) => {
            format!("{volume} from its bottle; new: {parts}")
        }
        None => format!("{volume}: {parts}"),
    }
}

fn roll(slot: &Slot, exposed: Option<&Exposed>) -> String {
    let film = exposed.map(|roll| {
        let (index, shot) = (prefixed(" at ", roll.exposed_at()), prefixed(", shot ", roll.shot));
        format!("  {}{index}{shot}", plain(&roll.film.title))
    });
    format!("{}{}", slot.format, film.unwrap_or_default())
}

/// The next load as text.
pub fn next(load: &NextLoad<'_>, look: Look) -> String {
    let session = load.session;
    let mut page = Page::new(look);
    let to_do = format!("{} to do", count(load.to_do, "load"));
    let title = format!("{}, planned for {}", plain(&session.name), session.date.value);
    page.apart((Tone::Bold, &title), ' ', &[(Tone::Body, &to_do)]);
    let fingerprint = load.schedule.map(|schedule| format!("recipe {}", schedule.fingerprint));
    let mut head = vec![plain(load.title), format!("recipe {}", plain(&session.recipe))];
    head.extend(fingerprint.map(|mark| mark.replace("recipe ", "")));
    let tank = load.schedule.and_then(|schedule| schedule.conditions.tank.as_ref());
    head.extend(tank.map(|tank| plain(&tank.title)).or_else(|| session.tank.as_deref().map(plain)));
    page.joined(&head);
    let warnings: Vec<String> = load.warnings.iter().map(|warning| plain(warning)).collect();
    page.section("WARNINGS", &warnings, Tone::Warning);
    page.heading("LOAD");
    let slots = load.slots();
    let label = |slot: &&Slot| slot.label.as_deref().map_or_else(|| "-".to_owned(), plain);
    let width = widest(slots.iter().map(label));
    let last = slots.len();
    for (at, slot) in slots.iter().enumerate() {
        let end = match at {
            0 if last > 1 => "bottom",
            _ if at + 1 == last && last > 1 => "top",
            _ => "",
        };
        let exposed = session.backlog.as_ref().zip(slot.label.as_deref());
        let exposed = exposed.and_then(|(backlog, label)| backlog.roll(label));
        let lead = format!("  {end:<8} {:>2}  {}  ", slot.slot, padded(&label(slot), width));
        page.body(&lead, &roll(slot, exposed));
    }
    let baths = load.baths();
    if !baths.is_empty() {
        page.heading("HAVE READY");
        let names = widest(baths.iter().map(|(steps, _)| steps));
        for (steps, bath) in &baths {
            let lead = format!("  {}  ", padded(steps, names));
            page.hang(
                &[(Tone::Bold, &lead)],
                (Tone::Body, &format!("{}: {}", phrase::bath(bath), have(bath))),
            );
        }
        if let Some(water) = load.schedule.and_then(phrase::all_water) {
            page.hang(
                &[(Tone::Bold, &format!("  {}  ", padded("water", names)))],
                (Tone::Body, &format!("{water} in all")),
            );
        }
    }
    if let Some((low, high)) = load.wanted {
        page.heading("TEMPERATURE");
        let both = |at| phrase::both_degrees(at, load.scale);
        page.body("  ", &format!("{} to {} for all baths; read it, then write", both(low), both(high)));
        page.body("  ", "wetside card --at TEMPERATURE");
    }
    let notes: Vec<String> = session.notes.iter().map(|note| plain(note)).collect();
    page.section("NOTES", &notes, Tone::Body);
    page.out
}

/// The next load as an indented JSON object; for `None`, an object with `to_do` 0.
pub fn next_json(load: Option<&NextLoad<'_>>) -> String {
    let Some(load) = load else { return Object::of("next", VERSION).put("to_do", 0_u32).text() };
    let session = load.session;
    let slot = |slot: &Slot| {
        Object::of("slot", slot.slot)
            .put("label", slot.label.as_deref())
            .put("format", slot.format.to_string())
    };
    let bath = |(steps, bath): (String, &PlannedBath)| {
        Object::of("steps", steps.as_str())
            .put("solution", bath.solution.as_str())
            .put("dilution", bath.dilution.as_ref())
            .put("ml", ml(bath.volume))
            .put("bottle", bath.bottle.as_ref().map(|bottle| bottle.name.as_str()))
    };
    let slots: Vec<&Slot> = load.slots();
    let all = Object::of("name", session.name.as_str())
        .put("planned", session.date.value)
        .put("recipe", session.recipe.as_str())
        .put("fingerprint", session.fingerprint.as_str())
        .put("title", load.title)
        .put("tank", session.tank.as_deref())
        .put("slots", list(slots, slot))
        .put("have", list(load.baths(), bath))
        .put("lowest_c", load.wanted.map(|(low, _)| low))
        .put("highest_c", load.wanted.map(|(_, high)| high))
        .put("warnings", list(&load.warnings, |warning: &String| plain(warning)))
        .put("notes", list(&session.notes, |note: &String| plain(note)));
    Object::of("next", VERSION)
        .put("to_do", u32::try_from(load.to_do).unwrap_or(u32::MAX))
        .put("load", Json::Object(all))
        .text()
}
