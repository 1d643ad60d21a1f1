//! Reaching a pH: how much of an acid or base solution, from the estimate and from
//! the bench.

use super::acidity::{Acidity, NoPh};
use super::ph::{Solution, solve};
use super::substances::Substance;
use crate::quantity::{Mass, MassFraction, PH_UNTOLD, Ph, grams, in_grams};

/// The most solution that is considered, grams per kilogram of formula.
const MOST_G_PER_KG: f64 = 1000.0;
/// Error of one pH reading that the next addition allows for.
const READING_ERROR: f64 = 0.02;
/// The share of the bound that is proposed, for errors of weighing.
const PRUDENCE: f64 = 0.9;

/// A solution of one acid or base in water.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Titrant {
    /// The acid or base.
    pub substance: &'static Substance,
    /// Its share by mass; the rest is water.
    pub strength: MassFraction,
}

impl Titrant {
    /// The solutions usually kept at hand, % by mass.
    pub const USUAL: [(&'static str, f64); 8] = [
        ("Citric Acid", 20.0),
        ("Lactic Acid", 80.0),
        ("Gluconic Acid", 50.0),
        ("Hydrochloric Acid", 10.0),
        ("Sodium Hydroxide", 20.0),
        ("Potassium Hydroxide", 20.0),
        ("Triethanolamine", 99.0),
        ("Arginine", 10.0),
    ];
    /// A solution by the name of the substance and percent by mass; `None` if the
    /// substance is not known, brings neither acid nor base, or the strength is not above 0
    /// and at most 100 %.
    pub fn of(name: &str, percent: f64) -> Option<Self> {
        let substance = super::substances::by_name(name).filter(|s| !s.brings.is_empty())?;
        (percent > 0.0 && percent <= 100.0).then_some(Self {
            substance,
            strength: MassFraction::from_percent(percent),
        })
    }
    /// The place in [`Self::USUAL`] of an acid if the pH is above the target, of a base if it
    /// is below or no target is set.
    pub fn usual_for(ph: f64, target: Option<Ph>) -> usize {
        const BASE: usize = 4;
        if target.is_some_and(|t| ph > t.value()) {
            0
        } else {
            BASE
        }
    }
    /// As shown, for example `Citric Acid 20 %`.
    pub fn label(&self) -> String {
        format!("{} {} %", self.substance.name(), self.strength.as_percent())
    }
}

/// What the pH of a start rests on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Footing {
    /// It was measured; how strongly the mix buffers is the estimate's.
    Measured,
    /// It is the estimate, from and to.
    Estimated {
        /// Lowest.
        low: f64,
        /// Highest.
        high: f64,
    },
}

/// Where an adjustment starts: a mix whose pH is known well enough to dose from.
#[derive(Clone, PartialEq, Debug)]
pub struct DoseStart {
    /// The pH before anything is added.
    pub ph: f64,
    /// What that rests on.
    pub footing: Footing,
    solution: Solution,
    /// Water in the formula, share 0 to 1.
    water: f64,
}

impl DoseStart {
    /// The measured pH, else the estimated one if it is known to within a unit.
    ///
    /// With a measured pH the estimated mix is brought to it by strong acid or base, which
    /// stands for what the materials do not state; what buffers is that of the estimate.
    pub fn of(acidity: &Acidity) -> Result<Self, AdjustError> {
        let water = acidity.water;
        if let Some(ph) = acidity.figure.measured {
            let estimate = acidity.middle.or(acidity.guess);
            let solution = estimate.and_then(|_| brought_to(&acidity.solution, ph));
            let footing = Footing::Measured;
            return match solution {
                Some(solution) => Ok(Self {
                    ph,
                    footing,
                    solution,
                    water,
                }),
                None => Err(AdjustError::NoBuffer(ph)),
            };
        }
        let (Some(ph), Some(low), Some(high)) =
            (acidity.middle, acidity.figure.low, acidity.figure.high)
        else {
            let reason = acidity.absent.clone().unwrap_or(NoPh::NothingKnown);
            return Err(AdjustError::NoPh(reason.words()));
        };
        if acidity.is_to_be_measured() {
            return Err(AdjustError::TooWide { low, high });
        }
        Ok(Self {
            ph,
            footing: Footing::Estimated { low, high },
            solution: acidity.solution,
            water,
        })
    }

