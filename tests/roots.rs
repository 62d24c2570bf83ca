//! The boundary of each root: a repository below this one, or a folder `collections/NAME` directly below it, uses
//! nothing outside itself. Its names, bottles, journals and backlogs do not belong to this folder, and a call from
//! outside writes nothing there.

use crate::program::Run;

/// A recipe that fixes in a kept bath.
const SHELF: &str = "\
wetside 1

film marsh-100 {
    clears    60 s in fixer 1+4 at 20 C
}

solution soup {
    role      developer
    contains  metol, sodium-sulfite
    needs     250 ml per roll
}

solution fixer {
    role      fixer
    contains  ammonium-thiosulfate
    treats    10 rolls per 1 l at 1+4
    keeps     3 months
}

tank two {
    reels     120 x 2, 500 ml each
    holds     1 l
    fill      10 s
    drain     10 s
}

recipe marsh {
    film      marsh-100

    develop {
        in        soup 1+1, one-shot
        time      10:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
    fix {
        in        fixer 1+4, reused
        time      3 x clearing, at least 1:00
        between   18 C and 24 C
    }
    wash {
        fills     5, 10 inversions
    }
}
";

/// A bottle, a backlog and a session for that shelf.
const DARKROOM: &str = "\
wetside 1

use \"shelf.wet\"

bath fix-a {
    in        fixer 1+4
    volume    1 l
    mixed     2026-11-02
}

backlog autumn {
    roll      \"A-1\" 120 of marsh-100
}

session evening-2026-11-10 {
    date      2026-11-10
    recipe    marsh, fingerprint \"01234567\"
    slot      1 120
    bath      fix-a
}
";

const EVENING: [&str; 8] = ["--at", "20C", "--rolls", "1x120", "--tank", "two", "--date", "2026-11-25"];

/// Places of another root below this folder, each with the file that makes it a root, if one is needed.
const PLACES: [(&str, Option<&str>); 3] = [
    ("collections/club", None),
    ("vendor/club", Some("vendor/club/.git/HEAD")),
    // A submodule and a worktree have a file instead of a folder.
    ("club", Some("club/.git")),
];

/// The shelf in a repository, and a copy with a darkroom in another root below it.
fn beside(place: &str, mark: Option<&str>) -> Run {
    let run = Run::new().file(".git/HEAD", "").file("shelf.wet", SHELF);
    let run = run.file(&format!("{place}/shelf.wet"), SHELF).file(&format!("{place}/darkroom.wet"), DARKROOM);
    mark.into_iter().fold(run, |run, mark| run.file(mark, "gitdir: elsewhere\n"))
}

/// The standard error, on one line.
#[track_caller]
fn stderr_line(run: &Run, status: i32) -> String {
    let (_, stderr) = run.fails(status);
    stderr.lines().map(|line| line.trim_matches([' ', '|', '='])).collect::<Vec<_>>().join(" ")
}

#[test]
fn names_of_another_root_are_not_ambiguous() {
    for (place, mark) in PLACES {
        let run = beside(place, mark).args(["card", "marsh"]).args(EVENING);
        run.succeeds();
        run.again().args(["measure", "fixer", "1+4", "--make", "1l"]).succeeds();
    }
    // The same without a repository.
    let run = Run::new().file("shelf.wet", SHELF).file("collections/club/shelf.wet", SHELF);
    run.args(["card", "marsh"]).args(EVENING).succeeds();
}

/// Only a folder of a `collections` directly below a root is a root.
#[test]
fn a_collections_folder_deeper_down_has_no_roots() {
    let run = Run::new().file(".git/HEAD", "").file("shelf.wet", SHELF);
    let run = run.file("films/collections/club/shelf.wet", SHELF).args(["card", "marsh"]).args(EVENING);
    let stderr_line = stderr_line(&run, 2);
    assert!(
        stderr_line.contains("is in 2 files: films/collections/club/shelf.wet, shelf.wet"),
        "{stderr_line}"
    );
}

#[test]
fn a_name_that_only_another_root_has_is_not_found_and_not_suggested() {
    for (place, mark) in PLACES {
        let theirs = SHELF.replace("recipe marsh", "recipe ebb");
        let run = beside(place, mark).file(&format!("{place}/shelf.wet"), theirs);
        let stderr_line = stderr_line(&run.args(["card", "ebb"]).args(EVENING), 2);
        assert!(stderr_line.contains("there is no recipe 'ebb' below this folder"), "{stderr_line}");
        assert!(!stderr_line.contains("did you mean ebb"), "{stderr_line}");
    }
}

#[test]
fn another_root_reaches_nothing_outside_itself() {
    for (place, mark) in PLACES {
        let up = "../".repeat(place.split('/').count());
        let text = format!("wetside 1\nuse \"{up}shelf.wet\"\n");
        let run = beside(place, mark).file(&format!("{place}/out.wet"), text);
        let run = run.args(["check", "--as", "lines", &format!("{place}/out.wet")]);
        let (out, _) = run.fails(1);
        assert!(out.contains("use-outside"), "{out}");
        // The same through a file of this root that uses it.
        let run = run.again().file("mine.wet", format!("wetside 1\nuse \"{place}/out.wet\"\n"));
        let (out, _) = run.args(["check", "--as", "lines", "mine.wet"]).fails(1);
        assert!(out.contains("use-outside"), "{out}");
    }
}

/// A collection may have folders and its own collections.
#[test]
fn a_file_of_another_root_is_used_by_its_path_with_all_that_it_uses() {
    let film = "wetside 1\nfilm reed-100 {\n    clears 30 s in lab/fixer 1+4 at 20 C\n}\n";
    let film = film.replace("wetside 1\n", "wetside 1\nuse \"../shelf.wet\" as lab\n");
    for (place, mark) in PLACES {
        let mine = format!(
            "wetside 1\nuse \"{place}/films/reed.wet\" as club\nuse \"{place}/shelf.wet\" as lab\n\
             recipe mine from lab/marsh {{\n    film club/reed-100\n    develop {{\n        time 10:00\n    }}\n}}\n"
        );
        let run = beside(place, mark).file(&format!("{place}/films/reed.wet"), &film).file("mine.wet", mine);
        // Three times 30 s are 1:30.
        let card = run.args(["card", "mine"]).args(EVENING).succeeds();
        assert!(card.contains("FIX 1:30 "), "{card}");
    }
    let run = beside("collections/club", None)
        .file("collections/club/collections/inner/out.wet", "wetside 1\nuse \"../../shelf.wet\"\n");
    let run = run.file("mine.wet", "wetside 1\nuse \"collections/club/collections/inner/out.wet\"\n");
    let (out, _) = run.args(["check", "--as", "lines", "mine.wet"]).fails(1);
    assert!(out.contains("use-outside"), "{out}");
}

#[test]
fn a_bottle_of_another_root_is_not_used_outside_it() {
    for (place, mark) in PLACES {
        let uses =
            SHELF.replace("wetside 1\n", &format!("wetside 1\nuse \"{place}/darkroom.wet\" as club\n"));
        for text in [SHELF.to_owned(), uses] {
            let run = beside(place, mark).file("shelf.wet", text).args(["card", "marsh"]).args(EVENING);
            let card = run.succeeds();
            assert!(!card.contains("fix-a"), "{card}");
            let run = run.again().args(["card", "marsh", "--bath", "fix-a"]).args(EVENING);
            assert!(stderr_line(&run, 2).contains("there is no bath 'fix-a' in this darkroom"));
            let run = run.again().args(["baths", "--on", "2026-11-25"]);
            assert!(stderr_line(&run, 2).contains("no bath is declared"));
        }
        // A card of their recipe uses this root's bottles.
        let file = format!("{place}/shelf.wet");
        let run = beside(place, mark).args(["card", &file]).args(EVENING);
        assert!(!run.succeeds().contains("fix-a"));
        // A call from that folder uses its bottle.
        let run = run.again().below(place).args(["card", "marsh"]).args(EVENING);
        assert!(run.succeeds().contains("from fix-a"));
    }
}

#[test]
fn record_writes_to_no_journal_of_another_root() {
    for (place, mark) in PLACES {
        let run = beside(place, mark).args(["record", "marsh"]).args(EVENING);
        let theirs = run.folder().join(place).join("darkroom.wet");
        assert!(run.succeeds().starts_with("recorded in journal/"));
        // Their sessions cannot be undone from here.
        let run = run.again().args(["record", "--undo", "evening-2026-11-10", "--because", "a slip"]);
        assert!(stderr_line(&run, 2).contains("there is no session 'evening-2026-11-10'"));
        let journal = format!("{place}/darkroom.wet");
        let run = run.again().args(["record", "marsh", "--journal", &journal]).args(EVENING);
        assert!(stderr_line(&run, 2).contains(&format!("belongs to {place}, which is a root of its own")));
        assert_eq!(std::fs::read_to_string(theirs).unwrap(), DARKROOM);
    }
}

#[test]
fn a_backlog_of_another_root_is_planned_only_in_its_folder() {
    for (place, mark) in PLACES {
        let run = beside(place, mark).args(["plan", "autumn", "--at", "20C", "--on", "2026-11-25"]);
        assert!(stderr_line(&run, 2).contains("there is no backlog 'autumn' below this folder"));
        let file = format!("{place}/darkroom.wet");
        let run = run.again().args(["plan", &file, "--at", "20C", "--on", "2026-11-25"]);
        assert!(stderr_line(&run, 2).contains(&format!("belongs to {place}")));
        let run = run.again().below(place).args(["plan", "autumn", "--at", "20C", "--on", "2026-11-25"]);
        assert!(run.succeeds().contains("A-1"));
    }
}

/// The other root has a recipe for the same film: derived there, or imported by name.
#[test]
fn a_recipe_of_another_root_does_not_make_a_plan_ambiguous() {
    let mine = DARKROOM.split_once("session").unwrap().0;
    for (place, mark) in PLACES {
        let up = "../".repeat(place.split('/').count());
        let derived = format!("wetside 1\nuse \"{up}shelf.wet\"\nrecipe ebb from marsh {{\n}}\n");
        let run = beside(place, mark).file("darkroom.wet", mine).file(&format!("{place}/ebb.wet"), derived);
        let run = run.args(["plan", "autumn", "--at", "20C", "--on", "2026-11-25", "--as", "csv"]);
        assert!(run.succeeds().contains("marsh"));
        // This root's recipe for their film is preferred to theirs.
        let own = format!("wetside 1\nuse \"{place}/shelf.wet\"\nrecipe mine from marsh {{\n}}\n");
        let rolls = mine.replace("shelf.wet", &format!("{place}/shelf.wet"));
        let run = run.again().file("shelf.wet", own).file("darkroom.wet", &rolls);
        let plan = ["plan", "autumn", "--tank", "two", "--at", "20C", "--on", "2026-11-25", "--as", "csv"];
        let planned = run.args(plan).succeeds();
        assert!(planned.contains("mine"), "{planned}");
        // Without one, theirs is used.
        let run = Run::new().file(".git/HEAD", "").file(&format!("{place}/shelf.wet"), SHELF);
        let run = mark.into_iter().fold(run, |run, mark| run.file(mark, "gitdir: elsewhere\n"));
        let planned = run.file("darkroom.wet", rolls).args(plan).succeeds();
        assert!(planned.contains("marsh"), "{planned}");
    }
}

#[test]
fn a_walk_does_not_enter_another_root_and_says_so() {
    for (place, mark) in PLACES {
        let rough = format!("{SHELF}\n\n\n");
        let run = beside(place, mark).file(&format!("{place}/rough.wet"), &rough);
        let path = run.folder().join(place).join("rough.wet");
        let line = format!(
            " in 1 file\nnot entered, as each is a root of its own: {place}; name one to work in it\n"
        );
        let run = run.args(["check"]);
        assert!(run.succeeds().ends_with(&line));
        let run = run.again().args(["check", "--mend"]);
        assert!(run.succeeds().ends_with(&line));
        let run = run.again().args(["tidy"]);
        assert!(run.succeeds().ends_with(&line));
        assert_eq!(std::fs::read_to_string(&path).unwrap(), rough);
        // A call that names the root enters it.
        let run = run.again().args(["tidy", "--dry", place]);
        let (out, _) = run.fails(1);
        assert!(out.ends_with("1 of 3 files would change; wetside tidy changes them\n"), "{out}");
        // The error for a folder without other files names the root.
        let above = place.split_once('/').map_or("", |(above, _)| above);
        if !above.is_empty() {
            let stderr_line = stderr_line(&run.again().args(["check", above]), 2);
            assert!(
                stderr_line.contains("there is no .wet file here") && stderr_line.contains(place),
                "{stderr_line}"
            );
        }
    }
}
