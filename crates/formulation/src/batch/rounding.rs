//! Rounding masses to what the scales can show, so that the sheet still totals the batch.
//!
//! The method of largest remainders: every share is rounded down to a whole number of
//! steps, and the steps left over go one each to the largest remainders; where remainders
//! are equal, to the earlier line. All arithmetic is in whole numbers.

use super::mass::ExactMass;
use super::weighing_scale::{WeighingScale, choose};
use crate::quantity::Percent;

/// Divides `steps` in proportion to `weights` by largest remainders; the parts add up to
/// `steps` exactly. `None` if the weights add up to nothing or the product of steps and
/// weights is beyond 1e38.
pub fn largest_remainder(weights: &[u128], steps: u128) -> Option<Vec<u128>> {
    let total = weights
        .iter()
        .try_fold(0_u128, |sum, &w| sum.checked_add(w))?;
    if total == 0 {
        return None;
    }
    let mut parts = Vec::with_capacity(weights.len());
    let mut remainders = Vec::with_capacity(weights.len());
    for (i, &weight) in weights.iter().enumerate() {
        let product = weight.checked_mul(steps)?;
        parts.push(product / total);
        remainders.push((product % total, i));
    }
    let given: u128 = parts.iter().sum();
    // Stable, so that of equal remainders the earlier line comes first.
    remainders.sort_by_key(|b| std::cmp::Reverse(b.0));
    let left = (steps - given) as usize;
    for &(_, i) in remainders.iter().take(left) {
        if let Some(part) = parts.get_mut(i) {
            *part += 1;
        }
    }
    Some(parts)
}

/// One line rounded to its scale.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct RoundedLine {
    /// What the percentage asks for, to the nearest femtogram.
    pub exact: ExactMass,
    /// What is to be weighed: a whole number of steps of the scale.
    pub mass: ExactMass,
    /// Place of the scale in the list given.
    pub scale: usize,
}

/// All lines of a batch, rounded.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Rounding {
    /// In the order given.
    pub lines: Vec<RoundedLine>,
    /// The sum of the rounded lines, which is the batch to be made. Equal to the batch asked
    /// for if that is a whole number of steps and all lines share a scale; with several
    /// scales it may differ by half a step of the coarsest, see [`round_lines`].
    pub total: ExactMass,
}

/// Why masses cannot be rounded.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RoundingError {
    /// No scale.
    #[error("no weighing scale is entered; add one with its resolution")]
    NoScale,
    /// Lines that add up to nothing.
    #[error("the lines add up to 0 %; there is nothing to weigh")]
    Nothing,
    /// A negative percentage.
    #[error("line {0} has a negative percentage; correct the formula")]
    Negative(usize),
    /// Numbers beyond the arithmetic.
    #[error("the batch of {0} g is too large for these scales")]
    TooLarge(ExactMass),
}

/// By how much, as a share of each, finer lines may be moved to make up what a coarse scale
/// cannot show: half of the usual tolerance, [`super::plan::PlanRequest::TOLERANCE`]. Our own choice.
const MOST_SHIFT_PER_MILLE: i128 = 5;

