//! What must not meet in one vessel: an error in a formula and across the bottles of a solution. Published baths that
//! look alike are quiet.

use wetside::source::Level;

use crate::kitchen::Kitchen;

/// The words of the findings of `dangerous-mixture` in a solution with these bottles.
fn found(bottles: &[&[&str]]) -> Vec<String> {
    let names = ["a", "b"];
    let parts = if bottles.len() > 1 { "    parts a, b\n" } else { "" };
    let mut text = format!("wetside 1\nsolution soup {{\n    role toner\n{parts}    caution \"x\"\n");
    for (lines, name) in bottles.iter().zip(names) {
        let name = if bottles.len() > 1 { name } else { "" };
        text.push_str(&format!("    formula {name} for 1 l {{\n"));
        lines.iter().for_each(|line| text.push_str(&format!("        {line}\n")));
        text.push_str("        water to 1 l\n    }\n");
    }
    text.push_str("}\n");
    let kitchen = Kitchen::of(&text);
    let errors = kitchen.findings.iter().filter(|finding| finding.level == Level::Error);
    let unread: Vec<_> = errors.filter(|finding| finding.name != "dangerous-mixture").collect();
    assert!(unread.is_empty(), "{text}{unread:?}");
    let own = kitchen.findings.iter().filter(|finding| finding.name == "dangerous-mixture");
    own.map(|finding| finding.message.clone()).collect()
}

const COLD: &str = "water 750 ml at 20 C";

#[test]
fn pairs_that_free_gas_or_catch_fire_are_errors_in_one_formula() {
    let pairs = [
        ("sulfuric-acid 10 ml concentrated", "potassium-ferricyanide 30 g", "cyanide"),
        ("sodium-bisulfate 30 g anhydrous", "potassium-thiocyanate 2 g", "cyanide"),
        ("acetic-acid 50 ml 28 %", "sodium-selenite 5 g anhydrous", "selenium"),
        ("citric-acid 15 g anhydrous", "sodium-selenite 5 g anhydrous", "selenium"),
        ("potassium-permanganate 4 g", "isopropyl-alcohol 100 ml 99 %", "fire"),
        ("potassium-dichromate 9 g", "sodium-thiosulfate 100 g pentahydrate", "fire"),
        ("potassium-permanganate 4 g", "sodium-metabisulfite 25 g", "spits"),
    ];
    for (one, other, comes) in pairs {
        for lines in [[COLD, one, other], [COLD, other, one]] {
            let found = found(&[&lines]);
            assert_eq!(found.len(), 1, "{one} with {other}: {found:?}");
            assert!(found[0].contains(comes), "{found:?}");
        }
        // Two bottles that are always mixed are one vessel.
        assert_eq!(found(&[&[COLD, one], &[COLD, other]]).len(), 1, "{one} and {other} in two bottles");
    }
}

#[test]
fn a_trace_is_no_bulk() {
    let acid = "sulfuric-acid 0.4 ml concentrated";
    assert!(found(&[&[COLD, acid, "potassium-ferricyanide 30 g"]]).is_empty());
    assert!(found(&[&[COLD, "sodium-bisulfate 30 g anhydrous", "potassium-thiocyanate 0.9 g"]]).is_empty());
}

#[test]
fn hydroxide_and_acid_in_hot_or_little_water_are_errors() {
    // By hand, with 1.1 kJ for a gram of hydroxide and 4.2 J for a millilitre of water and a degree: 50 g in 750 ml are
    // 17.5 degrees, 8.8 g are 3.1 degrees, 37.5 g in 750 ml are 13.1 degrees.
    assert_eq!(found(&[&["water 750 ml at 60 C", "sodium-hydroxide 50 g"]]).len(), 1, "60 to 77 degrees");
    assert_eq!(found(&[&["water 750 ml at 45 C", "potassium-hydroxide 50 g"]]).len(), 1, "45 to 62 degrees");
    assert!(found(&[&["water 750 ml at 52 C", "sodium-hydroxide 8.8 g"]]).is_empty(), "52 to 55 degrees");
    assert!(found(&[&["water 750 ml at 32 C", "sodium-hydroxide 37.5 g"]]).is_empty(), "32 to 45 degrees");
    assert!(found(&[&["water 750 ml at 20 C", "sodium-hydroxide 100 g"]]).is_empty(), "cold");
    // A published bottle of lye, in water of 40 degrees; from memory.
    assert!(found(&[&["water 750 ml at 40 C", "sodium-hydroxide 100 g"]]).is_empty());
    // 1.7 kJ for a millilitre of acid: 200 ml into 300 ml of water are 161 degrees; 100 ml into 900 ml are 40.
    assert_eq!(found(&[&["water 300 ml at 20 C", "sulfuric-acid 200 ml concentrated"]]).len(), 1);
    assert_eq!(found(&[&["water 900 ml at 60 C", "sulfuric-acid 12 ml concentrated"]]).len(), 1);
    assert!(found(&[&["water 900 ml at 20 C", "sulfuric-acid 100 ml concentrated"]]).is_empty());
    assert!(found(&[&["water 900 ml at 50 C", "sulfuric-acid 12 ml concentrated"]]).is_empty());
}

/// Published baths that hold acid with sulfite or thiosulfate, ferricyanide with thiosulfate, or an oxidiser with its
/// acid; from memory.
#[test]
fn published_baths_are_quiet() {
    let baths: [&[&str]; 6] = [
        &[
            COLD,
            "sodium-thiosulfate 240 g pentahydrate",
            "sodium-sulfite 15 g anhydrous",
            "acetic-acid 48 ml 28 %",
        ],
        &[COLD, "potassium-dichromate 9.5 g", "sulfuric-acid 12 ml concentrated"],
        &[COLD, "potassium-permanganate 2 g", "sodium-bisulfate 30 g anhydrous"],
        &[COLD, "potassium-ferricyanide 8 g", "sodium-thiosulfate 100 g pentahydrate"],
        &[COLD, "potassium-ferricyanide 50 g", "potassium-bromide 20 g"],
        &[
            COLD,
            "metol 2 g",
            "sodium-sulfite 90 g anhydrous",
            "potassium-thiocyanate 2 g",
            "hydroquinone 8 g",
        ],
    ];
    for bath in baths {
        assert_eq!(found(&[bath]), [""; 0], "{bath:?}");
    }
}

/// Baths that follow each other in a published order meet only in what the film carries over.
#[test]
fn baths_of_one_recipe_do_not_meet() {
    let findings = &Kitchen::of(include_str!("../recipes/solutions.wet")).findings;
    assert!(findings.iter().all(|finding| finding.name != "dangerous-mixture"));
}

#[test]
fn the_error_can_be_neither_allowed_nor_lowered() {
    let text = "wetside 1\nsolution soup {\n    role toner\n    formula for 1 l {\n        water 750 ml at 20 C\n        \
                sodium-bisulfate 30 g anhydrous\n        potassium-thiocyanate 2 g\n        water to 1 l\n    }\n    \
                allow dangerous-mixture because \"outdoors\"\n}\n";
    let names: Vec<&str> = Kitchen::of(text).findings.iter().map(|finding| finding.name).collect();
    assert!(names.contains(&"dangerous-mixture"), "{names:?}");
}
