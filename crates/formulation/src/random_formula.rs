//! Formulas made from a number, for property tests: any content a file can hold,
//! realistic or not, with variants that differ and a history.

use std::sync::Arc;

use jiff::civil::date;

use crate::cas::Cas;
use crate::finding::SetAside;
use crate::formula::{
    BodySite, EarlierState, Formula, ItemId, Kinds, Line, Market, Measured, Phase, Product,
    ProductType, Step, Variant, VariantId,
};
use crate::label_info::{Durability, LabelInfo, NetContents};
use crate::material::{
    Basis, Charge, Class, Constituent, Material, MaterialId, PhaseKind, ProductKind, Role, Source,
};
use crate::purpose::Purpose;
use crate::quantity::{self, MassFraction, Percent, Ph, Spread};
use crate::specification::{Characteristic, Quality, Specification};
use crate::trial::design::random::RandomStream;

/// Throws of which all follow from the seed.
pub struct Dice(RandomStream);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(RandomStream::new(seed))
    }
    pub fn next(&mut self) -> u64 {
        self.0.number()
    }
    pub fn below(&mut self, end: usize) -> usize {
        self.0.below(end.max(1))
    }
    pub fn chance(&mut self, one_in: usize) -> bool {
        self.below(one_in) == 0
    }
    fn of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())]
    }
    fn words(&mut self) -> Arc<str> {
        const WORDS: [&str; 8] = [
            "",
            "stir",
            "until clear",
            "say \"when\"\\",
            "line\nbreak",
            "Öl für die Hände (ml/kg)",
            "// no comment",
            "#1: {a}, [b]",
        ];
        self.of(&WORDS).into()
    }
    fn percent(&mut self) -> Percent {
        let units = match self.below(4) {
            0 => self.below(100_000_001) as i64,
            1 => self.below(100) as i64 * Percent::UNITS,
            2 => self.below(1000) as i64 * Percent::UNITS / 10,
            _ => self.below(20) as i64,
        };
        Percent::from_units(units)
    }
    fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        self.chance(2).then(|| make(self))
    }
    fn celsius(&mut self) -> quantity::Temperature {
        quantity::celsius(self.below(1500) as f64 / 10.0)
    }
}

/// Names of materials; their content is made up and differs by number.
const NAMES: [&str; 10] = [
    "Water",
    "Glycerin",
    "Betaine solution",
    "Glucoside solution",
    "Sodium salt of something",
    "Oat oil",
    "Xanthan gum",
    "Juniper fragrance",
    "Preservative blend",
    "Citric acid 50 %",
];

fn material(dice: &mut Dice, name: &str) -> Arc<Material> {
    let mut material = Material::unknown(MaterialId::from_name(name), name);
    material.source = Source::new(Basis::Typical, "made up for a test");
    material.note = dice.words();
    material.alkalinity = crate::material::Alkalinity::Unknown {
        ph_as_sold: None,
        base_mmol_per_gram: None,
        source: material.source.clone(),
    };
    let mut left = 100.0;
    for i in 0..=dice.below(3) {
        let percent = (dice.below(1000) as f64 / 10.0_f64).min(left);
        left -= percent;
        let share = MassFraction::from_percent(percent);
        material.constituents.push(Constituent {
            inci: format!("{name} part {i}").into(),
            cas: dice.maybe(|d| {
                d.of(&["7732-18-5", "56-81-5", "77-92-9"])
                    .parse::<Cas>()
                    .unwrap()
            }),
            share: Spread {
                low: MassFraction::from_percent((percent / 2.0 * 10.0).floor() / 10.0),
                typical: share,
                high: share,
            },
            class: dice.of(&[Class::Water, Class::Oil, Class::Surfactant(Charge::Anionic)]),
            incidental: None,
            source: None,
        });
    }
    material.roles = dice.maybe(|d| d.of(&Role::ALL)).into_iter().collect();
    material.phase = dice.maybe(|d| d.of(&PhaseKind::ALL));
    Arc::new(material)
}

fn line(dice: &mut Dice, id: u64) -> Line {
    let (a, b) = (dice.percent(), dice.percent());
    let min = dice.maybe(|_| a.min(b));
    Line {
        id: ItemId(id),
        material: MaterialId::from_name(dice.of(&NAMES)),
        percent: dice.percent(),
        why: dice.words(),
        held: dice.chance(4),
        min,
        max: dice.maybe(|_| a.max(b)),
        purpose: dice.maybe(|d| d.of(&Purpose::ALL)),
    }
}

