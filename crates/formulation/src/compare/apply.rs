//! Carries differences across: from the right to the left.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use super::difference::{Both, Difference, DifferenceSubject, PhaseHead, Side};
use super::{AlignedLine, Compared, Comparison, Pair};
use crate::formula::{Formula, ItemId, Line, Phase, Step, Variant};
use crate::material::Material;

/// Which differences are carried across.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum CarryScope<'d> {
    /// All of them.
    Everything,
    /// Those of one row.
    Line(AlignedLine),
    /// Those of a phase, its lines and its steps.
    Phase(Pair),
    /// Those of one step.
    Step(Pair),
    /// A single one.
    One(&'d Difference),
}

/// The left with differences carried across.
#[derive(Clone, PartialEq, Debug)]
pub struct Carried {
    /// The left variant with them; it keeps its identity, name and note.
    pub variant: Variant,
    /// Materials that the left file must carry now, in place of those of the same id.
    pub materials: Vec<Arc<Material>>,
}

/// The order of everything in a variant, by id.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Order(Vec<PhaseOrder>);

/// A phase, its lines and its steps.
type PhaseOrder = (ItemId, Vec<ItemId>, Vec<ItemId>);

impl Order {
    pub(super) fn of(variant: &Variant) -> Self {
        let ids = |p: &Arc<Phase>| {
            let lines = p.lines.iter().map(|l| l.id).collect();
            (p.id, lines, p.steps.iter().map(|s| s.id).collect())
        };
        Self(variant.phases.iter().map(ids).collect())
    }

    fn ids(&self) -> impl Iterator<Item = ItemId> {
        self.0.iter().flat_map(|(phase, lines, steps)| {
            std::iter::once(*phase)
                .chain(lines.iter().copied())
                .chain(steps.iter().copied())
        })
    }
}

impl Comparison {
    /// Whether a difference belongs to a scope.
    pub fn within(&self, difference: &Difference, scope: CarryScope<'_>) -> bool {
        let subject = difference.subject();
        match scope {
            CarryScope::Everything => true,
            CarryScope::One(one) => difference == one,
            CarryScope::Line(row) => {
                subject == DifferenceSubject::Line(Both::new(row.left, row.right))
            }
            CarryScope::Step(pair) => subject == DifferenceSubject::Step(pair),
            CarryScope::Phase(pair) => {
                let holds = |side: Side, phase: ItemId| *pair.of(side) == Some(phase);
                match (difference, subject) {
                    (_, DifferenceSubject::Phase(of)) => of == pair,
                    (
                        Difference::LineOnly { side, phase, .. }
                        | Difference::StepOnly { side, phase, .. },
                        _,
                    ) => holds(*side, *phase),
                    (_, DifferenceSubject::Line(of)) => self.in_phase(pair, of, |p| &p.1),
                    (_, DifferenceSubject::Step(of)) => self.in_phase(pair, of, |p| &p.2),
                    _ => false,
                }
            }
        }
    }

    /// Whether an aligned line or step is in a phase on either side.
    fn in_phase(&self, phase: Pair, item: Pair, items: fn(&PhaseOrder) -> &Vec<ItemId>) -> bool {
        let on = |order: &Order, phase: Option<ItemId>, item: Option<ItemId>| {
            let (Some(phase), Some(item)) = (phase, item) else {
                return false;
            };
            let found = order.0.iter().find(|p| p.0 == phase);
            found.is_some_and(|p| items(p).contains(&item))
        };
        on(&self.order.left, phase.left, item.left)
            || on(&self.order.right, phase.right, item.right)
    }

    /// The left variant with the chosen differences carried across.
    ///
    /// With every difference chosen the result has exactly the content of the
    /// right. What is new keeps its id of the right if `left` has no such id and
    /// `keep_ids` says so (both are of one file), else it takes ids from `next_id`.
    pub fn apply(
        &self,
        left: &Variant,
        chosen: impl Fn(&Difference) -> bool,
        keep_ids: bool,
        next_id: u64,
    ) -> Variant {
        let chosen: Vec<&Difference> = self.differences.iter().filter(|d| chosen(d)).collect();
        Work::new(self, left, keep_ids, next_id).carry(left, &chosen)
    }
}

