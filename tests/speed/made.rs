//! Generated recipe files, each sound, of 1 to 2 KB and different, with a thousand in a folder.

use std::path::{Path, PathBuf};

/// The number of files in a folder.
pub(super) const FOLDER: usize = 1_000;

/// A folder of generated recipes, deleted when this is dropped.
pub(super) struct Made {
    root: PathBuf,
    /// The files, in the order of their paths.
    pub(super) files: Vec<PathBuf>,
}

impl Made {
    /// Writes this number of files, each complete in itself.
    pub(super) fn of(count: usize) -> Made {
        Made::written("alone", count, |number| format!("wetside 1\n\n{}", declarations(number)))
    }

    /// Writes this number of files that each use four files of the shelf; one recipe of each is derived from the
    /// shelf and one from that.
    pub(super) fn sharing(count: usize) -> Made {
        let made = Made::written("sharing", count, |number| numbered(include_str!("shared.txt"), number));
        for name in ["agitation.wet", "bases.wet", "films.wet", "solutions.wet"] {
            std::fs::copy(Path::new("recipes").join(name), made.root.join(name)).unwrap();
        }
        // The files are below one root, so that they may use those above them.
        std::fs::create_dir(made.root.join(".git")).unwrap();
        std::fs::write(made.root.join(".git/HEAD"), "").unwrap();
        made
    }

    fn written(kind: &str, count: usize, text: impl Fn(usize) -> String) -> Made {
        let root = std::env::temp_dir().join(format!("wetside-{kind}-{count}-{}", std::process::id()));
        let mut files = Vec::with_capacity(count);
        for number in 0..count {
            let folder = root.join(format!("crew-{:03}", number / FOLDER));
            if number % FOLDER == 0 {
                std::fs::create_dir_all(&folder).unwrap();
            }
            let path = folder.join(format!("film-{number:06}.wet"));
            let text = text(number);
            assert!((1_000..2_000).contains(&text.len()), "{} bytes", text.len());
            std::fs::write(&path, text).unwrap();
            files.push(path);
        }
        Made { root, files }
    }
}

impl Drop for Made {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.root);
    }
}

/// A film, its solutions and a recipe, without the version. Names and times depend on the number, so that a file can
/// have many.
pub(super) fn declarations(number: usize) -> String {
    numbered(include_str!("made.txt"), number)
}

/// A text with its number and times that depend on it.
fn numbered(text: &str, number: usize) -> String {
    let (minutes, seconds) = (8 + number % 7, number % 60);
    text.replace("NUMBER", &number.to_string())
        .replace("LONGER", &format!("{}:{seconds:02}", minutes + 8))
        .replace("LONG", &format!("{}:{seconds:02}", minutes + 3))
        .replace("MIDDLE", &format!("{}:{seconds:02}", minutes + 1))
        .replace("SHORT", &format!("{minutes}:{seconds:02}"))
}
