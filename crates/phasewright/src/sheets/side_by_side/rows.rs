//! Lines, phases and steps of both variants, aligned, with what can be carried across.

use std::fmt::Write as _;

use eframe::egui::{self, Align, Id, Rangef, Rect, Sense, Stroke, Ui, vec2};
use formulation::amount::measure::{signed, signed_percent, sum_shown};
use formulation::amount::typed;
use formulation::compare::note::words;
use formulation::compare::{
    AlignedLine, CarryScope, Difference, DifferenceSubject, LineRelation, Pair, Side,
};
use formulation::edit::{Edit, GiveWay, tried};
use formulation::formula::{Line, Phase, Step};
use formulation::quantity::Percent;

use super::{Shown, Two};
use crate::command::Command;
use crate::sheets::formula::columns::{cell, text};
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::focus::is_by_key;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::limit_slider::LimitSlider;
use crate::widgets::refusal::figure;

const ROW: f32 = 40.0;
const HEAD: f32 = 28.0;
const SPACE: f32 = 6.0;

/// Rows this far outside the visible part are still drawn, so that the Tab key always finds the
/// next one.
const OVERSCAN: f32 = 240.0;

fn is_near(ui: &Ui, rect: Rect) -> bool {
    ui.clip_rect().expand(OVERSCAN).intersects(rect)
}

/// Where the columns stand.
struct Columns {
    name: Rangef,
    slider: [Rangef; 2],
    percent: [Rangef; 2],
    carry: [Rangef; 2],
    difference: Rangef,
    relative: Rangef,
}

impl Columns {
    fn new(left: f32, right: f32) -> Self {
        let width = right - left;
        let slider = (width * 0.155).clamp(100.0, 220.0);
        let before = |next: Rangef, width: f32| {
            let end = next.min - SPACE;
            Rangef::new(end - width, end)
        };
        let right_slider = Rangef::new(right - slider, right);
        let right_percent = before(right_slider, 70.0);
        let to_right = before(right_percent, 24.0);
        let relative = before(to_right, 58.0);
        let difference = before(relative, 66.0);
        let to_left = before(difference, 24.0);
        let left_percent = before(to_left, 70.0);
        let left_slider = before(left_percent, slider);
        Self {
            name: Rangef::new(left + 4.0, left_slider.min - SPACE),
            slider: [left_slider, right_slider],
            percent: [left_percent, right_percent],
            carry: [to_left, to_right],
            difference,
            relative,
        }
    }
}

const fn index(side: Side) -> usize {
    match side {
        Side::Left => 0,
        Side::Right => 1,
    }
}

const SIDES: [Side; 2] = [Side::Left, Side::Right];

/// Draws everything aligned.
pub fn ui(ui: &mut Ui, only_differences: bool, two: &Two<'_>, commands: &mut Vec<Command>) {
    let (row, _) = ui.allocate_exact_size(vec2(ui.available_width(), 18.0), Sense::hover());
    let columns = Columns::new(row.left(), row.right() - 14.0);
    captions(ui, row, &columns, two);
    let mut any = false;
    for pair in &two.comparison.phases {
        let rows: Vec<AlignedLine> = two
            .comparison
            .rows
            .iter()
            .copied()
            .filter(|row| in_phase(two, *pair, *row))
            .filter(|row| !only_differences || two.comparison.of_row(*row).next().is_some())
            .collect();
        let differs = two.comparison.of_phase(*pair).next().is_some();
        if only_differences && rows.is_empty() && !differs {
            continue;
        }
        any = true;
        phase(ui, &columns, two, *pair, commands);
        for row in rows {
            line(ui, &columns, two, row, commands);
        }
        ui.add_space(theme::TIGHT);
    }
    if !any {
        ui.label("No line and no phase differs");
        ui.add_space(theme::TIGHT);
    }
    steps(ui, only_differences, two, commands);
    rest(ui, two, commands);
    GoOn::end(ui);
}

