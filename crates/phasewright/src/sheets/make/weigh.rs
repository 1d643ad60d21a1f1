//! Size of the batch and its weigh sheet.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use eframe::egui::{self, Align, Frame, Id, Layout, ScrollArea, Sense, Stroke, TextEdit, Ui, vec2};
use formulation::amount::measure::{signed, tidy};
use formulation::amount::typed;
use formulation::batch::packaging_plan::PackagingPlan;
use formulation::batch::plan::{PlanRequest, plan};
use formulation::batch::precaution::{Caution, CautionKind};
use formulation::batch::record::{Opening, Record};
use formulation::batch::scale::{
    BatchSize, Filling, SizeRequest, Vessel, density_entered, density_of, read_contents,
};
use formulation::batch::weigh_sheet::{
    Heading, NOTICE, SheetEntry, SheetPhase, WeighSheet, Weighing, breaches, cool_words,
    step_facts, weigh_sheet,
};
use formulation::batch::weighing_scale::WeighingScale;
use formulation::batch::workshop::Paper;
use formulation::batch_code::BatchCode;
use formulation::evaluation::Evaluation;
use formulation::file::pdf::Printing;
use formulation::file::sheet_export;
use formulation::file::sheet_pdf::weigh_sheet_pdf;
use formulation::finding::Level;
use formulation::formula::{Date, Formula, Variant};
use formulation::mass::read_mass;
use formulation::material::MaterialId;
use formulation::plain_words::sentence;
use formulation::progress::Progress;
use formulation::quantity::in_millilitres;
use formulation::trial::known::told;

use super::{action, caution, choice, field, labelled, push};
use crate::command::{BooksCommand, Command, Making};
use crate::state::View;
use crate::theme;
use crate::widgets::fitted::unparted_label;
use crate::widgets::focus::region;
use crate::widgets::fold::fold;
use crate::widgets::in_columns::two_columns;
use crate::widgets::level_mark::level_mark;
use crate::widgets::refusal::{refusal, refuse};

/// Width from which the phases stand in two columns, in points.
const TWO_COLUMNS: f32 = 1300.0;

/// What the size is taken from.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum By {
    #[default]
    Mass,
    Containers,
    UseUp,
    Vessel,
}

impl By {
    const ALL: [Self; 4] = [Self::Mass, Self::Containers, Self::UseUp, Self::Vessel];
    const fn label(self) -> &'static str {
        match self {
            Self::Mass => "Batch mass",
            Self::Containers => "Containers to fill",
            Self::UseUp => "Use up a stock",
            Self::Vessel => "What the vessel holds",
        }
    }
}

/// What is typed in.
#[derive(Clone, PartialEq, Debug)]
struct Inputs {
    by: By,
    mass: String,
    count: String,
    volume: String,
    head_space: String,
    material: usize,
    available: String,
    vessel: usize,
    density: String,
    paper: Paper,
    /// Names of scales that are not used.
    idle: BTreeSet<Arc<str>>,
}

impl Default for Inputs {
    fn default() -> Self {
        Self {
            by: By::Mass,
            mass: String::new(),
            count: "24".to_owned(),
            volume: "250 ml".to_owned(),
            head_space: "0".to_owned(),
            material: 0,
            available: String::new(),
            vessel: 0,
            density: String::new(),
            paper: Paper::A4,
            idle: BTreeSet::new(),
        }
    }
}

/// What a weigh sheet was made from.
struct Made {
    formula: Arc<Formula>,
    variant: Arc<Variant>,
    inputs: Inputs,
    books: u64,
    trials: u64,
    today: Date,
    evaluation: Arc<Evaluation>,
    sheet: Result<WeighSheet, String>,
    vessel: Option<Vessel>,
}

/// What the page keeps between frames.
#[derive(Default)]
pub struct WeighPage {
    inputs: Inputs,
    /// The formula and the person whose last size, vessel, scales and paper were put in.
    put_in: Option<(Arc<str>, Option<Arc<str>>)>,
    /// As they were put in; what was typed since is not written over for another person.
    proposed: Inputs,
    made: Option<Made>,
    code: String,
    trial: Trial,
}

/// Why a formula in breach is made all the same.
#[derive(Default)]
struct Trial {
    why: String,
    /// The formula it was typed for.
    of: Option<Arc<Variant>>,
}

impl Trial {
    /// What was typed for a formula; nothing typed for another one is left.
    fn why(&mut self, variant: &Arc<Variant>) -> &mut String {
        if !self.of.as_ref().is_some_and(|of| Arc::ptr_eq(of, variant)) {
            self.why.clear();
            self.of = Some(variant.clone());
        }
        &mut self.why
    }
}

