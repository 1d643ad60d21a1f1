//! Findings: what a check has to say, about what, where, on what ground, and what to do.

use std::fmt::{self, Write as _};
use std::sync::Arc;

use crate::amount::Measure;
use crate::ids::ItemId;
use crate::inci::Inci;
use crate::material::{PhaseKind, Role, Source};
use crate::quantity::{MassFraction, Percent};

/// How grave a finding is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Level {
    /// Information.
    Note,
    /// Outside usual practice, or a risk.
    Caution,
    /// Over a limit, or a rule broken.
    Breach,
}

impl Level {
    /// Gravest first.
    pub const ALL: [Self; 3] = [Self::Breach, Self::Caution, Self::Note];
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Note => "Note",
            Self::Caution => "Caution",
            Self::Breach => "Breach",
        }
    }
}

/// What a finding asks of the reader; notes are folded by it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum FindingSubject {
    /// Something to act on now: the formula, its figures or what is stated of it.
    Act,
    /// Something the label has to say.
    Label,
    /// A text or condition to be read, which the program cannot decide.
    Read,
    /// Something that binds on a later day.
    Later,
}

impl FindingSubject {
    /// All subjects, in the order of display.
    pub const ALL: [Self; 4] = [Self::Act, Self::Label, Self::Read, Self::Later];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Act => "To act on",
            Self::Label => "For the label",
            Self::Read => "To read",
            Self::Later => "For later",
        }
    }
}

/// What a finding is about, as a key that stays the same while figures change.
///
/// Several findings of one matter are one thing to a reader.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Matter(Arc<str>);

impl Matter {
    /// A matter by its own name, for example `preservation`.
    pub fn of(name: &str) -> Self {
        Self(name.into())
    }
    /// A substance, by its INCI name.
    pub fn substance(inci: &Inci) -> Self {
        Self(format!("substance {}", inci.folded()).into())
    }
    /// A line of the formula.
    pub fn line(line: ItemId) -> Self {
        Self(format!("line {}", line.0).into())
    }
    /// The key as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for Matter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A figure that a finding holds against a limit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum FindingValue {
    /// A share of the whole formula.
    Share(MassFraction),
    /// A pH.
    Ph(f64),
    /// A temperature in degrees Celsius.
    Celsius(f64),
    /// A plain number without unit, for example a ratio.
    Number(f64),
}

impl FindingValue {
    /// The bare number: percent of the formula, pH, degrees Celsius or the number itself.
    pub fn number(self) -> f64 {
        match self {
            Self::Share(share) => share.as_percent(),
            Self::Ph(value) | Self::Celsius(value) | Self::Number(value) => value,
        }
    }
    /// The unit as shown; empty for a plain number and for pH.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Share(_) => "%",
            Self::Celsius(_) => "°C",
            Self::Ph(_) | Self::Number(_) => "",
        }
    }
}

/// A limit that a figure is held against.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Limit {
    /// Not more than this.
    AtMost(FindingValue),
    /// Not less than this.
    AtLeast(FindingValue),
}

impl Limit {
    /// The figure of the limit.
    pub const fn value(self) -> FindingValue {
        match self {
            Self::AtMost(value) | Self::AtLeast(value) => value,
        }
    }
}

/// A field in which the maker states what a finding asks for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum StatedField {
    /// Washed off or left on.
    Kind,
    /// The type of the product.
    ProductType,
    /// Where on the body it is used.
    Places,
    /// Where it is sold.
    Markets,
    /// The day of placing on the market.
    MarketDate,
    /// Whether it is for children under three.
    UnderThree,
    /// Whether it is sprayed.
    Spray,
    /// Whether it is for professional use.
    Professional,
    /// Whether wet hands or water reach it in use.
    WetUse,
    /// The category of the fragrance trade association.
    FragranceCategory,
    /// The pH aimed at.
    TargetPh,
    /// The pH measured.
    MeasuredPh,
    /// What is stated for the label.
    Label,
    /// The percentage of a line.
    Percent(ItemId),
    /// What a line is there for.
    Purpose(ItemId),
    /// The material of a line on the Shelf: composition, allergens, certificate.
    Material(ItemId),
    /// The working temperature of a phase.
    Temperature(ItemId),
}

