//! Random recipes as numbers. Each is sound and compiles, and can be written in either scale of temperature and in
//! millilitres or litres.

use proptest::prelude::*;
use wetside::compile::Tonight;
use wetside::model::{Format, Temperature};

use super::scheme::{Scheme, scheme};
use crate::kitchen::evening;

/// A recipe, its tank and its evening.
#[derive(Debug, Clone)]
pub(super) struct Draft {
    /// Tenths of a degree Celsius and seconds; each point warmer and shorter than the one before.
    pub(super) chart: Vec<(i64, i64)>,
    /// The evening's temperatures, in hundredths of the chart's range.
    begins: i64,
    ends: Option<i64>,
    /// Seconds.
    fill: u32,
    drain: u32,
    handling: Option<u32>,
    /// Millilitres.
    each: i64,
    needs: i64,
    rolls: u32,
    /// Of the developer; water last.
    dilution: Vec<u32>,
    schemes: Vec<Scheme>,
    /// For developer, stop and fixer.
    from_full: Vec<bool>,
    fixing: Fixing,
    wash: Wash,
    presoak: bool,
    dry: bool,
}

#[derive(Debug, Clone)]
enum Fixing {
    Plain(u32),
    Clearing { clears: u32, times: u32, floor: Option<u32> },
}

#[derive(Debug, Clone)]
enum Wash {
    Fills(Vec<u32>),
    Soak(u32, u32),
    Flow(u32, u32),
}

/// The units in which a recipe is written.
#[derive(Debug, Clone, Copy)]
pub(super) struct Units {
    pub(super) fahrenheit: bool,
    pub(super) litres: bool,
}

/// Celsius and millilitres.
pub(super) const METRIC: Units = Units { fahrenheit: false, litres: false };

impl Units {
    /// Tenths of a degree Celsius.
    fn degrees(self, tenths: i64) -> String {
        if self.fahrenheit {
            let hundredths = tenths * 18 + 3200;
            format!("{}.{:02} F", hundredths / 100, hundredths % 100)
        } else {
            format!("{}.{} C", tenths / 10, tenths % 10)
        }
    }

    fn volume(self, ml: i64) -> String {
        if self.litres { format!("{}.{:03} l", ml / 1000, ml % 1000) } else { format!("{ml} ml") }
    }
}

impl Draft {
    /// The lines of the chart.
    fn points(&self, units: Units) -> String {
        let line = |(tenths, seconds): &(i64, i64)| {
            format!("            {}   {}:{:02}\n", units.degrees(*tenths), seconds / 60, seconds % 60)
        };
        self.chart.iter().map(line).collect()
    }

    fn dilution(&self) -> String {
        let parts: Vec<String> = self.dilution.iter().map(u32::to_string).collect();
        parts.join("+")
    }

    /// The lines of a step's clock and agitation.
    fn moved(&self, step: usize) -> String {
        let scheme = self.schemes.get(step).unwrap().words();
        let clock = if *self.from_full.get(step).unwrap() { "full" } else { "pour" };
        format!("        agitate   {scheme}\n        clock     from {clock}\n")
    }

    fn shelf(&self, units: Units) -> String {
        let clears = match &self.fixing {
            Fixing::Plain(_) => String::new(),
            Fixing::Clearing { clears, .. } => {
                format!("    clears    {clears} s in fixer 1+4 at {}\n", units.degrees(200))
            }
        };
        format!(
            "wetside 1\n\nfilm estuary-400 \"Estuary 400\" {{\n    speed     ISO 400\n{clears}}}\n\n\
             solution developer \"A developer\" {{\n    role      developer\n    needs     {} per roll\n}}\n\n\
             solution fixer {{\n    role      fixer\n    contains  ammonium-thiosulfate\n}}\n\n\
             tank tall {{\n    reels     120 x {}, {} each\n    fill      {} s\n    drain     {} s\n}}\n\n",
            units.volume(self.needs),
            self.rolls,
            units.volume(self.each),
            self.fill,
            self.drain,
        )
    }

    fn steps(&self, units: Units) -> String {
        let handling = self.handling.map_or(String::new(), |time| format!("        handling  {time} s\n"));
        let presoak = "    presoak {\n        time      90 s\n    }\n";
        let fixing = match &self.fixing {
            Fixing::Plain(time) => format!("{time} s"),
            Fixing::Clearing { times, floor, .. } => {
                let floor = floor.map_or(String::new(), |floor| format!(", at least {floor} s"));
                format!("{times} x clearing{floor}")
            }
        };
        let wash = match &self.wash {
            Wash::Fills(counts) => {
                let counts: Vec<String> = counts.iter().map(u32::to_string).collect();
                format!("fills     {} inversions", counts.join(", "))
            }
            Wash::Soak(time, count) => format!("soak      {time} s x {count}"),
            Wash::Flow(rate, time) => format!("flow      {rate} l/min\n        time      {time} s"),
        };
        format!(
            "{}    develop {{\n        in        developer {}, one-shot\n        chart {{\n{}        }}\n{handling}{}    }}\n    \
             stop {{\n        in        water\n        time      75 s\n{}    }}\n    \
             fix {{\n        in        fixer 1+4, reused\n        time      {fixing}\n{}    }}\n    \
             wash {{\n        {wash}\n        light     safe\n    }}\n{}",
            if self.presoak { presoak } else { "" },
            self.dilution(),
            self.points(units),
            self.moved(0),
            self.moved(1),
            self.moved(2),
            if self.dry { "    dry {\n        time      3 h\n    }\n" } else { "" },
        )
    }