/// Whether a row is shown in a phase: that of its left line, or of its right line alone.
fn in_phase(two: &Two<'_>, phase: Pair, row: AlignedLine) -> bool {
    let of = |side: &Shown<'_>, line| side.variant.phase_of(line).map(|p| p.id);
    match (row.left, row.right) {
        (Some(left), _) => phase.left.is_some() && of(&two.left, left) == phase.left,
        (None, Some(right)) => phase.right.is_some() && of(&two.right, right) == phase.right,
        (None, None) => false,
    }
}

fn captions(ui: &Ui, row: Rect, columns: &Columns, two: &Two<'_>) {
    let place = |x: Rangef| Rect::from_x_y_ranges(x, row.y_range());
    text(
        ui,
        place(columns.name),
        theme::small(ui, "Raw material"),
        Align::Min,
    );
    for side in SIDES {
        let i = index(side);
        let title = two.of(side).title(two.of(side.other()));
        let words = theme::strong(title).small();
        let span = |a: Rangef, b: Rangef| Rangef::new(a.min.min(b.min), a.max.max(b.max));
        let at = place(span(columns.slider[i], columns.percent[i]));
        let align = if side == Side::Left {
            Align::Max
        } else {
            Align::Min
        };
        text(ui, at, words, align);
    }
    text(
        ui,
        place(columns.difference),
        theme::small(ui, "difference"),
        Align::Max,
    );
    text(
        ui,
        place(columns.relative),
        theme::small(ui, "relative"),
        Align::Max,
    );
}

/// What a difference of the whole or of a material is about, as it is carried across.
fn subject(difference: &Difference) -> String {
    let name = match difference {
        Difference::Product(_) => "what the product is",
        Difference::TargetPh(_) => "the pH aimed at",
        Difference::Batch(_) => "the batch",
        Difference::Measured(_) => "what was measured",
        Difference::Label(_) => "the label",
        Difference::Specification(_) => "the specification",
        Difference::Filler(_) => "the filler",
        Difference::Material(both) => return format!("the data of {}", both.right.name),
        // Lines, phases and steps have buttons of their own.
        _ => "this",
    };
    name.to_owned()
}

/// A button that carries something across; it points to the side it changes.
fn carry_button(
    ui: &mut Ui,
    two: &Two<'_>,
    side: Side,
    name: &str,
    scope: CarryScope<'_>,
    commands: &mut Vec<Command>,
) {
    let (icon, to) = match side {
        Side::Left => (Icon::Left, "left"),
        Side::Right => (Icon::Right, "right"),
    };
    let words = format!("Carry {name} to the {to}");
    let button = icon_button(ui, icon, &words, two.of(side).editable());
    GoOn::meet(ui, side, &button);
    if button.clicked() {
        commands.push(two.carry_to(side, scope, words));
        GoOn::from(ui, side, &button);
    }
}

/// Where the cursor goes on once something was carried across by a key. Its button is gone with
/// the difference, so it goes on to the next button of its side, else to the last before.
#[derive(Clone, Copy)]
struct GoOn {
    side: Side,
    /// The frame in which it was carried, and where its button stood.
    frame: u64,
    y: f32,
    /// The last button met above.
    above: Option<Id>,
}

impl GoOn {
    fn place() -> Id {
        Id::unique("carried across, the cursor goes on")
    }

    fn from(ui: &Ui, side: Side, button: &egui::Response) {
        if is_by_key(ui) {
            let go_on = Self {
                side,
                frame: ui.cumulative_frame_nr(),
                y: button.rect.top(),
                above: None,
            };
            ui.data_mut(|d| d.insert_temp(Self::place(), go_on));
            ui.request_repaint();
        }
    }

    /// One that waits, drawn after what was carried is there.
    fn waiting(ui: &Ui) -> Option<Self> {
        let waiting = ui.data(|d| d.get_temp::<Self>(Self::place()))?;
        (ui.cumulative_frame_nr() > waiting.frame).then_some(waiting)
    }

    fn meet(ui: &Ui, side: Side, button: &egui::Response) {
        let Some(mut waiting) = Self::waiting(ui).filter(|w| w.side == side) else {
            return;
        };
        if button.rect.top() + 1.0 < waiting.y {
            waiting.above = Some(button.id);
            ui.data_mut(|d| d.insert_temp(Self::place(), waiting));
        } else {
            button.request_focus();
            ui.data_mut(|d| d.remove::<Self>(Self::place()));
        }
    }

