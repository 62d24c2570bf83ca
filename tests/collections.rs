//! Collections in one's folder: what `use NAME` brings, what stays closed, and what a `collection.wet` may say.

use wetside::check::Checked;
use wetside::model::{Format, Rolls, Temperature};
use wetside::source::{Diagnostic, Level};
use wetside::{MemoryFiles, Tonight, check};

/// A club's files. It exports a film, a fixer and a recipe; its developer and its other recipe are its own affair.
pub(crate) const CLUB: &[(&str, &str)] = &[
    (
        "collections/club/collection.wet",
        "wetside 2
use \"baths.wet\"
use \"recipes.wet\"
collection harbour \"Recipes of the harbour club\" {
    licence   \"CC0-1.0\"
    exports   film estuary-400
    exports   solution rapid-fix
    exports   recipe usual, short
}
",
    ),
    (
        "collections/club/baths.wet",
        "wetside 2
solution soup {
    role      developer
    needs     100 ml per roll
}
solution rapid-fix {
    role      fixer
    contains  ammonium-thiosulfate
    treats    10 rolls per 1 l at 1+4
    keeps     6 months
    caution   \"gloves\"
}
film estuary-400 {
    speed     ISO 400
    clears    60 s in rapid-fix 1+4 at 20 C
}
",
    ),
    (
        "collections/club/recipes.wet",
        "wetside 2
use \"baths.wet\"
recipe usual {
    film      estuary-400
    index     400
    develop {
        in        soup 1+3, one-shot
        time      9:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
    fix {
        in        rapid-fix 1+4, one-shot
        time      4:00
        agitate   first 30 s, then 10 s every 1 min
    }
    wash {
        fills     5, 10, 20 inversions
    }
}
recipe short from usual {
    develop {
        time      7:00
    }
}
recipe secret from usual {
    develop {
        time      6:00
    }
}
",
    ),
];

/// The check of one's own file beside the club's folder and other files.
fn with(own: &str, others: &[(&str, &str)]) -> Checked {
    let files: MemoryFiles = CLUB.iter().chain(others).copied().chain([("own.wet", own)]).collect();
    check(&files, "own.wet").unwrap()
}

fn errors(checked: &Checked) -> Vec<&Diagnostic> {
    checked.findings.iter().filter(|finding| finding.level == Level::Error).collect()
}

/// The only error: its name, message and help.
fn error(checked: &Checked) -> (&str, &str, String) {
    let all = errors(checked);
    let [one] = all.as_slice() else { panic!("{}", checked.report(&checked.findings)) };
    (one.name, &one.message, one.help.join("; "))
}

fn sound(own: &str, others: &[(&str, &str)]) -> Checked {
    let checked = with(own, others);
    assert!(errors(&checked).is_empty(), "{}", checked.report(&checked.findings));
    checked
}

const MINE: &str = "recipe mine from club/usual {
    develop {
        time      8:00
    }
}
";

#[test]
fn what_a_collection_exports_has_its_name_before_it() {
    let checked = sound(&format!("wetside 2\nuse club\n{MINE}"), &[]);
    assert_eq!(checked.recipe("mine").unwrap().film.as_ref().unwrap().name, "estuary-400");
}

#[test]
fn a_name_that_is_not_exported_is_unknown() {
    let own = "wetside 2\nuse club\nrecipe mine from club/secret {\n    note \"a\"\n}\n";
    let checked = with(own, &[]);
    let (name, message, _) = error(&checked);
    assert_eq!((name, message), ("unknown-name", "there is no recipe 'club/secret' here"));
}

#[test]
fn only_and_as_choose_the_names() {
    let own = |line: &str, parent: &str| {
        let mine = MINE.replace("club/usual", parent);
        with(&format!("wetside 2\n{line}\n{mine}"), &[])
    };
    for (line, parent) in [
        ("use club only usual", "club/usual"),
        ("use club only usual, short", "club/short"),
        ("use club as harbour", "harbour/short"),
        ("use club only short as h", "h/short"),
    ] {
        assert!(errors(&own(line, parent)).is_empty(), "{line}");
    }
    for (line, parent) in
        [("use club only short", "club/usual"), ("use club as harbour", "club/usual"), ("use club", "usual")]
    {
        let checked = own(line, parent);
        let message = format!("there is no recipe '{parent}' here");
        assert_eq!(error(&checked).1, message, "{line}");
    }
}

