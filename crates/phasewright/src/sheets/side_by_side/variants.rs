//! The tree of variants with their earlier states, and a table of figures over all.

use std::sync::Arc;

use eframe::egui::{self, ComboBox, Id, ScrollArea, Ui};
use egui_plot::{Line, Plot, PlotPoint, Points, Text};
use formulation::compare::figures::{self, ComparedFigure, Readings};
use formulation::edit::{Edit, tried};
use formulation::formula::{Variant, VariantId};
use formulation::history;

use super::effect::remark;
use super::kept_figures::{Asked, KeptFigures};
use super::{Pick, SideBySideSheet, Which, branch};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::at_right::at_right;
use crate::widgets::choice::choices;
use crate::widgets::entry::Entry;
use crate::widgets::focus::region;
use crate::widgets::refusal::figure;
use crate::widgets::round_axes::round_axes;
use crate::widgets::side_panel::{At, SidePanel};

/// What the tree and the table keep between frames.
pub struct VariantsState {
    /// The tree at the side.
    panel: SidePanel,
    /// The variant whose earlier states are shown.
    chosen: Option<VariantId>,
    /// Keys of the figures in the table.
    columns: Vec<&'static str>,
    /// By which column the table is sorted, and whether it falls.
    sort: Option<(&'static str, bool)>,
    /// The figures of the plot.
    axes: (&'static str, &'static str),
    archived: bool,
    /// Two clicks are needed to prune.
    prune: bool,
}

impl Default for VariantsState {
    fn default() -> Self {
        Self {
            panel: SidePanel::default(),
            chosen: None,
            columns: vec![
                "active_total",
                "water",
                "ph",
                "water_activity",
                "density",
                "natural_origin",
                "breaches",
                "cautions",
            ],
            sort: None,
            axes: ("active_total", "water"),
            archived: false,
            prune: false,
        }
    }
}

/// Draws the tree on the left, table and plot on the right.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut SideBySideSheet, commands: &mut Vec<Command>) {
    let width = ui.available_width();
    let mut panel = std::mem::take(&mut sheet.variants.panel);
    panel.show(
        ui,
        (At::Left, "variant tree"),
        (width * 0.40).clamp(320.0, 480.0),
        egui::Rangef::new(280.0, (width - 420.0).max(300.0)),
        |ui| region(ui, "Tree of variants", |ui| tree(ui, view, sheet, commands)),
    );
    sheet.variants.panel = panel;
    let frame = egui::Frame::new().inner_margin(egui::Margin {
        left: 12,
        ..egui::Margin::ZERO
    });
    egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
        region(ui, "All variants", |ui| {
            table_and_plot(ui, view, &mut sheet.variants, &mut sheet.figures);
        });
    });
}

/// Variants with their depth below the oldest, parents before their branches.
fn in_tree_order(variants: &[Arc<Variant>]) -> Vec<(usize, &Arc<Variant>)> {
    fn add<'v>(
        variants: &'v [Arc<Variant>],
        parent: Option<VariantId>,
        depth: usize,
        out: &mut Vec<(usize, &'v Arc<Variant>)>,
    ) {
        for variant in variants {
            let known = variant
                .parent
                .filter(|p| *p != variant.id && variants.iter().any(|v| v.id == *p));
            if known == parent && out.iter().all(|(_, v)| v.id != variant.id) {
                out.push((depth, variant));
                add(variants, Some(variant.id), depth + 1, out);
            }
        }
    }
    let mut out = Vec::with_capacity(variants.len());
    add(variants, None, 0, &mut out);
    // Variants that are each other's parents hang below none.
    for variant in variants {
        if out.iter().all(|(_, v)| v.id != variant.id) {
            out.push((0, variant));
        }
    }
    out
}

