//! Which form a call means: the one that it asks for, else by the ending of the file's name.

use std::ffi::OsStr;
use std::path::Path;

use super::failure::Failure;

/// The form that is asked for, else that of the ending, else, where nothing is named, the first of these.
///
/// # Errors
/// The name has another ending, or none.
pub(super) fn form<F: Copy>(
    asked: Option<F>,
    output: Option<&Path>,
    endings: &[(&str, F)],
) -> Result<F, Failure> {
    let ending = output.map(|path| path.extension().and_then(OsStr::to_str));
    let meant = match ending {
        Some(ending) => endings.iter().find(|(known, _)| ending == Some(*known)),
        None => endings.first(),
    };
    asked.or(meant.map(|(_, form)| *form)).ok_or_else(|| {
        let known: Vec<String> = endings.iter().map(|(known, _)| format!(".{known}")).collect();
        let known = known.join(", ");
        let known = known.rsplit_once(", ").map_or(known.clone(), |(few, one)| format!("{few} or {one}"));
        Failure::new(
            match ending.flatten() {
                Some(ending) => format!("the ending .{ending} does not tell what to write"),
                None => "a name without an ending does not tell what to write".to_owned(),
            },
            format!("name a file that ends in {known}, or say it as in --as text"),
        )
    })
}
