//! What can be recorded.

use std::sync::Arc;

use super::{Identity, Opening, Quality};
use crate::formula::{Date, ItemId};
use crate::mass::ExactMass;
use crate::quantity::Temperature;
use crate::stock::LotId;

/// What becomes of a batch.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Decision {
    /// May leave.
    Release,
    /// Waits for something.
    Hold,
    /// Must not leave.
    Reject,
}

impl Decision {
    /// All, in the order of display.
    pub const ALL: [Self; 3] = [Self::Release, Self::Hold, Self::Reject];
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Release => "released",
            Self::Hold => "on hold",
            Self::Reject => "rejected",
        }
    }
}

/// A corrected value.
#[derive(Clone, PartialEq, Debug)]
pub enum Change {
    /// The mass of a weighing or of water made up.
    Mass(ExactMass),
    /// The lot of a weighing or of water made up.
    Lot(Option<LotId>),
    /// The value of a measurement, or the words of a remark.
    Value(Arc<str>),
    /// The whole entry as it should have been, of the same kind.
    Instead(Box<Event>),
    /// The entry was made by mistake and does not count.
    Struck,
}

/// What [`Event::MadeUp`] is called where it is asked for and where it is listed.
pub const WATER_MADE_UP: &str = "Water made up for evaporation";

/// What can be recorded.
#[derive(Clone, PartialEq, Debug)]
pub enum Event {
    /// The batch is begun; always the first entry and only it.
    Opened(Box<Opening>),
    /// A portion of a line was weighed in.
    Weighed {
        /// The line.
        line: ItemId,
        /// What the scale showed.
        mass: ExactMass,
        /// Taken from which lot.
        lot: Option<LotId>,
        /// Free words.
        remark: Arc<str>,
    },
    /// A step of work was done.
    Worked {
        /// The step.
        step: ItemId,
        /// Temperature read, if any.
        temperature: Option<Temperature>,
        /// Free words: time, speed, what the check showed.
        remark: Arc<str>,
    },
    /// What is still to be weighed was changed for the whole batch.
    Rescaled {
        /// New masses of all lines.
        masses: Vec<(ItemId, ExactMass)>,
        /// Why.
        reason: Arc<str>,
    },
    /// Water was added for what had evaporated.
    MadeUp {
        /// How much.
        mass: ExactMass,
        /// Taken from which lot.
        lot: Option<LotId>,
    },
    /// Something was measured or judged.
    Measured {
        /// What.
        what: Quality,
        /// The name of it where the quality alone does not tell, as the specification calls
        /// it; empty otherwise, and in records of earlier programs.
        name: Arc<str>,
        /// What came out, with its unit.
        value: Arc<str>,
        /// Method, instrument, temperature.
        remark: Arc<str>,
    },
    /// Packaging was used.
    Packed {
        /// What: bottle, pump, label.
        what: Arc<str>,
        /// Its lot, if it has one.
        lot: Arc<str>,
        /// Pieces used.
        used: u32,
        /// Pieces spoilt.
        spoilt: u32,
    },
    /// The batch was filled.
    Filled {
        /// Containers filled and good.
        containers: u32,
        /// Net mass in all of them.
        mass: ExactMass,
        /// Kept as retained sample or taken for tests.
        samples: ExactMass,
        /// Thrown away, vessel rests included.
        waste: ExactMass,
    },
    /// Labels were printed, or taken printed from the stock, and put on.
    Labelled {
        /// Which label: front, version 3.
        what: Arc<str>,
        /// The packaging lot they were printed on or taken from; may be empty.
        lot: Arc<str>,
        /// The batch code that stands on them.
        code: Arc<str>,
        /// The date that stands on them, as it stands there; empty if none does.
        date: Arc<str>,
        /// Labels printed.
        printed: u32,
        /// Labels on containers.
        applied: u32,
        /// Labels spoilt, left over and destroyed.
        spoilt: u32,
    },
    /// Anything worth noting.
    Remarked {
        /// The words.
        text: Arc<str>,
        /// Whether it is to be looked at before the release: an open point until accepted.
        open: bool,
    },
    /// Something was done otherwise than it should be, knowingly. It is an open point until
    /// it is accepted.
    Deviated {
        /// The lot that was taken, if it is about one.
        lot: Option<LotId>,
        /// What was not as it should be.
        what: Arc<str>,
        /// Why it was done all the same.
        reason: Arc<str>,
    },
    /// An open point, or a finding of the mix as weighed, was accepted.
    Accepted {
        /// The point, word for word.
        point: Arc<str>,
        /// What tells the point from all others; none in records of earlier programs, whose
        /// points were told by their words.
        about: Option<Identity>,
        /// Why.
        reason: Arc<str>,
    },
    /// A second person looked at the weighing of a line, or through the whole record.
    Checked {
        /// The line; `None` for the record.
        line: Option<ItemId>,
    },
    /// It was decided what becomes of the batch.
    Decided {
        /// What.
        decision: Decision,
        /// Why.
        reason: Arc<str>,
    },
    /// The record is complete; from here on only corrections, acceptances, checks, dispatches,
    /// and what is measured or remarked later.
    Closed,
    /// An earlier entry was corrected.
    Amended {
        /// Number of the entry.
        entry: u64,
        /// The new value.
        change: Change,
        /// The value that stood there, as it was shown.
        old: Arc<str>,
        /// Why.
        reason: Arc<str>,
    },
    /// Containers left the workshop.
    Dispatched {
        /// To whom.
        to: Arc<str>,
        /// How many.
        containers: u32,
        /// When.
        day: Date,
    },
}

