//! What differs between two variants, as data.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::align::{Aligned, Place};
use super::{Compared, Pair, Relation, head};
use crate::formula::{ItemId, Line, Measured, Product, Step, Variant};
use crate::label_info::LabelInfo;
use crate::material::{Material, MaterialId, PhaseKind};
use crate::purpose::Purpose;
use crate::quantity::{Mass, Percent, Ph, Temperature};
use crate::specification::Specification;

/// Left or right.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Side {
    /// The variant shown on the left.
    Left,
    /// The variant shown on the right.
    Right,
}

impl Side {
    /// The other side.
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// A value on the left and on the right.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Both<T> {
    /// On the left.
    pub left: T,
    /// On the right.
    pub right: T,
}

impl<T> Both<T> {
    /// A pair.
    pub const fn new(left: T, right: T) -> Self {
        Self { left, right }
    }
    /// The value of a side.
    pub const fn of(&self, side: Side) -> &T {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }
}

impl<T: Clone> Both<T> {
    /// With the sides exchanged.
    pub fn mirrored(&self) -> Self {
        Self {
            left: self.right.clone(),
            right: self.left.clone(),
        }
    }
}

/// A phase without its lines and steps.
#[derive(Clone, PartialEq, Debug)]
pub struct PhaseHead {
    /// Letter shown.
    pub letter: Arc<str>,
    /// What kind of phase it is.
    pub kind: PhaseKind,
    /// Its purpose.
    pub purpose: Arc<str>,
    /// Working temperature.
    pub temperature: Option<Temperature>,
}

/// What a difference is about.
#[derive(Clone, PartialEq, Debug)]
pub enum Subject {
    /// The variant as a whole.
    Whole,
    /// A phase, by its id on each side.
    Phase(Pair),
    /// A line, by its id on each side.
    Line(Pair),
    /// A step, by its id on each side.
    Step(Pair),
    /// The data of a material.
    Material(MaterialId),
}

/// One thing that differs.
///
/// `ids` are those of the aligned phases, lines or steps; what is on one side only
/// is given whole, with the side.
#[derive(Clone, PartialEq, Debug)]
#[expect(
    missing_docs,
    reason = "each variant is documented; field names speak for themselves"
)]
pub enum Difference {
    /// What the product is.
    Product(Both<Product>),
    /// The pH aimed at.
    TargetPh(Both<Option<Ph>>),
    /// Batch mass.
    Batch(Both<Mass>),
    /// What was measured.
    Measured(Both<Measured>),
    /// What is stated for the label.
    Label(Both<Arc<LabelInfo>>),
    /// What it must measure.
    Specification(Both<Arc<Specification>>),
    /// Which line is the filler.
    Filler(Both<Option<ItemId>>),
    /// A phase on one side only.
    PhaseOnly {
        side: Side,
        id: ItemId,
        head: PhaseHead,
    },
    /// Letter, kind, purpose or temperature of a phase.
    PhaseHead {
        ids: Both<ItemId>,
        head: Both<PhaseHead>,
    },
    /// The place of a phase in the working order.
    PhaseOrder { ids: Both<ItemId> },
    /// A line on one side only; a further part of a split material too.
    LineOnly {
        side: Side,
        phase: ItemId,
        line: Line,
        relation: Relation,
    },
    /// The material of a line.
    LineMaterial {
        ids: Both<ItemId>,
        material: Both<MaterialId>,
        relation: Relation,
    },
    /// The percentage of a line.
    LinePercent {
        ids: Both<ItemId>,
        percent: Both<Percent>,
    },
    /// The phase of a line or its order within; `phase` is the phase on each side.
    LinePlace {
        ids: Both<ItemId>,
        phase: Both<ItemId>,
    },
    /// Why a line is here.
    LineWhy {
        ids: Both<ItemId>,
        why: Both<Arc<str>>,
    },
    /// Whether a line is held.
    LineHeld { ids: Both<ItemId>, held: Both<bool> },
    /// What a line is there for; none is left to be proposed.
    LinePurpose {
        ids: Both<ItemId>,
        purpose: Both<Option<Purpose>>,
    },
    /// The maker's bounds of a line: lowest, highest.
    LineRange {
        ids: Both<ItemId>,
        range: Both<(Option<Percent>, Option<Percent>)>,
    },
    /// A step on one side only.
    StepOnly {
        side: Side,
        phase: ItemId,
        step: Step,
    },
    /// What a step says.
    StepContent { ids: Both<ItemId>, step: Both<Step> },
    /// The phase of a step or its order within.
    StepPlace {
        ids: Both<ItemId>,
        phase: Both<ItemId>,
    },
    /// Two files carry different data of a material of the same id.
    Material(Both<Arc<Material>>),
}

