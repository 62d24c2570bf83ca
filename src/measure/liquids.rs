//! The liquids of a sheet: the water of a formula, a diluted solution (R8), and the temperature of the water (R9),
//! calculated as if all liquids were water.

use super::Findings;
use super::sheet::{Adding, Amount, Diluting, Form, FromTaps, Line, Mixture, Taps, Warmth, Water, Weighed};
use crate::check::dangerous;
use crate::compile::{MeasuredPart, measurable, measured, spoken_volume};
use crate::model::{Item, Solution, Substance, Temperature, Volume};
use crate::source::{Diagnostic, Span};

pub(super) struct Liquids {
    pub(super) make: Volume,
    /// The total volume of the liquids by the formula.
    pub(super) wanted: Volume,
    /// The total volume of the liquids in the forms that the user has.
    pub(super) had: Volume,
    /// The liquids that the user has in another form.
    pub(super) converted: Vec<Converted>,
}

/// A liquid in another form than the formula's.
pub(super) struct Converted {
    pub(super) what: String,
    /// The line of the formula.
    pub(super) span: Span,
    /// How much volume it has more than in the formula.
    pub(super) more: Volume,
    /// Its amount in both forms, in words.
    pub(super) words: String,
}

impl Liquids {
    /// Adds an ingredient of the formula.
    pub(super) fn add(&mut self, item: &Item, weighed: &Weighed) {
        let volume = |amount| if let Amount::Volume(volume) = amount { volume } else { Volume::ZERO };
        // The volume of water changes only if the user has another form of the ingredient, not because an amount is
        // rounded.
        let wanted = weighed.instead_of.as_ref().map_or(weighed.amount, |(wanted, _)| *wanted);
        let (wanted, had) = (volume(wanted), volume(weighed.amount));
        self.wanted = self.wanted + wanted;
        self.had = self.had + had;
        if let Some(written) = &weighed.instead_of {
            let words = format!(
                "{}, in place of {}",
                in_form(weighed.amount, &weighed.form),
                in_form(written.0, &written.1)
            );
            let what = weighed.what.clone();
            self.converted.push(Converted { what, span: item.span, more: had - wanted, words });
        }
    }

    /// Takes less water if the liquids in the user's forms have more volume than in the formula. Takes more water if
    /// they have less volume and no line of the formula fills up to a mark.
    pub(super) fn fit(&self, lines: &mut Vec<Line>, findings: &mut Findings) {
        let has_mark = lines.iter().any(|line| matches!(line, Line::Mark(..) | Line::Solvent(..)));
        let poured = waters(lines).map(|water| water.volume).sum::<Volume>();
        let more = self.had - self.wanted;
        // If a line fills up to the mark of the volume to make, less water is taken only if the liquids would go over
        // that mark.
        let less = if has_mark { (poured + self.had - self.make).min(more) } else { more };
        if less.fl < 0 && !has_mark {
            let volume = Volume { fl: less.fl.saturating_neg() };
            let volume = volume.rounded(measurable(volume));
            if let Some(water) = waters(lines).next() {
                water.volume = water.volume + volume;
            } else {
                lines.insert(0, Line::Water(Water { volume, at: None, taps: None }));
            }
        }
        if less.fl <= 0 {
            return;
        }
        if let Some(water) = waters(lines).find(|water| less < water.volume) {
            let was = water.volume;
            let rest = was - less;
            water.volume = rest - Volume { fl: rest.fl.rem_euclid(measurable(rest).fl) };
            let (now, was) = (water.volume.in_ml(1), was.in_ml(1));
            findings
                .warnings
                .push(format!("only {now} ml of water instead of {was} ml: the liquids make up the rest"));
            return;
        }
        findings.errors.extend(self.no_room(more));
    }

    /// The error for liquids that leave no room for the water of the formula, at the liquid that grows most.
    fn no_room(&self, more: Volume) -> Option<Diagnostic> {
        let message = if self.had > self.make {
            let (had, make) = (self.had.in_ml(1), self.make.in_ml(1));
            format!("without any water there would be {had} ml, more than the {make} ml that is made")
        } else {
            format!("there would be {} ml more than in the formula, more than its water", more.in_ml(1))
        };
        let most = self.converted.iter().max_by_key(|one| one.more)?;
        let error = Diagnostic::error("no-room-for-it", most.span, message).label(&most.words);
        let others = self.converted.iter().filter(|one| one.span != most.span && one.more > Volume::ZERO);
        let error = others.fold(error, |error, one| error.other(one.span, &one.words));
        Some(error.help(stronger(&most.what)))
    }
}

/// The help for an ingredient that is too weak in the form that the user has.
pub(super) fn stronger(what: &str) -> String {
    format!("give a stronger solution of {what} in --have, or leave {what} out of --have")
}

/// An amount with its form, such as `300 ml at 28 %`.
fn in_form(amount: Amount, form: &Form) -> String {
    let amount = in_words(amount);
    match form {
        Form::Plain => amount,
        Form::State(state) => format!("{amount} {state}"),
        Form::Strength(share) | Form::Dissolved(share, _) => format!("{amount} at {share}"),
    }
}

pub(super) fn in_words(amount: Amount) -> String {
    match amount {
        Amount::Mass(mass) => mass.to_string(),
        Amount::Volume(volume) => spoken_volume(volume),
    }
}

fn waters(lines: &mut [Line]) -> impl Iterator<Item = &mut Water> {
    lines.iter_mut().filter_map(|line| if let Line::Water(water) = line { Some(water) } else { None })
}

