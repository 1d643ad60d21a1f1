//! What speaks for a column to be of a kind: its heading, what stands below it and what that
//! adds up to, each with its weight and reason.

use rust_decimal::Decimal;

use super::content::Content;
use super::heading::{heading, read_heading};
use super::{Evidence, Kind, Layout};
use crate::amount::number::{self, Unit};
use crate::file::table::Table;
use crate::naming::words_of;

/// What a heading says, held against what stands below.
pub(super) fn of_heading(column: usize, text: &str, content: &Content) -> Vec<Evidence> {
    let Some(found) = read_heading(text) else {
        return Vec::new();
    };
    let weight = match (found.misspelt, found.whole) {
        (false, true) => 10,
        (false, false) => 8,
        (true, _) => 6,
    };
    let mut evidence = vec![Evidence {
        column,
        kind: found.column.kind,
        weight: weight + i32::try_from(found.length).unwrap_or(1),
        reason: format!("heading “{}”", text.trim()),
    }];
    let kind = found.column.kind;
    if kind == Kind::Name
        && content.codes * 10 >= content.filled * 7
        && (content.filled > 1 || content.filled == content.numbers && content.filled > 0)
    {
        evidence.push(Evidence {
            column,
            kind: Kind::Code,
            weight: 20,
            reason: "the cells are numbers or codes".to_owned(),
        });
    }
    // Phases come again or are letters; a word for each row is a material.
    if kind == Kind::Phase
        && content.filled > 2
        && content.letters == 0
        && content.words == content.filled
        && content.distinct == content.filled
    {
        evidence.push(Evidence {
            column,
            kind,
            weight: -8,
            reason: "each cell is another word".to_owned(),
        });
    }
    // Numbers are promised and words found, or the other way round.
    if matches!(kind, Kind::Price | Kind::Strength)
        && content.filled > 1
        && content.with_digits == 0
    {
        evidence.push(Evidence {
            column,
            kind,
            weight: -20,
            reason: "no cell is a number".to_owned(),
        });
    }
    if matches!(kind, Kind::Percent | Kind::Amount) && content.negative > 1 {
        evidence.push(Evidence {
            column,
            kind,
            weight: -20,
            reason: "some numbers are below 0".to_owned(),
        });
    }
    if kind == Kind::Phase && found.misspelt && content.letters == 0 {
        evidence.push(Evidence {
            column,
            kind,
            weight: -8,
            reason: "only like a heading of phases, and no cell is a letter".to_owned(),
        });
    }
    let numeric = matches!(kind, Kind::Percent | Kind::Amount);
    if numeric && content.filled > 1 && content.numbers * 2 < content.filled {
        evidence.push(Evidence {
            column,
            kind,
            weight: -6,
            reason: "most cells are no numbers".to_owned(),
        });
    }
    // "Batch" above numbers is how much, above codes which.
    let of_batch = words_of(text).iter().any(|w| w == "batch" || w == "charge");
    if kind == Kind::Amount && of_batch && content.words * 2 > content.filled {
        for (kind, weight) in [(kind, -20), (Kind::Lot, 14)] {
            evidence.push(Evidence {
                column,
                kind,
                weight,
                reason: "the cells are codes".to_owned(),
            });
        }
    }
    if kind == Kind::Name && content.filled > 1 && content.numbers * 10 > content.filled * 8 {
        evidence.push(Evidence {
            column,
            kind,
            weight: -14,
            reason: "the cells are numbers".to_owned(),
        });
    }
    evidence
}

/// A heading such as "500 g" or "1 kg batch" above numbers that add up to just that: the
/// amounts of a batch of this size.
pub(super) fn adds_up_to_heading(
    column: usize,
    heading: &str,
    content: &Content,
) -> Option<Evidence> {
    if content.numbers < 2 || crate::file::table::price_list::names_money(heading) {
        return None;
    }
    let tokens: Vec<&str> = heading
        .split(|c: char| c.is_whitespace() || "()[]/,;:".contains(c))
        .filter(|t| !t.is_empty())
        .collect();
    let near = |a: Decimal, b: Decimal| (a - b).abs() <= b * Decimal::new(5, 3);
    tokens.iter().enumerate().find_map(|(n, token)| {
        let next = tokens.get(n + 1).copied().unwrap_or_default();
        let amount = [(*token).to_owned(), format!("{token} {next}")]
            .iter()
            .find_map(|text| number::amount(text, None).ok().filter(|a| a.unit.is_some()))?;
        let grams = amount.value * amount.unit?.grams()?;
        (near(content.total, grams) || near(content.total, amount.value)).then(|| Evidence {
            column,
            kind: Kind::Amount,
            weight: 16,
            reason: "adds up to the size its heading states".to_owned(),
        })
    })
}