/// What the program can do about a finding at the press of a button.
#[derive(Clone, PartialEq, Debug)]
pub enum Remedy {
    /// Bring a line down to its limit and hold it there.
    HoldAtLimit {
        /// The line.
        line: ItemId,
        /// The limit.
        percent: Percent,
    },
    /// Set a line to a percentage.
    SetPercent {
        /// The line.
        line: ItemId,
        /// The percentage.
        percent: Percent,
    },
    /// Move a line to a phase of a kind, for example the cool-down.
    MoveToPhase {
        /// The line.
        line: ItemId,
        /// The kind of phase.
        kind: PhaseKind,
    },
    /// Put a powder first into its phase, after what wets it.
    WetFirst {
        /// The line of the powder.
        line: ItemId,
        /// The line of what wets it.
        medium: ItemId,
    },
    /// Add a material that is missing; the maker chooses which one.
    AddMaterial {
        /// What it has to do in the formula.
        role: Role,
    },
    /// Exchange the material of a line for another.
    SwapMaterial {
        /// The line.
        line: ItemId,
    },
    /// State what the finding asks for.
    OpenField(StatedField),
    /// Work out how much acid or base brings the pH to the one aimed at, and add it.
    AdjustPh,
}

impl StatedField {
    /// What the field is called in a sentence.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Kind => "whether it is washed off or left on",
            Self::ProductType => "the type of product",
            Self::Places => "where it is used",
            Self::Markets => "where it is sold",
            Self::MarketDate => "the day of placing on the market",
            Self::UnderThree => "whether it is for children under three",
            Self::Spray => "whether it is sprayed",
            Self::Professional => "whether it is for professional use",
            Self::WetUse => "whether water reaches it in use",
            Self::FragranceCategory => "the fragrance category",
            Self::TargetPh => "the pH aimed at",
            Self::MeasuredPh => "the pH measured",
            Self::Label => "what the label says",
            Self::Percent(_) => "the percentage",
            Self::Purpose(_) => "what it is there for",
            Self::Material(_) => "what is known of the material",
            Self::Temperature(_) => "the working temperature",
        }
    }
    /// The line whose field it is, if it is one of a line.
    pub const fn line(self) -> Option<ItemId> {
        match self {
            Self::Percent(line) | Self::Purpose(line) | Self::Material(line) => Some(line),
            _ => None,
        }
    }
}

impl Remedy {
    /// What a button for it says. `name` gives the name of a line's material.
    pub fn words(&self, name: impl Fn(ItemId) -> String) -> String {
        match self {
            Self::HoldAtLimit { line, percent } => {
                let percent = percent.down_to_hundredths();
                format!("Hold {} at {percent} %", name(*line))
            }
            Self::SetPercent { line, percent } => format!("Set {} to {percent} %", name(*line)),
            Self::MoveToPhase { line, kind } => {
                format!("Move {} to the {}", name(*line), kind.label())
            }
            Self::WetFirst { line, medium } => {
                format!("Wet {} with {} first", name(*line), name(*medium))
            }
            Self::AddMaterial { role } => {
                let what = role.label();
                let article = if what.starts_with(['a', 'e', 'i', 'o']) {
                    "an"
                } else {
                    "a"
                };
                format!("Add {article} {what}")
            }
            Self::SwapMaterial { line } => format!("Swap {}", name(*line)),
            Self::OpenField(StatedField::Purpose(line)) => {
                format!("State what {} is there for", name(*line))
            }
            Self::OpenField(field) => match field.line() {
                Some(line) => format!("State {} of {}", field.label(), name(line)),
                None => format!("State {}", field.label()),
            },
            Self::AdjustPh => "Adjust the pH".to_owned(),
        }
    }
}

/// One result of a check. Made by [`Finding::new`] and what follows it.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
pub struct Finding {
    /// How grave.
    pub level: Level,
    /// Stable name of the rule, for example `total-not-100` or `EU V/29`.
    pub rule: Arc<str>,
    /// What is the matter and what to do, in plain words.
    pub message: String,
    /// The lines concerned, in working order; empty if the whole formula.
    pub lines: Vec<ItemId>,
    /// The ground it stands on.
    pub source: Source,
    /// What it is about, if it shares that with other findings; else its rule and lines.
    pub matter: Option<Matter>,
    /// What it asks of the reader.
    pub subject: FindingSubject,
    /// The figure found, where one is held against a limit.
    pub amount: Option<FindingValue>,
    /// The limit it is held against.
    pub limit: Option<Limit>,
    /// What the program can do about it.
    pub remedy: Option<Remedy>,
    /// Other rules that say the same of the same matter, folded into this finding.
    pub also: Vec<Also>,
    /// Read and set aside by the maker, until its words or figures change.
    pub set_aside: bool,
}

