//! Recipes in running text: lines with a material and its amount in one, sentences that tell
//! what is done, and the title with the size of the whole.

use std::ops::Range;

use rust_decimal::Decimal;

use super::groups::names_a_material;
use super::reader::{Read, Reader, Work};
use super::{LineQuantity, ProposedLine, RecipeProposal};
use crate::amount::number::{self, Unit};
use crate::file::table::amounts::{AmountReading, WrittenAmount, masses_in};
use crate::file::table::columns::{ColumnKind, is_role, spelt_heading};
use crate::file::table::items::{Item, by_phase, items};
use crate::file::table::names::clean_name;
use crate::file::table::phase_words::{phase_heading, phase_of_cell};
use crate::file::table::sums::sum_of;
use crate::file::table::words::{is_fact_key, is_property, is_sentence, without_when_added, words};
use crate::file::table::{Table, prose};
use crate::naming::{Resolver, Wanted, words_of};

impl Reader<'_> {
    /// A heading of a text, "## Oils": the first names the product, others begin phases.
    pub(super) fn read_title(
        &self,
        row: usize,
        text: &str,
        inside: bool,
        work: &mut Work<'_, '_>,
    ) -> bool {
        let Some(title) = text
            .strip_prefix('#')
            .map(|rest| rest.trim_start_matches('#').trim())
            .filter(|title| !title.is_empty() && !title.contains(':'))
        else {
            return false;
        };
        let first = (0..row).all(|row| self.row_text(row).is_empty());
        // "## Ingredients".
        if spelt_heading(title)
            .is_some_and(|c| matches!(c.kind, ColumnKind::Name | ColumnKind::Inci))
        {
            work.proposal.left_out(row, text, "the headings");
            return true;
        }
        if first {
            title.clone_into(&mut work.proposal.name);
            work.proposal.left_out(row, text, "the name of the product");
        } else if inside {
            if phase_heading(title).is_none() {
                work.proposal.assumed.push(format!(
                    "row {} “{text}” was taken for the beginning of a phase; another recipe may begin there",
                    row + 1
                ));
            }
            work.enter_phase(phase_of_cell(title));
            work.proposal.left_out(row, text, "begins a phase");
        }
        first || inside
    }

    /// The materials named in sentences, each asked about; the sentences are the method.
    pub(super) fn read_sentences(&self, row: usize, text: &str, work: &mut Work<'_, '_>) {
        for Item { name, reading } in prose::named_in(text, self.mark) {
            let read = self.quantity_of(reading, &name);
            let wanted = Wanted::named(clean_name(&name));
            let before = work.proposal.lines.len();
            self.enter(row, wanted, read, work);
            if let Some(line) = work.proposal.lines.get_mut(before) {
                line.doubt_amount(IN_SENTENCE);
            }
        }
        for sentence in prose::sentences(text) {
            work.proposal.add_step(sentence);
        }
    }

    /// The lines of a row of text: one, or several after a phase.
    pub(super) fn read_items(&self, row: usize, text: &str, inside: bool, work: &mut Work<'_, '_>) {
        let found = items(text, self.mark, self.is_bare(row));
        if let Some(phase) = &found.phase
            && !found.lines.is_empty()
        {
            work.enter_phase(phase_of_cell(phase));
        }
        if found.lines.is_empty() {
            let wanted = Wanted::named(text);
            self.take_row(row, inside, wanted, Read::Nothing, work);
            return;
        }
        if is_said(&self.row_text(row), &found.lines) {
            work.proposal
                .left_out(row, text, "says something and names no material");
            work.proposal.assumed.push(format!(
                "row {} “{text}” has an amount but names no material that is known, and was taken as a remark",
                row + 1
            ));
            work.proposal.text.push(text.to_owned());
            return;
        }
        let alone = found.lines.len() == 1 && by_phase(&self.row_text(row)).len() == 1;
        if self.is_given(row) && !alone {
            work.proposal.assumed.push(format!(
                "row {} “{text}” names several materials, so the amount given for it was put nowhere",
                row + 1
            ));
        }
        for Item { name, reading } in found.lines {
            if is_property(&name) || self.puts_right(row, text, (&name, &reading), work) {
                continue;
            }
            // "Preservative: sodium benzoate".
            let (role, name) = match name.split_once(':') {
                Some((role, rest)) if is_role(role) && !rest.trim().is_empty() => {
                    (role.trim().to_owned(), rest.trim().to_owned())
                }
                _ => (String::new(), name),
            };
            let bare = self.without_share(&name, &reading);
            let (bare, remark) = without_remark(bare);
            let (bare, when) = without_when_added(bare);
            if let Some(when) = when {
                work.proposal.notes.push(format!(
                    "row {}: “{when}” behind “{bare}” says when it is added, and was left out of its name",
                    row + 1
                ));
            }
            let before = work.proposal.lines.len();
            let given = self.given(row, &name).filter(|_| alone);
            let read = given.unwrap_or_else(|| self.quantity_of(reading, bare));
            let wanted = Wanted::named(clean_name(bare));
            self.enter(row, wanted, read, work);
            if let Some(line) = work.proposal.lines.get_mut(before) {
                if !role.is_empty() {
                    line.role = role;
                }
                if let Some(remark) = remark {
                    line.doubt_amount(&format!("“{remark}” beside it was taken as a remark"));
                }
            }
        }
        for rest in found.rest {
            work.proposal.assumed.push(format!(
                "row {}: “{rest}” has no amount and was left out",
                row + 1
            ));
        }
    }

    /// A line apart from the list that no material goes by, where the others make what the text
    /// says is made: "tins from the market, 2 oz" below 200 g for "200 g".
    pub(super) fn leave_out_strays(&self, proposal: &mut RecipeProposal) {
        let Some((last, others)) = proposal.lines.split_last() else {
            return;
        };
        let (Some(first), Some(above)) = (others.first(), others.last()) else {
            return;
        };
        let apart = (above.row..last.row).any(|row| self.row_text(row).is_empty());
        let grams = |line: &ProposedLine| match line.quantity {
            LineQuantity::Grams(grams) => Some(grams),
            _ => None,
        };
        let sum: Option<Decimal> = others.iter().map(grams).sum();
        let sizes = (0..first.row).flat_map(|row| masses_in(&self.row_text(row)));
        let near = |sum: Decimal, size: Decimal| (sum - size).abs() <= size * Decimal::new(5, 3);
        let is_whole = sum.is_some_and(|sum| sizes.into_iter().any(|size| near(sum, size)));
        if !apart || !is_whole || names_a_material(&last.wanted.name) {
            return;
        }
        let (row, text) = (last.row, self.row_text(last.row - 1));
        proposal.lines.pop();
        proposal.left_out(
            row - 1,
            &text,
            "stands below the list and is kept in the notes",
        );
        proposal.assumed.push(format!(
            "row {row} “{text}” stands apart below what is made, names no material that is known, and was taken as a remark"
        ));
        proposal.text.push(text);
    }

    /// What a gram is in percent where most lines of a text state both, "320 g olive oil (40 %)".
    pub(super) fn find_share_of_a_gram(&self) -> Option<Decimal> {
        /// Fewer agree by chance.
        const ENOUGH: usize = 3;
        let found = self.rows().flat_map(|row| {
            let lines = items(&self.row_text(row), self.mark, false).lines;
            lines.into_iter().filter_map(|item| {
                let (_, percent) = share_in_brackets(&item.name)?;
                let grams = grams_of(&item.reading).filter(|grams| !grams.is_zero())?;
                percent.checked_div(grams)
            })
        });
        let found: Vec<Decimal> = found.take(MOST_LINES_OF_TEXT).collect();
        let agree = |each: &Decimal| found.iter().filter(|one| is_near(**one, *each)).count();
        let best = found.iter().max_by_key(|each| agree(each))?;
        let count = agree(best);
        (count >= ENOUGH && count * 2 > found.len()).then_some(*best)
    }

    /// A name without the share in brackets behind it, if it is that of the amount: it is no
    /// strength.
    fn without_share<'n>(&self, name: &'n str, reading: &AmountReading) -> &'n str {
        let bare = || {
            let each = self.share_of_a_gram?;
            let (bare, percent) = share_in_brackets(name)?;
            let grams = grams_of(reading)?;
            is_near(percent, each.checked_mul(grams)?).then_some(bare)
        };
        bare().unwrap_or(name)
    }

    /// A line that says that an amount above is another, "sorry, the butter is 18 g, not 16": the
    /// line above takes the new one, with a question; where it is not clear which, it is told.
    fn puts_right(
        &self,
        row: usize,
        text: &str,
        (name, reading): (&str, &AmountReading),
        work: &mut Work<'_, '_>,
    ) -> bool {
        let Some(old) = amount_replaced(name) else {
            return false;
        };
        let proposal = &mut work.proposal;
        proposal.left_out(row, text, "puts an amount above right");
        let value = |quantity: &LineQuantity| match quantity {
            LineQuantity::Percent(v)
            | LineQuantity::Grams(v)
            | LineQuantity::Millilitres(v)
            | LineQuantity::Parts(v) => Some(*v),
            LineQuantity::AsNeeded | LineQuantity::Rest => None,
        };
        let lines = proposal.lines.iter_mut();
        let mut meant = lines.filter(|l| value(&l.quantity) == Some(old));
        match (meant.next(), meant.next(), self.quantity_of(reading.clone(), name)) {
            (Some(line), None, Read::Quantity(quantity, ..)) => {
                line.doubt_amount(&format!("row {} says that it is {quantity}", row + 1));
                line.quantity = quantity;
            }
            _ => proposal.assumed.push(format!(
                "row {} “{text}” says that an amount is another, but not clearly which; it was left out",
                row + 1
            )),
        }
        true
    }
}

