//! What stands in a column, counted.

use rust_decimal::Decimal;

use super::ROWS_FOR_CONTENT;
use crate::amount::number::{self, Unit};
use crate::cas::Cas;
use crate::file::table::amounts::WrittenAmount;
use crate::file::table::days::{self, DayOrder};
use crate::file::table::names::are_inci_names;
use crate::file::table::packs::without_pack;
use crate::file::table::phase_words::{
    ProposedPhase, is_for_a_phase, is_roman, letters_of_items, phase_heading, roman_place,
    says_phase,
};
use crate::file::table::words::{
    is_box, is_property, is_sentence, is_tick, lettered, number_in_circle, numbered, words as lists,
};
use crate::file::table::{Cell, Shown, Table, amounts};
use crate::naming::qs::{Qs, is_qs, quantum_satis};
use crate::naming::{functions, is_known_name, words_of};

/// What stands in a column.
#[derive(Clone, Default, Debug)]
pub(in crate::file::table) struct Content {
    /// Rows looked at.
    pub(in crate::file::table) rows: usize,
    pub(in crate::file::table) filled: usize,
    pub(in crate::file::table) numbers: usize,
    pub(in crate::file::table) words: usize,
    /// One or two letters or digits, as phases are named.
    pub(in crate::file::table) letters: usize,
    /// Numbers and short words with digits, without blanks.
    pub(in crate::file::table) codes: usize,
    pub(in crate::file::table) cas: usize,
    /// Words for what a material does.
    pub(in crate::file::table) roles: usize,
    /// Names of materials.
    pub(in crate::file::table) known: usize,
    /// Signs that tick a row off: "✓", "☐", "x".
    pub(in crate::file::table) ticks: usize,
    /// INCI names or lists of them.
    pub(in crate::file::table) inci: usize,
    /// Sentences, which say what is done.
    pub(in crate::file::table) sentences: usize,
    /// Names of phases: with the word for it, or a letter with degrees.
    pub(in crate::file::table) phases: usize,
    /// Cells with a word for what a phase is for.
    pub(in crate::file::table) for_phases: usize,
    /// Cells with a digit in them.
    pub(in crate::file::table) with_digits: usize,
    /// Numbers below 0.
    pub(in crate::file::table) negative: usize,
    /// Units: "g".
    pub(in crate::file::table) units: usize,
    /// Small numbers from 1 on, each again or the next, as phases are numbered.
    pub(in crate::file::table) in_steps: bool,
    /// Ranges of amounts: "0.5–2 %".
    pub(in crate::file::table) ranges: usize,
    /// Sum of the last number of each cell of text: of a range its upper end.
    pub(in crate::file::table) highest: Decimal,
    /// Days.
    pub(in crate::file::table) days: usize,
    /// Cells shown as percentages.
    pub(in crate::file::table) percents: usize,
    /// Cells shown with a currency.
    pub(in crate::file::table) money: usize,
    /// Currencies and nothing else: "EUR".
    pub(in crate::file::table) currencies: usize,
    /// Different words.
    pub(in crate::file::table) distinct: usize,
    pub(in crate::file::table) unit: Option<Unit>,
    /// A q.s. stands in it.
    pub(in crate::file::table) filler: bool,
    /// It fills up to more than 100, as a batch in grams.
    pub(in crate::file::table) fills_beyond: bool,
    /// Its codes are letters of phases, with the numbers of lines in them: "A1", "A2", "B1".
    pub(in crate::file::table) numbered: bool,
    /// Sum of the numbers, the last one left out if it is the sum of the others.
    pub(in crate::file::table) total: Decimal,
    /// 1, 2, 3 …
    pub(in crate::file::table) counts_up: bool,
    /// Its short words are the letters of phases in their order, one of them again.
    pub(in crate::file::table) in_order: bool,
    /// A few words or numbers part the rows into groups, each of rows that follow each other.
    pub(in crate::file::table) grouped: bool,
}

/// Whether a text is a day of a year and nothing else: "03.10.2026", "4/5/26".
fn is_day(text: &str) -> bool {
    let divided = |mark: char| text.matches(mark).count() == 2;
    text.starts_with(|c: char| c.is_ascii_digit())
        && ['.', '/', '-'].into_iter().any(divided)
        && days::day(text, DayOrder::DayFirst).is_some()
}

