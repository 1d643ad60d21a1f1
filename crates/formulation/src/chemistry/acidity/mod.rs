//! pH of a formula: the equilibrium of its water phase, with the range that unstated
//! acids and bases, spreads of composition, rough constants and micelles leave open.
//!
//! The charge of every material falls with pH and is that of free acid or base alone at
//! its pH as sold. A material of which no more is known is therefore taken as two falling
//! functions of pH (`Unstated`), and the mixture lies between the extremes of what is
//! mixed in.

mod micelles;
mod unstated;

use std::sync::Arc;

use self::micelles::Micelles;
pub(super) use self::unstated::test_water;
pub use self::unstated::titrated_base_mmol_g;
use self::unstated::{
    Unstated, any_sparingly_soluble, brings_charge, free, unstated_of_class, unstated_of_line,
};
use super::acids::Family;
use super::figure::Figure;
use super::ions::StrongIon;
use super::mix::{Mix, MixConstituent};
use super::ph::{DAVIES_MOST, Equilibrium, Shares, Solution, solve, solve_bounded};
use super::substances::{self, Brings, Substance};
use super::water_limits::{CONSTANTS_HOLD, NO_PH};
use crate::material::{Alkalinity, Material};
use crate::mixture::MixtureLine;
use crate::quantity::{MassFraction, PhRange};

const METHOD: &str = "equilibrium of all acids, bases and salts of the water phase at 25 °C: charge balance with Davies' activity coefficients; solids to their solubility; what a material does not state is bounded by its pH as sold";
const VALIDITY: &str = "ionic strength up to 0.5 mol/kg, no figure above 3; no ion pairing; citrate, phosphate and EDTA above 0.05 mol/kg may be off by 0.2; half the mix or more must be water; the lower end takes in what the air gives while it is made and opened, 0.05 mmol of carbon dioxide per kg, where traces alone hold the pH 0.5 mmol";
pub(super) const SOURCE: &str = "C. W. Davies, Ion Association, 1962; constants of the acids and bases with their own sources; uptake of acids and shift of constants by micelles: J. H. Collett and L. Koo, J. Pharm. Sci. 64 (1975) 1253, and A. Goldsipe and D. Blankschtein, Langmuir 22 (2006) 9894, both from memory, ranges rough";

/// A range wider than this gets no single figure.
const WIDEST_FOR_ONE_FIGURE: f64 = 0.4;
/// A range wider than this says nothing.
pub(crate) const WIDEST_TO_SHOW: f64 = 4.0;
/// A pH known no better than this is measured before anything rests on it: the dose of a
/// buffered mix changes by its whole self over a unit. Common practice, no source.
const WIDEST_TO_TRUST: f64 = 1.0;
/// What a range shown with two decimals may be off by rounding.
const ROUNDING: f64 = 0.005;
/// Above this ionic strength no activity coefficient of the model means anything, mol/kg.
const MOST_IONIC: f64 = 3.0;
/// Molar mass taken for an acid, base or chelator whose constants are not known, g/mol.
const UNSTATED_MOLAR_MASS: f64 = 150.0;
/// The pH of pure water in equilibrium with the carbon dioxide of the air; what is more acid
/// takes none up.
const AIR_ALONE: f64 = 5.6;
/// The most carbon dioxide that a mix takes up while it is made, filled and opened, mol/kg of
/// water: our assumption, no source; water alone takes up 1.4e-5. A base in the open takes up
/// more, in days.
const AIR_TAKEN_UP: f64 = 5e-5;
/// The same where only traces of acid and base hold the pH, so that the air soon decides.
const AIR_TAKEN_UP_BY_TRACES: f64 = 5e-4;
/// All acid and base that is a trace, mol/kg of water: our choice.
const TRACES: f64 = 1e-3;
/// The one measurement where no material leaves the range open.
const MEASURE_THE_MIX: &str = "spreads of composition, rough constants, micelles or the air leave the range open: the one measurement that narrows it is the pH of the mix";
/// From this change on the carbon dioxide of the air is told.
const WORTH_SAYING: f64 = 0.15;

