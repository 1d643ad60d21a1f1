//! What a table says twice is held against each other: percentages and amounts, sums and the
//! rows above them, the size of the batch and what goes into it. Where the two differ, or a
//! row with an amount has made no line, the maker is told, so that no wrong reading passes
//! in silence.

use rust_decimal::Decimal;

use super::decider::Decider;
use super::reader::{Progress, Read, Reader};
use super::{LineQuantity, MaterialChoice, ProposedLine, RecipeProposal, Reconcile};
use crate::amount::number::Unit;
use crate::file::table::columns::{ColumnKind, heading};
use crate::file::table::weighing::sums;
use crate::file::table::weighing::whole::{self, Reading as Whole, Seen};
use crate::naming::Resolver;
use crate::naming::fold;

/// How what is told begins where percentages do not make a whole.
pub(in crate::file::table) const OFF_TOTAL: &str = "the lines add up to";

/// Why the lines of a list are left out that is printed a second time.
pub(super) const AGAIN: &str = "the same list again";
/// Why a line is left out that stands in the list already, for a batch of another size.
pub(super) const OF_ANOTHER_SIZE: &str = "the same for a batch of another size";

/// How far a stated sum may lie from what adds up to it: half of its last digit, or of the
/// second decimal.
fn slack(stated: Decimal) -> Decimal {
    let digits = stated.normalize().scale().min(2);
    Decimal::new(5, digits + 1).max(Decimal::new(5, 3))
}

/// Whether the size of a batch that is stated is not what its lines come to.
pub(super) fn are_unlike(stated: Decimal, sum: Decimal) -> bool {
    (stated - sum).abs() > (stated * Decimal::new(5, 3)).max(slack(stated))
}

pub(super) fn near(stated: Decimal, sum: Decimal) -> bool {
    (stated - sum).abs() <= slack(stated)
}

/// What some lines add up to if all of them are in the same unit as a sum, else nothing.
fn sum_of<'l>(
    lines: impl Iterator<Item = &'l ProposedLine>,
    like: &LineQuantity,
) -> Option<Decimal> {
    let mut total = Decimal::ZERO;
    for line in lines {
        total += line.quantity.value_like(like)?;
    }
    Some(total)
}

/// Whether an amount is the sum of all lines above it, and of those since the last sum.
pub(super) fn sums_above(
    stated: &LineQuantity,
    progress: &Progress,
    proposal: &RecipeProposal,
) -> (bool, bool) {
    let since = progress.parts.last().map_or(0, |(row, _)| *row);
    let lines = || proposal.lines.iter();
    let filled = lines().any(|l| l.quantity == LineQuantity::Rest);
    let is = |sum: Option<Decimal>| {
        sum.zip(stated.value_like(stated))
            .is_some_and(|(sum, stated)| !sum.is_zero() && near(stated, sum))
    };
    let of_all = is(sum_of(lines(), stated))
        || filled && *stated == LineQuantity::Percent(Decimal::ONE_HUNDRED);
    (
        of_all,
        is(sum_of(lines().filter(|l| l.row > since), stated)),
    )
}

/// Whether an amount is the sum of all lines above it, or of those since the last sum.
pub(super) fn is_sum_of_those_above(
    stated: &LineQuantity,
    progress: &Progress,
    proposal: &RecipeProposal,
) -> bool {
    let (of_all, of_last) = sums_above(stated, progress, proposal);
    of_all || of_last
}

impl LineQuantity {
    /// The number of an amount in the same unit as another.
    pub(super) fn value_like(&self, other: &Self) -> Option<Decimal> {
        match (self, other) {
            (Self::Percent(v), Self::Percent(_))
            | (Self::Grams(v), Self::Grams(_))
            | (Self::Millilitres(v), Self::Millilitres(_))
            | (Self::Parts(v), Self::Parts(_)) => Some(*v),
            _ => None,
        }
    }
}

