//! Pages as they are set: parsed by an HTML parser and looked through.

use std::collections::BTreeMap;

use stepward::render::{pictures, site};

use crate::support::small_library::{cleared, library};

#[test]
fn x() {
    let cleared = cleared(library(), false);
    let files = site(&cleared, jiff::civil::date(2026, 11, 24));
    for (path, bytes) in &files {
        let path = std::path::Path::new("/tmp/wt/render/target/look").join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, bytes).unwrap();
    }
    let _: BTreeMap<String, Vec<u8>> = files;
    let _ = pictures(&cleared);
}
