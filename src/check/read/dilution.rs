//! Dilutions: parts of the solution, and water last. What could be read two ways is not let through.

use super::pattern::{Reader, Told};
use crate::model::{Dilution, Limit};
use crate::source::{Diagnostic, Span};
use crate::syntax::TokenKind;
use crate::vocabulary::Value;

impl Reader<'_, '_> {
    pub(super) fn dilution(&mut self) -> Result<Value, Told> {
        if self.cursor.take_word("stock").is_some() {
            return Ok(Value::Dilution(Dilution::stock()));
        }
        if let Some(token) = self.cursor.take(TokenKind::Parts) {
            let parts = self.cursor.words(token);
            return self.parts_of(parts, token.span);
        }
        let doubtful = self.cursor.take(TokenKind::Clock).or_else(|| self.cursor.take(TokenKind::Fraction));
        if let Some(token) = doubtful {
            let fault = doubt(self.cursor.words(token), token.span);
            return Err(self.tell(fault));
        }
        let start = self.cursor.here();
        while self.cursor.peek(0).is_some_and(|token| {
            token.kind == TokenKind::Number
                || (token.kind == TokenKind::Stray && self.cursor.words(token) == "+")
        }) {
            self.cursor.at += 1;
        }
        let span = start.to(self.cursor.behind());
        let written = self.cursor.text.get(span.range()).unwrap_or("");
        let joined: String = written.split_whitespace().collect();
        let fault = Diagnostic::error("bad-dilution", span, "a dilution is whole parts without spaces");
        // A space between two figures is not one too many: '1 1 + 4' is not 11+4.
        let whole = joined.contains('+') && written.split('+').all(|part| part.trim().parse::<u32>().is_ok());
        Err(self.tell(if whole {
            let title = format!("write {joined}");
            fault.mend(joined, title)
        } else {
            fault.help("write 1+4 for one part of it and four of water; for 1+1.5 write 2+3")
        }))
    }

    fn parts_of(&mut self, text: &str, span: Span) -> Result<Value, Told> {
        let mut parts = Vec::new();
        if text.ends_with("+0") {
            let fault = Diagnostic::error("bad-dilution", span, "no water is added to this");
            return Err(self.tell(fault.offer("stock", "write stock")));
        }
        for part in text.split('+') {
            let number = part.parse::<u32>().unwrap_or(u32::MAX);
            self.in_range(Limit::Part, i64::from(number), span)?;
            parts.push(number);
        }
        if self.cursor.take_word("no-water").is_some() {
            return Ok(Value::Dilution(Dilution { parts, water: 0 }));
        }
        let water = parts.pop().unwrap_or(0);
        Ok(Value::Dilution(Dilution { parts, water }))
    }
}

/// `1:4` and `1/4`: one part and four of water, or one part in four?
fn doubt(text: &str, span: Span) -> Diagnostic {
    let fault = Diagnostic::error("ambiguous-dilution", span, format!("'{text}' can mean two strengths"));
    let fields: Vec<u32> = text.split([':', '/']).filter_map(|field| field.parse().ok()).collect();
    match fields.as_slice() {
        [1, whole] if *whole > 1 => fault
            .offer(format!("1+{whole}"), format!("write 1+{whole} for one part and {whole} of water"))
            .offer(
                format!("1+{}", whole - 1),
                format!("write 1+{} for one part in {whole} altogether", whole - 1),
            ),
        [part, whole] if *part > 0 && whole > part => fault
            .offer(format!("{part}+{whole}"), format!("write {part}+{whole} for these parts, water last"))
            .offer(
                format!("{part}+{}", whole - part),
                format!("write {part}+{} for {part} parts in {whole} altogether", whole - part),
            ),
        _ => {
            let plus = text.replace([':', '/'], "+");
            let title = format!("write {plus} for these parts, water last");
            fault.offer(plus, title)
        }
    }
}
