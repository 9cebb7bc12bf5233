//! Says which folders are embedded, so that a change in them compiles the program anew.

fn main() {
    for folder in ["src/rules", "themes"] {
        println!("cargo:rerun-if-changed={folder}");
    }
}
