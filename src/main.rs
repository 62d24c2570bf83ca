//! The program `wetside`: everything it does is in the library, which the tests share.

use std::process::ExitCode;

fn main() -> ExitCode {
    wetside::cli::run()
}