/// Carries the differences of a scope from the right to the left.
pub fn carry(
    left: Compared<'_>,
    right: Compared<'_>,
    comparison: &Comparison,
    scope: CarryScope<'_>,
) -> Carried {
    let same_file = std::ptr::eq(left.formula, right.formula);
    let within = |d: &Difference| comparison.within(d, scope);
    let variant = comparison.apply(left.variant, within, same_file, left.formula.next_id);
    let mut materials: BTreeMap<_, Arc<Material>> = BTreeMap::new();
    for difference in comparison.differences.iter().filter(|d| within(d)) {
        if let Difference::Material(data) = difference {
            materials.insert(data.right.id.clone(), Arc::clone(&data.right));
        }
    }
    for (_, line) in variant.lines() {
        if left.formula.material(&line.material).is_none()
            && let Some(material) = right.formula.material(&line.material)
        {
            materials.insert(material.id.clone(), Arc::clone(material));
        }
    }
    Carried {
        variant,
        materials: materials.into_values().collect(),
    }
}

/// A line or step, where it goes.
struct Item<T> {
    what: T,
    /// Its id on the right, if it has a twin there.
    right: Option<ItemId>,
    /// Id of its phase in the result.
    phase: ItemId,
    /// Its place follows the right.
    by_right: bool,
}

/// The carrying across while it is going on.
struct Work<'c> {
    comparison: &'c Comparison,
    /// Ids of the result for ids of the right.
    phases: HashMap<ItemId, ItemId>,
    lines: HashMap<ItemId, ItemId>,
    steps: HashMap<ItemId, ItemId>,
    /// Ids in use on the left.
    taken: Vec<ItemId>,
    keep_ids: bool,
    next_id: u64,
}

impl<'c> Work<'c> {
    fn new(comparison: &'c Comparison, left: &Variant, keep_ids: bool, next_id: u64) -> Self {
        let twins = |pairs: &mut dyn Iterator<Item = Pair>| {
            pairs
                .filter_map(|p| Some((p.right?, p.left?)))
                .collect::<HashMap<_, _>>()
        };
        let taken: Vec<ItemId> = Order::of(left).ids().collect();
        // New ids must be free on both sides, because ids of the right may be kept.
        let ids = taken.iter().copied().chain(comparison.order.right.ids());
        let next_id = ids.fold(next_id, |next, id| next.max(id.0 + 1));
        Self {
            comparison,
            phases: twins(&mut comparison.phases.iter().copied()),
            lines: twins(&mut comparison.rows.iter().map(|r| Both::new(r.left, r.right))),
            steps: twins(&mut comparison.steps.iter().copied()),
            taken,
            keep_ids,
            next_id,
        }
    }

    /// An id for something new that has an id on the right.
    fn new_id(&mut self, right: ItemId) -> ItemId {
        let id = if self.keep_ids && !self.taken.contains(&right) {
            right
        } else {
            self.next_id += 1;
            ItemId(self.next_id - 1)
        };
        self.taken.push(id);
        id
    }