    /// All buttons were met.
    fn end(ui: &Ui) {
        if let Some(waiting) = Self::waiting(ui) {
            if let Some(above) = waiting.above {
                ui.memory_mut(|m| m.request_focus(above));
            }
            ui.data_mut(|d| d.remove::<Self>(Self::place()));
        }
    }
}

fn phase(ui: &mut Ui, columns: &Columns, two: &Two<'_>, pair: Pair, commands: &mut Vec<Command>) {
    let p = theme::palette(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), HEAD), Sense::hover());
    if !is_near(ui, rect) {
        return;
    }
    let of = |side: Side| {
        let shown = two.of(side);
        let id = *pair.of(side);
        let place = shown.variant.phases.iter().position(|p| Some(p.id) == id)?;
        Some((place, shown.variant.phases.get(place)?))
    };
    let (left, right) = (of(Side::Left), of(Side::Right));
    let Some((place, phase)) = left.or(right) else {
        return;
    };
    let band = rect.with_max_x(columns.slider[1].max);
    ui.painter()
        .rect_filled(band, 3.0, p.phase_of(&phase.letter, place));
    let letter = match (left, right) {
        (Some((_, a)), Some((_, b))) if a.letter != b.letter => {
            format!("{} → {}", a.letter, b.letter)
        }
        _ => phase.letter.to_string(),
    };
    let title = if phase.purpose.is_empty() {
        format!("{letter}   {}", phase.kind.label())
    } else {
        format!("{letter}   {}: {}", phase.kind.label(), phase.purpose)
    };
    let name = Rect::from_x_y_ranges(columns.name.min + 4.0..=columns.name.max, rect.y_range());
    let title = theme::strong(title).color(p.ink);
    let end = name.left() + width_of(ui, &title).min(name.width());
    text(ui, name, title, Align::Min);

    let differences: Vec<String> = two
        .comparison
        .of_phase(pair)
        .map(|d| words(d, two.left.compared(), two.right.compared()))
        .collect();
    // What differs has the room up to the figures.
    let said = Rangef::new(end + 2.0 * SPACE, columns.slider[0].max);
    let at = Rect::from_x_y_ranges(said, rect.y_range());
    if !differences.is_empty() {
        let all = differences.join("; ");
        let short = all
            .strip_prefix(&format!("Phase {}: ", phase.letter))
            .unwrap_or(&all);
        text(
            ui,
            at,
            egui::RichText::new(short).small().color(p.ink),
            Align::Max,
        );
        ui.interact(at, Id::unique(("phase words", pair)), Sense::hover())
            .on_hover_text(all);
    }
    let totals = [left, right].map(|side| side.map(|(_, p)| p.total()));
    if let [Some(a), Some(b)] = totals {
        delta(ui, columns, rect, a, b);
    }
    for (total, column) in totals.into_iter().zip(columns.percent) {
        let at = Rect::from_x_y_ranges(column, rect.y_range());
        let words = total.map_or_else(|| "–".to_owned(), sum_shown);
        let words = theme::strong(words).color(p.ink);
        text(ui, at.translate(vec2(-6.0, 0.0)), words, Align::Max);
    }
    if differences.is_empty() && !holds_differences(two, pair) {
        return;
    }
    let name = format!("phase {}", phase.letter);
    for side in SIDES {
        cell(ui, rect, columns.carry[index(side)], |ui| {
            carry_button(ui, two, side, &name, CarryScope::Phase(pair), commands);
        });
    }
}

fn holds_differences(two: &Two<'_>, pair: Pair) -> bool {
    let within = |d: &Difference| two.comparison.within(d, CarryScope::Phase(pair));
    two.comparison.differences.iter().any(within)
}

