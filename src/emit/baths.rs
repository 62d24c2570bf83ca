//! The bottles of a darkroom on one day, as a table and as JSON by `grammar/baths.schema.json`.

use super::object::{Object, list, ml};
use super::phrase::{count, film};
use super::plain::{plain, prefixed, table};
use crate::journal::{Capacity, Cleared, Standing};
use crate::model::Date;

const HEAD: [&str; 9] =
    ["bath", "in it", "made", "treated", "left", "age", "keeps until", "clears in", "verdict"];

/// A table of the bottles. The film they have treated is in rolls of 80 square inches (R12).
pub fn baths(all: &[Standing<'_>], on: Date) -> String {
    if all.is_empty() {
        return format!("no bath is in use on {on}\n");
    }
    let rows: Vec<[String; 9]> = [HEAD.map(str::to_owned)].into_iter().chain(all.iter().map(row)).collect();
    table(&rows).iter().map(|line| format!("{}\n", line.trim_end())).collect()
}

fn row(one: &Standing<'_>) -> [String; 9] {
    let bath = one.bath;
    let or_dash = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
    let of = prefixed(" of ", one.capacity.map(|capacity| film(capacity.twelfths())));
    let clears = |cleared: Cleared<'_>| {
        let fresh = prefixed(", fresh ", cleared.fresh.map(|fresh| fresh.time));
        format!("{}{fresh}", cleared.test.time.value)
    };
    [
        plain(&bath.name),
        format!("{} {}", plain(&bath.solution.name), bath.dilution),
        bath.mixed.value.to_string(),
        film(one.treated) + &of,
        or_dash(one.left_after(0).map(film)),
        count(one.age(), "day"),
        or_dash(one.keeps_until.map(|until| until.to_string())),
        or_dash(one.cleared.map(clears)),
        one.verdict().words().to_owned(),
    ]
}

/// The bottles as an indented JSON object. The film they have treated is in twelfths of a roll.
pub fn baths_json(all: &[Standing<'_>], on: Date) -> String {
    Object::of("baths", 1u32).put("on", on).put("bottles", list(all, bottle)).text()
}

fn bottle(one: &Standing<'_>) -> Object {
    let bath = one.bath;
    let tested = |Cleared { test, fresh }: Cleared<'_>| {
        Object::of("test", &test.name)
            .put("date", test.date.value)
            .put("film", &test.film.name)
            .put("clears_ms", test.time.value)
            .put("fresh_ms", fresh.map(|fresh| fresh.time))
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
        .put("treated_twelfths", one.treated)
        .put("capacity_twelfths", one.capacity.map(Capacity::twelfths))
        .put("left_twelfths", one.left_after(0))
        .put("tested", one.cleared.map(tested))
        .put("verdict", one.verdict().word())
}
