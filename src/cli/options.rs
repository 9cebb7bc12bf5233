//! The options that every command takes.

use std::num::NonZeroUsize;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::build::disk::Disk;
use crate::build::failure::Failure;

#[derive(Clone, Args)]
pub struct Options {
    /// The library's folder [default: the current folder if it holds `library.yaml`, else `content` below it]
    #[arg(long, global = true, value_name = "DIR")]
    pub library: Option<PathBuf>,
    /// How findings are printed
    #[arg(long, global = true, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// When colours are used; `auto`: on a terminal, unless `NO_COLOR` is set
    #[arg(long, global = true, value_enum, default_value_t = Colour::Auto, value_name = "WHEN")]
    pub color: Colour,
    /// Say nothing but findings and failures
    #[arg(long, global = true)]
    pub quiet: bool,
    /// How many threads work at once [default: one for each processor]
    #[arg(long, global = true, value_name = "N", value_parser = jobs)]
    pub jobs: Option<NonZeroUsize>,
    /// The day that dates are compared with [default: `SOURCE_DATE_EPOCH` if set, else today]
    #[arg(long, global = true, value_name = "YYYY-MM-DD", value_parser = day)]
    pub today: Option<Date>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// The source line marked, the way that leads there, the cure
    Text,
    /// One line a finding
    Short,
    /// For other programs
    Json,
    /// For editors and code hosts (SARIF 2.1.0)
    Sarif,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Colour {
    Auto,
    Always,
    Never,
}

/// More threads than this help no machine and may exhaust one.
const MOST_JOBS: usize = 256;

impl Options {
    /// The outside world, with the day that was asked for.
    ///
    /// # Errors
    /// `SOURCE_DATE_EPOCH` is set and holds no time.
    pub fn disk(&self) -> Result<Disk, Failure> {
        let today = match self.today {
            Some(today) => today,
            None => {
                let now = epoch(std::env::var_os("SOURCE_DATE_EPOCH").as_deref())?.unwrap_or_else(Timestamp::now);
                // In UTC, so that the same moment is the same day on every machine.
                now.to_zoned_datetime(TimeZone::UTC).date()
            }
        };
        Ok(Disk { today })
    }

    pub fn limit_jobs(&self) {
        if let Some(jobs) = self.jobs {
            // Fails only if the pool was made before, and then there is one already.
            let _ = rayon::ThreadPoolBuilder::new().num_threads(jobs.get().min(MOST_JOBS)).build_global();
        }
    }
}

fn jobs(text: &str) -> Result<NonZeroUsize, String> {
    text.parse().map_err(|_| "expected a whole number from 1".to_owned())
}

fn day(text: &str) -> Result<Date, String> {
    let date: Option<Date> = text.parse().ok();
    // The parser takes other forms too; one form is enough.
    date.filter(|date| date.to_string() == text).ok_or_else(|| "expected a day as YYYY-MM-DD, such as 2027-06-30".to_owned())
}

/// Seconds since 1970-01-01 in UTC (reproducible-builds.org, "SOURCE_DATE_EPOCH").
fn epoch(value: Option<&std::ffi::OsStr>) -> Result<Option<Timestamp>, Failure> {
    let Some(value) = value else { return Ok(None) };
    let moment = value.to_str().and_then(|text| text.parse().ok()).and_then(|seconds| Timestamp::from_second(seconds).ok());
    let refused = || {
        let words = "`SOURCE_DATE_EPOCH` holds no time: expected whole seconds since 1970-01-01; correct or unset it, or give `--today`";
        Failure::Other(words.to_owned())
    };
    moment.map(Some).ok_or_else(refused)
}