impl Reader<'_> {
    /// Sums of phases are held against the rows above them, or below where the sum stands at
    /// the head of its phase.
    pub(super) fn check_parts(parts: &[(usize, LineQuantity)], proposal: &mut RecipeProposal) {
        let mut told = Vec::new();
        for (n, (row, sum)) in parts.iter().enumerate() {
            let Some(stated) = sum.value_like(sum) else {
                continue;
            };
            let before = n.checked_sub(1).and_then(|m| parts.get(m));
            let from = before.map_or(0, |(row, _)| *row);
            let to = parts.get(n + 1).map_or(usize::MAX, |(row, _)| *row);
            let of = |rows: std::ops::Range<usize>| {
                let lines = proposal.lines.iter();
                sum_of(lines.filter(|l| rows.contains(&l.row)), sum)
            };
            // What cannot be added up, as with a q.s. among it, cannot be checked.
            let sums = [of(from..*row), of(0..*row), of(*row..to)];
            if sums.iter().any(Option::is_none)
                || sums.iter().flatten().any(|sum| near(stated, *sum))
            {
                continue;
            }
            if let Some(Some(above)) = sums.first() {
                told.push(format!(
                    "row {row} states a sum of {sum}, but the rows above it add up to {}; a line may be missing, or be read wrongly",
                    above.normalize()
                ));
            }
        }
        proposal.assumed.extend(told);
    }

    /// The size of the batch that the table states, against what goes into it.
    pub(super) fn check_batch(&self, proposal: &mut RecipeProposal, by_columns: Option<Decimal>) {
        let Some(stated) = self.stated_batch(proposal).filter(|b| !b.is_zero()) else {
            return;
        };
        let unlike = |sum: Decimal| are_unlike(stated, sum);
        if let Some(other) = by_columns.filter(|other| unlike(*other)) {
            proposal.assumed.push(format!(
                "the table states a batch of {} g, but its amounts beside the percentages are those of {} g",
                stated.normalize(),
                other.normalize()
            ));
            return;
        }
        let grams = LineQuantity::Grams(Decimal::ZERO);
        if proposal.percent_total().is_some() || proposal.stated_total.is_some() {
            return;
        }
        let Some(sum) = sum_of(proposal.lines.iter(), &grams).filter(|sum| !sum.is_zero()) else {
            return;
        };
        // Several jars of the size that is stated.
        let jars = sum.checked_div(stated).is_some_and(|jars| {
            jars >= Decimal::TWO && (jars - jars.round()).abs() <= jars * Decimal::new(5, 3)
        });
        if unlike(sum) && !jars {
            proposal.assumed.push(format!(
                "the table states a batch of {} g, but its lines add up to {} g; a line may be missing, or be read wrongly",
                stated.normalize(),
                sum.normalize()
            ));
        }
    }

    /// The size that the filler is written to fill up to, against the size of the batch.
    pub(super) fn check_filled(&self, proposal: &mut RecipeProposal) {
        let grams = |line: &ProposedLine| matches!(line.quantity, LineQuantity::Grams(_));
        if let Some(batch) = proposal.batch
            && let Some(filled) = self.filled_to(proposal)
            && proposal.lines.iter().any(grams)
            && !near(batch, filled)
        {
            proposal.assumed.push(format!(
                "the filler is written to fill up to {} g, but a batch of {} g is stated; the latter was taken, and it may belong to another recipe",
                filled.normalize(),
                batch.normalize()
            ));
        }
    }

    /// Where a table has percentages and amounts, the percentages are taken; amounts
    /// that do not fit them are named.
    pub(super) fn compare_columns(&self, proposal: &mut RecipeProposal) {
        let (Some(_), Some(column)) = (self.percent, self.amount) else {
            return;
        };
        let both: Vec<(usize, Decimal, Decimal)> = proposal
            .lines
            .iter()
            .filter(|line| !self.is_given(line.row - 1))
            .filter_map(|line| {
                let LineQuantity::Percent(percent) = line.quantity else {
                    return None;
                };
                let row = line.row - 1;
                let unit = Unit::named(&self.words(row, ColumnKind::Unit))
                    .or(self.layout.unit(ColumnKind::Amount))
                    .or(Some(Unit::Gram));
                match self.read_cell(self.table.cell(row, column), unit, "") {
                    // What is finer or larger than any percentage compares with nothing.
                    Read::Quantity(LineQuantity::Grams(grams), ..)
                        if (Decimal::new(1, 6)..=Decimal::from(1_000_000)).contains(&percent) =>
                    {
                        Some((line.row, percent, grams))
                    }
                    _ => None,
                }
            })
            .collect();
        // The middle of the ratios by weight, which a slip in a row does not move.
        let mut sorted = both.clone();
        sorted.sort_by_key(|(_, percent, grams)| *grams / *percent);
        let whole: Decimal = sorted.iter().map(|(_, percent, _)| percent).sum();
        let mut passed = Decimal::ZERO;
        let Some((_, middle, each)) = sorted.into_iter().find_map(|(row, percent, grams)| {
            passed += percent;
            (passed * Decimal::TWO >= whole).then_some((row, percent, grams / percent))
        }) else {
            return;
        };
        // Both columns are rounded to as many digits as the longest of their numbers has.
        let half_step = |digits: Option<u32>| Decimal::new(5, digits.unwrap_or(0).min(20) + 1);
        let digits = |value: &Decimal| value.normalize().scale();
        let slack = half_step(both.iter().map(|(_, _, g)| digits(g)).max())
            + half_step(both.iter().map(|(_, p, _)| digits(p)).max()) * each;
        // Amounts beside percentages tell the size of the batch.
        let units_beside = self
            .rows()
            .any(|row| Unit::named(&self.words(row, ColumnKind::Unit)).is_some());
        let with_unit = self.layout.unit(ColumnKind::Amount).is_some() || units_beside;
        let untitled = self.layout.headings.is_none();
        if (with_unit || untitled) && both.len() > 1 {
            let whole = each.checked_mul(Decimal::ONE_HUNDRED);
            let whole = whole.and_then(|w| w.round_sf(4)).map(|w| w.normalize());
            let sum = both.iter().map(|(_, _, grams)| *grams).sum();
            proposal.batch = whole.map(|whole| rounder(whole, sum));
        }
        if let Some(batch) = proposal.batch.filter(|_| untitled && !with_unit) {
            proposal.assumed.push(format!(
                "the numbers beside the percentages were taken as grams of a batch of {} g",
                batch.normalize()
            ));
        }
        for (row, percent, grams) in both {
            // The middle itself is rounded as well.
            let more = slack
                .checked_mul(percent)
                .and_then(|s| s.checked_div(middle));
            let (Some(fits), Some(slack)) = (
                percent.checked_mul(each),
                more.and_then(|more| slack.checked_add(more)),
            ) else {
                continue;
            };
            if (grams - fits).abs() > slack
                && let Some(line) = proposal.lines.iter_mut().find(|l| l.row == row)
            {
                line.doubt_amount(&format!(
                    "{} g does not fit {} %, which would be {} g as in the other rows; the percentage was taken",
                    grams.normalize(),
                    percent.normalize(),
                    fits.round_dp(3).normalize()
                ));
            }
        }
    }

    /// The same amounts in another unit, as ounces beside grams, are held against those that were
    /// taken.
    pub(super) fn compare_amounts(&self, proposal: &mut RecipeProposal) {
        let (None, Some(taken)) = (self.percent, self.amount) else {
            return;
        };
        let others = (0..self.table.width()).filter(|&column| column != taken);
        for column in others {
            let used = self.layout.columns.get(column).copied().flatten();
            let said = self.layout.heading(self.table, column);
            let unit = heading(&said).and_then(|h| h.unit);
            let Some(unit) = unit.filter(|u| used.is_none() && u.grams().is_some()) else {
                continue;
            };
            let both: Vec<(usize, Decimal, Decimal)> = proposal
                .lines
                .iter()
                .enumerate()
                .filter(|(_, line)| !self.is_given(line.row - 1))
                .filter_map(|(n, line)| {
                    let cell = self.table.cell(line.row.checked_sub(1)?, column);
                    match (&line.quantity, self.read_cell(cell, Some(unit), "")) {
                        (
                            LineQuantity::Grams(one),
                            Read::Quantity(LineQuantity::Grams(other), ..),
                        ) => Some((n, *one, other)),
                        _ => None,
                    }
                })
                .collect();
            // Both are rounded.
            let alike = |(_, one, other): &&(usize, Decimal, Decimal)| {
                (one - other).abs() <= (*one).max(*other) * Decimal::new(2, 2)
            };
            if both.iter().filter(alike).count() * 2 <= both.len() {
                continue;
            }
            for (n, one, other) in both.iter().filter(|pair| !alike(pair)) {
                if let Some(line) = proposal.lines.get_mut(*n) {
                    line.doubt_amount(&format!(
                        "“{said}” beside it says {} g and not {} g; the latter was taken",
                        other.round_dp(3).normalize(),
                        one.round_dp(3).normalize()
                    ));
                }
            }
        }
    }
}

