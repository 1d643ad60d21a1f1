//! Random recipes of the built-in materials.

use std::collections::HashSet;
use std::sync::Arc;

use formulation::cas::Cas;
use formulation::inci::Inci;
use formulation::material::{Material, PhaseKind};
use formulation::shelf::built_in;
use formulation::shelf::built_in::plain_names;

use super::axes::{Axis, Dialect};
use super::dice::Dice;

/// A line of a recipe.
#[derive(Clone, Debug)]
pub struct Line {
    pub material: Arc<Material>,
    /// What it is called.
    pub name: String,
    pub inci: String,
    pub cas: Option<Cas>,
    /// In hundredths of a per cent.
    pub share: i64,
    /// Which phase, from 0.
    pub phase: usize,
    /// It takes up the rest where the dialect has a filler.
    pub filler: bool,
}

/// A recipe.
#[derive(Clone, Debug)]
pub struct Recipe {
    pub lines: Vec<Line>,
    /// How many phases.
    pub phases: usize,
}

/// The whole in hundredths of a per cent.
pub const WHOLE: i64 = 10_000;

const SHARES: [i64; 22] = [
    5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300, 400, 500, 600, 800, 1000,
    1250,
];

impl Recipe {
    /// Draws a recipe; its materials are called as the dialect says.
    pub fn draw(seed: u64, dialect: &Dialect) -> Self {
        let mut dice = Dice::new(seed);
        let phases = 1 + dice.below(4);
        let with_water = !dice.chance(5);
        let count = phases.max(2) + dice.below(7);
        let mut recipe = Self {
            lines: Vec::new(),
            phases,
        };
        let shelf: Vec<&Arc<Material>> = built_in().iter().collect();
        let mut used: HashSet<String> = HashSet::new();
        let mut left = WHOLE;
        if with_water {
            let water = shelf
                .iter()
                .find(|m| m.id.as_str() == "water-demineralised");
            recipe
                .lines
                .push(Line::new(water.unwrap(), 0, dialect, &mut Dice::new(seed)));
        }
        // More are drawn than are taken, so that there are three at least.
        for n in 0..count * 4 {
            if n >= count && recipe.lines.len() >= 3 {
                break;
            }
            // Each phase has a line at least.
            let phase = (n * phases / count).min(phases - 1);
            let kind = [
                PhaseKind::Water,
                PhaseKind::Oil,
                PhaseKind::CoolDown,
                PhaseKind::Adjust,
            ][phase];
            let fitting: Vec<&&Arc<Material>> = shelf
                .iter()
                .filter(|m| m.phase == Some(kind) || m.phase.is_none())
                .filter(|m| m.id.as_str() != "water-demineralised")
                .collect();
            let material = fitting[dice.below(fitting.len())];
            let line = Line::new(material, phase, dialect, &mut Dice::new(seed + n as u64));
            // Each can be told from the others by its name and by its INCI names.
            let known = [
                format!("id {}", line.material.id),
                format!("name {}", line.name.to_lowercase()),
                format!("INCI {}", line.inci.to_lowercase()),
            ];
            if known.iter().any(|one| used.contains(one)) {
                continue;
            }
            used.extend(known);
            recipe.lines.push(line);
        }
        // Without water the first takes the rest.
        for line in recipe.lines.iter_mut().skip(1) {
            let share = dice.of(&SHARES).min(left / 3).max(5);
            line.share = share;
            left -= share;
        }
        if let Some(first) = recipe.lines.first_mut() {
            first.share = left;
            first.filler = with_water;
        }
        // Some of the first comes again at the end.
        if dialect.is(Axis::Twice, "twice")
            && let (Some(first), Some(last)) = (recipe.lines.first(), recipe.lines.last())
            && first.share > 1000
            && last.phase > 0
        {
            let again = Line {
                share: 300,
                phase: last.phase,
                filler: false,
                ..first.clone()
            };
            recipe.lines.push(again);
            recipe.lines[0].share -= 300;
        }
        let present: Vec<usize> = recipe.lines.iter().map(|l| l.phase).collect();
        let mut order: Vec<usize> = present.clone();
        order.dedup();
        for line in &mut recipe.lines {
            line.phase = order.iter().position(|p| *p == line.phase).unwrap();
        }
        recipe.phases = order.len();
        recipe
    }

    /// A recipe of the same materials with other amounts.
    pub fn changed(&self, seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let mut other = self.clone();
        let mut left = WHOLE;
        for line in other.lines.iter_mut().skip(1) {
            line.share = dice.of(&SHARES).min(left / 3).max(5);
            left -= line.share;
        }
        if let Some(first) = other.lines.first_mut() {
            first.share = left;
        }
        other
    }

    /// Sum of the lines of a phase, in hundredths of a per cent.
    pub fn of_phase(&self, phase: usize) -> i64 {
        self.lines
            .iter()
            .filter(|l| l.phase == phase)
            .map(|l| l.share)
            .sum()
    }
}

impl Line {
    fn new(material: &Arc<Material>, phase: usize, dialect: &Dialect, dice: &mut Dice) -> Self {
        let everyday = || {
            let language = dialect.of(Axis::Language);
            let fits = |name: &&formulation::file::plain_names::PlainName| {
                name.language.code() == language && name.materials.first() == Some(&material.id)
            };
            let all: Vec<_> = plain_names().iter().filter(fits).collect();
            (!all.is_empty()).then(|| all[all.len() / 2].name.to_string())
        };
        let synonym = |dice: &mut Dice| {
            let all = &material.synonyms;
            (!all.is_empty()).then(|| all[dice.below(all.len())].to_string())
        };
        let name = match dialect.of(Axis::Names) {
            "synonym" => synonym(dice),
            "everyday" => everyday(),
            _ => None,
        };
        let names: Vec<&str> = material.inci_names().map(Inci::spelling).collect();
        let cas = match material.constituents.as_slice() {
            [only] => only.cas,
            _ => None,
        };
        Self {
            material: Arc::clone(material),
            name: name.unwrap_or_else(|| material.name.to_string()),
            inci: names.join(", "),
            cas,
            share: 0,
            phase,
            filler: false,
        }
    }
}