#[test]
fn a_file_can_be_used_for_some_of_its_names() {
    let lab = (
        "lab.wet",
        "wetside 2\nagitation calm {\n    then 5 s every 1 min\n}\nagitation brisk {\n    then 5 s every 30 s\n}\n",
    );
    let step = |name: &str| {
        format!("recipe mine from club/usual {{\n    develop {{\n        agitate {name}\n    }}\n}}\n")
    };
    sound(&format!("wetside 2\nuse club\nuse \"lab.wet\" only calm\n{}", step("calm")), &[lab]);
    let checked = with(&format!("wetside 2\nuse club\nuse \"lab.wet\" only calm\n{}", step("brisk")), &[lab]);
    assert_eq!(error(&checked).1, "there is no agitation 'brisk' here");
    sound(&format!("wetside 2\nuse club\nuse \"lab.wet\" only calm as lab\n{}", step("lab/calm")), &[lab]);
}

#[test]
fn only_with_a_name_that_does_not_exist_is_an_error_that_suggests_another() {
    let checked = with("wetside 2\nuse club only usuel\n", &[]);
    let (name, message, help) = error(&checked);
    assert_eq!((name, message), ("unknown-name", "the collection exports no 'usuel'"));
    assert_eq!(help, "write usual");
    let checked = with("wetside 2\nuse club only other-thing\n", &[]);
    assert_eq!(
        error(&checked).2,
        "write one of these, or remove the name: estuary-400, rapid-fix, usual, short"
    );
}

#[test]
fn a_collection_that_is_not_there_is_one_error() {
    let checked = with(&format!("wetside 2\nuse clob\n{}", MINE.replace("club", "clob")), &[]);
    let (name, message, help) = error(&checked);
    assert_eq!((name, message), ("unknown-collection", "there is no collection 'clob' here"));
    assert!(help.contains("wetside adopt ORIGIN --as clob"), "{help}");
}

#[test]
fn a_file_of_a_collection_is_closed_to_paths_from_outside() {
    let checked = with("wetside 2\nuse \"collections/club/recipes.wet\"\n", &[]);
    assert_eq!(error(&checked).0, "use-inside-collection");
    let checked = with("wetside 2\nuse \"collections/club/collection.wet\"\n", &[]);
    assert_eq!(error(&checked).0, "use-inside-collection");
    // A folder that is no collection is open.
    let plain = ("collections/plain/a.wet", "wetside 2\nagitation calm {\n    then 5 s every 1 min\n}\n");
    sound("wetside 2\nuse \"collections/plain/a.wet\"\n", &[plain]);
}

/// A teacher's collection has the club as a collection of its own.
#[test]
fn a_collection_builds_on_its_own_copy_of_another() {
    let inside = CLUB.iter().map(|(name, text)| (format!("collections/teacher/{name}"), *text));
    let inside: Vec<(String, &str)> = inside.collect();
    let teacher = [
        (
            "collections/teacher/collection.wet",
            "wetside 2\nuse club\nuse \"lessons.wet\"\ncollection teacher {\n    licence \"CC0-1.0\"\n    \
             exports recipe lesson, club/short\n}\n",
        ),
        (
            "collections/teacher/lessons.wet",
            "wetside 2\nuse club\nrecipe lesson from club/usual {\n    develop {\n        time 10:00\n    }\n}\n",
        ),
    ];
    let others: Vec<(&str, &str)> =
        inside.iter().map(|(name, text)| (name.as_str(), *text)).chain(teacher).collect();
    let own = "wetside 2\nuse teacher\nuse club\nrecipe mine from teacher/lesson {\n    note \"a\"\n}\n\
               recipe other from teacher/short {\n    note \"a\"\n}\n\
               recipe third from club/short {\n    note \"a\"\n}\n";
    let checked = sound(own, &others);
    assert_eq!(checked.recipes().count(), 3);
    let closed =
        with("wetside 2\nuse teacher\nrecipe mine from teacher/usual {\n    note \"a\"\n}\n", &others);
    assert_eq!(error(&closed).1, "there is no recipe 'teacher/usual' here");
}

#[test]
fn what_a_collection_exports_must_exist_once() {
    let collection = |rows: &str| {
        let text =
            format!("wetside 2\nuse \"a.wet\"\ncollection mine {{\n    licence \"CC0-1.0\"\n{rows}}}\n");
        let files = MemoryFiles::from([
            ("a.wet", "wetside 2\nagitation calm {\n    then 5 s every 1 min\n}\n".to_owned()),
            ("collection.wet", text),
        ]);
        check(&files, "collection.wet").unwrap()
    };
    assert!(errors(&collection("    exports agitation calm\n")).is_empty());
    let unknown = collection("    exports agitation clam\n");
    assert_eq!(error(&unknown).1, "there is no agitation 'clam' here");
    let of_another_kind = collection("    exports recipe calm\n");
    assert_eq!(error(&of_another_kind).1, "there is no recipe 'calm' here");
    let twice = collection("    exports agitation calm\n    exports agitation calm\n");
    assert_eq!(error(&twice).1, "the agitation 'calm' is exported twice");
}

