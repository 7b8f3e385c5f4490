//! Our own contributions. Compiling them takes a while, so every test program
//! loads them once for all its tests.

use std::sync::LazyLock;

use sandbox::{Plugin, Sandbox, Source};

/// All of them, in the order of their files.
///
/// # Panics
/// If one cannot be loaded.
pub fn plugins() -> &'static [Plugin] {
    static PLUGINS: LazyLock<Vec<Plugin>> = LazyLock::new(|| {
        let built = concat!(env!("CARGO_MANIFEST_DIR"), "/../plugins/built");
        let sources = Source::folder(built.as_ref()).expect("they are committed");
        let loaded = Sandbox::new(None).expect("a machine for contributions").load_all(&sources);
        assert!(loaded.failures.is_empty(), "{:?}", loaded.failures);
        loaded.plugins
    });
    &PLUGINS
}
