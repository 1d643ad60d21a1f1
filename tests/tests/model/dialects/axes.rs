//! In what ways tables of makers differ. Each way is an axis; the first value of each is the
//! plainest.

use super::dice::Dice;

/// A way in which tables differ.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Axis {
    Form,
    Language,
    Headings,
    Order,
    Named,
    Names,
    Amounts,
    Batch,
    Cells,
    Mark,
    Digits,
    Filler,
    Phases,
    PhaseWords,
    Total,
    Above,
    Below,
    Several,
    Out,
    Blank,
    Number,
    Function,
    Supplier,
    Level,
    Earlier,
    Strength,
    Price,
    Note,
    Tick,
    Date,
    Procedure,
    Line,
    Between,
    Beside,
    Later,
    Dress,
    Twice,
    Turned,
    Basis,
    Money,
    Tax,
    Packs,
    Groups,
    Stock,
    Valid,
}

/// The axes of recipes, each with its values, the plainest first.
pub const AXES: &[(Axis, &[&str])] = &[
    (
        Axis::Form,
        &[
            "workbook",
            "semicolons",
            "commas",
            "tabs",
            "markdown",
            "page",
            "aligned",
            "list",
            "sentences",
        ],
    ),
    (Axis::Language, &["en", "de", "fr", "es", "it", "nl", "pl"]),
    (
        Axis::Headings,
        &[
            "plain",
            "misspelt",
            "capitals",
            "units below",
            "none",
            "strange",
            "foreign",
            "product",
        ],
    ),
    (Axis::Order, &["usual", "amount first", "shuffled"]),
    (
        Axis::Named,
        &[
            "name",
            "name and INCI",
            "INCI",
            "trade and INCI",
            "INCI in brackets",
            "name, INCI, CAS",
            "INCI in the cell",
            "INCI below",
        ],
    ),
    (Axis::Names, &["name", "synonym", "everyday"]),
    (
        Axis::Amounts,
        &[
            "percent",
            "grams",
            "percent and grams",
            "grams and percent",
            "shares",
            "kilograms",
            "parts",
            "percent and two batches",
            "percent and part of phase",
        ],
    ),
    (
        Axis::Batch,
        &["above", "heading", "total", "nowhere", "title"],
    ),
    (
        Axis::Cells,
        &[
            "numbers",
            "with unit",
            "some with unit",
            "rough",
            "limits",
            "ranges",
            "unit column",
            "footnotes",
        ],
    ),
    (Axis::Mark, &["point", "comma"]),
    (Axis::Digits, &["short", "fixed"]),
    (
        Axis::Filler,
        &["number", "q.s.", "q.s. 100", "ad 100", "rest", "in words"],
    ),
    (
        Axis::Phases,
        &[
            "column",
            "first row",
            "merged",
            "headings",
            "headings with sums",
            "one",
            "blank rows",
            "own tables",
            "item numbers",
        ],
    ),
    (
        Axis::PhaseWords,
        &[
            "letter",
            "word and letter",
            "letter and purpose",
            "purpose",
            "degrees",
            "number",
            "roman",
            "bracket",
            "small letter",
            "colon",
        ],
    ),
    (
        Axis::Total,
        &[
            "none",
            "named",
            "bare",
            "named with sums of phases",
            "bare with sums of phases",
            "named with sums that name phases",
        ],
    ),
    (Axis::Above, &["nothing", "name", "facts", "many facts"]),
    (
        Axis::Below,
        &["nothing", "facts", "method", "remarks", "all"],
    ),
    (
        Axis::Several,
        &["one", "below", "beside", "versions", "sheets"],
    ),
    (Axis::Out, &["nothing", "hidden row", "struck row"]),
    (Axis::Blank, &["nothing", "rows", "column", "left column"]),
    (Axis::Number, &["none", "running", "code"]),
    (Axis::Function, &["none", "function"]),
    (Axis::Supplier, &["none", "supplier"]),
    (Axis::Level, &["none", "highest", "range"]),
    (Axis::Earlier, &["none", "old"]),
    (Axis::Strength, &["none", "active"]),
    (Axis::Price, &["none", "per kilogram", "cost", "both"]),
    (Axis::Note, &["none", "some", "with numbers"]),
    (Axis::Tick, &["none", "box", "word"]),
    (Axis::Date, &["none", "day"]),
    (Axis::Procedure, &["none", "column"]),
    (
        Axis::Line,
        &[
            "name first",
            "amount first",
            "colon",
            "brackets",
            "dash",
            "dots",
            "letter first",
            "both",
        ],
    ),
    (
        Axis::Between,
        &["nothing", "remarks", "empty lines of a form"],
    ),
    (
        Axis::Beside,
        &[
            "nothing",
            "method",
            "facts",
            "running sum",
            "weighed",
            "instead",
        ],
    ),
    (
        Axis::Later,
        &["nothing", "costs", "label", "packaging", "tests"],
    ),
    (
        Axis::Dress,
        &[
            "plain",
            "wide blanks",
            "numbers as text",
            "numbered names",
            "capitals",
        ],
    ),
    (Axis::Twice, &["once", "twice"]),
    (Axis::Turned, &["upright", "turned"]),
];

