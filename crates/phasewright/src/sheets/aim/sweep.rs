//! Sweep: curves over one line, a map over two; worked out beside the window.

mod map;

use eframe::egui::{self, Id, Label, Sense, Slider, Ui};
use egui_plot::{Legend, Line, MarkerShape, Plot, PlotPoints, Points, VLine};
use formulation::amount::typed;
use formulation::edit::{Edit, GiveWay};
use formulation::finding::Level;
use formulation::formula::ItemId;
use formulation::plain_words::sentence;
use formulation::progress::Progress;
use formulation::quantity::Percent;
use formulation::solve::demand::FigureStyle;
use formulation::solve::sweep::{Axis, Sweep, SweepError, SweepPoint};
use formulation::solve::target::{Target, TargetQuantity};

use self::map::map;
use super::{Ground, Typed, line_buttons, line_choice, marked, to_two_digits};
use crate::command::Command;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::area::area;
use crate::widgets::entry::Entry;
use crate::widgets::round_axes::round_axes;
use crate::widgets::work_bar::work_bar;
use crate::work::Work;

/// Points of a curve.
const CURVE: usize = 201;
/// Points of each side of a map.
const MAP: usize = 61;
/// Most width of a map with its captions, in points.
const MAP_WIDTH: f32 = 640.0;
/// Least width of a curve where there is room for more than two in a row, in points.
const CURVE_WIDTH: f32 = 290.0;
/// Least and greatest height of a curve, in points.
const CURVE_HEIGHT: (f32, f32) = (180.0, 340.0);
/// Height of what is asked for, above the curves, in points.
const ASKED_FOR: f32 = 150.0;
/// Width of what stands beside the curves, in points.
const BESIDE_CURVES: f32 = 240.0;
/// Most width of the slider that picks a point, in points.
const SLIDER: f32 = 240.0;
/// Quantities offered.
const OFFERED: [&str; 12] = [
    "active",
    "anionic",
    "water",
    "oil",
    "salt",
    "ph",
    "preservation",
    "hlb",
    "natural origin",
    "cost",
    "anionic / amphoteric",
    "humectant",
];

/// A range as typed.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Range {
    line: Option<ItemId>,
    from: Percent,
    to: Percent,
}

impl Default for Range {
    fn default() -> Self {
        Self {
            line: None,
            from: Percent::ZERO,
            to: Percent::from_units(10 * Percent::UNITS),
        }
    }
}

impl Range {
    /// From nothing to twice what there is of the line.
    fn over_twice(&mut self, view: &View<'_>) {
        let Some(line) = self.line.and_then(|id| view.variant.line(id)) else {
            return;
        };
        let least = Percent::from_units(Percent::UNITS);
        self.from = Percent::ZERO;
        self.to = (line.percent + line.percent).clamp_to(least, Percent::HUNDRED);
    }
}

/// A sweep that has been worked out.
struct Done {
    sweep: Sweep,
    points: Vec<SweepPoint>,
}

impl Done {
    /// What is shown over the range: the quantities followed, then the room to the limits,
    /// where any binds.
    fn followed(&self) -> Vec<Followed<'_>> {
        let quantities = self.sweep.quantities.iter().enumerate();
        let mut followed: Vec<Followed<'_>> =
            quantities.map(|(k, q)| Followed::Quantity(k, q)).collect();
        if self.points.iter().any(|point| point.room.is_some()) {
            followed.push(Followed::Room);
        }
        followed
    }
}

impl Done {
    /// The point nearest to the formula as it stands.
    fn at_present(&self, view: &View<'_>) -> usize {
        let (mut point, mut row) = (0, 1);
        for axis in &self.sweep.axes {
            let count = axis.points.max(2);
            let (from, to) = (axis.from.as_percent(), axis.to.as_percent());
            let line = view.variant.line(axis.line);
            let now = line.map_or(from, |line| line.percent.as_percent());
            let along = ((now - from) / (to - from)).clamp(0.0, 1.0);
            point += (along * (count - 1) as f64).round() as usize * row;
            row *= count;
        }
        point
    }
}