/// Whether an entry may come after the record was closed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum AfterClosing {
    /// No.
    Refused,
    /// It goes on with the record.
    GoesOn,
    /// It is added, and told as such: it changes nothing of what was looked through.
    Added,
}

/// What holds for all entries of a kind.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct KindRules {
    /// Whether it may come after the record was closed.
    pub after_closing: AfterClosing,
    /// Whether a second look through the record stays valid.
    pub leaves_look: bool,
    /// Whether it can be corrected or struck out.
    pub can_be_corrected: bool,
}

impl KindRules {
    const fn new(after_closing: AfterClosing, leaves_look: bool, can_be_corrected: bool) -> Self {
        Self {
            after_closing,
            leaves_look,
            can_be_corrected,
        }
    }
}

impl Event {
    /// What holds for all entries of its kind.
    pub(super) const fn rules(&self) -> KindRules {
        use AfterClosing::{Added, GoesOn, Refused};
        match self {
            Self::Opened(_) => KindRules::new(Refused, false, false),
            Self::Weighed { .. }
            | Self::Worked { .. }
            | Self::Rescaled { .. }
            | Self::MadeUp { .. }
            | Self::Packed { .. }
            | Self::Filled { .. }
            | Self::Labelled { .. }
            | Self::Deviated { .. } => KindRules::new(Refused, false, true),
            Self::Measured { .. } | Self::Remarked { .. } => KindRules::new(Added, false, true),
            Self::Accepted { .. } | Self::Checked { .. } | Self::Dispatched { .. } => {
                KindRules::new(GoesOn, true, true)
            }
            Self::Decided { .. } => KindRules::new(Refused, true, true),
            Self::Closed => KindRules::new(Refused, true, false),
            Self::Amended { .. } => KindRules::new(GoesOn, false, false),
        }
    }

    /// The reason of a release: of a decision for it, or of a decision corrected to one.
    pub fn releases(&self) -> Option<&str> {
        match self {
            Self::Decided {
                decision: Decision::Release,
                reason,
            } => Some(reason),
            Self::Amended {
                change: Change::Instead(event),
                ..
            } => event.releases(),
            _ => None,
        }
    }
}

/// One entry of a record.
#[derive(Clone, PartialEq, Debug)]
pub struct Entry {
    /// Number, from 1 without gaps.
    pub number: u64,
    /// When, as the clock of the machine said: RFC 3339.
    pub at: Arc<str>,
    /// Who.
    pub by: Arc<str>,
    /// What.
    pub event: Event,
}