fn delta(ui: &Ui, columns: &Columns, rect: Rect, left: Percent, right: Percent) {
    let p = theme::palette(ui);
    let change = right - left;
    if change == Percent::ZERO {
        return;
    }
    let at = Rect::from_x_y_ranges(columns.difference, rect.y_range());
    text(
        ui,
        at,
        theme::strong(signed_percent(change)).color(p.ink),
        Align::Max,
    );
    if left != Percent::ZERO {
        let relative = 100.0 * change.as_percent() / left.as_percent();
        let at = Rect::from_x_y_ranges(columns.relative, rect.y_range());
        let words = if relative.abs() < 1000.0 {
            format!("{} %", signed(relative, 1))
        } else {
            format!("×{:.0}", right.as_percent() / left.as_percent())
        };
        text(ui, at, egui::RichText::new(words).color(p.ink), Align::Max);
    }
}

/// How wide words are on one line.
fn width_of(ui: &Ui, words: &egui::RichText) -> f32 {
    let whole = Some(egui::TextWrapMode::Extend);
    egui::WidgetText::from(words.clone())
        .into_galley(ui, whole, f32::INFINITY, egui::TextStyle::Body)
        .size()
        .x
}

fn line(
    ui: &mut Ui,
    columns: &Columns,
    two: &Two<'_>,
    row: AlignedLine,
    commands: &mut Vec<Command>,
) {
    let (rect, hover) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
    if !is_near(ui, rect) {
        return;
    }
    let p = theme::palette(ui);
    let differences: Vec<&Difference> = two.comparison.of_row(row).collect();
    let band = rect.with_max_x(columns.slider[1].max);
    let ground = if differences.is_empty() {
        p.ground
    } else {
        p.page
    };
    ui.painter().rect_filled(band, 0.0, ground);
    ui.painter().hline(
        band.x_range(),
        rect.bottom() - 0.5,
        Stroke::new(1.0, p.rule.gamma_multiply(0.6)),
    );
    let lines = [
        row.left.and_then(|id| two.left.variant.line(id)),
        row.right.and_then(|id| two.right.variant.line(id)),
    ];
    let name = names(ui, columns, rect, two, row, lines, &differences, &hover);
    for side in SIDES {
        if let Some(line) = lines[index(side)] {
            let shown = two.of(side);
            one_side(ui, columns, rect, shown, side, line, &name, commands);
        } else {
            let at = Rect::from_x_y_ranges(columns.percent[index(side)], rect.y_range());
            let words = egui::RichText::new("–").color(p.faint_ink);
            text(ui, at.translate(vec2(-6.0, 0.0)), words, Align::Max);
        }
    }
    let percent = |line: Option<&Line>| line.map_or(Percent::ZERO, |l| l.percent);
    delta(ui, columns, rect, percent(lines[0]), percent(lines[1]));
    if !differences.is_empty() {
        for side in SIDES {
            cell(ui, rect, columns.carry[index(side)], |ui| {
                carry_button(ui, two, side, &name, CarryScope::Line(row), commands);
            });
        }
    }
}

