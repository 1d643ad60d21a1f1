//! What a row of a list is: a line, a phase, a sum, a property, a remark.

use super::{Rule, Verdict, rule};

/// What stands where a row has its amount.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(in crate::file::table) enum Amount {
    #[default]
    None,
    /// A dash in its place.
    Dash,
    /// One that is read.
    Read,
    /// Something that is no amount.
    Unread,
}

/// What a row may be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::file::table) enum Reading {
    /// A material and how much of it.
    Line,
    /// A material whose amount is missing.
    Unmeasured,
    /// It begins a phase.
    Phase,
    /// It may begin a phase, though no word says so.
    PerhapsPhase,
    /// It begins a phase and states its sum.
    PhaseWithSum,
    /// The sum of the rows above, without a word.
    Sum,
    /// An amount of nothing.
    Stray,
    /// A property of the finished product.
    Property,
    /// It stands below the list.
    Below,
    /// Something said between the lines.
    Remark,
    /// A material with a dash for its amount.
    Dashed,
    /// The INCI names of the row above.
    InciOfAbove,
    /// A part of what stands in the row above.
    PartOfAbove,
}

impl Reading {
    /// In words, as in "it could also be …".
    pub(in crate::file::table) const fn label(self) -> &'static str {
        match self {
            Self::Line => "a material",
            Self::Unmeasured => "a material without an amount",
            Self::Phase | Self::PerhapsPhase => "the beginning of a phase",
            Self::PhaseWithSum => "a phase with its sum",
            Self::Sum => "a sum",
            Self::Stray => "an amount of nothing",
            Self::Property => "a property of the product",
            Self::Below => "something below the list",
            Self::Remark => "a remark",
            Self::Dashed => "a material that is left out",
            Self::InciOfAbove => "the INCI names of the row above",
            Self::PartOfAbove => "a part of the row above",
        }
    }
}

/// What is seen of a row.
#[derive(Clone, Copy, Default, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a thing seen by itself"
)]
pub(in crate::file::table) struct Seen {
    pub(in crate::file::table) amount: Amount,
    /// Something stands where materials are named.
    pub(in crate::file::table) named: bool,
    /// A material goes by the name for certain.
    pub(in crate::file::table) known: bool,
    /// INCI names or a CAS number stand beside it.
    pub(in crate::file::table) identified: bool,
    /// Lines follow further down.
    pub(in crate::file::table) inside: bool,
    /// A total of the whole stands above.
    pub(in crate::file::table) summed: bool,
    /// The lines above are a whole already.
    pub(in crate::file::table) complete: bool,
    /// Its words are those of a phase.
    pub(in crate::file::table) phase_words: bool,
    /// The word "phase" is among them, with a letter or what it is for.
    pub(in crate::file::table) says_phase: bool,
    /// Its name is a letter.
    pub(in crate::file::table) letter: bool,
    /// Words of a phase are all that stands beside its amount.
    pub(in crate::file::table) phase_beside: bool,
    /// The column of phases names one.
    pub(in crate::file::table) phase_cell: bool,
    /// It stands alone in capitals, as all rows did that began phases.
    pub(in crate::file::table) like_phases: bool,
    /// A few words alone in a list without phases.
    pub(in crate::file::table) few_words: bool,
    /// It stands alone, and a sum further down goes by its words.
    pub(in crate::file::table) summed_by_name: bool,
    /// It stands alone right above headings that come again.
    pub(in crate::file::table) above_headings: bool,
    /// Its amount is the sum of all lines above, or of those since the last sum.
    pub(in crate::file::table) sum_of_above: bool,
    /// Its amount is the sum of lines right below.
    pub(in crate::file::table) sum_of_below: bool,
    /// It is that of two at least, which are not called a phase.
    pub(in crate::file::table) sum_of_several_below: bool,
    /// It says that it is a part of the row above: "of which olive oil".
    pub(in crate::file::table) part_of_above: bool,
    /// It stands alone, numbered or lettered on from those before, with lines below each.
    pub(in crate::file::table) in_sequence: bool,
    /// Its name is that of a property.
    pub(in crate::file::table) property: bool,
    /// Blank rows part it from the lines above, which are a whole, or each of which is in a
    /// phase while this is in none.
    pub(in crate::file::table) apart: bool,
    /// In this list the INCI names stand below each line, and nothing else is in this row.
    pub(in crate::file::table) inci_below: bool,
}

