//! The terminal in full-screen mode.

use std::io::{self, Write as _};

use crossterm::cursor::{Hide, MoveTo, Show};
use crossterm::style::{Attribute, PrintStyledContent, SetAttribute, Stylize as _};
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
    is_raw_mode_enabled,
};
use crossterm::{execute, queue};

use crate::emit::{Row, Shade, Size};

/// The size to use for a terminal that does not report its size.
const USUAL_SIZE: Size = Size { columns: 80, rows: 24 };

/// A terminal in full-screen mode. Dropping this value restores the terminal.
#[derive(Debug)]
pub struct Screen {
    colour: bool,
    /// The rows now on the screen. An empty list makes the next update draw every row.
    pub(super) shown: Vec<Row>,
}

impl Screen {
    /// Puts the terminal into full-screen mode. `colour` allows bold and dim text.
    ///
    /// # Errors
    ///
    /// If standard input and output are not a terminal, or the mode of the terminal cannot be set.
    pub fn open(colour: bool) -> io::Result<Screen> {
        // A panic may abort the program without dropping the screen, so the hook restores the terminal too.
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            restore();
            before(panic);
        }));
        // The `Screen` is made before `take` is called, so that dropping it restores the terminal if `take` fails
        // halfway.
        let mut screen = Screen { colour, shown: Vec::new() };
        screen.take()?;
        Ok(screen)
    }

    /// Puts the terminal into full-screen mode and clears the screen: when the screen opens, and when the program
    /// continues after it was suspended.
    pub(super) fn take(&mut self) -> io::Result<()> {
        // Another program may have changed the terminal while this program was suspended. crossterm ignores a call to
        // enable the raw mode if it believes that this mode is enabled, so the raw mode is disabled first.
        disable_raw_mode()?;
        enable_raw_mode()?;
        self.shown.clear();
        execute!(io::stdout(), EnterAlternateScreen, Hide, Clear(ClearType::All))
    }

    pub(super) fn size() -> Size {
        match crossterm::terminal::size() {
            Ok((columns @ 1.., rows @ 1..)) => Size { columns: columns.into(), rows: rows.into() },
            Ok(_) | Err(_) => USUAL_SIZE,
        }
    }

    /// Shows these rows. Only rows that differ from those on the screen are written.
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
}

impl Drop for Screen {
    fn drop(&mut self) {
        restore();
    }
}

/// Restores a terminal in full-screen mode. An error is ignored, since it means that the terminal is gone.
pub(super) fn restore() {
    if is_raw_mode_enabled().unwrap_or(false) {
        let _ = execute!(io::stdout(), SetAttribute(Attribute::Reset), Show, LeaveAlternateScreen);
        let _ = disable_raw_mode();
    }
}
