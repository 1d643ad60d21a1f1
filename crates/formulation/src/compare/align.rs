//! Which phase, line and step of one variant belongs to which of the other.
//!
//! Lines belong together by material, then by a new name of the same material,
//! then by place and role where one material was swapped for another. Ids tell only
//! between relatives: variants of one file, or files that came from one parent.
//! Every rule treats both sides alike, and every choice among several prefers the
//! higher score, then the earlier place, so that the result is symmetric.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hasher as _};
use std::sync::Arc;

use super::apply::Order;
use super::difference::{Both, Difference, Side, same_step};
use super::{AlignedLine, Compared, Comparison, LineRelation, head};
use crate::formula::{ItemId, Line, Phase, Step, Variant};
use crate::material::{Class, Material};

/// A line or step and the phase that holds it.
#[derive(Debug)]
pub(super) struct Position<'a, T> {
    pub phase: ItemId,
    /// Index of the phase.
    phase_at: usize,
    /// Index in the phase.
    at: usize,
    pub item: &'a T,
}

impl<T> Clone for Position<'_, T> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<T> Copy for Position<'_, T> {}

/// Two lines or steps that belong together, or one that is alone.
#[derive(Debug)]
pub(super) struct Match<'a, T> {
    pub left: Option<Position<'a, T>>,
    pub right: Option<Position<'a, T>>,
    pub relation: LineRelation,
    /// In another phase, or out of the common order within the phase.
    pub moved: bool,
}

/// Two phases that belong together, or one that is alone.
#[derive(Debug)]
pub(super) struct PhaseMatch<'a> {
    pub left: Option<&'a Phase>,
    pub right: Option<&'a Phase>,
    /// Out of the common order.
    pub moved: bool,
}

/// Two variants aligned.
pub(super) struct Aligned<'a> {
    pub phases: Vec<PhaseMatch<'a>>,
    pub lines: Vec<Match<'a, Line>>,
    pub steps: Vec<Match<'a, Step>>,
}

impl Aligned<'_> {
    /// Whether a line of the left is aligned with a line of the right.
    pub(super) fn lines_paired(&self, left: ItemId, right: ItemId) -> bool {
        self.lines.iter().any(|m| {
            m.left.is_some_and(|l| l.item.id == left) && m.right.is_some_and(|r| r.item.id == right)
        })
    }

    pub(super) fn into_comparison(
        self,
        differences: Vec<Difference>,
        order: Both<Order>,
    ) -> Comparison {
        Comparison {
            phases: self
                .phases
                .iter()
                .map(|m| Both::new(m.left.map(|p| p.id), m.right.map(|p| p.id)))
                .collect(),
            rows: self
                .lines
                .iter()
                .map(|m| AlignedLine {
                    left: m.left.map(|p| p.item.id),
                    right: m.right.map(|p| p.item.id),
                    relation: m.relation,
                })
                .collect(),
            steps: self
                .steps
                .iter()
                .map(|m| Both::new(m.left.map(|p| p.item.id), m.right.map(|p| p.item.id)))
                .collect(),
            differences,
            order,
        }
    }
}

/// Aligns two variants.
pub(super) fn align<'a>(left: Compared<'a>, right: Compared<'a>) -> Aligned<'a> {
    let (a, b) = (
        places(left.variant, |p| &p.lines),
        places(right.variant, |p| &p.lines),
    );
    if identical(left.variant, right.variant) {
        return in_step(left.variant, right.variant);
    }
    let kin = std::ptr::eq(left.formula, right.formula) || are_kin(&a, &b);
    let by_material = group(&a, &b);
    let phase_of = align_phases(left.variant, right.variant, &a, &b, &by_material, kin);
    let mut aligner = Lines {
        left,
        right,
        a: &a,
        b: &b,
        phase_of: &phase_of,
        kin,
        of_a: vec![None; a.len()],
        of_b: vec![None; b.len()],
    };
    aligner.same_material(&by_material);
    aligner.renamed();
    aligner.swapped();
    let (of_a, of_b) = (aligner.of_a, aligner.of_b);
    let lines = in_order(
        (&a, &of_a),
        (&b, &of_b),
        &phase_of,
        |line| line.percent.units(),
        |line| hash(&(&line.material, line.id, &line.why, line.held)),
    );
    let (c, d) = (
        places(left.variant, |p| &p.steps),
        places(right.variant, |p| &p.steps),
    );
    let (of_c, of_d) = align_steps(&c, &d, &phase_of, kin);
    let steps = in_order(
        (&c, &of_c),
        (&d, &of_d),
        &phase_of,
        |_| 0,
        |step| hash(&(&step.text, step.id, step.minutes, &step.tool, &step.check)),
    );
    Aligned {
        phases: order_phases(left.variant, right.variant, &phase_of),
        lines,
        steps,
    }
}

