//! The bottles of a darkroom on one day, as a table and as JSON by `grammar/baths.schema.json`.

use super::document::{Block, Column, Document, Section, Table};
use super::object::{Object, filled, list, ml, twelfths};
use super::phrase::{count, film};
use super::picture::bath_uses;
use super::plain::{plain, prefixed};
use crate::journal::{Cleared, ClearedOn, Growth, Standing, Verdict};
use crate::model::{Darkroom, Date, Session, UsedBath};

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 2;

const HEAD: [&str; 9] =
    ["bath", "in it", "made", "treated", "left", "age", "keeps until", "clears in", "verdict"];

/// A table of the bottles `all` on the day `on`. Treated film is counted in rolls of 80 square inches. Below the table
/// are the uses for which a session states a doubt, and the clearing times that grow from use to use. A picture shows
/// the use of each bottle.
///
/// With `soon`, `all` has only the bottles that expire within this many days or are nearly spent.
pub fn baths(darkroom: &Darkroom, all: &[Standing<'_>], on: Date, soon: Option<i64>) -> Document {
    let table = Table {
        columns: HEAD.map(Column::new).to_vec(),
        rows: all.iter().map(|one| row(one, soon.is_some())).collect(),
        is_wide: true,
        ..Table::default()
    };
    let table = match all {
        [] => Block::Paragraph(match soon {
            Some(days) => format!("no bath expires by {} or is nearly spent", on.days_later(days)),
            None => format!("no bath is in use on {on}"),
        }),
        _ => Block::Table(table),
    };
    let doubted = doubted(darkroom, on);
    let lines = all.iter().flat_map(|one| doubted.iter().filter(|(_, used)| used.bath.span == one.bath.span));
    let doubts: Vec<Block> = lines
        .map(|(session, used)| {
            let doubt = plain(used.doubt.as_deref().unwrap_or_default());
            let (bath, date) = (plain(&used.bath.name), session.date.value);
            Block::Paragraph(format!("{bath} in doubt on {date}: {doubt}"))
        })
        .collect();
    let growing = all.iter().filter_map(|one| Some((one, Growth::of(darkroom, one.bath, on, None)?)));
    let growing = growing.map(|(one, growth)| {
        let (bath, verdict) = (plain(&one.bath.name), growth.verdict());
        Block::Paragraph(format!("{bath}: a leader cleared in {growth}: {verdict}"))
    });
    let sections = [vec![table], doubts, growing.collect()].into_iter().filter(|blocks| !blocks.is_empty());
    Document {
        title: format!("Baths on {on}"),
        is_bare: true,
        sections: sections
            .map(|blocks| Section { blocks, ..Section::default() })
            .chain(Section::figures(bath_uses(darkroom, all), 0))
            .collect(),
        ..Document::default()
    }
}

/// The uses of bottles up to the day `on` for which the session states a doubt.
fn doubted(darkroom: &Darkroom, on: Date) -> Vec<(&Session, &UsedBath)> {
    let sessions = darkroom.standing().filter(|session| *session.date <= on);
    let used = sessions.flat_map(|session| session.baths.iter().map(move |used| (&**session, used)));
    used.filter(|(_, used)| used.doubt.is_some()).collect()
}

fn row(one: &Standing<'_>, is_soon: bool) -> Vec<String> {
    let bath = one.bath;
    let or_dash = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
    let of = prefixed(" of ", one.capacity.map(|capacity| film(capacity.area())));
    let clears = |cleared: Cleared<'_>| {
        let fresh = prefixed(", fresh ", cleared.fresh.map(|fresh| fresh.time));
        format!("{}{fresh}", cleared.test.time.value)
    };
    vec![
        plain(&bath.name),
        format!("{} {}", plain(&bath.solution.name), bath.dilution),
        bath.mixed.value.to_string(),
        film(one.treated) + &of,
        or_dash(one.left_after(0).map(film)),
        count(one.age(), "day"),
        or_dash(one.keeps_until.map(|until| until.to_string())),
        or_dash(one.cleared.map(clears)),
        told(one, is_soon),
    ]
}

/// The verdict in the table: every reason to doubt the bath, the gravest first, or else that the bath is good. With
/// `is_soon`, also when the bath expires.
fn told(one: &Standing<'_>, is_soon: bool) -> String {
    let left = one.keeps_until.map(|until| one.on.days_until(until)).filter(|days| is_soon && *days >= 0);
    let expires = left.map(|days| match days {
        0 => "keeps until today".to_owned(),
        1 => "keeps 1 more day".to_owned(),
        days => format!("keeps {days} more days"),
    });
    let words: Vec<String> = doubts(one).map(|(_, words)| words.to_owned()).chain(expires).collect();
    if words.is_empty() { Verdict::Good.words().to_owned() } else { words.join("; ") }
}

/// Every reason to doubt the bath, the gravest first, each as a word for JSON and as words for the table.
fn doubts(one: &Standing<'_>) -> impl Iterator<Item = (&'static str, &'static str)> {
    let unproven = one.test_proves_nothing();
    let unproven = unproven.then_some(("test-proves-nothing", "its test is at another temperature"));
    one.grounds().into_iter().map(|ground| (ground.word(), ground.words())).chain(unproven)
}

/// The bottles as an indented JSON object. Treated film is counted in twelfths of a roll of 80 square inches.
pub fn baths_json(darkroom: &Darkroom, all: &[Standing<'_>], on: Date, soon: Option<i64>) -> String {
    let doubted = doubted(darkroom, on);
    Object::of("baths", VERSION)
        .put("on", on)
        .put("soon_days", soon)
        .put("bottles", list(all, |one| bottle(one, &doubted, Growth::of(darkroom, one.bath, on, None))))
        .text()
}

fn bottle(one: &Standing<'_>, doubted: &[(&Session, &UsedBath)], growth: Option<Growth>) -> Object {
    let bath = one.bath;
    let doubted = doubted.iter().filter(|(_, used)| used.bath.span == bath.span);
    let doubted = doubted.map(|(session, used)| {
        Object::of("session", &session.name)
            .put("date", session.date.value)
            .put("doubt", used.doubt.as_deref())
    });
    let tested = |Cleared { test, fresh }: Cleared<'_>| {
        Object::of("test", &test.name)
            .put("date", test.date.value)
            .put("film", &test.film.name)
            .put("clears_ms", test.time.value)
            .put("fresh_ms", fresh.map(|fresh| fresh.time))
    };
    let cleared = |one: &ClearedOn| {
        Object::of("date", one.date).put("clears_ms", one.time).put("temperature_c", one.at)
    };
    Object::of("name", &bath.name)
        .put("title", &bath.title)
        .put("solution", &bath.solution.name)
        .put("dilution", &bath.dilution)
        .put("volume_ml", ml(bath.volume.value))
        .put("mixed", bath.mixed.value)
        .put("discarded", bath.discarded.map(|discarded| discarded.value))
        .put("age_days", one.age())
        .put("keeps_until", one.keeps_until)
        .put("treated_twelfths", twelfths(one.treated))
        .put("capacity_twelfths", one.capacity.map(|capacity| twelfths(capacity.area())))
        .put("left_twelfths", one.left_after(0).map(twelfths))
        .put("tested", one.cleared.map(tested))
        .put("verdict", one.verdict().word())
        .put("doubts", list(doubts(one), |(word, _)| word))
        .put("growing", filled(list(growth.iter().flat_map(Growth::times), cleared)))
        .put("doubted", filled(list(doubted, |one| one)))
}
