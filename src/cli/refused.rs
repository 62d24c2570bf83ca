//! How a call ends to which something that it read is in the way, or in which rolls are left out: why, on standard
//! error, and its exit status.

use super::terminal::Terminal;
use super::{Ended, output};
use crate::report;
use crate::source::{Diagnostic, Sources};

/// Tells of what was found, and how the call ends.
pub(super) fn refused(sources: &Sources, findings: &[Diagnostic], terminal: Terminal) -> Ended {
    let look = if terminal.err { report::Look::Colour } else { report::Look::Plain };
    output::complain(&report::draw(sources, findings, look));
    Ended::WithFindings
}
