//! Helpers of the fuzz targets: a text is checked in memory together with the shared files of `recipes`.

use std::path::{Path, PathBuf};

use wetside::check::{Checked, Levels};
use wetside::compile::{Tonight, fingerprint};
use wetside::editor::Desk;
use wetside::model::{Format, Rolls, Temperature, Volume};
use wetside::source::{Files, MemoryFiles, NotRead, is_hidden};

/// The files that the recipes import, so that an input grown from a recipe still compiles.
const SHARED: [(&str, &str); 5] = [
    ("agitation.wet", include_str!("../../../recipes/agitation.wet")),
    ("bases.wet", include_str!("../../../recipes/bases.wet")),
    ("films.wet", include_str!("../../../recipes/films.wet")),
    ("solutions.wet", include_str!("../../../recipes/solutions.wet")),
    ("tanks.wet", include_str!("../../../recipes/tanks.wet")),
];

/// The shared files and this text.
#[must_use]
pub fn files(text: &str) -> MemoryFiles {
    SHARED.into_iter().chain([("any.wet", text)]).collect()
}

/// The folder of the files in an editor.
const FOLDER: &str = "/shelf";

/// The shared files as an editor's source of files.
pub struct Shared(MemoryFiles);

impl Default for Shared {
    fn default() -> Shared {
        Shared(SHARED.into_iter().collect())
    }
}

impl Files for Shared {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        self.0.read(name)
    }
}

impl Desk for Shared {
    fn lay(&mut self, path: &Path) -> String {
        path.strip_prefix(FOLDER).unwrap_or(path).display().to_string()
    }

    fn beside(&self, _: &str) -> Option<Vec<PathBuf>> {
        Some(SHARED.iter().map(|(name, _)| Path::new(FOLDER).join(name)).collect())
    }

    fn collections(&self, _: &str) -> Vec<String> {
        Vec::new()
    }

    fn take(&mut self, path: &Path) -> Option<String> {
        let name = self.lay(path);
        self.0.read(&name).is_ok().then_some(name)
    }

    fn are_of_one_root(&self, _: &str, _: &str) -> bool {
        true
    }

    fn path(&self, name: &str) -> Option<PathBuf> {
        name.ends_with(".wet").then(|| Path::new(FOLDER).join(name))
    }

    fn levels(&mut self, _: &str) -> Result<Levels, String> {
        Ok(Levels::default())
    }
}

/// Checks a text together with the shared files.
#[must_use]
pub fn checked(text: &str) -> Checked {
    wetside::check(&files(text), "any.wet").expect("it is there")
}

/// The names and fingerprints of a file's recipes, in order.
#[must_use]
pub fn marks(checked: &Checked) -> Vec<(String, String)> {
    checked.recipes().map(|recipe| (recipe.name.clone(), fingerprint(&recipe))).collect()
}

/// The evening for every input: 20 °C, two rolls of 120, a litre.
#[must_use]
pub fn evening() -> Tonight {
    let rolls = vec![Rolls { count: 2, format: Format::F120 }];
    Tonight {
        volume: Some(Volume::from_ml(1000)),
        start: Some(23 * 3600),
        ..Tonight::new(Temperature::celsius_whole(20), rolls)
    }
}

/// Panics if a text has a control character. A line may end with CRLF.
pub fn harmless(said: &str) {
    let odd = said.replace("\r\n", "\n").chars().find(|letter| is_hidden(*letter));
    assert_eq!(odd, None, "{said:?}");
}
