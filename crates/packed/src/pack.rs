//! What a build script does.

#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a build script has no other disk, and speaks to cargo on its output"
)]

use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

use flate2::Compression;
use flate2::write::DeflateEncoder;

/// Packs every file of some folders below `root` for [`packed!`](crate::packed!); to be called by
/// a build script, whose folder for what it makes is `out`. A file packed before and not changed
/// since is left.
///
/// # Errors
/// If a file cannot be read or written, with its path.
pub fn pack(root: &Path, folders: &[&str], out: &Path) -> io::Result<()> {
    for folder in folders {
        let (from, to) = (root.join(folder), out.join("packed").join(folder));
        let told = |e: io::Error| io::Error::new(e.kind(), format!("{}: {e}", from.display()));
        fs::create_dir_all(&to).map_err(told)?;
        println!("cargo::rerun-if-changed={}", from.display());
        for file in fs::read_dir(&from).map_err(told)? {
            let file = file.map_err(told)?;
            if file.file_type().map_err(told)?.is_file() {
                pack_file(&file.path(), &to.join(file.file_name()))?;
            }
        }
    }
    Ok(())
}

fn pack_file(from: &Path, to: &Path) -> io::Result<()> {
    let told = |e: io::Error| io::Error::new(e.kind(), format!("{}: {e}", from.display()));
    println!("cargo::rerun-if-changed={}", from.display());
    let written = |path: &Path| fs::metadata(path).and_then(|m| m.modified());
    if written(to).is_ok_and(|packed| written(from).is_ok_and(|file| file < packed)) {
        return Ok(());
    }
    write(&fs::read(from).map_err(told)?, to).map_err(told)
}

/// Packs what a build script has in memory as the file `name` for [`packed!`](crate::packed!).
///
/// # Errors
/// If it cannot be written.
pub fn pack_bytes(bytes: &[u8], name: &str, out: &Path) -> io::Result<()> {
    let folder = out.join("packed");
    fs::create_dir_all(&folder)?;
    write(bytes, &folder.join(name))
}

fn write(bytes: &[u8], to: &Path) -> io::Result<()> {
    let mut packing = DeflateEncoder::new(Vec::new(), Compression::best());
    packing.write_all(bytes)?;
    fs::write(to, packing.finish()?)
}