impl WeighPage {
    /// The weigh sheet, if there is one.
    pub fn sheet(&self) -> Option<&WeighSheet> {
        self.made.as_ref()?.sheet.as_ref().ok()
    }

    /// Makes the weigh sheet anew if anything it depends on has changed.
    pub fn refresh(&mut self, view: &View<'_>, by: &str) {
        let books = &view.state.books;
        // A name that is being typed is nobody's yet.
        let people = &books.workshop().people;
        let person = people.iter().find(|p| p.as_ref() == by.trim()).cloned();
        let product = view.formula.product();
        let put_in = self.put_in.as_ref();
        let other_product = put_in.is_none_or(|(of, _)| of != product);
        let other_person =
            put_in.is_none_or(|(_, of)| *of != person) && self.inputs == self.proposed;
        if other_product || other_person {
            self.put_in = Some((product.clone(), person));
            self.inputs = remembered(view, by);
            self.proposed = self.inputs.clone();
        }
        let fresh = self.made.as_ref().is_some_and(|m| {
            Arc::ptr_eq(&m.formula, view.formula)
                && Arc::ptr_eq(&m.variant, view.variant)
                && m.inputs == self.inputs
                && Arc::ptr_eq(&m.evaluation, view.evaluation)
                && m.books == books.revision()
                && m.trials == view.state.trials(view.document.id).revision()
                && m.today == view.state.today()
        });
        if fresh {
            return;
        }
        let vessel = self
            .inputs
            .vessel
            .checked_sub(1)
            .and_then(|i| books.workshop().vessels.get(i))
            .cloned();
        self.made = Some(Made {
            formula: view.formula.clone(),
            variant: view.variant.clone(),
            inputs: self.inputs.clone(),
            books: books.revision(),
            trials: view.state.trials(view.document.id).revision(),
            today: view.state.today(),
            evaluation: view.evaluation.clone(),
            sheet: make(view, &self.inputs, vessel.clone()),
            vessel,
        });
    }
}

/// Size, vessel, scales and paper as the product was made the last time, by this person if they
/// ever did.
fn remembered(view: &View<'_>, by: &str) -> Inputs {
    let workshop = view.state.books.workshop();
    let mut inputs = Inputs {
        paper: workshop.paper_of(view.formula.product(), by),
        ..Inputs::default()
    };
    let Some(habits) = workshop.habit(view.formula.product(), by) else {
        return inputs;
    };
    let idle = |s: &&WeighingScale| habits.idle_scales.contains(s.name());
    let idle: BTreeSet<Arc<str>> = workshop
        .scales
        .iter()
        .filter(idle)
        .map(|s| s.name().clone())
        .collect();
    // One must be left.
    if idle.len() < workshop.scales.len() {
        inputs.idle = idle;
    }
    let vessels = &workshop.vessels;
    let vessel = vessels.iter().position(|v| *v.name() == habits.vessel);
    inputs.vessel = vessel.map_or(0, |place| place + 1);
    if let Some((count, volume)) = habits.containers {
        inputs.by = By::Containers;
        inputs.count = count.to_string();
        // Rounding of the unit conversion is not shown.
        inputs.volume = format!("{} ml", tidy(in_millilitres(volume), 6));
    } else if let Some(mass) = habits.mass {
        inputs.mass = format!("{mass} g");
    }
    inputs
}

