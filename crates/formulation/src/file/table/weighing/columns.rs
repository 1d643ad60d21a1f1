//! What speaks for a column to be of a kind: its heading, what stands below it and what that
//! adds up to.

use rust_decimal::Decimal;

use crate::amount::number::Unit;
use crate::file::table::Table;
use crate::file::table::columns::{
    ColumnKind, Content, Evidence, Heading, Layout, read_heading, sizes_in,
};
use crate::file::table::words::words as lists;
use crate::naming::words_of;

/// What is seen of a column.
pub(in crate::file::table) struct Seen {
    heading: Option<Heading>,
    text: String,
    content: Content,
    /// Its numbers add up to the size that its heading states.
    fits_heading: bool,
    /// They add up to the size that is stated above the list.
    fits_batch: bool,
    beside: Beside,
}

/// What is seen of a column beside the others.
#[derive(Clone, Copy, Default, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a thing seen by itself"
)]
pub(in crate::file::table) struct Beside {
    /// Its numbers add up those of another column, row by row.
    pub(in crate::file::table) runs: bool,
    /// It has a name of its own beside nearly each of a column of INCI names.
    pub(in crate::file::table) names_inci: bool,
    /// It holds nothing but INCI names, and another column has names beside them.
    pub(in crate::file::table) inci_named: bool,
    /// By itself no column says how much of each material there is.
    pub(in crate::file::table) alone: bool,
    /// Some column says how much of each material there is.
    pub(in crate::file::table) measured: bool,
    /// Without headings: its numbers are the percentages times one factor.
    pub(in crate::file::table) follows: bool,
    /// Another column holds nothing but currencies.
    pub(in crate::file::table) valued: bool,
    /// Most of its cells are ranges, and another column makes the whole exactly.
    pub(in crate::file::table) ranged: bool,
    /// Another column is headed as one of INCI names, and most of its cells have them.
    pub(in crate::file::table) described: bool,
    /// A column of INCI names or CAS numbers, headed so, stands left of it.
    pub(in crate::file::table) behind_inci: bool,
}

impl Seen {
    /// What a heading and what stands below it show.
    pub(in crate::file::table) fn of(
        text: &str,
        content: Content,
        batches: &[Decimal],
        beside: Beside,
    ) -> Self {
        let near = |a: Decimal, b: Decimal| (a - b).abs() <= b * Decimal::new(1, 3);
        let scale = content.unit.and_then(Unit::grams);
        let grams = content.total * scale.unwrap_or(Decimal::ONE);
        Self {
            heading: read_heading(text),
            fits_batch: content.numbers > 1 && batches.iter().any(|size| near(grams, *size)),
            beside,
            fits_heading: adds_up_to_heading(text, &content),
            text: text.trim().to_owned(),
            content,
        }
    }

