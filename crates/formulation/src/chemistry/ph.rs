//! pH of a water phase: full equilibrium of its acids, bases and salts at 25 °C.
//!
//! Unknown are the activity of hydrogen ions and the ionic strength. For a given
//! ionic strength the charge balance rises steadily with the logarithm of the
//! hydrogen activity, so it has one root, which Newton steps on the logarithm of
//! the ratio of positive to negative charge find within a bracket. The ionic
//! strength is iterated around that until it reproduces itself.
//!
//! Activity coefficients follow Davies, log₁₀ γ = −A z² (√I/(1+√I) − 0.3 I), with
//! A = [`DAVIES_A`]; uncharged species have γ = 1 (C. W. Davies, Ion Association,
//! 1962). The range of the equation is an ionic strength up to [`DAVIES_MOST`].
//! The activity of water enters the ion product of water as a_w = 1 − 0.017 Σm
//! (Garrels and Christ, 1965). No ion pairing or dimerisation is taken into account.
//!
//! Solids and sparingly soluble acids dissolve to their solubility where that is asked
//! for ([`Solution::cap_at_solubility`], [`Solution::add_solid`]), and the carbon dioxide of the
//! air can be let in ([`Solution::open_to_air`]).

use super::acids::{Family, Protolyte};
use super::ions::StrongIon;
use super::solubility::{self, Solid};
use super::substances::{Brings, Substance};

/// The constant A of Davies' equation at 25 °C, (kg/mol)^½, as the geochemical
/// equilibrium library that made the reference tables computes it.
pub const DAVIES_A: f64 = 0.510025;
/// The highest ionic strength at which Davies' equation is usually trusted, mol/kg.
pub const DAVIES_MOST: f64 = 0.5;
/// −log₁₀ of the ion product of water, 25 °C, zero ionic strength.
pub const PKW: f64 = 14.0;

/// Above this ionic strength the activity coefficients are held: the equation would
/// grow without bound, and the estimate is far outside its range anyway.
const DAVIES_HELD: f64 = 6.0;
/// The root is sought between these values of pH.
const PH_BRACKET: (f64, f64) = (-6.0, 20.0);
/// Relative change of ionic strength at which the outer iteration ends.
const IONIC_TOLERANCE: f64 = 1e-12;
/// Tolerance of the natural logarithm of the hydrogen activity where the solution holds amounts
/// that are only known between bounds; a pH is found as well to less than this.
pub(super) const SOLVED_WITHIN: f64 = 1e-5;
/// Steps of the outer iteration; it usually takes 5 to 15.
const OUTER_STEPS: usize = 200;
/// The same where the solution holds amounts that are only known between bounds.
const BOUNDED_STEPS: usize = 12;
/// Molality of dissolved carbon dioxide in equilibrium with air: a partial pressure of
/// 10⁻³·³⁸ atm (420 ppm) and log K = −1.468 (NIST Standard Reference Database 46, as
/// carried in minteq.v4; from memory).
const AIR_CO2: f64 = 1.42e-5;
/// Steps of the inner iteration; Newton takes 1 to 6, bisection at most 60.
const INNER_STEPS: usize = 100;

/// What is dissolved, in mol per kg of water.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Solution {
    totals: [f64; Family::COUNT],
    strong_charge: f64,
    strong_ionic: f64,
    strong_molality: f64,
    shift: f64,
    /// Change of every constant of a family, in pKa units.
    pka_shifts: [f64; Family::COUNT],
    solids: [f64; Solid::COUNT],
    /// Dissolved cations that solids have in common with salts.
    cations: [f64; Solid::COUNT],
    saturates: bool,
    air: bool,
}

impl Default for Solution {
    fn default() -> Self {
        Self {
            totals: [0.0; Family::COUNT],
            strong_charge: 0.0,
            strong_ionic: 0.0,
            strong_molality: 0.0,
            shift: 0.0,
            pka_shifts: [0.0; Family::COUNT],
            solids: [0.0; Solid::COUNT],
            cations: [0.0; Solid::COUNT],
            saturates: false,
            air: false,
        }
    }
}

