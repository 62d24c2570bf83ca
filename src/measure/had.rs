//! The ingredients of `--have`, by a whole name of the formula or by a unique end of one.

use super::refused;
use super::sheet::{Had, HadAs, Weighing};
use crate::model::{Item, Solution, Substance};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::suggest;

/// The forms of `--have`, by the whole names of the formula.
#[derive(Debug, Default)]
pub(super) struct Forms<'a>(Vec<(&'a str, &'a HadAs)>);

impl<'a> Forms<'a> {
    /// Finds each ingredient in the solution's formulas.
    pub(super) fn of(solution: &'a Solution, asked: &'a Weighing, faults: &mut Vec<Diagnostic>) -> Forms<'a> {
        let mut named: Vec<(&str, Span)> = Vec::new();
        for item in solution.items() {
            if let Some(name) = name(item).filter(|name| named.iter().all(|(known, _)| known != name)) {
                named.push((name, item.span));
            }
        }
        let place = solution.formulas.first().map_or(solution.span, |formula| formula.makes.span);
        let mut forms = Forms::default();
        for had in &asked.had {
            match found(&named, had, place) {
                Ok((name, span)) if forms.get(name).is_some() => {
                    let message = format!("--have names {name} twice");
                    let help = format!("write it once: {}={}", had.name, text(&had.form));
                    faults.push(Diagnostic::error("had-twice", span, message).help(help));
                }
                Ok((name, _)) => forms.0.push((name, &had.form)),
                Err(fault) => faults.push(*fault),
            }
        }
        forms
    }

    /// The form of an ingredient, if it is not the formula's.
    pub(super) fn get(&self, name: &str) -> Option<&'a HadAs> {
        self.0.iter().find(|(known, _)| *known == name).map(|(_, form)| *form)
    }
}

/// The form as `--have` takes it.
fn text(form: &HadAs) -> String {
    match form {
        HadAs::State(word) => word.clone(),
        HadAs::Percent(share) => share.to_string().replace(' ', ""),
    }
}

/// The name of an ingredient; `None` for water.
pub(super) fn name(item: &Item) -> Option<&str> {
    match &item.what {
        Substance::Water => None,
        Substance::Known(ingredient) => Some(ingredient.name),
        Substance::Other(name) => Some(name),
    }
}

fn found<'a>(named: &[(&'a str, Span)], had: &Had, place: Span) -> Result<(&'a str, Span), Box<Diagnostic>> {
    let own = had.name.as_str();
    if let Some(whole) = named.iter().find(|(name, _)| *name == own) {
        return Ok(*whole);
    }
    let end = format!("-{own}");
    let ends: Vec<(&str, Span)> = named.iter().filter(|(name, _)| name.ends_with(&end)).copied().collect();
    match ends.as_slice() {
        [one] => Ok(*one),
        [] => {
            let names: Vec<&str> = named.iter().map(|(name, _)| *name).collect();
            let help = match suggest(own, names.iter().copied()) {
                Some(near) => format!("write {near}"),
                None if names.is_empty() => "it has only water: leave --have out".to_owned(),
                None => format!("it has {}", names.join(", ")),
            };
            let message = format!("there is no '{own}' in this formula");
            refused("had-not-in-formula", place, message, help)
        }
        [(first, span), others @ ..] => {
            let names: Vec<&str> = ends.iter().map(|(name, _)| *name).collect();
            let message = format!("'{own}' can mean {}", names.join(" or "));
            let mut fault = Diagnostic::error("had-names-several", *span, message).label("one of them");
            for (_, span) in others {
                fault = fault.other(*span, "another");
            }
            Err(Box::new(fault.help(format!("write the whole name in --have, such as {first}=…"))))
        }
    }
}
