//! The sleeve page of a roll's negatives: what the roll is, by which recipe it was developed, and in which sessions; as
//! a document and as JSON by `grammar/negatives.schema.json`.

use super::document::{Block, Document, Head, Section};
use super::object::{Json, Object, filled, list};
use super::plain::{joined, plain, prefixed};
use crate::journal::Negatives;
use crate::model::{Date, Format, short};

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;
const BLANKS: [&str; 4] = ["page ______", "frames ______", "contact sheet ______", "best frames ______"];

/// The page for the sleeve that holds the negatives of one roll.
#[derive(Debug)]
pub struct Sleeve {
    /// The label of the roll.
    pub label: String,
    /// The title of the film, if known.
    pub film: Option<String>,
    /// The format of the roll, if known.
    pub format: Option<Format>,
    /// The exposure index of the roll, if known.
    pub index: Option<u32>,
    /// The day on which the roll was exposed, if known.
    pub shot: Option<Date>,
    /// The title of the backlog that lists the roll, if there is one.
    pub backlog: Option<String>,
    /// The sessions that developed the roll, in the order of days.
    pub sessions: Vec<Developed>,
}

/// A session that developed a roll.
#[derive(Debug)]
pub struct Developed {
    /// The name of the session.
    pub name: String,
    /// The day of the session.
    pub on: Date,
    /// Why the session was retracted, if it was.
    pub retracted: Option<String>,
    /// The name of the recipe on that day.
    pub recipe: String,
    /// The title of the recipe that has this name now, if there is one.
    pub title: Option<String>,
    /// The fingerprint of the recipe on that day.
    pub fingerprint: String,
    /// Whether the recipe that has this name now has the same fingerprint; `None` if no recipe has the name.
    pub is_unchanged: Option<bool>,
    /// The roll's slot in the tank, from 1 at the bottom, and the number of slots used.
    pub slot: (u32, usize),
    /// The labels of the other rolls in the tank.
    pub beside: Vec<String>,
    /// A doubt about the roll and other statements of the session, each split into its first word and the rest.
    pub lines: Vec<(String, String)>,
}

impl Sleeve {
    /// The page of a roll, with empty `sessions`, which the caller adds.
    pub fn of(negatives: &Negatives<'_>) -> Sleeve {
        let roll = negatives.declared.map(|(_, roll)| roll);
        let format = roll.map(|roll| roll.format);
        Sleeve {
            label: negatives.label.to_owned(),
            film: roll.map(|roll| roll.film.title.clone()),
            format: format.or_else(|| negatives.sessions.first().map(|(_, slot)| slot.format)),
            index: roll.and_then(|roll| roll.exposed_at()),
            shot: roll.and_then(|roll| roll.shot),
            backlog: negatives.declared.map(|(backlog, _)| backlog.title.clone()),
            sessions: Vec::new(),
        }
    }
}

/// The pages of several rolls.
pub fn negatives(sleeves: &[Sleeve]) -> Document {
    let title = match sleeves {
        [one] => plain(&one.label),
        several => format!("Negatives {}", joined(several.iter().map(|one| plain(&one.label)), ", ")),
    };
    let is_one = sleeves.len() == 1;
    let sections = sleeves.iter().flat_map(|sleeve| page(sleeve, is_one)).collect();
    let aside = if is_one { sleeves.first().map(film).unwrap_or_default() } else { String::new() };
    Document { title, aside, sections, ..Document::default() }
}

/// The film, its exposure index and the format: `Skerry 400 at 400 · 120`.
fn film(sleeve: &Sleeve) -> String {
    let film = sleeve.film.as_deref().map_or_else(|| "film not known".to_owned(), plain);
    format!("{film}{}{}", prefixed(" at ", sleeve.index), prefixed(" · ", sleeve.format))
}

fn page(sleeve: &Sleeve, is_one: bool) -> Vec<Section> {
    let shot = sleeve.shot.map(|day| format!("exposed {day}"));
    let backlog = sleeve.backlog.as_deref().map(|backlog| format!("from {}", plain(backlog)));
    let facts: Vec<String> = shot.into_iter().chain(backlog).collect();
    let blanks = BLANKS.join("   ");
    let facts = (!facts.is_empty()).then(|| Block::Paragraph(facts.join(" · ")));
    let head = if is_one { Head::None } else { Head::Ruled(plain(&sleeve.label), film(sleeve)) };
    let mut blocks: Vec<Block> = facts.into_iter().chain([Block::Paragraph(blanks)]).collect();
    if sleeve.sessions.is_empty() {
        blocks.push(Block::Paragraph("not developed by any session of the journal".to_owned()));
    }
    let sessions = sleeve.sessions.iter().map(session);
    [Section { head, blocks, ..Section::default() }].into_iter().chain(sessions).collect()
}

fn session(one: &Developed) -> Section {
    let mut rows = Vec::new();
    let mut row = |name: &str, text: String| rows.push((name.to_owned(), text));
    let (name, fingerprint) = (plain(&one.recipe), plain(&short(&one.fingerprint)));
    let title = one.title.as_deref().filter(|title| *title != one.recipe).map(plain);
    let title = title.map_or_else(|| name.clone(), |title| format!("{title}, {name}"));
    let since = match one.is_unchanged {
        Some(true) => "the recipe is still the same",
        Some(false) => "the recipe has changed since",
        None => "no recipe has this name now",
    };
    row("recipe", format!("{title}, {fingerprint}: {since}"));
    let beside = match one.beside.as_slice() {
        [] => String::new(),
        labels => format!(", with {}", joined(labels.iter().map(|label| plain(label)), " · ")),
    };
    row("slot", format!("{} of {}, 1 is the bottom{beside}", one.slot.0, one.slot.1));
    one.lines.iter().for_each(|(word, rest)| row(&plain(word), plain(rest)));
    row("session", plain(&one.name));
    let mut blocks = vec![Block::Named(rows)];
    if let Some(because) = &one.retracted {
        blocks.insert(0, Block::Paragraph(format!("retracted: {}", plain(because))));
    }
    Section { head: Head::Ruled("DEVELOPED".to_owned(), one.on.to_string()), blocks, ..Section::default() }
}

/// The pages as an indented JSON object.
pub fn negatives_json(sleeves: &[Sleeve]) -> String {
    let line = |(word, rest): &(String, String)| Object::of("statement", word).put("text", rest);
    let session = |one: &Developed| {
        Object::of("session", &one.name)
            .put("date", one.on)
            .put("retracted", one.retracted.as_ref())
            .put("recipe", &one.recipe)
            .put("title", one.title.as_ref())
            .put("fingerprint", &one.fingerprint)
            .put("unchanged", one.is_unchanged)
            .put("slot", one.slot.0)
            .put("slots", one.slot.1)
            .put("beside", filled(list(&one.beside, Json::from)))
            .put("lines", list(&one.lines, line))
    };
    let roll = |one: &Sleeve| {
        Object::of("label", &one.label)
            .put("film", one.film.as_ref())
            .put("format", one.format.map(|format| format.to_string()))
            .put("index", one.index)
            .put("shot", one.shot)
            .put("backlog", one.backlog.as_ref())
            .put("sessions", list(&one.sessions, session))
    };
    Object::of("negatives", VERSION).put("rolls", list(sleeves, roll)).text()
}
