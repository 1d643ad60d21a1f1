//! What the chart shows, free of pixels: two stacks in percent and the ribbons
//! between them. Stacks begin at the top, as the list of lines does.

use std::collections::BTreeMap;
use std::sync::Arc;

use formulation::amount::measure::{share_shown, sum_shown};
use formulation::composition::{Composition, LineShare};
use formulation::formula::{ItemId, Variant};
use formulation::material::{Charge, Class};
use formulation::quantity::Percent;

use crate::theme::{Fill, Palette, tint};

/// A part of the stack As contained.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Part {
    /// Water added as such.
    WaterAdded,
    /// Water that comes in with materials.
    WaterBroughtIn,
    /// Any class but water.
    Class(Class),
    /// What is not known.
    Unknown,
}

/// Parts below this many percent are shown enlarged, in a strip of their own.
pub const SMALL: f64 = 1.0;

/// With more lines than this, ribbons are drawn by phase instead of by line: they would be
/// thinner than a hairline.
const MOST_LINES: usize = 120;

/// What a line brings into the mix, in percent of the formula; parts of nothing are left out.
pub fn brought_by(line: &LineShare) -> Vec<(Part, f64)> {
    Part::all()
        .map(|part| {
            let share = match part {
                Part::WaterAdded | Part::WaterBroughtIn => {
                    let added = part == Part::WaterAdded;
                    let water = line.classes[Class::Water.index()].as_percent();
                    if line.is_water == added { water } else { 0.0 }
                }
                Part::Class(class) => line.classes[class.index()].as_percent(),
                Part::Unknown => line.unknown.as_percent(),
            };
            (part, share)
        })
        .filter(|(_, share)| *share > 0.0)
        .collect()
}

impl Part {
    /// Whether it is water, added or brought in.
    pub const fn is_water(self) -> bool {
        matches!(self, Self::WaterAdded | Self::WaterBroughtIn)
    }

    /// All parts, from the top of the stack down.
    pub fn all() -> impl Iterator<Item = Self> {
        let classes = Class::ALL
            .into_iter()
            .filter(|&c| c != Class::Water)
            .map(Self::Class);
        [Self::WaterAdded, Self::WaterBroughtIn]
            .into_iter()
            .chain(classes)
            .chain([Self::Unknown])
    }

    /// The words beside it; short, as the stack says what it is about.
    pub const fn label(self) -> &'static str {
        match self {
            Self::WaterAdded => "water added",
            Self::WaterBroughtIn => "water brought in",
            Self::Class(Class::Surfactant(charge)) => match charge {
                Charge::Anionic => "anionic",
                Charge::Amphoteric => "amphoteric",
                Charge::NonIonic => "non-ionic",
                Charge::Cationic => "cationic",
            },
            Self::Class(class) => class.label(),
            Self::Unknown => "unknown",
        }
    }

    /// The words that stand alone, for the hover and for assistive programs.
    pub const fn full_label(self) -> &'static str {
        match self {
            Self::Class(class) => class.label(),
            Self::Unknown => "composition unknown",
            _ => self.label(),
        }
    }

    /// How it is filled.
    pub const fn fill(self, palette: &Palette) -> Fill {
        match self {
            Self::WaterAdded => palette.class(Class::Water),
            Self::WaterBroughtIn => palette.water_brought_in(),
            Self::Class(class) => palette.class(class),
            Self::Unknown => palette.unknown(),
        }
    }
}

/// A stretch of a stack, in percent of the formula from the top.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Stretch {
    /// Upper end.
    pub from: f64,
    /// Lower end.
    pub to: f64,
}

impl Stretch {
    /// Its length in percent.
    pub fn size(self) -> f64 {
        self.to - self.from
    }

    /// Its middle.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.from, self.to)
    }
}

/// One phase in the stack As weighed.
#[derive(Clone, Debug)]
pub struct PhaseBlock {
    /// The phase.
    pub phase: ItemId,
    /// The letter.
    pub letter: Arc<str>,
    /// The number of its tint.
    pub tint: usize,
    /// Where it stands.
    pub at: Stretch,
    /// Its lines, in the order of working.
    pub lines: Vec<(ItemId, Stretch)>,
}