const fn grams_of(reading: &AmountReading) -> Option<Decimal> {
    match reading.written {
        WrittenAmount::Grams(grams) => Some(grams),
        _ => None,
    }
}

/// Whether two shares are the same but for what rounding to whole percents leaves.
fn is_near(a: Decimal, b: Decimal) -> bool {
    (a - b).abs() <= b.abs() * Decimal::new(3, 2)
}

/// A name and the one percentage in brackets behind it: "Olive oil (40 %)", "Water (30 % of the
/// fats)".
fn share_in_brackets(name: &str) -> Option<(&str, Decimal)> {
    let (bare, inner) = name.trim().strip_suffix(')')?.rsplit_once('(')?;
    let (number, behind) = inner.split_once('%')?;
    let percent = number::amount(number.trim(), None).ok()?.value;
    let only = !behind.contains(|c: char| c.is_ascii_digit());
    (only && !bare.trim().is_empty()).then_some((bare.trim(), percent))
}

/// A name and what is said in brackets behind it with an amount of its own, in so many words
/// that it is no part of the name: "NaOH (at 5 % superfat it would be 112 g)".
fn without_remark(name: &str) -> (&str, Option<&str>) {
    /// Fewer words may be a part of the name.
    const LEAST_WORDS: usize = 5;
    let parted = || {
        let (bare, inner) = name.trim().strip_suffix(')')?.rsplit_once('(')?;
        let measured = inner.contains('%') || !masses_in(inner).is_empty();
        let says = inner.split_whitespace().count() >= LEAST_WORDS && measured;
        (says && !bare.trim().is_empty()).then_some((bare.trim(), inner.trim()))
    };
    parted().map_or((name, None), |(bare, inner)| (bare, Some(inner)))
}

