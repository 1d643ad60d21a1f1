//! The built-in materials: plausible, consistent, and in line with published names,
//! numbers and figures.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use formulation::chemistry::acids::Family;
use formulation::chemistry::constants::{self, ConstantKind};
use formulation::chemistry::soap::{self, SapBasis};
use formulation::chemistry::solubility::{self, Solid};
use formulation::chemistry::substances::{MassSource, TABLE};
use formulation::inci::InciKey;
use formulation::inventory::inventory;
use formulation::material::{
    Alkalinity, Basis, Charge, Class, Coverage, Hazard, Material, MaterialValue, ProductKind, Role,
};
use formulation::quantity::{in_celsius, in_kg_per_m3};
use formulation::shelf::built_in;

fn materials() -> impl Iterator<Item = &'static Material> {
    built_in::shelf().iter().map(AsRef::as_ref)
}

fn named(name: &str) -> &'static Material {
    materials()
        .find(|m| &*m.name == name)
        .unwrap_or_else(|| panic!("no material named {name}"))
}

fn active(m: &Material) -> f64 {
    Charge::ALL
        .iter()
        .map(|&c| m.share_of(Class::Surfactant(c)).as_percent())
        .sum()
}

/// Collects complaints, so that one run shows all of them.
fn check(complain: impl Fn(&'static Material) -> Vec<String>) {
    let all: Vec<String> = materials()
        .flat_map(|m| {
            complain(m)
                .into_iter()
                .map(move |c| format!("{}: {c}", m.name))
        })
        .collect();
    assert!(all.is_empty(), "{}", all.join("\n"));
}

#[test]
fn the_shelf_is_well_stocked() {
    assert_eq!(built_in::errors(), []);
    assert!(materials().count() >= 900, "{}", materials().count());
    for role in Role::ALL {
        assert!(
            materials().any(|m| m.has_role(role)),
            "no material is a {}",
            role.label()
        );
    }
    for charge in Charge::ALL {
        let many = materials().filter(|m| m.charge == Some(charge)).count();
        assert!(many >= 15, "{many} {} materials", charge.label());
    }
}

#[test]
fn every_material_states_what_a_maker_needs() {
    check(|m| {
        let mut complaints = Vec::new();
        let mut want = |good: bool, what: &str| {
            if !good {
                complaints.push(what.to_owned());
            }
        };
        want(!m.constituents.is_empty(), "contains nothing");
        want(!m.roles.is_empty(), "has no role");
        want(m.phase.is_some(), "belongs to no phase");
        want(!m.use_ranges.is_empty(), "has no use range");
        want(m.max_temperature.is_some(), "has no highest temperature");
        want(m.natural_origin.is_some(), "has no natural origin index");
        want(
            !matches!(&m.alkalinity, Alkalinity::Unknown { source, .. } if source.text.contains("entered without")),
            "says nothing about its effect on pH",
        );
        want(m.supplier.is_none(), "names a supplier");
        let preserves = m.has_role(Role::Preservative);
        want(
            preserves == m.preservation.is_some(),
            "preservative role and preservative data do not go together",
        );
        let surfactant = active(m) >= 20.0;
        want(
            !surfactant || m.charge.is_some(),
            "has active matter and no charge class",
        );
        complaints
    });
}

#[test]
fn shares_make_up_a_whole() {
    check(|m| {
        let mut complaints = Vec::new();
        let sum = |pick: fn(&formulation::quantity::Spread) -> f64| -> f64 {
            m.constituents.iter().map(|c| pick(&c.share)).sum()
        };
        let (low, typical, high) = (
            sum(|s| s.low.as_percent()),
            sum(|s| s.typical.as_percent()),
            sum(|s| s.high.as_percent()),
        );
        // Active, water, salt and the rest account for the jar; powders and pastes hold up
        // to a tenth of what data sheets do not name.
        if !(90.0..=100.000_001).contains(&typical) {
            complaints.push(format!("typical shares add up to {typical} %"));
        }
        if low > 100.000_001 || high < 95.0 {
            complaints.push(format!("no shares within {low} to {high} % make 100"));
        }
        let mut names = BTreeSet::new();
        for c in &m.constituents {
            if !names.insert(c.inci.key()) {
                complaints.push(format!("{} is listed twice", c.inci));
            }
        }
        complaints
    });
}

#[test]
fn ranges_are_in_order_and_in_bounds() {
    check(|m| {
        let mut complaints = Vec::new();
        for range in &m.use_ranges {
            if range.low > range.high || range.high.as_percent() > 100.0 {
                complaints.push(format!("use range {} to {}", range.low, range.high));
            }
        }
        for kind in [ProductKind::RinseOff, ProductKind::LeaveOn] {
            if m.use_ranges.iter().filter(|r| r.kind == kind).count() > 1 {
                complaints.push(format!("two use ranges for {}", kind.label()));
            }
        }
        if let Some(window) = &m.ph_window
            && (window.value.low.value() < 0.5 || window.value.high.value() > 13.0)
        {
            complaints.push("an odd pH window".into());
        }
        if let Some(p) = &m.preservation {
            if p.dose_low > p.dose_high {
                complaints.push("dose reversed".into());
            }
            if [p.bacteria, p.yeast, p.mould]
                .iter()
                .all(|&c| c == Coverage::None)
            {
                complaints.push("a preservative that covers nothing".into());
            }
        }
        if let Some(density) = &m.density
            && !(500.0..=8000.0).contains(&in_kg_per_m3(density.value))
        {
            complaints.push("an odd density".into());
        }
        if let Some(t) = &m.max_temperature
            && !(25.0..=150.0).contains(&in_celsius(t.value))
        {
            complaints.push("an odd highest temperature".into());
        }
        // Griffin's scale ends at 20; soaps and alkyl sulfates were given up to 40.
        if let Some(hlb) = &m.hlb
            && !(0.5..=40.0).contains(&hlb.value)
        {
            complaints.push("an odd HLB".into());
        }
        if let Some(hlb) = &m.required_hlb
            && !(4.0..=18.0).contains(&hlb.value)
        {
            complaints.push("an odd required HLB".into());
        }
        complaints
    });
}

#[test]
fn salt_of_sold_solutions_does_not_pass_their_active_matter() {
    check(|m| {
        let mut complaints = Vec::new();
        let salt = m.share_of(Class::Electrolyte).as_percent();
        if active(m) > 10.0 && salt > active(m) / 2.0 {
            complaints.push(format!("{salt} % salt with {} % active", active(m)));
        }
        complaints
    });
}

#[test]
fn hazards_are_named_where_practice_asks_for_protection() {
    // Fine surfactant powders need a dust mask, caustic goods gloves and goggles: common
    // practice, no source.
    check(|m| {
        let mut complaints = Vec::new();
        let named_powder = m.name.contains("powder") && !m.name.contains("macerate");
        if named_powder && active(m) > 50.0 && !m.hazards.contains(&Hazard::Dust) {
            complaints.push("a surfactant powder without a dust hazard".into());
        }
        let caustic = m.constituents.iter().any(|c| {
            ["Sodium Hydroxide", "Potassium Hydroxide"].contains(&c.inci.spelling())
                && c.share.typical.as_percent() >= 2.0
        });
        if caustic && !m.hazards.contains(&Hazard::Corrosive) {
            complaints.push("a caustic without a corrosive hazard".into());
        }
        if m.has_role(Role::EssentialOil) && !m.hazards.contains(&Hazard::Sensitiser) {
            complaints.push("an essential oil without a sensitiser hazard".into());
        }
        complaints
    });
    // Gums are wetted before water goes in: common practice, no source.
    for name in [
        "Xanthan gum",
        "Guar gum",
        "Hydroxyethylcellulose",
        "Carbomer powder",
    ] {
        assert!(!named(name).wet_with.is_empty(), "{name}");
    }
}

/// Names that the inventory lists in another form, with the form it lists.
const LISTED_AS: [(&str, &str); 2] = [
    ("Zinc Oxide (nano)", "ZINC OXIDE"),
    ("Titanium Dioxide (nano)", "TITANIUM DIOXIDE"),
];

/// Components of essential oils that the law limits and the inventory of ingredients does not
/// list, because nobody adds them: named as Annex II, entries 358 and 360, and the report of
/// the Scientific Committee on estragole do.
const NOT_LISTED: [&str; 3] = ["Safrole", "Estragole", "5-Methoxypsoralen"];

/// CAS numbers that differ from the first one of the inventory, read from
/// `reference/materials/cas_chosen.csv`, which says why; empty where the number is left out.
fn chosen() -> BTreeMap<String, String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/materials/cas_chosen.csv");
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(path)
        .unwrap()
        .records()
        .map(|row| {
            let row = row.unwrap();
            (row[0].to_owned(), row[1].to_owned())
        })
        .collect()
}

