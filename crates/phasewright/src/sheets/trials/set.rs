//! Planned sets: lines with their ranges, a design, the beakers it gives, and the table their
//! readings are entered in.

use std::collections::{BTreeMap, BTreeSet};

use eframe::egui::{Grid, Id, Ui, vec2};
use formulation::amount::typed;
use formulation::file::pdf::Printing;
use formulation::file::trial_pdf::{set_csv, set_pdf};
use formulation::finding::Level;
use formulation::formula::ItemId;
use formulation::mass::{MassUnit, read_mass};
use formulation::quantity::Percent;
use formulation::trial::book::{Book, SetPlace, Trial, TrialEvent, TrialOpening, value_words};
use formulation::trial::draft::{ReadingDraft, ReadingField};
use formulation::trial::fit::scheffe::Order;
use formulation::trial::plan::{CheckedTrial, Design, Factor, Varied, check, formula_of, plan};
use formulation::trial::reading::Quantity;

use super::note;
use crate::command::{Command, Making};
use crate::sheets::make::{action, caution, choice, field};
use crate::state::disk::file_stem;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::entry::Entry;

/// Designs offered; the number of beakers of the one of a number, and what it is to show, are
/// typed.
const DESIGNS: [Design; 5] = [
    Design::ExtremeVertices,
    Design::DOptimal(0, Order::Quadratic),
    Design::Star,
    Design::Lattice(2),
    Design::Centroid,
];
/// What a design of a number of beakers is to show.
const ORDERS: [(Order, &str); 3] = [
    (Order::Linear, "each line"),
    (Order::Quadratic, "lines in pairs too"),
    (Order::SpecialCubic, "lines in threes too"),
];
/// Quantities entered in the table.
const ENTERED: [Quantity; 3] = [Quantity::Ph, Quantity::Viscosity, Quantity::FoamHeight];

/// What was planned and from which state.
struct Planned {
    of: (DocumentId, u64),
    varied: Varied,
    checked: Vec<CheckedTrial>,
    mass: String,
}

/// What the page keeps between frames.
pub struct SetPage {
    ranges: BTreeMap<ItemId, (String, String)>,
    /// Lines that take the rest together; the filler if none is chosen.
    rest: BTreeSet<ItemId>,
    design: usize,
    order: usize,
    runs: String,
    repeats: String,
    seed: String,
    mass: String,
    planned: Option<Planned>,
    problem: Option<String>,
    how: How,
}

/// How the readings of the table are made: viscosities of another way are another quantity.
#[derive(Default)]
struct How {
    instrument: String,
    celsius: String,
    hours: String,
}

impl How {
    /// The fields of a reading that are the same for all of the table.
    fn fields(&self) -> BTreeMap<ReadingField, String> {
        [
            (ReadingField::Instrument, &self.instrument),
            (ReadingField::Celsius, &self.celsius),
            (ReadingField::Hours, &self.hours),
        ]
        .into_iter()
        .filter(|(_, text)| !text.trim().is_empty())
        .map(|(field, text)| (field, text.trim().to_owned()))
        .collect()
    }
}

impl Default for SetPage {
    fn default() -> Self {
        Self {
            ranges: BTreeMap::new(),
            rest: BTreeSet::new(),
            design: 0,
            order: 1,
            runs: "10".to_owned(),
            repeats: "2".to_owned(),
            seed: "1".to_owned(),
            mass: "100 g".to_owned(),
            planned: None,
            problem: None,
            how: How::default(),
        }
    }
}

/// Draws the page.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut SetPage, by: &str, commands: &mut Vec<Command>) {
    let trials = view.state.trials(view.document.id);
    lines(ui, view, page);
    design(ui, view, page);
    if let Some(problem) = &page.problem {
        caution(ui, Level::Caution, problem.as_str());
    }
    planned(ui, view, page, trials.book(), by, commands);
    entered(ui, trials.book(), &mut page.how, by, commands);
}

/// Width of the two ends of a range.
const RANGE: f32 = 144.0;

