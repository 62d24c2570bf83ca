//! An internal error: what it is, where in the source, and how to report it.

use std::panic::{PanicHookInfo, UnwindSafe, catch_unwind, set_hook};
use std::process::ExitCode;
use std::sync::Once;

use super::output;
use crate::report::sanitise;

/// The exit status of an internal error: `EX_SOFTWARE` of sysexits.
pub const STATUS: u8 = 70;

/// Runs the work. A panic, in any thread, is printed once on standard error, and the status is [`STATUS`].
pub fn guarded(work: impl FnOnce() -> ExitCode + UnwindSafe) -> ExitCode {
    static PRINTED: Once = Once::new();
    set_hook(Box::new(|panic| PRINTED.call_once(|| output::complain(&described(panic)))));
    catch_unwind(work).unwrap_or(ExitCode::from(STATUS))
}

fn described(panic: &PanicHookInfo<'_>) -> String {
    let what = sanitise(panic.payload_as_str().unwrap_or("without a message")).replace('\n', " ");
    let place = panic.location().map_or_else(String::new, |at| format!(" at {}:{}", at.file(), at.line()));
    format!(
        "internal error: {what}\n  in wetside {}{place}\n  help: this is a bug in wetside, not in your recipe\n        \
         report it with these lines, the command and its files\n",
        env!("CARGO_PKG_VERSION")
    )
}
