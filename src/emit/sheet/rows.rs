//! The words of a sheet: an amount and an ingredient in each line.

use super::super::figure::both_degrees;
use super::super::plain::plain;
use super::Units;
use super::amount::{self, Figure};
use crate::compile::Scale;
use crate::measure::{Amount, Bottle, Form, FromTaps, Line, Mixture, Sheet, Water, Weighed, Work};
use crate::model::{Mass, Temperature, Volume, decimal};

/// The sheet shows a rounding error above this, in hundredths of a percent.
const OFF_SHOWN: i64 = 100;

/// A block of lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Rows {
    pub(super) heading: String,
    pub(super) how: &'static str,
    pub(super) rows: Vec<Row>,
    pub(super) makes: Option<String>,
}

/// One line, with a box to tick.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    pub(super) figure: Figure,
    /// The same in other units, or empty.
    pub(super) beside: String,
    pub(super) what: String,
    /// An extra line.
    pub(super) more: Option<String>,
}

/// All blocks of a sheet.
pub(super) fn blocks(sheet: &Sheet, units: Units) -> Vec<Rows> {
    match &sheet.work {
        Work::Weigh(bottles, _) => bottles.iter().map(|bottle| weighing(bottle, units)).collect(),
        Work::Dilute(mixture) => vec![measuring(mixture, units)],
    }
}

/// `750 ml`, `2.5 l`.
pub(super) fn volume_text(volume: Volume) -> String {
    if volume < Volume::from_ml(1000) {
        format!("{} ml", amount::millilitres(volume))
    } else {
        format!("{} l", decimal(volume.fl, 1000 * Volume::ML, 3))
    }
}

fn weighing(bottle: &Bottle, units: Units) -> Rows {
    let heading = match &bottle.part {
        Some(part) => format!("WEIGH {}", plain(part)),
        None => "WEIGH".to_owned(),
    };
    let rows = bottle.lines.iter().map(|line| match line {
        Line::Water(water) => poured(water, units),
        Line::Weighed(weighed) => weighed_out(weighed, units),
        Line::Mark(volume, at) => {
            let figure = amount::figure(Amount::Volume(*volume));
            let row = row(Amount::Volume(*volume), units, warm("water", *at, units));
            Row { figure: Figure { number: format!("to {}", figure.number), ..figure }, ..row }
        }
    });
    let how = "in this order, each wholly dissolved before the next";
    Rows { heading, how, rows: rows.collect(), makes: None }
}

fn measuring(mixture: &Mixture, units: Units) -> Rows {
    let stock = mixture.warmth.and_then(|warmth| warmth.stock);
    let parts = mixture
        .parts
        .iter()
        .map(|part| row(Amount::Volume(part.volume), units, warm(&plain(&part.what), stock, units)));
    let rows = mixture.water.iter().map(|water| poured(water, units)).chain(parts).collect();
    let whole = mixture.parts.iter().map(|part| part.volume).chain(mixture.water.map(|water| water.volume));
    let whole = whole.fold(Volume::ZERO, |sum, part| sum + part);
    let at = mixture.warmth.map(|warmth| warmth.at);
    let makes = warm(&format!("makes {} ml", amount::millilitres(whole)), at, units);
    let how = match (&mixture.water, mixture.parts.as_slice()) {
        (Some(_), _) => "the water first, then the solution into it",
        (None, [_]) => "as it comes from its bottle",
        (None, _) => "each into the one before",
    };
    Rows { heading: "MEASURE".to_owned(), how, rows, makes: Some(makes) }
}

fn row(amount: Amount, units: Units, what: String) -> Row {
    let beside = amount::beside(amount, units.beside).unwrap_or_default();
    Row { figure: amount::figure(amount), beside, what, more: None }
}

fn poured(water: &Water, units: Units) -> Row {
    let row = row(Amount::Volume(water.volume), units, warm("water", water.at, units));
    Row { more: water.taps.map(|taps| from_taps(&taps, units)), ..row }
}

/// `of it 1480 ml at 55 °C (131 °F) and 395 ml at 12 °C (53.6 °F)`; `all of it at 55 °C (131 °F)`.
fn from_taps(drawn: &FromTaps, units: Units) -> String {
    let one = |volume: Volume, at: Temperature| {
        let beside = amount::in_brackets(Amount::Volume(volume), units.beside);
        warm(&format!("{} ml{beside}", amount::millilitres(volume)), Some(at), units)
    };
    let both = [(drawn.hot, drawn.taps.hot), (drawn.cold, drawn.taps.cold)];
    let drawn = both.into_iter().filter(|(volume, _)| *volume > Volume::ZERO);
    match drawn.collect::<Vec<_>>().as_slice() {
        [(_, at)] => warm("all of it", Some(*at), units),
        both => {
            let both: Vec<String> = both.iter().map(|(volume, at)| one(*volume, *at)).collect();
            format!("of it {}", both.join(" and "))
        }
    }
}

/// `water at 50 °C (122 °F)`.
fn warm(what: &str, at: Option<Temperature>, units: Units) -> String {
    match at {
        Some(at) => format!("{what} at {}", both_degrees(tenths(at, units.scale), units.scale)),
        None => what.to_owned(),
    }
}

/// To a tenth of a degree, the resolution of a darkroom thermometer in its own scale.
fn tenths(at: Temperature, scale: Scale) -> Temperature {
    let tenth = match scale {
        Scale::Celsius => 900,
        Scale::Fahrenheit => 500,
    };
    Temperature { base: at.base.saturating_add(tenth / 2).div_euclid(tenth).saturating_mul(tenth) }
}

fn weighed_out(weighed: &Weighed, units: Units) -> Row {
    let mut what = format!("{}{}", plain(&weighed.what), in_form(&weighed.form));
    if let Some((amount, form)) = &weighed.instead_of {
        let (text, of) = (amount::text(rounded(*amount)), formula_form(form));
        what.push_str(&format!(", for {text}{}{of}", amount::in_brackets(*amount, units.beside)));
    }
    if weighed.off.abs() > OFF_SHOWN {
        let side = if weighed.off < 0 { "under" } else { "over" };
        what.push_str(&format!(", {} % {side}", decimal(weighed.off.abs(), 100, 1)));
    }
    row(weighed.amount, units, what)
}

/// The formula's amount, from a gram on to a hundredth.
fn rounded(amount: Amount) -> Amount {
    match amount {
        Amount::Mass(mass) if mass.pg >= Mass::G => Amount::Mass(mass.rounded(Mass { pg: Mass::G / 100 })),
        Amount::Mass(_) | Amount::Volume(_) => amount,
    }
}

fn in_form(form: &Form) -> String {
    match form {
        Form::Plain => String::new(),
        Form::State(state) => format!(", {}", plain(state)),
        Form::Strength(strength) => format!(", {strength}"),
        Form::Dissolved(share, state) => {
            let of = state.as_ref().map(|state| format!(" of {}", plain(state))).unwrap_or_default();
            let grams = decimal(i64::from(share.basis_points), 100, 2);
            format!(", {share} solution, {grams} g{of} in 100 ml")
        }
    }
}

fn formula_form(form: &Form) -> String {
    match form {
        Form::Plain => String::new(),
        Form::State(state) => format!(" of {}", plain(state)),
        Form::Strength(strength) => format!(" of {strength}"),
        // A formula names no percent solution of a weighed thing.
        Form::Dissolved(share, _) => format!(" of {share}"),
    }
}
