//! The core in one process on one core: parsing with checking, and compiling.

use std::collections::BTreeMap;
use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

use wetside::check::{Levels, check_all};
use wetside::compile::{Schedule, Tonight, compile};
use wetside::emit::trial_json;
use wetside::evaluate::{Asked, Outcome, evaluate};
use wetside::model::{ContrastMeasure, Format, Recipe, Rolls, Shelf, Tank, Temperature};
use wetside::source::{MemoryFiles, Sources};

use super::{Figure, median};

const RUNS: usize = 9;

/// The texts of all recipes.
fn shelf_texts() -> BTreeMap<String, String> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let read = |path: std::path::PathBuf| {
        (path.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(&path).unwrap())
    };
    let paths = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    paths.filter(|path| path.is_file()).map(read).collect()
}

/// All recipes, checked at once, and their size in bytes.
fn checked(texts: &BTreeMap<String, String>) -> (Shelf, usize) {
    let mut sources = Sources::default();
    let roots: Vec<_> = texts.iter().map(|(name, text)| sources.add(name, text.as_str())).collect();
    let (shelf, findings) = check_all(&mut sources, &roots, &MemoryFiles::default(), &Levels::default());
    assert!(findings.is_empty(), "the shelf is clean");
    (shelf, texts.values().map(String::len).sum())
}

/// The recipe and the tank of the README's card.
fn readme(shelf: &Shelf) -> (&Arc<Recipe>, &Arc<Tank>) {
    let recipe = shelf.recipes.iter().find(|recipe| recipe.name == "estuary-400-mq").unwrap();
    let tank = shelf.tanks.iter().find(|(_, name, _)| name == "tall-five").map(|(.., tank)| tank).unwrap();
    (recipe, tank)
}

/// A warm evening with this number of rolls of 120.
pub(super) fn tonight(count: u32) -> Tonight {
    Tonight::new(Temperature::celsius_whole(21), vec![Rolls { count, format: Format::F120 }])
}

/// The same with five rolls in that tank.
fn in_tank(tank: &Arc<Tank>) -> Tonight {
    Tonight { tank: Some(Arc::clone(tank)), ..tonight(5) }
}

/// Five rolls of that recipe in that tank.
pub(super) fn schedule() -> Schedule {
    let (shelf, _) = checked(&shelf_texts());
    let (recipe, tank) = readme(&shelf);
    compile(&shelf, recipe, &in_tank(tank), Vec::new()).unwrap()
}

pub(super) fn figures() -> Vec<Figure> {
    let texts = shelf_texts();
    // One measurement checks all recipes a hundred times.
    let rate = median(
        (0..RUNS)
            .map(|_| {
                let start = Instant::now();
                let bytes: usize = (0..100).map(|_| black_box(checked(black_box(&texts))).1).sum();
                bytes as f64 / 1e6 / start.elapsed().as_secs_f64()
            })
            .collect(),
    );
    let (shelf, _) = checked(&texts);
    let (recipe, tank) = readme(&shelf);
    let tonight = in_tank(tank);
    let micros = median(
        (0..RUNS)
            .map(|_| {
                let start = Instant::now();
                for _ in 0..1000 {
                    black_box(compile(black_box(&shelf), recipe, &tonight, Vec::new())).unwrap();
                }
                start.elapsed().as_secs_f64() * 1e6 / 1000.0
            })
            .collect(),
    );
    vec![
        Figure { what: "read and check the shelf, one core", reached: rate, unit: "MB/s", bar: (10.0, true) },
        Figure { what: "compile one recipe to a schedule", reached: micros, unit: "us", bar: (100.0, false) },
    ]
}

/// The readings of thirty strips of three temperatures through a wedge of 21 steps, from the text to JSON: curves, all
/// three contrasts, law and times.
pub(super) fn trial() -> Figure {
    let mut table = "wedge".to_owned();
    let minutes = |strip: u32| 4.0 + 0.4 * f64::from(strip);
    let celsius = |strip: u32| [18, 20, 24][strip as usize % 3];
    (0..30).for_each(|strip| table += &format!(",{:.2} at {} C", minutes(strip), celsius(strip)));
    table += "\nfog";
    (0..30).for_each(|_| table += ",0.28");
    for step in 0..21 {
        let wedge = 3.05 - 0.15 * f64::from(step);
        table += &format!("\n{wedge:.2}");
        for strip in 0..30 {
            let quicker = 2.2_f64.powf((f64::from(celsius(strip)) - 20.0) / 10.0);
            let contrast = 1.0 - (-0.15 * (quicker * minutes(strip) - 0.6)).exp();
            let density = 0.28 + contrast * 0.18 * (1.0 + ((2.15 - wedge) / 0.16).exp()).ln();
            table += &format!(",{density:.3}");
        }
    }
    let mut sources = Sources::default();
    let file = sources.add("readings.csv", table);
    let asked = Asked {
        measure: ContrastMeasure::USUAL,
        within: None,
        usual: None,
        contrasts: Vec::new(),
        at: Vec::new(),
        beyond: false,
        index: None,
    };
    let runs = (0..RUNS).map(|_| {
        let start = Instant::now();
        let outcome = evaluate(&sources, file, black_box(&asked)).unwrap();
        let json = if let Outcome::Evaluated(result) = outcome { trial_json(&result) } else { String::new() };
        assert_eq!(black_box(json).matches("\"index\"").count(), 30);
        start.elapsed().as_secs_f64() * 1000.0
    });
    Figure {
        what: "30 strips of 21 steps, evaluated, as JSON",
        reached: median(runs.collect()),
        unit: "ms",
        bar: (10.0, false),
    }
}
