//! Files carried in the program, packed when it is built and unpacked where they are read.
//!
//! A crate that carries files calls [`pack`] in its build script and names each file with
//! [`packed!`], which does not compile if there is no such file.
#![forbid(unsafe_code)]

mod pack;

use std::io::Read as _;

use flate2::read::DeflateDecoder;

pub use pack::{pack, pack_bytes};

/// A file carried in the program.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Packed(&'static [u8]);

impl Packed {
    /// A file as [`pack`] wrote it; use [`packed!`].
    pub const fn new(packed: &'static [u8]) -> Self {
        Self(packed)
    }

    /// What is in it, unpacked anew at each call; empty only if the program was built with a
    /// damaged file.
    pub fn bytes(self) -> Vec<u8> {
        let mut bytes = Vec::new();
        match DeflateDecoder::new(self.0).read_to_end(&mut bytes) {
            Ok(_) => bytes,
            Err(_) => Vec::new(),
        }
    }

    /// Its text, unpacked anew at each call; empty only if the program was built with a damaged
    /// file or one that is no text.
    pub fn text(self) -> String {
        String::from_utf8(self.bytes()).unwrap_or_default()
    }
}

/// The file of this path below the folder that the build script gave to [`pack`](crate::pack).
#[macro_export]
macro_rules! packed {
    ($path:expr) => {
        $crate::Packed::new(include_bytes!(concat!(env!("OUT_DIR"), "/packed/", $path)))
    };
}

#[cfg(test)]
#[expect(
    clippy::disallowed_methods,
    reason = "what a build script does is tried in a folder of its own"
)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn what_was_packed_comes_out_again() {
        let root = tempfile::tempdir().unwrap();
        let out = tempfile::tempdir().unwrap();
        fs::create_dir_all(root.path().join("lists/deeper")).unwrap();
        fs::write(root.path().join("lists/one.txt"), "Larkmoor ".repeat(1000)).unwrap();
        fs::write(root.path().join("lists/none.txt"), "").unwrap();
        pack(root.path(), &["lists"], out.path()).unwrap();
        let packed = |name: &str| {
            let path = out.path().join("packed/lists").join(name);
            Packed::new(fs::read(path).unwrap().leak())
        };
        assert_eq!(packed("one.txt").text(), "Larkmoor ".repeat(1000));
        assert!(packed("one.txt").0.len() < 200);
        assert_eq!(packed("none.txt").bytes(), Vec::<u8>::new());
        pack_bytes(b"Oat and juniper", "lists/two.txt", out.path()).unwrap();
        assert_eq!(packed("two.txt").text(), "Oat and juniper");
    }

    #[test]
    fn a_damaged_file_is_empty_and_a_missing_folder_is_named() {
        assert_eq!(Packed::new(&[7, 7, 7]).text(), "");
        let root = tempfile::tempdir().unwrap();
        let error = pack(root.path(), &["rules"], root.path()).unwrap_err();
        assert!(error.to_string().contains("rules"), "{error}");
    }
}
