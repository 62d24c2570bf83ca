//! Writes facts as a canonical text, from which the fingerprint is calculated. The reference describes the text, so
//! that another program can write it.

use std::borrow::Cow;

use super::agitation::{Amount, Knock, Pulse, Scheme};
use super::chart::Point;
use super::fact::{Fact, Key, Portion, Value};
use super::quantity::{Mass, Share, Temperature, Time, Volume, gcd};
use super::solution::{Dilution, Substance, Treats};
use super::step::{Band, Change, Clock, Duration, Sign};

/// The path and the value of a line of the canonical text, such as `bath.dilution` and `1+4`. The value may be empty.
type Entry = (Cow<'static, str>, String);

/// The facts as a canonical text. The first line is `work W`, with the letter of the fingerprint scheme. Each fact has
/// a line `PATH VALUE`, or `STEP PATH VALUE` for a fact of a step. The facts of the film come first, then those of the
/// steps in order, then those of the whole recipe; the lines of each group are sorted by bytes. A fact with its
/// default value has no line. So an old recipe, which lacks a newer statement, keeps its fingerprint.
pub(super) fn canonical(facts: &[Fact<'_>]) -> String {
    let mut lines: Vec<(usize, String)> = Vec::with_capacity(facts.len());
    for fact in facts.iter().filter(|fact| !fact.is_default()) {
        lines.extend(fact.entries().into_iter().map(|(path, value)| {
            let group = match fact.step {
                0 if path.starts_with("film") => 0,
                0 => usize::MAX,
                step => step,
            };
            let of = if fact.step > 0 { format!("{} ", fact.step) } else { String::new() };
            (group, format!("{of}{path} {value}\n"))
        }));
    }
    lines.sort_unstable();
    let lines = lines.iter().map(|(_, line)| line.as_str());
    std::iter::once("work W\n").chain(lines).collect()
}

impl Fact<'_> {
    fn is_default(&self) -> bool {
        match &self.value {
            Value::Dilution(dilution) => *dilution == Dilution::stock(),
            Value::Clock(clock) => *clock == Clock::FromPour,
            Value::Count(count) => self.key == Key::Bath && *count == 1,
            Value::Time(time) => self.key == Key::Inversion && *time == Scheme::INVERSION,
            _ => false,
        }
    }

    fn entries(&self) -> Vec<Entry> {
        let path = path(self.key);
        let one = |value: String| vec![(path.into(), value)];
        match &self.value {
            // These values occur only when two recipes are compared, and have no line in the canonical text.
            Value::Absent | Value::NotAtThisTemperature | Value::After(_) => Vec::new(),
            Value::Present if self.key == Key::LightSafe => one("room".into()),
            Value::Present => one("yes".into()),
            Value::Word(word) => one((*word).into()),
            Value::Name(name) => one((*name).into()),
            Value::Words(words) if self.key == Key::Lighting => one(format!("safelight {words}")),
            Value::Words(words) => one(words.to_string()),
            Value::Names(names) => one(names.join(", ")),
            Value::Count(count) => one(count.to_string()),
            Value::Time(time) => one(time.ms.to_string()),
            Value::Temperature(at) => one(degrees(*at)),
            Value::Volume(volume) => one(millilitres(*volume)),
            Value::Dilution(dilution) => one(dilution.to_string()),
            Value::Clears(time, at) => one(format!("{} at {}", time.ms, degrees(*at))),
            Value::Item(portion) => {
                vec![(format!("{path}.{}", portion.number()).into(), portion.said())]
            }
            Value::Treats(rows) => one(listed(rows.iter().map(treats))),
            Value::Extend(extend) => one(format!("{} {}", hundredths(extend.by), extend.per_rolls)),
            Value::Rate(factor, interval) => {
                let factor = ratio((*factor).into(), 1_000_000);
                one(format!("{factor} per {}", degrees(Temperature { base: *interval })))
            }
            Value::Plain(time, at) => {
                let at = at.iter().map(|at| ("time.at".into(), degrees(*at)));
                one(time.ms.to_string()).into_iter().chain(at).collect()
            }
            Value::Duration(duration) => duration.entries(),
            Value::Band(Band::Between(low, high)) => {
                vec![("between".into(), format!("{} {}", degrees(*low), degrees(*high)))]
            }
            Value::Band(Band::Within(by)) => vec![("within".into(), degrees(Temperature { base: by.base }))],
            Value::Pulse(pulse) => one(pulse.said()),
            Value::Knock(Knock::AfterEach) => one("each".into()),
            Value::Knock(Knock::Once) => one("once".into()),
            Value::Clock(clock) => one(clock.word().into()),
        }
    }
}

fn path(key: Key<'_>) -> &'static str {
    match key {
        Key::Material => "film.material",
        Key::BothSides => "film.coated-both-sides",
        Key::Step => "kind",
        Key::Solution => "bath.solution",
        Key::Dilution => "bath.dilution",
        Key::Part => "bath.part",
        Key::Bath => "bath.number",
        Key::Becomes => "bath.becomes",
        Key::Used => "bath.used",
        Key::Use => "bath.use",
        Key::Item(..) => "bath.formula",
        Key::With => "bath.with",
        Key::WithSolution => "bath.with.solution",
        Key::WithItem(_) => "bath.with.formula",
        Key::Needs => "bath.needs",
        Key::Extend => "bath.extend",
        Key::Replenish => "bath.replenish",
        Key::Replenisher => "bath.replenish.with",
        Key::ReplenisherItem(..) => "bath.replenish.formula",
        Key::Rate => "bath.rate",
        Key::OwnTemperature => "at",
        Key::Agitation => "agitate",
        Key::Motion => "agitate.by",
        Key::Inversion => "agitate.inversion",
        Key::Knock => "agitate.knock",
        Key::LightSafe | Key::Lighting => "light",
        Key::Light => "light.of-exposure",
        other => other.word(),
    }
}

impl Portion<'_> {
    /// The number of the formula line, such as `3`; if there are several bottles, after the number of the bottle, such
    /// as `2.3`.
    fn number(&self) -> String {
        match self.place {
            (0, line) => line.to_string(),
            (bottle, line) => format!("{bottle}.{line}"),
        }
    }

    /// The formula line as text, such as `sodium-sulfite.anhydrous 100`: the ingredient and its state, the amount in a
    /// litre, the strength and the temperature. A mass is in grams, without the unit. A volume is in millilitres, with
    /// the unit except for water.
    fn said(&self) -> String {
        let name = self.item.what.name();
        let state = self.item.state.iter().map(|state| format!(".{state}"));
        let (unit, above, below) = self.per_litre();
        let amount = match unit {
            "pg" => ratio(above, i128::from(below) * i128::from(Mass::G)),
            "fl" => {
                let unit = if self.item.what == Substance::Water { "" } else { " ml" };
                ratio(above, i128::from(below) * i128::from(Volume::ML)) + unit
            }
            _ => "to".into(),
        };
        let strength = self.item.strength.iter().map(|share| format!(" {}", hundredths(*share)));
        let at = self.item.at.iter().map(|at| format!(" {}", degrees(*at)));
        let before = std::iter::once(name.to_owned()).chain(state);
        before.chain(std::iter::once(format!(" {amount}"))).chain(strength).chain(at).collect()
    }
}

impl Duration {
    fn entries(&self) -> Vec<Entry> {
        let one = |path: &'static str, value: String| vec![(path.into(), value)];
        match self {
            Duration::Chart(chart) => {
                let point = |point: &Point| format!("{} at {}", point.time.ms, degrees(point.temperature));
                one("time", listed(chart.points().iter().map(point)))
            }
            // A step without a time has no fact about its time.
            Duration::Open => Vec::new(),
            Duration::Plain { time, .. } => one("time", time.ms.to_string()),
            Duration::Clearing { times, at_least, at_most } => {
                let times = one("time.clearing", times.to_string());
                times.into_iter().chain(bounds(*at_least, *at_most)).collect()
            }
            Duration::Sign(sign) => sign.entries(),
            Duration::EachSide(time) => one("time.each-side", time.ms.to_string()),
            Duration::Changes(changes) => {
                let change = |change: &Change| match change {
                    Change::Inversions(count) => format!("{count} inversions"),
                    Change::Soak(time) => time.ms.to_string(),
                };
                one("time.changes", listed(changes.iter().map(change)))
            }
            Duration::Flow { flow, time } => {
                vec![("time".into(), time.ms.to_string()), ("time.flow".into(), millilitres(flow.per_minute))]
            }
        }
    }
}

impl Sign {
    fn entries(&self) -> Vec<Entry> {
        let times = self.times.iter().map(|times| ("time.times".into(), times.to_string()));
        let look = self.look.iter().map(|look| ("time.look".into(), look.ms.to_string()));
        let flow = self.flow.iter().map(|flow| ("time.flow".into(), millilitres(flow.per_minute)));
        let sign = std::iter::once(("time.sign".into(), self.text.clone()));
        sign.chain(times).chain(bounds(self.at_least, Some(self.at_most))).chain(look).chain(flow).collect()
    }
}

fn bounds(least: Option<Time>, most: Option<Time>) -> impl Iterator<Item = Entry> {
    let least = least.map(|least| ("time.least".into(), least.ms.to_string()));
    let most = most.map(|most| ("time.most".into(), most.ms.to_string()));
    least.into_iter().chain(most)
}

impl Pulse {
    fn said(&self) -> String {
        match self {
            Pulse::None => "none".into(),
            Pulse::Continuous => "continuous".into(),
            Pulse::Rotary(speed) => format!("rotary {}", speed.rpm),
            Pulse::At { times, amount } => {
                format!("{} at {}", amount.said(), listed(times.iter().map(|time| time.ms.to_string())))
            }
            Pulse::Interval { first, then } => {
                let first = first.iter().map(|amount| format!("first {}", amount.said()));
                let then = then.iter().map(|(amount, every)| format!("{} every {}", amount.said(), every.ms));
                listed(first.chain(then))
            }
        }
    }
}

impl Amount {
    fn said(self) -> String {
        match self {
            Amount::For(time) => time.ms.to_string(),
            Amount::Inversions(count) => format!("{count} inversions"),
        }
    }
}

fn treats(row: &Treats) -> String {
    let at = row.at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default();
    format!("{} per {}{at}", row.rolls, millilitres(row.per))
}

fn listed(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join(", ")
}

fn degrees(at: Temperature) -> String {
    ratio(at.base.into(), Temperature::celsius_whole(1).base.into())
}

fn millilitres(volume: Volume) -> String {
    ratio(volume.fl.into(), Volume::ML.into())
}

/// A percentage as a fraction: `10/100` for 10 %.
fn hundredths(share: Share) -> String {
    ratio(share.basis_points.into(), 100) + "/100"
}

/// `above / below` as a decimal number, such as `1.5`; as a fraction in lowest terms, such as `1/3`, if the decimals
/// would not end.
fn ratio(above: i128, below: i128) -> String {
    let shared = gcd(above, below).abs().max(1);
    let (above, below) = (above / shared, (below / shared).max(1));
    let mut other = below;
    for factor in [2, 5] {
        while other % factor == 0 {
            other /= factor;
        }
    }
    if other != 1 {
        return format!("{above}/{below}");
    }
    let mut out = format!("{}{}", if above < 0 { "-" } else { "" }, (above / below).abs());
    let mut rest = (above % below).abs();
    if rest > 0 {
        out.push('.');
    }
    while rest > 0 {
        rest *= 10;
        out += &(rest / below).to_string();
        rest %= below;
    }
    out
}