fn tree(ui: &mut Ui, view: &View<'_>, sheet: &mut SideBySideSheet, commands: &mut Vec<Command>) {
    let chosen = sheet.variants.chosen.unwrap_or(view.variant.id);
    let chosen = view.formula.variant(chosen).unwrap_or(view.variant);
    ui.horizontal(|ui| {
        ui.label(theme::heading("Variants"));
        ui.checkbox(&mut sheet.variants.archived, "Also those no longer used");
    });
    ScrollArea::vertical()
        .id_salt("tree")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            for (depth, variant) in in_tree_order(&view.formula.variants) {
                let hidden = variant.archived
                    && !sheet.variants.archived
                    && variant.id != view.variant.id
                    && variant.id != chosen.id;
                if !hidden {
                    ui.push_id(variant.id.0, |ui| {
                        row(ui, view, sheet, depth, variant, chosen.id);
                    });
                }
            }
            ui.add_space(theme::GAP);
            details(ui, view, chosen, commands);
            ui.add_space(theme::GAP);
            earlier(ui, view, sheet, chosen, commands);
        });
}

fn row(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut SideBySideSheet,
    depth: usize,
    variant: &Arc<Variant>,
    chosen: VariantId,
) {
    ui.horizontal(|ui| {
        ui.add_space(18.0 * depth as f32);
        let mut words = if variant.id == view.variant.id {
            theme::strong(variant.name.to_string())
        } else {
            egui::RichText::new(variant.name.to_string())
        };
        if variant.archived {
            words = words.italics();
        }
        if ui.selectable_label(variant.id == chosen, words).clicked() {
            sheet.variants.chosen = Some(variant.id);
            sheet.variants.prune = false;
        }
        if let Some(created) = variant.created {
            ui.label(theme::small(ui, created.to_string()));
        }
        if variant.id == view.variant.id {
            ui.label(theme::small(ui, "worked on"));
        }
        if variant.archived {
            ui.label(theme::small(ui, "no longer used"));
        }
        at_right(ui, "sides", |ui| {
            let here = Some(Pick {
                document: view.document.id,
                which: Which::Variant(variant.id),
            });
            side_buttons(ui, sheet, here, &variant.name);
        });
    });
}

/// Buttons that put something on the right and on the left side.
fn side_buttons(ui: &mut Ui, sheet: &mut SideBySideSheet, here: Option<Pick>, name: &str) {
    for (label, right) in [("L", false), ("R", true)] {
        let pick = if right {
            &mut sheet.right
        } else {
            &mut sheet.left
        };
        let side = if right { "right" } else { "left" };
        let words = format!("Show {name} on the {side}");
        let button = ui
            .selectable_label(*pick == here, label)
            .on_hover_text(&words);
        button.widget_info(|| {
            egui::WidgetInfo::selected(egui::Role::Button, true, *pick == here, &words)
        });
        if button.clicked() {
            *pick = here;
        }
    }
}

fn details(ui: &mut Ui, view: &View<'_>, variant: &Arc<Variant>, commands: &mut Vec<Command>) {
    let edit = |edit| Command::EditIn {
        document: view.document.id,
        variant: variant.id,
        edit,
        draft: false,
    };
    let id = |what: &str| Id::unique((what, view.document.id, variant.id));
    ui.label(theme::small(ui, "Name"));
    let name = Entry::new(id("variant name"), &variant.name, "Variant name").width(f32::INFINITY);
    let step = view.state.settings.percent_step.percent();
    let rename = |name: &str| {
        let renamed = Edit::RenameVariant(name.trim().into());
        tried(view.formula, variant.id, renamed, step)
    };
    commands.extend(figure(ui, name, rename).read.map(edit));
    ui.label(theme::small(ui, "Note"));
    let note = Entry::new(id("variant note"), &variant.note, "Variant note")
        .width(f32::INFINITY)
        .lines(3)
        .show(ui);
    if let Some(done) = note.done {
        commands.push(edit(Edit::SetVariantNote(done.into())));
    }
    ui.add_space(theme::TIGHT);
    ui.horizontal_wrapped(|ui| {
        if ui
            .button("Make a copy")
            .on_hover_text("A copy to be changed; this one stays as it is")
            .clicked()
        {
            commands.push(edit(branch(view, variant)));
        }
        let other = variant.id != view.variant.id;
        if ui
            .add_enabled(other, egui::Button::new("Work on this"))
            .clicked()
        {
            commands.push(edit(Edit::MakeActive));
        }
        let (label, archived) = if variant.archived {
            ("Use again", false)
        } else {
            ("No longer used", true)
        };
        if ui
            .add_enabled(other || !archived, egui::Button::new(label))
            .on_hover_text(
                "A variant that is no longer used stays in the file; the list leaves it out",
            )
            .clicked()
        {
            commands.push(edit(Edit::SetArchived(archived)));
        }
    });
}

