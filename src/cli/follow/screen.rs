//! The terminal in full-screen mode. Leaving, an error or a panic restores echo, cursor and the old screen.

use std::io::{self, Write};

use crossterm::cursor::{Hide, MoveTo, Show};
use crossterm::style::{Attribute, Print, PrintStyledContent, SetAttribute, Stylize};
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
    is_raw_mode_enabled,
};
use crossterm::{execute, queue};

use crate::emit::{Row, Shade, Size};

/// The size assumed for a terminal that does not report one.
const USUAL: Size = Size { columns: 80, rows: 24 };

/// The terminal in full-screen mode, restored on drop.
#[derive(Debug)]
pub struct Screen {
    colour: bool,
    shown: Vec<Row>,
}

impl Screen {
    /// Takes the terminal over; `colour` allows bold and dim text.
    ///
    /// # Errors
    ///
    /// If standard input and output are not a terminal, or one that cannot be set.
    pub fn open(colour: bool) -> io::Result<Screen> {
        // A panic that aborts drops nothing.
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            restore();
            before(panic);
        }));
        // Made first, so that a terminal that is half set is restored.
        let mut screen = Screen { colour, shown: Vec::new() };
        screen.take()?;
        Ok(screen)
    }

    /// Takes the terminal over again and redraws everything.
    pub(super) fn take(&mut self) -> io::Result<()> {
        // Another program may have changed the mode since.
        disable_raw_mode()?;
        enable_raw_mode()?;
        self.shown.clear();
        execute!(io::stdout(), EnterAlternateScreen, Hide, Clear(ClearType::All))
    }

    /// Its size now.
    pub(super) fn size() -> Size {
        match crossterm::terminal::size() {
            Ok((columns @ 1.., rows @ 1..)) => Size { columns: columns.into(), rows: rows.into() },
            Ok(_) | Err(_) => USUAL,
        }
    }

    /// Makes the next `show` redraw everything, as after a change of size.
    pub(super) fn forget(&mut self) {
        self.shown.clear();
    }

    /// Shows these rows; writes only those that differ.
    ///
    /// # Errors
    ///
    /// If the terminal cannot be written.
    pub fn show(&mut self, rows: Vec<Row>) -> io::Result<()> {
        if rows == self.shown {
            return Ok(());
        }
        let mut out = io::stdout().lock();
        if self.shown.len() != rows.len() {
            queue!(out, Clear(ClearType::All))?;
            self.shown.clear();
        }
        for (line, row) in (0u16..).zip(&rows) {
            if self.shown.get(usize::from(line)) == Some(row) {
                continue;
            }
            let text = row.text.as_str().stylize();
            let text = match row.shade {
                Shade::Strong if self.colour => text.bold(),
                Shade::Faint if self.colour => text.dim(),
                Shade::Strong | Shade::Faint | Shade::Body => text,
            };
            queue!(out, MoveTo(0, line), Clear(ClearType::CurrentLine), PrintStyledContent(text))?;
        }
        self.shown = rows;
        out.flush()
    }

    /// Rings the bell.
    pub(super) fn ring() -> io::Result<()> {
        execute!(io::stdout(), Print('\u{7}'))
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        restore();
    }
}

/// Restores the terminal if it is in full-screen mode. If that fails, there is no terminal left to restore.
pub(super) fn restore() {
    if is_raw_mode_enabled().unwrap_or(false) {
        let _ = execute!(io::stdout(), SetAttribute(Attribute::Reset), Show, LeaveAlternateScreen);
        let _ = disable_raw_mode();
    }
}
