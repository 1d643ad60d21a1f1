//! The public inventory of cosmetic ingredients: INCI names with CAS numbers and
//! functions, to complete a new material in seconds.
//!
//! Names, CAS numbers and functions are those of the European Commission's CosIng
//! ingredient inventory (export of about 2021 to 2022). They are facts about names:
//! a listed name is not thereby allowed, and the functions are as the industry
//! reported them. Only the first CAS number of each name is known.

use std::collections::HashMap;
use std::sync::{LazyLock, OnceLock};

use packed::{Packed, packed};

use crate::cas::Cas;
use crate::inci::{Inci, InciKey};
use crate::material::{Basis, Charge, Class, Role, Source};
use crate::search::{FoundIn, Index, IndexBuilder};
use crate::shelf::built_in;

/// The inventory in its compact form; its head says how to read and how to remake it.
const INVENTORY: Packed = packed!("inventory/inci.txt");

/// One name of the inventory.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct InventoryName {
    /// INCI name in capitals, as the inventory prints it.
    pub name: &'static str,
    /// First CAS number, if one is given and its check digit is right.
    pub cas: Option<Cas>,
    functions: &'static str,
}

impl InventoryName {
    /// The functions reported, in the inventory's words.
    pub fn functions(&self) -> impl Iterator<Item = &'static str> {
        let table = &inventory().functions;
        self.functions
            .as_bytes()
            .chunks(2)
            .filter_map(|code| function_of(table, code))
    }

    /// The roles that the functions stand for.
    pub fn roles(&self) -> Vec<Role> {
        let mut roles = Vec::new();
        for role in self.functions().filter_map(role_of) {
            if !roles.contains(&role) {
                roles.push(role);
            }
        }
        if roles.contains(&Role::UvFilter) {
            roles.retain(|role| *role != Role::Fragrance);
        }
        roles
    }

    /// What the substance would be counted as: as on the shelf, where it stands in a raw
    /// material; else by its name, where that tells the charge of what washes; else by its
    /// functions. A proposal for the maker to confirm, [`Class::Other`] where none of them
    /// tells.
    pub fn likely_class(&self) -> Class {
        if let Some(class) = ON_SHELF.get(&Inci::from(self.name).key()) {
            return *class;
        }
        let has = |test: fn(&str) -> bool| self.functions().any(test);
        let washes = has(|f| f.contains("Cleansing") || f == "Foaming");
        if let Some(charge) = charge_in_name(&self.name.to_lowercase()).filter(|_| washes) {
            return Class::Surfactant(charge);
        }
        // What washes and does not tell its charge is left to the maker, whatever else it does.
        if washes && !has(|f| f == "Surfactant - Emulsifying") {
            return Class::Other;
        }
        CLASS_OF_FUNCTION
            .iter()
            .find(|(function, _)| self.functions().any(|f| f == *function))
            .map_or(Class::Other, |(_, class)| *class)
    }

    /// The name in the mixed case usual on labels: words of letters only begin with
    /// a capital, words with digits and known abbreviations stay as they are.
    pub fn label_name(&self) -> String {
        let mut out = String::with_capacity(self.name.len());
        let mut word = String::new();
        for c in self.name.chars().chain(std::iter::once(' ')) {
            if c.is_alphabetic() {
                word.push(c);
                continue;
            }
            if ABBREVIATIONS.contains(&word.as_str()) {
                out.push_str(&word);
            } else {
                let mut letters = word.chars();
                out.extend(letters.next());
                out.push_str(&letters.as_str().to_lowercase());
            }
            word.clear();
            out.push(c);
        }
        out.truncate(out.trim_end().len());
        out
    }
}

/// What each substance of the built-in shelf is counted as, by its INCI name;
/// of several the one that most of a raw material consists of.
static ON_SHELF: LazyLock<HashMap<InciKey, Class>> = LazyLock::new(|| {
    let mut most: HashMap<InciKey, (f64, Class)> = HashMap::new();
    let shelf = built_in::shelf().iter();
    for c in shelf.flat_map(|m| &m.constituents) {
        let share = c.share.typical.value();
        let known = most.entry(c.inci.key()).or_insert((share, c.class));
        if share > known.0 {
            *known = (share, c.class);
        }
    }
    let classes = most.into_iter().map(|(name, (_, class))| (name, class));
    classes.collect()
});

