//! Soap: what lye and amines make of fats, waxes and fatty acids.
//!
//! Saponification values are data (`assets/chemistry/saponification.tsv`): published
//! ranges of potassium hydroxide per gram (ISO 3657), and values computed from the fatty
//! acids. Three moles of hydroxide free one mole of glycerin from a fat; a fatty acid takes
//! one mole and gives water.

use std::sync::{Arc, LazyLock};

use super::acidity::charge_per_mole;
use super::acids::Family;
use super::figure::Figure;
use super::mix::{Mix, MixConstituent};
use super::substances::{
    Brings, GLYCERIN_G_PER_MOL as GLYCERIN, POTASSIUM_HYDROXIDE_G_PER_MOL as POTASSIUM_HYDROXIDE,
    SODIUM_HYDROXIDE_G_PER_MOL as SODIUM_HYDROXIDE, Substance, WATER_G_PER_MOL as WATER,
};
use crate::cas::Cas;
use crate::finding::{Finding, Level, Matter, Remedy};
use crate::formula::{ItemId, Variant};
use crate::inci::{Inci, equal_as_spelt, hash_of};
use crate::material::{Basis, Class, Source};
use crate::name_hash::{ByCas, ByHash};
use crate::quantity::Percent;

/// The method, in words.
pub const METHOD: &str = "alkali against the saponification values of the fats; three moles of alkali free one of glycerin";
/// Its range, in words.
pub const VALIDITY: &str = "as good as the saponification values: fats vary by 2 to 5 %; a titration of the batch of fat, or of the soap (free alkali), decides";
/// Its sources, in words.
pub const SOURCE: &str = "saponification values with their own sources; definition: ISO 3657; free caustic alkali: ISO 456";

/// Alkali beyond all acids must reach this share of what the fats take to count as lye that
/// makes soap; less is an adjustment of pH. Our assumption, no source.
const LEAST_DEGREE: f64 = 0.05;
/// Typical excess that is no more than the error of a scale.
const WEIGHING: f64 = 0.002;
/// Excess fat below which the usual spread of fats may leave lye free; common practice.
const LITTLE_SUPERFAT: f64 = 0.01;
/// Excess fat usually aimed at; common practice.
const USUAL_SUPERFAT: f64 = 0.05;
/// Excess fat above which soap is usually soft and turns rancid; common practice.
const MUCH_SUPERFAT: f64 = 0.20;
/// The same for soap of lauric fats, which is hard and whose fat is saturated: coconut soap is
/// made with a superfat of 20 %; common practice, no source.
const MUCH_SUPERFAT_OF_LAURIC_FATS: f64 = 0.25;
/// Mean saponification value, mg KOH/g, from which fats are lauric: palm kernel has 230 to 254,
/// babassu 245 to 256, coconut 248 to 265 (Codex Alimentarius 210-1999), other fats below 210.
const LAURIC_FATS_FROM: f64 = 230.0;
/// pH at which acids other than fatty acids have taken their alkali.
const NEUTRALISED_AT: f64 = 9.0;

/// What a fatty material is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FatKind {
    /// Esters of glycerin: oils and butters.
    Glyceride,
    /// Esters of other alcohols, which stay in the soap.
    Wax,
    /// Free fatty acid.
    Acid,
}

/// How sure a saponification value is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SapBasis {
    /// The range was read in the source.
    Published,
    /// The range is restated from memory after the source.
    Memory,
    /// Computed from the structure.
    Computed,
}

/// One fat, wax or fatty acid of the table.
#[derive(Clone, PartialEq, Debug)]
pub struct Fat {
    /// Name in plain words.
    pub name: &'static str,
    /// What it is.
    pub kind: FatKind,
    /// Lowest, typical and highest saponification value, mg KOH per gram.
    pub value: (f64, f64, f64),
    /// How sure the range is.
    pub basis: SapBasis,
    /// Where the range is from.
    pub source: &'static str,
    /// The composition that the typical value is computed from; empty if it is not.
    pub composition: &'static str,
    /// The end of the INCI name of its soap, if the European inventory has one.
    pub soap: Option<&'static str>,
}

const TABLE: &str = include_str!("../../../../assets/chemistry/saponification.tsv");

struct Fats {
    list: Vec<Fat>,
    by_cas: ByCas<usize>,
    by_name: ByHash<usize>,
}

static FATS: LazyLock<Fats> = LazyLock::new(|| {
    let mut fats = Fats {
        list: Vec::new(),
        by_cas: ByCas::default(),
        by_name: ByHash::default(),
    };
    let rows = TABLE.lines().filter(|l| !l.starts_with('#')).skip(1);
    for row in rows {
        let Some((fat, inci, cas)) = read_row(row) else {
            continue;
        };
        let place = fats.list.len();
        for name in inci.split(';') {
            let key = hash_of(name);
            fats.by_name.entry(key).or_insert(place);
        }
        for number in cas.split(';').filter_map(|c| c.trim().parse::<Cas>().ok()) {
            fats.by_cas.entry(number).or_insert(place);
        }
        fats.list.push(fat);
    }
    fats
});

