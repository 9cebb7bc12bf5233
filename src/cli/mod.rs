//! The command line: one file per command. Findings go to standard output, everything else to standard error.

mod approve;
mod compare;
mod create;
mod draw;
mod preview;
mod publish;
mod review;
mod rules;
mod schema;
mod verify;

mod library;
mod options;
mod output;
mod progress;

use std::ffi::OsString;

use clap::{Parser, Subcommand};

use crate::build::failure::Failure;
use crate::emit::sarif;

use options::{Colour, Format, Options};
use output::Output;

/// Compiles service procedures for laser printers, proves them safe, and publishes them as a site that can be followed.
#[derive(Parser)]
#[command(name = "stepward", version, about, arg_required_else_help = true)]
struct Arguments {
    #[command(flatten)]
    options: Options,
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    Create(create::Arguments),
    Verify(verify::Arguments),
    Publish(publish::Arguments),
    Preview(preview::Arguments),
    Approve(approve::Arguments),
    Review(review::Arguments),
    Rules(rules::Arguments),
    Schema(schema::Arguments),
    Compare(compare::Arguments),
    Draw(draw::Arguments),
}

/// How a command ended.
enum Outcome {
    Done,
    /// The material has errors.
    Errors,
}

/// Exit status of a command that could not run.
pub const CANNOT_RUN: u8 = 2;

/// Runs the command that the arguments (the program's name first) ask for, and gives its exit status.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> u8 {
    let words: Vec<OsString> = arguments.into_iter().collect();
    let arguments = match Arguments::try_parse_from(&words) {
        Ok(arguments) => arguments,
        Err(usage) => {
            // Help and version are no errors; a closed pipe is none either.
            let _ = usage.print();
            let status = u8::try_from(usage.exit_code()).unwrap_or(CANNOT_RUN);
            if status == CANNOT_RUN && asks_for_sarif(&words) {
                // A log that says so is more use to whoever collects logs than none; if nobody reads it, nothing is lost.
                let _ = Output::new(Colour::Never, true).print(&sarif::cannot_run("the command line could not be understood", status));
            }
            return status;
        }
    };
    let output = Output::new(arguments.options.color, arguments.options.quiet);
    arguments.options.limit_jobs();
    match dispatch(&arguments, &output) {
        Ok(Outcome::Done) => 0,
        Ok(Outcome::Errors) => 1,
        Err(failure) => {
            output.failure(&failure);
            if arguments.options.format == Format::Sarif && arguments.command.prints_findings() {
                let _ = output.print(&sarif::cannot_run(&failure.to_string(), CANNOT_RUN));
            }
            CANNOT_RUN
        }
    }
}

impl Command {
    /// Whether `--format` says how its findings are printed.
    fn prints_findings(&self) -> bool {
        matches!(self, Command::Verify(_) | Command::Publish(_) | Command::Review(_))
    }
}

/// Whether a command line that could not be understood asks for SARIF all the same.
fn asks_for_sarif(words: &[OsString]) -> bool {
    let pair = words.windows(2).any(|pair| matches!(pair, [option, value] if option == "--format" && value == "sarif"));
    pair || words.iter().any(|word| word == "--format=sarif")
}

fn dispatch(arguments: &Arguments, output: &Output) -> Result<Outcome, Failure> {
    let options = &arguments.options;
    match &arguments.command {
        Command::Create(asked) => create::run(asked, options, output),
        Command::Verify(asked) => verify::run(asked, options, output),
        Command::Publish(asked) => publish::run(asked, options, output),
        Command::Preview(asked) => preview::run(asked, options, output),
        Command::Approve(asked) => approve::run(asked, options, output),
        Command::Review(asked) => review::run(asked, options, output),
        Command::Rules(asked) => rules::run(asked, output),
        Command::Schema(asked) => schema::run(asked, options, output),
        Command::Compare(asked) => compare::run(asked, options, output),
        Command::Draw(asked) => draw::run(asked, options, output),
    }
}

/// Says on standard error that the program itself is at fault.
pub fn report_mistake(place: &str) {
    let version = env!("CARGO_PKG_VERSION");
    let words = format!(
        "error: this is a mistake in Stepward {version} itself ({place}), not in your library; nothing it printed counts as a verdict. \
         Please report this line and the command that led to it"
    );
    output::say(&words);
}
