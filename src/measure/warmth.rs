//! R9. The temperature of a mixture is that of its parts, each counted by its volume, as if all held as much
//! heat as water does.

use super::asked::{Taps, Warmth};
use super::sheet::{FromTaps, Water};
use crate::compile::measurable;
use crate::model::{Solution, Substance, Temperature, Volume};
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("water-frozen-or-boiling", "a temperature that no water can bring a mixture to"),
    ("water-outside-the-taps", "water that is warmer or colder than both taps"),
    ("water-without-temperature", "taps for water whose temperature nobody says"),
];

/// Water freezes.
const FREEZES: Temperature = Temperature::celsius_whole(0);
/// Water boils.
const BOILS: Temperature = Temperature::celsius_whole(100);

/// `heat / whole`, half up; `None` for no volume at all.
fn shared(heat: i128, whole: i128) -> Option<Temperature> {
    if whole <= 0 {
        return None;
    }
    i64::try_from((2 * heat + whole).div_euclid(2 * whole)).ok().map(|base| Temperature { base })
}

/// How warm water has to be, so that with that much stock it comes to what is asked.
pub(super) fn water_for(
    (stock, water): (Volume, Volume),
    warmth: Warmth,
    span: Span,
    faults: &mut Vec<Diagnostic>,
) -> Option<Temperature> {
    let of_stock = warmth.stock.unwrap_or(warmth.at);
    let heat = |volume: Volume, at: Temperature| i128::from(volume.fl) * i128::from(at.base);
    let at = shared(heat(stock + water, warmth.at) - heat(stock, of_stock), i128::from(water.fl))?;
    if (FREEZES..=BOILS).contains(&at) {
        return Some(at);
    }
    let (state, edge, side) = if at < FREEZES { ("ice", FREEZES, "most") } else { ("steam", BOILS, "least") };
    let message = format!("the water would have to be at {}: that is {state}", degrees(at));
    let reached = shared(heat(stock + water, warmth.at) - heat(water, edge), i128::from(stock.fl));
    let fault = Diagnostic::error("water-frozen-or-boiling", span, message);
    let help = reached.map(|stock| format!("bring the stock to {} at the {side} first", degrees(stock)));
    faults.push(fault.help(help.unwrap_or_else(|| "ask for a temperature nearer to the stock's".to_owned())));
    None
}

/// Draws water of its temperature from two taps, if it has one and they reach it.
pub(super) fn draw(water: &mut Water, taps: Taps, span: Span, faults: &mut Vec<Diagnostic>) {
    let Some(at) = water.at else { return };
    if !(taps.cold..=taps.hot).contains(&at) {
        let message = format!(
            "the water has to be at {}, and the taps give {} to {}",
            degrees(at),
            degrees(taps.cold),
            degrees(taps.hot)
        );
        let help = if at < taps.cold {
            "cool some of it first, and name that as a tap"
        } else {
            "heat some of it first, and name that as a tap"
        };
        faults.push(Diagnostic::error("water-outside-the-taps", span, message).help(help));
        return;
    }
    let hot = water.volume.scaled(at.above(taps.cold).base, taps.hot.above(taps.cold).base);
    let hot = hot.rounded(measurable(hot)).min(water.volume);
    water.taps = Some(FromTaps { taps, hot, cold: water.volume - hot });
}

/// Tells of a formula of which no water has a temperature.
pub(super) fn is_said(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    let mut items = solution.formulas.iter().flat_map(|formula| &formula.items);
    if items.any(|item| item.what == Substance::Water && item.at.is_some()) {
        return;
    }
    let message = format!("{} does not say how warm its water is", solution.name);
    let fault = Diagnostic::error("water-without-temperature", solution.span, message);
    faults.push(fault.help("leave --taps out, or say it in the formula: water 750 ml at 50 C"));
}

fn degrees(at: Temperature) -> String {
    format!("{} °C", at.in_celsius(1))
}