/// The amount that a line says is replaced: 16 of "the butter is, not 16".
fn amount_replaced(name: &str) -> Option<Decimal> {
    let mut said: Vec<&str> = name.split_whitespace().collect();
    if said.last().is_some_and(|word| Unit::named(word).is_some()) {
        said.pop();
    }
    let number = said.pop()?.trim_end_matches(['.', '!', ')']);
    let number = number::amount(number, None).ok()?;
    let before = words_of(&said.join(" "));
    let says = |count: usize| {
        let from = before.len().checked_sub(count)?;
        Some(before.get(from..)?.join(" "))
    };
    let mut phrases = (1..=3).filter_map(says);
    phrases
        .any(|phrase| words().instead_of.contains(&phrase))
        .then_some(number.value)
}

/// What is asked of a line that was read out of a sentence.
const IN_SENTENCE: &str = "it was read out of a sentence";

/// Lines that were read out of sentences and are a whole to the last digit were read rightly.
pub(super) fn settle_sentences(proposal: &mut RecipeProposal) {
    /// Fewer make a whole by chance.
    const ENOUGH: usize = 3;
    let whole = proposal.percent_total() == Some(Decimal::ONE_HUNDRED) && !proposal.has_rest();
    if !whole || proposal.lines.len() < ENOUGH {
        return;
    }
    for line in &mut proposal.lines {
        let of_amount = line.amount_doubts.min(line.doubts.len());
        let place = line
            .doubts
            .iter()
            .take(of_amount)
            .position(|d| d == IN_SENTENCE);
        if let Some(place) = place {
            line.doubts.remove(place);
            line.amount_doubts -= 1;
        }
    }
}

