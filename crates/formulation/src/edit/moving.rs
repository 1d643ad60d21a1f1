//! The arithmetic of moving percentages: how far a line may go, which lines give way, how
//! a change is dealt out, and what the filler takes.
//!
//! Every sum is exact. Shares dealt out by the program land on the step that the maker chose,
//! [`STEP`] where nobody chose, so that nobody finds six digits in a formula that was typed
//! with two; a small line that was typed finer moves as finely as it was typed.

use std::collections::BTreeSet;

use super::{Bound, EditError, GiveWay, Stop};
use crate::formula::{Formula, ItemId, Line, Variant};
use crate::purpose::Purpose;
use crate::quantity::Percent;
use crate::served::Setting;

/// Shares dealt out by the program land on hundredths of a percent where nobody chose a step.
pub const STEP: Percent = Percent::from_units(Percent::UNITS / 100);
/// Lines of fewer steps than this move more finely if they were typed more finely, or they
/// would not move at all.
const FEW_STEPS: i64 = 10;

/// Lines that give way to no other: held ones, and those whose amount is set by what they
/// do in the whole, not by what stands beside them: preservatives, what adjusts the pH, and
/// colours.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FixedLines(BTreeSet<ItemId>);

impl FixedLines {
    /// The lines of a variant that stay as they are when others are scaled.
    pub fn of(formula: &Formula, variant: &Variant) -> Self {
        let setting = Setting::of(formula, variant);
        let by_purpose = |line: &Line| {
            matches!(
                setting.purpose_in(formula, line).purpose,
                Purpose::Preservative | Purpose::PhAdjuster | Purpose::Colorant
            )
        };
        Self(
            variant
                .lines()
                .map(|(_, line)| line)
                .filter(|line| line.held || (!variant.is_filler(line.id) && by_purpose(line)))
                .map(|line| line.id)
                .collect(),
        )
    }
    /// Whether a line is one of them.
    pub fn contains(&self, line: ItemId) -> bool {
        self.0.contains(&line)
    }
}

/// The lowest and highest percentage to which a line may move, others giving way.
///
/// # Errors
/// If there is no such line, or it is the filler that would have to give way to itself.
pub fn room(
    formula: &Formula,
    variant: &Variant,
    line: ItemId,
    give: GiveWay,
) -> Result<(Percent, Percent), EditError> {
    let moved = variant.line(line).ok_or(EditError::NoSuchItem)?;
    let travel = travel(variant, moved, give, &FixedLines::of(formula, variant))?;
    Ok((travel.low.0, travel.high.0))
}

/// How far a line may travel, with what holds it at each end.
struct MoveRange {
    low: (Percent, ItemId, Bound),
    high: (Percent, ItemId, Bound),
}

fn own_range(line: &Line) -> (Percent, Percent) {
    let low = line.min.unwrap_or(Percent::ZERO).max(Percent::ZERO);
    let high = line.max.unwrap_or(Percent::HUNDRED).min(Percent::HUNDRED);
    (low, high.max(low))
}

fn low_bound(line: &Line) -> (Percent, ItemId, Bound) {
    let low = own_range(line).0;
    (
        low,
        line.id,
        if low == Percent::ZERO {
            Bound::Zero
        } else {
            Bound::OwnLowest
        },
    )
}

fn high_bound(line: &Line) -> (Percent, ItemId, Bound) {
    let high = own_range(line).1;
    (
        high,
        line.id,
        if high == Percent::HUNDRED {
            Bound::Hundred
        } else {
            Bound::OwnHighest
        },
    )
}

