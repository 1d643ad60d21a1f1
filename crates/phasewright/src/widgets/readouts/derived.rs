//! What follows from the estimates by arithmetic: the pH in air, the freezing point, alcohol,
//! soap. The model says what each figure is called, its unit, its digits and how it follows.

use std::sync::Arc;

use eframe::egui::{self, CollapsingHeader, Ui};
use formulation::amount::Measure;
use formulation::amount::measure::signed;
use formulation::chemistry::soap::{Making, Soap};
use formulation::chemistry::work_out::{Derived, DerivedFigure, derived as work_out};
use formulation::edit::{Edit, GiveWay};
use formulation::evaluation::Evaluation;
use formulation::finding::FindingValue;
use formulation::plain_words::sentence;
use formulation::rules::practice::FLAMMABLE;

use super::{Reading, parts};
use crate::command::Command;
use crate::state::View;
use crate::theme;

/// What follows, worked out once for each evaluation.
#[derive(Default)]
pub(super) struct Follows(Option<(Arc<Evaluation>, Derived)>);

impl Follows {
    /// What follows from the evaluation shown.
    pub(super) fn of(&mut self, view: &View<'_>) -> &Derived {
        let evaluation = view.evaluation;
        let known = self.0.take().filter(|(of, _)| Arc::ptr_eq(of, evaluation));
        let (_, derived) = self.0.insert(known.unwrap_or_else(|| {
            let derived = work_out(&evaluation.estimates, &evaluation.composition);
            (evaluation.clone(), derived)
        }));
        derived
    }
}

/// The value of a figure in words.
fn words(figure: &DerivedFigure) -> String {
    figure.value.map_or_else(
        || "not known".to_owned(),
        |value| {
            let (digits, unit) = (figure.digits, figure.unit);
            let space = if unit.is_empty() { "" } else { " " };
            if figure.key.ends_with("moves_ph") {
                signed(value, digits)
            } else {
                format!("{value:.digits$}{space}{unit}")
            }
        },
    )
}

/// Figures by their keys, a line each, and how each is computed: method, where that holds,
/// source, and the page of the help.
pub(super) fn table(
    ui: &mut Ui,
    derived: &Derived,
    keys: &[&'static str],
    commands: &mut Vec<Command>,
) {
    let figures: Vec<DerivedFigure> = derived
        .figures()
        .into_iter()
        .filter(|f| keys.contains(&f.key))
        .collect();
    egui::Grid::new(("derived", keys))
        .num_columns(2)
        .show(ui, |ui| {
            for figure in &figures {
                ui.label(sentence(figure.label));
                ui.label(theme::strong(words(figure)));
                ui.end_row();
            }
        });
    CollapsingHeader::new(theme::small(ui, "How is this computed"))
        .id_salt(("how", keys))
        .show(ui, |ui| {
            // What rests on the same is told once.
            for same in figures.chunk_by(|a, b| a.ground == b.ground) {
                let names: Vec<String> = same.iter().map(|f| sentence(f.label)).collect();
                ui.label(theme::small(ui, names.join(", ")).strong());
                let grounds = same.first().map(|f| f.ground);
                if let Some(ground) = grounds {
                    parts::grounds(ui, ground.method, ground.validity, ground.source);
                }
            }
            parts::page_link(ui, "The page about what follows", PAGE, commands);
        });
}

/// The page of the help about what follows from the estimates.
pub(super) const PAGE: (&str, Option<&str>) = ("estimates", Some("Worked out for every formula"));

pub(super) fn alcohol_reading(derived: &Derived) -> Reading {
    match derived.alcohol_volume_percent {
        Some(volume) => Reading {
            value: format!("{volume:.1} % vol"),
            basis: "at 20 °C, from the density".into(),
        },
        None => Reading {
            value: Measure::PERCENT_ROUGH.shown(derived.alcohol_mass_percent),
            basis: "by mass".into(),
        },
    }
}

pub(super) fn alcohol(
    ui: &mut Ui,
    view: &View<'_>,
    derived: &Derived,
    commands: &mut Vec<Command>,
) {
    let keys = ["alcohol_mass", "alcohol_volume", "volatile_organic"];
    table(ui, derived, &keys, commands);
    ui.separator();
    flash_point(ui, view);
}

/// The rule that estimates the flash point of alcohol with water.
const RULE: &str = "flammable";

/// The flash point, as the finding about it gives it.
fn flash_point(ui: &mut Ui, view: &View<'_>) {
    let found = view.evaluation.findings.iter().find_map(|f| {
        let celsius = match f.amount {
            Some(FindingValue::Celsius(celsius)) if &*f.rule == RULE => celsius,
            _ => return None,
        };
        Some((celsius, f))
    });
    let Some((celsius, finding)) = found else {
        let words = format!(
            "No flash point of {FLAMMABLE:.0} °C or below follows from its alcohol and water alone. Have it measured where it matters."
        );
        ui.add(egui::Label::new(theme::small(ui, words)).wrap());
        return;
    };
    ui.horizontal(|ui| {
        ui.label("Flash point");
        ui.label(theme::strong(format!("about {celsius:.0} °C")));
        ui.label(theme::small(ui, "estimate of its alcohol and water alone"));
    });
    for words in [
        finding.message.clone(),
        format!("Source: {}", finding.source),
    ] {
        ui.add(egui::Label::new(theme::small(ui, words)).wrap());
    }
}

pub(super) fn soap_reading(view: &View<'_>) -> Reading {
    let Some(soap) = &view.evaluation.estimates.soap else {
        return if view.evaluation.estimates.makes_soap() {
            Reading {
                value: "not known".to_owned(),
                basis: "fats without a saponification value".into(),
            }
        } else {
            Reading {
                value: "–".to_owned(),
                basis: "none forms".into(),
            }
        };
    };
    Reading {
        value: if soap.superfat_percent < 0.0 {
            "lye left over".to_owned()
        } else {
            format!("{:.1} % superfat", soap.superfat_percent)
        },
        basis: match soap.superfat_range() {
            Some((least, most)) => format!("{least:.1} to {most:.1} % as fats vary").into(),
            None => "fat that finds no lye".into(),
        },
    }
}

pub(super) fn soap(ui: &mut Ui, view: &View<'_>, derived: &Derived, commands: &mut Vec<Command>) {
    let estimates = &view.evaluation.estimates;
    if let Some(unvalued) = &estimates.unvalued_fats {
        ui.label(format!(
            "Lye turns fats into soap; no saponification value is known of {}",
            unvalued.fats.join(", ")
        ));
        return;
    }
    let Some(soap) = &estimates.soap else {
        ui.label("No soap forms");
        return;
    };
    ui.label(match soap.making {
        Making::Saponified => "Lye turns fats into soap",
        Making::Neutralised => "Alkali turns fatty acids into soap",
    });
    let keys = ["lye_of_need", "superfat", "glycerin_formed"];
    table(ui, derived, &keys, commands);
    if let Some((least, most)) = soap.superfat_range() {
        let words = format!(
            "As the fats vary, {least:.1} to {most:.1} % of the fat finds no lye; below 0 lye stays free"
        );
        ui.add(egui::Label::new(theme::small(ui, words)).wrap());
    }
    ui.add_space(theme::TIGHT);
    alkali(ui, soap);
    superfat(ui, view, soap, commands);
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("After the reaction"));
    egui::Grid::new("after the reaction")
        .num_columns(3)
        .striped(true)
        .show(ui, |ui| {
            for name in ["Substance", "% of the formula", "It is"] {
                ui.label(theme::small(ui, name));
            }
            ui.end_row();
            for part in &soap.after {
                ui.label(part.inci.spelling());
                ui.label(Measure::PERCENT_ROUGH.digits_of(part.percent));
                ui.label(part.product.label());
                ui.end_row();
            }
        });
    let from_memory: Vec<&str> = soap.from_memory().map(|f| f.inci.spelling()).collect();
    if !from_memory.is_empty() {
        let told = format!(
            "Saponification values from memory: {}",
            from_memory.join(", ")
        );
        ui.add(egui::Label::new(theme::small(ui, told)).wrap());
    }
}

