//! The rows for recipes: what stands in a recipe, in its steps, in a chart, and the remarks that
//! stand almost anywhere.

use super::kind::{Declared, Kind};
use super::pattern::Part::{self, Comma, Either, List, Maybe, Value, Word};
use super::row::{Block, Often, Row};
use super::tanks::{AMOUNT, KNOCK, MOTION};
use crate::model::StepKind;

const TEXT: &[Part] = &[Value(Kind::Text)];
const TIME: &[Part] = &[Value(Kind::Time)];
const STEP_HEADER: &[Part] = &[
    Maybe(&[Value(Kind::OwnName)]),
    Maybe(&[
        Either(&[&[Word("before")], &[Word("after")]]),
        Value(Kind::Step),
        Maybe(&[Value(Kind::OwnName)]),
    ]),
];

const fn step(kind: StepKind) -> Block {
    Block::Step(kind)
}

/// Steps in which a solution works.
const BATHS: &[Block] = &[
    step(StepKind::Presoak),
    step(StepKind::Develop),
    step(StepKind::Stop),
    step(StepKind::Fix),
    step(StepKind::Bleach),
    step(StepKind::BleachFix),
    step(StepKind::Clear),
    step(StepKind::Wash),
    step(StepKind::Tone),
    step(StepKind::Expose),
    step(StepKind::Rinse),
];
/// Steps whose time can go by a chart.
const CHARTED: &[Block] = &[
    step(StepKind::Develop),
    step(StepKind::Stop),
    step(StepKind::Fix),
    step(StepKind::Bleach),
    step(StepKind::BleachFix),
    step(StepKind::Clear),
    step(StepKind::Tone),
];
/// All steps.
const STEPS: &[Block] = &[
    step(StepKind::Warm),
    step(StepKind::Presoak),
    step(StepKind::Develop),
    step(StepKind::Stop),
    step(StepKind::Fix),
    step(StepKind::Bleach),
    step(StepKind::BleachFix),
    step(StepKind::Clear),
    step(StepKind::Wash),
    step(StepKind::Tone),
    step(StepKind::Expose),
    step(StepKind::Rinse),
    step(StepKind::Rest),
    step(StepKind::Dry),
];
/// A recipe, where a statement is for all its steps, and each step.
const RECIPE_AND_STEPS: &[Block] = &[
    Block::Recipe,
    step(StepKind::Warm),
    step(StepKind::Presoak),
    step(StepKind::Develop),
    step(StepKind::Stop),
    step(StepKind::Fix),
    step(StepKind::Bleach),
    step(StepKind::BleachFix),
    step(StepKind::Clear),
    step(StepKind::Wash),
    step(StepKind::Tone),
    step(StepKind::Expose),
    step(StepKind::Rinse),
    step(StepKind::Rest),
    step(StepKind::Dry),
];
/// Where a remark or a caution may stand.
const REMARKED: &[Block] = &[
    Block::Film,
    Block::Solution,
    Block::Agitation,
    Block::Tank,
    Block::Recipe,
    Block::Bath,
    Block::Test,
    Block::Session,
    Block::Backlog,
    step(StepKind::Warm),
    step(StepKind::Presoak),
    step(StepKind::Develop),
    step(StepKind::Stop),
    step(StepKind::Fix),
    step(StepKind::Bleach),
    step(StepKind::BleachFix),
    step(StepKind::Clear),
    step(StepKind::Wash),
    step(StepKind::Tone),
    step(StepKind::Expose),
    step(StepKind::Rinse),
    step(StepKind::Rest),
    step(StepKind::Dry),
];

const fn step_row(kind: StepKind, word: &'static str, meaning: &'static str, example: &'static str) -> Row {
    let opens = Some(Block::Step(kind));
    let blocks = &[Block::Recipe];
    Row { word, blocks, takes: STEP_HEADER, opens, often: Often::Many, meaning, example }
}

