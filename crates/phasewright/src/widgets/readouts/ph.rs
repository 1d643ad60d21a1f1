//! The panel of pH: the estimate, what is not known, how to reach a pH, and the
//! bench readings on the titration curve.

use std::sync::Arc;

use eframe::egui::{self, Id, Ui};
use egui_plot::{HLine, Line, Points};
use formulation::amount::{AmountError, Measure, typed};
use formulation::chemistry::Acidity;
use formulation::chemistry::adjust::{self, BenchPoint, DoseStart, Footing, Titrant};
use formulation::chemistry::work_out::Derived;
use formulation::edit::Edit;
use formulation::ph_dose::{PhDose, ph_dose};
use formulation::quantity::{PH_UNTOLD, Ph, grams, in_grams};
use formulation::shelf::Shelf;

use super::{from_trials, parts};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::fitted::unparted_label;
use crate::widgets::of_trials::PhRead;
use crate::widgets::refusal::outcome;

/// Steps of the titration curve that is drawn.
const CURVE_POINTS: usize = 80;

/// What the panel keeps between frames.
#[derive(Default)]
pub(super) struct PhPanel {
    /// Place in [`Titrant::USUAL`] that was chosen; none for the one that the pH asks for.
    titrant: Option<usize>,
    /// Strength that was typed, %; none for the usual one.
    strength: Option<f64>,
    batch_g: Option<f64>,
    bench: Vec<BenchPoint>,
    typed_g: String,
    typed_ph: String,
    /// Which document and variant the bench readings belong to.
    of: Option<(u64, u64)>,
    drawn: Option<Drawn>,
    /// What goes into the formula, by the estimate and as added at the bench.
    by_estimate: KeptDose,
    by_bench: KeptDose,
    awaited: Option<Awaited>,
    learnt: from_trials::Shown,
}

/// A dose reckoned from a pH measured is in the formula, and its pH has not been measured yet.
/// Until it is, the estimate is no ground for another dose: it was not the pH measured before.
struct Awaited {
    /// The state of the document in which the dose was put in.
    put_in_at: u64,
    /// What it was reckoned to reach.
    reckoned: Ph,
}

/// The last dose put into words, with what it was worked out from: it goes through the shelf,
/// which no frame needs to do again.
#[derive(Default)]
struct KeptDose(Option<(DoseOf, Option<PhDose>)>);

/// The state of the document, its variant, the shelf, the dose and the pH read with it.
type DoseOf = (u64, u64, Arc<Shelf>, (Titrant, f64), Option<Ph>);

impl KeptDose {
    fn of(&mut self, view: &View<'_>, dose: (Titrant, f64), read: Option<Ph>) -> Option<&PhDose> {
        let (revision, variant) = (view.document.revision(), view.variant.id.0);
        let shelf = view.state.shelf();
        let known = self.0.as_ref().is_some_and(|((r, v, s, d, ph), _)| {
            (*r, *v, *d, *ph) == (revision, variant, dose, read) && Arc::ptr_eq(s, shelf)
        });
        if !known {
            let fresh = ph_dose(view.formula, view.variant, shelf, dose, read);
            self.0 = Some(((revision, variant, shelf.clone(), dose, read), fresh));
        }
        self.0.as_ref().and_then(|(_, dose)| dose.as_ref())
    }
}

impl PhPanel {
    /// Takes a reading in, in the order of what was added, and what was typed for it away.
    fn add(&mut self, point: BenchPoint) {
        self.bench.push(point);
        let added = |p: &BenchPoint| in_grams(p.added);
        self.bench.sort_by(|a, b| added(a).total_cmp(&added(b)));
        self.typed_g.clear();
        self.typed_ph.clear();
    }
}

/// The last curve, with what it was computed from.
struct Drawn {
    of: (u64, u64, Option<Titrant>, Option<Ph>),
    /// On what a dose rests, and the dose in grams per kilogram; or why there is none.
    dose: Result<(Footing, f64), String>,
    curve: Vec<[f64; 2]>,
}

