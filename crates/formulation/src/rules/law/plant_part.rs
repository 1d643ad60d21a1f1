//! Which part of a plant an oil or extract is from, told by its INCI name.
//!
//! Lists give one CAS number for the oils of several parts of a plant, yet the oil of the
//! flower is not that of the peel. Where both names tell a part, the parts must agree.

/// Words for the parts of a plant; what stands in one row is one part, or grows together
/// so closely that names use one for the other.
const PARTS: [&[&str]; 8] = [
    &["flower", "bud"],
    &["peel", "fruit", "rind"],
    &["leaf", "twig", "needle", "herb", "stem", "branch", "top"],
    &["bark"],
    &["wood"],
    &["root", "rhizome", "bulb"],
    &["seed", "kernel", "nut"],
    &["cone"],
];

/// The parts of a plant that a name tells of: rows of [`PARTS`], as bits.
#[derive(Clone, Copy)]
pub(super) struct Parts(u8);

impl Parts {
    /// Those that a name tells of.
    pub(super) fn of(name: &str) -> Self {
        Self(parts(name))
    }

    /// Whether another name tells of different parts; never where one of them tells of none.
    pub(super) fn differ_from(self, other: &str) -> bool {
        self.0 != 0 && {
            let other = parts(other);
            other != 0 && self.0 & other == 0
        }
    }
}

fn parts(name: &str) -> u8 {
    name.split(|c: char| !c.is_alphabetic())
        .filter_map(|word| {
            PARTS
                .iter()
                .position(|row| row.iter().any(|part| part.eq_ignore_ascii_case(word)))
        })
        .fold(0, |bits, row| bits | 1 << row)
}

#[cfg(test)]
mod tests {
    use super::Parts;

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
                let differ = Parts::of(one).differ_from(other);
                assert_eq!(differ, expected, "{one}, {other}");
            }
        }
    }
}
