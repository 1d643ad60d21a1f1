//! A supplier's price list, a delivery note or a plain list of materials in a table
//! becomes offers, lots and new materials, after the maker has looked through the
//! matches.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::accept::new_material;
use super::columns::{Kind, Layout, recognise};
use super::recipe::{Choice, Decider, Problem, Settings, clean_name, first_cas};
use super::{Cell, Table, cell_name};
use crate::amount::number::{self, Amount, DecimalMark, Unit};
use crate::batch::mass::{ExactMass, MassUnit};
use crate::material::{Material, MaterialId};
use crate::naming::{Candidate, Resolver, Wanted};
use crate::quantity::{Currency, in_kg_per_m3};
use crate::stock::{Lot, LotId, LotStatus, Offer, Stock};

/// What a pack holds.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Pack {
    /// Grams.
    Grams(Decimal),
    /// Millilitres; the mass follows from the density of the material.
    Millilitres(Decimal),
}

impl fmt::Display for Pack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Grams(grams) => write!(f, "{} g", grams.normalize()),
            Self::Millilitres(ml) => write!(f, "{} ml", ml.normalize()),
        }
    }
}

/// One row of a price list as it would be taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct ProposedPrice {
    /// Row of the table, counted from 1.
    pub row: usize,
    /// What the table says about the material.
    pub wanted: Wanted,
    /// What a pack holds; `None` in a list of materials without prices.
    pub pack: Option<Pack>,
    /// Price of a pack; `None` if the list names none.
    pub price: Option<Decimal>,
    /// Currency, if the list names one.
    pub currency: Option<Currency>,
    /// Lot number of the supplier, if this is a delivery.
    pub lot: String,
    /// Best before.
    pub expiry: Option<Date>,
    /// Materials of the shelf it may mean, surest first.
    pub candidates: Vec<Candidate>,
    /// What is taken unless the maker chooses otherwise.
    pub choice: Choice,
    /// Inventory names spelt like it, for a new material.
    pub suggestions: Vec<&'static str>,
    /// What had to be assumed about it, in words.
    pub doubts: Vec<String>,
}

impl ProposedPrice {
    /// Price and pack in words: "7.80 EUR for 1000 g".
    pub fn price_words(&self) -> String {
        let Some(pack) = self.pack else {
            return String::new();
        };
        let currency = self.currency.map(|c| format!(" {c}")).unwrap_or_default();
        match self.price {
            Some(price) => format!("{price}{currency} for {pack}"),
            None => format!("{pack}, no price"),
        }
    }
}

/// A price list as it would be taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct PriceList {
    /// What the columns mean.
    pub layout: Layout,
    /// Rows in order.
    pub prices: Vec<ProposedPrice>,
    /// What must be put right before anything is taken in.
    pub problems: Vec<Problem>,
    /// What the maker should know.
    pub notes: Vec<String>,
}

/// Why no price list can be made of a table.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum PriceListError {
    /// No names, or nothing beside them.
    #[error(
        "no column of materials with a column of prices, INCI names, CAS numbers or suppliers was found; give the columns headings such as “Material”, “INCI”, “Pack size” and “Price”"
    )]
    NoColumns,
    /// Columns but no rows.
    #[error(
        "the columns were found, but no row below them has a material with a price, INCI name, CAS number or supplier"
    )]
    NoRows,
    /// More than a maker buys from.
    #[error(
        "the list has {0} prices, and at most {MOST_PRICES} are read; delete the rows you never buy from, or split it"
    )]
    TooManyRows(usize),
    /// Cells that must be put right first.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Problems(Vec<Problem>),
    /// A volume of a material of unknown density.
    #[error(
        "row {row}: a pack of {ml} ml of “{name}” cannot be turned into grams, because its density is not known; write the pack in grams, or enter the density on the shelf"
    )]
    NoDensity {
        /// Row of the table.
        row: usize,
        /// Millilitres.
        ml: Decimal,
        /// Name as written.
        name: String,
    },
    /// Nothing, or more than anybody buys.
    #[error("row {row}: a pack of {grams} g cannot be; correct the pack size")]
    Pack {
        /// Row of the table.
        row: usize,
        /// Grams.
        grams: Decimal,
    },
    /// The chosen material is not on the shelf.
    #[error("row {row}: “{id}” is not on the shelf")]
    Unknown {
        /// Row of the table.
        row: usize,
        /// The id.
        id: MaterialId,
    },
}

