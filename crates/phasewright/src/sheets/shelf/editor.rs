//! The form of a material: every field explained and checked as it is typed, and
//! what the change would do to saved formulas before it is made.

use std::sync::Arc;

use eframe::egui::{self, ComboBox, Grid, Key, ScrollArea, TextEdit, Ui};
use formulation::amount::Measure;
use formulation::evaluation::Context;
use formulation::finding::Level;
use formulation::impact::impacts;
use formulation::inventory::inventory;
use formulation::material::{
    Basis, Charge, Class, Coverage, Hazard, Material, MaterialValue, PhaseKind, Role, Source,
    WettingMedium,
};
use formulation::material_draft::{
    AlkalinityDraft, CheckedDraft, ConstituentDraft, DraftField, MaterialDraft, PreservationDraft,
    TypedFigures, UseDraft,
};
use formulation::own_shelf::ShelfEdit;
use formulation::progress::Progress;

use super::usage::{Saved, SavedFormulas, using};
use super::{Ask, capital};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::choice::{choice, choices};
use crate::widgets::level_mark::level_mark;
use crate::widgets::read_out::read_out;
use crate::widgets::work_bar::work_bar;
use crate::work::Work;

/// Bases in the order of display.
const BASES: [Basis; 6] = [
    Basis::Measured,
    Basis::Supplier,
    Basis::Published,
    Basis::Typical,
    Basis::Practice,
    Basis::Estimate,
];
/// Suggestions shown while a name is typed.
const MOST_SUGGESTIONS: usize = 6;

/// What is said where the material is no longer on the shelf.
const TAKEN_OFF: &str =
    "This material was taken off the shelf elsewhere meanwhile; what stands here is kept";
/// What is said where the material is on the shelf again.
const PUT_BACK: &str = "This material was put back on the shelf elsewhere meanwhile; putting it there from here takes the place of that";

/// A form that is open.
pub struct Editor {
    draft: MaterialDraft,
    inventory: String,
    /// What a draft would change in formulas that use the material.
    impact: Work<MaterialDraft, Vec<String>>,
    /// The draft for which that was asked.
    asked: Option<MaterialDraft>,
    /// The first field of an empty form had the cursor.
    begun: bool,
    /// The draft as it was drawn first.
    drawn: Option<MaterialDraft>,
    /// The material on the shelf that the fields were put in or followed last.
    on_shelf: Option<Arc<Material>>,
    /// What is said where the shelf has gone on since the form was opened.
    followed: Option<String>,
}

impl Editor {
    /// A form with a draft.
    pub fn new(draft: MaterialDraft) -> Self {
        Self {
            draft,
            inventory: String::new(),
            impact: Work::default(),
            asked: None,
            begun: false,
            drawn: None,
            on_shelf: None,
            followed: None,
        }
    }