impl Solution {
    /// Pure water.
    pub fn new() -> Self {
        Self::default()
    }
    /// The same solution with each constant moved by this many times its uncertainty: −1
    /// gives the lower end of pH, 1 the upper end.
    pub fn shifted(self, shift: f64) -> Self {
        Self { shift, ..self }
    }
    /// The same solution with every molality multiplied: below 1 a dilution. A factor that
    /// is not finite or negative gives pure water.
    pub fn scaled(&self, factor: f64) -> Self {
        let factor = if factor.is_finite() {
            factor.max(0.0)
        } else {
            0.0
        };
        Self {
            totals: self.totals.map(|t| t * factor),
            strong_charge: self.strong_charge * factor,
            strong_ionic: self.strong_ionic * factor,
            strong_molality: self.strong_molality * factor,
            solids: self.solids.map(|m| m * factor),
            cations: self.cations.map(|m| m * factor),
            ..*self
        }
    }
    /// Holds sparingly soluble acids at their solubility, and lets carbon dioxide escape
    /// above one atmosphere.
    pub fn cap_at_solubility(&mut self) {
        self.saturates = true;
    }
    /// The same solution in equilibrium with the carbon dioxide of the air.
    pub fn open_to_air(self) -> Self {
        Self { air: true, ..self }
    }
    /// All acids, bases and solids in it, with the charge of the strong ions, mol/kg.
    pub fn strength(&self) -> f64 {
        let of = |amounts: &[f64]| amounts.iter().sum::<f64>();
        of(&self.totals) + of(&self.solids) + self.strong_charge.abs()
    }
    /// Moves the constants of a family by this many pKa units, as micelles do.
    pub fn move_constants(&mut self, family: Family, pka_units: f64) {
        self.pka_shifts[family as usize] = pka_units;
    }
    /// Adds a solid that dissolves to its solubility constant, mol/kg. Amounts that are
    /// not finite or negative add nothing.
    pub fn add_solid(&mut self, solid: Solid, molality: f64) {
        if molality.is_finite() && molality > 0.0 {
            self.solids[solid as usize] += molality;
        }
    }
    /// Adds all that a substance brings, mol of the substance per kg.
    pub fn add_substance(&mut self, substance: &Substance, molality: f64) {
        for brings in substance.brings {
            match *brings {
                Brings::Weak(family, n) => self.add(family, n * molality),
                Brings::Strong(ion, n) => self.add_ion(ion, n * molality),
                Brings::Solid(solid, n) => self.add_solid(solid, n * molality),
            }
        }
    }
    /// The acids of which part lies undissolved at a state.
    pub fn undissolved(&self, at: &Equilibrium) -> impl Iterator<Item = Family> {
        let (ph, ionic_strength) = (at.ph, at.ionic_strength);
        self.families().filter(move |&f| {
            let limit = self.limit(f);
            limit.is_finite()
                && self.total(f) * Shares::new(f.protolyte(), ph, ionic_strength).protonated()
                    > limit * 1.001
        })
    }
    /// Highest molality of the uncharged form of a family, what micelles hold included.
    fn limit(&self, family: Family) -> f64 {
        if self.saturates {
            solubility::uncharged_limit(family)
                * 10.0_f64.powf(self.pka_shifts[family as usize].max(0.0))
        } else {
            f64::INFINITY
        }
    }
    /// Adds an acid, base or ampholyte, mol/kg. Amounts that are not finite or
    /// negative add nothing.
    pub fn add(&mut self, family: Family, molality: f64) {
        if molality.is_finite() && molality > 0.0 {
            self.totals[family as usize] += molality;
        }
    }
    /// Adds a strong ion, mol/kg. Amounts that are not finite or negative add nothing.
    pub fn add_ion(&mut self, ion: StrongIon, molality: f64) {
        if molality.is_finite() && molality > 0.0 {
            let z = f64::from(ion.charge());
            self.strong_charge += z * molality;
            self.strong_ionic += z * z * molality;
            self.strong_molality += molality;
            for (solid, sum) in Solid::ALL.iter().zip(&mut self.cations) {
                if solid.dissolution().cation == ion {
                    *sum += molality;
                }
            }
        }
    }
    /// Adds a strong base (positive) or a strong acid (negative), mol/kg.
    pub fn add_base(&mut self, molality: f64) {
        if molality > 0.0 {
            self.add_ion(StrongIon::Sodium, molality);
        } else {
            self.add_ion(StrongIon::Chloride, -molality);
        }
    }
    /// Total of a family, mol/kg.
    pub fn total(&self, family: Family) -> f64 {
        self.totals[family as usize]
    }
    /// The families present.
    pub fn families(&self) -> impl Iterator<Item = Family> {
        Family::ALL.iter().copied().filter(|&f| self.total(f) > 0.0)
    }
}

/// How activity coefficients are taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Activity {
    /// Davies' equation, water activity in the ion product of water.
    Davies,
    /// All coefficients 1.
    Ideal,
}

