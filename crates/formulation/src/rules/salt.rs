//! Salts by their names: an entry names a substance, a shelf the salt of it, which has a CAS
//! number of its own.

use crate::name_hash::{Hashes, folded_hash};

/// How salts are named.
#[derive(Clone, Debug, Default)]
pub struct SaltNames {
    after: Hashes,
    before: Hashes,
    water: Hashes,
}

/// The name of a substance whose salt was named: the beginning as written, and for an acid
/// the end that its ion has not.
#[derive(Clone, Copy, Debug)]
pub struct Base<'n> {
    stem: &'n str,
    ending: &'static str,
}

impl Base<'_> {
    /// Its letters.
    pub fn bytes(self) -> impl Iterator<Item = u8> {
        self.stem.bytes().chain(self.ending.bytes())
    }
    /// Whether it is this name, whatever the case.
    pub fn is(self, name: &str) -> bool {
        name.len() == self.stem.len() + self.ending.len()
            && (self.bytes().zip(name.bytes())).all(|(a, b)| a.eq_ignore_ascii_case(&b))
    }
}

impl SaltNames {
    /// Words that end the name of a salt, that begin it, and words on water of crystals.
    pub fn of<W: AsRef<str>>(after: &[W], before: &[W], water: &[W]) -> Self {
        fn hashed<W: AsRef<str>>(words: &[W]) -> Hashes {
            let hash = |word: &W| folded_hash(word.as_ref().bytes());
            words.iter().map(hash).collect()
        }
        Self {
            after: hashed(after),
            before: hashed(before),
            water: hashed(water),
        }
    }

    /// Calls `found` with every substance whose salt a name may be.
    pub fn bases<'n>(&self, name: &'n str, mut found: impl FnMut(Base<'n>)) {
        let knows = |words: &Hashes, word: &str| words.contains(&folded_hash(word.bytes()));
        let mut name = name.trim();
        if let Some((salt, last)) = name.rsplit_once(' ')
            && knows(&self.water, last)
        {
            name = salt;
        }
        // The acid or metal at the end may be of two words.
        let mut rest = name;
        for _ in 0..2 {
            let Some((stem, _)) = rest.rsplit_once(' ') else {
                break;
            };
            let word = name.get(stem.len() + 1..).unwrap_or_default();
            if knows(&self.after, word) {
                found(Base { stem, ending: "" });
            }
            rest = stem;
        }
        let Some((_, acid)) = (name.split_once([' ', '-'])).filter(|(f, _)| knows(&self.before, f))
        else {
            return;
        };
        found(Base {
            stem: acid,
            ending: "",
        });
        let cut = acid.len().saturating_sub(3);
        if let (Some(stem), Some(end)) = (acid.get(..cut), acid.get(cut..))
            && end.eq_ignore_ascii_case("ate")
        {
            found(Base {
                stem,
                ending: "ic acid",
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_substance_behind_a_salt() {
        let names = SaltNames::of(
            &["HCl", "Hydrogen Sulfate", "Sodium"],
            &["Sodium", "TEA"],
            &["Monohydrate"],
        );
        let of = |name: &str| {
            let mut all = Vec::new();
            names.bases(name, |b| {
                all.push(String::from_utf8(b.bytes().collect()).unwrap());
            });
            all
        };
        assert_eq!(of("Lidocaine HCl"), ["Lidocaine"]);
        assert_eq!(of("lidocaine hcl monohydrate"), ["lidocaine"]);
        assert_eq!(of("Quinine hydrogen sulfate"), ["Quinine"]);
        assert_eq!(of("Sodium Retinoate"), ["Retinoate", "Retinoic acid"]);
        assert_eq!(of("TEA-Salicylate"), ["Salicylate", "Salicylic acid"]);
        assert_eq!(of("Warfarin Sodium"), ["Warfarin"]);
        for none in ["Glycerin", "Sodium", "Coco-Glucoside", "Butyl Acetate", ""] {
            assert_eq!(of(none), [""; 0], "{none}");
        }
    }
}