    /// Draws the form.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        view: &View<'_>,
        formulas: &SavedFormulas,
        asked: &mut Vec<Ask>,
        commands: &mut Vec<Command>,
    ) {
        let shelf = view.state.shelf();
        let on_shelf = self.draft.of.as_ref().and_then(|id| shelf.get(id));
        self.follow(on_shelf.cloned());
        let mut checked = self.draft.check(|id| shelf.get(id).is_some());
        let untouched = self.drawn.as_ref().is_none_or(|d| *d == self.draft);
        if untouched && self.draft.name.is_empty() {
            // Nothing is wrong before anything is typed.
            checked.faults.clear();
        }
        ui.label(theme::heading(if self.draft.of.is_some() {
            "Edit the material"
        } else {
            "Add a material"
        }));
        if let Some(words) = &self.followed {
            let told = ui.horizontal_top(|ui| {
                level_mark(ui, Level::Caution);
                ui.add(egui::Label::new(words).wrap())
            });
            read_out(&told.inner);
        }
        self.buttons(ui, view, &checked, formulas, asked, commands);
        ScrollArea::vertical()
            .id_salt("material form")
            .auto_shrink(false)
            .show(ui, |ui| {
                ui.set_width(ui.available_width() - 12.0);
                self.names(ui, &checked);
                self.constituents(ui, &checked);
                self.uses(ui, &checked);
                self.figures(ui, &checked);
                self.behaviour(ui, &checked);
                self.fragrance(ui, &checked);
                self.source(ui, &checked);
            });
        let draft = &self.draft;
        self.drawn.get_or_insert_with(|| draft.clone());
    }

    /// Follows what became of the material elsewhere while its form was open. What is typed here
    /// is never lost, and never undoes what was saved there unsaid.
    fn follow(&mut self, now: Option<Arc<Material>>) {
        let before = std::mem::replace(&mut self.on_shelf, now);
        if self.drawn.is_none() || before == self.on_shelf {
            return;
        }
        let (was, now) = match (before, &self.on_shelf) {
            (Some(was), Some(now)) => (was, now),
            (_, None) => {
                self.followed = Some(TAKEN_OFF.to_owned());
                return;
            }
            (None, Some(_)) => {
                self.followed = Some(PUT_BACK.to_owned());
                return;
            }
        };
        let there = MaterialDraft::of(now);
        let both = self.draft.follow(&MaterialDraft::of(&was), &there);
        self.drawn = Some(there);
        self.followed = Some(if both.is_empty() {
            "This material was changed elsewhere meanwhile; what was changed there stands here too"
                .to_owned()
        } else {
            format!(
                "This material was changed elsewhere too: {}. Putting it on the shelf puts what you typed in its place",
                both.join(", ")
            )
        });
    }

    fn buttons(
        &mut self,
        ui: &mut Ui,
        view: &View<'_>,
        checked: &CheckedDraft,
        formulas: &SavedFormulas,
        asked: &mut Vec<Ask>,
        commands: &mut Vec<Command>,
    ) {
        let uses = checked
            .material
            .as_ref()
            .filter(|m| formulas.using(&m.id).next().is_some());
        self.find_impact(ui, view, uses, formulas);
        let must_tell = uses.is_some() && self.impact.answer().is_none();
        ui.horizontal_wrapped(|ui| {
            if must_tell {
                let going = self.impact.is_going();
                ui.add_enabled_ui(!going, |ui| {
                    if theme::main_button(ui, "What it would change…")
                        .on_hover_text(
                            "Saved formulas use this material; see first what they would say",
                        )
                        .clicked()
                    {
                        self.asked = Some(self.draft.clone());
                        self.impact.forget();
                        ui.request_repaint();
                    }
                });
            } else if ui
                .add_enabled(
                    checked.material.is_some(),
                    egui::Button::new("Put on the shelf"),
                )
                .clicked()
                && let Some(material) = &checked.material
            {
                commands.push(Command::EditShelf(vec![ShelfEdit::Put(material.clone())]));
                asked.push(Ask::Choose(material.id.clone()));
            }
            if ui.button("Cancel").clicked() {
                asked.push(Ask::StopEditing);
            }
            if !checked.faults.is_empty() {
                level_mark(ui, Level::Breach);
                ui.label(match checked.faults.len() {
                    1 => "1 field to put right".to_owned(),
                    n => format!("{n} fields to put right"),
                });
            }
        });
        work_bar(ui, &mut self.impact, "Evaluating the formulas that use it");
        for line in self.impact.answer().into_iter().flatten() {
            ui.add(egui::Label::new(theme::small(ui, line)).wrap());
        }
    }

    /// Works out what the draft that was asked for would change, as long as it stands.
    fn find_impact(
        &mut self,
        ui: &Ui,
        view: &View<'_>,
        material: Option<&Arc<Material>>,
        formulas: &SavedFormulas,
    ) {
        let asked = self.asked.take_if(|asked| *asked != self.draft);
        let (Some(material), Some(asked), None) = (material, &self.asked, asked) else {
            self.impact.forget();
            return;
        };
        self.impact.ask(ui, asked.clone(), || {
            let (formulas, material) = (Arc::clone(formulas.all()), Arc::clone(material));
            let context = view.state.context().clone();
            move |progress: &Progress| told(&formulas, &material, &context, progress)
        });
    }

    fn names(&mut self, ui: &mut Ui, checked: &CheckedDraft) {
        let draft = &mut self.draft;
        if draft.of.is_none() {
            ui.label(theme::small(ui, "Complete from the public inventory"))
                .on_hover_text(
                    "28,703 INCI names with CAS numbers and functions; a listed name is not thereby allowed",
                );
            let search = ui
                .add(
                    TextEdit::singleline(&mut self.inventory)
                        .hint_text("INCI name or CAS number; Enter takes the first")
                        .desired_width(f32::INFINITY)
                        .min_size(egui::vec2(0.0, theme::FIELD)),
                )
                .accessible_name("Complete from the public inventory");
            // The click that opened the form would take the cursor away again in its own frame.
            if !self.begun && !ui.input(|i| i.pointer.any_click()) {
                self.begun = true;
                search.request_focus();
            }
            let mut entered = search.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
            if !self.inventory.trim().is_empty() {
                let mut found = inventory().search(&self.inventory, MOST_SUGGESTIONS);
                if found.is_empty() {
                    found = inventory().nearest(&self.inventory, MOST_SUGGESTIONS);
                }
                for entry in found {
                    let cas = entry.cas.map(|c| format!(" ({c})")).unwrap_or_default();
                    let name = format!("{}{cas}", entry.label_name());
                    let taken = ui
                        .add(egui::Button::new(name).wrap())
                        .on_hover_text(entry.functions().collect::<Vec<_>>().join(", "))
                        .clicked();
                    if taken || std::mem::take(&mut entered) {
                        *draft = MaterialDraft::from_inventory(entry);
                        self.inventory.clear();
                        break;
                    }
                }
            }
        }
        text(ui, checked, DraftField::Name, &mut draft.name);
        text(ui, checked, DraftField::Synonyms, &mut draft.synonyms);
        text(ui, checked, DraftField::Supplier, &mut draft.supplier);
    }

    fn constituents(&mut self, ui: &mut Ui, checked: &CheckedDraft) {
        title(ui, DraftField::Constituents);
        let mut away = None;
        let mut complete = None;
        for (n, c) in self.draft.constituents.iter_mut().enumerate() {
            ui.push_id(("constituent", n), |ui| {
                egui::Frame::group(ui.style()).show(ui, |ui| {
                    ui.set_width(ui.available_width());
                    if constituent(ui, checked, n, c) {
                        away = Some(n);
                    }
                    // A name from the inventory brings its CAS number.
                    if c.cas.is_empty()
                        && let Some(entry) = inventory().by_name(&c.inci)
                        && (entry.cas.is_some() || c.class.is_none())
                        && ui
                            .small_button("Complete from the inventory")
                            .on_hover_text("Fill in the CAS number and what it is counted as")
                            .accessible_name(format!(
                                "Complete from the inventory: substance {}",
                                n + 1
                            ))
                            .clicked()
                    {
                        complete = Some((n, entry));
                    }
                });
            });
        }
        if let Some(n) = away {
            self.draft.constituents.remove(n);
        }
        if let Some((n, entry)) = complete {
            self.draft.complete(n, entry);
        }
        if ui.button("Add a substance").clicked() {
            self.draft.constituents.push(ConstituentDraft::default());
        }
        told_of(ui, checked, DraftField::Constituents);
        told_of(ui, checked, DraftField::Components);
        if checked.note(DraftField::Components).is_some()
            && ui
                .button("Count them as parts of the oil")
                .on_hover_text(DraftField::Components.explanation())
                .clicked()
        {
            self.draft.count_as_parts();
        }
    }

    fn uses(&mut self, ui: &mut Ui, checked: &CheckedDraft) {
        let draft = &mut self.draft;
        many(
            ui,
            "Roles",
            "What it does in a formula",
            &mut draft.roles,
            &Role::ALL.map(|r| (r, r.label())),
        );
        told_of(ui, checked, DraftField::Roles);
        Grid::new("choices").num_columns(2).show(ui, |ui| {
            ui.label(theme::small(ui, "Charge"))
                .on_hover_text("Charge class of its surface-active or polymeric matter");
            one_or_none(ui, "Charge", &mut draft.charge, &Charge::ALL, |c| {
                capital(c.label())
            });
            ui.end_row();
            ui.label(theme::small(ui, "Usual phase"))
                .on_hover_text("The kind of phase it usually goes into");
            one_or_none(ui, "Usual phase", &mut draft.phase, &PhaseKind::ALL, |k| {
                capital(k.label())
            });
            ui.end_row();
        });
        for (field, range) in [
            (DraftField::UseRinseOff, &mut draft.rinse_off),
            (DraftField::UseLeaveOn, &mut draft.leave_on),
        ] {
            use_range(ui, checked, field, range, &mut draft.sources);
        }
    }

    fn figures(&mut self, ui: &mut Ui, checked: &CheckedDraft) {
        let d = &mut self.draft;
        for (value, counted) in MaterialValue::counted() {
            let field = DraftField::Value(value);
            let TypedFigures { low, high } = &mut d.values[value];
            if counted.has_two_ends() {
                pair(ui, checked, field, low, high);
            } else {
                text(ui, checked, field, low);
            }
            own_source(ui, field, !low.is_empty(), &mut d.sources);
        }
    }

    fn behaviour(&mut self, ui: &mut Ui, checked: &CheckedDraft) {
        let d = &mut self.draft;
        many(
            ui,
            "Hazards",
            "What to mind in handling",
            &mut d.hazards,
            &Hazard::ALL.map(|h| (h, h.label())),
        );
        many(
            ui,
            "Wetted with",
            "A gum or powder that must be wetted with one of these before water goes in",
            &mut d.wet_with,
            &WettingMedium::ALL.map(|m| (m, m.label())),
        );
        let field = DraftField::Value(MaterialValue::Preservation);
        title(ui, field);
        let mut preserves = d.preservation.is_some();
        if ui
            .checkbox(&mut preserves, "It is a preservative")
            .changed()
        {
            d.preservation = preserves.then(PreservationDraft::default);
            // What is typed next has another ground.
            d.sources.remove(&field);
        }
        if let Some(p) = &mut d.preservation {
            preservation(ui, p);
        }
        own_source(ui, field, d.preservation.is_some(), &mut d.sources);
        told_of(ui, checked, field);
        let field = DraftField::Value(MaterialValue::Alkalinity);
        title(ui, field);
        alkalinity(ui, &mut d.alkalinity);
        if d.alkalinity == AlkalinityDraft::Neutral {
            d.sources.remove(&field);
        }
        let is_stated = d.alkalinity.is_stated() || d.sources.contains_key(&field);
        own_source(ui, field, is_stated, &mut d.sources);
        told_of(ui, checked, field);
    }

    fn fragrance(&mut self, ui: &mut Ui, checked: &CheckedDraft) {
        title(ui, DraftField::Fragrance(0));
        let mut away = None;
        for (n, (category, percent)) in self.draft.fragrance.iter_mut().enumerate() {
            ui.push_id(("fragrance", n), |ui| {
                ui.horizontal(|ui| {
                    ui.label(theme::small(ui, "Category"));
                    let nth = n + 1;
                    small_field(ui, category, &format!("Fragrance category {nth}"), 44.0);
                    ui.label(theme::small(ui, "at most"));
                    // By its category, once it has one.
                    let of = match category.trim() {
                        "" => nth.to_string(),
                        name => format!("of category {name}"),
                    };
                    small_field(ui, percent, &format!("Highest level {of}, %"), 64.0);
                    ui.label(theme::small(ui, "%"));
                    let button = ui.small_button("Take away");
                    let button =
                        button.accessible_name(format!("Take away fragrance category {nth}"));
                    if button.clicked() {
                        away = Some(n);
                    }
                });
                told_of(ui, checked, DraftField::Fragrance(n));
            });
        }
        if let Some(n) = away {
            self.draft.fragrance.remove(n);
        }
        if ui
            .button("Add a category")
            .on_hover_text("Allergens of the certificate are entered above, as substances the material contains")
            .clicked()
        {
            self.draft.fragrance.push(Default::default());
        }
    }

    fn source(&mut self, ui: &mut Ui, checked: &CheckedDraft) {
        let d = &mut self.draft;
        title(ui, DraftField::Source);
        let mut basis = d.basis.unwrap_or(Basis::Practice);
        basis_choice(ui, "How sure the values are", &mut basis);
        d.basis = Some(basis);
        small_field(ui, &mut d.source, "Source", f32::INFINITY);
        told_of(ui, checked, DraftField::Source);
        ui.label(theme::small(ui, "Note"));
        ui.add(
            TextEdit::multiline(&mut d.note)
                .desired_rows(3)
                .desired_width(f32::INFINITY),
        )
        .accessible_name("Note");
    }
}

