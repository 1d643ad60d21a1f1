use super::*;
use crate::batch_code::BatchCode;
use crate::fixture;
use crate::mass::read_mass;
use crate::material::Class;
use jiff::civil::date;

fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}
fn eur() -> Currency {
    Currency::new("EUR").unwrap()
}
fn glycerin() -> MaterialId {
    MaterialId::from_name("glycerin")
}
fn lot(id: &str, pack: &str, packs: u32, expiry: Option<Date>) -> Lot {
    Lot {
        supplier: "Fellside Botanicals".into(),
        expiry,
        packs,
        ..Lot::of_one_pack(
            LotId::new(id).unwrap(),
            glycerin(),
            date(2026, 1, 10),
            mass(pack),
            eur(),
        )
    }
}
fn offer(pack: &str, price: Option<i64>) -> Offer {
    Offer {
        material: glycerin(),
        supplier: "Fellside Botanicals".into(),
        pack: mass(pack),
        price: price.map(|p| Decimal::new(p, 2)),
        currency: eur(),
        day: None,
    }
}

#[test]
fn what_speaks_against_a_lot_is_said_at_its_limits() {
    let mut stock = Stock::new(eur());
    let (id, other) = (LotId::new("G1").unwrap(), MaterialId::from_name("other"));
    let usage = LotUsage::default();
    let last = date(2026, 6, 30);
    let faults = |stock: &Stock, material: &MaterialId, grams: &str, day| {
        stock.faults(&id, material, mass(grams), &usage, day)
    };
    // Where no stock is kept, nothing can be said.
    assert_eq!(faults(&stock, &glycerin(), "1 g", last), []);
    stock.lots = vec![lot("G2", "1 kg", 1, None)];
    let unknown = faults(&stock, &glycerin(), "1 g", last);
    assert_eq!(unknown, [LotFault::Unknown(id.clone())]);
    stock.lots = vec![lot("G1", "1 kg", 1, Some(last))];
    assert_eq!(faults(&stock, &glycerin(), "1 kg", last), []);
    assert_eq!(
        faults(&stock, &glycerin(), "1000.1 g", last),
        [LotFault::Short(id.clone(), mass("1 kg"))]
    );
    assert_eq!(
        faults(&stock, &glycerin(), "1 g", date(2026, 7, 1)),
        [LotFault::Expired(id.clone(), last)]
    );
    assert_eq!(
        faults(&stock, &other, "1 g", last),
        [LotFault::OtherMaterial(id.clone(), glycerin())]
    );
    for (status, words) in [
        (LotStatus::Quarantine, "quarantine"),
        (LotStatus::Rejected, "the rejected goods"),
    ] {
        stock.lots[0].status = status;
        assert_eq!(
            faults(&stock, &glycerin(), "1 g", last),
            [LotFault::Status(id.clone(), words)]
        );
    }
}

#[test]
fn only_water_without_lots_comes_from_the_tap() {
    let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
    let oil = fixture::material("Oil", &[("Olea Europaea Fruit Oil", 100.0, Class::Oil)]);
    let mut stock = Stock::new(eur());
    assert!(stock.is_from_the_tap(&water));
    assert!(!stock.is_from_the_tap(&oil));
    let mut kept = lot("W1", "5 kg", 1, None);
    kept.material = water.id.clone();
    stock.lots = vec![kept];
    assert!(!stock.is_from_the_tap(&water));
    assert!(!stock.is_from_the_tap(&oil));
}

#[test]
fn a_lot_taken_away_takes_its_adjustments_with_it_and_no_others() {
    let mut stock = Stock::new(eur());
    stock.lots = vec![lot("G1", "1 kg", 1, None), lot("G2", "1 kg", 1, None)];
    let adjustment = |id: &str| Adjustment {
        lot: LotId::new(id).unwrap(),
        day: date(2026, 3, 1),
        change: mass("1 g"),
        reason: "counted".into(),
    };
    stock.adjustments = vec![adjustment("G1"), adjustment("G2")];
    stock
        .remove(&LotId::new("G1").unwrap(), &LotUsage::default())
        .unwrap();
    let left: Vec<_> = stock.adjustments.iter().map(|a| a.lot.as_str()).collect();
    assert_eq!(left, ["G2"]);
}

#[test]
fn negative_money_and_empty_lots_are_refused() {
    let refused = |change: &dyn Fn(&mut Lot)| {
        let mut lot = lot("G1", "1 kg", 1, None);
        change(&mut lot);
        Stock::check(&lot).is_err()
    };
    let minus = Decimal::new(-1, 2);
    assert!(!refused(&|l| l.price_per_pack = Some(Decimal::ZERO)));
    assert!(refused(&|l| l.price_per_pack = Some(minus)));
    assert!(refused(&|l| l.freight_share = minus));
    assert!(refused(&|l| l.tax_percent = minus));
    assert!(refused(&|l| l.packs = 0));
}

