//! A sheet as JSON, held to `grammar/sheet.schema.json`. Its units are always metric.

use super::super::compose::closed;
use super::super::json::part_of;
use super::super::object::{Json, Object, list, number};
use super::{amount, cas};
use crate::chemistry::{Held, STATEMENTS_SOURCE};
use crate::measure::{Amount, Bottle, Form, Line, Mixture, Sheet, Water, Weighed, Work};
use crate::model::{Share, Volume, decimal};

/// The version of the format; it grows with each incompatible change.
const VERSION: u32 = 1;

/// The sheet as one indented JSON object.
#[must_use]
pub fn sheet_json(sheet: &Sheet) -> String {
    let work = match &sheet.work {
        Work::Weigh(bottles, step) => {
            Object::of("scale_g", number(&amount::grams(*step))).put("bottles", list(bottles, bottle))
        }
        Work::Dilute(mixed) => Object::of("mixture", mixture(mixed)),
    };
    Object::of("sheet", VERSION)
        .put("solution", &sheet.solution.name)
        .put("title", &sheet.solution.title)
        .put("make_ml", ml(sheet.make))
        .join(work)
        .put("warnings", &sheet.warnings)
        .put("cautions", &closed(&sheet.cautions))
        .put("notes", &sheet.solution.notes)
        .text()
}

fn ml(volume: Volume) -> Json {
    number(&amount::millilitres(volume))
}

fn percent(share: Share) -> Json {
    number(&decimal(i64::from(share.basis_points), 100, 2))
}

fn bottle(bottle: &Bottle) -> Object {
    let lines = list(&bottle.lines, |line| match line {
        Line::Water(poured) => Object::of("do", "water").join(water(poured)),
        Line::Weighed(one) => Object::of("do", "weigh").join(weighed(one)),
        Line::Mark(volume, at) => Object::of("do", "fill").put("to_ml", ml(*volume)).put("at_c", *at),
    });
    Object::default()
        .put("part", bottle.part.as_ref())
        .put("written_for_ml", ml(bottle.written_for))
        .put("lines", lines)
}

fn water(water: &Water) -> Object {
    let taps = water.taps.map(|drawn| {
        Object::of("cold_c", drawn.taps.cold)
            .put("cold_ml", ml(drawn.cold))
            .put("hot_c", drawn.taps.hot)
            .put("hot_ml", ml(drawn.hot))
    });
    Object::of("ml", ml(water.volume)).put("at_c", water.at).put("taps", taps)
}

fn weighed(weighed: &Weighed) -> Object {
    let statement = |code: &str, text: &str| Object::of("code", code).put("text", text);
    let label = |held: Held| {
        Object::default()
            .put("cas", cas(weighed))
            .put("hazards", list(held.hazards(), |one| statement(one.code, one.text)))
            .put("hazards_source", held.ingredient.source)
            .put("precautions", list(held.statements(), |(code, text)| statement(code, text)))
            .put("precautions_source", STATEMENTS_SOURCE)
    };
    Object::of("what", &weighed.what)
        .join(amount_of(weighed.amount, &weighed.form))
        .put("off_percent", number(&decimal(weighed.off, 100, 2)))
        .put("instead_of", weighed.instead_of.as_ref().map(|(amount, form)| amount_of(*amount, form)))
        .put("label", weighed.held.map(label))
}

fn amount_of(amount: Amount, form: &Form) -> Object {
    let object = match amount {
        Amount::Mass(mass) => Object::of("g", number(&amount::grams(mass))),
        Amount::Volume(volume) => Object::of("ml", ml(volume)),
    };
    match form {
        Form::Plain => object,
        Form::State(state) => object.put("state", state),
        Form::Strength(share) => object.put("strength_percent", percent(*share)),
        Form::Dissolved(share, state) => {
            object.put("state", state.as_ref()).put("dissolved_percent", percent(*share))
        }
    }
}

fn mixture(mixture: &Mixture) -> Object {
    Object::of("dilution", &mixture.dilution)
        .put("at_c", mixture.warmth.map(|warmth| warmth.at))
        .put("stock_c", mixture.warmth.and_then(|warmth| warmth.stock))
        .put("water", mixture.water.as_ref().map(water))
        .put("parts", list(&mixture.parts, |part| part_of(&part.what, ml(part.volume))))
}
