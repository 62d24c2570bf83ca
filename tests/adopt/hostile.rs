//! Origins that are wrong or mean harm end in order, and leave nothing behind.

use std::fs;

use super::{COLLECTION, RECIPES, adopt, beside, tree};
use crate::program::Run;

/// Adopts, requires a failure in order, and that nothing was left.
#[track_caller]
fn refused(run: &Run, origin: &str, words: &str) {
    let before = tree(&run.folder().join("mine"));
    let adopted = adopt(run, [origin]);
    let (status, _, said) = adopted.ends();
    assert!(status == 1 || status == 2, "{origin}: status {status}: {said}");
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains(words), "{origin}: {said}");
    assert_eq!(tree(&run.folder().join("mine")), before, "{origin}");
}

#[test]
fn what_is_no_origin_is_refused() {
    let path = std::env::var("PATH").unwrap_or_default();
    let run = beside().env("PATH", &path);
    for origin in ["", "ext::sh -c touch% ran", "fd::17", "a\nb"] {
        refused(&run, origin, "is not an origin");
    }
    refused(&run, "--upload-pack=touch ran", "unexpected argument");
    refused(&run, "../nothing-here", "git cannot");
    refused(&run, "ssh://-oProxyCommand=touch/x", "git cannot");
    refused(&run, "../mine", "is no collection");
    assert!(!run.folder().join("mine/ran").exists());
}

#[test]
fn a_collection_that_reaches_outside_is_refused() {
    for line in ["use \"../secret.wet\"", "use \"/etc/passwd.wet\"", "use \"a/../../secret.wet\""] {
        let run = beside().file("secret.wet", "wetside 2\nfilm secret {\n}\n");
        let run =
            run.file("club/recipes.wet", RECIPES.replace("wetside 2\n", &format!("wetside 2\n{line}\n")));
        refused(&run, "../club", "was not adopted");
    }
}

#[cfg(unix)]
#[test]
fn links_that_lead_outside_are_refused() {
    for (link, target) in [("recipes.wet", "../secret.wet"), ("collection.wet", "../secret.wet")] {
        let run = beside().file("secret.wet", RECIPES);
        let link = run.folder().join("club").join(link);
        fs::remove_file(&link).unwrap();
        std::os::unix::fs::symlink(target, &link).unwrap();
        let before = tree(&run.folder().join("mine"));
        let (_, _, said) = adopt(&run, ["../club"]).ends();
        assert!(said.contains("outside"), "{said}");
        assert_eq!(tree(&run.folder().join("mine")), before);
    }
}

#[test]
fn texts_that_are_no_recipes_are_refused() {
    let huge = "# x\n".repeat(300_000);
    let deep = format!("wetside 2\n{}", "film f {\n".repeat(10_000));
    for text in ["", "\u{0}\u{1}", &huge, &deep, "wetside 9\n", "wetside 2\nuse \"collection.wet\"\n"] {
        let run = beside().file("club/recipes.wet", text);
        refused(&run, "../club", "was not adopted");
    }
    let run = beside().file("club/collection.wet", [0xff, 0xfe, 0, 0]);
    refused(&run, "../club", "is no collection");
    let run = beside().file("club/collection.wet", "wetside 2\n");
    refused(&run, "../club", "declares no collection");
}

#[test]
fn a_title_cannot_control_the_terminal() {
    let run = beside().file("club/collection.wet", COLLECTION.replace("the darkroom group", "x\u{1b}[2Jy"));
    let (_, out, err) = adopt(&run, ["../club"]).ends();
    assert!(!format!("{out}{err}").contains('\u{1b}'));
}

#[test]
fn names_that_differ_only_in_case_are_refused() {
    let both = RECIPES.replace("wetside 2\n", "wetside 2\nuse \"Baths.wet\"\nuse \"baths.wet\"\n");
    let run = beside().file("club/recipes.wet", both);
    let run = run.file("club/Baths.wet", "wetside 2\n").file("club/baths.wet", "wetside 2\n");
    refused(&run, "../club", "differ only in upper and lower case");
}

#[test]
fn a_name_that_leaves_the_folder_is_refused() {
    let run = beside();
    for name in ["..", "../x", "a/b", ".hidden", "a b", "CON.", ""] {
        let (status, _, _) = adopt(&run, ["../club", "--as", name]).ends();
        assert_eq!(status, 2, "{name}");
    }
    assert!(!run.folder().join("mine/collections").exists());
}
