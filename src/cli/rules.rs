//! `rules`: what is checked, why, and by what authority.

use super::Ended;
use super::failure::Failure;
use super::output;
use crate::check::{RULES, faults, rule};
use crate::report::sanitise;
use crate::vocabulary::suggest;

/// List the rules, or tell one with its reason and source
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  wetside rules\n  wetside rules fix-before-develop")]
pub(super) struct Arguments {
    /// A rule's or a fault's name
    name: Option<String>,
}

/// Prints the list, or one page.
pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let Some(name) = &arguments.name else {
        let width = RULES.iter().map(|rule| rule.name.len()).max().unwrap_or(0);
        let line = |rule: &&crate::check::Rule| {
            format!("{:<width$}  {:<7}  {}\n", rule.name, rule.level.word(), rule.meaning)
        };
        let list: String = RULES.iter().map(line).collect();
        output::print(&list)?;
        return Ok(Ended::Done);
    };
    if let Some(rule) = rule(name) {
        let page: Vec<&str> = rule.page.lines().map(|line| line.strip_prefix(' ').unwrap_or(line)).collect();
        output::print(&format!("{}\n\nUsual weight: {}.\n", page.join("\n").trim_end(), rule.level.word()))?;
        return Ok(Ended::Done);
    }
    let known = faults();
    if let Some((name, meaning)) = known.iter().find(|(own, _)| own == name) {
        output::print(&format!(
            "{name}\n\nTells of {meaning}. It is a fault of writing and cannot be turned off.\n"
        ))?;
        return Ok(Ended::Done);
    }
    let near = suggest(name, known.iter().map(|(name, _)| *name));
    Err(Failure::new(
        format!("there is no rule '{}'", sanitise(name)),
        match near {
            Some(near) => format!("did you mean {near}?"),
            None => "wetside rules lists them".to_owned(),
        },
    ))
}
