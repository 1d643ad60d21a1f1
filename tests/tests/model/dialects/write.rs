//! Writes a recipe in a dialect, as rows of cells.

use std::fmt::Write as _;

use formulation::amount::number::Unit;
use formulation::file::table::{Cell, Shown};
use rust_decimal::Decimal;

use super::axes::{Axis, Dialect};
use super::dice::Dice;
use super::recipe::{Line, Recipe, WHOLE};
use super::words::{self, Column};

/// What a row is there for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Kind {
    Text,
    Heading,
    Phase,
    Body,
}

/// A row of a list.
#[derive(Clone, Debug)]
pub struct Row {
    pub kind: Kind,
    pub cells: Vec<Cell>,
    pub struck: bool,
    pub hidden: bool,
}

/// How phases can be told from what is written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Phases {
    /// By their letters.
    Letters(Vec<String>),
    /// By what belongs together.
    Groups,
    /// Not at all.
    Hidden,
}

/// A recipe as written.
#[derive(Clone, Debug)]
pub struct List {
    pub rows: Vec<Row>,
    pub phases: Phases,
    /// Where cells of a column are merged over rows: row, column, how many rows.
    pub merged: Vec<(usize, usize, usize)>,
    /// Each phase has a table of its own.
    pub own_tables: bool,
    /// Grams of the batch, if they are written down.
    pub batch: Option<i64>,
}

/// Writes one recipe; further ones of the same materials are versions of it.
pub fn list(recipe: &Recipe, versions: &[Recipe], dialect: &Dialect, dice: &mut Dice) -> List {
    let batch = dice.of(&[100_i64, 200, 250, 500, 1000, 1500]);
    let mut writer = Writer {
        recipe,
        versions,
        dialect,
        batch,
        columns: Vec::new(),
        heading_of_phases: 0,
        names: 0,
        short_word: dice.below(3),
        dice,
        list: List {
            rows: Vec::new(),
            phases: Phases::Hidden,
            merged: Vec::new(),
            own_tables: dialect.is(Axis::Phases, "own tables"),
            batch: None,
        },
    };
    writer.write();
    writer.list
}

struct Writer<'w> {
    recipe: &'w Recipe,
    versions: &'w [Recipe],
    dialect: &'w Dialect,
    /// Grams.
    batch: i64,
    columns: Vec<Column>,
    /// The column in which phases are headed.
    heading_of_phases: usize,
    names: usize,
    short_word: usize,
    dice: &'w mut Dice,
    list: List,
}

/// A number of so many hundredths.
fn hundredths(value: i64) -> Decimal {
    Decimal::new(value, 2).normalize()
}

fn text(words: impl Into<String>) -> Cell {
    Cell::Text(words.into())
}

fn plain(value: Decimal) -> Cell {
    Cell::Number {
        value,
        shown: Shown::Plain,
    }
}

