//! `--anyway`: lifts the objections to rolls and bottles, which are used although facts of tonight contradict them.

use super::{Failure, fail};
use crate::compile::Objection;
use crate::source::first_few;

/// The names that `--anyway` gives, trimmed. Fails for the name of a roll or bottle to which there is no objection.
pub(super) fn lifted(given: &[String], objections: &[Objection]) -> Result<Vec<String>, Failure> {
    let names: Vec<String> = given.iter().map(|name| name.trim().to_owned()).collect();
    let lifts = |name: &str| objections.iter().any(|objection| objection.name == name);
    let Some(other) = names.iter().find(|name| !lifts(name)) else { return Ok(names) };
    let message = match other.as_str() {
        "" => "--anyway names one roll or one bottle".to_owned(),
        name => format!("--anyway lifts nothing for '{name}'"),
    };
    let listed = listed(objections);
    if listed.is_empty() {
        return fail(message, "nothing contradicts a roll or a bottle tonight; leave --anyway out");
    }
    fail(message, format!("which? {}", first_few(listed.iter().map(String::as_str), ", ")))
}

/// The names that `--anyway` could give: each name once, with the objections to its roll or bottle in a few words.
fn listed(objections: &[Objection]) -> Vec<String> {
    let mut all: Vec<(&str, Vec<&str>)> = Vec::new();
    for Objection { name, brief, .. } in objections {
        match all.iter_mut().find(|(known, _)| known == name) {
            Some((_, briefs)) => briefs.push(brief),
            None => all.push((name, vec![brief])),
        }
    }
    all.into_iter().map(|(name, briefs)| format!("{name} ({})", briefs.join("; "))).collect()
}
