//! Targets with sliders, what to prefer, limits, candidates; the answer beside them.

use eframe::egui::{self, Id, Slider, Ui};
use formulation::amount::{Measure, typed};
use formulation::finding::Level;
use formulation::material::Class;
use formulation::progress::Progress;
use formulation::quantity::{Percent, in_grams};
use formulation::solve::aim::{Aim, AimError, Answer, Collision, Preference, Prepared};
use formulation::solve::demand::{Demand, DemandOrigin, LimitKey};
use formulation::solve::subject::{AddableMaterial, FormError, Lack};
use formulation::solve::target::{Relation, Target, TargetQuantity};
use formulation::trial::reading::Quantity as Reading;
use std::collections::BTreeSet;

use super::{Ground, Typed, answered, cell, heading, marked, proposal, two_columns};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::choice::choice;
use crate::widgets::entry::Entry;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::material_picker::MaterialPicker;
use crate::widgets::work_bar::{is_due, work_bar};
use crate::work::Work;

/// Steps offered for the percentages, in millionths of a percent.
const STEPS: [i64; 3] = [100_000, 50_000, 10_000];
/// Targets offered by a click.
const OFFERED: [(&str, &str); 12] = [
    ("active matter", "active >= 12"),
    ("anionic to amphoteric", "anionic / amphoteric <= 3"),
    ("cationic active", "cationic >= 1"),
    ("water", "water <= 80"),
    ("oil phase", "oil phase >= 15"),
    ("salt", "salt <= 2"),
    ("humectant", "humectant >= 3"),
    ("pH", "ph = 5.2"),
    ("HLB the oils need", "hlb = need"),
    ("preservation", "preservation >= 1"),
    ("natural origin", "natural origin >= 0.9"),
    ("cost", "cost <= 3"),
];

/// Width of a price or a stock.
const PRICE: f32 = 76.0;

/// One target of the list.
struct Row {
    number: u64,
    target: Target,
    on: bool,
}

/// What the part keeps between frames.
pub struct Targets {
    rows: Vec<Row>,
    next: u64,
    problem: Option<String>,
    /// What was typed as a target and could not be read, kept to be mended.
    refused: String,
    price_problem: Option<String>,
    prefer: Preference,
    step: Percent,
    without: BTreeSet<LimitKey>,
    stock: bool,
    allowed: Vec<AddableMaterial>,
    picker: MaterialPicker,
    work: Work<Asked, Solved>,
    limits: Vec<(LimitKey, String)>,
    shown_clash: Option<usize>,
}

impl Default for Targets {
    fn default() -> Self {
        Self {
            rows: Vec::new(),
            next: 0,
            problem: None,
            refused: String::new(),
            price_problem: None,
            prefer: Preference::Change,
            step: Percent::from_units(STEPS[2]),
            without: BTreeSet::new(),
            stock: false,
            allowed: Vec::new(),
            picker: MaterialPicker::default(),
            work: Work::default(),
            limits: Vec::new(),
            shown_clash: None,
        }
    }
}

/// What an answer is the answer to.
#[derive(Clone, PartialEq)]
struct Asked {
    ground: Ground,
    aim: Aim,
    allowed: Vec<AddableMaterial>,
    typed: Typed,
}

impl Asked {
    /// Whether something was aimed at, on the ground of another: an answer about another formula
    /// says nothing of this one.
    fn is_of(&self, other: &Self) -> bool {
        !self.aim.targets.is_empty() && self.ground == other.ground
    }
}

impl Targets {
    /// Adds a target that is not there yet.
    fn add(&mut self, target: Target) {
        if self.rows.iter().any(|row| row.target == target) {
            self.problem = Some(format!("“{}” is among the targets already", target.words()));
            return;
        }
        self.problem = None;
        self.rows.push(Row {
            number: self.next,
            target,
            on: true,
        });
        self.next += 1;
    }

    fn asked(&self, view: &View<'_>, typed: &Typed) -> Asked {
        let targets = self
            .rows
            .iter()
            .filter(|r| r.on)
            .map(|r| r.target.clone())
            .collect();
        let mut aim = Aim::new(targets);
        aim.prefer = self.prefer;
        aim.step = self.step;
        aim.without.clone_from(&self.without);
        aim.stock_for = self.stock.then_some(view.variant.batch);
        Asked {
            ground: Ground::of(view),
            aim,
            allowed: self.allowed.clone(),
            typed: typed.clone(),
        }
    }