impl Writer<'_> {
    fn is(&self, axis: Axis, value: &str) -> bool {
        self.dialect.is(axis, value)
    }

    fn language(&self) -> &'static str {
        self.dialect.of(Axis::Language)
    }

    fn amounts(&self) -> Vec<Column> {
        if !self.versions.is_empty() {
            return vec![Column::Percent; 1 + self.versions.len()];
        }
        match self.dialect.of(Axis::Amounts) {
            "grams" => vec![Column::Grams],
            "percent and grams" => vec![Column::Percent, Column::Grams],
            "grams and percent" => vec![Column::Grams, Column::Percent],
            "kilograms" => vec![Column::Kilograms],
            "parts" => vec![Column::Parts],
            "percent and two batches" => vec![Column::Percent, Column::Batch, Column::Batch],
            "percent and part of phase" => vec![Column::Percent, Column::OfPhase],
            _ => vec![Column::Percent],
        }
    }

    fn choose_columns(&mut self) {
        let materials = match self.dialect.of(Axis::Named) {
            "name and INCI" => vec![Column::Name, Column::Inci],
            "INCI" => vec![Column::Inci],
            "trade and INCI" => vec![Column::Trade, Column::Inci],
            "name, INCI, CAS" => vec![Column::Name, Column::Inci, Column::Cas],
            _ => vec![Column::Name],
        };
        let mut amounts = self.amounts();
        if self.is(Axis::Cells, "unit column") && amounts.len() == 1 {
            amounts.push(Column::Unit);
        }
        let in_column = ["column", "first row", "merged", "item numbers"]
            .iter()
            .any(|v| self.is(Axis::Phases, v));
        let mut groups: Vec<Vec<Column>> = Vec::new();
        let mut with = |given: bool, columns: &[Column]| {
            if given {
                groups.push(columns.to_vec());
            }
        };
        let d = self.dialect;
        with(d.of(Axis::Tick) != "none", &[Column::Tick]);
        with(in_column, &[Column::Phase]);
        with(d.is(Axis::Number, "running"), &[Column::Number]);
        with(d.is(Axis::Number, "code"), &[Column::Code]);
        with(true, &materials);
        with(d.is(Axis::Function, "function"), &[Column::Function]);
        with(d.is(Axis::Supplier, "supplier"), &[Column::Supplier]);
        with(d.is(Axis::Strength, "active"), &[Column::Active]);
        with(d.is(Axis::Level, "highest"), &[Column::Highest]);
        with(d.is(Axis::Level, "range"), &[Column::Range]);
        with(d.is(Axis::Earlier, "old"), &[Column::Old]);
        with(d.is(Axis::Blank, "column"), &[Column::Empty]);
        with(true, &amounts);
        with(d.is(Axis::Beside, "running sum"), &[Column::RunningSum]);
        with(
            d.is(Axis::Beside, "weighed") && amounts.contains(&Column::Grams),
            &[Column::Weighed],
        );
        with(d.is(Axis::Beside, "instead"), &[Column::Instead]);
        let price = d.of(Axis::Price);
        with(
            matches!(price, "per kilogram" | "both"),
            &[Column::PricePerKilogram],
        );
        with(matches!(price, "cost" | "both"), &[Column::Cost]);
        with(d.is(Axis::Date, "day"), &[Column::Date]);
        with(d.of(Axis::Note) != "none", &[Column::Note]);
        with(d.is(Axis::Procedure, "column"), &[Column::Procedure]);
        match d.of(Axis::Order) {
            "amount first" => groups.sort_by_key(|g| *g != amounts),
            "shuffled" => self.dice.shuffle(&mut groups),
            _ => {}
        }
        if d.is(Axis::Blank, "left column") {
            groups.insert(0, vec![Column::Empty]);
        }
        self.columns = groups.concat();
        let names = [Column::Name, Column::Trade, Column::Inci];
        let mut columns = self.columns.iter();
        self.names = columns.position(|c| names.contains(c)).unwrap();
        let first = usize::from(d.is(Axis::Blank, "left column"));
        // Not where the sum of the phase stands.
        let fits = matches!(
            self.columns[first],
            Column::Phase | Column::Number | Column::Code | Column::Name | Column::Tick
        );
        self.heading_of_phases = if self.dice.chance(2) || !fits {
            self.names
        } else {
            first
        };
    }

    fn push(&mut self, kind: Kind, cells: Vec<Cell>) {
        self.list.rows.push(Row {
            kind,
            cells,
            struck: false,
            hidden: false,
        });
    }

    /// A row of words in the first column that has any.
    fn push_text(&mut self, cells: Vec<Cell>) {
        let left = self.is(Axis::Blank, "left column");
        let blank = left.then_some(Cell::Empty);
        self.push(Kind::Text, blank.into_iter().chain(cells).collect());
    }

    /// "pH: 5.5" in one cell or in two.
    fn fact(&mut self, (key, value): (&str, &str)) {
        let cells = if self.dice.chance(2) {
            vec![text(key), text(value)]
        } else {
            vec![text(format!("{key}: {value}"))]
        };
        self.push_text(cells);
    }

    /// The batch is written down.
    fn states_batch(&mut self) {
        let kilograms = self.is(Axis::Amounts, "kilograms");
        self.list.batch = Some(self.batch * if kilograms { 1000 } else { 1 });
    }

    fn in_grams(&self) -> bool {
        let has = |c: &Column| matches!(c, Column::Grams | Column::Kilograms);
        self.columns.iter().any(has)
    }

    fn batch_words(&self) -> String {
        if self.is(Axis::Amounts, "kilograms") {
            // As many kilograms as otherwise grams.
            format!("{} kg", self.batch)
        } else if self.batch % 1000 == 0 {
            format!("{} kg", self.batch / 1000)
        } else {
            format!("{} g", self.batch)
        }
    }

    fn write(&mut self) {
        self.choose_columns();
        self.write_above();
        let own_tables = self.is(Axis::Phases, "own tables");
        let from = self.list.rows.len();
        if !own_tables {
            self.write_headings();
        }
        self.write_lines();
        if self.is(Axis::Between, "empty lines of a form") {
            for n in 0..3 {
                let number = self.recipe.lines.len() + 1 + n;
                let cells = self.columns.iter().map(|column| match column {
                    Column::Number => plain(Decimal::from(number as u64)),
                    Column::Cost => plain(Decimal::ZERO),
                    Column::Tick if !self.is(Axis::Tick, "word") => text("☐"),
                    _ => Cell::Empty,
                });
                let cells = cells.collect();
                self.push(Kind::Body, cells);
            }
        }
        self.write_total();
        self.write_beside(from);
        self.write_below();
        self.write_later();
    }

    fn write_above(&mut self) {
        let language = self.language();
        let above = self.dialect.of(Axis::Above);
        let product = self.dice.of(&words::products(language));
        if self.is(Axis::Batch, "title") {
            let size = self.batch_words();
            let words = match self.short_word {
                0 => format!("{product} ({size})"),
                1 => format!("{product}, {size}"),
                _ => format!("{product} – {size}"),
            };
            self.push_text(vec![text(words)]);
            self.states_batch();
        } else if above != "nothing" {
            self.push_text(vec![text(product)]);
        }
        if above == "many facts" {
            for head in words::heads(language) {
                self.fact(head);
            }
        }
        if self.is(Axis::Batch, "above") && self.in_grams() {
            let key = self.dice.of(words::batch(language));
            let size = self.batch_words();
            self.fact((key, &size));
            self.states_batch();
        }
        if above == "facts" || above == "many facts" {
            let fact = words::facts(language)[0];
            self.fact(fact);
            self.push_text(Vec::new());
        }
    }

    /// A heading as it is written.
    fn heading(&mut self, column: Column, nth: usize) -> String {
        let language = self.language();
        let mut heading = self.dice.of(words::headings(column, language)).to_owned();
        if column == Column::Percent && !self.versions.is_empty() {
            heading = format!("V{} %", nth + 1);
        }
        if column == Column::Batch {
            heading = match nth {
                0 => format!("{heading} {} g", self.batch),
                _ => format!("{heading} {} g", self.batch * 2),
            };
        }
        if self.is(Axis::Batch, "heading") && column == Column::Grams {
            heading = match self.short_word {
                0 => format!("{} g", self.batch),
                1 => format!("g / {} g", self.batch),
                _ => format!("{heading} {} g", self.dice.of(&["for", "pro", "per"])),
            };
            if self.short_word > 1 {
                heading = format!(
                    "{} {} g",
                    self.dice.of(words::headings(Column::Batch, language)),
                    self.batch
                );
            }
        }
        let odd = match self.dialect.of(Axis::Headings) {
            "strange" => words::odd_heading(column, 0),
            "foreign" => words::odd_heading(column, 1 + usize::try_from(self.batch).unwrap() % 4),
            "product" if column == Column::Name => Some(words::products(language)[0]),
            _ => None,
        };
        if let Some(odd) = odd.filter(|_| self.versions.is_empty()) {
            return odd.to_owned();
        }
        if self.is(Axis::Batch, "heading") && column == Column::Grams {
            self.states_batch();
        }
        words::spelt(heading, self.dialect.of(Axis::Headings), self.dice)
    }

    fn write_headings(&mut self) {
        if self.is(Axis::Headings, "none") {
            return;
        }
        let below = self.is(Axis::Headings, "units below");
        let (mut first, mut second) = (Vec::new(), Vec::new());
        for (at, column) in self.columns.clone().into_iter().enumerate() {
            let nth = self.columns[..at].iter().filter(|c| **c == column).count();
            let unit = match column {
                Column::Percent => "%",
                Column::Grams => "g",
                Column::Kilograms => "kg",
                _ => "",
            };
            let heading = if below && !unit.is_empty() {
                let words = words::headings(column, self.language());
                let bare = words.iter().find_map(|w| {
                    let bare = w.split(['(', '[', '%']).next().unwrap_or_default().trim();
                    (bare.len() > 4 && self.versions.is_empty()).then(|| bare.to_owned())
                });
                bare.unwrap_or_else(|| self.heading(column, nth))
            } else {
                self.heading(column, nth)
            };
            first.push(text(heading));
            second.push(text(unit));
        }
        if self.is(Axis::Beside, "facts") || self.is(Axis::Beside, "method") {
            let width = first.len();
            first.resize(width + 1, Cell::Empty);
        }
        self.push(Kind::Heading, first);
        if below {
            self.push(Kind::Heading, second);
        }
    }

    /// What a phase is called, and its letter if it shows.
    fn phase_words(&mut self, phase: usize, in_column: bool) -> (String, Option<String>) {
        let language = self.language();
        let letter = char::from(b'A' + u8::try_from(phase).unwrap()).to_string();
        let number = (phase + 1).to_string();
        let roman = ["I", "II", "III", "IV"][phase].to_owned();
        let word = words::phase(language);
        let purpose = words::purposes(language)[phase];
        let degrees = ["75 °C", "72 °C", "40 °C", "30 °C"][phase];
        match self.dialect.of(Axis::PhaseWords) {
            "word and letter" => (format!("{word} {letter}"), Some(letter)),
            "letter and purpose" => {
                let words = match self.short_word {
                    0 => format!("{letter} – {purpose}"),
                    1 => format!("{letter}. {purpose}"),
                    _ => format!("{word} {letter}: {purpose}"),
                };
                (words, Some(letter))
            }
            "purpose" => (purpose.to_owned(), None),
            "degrees" if in_column => (format!("{letter} ({degrees})"), Some(letter)),
            "degrees" => match self.short_word {
                0 => (format!("{purpose} ({degrees})"), None),
                1 => (format!("{word} {letter} ({degrees})"), Some(letter)),
                _ => (format!("{letter} ({degrees})"), Some(letter)),
            },
            "number" if in_column => (number.clone(), Some(number)),
            "number" => (format!("{word} {number}"), Some(number)),
            "roman" if in_column => (roman.clone(), Some(roman)),
            "roman" => (format!("{word} {roman}"), Some(roman)),
            "bracket" => (format!("{letter})"), Some(letter)),
            "small letter" => (letter.to_lowercase(), Some(letter)),
            "colon" => (format!("{word} {letter}: {purpose}"), Some(letter)),
            _ => (letter.clone(), Some(letter)),
        }
    }

    fn write_lines(&mut self) {
        let style = self.dialect.of(Axis::Phases);
        let in_column = matches!(style, "column" | "first row" | "merged");
        let mut letters: Vec<String> = Vec::new();
        let (mut called, mut number) = (Vec::new(), 0);
        for phase in 0..self.recipe.phases {
            let (words, letter) = self.phase_words(phase, in_column);
            letters.extend(letter);
            called.push(words);
        }
        if style == "item numbers" {
            letters = (0..self.recipe.phases)
                .map(|p| char::from(b'A' + u8::try_from(p).unwrap()).to_string())
                .collect();
        }
        self.list.phases = match style {
            "one" => Phases::Hidden,
            // Lines that all stand apart are set with space between them.
            "blank rows" if self.recipe.lines.len() == self.recipe.phases => Phases::Hidden,
            "blank rows" => Phases::Groups,
            _ if letters.len() == self.recipe.phases => Phases::Letters(letters),
            _ => Phases::Groups,
        };
        // A material left out is somebody's last try.
        let form = self.dialect.of(Axis::Form);
        let out = form == "workbook" && self.is(Axis::Out, "hidden row")
            || matches!(form, "workbook" | "markdown" | "page") && self.is(Axis::Out, "struck row");
        let out_after = self.dice.below(self.recipe.lines.len());
        for (phase, called) in called.iter().enumerate() {
            match style {
                "headings" | "headings with sums" | "own tables" => {
                    let mut cells = vec![Cell::Empty; self.columns.len()];
                    cells[self.heading_of_phases] = text(called);
                    if style == "headings with sums" {
                        self.put_sums(&mut cells, Some(phase));
                    }
                    self.push(Kind::Phase, cells);
                    if style == "own tables" {
                        self.write_headings();
                    }
                }
                "blank rows" if phase > 0 => self.push(Kind::Body, Vec::new()),
                _ => {}
            }
            let of_phase: Vec<(usize, Line)> = self
                .recipe
                .lines
                .iter()
                .cloned()
                .enumerate()
                .filter(|(_, l)| l.phase == phase)
                .collect();
            let from = self.list.rows.len();
            for (n, (at, line)) in of_phase.iter().enumerate() {
                number += 1;
                let phase_cell = match style {
                    "column" => called.clone(),
                    "first row" | "merged" if n == 0 => called.clone(),
                    "item numbers" => {
                        format!(
                            "{}{}",
                            char::from(b'A' + u8::try_from(phase).unwrap()),
                            n + 1
                        )
                    }
                    _ => String::new(),
                };
                let cells = self.line(*at, line, &phase_cell, number, n == 0);
                self.push(Kind::Body, cells);
                if self.is(Axis::Named, "INCI below") && !line.inci.is_empty() {
                    let mut cells = vec![Cell::Empty; self.columns.len()];
                    cells[self.names] = text(&line.inci);
                    self.push(Kind::Body, cells);
                }
                let between = self.is(Axis::Between, "remarks") && number % 4 == 2;
                if between && n + 1 < of_phase.len() {
                    let mut cells = vec![Cell::Empty; self.columns.len()];
                    cells[self.names] = text(words::between(self.language()));
                    self.push(Kind::Body, cells);
                }
                if out && *at == out_after {
                    self.push_out(&phase_cell, number);
                }
                let blank = self.is(Axis::Blank, "rows") && style != "blank rows";
                if blank && self.dice.chance(6) {
                    self.push(Kind::Body, Vec::new());
                }
            }
            let rows = self.list.rows.len() - from;
            if style == "merged" && rows > 1 {
                let column = self
                    .columns
                    .iter()
                    .position(|c| *c == Column::Phase)
                    .unwrap();
                self.list.merged.push((from, column, rows));
            }
            let total = self.dialect.of(Axis::Total);
            let of_phases = total.ends_with("sums of phases") || total.ends_with("name phases");
            if of_phases && style != "headings with sums" {
                let mut cells = vec![Cell::Empty; self.columns.len()];
                if total.starts_with("named") {
                    cells[self.names] = text(words::totals(self.language()).1);
                }
                if total == "named with sums that name phases" {
                    let words = words::totals(self.language()).0[0].trim_end_matches([':', ' ']);
                    cells[self.names] = text(format!("{words} {called}"));
                }
                self.put_sums(&mut cells, Some(phase));
                self.push(Kind::Body, cells);
            }
        }
    }

    /// A line that is hidden or struck through: the first material once more, renamed.
    fn push_out(&mut self, phase: &str, number: usize) {
        let mut line = self.recipe.lines[0].clone();
        "Lanolin".clone_into(&mut line.name);
        "Lanolin".clone_into(&mut line.inci);
        line.cas = None;
        line.share = 100;
        line.filler = false;
        let cells = self.line(usize::MAX, &line, phase, number, false);
        let hidden = self.is(Axis::Out, "hidden row");
        self.list.rows.push(Row {
            kind: Kind::Body,
            cells,
            struck: !hidden,
            hidden,
        });
    }

    /// The amount of a column for a share of the whole, in hundredths of a per cent.
    fn amount(&self, column: Column, nth: usize, share: i64, of_phase: i64) -> Cell {
        match column {
            Column::Percent if self.is(Axis::Amounts, "shares") && self.versions.is_empty() => {
                let shown = match self.dialect.of(Axis::Form) {
                    "workbook" | "page" => Shown::Percent,
                    _ => Shown::Plain,
                };
                Cell::Number {
                    value: Decimal::new(share, 4).normalize(),
                    shown,
                }
            }
            Column::Percent | Column::Parts => plain(hundredths(share)),
            Column::OfPhase => {
                let part = Decimal::new(share * 100, 0) / Decimal::from(of_phase.max(1));
                plain(part.round_dp(2).normalize())
            }
            // Hundredths of a per cent of the batch.
            Column::Grams => plain(Decimal::new(share * self.batch, 4).round_dp(2).normalize()),
            Column::Kilograms => plain(Decimal::new(share * self.batch, 4).normalize()),
            Column::Batch => {
                let batch = self.batch * i64::try_from(nth + 1).unwrap();
                plain(Decimal::new(share * batch, 4).round_dp(2).normalize())
            }
            _ => Cell::Empty,
        }
    }

    /// The words of the filler in place of its amount.
    fn filler(&self, column: Column) -> Option<Cell> {
        let whole = match column {
            Column::Percent => "100".to_owned(),
            Column::Grams | Column::Kilograms => self.batch.to_string(),
            _ => return None,
        };
        let unit = match column {
            Column::Percent => "%",
            Column::Grams => "g",
            _ => "kg",
        };
        let [bare, qs, ad, rest, up] = words::fillers(self.language());
        Some(text(match self.dialect.of(Axis::Filler) {
            "q.s." => bare.to_owned(),
            "q.s. 100" => format!("{qs} {whole}"),
            "ad 100" => format!("{ad} {whole}"),
            "rest" => rest.to_owned(),
            "in words" => format!("{up} {whole} {unit}"),
            _ => return None,
        }))
    }

    /// A number with what people write beside it.
    fn dressed(&mut self, column: Column, cell: Cell, line: usize) -> Cell {
        let Cell::Number { value, shown } = cell else {
            return cell;
        };
        let unit = match column {
            Column::Percent => "%",
            Column::Grams => "g",
            Column::Kilograms => "kg",
            _ => return cell,
        };
        if shown == Shown::Percent || self.is(Axis::Amounts, "shares") {
            return Cell::Number { value, shown };
        }
        let number = self.number(value);
        if self.is(Axis::Dress, "numbers as text") && self.is(Axis::Cells, "numbers") {
            return text(number);
        }
        // One in three lines, and never the filler.
        let some = line > 0 && line % 3 == 1;
        match self.dialect.of(Axis::Cells) {
            "with unit" if column != Column::Percent && self.dice.chance(2) => Cell::Number {
                value,
                shown: Shown::In(if unit == "g" {
                    Unit::Gram
                } else {
                    Unit::Kilogram
                }),
            },
            "with unit" => text(format!("{number} {unit}")),
            "some with unit" if some => text(format!("{number} {unit}")),
            "rough" if some => text(format!("{} {number}", words::about(self.language()))),
            "limits" if some => text(format!("{number} (max.)")),
            "ranges" if some => {
                let least = Decimal::new(1, 2).min(value);
                let (low, high) = (value - least, value + least);
                text(format!("{}–{}", self.number(low), self.number(high)))
            }
            "footnotes" if some => text(format!("{number}*")),
            _ => Cell::Number { value, shown },
        }
    }

    /// A number in text.
    fn number(&self, value: Decimal) -> String {
        let written = value.normalize().to_string();
        if self.is(Axis::Mark, "comma") {
            written.replace('.', ",")
        } else {
            written
        }
    }

    fn line(
        &mut self,
        at: usize,
        line: &Line,
        phase: &str,
        number: usize,
        first: bool,
    ) -> Vec<Cell> {
        let language = self.language();
        let mut cells = Vec::new();
        let mut seen: Vec<Column> = Vec::new();
        let amount_at = self.columns.iter().find(|c| {
            matches!(
                c,
                Column::Percent | Column::Grams | Column::Kilograms | Column::Parts
            )
        });
        let amount_at = amount_at.copied();
        for column in self.columns.clone() {
            let nth = seen.iter().filter(|c| **c == column).count();
            seen.push(column);
            let share = match nth.checked_sub(1).and_then(|n| self.versions.get(n)) {
                Some(other) if column == Column::Percent && at < other.lines.len() => {
                    other.lines[at].share
                }
                _ => line.share,
            };
            let some = number % 3 == 1;
            cells.push(match column {
                Column::Phase if phase.is_empty() => Cell::Empty,
                Column::Phase => phase
                    .parse::<i64>()
                    .map_or_else(|_| text(phase), |n| plain(Decimal::from(n))),
                Column::Name if self.is(Axis::Named, "INCI in brackets") => {
                    if line.inci == line.name || line.inci.is_empty() {
                        text(&line.name)
                    } else {
                        text(format!("{} ({})", line.name, line.inci))
                    }
                }
                Column::Name
                    if self.is(Axis::Named, "INCI in the cell")
                        && self.is(Axis::Form, "workbook")
                        && !line.inci.is_empty() =>
                {
                    text(format!("{}\nINCI: {}", line.name, line.inci))
                }
                Column::Name | Column::Trade => text(match self.dialect.of(Axis::Dress) {
                    "numbered names" => format!("{number}. {}", line.name),
                    "wide blanks" => format!("{}\u{a0} ", line.name.replace(' ', "\u{a0} ")),
                    "capitals" => line.name.to_uppercase(),
                    _ => line.name.clone(),
                }),
                Column::RunningSum => {
                    let before = self.recipe.lines.iter().take(at.saturating_add(1));
                    plain(hundredths(before.map(|l| l.share).sum()))
                }
                Column::Weighed => {
                    let grams = Decimal::new(line.share * self.batch, 4).round_dp(1);
                    plain(
                        (grams + Decimal::new(self.dice.of(&[-1, 0, 1, 2]), 1)).max(Decimal::ZERO),
                    )
                }
                Column::Instead if some => {
                    text(self.dice.of(&["Jojoba oil", "Betaine", "Shea butter"]))
                }
                Column::Inci => text(&line.inci),
                Column::Cas => line.cas.map_or(Cell::Empty, |c| text(c.to_string())),
                Column::Percent | Column::Grams | Column::Kilograms
                    if line.filler && Some(column) == amount_at =>
                {
                    match self.filler(column) {
                        Some(cell) => cell,
                        None => self.amount(column, nth, share, 1),
                    }
                }
                Column::Percent
                | Column::Grams
                | Column::Kilograms
                | Column::OfPhase
                | Column::Batch
                | Column::Parts => {
                    let of_phase = self.recipe.of_phase(line.phase);
                    let cell = self.amount(column, nth, share, of_phase);
                    self.dressed(column, cell, at.min(self.recipe.lines.len()))
                }
                Column::Unit => match amount_at {
                    Some(Column::Percent) => text("%"),
                    Some(Column::Grams) => text("g"),
                    Some(Column::Kilograms) => text("kg"),
                    _ => Cell::Empty,
                },
                Column::Function => text(self.dice.of(&words::functions(language))),
                Column::Supplier => {
                    text(
                        self.dice
                            .of(&["Larkmoor Supply", "Heathfield", "Fenn & Co"]),
                    )
                }
                Column::Highest => {
                    plain(Decimal::from(self.dice.of(&[1_i64, 2, 3, 5, 10, 30, 100])))
                }
                Column::Range => text(self.dice.of(&["0.1–1 %", "1–5 %", "2-10 %", "0,5 - 2 %"])),
                Column::Old => {
                    let other = share + self.dice.of(&[-3_i64, 0, 0, 5, 20]);
                    plain(hundredths(other.max(1)))
                }
                Column::Active => line
                    .material
                    .main_constituent()
                    .map_or(Cell::Empty, |main| {
                        let percent = (main.share.typical.value() * 100.0).round();
                        percent.to_string().parse().map_or(Cell::Empty, plain)
                    }),
                Column::PricePerKilogram => {
                    plain(Decimal::new(self.dice.of(&[350_i64, 1299, 2450, 8900]), 2).normalize())
                }
                Column::Cost => {
                    plain(Decimal::new(share * self.dice.of(&[3_i64, 13, 24]), 4).normalize())
                }
                Column::Note => match self.dialect.of(Axis::Note) {
                    _ if !some => Cell::Empty,
                    "with numbers" => {
                        text(
                            self.dice
                                .of(&["max. 2 %", "2 x 50 g", "pH 5,5", "since 2024"]),
                        )
                    }
                    _ => text(self.dice.of(&words::notes(language))),
                },
                Column::Number => plain(Decimal::from(number as u64)),
                Column::Code => text(format!("LM-{:03}", 100 + number * 7)),
                Column::Tick if self.is(Axis::Tick, "word") && some => text("ok"),
                Column::Tick if self.is(Axis::Tick, "word") => Cell::Empty,
                Column::Tick => text("☐"),
                Column::Date => text(self.dice.of(&["02.03.2026", "2026-01-15", "11/02/2026"])),
                Column::Procedure if first => {
                    let (_, steps) = words::method(language);
                    text(steps[line.phase % steps.len()])
                }
                // The others are those of price lists.
                _ => Cell::Empty,
            });
        }
        cells
    }

    /// The sums of a phase, or of the whole, in the columns of amounts.
    fn put_sums(&mut self, cells: &mut [Cell], phase: Option<usize>) {
        let share = phase.map_or(WHOLE, |p| self.recipe.of_phase(p));
        let mut seen: Vec<Column> = Vec::new();
        for (cell, column) in cells.iter_mut().zip(self.columns.clone()) {
            let nth = seen.iter().filter(|c| **c == column).count();
            seen.push(column);
            let of = match nth.checked_sub(1).and_then(|n| self.versions.get(n)) {
                Some(other) if column == Column::Percent => {
                    phase.map_or(WHOLE, |p| other.of_phase(p))
                }
                _ => share,
            };
            if !matches!(column, Column::OfPhase) {
                let sum = self.amount(column, nth, of, WHOLE);
                if sum != Cell::Empty {
                    *cell = sum;
                }
            }
        }
    }

    /// What stands right of the list, with an empty column between: from its headings on.
    fn write_beside(&mut self, from: usize) {
        let language = self.language();
        let more: Vec<Vec<Cell>> = match self.dialect.of(Axis::Beside) {
            "method" => {
                let (head, steps) = words::method(language);
                let steps = steps.iter().map(|step| vec![text(*step)]);
                std::iter::once(vec![text(head)]).chain(steps).collect()
            }
            "facts" => words::facts(language)
                .iter()
                .map(|(key, value)| vec![text(*key), text(*value)])
                .collect(),
            _ => return,
        };
        let right = self.columns.len() + 1;
        for (n, cells) in more.into_iter().enumerate() {
            if self.list.rows.len() <= from + n {
                self.push(Kind::Body, Vec::new());
            }
            let row = &mut self.list.rows[from + n];
            row.cells.resize(right, Cell::Empty);
            row.cells.extend(cells);
        }
    }

    /// What a maker keeps below a list: costs, the label, packaging, tests.
    fn write_later(&mut self) {
        let language = self.language();
        let facts: Vec<(&str, &str)> = match self.dialect.of(Axis::Later) {
            "costs" => words::costs(language).to_vec(),
            "packaging" => words::packaging(language).to_vec(),
            "tests" => words::tests(language).to_vec(),
            "label" => {
                let mut names: Vec<&str> = (self.recipe.lines.iter())
                    .map(|l| l.inci.as_str())
                    .filter(|inci| !inci.is_empty())
                    .collect();
                names.dedup();
                self.push_text(Vec::new());
                self.push_text(vec![text(format!("INCI: {}", names.join(", ")))]);
                return;
            }
            _ => return,
        };
        self.push_text(Vec::new());
        for (key, value) in facts {
            let mut cells = vec![Cell::Empty; self.names];
            cells.push(text(key));
            cells.resize(self.columns.len().max(cells.len()), Cell::Empty);
            let amounts = |c: &Column| matches!(c, Column::Percent | Column::Grams);
            let at = self.columns.iter().position(amounts);
            match at.filter(|at| *at > self.names && !value.is_empty()) {
                Some(at) => cells[at] = text(value),
                None if value.is_empty() => {}
                None => cells[self.names] = text(format!("{key}: {value}")),
            }
            self.push(Kind::Body, cells);
        }
    }

    fn write_total(&mut self) {
        let total = self.dialect.of(Axis::Total);
        let stated = self.is(Axis::Batch, "total") && self.in_grams();
        if total == "none" && !stated {
            return;
        }
        let mut cells = vec![Cell::Empty; self.columns.len()];
        if !total.starts_with("bare") {
            cells[self.names] = text(self.dice.of(words::totals(self.language()).0));
        }
        if self.in_grams() && self.list.batch.is_none() {
            self.states_batch();
        }
        self.put_sums(&mut cells, None);
        self.push(Kind::Body, cells);
    }

    fn write_below(&mut self) {
        let language = self.language();
        let below = self.dialect.of(Axis::Below);
        if below == "nothing" {
            return;
        }
        self.push_text(Vec::new());
        if matches!(below, "facts" | "all") {
            for fact in words::facts(language) {
                self.fact(fact);
            }
        }
        if matches!(below, "method" | "all") {
            let (head, steps) = words::method(language);
            let colon = if self.dice.chance(2) { ":" } else { "" };
            self.push_text(vec![text(format!("{head}{colon}"))]);
            for (n, step) in steps.iter().enumerate() {
                let step = if self.short_word == 0 {
                    (*step).to_owned()
                } else {
                    format!("{}. {step}", n + 1)
                };
                self.push_text(vec![text(step)]);
            }
        }
        if matches!(below, "remarks" | "all") {
            for remark in words::remarks(language) {
                self.push_text(vec![text(remark)]);
            }
        }
    }
}

