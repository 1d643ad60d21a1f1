//! Rules of practice, kept as data in `assets/rules/practice.ron`.
//!
//! The file says which checks there are, how grave they are, with which words and
//! figures and on what ground; this module looks for what each check names.

use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock, OnceLock};

use serde::Deserialize;

use crate::composition::Composition;
use crate::finding::{Finding, Level, LineLimit};
use crate::formula::{Formula, ItemId, Line, Phase, Variant};
use crate::material::{
    Basis, Charge, Class, Coverage, Hazard, Material, Role, Source, UseRange, WettingMedium,
};
use crate::name_hash::ByHash;
use crate::quantity::{MassFraction, Percent, Ph, in_celsius};

/// A rule of practice as the file states it.
#[derive(Debug, Clone)]
struct Rule {
    id: Arc<str>,
    check: Check,
    level: Level,
    message: Message,
    source: Source,
}

/// The words of a finding, with places for what is found.
#[derive(Debug, Clone)]
struct Message(Vec<Piece>);

#[derive(Debug, Clone)]
enum Piece {
    Text(String),
    Name,
    Value,
    Limit,
    What,
}

impl Message {
    /// Reads the words of the file: `{name}`, `{value}`, `{limit}` and `{what}` are places.
    fn read(text: &str) -> Self {
        let mut pieces = Vec::new();
        let mut rest = text;
        while let Some((at, end, place)) = Self::next_place(rest) {
            pieces.push(Piece::Text(rest[..at].to_owned()));
            pieces.push(place);
            rest = &rest[end..];
        }
        pieces.push(Piece::Text(rest.to_owned()));
        Self(pieces)
    }

    fn next_place(text: &str) -> Option<(usize, usize, Piece)> {
        let places = [
            ("{name}", Piece::Name),
            ("{value}", Piece::Value),
            ("{limit}", Piece::Limit),
            ("{what}", Piece::What),
        ];
        let found = places.into_iter().filter_map(|(mark, place)| {
            let at = text.find(mark)?;
            Some((at, at + mark.len(), place))
        });
        found.min_by_key(|&(at, ..)| at)
    }

    fn fill(&self, words: &Words<'_>) -> String {
        let mut message = String::with_capacity(128);
        for piece in &self.0 {
            message.push_str(match piece {
                Piece::Text(text) => text,
                Piece::Name => words.name,
                Piece::Value => words.value,
                Piece::Limit => words.limit,
                Piece::What => words.what,
            });
        }
        message
    }
}

/// What a rule looks for.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
enum Check {
    TotalNot100,
    MaterialMissing,
    OwnBounds,
    WaterWithoutPreservative { above: f64 },
    PreservativeUnderDose,
    PreservativeOverDose,
    PreservativeOutsidePh,
    OrganismsUncovered,
    OrganismsWeaklyCovered,
    OverSupplierMaximum,
    OverUsualLevel,
    UnderUsualLevel,
    NoUseLevel,
    TooHot,
    GumNotWetted,
    AnionicWithCationicSurfactant,
    AnionicWithCationicPolymer,
    AnionicThickenerWithCationic,
    AnionicThickenerWithSalt { above: f64 },
    Handling(HandlingHazard),
    WaterFreeWetUse { water_below: f64 },
    UnknownComposition { above: f64 },
}

/// Hazards the file may name.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
enum HandlingHazard {
    Dust,
    Corrosive,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleFile {
    version: u32,
    rules: Vec<RuleRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleRecord {
    id: String,
    check: Check,
    level: LevelName,
    message: String,
    basis: BasisName,
    source: String,
}

#[derive(Deserialize)]
enum LevelName {
    Note,
    Caution,
    Breach,
}

#[derive(Deserialize)]
enum BasisName {
    Supplier,
    Published,
    Typical,
    Practice,
}

/// Reads a file of rules of practice; the error names line and column.
fn read(text: &str) -> Result<Vec<Rule>, String> {
    let file: RuleFile = ron::from_str(text).map_err(|e| e.to_string())?;
    if file.version != 1 {
        return Err(format!(
            "version {} of the practice rules is not known here",
            file.version
        ));
    }
    Ok(file
        .rules
        .into_iter()
        .map(|r| Rule {
            id: r.id.into(),
            check: r.check,
            level: match r.level {
                LevelName::Note => Level::Note,
                LevelName::Caution => Level::Caution,
                LevelName::Breach => Level::Breach,
            },
            message: Message::read(&r.message),
            source: Source::new(
                match r.basis {
                    BasisName::Supplier => Basis::Supplier,
                    BasisName::Published => Basis::Published,
                    BasisName::Typical => Basis::Typical,
                    BasisName::Practice => Basis::Practice,
                },
                r.source,
            ),
        })
        .collect())
}

fn rules() -> &'static Result<Vec<Rule>, String> {
    static RULES: OnceLock<Result<Vec<Rule>, String>> = OnceLock::new();
    RULES.get_or_init(|| read(include_str!("../../../../assets/rules/practice.ron")))
}

/// A line with its material, looked up once.
struct Laid<'a> {
    phase: &'a Phase,
    line: &'a Line,
    material: &'a Material,
    /// Which entry of [`Mix::same`] the material has.
    same: usize,
    /// Its usual level in this kind of product.
    range: Option<&'a UseRange>,
    /// Whether it is there to preserve.
    preserves: bool,
}