/// The charge class that an INCI name speaks of by the conventions of INCI
/// nomenclature: endings that name the head group. The name is in small letters; from general
/// knowledge of the nomenclature.
pub fn charge_in_name(name: &str) -> Option<Charge> {
    const HEADS: [(&str, Charge); 22] = [
        ("betaine", Charge::Amphoteric),
        ("sultaine", Charge::Amphoteric),
        ("amphoacetate", Charge::Amphoteric),
        ("amphodiacetate", Charge::Amphoteric),
        ("amphopropionate", Charge::Amphoteric),
        ("amine oxide", Charge::Amphoteric),
        ("trimonium", Charge::Cationic),
        ("dimonium", Charge::Cationic),
        ("quaternium", Charge::Cationic),
        ("alkonium chloride", Charge::Cationic),
        ("sulfosuccinate", Charge::Anionic),
        ("sulfoacetate", Charge::Anionic),
        ("sulfonate", Charge::Anionic),
        ("isethionate", Charge::Anionic),
        ("sarcosinate", Charge::Anionic),
        ("glutamate", Charge::Anionic),
        ("taurate", Charge::Anionic),
        ("lauryl sulfate", Charge::Anionic),
        ("eth sulfate", Charge::Anionic),
        ("coco-sulfate", Charge::Anionic),
        ("coco sulfate", Charge::Anionic),
        ("glucoside", Charge::NonIonic),
    ];
    // Soaps are left to the maker: a stearate of a metal is a soap or a coating of a pigment.
    HEADS
        .iter()
        .find(|(head, _)| name.contains(head))
        .map(|(_, charge)| *charge)
}

/// Which class a reported function points to, the most telling function first. Our
/// own reading of the words.
const CLASS_OF_FUNCTION: [(&str, Class); 22] = [
    ("Preservative", Class::Preservative),
    ("Colorant", Class::Colour),
    ("Hair Dyeing", Class::Colour),
    ("Chelating", Class::Chelator),
    ("Buffering", Class::AcidBase),
    ("Ph Adjusters", Class::AcidBase),
    ("Humectant", Class::Humectant),
    ("Skin Conditioning - Humectant", Class::Humectant),
    ("Moisturising", Class::Humectant),
    ("Surfactant - Emulsifying", Class::Emulsifier),
    ("Skin Conditioning - Emollient", Class::Oil),
    ("Skin Conditioning - Occlusive", Class::Oil),
    ("Gel Forming", Class::Thickener),
    ("Viscosity Controlling", Class::Thickener),
    ("Emulsion Stabilising", Class::Thickener),
    ("Antioxidant", Class::Antioxidant),
    // What filters UV light is no scent, whatever else is reported.
    ("Uv Filter", Class::Other),
    ("Fragrance", Class::Fragrance),
    ("Perfuming", Class::Fragrance),
    ("Antistatic", Class::Conditioner),
    ("Hair Conditioning", Class::Conditioner),
    ("Solvent", Class::Solvent),
];

/// Parts of INCI names that are written in capitals throughout. From general
/// knowledge of INCI spelling.
const ABBREVIATIONS: [&str; 25] = [
    "AMP", "BHA", "BHT", "BIS", "CI", "DEA", "DM", "DMDM", "DNA", "EDTA", "HC", "HDI", "HEDTA",
    "IPDI", "MEA", "MIPA", "PABA", "PCA", "PEG", "PG", "PPG", "PVP", "TEA", "VA", "VP",
];

/// The role a reported function stands for; `None` for functions that say nothing
/// about the work done in a formula. Our own reading of the words.
fn role_of(function: &str) -> Option<Role> {
    Some(match function {
        "Solvent" => Role::Solvent,
        "Surfactant - Cleansing" | "Cleansing" => Role::Surfactant,
        "Surfactant - Foam Boosting" | "Foaming" => Role::Foamer,
        "Surfactant - Hydrotrope" | "Surfactant - Solubilizing" => Role::Solubiliser,
        "Surfactant - Emulsifying" => Role::Emulsifier,
        "Viscosity Controlling" | "Gel Forming" => Role::Thickener,
        "Emulsion Stabilising" => Role::CoEmulsifier,
        "Surfactant - Dispersing" | "Dispersing Non-Surfactant" => Role::Suspending,
        "Humectant" | "Skin Conditioning - Humectant" | "Moisturising" => Role::Humectant,
        "Skin Conditioning - Emollient" | "Skin Conditioning - Occlusive" => Role::Emollient,
        "Refatting" => Role::Refatting,
        "Antistatic" | "Hair Conditioning" | "Detangling" => Role::Conditioner,
        "Film Forming" | "Hair Fixing" => Role::FilmFormer,
        "Chelating" => Role::Chelator,
        "Buffering" => Role::Buffer,
        "Preservative" => Role::Preservative,
        "Antioxidant" => Role::Antioxidant,
        "Fragrance" | "Perfuming" => Role::Fragrance,
        "Colorant" | "Hair Dyeing" => Role::Colourant,
        "Pearlescent" => Role::Pearliser,
        "Opacifying" => Role::Opacifier,
        "Abrasive" | "Exfoliating" => Role::Exfoliant,
        "Absorbent" | "Anticaking" | "Bulking" => Role::Absorbent,
        "Uv Filter" | "Uv Absorber" => Role::UvFilter,
        "Refreshing" => Role::Cooling,
        "Skin Conditioning"
        | "Skin Conditioning - Miscellaneous"
        | "Skin Protecting"
        | "Soothing"
        | "Anti-Sebum"
        | "Anti-Seborrheic"
        | "Astringent"
        | "Keratolytic"
        | "Smoothing" => Role::SkinActive,
        _ => return None,
    })
}

