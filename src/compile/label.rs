//! The label of a bottle: what it is, how long it keeps, what it can do, what must never meet it, and where it goes.

use super::apart;
use super::caution::form;
use super::evening::Personal;
use super::words;
use crate::chemistry::{Concern, Form, Held, Name, Percent, RULES_USED, Signal, on_label, pictograms};
use crate::journal::{Capacity, Standing};
use crate::model::{
    Date, Dilution, Format, Keeps, KeepsFor, KeptBath, Mixed, Role, Solution, Volume, decimal,
};

/// The label of a bottle. The fields are in the order of its lines.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Label {
    /// What is in the bottle, in capitals: `MQ BORAX, stock`.
    pub title: String,
    /// The volume, and for a stock solution also a blank for how to use it.
    pub facts: Vec<String>,
    /// The signal word and the codes of the pictograms: `DANGER GHS05`; empty if there are none.
    pub signal: String,
    /// When the bottle was mixed, and until when it is good.
    pub dates: String,
    /// Each ingredient with its share of the mass, in the order of the formula.
    pub contents: Vec<String>,
    /// The hazard statements, and sentences about what is not known.
    pub statements: Vec<String>,
    /// The regulation that the statements follow; `None` if no ingredient is known.
    pub rules: Option<String>,
    /// How to handle the bottle, and the cautions of the solution.
    pub handling: Vec<String>,
    /// How to store the bottle, what must never be mixed with its contents, and its waste can.
    pub keeping: Vec<String>,
    /// A box to tick for each roll; `true` if the bottle has treated the roll.
    pub rolls: Vec<bool>,
    /// The number of rolls treated and the capacity in words, if there are too many rolls for boxes.
    pub counted: Option<String>,
    /// The name of the bottle; for a bottle without a name, the name of the solution and a blank.
    pub number: String,
    /// Whether the bottle holds more than 3 l, and so needs the larger label.
    pub is_large: bool,
}

const BLANK: &str = "________";
/// A label has `BOXES` boxes for rolls if the capacity is not known, and never more than `BOXES_MAX`. Common practice,
/// no source.
const BOXES: usize = 8;
const BOXES_MAX: i64 = 16;
/// The largest volume for which a label of 52 mm by 74 mm is enough; a label for a larger volume needs 74 mm by 105 mm
/// (Regulation (EC) 1272/2008, Annex I, table 1.3; not looked up).
const LARGE: Volume = Volume::from_ml(3000);

struct Bottled<'a> {
    solution: &'a Solution,
    /// If the solution has several parts, such as `a` and `b`, the name of the only part in this bottle; `None` if it
    /// holds all of them.
    part: Option<&'a str>,
    dilution: &'a Dilution,
    volume: Volume,
    mixed: Date,
    /// The declared bottle, with the film that it has treated; `None` for a bottle that is about to be mixed.
    kept: Option<&'a Standing<'a>>,
}

impl Label {
    /// The label of a declared bottle.
    pub fn of_bath(standing: &Standing<'_>, personal: &Personal) -> Label {
        let KeptBath { solution, part, dilution, volume, mixed, .. } = &**standing.bath;
        let (part, volume, mixed) = (part.as_deref(), volume.value, mixed.value);
        Bottled { solution, part, dilution, volume, mixed, kept: Some(standing) }.label(personal)
    }

    /// The label of a bottle that is mixed on the day `mixed`. `part` is the only part in the bottle, such as `a`;
    /// `None` if the bottle holds all parts.
    pub fn of_mixed(
        solution: &Solution,
        part: Option<&str>,
        dilution: &Dilution,
        (volume, mixed): (Volume, Date),
        personal: &Personal,
    ) -> Label {
        Bottled { solution, part, dilution, volume, mixed, kept: None }.label(personal)
    }
}

