//! The process: arguments in, exit status out. A mistake of the program's own ends it here, with a request for a report.

use std::process::ExitCode;
use std::sync::OnceLock;

use mimalloc::MiMalloc;
use stepward::cli;

/// A compiler that makes many small texts on every thread spends a sixth of its time in the system's own.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

/// Where in our own source it went wrong. Nothing else of a panic is shown: its message may quote somebody's procedure.
static WHERE: OnceLock<String> = OnceLock::new();

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|panic| {
        let ours = panic.location().filter(|place| place.file().starts_with("src"));
        WHERE.get_or_init(|| ours.map_or_else(|| "a library it uses".to_owned(), |place| format!("{}:{}", place.file(), place.line())));
    }));
    let status = std::panic::catch_unwind(|| cli::run(std::env::args_os()));
    ExitCode::from(status.unwrap_or_else(|_| {
        cli::report_mistake(WHERE.get().map_or("an unknown place", String::as_str));
        cli::CANNOT_RUN
    }))
}
