//! `phasewright aim FILE` and `phasewright aim --from-list LIST.txt`

use std::collections::BTreeSet;
use std::fmt::Display;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use formulation::amount::{Measure, typed};
use formulation::edit::{self, Edit, GiveWay};
use formulation::file::aim_report::{self, ListAnswer};
use formulation::file::store::{self, Expect};
use formulation::file::{formula_file, product_head, stock_file, table};
use formulation::formula::{Formula, Kinds, Product, Variant};
use formulation::progress::Progress;
use formulation::quantity::grams;
use formulation::shelf::Shelf;
use formulation::solve::aim::{Aim as Question, Answer, Preference, Prepared};
use formulation::solve::demand::{DemandOrigin, LimitKey};
use formulation::solve::ingredient_list::{self, Fact, Knowledge};
use formulation::solve::subject::{AddableMaterial, FormError, Lack, Supply};
use formulation::solve::swap::{self, Equal, Substitute};
use formulation::solve::sweep::{Axis, Sweep};
use formulation::solve::target::{Target, TargetQuantity};
use formulation::trial::learn::Lessons;

use super::trials::with_book;
use super::{FOUND, Failure, Opened, Outcome, context, names, open, said, shelf, today};

/// Arguments of the command.
#[derive(Debug, Args)]
#[command(allow_negative_numbers = true)]
#[command(group = clap::ArgGroup::new("subject").required(true).args(["file", "from_list"]))]
pub struct Aim {
    /// A formula file, or a CSV recipe; `FILE#variant` picks a variant.
    pub file: Option<String>,
    /// Work back from an ingredient list in a text file; `-` reads the terminal.
    #[arg(long, value_name = "LIST.txt")]
    pub from_list: Option<PathBuf>,
    /// What the formula must reach, for example `active>=14`; may be given often.
    #[arg(long = "target", value_name = "TARGET")]
    pub targets: Vec<String>,
    /// Aim at what the specification in the formula asks for as well: its pH, and what trials beside the file have taught.
    #[arg(long)]
    pub specification: bool,
    /// What to prefer: change, cost, natural, fewest.
    #[arg(long, default_value = "change")]
    pub prefer: String,
    /// Step of the percentages.
    #[arg(long, default_value = "0.01", value_name = "PERCENT")]
    pub step: String,
    /// Switch off the limits of a rule, for example `over-supplier-maximum`, or a single limit as --limits prints it.
    #[arg(long, value_name = "RULE")]
    pub without: Vec<String>,
    /// List the limits that are kept, and stop.
    #[arg(long)]
    pub limits: bool,
    /// A material of the shelf that may be added to the formula.
    #[arg(long, value_name = "MATERIAL")]
    pub allow: Vec<String>,
    /// Price of a kilogram, for example `Glycerin=3.20`.
    #[arg(long = "price", value_name = "MATERIAL=PRICE")]
    pub prices: Vec<String>,
    /// A stock file, for its prices and, with --batch, what is left in it; or the stock of one
    /// material in grams, for example `Glycerin=500`.
    #[arg(long = "stock", value_name = "STOCK_FILE or MATERIAL=GRAMS")]
    pub stock: Vec<String>,
    /// Folder with the batch records, whose batches have taken from the lots of the stock file.
    #[arg(long, value_name = "FOLDER", requires = "stock")]
    pub records: Option<PathBuf>,
    /// Batch in grams for which the stock must suffice.
    #[arg(long, value_name = "GRAMS")]
    pub batch: Option<f64>,
    /// Suggest materials in place of a line.
    #[arg(long, value_name = "LINE", conflicts_with_all = ["from_list", "swap", "sweep"])]
    pub suggest: Option<String>,
    /// Replace a line at equal active matter by the materials of --by.
    #[arg(long, value_name = "LINE", requires = "by", conflicts_with_all = ["from_list", "sweep"])]
    pub swap: Option<String>,
    /// A material of the replacement, with its share if there are several: `Glycerin:0.5`.
    #[arg(long, value_name = "MATERIAL[:SHARE]", requires = "swap")]
    pub by: Vec<String>,
    /// Keep this constituent equal in a swap instead of the active matter; `weight` keeps the percentage.
    #[arg(long, value_name = "INCI", requires = "swap")]
    pub equal: Option<String>,
    /// Move a line over a range and print a table: `LINE=FROM..TO/POINTS`; at most two.
    #[arg(
        long,
        value_name = "LINE=FROM..TO/POINTS",
        conflicts_with = "from_list"
    )]
    pub sweep: Vec<String>,
    /// Something known about a list: `Glycerin = 5`, `active <= 14`, `line after Glycerin`.
    #[arg(long = "fact", value_name = "FACT", requires = "from_list")]
    pub facts: Vec<String>,
    /// Take the usual levels of the shelf as limits of a list: rinse-off, leave-on or both parted by a comma.
    #[arg(long, value_name = "KIND", requires = "from_list")]
    pub usual: Option<String>,
    /// Take the limits of law for an EU product of this kind as limits of a list: rinse-off, leave-on or both.
    #[arg(long, value_name = "KIND", requires = "from_list")]
    pub legal: Option<String>,
    /// Write the result as a formula file.
    #[arg(short, long, value_name = "OUT", conflicts_with_all = ["suggest", "sweep", "limits"])]
    pub output: Option<PathBuf>,
    /// Print JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

