//! The names of baths and backlogs in a journal. It only grows at its end, so it names only what its `use` lines
//! bring in; a new journal gets the `use` lines that it needs.

use std::collections::BTreeSet;

use super::super::failure::Failure;
use super::super::find::Sought;
use super::ledger::Ledger;
use crate::source::{FileId, first_few};
use crate::vocabulary::Declared;

/// One bath or backlog, as a file can name it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known<'a> {
    /// The file that can name it.
    pub(super) by: FileId,
    /// The name there.
    pub(super) said: &'a str,
    /// The name it was declared with.
    pub(super) own: &'a str,
    /// Where it was.
    pub(super) declared: FileId,
}

/// The names in a block, and the files that a new journal has to use for them.
#[derive(Debug)]
pub(super) struct Namer<'a> {
    pub(super) ledger: &'a Ledger,
    pub(super) uses: BTreeSet<String>,
}

impl Namer<'_> {
    /// The journal's name for one that the call gives.
    ///
    /// # Errors
    /// There is none, there are several, or the journal does not use its file.
    pub(super) fn name(
        &mut self,
        kind: Declared,
        known: &[Known<'_>],
        wanted: &str,
    ) -> Result<String, Failure> {
        let here: Vec<_> = known.iter().filter(|one| Some(one.by) == self.ledger.file()).collect();
        if here.iter().any(|one| one.said == wanted) {
            return Ok(wanted.to_owned());
        }
        let under_prefixes: Vec<_> = here.iter().filter(|one| one.own == wanted).collect();
        match under_prefixes.as_slice() {
            [] => {}
            [one] => return Ok(one.said.to_owned()),
            several => {
                let names = first_few(several.iter().map(|one| one.said), ", ");
                return Err(Failure::new(
                    format!("'{wanted}' can be several here: {names}"),
                    "write the name with its prefix",
                ));
            }
        }
        self.brought(kind, known, wanted)
    }

    fn brought(&mut self, kind: Declared, known: &[Known<'_>], wanted: &str) -> Result<String, Failure> {
        let own = || known.iter().filter(|one| one.by == one.declared && one.said == one.own);
        let found: Vec<_> = own().filter(|one| one.own == wanted).collect();
        let word = kind.word();
        match found.as_slice() {
            [] => {
                let or = "declare it there, or name a journal in its folder: --journal FILE";
                let place = format!("in the darkroom of {}", self.ledger.name());
                let otherwise = Some(or.to_owned());
                let sought = Sought { otherwise, ..Sought::within(kind, wanted, place) };
                Err(sought.absent(own().map(|one| one.own)))
            }
            [one] => {
                let path = self.ledger.path_to(one.declared).unwrap_or_default();
                if self.ledger.file().is_none() {
                    self.uses.insert(path);
                    return Ok(wanted.to_owned());
                }
                Err(Failure::new(
                    format!("{} does not bring in the {word} '{wanted}'", self.ledger.name()),
                    format!("only its end is written to, so add this line below its first: use \"{path}\""),
                ))
            }
            several => {
                let files = several.iter().map(|one| self.ledger.reader.name(one.declared).to_owned());
                Err(Sought::below(kind, wanted).in_files(files))
            }
        }
    }
}
