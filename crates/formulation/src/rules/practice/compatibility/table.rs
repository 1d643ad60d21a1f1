//! The table `assets/rules/compatibility.ron`, read and indexed.

use std::collections::BTreeMap;
use std::fmt;
use std::ops::BitOr;
use std::sync::{Arc, OnceLock};

use serde::de::{Error as _, MapAccess, Visitor};
use serde::{Deserialize, Deserializer};

use super::super::rule::{Ground, LevelName, Message, grounded};
use crate::finding::{Level, Matter};
use crate::inci::Inci;
use crate::material::{Charge, Class, Material, Role, Source};
use crate::mixture::{self, IngredientStatus, View};
use crate::notation::mirror::{BasisName, ChargeName, ClassName, RoleName};
use crate::product_type::ProductType;
use crate::remembered::Remembered;
use crate::substance_words;
use crate::word_groups::{Groups, WordGroups};

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
    /// The same, or no temperature is told and its phase holds something of this group, which
    /// must be melted.
    HotterThanOrMelting(f64, String),
    /// Water is in the same phase.
    WithWaterInPhase,
    /// It is not what a product of this form is made of.
    BesideItsForm,
    /// No line of it is above its own usual level, which is told by itself.
    WithinUsual,
}

/// What a rule of the table offers to do.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) enum RemedyName {
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
pub(super) struct FlashRecord {
    pub(super) of: String,
    /// Per cent by mass of the alcohol in itself and water, and flash point in °C.
    pub(super) points: Vec<(f64, f64)>,
    pub(super) source: String,
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
    /// Most of each group, %.
    #[serde(default)]
    at_most: Vec<(String, f64)>,
    /// Whether lye turns fats into soap in it.
    #[serde(default)]
    saponified: bool,
    /// Most water beside what solids bind, %.
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
    #[serde(deserialize_with = "each_once")]
    groups: BTreeMap<String, GroupRecord>,
    rules: Vec<RuleRecord>,
    soluble: Vec<SolubleRecord>,
    windows: Vec<WindowRecord>,
    flash_points: Vec<FlashRecord>,
    forms: Vec<FormRecord>,
}

/// Reads a map in which no name may stand twice: the later would silently take the place of the
/// earlier.
fn each_once<'de, D: Deserializer<'de>>(
    reader: D,
) -> Result<BTreeMap<String, GroupRecord>, D::Error> {
    struct EachOnce;
    impl<'de> Visitor<'de> for EachOnce {
        type Value = BTreeMap<String, GroupRecord>;
        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str("groups by name")
        }
        fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
            let mut groups = BTreeMap::new();
            while let Some((name, group)) = map.next_entry::<String, GroupRecord>()? {
                if groups.contains_key(&name) {
                    return Err(A::Error::custom(format!("the group “{name}” stands twice")));
                }
                groups.insert(name, group);
            }
            Ok(groups)
        }
    }
    reader.deserialize_map(EachOnce)
}

/// The words of a group with every `@LIST` replaced by each word of that list.
fn spelt_out(words: &[String]) -> Result<Vec<String>, String> {
    let mut all = Vec::with_capacity(words.len());
    for word in words {
        match word.split_once('@') {
            Some((before, list)) => {
                let listed = substance_words::lists().named(list);
                let listed = listed.ok_or_else(|| format!("there is no list of words “{list}”"))?;
                all.extend(listed.iter().map(|w| format!("{before}{w}")));
            }
            None => all.push(word.clone()),
        }
    }
    Ok(all)
}

/// A group by its number in the table.
pub(super) type Group = usize;

#[derive(Debug)]
pub(super) enum Holds {
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
    HotterThanOrMelting(f64, Group),
    WithWaterInPhase,
    BesideItsForm,
    WithinUsual,
}

#[derive(Debug)]
pub(super) struct Rule {
    pub(super) id: Arc<str>,
    pub(super) level: Level,
    pub(super) on: Group,
    pub(super) on_at_least: f64,
    pub(super) with: Option<Group>,
    pub(super) when: Vec<Holds>,
    pub(super) message: Message,
    pub(super) remedy: Option<RemedyName>,
    pub(super) matter: Matter,
    pub(super) source: Source,
}

