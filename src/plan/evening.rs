//! Compiles each load for its day, with the bottles that are usable on that day. The baths mixed for the loads, and
//! the film that these baths treat, are added to a copy of the darkroom; in this copy, the journal counts both.

use std::sync::Arc;

use super::bath::{Kept, MixedAgain, Origin, Pour, Poured, Sums};
use super::stock::{Stocks, Taken};
use super::{Asked, Idle, Load, Unused};
use crate::compile::{Bottles, Schedule, Tonight, Warning, compile};
use crate::journal::{Standing, Verdict, treated};
use crate::model::{Date, Exposed, Format, KeptBath, Recipe, Rolls, Session, Shelf, Slot, Stated, UsedBath};
use crate::source::{Diagnostic, FileId, Map, Sorted as _, Span};

pub(super) struct Evenings<'a> {
    asked: &'a Asked<'a>,
    ahead: Ahead,
    /// Every bath that some load keeps in a bottle, with the volume for the load that needs most.
    largest: Vec<Kept>,
    used: Vec<Arc<KeptBath>>,
    pub(super) loads: Vec<Load>,
    sums: Sums,
}

impl<'a> Evenings<'a> {
    /// The state before the first load. `loads` has each load's recipe and rolls.
    pub(super) fn new(asked: &'a Asked<'a>, loads: &[(&Arc<Recipe>, Vec<&Exposed>)]) -> Evenings<'a> {
        let mut largest: Vec<Kept> = Vec::new();
        for (recipe, rolls) in loads {
            let conditions = conditions(asked, &by_format(rolls));
            let schedule = compile(asked.shelf, recipe, &conditions, Vec::new());
            schedule.iter().flat_map(Kept::all).for_each(|kept| kept.add_to(&mut largest));
        }
        let ahead = Ahead { shelf: asked.shelf.clone(), made: 0 };
        Evenings { asked, ahead, largest, used: Vec::new(), loads: Vec::new(), sums: Sums::default() }
    }

    /// Adds a load. `rolls` are in the order of exposure.
    ///
    /// # Errors
    /// Every reason why the recipe does not compile for the day of the load.
    pub(super) fn add(&mut self, recipe: &Arc<Recipe>, rolls: &[&Exposed]) -> Result<(), Vec<Diagnostic>> {
        let rolls = by_format(rolls);
        let formats: Vec<Format> = rolls.iter().map(|roll| roll.format).collect();
        let both_sides = rolls.first().is_some_and(|roll| roll.film.both_sides);
        let on = self.asked.days.of(self.loads.len());
        let mut conditions = conditions(self.asked, &rolls);
        let fresh = compile(self.asked.shelf, recipe, &conditions, Vec::new())?;
        let baths = Kept::all(&fresh);
        let mut found: Vec<Option<Arc<KeptBath>>> = Vec::new();
        for kept in &baths {
            let bottle = self.ahead.bottle(kept, (on, fresh.area()), &found);
            found.push(bottle);
        }
        let named = |pours: &mut dyn Iterator<Item = (&Kept, Span)>| {
            let mut bottles = Bottles { on, from: Vec::new(), named: Vec::new() };
            for (kept, span) in pours {
                bottles.from.push(span);
                bottles.named.extend(kept.name.clone().map(|name| (name, span)));
            }
            Some(bottles)
        };
        let pairs = baths.iter().zip(&found);
        conditions.bottles =
            named(&mut pairs.filter_map(|(kept, bottle)| Some((kept, bottle.as_ref()?.span))));
        // A clearing test can prevent the recipe from compiling with these bottles. If it does not compile, new baths
        // replace the declared bottles.
        let fits = compile(&self.ahead.shelf, recipe, &conditions, Vec::new()).is_ok();
        let pours = baths.into_iter().zip(found).map(|(kept, found)| {
            self.pour(kept, found.filter(|found| fits || Ahead::is_mixed_here(found)), on)
        });
        let mut pours: Vec<Pour> = pours.collect();
        conditions.bottles = named(&mut pours.iter().map(|pour| (&pour.kept, pour.bottle.span)));
        let warnings = Warning::of(&self.asked.warnings, self.asked.shelf, recipe);
        let schedule = compile(&self.ahead.shelf, recipe, &conditions, warnings)?;
        for pour in &mut pours {
            let bottle = &pour.bottle;
            self.ahead.record(bottle, on, (&formats, both_sides));
            if !Ahead::is_mixed_here(bottle) && !self.has_used(bottle) {
                self.used.push(Arc::clone(bottle));
                pour.origin = Origin::Begun;
            }
        }
        let rolls = rolls.iter().map(|roll| (*roll).clone()).collect();
        let mut load = Load { on, rolls, schedule: unnamed(schedule), mixes: Vec::new() };
        self.sums.add(&mut load, &pours);
        self.loads.push(load);
        Ok(())
    }

    fn has_used(&self, bottle: &Arc<KeptBath>) -> bool {
        self.used.iter().any(|used| Arc::ptr_eq(used, bottle))
    }

    /// Uses the bottle `found`, or else mixes a bath with the volume for the load that needs most.
    fn pour(&mut self, kept: Kept, found: Option<Arc<KeptBath>>, on: Date) -> Pour {
        if let Some(bottle) = found {
            return Pour { kept, bottle, origin: Origin::InUse };
        }
        let largest = self.largest.iter().find(|own| own.is_same(&kept));
        let kept = largest.cloned().unwrap_or(kept);
        let (bottle, because) = self.ahead.mix(&kept, on);
        Pour { kept, bottle, origin: Origin::Mixed(because) }
    }

    pub(super) fn depends_on_days(&self) -> bool {
        let mut bottles = self.asked.shelf.darkroom.bottles();
        self.asked.days.loads.is_some()
            || bottles.any(|bottle| self.largest.iter().any(|kept| kept.is_in(bottle)))
    }

    /// The bottles that no load uses, although some load needs their bath; the reasons are those on the first day.
    pub(super) fn idle(&self) -> Vec<Idle> {
        let (darkroom, on) = (&self.asked.shelf.darkroom, self.asked.days.first);
        let unused = darkroom.bottles().filter(|bottle| !self.has_used(bottle)).filter_map(|bottle| {
            let kept = self.largest.iter().find(|kept| kept.is_in(bottle))?;
            let standing = Standing::of(darkroom, bottle, on);
            let because = match standing.verdict() {
                Verdict::Discarded => return None,
                _ if !standing.is_made() => Unused::NotMade,
                Verdict::NearlySpent | Verdict::Good if *bottle.volume < kept.volume => Unused::TooSmall,
                Verdict::NearlySpent | Verdict::Good => Unused::NotNeeded,
                verdict => Unused::Verdict(verdict),
            };
            Some(Idle { name: bottle.name.clone(), because })
        });
        unused.collect()
    }

    pub(super) fn finish(self) -> (Vec<Load>, Vec<Poured>, Vec<Taken>) {
        let asked = self.asked;
        let mut stocks = Stocks {
            shelf: asked.shelf,
            on: asked.days.first,
            used: &self.used,
            stated: &asked.on_hand,
            packages: &asked.packages,
            liquids: Map::new(),
        };
        self.loads.iter().for_each(|load| stocks.add(&load.schedule.recipe));
        let (poured, taken) = self.sums.finish(&stocks);
        (self.loads, poured, taken)
    }
}

