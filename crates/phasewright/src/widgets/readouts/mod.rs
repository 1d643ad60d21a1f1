//! The strip of read-outs and the panels behind them: pH, preservative, water
//! activity, density, HLB, salt, natural origin, and where they apply alcohol and soap, live
//! as the formula changes. In a low window the strip folds into one line.

mod derived;
mod figures;
mod from_trials;
mod ph;
mod preservation;

use std::borrow::Cow;

use eframe::egui::{self, Align2, Key, Rect, Sense, Stroke, Ui, Vec2, WidgetInfo};
use formulation::amount::{Measure, typed};
use formulation::chemistry::Figure;
use formulation::chemistry::acidity::Acidity;
use formulation::chemistry::work_out::Derived;
use formulation::quantity::kg_per_m3;

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::focus;
use crate::widgets::of_trials::{OfTrials, PhRead};

/// One of the read-outs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Readout {
    /// pH of the water phase.
    Ph,
    /// Undissociated preservative.
    Preservation,
    /// Water activity.
    WaterActivity,
    /// Density and fill.
    Density,
    /// HLB required and provided.
    Hlb,
    /// Salt and charge.
    Electrolyte,
    /// Natural origin.
    NaturalOrigin,
    /// Alcohol and other volatile solvents.
    Alcohol,
    /// Soap that forms.
    Soap,
    /// Viscosity and everything else that trials tell.
    Trials,
}

impl Readout {
    /// All read-outs, in the order of the strip.
    pub const ALL: [Self; 10] = [
        Self::Ph,
        Self::Preservation,
        Self::WaterActivity,
        Self::Density,
        Self::Hlb,
        Self::Electrolyte,
        Self::NaturalOrigin,
        Self::Alcohol,
        Self::Soap,
        Self::Trials,
    ];

    /// Whether it says anything about a formula; what applies to few is shown for those.
    fn applies(self, view: &View<'_>, derived: &Derived, trials: &OfTrials) -> bool {
        match self {
            Self::Alcohol => derived.alcohol_mass_percent > 0.0,
            Self::Soap => {
                let estimates = &view.evaluation.estimates;
                estimates.soap.is_some() || estimates.unvalued_fats.is_some()
            }
            Self::Trials => trials.viscosity().is_some(),
            _ => true,
        }
    }

    /// The words over the figure.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Ph => "pH",
            Self::Preservation => "Undissociated",
            Self::WaterActivity => "Water activity",
            Self::Density => "Density",
            Self::Hlb => "HLB",
            Self::Electrolyte => "Salt",
            Self::NaturalOrigin => "Natural origin",
            Self::Alcohol => "Alcohol",
            Self::Soap => "Soap",
            Self::Trials => "Viscosity",
        }
    }

    /// The title of its panel.
    const fn title(self) -> &'static str {
        match self {
            Self::Ph => "pH and how to reach it",
            Self::Preservation => "Preservation",
            Self::WaterActivity => "Water activity",
            Self::Density => "Density and fill",
            Self::Hlb => "Emulsion",
            Self::Electrolyte => "Electrolyte and charge",
            Self::NaturalOrigin => "Natural origin",
            Self::Alcohol => "Alcohol and what evaporates",
            Self::Soap => "Soap that forms",
            Self::Trials => "What trials tell of this composition",
        }
    }
}

impl Readout {
    /// The page of the documentation about it, and the heading there.
    pub const fn page(self) -> (&'static str, Option<&'static str>) {
        let heading = match self {
            Self::Ph => "pH",
            Self::Preservation => return ("compatibility", Some("What keeps the product")),
            Self::WaterActivity => "Water activity",
            Self::Density => "Density",
            Self::Hlb => "Emulsions",
            Self::Electrolyte => "Salt and charge",
            Self::NaturalOrigin => "Natural origin",
            Self::Alcohol => return derived::PAGE,
            Self::Soap => "Soap",
            Self::Trials => return ("trials", Some("What is learnt")),
        };
        ("estimates", Some(heading))
    }
}

/// What the strip keeps between frames.
#[derive(Default)]
pub struct Readouts {
    open: Option<Readout>,
    /// The panel was opened with a key, and the cursor is not in it yet.
    enter: bool,
    ph: ph::PhPanel,
    figures: figures::FiguresPanel,
    follows: derived::Follows,
    trials: OfTrials,
    /// Whether a field was being typed in, which Escape leaves first.
    typing: bool,
}