/// The state of a solution at equilibrium.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Equilibrium {
    /// −log₁₀ of the activity of H⁺.
    pub ph: f64,
    /// Ionic strength, mol/kg.
    pub ionic_strength: f64,
    /// Activity of water as it entered the ion product.
    pub water_activity: f64,
    /// Positive minus negative charge, mol/kg.
    pub residual: f64,
    /// Whether the ionic strength reproduced itself; outside the range of Davies'
    /// equation it may not.
    pub settled: bool,
}

impl Equilibrium {
    /// Whether the ionic strength is within the range of Davies' equation.
    pub fn in_range(&self) -> bool {
        self.settled && self.ionic_strength <= DAVIES_MOST
    }
}

/// log₁₀ of the activity coefficient of a univalent ion by Davies' equation. That of
/// charge z is z² times as much. Ionic strength in mol/kg, 0 or more.
pub fn davies(ionic_strength: f64) -> f64 {
    let i = ionic_strength.clamp(0.0, DAVIES_HELD);
    let root = i.sqrt();
    -DAVIES_A * (root / (1.0 + root) - 0.3 * i)
}

/// Shares of the forms of a family at a pH and ionic strength, by amount; they add
/// up to 1.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Shares {
    forms: [f64; Protolyte::MOST_STEPS + 1],
    top_charge: f64,
}

impl Shares {
    /// From the thermodynamic constants. With ionic strength 0 this is the equation of
    /// Henderson and Hasselbalch.
    pub fn new(protolyte: &Protolyte, ph: f64, ionic_strength: f64) -> Self {
        Self::from_constants(
            protolyte.top_charge,
            protolyte.pka,
            ph,
            davies(ionic_strength),
        )
    }
    /// From given constants; `log_gamma` belongs to a univalent ion.
    pub fn from_constants(top_charge: i8, pka: &[f64], ph: f64, log_gamma: f64) -> Self {
        let top = f64::from(top_charge);
        let mut logs = [f64::NEG_INFINITY; Protolyte::MOST_STEPS + 1];
        let mut log = 0.0;
        let mut highest = 0.0_f64;
        logs[0] = 0.0;
        for ((j, pk), slot) in pka.iter().enumerate().zip(logs[1..].iter_mut()) {
            let z = top - j as f64;
            log += ph - pk + log_gamma * (z * z - (z - 1.0) * (z - 1.0));
            *slot = log;
            highest = highest.max(log);
        }
        let mut forms = logs.map(|l| 10.0_f64.powf(l - highest));
        let sum: f64 = forms.iter().sum();
        for form in &mut forms {
            *form /= sum;
        }
        Self {
            forms,
            top_charge: top,
        }
    }
    /// The share of the fully protonated form.
    pub fn protonated(&self) -> f64 {
        self.forms[0]
    }
    /// Mean charge per molecule.
    pub fn mean_charge(&self) -> f64 {
        self.forms
            .iter()
            .enumerate()
            .map(|(j, share)| (self.top_charge - j as f64) * share)
            .sum()
    }
}

/// The part of a family that the inner iteration needs: conditional constants at the
/// present ionic strength.
#[derive(Clone, Copy)]
struct Chain {
    total: f64,
    /// Highest molality of the fully protonated form.
    most: f64,
    /// Molality of the fully protonated form that the air holds constant.
    held: Option<f64>,
    top: f64,
    steps: usize,
    /// Thermodynamic constants 10^−pKa.
    k: [f64; Protolyte::MOST_STEPS],
    /// The same, with the activity coefficients of the two forms taken in.
    k_now: [f64; Protolyte::MOST_STEPS],
}

const NO_CHAIN: Chain = Chain {
    total: 0.0,
    most: f64::INFINITY,
    held: None,
    top: 0.0,
    steps: 0,
    k: [0.0; Protolyte::MOST_STEPS],
    k_now: [0.0; Protolyte::MOST_STEPS],
};

/// Sums over all ions at one activity of hydrogen ions.
#[derive(Default)]
struct Balance {
    positive: f64,
    negative: f64,
    /// Derivatives with respect to the natural logarithm of the hydrogen activity.
    positive_slope: f64,
    negative_slope: f64,
    /// Σ m z².
    ionic: f64,
    /// Molality of H⁺ and OH⁻.
    hydrogen: f64,
    hydroxide: f64,
    /// The amount that is only known as a function of pH, as it was counted.
    bounded: f64,
}

/// Base (positive) or acid (negative) in mol/kg that falls with pH.
type OfPh<'a> = &'a dyn Fn(f64) -> f64;

