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
    /// Its name or a synonym has the same words in another order.
    Order,
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
            Self::Order => "same words in another order",
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
    sorted: HashMap<String, Vec<MaterialId>>,
    inci: HashMap<String, Vec<MaterialId>>,
    main_inci: HashMap<String, Vec<MaterialId>>,
    cas: HashMap<Cas, Vec<MaterialId>>,
    spellings: Vec<(Spelling, How, MaterialId)>,
    index: MaterialIndex,
}

/// A name made ready to be compared letter by letter.
#[derive(Debug)]
struct Spelling {
    /// Its letters without blanks and marks.
    letters: String,
    /// How many they are.
    count: usize,
    /// Which letters occur, one bit each: two names whose sets differ by more than two
    /// letters an edit cannot be near.
    set: u32,
    /// Its words with digits: "Polysorbate 80" is no misspelling of "Polysorbate 20".
    numbers: Vec<String>,
}

impl Spelling {
    fn of(name: &str) -> Self {
        let words = words_of(name);
        let letters = words.concat();
        Self {
            count: letters.chars().count(),
            set: letters
                .chars()
                .fold(0, |set, c| set | 1 << (u32::from(c) % 32)),
            letters,
            numbers: words
                .into_iter()
                .filter(|w| w.bytes().any(|b| b.is_ascii_digit()))
                .collect(),
        }
    }

    /// How many letters must be changed to get the other; `None` if more than one in six.
    /// Names of fewer letters are abbreviations, where one letter is another material:
    /// "SLES" is no misspelling of "ALES".
    fn edits_to(&self, other: &Self) -> Option<usize> {
        let most = self.count / 6;
        if self.count.abs_diff(other.count) > most
            || (self.set ^ other.set).count_ones() as usize > 2 * most
            || self.numbers != other.numbers
        {
            return None;
        }
        Some(strsim::osa_distance(&self.letters, &other.letters)).filter(|edits| *edits <= most)
    }
}

/// A name without case, accents and marks.
fn plain(text: &str) -> String {
    words_of(text).join(" ")
}

/// The words of a name in alphabetical order, so that "Demineralised water" equals
/// "Water, demineralised".
fn sorted(text: &str) -> String {
    let mut words = words_of(text);
    words.sort_unstable();
    words.join(" ")
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
            sorted: HashMap::new(),
            inci: HashMap::new(),
            main_inci: HashMap::new(),
            cas: HashMap::new(),
            spellings: Vec::new(),
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
        let mut spell = |name: &str, how| {
            let spelling = Spelling::of(name);
            self.spellings.push((spelling, how, id.clone()));
        };
        add(&mut self.names, plain(&material.name));
        add(&mut self.sorted, sorted(&material.name));
        spell(&material.name, How::Name);
        for synonym in &material.synonyms {
            add(&mut self.synonyms, plain(synonym));
            add(&mut self.sorted, sorted(synonym));
            spell(synonym, How::Synonym);
        }
        add(&mut self.inci, plain_list(&material.inci_line()));
        let main = material
            .constituents
            .iter()
            .filter(|c| c.incidental.is_none() && aqua(plain(&c.inci)) != "aqua")
            .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
            .or_else(|| material.constituents.first());
        if let Some(main) = main {
            let alone = material.inci_names().count() == 1;
            // A little water or preservative does not make it another material.
            let whole = alone || main.share.typical.value() >= NEARLY_PURE;
            let (map, how) = if whole {
                (&mut self.inci, How::Inci)
            } else {
                (&mut self.main_inci, How::MainInci)
            };
            if !alone {
                add(map, plain(&main.inci));
            }
            spell(&main.inci, how);
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
        for spelling in spellings {
            self.add(&mut found, self.sorted.get(&sorted(spelling)), How::Order);
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
            found.truncate(MOST);
            return found;
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

    /// Names that differ by about one letter in six, the nearest first; of equally near
    /// ones a name, then a synonym, then the INCI name of the whole material, then that
    /// of its main substance.
    fn add_misspelt(&self, found: &mut Vec<Candidate>, name: &str) {
        let wanted = Spelling::of(name);
        let mut near: Vec<(usize, How, &MaterialId)> = self
            .spellings
            .iter()
            .filter_map(|(spelling, how, id)| Some((wanted.edits_to(spelling)?, *how, id)))
            .collect();
        near.sort();
        for (_, _, id) in near.into_iter().take(MOST) {
            self.add(found, Some(&vec![id.clone()]), How::Misspelt);
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
        check(
            "Cocamidopropylbetain",
            "",
            "",
            Some(("coco-betaine", How::Misspelt)),
        );
        check(
            "water purified",
            "",
            "",
            Some(("purified-water", How::Order)),
        );
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
    fn an_abbreviation_is_not_taken_for_another() {
        let mut ales = Material::unknown(MaterialId::from_name("a"), "Ammonium laureth sulfate");
        ales.synonyms.push("ALES".into());
        let shelf: Shelf = [Arc::new(ales)].into_iter().collect();
        let matcher = Matcher::new(&shelf);
        let wanted = |name: &str| Wanted {
            name: name.into(),
            ..Wanted::default()
        };
        let how = |name| matcher.candidates(&wanted(name)).first().map(|c| c.how);
        assert_eq!(how("ALES"), Some(How::Synonym));
        assert!(!how("SLES").is_some_and(How::is_taken));
    }

    #[test]
    fn another_number_is_another_material() {
        check("Polysorbate 80", "", "", None);
    }
}