#[test]
fn without_offers_the_last_lot_bought_shows_the_pack() {
    let mut stock = Stock::new(eur());
    let mut made = lot("M1", "7 kg", 1, None);
    made.made_in = BatchCode::new("26-001").ok();
    made.received = date(2026, 5, 1);
    let mut older = lot("G1", "5 kg", 1, None);
    older.received = date(2025, 1, 1);
    stock.lots = vec![made, older, lot("G2", "1 kg", 1, None)];
    let needs = BTreeMap::from([(glycerin(), mass("15 kg"))]);
    let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
    // 13 kg are there; two packs of the size bought last, not of what was made here.
    let packs: Vec<_> = list[0].packs.iter().map(|p| (p.pack, p.count)).collect();
    assert_eq!(packs, [(mass("1 kg"), 2)]);
    assert_eq!(list[0].lacking, mass("2 kg"));
    let enough = BTreeMap::from([(glycerin(), mass("13 kg"))]);
    assert_eq!(
        stock.shopping_list(&enough, &LotUsage::default(), date(2026, 6, 1)),
        []
    );
}

#[test]
fn what_is_used_up_is_neither_at_hand_nor_expired() {
    let mut stock = Stock::new(eur());
    stock.lots = vec![
        lot("G1", "1 kg", 1, Some(date(2027, 1, 1))),
        lot("G2", "1 kg", 1, Some(date(2026, 2, 1))),
    ];
    let used = LotUsage::from_iter([(LotId::new("G1").unwrap(), mass("1 kg"))]);
    let held = |usage: &LotUsage, day| {
        let h = stock.holdings(usage, day);
        (
            h.usable.contains(&glycerin()),
            h.expired.contains(&glycerin()),
        )
    };
    assert_eq!(held(&used, date(2026, 1, 31)), (true, false));
    assert_eq!(held(&used, date(2026, 2, 1)), (true, false));
    assert_eq!(held(&used, date(2026, 2, 2)), (false, true));
    assert_eq!(held(&LotUsage::default(), date(2026, 2, 2)), (true, true));
}

#[test]
fn first_expired_goes_out_first() {
    let mut stock = Stock::new(eur());
    stock.lots = vec![
        lot("G1", "1 kg", 1, None),
        lot("G2", "500 g", 1, Some(date(2027, 1, 1))),
        lot("G3", "500 g", 1, Some(date(2026, 8, 1))),
        lot("G4", "500 g", 1, Some(date(2026, 2, 1))),
    ];
    let used = LotUsage::from_iter([(LotId::new("G3").unwrap(), mass("200 g"))]);
    let draw = stock.draw(&glycerin(), mass("900 g"), &used, date(2026, 6, 1));
    let parts: Vec<(&str, ExactMass)> = draw.parts.iter().map(|(l, m)| (l.as_str(), *m)).collect();
    assert_eq!(
        parts,
        [
            ("G3", mass("300 g")),
            ("G2", mass("500 g")),
            ("G1", mass("100 g"))
        ]
    );
    assert_eq!(draw.short, ExactMass::ZERO);
    let all = stock.draw(&glycerin(), mass("2 kg"), &used, date(2026, 6, 1));
    assert_eq!(all.short, mass("200 g"));
}

#[test]
fn an_opened_lot_lasts_no_longer_than_it_may() {
    let mut opened = lot("G1", "1 kg", 1, Some(date(2027, 1, 1)));
    opened.opened = Some(date(2026, 3, 1));
    opened.days_once_opened = Some(90);
    assert_eq!(opened.last_day(), Some(date(2026, 5, 30)));
    assert!(opened.usable(date(2026, 5, 30)));
    assert!(!opened.usable(date(2026, 5, 31)));
    opened.status = LotStatus::Quarantine;
    assert!(!opened.usable(date(2026, 4, 1)));
}

#[test]
fn what_is_low_or_expires_is_listed() {
    let mut stock = Stock::new(eur());
    stock.lots = vec![
        lot("G1", "1 kg", 1, Some(date(2026, 6, 20))),
        lot("G2", "1 kg", 1, Some(date(2026, 5, 1))),
    ];
    stock.adjustments.push(Adjustment {
        lot: LotId::new("G1").unwrap(),
        day: date(2026, 5, 1),
        change: ExactMass::ZERO - mass("900 g"),
        reason: "spilled".into(),
    });
    stock.reorder.insert(glycerin(), mass("250 g"));
    let low = stock.low(&LotUsage::default(), date(2026, 6, 1));
    assert_eq!(low.len(), 1);
    assert_eq!(low[0].left, mass("100 g"));
    let expiring = stock.expiring(&LotUsage::default(), date(2026, 6, 1), 30);
    assert_eq!(expiring.len(), 2);
    assert!(expiring[0].expired && expiring[0].lot.id.as_str() == "G2");
    assert!(!expiring[1].expired);
}

