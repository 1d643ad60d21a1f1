//! Price lists as suppliers may write them.

use formulation::file::table::Cell;
use formulation::file::table::Shown;
use formulation::file::table::price_list::{self, Pack, ProposedPrice, looks_like_prices};
use formulation::file::table::recipe::{MaterialChoice, RecipeSettings};
use formulation::material::Class;
use formulation::naming::Resolver;
use formulation::quantity::Currency;
use rust_decimal::Decimal;

use super::axes::{Axis, Dialect};
use super::dice::Dice;
use super::form::{Given, as_one};
use super::recipe::{Line, Recipe};
use super::words::{self, Column};
use super::write::{Kind, List, Phases, Row};
use super::{Fate, Judged};

/// What a row offers: grams and cents.
type Offers = Vec<(i64, i64)>;

/// A row as it is written, without phases.
struct Writer<'w> {
    dialect: &'w Dialect,
    dice: Dice,
    rows: Vec<Row>,
    /// What all lines cost, in cents.
    sum: i64,
}

fn text(words: impl Into<String>) -> Cell {
    Cell::Text(words.into())
}

/// Sizes of packs in grams.
const SIZES: [i64; 6] = [50, 100, 250, 500, 1000, 5000];
/// The columns of a price by size.
const TIERS: [i64; 3] = [100, 500, 1000];
/// The least quantities of prices by quantity, in kilograms.
const LEAST: [i64; 3] = [1, 5, 25];
/// The rate of tax.
const RATE: i64 = 19;

/// Dialects in which axes do not go together are mended, so that each can be drawn by itself.
pub fn sensible(dialect: &Dialect) -> Dialect {
    let mut dialect = dialect.clone();
    let plain = |dialect: &mut Dialect, axis: Axis| {
        if let Some(plainer) = dialect.plainer(axis) {
            *dialect = plainer;
        }
    };
    if dialect.is(Axis::Headings, "none") {
        // Without headings a person understands a name, a pack and a price, and little more.
        if !dialect.is(Axis::Basis, "pack in name") {
            dialect = dialect.with(Axis::Basis, "pack");
        }
        for axis in [
            Axis::Tax,
            Axis::Packs,
            Axis::Level,
            Axis::Strength,
            Axis::Stock,
            Axis::Supplier,
            Axis::Valid,
            Axis::Above,
        ] {
            plain(&mut dialect, axis);
        }
        if dialect.is(Axis::Money, "sign in heading") || dialect.is(Axis::Money, "code in heading")
        {
            dialect = dialect.with(Axis::Money, "in cell");
        }
        if dialect.is(Axis::Groups, "column") {
            plain(&mut dialect, Axis::Groups);
        }
    }
    let by_size = |d: &Dialect| d.is(Axis::Basis, "tiers") || d.is(Axis::Basis, "from quantities");
    if by_size(&dialect) {
        for axis in [Axis::Tax, Axis::Packs, Axis::Stock] {
            plain(&mut dialect, axis);
        }
    }
    if dialect.is(Axis::Basis, "receipt") {
        for axis in [Axis::Packs, Axis::Stock, Axis::Level, Axis::Strength] {
            plain(&mut dialect, axis);
        }
    } else if ["sum", "tax added", "tax in it"]
        .iter()
        .any(|sum| dialect.is(Axis::Below, sum))
    {
        // Only what is bought is added up.
        plain(&mut dialect, Axis::Below);
    }
    if dialect.is(Axis::Below, "tax added") || dialect.is(Axis::Below, "tax in it") {
        plain(&mut dialect, Axis::Tax);
        // What is not counted would stand in the sums.
        plain(&mut dialect, Axis::Out);
    }
    if dialect.is(Axis::Basis, "pack and per kilogram") {
        plain(&mut dialect, Axis::Tax);
    }
    // How many were bought and how many are there are not one column's to tell.
    if !dialect.is(Axis::Stock, "none") {
        plain(&mut dialect, Axis::Packs);
    }
    dialect
}

