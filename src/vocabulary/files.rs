//! The statements of a file: its edition, the files it uses, and what it declares.

use super::pattern::Part::{Either, List, Maybe, NewWay, Newer, Word};
use super::row::Block;
use super::slot::rows;
use super::value::{Count, NewName, OwnName, RecipeName, SessionName, Text};

const FILE: &[Block] = &[Block::File];
const ALLOWING: &[Block] =
    &[Block::File, Block::Film, Block::Solution, Block::Agitation, Block::Tank, Block::Recipe];

rows! { FILES;
    Wetside { edition: Count } [edition]
        "wetside" FILE, Must, "the edition of the language, as the first statement", "wetside 1";
    Use { path: Text, collection: OwnName, only: OwnName, prefix: NewName }
        [
            Either(&[&[path], &[NewWay(2, &[collection])]]),
            Newer(2, &[Word("only"), List(&[only])]),
            Maybe(&[Word("as"), prefix]),
        ]
        "use" FILE, Many,
        "uses the declarations of another file, with a prefix if there is one; edition 2: what a collection exports, \
         or only some names",
        "use \"films.wet\"";
    Allow { rule: OwnName, reason: Text } [rule, Word("because"), reason]
        "allow" ALLOWING, Many, "allows what one rule finds here, with the reason",
        "allow wet-after-dry because \"it is wetted again for a test\"";
    Material { name: NewName, title: Text } [name, Maybe(&[title])]
        "film" FILE => Block::Film, Many, "declares a film", "film estuary-400 \"Estuary 400\" {";
        "paper" FILE => Block::Film, Many, "declares a paper, with the statements of a film",
        "paper gull-warm \"Gull Warm\" {", 2;
        "plate" FILE => Block::Film, Many, "declares a glass plate, with the statements of a film",
        "plate slate-25 \"Slate 25\" {", 2;
        "ingredient" FILE => Block::Ingredient, Many, "declares an ingredient that the program does not know",
        "ingredient phenosafranine \"Phenosafranine\" {", 2;
        "solution" FILE => Block::Solution, Many, "declares a solution or a concentrate",
        "solution mq-borax \"MQ borax\" {";
        "agitation" FILE => Block::Agitation, Many, "declares an agitation scheme", "agitation steady {";
        "tank" FILE => Block::Tank, Many, "declares a tank, a drum or a tray",
        "tank tall-five \"Five-reel tank\" {";
    RecipeHeader { name: NewName, title: Text, parent: RecipeName }
        [name, Maybe(&[title]), Maybe(&[Word("from"), parent])]
        "recipe" FILE => Block::Recipe, Many, "declares a recipe, or derives one from another",
        "recipe estuary-400-mq from usual-tail {";
    Darkroom { name: NewName, title: Text } [name, Maybe(&[title])]
        "bath" FILE => Block::Bath, Many, "declares a bath that is kept in its bottle",
        "bath fix-a \"Fixer, bottle A\" {";
        "test" FILE => Block::Test, Many, "declares a clearing test of a bath", "test fix-a-1 {";
        "session" FILE => Block::Session, Many, "records a session", "session evening-1 {";
        "backlog" FILE => Block::Backlog, Many, "declares rolls that wait to be developed",
        "backlog autumn \"The estuary in autumn\" {";
    Retract { session: SessionName, reason: Text } [session, Word("because"), reason]
        "retract" FILE, Many, "withdraws a wrong session, with the reason",
        "retract evening-1 because \"it was a different tank\"";
}
