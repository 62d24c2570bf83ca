//! Water of a wanted temperature from two taps, as a document, and as JSON by `grammar/water.schema.json`.

use super::document::{Block, Bullet, Document, Section};
use super::object::Object;
use super::sheet::{Units, amounts, ml, row};
use crate::compile::spoken_volume;
use crate::measure::{Amount, TemperedWater, Water};
use crate::model::Volume;

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;

/// How to draw water of a wanted temperature, with a box to tick before the amount from each tap.
pub fn tempered(tempered: &TemperedWater, units: Units) -> Document {
    let water = &tempered.water;
    let drawn =
        water.taps.map(|drawn| [(drawn.hot, drawn.taps.hot, "hot"), (drawn.cold, drawn.taps.cold, "cold")]);
    let drawn = drawn.into_iter().flatten().filter(|(volume, ..)| *volume > Volume::ZERO);
    let rows = drawn.map(|(volume, at, tap)| {
        row(Amount::Volume(volume), units, units.warm(&format!("from the {tap} tap"), Some(at)))
    });
    let check = "measure the temperature before you pour; the tank takes some of the heat".to_owned();
    let mut sections = vec![Section::titled("DRAW", vec![amounts(rows.collect()), Block::Paragraph(check)])];
    sections.extend(Section::list("CAUTIONS", Bullet::Dash, &tempered.cautions));
    let title = units.warm("Water", water.at);
    Document { title, aside: spoken_volume(water.volume), sections, ..Document::default() }
}

/// The water and what to take from each tap, as an indented JSON object.
pub fn tempered_json(tempered: &TemperedWater) -> String {
    Object::of("water", VERSION)
        .put("make_ml", ml(tempered.water.volume))
        .put("from", water_json(&tempered.water))
        .put("cautions", &tempered.cautions)
        .text()
}

pub(super) fn water_json(water: &Water) -> Object {
    let taps = water.taps.map(|drawn| {
        Object::of("cold_c", drawn.taps.cold)
            .put("cold_ml", ml(drawn.cold))
            .put("hot_c", drawn.taps.hot)
            .put("hot_ml", ml(drawn.hot))
    });
    Object::of("ml", ml(water.volume)).put("at_c", water.at).put("taps", taps)
}
