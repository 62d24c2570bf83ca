//! `rules` and `words`: lists of the rules and of the language's words, and an explanation of each.

use super::{Ended, Failure, output};
use crate::check::{RULES, Rule, faults, rule};
use crate::emit;
use crate::report::sanitise;
use crate::vocabulary::suggest;

const REFERENCE: &str = include_str!("../../grammar/README.md");

pub(super) fn rules(name: Option<&str>) -> Result<Ended, Failure> {
    let Some(name) = name else {
        let width = RULES.iter().map(|rule| rule.name.len()).max().unwrap_or(0);
        let line = |Rule { name, level, meaning, .. }: &Rule| {
            format!("{name:<width$}  {:<7}  {meaning}\n", level.word())
        };
        return output::print(RULES.iter().map(|rule| line(rule)).collect::<String>());
    };
    let known = faults();
    output::print(if let Some(rule) = rule(name) {
        let lifted = if rule.liftable { ", unless you change it" } else { "" };
        emit::manual(&format!("{}\n**Level.** {}{lifted}\n", rule.page(), rule.weight()))
    } else if let Some(paragraph) = arithmetic(name) {
        emit::manual(&paragraph.replace('\n', "\n\n"))
    } else if let Some((name, meaning)) = known.iter().find(|(own, _)| *own == name) {
        format!("{name}\n\nReports {meaning}. It is an error of writing and cannot be turned off.\n")
    } else {
        return Err(unknown("rule", name, suggest(name, known.iter().map(|(name, _)| *name))));
    })
}

/// The paragraph of the language reference about the rule of the arithmetic with this number, such as R13.
fn arithmetic(number: &str) -> Option<&'static str> {
    let head = format!("**{}. ", number.to_ascii_uppercase());
    let head = Some(head).filter(|_| number.starts_with(['R', 'r']))?;
    REFERENCE.split("\n\n").find(|paragraph| paragraph.starts_with(&head))
}

pub(super) fn words(name: Option<&str>) -> Result<Ended, Failure> {
    let text = match name {
        None => emit::words(),
        Some(name) => emit::word(name).map_err(|near| unknown("word", name, near))?,
    };
    output::print(text)
}

fn unknown(what: &str, name: &str, near: Option<&str>) -> Failure {
    let lists = || format!("wetside {what}s lists them");
    let help = near.map_or_else(lists, |near| format!("did you mean {near}?"));
    Failure::new(format!("there is no {what} '{}'", sanitise(name)), help)
}