    /// The mix after `grams_per_kg` of a solution has gone into a kilogram.
    fn after(&self, titrant: Titrant, grams_per_kg: f64) -> Solution {
        let added = grams_per_kg / 1000.0;
        let strength = titrant.strength.value();
        let water = self.water + added * (1.0 - strength);
        let mut solution = self.solution.scaled(self.water / water);
        let molality = 1000.0 * added * strength / titrant.substance.molar_mass / water;
        solution.add_substance(titrant.substance, molality);
        solution
    }
}

/// Strong base, mol per kg of the mix, that brings an estimated mix to the pH that was measured on
/// it: what its materials do not state. Acid counts below 0; none where nothing buffers that is
/// known.
pub fn unstated_base(acidity: &Acidity, measured: f64) -> Option<f64> {
    acidity.middle.or(acidity.guess)?;
    base_to(&acidity.solution, measured).map(|base| base * acidity.water)
}

/// The pH of an estimated mix with so much strong base beside it, mol per kg of the mix; none
/// where the pH of the mix is not known.
pub fn ph_with_base(acidity: &Acidity, base: f64) -> Option<f64> {
    acidity.middle.or(acidity.guess)?;
    (acidity.water > 0.0).then(|| solve(&with_base(&acidity.solution, base / acidity.water)).ph)
}

fn with_base(solution: &Solution, base: f64) -> Solution {
    let mut solution = *solution;
    solution.add_base(base);
    solution
}

/// A solution with as much strong acid or base beside it as brings it to a pH; none if no
/// amount below 10 mol/kg does.
fn brought_to(solution: &Solution, ph: f64) -> Option<Solution> {
    base_to(solution, ph).map(|base| with_base(solution, base))
}

/// Strong base, mol per kg of water, that brings a solution to a pH.
fn base_to(solution: &Solution, ph: f64) -> Option<f64> {
    let ph_with = |base: f64| solve(&with_base(solution, base)).ph;
    let (mut low, mut high) = (-10.0, 10.0);
    if ph_with(low) > ph || ph_with(high) < ph {
        return None;
    }
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if ph_with(middle) < ph {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(high)
}

/// Why no amount reaches the target.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AdjustError {
    /// The estimate is too wide to dose from.
    #[error(
        "the pH is known only as {low:.1} to {high:.1}; measure it, then a dose can be worked out"
    )]
    TooWide {
        /// Lowest.
        low: f64,
        /// Highest.
        high: f64,
    },
    /// The target lies in the estimated range, so that not even the direction is known.
    #[error(
        "pH {target:.2} lies in the estimated range of {low:.1} to {high:.1}; measure first, whether acid or base is needed is not known"
    )]
    Undecided {
        /// The target.
        target: f64,
        /// Lowest.
        low: f64,
        /// Highest.
        high: f64,
    },
    /// The pH was measured, but nothing tells how strongly the mix buffers.
    #[error(
        "the pH measured is {0:.2}, but how strongly the mix buffers is not known; add a part, read, and go on from the readings"
    )]
    NoBuffer(f64),
    /// There is no estimate to start from, for the reason given.
    #[error("there is no estimated pH to start from: {0}")]
    NoPh(String),
    /// The solution moves the pH away from the target.
    #[error("{titrant} moves the pH away from {target:.2}; it is {ph:.2} already")]
    WrongWay {
        /// What was to be added.
        titrant: String,
        /// The target.
        target: f64,
        /// The pH before.
        ph: f64,
    },
    /// Even very much does not reach it.
    #[error("{titrant} does not reach pH {target:.2}; it comes to {ph:.2} at most")]
    OutOfReach {
        /// What was to be added.
        titrant: String,
        /// The target.
        target: f64,
        /// The pH with as much titrant as formula.
        ph: f64,
    },
}