fn make(view: &View<'_>, inputs: &Inputs, vessel: Option<Vessel>) -> Result<WeighSheet, String> {
    let books = &view.state.books;
    let workshop = books.workshop();
    let words = |e: &dyn std::fmt::Display| e.to_string();
    let size = match inputs.by {
        By::Mass if inputs.mass.trim().is_empty() => BatchSize::of_variant(view.variant),
        By::Mass => BatchSize::Mass(read_mass(&inputs.mass, None).map_err(|e| words(&e))?),
        By::Containers => BatchSize::Containers {
            count: typed::count(&inputs.count, "a number of containers", 1_000_000)
                .map_err(|e| words(&e))?,
            each: read_contents(&inputs.volume).map_err(|e| words(&e))?,
            head_space: typed::percent(&inputs.head_space).map_err(|e| words(&e))?,
        },
        By::UseUp => {
            let (material, name) = materials(view)
                .get(inputs.material)
                .cloned()
                .ok_or("choose the material to use up")?;
            BatchSize::UseUp {
                material,
                name,
                available: read_mass(&inputs.available, None).map_err(|e| words(&e))?,
            }
        }
        By::Vessel => BatchSize::Vessel,
    };
    let density = if inputs.density.trim().is_empty() {
        density_of(&view.evaluation.estimates.density)
    } else {
        let density = typed::density(&inputs.density).map_err(|e| words(&e))?;
        Some(density_entered(density))
    };
    let request = PlanRequest {
        size: SizeRequest {
            size,
            allowances: workshop.allowances,
            density,
            vessel: vessel.clone(),
            unit: workshop.unit,
        },
        scales: workshop
            .scales
            .iter()
            .filter(|s| !inputs.idle.contains(s.name()))
            .cloned()
            .collect(),
        tolerance: workshop.tolerance,
    };
    let plan = plan(view.formula, view.variant, &request).map_err(|e| words(&e))?;
    let heading = Heading {
        code: None,
        day: None,
        vessel: vessel.map_or_else(|| "".into(), |v| v.name().clone()),
        unit: workshop.unit,
        breaches: breaches(view.evaluation),
        readings: told(view.state.trials(view.document.id).book(), view.variant),
    };
    let lots = (!books.stock().lots.is_empty())
        .then(|| (books.stock(), books.usage(), view.state.today()));
    let mut sheet = weigh_sheet(view.formula, view.variant, plan, heading, lots);
    sheet.packaging = packaging(view, sheet.filling.as_ref());
    Ok(sheet)
}

/// The packaging for the containers: what the costs of the product name, and what its earlier
/// batches were packed in.
fn packaging(view: &View<'_>, filling: Option<&Filling>) -> PackagingPlan {
    let books = &view.state.books;
    let product = view.formula.product();
    let costs = books.workshop().costs_of(product).packaging.iter();
    let same = |record: &&Record| record.opening().formula.product() == product;
    let earlier = books.all_records().filter(same);
    let earlier = earlier.flat_map(|record| record.packaging().iter().map(|p| p.what.as_ref()));
    let known = costs.map(|p| p.name.as_ref()).chain(earlier);
    let stock = (books.stock().packaging.as_slice(), books.usage());
    PackagingPlan::of(stock, known, filling)
}

/// The materials of the variant, in working order.
fn materials(view: &View<'_>) -> Vec<(MaterialId, Arc<str>)> {
    let mut found: Vec<(MaterialId, Arc<str>)> = Vec::new();
    for (_, line) in view.variant.lines() {
        if found.iter().all(|(id, _)| *id != line.material) {
            let name = view
                .formula
                .material(&line.material)
                .map_or_else(|| line.material.as_str().into(), |m| m.name.clone());
            found.push((line.material.clone(), name));
        }
    }
    found
}

/// Width of the column in which the size is entered.
const SIZE_WIDTH: f32 = 270.0;

/// Draws the page; true if a batch was begun.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut WeighPage,
    by: &str,
    commands: &mut Vec<Command>,
) -> bool {
    let mut begun = false;
    ui.horizontal_top(|ui| {
        let height = ui.available_height();
        let column = Layout::top_down(Align::Min);
        ui.allocate_ui_with_layout(vec2(SIZE_WIDTH, height), column, |ui| {
            region(ui, "Size and papers", |ui| {
                ScrollArea::vertical()
                    .id_salt("size")
                    .auto_shrink([false, false])
                    .show(ui, |ui| {
                        size_fields(ui, view, &mut page.inputs);
                        ui.add_space(theme::GAP);
                        begun = actions(ui, view, page, by, commands);
                    });
            });
        });
        ui.separator();
        let rest = vec2(ui.available_width(), height);
        ui.allocate_ui_with_layout(rest, column, |ui| {
            region(ui, "Weigh sheet", |ui| {
                ScrollArea::both()
                    .id_salt("sheet")
                    .auto_shrink([false, false])
                    .show(ui, |ui| match page.made.as_ref().map(|m| &m.sheet) {
                        Some(Ok(sheet)) => show(ui, sheet),
                        Some(Err(problem)) => caution(ui, Level::Caution, problem),
                        None => {}
                    });
            });
        });
    });
    begun
}