/// A finding folded into another of the same matter.
#[derive(Clone, PartialEq, Debug)]
pub struct Also {
    /// Its rule.
    pub rule: Arc<str>,
    /// What it says.
    pub message: String,
    /// The ground it stands on.
    pub source: Source,
}

/// A finding that the maker has read and set aside: by its rule and its words, so that other
/// figures bring it back.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct SetAside {
    /// The rule.
    pub rule: Arc<str>,
    /// Its words, with the figures.
    pub message: Arc<str>,
}

impl Finding {
    /// A finding on the whole formula: to act on, or to read if it is a note.
    pub fn new(
        level: Level,
        rule: impl Into<Arc<str>>,
        message: impl Into<String>,
        source: Source,
    ) -> Self {
        Self {
            level,
            rule: rule.into(),
            message: message.into(),
            lines: Vec::new(),
            source,
            matter: None,
            subject: match level {
                Level::Note => FindingSubject::Read,
                Level::Caution | Level::Breach => FindingSubject::Act,
            },
            amount: None,
            limit: None,
            remedy: None,
            also: Vec::new(),
            set_aside: false,
        }
    }
    /// The lines concerned, in working order.
    #[must_use]
    pub fn on(mut self, lines: impl Into<Vec<ItemId>>) -> Self {
        self.lines = lines.into();
        self
    }
    /// What it is about.
    #[must_use]
    pub fn about(mut self, matter: Matter) -> Self {
        self.matter = Some(matter);
        self
    }
    /// What it asks of the reader.
    #[must_use]
    pub const fn asks(mut self, subject: FindingSubject) -> Self {
        self.subject = subject;
        self
    }
    /// The figure found and the limit it is held against.
    #[must_use]
    pub const fn against(mut self, amount: FindingValue, limit: Limit) -> Self {
        self.amount = Some(amount);
        self.limit = Some(limit);
        self
    }
    /// What the program can do about it.
    #[must_use]
    pub fn remedy(mut self, remedy: Remedy) -> Self {
        self.remedy = Some(remedy);
        self
    }
    /// Offers to open a field, unless there is another remedy already.
    #[must_use]
    pub fn open(self, field: StatedField) -> Self {
        if self.remedy.is_some() {
            self
        } else {
            self.remedy(Remedy::OpenField(field))
        }
    }
    /// How the maker sets it aside; a breach cannot be.
    pub fn aside(&self) -> Option<SetAside> {
        (self.level < Level::Breach).then(|| SetAside {
            rule: self.rule.clone(),
            message: self.message.as_str().into(),
        })
    }
    /// Whether it is counted with what must be acted on: a breach or caution that binds today
    /// and is not set aside.
    pub fn counts(&self) -> bool {
        self.level > Level::Note && self.subject != FindingSubject::Later && !self.set_aside
    }
    /// Whether it is about the formula as a whole: it names no line, or something is missing,
    /// which stands in no line.
    pub fn concerns_whole(&self) -> bool {
        self.lines.is_empty() || matches!(self.remedy, Some(Remedy::AddMaterial { .. }))
    }
    /// The line at which it is told: that of its remedy, else the first one. None if it is
    /// about the formula as a whole.
    pub fn told_at(&self) -> Option<ItemId> {
        let remedied = match &self.remedy {
            Some(
                Remedy::HoldAtLimit { line, .. }
                | Remedy::SetPercent { line, .. }
                | Remedy::MoveToPhase { line, .. }
                | Remedy::WetFirst { line, .. }
                | Remedy::SwapMaterial { line },
            ) => Some(*line),
            Some(Remedy::OpenField(field)) => field.line(),
            Some(Remedy::AddMaterial { .. } | Remedy::AdjustPh) | None => None,
        };
        if self.concerns_whole() {
            return None;
        }
        (remedied.filter(|line| self.lines.contains(line))).or_else(|| self.lines.first().copied())
    }
    /// How far the amount is over the limit, as a factor; none if no share is limited.
    fn excess(&self) -> Option<f64> {
        match (self.amount, self.limit) {
            (
                Some(FindingValue::Share(amount)),
                Some(Limit::AtMost(FindingValue::Share(limit))),
            ) => Some(amount.value() / limit.value().max(f64::MIN_POSITIVE)),
            _ => None,
        }
    }
    /// What tells it from every other finding and from itself with other figures, whatever
    /// its words: rule, level, matter, lines, and the figures it stands on as they are shown.
    ///
    /// Where no amount is stated, the numbers in its words stand for the figures.
    pub fn identity(&self) -> String {
        let mut identity = format!("{} {}", self.rule, self.level.label());
        // Writing to a string never fails.
        let _ = write!(identity, " {}", self.key().as_str());
        for line in &self.lines {
            let _ = write!(identity, " {}", line.0);
        }
        match self.amount {
            Some(amount) => {
                let limit = self.limit.map(Limit::value);
                for value in std::iter::once(amount).chain(limit) {
                    let _ = write!(identity, " {}", as_shown(value.number()));
                }
            }
            None => {
                for number in numbers(&self.message) {
                    let _ = write!(identity, " {number}");
                }
            }
        }
        identity
    }
    /// What it is about: the matter stated, else its rule and lines.
    pub fn key(&self) -> Matter {
        self.matter.clone().unwrap_or_else(|| {
            let mut key = self.rule.to_string();
            for line in &self.lines {
                // Writing to a string never fails.
                let _ = write!(key, " {}", line.0);
            }
            Matter::of(&key)
        })
    }
}

