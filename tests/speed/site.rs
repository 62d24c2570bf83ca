//! The site of a thousand recipes.

use std::process::{Command, Stdio};
use std::time::Instant;

use wetside::page::MARK;

use super::made::{FOLDER, Made};
use super::{Figure, median};

const PROGRAM: &str = env!("CARGO_BIN_EXE_wetside");
/// About the length of a module for pages.
const MODULE: usize = 2_500_000;

/// Bytes that the program takes for a module, and that cannot be made smaller.
fn module() -> Vec<u8> {
    let next = |state: &u64| Some(state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1));
    let noise = std::iter::successors(Some(1_u64), next).flat_map(u64::to_be_bytes);
    [b"\0asm", MARK.as_bytes()].concat().into_iter().chain(noise).take(MODULE).collect()
}

pub(super) fn figures() -> Vec<Figure> {
    let made = Made::of(FOLDER);
    let shelf = made.files[0].parent().unwrap();
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("module.wasm"), module()).unwrap();
    let run = |_| {
        let mut call = Command::new(PROGRAM);
        call.arg("site").arg(shelf).args(["-o", "public", "--module", "module.wasm"]);
        let start = Instant::now();
        assert!(call.current_dir(folder.path()).stdout(Stdio::null()).status().unwrap().success());
        start.elapsed().as_secs_f64()
    };
    let site = median((0..5).map(run).collect());
    vec![Figure { what: "the site of 1,000 recipes", reached: site, unit: "s", bar: (5.0, false) }]
}
