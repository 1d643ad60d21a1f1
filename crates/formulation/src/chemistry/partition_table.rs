//! The coefficients of partition, read from `assets/chemistry/partition.ron`.

use std::sync::OnceLock;

use serde::{Deserialize, Deserializer};

use crate::inci::Inci;
use crate::word_groups::WordGroups;

/// Sorts of phases that take up a preservative.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum Sort {
    Paraffin,
    Ester,
    Triglyceride,
    Silicone,
    NonIonicMicelles,
    AnionicMicelles,
    CationicMicelles,
}

pub(super) const SORTS: [Sort; 7] = [
    Sort::Paraffin,
    Sort::Ester,
    Sort::Triglyceride,
    Sort::Silicone,
    Sort::NonIonicMicelles,
    Sort::AnionicMicelles,
    Sort::CationicMicelles,
];

impl Sort {
    /// The words shown for it.
    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::Paraffin => "paraffin",
            Self::Ester => "esters",
            Self::Triglyceride => "vegetable oils",
            Self::Silicone => "silicones",
            Self::NonIonicMicelles => "non-ionic micelles",
            Self::AnionicMicelles => "anionic micelles",
            Self::CationicMicelles => "cationic micelles",
        }
    }

    /// Whether these are micelles, not oil.
    pub(super) const fn is_micelles(self) -> bool {
        matches!(
            self,
            Self::NonIonicMicelles | Self::AnionicMicelles | Self::CationicMicelles
        )
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    version: u32,
    /// Words of ingredient names of each sort of oil; all others are triglycerides.
    oils: Vec<(Sort, Vec<String>)>,
    /// Words of UV filters that dissolve in water or stay solid.
    not_oil: Vec<String>,
    /// log₁₀ P = slope · log₁₀ P(octanol) + intercept, right within a factor.
    from_octanol: Vec<FromOctanol>,
    single: Vec<Single>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FromOctanol {
    pub(super) into: Sort,
    pub(super) slope: f64,
    pub(super) intercept: f64,
    pub(super) factor: f64,
    pub(super) source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Single {
    #[serde(deserialize_with = "inci")]
    pub(super) name: Inci,
    pub(super) into: Sort,
    pub(super) ratio: f64,
    pub(super) source: String,
}

fn inci<'de, D: Deserializer<'de>>(text: D) -> Result<Inci, D::Error> {
    String::deserialize(text).map(Into::into)
}

pub(super) struct Table {
    pub(super) oils: WordGroups,
    pub(super) not_oil: WordGroups,
    pub(super) from_octanol: Vec<FromOctanol>,
    pub(super) single: Vec<Single>,
}

impl FromOctanol {
    /// The ratio of concentrations for an octanol-water coefficient, log₁₀ P.
    pub(super) fn ratio(&self, log_p: f64) -> f64 {
        10.0_f64.powf(self.slope * log_p + self.intercept)
    }
}

impl Table {
    /// The coefficient of a substance by name, if it has one of its own for a sort.
    pub(super) fn single(&self, name: &str, into: Sort) -> Option<&Single> {
        (self.single.iter()).find(|p| p.into == into && p.name.is(name))
    }
}

pub(super) fn read(text: &str) -> Result<Table, String> {
    let file: File = ron::from_str(text).map_err(|e| e.to_string())?;
    if file.version != 1 {
        return Err(format!(
            "version {} of the partition table is not known here",
            file.version
        ));
    }
    let words = file.oils.iter().flat_map(|(sort, words)| {
        let place = SORTS.iter().position(|s| s == sort).unwrap_or(0);
        words.iter().map(move |w| (w.as_str(), place))
    });
    Ok(Table {
        oils: WordGroups::new(words, []),
        not_oil: WordGroups::new(file.not_oil.iter().map(|w| (w.as_str(), 0)), []),
        from_octanol: file.from_octanol,
        single: file.single,
    })
}

/// The table; none if it cannot be read, which a test holds it against.
pub(super) fn table() -> Option<&'static Table> {
    static TABLE: OnceLock<Option<Table>> = OnceLock::new();
    TABLE
        .get_or_init(|| read(include_str!("../../../../assets/chemistry/partition.ron")).ok())
        .as_ref()
}

/// Whether a UV filter of this name goes into the oil rather than into the water or staying
/// solid.
pub(crate) fn is_oil_filter(inci: &str) -> bool {
    table().is_some_and(|t| !t.not_oil.of(inci).is.has(0))
}
