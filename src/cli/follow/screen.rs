//! The terminal while it is ours, and how it is given back: on leaving, on a fault, on a panic. What was
//! there before stands there again: letters are echoed, the cursor is seen, the old screen is back.

use std::io::{self, Write};

use crossterm::cursor::{Hide, MoveTo, Show};
use crossterm::queue;
use crossterm::style::{Attribute, Print, SetAttribute};
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode, size,
};

use crate::emit::{Row, Shade, Size};

/// What a terminal is taken for that does not say how large it is.
const USUAL: Size = Size { columns: 80, rows: 24 };

/// The terminal, taken over. It is given back when this goes.
#[derive(Debug)]
pub struct Screen {
    colour: bool,
    shown: Vec<Row>,
}

impl Screen {
    /// Takes the terminal over; with letters that stand out, or without.
    ///
    /// # Errors
    ///
    /// Where standard input and output are no terminal, or one that cannot be set.
    pub fn open(colour: bool) -> io::Result<Screen> {
        // A panic that unwinds drops the screen; this is for one that does not.
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            give_back();
            before(panic);
        }));
        // Made before the terminal is, so that one that is taken over by half is given back.
        let mut screen = Screen { colour, shown: Vec::new() };
        screen.take()?;
        Ok(screen)
    }

    /// Takes the terminal over again, whoever had it in between, and draws all anew.
    pub(super) fn take(&mut self) -> io::Result<()> {
        // What was set before is known from the first time; another program may have set it since.
        disable_raw_mode()?;
        enable_raw_mode()?;
        self.shown.clear();
        let mut out = io::stdout().lock();
        queue!(out, EnterAlternateScreen, Hide, Clear(ClearType::All))?;
        out.flush()
    }

    /// Lets go of the terminal until it is taken again.
    #[cfg(unix)]
    pub(super) fn lend() {
        give_back();
    }

    /// How large it is now.
    pub(super) fn size() -> Size {
        match size() {
            Ok((columns @ 1.., rows @ 1..)) => Size { columns: columns.into(), rows: rows.into() },
            Ok(_) | Err(_) => USUAL,
        }
    }

    /// Forgets what it shows, as after another size: all is drawn anew.
    pub(super) fn forget(&mut self) {
        self.shown.clear();
    }

    /// Shows these lines, if they are others than those it shows.
    ///
    /// # Errors
    ///
    /// Where the terminal takes nothing more.
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
            queue!(out, MoveTo(0, line), Clear(ClearType::CurrentLine))?;
            match self.attribute(row.shade) {
                Some(shade) => {
                    queue!(out, SetAttribute(shade), Print(&row.text), SetAttribute(Attribute::Reset))?;
                }
                None => queue!(out, Print(&row.text))?,
            }
        }
        self.shown = rows;
        out.flush()
    }

    /// Rings.
    pub(super) fn ring() -> io::Result<()> {
        let mut out = io::stdout().lock();
        queue!(out, Print('\u{7}'))?;
        out.flush()
    }

    fn attribute(&self, shade: Shade) -> Option<Attribute> {
        match (self.colour, shade) {
            (false, _) | (true, Shade::Body) => None,
            (true, Shade::Strong) => Some(Attribute::Bold),
            (true, Shade::Faint) => Some(Attribute::Dim),
        }
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

/// Done twice it does nothing more. If it fails there is no terminal left to give back.
fn give_back() {
    if !crossterm::terminal::is_raw_mode_enabled().unwrap_or(false) {
        return;
    }
    let mut out = io::stdout().lock();
    let _ =
        queue!(out, SetAttribute(Attribute::Reset), Show, LeaveAlternateScreen).and_then(|()| out.flush());
    let _ = disable_raw_mode();
}