/// All names, ready for lookup.
#[derive(Debug)]
pub struct Inventory {
    /// Sorted by name.
    entries: Vec<InventoryName>,
    /// Code and words, sorted by code.
    functions: Vec<(&'static str, &'static str)>,
    /// Places in `entries`, sorted by CAS.
    by_cas: Vec<(Cas, u32)>,
    /// CAS numbers left out because their check digit is wrong.
    dropped_cas: usize,
    index: OnceLock<Index>,
}

/// The inventory; read on first use, which takes a few milliseconds.
pub fn inventory() -> &'static Inventory {
    static TEXT: LazyLock<String> = LazyLock::new(|| INVENTORY.text());
    static READ: OnceLock<Inventory> = OnceLock::new();
    READ.get_or_init(|| Inventory::read(&TEXT))
}

/// The source named beside every value taken from the inventory.
pub fn source() -> Source {
    Source::new(
        Basis::Published,
        "European Commission, CosIng ingredient inventory, export of about 2021 to 2022",
    )
}

impl Inventory {
    /// Reads the compact form. Every line is one of: `# remark`, `= code words`,
    /// `! number` of dropped CAS numbers, or `NAME<tab>CAS<tab>codes`, sorted by name.
    fn read(text: &'static str) -> Self {
        let mut entries = Vec::with_capacity(29_000);
        let mut functions = Vec::new();
        let mut dropped_cas = 0;
        for line in text.lines() {
            if let Some(function) = line.strip_prefix("= ") {
                functions.extend(function.split_once(' '));
            } else if let Some(count) = line.strip_prefix("! ") {
                dropped_cas = count.trim().parse().unwrap_or(0);
            } else if !line.is_empty() && !line.starts_with("# ") {
                let mut cells = line.split('\t');
                entries.push(InventoryName {
                    name: cells.next().unwrap_or_default(),
                    cas: cells.next().and_then(|cas| cas.parse().ok()),
                    functions: cells.next().unwrap_or_default(),
                });
            }
        }
        let mut by_cas: Vec<(Cas, u32)> = entries
            .iter()
            .enumerate()
            .filter_map(|(place, entry)| Some((entry.cas?, place as u32)))
            .collect();
        by_cas.sort_unstable();
        Self {
            entries,
            functions,
            by_cas,
            dropped_cas,
            index: OnceLock::new(),
        }
    }

    /// All entries, sorted by name.
    pub fn entries(&self) -> &[InventoryName] {
        &self.entries
    }

    /// How many CAS numbers of the published file were left out because their check
    /// digit is wrong.
    pub const fn dropped_cas(&self) -> usize {
        self.dropped_cas
    }

    /// The entry of a name, compared without regard to case and outer blanks.
    pub fn by_name(&self, name: &str) -> Option<&InventoryName> {
        let name = name.trim().to_uppercase();
        let place = self
            .entries
            .binary_search_by(|e| e.name.cmp(name.as_str()))
            .ok()?;
        self.entries.get(place)
    }

    /// All entries with a CAS number, by name.
    pub fn by_cas(&self, cas: Cas) -> impl Iterator<Item = &InventoryName> {
        let from = self.by_cas.partition_point(|(c, _)| *c < cas);
        self.by_cas
            .get(from..)
            .unwrap_or_default()
            .iter()
            .take_while(move |(c, _)| *c == cas)
            .filter_map(|(_, place)| self.entries.get(*place as usize))
    }

    /// Entries whose words fit the query, best first; see [`Index::search`].
    pub fn search(&self, query: &str, most: usize) -> Vec<&InventoryName> {
        self.index()
            .search(query, most)
            .into_iter()
            .filter_map(|hit| self.entries.get(hit.entry as usize))
            .collect()
    }