fn size(grams: i64) -> String {
    if grams % 1000 == 0 {
        format!("{} kg", grams / 1000)
    } else {
        format!("{grams} g")
    }
}

impl Writer<'_> {
    fn is(&self, axis: Axis, value: &str) -> bool {
        self.dialect.is(axis, value)
    }

    fn push(&mut self, kind: Kind, cells: Vec<Cell>) {
        self.rows.push(Row {
            kind,
            cells,
            struck: false,
            hidden: false,
        });
    }

    fn price(&self, cents: i64) -> Cell {
        let value = Decimal::new(cents, 2).normalize();
        if self.is(Axis::Money, "format") && self.is(Axis::Form, "workbook") {
            return Cell::Number {
                value,
                shown: Shown::Money(Currency::EUR),
            };
        }
        if self.is(Axis::Money, "in cell") || self.is(Axis::Money, "format") {
            let written = format!("{:.2}", Decimal::new(cents, 2));
            let written = if self.is(Axis::Mark, "comma") {
                written.replace('.', ",")
            } else {
                written
            };
            return text(format!("{written} €"));
        }
        Cell::Number {
            value,
            shown: Shown::Plain,
        }
    }

    fn columns(&mut self) -> Vec<Column> {
        let mut groups: Vec<Vec<Column>> = Vec::new();
        match self.dialect.of(Axis::Number) {
            "running" => groups.push(vec![Column::Number]),
            "code" => groups.push(vec![Column::Code]),
            _ => {}
        }
        groups.push(match self.dialect.of(Axis::Named) {
            "name and INCI" => vec![Column::Name, Column::Inci],
            "name, INCI, CAS" => vec![Column::Name, Column::Inci, Column::Cas],
            _ => vec![Column::Name],
        });
        if self.is(Axis::Function, "function") {
            groups.push(vec![Column::Function]);
        }
        match self.dialect.of(Axis::Basis) {
            "pack" | "pack in heading" | "several packs" | "pack and per kilogram" => {
                groups.push(vec![Column::Pack]);
            }
            "pack and unit" => groups.push(vec![Column::Pack, Column::Unit]),
            "unit column" => groups.push(vec![Column::Unit]),
            "receipt" => groups.push(vec![Column::Packs]),
            _ => {}
        }
        if self.is(Axis::Packs, "count") {
            groups.push(vec![Column::Packs]);
        }
        let mut prices = match self.dialect.of(Axis::Basis) {
            "tiers" | "from quantities" => vec![Column::Price; TIERS.len()],
            "pack and per kilogram" => vec![Column::Price; 2],
            _ => vec![Column::Price],
        };
        if prices.len() == 1 {
            match self.dialect.of(Axis::Tax) {
                "net and gross" => prices.push(Column::Gross),
                "gross" | "gross with rate" => prices = vec![Column::Gross],
                "rate beside" => prices.push(Column::Rate),
                _ => {}
            }
        }
        if self.is(Axis::Money, "column") {
            prices.push(Column::Currency);
        }
        if self.is(Axis::Basis, "receipt") {
            prices.push(Column::Total);
        }
        groups.push(prices);
        if self.is(Axis::Supplier, "supplier") {
            groups.push(vec![Column::Supplier]);
        }
        match self.dialect.of(Axis::Level) {
            "highest" => groups.push(vec![Column::Highest]),
            "range" => groups.push(vec![Column::Range]),
            _ => {}
        }
        if self.is(Axis::Strength, "active") {
            groups.push(vec![Column::Active]);
        }
        match self.dialect.of(Axis::Stock) {
            "in stock" => groups.push(vec![Column::InStock]),
            "lots" => groups.push(vec![Column::InStock, Column::Lot, Column::Expiry]),
            _ => {}
        }
        if self.is(Axis::Valid, "day") {
            groups.push(vec![Column::Valid]);
        }
        if self.is(Axis::Groups, "column") {
            groups.push(vec![Column::Group]);
        }
        if self.is(Axis::Note, "some") {
            groups.push(vec![Column::Note]);
        }
        if self.is(Axis::Order, "shuffled") {
            self.dice.shuffle(&mut groups);
        }
        let mut columns = groups.concat();
        if self.is(Axis::Blank, "left column") {
            columns.insert(0, Column::Empty);
        }
        columns
    }

    fn heading(&mut self, column: Column, nth: usize) -> String {
        let language = self.dialect.of(Axis::Language);
        let mut heading = self.dice.of(words::headings(column, language)).to_owned();
        if column == Column::Pack && self.is(Axis::Basis, "pack in heading") {
            heading += " (g)";
        }
        if matches!(column, Column::Price | Column::Gross) {
            let basis = self.dialect.of(Axis::Basis);
            let per = words::per(language);
            let said = self.dice.chance(2);
            match basis {
                "per kilogram" if said => heading += "/kg",
                "per kilogram" => heading = format!("{heading} {per} kg"),
                "per 100 g" if said => heading += " / 100 g",
                "per 100 g" => heading = format!("{heading} {per} 100 g"),
                "pack and per kilogram" if nth == 1 => heading = format!("{heading} {per} kg"),
                "tiers" => heading = size(TIERS[nth]),
                "from quantities" => {
                    heading = format!("{} {} kg", words::from(language), LEAST[nth]);
                }
                _ => {}
            }
            if column == Column::Gross && self.is(Axis::Tax, "gross with rate") {
                heading = format!("{heading} ({RATE} %)");
            }
            let by_size = matches!(basis, "tiers" | "from quantities");
            if column == Column::Price && self.is(Axis::Tax, "net") && !by_size {
                heading = format!("{heading} {}", words::net(language));
            }
            match self.dialect.of(Axis::Money) {
                "sign in heading" => heading += " €",
                "code in heading" => heading += " (EUR)",
                _ => {}
            }
        }
        words::spelt(heading, self.dialect.of(Axis::Headings), &mut self.dice)
    }

    fn line(&mut self, line: &mut Line, columns: &[Column], number: usize) -> (Vec<Cell>, Offers) {
        let language = self.dialect.of(Axis::Language);
        let basis = self.dialect.of(Axis::Basis);
        let pack = self.dice.of(&SIZES);
        let cents = self.dice.of(&[390_i64, 495, 1250, 1999, 4500, 12_900]);
        let some = number % 3 == 1;
        let count = self.dice.of(&[1_i64, 1, 2, 3]);
        let plain = |value: i64| Cell::Number {
            value: Decimal::from(value),
            shown: Shown::Plain,
        };
        if matches!(basis, "pack in name" | "receipt") {
            line.name = format!("{}, {}", line.name, size(pack));
        }
        let offers = match basis {
            "per kilogram" => vec![(1000, cents)],
            "per 100 g" => vec![(100, cents)],
            "tiers" => (0..)
                .zip(TIERS)
                .map(|(n, t)| (t, cents * (n + 2)))
                .collect(),
            // Of these, one costs so much, and the pack is the least that is sold.
            "from quantities" => (0..)
                .zip(LEAST)
                .map(|(n, _)| (1000, cents * (10 - n) / 10))
                .collect(),
            "unit column" => vec![(if number.is_multiple_of(2) { 1000 } else { 100 }, cents)],
            "several packs" => vec![(4 * pack, cents)],
            _ => vec![(pack, cents)],
        };
        let taxed = cents * (100 + RATE) / 100;
        let each = if self.is(Axis::Below, "tax in it") {
            taxed
        } else {
            cents
        };
        self.sum += count * each;
        let mut nth = 0;
        let mut cells = Vec::new();
        for column in columns {
            cells.push(match column {
                Column::Number => Cell::Number {
                    value: Decimal::from(number as u64),
                    shown: Shown::Plain,
                },
                Column::Code => text(format!("LM-{:03}", 100 + number * 7)),
                Column::Name => text(&line.name),
                Column::Inci => text(&line.inci),
                Column::Cas => line.cas.map_or(Cell::Empty, |c| text(c.to_string())),
                Column::Function => text(self.dice.of(&words::functions(language))),
                Column::Pack if basis == "pack" || basis == "pack and per kilogram" => {
                    text(size(pack))
                }
                Column::Pack if basis == "several packs" => text(format!("4 x {}", size(pack))),
                Column::Pack if basis == "pack and unit" && pack % 1000 == 0 => Cell::Number {
                    value: Decimal::from(pack / 1000),
                    shown: Shown::Plain,
                },
                Column::Pack => Cell::Number {
                    value: Decimal::from(pack),
                    shown: Shown::Plain,
                },
                Column::Unit if basis == "unit column" => text(if number.is_multiple_of(2) {
                    "kg"
                } else {
                    "100 g"
                }),
                Column::Unit => text(if pack % 1000 == 0 { "kg" } else { "g" }),
                Column::Packs => plain(count),
                Column::Total if self.is(Axis::Tax, "gross") => {
                    self.price(count * (cents * (100 + RATE) / 100))
                }
                Column::Total if self.is(Axis::Tax, "gross with rate") => {
                    self.price(count * (cents * (100 + RATE) / 100))
                }
                Column::Total if self.is(Axis::Below, "tax in it") => self.price(count * taxed),
                Column::Total => self.price(count * cents),
                Column::Rate if self.is(Axis::Form, "workbook") && number.is_multiple_of(2) => {
                    text(format!("{RATE} %"))
                }
                Column::Rate => plain(RATE),
                Column::Supplier => text(self.dice.of(&["Larkmoor Supply", "Fenn & Co"])),
                Column::Highest => plain(self.dice.of(&[1_i64, 5, 20])),
                Column::Range => text(self.dice.of(&["1–5 %", "0.5-1 %", "2 - 10 %"])),
                Column::Active => {
                    let of = line.material.constituents.iter();
                    let active = of.filter(|c| c.class != Class::Water);
                    let sum: f64 = active.map(|c| c.share.typical.as_percent()).sum();
                    plain(sum.round() as i64)
                }
                Column::InStock => text(size(self.dice.of(&SIZES))),
                Column::Lot => text(format!("L{:04}", 2300 + number * 13)),
                Column::Expiry => Cell::Date(jiff::civil::date(2027, 3, 1 + number as i8 % 28)),
                Column::Valid => Cell::Date(jiff::civil::date(2026, 9, 1 + number as i8 % 28)),
                Column::Group => text(words::groups(language)[number % 3]),
                Column::Price if basis == "pack and per kilogram" && nth == 1 => {
                    self.price((cents * 1000 + pack / 2) / pack)
                }
                Column::Price if self.is(Axis::Below, "tax in it") => self.price(taxed),
                Column::Price => {
                    nth += 1;
                    self.price(offers[nth - 1].1)
                }
                Column::Gross => self.price(cents * (100 + RATE) / 100),
                Column::Currency => text("EUR"),
                Column::Note if some => text(self.dice.of(&words::notes(language))),
                _ => Cell::Empty,
            });
        }
        (cells, offers)
    }
}