impl Seen {
    fn amounted(&self) -> bool {
        matches!(self.amount, Amount::Read | Amount::Unread)
    }
    fn bare(&self) -> bool {
        matches!(self.amount, Amount::None | Amount::Dash)
    }
}

/// A lead of less is told.
const CLEAR: i32 = 5;

/// The table. Weights are our own.
const TABLE: &[Rule<Seen, Reading>] = &[
    // A name with an amount.
    rule(
        |r| r.amounted() && r.named,
        Reading::Line,
        10,
        "a name with an amount",
    ),
    rule(
        |r| r.amounted() && r.named && r.known,
        Reading::Line,
        8,
        "a material goes by the name",
    ),
    rule(
        |r| r.amounted() && r.named && r.identified,
        Reading::Line,
        12,
        "INCI or CAS beside it",
    ),
    rule(
        |r| r.amount == Amount::Read && r.named && r.phase_words && r.says_phase,
        Reading::PhaseWithSum,
        40,
        "it says that it is a phase",
    ),
    rule(
        |r| r.amount == Amount::Read && r.named && r.phase_words && r.letter,
        Reading::PhaseWithSum,
        20,
        "no material is called by a letter",
    ),
    rule(
        |r| r.amount == Amount::Read && r.named && r.phase_words && r.sum_of_below,
        Reading::PhaseWithSum,
        16,
        "the rows below add up to it",
    ),
    rule(
        |r| r.amount == Amount::Read && r.named && r.phase_words && r.sum_of_above,
        Reading::PhaseWithSum,
        -16,
        "so do the rows above",
    ),
    rule(
        |r| r.amount == Amount::Unread && r.named && !r.inside && (r.summed || !r.known),
        Reading::Below,
        30,
        "no amount, below the list",
    ),
    rule(
        |r| r.amount == Amount::Unread && r.named && r.phase_words && r.says_phase,
        Reading::Phase,
        24,
        "it says that it is a phase",
    ),
    rule(
        // "Oils, 25" above oils of 25 %.
        |r| r.sum_of_several_below && !r.phase_words && !r.known && !r.identified,
        Reading::PhaseWithSum,
        8,
        "the rows below add up to it, and no material goes by the name",
    ),
    rule(|r| r.part_of_above, Reading::PartOfAbove, 60, "it says so"),
    // An amount without a name.
    rule(
        |r| r.amounted() && !r.named,
        Reading::Stray,
        5,
        "an amount without a material",
    ),
    rule(
        |r| r.amount == Amount::Read && !r.named && r.sum_of_above,
        Reading::Sum,
        12,
        "the rows above add up to it",
    ),
    rule(
        |r| r.amount == Amount::Read && !r.named && r.phase_beside,
        Reading::PhaseWithSum,
        20,
        "a phase is all that is named beside it",
    ),
    rule(
        |r| r.amount == Amount::Unread && !r.named && r.phase_words,
        Reading::Phase,
        20,
        "the words of a phase",
    ),
    // Words without an amount.
    rule(Seen::bare, Reading::Remark, 5, "words without an amount"),
    rule(
        |r| r.bare() && r.few_words,
        Reading::PerhapsPhase,
        15,
        "a few words alone in their row",
    ),
    rule(
        // "Lye" above the headings of the next list.
        |r| r.bare() && r.above_headings && r.known,
        Reading::PerhapsPhase,
        32,
        "it stands alone above headings that come again",
    ),
    rule(
        |r| {
            let told = r.identified || r.phase_cell || r.known;
            r.amount == Amount::None && r.named && told
        },
        Reading::Unmeasured,
        25,
        "a material, by its name or by what is beside it",
    ),
    rule(
        |r| r.bare() && r.like_phases,
        Reading::Phase,
        30,
        "it stands as all phases do",
    ),
    rule(
        |r| r.bare() && !r.named && r.phase_cell,
        Reading::Phase,
        35,
        "the column of phases alone is filled",
    ),
    rule(
        |r| r.bare() && r.phase_words,
        Reading::Phase,
        40,
        "the words of a phase",
    ),
    rule(
        |r| r.bare() && r.summed_by_name,
        Reading::Phase,
        50,
        "a sum further down goes by its words",
    ),
    rule(
        |r| r.bare() && r.in_sequence,
        Reading::Phase,
        50,
        "it is numbered on from those that begin phases",
    ),
    rule(
        |r| r.bare() && !r.inside,
        Reading::Below,
        46,
        "no line follows",
    ),
    rule(
        |r| r.bare() && !r.inside,
        Reading::Phase,
        -200,
        "no line follows",
    ),
    rule(
        |r| r.bare() && !r.inside,
        Reading::PerhapsPhase,
        -200,
        "no line follows",
    ),
    rule(
        |r| r.amount == Amount::Dash && r.named,
        Reading::Dashed,
        120,
        "a dash for its amount",
    ),
    rule(
        |r| r.bare() && r.inci_below,
        Reading::InciOfAbove,
        130,
        "nothing but INCI names",
    ),
    // What stands below the whole.
    rule(
        |r| r.amounted() && r.apart && !r.known && !r.identified,
        Reading::Below,
        60,
        "it stands apart from the whole list, and no material goes by the name",
    ),
    rule(
        |r| r.amounted() && r.summed && r.complete,
        Reading::Below,
        100,
        "the recipe is whole above it",
    ),
    rule(
        |r| r.property && (!r.inside || r.summed || r.complete),
        Reading::Property,
        110,
        "the name of a property, where the list is over",
    ),
];