fn size_fields(ui: &mut Ui, view: &View<'_>, inputs: &mut Inputs) {
    let workshop = view.state.books.workshop();
    choice(
        ui,
        "Size from",
        &mut inputs.by,
        &By::ALL,
        |b| b.label().to_owned(),
        220.0,
    );
    match inputs.by {
        By::Mass => {
            let own = match BatchSize::of_variant(view.variant) {
                BatchSize::Mass(mass) => format!("{mass} g, as in the formula"),
                _ => String::new(),
            };
            let width = 220.0;
            labelled(ui, "Mass, with its unit", width, |ui, name| {
                ui.add(
                    TextEdit::singleline(&mut inputs.mass)
                        .hint_text(own)
                        .desired_width(width),
                )
                .labelled_by(name.id)
            });
        }
        By::Containers => {
            ui.horizontal(|ui| {
                field(ui, "Containers", &mut inputs.count, 60.0);
                field(ui, "Volume of one", &mut inputs.volume, 100.0)
                    .on_hover_text("Or the mass in one, such as 60 g");
            });
            field(ui, "Head space, %", &mut inputs.head_space, 60.0).on_hover_text(
                "Leave 0 if the volume is the contents; else it is the brimful volume",
            );
        }
        By::UseUp => {
            let all = materials(view);
            let places: Vec<usize> = (0..all.len()).collect();
            choice(
                ui,
                "Material",
                &mut inputs.material,
                &places,
                |i| all.get(i).map_or_else(String::new, |(_, n)| n.to_string()),
                220.0,
            );
            let words = "How much there is, with its unit";
            field(ui, words, &mut inputs.available, 120.0);
            if let Some((id, _)) = all.get(inputs.material) {
                let books = &view.state.books;
                let left = books.stock().usable(id, books.usage(), view.state.today());
                if ui.button(format!("Take the {left} g in stock")).clicked() {
                    inputs.available = format!("{left} g");
                }
            }
        }
        By::Vessel => {}
    }
    let vessels: Vec<usize> = (0..=workshop.vessels.len()).collect();
    choice(
        ui,
        "Vessel",
        &mut inputs.vessel,
        &vessels,
        |i| match i.checked_sub(1).and_then(|i| workshop.vessels.get(i)) {
            Some(v) => v.name().to_string(),
            None => "none chosen".to_owned(),
        },
        220.0,
    );
    if workshop.scales.len() > 1 {
        ui.label(theme::small(ui, "Weighed on"));
        for scale in &workshop.scales {
            let name = scale.name();
            let mut used = !inputs.idle.contains(name);
            // One must be left.
            let last = used && inputs.idle.len() + 1 == workshop.scales.len();
            let words = scale.words(workshop.unit);
            let ticked = ui.add_enabled_ui(!last, |ui| ui.checkbox(&mut used, words));
            if ticked.inner.changed() {
                if used {
                    inputs.idle.remove(name);
                } else {
                    inputs.idle.insert(name.clone());
                }
            }
        }
    }
    field(ui, "Density, g/ml, if measured", &mut inputs.density, 100.0);
    let allowances = workshop.allowances;
    ui.label(theme::small(
        ui,
        format!(
            "Overfill {} %, transfer loss {} %, evaporation {} %; scales and habits are set under Workshop",
            allowances.overfill, allowances.transfer_loss, allowances.evaporation
        ),
    ));
}

/// The papers, and the begin of the batch; whether it was begun.
fn actions(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut WeighPage,
    by: &str,
    commands: &mut Vec<Command>,
) -> bool {
    let WeighPage {
        inputs,
        made,
        code,
        trial,
        ..
    } = page;
    let Some(Made {
        sheet: Ok(sheet),
        vessel,
        ..
    }) = made
    else {
        return false;
    };
    let proposed = proposed_code(view);
    let will_be = |code: &str| match code.trim() {
        "" => proposed.clone(),
        typed => typed.to_owned(),
    };
    papers(ui, sheet, &mut inputs.paper, &will_be(code), commands);
    if let Some(problem) = view.not_made(papers_id()) {
        caution(ui, Level::Caution, problem);
    }
    ui.add_space(theme::GAP);
    batch_code(ui, &proposed, code);
    refusal(ui, refused_code(), code);
    let why = sheet.trial_notice().map(|notice| {
        caution(ui, Level::Breach, notice);
        let why = trial.why(view.variant);
        field(ui, "Why it is made all the same", why, 240.0);
        why.trim().to_owned()
    });
    if !begin_button(ui, by, why.as_deref()) {
        return false;
    }
    let read = BatchCode::new(&will_be(code)).map_err(|e| e.to_string());
    match read {
        Ok(batch) => {
            let why = why.unwrap_or_default();
            let opening = opening(view, sheet, vessel.clone(), (batch, &why));
            push(
                commands,
                BooksCommand::Begin(Box::new((opening, inputs.paper)), by.trim().to_owned()),
            );
            code.clear();
            trial.why.clear();
            true
        }
        Err(why) => {
            refuse(ui, refused_code(), code.as_str(), why);
            false
        }
    }
}