/// Something shown over the range of a sweep.
#[derive(Clone, Copy)]
enum Followed<'a> {
    /// The quantity of this number.
    Quantity(usize, &'a TargetQuantity),
    /// Room to the next limit that binds a line.
    Room,
}

impl Followed<'_> {
    fn words(self) -> String {
        match self {
            Self::Quantity(_, quantity) => quantity.words(),
            Self::Room => "room to the next limit".to_owned(),
        }
    }
    /// Its words with the unit of its figures.
    fn heading(self) -> String {
        let unit = match self {
            Self::Quantity(_, quantity) => quantity.unit(),
            Self::Room => "%",
        };
        match unit {
            "" => self.words(),
            unit => format!("{}, {unit}", self.words()),
        }
    }
    fn range(self, point: &SweepPoint) -> Option<(f64, f64)> {
        match self {
            Self::Quantity(k, _) => point.ranges.get(k).copied().flatten(),
            Self::Room => None,
        }
    }
    fn value(self, point: &SweepPoint) -> Option<f64> {
        match self {
            Self::Quantity(k, _) => point.values.get(k).copied().flatten(),
            Self::Room => point.room,
        }
    }
    fn figure(self, value: f64) -> String {
        match self {
            Self::Quantity(_, quantity) => quantity.figure(value),
            Self::Room => FigureStyle::PERCENT.write(value),
        }
    }
}

/// What a sweep follows from.
#[derive(Clone, PartialEq)]
struct Asked {
    sweep: Sweep,
    ground: Ground,
    typed: Typed,
}

/// What the part keeps between frames.
#[derive(Default)]
pub struct SweepPart {
    ranges: [Range; 2],
    two: bool,
    quantities: Vec<TargetQuantity>,
    problem: Option<String>,
    /// What is followed, once it was asked for; it is worked out anew when the formula changes.
    sweep: Option<(DocumentId, Sweep)>,
    work: Work<Asked, Result<Done, SweepError>>,
    shown: usize,
    picked: Option<usize>,
}

/// Draws the part.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    part: &mut SweepPart,
    typed: &Typed,
    commands: &mut Vec<Command>,
) {
    egui::ScrollArea::vertical()
        .auto_shrink(false)
        .show(ui, |ui| {
            axes(ui, view, part);
            quantities(ui, view, part);
            ui.horizontal_wrapped(|ui| start(ui, view, part));
            if let Some(problem) = &part.problem {
                marked(ui, Level::Caution, problem.clone());
            }
            work_out(ui, view, part, typed);
            work_bar(ui, &mut part.work, "Working out the points");
            if part.sweep.is_none() {
                begin(ui, view, part);
            }
            match part.work.answer() {
                None => {}
                Some(Err(error)) => marked(ui, Level::Caution, sentence(&error.to_string())),
                Some(Ok(done)) => {
                    if done.sweep.axes.len() == 2 {
                        // The figures of a point stand beside the map where there is room.
                        let layout = if ui.available_width() > MAP_WIDTH + 300.0 {
                            egui::Layout::left_to_right(egui::Align::Min)
                        } else {
                            egui::Layout::top_down(egui::Align::Min)
                        };
                        ui.with_layout(layout, |ui| {
                            let draw =
                                |ui: &mut Ui| map(ui, view, done, &mut part.shown, part.picked);
                            let picked = ui.vertical(draw).inner;
                            part.picked = picked.or(part.picked);
                            ui.vertical(|ui| {
                                by_slider(ui, view, done, &mut part.picked);
                                point(ui, view, done, part.picked, commands);
                            });
                        });
                    } else {
                        over_one_line(ui, view, done, &mut part.picked, commands);
                    }
                }
            }
        });
}