/// What the material would change in saved formulas that take it over.
fn told(
    formulas: &[Saved],
    material: &Arc<Material>,
    context: &Context,
    progress: &Progress,
) -> Vec<String> {
    let mut lines = Vec::new();
    let using: Vec<&Saved> = using(formulas, &material.id).collect();
    progress.expect(using.len());
    for saved in using {
        if progress.is_stopped() {
            break;
        }
        progress.step();
        for impact in impacts(&saved.formula, material, context) {
            let name = format!("{}, {}", saved.name(), impact.variant);
            if impact.is_none() {
                lines.push(format!("{name}: nothing that is checked would change"));
                continue;
            }
            for finding in &impact.new {
                lines.push(format!(
                    "{name}: new {}: {}",
                    finding.level.label(),
                    finding.message
                ));
            }
            for finding in &impact.gone {
                lines.push(format!(
                    "{name}: no more {}: {}",
                    finding.level.label(),
                    finding.message
                ));
            }
            for shift in &impact.shifts {
                lines.push(format!(
                    "{name}: {} {} → {}",
                    shift.what,
                    Measure::SHARE.digits_of(shift.before.typical.as_percent()),
                    Measure::SHARE.shown(shift.after.typical.as_percent())
                ));
            }
        }
    }
    lines.push(
        "Formulas keep the state they carry until you take the new one over in them".to_owned(),
    );
    lines
}

