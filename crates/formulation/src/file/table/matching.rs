//! Which material of the shelf a name in a table means.

use std::collections::HashMap;
use std::sync::Arc;

use crate::cas::Cas;
use crate::material::{Material, MaterialId};
use crate::search::{MaterialIndex, words_of};
use crate::shelf::Shelf;

/// How a match was found, the surest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum How {
    /// The maker chose it.
    Chosen,
    /// The name is the same.
    Name,
    /// The name is one of its synonyms.
    Synonym,
    /// The INCI names are the same.
    Inci,
    /// The CAS number is that of its only substance.
    Cas,
    /// The INCI name is that of its largest substance besides water.
    MainInci,
    /// The name differs by a few letters.
    Misspelt,
    /// All words of the name are found in it.
    Words,
}

impl How {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Chosen => "chosen by you",
            Self::Name => "same name",
            Self::Synonym => "a synonym",
            Self::Inci => "same INCI name",
            Self::Cas => "same CAS number",
            Self::MainInci => "INCI name of its main substance",
            Self::Misspelt => "similar spelling",
            Self::Words => "same words in another name",
        }
    }
    /// Whether it is taken unless the maker says otherwise. The rest are offered,
    /// and the name is taken as a new material until one is chosen.
    pub const fn is_taken(self) -> bool {
        !matches!(self, Self::Words)
    }
    /// Whether two readers of the table would doubt it.
    pub const fn is_doubtful(self) -> bool {
        matches!(self, Self::MainInci | Self::Misspelt | Self::Words)
    }
}

/// A material that a name may mean.
#[derive(Clone, PartialEq, Debug)]
pub struct Candidate {
    /// Which.
    pub id: MaterialId,
    /// Its name.
    pub name: Arc<str>,
    /// How it was found.
    pub how: How,
}

/// What a row of a table says about its material.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Wanted {
    /// Name as written.
    pub name: String,
    /// INCI name; several joined by commas.
    pub inci: String,
    /// CAS number.
    pub cas: Option<Cas>,
    /// Supplier.
    pub supplier: String,
}

/// A material of which one substance makes up this share of 1 goes by its INCI name.
const NEARLY_PURE: f64 = 0.9;
/// Most candidates listed for a name.
const MOST: usize = 6;

/// The names of a shelf, ready to be matched.
#[derive(Debug)]
pub struct Matcher<'s> {
    shelf: &'s Shelf,
    names: HashMap<String, Vec<MaterialId>>,
    synonyms: HashMap<String, Vec<MaterialId>>,
    inci: HashMap<String, Vec<MaterialId>>,
    main_inci: HashMap<String, Vec<MaterialId>>,
    cas: HashMap<Cas, Vec<MaterialId>>,
    index: MaterialIndex,
}

/// A name without case, accents, marks and the order of nothing.
fn plain(text: &str) -> String {
    words_of(text).join(" ")
}

/// The INCI names of a list, each plain, in alphabetical order, so that lists in
/// another order compare equal.
fn plain_list(text: &str) -> String {
    let mut names: Vec<String> = text
        .split([',', ';', '/', '\n'])
        .map(|n| aqua(plain(n)))
        .filter(|n| !n.is_empty())
        .collect();
    names.sort_unstable();
    names.dedup();
    names.join("|")
}

/// "Water" and "Aqua (Water)" are the same INCI name.
fn aqua(name: String) -> String {
    match name.as_str() {
        "water" | "aqua water" | "water aqua" | "eau" | "aqua water eau" => "aqua".to_owned(),
        "parfum fragrance" | "fragrance parfum" | "fragrance" => "parfum".to_owned(),
        _ => name,
    }
}

impl<'s> Matcher<'s> {
    /// Prepares a shelf.
    pub fn new(shelf: &'s Shelf) -> Self {
        let mut matcher = Self {
            shelf,
            names: HashMap::new(),
            synonyms: HashMap::new(),
            inci: HashMap::new(),
            main_inci: HashMap::new(),
            cas: HashMap::new(),
            index: MaterialIndex::new(shelf.iter()),
        };
        for material in shelf.iter() {
            matcher.learn(material);
        }
        matcher
    }