impl RecipeProposal {
    /// A plain "q.s." of something whose name says water is what fills up only if it is
    /// water: rose water may be, and is asked about.
    pub(super) fn check_fillers(&mut self, matcher: &Resolver<'_>) {
        /// As much of it must be water, as share of 1.
        const MOSTLY: f64 = 0.95;
        let is_water = |choice: &MaterialChoice| {
            let material = match choice {
                MaterialChoice::Known(id, _) => matcher.shelf().get(id),
                MaterialChoice::Made(material) => Some(material),
                MaterialChoice::New | MaterialChoice::NewPure(_) => None,
            };
            material.is_some_and(|m| {
                let water = m
                    .constituents
                    .iter()
                    .filter(|c| fold::inci(c.inci.spelling()) == "aqua");
                water.map(|c| c.share.typical.value()).sum::<f64>() >= MOSTLY
            })
        };
        for line in &mut self.lines {
            let Some(place) = line.doubts.iter().position(|d| d == PLAIN_FILLER) else {
                continue;
            };
            if line.quantity != LineQuantity::Rest || is_water(&line.choice) {
                line.doubts.remove(place);
                line.amount_doubts = line.amount_doubts.saturating_sub(1);
            }
        }
    }

    /// A recipe of masses whose whole nothing tells besides its lines.
    pub(super) fn check_whole_is_told(&mut self) {
        let mut sum = Some(Decimal::ZERO);
        for line in self
            .lines
            .iter()
            .filter(|l| l.quantity != LineQuantity::AsNeeded)
        {
            let grams = LineQuantity::Grams(Decimal::ZERO);
            sum = sum
                .zip(line.quantity.value_like(&grams))
                .map(|(a, b)| a + b);
        }
        let masses = |l: &ProposedLine| matches!(l.quantity, LineQuantity::Grams(_));
        let of_itself = self.percent_total().is_some() || !self.lines.iter().any(masses);
        let seen = Seen {
            of_itself,
            totalled: self.stated_total.is_some(),
            batch: self.batch.is_some(),
            round: sum.is_some_and(is_round),
        };
        if whole::of(seen) == Whole::Established {
            return;
        }
        if self.has_rest() {
            self.assumed.push(
                "the amounts are in grams with a q.s., and no size of the batch is stated; the next round size was taken".to_owned(),
            );
        } else {
            self.assumed.push(format!(
                "nothing states how much the whole is; the lines add up to {} g, which was taken for it",
                sum.map_or_else(|| "some".to_owned(), |s| s.normalize().to_string())
            ));
        }
    }

