//! `words`: every word that a recipe can be written with, and what each takes and means.

use super::Ended;
use super::failure::Failure;
use super::output;
use crate::emit;
use crate::report::sanitise;

/// List the words of the language, or explain one
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  wetside words\n  wetside words agitate\n  wetside words us-fl-oz")]
pub(super) struct Arguments {
    /// A word or a unit
    name: Option<String>,
}

/// Prints the list, or what there is to tell of one.
pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let text = match &arguments.name {
        None => emit::words(),
        Some(name) => emit::word(name).map_err(|near| {
            Failure::new(
                format!("there is no word '{}'", sanitise(name)),
                match near {
                    Some(near) => format!("did you mean {near}?"),
                    None => "wetside words lists them".to_owned(),
                },
            )
        })?,
    };
    output::print(&text)?;
    Ok(Ended::Done)
}
