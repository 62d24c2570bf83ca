//! The hazard statements of a mixture, by Annex I of Regulation (EC) 1272/2008 (CLP). Fire hazards and corrosion of
//! metals are tested, not calculated: such a statement comes only from a substance's own limit.
//!
//! Sources: Annex I 1.1.2.2, 3.1.3, 3.2.3.1 to 3.2.3.3 and 4.1.3 with their tables, in its consolidated text and in a
//! published copy of its rows; the same limits in Canada's SOR/2015-17, parts 7 and 8. From memory of guidance on the
//! Regulation: a substance with its own limit counts in a sum as share / limit; an extreme pH counts for the eye too.

use std::borrow::Cow;

use super::entry::{Entry, Route};
use super::hazard::*;
use super::own_ingredient::OwnIngredient;
use super::percent::{Percent, div_up};

/// The name of an ingredient, from the table of ingredients or from a file that declares the ingredient.
pub type Name = Cow<'static, str>;

/// An ingredient of a mixture, and its share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Portion {
    /// The ingredient's name, for labels that name sensitisers.
    pub name: Name,
    /// The classification of the pure ingredient.
    pub entry: Entry,
    /// The hazard statements that a file declares for the ingredient, in addition to those of `entry`.
    pub declared: Vec<&'static Hazard>,
    /// The ingredient's share of the mass.
    pub share: Percent,
    /// The pH of the ingredient itself in thousandths, if stated.
    pub ph: Option<i64>,
    /// Whether the ingredient's classification was written without looking up a source.
    pub from_memory: bool,
}

impl Portion {
    /// An ingredient of which no pH is stated.
    pub fn new(name: &'static str, entry: Entry, share: Percent) -> Portion {
        let name = Cow::Borrowed(name);
        Portion { name, entry, declared: Vec::new(), share, ph: None, from_memory: false }
    }

    /// The portion of an ingredient that a file declares.
    pub fn declared(own: &OwnIngredient, share: Percent) -> Portion {
        let declared = own.hazards.clone().unwrap_or_default();
        let name = Cow::Owned(own.name.clone());
        Portion { name, declared, ..Portion::new("", own.entry(), share) }
    }

    fn has(&self, hazard: &Hazard) -> bool {
        self.entry.has(hazard) || self.declared.contains(&hazard)
    }

    /// Whether the share is at least this many thousandths of a percent.
    fn reaches(&self, limit: u32) -> bool {
        self.share >= Percent::thousandths(limit)
    }

    /// The substance's own limit for a statement, in thousandths of a percent, if it has one.
    fn own(&self, hazard: &Hazard) -> Option<u32> {
        self.entry.limits.iter().find(|(of, _)| *of == hazard).map(|(_, limit)| *limit)
    }

    /// The share divided by a limit, as a fixed-point number in which `FULL` stands for 1; 0 if the share is below
    /// `cut_off`. Limit and cut-off are in thousandths of a percent.
    fn part_of(&self, limit: u32, cut_off: u32) -> i128 {
        let whole = Percent::thousandths(limit.max(1)).0;
        if self.reaches(cut_off) { div_up(self.share.0 * FULL, whole) } else { 0 }
    }

    /// The least share that counts in the sums for skin and eyes, in thousandths of a percent: 1 %, or the substance's
    /// own limit for one of these statements, if lower (CLP, Annex I, 1.1.2.2.2).
    fn cut_off(&self, of: &[&Hazard]) -> u32 {
        of.iter().filter_map(|hazard| self.own(hazard)).chain([1_000]).min().unwrap_or(1_000)
    }

    /// The share, in thousandths of a percent, from which a sensitiser causes the statement: its own limit, that of
    /// sub-category 1A, or the usual one. `None` if it lacks the statement.
    fn sensitiser_limit(&self, hazard: &'static Hazard) -> Option<u32> {
        let usual = if self.entry.marked.contains(&hazard) { 100 } else { 1_000 };
        self.has(hazard).then(|| self.own(hazard).unwrap_or(usual))
    }
}

/// The value of `part_of`, or of a sum of its values, at which a limit is reached.
const FULL: i128 = 1_000_000_000;

/// A mixture, such as the liquid in a bottle or a bath.
#[derive(Debug, Clone, Default)]
pub struct Mixture {
    /// The ingredients of known share.
    pub portions: Vec<Portion>,
    /// The share of ingredients of at least 1 % each whose toxicity is unknown.
    pub unknown: Percent,
    /// The pH of the mixture in thousandths, if stated.
    pub ph: Option<i64>,
}

