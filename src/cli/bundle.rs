//! `bundle`: writes one file with a recipe and everything it uses.

use std::ffi::OsStr;
use std::path::PathBuf;

use super::disk::has_errors;
use super::find::Index;
use super::levels::levels;
use super::output::{complain, send};
use super::{Ended, Failure, Reader, fail, find};
use crate::source::first_few;
use crate::tidy::{self, Bundle, NoBundle};
use crate::vocabulary::Declared;

/// Write one file with a recipe and everything it uses, to send to others
///
/// The file uses no other file, and the recipe has the same fingerprint in it.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside bundle estuary-400-mq -o ../estuary-400-mq.wet\n  wetside bundle recipes/films.wet estuary-400-mq > ../mq.wet"
)]
pub(super) struct Arguments {
    /// A recipe's name, a file, or - for standard input
    recipe: PathBuf,
    /// The recipe's name, if RECIPE is a file with several
    name: Option<String>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    /// Write to this file
    #[arg(short, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Allow -o to replace a .wet file, or to write through a link
    #[arg(long, requires = "output")]
    replace: bool,
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let path = arguments.output.as_deref().filter(|path| path.as_os_str() != "-");
    if path.is_some_and(|path| path.extension() != Some(OsStr::new("wet"))) {
        return fail("a bundle is a recipe file, and its name ends in .wet", "write -o NAME.wet");
    }
    let given = &arguments.recipe;
    let index = Index::of_name(Declared::Recipe, &given.to_string_lossy());
    let (file, name) =
        find::file_and_name(given, arguments.name.clone(), Declared::Recipe, "bundle", &index)?;
    let mut reader = Reader::default();
    let root = reader.read(&file)?;
    let (shelf, findings) = reader.check(&[root], &levels(&[file], arguments.no_config)?);
    let here = shelf.recipes.iter().filter(|recipe| recipe.file == root);
    let here: Vec<_> = here.map(|recipe| (recipe.name.as_str(), root, recipe)).collect();
    let is_sound = match name.as_deref() {
        Some(name) => here.iter().any(|(own, ..)| *own == name),
        None => !here.is_empty() && !shelf.unsound.recipes.contains(&root),
    };
    if has_errors(&findings) && !is_sound {
        return Err(reader.refused(findings));
    }
    let recipe = find::one_of(Declared::Recipe, name.as_deref(), reader.name(root), &here, &reader.sources)?;
    let bundle = tidy::bundle(&mut reader.sources, &reader.disk, &shelf, recipe);
    let Bundle { text, cautions } = bundle.map_err(|reason| refused(reason, &recipe.name))?;
    let ended = send(text, (path, arguments.replace), &[&reader])?;
    for caution in cautions {
        complain(&format!("the bundle has this caution, as a card here has a warning: {caution}\n"));
    }
    Ok(ended)
}

fn refused(reason: NoBundle, recipe: &str) -> Failure {
    match reason {
        NoBundle::Errors(stays) => Failure::Files {
            sources: stays.sources,
            findings: stays.why,
            note: "the bundle would have these errors, so it is not written\n".to_owned(),
        },
        NoBundle::OtherWork(renamed) if !renamed.is_empty() => Failure::new(
            format!(
                "in one file, '{recipe}' would not keep its fingerprint: two different declarations are called {}",
                first_few(renamed.iter().map(String::as_str), ", ")
            ),
            "rename one of the two, where it is your own",
        ),
        NoBundle::OtherWork(_) => Failure::new(
            format!("in one file, '{recipe}' would not keep its fingerprint"),
            "send the files as they are: run wetside check on them first",
        ),
        NoBundle::OwnFault => Failure::new(
            format!("the bundle of '{recipe}' could not be laid out: a fault of this program"),
            "send the files as they are, and report the fault",
        ),
    }
}
