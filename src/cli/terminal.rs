//! What the two output streams are: decided once, for all that draws.

use std::io::IsTerminal;
use std::path::Path;

use crate::emit::Paint;

/// When to use colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum ColorChoice {
    /// On a terminal, unless NO_COLOR is set or TERM is dumb
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// Whether each stream takes colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Terminal {
    /// Standard output.
    pub(super) out: bool,
    /// Standard error.
    pub(super) err: bool,
    /// Whether standard output is a screen, colour or not.
    pub(super) out_is_terminal: bool,
    /// Whether somebody looks at standard error, colour or not.
    pub(super) err_is_terminal: bool,
}

impl Terminal {
    /// How a text is painted that goes to standard output unless a file is named for it.
    pub(super) fn paint(self, output: Option<&Path>) -> Paint {
        if self.out && output.is_none() { Paint::Colour } else { Paint::Plain }
    }

    /// Looks at the streams and the environment. An explicit choice outranks both.
    pub(super) fn of(choice: ColorChoice) -> Terminal {
        let out_is_terminal = std::io::stdout().is_terminal();
        let err_is_terminal = std::io::stderr().is_terminal();
        let both = |on| Terminal { out: on, err: on, out_is_terminal, err_is_terminal };
        match choice {
            ColorChoice::Always => both(true),
            ColorChoice::Never => both(false),
            ColorChoice::Auto => {
                let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
                let dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
                if refused || dumb {
                    return both(false);
                }
                Terminal { out: out_is_terminal, err: err_is_terminal, out_is_terminal, err_is_terminal }
            }
        }
    }
}