    fn learn(&mut self, material: &Material) {
        let id = &material.id;
        let add = |map: &mut HashMap<String, Vec<MaterialId>>, key: String| {
            if !key.is_empty() {
                let ids = map.entry(key).or_default();
                if !ids.contains(id) {
                    ids.push(id.clone());
                }
            }
        };
        add(&mut self.names, plain(&material.name));
        for synonym in &material.synonyms {
            add(&mut self.synonyms, plain(synonym));
        }
        add(&mut self.inci, plain_list(&material.inci_line()));
        let main = material
            .constituents
            .iter()
            .filter(|c| c.incidental.is_none() && aqua(plain(&c.inci)) != "aqua")
            .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()));
        if let Some(main) = main
            && material.inci_names().count() > 1
        {
            // A little water or preservative does not make it another material.
            let nearly_pure = main.share.typical.value() >= NEARLY_PURE;
            let map = if nearly_pure {
                &mut self.inci
            } else {
                &mut self.main_inci
            };
            add(map, plain(&main.inci));
        }
        if let [only] = material.constituents.as_slice()
            && let Some(cas) = only.cas
        {
            self.cas.entry(cas).or_default().push(id.clone());
        }
    }

    /// The shelf.
    pub fn shelf(&self) -> &'s Shelf {
        self.shelf
    }

    /// The materials that a row may mean, the surest first. Of several found in the
    /// same way, one of the named supplier comes first, then the plainest name.
    pub fn candidates(&self, wanted: &Wanted) -> Vec<Candidate> {
        let mut found: Vec<Candidate> = Vec::new();
        let (outer, inner) = split_brackets(&wanted.name);
        let spellings = [wanted.name.as_str(), outer, inner];
        for spelling in spellings {
            self.add(&mut found, self.names.get(&plain(spelling)), How::Name);
        }
        for spelling in spellings {
            self.add(
                &mut found,
                self.synonyms.get(&plain(spelling)),
                How::Synonym,
            );
        }
        for spelling in [wanted.inci.as_str(), wanted.name.as_str(), outer, inner] {
            self.add(&mut found, self.inci.get(&plain_list(spelling)), How::Inci);
        }
        if let Some(cas) = wanted.cas {
            self.add(&mut found, self.cas.get(&cas), How::Cas);
        }
        for spelling in [wanted.inci.as_str(), wanted.name.as_str(), outer, inner] {
            self.add(
                &mut found,
                self.main_inci.get(&plain(spelling)),
                How::MainInci,
            );
        }
        if found.is_empty() {
            self.add_misspelt(&mut found, outer);
            self.add_words(&mut found, outer, &wanted.inci);
        }
        let of_supplier = |c: &Candidate| {
            !wanted.supplier.is_empty()
                && self
                    .shelf
                    .get(&c.id)
                    .and_then(|m| m.supplier.as_deref())
                    .is_some_and(|s| plain(s) == plain(&wanted.supplier))
        };
        found.sort_by_cached_key(|c| {
            (
                c.how,
                !of_supplier(c),
                c.name.split_whitespace().count(),
                c.name.len(),
                c.id.clone(),
            )
        });
        found.truncate(MOST);
        found
    }

    fn add(&self, found: &mut Vec<Candidate>, ids: Option<&Vec<MaterialId>>, how: How) {
        for id in ids.into_iter().flatten() {
            if !found.iter().any(|c| c.id == *id)
                && let Some(material) = self.shelf.get(id)
            {
                found.push(Candidate {
                    id: id.clone(),
                    name: material.name.clone(),
                    how,
                });
            }
        }
    }

    /// A name that differs by about one letter in six, and not in its numbers:
    /// "Polysorbate 80" is no misspelling of "Polysorbate 20".
    fn add_misspelt(&self, found: &mut Vec<Candidate>, name: &str) {
        let wanted = plain(name);
        let numbers = |text: &str| -> Vec<String> {
            words_of(text)
                .into_iter()
                .filter(|w| w.bytes().any(|b| b.is_ascii_digit()))
                .collect()
        };
        let near = |other: &str| {
            let other = plain(other);
            let edits = strsim::osa_distance(&wanted, &other);
            edits * 6 <= wanted.chars().count().max(6) && numbers(&wanted) == numbers(&other)
        };
        for (id, _) in self.index.nearest_names(name, MOST) {
            if let Some(material) = self.shelf.get(&id)
                && near(&material.name)
            {
                self.add(found, Some(&vec![id]), How::Misspelt);
            }
        }
        for id in self.index.search(name, 2 * MOST) {
            if let Some(material) = self.shelf.get(&id)
                && (material.synonyms.iter().any(|s| near(s))
                    || material.inci_names().any(|i| near(i)))
            {
                self.add(found, Some(&vec![id]), How::Misspelt);
            }
        }
    }

    fn add_words(&self, found: &mut Vec<Candidate>, name: &str, inci: &str) {
        for words in [name, inci] {
            if !words_of(words).is_empty() {
                let ids = self.index.search(words, MOST);
                self.add(found, Some(&ids), How::Words);
            }
        }
    }
}