    /// Asks the solver again if anything has changed.
    fn ask(&mut self, ui: &Ui, view: &View<'_>, asked: Asked) {
        let of = asked.clone();
        self.work.ask(ui, asked, || {
            let allowed = of.allowed.iter().map(|c| &c.material.id);
            let materials = view.formula.materials.keys().chain(allowed);
            let supply = of.typed.supply(view, materials);
            let (formula, variant) = (view.formula.clone(), view.variant.clone());
            let context = view.state.context().clone();
            move |progress: &Progress| {
                let prepared = Prepared::new(&formula, &variant, &context, &supply, &of.allowed);
                let limits = limits_of(&prepared);
                let answer = prepared.watched(progress).answer(&of.aim);
                Solved { limits, answer }
            }
        });
        if let Some(solved) = self.work.answer() {
            self.limits.clone_from(&solved.limits);
        } else {
            self.shown_clash = None;
        }
    }
}

/// What the solver says, and the limits that bind the lines.
struct Solved {
    limits: Vec<(LimitKey, String)>,
    answer: Result<Answer, AimError>,
}

fn limits_of(prepared: &Prepared<'_>) -> Vec<(LimitKey, String)> {
    let of_limit = |demand: &Demand| match &demand.origin {
        DemandOrigin::Limit(key) => Some((key.clone(), demand.words.clone())),
        _ => None,
    };
    prepared.limits().iter().filter_map(of_limit).collect()
}

/// Draws the part.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    part: &mut Targets,
    typed: &mut Typed,
    commands: &mut Vec<Command>,
) {
    let asked = part.asked(view, typed);
    let is_empty = view.variant.lines().next().is_none();
    if !is_empty {
        part.ask(ui, view, asked.clone());
    }
    // Taken apart, so that both columns may use it.
    let mut work = std::mem::take(&mut part.work);
    let mut clash = part.shown_clash;
    let mut taken = None;
    two_columns(
        ui,
        "aim targets",
        400.0,
        |ui| {
            rows(ui, part);
            new_target(ui, view, part);
            choices(ui, view, part);
            allowed(ui, view, part);
            limits(ui, part);
            prices(ui, view, part, typed);
        },
        |ui| {
            let due = is_due(ui, &work);
            let old = work.before().filter(|(of, _)| of.is_of(&asked));
            ui.horizontal(|ui| {
                ui.label(theme::heading("Proposal"));
                if old.is_some() && due {
                    ui.label(theme::small(ui, "being worked out anew"));
                }
            });
            if is_empty {
                ui.label("The formula has no line yet; add raw materials on the Formula sheet.");
                return;
            }
            if asked.aim.targets.is_empty() {
                ui.label(
                    "Add a target on the left, or begin with one of these and move its slider:",
                );
                taken = offered(ui);
                return;
            }
            measured_beside(ui, view, &asked.aim.targets);
            // The last proposal stays until the new one is there, so that nothing blinks; what
            // it is about may have changed, so nothing of it is taken over.
            if let Some((_, solved)) = old {
                let mut of_old = Vec::new();
                ui.add_enabled_ui(!due, |ui| {
                    told(ui, &solved.answer, &mut None, &mut of_old);
                });
            }
            work_bar(ui, &mut work, "Looking for percentages");
            if let Some(solved) = work.answer() {
                told(ui, &solved.answer, &mut clash, commands);
            }
        },
    );
    (part.work, part.shown_clash) = (work, clash);
    if let Some(target) = taken {
        part.add(target);
    }
    if part.asked(view, typed) != asked {
        // It is asked with the next frame.
        ui.ctx().request_repaint();
    }
}

/// That a proposal starts from the pH measured, where one aims at a pH.
fn measured_beside(ui: &mut Ui, view: &View<'_>, targets: &[Target]) {
    let Some(ph) = view.variant.measured.ph else {
        return;
    };
    if targets.iter().any(|t| t.quantity == TargetQuantity::Ph) {
        let words = format!(
            "You measured pH {ph}: a proposal starts from there. What the materials do not state is taken to go along; add half of the dose, mix and read."
        );
        marked(ui, Level::Note, words);
    }
}