/// The rolls grouped by format; the rolls of one format stay in order.
fn by_format<'r>(rolls: &[&'r Exposed]) -> Vec<&'r Exposed> {
    let mut rolls = rolls.to_vec();
    let formats: Vec<Format> = rolls.iter().map(|roll| roll.format).collect();
    rolls.order_by_key(|roll| formats.iter().position(|format| *format == roll.format));
    rolls
}

fn conditions(asked: &Asked<'_>, rolls: &[&Exposed]) -> Tonight {
    let labels = rolls.iter().map(|roll| roll.label.clone()).collect();
    let rolls = rolls.chunk_by(|one, next| one.format == next.format).filter_map(|run| {
        Some(Rolls { count: u32::try_from(run.len()).unwrap_or(u32::MAX), format: run.first()?.format })
    });
    Tonight { labels, ..asked.tonight(rolls.collect()) }
}

/// The schedule without the bottles for baths that the plan mixed, because these bottles have no names.
fn unnamed(mut schedule: Schedule) -> Schedule {
    for bath in schedule.steps.iter_mut().filter_map(|step| step.bath.as_mut()) {
        bath.bottle = bath.bottle.take().filter(|bottle| !bottle.name.is_empty());
    }
    schedule
}

/// The file number for the baths that the plan mixes: no file declares these baths.
const NO_FILE: FileId = FileId(u32::MAX);

/// A copy of the declarations, plus the baths and sessions of the plan.
#[derive(Debug)]
struct Ahead {
    shelf: Shelf,
    made: u32,
}

impl Ahead {
    fn is_mixed_here(bottle: &KeptBath) -> bool {
        bottle.span.file == NO_FILE
    }

