//! `editor`: the language server on standard input and output.

use std::io::{stdin, stdout};

use super::Ended;
use super::disk::Disk;
use super::failure::Failure;
use crate::editor::{self, Desk};

/// Serves until the editor leaves. The protocol's status for an editor that leaves without asking for the end is 1.
pub(super) fn run(no_config: bool) -> Result<Ended, Failure> {
    let disk = || {
        let mut disk = Disk::default();
        disk.no_config = no_config;
        Box::new(disk) as Box<dyn Desk>
    };
    match editor::serve(&mut stdin().lock(), &mut stdout().lock(), &disk) {
        Ok(editor::Ended::Asked) => Ok(Ended::Done),
        Ok(editor::Ended::Unasked) => Ok(Ended::WithFindings),
        Err(words) => Err(Failure::new(
            format!("the editor's messages cannot be read: {words}"),
            "this command is for editors: set one up to run wetside editor for .wet files",
        )),
    }
}
