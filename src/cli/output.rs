//! Standard output and standard error, and the options for the form of a result, such as JSON, and for its file.

use std::ffi::OsStr;
use std::io::{ErrorKind, IsTerminal, Write};
use std::path::{Path, PathBuf};

use clap::{ColorChoice, ValueEnum};

use super::root::printable;
use super::{Ended, Failure, Reader, fail, write};
use crate::emit::Paper;
use crate::report::Look;

/// Whether output has colour, for standard output and for standard error.
#[derive(Clone, Copy)]
pub(super) struct Terminal {
    pub(super) out: Look,
    pub(super) err: Look,
}

impl Terminal {
    /// The looks for a value of `--color`. `Auto` means colour on a terminal, unless `NO_COLOR` is set or `TERM` is
    /// `dumb`.
    pub(super) fn of(choice: ColorChoice) -> Terminal {
        let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty())
            || std::env::var_os("TERM").is_some_and(|value| value == "dumb");
        let look = |is_terminal: bool| match choice {
            ColorChoice::Always => Look::Colour,
            ColorChoice::Auto if is_terminal && !refused => Look::Colour,
            ColorChoice::Auto | ColorChoice::Never => Look::Plain,
        };
        Terminal { out: look(std::io::stdout().is_terminal()), err: look(std::io::stderr().is_terminal()) }
    }

    pub(super) fn complain(self, failure: &Failure) {
        complain(&failure.drawn(self.err));
    }
}

/// Prints a result on standard output. A pipe closed by its reader is no error.
pub(super) fn print(text: impl AsRef<[u8]>) -> Result<Ended, Failure> {
    printed(text).map(|_| Ended::Done)
}

/// Prints text on standard output. Returns `false` if standard output is a pipe that its reader has closed.
pub(super) fn printed(text: impl AsRef<[u8]>) -> Result<bool, Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_ref()).and_then(|()| out.flush()) {
        Ok(()) => Ok(true),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(false),
        Err(error) => {
            fail(format!("the output could not be written: {error}"), "free some space on the disk")
        }
    }
}

/// Prints text on standard error. A failure is ignored, since it cannot be reported.
pub(super) fn complain(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// For each output form whose name is not its file ending: the name and the ending. If the ending is empty, only `--as`
/// can choose the form: `.svg` means `curve`, not `strip`, and `sheet.pdf` has the sheet, not labels.
const ENDINGS: [(&str, &str); 4] = [("text", "txt"), ("curve", "svg"), ("strip", ""), ("label", "")];

fn ending(form: &impl ValueEnum) -> String {
    let name = form.to_possible_value().map(|value| value.get_name().to_owned()).unwrap_or_default();
    let own = ENDINGS.iter().find(|(form, _)| *form == name);
    own.map_or(name, |(_, ending)| (*ending).to_owned())
}

#[derive(Clone, Copy, ValueEnum)]
pub(super) enum TextOrJson {
    /// For people
    Text,
    /// For programs: one object; its schema is in grammar/
    Json,
}

// The output form and the file of a result. A doc comment here would replace the help text of the command.
#[derive(clap::Args)]
pub(super) struct Output<F: ValueEnum + Send + Sync + 'static = TextOrJson> {
    /// What to write; if not given, the ending of the file name decides
    #[arg(long = "as", value_enum)]
    form: Option<F>,
    /// Write to this file
    #[arg(short, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Allow -o to replace a .wet file or a wetside.toml, or to write through a link
    #[arg(long, requires = "output")]
    replace: bool,
}

impl<F: ValueEnum + Copy + Send + Sync> Output<F> {
    /// The file to write to; `None` for standard output.
    pub(super) fn file(&self) -> Option<&Path> {
        self.output.as_deref().filter(|path| path.as_os_str() != "-")
    }

    pub(super) fn is_pdf(&self) -> bool {
        self.file().is_some_and(|path| path.extension().is_some_and(|ending| ending == "pdf"))
    }

    pub(super) fn colour(&self, terminal: Terminal) -> bool {
        terminal.out == Look::Colour && self.file().is_none()
    }

