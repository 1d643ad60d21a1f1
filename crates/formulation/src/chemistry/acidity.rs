//! pH of a formula: the equilibrium of its water phase, with the range that unstated
//! acids and bases, spreads of composition, rough constants and micelles leave open.
//!
//! The charge of every material falls with pH and is that of free acid or base alone at
//! its pH as sold. A material of which no more is known is therefore taken as two falling
//! functions of pH (`Unstated`), and the mixture lies between the extremes of what is
//! mixed in.

use std::sync::Arc;

use super::acids::Family;
use super::figure::Figure;
use super::mix::{Mix, Part};
use super::ph::{DAVIES_MOST, Equilibrium, Shares, Solution, solve, solve_bounded};
use super::solubility;
use super::substances::{self, Brings, Substance};
use crate::material::{Alkalinity, Charge, Class, Material, Role, Titration};
use crate::mixture::MixtureLine;
use crate::name_hash::holds;
use crate::quantity::PhRange;

const METHOD: &str = "equilibrium of all acids, bases and salts of the water phase at 25 °C: charge balance with Davies' activity coefficients; solids to their solubility; what a material does not state is bounded by its pH as sold";
const VALIDITY: &str = "ionic strength up to 0.5 mol/kg, no figure above 3; no ion pairing; citrate, phosphate and EDTA above 0.05 mol/kg may be off by 0.2; half the mix or more must be water; the lower end takes in what the air gives while it is made and opened, 0.05 mmol of carbon dioxide per kg, where traces alone hold the pH 0.5 mmol";
const SOURCE: &str = "C. W. Davies, Ion Association, 1962; constants of the acids and bases with their own sources; uptake of acids and shift of constants by micelles: J. H. Collett and L. Koo, J. Pharm. Sci. 64 (1975) 1253, and A. Goldsipe and D. Blankschtein, Langmuir 22 (2006) 9894, both from memory, ranges rough";

/// A range wider than this gets no single figure.
const WIDEST_FOR_ONE_FIGURE: f64 = 0.4;
/// A range wider than this says nothing.
const WIDEST_TO_SHOW: f64 = 4.0;
/// With less water than this the constants, made for water, do not hold.
const LEAST_WATER: f64 = 0.5;
/// Below this share there is no water phase to speak of.
const NO_WATER: f64 = 0.01;
/// Above this ionic strength no activity coefficient of the model means anything, mol/kg.
const MOST_IONIC: f64 = 3.0;
/// Ionic strength taken for a titration of a material diluted in water, mol/kg.
const TITRATION_STRENGTH: f64 = 0.1;
/// What a material of which nothing is stated may bring either way, mmol per gram of its
/// unknown part: our assumption, no source.
const UNSTATED_BASE: f64 = 0.05;
/// Acid or base of adjustment that a material may hold beside what is stated, mmol per
/// gram: our assumption, no source.
const ADJUSTMENT: f64 = 0.02;
/// Stated amounts below this share of the known groups are additions beside them.
const ADJUSTING: f64 = 0.1;
/// Molar mass taken for an acid, base or chelator whose constants are not known, g/mol.
const UNSTATED_MOLAR_MASS: f64 = 150.0;
/// Strength of unstated acid where no pH as sold bounds it: carboxylic acids, pKa from
/// and to; our assumption, no source.
const UNSTATED_ACID: (f64, f64) = (3.5, 5.5);
/// Materials with at least this share of water are sold as the solution whose pH is told.
const SOLD_AS_SOLUTION: f64 = 0.3;
/// Water per gram in the usual test of a material sold without water, 10 % by mass; common
/// practice, no source.
const TEST_WATER: f64 = 9.0;
/// The same of a polyacid, which at 10 % is a stiff paste and is tested at 0.5 %; common
/// practice, no source.
const TEST_WATER_OF_POLYACID: f64 = 199.0;
/// Acid groups from which a thickener is a polyacid, mmol per gram.
const POLYACID: f64 = 2.0;
/// No buffer of a material sold alkaline has a higher constant: carbonate 10.3, amines to 10.8
/// (handbooks); alcohols and sugars above 12 hold little.
const HIGHEST_BUFFER: f64 = 11.0;
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
/// From this change on the carbon dioxide of the air is told.
const WORTH_SAYING: f64 = 0.15;
/// Active matter per water from which micelles count, 0 to 1.
const LEAST_MICELLES: f64 = 0.002;

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