/// What there is to do before the first sweep, and the lines to choose from.
fn begin(ui: &mut Ui, view: &View<'_>, part: &mut SweepPart) {
    ui.add_space(theme::TIGHT);
    ui.label("Choose a line and a range, and what to follow; every point is evaluated in full.");
    let [range, _] = &mut part.ranges;
    if range.line.is_none() {
        // The filler follows from the others.
        let moves = |line: &formulation::formula::Line| !view.variant.is_filler(line.id);
        range.line = line_buttons(ui, view, "Move", moves);
        range.over_twice(view);
    }
}

fn axes(ui: &mut Ui, view: &View<'_>, part: &mut SweepPart) {
    let count = if part.two { 2 } else { 1 };
    for (k, range) in part.ranges.iter_mut().enumerate().take(count) {
        ui.push_id(k, |ui| {
            ui.horizontal_wrapped(|ui| {
                ui.label(if k == 0 { "Move" } else { "and" });
                let before = range.line;
                let name = if k == 0 {
                    "Line to move"
                } else {
                    "Second line to move"
                };
                line_choice(ui, view, "sweep line", name, &mut range.line);
                if range.line != before {
                    part.problem = None;
                }
                if range.line != before {
                    range.over_twice(view);
                }
                ui.label("from");
                percent_entry(ui, ("sweep from", k), "First percentage", &mut range.from);
                ui.label("to");
                percent_entry(ui, ("sweep to", k), "Last percentage", &mut range.to);
                ui.label("%");
            });
        });
    }
    ui.checkbox(&mut part.two, "Move a second line and draw a map");
}

fn percent_entry(ui: &mut Ui, id: (&str, usize), name: &str, value: &mut Percent) {
    let shown = value.to_string();
    let entry = Entry::new(Id::unique(id), &shown, name)
        .width(56.0)
        .right()
        .show(ui);
    if let Some(Ok(typed)) = entry.done.map(|text| typed::percent(&text)) {
        *value = typed.clamp_to(Percent::ZERO, Percent::HUNDRED);
    }
}

fn quantities(ui: &mut Ui, view: &View<'_>, part: &mut SweepPart) {
    if part.quantities.is_empty() && part.sweep.is_none() {
        part.quantities = ["active", "water", "salt"]
            .iter()
            .filter_map(|t| t.parse::<TargetQuantity>().ok())
            .collect();
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Follow");
        let mut gone = None;
        for (k, quantity) in part.quantities.iter().enumerate() {
            if ui
                .button(format!("{} ×", quantity.words()))
                .on_hover_text("No longer follow this")
                .clicked()
            {
                gone = Some(k);
            }
        }
        if let Some(k) = gone {
            part.quantities.remove(k);
        }
        egui::ComboBox::from_id_salt("follow")
            .selected_text("Add…")
            .width(90.0)
            .height(330.0)
            .show_ui(ui, |ui| {
                // What the trials of this formula have taught comes first.
                let taught = view.state.lessons().all().map(|l| l.from.quantity.label());
                let mut offered: Vec<TargetQuantity> = Vec::new();
                for quantity in taught
                    .chain(OFFERED)
                    .filter_map(|t| t.parse::<TargetQuantity>().ok())
                {
                    if !offered.contains(&quantity) {
                        offered.push(quantity);
                    }
                }
                for quantity in offered {
                    if !part.quantities.contains(&quantity)
                        && ui.selectable_label(false, quantity.words()).clicked()
                    {
                        part.quantities.push(quantity);
                    }
                }
            })
            .response
            .accessible_name("Follow another quantity");
        let entry = Entry::new(Id::unique("follow typed"), "", "Follow a quantity by name")
            .hint("or an INCI name")
            .width(140.0)
            .show(ui);
        if let Some(text) = entry.done
            && !text.trim().is_empty()
        {
            let read = text
                .parse::<Target>()
                .map(|t| t.quantity)
                .or_else(|_| text.parse::<TargetQuantity>());
            match read {
                Ok(quantity) if part.quantities.contains(&quantity) => {}
                Ok(quantity) => part.quantities.push(quantity),
                Err(error) => part.problem = Some(sentence(&error.to_string())),
            }
        }
    });
}