fn title(ui: &mut Ui, field: DraftField) {
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(field.label()))
        .on_hover_text(field.explanation());
    ui.add(egui::Label::new(theme::small(ui, field.explanation())).wrap());
}

/// What is wrong with a field, or to be known about it.
fn told_of(ui: &mut Ui, checked: &CheckedDraft, field: DraftField) {
    let fault = checked.fault(field).map(|words| (Level::Breach, words));
    let note = checked.note(field).map(|words| (Level::Note, words));
    for (level, words) in fault.into_iter().chain(note) {
        ui.horizontal_top(|ui| {
            level_mark(ui, level);
            ui.add(egui::Label::new(words).wrap());
        });
    }
}

fn small_field(ui: &mut Ui, value: &mut String, name: &str, width: f32) -> egui::Response {
    ui.add(
        TextEdit::singleline(value)
            .desired_width(width)
            .min_size(egui::vec2(0.0, theme::FIELD))
            .margin(egui::Margin::symmetric(6, 3)),
    )
    .accessible_name(name)
}

fn text(ui: &mut Ui, checked: &CheckedDraft, field: DraftField, value: &mut String) {
    ui.label(theme::small(ui, field.label()))
        .on_hover_text(field.explanation());
    small_field(ui, value, field.label(), f32::INFINITY).on_hover_text(field.explanation());
    told_of(ui, checked, field);
}