/// The targets that are offered, each a button; the one clicked.
fn offered(ui: &mut Ui) -> Option<Target> {
    let mut taken = None;
    ui.horizontal_wrapped(|ui| {
        for target in OFFERED
            .iter()
            .filter_map(|(_, text)| text.parse::<Target>().ok())
        {
            if ui.button(target.words()).clicked() {
                taken = Some(target);
            }
        }
    });
    taken
}

/// What the solver says.
fn told(
    ui: &mut Ui,
    answer: &Result<Answer, AimError>,
    clash: &mut Option<usize>,
    commands: &mut Vec<Command>,
) {
    match answer {
        Ok(Answer::Proposal(found)) => proposal::ui(ui, "aim", found, false, commands),
        Ok(Answer::Collision(found)) => collision(ui, found, clash, commands),
        Err(error) => {
            answered(ui, Level::Caution, error.to_string());
            let lack = Lack::Price;
            if matches!(error.form(), Some(FormError::Unknown { lack: of, .. }) if *of == lack) {
                ui.label("Prices are entered on the left under “Prices and stock”, or with the lots and offers of the Make sheet.");
            }
        }
    }
}

fn rows(ui: &mut Ui, part: &mut Targets) {
    // As high as the heading of the answer beside it.
    ui.horizontal(|ui| ui.label(theme::heading("Targets")));
    if part.rows.is_empty() {
        ui.label(theme::small(ui, "No target yet"));
    }
    let mut gone = None;
    for (k, row) in part.rows.iter_mut().enumerate() {
        ui.push_id(row.number, |ui| {
            ui.horizontal(|ui| {
                ui.checkbox(&mut row.on, "")
                    .accessible_name(format!("Use the target: {}", row.target.words()))
                    .on_hover_text("Switch this target on or off");
                ui.vertical(|ui| {
                    ui.horizontal(|ui| {
                        ui.add(egui::Label::new(theme::strong(row.target.words())).wrap());
                        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                            let name = format!("Remove the target: {}", row.target.words());
                            if icon_button(ui, Icon::Cross, &name, true).clicked() {
                                gone = Some(k);
                            }
                        });
                    });
                    ui.add_enabled_ui(row.on, |ui| sliders(ui, &mut row.target));
                });
            });
        });
    }
    if let Some(k) = gone {
        part.rows.remove(k);
        part.problem = None;
    }
}

/// The relation and the sliders of its figures.
fn sliders(ui: &mut Ui, target: &mut Target) {
    let (least, most) = span(&target.quantity, target.relation);
    let digits = target.quantity.digits();
    let name = target.quantity.words();
    let unit = match target.quantity.unit() {
        "" => String::new(),
        unit => format!(" {unit}"),
    };
    ui.horizontal(|ui| {
        ui.spacing_mut().slider_width = (ui.available_width() - 230.0).clamp(60.0, 240.0);
        // The track is seen on the ground of the sheet.
        let rule = theme::palette(ui).rule;
        ui.visuals_mut().widgets.inactive.bg_fill = rule;
        let figure = |ui: &mut Ui, value: &mut f64, which: &str| {
            ui.add(
                Slider::new(value, least..=most)
                    .fixed_decimals(digits)
                    .suffix(&unit)
                    .update_while_editing(false),
            )
            .accessible_name(format!("{which} {name}"));
        };
        relation_choice(ui, target);
        match &mut target.relation {
            Relation::AtLeast(value) => figure(ui, value, "Least"),
            Relation::AtMost(value) => figure(ui, value, "Most"),
            Relation::Equal(value) => figure(ui, value, "Exact"),
            Relation::Between(low, high) => {
                ui.vertical(|ui| {
                    figure(ui, low, "Least");
                    figure(ui, high, "Most");
                });
                if low > high {
                    *high = *low;
                }
            }
            Relation::Need => {}
        }
    });
}

