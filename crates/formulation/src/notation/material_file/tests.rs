use super::*;
use crate::material::{Basis, Charge, Class, Coverage, Preservation, Role, Source};
use crate::notation::mirror::{ClassName, RoleName};
use crate::notation::number::{self, Share};
use crate::quantity::{self, MassFraction, Spread};

const BETAINE: &str = r#"(
version: 1,
source: "typical",
sources: {
    "typical": (basis: Typical, text: "solutions of this kind"),
    "paper": (basis: Published, text: "a paper"),
},
materials: [
    (
        name: "Cocamidopropyl betaine solution",
        contains: [
            (inci: "Aqua", cas: "7732-18-5", share: (62, 65, 67), class: Water),
            (inci: "Cocamidopropyl Betaine", cas: "61789-40-0", share: (28.5, 30, 32), class: Surfactant(Amphoteric)),
            (inci: "Sodium Chloride", cas: "7647-14-5", share: 5, class: Electrolyte, source: "paper"),
        ],
        roles: [CoSurfactant, Foamer],
        charge: Amphoteric,
        use_ranges: [(kind: RinseOff, low: 2, high: 40)],
        max_temperature_c: 79.3,
        density_kg_m3: 1045,
        alkalinity: Unknown(ph: (4.5, 6), base_mmol_per_gram: (-0.1, 0.1)),
        from: {density_kg_m3: "paper"},
    ),
    (name: "Glycerin", pure: (inci: "Glycerin", cas: "56-81-5", class: Humectant), alkalinity: Neutral),
],
)"#;

fn message(text: &str) -> String {
    read(text, "shelf.ron").unwrap_err().to_string()
}

#[test]
fn a_short_file_is_read_with_its_sources() {
    let materials = read(BETAINE, "x").unwrap();
    let betaine = &materials[0];
    assert_eq!(betaine.id.as_str(), "cocamidopropyl-betaine-solution");
    assert_eq!(betaine.source.basis, Basis::Typical);
    assert_eq!(
        betaine.density.as_ref().unwrap().source.basis,
        Basis::Published
    );
    assert_eq!(
        betaine.constituents[2].source.as_ref().unwrap().basis,
        Basis::Published
    );
    assert!(
        (betaine
            .share_of(Class::Surfactant(Charge::Amphoteric))
            .as_percent()
            - 30.0)
            .abs()
            < 1e-12
    );
    assert_eq!(materials[1].unknown_share(), MassFraction::ZERO);
}

#[test]
fn what_is_written_reads_back_the_same() {
    let mut materials = read(BETAINE, "x").unwrap();
    // Shares that no short decimal gives, as a computation may leave them.
    materials[1].constituents[0].share = Spread {
        low: MassFraction::new(1.0 / 3.0),
        typical: MassFraction::new(0.57_f64.next_up()),
        high: MassFraction::new(0.9999999999999999),
    };
    materials[0].preservation = Some(Preservation {
        bacteria: Coverage::Good,
        yeast: Coverage::Weak,
        mould: Coverage::None,
        dose_low: "0.000001".parse().unwrap(),
        dose_high: "99.999999".parse().unwrap(),
        ph: None,
        formaldehyde_donor: true,
        source: Source::new(Basis::Supplier, "the “sheet”\n\"quoted\""),
    });
    let shared: Vec<_> = materials.into_iter().map(Arc::new).collect();
    let text = write(&shared).unwrap();
    let again: Vec<_> = read(&text, "x")
        .unwrap()
        .into_iter()
        .map(Arc::new)
        .collect();
    assert_eq!(again, shared, "{text}");
    assert_eq!(write(&again).unwrap(), text);
}

#[test]
fn every_tenth_of_a_percent_reads_back_the_same() {
    for tenths in 0..=1000 {
        let share = MassFraction::from_percent(f64::from(tenths) / 10.0);
        let text = ron::to_string(&Share(Spread::exact(share))).unwrap();
        assert!(!text.contains("of one"), "{text}");
        assert_eq!(ron::from_str::<Share>(&text).unwrap().0.typical, share);
    }
    for tenths in -400..=2500 {
        let temperature = quantity::celsius(f64::from(tenths) / 10.0);
        let decimal = number::celsius_decimal(temperature);
        assert_eq!(quantity::celsius(decimal), temperature);
        assert!(decimal.to_string().len() <= 6, "{decimal}");
    }
}

#[test]
fn faults_name_line_field_and_remedy() {
    let wrong_digit = BETAINE.replace("56-81-5", "56-81-4");
    let said = message(&wrong_digit);
    assert!(said.contains("check digit should be 5"), "{said}");
    assert!(said.contains("line 24"), "{said}");

    let no_source = BETAINE.replace("source: \"paper\"", "source: \"leaflet\"");
    let said = message(&no_source);
    assert!(
        said.contains("leaflet") && said.contains("paper, typical"),
        "{said}"
    );
    assert!(said.contains("line 14"), "{said}");

    let said = message(&BETAINE.replace("(62, 65, 67)", "(66, 65, 67)"));
    assert!(
        said.contains("low, typical, high") && said.contains("line 12"),
        "{said}"
    );

    let said = message(&BETAINE.replace("share: 5,", "share: 6,"));
    assert!(
        said.contains("add up to 101") && said.contains("line 11"),
        "{said}"
    );

    let said = message(&BETAINE.replace("roles:", "rolls:"));
    assert!(
        said.contains("`rolls`") && said.contains("line 16"),
        "{said}"
    );

    let said = message(&BETAINE.replace("[CoSurfactant", "[Soap"));
    assert!(
        said.contains("`Soap`") && said.contains("CoSurfactant"),
        "{said}"
    );

    let said = message(&BETAINE.replace("low: 2, high: 40", "low: 2, high: 1"));
    assert!(said.contains("above high"), "{said}");

    let said = message(&BETAINE.replace("high: 40", "high: 40.0000001"));
    assert!(said.contains("more than six digits"), "{said}");

    let said = message(&BETAINE.replace("version: 1", "version: 2"));
    assert!(said.contains("newer"), "{said}");

    let said = message(&BETAINE.replace(
        "name: \"Glycerin\"",
        "name: \"Cocamidopropyl betaine (solution)\"",
    ));
    assert!(said.contains("two materials"), "{said}");

    for cut in (0..BETAINE.len()).filter(|&i| BETAINE.is_char_boundary(i)) {
        assert!(read(&BETAINE[..cut], "x").is_err());
    }
}

proptest::proptest! {
    #[test]
    fn damaged_files_end_in_an_error_or_in_materials(
        at in 0..BETAINE.len(),
        length in 0..40_usize,
        put in "\\PC{0,12}",
    ) {
        let start = (0..=at).rev().find(|&i| BETAINE.is_char_boundary(i)).unwrap();
        let end = (start + length).min(BETAINE.len());
        let end = (end..=BETAINE.len()).find(|&i| BETAINE.is_char_boundary(i)).unwrap();
        let damaged = format!("{}{put}{}", &BETAINE[..start], &BETAINE[end..]);
        if let Err(error) = read(&damaged, "shelf.ron") {
            proptest::prop_assert!(error.to_string().contains("shelf.ron"));
        }
    }

    #[test]
    fn text_that_is_no_file_never_panics(text in "\\PC{0,200}") {
        proptest::prop_assert!(read(&text, "shelf.ron").is_err());
    }
}

#[test]
fn roles_in_files_are_those_of_the_model() {
    for role in Role::ALL {
        assert_eq!(Role::from(RoleName::from(role)), role);
    }
    for class in Class::ALL {
        assert_eq!(Class::from(ClassName::from(class)), class);
    }
}
