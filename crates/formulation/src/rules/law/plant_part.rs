//! Which part of a plant an oil or extract is from, told by its INCI name.
//!
//! Lists give one CAS number for the oils of several parts of a plant, yet the oil of the
//! flower is not that of the peel. Where both names tell a part, the parts must agree.

use crate::name_hash::name_contains;
use crate::substance_words::{is_plant_product, plant_parts};

/// What the name on the label tells of a plant.
pub(super) struct Plant<'n> {
    /// Its parts: see [`plant_parts`].
    parts: u8,
    /// Genus and species, if it is an oil or extract.
    species: Option<(&'n str, &'n str)>,
}

impl<'n> Plant<'n> {
    /// What a name tells.
    pub(super) fn of(name: &'n str) -> Self {
        Self {
            parts: plant_parts(name),
            species: species(name),
        }
    }

    /// Whether a constituent is of another part of the plant, or of another species of the
    /// genus that the list does not name either, though its CAS number is filed there. Never
    /// where one of the names does not tell.
    pub(super) fn differs_from(&self, inci: &str, listed: &str) -> bool {
        self.is_another_part(inci) || self.is_another_species(inci, listed)
    }

    fn is_another_part(&self, inci: &str) -> bool {
        self.parts != 0 && {
            let other = plant_parts(inci);
            other != 0 && self.parts & other == 0
        }
    }

    fn is_another_species(&self, inci: &str, listed: &str) -> bool {
        if let Some(named) = self.species
            && let Some(own) = species(inci)
        {
            own.0.eq_ignore_ascii_case(named.0)
                && !own.1.eq_ignore_ascii_case(named.1)
                && !name_contains(listed, own.1)
        } else {
            false
        }
    }
}

/// Genus and species with which the name of an oil or extract begins.
fn species(name: &str) -> Option<(&str, &str)> {
    let mut words = name
        .split(|c: char| !c.is_alphabetic())
        .filter(|w| !w.is_empty());
    let (genus, species) = (words.next()?, words.next()?);
    let is_plant = words.any(is_plant_product);
    (is_plant && !is_plant_product(species) && plant_parts(species) == 0)
        .then_some((genus, species))
}

#[cfg(test)]
mod tests {
    use super::Plant;

    /// Annex III, entries 352, 353 and 355, and names of the European inventory.
    #[test]
    fn lemon_eucalyptus_is_not_blue_gum() {
        for (inci, label, listed, expected) in [
            (
                "Eucalyptus Citriodora Oil",
                "Eucalyptus Globulus Oil",
                "Eucalyptus globulus oil",
                true,
            ),
            (
                "Eucalyptus Globulus Leaf Oil",
                "Eucalyptus Globulus Oil",
                "Eucalyptus globulus oil",
                false,
            ),
            (
                "Citrus Sinensis Peel Oil",
                "Citrus Aurantium Peel Oil",
                "Citrus aurantium and Citrus sinensis peel oil",
                false,
            ),
            (
                "Lavandula Latifolia Herb Oil",
                "Lavandula Oil/Extract",
                "Lavandula oil",
                false,
            ),
            ("Rose Ketone-4", "Rose Ketones", "ketones", false),
            // Of another genus, which the CAS number alone decides.
            (
                "Lavandula Latifolia Herb Oil",
                "Citrus Aurantium Peel Oil",
                "Citrus aurantium peel oil",
                false,
            ),
        ] {
            let differs = Plant::of(label).is_another_species(inci, listed);
            assert_eq!(differs, expected, "{inci}");
        }
    }

    /// INCI names as in the European inventory and Annex III, entries 349 to 351.
    #[test]
    fn the_oil_of_the_leaf_is_not_that_of_the_bark() {
        for (one, other, expected) in [
            (
                "Cinnamomum Zeylanicum Leaf Oil",
                "Cinnamomum Zeylanicum Bark Oil",
                true,
            ),
            (
                "Citrus Aurantium Amara Flower Oil",
                "Citrus Aurantium Peel Oil",
                true,
            ),
            (
                "Citrus Aurantium Amara Leaf/Twig Oil",
                "Citrus Aurantium Flower Oil",
                true,
            ),
            (
                "Citrus Aurantium Dulcis Peel Oil",
                "Citrus Aurantium Peel Oil",
                false,
            ),
            (
                "Eugenia Caryophyllus Bud Oil",
                "Eugenia Caryophyllus Leaf / Flower oil",
                false,
            ),
            (
                "Lavandula Oil / Extract",
                "Lavandula Angustifolia Herb Oil",
                false,
            ),
            ("Limonene", "Citrus Limon Peel Oil", false),
        ] {
            for (one, other) in [(one, other), (other, one)] {
                let differ = Plant::of(one).is_another_part(other);
                assert_eq!(differ, expected, "{one}, {other}");
            }
        }
    }

    /// Another part or another species alone is enough.
    #[test]
    fn either_the_part_or_the_species_tells_a_plant_apart() {
        for (inci, label, differs) in [
            (
                "Citrus Aurantium Flower Oil",
                "Citrus Aurantium Peel Oil",
                true,
            ),
            ("Eucalyptus Citriodora Oil", "Eucalyptus Globulus Oil", true),
            (
                "Citrus Aurantium Peel Oil",
                "Citrus Aurantium Peel Oil",
                false,
            ),
        ] {
            assert_eq!(
                Plant::of(label).differs_from(inci, label),
                differs,
                "{inci}"
            );
        }
    }
}