/// Why a formula gets no pH.
#[derive(Clone, PartialEq, Debug)]
pub enum NoPh {
    /// There is no water phase.
    NoWater,
    /// Less than half of it is water: the share, 0 to 1.
    LittleWater(f64),
    /// Ionic strength beyond every model of activity, mol/kg.
    TooConcentrated(f64),
    /// The estimate lies outside of what pH can be.
    OffScale,
    /// What is not known leaves no useful range.
    NothingKnown,
    /// Lye has turned fats into soap.
    Saponified,
}

impl NoPh {
    /// The sentence shown.
    pub fn words(&self) -> String {
        match self {
            Self::NoWater => "no water phase, so there is no pH".to_owned(),
            Self::LittleWater(share) => format!(
                "only {:.0} % of the mix is water; the constants were measured in water and do not hold here. Measure a dilution of 10 % in water",
                100.0 * share
            ),
            Self::TooConcentrated(ionic) => format!(
                "ionic strength {ionic:.1} mol/kg: no estimate holds in so strong a solution. Measure it, or a dilution of 10 % in water"
            ),
            Self::OffScale => {
                "the acid or base in it is stronger than the scale of pH; handle it as corrosive"
                    .to_owned()
            }
            Self::NothingKnown => {
                "what is not known leaves no useful range. Measure it".to_owned()
            }
            Self::Saponified => "lye and fats turn into soap, whose pH is not computed: bar soap usually stands at 9 to 10.5 after its cure, liquid soap at 9 to 10.5 (common practice, no source). Measure a solution of 1 % (bars) or 10 % in water".to_owned(),
        }
    }
}

/// The pH of a formula and the solution it was computed from.
#[derive(Clone, PartialEq, Debug)]
pub struct Acidity {
    /// The pH.
    pub figure: Figure,
    /// Why there is none; measured values stand all the same.
    pub absent: Option<NoPh>,
    /// pH of the middle case: typical shares, unknowns at the middle of their range. It
    /// exists wherever there is a range, also where that is too wide to show it alone.
    pub middle: Option<f64>,
    /// The middle case where the range is too wide to be shown: a start for a search, never
    /// a figure.
    pub(crate) guess: Option<f64>,
    /// Ionic strength of the middle case, mol/kg.
    pub ionic_strength: Option<f64>,
    /// Positive minus negative charge of the middle case, mol/kg.
    pub residual: f64,
    /// The middle case, for titration curves.
    pub solution: Solution,
    /// Water in the formula, share 0 to 1.
    pub water: f64,
    /// The material whose titration would narrow the range most.
    pub widest: Option<Arc<str>>,
}

impl Acidity {
    /// The estimated range; none if there is no pH.
    pub fn range(&self) -> Option<PhRange> {
        PhRange::new(self.figure.low?, self.figure.high?)
    }
    /// Whether it is estimated so widely that it has to be measured before anything rests on
    /// it; false of a measured pH and where there is no estimate.
    pub fn is_to_be_measured(&self) -> bool {
        let range = self.figure.low.zip(self.figure.high);
        self.figure.measured.is_none()
            && range.is_some_and(|(low, high)| high - low > WIDEST_TO_TRUST + ROUNDING)
    }
    /// pH of the middle case once it stands in equilibrium with the carbon dioxide of the
    /// air (420 ppm); none if there is no pH. A jar that is opened now and then lies
    /// between this and the estimate.
    pub fn in_air(&self) -> Option<f64> {
        self.middle?;
        Some(solve(&self.solution.open_to_air()).ph)
    }
    /// The same estimate without figures, for the reason given.
    pub(super) fn without(mut self, reason: NoPh) -> Self {
        self.figure.value = None;
        self.figure.low = None;
        self.figure.high = None;
        self.figure.in_range = false;
        self.figure.remarks = vec![reason.words()];
        self.figure.unknown.clear();
        self.middle = None;
        self.widest = None;
        self.absent = Some(reason);
        self
    }
}