/// A figure as finely as it is shown anywhere: in hundredths, three digits below one.
fn as_shown(value: f64) -> String {
    if value.abs() < 1.0 {
        Measure::SHARE.digits_of(value)
    } else {
        Measure::PERCENT_ROUGH.digits_of(value)
    }
}

/// The numbers in a text that are not part of a name such as C12 or PEG-7, without zeros at
/// their end and in order of size, so that other words around them change nothing.
fn numbers(text: &str) -> Vec<String> {
    let parts = text.split(|c: char| c.is_whitespace() || "()[]“”;:–/≥≤<>=±".contains(c));
    let mut found: Vec<f64> = parts
        .map(|word| word.trim_matches(|c: char| !c.is_alphanumeric()))
        .filter_map(|word| word.parse().ok())
        .collect();
    found.sort_by(f64::total_cmp);
    found.iter().map(ToString::to_string).collect()
}

/// How many findings there are to act on and to know, everywhere counted alike.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Tally {
    /// Breaches that bind today.
    pub breaches: usize,
    /// Cautions to act on that are not set aside.
    pub cautions: usize,
    /// The others: notes, what binds later, what was set aside.
    pub to_know: usize,
}

impl Tally {
    /// Counts findings.
    pub fn of(findings: &[Finding]) -> Self {
        let mut tally = Self::default();
        for finding in findings {
            *match (finding.counts(), finding.level) {
                (true, Level::Breach) => &mut tally.breaches,
                (true, _) => &mut tally.cautions,
                (false, _) => &mut tally.to_know,
            } += 1;
        }
        tally
    }
}

/// The highest percentage a line may take before a limit binds, all else equal.
#[derive(Clone, PartialEq, Debug)]
pub struct LineLimit {
    /// The line.
    pub line: ItemId,
    /// The most it may be.
    pub most: Percent,
    /// The rule that binds, for example `EU V/29`.
    pub rule: Arc<str>,
    /// In words, for the hover.
    pub message: String,
}

/// One finding for several limits of the same substance: the gravest stays, of equally grave
/// ones the one whose limit is exceeded most; the others are named with it.
pub fn merge_limits(findings: &mut Vec<Finding>) {
    let mut merged: Vec<Finding> = Vec::with_capacity(findings.len());
    for finding in findings.drain(..) {
        let (Some(excess), true) = (finding.excess(), finding.level > Level::Note) else {
            merged.push(finding);
            continue;
        };
        let same = merged.iter_mut().find(|m| {
            m.level > Level::Note
                && m.matter.is_some()
                && m.matter == finding.matter
                && m.subject == finding.subject
                && m.excess().is_some()
        });
        match same {
            None => merged.push(finding),
            Some(first) => {
                let graver = (finding.level, excess) > (first.level, first.excess().unwrap_or(0.0));
                let other = if graver {
                    std::mem::replace(first, finding)
                } else {
                    finding
                };
                first.also.extend(other.also);
                for line in other.lines {
                    if !first.lines.contains(&line) {
                        first.lines.push(line);
                    }
                }
                first.also.push(Also {
                    rule: other.rule,
                    message: other.message,
                    source: other.source,
                });
            }
        }
    }
    for finding in &mut merged {
        let rules: Vec<&str> = finding.also.iter().map(|a| &*a.rule).collect();
        if !rules.is_empty() {
            let _ = write!(finding.message, "; also {}", rules.join(", "));
        }
    }
    *findings = merged;
}

