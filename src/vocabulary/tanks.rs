//! The rows for tanks and for how the film is moved in them.

use super::kind::Kind;
use super::pattern::Part::{self, Comma, Either, List, Maybe, Value, Word};
use super::row::{Block, Often, Row};

const TIME: &[Part] = &[Value(Kind::Time)];

/// A time, or so many inversions.
pub(super) const AMOUNT: Part = Either(&[TIME, &[Value(Kind::Count), Word("inversions")]]);
/// How the film is moved.
pub(super) const MOTION: Part = Either(&[
    &[Word("inversion")],
    &[Word("rotation")],
    &[Word("rocking")],
    &[Word("lifting")],
    &[Word("shuffling")],
]);
/// When the tank is knocked.
pub(super) const KNOCK: Part = Either(&[&[Word("after"), Word("each")], &[Word("once")]]);

/// Everything that stands in an agitation or a tank.
pub(super) const TANKS: &[Row] = &[
    Row {
        word: "first",
        blocks: &[Block::Agitation],
        takes: &[AMOUNT],
        opens: None,
        often: Often::Once,
        meaning: "how long the film moves from the tank being full on",
        example: "first 30 s",
    },
    Row {
        word: "then",
        blocks: &[Block::Agitation],
        takes: &[AMOUNT, Word("every"), Value(Kind::Time)],
        opens: None,
        often: Often::Once,
        meaning: "how long it moves thereafter, at every whole period of the step's clock",
        example: "then 10 s every 1 min",
    },
    Row {
        word: "continuous",
        blocks: &[Block::Agitation],
        takes: &[],
        opens: None,
        often: Often::Once,
        meaning: "it moves all the time",
        example: "continuous",
    },
    Row {
        word: "none",
        blocks: &[Block::Agitation],
        takes: &[],
        opens: None,
        often: Often::Once,
        meaning: "it does not move at all",
        example: "none",
    },
    Row {
        word: "at",
        blocks: &[Block::Agitation],
        takes: &[List(TIME), Word("for"), AMOUNT],
        opens: None,
        often: Often::Once,
        meaning: "it moves at these times of the step's clock",
        example: "at 0:00, 30:00 for 30 s",
    },
    Row {
        word: "rotary",
        blocks: &[Block::Agitation],
        takes: &[Value(Kind::Turning)],
        opens: None,
        often: Often::Once,
        meaning: "it turns in a drum on its side",
        example: "rotary 60 rpm",
    },
    Row {
        word: "by",
        blocks: &[Block::Agitation],
        takes: &[MOTION],
        opens: None,
        often: Often::Once,
        meaning: "the motion",
        example: "by inversion",
    },
    Row {
        word: "inversion",
        blocks: &[Block::Agitation],
        takes: TIME,
        opens: None,
        often: Often::Once,
        meaning: "how long one inversion takes (2.5 s unless said)",
        example: "inversion 2 s",
    },
    Row {
        word: "knock",
        blocks: &[Block::Agitation],
        takes: &[KNOCK],
        opens: None,
        often: Often::Once,
        meaning: "when the tank is knocked against air bells",
        example: "knock after each",
    },
    Row {
        word: "reels",
        blocks: &[Block::Tank],
        takes: &[
            Value(Kind::Format),
            Word("x"),
            Value(Kind::Count),
            Comma,
            Value(Kind::Volume),
            Word("each"),
        ],
        opens: None,
        often: Often::Some,
        meaning: "how many reels or sheets of a format it takes, and what covers each",
        example: "reels 120 x 5, 500 ml each",
    },
    Row {
        word: "rotary",
        blocks: &[Block::Tank],
        takes: &[Value(Kind::Volume)],
        opens: None,
        often: Often::Once,
        meaning: "what it takes when it turns on its side",
        example: "rotary 300 ml",
    },
    Row {
        word: "holds",
        blocks: &[Block::Tank],
        takes: &[Value(Kind::Volume)],
        opens: None,
        often: Often::Once,
        meaning: "the most it holds",
        example: "holds 2.6 l",
    },
    Row {
        word: "fill",
        blocks: &[Block::Tank],
        takes: &[Either(&[
            &[Word("whole"), Maybe(&[Comma, Value(Kind::Time)])],
            &[Value(Kind::Time), Maybe(&[Comma, Word("whole")])],
        ])],
        opens: None,
        often: Often::Once,
        meaning: "how long it takes to fill, and whether it is always filled whole",
        example: "fill 25 s",
    },
    Row {
        word: "drain",
        blocks: &[Block::Tank],
        takes: TIME,
        opens: None,
        often: Often::Once,
        meaning: "how long it takes to drain",
        example: "drain 20 s",
    },
];
