//! How large a batch is: from a mass, from containers to fill, from a stock to use up, or
//! from a vessel.

use std::sync::Arc;

use super::mass::{ExactMass, MassUnit, shown};
use crate::amount::measure::tidy;
use crate::amount::typed::shown_density;
use crate::chemistry::figure::Figure;
use crate::formula::Variant;
use crate::material::{Basis, MaterialId, Source, Sourced};
use crate::quantity::{
    Mass, MassDensity, Percent, Volume, in_grams, in_kg_per_m3, in_millilitres, kg_per_m3,
};

/// What the size of the batch is taken from.
#[derive(Clone, PartialEq, Debug)]
pub enum BatchSize {
    /// The finished mass wanted.
    Mass(ExactMass),
    /// Containers to fill.
    Containers {
        /// How many.
        count: u32,
        /// Volume of one: its brimful capacity if a head space is left, else its contents.
        volume: Volume,
        /// Share of the volume that stays empty.
        head_space: Percent,
    },
    /// All there is of one material.
    UseUp {
        /// Which.
        material: MaterialId,
        /// What it is called.
        name: Arc<str>,
        /// How much there is.
        available: ExactMass,
    },
    /// As much as a vessel holds.
    Vessel,
}

impl BatchSize {
    /// The batch kept with a variant.
    pub fn of_variant(variant: &Variant) -> Self {
        Self::Mass(ExactMass::nearest(variant.batch).unwrap_or_default())
    }
}

/// A vessel to make the batch in.
#[derive(Clone, PartialEq, Debug)]
pub struct Vessel {
    name: Arc<str>,
    capacity: Volume,
    fill: Percent,
}

impl Vessel {
    /// A checked vessel. `capacity` is its brimful volume, above nothing and at most a
    /// thousand cubic metres; `fill` the share of it that may be filled so that it can be
    /// stirred, above 0 and at most 100 %.
    pub fn new(
        name: impl Into<Arc<str>>,
        capacity: Volume,
        fill: Percent,
    ) -> Result<Self, SizeError> {
        let name = name.into();
        let ml = in_millilitres(capacity);
        if !(ml > 0.0 && ml <= 1e9) {
            return Err(SizeError::Capacity { name, ml });
        }
        if fill <= Percent::ZERO || fill > Percent::HUNDRED {
            return Err(SizeError::VesselFill { name, fill });
        }
        Ok(Self {
            name,
            capacity,
            fill,
        })
    }

    /// What the maker calls it.
    pub const fn name(&self) -> &Arc<str> {
        &self.name
    }

    /// Brimful volume.
    pub const fn capacity(&self) -> Volume {
        self.capacity
    }

    /// Share of it that may be filled.
    pub const fn fill(&self) -> Percent {
        self.fill
    }

    /// What may be in it while working.
    pub fn working_volume(&self) -> Volume {
        self.capacity * self.fill.fraction().value()
    }
}

/// What is added for losses.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Allowances {
    /// Filled into each container above its contents, as a share of them.
    pub overfill: Percent,
    /// Left behind in vessel, pump and hose, as a share of the batch.
    pub transfer_loss: Percent,
    /// Water that evaporates while the batch is warm, as a share of the batch; made up
    /// with water at the end, so it does not enlarge the batch.
    pub evaporation: Percent,
}

/// Everything the size depends on.
#[derive(Clone, PartialEq, Debug)]
pub struct SizeRequest {
    /// Taken from what.
    pub size: BatchSize,
    /// What is added for losses.
    pub allowances: Allowances,
    /// Density of the product with its source; needed for volumes.
    pub density: Option<Sourced<MassDensity>>,
    /// Vessel to make it in, if one is chosen.
    pub vessel: Option<Vessel>,
    /// Unit in which the working speaks of masses.
    pub unit: MassUnit,
}

impl SizeRequest {
    /// A batch of a mass, without allowances.
    pub const fn mass(mass: ExactMass) -> Self {
        Self {
            size: BatchSize::Mass(mass),
            allowances: Allowances {
                overfill: Percent::ZERO,
                transfer_loss: Percent::ZERO,
                evaporation: Percent::ZERO,
            },
            density: None,
            vessel: None,
            unit: MassUnit::Gram,
        }
    }
}

