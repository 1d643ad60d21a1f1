//! Small formulas for tests.

use std::sync::Arc;

use crate::formula::{Formula, ItemId, Line};
use crate::material::{Class, Constituent, Material, MaterialId};
use crate::quantity::{MassFraction, Spread};

/// A material with constituents given in percent.
pub fn material(name: &str, constituents: &[(&str, f64, Class)]) -> Arc<Material> {
    let mut m = Material::unknown(MaterialId::from_name(name), name);
    m.constituents = constituents
        .iter()
        .map(|&(inci, percent, class)| Constituent {
            inci: inci.into(),
            cas: None,
            share: Spread::exact(MassFraction::from_percent(percent)),
            class,
            incidental: None,
            source: None,
        })
        .collect();
    Arc::new(m)
}

/// A line still without identity.
pub fn line(material: &Arc<Material>, percent: &str) -> (Arc<Material>, Line) {
    let line = Line {
        id: ItemId(0),
        material: material.id.clone(),
        percent: percent.parse().unwrap(),
        why: "".into(),
        held: false,
        min: None,
        max: None,
        purpose: None,
    };
    (material.clone(), line)
}

/// A formula of one phase; the lines get the ids 10, 11, 12 …
pub fn formula(lines: Vec<(Arc<Material>, Line)>) -> Formula {
    phased(vec![lines])
}

/// A formula of several phases, whose ids are 100, 101 …; the lines get the ids 10, 11, 12 …
pub fn phased(phases: Vec<Vec<(Arc<Material>, Line)>>) -> Formula {
    let mut f = Formula::new("Test");
    let mut variant = f.active().as_ref().clone();
    let template = variant.phases[0].as_ref().clone();
    variant.phases.clear();
    let mut next = 10;
    for (i, lines) in phases.into_iter().enumerate() {
        let mut phase = template.clone();
        phase.id = ItemId(100 + i as u64);
        phase.letter = char::from(b'A' + i as u8).to_string().into();
        for (m, mut l) in lines {
            l.id = ItemId(next);
            next += 1;
            f.materials.insert(m.id.clone(), m);
            phase.lines.push(l);
        }
        variant.phases.push(Arc::new(phase));
    }
    f.next_id = 1000;
    f.variants = vec![Arc::new(variant)];
    f
}