fn pair(
    ui: &mut Ui,
    checked: &CheckedDraft,
    field: DraftField,
    low: &mut String,
    high: &mut String,
) {
    ui.label(theme::small(ui, field.label()))
        .on_hover_text(field.explanation());
    ui.horizontal(|ui| {
        small_field(ui, low, &format!("{}, lowest", field.label()), 72.0)
            .on_hover_text(field.explanation());
        ui.label(theme::small(ui, "to"));
        small_field(ui, high, &format!("{}, highest", field.label()), 72.0)
            .on_hover_text(field.explanation());
    });
    told_of(ui, checked, field);
}

fn use_range(
    ui: &mut Ui,
    checked: &CheckedDraft,
    field: DraftField,
    range: &mut UseDraft,
    sources: &mut std::collections::BTreeMap<DraftField, Source>,
) {
    pair(ui, checked, field, &mut range.low, &mut range.high);
    if !range.high.is_empty() {
        ui.push_id(field, |ui| {
            let words = "The supplier sets the highest as a maximum";
            ui.checkbox(&mut range.supplier_maximum, words)
                .accessible_name(format!("{words}: {}", field.label()));
        });
    }
    own_source(ui, field, !range.high.is_empty(), sources);
}

/// The source of a single value, where it differs from the material's.
fn own_source(
    ui: &mut Ui,
    field: DraftField,
    is_stated: bool,
    sources: &mut std::collections::BTreeMap<DraftField, Source>,
) {
    if !is_stated {
        return;
    }
    let mut own = sources.remove(&field);
    ui.push_id(("source", field), |ui| {
        source_fields(ui, field.label(), &mut own);
    });
    if let Some(own) = own {
        sources.insert(field, own);
    }
}

