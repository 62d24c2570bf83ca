//! The statements of tanks and of agitation.

use std::sync::LazyLock;

use super::pattern::Part::{Comma, Either, List, Maybe, Word};
use super::row::{Block, Row};
use super::slot::{Statement as _, rows};
use super::value::{Count, Each, Moment, Whole};
use crate::model::{self, Amount, Format, Motion, Time, Volume};

const AGITATION: &[Block] = &[Block::Agitation];
const TANK: &[Block] = &[Block::Tank];

rows! { TANKS;
    First { amount: Amount } [amount]
        "first" AGITATION, Once, "how long to agitate once the tank is full", "first 30 s";
    Then { amount: Amount, every: Time } [amount, Word("every"), every]
        "then" AGITATION, Once, "how long to agitate later, at each full period of the step's clock",
        "then 10 s every 1 min";
    Continuous {} []
        "continuous" AGITATION, Once, "agitation without a pause", "continuous";
    Still {} []
        "none" AGITATION, Once, "no agitation", "none";
    AtTimes { time: Moment, amount: Amount } [List(&[time]), Word("for"), amount]
        "at" AGITATION, Once, "agitation at these times of the step's clock", "at 0:00, 30:00 for 30 s";
    Turning { speed: model::Speed } [speed]
        "rotary" AGITATION, Once, "rotation in a drum on its side", "rotary 60 rpm";
    By { motion: Motion } [motion]
        "by" AGITATION, Once, "the motion; edition 2: `bursts`", "by inversion";
    Inversion { time: Time } [time]
        "inversion" AGITATION, Once, "how long one inversion takes (default: 2.5 s)", "inversion 2 s";
    Knock { knock: model::Knock } [knock]
        "knock" AGITATION, Once, "when the tank is knocked against air bells", "knock after each";
    Stand {} []
        "stand" AGITATION, Once, "its long rests are intended", "stand", 2;
    Reels { format: Format, most: Count, each: Volume }
        [format, Word("x"), most, Comma, each, Word("each")]
        "reels" TANK, Some, "how many reels or sheets of a format it holds, and the volume that covers each",
        "reels 120 x 5, 500 ml each";
    Rotary { volume: Volume } [volume]
        "rotary" TANK, Once, "its volume when it turns on its side", "rotary 300 ml";
    Holds { volume: Volume } [volume]
        "holds" TANK, Once, "the most it holds", "holds 2.6 l";
    TankFill { whole: Whole, time: Moment }
        [Either(&[&[whole, Maybe(&[Comma, time])], &[time, Maybe(&[Comma, whole])]])]
        "fill" TANK, Once, "how long it takes to fill, and whether it is always filled completely", "fill 25 s";
    TankDrain { time: Moment } [time]
        "drain" TANK, Once, "how long it takes to drain", "drain 20 s";
    Transfer { time: Moment, each: Each } [time, Maybe(&[each])]
        "transfer" TANK, Once,
        "the material moves and the baths stand: how long it takes to lift it into the next bath, or each sheet of it",
        "transfer 10 s", 2;
    // These rows are clauses inside other statements. No block has them as statements.
    AmountOf { time: Time, count: Count } [Either(&[&[time], &[count, Word("inversions")]])]
        "" &[], Once, "how long, or how often", "30 s";
    Every { amount: Amount, every: Time } [amount, Word("every"), every]
        "" &[], Many, "how long it moves, and how often", "10 s every 1 min";
}

pub(super) fn amounts() -> &'static [&'static Row] {
    static ROWS: LazyLock<Vec<&'static Row>> = LazyLock::new(|| AmountOf::rows().iter().collect());
    &ROWS
}

/// The rows of the clauses that `agitate` can have: all statements of an agitation block, and `Every`, as in `10 s
/// every 1 min`.
pub(super) fn agitation_clauses() -> &'static [&'static Row] {
    static ROWS: LazyLock<Vec<&'static Row>> = LazyLock::new(|| {
        let own = TANKS.iter().flat_map(|rows| rows()).filter(|row| row.blocks == AGITATION);
        own.chain(Every::rows()).collect()
    });
    &ROWS
}