/// What a row is.
pub(in crate::file::table) fn weigh(seen: &Seen) -> Verdict<Reading> {
    super::weigh(TABLE, seen, CLEAR).unwrap_or(Verdict {
        best: Reading::Remark,
        reasons: Vec::new(),
        close: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(seen: Seen, best: Reading, close: Option<Reading>) {
        let verdict = weigh(&seen);
        assert_eq!((verdict.best, verdict.close), (best, close), "{seen:?}");
    }

    #[test]
    fn rows_are_what_most_speaks_for() {
        let line = Seen {
            amount: Amount::Read,
            named: true,
            inside: true,
            ..Seen::default()
        };
        check(line, Reading::Line, None);
        // "Phase A, 75".
        let phase = Seen {
            phase_words: true,
            says_phase: true,
            ..line
        };
        check(phase, Reading::PhaseWithSum, None);
        // "Oils, 25", and lines of 25 below: a phase, unless a material goes by that name.
        let oils = Seen {
            phase_words: true,
            sum_of_below: true,
            ..line
        };
        check(oils, Reading::PhaseWithSum, None);
        let oil = Seen {
            known: true,
            ..oils
        };
        check(oil, Reading::Line, Some(Reading::PhaseWithSum));
        let words = Seen {
            inside: true,
            named: true,
            ..Seen::default()
        };
        check(words, Reading::Remark, None);
        check(
            Seen {
                known: true,
                ..words
            },
            Reading::Unmeasured,
            None,
        );
        check(
            Seen {
                phase_words: true,
                ..words
            },
            Reading::Phase,
            None,
        );
        check(
            Seen {
                inside: false,
                ..words
            },
            Reading::Below,
            None,
        );
        let oils_of = Seen {
            sum_of_several_below: true,
            ..line
        };
        check(oils_of, Reading::Line, Some(Reading::PhaseWithSum));
        let part = Seen {
            part_of_above: true,
            known: true,
            ..line
        };
        check(part, Reading::PartOfAbove, None);
        let third = Seen {
            in_sequence: true,
            ..words
        };
        check(third, Reading::Phase, None);
        let property = Seen {
            property: true,
            inside: false,
            ..line
        };
        check(property, Reading::Property, None);
    }
}