fn relation_choice(ui: &mut Ui, target: &mut Target) {
    let at = match target.relation {
        Relation::AtLeast(v) | Relation::AtMost(v) | Relation::Equal(v) => v,
        Relation::Between(low, _) => low,
        Relation::Need => 10.0,
    };
    let word = |relation: &Relation| match relation {
        Relation::AtLeast(_) => "at least",
        Relation::AtMost(_) => "at most",
        Relation::Equal(_) => "exactly",
        Relation::Between(..) => "between",
        Relation::Need => "the need",
    };
    let top = match target.relation {
        Relation::Between(_, high) => high,
        _ => at,
    };
    let mut offered = vec![
        Relation::AtLeast(at),
        Relation::AtMost(top),
        Relation::Equal(at),
        Relation::Between(at, top.max(at)),
    ];
    if target.quantity == TargetQuantity::Hlb {
        offered.push(Relation::Need);
    }
    egui::ComboBox::from_id_salt("relation")
        .selected_text(word(&target.relation))
        .width(84.0)
        .show_ui(ui, |ui| {
            for relation in offered {
                let same = word(&relation) == word(&target.relation);
                if ui.selectable_label(same, word(&relation)).clicked() && !same {
                    target.relation = relation;
                }
            }
        })
        .response
        .accessible_name(format!("Relation of {}", target.quantity.words()));
}

/// The range of a slider: wide enough to move in, narrow enough to hit.
fn span(quantity: &TargetQuantity, relation: Relation) -> (f64, f64) {
    let (least, most) = quantity.domain();
    let usual = match quantity {
        TargetQuantity::Class(Class::Water) | TargetQuantity::OilPhase => 100.0,
        TargetQuantity::Class(Class::Electrolyte)
        | TargetQuantity::Cost(_)
        | TargetQuantity::Ratio(..) => 10.0,
        TargetQuantity::NaturalOrigin => 1.0,
        TargetQuantity::Hlb => 20.0,
        TargetQuantity::Ph => 12.0,
        TargetQuantity::Preservation => 3.0,
        TargetQuantity::Learnt(reading) => usual_of(*reading),
        _ => 40.0,
    };
    let high = relation
        .limits()
        .map_or(0.0, |(low, high)| if high.is_finite() { high } else { low });
    let top = if high > usual { 1.5 * high } else { usual };
    (least, top.min(most))
}

/// A usual top of a reading, for the range of a slider.
const fn usual_of(reading: Reading) -> f64 {
    match reading {
        Reading::Viscosity => 20_000.0,
        Reading::FoamHeight | Reading::FoamDrain => 500.0,
        Reading::Density | Reading::WaterActivity => 1.5,
        _ => 100.0,
    }
}

fn new_target(ui: &mut Ui, view: &View<'_>, part: &mut Targets) {
    ui.add_space(theme::TIGHT);
    let entry = Entry::new(Id::unique("new target"), &part.refused, "Add a target")
        .width(ui.available_width() - 8.0)
        .hint("Type a target, for example: active at least 14")
        .show(ui);
    let field = entry.response.on_hover_text(
        "what, relation, figure: active at least 14, or active >= 14 · salt at most 2 · water between 70 and 80 · glycerin = 5 · line Coco betaine <= 20 · cost per 250 ml <= 0.6 · ph = 5.2 · hlb = need · after trials: viscosity between 4000 and 6000",
    );
    if let Some(text) = entry.done {
        part.problem = None;
        part.refused.clear();
        if !text.trim().is_empty() {
            match text.parse::<Target>() {
                Ok(target) => part.add(target),
                Err(error) => {
                    part.problem = Some(error.to_string());
                    part.refused = text;
                }
            }
        }
        // Enter leaves the field ready for the next target, or to mend this one.
        if ui.input(|i| i.key_pressed(egui::Key::Enter)) {
            field.request_focus();
        }
    }
    if let Some(problem) = &part.problem {
        answered(ui, Level::Caution, problem.clone());
    }
    egui::ComboBox::from_id_salt("offered targets")
        .selected_text("Usual targets…")
        .width(180.0)
        .height(330.0)
        .show_ui(ui, |ui| {
            for (label, text) in OFFERED {
                if ui.selectable_label(false, label).clicked()
                    && let Ok(target) = text.parse::<Target>()
                {
                    part.add(target);
                }
            }
        })
        .response
        .accessible_name("Usual targets");
    let stated = ui.button("From the specification").on_hover_text(
        "The pH and the readings that the specification under Make asks for, as far as trials have taught them",
    );
    if stated.clicked() {
        let targets = Target::of_specification(view.variant, view.state.lessons());
        if targets.is_empty() {
            part.problem = Some("The specification under Make asks for nothing that can be aimed at; state a pH aimed at, or a viscosity of which trials were read".to_owned());
        }
        for target in targets {
            if part.rows.iter().all(|row| row.target != target) {
                part.add(target);
            }
        }
    }
}

