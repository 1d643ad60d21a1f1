//! The panels of water activity, density and fill, emulsion, electrolyte and natural
//! origin.

use eframe::egui::{self, Id, Ui};
use egui_plot::{HLine, Line, VLine};
use formulation::amount::{Measure, typed};
use formulation::chemistry::work_out::Derived;
use formulation::chemistry::{self, density, electrolyte, water_activity};
use formulation::edit::Edit;
use formulation::finding::Level;
use formulation::mass::{VolumeUnit, read_volume};
use formulation::material::Charge;
use formulation::quantity::{in_grams, in_millilitres, kg_per_m3, millilitres};

use super::parts;
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::level_mark::level_mark;

/// What the panels keep between frames.
pub(super) struct FiguresPanel {
    fill_ml: f64,
    drying: Option<(u64, u64, Vec<[f64; 2]>)>,
}

impl Default for FiguresPanel {
    fn default() -> Self {
        Self {
            fill_ml: 250.0,
            drying: None,
        }
    }
}

pub(super) fn water_activity(
    ui: &mut Ui,
    view: &View<'_>,
    derived: &Derived,
    panel: &mut FiguresPanel,
    commands: &mut Vec<Command>,
) {
    let figure = &view.evaluation.estimates.water_activity;
    parts::head(ui, figure, "Water activity", |v| {
        Measure::WATER_ACTIVITY.digits_of(v)
    });
    super::derived::table(ui, derived, &["freezing_point"], commands);
    ui.horizontal(|ui| {
        let shown = figure
            .measured
            .map_or_else(String::new, |v| Measure::WATER_ACTIVITY.digits_of(v));
        let id = parts::id(view, "measured a_w");
        let read =
            |text: &str| typed::optional(text, |text| typed::value(text, &Measure::WATER_ACTIVITY));
        if let Some(value) = parts::number(ui, id, ("Measured", &shown, "none"), read) {
            let mut all = view.variant.measured.clone();
            all.water_activity = value;
            commands.push(Command::Edit(Edit::SetMeasured(all)));
        }
    });
    let of = (view.document.revision(), view.variant.id.0);
    if panel
        .drying
        .as_ref()
        .is_none_or(|(revision, variant, _)| (*revision, *variant) != of)
    {
        let all = view.evaluation;
        let curve = chemistry::drying_curve(&all.mixture, &all.composition, 60);
        panel.drying = Some((of.0, of.1, curve));
    }
    if let Some((.., curve)) = panel.drying.as_ref().filter(|(.., c)| !c.is_empty()) {
        let p = theme::palette(ui);
        let curve = curve.clone();
        parts::plot(
            ui,
            "water activity while drying",
            "% of its water left",
            "a_w",
        )
        .include_x(0.0)
        .include_x(100.0)
        .include_y(1.0)
        .show(ui, |plot| {
            plot.line(Line::new("estimate", curve).color(p.accent).width(2.0));
            for limit in water_activity::GROWTH_LIMITS {
                plot.hline(
                    HLine::new(limit.group, limit.least)
                        .color(p.faint_ink)
                        .width(0.7),
                );
            }
        });
        ui.label(theme::small(
            ui,
            "Line: the mix as its water dries off. Level lines: the growth limits below.",
        ));
    }
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("Least water activity for growth"));
    egui::Grid::new("growth limits")
        .num_columns(3)
        .show(ui, |ui| {
            for limit in water_activity::GROWTH_LIMITS {
                ui.label(limit.group);
                ui.label(format!("{:.2}", limit.least));
                ui.label(match figure.shown() {
                    Some(v) if v < limit.least => "below",
                    Some(_) => "above the limit",
                    None => "not known",
                });
                ui.end_row();
            }
        });
    ui.add(
        egui::Label::new(theme::small(
            ui,
            "Limits: United States Pharmacopeia, chapter 1112, and FDA, Inspection Technical Guide 39, from memory. An estimate; only a challenge test shows that a product is preserved.",
        ))
        .wrap(),
    );
    parts::foot(ui, figure);
}