/// Rounds the lines of a batch to the scales, each line on the finest scale that bears it.
///
/// With one scale this is the plain method of largest remainders. With several, the
/// coarsest scale is served first: its lines get the nearest whole number of steps to
/// their joint share, divided by largest remainders. What is then left of the batch goes
/// to the finer scales, divided in proportion, so that the sheet totals the batch. Where
/// that would move the finer lines by more than half a percent, they keep their own
/// shares, and the batch is made that little larger or smaller.
///
/// Shares are taken of the sum of the percentages given, so 100 need not be reached.
pub fn round_lines(
    percents: &[Percent],
    batch: ExactMass,
    scales: &[WeighingScale],
) -> Result<Rounding, RoundingError> {
    if scales.is_empty() {
        return Err(RoundingError::NoScale);
    }
    if let Some(place) = percents.iter().position(|p| *p < Percent::ZERO) {
        return Err(RoundingError::Negative(place + 1));
    }
    let whole: i128 = percents.iter().map(|p| i128::from(p.units())).sum();
    if whole == 0 {
        return Err(RoundingError::Nothing);
    }
    let mut lines: Vec<RoundedLine> = percents
        .iter()
        .map(|p| {
            let exact = batch.ratio(i128::from(p.units()), whole);
            RoundedLine {
                exact,
                mass: ExactMass::ZERO,
                scale: choose(scales, exact).unwrap_or(0),
            }
        })
        .collect();
    // The resolutions in use, coarsest first.
    let step_of = |line: &RoundedLine| {
        scales
            .get(line.scale)
            .map_or(ExactMass::ZERO, WeighingScale::resolution)
    };
    let mut steps: Vec<ExactMass> = lines
        .iter()
        .zip(percents)
        .filter(|(_, p)| **p > Percent::ZERO)
        .map(|(line, _)| step_of(line))
        .collect();
    steps.sort();
    steps.dedup();
    steps.reverse();

    let mut mass_left = batch;
    let mut share_left = whole;
    for step in steps {
        let group: Vec<usize> = lines
            .iter()
            .enumerate()
            .filter(|(_, line)| step_of(line) == step)
            .map(|(i, _)| i)
            .collect();
        let weights: Vec<u128> = group
            .iter()
            .filter_map(|&i| percents.get(i))
            .map(|p| p.units().unsigned_abs().into())
            .collect();
        let share: u128 = weights.iter().sum();
        let target = mass_left.ratio(share as i128, share_left);
        let count = (target.femtograms().max(0) + step.femtograms() / 2) / step.femtograms();
        let parts =
            largest_remainder(&weights, count as u128).ok_or(RoundingError::TooLarge(batch))?;
        for (i, part) in group.into_iter().zip(parts) {
            if let Some(line) = lines.get_mut(i) {
                line.mass = step.times(part as i128);
            }
        }
        let shown = step.times(count);
        let finer = mass_left - target;
        let shift = (target - shown).abs();
        mass_left = if shift.times(1000) <= finer.times(MOST_SHIFT_PER_MILLE) {
            mass_left - shown
        } else {
            finer
        };
        share_left -= share as i128;
    }
    let total = lines.iter().map(|l| l.mass).sum();
    Ok(Rounding { lines, total })
}