/// Where a batch code is told that was not taken.
fn refused_code() -> Id {
    Id::unique("batch code refused")
}

/// The weigh sheet to print, as a table or page, and as a recipe.
fn papers(
    ui: &mut Ui,
    sheet: &WeighSheet,
    paper: &mut Paper,
    code: &str,
    commands: &mut Vec<Command>,
) {
    choice(
        ui,
        "Paper",
        paper,
        &Paper::ALL,
        |p| p.label().to_owned(),
        120.0,
    );
    let name = |ending: &str| format!("{} weigh sheet.{ending}", sheet.formula);
    let save = |what: &str, file_name: String, make: Make| {
        let (sheet, code, paper) = (sheet.clone(), code.to_owned(), *paper);
        let job = move |waits: &Progress| make(&sheet, &code, Printing::watched(paper, waits));
        Making::watched(format!("Save the {what}"), file_name, job).asked_by(papers_id())
    };
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        if ui.button("Save PDF…").clicked() {
            asked = Some(save("weigh sheet", name("pdf"), |sheet, code, on| {
                weigh_sheet_pdf(&headed(sheet, code)?, on).map_err(|e| e.to_string())
            }));
        }
        if ui.button("CSV…").clicked() {
            asked = Some(save("weigh sheet", name("csv"), |sheet, code, _| {
                let text = sheet_export::csv(&headed(sheet, code)?);
                text.map(String::into_bytes).map_err(|e| e.to_string())
            }));
        }
        if ui.button("HTML…").clicked() {
            asked = Some(save("weigh sheet", name("html"), |sheet, code, _| {
                Ok(sheet_export::html(&headed(sheet, code)?).into_bytes())
            }));
        }
        if ui.button("Markdown recipe…").clicked() {
            let file_name = format!("{}.md", sheet.formula);
            asked = Some(save("recipe", file_name, |sheet, code, _| {
                Ok(sheet_export::markdown(&headed(sheet, code)?).into_bytes())
            }));
        }
    });
    commands.extend(asked.map(Command::Make));
}

