//! What the oils of a mix require of an HLB, for either kind of emulsion, and how far an HLB may
//! be off.

use std::sync::{Arc, LazyLock};

use super::{MINOR_OIL, is_oil, mean};
use crate::chemistry::figure::Figure;
use crate::inci::Inci;
use crate::material::{Basis, Material};

/// How far a required HLB may be off, as published and as restated from memory: Griffin gave his
/// as rules of thumb, and Pasquali, Taurozzi and Bregni (Int. J. Pharm. 356 (2008) 44, abstract)
/// call them approximate guidelines. Our figures.
const REQUIRED: (f64, f64) = (1.0, 2.0);
/// The same of an emulsifier.
const PROVIDED: (f64, f64) = (0.5, 1.0);

/// An HLB with the range it may lie in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Told {
    pub(super) low: f64,
    pub(super) value: f64,
    pub(super) high: f64,
}

impl Told {
    /// What an oil requires, by what it rests on.
    fn required(value: f64, basis: Basis) -> Self {
        Self::within(value, Some(basis), REQUIRED)
    }
    /// What an emulsifier provides; without a basis where it is computed of what it is blended
    /// of.
    pub(super) fn provided(value: f64, basis: Option<Basis>) -> Self {
        Self::within(value, basis, PROVIDED)
    }
    fn within(value: f64, basis: Option<Basis>, (published, rough): (f64, f64)) -> Self {
        let off = match basis {
            Some(Basis::Measured | Basis::Supplier | Basis::Published) => published,
            _ => rough,
        };
        Self {
            low: value - off,
            value,
            high: value + off,
        }
    }
    /// Mean by mass; none if the masses add up to nothing.
    pub(super) fn mean_of(parts: &[(f64, Self)]) -> Option<Self> {
        let of = |end: fn(&Self) -> f64| mean(parts.iter().map(|(mass, told)| (*mass, end(told))));
        Some(Self {
            low: of(|t| t.low)?,
            value: of(|t| t.value)?,
            high: of(|t| t.high)?,
        })
    }
}

/// What the oils of a mix require.
#[derive(Default)]
pub(super) struct Needs {
    /// Mass and requirement of each oil that has one.
    told: Vec<(f64, Told)>,
    /// Mass of the oils that have none, with their names.
    untold: f64,
    unknown: Vec<Arc<str>>,
}

impl Needs {
    /// Counts a material of a share of the formula by what it requires for oil-in-water.
    pub(super) fn take_for_oil_in_water(&mut self, material: &Material, share: f64) {
        if let Some(hlb) = &material.required_hlb {
            let told = Told::required(hlb.value, hlb.source.basis);
            self.told.push((share, told));
            return;
        }
        let oil: f64 = oils_of(material).map(|(_, part)| part).sum();
        self.take_untold(material, share, oil);
    }

    /// The same by what its oils require for water-in-oil.
    pub(super) fn take_for_water_in_oil(&mut self, material: &Material, share: f64) {
        let mut untold = 0.0;
        let mut any = false;
        for (inci, part) in oils_of(material) {
            any = true;
            match for_water_in_oil(inci) {
                Some(hlb) => {
                    let told = Told::required(hlb.value, hlb.basis);
                    self.told.push((share * part, told));
                }
                None => untold += part,
            }
        }
        if !any && material.required_hlb.is_some() {
            untold = 1.0;
        }
        self.take_untold(material, share, untold);
    }

    fn take_untold(&mut self, material: &Material, share: f64, oil: f64) {
        if oil > MINOR_OIL {
            self.untold += share * oil;
            self.unknown.push(material.name.clone());
        }
    }

    /// Mass of all of them, as a share of the formula.
    pub(super) fn mass(&self) -> f64 {
        self.untold + self.told.iter().map(|(m, _)| m).sum::<f64>()
    }

    /// Writes the mean into a figure, oils without a requirement anywhere within what is usual;
    /// gives the range that this alone opens.
    pub(super) fn put_into(self, figure: &mut Figure, usual: (f64, f64)) -> Option<(f64, f64)> {
        let untold = self.untold;
        let told = self.mass() - untold;
        let with = |value: f64, rest: f64| (told * value + untold * rest) / (told + untold);
        figure.unknown.extend(self.unknown);
        if let Some(mean) = Told::mean_of(&self.told) {
            let (low, high) = (with(mean.low, usual.0), with(mean.high, usual.1));
            *figure = std::mem::take(figure).with(mean.value, low, high);
            if untold > told {
                figure.value = None;
            }
            Some((with(mean.value, usual.0), with(mean.value, usual.1)))
        } else if untold > 0.0 {
            figure.low = Some(usual.0);
            figure.high = Some(usual.1);
            Some(usual)
        } else {
            None
        }
    }
}