    /// A phase that comes again below another one may be the first of another recipe.
    pub(super) fn check_phases_again(&mut self) {
        let mut seen: Vec<usize> = Vec::new();
        let mut told = Vec::new();
        for line in &self.lines {
            if seen.last() == Some(&line.phase) {
                continue;
            }
            if seen.contains(&line.phase)
                && let Some(phase) = self.phases.get(line.phase)
            {
                let name = if phase.letter.is_empty() {
                    &phase.purpose
                } else {
                    &phase.letter
                };
                told.push(format!(
                    "row {} “{}” is in phase {name} again, below other phases; it was put into that phase, though another recipe may begin there",
                    line.row, line.wanted.name
                ));
            }
            seen.push(line.phase);
        }
        self.assumed.extend(told);
    }

    /// The same materials again, one list below the other: at another size of the batch it is the
    /// same recipe, of which the first list is taken; otherwise two recipes or a slip.
    pub(super) fn check_repeats(&mut self) {
        let Some(length) = self.length_of_repeated() else {
            return;
        };
        let (first, others) = self.lines.split_at(length);
        let like = |lines: &[ProposedLine]| {
            let like = lines.first().map(|line| &line.quantity)?;
            sum_of(lines.iter(), like)
        };
        // A total of one of them proves that the others are only printed again.
        let of_one = |stated| like(first).is_some_and(|sum| near(stated, sum));
        let printed_again = self.stated_total.is_some_and(of_one)
            && others.chunks(length).all(|again| is_same(first, again));
        if !printed_again && !others.chunks(length).all(|again| is_multiple(first, again)) {
            self.assumed.push(format!(
                "the same {length} materials come again; all lists were taken as one recipe"
            ));
            return;
        }
        let count = others.len() / length;
        // A total of one of the others is no total of the first.
        if let Some(stated) = self.stated_total {
            let mut sums = others.chunks(length).filter_map(like);
            if sums.any(|sum| near(stated, sum)) {
                self.stated_total = like(first);
            }
        }
        let last = first.iter().map(|line| line.row).max().unwrap_or(0);
        for line in self.lines.split_off(length) {
            if line.row > last && self.left_out.iter().all(|left| left.row != line.row) {
                let words = format!("{} {}", line.wanted.name, line.quantity);
                let reason = if printed_again {
                    AGAIN
                } else {
                    OF_ANOTHER_SIZE
                };
                self.left_out(line.row - 1, &words, reason);
            }
        }
        self.left_out.sort_by_key(|left| left.row);
        // What was assumed of those rows is of no matter.
        let of_row = |words: &String| {
            let number = words.strip_prefix("row ")?;
            number.split(' ').next()?.trim_end_matches(':').parse().ok()
        };
        self.assumed
            .retain(|words| of_row(words).is_none_or(|row: usize| row <= last));
        if printed_again {
            self.assumed.push(
                "the list comes again with the same amounts, and a total is that of one; the first was taken"
                    .to_owned(),
            );
            return;
        }
        self.notes.push(match count {
            1 => "the list comes again for a batch of another size; the first was taken".to_owned(),
            many => format!(
                "the list comes again for batches of {many} other sizes; the first was taken"
            ),
        });
    }

