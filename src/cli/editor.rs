//! `editor`: a language server on standard input and output, for any editor that speaks the protocol.

use std::io::stdin;

use super::Ended;
use super::disk::Disk;
use super::failure::Failure;
use crate::editor;

/// Run the language server for an editor, on standard input and output
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  wetside editor\n  wetside editor --no-config")]
pub(super) struct Arguments {
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
}

/// Serves until the editor leaves. One that leaves without asking for the end is status 1, as the
/// protocol has it.
pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let mut output = std::io::stdout().lock();
    let lend = || Box::new(Disk::weighing(arguments.no_config)) as Box<dyn editor::Desk>;
    match editor::serve(&mut stdin().lock(), &mut output, &lend) {
        Ok(editor::Ended::Asked) => Ok(Ended::Done),
        Ok(editor::Ended::Unasked) => Ok(Ended::LeftUnasked),
        Err(words) => Err(Failure::new(
            format!("the editor's messages cannot be read: {words}"),
            "this command is for editors: set one up to run wetside editor for .wet files",
        )),
    }
}
