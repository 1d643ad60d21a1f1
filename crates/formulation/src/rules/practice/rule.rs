//! Rules of practice as the file states them.

use std::sync::{Arc, OnceLock};

use packed::packed;
use serde::Deserialize;

use crate::finding::Level;
use crate::material::{Basis, Source};
use crate::notation::mirror::BasisName;

/// Names of the rules that other parts of the program ask for.
pub mod id {
    /// The maker's own bounds of a line.
    pub const OWN_BOUNDS: &str = "own-bounds";
    /// The supplier's maximum of a material.
    pub const OVER_SUPPLIER_MAXIMUM: &str = "over-supplier-maximum";
    /// The highest usual dose of a preservative.
    pub const PRESERVATIVE_OVER_DOSE: &str = "preservative-over-dose";
    /// The lowest effective dose of a preservative.
    pub const PRESERVATIVE_UNDER_DOSE: &str = "preservative-under-dose";
    /// The pH at which a preservative does not work.
    pub const PRESERVATIVE_OUTSIDE_PH: &str = "preservative-outside-ph";
    /// The pH window of a material.
    pub const PH_WINDOW: &str = "ph-window";
    /// Rules whose limits stand in the line or its material.
    pub const OF_MATERIALS: [&str; 3] = [OWN_BOUNDS, OVER_SUPPLIER_MAXIMUM, PRESERVATIVE_OVER_DOSE];
    /// Rules that name a material which the pH harms.
    pub const OF_PH: [&str; 2] = [PRESERVATIVE_OUTSIDE_PH, PH_WINDOW];
}

/// A rule of practice.
#[derive(Debug, Clone)]
pub(super) struct Rule {
    pub id: Arc<str>,
    pub check: Check,
    pub level: Level,
    pub ground: Option<Ground>,
    pub message: Message,
    pub source: Source,
}

/// What a breach rests on; nothing else may be one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum Ground {
    /// A published rule that the source names.
    Published,
    /// The maker's own rule or the supplier's document: a value from memory is a caution.
    Document,
    /// It follows from the figures.
    Arithmetic,
    /// A fact of the trade that nobody disputes.
    Undisputed,
}

impl Ground {
    /// Whether a value of this basis carries a breach.
    pub fn bears(self, basis: Basis) -> bool {
        match self {
            Self::Published | Self::Arithmetic | Self::Undisputed => true,
            Self::Document => matches!(basis, Basis::Measured | Basis::Supplier | Basis::Published),
        }
    }
}

/// What a rule looks for.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub(super) enum Check {
    TotalNot100,
    MaterialMissing,
    OwnBounds,
    Preserved(Preserved),
    PreservativeUnderDose,
    PreservativeOverDose,
    PreservativeOutsidePh,
    AcidStarved,
    PreservativeBound { free_below: f64 },
    AcidMayCrystallise,
    OrganismsUncovered,
    OrganismsWeaklyCovered,
    MouldWeaklyCovered,
    FormaldehydeDonor,
    OverSupplierMaximum,
    OverUsualLevel,
    UnderUsualLevel,
    NoUseLevel,
    OutsidePhWindow,
    TooHot,
    CoolDownBeforeHeat { above: f64 },
    GumNotWetted,
    Dust,
    HeatsWithWater,
    Corrosive,
    CorrosiveMix,
    WaterFreeWetUse { water_below: f64 },
    Emulsion,
    UnknownComposition { above: f64 },
}

/// What stands in for a preservative where there is none; one of them holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum Preserved {
    /// Nothing does.
    Not,
    /// Little free water, nothing else known.
    LittleWater,
    /// Soap with much water, made with lye in the pot.
    BySoap,
    /// Such soap, at a measured pH that is too low for that.
    BySoapMeasured,
    /// At a pH, not measured, at which organisms hardly grow.
    ByUnmeasuredPh,
    /// At an estimated water activity about as low as keeps organisms from growing.
    ByUnmeasuredActivity,
    /// Only substances that support preservatives.
    ByBoosters,
    /// The product is of low risk by the published criteria.
    LowRisk,
}

