//! What differs between two states of a material, field by field, in words.
//!
//! Used wherever a maker decides whether to take a change over: a formula that
//! carries an older state than the shelf, an import, an edit of the shelf.

use std::collections::BTreeMap;

use crate::amount::measure::tidy;
use crate::formula::Formula;
use crate::inci::Inci;
use crate::material::{
    Alkalinity, Constituent, Counted, Ends, Material, MaterialId, MaterialValue, UseRange,
    other_fields,
};
use crate::quantity::{PhRange, Spread};
use crate::shelf::Shelf;

/// One field that differs. An absent value is printed as "not stated".
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MaterialChange {
    /// The field's name as shown in the window.
    pub field: String,
    /// The earlier value.
    pub before: String,
    /// The later value.
    pub after: String,
}

impl MaterialChange {
    /// The field with both values, in one line.
    pub fn words(&self) -> String {
        format!("{} {} then, {} now", self.field, self.before, self.after)
    }
}

/// Every field that differs, in the order of the material's fields.
pub fn material_changes(before: &Material, after: &Material) -> Vec<MaterialChange> {
    // A new field does not compile until somebody has looked here; the id is what they share.
    other_fields!(let {
        id: _,
        name: _,
        synonyms: _,
        supplier: _,
        constituents: _,
        roles: _,
        charge: _,
        phase: _,
        use_ranges: _,
        hazards: _,
        wet_with: _,
        preservation: _,
        alkalinity: _,
        fragrance_levels: _,
        note: _,
        source: _,
    } = before);
    let mut changes = Vec::new();
    let mut note = |field: &str, a: String, b: String| {
        if a != b {
            changes.push(MaterialChange {
                field: field.to_owned(),
                before: stated(a),
                after: stated(b),
            });
        }
    };
    let mut both =
        |field: &str, print: &dyn Fn(&Material) -> String| note(field, print(before), print(after));
    both("name", &|m| m.name.to_string());
    both("other names", &|m| m.synonyms.join(", "));
    both("supplier", &|m| {
        m.supplier.as_deref().unwrap_or_default().to_owned()
    });
    both("roles", &|m| {
        m.roles
            .iter()
            .map(|r| r.label())
            .collect::<Vec<_>>()
            .join(", ")
    });
    both("charge", &|m| {
        m.charge.map_or_else(String::new, |c| c.label().to_owned())
    });
    both("usual phase", &|m| {
        m.phase.map_or_else(String::new, |p| p.label().to_owned())
    });
    both("usual levels", &use_ranges);
    both("source of the usual levels", &use_range_sources);
    for (value, counted) in MaterialValue::counted() {
        both(value.row().in_changes, &|m| figures(m, value, counted));
    }
    both("hazards", &|m| {
        let hazards: Vec<&str> = m.hazards.iter().map(|h| h.label()).collect();
        hazards.join(", ")
    });
    both("wetted with", &|m| {
        let media: Vec<&str> = m.wet_with.iter().map(|w| w.label()).collect();
        media.join(", ")
    });
    both(MaterialValue::Preservation.row().in_changes, &preservation);
    both("source of the preservation", &|m| {
        let source = m.preservation.as_ref().map(|p| p.source.to_string());
        source.unwrap_or_default()
    });
    both(MaterialValue::Alkalinity.row().in_changes, &alkalinity);
    both("fragrance levels", &|m| {
        m.fragrance_levels
            .iter()
            .map(|l| format!("category {} at most {} %", l.category, l.maximum))
            .collect::<Vec<_>>()
            .join(", ")
    });
    both("note", &|m| m.note.to_string());
    both("source", &|m| m.source.to_string());
    constituent_changes(before, after, &mut changes);
    changes
}

/// Materials that a formula carries in another state than the shelf has them.
pub fn differing_from_shelf(
    formula: &Formula,
    shelf: &Shelf,
) -> BTreeMap<MaterialId, Vec<MaterialChange>> {
    formula
        .materials
        .iter()
        .filter_map(|(id, carried)| {
            let on_shelf = shelf.get(id)?;
            // Usually the same shared value, so that nothing has to be compared.
            if std::sync::Arc::ptr_eq(carried, on_shelf) || carried == on_shelf {
                return None;
            }
            Some((id.clone(), material_changes(carried, on_shelf)))
        })
        .collect()
}

