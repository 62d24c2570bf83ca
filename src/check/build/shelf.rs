//! Builds films, and solutions with their formulas.

use super::super::error;
use super::ingredients::amount_of;
use super::{Builder, named};
use crate::chemistry::Ingredient;
use crate::model::{
    Clearing, Contained, Dilution, Extend, Film, Formula, Item, Keeps, KeepsFor, Material, Measure,
    OwnContent, Quickening, Replenisher, Solution, Stated, Substance, Treats, Volume,
};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(super) fn film(&mut self, reading: &Reading) -> Option<Film> {
        let (clears, complete) = self.rows(reading, Builder::clearing);
        self.distinct(
            "repeated-clearing",
            clears.iter().map(|clears| ((clears.solution.span, &clears.dilution), clears.span)),
            |_| "the film has two clearing times in this bath; it may have one, for one temperature".to_owned(),
            "keep the one for the temperature at which you work, or else the one measured last, and remove the other",
        );
        let (name, title) = named(reading)?;
        (complete && reading.is_sound()).then(|| Film {
            material: Material::parse(reading.row.word).unwrap_or_default(),
            both_sides: reading.one::<say::Coated>().is_some(),
            name,
            title,
            span: reading.span,
            extent: reading.extent,
            grain: reading.stated(say::Grain::grain).map(|grain| grain.value),
            speed: reading.stated(say::Speed::speed),
            clears,
            cautions: reading.cautions(),
            notes: reading.notes(),
        })
    }

    fn clearing(&mut self, row: Matched<'_, say::Clears>) -> Option<Clearing> {
        let (name, place) = (row.said(say::Clears::solution)?, row.place(say::Clears::dilution));
        let (solution, dilution) = self.diluted(name, None, row.dilution(), place)?;
        let (time, at) = row.time().zip(row.at())?;
        Some(Clearing { time, solution, dilution, at, span: row.span })
    }

    pub(super) fn solution(&mut self, reading: &Reading) -> Option<Solution> {
        let before = self.faults.len();
        let (name, title) = named(reading)?;
        let bottles: Vec<(&str, Span)> = reading.each().flat_map(|row| row.all(say::Parts::part)).collect();
        self.distinct(
            "repeated-part",
            bottles.iter().copied(),
            |name| format!("the bottle '{name}' is named twice"),
            "give each bottle its own name, such as: parts a, b",
        );
        let declared = self.declared_ingredients(reading);
        let parts: Vec<String> = bottles.iter().map(|(name, _)| (*name).to_owned()).collect();
        let solution = Solution {
            name,
            title,
            span: reading.span,
            extent: reading.extent,
            role: reading.stated(say::Role::role).map(|role| role.value),
            formulas: self.formulas(reading, &parts),
            parts,
            contains: reading
                .each()
                .flat_map(|row| row.all(say::Contains::item))
                .filter_map(|(item, span)| contained(item, span))
                .collect(),
            has_unlisted: reading
                .each()
                .flat_map(|row| row.all(say::Contains::item))
                .any(|(item, _)| is_unlisted(item)),
            cautions: cautions(reading, &declared),
            declared,
            ph: reading.stated(say::Ph::ph),
            needs: reading.stated(say::Needs::volume),
            treats: reading.each().filter_map(treats).collect(),
            extend: reading.one().and_then(extend),
            replenish: reading.stated(say::Replenish::volume),
            replenisher: self.replenisher(reading),
            rate: reading.one().and_then(rate),
            keeps: reading.each().filter_map(keeps).collect(),
            notes: reading.notes(),
        };
        self.distinct(
            "repeated-capacity",
            solution.treats.iter().map(|treats| (&treats.at, treats.span)),
            |_| "the solution has two capacities at this dilution".to_owned(),
            "remove one line; or, if one is for another dilution, write that dilution: treats 10 rolls per 1 l at 1+9",
        );
        self.distinct(
            "repeated-keeping",
            solution.keeps.iter().map(|keeps| ((keeps.half_full, &keeps.at), keeps.span)),
            |_| "the solution has two keeping times for the same bath".to_owned(),
            "remove one line; or, in a file of wetside 2, say for which dilution one holds: keeps 2 months at 1+9",
        );
        let treated = solution.treats.iter().map(|treats| (&treats.at, treats.span));
        let kept = solution.keeps.iter().map(|keeps| (&keeps.at, keeps.span));
        for (at, span) in treated.chain(kept) {
            at.iter().for_each(|dilution| _ = self.parts_fit(&solution, dilution, span));
        }
        (reading.is_sound() && self.no_error_since(before)).then_some(solution)
    }

    /// The solution that a `replenish` line names after `with`. `None` if it names none, or after an error.
    fn replenisher(&mut self, reading: &Reading) -> Option<Replenisher> {
        let name = reading.one_sound::<say::Replenish>()?.said(say::Replenish::with)?;
        let key = self.scopes.find(Declared::Solution, name, &mut self.faults)?;
        let other = self.units.get(&key.file)?.readings.get(key.at)?;
        let (name, title) = named(other)?;
        // Errors in these formulas are dropped here: they are reported where that solution itself is built.
        let before = self.faults.len();
        let (formulas, _) = self.rows(other, Builder::formula);
        self.faults.truncate(before);
        Some(Replenisher { name, title, formulas })
    }

    /// Whether a formula may be filled up to its volume with the ingredient `what` in place of water, as in `NAME to 1
    /// l`. That is allowed only in edition 2, and never with a salt.
    fn is_solvent(&self, what: &Substance, span: Span) -> bool {
        let is_salt = matches!(what, Substance::Known(known) if !known.strength && known.states.len() > 1);
        !is_salt && self.edition(span.file) > 1
    }

    /// Whether a dilution has exactly one part for each bottle of its solution. Reports an error if not.
    pub(super) fn parts_fit(&mut self, solution: &Solution, dilution: &Dilution, span: Span) -> bool {
        let Some((message, help)) = solution.misfit(dilution) else { return true };
        self.report(error("dilution-parts", span, message, help).other(solution.span, "the solution"));
        false
    }

    fn formulas(&mut self, reading: &Reading, parts: &[String]) -> Vec<Formula> {
        let formulas: Vec<Formula> = reading.each().filter_map(|row| self.formula(row)).collect();
        for formula in &formulas {
            let makes = formula.makes.value;
            let (message, help) = match &formula.part {
                None if parts.is_empty() => continue,
                Some(part) if parts.contains(part) => continue,
                Some(part) if parts.is_empty() => (
                    format!("the solution has no bottle '{part}'"),
                    format!("for one bottle, write: formula for {makes}; for several, name them: parts a, b"),
                ),
                part => (
                    match part {
                        Some(part) => format!("the solution has no bottle '{part}'"),
                        None => "this formula does not name its bottle".to_owned(),
                    },
                    format!(
                        "name the bottle, {}, such as: formula {} for {makes}",
                        parts.join(" or "),
                        parts.first().map_or("a", String::as_str)
                    ),
                ),
            };
            self.error("formula-part", formula.makes.span, message, help);
        }
        self.distinct(
            "repeated-formula",
            formulas.iter().map(|formula| (&formula.part, formula.makes.span)),
            |_| "the solution has two formulas for the same bottle".to_owned(),
            "keep the right formula and remove the other",
        );
        formulas
    }

    fn formula(&mut self, reading: Matched<'_, say::Formula>) -> Option<Formula> {
        let makes = Stated::new(reading.makes()?, reading.span);
        let (items, _) = self.rows(&reading, Builder::formula_item);
        for item in &items {
            let makes = makes.value;
            if let Measure::UpTo(volume) = item.measure
                && volume != makes
            {
                self.report(
                    error(
                        "mark-differs",
                        item.span,
                        format!("the water goes up to {volume}, and the formula is for {makes}"),
                        match item.what {
                            Substance::Water => {
                                format!("write the same volume in both, such as: water to {makes}")
                            }
                            _ => "write the same volume in both".to_owned(),
                        },
                    )
                    .other(reading.span, "what the formula makes"),
                );
            }
        }
        let formula = Formula { part: reading.part().map(str::to_owned), makes, items };
        self.faults.extend(over_the_mark(&formula));
        Some(formula)
    }

    fn formula_item(&mut self, row: Matched<'_, say::FormulaLine>) -> Option<Item> {
        let what = match row.water() {
            Some(()) => Substance::Water,
            None => row.ingredient()?,
        };
        let measure = amount_of(row)?;
        let state = row.said(say::FormulaLine::state);
        let strength = row.strength();
        let at = row.at();
        let weighed = matches!(measure, Measure::Mass(_) | Measure::MassPerLitre(_));
        if what == Substance::Water {
            if weighed || state.is_some() || strength.is_some() {
                self.error(
                    "water-by-weight",
                    row.span,
                    "water needs a volume",
                    "write water 750 ml, water 750 ml at 50 C, or water to 1 l",
                );
            }
        } else if at.is_some() || (matches!(measure, Measure::UpTo(_)) && !self.is_solvent(&what, row.span)) {
            self.error(
                "mark-without-water",
                row.span,
                "only water can have a temperature, or be filled up 'to' a volume",
                "write the amount of the ingredient, such as 100 g or 50 ml",
            );
        }
        if let Substance::Known(ingredient) = what {
            self.faults.extend(match state {
                Some((state, span)) => unknown_state(ingredient, state, span),
                None if strength.is_none() => missing_state(ingredient, row.span),
                None => None,
            });
        }
        let state = state.map(|(state, _)| state.to_owned());
        Some(Item { what, measure, state, strength, at, span: row.span })
    }
}

