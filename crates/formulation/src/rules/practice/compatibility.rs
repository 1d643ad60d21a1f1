//! What does not go together: one engine over the table `assets/rules/compatibility.ron`.
//!
//! The table names groups of substances, by words of their ingredient names, class, role or
//! charge, and rules on groups: what must be there, what must be missing, and under which
//! conditions. It also holds what dissolves in water, pH windows of groups, flash points of
//! alcohol with water, and what a form of product is made of.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use serde::Deserialize;

use super::process::hottest;
use super::rule::{Ground, LevelName, Message, Words, grounded};
use super::{Laid, Scene};
use crate::chemistry::soap::Making;
use crate::file::mirror::{BasisName, ChargeName, ClassName, RoleName};
use crate::finding::{Finding, Level, Limit, Matter, Remedy, Value};
use crate::formula::{ItemId, Place};
use crate::material::{Charge, Class, Material, Role, Source};
use crate::product_type::ProductType;
use crate::quantity::MassFraction;
use crate::word_groups::WordGroups;

/// Most groups a table may have: one bit each.
const MOST_GROUPS: usize = 128;

/// A group of substances or materials; any of what is listed makes a member.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[derive(Default)]
struct GroupRecord {
    /// Words of an ingredient name.
    words: Vec<String>,
    /// Words that exclude a name.
    but: Vec<String>,
    /// Classes of constituents.
    classes: Vec<ClassName>,
    /// Roles of whole materials.
    roles: Vec<RoleName>,
    /// Charge of whole materials.
    charges: Vec<ChargeName>,
    /// Words of the material's own name.
    called: Vec<String>,
    /// Words of the material's own name that exclude it.
    not_called: Vec<String>,
}

/// What must hold for a rule to speak; all of them.
#[derive(Debug, Clone, Deserialize)]
enum Condition {
    /// A group makes up this many per cent of the formula or more.
    AtLeast(String, f64),
    /// Nothing of a group is there.
    Without(String),
    /// The one group makes up less than so many times the other.
    LessThanTimes(String, f64, String),
    /// More water than this, %.
    WaterAbove(f64),
    /// More salt than this, % as sodium chloride of all materials.
    SaltAbove(f64),
    /// More ions than this, % as sodium chloride: salt and the salts of organic acids.
    IonsAbove(f64),
    /// The pH surely lies below.
    PhBelow(f64),
    /// The pH surely lies above.
    PhAbove(f64),
    /// The pH does not surely lie above.
    PhNotSurelyAbove(f64),
    /// Used near the eye.
    AtEye,
    /// Left on the skin.
    LeftOn,
    /// The phase of what is found is worked hotter than this, °C.
    HotterThan(f64),
    /// Water is in the same phase.
    WithWaterInPhase,
}

