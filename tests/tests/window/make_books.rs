//! What the books of the workshop hold, entered and changed through the accessibility tree.

use acceptance::window::{Look, picture, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::batch::scale::Vessel;
use formulation::batch::workshop::Workshop;
use formulation::cost::Packaging;
use formulation::material::MaterialId;
use formulation::quantity::{Currency, Decimal, Percent, in_millilitres, millilitres};
use formulation::stock::{Offer, Stock};
use phasewright::app::Bench;
use phasewright::state::Books;

use super::make_sheet::{click, mass, window};

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

/// A duty that was done can get other days and be given up; what was done stays.
#[test]
fn a_duty_is_changed_and_given_up_with_its_record() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    click(&mut harness, "Calendar");
    for thing in ["bench scale", "pH meter"] {
        type_into(&mut harness, "Scale, meter or vessel", thing);
        type_into(&mut harness, "What is done", "check");
        let days = "Every so many days, empty if when needed";
        type_into(&mut harness, days, "7");
        click(&mut harness, "Add it");
    }
    click(&mut harness, "Done today: bench scale, check");
    click(&mut harness, "Change bench scale, check…");
    let days = "Now every so many days, empty if when needed";
    type_into(&mut harness, days, "30");
    picture(&mut harness, "make-calendar-change");
    click(&mut harness, "Keep the change");
    let duty = |harness: &Harness<'_, Bench>| books(harness).workshop().duties[0].clone();
    assert_eq!(
        (duty(&harness).every_days, duty(&harness).done.len()),
        (30, 1)
    );
    click(&mut harness, "Remove bench scale: check");
    assert!(duty(&harness).ended.is_some());
    assert_eq!(duty(&harness).done.len(), 1);
    // It is due no more, but stands there with what was done.
    let due = harness.state().state().due(90);
    assert!(
        due.iter().all(|d| !d.what.contains("bench scale")),
        "{due:?}"
    );
    harness.get_by_label("Done once");
    // One that was never done goes.
    click(&mut harness, "Remove pH meter: check");
    assert_eq!(books(&harness).workshop().duties.len(), 1);
    drop(harness);
    let kept = Books::read(Some(folder.path())).0;
    assert!(kept.workshop().duties[0].ended.is_some());
    let mut harness = window(Look::USUAL, folder.path());
    click(&mut harness, "Calendar");
    click(&mut harness, "Take up again: bench scale, check");
    assert_eq!(duty(&harness).ended, None);
}

/// Scales and vessels are changed in their place, and a name goes from the list offered.
#[test]
fn scales_vessels_and_names_are_changed_in_place() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let mut workshop = Workshop::default();
    let pot = Vessel::new("pot", millilitres(2000.0), Percent::HUNDRED).unwrap();
    workshop.vessels.push(pot);
    for name in ["Ash", "Wren"] {
        workshop.remember_person(name);
    }
    let kept = &mut harness.state_mut().state_mut().books;
    kept.set_stock(Stock::new(Currency::EUR), workshop).unwrap();
    click(&mut harness, "Workshop");
    click(&mut harness, "Change the scale scale…");
    type_into(&mut harness, "Name of the scale", "bench scale");
    type_into(&mut harness, "Smallest step, with its unit", "0.01 g");
    click(&mut harness, "Keep the scale");
    click(&mut harness, "Change the vessel pot…");
    let volume = "Brimful volume, with its unit";
    assert_eq!(
        harness.get_by_label(volume).value().as_deref(),
        Some("2000 ml")
    );
    type_into(&mut harness, volume, "2.5 l");
    click(&mut harness, "Keep the vessel");
    picture(&mut harness, "make-workshop-changed");
    click(&mut harness, "Remove the name Ash");
    let workshop = books(&harness).workshop();
    assert_eq!(workshop.scales.len(), 1);
    assert_eq!(workshop.scales[0].name().as_ref(), "bench scale");
    assert_eq!(workshop.scales[0].resolution(), mass("0.01 g"));
    assert_eq!(workshop.vessels.len(), 1);
    assert!((in_millilitres(workshop.vessels[0].capacity()) - 2500.0).abs() < 1e-6);
    assert_eq!(workshop.people, ["Wren".into()]);
}

/// Costs of all products are entered, and costs and offers changed in their place.
#[test]
fn costs_and_offers_are_changed_in_place() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let mut stock = Stock::new(Currency::EUR);
    stock.offers.push(Offer {
        material: MaterialId::from_name("Glycerin 99.5 %"),
        supplier: "Fellside Botanicals".into(),
        pack: mass("1 kg"),
        price: Some(Decimal::from(5)),
        currency: Currency::EUR,
        day: None,
    });
    let kept = &mut harness.state_mut().state_mut().books;
    kept.set_stock(stock, Workshop::default()).unwrap();
    click(&mut harness, "Cost");
    click(&mut harness, "All products");
    for (name, price) in [("bottle", "0.45"), ("label", "0.05")] {
        type_into(&mut harness, "What for", name);
        type_into(&mut harness, "Price in EUR, empty if unknown", price);
        click(&mut harness, "Add the cost");
    }
    click(&mut harness, "Change bottle: 0.45 EUR for one container…");
    type_into(&mut harness, "Price in EUR, empty if unknown", "0.50");
    picture(&mut harness, "make-cost-change");
    click(&mut harness, "Keep the cost");
    let all = &books(&harness).workshop().costs.packaging;
    let said: Vec<(&str, Option<Decimal>)> = (all.iter())
        .map(|p| (p.name.as_ref(), p.per_container))
        .collect();
    assert_eq!(
        said,
        [
            ("bottle", Some(Decimal::new(50, 2))),
            ("label", Some(Decimal::new(5, 2)))
        ]
    );
    assert!(books(&harness).workshop().products.is_empty());
    // A change for this product alone leaves those of the others.
    click(&mut harness, "This product");
    click(&mut harness, "Remove label: 0.05 EUR for one container");
    assert_eq!(books(&harness).workshop().costs.packaging.len(), 2);
    let own = |harness: &Harness<'_, Bench>| {
        let mut products = books(harness).workshop().products.values();
        products
            .find_map(|p| p.costs.clone())
            .map(|c| c.packaging.len())
    };
    assert_eq!(own(&harness), Some(1));
    click(&mut harness, "Take the costs of all products for this one");
    assert_eq!(own(&harness), None);
    click(&mut harness, "Stock");
    click(&mut harness, "Offers");
    click(
        &mut harness,
        "Change the offer of 1000 g of Glycerin 99.5 % for 5 EUR…",
    );
    type_into(&mut harness, "Price of a pack", "6");
    click(&mut harness, "Keep the offer");
    let offers = &books(&harness).stock().offers;
    assert_eq!(offers.len(), 1);
    assert_eq!(offers[0].price, Some(Decimal::from(6)));
    assert_eq!(offers[0].pack, mass("1 kg"));
}