#[test]
fn names_and_numbers_are_those_of_the_inventory() {
    // European Commission, CosIng inventory of cosmetic ingredients (export of about 2021 to
    // 2022), first CAS number of each name.
    let chosen = chosen();
    let mut unused: BTreeSet<String> = chosen.keys().cloned().collect();
    let mut complaints = BTreeSet::new();
    for m in materials() {
        for c in &m.constituents {
            let listed = LISTED_AS
                .iter()
                .find(|(name, _)| *name == c.inci.spelling())
                .map_or(c.inci.spelling(), |(_, listed)| listed);
            if NOT_LISTED.contains(&c.inci.spelling()) && c.incidental.is_some() {
                continue;
            }
            let Some(entry) = inventory().by_name(listed) else {
                complaints.insert(format!("{} is not in the inventory", c.inci));
                continue;
            };
            let Some(cas) = c.cas else {
                if chosen.get(c.inci.spelling()).is_some_and(String::is_empty) {
                    unused.remove(c.inci.spelling());
                }
                continue;
            };
            if entry.cas == Some(cas) {
                continue;
            }
            match chosen.get(c.inci.spelling()) {
                Some(number) if *number == cas.to_string() => {
                    unused.remove(c.inci.spelling());
                }
                _ => {
                    complaints.insert(format!(
                        "{} has {cas}, the inventory {:?}",
                        c.inci, entry.cas
                    ));
                }
            }
        }
    }
    assert!(complaints.is_empty(), "{complaints:#?}");
    assert!(unused.is_empty(), "no longer needed: {unused:#?}");
}

