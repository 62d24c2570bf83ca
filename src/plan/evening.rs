//! Loads on their evenings, one after the other: each is compiled for the bottles that it pours from as they stand
//! on its day, after the loads before it.

use std::sync::Arc;

use super::ahead::Ahead;
use super::bath::{Anew, Poured, Sums, Taken};
use super::kept::{Kept, kept};
use super::{Asked, Idle, Load, Roll, Unused};
use crate::compile::{Bottles, Doubt, Heed, Schedule, Tonight, compile};
use crate::journal::{Standing, Verdict};
use crate::model::{Date, Exposed, Format, KeptBath, Recipe, Rolls};
use crate::source::Diagnostic;

/// The evenings up to now.
pub(super) struct Evenings<'a> {
    asked: &'a Asked<'a>,
    ahead: Ahead,
    /// Every kept bath, as large as its largest load needs.
    largest: Vec<Kept>,
    /// The bottles of the darkroom that some load pours from.
    used: Vec<Arc<KeptBath>>,
    pub(super) loads: Vec<Load>,
    sums: Sums,
}

/// A bottle that a load pours from, and whether it was made for it.
struct Pour {
    kept: Kept,
    bottle: Arc<KeptBath>,
    made: Option<Option<Anew>>,
}

impl<'a> Evenings<'a> {
    /// Before the first of these loads, each a recipe and its rolls.
    pub(super) fn new<'r>(
        asked: &'a Asked<'a>,
        loads: impl Iterator<Item = (&'r Arc<Recipe>, Vec<&'r Exposed>)>,
    ) -> Evenings<'a> {
        let mut largest: Vec<Kept> = Vec::new();
        for (recipe, rolls) in loads {
            let conditions = conditions(asked, &by_format(&rolls));
            let schedule = compile(asked.shelf, recipe, &conditions, Vec::new());
            for own in schedule.iter().flat_map(kept) {
                match largest.iter_mut().find(|kept| kept.is_of(&own.solution, &own.dilution)) {
                    Some(kept) => kept.grow(&own),
                    None => largest.push(own),
                }
            }
        }
        let ahead = Ahead::of(asked.shelf);
        Evenings { asked, ahead, largest, used: Vec::new(), loads: Vec::new(), sums: Sums::default() }
    }

    /// Adds a load. Rolls stand in the tank in the order they were shot, but one format together, as reels of one
    /// kind do.
    ///
    /// # Errors
    /// Every reason why the work cannot be done that day.
    pub(super) fn add(&mut self, recipe: &Arc<Recipe>, rolls: &[&Exposed]) -> Result<(), Vec<Diagnostic>> {
        let rolls = by_format(rolls);
        let formats: Vec<Format> = rolls.iter().map(|roll| roll.format).collect();
        let on = self.asked.days.of(self.loads.len());
        let mut conditions = conditions(self.asked, &rolls);
        let shelf = &self.asked.shelf;
        let fresh = compile(shelf, recipe, &conditions, Vec::new())?;
        let film: i64 = formats.iter().map(|format| i64::from(format.twelfths())).sum();
        let baths = kept(&fresh);
        let found: Vec<Option<Arc<KeptBath>>> =
            baths.iter().map(|kept| self.ahead.bottle(kept, on, film)).collect();
        let from = |found: &[&Arc<KeptBath>]| {
            Some(Bottles { on, from: found.iter().map(|bottle| bottle.span).collect(), heed: Heed::Refuse })
        };
        conditions.bottles = from(&found.iter().flatten().collect::<Vec<_>>());
        let by_found = compile(&self.ahead.shelf, recipe, &conditions, Vec::new());
        // What a bottle was tested at may not do for tonight; a bath is made then.
        let does = by_found.is_ok();
        let pours: Vec<Pour> = baths
            .into_iter()
            .zip(found)
            .map(|(kept, found)| {
                self.pour(kept, found.filter(|found| does || Ahead::is_made_here(found)), on)
            })
            .collect();
        conditions.bottles = from(&pours.iter().map(|pour| &pour.bottle).collect::<Vec<_>>());
        let doubts = Doubt::of(&self.asked.doubts, self.asked.shelf, recipe);
        let schedule = compile(&self.ahead.shelf, recipe, &conditions, doubts)?;
        let mut begun: Vec<(Kept, Arc<KeptBath>)> = Vec::new();
        for pour in &pours {
            self.ahead.send(&pour.bottle, on, &formats);
            if !Ahead::is_made_here(&pour.bottle)
                && !self.used.iter().any(|used| Arc::ptr_eq(used, &pour.bottle))
            {
                self.used.push(Arc::clone(&pour.bottle));
                begun.push((pour.kept.clone(), Arc::clone(&pour.bottle)));
            }
        }
        let made: Vec<(Kept, Option<Anew>)> =
            pours.into_iter().filter_map(|pour| Some((pour.kept, pour.made?))).collect();
        let rolls = rolls.iter().map(|roll| Roll::of(roll)).collect();
        let mut load = Load { on, rolls, schedule: unnamed(schedule), mixes: Vec::new() };
        self.sums.add(&mut load, &made, &begun);
        self.loads.push(load);
        Ok(())
    }

    /// A bath is poured from the bottle that was found, else from one that is made, as large as the largest load needs.
    fn pour(&mut self, kept: Kept, found: Option<Arc<KeptBath>>, on: Date) -> Pour {
        if let Some(bottle) = found {
            return Pour { kept, bottle, made: None };
        }
        let largest = self.largest.iter().find(|own| own.is_of(&kept.solution, &kept.dilution));
        let kept = largest.cloned().unwrap_or(kept);
        let (bottle, because) = self.ahead.make(&kept, on);
        Pour { kept, bottle, made: Some(because) }
    }

    /// Whether the day of a load has a part in any of this.
    pub(super) fn heed_the_day(&self) -> bool {
        let mut bottles = self.asked.shelf.darkroom.bottles();
        self.asked.days.loads.is_some()
            || bottles.any(|bottle| self.largest.iter().any(|kept| kept.is_in(bottle)))
    }

    /// The bottles of baths that are poured, from which none is, as they stand on the first day.
    pub(super) fn idle(&self) -> Vec<Idle> {
        let (darkroom, on) = (&self.asked.shelf.darkroom, self.asked.days.first);
        let unused = |bottle: &&Arc<KeptBath>| !self.used.iter().any(|used| Arc::ptr_eq(used, bottle));
        let told = darkroom.bottles().filter(unused).filter_map(|bottle| {
            let kept = self.largest.iter().find(|kept| kept.is_in(bottle))?;
            let standing = Standing::of(darkroom, bottle, on);
            let because = match standing.verdict() {
                // One that was poured away is nobody's any more.
                Verdict::Discarded => return None,
                Verdict::ClearsTooSlowly | Verdict::Spent | Verdict::PastKeeping if standing.is_made() => {
                    Unused::Speaks(standing.verdict())
                }
                Verdict::ClearsTooSlowly | Verdict::Spent | Verdict::PastKeeping => Unused::NotMade,
                Verdict::NearlySpent | Verdict::Good if !standing.is_made() => Unused::NotMade,
                Verdict::NearlySpent | Verdict::Good if bottle.volume.value < kept.volume => Unused::TooSmall,
                Verdict::NearlySpent | Verdict::Good => Unused::NotNeeded,
            };
            Some(Idle { name: bottle.name.clone(), because })
        });
        told.collect()
    }

    /// The loads, and what they come to.
    pub(super) fn finish(self) -> (Vec<Load>, Vec<Poured>, Vec<Taken>) {
        let (poured, taken) = self.sums.finish(&self.asked.packages);
        (self.loads, poured, taken)
    }
}