    /// The output form that `--as` names, else the form for the ending of the file name; without a file, the default
    /// form.
    pub(super) fn form(&self) -> Result<F, Failure> {
        let forms = F::value_variants();
        let given = self.file().map(|path| path.extension().and_then(OsStr::to_str).unwrap_or_default());
        let known = match given {
            Some(given) => forms.iter().find(|form| !given.is_empty() && ending(*form) == given),
            None => forms.first(),
        };
        self.form.or(known.copied()).ok_or_else(|| {
            let known = forms.iter().map(ending).filter(|ending| !ending.is_empty());
            let known: Vec<String> = known.map(|ending| format!(".{ending}")).collect();
            Failure::new(
                match given.filter(|given| !given.is_empty()) {
                    Some(given) => format!("no form has the ending .{given}"),
                    None => "the file name has no ending, so the form is not known".to_owned(),
                },
                format!("use one of {}, or add --as text", known.join(", ")),
            )
        })
    }

    /// Fails if the result is binary and would be printed on a terminal.
    pub(super) fn check_terminal(&self, is_binary: bool) -> Result<(), Failure> {
        if is_binary && self.file().is_none() && std::io::stdout().is_terminal() {
            return fail("a terminal cannot show this form", "write it to a file with -o, or to a pipe");
        }
        Ok(())
    }

    /// Fails if a PDF would be printed on a terminal, or if `--paper` is given and the result is no PDF.
    pub(super) fn check_paper(&self, is_pdf: bool, paper: Option<Paper>) -> Result<(), Failure> {
        self.check_terminal(is_pdf)?;
        if !is_pdf && paper.is_some() {
            return fail("only a PDF has --paper", "leave it out, or name a file: -o NAME.pdf");
        }
        Ok(())
    }

    /// Fails if the file of `-o` is one that `readers` have read.
    pub(super) fn not_read(&self, readers: &[&Reader]) -> Result<(), Failure> {
        self.file().map_or(Ok(()), |path| not_read(path, readers))
    }

    /// Writes a result to standard output or to the file of `-o`, which must not be a file that `readers` have read.
    pub(super) fn send(&self, bytes: impl AsRef<[u8]>, readers: &[&Reader]) -> Result<Ended, Failure> {
        send(bytes, (self.file(), self.replace), readers)
    }
}

/// Writes a result to the file `path`, or to standard output if `path` is `None`. With `replace`, the file may be a
/// link, or an existing recipe or config file. It must not be a file that `readers` have read.
pub(super) fn send(
    bytes: impl AsRef<[u8]>,
    (path, replace): (Option<&Path>, bool),
    readers: &[&Reader],
) -> Result<Ended, Failure> {
    let Some(path) = path else { return print(bytes) };
    not_read(path, readers)?;
    if !replace {
        may_replace(path)?;
    }
    write::output(path, bytes.as_ref()).map(|()| Ended::Done)
}

fn not_read(path: &Path, readers: &[&Reader]) -> Result<(), Failure> {
    if !readers.iter().any(|reader| reader.disk.has_read(path)) {
        return Ok(());
    }
    let name = printable(&path.to_string_lossy());
    fail(
        format!("{name} is one of the files that this call reads"),
        "name another file: a command does not overwrite its own input",
    )
}

/// Fails if this file may be written only with `--replace`: a link, a hard link, or an existing recipe or config file.
fn may_replace(path: &Path) -> Result<(), Failure> {
    let Ok(there) = std::fs::symlink_metadata(path) else { return Ok(()) };
    let what = if there.is_symlink() {
        let target = std::fs::read_link(path).unwrap_or_default();
        format!("a link to {}", printable(&target.to_string_lossy()))
    } else if there.is_file() && write::has_several_names(&there) {
        "a hard link: its other names would change too".to_owned()
    } else if there.is_file() && write::is_kept(path) {
        let kind = if path.extension().is_some_and(|ending| ending == "toml") { "config" } else { "recipe" };
        format!("a {kind} file, and -o would replace it")
    } else {
        return Ok(());
    };
    let name = printable(&path.to_string_lossy());
    fail(format!("{name} is {what}"), "name another file, or add --replace")
}