/// A solid as the inner iteration needs it.
#[derive(Clone, Copy)]
struct Bottom {
    total: f64,
    /// The cation that salts bring.
    common: f64,
    k: f64,
    water: f64,
    /// Moles of carbonate for each of the cation.
    carbonate: f64,
}

/// Steps in which solids that share the carbonate come to agree.
const SHARING_STEPS: usize = 60;

/// What of a solid dissolves, beside `a` of its cation and `c` of carbonate in solution, where
/// (a + s) · ((c + x s) · share)ˣ is the product.
fn saturated(a: f64, c: f64, x: f64, product: f64, share: f64) -> f64 {
    if x == 1.0 {
        let square = (a - c) * (a - c) + 4.0 * product / share;
        return f64::midpoint(-(a + c), square.sqrt());
    }
    let over = |s: f64| (a + s) * ((c + x * s) * share).powf(x) > product;
    if over(0.0) {
        return 0.0;
    }
    let (mut low, mut high) = (-60.0_f64, 10.0_f64);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if over(middle.exp()) {
            high = middle;
        } else {
            low = middle;
        }
    }
    low.exp()
}

const NO_BOTTOM: Bottom = Bottom {
    total: 0.0,
    common: 0.0,
    k: 0.0,
    water: 0.0,
    carbonate: 0.0,
};

struct Problem<'a> {
    chains: &'a mut [Chain],
    solids: &'a [Bottom],
    /// Place of carbonic acid among the chains.
    carbonic: Option<usize>,
    bounded: Option<OfPh<'a>>,
    cations: f64,
    anions: f64,
    strong_ionic: f64,
    solute_molality: f64,
    activity: Activity,
    inverse_gamma: f64,
    kw: f64,
    water_activity: f64,
}