/// What tells a material of a list that has no prices.
const ABOUT: [Kind; 3] = [Kind::Inci, Kind::Cas, Kind::Supplier];

/// Whether a table is a list of prices or materials rather than a recipe.
pub fn looks_like_prices(table: &Table) -> bool {
    recognise(table).is_some_and(|layout| {
        let has = |kind| layout.place(kind).is_some();
        let prices = has(Kind::Price) && !has(Kind::Percent) && !has(Kind::Phase);
        prices || is_plain_list(&layout) && !has(Kind::Percent) && !has(Kind::Amount)
    })
}

/// Materials with something about them and no prices.
fn is_plain_list(layout: &Layout) -> bool {
    let about = ABOUT.into_iter().any(|kind| layout.place(kind).is_some());
    layout.place(Kind::Price).is_none() && layout.place(Kind::Name).is_some() && about
}

/// Reads a table as a price list and matches its materials with a shelf.
pub fn propose(
    table: &Table,
    settings: &Settings,
    matcher: &Resolver<'_>,
) -> Result<PriceList, PriceListError> {
    let layout = match &settings.layout {
        Some(layout) => layout.clone(),
        None => recognise(table).ok_or(PriceListError::NoColumns)?,
    };
    let names = layout
        .place(Kind::Name)
        .or_else(|| layout.place(Kind::Inci))
        .ok_or(PriceListError::NoColumns)?;
    let price_at = layout.place(Kind::Price);
    if price_at.is_none() && !is_plain_list(&layout) {
        return Err(PriceListError::NoColumns);
    }
    let texts: Vec<&str> = price_at
        .into_iter()
        .flat_map(|column| {
            (layout.first_row()..table.rows.len()).map(move |row| table.cell(row, column))
        })
        .filter_map(|cell| match cell {
            Cell::Text(text) => Some(text.as_str()),
            _ => None,
        })
        .collect();
    let reader = Reader {
        table,
        names,
        price_at,
        pack_at: layout
            .place(Kind::Pack)
            .or_else(|| layout.place(Kind::Amount)),
        mark: settings.mark.or_else(|| number::mark_of(texts)),
        layout: &layout,
    };
    let mut list = PriceList {
        layout: layout.clone(),
        prices: Vec::new(),
        problems: Vec::new(),
        notes: Vec::new(),
    };
    for row in layout.first_row()..table.rows.len() {
        match reader.read(row) {
            Ok(None) => {}
            Ok(Some((price, note))) => {
                list.notes.extend(note);
                list.prices.push(price);
            }
            Err(problem) => list.problems.push(problem),
        }
    }
    if list.prices.is_empty() && list.problems.is_empty() {
        return Err(PriceListError::NoRows);
    }
    if list.prices.len() > MOST_PRICES {
        return Err(PriceListError::TooManyRows(list.prices.len()));
    }
    let mut decider = Decider::new(matcher);
    for price in &mut list.prices {
        let decided = decider.decide(&price.wanted);
        price.candidates = decided.candidates;
        price.choice = decided.choice;
        price.suggestions = decided.suggestions;
        price.doubts.extend(decided.doubts);
    }
    Ok(list)
}

/// Most rows of a price list; matching more takes longer than anybody waits.
const MOST_PRICES: usize = 10_000;