/// The lines and the ranges they move in.
fn lines(ui: &mut Ui, view: &View<'_>, page: &mut SetPage) {
    ui.label(theme::strong("Which lines vary"));
    ui.label(theme::small(
        ui,
        "One to six. Tick a line and state its least and greatest percentage. The filler takes the rest, or lines of your choice together, in proportion to what they have now.",
    ));
    Grid::new("set lines")
        .num_columns(4)
        .spacing([theme::GAP, 4.0])
        .show(ui, |ui| {
            // Stands there before a line is ticked, so that no row moves under the hand.
            ui.label("");
            ui.label("");
            ui.label(theme::small(ui, "least and greatest, %"));
            ui.label("");
            ui.end_row();
            for (_, line) in view.variant.lines() {
                let name = view
                    .formula
                    .material(&line.material)
                    .map_or("line", |m| m.name.as_ref());
                let mut chosen = page.ranges.contains_key(&line.id);
                let takes_rest = page.rest.contains(&line.id)
                    || (page.rest.is_empty() && view.variant.filler == Some(line.id));
                ui.push_id(line.id.0, |ui| {
                    ui.add_enabled_ui(!takes_rest, |ui| {
                        if ui.checkbox(&mut chosen, name).changed() {
                            if chosen {
                                let half = Percent::from_units(line.percent.units() / 2);
                                let more = line.percent + half;
                                let range = (half.to_string(), more.to_string());
                                page.ranges.insert(line.id, range);
                            } else {
                                page.ranges.remove(&line.id);
                            }
                        }
                    });
                });
                ui.label(theme::small(ui, format!("now {} %", line.percent)));
                if let Some((low, high)) = page.ranges.get_mut(&line.id) {
                    ui.horizontal(|ui| {
                        ui.set_min_width(RANGE);
                        for (text, what) in [(low, "least"), (high, "greatest")] {
                            let id = Id::unique(("set range", line.id.0, what));
                            let field = Entry::new(id, text, format!("{name}, {what} percentage"))
                                .width(64.0)
                                .right()
                                .show(ui);
                            if let Some(done) = field.done {
                                *text = done;
                            }
                        }
                    });
                    ui.label("");
                } else {
                    ui.allocate_space(vec2(RANGE, theme::FIELD));
                    let mut takes = takes_rest;
                    let words = format!("{name} takes the rest");
                    ui.push_id(("rest", line.id.0), |ui| {
                        let small = theme::small(ui, "takes the rest");
                        if ui
                            .checkbox(&mut takes, small)
                            .accessible_name(words)
                            .changed()
                        {
                            if takes {
                                // The filler stays among them until it is taken out.
                                page.rest
                                    .extend(view.variant.filler.filter(|_| page.rest.is_empty()));
                                page.rest.insert(line.id);
                            } else {
                                page.rest.remove(&line.id);
                            }
                        }
                    });
                }
                ui.end_row();
            }
        });
    page.ranges.retain(|id, _| view.variant.line(*id).is_some());
    page.rest.retain(|id| view.variant.line(*id).is_some());
}

fn design(ui: &mut Ui, view: &View<'_>, page: &mut SetPage) {
    ui.add_space(theme::TIGHT);
    let mut go = false;
    ui.horizontal_wrapped(|ui| {
        let all: Vec<usize> = (0..DESIGNS.len()).collect();
        choice(
            ui,
            "Which mixtures",
            &mut page.design,
            &all,
            |i| DESIGNS.get(i).map_or("", |d| d.label()).to_owned(),
            210.0,
        );
        if matches!(DESIGNS.get(page.design), Some(Design::DOptimal(..))) {
            field(ui, "Beakers", &mut page.runs, 50.0);
            let orders: Vec<usize> = (0..ORDERS.len()).collect();
            choice(
                ui,
                "What it is to show",
                &mut page.order,
                &orders,
                |i| ORDERS.get(i).map_or("", |o| o.1).to_owned(),
                160.0,
            );
        }
        field(ui, "Made twice", &mut page.repeats, 50.0)
            .on_hover_text("How many mixtures are made a second time, to see the scatter");
        field(ui, "Mass of a beaker, g", &mut page.mass, 80.0);
        field(ui, "Order drawn from", &mut page.seed, 60.0)
            .on_hover_text("The same number gives the same random order");
        go = action(ui, "Plan the set").clicked();
    });
    if let Some(design) = DESIGNS.get(page.design) {
        ui.label(theme::small(ui, design.explanation()));
    }
    if go {
        match make(view, page) {
            Ok(planned) => {
                page.problem = None;
                page.planned = Some(planned);
            }
            Err(problem) => page.problem = Some(problem),
        }
    }
}

fn count(text: &str, what: &str) -> Result<usize, String> {
    typed::count(text, "a whole number", 1000)
        .map(|n| n as usize)
        .map_err(|why| format!("{what}: {why}"))
}