    fn titled(&self) -> bool {
        !self.text.is_empty()
    }
    /// Whether the heading is one of a kind.
    fn says(&self, kind: ColumnKind) -> bool {
        self.heading.as_ref().is_some_and(|h| h.column.kind == kind)
    }
    fn says_any(&self, kinds: &[ColumnKind]) -> bool {
        kinds.iter().any(|kind| self.says(*kind))
    }
    fn spelt(&self, misspelt: bool, whole: bool) -> bool {
        self.heading
            .as_ref()
            .is_some_and(|h| h.misspelt == misspelt && (misspelt || h.whole == whole))
    }
    fn words_at_least(&self, count: usize) -> bool {
        self.heading.as_ref().is_some_and(|h| h.length >= count)
    }
    /// "Batch" above numbers is how much, above codes which.
    fn is_of_batch(&self) -> bool {
        words_of(&self.text)
            .iter()
            .any(|w| w == "batch" || w == "charge")
    }
    fn most(&self, of: fn(&Content) -> usize) -> bool {
        of(&self.content) * 2 > self.content.filled
    }
    fn all(&self, of: fn(&Content) -> usize) -> bool {
        of(&self.content) == self.content.filled
    }
    fn filled(&self, least: usize) -> bool {
        self.content.filled >= least
    }
    /// It holds numbers, or what adds up to a whole.
    fn numeric(&self) -> bool {
        let numbers = self.content.negative < 2 && self.most(|c| c.numbers) && self.filled(2);
        numbers || self.content.is_whole()
    }
    fn money(&self) -> bool {
        self.numeric() && self.most(|c| c.money)
    }
    fn percents(&self) -> bool {
        let shown = self.content.unit == Some(Unit::Percent) || self.content.percents > 0;
        self.numeric() && !self.money() && shown
    }
    fn masses(&self) -> bool {
        let mass = self.content.unit.is_some_and(|u| u != Unit::Percent);
        self.numeric() && !self.money() && !self.percents() && mass
    }
    /// Numbers of which no cell says what they are.
    fn bare(&self) -> bool {
        self.numeric() && !self.money() && !self.percents() && !self.masses()
    }
    fn whole(&self) -> bool {
        let mass = self.content.unit.is_some_and(|u| u != Unit::Percent);
        self.content.is_whole() && !mass && !self.most(|c| c.money)
    }
    /// A heading of materials, all of it and as it should be spelt.
    fn is_headed_materials(&self) -> bool {
        self.says(ColumnKind::Name) && self.spelt(false, true)
    }
    /// Words that name something, and neither letters nor codes.
    fn words(&self) -> bool {
        self.most(|c| c.words)
            && self.content.letters < self.content.filled
            && !self.most(|c| c.cas)
            && !self.most(|c| c.codes)
    }
    fn distinct(&self) -> bool {
        self.most(|c| c.distinct) || self.content.filled < 3
    }
    fn codes_below_name(&self) -> bool {
        let c = &self.content;
        self.says(ColumnKind::Name)
            && c.codes * 10 >= c.filled * 7
            && (c.filled > 1 || c.filled == c.numbers && c.filled > 0)
    }
    /// Short words with digits, and no number, where the heading is one of amounts.
    fn codes_below_amount(&self) -> bool {
        let c = &self.content;
        self.says(ColumnKind::Amount)
            && self.filled(2)
            && c.numbers == 0
            && c.with_digits == c.filled
            && self.most(|c| c.codes)
    }
    /// "How much of 100", but not "per 100 g".
    fn of_a_hundred(&self) -> bool {
        let words = words_of(&self.text);
        words.iter().zip(1..).any(|(word, next)| {
            word == "100" && words.get(next).is_none_or(|w| Unit::named(w).is_none())
        })
    }
    /// In a recipe, words that part the lines into groups and name no materials.
    fn may_be_phases(&self) -> bool {
        self.beside.measured
            && self.content.grouped
            && self.most(|c| c.words)
            && !self.most(|c| c.known)
            && !self.says(ColumnKind::Name)
    }
    /// A whole in percent, most of which are no ranges.
    fn is_plain_whole(&self) -> bool {
        self.content.is_whole() && self.content.ranges * 2 < self.content.filled
    }
    /// A whole in percent or as fractions of 1, of plain numbers.
    fn is_plain_part_of_one(&self) -> bool {
        let one = (self.content.total - Decimal::ONE).abs() <= Decimal::new(1, 2);
        (self.content.is_whole() || one)
            && self.content.ranges == 0
            && self.content.money == 0
            && !self.content.counts_up
    }
    /// "For 1 jar", "6 bars": so many pieces, and little else.
    fn of_pieces(&self) -> bool {
        let words = words_of(&self.text);
        let counts = |w: &String| w.bytes().all(|b| b.is_ascii_digit()) || lists().per.contains(w);
        words.len() <= 3
            && words.iter().any(|w| lists().pieces.contains(w))
            && words.iter().any(counts)
    }
    fn in_metric_units(&self) -> bool {
        let unit = self.heading.as_ref().and_then(|h| h.column.unit);
        matches!(
            unit,
            Some(Unit::Milligram | Unit::Gram | Unit::Hectogram | Unit::Kilogram)
        )
    }
    fn roles(&self) -> bool {
        !self.says(ColumnKind::Name) && self.filled(2) && self.most(|c| c.roles)
    }
}