/// Rounds the lines of a formula with a filler, so that a calculator agrees: every other
/// line goes to the nearest step of its own scale, halves upwards, and the filler takes the
/// rest, on its scale. The total differs from the batch by less than a step of the filler's
/// scale, and not at all where that step divides the others and the batch. Without a filler,
/// or where no rest is left for it, as [`round_lines`].
pub fn round_with_filler(
    percents: &[Percent],
    filler: Option<usize>,
    batch: ExactMass,
    scales: &[WeighingScale],
) -> Result<Rounding, RoundingError> {
    let mut rounding = round_lines(percents, batch, scales)?;
    let Some(filler) = filler.filter(|&f| f < percents.len()) else {
        return Ok(rounding);
    };
    let step = |line: &RoundedLine| {
        scales
            .get(line.scale)
            .map_or(ExactMass::ZERO, WeighingScale::resolution)
    };
    let nearest = |mass: ExactMass, step: ExactMass| {
        if step.is_zero() {
            return mass;
        }
        let (mass, size) = (mass.femtograms(), step.femtograms());
        step.times((mass.saturating_mul(2) + size).div_euclid(size * 2))
    };
    let mut lines = rounding.lines.clone();
    let mut rest = batch;
    for (place, line) in lines.iter_mut().enumerate() {
        if place != filler {
            line.mass = nearest(line.exact, step(line));
            rest -= line.mass;
        }
    }
    if let Some(line) = lines.get_mut(filler) {
        line.mass = nearest(rest, step(line));
        if line.mass <= ExactMass::ZERO {
            return Ok(rounding);
        }
    }
    rounding.total = lines.iter().map(|l| l.mass).sum();
    rounding.lines = lines;
    Ok(rounding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mass::read_mass;
    use proptest::prelude::*;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }

    fn scale(resolution: &str, capacity: Option<&str>) -> WeighingScale {
        WeighingScale::new("scale", mass(resolution), capacity.map(mass)).unwrap()
    }

    fn percents(text: &str) -> Vec<Percent> {
        text.split(';').map(|p| p.parse().unwrap()).collect()
    }

    #[test]
    fn finer_lines_move_by_half_the_usual_tolerance_at_most() {
        let half = crate::batch::plan::PlanRequest::TOLERANCE.value() / 2.0;
        assert_eq!(MOST_SHIFT_PER_MILLE as f64 / 1000.0, half);
    }

    #[test]
    fn steps_left_over_go_to_the_largest_remainders() {
        assert_eq!(largest_remainder(&[1, 1, 1], 10), Some(vec![4, 3, 3]));
        assert_eq!(largest_remainder(&[47, 16, 37], 10), Some(vec![5, 1, 4]));
        assert_eq!(largest_remainder(&[0, 0], 10), None);
        assert_eq!(largest_remainder(&[0, 5], 3), Some(vec![0, 3]));
    }

    #[test]
    fn a_coarse_scale_leaves_its_rest_to_a_finer_one() {
        let scales = [scale("5 g", Some("30 kg")), scale("0.1 g", Some("2 kg"))];
        let result = round_lines(&percents("81.37;15;3;0.63"), mass("10 kg"), &scales).unwrap();
        assert_eq!(result.total, mass("10 kg"));
        assert_eq!(result.lines[0].mass, mass("8135 g"));
        assert_eq!(result.lines[1].scale, 1);
        // 2 g too few on the platform are spread over 1863 g: a tenth of a percent each.
        assert_eq!(result.lines[1].mass, mass("1501.6 g"));
        assert_eq!(result.lines[3].mass, mass("63.1 g"));
    }

    #[test]
    fn a_pinch_is_never_given_up_to_make_the_total_round() {
        let scales = [scale("0.1 g", None), scale("0.0005 g", Some("20 g"))];
        let result = round_lines(&percents("89.995;10;0.005"), mass("1 kg"), &scales).unwrap();
        assert_eq!(result.lines[2].mass, mass("0.05 g"));
        assert_eq!(result.total, mass("1000.05 g"));
    }

    /// By hand: 4 % of 1500 g is 60.0 g, on each of two lines.
    #[test]
    fn a_calculator_agrees_where_there_is_a_filler() {
        let percents = percents("4;4;0.333;91.667");
        let scales = [scale("0.1 g", None)];
        let result = round_with_filler(&percents, Some(3), mass("1500 g"), &scales).unwrap();
        let masses: Vec<ExactMass> = result.lines.iter().map(|l| l.mass).collect();
        let wanted = ["60 g", "60 g", "5.0 g", "1375 g"].map(mass);
        assert_eq!(masses, wanted);
        assert_eq!(result.total, mass("1500 g"));
        // Exactly half a step goes up: 0.05 % of 100 g.
        let percents = self::percents("0.05;99.95");
        let result = round_with_filler(&percents, Some(1), mass("100 g"), &scales).unwrap();
        assert_eq!(result.lines[0].mass, mass("0.1 g"));
        assert_eq!(result.lines[1].mass, mass("99.9 g"));
    }

    /// 400 g on the fine scale take the 2 g that the coarse one cannot show, as 2 g of them is just
    /// half a percent. Of 399 g it would be more, and they keep their own share.
    #[test]
    fn finer_lines_take_up_to_half_a_percent_of_what_a_coarse_scale_leaves() {
        let scales = [scale("5 g", Some("30 kg")), scale("0.1 g", Some("2 kg"))];
        let rounded = |percents: &str, batch: &str| {
            let result = round_lines(&self::percents(percents), mass(batch), &scales).unwrap();
            let fine = result.lines.last().unwrap().mass;
            (fine, result.total)
        };
        let half = rounded("96.02;4", "10002 g");
        assert_eq!(half, (mass("402 g"), mass("10002 g")));
        let more = rounded("96.02;3.99", "10001 g");
        assert_eq!(more, (mass("399 g"), mass("9999 g")));
    }

    #[test]
    fn a_line_of_nothing_is_weighed_on_no_scale() {
        let scales = [scale("5 g", Some("30 kg")), scale("0.1 g", Some("2 kg"))];
        let result = round_lines(&percents("100;0"), mass("10 kg"), &scales).unwrap();
        assert_eq!(result.lines[0].mass, mass("10 kg"));
        assert_eq!(result.lines[1].mass, ExactMass::ZERO);
    }

    /// Each of two lines of 49.95 g goes up to 50.0 g; then nothing is left of the 0.1 g that the
    /// filler asks for, and all lines are rounded together.
    #[test]
    fn where_nothing_is_left_for_a_filler_all_lines_are_rounded_together() {
        let scales = [scale("0.1 g", None)];
        let lines = percents("49.95;49.95;0.1");
        let together = round_lines(&lines, mass("100 g"), &scales).unwrap();
        assert_eq!(together.lines[2].mass, mass("0.1 g"));
        // Nor is there a filler behind the last line.
        for filler in [2, 3] {
            let result = round_with_filler(&lines, Some(filler), mass("100 g"), &scales);
            assert_eq!(result, Ok(together.clone()), "{filler}");
        }
    }

    #[test]
    fn what_cannot_be_rounded_is_said() {
        let scales = [scale("0.1 g", None)];
        assert_eq!(
            round_lines(&percents("100"), mass("1 kg"), &[]),
            Err(RoundingError::NoScale)
        );
        assert_eq!(
            round_lines(&percents("0;0"), mass("1 kg"), &scales),
            Err(RoundingError::Nothing)
        );
        assert_eq!(
            round_lines(&percents("101;-1"), mass("1 kg"), &scales),
            Err(RoundingError::Negative(2))
        );
    }

    proptest! {
        #[test]
        fn each_line_is_within_half_a_step_and_the_filler_takes_the_rest(
            units in prop::collection::vec(0_i64..2_000_000, 1..30),
            count in 10_000_i64..2_000_000,
        ) {
            let mut percents: Vec<Percent> = units.into_iter().map(Percent::from_units).collect();
            let rest = Percent::HUNDRED - percents.iter().copied().sum::<Percent>();
            percents.push(rest);
            let filler = percents.len() - 1;
            let scale = scale("0.1 g", None);
            let batch = scale.resolution().times(count.into());
            let scales = std::slice::from_ref(&scale);
            let result = round_with_filler(&percents, Some(filler), batch, scales).unwrap();
            prop_assert_eq!(result.total, batch);
            for line in &result.lines[..filler] {
                let off = (line.mass - line.exact).abs();
                prop_assert!(off.times(2) <= scale.resolution());
            }
        }

        #[test]
        fn rounded_lines_total_the_batch(
            units in prop::collection::vec(0_i64..60_000_000, 1..40),
            count in 1_i64..2_000_000,
            step in prop::sample::select(vec!["0.001 g", "0.01 g", "0.1 g", "1 g", "0.05 oz", "0.01 lb"]),
        ) {
            prop_assume!(units.iter().any(|&u| u > 0));
            let percents: Vec<Percent> = units.into_iter().map(Percent::from_units).collect();
            let scale = scale(step, None);
            let batch = scale.resolution().times(count.into());
            let result = round_lines(&percents, batch, std::slice::from_ref(&scale)).unwrap();
            prop_assert_eq!(result.total, batch);
            for line in &result.lines {
                prop_assert!((line.mass - line.exact).abs() < scale.resolution());
                prop_assert_eq!(line.mass.femtograms() % scale.resolution().femtograms(), 0);
            }
        }

        #[test]
        fn several_scales_total_the_batch_too(
            units in prop::collection::vec(1_i64..60_000_000, 1..30),
            tenths in 100_i64..400_000,
        ) {
            let percents: Vec<Percent> = units.into_iter().map(Percent::from_units).collect();
            let scales = [
                scale("5 g", None),
                scale("0.1 g", Some("2 kg")),
                scale("0.01 g", Some("200 g")),
            ];
            let batch = mass("0.1 g").times(tenths.into());
            let result = round_lines(&percents, batch, &scales).unwrap();
            let sum: ExactMass = result.lines.iter().map(|l| l.mass).sum();
            prop_assert_eq!(result.total, sum);
            let steps = || result.lines.iter().map(|l| scales[l.scale].resolution());
            let coarsest = steps().max().unwrap();
            prop_assert!((result.total - batch).abs().times(2) <= coarsest);
            if steps().min() == Some(coarsest) && batch.femtograms() % coarsest.femtograms() == 0 {
                prop_assert_eq!(result.total, batch);
            }
            for line in &result.lines {
                let step = scales[line.scale].resolution();
                prop_assert_eq!(line.mass.femtograms() % step.femtograms(), 0);
                // One step of its own, and half a percent for each coarser scale.
                let off = (line.mass - line.exact).abs();
                prop_assert!(off <= step + line.exact.ratio(101, 10_000));
            }
        }
    }
}