fn start(ui: &mut Ui, view: &View<'_>, part: &mut SweepPart) {
    if !theme::main_button(ui, "Work out").clicked() {
        return;
    }
    part.problem = None;
    let count = if part.two { 2 } else { 1 };
    let points = if part.two { MAP } else { CURVE };
    let mut chosen = Vec::new();
    for range in part.ranges.iter().take(count) {
        let Some(line) = range.line else {
            part.problem = Some("Choose the line to move".into());
            return;
        };
        chosen.push(Axis {
            line,
            from: range.from,
            to: range.to,
            points,
        });
    }
    let sweep = Sweep {
        axes: chosen,
        quantities: part.quantities.clone(),
        give: GiveWay::usual(view.variant),
    };
    part.work.forget();
    (part.picked, part.shown) = (None, 0);
    part.sweep = Some((view.document.id, sweep));
}

/// Works out what was asked for, anew whenever it follows from something else.
fn work_out(ui: &Ui, view: &View<'_>, part: &mut SweepPart, typed: &Typed) {
    part.sweep.take_if(|(of, _)| *of != view.document.id);
    let Some((_, sweep)) = part.sweep.clone() else {
        part.work.forget();
        return;
    };
    let (ground, typed) = (Ground::of(view), typed.clone());
    let asked = Asked {
        sweep: sweep.clone(),
        ground,
        typed: typed.clone(),
    };
    part.work.ask(ui, asked, || {
        let (formula, context, supply) = (
            view.formula.clone(),
            view.state.context().clone(),
            typed.supply(view, view.formula.materials.keys()),
        );
        let variant = view.variant.id;
        move |progress: &Progress| {
            let points = sweep.run(&formula, variant, &context, &supply, progress)?;
            Ok(Done { sweep, points })
        }
    });
}

fn name_of(view: &View<'_>, line: ItemId) -> String {
    view.variant
        .line(line)
        .and_then(|l| view.formula.material(&l.material))
        .map_or_else(|| "line".to_owned(), |m| m.name.to_string())
}

/// The curves, and beside them the point picked, so that it is in sight with however many.
fn over_one_line(
    ui: &mut Ui,
    view: &View<'_>,
    done: &Done,
    picked: &mut Option<usize>,
    commands: &mut Vec<Command>,
) {
    let room = ui.available_width();
    ui.horizontal_top(|ui| {
        ui.vertical(|ui| {
            ui.set_width(room - BESIDE_CURVES - theme::GAP);
            let clicked = curves(ui, view, done, *picked);
            *picked = clicked.or(*picked);
        });
        ui.vertical(|ui| {
            ui.set_width(BESIDE_CURVES);
            by_slider(ui, view, done, picked);
            point(ui, view, done, *picked, commands);
        });
    });
}

/// The ends of an axis on which a quantity that does not change is drawn in the middle, from 0
/// on; none where it changes by as much as its figures tell.
fn ends_where_constant(followed: Followed<'_>, points: &[SweepPoint]) -> Option<[f64; 2]> {
    let all = points.iter().flat_map(|point| {
        let (low, high) = followed.range(point).unzip();
        [followed.value(point), low, high]
    });
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for value in all.flatten() {
        (least, most) = (least.min(value), most.max(value));
    }
    let is_constant = least <= most && followed.figure(least) == followed.figure(most);
    is_constant.then(|| match least {
        0.0 => [0.0, 1.0],
        value => [value.min(0.0) * 2.0, value.max(0.0) * 2.0],
    })
}