/// Makes a paper of a weigh sheet, headed with a batch code.
type Make = fn(&WeighSheet, &str, Printing<'_>) -> Result<Vec<u8>, String>;

fn papers_id() -> Id {
    Id::unique("papers of the weigh sheet")
}

/// The weigh sheet headed with the batch code that the batch will have.
fn headed(sheet: &WeighSheet, code: &str) -> Result<WeighSheet, String> {
    let mut headed = sheet.clone();
    if !code.is_empty() {
        headed.heading.code = Some(BatchCode::new(code).map_err(|e| e.to_string())?);
    }
    Ok(headed)
}

/// The next batch code in the scheme of the workshop; empty if there is none.
fn proposed_code(view: &View<'_>) -> String {
    let books = &view.state.books;
    let scheme = &books.workshop().codes;
    let next = scheme.next(view.state.today(), books.all_records().map(Record::code));
    next.map(|c| c.to_string()).unwrap_or_default()
}

/// The batch code as it is typed; left empty, it will be the one proposed.
fn batch_code(ui: &mut Ui, proposed: &str, code: &mut String) {
    ui.horizontal(|ui| {
        field(ui, "Batch code", code, 120.0).on_hover_text(format!(
            "Left empty, it will be {proposed}, also on the printed sheet"
        ));
        if !proposed.is_empty()
            && *code != proposed
            && action(ui, &format!("Take {proposed}"))
                .on_hover_text("Puts it into the field, to be changed")
                .clicked()
        {
            proposed.clone_into(code);
        }
    });
}

/// The button that begins the batch, and what is still missing for it; `why` is the reason of a
/// trial, where the formula is in breach. Whether it is to begin.
fn begin_button(ui: &mut Ui, by: &str, why: Option<&str>) -> bool {
    let words = if why.is_none() {
        "Begin the batch"
    } else {
        "Begin a trial batch"
    };
    let clicked = theme::main_button(ui, words).clicked();
    let missing = if by.trim().is_empty() {
        Some("Type your name above under “Done by” first")
    } else if why == Some("") {
        Some("Say first why it is made all the same")
    } else {
        None
    };
    if let Some(missing) = missing {
        ui.label(theme::small(ui, missing));
    }
    if clicked && by.trim().is_empty() {
        super::ask_who_works(ui);
    }
    clicked && missing.is_none()
}

/// The first entry of the record of a batch; a reason makes it a trial.
fn opening(
    view: &View<'_>,
    sheet: &WeighSheet,
    vessel: Option<Vessel>,
    (code, why): (BatchCode, &str),
) -> Opening {
    let unit = sheet.heading.unit;
    let mut opening = Opening::new(code, view.formula, view.variant, &sheet.plan, vessel, unit);
    opening.trial = why.into();
    opening.second_check = view.state.books.workshop().second_check;
    opening.look_for_packaging(
        &view.state.books.stock().packaging,
        view.state.books.usage(),
    );
    opening
}

/// Widths of the columns of the sheet.
#[derive(Clone, Copy)]
struct Columns {
    name: f32,
    lots: f32,
    /// Decimals of the percentages: those of the finest, so that they stand in a column.
    decimals: usize,
}

impl Columns {
    const NUMBER: f32 = 22.0;
    const PERCENT: f32 = 64.0;
    const MASS: f32 = 130.0;
    const LOTS: f32 = 150.0;
    const FIXED: f32 = Self::NUMBER + Self::PERCENT + Self::MASS + 3.0 * theme::GAP + theme::TIGHT;
    /// Wider lines are hard to follow.
    const MOST: f32 = 900.0;

    fn of(ui: &Ui, sheet: &WeighSheet) -> Self {
        let lots = if sheet.weighings().any(|w| !w.lots.is_empty()) {
            Self::LOTS + theme::GAP
        } else {
            0.0
        };
        let whole = ui.available_width().min(Self::MOST);
        Self {
            name: (whole - Self::FIXED - lots).max(220.0),
            lots,
            decimals: (sheet.weighings())
                .map(|w| w.planned.percent.decimals())
                .max()
                .unwrap_or_default(),
        }
    }

    fn whole(self) -> f32 {
        self.name + self.lots + Self::FIXED
    }

    /// What stands beside the number.
    fn beside_number(self) -> f32 {
        self.whole() - Self::NUMBER - theme::GAP - theme::TIGHT
    }
}

/// A cell of a width, its content one below the other.
fn cell(ui: &mut Ui, width: f32, align: Align, content: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(vec2(width, 0.0), Layout::top_down(align), |ui| {
        ui.set_width(width);
        ui.spacing_mut().item_spacing.y = 2.0;
        content(ui);
    });
}

fn show(ui: &mut Ui, sheet: &WeighSheet) {
    let sized = &sheet.plan.sized;
    ui.label(theme::heading(format!(
        "{}: {}",
        sheet.formula,
        sheet.shown(sized.batch, sheet.finest())
    )));
    if let Some(notice) = sheet.trial_notice() {
        caution(ui, Level::Breach, notice);
        for breach in &sheet.heading.breaches {
            ui.label(theme::small(ui, breach));
        }
    }
    if let Some(expiry) = &sheet.expiry {
        ui.label(theme::small(ui, format!("Expiry of the product: {expiry}")));
    }
    for line in &sized.working {
        ui.label(theme::small(ui, line));
    }
    for words in sheet.cautions() {
        caution(ui, Level::Caution, words);
    }
    if ui.available_width() < TWO_COLUMNS {
        let mut numbered = Numbered::default();
        phases(ui, sheet, 0..sheet.phases.len(), &mut numbered);
        checks(ui, sheet);
        return;
    }
    // Read down the left column, then down the right one.
    let middle = middle(sheet);
    two_columns(ui, |left, right| {
        let mut numbered = Numbered::default();
        phases(left, sheet, 0..middle, &mut numbered);
        phases(right, sheet, middle..sheet.phases.len(), &mut numbered);
        checks(right, sheet);
    });
}

/// The number of the last entry drawn, and what was told at those before it.
#[derive(Default)]
struct Numbered {
    number: usize,
    told: Told,
}

/// How many phases stand in the left of two columns: so many that both are about as long.
fn middle(sheet: &WeighSheet) -> usize {
    let rows = |phase: &SheetPhase| phase.entries.len() + 1;
    let all: usize = sheet.phases.iter().map(rows).sum::<usize>() + sheet.checks.len() / 2;
    let mut before = 0;
    for (place, phase) in sheet.phases.iter().enumerate() {
        let after = before + rows(phase);
        if 2 * after >= all {
            // The phase in the middle goes where it leaves the columns more alike.
            let is_nearer = after + before <= all;
            return if is_nearer { place + 1 } else { place }.max(1);
        }
        before = after;
    }
    sheet.phases.len()
}

fn phases(ui: &mut Ui, sheet: &WeighSheet, shown: Range<usize>, numbered: &mut Numbered) {
    let columns = Columns::of(ui, sheet);
    let all = sheet.phases.iter().enumerate();
    for (place, phase) in all.filter(|(place, _)| shown.contains(place)) {
        ui.add_space(theme::GAP);
        phase_band(ui, sheet, phase, place, columns);
        for entry in &phase.entries {
            numbered.number += 1;
            let number = numbered.number;
            ui.horizontal_top(|ui| {
                ui.spacing_mut().item_spacing.x = theme::GAP;
                cell(ui, Columns::NUMBER, Align::Max, |ui| {
                    ui.label(theme::small(ui, number.to_string()));
                });
                entry_row(ui, sheet, entry, columns, (number, &mut numbered.told));
            });
            hairline(ui, columns.whole());
        }
        if phase.without_steps {
            ui.label(theme::small(
                ui,
                "No step of work is written for this phase",
            ));
        }
    }
}

fn checks(ui: &mut Ui, sheet: &WeighSheet) {
    let columns = Columns::of(ui, sheet);
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Checks"));
    if let Some(adjust) = sheet.adjust_words() {
        cell(ui, columns.whole(), Align::Min, |ui| {
            ui.label(theme::small(ui, adjust));
        });
    }
    for check in &sheet.checks {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = theme::GAP;
            let half = (columns.whole() - theme::GAP) / 2.0;
            for words in [&check.what, &check.accept] {
                cell(ui, half, Align::Min, |ui| {
                    ui.label(words);
                });
            }
        });
        hairline(ui, columns.whole());
    }
    ui.add_space(theme::GAP);
    cell(ui, columns.whole(), Align::Min, |ui| {
        ui.label(theme::small(ui, NOTICE));
    });
}