/// Estimates the pH of a mix.
pub fn estimate(mix: &Mix<'_>, measured: Option<f64>) -> Acidity {
    let mut acidity = Acidity {
        figure: Figure::of(METHOD, VALIDITY, SOURCE),
        absent: None,
        middle: None,
        guess: None,
        ionic_strength: None,
        residual: 0.0,
        solution: Solution::new(),
        water: mix.water,
        widest: None,
    };
    acidity.figure.measured = measured;
    if mix.water < NO_PH {
        return acidity.without(NoPh::NoWater);
    }
    if mix.water < CONSTANTS_HOLD {
        return acidity.without(NoPh::LittleWater(mix.water));
    }

    let mut phase = WaterPhase::of(mix);
    let middle = phase.solve_middle();
    let ends = phase.ends(&middle);
    let (closed, high) = phase.range(&middle, ends.as_ref());
    let low = phase.low_in_air(ends.as_ref(), closed);
    let middle = Equilibrium {
        ph: middle.ph.max(closed).min(high),
        ..middle
    };

    acidity.ionic_strength = Some(middle.ionic_strength);
    acidity.residual = middle.residual;
    acidity.solution = phase.solution;
    if middle.ionic_strength > MOST_IONIC {
        return acidity.without(NoPh::TooConcentrated(middle.ionic_strength));
    }
    if low < 0.0 || high > 14.0 {
        return acidity.without(NoPh::OffScale);
    }
    if high - low > WIDEST_TO_SHOW {
        let mut acidity = acidity.without(NoPh::NothingKnown);
        acidity.guess = Some(middle.ph);
        acidity.figure.unknown = phase.names_of_unstated();
        return acidity;
    }
    let narrow = high - low <= WIDEST_FOR_ONE_FIGURE;
    acidity.widest = if narrow {
        None
    } else {
        phase.widest_at(middle.ph)
    };
    acidity.middle = Some(middle.ph);
    let figure = &mut acidity.figure;
    figure.low = Some(low);
    figure.high = Some(high);
    figure.value = narrow.then_some(middle.ph);
    figure.in_range = middle.in_range();
    figure.unknown = phase.names_of_unstated();
    figure.remarks = phase.remarks(&middle, (closed, low));
    if let Some(widest) = &acidity.widest {
        figure.remarks.push(format!(
            "a titration of {widest} would narrow the range most; or measure the pH of the mix"
        ));
    } else if !narrow {
        figure.remarks.push(MEASURE_THE_MIX.to_owned());
    }
    acidity
}

/// The water phase of a mix: what is dissolved in it at typical shares, what its materials
/// leave open, and what micelles do.
struct WaterPhase<'a, 'm> {
    mix: &'a Mix<'m>,
    solution: Solution,
    unstated: Vec<Unstated>,
    /// Base of materials that were titrated, mol per kg of water.
    titrated: f64,
    micelles: Option<Micelles>,
}

/// The most acid and the most basic solution that spreads of composition, rough constants and
/// micelles allow.
struct Ends {
    low: Solution,
    high: Solution,
}

impl<'a, 'm> WaterPhase<'a, 'm> {
    fn of(mix: &'a Mix<'m>) -> Self {
        let mut titrated = 0.0;
        let mut unstated: Vec<Unstated> = Vec::new();
        for laid in mix.lines() {
            unstated_of_line(laid, &mut unstated, &mut titrated);
        }
        titrated /= mix.water;
        let mut solution = Solution::new();
        solution.cap_at_solubility();
        for part in &mix.parts {
            let share = part.amount.share.typical.value();
            let (open, moles) = if let Some(substance) = part.substance {
                mix.dissolve(&mut solution, substance, share);
                (
                    substance.uncertain_base,
                    1000.0 * share / substance.molar_mass,
                )
            } else {
                let open = unstated_of_class(part.amount.class, &part.amount.inci);
                (
                    open,
                    1000.0 * stated_neutral(mix, part) / UNSTATED_MOLAR_MASS,
                )
            };
            if let Some((low, high)) = open {
                let name = part.amount.inci.clone();
                unstated.push(Unstated::constant(name, low * moles, high * moles));
            }
        }
        unstated.retain(|u| !u.is_nothing());
        solution.add_base(titrated);
        let micelles = Micelles::of(mix).filter(|m| m.matter_to(&solution));
        if let Some(micelles) = micelles {
            micelles.act_on(&mut solution, 0.5);
        }
        Self {
            mix,
            solution,
            unstated,
            titrated,
            micelles,
        }
    }

    /// Whether nothing is left open.
    const fn is_stated(&self) -> bool {
        self.unstated.is_empty()
    }
    /// A sum over what is left open, mol per kg of water.
    fn sum(&self, of: impl Fn(&Unstated) -> f64) -> f64 {
        self.unstated.iter().map(of).sum::<f64>() / self.mix.water
    }
    /// The least base that what is left open brings at a pH, mol per kg of water.
    fn least(&self, ph: f64) -> f64 {
        self.sum(|u| u.least(ph))
    }
    /// The most it brings.
    fn most(&self, ph: f64) -> f64 {
        self.sum(|u| u.most(ph))
    }

