//! Names with something beside them that is no part of them: the same in another tongue, or what
//! the material is for.

use super::{Resolution, Resolver, Wanted};
use crate::naming::fold::words_of;
use crate::naming::words::words;

/// A resolution that nobody needs to be asked about.
const fn is_sure(found: &Resolution) -> bool {
    found.taken && found.doubts.is_empty()
}

impl Resolver<'_> {
    /// What a name in two tongues means, "Talk / Talc": what both mean, and with a question what
    /// one means where the other is not known.
    pub(super) fn in_two_tongues(&self, wanted: &Wanted) -> Option<Resolution> {
        let (one, other) = wanted.name.split_once(" / ")?;
        if other.contains(" / ") || !wanted.inci.trim().is_empty() {
            return None;
        }
        let meant = |name: &str| {
            self.resolve_exactly(&Wanted {
                name: name.trim().to_owned(),
                ..wanted.clone()
            })
        };
        let (first, second) = (meant(one), meant(other));
        let (Some(best), Some(rival)) = (first.candidates.first(), second.candidates.first())
        else {
            let (mut found, rest) = if first.candidates.is_empty() {
                (second, one)
            } else {
                (first, other)
            };
            if !found.taken {
                return None;
            }
            found.doubts.push(format!(
                "“{}” beside the name may make it another material",
                rest.trim()
            ));
            return Some(found);
        };
        let has = |found: &Resolution, id| found.candidates.iter().any(|c| c.id == id);
        // The one that is sure says which of those of the other it is.
        if is_sure(&first) && has(&second, best.id.clone()) {
            return Some(first);
        }
        if is_sure(&second) && has(&first, rival.id.clone()) {
            return Some(second);
        }
        (first.taken && second.taken && best.id == rival.id).then_some(first)
    }

    /// What a name means with what it is for behind it, "Wasser für die Lauge"; always a question.
    pub(super) fn for_a_purpose(&self, wanted: &Wanted) -> Option<Resolution> {
        let mut places = wanted.name.match_indices(' ');
        let (name, rest) = places.find_map(|(at, _)| {
            let (name, rest) = wanted.name.split_at_checked(at)?;
            let first = words_of(rest.split_whitespace().next()?).concat();
            words().purposes.contains(&first).then_some((name, rest))
        })?;
        let mut found = self.resolve_exactly(&Wanted {
            name: name.trim_end_matches([',', ' ']).to_owned(),
            ..wanted.clone()
        });
        if !found.taken {
            return None;
        }
        found.doubts.push(format!(
            "“{}” beside the name may make it another material",
            rest.trim()
        ));
        Some(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::built_in;

    fn meant(name: &str) -> (Option<String>, bool) {
        let found = Resolver::new(built_in()).resolve(&Wanted::named(name));
        let first = found.candidates.first().filter(|_| found.taken);
        (
            first.map(|c| c.id.to_string()),
            found.taken && found.doubts.is_empty(),
        )
    }

    #[test]
    fn a_name_in_two_tongues_is_what_both_mean() {
        let sure = |name: &str, id: &str| assert_eq!(meant(name), (Some(id.to_owned()), true));
        sure("Bienenwachs / Cire d'abeille", "beeswax-white");
        sure("Milchsäure 80 % / Acide lactique 80 %", "lactic-acid-80");
        // The other is not known, or another material.
        let asked = meant("Olivenöl / Oliwka");
        assert!(!asked.1, "{asked:?}");
        assert!(!meant("Olivenöl / Sheabutter").1);
    }

    #[test]
    fn what_a_material_is_for_is_asked() {
        for name in [
            "Wasser für die Lauge",
            "Water for the lye",
            "Eau pour diluer",
        ] {
            let water = Some("water-demineralised".to_owned());
            assert_eq!(meant(name), (water, false), "{name}");
        }
    }
}