fn cautions(reading: &Reading, declared: &[OwnContent]) -> Vec<String> {
    let mut all = reading.cautions();
    for one in declared.iter().map(|own| &own.ingredient) {
        let own = one.caution().into_iter().chain(one.cautions.clone());
        let new: Vec<String> = own.filter(|text| !all.contains(text)).collect();
        all.extend(new);
    }
    all
}

fn is_unlisted(item: &Reading) -> bool {
    let what = item.view::<say::Contained>().and_then(|row| row.ingredient());
    matches!(what, Some(Substance::Other(_)))
}

/// An ingredient that a `contains` statement names, if it is in the program's table; otherwise `None`.
/// `declared_ingredients` handles the other ingredients.
fn contained(item: &Reading, span: Span) -> Option<Contained> {
    let row = item.view::<say::Contained>()?;
    let Substance::Known(ingredient) = row.ingredient()? else { return None };
    Some(Contained { ingredient, share: row.share(), per_litre: row.per_litre(), span })
}

fn treats(row: Matched<'_, say::Treats>) -> Option<Treats> {
    let (rolls, per) = row.rolls().zip(row.per())?;
    Some(Treats { rolls, per, at: row.at().cloned(), span: row.span })
}

fn keeps(row: Matched<'_, say::Keeps>) -> Option<Keeps> {
    let time = row.keeping().map(KeepsFor::Calendar).or(row.time().map(KeepsFor::Clock))?;
    Some(Keeps { time, half_full: row.half_full().is_some(), at: row.at().cloned(), span: row.span })
}

