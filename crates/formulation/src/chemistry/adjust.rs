//! Reaching a pH: how much of an acid or base solution, from the estimate and from
//! the bench.

use super::acidity::{Acidity, NoPh};
use super::ph::{Solution, solve};
use super::substances::Substance;
use crate::quantity::{Mass, MassFraction, Ph, grams, in_grams};

/// The most solution that is considered, grams per kilogram of formula.
const MOST_G_PER_KG: f64 = 1000.0;
/// pH within which a target counts as reached; a good electrode shows no more.
pub const REACHED: f64 = 0.05;
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

/// Why no amount reaches the target.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AdjustError {
    /// There is no estimate to start from, for the reason given.
    #[error("there is no estimated pH to start from: {0}")]
    NoPh(String),
    /// The solution moves the pH away from the target.
    #[error("{titrant} moves the pH away from {target:.2}; the estimate is {ph:.2} already")]
    WrongWay {
        /// What was to be added.
        titrant: String,
        /// The target.
        target: f64,
        /// The estimate before.
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

/// The mix of an estimate after `grams_per_kg` of a solution has gone into a kilogram.
fn after(acidity: &Acidity, titrant: Titrant, grams_per_kg: f64) -> Solution {
    let added = grams_per_kg / 1000.0;
    let strength = titrant.strength.value();
    let water = acidity.water + added * (1.0 - strength);
    let mut solution = acidity.solution.scaled(acidity.water / water);
    let molality = 1000.0 * added * strength / titrant.substance.molar_mass / water;
    solution.add_substance(titrant.substance, molality);
    solution
}

/// Grams of a solution that bring a kilogram of the formula to a pH, by the estimate.
///
/// Zero if the estimate lies within [`REACHED`] of the target.
pub fn grams_per_kg(acidity: &Acidity, titrant: Titrant, target: Ph) -> Result<f64, AdjustError> {
    let before = acidity.middle.ok_or_else(|| {
        let reason = acidity.absent.clone().unwrap_or(NoPh::NothingKnown);
        AdjustError::NoPh(reason.words())
    })?;
    let target = target.value();
    if (before - target).abs() < 1e-9 {
        return Ok(0.0);
    }
    let rises = target > before;
    let ph_at = |g: f64| solve(&after(acidity, titrant, g)).ph;
    // A small amount tells the direction.
    let nudge = ph_at(0.01) - before;
    if nudge == 0.0 || (nudge > 0.0) != rises {
        if (before - target).abs() < REACHED {
            return Ok(0.0);
        }
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

/// By how much so many grams of a solution per kilogram move the estimated pH; `None`
/// without an estimate. Small amounts tell the buffer capacity.
pub fn moves_ph(acidity: &Acidity, titrant: Titrant, grams_per_kg: f64) -> Option<f64> {
    let before = acidity.middle?;
    Some(solve(&after(acidity, titrant, grams_per_kg)).ph - before)
}

/// Grams of a solution for a whole batch.
pub fn grams_for_batch(
    acidity: &Acidity,
    titrant: Titrant,
    target: Ph,
    batch: Mass,
) -> Result<Mass, AdjustError> {
    grams_per_kg(acidity, titrant, target).map(|g| grams(g * in_grams(batch) / 1000.0))
}

/// The titration curve of the estimate: grams of solution per kilogram and pH, in
/// `points` steps up to `most` grams per kilogram. Empty if there is no water.
pub fn curve(acidity: &Acidity, titrant: Titrant, most: f64, points: usize) -> Vec<[f64; 2]> {
    if acidity.middle.is_none() || points == 0 || !most.is_finite() || most <= 0.0 {
        return Vec::new();
    }
    (0..=points)
        .map(|i| {
            let g = most * i as f64 / points as f64;
            [g, solve(&after(acidity, titrant, g)).ph]
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
    /// Whether the last reading is within [`REACHED`] of the target.
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
    if left.abs() <= REACHED {
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

    fn acidity(acids: &[(Family, f64)]) -> Acidity {
        let mut solution = Solution::new();
        for &(family, molality) in acids {
            solution.add(family, molality);
        }
        let state = solve(&solution);
        Acidity {
            figure: Figure::default(),
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

    /// Half-neutralised 0.2 molal acetic acid is the acetate buffer 0.1 + 0.1 mol/kg, certified
    /// pH 4.652 (Bates 1973, from memory; the reference tables give 4.649 for the model). A
    /// kilogram of water with the acid weighs 1.012 kg; molalities are per kilogram of water.
    #[test]
    fn acetate_buffer_from_acid_and_sodium_hydroxide() {
        let acid = acidity(&[(Family::Acetic, 0.2)]);
        // Pure base, so that no water comes in: 0.1 mol of 39.997 g/mol.
        let base = Titrant::of("Sodium Hydroxide", 100.0).unwrap();
        let found = grams_per_kg(&acid, base, Ph::new(4.649).unwrap()).unwrap();
        assert!((found - 3.9997).abs() < 0.01, "{found}");
    }

    #[test]
    fn the_wrong_solution_is_refused() {
        let acid = acidity(&[(Family::Citric, 0.05)]);
        let target = Ph::new(5.0).unwrap();
        assert!(matches!(
            grams_per_kg(&acid, Titrant::of("Lactic Acid", 80.0).unwrap(), target),
            Err(AdjustError::WrongWay { .. })
        ));
        assert!(matches!(
            grams_per_kg(
                &acidity(&[]),
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
                        prop_assert!(ph <= target + REACHED, "{ph} passes {target}");
                        points.push(BenchPoint { added: grams(total), ph: Ph::new(ph).unwrap() });
                    }
                    // The same once more, as the message says.
                    Err(BenchError::TooSmall) => {
                        let last = points.pop().unwrap();
                        let before = in_grams(points.last().unwrap().added);
                        let total = 2.0 * in_grams(last.added) - before;
                        let ph = ph_after(total);
                        prop_assert!(ph <= target + REACHED, "{ph} passes {target}");
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