pub(super) fn density(
    ui: &mut Ui,
    view: &View<'_>,
    panel: &mut FiguresPanel,
    commands: &mut Vec<Command>,
) {
    let figure = &view.evaluation.estimates.density;
    parts::head(ui, figure, "Density", |v| {
        typed::shown_density(kg_per_m3(v))
    });
    ui.horizontal(|ui| {
        let shown = figure
            .measured
            .map_or_else(String::new, |v| typed::density_field(kg_per_m3(v)));
        let id = parts::id(view, "measured density");
        let read = |text: &str| typed::optional(text, typed::density);
        if let Some(value) = parts::number(ui, id, ("Measured, g/ml", &shown, "none"), read) {
            let mut all = view.variant.measured.clone();
            all.density = value;
            commands.push(Command::Edit(Edit::SetMeasured(all)));
        }
    });
    if let Some(kg_m3) = figure.shown() {
        let rho = kg_per_m3(kg_m3);
        ui.add_space(theme::TIGHT);
        ui.label(theme::strong("Fill"));
        ui.horizontal(|ui| {
            let shown = panel.fill_ml.to_string();
            let read =
                |text: &str| read_volume(text, Some(VolumeUnit::Millilitre)).map(in_millilitres);
            let typed = parts::number(ui, Id::unique("fill"), ("Container, ml", &shown, ""), read);
            panel.fill_ml = typed.unwrap_or(panel.fill_ml);
            let mass = density::mass_of(millilitres(panel.fill_ml), rho);
            ui.label(theme::strong(format!("{:.1} g", in_grams(mass))));
        });
        if let Some(volume) = density::volume_of(view.variant.batch, rho) {
            ui.label(format!(
                "The batch of {:.0} g fills {:.0} ml",
                in_grams(view.variant.batch),
                in_millilitres(volume)
            ));
        }
        let p = theme::palette(ui);
        let most = (2.0 * panel.fill_ml).max(1.0);
        let line: Vec<[f64; 2]> = [0.0, most]
            .into_iter()
            .map(|ml| [ml, in_grams(density::mass_of(millilitres(ml), rho))])
            .collect();
        let at = panel.fill_ml;
        parts::plot(ui, "grams against millilitres", "ml", "g").show(ui, |plot| {
            plot.line(Line::new("fill", line).color(p.accent).width(2.0));
            plot.vline(VLine::new("container", at).color(p.faint_ink));
        });
    }
    parts::foot(ui, figure);
}

pub(super) fn hlb(ui: &mut Ui, view: &View<'_>) {
    let e = &view.evaluation.estimates.emulsion;
    if e.absent.is_none() {
        let required = format!("HLB required for {}", e.kind());
        parts::head(ui, &e.required, &required, |v| format!("{v:.1}"));
        parts::head(ui, &e.provided, "HLB provided", |v| format!("{v:.1}"));
    } else {
        ui.label(theme::heading("No emulsion, no HLB"));
    }
    ui.label(format!(
        "Oil {:.1} %, water {:.1} %, emulsifier {:.1} %",
        e.oil_percent, e.water_percent, e.emulsifier_percent
    ));
    let name = |line| {
        view.variant
            .line(line)
            .and_then(|l| view.formula.material(&l.material))
            .map_or("?", |m| &m.name)
            .to_owned()
    };
    if let Some(split) = &e.split {
        ui.add(
            egui::Label::new(format!(
                "To meet it: {:.1} % {} (HLB {:.1}) with {:.1} % {} (HLB {:.1}) of the two together",
                100.0 * split.low_share,
                name(split.low),
                split.low_hlb,
                100.0 * split.high_share,
                name(split.high),
                split.high_hlb
            ))
            .wrap(),
        );
        let p = theme::palette(ui);
        let (blends, required, at) = (
            split.blends().to_vec(),
            e.required.value,
            100.0 * split.high_share,
        );
        parts::plot(ui, "blend", "% of the higher one", "HLB").show(ui, |plot| {
            plot.line(Line::new("blend", blends).color(p.accent).width(2.0));
            if let Some(required) = required {
                plot.hline(HLine::new("required", required).color(p.faint_ink));
                plot.vline(VLine::new("split", at).color(p.faint_ink));
            }
        });
    } else if e.required.value.is_some() {
        ui.label("No two emulsifiers of known HLB lie on both sides of what is required");
    }
    for words in e.outside.iter().chain(&e.doubts) {
        ui.horizontal_top(|ui| {
            level_mark(ui, Level::Caution);
            ui.add(egui::Label::new(words).wrap());
        });
    }
    parts::unknown(ui, &e.provided.unknown);
    parts::foot(ui, &e.required);
}