/// How containers are to be filled.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Filling {
    /// How many.
    pub count: u32,
    /// Net contents of one.
    pub contents: Volume,
    /// Net mass to fill into one, overfill included, by which the filling is checked on a
    /// scale.
    pub mass_each: Mass,
    /// Net mass in all of them.
    pub mass: Mass,
}

impl Filling {
    /// In words: "12 × 250 ml, 257.5 g each".
    pub fn words(&self) -> String {
        let contents = in_millilitres(self.contents);
        format!("{} × {contents:.0} ml, {}", self.count, self.each_words())
    }

    /// The mass to fill into one, in words.
    pub fn each_words(&self) -> String {
        format!("{:.1} g each", in_grams(self.mass_each))
    }
}

/// The size of a batch.
#[derive(Clone, PartialEq, Debug)]
pub struct Sized {
    /// Finished mass, which is what the lines of the sheet add up to.
    pub batch: ExactMass,
    /// Water expected to evaporate and to be made up at the end.
    pub evaporation: ExactMass,
    /// Expected to be left behind at transfer.
    pub transfer_loss: ExactMass,
    /// How containers are to be filled.
    pub filling: Option<Filling>,
    /// Volume of the batch; `None` if the density is unknown.
    pub volume: Option<Volume>,
    /// The density used.
    pub density: Option<Sourced<MassDensity>>,
    /// The vessel.
    pub vessel: Option<Vessel>,
    /// Unit in which the working speaks of masses.
    pub unit: MassUnit,
    /// Smallest step of the scales in use.
    pub step: ExactMass,
    /// How the size was found, in words, one step a line.
    pub working: Vec<String>,
}

impl Sized {
    /// Whether the batch stays within the working volume of the vessel; `None` without
    /// vessel or density.
    pub fn fits_vessel(&self) -> Option<bool> {
        let working = self.vessel.as_ref()?.working_volume();
        // A litre in a million is below any reading of a vessel.
        Some(self.volume? <= working * (1.0 + 1e-6))
    }

    /// What to say of a batch that is too large for the vessel.
    pub fn vessel_caution(&self) -> Option<String> {
        let (vessel, volume) = (self.vessel.as_ref()?, self.volume?);
        if self.fits_vessel()? {
            return None;
        }
        let working = vessel.working_volume();
        let runs = (volume / working).value.ceil() as i128;
        let each = to_step(self.batch.ratio(1, runs), self.step, Towards::Nearest);
        Some(format!(
            "{:.0} ml are more than the {:.0} ml that may be in {} ({} % of {} ml); make it in {runs} batches of about {}",
            in_millilitres(volume),
            in_millilitres(working),
            vessel.name,
            vessel.fill,
            tidy(in_millilitres(vessel.capacity), 3),
            shown(each, self.step, self.unit)
        ))
    }
}

/// Why a size cannot be found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SizeError {
    /// A volume is to become a mass.
    #[error(
        "the density of the product is not known, so a volume cannot become a mass; measure or enter it (grams per millilitre)"
    )]
    NoDensity,
    /// A density that no product has.
    #[error("a density of {0:.3} g/ml is outside 0.3 to 3; check the unit")]
    DensityRange(f64),
    /// No such line.
    #[error("the formula does not use {0}, so no batch can use it up")]
    NotUsed(Arc<str>),
    /// A vessel that holds nothing.
    #[error("{name} holds {ml} ml; enter a capacity above 0 and at most 1000000 l")]
    Capacity {
        /// The vessel.
        name: Arc<str>,
        /// What was entered.
        ml: f64,
    },
    /// A vessel that is to hold nothing, or more than it can.
    #[error("{name} cannot be filled to {fill} %; enter more than 0 and at most 100")]
    VesselFill {
        /// The vessel.
        name: Arc<str>,
        /// What was entered.
        fill: Percent,
    },
    /// No vessel chosen.
    #[error("no vessel is chosen; enter its capacity")]
    NoVessel,
    /// A share out of its range.
    #[error("{what} of {value} % is out of range; enter at least 0 and less than 100")]
    Share {
        /// Which.
        what: &'static str,
        /// What was entered.
        value: Percent,
    },
    /// Contents and overfill do not go into the container.
    #[error(
        "with {overfill} % overfill, {head_space} % head space is too little: the container would run over"
    )]
    RunsOver {
        /// Overfill entered.
        overfill: Percent,
        /// Head space entered.
        head_space: Percent,
    },
    /// Nothing to make.
    #[error("the batch comes out at nothing; enter a larger size")]
    Nothing,
    /// Beyond a thousand tonnes.
    #[error("the batch comes out above 1000 tonnes; check the numbers")]
    TooLarge,
}

