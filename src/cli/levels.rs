//! The weights of the rules as a house and a call have them: `wetside.toml` at the root, then
//! `--level`. A house can weigh rules and nothing else.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::failure::Failure;
use crate::check::Levels;
use crate::source::Level;

/// The name of the file.
const FILE: &str = "wetside.toml";

/// What `wetside.toml` may say.
#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct House {
    #[serde(default)]
    levels: BTreeMap<String, String>,
}

/// The weights of a run, from the house's file at the root above this folder and from the call.
pub(super) fn levels(asked: &[String], isolated: bool) -> Result<Levels, Failure> {
    let mut levels = Levels::default();
    if let Some(path) = house_file().filter(|_| !isolated) {
        let shown = path.display().to_string();
        let wrong = |why: String| {
            Failure::new(
                format!("{shown} is at fault: {why}"),
                "write it as in: [levels] and below it wet-after-dry = \"off\"; or pass --isolated",
            )
        };
        let text = std::fs::read_to_string(&path).map_err(|error| wrong(error.to_string()))?;
        let house: House = toml::from_str(&text).map_err(|error| wrong(error.message().to_owned()))?;
        for (name, word) in &house.levels {
            levels.set(name, level(word).map_err(wrong)?).map_err(wrong)?;
        }
    }
    for pair in asked {
        let wrong = |why: String| Failure::new(why, "write it as in: --level wet-after-dry=off");
        let (name, word) =
            pair.split_once('=').ok_or_else(|| wrong(format!("'{pair}' does not say which weight")))?;
        levels.set(name, level(word).map_err(wrong)?).map_err(wrong)?;
    }
    Ok(levels)
}

/// The weight of that word; `None` for off.
pub(super) fn level(word: &str) -> Result<Option<Level>, String> {
    match word {
        "off" => Ok(None),
        "advice" => Ok(Some(Level::Advice)),
        "warning" => Ok(Some(Level::Warning)),
        "error" => Ok(Some(Level::Error)),
        other => Err(format!("'{other}' is no weight; write off, advice, warning or error")),
    }
}

/// The house's file: in the nearest folder above that holds `.git`, else in this folder.
fn house_file() -> Option<PathBuf> {
    let here = std::fs::canonicalize(".").ok()?;
    let root = here.ancestors().find(|above| above.join(".git").exists()).unwrap_or(Path::new(&here));
    Some(root.join(FILE)).filter(|file| file.is_file())
}
