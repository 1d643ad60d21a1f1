//! `phasewright label FILE --market EU|UK|US [--json] [--svg OUT] [--pdf OUT --count N] [--replace]`

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use formulation::file::label_pdf::labels_pdf;
use formulation::file::label_report;
use formulation::file::store::{self, Expect};
use formulation::formula::{Date, Market};
use formulation::label::{label, svg};

use super::paper::PaperArg;
use super::{FOUND, Failure, Outcome, open, said};

/// Where the product is sold.
#[derive(Debug, Clone, Copy, ValueEnum)]
#[value(rename_all = "UPPER")]
pub enum MarketName {
    /// European Union.
    Eu,
    /// United Kingdom.
    Uk,
    /// United States.
    Us,
}

impl From<MarketName> for Market {
    fn from(name: MarketName) -> Self {
        match name {
            MarketName::Eu => Self::Eu,
            MarketName::Uk => Self::Uk,
            MarketName::Us => Self::Us,
        }
    }
}

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Label {
    /// A formula file, or a CSV file with the header `phase,material,percent`; `FILE#variant` picks a variant.
    pub file: String,
    /// The market whose law shapes the label; its rules are checked even if the product does not name it.
    #[arg(long, ignore_case = true)]
    pub market: MarketName,
    /// Print JSON instead of text.
    #[arg(long)]
    pub json: bool,
    /// Also write the label as SVG at its own size.
    #[arg(long, value_name = "OUT")]
    pub svg: Option<PathBuf>,
    /// Also write a run of labels on sheets to cut, as PDF.
    #[arg(long, value_name = "OUT")]
    pub pdf: Option<PathBuf>,
    /// How many labels the PDF has.
    #[arg(long, value_name = "N", requires = "pdf", default_value_t = 1)]
    pub count: u32,
    /// Paper of the PDF.
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperArg,
    /// Batch code on the label; the one stated in the formula if none is given.
    #[arg(
        long,
        value_name = "CODE",
        default_value = "",
        hide_default_value = true
    )]
    pub batch: String,
    /// Day on the label before which it is best used, as 2027-05-31; what the formula states if none is given.
    #[arg(long, value_name = "DAY")]
    pub best_before: Option<String>,
    /// Replace files that are there already.
    #[arg(long)]
    pub replace: bool,
}

impl Label {
    /// Prints the label; 1 if something that the law demands is missing or a breach stands.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let market = Market::from(self.market);
        let mut opened = open(&self.file)?;
        let day = self.best_before.as_deref().map(str::parse::<Date>);
        let day = day
            .transpose()
            .map_err(|e| Failure(format!("--best-before: {e}")))?;
        if day.is_some() || !self.batch.trim().is_empty() {
            let mut variant = opened.variant.as_ref().clone();
            variant.label = variant.label.of_batch(&self.batch, day).into();
            opened.variant = variant.into();
        }
        if !opened.variant.product.markets.contains(&market) {
            let mut variant = opened.variant.as_ref().clone();
            variant.product.markets.push(market);
            opened.variant = variant.into();
        }
        let evaluation = opened.evaluate();
        let label = label(&opened.formula, &opened.variant, &evaluation, market);
        if self.json {
            said::print_json(out, label_report::json(&label)?)?;
        } else {
            write!(out, "{}", label_report::text(&label))?;
        }
        let expect = if self.replace {
            Expect::Anything
        } else {
            Expect::Nothing
        };
        let info = &opened.variant.label;
        let drawing = svg::draw(&label, info);
        let is_drawn = self.svg.is_some() || self.pdf.is_some();
        if is_drawn && !drawing.fits && !self.json {
            writeln!(
                out,
                "\nThe text needs {:.0} mm of height, the label has {:.0}; the drawing is as high as the text. Make the label larger or the letters smaller",
                drawing.needs_height_mm, info.height_mm
            )?;
        }
        if let Some(path) = &self.svg {
            store::save_text(path, &drawing.svg, expect)?;
        }
        if let Some(path) = &self.pdf {
            let title = info.run_title(&opened.formula.name);
            let pdf = labels_pdf(&drawing, info, &title, self.count, self.paper)?;
            store::save(path, &pdf, expect)?;
        }
        Ok(if label.is_short() { FOUND } else { 0 })
    }
}