/// Grams of a solution that bring a kilogram of the formula to a pH.
///
/// Zero if the pH lies within [`PH_UNTOLD`] of the target.
pub fn grams_per_kg(start: &DoseStart, titrant: Titrant, target: Ph) -> Result<f64, AdjustError> {
    let (before, target) = (start.ph, target.value());
    if (before - target).abs() <= PH_UNTOLD {
        return Ok(0.0);
    }
    if let Footing::Estimated { low, high } = start.footing
        && (low..=high).contains(&target)
    {
        return Err(AdjustError::Undecided { target, low, high });
    }
    let rises = target > before;
    let ph_at = |g: f64| solve(&start.after(titrant, g)).ph;
    // A small amount tells the direction.
    let nudge = ph_at(0.01) - before;
    if nudge == 0.0 || (nudge > 0.0) != rises {
        return Err(AdjustError::WrongWay {
            titrant: titrant.label(),
            target,
            ph: before,
        });
    }
    let passed = |ph: f64| if rises { ph >= target } else { ph <= target };
    let (mut low, mut high) = (0.0, 0.05);
    while !passed(ph_at(high)) {
        if high >= MOST_G_PER_KG {
            return Err(AdjustError::OutOfReach {
                titrant: titrant.label(),
                target,
                ph: ph_at(high),
            });
        }
        low = high;
        high *= 2.0;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if passed(ph_at(middle)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(high)
}

/// By how much so many grams of a solution per kilogram move the pH; `None` without an
/// estimate. Small amounts tell the buffer capacity. Where the pH is not known well enough
/// to dose from, that of the middle case.
pub fn moves_ph(acidity: &Acidity, titrant: Titrant, grams_per_kg: f64) -> Option<f64> {
    let middle = || {
        let ph = acidity.middle?;
        Some(DoseStart {
            ph,
            footing: Footing::Estimated { low: ph, high: ph },
            solution: acidity.solution,
            water: acidity.water,
        })
    };
    let start = DoseStart::of(acidity).ok().or_else(middle)?;
    Some(solve(&start.after(titrant, grams_per_kg)).ph - start.ph)
}

/// The titration curve: grams of solution per kilogram and pH, in `points` steps up to
/// `most` grams per kilogram.
pub fn titration_curve(
    start: &DoseStart,
    titrant: Titrant,
    most: f64,
    points: usize,
) -> Vec<[f64; 2]> {
    if points == 0 || !most.is_finite() || most <= 0.0 {
        return Vec::new();
    }
    (0..=points)
        .map(|i| {
            let g = most * i as f64 / points as f64;
            [g, solve(&start.after(titrant, g)).ph]
        })
        .collect()
}

/// One reading at the bench: how much of the solution is in by now, and the pH.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct BenchPoint {
    /// Total added so far.
    pub added: Mass,
    /// The pH read after it was mixed in.
    pub ph: Ph,
}

/// What the bench readings say.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct BenchAdvice {
    /// Buffer capacity of the last step: grams of the solution per kilogram of batch and pH
    /// unit.
    pub grams_per_kg_and_ph: f64,
    /// How much to add next; zero if the target is reached.
    pub next: Mass,
    /// Whether the last reading is within [`PH_UNTOLD`] of the target.
    pub reached: bool,
}

/// Why the readings give no advice.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BenchError {
    /// One reading before and one after an addition are the least.
    #[error("read the pH before and after an addition; two readings are needed")]
    TooFew,
    /// The amounts do not rise from reading to reading, or the batch weighs nothing.
    #[error(
        "the amounts added must rise from reading to reading and the batch must weigh something"
    )]
    Amounts,
    /// The addition did not move the pH enough to read.
    #[error(
        "the last addition moved the pH by less than 0.04, too little to reckon with; add the same once more"
    )]
    TooSmall,
    /// It moves away from the target, or has passed it.
    #[error("the pH moves away from the target; the opposite kind of solution is needed")]
    Away,
}

