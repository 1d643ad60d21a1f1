//! Packs the larger files that the model carries.

use std::path::PathBuf;

fn main() -> std::io::Result<()> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../assets");
    let out = PathBuf::from(std::env::var_os("OUT_DIR").unwrap_or_default());
    packed::pack(
        &root,
        &["fonts", "inventory", "label", "materials", "names", "rules"],
        &out,
    )
}