fn travel(
    variant: &Variant,
    moved: &Line,
    give: GiveWay,
    fixed: &FixedLines,
) -> Result<MoveRange, EditError> {
    let mut travel = MoveRange {
        low: low_bound(moved),
        high: high_bound(moved),
    };
    let mut narrow = |low: (Percent, ItemId, Bound), high: (Percent, ItemId, Bound)| {
        if low.0 > travel.low.0 {
            travel.low = low;
        }
        if high.0 < travel.high.0 {
            travel.high = high;
        }
    };
    match give {
        GiveWay::Filler => {
            let Some(filler) = variant.filler.and_then(|f| variant.line(f)) else {
                return Ok(travel);
            };
            if filler.id == moved.id {
                return Err(EditError::FillerFollows);
            }
            let rest = variant.total() - moved.percent - filler.percent;
            let (least, most) = (low_bound(filler), high_bound(filler));
            let to = |p: Percent| Percent::HUNDRED - rest - p;
            narrow(
                (to(most.0), most.1, most.2),
                (to(least.0), least.1, least.2),
            );
        }
        GiveWay::Phase | GiveWay::All => {
            let others = giving(variant, moved, give, fixed);
            let (mut down, mut up) = (Percent::ZERO, Percent::ZERO);
            for other in &others {
                let (low, high) = own_range(other);
                down += (other.percent - low).max(Percent::ZERO);
                up += (high - other.percent).max(Percent::ZERO);
            }
            // The line named is the one with the highest percentage among those that give way.
            let named = others.iter().max_by_key(|l| l.percent);
            let at = |bound: fn(&Line) -> (Percent, ItemId, Bound)| {
                named.map_or((moved.id, Bound::NothingGivesWay), |l| {
                    (bound(l).1, bound(l).2)
                })
            };
            let (low, high) = (at(high_bound), at(low_bound));
            narrow(
                (moved.percent - up, low.0, low.1),
                (moved.percent + down, high.0, high.1),
            );
        }
    }
    Ok(travel)
}

/// The lines that give way in proportion: not fixed, not the moved one, above zero.
fn giving<'a>(
    variant: &'a Variant,
    moved: &Line,
    give: GiveWay,
    fixed: &FixedLines,
) -> Vec<&'a Line> {
    let phase = variant.phase_of(moved.id).map(|p| p.id);
    variant
        .lines()
        .filter(|(p, l)| {
            l.id != moved.id
                && !fixed.contains(l.id)
                && l.percent > Percent::ZERO
                && (give == GiveWay::All || Some(p.id) == phase)
        })
        .map(|(_, l)| l)
        .collect()
}

pub(super) fn set_percent(
    variant: &mut Variant,
    id: ItemId,
    wanted: Percent,
    give: GiveWay,
    fixed: &FixedLines,
    step: Percent,
) -> Result<Option<Stop>, EditError> {
    let moved = variant.line(id).ok_or(EditError::NoSuchItem)?.clone();
    let travel = travel(variant, &moved, give, fixed)?;
    // Where the bounds leave no room at all, the line stays where it is.
    let reached = if travel.low.0 > travel.high.0 {
        moved.percent
    } else {
        wanted.clamp_to(travel.low.0, travel.high.0)
    };
    let stop = (reached != wanted).then(|| {
        let (_, line, bound) = if wanted > reached {
            travel.high
        } else {
            travel.low
        };
        Stop {
            line,
            bound,
            reached,
        }
    });
    if give != GiveWay::Filler {
        let changes = spread(
            &giving(variant, &moved, give, fixed),
            moved.percent - reached,
            step,
        );
        for (other, change) in changes {
            variant
                .line_mut(other)
                .ok_or(EditError::NoSuchItem)?
                .percent += change;
        }
    }
    variant.line_mut(id).ok_or(EditError::NoSuchItem)?.percent = reached;
    settle_filler(variant)?;
    Ok(stop)
}

/// The step on which a line's share of a change lands, where the maker chose `step`.
fn step_of(percent: Percent, step: Percent) -> Percent {
    let step = step.max(Percent::STEP);
    if percent.units() >= FEW_STEPS * step.units() {
        return step;
    }
    let mut typed = Percent::STEP.units();
    while typed < step.units() && percent.units() % (typed * 10) == 0 {
        typed *= 10;
    }
    step.min(Percent::from_units(typed))
}