impl Problem<'_> {
    /// Lets ionic strength and balance of charge agree, from a first ionic strength on; gives
    /// the natural logarithm of the activity of hydrogen ions, and whether they agreed.
    fn settle(&mut self, first: f64, finest: f64, steps: usize) -> (f64, bool) {
        /// Below this ionic strength, mol/kg, the activity coefficients are 1 to a thousandth.
        const NO_SALT: f64 = 1e-6;
        let mut ionic_strength = first;
        let mut x = -7.0 * std::f64::consts::LN_10;
        let mut hydrogen_and_hydroxide = 0.0;
        let mut last_change = f64::INFINITY;
        let mut damping = 1.0;
        let enough = if self.bounded.is_some() {
            1e-4
        } else {
            IONIC_TOLERANCE
        };
        for _ in 0..steps {
            self.set_medium(ionic_strength, hydrogen_and_hydroxide);
            let (root, balance) = self.root(x, (1e-3 * last_change).clamp(finest, 1e-3));
            x = root;
            let next = 0.5 * balance.ionic;
            let water = balance.hydrogen + balance.hydroxide;
            let water_change = (water - hydrogen_and_hydroxide).abs();
            hydrogen_and_hydroxide = water;
            let change = (next - ionic_strength).abs() / next.max(NO_SALT);
            if change <= enough && (water_change <= 1e-14 || self.bounded.is_some()) {
                return (x, true);
            }
            if change > last_change {
                damping = (damping * 0.5_f64).max(0.05);
            }
            last_change = change;
            ionic_strength += damping * (next - ionic_strength);
        }
        (x, false)
    }

    /// Takes a new ionic strength and water activity into the constants.
    fn set_medium(&mut self, ionic_strength: f64, hydrogen_and_hydroxide: f64) {
        let (gamma, water_activity) = match self.activity {
            Activity::Davies => (
                10.0_f64.powf(davies(ionic_strength)),
                (1.0 - 0.017 * (self.solute_molality + hydrogen_and_hydroxide)).max(0.1),
            ),
            Activity::Ideal => (1.0, 1.0),
        };
        self.inverse_gamma = 1.0 / gamma;
        self.water_activity = water_activity;
        self.kw = 10.0_f64.powf(-PKW) * water_activity;
        // γ of charge z over γ of charge z − 1 is γ₁^(2z − 1).
        for chain in &mut *self.chains {
            for (j, (now, k)) in chain.k_now.iter_mut().zip(&chain.k).enumerate() {
                let z = chain.top as i32 - j as i32;
                *now = k * gamma.powi(2 * z - 1);
            }
        }
    }

    fn balance(&self, h: f64) -> Balance {
        let hydrogen = h * self.inverse_gamma;
        let hydroxide = self.kw / h * self.inverse_gamma;
        let mut b = Balance {
            positive: self.cations + hydrogen,
            negative: self.anions + hydroxide,
            positive_slope: hydrogen,
            negative_slope: -hydroxide,
            ionic: self.strong_ionic + hydrogen + hydroxide,
            hydrogen,
            hydroxide,
            bounded: 0.0,
        };
        if let Some(amount) = self.bounded {
            b.bounded = amount(-h.log10());
            b.positive += b.bounded.max(0.0);
            b.negative += (-b.bounded).max(0.0);
            b.ionic += b.bounded.abs();
        }
        let inverse_h = 1.0 / h;
        let (all_dissolved, with_solids) = self.dissolve(h);
        for (solid, dissolved) in self.solids.iter().zip(all_dissolved) {
            b.positive += 2.0 * dissolved;
            b.ionic += 4.0 * dissolved;
            if solid.carbonate == 0.0 && dissolved > 0.0 && dissolved < solid.total {
                b.positive_slope += 4.0 * (dissolved + solid.common);
            }
        }
        for (place, chain) in self.chains.iter().enumerate() {
            let mut term = 1.0;
            let mut z = chain.top;
            let (mut sum, mut plus, mut minus, mut plus2, mut minus2) = (1.0, 0.0, 0.0, 0.0, 0.0);
            if z > 0.0 {
                plus = z;
                plus2 = z * z;
            } else {
                minus = -z;
                minus2 = z * z;
            }
            for k in &chain.k_now[..chain.steps] {
                term *= k * inverse_h;
                z -= 1.0;
                sum += term;
                if z > 0.0 {
                    plus += z * term;
                    plus2 += z * z * term;
                } else {
                    minus -= z * term;
                    minus2 += z * z * term;
                }
            }
            let total = if self.carbonic == Some(place) {
                chain.total + with_solids
            } else {
                chain.total
            };
            // Where the protonated form is held, the others change with it alone.
            let (scale, mean) = match chain.held {
                Some(held) => (held, chain.top),
                None if total / sum > chain.most => (chain.most, chain.top),
                None => (total / sum, (plus - minus) / sum),
            };
            b.positive += scale * plus;
            b.negative += scale * minus;
            // The share of a form of charge z grows as z minus the mean charge.
            b.positive_slope += scale * (plus2 - mean * plus);
            b.negative_slope += scale * (-minus2 - mean * minus);
            b.ionic += scale * (plus2 + minus2);
        }
        b
    }

    /// How much of each solid goes into solution, and the carbonate that goes with all of them,
    /// mol/kg. Solids that share the carbonate are taken in turn until they agree.
    fn dissolve(&self, h: f64) -> ([f64; Solid::COUNT], f64) {
        let mut dissolved = [0.0; Solid::COUNT];
        let sharing = self.solids.iter().filter(|s| s.carbonate > 0.0).count();
        let rounds = if sharing > 1 { SHARING_STEPS } else { 1 };
        let mut carbonate = 0.0;
        for _ in 0..rounds {
            let before = carbonate;
            for (solid, dissolved) in self.solids.iter().zip(&mut dissolved) {
                let others = carbonate - solid.carbonate * *dissolved;
                *dissolved = self.dissolved(solid, h, others);
                carbonate = others + solid.carbonate * *dissolved;
            }
            if (carbonate - before).abs() <= 1e-12 * carbonate {
                break;
            }
        }
        (dissolved, carbonate)
    }

    /// How much of a solid goes into solution, mol/kg, beside the carbonate of others.
    fn dissolved(&self, solid: &Bottom, h: f64, others: f64) -> f64 {
        // The activity coefficient of charge 2 is that of charge 1 to the fourth power.
        let inverse_gamma_2 = self.inverse_gamma.powi(4);
        let product = solid.k * inverse_gamma_2 / self.water_activity.powf(solid.water);
        let most = if solid.carbonate > 0.0 {
            let Some(chain) = self.carbonic.and_then(|i| self.chains.get(i)) else {
                return 0.0;
            };
            let x = solid.carbonate;
            let [k1, k2, ..] = chain.k_now;
            let carbonate = k1 * k2 / (h * h);
            let sum = 1.0 + k1 / h + carbonate;
            let product = product * inverse_gamma_2.powf(x) * h.powf(2.0 - 2.0 * x);
            let at = |uncharged: f64| product / (uncharged * carbonate).powf(x) - solid.common;
            let c = chain.total + others;
            if let Some(held) = chain.held {
                at(held)
            } else {
                let closed = saturated(solid.common, c, x, product, carbonate / sum);
                if (c + x * closed.max(0.0)) / sum > chain.most {
                    at(chain.most)
                } else {
                    closed
                }
            }
        } else {
            product * h * h - solid.common
        };
        // `clamp` would let a NaN through.
        most.min(solid.total).max(0.0)
    }

    /// Natural logarithm of the hydrogen activity at which charges balance, from a
    /// start, to a tolerance in that logarithm.
    fn root(&self, start: f64, tolerance: f64) -> (f64, Balance) {
        let ln10 = std::f64::consts::LN_10;
        let (mut low, mut high) = (-PH_BRACKET.1 * ln10, -PH_BRACKET.0 * ln10);
        let mut x = start.clamp(low, high);
        let mut balance = self.balance(x.exp());
        let mut last_step = f64::INFINITY;
        for _ in 0..INNER_STEPS {
            let difference = balance.positive - balance.negative;
            if difference == 0.0 {
                break;
            }
            if difference > 0.0 {
                high = x;
            } else {
                low = x;
            }
            let ratio = (difference / balance.negative).ln_1p();
            let slope = balance.positive_slope / balance.positive
                - balance.negative_slope / balance.negative;
            let newton = x - ratio / slope;
            // Newton's step must shrink, or it may swing between two points for ever;
            // `contains` is false for a NaN as well.
            let shrinks = (newton - x).abs() <= 0.5 * last_step;
            let next = if shrinks && (low..=high).contains(&newton) {
                newton
            } else {
                f64::midpoint(low, high)
            };
            let step = (next - x).abs();
            last_step = step;
            x = next;
            balance = self.balance(x.exp());
            if step <= tolerance {
                break;
            }
        }
        (x, balance)
    }
}