#[test]
fn only_collection_wet_names_a_collection() {
    let checked =
        with("wetside 2\ncollection mine {\n    licence \"CC0-1.0\"\n    exports recipe r\n}\n", &[]);
    let all: Vec<&str> = errors(&checked).iter().map(|one| one.name).collect();
    assert_eq!(all, ["misplaced-collection", "unknown-name"]);
}

#[test]
fn a_file_of_edition_1_cannot_use_a_collection() {
    let checked = with("wetside 1\nuse club\n", &[]);
    assert_eq!(errors(&checked).len(), 1, "{}", checked.report(&checked.findings));
}

/// The author allows an error in a recipe, with a reason. For the author it is lifted; others are warned, and the card
/// has the warning.
#[test]
fn an_error_that_the_author_of_a_collection_allows_is_a_warning_with_the_reason() {
    let odd = (
        "collections/club/odd.wet",
        "wetside 2
use \"baths.wet\"
recipe odd {
    film      estuary-400
    index     400
    allow     fix-before-develop because \"the base is all we want\"
    fix {
        in        rapid-fix 1+4, one-shot
        time      4:00
        agitate   first 30 s, then 10 s every 1 min
    }
    develop {
        in        soup 1+3, one-shot
        time      9:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
    wash {
        fills     5, 10, 20 inversions
    }
}
",
    );
    let rule = "fix-before-develop";
    let mut files: Vec<(&str, String)> =
        CLUB.iter().chain([&odd]).map(|(name, text)| (*name, (*text).to_owned())).collect();
    files[0].1 = files[0].1.replace("exports   recipe usual", "exports   recipe odd, usual");
    files[0].1 = files[0].1.replace("use \"recipes.wet\"", "use \"recipes.wet\"\nuse \"odd.wet\"");
    files.push((
        "own.wet",
        "wetside 2\nuse club\nrecipe mine from club/odd {\n    note \"a\"\n}\n".to_owned(),
    ));
    let files: MemoryFiles = files.into_iter().collect();

    let theirs = check(&files, "collections/club/odd.wet").unwrap();
    assert!(theirs.findings.iter().all(|finding| finding.name != rule));

    let checked = check(&files, "own.wet").unwrap();
    let found: Vec<_> = checked.findings.iter().filter(|finding| finding.name == rule).collect();
    let said: Vec<_> = found.iter().map(|finding| (finding.level, finding.message.as_str())).collect();
    let expected = "the step fix would destroy the picture before it is developed; the collection's author allows it: the base is all we want";
    assert_eq!(said, [(Level::Warning, expected)], "{}", checked.report(&checked.findings));
    let tonight =
        Tonight::new(Temperature::celsius_whole(20), vec![Rolls { count: 1, format: Format::F120 }]);
    let card = checked.recipe("mine").unwrap().compile(&tonight).unwrap();
    assert!(card.warnings.iter().any(|warning| warning.text == expected), "{:?}", card.warnings);
}

/// A film of one's own states its clearing time in one's own fixer. The club's fixer is the same, so the time holds in
/// a club's recipe too; if its formula differs, the film states no time in it.
#[test]
fn two_declarations_that_say_the_same_are_one() {
    let fixer = CLUB[1].1.split("solution rapid-fix").nth(1).unwrap().split("film").next().unwrap();
    let own = |fixer: &str| {
        format!(
            "wetside 2
use club
solution rapid-fix{fixer}
film saltmarsh-100 {{
    clears    45 s in rapid-fix 1+4 at 20 C
}}
recipe mine from club/usual {{
    film      saltmarsh-100
    develop {{
        time      8:00
    }}
    fix {{
        in        club/rapid-fix 1+4, one-shot
        time      3 x clearing
    }}
}}
"
        )
    };
    let checked = sound(&own(fixer), &[]);
    assert_eq!(checked.recipes().count(), 1);
    let other = with(&own(&fixer.replace("ammonium-thiosulfate", "sodium-thiosulfate")), &[]);
    assert_eq!(error(&other).0, "no-clearing-time", "{}", other.report(&other.findings));
}