pub(super) fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    (derived, read): (&Derived, Option<&PhRead>),
    panel: &mut PhPanel,
    commands: &mut Vec<Command>,
) {
    let acidity = &view.evaluation.estimates.ph;
    let of = (view.document.id.0, view.variant.id.0);
    if panel.of != Some(of) {
        *panel = PhPanel {
            of: Some(of),
            ..PhPanel::default()
        };
    }
    parts::head(ui, &acidity.figure, "pH", |v| Measure::PH.digits_of(v));
    if let Some(read) = read {
        from_trials::read(ui, view, read, commands);
    }
    if let Some(ionic) = acidity.ionic_strength {
        ui.label(format!("Ionic strength {ionic:.3} mol/kg"));
    }
    // What follows from the middle of a wide range says nothing.
    if acidity.figure.value.is_some() {
        let follows = ["ph_in_air", "citric_moves_ph", "lye_moves_ph"];
        super::derived::table(ui, derived, &follows, commands);
    } else if acidity.figure.low.is_some() {
        ui.add(
            egui::Label::new(theme::small(
                ui,
                "What the air and a little acid or lye do to it is told where the estimate is narrow enough for a single figure",
            ))
            .wrap(),
        );
    }
    settings(ui, view, commands);
    from_trials::ui(ui, view, &mut panel.learnt, commands);
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Reach the pH aimed at"));
    let target = view.variant.target_ph;
    let ph = acidity.figure.measured.or(acidity.middle);
    let usual = ph.map_or(0, |ph| Titrant::usual_for(ph, target));
    let titrant = titrant_row(ui, usual, panel);
    if let Some(titrant) = titrant {
        reach(ui, view, acidity, titrant, panel, commands);
        ui.add_space(theme::GAP);
        bench(ui, view, titrant, panel, commands);
    }
    ui.add_space(theme::GAP);
    constants(ui, acidity);
    parts::foot(ui, &acidity.figure);
}

/// The pH measured and the one aimed at.
fn settings(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let words = |ph: Option<Ph>| ph.map_or_else(String::new, |p| p.to_string());
    ui.horizontal_wrapped(|ui| {
        let measured = view.variant.measured.ph;
        let shown = words(measured);
        let id = parts::id(view, "measured pH");
        if let Some(ph) = parts::number(ui, id, ("pH measured", &shown, "none"), read_ph) {
            let mut all = view.variant.measured.clone();
            all.ph = ph;
            commands.push(Command::Edit(Edit::SetMeasured(all)));
        }
        let shown = words(view.variant.target_ph);
        let id = parts::id(view, "target pH");
        let target = parts::number(ui, id, ("pH aimed at", &shown, "none"), read_ph);
        commands.extend(target.map(|ph| Command::Edit(Edit::SetTargetPh(ph))));
    });
}

/// An empty field takes the pH away.
fn read_ph(text: &str) -> Result<Option<Ph>, AmountError> {
    typed::optional(text, typed::ph)
}

/// Which solution, and how strong; the usual one of the direction unless another is chosen.
fn titrant_row(ui: &mut Ui, usual: usize, panel: &mut PhPanel) -> Option<Titrant> {
    let place = panel.titrant.unwrap_or(usual);
    let (shown, usually) = Titrant::USUAL.get(place)?;
    let strength = panel.strength.unwrap_or(*usually);
    ui.horizontal_wrapped(|ui| {
        egui::ComboBox::from_id_salt("titrant")
            .selected_text(*shown)
            .width(170.0)
            .show_ui(ui, |ui| {
                for (i, (name, _)) in Titrant::USUAL.iter().enumerate() {
                    if ui.selectable_label(place == i, *name).clicked() {
                        panel.titrant = Some(i);
                        panel.strength = None;
                        panel.bench.clear();
                    }
                }
            })
            .response
            .accessible_name("Acid or base");
        let shown = strength.to_string();
        let within = Measure::PERCENT.within(0.001, 100.0).called("a strength");
        let read = |text: &str| typed::value(text, &within);
        let id = Id::unique("strength");
        if let Some(strength) = parts::number(ui, id, ("% in water", &shown, ""), read) {
            panel.titrant = Some(place);
            panel.strength = Some(strength);
        }
    });
    Titrant::of(shown, strength)
}