/// Runs every rule of practice on a variant.
pub fn check(
    formula: &Formula,
    variant: &Variant,
    composition: &Composition,
    findings: &mut Vec<Finding>,
    limits: &mut Vec<LineLimit>,
) {
    let rules = match rules() {
        Ok(rules) => rules,
        Err(error) => {
            findings.push(Finding::new(
                Level::Breach,
                "rules-unreadable",
                format!("The rules of practice cannot be read, so none was checked: {error}"),
                Source::new(Basis::Practice, "assets/rules/practice.ron"),
            ));
            return;
        }
    };
    let mut same: Vec<Same> = Vec::new();
    // A formula carries each material once, so its address tells it apart.
    let mut places = ByHash::default();
    places.reserve(64);
    let laid: Vec<Laid<'_>> = variant
        .lines()
        .filter(|(_, l)| l.percent > Percent::ZERO)
        .filter_map(|(phase, line)| {
            let material = formula.material(&line.material)?;
            let address = std::ptr::from_ref::<Material>(material).addr() as u64;
            let place = *places.entry(address).or_insert(same.len());
            if place == same.len() {
                same.push(Same::default());
            }
            let entry = same.get_mut(place)?;
            entry.dose += line.percent;
            entry.lines.push(line.id);
            Some(Laid {
                phase,
                line,
                material,
                same: place,
                range: material.use_range(variant.product.kind),
                preserves: preserves(material),
            })
        })
        .collect();
    let mut mix = Mix {
        formula,
        variant,
        composition,
        laid: &laid,
        same: &same,
        findings,
    };
    for rule in rules {
        mix.run(rule);
    }
    line_limits(&laid, limits);
}

/// Names of the rules that bound single lines: the maker's own bounds, the supplier's
/// maximum, the highest dose of a preservative.
static BOUNDING: LazyLock<[Arc<str>; 3]> = LazyLock::new(|| {
    [
        "own-bounds",
        "over-supplier-maximum",
        "preservative-over-dose",
    ]
    .map(Into::into)
});

/// The bounds that practice sets to single lines.
fn line_limits(laid: &[Laid<'_>], limits: &mut Vec<LineLimit>) {
    let [own, supplier, dose] = &*BOUNDING;
    for l in laid {
        let mut limit = |most: Percent, rule: &Arc<str>, message: String| {
            limits.push(LineLimit {
                line: l.line.id,
                most,
                rule: rule.clone(),
                message,
            });
        };
        if let Some(max) = l.line.max {
            limit(max, own, format!("your own highest level, {max} %"));
        }
        if let Some(range) = l.range
            && range.supplier_maximum
        {
            limit(
                range.high,
                supplier,
                format!("supplier's maximum, {} %", range.high),
            );
        }
        if let Some(p) = &l.material.preservation {
            limit(
                p.dose_high,
                dose,
                format!("highest dose, {} %", p.dose_high),
            );
        }
    }
}

/// Whether a material is there to preserve.
fn preserves(material: &Material) -> bool {
    material.preservation.is_some()
        || material.has_role(Role::Preservative)
        // A raw material that is itself preserved does not preserve the formula.
        || material.share_of(Class::Preservative).value() >= 0.2
}

/// All lines of one material.
#[derive(Default)]
struct Same {
    dose: Percent,
    lines: Vec<ItemId>,
}

/// Everything the checks look at.
struct Mix<'a> {
    formula: &'a Formula,
    variant: &'a Variant,
    composition: &'a Composition,
    laid: &'a [Laid<'a>],
    same: &'a [Same],
    findings: &'a mut Vec<Finding>,
}