fn hairline(ui: &mut Ui, width: f32) {
    let (rect, _) = ui.allocate_exact_size(vec2(width, 1.0), Sense::hover());
    let stroke = Stroke::new(1.0, theme::palette(ui).rule);
    ui.painter().hline(rect.x_range(), rect.center().y, stroke);
}

/// The band above the lines of a phase, in its tint.
fn phase_band(ui: &mut Ui, sheet: &WeighSheet, phase: &SheetPhase, place: usize, columns: Columns) {
    let inner = vec2(theme::TIGHT, 3.0);
    Frame::new()
        .fill(theme::palette(ui).phase_of(&phase.letter, place))
        .corner_radius(3.0)
        .inner_margin(inner)
        .show(ui, |ui| {
            ui.set_width(columns.whole() - 2.0 * inner.x);
            ui.horizontal(|ui| {
                ui.label(theme::strong(format!("Phase {}", phase.letter)));
                ui.label(phase.words());
                // Under the column of masses.
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.add_space(columns.lots);
                    ui.label(theme::strong(sheet.shown(phase.mass, sheet.finest())));
                });
            });
        });
}

fn entry_row(
    ui: &mut Ui,
    sheet: &WeighSheet,
    entry: &SheetEntry,
    columns: Columns,
    (number, told): (usize, &mut Told),
) {
    match entry {
        SheetEntry::Weigh(w) => weigh_row(ui, sheet, w, columns, (number, told)),
        SheetEntry::Work { step, cautions } => {
            cell(ui, columns.beside_number(), Align::Min, |ui| {
                ui.label(step.text.as_ref());
                let mut facts = step_facts(step);
                if !step.check.is_empty() {
                    facts.push(format!("check: {}", step.check));
                }
                if !facts.is_empty() {
                    ui.label(theme::small(ui, facts.join(" · ")));
                }
                advice(ui, cautions, number, told);
            });
        }
        SheetEntry::Cool { below, because } => {
            cell(ui, columns.beside_number(), Align::Min, |ui| {
                ui.label(theme::strong(cool_words(*below)));
                ui.label(theme::small(ui, because));
            });
        }
    }
}

/// What was told of handling, and at which number of the sheet: what is the same for many lines
/// is told once.
#[derive(Default)]
struct Told(Vec<(String, usize)>);

impl Told {
    /// The number at which the same was told before; it is noted for the first.
    fn before(&mut self, words: &str, number: usize) -> Option<usize> {
        let before = self.0.iter().find(|(told, _)| told == words);
        let at = before.map(|(_, at)| *at);
        if at.is_none() {
            self.0.push((words.to_owned(), number));
        }
        at
    }
}

