use proptest::prelude::*;

use super::*;

fn read(text: &str) -> Target {
    text.parse()
        .unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn check(text: &str, quantity: TargetQuantity, relation: Relation) {
    let target = read(text);
    assert_eq!(target, Target { quantity, relation }, "{text}");
    // What is written is read back as the same.
    assert_eq!(read(&target.to_string()), target, "{target}");
}

#[test]
fn plain_words_are_read_and_written_back() {
    use Relation::{AtLeast, AtMost, Between, Equal, Need};
    check("active>=14", TargetQuantity::Active(None), AtLeast(14.0));
    check(
        "cost<=2.1",
        TargetQuantity::Cost(CostBasis::Kilogram),
        AtMost(2.1),
    );
    check(
        "Cost per 250 ml at most 0,60",
        TargetQuantity::Cost(CostBasis::Millilitres(250.0)),
        AtMost(0.6),
    );
    check(
        "cost per 0.2 kg = 1",
        TargetQuantity::Cost(CostBasis::Grams(200.0)),
        Equal(1.0),
    );
    check(
        "anionic / amphoteric <= 3",
        TargetQuantity::Ratio(
            Box::new(TargetQuantity::Active(Some(Charge::Anionic))),
            Box::new(TargetQuantity::Active(Some(Charge::Amphoteric))),
        ),
        AtMost(3.0),
    );
    check(
        "water between 70 and 80 %",
        TargetQuantity::Class(Class::Water),
        Between(70.0, 80.0),
    );
    check("ph = 5.0..5.5", TargetQuantity::Ph, Between(5.0, 5.5));
    let sum = TargetQuantity::Sum(vec![
        TargetQuantity::Active(Some(Charge::Anionic)),
        TargetQuantity::Line("Coco betaine 30 %".into()),
    ]);
    check(
        "anionic + line Coco betaine 30 % >= 9",
        sum.clone(),
        AtLeast(9.0),
    );
    check(
        "anionic + line Coco betaine 30 % / non-ionic <= 3",
        TargetQuantity::Ratio(
            Box::new(sum),
            Box::new(TargetQuantity::Active(Some(Charge::NonIonic))),
        ),
        AtMost(3.0),
    );
    check("active > 14", TargetQuantity::Active(None), AtLeast(14.0));
    check("active =< 14", TargetQuantity::Active(None), AtMost(14.0));
    check(
        "active == 14 percent",
        TargetQuantity::Active(None),
        Equal(14.0),
    );
    check(
        "oil/water <= 0,5",
        TargetQuantity::Ratio(
            Box::new(TargetQuantity::Class(Class::Oil)),
            Box::new(TargetQuantity::Class(Class::Water)),
        ),
        AtMost(0.5),
    );
    check(
        "Caprylic/Capric Triglyceride >= 2",
        TargetQuantity::Named("Caprylic/Capric Triglyceride".into()),
        AtLeast(2.0),
    );
    check("hlb = need", TargetQuantity::Hlb, Need);
    check(
        "natural origin >= 90 %",
        TargetQuantity::NaturalOrigin,
        AtLeast(0.9),
    );
    check(
        "salt no more than 2 %",
        TargetQuantity::Class(Class::Electrolyte),
        AtMost(2.0),
    );
    check("oil phase is 20", TargetQuantity::OilPhase, Equal(20.0));
    let viscosity = TargetQuantity::Learnt(Reading::Viscosity);
    check(
        "viscosity between 4000 and 6 Pa·s",
        viscosity.clone(),
        Between(4000.0, 6000.0),
    );
    check("Viscosity at least 4 Pa·s", viscosity, AtLeast(4000.0));
    check(
        "foam height >= 120 mm",
        TargetQuantity::Learnt(Reading::FoamHeight),
        AtLeast(120.0),
    );
    check(
        "viscosity between 4 and 6 Pa·s",
        TargetQuantity::Learnt(Reading::Viscosity),
        Between(4000.0, 6000.0),
    );
    check(
        "natural origin between 90 and 95 %",
        TargetQuantity::NaturalOrigin,
        Between(0.9, 0.95),
    );
    // In quotes it is a name, whatever else the word means.
    check(
        "\"water\" <= 70 %",
        TargetQuantity::Named("water".into()),
        AtMost(70.0),
    );
    check(
        "Glycerin = 5",
        TargetQuantity::Named("Glycerin".into()),
        Equal(5.0),
    );
    // A relation within a name in quotes is none.
    let named = "\"Oil that is cold\" <= 3";
    check(
        named,
        TargetQuantity::Named("Oil that is cold".into()),
        AtMost(3.0),
    );
    assert_eq!(named.parse::<Target>().unwrap().to_string(), named);
    let line = "line \"Glycerin at least\" <= 3";
    check(
        line,
        TargetQuantity::Line("Glycerin at least".into()),
        AtMost(3.0),
    );
    assert_eq!(line.parse::<Target>().unwrap().to_string(), line);
    for two in [
        "Glycerin at least<3 %",
        "between oils = 4",
        "a \"b\" c <= 3",
    ] {
        assert!(two.parse::<Target>().is_err(), "{two}");
    }
    check(
        "line \"Coco betaine 30 %\" <= 20",
        TargetQuantity::Line("Coco betaine 30 %".into()),
        AtMost(20.0),
    );
    check(
        "inci C12-15 Alkyl Benzoate >= 1",
        TargetQuantity::Constituent("C12-15 Alkyl Benzoate".into()),
        AtLeast(1.0),
    );
}

proptest! {
    /// Whatever can be read is written so that it is read as the same.
    #[test]
    fn what_is_written_is_read_again(
        what in prop::sample::select(vec![
            "active", "water", "cost", "ph", "hlb", "natural origin", "preservation",
            "viscosity", "density", "inci Sodium Chloride", "line Coco betaine 30 %",
            "anionic / amphoteric", "glycerin + water", "cost per 250 ml", "\"water\"",
            "\" 'salt\" ' + oil",
        ]),
        relation in prop::sample::select(vec![">=", "<=", "="]),
        whole in 0_u32..2000,
        digits in "[0-9]{0,9}",
        percent in any::<bool>(),
    ) {
        let sign = if percent { " %" } else { "" };
        let figure = if digits.is_empty() { whole.to_string() } else { format!("{whole}.{digits}") };
        if let Ok(target) = format!("{what} {relation} {figure}{sign}").parse::<Target>() {
            prop_assert_eq!(&read(&target.to_string()), &target, "{}", target);
        }
    }
}

#[test]
fn errors_say_what_to_do() {
    let error = |text: &str| text.parse::<Target>().unwrap_err();
    assert!(matches!(error("active 14"), TargetError::NoRelation(_)));
    assert!(matches!(error(">= 14"), TargetError::NoQuantity(_)));
    assert!(matches!(
        error("active >= lots"),
        TargetError::BadFigure { .. }
    ));
    assert!(matches!(
        error("active >= 1e3"),
        TargetError::BadFigure { .. }
    ));
    assert!(matches!(
        error("active >= nan"),
        TargetError::BadFigure { .. }
    ));
    assert!(matches!(
        error("active >= 120"),
        TargetError::OutOfRange { .. }
    ));
    assert!(matches!(
        error("natural >= 2"),
        TargetError::OutOfRange { .. }
    ));
    assert!(matches!(
        error("active = need"),
        TargetError::OutOfRange { .. }
    ));
    assert!(matches!(
        error("water between 80 and 70"),
        TargetError::OutOfRange { .. }
    ));
    assert!(matches!(
        error("water between 80"),
        TargetError::BadFigure { .. }
    ));
    assert!(matches!(
        error("cost per jar <= 2"),
        TargetError::BadContainer(_)
    ));
    assert!(matches!(
        error("ph / water <= 2"),
        TargetError::OutOfRange { .. }
    ));
    assert!(matches!(
        error("ph + water <= 2"),
        TargetError::OutOfRange { .. }
    ));
}

#[test]
fn sentences_read_well() {
    assert_eq!(read("active>=14").words(), "at least 14 % active matter");
    assert_eq!(read("cost<=2.1").words(), "cost per kg at most 2.1");
    assert_eq!(read("ph=5.2").words(), "pH of 5.2");
    assert_eq!(
        read("viscosity between 4 and 6 Pa·s").to_string(),
        "viscosity = 4000..6000"
    );
    assert_eq!(
        read("viscosity between 4000 and 6000").words(),
        "viscosity between 4000 mPa·s and 6000 mPa·s"
    );
    assert_eq!(
        read("anionic / amphoteric<=3").words(),
        "anionic active to amphoteric active at most 3"
    );
}