/// pH, ionic strength and residual of a solution at 25 °C, by Davies' equation.
pub fn solve(solution: &Solution) -> Equilibrium {
    solve_with(solution, Activity::Davies)
}

/// As [`solve`], with a choice of activity coefficients.
pub fn solve_with(solution: &Solution, activity: Activity) -> Equilibrium {
    run(solution, activity, None, OUTER_STEPS).0
}

/// The state of a solution with an amount that depends on pH: base (positive) or acid
/// (negative) in mol/kg that never rises with pH, steps allowed. The second value is the
/// amount that balances the charge there; at a step it lies between its two ends.
pub fn solve_bounded(solution: &Solution, amount: &dyn Fn(f64) -> f64) -> (Equilibrium, f64) {
    run(solution, Activity::Davies, Some(amount), BOUNDED_STEPS)
}

/// The protolytes of a solution as the solver takes them, where carbonic acid stands among
/// them, and how many there are.
fn chains_of(solution: &Solution) -> ([Chain; Family::COUNT], Option<usize>, usize) {
    let mut chains = [NO_CHAIN; Family::COUNT];
    let mut used = 0;
    let mut carbonic = None;
    let has_carbonate =
        |s: &Solid| s.dissolution().carbonate > 0.0 && solution.solids[*s as usize] > 0.0;
    let needs_carbonic = solution.air || Solid::ALL.iter().any(has_carbonate);
    let families = Family::ALL
        .iter()
        .copied()
        .filter(|&f| solution.total(f) > 0.0 || (needs_carbonic && f == Family::Carbonic));
    for (family, chain) in families.zip(&mut chains) {
        let protolyte = family.protolyte();
        chain.total = solution.total(family);
        chain.most = solution.limit(family);
        chain.top = f64::from(protolyte.top_charge);
        chain.steps = protolyte.pka.len();
        if family == Family::Carbonic {
            carbonic = Some(used);
            chain.held = solution.air.then_some(AIR_CO2);
        }
        let moved = solution.shift * protolyte.uncertainty + solution.pka_shifts[family as usize];
        for (k, pka) in chain.k.iter_mut().zip(protolyte.pka) {
            *k = (-(pka + moved) * std::f64::consts::LN_10).exp();
        }
        used += 1;
    }
    (chains, carbonic, used)
}

/// The solids that may lie at the bottom, and how many there are.
fn bottoms_of(solution: &Solution) -> ([Bottom; Solid::COUNT], usize) {
    let mut bottoms = [NO_BOTTOM; Solid::COUNT];
    let mut lying = 0;
    for (solid, bottom) in Solid::ALL
        .iter()
        .filter(|&&s| solution.solids[s as usize] > 0.0)
        .zip(&mut bottoms)
    {
        let dissolution = solid.dissolution();
        bottom.total = solution.solids[*solid as usize];
        bottom.common = solution.cations[*solid as usize];
        bottom.k = 10.0_f64.powf(dissolution.log_k);
        bottom.water = dissolution.water;
        bottom.carbonate = dissolution.carbonate;
        lying += 1;
    }
    (bottoms, lying)
}