/// The last number in a text.
fn last_number(text: &str) -> Option<Decimal> {
    let numbers = text.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')));
    let last = numbers
        .map(|number| number.trim_matches(['.', ',']))
        .rfind(|number| !number.is_empty())?;
    number::amount(last, None).ok().map(|amount| amount.value)
}

/// Whether a cell says what a material does and nothing else: "surfactant", "Emulgator".
pub(in crate::file::table) fn is_role(text: &str) -> bool {
    let folded = words_of(text).join(" ");
    functions().iter().any(|(phrase, _)| *phrase == folded)
}

/// Whether short words are phases in their order: "A", "A", "B", "C", "C", or "I", "II", "II".
fn are_phases(letters: &[String], sparse: bool) -> bool {
    let roman = letters.iter().any(|word| word == "II");
    let place = |word: &String| match word.as_bytes() {
        _ if roman => roman_place(word),
        [letter] if letter.is_ascii_uppercase() => Some(letter - b'A'),
        _ => None,
    };
    let places: Option<Vec<u8>> = letters.iter().map(place).collect();
    let Some(places) = places else {
        return false;
    };
    let steps = || {
        places
            .iter()
            .zip(places.iter().skip(1))
            .filter_map(|(a, b)| b.checked_sub(*a))
    };
    let again = steps().any(|step| step == 0);
    places.len() >= if roman || sparse { 2 } else { 3 }
        && places.first() == Some(&0)
        && steps().count() + 1 == places.len()
        && steps().all(|step| step <= 1)
        && (again || roman || sparse)
        && places.last() > Some(&0)
}

/// Whether numbers are those of phases: 1, 1, 2, 3, 3.
fn are_steps(values: &[Decimal]) -> bool {
    let mut steps = values
        .iter()
        .zip(values.iter().skip(1))
        .map(|(a, b)| *b - *a);
    values.len() >= 3
        && values.first() == Some(&Decimal::ONE)
        && values.last() > Some(&Decimal::ONE)
        && steps
            .clone()
            .all(|step| step.is_zero() || step == Decimal::ONE)
        && steps.any(|step| step.is_zero())
}

/// Whether short words part rows into groups: each stands beside rows that follow each other,
/// in all of them or in the first, and comes nowhere else.
fn part_into_groups(cells: &[String], sparse: bool, first: bool) -> bool {
    /// More groups than any recipe has phases.
    const MOST: usize = 12;
    // More words say something of a row.
    let most_words = if sparse { 2 } else { 4 };
    let mut groups: Vec<&String> = Vec::new();
    for cell in cells {
        if groups.last() == Some(&cell) {
            continue;
        }
        let is_amount = number::amount(cell, None).is_ok_and(|a| {
            a.unit.is_some() || !a.value.is_integer() || a.value > Decimal::from(MOST)
        });
        if groups.contains(&cell) || words_of(cell).len() > most_words || is_amount {
            return false;
        }
        groups.push(cell);
    }
    // Most phases have several lines; words that differ from line to line are said of each.
    let mut rest = cells;
    let mut alone = 0;
    while let Some(word) = rest.first() {
        let run = rest.iter().take_while(|cell| *cell == word).count();
        alone += usize::from(run == 1);
        rest = rest.get(run..).unwrap_or_default();
    }
    let in_runs = cells.len() > groups.len() && alone * 2 <= groups.len();
    (2..=MOST).contains(&groups.len()) && (in_runs || sparse && first)
}

/// What is gathered of the cells of a column until it can be told what they are together.
#[derive(Default)]
struct Gathered {
    values: Vec<Decimal>,
    /// Words that stand in it, in small letters.
    seen: std::collections::HashSet<String>,
    letters: Vec<String>,
    codes: Vec<String>,
}