#[test]
fn a_lot_is_mended_and_taken_away() {
    let mut stock = Stock::new(Currency::EUR);
    stock.add(lot("G1", "1 kg", 1, None)).unwrap();
    let mut mended = lot("G1", "1 kg", 1, None);
    mended.price_per_pack = Some(Decimal::from(9));
    // More days than the calendar has do not end.
    mended.opened = Some(date(2026, 2, 1));
    mended.days_once_opened = Some(u32::MAX);
    stock.replace(mended.clone()).unwrap();
    assert_eq!(stock.lots, [mended.clone()]);
    assert_eq!(stock.lots[0].last_day(), None);
    mended.packs = 0;
    assert!(matches!(stock.replace(mended), Err(StockError::Empty(_))));
    let other = lot("G2", "1 kg", 1, None);
    assert!(matches!(stock.replace(other), Err(StockError::Missing(_))));
    let id = LotId::new("G1").unwrap();
    let used: LotUsage = [(id.clone(), mass("1 g"))].into_iter().collect();
    assert!(matches!(stock.remove(&id, &used), Err(StockError::Used(_))));
    stock.remove(&id, &LotUsage::default()).unwrap();
    assert!(stock.lots.is_empty());
}

#[test]
fn whole_packs_are_bought_as_cheaply_as_can_be() {
    let mut stock = Stock::new(eur());
    stock.offers = vec![
        offer("1 kg", Some(900)),
        offer("250 g", Some(300)),
        offer("5 kg", Some(3000)),
    ];
    let needs = BTreeMap::from([(glycerin(), mass("1.2 kg"))]);
    let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
    assert_eq!(list[0].packs.len(), 2);
    assert_eq!(list[0].left_over, Some(mass("50 g")));
    let price: Decimal = list[0].packs.iter().filter_map(|p| p.price).sum();
    assert_eq!(price, Decimal::new(1200, 2));
    // Beyond 1.75 kg, two kilograms are cheaper than one and three quarters.
    let needs = BTreeMap::from([(glycerin(), mass("1.76 kg"))]);
    let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
    assert_eq!(list[0].packs[0].count, 2);
    assert_eq!(list[0].packs.len(), 1);
}

#[test]
fn fewer_large_packs_may_leave_less_over() {
    let mut stock = Stock::new(eur());
    stock.offers = vec![offer("5 kg", Some(5000)), offer("3 kg", Some(3000))];
    let needs = BTreeMap::from([(glycerin(), mass("14 kg"))]);
    let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
    let counts: Vec<u32> = list[0].packs.iter().map(|p| p.count).collect();
    assert_eq!(counts, [1, 3]);
    assert_eq!(list[0].left_over, Some(ExactMass::ZERO));
}

#[test]
fn an_unknown_price_stays_unknown() {
    let mut stock = Stock::new(eur());
    stock.offers = vec![offer("250 g", None)];
    let needs = BTreeMap::from([
        (glycerin(), mass("300 g")),
        (MaterialId::from_name("urea"), mass("5 g")),
    ]);
    let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
    assert_eq!(list[0].packs[0].count, 2);
    assert_eq!(list[0].packs[0].price, None);
    assert!(list[1].packs.is_empty());
    assert_eq!(list[1].left_over, None);
}

#[test]
fn a_lot_used_up_is_not_drawn_from() {
    let mut stock = Stock::new(eur());
    stock.lots = vec![
        lot("G1", "500 g", 1, Some(date(2026, 8, 1))),
        lot("G2", "500 g", 1, None),
    ];
    let used = LotUsage::from_iter([(LotId::new("G1").unwrap(), mass("500 g"))]);
    let draw = stock.draw(&glycerin(), mass("100 g"), &used, date(2026, 6, 1));
    let parts: Vec<_> = draw.parts.iter().map(|(l, m)| (l.as_str(), *m)).collect();
    assert_eq!(parts, [("G2", mass("100 g"))]);
    // Exactly what is left leaves nothing short.
    let all = stock.draw(&glycerin(), mass("500 g"), &used, date(2026, 6, 1));
    assert_eq!(all.short, ExactMass::ZERO);
}

