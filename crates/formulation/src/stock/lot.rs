//! A lot: its code, what came in, until when it may be used, and what speaks against using it.

use std::fmt;
use std::sync::Arc;

use crate::batch_code::BatchCode;
use crate::formula::Date;
use crate::mass::ExactMass;
use crate::material::MaterialId;
use crate::quantity::{Currency, Decimal};

/// The code the maker gives a lot when it comes in: any text, unique in the stock.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LotId(Arc<str>);

impl LotId {
    /// A lot code without blanks at the ends; `None` if nothing is left.
    pub fn new(text: &str) -> Option<Self> {
        let text = text.trim();
        (!text.is_empty()).then(|| Self(text.into()))
    }
    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for LotId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl fmt::Debug for LotId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Whether a lot may be used.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum LotStatus {
    /// Received, not yet checked.
    Quarantine,
    /// May be used.
    #[default]
    Released,
    /// Must not be used.
    Rejected,
}

impl LotStatus {
    /// All, in the order of display.
    pub const ALL: [Self; 3] = [Self::Quarantine, Self::Released, Self::Rejected];
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Quarantine => "quarantine",
            Self::Released => "released",
            Self::Rejected => "rejected",
        }
    }
}

/// One lot of a raw material.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lot {
    /// The maker's code.
    pub id: LotId,
    /// Which material.
    pub material: MaterialId,
    /// Who delivered it.
    pub supplier: Arc<str>,
    /// The supplier's own lot number.
    pub supplier_lot: Arc<str>,
    /// Day of receipt.
    pub received: Date,
    /// Best before, as printed.
    pub expiry: Option<Date>,
    /// Day of first opening.
    pub opened: Option<Date>,
    /// Days it may be used for once opened.
    pub days_once_opened: Option<u32>,
    /// Contents of one pack.
    pub pack: ExactMass,
    /// Packs received.
    pub packs: u32,
    /// Price of one pack without tax.
    pub price_per_pack: Option<Decimal>,
    /// Currency of the price and the freight.
    pub currency: Currency,
    /// This lot's share of the freight, for all packs together.
    pub freight_share: Decimal,
    /// Tax in percent of price and freight that the maker cannot reclaim; zero if there is
    /// none or it is reclaimed.
    pub tax_percent: Decimal,
    /// Whether it may be used.
    pub status: LotStatus,
    /// The batch it was made in, if it is a dilution or pre-mix of the maker's own.
    pub made_in: Option<BatchCode>,
    /// Where the certificate of analysis is filed.
    pub certificate: Arc<str>,
    /// Free words.
    pub note: Arc<str>,
}

/// A number of days later; `None` beyond the calendar.
pub(crate) fn days_after(day: Date, days: u32) -> Option<Date> {
    let span = jiff::Span::new().try_days(i64::from(days)).ok()?;
    day.checked_add(span).ok()
}

impl Lot {
    /// One pack of which no more is known than what it is, when it came and what is in it;
    /// it may be used.
    pub fn of_one_pack(
        id: LotId,
        material: MaterialId,
        received: Date,
        pack: ExactMass,
        currency: Currency,
    ) -> Self {
        Self {
            id,
            material,
            supplier: "".into(),
            supplier_lot: "".into(),
            received,
            expiry: None,
            opened: None,
            days_once_opened: None,
            pack,
            packs: 1,
            price_per_pack: None,
            currency,
            freight_share: Decimal::ZERO,
            tax_percent: Decimal::ZERO,
            status: LotStatus::default(),
            made_in: None,
            certificate: "".into(),
            note: "".into(),
        }
    }

    /// What came in.
    pub fn received_mass(&self) -> ExactMass {
        self.pack.times(self.packs.into())
    }

    /// Its turn among lots of one material, first expired first out: by last day of use (none
    /// last), then by day of receipt, then by code.
    pub fn turn(&self) -> impl Ord + use<> {
        let last = self.last_day();
        (last.is_none(), last, self.received, self.id.clone())
    }

    /// The last day on which it may be used: the earlier of expiry and the days allowed
    /// once opened; `None` if neither is known.
    pub fn last_day(&self) -> Option<Date> {
        let once_opened = match (self.opened, self.days_once_opened) {
            (Some(opened), Some(days)) => days_after(opened, days),
            _ => None,
        };
        match (self.expiry, once_opened) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        }
    }

    /// Whether it may be used on a day.
    pub fn usable(&self, day: Date) -> bool {
        self.status == LotStatus::Released && self.last_day().is_none_or(|last| day <= last)
    }
}

/// What speaks against taking a mass from a lot.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum LotFault {
    /// Not in the stock.
    #[error("lot {0} is not in the stock")]
    Unknown(LotId),
    /// A lot of another material.
    #[error("lot {0} is of another material, {1}")]
    OtherMaterial(LotId, MaterialId),
    /// Not checked yet, or must not be used.
    #[error("lot {0} is in {1}")]
    Status(LotId, &'static str),
    /// Too old.
    #[error("lot {0} was to be used by {1}")]
    Expired(LotId, Date),
    /// Less is left than is taken.
    #[error("lot {0} has {1} g left by the books")]
    Short(LotId, ExactMass),
}
