//! Runs the built program in an empty folder with an empty environment.
//!
//! A run that succeeds must end with status 0 and print nothing on standard error.

use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{Seek, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use tempfile::TempDir;

/// A call of the program and its folder, which is deleted when the last call in it is dropped.
#[must_use = "a run without an assertion tests nothing"]
#[derive(Clone)]
pub(crate) struct Run {
    program: PathBuf,
    folder: Arc<TempDir>,
    below: PathBuf,
    args: Vec<OsString>,
    env: Vec<(String, String)>,
    stdin: Vec<u8>,
}

/// The status and the output of a run.
struct Outcome {
    status: i32,
    stdout: String,
    stderr: String,
}

impl Run {
    /// A run of the built `wetside` in an empty folder, without arguments, input or environment.
    pub(crate) fn new() -> Run {
        Run::of(env!("CARGO_BIN_EXE_wetside"))
    }

    fn of(program: &str) -> Run {
        Run {
            program: program.into(),
            folder: Arc::new(TempDir::new().unwrap()),
            below: PathBuf::new(),
            args: Vec::new(),
            env: Vec::new(),
            stdin: Vec::new(),
        }
    }

    /// Writes a file into the run's folder, and creates the folders on its path.
    pub(crate) fn file(self, path: &str, contents: impl AsRef<[u8]>) -> Run {
        let path = self.folder.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, contents).unwrap();
        self
    }

    /// Copies the files of a project folder, such as `recipes`, into the run's folder, without its subfolders.
    pub(crate) fn folder_of_repo(self, name: &str) -> Run {
        copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join(name), &self.folder.path().join(name));
        self
    }

    /// Copies a project folder with its subfolders.
    pub(crate) fn folders_of_repo(self, name: &str) -> Run {
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
        let inside = fs::read_dir(&from).unwrap().map(|entry| entry.unwrap());
        let folders = inside.filter(|entry| entry.file_type().unwrap().is_dir());
        let names = folders.map(|entry| format!("{name}/{}", entry.file_name().to_str().unwrap()));
        names.fold(self.folder_of_repo(name), |run, name| run.folders_of_repo(&name))
    }

    /// Adds an argument, which may be invalid UTF-8.
    pub(crate) fn arg(mut self, arg: impl Into<OsString>) -> Run {
        self.args.push(arg.into());
        self
    }

    /// Adds arguments.
    pub(crate) fn args<const N: usize>(mut self, args: [&str; N]) -> Run {
        self.args.extend(args.map(OsString::from));
        self
    }

    /// Sets standard input, which is empty by default.
    pub(crate) fn stdin(mut self, bytes: impl Into<Vec<u8>>) -> Run {
        self.stdin = bytes.into();
        self
    }

    /// Sets a variable of the environment, which is otherwise empty.
    pub(crate) fn env(mut self, key: &str, value: &str) -> Run {
        self.env.push((key.to_owned(), value.to_owned()));
        self
    }

    /// Another run in the same folder and environment, without arguments or input.
    pub(crate) fn again(&self) -> Run {
        let (program, folder, below) = (self.program.clone(), Arc::clone(&self.folder), self.below.clone());
        Run { program, folder, below, args: Vec::new(), env: self.env.clone(), stdin: Vec::new() }
    }

    /// Runs in this subfolder, which must exist by then.
    pub(crate) fn below(mut self, folder: &str) -> Run {
        self.below = folder.into();
        self
    }

    /// Whether the run has no input, no environment and no subfolder.
    pub(crate) fn has_only_arguments(&self) -> bool {
        self.env.is_empty() && self.stdin.is_empty() && self.below.as_os_str().is_empty()
    }

    /// The run's folder.
    pub(crate) fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Runs; requires status 0 and an empty standard error; returns standard output.
    #[track_caller]
    pub(crate) fn succeeds(&self) -> String {
        let Outcome { status, stdout, stderr } = self.outcome();
        assert!(
            status == 0 && stderr.is_empty(),
            "{self} should succeed in silence, but: status {status}\n--- output\n{stdout}\n--- error\n{stderr}"
        );
        stdout
    }

    /// Runs; requires this status, which is not 0; returns standard output and standard error.
    #[track_caller]
    pub(crate) fn fails(&self, expected: i32) -> (String, String) {
        assert!(expected != 0, "status 0 is no failure");
        let Outcome { status, stdout, stderr } = self.outcome();
        assert!(
            status == expected,
            "{self} should fail with {expected}, but: status {status}\n--- output\n{stdout}\n--- error\n{stderr}"
        );
        (stdout, stderr)
    }

    /// Runs; returns the status, standard output and standard error.
    pub(crate) fn ends(&self) -> (i32, String, String) {
        let Outcome { status, stdout, stderr } = self.outcome();
        (status, stdout, stderr)
    }

    /// Runs. Standard input is nothing or a file, so a program that does not read it cannot block the test.
    fn outcome(&self) -> Outcome {
        let input = if self.stdin.is_empty() {
            Stdio::null()
        } else {
            let mut input: File = tempfile::tempfile().unwrap();
            input.write_all(&self.stdin).unwrap();
            input.rewind().unwrap();
            Stdio::from(input)
        };
        let output = Command::new(&self.program)
            .args(&self.args)
            .current_dir(self.folder.path().join(&self.below))
            .env_clear()
            .envs(self.env.iter().cloned())
            .stdin(input)
            .output()
            .unwrap();
        let text = |bytes| String::from_utf8(bytes).expect("the output is UTF-8");
        Outcome {
            status: output.status.code().unwrap_or_else(|| panic!("{self} was killed: {}", output.status)),
            stdout: text(output.stdout),
            stderr: text(output.stderr),
        }
    }
}