/// A recipe as lines of text: one material a line, or one phase a line.
pub fn lines(recipe: &Recipe, dialect: &Dialect, dice: &mut Dice) -> (String, Phases) {
    let language = dialect.of(Axis::Language);
    let in_grams = dialect.is(Axis::Amounts, "grams");
    let batch = dice.of(&[100_i64, 200, 500]);
    let number = |value: Decimal| {
        let written = value.normalize().to_string();
        if dialect.is(Axis::Mark, "comma") {
            written.replace('.', ",")
        } else {
            written
        }
    };
    let amount = |line: &Line| {
        if line.filler && !dialect.is(Axis::Filler, "number") {
            let whole = if in_grams {
                format!("{batch} g")
            } else {
                "100 %".to_owned()
            };
            let [_, qs, ad, _, up] = words::fillers(language);
            return match dialect.of(Axis::Filler) {
                "q.s. 100" => format!("{qs} {whole}"),
                "in words" => format!("{up} {whole}"),
                _ => format!("{ad} {whole}"),
            };
        }
        if in_grams {
            format!("{} g", number(Decimal::new(line.share * batch, 4)))
        } else {
            format!("{} %", number(hundredths(line.share)))
        }
    };
    let told = !["one", "blank rows", "item numbers"]
        .iter()
        .any(|v| dialect.is(Axis::Phases, v));
    let one = |line: &Line| {
        let (name, amount) = (&line.name, amount(line));
        match dialect.of(Axis::Line) {
            "amount first" => format!("{amount} {name}"),
            "colon" => format!("{name}: {amount}"),
            "brackets" => format!("{name} ({amount})"),
            "dash" => format!("{name} – {amount}"),
            "dots" => format!("{name} ....... {amount}"),
            "letter first" if told => {
                let letter = char::from(b'A' + u8::try_from(line.phase).unwrap());
                format!("({letter}) {name} {amount}")
            }
            "both" if !line.filler && !in_grams => {
                let grams = Decimal::new(line.share * batch, 4);
                format!("{name} {amount} ({} g)", number(grams))
            }
            _ => format!("{name} {amount}"),
        }
    };
    let mut text = String::new();
    if !dialect.is(Axis::Above, "nothing") {
        text += dice.of(&words::products(language));
        text += "\n\n";
    }
    if in_grams && dialect.is(Axis::Batch, "above") {
        let _ = write!(text, "{}: {batch} g\n\n", words::batch(language)[0]);
    }
    let letter = |phase: usize| char::from(b'A' + u8::try_from(phase).unwrap()).to_string();
    let letters = (0..recipe.phases).map(letter).collect();
    let bullet = dice.of(&["", "- ", "• ", "* "]);
    let sentences = dialect.is(Axis::Form, "sentences");
    let called = |phase: usize| match dialect.of(Axis::PhaseWords) {
        "purpose" => format!(
            "{} {} ({})",
            words::phase(language),
            letter(phase),
            words::purposes(language)[phase]
        ),
        _ => format!("{} {}", words::phase(language), letter(phase)),
    };
    for phase in 0..recipe.phases {
        let of_phase: Vec<String> = recipe
            .lines
            .iter()
            .filter(|l| l.phase == phase)
            .map(one)
            .collect();
        if sentences {
            if told {
                let _ = write!(text, "{}: ", called(phase));
            }
            text += &of_phase.join(", ");
            text += "\n";
            continue;
        }
        if told {
            let _ = writeln!(text, "{}{}", called(phase), dice.of(&["", ":"]));
        }
        for line in of_phase {
            let _ = writeln!(text, "{bullet}{line}");
        }
        if dialect.is(Axis::Phases, "blank rows") || told {
            text += "\n";
        }
    }
    if matches!(dialect.of(Axis::Below), "method" | "all") {
        let (head, steps) = words::method(language);
        let _ = write!(text, "\n{head}:\n");
        for (n, step) in steps.iter().enumerate() {
            let _ = writeln!(text, "{}. {step}", n + 1);
        }
    }
    let phases = if told {
        Phases::Letters(letters)
    } else if dialect.is(Axis::Phases, "blank rows")
        && !sentences
        && recipe.lines.len() > recipe.phases
    {
        Phases::Groups
    } else {
        Phases::Hidden
    };
    (text, phases)
}
