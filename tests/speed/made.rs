//! Generated recipe files, each sound, of 1 to 2 KB and different, with a thousand in a folder.

use std::path::PathBuf;

/// The number of files in a folder.
pub(super) const FOLDER: usize = 1_000;

/// A folder of generated recipes, deleted when this is dropped.
pub(super) struct Made {
    root: PathBuf,
    /// The files, in the order of their paths.
    pub(super) files: Vec<PathBuf>,
}

impl Made {
    /// Writes this number of files.
    pub(super) fn of(count: usize) -> Made {
        let root = std::env::temp_dir().join(format!("wetside-made-{count}-{}", std::process::id()));
        let mut files = Vec::with_capacity(count);
        for number in 0..count {
            let folder = root.join(format!("crew-{:03}", number / FOLDER));
            if number % FOLDER == 0 {
                std::fs::create_dir_all(&folder).unwrap();
            }
            let path = folder.join(format!("film-{number:06}.wet"));
            let text = format!("wetside 1\n\n{}", declarations(number));
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
    let (minutes, seconds) = (8 + number % 7, number % 60);
    include_str!("made.txt")
        .replace("NUMBER", &number.to_string())
        .replace("LONG", &format!("{}:{seconds:02}", minutes + 3))
        .replace("SHORT", &format!("{minutes}:{seconds:02}"))
}
