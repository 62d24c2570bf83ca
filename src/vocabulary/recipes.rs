//! The statements of recipes, steps and charts, and the notes that almost every block may have.

use std::sync::LazyLock;

use super::pattern::Part::{Comma, Either, List, Maybe, NewWay, Newer, Word};
use super::row::{Block, Row};
use super::slot::{Statement as _, rows};
use super::value::{
    After, AgitationClause, AgitationName, Any, Before, BoundClause, ChartTime, Clearing, Count, Density,
    EachSide, Factor, FilmName, FromParent, Index, LightingClause, Moment, OwnName, RecipeName, SolutionName,
    StatementWord, Text, TrialName, Used, Water,
};
use crate::model::StepKind::*;
use crate::model::{self, Aim, Date, Difference, Dilution, Measure, StepKind, Temperature, Use};

const RECIPE: &[Block] = &[Block::Recipe];
const WASH: &[Block] = &[step(Wash)];

const fn step(kind: StepKind) -> Block {
    Block::Step(kind)
}

/// Defines constants, each a list of blocks. `LIST = [Recipe] Wash Dry` is the block of a recipe, and the blocks of the
/// steps of the kinds `Wash` and `Dry`.
macro_rules! blocks {
    ($($(#[$doc:meta])* $list:ident = [$($block:ident)*] $($kind:ident)*;)*) => {
        $($(#[$doc])* const $list: &[Block] = &[$(Block::$block,)* $(Block::Step(StepKind::$kind)),*];)*
    };
}

blocks! {
    /// The steps that use a solution or water, in a tank or with a brush.
    IN_BATHS = [] Presoak Develop Stop Fix Bleach BleachFix Clear Wash Tone Coat Expose Rinse;
    /// The steps that use a solution or water in a tank.
    BATHS = [] Presoak Develop Stop Fix Bleach BleachFix Clear Wash Tone Expose Rinse;
    /// The steps whose time can follow a chart.
    CHARTED = [] Develop Stop Fix Bleach BleachFix Clear Tone;
    STEPS = [] Warm Presoak Develop Stop Fix Bleach BleachFix Clear Wash Tone Coat Expose Rinse Rest Dry;
    /// The recipe itself and every step. In the recipe, the statement holds for all steps.
    RECIPE_AND_STEPS = [Recipe]
        Warm Presoak Develop Stop Fix Bleach BleachFix Clear Wash Tone Coat Expose Rinse Rest Dry;
    SOURCED = [Film Ingredient Solution Agitation Recipe Trial Wedge Reader];
    NOTED = [Film Ingredient Solution Agitation Tank Recipe Trial Wedge Reader Bath Test Session Backlog]
        Warm Presoak Develop Stop Fix Bleach BleachFix Clear Wash Tone Coat Expose Rinse Rest Dry;
}

rows! { RECIPES;
    UsedFilm { any: Any, film: FilmName } [Either(&[&[Newer(2, &[any])], &[film]])]
        "film" RECIPE, Once, "the film it is for; a recipe without one is a base; edition 2: `any`, for a base whose times \
         hold for every film", "film estuary-400";
        "paper" RECIPE, Once, "the paper it is for, or `any`", "paper gull-warm", 2;
        "plate" RECIPE, Once, "the glass plate it is for, or `any`", "plate slate-25", 2;
    BeginsIn { lighting: LightingClause } [lighting]
        "light" RECIPE, Once, "the light in which it begins: none unless stated",
        "light safelight \"amber, 1.2 m away\"", 2;
    ExposedAt { index: Index } [index]
        "index" RECIPE, Once, "its exposure index", "index 400";
    Tested { date: Date, text: Text } [date, Maybe(&[text])]
        "tested" RECIPE, Many, "the day of a test of it, and how it was tested; a derived recipe does not inherit it",
        "tested 2026-11-12 \"two rolls, by eye\"", 2;
    Deprecated { reason: Text, instead: RecipeName }
        [Word("because"), reason, Maybe(&[Comma, Word("use"), instead])]
        "deprecated" RECIPE, Once, "why it should no longer be used, and what to use; a derived recipe does not inherit it",
        "deprecated because \"the times were too short\", use estuary-400-mq", 2;
    Without { word: StatementWord, kind: StepKind, name: OwnName }
        [Either(&[&[Newer(2, &[word])], &[kind, Maybe(&[name])]])]
        "without" RECIPE, Many, "drops a step of the parent; edition 2: or the statement with this word",
        "without stop";
    Swap { first: SolutionName, first_dilution: Dilution, second: SolutionName, second_dilution: Dilution }
        [first, Maybe(&[first_dilution]), Word("for"), second, Maybe(&[second_dilution])]
        "swap" RECIPE, Many, "takes another solution, with its dilution, in every step of the parent that is in the first",
        "swap rapid-fix 1+4 for house-fixer 1+5", 2;
    WithoutWord { word: StatementWord } [word]
        "without" STEPS, Many, "drops the parent's statement with this word", "without agitate", 2;
    Repeat { first: StepKind, first_name: OwnName, last: StepKind, last_name: OwnName, rounds: Count }
        [
            Word("from"), first, Maybe(&[first_name]), Word("to"), last, Maybe(&[last_name]), Comma, rounds,
            Word("times"),
        ]
        "repeat" RECIPE, Once, "these steps are done several times in turn",
        "repeat from develop to wash still, 3 times", 2;
    Step { name: OwnName, before: Before, after: After, by: StepKind, by_name: OwnName }
        [Maybe(&[name]), Maybe(&[Either(&[&[before], &[after]]), by, Maybe(&[by_name])])]
        "warm" RECIPE => step(Warm), Many, "the dry tank is in tempered water", "warm {";
        "presoak" RECIPE => step(Presoak), Many, "plain water before the first bath", "presoak {";
        "develop" RECIPE => step(Develop), Many, "the image appears", "develop before stop {";
        "stop" RECIPE => step(Stop), Many, "development ends", "stop {";
        "fix" RECIPE => step(Fix), Many, "undeveloped silver dissolves", "fix second after fix {";
        "bleach" RECIPE => step(Bleach), Many, "the silver image is removed or made soluble", "bleach {";
        "bleach-fix" RECIPE => step(BleachFix), Many, "bleach and fixer in one", "bleach-fix {";
        "clear" RECIPE => step(Clear), Many, "a clearing bath or a wash aid", "clear after fix {";
        "wash" RECIPE => step(Wash), Many, "water takes the chemicals out", "wash {";
        "tone" RECIPE => step(Tone), Many, "the image is coloured or protected", "tone {";
        "coat" RECIPE => step(Coat), Many, "a sensitiser is brushed on", "coat {", 2;
        "expose" RECIPE => step(Expose), Many, "reversal: light, or a fogging bath", "expose {";
        "rinse" RECIPE => step(Rinse), Many, "the last bath, with wetting agent or stabilizer", "rinse {";
        "rest" RECIPE => step(Rest), Many, "the tank stands empty", "rest {";
        "dry" RECIPE => step(Dry), Many, "the film hangs to dry", "dry {";
    In {
        water: Water, used: Used, by: StepKind, by_name: OwnName, solution: SolutionName, part: OwnName,
        dilution: Dilution, bath: OwnName, fate: Use, becomes: OwnName,
    } [
        Either(&[
            &[water],
            &[Newer(2, &[used, by, Maybe(&[by_name])])],
            &[solution, Newer(2, &[Word("part"), part]), Maybe(&[dilution])],
        ]),
        Newer(2, &[Word("bath"), bath]),
        Maybe(&[Comma, Either(&[&[fate], &[Newer(2, &[Word("becomes"), becomes])]])]),
    ]
        "in" IN_BATHS, Once,
        "its bath: the solution, its dilution, and whether it is kept; edition 2: the used bath of an earlier step, one \
         bottle of several, a name for one of two baths, and whose place it takes",
        "in mq-borax 1+1, one-shot";
    With { amount: Measure, solution: SolutionName } [amount, solution]
        "with" IN_BATHS, Once, "what is added to its bath: how much of each litre of the bath it is, and the solution",
        "with 300 ml/l old-brown", 2;
    Chart {} []
        "chart" CHARTED => Block::Chart, Once, "its time by the temperature, in place of `time`", "chart {";
    Point { at: Temperature, time: ChartTime } [at, time]
        "" &[Block::Chart], Many, "a point of the chart", "20 C   10:00";
    Time {
        until: Text, times: Factor, clearing: Clearing, parent: FromParent, sign: Text,
        trial: TrialName, aim: Aim, contrast: Density,
        time: model::Time, at: Temperature, side: EachSide, bound: BoundClause,
    } [Either(&[
        &[NewWay(2, &[Word("until"), until])],
        &[NewWay(2, &[
            Word("by"), trial,
            Maybe(&[Word("for"), Either(&[&[Word("contrast"), contrast], &[aim]])]),
        ])],
        &[times, Word("x"), Either(&[&[clearing], &[NewWay(2, &[parent])], &[NewWay(2, &[sign])]])],
        &[time, Maybe(&[Either(&[&[Word("at"), at], &[side]])])],
    ]), Maybe(&[Comma, List(&[bound])])]
        "time" STEPS, Once,
        "its time; at a temperature, by the clearing time, or for each side; edition 2: until a sign, by the time to a sign or the parent's time, or by a trial",
        "time 3 x clearing, at least 4:00";
    Between { low: Temperature, high: Temperature } [low, Word("and"), high]
        "between" RECIPE_AND_STEPS, Once, "the allowed temperatures", "between 18 C and 24 C";
    Within { difference: Difference } [difference]
        "within" STEPS, Once, "the tolerance of its temperature", "within 0.15 C";
    At { temperature: Temperature } [temperature]
        "at" STEPS, Once, "its own temperature", "at 37.8 C";
    Agitate { clause: AgitationClause, scheme: AgitationName } [Either(&[&[scheme], &[List(&[clause])]])]
        "agitate" BATHS, Once, "the agitation: a scheme's name, or the scheme itself; edition 2: `stand` and `by bursts`",
        "agitate first 30 s, then 10 s every 1 min";
    Fills { inversions: Count } [List(&[inversions]), Word("inversions")]
        "fills" WASH, Once, "changes of water, with the inversions of each", "fills 5, 10, 20 inversions";
    Soak { time: model::Time, changes: Count } [time, Word("x"), changes]
        "soak" WASH, Once, "changes of water, each left for this time", "soak 5:00 x 6";
    Flow { flow: model::Flow } [flow]
        "flow" WASH, Once, "running water, for the step's `time`", "flow 2 l/min";
    Handling { time: Moment } [time]
        "handling" STEPS, Once, "the time before its pour", "handling 2:00";
    Light { lighting: LightingClause, light: Text } [Either(&[&[lighting], &[light]])]
        "light" STEPS, OnceEach,
        "the light from here on (edition 2; edition 1 has only `safe`, for room light); or what light to expose to", "light \"a lamp of 100 W at 1 m\"";
    Fill { time: Moment } [time]
        "fill" BATHS, Once, "how long this step takes to fill", "fill 15 s";
    Drain { time: Moment } [time]
        "drain" BATHS, Once, "how long this step takes to drain", "drain 10 s";
    Clock { from: model::Clock } [Word("from"), from]
        "clock" BATHS, Once, "whether its time begins with the first drop or the full tank",
        "clock from pour";
    Note { text: Text } [text]
        "note" NOTED, Many, "a note for the card", "note \"keep this one away from the window\"";
    Caution { text: Text } [text]
        "caution" NOTED, Many, "your own caution; it comes first on the card",
        "caution \"gloves: this developer sensitises the skin\"";
    // These rows are clauses inside `light`. No block has them as statements.
    SafeLight {} []
        "safe" &[], Many, "room light, as edition 1 writes it", "safe";
    Darkness {} []
        "none" &[], Many, "darkness", "none", 2;
    RoomLight {} []
        "room" &[], Many, "room light", "room", 2;
    Safelight { lamp: Text } [lamp]
        "safelight" &[], Many, "a lamp that this material may see", "safelight \"amber, 1.2 m away\"", 2;
    Source { text: Text } [text]
        "source" SOURCED, Many, "its source",
        "source \"common practice, no source\"";
    // These rows are clauses inside `time`. No block has them as statements.
    Bound { least: model::Time, most: model::Time }
        [Either(&[&[Word("least"), least], &[NewWay(2, &[Word("most"), most])]])]
        "at" &[], Many, "the shortest or the longest time", "at least 4:00";
    Look { every: model::Time } [Word("every"), every]
        "look" &[], Many, "how often to look for the sign", "look every 30 s", 2;
}

pub(super) fn bounds() -> &'static [&'static Row] {
    static ROWS: LazyLock<Vec<&'static Row>> =
        LazyLock::new(|| Bound::rows().iter().chain(Look::rows()).collect());
    &ROWS
}

pub(super) fn lightings() -> &'static [&'static Row] {
    static ROWS: LazyLock<Vec<&'static Row>> = LazyLock::new(|| {
        let words = Darkness::rows().iter().chain(RoomLight::rows()).chain(Safelight::rows());
        words.chain(SafeLight::rows()).collect()
    });
    &ROWS
}
