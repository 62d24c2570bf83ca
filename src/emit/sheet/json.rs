//! A sheet as JSON, for a program that weighs or counts. The shapes here are a promise to others and are held to
//! `grammar/sheet.schema.json`; units are in the keys, and always metric.

use serde::Serialize;

use super::super::compose::CLOSING;
use super::super::json::Figure;
use super::super::plain::{all_plain, plain};
use super::{amount, label};
use crate::chemistry::STATEMENTS_SOURCE;
use crate::measure::{Amount, Bottle, Form, Line, Mixture, Sheet, Water, Weighed, Work};
use crate::model::{Share, Volume, decimal};

/// The number of this shape; a change that a reader would notice raises it.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct SheetOut {
    sheet: u32,
    solution: String,
    title: String,
    make_ml: Figure,
    #[serde(flatten)]
    work: WorkOut,
    warnings: Vec<String>,
    cautions: Vec<String>,
    notes: Vec<String>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum WorkOut {
    Weigh { scale_g: Figure, bottles: Vec<BottleOut> },
    Measure { mixture: MixtureOut },
}

#[derive(Serialize)]
struct BottleOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    part: Option<String>,
    written_for_ml: Figure,
    lines: Vec<LineOut>,
}

#[derive(Serialize)]
#[serde(tag = "do", rename_all = "lowercase")]
enum LineOut {
    Water(WaterOut),
    Weigh(Box<WeighedOut>),
    Fill {
        to_ml: Figure,
        #[serde(skip_serializing_if = "Option::is_none")]
        at_c: Option<Figure>,
    },
}

#[derive(Serialize)]
struct WaterOut {
    ml: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_c: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    taps: Option<TapsOut>,
}

#[derive(Serialize)]
struct TapsOut {
    cold_c: Figure,
    cold_ml: Figure,
    hot_c: Figure,
    hot_ml: Figure,
}

#[derive(Serialize)]
struct WeighedOut {
    what: String,
    #[serde(flatten)]
    amount: AmountOut,
    off_percent: Figure,
    #[serde(skip_serializing_if = "Option::is_none")]
    instead_of: Option<AmountOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    label: Option<LabelOut>,
}

#[derive(Serialize)]
struct AmountOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    g: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ml: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    state: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    strength_percent: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    dissolved_percent: Option<Figure>,
}

#[derive(Serialize)]
struct LabelOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    cas: Option<&'static str>,
    hazards: Vec<SaidOut>,
    hazards_source: &'static str,
    precautions: Vec<SaidOut>,
    precautions_source: &'static str,
}

#[derive(Serialize)]
struct SaidOut {
    code: &'static str,
    text: &'static str,
}

#[derive(Serialize)]
struct MixtureOut {
    dilution: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    at_c: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stock_c: Option<Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    water: Option<WaterOut>,
    parts: Vec<PartOut>,
}

#[derive(Serialize)]
struct PartOut {
    what: String,
    ml: Figure,
}

/// The sheet as one object, with a line ending at its end.
#[must_use]
pub fn sheet_json(sheet: &Sheet) -> String {
    let mut cautions = all_plain(&sheet.cautions);
    cautions.push(CLOSING.to_owned());
    let out = SheetOut {
        sheet: VERSION,
        solution: plain(&sheet.solution.name),
        title: plain(&sheet.solution.title),
        make_ml: ml(sheet.make),
        work: match &sheet.work {
            Work::Weigh(bottles, step) => WorkOut::Weigh {
                scale_g: Figure::of(amount::grams(*step)),
                bottles: bottles.iter().map(bottle).collect(),
            },
            Work::Dilute(mixed) => WorkOut::Measure { mixture: mixture(mixed) },
        },
        warnings: all_plain(&sheet.doubts),
        cautions,
        notes: all_plain(&sheet.solution.notes),
    };
    let text = serde_json::to_string_pretty(&out);
    text.map_or_else(|fault| format!("\"{fault}\"\n"), |text| format!("{text}\n"))
}

fn ml(volume: Volume) -> Figure {
    Figure::of(amount::millilitres(volume))
}

fn percent(share: Share) -> Figure {
    Figure::of(decimal(i64::from(share.basis_points), 100, 2))
}

fn bottle(bottle: &Bottle) -> BottleOut {
    let lines = bottle.lines.iter().map(|line| match line {
        Line::Water(poured) => LineOut::Water(water(poured)),
        Line::Weighed(one) => LineOut::Weigh(Box::new(weighed(one))),
        Line::Mark(volume, at) => LineOut::Fill { to_ml: ml(*volume), at_c: at.map(Figure::celsius) },
    });
    BottleOut {
        part: bottle.part.as_deref().map(plain),
        written_for_ml: ml(bottle.written_for),
        lines: lines.collect(),
    }
}

fn water(water: &Water) -> WaterOut {
    let taps = water.taps.map(|drawn| TapsOut {
        cold_c: Figure::celsius(drawn.taps.cold),
        cold_ml: ml(drawn.cold),
        hot_c: Figure::celsius(drawn.taps.hot),
        hot_ml: ml(drawn.hot),
    });
    WaterOut { ml: ml(water.volume), at_c: water.at.map(Figure::celsius), taps }
}

fn weighed(weighed: &Weighed) -> WeighedOut {
    let label = weighed.held.map(|held| LabelOut {
        cas: label::cas(weighed),
        hazards: held.hazards().iter().map(|one| SaidOut { code: one.code, text: one.text }).collect(),
        hazards_source: held.ingredient.source,
        precautions: held.statements().iter().map(|one| SaidOut { code: one.code, text: one.text }).collect(),
        precautions_source: STATEMENTS_SOURCE,
    });
    WeighedOut {
        what: plain(&weighed.what),
        amount: amount_out(weighed.amount, &weighed.form),
        off_percent: Figure::of(decimal(weighed.off, 100, 2)),
        instead_of: weighed.instead_of.as_ref().map(|(amount, form)| amount_out(*amount, form)),
        label,
    }
}

fn amount_out(amount: Amount, form: &Form) -> AmountOut {
    let (g, ml) = match amount {
        Amount::Mass(mass) => (Some(Figure::of(amount::grams(mass))), None),
        Amount::Volume(volume) => (None, Some(ml(volume))),
    };
    let (state, strength, dissolved) = match form {
        Form::Plain => (None, None, None),
        Form::State(state) => (Some(plain(state)), None, None),
        Form::Strength(share) => (None, Some(percent(*share)), None),
        Form::Dissolved(share, state) => (state.as_deref().map(plain), None, Some(percent(*share))),
    };
    AmountOut { g, ml, state, strength_percent: strength, dissolved_percent: dissolved }
}

fn mixture(mixture: &Mixture) -> MixtureOut {
    let parts = mixture.parts.iter().map(|part| PartOut { what: plain(&part.what), ml: ml(part.volume) });
    MixtureOut {
        dilution: mixture.dilution.to_string(),
        at_c: mixture.warmth.map(|warmth| Figure::celsius(warmth.at)),
        stock_c: mixture.warmth.and_then(|warmth| warmth.stock).map(Figure::celsius),
        water: mixture.water.as_ref().map(water),
        parts: parts.collect(),
    }
}