impl Readouts {
    /// Opens a panel, which gets the cursor.
    pub const fn open(&mut self, readout: Readout) {
        self.open = Some(readout);
        self.enter = true;
    }

    /// The panel that is open.
    pub const fn opened(&self) -> Option<Readout> {
        self.open
    }
}

/// The figure of a read-out and the word below it.
struct Reading {
    value: String,
    basis: Cow<'static, str>,
}

/// Room inside a card, left and right, and above and below, in points.
const CARD: Vec2 = Vec2::new(6.0, 4.0);

/// Height of the strip, in points.
pub fn height(ui: &Ui, fold: bool) -> f32 {
    let row = |style| ui.text_style_height(&style);
    if fold {
        theme::FIELD
    } else {
        2.0 * row(egui::TextStyle::Small) + row(egui::TextStyle::Body) + 2.0 * CARD.y
    }
}

/// Draws the strip over the whole width, in one line if it is folded, and the panel that is
/// open.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    readouts: &mut Readouts,
    fold: bool,
    commands: &mut Vec<Command>,
) {
    let mut follows = std::mem::take(&mut readouts.follows);
    let derived = follows.of(view);
    let mut trials = std::mem::take(&mut readouts.trials);
    trials.refresh(view);
    strip_and_panel(ui, view, readouts, (derived, &trials), fold, commands);
    readouts.follows = follows;
    readouts.trials = trials;
}

fn strip_and_panel(
    ui: &mut Ui,
    view: &View<'_>,
    readouts: &mut Readouts,
    (derived, trials): (&Derived, &OfTrials),
    fold: bool,
    commands: &mut Vec<Command>,
) {
    let all: Vec<(Readout, Reading)> = Readout::ALL
        .into_iter()
        .filter(|r| r.applies(view, derived, trials))
        .map(|r| (r, reading(view, (derived, trials), r)))
        .collect();
    if readouts
        .open
        .is_some_and(|open| all.iter().all(|(r, _)| *r != open))
    {
        readouts.open = None;
    }
    let before = readouts.open;
    let gap = if fold { 4.0 } else { theme::TIGHT };
    let strip = ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = gap;
        if fold {
            folded(ui, &all, readouts);
            return;
        }
        let count = all.len() as f32;
        let width = ((ui.available_width() - gap * (count - 1.0)) / count).max(72.0);
        for (readout, reading) in all {
            let shown = readouts.open == Some(readout);
            if card(ui, readout, &reading, width, shown).clicked() {
                readouts.open = (!shown).then_some(readout);
            }
        }
    });
    if readouts.open != before {
        readouts.enter = readouts.open.is_some() && focus::is_by_key(ui);
    }
    let Some(readout) = readouts.open else { return };
    let mut stays = true;
    // The panel leaves the strip and the tabs free.
    let mut area = ui.content_rect();
    area.min.y += 44.0;
    area.max.y = strip.response.rect.top() - theme::TIGHT;
    let size = Vec2::new(
        520.0_f32.min(area.width() - 32.0),
        900.0_f32.min(area.height()),
    );
    egui::Window::new(readout.title())
        .id(egui::Id::unique("readout panel"))
        .open(&mut stays)
        .collapsible(false)
        .constrain_to(area)
        .default_size(size)
        .max_height(area.height())
        .pivot(Align2::RIGHT_BOTTOM)
        .default_pos(area.right_bottom() + Vec2::new(-16.0, 0.0))
        .vscroll(true)
        .show(ui, |ui| {
            let first = parts::page_link(ui, "The page about it", readout.page(), commands);
            if first.has_focus() {
                readouts.enter = false;
            } else if readouts.enter {
                first.request_focus();
                ui.request_repaint();
            }
            inside(ui, view, readouts, (readout, derived, trials), commands);
        });
    let escaped = ui.input(|i| i.key_pressed(Key::Escape)) && !readouts.typing;
    readouts.typing = ui.ctx().text_edit_focused();
    if !stays || escaped {
        readouts.open = None;
    }
}