/// A row of the table with its INCI names and CAS numbers.
fn read_row(row: &'static str) -> Option<(Fat, &'static str, &'static str)> {
    let mut cells = row.split('\t');
    let mut next = || cells.next();
    let (name, inci, cas, kind) = (next()?, next()?, next()?, next()?);
    let low: f64 = next()?.parse().ok()?;
    let high: f64 = next()?.parse().ok()?;
    let computed: Option<f64> = next()?.parse().ok();
    // Empty where it is little; a figure that cannot be read is a fault of the row.
    let unsaponifiable: f64 = match next()? {
        "" => 0.0,
        text => text.parse().ok()?,
    };
    let (basis, source, composition, soap) = (next()?, next()?, next()?, next()?);
    let kind = match kind {
        "glyceride" => FatKind::Glyceride,
        "wax" => FatKind::Wax,
        "acid" => FatKind::Acid,
        _ => return None,
    };
    let basis = match basis {
        "published" => SapBasis::Published,
        "memory" => SapBasis::Memory,
        "computed" => SapBasis::Computed,
        _ => return None,
    };
    let of_fat = |c: f64| (c * (1.0 - unsaponifiable / 100.0)).clamp(low, high);
    let typical = computed.map_or_else(|| f64::midpoint(low, high), of_fat);
    let fat = Fat {
        name,
        kind,
        value: (low, typical, high),
        basis,
        source,
        composition: computed.map_or("", |_| composition),
        soap: (!soap.is_empty()).then_some(soap),
    };
    Some((fat, inci, cas))
}

/// All fats of the table.
pub fn fats() -> &'static [Fat] {
    &FATS.list
}

/// A fat by INCI name, else by CAS number.
pub fn fat(inci: &str, cas: Option<Cas>) -> Option<&'static Fat> {
    let fats = &*FATS;
    let place = fats
        .by_name
        .get(&hash_of(inci))
        .or_else(|| cas.and_then(|c| fats.by_cas.get(&c)))?;
    fats.list.get(*place)
}

/// What happens to the alkali.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Making {
    /// Lye turns fats into soap.
    Saponified,
    /// Alkali or amine neutralises fatty acids only: soap as an emulsifier.
    Neutralised,
}

/// What a substance is after the reaction.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ReactionProduct {
    /// Soap.
    Soap,
    /// Fat, wax or fatty acid that found no alkali.
    Unreacted,
    /// Glycerin freed from fats.
    Glycerin,
    /// Water formed from fatty acids.
    Water,
    /// Alkali that found no fat.
    FreeAlkali,
}

impl ReactionProduct {
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Soap => "soap",
            Self::Unreacted => "unreacted",
            Self::Glycerin => "glycerin",
            Self::Water => "water",
            Self::FreeAlkali => "free alkali",
        }
    }
}

/// A substance as it stands after the reaction.
#[derive(Clone, Debug)]
pub struct AfterReaction {
    /// INCI name, or words where there is none.
    pub inci: Inci,
    /// What it is.
    pub product: ReactionProduct,
    /// % of the formula as charged.
    pub percent: f64,
    /// The INCI name of the fat it is from; none for glycerin, water and alkali.
    pub from: Option<Inci>,
}

equal_as_spelt!(AfterReaction: names inci, from; rest product, percent);

/// One fat of the formula.
#[derive(Clone, Debug)]
pub struct FatShare {
    /// INCI name.
    pub inci: Inci,
    /// % of the formula.
    pub percent: f64,
    /// What the table tells.
    pub fat: &'static Fat,
}

equal_as_spelt!(FatShare: names inci; rest percent, fat);

/// Soap that forms in the formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Soap {
    /// What happens.
    pub making: Making,
    /// Sodium hydroxide, % of the formula, pure.
    pub sodium_hydroxide_percent: f64,
    /// Potassium hydroxide, % of the formula, pure.
    pub potassium_hydroxide_percent: f64,
    /// Amines, mmol per 100 g.
    pub amine_mmol: f64,
    /// Alkali as a share of what fats and fatty acids take up, in percent.
    pub degree_percent: Figure,
    /// What would take up fats and fatty acids wholly, % of the formula as the same
    /// alkalis.
    pub need_percent: f64,
    /// Fat that finds no alkali, % of the fat; below 0 alkali stays free.
    pub superfat_percent: f64,
    /// Glycerin that forms, % of the formula.
    pub glycerin_percent: f64,
    /// The fats and fatty acids.
    pub fats: Vec<FatShare>,
    /// The lines of the alkali.
    pub lines: Vec<ItemId>,
    /// What the formula consists of in their place after the reaction.
    pub after: Vec<AfterReaction>,
}

impl Soap {
    /// The fats whose saponification value is restated from memory.
    pub fn from_memory(&self) -> impl Iterator<Item = &FatShare> {
        self.fats.iter().filter(|f| f.fat.basis == SapBasis::Memory)
    }
    /// Alkali needed for this superfat, % of the formula: the share of the fats from 0 to 1
    /// that is to stay unreacted.
    pub fn alkali_for_superfat(&self, superfat: f64) -> f64 {
        self.need_percent * (1.0 - superfat.clamp(0.0, 1.0))
    }