fn check_share(what: &'static str, value: Percent) -> Result<f64, SizeError> {
    if (Percent::ZERO..Percent::HUNDRED).contains(&value) {
        Ok(value.fraction().value())
    } else {
        Err(SizeError::Share { what, value })
    }
}

/// Which way a size that is no whole number of steps is taken.
#[derive(Clone, Copy)]
pub(super) enum Towards {
    /// Down, so that it is never more than there is or fits.
    Less,
    /// Up, so that it is always enough.
    More,
    /// To the nearer.
    Nearest,
}

/// A mass in whole steps.
pub(super) fn to_step(mass: ExactMass, step: ExactMass, towards: Towards) -> ExactMass {
    let (mass, step) = (mass.femtograms(), step.femtograms().max(1));
    // A computed mass may lie a rounding error above a whole step; a nanogram is below any
    // scale.
    const NANOGRAM: i128 = 1_000_000;
    let count = match towards {
        Towards::Less => (mass + NANOGRAM) / step,
        Towards::More => (mass - NANOGRAM + step - 1).max(0) / step,
        Towards::Nearest => (mass + step / 2) / step,
    };
    ExactMass::from_femtograms(count * step)
}

/// Finds the size of a batch of a variant. `step` is the resolution of the finest scale
/// used: a size from containers is taken up to whole steps, one from stock or vessel down,
/// one from a mass to the nearest.
///
/// Containers: `count × volume × (1 − head space) × (1 + overfill) × density /
/// (1 − transfer loss)`. Stock: `available / share of the material`. Vessel: `capacity ×
/// fill × density`.
pub fn size(variant: &Variant, request: &SizeRequest, step: ExactMass) -> Result<Sized, SizeError> {
    check_share("an overfill", request.allowances.overfill)?;
    check_share("a transfer loss", request.allowances.transfer_loss)?;
    check_share("an evaporation", request.allowances.evaporation)?;
    if let Some(d) = &request.density {
        let g_per_ml = in_kg_per_m3(d.value) / 1000.0;
        if !(0.3..=3.0).contains(&g_per_ml) {
            return Err(SizeError::DensityRange(g_per_ml));
        }
    }
    let mut working = Working {
        request,
        step,
        lines: Vec::new(),
        filling: None,
    };
    let batch = match &request.size {
        BatchSize::Mass(mass) => working.of_mass(*mass),
        BatchSize::Containers {
            count,
            volume,
            head_space,
        } => working.of_containers(*count, *volume, *head_space)?,
        BatchSize::UseUp {
            material,
            name,
            available,
        } => {
            let of_material = variant.lines().filter(|(_, l)| l.material == *material);
            let share: Percent = of_material.map(|(_, l)| l.percent).sum();
            working.of_stock(name, *available, (share, variant.total()))?
        }
        BatchSize::Vessel => working.of_vessel()?,
    };
    if batch <= ExactMass::ZERO {
        return Err(SizeError::Nothing);
    }
    if batch > ExactMass::MOST {
        return Err(SizeError::TooLarge);
    }
    let share_of_batch = |share: Percent| {
        let units = i128::from(share.units());
        let whole = i128::from(Percent::HUNDRED.units());
        to_step(batch.ratio(units, whole), step, Towards::Nearest)
    };
    let evaporation = share_of_batch(request.allowances.evaporation);
    working.close(evaporation);
    let volume: Option<Volume> = (request.density.as_ref()).map(|d| batch.mass() / d.value);
    Ok(Sized {
        batch,
        evaporation,
        transfer_loss: share_of_batch(request.allowances.transfer_loss),
        filling: working.filling,
        volume,
        density: request.density.clone(),
        vessel: request.vessel.clone(),
        unit: request.unit,
        step,
        working: working.lines,
    })
}