/// "Coco betaine (Cocamidopropyl Betaine)" as the part before and the part within
/// the brackets.
fn split_brackets(name: &str) -> (&str, &str) {
    let Some((outer, rest)) = name.split_once('(') else {
        return (name, "");
    };
    if outer.trim().is_empty() {
        return (name, "");
    }
    let inner = rest.rsplit_once(')').map_or(rest, |(inner, _)| inner);
    (outer, inner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Class, Constituent};
    use crate::quantity::{MassFraction, Spread};

    fn solution(name: &str, inci: &str, percent: f64) -> Arc<Material> {
        let mut m = Material::unknown(MaterialId::from_name(name), name);
        for (inci, percent, class) in [
            ("Aqua", 100.0 - percent, Class::Water),
            (inci, percent, Class::Other),
        ] {
            m.constituents.push(Constituent {
                inci: inci.into(),
                cas: None,
                share: Spread::exact(MassFraction::from_percent(percent)),
                class,
                incidental: None,
                source: None,
            });
        }
        Arc::new(m)
    }

    fn shelf() -> Shelf {
        let pure = |name: &str, inci: &str, cas: &str| {
            Arc::new(Material::pure(
                MaterialId::from_name(name),
                name,
                inci,
                cas.parse().ok(),
                Class::Other,
            ))
        };
        let mut betaine =
            Material::clone(&solution("Coco betaine", "Cocamidopropyl Betaine", 30.0));
        betaine.synonyms.push("CAPB 30".into());
        [
            pure("Purified water", "Aqua", "7732-18-5"),
            pure("Glycerin", "Glycerin", "56-81-5"),
            pure("Polysorbate 20", "Polysorbate 20", "9005-64-5"),
            Arc::new(betaine),
        ]
        .into_iter()
        .collect()
    }

    fn check(name: &str, inci: &str, cas: &str, expected: Option<(&str, How)>) {
        let shelf = shelf();
        let matcher = Matcher::new(&shelf);
        let found = matcher.candidates(&Wanted {
            name: name.into(),
            inci: inci.into(),
            cas: cas.parse().ok(),
            supplier: String::new(),
        });
        assert_eq!(
            found.first().map(|c| (c.id.as_str(), c.how)),
            expected,
            "for “{name}” “{inci}” “{cas}”"
        );
    }

    #[test]
    fn names_are_matched_in_every_way() {
        check("GLYCERIN", "", "", Some(("glycerin", How::Name)));
        check("capb-30", "", "", Some(("coco-betaine", How::Synonym)));
        check(
            "Spring water",
            "Water (Aqua)",
            "",
            Some(("purified-water", How::Inci)),
        );
        check("Water", "", "", Some(("purified-water", How::Inci)));
        check(
            "Vegetable stuff",
            "",
            "56-81-5",
            Some(("glycerin", How::Cas)),
        );
        check(
            "Foamer",
            "Cocamidopropyl Betaine, Aqua",
            "",
            Some(("coco-betaine", How::Inci)),
        );
        check(
            "Foamer",
            "Cocamidopropyl Betaine",
            "",
            Some(("coco-betaine", How::MainInci)),
        );
        check(
            "Foamer (Cocamidopropyl Betaine)",
            "",
            "",
            Some(("coco-betaine", How::MainInci)),
        );
        check("Glycerine", "", "", Some(("glycerin", How::Misspelt)));
        check(
            "Polysorbat 20",
            "",
            "",
            Some(("polysorbate-20", How::Misspelt)),
        );
        check("Coco betain", "", "", Some(("coco-betaine", How::Misspelt)));
        check("betaine", "", "", Some(("coco-betaine", How::Words)));
        check("Oat silk", "", "", None);
    }

    #[test]
    fn a_nearly_pure_material_goes_by_its_inci_name() {
        let shelf: Shelf = [
            solution("Glycerin 86 %", "Glycerin", 86.0),
            solution("Glycerin 99.5 %", "Glycerin", 99.5),
        ]
        .into_iter()
        .collect();
        let found = Matcher::new(&shelf).candidates(&Wanted {
            name: "Glycerin".into(),
            ..Wanted::default()
        });
        let told: Vec<(&str, How)> = found.iter().map(|c| (&*c.name, c.how)).collect();
        assert_eq!(
            told,
            [
                ("Glycerin 99.5 %", How::Inci),
                ("Glycerin 86 %", How::MainInci)
            ]
        );
    }

    #[test]
    fn another_number_is_another_material() {
        check("Polysorbate 80", "", "", None);
    }
}