struct Reader<'t> {
    table: &'t Table,
    layout: &'t Layout,
    names: usize,
    /// `None` in a list of materials without prices.
    price_at: Option<usize>,
    pack_at: Option<usize>,
    mark: Option<DecimalMark>,
}

impl Reader<'_> {
    fn words(&self, row: usize, kind: Kind) -> String {
        self.layout
            .place(kind)
            .map(|column| self.table.cell(row, column).words())
            .unwrap_or_default()
    }

    /// One row; `None` if it is no offer, such as a remark.
    fn read(&self, row: usize) -> Result<Option<(ProposedPrice, Option<String>)>, Problem> {
        let name = self.table.cell(row, self.names).words();
        const EMPTY: &Cell = &Cell::Empty;
        let price_at = self.price_at.unwrap_or(self.names);
        let price_cell = self.price_at.map_or(EMPTY, |at| self.table.cell(row, at));
        let told = match self.price_at {
            Some(_) => !price_cell.is_empty() || self.pack_cell(row).is_some(),
            None => ABOUT.iter().any(|&kind| !self.words(row, kind).is_empty()),
        };
        if name.is_empty() || !told {
            return Ok(None);
        }
        let problem = |column: usize, message: String| Problem {
            cell: cell_name(row, column),
            message,
        };
        let price = self
            .amount(price_cell)
            .map_err(|message| problem(price_at, message))?;
        if price.as_ref().is_some_and(|p| p.value < Decimal::ZERO) {
            return Err(problem(
                price_at,
                "the price is below 0; write what a pack costs".to_owned(),
            ));
        }
        let pack = match self.price_at {
            Some(_) => self.pack(row)?,
            None => None,
        };
        if pack.is_none() && self.price_at.is_some() {
            return Err(problem(
                price_at,
                "no pack size is given; add a column “Pack size” with units, or name the unit in the heading of the price, as in “Price per kg”".to_owned(),
            ));
        }
        let expiry_at = self.layout.place(Kind::Expiry);
        let expiry = match expiry_at.map(|column| self.table.cell(row, column)) {
            None => None,
            Some(cell) if cell.is_empty() => None,
            Some(Cell::Date(day)) => Some(*day),
            Some(cell) => Some(number::date(&cell.words()).ok_or_else(|| {
                problem(
                    expiry_at.unwrap_or(0),
                    format!("“{}” is not a day; write it as 2027-03-31", cell.words()),
                )
            })?),
        };
        let currency = number::currency_of(&self.words(row, Kind::Currency))
            .or(price.as_ref().and_then(|p| p.currency))
            .or_else(|| self.heading_currency());
        let (cas, note) = match first_cas(&self.words(row, Kind::Cas)) {
            Ok(cas) => (cas, None),
            Err(told) => (None, Some(format!("row {}: {told}", row + 1))),
        };
        Ok(Some((
            ProposedPrice {
                row: row + 1,
                wanted: Wanted {
                    name: clean_name(&name),
                    inci: clean_name(&self.words(row, Kind::Inci)),
                    cas,
                    supplier: self.words(row, Kind::Supplier),
                    strength: String::new(),
                },
                pack,
                price: price.map(|p| p.value),
                currency,
                lot: self.words(row, Kind::Lot),
                expiry,
                candidates: Vec::new(),
                choice: Choice::New,
                suggestions: Vec::new(),
                doubts: Vec::new(),
            },
            note,
        )))
    }

    fn amount(&self, cell: &Cell) -> Result<Option<Amount>, String> {
        match cell {
            Cell::Number { value, .. } => Ok(Some(Amount {
                value: *value,
                unit: None,
                currency: None,
                or: None,
            })),
            Cell::Fault(fault) => Err(format!(
                "the cell holds {fault}; open the file in a spreadsheet program, mend the cell and save it"
            )),
            cell if cell.is_empty() => Ok(None),
            cell => number::amount(&cell.words(), self.mark)
                .map(Some)
                .map_err(|error| format!("{error}; write a number")),
        }
    }

    fn pack_cell(&self, row: usize) -> Option<(usize, &Cell)> {
        let column = self.pack_at?;
        let cell = self.table.cell(row, column);
        (!cell.is_empty()).then_some((column, cell))
    }

    /// The pack of a row, or the one unit that the heading prices.
    fn pack(&self, row: usize) -> Result<Option<Pack>, Problem> {
        let of = |value: Decimal, unit: Unit| {
            unit.grams()
                .map(|each| Pack::Grams(value * each))
                .or_else(|| {
                    unit.millilitres()
                        .map(|each| Pack::Millilitres(value * each))
                })
        };
        if let Some(unit) = self.layout.unit(Kind::Price) {
            return Ok(of(Decimal::ONE, unit));
        }
        let Some((column, cell)) = self.pack_cell(row) else {
            return Ok(None);
        };
        let problem = |message: String| Problem {
            cell: cell_name(row, column),
            message,
        };
        let Some(amount) = self.amount(cell).map_err(problem)? else {
            return Ok(None);
        };
        let unit = amount
            .unit
            .or_else(|| Unit::named(&self.words(row, Kind::Unit)))
            .or(self.layout.unit(Kind::Pack))
            .or(self.layout.unit(Kind::Amount));
        unit.and_then(|unit| of(amount.value, unit)).map_or_else(
            || {
                Err(problem(
                    "the pack size has no unit; write it as “500 g” or name the unit in the heading"
                        .to_owned(),
                ))
            },
            |pack| Ok(Some(pack)),
        )
    }

    /// A currency in the heading, as in “Price (EUR)”.
    fn heading_currency(&self) -> Option<Currency> {
        let heading = self
            .table
            .cell(self.layout.headings?, self.price_at?)
            .words();
        heading
            .split(|c: char| c.is_whitespace() || "()[]/".contains(c))
            .find_map(number::currency_of)
    }
}