#[test]
fn substances_without_a_number_are_known() {
    // Listed, so that a new gap is noticed. Most have none in the inventory either: polymers,
    // ferments, extracts and reaction mixtures; the others are left out for a reason.
    let chosen = chosen();
    let without: BTreeSet<&str> = materials()
        .flat_map(|m| &m.constituents)
        .filter(|c| c.cas.is_none())
        .map(|c| c.inci.spelling())
        .collect();
    for name in &without {
        if chosen.get(*name).is_some_and(String::is_empty) {
            continue;
        }
        assert_eq!(
            inventory().by_name(name).and_then(|e| e.cas),
            None,
            "{name} has a number in the inventory"
        );
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/materials/without_cas.txt");
    let listed = std::fs::read_to_string(path).unwrap();
    let listed: BTreeSet<&str> = listed
        .lines()
        .filter(|l| !l.starts_with('#') && !l.is_empty())
        .collect();
    assert_eq!(without, listed);
}

#[test]
fn one_name_has_one_number_and_one_class_of_charge() {
    let mut numbers: BTreeMap<InciKey, BTreeSet<String>> = BTreeMap::new();
    for c in materials().flat_map(|m| &m.constituents) {
        if let Some(cas) = c.cas {
            numbers
                .entry(c.inci.key())
                .or_default()
                .insert(cas.to_string());
        }
    }
    numbers.retain(|_, cas| cas.len() > 1);
    assert!(numbers.is_empty(), "{numbers:#?}");
}

#[test]
fn published_figures_lie_within_the_ranges() {
    // Active matter as stated on pages of maker supply shops: betaine 30 %, decyl glucoside
    // 51.3 %, coco-glucoside 52 %, disodium laureth sulfosuccinate 32 %.
    for (name, inci, percent) in [
        (
            "Cocamidopropyl betaine solution 30 %",
            "Cocamidopropyl Betaine",
            30.0,
        ),
        ("Decyl glucoside solution 51 %", "Decyl Glucoside", 51.3),
        ("Coco-glucoside solution 52 %", "Coco-Glucoside", 52.0),
        (
            "Disodium laureth sulfosuccinate solution 32 %",
            "Disodium Laureth Sulfosuccinate",
            32.0,
        ),
        (
            "Sodium cocoyl isethionate powder 85 %",
            "Sodium Cocoyl Isethionate",
            88.5,
        ),
    ] {
        let share = named(name)
            .constituents
            .iter()
            .find(|c| c.inci.spelling() == inci)
            .unwrap()
            .share;
        assert!(
            (share.low.as_percent()..=share.high.as_percent()).contains(&percent),
            "{name}"
        );
    }
    // Crystal water from molar masses (IUPAC atomic weights): citric acid monohydrate
    // 192.124 / 210.139 = 91.43 %; trisodium citrate dihydrate 258.07 / 294.10 = 87.75 %;
    // magnesium sulfate heptahydrate 120.37 / 246.47 = 48.84 %; disodium EDTA dihydrate
    // 336.21 / 372.24 = 90.32 %; zinc sulfate heptahydrate 161.44 / 287.55 = 56.14 %;
    // magnesium chloride hexahydrate 95.21 / 203.30 = 46.83 %; calcium chloride dihydrate
    // 110.98 / 147.01 = 75.49 %.
    for (name, inci, percent) in [
        ("Citric acid monohydrate", "Citric Acid", 91.43),
        ("Sodium citrate dihydrate", "Sodium Citrate", 87.75),
        ("Magnesium sulfate heptahydrate", "Magnesium Sulfate", 48.84),
        ("Disodium EDTA dihydrate", "Disodium EDTA", 90.32),
        ("Zinc sulfate heptahydrate", "Zinc Sulfate", 56.14),
        (
            "Magnesium chloride hexahydrate",
            "Magnesium Chloride",
            46.83,
        ),
        ("Calcium chloride dihydrate", "Calcium Chloride", 75.49),
    ] {
        let share = named(name)
            .constituents
            .iter()
            .find(|c| c.inci.spelling() == inci)
            .unwrap()
            .share
            .typical
            .as_percent();
        assert!((share - percent).abs() < 0.1, "{name}: {share}");
    }
    // Required HLB of the oil phase ingredients in OCL 29 (2022), ocl210096, Table 4.
    for (name, hlb) in [
        ("Beeswax, white", 12.0),
        ("Isopropyl myristate", 11.5),
        ("Stearic acid", 15.0),
    ] {
        let found = named(name).required_hlb.as_ref().unwrap();
        assert_eq!(found.value, hlb, "{name}");
        assert_eq!(found.source.basis, Basis::Published, "{name}");
    }
}

#[test]
fn remembered_values_say_so() {
    // Nothing on the built-in shelf may pass for a supplier's document or a measurement.
    check(|m| {
        let mut sources = vec![&m.source];
        sources.extend(m.use_ranges.iter().map(|r| &r.source));
        sources.extend(m.density.iter().map(|d| &d.source));
        sources.extend(m.natural_origin.iter().map(|n| &n.source));
        sources.extend(m.constituents.iter().filter_map(|c| c.source.as_ref()));
        sources
            .iter()
            .filter(|s| matches!(s.basis, Basis::Supplier | Basis::Measured))
            .map(|s| format!("claims to be {s}"))
            .collect()
    });
}

/// Indices of natural origin that the shelf gives to a substance: those of the materials
/// whose dry part is nothing else.
fn origin_of_substances() -> BTreeMap<&'static str, (f64, f64)> {
    let mut known: BTreeMap<&str, (f64, f64)> = BTreeMap::new();
    for m in materials() {
        let mut dry = m.constituents.iter().filter(|c| c.class != Class::Water);
        let (Some(only), None, Some(origin)) = (dry.next(), dry.next(), &m.natural_origin) else {
            continue;
        };
        let at = known
            .entry(only.inci.spelling())
            .or_insert((origin.value.low, origin.value.high));
        at.0 = at.0.min(origin.value.low);
        at.1 = at.1.max(origin.value.high);
    }
    known
}