    fn carry(mut self, left: &Variant, chosen: &[&Difference]) -> Variant {
        let mut variant = left.clone();
        let mut heads: HashMap<ItemId, PhaseHead> = HashMap::new();
        let mut phases_by_right: Vec<ItemId> = Vec::new();
        let mut phases_gone: Vec<ItemId> = Vec::new();
        // Phases of the right that come over, because they or something in them is chosen.
        let right_heads: HashMap<ItemId, &PhaseHead> = self
            .comparison
            .differences
            .iter()
            .filter_map(|d| match d {
                Difference::PhaseOnly {
                    side: Side::Right,
                    id,
                    head,
                } => Some((*id, head)),
                _ => None,
            })
            .collect();
        for difference in chosen {
            match difference {
                Difference::Product(both) => variant.product = both.right.clone(),
                Difference::TargetPh(both) => variant.target_ph = both.right,
                Difference::Batch(both) => variant.batch = both.right,
                Difference::Measured(both) => variant.measured = both.right.clone(),
                Difference::Label(both) => variant.label = Arc::clone(&both.right),
                Difference::Specification(both) => {
                    variant.specification = Arc::clone(&both.right);
                }
                Difference::PhaseOnly {
                    side: Side::Left,
                    id,
                    ..
                } => phases_gone.push(*id),
                Difference::PhaseOnly {
                    side: Side::Right,
                    id,
                    ..
                }
                | Difference::LineOnly {
                    side: Side::Right,
                    phase: id,
                    ..
                }
                | Difference::StepOnly {
                    side: Side::Right,
                    phase: id,
                    ..
                } => self.bring_phase(*id, &right_heads, &mut heads, &mut phases_by_right),
                Difference::LinePlace { phase, .. } | Difference::StepPlace { phase, .. } => {
                    self.bring_phase(phase.right, &right_heads, &mut heads, &mut phases_by_right);
                }
                Difference::PhaseHead { ids, head } => {
                    heads.insert(ids.left, head.right.clone());
                }
                Difference::PhaseOrder { ids } => phases_by_right.push(ids.left),
                _ => {}
            }
        }

        let lines = self.lines(left, chosen);
        let steps = self.steps(left, chosen);
        let used = |phase: ItemId| {
            lines.iter().any(|l| l.phase == phase) || steps.iter().any(|s| s.phase == phase)
        };
        let stays: Vec<ItemId> = left
            .phases
            .iter()
            .map(|p| p.id)
            // A phase is not removed while something is left in it.
            .filter(|id| !phases_by_right.contains(id))
            .filter(|id| !phases_gone.contains(id) || used(*id))
            .collect();
        let right_order: Vec<ItemId> = self.comparison.order.right.0.iter().map(|p| p.0).collect();
        let order = placed(stays, &phases_by_right, &right_order, &self.phases);

        variant.phases = order
            .into_iter()
            .map(|id| self.phase(id, left, heads.remove(&id), &lines, &steps))
            .collect();
        if let Some(filler) = chosen.iter().find_map(|d| match d {
            Difference::Filler(both) => Some(both.right),
            _ => None,
        }) {
            match filler {
                None => variant.filler = None,
                Some(right) => {
                    let id = self.lines.get(&right).copied();
                    if id.is_some_and(|id| variant.line(id).is_some()) {
                        variant.filler = id;
                    }
                }
            }
        }
        variant.filler = variant.filler.filter(|&f| variant.line(f).is_some());
        variant
    }

    fn bring_phase(
        &mut self,
        right: ItemId,
        right_heads: &HashMap<ItemId, &PhaseHead>,
        heads: &mut HashMap<ItemId, PhaseHead>,
        by_right: &mut Vec<ItemId>,
    ) {
        if self.phases.contains_key(&right) {
            return;
        }
        let Some(head) = right_heads.get(&right) else {
            return;
        };
        let id = self.new_id(right);
        self.phases.insert(right, id);
        heads.insert(id, (*head).clone());
        by_right.push(id);
    }

