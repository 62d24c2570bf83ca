//! Origins that never answer, and a disk that is full. `git` must be installed; a small disk needs the right to mount one.

use std::fs;
use std::net::TcpListener;
use std::process::Command;

use crate::program::Run;
use crate::unprivileged::left_out;
use crate::writers::call;

const CLUB: &str = "wetside 2
use \"calm.wet\"
collection club {
    licence   \"CC0-1.0\"
    exports   agitation calm
}
";
const CALM: &str = "wetside 2\nagitation calm {\n    then      5 s every 1 min\n}\n";

/// It takes the two minutes that `git` may take. Meanwhile other calls of the folder are not held up.
#[test]
fn an_origin_that_never_answers_is_given_up() {
    let Ok(server) = TcpListener::bind("127.0.0.1:0") else { return };
    let address = format!("git://{}/club.git", server.local_addr().unwrap());
    let run = Run::new()
        .file("club/collection.wet", CLUB)
        .file("club/calm.wet", CALM)
        .file("mine/a.wet", "wetside 2\n");
    let run = run.file("temporary/here", "");
    let temporary = run.folder().join("temporary");
    let patient = run.again().below("mine").args(["adopt", &address]);
    let patient = patient.env("PATH", &std::env::var("PATH").unwrap_or_default());
    let patient = patient.env("TMPDIR", &temporary.display().to_string());
    let waiting = std::thread::spawn(move || patient.ends());
    // `git` has called and waits for an answer.
    let connection = server.accept().unwrap();
    run.again().below("mine").args(["adopt", "../club"]).succeeds();
    assert!(!waiting.is_finished());
    let (status, _, said) = waiting.join().unwrap();
    drop(connection);
    assert!(status == 2 && said.contains("git took longer than 120 s"), "{said}");
    assert_eq!(fs::read_dir(&temporary).unwrap().count(), 1, "a part of the clone is left");
    run.again().below("mine").args(["adopt", "--check"]).succeeds();
}

/// A disk of 200 KB has the first version of a collection, and no room for the next.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_keeps_the_old_version() {
    let run = Run::new().file("club/collection.wet", CLUB).file("club/calm.wet", CALM).file("disk/here", "");
    let disk = run.folder().join("disk");
    let mount = Command::new("mount").args(["-t", "tmpfs", "-o", "size=200k", "tmpfs"]).arg(&disk).output();
    if !mount.is_ok_and(|mount| mount.status.success()) {
        left_out("a small disk cannot be mounted");
        return;
    }
    let ends = std::panic::catch_unwind(|| {
        assert!(call(&disk, &["adopt", "../club"]).status().unwrap().success());
        let lock = fs::read(disk.join("collections/club.lock")).unwrap();
        let longer = format!("{CALM}{}", "# a line of a very long text\n".repeat(10_000));
        fs::write(run.folder().join("club/calm.wet"), longer).unwrap();
        for words in [["adopt", "--update", "club"], ["adopt", "../club", "--as=other"]] {
            let status = call(&disk, &words).status().unwrap();
            assert_eq!(status.code(), Some(2), "{words:?}");
        }
        assert_eq!(fs::read(disk.join("collections/club.lock")).unwrap(), lock);
        assert_eq!(fs::read_dir(disk.join("collections")).unwrap().count(), 2);
        assert!(call(&disk, &["adopt", "--check"]).status().unwrap().success());
        assert!(call(&disk, &["adopt", "--remove", "club"]).status().unwrap().success());
        assert!(!disk.join("collections").exists());
    });
    assert!(Command::new("umount").arg(&disk).status().unwrap().success());
    assert!(ends.is_ok());
}