/// The amount that reaches the pH aimed at, and the curve.
fn reach(
    ui: &mut Ui,
    view: &View<'_>,
    acidity: &Acidity,
    titrant: Titrant,
    panel: &mut PhPanel,
    commands: &mut Vec<Command>,
) {
    let target = view.variant.target_ph;
    let of = (
        view.document.revision(),
        view.variant.id.0,
        Some(titrant),
        target,
    );
    if panel.drawn.as_ref().is_none_or(|d| d.of != of) {
        panel.drawn = Some(drawn(acidity, titrant, target, of));
    }
    let measured = acidity.figure.measured.is_some();
    if measured && (panel.awaited.as_ref()).is_some_and(|a| a.put_in_at != of.0) {
        panel.awaited = None;
    }
    match panel.awaited.as_ref().filter(|_| !measured) {
        Some(awaited) => {
            ui.label(format!(
                "The dose is in, reckoned to reach pH {} from the pH measured before. Make it, measure and state the pH; only then is another dose told",
                awaited.reckoned
            ));
        }
        None => dose(ui, view, titrant, panel, commands),
    }
    let Some(drawn) = &panel.drawn else { return };
    if drawn.curve.is_empty() {
        return;
    }
    let p = theme::palette(ui);
    let batch_g = panel
        .batch_g
        .unwrap_or_else(|| in_grams(view.variant.batch));
    let readings: Vec<[f64; 2]> = panel
        .bench
        .iter()
        .map(|b| [in_grams(b.added) * 1000.0 / batch_g.max(1e-9), b.ph.value()])
        .collect();
    parts::plot(ui, "titration curve", "g per kg", "pH").show(ui, |plot| {
        plot.line(
            Line::new("estimate", drawn.curve.clone())
                .color(p.accent)
                .width(2.0),
        );
        if let Some(target) = target {
            plot.hline(HLine::new("aimed at", target.value()).color(p.faint_ink));
        }
        if !readings.is_empty() {
            plot.points(
                Points::new("bench", readings)
                    .color(p.levels[1])
                    .radius(4.0)
                    .shape(egui_plot::MarkerShape::Diamond),
            );
        }
    });
    ui.label(theme::small(
        ui,
        "Line: the estimate. Diamonds: readings at the bench. Level line: the pH aimed at.",
    ));
}

/// The amount that reaches the pH aimed at, or why there is none.
fn dose(
    ui: &mut Ui,
    view: &View<'_>,
    titrant: Titrant,
    panel: &mut PhPanel,
    commands: &mut Vec<Command>,
) {
    let (footing, per_kg) = match panel.drawn.as_ref().map(|d| &d.dose) {
        Some(Ok((footing, per_kg))) => (*footing, *per_kg),
        Some(Err(why)) => {
            ui.label(formulation::plain_words::sentence(why));
            return;
        }
        None => return,
    };
    if per_kg <= 0.0 {
        ui.label(format!(
            "The pH aimed at is reached, within {PH_UNTOLD} of a unit"
        ));
        return;
    }
    let batch_kg = in_grams(view.variant.batch) / 1000.0;
    let from = match footing {
        Footing::Measured => "From the pH measured, by the estimated buffering".to_owned(),
        Footing::Estimated { low, high } if high - low > 0.05 => {
            format!("From the middle of the estimate, pH {low:.1} to {high:.1}")
        }
        Footing::Estimated { low, .. } => format!("From the estimate, pH {low:.1}"),
    };
    let words = format!(
        "{from}: {per_kg:.2} g of {} per kilogram, {:.2} g for the batch of {:.0} g",
        titrant.label(),
        per_kg * batch_kg,
        1000.0 * batch_kg
    );
    unparted_label(ui, &words, egui::WidgetText::from);
    ui.label("At the bench, add half of it, mix, read, and go on from the readings below");
    let kept = panel.by_estimate.of(view, (titrant, per_kg), None);
    let pressed = put_in(ui, view, kept, None, commands);
    if pressed && view.variant.measured.ph.is_some() {
        panel.bench.clear();
        panel.awaited = view.variant.target_ph.map(|reckoned| Awaited {
            put_in_at: view.document.revision(),
            reckoned,
        });
    }
}

