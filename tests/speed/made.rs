//! Recipe files made for the figures of many files: each sound, each of 1 to 2 KB, no two alike. They
//! stand in a folder of their own, a thousand to a folder, and are gone when the figures are taken.

use std::path::PathBuf;

/// So many files stand in one folder.
pub(super) const FOLDER: usize = 1_000;

/// A folder of made recipes; it is removed when this is dropped.
pub(super) struct Made {
    root: PathBuf,
    /// The files, in the order of their paths.
    pub(super) files: Vec<PathBuf>,
}

impl Made {
    /// Writes that many files.
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

/// A film, what it is developed and fixed in, and how, as they stand in a file behind its version. Names
/// and times follow the number, so that many can stand in one file.
pub(super) fn declarations(number: usize) -> String {
    let (minutes, seconds) = (8 + number % 7, number % 60);
    include_str!("made.txt")
        .replace("NUMBER", &number.to_string())
        .replace("LONG", &format!("{}:{seconds:02}", minutes + 3))
        .replace("SHORT", &format!("{minutes}:{seconds:02}"))
}
