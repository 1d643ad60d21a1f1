//! The shopping list as CSV: one row for each kind of pack to buy.

use serde::Serialize;

use crate::harmless;
use crate::material::MaterialId;
use crate::quantity::Currency;
use crate::stock::Purchase;

#[derive(Serialize)]
struct Row<'a> {
    material: &'a str,
    needed_g: String,
    in_stock_g: String,
    lacking_g: String,
    packs: Option<u32>,
    pack_g: String,
    supplier: &'a str,
    price: String,
    currency: String,
    left_over_g: String,
    not_counted: String,
}

/// Writes the list, with the names of the materials as `name` gives them. A material of which
/// no pack is known has one row without packs; a price not known is left empty.
pub fn csv(
    list: &[Purchase],
    home: Currency,
    name: impl Fn(&MaterialId) -> String,
) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for purchase in list {
        let material = name(&purchase.material);
        let bare = || Row {
            material: &material,
            needed_g: purchase.need.to_string(),
            in_stock_g: purchase.in_stock.to_string(),
            lacking_g: purchase.lacking.to_string(),
            packs: None,
            pack_g: String::new(),
            supplier: "",
            price: String::new(),
            currency: String::new(),
            left_over_g: purchase
                .left_over
                .map_or_else(String::new, |m| m.to_string()),
            not_counted: not_counted(purchase),
        };
        if purchase.packs.is_empty() {
            writer.serialize(bare())?;
        }
        for packs in &purchase.packs {
            writer.serialize(Row {
                packs: Some(packs.count),
                pack_g: packs.pack.to_string(),
                supplier: &packs.supplier,
                price: packs.price.map_or_else(String::new, |p| p.to_string()),
                currency: packs.price.map_or_else(String::new, |_| home.to_string()),
                ..bare()
            })?;
        }
    }
    harmless::csv(writer)
}

/// What lies in lots that must not be used, with the reason.
fn not_counted(purchase: &Purchase) -> String {
    let words = purchase.set_aside.iter();
    let words = words.map(|s| format!("{} g of lot {}, {}", s.left, s.lot, s.why));
    words.collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mass::read_mass;
    use crate::stock::{LotUsage, Offer, Stock, sum_needs};
    use jiff::civil::date;
    use std::collections::BTreeMap;

    #[test]
    fn batches_of_several_formulas_are_bought_for_together() {
        let mass = |text| read_mass(text, None).unwrap();
        let urea = MaterialId::from_name("Urea");
        let salt = MaterialId::from_name("Salt");
        let gel = BTreeMap::from([(urea.clone(), mass("300 g")), (salt, mass("5 g"))]);
        let balm = BTreeMap::from([(urea.clone(), mass("250 g"))]);
        let needs = sum_needs([(&gel, 2), (&balm, 1)]);
        assert_eq!(needs[&urea], mass("850 g"));
        let mut stock = Stock::new(Currency::EUR);
        stock.offers.push(Offer {
            material: urea,
            supplier: "Fellside Botanicals".into(),
            pack: mass("500 g"),
            price: None,
            currency: Currency::EUR,
            day: None,
        });
        let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
        let text = csv(&list, Currency::EUR, |id| id.as_str().to_uppercase()).unwrap();
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), 2);
        assert_eq!((&rows[0][0], &rows[0][1], &rows[0][4]), ("SALT", "10", ""));
        assert_eq!((&rows[1][4], &rows[1][5]), ("2", "500"));
        assert_eq!((&rows[1][7], &rows[1][9]), ("", "150"));
    }
}