/// What a panel holds.
fn inside(
    ui: &mut Ui,
    view: &View<'_>,
    readouts: &mut Readouts,
    (readout, derived, trials): (Readout, &Derived, &OfTrials),
    commands: &mut Vec<Command>,
) {
    match readout {
        Readout::Ph => {
            let panel = &mut readouts.ph;
            ph::ui(ui, view, (derived, trials.ph()), panel, commands);
        }
        Readout::Preservation => preservation::ui(ui, view),
        Readout::WaterActivity => {
            let figures = &mut readouts.figures;
            figures::water_activity(ui, view, derived, figures, commands);
        }
        Readout::Density => figures::density(ui, view, &mut readouts.figures, commands),
        Readout::Hlb => figures::hlb(ui, view),
        Readout::Electrolyte => figures::electrolyte(ui, view),
        Readout::NaturalOrigin => figures::natural_origin(ui, view),
        Readout::Alcohol => derived::alcohol(ui, view, derived, commands),
        Readout::Soap => derived::soap(ui, view, derived, commands),
        Readout::Trials => {
            trials.ui(ui, None, commands);
            ui.separator();
            let words = "Readings, curves and what was learnt stand in the sheet Trials.";
            ui.label(theme::small(ui, words));
        }
    }
}

/// The strip as one line: each read-out as wide as its words; those that find no room stand
/// in a menu at the end.
fn folded(ui: &mut Ui, all: &[(Readout, Reading)], readouts: &mut Readouts) {
    const MORE: f32 = 64.0;
    let mut rest = all.iter();
    let mut left_over = Vec::new();
    while let Some(entry) = rest.next() {
        let (readout, reading) = (entry.0, &entry.1);
        let name = theme::small(ui, readout.label());
        // One line has no room for the words that say so.
        let mark = if reading.basis.contains("estimate") {
            "≈ "
        } else {
            ""
        };
        let value = theme::strong(format!("{mark}{}", reading.value));
        let (mut words, style) = (egui::text::LayoutJob::default(), ui.style());
        let font = egui::FontSelection::Default;
        let align = egui::Align::Center;
        name.append_to(&mut words, style, font.clone(), align);
        let space = egui::RichText::new("  ").small();
        space.append_to(&mut words, style, font.clone(), align);
        value.append_to(&mut words, style, font, align);
        let wide = ui.fonts_mut(|f| f.layout_job(words.clone()).size().x) + 2.0 * CARD.x;
        // The menu needs room only if another read-out follows.
        let reserve = if rest.len() > 0 { MORE } else { 0.0 };
        if wide + reserve > ui.available_width() {
            left_over.push(entry);
            left_over.extend(rest);
            break;
        }
        let shown = readouts.open == Some(readout);
        let accessible = format!("{} {} {}", readout.label(), reading.value, reading.basis);
        let button = ui.scope(|ui| {
            ui.spacing_mut().button_padding.x = CARD.x;
            ui.add(egui::Button::new(words).selected(shown))
        });
        let button = button
            .inner
            .accessible_name(accessible)
            .on_hover_text(format!("{}: {}", readout.title(), reading.basis));
        if button.clicked() {
            readouts.open = (!shown).then_some(readout);
        }
    }
    if left_over.is_empty() {
        return;
    }
    ui.menu_button("More", |ui| {
        for (readout, reading) in left_over {
            let words = format!("{}: {}, {}", readout.label(), reading.value, reading.basis);
            if ui.button(words).clicked() {
                readouts.open = Some(*readout);
                ui.close();
            }
        }
    });
}

/// A read-out of the strip: a button with its name, its figure and where that is from.
fn card(
    ui: &mut Ui,
    readout: Readout,
    reading: &Reading,
    width: f32,
    shown: bool,
) -> egui::Response {
    let p = theme::palette(ui);
    let small = |text: &str| theme::small(ui, text);
    let lines = [
        egui::WidgetText::from(small(readout.label())),
        egui::WidgetText::from(theme::strong(reading.value.as_str())),
        egui::WidgetText::from(small(&reading.basis)),
    ];
    let galleys = lines.map(|text| {
        text.into_galley(
            ui,
            Some(egui::TextWrapMode::Truncate),
            width - 2.0 * CARD.x,
            egui::TextStyle::Body,
        )
    });
    let size = Vec2::new(width, height(ui, false));
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let words = format!("{} {} {}", readout.label(), reading.value, reading.basis);
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, shown, &words));
    let (fill, line) = if shown {
        (p.chosen, p.accent)
    } else if response.hovered() || response.has_focus() {
        (p.hovered, p.faint_ink)
    } else {
        (p.page, p.edge)
    };
    ui.painter().rect(
        rect,
        4.0,
        fill,
        Stroke::new(1.0, line),
        egui::StrokeKind::Inside,
    );
    let mut place = rect.left_top() + CARD;
    let painter = ui
        .painter()
        .with_clip_rect(Rect::intersect(rect, ui.clip_rect()));
    for galley in galleys {
        let height = galley.size().y;
        painter.galley(place, galley, p.ink);
        place.y += height;
    }
    response.on_hover_text(format!("{}: open the panel", readout.title()))
}