/// Acid or base that a line brings beside what its constituents state: somewhere between
/// two functions that fall with pH, mol per kg of formula, base positive.
#[derive(Clone, Debug)]
struct Unstated {
    name: Arc<str>,
    low: f64,
    high: f64,
    sold: Option<Sold>,
}

/// The pH as sold of a line and the charge beyond its constituents there.
#[derive(Clone, Copy, Debug)]
struct Sold {
    ph: (f64, f64),
    /// Charge at the ends, mol per kg of formula.
    charge: (f64, f64),
}

/// Share of a base that has taken up its proton.
fn protonated(ph: f64, pka: f64) -> f64 {
    1.0 / (1.0 + 10.0_f64.powf(ph - pka))
}

impl Unstated {
    fn constant(name: Arc<str>, low: f64, high: f64) -> Self {
        Self {
            name,
            low: low.min(high),
            high: low.max(high),
            sold: None,
        }
    }
    /// The least it brings at a pH.
    fn least(&self, ph: f64) -> f64 {
        match self.sold {
            None if self.low < 0.0 => self.low * (1.0 - protonated(ph, UNSTATED_ACID.0)),
            None => self.low,
            Some(sold) if ph >= sold.ph.0 => self.low.min(sold.charge.0),
            // A base that gives a solution of this pH need be no stronger than
            // pKa = 2 pH − 14 + ½ (of 0.3 mol/kg).
            Some(sold) if self.low > 0.0 => {
                (self.low * protonated(ph, 2.0 * sold.ph.0 - 13.5)).max(sold.charge.0)
            }
            Some(sold) => sold.charge.0,
        }
    }
    /// The most it brings at a pH.
    fn most(&self, ph: f64) -> f64 {
        match self.sold {
            None if self.high < 0.0 => self.high * (1.0 - protonated(ph, UNSTATED_ACID.1)),
            None => self.high,
            // An acid is no weaker than carboxylic acids, however strong the test was.
            Some(sold) if ph <= sold.ph.1 && self.high < 0.0 => {
                let of_acid = self.high * (1.0 - protonated(ph, UNSTATED_ACID.1));
                sold.charge.1.min(of_acid.max(sold.charge.0))
            }
            // What a base brings beyond its free hydroxide its buffers give off below their
            // constant.
            Some(sold) if ph <= sold.ph.1 && self.high > sold.charge.1 => {
                let buffered = self.high - sold.charge.1;
                sold.charge.1 + buffered * protonated(ph, HIGHEST_BUFFER)
            }
            Some(sold) if ph <= sold.ph.1 => self.high.max(sold.charge.1),
            Some(sold) if self.high < 0.0 => {
                let pka = (2.0 * sold.ph.1 - 0.5).min(UNSTATED_ACID.1);
                (self.high * (1.0 - protonated(ph, pka))).min(sold.charge.1)
            }
            Some(sold) => sold.charge.1,
        }
    }
    /// The most it may bring either way.
    fn size(&self) -> f64 {
        self.low.abs().max(self.high.abs())
    }
    /// Whether it takes part at all.
    fn is_nothing(&self) -> bool {
        self.low == 0.0 && self.high == 0.0 && self.sold.is_none()
    }
}

/// Molality of free base (positive) or acid at a pH.
fn free(ph: f64) -> f64 {
    10.0_f64.powf(ph - 14.0) - 10.0_f64.powf(-ph)
}

/// What micelles do to the constants: they take up uncharged acids, and anionic ones raise
/// the constant of groups that become positive.
#[derive(Clone, Copy, Debug)]
struct Micelles {
    /// Active matter per water, both by mass.
    per_water: f64,
    anionic: bool,
}

impl Micelles {
    /// Acids that go into micelles, with log₁₀ P of octanol and water, an upper bound of
    /// what micelles hold; the lower one is P to the power 0.7 (our reading of published
    /// binding of benzoic acids to polysorbate 20 and to alkyl sulfates, from memory).
    const TAKEN_UP: [(Family, f64); 6] = [
        (Family::Benzoic, 1.87),
        (Family::Sorbic, 1.33),
        (Family::Anisic, 1.96),
        (Family::Salicylic, 2.26),
        (Family::Dehydroacetic, 0.8),
        (Family::Propionic, 0.33),
    ];
    const LEAST_POWER: f64 = 0.7;
    /// Groups whose protonated form anionic micelles favour, and by how many pKa units at
    /// the least and at the most.
    const RAISED: [Family; 3] = [
        Family::CarboxyBetaine,
        Family::AmineOxide,
        Family::Amidoamine,
    ];
    const RAISED_BY: (f64, f64) = (0.5, 1.5);

