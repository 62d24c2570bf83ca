//! One writer at a time: whoever records holds the darkroom's root until all is written. The system gives the
//! lock back however a holder ends, so nothing has to be tidied up after a kill.

use std::fs::{File, OpenOptions, TryLockError};
use std::path::Path;
use std::time::{Duration, Instant};

use super::super::failure::Failure;

/// So long another writer is waited for. One takes some hundredths of a second, and several may stand in line.
const PATIENCE: Duration = Duration::from_secs(10);
/// So long it is slept between two looks.
const NAP: Duration = Duration::from_millis(10);
/// Where a folder itself cannot be locked, this file in it is; it may stay there.
const BESIDE: &str = ".wetside-lock";

/// The darkroom is held as long as this lives.
#[derive(Debug)]
pub(super) struct Held(#[expect(dead_code, reason = "it is held, not read")] File);

/// Waits for the lock of a root. The folder itself is locked and no journal, since a journal is replaced whole
/// and the lock would go with the old one.
///
/// # Errors
/// Another holds it for longer than anyone writes, or nothing there can be locked.
pub(super) fn held(root: &Path) -> Result<Held, Failure> {
    match File::open(root).map_err(TryLockError::Error).and_then(|folder| waited(&folder).map(|()| folder)) {
        Ok(folder) => return Ok(Held(folder)),
        Err(TryLockError::WouldBlock) => return Err(busy(root)),
        // Some systems open no folder, some lock only what may be written to.
        Err(TryLockError::Error(_)) => {}
    }
    let beside = root.join(BESIDE);
    let opened = OpenOptions::new().create(true).truncate(false).write(true).open(&beside);
    match opened.map_err(TryLockError::Error).and_then(|file| waited(&file).map(|()| file)) {
        Ok(file) => Ok(Held(file)),
        Err(TryLockError::WouldBlock) => Err(busy(root)),
        Err(TryLockError::Error(error)) => Err(Failure::new(
            format!("{} cannot be locked against a second writer: {error}", root.display()),
            "nothing was recorded; keep the journal in a folder that you may write to",
        )),
    }
}

fn waited(file: &File) -> Result<(), TryLockError> {
    let began = Instant::now();
    loop {
        match file.try_lock() {
            Err(TryLockError::WouldBlock) if began.elapsed() < PATIENCE => std::thread::sleep(NAP),
            settled => return settled,
        }
    }
}

fn busy(root: &Path) -> Failure {
    Failure::new(
        format!("another call of record holds {}, and this one has waited 10 seconds for it", root.display()),
        "nothing was recorded; see whether the other still runs, and record again when it is done",
    )
}
