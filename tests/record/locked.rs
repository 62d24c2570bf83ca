//! A lock file replaces the lock of a folder that cannot be opened. Here the folder is writable but not readable.

use std::process::Child;
use std::thread::sleep;
use std::time::Duration;

use crate::closed_root::{BESIDE, ClosedRoot, said};

#[test]
fn many_writers_lose_no_session_if_the_folder_cannot_be_locked() {
    let Some(mut inner) = ClosedRoot::new() else { return };
    let writers: Vec<Child> = (0..8).map(|_| inner.writer()).collect();
    for writer in writers {
        assert_eq!(said(writer, 0), "");
    }
    assert!(inner.root().join(BESIDE).exists(), "it was not the file that was locked");
    assert_eq!(inner.sessions(), 8);
}

#[test]
fn a_second_writer_waits_if_the_folder_cannot_be_locked() {
    let Some(mut inner) = ClosedRoot::new() else { return };
    let held = inner.taken();
    let mut writer = inner.writer();
    sleep(Duration::from_millis(500));
    assert!(writer.try_wait().unwrap().is_none(), "it did not wait");
    assert_eq!(inner.sessions(), 0);
    held.unlock().unwrap();
    assert_eq!(said(writer, 0), "");
    assert_eq!(inner.sessions(), 1);
}