    /// The names of what is left open, each once.
    fn names_of_unstated(&self) -> Vec<Arc<str>> {
        let mut names: Vec<Arc<str>> = Vec::new();
        for u in &self.unstated {
            if !names.contains(&u.name) {
                names.push(u.name.clone());
            }
        }
        names
    }
    /// What of it leaves the most open at a pH.
    fn widest_at(&self, ph: f64) -> Option<Arc<str>> {
        let width = |u: &Unstated| u.most(ph) - u.least(ph);
        let widest = (self.unstated.iter()).max_by(|a, b| width(a).total_cmp(&width(b)));
        widest.map(|u| u.name.clone())
    }

    /// The middle case: what is left open stands at the middle of its range and becomes part
    /// of the solution.
    fn solve_middle(&mut self) -> Equilibrium {
        if self.is_stated() {
            return solve(&self.solution);
        }
        let amount = |ph: f64| self.sum(|u| f64::midpoint(u.least(ph), u.most(ph)));
        let (state, base) = solve_bounded(&self.solution, &amount);
        self.solution.add_base(base);
        // Once more, so that the middle case is one solution that others can go on with.
        let whole = solve(&self.solution);
        Equilibrium {
            settled: whole.settled && state.settled,
            ..whole
        }
    }

    /// The ends of the range; none if nothing spreads it.
    fn ends(&self, middle: &Equilibrium) -> Option<Ends> {
        let mut spread = !self.is_stated() || self.micelles.is_some();
        let mut low = Solution::new().shifted(-1.0);
        let mut high = Solution::new().shifted(1.0);
        for part in &self.mix.parts {
            let Some(substance) = part.substance.filter(|s| !s.brings.is_empty()) else {
                continue;
            };
            let share = part.amount.share;
            let is_base = charge_per_mole(substance, middle.ph, middle.ionic_strength) > 0.0;
            let (for_low, for_high) = if is_base {
                (share.low, share.high)
            } else {
                (share.high, share.low)
            };
            spread |= share.low != share.high || is_rough(substance);
            self.mix.dissolve(&mut low, substance, for_low.value());
            self.mix.dissolve(&mut high, substance, for_high.value());
        }
        if !spread {
            return None;
        }
        for (effect, solution) in [(0.0, &mut low), (1.0, &mut high)] {
            solution.cap_at_solubility();
            solution.add_base(self.titrated);
            if let Some(micelles) = self.micelles {
                micelles.act_on(solution, effect);
            }
        }
        Some(Ends { low, high })
    }

    /// Between which pH the mix lies as long as no air comes to it.
    fn range(&self, state: &Equilibrium, ends: Option<&Ends>) -> (f64, f64) {
        let middle = state.ph;
        let (low, high) = match ends {
            None => return (middle, middle),
            Some(Ends { low, high }) if self.is_stated() => (solve(low).ph, solve(high).ph),
            Some(Ends { low, high }) => (
                solve_bounded(low, &|ph| self.least(ph)).0.ph,
                solve_bounded(high, &|ph| self.most(ph)).0.ph,
            ),
        };
        let (low, high) = (low.min(middle), high.max(middle));
        match self.between_what_is_sold(state) {
            Some((least, most)) if least < most => {
                (low.max(least).min(most), high.max(least).min(most))
            }
            _ => (low, high),
        }
    }

