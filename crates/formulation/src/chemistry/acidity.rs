//! pH of a formula: the equilibrium of its water phase, with the range that unknown
//! acids and bases, spreads of composition and rough constants leave open.

use std::sync::Arc;

use super::acids::Family;
use super::figure::Figure;
use super::mix::{Laid, Mix, Part};
use super::ph::{DAVIES_MOST, Equilibrium, Shares, Solution, solve};
use super::substances::{self, Brings, Substance};
use crate::material::{Alkalinity, Charge, Class, Material, Titration};
use crate::quantity::PhRange;

const METHOD: &str = "equilibrium of all acids, bases and salts of the water phase at 25 °C: charge balance with Davies' activity coefficients";
const VALIDITY: &str = "ionic strength up to 0.5 mol/kg; no ion pairing, no carbon dioxide of the air; citrate, phosphate and EDTA above 0.05 mol/kg may be off by 0.2; half the mix or more should be water";
const SOURCE: &str =
    "C. W. Davies, Ion Association, 1962; constants of the acids and bases with their own sources";

/// A range wider than this gets no single figure.
const WIDEST_FOR_ONE_FIGURE: f64 = 0.4;
/// With less water than this the constants, made for water, do not hold.
const LEAST_WATER: f64 = 0.5;
/// Below this share there is no water phase to speak of.
const NO_WATER: f64 = 0.01;
/// Ionic strength taken for a titration of a material diluted in water, mol/kg.
const TITRATION_STRENGTH: f64 = 0.1;
/// What a material of which nothing is told may bring either way, mmol per gram of its
/// unknown part: our assumption, no source.
const UNTOLD: f64 = 0.05;
/// Acid or base of adjustment that a material may hold beside what is known, mmol per
/// gram: our assumption, no source.
const ROOM: f64 = 0.02;
/// Molar mass taken for an acid, base or chelator whose constants are not known, g/mol.
const UNTOLD_MOLAR_MASS: f64 = 150.0;

/// The pH of a formula and the solution it was computed from.
#[derive(Clone, PartialEq, Debug)]
pub struct Acidity {
    /// The pH.
    pub figure: Figure,
    /// pH of the middle case: typical shares, unknowns at the middle of their range. It
    /// exists wherever there is water, also where the range is too wide to show it alone.
    pub middle: Option<f64>,
    /// Ionic strength of the middle case, mol/kg.
    pub ionic_strength: Option<f64>,
    /// Positive minus negative charge of the middle case, mol/kg.
    pub residual: f64,
    /// The middle case, for titration curves.
    pub solution: Solution,
    /// Water in the formula, share 0 to 1.
    pub water: f64,
}

impl Acidity {
    /// The estimated range; none if there is no water.
    pub fn range(&self) -> Option<PhRange> {
        PhRange::new(self.figure.low?, self.figure.high?)
    }
}

/// Base (positive) or acid (negative) that the constituents do not tell, mol per kg of
/// formula.
#[derive(Clone, Copy, Default)]
struct Untold {
    /// Ends of the range of what is not known.
    low: f64,
    high: f64,
    /// What a titration tells.
    titrated: f64,
}

