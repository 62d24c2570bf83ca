//! The liquids that a plan needs: how much, what the user has of them, and what is left to buy or to mix.

use std::sync::Arc;

use crate::journal::{Standing, Verdict};
use crate::model::{Date, KeptBath, Recipe, Shelf, Solution, Step, Volume};
use crate::source::{FileId, Map};

/// A liquid to buy, to mix or to have ready.
#[derive(Debug, Clone)]
pub struct Taken {
    /// The name of the solution, with the name of its bottle if the solution comes in several: `bleach b`.
    pub what: String,
    /// Whether the liquid is for replenishing a bath.
    pub tops_up: bool,
    /// The volume that the loads need.
    pub volume: Volume,
    /// The solution, and the name of its bottle if it comes in several; `None` if no solution of the loads has this
    /// name.
    pub liquid: Option<Liquid>,
    /// What the user has of this liquid.
    pub on_hand: Vec<OnHand>,
    /// The volume of a package, and the number of packages to buy; `None` if no package size is stated.
    pub packages: Option<(Volume, i64)>,
}

/// A solution, or one bottle of a solution that comes in several bottles.
#[derive(Debug, Clone)]
pub struct Liquid {
    /// The solution.
    pub solution: Arc<Solution>,
    /// The name of the bottle, if the solution comes in several, such as `a` and `b`.
    pub part: Option<String>,
}

/// A liquid that the user has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OnHand {
    /// The name of the declared bottle, and the day on which it was mixed; `None` if the command line states the
    /// volume.
    pub bottle: Option<(String, Date)>,
    /// The volume; for a bottle, the volume that was mixed, because no session states how much was taken from it.
    pub volume: Volume,
}

/// The volume of stock to mix is a multiple of this volume. Common practice, no source.
const MIXED_STEP: Volume = Volume::from_ml(100);

impl Taken {
    /// The volume that is missing: what the loads need, less what the user has.
    pub fn short(&self) -> Volume {
        let had: Volume = self.on_hand.iter().map(|one| one.volume).sum();
        Volume { fl: (self.volume - had).fl.max(0) }
    }

    /// The volume to mix, if the liquid has a formula, and the user does not have enough of it.
    pub fn to_mix(&self) -> Option<Volume> {
        let formulas = self.liquid.as_ref().map(|liquid| &liquid.solution.formulas)?;
        let short = self.short();
        (!formulas.is_empty() && short > Volume::ZERO).then(|| short.rounded_up(MIXED_STEP))
    }
}

pub(super) struct Stocks<'a> {
    pub(super) shelf: &'a Shelf,
    pub(super) on: Date,
    /// The declared bottles that the loads pour from.
    pub(super) used: &'a [Arc<KeptBath>],
    /// The name and volume of each liquid that the user has, from the command line.
    pub(super) stated: &'a [(String, Volume)],
    pub(super) packages: &'a [(String, Volume)],
    /// The solutions of the loads. The keys are names of liquids, such as `bleach b`.
    pub(super) liquids: Map<String, Liquid>,
}

impl Stocks<'_> {
    pub(super) fn add(&mut self, recipe: &Recipe) {
        for solution in recipe.steps.iter().flat_map(Step::solutions) {
            self.liquid(solution);
            let replenisher = solution.replenisher.as_ref().map(|own| own.name.as_str());
            let of_name = |(_, one): &&(FileId, Arc<Solution>)| Some(one.name.as_str()) == replenisher;
            if let Some((_, replenisher)) = self.shelf.solutions.iter().find(of_name) {
                self.liquid(replenisher);
            }
        }
    }

    fn liquid(&mut self, solution: &Arc<Solution>) {
        let names = [None].into_iter().chain(solution.parts.iter().map(Some));
        for part in names {
            let name = part.map_or_else(|| solution.name.clone(), |part| format!("{} {part}", solution.name));
            let liquid = || Liquid { solution: Arc::clone(solution), part: part.cloned() };
            self.liquids.value_or(name, liquid);
        }
    }

    /// What the user has of a liquid: the volumes that the command line states, and the bottles of the undiluted liquid
    /// that are good and that no load uses.
    pub(super) fn on_hand(&self, what: &str, liquid: Option<&Liquid>) -> Vec<OnHand> {
        let darkroom = &self.shelf.darkroom;
        let is_it = |bottle: &&Arc<KeptBath>| {
            let is_stock = bottle.dilution.water == 0 && bottle.dilution.parts.len() == 1;
            let is_of = |liquid: &Liquid| {
                Arc::ptr_eq(&liquid.solution, &bottle.solution) && liquid.part == bottle.part
            };
            is_stock && liquid.is_some_and(is_of) && !self.used.iter().any(|used| Arc::ptr_eq(used, bottle))
        };
        let is_good = |bottle: &&Arc<KeptBath>| {
            let standing = Standing::of(darkroom, bottle, self.on);
            standing.is_in_use() && matches!(standing.verdict(), Verdict::Good | Verdict::NearlySpent)
        };
        let bottles = darkroom.bottles().filter(is_it).filter(is_good).map(|bottle| OnHand {
            bottle: Some((bottle.name.clone(), *bottle.mixed)),
            volume: *bottle.volume,
        });
        let stated = self.stated.iter().filter(|(name, _)| name == what);
        bottles.chain(stated.map(|(_, volume)| OnHand { bottle: None, volume: *volume })).collect()
    }
}
