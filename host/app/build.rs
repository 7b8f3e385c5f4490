//! The program carries the sources of the kit (see `commands::new`). The
//! compiler notices when one of them changes; that one was added or taken away
//! must be said.

fn main() {
    for carried in ["../../sdk", "../lace"] {
        println!("cargo::rerun-if-changed={carried}");
    }
}