/// The classification of a mixture.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Class {
    /// The hazard statements in the order of `HAZARDS`. No statement includes another.
    pub hazards: Vec<&'static Hazard>,
    /// The statements in `hazards` that rest on a classification for which no source was looked up.
    pub from_memory: Vec<&'static Hazard>,
    /// All sensitisers of which there is too little for a hazard statement, also those that a label need not name.
    pub sensitisers: Vec<Name>,
    /// Sensitisers of which there is too little for a hazard statement, but enough to be named on the label (EUH208).
    pub named: Vec<Name>,
    /// The mixture's flammable liquids. Whether the mixture is flammable depends on its flash point, which is unknown.
    pub burning: Vec<Name>,
    /// The share of ingredients whose toxicity is unknown, if it is over 10 %.
    pub unknown: Option<Percent>,
}

/// The statements that one ingredient causes alone. A row has the ingredient's statement, the mixture's statement, and
/// the least share in thousandths of a percent.
const ALONE: &[(&Hazard, &Hazard, u32)] = &[
    (H340, H340, 100),
    (H341, H341, 1_000),
    (H350, H350, 100),
    (H351, H351, 1_000),
    (H361d, H361d, 3_000),
    (H361f, H361f, 3_000),
    (H370, H370, 10_000),
    (H370, H371, 1_000),
    (H371, H371, 10_000),
    (H372, H372, 10_000),
    (H372, H373, 1_000),
    (H373, H373, 10_000),
    // The Regulation has no limit for EUH031 and EUH032; 1 % is this program's choice.
    (EUH031, EUH031, 1_000),
    (EUH032, EUH032, 1_000),
];

/// The statements of acute toxicity. A row has the routes, and the statements of categories 1, 2, 3 and 4.
const ACUTE: &[(&[Route], [&Hazard; 4])] = &[
    (&[Route::Oral], [H300, H300, H301, H302]),
    (&[Route::Dermal], [H310, H310, H311, H312]),
    (&[Route::Gas, Route::Vapour, Route::Mist], [H330, H330, H331, H332]),
];

impl Route {
    /// The highest toxicity estimates of categories 1 to 4, in thousandths of the route's unit (CLP, Annex I, Table
    /// 3.1.1).
    fn bands(self) -> [u32; 4] {
        match self {
            Route::Oral => [5_000, 50_000, 300_000, 2_000_000],
            Route::Dermal => [50_000, 200_000, 1_000_000, 2_000_000],
            Route::Gas => [100_000, 500_000, 2_500_000, 20_000_000],
            Route::Vapour => [500, 2_000, 10_000, 20_000],
            Route::Mist => [50, 500, 1_000, 5_000],
        }
    }

    /// The toxicity estimates for categories 1 to 4, in thousandths of the route's unit, if an ingredient has no
    /// estimate of its own (CLP, Annex I, Table 3.1.2).
    fn estimates(self) -> [u32; 4] {
        match self {
            Route::Oral => [500, 5_000, 100_000, 500_000],
            Route::Dermal => [5_000, 50_000, 300_000, 1_100_000],
            Route::Gas => [10_000, 100_000, 700_000, 4_500_000],
            Route::Vapour => [50, 500, 3_000, 11_000],
            Route::Mist => [5, 50, 500, 1_500],
        }
    }
}

/// Whether a pH in thousandths counts as corrosive (CLP, Annex I, 3.2.3.1.2).
pub fn is_extreme(ph: i64) -> bool {
    ph <= 2_000 || 11_500 <= ph
}

impl Mixture {
    /// The classification of the mixture.
    pub fn class(&self) -> Class {
        let hazards = self.statements();
        let mut from_memory = Vec::new();
        if self.portions.iter().any(|portion| portion.from_memory) {
            let mut known = self.clone();
            known.portions.retain(|portion| !portion.from_memory);
            let read = known.statements();
            from_memory.extend(hazards.iter().filter(|hazard| !read.contains(hazard)));
        }
        let burns = |one: &&Portion| {
            let limit = one.own(H226).unwrap_or(BURNS);
            (one.has(H225) || one.has(H226)) && one.reaches(limit)
        };
        Class {
            from_memory,
            hazards,
            sensitisers: self.unstated().map(|one| one.name.clone()).collect(),
            named: self.named(),
            burning: self.portions.iter().filter(burns).map(|one| one.name.clone()).collect(),
            unknown: (self.unknown > UNKNOWN).then_some(self.unknown),
        }
    }