/// Spreads a change over lines in proportion to their percentages, exactly, within
/// their bounds. What the bounds leave over is not spread.
fn spread(lines: &[&Line], change: Percent, step: Percent) -> Vec<(ItemId, Percent)> {
    let mut open: Vec<(ItemId, i128, i128)> = lines
        .iter()
        .map(|l| {
            let (low, high) = own_range(l);
            let cap = if change > Percent::ZERO {
                high - l.percent
            } else {
                l.percent - low
            };
            (
                l.id,
                i128::from(l.percent.units()),
                i128::from(cap.units().max(0)),
            )
        })
        .collect();
    let sign = if change < Percent::ZERO { -1 } else { 1 };
    let mut rest = i128::from(change.units().abs());
    let mut done = Vec::with_capacity(open.len());
    loop {
        let weight: i128 = open.iter().map(|o| o.1).sum();
        if weight == 0 || rest == 0 {
            break;
        }
        let (full, free): (Vec<_>, Vec<_>) = open
            .iter()
            .copied()
            .partition(|o| o.1 * rest > o.2 * weight);
        if full.is_empty() {
            done.extend(deal(&free, rest, weight, step));
            break;
        }
        for o in &full {
            done.push((o.0, o.2));
            rest -= o.2;
        }
        open = free;
    }
    done.into_iter()
        .map(|(id, units)| (id, Percent::from_units(sign * units as i64)))
        .collect()
}

/// Deals `rest` out by weight (id, weight, most it may take): every line its whole steps,
/// the steps left over to the largest remainders; what is finer than a step goes to the
/// line of the most weight. The sum is exact; nothing passes its most.
fn deal(
    open: &[(ItemId, i128, i128)],
    rest: i128,
    weight: i128,
    chosen: Percent,
) -> Vec<(ItemId, i128)> {
    struct Share {
        id: ItemId,
        units: i128,
        over: i128,
        weight: i128,
        most: i128,
        step: i128,
    }
    let mut shares: Vec<Share> = open
        .iter()
        .map(|&(id, own, most)| {
            let step = i128::from(step_of(Percent::from_units(own as i64), chosen).units());
            let exact = own * rest / weight;
            let units = exact - exact % step;
            Share {
                id,
                units,
                over: own * rest - units * weight,
                weight: own,
                most,
                step,
            }
        })
        .collect();
    let mut left = rest - shares.iter().map(|s| s.units).sum::<i128>();
    shares.sort_by_key(|s| std::cmp::Reverse(s.over));
    for share in &mut shares {
        if share.step <= left && share.units + share.step <= share.most {
            share.units += share.step;
            left -= share.step;
        }
    }
    shares.sort_by_key(|s| std::cmp::Reverse(s.weight));
    for share in &mut shares {
        let more = left.min(share.most - share.units).max(0);
        share.units += more;
        left -= more;
    }
    shares.into_iter().map(|s| (s.id, s.units)).collect()
}

/// Gives the filler what is left to 100.
pub(super) fn settle_filler(variant: &mut Variant) -> Result<(), EditError> {
    let Some(filler) = variant.filler else {
        return Ok(());
    };
    let line = variant.line(filler).ok_or(EditError::NoSuchItem)?;
    let needed = Percent::HUNDRED - (variant.total() - line.percent);
    if needed == line.percent {
        return Ok(());
    }
    let (low, high) = own_range(line);
    if needed < low || needed > high {
        return Err(EditError::FillerCannot { needed, low, high });
    }
    variant
        .line_mut(filler)
        .ok_or(EditError::NoSuchItem)?
        .percent = needed;
    Ok(())
}

/// How much of a wanted percentage a new line may take from the filler.
pub(super) fn room_for_new(variant: &Variant, wanted: Percent) -> (Percent, Option<Stop>) {
    let Some(filler) = variant.filler.and_then(|f| variant.line(f)) else {
        return (wanted, None);
    };
    let (low, line, bound) = low_bound(filler);
    let room = (Percent::HUNDRED - (variant.total() - filler.percent) - low).max(Percent::ZERO);
    if wanted <= room {
        (wanted, None)
    } else {
        (
            room,
            Some(Stop {
                line,
                bound,
                reached: room,
            }),
        )
    }
}

