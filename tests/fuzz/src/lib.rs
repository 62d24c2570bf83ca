//! What the fuzz targets share: a text is checked beside the shelf's own shared files, and what is
//! said of it is held to be harmless. No disk is touched.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use wetside::check::{Levels, check};
use wetside::compile::{Conditions, Scale, fingerprint};
use wetside::editor::Desk;
use wetside::model::{Format, Number, Rolls, Shelf, Temperature};
use wetside::source::{Diagnostic, FileId, Library, NotRead, Sources, is_hidden};

/// The files that recipes of the shelf use, so that a text grown from one of these goes on to compile.
const SHARED: [(&str, &str); 5] = [
    ("agitation.wet", include_str!("../../../recipes/agitation.wet")),
    ("bases.wet", include_str!("../../../recipes/bases.wet")),
    ("films.wet", include_str!("../../../recipes/films.wet")),
    ("solutions.wet", include_str!("../../../recipes/solutions.wet")),
    ("tanks.wet", include_str!("../../../recipes/tanks.wet")),
];

/// The shelf's shared files, as a library.
#[derive(Default)]
pub struct Shared(BTreeMap<String, FileId>);

impl Library for Shared {
    fn open(&mut self, sources: &mut Sources, _: FileId, path: &str) -> Result<FileId, NotRead> {
        let (name, text) = SHARED.iter().find(|(name, _)| *name == path).ok_or(NotRead::Outside)?;
        Ok(*self.0.entry(path.to_owned()).or_insert_with(|| sources.add(*name, *text)))
    }
}

/// Where an editor finds the shelf.
const FOLDER: &str = "/shelf";

impl Desk for Shared {
    fn lay(&mut self, sources: &mut Sources, path: Option<&Path>, name: &str, text: &str) -> FileId {
        let file = sources.add(name, text);
        let below = path.and_then(|path| path.strip_prefix(FOLDER).ok()).and_then(Path::to_str);
        below.into_iter().for_each(|name| _ = self.0.insert(name.to_owned(), file));
        file
    }

    fn beside(&self, _: FileId) -> Option<Vec<PathBuf>> {
        Some(SHARED.iter().map(|(name, _)| Path::new(FOLDER).join(name)).collect())
    }

    fn take(&mut self, sources: &mut Sources, path: &Path) -> Option<FileId> {
        let name = path.strip_prefix(FOLDER).ok()?.to_str()?;
        self.open(sources, FileId(0), name).ok()
    }

    fn path(&self, file: FileId) -> Option<PathBuf> {
        self.0.iter().find(|(_, id)| **id == file).map(|(name, _)| Path::new(FOLDER).join(name))
    }

    fn levels(&mut self, _: FileId) -> Result<Levels, String> {
        Ok(Levels::default())
    }
}

/// The fingerprints of a file's own recipes by their names, in the order of the file.
#[must_use]
pub fn marks(shelf: &Shelf, file: FileId) -> Vec<(String, String)> {
    let own = shelf.recipes.iter().filter(|recipe| recipe.file == file);
    own.map(|recipe| (recipe.name.clone(), fingerprint(recipe))).collect()
}

/// A text, checked: the files read, the text's own number, what is sound of it, and what was found.
#[must_use]
pub fn checked(text: &str) -> (Sources, FileId, Shelf, Vec<Diagnostic>) {
    let mut sources = Sources::default();
    let file = sources.add("any.wet", text);
    let (shelf, findings) = check(&mut sources, &[file], &mut Shared::default(), &Levels::default());
    (sources, file, shelf, findings)
}

/// One evening for all: 20 °C, two rolls of 120, a litre in the tank.
#[must_use]
pub fn evening() -> Conditions {
    Conditions {
        temperature: Temperature::from_celsius(Number::whole(20)).expect("20 C is in range"),
        scale: Scale::Celsius,
        step_temperatures: Vec::new(),
        ending: None,
        rolls: vec![Rolls { count: 2, format: Format::F120 }],
        labels: Vec::new(),
        volume: Some(wetside::model::Volume::from_ml(1000)),
        start: Some(23 * 3600),
    }
}

/// Fails if a text could steer a terminal. A line may end in two bytes, as the file's lines do.
pub fn harmless(said: &str) {
    let odd = said.replace("\r\n", "\n").chars().find(|letter| is_hidden(*letter));
    assert_eq!(odd, None, "{said:?}");
}
