//! The fingerprint: the two worked examples of the reference are what the program calculates, and the texts that are
//! fingerprints.

use sha2::{Digest as _, Sha256};
use wetside::MemoryFiles;
use wetside::check;
use wetside::model::{Fingerprint, is_fingerprint};

/// A worked example of the reference: a file, the text of its recipe's work, and the three forms of the hash.
struct Worked {
    file: String,
    work: String,
    hash: Vec<String>,
}

/// The blocks of the section on fingerprints, three for each example.
fn worked() -> Vec<Worked> {
    let page = std::fs::read_to_string("grammar/README.md").unwrap();
    let section = page.split("## The fingerprint\n").nth(1).unwrap().split("\n## ").next().unwrap();
    let mut blocks: Vec<String> = Vec::new();
    let mut inside = false;
    for line in section.lines() {
        // An empty line does not end a block.
        match line.strip_prefix("    ") {
            Some(code) if inside => *blocks.last_mut().unwrap() += &format!("{code}\n"),
            Some(code) => blocks.push(format!("{code}\n")),
            None if line.is_empty() => continue,
            None => {}
        }
        inside = line.starts_with("    ");
    }
    blocks
        .chunks(3)
        .map(|three| {
            let [file, work, hash] = three else { panic!("an example has three blocks") };
            Worked { file: file.clone(), work: work.clone(), hash: hash.lines().map(str::to_owned).collect() }
        })
        .collect()
}

fn fingerprint(file: &str) -> Fingerprint {
    let files = MemoryFiles::from([("trial.wet", file)]);
    let checked = check(&files, "trial.wet").unwrap();
    assert!(!checked.has_errors(), "{}", checked.report(&checked.findings));
    Fingerprint::of(checked.shelf.recipes.first().unwrap())
}

/// The SHA-256 is by another library, of the text as the reference prints it.
#[test]
fn the_worked_examples_of_the_reference_are_what_the_program_calculates() {
    let examples = worked();
    assert_eq!(examples.len(), 2);
    for Worked { file, work, hash } in examples {
        let hex: String = Sha256::digest(work.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect();
        let made = fingerprint(&file);
        assert_eq!(hash, [hex, made.full(), made.to_string()], "{work}");
    }
}

/// Crockford's base 32 by hand for the first digits: 6fad3052ce is 01101 11110 10110 10011 00000 10100 10110 01110,
/// or 13, 30, 22, 19, 0, 20, 22 and 14.
#[test]
fn the_short_form_is_the_beginning_of_the_full_form() {
    let first = &worked()[0];
    assert!(first.hash[0].starts_with("6fad3052ce"));
    assert_eq!(first.hash[2], "WDYP-K0MP");
    assert!(first.hash[1].starts_with("WDYPK0MPE"));
    assert_eq!(first.hash[1].len(), 53);
}

#[test]
fn a_person_may_write_a_fingerprint_without_its_hyphen_or_in_small_letters() {
    let full = worked().remove(0).hash.remove(1);
    for text in ["W301-W94N", "W301W94N", "w301-w94n", "W3OI-W94N", "46ac83d1", &full] {
        assert!(is_fingerprint(text), "{text}");
    }
    for text in
        ["", "W", "W301-W94", "W301-W94NN", "X301-W94N", "46AC83D1", "46ac83d", "W301-W94U", "W301 W94N"]
    {
        assert!(!is_fingerprint(text), "{text}");
    }
}

/// A replenisher with a formula is known by what is in it, and a bought one by its name.
#[test]
fn a_replenisher_is_identified_by_its_formula() {
    let of = |name: &str, lines: &str| {
        fingerprint(&format!(
            "wetside 2\nsolution line {{\nrole developer\nreplenish 20 ml per roll with {name}\nneeds 100 ml per roll\n}}\n\
             solution {name} {{\nrole developer\n{lines}}}\n\
             recipe deep {{\ndevelop {{\nin line stock, replenished\ntime 8:00\nbetween 18 C and 22 C\nagitate continuous\n}}\n}}\n"
        ))
    };
    let metol = |grams: &str| format!("formula for 1 l {{\nmetol {grams} g\nwater to 1 l\n}}\n");
    assert_eq!(of("top-up", &metol("4")), of("filler", &metol("4")));
    assert_ne!(of("top-up", &metol("4")), of("top-up", &metol("5")));
    assert_ne!(of("top-up", ""), of("filler", ""));
    assert_ne!(of("top-up", ""), of("top-up", &metol("4")));
}
