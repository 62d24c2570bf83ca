//! Finds from the journal how much film each bath has treated, the state of each bath, and which rolls are developed.

mod growth;
mod negatives;

use std::sync::Arc;

use crate::model::{
    Backlog, Clearing, ClearingTest, Darkroom, Date, Difference, Dilution, Exposed, Film, Format, KeptBath,
    Session, Shelf, Solution, Temperature, Time, UsedBath, Volume, words,
};
use crate::source::{Map, Sorted as _, Span};

pub use growth::{ClearedOn, Growth};
pub use negatives::Negatives;

/// The state of a bottle on a day.
#[derive(Debug, Clone)]
pub struct Standing<'a> {
    /// The bottle.
    pub bath: &'a Arc<KeptBath>,
    /// The day.
    pub on: Date,
    /// The area of film that the bath has treated by the day `on`. A roll has the area [`Format::ROLL`].
    pub treated: i64,
    /// How much film the bath can treat; `None` if the solution states no capacity.
    pub capacity: Option<Capacity>,
    /// The last day on which the bath is still good; `None` if the solution states no keeping time.
    pub keeps_until: Option<Date>,
    /// The newest clearing test of the bath by the day `on`.
    pub cleared: Option<Cleared<'a>>,
}

words! {
    /// The verdict on a bath. If several variants apply, the first one in this order counts.
    pub enum Verdict {
        Discarded = "discarded",
        /// The bath takes at least twice as long to clear film as a fresh bath.
        ClearsTooSlowly = "clears-too-slowly",
        /// The bath has treated its full capacity.
        Spent = "spent",
        /// The bath is older than the keeping time of the solution.
        PastKeeping = "past-keeping",
        /// The bath has treated nine tenths of its capacity or more.
        NearlySpent = "nearly-spent",
        Good = "good",
    }
}

impl<'a> Standing<'a> {
    /// The state of a bottle on a day.
    pub fn of(darkroom: &'a Darkroom, bath: &'a Arc<KeptBath>, on: Date) -> Standing<'a> {
        Standing::new(bath, on, treated(darkroom, bath, on), newest(&tests(darkroom), bath, on))
    }

    /// The state of every bottle on a day, in the order of files and lines. Reads the sessions and tests only once.
    pub fn all(darkroom: &'a Darkroom, on: Date) -> Vec<Standing<'a>> {
        let usages = usages(darkroom).into_iter().map(|usage| usage.standing);
        let by_then = usages.filter(|used| used.on <= on).map(|used| (used.bath.span, used.treated));
        let treated: Map<Span, i64> = by_then.collect();
        let tests = tests(darkroom);
        let standing = |bath: &'a Arc<KeptBath>| {
            let treated = treated.get(&bath.span).copied().unwrap_or(0);
            Standing::new(bath, on, treated, newest(&tests, bath, on))
        };
        darkroom.bottles().map(standing).collect()
    }

    fn new(bath: &'a Arc<KeptBath>, on: Date, treated: i64, cleared: Option<Cleared<'a>>) -> Standing<'a> {
        let keeps_until = bath.keeps_until();
        let capacity = Capacity::of(&bath.solution, &bath.dilution, *bath.volume);
        Standing { bath, on, treated, capacity, keeps_until, cleared }
    }

    /// Whether the bath was mixed by the day `on`.
    pub fn is_made(&self) -> bool {
        *self.bath.mixed <= self.on
    }

    /// Whether the bath was poured away by the day `on`.
    pub fn is_discarded(&self) -> bool {
        self.bath.discarded.is_some_and(|discarded| *discarded <= self.on)
    }

    /// Whether the bath was mixed, but not poured away, by the day `on`.
    pub fn is_in_use(&self) -> bool {
        self.is_made() && !self.is_discarded()
    }

    /// Whether the bath has treated its full capacity.
    pub fn is_spent(&self) -> bool {
        self.capacity.is_some_and(|capacity| capacity.is_used_up_by(self.treated))
    }

    /// Whether the bath expires within this many days, or its verdict is already not [`Verdict::Good`].
    pub fn needs_a_look(&self, days: i64) -> bool {
        let by = self.on.days_later(days);
        self.keeps_until.is_some_and(|until| until <= by) || self.verdict() != Verdict::Good
    }

    /// The age of the bath in days; negative before the day of mixing.
    pub fn age(&self) -> i64 {
        self.bath.mixed.days_until(self.on)
    }

    /// The area of film that the bath can still treat after it has treated `more`; at least 0. A roll has the area
    /// [`Format::ROLL`]. `None` if the solution states no capacity.
    pub fn left_after(&self, more: i64) -> Option<i64> {
        let all = self.capacity?.area();
        Some(all.saturating_sub(self.treated.saturating_add(more)).max(0))
    }

    /// Whether the newest clearing test cannot show if the bath is exhausted, because its temperature is too far from
    /// that of the film's stated clearing time in a fresh bath.
    pub fn test_proves_nothing(&self) -> bool {
        self.cleared.is_some_and(|cleared| cleared.fresh.is_some() && cleared.compared().is_none())
    }

    /// The gravest reason to doubt the bath; [`Verdict::Good`] if there is none.
    pub fn verdict(&self) -> Verdict {
        self.grounds().first().copied().unwrap_or(Verdict::Good)
    }

    /// Every reason to doubt the bath, the gravest first.
    pub fn grounds(&self) -> Vec<Verdict> {
        let nearly = self.capacity.is_some_and(|capacity| capacity.is_nearly_used_up_by(self.treated));
        let grounds = [
            (self.is_discarded(), Verdict::Discarded),
            (self.cleared.is_some_and(Cleared::has_doubled), Verdict::ClearsTooSlowly),
            (self.is_spent(), Verdict::Spent),
            (self.keeps_until.is_some_and(|until| until < self.on), Verdict::PastKeeping),
            (nearly && !self.is_spent(), Verdict::NearlySpent),
        ];
        grounds.into_iter().filter(|(applies, _)| *applies).map(|(_, verdict)| verdict).collect()
    }
}