    fn lines(&mut self, left: &Variant, chosen: &[&Difference]) -> Vec<Item<Line>> {
        let right_of: HashMap<ItemId, ItemId> = self.lines.iter().map(|(r, l)| (*l, *r)).collect();
        let mut items: Vec<Item<Line>> = left
            .lines()
            .map(|(phase, line)| Item {
                what: line.clone(),
                right: right_of.get(&line.id).copied(),
                phase: phase.id,
                by_right: false,
            })
            .collect();
        let at: HashMap<ItemId, usize> = items
            .iter()
            .enumerate()
            .map(|(i, item)| (item.what.id, i))
            .collect();
        let mut gone: Vec<ItemId> = Vec::new();
        for difference in chosen {
            let of = |ids: &Both<ItemId>| at.get(&ids.left).copied();
            match difference {
                Difference::LineOnly {
                    side: Side::Left,
                    line,
                    ..
                } => gone.push(line.id),
                Difference::LineOnly {
                    side: Side::Right,
                    phase,
                    line,
                    ..
                } => {
                    let id = self.new_id(line.id);
                    self.lines.insert(line.id, id);
                    items.push(Item {
                        what: Line { id, ..line.clone() },
                        right: Some(line.id),
                        phase: self.phases.get(phase).copied().unwrap_or(*phase),
                        by_right: true,
                    });
                }
                Difference::LineMaterial { ids, material, .. } => {
                    if let Some(i) = of(ids) {
                        items[i].what.material = material.right.clone();
                    }
                }
                Difference::LinePercent { ids, percent } => {
                    if let Some(i) = of(ids) {
                        items[i].what.percent = percent.right;
                    }
                }
                Difference::LinePlace { ids, phase } => {
                    if let Some(i) = of(ids) {
                        items[i].phase =
                            self.phases.get(&phase.right).copied().unwrap_or(phase.left);
                        items[i].by_right = true;
                    }
                }
                Difference::LineWhy { ids, why } => {
                    if let Some(i) = of(ids) {
                        items[i].what.why = why.right.clone();
                    }
                }
                Difference::LineHeld { ids, held } => {
                    if let Some(i) = of(ids) {
                        items[i].what.held = held.right;
                    }
                }
                Difference::LinePurpose { ids, purpose } => {
                    if let Some(i) = of(ids) {
                        items[i].what.purpose = purpose.right;
                    }
                }
                Difference::LineRange { ids, range } => {
                    if let Some(i) = of(ids) {
                        (items[i].what.min, items[i].what.max) = range.right;
                    }
                }
                _ => {}
            }
        }
        items.retain(|item| !gone.contains(&item.what.id));
        items
    }

    fn steps(&mut self, left: &Variant, chosen: &[&Difference]) -> Vec<Item<Step>> {
        let right_of: HashMap<ItemId, ItemId> = self.steps.iter().map(|(r, l)| (*l, *r)).collect();
        let mut items: Vec<Item<Step>> = Vec::new();
        for phase in &left.phases {
            items.extend(phase.steps.iter().map(|step| Item {
                what: step.clone(),
                right: right_of.get(&step.id).copied(),
                phase: phase.id,
                by_right: false,
            }));
        }
        let at: HashMap<ItemId, usize> = items
            .iter()
            .enumerate()
            .map(|(i, item)| (item.what.id, i))
            .collect();
        let mut gone: Vec<ItemId> = Vec::new();
        for difference in chosen {
            match difference {
                Difference::StepOnly {
                    side: Side::Left,
                    step,
                    ..
                } => gone.push(step.id),
                Difference::StepOnly {
                    side: Side::Right,
                    phase,
                    step,
                } => {
                    let id = self.new_id(step.id);
                    self.steps.insert(step.id, id);
                    items.push(Item {
                        what: Step { id, ..step.clone() },
                        right: Some(step.id),
                        phase: self.phases.get(phase).copied().unwrap_or(*phase),
                        by_right: true,
                    });
                }
                Difference::StepContent { ids, step } => {
                    if let Some(&i) = at.get(&ids.left) {
                        items[i].what = Step {
                            id: ids.left,
                            ..step.right.clone()
                        };
                    }
                }
                Difference::StepPlace { ids, phase } => {
                    if let Some(&i) = at.get(&ids.left) {
                        items[i].phase =
                            self.phases.get(&phase.right).copied().unwrap_or(phase.left);
                        items[i].by_right = true;
                    }
                }
                _ => {}
            }
        }
        items.retain(|item| !gone.contains(&item.what.id));
        items
    }