fn extend(row: Matched<'_, say::Extend>) -> Option<Stated<Extend>> {
    let (by, per_rolls) = row.by().zip(row.rolls())?;
    Some(Stated::new(Extend { by, per_rolls }, row.span))
}

fn rate(row: Matched<'_, say::Rate>) -> Option<Stated<Quickening>> {
    let (factor, interval) = row.factor().zip(row.interval())?;
    Some(Stated::new(Quickening { factor, interval }, row.span))
}

/// The error if the liquids of a formula with a line such as `water to 1 l` exceed the volume that the formula makes;
/// otherwise `None`. Salts are not counted. After that line only water is counted, because an acid is often added last.
fn over_the_mark(formula: &Formula) -> Option<Diagnostic> {
    let makes = formula.makes.value;
    formula.items.iter().find(|item| matches!(item.measure, Measure::UpTo(_)))?;
    let (mut all, mut others, mut over, mut has_water) = (Volume::ZERO, Volume::ZERO, None, false);
    let mut mark = None;
    for item in &formula.items {
        let liquid = match item.measure {
            Measure::UpTo(_) => {
                mark = Some(item.span);
                Volume::ZERO.max(makes - all)
            }
            _ if mark.is_some() && item.what != Substance::Water => Volume::ZERO,
            Measure::Volume(volume) => volume,
            Measure::VolumePerLitre(volume) => volume.scaled(makes.fl, 1000 * Volume::ML),
            _ => Volume::ZERO,
        };
        all = all + liquid;
        match item.what {
            Substance::Water => has_water = true,
            _ => others = others + liquid,
        }
        over = over.or((makes < all).then_some((item.span, mark)));
    }
    let (span, mark) = over?;
    if let Some(mark) = mark {
        let message = format!("this water comes after the formula is filled up to {makes}");
        let help = "remove this line, or move it above the line that fills up";
        return Some(error("over-the-mark", span, message, help).other(mark, "filled up here"));
    }
    let help = if others < makes && has_water {
        let most = (makes - others).scaled(3, 4).in_ml(0);
        format!(
            "use less water at the start, such as: water {most} ml; and end with the line: water to {makes}"
        )
    } else {
        "check the amounts, or make more: write a larger volume after 'formula for' and 'water to'".to_owned()
    };
    Some(
        error(
            "over-the-mark",
            span,
            format!("the liquids come to {all}, and the formula is for {makes}"),
            help,
        )
        .other(formula.makes.span, "what the formula makes"),
    )
}

fn states(ingredient: &Ingredient) -> Vec<&'static str> {
    ingredient.states.iter().map(|state| state.word).filter(|word| !word.is_empty()).collect()
}

fn unknown_state(ingredient: &Ingredient, state: &str, span: Span) -> Option<Diagnostic> {
    let words = states(ingredient);
    if words.contains(&state) {
        return None;
    }
    let message = format!("{} is not sold as '{state}'", ingredient.name);
    if words.is_empty() {
        return Some(error("unknown-state", span, message, "remove the state: this ingredient has only one"));
    }
    let fault = Diagnostic::error("unknown-state", span, message);
    Some(words.into_iter().fold(fault, Diagnostic::write))
}

fn missing_state(ingredient: &Ingredient, span: Span) -> Option<Diagnostic> {
    let words = states(ingredient);
    let name = ingredient.name;
    let fault = if ingredient.strength {
        let message = format!("{name} is sold in several strengths, and none is stated");
        error("strength-not-said", span, message, "write its strength after the amount, such as 28 %")
    } else if words.len() > 1 && ingredient.state(None).is_none() {
        let message =
            format!("{name} is sold with and without water of crystallisation, and neither is stated");
        Diagnostic::error("state-not-said", span, message)
    } else {
        return None;
    };
    Some(words.iter().fold(fault, |fault, word| {
        let title = match ingredient.strength {
            true => format!("or write {word} after the amount"),
            false => format!("write {word} after the amount"),
        };
        fault.change(span.after(), format!(" {word}"), title, false)
    }))
}
