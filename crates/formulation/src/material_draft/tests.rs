use super::*;
use crate::inventory::inventory;
use crate::quantity::{Spread, celsius, celsius_decimal, in_celsius, in_kg_per_m3};

fn check(draft: &MaterialDraft) -> CheckedDraft {
    draft.check(|_| false)
}

/// Equal but for the last digits of binary fractions.
fn alike(a: &Material, b: &Material) -> bool {
    let plain = |m: &Material| {
        let mut m = m.clone();
        for c in &mut m.constituents {
            let round = |s: MassFraction| MassFraction::new((s.value() * 1e9).round() / 1e9);
            c.share = Spread {
                low: round(c.share.low),
                typical: round(c.share.typical),
                high: round(c.share.high),
            };
        }
        m.max_temperature = None;
        m.density = None;
        // The order of the two kinds does not matter.
        m.use_ranges.sort_by_key(|r| r.kind);
        m
    };
    let close = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let density = |m: &Material| m.density.as_ref().map_or(0.0, |d| in_kg_per_m3(d.value));
    let heat = |m: &Material| {
        m.max_temperature
            .as_ref()
            .map_or(0.0, |t| in_celsius(t.value))
    };
    plain(a) == plain(b) && close(density(a), density(b)) && close(heat(a), heat(b))
}

#[test]
fn every_built_in_material_survives_being_edited_without_a_change() {
    for material in crate::shelf::built_in::shelf().iter() {
        let checked = check(&MaterialDraft::of(material));
        let read = checked
            .material
            .unwrap_or_else(|| panic!("{}: {:?}", material.name, checked.faults));
        assert!(alike(&read, material), "{read:#?}\n{material:#?}");
    }
}

#[test]
fn faults_stand_at_their_fields() {
    let mut draft = MaterialDraft {
        name: "Betaine".into(),
        ..MaterialDraft::default()
    };
    draft.constituents = vec![
        ConstituentDraft {
            inci: "Aqua".into(),
            cas: "7732-18-4".into(),
            typical: "70".into(),
            ..ConstituentDraft::default()
        },
        ConstituentDraft {
            inci: "Cocamidopropyl Betain".into(),
            low: "35".into(),
            typical: "30".into(),
            ..ConstituentDraft::default()
        },
        ConstituentDraft {
            inci: "Sodium Chloride".into(),
            typical: "40,5".into(),
            ..ConstituentDraft::default()
        },
    ];
    draft.values[MaterialValue::PhWindow].low = "7".into();
    draft.values[MaterialValue::PhWindow].high = "4".into();
    draft.values[MaterialValue::Density].low = "heavy".into();
    draft.basis = Some(Basis::Supplier);
    draft.fragrance = vec![("13".into(), "1".into()), ("5a".into(), "0.5".into())];
    let checked = check(&draft);
    assert!(checked.material.is_none());
    // The check digit rule of the registry: the right digit is 5.
    assert!(
        checked
            .fault(DraftField::Cas(0))
            .unwrap()
            .contains("should be 5")
    );
    assert!(
        checked
            .fault(DraftField::Share(1))
            .unwrap()
            .contains("not in order")
    );
    assert!(
        checked
            .fault(DraftField::Constituents)
            .unwrap()
            .contains("110.5 %")
    );
    assert!(
        checked
            .fault(DraftField::Value(MaterialValue::PhWindow))
            .unwrap()
            .contains("swap")
    );
    assert!(
        checked
            .fault(DraftField::Value(MaterialValue::Density))
            .is_some()
    );
    assert!(checked.fault(DraftField::Source).is_some());
    assert!(checked.fault(DraftField::Fragrance(0)).is_some());
    assert!(checked.fault(DraftField::Fragrance(1)).is_none());
    assert!(
        checked
            .note(DraftField::Inci(1))
            .unwrap()
            .contains("Cocamidopropyl Betaine")
    );
}

#[test]
fn what_is_not_listed_is_unknown() {
    let mut draft = MaterialDraft::from_inventory(inventory().by_name("glycerin").unwrap());
    assert_eq!(
        check(&draft).material.unwrap().unknown_share(),
        MassFraction::ZERO
    );
    draft.constituents[0].typical = "86,5".into();
    let checked = check(&draft);
    assert!(
        checked
            .note(DraftField::Constituents)
            .unwrap()
            .contains("13.5 %")
    );
    let material = checked.material.unwrap();
    assert!((material.unknown_share().as_percent() - 13.5).abs() < 1e-9);
    assert_eq!(material.constituents[0].cas, "56-81-5".parse().ok());
}