/// A draw that one lot covers exactly takes nothing of the next, and a level that is just kept is
/// not low.
#[test]
fn exactly_enough_is_enough() {
    let mut stock = Stock::new(eur());
    let day = date(2026, 6, 1);
    stock.lots = vec![
        lot("G1", "500 g", 1, Some(date(2026, 8, 1))),
        lot("G2", "500 g", 1, None),
    ];
    let draw = stock.draw(&glycerin(), mass("500 g"), &LotUsage::default(), day);
    let g1 = LotId::new("G1").unwrap();
    assert_eq!(draw.parts, [(g1, mass("500 g"))]);
    stock.reorder.insert(glycerin(), mass("1 kg"));
    assert_eq!(stock.low(&LotUsage::default(), day), []);
    stock.reorder.insert(glycerin(), mass("1000.1 g"));
    assert_eq!(stock.low(&LotUsage::default(), day).len(), 1);
}

/// A lot may be used on its last day; what is used up or is far from it is not listed.
#[test]
fn a_lot_expires_after_its_last_day() {
    let last = date(2026, 6, 30);
    let mut stock = Stock::new(eur());
    stock.lots = vec![lot("G1", "1 kg", 1, Some(last))];
    let expired = |day, within| {
        let listed = stock.expiring(&LotUsage::default(), day, within);
        listed.first().map(|e| e.expired)
    };
    assert_eq!(expired(date(2026, 6, 1), 28), None);
    assert_eq!(expired(date(2026, 6, 1), 29), Some(false));
    assert_eq!(expired(last, 0), Some(false));
    assert_eq!(expired(date(2026, 7, 1), 0), Some(true));
    let used = LotUsage::from_iter([(LotId::new("G1").unwrap(), mass("1 kg"))]);
    assert_eq!(stock.expiring(&used, last, 30), []);
    // In quarantine it is not at hand, and it expires no sooner.
    stock.lots[0].status = LotStatus::Quarantine;
    let held = |day| stock.holdings(&LotUsage::default(), day);
    assert_eq!(held(last), Holdings::default());
    assert!(held(date(2026, 7, 1)).expired.contains(&glycerin()));
}

#[test]
fn what_speaks_against_a_lot_names_it() {
    let id = || LotId::new(" G1 ").unwrap();
    assert_eq!(
        LotFault::Unknown(id()).to_string(),
        "lot G1 is not in the stock"
    );
    assert_eq!(format!("{:>4}", id()), "  G1");
    assert_eq!(format!("{:?}", id()), "G1");
    let labels = LotStatus::ALL.map(LotStatus::label);
    assert_eq!(labels, ["quarantine", "released", "rejected"]);
}

/// The packs of a shopping list for one need, as pack and count.
fn packs_for(offers: Vec<Offer>, need: &str) -> Vec<(ExactMass, u32)> {
    let mut stock = Stock::new(eur());
    stock.offers = offers;
    let needs = BTreeMap::from([(glycerin(), mass(need))]);
    let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
    list[0].packs.iter().map(|p| (p.pack, p.count)).collect()
}

#[test]
fn of_two_sizes_one_alone_may_be_the_cheapest() {
    // One kilogram for 9.00 is less than four times 250 g for 12.00.
    let large = vec![offer("1 kg", Some(900)), offer("250 g", Some(300))];
    assert_eq!(packs_for(large, "900 g"), [(mass("1 kg"), 1)]);
    // Fifty-six small packs for 112.00 are less than with any large one.
    let small = vec![offer("1 kg", Some(900)), offer("250 g", Some(200))];
    assert_eq!(packs_for(small, "14 kg"), [(mass("250 g"), 56)]);
}

#[test]
fn without_prices_least_is_left_over() {
    let unpriced = vec![offer("5 kg", None), offer("3 kg", None)];
    assert_eq!(
        packs_for(unpriced, "14 kg"),
        [(mass("5 kg"), 1), (mass("3 kg"), 3)]
    );
}

#[test]
fn packs_that_cannot_be_counted_are_not_bought() {
    // An offer of nothing, and ten thousand million packs.
    assert_eq!(packs_for(vec![offer("0 g", Some(1))], "1 g"), []);
    assert_eq!(packs_for(vec![offer("0.001 g", Some(1))], "10000 kg"), []);
    // A lot of nothing does not show how the material is sold.
    let mut stock = Stock::new(eur());
    stock.lots = vec![lot("G1", "0 g", 1, None)];
    let needs = BTreeMap::from([(glycerin(), mass("1 g"))]);
    let list = stock.shopping_list(&needs, &LotUsage::default(), date(2026, 6, 1));
    assert_eq!(list[0].packs, []);
}

#[test]
fn batches_need_what_all_of_them_need() {
    let urea = MaterialId::from_name("urea");
    let cream = BTreeMap::from([(glycerin(), mass("30 g")), (urea.clone(), mass("5 g"))]);
    let toner = BTreeMap::from([(glycerin(), mass("20 g"))]);
    assert_eq!(
        sum_needs([(&cream, 2), (&toner, 3)]),
        BTreeMap::from([(glycerin(), mass("120 g")), (urea, mass("10 g"))])
    );
}
