//! What contradicts a roll or a bottle of a session, and the commands that correct the mistake.

use std::sync::Arc;

use super::super::root::printable;
use crate::journal::{Standing, developed};
use crate::model::{Backlog, Darkroom, Date, Exposed, Film, Format, KeptBath, decimal};
use crate::vocabulary::suggest;

/// A contradiction about a roll or a bottle of a session.
#[derive(Debug)]
pub(super) struct Doubt {
    /// The label of the roll, or the name of the bottle.
    pub(super) about: String,
    /// The words that follow `doubt` in the session's line for the roll or bottle.
    pub(super) words: String,
    /// The sentence that reports the contradiction to the user.
    pub(super) sentence: String,
    /// The ways to correct the mistake: what may be wrong, and the options of `record` that correct it.
    pub(super) ways: Vec<(&'static str, String)>,
}

impl Doubt {
    /// A doubt about the session as a whole, which no option corrects.
    pub(super) fn of_work(sentence: String) -> Doubt {
        Doubt { about: String::new(), words: String::new(), sentence, ways: Vec::new() }
    }
}

/// How the rolls of a session were developed, and the backlog and the darkroom that may contradict this.
pub(super) struct Work<'a> {
    pub(super) darkroom: &'a Darkroom,
    pub(super) backlog: &'a Arc<Backlog>,
    pub(super) on: Date,
    /// The film of the recipe. `None` if the recipe is not known any more, or if `--correct --film` states the roll's
    /// film; then the films are not compared.
    pub(super) film: Option<&'a Film>,
    /// The exposure index of the recipe. `None` if it is not compared with the roll's index.
    pub(super) index: Option<u32>,
    pub(super) labels: Vec<&'a str>,
}

impl Work<'_> {
    /// The doubt about a roll with this label in a slot, if any. `before` are the labels of the slots below this slot.
    pub(super) fn doubt(&self, slot: u32, label: &str, format: Format, before: &[&str]) -> Option<Doubt> {
        let place = format!("slot {slot} \"{label}\"");
        let list = &self.backlog.name;
        let other = self.other_label(label, format);
        let mislabelled = ("if the label was wrong", format!("--correct {label}={other}"));
        let doubt = |words: String, sentence: String, more: Option<(&'static str, String)>| {
            let ways = std::iter::once(mislabelled.clone()).chain(more).collect();
            Some(Doubt { about: label.to_owned(), words, sentence: format!("{place} {sentence}"), ways })
        };
        if before.contains(&label) {
            return doubt("twice in this session".to_owned(), "is in this session twice".to_owned(), None);
        }
        let Some(roll) = self.backlog.roll(label) else {
            return doubt("not in the backlog".to_owned(), format!("is not in '{list}'"), None);
        };
        if let Some(film) = self.film.filter(|film| film.name != roll.film.name) {
            let sentence = format!("is {} in '{list}', developed here as {}", roll.film.title, film.title);
            let way = ("if the list was wrong", format!("--correct {label} --film {}", film.name));
            return doubt(format!("{} in the backlog", roll.film.name), sentence, Some(way));
        }
        let index = roll.exposed_at().filter(|index| self.index.is_some_and(|own| own != *index));
        if let (Some(index), Some(own)) = (index, self.index) {
            let sentence = format!("was exposed at {index} by '{list}', developed here for {own}");
            return doubt(format!("index {index} in the backlog"), sentence, None);
        }
        if roll.format != format {
            let (there, here) = (roll.format.to_string(), format.to_string());
            return doubt(
                format!("{there} in the backlog"),
                format!("is {there} in '{list}', and {here} here"),
                None,
            );
        }
        if let Some(by) = developed(self.darkroom, self.backlog).get(label) {
            let (name, date) = (&by.name, by.date.value);
            let way =
                ("if that session was wrong", format!("--undo {name} --because \"it was another roll\""));
            return doubt(
                format!("developed on {date}"),
                format!("was developed on {date}, in '{name}'"),
                Some(way),
            );
        }
        let shot = roll.shot.filter(|shot| self.on < *shot)?;
        doubt(
            format!("shot on {shot}"),
            format!("was shot on {shot}, after this session of {}", self.on),
            None,
        )
    }

    /// The label that was probably meant in place of `label`, among the undeveloped rolls of the same film and format:
    /// a label with a similar spelling if `label` is not in the backlog, else the first label. `LABEL` if there is
    /// none.
    fn other_label(&self, label: &str, format: Format) -> String {
        let gone = developed(self.darkroom, self.backlog);
        let is_fit = |roll: &&Exposed| {
            let film = self.film.is_none_or(|film| film.name == roll.film.name);
            film && roll.format == format
                && !self.labels.contains(&&*roll.label)
                && !gone.contains_key(&*roll.label)
        };
        let waiting: Vec<&str> = self.backlog.rolls.iter().filter(is_fit).map(|roll| &*roll.label).collect();
        let alike =
            if self.backlog.roll(label).is_none() { suggest(label, waiting.iter().copied()) } else { None };
        alike.or(waiting.first().copied()).unwrap_or("LABEL").to_owned()
    }
}

/// The lines for the user about the doubts of a recorded session, with commands that correct the mistakes. `more` is
/// added to each command: the option `--journal` of this call, if any.
pub(super) fn told(doubts: &[Doubt], more: &str) -> String {
    let mut text = String::new();
    for doubt in doubts {
        text += &format!("\nrecorded, with a doubt: {}\n", printable(&doubt.sentence));
        for (wrong, options) in &doubt.ways {
            text += &format!("{:<25} wetside record {}{more}\n", format!("{wrong}:"), printable(options));
        }
    }
    text
}

/// The doubt about a bottle that treats film on the day `on`, if any. `film` is the area of the film, in units of
/// (1/300 mm)².
pub(super) fn of_bottle(darkroom: &Darkroom, bath: &Arc<KeptBath>, on: Date, film: i64) -> Option<Doubt> {
    let standing = Standing::of(darkroom, bath, on);
    let treated = standing.treated.saturating_add(film);
    let is_replenished = bath.solution.replenish.is_some();
    let over = standing.capacity.filter(|capacity| !is_replenished && !capacity.holds(treated));
    let (words, is) = if !standing.is_made() {
        (format!("mixed on {}", *bath.mixed), format!("was mixed on {}", *bath.mixed))
    } else if let Some(day) = bath.discarded.filter(|day| **day < on) {
        (format!("poured away on {}", *day), format!("was poured away on {}", *day))
    } else if standing.cleared.is_some_and(|cleared| cleared.has_doubled()) {
        ("clears in twice the fresh time".to_owned(), "clears in twice the fresh time".to_owned())
    } else if let Some(capacity) = over {
        let (treated, all) = (decimal(treated, Format::ROLL, 2), decimal(capacity.area(), Format::ROLL, 2));
        (format!("treated {treated} of {all} rolls"), format!("has treated {treated} rolls now, of {all}"))
    } else if let Some(until) = standing.keeps_until.filter(|until| *until < on) {
        (format!("kept until {until}"), format!("kept until {until}"))
    } else {
        return None;
    };
    let name = &bath.name;
    let others = darkroom.bottles().find(|other| {
        other.name != *name && Arc::ptr_eq(&other.solution, &bath.solution) && other.dilution == bath.dilution
    });
    let other = others.map_or("NAME", |other| &other.name);
    Some(Doubt {
        about: name.clone(),
        words,
        sentence: format!("the bath '{name}' {is}"),
        ways: vec![("if it was another bottle", format!("--correct {name}={other}"))],
    })
}