/// The lye there is and the lye there would have to be.
fn alkali(ui: &mut Ui, soap: &Soap) {
    egui::Grid::new("alkali").num_columns(2).show(ui, |ui| {
        for (name, percent) in [
            ("Sodium hydroxide, pure", soap.sodium_hydroxide_percent),
            (
                "Potassium hydroxide, pure",
                soap.potassium_hydroxide_percent,
            ),
            ("Alkali for all of the fat", soap.need_percent),
        ] {
            if percent > 0.0 {
                ui.label(name);
                ui.label(format!(
                    "{} of the formula",
                    Measure::PERCENT_ROUGH.shown(percent)
                ));
                ui.end_row();
            }
        }
    });
}

/// A superfat to choose, and the lye that leaves it.
fn superfat(ui: &mut Ui, view: &View<'_>, soap: &Soap, commands: &mut Vec<Command>) {
    /// What is proposed first, %; common practice.
    const USUAL: f64 = 5.0;
    if soap.making != Making::Saponified {
        return;
    }
    let id = ui.scope_id().with("superfat wanted");
    let mut wanted = ui.data(|d| d.get_temp(id)).unwrap_or(USUAL);
    ui.horizontal_wrapped(|ui| {
        ui.label("Superfat wanted");
        let value = egui::DragValue::new(&mut wanted);
        ui.add(value.range(0.0..=40.0).speed(0.1).suffix(" %"))
            .accessible_name("Superfat wanted, %");
        ui.data_mut(|d| d.insert_temp(id, wanted));
        let alkali = soap.alkali_for_superfat(wanted / 100.0);
        ui.label(format!(
            "takes {} of pure alkali",
            Measure::PERCENT_ROUGH.shown(alkali)
        ));
        if let Some((line, percent)) = soap.lye_for_superfat(view.variant, wanted / 100.0)
            && view
                .variant
                .line(line)
                .is_some_and(|l| l.percent != percent)
            && ui
                .button(format!("Set the lye to {percent} %"))
                .on_hover_text("What is not held or the filler gives way, as for any line")
                .clicked()
        {
            commands.push(Command::Edit(Edit::SetPercent {
                line,
                percent,
                give: GiveWay::Filler,
            }));
        }
    });
}
