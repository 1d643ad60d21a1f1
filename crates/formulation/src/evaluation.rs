//! One call from a formula to everything the screen shows.
//!
//! [`evaluate`] is pure: the same formula, variant and context give the same
//! result. It runs on every change of a slider.

use std::sync::Arc;

use crate::chemistry::{self, Estimates};
use crate::composition::Composition;
use crate::finding::{self, Finding, FindingSubject, Level, LineLimit};
use crate::formula::{Date, Formula, Market, Variant};
use crate::material::Source;
use crate::mixture::Mixture;
use crate::rules::law::{self, Ceiling, LabelAllergen, RequiredWording};
use crate::rules::{RuleBook, practice};
use crate::specification;

/// What an evaluation needs to know besides the formula.
#[derive(Clone, Debug)]
pub struct Context {
    /// The day that counts where the product states no day of placing on the market.
    pub today: Date,
    /// The rules of law, with the maker's own.
    pub rules: Arc<RuleBook>,
}

/// Everything that follows from a variant.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// Every raw material opened up, once for everything below.
    pub mixture: Mixture,
    /// What the mix contains.
    pub composition: Composition,
    /// What the checks have to say, gravest first, then by subject; what is set aside last.
    pub findings: Vec<Finding>,
    /// Limits that bind lines, the lowest of each line first.
    pub limits: Vec<LineLimit>,
    /// Legal limits as sums over the lines that share them.
    pub ceilings: Vec<Ceiling>,
    /// Wordings that rules demand on the label.
    pub demands: Vec<RequiredWording>,
    /// Fragrance allergens, largest first.
    pub allergens: Vec<LabelAllergen>,
    /// Estimates of chemistry: pH, preservation, water activity, density …
    pub estimates: Estimates,
    /// Every breach that binds today by itself, also those folded into another finding.
    pub breaches: Vec<FoundBreach>,
}

/// A breach by itself, and where it stands.
#[derive(Clone, PartialEq, Debug)]
pub struct FoundBreach {
    /// Its rule.
    pub rule: Arc<str>,
    /// What is the matter.
    pub message: String,
    /// The ground it stands on.
    pub source: Source,
    /// Markets of the list that it is of; none if it is of no list and stands everywhere.
    markets: Option<Vec<Market>>,
}

impl FoundBreach {
    /// The rule as it is cited, if it is one of a list.
    pub fn cited(&self) -> Option<&str> {
        self.markets.as_ref().map(|_| &*self.rule)
    }
    /// Whether it stands in a market.
    pub fn stands_in(&self, market: Market) -> bool {
        self.markets
            .as_ref()
            .is_none_or(|all| all.contains(&market))
    }
}

/// The breaches among findings that bind today.
fn breaches(findings: &[Finding], rules: &RuleBook) -> Vec<FoundBreach> {
    let bind = |f: &&Finding| f.level == Level::Breach && f.subject != FindingSubject::Later;
    let found = findings.iter().filter(bind).map(|f| FoundBreach {
        rule: f.rule.clone(),
        message: f.message.clone(),
        source: f.source.clone(),
        markets: rules.markets_of(&f.rule),
    });
    found.collect()
}

impl Evaluation {
    /// The gravest finding.
    pub fn worst(&self) -> Option<&Finding> {
        self.findings.first()
    }
    /// The lowest limit that binds a line.
    pub fn limit_of(&self, line: crate::formula::ItemId) -> Option<&LineLimit> {
        self.limits
            .iter()
            .filter(|l| l.line == line)
            .min_by_key(|l| l.most)
    }
}

/// Evaluates one variant of a formula.
pub fn evaluate(formula: &Formula, variant: &Variant, context: &Context) -> Evaluation {
    let mixture = Mixture::of(formula, variant);
    let composition = Composition::of(&mixture);
    let mut findings = Vec::new();
    let mut limits = Vec::new();
    let estimates = chemistry::estimate_mixture(variant, &mixture, &composition);
    let subject = practice::PracticeSubject {
        variant,
        mixture: &mixture,
        composition: &composition,
        estimates: &estimates,
    };
    practice::check(subject, &mut findings, &mut limits);
    let ph = estimates.ph.range();
    let mut law = law::check_mixture(variant, &mixture, ph, context.today, &context.rules);
    findings.append(&mut law.findings);
    limits.append(&mut law.limits);
    chemistry::findings(&estimates, variant, &mut findings);
    findings.extend(specification::findings(
        &variant.specification,
        &variant.measured,
    ));
    let breaches = breaches(&findings, &context.rules);
    finding::merge_limits(&mut findings);
    finding::offer_limits(&mut findings, &limits, |line| {
        // What takes the rest to 100 cannot be held.
        let line = variant.line(line).filter(|l| !variant.is_filler(l.id));
        line.map(|l| l.percent)
    });
    if !formula.set_aside.is_empty() {
        for finding in &mut findings {
            finding.set_aside = finding
                .aside()
                .is_some_and(|a| formula.set_aside.contains(&a));
        }
    }
    findings.sort_by_key(|f| (f.set_aside, std::cmp::Reverse(f.level), f.subject));
    limits.sort_by_key(|l| (l.most, l.line));
    Evaluation {
        mixture,
        composition,
        findings,
        limits,
        ceilings: law.ceilings,
        demands: law.demands,
        allergens: law.allergens,
        estimates,
        breaches,
    }
}
