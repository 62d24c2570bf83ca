//! `list`: lists declarations of one kind in the root of the current folder, one on a line.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use super::darkroom::{self, kept};
use super::find::Index;
use super::inventory::{complain_of, inventory};
use super::levels::levels;
use super::output::{Output, TextOrJson};
use super::{Ended, Failure, Reader, fail, given, root};
use crate::check::Levels;
use crate::compile::{Scale, Tonight, compile};
use crate::emit;
use crate::journal::{Standing, Verdict};
use crate::model::{Bath, Date, Dilution, Format, Recipe, Rolls, Shelf, Solution, Tank, Temperature};
use crate::source::{FileId, Map, Set, Sources, Span, root_in};
use crate::vocabulary::Declared;

/// List the recipes of the root folder, or its films, solutions, tanks, collections or sessions
///
/// The root folder is the repository or collection that this folder belongs to. What its collections export has the
/// collection's name before it. The options choose recipes.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside list\n  wetside list films\n  wetside list --film estuary-400 --at 20C\n  wetside list --at 21C --rolls 2x120\n  wetside list --ready\n  wetside list sessions --as json"
)]
pub(super) struct Arguments {
    /// What to list; recipes if not given
    kind: Option<Kind>,
    /// Only recipes for this film, paper or plate
    #[arg(long, value_name = "NAME")]
    film: Option<String>,
    /// Only recipes that can be done at this temperature, with the rolls of --rolls in a tank of these files
    #[arg(long, value_parser = given::temperature, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    at: Option<(Temperature, Scale)>,
    /// With --at: the rolls, as in 5x120 or 3x120+2x135; one roll if not given
    #[arg(long, value_parser = given::rolls, allow_hyphen_values = true, requires = "at")]
    rolls: Option<given::RollsAsked>,
    /// Only recipes whose kept baths are all here, neither spent nor past keeping
    #[arg(long)]
    ready: bool,
    /// The day for --ready, as in 2026-11-25; today if not given
    #[arg(long, value_parser = given::value::<Date, _>, requires = "ready", value_name = "DATE")]
    on: Option<Date>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Kind {
    /// Each with its fingerprint, its film and its file
    Recipes,
    /// Films, papers and plates, each with its speed
    Films,
    /// Each with its role
    Solutions,
    /// Each with its formats
    Tanks,
    /// Those that were adopted
    Collections,
    /// Each with the fingerprint of its recipe
    Sessions,
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let kind = match arguments.kind.unwrap_or(Kind::Recipes) {
        Kind::Recipes => Declared::Recipe,
        Kind::Films => Declared::Film,
        Kind::Solutions => Declared::Solution,
        Kind::Tanks => Declared::Tank,
        Kind::Collections => Declared::Collection,
        Kind::Sessions => Declared::Session,
    };
    let is_filtered = arguments.film.is_some() || arguments.at.is_some() || arguments.ready;
    if is_filtered && kind != Declared::Recipe {
        return fail(
            "--film, --at and --ready choose recipes",
            "leave them out, or write: wetside list recipes",
        );
    }
    let evenings = arguments.at.map(|(at, _)| evenings(at, arguments)).transpose()?;
    let ready = arguments.ready.then(|| Ready::of(arguments)).transpose()?;
    let filter = |shelf: &Shelf, recipe: &Arc<Recipe>, sources: &Sources| {
        let is_film = |name: &String| recipe.film.as_ref().is_some_and(|film| film.name == *name);
        let compiles = |tonight: &Tonight| compile(shelf, recipe, tonight, Vec::new()).is_ok();
        arguments.film.as_ref().is_none_or(is_film)
            && ready.as_ref().is_none_or(|ready| ready.has_baths_of(recipe, sources))
            && evenings.as_ref().is_none_or(|evenings| evenings.iter().any(compiles))
    };
    let all = inventory(kind, &filter, arguments.no_config)?;
    let text = match form {
        TextOrJson::Json => emit::listing_json(&all.things, &all.left_out),
        TextOrJson::Text => emit::listing(&all.things),
    };
    let ended = arguments.output.send(text, &[])?;
    complain_of(&all.left_out);
    Ok(ended)
}

/// The conditions for which `--at` tries to compile each recipe: with each tank of the root, and without a tank. The
/// rolls are those of `--rolls`; if `--rolls` states no format, only tanks with a single format are tried. Without
/// `--rolls`, one roll is tried in each format of the tank, or without a tank in each format of `Format::FIRST`.
fn evenings(at: Temperature, arguments: &Arguments) -> Result<Vec<Tonight>, Failure> {
    let mut all = Vec::new();
    let tanks = tanks(arguments)?;
    for tank in tanks.iter().map(Some).chain([None]) {
        let formats = || tank.iter().flat_map(|tank| tank.reels.iter().map(|reels| reels.format));
        let loads: Vec<Vec<Rolls>> = match &arguments.rolls {
            Some(rolls) => {
                let only = Some(formats().collect::<Vec<_>>());
                let only = only.as_deref().and_then(|formats| formats.first().filter(|_| formats.len() == 1));
                let load = |(count, format): &(u32, Option<Format>)| {
                    Some(Rolls { count: *count, format: format.or(only.copied())? })
                };
                rolls.iter().map(load).collect::<Option<Vec<_>>>().into_iter().collect()
            }
            None if tank.is_some() => formats().map(|format| vec![Rolls { count: 1, format }]).collect(),
            None => Format::FIRST.map(|format| vec![Rolls { count: 1, format }]).into_iter().collect(),
        };
        all.extend(loads.into_iter().map(|load| Tonight { tank: tank.cloned(), ..Tonight::new(at, load) }));
    }
    Ok(all)
}

/// The tanks without errors in the root's files, each once.
fn tanks(arguments: &Arguments) -> Result<Vec<Arc<Tank>>, Failure> {
    let mut reader = Reader::default();
    let paths = Index::below(&root::ROOT, &[Declared::Tank]).declaring(&[Declared::Tank], None);
    let files: Vec<_> = paths.iter().filter_map(|path: &PathBuf| reader.read(path).ok()).collect();
    let (shelf, _) = reader.check(&files, &levels(&[], arguments.no_config)?);
    let own = shelf.tanks.iter().filter(|(file, name, tank)| (*file, name) == (tank.span.file, &tank.name));
    Ok(own.map(|(_, _, tank)| Arc::clone(tank)).collect())
}

/// The contents of a bottle: the solution's file and name, the part of the solution (`None` for the mixed solution),
/// and the dilution.
type Contents = (String, String, Option<String>, Dilution);

/// The contents of the bottles that can be used on the day of `--on`: not poured away, spent or past keeping.
struct Ready {
    contents: Set<Contents>,
    /// A cache of whether two files declare the same solution under one name. The keys are the two files and the name.
    equal: Mutex<Map<(String, String, String), bool>>,
}

impl Ready {
    fn of(arguments: &Arguments) -> Result<Ready, Failure> {
        let on = given::day("--on", arguments.on)?;
        let mut reader = Reader::default();
        let files = darkroom::files(&darkroom::index(&root::ROOT), None, &mut reader)?;
        let levels = levels(&[], arguments.no_config)?;
        let (shelf, _) = reader.check_darkroom(&root::ROOT, &files, &levels);
        let all = Standing::all(&shelf.darkroom, on).into_iter().filter(Standing::is_in_use);
        let is_known = |span: Span| {
            let may_be = |baths: &Vec<Span>| baths.contains(&span);
            !shelf.darkroom.left_out.iter().any(|left| left.baths.as_ref().is_none_or(may_be))
        };
        let good = all.filter(|one| {
            matches!(one.verdict(), Verdict::Good | Verdict::NearlySpent) && is_known(one.bath.span)
        });
        let contents = good.map(|one| {
            let bath = one.bath;
            contents(&bath.solution, bath.part.as_deref(), &bath.dilution, &reader.sources)
        });
        Ok(Ready { contents: contents.collect(), equal: Mutex::default() })
    }

