//! How large a batch is: from a mass, from containers to fill, from a stock to use up, or
//! from a vessel.

use std::sync::Arc;

use super::mass::{ExactMass, MassUnit, read_mass, read_volume, shown};
use crate::amount::Measure;
use crate::amount::measure::tidy;
use crate::amount::typed::{AmountError, shown_density};
use crate::chemistry::figure::Figure;
use crate::chemistry::water_limits::NONE_TO_PRESERVE_PERCENT;
use crate::formula::Variant;
use crate::label_info::NetContents;
use crate::material::{Basis, MaterialId, Source, Sourced};
use crate::quantity::{
    Mass, MassDensity, MassFraction, Percent, Volume, in_grams, in_kg_per_m3, in_millilitres,
    kg_per_m3,
};

/// What goes into one container.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Contents {
    /// Its volume: the brimful capacity if a head space is left, else its contents.
    Volume(Volume),
    /// The net mass in it, whatever its volume.
    Mass(ExactMass),
}

/// Reads what goes into one container: a volume or a mass, with its unit.
///
/// # Errors
/// What is wrong with it as a volume.
pub fn read_contents(text: &str) -> Result<Contents, AmountError> {
    let volume = read_volume(text, None);
    if let (Err(_), Ok(mass)) = (&volume, read_mass(text, None)) {
        return Ok(Contents::Mass(mass));
    }
    volume.map(Contents::Volume)
}

/// What the size of the batch is taken from.
#[derive(Clone, PartialEq, Debug)]
pub enum BatchSize {
    /// The finished mass wanted.
    Mass(ExactMass),
    /// Containers to fill.
    Containers {
        /// How many.
        count: u32,
        /// What goes into one.
        each: Contents,
        /// Share of a volume that stays empty.
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
    /// with water at the end, so it does not enlarge the batch. Never more than the water there
    /// is, and none where there is as good as none.
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
    /// Water expected to evaporate and to be made up at the end; none where the formula holds
    /// none.
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
    /// That a container holds less than the label states, in words.
    pub less_than_label: Option<String>,
}

impl Sized {
    /// Whether the batch stays within the working volume of the vessel; `None` without
    /// vessel or density.
    pub fn fits_vessel(&self) -> Option<bool> {
        let working = self.vessel.as_ref()?.working_volume();
        // A litre in a million is below any reading of a vessel.
        Some(self.volume? <= working * (1.0 + 1e-6))
    }

    /// What to say of the size: that the containers hold less than the label states, that the
    /// batch is too large for the vessel.
    pub fn cautions(&self) -> Vec<String> {
        let less = self.less_than_label.clone();
        less.into_iter().chain(self.vessel_caution()).collect()
    }

    /// What to say of a batch that is too large for the vessel.
    fn vessel_caution(&self) -> Option<String> {
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
///
/// `water` is the share of water in the formula, of which alone something evaporates that is made
/// up with water.
pub fn size(
    variant: &Variant,
    water: MassFraction,
    request: &SizeRequest,
    step: ExactMass,
) -> Result<Sized, SizeError> {
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
            each,
            head_space,
        } => working.of_containers(*count, *each, *head_space)?,
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
    let evaporation = share_of_batch(evaporating(request.allowances.evaporation, water));
    working.close(evaporation, water);
    let volume: Option<Volume> = (request.density.as_ref()).map(|d| batch.mass() / d.value);
    let less_than_label = (working.filling.as_ref()).and_then(|filling| {
        let net = variant.label.net_contents?;
        less_than_label(filling, net, request.allowances.overfill)
    });
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
        less_than_label,
    })
}

/// That a container, overfill included, holds less than the net contents on the label, in words.
fn less_than_label(filling: &Filling, net: NetContents, overfill: Percent) -> Option<String> {
    let (holds, stated, unit) = match net {
        NetContents::Mass(mass) => (in_grams(filling.mass_each), in_grams(mass), "g"),
        NetContents::Volume(volume) => {
            let filled = filling.contents * (1.0 + overfill.fraction().value());
            (in_millilitres(filled), in_millilitres(volume), "ml")
        }
        NetContents::Pieces(_) => return None,
    };
    (holds < stated * (1.0 - 1e-9)).then(|| {
        // Cut, so that it never looks as much as what is stated.
        let holds = tidy((holds * 100.0 + 1e-6).floor() / 100.0, 2);
        let stated = tidy(stated, 3);
        format!("a container of {holds} {unit} is less than the {stated} {unit} net that the label states")
    })
}

