//! What a call of `measure` names: the solution, its file, and whether to weigh or dilute it.

use std::path::PathBuf;
use std::sync::Arc;

use super::super::failure::Failure;
use super::super::find::{self, Index, Sought, not_one};
use super::call::Arguments;
use crate::check;
use crate::measure::{Asked, Diluting, Warmth, Weighing};
use crate::model::{Dilution, Mass, Solution};
use crate::vocabulary::{Capture as _, Declared};

/// The resolution of a darkroom scale: common practice, no source.
const USUAL_STEP: Mass = Mass { pg: Mass::G / 10 };

/// What a call names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Named {
    /// The file that declares it.
    pub(super) file: PathBuf,
    /// The solution's name, if the call gives it.
    pub(super) name: Option<String>,
    /// The dilution, if the call gives one.
    pub(super) dilution: Option<Dilution>,
}

/// Finds SOLUTION, which is a file, a file and a name, or a name; a dilution may follow.
pub(super) fn named(arguments: &Arguments) -> Result<Named, Failure> {
    let given = &arguments.solution;
    let text = given.to_string_lossy();
    let (mut name, mut rest) = (None, arguments.rest.as_slice());
    if let [first, others @ ..] = rest
        && first.starts_with(|letter: char| letter.is_alphabetic())
        && first != "stock"
    {
        (name, rest) = (Some(first.clone()), others);
    }
    let dilution = if rest.is_empty() {
        None
    } else {
        let read = check::value::<Dilution>(&rest.join(" "));
        let read = read.map_err(|fault| Failure::new(fault.message, fault.help.join(", or ")))?;
        Dilution::of(&read).cloned()
    };
    let sought = Sought::below(Declared::Solution, &text).called(format!("wetside measure FILE.wet {text}"));
    let index = Index::of_name(Declared::Solution, &text);
    let (file, name) = find::file_and_name(given, name, &sought, &index)?;
    Ok(Named { file, name, dilution })
}

impl Named {
    /// The solution among those of its file, whose name is for messages.
    pub(super) fn among(&self, file: &str, known: &[&Arc<Solution>]) -> Result<Arc<Solution>, Failure> {
        let names: Vec<&str> = known.iter().map(|solution| solution.name.as_str()).collect();
        match (&self.name, known) {
            (Some(name), _) => {
                let found = known.iter().find(|solution| solution.name == *name);
                let sought = Sought::within(Declared::Solution, name, format!("in {file}"));
                found.map(|solution| Arc::clone(solution)).ok_or_else(|| sought.absent(names))
            }
            (None, [one]) => Ok(Arc::clone(one)),
            (None, _) => Err(not_one(Declared::Solution, file, &names)),
        }
    }
}

/// Whether to weigh or dilute; refuses options of the other.
pub(super) fn weighs_or_dilutes(
    arguments: &Arguments,
    dilution: Option<&Dilution>,
) -> Result<Asked, Failure> {
    let Arguments { have, scale, at, stock_at, taps, .. } = arguments;
    let Some(dilution) = dilution else {
        if at.is_some() {
            return Err(Failure::new(
                "--at is for what is let down: a formula says itself how warm its water is",
                "leave it out, or say how far to let it down, as in 1+4",
            ));
        }
        return Ok(Asked::Weighing(Weighing {
            step: scale.unwrap_or(USUAL_STEP),
            had: have.clone(),
            taps: *taps,
        }));
    };
    if !have.is_empty() || scale.is_some() {
        return Err(Failure::new(
            format!("--have and --scale are for weighing, and at {dilution} nothing is weighed"),
            "leave them out, or leave the dilution out to weigh the formula",
        ));
    }
    let warmth = match (at, stock_at, taps) {
        (Some((at, _)), None, None) => {
            return Err(Failure::new(
                format!("--at {at} alone does not tell how warm the water has to be"),
                "say how warm the bottle is, --stock-at 23C, or the taps, --taps 12C,55C",
            ));
        }
        (None, _, Some(_)) => {
            return Err(Failure::new("--taps does not tell how warm it has to be", "say that with --at 20C"));
        }
        (Some((at, _)), stock, taps) => Some(Warmth { at: *at, stock: *stock, taps: *taps }),
        (None, _, None) => None,
    };
    Ok(Asked::Diluting(Diluting { dilution: dilution.clone(), warmth }))
}
