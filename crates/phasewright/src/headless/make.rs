//! `phasewright make FILE`: size a batch, print or save its weigh sheet.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use formulation::amount::typed;
use formulation::batch::packaging_plan::PackagingPlan;
use formulation::batch::plan::{PlanRequest, plan};
use formulation::batch::scale::{
    Allowances, BatchSize, SizeRequest, Vessel, density_entered, density_of, read_contents,
};
use formulation::batch::weigh_sheet::{Heading, WeighSheet, breaches, weigh_sheet};
use formulation::batch::weighing_scale::read_scale;
use formulation::batch::workshop::Workshop;
use formulation::batch_code::BatchCode;
use formulation::cost::{CostSheet, batch_cost};
use formulation::file::sheet_pdf::weigh_sheet_pdf;
use formulation::file::store::{self, Expect};
use formulation::file::{sheet_export, stock_file};
use formulation::formula::{Formula, Variant};
use formulation::mass::{MassUnit, read_mass, read_volume};
use formulation::quantity::{MassDensity, Percent};
use formulation::trial::known::told;

use super::paper::PaperArg;
use super::trials::beside;
use super::{Failure, Outcome, names, open, said, today};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Make {
    /// A formula file, or a CSV file with the header `phase,material,percent`; `FILE#variant` picks a variant.
    pub file: String,
    /// Finished mass of the batch, for example 2.5kg; the formula's own batch if no size is given.
    #[arg(allow_hyphen_values = true, long, value_name = "MASS", conflicts_with_all = ["containers", "use_up", "vessel_full"])]
    pub mass: Option<String>,
    /// Number of containers to fill; needs --volume.
    #[arg(
        allow_hyphen_values = true,
        long,
        value_name = "N",
        requires = "volume"
    )]
    pub containers: Option<u32>,
    /// Contents of one container, for example 250ml, or by mass 60g.
    #[arg(
        allow_hyphen_values = true,
        long,
        value_name = "VOLUME",
        requires = "containers"
    )]
    pub volume: Option<String>,
    /// Percent of the container's volume that stays empty; --volume is then its brimful volume.
    #[arg(
        value_parser = typed::percent,
        allow_hyphen_values = true,
        long,
        value_name = "PERCENT",
        requires = "containers"
    )]
    pub head_space: Option<Percent>,
    /// Use up all there is of one material, for example "glycerin=800g".
    #[arg(
        allow_hyphen_values = true,
        long,
        value_name = "MATERIAL=MASS",
        conflicts_with = "containers"
    )]
    pub use_up: Option<String>,
    /// Vessel to make it in, for example 10l.
    #[arg(allow_hyphen_values = true, long, value_name = "VOLUME")]
    pub vessel: Option<String>,
    /// Percent of the vessel that may be filled.
    #[arg(
        value_parser = typed::percent,
        allow_hyphen_values = true,
        long,
        value_name = "PERCENT",
        default_value = "80",
        requires = "vessel"
    )]
    pub vessel_fill: Percent,
    /// Make as much as the vessel holds.
    #[arg(long, requires = "vessel", conflicts_with_all = ["containers", "use_up"])]
    pub vessel_full: bool,
    /// A scale by its smallest step, for example 0.1g, with its range if it has one: 0.01g/200g. May be given several times.
    #[arg(allow_hyphen_values = true, long, value_name = "STEP[/RANGE]")]
    pub scale: Vec<String>,
    /// How far a weighing may be off, in percent of the line.
    #[arg(value_parser = typed::percent, allow_hyphen_values = true, long, value_name = "PERCENT")]
    pub tolerance: Option<Percent>,
    /// Density of the product in g/ml, measured; else that of the formula, measured or estimated.
    #[arg(value_parser = typed::density, allow_hyphen_values = true, long, value_name = "G_PER_ML")]
    pub density: Option<MassDensity>,
    /// Percent filled above the contents.
    #[arg(value_parser = typed::percent, allow_hyphen_values = true, long, value_name = "PERCENT")]
    pub overfill: Option<Percent>,
    /// Percent of the batch left behind at transfer.
    #[arg(value_parser = typed::percent, allow_hyphen_values = true, long, value_name = "PERCENT")]
    pub loss: Option<Percent>,
    /// Percent of the batch that evaporates and is made up with water.
    #[arg(value_parser = typed::percent, allow_hyphen_values = true, long, value_name = "PERCENT")]
    pub evaporation: Option<Percent>,
    /// Unit of the printed masses: g, kg, oz or lb.
    #[arg(allow_hyphen_values = true, long, value_name = "UNIT")]
    pub unit: Option<String>,
    /// Batch code to head the sheet with, for example 26-047.
    #[arg(allow_hyphen_values = true, long, value_name = "CODE")]
    pub code: Option<String>,
    /// A stock file: lots are proposed, cost is computed, scales and habits are taken from it.
    #[arg(long, value_name = "STOCK_FILE")]
    pub stock: Option<PathBuf>,
    /// Folder with the batch records, whose batches have taken from the lots.
    #[arg(long, value_name = "FOLDER", requires = "stock")]
    pub records: Option<PathBuf>,
    /// Print JSON instead of text.
    #[arg(long)]
    pub json: bool,
    /// Replace files that are there already.
    #[arg(long)]
    pub replace: bool,
    /// Save the weigh sheet as PDF.
    #[arg(long, value_name = "OUT")]
    pub pdf: Option<PathBuf>,
    /// Paper of the PDF.
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperArg,
    /// Save the recipe as Markdown, to publish.
    #[arg(long, value_name = "OUT")]
    pub markdown: Option<PathBuf>,
    /// Save the weigh sheet as CSV.
    #[arg(long, value_name = "OUT")]
    pub csv: Option<PathBuf>,
    /// Save the weigh sheet as HTML.
    #[arg(long, value_name = "OUT")]
    pub html: Option<PathBuf>,
}