    /// How many lines come again in the same order until the end.
    fn length_of_repeated(&self) -> Option<usize> {
        /// Fewer lines come again by chance.
        const ENOUGH: usize = 3;
        let names: Vec<String> = self
            .lines
            .iter()
            .map(|line| fold::plain(&line.wanted.name))
            .collect();
        (ENOUGH..=names.len() / 2).find(|&length| {
            names.len().is_multiple_of(length)
                && names.iter().skip(length).zip(&names).all(|(a, b)| a == b)
        })
    }

    /// What the lines add up to, against the whole and against the total that is stated.
    pub(super) fn check_totals(&mut self) {
        let in_percent = self.percent_total();
        let weighed = self.lines.iter().filter_map(|l| match l.quantity {
            LineQuantity::Grams(v) | LineQuantity::Parts(v) => Some(v),
            _ => None,
        });
        let total = in_percent.unwrap_or_else(|| weighed.sum());
        // What is in millilitres does not add up with grams.
        let volumes = |l: &ProposedLine| matches!(l.quantity, LineQuantity::Millilitres(_));
        if self.lines.iter().any(volumes) {
            return;
        }
        if self.has_rest() {
            let hundred =
                |stated: Decimal| near(stated, Decimal::ONE_HUNDRED) || near(stated, Decimal::ONE);
            if let Some(stated) = self
                .stated_total
                .filter(|t| in_percent.is_some() && !hundred(*t))
            {
                self.assumed.push(format!(
                    "the table states a total of {}, but its q.s. fills up to 100 %",
                    stated.normalize()
                ));
            }
            return;
        }
        let unit = match (in_percent, self.lines.first().map(|l| &l.quantity)) {
            (Some(_), _) => " %",
            (None, Some(LineQuantity::Grams(_))) => " g",
            _ => "",
        };
        if in_percent.is_some() && total != Decimal::ONE_HUNDRED {
            let said = match self.reconcile {
                Reconcile::AsWritten => {
                    "they were kept as written; scale them, or let water take up the rest"
                }
                Reconcile::Scale => "they are scaled",
                Reconcile::Water => "water takes up the rest",
            };
            let words = format!("{OFF_TOTAL} {} %, not 100; {said}", total.normalize());
            // As much is left by the rounding of what is written.
            let rounding = (total - Decimal::ONE_HUNDRED).abs() <= Decimal::new(2, 2);
            if self.reconcile == Reconcile::AsWritten && !rounding {
                self.assumed.push(words);
            } else {
                self.notes.push(words);
            }
        }
        if let Some(stated) = self.stated_total
            && (stated - total).abs() > Decimal::new(5, 3)
            && (in_percent.is_none()
                || (stated * Decimal::ONE_HUNDRED - total).abs() > Decimal::new(5, 3))
        {
            self.assumed.push(format!(
                "the table states a total of {}{unit}, but its lines add up to {}{unit}; a line may be missing, or be a sum",
                stated.normalize(),
                total.normalize()
            ));
        }
    }
}