#[test]
fn natural_origin_follows_the_rule_of_the_standard() {
    // ISO 16128-2:2017, from public summaries: a constituent of half or less natural origin
    // counts as 0; a mixture has the mean of its constituents by mass. The index of a material
    // is that of its part without water.
    let known = origin_of_substances();
    for (name, (low, high)) in &known {
        for index in [low, high] {
            assert!(*index == 0.0 || *index > 0.5, "{name}: {index}");
        }
    }
    check(|m| {
        // An oil is natural whole; what its components would be from elsewhere does not count.
        if m.has_role(Role::EssentialOil) {
            return Vec::new();
        }
        let dry: Vec<_> = m
            .constituents
            .iter()
            .filter(|c| c.class != Class::Water)
            .collect();
        let total: f64 = dry.iter().map(|c| c.share.typical.value()).sum();
        let all: Option<Vec<(f64, f64, f64)>> = dry
            .iter()
            .map(|c| {
                let (low, high) = *known.get(c.inci.spelling())?;
                Some((c.share.typical.value() / total, low, high))
            })
            .collect();
        let (Some(all), Some(origin)) = (all, &m.natural_origin) else {
            return Vec::new();
        };
        if all.is_empty() {
            return Vec::new();
        }
        let low: f64 = all.iter().map(|(share, low, _)| share * low).sum();
        let high: f64 = all.iter().map(|(share, _, high)| share * high).sum();
        let near = |a: f64, b: f64| (a - b).abs() < 0.02;
        if near(low, origin.value.low) && near(high, origin.value.high) {
            Vec::new()
        } else {
            vec![format!(
                "natural origin {} to {}, by its constituents {low:.3} to {high:.3}",
                origin.value.low, origin.value.high
            )]
        }
    });
    // Ethoxylates of five units and more on one fatty chain are less than half of natural
    // origin: from molar masses (C18 alcohol 270.5, ethylene oxide 44.05 g/mol).
    for (name, index) in &known {
        let units = name
            .split(|c: char| !c.is_ascii_alphanumeric())
            .filter_map(|word| word.parse::<u32>().ok())
            .max();
        let ethoxylate =
            name.contains("eth-") || name.starts_with("Polysorbate") || name.starts_with("PEG-");
        let fatty = !name.contains("Beeswax") && !name.contains("Dipolyhydroxystearate");
        if ethoxylate && fatty && units.is_some_and(|n| n >= 7) {
            assert_eq!(*index, (0.0, 0.0), "{name}");
        }
    }
}