/// The axes of price lists.
pub const PRICE_AXES: &[(Axis, &[&str])] = &[
    (
        Axis::Form,
        &[
            "workbook",
            "semicolons",
            "commas",
            "tabs",
            "markdown",
            "page",
        ],
    ),
    (Axis::Language, &["en", "de", "fr", "es", "it", "nl", "pl"]),
    (Axis::Headings, &["plain", "misspelt", "capitals", "none"]),
    (Axis::Order, &["usual", "shuffled"]),
    (Axis::Named, &["name", "name and INCI", "name, INCI, CAS"]),
    (Axis::Names, &["name", "synonym", "everyday"]),
    (
        Axis::Basis,
        &[
            "per kilogram",
            "per 100 g",
            "pack",
            "pack in heading",
            "pack in name",
            "tiers",
            "pack and unit",
            "unit column",
            "from quantities",
            "several packs",
            "receipt",
            "pack and per kilogram",
        ],
    ),
    (
        Axis::Money,
        &[
            "sign in heading",
            "code in heading",
            "format",
            "in cell",
            "column",
            "nowhere",
        ],
    ),
    (
        Axis::Tax,
        &[
            "unsaid",
            "net",
            "net and gross",
            "gross",
            "gross with rate",
            "rate beside",
        ],
    ),
    (Axis::Packs, &["none", "count"]),
    (Axis::Mark, &["point", "comma"]),
    (Axis::Digits, &["short", "fixed"]),
    (Axis::Number, &["none", "running", "code"]),
    (Axis::Function, &["none", "function"]),
    (Axis::Note, &["none", "some"]),
    (Axis::Above, &["nothing", "name", "facts"]),
    (
        Axis::Below,
        &[
            "nothing",
            "remarks",
            "freight",
            "sum",
            "tax added",
            "tax in it",
        ],
    ),
    (Axis::Supplier, &["none", "supplier"]),
    (Axis::Level, &["none", "highest", "range"]),
    (Axis::Strength, &["none", "active"]),
    (Axis::Groups, &["none", "headings", "column"]),
    (Axis::Blank, &["nothing", "rows", "left column"]),
    (Axis::Out, &["nothing", "hidden row", "struck row"]),
    (Axis::Stock, &["none", "in stock", "lots"]),
    (Axis::Valid, &["none", "day"]),
];

/// One way of keeping tables: a value of each axis, by its place.
#[derive(Clone, Debug)]
pub struct Dialect {
    axes: &'static [(Axis, &'static [&'static str])],
    values: Vec<usize>,
}

impl Dialect {
    /// Draws each axis by itself; most are plain in two of three.
    pub fn draw(axes: &'static [(Axis, &'static [&'static str])], dice: &mut Dice) -> Self {
        let value = |(axis, values): &(Axis, &[&str])| {
            let always = matches!(
                axis,
                Axis::Form | Axis::Language | Axis::Phases | Axis::Basis | Axis::Money
            );
            if always || dice.chance(3) {
                dice.below(values.len())
            } else {
                0
            }
        };
        Self {
            axes,
            values: axes.iter().map(value).collect(),
        }
    }

    /// Its axes.
    pub fn axes(&self) -> impl Iterator<Item = Axis> + use<> {
        self.axes.iter().map(|(axis, _)| *axis)
    }

    fn place(&self, axis: Axis) -> usize {
        self.axes.iter().position(|(one, _)| *one == axis).unwrap()
    }

    /// Its value of an axis.
    pub fn of(&self, axis: Axis) -> &'static str {
        let at = self.place(axis);
        self.axes[at].1[self.values[at]]
    }

    /// Whether an axis has a value; one that a kind of list does not have has none.
    pub fn is(&self, axis: Axis, value: &str) -> bool {
        let Some((_, values)) = self.axes.iter().find(|(one, _)| *one == axis) else {
            return false;
        };
        assert!(values.contains(&value), "{axis:?} is never “{value}”");
        self.of(axis) == value
    }

    /// The same with an axis as plain as it can be; `None` if it is.
    pub fn plainer(&self, axis: Axis) -> Option<Self> {
        let at = self.place(axis);
        let mut other = self.clone();
        (self.values[at] > 0).then(|| {
            other.values[at] = 0;
            other
        })
    }

    /// The same with an axis of another value.
    pub fn with(&self, axis: Axis, value: &str) -> Self {
        let mut other = self.clone();
        let at = self.place(axis);
        other.values[at] = self.axes[at].1.iter().position(|v| *v == value).unwrap();
        other
    }

    /// What of it is not plain, in words.
    pub fn words(&self) -> String {
        let odd: Vec<String> = self
            .axes
            .iter()
            .filter(|(axis, values)| self.of(*axis) != values[0])
            .map(|(axis, _)| format!("{axis:?}: {}", self.of(*axis)))
            .collect();
        if odd.is_empty() {
            "plain".to_owned()
        } else {
            odd.join(", ")
        }
    }
}
