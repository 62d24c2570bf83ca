//! The rule `long-text`.

use super::*;

rule! {
    /// # long-text: a title or a note of more than 200 characters
    ///
    /// This includes cautions and notes about light.
    ///
    /// **Why.** A card is read at arm's length, in dim light and with wet hands. A long text is not read to its
    /// end.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     note      "the fixer is in the brown bottle on the lower shelf; the date of mixing and the number of rolls are on its label, and both must be read before each use, because an exhausted fixer looks exactly like a fresh one"
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Write one thing in each note. Explain the file in a comment.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     note      "the fixer is in the brown bottle on the lower shelf"
    ///     note      "write on it the date and the rolls"
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, File(check)
}

/// The most characters in a text on a card.
const CHARACTERS: usize = 200;

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for statement in &file.statements {
        let title = statement.row.opens.is_some();
        let note = statement.is::<say::Note>() || statement.is::<say::Caution>() || statement.is::<say::Light>();
        if !title && !note {
            continue;
        }
        let help = if title {
            "shorten the title and put the rest into a note"
        } else {
            "split it into several notes; explain the file in a comment: # …"
        };
        let is_long =
            |item: &&Item| matches!(&item.value, Value::Text(text) if text.chars().count() > CHARACTERS);
        let message = "a text of more than 200 characters is too long for a card";
        found.extend(statement.items.iter().filter(is_long).map(|item| RULE.found(item.span, message).help(help)));
    }
    found
}