impl Bottled<'_> {
    fn label(&self, personal: &Personal) -> Label {
        let name = &self.solution.name;
        let mixed = self.solution.mixed_at(self.part, self.dilution);
        let form = form(name.clone(), &mixed);
        let is_stock = self.dilution.water == 0 && self.dilution.parts.len() == 1;
        let strength = match (self.part, is_stock) {
            (Some(part), true) => part.to_owned(),
            (Some(part), false) => format!("{part} {}", self.dilution),
            (None, _) => self.dilution.to_string(),
        };
        let blank = format!("use {BLANK}");
        let (rolls, counted) = self.rolls();
        Label {
            title: format!("{}, {strength}", self.solution.title.to_uppercase()),
            facts: [words::volume(self.volume)].into_iter().chain(is_stock.then_some(blank)).collect(),
            signal: form.as_ref().map(signal).unwrap_or_default(),
            dates: self.dates(),
            contents: contents(&mixed),
            statements: form.as_ref().map_or_else(|| vec![NOT_KNOWN.to_owned()], statements),
            rules: form.as_ref().map(|_| sentence(RULES_USED, "")),
            handling: self.handling(form.as_ref()),
            keeping: self.keeping(form.as_ref(), personal),
            rolls,
            counted,
            number: match self.kept.map(|standing| standing.bath) {
                Some(bath) if bath.title == bath.name => bath.name.clone(),
                Some(bath) => format!("{}, {}", bath.name, bath.title),
                None => format!("{name}-{BLANK}"),
            },
            is_large: LARGE < self.volume,
        }
    }

    /// The line of dates, such as `mixed 2026-11-02, until 2027-05-02 full; half full until 2027-01-02`.
    fn dates(&self) -> String {
        let until = |keeps: &Keeps| match keeps.time {
            KeepsFor::Calendar(keeping) => format!("until {}", self.mixed.keeps_until(keeping)),
            KeepsFor::Clock(_) => format!("keeps {}", keeps.time),
        };
        let half_full = || {
            let mut half = self.solution.keeps.iter().filter(|keeps| keeps.half_full);
            let own = half.clone().find(|keeps| keeps.at.as_ref() == Some(self.dilution));
            own.or_else(|| half.find(|keeps| keeps.at.is_none()))
        };
        let full = self.solution.keeps_at(self.dilution).map(|keeps| format!("{} full", until(keeps)));
        let half = half_full().map(|keeps| format!("half full {}", until(keeps)));
        let until: Vec<String> = full.into_iter().chain(half).collect();
        let until = if until.is_empty() { "keeping time not stated".to_owned() } else { until.join("; ") };
        format!("mixed {}, {until}", self.mixed)
    }

    fn handling(&self, form: Option<&Form>) -> Vec<String> {
        let names = || form.iter().flat_map(|form| &form.holds).map(|(name, _)| &**name);
        let known =
            self.solution.ingredients().into_iter().filter(|one| names().any(|name| name == one.name));
        let held = known.map(|ingredient| Held { ingredient, strength: None }).collect();
        let forms = form.into_iter().cloned().collect();
        let concern = Concern { name: self.solution.name.clone(), forms, held, ..Concern::default() };
        let said = on_label(&concern).into_iter().map(str::to_owned);
        let gives_gas = names().any(|name| GIVES_GAS.contains(&name));
        let is_bleach_fix = self.solution.role == Some(Role::BleachFix);
        let loose = (gives_gas || is_bleach_fix).then(|| "cap one turn loose".to_owned());
        ["goggles, gloves".to_owned()]
            .into_iter()
            .chain(said)
            .chain(self.solution.cautions.iter().cloned())
            .chain(loose)
            .collect()
    }

    fn keeping(&self, form: Option<&Form>, personal: &Personal) -> Vec<String> {
        let never = form.map(apart::never_with).unwrap_or_default();
        let never = (!never.is_empty()).then(|| format!("never with: {}", never.join(", ")));
        let fixed = ["NOT FOOD", "keep from children"].map(str::to_owned);
        fixed.into_iter().chain(never).chain(apart::can(self.solution, personal)).collect()
    }

    /// A box for each roll, ticked for each treated roll; or, if there are too many rolls for boxes, the count in
    /// words.
    fn rolls(&self) -> (Vec<bool>, Option<String>) {
        let whole = |area: i64| area.div_euclid(Format::ROLL);
        let treated = self.kept.map_or(0, |standing| standing.treated);
        let Some(capacity) = Capacity::of(self.solution, self.dilution, self.volume) else {
            let ticked = usize::try_from(whole(treated)).unwrap_or(BOXES);
            return ((0..BOXES.max(ticked.min(BOXES))).map(|at| at < ticked).collect(), None);
        };
        let (most, treated) = (whole(capacity.area()), whole(treated));
        if !(1..=BOXES_MAX).contains(&most) {
            return (Vec::new(), Some(format!("{treated} of {most} treated {BLANK}")));
        }
        ((0..most).map(|at| at < treated).collect(), None)
    }
}