impl Aim {
    /// Answers; 1 if the demands collide or one gave way.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        if let Some(list) = &self.from_list {
            return self.work_back(list, out);
        }
        let Some(file) = &self.file else {
            return Err(Failure(
                "name a formula file, or a list with --from-list".into(),
            ));
        };
        let opened = open(file)?;
        let shelf = shelf()?;
        let supply = self.supply(&opened.formula, &shelf)?;
        if let Some(line) = &self.suggest {
            return self.suggest(&opened, &supply, &shelf, line, out);
        }
        if let Some(line) = &self.swap {
            return self.swap(&opened, &supply, &shelf, line, out);
        }
        if !self.sweep.is_empty() {
            return self.sweep(&opened, &supply, out);
        }
        self.aim(&opened, &supply, &shelf, out)
    }

    fn aim(&self, opened: &Opened, supply: &Supply, shelf: &Shelf, out: &mut dyn Write) -> Outcome {
        let context = context();
        let mut candidates = Vec::new();
        for name in &self.allow {
            let material = names::known(&opened.formula, shelf, name)?;
            let Some(phase) = opened.variant.phase_for(&material).map(|p| p.id) else {
                return Err(Failure(
                    "the formula has no phase to add a material to".into(),
                ));
            };
            candidates.push(AddableMaterial { material, phase });
        }
        let prepared = Prepared::new(
            &opened.formula,
            &opened.variant,
            &context,
            supply,
            &candidates,
        );
        if self.limits {
            for limit in prepared.limits() {
                if let DemandOrigin::Limit(key) = &limit.origin {
                    writeln!(out, "{}: {}", key.rule, limit.words)?;
                }
            }
            return Ok(0);
        }
        let mut targets = self
            .targets
            .iter()
            .map(|text| text.parse::<Target>())
            .collect::<Result<Vec<_>, _>>()?;
        if self.specification {
            targets.extend(Target::of_specification(&opened.variant, &supply.lessons));
        }
        let mut question = Question::new(targets);
        question.prefer = Preference::from_word(&self.prefer).ok_or_else(|| {
            let words: Vec<&str> = Preference::ALL.iter().map(|p| p.word()).collect();
            Failure(format!(
                "“{}” is no preference; take one of {}",
                self.prefer,
                words.join(", ")
            ))
        })?;
        question.step = typed::percent(&self.step)?;
        question.without = self.without(&prepared)?;
        question.stock_for = self.batch.map(grams);
        let answer = prepared
            .answer(&question)
            .map_err(|error| failure(&error, error.form()))?;
        if self.json {
            said::print_json(out, aim_report::answer_json(&question, &answer))?;
        } else {
            write!(out, "{}", aim_report::answer_text(&question, &answer))?;
        }
        match answer {
            Answer::Proposal(proposal) => {
                self.save(opened, &proposal.edit())?;
                Ok(if proposal.all_hold() { 0 } else { FOUND })
            }
            Answer::Collision(_) => Ok(FOUND),
        }
    }

    /// The limits of the rules that are switched off.
    fn without(&self, prepared: &Prepared<'_>) -> Result<BTreeSet<LimitKey>, Failure> {
        let mut off = BTreeSet::new();
        for rule in &self.without {
            let before = off.len();
            for limit in prepared.limits() {
                if let DemandOrigin::Limit(key) = &limit.origin
                    && (key.rule.eq_ignore_ascii_case(rule)
                        || format!("{}: {}", key.rule, limit.words) == *rule)
                {
                    off.insert(key.clone());
                }
            }
            if off.len() == before {
                return Err(Failure(format!(
                    "no limit of the rule “{rule}” binds this formula; --limits lists them"
                )));
            }
        }
        Ok(off)
    }

    fn suggest(
        &self,
        opened: &Opened,
        supply: &Supply,
        shelf: &Shelf,
        line: &str,
        out: &mut dyn Write,
    ) -> Outcome {
        let line = names::line(&opened.formula, &opened.variant, line)?;
        let found = swap::suggestions(
            &opened.formula,
            &opened.variant,
            &context(),
            supply,
            shelf,
            (line, 12),
            &Progress::default(),
        )?;
        if self.json {
            said::print_json(out, aim_report::suggestions_json(&found))?;
        } else {
            write!(out, "{}", aim_report::suggestions_text(&found))?;
        }
        Ok(0)
    }

    fn swap(
        &self,
        opened: &Opened,
        supply: &Supply,
        shelf: &Shelf,
        line: &str,
        out: &mut dyn Write,
    ) -> Outcome {
        let line = names::line(&opened.formula, &opened.variant, line)?;
        let mut parts = Vec::new();
        for text in &self.by {
            let (name, share) = match text.rsplit_once(':') {
                Some((name, share)) => (name, number(text, share)?),
                None => (text.as_str(), 1.0),
            };
            let material = names::known(&opened.formula, shelf, name)?;
            parts.push(Substitute { material, share });
        }
        let equal = match &self.equal {
            None => Equal::Active,
            Some(word) if word.eq_ignore_ascii_case("weight") => Equal::Weight,
            Some(inci) => Equal::Constituent(inci.as_str().into()),
        };
        let context = context();
        let swapped = swap::swap(
            &opened.formula,
            &opened.variant,
            &context,
            supply,
            line,
            &parts,
            &equal,
        )?;
        if self.json {
            said::print_json(out, aim_report::swap_json(&swapped))?;
        } else {
            write!(out, "{}", aim_report::swap_text(&swapped))?;
        }
        self.save(opened, &swapped.edit())?;
        Ok(0)
    }

    fn sweep(&self, opened: &Opened, supply: &Supply, out: &mut dyn Write) -> Outcome {
        let mut axes = Vec::new();
        for text in &self.sweep {
            axes.push(axis(&opened.formula, &opened.variant, text)?);
        }
        let quantities = self
            .targets
            .iter()
            .map(|text| {
                // A whole target may be given; a sweep follows its quantity.
                text.parse::<Target>()
                    .map(|t| t.quantity)
                    .or_else(|_| text.parse::<TargetQuantity>())
            })
            .collect::<Result<Vec<_>, _>>()?;
        let sweep = Sweep {
            axes,
            quantities,
            give: GiveWay::usual(&opened.variant),
        };
        let mut formula = opened.formula.clone();
        formula.active = opened.variant.id;
        let names: Vec<String> = sweep
            .axes
            .iter()
            .filter_map(|a| opened.variant.line(a.line))
            .map(|l| {
                formula
                    .material(&l.material)
                    .map_or_else(|| l.material.to_string(), |m| m.name.to_string())
            })
            .collect();
        let points = sweep
            .run(
                &formula,
                opened.variant.id,
                &context(),
                supply,
                &Progress::default(),
            )
            .map_err(|error| failure(&error, error.form()))?;
        if self.json {
            said::print_json(out, aim_report::sweep_json(&sweep, &names, &points))?;
        } else {
            write!(out, "{}", aim_report::sweep_csv(&sweep, &names, &points)?)?;
        }
        Ok(0)
    }

    fn work_back(&self, path: &Path, out: &mut dyn Write) -> Outcome {
        let text = if path == Path::new("-") {
            std::io::read_to_string(std::io::stdin())?
        } else {
            let (bytes, _) = store::read_bytes(path)?;
            let decoded = table::text::decode(&bytes).map_err(|_error| {
                Failure(format!(
                    "this is no text; save the list as a text file ({})",
                    path.display()
                ))
            })?;
            decoded.text
        };
        let shelf = shelf()?;
        let list = ingredient_list::read(&text, &shelf);
        let facts = self
            .facts
            .iter()
            .map(|fact| fact.parse::<Fact>())
            .collect::<Result<Vec<_>, _>>()?;
        let knowledge = Knowledge {
            facts,
            usual: self.usual.as_deref().map(kinds).transpose()?,
            legal: self
                .legal
                .as_deref()
                .map(kinds)
                .transpose()?
                .map(|kinds| Product {
                    kinds,
                    ..Product::default()
                }),
        };
        let deduction = ingredient_list::deduce(list, &knowledge, &shelf, &context())?;
        let answer = ListAnswer::of(&deduction, &shelf)?;
        if self.json {
            said::print_json(out, answer.json())?;
        } else {
            write!(out, "{}", answer.text())?;
        }
        if let Some(output) = &self.output {
            let formula = deduction.formula("Estimate from a list", &answer.proposed);
            formula_file::save(output, &formula, Expect::Nothing)?;
        }
        Ok(0)
    }

    /// Writes the formula after an edit, if a file was named.
    fn save(&self, opened: &Opened, edit: &Edit) -> Result<(), Failure> {
        let Some(output) = &self.output else {
            return Ok(());
        };
        let applied = edit::apply(&opened.formula, opened.variant.id, edit)?;
        formula_file::save(output, &applied.formula, Expect::Nothing)?;
        Ok(())
    }

    /// What the trials beside the formula have taught, if a target asks for it.
    fn lessons(&self) -> Result<Lessons, Failure> {
        let learnt = |text: &String| {
            let target = text.parse::<Target>().map(|t| t.quantity);
            matches!(
                target.or_else(|_| text.parse::<TargetQuantity>()),
                Ok(TargetQuantity::Learnt(_))
            )
        };
        match &self.file {
            Some(file) if self.specification || self.targets.iter().any(learnt) => {
                let (_, book, _) = with_book(file)?;
                Ok(Lessons::of(&book))
            }
            _ => Ok(Lessons::default()),
        }
    }

    /// Prices and stock: of the stock file, and over them what is given one by one.
    fn supply(&self, formula: &Formula, shelf: &Shelf) -> Result<Supply, Failure> {
        if let Some(batch) = self.batch
            && !(batch.is_finite() && batch > 0.0)
        {
            return Err(Failure(format!("a batch of {batch} g is not above 0")));
        }
        let single = |text: &&String| text.contains('=') && !Path::new(text).exists();
        let (singles, files): (Vec<_>, Vec<_>) = self.stock.iter().partition(single);
        let mut supply = match files.as_slice() {
            [] => Supply::default(),
            [path] => {
                let (stock, _, _) = stock_file::open(Path::new(path))?;
                let usage = super::usage(self.records.as_deref())?;
                let ids = shelf.iter().map(|m| &m.id);
                let materials = formula.materials.keys().chain(ids);
                Supply::of_stock(&stock, &usage, today(), materials)
            }
            [_, second, ..] => {
                return Err(Failure(format!(
                    "“{second}” is a second stock file; name one, and single materials as MATERIAL=GRAMS"
                )));
            }
        };
        for text in &self.prices {
            let (name, price) = pair(text)?;
            let id = names::known(formula, shelf, name)?.id.clone();
            supply.price_per_kg.insert(id, number(text, price)?);
        }
        supply.lessons = self.lessons()?;
        for text in singles {
            if self.batch.is_none() {
                return Err(Failure(format!(
                    "“{text}” limits a batch; say with --batch how many grams it has"
                )));
            }
            let (name, mass) = pair(text)?;
            let id = names::known(formula, shelf, name)?.id.clone();
            supply.stock.insert(id, grams(number(text, mass)?));
        }
        Ok(supply)
    }
}

