//! Finds the ingredients of `--have` in the formula, by the whole name or by an ending that no other name has.

use super::refused;
use super::sheet::{Had, HadAs, Weighing};
use crate::model::{Solution, Substance};
use crate::source::{Diagnostic, Map, Span};
use crate::vocabulary::suggest;

/// The form that `--have` gives for each ingredient, by the ingredient's whole name.
pub(super) type Forms<'a> = Map<&'a str, &'a HadAs>;

pub(super) fn forms<'a>(
    solution: &'a Solution,
    asked: &'a Weighing,
    faults: &mut Vec<Diagnostic>,
) -> Forms<'a> {
    let mut named: Vec<(&str, Span)> = Vec::new();
    for item in solution.items().filter(|item| item.what != Substance::Water) {
        let name = item.what.name();
        if named.iter().all(|(known, _)| *known != name) {
            named.push((name, item.span));
        }
    }
    let place = solution.formulas.first().map_or(solution.span, |formula| formula.makes.span);
    let mut forms = Forms::new();
    for had in &asked.had {
        match found(&named, had, place) {
            Ok((name, span)) if forms.contains_key(name) => {
                let message = format!("--have gives {name} twice");
                let help = format!("give one form only, such as: --have {name}={}", text(&had.form));
                faults.push(Diagnostic::error("had-twice", span, message).help(help));
            }
            Ok((name, _)) => {
                forms.insert(name, &had.form);
            }
            Err(fault) => faults.push(*fault),
        }
    }
    forms
}

/// The form of an ingredient, as the user writes it in `--have`.
fn text(form: &HadAs) -> String {
    match form {
        HadAs::State(word) => word.clone(),
        HadAs::Percent(share) => share.to_string().replace(' ', ""),
    }
}

/// The name and span of the ingredient that an entry of `--have` means.
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
                None if names.is_empty() => "the formula has only water: leave --have out".to_owned(),
                None => format!("name in --have one of its ingredients: {}", names.join(", ")),
            };
            let message = format!("the formula has no ingredient '{own}'");
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
