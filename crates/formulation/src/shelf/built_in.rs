//! The built-in materials, embedded from `assets/materials`, and their everyday names,
//! from `assets/names`.

use std::sync::{Arc, OnceLock};

use packed::packed;

use super::Shelf;
use crate::material::Material;
use crate::notation::embedded::{Embedded, read_all};
use crate::notation::material_file;
use crate::notation::plain_names::{self, PlainName};
use crate::notation::read_error::ReadError;

/// The embedded files.
pub const FILES: &[Embedded] = &[
    (
        "acids_bases_salts.ron",
        packed!("materials/acids_bases_salts.ron"),
    ),
    (
        "actives_and_solvents.ron",
        packed!("materials/actives_and_solvents.ron"),
    ),
    (
        "amphoteric_surfactants.ron",
        packed!("materials/amphoteric_surfactants.ron"),
    ),
    (
        "anionic_surfactants.ron",
        packed!("materials/anionic_surfactants.ron"),
    ),
    ("antioxidants.ron", packed!("materials/antioxidants.ron")),
    (
        "colours_and_powders.ron",
        packed!("materials/colours_and_powders.ron"),
    ),
    ("conditioners.ron", packed!("materials/conditioners.ron")),
    ("emulsifiers.ron", packed!("materials/emulsifiers.ron")),
    (
        "esters_and_fatty_alcohols.ron",
        packed!("materials/esters_and_fatty_alcohols.ron"),
    ),
    ("fragrances.ron", packed!("materials/fragrances.ron")),
    ("humectants.ron", packed!("materials/humectants.ron")),
    (
        "nonionic_surfactants.ron",
        packed!("materials/nonionic_surfactants.ron"),
    ),
    (
        "oils_butters_waxes.ron",
        packed!("materials/oils_butters_waxes.ron"),
    ),
    ("preservatives.ron", packed!("materials/preservatives.ron")),
    ("thickeners.ron", packed!("materials/thickeners.ron")),
];

/// The built-in shelf. It is read once; a file that could not be read is left out,
/// and [`errors`] says why.
pub fn shelf() -> &'static Shelf {
    &content().0
}

/// What was wrong with embedded files; empty unless the program was built with a
/// damaged one.
pub fn errors() -> &'static [ReadError] {
    &content().1
}

/// Everyday and trade names of the built-in materials in several languages. Empty only if
/// the program was built with a damaged file, which [`plain_name_error`] then names.
pub fn plain_names() -> &'static [PlainName] {
    names().as_deref().unwrap_or_default()
}

/// What was wrong with the embedded file of names, if anything.
pub fn plain_name_error() -> Option<&'static ReadError> {
    names().as_ref().err()
}

fn names() -> &'static Result<Vec<PlainName>, ReadError> {
    static NAMES: OnceLock<Result<Vec<PlainName>, ReadError>> = OnceLock::new();
    NAMES.get_or_init(|| {
        plain_names::read(&packed!("names/plain_names.ron").text(), "plain_names.ron")
    })
}

fn content() -> &'static (Shelf, Vec<ReadError>) {
    static CONTENT: OnceLock<(Shelf, Vec<ReadError>)> = OnceLock::new();
    CONTENT.get_or_init(|| {
        let mut errors = Vec::new();
        let mut shelf = Shelf::new();
        let read = read_all(FILES, |_, (name, text)| material_file::read(text, name));
        for (&(name, _), outcome) in FILES.iter().zip(read) {
            match outcome {
                Ok(materials) => {
                    for material in materials {
                        insert(&mut shelf, material, name, &mut errors);
                    }
                }
                Err(error) => errors.push(error),
            }
        }
        (shelf, errors)
    })
}

fn insert(shelf: &mut Shelf, material: Material, file: &str, errors: &mut Vec<ReadError>) {
    if let Some(replaced) = shelf.insert(Arc::new(material)) {
        errors.push(ReadError::whole(
            file,
            format!("the material “{}” is in another file as well", replaced.id),
        ));
    }
}

#[cfg(test)]
mod tests {
    use crate::notation::plain_names::Language;

    #[test]
    fn every_embedded_file_is_read() {
        assert_eq!(super::errors(), []);
        assert_eq!(super::plain_name_error(), None);
    }

    #[test]
    fn every_plain_name_means_a_material_of_the_shelf() {
        for name in super::plain_names() {
            for id in name.materials.iter() {
                assert!(super::shelf().get(id).is_some(), "{}: {id}", name.name);
            }
        }
        for language in Language::ALL {
            let many = super::plain_names()
                .iter()
                .filter(|n| n.language == language)
                .count();
            assert!(many >= 150, "{many} names in {}", language.label());
        }
    }
}