/// Whether two variants have the same phases, lines and steps in the same order.
fn identical(a: &Variant, b: &Variant) -> bool {
    let same_line = |l: &Line, m: &Line| {
        Line {
            id: m.id,
            ..l.clone()
        } == *m
    };
    let same_phase = |p: &Arc<Phase>, q: &Arc<Phase>| {
        Arc::ptr_eq(p, q)
            || head(p) == head(q)
                && p.lines.len() == q.lines.len()
                && p.steps.len() == q.steps.len()
                && p.lines.iter().zip(&q.lines).all(|(l, m)| same_line(l, m))
                && p.steps.iter().zip(&q.steps).all(|(s, t)| same_step(s, t))
    };
    a.phases.len() == b.phases.len()
        && a.phases
            .iter()
            .zip(&b.phases)
            .all(|(p, q)| same_phase(p, q))
}

/// The alignment of identical variants: first with first, and so on.
fn in_step<'a>(a: &'a Variant, b: &'a Variant) -> Aligned<'a> {
    fn matches<'a, T>(
        a: &'a Variant,
        b: &'a Variant,
        items: fn(&Phase) -> &Vec<T>,
    ) -> Vec<Match<'a, T>> {
        let pairs = places(a, items).into_iter().zip(places(b, items));
        pairs
            .map(|(left, right)| Match {
                left: Some(left),
                right: Some(right),
                relation: LineRelation::Same,
                moved: false,
            })
            .collect()
    }
    let phases = a.phases.iter().zip(&b.phases);
    Aligned {
        phases: phases
            .map(|(p, q)| PhaseMatch {
                left: Some(p),
                right: Some(q),
                moved: false,
            })
            .collect(),
        lines: matches(a, b, |p| &p.lines),
        steps: matches(a, b, |p| &p.steps),
    }
}

fn places<T>(variant: &Variant, items: impl Fn(&Phase) -> &Vec<T>) -> Vec<Position<'_, T>> {
    let mut out = Vec::new();
    for (phase_at, phase) in variant.phases.iter().enumerate() {
        out.extend(items(phase).iter().enumerate().map(|(at, item)| Position {
            phase: phase.id,
            phase_at,
            at,
            item,
        }));
    }
    out
}

fn hash(value: &impl std::hash::Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    // Sums of these must not overflow.
    hasher.finish() >> 16
}

/// Tells phases apart that weigh the same and share letter or id.
fn phase_mark(phase: &Phase) -> u64 {
    let (first, last) = (phase.lines.first(), phase.lines.last());
    let lines = [first, last].map(|line| line.map(|l| (&l.material, l.id)));
    let steps = phase.steps.iter().map(|s| (s.id, &s.text));
    let steps: Vec<_> = steps.collect();
    hash(&(&phase.letter, phase.id, &phase.purpose, lines, steps))
}

/// Whether ids tell: at least half of the ids on both sides stand for the same material.
fn are_kin(a: &[Position<'_, Line>], b: &[Position<'_, Line>]) -> bool {
    let ids: HashMap<ItemId, &Line> = a.iter().map(|p| (p.item.id, p.item)).collect();
    let shared = b
        .iter()
        .filter_map(|p| Some((ids.get(&p.item.id)?, p.item)));
    let (mut all, mut same) = (0, 0);
    for (left, right) in shared {
        all += 1;
        same += usize::from(left.material == right.material);
    }
    same > 0 && same * 2 >= all
}

/// Lines of one material: indices on the left and on the right.
type Group = (Vec<usize>, Vec<usize>);