fn earlier(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut SideBySideSheet,
    variant: &Arc<Variant>,
    commands: &mut Vec<Command>,
) {
    let kept: Vec<_> = history::of_variant(view.formula, variant.id).collect();
    ui.label(theme::heading("Earlier states"));
    if kept.is_empty() {
        ui.label(theme::small(ui, "None yet; every finished change adds one"));
        return;
    }
    let edit = |edit| Command::EditIn {
        document: view.document.id,
        variant: variant.id,
        edit,
        draft: false,
    };
    let count = kept.len();
    let row = 24.0;
    ScrollArea::vertical()
        .id_salt(("earlier", variant.id.0))
        .max_height(260.0)
        .auto_shrink([false, true])
        .show_rows(ui, row, count, |ui, range| {
            for (place, kept) in kept.get(range).unwrap_or_default() {
                ui.push_id(*place, |ui| {
                    ui.horizontal(|ui| {
                        ui.set_min_height(row - 4.0);
                        let words = format!(
                            "{}  before “{}”",
                            view.state.host.short_time(&kept.at),
                            kept.what
                        );
                        let room = (ui.available_width() - 150.0).max(80.0);
                        ui.allocate_ui(egui::vec2(room, row - 4.0), |ui| {
                            ui.set_min_width(room);
                            ui.add(egui::Label::new(words).truncate());
                        });
                        let here = Some(Pick {
                            document: view.document.id,
                            which: Which::Earlier(*place),
                        });
                        let name = format!("the state of {}", view.state.host.short_time(&kept.at));
                        side_buttons(ui, sheet, here, &name);
                        if ui
                            .button("Go back")
                            .accessible_name(format!("Go back to {name}, before: {}", kept.what))
                            .on_hover_text("Bring this state back; the present one is kept")
                            .clicked()
                        {
                            commands.push(edit(Edit::Restore(*place)));
                        }
                    });
                });
            }
        });
    ui.add_space(theme::TIGHT);
    ui.horizontal(|ui| {
        let label = if sheet.variants.prune {
            "Really forget all but the latest 20"
        } else {
            "Forget all but the latest 20…"
        };
        let button = ui.add_enabled(count > 20, egui::Button::new(label));
        if button
            .on_hover_text("Makes the file smaller; undo brings them back until you close it")
            .clicked()
        {
            if sheet.variants.prune {
                commands.push(edit(Edit::PruneHistory { keep: 20 }));
            }
            sheet.variants.prune = !sheet.variants.prune;
        }
        ui.label(theme::small(ui, format!("{count} kept")));
    });
}

/// A variant and its figures.
struct Measured<'v> {
    variant: &'v Arc<Variant>,
    figures: Arc<Vec<ComparedFigure>>,
}

impl Measured<'_> {
    fn figure(&self, key: &str) -> Option<&ComparedFigure> {
        self.figures.iter().find(|f| f.key == key)
    }
}

