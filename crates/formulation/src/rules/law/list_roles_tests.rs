//! What a line is there for and what the inventory reports of its name, against made-up lists of
//! the allowed: preservatives, UV filters, colorants; and shares of other substances.
//!
//! Functions of names: European Commission, CosIng ingredient inventory, as it comes with the
//! program.

use super::Law;
use super::list_tests::{
    added, alpha, beta, blend, book, gamma, held, held_as, keeper, limits, of_alpha, told, wash,
};
use super::tests::{face_cream, of, product, pure};
use crate::finding::{Level, Remedy, StatedField};
use crate::fixture;
use crate::formula::{BodySite, ItemId, Market, Product, ProductType};
use crate::material::{
    Basis, Class, Coverage, Material, MaterialId, Preservation, ProductKind, Role, Source,
};
use crate::purpose::Purpose;
use crate::rules::RuleBook;

fn with_role(inci: &str, class: Class, role: Role) -> Material {
    let mut m = pure(inci, "", class);
    m.roles.push(role);
    m
}

fn sun_care() -> Product {
    product(
        ProductKind::LeaveOn,
        &[BodySite::Face],
        Some(ProductType::SunCare),
    )
}

fn sold(market: Market, product: Product) -> Product {
    Product {
        markets: vec![market],
        ..product
    }
}

/// A list of the allowed that names none of what the tests add.
fn allowed(list: &str, markets: &str) -> RuleBook {
    let entry = of_alpha("tiers: [(max: 1.0)]");
    added(&RuleBook::default(), "T", list, markets, &entry)
}

/// How grave what the list says of unlisted lines is at most.
fn worst(law: &Law) -> Option<Level> {
    of(law, "T").iter().map(|f| f.level).max()
}

#[test]
fn what_preserves_must_be_listed_as_far_as_it_is_known_to_preserve() {
    let book = allowed("Preservatives", "Eu");
    let level = |m: Material, percent| worst(&held(&book, face_cream(), vec![(m, percent)]));
    let only = "Methyldibromo Glutaronitrile";
    let (breach, caution) = (Some(Level::Breach), Some(Level::Caution));
    for (inci, class, expected) in [
        // Preserving alone; beside it others; acting on microbes alone; beside it others.
        (only, Class::Other, breach),
        (only, Class::Preservative, breach),
        ("4-Hydroxybenzoic Acid", Class::Other, None),
        ("4-Hydroxybenzoic Acid", Class::Preservative, caution),
        ("Benzoxiquine", Class::Other, caution),
        ("Ammonium Phenolsulfonate", Class::Other, caution),
        ("Acetaminosalol", Class::Other, None),
        ("Copper Aluminum Silicate", Class::Other, None),
        // Of a class of its own, and what no inventory knows.
        (only, Class::Humectant, None),
        ("Omega", Class::Other, None),
        ("Omega", Class::Preservative, caution),
        ("Alpha", Class::Preservative, None),
    ] {
        assert_eq!(
            level(pure(inci, "", class), 0.1),
            expected,
            "{inci} {class:?}"
        );
        assert_eq!(level(pure(inci, "", class), 0.0), None, "{inci} {class:?}");
    }
    // A role says what it is there for; what helps a preservative is none.
    assert_eq!(
        level(with_role(only, Class::Other, Role::Humectant), 0.1),
        None
    );
    let booster = with_role("Omega", Class::Preservative, Role::PreservativeBooster);
    assert_eq!(level(booster, 0.1), None);
    let benzoxiquine = with_role("Benzoxiquine", Class::Other, Role::SkinActive);
    assert_eq!(level(benzoxiquine, 0.1), None);
    // What comes along in a raw material is not there to preserve.
    let mut carrier = fixture::material(
        "Carrier",
        &[("Omega", 99.0, Class::Other), (only, 1.0, Class::Other)],
    )
    .as_ref()
    .clone();
    carrier.constituents[1].incidental = Some("left from making it".into());
    assert_eq!(level(carrier, 1.0), None);
}