/// The diluted solution; `None`, with an error, if the dilution has more or fewer parts than the solution has bottles.
pub(super) fn mixture(
    solution: &Solution,
    make: Volume,
    asked: &Diluting,
    findings: &mut Findings,
) -> Option<Mixture> {
    let Diluting { dilution, warmth, added } = asked;
    let faults = &mut findings.errors;
    if let Some((message, help)) = solution.misfit(dilution) {
        faults.push(Diagnostic::error("dilution-of-other-bottles", solution.span, message).help(help));
        return None;
    }
    let make = make.rounded_up(measurable(make));
    let part = added.as_ref().map(|added| addition(solution, added, make, findings));
    let own = part.as_ref().map_or(make, |part| make - part.volume);
    let (mut parts, volume) = measured(solution, None, dilution, own, Volume::ZERO);
    parts.extend(part);
    let faults = &mut findings.errors;
    let mut water = (volume > Volume::ZERO).then_some(Water { volume, at: None, taps: None });
    match (warmth, &mut water) {
        (None, _) => {}
        (Some(warmth), Some(water)) => {
            let stock = parts.iter().map(|part| part.volume).sum();
            water.at = water_for(stock, volume, *warmth, solution.span, faults);
            if let Some(taps) = warmth.taps {
                split(water, taps, solution.span, faults);
            }
        }
        (Some(_), None) => {
            let message = format!(
                "no water is added to {} {dilution}, so the water cannot set its temperature",
                solution.name
            );
            let help = "leave --at out, and warm or cool the bottle in a water bath";
            faults.push(Diagnostic::error("no-water-to-warm", solution.span, message).help(help));
        }
    }
    Some(Mixture { dilution: dilution.clone(), warmth: *warmth, water, parts, added: added.clone() })
}

/// The added solution as a part of the mixture: its name and the volume to measure out.
fn addition(solution: &Solution, added: &Adding, make: Volume, findings: &mut Findings) -> MeasuredPart {
    let Adding { solution: other, per_litre } = added;
    findings.errors.extend(dangerous((solution, solution.span), (other, other.span)));
    if other.bottles() > 1 {
        let message = format!("'{}' comes in {} bottles", other.name, other.bottles());
        let help = "declare the mixture of its bottles as a solution, and add that one";
        findings.errors.push(Diagnostic::error("addition-in-bottles", other.span, message).help(help));
    }
    let exact = make.scaled(per_litre.fl, Volume::LITRE);
    let volume = exact.rounded(measurable(exact));
    if volume == Volume::ZERO {
        let (ml, name) = (exact.in_ml(4), &other.name);
        findings.warnings.push(format!("{ml} ml of {name} is too little to measure: dilute it first"));
    }
    MeasuredPart { what: other.name.clone(), volume }
}

const FREEZES: Temperature = Temperature::celsius_whole(0);
const BOILS: Temperature = Temperature::celsius_whole(100);

/// The mean temperature of several liquids, to the nearest 1/9000 °C. `heat` is the sum of volume times temperature,
/// `whole` the total volume. `None` if `whole` is not positive.
fn mean(heat: i128, whole: i128) -> Option<Temperature> {
    if whole <= 0 {
        return None;
    }
    i64::try_from((2 * heat + whole).div_euclid(2 * whole)).ok().map(|base| Temperature { base })
}

/// The temperature that the water must have to bring the mixture to the wanted temperature; `None`, with an error, if
/// such water would be ice or steam.
fn water_for(
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
    let message = format!("the water would have to be at {}, which is {state}", degrees(at));
    let reached = mean(heat(stock + water, warmth.at) - heat(water, edge), i128::from(stock.fl));
    let fault = Diagnostic::error("water-frozen-or-boiling", span, message);
    let help = reached.map(|stock| format!("bring the stock to at {side} {} first", degrees(stock)));
    faults.push(fault.help(help.unwrap_or_else(|| "choose a temperature nearer to the stock's".to_owned())));
    None
}

/// Sets how much of the water is from the hot and the cold tap, if the water has a temperature.
pub(super) fn split(water: &mut Water, taps: Taps, span: Span, faults: &mut Vec<Diagnostic>) {
    let Some(at) = water.at else { return };
    if !(taps.cold..=taps.hot).contains(&at) {
        let (at_words, cold, hot) = (degrees(at), degrees(taps.cold), degrees(taps.hot));
        let message = format!("the water would have to be at {at_words}, but the taps give {cold} to {hot}");
        let change = if at < taps.cold { "cool" } else { "heat" };
        let help = format!("{change} some water first, and name its temperature in --taps");
        faults.push(Diagnostic::error("water-outside-the-taps", span, message).help(help));
        return;
    }
    let hot = water.volume.scaled(at.above(taps.cold).base, taps.hot.above(taps.cold).base);
    let hot = hot.rounded(measurable(hot)).min(water.volume);
    water.taps = Some(FromTaps { taps, hot, cold: water.volume - hot });
}

/// Reports an error if the formula states no temperature for its water.
pub(super) fn check_stated(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    if solution.items().any(|item| item.what == Substance::Water && item.at.is_some()) {
        return;
    }
    let message = format!("{} states no temperature for its water", solution.name);
    let help = "leave --taps out, or state the temperature in the formula: water 750 ml at 50 C";
    faults.push(Diagnostic::error("water-without-temperature", solution.span, message).help(help));
}

fn degrees(at: Temperature) -> String {
    format!("{} °C", at.in_celsius(1))
}