    /// Soap that forms, % of what is charged.
    pub fn soap_percent(&self) -> f64 {
        let soaps = (self.after.iter()).filter(|part| part.product == ReactionProduct::Soap);
        soaps.map(|part| part.percent).sum()
    }

    /// The line of the lye and the percentage at which this share of the fats, from 0 to 1, stays
    /// unreacted, to the hundredth below; none where no lye makes soap or several lines do.
    pub fn lye_for_superfat(&self, variant: &Variant, superfat: f64) -> Option<(ItemId, Percent)> {
        let ([line], Making::Saponified) = (self.lines.as_slice(), self.making) else {
            return None;
        };
        let charged = variant.line(*line)?.percent;
        let alkali = self.sodium_hydroxide_percent + self.potassium_hydroxide_percent;
        let degree = self.degree_percent.value? / 100.0;
        if alkali <= 0.0 {
            return None;
        }
        // Other acids take theirs first, whatever is left for the fats.
        let taken_before = alkali - degree * self.need_percent;
        let wanted = self.alkali_for_superfat(superfat) + taken_before;
        let percent = Percent::nearest(charged.as_percent() * wanted / alkali)?;
        Some((*line, percent.down_to_hundredths()))
    }

    /// Between which figures the superfat lies as the fats vary, % of the fat; below 0 alkali
    /// stays free. None where it hangs on fats of which nothing is known.
    pub fn superfat_range(&self) -> Option<(f64, f64)> {
        let degree = &self.degree_percent;
        let (least, most) = degree.low.zip(degree.high)?;
        degree
            .unknown
            .is_empty()
            .then_some((100.0 - most, 100.0 - least))
    }

    /// The superfat, as a share of the fats, above which a soap of these fats is doubtful.
    fn much_superfat(&self) -> f64 {
        let percent: f64 = self.fats.iter().map(|f| f.percent).sum();
        let taken: f64 = self.fats.iter().map(|f| f.percent * f.fat.value.1).sum();
        if taken >= LAURIC_FATS_FROM * percent {
            MUCH_SUPERFAT_OF_LAURIC_FATS
        } else {
            MUCH_SUPERFAT
        }
    }
}

/// Grams of pure hydroxide that a gram of a fat takes up: of sodium, or of potassium.
pub fn alkali_per_gram(fat: &Fat, potassium: bool) -> f64 {
    let koh = fat.value.1 / 1000.0;
    if potassium {
        koh
    } else {
        koh * SODIUM_HYDROXIDE / POTASSIUM_HYDROXIDE
    }
}

fn is_amine(substance: &Substance) -> bool {
    use Family::{
        AminomethylPropanol, Ammonia, Arginine, Diethanolamine, Ethanolamine, Lysine,
        Monoisopropanolamine, Triethanolamine, Triisopropanolamine, Tromethamine,
    };
    const AMINES: [Family; 10] = [
        Triethanolamine,
        Diethanolamine,
        Ethanolamine,
        Tromethamine,
        AminomethylPropanol,
        Ammonia,
        Arginine,
        Lysine,
        Monoisopropanolamine,
        Triisopropanolamine,
    ];
    substance.strong_charge() == 0.0 && AMINES.iter().any(|f| substance.moles_of(*f) > 0.0)
}

/// Sums over the mix, mol per kg.
#[derive(Clone, Copy, Default)]
struct Sums {
    sodium: f64,
    potassium: f64,
    amine: f64,
    /// Grams of amines per kg.
    amine_mass: f64,
    other_acid: f64,
    acids: f64,
    esters: f64,
    /// Squares of the deviations of each fat, so that unrelated spreads add up as such.
    below: f64,
    above: f64,
    unknown: f64,
}

/// Lye beside fats of which mostly no saponification value is known, so that neither the lye
/// they need nor what stays free can be told.
#[derive(Clone, PartialEq, Debug)]
pub struct UnvaluedFats {
    /// INCI names of the fats without a value.
    pub fats: Vec<Arc<str>>,
    /// The lines of the alkali.
    pub lines: Vec<ItemId>,
}

/// What of a mix takes part: fats, alkalis, and what else takes up alkali.
struct Reactants {
    sums: Sums,
    fats: Vec<FatShare>,
    /// INCI names of fats without a value.
    unvalued: Vec<Arc<str>>,
    /// The lines of the alkali, each once.
    lines: Vec<ItemId>,
    /// The amine of which there is most, with its amount.
    amine: Option<(&'static str, f64)>,
}

impl Reactants {
    fn of(mix: &Mix<'_>) -> Self {
        let mut found = Self {
            sums: Sums::default(),
            fats: Vec::new(),
            unvalued: Vec::new(),
            lines: Vec::new(),
            amine: None,
        };
        for part in &mix.parts {
            let share = part.amount.share.typical.value();
            if share <= 0.0 {
                continue;
            }
            if let Some(fat) = fat(part.amount.inci.spelling(), part.amount.cas) {
                found.take_fat(part, fat, share);
            } else if let Some(substance) = part.substance {
                found.take_substance(part, substance, share);
            } else if is_unvalued_fat(part) {
                // As much as most oils take up, or nothing.
                found.sums.unknown += share * 200.0 / POTASSIUM_HYDROXIDE;
                found.unvalued.push(part.amount.inci.clone().into());
            }
        }
        found.lines.sort_unstable();
        found.lines.dedup();
        found
    }