impl Verdict {
    /// The verdict in words.
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Discarded => "poured away",
            Verdict::ClearsTooSlowly => "clears in twice the fresh time",
            Verdict::PastKeeping => "past keeping",
            Verdict::NearlySpent => "nearly spent",
            Verdict::Spent | Verdict::Good => self.word(),
        }
    }
}

/// Two clearing times can always be compared if their temperatures are at most this far apart: 2 °C.
pub const APART_MAX: Difference = Difference { base: 2 * 9000 };

/// A clearing test (R11), and the clearing time in a fresh bath for comparison.
#[derive(Debug, Clone, Copy)]
pub struct Cleared<'a> {
    /// The test.
    pub test: &'a Arc<ClearingTest>,
    /// The film's clearing time in a fresh bath, if the film states it.
    pub fresh: Option<&'a Clearing>,
}

impl<'a> Cleared<'a> {
    fn of(test: &'a Arc<ClearingTest>) -> Cleared<'a> {
        Cleared { test, fresh: test.film.clearing_at(&test.bath.solution, &test.bath.dilution) }
    }

    /// Whether the test found the bath exhausted; `false` if its time cannot be compared with that of a fresh bath.
    pub fn has_doubled(self) -> bool {
        self.compared() == Some(true)
    }

    /// Whether clearing takes at least twice as long as in a fresh bath; `None` if the two times cannot be compared.
    pub fn compared(self) -> Option<bool> {
        Cleared::doubled((*self.test.time, self.test.at), self.fresh?)
    }

    /// Whether a clearing time is at least twice the time in a fresh bath, so that the tested bath is exhausted (US
    /// Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10). `None` if the test proves nothing.
    ///
    /// A warmer fixer clears faster. So a test that is more than 2 °C colder than the fresh bath can prove only that
    /// the tested bath is good. A test that is more than 2 °C warmer can prove only that it is exhausted (2 °C: common
    /// practice, no source).
    pub fn doubled((time, at): (Time, Temperature), fresh: &Clearing) -> Option<bool> {
        let has_doubled = time >= fresh.time.times(2);
        let is_colder = fresh.at.above(at) > APART_MAX;
        let is_warmer = at.above(fresh.at) > APART_MAX;
        (!(has_doubled && is_colder || !has_doubled && is_warmer)).then_some(has_doubled)
    }
}

/// The clearing tests of each bath, sorted by day, file and line. The keys are the spans of the baths.
type Tests<'a> = Map<Span, Vec<&'a Arc<ClearingTest>>>;

fn tests(darkroom: &Darkroom) -> Tests<'_> {
    let mut tests: Vec<&Arc<ClearingTest>> = darkroom.tests.iter().collect();
    tests.order_by_key(|test| (*test.date, test.span));
    let mut by_bath = Tests::new();
    tests.into_iter().for_each(|test| by_bath.value_of(test.bath.span).push(test));
    by_bath
}

