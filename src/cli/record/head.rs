//! The first lines of a session: its day, its plan, its recipe and its git revision.

use super::super::entry::Line;
use super::super::evening::Evening;
use super::super::tonight::LastCard;
use super::super::{Reader, darkroom, revision, root};
use super::doubt::Doubt;
use crate::check::declared_names;
use crate::editor::Desk as _;
use crate::model::{Date, Fingerprint, Recipe};

/// The first lines of a session, and a text for the user. The text says why the lines have no git revision; it is empty
/// if they have one. If the recipe has changed since the card was made, that is added to `doubts`.
pub(super) fn head(
    evening: &Evening,
    last: Option<&LastCard>,
    (date, recipe): (Date, &Recipe),
    reader: &Reader,
    doubts: &mut Vec<Doubt>,
) -> (Vec<Line>, String) {
    let now = Fingerprint::of(recipe).full();
    let done = last.map_or(&now, |last| &last.fingerprint);
    let mut lines = vec![format!("date {date}")];
    lines.extend(evening.planned.as_ref().map(|planned| format!("planned-as {}", planned.name)));
    lines.push(format!("recipe {}, fingerprint \"{done}\"", recipe.name));
    let revision = if *done == now {
        revision_of(reader)
    } else {
        doubts.push(Doubt::of_work(format!("the recipe has changed since its card of {date} was made")));
        Err("the recipe has changed".to_owned())
    };
    lines.extend(revision.iter().map(|commit| format!("revision \"{commit}\"")));
    let no_revision = revision.err().map(|why| format!("\nno revision: {why}\n")).unwrap_or_default();
    (lines.into_iter().map(Line::Plain).collect(), no_revision)
}

/// The git commit with the current text of every file that the recipe uses, or the reason why there is no such commit.
fn revision_of(reader: &Reader) -> Result<String, String> {
    let mut commit = None;
    for (file, source) in reader.sources.iter() {
        let declared = declared_names(&reader.sources, file);
        let is_darkroom = declared.iter().any(|(kind, _)| darkroom::OWN.contains(kind));
        let Some(path) = reader.disk.path(&source.name).filter(|_| !is_darkroom) else { continue };
        let held = path.parent().zip(path.file_name().and_then(|name| name.to_str()));
        let held = held.and_then(|(folder, name)| revision::holding(folder, name, &source.text));
        if held.is_none() || commit.is_some() && commit != held {
            let name = root::printable(&source.name);
            return Err(format!("git has no commit with {name} as it is now"));
        }
        commit = held;
    }
    commit.ok_or_else(|| "the recipe is not in a file".to_owned())
}