/// The button that puts a dose into the formula, with the pH that was read with it, or to be
/// measured. Whether it was pressed.
fn put_in(
    ui: &mut Ui,
    view: &View<'_>,
    dose: Option<&PhDose>,
    read: Option<Ph>,
    commands: &mut Vec<Command>,
) -> bool {
    let Some(dose) = dose else {
        ui.label(theme::small(
            ui,
            "The shelf has no solution of it to put into the formula",
        ));
        return false;
    };
    let words = match read {
        Some(ph) => format!("{}, with pH {ph} measured", dose.words()),
        None => dose.words(),
    };
    let after = if read.is_some() {
        "As added at the bench; the filler gives way"
    } else if view.variant.measured.ph.is_some() {
        "The filler gives way. The pH measured is of the mix without it and is taken out: measure again"
    } else {
        "The filler gives way. Then make it and measure"
    };
    let pressed = ui.button(&words).on_hover_text(after).clicked();
    if read.is_none() {
        ui.add(egui::Label::new(theme::small(ui, after)).wrap());
    }
    if pressed {
        commands.push(Command::EditAll {
            what: words.into(),
            edits: dose.edits.clone(),
        });
    }
    pressed
}

fn drawn(
    acidity: &Acidity,
    titrant: Titrant,
    target: Option<Ph>,
    of: (u64, u64, Option<Titrant>, Option<Ph>),
) -> Drawn {
    let start = match DoseStart::of(acidity) {
        Ok(start) => start,
        Err(why) => {
            return Drawn {
                of,
                dose: Err(why.to_string()),
                curve: Vec::new(),
            };
        }
    };
    let dose = match target {
        Some(target) => adjust::grams_per_kg(&start, titrant, target)
            .map(|grams| (start.footing, grams))
            .map_err(|why| why.to_string()),
        None => Err("state the pH aimed at to get an amount".to_owned()),
    };
    let span = match &dose {
        Ok((_, grams)) if *grams > 0.0 => 2.0 * grams,
        _ => 20.0,
    };
    Drawn {
        of,
        curve: adjust::titration_curve(&start, titrant, span, CURVE_POINTS),
        dose,
    }
}

/// Readings at the bench and the next addition.
fn bench(
    ui: &mut Ui,
    view: &View<'_>,
    titrant: Titrant,
    panel: &mut PhPanel,
    commands: &mut Vec<Command>,
) {
    ui.label(theme::strong("From the bench"));
    let batch_g = panel
        .batch_g
        .unwrap_or_else(|| in_grams(view.variant.batch));
    ui.horizontal_wrapped(|ui| {
        let shown = batch_g.to_string();
        let mass = Measure::GRAMS.within(0.001, 1e9);
        let read = |text: &str| typed::value(text, &mass);
        let id = Id::unique("bench batch");
        let typed = parts::number(ui, id, ("Batch, g", &shown, ""), read);
        panel.batch_g = typed.or(panel.batch_g);
    });
    let mut removed = None;
    egui::Grid::new("bench readings")
        .num_columns(3)
        .show(ui, |ui| {
            for (i, point) in panel.bench.iter().enumerate() {
                ui.label(format!("{:.2} g in all", in_grams(point.added)));
                ui.label(format!("pH {:.2}", point.ph));
                let name = format!("Take reading {} out", i + 1);
                if ui.button("Take out").accessible_name(name).clicked() {
                    removed = Some(i);
                }
                ui.end_row();
            }
        });
    if let Some(i) = removed {
        panel.bench.remove(i);
    }
    let mut read = None;
    ui.horizontal_wrapped(|ui| {
        let first = panel.bench.is_empty();
        let name = if first {
            "Added so far, g"
        } else {
            "Added in all, g"
        };
        let id = Id::unique("bench grams");
        if let Some(text) = parts::typed(ui, id, name, &panel.typed_g, "0") {
            panel.typed_g = text;
        }
        let id = Id::unique("bench pH");
        if let Some(text) = parts::typed(ui, id, "pH read", &panel.typed_ph, "") {
            panel.typed_ph = text;
        }
        let asked = ui.button("Add reading").clicked();
        read = asked.then(|| reading(&panel.typed_g, &panel.typed_ph));
    });
    let typed = [panel.typed_g.clone(), panel.typed_ph.clone()];
    let came = read.map(|read| read.map(|point| panel.add(point)));
    outcome(ui, "bench reading", &typed, came);
    advice(ui, view, titrant, panel, batch_g);
    let last = panel.bench.last().filter(|last| in_grams(last.added) > 0.0);
    if let Some(last) = last.copied() {
        let dose = (titrant, in_grams(last.added) * 1000.0 / batch_g.max(1e-9));
        let kept = panel.by_bench.of(view, dose, Some(last.ph));
        if put_in(ui, view, kept, Some(last.ph), commands) {
            // What was added is in the formula now.
            panel.bench.clear();
        }
    }
}

