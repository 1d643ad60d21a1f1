//! What entries amount to.

use std::sync::Arc;

use super::Quality;
use crate::formula::ItemId;
use crate::mass::ExactMass;
use crate::material::MaterialId;
use crate::quantity::{MassFraction, Volume};
use crate::stock::LotId;

/// A portion weighed in, as it stands after corrections.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Portion {
    /// Number of the entry.
    pub entry: u64,
    /// The line; `None` for water made up.
    pub line: Option<ItemId>,
    /// Mass.
    pub mass: ExactMass,
    /// Lot.
    pub lot: Option<LotId>,
    /// When.
    pub at: Arc<str>,
    /// By whom.
    pub by: Arc<str>,
    /// Free words.
    pub remark: Arc<str>,
    /// Struck out, does not count.
    pub struck: bool,
}

/// A measurement, as it stands after corrections.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Measurement {
    /// Number of the entry.
    pub entry: u64,
    /// When.
    pub at: Arc<str>,
    /// What.
    pub what: Quality,
    /// What it is called where the quality alone does not tell; may be empty.
    pub name: Arc<str>,
    /// What came out.
    pub value: Arc<str>,
    /// Method.
    pub remark: Arc<str>,
    /// Added after the record was closed.
    pub late: bool,
    /// Struck out, does not count.
    pub struck: bool,
}

impl Measurement {
    /// What was measured: its own name, or that of its quality.
    pub fn name(&self) -> &str {
        if self.name.is_empty() {
            self.what.label()
        } else {
            &self.name
        }
    }
}

/// How a line stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum LineState {
    /// Nothing weighed yet.
    Pending,
    /// Below the tolerance; more can be added.
    Short,
    /// Within the tolerance.
    Within,
    /// Above the tolerance.
    Over,
}

impl LineState {
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Pending => "to weigh",
            Self::Short => "short",
            Self::Within => "within tolerance",
            Self::Over => "over",
        }
    }
}

/// A line of the record: asked and done.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LineStatus {
    /// The line.
    pub line: ItemId,
    /// What is asked for now.
    pub planned: ExactMass,
    /// What was weighed.
    pub actual: ExactMass,
    /// What may deviate.
    pub tolerance: ExactMass,
    /// How it stands.
    pub state: LineState,
}

impl LineStatus {
    /// `actual − planned`.
    pub fn deviation(&self) -> ExactMass {
        self.actual - self.planned
    }
    /// The deviation as a share of what was asked.
    pub fn relative(&self) -> MassFraction {
        self.deviation().share_of(self.planned).unwrap_or_default()
    }
    /// Whether the line with a further mass would be so much over that the mass is likelier
    /// mistyped or misread than poured: more than half above what is asked for; common
    /// practice, no source.
    pub fn is_likely_mistyped(&self, further: ExactMass) -> bool {
        let actual = self.actual + further;
        actual > self.planned + self.tolerance && actual.times(2) > self.planned.times(3)
    }
}

/// What stands in the way of a larger batch.
#[derive(Clone, PartialEq, Debug)]
pub enum Obstacle {
    /// The vessel is too small.
    Vessel {
        /// Volume of the larger batch.
        volume: Volume,
        /// What may be in it.
        working: Volume,
    },
    /// The density is unknown, so the vessel cannot be checked.
    VesselUnknown,
    /// Usable lots lack this much of a material.
    Stock {
        /// Which.
        material: MaterialId,
        /// How much.
        short: ExactMass,
    },
}

/// A proposal to save a batch in which a line was overshot: make the whole batch larger.
#[derive(Clone, PartialEq, Debug)]
pub struct Rescue {
    /// The line that decides.
    pub line: ItemId,
    /// By what the batch grows.
    pub factor: f64,
    /// The batch it becomes.
    pub batch: ExactMass,
    /// New masses of all lines.
    pub masses: Vec<(ItemId, ExactMass)>,
    /// What is to be added to lines weighed already.
    pub top_ups: Vec<(ItemId, ExactMass)>,
    /// What stands in the way; empty if nothing known does.
    pub obstacles: Vec<Obstacle>,
}

impl Rescue {
    /// Growth beyond which a wrong figure is likelier than a wrong hand; common practice, no
    /// source.
    const LIKELY_GROWTH: f64 = 1.5;

    /// Whether the batch would grow so much that the mass noted is likelier mistyped or misread
    /// than poured.
    pub fn is_unlikely(&self) -> bool {
        self.factor > Self::LIKELY_GROWTH
    }
}

/// What became of what was weighed.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Reconciliation {
    /// All that was weighed in, made-up water not counted.
    pub weighed: ExactMass,
    /// In good containers.
    pub filled: ExactMass,
    /// In samples.
    pub samples: ExactMass,
    /// Thrown away.
    pub waste: ExactMass,
    /// Not accounted for: `weighed − filled − samples − waste`; negative if more came out
    /// than went in.
    pub unaccounted: ExactMass,
    /// `filled / weighed`.
    pub yield_share: MassFraction,
}

/// An entry that is in the file but is not part of what is counted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lost {
    /// Its number.
    pub number: u64,
    /// What stands in the file, or the entry in words.
    pub text: Arc<str>,
    /// Why it cannot be read or does not count.
    pub why: Arc<str>,
}

/// Packaging used, as it stands after corrections.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PackagingUsed {
    /// What: bottle, pump, label.
    pub what: Arc<str>,
    /// Its lot; may be empty.
    pub lot: Arc<str>,
    /// Pieces used.
    pub used: u32,
    /// Pieces spoilt.
    pub spoilt: u32,
}

/// A run of labels, as it stands after corrections.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LabelRun {
    /// Number of the entry.
    pub entry: u64,
    /// Which label: front, version 3.
    pub what: Arc<str>,
    /// The packaging lot of the blank labels it was printed on, or of the labels that came
    /// printed; may be empty.
    pub lot: Arc<str>,
    /// The batch code that stands on them.
    pub code: Arc<str>,
    /// The date that stands on them, as it stands there; empty if none does.
    pub date: Arc<str>,
    /// Labels printed.
    pub printed: u32,
    /// Labels on containers.
    pub applied: u32,
    /// Labels spoilt, left over and destroyed.
    pub spoilt: u32,
}

impl LabelRun {
    /// Labels that are neither on a container nor known to be destroyed; below zero if more
    /// were used than printed.
    pub fn labels_missing(&self) -> i64 {
        i64::from(self.printed) - i64::from(self.applied) - i64::from(self.spoilt)
    }
    /// Pieces that the lot has fewer: what was printed.
    pub fn taken(&self) -> u32 {
        self.printed
    }
}

/// Something done otherwise than it should be, as it stands after corrections.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Deviation {
    /// Number of the entry.
    pub entry: u64,
    /// The lot that was taken, if it is about one.
    pub lot: Option<LotId>,
    /// What was not as it should be.
    pub what: Arc<str>,
    /// Why it was done all the same.
    pub reason: Arc<str>,
    /// By whom.
    pub by: Arc<str>,
}

/// A remark that is to be looked at before the release, as it stands after corrections.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OpenRemark {
    /// Number of the entry.
    pub entry: u64,
    /// The words.
    pub text: Arc<str>,
    /// By whom.
    pub by: Arc<str>,
}