fn newest<'a>(tests: &Tests<'a>, bath: &KeptBath, on: Date) -> Option<Cleared<'a>> {
    let tests = tests.get(&bath.span)?;
    let by_then = tests.partition_point(|test| *test.date <= on);
    tests.get(..by_then)?.last().copied().map(Cleared::of)
}

/// A use of a bath in a session.
#[derive(Debug, Clone)]
pub struct Usage<'a> {
    /// The state of the bath after the session.
    pub standing: Standing<'a>,
    /// Where the session names the bath.
    pub span: Span,
    /// The previous day on which a session used the bath, if any.
    pub before: Option<Date>,
}

impl Usage<'_> {
    /// Whether the newest clearing test of the bath was on this day or later, and found the bath not exhausted.
    pub fn was_tested_since(&self, day: Date) -> bool {
        self.standing
            .cleared
            .is_some_and(|cleared| day <= *cleared.test.date && cleared.compared() == Some(false))
    }
}

/// All uses of baths in sessions, sorted by day, file and line.
pub fn usages(darkroom: &Darkroom) -> Vec<Usage<'_>> {
    let mut sessions: Vec<&Arc<Session>> = darkroom.standing().collect();
    sessions.order_by_key(|session| (*session.date, session.span));
    let tests = tests(darkroom);
    let mut known: Map<Span, (i64, Option<Date>)> = Map::new();
    let mut all = Vec::new();
    for session in sessions {
        let on = *session.date;
        for UsedBath { bath, is_second, span, .. } in &session.baths {
            let (treated, before) = known.value_of(bath.span);
            let film = if *is_second { 0 } else { session.area() };
            *treated = treated.saturating_add(film);
            let standing = Standing::new(bath, on, *treated, newest(&tests, bath, on));
            all.push(Usage { standing, span: *span, before: before.replace(on) });
        }
    }
    all
}

/// The area of film that a bath has treated by the end of a day (R12). A roll has the area [`Format::ROLL`].
pub fn treated(darkroom: &Darkroom, bath: &Arc<KeptBath>, on: Date) -> i64 {
    let names_it = |session: &&Arc<Session>| {
        let counts = |used: &UsedBath| !used.is_second && Arc::ptr_eq(&used.bath, bath);
        *session.date <= on && session.baths.iter().any(counts)
    };
    darkroom.standing().filter(names_it).map(|session| session.area()).sum()
}

/// The session of each developed roll of a backlog. The keys are the labels of the rolls.
pub fn developed<'a>(darkroom: &'a Darkroom, backlog: &Arc<Backlog>) -> Map<&'a str, &'a Arc<Session>> {
    let of_it =
        |session: &&Arc<Session>| session.backlog.as_ref().is_some_and(|named| Arc::ptr_eq(named, backlog));
    let labels = |session: &'a Arc<Session>| {
        session.slots.iter().filter_map(move |slot| Some((slot.label.as_deref()?, session)))
    };
    darkroom.standing().filter(of_it).flat_map(labels).collect()
}