/// One part in the stack As contained.
#[derive(Clone, Debug)]
pub struct PartBlock {
    /// What it is.
    pub part: Part,
    /// Where it stands, by typical values.
    pub at: Stretch,
    /// Lowest and highest share in percent, where the materials give a range.
    pub range: Option<(f64, f64)>,
    /// Which lines bring in how much, in percent.
    pub lines: Vec<(ItemId, f64)>,
}

/// What one line brings to one part.
#[derive(Clone, Copy, Debug)]
pub struct Ribbon {
    /// The line.
    pub line: ItemId,
    /// Place of its phase in [`ChartLayout::phases`].
    pub phase: usize,
    /// Place of the part in [`ChartLayout::parts`].
    pub part: usize,
    /// Where it leaves the stack As weighed.
    pub left: Stretch,
    /// Where it meets the stack As contained.
    pub right: Stretch,
}

/// Everything the chart shows.
#[derive(Clone, Debug, Default)]
pub struct ChartLayout {
    /// The stack As weighed, from the top down in working order.
    pub phases: Vec<PhaseBlock>,
    /// The stack As contained, from the top down; parts of nothing are left out.
    pub parts: Vec<PartBlock>,
    /// The ribbons between them, line by line.
    pub ribbons: Vec<Ribbon>,
    /// The ribbons between phases and parts, where there are too many lines to draw each.
    pub merged: Vec<Ribbon>,
    /// Sum of everything shown in percent of the formula.
    pub total: f64,
    /// Whether water is left out on both sides.
    pub dry: bool,
}

impl ChartLayout {
    /// The chart of a variant and what it contains.
    pub fn new(variant: &Variant, composition: &Composition) -> Self {
        Self::shown(variant, composition, false)
    }

    /// The chart with or without water; without it each line stands for what else it brings.
    pub fn shown(variant: &Variant, composition: &Composition, dry: bool) -> Self {
        // What each line brings to each part, in percent.
        let brought: BTreeMap<ItemId, Vec<(Part, f64)>> = composition
            .lines
            .iter()
            .map(|line| {
                let mut parts = brought_by(line);
                parts.retain(|(part, _)| !(dry && part.is_water()));
                (line.line, parts)
            })
            .collect();
        let mut layout = Self {
            dry,
            ..Self::default()
        };
        let mut lines_of: Vec<(Part, Vec<(ItemId, f64)>)> =
            Part::all().map(|part| (part, Vec::new())).collect();
        for line in &composition.lines {
            for (part, share) in brought.get(&line.line).into_iter().flatten() {
                if let Some((_, lines)) = lines_of.iter_mut().find(|(p, _)| p == part) {
                    lines.push((line.line, *share));
                }
            }
        }
        let mut depth = 0.0;
        for (part, lines) in lines_of {
            if lines.is_empty() {
                continue;
            }
            let size: f64 = lines.iter().map(|(_, share)| share).sum();
            layout.parts.push(PartBlock {
                part,
                at: Stretch {
                    from: depth,
                    to: depth + size,
                },
                range: range_of(part, composition),
                lines,
            });
            depth += size;
        }
        layout.weigh(variant, &brought);
        if variant.lines().count() > MOST_LINES {
            layout.merge();
        }
        layout
    }

    /// Lays out the stack As weighed and the ribbons.
    fn weigh(&mut self, variant: &Variant, brought: &BTreeMap<ItemId, Vec<(Part, f64)>>) {
        let mut cursors: Vec<f64> = self.parts.iter().map(|p| p.at.from).collect();
        let mut depth = 0.0;
        for (place, phase) in variant.phases.iter().enumerate() {
            let from = depth;
            let mut lines = Vec::new();
            for line in &phase.lines {
                let shares = brought.get(&line.id).map_or(&[][..], Vec::as_slice);
                let size = if self.dry {
                    shares.iter().map(|(_, share)| share).sum()
                } else {
                    line.percent.as_percent()
                };
                lines.push((
                    line.id,
                    Stretch {
                        from: depth,
                        to: depth + size,
                    },
                ));
                let mut left = depth;
                for (part, share) in shares {
                    let Some(part) = self.parts.iter().position(|p| p.part == *part) else {
                        continue;
                    };
                    let Some(right) = cursors.get_mut(part) else {
                        continue;
                    };
                    self.ribbons.push(Ribbon {
                        line: line.id,
                        phase: place,
                        part,
                        left: Stretch {
                            from: left,
                            to: left + share,
                        },
                        right: Stretch {
                            from: *right,
                            to: *right + share,
                        },
                    });
                    *right += share;
                    left += share;
                }
                depth += size;
            }
            self.phases.push(PhaseBlock {
                phase: phase.id,
                letter: phase.letter.clone(),
                tint: tint(&phase.letter, place),
                at: Stretch { from, to: depth },
                lines,
            });
        }
        self.total = depth;
    }

