//! The hazards of solutions as a file states them, with grams and millilitres in a litre, compared with arithmetic by hand.
//! A share is in percent of the mass. Densities in g/ml at 20 °C are from memory: acetic acid of 28 % 1.036, of 80 %
//! 1.070, pure 1.049; hydrochloric acid of 37 % 1.184; sulfuric acid of 96 % 1.836; ammonia of 25 % 0.910; isopropyl
//! alcohol 0.785; formaldehyde of 37 % 1.085; hydrogen peroxide of 30 % 1.111.

use wetside::model::{Dilution, Mixed};

use crate::kitchen::Kitchen;

/// The lines of a solution, a dilution, the statements and the arithmetic.
type Written = (&'static str, &'static str, &'static str, &'static str);

const MQ_BORAX: &str = "formula for 1 l { water 750 ml; metol 2 g; sodium-sulfite 100 g anhydrous; hydroquinone 5 g; \
                        borax 2 g decahydrate; water to 1 l }";
const MQ_BORAX_WITH_ACID: &str = "formula for 1 l { water 750 ml; metol 2 g; sodium-sulfite 100 g anhydrous; hydroquinone 5 g; \
     borax 2 g decahydrate; boric-acid 1.5 g; water to 1 l }";
const MQ_CARBONATE: &str = "formula for 1 l { water 750 ml; metol 3.1 g; sodium-sulfite 45 g anhydrous; \
                            hydroquinone 12 g; sodium-carbonate 67.5 g anhydrous; water to 1 l }";

const WRITTEN: &[Written] = &[
    (
        "formula for 1 l { water 700 ml; acetic-acid 47 ml 28 %; water to 1 l }",
        "stock",
        "",
        "47 x 1.036 x 0.28 = 13.6 g: 1.4 < 10",
    ),
    (
        "formula for 1 l { water 700 ml; acetic-acid 120 ml 80 %; water to 1 l }",
        "stock",
        "H315 H319",
        "120 x 1.070 x 0.8 = 102.7 g: 10.3 >= 10; without the density 9.6",
    ),
    (
        "formula for 1 l { water 700 ml; acetic-acid 115 ml 80 %; water to 1 l }",
        "stock",
        "",
        "115 x 1.070 x 0.8 = 98.4 g: 9.8 < 10",
    ),
    ("contains acetic-acid 96 ml/l", "stock", "H315 H319", "96 x 1.049 = 100.7 g; without the density 9.6"),
    ("contains acetic-acid 60 %", "stock", "H314", "25 <= 60 < 90; not H226, no flash point"),
    ("contains acetic-acid 60 %", "1+9", "", "60/10 = 6 < 10"),
    ("contains acetic-acid 60 %", "1+4", "H315 H319", "60/5 = 12 >= 10"),
    (
        "formula for 1 l { water 500 ml; hydrochloric-acid 230 ml 37 %; water to 1 l }",
        "stock",
        "H315 H319 H335",
        "230 x 1.184 x 0.37 = 100.8 g: 10.1 >= 10; without the density 8.5",
    ),
    (
        "formula for 1 l { water 500 ml; sulfuric-acid 30 ml 96 %; water to 1 l }",
        "stock",
        "H315 H319",
        "30 x 1.836 x 0.96 = 52.9 g: 5 <= 5.3 < 15; without the density 2.9",
    ),
    (
        "formula for 1 l { water 500 ml; ammonia 215 ml 25 %; water to 1 l }",
        "stock",
        "H315 H318",
        "215 x 0.910 x 0.25 = 48.9 g in 1000 - 215 x 0.09 = 980.7 g: 4.99 < 5, and 3 <= 4.99; without it 5.4",
    ),
    (
        "contains isopropyl-alcohol 100 ml/l",
        "stock",
        "",
        "100 x 0.785 = 78.5 g in 978.5 g: 8.0 < 10; without the density 10",
    ),
    (
        "contains isopropyl-alcohol 130 ml/l",
        "stock",
        "H319",
        "130 x 0.785 = 102 g in 1000 - 28 = 972 g: 10.5 >= 10, and < 20",
    ),
    (
        "formula for 1 l { water 500 ml; hydrogen-peroxide 160 ml 30 %; water to 1 l }",
        "stock",
        "H319",
        "160 x 1.111 x 0.3 = 53.3 g: 5 <= 5.3 < 8; without the density 4.8",
    ),
    (MQ_BORAX, "stock", "EUH208", "borax 0.2 < 0.3; waters: 10 x 0.5 = 5, 100 x 0.2 = 20 < 25"),
    (MQ_BORAX, "1+1", "EUH208", "metol 0.1 >= 0.1, hydroquinone 0.25"),
    (MQ_BORAX, "1+3", "EUH208", "hydroquinone 0.125 >= 0.1"),
    (MQ_BORAX, "1+4", "EUH208", "hydroquinone 0.1, at the limit"),
    (MQ_BORAX, "1+5", "", "hydroquinone 0.083, metol 0.033 < 0.1"),
    (MQ_BORAX_WITH_ACID, "stock", "H360FD EUH208", "borates 0.2 + 0.15 = 0.35 >= 0.3"),
    (MQ_BORAX_WITH_ACID, "1+1", "EUH208", "borates 0.175 < 0.3"),
    (
        MQ_CARBONATE,
        "stock",
        "H317 H319 H341 H351 H412",
        "hydroquinone 1.2 >= 1; eyes 1.2/1 + 6.75/10 = 1.9; waters 100 x 0.31 = 31",
    ),
    (MQ_CARBONATE, "1+2", "EUH208", "hydroquinone 0.4 < 1; carbonate 2.25"),
    (
        "contains sodium-hydroxide 20 g/l\n    ph 13",
        "stock",
        "H314",
        "a pH of 11.5 or more (3.2.3.1.2); 2 % is H314 too",
    ),
    ("contains sodium-hydroxide 4 g/l\n    ph 13", "stock", "H314", "0.4 < 0.5, but a pH of 11.5 or more"),
    ("contains sodium-hydroxide 4 g/l", "stock", "", "0.4 < 0.5, and no pH is stated"),
    ("contains sodium-hydroxide 10 g/l\n    ph 11.4", "stock", "H315 H319", "0.5 <= 1 < 2"),
    ("contains sodium-bisulfate 39 g/l", "stock", "H318", "3.9 >= 3"),
    ("contains sodium-bisulfate 39 g/l\n    ph 1.3", "stock", "H314", "a pH of 2 or less (3.2.3.1.2)"),
];

