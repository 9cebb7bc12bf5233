//! Standard output and standard error. A reader that has gone away is no error; nothing else is lost silently.

use std::cell::Cell;
use std::io::{self, Write};

use anstream::{AutoStream, ColorChoice};

use crate::build::failure::Failure;
use crate::cli::options::Colour;
use crate::emit::clean;

#[derive(Clone)]
pub struct Output {
    colour: ColorChoice,
    quiet: bool,
    /// The reader of standard output has closed it.
    closed: Cell<bool>,
}

impl Output {
    pub fn new(colour: Colour, quiet: bool) -> Self {
        let colour = match colour {
            Colour::Auto => ColorChoice::Auto,
            Colour::Always => ColorChoice::Always,
            Colour::Never => ColorChoice::Never,
        };
        Self { colour, quiet, closed: Cell::new(false) }
    }

    /// Whether texts for standard output may hold colours.
    pub fn styled(&self) -> bool {
        let choice = match self.colour {
            ColorChoice::Auto => AutoStream::choice(&io::stdout()),
            choice => choice,
        };
        choice != ColorChoice::Never
    }

    /// Prints what was asked for on standard output.
    ///
    /// # Errors
    /// It cannot be written, for another reason than that nobody reads it any more.
    pub fn print(&self, text: &str) -> Result<(), Failure> {
        if self.closed.get() || text.is_empty() {
            return Ok(());
        }
        let mut out = AutoStream::new(io::stdout().lock(), self.colour);
        match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            Ok(()) => Ok(()),
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => {
                self.closed.set(true);
                Ok(())
            }
            Err(error) => Err(Failure::Other(format!("standard output cannot be written: {error}"))),
        }
    }

    /// Says something on standard error, unless asked to be quiet.
    pub fn note(&self, words: &str) {
        if !self.quiet {
            say(words);
        }
    }

    pub fn is_quiet(&self) -> bool {
        self.quiet
    }

    /// Says on standard error why the command could not run.
    pub fn failure(&self, failure: &Failure) {
        say(&format!("error: {failure}"));
    }
}

/// One line on standard error.
pub fn say(words: &str) {
    // Where standard error is closed too there is nobody left to tell.
    let _ = writeln!(io::stderr().lock(), "{}", clean::line(words));
}