/// Draws the name and, below it, what differs besides the percentage.
#[expect(clippy::too_many_arguments, reason = "a row is made of all of these")]
fn names(
    ui: &Ui,
    columns: &Columns,
    rect: Rect,
    two: &Two<'_>,
    row: AlignedLine,
    lines: [Option<&Line>; 2],
    differences: &[&Difference],
    hover: &egui::Response,
) -> String {
    let p = theme::palette(ui);
    let material = |side: Side| {
        let line = lines[index(side)]?;
        let shown = two.of(side);
        Some(shown.formula.material(&line.material).map_or_else(
            || (line.material.to_string(), "composition unknown".to_owned()),
            |m| (m.name.to_string(), m.inci_line()),
        ))
    };
    let (left, right) = (material(Side::Left), material(Side::Right));
    let (name, inci) = match (&left, &right) {
        (Some((a, _)), Some((b, inci))) if a != b => (format!("{a} → {b}"), inci.clone()),
        (Some(both), _) | (None, Some(both)) => both.clone(),
        (None, None) => return String::new(),
    };
    let at = Rect::from_x_y_ranges(columns.name, rect.y_range()).shrink2(vec2(0.0, 3.0));
    let (top, below) = at.split_top_bottom_at_fraction(0.54);
    let title = if differences.is_empty() {
        egui::RichText::new(name.clone()).color(p.faint_ink)
    } else {
        egui::RichText::new(name.clone()).color(p.ink)
    };
    text(ui, top, title, Align::Min);
    let told: Vec<String> = differences
        .iter()
        .filter(|d| !matches!(d, Difference::LinePercent { .. }))
        .map(|d| {
            // The names stand above; what they are stands here.
            if let (Difference::LineMaterial { relation, .. }, Some((_, a)), Some((_, b))) =
                (d, &left, &right)
            {
                let what = match relation {
                    LineRelation::Renamed => "renamed",
                    _ => "swapped",
                };
                return format!("{what}: {a} → {b}");
            }
            // Nor need the sentence begin with the name.
            let sentence = words(d, two.left.compared(), two.right.compared());
            let mut names = [&left, &right].into_iter().flatten();
            let rest = names.find_map(|(name, _)| sentence.strip_prefix(name.as_str()));
            rest.map_or_else(
                || sentence.clone(),
                |rest| rest.trim_start_matches([':', ' ']).to_owned(),
            )
        })
        .collect();
    let said = match row.relation {
        LineRelation::Split if told.is_empty() => "part of a split line".to_owned(),
        _ => told.join("; "),
    };
    if said.is_empty() {
        text(ui, below, theme::small(ui, inci), Align::Min);
    } else {
        let words = egui::RichText::new(said).small().color(p.accent);
        text(ui, below, words, Align::Min);
    }
    if hover.contains_pointer() && !differences.is_empty() {
        let all: String = differences.iter().fold(String::new(), |mut all, d| {
            let _ = writeln!(
                all,
                "{}",
                words(d, two.left.compared(), two.right.compared())
            );
            all
        });
        ui.interact(
            at,
            Id::unique(("row words", row.left, row.right)),
            Sense::hover(),
        )
        .on_hover_text(all.trim_end());
    }
    name
}

#[expect(clippy::too_many_arguments, reason = "a row is made of all of these")]
fn one_side(
    ui: &mut Ui,
    columns: &Columns,
    rect: Rect,
    shown: &Shown<'_>,
    side: Side,
    line: &Line,
    name: &str,
    commands: &mut Vec<Command>,
) {
    let i = index(side);
    let word = match side {
        Side::Left => "left",
        Side::Right => "right",
    };
    let filler = shown.variant.is_filler(line.id);
    let enabled = shown.editable() && !filler;
    let usual = shown
        .formula
        .material(&line.material)
        .and_then(|m| m.strictest_range(shown.variant.product.kinds))
        .map(|r| (r.low, r.high));
    let settled = shown
        .document
        .settled()
        .variant(shown.variant.id)
        .and_then(|v| v.line(line.id))
        .map_or(line.percent, |l| l.percent);
    let id = |what: &str| Id::unique((what, word, shown.document.id, shown.variant.id, line.id.0));
    let slider = LimitSlider {
        id: id("slider"),
        name: format!("{name} slider, {word}"),
        value: line.percent,
        settled,
        usual,
        limit: shown.evaluation.limit_of(line.id),
        own: (line.min, line.max),
        step: shown.step,
        enabled,
        width: columns.slider[i].span(),
    };
    let moved = cell(ui, rect, columns.slider[i], |ui| slider.show(ui));
    let set = |percent| Edit::SetPercent {
        line: line.id,
        percent,
        give: GiveWay::Filler,
    };
    if let Some(percent) = moved.moved {
        commands.push(shown.edit(set(percent), true));
    }
    if moved.ended {
        commands.push(Command::KeepDraft);
    }
    let written = line.percent.to_string();
    let entry = cell(ui, rect, columns.percent[i], |ui| {
        let entry = Entry::new(id("percent"), &written, format!("{name} percent, {word}"))
            .width(columns.percent[i].span())
            .right()
            .enabled(enabled);
        figure(ui, entry, |text| {
            let percent = typed::percent(text).map_err(|e| e.to_string())?;
            let edit = tried(shown.formula, shown.variant.id, set(percent), shown.step);
            edit.map_err(|e| e.to_string())
        })
    });
    if filler {
        entry
            .response
            .on_hover_text("The filler takes the rest to 100");
    }
    let changed = entry.read.map(|edit| shown.edit(edit, false));
    commands.extend(changed);
}

