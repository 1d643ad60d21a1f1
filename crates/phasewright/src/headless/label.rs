//! `phasewright label FILE --market EU|UK|US [--json] [--svg OUT [--replace]]`

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use formulation::file::label_report;
use formulation::file::store::{self, Expect};
use formulation::formula::Market;
use formulation::label::{label, svg};

use super::{FOUND, Outcome, open, said};

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
    /// Replace an existing SVG file.
    #[arg(long, requires = "svg")]
    pub replace: bool,
}

impl Label {
    /// Prints the label; 1 if something that the law demands is missing.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let market = Market::from(self.market);
        let mut opened = open(&self.file)?;
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
        if let Some(path) = &self.svg {
            let info = &opened.variant.label;
            let drawing = svg::draw(&label, info);
            if !drawing.fits && !self.json {
                writeln!(
                    out,
                    "\nThe text needs {:.0} mm of height, the label has {:.0}; the drawing is as high as the text. Make the label larger or the letters smaller",
                    drawing.needs_height_mm, info.height_mm
                )?;
            }
            let expect = if self.replace {
                Expect::Anything
            } else {
                Expect::Nothing
            };
            store::save_text(path, &drawing.svg, expect)?;
        }
        let gaps = label.missing.iter().any(|m| m.required);
        Ok(if gaps { FOUND } else { 0 })
    }
}
