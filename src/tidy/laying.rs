//! From lines to a text: blank lines and line endings.

use super::lines::{Form, TidyLine};

/// The line ending of most lines of a text: `\r\n` or `\n`.
#[must_use]
pub fn ending(text: &str) -> &'static str {
    let all = text.matches('\n').count();
    if text.matches("\r\n").count() * 2 > all { "\r\n" } else { "\n" }
}

/// The whole text, without a blank line at its start or end, after a header, before a closing brace, or after another.
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

/// Whether a blank line separates these two.
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

/// Whether these comments lead to a header without a blank line.
fn leads_to_a_header(below: &[TidyLine]) -> bool {
    below.iter().find(|line| line.form != Form::Remark).is_some_and(|line| line.form == Form::Header)
}