/// One plot for each quantity, all over the same range; the point clicked comes back. With keys a
/// point is picked with the slider beside them, so that they are one stop and not many.
fn curves(ui: &mut Ui, view: &View<'_>, done: &Done, picked: Option<usize>) -> Option<usize> {
    let p = theme::palette(ui);
    let axis = done.sweep.axes.first()?;
    let mut clicked = None;
    let columns = (ui.available_width() / CURVE_WIDTH).clamp(2.0, 4.0) as usize;
    let width = ui.available_width() / columns as f32 - 14.0;
    // As high as the sheet has room for, below what is asked.
    let rows = done.followed().len().div_ceil(columns).max(1);
    let height = (ui.clip_rect().height() - ASKED_FOR) / rows as f32 - 50.0;
    let height = height.clamp(CURVE_HEIGHT.0, CURVE_HEIGHT.1);
    let at = |k: usize| {
        done.points
            .get(k)
            .and_then(|point| point.at.first())
            .map(|p| p.as_percent())
    };
    egui::Grid::new("sweep curves")
        .num_columns(columns)
        .show(ui, |ui| {
            for (k, followed) in done.followed().into_iter().enumerate() {
                ui.vertical(|ui| {
                    ui.label(theme::strong(followed.heading()));
                    let place = |point: &SweepPoint| {
                        Some([point.at.first()?.as_percent(), followed.value(point)?])
                    };
                    let values: Vec<[f64; 2]> = done.points.iter().filter_map(place).collect();
                    let band: Vec<(f64, [f64; 2])> = done
                        .points
                        .iter()
                        .filter_map(|point| {
                            let (low, high) = followed.range(point)?;
                            Some((point.at.first()?.as_percent(), [low, high]))
                        })
                        .collect();
                    let breaches: Vec<[f64; 2]> = done
                        .points
                        .iter()
                        .filter(|point| point.findings[0] > 0)
                        .filter_map(place)
                        .collect();
                    let ends = ends_where_constant(followed, &done.points);
                    let plot = ends
                        .into_iter()
                        .flatten()
                        .fold(round_axes(Plot::new(("sweep", k))), |plot, end| {
                            plot.include_y(end)
                        });
                    let response = plot
                        .grid_color(p.rule)
                        .width(width)
                        .height(height)
                        .allow_drag(false)
                        .allow_zoom(false)
                        .allow_scroll(false)
                        .sense(Sense::CLICK)
                        .x_axis_label(format!("{}, % w/w", name_of(view, axis.line)))
                        .legend(Legend::default())
                        .show(ui, |plot| {
                            if band.iter().any(|(_, [low, high])| low < high) {
                                let colour = p.accent.gamma_multiply(0.16);
                                plot.add(area("may be", &band, colour));
                            }
                            plot.line(
                                Line::new("", PlotPoints::from(values))
                                    .color(p.accent)
                                    .width(2.0),
                            );
                            if !breaches.is_empty() {
                                plot.points(
                                    Points::new("breach", PlotPoints::from(breaches))
                                        .color(p.level(Level::Breach))
                                        .shape(MarkerShape::Cross)
                                        .radius(3.0),
                                );
                            }
                            if let Some(x) = picked.and_then(at) {
                                plot.vline(VLine::new("", x).color(p.ink));
                            }
                            plot.pointer_coordinate()
                        });
                    response
                        .response
                        .clone()
                        .accessible_name(format!("Curve of {}", followed.words()));
                    if response.response.clicked()
                        && let Some(pointer) = response.inner
                    {
                        clicked = nearest(&done.points, |point| {
                            point.at.first().map(|p| (p.as_percent() - pointer.x).abs())
                        });
                    }
                });
                if (k + 1) % columns == 0 {
                    ui.end_row();
                }
            }
        });
    clicked
}