#[derive(Debug)]
pub(super) struct Soluble {
    pub(super) name: Inci,
    pub(super) of: Group,
    pub(super) grams: f64,
    pub(super) pka: Option<f64>,
    pub(super) held_by: Vec<(Group, f64)>,
    pub(super) source: Source,
}

impl Soluble {
    /// The pH of its saturated solution, if it is an acid: of a weak acid of the concentration c,
    /// (pKa − log c) / 2.
    pub(super) fn own_ph(&self) -> Option<f64> {
        /// Molar mass taken for all, g/mol; half or twice as much moves the pH by 0.15.
        const MOLAR_MASS: f64 = 200.0;
        let moles_per_litre = 10.0 * self.grams / MOLAR_MASS;
        self.pka
            .map(|pka| f64::midpoint(pka, -moles_per_litre.log10()))
    }
}

#[derive(Debug)]
pub(in crate::rules::practice) struct Form {
    pub(super) types: Vec<ProductType>,
    pub(super) made_of: Vec<(Group, f64)>,
    pub(super) at_most: Vec<(Group, f64)>,
    pub(super) saponified: bool,
    pub(super) water_at_most: Option<f64>,
    pub(super) no_usual_level: Vec<Group>,
    pub(super) stays_dry: bool,
    pub(super) low_risk: Option<String>,
}

/// The table, read and indexed.
#[derive(Debug)]
pub(in crate::rules::practice) struct Table {
    /// Words of ingredient names.
    names: WordGroups,
    /// Words of the names of materials.
    called: WordGroups,
    /// The groups of raw materials that were looked at.
    known: Remembered<Material, Members>,
    of_class: [Groups; Class::ALL.len()],
    of_role: Vec<(Role, Groups)>,
    of_charge: Vec<(Charge, Groups)>,
    /// How many groups there are, the substances of [`Self::soluble`] among them.
    pub(super) count: usize,
    pub(super) rules: Vec<Rule>,
    pub(super) soluble: Vec<Soluble>,
    /// The groups of the substances of which it is known how much dissolves.
    pub(super) all_soluble: Groups,
    windows: Vec<(Group, WindowRecord)>,
    pub(super) flash_points: Vec<(Group, FlashRecord)>,
    pub(super) forms: Vec<Form>,
    bound_water: Group,
    pub(super) alcohol: Group,
}

/// Groups that the program itself asks for; the table must have them.
const ALCOHOL: &str = "alcohol";
const BOUND_WATER: &str = "bound water";

pub(super) fn read(text: &str) -> Result<Table, String> {
    let mut file: TableFile = ron::Options::default()
        .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
        .from_str(text)
        .map_err(|e| e.to_string())?;
    if file.version != 1 {
        return Err(format!(
            "version {} of the compatibility table is not known here",
            file.version
        ));
    }
    for group in file.groups.values_mut() {
        group.words = spelt_out(&group.words)?;
    }
    let file = file;
    // Each soluble substance is a group of its own behind the named ones.
    let count = file.groups.len() + file.soluble.len();
    if count > Groups::MOST {
        return Err(format!(
            "{count} groups and substances, at most {} are possible",
            Groups::MOST
        ));
    }
    let groups = GroupNames::of(&file.groups);
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
    let mut of_class = [Groups::default(); Class::ALL.len()];
    let (mut of_role, mut of_charge) = (Vec::new(), Vec::new());
    for (i, g) in file.groups.values().enumerate() {
        for &class in &g.classes {
            if let Some(groups) = of_class.get_mut(Class::from(class).index()) {
                *groups |= Groups::one(i);
            }
        }
        of_role.extend(g.roles.iter().map(|&r| (Role::from(r), Groups::one(i))));
        of_charge.extend(g.charges.iter().map(|&c| (Charge::from(c), Groups::one(i))));
    }

    let names = of_words(|g| &g.words).into_iter().chain(exact);
    Ok(Table {
        names: WordGroups::new(names, of_words(|g| &g.but)),
        called: WordGroups::new(of_words(|g| &g.called), of_words(|g| &g.not_called)),
        known: Remembered::default(),
        count,
        all_soluble: (first_soluble..count).collect(),
        of_class,
        of_role,
        of_charge,
        bound_water: groups.group(BOUND_WATER)?,
        alcohol: groups.group(ALCOHOL)?,
        rules: file
            .rules
            .into_iter()
            .map(|r| groups.rule(r))
            .collect::<Result<_, _>>()?,
        windows: file
            .windows
            .into_iter()
            .map(|w| Ok((groups.group(&w.of)?, w)))
            .collect::<Result<_, String>>()?,
        flash_points: file
            .flash_points
            .into_iter()
            .map(|f| Ok((groups.group(&f.of)?, f)))
            .collect::<Result<_, String>>()?,
        forms: file
            .forms
            .into_iter()
            .map(|f| groups.form(f))
            .collect::<Result<_, _>>()?,
        soluble: file
            .soluble
            .into_iter()
            .enumerate()
            .map(|(i, s)| {
                Ok(Soluble {
                    of: first_soluble + i,
                    grams: s.grams,
                    pka: s.pka,
                    held_by: groups.groups(s.held_by)?,
                    source: Source::new(s.basis.into(), s.source),
                    name: s.name.into(),
                })
            })
            .collect::<Result<_, String>>()?,
    })
}