/// How a size is found, with the working out in words.
struct Working<'r> {
    request: &'r SizeRequest,
    step: ExactMass,
    lines: Vec<String>,
    filling: Option<Filling>,
}

impl Working<'_> {
    fn density(&self) -> Result<&Sourced<MassDensity>, SizeError> {
        self.request.density.as_ref().ok_or(SizeError::NoDensity)
    }

    fn shown(&self, mass: ExactMass) -> String {
        shown(mass, self.step, self.request.unit)
    }

    fn of_mass(&mut self, mass: ExactMass) -> ExactMass {
        let batch = to_step(mass, self.step, Towards::Nearest);
        if batch != mass {
            self.lines.push(format!(
                "{} as entered, to whole steps of the scales",
                shown(mass, ExactMass::from_femtograms(1), self.request.unit)
            ));
        }
        batch
    }

    fn of_containers(
        &mut self,
        count: u32,
        volume: Volume,
        head_space: Percent,
    ) -> Result<ExactMass, SizeError> {
        let allowances = &self.request.allowances;
        let overfill = check_share("an overfill", allowances.overfill)?;
        let loss = check_share("a transfer loss", allowances.transfer_loss)?;
        let density = self.density()?;
        let at = density_words(density);
        let head = check_share("a head space", head_space)?;
        if head > 0.0 && (1.0 - head) * (1.0 + overfill) > 1.0 + 1e-12 {
            return Err(SizeError::RunsOver {
                overfill: allowances.overfill,
                head_space,
            });
        }
        let contents = volume * (1.0 - head);
        let mass_each: Mass = contents * density.value * (1.0 + overfill);
        let mass = mass_each * f64::from(count);
        let less_head = if head > 0.0 {
            format!(", less {head_space} % head space")
        } else {
            String::new()
        };
        self.lines.push(format!(
            "{count} × {} ml{less_head}: {:.1} ml",
            tidy(in_millilitres(volume), 3),
            in_millilitres(contents) * f64::from(count)
        ));
        let and_overfill = if overfill > 0.0 {
            format!(" and {} % overfill", allowances.overfill)
        } else {
            String::new()
        };
        self.lines.push(format!(
            "{at}{and_overfill}: {} to fill, {:.2} g each",
            self.shown(exact(mass)?),
            in_grams(mass_each)
        ));
        self.filling = Some(Filling {
            count,
            contents,
            mass_each,
            mass,
        });
        let batch = exact(mass / (1.0 - loss))?;
        if loss > 0.0 {
            self.lines.push(format!(
                "with {} % lost at transfer: {}",
                allowances.transfer_loss,
                self.shown(batch)
            ));
        }
        Ok(to_step(batch, self.step, Towards::More))
    }

    /// As much as a material in stock suffices for; its share stands beside the total of the
    /// formula.
    fn of_stock(
        &mut self,
        name: &Arc<str>,
        available: ExactMass,
        (share, total): (Percent, Percent),
    ) -> Result<ExactMass, SizeError> {
        if share <= Percent::ZERO {
            return Err(SizeError::NotUsed(name.clone()));
        }
        let batch = available.ratio(total.units().into(), share.units().into());
        self.lines.push(format!(
            "{} of {name} at {share} %: {}",
            self.shown(available),
            self.shown(batch)
        ));
        Ok(to_step(batch, self.step, Towards::Less))
    }

    fn of_vessel(&mut self) -> Result<ExactMass, SizeError> {
        let vessel = self.request.vessel.as_ref().ok_or(SizeError::NoVessel)?;
        let density = self.density()?;
        let volume = vessel.working_volume();
        let batch = exact(volume * density.value)?;
        let at = density_words(density);
        self.lines.push(format!(
            "{}, {} ml filled to {} %: {:.1} ml {at}",
            vessel.name,
            tidy(in_millilitres(vessel.capacity), 3),
            vessel.fill,
            in_millilitres(volume),
        ));
        Ok(to_step(batch, self.step, Towards::Less))
    }

    /// Adds what evaporates and where the density is from.
    fn close(&mut self, evaporation: ExactMass) {
        if evaporation > ExactMass::ZERO {
            self.lines.push(format!(
                "about {} of water will evaporate and is made up at the end",
                self.shown(evaporation)
            ));
        }
        let by_volume = matches!(
            self.request.size,
            BatchSize::Containers { .. } | BatchSize::Vessel
        );
        if let Some(density) = self.request.density.as_ref().filter(|_| by_volume)
            && !density.source.text.is_empty()
        {
            let source = &density.source;
            self.lines.push(format!(
                "density, {}: {}",
                source.basis.label(),
                source.text
            ));
        }
    }
}

