//! What a certificate states of a lot, in words; what differs between two states of it; the
//! states of two windows joined.

use crate::amount::measure::{tidy, tidy_percent};
use crate::amount::typed::density_field;
use crate::inci::Inci;
use crate::lot_values::LotValues;
use crate::material_change::{MaterialChange, stated};
use crate::quantity::MassFraction;
use crate::stock_merge::merged_value;

/// Everything that is stated of a lot, name and value with its unit, as entered.
pub fn stated_of(values: &LotValues) -> Vec<(String, String)> {
    let LotValues {
        lot: _,
        material: _,
        shares,
        density,
        ph,
        base_mmol_per_gram,
        certificate,
    } = values;
    let shares = shares.iter();
    let mut all: Vec<(String, String)> = shares
        .map(|(inci, share)| (inci.to_string(), format!("{} %", tidy_percent(*share))))
        .collect();
    if let Some(density) = density {
        let words = format!("{} g/ml", density_field(*density));
        all.push(("density".to_owned(), words));
    }
    if let Some(ph) = ph {
        all.push(("pH".to_owned(), tidy(ph.value(), 6).to_string()));
    }
    if let Some((low, high)) = base_mmol_per_gram {
        let words = format!("{low:.3} to {high:.3} mmol/g by trials");
        all.push(("unlisted base".to_owned(), words));
    }
    if !certificate.is_empty() {
        all.push(("certificate".to_owned(), certificate.to_string()));
    }
    all
}

/// Everything that is stated of a lot, in one line.
pub fn words_of(values: &LotValues) -> String {
    let stated = stated_of(values).into_iter();
    let parts: Vec<String> = stated
        .map(|(name, value)| format!("{name} {value}"))
        .collect();
    parts.join(", ")
}

/// Every value that differs, from the earlier state to the later one.
pub fn lot_changes(before: &LotValues, after: &LotValues) -> Vec<MaterialChange> {
    let (was, is) = (stated_of(before), stated_of(after));
    // Most are names of substances.
    let is_same = |one: &str, other: &str| Inci::from(one).is(other);
    let of = |all: &[(String, String)], name: &str| {
        let found = all.iter().find(|(n, _)| is_same(n, name));
        stated(found.map_or_else(String::new, |(_, value)| value.clone()))
    };
    let mut changes = Vec::new();
    if before.material != after.material {
        changes.push(MaterialChange {
            field: "material".to_owned(),
            before: before.material.to_string(),
            after: after.material.to_string(),
        });
    }
    let new = is
        .iter()
        .filter(|(n, _)| was.iter().all(|(w, _)| !is_same(w, n)));
    for (name, _) in was.iter().chain(new) {
        let (before, after) = (of(&was, name), of(&is, name));
        if before != after {
            changes.push(MaterialChange {
                field: name.clone(),
                before,
                after,
            });
        }
    }
    changes
}

/// Joins what two windows changed of one certificate, value by value. Where both changed one
/// differently, ours stands; whether there was such a value comes with it.
pub fn joined(base: Option<&LotValues>, ours: &LotValues, theirs: &LotValues) -> (LotValues, bool) {
    let mut agreed = true;
    macro_rules! field {
        ($field:ident) => {{
            let begun = base.map(|b| b.$field.clone());
            // Without a common state, what only one of them states is taken.
            let begun = begun.unwrap_or_default();
            // The side whose value stands where both differ comes last.
            merged_value(&begun, &theirs.$field, &ours.$field, || agreed = false)
        }};
    }
    let joined = LotValues {
        lot: ours.lot.clone(),
        material: ours.material.clone(),
        density: field!(density),
        ph: field!(ph),
        base_mmol_per_gram: field!(base_mmol_per_gram),
        certificate: field!(certificate),
        shares: shares(base, ours, theirs, &mut agreed),
    };
    agreed &= ours.material == theirs.material;
    (joined, agreed)
}

fn shares(
    base: Option<&LotValues>,
    ours: &LotValues,
    theirs: &LotValues,
    agreed: &mut bool,
) -> Vec<(Inci, MassFraction)> {
    let of = |values: &LotValues, inci: &Inci| -> Option<MassFraction> {
        let found = values.shares.iter().find(|(i, _)| i.same_as(inci));
        found.map(|(_, share)| *share)
    };
    let new = theirs.shares.iter();
    let new = new.filter(|(inci, _)| of(ours, inci).is_none());
    ours.shares
        .iter()
        .chain(new)
        .filter_map(|(inci, _)| {
            let begun = base.and_then(|base| of(base, inci));
            let (here, there) = (of(ours, inci), of(theirs, inci));
            let share = merged_value(&begun, &there, &here, || *agreed = false);
            share.map(|share| (inci.clone(), share))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::MaterialId;
    use crate::quantity::{Ph, kg_per_m3};
    use crate::stock::LotId;

    fn lot(change: impl FnOnce(&mut LotValues)) -> LotValues {
        let mut values = LotValues {
            lot: LotId::new("L77").unwrap(),
            material: MaterialId::from_name("betaine"),
            shares: vec![("Aqua".into(), MassFraction::from_percent(65.0))],
            density: Some(kg_per_m3(1047.0)),
            ph: None,
            base_mmol_per_gram: None,
            certificate: "CoA 12".into(),
        };
        change(&mut values);
        values
    }

    #[test]
    fn all_that_is_stated_is_said_and_so_is_what_changed() {
        let before = lot(|_| ());
        assert_eq!(
            words_of(&before),
            "Aqua 65 %, density 1.047 g/ml, certificate CoA 12"
        );
        let after = lot(|l| {
            l.density = None;
            l.ph = Ph::new(5.1);
        });
        let changes = lot_changes(&before, &after);
        let said: Vec<_> = changes
            .iter()
            .map(|c| [c.field.as_str(), c.before.as_str(), c.after.as_str()])
            .collect();
        assert_eq!(
            said,
            [
                ["density", "1.047 g/ml", "not stated"],
                ["pH", "not stated", "5.1"]
            ]
        );
    }

    #[test]
    fn two_windows_join_value_by_value() {
        let base = lot(|_| ());
        let ours = lot(|l| l.ph = Ph::new(5.1));
        let theirs = lot(|l| {
            l.density = None;
            l.shares
                .push(("Glycerin".into(), MassFraction::from_percent(3.0)));
        });
        let (both, agreed) = joined(Some(&base), &ours, &theirs);
        assert!(agreed);
        assert_eq!((both.density, both.ph), (None, Ph::new(5.1)));
        let (mut expected, ph) = (theirs.clone(), ours.ph);
        expected.ph = ph;
        assert_eq!(both, expected);
        let other = lot(|l| l.ph = Ph::new(6.0));
        let (both, agreed) = joined(Some(&base), &ours, &other);
        assert!(!agreed);
        assert_eq!(both, ours);
        let (_, agreed) = joined(None, &base, &base);
        assert!(agreed);
    }
}