#[test]
fn a_new_material_needs_a_free_name() {
    let draft = MaterialDraft::of(crate::shelf::built_in::shelf().iter().next().unwrap()).copied();
    assert!(draft.check(|_| false).material.is_some());
    assert!(draft.check(|_| true).fault(DraftField::Name).is_some());
    let nameless = MaterialDraft::default();
    assert!(check(&nameless).fault(DraftField::Name).is_some());
}

/// What is shown of a temperature is the decimal of the file, to the last digit, as is what
/// comes of it again.
#[test]
fn temperatures_are_shown_without_the_noise_of_their_conversion() {
    for hundredths in -8000..=40_000 {
        let typed = f64::from(hundredths) / 100.0;
        let mut draft = MaterialDraft {
            name: "Heather wax".into(),
            ..MaterialDraft::default()
        };
        draft.values[MaterialValue::MaxTemperature].low = typed.to_string();
        let kept = celsius(typed);
        assert_eq!(shown(celsius_decimal(kept)), shown(in_celsius(kept)));
        if hundredths % 1000 == 0 {
            let material = check(&draft).material.unwrap();
            assert_eq!(material.max_temperature.as_ref().unwrap().value, kept);
            assert_eq!(MaterialDraft::of(&material).values, draft.values);
        }
    }
}

/// Roles that came from the first substance are said to be from it once there are more.
#[test]
fn roles_taken_over_from_one_substance_are_told() {
    let entry = inventory().by_name("benzyl alcohol").unwrap();
    let mut draft = MaterialDraft::from_inventory(entry);
    assert!(draft.roles.len() > 1);
    assert_eq!(check(&draft).note(DraftField::Roles), None);
    draft.constituents[0].typical = "60".into();
    draft.complete(1, inventory().by_name("dehydroacetic acid").unwrap());
    draft.constituents[1].typical = "8".into();
    let checked = check(&draft);
    let told = checked.note(DraftField::Roles).unwrap();
    assert!(told.contains("Benzyl Alcohol alone"), "{told}");
    draft.roles = vec![Role::Preservative];
    assert_eq!(check(&draft).note(DraftField::Roles), None);
}

/// An oil typed as its data sheet gives it becomes one ingredient with its components in it.
#[test]
fn components_are_counted_as_parts_of_the_oil() {
    let mut draft = MaterialDraft {
        name: "Lavender of the moor".into(),
        roles: vec![Role::EssentialOil],
        ..MaterialDraft::default()
    };
    for (n, (name, share)) in [
        ("Lavandula Angustifolia Oil", "27.9"),
        ("Linalyl Acetate", "30"),
        ("Linalool", "34"),
        ("Camphor", "7"),
        ("Limonene", "1"),
        ("Coumarin", "0.1"),
    ]
    .into_iter()
    .enumerate()
    {
        draft.complete(n, inventory().by_name(name).unwrap());
        draft.constituents[n].typical = share.into();
    }
    let checked = check(&draft);
    let told = checked.note(DraftField::Components).unwrap();
    assert!(
        told.contains("27.9 %") && told.contains("Camphor"),
        "{told}"
    );
    draft.count_as_parts();
    let checked = check(&draft);
    assert_eq!(checked.note(DraftField::Components), None);
    let material = checked.material.unwrap();
    let oil = crate::mixture::contents(&material).next().unwrap();
    assert_eq!(oil.standing, crate::mixture::IngredientStatus::Whole);
    assert!((oil.as_declared.typical.as_percent() - 100.0).abs() < 1e-6);
}

/// An index from 0 to 1 is written in percent by many, with the sign.
#[test]
fn a_share_of_natural_origin_is_read_in_percent_too() {
    let shelf = crate::shelf::built_in::shelf();
    let mut draft = MaterialDraft::of(shelf.iter().next().unwrap());
    for (typed, read) in [("0.95", 0.95), ("95 %", 0.95), ("1", 1.0), ("100%", 1.0)] {
        draft.values[MaterialValue::NaturalOrigin].low = typed.into();
        draft.values[MaterialValue::NaturalOrigin].high = String::new();
        let material = check(&draft).material.unwrap();
        let index = material.natural_origin.as_ref().unwrap().value;
        assert_eq!((index.low, index.high), (read, read), "{typed}");
    }
    draft.values[MaterialValue::NaturalOrigin].low = "95".into();
    let refused = DraftField::Value(MaterialValue::NaturalOrigin);
    assert!(
        check(&draft)
            .faults
            .iter()
            .any(|(field, _)| *field == refused)
    );
}