/// The fields of a source of its own; `of` says which value's.
fn source_fields(ui: &mut Ui, of: &str, own: &mut Option<Source>) {
    let Some(source) = own else {
        let begin = ui
            .small_button("Source as the material")
            .on_hover_text("Give this value a source of its own")
            .accessible_name(format!("Source as the material: {of}"));
        if begin.clicked() {
            *own = Some(Source::new(Basis::Supplier, ""));
        }
        return;
    };
    let mut basis = source.basis;
    let mut words = source.text.to_string();
    let mut away = false;
    ui.horizontal_wrapped(|ui| {
        basis_choice(ui, &format!("How sure: {of}"), &mut basis);
        small_field(ui, &mut words, &format!("Source of {of}"), 150.0);
        away = ui
            .small_button("As the material")
            .on_hover_text("Use the material's source for this value")
            .accessible_name(format!("As the material: {of}"))
            .clicked();
    });
    if away {
        *own = None;
    } else if basis != source.basis || words != *source.text {
        *source = Source::new(basis, words);
    }
}

fn basis_choice(ui: &mut Ui, name: &str, basis: &mut Basis) {
    choice(ui, name, basis, BASES, Basis::label, 180.0);
}

/// One row of the substances; whether it is to be taken away.
fn constituent(ui: &mut Ui, checked: &CheckedDraft, n: usize, c: &mut ConstituentDraft) -> bool {
    small_field(
        ui,
        &mut c.inci,
        &format!("INCI name {}", n + 1),
        f32::INFINITY,
    )
    .on_hover_text(DraftField::Inci(n).explanation());
    told_of(ui, checked, DraftField::Inci(n));
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::small(ui, "CAS"));
        small_field(ui, &mut c.cas, &format!("CAS number {}", n + 1), 96.0)
            .on_hover_text(DraftField::Cas(n).explanation());
    });
    told_of(ui, checked, DraftField::Cas(n));
    ui.horizontal(|ui| {
        ui.label(theme::small(ui, "Counted as"));
        one_or_none(
            ui,
            &format!("Counted as {}", n + 1),
            &mut c.class,
            &Class::ALL,
            |k| capital(k.label()),
        );
    });
    ui.horizontal_wrapped(|ui| {
        for (word, what, value) in [
            ("%", "Typical share", &mut c.typical),
            ("from", "Lowest share", &mut c.low),
            ("to", "Highest share", &mut c.high),
        ] {
            ui.label(theme::small(ui, word));
            small_field(ui, value, &format!("{what} {}", n + 1), 52.0)
                .on_hover_text(DraftField::Share(n).explanation());
        }
    });
    told_of(ui, checked, DraftField::Share(n));
    if !c.typical.is_empty() {
        ui.push_id("source", |ui| {
            source_fields(ui, &format!("substance {}", n + 1), &mut c.source);
        });
    }
    let mut away = false;
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::small(ui, "Not listed because"));
        small_field(
            ui,
            &mut c.incidental,
            &format!("Not listed because {}", n + 1),
            120.0,
        )
        .on_hover_text(
            "Leave empty if it belongs on the ingredient list. A processing residue does not, nor does a component of an essential oil or fragrance: write why, and count the component as fragrance",
        );
        away = ui
            .button("Take away")
            .accessible_name(format!("Take away substance {}", n + 1))
            .clicked();
    });
    away
}

/// A choice of one or none.
fn one_or_none<T: Copy + PartialEq>(
    ui: &mut Ui,
    name: &str,
    chosen: &mut Option<T>,
    all: &[T],
    label: impl Fn(&T) -> String,
) {
    let shown = chosen
        .as_ref()
        .map_or_else(|| "Not stated".to_owned(), &label);
    ComboBox::from_id_salt(name)
        .selected_text(shown)
        .width(150.0)
        .height(320.0)
        .show_ui(ui, |ui| {
            ui.selectable_value(chosen, None, "Not stated");
            for value in all {
                ui.selectable_value(chosen, Some(*value), label(value));
            }
        })
        .response
        .accessible_name(name);
}

