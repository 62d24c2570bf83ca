//! Recipe files in memory, for the compiler and for its editor. In the editor, the address of a file is `file:///` and
//! its name.

use std::path::{Component, Path, PathBuf};

use super::Texts;
use crate::check::Levels;
use crate::editor::Desk;
use crate::source::{COLLECTION, COLLECTIONS, Files, NotRead, root_in};

/// The recipe files of a [`Compiler`](super::Compiler), in memory.
#[derive(Clone, Default)]
pub(super) struct MemoryDesk(pub(super) Texts);

impl MemoryDesk {
    pub(super) fn names(&self) -> Vec<String> {
        self.0.borrow().keys().cloned().collect()
    }
}

impl Files for MemoryDesk {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        let text = self.0.borrow().get(name).cloned();
        text.ok_or_else(|| NotRead::Unreadable("there is no such file".to_owned()))
    }
}

/// The name of the file with this path: the path without its leading `/`.
fn name_of(path: &Path) -> String {
    let parts = path.components().filter_map(|part| match part {
        Component::Normal(name) => name.to_str(),
        _ => None,
    });
    parts.collect::<Vec<_>>().join("/")
}

impl Desk for MemoryDesk {
    fn lay(&mut self, path: &Path) -> String {
        name_of(path)
    }

    fn beside(&self, name: &str) -> Option<Vec<PathBuf>> {
        let own = |other: &String| self.are_of_one_root(name, other);
        Some(self.names().into_iter().filter(own).map(|name| Path::new("/").join(name)).collect())
    }

    fn collections(&self, _: &str) -> Vec<String> {
        let (before, after) = (format!("{COLLECTIONS}/"), format!("/{COLLECTION}"));
        let names = self.names();
        let own = names.iter().filter_map(|name| name.strip_prefix(&before)?.strip_suffix(&after));
        own.filter(|name| !name.contains('/')).map(str::to_owned).collect()
    }

    fn take(&mut self, path: &Path) -> Option<String> {
        let name = name_of(path);
        self.0.borrow().contains_key(&name).then_some(name)
    }

    fn are_of_one_root(&self, one: &str, other: &str) -> bool {
        root_in(Path::new(one)) == root_in(Path::new(other))
    }

    fn path(&self, name: &str) -> Option<PathBuf> {
        self.0.borrow().contains_key(name).then(|| Path::new("/").join(name))
    }

    fn levels(&mut self, _: &str) -> Result<Levels, String> {
        Ok(Levels::default())
    }
}