fn make(view: &View<'_>, page: &SetPage) -> Result<Planned, String> {
    let factors: Vec<Factor> = page
        .ranges
        .iter()
        .map(|(line, (low, high))| {
            Ok(Factor {
                line: *line,
                low: typed::percent(low).map_err(|e| e.to_string())?,
                high: typed::percent(high).map_err(|e| e.to_string())?,
            })
        })
        .collect::<Result<_, String>>()?;
    let design = match DESIGNS.get(page.design).copied() {
        Some(Design::DOptimal(..)) => {
            let order = ORDERS.get(page.order).map_or(Order::Quadratic, |o| o.0);
            Design::DOptimal(count(&page.runs, "Beakers")?, order)
        }
        Some(design) => design,
        None => Design::ExtremeVertices,
    };
    let repeats = count(&page.repeats, "Made twice")?;
    let seed = count(&page.seed, "Order drawn from")? as u64;
    read_mass(&page.mass, Some(MassUnit::Gram)).map_err(|e| format!("Mass of a beaker: {e}"))?;
    let varied = if page.rest.is_empty() {
        Varied::with_filler(view.variant, factors).map_err(|e| e.to_string())?
    } else {
        let rest = page.rest.iter().copied().collect();
        Varied { factors, rest }
    };
    let runs = plan(view.variant, &varied, design, repeats, seed).map_err(|e| e.to_string())?;
    Ok(Planned {
        of: (view.document.id, view.document.revision()),
        checked: check(
            view.formula,
            view.variant,
            &varied,
            &runs,
            view.state.context(),
        ),
        varied,
        mass: page.mass.clone(),
    })
}

fn planned(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut SetPage,
    book: &Book,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let Some(planned) = &page.planned else {
        return;
    };
    if planned.of != (view.document.id, view.document.revision()) {
        caution(
            ui,
            Level::Caution,
            "The formula has changed since; plan the set again",
        );
        return;
    }
    let Ok(mass) = read_mass(&planned.mass, Some(MassUnit::Gram)) else {
        return;
    };
    let breaches: usize = planned.checked.iter().map(|c| c.breaches.len()).sum();
    ui.label(theme::strong(format!("{} beakers", planned.checked.len())));
    if breaches > 0 {
        caution(
            ui,
            Level::Breach,
            "Some of them break a limit: look before you weigh",
        );
    }
    let mut done = false;
    ui.horizontal_wrapped(|ui| {
        let stem = file_stem(&format!("{} planned set", view.formula.name));
        let (variant, varied) = (view.variant, &planned.varied);
        if ui.button("Save weigh sheets as PDF…").clicked() {
            let runs: Vec<_> = planned.checked.iter().map(|c| c.run.clone()).collect();
            let paper = view.state.books.workshop().paper;
            let (formula, variant, varied) =
                (view.formula.clone(), variant.clone(), varied.clone());
            commands.push(Command::Make(Making::watched(
                "Save the weigh sheets",
                format!("{stem}.pdf"),
                move |waits| {
                    let on = Printing::watched(paper, waits);
                    set_pdf(&formula, &variant, &varied, &runs, mass, on)
                },
            )));
        }
        if ui.button("Save the table as CSV…").clicked() {
            let (formula, variant) = (view.formula.clone(), variant.clone());
            let (varied, checked) = (varied.clone(), planned.checked.clone());
            commands.push(Command::Make(Making::new(
                "Save the table of the set",
                format!("{stem}.csv"),
                move || {
                    set_csv(&formula, &variant, &varied, &checked, mass).map(String::into_bytes)
                },
            )));
        }
        if ui
            .button("Begin these trials")
            .on_hover_text("One trial for each beaker, to be read below")
            .clicked()
        {
            let set = book.next_set();
            let total = planned.checked.len();
            let events = planned
                .checked
                .iter()
                .map(|c| {
                    let made = formula_of(view.formula, variant, varied, &c.run);
                    let purpose = format!("Planned set {set}, beaker {} of {total}", c.run.order);
                    let mut opening = TrialOpening::of(&made, &purpose, view.state.today(), mass);
                    opening.set = Some(SetPlace {
                        set,
                        run: c.run.order,
                        mixture: c.run.mixture,
                    });
                    TrialEvent::Begin(Box::new(opening))
                })
                .collect();
            commands.push(Command::Note(events, by.trim().to_owned()));
            done = true;
        }
    });
    Grid::new("beakers")
        .num_columns(planned.varied.lines().count() + 3)
        .spacing([theme::GAP, 2.0])
        .striped(true)
        .show(ui, |ui| {
            let name_of = |id: ItemId| {
                let line = view.variant.line(id);
                line.and_then(|l| view.formula.material(&l.material))
                    .map_or_else(String::new, |m| m.name.to_string())
            };
            ui.label(theme::small(ui, "Order"));
            ui.label(theme::small(ui, "Mixture"));
            for id in planned.varied.lines() {
                ui.label(theme::small(ui, format!("{}, %", name_of(id))));
            }
            ui.label(theme::small(ui, "Breaches"));
            ui.end_row();
            for one in &planned.checked {
                ui.label(one.run.order.to_string());
                ui.label(one.run.mixture.to_string());
                for percent in &one.run.percents {
                    ui.label(percent.to_string());
                }
                ui.label(one.breaches.len().to_string())
                    .on_hover_text(one.breaches.join("\n"));
                ui.end_row();
            }
        });
    if done {
        page.planned = None;
    }
}

