//! The benchmarks, each with its bar. Times are medians of whole runs; the last figure is a clean build. The
//! comparison with a YAML schema checker is in `against_yaml.py`.

#![allow(
    clippy::disallowed_methods,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a bench uses the clock and the disk, prints, and may panic"
)]

mod collection;
mod core;
mod editor;
mod forms;
mod made;
mod many;
mod past;
mod plan;
mod process;
mod site;

/// One line of the report.
struct Figure {
    what: &'static str,
    reached: f64,
    unit: &'static str,
    /// The bar, and whether it is a floor (`true`) or a ceiling.
    bar: (f64, bool),
}

/// A part of the bench by its name.
type Part = (&'static str, fn() -> Vec<Figure>);

fn main() {
    // `cargo test --benches` only checks that it starts.
    if !std::env::args().any(|argument| argument == "--bench") {
        return;
    }
    let parts: [Part; 10] = [
        ("collection", collection::figures),
        ("core", core::figures),
        ("editor", editor::figures),
        ("forms", forms::figures),
        ("many", many::figures),
        ("past", past::figures),
        ("plan", plan::figures),
        ("process", process::figures),
        ("site", site::figures),
        ("trial", || vec![core::trial()]),
    ];
    // `cargo bench -- editor` runs one part.
    let named = |part: &str| std::env::args().any(|argument| argument == part);
    let all = !parts.iter().any(|(part, _)| named(part));
    let mut missed = 0;
    for figure in parts.iter().filter(|(part, _)| all || named(part)).flat_map(|(_, figures)| figures()) {
        let (bar, floor) = figure.bar;
        let held = if floor { figure.reached >= bar } else { figure.reached <= bar };
        missed += u32::from(!held);
        let (word, verdict) =
            (if floor { "at least" } else { "at most" }, if held { "held" } else { "MISSED" });
        println!(
            "{:<44} {:>10.2} {:<5} {word} {bar} {} {verdict}",
            figure.what, figure.reached, figure.unit, figure.unit
        );
    }
    println!("{missed} figures missed");
}

/// The median of an odd number of measurements.
fn median(mut measured: Vec<f64>) -> f64 {
    measured.sort_by(f64::total_cmp);
    measured.get(measured.len() / 2).copied().unwrap()
}