    /// The bottle for the bath `kept` that can treat this area of film on a day; of several, the one that was mixed
    /// first. Bottles in `taken` are for other baths of the load.
    fn bottle(
        &self,
        kept: &Kept,
        (on, film): (Date, i64),
        taken: &[Option<Arc<KeptBath>>],
    ) -> Option<Arc<KeptBath>> {
        let darkroom = &self.shelf.darkroom;
        let treats = |bottle: &&Arc<KeptBath>| {
            let standing = Standing::of(darkroom, bottle, on);
            let holds = |film| standing.capacity.is_none_or(|capacity| capacity.holds(film));
            standing.is_made()
                && matches!(standing.verdict(), Verdict::Good | Verdict::NearlySpent)
                && holds(treated(darkroom, bottle, Date::MAX) + film)
        };
        let is_taken = |bottle: &Arc<KeptBath>| taken.iter().flatten().any(|own| Arc::ptr_eq(own, bottle));
        let is_own = |bottle: &KeptBath| !Ahead::is_mixed_here(bottle) || bottle.title == mixed_title(kept);
        let could = |bottle: &&Arc<KeptBath>| {
            kept.is_in(bottle) && kept.volume <= *bottle.volume && is_own(bottle) && !is_taken(bottle)
        };
        darkroom
            .bottles()
            // `could` comes before `treats`, because it is faster: `treats` reads all sessions.
            .filter(could)
            .filter(treats)
            .min_by_key(|bottle| (*bottle.mixed, bottle.span))
            .map(Arc::clone)
    }

    /// Mixes a bath on a day. If the plan has mixed this bath before, removes the old bottle from the copy, and returns
    /// why the bath is mixed again.
    fn mix(&mut self, kept: &Kept, on: Date) -> (Arc<KeptBath>, Option<MixedAgain>) {
        let darkroom = &mut self.shelf.darkroom;
        let is_before = |bottle: &&Arc<KeptBath>| {
            Ahead::is_mixed_here(bottle) && kept.is_in(bottle) && bottle.title == mixed_title(kept)
        };
        let before = darkroom.bottles().find(is_before).cloned();
        let because = before.map(|before| {
            let standing = Standing::of(darkroom, &before, on);
            let until = standing.keeps_until.filter(|until| *until < on);
            darkroom.baths.retain(|(_, _, bottle)| !Arc::ptr_eq(bottle, &before));
            darkroom.sessions.retain(|session| !is_of(session, &before));
            until.map_or(MixedAgain::Spent, MixedAgain::PastKeeping)
        });
        let span = Span { file: NO_FILE, start: self.made, end: self.made };
        self.made = self.made.saturating_add(1);
        let bottle = Arc::new(KeptBath {
            name: String::new(),
            title: mixed_title(kept),
            span,
            solution: Arc::clone(&kept.solution),
            part: kept.part.clone(),
            dilution: kept.dilution.clone(),
            volume: Stated::new(kept.volume, span),
            mixed: Stated::new(on, span),
            discarded: None,
        });
        darkroom.baths.push((NO_FILE, String::new(), Arc::clone(&bottle)));
        (bottle, because)
    }

    /// Records that a bottle treats film on a day. All film that a bottle treats is recorded in one session.
    fn record(&mut self, bottle: &Arc<KeptBath>, on: Date, (film, both_sides): (&[Format], bool)) {
        let slots = film.iter().map(|format| Slot {
            slot: 0,
            label: None,
            format: *format,
            both_sides,
            doubt: None,
            span: bottle.span,
        });
        let own = |session: &&mut Arc<Session>| session.span.file == NO_FILE && is_of(session, bottle);
        if let Some(session) = self.shelf.darkroom.sessions.iter_mut().find(own) {
            Arc::make_mut(session).slots.extend(slots);
            return;
        }
        let span = Span { file: NO_FILE, ..bottle.span };
        self.shelf.darkroom.sessions.push(Arc::new(Session {
            name: String::new(),
            span,
            date: Stated::new(on, span),
            planned_as: None,
            recipe: String::new(),
            fingerprint: String::new(),
            tank: None,
            volume: None,
            backlog: None,
            slots: slots.collect(),
            baths: vec![UsedBath { bath: Arc::clone(bottle), is_second: false, doubt: None, span }],
            anyway: Vec::new(),
            at: None,
            dunk: false,
            cleared: Vec::new(),
            took: Vec::new(),
            read: Vec::new(),
            notes: Vec::new(),
            retracted: None,
        }));
    }
}

/// The title of a bath that the plan mixes. It distinguishes baths of a recipe that have the same contents.
fn mixed_title(kept: &Kept) -> String {
    let name = kept.name.iter().map(|name| format!(", bath {name}"));
    std::iter::once(kept.solution.title.clone()).chain(name).collect()
}

fn is_of(session: &Session, bottle: &Arc<KeptBath>) -> bool {
    session.baths.iter().any(|used| Arc::ptr_eq(&used.bath, bottle))
}
