//! What a long command is at, on a terminal: one line that is gone when the command is done. Elsewhere nothing.

use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::build::pipeline::Stage;

/// What is over sooner is not worth a line.
const SHORT: Duration = Duration::from_millis(500);

pub struct Progress {
    line: ProgressBar,
    began: Instant,
}

impl Progress {
    /// `quiet`: nothing is shown on a terminal either.
    pub fn new(quiet: bool) -> Self {
        let line = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("{msg} {elapsed}") {
            line.set_style(style);
        }
        if quiet {
            line.finish();
        }
        Self { line, began: Instant::now() }
    }

    pub fn at(&self, stage: Stage) {
        if self.line.is_finished() {
            return;
        }
        // Setting and writing pages is what takes long, if anything does.
        if self.began.elapsed() >= SHORT || stage == Stage::Setting {
            // Hidden by itself where standard error is no terminal.
            self.line.set_draw_target(ProgressDrawTarget::stderr());
            self.line.enable_steady_tick(Duration::from_millis(200));
        }
        self.line.set_message(match stage {
            Stage::Reading => "reading the library",
            Stage::Judging => "judging every path",
            Stage::Setting => "setting and writing pages",
        });
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.line.finish_and_clear();
    }
}
