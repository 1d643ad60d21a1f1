//! `phasewright work-out …`: arithmetic beside a formula.

use std::io::Write;

use clap::{Args, Subcommand};
use formulation::amount::measure::Measure;
use formulation::amount::typed;
use formulation::cas::Cas;
use formulation::chemistry::freezing;
use formulation::chemistry::soap::{self, SapBasis};
use formulation::chemistry::work_out::{self, Dilution};
use formulation::quantity::kg_per_m3;

use super::{Failure, Outcome, open};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct WorkOut {
    /// What to work out.
    #[command(subcommand)]
    pub what: What,
}

/// What can be worked out.
#[derive(Debug, Subcommand)]
pub enum What {
    /// A solution of a powder, or a weaker solution of a stronger one, by mass, with the
    /// classification of what is in the vessel.
    Dilution {
        /// INCI name or CAS number.
        substance: String,
        /// Strength at hand in % by mass; 100 for a powder.
        #[arg(long, default_value_t = 100.0)]
        from: f64,
        /// Strength wanted in % by mass.
        #[arg(long)]
        to: f64,
        /// Grams to make.
        #[arg(long, default_value_t = 100.0)]
        total: f64,
    },
    /// The base that neutralises carbomer.
    Carbomer {
        /// Grams of carbomer.
        grams: f64,
        /// The base, by INCI name.
        #[arg(long, default_value = "Sodium Hydroxide")]
        base: String,
        /// Its strength in % by mass.
        #[arg(long, default_value_t = 20.0)]
        strength: f64,
    },
    /// The lye for fats, each as NAME=GRAMS by INCI name.
    Lye {
        /// The fats.
        #[arg(required = true)]
        fats: Vec<String>,
        /// Share of the fats that stays unreacted, %.
        #[arg(long, default_value_t = 5.0)]
        superfat: f64,
        /// Share of the lye left out besides, %.
        #[arg(long, default_value_t = 0.0)]
        discount: f64,
        /// Potassium hydroxide instead of sodium hydroxide.
        #[arg(long)]
        potassium: bool,
        /// Purity of the hydroxide in % by mass.
        #[arg(long, default_value_t = 100.0)]
        purity: f64,
        /// Strength of the lye in % by mass, for which the water is told.
        #[arg(long)]
        strength: Option<f64>,
    },
    /// Freezing point from a water activity.
    Freezing {
        /// Water activity, above 0 and at most 1.
        water_activity: f64,
    },
    /// Ethanol in water: % by mass to % by volume at 20 °C, or back.
    Alcohol {
        /// The figure in %.
        percent: f64,
        /// It is by volume.
        #[arg(long)]
        by_volume: bool,
    },
    /// What follows from a formula: freezing point, alcohol, volatile solvents, buffering, soap.
    Formula {
        /// A formula file, or a CSV file with the header `phase,material,percent`.
        file: String,
    },
}

impl WorkOut {
    /// Prints the answer.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        match &self.what {
            What::Dilution {
                substance,
                from,
                to,
                total,
            } => dilution(out, substance, *from, *to, *total)?,
            What::Carbomer {
                grams,
                base,
                strength,
            } => {
                let base = work_out::substance(base)?;
                let needed = work_out::neutralise_carbomer(base, *strength, *grams)?;
                writeln!(
                    out,
                    "{needed:.2} g of {} {strength} % for {grams} g of carbomer (pH 6.5 to 7.5; common practice). Add nine tenths, then by the pH meter.",
                    base.name()
                )?;
                caution(out, base, *strength)?;
            }
            What::Lye {
                fats,
                superfat,
                discount,
                potassium,
                purity,
                strength,
            } => {
                let spared = (*superfat, *discount);
                lye(out, fats, spared, *potassium, (*purity, *strength))?;
            }
            What::Freezing { water_activity } => {
                let found = freezing::of_activity(*water_activity).ok_or_else(|| {
                    Failure("a water activity is above 0 and at most 1".to_owned())
                })?;
                writeln!(
                    out,
                    "{found:.1} °C (estimate; within 1 K down to −15 °C for salt, sugar and urea; alcohol and glycols freeze lower: take `work-out formula`)"
                )?;
            }
            What::Alcohol { percent, by_volume } => {
                let (found, from, to) = if *by_volume {
                    (work_out::alcohol_by_mass(*percent), "volume", "mass")
                } else {
                    (work_out::alcohol_by_volume(*percent), "mass", "volume")
                };
                let found = found.ok_or_else(|| Failure("give 0 to 100 %".to_owned()))?;
                writeln!(
                    out,
                    "{percent} % by {from} is {found:.2} % by {to} at 20 °C (ethanol and water, OIML R 22)"
                )?;
            }
            What::Formula { file } => formula(out, file)?,
        }
        Ok(0)
    }
}