/// The groups of a table by name.
struct GroupNames<'f>(BTreeMap<&'f str, Group>);

impl<'f> GroupNames<'f> {
    fn of(groups: &'f BTreeMap<String, GroupRecord>) -> Self {
        let names = groups.keys().enumerate();
        Self(names.map(|(i, k)| (k.as_str(), i)).collect())
    }

    fn group(&self, name: &str) -> Result<Group, String> {
        let known = self.0.get(name).copied();
        known.ok_or_else(|| format!("there is no group “{name}” under `groups`"))
    }

    fn groups(&self, list: Vec<(String, f64)>) -> Result<Vec<(Group, f64)>, String> {
        let group = |(g, x): (String, f64)| Ok((self.group(&g)?, x));
        list.into_iter().map(group).collect()
    }

    fn condition(&self, c: Condition) -> Result<Holds, String> {
        let group = |name: &str| self.group(name);
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
            Condition::HotterThanOrMelting(x, g) => Holds::HotterThanOrMelting(x, group(&g)?),
            Condition::WithWaterInPhase => Holds::WithWaterInPhase,
            Condition::BesideItsForm => Holds::BesideItsForm,
            Condition::WithinUsual => Holds::WithinUsual,
        })
    }

    fn rule(&self, r: RuleRecord) -> Result<Rule, String> {
        let level = r.level.into();
        grounded(&r.id, level, r.ground)?;
        Ok(Rule {
            level,
            on: self.group(&r.on)?,
            on_at_least: r.on_at_least,
            with: r.with.as_deref().map(|g| self.group(g)).transpose()?,
            when: r
                .when
                .into_iter()
                .map(|c| self.condition(c))
                .collect::<Result<_, _>>()?,
            message: Message::read(&r.message),
            remedy: r.remedy,
            matter: Matter::of(r.matter.as_deref().unwrap_or(&r.id)),
            source: Source::new(r.basis.into(), r.source),
            id: r.id.into(),
        })
    }

    fn form(&self, f: FormRecord) -> Result<Form, String> {
        let kind = |name: &String| {
            ProductType::ALL
                .into_iter()
                .find(|t| format!("{t:?}") == *name)
                .ok_or_else(|| format!("there is no type of product “{name}”"))
        };
        Ok(Form {
            types: f.types.iter().map(kind).collect::<Result<_, _>>()?,
            made_of: self.groups(f.made_of)?,
            at_most: self.groups(f.at_most)?,
            saponified: f.saponified,
            water_at_most: f.water_at_most,
            no_usual_level: f
                .no_usual_level
                .iter()
                .map(|g| self.group(g))
                .collect::<Result<_, _>>()?,
            stays_dry: f.stays_dry,
            low_risk: f.low_risk,
        })
    }
}

/// The table that comes with the program.
pub(in crate::rules::practice) fn table() -> &'static Result<Table, String> {
    static TABLE: OnceLock<Result<Table, String>> = OnceLock::new();
    TABLE.get_or_init(|| {
        read(include_str!(
            "../../../../../../assets/rules/compatibility.ron"
        ))
    })
}

