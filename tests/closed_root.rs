//! A darkroom whose root can be written but not opened, so that writers lock a file instead of the folder.

use std::fs::{self, File, Permissions};
use std::os::unix::fs::PermissionsExt as _;
use std::path::Path;
use std::process::{Child, Command, Stdio};

use crate::program::Run;
use crate::unprivileged::as_one_who_may_not;
use crate::writers::small_below;

/// The file that is locked instead.
pub(crate) const BESIDE: &str = ".wetside-lock";

/// A darkroom in `inner/`, whose root above cannot be opened while this value lives.
pub(crate) struct ClosedRoot {
    run: Run,
    call: Command,
}

impl ClosedRoot {
    /// `None`, with a message, if permissions do not bind this user.
    pub(crate) fn new() -> Option<ClosedRoot> {
        let run = small_below("inner/").file(".git/HEAD", "");
        let root = run.folder();
        let mut call = as_one_who_may_not(root)?;
        let inner = root.join("inner");
        call.args(["record", "plain.wet", "--at", "21.5C", "--rolls", "1x120", "--date", "2026-11-12"]);
        call.args(["--journal", "journal.wet"]).current_dir(&inner).stdin(Stdio::null());
        call.stdout(Stdio::null()).stderr(Stdio::piped());
        fs::set_permissions(&inner, Permissions::from_mode(0o777)).unwrap();
        fs::set_permissions(inner.join("journal.wet"), Permissions::from_mode(0o666)).unwrap();
        fs::set_permissions(root, Permissions::from_mode(0o333)).unwrap();
        Some(ClosedRoot { run, call })
    }

    pub(crate) fn root(&self) -> &Path {
        self.run.folder()
    }

    pub(crate) fn writer(&mut self) -> Child {
        self.call.spawn().unwrap()
    }

    pub(crate) fn sessions(&self) -> usize {
        fs::read_dir(self.root().join("inner/journal")).map_or(0, Iterator::count)
    }

    /// Locks the file as another program would.
    pub(crate) fn taken(&self) -> File {
        let beside = self.root().join(BESIDE);
        let file = File::create_new(&beside).unwrap();
        fs::set_permissions(&beside, Permissions::from_mode(0o666)).unwrap();
        file.lock().unwrap();
        file
    }
}

impl Drop for ClosedRoot {
    fn drop(&mut self) {
        // Else its owner could not clear the folder away. If this fails too, it stays in the system's own folder for such.
        let _ = fs::set_permissions(self.root(), Permissions::from_mode(0o755));
    }
}

#[track_caller]
pub(crate) fn said(child: Child, status: i32) -> String {
    let output = child.wait_with_output().unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(status), "{stderr}");
    stderr.split_whitespace().collect::<Vec<_>>().join(" ")
}