/// Whether the amounts of a list are those of another one.
fn is_same(first: &[ProposedLine], again: &[ProposedLine]) -> bool {
    let mut pairs = first.iter().zip(again);
    pairs.all(|(one, other)| one.quantity == other.quantity)
}

/// Whether the amounts of a list are those of another one times a factor that is not 1, but for
/// what rounding leaves.
fn is_multiple(first: &[ProposedLine], again: &[ProposedLine]) -> bool {
    let half_step = |value: Decimal| Decimal::new(5, value.normalize().scale().min(20) + 1);
    let mut pairs = Vec::new();
    for (one, other) in first.iter().zip(again) {
        match (&one.quantity, &other.quantity) {
            (LineQuantity::Rest, LineQuantity::Rest)
            | (LineQuantity::AsNeeded, LineQuantity::AsNeeded) => {}
            (one, other) => match (one.value_like(one), other.value_like(one)) {
                (Some(one), Some(other)) => pairs.push((one, other)),
                _ => return false,
            },
        }
    }
    let sum = |of: fn(&(Decimal, Decimal)) -> Decimal| pairs.iter().map(of).sum::<Decimal>();
    let Some(factor) = sum(|p| p.1).checked_div(sum(|p| p.0)) else {
        return false;
    };
    let fits = |(one, other): &(Decimal, Decimal)| {
        let fits = one.checked_mul(factor);
        let slack = half_step(*one)
            .checked_mul(factor)
            .and_then(|slack| slack.checked_add(half_step(*other)));
        fits.zip(slack)
            .is_some_and(|(fits, slack)| (other - fits).abs() <= slack)
    };
    (factor - Decimal::ONE).abs() > Decimal::new(1, 2) && pairs.iter().all(fits)
}