/// Those of one format together, otherwise as they are.
fn by_format<'r>(rolls: &[&'r Exposed]) -> Vec<&'r Exposed> {
    let mut rolls = rolls.to_vec();
    let formats: Vec<Format> = rolls.iter().map(|roll| roll.format).collect();
    rolls.sort_by_key(|roll| formats.iter().position(|format| *format == roll.format));
    rolls
}

/// The evening of rolls that stand in this order.
fn conditions(asked: &Asked<'_>, rolls: &[&Exposed]) -> Tonight {
    let mut conditions = asked.conditions.clone();
    conditions.tank = Some(Arc::clone(asked.tank));
    conditions.labels = rolls.iter().map(|roll| roll.label.clone()).collect();
    conditions.rolls = rolls
        .chunk_by(|one, next| one.format == next.format)
        .filter_map(|run| {
            Some(Rolls { count: u32::try_from(run.len()).unwrap_or(u32::MAX), format: run.first()?.format })
        })
        .collect();
    conditions
}

/// What is made on the way has no name that could be told.
fn unnamed(mut schedule: Schedule) -> Schedule {
    for bath in schedule.steps.iter_mut().filter_map(|step| step.bath.as_mut()) {
        bath.bottle = bath.bottle.take().filter(|bottle| !bottle.name.is_empty());
    }
    schedule
}
