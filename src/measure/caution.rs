//! §8. What the sheet says of danger: the solution's own words first, then what is known of what is opened for
//! it, each thing at the strength in which a hand holds it.

use super::sheet::{Line, Weighed, Work};
use crate::chemistry::{Concern, Held, cautions as of_chemicals};
use crate::compile::{concern, is_unknown};
use crate::model::Solution;

/// The cautions, none twice.
pub(super) fn cautions(solution: &Solution, work: &Work) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let mut add = |text: String| {
        if !all.contains(&text) {
            all.push(text);
        }
    };
    solution.cautions.iter().cloned().for_each(&mut add);
    if is_unknown(solution) {
        add(format!("not known here is what is in {}: read the label and data sheet", solution.name));
    }
    let held = match work {
        Work::Weigh(bottles, _) => {
            let lines = bottles.iter().flat_map(|bottle| &bottle.lines);
            lines.filter_map(held).collect()
        }
        Work::Dilute(_) => concern(solution).held,
    };
    let concern = Concern { held, ..concern(solution) };
    of_chemicals(&[concern]).into_iter().for_each(add);
    all
}

fn held(line: &Line) -> Option<Held> {
    match line {
        Line::Weighed(Weighed { held, .. }) => *held,
        Line::Water(_) | Line::Mark(..) => None,
    }
}