/// Whether a sum is a round number, as the size of a batch is: of two digits at most besides
/// zeros.
fn is_round(sum: Decimal) -> bool {
    let whole = sum.round();
    whole >= Decimal::TEN
        && (sum - whole).abs() <= Decimal::new(5, 2).min(sum / Decimal::from(1000))
        && whole.round_sf(2).is_some_and(|two| two == whole)
}

/// What is asked of a plain q.s. of something that may be water.
pub(super) const PLAIN_FILLER: &str =
    "its q.s. was taken as what fills up to the whole, though it is not plain water";

/// Rows with the sum of those above them and no word that says so: "Oils 99", "Everything
/// 100". They are left out, and that is asked.
pub(super) fn leave_out_sums(proposal: &mut RecipeProposal, decider: &mut Decider<'_, '_>) {
    let value = |line: &ProposedLine| match line.quantity {
        LineQuantity::Percent(v) | LineQuantity::Grams(v) | LineQuantity::Parts(v) => Some(v),
        _ => None,
    };
    let near = |a: Decimal, b: Decimal| (a - b).abs() <= Decimal::new(5, 3);
    // What adds up and is no material, and the sum of all else.
    let (mut whole, mut group) = (Decimal::ZERO, Decimal::ZERO);
    let (mut count, mut in_group) = (0, 0);
    let mut found: Vec<(usize, sums::Seen)> = Vec::new();
    for (n, line) in proposal.lines.iter().enumerate() {
        let Some(value) = value(line) else {
            continue;
        };
        let adds_up = !value.is_zero()
            && (count > 1 && near(value, whole) || in_group > 1 && near(value, group));
        let seen = sums::Seen {
            adds_up,
            identified: !line.wanted.inci.is_empty() || line.wanted.cas.is_some(),
            known: adds_up && decider.meant(&line.wanted).taken,
            whole_without: true,
        };
        if sums::of(seen) == sums::Reading::Sum {
            found.push((n, seen));
            (group, in_group) = (Decimal::ZERO, 0);
            continue;
        }
        whole += value;
        group += value;
        count += 1;
        in_group += 1;
    }
    let Some((last, _)) = found.last() else {
        return;
    };
    let whole_without = if proposal.percent_total().is_some() {
        near(whole, Decimal::ONE_HUNDRED)
    } else {
        let ends = proposal.lines.len() == last + 1;
        let stated = proposal.lines.get(*last).and_then(value);
        ends && stated.is_some_and(|stated| near(stated, whole))
            || proposal
                .stated_total
                .is_some_and(|stated| near(stated, whole))
    };
    let is_sum = |seen: sums::Seen| {
        let seen = sums::Seen {
            whole_without,
            ..seen
        };
        sums::of(seen) == sums::Reading::Sum
    };
    for (n, seen) in found.into_iter().rev() {
        if !is_sum(seen) {
            continue;
        }
        let line = proposal.lines.remove(n);
        let words = format!("{} {}", line.wanted.name, line.quantity);
        proposal.left_out(line.row - 1, &words, "the sum of the rows above");
        proposal.assumed.push(format!(
            "row {} “{words}” is the sum of the rows above and was left out",
            line.row
        ));
    }
    proposal.left_out.sort_by_key(|left| left.row);
}

/// Of the batch by the percentages and the sum of its grams, which are the same but for rounding,
/// the one of fewer figures: thirds of 900 g make 900.1 g by 33.33 %.
fn rounder(whole: Decimal, sum: Decimal) -> Decimal {
    let figures = |value: Decimal| {
        let mantissa = value.normalize().mantissa().to_string();
        mantissa.trim_end_matches('0').len()
    };
    let near = (whole - sum).abs() <= whole * Decimal::new(5, 4);
    if near && figures(sum) < figures(whole) {
        sum.normalize()
    } else {
        whole
    }
}

#[cfg(test)]
#[path = "checks_tests.rs"]
mod tests;
