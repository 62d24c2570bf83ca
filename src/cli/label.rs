//! The labels of bottles: writes them as text or as a PDF.

use clap::ValueEnum;

use super::output::Output;
use super::{Ended, Failure, Reader, fail};
use crate::compile::Label;
use crate::emit::{self, Look, Paper};

/// Writes labels: several on a sheet of paper if the file is a PDF, else as text.
pub(super) fn send<F: ValueEnum + Copy + Send + Sync>(
    labels: &[Label],
    paper: Option<Paper>,
    look: Look,
    (output, readers): (&Output<F>, &[&Reader]),
) -> Result<Ended, Failure> {
    let ending = output.file().and_then(|path| path.extension());
    if ending.is_some_and(|ending| ending == "pdf") {
        return output.send(emit::labels_pdf(labels, paper.unwrap_or(Paper::A4)), readers);
    }
    if paper.is_some() {
        return fail("only a PDF has --paper", "leave it out, or name a file: -o labels.pdf");
    }
    output.send(emit::labels(labels, look), readers)
}
