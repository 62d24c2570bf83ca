//! `find`: which recipes and sessions have a fingerprint.

use super::inventory::{Inventory, complain_of, inventory};
use super::output::{Output, TextOrJson};
use super::past::{Past, trace};
use super::{Ended, Failure};
use crate::emit::{self, About, Listed};
use crate::model::FingerprintSought;
use crate::vocabulary::Declared;

/// Find the recipe with a card's fingerprint
///
/// Looks in the recipes of the root folder, in what its collections export, and in its sessions. If no recipe has it
/// now, looks in the commits of git, the newest first.
///
/// Exit status: 0 found, 1 not found.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside find W7KX-XET1\n  wetside find w7kx\n  wetside find W7KX-XET1 --as json"
)]
pub(super) struct Arguments {
    /// The fingerprint, or at least its first four digits after the W; small letters will do
    #[arg(value_parser = sought)]
    fingerprint: FingerprintSought,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    #[command(flatten)]
    output: Output,
}

fn sought(text: &str) -> Result<FingerprintSought, String> {
    FingerprintSought::parse(text).ok_or_else(|| {
        "a fingerprint is a W and digits as a card has them, at least four, as in W7KX-XET1".to_owned()
    })
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    let sought = &arguments.fingerprint;
    let mut all = Inventory::default();
    if matches!(sought, FingerprintSought::Begins(_)) {
        all.add(inventory(Declared::Recipe, &|_, _, _| true, arguments.no_config)?);
    }
    all.add(inventory(Declared::Session, &|_, _, _| true, arguments.no_config)?);
    all.things.retain(|one| is_sought(one, sought));
    let has_recipe = all.things.iter().any(|one| matches!(one.about, About::Recipe { .. }));
    if !has_recipe && let (FingerprintSought::Begins(_), Some(past)) = (sought, Past::of_root()) {
        all.things.extend(trace(&past, sought)?);
    }
    let text = match form {
        TextOrJson::Json => emit::listing_json(&all.things, &all.left_out),
        TextOrJson::Text if all.things.is_empty() => {
            "nothing has this fingerprint, now or in any commit\n".to_owned()
        }
        TextOrJson::Text => emit::found(&all.things),
    };
    let text = match (form, sought) {
        (TextOrJson::Text, FingerprintSought::First(_)) => {
            text + "eight digits without a W are of the first edition: only sessions have them\n"
        }
        _ => text,
    };
    arguments.output.send(text, &[])?;
    complain_of(&all.left_out);
    Ok(Ended::with(all.things.is_empty()))
}

fn is_sought(one: &Listed, sought: &FingerprintSought) -> bool {
    match &one.about {
        About::Recipe { fingerprint, .. } | About::Past { fingerprint, .. } => sought.finds(*fingerprint),
        About::Session { fingerprint, .. } => sought.finds_text(fingerprint),
        About::Film { .. } | About::Solution(_) | About::Tank(_) | About::Collection { .. } => false,
    }
}