impl Content {
    pub(in crate::file::table) fn of(
        table: &Table,
        column: usize,
        rows: impl Iterator<Item = usize>,
    ) -> Self {
        let mut content = Self::default();
        let mut more = Gathered::default();
        let mut all: Vec<String> = Vec::new();
        let mut first_filled = false;
        let in_columns = table.width() > 1;
        for row in rows.take(ROWS_FOR_CONTENT) {
            let cell = table.cell(row, column);
            content.rows += usize::from(!table.is_left_out(row));
            first_filled |= content.rows == 1 && !cell.is_empty();
            if cell.is_empty() || table.is_left_out(row) || table.struck.contains(&(row, column)) {
                continue;
            }
            content.filled += 1;
            let words = cell.words();
            content.with_digits += usize::from(words.contains(|c: char| c.is_ascii_digit()));
            content.negative += usize::from(
                matches!(cell, Cell::Number { value, .. } if value.is_sign_negative() && !value.is_zero()),
            );
            match cell {
                Cell::Number { value, shown } => {
                    content.numbers += 1;
                    match shown {
                        Shown::Percent => content.percents += 1,
                        Shown::In(unit) => content.unit = content.unit.or(Some(*unit)),
                        Shown::Money(_) => content.money += 1,
                        Shown::Plain => content.codes += usize::from(value.is_integer()),
                    }
                    more.values.push(if *shown == Shown::Percent {
                        *value * Decimal::ONE_HUNDRED
                    } else {
                        *value
                    });
                }
                Cell::Text(text) => content.add_text(text, in_columns, &mut more),
                Cell::Date(_) => content.days += 1,
                _ => {}
            }
            all.push(words.to_lowercase());
        }
        let Gathered {
            values,
            letters,
            codes,
            ..
        } = more;
        // The letter may stand in the first row of each phase alone.
        let sparse = content.filled * 4 <= content.rows * 3;
        content.grouped = part_into_groups(&all, sparse, first_filled);
        content.in_order = are_phases(&letters, sparse);
        content.numbered = codes.len() * 2 > content.filled
            && letters_of_items(&codes).is_some_and(|(_, certain)| certain);
        content.in_steps = content.numbers == content.filled && are_steps(&values);
        // The first row of each phase has its number.
        content.in_steps |= content.numbers == content.filled
            && content.filled * 2 <= content.rows
            && values.len() > 1
            && (1..)
                .zip(&values)
                .all(|(n, value)| *value == Decimal::from(n));
        content.counts_up = values.len() >= 3
            && values
                .windows(2)
                .all(|w| matches!(w, [a, b] if *b == *a + Decimal::ONE))
            && values.first().is_some_and(|v| *v <= Decimal::ONE);
        let sum: Decimal = values.iter().sum();
        // Totals and subtotals stand among them.
        content.total = match values.last() {
            Some(last) if values.len() > 2 && (sum - *last - *last).abs() <= Decimal::new(5, 2) => {
                *last
            }
            _ => sum,
        };
        content
    }

    /// A cell of text.
    fn add_text(&mut self, text: &str, in_columns: bool, more: &mut Gathered) {
        let text = text.trim();
        self.days += usize::from(is_day(text));
        if let Some(last) = last_number(text) {
            self.highest = self.highest.saturating_add(last);
        }
        if more.seen.insert(text.to_lowercase()) {
            self.distinct += 1;
        }
        if text.parse::<Cas>().is_ok() {
            self.cas += 1;
        } else if let Some(number) = number_in_circle(text) {
            self.numbers += 1;
            self.codes += 1;
            more.values.push(Decimal::from(number));
        } else if let Ok(amount) = number::amount(text, None)
            // "G-12" is a code.
            && amount.value >= Decimal::ZERO
        {
            self.numbers += 1;
            self.codes += usize::from(text.bytes().all(|b| b.is_ascii_digit()));
            self.money += usize::from(amount.currency.is_some());
            self.unit = self.unit.or(amount.unit);
            // What is paid adds up with nothing.
            if amount.currency.is_none() {
                more.values.push(amount.value);
            }
        } else if is_qs(text) {
            self.numbers += 1;
            self.filler = true;
            let beyond = |whole: Decimal| whole > Decimal::ONE_HUNDRED;
            self.fills_beyond |= matches!(
                quantum_satis(text),
                Some(Qs::ToWhole(Some(whole))) if beyond(whole)
            );
        } else if amounts::is_amount(text)
            && let Ok(reading) = amounts::read(text, None, None)
            && !reading.written.is_negative()
            // "Sodium gluconate 4 % (8 g)" is a line of text.
            && (in_columns
                || text.starts_with(|c: char| c.is_ascii_digit()))
            // "Beta-glucan solution 1 %" is a name, and "Glycerin, 1 kg" one
            // with the size of its pack.
            && !is_known_name(text)
            && !without_pack(text).is_some_and(|name| is_known_name(&name))
        {
            self.numbers += 1;
            self.ranges += usize::from(reading.is_range);
            // "Approx. 5" adds up as 5 does.
            if let WrittenAmount::Percent(value) | WrittenAmount::Bare(value) = reading.written {
                more.values.push(value);
            }
        } else if lists().currency_codes.contains(text) {
            self.currencies += 1;
            self.words += 1;
        // A tick or a sign is no word.
        } else if is_tick(text) || is_box(text) {
            self.ticks += 1;
        } else if text.contains(char::is_alphanumeric) {
            self.add_words(text, in_columns, more);
        }
    }