impl Make {
    /// Prints the weigh sheet, or saves it where asked.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let opened = open(&self.file)?;
        let (formula, variant) = (&opened.formula, &opened.variant);
        let (stock, workshop) = match &self.stock {
            Some(path) => {
                let (stock, workshop, _) = stock_file::open(path)?;
                (Some(stock), workshop)
            }
            None => (None, Workshop::default()),
        };
        let vessel = self.vessel()?;
        let unit = self.unit(workshop.unit)?;
        let request = PlanRequest {
            size: SizeRequest {
                size: self.size(formula, variant, unit)?,
                allowances: Allowances {
                    overfill: self.overfill.unwrap_or(workshop.allowances.overfill),
                    transfer_loss: self.loss.unwrap_or(workshop.allowances.transfer_loss),
                    evaporation: self.evaporation.unwrap_or(workshop.allowances.evaporation),
                },
                density: match self.density {
                    Some(density) => Some(density_entered(density)),
                    None => density_of(&opened.evaluate().estimates.density),
                },
                vessel: vessel.clone(),
                unit,
            },
            scales: if self.scale.is_empty() {
                workshop.scales.clone()
            } else {
                let read = self.scale.iter().map(|s| read_scale(s));
                read.collect::<Result<_, _>>()?
            },
            tolerance: self.tolerance.map_or(workshop.tolerance, Percent::fraction),
        };
        let plan = plan(formula, variant, &request)?;
        let heading = Heading {
            code: self.code.as_deref().map(BatchCode::new).transpose()?,
            day: None,
            vessel: vessel.map_or_else(|| "".into(), |v| v.name().clone()),
            unit,
            breaches: breaches(&opened.evaluate()),
            readings: told(&beside(&self.file, &formula.name)?, variant),
        };
        let usage = super::usage(self.records.as_deref())?;
        let lots = stock.as_ref().map(|s| (s, &usage, today()));
        let mut sheet = weigh_sheet(formula, variant, plan, heading, lots);
        if let Some(stock) = &stock {
            let costs = workshop.costs_of(formula.product()).packaging.iter();
            let known = costs.map(|p| p.name.as_ref());
            let packaging = (stock.packaging.as_slice(), &usage);
            sheet.packaging = PackagingPlan::of(packaging, known, sheet.filling.as_ref());
        }
        let cost = stock
            .as_ref()
            .map(|stock| batch_cost(&sheet, workshop.costs_of(formula.product()), stock));
        self.write_sheet(out, &sheet, cost.as_ref())
    }

    fn write_sheet(
        &self,
        out: &mut dyn Write,
        sheet: &WeighSheet,
        cost: Option<&CostSheet>,
    ) -> Outcome {
        let mut saved = Vec::new();
        let mut save = |path: &Path, bytes: &[u8]| -> Result<(), Failure> {
            let expect = if self.replace {
                Expect::Anything
            } else {
                Expect::Nothing
            };
            store::save(path, bytes, expect)?;
            saved.push(path.display().to_string());
            Ok(())
        };
        if let Some(path) = &self.pdf {
            save(path, &weigh_sheet_pdf(sheet, self.paper)?)?;
        }
        if let Some(path) = &self.markdown {
            save(path, sheet_export::markdown(sheet).as_bytes())?;
        }
        if let Some(path) = &self.csv {
            save(path, sheet_export::csv(sheet)?.as_bytes())?;
        }
        if let Some(path) = &self.html {
            save(path, sheet_export::html(sheet).as_bytes())?;
        }
        if self.json {
            said::print_json(out, sheet_export::json(sheet, cost))?;
        } else if saved.is_empty() {
            write!(out, "{}", sheet_export::text(sheet, cost))?;
        } else {
            for path in saved {
                writeln!(out, "saved {path}")?;
            }
        }
        Ok(0)
    }

    fn size(
        &self,
        formula: &Formula,
        variant: &Variant,
        unit: MassUnit,
    ) -> Result<BatchSize, Failure> {
        if let (Some(count), Some(volume)) = (self.containers, &self.volume) {
            return Ok(BatchSize::Containers {
                count,
                each: read_contents(volume)?,
                head_space: self.head_space.unwrap_or(Percent::ZERO),
            });
        }
        if let Some(text) = &self.use_up {
            let Some((material, mass)) = text.rsplit_once('=') else {
                return Err(Failure(format!(
                    "“{text}” does not say how much there is; write for example glycerin=800g"
                )));
            };
            let material = names::used(formula, variant, material)?;
            return Ok(BatchSize::UseUp {
                material: material.id.clone(),
                name: material.name.clone(),
                available: read_mass(mass, Some(MassUnit::Gram))?,
            });
        }
        if self.vessel_full {
            return Ok(BatchSize::Vessel);
        }
        match &self.mass {
            // A unit that was asked for holds for the wish as well; none is guessed.
            Some(text) => {
                let stated = self.unit.is_some().then_some(unit);
                Ok(BatchSize::Mass(read_mass(text, stated)?))
            }
            None => Ok(BatchSize::of_variant(variant)),
        }
    }

    fn vessel(&self) -> Result<Option<Vessel>, Failure> {
        let Some(text) = &self.vessel else {
            return Ok(None);
        };
        let capacity = read_volume(text, None)?;
        Ok(Some(Vessel::new("the vessel", capacity, self.vessel_fill)?))
    }

    fn unit(&self, usual: MassUnit) -> Result<MassUnit, Failure> {
        match &self.unit {
            None => Ok(usual),
            Some(text) => MassUnit::read(text).ok_or_else(|| {
                Failure(format!(
                    "“{text}” is not a unit of mass; use g, kg, oz or lb"
                ))
            }),
        }
    }
}
