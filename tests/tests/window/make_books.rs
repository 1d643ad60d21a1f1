//! What the books of the workshop hold, entered and changed through the accessibility tree.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use acceptance::window::{Look, picture, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::batch::workshop::Workshop;
use formulation::cost::Packaging;
use formulation::quantity::{Currency, Decimal};
use formulation::stock::Stock;
use phasewright::app::Bench;
use phasewright::state::Books;

use super::make_sheet::{click, window};

fn books<'h>(harness: &'h Harness<'_, Bench>) -> &'h Books {
    &harness.state().state().books
}

/// What names no currency of its own is converted with the books, shown before and taken back.
#[test]
fn the_books_change_their_currency_with_all_that_is_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let mut workshop = Workshop::default();
    workshop.costs.packaging.push(Packaging {
        name: "bottle".into(),
        per_container: Some(Decimal::new(50, 2)),
    });
    let kept = &mut harness.state_mut().state_mut().books;
    kept.set_stock(Stock::new(Currency::EUR), workshop).unwrap();
    click(&mut harness, "Workshop");
    type_into(&mut harness, "Currency letters", "GBP");
    click(&mut harness, "Keep the books in it");
    harness.get_by_label_contains("set the rate of GBP first");
    assert_eq!(books(&harness).stock().home, Currency::EUR);
    for (currency, rate) in [("USD", "0.9"), ("GBP", "1.15")] {
        type_into(&mut harness, "Currency letters", currency);
        type_into(&mut harness, "One of it is worth", rate);
        click(&mut harness, "Set the rate");
    }
    type_into(&mut harness, "Currency letters", "GBP");
    click(&mut harness, "Keep the books in it");
    // Nothing is done before it is seen.
    assert_eq!(books(&harness).stock().home, Currency::EUR);
    harness.get_by_label("bottle for one container: 0.50 EUR becomes 0.4348 GBP");
    harness.get_by_label("1 USD is 0.9 EUR: 1 USD is 0.7826086957 GBP");
    picture(&mut harness, "make-workshop-currency");
    click(&mut harness, "Convert to GBP");
    harness.get_by_label("Money: kept in GBP");
    harness.get_by_label("1 EUR is 0.8695652174 GBP");
    let bottle =
        |harness: &Harness<'_, Bench>| books(harness).workshop().costs.packaging[0].per_container;
    assert_eq!(bottle(&harness), Some(Decimal::new(4348, 4)));
    click(&mut harness, "Undo in the stock");
    harness.get_by_label("Money: kept in EUR");
    assert_eq!(bottle(&harness), Some(Decimal::new(50, 2)));
    click(&mut harness, "Remove the rate of USD");
    let rates: Vec<String> = (books(&harness).stock().rates.keys())
        .map(ToString::to_string)
        .collect();
    assert_eq!(rates, ["GBP"]);
}
