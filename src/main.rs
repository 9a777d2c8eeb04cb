//! The command line in, the exit code out. Never does anything else.

fn main() -> std::process::ExitCode {
    duskrow::cli::main()
}