    /// One ribbon from each phase to each part.
    fn merge(&mut self) {
        let mut sums: BTreeMap<(usize, usize), Ribbon> = BTreeMap::new();
        for ribbon in &self.ribbons {
            let sum = sums.entry((ribbon.phase, ribbon.part));
            // Lines of a phase follow each other in every part.
            sum.and_modify(|sum| sum.right.to = ribbon.right.to)
                .or_insert(*ribbon);
        }
        let mut left: Vec<f64> = self.phases.iter().map(|phase| phase.at.from).collect();
        for ((phase, _), mut ribbon) in sums {
            let Some(left) = left.get_mut(phase) else {
                continue;
            };
            ribbon.left = Stretch {
                from: *left,
                to: *left + ribbon.right.size(),
            };
            *left = ribbon.left.to;
            self.merged.push(ribbon);
        }
    }

    /// The number of the tint of the phase that a ribbon comes from.
    pub fn tint_of(&self, ribbon: &Ribbon) -> usize {
        self.phases
            .get(ribbon.phase)
            .map_or(ribbon.phase, |phase| phase.tint)
    }

    /// Parts too small to be seen in the stack, by place; none if that would be all.
    pub fn small(&self) -> Vec<usize> {
        let small: Vec<usize> = (0..self.parts.len())
            .filter(|&i| self.parts[i].at.size() < SMALL)
            .collect();
        if small.len() == self.parts.len() {
            return Vec::new();
        }
        small
    }

    /// The sum of a phase in figures: exact, as over its lines, where water is not left out.
    pub fn phase_shown(&self, phase: &PhaseBlock) -> String {
        let size = phase.at.size();
        match Percent::nearest(size).filter(|_| !self.dry) {
            Some(sum) => sum_shown(sum),
            None => share_shown(size),
        }
    }

    /// The percentage at the bottom of a chart that shows this alone.
    pub fn full_height(&self) -> f64 {
        if self.dry {
            self.total
        } else {
            self.total.max(100.0)
        }
    }
}

fn range_of(part: Part, composition: &Composition) -> Option<(f64, f64)> {
    let spread = match part {
        Part::WaterBroughtIn => composition.water_from_materials,
        Part::Class(class) => composition.class(class),
        Part::WaterAdded | Part::Unknown => return None,
    };
    let (low, high) = (spread.low.as_percent(), spread.high.as_percent());
    (high - low > 1e-9).then_some((low, high))
}