/// An error about a quantity, with the option that mends it where there is one.
fn failure(error: &dyn Display, why: Option<&FormError>) -> Failure {
    let priceless = matches!(
        why,
        Some(FormError::Unknown {
            lack: Lack::Price,
            ..
        })
    );
    Failure(if priceless {
        format!("{error}, with --price \"MATERIAL=PRICE\" for each or --stock STOCK_FILE")
    } else {
        error.to_string()
    })
}

fn pair(text: &str) -> Result<(&str, &str), Failure> {
    text.rsplit_once('=')
        .map(|(name, value)| (name.trim(), value.trim()))
        .ok_or_else(|| {
            Failure(format!(
                "“{text}” has no “=”; write for example Glycerin=3.20"
            ))
        })
}

fn number(text: &str, figure: &str) -> Result<f64, Failure> {
    typed::value(figure, &Measure::MONEY).map_err(|e| Failure(format!("in “{text}”: {e}")))
}

fn kinds(words: &str) -> Result<Kinds, Failure> {
    product_head::kinds_of(words).map_err(Failure)
}

/// More than any sweep takes, which says itself how many it does.
const MOST_POINTS: u32 = 1_000_000;

/// `LINE=FROM..TO/POINTS`
fn axis(formula: &Formula, variant: &Variant, text: &str) -> Result<Axis, Failure> {
    let bad = || {
        Failure(format!(
            "“{text}” is no range to sweep; write for example Glycerin=1..5/41"
        ))
    };
    let (name, range) = text.rsplit_once('=').ok_or_else(bad)?;
    let (range, points) = range.split_once('/').unwrap_or((range, "41"));
    let (from, to) = range.split_once("..").ok_or_else(bad)?;
    Ok(Axis {
        line: names::line(formula, variant, name)?,
        from: typed::percent(from)?,
        to: typed::percent(to)?,
        points: typed::count(points, "a number of points", MOST_POINTS)? as usize,
    })
}