fn exact(mass: Mass) -> Result<ExactMass, SizeError> {
    ExactMass::nearest(mass).ok_or(SizeError::TooLarge)
}

fn density_words(density: &Sourced<MassDensity>) -> String {
    format!(
        "at {} ({})",
        shown_density(density.value),
        density.source.basis.label()
    )
}

/// The density a figure of the mix gives: measured if it was, else estimated, with the
/// range and the method in words. `None` if nothing is known.
pub fn density_of(figure: &Figure) -> Option<Sourced<MassDensity>> {
    if let Some(measured) = figure.measured {
        let source = Source::new(Basis::Measured, "on the product");
        return Some(Sourced::new(kg_per_m3(measured), source));
    }
    let value = figure.value?;
    let mut words = figure.method.to_owned();
    if let (Some(low), Some(high)) = (figure.low, figure.high) {
        words = format!(
            "between {:.3} and {:.3}; {words}",
            low / 1000.0,
            high / 1000.0
        );
    }
    if !figure.in_range {
        words.push_str("; outside the range of the method");
    }
    Some(Sourced::new(
        kg_per_m3(value),
        Source::new(Basis::Estimate, words),
    ))
}

/// A density entered by the maker; [`crate::amount::typed::density`] has checked it.
pub fn density_entered(density: MassDensity) -> Sourced<MassDensity> {
    Sourced::new(density, Source::new(Basis::Measured, "entered"))
}