    /// A phase of the result; unchanged ones are shared with the left.
    fn phase(
        &self,
        id: ItemId,
        left: &Variant,
        head: Option<PhaseHead>,
        lines: &[Item<Line>],
        steps: &[Item<Step>],
    ) -> Arc<Phase> {
        let right = self.phases.iter().find(|(_, l)| **l == id).map(|(r, _)| *r);
        let order = right.and_then(|r| self.comparison.order.right.0.iter().find(|p| p.0 == r));
        let (no_lines, no_steps) = (Vec::new(), Vec::new());
        let (line_order, step_order) = order.map_or((&no_lines, &no_steps), |p| (&p.1, &p.2));
        let old = left.phase(id);
        let head = head.or_else(|| old.map(|p| super::head(p)));
        let PhaseHead {
            letter,
            kind,
            purpose,
            temperature,
        } = head.unwrap_or_else(|| PhaseHead {
            letter: "".into(),
            kind: crate::material::PhaseKind::Other,
            purpose: "".into(),
            temperature: None,
        });
        let phase = Phase {
            id,
            letter,
            kind,
            purpose,
            temperature,
            lines: in_phase(id, lines, line_order, |l| l.id, &self.lines),
            steps: in_phase(id, steps, step_order, |s| s.id, &self.steps),
        };
        match old {
            Some(old) if **old == phase => Arc::clone(old),
            _ => Arc::new(phase),
        }
    }
}

/// The items of a phase in their order.
fn in_phase<T: Clone>(
    phase: ItemId,
    items: &[Item<T>],
    right_order: &[ItemId],
    id: impl Fn(&T) -> ItemId,
    twins: &HashMap<ItemId, ItemId>,
) -> Vec<T> {
    let here = || items.iter().filter(|item| item.phase == phase);
    let stays = here()
        .filter(|i| !i.by_right)
        .map(|i| id(&i.what))
        .collect();
    let by_right: Vec<ItemId> = here().filter(|i| i.by_right).map(|i| id(&i.what)).collect();
    debug_assert!(here().all(|i| !i.by_right || i.right.is_some()));
    placed(stays, &by_right, right_order, twins)
        .into_iter()
        .filter_map(|wanted| here().find(|i| id(&i.what) == wanted))
        .map(|i| i.what.clone())
        .collect()
}

/// Puts ids whose place follows the right among those that stay in the order of the
/// left: each after the nearest that stands before it on the right and is there.
fn placed(
    stays: Vec<ItemId>,
    by_right: &[ItemId],
    right_order: &[ItemId],
    twins: &HashMap<ItemId, ItemId>,
) -> Vec<ItemId> {
    let mut order = stays;
    if by_right.is_empty() {
        return order;
    }
    let mapped: Vec<Option<ItemId>> = right_order.iter().map(|r| twins.get(r).copied()).collect();
    for (at, id) in mapped.iter().enumerate() {
        let Some(id) = id.filter(|id| by_right.contains(id)) else {
            continue;
        };
        let before = mapped[..at].iter().rev().flatten();
        let place = before
            .into_iter()
            .find_map(|b| order.iter().position(|o| o == b))
            .map_or(0, |p| p + 1);
        order.insert(place, id);
    }
    order
}

/// A formula with what was carried across put into one of its variants.
///
/// Ids that came over are never given again.
pub fn put(formula: &Formula, carried: &Carried) -> Formula {
    let mut formula = formula.clone();
    for material in &carried.materials {
        formula
            .materials
            .insert(material.id.clone(), Arc::clone(material));
    }
    formula.keep_ids_free(&carried.variant);
    for variant in &mut formula.variants {
        if variant.id == carried.variant.id {
            *variant = Arc::new(carried.variant.clone());
        }
    }
    formula
}