/// The lines of a list with what each offers, and the list as the reader gets it.
pub fn given(seed: u64, dialect: &Dialect) -> (Vec<(Line, Offers)>, Given) {
    let dialect = &sensible(dialect);
    let recipe = Recipe::draw(seed, dialect);
    let mut writer = Writer {
        dialect,
        dice: Dice::new(seed ^ 0xca5e),
        rows: Vec::new(),
        sum: 0,
    };
    let language = dialect.of(Axis::Language);
    let above = dialect.of(Axis::Above);
    if above != "nothing" {
        let supplier = writer.dice.of(&["Larkmoor Supply", "Fenn & Co"]);
        writer.push(Kind::Text, vec![text(supplier)]);
    }
    if above == "facts" {
        for (key, value) in words::heads(language) {
            writer.push(Kind::Text, vec![text(format!("{key}: {value}"))]);
        }
        writer.push(Kind::Text, Vec::new());
    }
    let columns = writer.columns();
    let mut headings = Vec::new();
    for (at, column) in columns.iter().enumerate() {
        let nth = columns[..at].iter().filter(|c| *c == column).count();
        headings.push(text(writer.heading(*column, nth)));
    }
    if !dialect.is(Axis::Headings, "none") {
        writer.push(Kind::Heading, headings);
    }
    let first = usize::from(dialect.is(Axis::Blank, "left column"));
    let mut lines = Vec::new();
    let all = recipe.lines.len();
    let form = dialect.of(Axis::Form);
    let shows_out = form == "workbook" && !dialect.is(Axis::Out, "nothing")
        || matches!(form, "markdown" | "page") && dialect.is(Axis::Out, "struck row");
    for (n, mut line) in recipe.lines.into_iter().enumerate() {
        if dialect.is(Axis::Groups, "headings") && n % 3 == 0 {
            let mut cells = vec![Cell::Empty; first];
            cells.push(text(words::groups(language)[n / 3 % 3]));
            writer.push(Kind::Body, cells);
        }
        if dialect.is(Axis::Blank, "rows") && n % 4 == 3 {
            writer.push(Kind::Body, Vec::new());
        }
        let (cells, offers) = writer.line(&mut line, &columns, n + 1);
        writer.push(Kind::Body, cells);
        // Rows that are left out by what is seen of them are no rows of the list.
        if shows_out && n + 1 == all && n > 2 {
            if let Some(row) = writer.rows.last_mut() {
                row.hidden = dialect.is(Axis::Out, "hidden row");
                row.struck = !row.hidden;
            }
            continue;
        }
        lines.push((line, offers));
    }
    match dialect.of(Axis::Below) {
        "remarks" => {
            writer.push(Kind::Text, Vec::new());
            for remark in words::remarks(language) {
                writer.push(Kind::Text, vec![text(remark)]);
            }
        }
        "freight" => {
            let cells = columns.iter().map(|column| match column {
                Column::Name => text(words::freight(language)),
                Column::Price | Column::Gross => writer.price(590),
                _ => Cell::Empty,
            });
            let cells = cells.collect();
            writer.push(Kind::Body, cells);
        }
        "sum" => {
            let cells = columns.iter().map(|column| match column {
                Column::Name => text(words::totals(language).0[0]),
                Column::Total => writer.price(12_345),
                _ => Cell::Empty,
            });
            let cells = cells.collect();
            writer.push(Kind::Body, cells);
        }
        below @ ("tax added" | "tax in it") => {
            let sum = writer.sum;
            let tax = if below == "tax added" {
                sum * RATE / 100
            } else {
                sum * RATE / (100 + RATE)
            };
            let (total, subtotal) = words::totals(language);
            let rate = format!("{} {RATE} %", words::tax(language));
            let rows = if below == "tax added" {
                [(subtotal, sum), (rate.as_str(), tax), (total[0], sum + tax)]
            } else {
                [(subtotal, sum - tax), (rate.as_str(), tax), (total[0], sum)]
            };
            for (label, cents) in rows {
                let cells = columns.iter().map(|column| match column {
                    Column::Name => text(label),
                    Column::Total => writer.price(cents),
                    _ => Cell::Empty,
                });
                let cells = cells.collect();
                writer.push(Kind::Body, cells);
            }
        }
        _ => {}
    }
    let list = List {
        rows: writer.rows,
        phases: Phases::Hidden,
        merged: Vec::new(),
        own_tables: false,
        batch: None,
    };
    let given = as_one(&list, dialect);
    (lines, given)
}