/// Whether a row of text with amounts only says something: it is a sentence, or announces what
/// follows, or states the size of the batch, and nothing in it goes by the name of a material.
pub(super) fn is_said(text: &str, found: &[Item]) -> bool {
    /// The name of a material has hardly more words.
    const MOST_WORDS: usize = 7;
    let trimmed = text.trim();
    let ends = trimmed.ends_with(['.', '!', '?', ':']);
    let long = found
        .iter()
        .any(|item| words_of(&item.name).len() > MOST_WORDS);
    let said = words_of(text);
    let is_batch = |said: &[String]| {
        said.first()
            .is_some_and(|first| words().batch.contains(first))
    };
    // "Prep: 15 minutes · Makes: 250 g".
    let of_batch = is_batch(&said) || text.split(['·', '|', '•']).any(|p| is_batch(&words_of(p)));
    // "20 parts = 20 g = 4 sticks", "cool to 40".
    let equal = text.contains(" = ");
    let done = found.iter().all(|item| {
        matches!(item.reading.written, WrittenAmount::Qs(_)) && is_sentence(&item.name)
    });
    // A remark behind a star, as those below a list are.
    let starred =
        trimmed.starts_with('*') && !trimmed.starts_with("* ") && !trimmed.starts_with("**");
    // "Sorry, the butter is 90 g, not 80!" says an amount.
    let puts_right = found
        .iter()
        .any(|item| amount_replaced(&item.name).is_some());
    let of_sum = begins_with_total(text);
    (ends || long || of_batch || of_sum || equal || done || starred)
        && !puts_right
        && !found.is_empty()
        && found.iter().all(|item| !names_a_material(&item.name))
}

/// The first line of a text may be its title with the size of the batch: "Toner, 200 g",
/// "Night serum (30 ml)", "Bath salt (per 100 g)", "Winter soap - 800 g of fats, 8 %". It is where
/// no material goes by the names in it and the size, if it states one, is that of all others
/// together, or what a q.s. fills up to.
pub(super) fn take_title(proposal: &mut RecipeProposal, matcher: &Resolver<'_>) {
    let Some(row) = proposal.lines.first().map(|line| line.row) else {
        return;
    };
    let count = proposal.lines.iter().take_while(|l| l.row == row).count();
    let (firsts, others) = proposal.lines.split_at(count);
    let is_first = proposal.left_out.iter().all(|left| left.row > row);
    let is_material = |line: &ProposedLine| matcher.resolve_exactly(&line.wanted).taken;
    if others.len() < 2 || firsts.iter().any(is_material) {
        return;
    }
    let read = match firsts {
        [only] => size_of_title(only, others, is_first),
        // Several amounts are no size, and no lines where none of them is of a material and they
        // stand apart.
        _ if others.first().is_some_and(|l| l.row > row + 1) => Some(Title::default()),
        _ => None,
    };
    let Some(read) = read else {
        return;
    };
    let words: Vec<String> = firsts
        .iter()
        .map(|line| format!("{} {}", line.wanted.name, line.quantity))
        .collect();
    let words = words.join(", ");
    let title = firsts.first().map(|line| line.wanted.name.clone());
    if count > 1 {
        proposal.assumed.push(format!(
            "row {row} “{words}” was taken for the title, though amounts stand in it"
        ));
    }
    proposal.lines.drain(..count);
    proposal.left_out(row - 1, &words, "the title, with the size of the whole");
    proposal.left_out.sort_by_key(|left| left.row);
    proposal.name = title.unwrap_or_default();
    proposal.batch = read.grams.or(proposal.batch);
}

