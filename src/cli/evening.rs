//! An evening as a call says it: which recipe, and tonight. Every call that compiles one takes it in these words.

use std::path::PathBuf;

use super::given::{self, At, RollsAsked};
use crate::model::{Temperature, Volume};

// Which recipe, and tonight. Not a doc comment, which the help would show in place of the command's own.
#[derive(Debug, clap::Args)]
pub(super) struct Evening {
    /// A recipe's name, a file, or - for standard input
    pub(super) recipe: PathBuf,
    /// The recipe's name, where RECIPE is a file with several
    pub(super) name: Option<String>,
    /// Tonight's temperature, and those of single steps, as in 37.8C,wash=30C
    #[arg(long, value_parser = given::at, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: At,
    /// What is in the tank, from the bottom up, as in 5x120 or 3x120+2x135
    #[arg(long, value_parser = given::rolls, allow_hyphen_values = true, value_name = "ROLLS")]
    pub(super) rolls: RollsAsked,
    /// The tank, by its name
    #[arg(long, value_name = "TANK")]
    pub(super) tank: Option<String>,
    /// Take the recipe of this family that is for this exposure index
    #[arg(long, value_name = "NUMBER")]
    pub(super) index: Option<u32>,
    /// What the baths at the evening's temperature are expected to end at
    #[arg(long, value_parser = given::value::<Temperature, _>, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) ending: Option<Temperature>,
    /// The baths of your darkroom to pour from; if not given, the only ones that fit
    #[arg(long, value_delimiter = ',', value_name = "NAMES")]
    pub(super) bath: Vec<String>,
    /// Pour from a bath that is exhausted or past keeping all the same
    #[arg(long)]
    pub(super) spent_too: bool,
    /// How much to fill, whatever the tank takes
    #[arg(long, value_parser = given::value::<Volume, _>, allow_hyphen_values = true, value_name = "VOLUME")]
    pub(super) volume: Option<Volume>,
    /// Ignore wetside.toml
    #[arg(long)]
    pub(super) no_config: bool,
}
