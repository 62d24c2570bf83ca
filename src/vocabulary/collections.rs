//! The statements of a collection: a folder that exports declarations for others to use.

use super::pattern::Part::{Either, List, Maybe, Word};
use super::row::Block;
use super::slot::rows;
use super::value::{
    AgitationName, FilmName, IngredientName, NewName, RecipeName, SolutionName, TankName, Text,
};

const COLLECTION: &[Block] = &[Block::Collection];

rows! { COLLECTIONS;
    CollectionHeader { name: NewName, title: Text } [name, Maybe(&[title])]
        "collection" &[Block::File] => Block::Collection, Once,
        "names the folder of the file as a collection that others can adopt; only in collection.wet",
        "collection harbour \"Recipes of the harbour club\" {", 2;
    Author { author: Text } [author]
        "author" COLLECTION, Once, "who wrote it", "author \"the darkroom group of the club\"", 2;
    Licence { licence: Text } [licence]
        "licence" COLLECTION, Once, "the terms under which others may use it", "licence \"CC0-1.0\"", 2;
    Exports {
        material: FilmName, ingredient: IngredientName, solution: SolutionName, agitation: AgitationName,
        tank: TankName, recipe: RecipeName
    }
        [Either(&[
            &[Word("film"), List(&[material])],
            &[Word("paper"), List(&[material])],
            &[Word("plate"), List(&[material])],
            &[Word("ingredient"), List(&[ingredient])],
            &[Word("solution"), List(&[solution])],
            &[Word("agitation"), List(&[agitation])],
            &[Word("tank"), List(&[tank])],
            &[Word("recipe"), List(&[recipe])],
        ])]
        "exports" COLLECTION, Many, "the names that others can use; all others are only for this collection",
        "exports recipe usual-tail, estuary-400-mq", 2;
}