fn reading(view: &View<'_>, (derived, trials): (&Derived, &OfTrials), readout: Readout) -> Reading {
    let e = &view.evaluation.estimates;
    match readout {
        Readout::Ph => ph_reading(&e.ph, trials.ph()),
        Readout::Preservation => match e.preservation.leading() {
            Some(state) => Reading {
                value: match state.effective_range {
                    (low, high) if high - low < 0.0005 => format!(
                        "{:.3} % ({:.0} %)",
                        state.effective_percent,
                        100.0 * state.undissociated
                    ),
                    (low, high) => format!("{low:.3} – {high:.3} %"),
                },
                basis: state
                    .oil
                    .as_ref()
                    .map_or(Cow::Borrowed(state.acid.inci), |oil| {
                        format!("{:.3} % free in its water", oil.in_water_percent).into()
                    }),
            },
            None => Reading {
                value: "–".to_owned(),
                basis: "no organic acid".into(),
            },
        },
        Readout::WaterActivity => {
            of_figure(&e.water_activity, |v| Measure::WATER_ACTIVITY.shown(v))
        }
        Readout::Density => of_figure(&e.density, |v| typed::shown_density(kg_per_m3(v))),
        Readout::Hlb => {
            let side = |f: &Figure| {
                f.shown()
                    .map_or_else(|| "?".to_owned(), |v| format!("{v:.1}"))
            };
            if e.emulsion.absent.is_some() {
                Reading {
                    value: "–".to_owned(),
                    basis: "no emulsion".into(),
                }
            } else if e.emulsion.required.is_known() || e.emulsion.provided.is_known() {
                Reading {
                    value: format!(
                        "{} / {}",
                        side(&e.emulsion.required),
                        side(&e.emulsion.provided)
                    ),
                    basis: if e.emulsion.water_in_oil {
                        "required / provided, W/O"
                    } else {
                        "required / provided"
                    }
                    .into(),
                }
            } else {
                Reading {
                    value: "–".to_owned(),
                    basis: "no oil phase known".into(),
                }
            }
        }
        Readout::Electrolyte => {
            let mut reading = of_figure(&e.electrolyte.nacl_percent, |v| format!("{v:.2} %"));
            reading.basis = "as sodium chloride".into();
            reading
        }
        Readout::NaturalOrigin => of_figure(&e.natural_origin.with_water, |v| format!("{v:.3}")),
        Readout::Alcohol => derived::alcohol_reading(derived),
        Readout::Soap => derived::soap_reading(view),
        Readout::Trials => {
            let (value, basis) = trials.viscosity().cloned().unwrap_or_default();
            Reading {
                value,
                basis: basis.into(),
            }
        }
    }
}

/// A pH that nothing should rest on is not shown like one that is known. One that was read on a
/// trial of exactly this composition and not taken over is told.
fn ph_reading(ph: &Acidity, read: Option<&PhRead>) -> Reading {
    let waits = read.filter(|read| read.is_of_this && ph.figure.measured.is_none());
    if let Some(read) = waits {
        return match ph.figure.value {
            Some(value) => Reading {
                value: format!("{value:.2}"),
                basis: format!("estimate; {:.2} on trial {}", read.ph, read.trial).into(),
            },
            None => Reading {
                value: format!("read {:.2}", read.ph),
                basis: format!("trial {}: take over", read.trial).into(),
            },
        };
    }
    match (ph.figure.low, ph.figure.high) {
        (Some(low), Some(high)) if ph.is_to_be_measured() => Reading {
            value: "measure".to_owned(),
            basis: format!("between {low:.1} and {high:.1}").into(),
        },
        _ => of_figure(&ph.figure, |v| format!("{v:.2}")),
    }
}

/// The words for a figure: measured, estimated, a range, or not known.
fn of_figure(figure: &Figure, words: impl Fn(f64) -> String) -> Reading {
    match (figure.measured, figure.value, figure.low, figure.high) {
        (Some(measured), ..) => Reading {
            value: words(measured),
            basis: "measured".into(),
        },
        (None, Some(value), ..) => Reading {
            value: words(value),
            basis: if figure.in_range {
                "estimate"
            } else {
                "estimate, out of range"
            }
            .into(),
        },
        (None, None, Some(low), Some(high)) => Reading {
            value: format!("{} – {}", words(low), words(high)),
            basis: "range of the estimate".into(),
        },
        _ => Reading {
            value: "–".to_owned(),
            basis: "not known".into(),
        },
    }
}

