//! Builds collections from `collection.wet` files: their titles, their terms, and the declarations that they export.

use std::collections::BTreeMap;

use super::{Builder, declared, named};
use crate::model::{Collection, Export};
use crate::source::{COLLECTION, Diagnostic, Sources, Span, clip};
use crate::vocabulary::{Declared, Lines as _, Reading, Value, say};

impl Builder<'_> {
    /// Builds the collections of all files. A `collection` statement in a file that is not named `collection.wet` is an
    /// error.
    pub(in crate::check) fn collections(&mut self, sources: &Sources) -> Vec<Collection> {
        let all: Vec<&Reading> =
            declared(self.units, Declared::Collection).map(|(_, reading)| reading).collect();
        all.into_iter().filter_map(|reading| self.collection(reading, sources)).collect()
    }

    fn collection(&mut self, reading: &Reading, sources: &Sources) -> Option<Collection> {
        let (name, title) = named(reading)?;
        let file = sources.name(reading.span.file);
        if file.rsplit(['/', ':']).next() != Some(COLLECTION) {
            self.error(
                "misplaced-collection",
                reading.span,
                format!("a collection can only be declared in a file named {COLLECTION}"),
                format!("move these lines to {COLLECTION} in the folder of the collection"),
            );
        }
        let exports = self.exports(reading);
        Some(Collection {
            name,
            title,
            author: reading.one::<say::Author>().and_then(|row| row.author().map(str::to_owned)),
            licence: reading.one::<say::Licence>().and_then(|row| row.licence().map(str::to_owned)),
            exports,
            span: reading.span,
        })
    }

    fn exports(&mut self, reading: &Reading) -> Vec<Export> {
        let mut mentions: Vec<(Declared, &str, Span)> = Vec::new();
        for row in reading.rows.iter().filter(|row| row.is::<say::Exports>() && row.sound) {
            row.values(&mut |item| {
                if let Value::Mention(kind, name) = &item.value {
                    mentions.push((*kind, name, item.span));
                }
            });
        }
        let mut first: BTreeMap<(Declared, &str), Span> = BTreeMap::new();
        let mut exports = Vec::new();
        for (kind, name, span) in mentions {
            let last = name.rsplit('/').next().unwrap_or(name);
            if let Some(earlier) = first.get(&(kind, last)) {
                let message = format!("the {} '{}' is exported twice", kind.word(), clip(last));
                let fault = Diagnostic::error("repeated-name", span, message);
                self.report(fault.help("remove one of the two").other(*earlier, "the first"));
                continue;
            }
            first.insert((kind, last), span);
            let Some(key) = self.scopes.find(kind, (name, span), &mut self.faults) else { continue };
            let own = self.units.get(&key.file).and_then(|unit| unit.readings.get(key.at)?.name());
            let declared = own.map_or(span, |(_, place)| place);
            exports.push(Export { kind: kind.word(), name: last.to_owned(), span, declared });
        }
        exports
    }
}