#[test]
fn the_hlb_of_ethoxylates_follows_from_their_molar_masses() {
    // W. C. Griffin, J. Soc. Cosmet. Chem. 5 (1954) 249: a fifth of the share of ethylene oxide
    // by mass. Alcohols and acids by their formulas, cetearyl as equal moles of both.
    const ETHYLENE_OXIDE: f64 = 44.053;
    const TAILS: [(&str, f64); 6] = [
        ("Laureth-", 186.34),
        ("Ceteth-", 242.44),
        ("Ceteareth-", 256.47),
        ("Steareth-", 270.50),
        ("Oleth-", 268.48),
        ("PEG-", 284.48),
    ];
    let mut held = 0;
    for m in materials() {
        let computed = |h: &&formulation::material::Sourced<f64>| {
            h.source.basis == Basis::Estimate && h.source.text.contains("Griffin")
        };
        let Some(hlb) = m.hlb.as_ref().filter(computed) else {
            continue;
        };
        let (tail, rest) = TAILS
            .iter()
            .find_map(|(name, mass)| Some((mass, m.name.strip_prefix(name)?)))
            .unwrap();
        let units: f64 = rest.split(' ').next().unwrap().parse().unwrap();
        let oxide = units * ETHYLENE_OXIDE;
        let computed = 20.0 * oxide / (oxide + tail);
        assert!(
            (computed - hlb.value).abs() < 0.06,
            "{}: {computed}",
            m.name
        );
        held += 1;
    }
    assert!(held >= 12, "{held}");
}

