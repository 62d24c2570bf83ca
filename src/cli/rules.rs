//! `rules`: what is checked, why, and by what authority; and the rules of the arithmetic.

use super::Ended;
use super::failure::Failure;
use super::output;
use crate::check::{RULES, faults, rule};
use crate::emit;
use crate::report::sanitise;
use crate::vocabulary::suggest;

/// The reference, which has a paragraph for each rule of the arithmetic.
const REFERENCE: &str = include_str!("../../grammar/README.md");

/// List the rules, or explain one
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  wetside rules\n  wetside rules fix-before-develop\n  wetside rules R13")]
pub(super) struct Arguments {
    /// The name of a rule or a fault, or the number of a rule of the arithmetic, as in R13
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
        let page = format!("{}\n**Level.** {}, unless you change it\n", rule.page(), rule.level.word());
        output::print(&emit::manual(&page))?;
        return Ok(Ended::Done);
    }
    if let Some(paragraph) = arithmetic(name) {
        // Each sentence or two of the reference is a line of its own, and a paragraph here.
        output::print(&emit::manual(&paragraph.replace('\n', "\n\n")))?;
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

/// The paragraph of the rule of the arithmetic that has this number, as in R13.
fn arithmetic(number: &str) -> Option<&'static str> {
    let head = format!("**{}. ", number.to_ascii_uppercase());
    let head = Some(head).filter(|_| number.starts_with(['R', 'r']))?;
    REFERENCE.split("\n\n").find(|paragraph| paragraph.starts_with(&head))
}