/// The steps of both sides, beside each other.
fn steps(ui: &mut Ui, only_differences: bool, two: &Two<'_>, commands: &mut Vec<Command>) {
    let pairs: Vec<Pair> = two
        .comparison
        .steps
        .iter()
        .copied()
        .filter(|pair| !only_differences || two.comparison.of_step(*pair).next().is_some())
        .collect();
    if pairs.is_empty() {
        return;
    }
    ui.label(theme::heading("Steps"));
    ui.add_space(theme::TIGHT);
    let width = (ui.available_width() - 14.0 - 80.0) / 2.0;
    for pair in pairs {
        let differs = two.comparison.of_step(pair).next().is_some();
        let moved = two
            .comparison
            .of_step(pair)
            .any(|d| matches!(d, Difference::StepPlace { .. }));
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            step_text(ui, two, Side::Left, pair, width, differs);
            ui.allocate_ui(vec2(72.0, theme::FIELD), |ui| {
                ui.set_min_width(72.0);
                if differs {
                    let step = step_of(two, Side::Left, pair).or(step_of(two, Side::Right, pair));
                    let words = step.map_or("", |(_, step)| &step.text);
                    let name = format!("the step “{words}”");
                    for side in SIDES {
                        carry_button(ui, two, side, &name, CarryScope::Step(pair), commands);
                    }
                    if moved {
                        ui.label(theme::small(ui, "moved"));
                    }
                }
            });
            step_text(ui, two, Side::Right, pair, width, differs);
        });
        ui.add_space(2.0);
    }
    ui.add_space(theme::TIGHT);
}

/// The step of a side, and its phase.
fn step_of<'v>(two: &Two<'v>, side: Side, pair: Pair) -> Option<(&'v Phase, &'v Step)> {
    let id = (*pair.of(side))?;
    two.of(side).variant.phases.iter().find_map(|phase| {
        let step = phase.steps.iter().find(|s| s.id == id)?;
        Some((phase.as_ref(), step))
    })
}

fn step_text(ui: &mut Ui, two: &Two<'_>, side: Side, pair: Pair, width: f32, differs: bool) {
    let p = theme::palette(ui);
    let words = step_of(two, side, pair).map_or_else(
        || "–".to_owned(),
        |(phase, step)| format!("{}  {}", phase.letter, step_line(step)),
    );
    let colour = if differs { p.ink } else { p.faint_ink };
    ui.allocate_ui(vec2(width, 0.0), |ui| {
        ui.set_min_width(width);
        let label = egui::Label::new(egui::RichText::new(words).color(colour)).wrap();
        ui.add(label);
    });
}

fn step_line(step: &Step) -> String {
    let mut out = step.text.to_string();
    if let Some(temperature) = step.temperature {
        let _ = write!(out, ", {}", typed::shown_temperature(temperature));
    }
    if let Some(minutes) = step.minutes {
        let _ = write!(out, ", {minutes} min");
    }
    for words in [&step.tool, &step.check] {
        if !words.is_empty() {
            let _ = write!(out, " · {words}");
        }
    }
    out
}

/// What differs in the product, the filler, the label and the data of materials.
fn rest(ui: &mut Ui, two: &Two<'_>, commands: &mut Vec<Command>) {
    let all: Vec<&Difference> = two
        .comparison
        .differences
        .iter()
        .filter(|d| {
            matches!(
                d.subject(),
                DifferenceSubject::Whole | DifferenceSubject::Material(_)
            )
        })
        .collect();
    if all.is_empty() {
        return;
    }
    ui.label(theme::heading("Product and materials"));
    ui.add_space(theme::TIGHT);
    for (i, difference) in all.into_iter().enumerate() {
        ui.push_id(i, |ui| {
            ui.horizontal(|ui| {
                for side in SIDES {
                    let scope = CarryScope::One(difference);
                    carry_button(ui, two, side, &subject(difference), scope, commands);
                }
                let words = words(difference, two.left.compared(), two.right.compared());
                ui.add(egui::Label::new(words).wrap());
            });
        });
    }
}