impl std::fmt::Display for Run {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let words: Vec<_> = self.args.iter().map(|arg| arg.to_string_lossy()).collect();
        write!(f, "`{} {}`", self.program.file_name().unwrap().display(), words.join(" "))
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let from = entry.unwrap().path();
        if from.is_file() {
            fs::copy(&from, to.join(from.file_name().unwrap())).unwrap();
        }
    }
}

#[test]
fn a_wrong_call_ends_with_status_two() {
    let (stdout, stderr) = Run::new().arg("--no-such-flag").fails(2);
    assert_eq!(stdout, "");
    assert!(stderr.contains("--no-such-flag"), "{stderr}");
}

/// Tests of `Run` itself, with a shell as the program.
#[cfg(unix)]
mod on_a_shell {
    use std::panic::catch_unwind;

    use super::Run;

    fn shell(script: &str) -> Run {
        Run::of("/bin/sh").args(["-c", script, "sh"])
    }

    #[test]
    fn a_run_has_its_files_arguments_input_and_environment() {
        let said = shell("cat a/b.wet; echo; cat; echo \"$1\" \"$TIDE\"; test -f grammar/wetside.pest")
            .file("a/b.wet", "one")
            .folder_of_repo("grammar")
            .arg("three")
            .stdin("two\n")
            .env("TIDE", "four")
            .succeeds();
        assert_eq!(said, "one\ntwo\nthree four\n");
    }

    #[test]
    fn a_run_has_nothing_that_was_not_given() {
        assert_eq!(shell("ls -A; cat; echo \"$#$HOME$NO_COLOR$CARGO_MANIFEST_DIR\"").succeeds(), "0\n");
    }

    #[test]
    fn the_same_folder_can_be_used_again() {
        let run = shell("cat > written").stdin("kept");
        run.succeeds();
        assert_eq!(std::fs::read_to_string(run.folder().join("written")).unwrap(), "kept");
        assert_eq!(run.again().args(["-c", "cat written; cat"]).succeeds(), "kept");
    }

    #[test]
    fn output_on_standard_error_is_not_success() {
        assert!(catch_unwind(|| shell("echo noise >&2").succeeds()).is_err());
    }

    #[test]
    fn another_status_than_expected_is_a_failure() {
        assert!(catch_unwind(|| shell("exit 1").succeeds()).is_err());
        assert!(catch_unwind(|| shell("exit 1").fails(2)).is_err());
        assert!(catch_unwind(|| shell("exit 0").fails(0)).is_err());
        assert_eq!(
            shell("echo out; echo err >&2; exit 2").fails(2),
            ("out\n".to_owned(), "err\n".to_owned())
        );
    }

    #[test]
    fn a_killed_program_fails_whatever_is_expected() {
        for status in [1, 9, 137] {
            assert!(catch_unwind(|| shell("kill -9 $$").fails(status)).is_err());
        }
    }
}