fn table_and_plot(ui: &mut Ui, view: &View<'_>, state: &mut VariantsState, kept: &mut KeptFigures) {
    let trials = view.state.taught(view.document.id);
    let listed = figures::listed(trials.map(|(book, _)| book));
    let readings = Readings {
        trials,
        listed: &listed,
    };
    let mut rows: Vec<Measured<'_>> = view
        .formula
        .variants
        .iter()
        .filter(|v| state.archived || !v.archived)
        .map(|variant| {
            let evaluation = view.state.evaluation(view.document, variant.id);
            Measured {
                variant,
                figures: kept.of(&Asked {
                    formula: view.formula,
                    variant,
                    evaluation: &evaluation,
                    stock: (view.state.books.stock(), view.state.books.revision()),
                    readings,
                    trials: view.state.trials(view.document.id).revision(),
                }),
            }
        })
        .collect();
    let known: Vec<(&'static str, &'static str)> = rows
        .first()
        .map(|r| r.figures.iter().map(|f| (f.key, f.label)).collect())
        .unwrap_or_default();
    ui.horizontal(|ui| {
        ui.label(theme::heading("All variants"));
        let name = "Figures shown…";
        choices(ui, name, name, &mut state.columns, &known);
    });
    if let Some((key, falling)) = state.sort {
        let value = |row: &Measured<'_>| {
            let figure = row.figure(key);
            figure.and_then(ComparedFigure::middle)
        };
        rows.sort_by(|a, b| match (value(a), value(b)) {
            (Some(a), Some(b)) if falling => b.total_cmp(&a),
            (Some(a), Some(b)) => a.total_cmp(&b),
            // What is not known comes last either way.
            (a, b) => b.is_some().cmp(&a.is_some()),
        });
    }
    let height = (ui.available_height() * 0.5).max(140.0);
    ScrollArea::both()
        .id_salt("all variants")
        .max_height(height)
        .auto_shrink([false, true])
        .show(ui, |ui| table(ui, &rows, state));
    ui.add_space(theme::TIGHT);
    plot(ui, &rows, &known, state);
}

/// The name of a figure with its unit.
fn caption(figure: &ComparedFigure) -> String {
    if figure.unit.is_empty() {
        figure.label.to_owned()
    } else {
        format!("{} ({})", figure.label, figure.unit)
    }
}