/// The oils in a material, by name, with their shares.
fn oils_of(material: &Material) -> impl Iterator<Item = (&str, f64)> {
    material
        .constituents
        .iter()
        .filter(|c| is_oil(material, c.class, c.inci.spelling()))
        .map(|c| (c.inci.spelling(), c.share.typical.value()))
}

/// What an oil requires for water-in-oil.
#[derive(Clone, PartialEq, Debug)]
pub struct ForWaterInOil {
    /// The HLB.
    pub value: f64,
    /// What it rests on.
    pub basis: Basis,
    /// Where it is from.
    pub source: &'static str,
}

const TABLE: &str = include_str!("../../../../../assets/chemistry/water_in_oil.tsv");

/// What single oils require for water-in-oil, by ingredient name.
static FOR_WATER_IN_OIL: LazyLock<Vec<(Inci, ForWaterInOil)>> =
    LazyLock::new(|| rows(TABLE).filter_map(read_row).collect());

/// The rows of the table, without its remarks and its head.
fn rows(table: &str) -> impl Iterator<Item = &str> {
    table.lines().filter(|line| !line.starts_with('#')).skip(1)
}

fn read_row(row: &'static str) -> Option<(Inci, ForWaterInOil)> {
    let mut cells = row.split('\t');
    let (inci, value) = (cells.next()?, cells.next()?.parse().ok()?);
    let basis = match cells.next()? {
        "published" => Basis::Published,
        "memory" => Basis::Typical,
        _ => return None,
    };
    let source = cells.next()?;
    let of = ForWaterInOil {
        value,
        basis,
        source,
    };
    Some((inci.into(), of))
}

/// What an oil requires for water-in-oil, by its ingredient name; few have a figure.
pub fn for_water_in_oil(inci: &str) -> Option<&'static ForWaterInOil> {
    let mut all = FOR_WATER_IN_OIL.iter();
    all.find(|(name, _)| name.is(inci)).map(|(_, of)| of)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::shelf::built_in;

    /// Each row has a name once, an HLB within Griffin's scale, a basis and a source; no row is
    /// passed over.
    #[test]
    fn the_table_reads() {
        let head = TABLE.lines().find(|line| !line.starts_with('#'));
        assert_eq!(head, Some("inci\trequired\tbasis\tsource"));
        let mut names = BTreeSet::new();
        for row in rows(TABLE) {
            assert_eq!(row.split('\t').count(), 4, "{row}");
            let (inci, of) = read_row(row).unwrap_or_else(|| panic!("{row}"));
            assert!((1.0..=20.0).contains(&of.value), "{row}");
            assert!(!of.source.trim().is_empty(), "{row}");
            assert!(names.insert(inci.key()), "twice: {row}");
        }
        assert_eq!(names.len(), FOR_WATER_IN_OIL.len());
        assert!(names.len() >= 7, "{names:?}");
    }

    /// The same emulsifier cannot meet both: for water-in-oil every oil requires less than for
    /// oil-in-water (Griffin 1949). And each is an oil that a maker can buy.
    #[test]
    fn less_is_required_for_water_in_oil() {
        let mut held = 0;
        for m in built_in::shelf().iter() {
            let [only] = m.constituents.as_slice() else {
                continue;
            };
            let Some((of, both)) =
                for_water_in_oil(only.inci.spelling()).zip(m.required_hlb.as_ref())
            else {
                continue;
            };
            assert!(of.value < both.value, "{}: {of:?}, {}", m.name, both.value);
            held += 1;
        }
        assert!(held >= 5, "{held}");
    }

    #[test]
    fn a_row_that_says_nothing_is_none() {
        assert!(read_row("Lanolin\t8\thearsay\tsomebody").is_none());
        assert!(read_row("Lanolin\teight\tmemory\tsomebody").is_none());
        let (_, of) = read_row("Lanolin\t8\tpublished\tsomebody").unwrap();
        assert_eq!((of.value, of.basis), (8.0, Basis::Published));
    }
}