/// The session of each developed roll of a list. The keys are the labels of the rolls. No session names a list as its
/// backlog. So a roll of a list is developed if a session has its label, in its format, with its film, on its day of
/// exposure or later.
pub fn developed_of_list<'a>(shelf: &'a Shelf, list: &Backlog) -> Map<&'a str, &'a Arc<Session>> {
    let mut recipes: Map<&str, Vec<&Arc<Film>>> = Map::new();
    for recipe in &shelf.recipes {
        let film = recipe.film.as_ref().map(|film| &film.value);
        recipes.value_of(&recipe.name).extend(film);
    }
    let is_of_film = |session: &Session, roll: &Exposed| {
        let declared = session.backlog.as_ref().and_then(|backlog| backlog.roll(&roll.label));
        match declared {
            Some(declared) => Arc::ptr_eq(&declared.film, &roll.film),
            None => {
                let films = recipes.get(session.recipe.as_str()).map(Vec::as_slice).unwrap_or_default();
                films.iter().any(|film| Arc::ptr_eq(film, &roll.film))
            }
        }
    };
    let mut all = Map::new();
    for session in shelf.darkroom.standing() {
        for slot in &session.slots {
            let roll = slot.label.as_deref().and_then(|label| Some((label, list.roll(label)?)));
            let Some((label, roll)) = roll else { continue };
            let is_later = roll.shot.is_none_or(|shot| shot <= *session.date);
            if is_later && slot.format == roll.format && is_of_film(session, roll) {
                all.insert(label, session);
            }
        }
    }
    all
}

/// How much film a volume of a solution can treat (R13). Film is given as its area: a roll of 80 square inches has the
/// area [`Format::ROLL`]. Areas are compared with the capacity without rounding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Capacity {
    volume: Volume,
    rolls: u32,
    per: Volume,
    /// Where the solution states the capacity.
    pub span: Span,
}

impl Capacity {
    /// The capacity of a volume: the one stated for this dilution, or else the one for any dilution. `None` if neither
    /// is stated.
    pub fn of(solution: &Solution, dilution: &Dilution, volume: Volume) -> Option<Capacity> {
        let exact = solution.treats.iter().find(|treats| treats.at.as_ref() == Some(dilution));
        let treats = exact.or_else(|| solution.treats.iter().find(|treats| treats.at.is_none()))?;
        Some(Capacity { volume, rolls: treats.rolls, per: treats.per, span: treats.span })
    }

    /// Whether this area of film is within the capacity.
    pub fn holds(self, film: i64) -> bool {
        self.used_by(film) <= self.whole()
    }

    /// Whether this area of film uses up the capacity.
    pub fn is_used_up_by(self, film: i64) -> bool {
        self.used_by(film) >= self.whole()
    }

    /// Whether this area of film uses nine tenths of the capacity or more.
    pub fn is_nearly_used_up_by(self, film: i64) -> bool {
        self.used_by(film) * 10 >= self.whole() * 9
    }

    /// The capacity as an area, rounded down; a roll has the area [`Format::ROLL`].
    pub fn area(self) -> i64 {
        self.in_parts_of_a_roll(Format::ROLL)
    }

    /// The capacity in fractions of a roll, rounded down: if `parts` is 100, in hundredths of a roll.
    pub fn in_parts_of_a_roll(self, parts: i64) -> i64 {
        let rolls = i128::from(self.volume.fl) * i128::from(self.rolls);
        let all = rolls * i128::from(parts) / i128::from(self.per.fl.max(1));
        i64::try_from(all).unwrap_or(i64::MAX)
    }

    /// The smallest volume that can treat this area of film.
    pub fn enough_for(self, film: i64) -> Volume {
        let each = i128::from(self.rolls.max(1)) * i128::from(Format::ROLL);
        Volume { fl: i64::try_from(self.used_by(film) / each).unwrap_or(i64::MAX) }
    }

    /// This area of film times `per`, to compare with [`Capacity::whole`].
    fn used_by(self, film: i64) -> i128 {
        i128::from(film) * i128::from(self.per.fl)
    }

    /// The area of film that uses up the capacity, times `per`. The factor avoids a division, which would round the
    /// area.
    fn whole(self) -> i128 {
        i128::from(self.volume.fl) * i128::from(self.rolls) * i128::from(Format::ROLL)
    }
}