/// A price list taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct AcceptedPrices {
    /// Offers for the stock.
    pub offers: Vec<Offer>,
    /// Lots, for rows with a lot number; one pack each.
    pub lots: Vec<Lot>,
    /// Materials that are not on the shelf yet.
    pub new_materials: Vec<Arc<Material>>,
}

impl PriceList {
    /// Makes offers, lots and new materials. Pure: nothing is written anywhere.
    /// `supplier` and `home` stand in where the list names none; `today` is the day of
    /// receipt of lots.
    pub fn accept(
        &self,
        matcher: &Resolver<'_>,
        supplier: &str,
        home: Currency,
        today: Date,
    ) -> Result<AcceptedPrices, PriceListError> {
        if !self.problems.is_empty() {
            return Err(PriceListError::Problems(self.problems.clone()));
        }
        let mut new: BTreeMap<MaterialId, Arc<Material>> = BTreeMap::new();
        let (mut offers, mut lots) = (Vec::new(), Vec::new());
        for line in &self.prices {
            let material =
                match &line.choice {
                    Choice::Known(id, _) => {
                        Arc::clone(matcher.shelf().get(id).ok_or_else(|| {
                            PriceListError::Unknown {
                                row: line.row,
                                id: id.clone(),
                            }
                        })?)
                    }
                    Choice::Made(material) => Arc::clone(material),
                    choice => {
                        let made = new_material(line.row, &line.wanted, choice, matcher);
                        Arc::clone(new.entry(made.id.clone()).or_insert_with(|| Arc::new(made)))
                    }
                };
            let Some(pack) = line.pack_mass(&material)? else {
                continue;
            };
            let supplier: Arc<str> = if line.wanted.supplier.is_empty() {
                supplier.into()
            } else {
                line.wanted.supplier.as_str().into()
            };
            let currency = line.currency.unwrap_or(home);
            if let Some(id) = LotId::new(&line.lot) {
                lots.push(Lot {
                    id,
                    material: material.id.clone(),
                    supplier: supplier.clone(),
                    supplier_lot: line.lot.as_str().into(),
                    received: today,
                    expiry: line.expiry,
                    opened: None,
                    days_once_opened: None,
                    pack,
                    packs: 1,
                    price_per_pack: line.price,
                    currency,
                    freight_share: Decimal::ZERO,
                    tax_percent: Decimal::ZERO,
                    status: LotStatus::Quarantine,
                    made_in: None,
                    certificate: "".into(),
                    note: "".into(),
                });
            }
            offers.push(Offer {
                material: material.id.clone(),
                supplier,
                pack,
                price: line.price,
                currency,
            });
        }
        Ok(AcceptedPrices {
            offers,
            lots,
            new_materials: new.into_values().collect(),
        })
    }
}