/// Which kind a line of the table speaks for.
#[derive(Clone, Copy)]
enum For {
    /// That of the heading.
    Heading,
    Kind(ColumnKind),
}

/// A line of the table. What stands in a column counts for more where nothing heads it.
struct Rule {
    seen: fn(&Seen) -> bool,
    speaks: For,
    bare: i32,
    titled: i32,
    reason: &'static str,
}

/// What the heading says.
const fn headed(seen: fn(&Seen) -> bool, weight: i32, reason: &'static str) -> Rule {
    Rule {
        seen,
        speaks: For::Heading,
        bare: 0,
        titled: weight,
        reason,
    }
}

/// What stands below it: for a kind, so much without a heading and so much below one.
const fn found(
    seen: fn(&Seen) -> bool,
    kind: ColumnKind,
    (bare, titled): (i32, i32),
    reason: &'static str,
) -> Rule {
    Rule {
        seen,
        speaks: For::Kind(kind),
        bare,
        titled,
        reason,
    }
}

/// Headings of which cells without any number say that something else is meant: "was" is what, in
/// German.
const OF_NUMBERS: &[ColumnKind] = &[
    ColumnKind::Price,
    ColumnKind::Strength,
    ColumnKind::Earlier,
    ColumnKind::Gross,
    ColumnKind::TotalPrice,
];

/// Headings of numbers that are not those of the recipe, unless nothing else is.
const OF_OTHERS: &[ColumnKind] = &[
    ColumnKind::UseLevel,
    ColumnKind::Strength,
    ColumnKind::Earlier,
    ColumnKind::Composition,
];