fn constituent_changes(before: &Material, after: &Material, changes: &mut Vec<MaterialChange>) {
    let find = |m: &Material, inci: &Inci| {
        m.constituents
            .iter()
            .find(|c| c.inci.same_as(inci))
            .cloned()
    };
    let mut names: Vec<&Inci> = Vec::new();
    for c in before.constituents.iter().chain(&after.constituents) {
        if !names.iter().any(|n| n.same_as(&c.inci)) {
            names.push(&c.inci);
        }
    }
    for inci in names {
        let (a, b) = (find(before, inci), find(after, inci));
        if let (Some(a), Some(b)) = (&a, &b)
            && !a.inci.spelt_as(&b.inci)
        {
            changes.push(MaterialChange {
                field: "spelling of an INCI name".to_owned(),
                before: a.inci.to_string(),
                after: b.inci.to_string(),
            });
        }
        let (a, b) = (
            a.map_or_else(String::new, |c| constituent(&c)),
            b.map_or_else(String::new, |c| constituent(&c)),
        );
        if a != b {
            changes.push(MaterialChange {
                field: format!("contains {inci}"),
                before: stated(a),
                after: stated(b),
            });
        }
    }
}

fn constituent(c: &Constituent) -> String {
    let cas = c
        .cas
        .map_or_else(|| "no CAS number".to_owned(), |cas| format!("CAS {cas}"));
    let incidental = c
        .incidental
        .as_ref()
        .map_or_else(String::new, |why| format!(", incidental ({why})"));
    let source = c
        .source
        .as_ref()
        .map_or_else(String::new, |s| format!("; {s}"));
    format!(
        "{} %, {}, {cas}{incidental}{source}",
        spread(c.share),
        c.class.label()
    )
}

fn spread(s: Spread) -> String {
    let (low, typical, high) = (
        s.low.as_percent(),
        s.typical.as_percent(),
        s.high.as_percent(),
    );
    if low == high {
        figure(typical)
    } else {
        format!("{} ({} to {})", figure(typical), figure(low), figure(high))
    }
}

fn use_ranges(m: &Material) -> String {
    m.use_ranges
        .iter()
        .map(|r| {
            let maximum = if r.supplier_maximum {
                " (supplier's maximum)"
            } else {
                ""
            };
            format!("{} {} to {} %{maximum}", r.kind.label(), r.low, r.high)
        })
        .collect::<Vec<_>>()
        .join(", ")
}

/// By kind of product, unless one source stands for all.
fn use_range_sources(m: &Material) -> String {
    let of = |r: &UseRange| format!("{}: {}", r.kind.label(), r.source);
    match &*m.use_ranges {
        [] => String::new(),
        [first, rest @ ..] if rest.iter().all(|r| r.source == first.source) => {
            first.source.to_string()
        }
        all => all.iter().map(of).collect::<Vec<_>>().join(", "),
    }
}

fn preservation(m: &Material) -> String {
    let Some(p) = &m.preservation else {
        return String::new();
    };
    let ph =
        p.ph.map_or_else(String::new, |r| format!(", pH {}", ph_range(r)));
    let donor = if p.formaldehyde_donor {
        ", releases formaldehyde"
    } else {
        ""
    };
    format!(
        "{} to {} %, bacteria {}, yeast {}, mould {}{ph}{donor}",
        p.dose_low,
        p.dose_high,
        p.bacteria.label(),
        p.yeast.label(),
        p.mould.label()
    )
}

fn alkalinity(m: &Material) -> String {
    match &m.alkalinity {
        Alkalinity::Neutral => "none".to_owned(),
        Alkalinity::Unknown {
            ph_as_sold,
            base_mmol_per_gram,
            source,
        } => {
            let ph =
                ph_as_sold.map_or_else(String::new, |r| format!(", pH as sold {}", ph_range(r)));
            let base = base_mmol_per_gram.map_or_else(String::new, |(low, high)| {
                format!(", {} to {} mmol base per gram", figure(low), figure(high))
            });
            format!("unknown{ph}{base}; {source}")
        }
        Alkalinity::Titrated(t) => {
            format!(
                "{} mmol acid per gram to pH {}; {}",
                figure(t.value.mmol_acid_per_gram),
                figure(t.value.to_ph.value()),
                t.source
            )
        }
    }
}

fn ph_range(r: PhRange) -> String {
    format!("{} to {}", figure(r.low.value()), figure(r.high.value()))
}