/// How many whole containers a mass of product fills; `None` if the density is unknown or
/// the contents are nothing.
pub fn containers_filled(
    product: ExactMass,
    contents: Volume,
    density: Option<MassDensity>,
) -> Option<u32> {
    let each = in_grams(contents * density?);
    (each > 0.0).then(|| (product.as_grams() / each + 1e-9).floor() as u32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::mass::{read_mass, read_volume};
    use crate::material::Class;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }
    fn percent(text: &str) -> Percent {
        text.parse().unwrap()
    }
    fn variant() -> Arc<Variant> {
        let water = fixture::material("water", &[("Aqua", 100.0, Class::Water)]);
        let glycerin = fixture::material("glycerin", &[("Glycerin", 100.0, Class::Humectant)]);
        fixture::formula(vec![
            fixture::line(&water, "80"),
            fixture::line(&glycerin, "20"),
        ])
        .active()
        .clone()
    }
    fn containers(count: u32, volume: &str, head_space: &str) -> BatchSize {
        BatchSize::Containers {
            count,
            volume: read_volume(volume, None).unwrap(),
            head_space: percent(head_space),
        }
    }
    fn request(size: BatchSize, g_per_ml: Option<f64>) -> SizeRequest {
        SizeRequest {
            size,
            allowances: Allowances::default(),
            density: g_per_ml.map(|d| {
                Sourced::new(
                    kg_per_m3(d * 1000.0),
                    Source::new(Basis::Measured, "pycnometer"),
                )
            }),
            vessel: None,
            unit: MassUnit::Gram,
        }
    }

    /// 20 % glycerol in water at 20 °C is 1.0469 g/ml (handbook value; Bosart and Snoddy 1927).
    #[test]
    fn bottles_of_a_known_density_become_a_mass() {
        let sized = size(
            &variant(),
            &request(containers(24, "250 ml", "0"), Some(1.0469)),
            mass("0.1 g"),
        )
        .unwrap();
        assert_eq!(sized.batch, mass("6281.4 g"));
        let filling = sized.filling.unwrap();
        assert!((in_grams(filling.mass_each) - 261.725).abs() < 1e-9);
        assert!((in_millilitres(sized.volume.unwrap()) - 6000.0).abs() < 0.1);
    }

    #[test]
    fn allowances_are_taken_one_after_the_other() {
        let mut r = request(containers(10, "100 ml", "5"), Some(1.0));
        r.allowances = Allowances {
            overfill: percent("2"),
            transfer_loss: percent("3"),
            evaporation: percent("1"),
        };
        let sized = size(&variant(), &r, mass("0.1 g")).unwrap();
        // 10 × 95 ml × 1.02 / 0.97 = 998.969 g, taken up to a tenth.
        assert_eq!(sized.batch, mass("999.0 g"));
        assert_eq!(sized.evaporation, mass("10 g"));
        assert_eq!(sized.transfer_loss, mass("30 g"));
    }

    #[test]
    fn a_volume_without_density_is_refused() {
        let result = size(
            &variant(),
            &request(containers(24, "250 ml", "0"), None),
            mass("0.1 g"),
        );
        assert_eq!(result, Err(SizeError::NoDensity));
        let heavy = request(containers(1, "250 ml", "0"), Some(1000.0));
        assert!(matches!(
            size(&variant(), &heavy, mass("0.1 g")),
            Err(SizeError::DensityRange(_))
        ));
    }

    #[test]
    fn a_drum_is_used_up_and_no_more() {
        let drum = BatchSize::UseUp {
            material: MaterialId::from_name("glycerin"),
            name: "Glycerin".into(),
            available: mass("333.33 g"),
        };
        let sized = size(&variant(), &request(drum, None), mass("0.1 g")).unwrap();
        assert_eq!(sized.batch, mass("1666.6 g"));
        let other = BatchSize::UseUp {
            material: MaterialId::from_name("urea"),
            name: "Urea".into(),
            available: mass("1 g"),
        };
        assert!(matches!(
            size(&variant(), &request(other, None), mass("0.1 g")),
            Err(SizeError::NotUsed(_))
        ));
    }

    #[test]
    fn a_vessel_is_filled_to_its_working_volume() {
        let mut r = request(BatchSize::Vessel, Some(1.02));
        assert_eq!(
            size(&variant(), &r, mass("0.1 g")),
            Err(SizeError::NoVessel)
        );
        let pot = |capacity: &str, fill| {
            let capacity = read_volume(capacity, None).unwrap();
            Vessel::new("ten-litre pot", capacity, percent(fill))
        };
        r.vessel = Some(pot("10 l", "80").unwrap());
        assert!(matches!(pot("0 l", "80"), Err(SizeError::Capacity { .. })));
        for fill in ["0", "100.1"] {
            assert!(matches!(
                pot("10 l", fill),
                Err(SizeError::VesselFill { .. })
            ));
        }
        let sized = size(&variant(), &r, mass("0.1 g")).unwrap();
        assert_eq!(sized.batch, mass("8160 g"));
        assert_eq!(sized.fits_vessel(), Some(true));
        r.size = BatchSize::Mass(mass("9 kg"));
        let sized = size(&variant(), &r, mass("0.1 g")).unwrap();
        assert_eq!(sized.fits_vessel(), Some(false));
        // 9000 g at 1.02 g/ml are 8823.5 ml.
        assert_eq!(
            sized.vessel_caution().unwrap(),
            "8824 ml are more than the 8000 ml that may be in ten-litre pot (80 % of 10000 ml); make it in 2 batches of about 4500.0 g"
        );
    }

    #[test]
    fn impossible_shares_are_named() {
        let mut r = request(containers(1, "100 ml", "1"), Some(1.0));
        r.allowances.overfill = percent("3");
        assert!(matches!(
            size(&variant(), &r, mass("0.1 g")),
            Err(SizeError::RunsOver { .. })
        ));
        r.allowances.overfill = percent("100");
        assert!(matches!(
            size(&variant(), &r, mass("0.1 g")),
            Err(SizeError::Share { .. })
        ));
    }
}