    /// The pH between which the mix lies. The charge of each line falls with pH and is that of
    /// the free acid or base at its own pH: as sold, or, where its constituents tell all, as
    /// computed of the line alone in the water of the mix. So the mix lies between the extremes
    /// of what is mixed in, and beyond them only by the free acid or base that they show
    /// together, those sold diluted as they are; where only acids or only bases meet, they show
    /// at least what they do alone. None where a line comes without either.
    fn between_what_is_sold(&self, middle: &Equilibrium) -> Option<(f64, f64)> {
        /// Room for the activities, which differ between the test and the mix.
        const ACTIVITY: f64 = 0.15;
        let (mut acid, mut base) = (1e-7_f64, 1e-7_f64);
        // The same of the weaker ends, and those ends themselves.
        let (mut weak_acid, mut weak_base) = (0.0_f64, 0.0_f64);
        let (mut least_sold, mut most_sold) = (f64::INFINITY, f64::NEG_INFINITY);
        for laid in self.mix.lines() {
            let material = laid.material.as_deref()?;
            if material.alkalinity == Alkalinity::Neutral && !brings_charge(material) {
                continue;
            }
            let (low, high, strength) = match &material.alkalinity {
                Alkalinity::Unknown {
                    ph_as_sold: Some(range),
                    ..
                } if !any_sparingly_soluble(material) => {
                    let strength = laid.share() / self.mix.water * test_water(material);
                    (range.low.value(), range.high.value(), strength)
                }
                _ => {
                    let (low, high) = self.alone(laid, material, middle)?;
                    (low, high, 1.0)
                }
            };
            acid += strength * (-free(low)).max(0.0);
            base += strength * free(high).max(0.0);
            weak_acid += strength * (-free(high)).max(0.0);
            weak_base += strength * free(low).max(0.0);
            least_sold = least_sold.min(low);
            most_sold = most_sold.max(high);
        }
        let mut low = least_sold.min(7.0).min(-acid.log10());
        let mut high = most_sold.max(7.0).max(14.0 + base.log10());
        if most_sold < 7.0 && weak_acid > 0.0 {
            high = high.min(most_sold.max(-weak_acid.log10()));
        }
        if least_sold > 7.0 && weak_base > 0.0 && weak_base.is_finite() {
            low = low.max(least_sold.min(14.0 + weak_base.log10()));
        }
        Some((low - ACTIVITY, high + ACTIVITY))
    }

    /// The pH of a line whose constituents and titration tell all, alone in the water of the
    /// mix with its salt and micelles; none where it leaves anything open beside them, and where
    /// no line does, as the equilibrium of the mix then tells all.
    fn alone(
        &self,
        laid: &MixtureLine,
        material: &Material,
        middle: &Equilibrium,
    ) -> Option<(f64, f64)> {
        if self.is_stated() {
            return None;
        }
        let mut open = Vec::new();
        let mut titrated = 0.0;
        unstated_of_line(laid, &mut open, &mut titrated);
        open.retain(|u| !u.is_nothing());
        if !open.is_empty() {
            return None;
        }
        let says_neutral = material.alkalinity == Alkalinity::Neutral;
        let per_kg = laid.share() / self.mix.water;
        let mut low = Solution::new().shifted(-1.0);
        let mut high = Solution::new().shifted(1.0);
        for c in &material.constituents {
            let share = c.share;
            let substance = substances::find(c.inci.spelling(), c.cas);
            let molar_mass = substance.map_or(UNSTATED_MOLAR_MASS, |s| s.molar_mass);
            let moles = |share: MassFraction| 1000.0 * share.value() * per_kg / molar_mass;
            let bounds = match substance {
                Some(s) => s.uncertain_base,
                None if says_neutral => unstated_of_class(c.class, &c.inci),
                None => None,
            };
            if let Some((least, most)) = bounds {
                let n = moles(share.typical);
                open.push(Unstated::constant(c.inci.clone(), least * n, most * n));
            }
            let Some(s) = substance.filter(|s| !s.brings.is_empty()) else {
                continue;
            };
            let is_base = charge_per_mole(s, middle.ph, middle.ionic_strength) > 0.0;
            let (for_low, for_high) = if is_base {
                (share.low, share.high)
            } else {
                (share.high, share.low)
            };
            low.add_substance(s, moles(for_low));
            high.add_substance(s, moles(for_high));
        }
        let sum = |of: &dyn Fn(&Unstated) -> f64| open.iter().map(of).sum::<f64>();
        let end = |mut solution: Solution, effect: f64, bounded: &dyn Fn(f64) -> f64| {
            solution.cap_at_solubility();
            solution.add_base(titrated / self.mix.water);
            if let Some(micelles) = self.micelles {
                micelles.act_on(&mut solution, effect);
            }
            let salt = middle.ionic_strength - solve_bounded(&solution, bounded).0.ionic_strength;
            solution.add_ion(StrongIon::Sodium, salt);
            solution.add_ion(StrongIon::Chloride, salt);
            solve_bounded(&solution, bounded).0.ph
        };
        let low = end(low, 0.0, &|ph| sum(&|u| u.least(ph)));
        let high = end(high, 1.0, &|ph| sum(&|u| u.most(ph)));
        Some((low.min(high), high.max(low)))
    }

