//! A mixing day: what to buy and to mix before the loads of a plan, as a document and as JSON by
//! `grammar/mixing.schema.json`.

use super::document::{Block, Bullet, Column, Document, Head, Section, Table};
use super::json::{mix as mix_json, safety_json, take};
use super::object::{Json, Object, list};
use super::phrase::{self, count};
use super::plain::{all_plain, joined, plain, prefixed};
use super::plan::{liquid, mix};
use super::sheet::{Units, amount_of, form_text, metric, sheet_object, weigh};
use crate::compile::{Scale, spoken_volume};
use crate::measure::{Amount, Form, MixingDay, Needed, Sheet, Work};
use crate::plan::{Load, Mix, Plan, Taken};

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;

/// A document about what to buy, the bottles in the order of mixing, and the baths to mix from them.
pub fn mixing_day(plan: &Plan, day: &MixingDay) -> Document {
    let units = Units { scale: Scale::Celsius, with_us: false };
    let safety = (!day.safety.is_empty()).then(|| Section::safety(&day.safety));
    let mut sections: Vec<Section> = safety.into_iter().collect();
    sections.extend(shopping(plan, day));
    let bottles = day.sheets.iter().zip(1..).map(|(sheet, number)| bottle(sheet, number, units));
    sections.extend(bottles);
    sections.extend(baths(plan));
    if sections.is_empty() {
        let text = "nothing is to be bought or mixed for this plan".to_owned();
        sections.push(Section {
            head: Head::None,
            blocks: vec![Block::Paragraph(text)],
            ..Section::default()
        });
    }
    let first = plan.loads.first().filter(|_| plan.days.is_some());
    let before = first.map(|load| format!("before the first load, on {}", load.on));
    Document {
        title: format!("{}: mixing day", plain(&plan.title)),
        aside: count(day.sheets.len(), "bottle"),
        facts: [format!("for {}", count(plan.loads.len(), "load"))].into_iter().chain(before).collect(),
        sections,
        ..Document::default()
    }
}

fn shopping(plan: &Plan, day: &MixingDay) -> Option<Section> {
    let liquids = bought(plan).map(|taken| vec![phrase::enough(taken.short()), liquid(taken)]);
    let powders = day.ingredients.iter().filter(|one| is_short(one)).map(|one| {
        let had = one
            .on_hand
            .map(|had| format!("{} needed, {} on hand", amount_text(one.amount), amount_text(had)));
        vec![amount_text(one.short()), ingredient(one) + &prefixed("; ", had)]
    });
    let rows: Vec<Vec<String>> = liquids.chain(powders).collect();
    let amount = Column { is_bold: true, ..Column::new("") };
    let columns = vec![amount, Column::new("")];
    let table = Table { columns, rows, has_boxes: true, ..Table::default() };
    let what = "buy, or have this much";
    (!table.rows.is_empty())
        .then(|| Section::titled("BUY", vec![Block::Paragraph(what.to_owned()), Block::Table(table)]))
}

/// The liquids to buy: the user has too little of them, and cannot mix them from a formula.
pub(super) fn bought(plan: &Plan) -> impl Iterator<Item = &Taken> {
    let is_bought = |taken: &&Taken| taken.to_mix().is_none() && taken.short().fl > 0;
    plan.taken.iter().filter(is_bought)
}

fn is_short(one: &Needed) -> bool {
    match one.short() {
        Amount::Mass(mass) => mass.pg > 0,
        Amount::Volume(volume) => volume.fl > 0,
    }
}

pub(super) fn ingredient(one: &Needed) -> String {
    plain(&one.what) + &prefixed(", ", form_text(&one.form))
}

/// The section for mixing one bottle, without a safety block: the document has one for all bottles.
fn bottle(sheet: &Sheet, number: usize, units: Units) -> Section {
    let mut blocks = weighing(sheet, units);
    let keeps = joined(sheet.solution.keeps.iter().map(|keeps| format!("keeps {keeps}")), " · ");
    blocks.extend((!keeps.is_empty()).then_some(Block::Paragraph(keeps)));
    blocks.push(Block::List(Bullet::Warning, all_plain(&sheet.warnings)));
    blocks.push(Block::List(Bullet::Dash, all_plain(&sheet.solution.cautions)));
    blocks.push(Block::List(Bullet::Dash, all_plain(&sheet.solution.notes)));
    blocks.retain(|block| !matches!(block, Block::List(_, items) if items.is_empty()));
    let title = format!("{number}  {}", plain(&sheet.solution.title));
    Section { head: Head::Ruled(title, spoken_volume(sheet.make)), blocks, ..Section::default() }
}

fn baths(plan: &Plan) -> Option<Section> {
    let rows = first_mixes(plan).map(|(load, number, one)| {
        let on = prefixed(", ", plan.days.and_then(|days| days.loads).map(|_| load.on));
        (format!("load {number}"), format!("{}{on}", mix(one)))
    });
    let rows: Vec<(String, String)> = rows.collect();
    (!rows.is_empty()).then(|| Section::titled("BATHS FOR SEVERAL LOADS", vec![Block::Named(rows)]))
}

/// The baths that the plan mixes for several loads. Each is with the load before which it is mixed, and with the number
/// of that load from 1.
pub fn first_mixes(plan: &Plan) -> impl Iterator<Item = (&Load, usize, &Mix)> {
    let loads = plan.loads.iter().zip(1..);
    loads.flat_map(|(load, number)| load.mixes.iter().map(move |one| (load, number, one)))
}

/// The mixing day as an indented JSON object.
pub fn mixing_json(plan: &Plan, day: &MixingDay) -> String {
    let buy = |one: &Needed| {
        Object::of("what", &one.what)
            .join(amount_of(one.amount, &one.form))
            .put("on_hand", one.on_hand.map(|had| amount_of(had, &Form::Plain)))
            .put("short", amount_of(one.short(), &Form::Plain))
    };
    let bath = |(load, number, one): (&Load, usize, &Mix)| {
        Object::of("load", number).put("on", plan.days.map(|_| load.on)).join(mix_json(one))
    };
    Object::of("mixing", VERSION)
        .put("backlog", &plan.title)
        .put("safety", safety_json(&day.safety))
        .put("buy", list(bought(plan), take))
        .put("ingredients", list(&day.ingredients, buy))
        .put("sheets", list(&day.sheets, |sheet| Json::from(sheet_object(sheet))))
        .put("baths", list(first_mixes(plan), bath))
        .text()
}

fn weighing(sheet: &Sheet, units: Units) -> Vec<Block> {
    let Work::Weigh(bottles, _) = &sheet.work else { return Vec::new() };
    let several = bottles.len() > 1;
    let blocks = bottles.iter().flat_map(|bottle| {
        let part = bottle.part.as_deref().filter(|_| several);
        let name = part.map(|part| Block::Paragraph(format!("bottle {}", plain(part))));
        name.into_iter().chain(weigh(bottle, units).blocks)
    });
    blocks.collect()
}

pub(super) fn amount_text(amount: Amount) -> String {
    let (number, unit) = metric(amount);
    format!("{number} {unit}")
}
