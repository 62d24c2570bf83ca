//! The command line: reads arguments and files, writes results, and returns an exit status. Only this stage and the
//! stage `disk` use the operating system.

mod adopt;
mod batches;
mod bundle;
mod card;
mod check;
mod choose;
mod compare;
mod darkroom;
mod disk;
mod entry;
mod evening;
mod expect;
mod explain;
mod failure;
mod find;
mod follow;
mod given;
mod history;
mod inventory;
mod label;
mod levels;
mod lift;
mod list;
mod lookup;
mod measure;
mod mend;
mod negatives;
mod next;
mod output;
mod past;
mod personal;
mod plan;
mod raise;
mod record;
mod refusal;
mod revision;
mod rolls;
mod room;
mod root;
mod site;
mod start;
mod tidy;
mod tonight;
mod trial;
mod unread;
mod usual;
mod write;

pub use failure::{STATUS, guarded};
pub use follow::Screen;
pub use mend::mended;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::{ColorChoice, CommandFactory as _, Parser, Subcommand};
use clap_complete::Shell;

use disk::{Disk, Reader};
use failure::{Failure, fail};
use output::Terminal;

use crate::editor::{self, Desk};

/// How a command ended, if it did not fail. The number is the exit status.
#[derive(Clone, Copy)]
enum Ended {
    Done = 0,
    /// The command reported something: errors, a difference, changes that a dry run would make, or rolls left out of a
    /// plan.
    WithFindings = 1,
    /// `compare` could not compare the recipes, because they have errors.
    Impossible = 2,
}

/// Recipes for film, kept as text, compiled into tonight's card
///
/// Exit status: 0 done; 1 errors, a difference or something left to do; 2 an error in the command line; 70 an internal
/// error.
#[derive(Parser)]
#[command(name = "wetside", version, arg_required_else_help = true, max_term_width = 80)]
struct Arguments {
    /// When to use colour; auto: on a terminal, unless NO_COLOR is set or TERM is dumb
    #[arg(long, global = true, default_value = "auto", value_name = "WHEN")]
    color: ColorChoice,
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    Start(start::Arguments),
    Card(Box<card::Arguments>),
    Check(check::Arguments),
    /// List the rules, or explain one
    #[command(
        after_help = "Examples:\n  wetside rules\n  wetside rules fix-before-develop\n  wetside rules R13"
    )]
    Rules {
        /// The name of a rule or an error, or the number of a rule of the arithmetic, as in R13
        name: Option<String>,
    },
    /// List the words of the language, or explain one
    #[command(after_help = "Examples:\n  wetside words\n  wetside words agitate\n  wetside words us-fl-oz")]
    Words {
        /// A word or a unit
        name: Option<String>,
    },
    Tidy(tidy::Arguments),
    Compare(compare::Arguments),
    Plan(Box<plan::Arguments>),
    Next(next::Arguments),
    Measure(Box<measure::Arguments>),
    Trial(trial::Arguments),
    Follow(Box<follow::Arguments>),
    Record(Box<record::Arguments>),
    Baths(darkroom::Arguments),
    Negatives(negatives::Arguments),
    Adopt(adopt::Arguments),
    Bundle(bundle::Arguments),
    List(list::Arguments),
    Find(lookup::Arguments),
    History(history::Arguments),
    Site(site::Arguments),
    /// Run the language server for an editor, on standard input and output
    #[command(after_help = "Examples:\n  wetside editor\n  wetside editor --no-config")]
    Editor {
        /// Ignore wetside.toml
        #[arg(long)]
        no_config: bool,
    },
    /// Print a script that completes commands and options in your shell
    #[command(
        after_help = "Examples:\n  wetside completions bash > ~/.bash_completion.d/wetside\n  wetside completions fish > ~/.config/fish/completions/wetside.fish"
    )]
    Completions {
        /// Your shell
        shell: Shell,
    },
}

/// Runs the program with the arguments of this process.
pub fn run() -> ExitCode {
    guarded(|| with(std::env::args_os()))
}

fn with(arguments: impl Iterator<Item = OsString>) -> ExitCode {
    let (terminal, ended) = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => {
            let terminal = Terminal::of(arguments.color);
            (terminal, ended(arguments.command, terminal))
        }
        Err(error) => {
            let text = crate::report::sanitise(&error.render().to_string()).into_owned();
            if error.use_stderr() {
                output::complain(&text);
                return ExitCode::from(2);
            }
            // The user asked for help or the version.
            (Terminal::of(ColorChoice::Auto), output::print(text))
        }
    };
    ExitCode::from(ended.map(|ended| ended as u8).unwrap_or_else(|failure| {
        terminal.complain(&failure);
        failure.status()
    }))
}

impl Ended {
    fn with(has_findings: bool) -> Ended {
        if has_findings { Ended::WithFindings } else { Ended::Done }
    }
}

/// The items in the order of their first occurrence, without repetitions.
fn each_once<T: PartialEq>(items: impl Iterator<Item = T>) -> Vec<T> {
    let mut all = Vec::new();
    for item in items {
        if !all.contains(&item) {
            all.push(item);
        }
    }
    all
}

fn ended(command: Command, terminal: Terminal) -> Result<Ended, Failure> {
    match command {
        Command::Start(own) => start::run(&own),
        Command::Card(own) => card::run(&own, terminal),
        Command::Check(own) => check::run(&own, terminal),
        Command::Rules { name } => explain::rules(name.as_deref()),
        Command::Words { name } => explain::words(name.as_deref()),
        Command::Tidy(own) => tidy::run(&own, terminal),
        Command::Compare(own) => compare::run(&own, terminal),
        Command::Plan(own) => plan::run(&own, terminal),
        Command::Next(own) => next::run(&own, terminal),
        Command::Measure(own) => measure::run(&own, terminal),
        Command::Trial(own) => trial::run(&own, terminal),
        Command::Follow(own) => follow::run(&own, terminal),
        Command::Record(own) => record::run(&own),
        Command::Adopt(own) => adopt::run(&own),
        Command::Bundle(own) => bundle::run(&own),
        Command::List(own) => list::run(&own),
        Command::Find(own) => lookup::run(&own),
        Command::History(own) => history::run(&own, terminal),
        Command::Site(own) => site::run(&own),
        Command::Baths(own) => darkroom::run(&own),
        Command::Negatives(own) => negatives::run(&own, terminal),
        Command::Editor { no_config } => serve(no_config),
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Arguments::command(), "wetside", &mut script);
            output::print(script)
        }
    }
}

/// Runs the language server until the editor ends the session. Without a `shutdown` request before the end, the exit
/// status is 1, as the protocol requires.
fn serve(no_config: bool) -> Result<Ended, Failure> {
    let disk = || {
        let mut disk = Disk::default();
        disk.no_config = no_config;
        Box::new(disk) as Box<dyn Desk>
    };
    match editor::serve(&mut std::io::stdin().lock(), &mut std::io::stdout().lock(), &disk) {
        Ok(was_shut_down) => Ok(Ended::with(!was_shut_down)),
        Err(words) => fail(
            format!("the editor's messages cannot be read: {words}"),
            "this command is for editors: set one up to run wetside editor for .wet files",
        ),
    }
}