    /// The low end once the mix has taken up carbon dioxide of the air; `closed` is that end
    /// without air.
    fn low_in_air(&self, ends: Option<&Ends>, closed: f64) -> f64 {
        let bounded = self.sum(Unstated::size);
        let traces = self.solution.strength() + bounded < TRACES;
        // What is known by its pH as sold was measured in the air already.
        let told = !traces && !self.is_stated();
        if told || closed <= AIR_ALONE {
            return closed;
        }
        let taken_up = if traces {
            AIR_TAKEN_UP_BY_TRACES
        } else {
            AIR_TAKEN_UP
        };
        let lowest = ends.map_or(&self.solution, |e| &e.low);
        if self.is_stated() {
            return aired(lowest, closed, taken_up, |s| solve(s).ph);
        }
        aired(lowest, closed, taken_up, |s| {
            solve_bounded(s, &|ph| self.least(ph)).0.ph
        })
    }

    /// What is to be said beside the figure; the lower end stands without and with air.
    fn remarks(&self, middle: &Equilibrium, (closed, low): (f64, f64)) -> Vec<String> {
        let mut remarks = Vec::new();
        if !middle.in_range() {
            remarks.push(if middle.ionic_strength > DAVIES_MOST {
                format!(
                    "ionic strength {:.2} mol/kg is above {DAVIES_MOST}, outside the range of the activity coefficients",
                    middle.ionic_strength
                )
            } else {
                "the ionic strength could not be settled, so the activity coefficients are in doubt"
                    .to_owned()
            });
        }
        for family in self.solution.undissolved(middle) {
            remarks.push(format!(
                "{} does not dissolve wholly; what is left undissolved does not count",
                family.protolyte().name
            ));
        }
        if closed - low > WORTH_SAYING {
            remarks.push(format!(
                "little here holds the pH: carbon dioxide of the air can take it from {closed:.1} down to {low:.1}"
            ));
        }
        if self.micelles.is_some() {
            remarks.push(
                "micelles take up acids and hold protons of betaines and amine oxides; how much is known roughly and widens the range".to_owned(),
            );
        }
        remarks
    }
}

/// The pH of the lower end once it has taken up what carbon dioxide the air gives: as much
/// as equilibrium asks, at most `most` mol/kg. The pH falls with what is taken up, so the
/// less of the two is the higher of their pH.
fn aired(lowest: &Solution, closed: f64, most: f64, ph: impl Fn(&Solution) -> f64) -> f64 {
    let mut filled = *lowest;
    filled.add(Family::Carbonic, most);
    ph(&lowest.open_to_air()).max(ph(&filled)).min(closed)
}

/// Share of a constituent that comes from materials said to be neutral beyond their
/// constituents; of other materials the line itself is reckoned with.
fn stated_neutral(mix: &Mix<'_>, part: &MixConstituent<'_>) -> f64 {
    part.amount
        .from
        .iter()
        .filter(|(id, _)| {
            mix.line(*id)
                .and_then(|l| l.material.as_deref())
                .is_some_and(|m| m.alkalinity == Alkalinity::Neutral)
        })
        .map(|(_, share)| share.value())
        .sum()
}

fn is_rough(substance: &Substance) -> bool {
    substance.brings.iter().any(|b| match *b {
        Brings::Weak(family, _) => family.protolyte().uncertainty > 0.0,
        Brings::Strong(..) | Brings::Solid(..) => false,
    })
}

/// Charge per mole that a substance brings at a state.
pub(super) fn charge_per_mole(substance: &Substance, ph: f64, ionic_strength: f64) -> f64 {
    let weak: f64 = substance
        .brings
        .iter()
        .map(|b| match *b {
            Brings::Weak(family, n) => {
                n * Shares::new(family.protolyte(), ph, ionic_strength).mean_charge()
            }
            Brings::Strong(..) => 0.0,
            // A solid base counts by what it would bring where it dissolves.
            Brings::Solid(..) => 0.01,
        })
        .sum();
    weak + substance.strong_charge()
}