    fn take_fat(&mut self, part: &MixConstituent<'_>, fat: &'static Fat, share: f64) {
        let sums = &mut self.sums;
        let mol = |value: f64| share * value / POTASSIUM_HYDROXIDE;
        let (low, typical, high) = fat.value;
        match fat.kind {
            FatKind::Acid => sums.acids += mol(typical),
            FatKind::Glyceride | FatKind::Wax => sums.esters += mol(typical),
        }
        sums.below += mol(typical - low).powi(2);
        sums.above += mol(high - typical).powi(2);
        self.fats.push(FatShare {
            inci: part.amount.inci.clone(),
            percent: 100.0 * share,
            fat,
        });
    }

    fn take_substance(
        &mut self,
        part: &MixConstituent<'_>,
        substance: &'static Substance,
        share: f64,
    ) {
        let sums = &mut self.sums;
        let mol = 1000.0 * share / substance.molar_mass;
        let only_strong = substance
            .brings
            .iter()
            .all(|b| matches!(b, Brings::Strong(..)));
        if only_strong && substance.strong_charge() > 0.0 {
            if substance.name() == "Potassium Hydroxide" {
                sums.potassium += mol;
            } else {
                sums.sodium += mol * substance.strong_charge();
            }
        } else if is_amine(substance) {
            sums.amine += mol;
            sums.amine_mass += 1000.0 * share;
            if self.amine.is_none_or(|(_, most)| mol > most) {
                self.amine = Some((substance.name(), mol));
            }
        } else {
            sums.other_acid += (-mol * charge_per_mole(substance, NEUTRALISED_AT, 0.1)).max(0.0);
            return;
        }
        self.lines
            .extend(part.amount.from.iter().map(|(line, _)| *line));
    }
}

/// A fat by its class or its name, of which no saponification value is known.
fn is_unvalued_fat(part: &MixConstituent<'_>) -> bool {
    let fatty = match part.amount.class {
        Class::Oil => true,
        // Butters are filed as what they do, or as nothing known.
        Class::Other | Class::Conditioner => is_fat_by_name(&part.amount.inci),
        _ => false,
    };
    fatty && !is_inert(&part.amount.inci)
}

impl Sums {
    /// Strong alkali, mol/kg.
    fn strong(&self) -> f64 {
        self.sodium + self.potassium
    }

    /// Strong alkali that other acids leave.
    fn lye(&self) -> f64 {
        (self.strong() - self.other_acid).max(0.0)
    }

    /// Alkali that the fatty acids leave for the esters.
    fn beyond(&self) -> f64 {
        self.lye() - self.acids
    }

    /// Whether lye makes soap of fatty acids rather than an emulsifier of a part of them, as in
    /// a shaving cream: most of a good deal of acid is neutralised, and hardly any fat is there.
    fn is_acid_soap(&self) -> bool {
        /// Fatty acid, mol/kg: about 10 % of stearic acid.
        const MUCH: f64 = 0.35;
        self.acids >= MUCH && self.lye() >= 0.5 * self.acids && self.esters <= 0.2 * self.acids
    }