    /// The recipe as text.
    pub(super) fn text(&self, units: Units) -> String {
        format!("{}{}", self.shelf(units), self.recipe(units))
    }

    /// The same as two texts: the second imports the first.
    pub(super) fn two_texts(&self) -> (String, String) {
        (self.shelf(METRIC), format!("wetside 1\n\nuse \"shelf.wet\"\n\n{}", self.recipe(METRIC)))
    }

    fn recipe(&self, units: Units) -> String {
        format!(
            "recipe evening \"An evening\" {{\n    film      estuary-400\n    index     400\n    between   {} and {}\n\n{}}}\n",
            units.degrees(150),
            units.degrees(300),
            self.steps(units),
        )
    }

    /// The temperature at these hundredths of the chart's range.
    fn along(&self, hundredths: i64) -> Temperature {
        let (cold, _) = self.chart.first().unwrap();
        let (warm, _) = self.chart.last().unwrap();
        // A tenth of a degree is 900 of the base unit.
        Temperature { base: cold * 900 + (warm - cold) * 9 * hundredths }
    }

    /// The evening.
    pub(super) fn evening(&self) -> Tonight {
        let mut conditions = evening(self.along(self.begins), &[(self.rolls, Format::F120)]);
        conditions.ending = self.ends.map(|ends| self.along(ends));
        conditions
    }
}

/// A chart of two points or more from 18 °C to 28 °C, coldest first, of more than 70 s each.
pub(super) fn chart() -> impl Strategy<Value = Vec<(i64, i64)>> {
    let falls = prop::collection::vec((1_i64..20, 1_i64..200), 1..6);
    (180_i64..185, 71_i64..600, falls).prop_map(|(coldest, shortest, falls)| {
        let mut seconds = shortest + falls.iter().map(|(_, fall)| fall).sum::<i64>();
        let mut points = vec![(coldest, seconds)];
        let mut tenths = coldest;
        for (rise, fall) in falls {
            tenths += rise;
            seconds -= fall;
            points.push((tenths, seconds));
        }
        points
    })
}

fn fixing() -> impl Strategy<Value = Fixing> {
    // Filling and draining take up to 70 s, and the film must be clear before the wash states light.
    let clearing = (80_u32..200, 2_u32..4, prop::option::of(100_u32..500));
    prop_oneof![
        (260_u32..900).prop_map(Fixing::Plain),
        clearing.prop_map(|(clears, times, floor)| Fixing::Clearing { clears, times, floor }),
    ]
}

fn wash() -> impl Strategy<Value = Wash> {
    prop_oneof![
        prop::collection::vec(1_u32..30, 1..5).prop_map(Wash::Fills),
        (1_u32..400, 1_u32..8).prop_map(|(time, count)| Wash::Soak(time, count)),
        (1_u32..10, 75_u32..2000).prop_map(|(rate, time)| Wash::Flow(rate, time)),
    ]
}

/// Any recipe that is sound and compiles for its evening.
pub(super) fn draft() -> impl Strategy<Value = Draft> {
    let evening = (0_i64..=100, prop::option::of(0_i64..=100));
    let tank = (0_u32..35, 0_u32..35, prop::option::of(1_u32..300), 1_u32..9);
    let bath = (100_i64..600, 1_i64..300, (1_u32..4, 1_u32..50).prop_map(|(part, water)| vec![part, water]));
    let moved = (prop::collection::vec(scheme(700), 3), prop::collection::vec(any::<bool>(), 3));
    (chart(), evening, tank, bath, moved, (fixing(), wash(), any::<bool>(), any::<bool>())).prop_map(
        |(chart, (begins, ends), (fill, drain, handling, rolls), (each, needs, dilution), moved, tail)| {
            let ((schemes, from_full), (fixing, wash, presoak, dry)) = (moved, tail);
            Draft {
                chart,
                begins,
                ends,
                fill,
                drain,
                handling,
                each,
                needs,
                rolls,
                dilution,
                schemes,
                from_full,
                fixing,
                wash,
                presoak,
                dry,
            }
        },
    )
}
