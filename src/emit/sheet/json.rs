//! A sheet as JSON, held to `grammar/sheet.schema.json`. Its units are always metric.

use super::super::compose::closed;
use super::super::json::part_of;
use super::super::object::{Json, Object, celsius, list, number};
use super::super::plain::{all_plain, plain};
use super::{amount, label};
use crate::chemistry::STATEMENTS_SOURCE;
use crate::measure::{Amount, Bottle, Form, Line, Mixture, Sheet, Water, Weighed, Work};
use crate::model::{Share, Volume, decimal};

/// The version of the format; it grows with each incompatible change.
const VERSION: u32 = 1;

/// The sheet as one indented JSON object.
#[must_use]
pub fn sheet_json(sheet: &Sheet) -> String {
    let work = match &sheet.work {
        Work::Weigh(bottles, step) => {
            Object::new().put("scale_g", number(&amount::grams(*step))).put("bottles", list(bottles, bottle))
        }
        Work::Dilute(mixed) => Object::new().put("mixture", mixture(mixed)),
    };
    Object::new()
        .put("sheet", VERSION)
        .put("solution", plain(&sheet.solution.name))
        .put("title", plain(&sheet.solution.title))
        .put("make_ml", ml(sheet.make))
        .join(work)
        .put("warnings", all_plain(&sheet.warnings))
        .put("cautions", closed(&sheet.cautions))
        .put("notes", all_plain(&sheet.solution.notes))
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
        Line::Water(poured) => Object::new().put("do", "water").join(water(poured)),
        Line::Weighed(one) => Object::new().put("do", "weigh").join(weighed(one)),
        Line::Mark(volume, at) => {
            Object::new().put("do", "fill").put("to_ml", ml(*volume)).put("at_c", at.map(celsius))
        }
    });
    Object::new()
        .put("part", bottle.part.as_deref().map(plain))
        .put("written_for_ml", ml(bottle.written_for))
        .put("lines", lines)
}

fn water(water: &Water) -> Object {
    let taps = water.taps.map(|drawn| {
        Object::new()
            .put("cold_c", celsius(drawn.taps.cold))
            .put("cold_ml", ml(drawn.cold))
            .put("hot_c", celsius(drawn.taps.hot))
            .put("hot_ml", ml(drawn.hot))
    });
    Object::new().put("ml", ml(water.volume)).put("at_c", water.at.map(celsius)).put("taps", taps)
}

fn weighed(weighed: &Weighed) -> Object {
    let statement = |code: &str, text: &str| Object::new().put("code", code).put("text", text);
    let label = weighed.held.map(|held| {
        Object::new()
            .put("cas", label::cas(weighed))
            .put("hazards", list(held.hazards(), |one| statement(one.code, one.text)))
            .put("hazards_source", held.ingredient.source)
            .put("precautions", list(held.statements(), |one| statement(one.code, one.text)))
            .put("precautions_source", STATEMENTS_SOURCE)
    });
    Object::new()
        .put("what", plain(&weighed.what))
        .join(amount_of(weighed.amount, &weighed.form))
        .put("off_percent", number(&decimal(weighed.off, 100, 2)))
        .put("instead_of", weighed.instead_of.as_ref().map(|(amount, form)| amount_of(*amount, form)))
        .put("label", label)
}

fn amount_of(amount: Amount, form: &Form) -> Object {
    let object = match amount {
        Amount::Mass(mass) => Object::new().put("g", number(&amount::grams(mass))),
        Amount::Volume(volume) => Object::new().put("ml", ml(volume)),
    };
    match form {
        Form::Plain => object,
        Form::State(state) => object.put("state", plain(state)),
        Form::Strength(share) => object.put("strength_percent", percent(*share)),
        Form::Dissolved(share, state) => {
            object.put("state", state.as_deref().map(plain)).put("dissolved_percent", percent(*share))
        }
    }
}

fn mixture(mixture: &Mixture) -> Object {
    Object::new()
        .put("dilution", mixture.dilution.to_string())
        .put("at_c", mixture.warmth.map(|warmth| celsius(warmth.at)))
        .put("stock_c", mixture.warmth.and_then(|warmth| warmth.stock).map(celsius))
        .put("water", mixture.water.as_ref().map(water))
        .put("parts", list(&mixture.parts, |part| part_of(&part.what, ml(part.volume))))
}