/// Where labels of a height stand so that none covers another: each as near as may
/// be to where it is wanted, in the same order, within `top` to `bottom`. `wanted`
/// are middles, sorted from the top. Labels for which there is no room are left out,
/// the ones of least `weight` first; their place is `None`.
pub fn spread_labels(
    wanted: &[(f32, f64)],
    height: f32,
    top: f32,
    bottom: f32,
) -> Vec<Option<f32>> {
    let room = ((bottom - top) / height).floor().max(0.0) as usize;
    let mut by_weight: Vec<usize> = (0..wanted.len()).collect();
    by_weight.sort_by(|&a, &b| wanted[b].1.total_cmp(&wanted[a].1));
    let mut shown: Vec<usize> = by_weight.into_iter().take(room).collect();
    shown.sort_unstable();
    let mut places: Vec<f32> = shown
        .iter()
        .map(|&i| wanted[i].0.clamp(top + height / 2.0, bottom - height / 2.0))
        .collect();
    for i in 1..places.len() {
        places[i] = places[i].max(places[i - 1] + height);
    }
    let mut floor = bottom + height / 2.0;
    for place in places.iter_mut().rev() {
        *place = place.min(floor - height);
        floor = *place;
    }
    let mut all = vec![None; wanted.len()];
    for (&i, place) in shown.iter().zip(places) {
        all[i] = Some(place);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use formulation::evaluation::{Context, evaluate};
    use formulation::formula::Date;

    #[test]
    fn both_stacks_and_the_ribbons_agree() {
        let formula = crate::examples::FIRST.read().unwrap();
        let context = Context::new(Date::constant(2026, 3, 2));
        let e = evaluate(&formula, formula.active(), &context);
        let chart = ChartLayout::new(formula.active(), &e.composition);
        let sum = |all: &mut dyn Iterator<Item = f64>| all.sum::<f64>();
        let weighed = sum(&mut chart.phases.iter().map(|p| p.at.size()));
        let contained = sum(&mut chart.parts.iter().map(|p| p.at.size()));
        let ribbons = sum(&mut chart.ribbons.iter().map(|r| r.left.size()));
        for total in [weighed, contained, ribbons, chart.total] {
            assert!((total - 100.0).abs() < 1e-9, "{total}");
        }
        for (i, part) in chart.parts.iter().enumerate() {
            let mut at = part.at.from;
            for r in chart.ribbons.iter().filter(|r| r.part == i) {
                assert!((r.right.from - at).abs() < 1e-9);
                at = r.right.to;
            }
            assert!((at - part.at.to).abs() < 1e-9);
        }
    }

    #[test]
    fn without_water_both_stacks_agree_and_nothing_else_changes() {
        let formula = crate::examples::FIRST.read().unwrap();
        let context = Context::new(Date::constant(2026, 3, 2));
        let e = evaluate(&formula, formula.active(), &context);
        let wet = ChartLayout::new(formula.active(), &e.composition);
        let dry = ChartLayout::shown(formula.active(), &e.composition, true);
        let water = e.composition.water().typical.as_percent();
        assert!((wet.total - dry.total - water).abs() < 1e-9);
        let contained: f64 = dry.parts.iter().map(|p| p.at.size()).sum();
        assert!((contained - dry.total).abs() < 1e-9);
        assert_eq!(wet.parts.len(), dry.parts.len() + 2);
        for part in &dry.parts {
            let same = wet.parts.iter().find(|p| p.part == part.part).unwrap();
            assert!((same.at.size() - part.at.size()).abs() < 1e-9);
        }
    }

    #[test]
    fn ribbons_of_many_lines_are_merged_and_keep_their_sums() {
        let formula = crate::examples::FIRST.read().unwrap();
        let context = Context::new(Date::constant(2026, 3, 2));
        let e = evaluate(&formula, formula.active(), &context);
        let mut chart = ChartLayout::new(formula.active(), &e.composition);
        assert!(chart.merged.is_empty());
        chart.merge();
        assert!(chart.merged.len() < chart.ribbons.len());
        for (i, phase) in chart.phases.iter().enumerate() {
            let of = chart.merged.iter().filter(|r| r.phase == i);
            let sum: f64 = of.map(|r| r.left.size()).sum();
            assert!((sum - phase.at.size()).abs() < 1e-9);
        }
        for (i, part) in chart.parts.iter().enumerate() {
            let of = chart.merged.iter().filter(|r| r.part == i);
            let sum: f64 = of.map(|r| r.right.size()).sum();
            assert!((sum - part.at.size()).abs() < 1e-9);
        }
    }

    #[test]
    fn labels_do_not_cover_each_other() {
        let wanted: Vec<(f32, f64)> = [5.0, 6.0, 7.0, 50.0, 99.0, 99.5]
            .into_iter()
            .map(|y| (y, f64::from(y)))
            .collect();
        let places = spread_labels(&wanted, 14.0, 0.0, 100.0);
        let shown: Vec<f32> = places.iter().flatten().copied().collect();
        assert_eq!(shown.len(), 6);
        for pair in shown.windows(2) {
            assert!(pair[1] - pair[0] >= 14.0 - 1e-3, "{shown:?}");
        }
        assert!(shown[0] >= 7.0 && shown[5] <= 93.0 + 1e-3);

        let few = spread_labels(&wanted, 40.0, 0.0, 100.0);
        // Room for two: the weightiest stay.
        assert_eq!(few.iter().filter(|p| p.is_some()).count(), 2);
        assert!(few[4].is_some() && few[5].is_some());
    }
}
