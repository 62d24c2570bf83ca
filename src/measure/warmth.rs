//! R9. The temperature of a mixture is the mean of its parts' by volume, as if all were water.

use super::asked::{Taps, Warmth};
use super::sheet::{FromTaps, Water};
use crate::compile::measurable;
use crate::model::{Solution, Substance, Temperature, Volume};
use crate::source::{Diagnostic, Span};

pub(super) const FAULTS: &[(&str, &str)] = &[
    ("water-frozen-or-boiling", "a temperature that no liquid water can give a mixture"),
    ("water-outside-the-taps", "water that is warmer or colder than both taps"),
    ("water-without-temperature", "taps for water without a temperature"),
];

const FREEZES: Temperature = Temperature::celsius_whole(0);
const BOILS: Temperature = Temperature::celsius_whole(100);

/// `heat / whole`, half up; `None` without volume.
fn mean(heat: i128, whole: i128) -> Option<Temperature> {
    if whole <= 0 {
        return None;
    }
    i64::try_from((2 * heat + whole).div_euclid(2 * whole)).ok().map(|base| Temperature { base })
}

/// The temperature of the water that brings a mixture to its temperature.
pub(super) fn water_for(
    stock: Volume,
    water: Volume,
    warmth: Warmth,
    span: Span,
    faults: &mut Vec<Diagnostic>,
) -> Option<Temperature> {
    let of_stock = warmth.stock.unwrap_or(warmth.at);
    let heat = |volume: Volume, at: Temperature| i128::from(volume.fl) * i128::from(at.base);
    let at = mean(heat(stock + water, warmth.at) - heat(stock, of_stock), i128::from(water.fl))?;
    if (FREEZES..=BOILS).contains(&at) {
        return Some(at);
    }
    let (state, edge, side) = if at < FREEZES { ("ice", FREEZES, "most") } else { ("steam", BOILS, "least") };
    let message = format!("the water must be at {}, which is {state}", degrees(at));
    let reached = mean(heat(stock + water, warmth.at) - heat(water, edge), i128::from(stock.fl));
    let fault = Diagnostic::error("water-frozen-or-boiling", span, message);
    let help = reached.map(|stock| format!("bring the stock to at {side} {} first", degrees(stock)));
    faults.push(fault.help(help.unwrap_or_else(|| "choose a temperature nearer to the stock's".to_owned())));
    None
}

/// Splits water with a temperature between two taps.
pub(super) fn split(water: &mut Water, taps: Taps, span: Span, faults: &mut Vec<Diagnostic>) {
    let Some(at) = water.at else { return };
    if !(taps.cold..=taps.hot).contains(&at) {
        let (at_words, cold, hot) = (degrees(at), degrees(taps.cold), degrees(taps.hot));
        let message = format!("the water must be at {at_words}, but the taps give {cold} to {hot}");
        let change = if at < taps.cold { "cool" } else { "heat" };
        let help = format!("{change} some water first, and name its temperature in --taps");
        faults.push(Diagnostic::error("water-outside-the-taps", span, message).help(help));
        return;
    }
    let hot = water.volume.scaled(at.above(taps.cold).base, taps.hot.above(taps.cold).base);
    let hot = hot.rounded(measurable(hot)).min(water.volume);
    water.taps = Some(FromTaps { taps, hot, cold: water.volume - hot });
}

/// Reports a formula that states no temperature for its water.
pub(super) fn check_stated(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    let mut items = solution.formulas.iter().flat_map(|formula| &formula.items);
    if items.any(|item| item.what == Substance::Water && item.at.is_some()) {
        return;
    }
    let message = format!("{} states no temperature for its water", solution.name);
    let fault = Diagnostic::error("water-without-temperature", solution.span, message);
    faults.push(fault.help("leave --taps out, or state it in the formula: water 750 ml at 50 C"));
}

fn degrees(at: Temperature) -> String {
    format!("{} °C", at.in_celsius(1))
}