/// Whether a price is that of an offer for the same amount or another.
fn is_offered(found: &ProposedPrice, (grams, cents): (i64, i64), gross: bool) -> bool {
    found.offers.iter().any(|offer| {
        let Pack::Grams(pack) = offer.pack else {
            return false;
        };
        let Some(price) = offer.price else {
            return false;
        };
        let cents = if gross {
            cents * (100 + RATE) / 100
        } else {
            cents
        };
        let (each, wanted) = (price / pack, Decimal::new(cents, 2) / Decimal::from(grams));
        (each - wanted).abs() <= wanted * Decimal::new(5, 3)
    })
}

fn refused(lines: &[(Line, Offers)], told: &str) -> Judged {
    (
        vec![Fate::Refused; lines.len()],
        vec![format!("refused: {told}")],
    )
}

/// What becomes of each row of a list, and what is wrong in words.
pub fn judge(seed: u64, dialect: &Dialect, resolver: &Resolver<'_>) -> Judged {
    let dialect = &sensible(dialect);
    let (lines, given) = given(seed, dialect);
    let tables = match given.tables() {
        Ok(tables) => tables,
        Err(error) => return refused(&lines, &error.to_string()),
    };
    let Some(table) = tables.iter().find(|t| looks_like_prices(t)) else {
        return refused(&lines, "no list of prices was seen");
    };
    let list = match price_list::propose(table, &RecipeSettings::default(), resolver) {
        Ok(list) => list,
        Err(error) => return refused(&lines, &error.to_string()),
    };
    let mut wrong = Vec::new();
    let mut fates = Vec::new();
    let standings = list.standings();
    if standings.len() != list.rows {
        wrong.push(format!(
            "silent: {} of {} rows stand for anything",
            standings.len(),
            list.rows
        ));
    }
    let assumed = list.assumptions();
    let global = assumed.iter().any(|w| !w.starts_with("row "));
    let mut prices: Vec<&ProposedPrice> = list.prices.iter().collect();
    let gross = dialect.is(Axis::Tax, "gross");
    let taxed =
        gross || dialect.is(Axis::Tax, "gross with rate") || dialect.is(Axis::Below, "tax in it");
    for (line, offers) in &lines {
        let called = |p: &&ProposedPrice| {
            let own = super::bare(&line.name);
            let found = super::bare(&p.wanted.name);
            // The pack is taken out of the name.
            own == found || own.starts_with(&found) && found.len() >= 3
        };
        let place = prices.iter().position(called);
        let Some(found) = place.map(|at| prices.remove(at)) else {
            let told = assumed.iter().any(|w| w.contains(&line.name));
            let fate = if told { Fate::Refused } else { Fate::Silent };
            wrong.push(format!("{fate:?}: no row “{}”", line.name));
            fates.push(fate);
            continue;
        };
        let priced = offers.iter().all(|offer| is_offered(found, *offer, gross));
        let new = matches!(found.choice, MaterialChoice::New);
        let in_name = dialect.is(Axis::Basis, "pack in name") || dialect.is(Axis::Basis, "receipt");
        let material = super::is_meant(line, &found.choice, true) || in_name && !new;
        let doubtful = found.is_doubtful();
        let fate = match (priced, material, doubtful) {
            (true, true, true) => Fate::Asked,
            // A price with tax in it is nothing to be taken without a word.
            (true, true, false) if taxed && !global => Fate::Silent,
            (true, true, false) => Fate::Right,
            (_, _, true) => Fate::Told,
            (false, ..) if global => Fate::Told,
            (true, false, false) if new => Fate::Told,
            _ => Fate::Silent,
        };
        if !matches!(fate, Fate::Right | Fate::Asked) {
            wrong.push(format!(
                "{fate:?}: “{}” is {} of {:?}, expected {offers:?} of {}",
                line.name,
                found.price_words(),
                found.choice,
                line.material.id
            ));
        }
        fates.push(fate);
    }
    for extra in prices {
        let told = extra.is_doubtful() || matches!(extra.choice, MaterialChoice::New);
        let fate = if told { Fate::Told } else { Fate::Silent };
        wrong.push(format!("{fate:?}: a row “{}” too many", extra.wanted.name));
        if fate == Fate::Silent {
            fates.push(fate);
        }
    }
    (fates, wrong)
}