fn dilution(
    out: &mut dyn Write,
    name: &str,
    from: f64,
    to: f64,
    total: f64,
) -> Result<(), Failure> {
    let substance = work_out::substance(name)?;
    let Dilution {
        stock_g,
        water_g,
        density_kg_m3,
        dissolves_only_g,
    } = work_out::dilute(Some(substance), from, to, total)?;
    let stock = if from < 100.0 {
        format!("{} {from} %", substance.name())
    } else {
        substance.name().to_owned()
    };
    writeln!(
        out,
        "{stock_g:.2} g of {stock} and {water_g:.2} g of water make {total} g of {to} %"
    )?;
    if let Some(density) = density_kg_m3 {
        let volume = total / density * 1000.0;
        writeln!(
            out,
            "Density about {} at 20 °C, {volume:.0} ml",
            typed::shown_density(kg_per_m3(density))
        )?;
    }
    if let Some(most) = dissolves_only_g {
        writeln!(
            out,
            "Only {most:.2} g of it dissolve in so much water at 20 to 25 °C"
        )?;
    }
    caution(out, substance, to)
}

fn caution(
    out: &mut dyn Write,
    substance: &formulation::chemistry::substances::Substance,
    percent: f64,
) -> Result<(), Failure> {
    if let Some(class) = work_out::classification(substance, percent) {
        let from_memory = if class.published { "" } else { ", from memory" };
        writeln!(
            out,
            "In the vessel: {} (from {} %; {}{from_memory}). Acid or lye into water, never water into it. Label the vessel; goggles and gloves.",
            class.words, class.from_percent, class.source
        )?;
    } else if work_out::is_classified(substance) {
        writeln!(
            out,
            "In the vessel: below the listed limits of classification"
        )?;
    } else {
        writeln!(
            out,
            "In the vessel: no limit of classification is listed here; read the safety data sheet"
        )?;
    }
    Ok(())
}

fn lye(
    out: &mut dyn Write,
    fats: &[String],
    (superfat, discount): (f64, f64),
    potassium: bool,
    (purity, strength): (f64, Option<f64>),
) -> Result<(), Failure> {
    let mut known = Vec::new();
    for text in fats {
        let (name, grams) = text
            .split_once('=')
            .ok_or_else(|| Failure(format!("“{text}”: write NAME=GRAMS")))?;
        let grams = typed::value(grams, &Measure::GRAMS)?;
        let fat = soap::fats()
            .iter()
            .find(|f| f.name.eq_ignore_ascii_case(name.trim()))
            .or_else(|| soap::fat(name.trim(), name.trim().parse::<Cas>().ok()))
            .ok_or_else(|| {
                Failure(format!(
                    "no saponification value is known of “{}”; give its INCI name",
                    name.trim()
                ))
            })?;
        known.push((fat, grams));
    }
    if !(purity > 0.0 && purity <= 100.0) {
        return Err(Failure(
            "the purity is above 0 and at most 100 %".to_owned(),
        ));
    }
    let pure = work_out::lye(&known, potassium, superfat, discount)?;
    let name = if potassium { "potassium" } else { "sodium" };
    let spared = if discount > 0.0 {
        format!(" and a lye discount of {discount} %")
    } else {
        String::new()
    };
    writeln!(
        out,
        "{:.2} g of {name} hydroxide of {purity} % for a superfat of {superfat} %{spared}",
        pure / purity * 100.0
    )?;
    let (least, most) = work_out::superfat_range(&known, potassium, pure)?;
    let free = if least < 0.0 {
        "; below 0 lye stays free and burns: leave more fat, or titrate the batch of fat"
    } else {
        ""
    };
    writeln!(
        out,
        "As these fats vary, the superfat lies between {least:.1} and {most:.1} %{free}"
    )?;
    if let Some(strength) = strength {
        let (_, water) = work_out::lye_water(pure, purity, strength)?;
        writeln!(out, "in {water:.2} g of water for a lye of {strength} %")?;
    }
    for (fat, grams) in &known {
        let basis = match fat.basis {
            SapBasis::Published => "published",
            SapBasis::Memory => "from memory",
            SapBasis::Computed => "computed",
        };
        let (low, typical, high) = fat.value;
        writeln!(
            out,
            "  {grams} g {}: {typical:.1} mg KOH/g ({low} to {high}; {}, {basis})",
            fat.name, fat.source
        )?;
    }
    writeln!(
        out,
        "Lye burns: goggles, gloves. Lye into cold water, never water into lye. Titrate free alkali before use."
    )?;
    Ok(())
}

fn formula(out: &mut dyn Write, file: &str) -> Result<(), Failure> {
    let opened = open(file)?;
    let evaluation = opened.evaluate();
    let derived = work_out::derived(&evaluation.estimates, &evaluation.composition);
    writeln!(out, "Worked out from the estimates (not measurements)")?;
    for figure in derived.figures() {
        let value = figure.value.map_or_else(
            || "not known".to_owned(),
            |v| format!("{v:.*} {}", figure.digits, figure.unit),
        );
        writeln!(out, "  {:<44}{}", figure.label, value.trim_end())?;
    }
    if let Some(soap) = &evaluation.estimates.soap {
        writeln!(out, "After the reaction, % of what is charged")?;
        for part in &soap.after {
            writeln!(out, "  {:<44}{:.2} %", part.inci, part.percent)?;
        }
    }
    Ok(())
}