/// A choice of several.
fn many<T: Copy + PartialEq>(
    ui: &mut Ui,
    name: &str,
    explanation: &str,
    chosen: &mut Vec<T>,
    all: &[(T, &str)],
) {
    let words: Vec<&str> = all
        .iter()
        .filter(|(value, _)| chosen.contains(value))
        .map(|(_, words)| *words)
        .collect();
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::small(ui, name)).on_hover_text(explanation);
        let shown = if words.is_empty() {
            "None".to_owned()
        } else {
            capital(&words.join(", "))
        };
        choices(ui, name, &shown, chosen, all).on_hover_text(explanation);
    });
}

fn preservation(ui: &mut Ui, p: &mut PreservationDraft) {
    Grid::new("preservation").num_columns(2).show(ui, |ui| {
        for (name, covers) in ["Bacteria", "Yeast", "Mould"]
            .into_iter()
            .zip(&mut p.covers)
        {
            ui.label(theme::small(ui, name));
            let word = |c: Coverage| capital(c.label());
            ComboBox::from_id_salt(name)
                .selected_text(word(*covers))
                .show_ui(ui, |ui| {
                    for one in Coverage::ALL {
                        ui.selectable_value(covers, one, word(one));
                    }
                })
                .response
                .accessible_name(name);
            ui.end_row();
        }
        for (name, low, high) in [
            ("Dose, %", &mut p.dose_low, &mut p.dose_high),
            ("Works at pH", &mut p.ph_low, &mut p.ph_high),
        ] {
            ui.label(theme::small(ui, name));
            ui.horizontal(|ui| {
                small_field(ui, low, &format!("{name}, lowest"), 60.0);
                ui.label(theme::small(ui, "to"));
                small_field(ui, high, &format!("{name}, highest"), 60.0);
            });
            ui.end_row();
        }
    });
    ui.checkbox(&mut p.donor, "It releases formaldehyde");
}

fn alkalinity(ui: &mut Ui, a: &mut AlkalinityDraft) {
    let word = |a: &AlkalinityDraft| match a {
        AlkalinityDraft::Neutral => "The substances listed tell all",
        AlkalinityDraft::Unknown { .. } => "It may bring acid or base not listed",
        AlkalinityDraft::Titrated { .. } => "Titrated",
    };
    ComboBox::from_id_salt("alkalinity")
        .selected_text(word(a))
        .width(240.0)
        .show_ui(ui, |ui| {
            for kind in [
                AlkalinityDraft::Neutral,
                AlkalinityDraft::default(),
                AlkalinityDraft::Titrated {
                    mmol_per_gram: String::new(),
                    to_ph: String::new(),
                },
            ] {
                let same = std::mem::discriminant(a) == std::mem::discriminant(&kind);
                if ui.selectable_label(same, word(&kind)).clicked() && !same {
                    *a = kind;
                }
            }
        })
        .response
        .accessible_name("Effect on pH");
    let fields: Vec<(&str, &mut String)> = match a {
        AlkalinityDraft::Neutral => Vec::new(),
        AlkalinityDraft::Unknown {
            ph_low,
            ph_high,
            base_low,
            base_high,
        } => vec![
            ("pH as sold, lowest", ph_low),
            ("pH as sold, highest", ph_high),
            (
                "Base not listed (acid if negative), least, mmol/g",
                base_low,
            ),
            ("Base not listed, most, mmol/g", base_high),
        ],
        AlkalinityDraft::Titrated {
            mmol_per_gram,
            to_ph,
        } => vec![
            (
                "Strong acid taken up (base if negative), mmol/g",
                mmol_per_gram,
            ),
            ("to pH", to_ph),
        ],
    };
    // The words are long: each stands above its field.
    for (name, value) in fields {
        ui.add(egui::Label::new(theme::small(ui, name)).wrap());
        small_field(ui, value, name, 72.0);
    }
}