fn step(dice: &mut Dice, id: u64) -> Step {
    Step {
        id: ItemId(id),
        text: dice.words(),
        temperature: dice.maybe(Dice::celsius),
        minutes: dice.maybe(|d| d.below(90) as u32),
        tool: dice.words(),
        check: dice.words(),
    }
}

fn phase(dice: &mut Dice, formula: &mut Formula) -> Phase {
    Phase {
        id: ItemId(formula.take_id()),
        letter: ["A", "B", "C", "D"][dice.below(4)].into(),
        kind: dice.of(&PhaseKind::ALL),
        purpose: dice.words(),
        temperature: dice.maybe(Dice::celsius),
        lines: (0..dice.below(6))
            .map(|_| line(dice, formula.take_id()))
            .collect(),
        steps: (0..dice.below(3))
            .map(|_| step(dice, formula.take_id()))
            .collect(),
    }
}

fn product(dice: &mut Dice) -> Product {
    Product {
        kinds: dice.of(&[
            Kinds::Only(ProductKind::RinseOff),
            Kinds::Only(ProductKind::LeaveOn),
            Kinds::Both,
        ]),
        product_type: dice.maybe(|d| d.of(&ProductType::ALL)),
        places: (0..dice.below(3))
            .map(|_| dice.of(&BodySite::ALL))
            .collect(),
        markets: (0..dice.below(3)).map(|_| dice.of(&Market::ALL)).collect(),
        under_three: dice.chance(4),
        spray: dice.chance(4),
        professional: dice.chance(4),
        wet_use: dice.chance(4),
        market_date: dice.maybe(|_| date(2027, 3, 1)),
        fragrance_category: dice.maybe(|_| "5A".into()),
    }
}

fn measured(dice: &mut Dice) -> Measured {
    Measured {
        ph: dice.maybe(|d| Ph::new(d.below(140) as f64 / 10.0).unwrap()),
        density: dice.maybe(|d| quantity::kg_per_m3(800.0 + d.below(4000) as f64 / 10.0)),
        water_activity: dice.maybe(|d| d.below(1001) as f64 / 1000.0),
        viscosity_mpa_s: dice.maybe(|d| (d.below(20_000) as f64, d.words())),
    }
}

fn variant(dice: &mut Dice, formula: &mut Formula) -> Variant {
    let phases = (0..dice.below(5))
        .map(|_| Arc::new(phase(dice, formula)))
        .collect();
    let mut variant = Variant {
        id: VariantId(formula.take_id()),
        name: dice.words(),
        note: dice.words(),
        parent: None,
        created: dice.maybe(|_| date(2026, 5, 1)),
        archived: dice.chance(5),
        product: product(dice),
        phases,
        filler: None,
        target_ph: dice.maybe(|d| Ph::new(d.below(140) as f64 / 10.0).unwrap()),
        batch: quantity::grams(dice.below(100_000) as f64 / 10.0),
        measured: measured(dice),
        label: Arc::new(label(dice)),
        specification: Arc::new(specification(dice)),
    };
    choose_filler(dice, &mut variant);
    variant
}

fn specification(dice: &mut Dice) -> Specification {
    let mut characteristics = Vec::new();
    for quality in Quality::ALL {
        if dice.chance(3) {
            // A figure only where one belongs, and within what makes sense.
            let figure = |d: &mut Dice| {
                let drawn = d.below(140) as f64 / 10.0;
                let measure = quality.measure()?;
                Some(drawn.clamp(measure.least, measure.most))
            };
            let ph = quality == Quality::Ph;
            characteristics.push(Characteristic {
                quality,
                target: dice.maybe(figure).flatten().filter(|_| !ph),
                low: dice.maybe(figure).flatten(),
                high: dice.maybe(figure).flatten(),
                accept: dice.words(),
                method: dice.words(),
            });
        }
    }
    Specification { characteristics }
}

fn label(dice: &mut Dice) -> LabelInfo {
    LabelInfo {
        product_name: dice.words(),
        function: dice.words(),
        responsible_person: dice.words(),
        net_contents: dice.maybe(|d| {
            let amount = d.below(10_000) as f64 / 10.0;
            if d.chance(2) {
                NetContents::Mass(quantity::grams(amount))
            } else {
                NetContents::Volume(quantity::millilitres(amount))
            }
        }),
        durability: if dice.chance(2) {
            Durability::AfterOpening(dice.below(60) as u32)
        } else {
            Durability::Unstated
        },
        cautions: (0..dice.below(3)).map(|_| dice.words()).collect(),
        low_order: (0..dice.below(3)).map(|_| dice.words().into()).collect(),
        reaction_products: dice.chance(2),
        width_mm: dice.below(200) as f64 / 2.0 + 1.0,
        ..LabelInfo::default()
    }
}