/// Whether a formula with a share of water is made as one without: water put into it would do
/// harm and make up for nothing.
pub fn is_without_water(water: MassFraction) -> bool {
    water.as_percent() <= NONE_TO_PRESERVE_PERCENT
}

/// What of a batch evaporates as water, as a share of it: what was asked for, but never more than
/// the water there is.
fn evaporating(asked: Percent, water: MassFraction) -> Percent {
    if is_without_water(water) {
        return Percent::ZERO;
    }
    asked.min(Percent::nearest(water.as_percent()).unwrap_or(asked))
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
        each: Contents,
        head_space: Percent,
    ) -> Result<ExactMass, SizeError> {
        let allowances = &self.request.allowances;
        let overfill = check_share("an overfill", allowances.overfill)?;
        let loss = check_share("a transfer loss", allowances.transfer_loss)?;
        let density = self.density()?;
        let at = density_words(density);
        let (volume, head) = match each {
            Contents::Volume(volume) => (volume, check_share("a head space", head_space)?),
            // A mass is what is in it, however much room is above.
            Contents::Mass(mass) => (mass.mass() / density.value, 0.0),
        };
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
        let all = in_millilitres(contents) * f64::from(count);
        self.lines.push(match each {
            Contents::Volume(volume) => {
                let volume = tidy(in_millilitres(volume), 3);
                format!("{count} × {volume} ml{less_head}: {all:.1} ml")
            }
            Contents::Mass(mass) => format!("{count} × {mass} g: {all:.1} ml"),
        });
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
    fn close(&mut self, evaporation: ExactMass, water: MassFraction) {
        let asked = self.request.allowances.evaporation;
        if asked > Percent::ZERO && is_without_water(water) {
            self.lines.push(format!(
                "the {asked} % for evaporation are not reckoned: {}, so none may be made up",
                without_water_words(water)
            ));
        } else if asked > evaporating(asked, water) {
            self.lines.push(format!(
                "the {asked} % for evaporation are more than the water there is, about {}, of which all would evaporate and is made up at the end",
                self.shown(evaporation)
            ));
        } else if evaporation > ExactMass::ZERO {
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

/// That a formula is made as one without water, in words.
pub fn without_water_words(water: MassFraction) -> String {
    if water == MassFraction::ZERO {
        "the formula holds no water".to_owned()
    } else {
        format!(
            "the formula holds hardly any water, {}",
            Measure::PERCENT_ROUGH.shown(water.as_percent())
        )
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
    use crate::material::Class;

    const WATER: MassFraction = MassFraction::from_percent(80.0);

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
            each: read_contents(volume).unwrap(),
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
            WATER,
            &request(containers(24, "250 ml", "0"), Some(1.0469)),
            mass("0.1 g"),
        )
        .unwrap();
        assert_eq!(sized.batch, mass("6281.4 g"));
        let filling = sized.filling.unwrap();
        assert!((in_grams(filling.mass_each) - 261.725).abs() < 1e-9);
        assert!((in_millilitres(sized.volume.unwrap()) - 6000.0).abs() < 0.1);
    }

    /// The balm by its net mass: no density changes what is in a container.
    #[test]
    fn containers_are_filled_by_mass_too() {
        for density in [0.9, 0.95] {
            let r = request(containers(24, "60 g", "0"), Some(density));
            let sized = size(&variant(), WATER, &r, mass("0.1 g")).unwrap();
            assert_eq!(sized.batch, mass("1440 g"));
            let each = sized.filling.unwrap().mass_each;
            assert!((in_grams(each) - 60.0).abs() < 1e-9);
            assert!(
                sized.working[0].starts_with("24 × 60 g: "),
                "{:?}",
                sized.working
            );
        }
        assert!(read_contents("60").is_err() && read_contents("60 min").is_err());
    }

    #[test]
    fn allowances_are_taken_one_after_the_other() {
        let mut r = request(containers(10, "100 ml", "5"), Some(1.0));
        r.allowances = Allowances {
            overfill: percent("2"),
            transfer_loss: percent("3"),
            evaporation: percent("1"),
        };
        let sized = size(&variant(), WATER, &r, mass("0.1 g")).unwrap();
        // 10 × 95 ml × 1.02 / 0.97 = 998.969 g, taken up to a tenth.
        assert_eq!(sized.batch, mass("999.0 g"));
        assert_eq!(sized.evaporation, mass("10 g"));
        assert_eq!(sized.transfer_loss, mass("30 g"));
    }

    #[test]
    fn a_container_smaller_than_the_label_states_is_told() {
        let told = |volume: &str, net, overfill: &str| {
            let mut variant = variant().as_ref().clone();
            Arc::make_mut(&mut variant.label).net_contents = Some(net);
            let mut r = request(containers(4, volume, "0"), Some(0.95));
            r.allowances.overfill = percent(overfill);
            let sized = size(&variant, WATER, &r, mass("0.1 g")).unwrap();
            sized.cautions().join("; ")
        };
        let ml = |v| NetContents::Volume(crate::quantity::millilitres(v));
        assert_eq!(
            told("96 ml", ml(100.0), "0"),
            "a container of 96 ml is less than the 100 ml net that the label states"
        );
        assert_eq!(told("96 ml", ml(100.0), "5"), "");
        assert_eq!(told("100 ml", ml(100.0), "0"), "");
        // 60 ml at 0.95 g/ml are 57 g.
        let grams = NetContents::Mass(crate::quantity::grams(60.0));
        assert!(told("60 ml", grams, "0").contains("of 57 g is less than the 60 g net"));
        assert_eq!(told("64 ml", grams, "0"), "");
    }

    #[test]
    fn no_more_water_is_made_up_than_there_is() {
        let mut r = request(BatchSize::Mass(mass("1 kg")), None);
        r.allowances.evaporation = percent("3");
        let made = |water| {
            let water = MassFraction::from_percent(water);
            let sized = size(&variant(), water, &r, mass("0.1 g")).unwrap();
            (sized.evaporation, sized.working.join("; "))
        };
        assert_eq!(made(80.0).0, mass("30 g"));
        assert_eq!(made(1.0).0, mass("10 g"));
        assert!(made(1.0).1.contains("more than the water there is"));
        for (water, words) in [(0.0, "holds no water"), (0.5, "hardly any water, 0.50 %")] {
            let (evaporates, said) = made(water);
            assert!(evaporates.is_zero(), "{water}");
            assert!(
                said.contains(words) && !said.contains("at the end"),
                "{said}"
            );
        }
    }

    #[test]
    fn a_volume_without_density_is_refused() {
        let result = size(
            &variant(),
            WATER,
            &request(containers(24, "250 ml", "0"), None),
            mass("0.1 g"),
        );
        assert_eq!(result, Err(SizeError::NoDensity));
        let heavy = request(containers(1, "250 ml", "0"), Some(1000.0));
        assert!(matches!(
            size(&variant(), WATER, &heavy, mass("0.1 g")),
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
        let sized = size(&variant(), WATER, &request(drum, None), mass("0.1 g")).unwrap();
        assert_eq!(sized.batch, mass("1666.6 g"));
        let other = BatchSize::UseUp {
            material: MaterialId::from_name("urea"),
            name: "Urea".into(),
            available: mass("1 g"),
        };
        assert!(matches!(
            size(&variant(), WATER, &request(other, None), mass("0.1 g")),
            Err(SizeError::NotUsed(_))
        ));
    }

    #[test]
    fn a_vessel_is_filled_to_its_working_volume() {
        let mut r = request(BatchSize::Vessel, Some(1.02));
        assert_eq!(
            size(&variant(), WATER, &r, mass("0.1 g")),
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
        let sized = size(&variant(), WATER, &r, mass("0.1 g")).unwrap();
        assert_eq!(sized.batch, mass("8160 g"));
        assert_eq!(sized.fits_vessel(), Some(true));
        r.size = BatchSize::Mass(mass("9 kg"));
        let sized = size(&variant(), WATER, &r, mass("0.1 g")).unwrap();
        assert_eq!(sized.fits_vessel(), Some(false));
        // 9000 g at 1.02 g/ml are 8823.5 ml.
        assert_eq!(
            sized.cautions().join("; "),
            "8824 ml are more than the 8000 ml that may be in ten-litre pot (80 % of 10000 ml); make it in 2 batches of about 4500.0 g"
        );
    }

    #[test]
    fn impossible_shares_are_named() {
        let mut r = request(containers(1, "100 ml", "1"), Some(1.0));
        r.allowances.overfill = percent("3");
        assert!(matches!(
            size(&variant(), WATER, &r, mass("0.1 g")),
            Err(SizeError::RunsOver { .. })
        ));
        r.allowances.overfill = percent("100");
        assert!(matches!(
            size(&variant(), WATER, &r, mass("0.1 g")),
            Err(SizeError::Share { .. })
        ));
    }
}