/// The table. Weights are our own: a heading that is spelt as it should be outweighs what
/// stands below it, unless that says plainly that it is something else.
const TABLE: &[Rule] = &[
    // What the heading says.
    headed(|c| c.spelt(false, true), 10, "the heading"),
    headed(|c| c.spelt(false, false), 8, "a part of the heading"),
    headed(|c| c.spelt(true, true), 6, "the heading, misspelt"),
    headed(|c| c.words_at_least(1), 1, "a word for it"),
    headed(|c| c.words_at_least(2), 1, "two words for it"),
    headed(|c| c.words_at_least(3), 1, "three words for it"),
    headed(|c| c.words_at_least(4), 1, "four words for it"),
    headed(
        // Ounces and pounds are those of the same grams, rounded.
        |c| c.says(ColumnKind::Amount) && c.in_metric_units(),
        1,
        "in metric units",
    ),
    headed(
        |c| {
            // Prices in words have digits: "8.50 a kilogram".
            let words = c.content.numbers == 0 && c.content.with_digits * 2 < c.content.filled;
            c.says_any(OF_NUMBERS) && c.filled(2) && (c.content.with_digits == 0 || words)
        },
        -20,
        "no cell is a number",
    ),
    headed(
        |c| c.says_any(&[ColumnKind::Percent, ColumnKind::Amount]) && c.content.negative > 1,
        -20,
        "some numbers are below 0",
    ),
    headed(
        |c| {
            c.says_any(&[ColumnKind::Percent, ColumnKind::Amount])
                && c.filled(2)
                && c.content.numbers * 2 < c.content.filled
        },
        -6,
        "most cells are no numbers",
    ),
    headed(
        // Phases come again or are letters; a word for each row is a material.
        |c| {
            c.says(ColumnKind::Phase)
                && c.filled(3)
                && c.content.letters == 0
                && c.all(|c| c.words)
                && c.all(|c| c.distinct)
        },
        -8,
        "each cell is another word",
    ),
    headed(
        |c| c.says(ColumnKind::Phase) && c.spelt(true, true) && c.content.letters == 0,
        -8,
        "only like a heading of phases, and no cell is a letter",
    ),
    headed(
        |c| {
            c.says_any(&[ColumnKind::Role, ColumnKind::Supplier])
                && c.filled(3)
                && c.most(|c| c.numbers)
        },
        -20,
        "the cells are numbers",
    ),
    headed(
        |c| {
            c.says(ColumnKind::Name) && c.filled(2) && c.content.numbers * 10 > c.content.filled * 8
        },
        -14,
        "the cells are numbers",
    ),
    headed(
        |c| c.says(ColumnKind::Amount) && c.is_of_batch() && c.most(|c| c.words),
        -20,
        "the cells are codes",
    ),
    found(
        |c| c.says(ColumnKind::Amount) && c.is_of_batch() && c.most(|c| c.words),
        ColumnKind::Lot,
        (0, 14),
        "codes below “batch”",
    ),
    headed(
        // "Parti" is a part in Italian, a lot in Swedish and Danish.
        Seen::codes_below_amount,
        -20,
        "the cells are codes",
    ),
    found(
        Seen::codes_below_amount,
        ColumnKind::Lot,
        (0, 14),
        "codes below a word for amounts",
    ),
    found(
        // "Part" is a phase in English, a share in French.
        |c| {
            c.beside.alone
                && c.says(ColumnKind::Phase)
                && c.filled(3)
                && c.all(|c| c.numbers)
                && !c.content.in_steps
                && c.is_plain_part_of_one()
        },
        ColumnKind::Percent,
        (0, 30),
        "it adds up to the whole, or to 1, and no other column says how much",
    ),
    found(
        Seen::codes_below_name,
        ColumnKind::Code,
        (0, 20),
        "the cells are numbers or codes",
    ),
    found(
        |c| c.fits_heading,
        ColumnKind::Amount,
        (16, 16),
        "adds up to the size its heading states",
    ),
    found(
        |c| c.fits_batch && !c.percents(),
        ColumnKind::Amount,
        (8, 8),
        "adds up to the size stated above",
    ),
    found(
        |c| c.content.fills_beyond && !c.percents(),
        ColumnKind::Amount,
        (14, 6),
        "a q.s. fills up to more than 100",
    ),
    found(
        Seen::of_a_hundred,
        ColumnKind::Percent,
        (0, 12),
        "it is of a hundred",
    ),
    // What it is beside the others.
    found(
        // "Usage rate" and "Composition %" head the percentages of a recipe.
        |c| c.beside.alone && c.says_any(OF_OTHERS) && c.all(|c| c.numbers) && c.is_plain_whole(),
        ColumnKind::Percent,
        (30, 30),
        "it adds up to the whole, and no other column says how much",
    ),
    found(
        // "Actual (g)".
        |c| c.beside.alone && c.says(ColumnKind::Earlier) && c.filled(2) && c.all(|c| c.numbers),
        ColumnKind::Amount,
        (20, 20),
        "no other column says how much",
    ),
    found(
        // "Lotto grande (2,5 kg)": how much is made, and not which lot.
        |c| c.beside.alone && c.says(ColumnKind::Lot) && c.filled(3) && c.all(|c| c.numbers),
        ColumnKind::Amount,
        (0, 20),
        "no other column says how much, and it holds nothing but numbers",
    ),
    found(
        |c| c.beside.alone && c.of_pieces() && c.numeric() && !c.money() && !c.content.counts_up,
        ColumnKind::Amount,
        (0, 20),
        "no other column says how much, and it is for so many pieces",
    ),
    found(
        |c| c.beside.alone && c.filled(2) && c.most(|c| c.numbers) && c.is_plain_part_of_one(),
        ColumnKind::Percent,
        (1, 1),
        "it adds up to the whole, or to 1, and no other column says how much",
    ),
    found(
        |c| c.beside.follows,
        ColumnKind::Amount,
        (20, 0),
        "it is the percentages times one factor",
    ),
    // What stands below it.
    found(
        |c| c.beside.runs,
        ColumnKind::Earlier,
        (40, 40),
        "adds up another column, row by row",
    ),
    found(
        |c| c.most(|c| c.cas),
        ColumnKind::Cas,
        (12, 6),
        "CAS numbers",
    ),
    found(
        |c| c.filled(2) && c.most(|c| c.currencies),
        ColumnKind::Currency,
        (20, 14),
        "currencies",
    ),
    found(
        |c| c.beside.valued && c.bare() && !c.content.counts_up,
        ColumnKind::Price,
        (8, 4),
        "numbers beside a column of currencies",
    ),
    found(Seen::money, ColumnKind::Price, (12, 6), "amounts of money"),
    found(Seen::percents, ColumnKind::Percent, (8, 4), "percentages"),
    found(
        Seen::masses,
        ColumnKind::Amount,
        (8, 4),
        "amounts with units",
    ),
    found(
        |c| c.bare() && c.content.is_whole(),
        ColumnKind::Percent,
        (7, 3),
        "numbers that add up to 100",
    ),
    found(
        |c| c.bare() && !c.content.is_whole() && c.content.counts_up,
        ColumnKind::Code,
        (6, 3),
        "numbers that count up",
    ),
    found(
        |c| c.bare() && !c.content.is_whole() && !c.content.counts_up,
        ColumnKind::Percent,
        (4, 0),
        "numbers",
    ),
    found(
        |c| c.numeric() && c.whole(),
        ColumnKind::Percent,
        (4, 2),
        "adds up to the whole",
    ),
    found(
        |c| c.numeric() && c.whole() && c.content.is_exactly_whole(),
        ColumnKind::Percent,
        (2, 1),
        "and exactly so",
    ),
    found(
        |c| c.beside.ranged,
        ColumnKind::UseLevel,
        (30, 30),
        "ranges beside a column that makes the whole",
    ),
    found(
        |c| c.content.ranges * 10 >= c.content.filled * 7 && c.filled(2),
        ColumnKind::UseLevel,
        (24, 12),
        "ranges",
    ),
    found(
        |c| {
            let of_recipe = c.says_any(&[ColumnKind::Percent, ColumnKind::Amount]);
            c.most(|c| c.ranges) && c.filled(3) && !of_recipe && c.titled()
        },
        ColumnKind::UseLevel,
        (0, 12),
        "mostly ranges, and no heading of how much",
    ),
    found(
        // Even the highest of all make no recipe.
        |c| {
            c.says(ColumnKind::Percent)
                && c.most(|c| c.ranges)
                && c.filled(3)
                && c.content.highest < Decimal::from(95)
        },
        ColumnKind::UseLevel,
        (30, 30),
        "ranges whose upper ends are no whole together",
    ),
    found(
        // "Dose": "3–8 %", "1 %" beside INCI names: how much of it is used, in a list.
        |c| {
            c.says_any(&[ColumnKind::Percent, ColumnKind::Amount])
                && c.beside.described
                && c.content.ranges * 3 >= c.content.filled
                && c.filled(3)
                && !c.content.filler
                && c.content.highest < Decimal::from(95)
        },
        ColumnKind::UseLevel,
        (30, 30),
        "many ranges beside INCI names, and no whole together",
    ),
    found(
        |c| c.most(|c| c.codes) && !c.most(|c| c.numbers) && c.content.codes > c.content.letters,
        ColumnKind::Code,
        (6, 3),
        "codes",
    ),
    found(
        |c| c.filled(2) && c.most(|c| c.days) && c.heading.is_none(),
        ColumnKind::Dated,
        (12, 12),
        "days",
    ),
    found(
        |c| c.content.units > 1 && c.all(|c| c.units),
        ColumnKind::Unit,
        (14, 7),
        "units",
    ),
    found(
        |c| c.most(|c| c.phases),
        ColumnKind::Phase,
        (12, 6),
        "names of phases",
    ),
    found(
        |c| c.may_be_phases() && c.content.for_phases > 0,
        ColumnKind::Phase,
        (10, 6),
        "words for phases among those that part the lines into groups",
    ),
    found(
        // Words beside some lines alone are remarks.
        |c| c.may_be_phases() && c.heading.is_none() && c.content.filled == c.content.rows,
        ColumnKind::Phase,
        (2, 3),
        "words that part the lines into groups",
    ),
    found(
        |c| c.content.in_steps,
        ColumnKind::Phase,
        (10, 5),
        "numbers from 1 on, each again or the next",
    ),
    found(
        // The same again in each row is a unit or somebody's initials.
        |c| c.content.letters > 1 && c.all(|c| c.letters) && c.content.distinct > 1,
        ColumnKind::Phase,
        (5, 2),
        "letters",
    ),
    found(
        |c| c.content.in_order && c.most(|c| c.letters),
        ColumnKind::Phase,
        (12, 10),
        "letters from A on, each again or the next",
    ),
    found(
        |c| c.content.numbered,
        ColumnKind::Phase,
        (14, 12),
        "letters of phases, with the numbers of lines in them",
    ),
    found(
        // Lines that are held, or fill to 100, are ticked too.
        |c| {
            c.content.ticks > 1
                && c.all(|c| c.ticks)
                && !c.says_any(&[ColumnKind::Held, ColumnKind::Filler])
        },
        ColumnKind::Ticked,
        (20, 14),
        "ticks",
    ),
    found(
        |c| c.content.known > 1 && c.content.known * 2 > c.content.words && c.most(|c| c.words),
        ColumnKind::Name,
        (8, 4),
        "names of materials",
    ),
    found(
        |c| c.words() && c.distinct(),
        ColumnKind::Name,
        (5, 2),
        "words",
    ),
    found(
        |c| c.words() && !c.distinct(),
        ColumnKind::Name,
        (1, 0),
        "words, some of them again",
    ),
    // Words such as "surfactant" and "emulsifier", unless the heading is that of materials:
    // "salt" and "oil" are both.
    found(Seen::roles, ColumnKind::Role, (6, 8), "what materials do"),
    found(Seen::roles, ColumnKind::Name, (-6, -8), "what materials do"),
    found(
        |c| c.beside.inci_named && !c.is_headed_materials(),
        ColumnKind::Inci,
        (30, 24),
        "nothing but INCI names, and names beside them",
    ),
    found(
        |c| c.beside.names_inci && c.words(),
        ColumnKind::Name,
        (4, 4),
        "a name beside each of the INCI names",
    ),
    found(
        // What stands behind the INCI names under a heading that nobody knows is said of them.
        |c| c.beside.behind_inci && c.titled() && c.heading.is_none() && c.content.known == 0,
        ColumnKind::Name,
        (0, -20),
        "behind the INCI names, and no name of a material",
    ),
    found(
        |c| c.most(|c| c.sentences),
        ColumnKind::Name,
        (-8, -8),
        "sentences",
    ),
    found(
        |c| c.content.filled * 2 < c.content.rows,
        ColumnKind::Name,
        (-6, -6),
        "most lines have none",
    ),
];