/// The ingredients that give off gas in their bottle. Common practice, no source.
const GIVES_GAS: &[&str] = &["ammonium-persulfate", "hydrogen-peroxide", "potassium-permanganate"];

const NOT_KNOWN: &str = "What it contains is not known: read its own label and data sheet.";

/// The signal word and the pictograms, such as `DANGER GHS05`. A liquid with a strong acid or a hydroxide counts as
/// corrosive as long as its pH is not known.
fn signal(form: &Form) -> String {
    let mut codes = pictograms(&form.class.hazards);
    let word = match form.signal() {
        _ if form.needs_ph => "DANGER",
        Signal::Danger => "DANGER",
        Signal::Warning => "WARNING",
        Signal::None => "",
    };
    if form.needs_ph && !codes.contains(&"GHS05") {
        codes.push("GHS05");
        codes.sort_unstable();
    }
    [&[word], codes.as_slice()].concat().join(" ").trim().to_owned()
}

/// The hazard statements as sentences, and sentences about what is not known. The list is never empty.
fn statements(form: &Form) -> Vec<String> {
    let is_said = |code: &str| form.needs_ph && ["H315", "H318", "H319"].contains(&code) || code == "EUH208";
    let burns = form.needs_ph && !form.class.hazards.iter().any(|one| one.code == "H314");
    let burns = burns.then(|| "Causes severe skin burns and eye damage (pH not measured).".to_owned());
    let own = form.class.hazards.iter().filter(|hazard| !is_said(hazard.code)).map(|hazard| {
        let mark = if form.class.from_memory.contains(hazard) { " (from memory)" } else { "" };
        sentence(hazard.text, mark)
    });
    let mut said: Vec<String> = burns.into_iter().chain(own).collect();
    let names = |names: &[Name], text: &str| {
        (!names.is_empty()).then(|| format!("Contains {}. {text}.", names.join(", ")))
    };
    said.extend(names(&form.class.sensitisers, "May produce an allergic reaction"));
    said.extend(names(&form.class.burning, "No flames"));
    if !form.silent.is_empty() {
        let burning = if form.may_burn { ": it may burn skin and eyes" } else { "" };
        said.push(format!("Strength not stated{burning}. Read its own label and data sheet."));
    }
    said.extend(form.class.unknown.map(|_| "The toxicity of over a tenth of it is not known.".to_owned()));
    let unknown = "An ingredient is not known here: read its label and data sheet.";
    said.extend(form.has_unknown.then(|| unknown.to_owned()));
    if said.is_empty() {
        said.push("Below the limits for a label. Wet skin every week is what makes an allergy.".to_owned());
    }
    said
}

/// The text with a capital first letter, then `mark` and a full stop.
fn sentence(text: &str, mark: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    format!("{first}{}{mark}.", letters.as_str())
}

fn contents(mixed: &Mixed) -> Vec<String> {
    let known = mixed.mixture.portions.iter().map(|one| format!("{} {}", one.name, percent(one.share)));
    let silent = mixed.silent.iter().map(|one| format!("{} (strength not stated)", one.name));
    let unknown = mixed.has_unknown.then(|| "what is not known here".to_owned());
    known.chain(silent).chain(unknown).collect()
}

/// The share with as many figures as a label needs: `10 %`, `6.8 %`, `0.31 %`.
fn percent(share: Percent) -> String {
    let thousandths = i64::try_from(share.0 / Percent::thousandths(1).0).unwrap_or(i64::MAX);
    match thousandths {
        10_000.. => format!("{} %", decimal(thousandths, 1000, 0)),
        1_000.. => format!("{} %", decimal(thousandths, 1000, 1)),
        10.. => format!("{} %", decimal(thousandths, 1000, 2)),
        _ => "under 0.01 %".to_owned(),
    }
}
