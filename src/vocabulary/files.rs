//! The rows for a file: its version, the files it uses, and what it declares.

use super::kind::{Declared, Kind};
use super::pattern::Part::{self, Maybe, Value, Word};
use super::row::{Block, Often, Row};

const TEXT: &[Part] = &[Value(Kind::Text)];
const NAMED: &[Part] = &[Value(Kind::NewName), Maybe(TEXT)];

/// Everything that stands in a file.
pub(super) const FILES: &[Row] = &[
    Row {
        word: "wetside",
        blocks: &[Block::File],
        takes: &[Value(Kind::Count)],
        opens: None,
        often: Often::Must,
        meaning: "the version of the language, as the first statement",
        example: "wetside 1",
    },
    Row {
        word: "use",
        blocks: &[Block::File],
        takes: &[Value(Kind::Text), Maybe(&[Word("as"), Value(Kind::NewName)])],
        opens: None,
        often: Often::Many,
        meaning: "brings in what another file declares, under a prefix if one is given",
        example: "use \"films.wet\"",
    },
    Row {
        word: "allow",
        blocks: &[Block::File, Block::Film, Block::Solution, Block::Agitation, Block::Tank, Block::Recipe],
        takes: &[Value(Kind::OwnName), Word("because"), Value(Kind::Text)],
        opens: None,
        often: Often::Many,
        meaning: "silences one rule here, and says why",
        example: "allow wet-after-dry because \"it is wetted again for a test\"",
    },
    Row {
        word: "film",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Film),
        often: Often::Many,
        meaning: "declares a film",
        example: "film estuary-400 \"Estuary 400\" {",
    },
    Row {
        word: "solution",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Solution),
        often: Often::Many,
        meaning: "declares a solution or a concentrate",
        example: "solution mq-borax \"MQ borax\" {",
    },
    Row {
        word: "agitation",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Agitation),
        often: Often::Many,
        meaning: "declares an agitation scheme",
        example: "agitation steady {",
    },
    Row {
        word: "tank",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Tank),
        often: Often::Many,
        meaning: "declares a tank, a drum or a tray",
        example: "tank tall-five \"Five-reel tank\" {",
    },
    Row {
        word: "recipe",
        blocks: &[Block::File],
        takes: &[
            Value(Kind::NewName),
            Maybe(TEXT),
            Maybe(&[Word("from"), Value(Kind::Name(Declared::Recipe))]),
        ],
        opens: Some(Block::Recipe),
        often: Often::Many,
        meaning: "declares a recipe, derived from another if it says so",
        example: "recipe estuary-400-mq from usual-tail {",
    },
    Row {
        word: "bath",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Bath),
        often: Often::Many,
        meaning: "declares a bath in its bottle, made up and kept",
        example: "bath fix-a \"Fixer, bottle A\" {",
    },
    Row {
        word: "test",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Test),
        often: Often::Many,
        meaning: "tells of a clearing test in a bath",
        example: "test fix-a-1 {",
    },
    Row {
        word: "session",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Session),
        often: Often::Many,
        meaning: "tells of an evening as it was done",
        example: "session evening-1 {",
    },
    Row {
        word: "backlog",
        blocks: &[Block::File],
        takes: NAMED,
        opens: Some(Block::Backlog),
        often: Often::Many,
        meaning: "declares rolls that wait to be developed",
        example: "backlog autumn \"The estuary in autumn\" {",
    },
    Row {
        word: "retract",
        blocks: &[Block::File],
        takes: &[Value(Kind::Name(Declared::Session)), Word("because"), Value(Kind::Text)],
        opens: None,
        often: Often::Many,
        meaning: "takes a session back, which was not so, and says why",
        example: "retract evening-1 because \"the tank was another\"",
    },
];