    /// The hazard statements of the mixture, without those that another one includes.
    fn statements(&self) -> Vec<&'static Hazard> {
        let mut found = Vec::new();
        self.skin(&mut found);
        self.eye(&mut found);
        self.alone(&mut found);
        self.acute(&mut found);
        self.airways(&mut found);
        self.waters(&mut found);
        if !self.named().is_empty() && !found.contains(&H317) && !found.contains(&H334) {
            found.push(EUH208);
        }
        let said = |hazard: &&Hazard| {
            SAID_BY.iter().any(|(graver, lesser)| found.contains(graver) && lesser.contains(hazard))
        };
        HAZARDS.iter().filter(|hazard| found.contains(hazard) && !said(hazard)).copied().collect()
    }

    /// Adds `hazard` to `found` if the values of `part` for all ingredients add up to [`FULL`] or more.
    fn sum(
        &self,
        found: &mut Vec<&'static Hazard>,
        hazard: &'static Hazard,
        part: impl Fn(&Portion) -> i128,
    ) {
        if self.portions.iter().map(part).sum::<i128>() >= FULL {
            found.push(hazard);
        }
    }

    /// Adds burns and irritation of the skin (CLP, Annex I, Tables 3.2.3 and 3.2.4, and the pH).
    fn skin(&self, found: &mut Vec<&'static Hazard>) {
        let cut_off = |one: &Portion| one.cut_off(&[H314, H315]);
        self.sum(found, H314, |one| match one.has(H314) {
            true => one.part_of(one.own(H314).unwrap_or(5_000), cut_off(one)),
            false => 0,
        });
        self.sum(found, H315, |one| match (one.has(H314), one.has(H315)) {
            (true, _) => one.part_of(one.own(H315).unwrap_or(1_000), cut_off(one)),
            (false, true) => one.part_of(one.own(H315).unwrap_or(10_000), cut_off(one)),
            _ => 0,
        });
        let of_itself = |one: &Portion| one.ph.is_some_and(is_extreme) && one.reaches(1_000);
        if self.ph.is_some_and(is_extreme) || self.portions.iter().any(of_itself) {
            found.push(H314);
        }
    }

    /// Adds damage and irritation of the eye (CLP, Annex I, Table 3.3.3). A substance that burns skin damages eyes.
    fn eye(&self, found: &mut Vec<&'static Hazard>) {
        let cut_off = |one: &Portion| one.cut_off(&[H314, H318, H319]);
        let damages = |one: &Portion| one.has(H314) || one.has(H318);
        self.sum(found, H318, |one| {
            // If a substance has its own limit for eye irritation (H319), eye damage (H318) begins at its limit for
            // skin burns (H314).
            let burns = one.own(H319).and_then(|_| one.own(H314));
            let limit = one.own(H318).or(burns).unwrap_or(3_000);
            if damages(one) { one.part_of(limit, cut_off(one)) } else { 0 }
        });
        self.sum(found, H319, |one| match (damages(one), one.has(H319)) {
            (true, _) => one.part_of(one.own(H319).unwrap_or(1_000), cut_off(one)),
            (false, true) => one.part_of(one.own(H319).unwrap_or(10_000), cut_off(one)),
            _ => 0,
        });
    }

    /// Adds the statements that one ingredient causes alone. The shares of borates are added, as if they were one
    /// ingredient.
    fn alone(&self, found: &mut Vec<&'static Hazard>) {
        for one in &self.portions {
            let caused = ALONE.iter().filter(|(has, causes, usual)| {
                one.has(has) && one.reaches(one.own(causes).unwrap_or(*usual))
            });
            found.extend(caused.map(|(_, causes, _)| *causes));
            let sensitises = |hazard: &&'static Hazard| {
                one.sensitiser_limit(hazard).is_some_and(|limit| one.reaches(limit))
            };
            found.extend([H334, H317].iter().filter(|hazard| sensitises(hazard)));
            let feeds_fire =
                |hazard: &&'static Hazard| one.own(hazard).is_some_and(|limit| one.reaches(limit));
            found.extend([H271, H272].iter().filter(|hazard| feeds_fire(hazard)));
            let harms = one.has(H360FD) && !one.entry.is_borate && one.reaches(300);
            found.extend(harms.then_some(H360FD));
        }
        self.sum(found, H360FD, |one| if one.entry.is_borate { one.part_of(300, 0) } else { 0 });
    }

    /// Adds acute toxicity (CLP, Annex I, 3.1.3.6). Gas, vapour and mist have separate limits for each category.
    fn acute(&self, found: &mut Vec<&'static Hazard>) {
        let counted =
            if self.unknown > UNKNOWN { Percent::WHOLE.0 - self.unknown.0 } else { Percent::WHOLE.0 };
        for (routes, hazards) in ACUTE {
            let reached = |category: usize| {
                let parts = self.portions.iter().filter_map(|one| one.toxic(routes, *hazards, category));
                parts.sum::<i128>() >= counted
            };
            found.extend(
                (0..4).find(|category| reached(*category)).and_then(|category| hazards.get(category)),
            );
        }
    }

    /// Adds irritation of the airways and drowsiness, for each of which shares are added (CLP, Annex I, 3.8.3.4), and
    /// burns of the airways.
    fn airways(&self, found: &mut Vec<&'static Hazard>) {
        for hazard in [H335, H336] {
            self.sum(found, hazard, |one| match (one.own(hazard), one.has(hazard)) {
                (Some(limit), _) => one.part_of(limit, limit.min(1_000)),
                (None, true) => one.part_of(20_000, 1_000),
                (None, false) => 0,
            });
        }
        let burns = self.portions.iter().any(|one| one.has(EUH071) && one.reaches(1_000));
        if burns && [H314, H330, H331].iter().any(|graver| found.contains(graver)) {
            found.push(EUH071);
        }
    }

    /// Adds the hazards to waters (CLP, Annex I, 4.1.3.5). The sums are in the unit of `share`.
    fn waters(&self, found: &mut Vec<&'static Hazard>) {
        let of = |has: &[&Hazard], m: fn(&Entry) -> u32, cut_off: u32| -> (i128, i128) {
            let toxic = self.portions.iter().filter(|one| has.iter().any(|hazard| one.has(hazard)));
            let shares = toxic.map(|one| (one.share.0 * i128::from(m(&one.entry)), one.share.0));
            let counted = shares.filter(|(weighed, _)| *weighed >= Percent::thousandths(cut_off).0);
            counted.fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
        };
        let limit = Percent::thousandths(25_000).0;
        if of(&[H400, H410], |entry| entry.m.0, 100).0 >= limit {
            found.push(H400);
        }
        let (first, unweighed) = of(&[H410], |entry| entry.m.1, 100);
        let [second, third, fourth] = [H411, H412, H413].map(|hazard| of(&[hazard], |_| 1, 1_000).0);
        if first >= limit {
            found.push(H410);
        } else if 10 * first + second >= limit {
            found.push(H411);
        } else if 100 * first + 10 * second + third >= limit {
            found.push(H412);
        } else if unweighed + second + third + fourth >= limit {
            found.push(H413);
        }
    }

    fn unstated(&self) -> impl Iterator<Item = &Portion> {
        let is_less = |one: &&Portion| {
            let mut limits = [H317, H334].into_iter().filter_map(|hazard| one.sensitiser_limit(hazard));
            let least = limits.by_ref().min();
            least.is_some_and(|limit| !one.reaches(limit))
        };
        self.portions.iter().filter(is_less)
    }

    /// The sensitisers that a label names (CLP, Annex II, 2.8). A sensitiser with its own limit below 0.1 % is named
    /// from a tenth of that limit; no source was looked up for this rule.
    fn named(&self) -> Vec<Name> {
        let is_named = |one: &&Portion| {
            [H317, H334].iter().any(|hazard| {
                let Some(limit) = one.sensitiser_limit(hazard) else { return false };
                let least = match one.own(hazard) {
                    Some(own) if own < 100 => own.div_ceil(10),
                    _ if one.entry.marked.contains(hazard) => 10,
                    _ => 100,
                };
                one.reaches(least) && !one.reaches(limit)
            })
        };
        self.portions.iter().filter(is_named).map(|one| one.name.clone()).collect()
    }
}