fn nearest(points: &[SweepPoint], distance: impl Fn(&SweepPoint) -> Option<f64>) -> Option<usize> {
    points
        .iter()
        .enumerate()
        .filter_map(|(k, point)| Some((k, distance(point)?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(k, _)| k)
}

/// Picks a point without the pointer: a slider for each line that is moved.
fn by_slider(ui: &mut Ui, view: &View<'_>, done: &Done, picked: &mut Option<usize>) {
    let point = picked.unwrap_or_else(|| done.at_present(view));
    // The points of the first line follow one another; the second moves on by a row of them.
    let mut row = 1;
    for axis in &done.sweep.axes {
        let count = axis.points.max(2);
        let (from, to) = (axis.from.as_percent(), axis.to.as_percent());
        let step = (to - from) / (count - 1) as f64;
        let now = point / row % count;
        let mut value = from + step * now as f64;
        let name = name_of(view, axis.line);
        ui.scope(|ui| {
            // The track is seen on the ground of the sheet.
            let rule = theme::palette(ui).rule;
            ui.visuals_mut().widgets.inactive.bg_fill = rule;
            ui.spacing_mut().slider_width = ui.available_width().min(SLIDER);
            ui.add(Label::new(&name).truncate());
            // Its figure stands with those of the point.
            let slider = Slider::new(&mut value, from..=to).show_value(false);
            let moved = ui
                .add(slider.step_by(step))
                .accessible_name(format!("Point of {name}"))
                .changed();
            if moved {
                let chosen = ((value - from) / step).round().max(0.0) as usize;
                let rest = point - now * row;
                *picked = Some(rest + chosen.min(count - 1) * row);
            }
        });
        row *= count;
    }
}

/// The point picked, and the button that takes it over.
fn point(
    ui: &mut Ui,
    view: &View<'_>,
    done: &Done,
    picked: Option<usize>,
    commands: &mut Vec<Command>,
) {
    ui.add_space(theme::TIGHT);
    let Some(point) = picked.and_then(|k| done.points.get(k)) else {
        ui.label(theme::small(
            ui,
            "Click a point, or move a slider, to see its figures and to take it over",
        ));
        return;
    };
    let place: Vec<String> = done
        .sweep
        .axes
        .iter()
        .zip(&point.at)
        .map(|(axis, p)| format!("{} {} %", name_of(view, axis.line), to_two_digits(*p)))
        .collect();
    ui.add(Label::new(theme::strong(place.join(", "))).wrap());
    if point.out_of_reach {
        marked(
            ui,
            Level::Caution,
            "This point cannot be reached: a line would pass a bound.",
        );
        return;
    }
    for followed in done.followed() {
        let value = followed.value(point);
        let value = value.map_or_else(|| "not known".to_owned(), |v| followed.figure(v));
        ui.add(Label::new(format!("{} {value}", followed.words())).wrap());
    }
    let words: Vec<String> = Level::ALL
        .iter()
        .zip(point.findings)
        .map(|(level, count)| crate::widgets::findings_list::plural(*level, count))
        .collect();
    ui.label(words.join(", "));
    if theme::main_button(ui, "Take over").clicked()
        && let Ok((formula, true)) = done
            .sweep
            .formula_at(view.formula, view.variant.id, &point.at)
        && let Some(variant) = formula.variant(view.variant.id)
    {
        commands.push(Command::Edit(Edit::ReplaceContent {
            variant: variant.clone(),
            materials: Vec::new(),
        }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(room: Option<f64>) -> SweepPoint {
        SweepPoint {
            at: vec![Percent::ZERO],
            values: Vec::new(),
            ranges: Vec::new(),
            findings: [0; 3],
            room,
            out_of_reach: false,
        }
    }

    /// What does not change by as much as its figures tell is drawn from 0 to twice itself.
    #[test]
    fn the_axis_of_a_constant_does_not_run_below_nothing() {
        let ends = |values: &[f64]| {
            let points: Vec<SweepPoint> = values.iter().map(|v| point(Some(*v))).collect();
            ends_where_constant(Followed::Room, &points)
        };
        assert_eq!(ends(&[4.0, 4.000_000_001]), Some([0.0, 8.0]));
        assert_eq!(ends(&[0.0]), Some([0.0, 1.0]));
        assert_eq!(ends(&[-2.0]), Some([-4.0, 0.0]));
        assert_eq!(ends(&[4.0, 5.0]), None);
        assert_eq!(ends_where_constant(Followed::Room, &[point(None)]), None);
    }
}