/// What a rule of the table offers to do.
#[derive(Debug, Clone, Copy, Deserialize)]
enum RemedyName {
    Add(RoleName),
    Swap,
    StatePh,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleRecord {
    id: String,
    level: LevelName,
    #[serde(default)]
    ground: Option<Ground>,
    /// The group that the finding is about, and the least of it in %.
    on: String,
    #[serde(default)]
    on_at_least: f64,
    /// The group that it meets.
    #[serde(default)]
    with: Option<String>,
    #[serde(default)]
    when: Vec<Condition>,
    message: String,
    #[serde(default)]
    remedy: Option<RemedyName>,
    /// The matter, if it shares that with other rules.
    #[serde(default)]
    matter: Option<String>,
    basis: BasisName,
    source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SolubleRecord {
    name: String,
    /// Grams of the uncharged form in 100 g of water at 20 to 25 °C.
    grams: f64,
    /// pKa of an acid, whose charged form dissolves freely.
    #[serde(default)]
    pka: Option<f64>,
    /// What else holds it: a group, and grams of it per gram of the group.
    #[serde(default)]
    held_by: Vec<(String, f64)>,
    basis: BasisName,
    source: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WindowRecord {
    of: String,
    #[serde(default)]
    ph: Option<(f64, f64)>,
    #[serde(default)]
    below: Option<String>,
    #[serde(default)]
    above: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FlashRecord {
    of: String,
    /// Per cent by mass of the alcohol in itself and water, and flash point in °C.
    points: Vec<(f64, f64)>,
    source: String,
}

/// A form of product, told by its type or by what it is made of.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FormRecord {
    #[serde(default)]
    types: Vec<String>,
    /// Least of each group, %.
    #[serde(default)]
    made_of: Vec<(String, f64)>,
    /// Whether lye turns fats into soap in it.
    #[serde(default)]
    saponified: bool,
    /// Most water, %.
    #[serde(default)]
    water_at_most: Option<f64>,
    /// Groups whose usual levels say nothing about such a product.
    no_usual_level: Vec<String>,
    /// Whether such a product is used up dry or drains, so that no water gets in.
    #[serde(default)]
    stays_dry: bool,
    /// Why such a product needs no preservative, if so.
    #[serde(default)]
    low_risk: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TableFile {
    version: u32,
    groups: BTreeMap<String, GroupRecord>,
    rules: Vec<RuleRecord>,
    soluble: Vec<SolubleRecord>,
    windows: Vec<WindowRecord>,
    flash_points: Vec<FlashRecord>,
    forms: Vec<FormRecord>,
}

/// A group by its bit.
type Group = usize;

#[derive(Debug)]
enum Holds {
    AtLeast(Group, f64),
    Without(Group),
    LessThanTimes(Group, f64, Group),
    WaterAbove(f64),
    SaltAbove(f64),
    IonsAbove(f64),
    PhBelow(f64),
    PhAbove(f64),
    PhNotSurelyAbove(f64),
    AtEye,
    LeftOn,
    HotterThan(f64),
    WithWaterInPhase,
}

#[derive(Debug)]
struct Rule {
    id: Arc<str>,
    level: Level,
    on: Group,
    on_at_least: f64,
    with: Option<Group>,
    when: Vec<Holds>,
    message: Message,
    remedy: Option<RemedyName>,
    matter: Matter,
    source: Source,
}

#[derive(Debug)]
struct Soluble {
    name: String,
    of: Group,
    grams: f64,
    pka: Option<f64>,
    held_by: Vec<(Group, f64)>,
    source: Source,
}

#[derive(Debug)]
struct Form {
    types: Vec<ProductType>,
    made_of: Vec<(Group, f64)>,
    saponified: bool,
    water_at_most: Option<f64>,
    no_usual_level: Vec<Group>,
    stays_dry: bool,
    low_risk: Option<String>,
}

/// The table, read and indexed.
#[derive(Debug)]
pub(super) struct Table {
    names: WordGroups,
    excluded: WordGroups,
    called: WordGroups,
    not_called: WordGroups,
    of_class: [u128; Class::ALL.len()],
    of_role: Vec<(Role, u128)>,
    of_charge: Vec<(Charge, u128)>,
    rules: Vec<Rule>,
    soluble: Vec<Soluble>,
    windows: Vec<(Group, WindowRecord)>,
    flash_points: Vec<(Group, FlashRecord)>,
    forms: Vec<Form>,
    bound_water: Group,
    alcohol: Group,
}

/// A pH window of a material, and what happens outside of it.
#[derive(Clone, Copy)]
pub(super) struct Window<'t> {
    pub low: f64,
    pub high: f64,
    pub below: Option<&'t str>,
    pub above: Option<&'t str>,
}

/// Groups that the program itself asks for; the table must have them.
const ALCOHOL: &str = "alcohol";
const BOUND_WATER: &str = "bound water";

fn read(text: &str) -> Result<Table, String> {
    let file: TableFile = ron::Options::default()
        .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
        .from_str(text)
        .map_err(|e| e.to_string())?;
    if file.version != 1 {
        return Err(format!(
            "version {} of the compatibility table is not known here",
            file.version
        ));
    }
    // Each soluble substance is a group of its own behind the named ones.
    let count = file.groups.len() + file.soluble.len();
    if count > MOST_GROUPS {
        return Err(format!(
            "{count} groups and substances, at most {MOST_GROUPS} are possible"
        ));
    }
    let place: BTreeMap<&str, Group> = file
        .groups
        .keys()
        .enumerate()
        .map(|(i, k)| (k.as_str(), i))
        .collect();
    let group = |name: &str| {
        place
            .get(name)
            .copied()
            .ok_or_else(|| format!("there is no group “{name}” under `groups`"))
    };
    let groups = |list: Vec<(String, f64)>| -> Result<Vec<(Group, f64)>, String> {
        list.into_iter().map(|(g, x)| Ok((group(&g)?, x))).collect()
    };

    let of_words = |words: fn(&GroupRecord) -> &Vec<String>| {
        let all = file.groups.values().enumerate();
        all.flat_map(move |(i, g)| words(g).iter().map(move |w| (w.as_str(), i)))
            .collect::<Vec<_>>()
    };
    let first_soluble = file.groups.len();
    let exact: Vec<String> = file
        .soluble
        .iter()
        .map(|s| format!("={}", s.name))
        .collect();
    let exact = exact
        .iter()
        .enumerate()
        .map(|(i, name)| (name.as_str(), first_soluble + i));
    let mut of_class = [0; Class::ALL.len()];
    let (mut of_role, mut of_charge) = (Vec::new(), Vec::new());
    for (i, g) in file.groups.values().enumerate() {
        for &class in &g.classes {
            if let Some(mask) = of_class.get_mut(Class::from(class).index()) {
                *mask |= 1 << i;
            }
        }
        of_role.extend(g.roles.iter().map(|&r| (Role::from(r), 1 << i)));
        of_charge.extend(g.charges.iter().map(|&c| (Charge::from(c), 1 << i)));
    }

    let condition = |c: Condition| -> Result<Holds, String> {
        Ok(match c {
            Condition::AtLeast(g, x) => Holds::AtLeast(group(&g)?, x),
            Condition::Without(g) => Holds::Without(group(&g)?),
            Condition::LessThanTimes(a, x, b) => Holds::LessThanTimes(group(&a)?, x, group(&b)?),
            Condition::WaterAbove(x) => Holds::WaterAbove(x),
            Condition::SaltAbove(x) => Holds::SaltAbove(x),
            Condition::IonsAbove(x) => Holds::IonsAbove(x),
            Condition::PhBelow(x) => Holds::PhBelow(x),
            Condition::PhAbove(x) => Holds::PhAbove(x),
            Condition::PhNotSurelyAbove(x) => Holds::PhNotSurelyAbove(x),
            Condition::AtEye => Holds::AtEye,
            Condition::LeftOn => Holds::LeftOn,
            Condition::HotterThan(x) => Holds::HotterThan(x),
            Condition::WithWaterInPhase => Holds::WithWaterInPhase,
        })
    };
    let rule = |r: RuleRecord| -> Result<Rule, String> {
        let level = r.level.into();
        grounded(&r.id, level, r.ground)?;
        Ok(Rule {
            level,
            on: group(&r.on)?,
            on_at_least: r.on_at_least,
            with: r.with.as_deref().map(group).transpose()?,
            when: r
                .when
                .into_iter()
                .map(condition)
                .collect::<Result<_, _>>()?,
            message: Message::read(&r.message),
            remedy: r.remedy,
            matter: Matter::of(r.matter.as_deref().unwrap_or(&r.id)),
            source: Source::new(r.basis.into(), r.source),
            id: r.id.into(),
        })
    };
    let form = |f: FormRecord| -> Result<Form, String> {
        let kind = |name: &String| {
            ProductType::ALL
                .into_iter()
                .find(|t| format!("{t:?}") == *name)
                .ok_or_else(|| format!("there is no type of product “{name}”"))
        };
        Ok(Form {
            types: f.types.iter().map(kind).collect::<Result<_, _>>()?,
            made_of: groups(f.made_of)?,
            saponified: f.saponified,
            water_at_most: f.water_at_most,
            no_usual_level: f
                .no_usual_level
                .iter()
                .map(|g| group(g))
                .collect::<Result<_, _>>()?,
            stays_dry: f.stays_dry,
            low_risk: f.low_risk,
        })
    };
    let names = WordGroups::new(of_words(|g| &g.words).into_iter().chain(exact));
    Ok(Table {
        names,
        excluded: WordGroups::new(of_words(|g| &g.but)),
        called: WordGroups::new(of_words(|g| &g.called)),
        not_called: WordGroups::new(of_words(|g| &g.not_called)),
        of_class,
        of_role,
        of_charge,
        bound_water: group(BOUND_WATER)?,
        alcohol: group(ALCOHOL)?,
        rules: file.rules.into_iter().map(rule).collect::<Result<_, _>>()?,
        windows: file
            .windows
            .into_iter()
            .map(|w| Ok((group(&w.of)?, w)))
            .collect::<Result<_, String>>()?,
        flash_points: file
            .flash_points
            .into_iter()
            .map(|f| Ok((group(&f.of)?, f)))
            .collect::<Result<_, String>>()?,
        forms: file.forms.into_iter().map(form).collect::<Result<_, _>>()?,
        soluble: file
            .soluble
            .into_iter()
            .enumerate()
            .map(|(i, s)| {
                Ok(Soluble {
                    of: first_soluble + i,
                    grams: s.grams,
                    pka: s.pka,
                    held_by: groups(s.held_by)?,
                    source: Source::new(s.basis.into(), s.source),
                    name: s.name,
                })
            })
            .collect::<Result<_, String>>()?,
    })
}

/// The table that comes with the program.
pub(super) fn table() -> &'static Result<Table, String> {
    static TABLE: OnceLock<Result<Table, String>> = OnceLock::new();
    TABLE.get_or_init(|| {
        read(include_str!(
            "../../../../../assets/rules/compatibility.ron"
        ))
    })
}

/// Where the bits of a mask stand.
fn bits(mut mask: u128) -> impl Iterator<Item = Group> {
    std::iter::from_fn(move || {
        let bit = mask.trailing_zeros() as Group;
        (mask != 0).then(|| {
            mask &= mask - 1;
            bit
        })
    })
}

impl Table {
    /// Groups of a constituent.
    fn of_constituent(&self, inci: &str, class: Class) -> u128 {
        let by_class = self.of_class.get(class.index()).copied().unwrap_or(0);
        (self.names.of(inci) | by_class) & !self.excluded.of(inci)
    }

    /// Groups of a material as a whole.
    fn of_whole(&self, material: &Material) -> u128 {
        let roles = self.of_role.iter();
        let roles = roles.filter(|(role, _)| material.has_role(*role));
        let charges = self.of_charge.iter();
        let charges = charges.filter(|(charge, _)| material.charge == Some(*charge));
        let masks = roles.map(|r| r.1).chain(charges.map(|c| c.1));
        let excluded = material
            .inci_names()
            .fold(0, |mask, name| mask | self.excluded.of(name));
        (masks.fold(0, |a, b| a | b) & !excluded) | self.called.of(&material.name)
    }

    /// Groups of a material and of what is a good part of it.
    pub fn of_material(&self, material: &Material) -> u128 {
        /// Share from which a constituent makes a material what it is.
        const GOOD_PART: f64 = 0.05;
        material
            .constituents
            .iter()
            .filter(|c| c.share.typical.value() >= GOOD_PART)
            .fold(self.of_whole(material), |mask, c| {
                mask | self.of_constituent(&c.inci, c.class)
            })
            & !self.not_called.of(&material.name)
    }

    /// Substances of which it is known how much dissolves.
    pub fn soluble_names(&self) -> impl Iterator<Item = &str> {
        self.soluble.iter().map(|s| s.name.as_str())
    }

    /// Whether the water of a material of these groups is bound in crystals.
    pub fn binds_its_water(&self, groups: u128) -> bool {
        groups & (1 << self.bound_water) != 0
    }

    /// The pH window of a material: its own, else that of a group it belongs to; with the
    /// reasons of its groups.
    pub fn window(&self, material: &Material, groups: u128) -> Option<Window<'_>> {
        let own = material
            .ph_window
            .as_ref()
            .map(|w| (w.value.low.value(), w.value.high.value()));
        let of_groups = || {
            self.windows
                .iter()
                .filter(move |(bit, _)| groups & (1 << bit) != 0)
                .map(|(_, w)| w)
        };
        let (low, high) = own.or_else(|| of_groups().find_map(|w| w.ph))?;
        Some(Window {
            low,
            high,
            below: of_groups().find_map(|w| w.below.as_deref()),
            above: of_groups().find_map(|w| w.above.as_deref()),
        })
    }
}

/// How much of each group there is, and in which lines.
pub(super) struct Present {
    percent: [f64; MOST_GROUPS],
    lines: [Vec<usize>; MOST_GROUPS],
}

impl Present {
    fn percent(&self, group: Group) -> f64 {
        self.percent.get(group).copied().unwrap_or(0.0)
    }
    fn lines(&self, group: Group) -> &[usize] {
        self.lines.get(group).map_or(&[], Vec::as_slice)
    }
}

/// Counts what there is of each group.
pub(super) fn present(laid: &[Laid<'_>], table: &Table) -> Present {
    let mut present = Present {
        percent: [0.0; MOST_GROUPS],
        lines: std::array::from_fn(|_| Vec::new()),
    };
    let mut add = |at: usize, mask: u128, percent: f64| {
        for bit in bits(mask) {
            if let (Some(sum), Some(lines)) =
                (present.percent.get_mut(bit), present.lines.get_mut(bit))
            {
                *sum += percent;
                if lines.last() != Some(&at) {
                    lines.push(at);
                }
            }
        }
    };
    for (at, l) in laid.iter().enumerate() {
        let percent = l.line.percent.as_percent();
        let not = table.not_called.of(&l.material.name);
        let whole = table.of_whole(l.material) & !not;
        add(at, whole, percent);
        for c in &l.material.constituents {
            // What is in the whole already is not counted twice.
            let mask = table.of_constituent(&c.inci, c.class) & !whole & !not;
            add(at, mask, percent * c.share.typical.value());
        }
    }
    present
}

impl<'a> Scene<'a> {
    fn at<'s>(&'s self, places: &'s [usize]) -> impl Iterator<Item = &'s Laid<'a>> {
        places.iter().filter_map(|&at| self.laid.get(at))
    }

    /// Everything the table has to say.
    pub(super) fn compatibility(&mut self) {
        let mut found = Vec::new();
        for rule in &self.table.rules {
            found.extend(self.judge(rule));
        }
        for soluble in &self.table.soluble {
            found.extend(self.dissolves(soluble));
        }
        found.extend(self.flash_point());
        self.findings.append(&mut found);
    }

    fn judge(&self, rule: &Rule) -> Option<Finding> {
        let present = &self.present;
        let amount = present.percent(rule.on);
        if amount <= 0.0 || amount < rule.on_at_least {
            return None;
        }
        let mut on: Vec<usize> = present.lines(rule.on).to_vec();
        let mut with: Vec<usize> = Vec::new();
        if let Some(group) = rule.with {
            with = present.lines(group).to_vec();
            if with.is_empty() {
                return None;
            }
        }
        for condition in &rule.when {
            if !self.holds(condition, &mut on) {
                return None;
            }
        }
        if on.is_empty() {
            return None;
        }
        let (name, what) = (super::names(self.at(&on)), super::names(self.at(&with)));
        let ions = rule.when.iter().any(|c| matches!(c, Holds::IonsAbove(_)));
        let salt = if ions { self.ions() } else { self.salt() };
        let words = Words {
            name: &name,
            what: &what,
            value: &format!("{salt:.1}"),
            limit: &self.ph.words(),
        };
        let mut lines: Vec<ItemId> = self.at(&on).map(|l| l.line.id).collect();
        for l in self.at(&with) {
            if !lines.contains(&l.line.id) {
                lines.push(l.line.id);
            }
        }
        let finding = Finding::new(
            rule.level,
            rule.id.clone(),
            rule.message.fill(&words),
            rule.source.clone(),
        )
        .about(rule.matter.clone());
        let finding = match rule.remedy {
            Some(RemedyName::Add(role)) => {
                finding.remedy(Remedy::AddMaterial { role: role.into() })
            }
            Some(RemedyName::Swap) => match lines.first() {
                Some(&line) => finding.remedy(Remedy::SwapMaterial { line }),
                None => finding,
            },
            Some(RemedyName::StatePh) => finding.remedy(self.ph.remedy()),
            None => finding,
        };
        Some(finding.on(lines))
    }

    fn salt(&self) -> f64 {
        let figure = &self.of.estimates.electrolyte.nacl_percent;
        figure.value.unwrap_or(0.0)
    }

    /// Salt and the salts of organic acids; the lye that neutralises a thickener is none.
    fn ions(&self) -> f64 {
        self.salt() + self.of.estimates.electrolyte.organic_added_percent
    }

    fn holds(&self, condition: &Holds, on: &mut Vec<usize>) -> bool {
        let present = &self.present;
        let water = || self.of.composition.water().typical.as_percent();
        match *condition {
            Holds::AtLeast(group, x) => present.percent(group) >= x,
            Holds::Without(group) => present.lines(group).is_empty(),
            Holds::LessThanTimes(a, x, b) => present.percent(a) < x * present.percent(b),
            Holds::WaterAbove(x) => water() > x,
            Holds::SaltAbove(x) => self.salt() > x,
            Holds::IonsAbove(x) => self.ions() > x,
            Holds::PhBelow(x) => self.ph.is_below(x),
            Holds::PhAbove(x) => self.ph.is_above(x),
            Holds::PhNotSurelyAbove(x) => !self.ph.is_above(x),
            Holds::AtEye => self.of.variant.product.places.contains(&Place::EyeArea),
            Holds::LeftOn => self.of.variant.product.kind == crate::material::ProductKind::LeaveOn,
            Holds::HotterThan(x) => {
                on.retain(|&at| self.laid.get(at).is_some_and(|l| hottest(l.phase) > x));
                !on.is_empty()
            }
            Holds::WithWaterInPhase => {
                on.retain(|&at| {
                    self.laid.get(at).is_some_and(|l| {
                        self.laid.iter().any(|w| {
                            w.phase.id == l.phase.id
                                && w.material.share_of(Class::Water).value() > 0.5
                        })
                    })
                });
                !on.is_empty()
            }
        }
    }

    /// What of a substance does not dissolve in the water and in what else holds it.
    fn dissolves(&self, soluble: &Soluble) -> Option<Finding> {
        let present = &self.present;
        let amount = present.percent(soluble.of);
        let water = self.of.composition.water().typical.as_percent();
        // In a product without a water phase it is a powder among others.
        if amount <= 0.0 || water < 10.0 {
            return None;
        }
        // The charged form dissolves freely; where the pH is a range, most of it may.
        let charged = match (soluble.pka, self.ph.high()) {
            (Some(pka), Some(ph)) => 10.0_f64.powf(ph - pka),
            _ => 0.0,
        };
        let in_water = water / 100.0 * soluble.grams * (1.0 + charged);
        // What is itself of the group that would hold it does not hold itself.
        let own = 1u128 << soluble.of;
        let itself = |group: Group| -> f64 {
            let both = |l: &&Laid<'_>| l.groups & own != 0 && l.groups & (1 << group) != 0;
            let dose = |l: &Laid<'_>| l.line.percent.as_percent();
            self.laid.iter().filter(both).map(dose).sum()
        };
        let held: f64 = soluble
            .held_by
            .iter()
            .map(|&(group, grams)| (present.percent(group) - itself(group)).max(0.0) * grams)
            .sum();
        // Handbooks differ by a tenth among themselves.
        if amount <= 1.1 * (in_water + held) {
            return None;
        }
        let places = present.lines(soluble.of);
        let name = super::names(self.at(places));
        let at = match soluble.pka {
            Some(_) if charged > 0.0 => format!(" at {}", self.ph.words()),
            _ => String::new(),
        };
        let beside = if held > 0.005 {
            format!(" and solvents hold about {held:.1} % more")
        } else {
            String::new()
        };
        let message = format!(
            "{name}: {amount:.2} % of {} is more than dissolves; the water takes up about {in_water:.2} %{at}{beside}. The rest stays or falls out as crystals. Use less, add what dissolves it, or mill it fine and suspend it.",
            soluble.name
        );
        Some(
            Finding::new(Level::Caution, "insoluble", message, soluble.source.clone())
                .on(self.at(places).map(|l| l.line.id).collect::<Vec<_>>())
                .about(Matter::of(&format!(
                    "solubility {}",
                    soluble.name.to_lowercase()
                )))
                .against(
                    Value::Share(MassFraction::from_percent(amount)),
                    Limit::AtMost(Value::Share(MassFraction::from_percent(in_water + held))),
                ),
        )
    }

    /// The flash point of alcohol with water; what else is in it is left out.
    fn flash_point(&self) -> Option<Finding> {
        /// Flash point up to which a liquid is flammable: Regulation (EC) 1272/2008, Annex I,
        /// 2.6.2, °C.
        const FLAMMABLE: f64 = 60.0;
        /// From the warmest workshop on it takes fire at an open flame, °C; our choice.
        const WORKSHOP: f64 = 40.0;
        let water = self.of.composition.water().typical.as_percent();
        let present = &self.present;
        let (group, record) = self
            .table
            .flash_points
            .iter()
            .max_by(|a, b| present.percent(a.0).total_cmp(&present.percent(b.0)))?;
        let alcohol = present.percent(*group);
        if alcohol < 1.0 {
            return None;
        }
        let share = 100.0 * alcohol / (alcohol + water);
        let (first, _) = record.points.first()?;
        if share < *first {
            return None;
        }
        let flash = between(&record.points, share)?;
        if flash > FLAMMABLE {
            return None;
        }
        let places = present.lines(*group);
        let message = format!(
            "{}: {alcohol:.0} % alcohol gives a flash point of about {flash:.0} °C (alcohol and water alone): a flammable liquid. No flame, hot plate or spark nearby, ventilate, small amounts; storing and sending it fall under the rules for flammable liquids. Have the flash point measured.",
            super::names(self.at(places)),
        );
        let level = if flash < WORKSHOP {
            Level::Caution
        } else {
            Level::Note
        };
        Some(
            Finding::new(
                level,
                "flammable",
                message,
                Source::new(crate::material::Basis::Estimate, record.source.as_str()),
            )
            .on(self.at(places).map(|l| l.line.id).collect::<Vec<_>>())
            .about(Matter::of("flammable"))
            .against(
                Value::Celsius(flash),
                Limit::AtLeast(Value::Celsius(FLAMMABLE)),
            ),
        )
    }

    /// Whether lye turns fats into soap in the pot.
    pub(super) fn is_saponified(&self) -> bool {
        let soap = self.of.estimates.soap.as_ref();
        soap.is_some_and(|s| s.making == Making::Saponified)
    }

    fn forms(&self) -> impl Iterator<Item = &'static Form> {
        let product_type = self.of.variant.product.product_type;
        let water = self.of.composition.water().typical.as_percent();
        self.table.forms.iter().filter(move |f| {
            let by_type = product_type.is_some_and(|t| f.types.contains(&t));
            let by_make = (f.saponified || !f.made_of.is_empty())
                && (!f.saponified || self.is_saponified())
                && f.made_of.iter().all(|&(g, x)| self.present.percent(g) >= x)
                && f.water_at_most.is_none_or(|most| water <= most);
            by_type || by_make
        })
    }