    /// Entries spelt most like `name`, nearest first.
    pub fn nearest(&self, name: &str, most: usize) -> Vec<&InventoryName> {
        self.index()
            .nearest_names(name, most)
            .into_iter()
            .filter_map(|hit| self.entries.get(hit.entry as usize))
            .collect()
    }

    /// Makes the search index, if it is not there yet.
    pub fn make_ready(&self) {
        self.index();
    }

    /// The search index, made on first use.
    fn index(&self) -> &Index {
        self.index.get_or_init(|| {
            let mut builder = IndexBuilder::default();
            for entry in &self.entries {
                let cas = entry.cas.map(|c| c.to_string());
                builder.add(entry.name, cas.iter().map(|c| (FoundIn::Cas, c.as_str())));
            }
            builder.build()
        })
    }
}

fn function_of(table: &[(&'static str, &'static str)], code: &[u8]) -> Option<&'static str> {
    let place = table
        .binary_search_by(|(known, _)| known.as_bytes().cmp(code))
        .ok()?;
    table.get(place).map(|(_, words)| *words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_whole_inventory_is_there_and_sorted() {
        let inventory = inventory();
        // The published file has 28,712 rows, 9 of which repeat a name, and 32 CAS
        // numbers with a wrong check digit (counted by a separate script).
        assert_eq!(inventory.entries().len(), 28_703);
        assert_eq!(inventory.dropped_cas(), 32);
        assert!(
            inventory
                .entries()
                .windows(2)
                .all(|w| w[0].name < w[1].name)
        );
        assert!(inventory.functions.windows(2).all(|w| w[0].0 < w[1].0));
        for entry in inventory.entries() {
            assert_eq!(entry.functions().count() * 2, entry.functions.len());
        }
    }

    #[test]
    fn published_pairs_of_name_and_cas_are_found() {
        // INCI and CAS pairs as printed in Regulation (EC) No 1223/2009, Annexes III
        // and V, and in the inventory itself.
        for (name, cas) in [
            ("Glycerin", "56-81-5"),
            ("Sodium Benzoate", "532-32-1"),
            ("Phenoxyethanol", "122-99-6"),
            ("Citric Acid", "77-92-9"),
            ("Sodium Chloride", "7647-14-5"),
            ("Potassium Sorbate", "24634-61-5"),
            ("Benzyl Alcohol", "100-51-6"),
            ("Limonene", "5989-27-5"),
        ] {
            let cas: Cas = cas.parse().unwrap();
            let found = inventory()
                .by_name(name)
                .unwrap_or_else(|| panic!("{name}"));
            if let Some(known) = found.cas {
                assert!(
                    known == cas || name == "Limonene",
                    "{name}: {known} instead of {cas}"
                );
            }
        }
        assert!(
            inventory()
                .by_cas("56-81-5".parse().unwrap())
                .any(|e| e.name == "GLYCERIN")
        );
    }

    #[test]
    fn a_misspelt_name_suggests_the_right_one() {
        assert_eq!(
            inventory().nearest("Sodium Benzoat", 3)[0].name,
            "SODIUM BENZOATE"
        );
        assert_eq!(
            inventory().nearest("Cocoamidopropyl Betaine", 3)[0].name,
            "COCAMIDOPROPYL BETAINE"
        );
        assert_eq!(
            inventory().search("fenoxyethanol", 3)[0].name,
            "PHENOXYETHANOL"
        );
        assert_eq!(inventory().by_name("no such thing"), None);
    }

    #[test]
    fn functions_become_roles() {
        let glycerin = inventory().by_name("glycerin").unwrap();
        assert!(glycerin.roles().contains(&Role::Humectant));
        assert_eq!(glycerin.label_name(), "Glycerin");
        assert_eq!(
            inventory()
                .by_name("phenoxyethanol")
                .unwrap()
                .likely_class(),
            Class::Preservative
        );
        let class = |name: &str| inventory().by_name(name).unwrap().likely_class();
        assert_eq!(
            class("cocamidopropyl betaine"),
            Class::Surfactant(Charge::Amphoteric)
        );
        assert_eq!(class("sodium chloride"), Class::Electrolyte);
        assert_eq!(
            class("sodium cocoyl isethionate"),
            Class::Surfactant(Charge::Anionic)
        );
        // Not on the shelf: the head group of its name tells.
        assert_eq!(
            class("sodium myristoyl isethionate"),
            Class::Surfactant(Charge::Anionic)
        );
        assert_eq!(class("aqua"), Class::Water);
        let peg = inventory().by_name("PEG-7 GLYCERYL COCOATE").unwrap();
        assert_eq!(peg.label_name(), "PEG-7 Glyceryl Cocoate");
    }
}
