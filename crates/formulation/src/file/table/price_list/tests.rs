use super::super::read_text;
use super::*;
use crate::fixture;
use crate::material::Class;
use crate::material::Material;
use crate::shelf::Shelf;
use crate::stock::{LotStatus, Stock};

fn read(text: &str) -> Result<AcceptedPrices, PriceListError> {
    let shelf: Shelf = [fixture::material(
        "Glycerin",
        &[("Glycerin", 100.0, Class::Humectant)],
    )]
    .into_iter()
    .collect();
    let matcher = Resolver::new(&shelf);
    let table = read_text(text).unwrap().remove(0);
    let list = propose(&table, &RecipeSettings::default(), &matcher)?;
    Ok(list.accept(&matcher, "Fell Supplies", Date::constant(2026, 3, 1)))
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

/// What is sold no more is left out without a price, and asked about with one.
#[test]
fn materials_sold_no_more_are_told() {
    let read = |text: &str| {
        let matcher = Resolver::new(crate::shelf::built_in());
        let table = read_text(text).unwrap().remove(0);
        propose(&table, &RecipeSettings::default(), &matcher).unwrap()
    };
    for word in ["discontinued", "descatalogado", "nicht mehr lieferbar"] {
        let text = format!(
            "Material;Pack;Price (EUR);Remark\nShea butter;1 kg;12.40;\nTalc;1 kg;3.10;{word}\nKaolin;1 kg;;{word}\n"
        );
        let list = read(&text);
        let names: Vec<&str> = list.prices.iter().map(|p| p.wanted.name.as_str()).collect();
        assert_eq!(names, ["Shea butter", "Talc"], "{word}");
        assert!(list.prices[1].is_doubtful(), "{word}");
        let told = list.assumptions();
        assert!(told.iter().any(|t| t.contains("Kaolin")), "{told:?}");
    }
}

/// "kr" is the money of several countries.
#[test]
fn prices_in_kr_are_those_of_the_tongue() {
    let money = |text: &str| {
        let matcher = Resolver::new(crate::shelf::built_in());
        let table = read_text(text).unwrap().remove(0);
        let list = propose(&table, &RecipeSettings::default(), &matcher).unwrap();
        let told = list.assumptions().join("\n");
        (list.prices[0].offers[0].currency.to_string(), told)
    };
    let (code, told) = money("Råvara;Förpackning;Pris exkl. moms (kr)\nRapsolja;5 l;189,00\n");
    assert_eq!(code, "SEK");
    assert!(told.contains("kr; SEK was taken"), "{told}");
    let (code, _) = money("Råvare;Pakning;Pris ekskl. moms (kr)\nRapsolie;5 l;119,00\n");
    assert_eq!(code, "DKK");
    // Nothing tells which.
    let (code, told) = money("Material;Pack;Price (kr)\nKaolin;1 kg;98.00\n");
    assert!(
        code == "EUR" && told.contains("no currency is stated"),
        "{told}"
    );
}

/// In a list of materials a share is how much of its substance each holds.
#[test]
fn shares_of_a_list_of_materials_are_strengths() {
    let matcher = Resolver::new(crate::shelf::built_in());
    let text = "Grondstof;INCI;Gehalte\nGlycerine;Glycerin;86 %\nMelkzuur;Lactic Acid;90 %\n";
    let table = read_text(text).unwrap().remove(0);
    let list = propose(&table, &RecipeSettings::default(), &matcher).unwrap();
    let first = |n: usize| list.prices[n].wanted.strength.clone();
    assert_eq!((first(0).as_str(), first(1).as_str()), ("86 %", "90 %"));
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

/// What is in stock is counted row by row: two shelves with glycerin are two lots, with a
/// number or without.
#[test]
fn every_row_of_a_stock_list_keeps_its_lot() {
    let text = "Material;Pack;In stock;Lot\nGlycerin;1 kg;1 kg;\nGlycerin;5 kg;5 kg;\nGlycerin;1 kg;1 kg;G-7\nGlycerin;1 kg;2 kg;G-7\nGlycerin;1 kg;1 kg;G-7 2\n";
    let taken = read(text).unwrap();
    let codes: Vec<&str> = taken.lots.iter().map(|l| l.id.as_str()).collect();
    let day = taken.lots[0].received;
    assert_eq!(
        codes,
        [
            format!("glycerin {day}").as_str(),
            format!("glycerin {day} 2").as_str(),
            "G-7",
            "G-7 2",
            "G-7 2 2",
        ]
    );
    assert_eq!(&*taken.lots[3].supplier_lot, "G-7");
    let told: Vec<usize> = taken.kept.iter().map(|(row, _)| *row).collect();
    assert_eq!(told, [5, 6]);
    let mut stock = Stock::new(Currency::new("EUR").unwrap());
    assert!(taken.put_into(&mut stock).is_empty());
    assert_eq!(stock.lots.len(), 5);
    // The same once more changes nothing and is nothing new; another quantity is.
    assert!(taken.unlike_in(&stock).is_empty());
    let other = read(&text.replace("2 kg;G-7", "3 kg;G-7")).unwrap();
    let told = other.unlike_in(&stock);
    assert!(
        told.len() == 1 && told[0].contains("another quantity"),
        "{told:?}"
    );
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
    assert!(told("Material;Pack;Price\nGlycerin;5 kg;cheap\n").contains("“cheap”"));
    assert!(told("Material;Pack;Price\nGlycerin;0 kg;5\n").contains("cannot be"));
    let taken = read("Material;Pack;Price\nGlycerin;5 l;5\n").unwrap();
    assert!(taken.offers.is_empty() && taken.left_out[0].reason.contains("density"));
    let list = proposed("Material;Pack;Price;Best before\nGlycerin;1 kg;5;soon\n");
    assert!(list.prices[0].doubts[0].contains("not a day"));
}

fn proposed(text: &str) -> PriceList {
    let shelf = crate::shelf::built_in();
    let table = read_text(text).unwrap().remove(0);
    assert!(looks_like_prices(&table), "{text}");
    propose(&table, &RecipeSettings::default(), &Resolver::new(shelf)).unwrap()
}

/// Each row as it is printed: number, prices and lot.
fn check(text: &str, expected: &[&str], assumed: bool) {
    let list = proposed(text);
    let told: Vec<String> = list
        .prices
        .iter()
        .map(|p| {
            let lot = p
                .lot
                .as_ref()
                .map(|l| format!(" [{}]", l.words()))
                .unwrap_or_default();
            format!("{} {}{lot}", p.row, p.price_words())
        })
        .collect();
    assert_eq!(told, expected, "{text}");
    let open: Vec<String> = list.assumptions();
    assert_eq!(!open.is_empty(), assumed, "{text}: {open:?}");
    assert_eq!(list.rows, list.prices.len() + list.left_out.len(), "{text}");
}

#[test]
fn a_price_is_for_what_its_heading_says() {
    check(
        "Material,Price per 100 g (EUR)\nGlycerin,0.95\n",
        &["2 0.95 EUR for 100 g"],
        false,
    );
    check(
        "Rohstoff;Preis je 500 g\nGlycerin;4,90 €\n",
        &["2 4.90 EUR for 500 g"],
        false,
    );
    check(
        "Rohstoff;Gebinde;Preis pro kg (EUR)\nGlycerin;5 kg;3,80\n",
        &["2 19.00 EUR for 5000 g"],
        false,
    );
    check(
        "Material,EUR/kg\nGlycerin,6.90\n",
        &["2 6.90 EUR for 1000 g"],
        false,
    );
    check(
        "Code,Trade name,INCI,MOQ,Price €/kg\nFG-2,Plant butter 2,Butyrospermum Parkii Butter,5 kg,9.80\n",
        &["2 9.80 EUR for 1000 g"],
        false,
    );
    check(
        "Material,Pack size,No. of packs,Total price (EUR)\nGlycerin,1 kg,2,13.00\n",
        &["2 6.50 EUR for 1000 g"],
        false,
    );
    check(
        "Product,Price\n\"Glycerin, 1 kg\",6.00 €\n",
        &["2 6.00 EUR for 1000 g"],
        false,
    );
}

#[test]
fn sizes_side_by_side_are_offers_each() {
    check(
        "Material,100 g,1 kg (EUR)\nGlycerin,1.20,6.90\n",
        &["2 1.20 EUR for 100 g; 6.90 EUR for 1000 g"],
        false,
    );
    check(
        "Material,1-4 kg,5-24 kg,25+ kg\nGlycerin,6.90,5.80,4.90\n",
        &["2 6.90 EUR for 1000 g; 29.00 EUR for 5000 g; 122.50 EUR for 25000 g"],
        true,
    );
    // Prices that fall with the size are those of a kilogram.
    check(
        "Material,1 kg (EUR),5 kg (EUR)\nGlycerin,6.90,5.80\n",
        &["2 6.90 EUR for 1000 g; 29.00 EUR for 5000 g"],
        true,
    );
}

#[test]
fn tax_years_and_discounts_are_told_apart() {
    check(
        "Artikel;Packung;Netto EUR;Brutto EUR\nGlycerin;1 kg;6,00;7,14\n",
        &["2 6.00 EUR for 1000 g"],
        false,
    );
    check(
        "Article,Pack,Price incl. 19 % VAT (EUR)\nGlycerin,1 kg,7.14\n",
        &["2 6.00 EUR for 1000 g"],
        true,
    );
    check(
        "Material,Pack,Price 2025 (EUR),Price 2026 (EUR)\nGlycerin,1 kg,5.50,6.00\n",
        &["2 6.00 EUR for 1000 g"],
        true,
    );
    check(
        "Material,Pack,List price,Discount,Net price (EUR)\nGlycerin,1 kg,6.00,10 %,5.40\n",
        &["2 5.40 EUR for 1000 g"],
        false,
    );
}

#[test]
fn deliveries_invoices_and_stock_become_lots() {
    check(
        "Material,Pack size,Packs,Price per pack (GBP),Lot,Expiry\nGlycerin,1 kg,2,6.50,G-77,2027-05-31\n",
        &["2 6.50 GBP for 1000 g [2 packs of 1000 g, lot G-77, best before 2027-05-31]"],
        false,
    );
    check(
        "Material,In stock,Lot,Expiry\nGlycerin,2.4 kg,G-77,2027-05-31\n",
        &["2 2400 g, no price [1 pack of 2400 g, lot G-77, best before 2027-05-31]"],
        false,
    );
    check(
        "Artikel;Anzahl;Gebinde;Charge;MHD\nGlycerin;2;5 kg;G-901;31.12.2027\n",
        &["2 10000 g, no price [2 packs of 5000 g, lot G-901, best before 2027-12-31]"],
        false,
    );
    // The day of an ambiguous date is asked once for the file.
    check(
        "Material,Pack,Price (EUR),Lot,Best before\nGlycerin,5 kg,30,A-1,03/04/2027\n",
        &["2 30 EUR for 5000 g [1 pack of 5000 g, lot A-1, best before 2027-04-03]"],
        true,
    );
    let invoice = "Invoice 2026-118 EUR\nSupplier: Fell Oils\n\nPos,Article no,Description,Qty,Unit,Unit price,Line total\n1,10023,Glycerin 99.5 %,5,kg,3.80,19.00\n,,Shipping,1,,6.90,6.90\n,,Subtotal,,,,25.90\n,,VAT 19 %,,,,4.92\n,,Total,,,,30.82\n";
    check(invoice, &["5 3.80 EUR for 1000 g"], false);
    assert_eq!(proposed(invoice).supplier, "Fell Oils");
}

#[test]
fn one_bad_row_blocks_no_other() {
    check(
        "Material,Pack,Price (EUR)\nGlycerin,1 kg,6.00\nShea butter,1 kg,on request\nXanthan gum,,4.10\nOlive oil,5,20\nBeeswax,1 kg,11.00\n",
        &[
            "2 6.00 EUR for 1000 g",
            "3 1000 g, no price",
            "6 11.00 EUR for 1000 g",
        ],
        true,
    );
}

#[test]
fn what_a_list_says_of_materials_is_kept() {
    let shelf = crate::shelf::built_in();
    let kept = |text: &str| -> Vec<Material> {
        let matcher = Resolver::new(shelf);
        let taken = proposed(text).accept(&matcher, "", Date::constant(2026, 3, 1));
        taken
            .new_materials
            .iter()
            .map(|m| Material::clone(m))
            .collect()
    };
    let shares = |m: &Material| -> Vec<String> {
        m.constituents
            .iter()
            .map(|c| format!("{} {:.0}", c.inci, c.share.typical.as_percent()))
            .collect()
    };
    let of = kept(
        "Trade name,INCI,Supplier,Function,Use level\nMossguard PE,\"Phenoxyethanol, Ethylhexylglycerin\",Fell,Preservative,0.5-1 %\n",
    );
    assert_eq!(&*of[0].name, "Mossguard PE");
    assert_eq!(of[0].supplier.as_deref(), Some("Fell"));
    assert_eq!(of[0].roles, [crate::material::Role::Preservative]);
    assert_eq!(of[0].use_ranges[0].high.to_string(), "1");
    // The composition of the generic material stays where none is stated.
    assert_eq!(of[0].constituents.len(), 2);
    let columns = kept(
        "Material,Trade name,Supplier,INCI 1,% 1,INCI 2,% 2\nPreservative,Mossguard,Fell,Phenoxyethanol,80,Ethylhexylglycerin,20\n",
    );
    assert_eq!(
        shares(&columns[0]),
        ["Phenoxyethanol 80", "Ethylhexylglycerin 20"]
    );
    let rows = kept(
        "Raw material,INCI,% in raw material\nFoam 30,Aqua,65\n,Cocamidopropyl Betaine,30\n,Sodium Chloride,5\nMossguard,Phenoxyethanol,90\n,Ethylhexylglycerin,10\n",
    );
    assert_eq!(rows.len(), 2);
    let foam = rows.iter().find(|m| &*m.name == "Foam 30").unwrap();
    assert_eq!(
        shares(foam),
        ["Aqua 65", "Cocamidopropyl Betaine 30", "Sodium Chloride 5"]
    );
    // Two suppliers of the same are two materials; the same name alone changes nothing.
    assert_eq!(
        kept("Name,INCI,Supplier\nGlycerin,Glycerin,Fell\nGlycerin,Glycerin,Tarn\n").len(),
        2
    );
    assert!(kept("Name,INCI\nGlycerin,Glycerin\n").is_empty());
}

#[test]
fn price_lists_are_told_from_recipes() {
    let of = |text: &str| looks_like_prices(&read_text(text).unwrap()[0]);
    assert!(of("Material;Pack;Price\nGlycerin;1 kg;5\n"));
    assert!(!of("Phase;Material;%\nA;Glycerin;100\n"));
}

#[test]
fn article_numbers_of_one_letter_are_no_phases() {
    let text = "Code,Product,1 kg,5 kg,25 kg\nT1,Olive oil,8.9,39.5,175\nT2,Coconut oil,7.2,33,150\nT3,Cocoa butter,16.4,76,POA\n";
    let table = read_text(text).unwrap().remove(0);
    assert!(looks_like_prices(&table));
}

/// Whether something of the list says all of some words.
fn says(list: &PriceList, words: &[&str]) -> bool {
    let all = list.assumptions();
    all.iter()
        .any(|told| words.iter().all(|word| told.contains(word)))
}

#[test]
fn prices_of_the_pack_and_of_a_kilogram_that_do_not_agree_are_asked() {
    let list = proposed(
        "Material,Pack,Price (EUR),Price per kg (EUR)\nMoor honey,500 g,4.00,8.00\nHeather wax,250 g,3.00,15.00\nOat flour,3 kg,10.00,3.33\n",
    );
    let words: Vec<String> = list.prices.iter().map(ProposedPrice::price_words).collect();
    assert_eq!(
        words,
        [
            "4.00 EUR for 500 g",
            "3.00 EUR for 250 g",
            "10.00 EUR for 3000 g"
        ]
    );
    let doubtful: Vec<bool> = list.prices.iter().map(|p| p.own_doubts > 0).collect();
    assert_eq!(doubtful, [false, true, false]);
    assert!(says(&list, &["Heather wax", "15", "does not agree"]));
}

#[test]
fn sums_below_prove_whether_tax_is_in_the_prices() {
    let invoice = |below: &str| {
        proposed(&format!(
            "Item,Qty,Pack,Unit price (EUR),Total (EUR)\nMoor honey,2,500 g,5.00,10.00\nHeather wax,1,250 g,9.00,9.00\n{below}"
        ))
    };
    let price = |list: &PriceList| list.prices[0].price_words();
    // 19 + 3.61 = 22.61: the tax is added.
    let net = invoice("Subtotal,,,,19.00\nVAT 19 %,,,,3.61\nTotal,,,,22.61\n");
    assert_eq!(price(&net), "5.00 EUR for 500 g");
    assert!(!says(&net, &["tax"]), "{:?}", net.assumptions());
    // 19 = 15.97 + 3.03: the tax is in it.
    let gross = invoice("Total,,,,19.00\nof which VAT 19 %,,,,3.03\n");
    assert_eq!(price(&gross), "4.2017 EUR for 500 g");
    assert!(says(&gross, &["tax of 19 %", "taken off"]));
    // No rate, but the sum without it.
    let gross = invoice("Net,,,,15.97\nVAT,,,,3.03\nTotal,,,,19.00\n");
    assert_eq!(price(&gross), "4.2017 EUR for 500 g");
    // Nothing proves either.
    let open = invoice("VAT,,,,3.30\n");
    assert_eq!(price(&open), "5.00 EUR for 500 g");
    assert!(says(&open, &["no sum proves"]));
}

#[test]
fn prices_with_and_without_tax_that_do_not_agree_are_asked() {
    let list = proposed(
        "Material,Pack,Net price (EUR),VAT %,Gross price (EUR)\nMoor honey,500 g,10.00,19,11.90\nHeather wax,250 g,10.00,19,13.90\nOat flour,1 kg,10.00,7,10.70\n",
    );
    let doubtful: Vec<bool> = list.prices.iter().map(|p| p.own_doubts > 0).collect();
    assert_eq!(doubtful, [false, true, false], "{:?}", list.assumptions());
    assert!(says(&list, &["Heather wax", "13.9", "do not agree"]));
    // Sums of tax beside prices that hold it.
    let list = proposed(
        "Material,Pack,Price incl. VAT (EUR),VAT\nMoor honey,500 g,11.90,1.90\nHeather wax,250 g,10.70,0.70\n",
    );
    let words: Vec<String> = list.prices.iter().map(ProposedPrice::price_words).collect();
    assert_eq!(words, ["10.00 EUR for 500 g", "10.00 EUR for 250 g"]);
}

#[test]
fn a_list_of_allergens_tells_what_is_in_the_oils() {
    let shelf = crate::shelf::built_in();
    let matcher = Resolver::new(shelf);
    for text in [
        "Oil,Allergen,%\nLavender essential oil,Linalool,33\nLavender essential oil,Geraniol,0.4\nLemon essential oil,Limonene,65\nLemon essential oil,Citral,2.5\n",
        "Oil,%\nLavender essential oil,\nLinalool,33\nGeraniol,0.4\nLemon essential oil,\nLimonene,65\nCitral,2.5\n",
        "Oil,INCI,Linalool %,Geraniol %,Limonene %,Citral %\nLavender essential oil,Lavandula Angustifolia Oil,33,0.4,0,\nLemon essential oil,Citrus Limon Peel Oil,,,65,2.5\n",
    ] {
        let table = read_text(text).unwrap().remove(0);
        assert!(looks_like_prices(&table), "{text}");
        let list = propose(&table, &RecipeSettings::default(), &matcher).unwrap();
        let names: Vec<&str> = list.prices.iter().map(|p| p.wanted.name.as_str()).collect();
        assert_eq!(
            names,
            ["Lavender essential oil", "Lemon essential oil"],
            "{text}"
        );
        let allergens: Vec<usize> = list
            .prices
            .iter()
            .map(|p| p.about.allergens.len())
            .collect();
        assert_eq!(allergens, [2, 2], "{text}");
        let taken = list.accept(&matcher, "", Date::constant(2026, 3, 1));
        let [lavender, _] = taken.new_materials.as_slice() else {
            panic!("{:?}", taken.new_materials.len());
        };
        let shares: Vec<(String, f64)> = lavender
            .constituents
            .iter()
            .map(|c| {
                (
                    c.inci.to_string(),
                    (c.share.typical.as_percent() * 10.0).round() / 10.0,
                )
            })
            .collect();
        assert_eq!(
            shares,
            [
                ("Lavandula Angustifolia Oil".to_owned(), 66.6),
                ("Linalool".to_owned(), 33.0),
                ("Geraniol".to_owned(), 0.4),
            ]
        );
        assert!(
            lavender
                .constituents
                .iter()
                .skip(1)
                .all(|c| c.incidental.is_some())
        );
    }
}

#[test]
fn a_line_outside_of_the_list_says_that_prices_hold_tax() {
    let list = proposed(
        "Werkhof, Preise in EUR inkl. MwSt.;;\nRohstoff;500 g;1 kg\nSheabutter;5,90;10,80\nKakaobutter;9,50;17,60\n",
    );
    assert!(
        says(&list, &["hold tax", "as they stand"]),
        "{:?}",
        list.assumptions()
    );
    let list = proposed(
        "Rohstoff;Gebinde;Preis\nSheabutter;1 kg;11,90\nKakaobutter;1 kg;23,80\nAlle Preise inkl. 19 % MwSt.;;\n",
    );
    assert_eq!(list.prices[0].price_words(), "10.00 EUR for 1000 g");
    assert!(
        says(&list, &["tax of 19 %", "taken off"]),
        "{:?}",
        list.assumptions()
    );
}

#[test]
fn words_of_where_a_material_is_kept_are_no_names() {
    let list = proposed(
        "Handelsname;INCI;Lieferant;Ablage\nMilvosoft CG;Coco-Glucoside;Werkhof;Kiste 1\nKernal 90;Glycerin;Werkhof;Kiste 2\nBergol;Vitis Vinifera Seed Oil;Ried;Kiste 2\n",
    );
    let names: Vec<&str> = list.prices.iter().map(|p| p.wanted.name.as_str()).collect();
    assert_eq!(names, ["Milvosoft CG", "Kernal 90", "Bergol"]);
}

/// A log of what was bought: the day goes with each price, and the newest counts.
#[test]
fn the_day_of_a_price_is_kept() {
    let text = "Date;Material;Pack;Price\n03.10.2026;Glycerin;1 kg;7,80 €\n14.02.2026;Glycerin;1 kg;6,90 €\nsoon;Glycerin;5 kg;30,00 €\n";
    let table = read_text(text).unwrap().remove(0);
    let shelf = Shelf::default();
    let list = propose(&table, &RecipeSettings::default(), &Resolver::new(&shelf)).unwrap();
    assert!(list.prices[2].doubts[0].contains("“soon” (cell A4) is not a day"));
    let taken = read(text).unwrap();
    let days: Vec<Option<Date>> = taken.offers.iter().map(|o| o.day).collect();
    let day = Date::constant;
    assert_eq!(days, [Some(day(2026, 10, 3)), Some(day(2026, 2, 14)), None]);
    let mut stock = Stock::new(Currency::EUR);
    taken.put_into(&mut stock);
    assert_eq!(stock.offers.len(), 2);
    assert_eq!(stock.offers[0].day, Some(day(2026, 10, 3)));
}

#[test]
fn what_is_left_in_stock_is_said_in_many_words() {
    let seen = |head: &str, row: &str| {
        let text = format!("{head}\n{row}\n{}\n", row.replace("G-77", "G-78"));
        let table = &read_text(&text).unwrap()[0];
        assert!(looks_like_prices(table), "{head}");
        let taken = read(&text).unwrap_or_else(|error| panic!("{head}: {error}"));
        let lots: Vec<(&str, bool)> = taken
            .lots
            .iter()
            .map(|lot| (&*lot.supplier_lot, lot.expiry.is_some()))
            .collect();
        assert_eq!(lots, [("G-77", true), ("G-78", true)], "{head}");
    };
    for head in [
        "Material;Batch no.;Amount remaining (g);Use before",
        "Rohstoff;Chargen-Nr.;Restmenge (g);Verwendbar bis",
        "Rohstoff;Charge;noch da (g);aufbrauchen bis",
        "Produit;Lot;Reste (g);À utiliser avant",
        "Produit;N° de lot;Quantité restante (g);DLC",
        "Producto;Lote;Queda (g);Consumir preferentemente antes de",
        "Prodotto;Lotto;Rimanenza (g);Da usare entro",
        "Grondstof;Partijnr.;Resterend (g);Te gebruiken voor",
        "Surowiec;Nr serii;Zostało (g);Zużyć do",
    ] {
        seen(head, "Glycerin;G-77;750;2028-05-31");
    }
    // Letters beside them are those of shelves.
    for place in [
        "Plank",
        "Fach",
        "Étagère",
        "Balda",
        "Ripiano",
        "Półka",
        "Raum",
    ] {
        let head = format!("Naam;Voorraad;THT;Partijnummer;{place}");
        let text = format!(
            "{head}\nGlycerin;4,5 kg;2028-05-31;G-77;A\nGlycerin;1 kg;2028-06-30;G-78;A\nGlycerin;2 kg;2028-07-31;G-79;B\n"
        );
        assert!(looks_like_prices(&read_text(&text).unwrap()[0]), "{place}");
        assert_eq!(read(&text).unwrap().lots.len(), 3, "{place}");
    }
}

#[test]
fn prices_in_a_letter_are_a_list_however_long_it_is() {
    let letter = "From: Ann <ann@fell.example>\nTo: Ben <ben@moss.example>\nSubject: prices\nDate: Mon, 23 Nov 2026 09:30:00 +0100\nMIME-Version: 1.0\n\nDear Ben,\n\nit was good to see you at the fair.\nHere is what we have,\nall without VAT:\n\nGlycerin, 1 kg: 7,80 €\nMoss extract, 250 g: 31,00 €\nShea butter, 1 kg: 10,90 €\n\nCarriage is 7,50 €.\nWrite if you need more.\nThe shop is closed in May.\nAll the best,\nAnn\nFell Supplies\n";
    let table = read_text(letter).unwrap().remove(0);
    assert!(looks_like_prices(&table));
    assert_eq!(read(letter).unwrap().offers.len(), 3);
    // Who wrote to whom is no line of a recipe; what a letter is about stays.
    let left: Vec<usize> = table.left_out.keys().copied().collect();
    assert_eq!(left, [0, 1, 3, 4]);
    let few = "Dear Ben,\n\nolive oil 70 g\nbeeswax 20 g\nshea butter 10 g\ncastor oil 5 g\njojoba oil 5 g\n\nGlycerin, 1 kg: 7,80 €\nShea butter, 1 kg: 10,90 €\n\nYours, Ann\n";
    assert!(!looks_like_prices(&read_text(few).unwrap()[0]));
}

#[test]
fn names_in_two_tongues_beside_their_inci_are_one_material_each() {
    for head in [
        "Français;Deutsch;INCI",
        "English;Polski;INCI",
        "Italiano;Español;INCI",
        "Nederlands;Frans;INCI",
    ] {
        let text = format!(
            "{head}\nGlycerin;Glycerin;Glycerin\nMoor honey;Moorhonig;Mel\nOat water;Haferwasser;Avena Sativa Water\n"
        );
        assert!(looks_like_prices(&read_text(&text).unwrap()[0]), "{head}");
        assert_eq!(read(&text).unwrap().new_materials.len(), 2, "{head}");
    }
}
