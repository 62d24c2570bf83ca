//! The arguments of `measure`.

use std::path::PathBuf;

use super::super::given::{temperature, value};
use super::super::output::{self, Output};
use crate::compile::Scale;
use crate::measure::{Had, HadAs, Taps};
use crate::model::{Mass, Share, Temperature, Volume};
use crate::vocabulary::Tap;

/// Print the sheet for weighing a formula or diluting a solution
///
/// SOLUTION is the name of a solution, a file, or a file and a name. With a DILUTION such as 1+4 the sheet is for
/// diluting it from its bottle, without one for weighing its formula.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "wetside measure [OPTIONS] --make <VOLUME> <SOLUTION> [NAME] [DILUTION]",
    after_help = "Examples:\n  wetside measure mq-borax --make 2.5l\n  wetside measure mq-carbonate --make 2.5l --have carbonate=monohydrate --have bromide=10%\n  wetside measure acetic-stop --make 1l --have acetic-acid=99.5% --scale 0.01g\n  wetside measure mq-borax --make 32us-fl-oz --units us --taps 12C,55C\n  wetside measure rapid-fix 1+4 --make 2.5l --at 20C --stock-at 23C\n  wetside measure recipes/solutions.wet wetting-agent 1+200 --make 2.5l"
)]
pub(in super::super) struct Arguments {
    /// A solution's name, a file, or - for standard input
    pub(super) solution: PathBuf,
    /// The solution's name, if SOLUTION is a file with several; and the dilution, as in 1+4
    #[arg(value_name = "NAME, DILUTION", num_args = 0..=3)]
    pub(super) rest: Vec<String>,
    /// The volume to make, as in 2.5l
    #[arg(long, value_parser = value::<Volume, _>, allow_hyphen_values = true, value_name = "VOLUME")]
    pub(super) make: Volume,
    /// Ingredients that you have in another form: a state, or a strength in per cent
    #[arg(long, value_parser = had, value_delimiter = ',', value_name = "NAME=STATE")]
    pub(super) have: Vec<Had>,
    /// The resolution of the scale; 0.1g if not given
    #[arg(long, value_parser = value::<Mass, _>, allow_hyphen_values = true, value_name = "MASS")]
    pub(super) scale: Option<Mass>,
    /// The temperature of the working solution
    #[arg(long, value_parser = temperature, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: Option<(Temperature, Scale)>,
    /// The temperature of the bottle that is diluted
    #[arg(long, value_parser = value::<Temperature, _>, allow_hyphen_values = true, requires = "at", value_name = "TEMPERATURE")]
    pub(super) stock_at: Option<Temperature>,
    /// The temperatures of the two taps, as in 12C,55C
    #[arg(long, value_parser = taps, allow_hyphen_values = true, value_name = "TEMPERATURES")]
    pub(super) taps: Option<Taps>,
    /// The units of the sheet
    #[arg(long, value_enum, default_value_t = Units::Metric, value_name = "UNITS")]
    pub(super) units: Units,
    /// Ignore wetside.toml
    #[arg(long)]
    pub(super) no_config: bool,
    #[command(flatten)]
    pub(super) output: Output<Form>,
    /// Columns of the text, 40 to 200
    #[arg(long, default_value_t = 80, value_parser = clap::value_parser!(u16).range(40..=200), value_name = "COLUMNS")]
    pub(super) width: u16,
}

/// The units of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Units {
    /// Grams and millilitres
    Metric,
    /// Avoirdupois ounces, grains and US fluid ounces beside them
    Us,
}

/// The forms of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Form {
    /// For people
    Text,
    /// For programs: one object, as grammar/sheet.schema.json says
    Json,
}

impl output::Form for Form {
    const ENDINGS: &'static [(&'static str, Form)] = &[("txt", Form::Text), ("json", Form::Json)];
}

/// Reads `carbonate=monohydrate`, `acetic-acid=99.5%`.
fn had(text: &str) -> Result<Had, String> {
    let wrong =
        || format!("'{text}' is not an ingredient and its form; write carbonate=monohydrate or bromide=10%");
    let (name, form) = text.split_once('=').ok_or_else(wrong)?;
    let (name, form) = (name.trim(), form.trim());
    if name.is_empty() || form.is_empty() {
        return Err(wrong());
    }
    let is_share = form.starts_with(|first: char| first.is_ascii_digit() || matches!(first, '-' | '.'));
    let form =
        if is_share { HadAs::Percent(value::<Share, _>(form)?) } else { HadAs::State(form.to_owned()) };
    Ok(Had { name: name.to_owned(), form })
}

/// Reads `--taps`: `12C,55C`, in either order.
fn taps(text: &str) -> Result<Taps, String> {
    let both = text.split(',').map(value::<Tap, _>).collect::<Result<Vec<_>, String>>()?;
    let [one, other] = both.as_slice() else {
        return Err(format!("'{text}' is not two temperatures; write 12C,55C"));
    };
    Taps::of(*one, *other).ok_or_else(|| format!("both taps are at {one}; leave --taps out"))
}