/// Lines by material, in the order in which the materials come first on the left,
/// then on the right.
fn group<'a>(a: &[Position<'a, Line>], b: &[Position<'a, Line>]) -> Vec<Group> {
    let mut by_name: HashMap<&'a str, usize> = HashMap::with_capacity(a.len() + b.len());
    let mut groups: Vec<Group> = Vec::with_capacity(a.len());
    let both = a.iter().map(|p| (Side::Left, p)).enumerate();
    let both = both.chain(b.iter().map(|p| (Side::Right, p)).enumerate());
    for (i, (side, line)) in both {
        let place = *by_name
            .entry(line.item.material.as_str())
            .or_insert_with(|| {
                groups.push(Group::default());
                groups.len() - 1
            });
        match side {
            Side::Left => groups[place].0.push(i),
            Side::Right => groups[place].1.push(i),
        }
    }
    groups
}

/// Pairs of indices by falling score; pairs that share an index and score alike
/// come by place. A choice that treats both sides alike.
fn choose(mut scored: Vec<(i32, usize, usize)>, mut take: impl FnMut(usize, usize)) {
    scored.sort_by_key(|&(score, i, j)| (-score, i + j, i.abs_diff(j), i.min(j)));
    let end = scored
        .iter()
        .map(|&(_, i, j)| i.max(j) + 1)
        .max()
        .unwrap_or(0);
    let mut used = vec![(false, false); end];
    for (_, i, j) in scored {
        if !used[i].0 && !used[j].1 {
            used[i].0 = true;
            used[j].1 = true;
            take(i, j);
        }
    }
}

/// The aligned phases: for each phase of the left its twin, and the reverse.
struct PhaseTwins {
    of_a: Vec<Option<usize>>,
    of_b: Vec<Option<usize>>,
}

impl PhaseTwins {
    fn paired(&self, a: usize, b: usize) -> bool {
        self.of_a.get(a).copied().flatten() == Some(b)
    }
}

fn align_phases(
    left: &Variant,
    right: &Variant,
    a: &[Position<'_, Line>],
    b: &[Position<'_, Line>],
    groups: &[Group],
    kin: bool,
) -> PhaseTwins {
    let (rows, columns) = (left.phases.len(), right.phases.len());
    let mut shared = vec![0_i32; rows * columns];
    for (of_a, of_b) in groups {
        for &i in of_a {
            for &j in of_b {
                shared[a[i].phase_at * columns + b[j].phase_at] += 1;
            }
        }
    }
    let mut scored = Vec::new();
    for (i, p) in left.phases.iter().enumerate() {
        for (j, q) in right.phases.iter().enumerate() {
            let mut score = 10 * shared[i * columns + j];
            score += if kin && p.id == q.id { 1000 } else { 0 };
            score += if p.letter == q.letter { 8 } else { 0 };
            score += if p.kind == q.kind { 5 } else { 0 };
            score += if p.purpose == q.purpose && !p.purpose.is_empty() {
                5
            } else {
                0
            };
            if score > 0 {
                scored.push((score, i, j));
            }
        }
    }
    let mut twins = PhaseTwins {
        of_a: vec![None; rows],
        of_b: vec![None; columns],
    };
    choose(scored, |i, j| {
        twins.of_a[i] = Some(j);
        twins.of_b[j] = Some(i);
    });
    twins
}

/// The alignment of lines while it is being made.
struct Lines<'x, 'a> {
    left: Compared<'a>,
    right: Compared<'a>,
    a: &'x [Position<'a, Line>],
    b: &'x [Position<'a, Line>],
    phase_of: &'x PhaseTwins,
    kin: bool,
    of_a: Twins,
    of_b: Twins,
}

/// Mark of a line that is a further part of a split material: it has no twin.
const NO_TWIN: usize = usize::MAX;

impl Lines<'_, '_> {
    fn pair(&mut self, i: usize, j: usize, relation: LineRelation) {
        self.of_a[i] = Some((j, relation));
        self.of_b[j] = Some((i, relation));
    }

    fn same_place(&self, i: usize, j: usize) -> bool {
        self.phase_of.paired(self.a[i].phase_at, self.b[j].phase_at)
    }

    fn same_id(&self, i: usize, j: usize) -> bool {
        self.kin && self.a[i].item.id == self.b[j].item.id
    }