impl Untold {
    fn add(&mut self, low: f64, high: f64) {
        self.low += low.min(high);
        self.high += low.max(high);
    }
    fn middle(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
    /// Adds an amount of the range to a solution, each mol/kg. Unknown acid is taken as one
    /// of usual strength; as a strong acid it would pull the pH further down than any extract
    /// does.
    fn dissolve(&self, amount: f64, water: f64, solution: &mut Solution) {
        solution.add_base(self.titrated / water);
        if amount >= 0.0 {
            solution.add_base(amount / water);
        } else {
            solution.add(Family::Untold, -amount / water);
        }
    }
}

/// Estimates the pH of a mix.
pub fn estimate(mix: &Mix<'_>, measured: Option<f64>) -> Acidity {
    let mut figure = Figure::of(METHOD, VALIDITY, SOURCE);
    figure.measured = measured;
    if mix.water < NO_WATER {
        figure.in_range = false;
        figure
            .remarks
            .push("no water phase, so there is no pH".to_owned());
        return Acidity {
            figure,
            middle: None,
            ionic_strength: None,
            residual: 0.0,
            solution: Solution::new(),
            water: mix.water,
        };
    }

    // Base not told by the constituents, mol per kg of the formula.
    let mut extra = Untold::default();
    for laid in &mix.lines {
        untold_of_line(laid, &mut extra, &mut figure);
    }
    let mut solution = Solution::new();
    for part in &mix.parts {
        let share = part.amount.share.typical.value();
        if let Some(substance) = part.substance {
            mix.dissolve(&mut solution, substance, share);
            if let Some((low, high)) = substance.uncertain_base {
                let moles = 1000.0 * share / substance.molar_mass;
                extra.add(low * moles, high * moles);
                note_unknown(&mut figure, part.amount.inci.clone());
            }
        } else if let Some((low, high)) = untold_of_class(part.amount.class, &part.amount.inci) {
            let moles = 1000.0 * told_neutral(mix, part) / UNTOLD_MOLAR_MASS;
            if moles > 0.0 {
                extra.add(low * moles, high * moles);
                note_unknown(&mut figure, part.amount.inci.clone());
            }
        }
    }
    extra.dissolve(extra.middle(), mix.water, &mut solution);
    let middle = solve(&solution);

    // The two ends: bases and acids at the ends of their spreads, each rough constant
    // shifted, unknown bases at their ends.
    let mut ends = [Solution::new().shifted(-1.0), Solution::new().shifted(1.0)];
    let mut spread = extra.low != extra.high;
    for part in &mix.parts {
        let Some(substance) = part.substance.filter(|s| !s.brings.is_empty()) else {
            continue;
        };
        let share = part.amount.share;
        let is_base = charge_of(substance, &middle) > 0.0;
        let (for_low, for_high) = if is_base {
            (share.low, share.high)
        } else {
            (share.high, share.low)
        };
        spread |= share.low != share.high || is_rough(substance);
        let [low, high] = &mut ends;
        mix.dissolve(low, substance, for_low.value());
        mix.dissolve(high, substance, for_high.value());
    }
    let [mut low, mut high] = ends;
    extra.dissolve(extra.low, mix.water, &mut low);
    extra.dissolve(extra.high, mix.water, &mut high);
    let (low, high) = if spread {
        (solve(&low).ph, solve(&high).ph)
    } else {
        (middle.ph, middle.ph)
    };
    let (low, high) = (low.min(middle.ph), high.max(middle.ph));

    figure.low = Some(low);
    figure.high = Some(high);
    figure.value = (high - low <= WIDEST_FOR_ONE_FIGURE).then_some(middle.ph);
    figure.in_range = middle.in_range() && mix.water >= LEAST_WATER;
    if middle.ionic_strength > DAVIES_MOST || !middle.settled {
        figure.remarks.push(format!(
            "ionic strength {:.2} mol/kg is above {DAVIES_MOST}, outside the range of the activity coefficients",
            middle.ionic_strength
        ));
    }
    if mix.water < LEAST_WATER {
        figure.remarks.push(format!(
            "only {:.0} % of the mix is water; the constants were measured in water and shift in such a mix",
            100.0 * mix.water
        ));
    }
    if !figure.unknown.is_empty() && figure.value.is_none() {
        figure.remarks.push(
            "what is not known leaves too wide a range for one figure; enter a titration of the material, or measure".to_owned(),
        );
    }
    Acidity {
        figure,
        middle: Some(middle.ph),
        ionic_strength: Some(middle.ionic_strength),
        residual: middle.residual,
        solution,
        water: mix.water,
    }
}

/// Share of a constituent that comes from materials said to be neutral beyond their
/// constituents; of other materials the line itself is reckoned with.
fn told_neutral(mix: &Mix<'_>, part: &Part<'_>) -> f64 {
    part.amount
        .from
        .iter()
        .filter(|(id, _)| {
            mix.lines
                .iter()
                .find(|l| l.line.id == *id)
                .and_then(|l| l.material)
                .is_some_and(|m| m.alkalinity == Alkalinity::Neutral)
        })
        .map(|(_, share)| share.value())
        .sum()
}

fn note_unknown(figure: &mut Figure, name: Arc<str>) {
    if !figure.unknown.contains(&name) {
        figure.unknown.push(name);
    }
}

fn is_rough(substance: &Substance) -> bool {
    substance.brings.iter().any(|b| match *b {
        Brings::Weak(family, _) => family.protolyte().uncertainty > 0.0,
        Brings::Strong(..) => false,
    })
}

/// Charge per mole that a substance brings at a state.
fn charge_of(substance: &Substance, at: &Equilibrium) -> f64 {
    charge_per_mole(substance, at.ph, at.ionic_strength)
}

fn charge_per_mole(substance: &Substance, ph: f64, ionic_strength: f64) -> f64 {
    let weak: f64 = substance
        .brings
        .iter()
        .map(|b| match *b {
            Brings::Weak(family, n) => {
                n * Shares::new(family.protolyte(), ph, ionic_strength).mean_charge()
            }
            Brings::Strong(..) => 0.0,
        })
        .sum();
    weak + substance.strong_charge()
}

/// Base (positive) or acid (negative) in moles per mole that a constituent without
/// known constants may bring, by its class.
fn untold_of_class(class: Class, inci: &str) -> Option<(f64, f64)> {
    match class {
        Class::AcidBase => Some((-1.0, 1.0)),
        Class::Chelator => Some((-0.5, 0.5)),
        Class::Surfactant(Charge::Anionic) if is_soap_like(inci) => Some((0.0, 0.5)),
        Class::Preservative if is_acid_or_salt(inci) => Some((-0.5, 0.5)),
        _ => None,
    }
}

/// Soaps and other salts of weak surfactant acids.
fn is_soap_like(inci: &str) -> bool {
    const WEAK: [&str; 12] = [
        "cocoate",
        "oleate",
        "palmate",
        "olivate",
        "stearate",
        "laurate",
        "tallowate",
        "glutamate",
        "glycinate",
        "sarcosinate",
        "alaninate",
        "carboxylate",
    ];
    let name = inci.to_ascii_lowercase();
    WEAK.iter().any(|w| name.contains(w))
}

fn is_acid_or_salt(inci: &str) -> bool {
    let name = inci.to_ascii_lowercase();
    name.contains("acid") || name.starts_with("sodium") || name.starts_with("potassium")
}

/// Adds what a line may bring beyond its listed constituents, mol per kg of formula.
fn untold_of_line(laid: &Laid<'_>, extra: &mut Untold, figure: &mut Figure) {
    if laid.share <= 0.0 {
        return;
    }
    let Some(material) = laid.material else {
        // Nothing at all is known of the line.
        extra.add(-UNTOLD * laid.share, UNTOLD * laid.share);
        note_unknown(figure, laid.line.material.as_str().into());
        return;
    };
    match &material.alkalinity {
        Alkalinity::Neutral => {}
        Alkalinity::Titrated(titration) => {
            extra.titrated += titrated_base_mmol_g(material, titration.value) * laid.share;
        }
        Alkalinity::Unknown {
            base_mmol_per_gram: Some((low, high)),
            ..
        } => {
            // What constituents of known constants bring is in the equilibrium already.
            let known = weak_mmol_g(material);
            let (low, high) = if known > 0.0 && low.abs().max(high.abs()) <= 1.2 * known {
                (-ROOM, ROOM)
            } else {
                (*low, *high)
            };
            extra.add(low * laid.share, high * laid.share);
            note_unknown(figure, material.name.clone());
        }
        Alkalinity::Unknown { ph_as_sold, .. } => {
            let Some((low, high)) = untold_mmol_g(material, *ph_as_sold) else {
                return;
            };
            extra.add(low * laid.share, high * laid.share);
            note_unknown(figure, material.name.clone());
        }
    }
}

/// Base beyond the listed constituents from a titration, mmol per gram of material.
///
/// At the end point the charge of the listed constituents, the unknown base and the
/// acid used add up to zero.
pub fn titrated_base_mmol_g(material: &Material, titration: Titration) -> f64 {
    let listed: f64 = material
        .constituents
        .iter()
        .filter_map(|c| {
            let substance = substances::find(&c.inci, c.cas)?;
            let mmol = 1000.0 * c.share.typical.value() / substance.molar_mass;
            Some(mmol * charge_per_mole(substance, titration.to_ph.value(), TITRATION_STRENGTH))
        })
        .sum();
    titration.mmol_acid_per_gram - listed
}

/// Groups that take up or give off protons in the constituents of known constants, mmol
/// per gram of material.
fn weak_mmol_g(material: &Material) -> f64 {
    material
        .constituents
        .iter()
        .filter_map(|c| {
            let substance = substances::find(&c.inci, c.cas)?;
            let groups: f64 = substance
                .brings
                .iter()
                .map(|b| match *b {
                    Brings::Weak(family, n) => n * family.protolyte().pka.len() as f64,
                    Brings::Strong(..) => 0.0,
                })
                .sum();
            Some(1000.0 * c.share.typical.value() * groups / substance.molar_mass)
        })
        .sum()
}

/// What a material may bring of which no figure is told, mmol per gram; none if its
/// constituents cannot bring acid or base.
fn untold_mmol_g(material: &Material, ph_as_sold: Option<PhRange>) -> Option<(f64, f64)> {
    let unknown = material.unknown_share().value();
    let inert = material.constituents.iter().all(|c| match c.class {
        Class::Water
        | Class::Oil
        | Class::Emulsifier
        | Class::Fragrance
        | Class::Solvent
        | Class::Humectant
        | Class::Antioxidant => true,
        _ => substances::find(&c.inci, c.cas).is_some_and(|s| {
            // Washing actives are sold with an acid or base of adjustment.
            !matches!(c.class, Class::Surfactant(_)) && s.uncertain_base.is_none()
        }),
    });
    if inert && unknown == 0.0 {
        return None;
    }
    let Some(range) = ph_as_sold else {
        let share = if inert { unknown } else { 1.0 };
        return Some((-UNTOLD * share, UNTOLD * share));
    };
    // Free hydroxide or acid at the pH as sold is the least it brings; five times the
    // upper end and a little more leaves room for buffers (our assumption, no source).
    let free = |ph: f64| 10.0_f64.powf(ph - 14.0) - 10.0_f64.powf(-ph);
    let (low, high) = (free(range.low.value()), free(range.high.value()));
    Some(if range.low.value() >= 7.0 {
        (low.max(0.0), 5.0 * high + ROOM)
    } else if range.high.value() <= 5.0 {
        (5.0 * low - ROOM, high.min(0.0))
    } else {
        (5.0 * low.min(0.0) - ROOM, 5.0 * high.max(0.0) + ROOM)
    })
}
