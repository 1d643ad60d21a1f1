//! What differs between two variants, as data.

use std::sync::Arc;

use super::{LineRelation, Pair};
use crate::formula::{ItemId, Line, Measured, Product, Step};
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
pub enum DifferenceSubject {
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
        relation: LineRelation,
    },
    /// The material of a line.
    LineMaterial {
        ids: Both<ItemId>,
        material: Both<MaterialId>,
        relation: LineRelation,
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
    pub fn subject(&self) -> DifferenceSubject {
        let two = |ids: &Both<ItemId>| Both::new(Some(ids.left), Some(ids.right));
        match self {
            Self::Product(_)
            | Self::TargetPh(_)
            | Self::Batch(_)
            | Self::Measured(_)
            | Self::Label(_)
            | Self::Specification(_)
            | Self::Filler(_) => DifferenceSubject::Whole,
            Self::PhaseOnly { side, id, .. } => DifferenceSubject::Phase(one_side(*side, *id)),
            Self::PhaseHead { ids, .. } | Self::PhaseOrder { ids } => {
                DifferenceSubject::Phase(two(ids))
            }
            Self::LineOnly { side, line, .. } => DifferenceSubject::Line(one_side(*side, line.id)),
            Self::LineMaterial { ids, .. }
            | Self::LinePercent { ids, .. }
            | Self::LinePlace { ids, .. }
            | Self::LineWhy { ids, .. }
            | Self::LineHeld { ids, .. }
            | Self::LinePurpose { ids, .. }
            | Self::LineRange { ids, .. } => DifferenceSubject::Line(two(ids)),
            Self::StepOnly { side, step, .. } => DifferenceSubject::Step(one_side(*side, step.id)),
            Self::StepContent { ids, .. } | Self::StepPlace { ids, .. } => {
                DifferenceSubject::Step(two(ids))
            }
            Self::Material(data) => DifferenceSubject::Material(data.left.id.clone()),
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