/// A solution with these lines, diluted so.
fn mixed(lines: &str, dilution: &str) -> Mixed {
    let lines = lines.replace("{ ", "{\n        ").replace("; ", "\n        ").replace(" }", "\n    }");
    let text = format!("wetside 2\n\nsolution trial {{\n    role stop\n    {lines}\n}}\n");
    let kitchen = Kitchen::sound(&text);
    let (_, solution) = kitchen.shelf.solutions.first().expect(&text);
    match dilution.split_once('+') {
        None => solution.mixed(None),
        Some((part, water)) => {
            let [part, water] = [part, water].map(|number| number.parse().unwrap());
            solution.mixed_at(None, &Dilution { parts: vec![part], water })
        }
    }
}

#[test]
fn solutions_as_written_have_the_statements_worked_out_by_hand() {
    let mut failures = Vec::new();
    for (lines, dilution, expected, why) in WRITTEN {
        let mixed = mixed(lines, dilution);
        assert!(!mixed.mixture.portions.is_empty() && mixed.silent.is_empty(), "{lines}");
        let mut codes: Vec<&str> = mixed.mixture.class().hazards.iter().map(|hazard| hazard.code).collect();
        codes.sort_by_key(|code| (code.starts_with('E'), *code));
        if codes.join(" ") != *expected {
            failures.push(format!("{lines} {dilution}: {codes:?}, not {expected}: {why}"));
        }
    }
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

/// A bath of one bottle of two has the hazards of that bottle. 90 g of the monohydrate are 78.3 g without water.
#[test]
fn a_bath_from_one_bottle_of_two_is_of_that_bottle() {
    let text = "wetside 2\n\nsolution bleach {\n    role bleach\n    parts a, b\n    formula a for 1 l {\n        \
                water 800 ml\n        potassium-permanganate 4 g\n        water to 1 l\n    }\n    \
                formula b for 1 l {\n        water 800 ml\n        sodium-bisulfate 90 g monohydrate\n        \
                water to 1 l\n    }\n}\n";
    let kitchen = Kitchen::sound(text);
    let (_, bleach) = kitchen.shelf.solutions.first().unwrap();
    for (part, water, expected) in
        [("a", 0, "H412"), ("a", 1, ""), ("b", 0, "H318"), ("b", 1, "H318"), ("b", 2, "H319"), ("b", 9, "")]
    {
        let mixed = bleach.mixed_at(Some(part), &Dilution { parts: vec![1], water });
        let codes: Vec<&str> = mixed.mixture.class().hazards.iter().map(|hazard| hazard.code).collect();
        assert_eq!(
            codes.join(" "),
            expected,
            "{part} 1+{water}: 0.4 x 100 >= 25; 7.83, 3.9, 2.6 and 0.78 % at 3 and 1"
        );
    }
}
