//! Packs the larger files that the program carries, and folds functions that came out the same.

use std::env::var;
use std::path::PathBuf;

fn main() -> std::io::Result<()> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..");
    let out = PathBuf::from(std::env::var_os("OUT_DIR").unwrap_or_default());
    // The linker that comes with Rust for this system knows this; another one might not.
    let is = |name: &str, value: &str| var(name).is_ok_and(|v| v == value);
    if is("TARGET", "x86_64-unknown-linux-gnu") && is("PROFILE", "release") {
        println!("cargo::rustc-link-arg-bins=-Wl,--icf=all");
    }
    packed::pack(&root, &["assets/notices", "docs", "examples"], &out)?;
    packed::pack_bytes(epaint_default_fonts::HACK_REGULAR, "hack.ttf", &out)
}