/// All evidence of a column.
pub(in crate::file::table) fn evidence(column: usize, seen: &Seen) -> Vec<Evidence> {
    let titled = seen.titled();
    let lines = TABLE.iter().filter(|rule| (rule.seen)(seen));
    lines
        .filter_map(|rule| {
            let (kind, reason) = match rule.speaks {
                For::Kind(kind) => (kind, rule.reason.to_owned()),
                For::Heading => {
                    let kind = seen.heading.as_ref()?.column.kind;
                    (kind, format!("{} “{}”", rule.reason, seen.text))
                }
            };
            let weight = if titled { rule.titled } else { rule.bare };
            (weight != 0).then_some(Evidence {
                column,
                kind,
                weight,
                reason,
            })
        })
        .collect()
}

/// Whether a heading such as "500 g" or "1 kg batch" stands above numbers that add up to just
/// that: the amounts of a batch of this size.
fn adds_up_to_heading(heading: &str, content: &Content) -> bool {
    if content.numbers < 2 || crate::file::table::money::names_money(heading) {
        return false;
    }
    let near = |a: Decimal, b: Decimal| (a - b).abs() <= b * Decimal::new(5, 3);
    sizes_in(heading)
        .iter()
        .any(|(number, grams)| near(content.total, *grams) || near(content.total, *number))
}

/// Whether any column is one of the amounts of a batch whose size its heading states.
pub(in crate::file::table) fn has_batches(table: &Table, layout: &Layout) -> bool {
    let rows = layout.first_row()..table.rows.len();
    (0..table.width()).any(|column| {
        let content = Content::of(table, column, rows.clone());
        adds_up_to_heading(&layout.heading(table, column), &content)
    })
}
