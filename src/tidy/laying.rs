//! Lines to a text: which blank lines stand between them, and how each line ends.

use super::lines::{Form, TidyLine};

/// How the lines of a text end, by the most of them: `\r\n`, or else `\n`.
#[must_use]
pub fn ending(text: &str) -> &'static str {
    let all = text.matches('\n').count();
    if text.matches("\r\n").count() * 2 > all { "\r\n" } else { "\n" }
}

/// The whole text. No line is blank at its start or end, in a block none behind the header or before
/// the brace, and nowhere two together.
pub(super) fn laid(lines: &[TidyLine], ending: &str) -> String {
    let mut text = String::with_capacity(lines.iter().map(|line| line.text.len() + 2).sum());
    let mut above: Option<&TidyLine> = None;
    let mut had_blank = false;
    for (number, line) in lines.iter().enumerate() {
        if line.form == Form::Blank {
            had_blank = true;
            continue;
        }
        if above.is_some_and(|above| is_parted(above, line, had_blank, lines.get(number + 1..))) {
            text.push_str(ending);
        }
        text.push_str(&line.text);
        text.push_str(ending);
        (above, had_blank) = (Some(line), false);
    }
    text
}

/// Whether a blank line stands between these two.
fn is_parted(above: &TidyLine, line: &TidyLine, had_blank: bool, below: Option<&[TidyLine]>) -> bool {
    if above.form == Form::Header || line.form == Form::Close {
        return false;
    }
    if line.depth > 0 || above.form == Form::Remark {
        return had_blank;
    }
    let declares = match line.form {
        Form::Header => true,
        Form::Remark => leads_to_a_header(below.unwrap_or(&[])),
        Form::Blank | Form::Version | Form::Statement | Form::Close | Form::Kept => false,
    };
    had_blank || declares || matches!(above.form, Form::Close | Form::Version)
}

/// Whether a remark goes on, without a blank line, up to the header that it is about.
fn leads_to_a_header(below: &[TidyLine]) -> bool {
    below.iter().find(|line| line.form != Form::Remark).is_some_and(|line| line.form == Form::Header)
}
