//! The program by itself, and as a user whom the permissions of files bind.

use std::path::Path;
use std::process::{Command, Stdio};

/// A call of this program in a folder, without environment or input.
pub(crate) fn of(program: &Path, folder: &Path) -> Command {
    let mut command = Command::new(program);
    command.current_dir(folder).env_clear();
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

/// Says why a test had to leave something out on this machine.
#[expect(clippy::print_stderr, reason = "nothing is left out in silence")]
pub(crate) fn left_out(why: &str) {
    eprintln!("left out: {why}");
}

#[cfg(unix)]
mod of_this_system {
    use std::fs::{self, Permissions};
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _};
    use std::os::unix::process::CommandExt as _;
    use std::path::Path;
    use std::process::Command;

    use super::{left_out, of};

    /// Root has every permission, so there a copy of the program runs as the user `nobody`.
    pub(crate) fn as_one_who_may_not(folder: &Path) -> Option<Command> {
        if fs::metadata(folder).unwrap().uid() != 0 {
            return Some(of(Path::new(env!("CARGO_BIN_EXE_wetside")), folder));
        }
        let copy = folder.join("wetside");
        fs::copy(env!("CARGO_BIN_EXE_wetside"), &copy).unwrap();
        for path in [folder, &copy] {
            fs::set_permissions(path, Permissions::from_mode(0o755)).unwrap();
        }
        let nobody = || {
            let mut call = of(&copy, folder);
            call.uid(65_534).gid(65_534);
            call
        };
        if let Err(fault) = nobody().arg("--version").output() {
            left_out(&format!(
                "root ignores permissions, and the user nobody cannot run the program here: {fault}"
            ));
            return None;
        }
        Some(nobody())
    }
}

#[cfg(unix)]
pub(crate) use of_this_system::as_one_who_may_not;