fn one_side(side: Side, id: ItemId) -> Pair {
    match side {
        Side::Left => Both::new(Some(id), None),
        Side::Right => Both::new(None, Some(id)),
    }
}

impl Difference {
    /// What it is about.
    pub fn subject(&self) -> Subject {
        let two = |ids: &Both<ItemId>| Both::new(Some(ids.left), Some(ids.right));
        match self {
            Self::Product(_)
            | Self::TargetPh(_)
            | Self::Batch(_)
            | Self::Measured(_)
            | Self::Label(_)
            | Self::Specification(_)
            | Self::Filler(_) => Subject::Whole,
            Self::PhaseOnly { side, id, .. } => Subject::Phase(one_side(*side, *id)),
            Self::PhaseHead { ids, .. } | Self::PhaseOrder { ids } => Subject::Phase(two(ids)),
            Self::LineOnly { side, line, .. } => Subject::Line(one_side(*side, line.id)),
            Self::LineMaterial { ids, .. }
            | Self::LinePercent { ids, .. }
            | Self::LinePlace { ids, .. }
            | Self::LineWhy { ids, .. }
            | Self::LineHeld { ids, .. }
            | Self::LinePurpose { ids, .. }
            | Self::LineRange { ids, .. } => Subject::Line(two(ids)),
            Self::StepOnly { side, step, .. } => Subject::Step(one_side(*side, step.id)),
            Self::StepContent { ids, .. } | Self::StepPlace { ids, .. } => Subject::Step(two(ids)),
            Self::Material(data) => Subject::Material(data.left.id.clone()),
        }
    }

    /// With the sides exchanged.
    pub fn mirrored(&self) -> Self {
        match self {
            Self::Product(both) => Self::Product(both.mirrored()),
            Self::TargetPh(both) => Self::TargetPh(both.mirrored()),
            Self::Batch(both) => Self::Batch(both.mirrored()),
            Self::Measured(both) => Self::Measured(both.mirrored()),
            Self::Label(both) => Self::Label(both.mirrored()),
            Self::Specification(both) => Self::Specification(both.mirrored()),
            Self::Filler(both) => Self::Filler(both.mirrored()),
            Self::PhaseOnly { side, id, head } => Self::PhaseOnly {
                side: side.other(),
                id: *id,
                head: head.clone(),
            },
            Self::PhaseHead { ids, head } => Self::PhaseHead {
                ids: ids.mirrored(),
                head: head.mirrored(),
            },
            Self::PhaseOrder { ids } => Self::PhaseOrder {
                ids: ids.mirrored(),
            },
            Self::LineOnly {
                side,
                phase,
                line,
                relation,
            } => Self::LineOnly {
                side: side.other(),
                phase: *phase,
                line: line.clone(),
                relation: *relation,
            },
            Self::LineMaterial {
                ids,
                material,
                relation,
            } => Self::LineMaterial {
                ids: ids.mirrored(),
                material: material.mirrored(),
                relation: *relation,
            },
            Self::LinePercent { ids, percent } => Self::LinePercent {
                ids: ids.mirrored(),
                percent: percent.mirrored(),
            },
            Self::LinePlace { ids, phase } => Self::LinePlace {
                ids: ids.mirrored(),
                phase: phase.mirrored(),
            },
            Self::LineWhy { ids, why } => Self::LineWhy {
                ids: ids.mirrored(),
                why: why.mirrored(),
            },
            Self::LineHeld { ids, held } => Self::LineHeld {
                ids: ids.mirrored(),
                held: held.mirrored(),
            },
            Self::LinePurpose { ids, purpose } => Self::LinePurpose {
                ids: ids.mirrored(),
                purpose: purpose.mirrored(),
            },
            Self::LineRange { ids, range } => Self::LineRange {
                ids: ids.mirrored(),
                range: range.mirrored(),
            },
            Self::StepOnly { side, phase, step } => Self::StepOnly {
                side: side.other(),
                phase: *phase,
                step: step.clone(),
            },
            Self::StepContent { ids, step } => Self::StepContent {
                ids: ids.mirrored(),
                step: step.mirrored(),
            },
            Self::StepPlace { ids, phase } => Self::StepPlace {
                ids: ids.mirrored(),
                phase: phase.mirrored(),
            },
            Self::Material(both) => Self::Material(both.mirrored()),
        }
    }
}

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
    let only = |side, place: Place<'_, Line>, relation| Difference::LineOnly {
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

/// Whether two steps say the same, whatever their ids.
pub(super) fn same_step(a: &Step, b: &Step) -> bool {
    let Step {
        id: _,
        text,
        temperature,
        minutes,
        tool,
        check,
    } = a;
    *text == b.text
        && *temperature == b.temperature
        && *minutes == b.minutes
        && *tool == b.tool
        && *check == b.check
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