/// A value that is figures, with its unit and source; empty where it is not stated.
fn figures(m: &Material, value: MaterialValue, counted: Counted) -> String {
    let Some((figures, source)) = m.figures(value) else {
        return String::new();
    };
    let typed = |in_file| figure(counted.typed(in_file));
    let one = match counted.ends {
        Ends::One => true,
        Ends::LowAndHigh => false,
        Ends::LowAndHighOrOne => figures.low == figures.high,
    };
    let mut words = typed(figures.low);
    if !one {
        words = format!("{words} to {}", typed(figures.high));
    }
    if !counted.unit.is_empty() {
        words = format!("{words} {}", counted.unit);
    }
    format!("{words}; {source}")
}

fn figure(value: f64) -> String {
    tidy(value, 6).to_string()
}

/// A value as it is told, also where there is none.
pub(crate) fn stated(text: String) -> String {
    if text.is_empty() {
        "not stated".to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{formula, line, material};
    use crate::material::Class;
    use crate::material::{Basis, Source, Sourced};
    use crate::quantity::kg_per_m3;
    use std::sync::Arc;

    #[test]
    fn only_what_differs_is_named() {
        let a = material(
            "betaine",
            &[
                (
                    "Cocamidopropyl Betaine",
                    30.0,
                    Class::Surfactant(crate::material::Charge::Amphoteric),
                ),
                ("Aqua", 65.0, Class::Water),
            ],
        );
        assert_eq!(material_changes(&a, &a), []);
        let mut b = a.as_ref().clone();
        b.constituents[0].share.typical = crate::quantity::MassFraction::from_percent(31.0);
        b.constituents.pop();
        b.density = Some(Sourced::new(
            kg_per_m3(1040.0),
            Source::new(Basis::Supplier, "lot 7"),
        ));
        let changes = material_changes(&a, &b);
        let fields: Vec<&str> = changes.iter().map(|c| c.field.as_str()).collect();
        assert_eq!(
            fields,
            [
                "density",
                "contains Cocamidopropyl Betaine",
                "contains Aqua"
            ]
        );
        assert_eq!(changes[0].before, "not stated");
        assert!(changes[0].after.starts_with("1.04 g/ml; lot 7"));
        assert!(changes[2].after == "not stated");
    }

    #[test]
    fn a_source_that_alone_differs_is_named() {
        let source = |detail: &str| Source::new(Basis::Supplier, detail);
        let of = |detail: &str| {
            let mut m = material("oil", &[("Oil", 100.0, Class::Oil)])
                .as_ref()
                .clone();
            m.use_ranges = vec![UseRange {
                kind: crate::kinds::ProductKind::LeaveOn,
                low: crate::quantity::Percent::from_units(0),
                high: crate::quantity::Percent::HUNDRED,
                supplier_maximum: false,
                source: source(detail),
            }];
            m.preservation = Some(crate::material::Preservation {
                bacteria: crate::material::Coverage::Good,
                yeast: crate::material::Coverage::Good,
                mould: crate::material::Coverage::Good,
                dose_low: crate::quantity::Percent::from_units(0),
                dose_high: crate::quantity::Percent::HUNDRED,
                ph: None,
                formaldehyde_donor: false,
                source: source(detail),
            });
            m.alkalinity = Alkalinity::Unknown {
                ph_as_sold: None,
                base_mmol_per_gram: None,
                source: source(detail),
            };
            m
        };
        let changes = material_changes(&of("sheet of May"), &of("sheet of June"));
        let fields: Vec<&str> = changes.iter().map(|c| c.field.as_str()).collect();
        let effect = MaterialValue::Alkalinity.row().in_changes;
        assert_eq!(
            fields,
            [
                "source of the usual levels",
                "source of the preservation",
                effect
            ]
        );
        for change in changes {
            assert!(change.before.contains("sheet of May"), "{change:?}");
            assert!(change.after.contains("sheet of June"), "{change:?}");
        }
    }

    #[test]
    fn a_formula_tells_what_the_shelf_has_otherwise() {
        let a = material("oil", &[("Oil", 100.0, Class::Oil)]);
        let f = formula(vec![line(&a, "100")]);
        let mut shelf = Shelf::new();
        shelf.insert(a.clone());
        assert!(differing_from_shelf(&f, &shelf).is_empty());
        let mut b = a.as_ref().clone();
        b.name = "better oil".into();
        shelf.insert(Arc::new(b));
        let differing = differing_from_shelf(&f, &shelf);
        assert_eq!(differing.len(), 1);
        assert_eq!(differing[&a.id][0].field, "name");
    }
}