fn choices(ui: &mut Ui, view: &View<'_>, part: &mut Targets) {
    heading(ui, "Among all that fit, prefer");
    ui.horizontal_wrapped(|ui| {
        choice(
            ui,
            "Preference",
            &mut part.prefer,
            Preference::ALL,
            Preference::label,
            170.0,
        );
        ui.label("in steps of");
        choice(
            ui,
            "Step of the percentages",
            &mut part.step,
            STEPS.map(Percent::from_units),
            |step| format!("{step} %"),
            76.0,
        );
    });
    let grams = in_grams(view.variant.batch);
    ui.checkbox(
        &mut part.stock,
        format!("Use only what is in stock for a batch of {grams:.0} g"),
    )
    .on_hover_text(
        "What is left in usable lots of the Make sheet, or as entered below; water is always there",
    );
}

fn allowed(ui: &mut Ui, view: &View<'_>, part: &mut Targets) {
    heading(ui, "Materials that may be added");
    let mut gone = None;
    for (k, candidate) in part.allowed.iter().enumerate() {
        ui.push_id(candidate.material.id.as_str(), |ui| {
            ui.horizontal(|ui| {
                let name = format!("Do not add {}", candidate.material.name);
                if icon_button(ui, Icon::Cross, &name, true).clicked() {
                    gone = Some(k);
                }
                ui.add(egui::Label::new(&*candidate.material.name).truncate());
            });
        });
    }
    if let Some(k) = gone {
        part.allowed.remove(k);
    }
    let width = (ui.available_width() - 8.0).min(340.0);
    let picked = part.picker.show(
        ui,
        view.state,
        Id::unique("aim candidate"),
        "Allow a material",
        width,
    );
    if let Some(material) = picked
        && let Some(phase) = view.variant.phase_for(&material).map(|p| p.id)
        && !part.allowed.iter().any(|c| c.material.id == material.id)
    {
        part.allowed.push(AddableMaterial { material, phase });
    }
}

fn limits(ui: &mut Ui, part: &mut Targets) {
    let off = part
        .limits
        .iter()
        .filter(|(key, _)| part.without.contains(key))
        .count();
    let title = if off == 0 {
        format!("Limits kept ({})", part.limits.len())
    } else {
        format!(
            "Limits kept ({}), {off} switched off",
            part.limits.len() - off
        )
    };
    ui.add_space(theme::TIGHT);
    egui::CollapsingHeader::new(title)
        .id_salt("aim limits")
        .show(ui, |ui| {
            if part.limits.is_empty() {
                ui.label("No legal or supplier limit binds these lines.");
            }
            for (key, words) in &part.limits {
                let mut on = !part.without.contains(key);
                ui.push_id(key, |ui| {
                    ui.horizontal_top(|ui| {
                        let changed = ui
                            .checkbox(&mut on, "")
                            .accessible_name(format!("Keep: {words}"))
                            .changed();
                        if on {
                            ui.add(egui::Label::new(words.as_str()).wrap());
                        } else {
                            marked(ui, Level::Caution, format!("off: {words}"));
                        }
                        if changed {
                            if on {
                                part.without.remove(key);
                            } else {
                                part.without.insert(key.clone());
                            }
                        }
                    });
                });
            }
        });
}