pub(super) fn scale_phase(
    variant: &mut Variant,
    phase: ItemId,
    factor: f64,
    fixed: &FixedLines,
    step: Percent,
) -> Result<Option<Stop>, EditError> {
    if !(factor.is_finite() && factor > 0.0) {
        return Err(EditError::NotPositive);
    }
    let found = variant.phase(phase).ok_or(EditError::NoSuchItem)?.clone();
    let free: Vec<&Line> = found
        .lines
        .iter()
        .filter(|l| !fixed.contains(l.id) && !variant.is_filler(l.id) && l.percent > Percent::ZERO)
        .collect();
    let sum: Percent = free.iter().map(|l| l.percent).sum();
    let mut reach = factor;
    let mut stop = None;
    let mut hold_at = |limit: f64, (_, line, bound): (Percent, ItemId, Bound)| {
        let past = if factor > 1.0 {
            limit < reach
        } else {
            limit > reach
        };
        if past {
            reach = if factor > 1.0 {
                limit.max(1.0)
            } else {
                limit.min(1.0)
            };
            stop = Some((line, bound));
        }
    };
    for line in &free {
        let bound = if factor > 1.0 {
            high_bound(line)
        } else {
            low_bound(line)
        };
        hold_at(bound.0.as_percent() / line.percent.as_percent(), bound);
    }
    if let Some(filler) = variant.filler.and_then(|f| variant.line(f))
        && sum > Percent::ZERO
    {
        let bound = if factor > 1.0 {
            low_bound(filler)
        } else {
            high_bound(filler)
        };
        let room = (filler.percent - bound.0).as_percent();
        hold_at(1.0 + room / sum.as_percent(), bound);
    }
    // Rounded to steps towards the present value, so that no bound is passed.
    let scaled: Vec<(ItemId, Percent)> = free
        .iter()
        .map(|l| {
            let exact = l.percent.units() as f64 * reach;
            let step = step_of(l.percent, step).units() as f64;
            // A line typed finer than the step moves by whole steps from where it is.
            let moved = (exact - l.percent.units() as f64) / step;
            let near = (moved - moved.round()).abs() < 1e-6;
            let steps = if near { moved.round() } else { moved.trunc() };
            let units = l.percent.units() as f64 + steps * step;
            let (low, high) = own_range(l);
            let lowest = low.min(l.percent);
            let highest = high.max(l.percent);
            (
                l.id,
                Percent::from_units(units as i64).clamp_to(lowest, highest),
            )
        })
        .collect();
    for (id, percent) in scaled {
        variant.line_mut(id).ok_or(EditError::NoSuchItem)?.percent = percent;
    }
    settle_filler(variant)?;
    let reached = variant.phase(phase).map_or(Percent::ZERO, |p| p.total());
    Ok(stop.map(|(line, bound)| Stop {
        line,
        bound,
        reached,
    }))
}

pub(super) fn bring_to_100(
    variant: &mut Variant,
    fixed: &FixedLines,
    step: Percent,
) -> Result<(), EditError> {
    if variant.filler.is_some() {
        return settle_filler(variant);
    }
    let missing = Percent::HUNDRED - variant.total();
    let free: Vec<Line> = variant
        .lines()
        .map(|(_, l)| l)
        .filter(|l| !fixed.contains(l.id) && l.percent > Percent::ZERO)
        .cloned()
        .collect();
    let changes = spread(&free.iter().collect::<Vec<_>>(), missing, step);
    if changes.iter().map(|c| c.1).sum::<Percent>() != missing {
        return Err(EditError::CannotReach100);
    }
    for (id, change) in changes {
        variant.line_mut(id).ok_or(EditError::NoSuchItem)?.percent += change;
    }
    Ok(())
}
