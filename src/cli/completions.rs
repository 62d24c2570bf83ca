//! `completions`: a script that completes commands and options in a shell.

use clap::CommandFactory as _;
use clap_complete::Shell;

use super::Ended;
use super::failure::Failure;
use super::output;

/// Print a script that completes commands and options in your shell
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  wetside completions bash > ~/.bash_completion.d/wetside\n  wetside completions fish > ~/.config/fish/completions/wetside.fish"
)]
pub(super) struct Arguments {
    /// Your shell
    shell: Shell,
}

/// Prints the script.
pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut super::Arguments::command(), "wetside", &mut script);
    output::print(&String::from_utf8_lossy(&script))?;
    Ok(Ended::Done)
}
