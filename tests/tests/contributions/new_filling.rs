//! The filling that `pairwise new` writes can be worked like any other.

#[path = "../../../host/app/src/commands/new/crate/lib.rs"]
mod filling;

use pairwise_sdk::{Contribution, Settings, to_lace};

// The file's own tests run here as well.
#[test]
fn every_variety_is_a_ground() {
    let about = filling::Filling::about();
    assert_eq!(about.varieties.len(), 3);
    for variety in &about.varieties {
        let repeat = filling::Filling::define(&Settings::variety(&about, &variety.id)).unwrap();
        lace::Ground::new(to_lace(&repeat).unwrap()).unwrap();
    }
}