#[test]
fn what_the_maker_says_it_is_there_for_is_held_against_that_list_alone() {
    let stated = |list: &str, market, product, purpose| {
        let lines = vec![beta(0.1)];
        let book = allowed(list, "Eu, Us");
        worst(&held_as(&book, sold(market, product), lines, purpose))
    };
    let breach = Some(Level::Breach);
    let (eu, us) = (Market::Eu, Market::Us);
    let (keeps, filters) = (Purpose::Preservative, Purpose::UvFilter);
    assert_eq!(stated("Preservatives", eu, face_cream(), keeps), breach);
    assert_eq!(stated("Preservatives", eu, face_cream(), filters), None);
    assert_eq!(stated("UvFilters", eu, face_cream(), keeps), None);
    assert_eq!(stated("UvFilters", eu, face_cream(), filters), breach);
    // In the United States a filter is listed where the product protects from the sun.
    let us_alone = |product| {
        let book = allowed("UvFilters", "Us");
        worst(&held_as(&book, sold(us, product), vec![beta(0.1)], filters))
    };
    assert_eq!(us_alone(face_cream()), None);
    assert_eq!(us_alone(sun_care()), breach);
}

#[test]
fn what_filters_light_must_be_listed_where_it_protects_from_the_sun() {
    let level = |market: Market, product: Product, m: Material| {
        let book = allowed("UvFilters", &format!("{market:?}"));
        worst(&held(&book, sold(market, product), vec![(m, 0.1)]))
    };
    let (eu, us) = (Market::Eu, Market::Us);
    let (breach, caution) = (Some(Level::Breach), Some(Level::Caution));
    // A filter alone, one that does other things, one that absorbs and is no filter.
    let also = "Bis-Ethylhexyloxyphenol Methoxyphenyl Triazine";
    let (only, absorbs) = ("Benzophenone-5", "Benzophenone-1");
    let plain = |inci: &str| pure(inci, "", Class::Other);
    let filter = |inci: &str| with_role(inci, Class::Other, Role::UvFilter);
    for (inci, in_sun, elsewhere) in [
        (only, breach, caution),
        (also, caution, caution),
        (absorbs, caution, None),
        ("Omega", None, None),
    ] {
        assert_eq!(level(eu, sun_care(), plain(inci)), in_sun, "{inci}");
        assert_eq!(level(us, sun_care(), plain(inci)), in_sun, "{inci}");
        assert_eq!(level(eu, face_cream(), filter(inci)), elsewhere, "{inci}");
        assert_eq!(level(us, face_cream(), filter(inci)), None, "{inci}");
        assert_eq!(level(eu, face_cream(), plain(inci)), None, "{inci}");
    }
    let emulsifier = pure(only, "", Class::Emulsifier);
    assert_eq!(level(eu, sun_care(), emulsifier), None);
    let humectant = with_role(only, Class::Other, Role::Humectant);
    assert_eq!(level(eu, sun_care(), humectant), breach);
}

#[test]
fn what_one_line_brings_unlisted_is_one_finding() {
    let (one, other) = ("Methyldibromo Glutaronitrile", "Chloroacetamide");
    let book = allowed("Preservatives", "Eu");
    let words = |lines| {
        let law = held(&book, face_cream(), lines);
        let found = of(&law, "T").into_iter();
        let line = |f: &crate::finding::Finding| f.lines.iter().map(|l| l.0).collect::<Vec<_>>();
        found
            .map(|f| (f.level, f.message.clone(), line(f)))
            .collect::<Vec<_>>()
    };
    let both = |first: &str, second: &str| {
        let class = Class::Preservative;
        let m = fixture::material("Pair", &[(first, 50.0, class), (second, 50.0, class)]);
        (m.as_ref().clone(), 0.1)
    };
    let listed = "serves for that must be listed";
    let told = |who: &str, line| {
        let words = format!(
            "{who} is not among the preservatives of Made up: its function is preserving, and what {listed}"
        );
        (Level::Breach, words, vec![line])
    };
    let pair = format!(
        "{one}, {other} are not among the preservatives of Made up: their function is preserving, and what {listed}"
    );
    assert_eq!(
        words(vec![both(one, other)]),
        [(Level::Breach, pair, vec![10])]
    );
    let alone = |inci: &str| (pure(inci, "", Class::Other), 0.1);
    assert_eq!(
        words(vec![alone(one), alone(other)]),
        [told(one, 10), told(other, 11)]
    );
    let perhaps = "Omega is not among the preservatives of Made up: if here for preserving it must be listed; if not, state what the line is here for".to_owned();
    assert_eq!(
        words(vec![both(one, "Omega")]),
        [told(one, 10), (Level::Caution, perhaps, vec![10])]
    );
}