    fn same_material(&mut self, groups: &[Group]) {
        for (of_a, of_b) in groups {
            if let ([i], [j]) = (of_a.as_slice(), of_b.as_slice()) {
                self.pair(*i, *j, LineRelation::Same);
                continue;
            }
            let mut scored = Vec::new();
            for &i in of_a {
                for &j in of_b {
                    let same_percent = self.a[i].item.percent == self.b[j].item.percent;
                    let score = 8 * i32::from(self.same_id(i, j))
                        + 4 * i32::from(self.same_place(i, j))
                        + 2 * i32::from(same_percent);
                    scored.push((score, i, j));
                }
            }
            choose(scored, |i, j| self.pair(i, j, LineRelation::Same));
            if !of_a.is_empty() && !of_b.is_empty() {
                for &i in of_a {
                    self.of_a[i].get_or_insert((NO_TWIN, LineRelation::Split));
                }
                for &j in of_b {
                    self.of_b[j].get_or_insert((NO_TWIN, LineRelation::Split));
                }
            }
        }
    }

    fn open(of: &Twins) -> Vec<usize> {
        (0..of.len()).filter(|&i| of[i].is_none()).collect()
    }

    /// Pairs lines whose materials are one material under two names or ids.
    fn renamed(&mut self) {
        let (open_a, open_b) = (Self::open(&self.of_a), Self::open(&self.of_b));
        let mut scored = Vec::new();
        for &i in &open_a {
            let Some(m) = self.left.material(self.a[i].item) else {
                continue;
            };
            for &j in &open_b {
                let Some(n) = self.right.material(self.b[j].item) else {
                    continue;
                };
                if is_renamed(m, n) {
                    let score = 8 * i32::from(self.same_id(i, j))
                        + 4 * i32::from(self.same_place(i, j))
                        + i32::from(self.a[i].item.percent == self.b[j].item.percent);
                    scored.push((score, i, j));
                }
            }
        }
        choose(scored, |i, j| self.pair(i, j, LineRelation::Renamed));
    }

    /// Pairs lines where one material stands in the place of another.
    fn swapped(&mut self) {
        let (open_a, open_b) = (Self::open(&self.of_a), Self::open(&self.of_b));
        let mut scored = Vec::new();
        for &i in &open_a {
            for &j in &open_b {
                let score = self.swap_score(i, j);
                if score >= LEAST_SWAP {
                    scored.push((score, i, j));
                }
            }
        }
        choose(scored, |i, j| self.pair(i, j, LineRelation::Swapped));
    }

    fn swap_score(&self, i: usize, j: usize) -> i32 {
        if self.same_id(i, j) {
            return 100;
        }
        if !self.same_place(i, j) {
            return 0;
        }
        let (p, q) = (&self.a[i], &self.b[j]);
        let mut score = i32::from(p.item.percent == q.item.percent);
        if self.neighbours(i, j, -1) {
            score += 3;
        }
        if self.neighbours(i, j, 1) {
            score += 3;
        }
        if let (Some(m), Some(n)) = (self.left.material(p.item), self.right.material(q.item)) {
            if !m.roles.is_empty() && m.roles.first() == n.roles.first() {
                score += 7;
            } else if m.roles.iter().any(|r| n.roles.contains(r)) {
                score += 4;
            }
            if m.charge.is_some() && m.charge == n.charge {
                score += 3;
            }
            if main_class(m).is_some() && main_class(m) == main_class(n) {
                score += 4;
            }
        }
        score
    }

    /// Whether the lines before (or after) two lines belong together, or both are
    /// at the end of their phase.
    fn neighbours(&self, i: usize, j: usize, step: isize) -> bool {
        let beside = |of: &[Position<'_, Line>], k: usize| {
            let next = k.checked_add_signed(step)?;
            let there = of.get(next)?;
            (there.phase_at == of[k].phase_at).then_some(next)
        };
        match (beside(self.a, i), beside(self.b, j)) {
            (None, None) => true,
            (Some(i), Some(j)) => self.of_a[i].is_some_and(|(twin, _)| twin == j),
            _ => false,
        }
    }
}

/// The score from which two lines count as swapped: a common first role, or the
/// same place between the same neighbours at the same percentage.
const LEAST_SWAP: i32 = 7;