/// A line that is the title of a text.
#[derive(Default)]
struct Title {
    /// The grams of the whole, if it states them.
    grams: Option<Decimal>,
}

/// The size that a line states of all others together, in grams if it does so; `None` if it is
/// not their size. Only the very first line may state what a q.s. fills up to.
fn size_of_title(first: &ProposedLine, others: &[ProposedLine], is_first: bool) -> Option<Title> {
    let value = |line: &ProposedLine| match line.quantity {
        LineQuantity::Grams(v) | LineQuantity::Millilitres(v) => v,
        _ => Decimal::ZERO,
    };
    let sum: Decimal = others.iter().map(value).sum();
    let filled = others.iter().any(|l| l.quantity == LineQuantity::Rest);
    let in_percent = others
        .iter()
        .all(|l| matches!(l.quantity, LineQuantity::Percent(_) | LineQuantity::Rest));
    // "per 100 g" reads as what fills up to so much; where the others are so much, it is none.
    if first.quantity == LineQuantity::Rest {
        let size = masses_in(&first.written).into_iter().next()?;
        let percents = others.iter().map(|l| match l.quantity {
            LineQuantity::Percent(v) => v,
            _ => Decimal::ZERO,
        });
        let whole: Decimal = if in_percent { percents.sum() } else { sum };
        let wanted = if in_percent {
            Decimal::ONE_HUNDRED
        } else {
            size
        };
        let near = (whole - wanted).abs() <= wanted * Decimal::new(2, 2);
        return (near && !filled).then_some(Title { grams: Some(size) });
    }
    let size = value(first);
    let slack = size * Decimal::new(1, 1);
    // Beside percentages that are a whole, drops and the like say nothing of the size.
    let percents = others.iter().map(|l| match l.quantity {
        LineQuantity::Percent(v) => v,
        _ => Decimal::ZERO,
    });
    let whole = (percents.sum::<Decimal>() - Decimal::ONE_HUNDRED).abs() <= Decimal::TWO;
    let fits = if in_percent || whole {
        true
    } else if filled {
        is_first && size > sum
    } else {
        (size - sum).abs() <= slack
    };
    let grams = matches!(first.quantity, LineQuantity::Grams(_));
    (size > Decimal::ZERO && fits).then(|| Title {
        grams: grams.then_some(size),
    })
}

/// Whether the lines of a text have no amounts with units, and numbers at their ends that
/// make a whole: "Water 70", "Glycerin 5", "Olive oil 25".
pub(in crate::file::table) fn bare_numbers_are_whole(table: &Table) -> bool {
    whole_of_bare_numbers(table).is_some()
}

/// Lines of a text whose numbers without units make a whole.
pub(super) struct BareWhole {
    /// 100, the mass in grams that a line of its own states, "for 300 g", or 1, of which all are
    /// fractions.
    pub(super) whole: Decimal,
    /// Where they stand.
    pub(super) rows: Range<usize>,
}