fn choose_filler(dice: &mut Dice, variant: &mut Variant) {
    let ids: Vec<ItemId> = variant.lines().map(|(_, l)| l.id).collect();
    variant.filler = (!ids.is_empty() && dice.chance(2)).then(|| ids[dice.below(ids.len())]);
}

/// Changes a variant in some random ways, as edits would.
pub fn change(dice: &mut Dice, variant: &mut Variant, next_id: &mut u64) {
    let mut take = || {
        *next_id += 1;
        *next_id - 1
    };
    for _ in 0..=dice.below(4) {
        let count = variant.phases.len();
        if count == 0 || dice.chance(10) {
            let phase = Phase {
                id: ItemId(take()),
                letter: "E".into(),
                kind: PhaseKind::Other,
                purpose: dice.words(),
                temperature: None,
                lines: vec![line(dice, take())],
                steps: Vec::new(),
            };
            let at = dice.below(count + 1);
            variant.phases.insert(at, Arc::new(phase));
            continue;
        }
        let (here, there) = (dice.below(count), dice.below(count));
        let mut phase = Phase::clone(&variant.phases[here]);
        match dice.below(12) {
            0 => phase.purpose = dice.words(),
            1 => phase.temperature = dice.maybe(Dice::celsius),
            2 => phase.lines.push(line(dice, take())),
            3 => phase.steps.push(step(dice, take())),
            4 => {
                variant.phases.swap(here, there);
                continue;
            }
            5 if !phase.lines.is_empty() => {
                let moved = phase.lines.remove(dice.below(phase.lines.len()));
                if here == there {
                    phase.lines.push(moved);
                } else {
                    Arc::make_mut(&mut variant.phases[there])
                        .lines
                        .insert(0, moved);
                }
            }
            6 if !phase.steps.is_empty() => {
                let at = dice.below(phase.steps.len());
                phase.steps[at].text = dice.words();
            }
            7 if !phase.lines.is_empty() => {
                phase.lines.remove(dice.below(phase.lines.len()));
            }
            8 if !phase.lines.is_empty() => {
                let at = dice.below(phase.lines.len());
                phase.lines[at].material = MaterialId::from_name(dice.of(&NAMES));
            }
            9 => variant.product = product(dice),
            10 => variant.measured = measured(dice),
            _ if !phase.lines.is_empty() => {
                let at = dice.below(phase.lines.len());
                phase.lines[at].percent = dice.percent();
            }
            _ => {}
        }
        variant.phases[here] = Arc::new(phase);
    }
    choose_filler(dice, variant);
}

/// A formula with one to four variants and up to eight earlier states.
pub fn formula(seed: u64) -> Formula {
    let mut dice = Dice::new(seed);
    let dice = &mut dice;
    let mut formula = Formula::new("Random");
    formula.kept_as = seed
        .is_multiple_of(2)
        .then(|| format!("product {seed}").into());
    formula.notes = dice.words();
    formula.author = dice.words();
    for name in NAMES {
        let material = material(dice, name);
        formula.materials.insert(material.id.clone(), material);
    }
    let first = variant(dice, &mut formula);
    formula.variants = vec![Arc::new(first)];
    for _ in 0..dice.below(4) {
        let parent = Arc::clone(&formula.variants[dice.below(formula.variants.len())]);
        let mut branch = if dice.chance(4) {
            variant(dice, &mut formula)
        } else {
            let mut branch = Variant::clone(&parent);
            branch.id = VariantId(formula.take_id());
            change(dice, &mut branch, &mut formula.next_id);
            branch
        };
        branch.parent = Some(parent.id);
        formula.variants.push(Arc::new(branch));
    }
    formula.active = formula.variants[dice.below(formula.variants.len())].id;
    for _ in 0..dice.below(3) {
        formula.set_aside.insert(SetAside {
            rule: dice.words(),
            message: dice.words(),
        });
    }
    for i in 0..dice.below(9) {
        let mut then = Variant::clone(&formula.variants[dice.below(formula.variants.len())]);
        change(dice, &mut then, &mut formula.next_id);
        formula.history.push(Arc::new(EarlierState {
            at: format!("2026-05-01T10:0{i}:00Z").into(),
            what: dice.words(),
            variant: Arc::new(then),
        }));
    }
    formula
}