/// What to add next, from the readings.
fn advice(ui: &mut Ui, view: &View<'_>, titrant: Titrant, panel: &PhPanel, batch_g: f64) {
    let Some(target) = view.variant.target_ph else {
        ui.label("State the pH aimed at for the next addition");
        return;
    };
    match adjust::advise(&panel.bench, grams(batch_g), target) {
        Ok(advice) => {
            let words = format!(
                "Buffer capacity: {:.2} g of {} per kilogram and pH unit",
                advice.grams_per_kg_and_ph,
                titrant.label()
            );
            unparted_label(ui, &words, egui::WidgetText::from);
            if advice.reached {
                ui.label(theme::strong(format!("pH {target:.2} is reached")));
            } else {
                ui.label(theme::strong(format!(
                    "Next: {:.2} g, mix in, read again",
                    in_grams(advice.next)
                )));
                ui.label(theme::small(
                    ui,
                    "So little that the target is not passed: buffers weaken by at most a factor of ten per pH unit",
                ));
            }
        }
        Err(why) => {
            ui.label(formulation::plain_words::sentence(&why.to_string()));
        }
    }
}

/// One reading from two typed numbers; nothing added is zero.
fn reading(grams_typed: &str, ph_typed: &str) -> Result<BenchPoint, String> {
    let words = |e: AmountError| e.to_string();
    let added = typed::optional(grams_typed, |t| typed::value(t, &Measure::GRAMS))
        .map_err(words)?
        .unwrap_or(0.0);
    let ph = read_ph(ph_typed)
        .map_err(words)?
        .ok_or("type the pH that was read")?;
    Ok(BenchPoint {
        added: grams(added),
        ph,
    })
}

/// The constants that enter, with their sources.
fn constants(ui: &mut Ui, acidity: &Acidity) {
    let mut families = acidity.solution.families().peekable();
    if families.peek().is_none() {
        return;
    }
    egui::CollapsingHeader::new("Acids and bases in it")
        .default_open(false)
        .show(ui, |ui| {
            egui::Grid::new("constants")
                .num_columns(3)
                .striped(true)
                .show(ui, |ui| {
                    for name in ["Acid or base", "mol/kg", "pKa"] {
                        ui.label(theme::small(ui, name));
                    }
                    ui.end_row();
                    for family in families {
                        let protolyte = family.protolyte();
                        ui.label(protolyte.name).on_hover_text(protolyte.source);
                        ui.label(format!("{:.4}", acidity.solution.total(family)));
                        let pka: Vec<String> =
                            protolyte.pka.iter().map(ToString::to_string).collect();
                        let rough = if protolyte.uncertainty > 0.0 {
                            format!(" ± {}", protolyte.uncertainty)
                        } else {
                            String::new()
                        };
                        ui.label(format!("{}{rough}", pka.join(", ")))
                            .on_hover_text(protolyte.source);
                        ui.end_row();
                    }
                });
        });
}
