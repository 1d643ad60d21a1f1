//! What differs between two aligned variants, part by part.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::align::{Aligned, Position};
use super::difference::{Both, Difference, Side, same_step};
use super::{Compared, head};
use crate::formula::{Line, Variant};
use crate::material::MaterialId;

/// Lists what differs between two aligned variants.
pub(super) fn list(
    left: Compared<'_>,
    right: Compared<'_>,
    aligned: &Aligned<'_>,
) -> Vec<Difference> {
    let mut out = Vec::new();
    whole(left, right, aligned, &mut out);
    phases(aligned, &mut out);
    lines(aligned, &mut out);
    steps(aligned, &mut out);
    materials(left, right, &mut out);
    out
}

fn differ<T: PartialEq + Clone>(
    left: &T,
    right: &T,
    difference: impl FnOnce(Both<T>) -> Difference,
    out: &mut Vec<Difference>,
) {
    if left != right {
        out.push(difference(Both::new(left.clone(), right.clone())));
    }
}

fn whole(
    left: Compared<'_>,
    right: Compared<'_>,
    aligned: &Aligned<'_>,
    out: &mut Vec<Difference>,
) {
    // Taken apart so that a new field cannot be forgotten here.
    let Variant {
        id: _,
        name: _,
        note: _,
        parent: _,
        created: _,
        archived: _,
        product,
        phases: _,
        filler: _,
        target_ph,
        batch,
        measured,
        label,
        specification,
    } = left.variant;
    let b = right.variant;
    differ(product, &b.product, Difference::Product, out);
    differ(target_ph, &b.target_ph, Difference::TargetPh, out);
    differ(batch, &b.batch, Difference::Batch, out);
    differ(measured, &b.measured, Difference::Measured, out);
    differ(label, &b.label, Difference::Label, out);
    differ(
        specification,
        &b.specification,
        Difference::Specification,
        out,
    );
    // A filler that is no line is none.
    let filler = |side: Compared<'_>| {
        side.variant
            .filler
            .filter(|&f| side.variant.line(f).is_some())
    };
    let (a, b) = (filler(left), filler(right));
    let same = match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => aligned.lines_paired(a, b),
        _ => false,
    };
    if !same {
        out.push(Difference::Filler(Both::new(a, b)));
    }
}

fn phases(aligned: &Aligned<'_>, out: &mut Vec<Difference>) {
    for pair in &aligned.phases {
        let only = |side, phase: &crate::formula::Phase| Difference::PhaseOnly {
            side,
            id: phase.id,
            head: head(phase),
        };
        match (pair.left, pair.right) {
            (Some(a), Some(b)) => {
                let ids = Both::new(a.id, b.id);
                let same = a.letter == b.letter
                    && a.kind == b.kind
                    && a.purpose == b.purpose
                    && a.temperature == b.temperature;
                if !same {
                    let head = Both::new(head(a), head(b));
                    out.push(Difference::PhaseHead { ids, head });
                }
                if pair.moved {
                    out.push(Difference::PhaseOrder { ids });
                }
            }
            (Some(a), None) => out.push(only(Side::Left, a)),
            (None, Some(b)) => out.push(only(Side::Right, b)),
            (None, None) => {}
        }
    }
}

fn lines(aligned: &Aligned<'_>, out: &mut Vec<Difference>) {
    let only = |side, place: Position<'_, Line>, relation| Difference::LineOnly {
        side,
        phase: place.phase,
        line: place.item.clone(),
        relation,
    };
    for pair in &aligned.lines {
        let (a, b) = match (pair.left, pair.right) {
            (Some(a), Some(b)) => (a, b),
            (Some(a), None) => {
                out.push(only(Side::Left, a, pair.relation));
                continue;
            }
            (None, Some(b)) => {
                out.push(only(Side::Right, b, pair.relation));
                continue;
            }
            (None, None) => continue,
        };
        let ids = Both::new(a.item.id, b.item.id);
        let phase = Both::new(a.phase, b.phase);
        let (a, b) = (a.item, b.item);
        let relation = pair.relation;
        differ(
            &a.material,
            &b.material,
            |material| Difference::LineMaterial {
                ids,
                material,
                relation,
            },
            out,
        );
        differ(
            &a.percent,
            &b.percent,
            |percent| Difference::LinePercent { ids, percent },
            out,
        );
        if pair.moved {
            out.push(Difference::LinePlace { ids, phase });
        }
        differ(&a.why, &b.why, |why| Difference::LineWhy { ids, why }, out);
        differ(
            &a.held,
            &b.held,
            |held| Difference::LineHeld { ids, held },
            out,
        );
        differ(
            &a.purpose,
            &b.purpose,
            |purpose| Difference::LinePurpose { ids, purpose },
            out,
        );
        differ(
            &(a.min, a.max),
            &(b.min, b.max),
            |range| Difference::LineRange { ids, range },
            out,
        );
    }
}

fn steps(aligned: &Aligned<'_>, out: &mut Vec<Difference>) {
    for pair in &aligned.steps {
        match (pair.left, pair.right) {
            (Some(a), Some(b)) => {
                let ids = Both::new(a.item.id, b.item.id);
                if !same_step(a.item, b.item) {
                    let step = Both::new(a.item.clone(), b.item.clone());
                    out.push(Difference::StepContent { ids, step });
                }
                if pair.moved {
                    let phase = Both::new(a.phase, b.phase);
                    out.push(Difference::StepPlace { ids, phase });
                }
            }
            (Some(a), None) => out.push(Difference::StepOnly {
                side: Side::Left,
                phase: a.phase,
                step: a.item.clone(),
            }),
            (None, Some(b)) => out.push(Difference::StepOnly {
                side: Side::Right,
                phase: b.phase,
                step: b.item.clone(),
            }),
            (None, None) => {}
        }
    }
}

/// Materials in use of which the two files carry different data.
fn materials(left: Compared<'_>, right: Compared<'_>, out: &mut Vec<Difference>) {
    if std::ptr::eq(left.formula, right.formula)
        || left.formula.materials.is_empty()
        || right.formula.materials.is_empty()
    {
        return;
    }
    let used: BTreeSet<&MaterialId> = left
        .variant
        .lines()
        .chain(right.variant.lines())
        .map(|(_, line)| &line.material)
        .collect();
    for id in used {
        let (Some(a), Some(b)) = (left.formula.material(id), right.formula.material(id)) else {
            continue;
        };
        if !Arc::ptr_eq(a, b) && a != b {
            out.push(Difference::Material(Both::new(
                Arc::clone(a),
                Arc::clone(b),
            )));
        }
    }
}