/// Whether two materials are one under two names or ids.
fn is_renamed(a: &Material, b: &Material) -> bool {
    if a.name.eq_ignore_ascii_case(&b.name) {
        return true;
    }
    !a.constituents.is_empty()
        && a.constituents.len() == b.constituents.len()
        && a.constituents
            .iter()
            .zip(&b.constituents)
            .all(|(c, d)| c.inci.same_as(&d.inci) && c.share == d.share && c.class == d.class)
}

/// The class of the largest constituent that is not water.
fn main_class(material: &Material) -> Option<Class> {
    material
        .constituents
        .iter()
        .filter(|c| c.class != Class::Water)
        .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
        .map(|c| c.class)
}

/// The twin of each item and how they belong together; [`NO_TWIN`] for none.
type Twins = Vec<Option<(usize, LineRelation)>>;

fn align_steps(
    a: &[Position<'_, Step>],
    b: &[Position<'_, Step>],
    phase_of: &PhaseTwins,
    kin: bool,
) -> (Twins, Twins) {
    let mut scored = Vec::new();
    for (i, p) in a.iter().enumerate() {
        for (j, q) in b.iter().enumerate() {
            let same_phase = phase_of.paired(p.phase_at, q.phase_at);
            let same_text = p.item.text == q.item.text && !p.item.text.is_empty();
            let mut score = 0;
            score += if kin && p.item.id == q.item.id { 20 } else { 0 };
            score += if same_step(p.item, q.item) { 12 } else { 0 };
            score += if same_text { 8 } else { 0 };
            if same_phase {
                score += if score > 0 { 4 } else { 0 };
                score += if p.at == q.at { 3 } else { 1 };
            }
            if score > 0 {
                scored.push((score, i, j));
            }
        }
    }
    let (mut of_a, mut of_b) = (vec![None; a.len()], vec![None; b.len()]);
    choose(scored, |i, j| {
        of_a[i] = Some((j, LineRelation::Same));
        of_b[j] = Some((i, LineRelation::Same));
    });
    (of_a, of_b)
}

/// Turns twins into matches: in the order of the left, what is on the right alone
/// after what stands before it there; and tells which are out of order.
fn in_order<'a, T>(
    (a, of_a): (&[Position<'a, T>], &Twins),
    (b, of_b): (&[Position<'a, T>], &Twins),
    phase_of: &PhaseTwins,
    weight: impl Fn(&T) -> i64,
    mark: impl Fn(&T) -> u64,
) -> Vec<Match<'a, T>> {
    let moved = out_of_order(a, of_a, b, phase_of, weight, mark);
    // For each phase of the left: what of the right alone comes at its head.
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); a.len()];
    let mut at_head: Vec<Vec<usize>> = vec![Vec::new(); phase_of.of_a.len()];
    let mut unplaced: Vec<usize> = Vec::new();
    for j in 0..b.len() {
        if of_b[j].is_some_and(|(twin, _)| twin != NO_TWIN) {
            continue;
        }
        // The nearest line before it in its phase that has a twin.
        let before = (0..j)
            .rev()
            .take_while(|&k| b[k].phase_at == b[j].phase_at)
            .find_map(|k| of_b[k].map(|(twin, _)| twin).filter(|&t| t != NO_TWIN));
        match (before, phase_of.of_b[b[j].phase_at]) {
            (Some(i), _) => after[i].push(j),
            (None, Some(phase)) => at_head[phase].push(j),
            (None, None) => unplaced.push(j),
        }
    }
    let lone = |j: usize| Match {
        left: None,
        right: Some(b[j]),
        relation: of_b[j].map_or(LineRelation::Only, |(_, relation)| relation),
        moved: false,
    };
    let mut out = Vec::with_capacity(a.len() + b.len());
    let mut i = 0;
    for (phase, head) in at_head.iter().enumerate() {
        out.extend(head.iter().map(|&j| lone(j)));
        while i < a.len() && a[i].phase_at == phase {
            let twin = of_a[i].filter(|(twin, _)| *twin != NO_TWIN);
            out.push(Match {
                left: Some(a[i]),
                right: twin.map(|(j, _)| b[j]),
                relation: of_a[i].map_or(LineRelation::Only, |(_, relation)| relation),
                moved: moved[i],
            });
            out.extend(after[i].iter().map(|&j| lone(j)));
            i += 1;
        }
    }
    out.extend(unplaced.into_iter().map(lone));
    out
}

/// Which items of the left with a twin are in another phase or out of the common
/// order of their phase. As few as possible are, and of several choices those of
/// least weight.
fn out_of_order<T>(
    a: &[Position<'_, T>],
    of_a: &Twins,
    b: &[Position<'_, T>],
    phase_of: &PhaseTwins,
    weight: impl Fn(&T) -> i64,
    mark: impl Fn(&T) -> u64,
) -> Vec<bool> {
    let mut moved = vec![false; a.len()];
    let mut start = 0;
    while start < a.len() {
        let phase = a[start].phase_at;
        let end = start
            + a[start..]
                .iter()
                .take_while(|p| p.phase_at == phase)
                .count();
        let mut chain = Vec::new();
        for i in start..end {
            let Some((j, _)) = of_a[i].filter(|(j, _)| *j != NO_TWIN) else {
                continue;
            };
            moved[i] = true;
            if phase_of.paired(phase, b[j].phase_at) {
                let weight = weight(a[i].item).saturating_add(weight(b[j].item));
                let mark = mark(a[i].item).saturating_add(mark(b[j].item));
                chain.push((i, b[j].at, weight, mark));
            }
        }
        for i in longest_rising(&chain) {
            moved[i] = false;
        }
        start = end;
    }
    moved
}

/// The items of a longest subsequence that rises in its second number; of several
/// the one of greatest weight, then of the greatest marks (which are symmetric in
/// the two sides and practically never alike).
fn longest_rising(chain: &[(usize, usize, i64, u64)]) -> Vec<usize> {
    if chain.is_sorted_by_key(|item| item.1) {
        return chain.iter().map(|item| item.0).collect();
    }
    type Value = (usize, i64, u64);
    let mut best: Vec<(Value, Option<usize>)> = Vec::with_capacity(chain.len());
    for (k, &(_, at, weight, mark)) in chain.iter().enumerate() {
        let before = (0..k)
            .filter(|&h| chain[h].1 < at)
            .max_by_key(|&h| best[h].0);
        let (count, sum, marks) = before.map_or((0, 0, 0), |h| best[h].0);
        let value = (
            count + 1,
            sum.saturating_add(weight),
            marks.saturating_add(mark),
        );
        best.push((value, before));
    }
    let mut out = Vec::new();
    let mut at = (0..chain.len()).max_by_key(|&k| best[k].0);
    while let Some(k) = at {
        out.push(chain[k].0);
        at = best[k].1;
    }
    out
}

fn order_phases<'a>(
    left: &'a Variant,
    right: &'a Variant,
    twins: &PhaseTwins,
) -> Vec<PhaseMatch<'a>> {
    let chain: Vec<(usize, usize, i64, u64)> = twins
        .of_a
        .iter()
        .enumerate()
        .filter_map(|(i, j)| {
            let (p, q) = (left.phases.get(i)?, right.phases.get((*j)?)?);
            let weight = p.total().units().saturating_add(q.total().units());
            let mark = phase_mark(p).saturating_add(phase_mark(q));
            Some((i, (*j)?, weight, mark))
        })
        .collect();
    let in_place = longest_rising(&chain);
    let mut out: Vec<PhaseMatch<'_>> = left
        .phases
        .iter()
        .enumerate()
        .map(|(i, phase)| PhaseMatch {
            left: Some(phase.as_ref()),
            right: twins.of_a[i].map(|j| right.phases[j].as_ref()),
            moved: twins.of_a[i].is_some() && !in_place.contains(&i),
        })
        .collect();
    for (j, phase) in right.phases.iter().enumerate() {
        if twins.of_b[j].is_some() {
            continue;
        }
        let is = |m: &PhaseMatch<'_>, other: &Arc<Phase>| {
            m.right.is_some_and(|p| std::ptr::eq(p, other.as_ref()))
        };
        let before = (0..j)
            .rev()
            .find_map(|k| out.iter().position(|m| is(m, &right.phases[k])));
        let at = before.map_or(0, |at| at + 1);
        out.insert(
            at,
            PhaseMatch {
                left: None,
                right: Some(phase.as_ref()),
                moved: false,
            },
        );
    }
    out
}