fn table(ui: &mut Ui, rows: &[Measured<'_>], state: &mut VariantsState) {
    let columns: Vec<&ComparedFigure> = rows
        .first()
        .map(|row| state.columns.iter().filter_map(|key| row.figure(key)))
        .into_iter()
        .flatten()
        .collect();
    egui::Grid::new("variants")
        .striped(true)
        .spacing([18.0, 4.0])
        .show(ui, |ui| {
            ui.label(theme::small(ui, "Variant"));
            let mut widths = Vec::with_capacity(columns.len());
            for figure in &columns {
                widths.push(heading(ui, figure, rows, &mut state.sort));
            }
            ui.end_row();
            for row in rows {
                ui.label(row.variant.name.to_string());
                for (column, width) in columns.iter().zip(&widths) {
                    let Some(figure) = row.figure(column.key) else {
                        continue;
                    };
                    theme::right_aligned(ui, *width, |ui| {
                        ui.label(figure.number()).on_hover_text(remark(figure));
                    });
                }
                ui.end_row();
            }
        });
}

/// The head of a column, which sorts by it; how wide the column has to be.
fn heading(
    ui: &mut Ui,
    figure: &ComparedFigure,
    rows: &[Measured<'_>],
    sort: &mut Option<(&'static str, bool)>,
) -> f32 {
    let falling = sort.filter(|(key, _)| *key == figure.key).map(|(_, f)| f);
    let mark = match falling {
        Some(true) => " ↓",
        Some(false) => " ↑",
        None => "",
    };
    let wide = |text: egui::RichText| {
        let extend = Some(egui::TextWrapMode::Extend);
        let text = egui::WidgetText::from(text);
        let galley = text.into_galley(ui, extend, f32::INFINITY, egui::TextStyle::Body);
        galley.size().x
    };
    let words = theme::small(ui, format!("{}{mark}", caption(figure)));
    // Room for the mark, so that sorting moves nothing.
    let head = wide(theme::small(ui, format!("{} ↓", caption(figure))));
    let numbers = rows.iter().filter_map(|row| row.figure(figure.key));
    let width = numbers.fold(head, |width, f| width.max(wide(f.number().into())));
    theme::right_aligned(ui, width, |ui| {
        let button = ui
            .add(egui::Button::new(words).frame(false))
            .on_hover_text("Sort by this");
        button.widget_info(|| {
            let name = format!("Sort by {}", figure.label);
            egui::WidgetInfo::labeled(egui::Role::Button, true, name)
        });
        if button.clicked() {
            *sort = match falling {
                None => Some((figure.key, false)),
                Some(false) => Some((figure.key, true)),
                Some(true) => None,
            };
        }
    });
    width
}

/// Where a variant stands in the plot.
struct Spot {
    /// Its name, or the names of all that stand there.
    name: String,
    at: [f64; 2],
    /// Whether both figures have a value, not only a range.
    valued: bool,
    spreads: [(f64, f64); 2],
}

/// Places of the variants by two figures; those that stand in one place share it.
fn spots(rows: &[Measured<'_>], axes: [&str; 2]) -> Vec<Spot> {
    let mut out: Vec<Spot> = Vec::with_capacity(rows.len());
    for row in rows {
        let [Some(x), Some(y)] = axes.map(|key| row.figure(key)) else {
            continue;
        };
        let ([Some(across), Some(up)], [Some(left), Some(height)]) = (
            [x, y].map(ComparedFigure::spread),
            [x, y].map(ComparedFigure::middle),
        ) else {
            continue;
        };
        let spot = Spot {
            name: row.variant.name.to_string(),
            at: [left, height],
            valued: x.value.is_some() && y.value.is_some(),
            spreads: [across, up],
        };
        match out
            .iter_mut()
            .find(|s| s.at == spot.at && s.spreads == spot.spreads)
        {
            Some(same) => {
                same.name.push_str(", ");
                same.name.push_str(&spot.name);
            }
            None => out.push(spot),
        }
    }
    out
}

fn plot(
    ui: &mut Ui,
    rows: &[Measured<'_>],
    known: &[(&'static str, &'static str)],
    state: &mut VariantsState,
) {
    ui.horizontal(|ui| {
        ui.label("Plot");
        axis(ui, "Across", &mut state.axes.0, known);
        ui.label("against");
        axis(ui, "Upwards", &mut state.axes.1, known);
    });
    let axes = [state.axes.0, state.axes.1];
    let placed = |row: &&Measured<'_>| {
        let known = |key: &&str| row.figure(key).is_some_and(|f| f.spread().is_some());
        axes.iter().all(known)
    };
    let missing = rows.len() - rows.iter().filter(placed).count();
    let mut words = "Dots are values, bars reach from the lowest to the highest".to_owned();
    if missing > 0 {
        words = format!(
            "{words}; of {} variants {missing} cannot be shown, because a figure is unknown",
            rows.len()
        );
    }
    ui.label(theme::small(ui, words));
    let spots = spots(rows, axes);
    let p = theme::palette(ui);
    let name = |key: &str| {
        let figure = rows.first().and_then(|row| row.figure(key));
        figure.map(caption).unwrap_or_default()
    };
    // Names stand on the side where there is room for them.
    let ends = spots.iter().map(|s| s.at[0]);
    let (low, high) = ends.fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)));
    round_axes(Plot::new("variants plot"))
        .height(ui.available_height().max(120.0))
        .grid_color(p.rule)
        .x_axis_label(name(axes[0]))
        .y_axis_label(name(axes[1]))
        .y_axis_min_width(36.0)
        .set_margin_fraction(egui::vec2(0.15, 0.18))
        .allow_scroll(false)
        .show(ui, |plot| {
            for spot in spots {
                let [x, y] = spot.at;
                let [across, up] = spot.spreads;
                for (from, to) in [([across.0, y], [across.1, y]), ([x, up.0], [x, up.1])] {
                    if from != to {
                        let bar = Line::new(spot.name.clone(), vec![from, to]);
                        plot.line(bar.width(2.0).color(p.accent.gamma_multiply(0.55)));
                    }
                }
                if spot.valued {
                    let point = Points::new(spot.name.clone(), vec![spot.at]);
                    plot.points(point.radius(5.0).color(p.accent));
                }
                let anchor = if high > low && x > f64::midpoint(low, high) {
                    egui::Align2::RIGHT_BOTTOM
                } else {
                    egui::Align2::LEFT_BOTTOM
                };
                let words = egui::RichText::new(spot.name.clone()).color(p.ink);
                plot.text(Text::new(spot.name, PlotPoint::new(x, y), words).anchor(anchor));
            }
        });
}

fn axis(ui: &mut Ui, name: &str, key: &mut &'static str, known: &[(&'static str, &'static str)]) {
    let label = |key: &str| known.iter().find(|(k, _)| *k == key).map_or("", |(_, l)| l);
    let response = ComboBox::from_id_salt(name)
        .width(150.0)
        .truncate()
        .selected_text(label(key))
        .show_ui(ui, |ui| {
            for (k, label) in known {
                ui.selectable_value(key, k, *label);
            }
        })
        .response;
    let shown = label(key).to_owned();
    response.widget_info(|| {
        let mut info = egui::WidgetInfo::labeled(egui::Role::ComboBox, true, name);
        info.current_text_value = Some(shown.clone());
        info
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use formulation::formula::Formula;

    #[test]
    fn parents_come_before_their_branches_and_rings_are_shown() {
        let first = Formula::new("x").variants[0].clone();
        let variant = |id: u64, parent: Option<u64>| {
            let mut v = Variant::clone(&first);
            v.id = VariantId(id);
            v.parent = parent.map(VariantId);
            Arc::new(v)
        };
        let all = [
            variant(1, None),
            variant(4, Some(9)),
            variant(2, Some(1)),
            variant(3, Some(2)),
            variant(5, Some(1)),
            variant(7, Some(8)),
            variant(8, Some(7)),
        ];
        let order: Vec<(usize, u64)> = in_tree_order(&all)
            .iter()
            .map(|(d, v)| (*d, v.id.0))
            .collect();
        assert_eq!(
            order,
            [(0, 1), (1, 2), (2, 3), (1, 5), (0, 4), (0, 7), (0, 8)]
        );
    }

    #[test]
    fn a_range_is_a_bar_and_one_place_is_shared() {
        let variant = |name: &str| {
            let mut v = Variant::clone(&Formula::new("x").variants[0]);
            v.name = name.into();
            Arc::new(v)
        };
        let figure = |key, value, range| ComparedFigure {
            key,
            label: key,
            unit: "".into(),
            digits: 1,
            value,
            range,
            ground: figures::Certainty::Estimated,
            remark: String::new(),
        };
        let variants = ["a", "b", "c", "d"].map(variant);
        let rows: Vec<Measured<'_>> = variants
            .iter()
            .zip([
                (Some(5.0), Some((4.0, 7.0))),
                (None, Some((4.0, 7.0))),
                (None, Some((4.0, 7.0))),
                (None, None),
            ])
            .map(|(variant, (value, range))| Measured {
                variant,
                figures: Arc::new(vec![
                    figure("x", Some(1.0), None),
                    figure("y", value, range),
                ]),
            })
            .collect();
        let found: Vec<_> = spots(&rows, ["x", "y"])
            .into_iter()
            .map(|s| (s.name, s.at, s.valued, s.spreads[1]))
            .collect();
        assert_eq!(
            found,
            [
                ("a".to_owned(), [1.0, 5.0], true, (4.0, 7.0)),
                ("b, c".to_owned(), [1.0, 5.5], false, (4.0, 7.0)),
            ]
        );
    }
}