/// Offers to hold a line at its limit where a finding says that it is above it.
pub fn offer_limits(
    findings: &mut [Finding],
    limits: &[LineLimit],
    percent: impl Fn(ItemId) -> Option<Percent>,
) {
    for finding in findings
        .iter_mut()
        .filter(|f| f.level > Level::Note && f.remedy.is_none())
    {
        let over = finding.lines.iter().filter_map(|&line| {
            let limit = limits
                .iter()
                .find(|l| l.line == line && l.rule == finding.rule)?;
            (percent(line)? > limit.most).then_some((line, limit.most))
        });
        // Of lines that share a limit, the one of which most may stay: taking out a small one
        // wholly can leave the others above it.
        let best = over.reduce(|best, next| if next.1 > best.1 { next } else { best });
        if let Some((line, percent)) = best {
            finding.remedy = Some(Remedy::HoldAtLimit { line, percent });
        }
    }
}

/// Findings after a change that were not there before: of another rule or level, or on
/// other lines. Other figures alone make no new finding.
pub fn arisen<'f>(
    before: &'f [Finding],
    after: &'f [Finding],
) -> impl Iterator<Item = &'f Finding> {
    after.iter().filter(move |f| {
        let same = |g: &Finding| g.rule == f.rule && g.level == f.level && g.lines == f.lines;
        !before.iter().any(same)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Basis;

    const A: ItemId = ItemId(1);
    const B: ItemId = ItemId(2);

    fn share(percent: f64) -> FindingValue {
        FindingValue::Share(MassFraction::from_percent(percent))
    }

    /// A finding on benzoic acid: rule, level, amount, limit, line.
    fn over(rule: &str, level: Level, amount: f64, limit: f64, line: ItemId) -> Finding {
        let source = Source::new(Basis::Published, "invented");
        Finding::new(level, rule, format!("{amount} over {limit}"), source)
            .on([line])
            .about(Matter::substance(&"Benzoic Acid".into()))
            .against(share(amount), Limit::AtMost(share(limit)))
    }

    #[test]
    fn its_identity_is_its_figures_and_not_its_words() {
        let one = over("EU", Level::Breach, 0.512, 0.5, A);
        let mut other = one.clone();
        other.message = "too much of it".to_owned();
        assert_eq!(one.identity(), other.identity());
        // Below what is shown there is no other figure.
        other.amount = Some(share(0.51204));
        assert_eq!(one.identity(), other.identity());
        for change in [
            over("EU", Level::Breach, 0.52, 0.5, A),
            over("EU", Level::Caution, 0.512, 0.5, A),
            over("EU", Level::Breach, 0.512, 0.5, B),
            over("UK", Level::Breach, 0.512, 0.5, A),
        ] {
            assert_ne!(one.identity(), change.identity());
        }
        assert_eq!(
            numbers("C12 and PEG-7: 1.5 % (pH 4.6–5.2), not 3."),
            ["1.5", "3", "4.6", "5.2"]
        );
    }

    #[test]
    fn limits_of_one_substance_are_one_finding() {
        let mut findings = vec![
            over("EU", Level::Breach, 1.0, 0.9, A),
            over("UK", Level::Breach, 1.0, 0.5, B),
            over("habit", Level::Caution, 1.0, 0.1, A),
        ];
        merge_limits(&mut findings);
        // The gravest stays; of equally grave ones that whose limit is exceeded most.
        let [one] = findings.as_slice() else {
            panic!("{findings:#?}");
        };
        assert_eq!(&*one.rule, "UK");
        assert_eq!(one.message, "1 over 0.5; also EU, habit");
        assert_eq!(one.lines, [B, A]);
        assert_eq!(one.also.len(), 2);
    }

    #[test]
    fn other_matters_subjects_and_notes_stay_apart() {
        let first = over("EU", Level::Breach, 1.0, 0.5, A);
        for other in [
            over("EU", Level::Breach, 1.0, 0.5, A).about(Matter::substance(&"Sorbic Acid".into())),
            over("EU", Level::Caution, 1.0, 0.5, A).asks(FindingSubject::Later),
            over("EU", Level::Note, 1.0, 0.5, A),
        ] {
            let mut findings = vec![first.clone(), other];
            let before = findings.clone();
            merge_limits(&mut findings);
            assert_eq!(findings, before);
        }
    }

    #[test]
    fn a_line_above_its_limit_is_offered_the_way_back() {
        let limit = |line, most: &str| LineLimit {
            line,
            most: most.parse().unwrap(),
            rule: "EU".into(),
            message: String::new(),
        };
        let limits = [limit(A, "0.5"), limit(B, "2")];
        let at = |percent: &str| -> Option<Percent> { percent.parse().ok() };
        let offered = |finding: Finding, percent: Option<Percent>| {
            let mut findings = [finding];
            offer_limits(&mut findings, &limits, |_| percent);
            let [finding] = findings;
            finding.remedy
        };
        let breach = || over("EU", Level::Breach, 1.0, 0.5, A);
        let hold = Some(Remedy::HoldAtLimit {
            line: A,
            percent: "0.5".parse().unwrap(),
        });
        assert_eq!(offered(breach(), at("0.500001")), hold);
        // At and below the limit, for a line that cannot be held, for another rule and for a
        // note there is nothing to hold.
        assert_eq!(offered(breach(), at("0.5")), None);
        assert_eq!(offered(breach(), at("0.4")), None);
        assert_eq!(offered(breach(), None), None);
        let other = over("UK", Level::Breach, 1.0, 0.5, A);
        assert_eq!(offered(other, at("1")), None);
        let note = over("EU", Level::Note, 1.0, 0.5, A);
        assert_eq!(offered(note, at("1")), None);
        // Of two that share a limit, the one that can mend it by itself.
        let shared = [limit(A, "0"), limit(B, "1.8")];
        let mut both = [over("EU", Level::Breach, 4.4, 3.0, A).on([A, B])];
        offer_limits(&mut both, &shared, |_| at("3.2"));
        let hold = Remedy::HoldAtLimit {
            line: B,
            percent: "1.8".parse().unwrap(),
        };
        assert_eq!(both[0].remedy, Some(hold));
        // A remedy that is there stays.
        let open = Remedy::OpenField(StatedField::Kind);
        let asked = breach().remedy(open.clone());
        assert_eq!(offered(asked, at("1")), Some(open));
    }

    #[test]
    fn what_is_set_aside_counts_no_more_and_a_breach_cannot_be() {
        let caution = over("EU", Level::Caution, 1.0, 0.5, A);
        assert!(caution.counts());
        let aside = caution.aside().unwrap();
        let other_figures = over("EU", Level::Caution, 1.1, 0.5, A);
        assert_ne!(other_figures.aside(), Some(aside));
        let mut read = caution;
        read.set_aside = true;
        assert!(!read.counts());
        assert_eq!(over("EU", Level::Breach, 1.0, 0.5, A).aside(), None);
        assert!(!over("EU", Level::Note, 1.0, 0.5, A).counts());
        // What binds on a later day is nothing to act on today.
        let later = over("EU", Level::Caution, 1.0, 0.5, A).asks(FindingSubject::Later);
        assert!(!later.counts());
        let breach = over("EU", Level::Breach, 1.0, 0.5, A);
        let note = over("EU", Level::Note, 1.0, 0.5, A);
        let open = over("EU", Level::Caution, 1.0, 0.5, A);
        let tally = Tally::of(&[breach, read, later, note, open]);
        assert_eq!((tally.breaches, tally.cautions, tally.to_know), (1, 1, 3));
    }

    #[test]
    fn a_finding_is_told_where_it_is_mended() {
        let both = || over("EU", Level::Caution, 1.0, 0.5, A).on([A, B]);
        assert_eq!(both().told_at(), Some(A));
        let swap = both().remedy(Remedy::SwapMaterial { line: B });
        assert_eq!(swap.told_at(), Some(B));
        let missing = both().remedy(Remedy::AddMaterial {
            role: Role::Preservative,
        });
        assert!(missing.concerns_whole());
        assert_eq!(missing.told_at(), None);
        let whole = both().on([]);
        assert!(whole.concerns_whole());
    }

    #[test]
    fn the_article_fits_the_role() {
        let words = |role| Remedy::AddMaterial { role }.words(|_| String::new());
        assert_eq!(words(Role::Preservative), "Add a preservative");
        assert!(words(Role::Emulsifier).starts_with("Add an "));
    }
}