/// What a list prohibits or restricts anyway needs no second finding.
#[test]
fn what_another_list_decides_is_left_to_it() {
    let only = "Methyldibromo Glutaronitrile";
    let level = |other: Option<(&str, &str, &str)>, class| {
        let mut book = allowed("Preservatives", "Eu");
        if let Some((list, markets, fields)) = other {
            let entry = format!(r#"(no: "1", name: "A thing", of: ["{only}"], {fields})"#);
            book = added(&book, "O", list, markets, &entry);
        }
        let product = Product {
            markets: vec![Market::Eu, Market::Us],
            ..face_cream()
        };
        let lines = vec![alpha(0.1), (pure(only, "", class), 0.1)];
        worst(&held(&book, product, lines))
    };
    let breach = Some(Level::Breach);
    let (other, keeps) = (Class::Other, Class::Preservative);
    let all = r#"prohibited: "all""#;
    let some = "tiers: [(max: 1.0)]";
    assert_eq!(level(None, other), breach);
    assert_eq!(level(Some(("Prohibited", "Eu", all)), other), None);
    // A prohibition elsewhere, of the Union alone, only cautioned of, or a limit exceeded.
    assert_eq!(level(Some(("Prohibited", "Us", all)), other), breach);
    let single = format!("{all}, binds: [Eu]");
    assert_eq!(level(Some(("Prohibited", "Eu", &single)), other), breach);
    let mild = format!("{all}, level: Caution");
    assert_eq!(level(Some(("Prohibited", "Eu", &mild)), other), breach);
    let little = "tiers: [(max: 0.01)]";
    assert_eq!(level(Some(("Own", "Eu", little)), other), breach);
    // A restriction decides on what is not there to preserve.
    assert_eq!(level(Some(("Restricted", "Eu", some)), other), None);
    assert_eq!(level(Some(("Restricted", "Eu", some)), keeps), breach);
    // Another line's prohibition says nothing of this one.
    let of_alpha = of_alpha(all);
    let book = added(
        &allowed("Preservatives", "Eu"),
        "O",
        "Prohibited",
        "Eu",
        &of_alpha,
    );
    let lines = vec![alpha(0.1), (pure(only, "", other), 0.1)];
    assert_eq!(worst(&held(&book, face_cream(), lines)), breach);
    // Nor does a restriction say anything of a UV filter.
    let filter = "Benzophenone-5";
    let entry = format!(r#"(no: "1", name: "A thing", of: ["{filter}"], {some})"#);
    let book = added(&allowed("UvFilters", "Eu"), "O", "Restricted", "Eu", &entry);
    let lines = vec![(pure(filter, "", other), 0.1)];
    assert_eq!(worst(&held(&book, sun_care(), lines)), breach);
}

/// A raw material that can preserve and dissolve, within 1 % as a preservative.
fn twofold() -> Material {
    let mut m = with_role("Alpha", Class::Preservative, Role::Solvent);
    m.preservation = Some(Preservation {
        bacteria: Coverage::Good,
        yeast: Coverage::Good,
        mould: Coverage::Good,
        dose_low: "0.5".parse().unwrap(),
        dose_high: "1".parse().unwrap(),
        ph: None,
        formaldehyde_donor: false,
        source: Source::new(Basis::Supplier, "made up"),
    });
    m
}

#[test]
fn above_its_dose_a_preservative_that_can_be_more_is_asked_for_its_purpose() {
    let entries = r#"
        (no: "1", name: "A thing", of: ["Alpha"], purpose: Preservative, tiers: [(max: 1.0)]),
        (no: "2", name: "A thing", of: ["Gamma"], purpose: Preservative, tiers: [(max: 1.0)]),
    "#;
    let book = book("Preservatives", entries);
    let told_of = |lines| {
        let law = held(&book, face_cream(), lines);
        let found = of(&law, "T 1")[0];
        let asks = found.message.contains("state what it is there for");
        (found.level, asks, found.remedy.clone())
    };
    let open = Some(Remedy::OpenField(StatedField::Purpose(ItemId(10))));
    let other = || (pure("Gamma", "", Class::Preservative), 0.5);
    assert_eq!(
        told_of(vec![(twofold(), 2.0)]),
        (Level::Caution, true, open.clone())
    );
    // Beside another preservative it is taken as the solvent, which may be asked.
    assert_eq!(
        told_of(vec![(twofold(), 2.0), other()]),
        (Level::Note, false, open)
    );
    assert_eq!(told_of(vec![alpha(2.0)]), (Level::Note, false, None));
    assert_eq!(told_of(vec![keeper(2.0)]).0, Level::Breach);
    // What the maker says leaves nothing open.
    let stated = |purpose| {
        let law = held_as(&book, face_cream(), vec![keeper(2.0)], purpose);
        of(&law, "T 1").first().map(|f| f.level)
    };
    assert_eq!(stated(Purpose::Preservative), Some(Level::Breach));
    assert_eq!(stated(Purpose::Active), None);
}

/// Only beside another line that is there to preserve may a preservative be something else.
#[test]
fn a_preservative_stated_as_a_solvent_keeps_no_other_line_company() {
    let preserving = r#"
        (no: "1", name: "A thing", of: ["Alpha"], purpose: Preservative, tiers: [(max: 1.0)]),
        (no: "2", name: "A thing", of: ["Gamma"], purpose: Preservative, tiers: [(max: 1.0)]),
    "#;
    let other = of_alpha("purpose: Other, tiers: [(max: 5.0)]");
    let book = added(
        &book("Preservatives", preserving),
        "R",
        "Restricted",
        "Eu",
        &other,
    );
    let level = |purpose| {
        let lines = vec![(pure("Gamma", "", Class::Preservative), 0.5), keeper(2.0)];
        let law = held_as(&book, face_cream(), lines, purpose);
        of(&law, "T 1")[0].level
    };
    assert_eq!(level(Purpose::Preservative), Level::Caution);
    assert_eq!(level(Purpose::Solvent), Level::Breach);
}

#[test]
fn a_pigment_that_can_filter_is_no_filter_for_sure_but_in_sun_care() {
    let book = book(
        "UvFilters",
        &of_alpha("purpose: UvFilter, tiers: [(max: 1.0)]"),
    );
    let level = |product, roles: &[Role]| {
        let mut m = pure("Alpha", "", Class::Other);
        m.roles = roles.to_vec();
        let law = held(&book, product, vec![(m, 2.0)]);
        of(&law, "T 1").first().map(|f| f.level)
    };
    let (breach, note) = (Some(Level::Breach), Some(Level::Note));
    assert_eq!(level(face_cream(), &[Role::UvFilter]), breach);
    assert_eq!(
        level(face_cream(), &[Role::UvFilter, Role::Emollient]),
        breach
    );
    for other in [Role::Colourant, Role::Opacifier, Role::Absorbent] {
        assert!(
            level(face_cream(), &[Role::UvFilter, other]) < breach,
            "{other:?}"
        );
        assert_eq!(level(sun_care(), &[Role::UvFilter, other]), breach);
    }
    assert_eq!(level(face_cream(), &[]), note);
    assert_eq!(level(sun_care(), &[]), breach);
}

/// What the inventory knows for other work is no colorant in Europe; in the United States
/// whatever gives colour is one.
#[test]
fn what_gives_colour_must_be_listed_as_its_market_reads_colour() {
    let level = |market: Market, inci: &str, stated: bool| {
        let book = allowed("Colorants", &format!("{market:?}"));
        let lines = vec![(pure(inci, "", Class::Colour), 0.1)];
        let product = sold(market, face_cream());
        worst(&if stated {
            held_as(&book, product, lines, Purpose::Colorant)
        } else {
            held(&book, product, lines)
        })
    };
    let (eu, us) = (Market::Eu, Market::Us);
    let (breach, caution) = (Some(Level::Breach), Some(Level::Caution));
    // Colours and makes cloudy; does not colour; colours and scents; a colour index name;
    // no name of the inventory.
    for (inci, in_eu, in_us, as_stated) in [
        ("Mica", None, caution, breach),
        ("Guaiazulene", None, caution, breach),
        ("Caramel", caution, caution, breach),
        ("CI 77891", breach, breach, breach),
        ("Omega", caution, caution, caution),
    ] {
        assert_eq!(level(eu, inci, false), in_eu, "{inci}");
        assert_eq!(level(us, inci, false), in_us, "{inci}");
        assert_eq!(level(eu, inci, true), as_stated, "{inci}");
    }
}

/// One line may be known by its number where another of the same name is not.
#[test]
fn each_colour_line_that_a_list_does_not_know_counts() {
    let entry = r#"(no: "1", name: "A colour", of: ["Alpha=57-55-6"], tiers: [()])"#;
    let book = book("Colorants", entry);
    let unknown = || (pure("Omega", "", Class::Colour), 0.1);
    let mut numbered = pure("Omega", "57-55-6", Class::Colour);
    numbered.id = MaterialId::from_name("Omega by its number");
    let known = || (numbered.clone(), 0.1);
    let unlisted = |lines| of(&held(&book, face_cream(), lines), "T").len();
    assert_eq!(unlisted(vec![known()]), 0);
    assert_eq!(unlisted(vec![unknown()]), 1);
    assert_eq!(unlisted(vec![unknown(), known()]), 1);
}

/// A limit that is a share of other substances moves with them and limits no line.
#[test]
fn a_share_of_another_substance_is_held_against_what_there_is_of_it() {
    let book = book(
        "Restricted",
        &of_alpha(r#"tiers: [(max: 10.0, part_of: ["Beta=57-55-6"])]"#),
    );
    let law = |alpha_percent, beta_percent| {
        let beta = pure("Beta", "57-55-6", Class::Other);
        let lines = vec![alpha(alpha_percent), (beta, beta_percent), gamma(50.0)];
        held(&book, face_cream(), lines)
    };
    let level = |law: &Law| of(law, "T 1").first().map(|f| f.level);
    assert_eq!(level(&law(0.5, 5.0)), None);
    assert_eq!(level(&law(0.51, 5.0)), Some(Level::Breach));
    assert_eq!(level(&law(0.51, 6.0)), None);
    assert_eq!(limits(&law(0.51, 5.0)), []);
}

#[test]
fn an_entry_may_bind_only_beside_another_substance() {
    let book = book(
        "Prohibited",
        &of_alpha(r#"prohibited: "all", if_present: "57-55-6""#),
    );
    let beta = || pure("Beta", "57-55-6", Class::Other);
    for (lines, bound) in [
        (vec![alpha(1.0)], false),
        (vec![alpha(1.0), (beta(), 0.0)], false),
        (vec![alpha(1.0), (beta(), 1.0)], true),
        (vec![alpha(1.0), gamma(1.0)], false),
    ] {
        let law = held(&book, face_cream(), lines);
        assert_eq!(!told(&law, "T 1").is_empty(), bound);
    }
}

/// What is only filed under a limit by a database, and of which nobody knows how much counts, is
/// left out of the sum and told where it is more than the limit.
#[test]
fn what_is_left_out_of_a_sum_is_named() {
    let entry = r#"(no: "1", name: "Things", of: ["?Alpha", "Beta", "Benzoic Acid=65-85-0"], tiers: [(max: 1.0, expressed: "benzoic acid")])"#;
    let book = added(&RuleBook::shared(), "T", "Restricted", "Eu", entry);
    let law = |lines| held(&book, face_cream(), lines);
    let left_out = |law: &Law| {
        let found = told(law, "T 1").into_iter();
        found
            .filter(|f| f.1.contains("is not in the sum"))
            .map(|f| (f.0, f.1.split(" is filed").next().unwrap().to_owned()))
            .collect::<Vec<_>>()
    };
    let alpha_alone = [(Level::Note, "Alpha".to_owned())];
    assert_eq!(left_out(&law(vec![alpha(1.1)])), alpha_alone);
    assert_eq!(left_out(&law(vec![alpha(1.0)])), []);
    assert_eq!(left_out(&law(vec![alpha(0.5)])), []);
    // What the text names is in the sum, as much as it may be.
    let named = law(vec![beta(2.0), alpha(2.0)]);
    assert_eq!(left_out(&named), alpha_alone);
    let words = told(&named, "T 1").into_iter().map(|f| f.1);
    let counts = "how much benzoic acid Beta counts as is not known here";
    assert_eq!(words.filter(|w| w.contains(counts)).count(), 1);
    let acid = pure("Benzoic Acid", "65-85-0", Class::Other);
    assert_eq!(left_out(&law(vec![(acid, 2.0)])), []);
}

/// Annex II, 411, secondary alkanolamines: traces are let through to the purity that Annex III, 60,
/// states for fatty acid dialkanolamides.
#[test]
fn traces_within_a_stated_purity_are_a_note() {
    let of_amine = |name: &str, left_over: bool| {
        let parts = [
            (name, 99.6, Class::Emulsifier),
            ("Diethanolamine", 0.4, Class::AcidBase),
        ];
        let mut m = fixture::material(&format!("{name} {left_over}"), &parts)
            .as_ref()
            .clone();
        m.constituents[1].cas = "111-42-2".parse().ok();
        m.constituents[1].incidental = left_over.then(|| "left from making it".into());
        (m, 1.0)
    };
    let level = |lines| {
        let law = held(&RuleBook::shared(), face_cream(), lines);
        told(&law, "EU II/411").into_iter().map(|f| f.0).max()
    };
    let amide = || of_amine("Cocamide DEA", true);
    let other = || of_amine("Omega", true);
    assert_eq!(level(vec![amide()]), Some(Level::Note));
    assert_eq!(level(vec![other()]), Some(Level::Caution));
    // The purity of one line is none of another, nor of what is put in.
    assert_eq!(level(vec![amide(), other()]), Some(Level::Caution));
    let put_in = of_amine("Cocamide DEA", false);
    assert_eq!(level(vec![put_in]), Some(Level::Breach));
}

/// Annex II, 22: aniline, its salts and its halogenated and sulphonated derivatives.
#[test]
fn a_member_of_a_group_is_told_as_one_of_it() {
    let m = pure("4-Chloroaniline", "106-47-8", Class::Other);
    let law = held(&RuleBook::shared(), face_cream(), vec![(m, 0.1)]);
    let words: Vec<&str> = told(&law, "EU II/22").into_iter().map(|f| f.1).collect();
    assert_eq!(words.len(), 1, "{words:?}");
    assert!(
        words[0].starts_with("4-Chloroaniline is prohibited as one of “Aniline"),
        "{words:?}"
    );
    assert!(
        words[0].ends_with(": a halogenated or sulphonated derivative of aniline by its formula"),
        "{words:?}"
    );
    let plain = held(&RuleBook::shared(), wash(), vec![blend(1.0)]);
    assert_eq!(told(&plain, "EU II/22"), []);
}