/// Everything that stands in a recipe.
pub(super) const RECIPES: &[Row] = &[
    Row {
        word: "film",
        blocks: &[Block::Recipe],
        takes: &[Value(Kind::Name(Declared::Film))],
        opens: None,
        often: Often::Once,
        meaning: "the film it is for; a recipe without one is a base",
        example: "film estuary-400",
    },
    Row {
        word: "index",
        blocks: &[Block::Recipe],
        takes: &[Value(Kind::Count)],
        opens: None,
        often: Often::Once,
        meaning: "the exposure index it is for",
        example: "index 400",
    },
    Row {
        word: "without",
        blocks: &[Block::Recipe],
        takes: &[Value(Kind::Step), Maybe(&[Value(Kind::OwnName)])],
        opens: None,
        often: Often::Many,
        meaning: "drops a step that the parent has",
        example: "without stop",
    },
    step_row(StepKind::Warm, "warm", "the dry tank stands in tempered water", "warm {"),
    step_row(StepKind::Presoak, "presoak", "plain water before the first bath", "presoak {"),
    step_row(StepKind::Develop, "develop", "the image comes", "develop before stop {"),
    step_row(StepKind::Stop, "stop", "development ends", "stop {"),
    step_row(StepKind::Fix, "fix", "what was not developed goes", "fix second after fix {"),
    step_row(StepKind::Bleach, "bleach", "the silver image goes, or becomes soluble", "bleach {"),
    step_row(StepKind::BleachFix, "bleach-fix", "bleach and fixer in one", "bleach-fix {"),
    step_row(StepKind::Clear, "clear", "a clearing bath or a wash aid", "clear after fix {"),
    step_row(StepKind::Wash, "wash", "water takes the chemicals out", "wash {"),
    step_row(StepKind::Tone, "tone", "the image is coloured or protected", "tone {"),
    step_row(StepKind::Expose, "expose", "reversal: light, or a fogging bath", "expose {"),
    step_row(StepKind::Rinse, "rinse", "the last bath, with wetting agent or stabilizer", "rinse {"),
    step_row(StepKind::Rest, "rest", "the tank is empty and waits", "rest {"),
    step_row(StepKind::Dry, "dry", "the film hangs", "dry {"),
    Row {
        word: "in",
        blocks: BATHS,
        takes: &[
            Either(&[
                &[Word("water")],
                &[Value(Kind::Name(Declared::Solution)), Maybe(&[Value(Kind::Dilution)])],
            ]),
            Maybe(&[Comma, Either(&[&[Word("one-shot")], &[Word("reused")], &[Word("replenished")]])]),
        ],
        opens: None,
        often: Often::Once,
        meaning: "the bath: what, how strong, and whether it is kept",
        example: "in mq-borax 1+1, one-shot",
    },
    Row {
        word: "chart",
        blocks: CHARTED,
        takes: &[],
        opens: Some(Block::Chart),
        often: Often::Once,
        meaning: "its time by the temperature, in place of `time`",
        example: "chart {",
    },
    Row {
        word: "",
        blocks: &[Block::Chart],
        takes: &[Value(Kind::Temperature), Value(Kind::Time)],
        opens: None,
        often: Often::Many,
        meaning: "a point of the chart",
        example: "20 C   10:00",
    },
    Row {
        word: "time",
        blocks: STEPS,
        takes: &[Either(&[
            &[
                Value(Kind::Count),
                Word("x"),
                Word("clearing"),
                Maybe(&[Comma, Word("at"), Word("least"), Value(Kind::Time)]),
            ],
            &[
                Value(Kind::Time),
                Maybe(&[Either(&[&[Word("at"), Value(Kind::Temperature)], &[Word("each"), Word("side")]])]),
            ],
        ])],
        opens: None,
        often: Often::Once,
        meaning: "its time; at a temperature, by the clearing time, or for each side of the film",
        example: "time 3 x clearing, at least 4:00",
    },
    Row {
        word: "between",
        blocks: RECIPE_AND_STEPS,
        takes: &[Value(Kind::Temperature), Word("and"), Value(Kind::Temperature)],
        opens: None,
        often: Often::Once,
        meaning: "the temperatures it may have",
        example: "between 18 C and 24 C",
    },
    Row {
        word: "within",
        blocks: STEPS,
        takes: &[Value(Kind::Difference)],
        opens: None,
        often: Often::Once,
        meaning: "how far it may stray from its temperature",
        example: "within 0.15 C",
    },
    Row {
        word: "at",
        blocks: STEPS,
        takes: &[Value(Kind::Temperature)],
        opens: None,
        often: Often::Once,
        meaning: "the temperature it has, whatever the room's",
        example: "at 37.8 C",
    },
    Row {
        word: "agitate",
        blocks: BATHS,
        takes: &[Either(&[
            &[List(&[Either(&[
                &[Word("first"), AMOUNT],
                &[Word("then"), AMOUNT, Word("every"), Value(Kind::Time)],
                &[Word("continuous")],
                &[Word("none")],
                &[Word("at"), List(TIME), Word("for"), AMOUNT],
                &[Word("rotary"), Value(Kind::Turning)],
                &[Word("by"), MOTION],
                &[Word("inversion"), Value(Kind::Time)],
                &[Word("knock"), KNOCK],
                &[AMOUNT, Word("every"), Value(Kind::Time)],
            ])])],
            &[Value(Kind::Name(Declared::Agitation))],
        ])],
        opens: None,
        often: Often::Once,
        meaning: "how the film is moved: a scheme's name, or the scheme itself",
        example: "agitate first 30 s, then 10 s every 1 min",
    },
    Row {
        word: "fills",
        blocks: &[step(StepKind::Wash)],
        takes: &[List(&[Value(Kind::Count)]), Word("inversions")],
        opens: None,
        often: Often::Once,
        meaning: "changes of water, each with so many inversions",
        example: "fills 5, 10, 20 inversions",
    },
    Row {
        word: "soak",
        blocks: &[step(StepKind::Wash)],
        takes: &[Value(Kind::Time), Word("x"), Value(Kind::Count)],
        opens: None,
        often: Often::Once,
        meaning: "changes of water, each left for a time",
        example: "soak 5:00 x 6",
    },
    Row {
        word: "flow",
        blocks: &[step(StepKind::Wash)],
        takes: &[Value(Kind::Flow)],
        opens: None,
        often: Often::Once,
        meaning: "running water, for the step's `time`",
        example: "flow 2 l/min",
    },
    Row {
        word: "handling",
        blocks: STEPS,
        takes: TIME,
        opens: None,
        often: Often::Once,
        meaning: "what passes before its pour",
        example: "handling 2:00",
    },
    Row {
        word: "light",
        blocks: STEPS,
        takes: &[Either(&[&[Word("safe")], TEXT])],
        opens: None,
        often: Often::OnceEach,
        meaning: "from here on light is safe; or what light to expose to",
        example: "light safe",
    },
    Row {
        word: "fill",
        blocks: BATHS,
        takes: TIME,
        opens: None,
        often: Often::Once,
        meaning: "how long this step takes to fill",
        example: "fill 15 s",
    },
    Row {
        word: "drain",
        blocks: BATHS,
        takes: TIME,
        opens: None,
        often: Often::Once,
        meaning: "how long this step takes to drain",
        example: "drain 10 s",
    },
    Row {
        word: "clock",
        blocks: BATHS,
        takes: &[Word("from"), Either(&[&[Word("pour")], &[Word("full")]])],
        opens: None,
        often: Often::Once,
        meaning: "whether its time runs from the first drop or from the tank being full",
        example: "clock from pour",
    },
    Row {
        word: "note",
        blocks: REMARKED,
        takes: TEXT,
        opens: None,
        often: Often::Many,
        meaning: "a remark for the card",
        example: "note \"keep this one away from the window\"",
    },
    Row {
        word: "caution",
        blocks: REMARKED,
        takes: TEXT,
        opens: None,
        often: Often::Many,
        meaning: "a caution of one's own; it comes first on the card",
        example: "caution \"gloves: this developer sensitises the skin\"",
    },
    Row {
        word: "source",
        blocks: &[Block::Film, Block::Solution, Block::Agitation, Block::Recipe],
        takes: TEXT,
        opens: None,
        often: Often::Many,
        meaning: "where it is from",
        example: "source \"common practice, no source\"",
    },
];