fn prices(ui: &mut Ui, view: &View<'_>, part: &mut Targets, typed: &mut Typed) {
    let allowed = part.allowed.iter().map(|c| &c.material.id);
    let materials = view.formula.materials.keys().chain(allowed);
    let of_stock = Typed::default().supply(view, materials);
    egui::CollapsingHeader::new("Prices and stock")
        .id_salt("aim prices")
        .show(ui, |ui| {
            let width = (ui.available_width() - 2.0 * PRICE - 40.0).clamp(90.0, 240.0);
            egui::Grid::new("aim prices grid")
                .num_columns(3)
                .min_col_width(PRICE)
                .striped(true)
                .show(ui, |ui| {
                    ui.label(theme::small(ui, "material"));
                    ui.label(theme::small(ui, "price of a kg"));
                    ui.label(theme::small(ui, "stock, g"));
                    ui.end_row();
                    let mut shown = BTreeSet::new();
                    let lines = view
                        .variant
                        .lines()
                        .filter_map(|(_, l)| view.formula.material(&l.material));
                    for material in lines.chain(part.allowed.iter().map(|c| &c.material)) {
                        if !shown.insert(material.id.clone()) {
                            continue;
                        }
                        cell(ui, width, &*material.name).on_hover_text(&*material.name);
                        let price = of_stock.price_per_kg.get(&material.id).copied();
                        let left = of_stock.stock.get(&material.id).map(|m| in_grams(*m));
                        for (what, map, of_stock) in [
                            ("Price of a kilogram of", &mut typed.price_per_kg, price),
                            ("Stock in grams of", &mut typed.stock_g, left),
                        ] {
                            let hint = of_stock
                                .map_or_else(|| "unknown".to_owned(), |v| format!("{v:.2}"));
                            let value = map
                                .get(&material.id)
                                .map_or_else(String::new, ToString::to_string);
                            let entry = Entry::new(
                                Id::unique(("aim", what, material.id.as_str())),
                                &value,
                                format!("{what} {}", material.name),
                            )
                            .width(PRICE)
                            .hint(&hint)
                            .right()
                            .show(ui);
                            if let Some(text) = entry.done {
                                let read =
                                    typed::optional(&text, |t| typed::value(t, &Measure::MONEY));
                                part.price_problem = match read {
                                    Ok(Some(n)) => {
                                        map.insert(material.id.clone(), n);
                                        None
                                    }
                                    Ok(None) => {
                                        map.remove(&material.id);
                                        None
                                    }
                                    Err(problem) => Some(problem.to_string()),
                                };
                            }
                        }
                        ui.end_row();
                    }
                });
            if let Some(problem) = &part.price_problem {
                marked(ui, Level::Caution, problem.clone());
            }
            ui.add(
                egui::Label::new(theme::small(
                    ui,
                    "Grey figures are those of the stock on the Make sheet",
                ))
                .wrap(),
            );
        });
}

fn collision(
    ui: &mut Ui,
    found: &Collision,
    shown: &mut Option<usize>,
    commands: &mut Vec<Command>,
) {
    answered(ui, Level::Breach, found.verdict());
    heading(ui, found.heading());
    for (k, clash) in found.clashes.iter().enumerate() {
        ui.push_id(k, |ui| {
            ui.horizontal(|ui| {
                let can = clash.nearest.is_some();
                let on = *shown == Some(k);
                let button = egui::Button::selectable(on, "Nearest if it gives way")
                    .frame_when_inactive(true);
                if ui
                    .add_enabled(can, button)
                    .accessible_name(format!("Nearest if it gives way: {}", clash.words))
                    .on_disabled_hover_text("Other demands would still collide")
                    .clicked()
                {
                    *shown = (!on).then_some(k);
                }
                ui.add(egui::Label::new(clash.words.as_str()).wrap());
            });
        });
    }
    if found.clashes.iter().all(|clash| clash.nearest.is_none()) {
        let words = "Whichever of them gives way, other demands would still collide: switch a target off, let go of a held line, or allow a material.";
        ui.add(egui::Label::new(words).wrap());
    }
    if let Some((k, nearest)) = shown.and_then(|k| {
        found
            .clashes
            .get(k)
            .and_then(|c| c.nearest.as_ref())
            .map(|n| (k, n))
    }) {
        ui.separator();
        if let Some(clash) = found.clashes.get(k) {
            ui.add(egui::Label::new(theme::strong(clash.nearest_heading())).wrap());
        }
        proposal::ui(ui, "nearest", nearest, true, commands);
    }
}