/// Share from which a constituent makes a material what it is; our assumption, no source.
const GOOD_PART: f64 = 0.05;

/// The groups of a raw material.
#[derive(Debug)]
pub(super) struct Members {
    /// Those of the material as a whole.
    pub whole: Groups,
    /// Those of each constituent, in order, with its share of the material, 0 to 1: a perfume
    /// or natural oil whole, and its components apart only in groups to which it does not belong.
    pub each: Box<[(Groups, f64)]>,
    /// Those of the whole and of each constituent that is a good part of it.
    pub with_good_parts: Groups,
}

impl Table {
    /// The groups of a material and of what is a good part of it.
    pub fn groups_of(&self, material: &Material) -> Groups {
        self.look_at(material).with_good_parts
    }

    /// What `see` makes of the groups of a material, which is looked at once.
    pub(super) fn members<R>(
        &self,
        material: &Arc<Material>,
        see: impl FnOnce(&Members) -> R,
    ) -> R {
        let known = &self.known;
        known.with(material, None, || self.look_at(material), see)
    }

    fn look_at(&self, material: &Material) -> Members {
        let named = self.called.of(&material.name);
        let mut excluded = Groups::default();
        let mut each = Vec::with_capacity(material.constituents.len());
        let mut of_whole = Groups::default();
        for content in mixture::contents(material) {
            let c = content.constituent;
            let told = self.names.of(c.inci.spelling());
            if c.incidental.is_none() {
                excluded |= told.is_not;
            }
            let by_class = self.of_class.get(c.class.index()).copied();
            let is = told.is | by_class.unwrap_or_default();
            let groups = is.without(told.is_not).without(named.is_not);
            if content.standing == IngredientStatus::Whole {
                of_whole = groups;
            }
            let share = content.share(View::AsDeclared).typical.value();
            each.push((groups, share, content.standing));
        }
        let each: Box<[(Groups, f64)]> = each
            .into_iter()
            .map(|(groups, share, standing)| match standing {
                IngredientStatus::Component => (groups.without(of_whole), share),
                _ => (groups, share),
            })
            .collect();
        let roles = self.of_role.iter();
        let roles = roles.filter(|(role, _)| material.has_role(*role));
        let charges = self.of_charge.iter();
        let charges = charges.filter(|(charge, _)| material.charge == Some(*charge));
        let groups = roles.map(|r| r.1).chain(charges.map(|c| c.1));
        let by_kind = groups.fold(Groups::default(), BitOr::bitor);
        let whole = (by_kind.without(excluded) | named.is).without(named.is_not);
        let good = each.iter().filter(|(_, share)| *share >= GOOD_PART);
        Members {
            whole,
            with_good_parts: good.fold(whole, |all, &(groups, _)| all | groups),
            each,
        }
    }

    /// Grams of the uncharged form of a substance that dissolve in 100 g of water, where that is
    /// known.
    pub fn solubility(&self, inci: &str) -> Option<f64> {
        let mut known = self.soluble.iter();
        let of = known.find(|s| s.name.is(inci))?;
        Some(of.grams)
    }

    /// Whether it is known how much of a substance dissolves.
    pub fn knows_solubility(&self, inci: &str) -> bool {
        self.solubility(inci).is_some()
    }

    /// Whether the water of a material of these groups is bound in crystals.
    pub fn binds_its_water(&self, groups: Groups) -> bool {
        groups.has(self.bound_water)
    }

    /// The pH window of a group that a material belongs to.
    pub fn window(&self, groups: Groups) -> Option<(f64, f64)> {
        self.windows_of(groups).find_map(|w| w.ph)
    }

    /// What happens below, else above, the window of a material of these groups.
    pub fn outside_window(&self, groups: Groups, below: bool) -> Option<&str> {
        self.windows_of(groups).find_map(|w| {
            let why = if below { &w.below } else { &w.above };
            why.as_deref()
        })
    }

    fn windows_of(&self, groups: Groups) -> impl Iterator<Item = &WindowRecord> {
        let of = move |(group, _): &&(Group, WindowRecord)| groups.has(*group);
        self.windows.iter().filter(of).map(|(_, w)| w)
    }
}