    fn has_baths_of(&self, recipe: &Recipe, sources: &Sources) -> bool {
        kept(recipe).all(|bath: &Bath| {
            let of = |solution| contents(solution, bath.part.as_deref(), &bath.dilution, sources);
            bath.solution.as_ref().is_none_or(|solution| self.holds(&of(solution)))
        })
    }

    /// Whether there is a bottle with these contents. A bottle of the same solution counts too if a file of another
    /// root, such as a collection, declares that solution.
    fn holds(&self, wanted: &Contents) -> bool {
        let (file, name, part, dilution) = wanted;
        let is_like = |(_, other, of_part, at): &&Contents| (other, of_part, at) == (name, part, dilution);
        self.contents.contains(wanted)
            || self.contents.iter().filter(is_like).any(|(other, ..)| self.are_equal(other, file, name))
    }

    fn are_equal(&self, one: &str, other: &str, name: &str) -> bool {
        if root_in(Path::new(one)) == root_in(Path::new(other)) {
            return false;
        }
        let pair = (one.to_owned(), other.to_owned(), name.to_owned());
        let known = self.equal.lock().ok().and_then(|known| known.get(&pair).copied());
        let equal = known.unwrap_or_else(|| are_equal(one, other, name).unwrap_or(false));
        if let Ok(mut known) = self.equal.lock() {
            known.insert(pair, equal);
        }
        equal
    }
}

/// Whether the solutions of this name in two files of different roots count as the same; `None` if a file cannot be
/// read.
fn are_equal(one: &str, other: &str, name: &str) -> Option<bool> {
    let mut reader = Reader::default();
    let files = [reader.read(&root::ROOT.join(one)).ok()?, reader.read(&root::ROOT.join(other)).ok()?];
    let (shelf, _) = reader.check(&files, &Levels::default());
    let solution = |file| {
        let own = |(by, solution): &&(FileId, Arc<Solution>)| *by == file && solution.name == name;
        shelf.solutions.iter().find(own).map(|(_, solution)| solution)
    };
    let [one, other] = files.map(solution);
    Some(Arc::ptr_eq(one?, other?))
}

fn contents(solution: &Solution, part: Option<&str>, dilution: &Dilution, sources: &Sources) -> Contents {
    let file = sources.name(solution.span.file).to_owned();
    (file, solution.name.clone(), part.map(str::to_owned), dilution.clone())
}
