//! Price lists as suppliers may write them.

use formulation::file::table::Cell;
use formulation::file::table::Shown;
use formulation::file::table::price_list::{self, Pack, ProposedPrice, looks_like_prices};
use formulation::file::table::recipe::{Choice, Settings};
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
}

fn text(words: impl Into<String>) -> Cell {
    Cell::Text(words.into())
}

/// Sizes of packs in grams.
const SIZES: [i64; 6] = [50, 100, 250, 500, 1000, 5000];
/// The columns of a price by size.
const TIERS: [i64; 3] = [100, 500, 1000];

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
            "pack" | "pack in heading" => groups.push(vec![Column::Pack]),
            "pack and unit" => groups.push(vec![Column::Pack, Column::Unit]),
            _ => {}
        }
        if self.is(Axis::Packs, "count") {
            groups.push(vec![Column::Packs]);
        }
        let mut prices = match self.dialect.of(Axis::Basis) {
            "tiers" => vec![Column::Price; TIERS.len()],
            _ => vec![Column::Price],
        };
        if prices.len() == 1 {
            match self.dialect.of(Axis::Tax) {
                "net and gross" => prices.push(Column::Gross),
                "gross" => prices = vec![Column::Gross],
                _ => {}
            }
        }
        if self.is(Axis::Money, "column") {
            prices.push(Column::Currency);
        }
        groups.push(prices);
        if self.is(Axis::Note, "some") {
            groups.push(vec![Column::Note]);
        }
        if self.is(Axis::Order, "shuffled") {
            self.dice.shuffle(&mut groups);
        }
        groups.concat()
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
                "tiers" => heading = size(TIERS[nth]),
                _ => {}
            }
            if column == Column::Price && self.is(Axis::Tax, "net") && basis != "tiers" {
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
        if basis == "pack in name" {
            line.name = format!("{}, {}", line.name, size(pack));
        }
        let offers = match basis {
            "per kilogram" => vec![(1000, cents)],
            "per 100 g" => vec![(100, cents)],
            "tiers" => (0..)
                .zip(TIERS)
                .map(|(n, t)| (t, cents * (n + 2)))
                .collect(),
            _ => vec![(pack, cents)],
        };
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
                Column::Pack if basis == "pack" => text(size(pack)),
                Column::Pack if basis == "pack and unit" && pack % 1000 == 0 => Cell::Number {
                    value: Decimal::from(pack / 1000),
                    shown: Shown::Plain,
                },
                Column::Pack => Cell::Number {
                    value: Decimal::from(pack),
                    shown: Shown::Plain,
                },
                Column::Unit => text(if pack % 1000 == 0 { "kg" } else { "g" }),
                Column::Packs => Cell::Number {
                    value: Decimal::from(self.dice.of(&[1_i64, 1, 2, 3])),
                    shown: Shown::Plain,
                },
                Column::Price => {
                    nth += 1;
                    self.price(offers[nth - 1].1)
                }
                Column::Gross => self.price(cents * 119 / 100),
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
    let recipe = Recipe::draw(seed, dialect);
    let mut writer = Writer {
        dialect,
        dice: Dice::new(seed ^ 0xca5e),
        rows: Vec::new(),
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
    writer.push(Kind::Heading, headings);
    let mut lines = Vec::new();
    for (n, mut line) in recipe.lines.into_iter().enumerate() {
        let (cells, offers) = writer.line(&mut line, &columns, n + 1);
        writer.push(Kind::Body, cells);
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
        let cents = if gross { cents * 119 / 100 } else { cents };
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
    let (lines, given) = given(seed, dialect);
    let tables = match given.tables() {
        Ok(tables) => tables,
        Err(error) => return refused(&lines, &error.to_string()),
    };
    let Some(table) = tables.iter().find(|t| looks_like_prices(t)) else {
        return refused(&lines, "no list of prices was seen");
    };
    let list = match price_list::propose(table, &Settings::default(), resolver) {
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
    let gross = dialect.is(Axis::Tax, "gross") && !dialect.is(Axis::Basis, "tiers");
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
        let new = matches!(found.choice, Choice::New);
        let material = super::is_meant(line, &found.choice, true)
            || dialect.is(Axis::Basis, "pack in name") && !new;
        let doubtful = found.is_doubtful();
        let fate = match (priced, material, doubtful) {
            (true, true, true) => Fate::Asked,
            // A price with tax in it is nothing to be taken without a word.
            (true, true, false) if gross && !global => Fate::Silent,
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
        let told = extra.is_doubtful() || matches!(extra.choice, Choice::New);
        let fate = if told { Fate::Told } else { Fate::Silent };
        wrong.push(format!("{fate:?}: a row “{}” too many", extra.wanted.name));
        if fate == Fate::Silent {
            fates.push(fate);
        }
    }
    (fates, wrong)
}