#[test]
fn essential_oils_state_what_the_law_limits_in_them() {
    // Compositions from memory (they vary with origin); that the components occur at all is
    // common knowledge of the trade. Limits: Regulation (EC) No 1223/2009, Annex III, entry 102
    // (methyl eugenol), Annex II, entries 358 (furocoumarins) and 360 (safrole).
    for (oil, component) in [
        ("Rose essential oil", "Methyl Eugenol"),
        ("Basil essential oil, linalool type", "Methyl Eugenol"),
        ("Basil essential oil, linalool type", "Estragole"),
        ("Laurel leaf essential oil", "Methyl Eugenol"),
        ("Citronella essential oil, Ceylon type", "Methyl Eugenol"),
        ("Tea tree essential oil", "Methyl Eugenol"),
        ("Allspice berry essential oil", "Methyl Eugenol"),
        ("Nutmeg essential oil", "Safrole"),
        ("Cinnamon leaf essential oil", "Safrole"),
        ("Bergamot essential oil, expressed", "5-Methoxypsoralen"),
        ("Lime essential oil, expressed", "5-Methoxypsoralen"),
        ("Eucalyptus globulus essential oil", "Eucalyptol"),
    ] {
        let m = named(oil);
        assert!(
            m.constituents
                .iter()
                .any(|c| c.inci.spelling() == component && c.incidental.is_some()),
            "{oil} without {component}"
        );
    }
    // The oil itself is named by plant and part, and every oil is one of its own.
    let mut oils: BTreeMap<&str, &str> = BTreeMap::new();
    for m in materials().filter(|m| m.has_role(Role::EssentialOil)) {
        let scent = m.scent().unwrap();
        let other = oils.insert(scent.inci.spelling(), &*m.name);
        // One oil in two grades.
        let grades = ["Citrus Aurantium Bergamia Peel Oil"];
        assert!(
            other.is_none() || grades.contains(&scent.inci.spelling()),
            "{} and {other:?} are both {}",
            m.name,
            scent.inci
        );
    }
}

#[test]
fn moisture_is_no_ingredient() {
    // What a powder or a crystal holds of water was not added and is not listed: a solid is
    // taken to be one where most of it is neither water nor sold dissolved.
    check(|m| {
        let solution = [
            "solution", "water", "gel", "paste", "emulsion", "blend", "%", "extract",
        ];
        let sold_wet = solution.iter().any(|word| m.name.contains(word));
        let powder = m.hazards.contains(&Hazard::Dust) && !sold_wet;
        m.constituents
            .iter()
            .filter(|c| powder && c.class == Class::Water && c.incidental.is_none())
            .map(|c| format!("{} is declared", c.inci))
            .collect()
    });
}

/// What a line of a table rests on, by the word in one of its columns.
fn basis_in(line: &str, column: usize) -> Basis {
    match line.split('\t').nth(column).unwrap() {
        "published" => Basis::Published,
        "memory" => Basis::Typical,
        other => panic!("{other}: {line}"),
    }
}