    /// A cell of words, of which nothing says that it is something else.
    fn add_words(&mut self, text: &str, in_columns: bool, more: &mut Gathered) {
        self.words += 1;
        self.roles += usize::from(is_role(text));
        // "Phase A: 70 % water" is a line of text.
        let short = !text.contains('%') && words_of(text).len() <= 6;
        let of_phase = |phase: ProposedPhase| {
            let degrees = phase.temperature.is_some();
            says_phase(text) || degrees && !phase.letter.is_empty()
        };
        self.for_phases += usize::from(short && is_for_a_phase(text));
        self.phases += usize::from(short && phase_heading(text).is_some_and(of_phase));
        // "Olive oil 25 %" is a line of a recipe in text.
        let text = numbered(text).map_or(text, |(_, name)| name);
        let text = lettered(text).map_or(text, |(_, name)| name);
        let bare = in_columns || !text.contains(|c: char| c.is_ascii_digit() || c == '%');
        let is_known = || {
            let before = text.split('(').next().unwrap_or(text).trim();
            is_known_name(text) || before != text && is_known_name(before)
        };
        self.known += usize::from(bare && is_known());
        self.inci += usize::from(are_inci_names(text));
        // Lines of text may be sentences that name materials.
        self.sentences += usize::from(in_columns && is_sentence(text) && !is_known());
        let short = text.chars().count() <= 2 && text.chars().all(char::is_alphanumeric);
        if Unit::named(text).is_some() {
            self.units += 1;
        } else if is_property(text) {
            // "pH" is no letter.
        } else if short || is_roman(&text.to_lowercase()) {
            self.letters += 1;
            more.letters.push(text.to_uppercase());
        }
        let code = !text.contains(char::is_whitespace)
            && text.bytes().any(|b| b.is_ascii_digit())
            && text.len() <= 16
            && !text.bytes().any(|b| b.is_ascii_lowercase());
        self.codes += usize::from(code);
        if code {
            more.codes.push(text.to_owned());
        }
    }

    /// Whether it holds nothing but INCI names.
    pub(in crate::file::table) const fn is_inci(&self) -> bool {
        self.words > 1 && self.inci * 10 >= self.words * 9 && self.inci > 1
    }

    /// Whether it has a name of its own in nearly every row in which another one has.
    pub(in crate::file::table) const fn names_rows_of(&self, other: &Self) -> bool {
        self.words * 10 >= self.filled * 9
            && self.filled > 1
            && self.distinct * 10 >= self.words * 9
            && self.filled * 10 >= other.filled * 7
            && self.sentences * 2 < self.words
    }

    /// Whether its numbers are those of a whole recipe in percent, but for what rounding leaves.
    pub(in crate::file::table) fn is_exactly_whole(&self) -> bool {
        self.is_whole()
            && (self.filler || (self.total - Decimal::ONE_HUNDRED).abs() <= Decimal::new(11, 2))
    }

    /// Whether its numbers are those of a whole recipe in percent.
    pub(in crate::file::table) fn is_whole(&self) -> bool {
        let hundred = |total: Decimal| (total - Decimal::ONE_HUNDRED).abs() <= Decimal::ONE;
        self.numbers > 0
            && (hundred(self.total)
                || (self.total - Decimal::TWO * Decimal::ONE_HUNDRED).abs() <= Decimal::new(1, 1)
                    && self.numbers > 3
                || self.filler
                    && !self.fills_beyond
                    && self.numbers * 2 >= self.filled
                    && self.total < Decimal::ONE_HUNDRED)
    }
}