/// The newest set as one table, where readings are typed in.
fn entered(ui: &mut Ui, book: &Book, how: &mut How, by: &str, commands: &mut Vec<Command>) {
    let Some(set) = book.next_set().checked_sub(1).filter(|s| *s > 0) else {
        return;
    };
    let beakers: Vec<(&Trial, SetPlace)> = book
        .trials
        .iter()
        .filter_map(|t| Some((t, t.opening.set.filter(|s| s.set == set)?)))
        .collect();
    ui.add_space(theme::GAP);
    ui.label(theme::strong(format!("Readings of planned set {set}")));
    ui.horizontal_wrapped(|ui| {
        field(ui, "Sample temperature, °C", &mut how.celsius, 90.0)
            .on_hover_text("Of every reading typed below, for example 20 °C");
        field(ui, "Stood for, h", &mut how.hours, 80.0)
            .on_hover_text("Since it was made, for example 24 h; what was read before it had settled is not pooled with what was read later");
        field(ui, "Viscometer and settings", &mut how.instrument, 260.0)
            .on_hover_text("How the viscosity is read; figures of another way are not pooled");
    });
    ui.add_space(theme::TIGHT);
    Grid::new("entered")
        .num_columns(3 + ENTERED.len())
        .spacing([theme::GAP, 2.0])
        .striped(true)
        .show(ui, |ui| {
            for head in ["Trial", "Beaker", "Mixture"] {
                ui.label(theme::small(ui, head));
            }
            for quantity in ENTERED {
                let unit = quantity.unit();
                let gap = if unit.is_empty() { "" } else { ", " };
                let head = format!("{}{gap}{unit}", quantity.label());
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for (trial, place) in beakers {
                ui.label(trial.number.to_string());
                ui.label(place.run.to_string());
                ui.label(place.mixture.to_string());
                for quantity in ENTERED {
                    cell(ui, book, trial, quantity, (how, by), commands);
                }
                ui.end_row();
            }
        });
}

fn cell(
    ui: &mut Ui,
    book: &Book,
    trial: &Trial,
    quantity: Quantity,
    (how, by): (&How, &str),
    commands: &mut Vec<Command>,
) {
    let kept = book
        .readings_of(quantity)
        .filter(|(t, k)| t.number == trial.number && k.step == 0)
        .last();
    if let Some((_, kept)) = kept {
        ui.label(value_words(&kept.reading));
        return;
    }
    let field = Entry::new(
        Id::unique(("entered", trial.number, quantity.key())),
        "",
        format!("{} of trial {}", quantity.label(), trial.number),
    )
    .width(90.0)
    .right()
    .show(ui);
    let Some(text) = field.done.filter(|t| !t.trim().is_empty()) else {
        return;
    };
    let mut fields = how.fields();
    if quantity != Quantity::Viscosity {
        fields.remove(&ReadingField::Instrument);
    }
    let draft = ReadingDraft {
        values: ReadingDraft::split(&text),
        fields,
        ..ReadingDraft::of(quantity)
    };
    match draft.reading() {
        Ok(reading) => note(
            commands,
            by,
            TrialEvent::Read {
                trial: trial.number,
                step: 0,
                reading,
            },
        ),
        Err(error) => commands.push(Command::ShowMessage(
            Level::Caution,
            format!("Trial {}, {}: {error}", trial.number, quantity.label()),
        )),
    }
}