/// What the figures of the shelf rest on, as the table of `docs/materials.md`.
fn bases() -> String {
    use std::fmt::Write as _;
    let mut counts: BTreeMap<&str, BTreeMap<Basis, usize>> = BTreeMap::new();
    let mut count = |kind: &'static str, basis: Basis| {
        *counts.entry(kind).or_default().entry(basis).or_default() += 1;
    };
    for m in materials() {
        for c in &m.constituents {
            // A pure substance is 100 % of itself.
            let pure = m.constituents.len() == 1;
            let source = c.source.as_ref().unwrap_or(&m.source);
            count(
                "share of a constituent",
                if pure { Basis::Estimate } else { source.basis },
            );
        }
        for range in &m.use_ranges {
            count("usual level", range.source.basis);
        }
        for (value, source) in m.value_sources() {
            let kind = match value {
                MaterialValue::NaturalOrigin => "natural origin",
                MaterialValue::Preservation => "preservative coverage",
                MaterialValue::Alkalinity => "effect on pH",
                other => other.row().in_changes,
            };
            count(kind, source.basis);
        }
    }
    // Constants of substances, in the code of the chemistry; those of a family of acids and
    // those of the table of partition are counted once, below.
    for constant in TABLE.iter().flat_map(constants::of_substance) {
        let of_family = matches!(
            constant.kind,
            ConstantKind::Dissociation
                | ConstantKind::AcidSolubility
                | ConstantKind::SolubilityConstant
                | ConstantKind::Uptake
        );
        if !of_family {
            count(constant.kind.label(), constant.source.basis);
        }
    }
    for acid in &solubility::ACIDS {
        count(
            ConstantKind::AcidSolubility.label(),
            constants::basis_of(acid.source),
        );
    }
    for solid in Solid::ALL {
        let source = solid.dissolution().source;
        count(
            ConstantKind::SolubilityConstant.label(),
            constants::basis_of(source),
        );
    }
    // What of a substance dissolves in a formula is data: a line each.
    let table = include_str!("../../../assets/rules/compatibility.ron");
    for line in table.lines().filter(|l| l.contains(", grams: ")) {
        let basis = if line.contains("basis: Published") {
            Basis::Published
        } else {
            Basis::Typical
        };
        count("solubility in the table of what goes together", basis);
    }
    // Of the other tables as well: values and rules of partition, limits of classification.
    let table = include_str!("../../../assets/chemistry/partition.ron");
    for line in table
        .lines()
        .filter(|l| l.contains("(into: ") || l.contains(", into: "))
    {
        let (_, source) = line.split_once("source: ").unwrap();
        let kind = if line.contains("slope: ") {
            "rule of partition into oils and micelles"
        } else {
            "partition into oils and micelles"
        };
        count(kind, constants::basis_of(source));
    }
    let table = include_str!("../../../assets/chemistry/clp_limits.tsv");
    for line in table.lines().filter(|l| !l.starts_with('#')).skip(1) {
        count("limit of classification of a solution", basis_in(line, 4));
    }
    let table = include_str!("../../../assets/chemistry/freezing_points.tsv");
    for line in table.lines().filter(|l| !l.starts_with('#')).skip(1) {
        count("freezing point of a solution", basis_in(line, 3));
    }
    let table = include_str!("../../../assets/chemistry/water_in_oil.tsv");
    for line in table.lines().filter(|l| !l.starts_with('#')).skip(1) {
        count(ConstantKind::WaterInOil.label(), basis_in(line, 2));
    }
    for family in Family::ALL {
        let source = family.protolyte().source;
        count(
            ConstantKind::Dissociation.label(),
            constants::basis_of(source),
        );
    }
    for fat in soap::fats() {
        let of_range = match fat.basis {
            SapBasis::Published => Basis::Published,
            SapBasis::Computed => Basis::Estimate,
            SapBasis::Memory => Basis::Typical,
        };
        count("range of the saponification value", of_range);
        // Computed from a composition that was read; one from memory makes no better figure.
        let read = fat.composition.contains("Ciqual") || of_range == Basis::Estimate;
        count(
            "typical saponification value",
            if read { Basis::Estimate } else { of_range },
        );
    }
    let columns = [
        Basis::Published,
        Basis::Estimate,
        Basis::Typical,
        Basis::Practice,
    ];
    let mut table = String::from(
        "| figure | published | computed | from memory | common practice |\n|---|---|---|---|---|\n",
    );
    for (kind, of) in &counts {
        let _ = write!(table, "| {kind} |");
        for basis in columns {
            let _ = write!(table, " {} |", of.get(&basis).copied().unwrap_or(0));
        }
        table.push('\n');
    }
    table
}

#[test]
fn molar_masses_that_are_said_to_be_computed_have_a_formula() {
    let formulas = [
        include_str!("../../reference/chemistry/molar_masses.csv"),
        include_str!("../../reference/chemistry/mean_formulas.csv"),
    ];
    for substance in TABLE.iter().filter(|s| !s.is_water()) {
        let quoted = format!("\"{}\",", substance.name());
        let by_formula = formulas.iter().any(|table| table.contains(&quoted));
        let said = substance.mass_source == MassSource::Formula;
        assert_eq!(by_formula, said, "{}", substance.name());
    }
}

#[test]
fn the_documentation_counts_what_the_figures_rest_on() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/materials.md");
    let text = std::fs::read_to_string(&path).unwrap();
    let (start, end) = ("<!-- bases -->\n", "<!-- end of bases -->");
    let (head, rest) = text.split_once(start).unwrap();
    let (found, tail) = rest.split_once(end).unwrap();
    let table = bases();
    if std::env::var_os("UPDATE_EXAMPLES").is_some() {
        std::fs::write(&path, format!("{head}{start}{table}{end}{tail}")).unwrap();
    } else {
        assert_eq!(
            found, table,
            "docs/materials.md is out of step; run with UPDATE_EXAMPLES=1"
        );
    }
}