/// The whole that the numbers make at the ends of the lines of a text in which no amount has a
/// unit, or those of some lines that follow each other.
pub(super) fn whole_of_bare_numbers(table: &Table) -> Option<BareWhole> {
    /// Fewer numbers make a whole by chance.
    const ENOUGH: usize = 3;
    let rows = || {
        let all = 0..table.rows.len();
        all.filter(|&row| sum_of(table, row).is_none() && !begins_with_total(&table.row_text(row)))
    };
    let value = |row: usize| -> Vec<Decimal> {
        let items = items(&table.row_text(row), None, true).lines.into_iter();
        let bare = items.filter_map(|item| match item.reading.written {
            WrittenAmount::Bare(value) => Some(value),
            _ => None,
        });
        bare.collect()
    };
    let all: Vec<(usize, Decimal)> = rows()
        .flat_map(|row| value(row).into_iter().map(move |value| (row, value)))
        .collect();
    // One number is no whole.
    if all.len() < 2 {
        return None;
    }
    // The first line may be the title with the size of the whole, as may lines of facts.
    let has_unit = |row: usize| {
        let text = table.row_text(row);
        !items(&text, None, false).lines.is_empty() && !is_fact(&text)
    };
    let title = rows().find(|&row| !table.row_text(row).is_empty());
    let units: Vec<usize> = rows()
        .filter(|&row| Some(row) != title && has_unit(row))
        .collect();
    let near =
        |total: Decimal, whole: Decimal, slack: Decimal| (total - whole).abs() <= whole * slack;
    if units.is_empty() {
        let total: Decimal = all.iter().map(|(_, value)| *value).sum();
        let stated = rows().flat_map(|row| masses_in(&table.row_text(row)));
        // "1/2 shea butter", "1/4 coconut oil".
        let fractions = all.len() >= ENOUGH
            && all
                .iter()
                .all(|(row, _)| begins_with_fraction(&table.row_text(*row)));
        let whole = std::iter::once(Decimal::ONE_HUNDRED)
            .chain(stated)
            .chain(fractions.then_some(Decimal::ONE))
            .find(|whole| near(total, *whole, Decimal::new(1, 2)));
        if let Some(whole) = whole {
            return Some(BareWhole {
                whole,
                rows: 0..table.rows.len(),
            });
        }
    }
    // Of all runs that make a hundred the longest, if it has most of the numbers.
    let mut best: Option<Range<usize>> = None;
    for from in 0..all.len().min(MOST_LINES_OF_TEXT) {
        let mut total = Decimal::ZERO;
        for (to, (row, value)) in all.iter().enumerate().skip(from) {
            total += *value;
            if total > Decimal::from(101) || units.contains(row) {
                break;
            }
            let longer = best.as_ref().is_none_or(|best| best.len() < to + 1 - from);
            if near(total, Decimal::ONE_HUNDRED, Decimal::new(1, 3)) && longer {
                best = Some(from..to + 1);
            }
        }
    }
    let best = best.filter(|best| best.len() >= ENOUGH && best.len() * 2 >= all.len())?;
    let row = |at: usize| all.get(at).map(|(row, _)| *row);
    let rows = row(best.start)?..row(best.end - 1)? + 1;
    let apart = !units.iter().any(|row| rows.contains(row));
    apart.then_some(BareWhole {
        whole: Decimal::ONE_HUNDRED,
        rows,
    })
}

/// Whether a line states the sum of the others, and more: "Total: 1 (I make 400 g)".
fn begins_with_total(text: &str) -> bool {
    let (first, _) = text.split_once(':').unwrap_or_default();
    let folded = words_of(first);
    matches!(folded.as_slice(), [only] if words().totals.contains(only))
}

/// Whether a line begins with a fraction below 1: "- 1/2 shea butter", "¼ coconut oil".
fn begins_with_fraction(text: &str) -> bool {
    let text = text.trim_start_matches(|c: char| c.is_whitespace() || matches!(c, '-' | '*' | '•'));
    let first = text.split_whitespace().next().unwrap_or_default();
    let ratio = || {
        let (top, bottom) = first.split_once('/')?;
        let (top, bottom): (u32, u32) = (top.parse().ok()?, bottom.parse().ok()?);
        (top < bottom).then_some(())
    };
    let sign = |c: char| ('¼'..='¾').contains(&c) || ('⅐'..='⅞').contains(&c);
    ratio().is_some() || first.chars().count() == 1 && first.starts_with(sign)
}

/// A text of more numbers is no recipe.
const MOST_LINES_OF_TEXT: usize = 500;

/// Whether a line of text says what the product or the batch is: "batch: 30 g".
fn is_fact(text: &str) -> bool {
    text.split_once(':')
        .is_some_and(|(key, _)| is_fact_key(key))
}