/// What to wear and how to handle is told plainly, and once where many lines ask for the same;
/// what may spoil the batch stands out.
fn advice(ui: &mut Ui, all: &[Caution], number: usize, told: &mut Told) {
    let handling: Vec<&Caution> = (all.iter())
        .filter(|c| matches!(c.kind, CautionKind::Wear | CautionKind::Handle))
        .collect();
    if !handling.is_empty() {
        handle(ui, &handling, number, told);
    }
    for (place, c) in all.iter().enumerate() {
        match c.kind {
            CautionKind::Wear | CautionKind::Handle => {}
            CautionKind::Wet | CautionKind::Cool => {
                ui.label(theme::strong(c.to_string()).small());
            }
            CautionKind::Process => caution(ui, Level::Caution, c.to_string()),
            CautionKind::Weigh => folded(ui, Id::unique(("caution", number, place)), c),
        }
    }
}

/// What to wear and to mind, in one line.
fn handle(ui: &mut Ui, handling: &[&Caution], number: usize, told: &mut Told) {
    let words: Vec<String> = handling.iter().map(ToString::to_string).collect();
    let words = words.join(" · ");
    let small = |text: &str| egui::RichText::new(text).small();
    match told.before(&words, number) {
        None => {
            ui.add(egui::Label::new(small(&words)).wrap());
        }
        Some(before) => {
            let mut kinds: Vec<&str> = handling.iter().map(|c| c.kind.label()).collect();
            kinds.dedup();
            let as_before = format!(
                "{} as at number {before}",
                kinds.join(" and ").to_lowercase()
            );
            let as_before = sentence(&as_before);
            ui.label(small(&as_before)).on_hover_text(words);
        }
    }
}

/// One line of what is the matter; what to do about it comes by a click.
fn folded(ui: &mut Ui, id: Id, caution: &Caution) {
    let (matter, rest) = caution.parts();
    let mut open = ui.data(|d| d.get_temp::<bool>(id)).unwrap_or_default();
    ui.horizontal_wrapped(|ui| {
        level_mark(ui, Level::Caution);
        let colour = theme::palette(ui).level(Level::Caution);
        ui.colored_label(colour, format!("{}: {matter}", caution.kind.label()));
        if fold(ui, id, "What to do", open).clicked() {
            open = !open;
            ui.data_mut(|d| d.insert_temp(id, open));
        }
    });
    if open {
        ui.add(egui::Label::new(rest).wrap());
    }
}

fn weigh_row(
    ui: &mut Ui,
    sheet: &WeighSheet,
    w: &Weighing,
    columns: Columns,
    (number, told): (usize, &mut Told),
) {
    // Field by field, so that a new one is not forgotten here.
    let Weighing {
        planned,
        inci,
        scale,
        resolution,
        why: _, // stands in the recipe, not at the scale
        lots,
        short: _,
        set_aside: _, // told with what is short
        by_portions: _,
        cautions,
    } = w;
    let shown = |mass| sheet.shown(mass, *resolution);
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = theme::GAP;
            cell(ui, columns.name, Align::Min, |ui| {
                unparted_label(ui, &planned.name, |name| theme::strong(name).into());
                ui.label(theme::small(ui, inci));
            });
            cell(ui, Columns::PERCENT, Align::Max, |ui| {
                ui.label(format!("{:.*} %", columns.decimals, planned.percent));
            });
            cell(ui, Columns::MASS, Align::Max, |ui| {
                ui.label(theme::strong(shown(planned.mass)))
                    .on_hover_text(format!(
                        "off by {} % from the exact share",
                        signed(planned.rounding_error.as_percent(), 3)
                    ));
                ui.label(theme::small(ui, format!("± {}", shown(planned.tolerance))));
                if sheet.plan.scales.len() > 1 {
                    ui.label(theme::small(ui, scale.as_ref()));
                }
            });
            if columns.lots > 0.0 {
                cell(ui, Columns::LOTS, Align::Min, |ui| {
                    for (lot, mass) in lots {
                        ui.label(theme::small(ui, format!("{lot}: {}", shown(*mass))));
                    }
                });
            }
        });
        cell(ui, columns.beside_number(), Align::Min, |ui| {
            advice(ui, cautions, number, told);
            if let Some(manner) = w.manner() {
                ui.label(theme::small(ui, manner));
            }
            if let Some(lacks) = sheet.stock_caution(w) {
                caution(ui, Level::Caution, lacks);
            }
        });
    });
}
