//! A remark that no card has room for.

use super::Written;
use crate::source::Diagnostic;
use crate::vocabulary::{Item, Reading, Value, say};

rule! {
    /// # long-text
    ///
    /// **What.** A title, a note, a caution or a note about light has more than 200 characters.
    ///
    /// **Why.** A card is read at arm's length, in a dim room and with wet hands. What matters in a long text is passed over.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     note      "the fixer of the house is kept in the brown bottle on the lower shelf, where it was put by whoever had it last, who ought to have written the date on it and the number of rolls, as all of us said we would do"
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Say one thing in a note; a second note may stand below it. What explains the file belongs into a comment.
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
    "long-text", Advice, "a title or a remark of more than 200 characters", File(look)
}

const CHARACTERS: usize = 200;

fn look(written: &Written<'_>, faults: &mut Vec<Diagnostic>) {
    for statement in written.statements.iter().filter(|statement| is_printed(statement)) {
        for item in statement.items.iter().filter(|item| is_long(item)) {
            let help = if statement.row.opens.is_some() {
                "keep the title short and put the rest into a note"
            } else {
                "break it into several, one thing each; what explains the file can be a comment: # …"
            };
            let message = "a text of more than 200 characters is not read on a card";
            faults.push(RULE.found(item.span, message).help(help));
        }
    }
}

fn is_printed(statement: &Reading) -> bool {
    let remark = statement.is::<say::Note>() || statement.is::<say::Caution>();
    remark || statement.is::<say::Light>() || statement.row.opens.is_some()
}

fn is_long(item: &Item) -> bool {
    matches!(&item.value, Value::Text(text) if text.chars().count() > CHARACTERS)
}