/// The next addition from the readings, cautious enough not to pass the target.
///
/// The buffer capacity β of a mixture of acids and bases in water falls by no more than
/// a factor of ten per pH unit, since each site contributes in proportion to Kh/(K + h)²
/// (D. D. Van Slyke, J. Biol. Chem. 52 (1922) 525). If the last n grams moved the pH by d,
/// then at least n (1 − 10^−Δ)/(10^d − 1) more are needed for the distance Δ that is left.
/// Nine tenths of that are proposed, with 0.02 allowed for the error of each reading.
pub fn advise(points: &[BenchPoint], batch: Mass, target: Ph) -> Result<BenchAdvice, BenchError> {
    let [.., before, last] = points else {
        return Err(BenchError::TooFew);
    };
    let batch_kg = in_grams(batch) / 1000.0;
    let rising = points.windows(2).all(|w| match w {
        [a, b] => in_grams(b.added) > in_grams(a.added),
        _ => true,
    });
    if !rising || batch_kg <= 0.0 || !batch_kg.is_finite() || in_grams(before.added) < 0.0 {
        return Err(BenchError::Amounts);
    }
    let added = in_grams(last.added) - in_grams(before.added);
    let moved = last.ph.value() - before.ph.value();
    let left = target.value() - last.ph.value();
    if moved.abs() < 2.0 * READING_ERROR {
        return Err(BenchError::TooSmall);
    }
    let capacity = added / batch_kg / moved.abs();
    if left.abs() <= PH_UNTOLD {
        return Ok(BenchAdvice {
            grams_per_kg_and_ph: capacity,
            next: grams(0.0),
            reached: true,
        });
    }
    if (left > 0.0) != (moved > 0.0) {
        return Err(BenchError::Away);
    }
    let moved = moved.abs() + 2.0 * READING_ERROR;
    let left = left.abs() - READING_ERROR;
    let bound = added * (1.0 - 10.0_f64.powf(-left)) / (10.0_f64.powf(moved) - 1.0);
    Ok(BenchAdvice {
        grams_per_kg_and_ph: capacity,
        next: grams(PRUDENCE * bound),
        reached: false,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::acids::Family;
    use super::super::figure::Figure;
    use super::super::ph::{Activity, solve_with};
    use super::*;

    /// A mix whose estimate runs from `below` under to `above` over its middle.
    fn between(acids: &[(Family, f64)], below: f64, above: f64) -> Acidity {
        let mut solution = Solution::new();
        for &(family, molality) in acids {
            solution.add(family, molality);
        }
        let state = solve(&solution);
        Acidity {
            figure: Figure {
                low: Some(state.ph - below),
                high: Some(state.ph + above),
                ..Figure::default()
            },
            middle: Some(state.ph),
            guess: None,
            ionic_strength: Some(state.ionic_strength),
            residual: state.residual,
            solution,
            water: 1.0,
            absent: None,
            widest: None,
        }
    }

    fn start(acids: &[(Family, f64)]) -> DoseStart {
        DoseStart::of(&between(acids, 0.0, 0.0)).unwrap()
    }

    /// Half-neutralised 0.2 molal acetic acid is the acetate buffer 0.1 + 0.1 mol/kg, certified
    /// pH 4.652 (Bates 1973, from memory; the reference tables give 4.649 for the model). A
    /// kilogram of water with the acid weighs 1.012 kg; molalities are per kilogram of water.
    #[test]
    fn acetate_buffer_from_acid_and_sodium_hydroxide() {
        let acid = start(&[(Family::Acetic, 0.2)]);
        // Pure base, so that no water comes in: 0.1 mol of 39.997 g/mol.
        let base = Titrant::of("Sodium Hydroxide", 100.0).unwrap();
        let found = grams_per_kg(&acid, base, Ph::new(4.649).unwrap()).unwrap();
        assert!((found - 3.9997).abs() < 0.01, "{found}");
    }

    #[test]
    fn the_wrong_solution_is_refused() {
        let acid = start(&[(Family::Citric, 0.05)]);
        let target = Ph::new(5.0).unwrap();
        assert!(matches!(
            grams_per_kg(&acid, Titrant::of("Lactic Acid", 80.0).unwrap(), target),
            Err(AdjustError::WrongWay { .. })
        ));
        assert!(matches!(
            grams_per_kg(
                &start(&[]),
                Titrant::of("Sodium Benzoate", 100.0).unwrap(),
                Ph::new(13.0).unwrap()
            ),
            Err(AdjustError::OutOfReach { .. })
        ));
        assert!(Titrant::of("Glycerin", 50.0).is_none());
        for (name, percent) in Titrant::USUAL {
            assert!(Titrant::of(name, percent).is_some(), "{name}");
        }
        assert_eq!(
            Titrant::USUAL[Titrant::usual_for(4.0, None)].0,
            "Sodium Hydroxide"
        );
    }

    /// Whatever was measured, a dose is given in the right direction or not at all, and it
    /// grows with the distance.
    #[test]
    fn the_dose_starts_from_what_was_measured() {
        let target = Ph::new(5.2).unwrap();
        let acid = Titrant::of("Citric Acid", 20.0).unwrap();
        let base = Titrant::of("Sodium Hydroxide", 20.0).unwrap();
        // Citrate buffer whose estimate alone says next to nothing.
        let mut mix = between(&[(Family::Citric, 0.02)], 1.0, 8.0);
        assert!(matches!(
            DoseStart::of(&mix),
            Err(AdjustError::TooWide { .. })
        ));
        let mut last = 0.0;
        for measured in [5.3, 6.0, 7.0, 9.0] {
            mix.figure.measured = Some(measured);
            let start = DoseStart::of(&mix).unwrap();
            assert_eq!(start.footing, Footing::Measured);
            let dose = grams_per_kg(&start, acid, target).unwrap();
            assert!(dose > last, "{measured}: {dose}");
            last = dose;
            let reached = solve(&start.after(acid, dose)).ph;
            assert!((reached - 5.2).abs() < 1e-6, "{reached}");
            assert!(matches!(
                grams_per_kg(&start, base, target),
                Err(AdjustError::WrongWay { .. })
            ));
        }
        mix.figure.measured = Some(4.8);
        let start = DoseStart::of(&mix).unwrap();
        assert!(matches!(
            grams_per_kg(&start, acid, target),
            Err(AdjustError::WrongWay { .. })
        ));
        assert!(grams_per_kg(&start, base, target).unwrap() > 0.0);
        mix.figure.measured = Some(5.18);
        let start = DoseStart::of(&mix).unwrap();
        assert_eq!(grams_per_kg(&start, acid, target), Ok(0.0));
    }

    #[test]
    fn a_target_inside_the_estimated_range_gets_no_dose() {
        let mix = between(&[(Family::Citric, 0.05)], 0.3, 0.5);
        let ph = mix.middle.unwrap();
        let start = DoseStart::of(&mix).unwrap();
        let base = Titrant::of("Sodium Hydroxide", 20.0).unwrap();
        let inside = Ph::new(ph + 0.4).unwrap();
        assert!(matches!(
            grams_per_kg(&start, base, inside),
            Err(AdjustError::Undecided { .. })
        ));
        assert!(grams_per_kg(&start, base, Ph::new(ph + 1.0).unwrap()).unwrap() > 0.0);
    }

    /// A strong base stands for what is not stated: 0.1 mol of acetic acid measured at pH 4.65
    /// is the half-neutralised buffer, which takes as much strong acid again to go back.
    #[test]
    fn a_measured_buffer_is_taken_as_such() {
        let mut mix = between(&[(Family::Acetic, 0.2)], 0.0, 0.0);
        let own = mix.middle.unwrap();
        mix.figure.measured = Some(4.649);
        let start = DoseStart::of(&mix).unwrap();
        let acid = Titrant::of("Hydrochloric Acid", 100.0).unwrap();
        let back = grams_per_kg(&start, acid, Ph::new(own).unwrap()).unwrap();
        // 0.1 mol of 36.46 g/mol.
        assert!((back - 3.646).abs() < 0.03, "{back}");
    }

    #[test]
    fn bench_readings_are_checked() {
        let point = |g: f64, ph: f64| BenchPoint {
            added: grams(g),
            ph: Ph::new(ph).unwrap(),
        };
        let target = Ph::new(5.0).unwrap();
        let kilo = grams(1000.0);
        assert_eq!(
            advise(&[point(0.0, 4.0)], kilo, target),
            Err(BenchError::TooFew)
        );
        assert_eq!(
            advise(&[point(0.0, 4.0), point(0.0, 4.5)], kilo, target),
            Err(BenchError::Amounts)
        );
        assert_eq!(
            advise(&[point(0.0, 4.0), point(1.0, 4.01)], kilo, target),
            Err(BenchError::TooSmall)
        );
        assert_eq!(
            advise(&[point(0.0, 5.5), point(1.0, 5.8)], kilo, target),
            Err(BenchError::Away)
        );
        let done = advise(&[point(0.0, 4.5), point(1.0, 4.97)], kilo, target).unwrap();
        assert!(done.reached);
        assert!((done.grams_per_kg_and_ph - 1.0 / 0.47).abs() < 1e-9);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        /// Whatever acids are in the batch, following the advice comes near the target and
        /// never passes it.
        #[test]
        fn the_advice_never_passes_the_target(
            acids in prop::collection::vec((0..12_usize, -4.0..-0.7_f64), 1..4),
            target in 4.5..9.0_f64,
        ) {
            let mut batch = Solution::new();
            for (family, log) in acids {
                batch.add(Family::ALL[family], 10.0_f64.powf(log));
            }
            let ph_after = |mol: f64| {
                let mut solution = batch;
                solution.add_base(mol);
                solve_with(&solution, Activity::Davies).ph
            };
            let target_ph = Ph::new(target).unwrap();
            prop_assume!(ph_after(0.0) < target - 0.5);
            let kilo = grams(1000.0);
            // A first small addition that can be read: found by halving and doubling.
            let mut first = 1e-5;
            while ph_after(first) < ph_after(0.0) + 0.06 {
                first *= 1.3;
            }
            prop_assume!(ph_after(first) < target);
            let mut points = vec![
                BenchPoint { added: grams(0.0), ph: Ph::new(ph_after(0.0)).unwrap() },
                BenchPoint { added: grams(first), ph: Ph::new(ph_after(first)).unwrap() },
            ];
            for _ in 0..200 {
                match advise(&points, kilo, target_ph) {
                    Ok(advice) if advice.reached => break,
                    Ok(advice) => {
                        let total = in_grams(points.last().unwrap().added) + in_grams(advice.next);
                        let ph = ph_after(total);
                        prop_assert!(ph <= target + PH_UNTOLD, "{ph} passes {target}");
                        points.push(BenchPoint { added: grams(total), ph: Ph::new(ph).unwrap() });
                    }
                    // The same once more, as the message says.
                    Err(BenchError::TooSmall) => {
                        let last = points.pop().unwrap();
                        let before = in_grams(points.last().unwrap().added);
                        let total = 2.0 * in_grams(last.added) - before;
                        let ph = ph_after(total);
                        prop_assert!(ph <= target + PH_UNTOLD, "{ph} passes {target}");
                        points.push(BenchPoint { added: grams(total), ph: Ph::new(ph).unwrap() });
                    }
                    Err(other) => return Err(TestCaseError::fail(other.to_string())),
                }
            }
            let last = points.last().unwrap().ph.value();
            prop_assert!((last - target).abs() < 0.2, "stopped at {last} before {target}");
        }
    }
}