impl Portion {
    /// What the ingredient adds to the sum for a category of acute toxicity by these routes; `category` is 0 for
    /// category 1, and 3 for category 4. `None` if the ingredient is not toxic by these routes, or its share is too
    /// small (below 0.1 % if the ingredient itself is in categories 1 to 3, else below 1 %).
    fn toxic(&self, routes: &[Route], hazards: [&Hazard; 4], category: usize) -> Option<i128> {
        let given = self.entry.ates.iter().find(|(route, _)| routes.contains(route));
        let route = match (given, routes) {
            (Some((route, _)), _) => *route,
            (None, [only]) => *only,
            (None, _) => self.entry.breathed,
        };
        // Categories 1 and 2 have the same statement. In `marked`, the statement is of category 2; else of category 1.
        let own = (0..4).rev().find(|at| {
            let is_second = hazards.get(1).is_some_and(|hazard| self.entry.marked.contains(hazard));
            hazards.get(*at).is_some_and(|hazard| self.has(hazard)) && (*at != 1 || is_second)
        });
        let estimate = match (given, own) {
            (Some((_, estimate)), _) => *estimate,
            (None, own) => *route.estimates().get(own?)?,
        };
        let cut_off = if own.is_some_and(|own| own < 3) { 100 } else { 1_000 };
        let band = *route.bands().get(category)?;
        self.reaches(cut_off).then(|| div_up(self.share.0 * i128::from(band), i128::from(estimate.max(1))))
    }
}

/// If the toxicity of more than this share is unknown, only the rest of the mixture counts in the sum (CLP, Annex
/// I, 3.1.3.6.2.3).
const UNKNOWN: Percent = Percent::thousandths(10_000);
/// From this share, in thousandths of a percent, an alcohol in water may flash below 60 °C. Ethanol of 5 % by volume
/// flashes at 62 °C (no source looked up).
const BURNS: u32 = 5_000;