/// The words of a finding, with places for what is found.
#[derive(Debug, Clone)]
pub(super) struct Message(Vec<Piece>);

#[derive(Debug, Clone)]
enum Piece {
    Text(String),
    BodySite(usize),
}

/// Words for the braces of a message.
#[derive(Default, Clone, Copy)]
pub(super) struct Words<'a> {
    pub name: &'a str,
    pub value: &'a str,
    pub limit: &'a str,
    pub what: &'a str,
    pub mind: &'a str,
}

/// The places of a message, in the order of [`Words::at`].
const PLACES: [&str; 5] = ["{name}", "{value}", "{limit}", "{what}", "{mind}"];

impl Words<'_> {
    fn at(&self, place: usize) -> &str {
        [self.name, self.value, self.limit, self.what, self.mind]
            .get(place)
            .copied()
            .unwrap_or_default()
    }
}

impl Message {
    /// Reads the words of the file: `{name}`, `{value}`, `{limit}`, `{what}` and `{mind}` are places.
    pub fn read(text: &str) -> Self {
        let mut pieces = Vec::new();
        let mut rest = text;
        loop {
            let next = PLACES
                .iter()
                .enumerate()
                .filter_map(|(place, mark)| Some((rest.split_once(mark)?, place)))
                .min_by_key(|((before, _), _)| before.len());
            let Some(((before, after), place)) = next else {
                break;
            };
            pieces.push(Piece::Text(before.to_owned()));
            pieces.push(Piece::BodySite(place));
            rest = after;
        }
        pieces.push(Piece::Text(rest.to_owned()));
        Self(pieces)
    }

    pub fn fill(&self, words: &Words<'_>) -> String {
        let mut message = String::with_capacity(128);
        for piece in &self.0 {
            message.push_str(match piece {
                Piece::Text(text) => text,
                Piece::BodySite(place) => words.at(*place),
            });
        }
        message
    }
}

/// Levels as files spell them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum LevelName {
    Note,
    Caution,
    Breach,
}

impl From<LevelName> for Level {
    fn from(name: LevelName) -> Self {
        match name {
            LevelName::Note => Self::Note,
            LevelName::Caution => Self::Caution,
            LevelName::Breach => Self::Breach,
        }
    }
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
    #[serde(default)]
    ground: Option<Ground>,
    message: String,
    basis: BasisName,
    source: String,
}

/// Refuses a breach that rests on nothing.
pub(super) fn grounded(id: &str, level: Level, ground: Option<Ground>) -> Result<(), String> {
    if level == Level::Breach && ground.is_none() {
        return Err(format!(
            "rule “{id}” is a breach without `ground`; state what it rests on or make it a caution"
        ));
    }
    Ok(())
}

/// Reads a file of rules of practice; the error names line and column, or the rule.
pub(super) fn read(text: &str) -> Result<Vec<Rule>, String> {
    let file: RuleFile = ron::from_str(text).map_err(|e| e.to_string())?;
    if file.version != 1 {
        return Err(format!(
            "version {} of the practice rules is not known here",
            file.version
        ));
    }
    file.rules
        .into_iter()
        .map(|r| {
            let level = r.level.into();
            grounded(&r.id, level, r.ground)?;
            Ok(Rule {
                id: r.id.into(),
                check: r.check,
                level,
                ground: r.ground,
                message: Message::read(&r.message),
                source: Source::new(r.basis.into(), r.source),
            })
        })
        .collect()
}

/// The rules that come with the program.
pub(super) fn rules() -> &'static Result<Vec<Rule>, String> {
    static RULES: OnceLock<Result<Vec<Rule>, String>> = OnceLock::new();
    RULES.get_or_init(|| read(&packed!("rules/practice.ron").text()))
}