/// Words for the braces of a message.
#[derive(Default)]
struct Words<'a> {
    name: &'a str,
    value: &'a str,
    limit: &'a str,
    what: &'a str,
}

impl<'a> Mix<'a> {
    fn say(&mut self, rule: &Rule, lines: Vec<ItemId>, words: &Words<'_>) {
        self.say_from(rule, lines, words, rule.source.clone());
    }

    fn say_from(&mut self, rule: &Rule, lines: Vec<ItemId>, words: &Words<'_>, source: Source) {
        self.findings.push(
            Finding::new(
                rule.level,
                rule.id.clone(),
                rule.message.fill(words),
                source,
            )
            .on(lines),
        );
    }

    fn preservatives(&self) -> impl Iterator<Item = &'a Laid<'a>> + use<'a> {
        self.laid.iter().filter(|l| l.preserves)
    }

    /// Percentage of a material over all its lines.
    fn dose(&self, of: &Laid<'_>) -> Percent {
        self.same
            .get(of.same)
            .map_or(Percent::ZERO, |same| same.dose)
    }

    /// All lines of a material, if `of` is the first of them.
    fn lines_if_first(&self, of: &Laid<'_>) -> Option<&'a [ItemId]> {
        let lines = self.same.get(of.same)?.lines.as_slice();
        (lines.first() == Some(&of.line.id)).then_some(lines)
    }

    /// The stated pH: measured if there is one, else the one aimed at.
    fn stated_ph(&self) -> Option<Ph> {
        self.variant.measured.ph.or(self.variant.target_ph)
    }

    fn run(&mut self, rule: &Rule) {
        match rule.check {
            Check::TotalNot100 => {
                let total = self.composition.total;
                if total != Percent::HUNDRED {
                    self.say(
                        rule,
                        Vec::new(),
                        &Words {
                            value: &total.to_string(),
                            ..Words::default()
                        },
                    );
                }
            }
            Check::MaterialMissing => {
                for (_, line) in self.variant.lines() {
                    if self.formula.material(&line.material).is_none() {
                        let name = line.material.as_str();
                        self.say(
                            rule,
                            vec![line.id],
                            &Words {
                                name,
                                ..Words::default()
                            },
                        );
                    }
                }
            }
            Check::OwnBounds => {
                for l in self.laid {
                    let (min, max) = (l.line.min, l.line.max);
                    let out = min.is_some_and(|m| l.line.percent < m)
                        || max.is_some_and(|m| l.line.percent > m);
                    if out {
                        let text = |p: Option<Percent>, open: &str| {
                            p.map_or_else(|| open.to_owned(), |p| p.to_string())
                        };
                        let limit = format!("{} to {}", text(min, "0"), text(max, "100"));
                        let value = l.line.percent.to_string();
                        self.say(
                            rule,
                            vec![l.line.id],
                            &Words {
                                name: &l.material.name,
                                value: &value,
                                limit: &limit,
                                what: "",
                            },
                        );
                    }
                }
            }
            Check::WaterWithoutPreservative { above } => {
                let water = self.composition.water().typical.as_percent();
                if water > above && self.preservatives().next().is_none() {
                    let lines = self
                        .laid
                        .iter()
                        .filter(|l| l.material.share_of(Class::Water) > MassFraction::ZERO)
                        .map(|l| l.line.id)
                        .collect();
                    self.say(
                        rule,
                        lines,
                        &Words {
                            value: &format!("{water:.1}"),
                            ..Words::default()
                        },
                    );
                }
            }
            Check::PreservativeUnderDose => self.doses(rule, |dose, p| (dose < p.0).then_some(p.0)),
            Check::PreservativeOverDose => self.doses(rule, |dose, p| (dose > p.1).then_some(p.1)),
            Check::PreservativeOutsidePh => {
                let Some(ph) = self.stated_ph() else { return };
                for l in self.preservatives() {
                    let Some(p) = &l.material.preservation else {
                        continue;
                    };
                    let Some(range) = p.ph else { continue };
                    if range.contains(ph) {
                        continue;
                    }
                    if let Some(lines) = self.lines_if_first(l) {
                        let limit = format!("{:.1} to {:.1}", range.low, range.high);
                        let words = Words {
                            name: &l.material.name,
                            value: &format!("{ph:.1}"),
                            limit: &limit,
                            what: "",
                        };
                        self.say_from(rule, lines.to_vec(), &words, p.source.clone());
                    }
                }
            }
            Check::OrganismsUncovered => self.coverage(rule, Coverage::None),
            Check::OrganismsWeaklyCovered => self.coverage(rule, Coverage::Weak),
            Check::OverSupplierMaximum
            | Check::OverUsualLevel
            | Check::UnderUsualLevel
            | Check::NoUseLevel => {
                self.use_levels(rule);
            }
            Check::TooHot => {
                for l in self.laid {
                    let Some(bears) = &l.material.max_temperature else {
                        continue;
                    };
                    let hottest = l
                        .phase
                        .steps
                        .iter()
                        .filter_map(|s| s.temperature)
                        .chain(l.phase.temperature)
                        .map(in_celsius)
                        .fold(f64::NEG_INFINITY, f64::max);
                    let limit = in_celsius(bears.value);
                    if hottest > limit + 0.5 {
                        let words = Words {
                            name: &l.material.name,
                            value: &format!("{hottest:.0}"),
                            limit: &format!("{limit:.0}"),
                            what: "",
                        };
                        self.say(rule, vec![l.line.id], &words);
                    }
                }
            }
            Check::GumNotWetted => {
                for phase in self.laid.chunk_by(|a, b| a.phase.id == b.phase.id) {
                    for (place, l) in phase.iter().enumerate() {
                        let media = &l.material.wet_with;
                        if media.is_empty() || wetted(media, place, phase) {
                            continue;
                        }
                        self.say(
                            rule,
                            vec![l.line.id],
                            &Words {
                                name: &l.material.name,
                                what: &wetting_words(media),
                                ..Words::default()
                            },
                        );
                    }
                }
            }
            Check::AnionicWithCationicSurfactant => {
                let cationic = self.of(is_cationic_surfactant);
                self.opposed(rule, &cationic);
            }
            Check::AnionicWithCationicPolymer => {
                let cationic = self.of(is_cationic_polymer);
                self.opposed(rule, &cationic);
            }
            Check::AnionicThickenerWithCationic => {
                let cationic = self.of(|m| is_cationic_surfactant(m) || is_cationic_polymer(m));
                if cationic.is_empty() {
                    return;
                }
                let what = names(&cationic);
                for l in self.of(is_anionic_thickener) {
                    let lines = std::iter::once(l.line.id)
                        .chain(cationic.iter().map(|c| c.line.id))
                        .collect();
                    self.say(
                        rule,
                        lines,
                        &Words {
                            name: &l.material.name,
                            what: &what,
                            ..Words::default()
                        },
                    );
                }
            }
            Check::AnionicThickenerWithSalt { above } => {
                let salt = self
                    .composition
                    .class(Class::Electrolyte)
                    .typical
                    .as_percent();
                if salt > above {
                    for l in self.of(|m| is_anionic_thickener(m) && !bears_salt(m)) {
                        self.say(
                            rule,
                            vec![l.line.id],
                            &Words {
                                name: &l.material.name,
                                value: &format!("{salt:.2}"),
                                ..Words::default()
                            },
                        );
                    }
                }
            }
            Check::Handling(hazard) => {
                let wanted = match hazard {
                    HandlingHazard::Dust => Hazard::Dust,
                    HandlingHazard::Corrosive => Hazard::Corrosive,
                };
                let lines = self.of(|m| m.hazards.contains(&wanted));
                if !lines.is_empty() {
                    let what = names(&lines);
                    self.say(
                        rule,
                        lines.iter().map(|l| l.line.id).collect(),
                        &Words {
                            what: &what,
                            ..Words::default()
                        },
                    );
                }
            }
            Check::WaterFreeWetUse { water_below } => {
                let water = self.composition.water().typical.as_percent();
                if self.variant.product.wet_use
                    && !self.laid.is_empty()
                    && water < water_below
                    && self.preservatives().next().is_none()
                {
                    self.say(rule, Vec::new(), &Words::default());
                }
            }
            Check::UnknownComposition { above } => {
                let unknown = self.composition.unknown.as_percent();
                if unknown > above {
                    let lines: Vec<ItemId> = self
                        .composition
                        .lines
                        .iter()
                        .filter(|l| l.unknown > MassFraction::ZERO)
                        .map(|l| l.line)
                        .collect();
                    let in_doubt: BTreeSet<ItemId> = lines.iter().copied().collect();
                    let laid = self.laid.iter().filter(|l| in_doubt.contains(&l.line.id));
                    let what = names(&laid.collect::<Vec<_>>());
                    self.say(
                        rule,
                        lines,
                        &Words {
                            value: &format!("{unknown:.2}"),
                            what: &what,
                            ..Words::default()
                        },
                    );
                }
            }
        }
    }

    fn of(&self, wanted: impl Fn(&Material) -> bool) -> Vec<&'a Laid<'a>> {
        self.laid.iter().filter(|l| wanted(l.material)).collect()
    }

    /// Anionic surfactants against the given cationic lines.
    fn opposed(&mut self, rule: &Rule, cationic: &[&Laid<'_>]) {
        if cationic.is_empty() {
            return;
        }
        let anionic =
            self.of(|m| m.share_of(Class::Surfactant(Charge::Anionic)) > MassFraction::ZERO);
        if anionic.is_empty() {
            return;
        }
        let lines = anionic.iter().chain(cationic).map(|l| l.line.id).collect();
        let polymer = matches!(rule.check, Check::AnionicWithCationicPolymer);
        let what = if polymer {
            names(cationic)
        } else {
            format!("{} and {}", names(&anionic), names(cationic))
        };
        self.say(
            rule,
            lines,
            &Words {
                what: &what,
                ..Words::default()
            },
        );
    }

    fn doses(
        &mut self,
        rule: &Rule,
        broken: impl Fn(Percent, (Percent, Percent)) -> Option<Percent>,
    ) {
        for l in self.preservatives() {
            let Some(p) = &l.material.preservation else {
                continue;
            };
            let dose = self.dose(l);
            let Some(limit) = broken(dose, (p.dose_low, p.dose_high)) else {
                continue;
            };
            if let Some(lines) = self.lines_if_first(l) {
                let (value, limit) = (dose.to_string(), limit.to_string());
                let words = Words {
                    name: &l.material.name,
                    value: &value,
                    limit: &limit,
                    what: "",
                };
                self.say_from(rule, lines.to_vec(), &words, p.source.clone());
            }
        }
    }

    fn coverage(&mut self, rule: &Rule, level: Coverage) {
        let data: Vec<_> = self
            .preservatives()
            .filter_map(|l| l.material.preservation.as_ref())
            .collect();
        // A preservative without data: its cover is unknown and cannot be judged.
        if data.is_empty() || data.len() < self.preservatives().count() {
            return;
        }
        let best = |of: fn(&crate::material::Preservation) -> Coverage| {
            data.iter().map(|p| of(p)).max().unwrap_or(Coverage::None)
        };
        let open: Vec<&str> = [
            ("bacteria", best(|p| p.bacteria)),
            ("yeast", best(|p| p.yeast)),
            ("mould", best(|p| p.mould)),
        ]
        .into_iter()
        .filter(|&(_, cover)| cover == level)
        .map(|(name, _)| name)
        .collect();
        if !open.is_empty() && self.composition.water().typical > MassFraction::ZERO {
            let lines = self.preservatives().map(|l| l.line.id).collect();
            self.say(
                rule,
                lines,
                &Words {
                    what: &open.join(" and "),
                    ..Words::default()
                },
            );
        }
    }

    fn use_levels(&mut self, rule: &Rule) {
        let kind = self.variant.product.kind;
        for l in self.laid {
            let Some(lines) = self.lines_if_first(l) else {
                continue;
            };
            let total = self.dose(l);
            let Some(range) = l.range else {
                if rule.check == Check::NoUseLevel
                    && let Some(other) = l.material.use_ranges.first()
                {
                    let words = Words {
                        name: &l.material.name,
                        what: other.kind.label(),
                        ..Words::default()
                    };
                    self.say_from(rule, lines.to_vec(), &words, other.source.clone());
                }
                continue;
            };
            let limit = match rule.check {
                Check::OverSupplierMaximum if range.supplier_maximum && total > range.high => {
                    range.high
                }
                Check::OverUsualLevel if !range.supplier_maximum && total > range.high => {
                    range.high
                }
                Check::UnderUsualLevel if total < range.low => range.low,
                _ => continue,
            };
            let (value, limit) = (total.to_string(), limit.to_string());
            let words = Words {
                name: &l.material.name,
                value: &value,
                limit: &limit,
                what: kind.label(),
            };
            self.say_from(rule, lines.to_vec(), &words, range.source.clone());
        }
    }
}

fn is_cationic_surfactant(m: &Material) -> bool {
    m.share_of(Class::Surfactant(Charge::Cationic)) > MassFraction::ZERO
}

fn is_cationic_polymer(m: &Material) -> bool {
    m.charge == Some(Charge::Cationic) && !is_cationic_surfactant(m)
}

fn is_anionic_thickener(m: &Material) -> bool {
    m.charge == Some(Charge::Anionic) && m.share_of(Class::Thickener) > MassFraction::ZERO
}

/// Xanthan gum keeps its strength in salt; common practice, no source.
fn bears_salt(m: &Material) -> bool {
    m.constituents
        .iter()
        .any(|c| c.inci.eq_ignore_ascii_case("Xanthan Gum"))
}

/// Whether a gum at a place of its phase is laid into a fitting medium before any water
/// enters the phase.
fn wetted(media: &[WettingMedium], place: usize, phase: &[Laid<'_>]) -> bool {
    let fits = |l: &Laid<'_>| media.iter().any(|&w| is_medium(l.material, w));
    let first_water = phase
        .iter()
        .position(|l| l.material.share_of(Class::Water).value() > 0.5 && !fits(l))
        .unwrap_or(phase.len());
    place < first_water && phase[..first_water].iter().any(fits)
}

/// Whether a material serves as a wetting medium: at least a quarter of it for
/// surfactants (sold as solutions), half for the others.
pub(crate) fn is_medium(m: &Material, medium: WettingMedium) -> bool {
    match medium {
        WettingMedium::Humectant => m.share_of(Class::Humectant).value() >= 0.5,
        WettingMedium::Oil => m.share_of(Class::Oil).value() >= 0.5,
        WettingMedium::Alcohol => m.share_of(Class::Solvent).value() >= 0.5,
        WettingMedium::Surfactant => {
            Charge::ALL
                .iter()
                .map(|&c| m.share_of(Class::Surfactant(c)).value())
                .sum::<f64>()
                >= 0.25
        }
    }
}

/// The media in words, joined with “or”.
pub(crate) fn wetting_words(media: &[WettingMedium]) -> String {
    media
        .iter()
        .map(|m| match m {
            WettingMedium::Humectant => "a humectant such as glycerin",
            WettingMedium::Oil => "an oil",
            WettingMedium::Surfactant => "a surfactant",
            WettingMedium::Alcohol => "alcohol",
        })
        .collect::<Vec<_>>()
        .join(" or ")
}

fn names(lines: &[&Laid<'_>]) -> String {
    let mut seen = BTreeSet::new();
    let names = lines.iter().map(|l| l.material.name.as_ref());
    let names: Vec<&str> = names.filter(|name| seen.insert(*name)).collect();
    names.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::compose;
    use crate::fixture::{formula, line, material, phased};
    use crate::material::Preservation;
    use crate::quantity::{PhRange, celsius};

    const ANIONIC: Class = Class::Surfactant(Charge::Anionic);

    fn water() -> Arc<Material> {
        material("water", &[("Aqua", 100.0, Class::Water)])
    }

    fn changed(m: &Arc<Material>, change: impl FnOnce(&mut Material)) -> Arc<Material> {
        let mut m = m.as_ref().clone();
        change(&mut m);
        Arc::new(m)
    }

    fn percent(text: &str) -> Percent {
        text.parse().unwrap()
    }

    fn preservative() -> Arc<Material> {
        changed(
            &material(
                "benzoate",
                &[("Sodium Benzoate", 100.0, Class::Preservative)],
            ),
            |m| {
                m.preservation = Some(Preservation {
                    bacteria: Coverage::Good,
                    yeast: Coverage::Good,
                    mould: Coverage::Weak,
                    dose_low: percent("0.3"),
                    dose_high: percent("1"),
                    ph: PhRange::new(3.0, 5.2),
                    formaldehyde_donor: false,
                    source: Source::new(Basis::Practice, ""),
                });
            },
        )
    }

    fn found(f: &Formula) -> Vec<String> {
        let (mut findings, mut limits) = (Vec::new(), Vec::new());
        check(
            f,
            f.active(),
            &compose(f, f.active()),
            &mut findings,
            &mut limits,
        );
        findings.iter().map(|f| f.rule.to_string()).collect()
    }

    fn with(f: &Formula, change: impl FnOnce(&mut Variant)) -> Formula {
        let mut f = f.clone();
        let mut v = f.active().as_ref().clone();
        change(&mut v);
        f.variants = vec![Arc::new(v)];
        f
    }

    #[test]
    fn the_rule_file_reads() {
        assert!(rules().as_ref().unwrap().len() >= 22);
        assert!(
            read("(version: 1, rules: [(id: 3)])")
                .unwrap_err()
                .contains("1:")
        );
        assert!(
            read("(version: 9, rules: [])")
                .unwrap_err()
                .contains("version 9")
        );
    }

    #[test]
    fn a_total_off_100_is_a_breach_and_exactly_100_is_not() {
        assert!(
            found(&formula(vec![line(&preservative(), "0.5")])).contains(&"total-not-100".into())
        );
        assert!(
            !found(&formula(vec![
                line(&preservative(), "0.5"),
                line(&water(), "99.5")
            ]))
            .contains(&"total-not-100".into())
        );
        assert!(
            found(&formula(vec![
                line(&preservative(), "0.5"),
                line(&water(), "99.500001")
            ]))
            .contains(&"total-not-100".into())
        );
    }

    #[test]
    fn water_asks_for_a_preservative() {
        // Any water needs a preservative: common practice, no source.
        assert!(
            found(&formula(vec![line(&water(), "100")]))
                .contains(&"water-without-preservative".into())
        );
        assert!(
            !found(&formula(vec![
                line(&water(), "99.5"),
                line(&preservative(), "0.5")
            ]))
            .contains(&"water-without-preservative".into())
        );
    }

    #[test]
    fn preservative_dose_ph_and_coverage() {
        let f = |dose: &str, rest: &str| {
            formula(vec![line(&water(), rest), line(&preservative(), dose)])
        };
        assert!(found(&f("0.2", "99.8")).contains(&"preservative-under-dose".into()));
        assert!(found(&f("1.1", "98.9")).contains(&"preservative-over-dose".into()));
        let good = f("0.5", "99.5");
        assert_eq!(found(&good), ["organisms-weakly-covered"]);
        assert!(
            found(&with(&good, |v| v.target_ph = Ph::new(6.0)))
                .contains(&"preservative-outside-ph".into())
        );
        assert!(
            !found(&with(&good, |v| v.target_ph = Ph::new(5.0)))
                .contains(&"preservative-outside-ph".into())
        );
        // A measured pH overrides the one aimed at.
        let measured = with(&good, |v| {
            v.target_ph = Ph::new(5.0);
            v.measured.ph = Ph::new(6.5);
        });
        assert!(found(&measured).contains(&"preservative-outside-ph".into()));
    }

    #[test]
    fn use_levels_and_their_limits() {
        let gum = changed(&material("gum", &[("Gum", 100.0, Class::Thickener)]), |m| {
            m.use_ranges.push(UseRange {
                kind: crate::material::ProductKind::RinseOff,
                low: percent("0.2"),
                high: percent("1"),
                supplier_maximum: false,
                source: Source::new(Basis::Practice, ""),
            });
        });
        let strict = changed(&gum, |m| m.use_ranges[0].supplier_maximum = true);
        assert!(found(&formula(vec![line(&gum, "1.1")])).contains(&"over-usual-level".into()));
        assert!(found(&formula(vec![line(&gum, "0.1")])).contains(&"under-usual-level".into()));
        // Two lines of one material count together.
        assert!(
            found(&formula(vec![line(&strict, "0.6"), line(&strict, "0.6")]))
                .contains(&"over-supplier-maximum".into())
        );
        let leave_on = with(&formula(vec![line(&gum, "0.5")]), |v| {
            v.product.kind = crate::material::ProductKind::LeaveOn;
        });
        assert!(found(&leave_on).contains(&"no-use-level".into()));
    }

    #[test]
    fn gum_is_wetted_before_water_goes_in() {
        // Gum wetted before water: common practice, no source.
        let gum = changed(&material("gum", &[("Gum", 100.0, Class::Thickener)]), |m| {
            m.wet_with = vec![WettingMedium::Humectant];
        });
        let glycerin = material(
            "glycerin",
            &[
                ("Glycerin", 99.5, Class::Humectant),
                ("Aqua", 0.5, Class::Water),
            ],
        );
        let dry = "gum-not-wetted".to_owned();
        assert!(
            found(&formula(vec![
                line(&water(), "90"),
                line(&gum, "1"),
                line(&glycerin, "9")
            ]))
            .contains(&dry)
        );
        assert!(
            !found(&formula(vec![
                line(&glycerin, "9"),
                line(&gum, "1"),
                line(&water(), "90")
            ]))
            .contains(&dry)
        );
        assert!(
            !found(&phased(vec![
                vec![line(&water(), "90")],
                vec![line(&gum, "1"), line(&glycerin, "9")]
            ]))
            .contains(&dry)
        );
        assert!(
            found(&phased(vec![
                vec![line(&water(), "90"), line(&glycerin, "9")],
                vec![line(&gum, "1")]
            ]))
            .contains(&dry)
        );
    }

    #[test]
    fn heat_sensitive_material_belongs_into_the_cool_down() {
        // Fragrance and preservative in the cool-down: common practice, no source.
        let perfume = changed(
            &material("perfume", &[("Parfum", 100.0, Class::Fragrance)]),
            |m| {
                m.max_temperature = Some(crate::material::Sourced::new(
                    celsius(40.0),
                    Source::new(Basis::Practice, ""),
                ));
            },
        );
        let f = formula(vec![line(&perfume, "1")]);
        let at = |degrees: f64| {
            with(&f, |v| {
                let mut phase = v.phases[0].as_ref().clone();
                phase.temperature = Some(celsius(degrees));
                v.phases = vec![Arc::new(phase)];
            })
        };
        assert!(found(&at(75.0)).contains(&"too-hot".into()));
        assert!(!found(&at(40.0)).contains(&"too-hot".into()));
    }

    #[test]
    fn opposite_charges_meet() {
        let sles = material(
            "sles",
            &[
                ("Sodium Laureth Sulfate", 28.0, ANIONIC),
                ("Aqua", 72.0, Class::Water),
            ],
        );
        let quat = material(
            "quat",
            &[
                (
                    "Cetrimonium Chloride",
                    30.0,
                    Class::Surfactant(Charge::Cationic),
                ),
                ("Aqua", 70.0, Class::Water),
            ],
        );
        let polymer = changed(
            &material(
                "polymer",
                &[("Polyquaternium-10", 100.0, Class::Conditioner)],
            ),
            |m| m.charge = Some(Charge::Cationic),
        );
        let carbomer = changed(
            &material("carbomer", &[("Carbomer", 100.0, Class::Thickener)]),
            |m| m.charge = Some(Charge::Anionic),
        );
        let salt = material("salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
        assert!(
            found(&formula(vec![line(&sles, "30"), line(&quat, "3")]))
                .contains(&"anionic-with-cationic".into())
        );
        assert!(
            found(&formula(vec![line(&sles, "30"), line(&polymer, "0.3")]))
                .contains(&"anionic-with-cationic-polymer".into())
        );
        assert!(
            found(&formula(vec![line(&carbomer, "0.3"), line(&quat, "3")]))
                .contains(&"anionic-thickener-with-cationic".into())
        );
        assert!(
            found(&formula(vec![line(&carbomer, "0.3"), line(&salt, "2")]))
                .contains(&"anionic-thickener-with-salt".into())
        );
        assert!(
            !found(&formula(vec![line(&carbomer, "0.3"), line(&salt, "0.5")]))
                .contains(&"anionic-thickener-with-salt".into())
        );
    }

    #[test]
    fn handling_wet_use_and_unknowns() {
        let powder = changed(
            &material("powder", &[("Sodium Coco-Sulfate", 90.0, ANIONIC)]),
            |m| m.hazards = vec![Hazard::Dust],
        );
        let lye = changed(
            &material("lye", &[("Sodium Hydroxide", 100.0, Class::AcidBase)]),
            |m| m.hazards = vec![Hazard::Corrosive],
        );
        let rules = found(&formula(vec![line(&powder, "50"), line(&lye, "1")]));
        for rule in ["dust", "corrosive", "unknown-composition"] {
            assert!(rules.contains(&rule.to_owned()), "{rule}");
        }
        let oil = material("oil", &[("Oil", 100.0, Class::Oil)]);
        let balm = with(&formula(vec![line(&oil, "100")]), |v| {
            v.product.wet_use = true;
        });
        assert_eq!(found(&balm), ["water-free-wet-use"]);
    }
}