/// Parts that all panels share.
mod parts {
    use eframe::egui::{self, Ui};
    use egui_plot::Plot;
    use formulation::amount::AmountError;
    use formulation::chemistry::Figure;

    use crate::command::Command;
    use crate::state::View;
    use crate::theme;
    use crate::widgets::entry::Entry;
    use crate::widgets::refusal::figure;
    use crate::widgets::round_axes::round_axes;

    /// The figure in words, its range and where it is from.
    pub fn head(ui: &mut Ui, figure: &Figure, name: &str, words: impl Fn(f64) -> String) {
        let reading = super::of_figure(figure, &words);
        ui.horizontal_wrapped(|ui| {
            ui.label(theme::heading(format!("{name} {}", reading.value)));
            ui.label(theme::small(ui, reading.basis.as_ref()));
        });
        if let (Some(low), Some(high)) = (figure.low, figure.high)
            && words(low) != words(high)
            && (figure.value.is_some() || figure.measured.is_some())
        {
            ui.label(format!(
                "Estimate between {} and {}",
                words(low),
                words(high)
            ));
        }
        if let (Some(_), Some(value)) = (figure.measured, figure.value) {
            ui.label(format!("The estimate alone is {}", words(value)));
        }
    }

    /// What is not known, remarks, method, validity and source.
    pub fn foot(ui: &mut Ui, figure: &Figure) {
        unknown(ui, &figure.unknown);
        for remark in &figure.remarks {
            ui.label(remark);
        }
        ui.separator();
        grounds(ui, figure.method, figure.validity, figure.source);
    }

    /// A list of what is not known.
    pub fn unknown(ui: &mut Ui, names: &[std::sync::Arc<str>]) {
        if names.is_empty() {
            return;
        }
        ui.add_space(theme::TIGHT);
        ui.label(theme::strong("Not known"));
        for name in names {
            ui.label(format!("• {name}"));
        }
    }

    /// Method, validity and source.
    pub fn grounds(ui: &mut Ui, method: &str, validity: &str, source: &str) {
        for (name, words) in [
            ("Method", method),
            ("Holds for", validity),
            ("Source", source),
        ] {
            ui.add(egui::Label::new(theme::small(ui, format!("{name}: {words}"))).wrap());
        }
    }

    /// The way to the page of the help about a figure, at its heading.
    pub fn page_link(
        ui: &mut Ui,
        words: &str,
        (page, heading): (&'static str, Option<&'static str>),
        commands: &mut Vec<Command>,
    ) -> egui::Response {
        let link = ui
            .link(words)
            .on_hover_text("How it is computed, where it holds and what it rests on");
        if link.clicked() {
            commands.push(Command::HelpAt(page, heading));
        }
        link
    }

    /// A plot of the panel's width that does not move under the pointer.
    pub fn plot<'a>(ui: &Ui, name: &'a str, x: &'a str, y: &'a str) -> Plot<'a> {
        let p = theme::palette(ui);
        round_axes(Plot::new(name))
            .height(200.0)
            .allow_drag(false)
            .allow_scroll(false)
            .allow_zoom(false)
            .allow_boxed_zoom(false)
            .allow_double_click_reset(false)
            .grid_color(p.rule)
            .x_axis_label(x)
            .y_axis_label(y)
            .y_axis_min_width(36.0)
    }

    /// The id of a field for a figure of the formula shown.
    pub fn id(view: &View<'_>, what: &str) -> egui::Id {
        egui::Id::unique((what, view.document.id, view.variant.id))
    }

    /// A field for a number with a name before it, as it is typed.
    pub fn typed(ui: &mut Ui, id: egui::Id, name: &str, shown: &str, hint: &str) -> Option<String> {
        ui.label(name);
        field(id, name, shown, hint).show(ui).done
    }

    /// A field for a number with a name before it; what cannot be read stays in it.
    pub fn number<T>(
        ui: &mut Ui,
        id: egui::Id,
        (name, shown, hint): (&str, &str, &str),
        read: impl FnOnce(&str) -> Result<T, AmountError>,
    ) -> Option<T> {
        ui.label(name);
        figure(ui, field(id, name, shown, hint), read).read
    }

    fn field<'a>(id: egui::Id, name: &str, shown: &'a str, hint: &'a str) -> Entry<'a> {
        Entry::new(id, shown, name).hint(hint).width(72.0).right()
    }
}