    fn of(mix: &Mix<'_>) -> Option<Self> {
        let active = mix.composition.active_total().typical.value();
        let per_water = active / mix.water.max(NO_WATER);
        (per_water >= LEAST_MICELLES).then(|| Self {
            per_water,
            anionic: mix.composition.active(Charge::Anionic).typical.value() > 0.2 * active,
        })
    }
    /// Whether a solution holds anything they act on.
    fn matter_to(self, solution: &Solution) -> bool {
        let taken = Self::TAKEN_UP.iter().any(|(f, _)| solution.total(*f) > 0.0);
        taken || (self.anionic && Self::RAISED.iter().any(|f| solution.total(*f) > 0.0))
    }
    /// Moves the constants of a solution: `end` 0 gives the least effect, 1 the most.
    fn act_on(self, solution: &mut Solution, end: f64) {
        let power = Self::LEAST_POWER + (1.0 - Self::LEAST_POWER) * end;
        for (family, log_p) in Self::TAKEN_UP {
            let held = 10.0_f64.powf(power * log_p) * self.per_water;
            solution.move_constants(family, held.ln_1p() / std::f64::consts::LN_10);
        }
        if self.anionic {
            let (least, most) = Self::RAISED_BY;
            for family in Self::RAISED {
                solution.move_constants(family, least + (most - least) * end);
            }
        }
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
    if mix.water < NO_WATER {
        return acidity.without(NoPh::NoWater);
    }
    if mix.water < LEAST_WATER {
        return acidity.without(NoPh::LittleWater(mix.water));
    }

    let mut figure = acidity.figure.clone();
    let mut titrated = 0.0;
    let mut unstated: Vec<Unstated> = Vec::new();
    for laid in mix.lines() {
        unstated_of_line(laid, &mut unstated, &mut titrated);
    }
    let mut solution = Solution::new();
    solution.cap_at_solubility();
    for part in &mix.parts {
        let share = part.amount.share.typical.value();
        if let Some(substance) = part.substance {
            mix.dissolve(&mut solution, substance, share);
            if let Some((low, high)) = substance.uncertain_base {
                let moles = 1000.0 * share / substance.molar_mass;
                let name = part.amount.inci.clone();
                unstated.push(Unstated::constant(name, low * moles, high * moles));
            }
        } else if let Some((low, high)) = unstated_of_class(part.amount.class, &part.amount.inci) {
            let moles = 1000.0 * stated_neutral(mix, part) / UNSTATED_MOLAR_MASS;
            let name = part.amount.inci.clone();
            unstated.push(Unstated::constant(name, low * moles, high * moles));
        }
    }
    unstated.retain(|u| !u.is_nothing());
    for u in &unstated {
        note_unknown(&mut figure, u.name.clone());
    }
    solution.add_base(titrated / mix.water);
    let micelles = Micelles::of(mix).filter(|m| m.matter_to(&solution));
    if let Some(micelles) = micelles {
        micelles.act_on(&mut solution, 0.5);
    }
    let water = mix.water;
    let middle = if unstated.is_empty() {
        solve(&solution)
    } else {
        let amount = |ph: f64| {
            let sum: f64 = unstated
                .iter()
                .map(|u| f64::midpoint(u.least(ph), u.most(ph)))
                .sum();
            sum / water
        };
        let (state, base) = solve_bounded(&solution, &amount);
        solution.add_base(base);
        // Once more, so that the middle case is one solution that others can go on with.
        let whole = solve(&solution);
        Equilibrium {
            settled: whole.settled && state.settled,
            ..whole
        }
    };

    let mut spread = !unstated.is_empty() || micelles.is_some();
    let mut ends = [Solution::new().shifted(-1.0), Solution::new().shifted(1.0)];
    for part in &mix.parts {
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
        let [low, high] = &mut ends;
        mix.dissolve(low, substance, for_low.value());
        mix.dissolve(high, substance, for_high.value());
    }
    let (low, high) = if spread {
        for (end, solution) in [0.0, 1.0].into_iter().zip(&mut ends) {
            solution.cap_at_solubility();
            solution.add_base(titrated / water);
            if let Some(micelles) = micelles {
                micelles.act_on(solution, end);
            }
        }
        let least = |ph: f64| unstated.iter().map(|u| u.least(ph)).sum::<f64>() / water;
        let most = |ph: f64| unstated.iter().map(|u| u.most(ph)).sum::<f64>() / water;
        let [low, high] = &ends;
        if unstated.is_empty() {
            (solve(low).ph, solve(high).ph)
        } else {
            (
                solve_bounded(low, &least).0.ph,
                solve_bounded(high, &most).0.ph,
            )
        }
    } else {
        (middle.ph, middle.ph)
    };
    let (low, high) = (low.min(middle.ph), high.max(middle.ph));
    let (low, high) = match between_what_is_sold(mix) {
        Some((least, most)) if least < most => {
            (low.max(least).min(most), high.max(least).min(most))
        }
        _ => (low, high),
    };
    let middle = Equilibrium {
        ph: middle.ph.max(low).min(high),
        ..middle
    };
    let closed = low;
    let [lowest, _] = &ends;
    let bounded: f64 = unstated.iter().map(Unstated::size).sum();
    let traces = solution.strength() + bounded / water < TRACES;
    // What is known by its pH as sold was measured in the air already.
    let told = !traces && !unstated.is_empty();
    let taken_up = if traces {
        AIR_TAKEN_UP_BY_TRACES
    } else {
        AIR_TAKEN_UP
    };
    let low = if told || closed <= AIR_ALONE {
        closed
    } else if !spread {
        aired(&solution, closed, taken_up, |s| solve(s).ph)
    } else if unstated.is_empty() {
        aired(lowest, closed, taken_up, |s| solve(s).ph)
    } else {
        let least = |ph: f64| unstated.iter().map(|u| u.least(ph)).sum::<f64>() / water;
        aired(lowest, closed, taken_up, |s| solve_bounded(s, &least).0.ph)
    };

    acidity.ionic_strength = Some(middle.ionic_strength);
    acidity.residual = middle.residual;
    acidity.solution = solution;
    if middle.ionic_strength > MOST_IONIC {
        return acidity.without(NoPh::TooConcentrated(middle.ionic_strength));
    }
    if low < 0.0 || high > 14.0 {
        return acidity.without(NoPh::OffScale);
    }
    if high - low > WIDEST_TO_SHOW {
        let names = std::mem::take(&mut figure.unknown);
        let mut acidity = acidity.without(NoPh::NothingKnown);
        acidity.guess = Some(middle.ph);
        acidity.figure.unknown = names;
        return acidity;
    }
    figure.low = Some(low);
    figure.high = Some(high);
    figure.value = (high - low <= WIDEST_FOR_ONE_FIGURE).then_some(middle.ph);
    figure.in_range = middle.in_range();
    if !figure.in_range {
        figure.remarks.push(format!(
            "ionic strength {:.2} mol/kg is above {DAVIES_MOST}, outside the range of the activity coefficients",
            middle.ionic_strength
        ));
    }
    for family in solution.undissolved(&middle) {
        figure.remarks.push(format!(
            "{} does not dissolve wholly; what is left undissolved does not count",
            family.protolyte().name
        ));
    }
    if closed - low > WORTH_SAYING {
        figure.remarks.push(format!(
            "little here holds the pH: carbon dioxide of the air can take it from {closed:.1} down to {low:.1}"
        ));
    }
    if micelles.is_some() {
        figure.remarks.push(
            "micelles take up acids and hold protons of betaines and amine oxides; how much is known roughly and widens the range".to_owned(),
        );
    }
    acidity.widest = (high - low > WIDEST_FOR_ONE_FIGURE)
        .then(|| {
            let width = |u: &Unstated| u.most(middle.ph) - u.least(middle.ph);
            unstated
                .iter()
                .max_by(|a, b| width(a).total_cmp(&width(b)))
                .map(|u| u.name.clone())
        })
        .flatten();
    if let Some(widest) = &acidity.widest {
        figure.remarks.push(format!(
            "a titration of {widest} would narrow the range most; or measure the pH of the mix"
        ));
    }
    acidity.middle = Some(middle.ph);
    acidity.figure = figure;
    acidity
}

/// The pH between which a mix lies whose acids and bases all come with a pH as sold. The charge
/// of each falls with pH and is that of the free acid or base there. So the mix lies between the
/// extremes of what is sold, and beyond them only where it is stronger than what is tested, by
/// the free acid or base that it then shows; where only acids or only bases meet, they show at
/// least what they do as sold, diluted as it is. None where something comes without.
fn between_what_is_sold(mix: &Mix<'_>) -> Option<(f64, f64)> {
    /// Room for the activities, which differ between the test and the mix.
    const ACTIVITY: f64 = 0.15;
    let (mut acid, mut base) = (1e-7_f64, 1e-7_f64);
    // The same of the weaker ends, and those ends themselves.
    let (mut weak_acid, mut weak_base) = (0.0_f64, 0.0_f64);
    let (mut least_sold, mut most_sold) = (f64::INFINITY, f64::NEG_INFINITY);
    for laid in mix.lines() {
        let material = laid.material.as_deref()?;
        let range = match &material.alkalinity {
            Alkalinity::Unknown {
                ph_as_sold: Some(range),
                ..
            } => *range,
            Alkalinity::Neutral if !brings_charge(material) => continue,
            _ => return None,
        };
        if any_sparingly_soluble(material) {
            return None;
        }
        let strength = laid.share() / mix.water * test_water(material);
        acid += strength * (-free(range.low.value())).max(0.0);
        base += strength * free(range.high.value()).max(0.0);
        weak_acid += strength * (-free(range.high.value())).max(0.0);
        weak_base += strength * free(range.low.value()).max(0.0);
        least_sold = least_sold.min(range.low.value());
        most_sold = most_sold.max(range.high.value());
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

/// The pH of the lower end once it has taken up what carbon dioxide the air gives: as much
/// as equilibrium asks, at most `most` mol/kg. The pH falls with what is taken up, so the
/// less of the two is the higher of their pH.
fn aired(lowest: &Solution, closed: f64, most: f64, ph: impl Fn(&Solution) -> f64) -> f64 {
    let mut filled = *lowest;
    filled.add(Family::Carbonic, most);
    ph(&lowest.open_to_air()).max(ph(&filled)).min(closed)
}

/// Whether a constituent of a material takes part in the balance of charge.
fn brings_charge(material: &Material) -> bool {
    material.unknown_share().value() > 0.0
        || material.constituents.iter().any(|c| {
            substances::find(&c.inci, c.cas)
                .is_some_and(|s| !s.brings.is_empty() || s.uncertain_base.is_some())
                || unstated_of_class(c.class, &c.inci).is_some()
        })
}

/// Water per gram of a material in the solution whose pH is told.
pub(super) fn test_water(material: &Material) -> f64 {
    let water = material.share_of(Class::Water).value();
    if water >= SOLD_AS_SOLUTION {
        water
    } else if material.has_role(Role::Thickener) && weak_mmol_g(material) > POLYACID {
        TEST_WATER_OF_POLYACID
    } else {
        TEST_WATER
    }
}

/// Share of a constituent that comes from materials said to be neutral beyond their
/// constituents; of other materials the line itself is reckoned with.
fn stated_neutral(mix: &Mix<'_>, part: &Part<'_>) -> f64 {
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

fn note_unknown(figure: &mut Figure, name: Arc<str>) {
    if !figure.unknown.contains(&name) {
        figure.unknown.push(name);
    }
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

/// Base (positive) or acid (negative) in moles per mole that a constituent without
/// known constants may bring, by its class.
fn unstated_of_class(class: Class, inci: &str) -> Option<(f64, f64)> {
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
    WEAK.iter().any(|w| holds(inci, w))
}

fn is_acid_or_salt(inci: &str) -> bool {
    let begins =
        |word: &str| (inci.get(..word.len())).is_some_and(|start| start.eq_ignore_ascii_case(word));
    holds(inci, "acid") || begins("sodium") || begins("potassium")
}

/// Adds what a line may bring beyond its listed constituents, mol per kg of formula.
fn unstated_of_line(laid: &MixtureLine, unstated: &mut Vec<Unstated>, titrated: &mut f64) {
    let share = laid.share();
    let Some(material) = laid.material.as_deref() else {
        // Nothing at all is known of the line.
        let name = laid.name();
        let most = UNSTATED_BASE * share;
        unstated.push(Unstated::constant(name, -most, most));
        return;
    };
    let (ph, base) = match &material.alkalinity {
        Alkalinity::Neutral => return,
        Alkalinity::Titrated(titration) => {
            *titrated += titrated_base_mmol_g(material, titration.value) * share;
            return;
        }
        Alkalinity::Unknown {
            ph_as_sold,
            base_mmol_per_gram,
            ..
        } => (*ph_as_sold, *base_mmol_per_gram),
    };
    let known = weak_mmol_g(material);
    let in_part = any_sparingly_soluble(material);
    if in_part && known > 0.0 && material.unknown_share().value() == 0.0 {
        // Its solubility tells all, whatever its test solution showed.
        return;
    }
    let sold = ph.map(|range| {
        let water = test_water(material);
        // At the pH as sold, stated and unstated charge together are the free base.
        let charge = |ph: f64| share * (water * free(ph) - listed_mmol_g(material, ph));
        let (low, high) = (range.low.value(), range.high.value());
        Sold {
            ph: (low, high),
            charge: (charge(low), charge(high)),
        }
    });
    let name = material.name.clone();
    let Some((low, high)) = base.or_else(|| unstated_mmol_g(material, ph)) else {
        return;
    };
    let size = low.abs().max(high.abs());
    if known > 0.0 && (ADJUSTING * known..=1.2 * known).contains(&size) {
        // What constituents of known constants bring is in the equilibrium already; the pH as
        // sold tells what was added to adjust it, unless they did not dissolve in the test.
        let (low, high) = match sold {
            Some(sold) if !in_part => sold.charge,
            _ => (-ADJUSTMENT * share, ADJUSTMENT * share),
        };
        unstated.push(Unstated {
            name,
            low: low.min(high),
            high: low.max(high),
            sold: Some(Sold {
                ph: (-10.0, 24.0),
                charge: (low.min(high), low.max(high)),
            }),
        });
        return;
    }
    let sold = sold.filter(|_| !in_part);
    unstated.push(Unstated {
        name,
        low: low * share,
        high: high * share,
        sold,
    });
}

/// Whether a constituent of the material dissolves only in part.
fn any_sparingly_soluble(material: &Material) -> bool {
    material.constituents.iter().any(|c| {
        substances::find(&c.inci, c.cas).is_some_and(|s| {
            s.brings.iter().any(|b| match *b {
                Brings::Weak(family, _) => {
                    s.strong_charge() == 0.0 && solubility::uncharged_limit(family).is_finite()
                }
                Brings::Solid(..) => true,
                Brings::Strong(..) => false,
            })
        })
    })
}

/// Charge of the listed constituents at a pH, mmol per gram of material.
fn listed_mmol_g(material: &Material, ph: f64) -> f64 {
    material
        .constituents
        .iter()
        .filter_map(|c| {
            let substance = substances::find(&c.inci, c.cas)?;
            let mmol = 1000.0 * c.share.typical.value() / substance.molar_mass;
            Some(mmol * charge_per_mole(substance, ph, TITRATION_STRENGTH))
        })
        .sum()
}

/// Base beyond the listed constituents from a titration, mmol per gram of material.
///
/// At the end point the charge of the listed constituents, the unknown base and the
/// acid used add up to zero.
pub fn titrated_base_mmol_g(material: &Material, titration: Titration) -> f64 {
    let listed = listed_mmol_g(material, titration.to_ph.value());
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
                    Brings::Solid(_, n) => 2.0 * n,
                })
                .sum();
            Some(1000.0 * c.share.typical.value() * groups / substance.molar_mass)
        })
        .sum()
}

/// What a material may bring of which no figure is stated, mmol per gram; none if its
/// constituents cannot bring acid or base.
fn unstated_mmol_g(material: &Material, ph_as_sold: Option<PhRange>) -> Option<(f64, f64)> {
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
        return Some((-UNSTATED_BASE * share, UNSTATED_BASE * share));
    };
    // Free hydroxide or acid at the pH as sold is the least it brings; five times the
    // upper end and a little more leaves room for buffers (our assumption, no source).
    let free = |ph: f64| 10.0_f64.powf(ph - 14.0) - 10.0_f64.powf(-ph);
    let (low, high) = (free(range.low.value()), free(range.high.value()));
    Some(if range.low.value() >= 7.0 {
        (low.max(0.0), 5.0 * high + ADJUSTMENT)
    } else if range.high.value() <= 5.0 {
        (5.0 * low - ADJUSTMENT, high.min(0.0))
    } else {
        (
            5.0 * low.min(0.0) - ADJUSTMENT,
            5.0 * high.max(0.0) + ADJUSTMENT,
        )
    })
}