fn run(
    solution: &Solution,
    activity: Activity,
    bounded: Option<OfPh<'_>>,
    outer_steps: usize,
) -> (Equilibrium, f64) {
    let (mut chains, carbonic, used) = chains_of(solution);
    let (bottoms, lying) = bottoms_of(solution);
    let weak_molality: f64 = chains[..used].iter().map(|chain| chain.total).sum();
    let mut problem = Problem {
        chains: &mut chains[..used],
        solids: &bottoms[..lying],
        carbonic,
        bounded,
        cations: solution.strong_charge.max(0.0),
        anions: (-solution.strong_charge).max(0.0),
        strong_ionic: solution.strong_ionic,
        solute_molality: solution.strong_molality + weak_molality,
        activity,
        inverse_gamma: 1.0,
        kw: 0.0,
        water_activity: 1.0,
    };

    let finest = if bounded.is_some() {
        SOLVED_WITHIN
    } else {
        1e-13
    };
    let (x, settled) = problem.settle(0.5 * solution.strong_ionic, finest, outer_steps);
    let (x, balance) = problem.root(x, 0.1 * finest);
    let amount = balance.bounded - (balance.positive - balance.negative);
    let state = Equilibrium {
        ph: -x / std::f64::consts::LN_10,
        ionic_strength: 0.5 * balance.ionic,
        water_activity: problem.water_activity,
        residual: if bounded.is_some() {
            0.0
        } else {
            balance.positive - balance.negative
        },
        settled,
    };
    (state, amount)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn of(acids: &[(Family, f64)], base: f64) -> Solution {
        let mut solution = Solution::new();
        for &(family, molality) in acids {
            solution.add(family, molality);
        }
        solution.add_base(base);
        solution
    }

    #[test]
    fn water_is_neutral() {
        let water = solve(&Solution::new());
        assert!((water.ph - 7.0).abs() < 1e-4, "{water:?}");
        assert!(water.settled);
    }

    /// pH(S) of the primary standard buffers at 25 °C, mol/kg: R. G. Bates,
    /// Determination of pH, 1973, and NIST Special Publication 260-53; values from
    /// memory. Ion pairing is not modelled, hence the tolerance.
    #[test]
    fn standard_buffers() {
        let check = |solution: &Solution, published: f64, tolerance: f64| {
            let found = solve(solution).ph;
            assert!(
                (found - published).abs() < tolerance,
                "{found} instead of {published}"
            );
        };
        // KH2PO4 0.025 and Na2HPO4 0.025.
        check(&of(&[(Family::Phosphoric, 0.05)], 0.075), 6.865, 0.02);
        // KH2PO4 0.008695 and Na2HPO4 0.03043.
        check(
            &of(&[(Family::Phosphoric, 0.039125)], 0.008695 + 0.06086),
            7.413,
            0.02,
        );
        // NaHCO3 0.025 and Na2CO3 0.025.
        check(&of(&[(Family::Carbonic, 0.05)], 0.075), 10.012, 0.03);
        // KH2 citrate 0.05.
        check(&of(&[(Family::Citric, 0.05)], 0.05), 3.776, 0.04);
        // Acetic acid and sodium acetate, 0.1 and 0.01 each.
        check(&of(&[(Family::Acetic, 0.2)], 0.1), 4.652, 0.01);
        check(&of(&[(Family::Acetic, 0.02)], 0.01), 4.718, 0.01);
        // Tris 0.01667 and its hydrochloride 0.05.
        check(&of(&[(Family::Tromethamine, 0.06667)], -0.05), 7.699, 0.03);
        // Borax 0.01: four boric acid, two sodium.
        check(&of(&[(Family::Boric, 0.04)], 0.02), 9.180, 0.03);
    }

    /// Citric acid 0.1 mol/l and disodium phosphate 0.2 mol/l mixed to 100 ml, after T. C.
    /// McIlvaine, J. Biol. Chem. 49 (1921) 183, as reprinted. Sodium pairs with citrate and
    /// phosphate, which is not modelled: the pH comes out up to 0.2 high at such strength.
    #[test]
    fn buffers_of_mcilvaine() {
        for (acid_ml, phosphate_ml, published) in [
            (89.1, 10.9, 2.6),
            (75.3, 24.7, 3.4),
            (61.45, 38.55, 4.0),
            (48.5, 51.5, 5.0),
            (36.85, 63.15, 6.0),
            (17.65, 82.35, 7.0),
            (6.35, 93.65, 7.6),
        ] {
            let phosphate = 0.002 * phosphate_ml;
            let citric = 0.001 * acid_ml;
            let families = [(Family::Citric, citric), (Family::Phosphoric, phosphate)];
            let found = solve(&of(&families, 2.0 * phosphate)).ph;
            assert!(
                (found - published).abs() < 0.2,
                "{found} instead of {published}"
            );
        }
    }

    /// Benzoate, sorbate, citric acid, disodium EDTA, sodium hydroxide and sodium chloride as in
    /// the bench: IPHREEQC 3.8.6 gives pH 5.046900 with the same constants.
    #[test]
    fn the_mixture_of_the_bench() {
        let mut solution = of(
            &[
                (Family::Benzoic, 0.0354),
                (Family::Sorbic, 0.0204),
                (Family::Citric, 0.0106),
                (Family::Edta, 0.003),
            ],
            0.0,
        );
        solution.add_ion(StrongIon::Sodium, 0.0354 + 0.006 + 0.0128 + 0.1747);
        solution.add_ion(StrongIon::Potassium, 0.0204);
        solution.add_ion(StrongIon::Chloride, 0.1747);
        assert!((solve(&solution).ph - 5.046900).abs() < 2e-6);
    }

    /// Newton's method alone swings between pH 4.05 and −3.4 here. A trace of acid cannot
    /// move the pH of 2 mol/kg of another.
    #[test]
    fn a_strong_acid_mix_is_solved_wherever_newton_would_swing() {
        let mixed = |lactic: f64| {
            let acids = [
                (Family::Citric, 2.1180358592960253),
                (Family::Triethanolamine, 0.043872183298857954),
                (Family::Lactic, lactic),
            ];
            solve_with(&of(&acids, -7.849382662389437e-5), Activity::Ideal)
        };
        let without = mixed(0.0).ph;
        for lactic in [1e-10, 1e-8, 1e-6, 8.796974e-6, 1e-4] {
            let found = mixed(lactic);
            assert!(found.residual.abs() < 1e-10, "{found:?}");
            assert!((found.ph - without).abs() < 1e-5, "{found:?}");
        }
    }

    #[test]
    fn henderson_and_hasselbalch_at_zero_ionic_strength() {
        for ph in [3.0, 4.2, 5.5, 7.0] {
            let share = Shares::new(Family::Benzoic.protolyte(), ph, 0.0).protonated();
            assert!((share - 1.0 / (1.0 + 10.0_f64.powf(ph - 4.20))).abs() < 1e-12);
        }
    }

    fn any_solution() -> impl Strategy<Value = Solution> {
        let acids = prop::collection::vec((0..Family::COUNT, -6.0..0.5_f64), 0..6);
        let strong = (-6.0..1.0_f64, any::<bool>(), 0.0..3.0_f64);
        (acids, strong).prop_map(|(acids, (base, sign, salt))| {
            let mut solution = Solution::new();
            for (index, log) in acids {
                solution.add(Family::ALL[index], 10.0_f64.powf(log));
            }
            let base = 10.0_f64.powf(base);
            solution.add_base(if sign { base } else { -base });
            solution.add_ion(StrongIon::Sodium, salt);
            solution.add_ion(StrongIon::Chloride, salt);
            solution
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20000))]

        #[test]
        fn charges_balance(solution in any_solution()) {
            let found = solve(&solution);
            prop_assert!(found.ph.is_finite());
            prop_assert!(found.residual.abs() < 1e-10, "{found:?}");
            if found.ionic_strength <= DAVIES_MOST {
                prop_assert!(found.settled, "{found:?}");
            }
        }

        #[test]
        fn adding_acid_never_raises_ph(
            solution in any_solution(),
            family in 0..4_usize,
            log in -6.0..-0.5_f64,
        ) {
            let acid = [Family::Citric, Family::Lactic, Family::Benzoic, Family::Salicylic][family];
            // Without activity coefficients this is exact at any strength.
            let before = solve_with(&solution, Activity::Ideal);
            let mut more = solution;
            more.add(acid, 10.0_f64.powf(log));
            let after = solve_with(&more, Activity::Ideal);
            prop_assert!(after.ph <= before.ph + 1e-9);
            let mut stronger = solution;
            stronger.add_base(-10.0_f64.powf(log));
            let after = solve_with(&stronger, Activity::Ideal);
            prop_assert!(after.ph <= before.ph + 1e-9);
        }
    }
}