impl AcceptedPrices {
    /// Puts offers and lots into the stock. An offer of the same material, supplier and
    /// pack is replaced; a lot whose code is in the stock already is left out and
    /// returned, because it may have been weighed from since.
    pub fn put_into(&self, stock: &mut Stock) -> Vec<LotId> {
        for offer in &self.offers {
            stock.offers.retain(|o| {
                o.material != offer.material || o.supplier != offer.supplier || o.pack != offer.pack
            });
            stock.offers.push(offer.clone());
        }
        let mut left_out = Vec::new();
        for lot in &self.lots {
            if stock.lot(&lot.id).is_some() {
                left_out.push(lot.id.clone());
            } else {
                stock.lots.push(lot.clone());
            }
        }
        left_out
    }
}

impl ProposedPrice {
    fn pack_mass(&self, material: &Material) -> Result<Option<ExactMass>, PriceListError> {
        let grams = match self.pack {
            None => return Ok(None),
            Some(Pack::Grams(grams)) => grams,
            Some(Pack::Millilitres(ml)) => {
                let density = material
                    .density
                    .as_ref()
                    .and_then(|d| Decimal::try_from(in_kg_per_m3(d.value)).ok())
                    .ok_or_else(|| PriceListError::NoDensity {
                        row: self.row,
                        ml,
                        name: self.wanted.name.clone(),
                    })?;
                ml * density / Decimal::ONE_THOUSAND
            }
        };
        ExactMass::new(grams, MassUnit::Gram)
            .filter(|mass| *mass > ExactMass::ZERO)
            .map(Some)
            .ok_or(PriceListError::Pack {
                row: self.row,
                grams,
            })
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_text;
    use super::*;
    use crate::fixture;
    use crate::material::Class;
    use crate::shelf::Shelf;

    fn read(text: &str) -> Result<AcceptedPrices, PriceListError> {
        let shelf: Shelf = [fixture::material(
            "Glycerin",
            &[("Glycerin", 100.0, Class::Humectant)],
        )]
        .into_iter()
        .collect();
        let matcher = Resolver::new(&shelf);
        let table = read_text(text).unwrap().remove(0);
        propose(&table, &Settings::default(), &matcher)?.accept(
            &matcher,
            "Fell Supplies",
            Currency::new("EUR").unwrap(),
            Date::constant(2026, 3, 1),
        )
    }

    #[test]
    fn packs_and_prices_become_offers() {
        let taken =
            read("Material;Pack size;Price\nGlycerin;1 kg;7,80 €\nMoss extract;250 g;31,00 £\n")
                .unwrap();
        let told: Vec<(&str, f64, String, String)> = taken
            .offers
            .iter()
            .map(|o| {
                (
                    o.material.as_str(),
                    o.pack.as_grams(),
                    o.price.unwrap().to_string(),
                    o.currency.to_string(),
                )
            })
            .collect();
        assert_eq!(
            told,
            [
                ("glycerin", 1000.0, "7.80".to_owned(), "EUR".to_owned()),
                ("moss-extract", 250.0, "31.00".to_owned(), "GBP".to_owned())
            ]
        );
        assert_eq!(taken.new_materials.len(), 1);
        assert!(taken.lots.is_empty());
    }

    #[test]
    fn a_list_of_materials_needs_no_prices() {
        let text = "Name;INCI;CAS;Supplier\nMoor honey;Mel;8028-66-8;Fell\nGlycerin;;56-81-5;\nto be sorted;;;\n";
        assert!(looks_like_prices(&read_text(text).unwrap()[0]));
        let taken = read(text).unwrap();
        assert!(taken.offers.is_empty() && taken.lots.is_empty());
        let names: Vec<&str> = taken.new_materials.iter().map(|m| &*m.name).collect();
        assert_eq!(names, ["Moor honey"]);
        assert_eq!(taken.new_materials[0].supplier.as_deref(), Some("Fell"));
        for text in [
            "Name;Note\nHoney;sweet\n",
            "Ingredient;INCI;%\nWater;Aqua;100\n",
        ] {
            assert!(!looks_like_prices(&read_text(text).unwrap()[0]), "{text}");
        }
    }

    #[test]
    fn a_price_per_kilogram_needs_no_pack() {
        let taken = read("Product,Price per kg (USD)\nGlycerin,4.20\n").unwrap();
        assert!((taken.offers[0].pack.as_grams() - 1000.0).abs() < 1e-9);
        assert_eq!(taken.offers[0].currency.to_string(), "USD");
    }

    #[test]
    fn a_delivery_becomes_lots_in_quarantine() {
        let taken =
            read("Material;Pack;Price;Lot;Best before\nGlycerin;5 kg;30;A-1;31.12.2027\n").unwrap();
        assert_eq!(taken.lots[0].id.as_str(), "A-1");
        assert_eq!(taken.lots[0].expiry, Some(Date::constant(2027, 12, 31)));
        assert_eq!(taken.lots[0].status, LotStatus::Quarantine);
    }

    #[test]
    fn a_newer_price_replaces_the_older_and_a_known_lot_stays() {
        let mut stock = Stock::new(Currency::new("EUR").unwrap());
        let list = |price: &str| {
            read(&format!(
                "Material;Pack;Price;Lot\nGlycerin;5 kg;{price};A-1\n"
            ))
            .unwrap()
        };
        assert!(list("30").put_into(&mut stock).is_empty());
        let left_out = list("33").put_into(&mut stock);
        assert_eq!(left_out.len(), 1);
        assert_eq!((stock.offers.len(), stock.lots.len()), (1, 1));
        assert_eq!(stock.offers[0].price, Some(Decimal::from(33)));
        assert_eq!(stock.lots[0].price_per_pack, Some(Decimal::from(30)));
    }

    #[test]
    fn what_is_missing_is_told() {
        assert_eq!(
            read("Material;Weight\nGlycerin;5\n"),
            Err(PriceListError::NoColumns)
        );
        let told = |text: &str| read(text).unwrap_err().to_string();
        assert!(told("Material;Price\nGlycerin;5\n").contains("no pack size"));
        assert!(told("Material;Pack;Price\nGlycerin;5;5\n").contains("no unit"));
        assert!(told("Material;Pack;Price\nGlycerin;5 l;5\n").contains("density"));
        assert!(told("Material;Pack;Price\nGlycerin;5 kg;cheap\n").contains("“cheap”"));
        assert!(told("Material;Pack;Price\nGlycerin;0 kg;5\n").contains("cannot be"));
        assert!(
            told("Material;Pack;Price;Best before\nGlycerin;1 kg;5;soon\n").contains("not a day")
        );
    }

    #[test]
    fn price_lists_are_told_from_recipes() {
        let of = |text: &str| looks_like_prices(&read_text(text).unwrap()[0]);
        assert!(of("Material;Pack;Price\nGlycerin;1 kg;5\n"));
        assert!(!of("Phase;Material;%\nA;Glycerin;100\n"));
    }
}