    /// Whether a line is what this form of product is made of, so that the usual levels of other
    /// forms say nothing.
    pub(super) fn is_what_it_is_made_of(&self, l: &Laid<'_>) -> bool {
        self.forms()
            .any(|f| f.no_usual_level.iter().any(|g| l.groups & (1 << g) != 0))
    }

    /// Whether the product stays dry in use.
    fn stays_dry(&self) -> bool {
        self.forms().any(|f| f.stays_dry)
    }

    /// Why the form of product needs no preservative.
    pub(super) fn low_risk_form(&self) -> Option<&'static str> {
        self.forms().find_map(|f| f.low_risk.as_deref())
    }

    /// Alcohols that keep organisms down, % of the formula.
    pub(super) fn alcohol(&self) -> f64 {
        self.present.percent(self.table.alcohol)
    }

    /// Whether it is rinsed off and kept in a jar or tube that wet hands reach.
    pub(super) fn is_taken_with_wet_hands(&self) -> bool {
        let kind = self.of.variant.product.kind;
        kind == crate::material::ProductKind::RinseOff && !self.stays_dry()
    }
}

/// Between the points of a table; its ends beyond.
fn between(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let at = points.partition_point(|p| p.0 <= x);
    let after = points.get(at);
    let before = at.checked_sub(1).and_then(|i| points.get(i));
    match (before, after) {
        (Some(a), Some(b)) => Some(a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0)),
        (Some(end), None) | (None, Some(end)) => Some(end.1),
        (None, None) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_reads_and_says_what_is_wrong_with_one_that_does_not() {
        assert!(table().as_ref().unwrap().rules.len() > 15);
        let unknown = "(version: 1, groups: {\"alcohol\": (), \"bound water\": ()}, rules: [(id: \"x\", level: Note, on: \"nothing\", message: \"\", basis: Practice, source: \"\")], soluble: [], windows: [], flash_points: [], forms: [])";
        assert!(read(unknown).unwrap_err().contains("“nothing”"));
        let groundless = unknown
            .replace("Note", "Breach")
            .replace("nothing", "alcohol");
        assert!(read(&groundless).unwrap_err().contains("ground"));
    }

    /// Flash points of ethanol with water as handbooks give them (from memory): 24 °C at 42.5 %,
    /// 21 °C at 62.4 % by mass, 12 °C pure (IEC 60079-20-1:2010).
    #[test]
    fn flash_points_of_the_handbook() {
        let table = table().as_ref().unwrap();
        let points = &table.flash_points[0].1.points;
        for (share, published) in [(24.6, 29.0), (42.5, 24.0), (62.4, 21.0), (100.0, 12.0)] {
            let found = between(points, share).unwrap();
            assert!((found - published).abs() < 3.0, "{share}: {found}");
        }
    }
}