pub(super) fn electrolyte(ui: &mut Ui, view: &View<'_>) {
    let e = &view.evaluation.estimates.electrolyte;
    parts::head(ui, &e.nacl_percent, "Salt", |v| {
        format!("{} as sodium chloride", Measure::PERCENT_ROUGH.shown(v))
    });
    ui.label(format!(
        "Of it {} comes in with other materials",
        Measure::PERCENT_ROUGH.shown(e.from_materials_percent)
    ));
    ui.label(format!(
        "Organic salts beside it: {} as sodium chloride",
        Measure::PERCENT_ROUGH.shown(e.organic_percent)
    ));
    ui.label(e.ionic_strength.map_or_else(
        || "Ionic strength not known".to_owned(),
        |i| format!("Ionic strength {i:.3} mol/kg, ions of surfactants left out"),
    ));
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("Active matter by charge"));
    let total: f64 = e.active_percent.iter().sum();
    egui::Grid::new("charges").num_columns(3).show(ui, |ui| {
        for (charge, percent) in Charge::ALL.iter().zip(e.active_percent) {
            ui.label(charge.label());
            ui.label(Measure::PERCENT_ROUGH.shown(percent));
            let share = if total > 0.0 {
                format!("{:.0} of 100", 100.0 * percent / total)
            } else {
                "–".to_owned()
            };
            ui.label(share);
            ui.end_row();
        }
    });
    ui.label(e.cationic_per_anionic.map_or_else(
        || "Cationic to anionic by moles: not applicable or not known".to_owned(),
        |r| format!("Cationic to anionic by moles: {r:.3}"),
    ));
    if !e.unknown_molar_mass.is_empty() {
        ui.label(theme::small(ui, "Molar mass not known"));
        parts::unknown(ui, &e.unknown_molar_mass);
    }
    ui.separator();
    parts::unknown(ui, &e.nacl_percent.unknown);
    parts::grounds(
        ui,
        electrolyte::METHOD,
        electrolyte::VALIDITY,
        electrolyte::SOURCE,
    );
}

pub(super) fn natural_origin(ui: &mut Ui, view: &View<'_>) {
    let e = &view.evaluation.estimates.natural_origin;
    let words = |v: f64| format!("{v:.3}");
    parts::head(ui, &e.with_water, "Index from 0 to 1, with water", words);
    parts::head(ui, &e.without_water, "Without water", words);
    ui.add_space(theme::TIGHT);
    egui::Grid::new("indices")
        .num_columns(3)
        .striped(true)
        .show(ui, |ui| {
            for name in ["Material", "% of the formula", "Index"] {
                ui.label(theme::small(ui, name));
            }
            ui.end_row();
            for (_, line) in view.variant.lines() {
                let Some(material) = view.formula.material(&line.material) else {
                    continue;
                };
                ui.label(material.name.to_string());
                ui.label(line.percent.to_string());
                match &material.natural_origin {
                    Some(index) if index.value.low < index.value.high => {
                        let range = format!("{} to {}", index.value.low, index.value.high);
                        ui.label(range).on_hover_text(index.source.to_string());
                    }
                    Some(index) => {
                        ui.label(index.value.low.to_string())
                            .on_hover_text(index.source.to_string());
                    }
                    None => {
                        ui.label("not known");
                    }
                }
                ui.end_row();
            }
        });
    parts::foot(ui, &e.with_water);
}