/// Whether any column is one of the amounts of a batch whose size its heading states.
pub(in crate::file::table) fn has_batches(table: &Table, layout: &Layout) -> bool {
    let rows = layout.first_row()..table.rows.len();
    (0..table.width()).any(|column| {
        let content = Content::of(table, column, rows.clone());
        adds_up_to_heading(column, &layout.heading(table, column), &content).is_some()
    })
}

/// What stands in a column, as evidence; it counts for more where no heading stands.
pub(super) fn of_content(column: usize, content: &Content, titled: bool) -> Vec<Evidence> {
    if content.filled == 0 {
        return Vec::new();
    }
    let mut evidence = Vec::new();
    let mut say = |kind: Kind, weight: i32, reason: &str| {
        evidence.push(Evidence {
            column,
            kind,
            weight: if titled { weight / 2 } else { weight },
            reason: reason.to_owned(),
        });
    };
    let most = |n: usize| n * 2 > content.filled;
    if most(content.cas) {
        say(Kind::Cas, 12, "CAS numbers");
    }
    if content.negative < 2 && most(content.numbers) && content.filled >= 2 || content.is_whole() {
        let percent = content.unit == Some(Unit::Percent) || content.percents > 0;
        let mass = content.unit.is_some_and(|u| u != Unit::Percent);
        if most(content.money) {
            say(Kind::Price, 12, "amounts of money");
        } else if percent {
            say(Kind::Percent, 8, "percentages");
        } else if mass {
            say(Kind::Amount, 8, "amounts with units");
        } else if content.is_whole() {
            say(Kind::Percent, 7, "numbers that add up to 100");
        } else if content.counts_up {
            say(Kind::Code, 6, "numbers that count up");
        } else if !titled {
            say(Kind::Percent, 4, "numbers");
        }
        if content.is_whole() && !mass && !most(content.money) {
            say(Kind::Percent, 4, "adds up to the whole");
            if content.is_exactly_whole() {
                say(Kind::Percent, 2, "and exactly so");
            }
        }
    }
    if content.ranges * 10 >= content.filled * 7 && content.filled > 1 {
        say(Kind::UseLevel, 24, "ranges");
    }
    if most(content.codes) && !most(content.numbers) && content.codes > content.letters {
        say(Kind::Code, 6, "codes");
    }
    if content.units > 1 && content.units == content.filled {
        say(Kind::Unit, 14, "units");
    }
    if content.phases * 2 > content.filled {
        say(Kind::Phase, 12, "names of phases");
    }
    if content.in_steps {
        say(Kind::Phase, 10, "numbers from 1 on, each again or the next");
    }
    // The same again in each row is a unit or somebody's initials.
    if content.letters > 1 && content.letters == content.filled && content.distinct > 1 {
        say(Kind::Phase, 5, "letters");
    }
    if content.in_order && content.letters * 2 > content.filled {
        say(Kind::Phase, 12, "letters from A on, each again or the next");
    }
    if content.known > 1 && content.known * 2 > content.words && most(content.words) {
        say(Kind::Name, 8, "names of materials");
    }
    if most(content.words)
        && content.letters < content.filled
        && !most(content.cas)
        && !most(content.codes)
    {
        let distinct = content.distinct * 2 > content.filled || content.filled < 3;
        say(Kind::Name, if distinct { 5 } else { 1 }, "words");
    }
    evidence
}

/// A column of words such as "surfactant" and "emulsifier" holds what materials do, unless its
/// heading is that of materials: "salt" and "oil" are both.
pub(super) fn of_roles(column: usize, text: &str, content: &Content) -> Vec<Evidence> {
    let named = heading(text).is_some_and(|c| c.kind == Kind::Name);
    if named || content.filled < 2 || content.roles * 2 <= content.filled {
        return Vec::new();
    }
    [(Kind::Role, 8), (Kind::Name, -8)]
        .into_iter()
        .map(|(kind, weight)| Evidence {
            column,
            kind,
            weight,
            reason: "what materials do".to_owned(),
        })
        .collect()
}