    /// What happens, if anything.
    fn making(&self) -> Option<Making> {
        let saponifies = self.esters > 0.0 && self.beyond() >= LEAST_DEGREE * self.esters;
        if self.acids + self.esters <= 0.0 || self.strong() + self.amine <= 0.0 {
            None
        } else if saponifies || self.is_acid_soap() {
            Some(Making::Saponified)
        } else if self.acids > 0.0 && self.lye() + self.amine > 0.0 {
            Some(Making::Neutralised)
        } else {
            None
        }
    }
}

/// Finds the soap that forms; `None` if there is no alkali or nothing for it to act on.
///
/// # Errors
/// [`UnvaluedFats`] if what the lye meets is mostly fat of unknown saponification value.
pub fn estimate(mix: &Mix<'_>) -> Result<Option<Soap>, UnvaluedFats> {
    let reactants = Reactants::of(mix);
    let sums = reactants.sums;
    let (acids, esters) = (sums.acids, sums.esters);
    if sums.unknown > acids + esters && sums.beyond() >= LEAST_DEGREE * (esters + sums.unknown) {
        return Err(UnvaluedFats {
            fats: reactants.unvalued,
            lines: reactants.lines,
        });
    }
    let Some(making) = sums.making() else {
        return Ok(None);
    };
    let (base, need) = match making {
        Making::Saponified => (sums.lye(), acids + esters),
        Making::Neutralised => (sums.lye() + sums.amine, acids),
    };
    let degree = base / need;
    let (least, most) = match making {
        Making::Saponified => (
            base / (need + sums.above.sqrt() + sums.unknown),
            base / (need - sums.below.sqrt()).max(1e-9),
        ),
        Making::Neutralised => (degree, degree),
    };
    // What a mole of the alkali in the formula weighs.
    let mean_mass = if sums.strong() > 0.0 {
        (sums.sodium * SODIUM_HYDROXIDE + sums.potassium * POTASSIUM_HYDROXIDE) / sums.strong()
    } else {
        0.0
    };
    let mut figure = Figure::of(METHOD, VALIDITY, SOURCE);
    figure.unknown = reactants.unvalued;
    let mut soap = Soap {
        making,
        sodium_hydroxide_percent: 0.1 * sums.sodium * SODIUM_HYDROXIDE,
        potassium_hydroxide_percent: 0.1 * sums.potassium * POTASSIUM_HYDROXIDE,
        amine_mmol: 100.0 * sums.amine,
        degree_percent: figure.with(100.0 * degree, 100.0 * least, 100.0 * most),
        need_percent: 0.1 * (need + sums.other_acid) * mean_mass,
        superfat_percent: 100.0 * (1.0 - degree),
        glycerin_percent: 0.0,
        fats: reactants.fats,
        lines: reactants.lines,
        after: Vec::new(),
    };
    let amine = reactants.amine.map_or("Amine", |(name, _)| name);
    react(&mut soap, &sums, degree.min(1.0), base, amine);
    Ok(Some(soap))
}

/// Fills in what the fats become when they react to a degree, with `base` mol/kg.
fn react(soap: &mut Soap, sums: &Sums, degree: f64, base: f64, amine_name: &'static str) {
    // Moles of each alkali per mole that reacts, its name in soap and its molar mass.
    let amine = match soap.making {
        Making::Neutralised => sums.amine,
        Making::Saponified => 0.0,
    };
    let strong = (base - amine).max(0.0);
    let metal = sums.sodium + sums.potassium;
    let of_metal = |part: f64| {
        if metal > 0.0 {
            strong * part / metal
        } else {
            0.0
        }
    };
    let alkalis = [
        ("Sodium", of_metal(sums.sodium), SODIUM_HYDROXIDE),
        ("Potassium", of_metal(sums.potassium), POTASSIUM_HYDROXIDE),
        // An amine adds itself whole and forms no water.
        (amine_name, amine, sums.amine_mass / sums.amine.max(1e-12)),
    ];
    let (mut glycerin, mut water) = (0.0, 0.0);
    let mut after = Vec::new();
    for share in &soap.fats {
        let reacts = match (soap.making, share.fat.kind) {
            (Making::Saponified, _) | (Making::Neutralised, FatKind::Acid) => degree,
            (Making::Neutralised, FatKind::Glyceride | FatKind::Wax) => 0.0,
        };
        // Percent of the formula, and moles per 100 g of it.
        let fat = share.percent * reacts;
        let moles = fat * share.fat.value.1 / POTASSIUM_HYDROXIDE / 1000.0;
        let freed = match share.fat.kind {
            FatKind::Glyceride => moles / 3.0 * GLYCERIN,
            FatKind::Wax | FatKind::Acid => 0.0,
        };
        glycerin += freed;
        for (name, part, mass) in alkalis.iter().filter(|(_, n, _)| *n > 0.0) {
            let mol = moles * part / base;
            let formed = if share.fat.kind == FatKind::Acid && *name != amine_name {
                mol * WATER
            } else {
                0.0
            };
            water += formed;
            after.push(AfterReaction {
                inci: soap_name(name, share),
                product: ReactionProduct::Soap,
                percent: (fat - freed) * part / base + mol * mass - formed,
                from: Some(share.inci.clone()),
            });
        }
        if reacts < 1.0 {
            after.push(AfterReaction {
                inci: share.inci.clone(),
                product: ReactionProduct::Unreacted,
                percent: share.percent - fat,
                from: Some(share.inci.clone()),
            });
        }
    }
    let mut add = |inci: &str, product, percent: f64| {
        if percent > 0.0 {
            after.push(AfterReaction {
                inci: inci.into(),
                product,
                percent,
                from: None,
            });
        }
    };
    add("Glycerin", ReactionProduct::Glycerin, glycerin);
    add("Aqua", ReactionProduct::Water, water);
    if soap.making == Making::Saponified && metal > 0.0 {
        let need = sums.acids + sums.esters;
        let free = (base - need).max(0.0);
        let of = |part: f64| 0.1 * free * part / metal;
        add(
            "Sodium Hydroxide",
            ReactionProduct::FreeAlkali,
            of(sums.sodium) * SODIUM_HYDROXIDE,
        );
        add(
            "Potassium Hydroxide",
            ReactionProduct::FreeAlkali,
            of(sums.potassium) * POTASSIUM_HYDROXIDE,
        );
    }
    after.retain(|a| a.percent > 0.0);
    soap.glycerin_percent = glycerin;
    soap.after = after;
}

/// The INCI name of a soap; words where the inventory has none.
fn soap_name(alkali: &str, share: &FatShare) -> Inci {
    match (alkali, share.fat.soap) {
        ("Triethanolamine", Some(soap)) => format!("TEA-{soap}").into(),
        ("Sodium" | "Potassium", Some(soap)) => format!("{alkali} {soap}").into(),
        _ => format!("{alkali} soap of {}", share.inci).into(),
    }
}

/// Hydrocarbons and silicones, which lye leaves as they are.
fn is_inert(inci: &Inci) -> bool {
    const PARTS: [&str; 9] = [
        "paraffin",
        "petrolatum",
        "squala",
        "alkane",
        "methicone",
        "siloxane",
        "ozokerite",
        "microcristallina",
        "decane",
    ];
    PARTS.iter().any(|p| inci.has(p)) || inci.ends_in_word("alcohol") && !inci.is("alcohol")
}

/// Whether a name is that of a fat, of which nothing else is known.
fn is_fat_by_name(inci: &Inci) -> bool {
    const FATS: [&str; 5] = ["oil", "butter", "tallow", "lard", "fat"];
    FATS.iter().any(|fat| inci.ends_in_word(fat))
}

fn finding(lines: &[ItemId], level: Level, rule: &'static str, message: String) -> Finding {
    Finding::new(level, rule, message, Source::new(Basis::Estimate, SOURCE))
        .on(lines.to_vec())
        .about(Matter::of("lye"))
}

/// What all who handle lye are told.
fn lye_handling(lines: &[ItemId]) -> Finding {
    finding(
        lines,
        Level::Caution,
        "lye-handling",
        "Lye burns skin and blinds eyes: goggles, gloves, long sleeves, fresh air. Add lye to cold water, never water to lye; it heats up by itself. No aluminium vessels.".to_owned(),
    )
}

/// What is to be said where the fats have no saponification value.
pub fn unvalued_findings(unvalued: &UnvaluedFats, findings: &mut Vec<Finding>) {
    findings.push(finding(
        &unvalued.lines,
        Level::Caution,
        "saponification-unknown",
        format!(
            "Lye turns fats into soap, but no saponification value is known of {}: the lye needed cannot be computed, nor whether alkali stays free, which burns skin. Take the value from the supplier's data sheet, or titrate free alkali before use.",
            unvalued.fats.join(", ")
        ),
    ));
    findings.push(lye_handling(&unvalued.lines));
}

/// What is to be said of more lye than the fats take up.
fn free_alkali(soap: &Soap, variant: &Variant) -> Option<Finding> {
    let degree = soap.degree_percent.value.unwrap_or(0.0) / 100.0;
    let alkali = soap.sodium_hydroxide_percent + soap.potassium_hydroxide_percent;
    let has_esters = soap.fats.iter().any(|f| f.fat.kind != FatKind::Acid);
    let counts = soap.making == Making::Saponified || !has_esters;
    if !counts || degree <= 1.0 + WEIGHING || alkali <= 0.0 {
        return None;
    }
    let free = alkali * (1.0 - 1.0 / degree);
    // Fats of unknown value may take up what seems to be left.
    let least = soap.degree_percent.low.unwrap_or(0.0) / 100.0;
    let sure = soap.degree_percent.unknown.is_empty() || least > 1.0;
    let found = finding(
        &soap.lines,
        if sure { Level::Breach } else { Level::Caution },
        "free-alkali",
        format!(
            "More lye than the fats take up: {alkali:.2} % of alkali is {:.1} % of the {:.2} % that saponify all of them. About {free:.2} % stays free in the soap and burns skin. Take {:.2} % for a superfat of 5 %; do not use the soap before free alkali has been titrated.",
            100.0 * degree,
            soap.need_percent,
            soap.alkali_for_superfat(USUAL_SUPERFAT)
        ),
    );
    Some(match soap.lye_for_superfat(variant, USUAL_SUPERFAT) {
        Some((line, percent)) => found.remedy(Remedy::SetPercent { line, percent }),
        None => found,
    })
}

/// What is to be said of the soap.
pub fn findings(soap: &Soap, variant: &Variant, findings: &mut Vec<Finding>) {
    findings.extend(free_alkali(soap, variant));
    if soap.making != Making::Saponified {
        return;
    }
    let degree = soap.degree_percent.value.unwrap_or(0.0) / 100.0;
    let most = soap.degree_percent.high.unwrap_or(0.0) / 100.0;
    let alkali = soap.sodium_hydroxide_percent + soap.potassium_hydroxide_percent;
    let mut say = |level, rule, message| findings.push(finding(&soap.lines, level, rule, message));
    if degree <= 1.0 + WEIGHING && (most > 1.0 || degree > 1.0 - LITTLE_SUPERFAT) {
        say(
            Level::Caution,
            "little-superfat",
            format!(
                "Superfat {:.1} %: the saponification values of fats vary, so that lye may stay free (up to {:.0} % of what they take up). Take less lye, or titrate free alkali before use.",
                soap.superfat_percent,
                100.0 * most
            ),
        );
    }
    let much = soap.much_superfat() + WEIGHING;
    if degree < 1.0 - much {
        say(
            Level::Caution,
            "much-superfat",
            format!(
                "Superfat {:.0} %: so much fat finds no lye ({:.2} % of alkali, {:.2} % would take up all). Soap of this kind is usually soft, and what of the fat is unsaturated turns rancid.",
                soap.superfat_percent, alkali, soap.need_percent
            ),
        );
    }
    let least = soap.degree_percent.low.unwrap_or(0.0) / 100.0;
    if most <= 1.0 && (1.0 - much..=1.0 - LITTLE_SUPERFAT).contains(&degree) {
        say(
            Level::Note,
            "superfat",
            format!(
                "Superfat {:.1} % ({:.0} to {:.0} % by the spread of the saponification values): so much of the fat finds no lye. {:.2} % of alkali, {:.2} % would take up all.",
                soap.superfat_percent,
                100.0 * (1.0 - most),
                100.0 * (1.0 - least),
                alkali,
                soap.need_percent
            ),
        );
    }
    findings.push(lye_handling(&soap.lines));
    if !soap.degree_percent.unknown.is_empty() {
        let names: Vec<&str> = soap
            .degree_percent
            .unknown
            .iter()
            .map(AsRef::as_ref)
            .collect();
        findings.push(finding(
            &soap.lines,
            Level::Caution,
            "saponification-unknown",
            format!(
                "No saponification value is known of {}; the lye they take up is left out of the typical figure.",
                names.join(", ")
            ),
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::Composition;
    use crate::fixture::{self, line, material};
    use crate::formula::Formula;
    use crate::mixture::Mixture;

    /// Every row is read, its range is in order, and the typical value lies in it.
    #[test]
    fn the_table_is_whole() {
        let rows = TABLE.lines().filter(|l| !l.starts_with('#')).count() - 1;
        assert_eq!(fats().len(), rows);
        for fat in fats() {
            let (low, typical, high) = fat.value;
            assert!(
                low > 0.0 && low <= typical && typical <= high,
                "{}",
                fat.name
            );
        }
        let olive = fat("OLEA EUROPAEA FRUIT OIL", None).unwrap();
        assert_eq!(olive.soap, Some("Olivate"));
    }

    /// The soap of a formula, and what is said of it.
    fn judged(f: &Formula) -> (Soap, Vec<Finding>) {
        let mixture = Mixture::of(f, f.active());
        let composition = Composition::of(&mixture);
        let soap = estimate(&Mix::new(&mixture, &composition))
            .unwrap()
            .unwrap();
        let mut list = Vec::new();
        findings(&soap, f.active(), &mut list);
        (soap, list)
    }

    fn made(naoh: f64) -> Soap {
        charged(naoh).0
    }

    fn charged(naoh: f64) -> (Soap, Vec<Finding>) {
        let oil = |inci: &str| material(inci, &[(inci, 100.0, Class::Oil)]);
        let lye = material("pellets", &[("Sodium Hydroxide", 99.0, Class::AcidBase)]);
        let water = material("water", &[("Aqua", 100.0, Class::Water)]);
        let f = fixture::formula(vec![
            line(&oil("Olea Europaea Fruit Oil"), "35"),
            line(&oil("Cocos Nucifera Oil"), "20"),
            line(&oil("Butyrospermum Parkii Butter"), "8"),
            line(&oil("Ricinus Communis Seed Oil"), "4"),
            line(&lye, &format!("{naoh:.6}")),
            line(&water, &format!("{:.6}", 33.0 - naoh)),
        ]);
        judged(&f)
    }

    /// Hand calculation at 190, 258, 180 and 180 mg/g: 9.96 % NaOH (values from memory); with
    /// the typical values of the table about 10.1 %.
    #[test]
    fn lye_of_a_bar_soap() {
        let (soap, list) = charged(9.6);
        assert_eq!(soap.making, Making::Saponified);
        assert!((soap.need_percent - 10.05).abs() < 0.15, "{soap:?}");
        assert!((3.0..8.0).contains(&soap.superfat_percent));
        assert!(list.iter().all(|f| f.level < Level::Breach), "{list:?}");
        let (_, list) = charged(12.0);
        let breach = list.iter().find(|f| f.level == Level::Breach).unwrap();
        // The remedy leaves a superfat of 5 %.
        let Some(Remedy::SetPercent { percent, .. }) = breach.remedy else {
            panic!("{breach:?}");
        };
        let mended = made(percent.fraction().as_percent());
        assert!((5.0..5.1).contains(&mended.superfat_percent), "{mended:?}");
    }

    /// Soap of coconut oil alone is made with 20 % of superfat, soap of olive oil is not.
    #[test]
    fn much_superfat_depends_on_the_fat() {
        let told = |fat: &str, naoh: f64, rule: &str| {
            let f = fixture::formula(vec![
                line(&material("o", &[(fat, 100.0, Class::Oil)]), "70"),
                line(
                    &material("l", &[("Sodium Hydroxide", 100.0, Class::AcidBase)]),
                    &format!("{naoh:.4}"),
                ),
            ]);
            let (_, list) = judged(&f);
            list.iter().any(|f| f.rule.as_ref() == rule)
        };
        let lye = |name: &str, superfat: f64| {
            70.0 * alkali_per_gram(fat(name, None).unwrap(), false) * (1.0 - superfat)
        };
        let (coconut, olive) = ("Cocos Nucifera Oil", "Olea Europaea Fruit Oil");
        for (fat, superfat, much) in [
            (coconut, 0.2, false),
            (coconut, 0.28, true),
            (olive, 0.2, false),
            (olive, 0.22, true),
        ] {
            let naoh = lye(fat, superfat);
            assert_eq!(told(fat, naoh, "much-superfat"), much, "{fat} {superfat}");
            assert_eq!(told(fat, naoh, "superfat"), !much, "{fat} {superfat}");
        }
    }

    /// A butter stands as conditioner in the public inventory, a fat by its name alone.
    #[test]
    fn a_butter_of_unknown_value_is_named() {
        let named = |inci: &str, class| {
            let f = fixture::formula(vec![
                line(
                    &material("o", &[("Olea Europaea Fruit Oil", 100.0, Class::Oil)]),
                    "50",
                ),
                line(&material("b", &[(inci, 100.0, class)]), "10"),
                line(
                    &material("l", &[("Sodium Hydroxide", 100.0, Class::AcidBase)]),
                    "7",
                ),
                line(&material("w", &[("Aqua", 100.0, Class::Water)]), "33"),
            ]);
            let (_, list) = judged(&f);
            list.iter().any(|f| f.message.contains(inci))
        };
        let butter = "Virola Surinamensis Seed Butter";
        assert!(named(butter, Class::Conditioner));
        assert!(named(butter, Class::Other));
        assert!(!named("Polyquaternium-7", Class::Conditioner));
    }

    /// Lye on nothing but fat of unknown value: no figure, but a word and the cautions.
    #[test]
    fn lye_on_unknown_fat_alone_is_told() {
        let butter = "Virola Surinamensis Seed Butter";
        let of = |fat: &str, naoh: &str| {
            let f = fixture::formula(vec![
                line(&material("b", &[(fat, 100.0, Class::Oil)]), "60"),
                line(
                    &material("l", &[("Sodium Hydroxide", 100.0, Class::AcidBase)]),
                    naoh,
                ),
                line(&material("w", &[("Aqua", 100.0, Class::Water)]), "33"),
            ]);
            let mixture = Mixture::of(&f, f.active());
            let composition = Composition::of(&mixture);
            estimate(&Mix::new(&mixture, &composition))
        };
        let unvalued = of(butter, "7").unwrap_err();
        assert_eq!(unvalued.fats, [Arc::from(butter)]);
        let mut list = Vec::new();
        unvalued_findings(&unvalued, &mut list);
        assert!(list.iter().any(|f| f.message.contains(butter)));
        assert!(list.iter().any(|f| f.rule.as_ref() == "lye-handling"));
        // A drop of lye that adjusts the pH makes no soap; paraffin never does.
        assert_eq!(of(butter, "0.1"), Ok(None));
        assert_eq!(of("Paraffinum Liquidum", "7"), Ok(None));
    }

    /// Nothing is lost: what reacts weighs what forms.
    #[test]
    fn the_reaction_keeps_the_mass() {
        for naoh in [5.0, 9.6, 12.0] {
            let soap = made(naoh);
            let before = 67.0 + soap.sodium_hydroxide_percent;
            let after: f64 = soap.after.iter().map(|a| a.percent).sum();
            assert!((before - after).abs() < 1e-6, "{naoh}: {before} {after}");
        }
        // A tenth of the fat, as a rule of the trade has it.
        assert!((6.0..8.0).contains(&made(9.6).glycerin_percent));
    }

    /// Stearic acid 5 %, 17.6 mmol per 100 g, and triethanolamine 1.31 %, 8.8 mmol: half.
    #[test]
    fn half_neutralised_stearic_acid() {
        let acid = material("acid", &[("Stearic Acid", 100.0, Class::Oil)]);
        let oil = material("oil", &[("Olea Europaea Fruit Oil", 100.0, Class::Oil)]);
        let tea = material("tea", &[("Triethanolamine", 100.0, Class::AcidBase)]);
        let water = material("water", &[("Aqua", 100.0, Class::Water)]);
        let f = fixture::formula(vec![
            line(&water, "83.69"),
            line(&acid, "5"),
            line(&oil, "10"),
            line(&tea, "1.31"),
        ]);
        let mixture = Mixture::of(&f, f.active());
        let composition = Composition::of(&mixture);
        let soap = estimate(&Mix::new(&mixture, &composition))
            .unwrap()
            .unwrap();
        assert_eq!(soap.making, Making::Neutralised);
        assert!(
            (soap.degree_percent.value.unwrap() - 50.0).abs() < 0.5,
            "{soap:?}"
        );
        // 2.5 % of the acid with 1.31 % of the amine.
        let tea = soap
            .after
            .iter()
            .find(|a| a.inci.is("TEA-Stearate"))
            .unwrap();
        assert!((tea.percent - 3.81).abs() < 0.05, "{tea:?}");
    }
}
