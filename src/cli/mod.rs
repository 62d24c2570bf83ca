//! The edge: arguments in, files read, bytes out, an exit status. Everything that touches the
//! machine is in this room; it computes nothing of its own.

mod baths;
mod bottles;
mod bug;
mod call;
mod card;
mod changes;
mod check;
mod choose;
mod compare;
mod completions;
mod darkroom;
mod disk;
mod editor;
mod ending;
mod evening;
mod failure;
mod find;
mod follow;
mod forms;
mod given;
mod inspect;
mod levels;
mod measure;
mod mend;
mod named;
mod output;
mod plan;
mod progress;
mod record;
mod refused;
mod revision;
mod root;
mod rules;
mod side;
mod sought;
mod spread;
mod start;
mod terminal;
mod tidy;
mod wider;
mod words;
mod write;

pub use bug::{STATUS, guarded};
pub use follow::Screen;
pub use mend::mended;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use terminal::{ColorChoice, Terminal};

/// How a run ended, as its exit status.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ended {
    /// 0: done.
    Done,
    /// 1: something is told of, such as a recipe at fault, what a dry run would do, rolls that are left out.
    WithFindings,
    /// 1: the two recipes are not the same work.
    Different,
    /// 2: a recipe is at fault, so that nothing could be compared.
    NotCompared,
    /// 1: an editor left without asking for the end.
    LeftUnasked,
}

/// Recipes for film, kept as text, compiled into tonight's card
///
/// Exit status: 0 done; 1 errors, a difference or something left to do; 2 the call is wrong; 70 an internal
/// error.
#[derive(Debug, Parser)]
#[command(name = "wetside", version, arg_required_else_help = true, max_term_width = 80)]
struct Arguments {
    /// When to use colour
    #[arg(long, global = true, value_enum, default_value_t = ColorChoice::Auto, value_name = "WHEN")]
    color: ColorChoice,
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Start(start::Arguments),
    Card(Box<call::Arguments>),
    Check(check::Arguments),
    Rules(rules::Arguments),
    Words(words::Arguments),
    Tidy(tidy::Arguments),
    Compare(compare::Arguments),
    Plan(Box<plan::Arguments>),
    Measure(Box<measure::Arguments>),
    Follow(Box<follow::Arguments>),
    Record(Box<record::Arguments>),
    Baths(baths::Arguments),
    Editor(editor::Arguments),
    Completions(completions::Arguments),
}

/// Runs the program with the machine's own arguments.
#[must_use]
pub fn run() -> ExitCode {
    guarded(|| with(std::env::args_os()))
}

fn with(arguments: impl Iterator<Item = std::ffi::OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return refused(&error),
    };
    let terminal = Terminal::of(arguments.color);
    let ended = match arguments.command {
        Command::Start(own) => start::run(&own),
        Command::Card(own) => card::run(&own, terminal),
        Command::Check(own) => check::run(&own, terminal),
        Command::Rules(own) => rules::run(&own),
        Command::Words(own) => words::run(&own),
        Command::Tidy(own) => tidy::run(&own, terminal),
        Command::Compare(own) => compare::run(&own, terminal),
        Command::Plan(own) => plan::run(&own, terminal),
        Command::Measure(own) => measure::run(&own, terminal),
        Command::Follow(own) => follow::run(&own, terminal),
        Command::Record(own) => record::run(&own, terminal),
        Command::Baths(own) => baths::run(&own, terminal),
        Command::Editor(own) => editor::run(&own),
        Command::Completions(own) => completions::run(&own),
    };
    match ended {
        Ok(Ended::Done) => ExitCode::SUCCESS,
        Ok(Ended::WithFindings | Ended::Different | Ended::LeftUnasked) => ExitCode::from(1),
        Ok(Ended::NotCompared) => ExitCode::from(2),
        Err(failure) => {
            output::complain(&failure.drawn());
            ExitCode::from(2)
        }
    }
}

/// Help and version are what was asked for; all else is a call at fault. What was typed is made safe
/// before it is shown again.
fn refused(error: &clap::Error) -> ExitCode {
    let text = crate::report::sanitise(&error.render().to_string()).into_owned();
    if error.use_stderr() {
        output::complain(&text);
        return ExitCode::from(2);
    }
    match output::print(&text) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            output::complain(&failure.drawn());
            ExitCode::from(2)
        }
    }
}
